/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/document-tag.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "file/document.h"

FileTaking
file_taking_begin (const FileXmlTag *tag)
{
  return (FileTaking){ .tag = tag,
                       .taken = g_new0 (gboolean, tag->n_attributes) };
}

gboolean
file_taking_end (FileTaking *t, GString *extra, GError **error)
{
  if (t->error == NULL && extra != NULL)
    for (guint i = 0; i < t->tag->n_attributes; i++)
      if (!t->taken[i])
        {
          g_string_append_printf (extra, " %s=\"", t->tag->attributes[i].name);
          file_xml_append (extra, t->tag->attributes[i].value, TRUE);
          g_string_append_c (extra, '"');
        }
  g_free (t->taken);
  t->taken = NULL;
  if (t->error == NULL)
    return TRUE;
  g_propagate_error (error, t->error);
  t->error = NULL;
  return FALSE;
}

static void complain (FileTaking *t, const char *format, ...)
    G_GNUC_PRINTF (2, 3);

static void
complain (FileTaking *t, const char *format, ...)
{
  if (t->error != NULL)
    return;
  va_list args;
  va_start (args, format);
  t->error = g_error_new_valist (FILE_ERROR, FILE_ERROR_BROKEN, format, args);
  va_end (args);
}

/* Values may be long; a message shows their start. */
static void
complain_of_value (FileTaking *t, const char *name, const char *value,
                   const char *wanted)
{
  g_autofree char *start
      = g_utf8_substring (value, 0, MIN (g_utf8_strlen (value, -1), 40));
  /* “width” of <cloth> is “abc”, but must be a number. */
  complain (t, _ ("“%s” of <%s> is “%s”, but must be %s."), name, t->tag->name,
            start, wanted);
}

const char *
file_take_text (FileTaking *t, const char *name)
{
  for (guint i = 0; i < t->tag->n_attributes; i++)
    if (strcmp (t->tag->attributes[i].name, name) == 0)
      {
        t->taken[i] = TRUE;
        return t->tag->attributes[i].value;
      }
  return NULL;
}

static void
complain_of_missing (FileTaking *t, const char *name)
{
  complain (t, _ ("<%s> has no “%s”."), t->tag->name, name);
}

guint
file_take_count (FileTaking *t, const char *name, guint most, guint fallback)
{
  const char *value = file_take_text (t, name);
  if (value == NULL)
    {
      if (fallback == FILE_REQUIRED)
        complain_of_missing (t, name);
      return fallback == FILE_REQUIRED ? 0 : fallback;
    }
  guint64 number;
  if (!g_ascii_string_to_unsigned (value, 10, 0, most, &number, NULL))
    {
      g_autofree char *wanted
          = g_strdup_printf (_ ("a whole number from 0 to %u"), most);
      complain_of_value (t, name, value, wanted);
      return 0;
    }
  return (guint)number;
}

double
file_take_number (FileTaking *t, const char *name, double least, double most,
                  double fallback)
{
  const char *value = file_take_text (t, name);
  double number;
  if (value == NULL)
    {
      if (isnan (fallback))
        complain_of_missing (t, name);
      return isnan (fallback) ? 0 : fallback;
    }
  if (!file_xml_parse_number (value, &number) || number < least
      || number > most)
    {
      g_autofree char *wanted
          = g_strdup_printf (_ ("a number from %g to %g"), least, most);
      complain_of_value (t, name, value, wanted);
      return 0;
    }
  return number;
}

GeoPoint
file_take_point (FileTaking *t, const char *name, const GeoPoint *fallback)
{
  const char *value = file_take_text (t, name);
  if (value == NULL)
    {
      if (fallback == NULL)
        complain_of_missing (t, name);
      return fallback == NULL ? geo_point (0, 0) : *fallback;
    }
  const char *from = value + strspn (value, " \t\r\n");
  gsize n = strcspn (from, " \t\r\n");
  g_autofree char *first = g_strndup (from, n);
  GeoPoint p;
  if (!file_xml_parse_number (first, &p.x)
      || !file_xml_parse_number (from + n, &p.y) || fabs (p.x) > 1e5
      || fabs (p.y) > 1e5)
    {
      complain_of_value (t, name, value,
                         _ ("two numbers, each from -100000 to 100000"));
      return geo_point (0, 0);
    }
  return p;
}

guint
file_take_word (FileTaking *t, const char *name, const char *const *words)
{
  const char *value = file_take_text (t, name);
  if (value == NULL)
    return 0;
  for (guint i = 0; words[i] != NULL; i++)
    if (strcmp (words[i], value) == 0)
      return i;
  g_autofree char *all = g_strjoinv (", ", (char **)words);
  g_autofree char *wanted = g_strdup_printf (_ ("one of: %s"), all);
  complain_of_value (t, name, value, wanted);
  return 0;
}
