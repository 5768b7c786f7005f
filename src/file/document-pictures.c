/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of the native document.
 *
 * Inside, the bytes stand as base64 in <bytes> elements of at most PIECE bytes each: XML libraries, ours among
 * them, refuse longer texts. Beside, the path is told from the document's folder, escaped as in an address since a path need not be
 * text. A picture beside is taken only where its digest agrees, so that a stranger's document can't have other files read.
 */
#include "file/document-pictures.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

#include "file/document-reading.h"
#include "file/document-words.h"
#include "file/document.h"
#include "file/picture.h"

#define PIECE (3u << 20) /* whole groups of three bytes */
/* In all, of pictures that lie beside: what a document makes us read. */
#define MOST_BESIDE (1u << 30)

const char *const file_words_size[]
    = { "none", "resolution", "distance", "corners", NULL };

/* --- paths --------------------------------------------------------------------------- */
char *
file_path_from (const char *folder, const char *path)
{
  g_autofree char *base = g_canonicalize_filename (folder, "/");
  g_autofree char *whole = g_canonicalize_filename (path, "/");
  g_auto (GStrv) from = g_strsplit (base + 1, "/", -1);
  g_auto (GStrv) to = g_strsplit (whole + 1, "/", -1);
  guint same = 0, n = base[1] == '\0' ? 0 : g_strv_length (from);
  while (same < n && to[same] != NULL && to[same + 1] != NULL
         && strcmp (from[same], to[same]) == 0)
    same++;
  if (same == 0)
    return g_steal_pointer (&whole);
  GString *way = g_string_new (NULL);
  for (guint i = same; i < n; i++)
    g_string_append (way, "../");
  g_autofree char *rest = g_strjoinv ("/", to + same);
  g_string_append (way, rest);
  return g_string_free (way, FALSE);
}

/* --- writing ------------------------------------------------------------------------- */
static void
put_text (GString *out, const char *name, const char *text)
{
  g_string_append_printf (out, " %s=\"", name);
  file_xml_append (out, text, TRUE);
  g_string_append_c (out, '"');
}

static void
put_numbers (GString *out, const char *name, const double *numbers, guint n)
{
  g_string_append_printf (out, " %s=\"", name);
  for (guint i = 0; i < n; i++)
    {
      if (i > 0)
        g_string_append_c (out, ' ');
      file_xml_append_number (out, numbers[i]);
    }
  g_string_append_c (out, '"');
}

static void
put_path (GString *out, const char *name, const char *path)
{
  g_autofree char *escaped = g_uri_escape_string (path, "/ ", TRUE);
  put_text (out, name, escaped);
}

static void
put_size (GString *out, const PatternPicture *p)
{
  if (p->size != PATTERN_SIZE_NONE)
    put_text (out, "size", file_words_size[p->size]);
  double places[8];
  gboolean any = FALSE;
  for (guint i = 0; i < 4; i++)
    {
      places[2 * i] = p->places[i].x;
      places[2 * i + 1] = p->places[i].y;
      any = any || p->places[i].x != 0 || p->places[i].y != 0;
    }
  if (any)
    put_numbers (out, "places", places, 8);
  double both[2] = { p->true_width, p->true_height };
  if (both[0] != 0 || both[1] != 0)
    put_numbers (out, "true", both, 2);
  put_numbers (out, "plane", p->plane, 9);
  double at[2] = { p->place.dx, p->place.dy };
  double along[2] = { p->place.c, p->place.s };
  put_numbers (out, "at", at, 2);
  put_numbers (out, "along", along, 2);
  if (p->place.flip)
    put_text (out, "over", "yes");
}

static void
write_bytes (GString *out, GBytes *bytes)
{
  gsize size;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  for (gsize at = 0; at < size; at += PIECE)
    {
      g_autofree char *text
          = g_base64_encode (data + at, MIN (PIECE, size - at));
      g_string_append (out, "    <bytes>");
      g_string_append (out, text);
      g_string_append (out, "</bytes>\n");
    }
  if (size == 0)
    g_string_append (out, "    <bytes></bytes>\n");
}

