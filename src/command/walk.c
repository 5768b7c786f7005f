/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bodkin walk: one seam, stretch by stretch, and its picture. */
#include <cairo-svg.h>
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "command/command-private.h"
#include "command/walk-table.h"
#include "drawing/strip.h"
#include "file/safe-save.h"
#include "sewing/words.h"

#define PICTURE_WIDTH_PX 1200
#define PICTURE_HEIGHT_PX 260

/* --- which seam --------------------------------------------------------------- */

static char *
list_seams (const Pattern *pattern)
{
  GString *list = g_string_new (NULL);
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      const char *name = pattern->seams[i]->name;
      g_string_append_printf (list, "\n  %2u  %s", i + 1,
                              *name != '\0' ? name : _ ("(no name)"));
    }
  return g_string_free (list, FALSE);
}

/* Seams of exactly that name, or that begin so, capitals or not; the last one of them
 * in found. */
static guint
count_named (const Pattern *pattern, const char *word, gboolean whole,
             const PatternSeam **found)
{
  guint n = 0;
  g_autofree char *wanted = g_utf8_casefold (word, -1);
  for (guint i = 0; i < pattern->n_seams; i++)
    {
      g_autofree char *name = g_utf8_casefold (pattern->seams[i]->name, -1);
      if (whole ? !g_str_equal (name, wanted)
                : !g_str_has_prefix (name, wanted))
        continue;
      *found = pattern->seams[i];
      n++;
    }
  return n;
}

/* The number of its place in the list. */
static const PatternSeam *
find_numbered (const Pattern *pattern, const char *word)
{
  guint64 number;
  if (pattern->n_seams == 0
      || !g_ascii_string_to_unsigned (word, 10, 1, pattern->n_seams, &number,
                                      NULL))
    return NULL;
  return pattern->seams[number - 1];
}

static const PatternSeam *
find_seam (const Pattern *pattern, const char *word)
{
  const PatternSeam *seam = NULL;
  if (!g_utf8_validate (word, -1, NULL) || *word == '\0')
    return NULL;
  if (count_named (pattern, word, TRUE, &seam) == 1)
    return seam;
  seam = find_numbered (pattern, word);
  if (seam != NULL)
    return seam;
  return count_named (pattern, word, FALSE, &seam) == 1 ? seam : NULL;
}

static int
refuse_seam (const Pattern *pattern, const char *word)
{
  const PatternSeam *any;
  if (pattern->n_seams == 0)
    return command_fail ("%s", _ ("this pattern has no seams to walk"));
  g_autofree char *list = list_seams (pattern);
  g_autofree char *shown = g_utf8_make_valid (word, -1);
  gboolean several = *word != '\0' && g_utf8_validate (word, -1, NULL)
                     && count_named (pattern, word, FALSE, &any) > 1;
  return command_fail (several
                           ? _ ("“%s” could be more than one seam; say more of "
                                "its name, or its number:%s")
                           : _ ("there is no seam “%s”; these there are, each "
                                "with its number:%s"),
                       shown, list);
}

/* --- the picture ---------------------------------------------------------------- */

static cairo_status_t
append (void *data, const unsigned char *bytes, unsigned int n)
{
  g_byte_array_append (data, bytes, n);
  return CAIRO_STATUS_SUCCESS;
}

static void
paint (cairo_surface_t *surface, SewingFacts *facts, const Pattern *pattern,
       const PatternSeam *seam)
{
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, pattern);
  cairo_t *cr = cairo_create (surface);
  DrawingStripLook look = { .strain = strain };
  drawing_paint_strip (cr, facts, pattern, seam, PICTURE_WIDTH_PX,
                       PICTURE_HEIGHT_PX, &look);
  cairo_destroy (cr);
}

static int
save_picture (const char *path, SewingFacts *facts, const Pattern *pattern,
              const PatternSeam *seam)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface;
  gboolean svg = command_has_ending (path, ".svg");
  if (svg)
    surface = cairo_svg_surface_create_for_stream (
        append, bytes, PICTURE_WIDTH_PX, PICTURE_HEIGHT_PX);
  else
    {
      /* Twice as fine, so that it stays sharp in a document. */
      surface = cairo_image_surface_create (
          CAIRO_FORMAT_RGB24, 2 * PICTURE_WIDTH_PX, 2 * PICTURE_HEIGHT_PX);
      cairo_surface_set_device_scale (surface, 2, 2);
    }
  if (svg)
    cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PX);
  paint (surface, facts, pattern, seam);
  cairo_status_t status
      = svg ? CAIRO_STATUS_SUCCESS
            : cairo_surface_write_to_png_stream (surface, append, bytes);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    return command_fail (_ ("the picture could not be made: %s"),
                         cairo_status_to_string (status));
  g_autoptr (GError) error = NULL;
  if (!file_safe_save (path, (const char *)bytes->data, bytes->len, FALSE,
                       &error))
    return command_fail ("%s", error->message);
  return COMMAND_DONE;
}

/* --- the command ----------------------------------------------------------------- */

static int
walk (const char *path, const char *word, const char *picture, gboolean csv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) pattern = command_load (path, -1, &error);
  if (pattern == NULL)
    return command_fail ("%s", error->message);
  const PatternSeam *seam = find_seam (pattern, word);
  if (seam == NULL)
    return refuse_seam (pattern, word);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autofree char *text = command_walk_table (facts, pattern, seam, csv);
  if (text == NULL)
    return command_fail (_ ("one side of the seam “%s” has no edge yet, or one "
                            "without length"),
                         seam->name);
  int status = picture != NULL ? save_picture (picture, facts, pattern, seam)
                               : COMMAND_DONE;
  return status != COMMAND_DONE ? status : command_write (NULL, text);
}

int
command_walk (int argc, char **argv)
{
  g_autofree char *picture = NULL;
  gboolean csv = FALSE;
  const GOptionEntry entries[]
      = { { "output", 'o', 0, G_OPTION_ARG_FILENAME, &picture,
            N_ ("Write the seam unrolled, as a picture; its name ends in .svg "
                "or .png"),
            N_ ("PICTURE") },
          { "csv", 0, 0, G_OPTION_ARG_NONE, &csv,
            N_ ("The table for a spreadsheet, in millimetres and degrees"),
            NULL },
          { NULL } };
  int status;
  if (!command_options (
          "walk", _ ("FILE SEAM"),
          _ ("Walks a seam: one side along the other, from matched mark to "
             "matched mark. Gives\neach stretch on both sides, what they "
             "differ by, there and so far, the ease that\nis meant, and the "
             "shaping: the angle of the dart that would do the same. SEAM is\n"
             "its name, as much of it as tells it from the others, or its "
             "number in the pattern.\nFILE may be - for the standard input."),
          entries, &argc, &argv, &status))
    return status;
  if (argc != 3)
    return command_misused (
        "walk", "%s",
        argc < 2   ? _ ("which file, and which of its seams?")
        : argc < 3 ? _ ("which seam is to be walked?")
                   : _ ("one seam at a time can be walked; a name of several "
                        "words goes in quotes"));
  if (picture != NULL && !command_has_ending (picture, ".svg")
      && !command_has_ending (picture, ".png"))
    return command_misused (
        "walk",
        _ ("“%s” should end in .svg or .png, which says what to make "
           "of it"),
        picture);
  return walk (argv[1], argv[2], picture, csv);
}
