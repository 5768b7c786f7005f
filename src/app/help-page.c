/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/help-page.h"

#include <string.h>

#include "app/ui.h"

typedef struct
{
  const char *folder;
  const char *page;
  char *section;    /* id of the section being read */
  GtkWidget *box;   /* where blocks go */
  GPtrArray *boxes; /* the boxes around it */
  GString *text;    /* markup of the paragraph or title being read, or NULL */
  GtkWidget *grid;  /* of the table being read */
  int row, column;
  int steps;      /* number of the next step; 0 outside steps */
  int level;      /* of sections */
  int items;      /* depth inside items of lists */
  gboolean terms; /* the list being read is one of terms: no marks */
  int keys;       /* of a sequence: how many were read; -1 outside one */
  int skip;       /* depth inside what is not shown */
  gboolean head;  /* inside a table's head */
  gboolean link_empty;
  char *link;
  void (*on_link) (const char *page, gpointer data);
  gpointer data;
} Reader;

/* --- where pages are -------------------------------------------------------------- */

static char *
try_folder (const char *base, const char *language, const char *tail)
{
  char *folder = g_build_filename (base, language, tail, NULL);
  g_autofree char *index = g_build_filename (folder, "index.page", NULL);
  if (g_file_test (index, G_FILE_TEST_EXISTS))
    return folder;
  g_free (folder);
  return NULL;
}

char *
app_help_folder (void)
{
  const char *source = g_getenv ("BODKIN_DATA");
  const char *const *languages = g_get_language_names ();
  for (guint i = 0; languages[i] != NULL; i++)
    {
      char *folder = NULL;
      if (source != NULL)
        {
          g_autofree char *base = g_build_filename (source, "..", "help", NULL);
          folder = try_folder (base, languages[i], "");
        }
      if (folder == NULL)
        folder = try_folder (APP_HELPDIR, languages[i], "bodkin");
      if (folder != NULL)
        return folder;
    }
  return NULL;
}

static char *
read_page (const char *folder, const char *page, gsize *length)
{
  g_autofree char *name = g_strconcat (page, ".page", NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  char *text = NULL;
  /* Page names come from our own pages; a path in one is no page. */
  if (strchr (page, G_DIR_SEPARATOR) != NULL
      || !g_file_get_contents (path, &text, length, NULL))
    return NULL;
  return text;
}

char *
app_help_title (const char *folder, const char *page)
{
  gsize length;
  g_autofree char *text = read_page (folder, page, &length);
  const char *start = text != NULL ? strstr (text, "<title>") : NULL;
  const char *end = start != NULL ? strstr (start, "</title>") : NULL;
  if (end == NULL)
    return NULL;
  start += strlen ("<title>");
  return g_strndup (start, (gsize)(end - start));
}

char *
app_help_words (const char *folder, const char *page)
{
  gsize length;
  g_autofree char *text = read_page (folder, page, &length);
  if (text == NULL)
    return NULL;
  g_autoptr (GString) plain = g_string_new (NULL);
  gboolean in_tag = FALSE;
  for (const char *p = text; *p != '\0'; p++)
    {
      if (*p == '<' || *p == '>')
        in_tag = *p == '<';
      else if (!in_tag)
        g_string_append_c (plain, g_ascii_isspace (*p) ? ' ' : *p);
    }
  return g_utf8_casefold (plain->str, -1);
}

/* --- blocks --------------------------------------------------------------------- */

/* Where a label's links lead; a copy with each label. */
typedef struct
{
  void (*on_link) (const char *page, gpointer data);
  gpointer data;
} Links;

static gboolean
on_activate_link (GtkLabel *label, const char *uri, Links *links)
{
  (void)label;
  links->on_link (uri, links->data);
  return TRUE;
}

static void
links_free (gpointer links, GClosure *closure)
{
  (void)closure;
  g_free (links);
}

static GtkWidget *
make_label (Reader *r, const char *markup, const char *css)
{
  GtkWidget *label = app_ui_paragraph ("", css);
  gtk_label_set_markup (GTK_LABEL (label), markup);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 72);
  Links *links = g_new0 (Links, 1);
  links->on_link = r->on_link;
  links->data = r->data;
  g_signal_connect_data (label, "activate-link", G_CALLBACK (on_activate_link),
                         links, links_free, 0);
  return label;
}

