/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bodkin trace: outlines in a photo or scan, as pieces of their true size. */
#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "command/command-private.h"
#include "command/trace-scale.h"
#include "file/document.h"
#include "file/picture.h"
#include "file/svg-out.h"
#include "file/traced.h"
#include "pattern/length-text.h"
#include "tracing/stroke.h"

#define MOST_OFF 2.0 /* mm that marks of two pictures may be off */

typedef struct
{
  char *scale, *output, *card, *level, *tolerance, *at, *second, *second_scale,
      *marks;
  char **names;
  gboolean lines, holes, largest, no_darts, as_given;
} Options;

static void
options_clear (Options *o)
{
  g_free (o->scale);
  g_free (o->output);
  g_free (o->card);
  g_free (o->level);
  g_free (o->tolerance);
  g_free (o->at);
  g_free (o->second);
  g_free (o->second_scale);
  g_free (o->marks);
  g_strfreev (o->names);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

typedef struct
{
  TracingPicture *picture;
  CommandTraceScale scale;
  GArray *lines; /* TracingLine */
} Traced;

static void
traced_clear (Traced *t)
{
  g_clear_pointer (&t->picture, tracing_picture_unref);
  g_clear_pointer (&t->lines, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Traced, traced_clear)

/* On a terminal, the same line over and over; NULL data leaves it empty again. */
static gboolean
show_progress (double share, gpointer what)
{
  static int told = -1;
  int percent = (int)(100 * share);
  if (!isatty (STDERR_FILENO) || percent == told)
    return TRUE;
  told = percent;
  if (what != NULL)
    g_printerr ("\r%s %3d %%", (const char *)what, percent);
  else
    g_printerr ("\r\033[K");
  return TRUE;
}

static gboolean refuse (GError **error, const char *format, ...)
    G_GNUC_PRINTF (2, 3);

static gboolean
refuse (GError **error, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *message = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                       message);
  return FALSE;
}

/* --- what is wished ------------------------------------------------------------------ */
static gboolean
read_wish (const Options *o, TracingShapeWish *wish, TracingCard *card,
           GError **error)
{
  *wish = TRACING_SHAPE_WISH;
  *card = TRACING_CARD_ANY;
  wish->holes = o->holes;
  wish->largest = o->largest;
  if (g_strcmp0 (o->card, "light") == 0)
    *card = TRACING_CARD_LIGHT;
  else if (g_strcmp0 (o->card, "dark") == 0)
    *card = TRACING_CARD_DARK;
  else if (o->card != NULL && !g_str_equal (o->card, "any"))
    return refuse (error, _ ("--card is light, dark or any, not “%s”"),
                   o->card);
  if (o->level != NULL)
    {
      char *end;
      wish->level = g_ascii_strtod (o->level, &end);
      if (*end != '\0' || end == o->level || !(wish->level > 0)
          || wish->level >= 1)
        return refuse (error, _ ("--level lies between 0 and 1, not “%s”"),
                       o->level);
    }
  if (o->tolerance != NULL
      && (!pattern_length_parse (o->tolerance, PATTERN_MM, &wish->tolerance,
                                 error)
          || wish->tolerance < 0.01 || wish->tolerance > 10))
    return error != NULL && *error != NULL
               ? FALSE
               : refuse (error, _ ("--tolerance is 0.01 to 10 mm, not “%s”"),
                         o->tolerance);
  wish->clicked = o->at != NULL;
  if (o->at != NULL && !command_trace_read_place (o->at, &wish->at))
    return refuse (error, _ ("--at is a place of the picture, X,Y in pixels"));
  return TRUE;
}

/* --- one picture --------------------------------------------------------------------- */
static void
tell_scale (const char *path, const Traced *t)
{
  guint w = tracing_picture_get_width (t->picture);
  guint h = tracing_picture_get_height (t->picture);
  double dots
      = tracing_plane_dots (&t->scale.plane, geo_point (w / 2.0, h / 2.0));
  if (isnan (t->scale.residual))
    g_print (_ ("%s: %.3g pixels a mm in its middle; nothing in it to tell how "
                "true that is\n"),
             path, dots);
  else
    g_print (_ ("%s: %.3g pixels a mm in its middle; true to %.2f mm by what "
                "was seen of the sheet's sides\n"),
             path, dots, t->scale.residual);
  if (dots < 3)
    g_print (_ ("  under 3 pixels a mm: not fine enough for half a "
                "millimetre; come nearer with the camera\n"));
}

/* The sheet that told the size is no piece, nor is what lies about it the sheet's hole. */
static void
drop_sheet (Traced *t)
{
  for (guint i = 0; i < t->lines->len; i++)
    {
      if (!tracing_line_is_sheet (&g_array_index (t->lines, TracingLine, i),
                                  &t->scale.plane, t->scale.corners))
        continue;
      for (guint k = 0; k < t->lines->len; k++)
        {
          TracingLine *line = &g_array_index (t->lines, TracingLine, k);
          if (line->hole_of == (gssize)i)
            line->hole_of = -1;
          line->hole_of -= line->hole_of > (gssize)i;
        }
      g_array_remove_index (t->lines, i);
      return;
    }
}

static GArray *
follow_pieces (const Traced *t, const TracingShapeWish *wish, TracingCard card,
               GError **error)
{
  g_autoptr (TracingParts) parts = tracing_parts_new (
      t->picture, &t->scale.plane, card, show_progress, _ ("Following"), error);
  return parts != NULL
             ? tracing_find_shapes (parts, &t->scale.plane, wish, show_progress,
                                    _ ("Following"), error)
             : NULL;
}

static GArray *
follow_lines (const Traced *t, const TracingShapeWish *shape, GError **error)
{
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  wish.level = shape->level;
  wish.tolerance = shape->tolerance;
  wish.clicked = shape->clicked;
  wish.at = shape->at;
  return tracing_find_strokes (t->picture, &t->scale.plane, &wish,
                               show_progress, _ ("Following"), error);
}

static gboolean
trace (const char *path, const char *scale, const Options *o, Traced *t,
       GError **error)
{
  TracingShapeWish wish;
  TracingCard card;
  if (!read_wish (o, &wish, &card, error))
    return FALSE;
  g_autoptr (GBytes) bytes = file_picture_load (path, error);
  if (bytes == NULL)
    return FALSE;
  t->picture = file_picture_decode (bytes, 1, NULL, show_progress,
                                    _ ("Reading"), error);
  show_progress (0, NULL);
  if (t->picture == NULL
      || !command_trace_scale (t->picture, scale, o->as_given, &t->scale,
                               error))
    return FALSE;
  tell_scale (path, t);
  t->lines = o->lines ? follow_lines (t, &wish, error)
                      : follow_pieces (t, &wish, card, error);
  show_progress (0, NULL);
  if (t->lines != NULL && t->scale.by_sheet)
    drop_sheet (t);
  return t->lines != NULL;
}

/* --- what came of it ------------------------------------------------------------------ */
static void
tell_lines (const GArray *lines)
{
  for (guint i = 0; i < lines->len; i++)
    {
      const TracingLine *line = &g_array_index (lines, TracingLine, i);
      GeoBox box = geo_chain_bounds (&line->chain);
      g_print (_ ("  %u: %.1f × %.1f cm, %zu nodes, points within %.2f mm"),
               i + 1, (box.x1 - box.x0) / 10, (box.y1 - box.y0) / 10,
               line->chain.count, line->off);
      if (line->hole_of >= 0)
        g_print (_ (", a hole in %zd"), line->hole_of + 1);
      if (line->n_darts > 0)
        g_print (ngettext (", %zu dart", ", %zu darts", line->n_darts),
                 line->n_darts);
      if (line->cut_off)
        g_print (_ (", cut off by the picture's border"));
      g_print ("\n");
    }
}

static Pattern *
add (const Pattern *p, const Traced *t, const Options *o, GeoMotion place,
     char **names, GError **error)
{
  FileTracedWish wish = FILE_TRACED_WISH;
  wish.place = place;
  wish.darts = !o->no_darts;
  wish.names = (const char *const *)names;
  return file_traced_add (p, (const TracingLine *)t->lines->data, t->lines->len,
                          &wish, NULL, error);
}

/* The second picture's sheet laid on the first's, by marks in both. */
static gboolean
lay_second (const Options *o, const Traced *a, const Traced *b,
            GeoMotion *place, GError **error)
{
  g_autoptr (GArray) here = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_autoptr (GArray) there = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_auto (GStrv) pairs = g_strsplit_set (o->marks, " ", -1);
  for (guint i = 0; pairs[i] != NULL; i++)
    {
      if (*pairs[i] == '\0')
        continue;
      g_auto (GStrv) sides = g_strsplit (pairs[i], "=", 3);
      GeoPoint p, q;
      if (g_strv_length (sides) != 2 || !command_trace_read_place (sides[0], &p)
          || !command_trace_read_place (sides[1], &q))
        return refuse (error,
                       _ ("--marks are places of both pictures, such as "
                          "“120,80=30,75 900,82=812,70”, not “%s”"),
                       pairs[i]);
      p = tracing_plane_to_mm (&a->scale.plane, p);
      q = tracing_plane_to_mm (&b->scale.plane, q);
      g_array_append_val (here, p);
      g_array_append_val (there, q);
    }
  g_autofree double *off = g_new0 (double, here->len + 1);
  if (here->len < 2
      || !tracing_lay_marks ((const GeoPoint *)here->data,
                             (const GeoPoint *)there->data, here->len, place,
                             off))
    return refuse (error, _ ("--marks wants two marks or more, apart from each "
                             "other, each seen in both pictures"));
  double worst = 0;
  for (guint i = 0; i < here->len; i++)
    worst = fmax (worst, off[i]);
  if (worst > MOST_OFF)
    return refuse (error,
                   _ ("laid as well as can be, a mark is still %.1f mm off, "
                      "and %.0f mm is the most allowed: look at --marks, and "
                      "at the scale of both pictures"),
                   worst, MOST_OFF);
  g_print (_ ("laid together by %u marks, the worst %.2f mm off\n"), here->len,
           worst);
  return TRUE;
}

static gboolean
is_any (const Traced *t, const char *path, GError **error)
{
  if (t->lines->len > 0)
    return TRUE;
  g_set_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING,
               _ ("there is no piece in “%s” but the sheet that told its size"),
               path);
  return FALSE;
}

