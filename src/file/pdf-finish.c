/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/pdf-finish.h"

#include <glib/gi18n.h>
#include <string.h>

#include "file/document.h"

typedef struct
{
  const char *text; /* the file, with a zero after it */
  gsize length;
  guint64 xref; /* where its cross-reference table is */
  guint size, root, info;
} Pdf;

/* The file's last line but one or two says where the table is (7.5.5). Streams hold
 * zeros, at which the searches for strings stop, so only the end is looked at. */
static const char *
find_startxref (const Pdf *pdf)
{
  const char *tail = pdf->text + (pdf->length > 64 ? pdf->length - 64 : 0);
  return memmem (tail, (gsize)(pdf->text + pdf->length - tail), "startxref",
                 strlen ("startxref"));
}

static gboolean
number_after (const char *from, const char *end, const char *key,
              guint64 *value)
{
  const char *at = g_strstr_len (from, end - from, key);
  if (at == NULL)
    return FALSE;
  at += strlen (key);
  char *stop;
  *value = g_ascii_strtoull (at, &stop, 10);
  return stop > at;
}

static gboolean
read_trailer (Pdf *pdf)
{
  const char *end = pdf->text + pdf->length;
  const char *start = find_startxref (pdf);
  guint64 size, root, info;
  if (start == NULL || !number_after (start, end, "startxref", &pdf->xref)
      || pdf->xref >= pdf->length
      || !g_str_has_prefix (pdf->text + pdf->xref, "xref"))
    return FALSE;
  const char *trailer = g_strstr_len (
      pdf->text + pdf->xref, (gssize)(pdf->length - pdf->xref), "trailer");
  if (trailer == NULL || !number_after (trailer, end, "/Size", &size)
      || !number_after (trailer, end, "/Root", &root)
      || !number_after (trailer, end, "/Info", &info) || root >= size
      || info >= size || size > G_MAXUINT)
    return FALSE;
  pdf->size = (guint)size;
  pdf->root = (guint)root;
  pdf->info = (guint)info;
  return TRUE;
}

/* The inside of an object's dictionary: "/Type /Catalog ...". The table has one section
 * that starts at object 0, with entries of 20 bytes (7.5.4). */
static char *
dup_dictionary (const Pdf *pdf, guint object)
{
  const char *end = pdf->text + pdf->length;
  const char *entries = strchr (pdf->text + pdf->xref + 5, '\n');
  if (entries == NULL || entries + 1 + 20 * ((gsize)object + 1) > end)
    return NULL;
  guint64 at = g_ascii_strtoull (entries + 1 + 20 * (gsize)object, NULL, 10);
  g_autofree char *head = g_strdup_printf ("%u 0 obj", object);
  if (at >= pdf->length || !g_str_has_prefix (pdf->text + at, head))
    return NULL;
  const char *open
      = g_strstr_len (pdf->text + at, end - pdf->text - (gssize)at, "<<");
  const char *close
      = g_strstr_len (pdf->text + at, end - pdf->text - (gssize)at, "endobj");
  if (open == NULL || close == NULL || open > close)
    return NULL;
  g_autofree char *body = g_strndup (open + 2, (gsize)(close - open - 2));
  char *last = g_strrstr (body, ">>");
  if (last == NULL)
    return NULL;
  *last = '\0';
  return g_strdup (g_strstrip (body));
}

/* A text string in UTF-16 with its byte order mark, as hex (7.9.2.2). */
static char *
dup_text_string (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  glong n = 0;
  g_autofree gunichar2 *units = g_utf8_to_utf16 (valid, -1, NULL, &n, NULL);
  GString *hex = g_string_new ("<FEFF");
  for (glong i = 0; units && i < n; i++)
    g_string_append_printf (hex, "%04X", units[i]);
  g_string_append_c (hex, '>');
  return g_string_free (hex, FALSE);
}

static char *
dup_information (const char *title)
{
  g_autofree char *name = dup_text_string (title);
  g_autofree char *date = NULL;
  const char *epoch = g_getenv ("SOURCE_DATE_EPOCH");
  char *stop = NULL;
  gint64 seconds = epoch ? g_ascii_strtoll (epoch, &stop, 10) : 0;
  if (epoch && *epoch && stop && *stop == '\0')
    {
      g_autoptr (GDateTime) when = g_date_time_new_from_unix_utc (seconds);
      if (when)
        date = g_date_time_format (when, "\n/CreationDate (D:%Y%m%d%H%M%SZ)");
    }
  return g_strdup_printf ("<< /Title %s\n/Creator (Bodkin)%s >>", name,
                          date ? date : "");
}

gboolean
file_pdf_finish (GByteArray *bytes, const char *title, GError **error)
{
  g_return_val_if_fail (bytes != NULL && title != NULL, FALSE);
  g_autofree char *text = g_malloc (bytes->len + 1);
  memcpy (text, bytes->data, bytes->len);
  text[bytes->len] = '\0';
  Pdf pdf = { .text = text, .length = bytes->len };
  g_autofree char *catalog
      = read_trailer (&pdf) ? dup_dictionary (&pdf, pdf.root) : NULL;
  if (catalog == NULL)
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_WRITE,
                   _ ("The print file could not be marked for printing at its "
                      "own size, so it was not saved. Nothing else is "
                      "touched."));
      return FALSE;
    }
  g_autofree char *information = dup_information (title);
  g_autofree char *id
      = g_compute_checksum_for_data (G_CHECKSUM_MD5, bytes->data, bytes->len);
  GString *more = g_string_new ("\n");
  gsize root_at = bytes->len + more->len;
  g_string_append_printf (more,
                          "%u 0 obj\n<< %s\n/Version /1.7\n"
                          "/ViewerPreferences << /PrintScaling /None "
                          "/PickTrayByPDFSize true >> >>\nendobj\n",
                          pdf.root, catalog);
  gsize info_at = bytes->len + more->len;
  g_string_append_printf (more, "%u 0 obj\n%s\nendobj\n", pdf.info,
                          information);
  gsize xref_at = bytes->len + more->len;
  g_string_append_printf (
      more,
      "xref\n%u 1\n%010" G_GSIZE_FORMAT " 00000 n \n"
      "%u 1\n%010" G_GSIZE_FORMAT " 00000 n \n",
      MIN (pdf.root, pdf.info), pdf.root < pdf.info ? root_at : info_at,
      MAX (pdf.root, pdf.info), pdf.root < pdf.info ? info_at : root_at);
  g_string_append_printf (more,
                          "trailer\n<< /Size %u /Root %u 0 R /Info %u 0 R\n"
                          "/Prev %" G_GUINT64_FORMAT " /ID [ <%s> <%s> ] >>\n"
                          "startxref\n%" G_GSIZE_FORMAT "\n%%%%EOF\n",
                          pdf.size, pdf.root, pdf.info, pdf.xref, id, id,
                          xref_at);
  g_byte_array_append (bytes, (const guint8 *)more->str, (guint)more->len);
  g_string_free (more, TRUE);
  return TRUE;
}