static void
push_box (Reader *r, GtkWidget *box)
{
  g_ptr_array_add (r->boxes, r->box);
  r->box = box;
}

static void
pop_box (Reader *r)
{
  if (r->boxes->len > 0)
    r->box = g_ptr_array_steal_index (r->boxes, r->boxes->len - 1);
}

static void
start_box (Reader *r, const char *css, int spacing)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, spacing);
  if (css != NULL)
    gtk_widget_add_css_class (box, css);
  gtk_box_append (GTK_BOX (r->box), box);
  push_box (r, box);
}

static void
start_item (Reader *r)
{
  r->items++;
  if (r->terms)
    {
      start_box (r, NULL, 3);
      return;
    }
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  g_autofree char *mark
      = r->steps > 0 ? g_strdup_printf ("%d.", r->steps++) : g_strdup ("•");
  GtkWidget *bullet = app_ui_label (mark, "dim");
  gtk_widget_set_valign (bullet, GTK_ALIGN_START);
  gtk_widget_set_size_request (bullet, 18, -1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (line), bullet);
  gtk_box_append (GTK_BOX (line), box);
  gtk_box_append (GTK_BOX (r->box), line);
  push_box (r, box);
}

static void
start_table (Reader *r)
{
  r->grid = gtk_grid_new ();
  r->row = -1;
  gtk_grid_set_column_spacing (GTK_GRID (r->grid), 24);
  gtk_grid_set_row_spacing (GTK_GRID (r->grid), 6);
  gtk_box_append (GTK_BOX (r->box), r->grid);
}

static void
start_cell (Reader *r)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  if (r->grid != NULL)
    gtk_grid_attach (GTK_GRID (r->grid), box, r->column++, r->row, 1, 1);
  push_box (r, box);
}

