/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/svg-style.h"

#include <string.h>

#define MOST_RULES 64
#define MOST_SIMPLE 8

typedef enum
{
  DISPLAY,
  VISIBILITY
} Property;

/* One "type.class#id" of a selector; each of the three may be NULL. */
typedef struct
{
  char *type, *id;
  char *class_name;
  gboolean right_inside; /* the next one to the left is the parent itself */
} Simple;

typedef struct
{
  Simple simple[MOST_SIMPLE]; /* the element itself first */
  guint n_simple;
  guint weight; /* specificity */
  Property property;
  char *value;
  gboolean important;
} Rule;

struct _FileSvgStyle
{
  GArray *rules;
};

static void
clear_simple (Simple *s)
{
  g_free (s->type);
  g_free (s->id);
  g_free (s->class_name);
}

static void
clear_rule (gpointer data)
{
  Rule *rule = data;
  for (guint i = 0; i < rule->n_simple; i++)
    clear_simple (&rule->simple[i]);
  g_free (rule->value);
}

/* The last of the declarations in a block or style attribute that set the property. */
static char *
find_declaration (const char *block, const char *name, gboolean *important)
{
  char *found = NULL;
  *important = FALSE;
  if (strstr (block, name) == NULL)
    return NULL;
  g_auto (GStrv) parts = g_strsplit (block, ";", -1);
  for (guint i = 0; parts[i] != NULL; i++)
    {
      char *colon = strchr (parts[i], ':');
      if (colon == NULL)
        continue;
      *colon = '\0';
      if (g_ascii_strcasecmp (g_strstrip (parts[i]), name) != 0)
        continue;
      char *value = colon + 1;
      char *mark = strstr (value, "!important");
      if (*important && mark == NULL)
        continue;
      *important = mark != NULL;
      if (mark != NULL)
        *mark = '\0';
      g_free (found);
      found = g_ascii_strdown (g_strstrip (value), -1);
    }
  return found;
}

/* One simple selector, of n characters; FALSE where it is not of the kinds known. */
static gboolean
parse_simple (const char *text, gsize n, Simple *s, guint *weight)
{
  *s = (Simple){ 0 };
  gsize at = 0;
  while (at < n)
    {
      char mark = text[at];
      if (mark == '*' && at == 0)
        {
          at++;
          continue;
        }
      gsize from = mark == '.' || mark == '#' ? at + 1 : at;
      gsize to = from;
      while (to < n
             && (g_ascii_isalnum (text[to]) || text[to] == '-'
                 || text[to] == '_' || (guchar)text[to] >= 0x80))
        to++;
      char **place = mark == '.'   ? &s->class_name
                     : mark == '#' ? &s->id
                                   : &s->type;
      if (to == from || to - from > 200 || *place != NULL
          || (place == &s->type && at > 0))
        {
          clear_simple (s);
          return FALSE;
        }
      *place = g_strndup (text + from, to - from);
      *weight += mark == '#' ? 10000 : mark == '.' ? 100 : 1;
      at = to;
    }
  return TRUE;
}

static gboolean
parse_selector (const char *text, Rule *rule)
{
  g_autofree char *copy = g_strdup (text);
  for (char *c = copy; *c != '\0'; c++)
    if (g_ascii_isspace (*c))
      *c = ' ';
  g_strstrip (copy);
  const char *end = copy + strlen (copy);
  while (end > copy)
    {
      const char *from = end;
      while (from > copy && from[-1] != ' ' && from[-1] != '>')
        from--;
      if (rule->n_simple == MOST_SIMPLE || from == end
          || !parse_simple (from, (gsize)(end - from),
                            &rule->simple[rule->n_simple], &rule->weight))
        return FALSE;
      rule->n_simple++;
      while (from > copy && from[-1] == ' ')
        from--;
      if (from > copy && from[-1] == '>')
        {
          rule->simple[rule->n_simple - 1].right_inside = TRUE;
          from--;
          while (from > copy && from[-1] == ' ')
            from--;
        }
      end = from;
    }
  return rule->n_simple > 0;
}

static void
add_rules (FileSvgStyle *style, const char *selectors, const char *block)
{
  static const char *const names[] = { "display", "visibility" };
  for (guint p = 0; p < G_N_ELEMENTS (names); p++)
    {
      gboolean important;
      g_autofree char *value = find_declaration (block, names[p], &important);
      if (value == NULL)
        continue;
      g_auto (GStrv) list = g_strsplit (selectors, ",", MOST_RULES);
      for (guint i = 0; list[i] != NULL && style->rules->len < MOST_RULES; i++)
        {
          Rule rule = { .property = p, .important = important };
          if (parse_selector (list[i], &rule))
            {
              rule.value = g_strdup (value);
              g_array_append_val (style->rules, rule);
            }
          else
            clear_rule (&rule);
        }
    }
}

static char *
without_comments (const char *text)
{
  GString *out = g_string_new (NULL);
  for (const char *open; (open = strstr (text, "/*")) != NULL;)
    {
      g_string_append_len (out, text, open - text);
      g_string_append_c (out, ' ');
      const char *close = strstr (open + 2, "*/");
      if (close == NULL)
        return g_string_free (out, FALSE);
      text = close + 2;
    }
  g_string_append (out, text);
  return g_string_free (out, FALSE);
}