void
file_write_picture (GString *out, const PatternPicture *p,
                    const FileWhere *where)
{
  g_string_append_printf (out, "  <picture id=\"%u\"", p->id);
  if (p->name != NULL && *p->name != '\0')
    put_text (out, "name", p->name);
  g_string_append_printf (out, " width=\"%u\" height=\"%u\"", p->width,
                          p->height);
  if (p->digest != NULL)
    put_text (out, "digest", p->digest);
  gboolean inside = p->beside == NULL;
  if (!inside)
    {
      g_autofree char *way
          = where->folder != NULL && g_path_is_absolute (p->beside)
                ? file_path_from (where->folder, p->beside)
                : g_strdup (p->beside);
      put_path (out, "file", way);
    }
  else if (where->kept_as != NULL)
    {
      g_autofree char *name = where->kept_as (p, where->data);
      put_path (out, "kept-as", name);
      inside = FALSE;
    }
  put_size (out, p);
  put_numbers (out, "strength", &p->strength, 1);
  if (p->hidden)
    put_text (out, "hidden", "yes");
  if (p->locked)
    put_text (out, "locked", "yes");
  const char *elements = p->extra != NULL ? strchrnul (p->extra, '<') : "";
  if (p->extra != NULL)
    g_string_append_len (out, p->extra, elements - p->extra);
  if (!inside && *elements == '\0')
    {
      g_string_append (out, "/>\n");
      return;
    }
  g_string_append (out, ">\n");
  if (inside && p->bytes != NULL)
    write_bytes (out, p->bytes);
  if (*elements != '\0')
    g_string_append_printf (out, "    %s\n", elements);
  g_string_append (out, "  </picture>\n");
}

/* --- reading --------------------------------------------------------------------------- */
/* So many numbers with blanks between them; the first failure is the taking's. */
static void
take_numbers (FileTaking *t, const char *name, double *numbers, guint n)
{
  const char *text = file_take_text (t, name);
  if (text == NULL || t->error != NULL)
    return;
  g_auto (GStrv) parts = g_strsplit_set (text, " \t\r\n", 64);
  guint got = 0;
  gboolean good = TRUE;
  for (guint i = 0; parts[i] != NULL && good; i++)
    if (*parts[i] != '\0')
      {
        good = got < n && file_xml_parse_number (parts[i], &numbers[got]);
        got++;
      }
  if (!good || got != n)
    g_set_error (&t->error, FILE_ERROR, FILE_ERROR_BROKEN,
                 _ ("“%s” of <%s> should be %u numbers."), name, t->tag->name,
                 n);
}

static char *
take_path (FileTaking *t, const char *name)
{
  const char *text = file_take_text (t, name);
  if (text == NULL)
    return NULL;
  char *path = g_uri_unescape_string (text, NULL);
  if ((path == NULL || *path == '\0') && t->error == NULL)
    g_set_error (&t->error, FILE_ERROR, FILE_ERROR_BROKEN,
                 _ ("“%s” of <%s> is no path."), name, t->tag->name);
  return path;
}

static void
take_size (FileTaking *t, PatternPicture *p)
{
  double places[8] = { 0 }, both[2] = { 0, 0 };
  double at[2] = { 0, 0 }, along[2] = { 1, 0 };
  p->size = file_take_word (t, "size", file_words_size);
  take_numbers (t, "places", places, 8);
  for (guint i = 0; i < 4; i++)
    p->places[i] = geo_point (places[2 * i], places[2 * i + 1]);
  take_numbers (t, "true", both, 2);
  p->true_width = both[0];
  p->true_height = both[1];
  take_numbers (t, "plane", p->plane, 9);
  take_numbers (t, "at", at, 2);
  take_numbers (t, "along", along, 2);
  p->place = (GeoMotion){ along[0], along[1], at[0], at[1],
                          file_take_word (t, "over", file_words_yes) != 0 };
}

gboolean
file_start_picture (FileReading *r, FileTaking *t, GError **error)
{
  guint id = file_take_count (t, "id", G_MAXUINT - 2, FILE_REQUIRED);
  r->highest_id = MAX (r->highest_id, id);
  if (t->error == NULL && pattern_get_picture (r->pattern, id) != NULL)
    return file_reading_broken (error, _ ("two pictures have the same id."));
  const char *name = file_take_text (t, "name");
  g_clear_pointer (&r->picture, pattern_picture_unref);
  r->picture = pattern_picture_new (id, name != NULL ? name : "", NULL, 0, 0);
  PatternPicture *p = r->picture;
  p->width
      = file_take_count (t, "width", PATTERN_PICTURE_MOST_SIDE, FILE_REQUIRED);
  p->height
      = file_take_count (t, "height", PATTERN_PICTURE_MOST_SIDE, FILE_REQUIRED);
  p->digest = g_strdup (file_take_text (t, "digest"));
  p->beside = take_path (t, "file");
  g_free (r->kept_as);
  r->kept_as = take_path (t, "kept-as");
  take_size (t, p);
  p->strength = file_take_number (t, "strength", 0, 1, 0.5);
  p->hidden = file_take_word (t, "hidden", file_words_yes) != 0;
  p->locked = file_take_word (t, "locked", file_words_yes) != 0;
  g_clear_pointer (&r->bytes, g_byte_array_unref);
  return TRUE;
}

gboolean
file_start_bytes (FileReading *r, FileTaking *t, GError **error)
{
  (void)t;
  (void)error;
  if (r->bytes == NULL)
    r->bytes = g_byte_array_new ();
  r->base64_state = 0;
  r->base64_save = 0;
  return TRUE;
}

