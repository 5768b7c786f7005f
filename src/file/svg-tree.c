/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/svg-tree.h"

#include <string.h>

#include "file/xml-guard.h"

#define NAME_BYTES 1000
#define MOST_SPACES 200 /* declared around an element; more are passed over */
#define SVG_SPACE "http://www.w3.org/2000/svg"

static const struct
{
  const char *name;
  FileSvgKind kind;
} kinds[] = {
  { "path", FILE_SVG_PATH },         { "g", FILE_SVG_GROUP },
  { "rect", FILE_SVG_RECT },         { "circle", FILE_SVG_CIRCLE },
  { "ellipse", FILE_SVG_ELLIPSE },   { "line", FILE_SVG_LINE },
  { "polyline", FILE_SVG_POLYLINE }, { "polygon", FILE_SVG_POLYGON },
  { "svg", FILE_SVG_SVG },           { "a", FILE_SVG_GROUP },
  { "switch", FILE_SVG_SWITCH },     { "use", FILE_SVG_USE },
  { "symbol", FILE_SVG_SYMBOL },     { "defs", FILE_SVG_HIDDEN },
  { "clipPath", FILE_SVG_HIDDEN },   { "mask", FILE_SVG_HIDDEN },
  { "marker", FILE_SVG_HIDDEN },     { "pattern", FILE_SVG_HIDDEN },
};

static const char *const attribute_names[FILE_SVG_ATTRIBUTES] = {
  "id",
  "class",
  "style",
  "display",
  "visibility",
  "transform",
  "d",
  "points",
  "x",
  "y",
  "width",
  "height",
  "rx",
  "ry",
  "cx",
  "cy",
  "r",
  "x1",
  "y1",
  "x2",
  "y2",
  "viewBox",
  "preserveAspectRatio",
  "href",
  "aria-label",
  NULL /* label */,
  "systemLanguage",
  "requiredExtensions",
};

typedef struct
{
  guint depth;
  const char *prefix; /* "" for the one that needs none */
  gboolean svg;
} Space;

typedef struct
{
  FileSvgTree *tree;
  FileSvgNode *now;
  GArray *spaces;
  guint depth;
  guint skip;     /* depth of the element passed over, 0 when none */
  gboolean title; /* the text goes to now->title */
  gboolean style; /* the text goes to tree->style */
  GString *text;
} Builder;

static void
declare_spaces (Builder *b, const FileXmlTag *tag)
{
  for (guint i = 0; i < tag->n_attributes; i++)
    {
      const char *name = tag->attributes[i].name;
      if (!g_str_has_prefix (name, "xmlns")
          || (name[5] != '\0' && name[5] != ':')
          || b->spaces->len >= MOST_SPACES)
        continue;
      Space space = {
        b->depth,
        name[5] == ':'
            ? g_string_chunk_insert_const (b->tree->strings, name + 6)
            : "",
        strcmp (tag->attributes[i].value, SVG_SPACE) == 0,
      };
      g_array_append_val (b->spaces, space);
    }
}

/* The local name of an element of SVG, or NULL. A file that declares nothing is
 * taken at its word. */
static const char *
svg_name (const Builder *b, const char *qualified)
{
  const char *colon = strchr (qualified, ':');
  gsize n = colon != NULL ? (gsize)(colon - qualified) : 0;
  gboolean declared = FALSE;
  for (guint i = b->spaces->len; i > 0; i--)
    {
      const Space *s = &g_array_index (b->spaces, Space, i - 1);
      if (strlen (s->prefix) == n && strncmp (s->prefix, qualified, n) == 0)
        return !s->svg ? NULL : colon != NULL ? colon + 1 : qualified;
      declared = declared || s->svg;
    }
  return colon == NULL && !declared ? qualified : NULL;
}

/* FILE_SVG_ATTRIBUTES where it does not matter. */
static FileSvgAttribute
attribute_key (const char *name)
{
  const char *colon = strchr (name, ':');
  if (colon != NULL)
    {
      if (strcmp (colon, ":href") == 0)
        return FILE_SVG_HREF;
      return strcmp (colon, ":label") == 0 ? FILE_SVG_LABEL
                                           : FILE_SVG_ATTRIBUTES;
    }
  for (guint i = 0; i < FILE_SVG_ATTRIBUTES; i++)
    if (attribute_names[i] != NULL && strcmp (attribute_names[i], name) == 0)
      return i;
  return FILE_SVG_ATTRIBUTES;
}

/* A copy, cut between two letters. */
static char *
cut_name (const char *text)
{
  gsize n = strnlen (text, NAME_BYTES);
  while (n > 0 && ((guchar)text[n] & 0xC0) == 0x80)
    n--;
  return g_strndup (text, n);
}

static gboolean
is_name (FileSvgAttribute key)
{
  return key == FILE_SVG_ID || key == FILE_SVG_CLASS
         || key == FILE_SVG_ARIA_LABEL || key == FILE_SVG_LABEL;
}

