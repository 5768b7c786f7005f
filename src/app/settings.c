/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/settings.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <math.h>

static AppSettings settings;
static gboolean have_settings;
static char *written; /* content of the file as last read or written */

static char *
settings_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "bodkin", "settings.ini",
                           NULL);
}

static gboolean
get_boolean (GKeyFile *file, const char *group, const char *key,
             gboolean fallback)
{
  g_autoptr (GError) error = NULL;
  gboolean value = g_key_file_get_boolean (file, group, key, &error);
  return error != NULL ? fallback : value;
}

static double
get_double (GKeyFile *file, const char *group, const char *key, double lo,
            double hi, double fallback)
{
  g_autoptr (GError) error = NULL;
  double value = g_key_file_get_double (file, group, key, &error);
  if (error != NULL || !isfinite (value) || value < lo || value > hi)
    return fallback;
  return value;
}

/* The place of a word in a NULL-ended list. */
static int
get_word (GKeyFile *file, const char *group, const char *key,
          const char *const *words, int fallback)
{
  g_autofree char *value = g_key_file_get_string (file, group, key, NULL);
  for (int i = 0; value != NULL && words[i] != NULL; i++)
    if (g_str_equal (words[i], value))
      return i;
  return fallback;
}

static char *
get_string (GKeyFile *file, const char *group, const char *key,
            const char *fallback)
{
  char *value = g_key_file_get_string (file, group, key, NULL);
  return value != NULL ? value : g_strdup (fallback);
}

static const char *const look_words[] = { "auto", "light", "dark", NULL };
static const char *const unit_words[] = { "mm", "cm", "in", NULL };

static char *
to_text (const AppSettings *s)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_key_file_set_string (file, "look", "scheme", look_words[s->look]);
  g_key_file_set_string (file, "new", "unit", unit_words[s->unit]);
  g_key_file_set_double (file, "new", "tolerance", s->tolerance);
  g_key_file_set_double (file, "new", "allowance", s->allowance);
  g_key_file_set_boolean (file, "window", "pieces", s->pieces);
  g_key_file_set_boolean (file, "window", "pick", s->pick);
  g_key_file_set_boolean (file, "window", "strip", s->strip);
  g_key_file_set_boolean (file, "window", "clips", s->clips);
  g_key_file_set_boolean (file, "window", "combs", s->combs);
  g_key_file_set_integer (file, "window", "width", s->width_px);
  g_key_file_set_integer (file, "window", "height", s->height_px);
  g_key_file_set_boolean (file, "window", "maximized", s->maximized);
  g_key_file_set_integer (file, "window", "left-panel", s->left_px);
  g_key_file_set_integer (file, "window", "right-panel", s->pick_px);
  g_key_file_set_integer (file, "window", "strip-height", s->strip_px);
  g_key_file_set_string (file, "print", "paper", s->paper);
  g_key_file_set_boolean (file, "print", "landscape", s->landscape);
  g_key_file_set_boolean (file, "print", "clips", s->print_clips);
  g_key_file_set_double (file, "print", "overlap", s->overlap);
  return g_key_file_to_data (file, NULL, NULL);
}

static void
read_settings (AppSettings *s)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *path = settings_path ();
  g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, NULL);

  PatternUnit unit = pattern_unit_of_locale ();
  s->look = (AppLook)get_word (file, "look", "scheme", look_words, 0);
  s->unit = (PatternUnit)get_word (file, "new", "unit", unit_words, (int)unit);
  s->tolerance = get_double (file, "new", "tolerance", 0.0, 50.0, 0.5);
  s->allowance = get_double (file, "new", "allowance", 0.0, 200.0,
                             unit == PATTERN_INCH ? 15.875 : 10.0);
  s->pieces = get_boolean (file, "window", "pieces", TRUE);
  s->pick = get_boolean (file, "window", "pick", TRUE);
  s->strip = get_boolean (file, "window", "strip", TRUE);
  s->clips = get_boolean (file, "window", "clips", FALSE);
  s->combs = get_boolean (file, "window", "combs", FALSE);
  s->width_px
      = (int)get_double (file, "window", "width", 640.0, 16000.0, 1280.0);
  s->height_px
      = (int)get_double (file, "window", "height", 480.0, 16000.0, 800.0);
  s->maximized = get_boolean (file, "window", "maximized", FALSE);
  s->left_px = (int)get_double (file, "window", "left-panel", 0.0, 800.0, 0.0);
  s->pick_px = (int)get_double (file, "window", "right-panel", 0.0, 800.0, 0.0);
  s->strip_px
      = (int)get_double (file, "window", "strip-height", 0.0, 2000.0, 0.0);
  s->paper = get_string (file, "print", "paper",
                         unit == PATTERN_INCH ? "letter" : "A4");
  s->landscape = get_boolean (file, "print", "landscape", FALSE);
  s->print_clips = get_boolean (file, "print", "clips", TRUE);
  s->overlap = get_double (file, "print", "overlap", 0.0, 50.0, 10.0);
}

AppSettings *
app_settings_get (void)
{
  if (!have_settings)
    {
      read_settings (&settings);
      written = to_text (&settings);
      have_settings = TRUE;
    }
  return &settings;
}

void
app_settings_save (void)
{
  g_autofree char *text = to_text (app_settings_get ());
  if (g_str_equal (text, written))
    return;
  g_autofree char *path = settings_path ();
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GError) error = NULL;
  if (g_mkdir_with_parents (folder, 0700) != 0)
    g_message ("%s: %s", folder, g_strerror (errno));
  else if (!g_file_set_contents (path, text, -1, &error))
    g_message ("%s", error->message);
  g_free (written);
  written = g_steal_pointer (&text);
}