static gboolean
damaged (const FileReading *r, GError **error)
{
  g_set_error (error, FILE_ERROR, FILE_ERROR_BROKEN,
               _ ("the picture “%s” in it is damaged. An older copy of the "
                  "document may have it whole."),
               r->picture->name);
  return FALSE;
}

/* Nothing but base64 (RFC 4648) and blanks. */
gboolean
file_take_bytes (FileReading *r, const char *text, gsize length, GError **error)
{
  for (gsize i = 0; i < length; i++)
    if (!g_ascii_isalnum (text[i]) && strchr ("+/= \t\r\n", text[i]) == NULL)
      return damaged (r, error);
  guint had = r->bytes->len;
  g_byte_array_set_size (r->bytes, had + (guint)(length / 4 * 3 + 6));
  gsize got = g_base64_decode_step (text, length, r->bytes->data + had,
                                    &r->base64_state, &r->base64_save);
  g_byte_array_set_size (r->bytes, had + (guint)got);
  return TRUE;
}

/* The file and its digest agree; NULL else. What others wrote beside is counted before it is read, whatever it turns out
 * to be; what was kept by autosave is taken as it was inside. */
static GBytes *
load_agreeing (FileReading *r, const char *path, gboolean kept)
{
  GStatBuf st;
  if (g_stat (path, &st) != 0 || !S_ISREG (st.st_mode))
    return NULL;
  if (!kept && (r->beside_bytes += (gsize)st.st_size) > MOST_BESIDE)
    return NULL;
  g_autoptr (GBytes) bytes
      = kept ? file_picture_read (path, NULL) : file_picture_load (path, NULL);
  if (bytes == NULL)
    return NULL;
  g_autofree char *digest
      = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  return g_strcmp0 (digest, r->picture->digest) == 0 ? g_steal_pointer (&bytes)
                                                     : NULL;
}

static void
look_beside (FileReading *r)
{
  PatternPicture *p = r->picture;
  char **path = p->beside != NULL ? &p->beside : &r->kept_as;
  if (r->folder == NULL && g_path_is_absolute (*path))
    return;
  if (r->folder != NULL)
    {
      char *whole = g_canonicalize_filename (*path, r->folder);
      g_free (*path);
      *path = whole;
      if (p->digest != NULL)
        p->bytes = load_agreeing (r, whole, p->beside == NULL);
    }
  /* A kept copy whose picture is gone opens all the same. */
  if (p->bytes == NULL && p->beside == NULL)
    p->beside = g_strdup (r->kept_as);
}

gboolean
file_end_picture (FileReading *r, char *extra, GError **error)
{
  PatternPicture *p = r->picture;
  p->extra = extra;
  if (p->beside == NULL && r->kept_as != NULL
      && strchr (r->kept_as, '/') != NULL)
    return damaged (r, error);
  if (p->beside == NULL && r->bytes != NULL)
    {
      p->bytes = g_byte_array_free_to_bytes (g_steal_pointer (&r->bytes));
      g_autofree char *digest
          = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, p->bytes);
      if (p->digest != NULL && strcmp (p->digest, digest) != 0)
        return damaged (r, error);
      pattern_set_string (&p->digest, digest);
    }
  else if (p->beside != NULL || r->kept_as != NULL)
    look_beside (r);
  g_clear_pointer (&r->bytes, g_byte_array_unref);
  pattern_put_picture (r->pattern, g_steal_pointer (&r->picture));
  return TRUE;
}

/* --- what was not found -------------------------------------------------------------- */
char *
file_document_missing (const Pattern *pattern)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  const PatternPicture *first = NULL;
  guint n = 0;
  for (guint i = 0; i < pattern->n_pictures; i++)
    if (pattern->pictures[i]->bytes == NULL && n++ == 0)
      first = pattern->pictures[i];
  if (n == 0)
    return NULL;
  g_autofree char *shown = g_filename_display_name (first->beside);
  if (n == 1)
    return g_strdup_printf (
        _ ("The picture “%s” was not found as “%s”, or it was changed since; "
           "all else is here. Put it there again and open the document once "
           "more."),
        first->name, shown);
  return g_strdup_printf (
      ngettext ("%u picture was not found, or it was changed since; all else "
                "is here. The first is “%s”, looked for as “%s”. Put it there "
                "again and open the document once more.",
                "%u pictures were not found, or they were changed since; all "
                "else is here. The first is “%s”, looked for as “%s”. Put them "
                "there again and open the document once more.",
                n),
      n, first->name, shown);
}

gboolean
file_document_keeps_inside (gsize size)
{
  return size <= FILE_DOCUMENT_INSIDE_BYTES;
}