/* Past a block in braces, nested ones included; at is behind the opening one. */
static char *
block_end (char *at)
{
  guint depth = 1;
  for (; *at != '\0'; at++)
    if (*at == '{')
      depth++;
    else if (*at == '}' && --depth == 0)
      return at;
  return at;
}

FileSvgStyle *
file_svg_style_new (const char *text)
{
  FileSvgStyle *style = g_new0 (FileSvgStyle, 1);
  style->rules = g_array_new (FALSE, FALSE, sizeof (Rule));
  g_array_set_clear_func (style->rules, clear_rule);
  g_autofree char *plain = without_comments (text);
  char *at = plain;
  while (style->rules->len < MOST_RULES)
    {
      at += strspn (at, " \t\r\n;}");
      gsize n = strcspn (at, *at == '@' ? "{;" : "{");
      char *open = at + n;
      if (*open == '\0')
        break;
      if (*open == ';')
        {
          at = open + 1;
          continue;
        }
      char *close = block_end (open + 1);
      gboolean last = *close == '\0';
      *open = *close = '\0';
      if (*at != '@')
        add_rules (style, at, open + 1);
      if (last)
        break;
      at = close + 1;
    }
  return style;
}

void
file_svg_style_free (FileSvgStyle *style)
{
  g_array_free (style->rules, TRUE);
  g_free (style);
}

guint
file_svg_style_rules (const FileSvgStyle *style)
{
  return style->rules->len;
}

static gboolean
has_class (const FileSvgNode *node, const char *name)
{
  const char *list = file_svg_node_get (node, FILE_SVG_CLASS);
  gsize n = strlen (name);
  while (list != NULL && *list != '\0')
    {
      list += strspn (list, " \t\r\n");
      gsize word = strcspn (list, " \t\r\n");
      if (word == n && strncmp (list, name, n) == 0)
        return TRUE;
      list += word;
    }
  return FALSE;
}

static gboolean
simple_matches (const Simple *s, const FileSvgNode *node)
{
  return (s->type == NULL || strcmp (s->type, node->tag) == 0)
         && (s->id == NULL
             || g_strcmp0 (s->id, file_svg_node_get (node, FILE_SVG_ID)) == 0)
         && (s->class_name == NULL || has_class (node, s->class_name));
}

/* From the element outwards; the nearest that fits is taken, which misses only where a mix of
 * "inside" and "right inside" would need a farther one. */
static gboolean
rule_matches (const Rule *rule, const FileSvgNode *node)
{
  if (!simple_matches (&rule->simple[0], node))
    return FALSE;
  for (guint i = 1; i < rule->n_simple; i++)
    {
      node = node->parent;
      if (!rule->simple[i - 1].right_inside)
        while (node != NULL && !simple_matches (&rule->simple[i], node))
          node = node->parent;
      if (node == NULL || !simple_matches (&rule->simple[i], node))
        return FALSE;
    }
  return TRUE;
}

/* The cascaded value, or NULL. */
static char *
cascaded (const FileSvgStyle *style, const FileSvgNode *node, Property property)
{
  static const char *const names[] = { "display", "visibility" };
  const char *attribute = file_svg_node_get (
      node, property == DISPLAY ? FILE_SVG_DISPLAY : FILE_SVG_VISIBILITY);
  const char *best = attribute;
  guint best_weight = 0;
  gboolean best_important = FALSE;
  for (guint i = 0; i < style->rules->len; i++)
    {
      const Rule *rule = &g_array_index (style->rules, Rule, i);
      if (rule->property != property || rule->important < best_important
          || (rule->important == best_important && rule->weight < best_weight)
          || !rule_matches (rule, node))
        continue;
      best = rule->value;
      best_weight = rule->weight;
      best_important = rule->important;
    }
  const char *inline_style = file_svg_node_get (node, FILE_SVG_STYLE);
  if (inline_style != NULL)
    {
      gboolean important;
      char *value
          = find_declaration (inline_style, names[property], &important);
      if (value != NULL && (important || !best_important))
        return value;
      g_free (value);
    }
  return best != NULL ? g_strstrip (g_ascii_strdown (best, -1)) : NULL;
}

gboolean
file_svg_style_gone (const FileSvgStyle *style, const FileSvgNode *node)
{
  g_autofree char *value = cascaded (style, node, DISPLAY);
  return g_strcmp0 (value, "none") == 0;
}

gboolean
file_svg_style_visible (const FileSvgStyle *style, const FileSvgNode *node,
                        gboolean inherited)
{
  g_autofree char *value = cascaded (style, node, VISIBILITY);
  if (value == NULL || strcmp (value, "inherit") == 0)
    return inherited;
  return strcmp (value, "hidden") != 0 && strcmp (value, "collapse") != 0;
}

char *
file_svg_style_own (const FileSvgNode *node, const char *property)
{
  gboolean important;
  const char *text = file_svg_node_get (node, FILE_SVG_STYLE);
  return text != NULL ? find_declaration (text, property, &important) : NULL;
}