static Pattern *
trace_all (const char *path, const Options *o, GError **error)
{
  g_auto (Traced) first = { 0 }, second = { 0 };
  GeoMotion place = geo_motion_none ();
  if (!trace (path, o->scale, o, &first, error)
      || !is_any (&first, path, error))
    return NULL;
  tell_lines (first.lines);
  g_autofree char *base = g_path_get_basename (path);
  char *dot = strrchr (base, '.');
  if (dot != NULL && dot != base)
    *dot = '\0';
  g_autoptr (Pattern) empty = pattern_new (base);
  Pattern *p = add (empty, &first, o, place, o->names, error);
  if (p == NULL || o->second == NULL)
    return p;
  g_autoptr (Pattern) one = p;
  if (!trace (o->second, o->second_scale != NULL ? o->second_scale : o->scale,
              o, &second, error))
    return NULL;
  tell_lines (second.lines);
  if (!lay_second (o, &first, &second, &place, error))
    return NULL;
  guint n = o->names != NULL ? g_strv_length (o->names) : 0;
  return add (one, &second, o, place,
              n > first.lines->len ? o->names + first.lines->len : NULL, error);
}

static int
run (const Options *o, const char *path)
{
  gboolean svg = command_has_ending (o->output, ".svg");
  if (!svg && !command_has_ending (o->output, FILE_DOCUMENT_SUFFIX))
    return command_misused ("trace", _ ("“%s” should end in .bodkin or .svg"),
                            o->output);
  if (o->second != NULL && o->at != NULL)
    return command_misused ("trace", "%s",
                            _ ("--at is a place of one picture; leave it out "
                               "where there are two"));
  if ((o->second != NULL) != (o->marks != NULL))
    return command_misused ("trace", "%s",
                            _ ("--second and --marks go together: the other "
                               "picture, and what is seen in both"));
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) pattern = trace_all (path, o, &error);
  if (pattern == NULL
      && g_error_matches (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE))
    return command_misused ("trace", "%s", error->message);
  if (pattern == NULL)
    return command_fail ("%s", error->message);
  gboolean saved = svg ? file_svg_save (pattern, o->output, &error)
                       : file_document_save (pattern, o->output, &error);
  return saved ? COMMAND_DONE : command_fail ("%s", error->message);
}

