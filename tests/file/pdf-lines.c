/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pdf-lines.h"

#include <cairo.h>
#include <glib/gstdio.h>
#include <string.h>

#define POINT (25.4 / 72)

typedef struct
{
  PdfFile *file;
  guint page;
  double height;         /* points */
  cairo_matrix_t matrix; /* from user space to points */
  GArray *stack;
  GPtrArray *path; /* PdfLine under construction */
  double numbers[8];
  int count;
} Reader;

static void
line_free (gpointer data)
{
  PdfLine *line = data;
  g_array_unref (line->points);
  g_free (line);
}

static GeoPoint
placed (const Reader *r, double x, double y)
{
  cairo_matrix_transform_point (&r->matrix, &x, &y);
  return geo_point (x * POINT, (r->height - y) * POINT);
}

static void
start_line (Reader *r, double x, double y)
{
  PdfLine *line = g_new0 (PdfLine, 1);
  GeoPoint p = placed (r, x, y);
  line->page = r->page;
  line->points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_array_append_val (line->points, p);
  g_ptr_array_add (r->path, line);
}

static void
go_on (Reader *r, double x, double y, gboolean curved)
{
  g_assert_cmpuint (r->path->len, >, 0);
  PdfLine *line = g_ptr_array_index (r->path, r->path->len - 1);
  GeoPoint p = placed (r, x, y);
  g_array_append_val (line->points, p);
  line->curved |= curved;
}

static void
close_line (Reader *r)
{
  if (r->path->len > 0)
    ((PdfLine *)g_ptr_array_index (r->path, r->path->len - 1))->closed = TRUE;
}

static void
paint (Reader *r, gboolean fill, gboolean stroke)
{
  for (guint i = 0; i < r->path->len; i++)
    {
      PdfLine *line = g_ptr_array_index (r->path, i);
      line->filled = fill;
      line->stroked = stroke;
      g_ptr_array_add (r->file->lines, line);
    }
  g_ptr_array_set_free_func (r->path, NULL);
  g_ptr_array_set_size (r->path, 0);
  g_ptr_array_set_free_func (r->path, line_free);
}

static void
operate (Reader *r, const char *op)
{
  const double *n = r->numbers;
  if (g_str_equal (op, "q"))
    g_array_append_val (r->stack, r->matrix);
  else if (g_str_equal (op, "Q"))
    {
      g_assert_cmpuint (r->stack->len, >, 0);
      r->matrix = g_array_index (r->stack, cairo_matrix_t, r->stack->len - 1);
      g_array_set_size (r->stack, r->stack->len - 1);
    }
  else if (g_str_equal (op, "cm"))
    {
      cairo_matrix_t by = { n[0], n[1], n[2], n[3], n[4], n[5] };
      cairo_matrix_multiply (&r->matrix, &by, &r->matrix);
    }
  else if (g_str_equal (op, "m"))
    start_line (r, n[0], n[1]);
  else if (g_str_equal (op, "l"))
    go_on (r, n[0], n[1], FALSE);
  else if (g_str_equal (op, "c"))
    go_on (r, n[4], n[5], TRUE);
  else if (g_str_equal (op, "v") || g_str_equal (op, "y"))
    go_on (r, n[2], n[3], TRUE);
  else if (g_str_equal (op, "h"))
    close_line (r);
  else if (g_str_equal (op, "re"))
    {
      start_line (r, n[0], n[1]);
      go_on (r, n[0] + n[2], n[1], FALSE);
      go_on (r, n[0] + n[2], n[1] + n[3], FALSE);
      go_on (r, n[0], n[1] + n[3], FALSE);
      close_line (r);
    }
  else if (g_str_equal (op, "S") || g_str_equal (op, "s"))
    paint (r, FALSE, TRUE);
  else if (g_str_equal (op, "f") || g_str_equal (op, "f*"))
    paint (r, TRUE, FALSE);
  else if (*op == 'B' || *op == 'b')
    paint (r, TRUE, TRUE);
  else if (g_str_equal (op, "n"))
    g_ptr_array_set_size (r->path, 0);
}