static void
add_picture (Reader *r, const char *src)
{
  if (src == NULL || strstr (src, "..") != NULL)
    return;
  g_autofree char *path = g_build_filename (r->folder, src, NULL);
  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return;
  GtkWidget *picture = gtk_picture_new_for_filename (path);
  gtk_picture_set_can_shrink (GTK_PICTURE (picture), TRUE);
  gtk_widget_set_size_request (picture, -1, 320);
  gtk_box_append (GTK_BOX (r->box), picture);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

/* A guide's section ends with links to the pages that say they belong to it. */
static void
add_belonging (Reader *r)
{
  if (r->section == NULL)
    return;
  g_autofree char *mark
      = g_strdup_printf ("type=\"guide\" xref=\"%s#%s\"", r->page, r->section);
  g_autoptr (GDir) dir = g_dir_open (r->folder, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *file;
  while (dir != NULL && (file = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (file, ".page"))
      g_ptr_array_add (names,
                       g_strndup (file, strlen (file) - strlen (".page")));
  g_ptr_array_sort (names, by_name);
  for (guint i = 0; i < names->len; i++)
    {
      const char *name = g_ptr_array_index (names, i);
      gsize length;
      g_autofree char *text = read_page (r->folder, name, &length);
      g_autofree char *title = app_help_title (r->folder, name);
      if (text == NULL || title == NULL || strstr (text, mark) == NULL)
        continue;
      g_autofree char *link
          = g_strdup_printf ("<a href=\"%s\">%s</a>", name, title);
      gtk_box_append (GTK_BOX (r->box), make_label (r, link, NULL));
    }
  g_clear_pointer (&r->section, g_free);
}

/* --- elements -------------------------------------------------------------------- */

static const struct
{
  const char *element, *open, *close;
} inlines[] = {
  { "em", "<i>", "</i>" },           { "gui", "<b>", "</b>" },
  { "key", "<tt><b>", "</b></tt>" }, { "cmd", "<tt>", "</tt>" },
  { "input", "<tt>", "</tt>" },      { "file", "<tt>", "</tt>" },
  { "code", "<tt>", "</tt>" },       { "var", "<i>", "</i>" },
  { "output", "<tt>", "</tt>" },
};

static const char *
attribute (const char **names, const char **values, const char *name)
{
  for (guint i = 0; names[i] != NULL; i++)
    if (g_str_equal (names[i], name))
      return values[i];
  return NULL;
}

static void
start_link (Reader *r, const char *xref, const char *href)
{
  g_free (r->link);
  r->link = g_strdup (xref != NULL ? xref : href);
  char *hash = r->link != NULL ? strchr (r->link, '#') : NULL;
  if (hash != NULL)
    *hash = '\0';
  r->link_empty = TRUE;
  if (r->text == NULL || r->link == NULL)
    return;
  g_autofree char *escaped = g_markup_escape_text (r->link, -1);
  g_string_append_printf (r->text, "<a href=\"%s\">", escaped);
}

static void
end_link (Reader *r)
{
  if (r->text == NULL || r->link == NULL)
    return;
  if (r->link_empty)
    {
      g_autofree char *title = app_help_title (r->folder, r->link);
      g_string_append (r->text, title != NULL ? title : r->link);
    }
  g_string_append (r->text, "</a>");
  g_clear_pointer (&r->link, g_free);
}

static void
start_inline (Reader *r, const char *name)
{
  /* "Ctrl + Z" */
  if (r->text != NULL && r->keys >= 0 && g_str_equal (name, "key")
      && r->keys++ > 0)
    g_string_append (r->text, " + ");
  for (guint i = 0; r->text != NULL && i < G_N_ELEMENTS (inlines); i++)
    if (g_str_equal (inlines[i].element, name))
      g_string_append (r->text, inlines[i].open);
}

static void
on_start (GMarkupParseContext *context, const char *name, const char **names,
          const char **values, gpointer data, GError **error)
{
  (void)context;
  (void)error;
  Reader *r = data;
  if (r->skip > 0 || g_str_equal (name, "info"))
    {
      r->skip++;
      return;
    }
  if (g_str_equal (name, "p") || g_str_equal (name, "title"))
    r->text = g_string_new (NULL);
  else if (g_str_equal (name, "section"))
    {
      r->level++;
      g_free (r->section);
      r->section = g_strdup (attribute (names, values, "id"));
      start_box (r, NULL, 12);
    }
  else if (g_str_equal (name, "note"))
    start_box (r, "help-note", 6);
  else if (g_str_equal (name, "steps") || g_str_equal (name, "list")
           || g_str_equal (name, "terms"))
    {
      r->steps = g_str_equal (name, "steps") ? 1 : 0;
      r->terms = g_str_equal (name, "terms");
      start_box (r, NULL, 6);
    }
  else if (g_str_equal (name, "item"))
    start_item (r);
  else if (g_str_equal (name, "keyseq"))
    r->keys = 0;
  else if (g_str_equal (name, "table"))
    start_table (r);
  else if (g_str_equal (name, "thead"))
    r->head = TRUE;
  else if (g_str_equal (name, "tr"))
    {
      r->row++;
      r->column = 0;
    }
  else if (g_str_equal (name, "td") || g_str_equal (name, "th"))
    start_cell (r);
  else if (g_str_equal (name, "media"))
    add_picture (r, attribute (names, values, "src"));
  else if (g_str_equal (name, "link"))
    start_link (r, attribute (names, values, "xref"),
                attribute (names, values, "href"));
  else
    start_inline (r, name);
}

static void
end_text (Reader *r, gboolean title)
{
  if (r->text == NULL)
    return;
  g_strstrip (r->text->str);
  const char *css = !title               ? r->head ? "dim" : NULL
                    : r->boxes->len == 0 ? "help-title"
                    : r->items > 0       ? "help-term"
                    : r->level > 0       ? "help-section"
                                         : "help-term";
  if (r->text->str[0] != '\0')
    gtk_box_append (GTK_BOX (r->box), make_label (r, r->text->str, css));
  g_string_free (r->text, TRUE);
  r->text = NULL;
}

static void
on_end (GMarkupParseContext *context, const char *name, gpointer data,
        GError **error)
{
  (void)context;
  (void)error;
  Reader *r = data;
  if (r->skip > 0)
    {
      r->skip--;
      return;
    }
  if (g_str_equal (name, "p") || g_str_equal (name, "title"))
    end_text (r, g_str_equal (name, "title"));
  else if (g_str_equal (name, "section"))
    {
      r->level--;
      add_belonging (r);
      pop_box (r);
    }
  else if (g_str_equal (name, "keyseq"))
    r->keys = -1;
  else if (g_str_equal (name, "item"))
    {
      r->items--;
      pop_box (r);
    }
  else if (g_str_equal (name, "note") || g_str_equal (name, "td")
           || g_str_equal (name, "th"))
    pop_box (r);
  else if (g_str_equal (name, "steps") || g_str_equal (name, "list")
           || g_str_equal (name, "terms"))
    {
      r->steps = 0;
      pop_box (r);
    }
  else if (g_str_equal (name, "table"))
    r->grid = NULL;
  else if (g_str_equal (name, "thead"))
    r->head = FALSE;
  else if (g_str_equal (name, "link"))
    end_link (r);
  else
    for (guint i = 0; r->text != NULL && i < G_N_ELEMENTS (inlines); i++)
      if (g_str_equal (inlines[i].element, name))
        g_string_append (r->text, inlines[i].close);
}

static void
on_text (GMarkupParseContext *context, const char *text, gsize length,
         gpointer data, GError **error)
{
  (void)context;
  (void)error;
  Reader *r = data;
  if (r->skip > 0 || r->text == NULL)
    return;
  /* Line ends and runs of spaces in the source count as one space. */
  g_autoptr (GString) plain = g_string_new (NULL);
  gboolean space = r->text->len > 0 && r->text->str[r->text->len - 1] == ' ';
  for (gsize i = 0; i < length; i++)
    {
      gboolean is_space = g_ascii_isspace (text[i]);
      if (!is_space)
        g_string_append_c (plain, text[i]);
      else if (!space)
        g_string_append_c (plain, ' ');
      space = is_space;
    }
  if (plain->len > 0)
    r->link_empty = FALSE;
  g_autofree char *escaped = g_markup_escape_text (plain->str, -1);
  g_string_append (r->text, escaped);
}

GtkWidget *
app_help_render (const char *folder, const char *page,
                 void (*on_link) (const char *page, gpointer data),
                 gpointer data)
{
  static const GMarkupParser parser = { on_start, on_end, on_text, NULL, NULL };
  gsize length = 0;
  g_autofree char *text = read_page (folder, page, &length);
  if (text == NULL)
    return NULL;
  Reader r = {
    .folder = folder, .page = page, .keys = -1, .on_link = on_link, .data = data
  };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  g_object_ref_sink (box);
  r.box = box;
  r.boxes = g_ptr_array_new ();
  GMarkupParseContext *context
      = g_markup_parse_context_new (&parser, 0, &r, NULL);
  gboolean read
      = g_markup_parse_context_parse (context, text, (gssize)length, NULL);
  g_markup_parse_context_free (context);
  g_ptr_array_unref (r.boxes);
  if (r.text != NULL)
    g_string_free (r.text, TRUE);
  g_free (r.link);
  g_free (r.section);
  if (!read)
    {
      g_object_unref (box);
      return NULL;
    }
  return box;
}