int
command_trace (int argc, char **argv)
{
  g_auto (Options) o = { 0 };
  const GOptionEntry entries[] = {
    { "scale", 's', 0, G_OPTION_ARG_STRING, &o.scale,
      N_ ("How true size is known (see above)"), N_ ("SCALE") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o.output,
      N_ ("Where to: .bodkin or .svg"), N_ ("FILE") },
    { "tolerance", 't', 0, G_OPTION_ARG_STRING, &o.tolerance,
      N_ ("How near curves keep to what is seen (0.3 mm)"), N_ ("LENGTH") },
    { "card", 0, 0, G_OPTION_ARG_STRING, &o.card,
      N_ ("Pieces are light or dark; any: found out"), N_ ("light|dark|any") },
    { "lines", 'l', 0, G_OPTION_ARG_NONE, &o.lines,
      N_ ("Follow lines drawn on paper, and not pieces of card"), NULL },
    { "level", 0, 0, G_OPTION_ARG_STRING, &o.level,
      N_ ("What counts as piece, 0 to 1; found from the picture without"),
      N_ ("NUMBER") },
    { "at", 0, 0, G_OPTION_ARG_STRING, &o.at,
      N_ ("Only the piece there, in pixels"), N_ ("X,Y") },
    { "largest", 0, 0, G_OPTION_ARG_NONE, &o.largest,
      N_ ("Only the largest piece"), NULL },
    { "holes", 0, 0, G_OPTION_ARG_NONE, &o.holes,
      N_ ("Keep holes, as lines of their piece"), NULL },
    { "no-darts", 0, 0, G_OPTION_ARG_NONE, &o.no_darts,
      N_ ("Leave notches that look like darts as they are"), NULL },
    { "as-given", 0, 0, G_OPTION_ARG_NONE, &o.as_given,
      N_ ("Take the corners exactly as they are given"), NULL },
    { "name", 'n', 0, G_OPTION_ARG_STRING_ARRAY, &o.names,
      N_ ("Names of the pieces, the largest first; once for each"),
      N_ ("NAME") },
    { "second", 0, 0, G_OPTION_ARG_FILENAME, &o.second,
      N_ ("A second picture, laid on the first by marks"), N_ ("IMAGE") },
    { "second-scale", 0, 0, G_OPTION_ARG_STRING, &o.second_scale,
      N_ ("Its scale, where it is another"), N_ ("SCALE") },
    { "marks", 0, 0, G_OPTION_ARG_STRING, &o.marks,
      N_ ("Marks seen in both, in pixels of each"), N_ ("“X,Y=X,Y X,Y=X,Y”") },
    { NULL }
  };
  int status;
  if (!command_options (
          "trace", _ ("IMAGE --scale SCALE -o FILE"),
          _ ("Follows pieces of card or paper in a photo or scan (PNG, JPEG, "
             "TIFF) and makes\npieces of their true size. SCALE is one of:\n"
             "  sheet=A4, sheet=letter, sheet=60x45cm\n"
             "                      a sheet or mat of that size, found in the "
             "picture\n"
             "  corners=X,Y/X,Y/X,Y/X,Y@60x45cm\n"
             "                      its corners in pixels, in order round\n"
             "  length=X,Y/X,Y@15cm two places and how far they are apart; "
             "takes no slant out\n"
             "  file                the scanner's resolution, as the file "
             "says it"),
          entries, &argc, &argv, &status))
    return status;
  if (argc != 2)
    return command_misused ("trace", "%s",
                            argc < 2 ? _ ("which picture?")
                                     : _ ("one picture at a time, no more"));
  if (o.scale == NULL)
    return command_misused ("trace", "%s",
                            _ ("what is its true size? --scale sheet=A4, for "
                               "a sheet that lies in the picture"));
  if (o.output == NULL)
    return command_misused ("trace", "%s",
                            _ ("where should it be written? -o FILE.bodkin"));
  return run (&o, argv[1]);
}