/* Words of a content stream; texts and names are passed over. */
static void
read_stream (Reader *r, const char *from, const char *end)
{
  g_autofree char *text = g_strndup (from, (gsize)(end - from));
  char *at = text;
  r->count = 0;
  while (*at)
    {
      if (*at == '(' || *at == '<' || *at == '[')
        {
          char close = *at == '(' ? ')' : *at == '<' ? '>' : ']';
          while (*at && *at != close)
            at += *at == '\\' && at[1] ? 2 : 1;
        }
      gsize length = strcspn (at, " \n\r\t([<");
      char kept = at[length];
      at[length] = '\0';
      char *stop;
      double number = g_ascii_strtod (at, &stop);
      if (length > 0 && stop == at + length)
        {
          if (r->count < 8)
            r->numbers[r->count++] = number;
        }
      else if (length > 0 && *at != '/' && *at != ')' && *at != '>'
               && *at != ']')
        {
          operate (r, at);
          r->count = 0;
        }
      at[length] = kept;
      at += length;
      at += strspn (at, " \n\r\t");
    }
}

static char *
run (const char *const *words, int *status)
{
  char *out = NULL;
  GError *error = NULL;
  g_spawn_sync (NULL, (char **)words, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL,
                &out, NULL, status, &error);
  g_assert_no_error (error);
  return out;
}

int
pdf_check (const char *path, char **words)
{
  const char *const command[] = { "qpdf", "--check", path, NULL };
  int status;
  *words = run (command, &status);
  return status;
}

PdfFile *
pdf_file_read (const char *path)
{
  PdfFile *file = g_new0 (PdfFile, 1);
  file->lines = g_ptr_array_new_with_free_func (line_free);
  file->sizes = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_autofree char *plain = g_strconcat (path, ".plain", NULL);
  const char *const command[] = { "qpdf", "--qdf", path, plain, NULL };
  int status;
  g_free (run (command, &status));
  g_assert_cmpint (status, ==, 0);
  gsize length;
  g_assert_true (g_file_get_contents (plain, &file->text, &length, NULL));
  g_remove (plain);
  /* Fonts are binary: look at pages and their contents alone. */
  for (gsize i = 0; i < length; i++)
    if (file->text[i] == '\0')
      file->text[i] = ' ';

  const char *at = file->text;
  while ((at = strstr (at, "/MediaBox [")) != NULL)
    {
      double box[4];
      at += strlen ("/MediaBox [");
      for (int i = 0; i < 4; i++)
        box[i] = g_ascii_strtod (at, (char **)&at);
      GeoPoint size = { (box[2] - box[0]) * POINT, (box[3] - box[1]) * POINT };
      g_array_append_val (file->sizes, size);
    }
  for (guint page = 0; page < file->sizes->len; page++)
    {
      g_autofree char *mark
          = g_strdup_printf ("%%%% Contents for page %u\n", page + 1);
      const char *contents = strstr (file->text, mark);
      g_assert_nonnull (contents);
      const char *from = strstr (contents, "stream\n");
      g_assert_nonnull (from);
      const char *end = strstr (from, "endstream");
      Reader r = { .file = file, .page = page };
      r.height = g_array_index (file->sizes, GeoPoint, page).y / POINT;
      r.stack = g_array_new (FALSE, FALSE, sizeof (cairo_matrix_t));
      r.path = g_ptr_array_new_with_free_func (line_free);
      cairo_matrix_init_identity (&r.matrix);
      read_stream (&r, from + strlen ("stream\n"), end);
      g_array_unref (r.stack);
      g_ptr_array_unref (r.path);
    }
  return file;
}

void
pdf_file_free (PdfFile *file)
{
  g_ptr_array_unref (file->lines);
  g_array_unref (file->sizes);
  g_free (file->text);
  g_free (file);
}
