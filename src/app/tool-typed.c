/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/tool-typed.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_TYPED 24 /* characters; what is longer is no length */

gboolean
app_typed_is_open (const AppTyped *typed)
{
  return typed->length != NULL;
}

void
app_typed_close (AppTyped *typed)
{
  if (typed->length != NULL)
    {
      g_string_free (typed->length, TRUE);
      g_string_free (typed->angle, TRUE);
    }
  *typed = (AppTyped){ 0 };
}

static gboolean
begins_number (gunichar c)
{
  return g_unichar_isdigit (c) || g_unichar_type (c) == G_UNICODE_OTHER_NUMBER
         || c == '.' || c == ',';
}

static gboolean
fits_angle (gunichar c)
{
  return g_ascii_isdigit ((char)MIN (c, 127u)) || c == '.' || c == ','
         || c == '-' || c == '+' || c == 0xb0;
}

gboolean
app_typed_take (AppTyped *typed, gunichar c)
{
  if (!app_typed_is_open (typed))
    {
      if (!begins_number (c))
        return FALSE;
      typed->length = g_string_new (NULL);
      typed->angle = g_string_new (NULL);
    }
  if (c == 0 || !g_unichar_isprint (c))
    return FALSE;
  GString *text = typed->in_angle ? typed->angle : typed->length;
  if (g_utf8_strlen (text->str, -1) < MOST_TYPED
      && (!typed->in_angle || fits_angle (c)))
    g_string_append_unichar (text, c);
  return TRUE;
}

static void
take_back (AppTyped *typed)
{
  GString *text = typed->in_angle ? typed->angle : typed->length;
  const char *last = g_utf8_find_prev_char (text->str, text->str + text->len);
  if (last != NULL)
    g_string_truncate (text, (gsize)(last - text->str));
  else if (typed->in_angle)
    typed->in_angle = FALSE;
  if (typed->length->len == 0 && typed->angle->len == 0)
    app_typed_close (typed);
}

gboolean
app_typed_key (AppTyped *typed, AppKey key)
{
  if (!app_typed_is_open (typed))
    return FALSE;
  if (key == APP_KEY_TAB)
    typed->in_angle = !typed->in_angle;
  else if (key == APP_KEY_BACKSPACE)
    take_back (typed);
  else if (key == APP_KEY_ESCAPE)
    app_typed_close (typed);
  else if (key == APP_KEY_RIGHT)
    g_string_assign (typed->angle, "0");
  else if (key == APP_KEY_UP)
    g_string_assign (typed->angle, "90");
  else if (key == APP_KEY_LEFT)
    g_string_assign (typed->angle, "180");
  else if (key == APP_KEY_DOWN)
    g_string_assign (typed->angle, "270");
  else
    return FALSE;
  return TRUE;
}

/* Degrees, with either mark of decimals. */
static gboolean
read_degrees (const char *text, double *degrees)
{
  g_autofree char *plain = g_strdup (text);
  if (g_str_has_suffix (plain, "°"))
    plain[strlen (plain) - strlen ("°")] = '\0';
  g_strdelimit (plain, ",", '.');
  char *end;
  *degrees = g_ascii_strtod (plain, &end);
  return end != plain && *end == '\0' && isfinite (*degrees);
}

gboolean
app_typed_read (const AppTyped *typed, PatternUnit unit, double *length,
                double *angle, GError **error)
{
  double degrees;
  *angle = NAN;
  if (!app_typed_is_open (typed)
      || !pattern_length_parse (typed->length->str, unit, length, error))
    return FALSE;
  if (*length <= 0)
    {
      g_set_error (error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_RANGE,
                   _ ("A side needs a length of more than nothing."));
      return FALSE;
    }
  if (typed->angle->len == 0)
    return TRUE;
  if (!read_degrees (typed->angle->str, &degrees))
    {
      g_set_error (error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_UNREADABLE,
                   _ ("“%s” is no angle. Type degrees: 0 is to the right, 90 "
                      "up, 180 left, 270 down."),
                   typed->angle->str);
      return FALSE;
    }
  /* y runs down the table. */
  *angle = -degrees * G_PI / 180;
  return TRUE;
}

static gboolean
is_plain_number (const char *text)
{
  for (; *text != '\0'; text++)
    if (!g_ascii_isdigit (*text) && *text != '.' && *text != ',')
      return FALSE;
  return TRUE;
}

/* Between 0 and 360, to a tenth where that tells more. */
static char *
degrees_words (double angle)
{
  double degrees = round (fmod (360 - angle * 180 / G_PI, 360) * 10) / 10;
  if (degrees >= 360)
    degrees -= 360;
  return degrees == round (degrees) ? g_strdup_printf ("%.0f°", degrees)
                                    : g_strdup_printf ("%.1f°", degrees);
}

char *
app_typed_words (const AppTyped *typed, PatternUnit unit, double angle)
{
  if (!app_typed_is_open (typed))
    return NULL;
  double mm, ignored;
  const char *caret = "|";
  GString *text = g_string_new (NULL);
  /* Translators: what is typed follows after the two spaces */
  g_string_append_printf (text, _ ("length  %s"), typed->length->str);
  g_string_append (text, typed->in_angle ? "" : caret);
  g_string_append_c (text, '\n');
  g_autofree char *held = isnan (angle) ? g_strdup ("") : degrees_words (angle);
  gboolean own = typed->angle->len > 0 || typed->in_angle;
  /* Translators: what is typed follows after the two spaces */
  g_string_append_printf (text, _ ("angle  %s"),
                          own ? typed->angle->str : held);
  g_string_append (text, typed->in_angle ? caret : "");
  if (!app_typed_read (typed, unit, &mm, &ignored, NULL))
    return g_string_free (text, FALSE);
  /* What was typed may be a sum, or in another unit. */
  g_autofree char *whole = pattern_length_format (mm, unit, TRUE);
  if (!is_plain_number (typed->length->str)
      && strcmp (typed->length->str, whole) != 0)
    g_string_append_printf (text, "\n=  %s", whole);
  return g_string_free (text, FALSE);
}