static void
take_attributes (Builder *b, FileSvgNode *node, const FileXmlTag *tag)
{
  node->values = g_new (FileSvgValue, MAX (tag->n_attributes, 1));
  for (guint i = 0; i < tag->n_attributes; i++)
    {
      FileSvgAttribute key = attribute_key (tag->attributes[i].name);
      if (key == FILE_SVG_ATTRIBUTES)
        continue;
      const char *value = tag->attributes[i].value;
      g_autofree char *name = is_name (key) ? cut_name (value) : NULL;
      if (name != NULL)
        value = name;
      node->weight += strlen (value);
      node->values[node->n_values++]
          = (FileSvgValue){ key,
                            g_string_chunk_insert (b->tree->strings, value) };
    }
}

static void
add_node (Builder *b, FileSvgKind kind, const char *name, const FileXmlTag *tag)
{
  FileSvgNode *node = g_new0 (FileSvgNode, 1);
  node->kind = kind;
  node->line = tag->line;
  node->tag = g_string_chunk_insert_const (b->tree->strings, name);
  take_attributes (b, node, tag);
  node->parent = b->now;
  if (b->now == NULL)
    b->tree->root = node;
  else if (b->now->last == NULL)
    b->now->first = b->now->last = node;
  else
    b->now->last = b->now->last->next = node;
  const char *id = file_svg_node_get (node, FILE_SVG_ID);
  if (id != NULL && !g_hash_table_contains (b->tree->ids, id))
    g_hash_table_insert (b->tree->ids, (char *)id, node);
  b->now = node;
}

static gboolean
on_start (gpointer data, const FileXmlTag *tag, GError **error)
{
  (void)error;
  Builder *b = data;
  b->depth++;
  if (b->skip != 0)
    return TRUE;
  declare_spaces (b, tag);
  const char *name = svg_name (b, tag->name);
  if (b->depth == 1)
    {
      b->tree->root_name = g_strdup (tag->name);
      if (name == NULL || strcmp (name, "svg") != 0)
        name = NULL;
    }
  g_string_truncate (b->text, 0);
  b->title = name != NULL && strcmp (name, "title") == 0;
  b->style = name != NULL && strcmp (name, "style") == 0;
  if (name != NULL)
    for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
      if (strcmp (kinds[i].name, name) == 0)
        {
          add_node (b, kinds[i].kind, name, tag);
          return TRUE;
        }
  b->skip = b->depth;
  return TRUE;
}

static void
end_skipped (Builder *b)
{
  b->skip = 0;
  if (b->title && b->now != NULL && b->now->title == NULL)
    b->now->title = cut_name (b->text->str);
  if (b->style)
    g_string_append_printf (b->tree->style, "%s\n", b->text->str);
  b->title = b->style = FALSE;
}

static gboolean
on_end (gpointer data, const char *name, guint line, GError **error)
{
  (void)name;
  (void)line;
  (void)error;
  Builder *b = data;
  if (b->skip == b->depth)
    end_skipped (b);
  else if (b->skip == 0)
    b->now = b->now->parent;
  while (b->spaces->len > 0
         && g_array_index (b->spaces, Space, b->spaces->len - 1).depth
                == b->depth)
    g_array_set_size (b->spaces, b->spaces->len - 1);
  b->depth--;
  return TRUE;
}

static gboolean
on_text (gpointer data, const char *text, gsize length, GError **error)
{
  (void)error;
  Builder *b = data;
  if ((b->title || b->style) && b->skip == b->depth)
    g_string_append_len (b->text, text, (gssize)length);
  return TRUE;
}

gboolean
file_svg_tree_read (const char *text, gsize length, const char *name,
                    FileSvgTree *tree, GError **error)
{
  static const FileXmlHandler handler = { on_start, on_end, on_text };
  *tree = (FileSvgTree){
    .ids = g_hash_table_new (g_str_hash, g_str_equal),
    .style = g_string_new (NULL),
    .strings = g_string_chunk_new (4096),
  };
  Builder b = {
    .tree = tree,
    .spaces = g_array_new (FALSE, FALSE, sizeof (Space)),
    .text = g_string_new (NULL),
  };
  gboolean ok = file_xml_read (text, length, name, &handler, &b, error);
  g_array_free (b.spaces, TRUE);
  g_string_free (b.text, TRUE);
  return ok;
}

static void
free_node (FileSvgNode *node)
{
  for (FileSvgNode *child = node->first, *next; child != NULL; child = next)
    {
      next = child->next;
      free_node (child);
    }
  g_free (node->values);
  g_free (node->title);
  g_free (node);
}

void
file_svg_tree_clear (FileSvgTree *tree)
{
  if (tree->root != NULL)
    free_node (tree->root);
  g_hash_table_destroy (tree->ids);
  g_string_free (tree->style, TRUE);
  g_string_chunk_free (tree->strings);
  g_free (tree->root_name);
  *tree = (FileSvgTree){ 0 };
}

const char *
file_svg_key_name (FileSvgAttribute key)
{
  return attribute_names[key] != NULL ? attribute_names[key] : "label";
}

const char *
file_svg_node_get (const FileSvgNode *node, FileSvgAttribute key)
{
  for (guint i = 0; i < node->n_values; i++)
    if (node->values[i].key == key)
      return node->values[i].value;
  return NULL;
}
