/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip from the outside in: the names of both sides at the left and their
 * lengths at the right; between them two lines to one scale. Away from each line
 * its curvature stands as a filled profile, bulges full, hollows hatched; between
 * the lines lie the seam's intervals, each tinted towards the line that is long
 * and the one that is short, with threads from notch to notch. */
#include "drawing/strip.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drawing/strip-private.h"
#include "sewing/words.h"

/* Figures every strip of a width shares, for painting and for pointing alike. */
static void
lay_out (const SewingSeam *known, double width, double *x0, double *x1,
         double *scale)
{
  double left = CLAMP (width * 0.16, 84, 168);
  double right = CLAMP (width * 0.12, 74, 120);
  *x0 = left;
  *x1 = fmax (width - right, left + 1);
  double longest = fmax (known->lengths[0], known->lengths[1]);
  *scale = longest > 0 ? (*x1 - *x0) / longest : 1;
}

double
drawing_strip_x (const DrawingStrip *s, double length)
{
  return s->x0 + length * s->scale;
}

/* -1 above, towards which side A's profile stands; +1 below. */
double
drawing_strip_outward (int side)
{
  return side == 0 ? -1 : 1;
}

DrawingColour
drawing_with_alpha (DrawingColour colour, double a)
{
  colour.a = a;
  return colour;
}

double
drawing_strip_text_width (const DrawingStrip *s, const char *text,
                          double capital, DrawingTextFlags flags)
{
  DrawingTextLook look = { s->style.font, capital, 0, flags };
  double width;
  drawing_text_size (s->cr, text, &look, &width, NULL);
  return width;
}

void
drawing_strip_text (const DrawingStrip *s, const char *text, double x, double y,
                    double capital, double most, DrawingTextFlags flags,
                    DrawingColour colour)
{
  DrawingTextLook look = { s->style.font, capital, most, flags };
  drawing_set_colour (s->cr, colour);
  drawing_text_line (s->cr, text, geo_point (x, y), 0, &look);
}

/* --- the two sides ----------------------------------------------------------- */

/* What a run is called: its edge's name, else its piece's. */
static const char *
run_name (const DrawingStrip *s, const PatternRun *run, gboolean of_piece)
{
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (s->pattern, run->piece, run->edge, &piece);
  if (edge == NULL)
    return "";
  return of_piece || *edge->name == '\0' ? piece->name : edge->name;
}

static char *
side_name (const DrawingStrip *s, int side, gboolean of_pieces)
{
  GString *name = g_string_new (NULL);
  const PatternSide *runs = &s->seam->sides[side];
  const char *before = NULL;
  for (guint i = 0; i < runs->n_runs; i++)
    {
      const char *part = run_name (s, &runs->runs[i], of_pieces);
      if (*part == '\0' || g_strcmp0 (part, before) == 0)
        continue;
      g_string_append_printf (name, "%s%s", name->len ? " + " : "", part);
      before = part;
    }
  return g_string_free (name, FALSE);
}

/* "A" or "B", small, and beside it the names. */
static void
paint_names (const DrawingStrip *s, int side)
{
  g_autofree char *edges = side_name (s, side, FALSE);
  g_autofree char *pieces = side_name (s, side, TRUE);
  double x = 10 + s->name * 1.6, most = s->x0 - x - 12, y = s->y[side];
  drawing_strip_text (s, side == 0 ? _ ("A") : _ ("B"), 10, y - s->name * 0.95,
                      s->small, 0, DRAWING_TEXT_BOLD, s->style.stitch);
  /* One name for all runs is the side's; else the pieces tell more, since each run
   * bears its own name along the line. */
  gboolean several = strstr (edges, " + ") != NULL;
  drawing_strip_text (s, several ? pieces : edges, x, y - s->name * 0.95,
                      s->name, most, DRAWING_TEXT_BOLD, s->style.ink);
  if (g_strcmp0 (edges, pieces) != 0)
    drawing_strip_text (s, several ? edges : pieces, x, y + s->name * 0.95,
                        s->small, most, 0, s->style.faint);
}

/* Where several pieces make up a side, a gap in the line and each one's name
 * over its stretch. */
static void
paint_runs (const DrawingStrip *s, int side, GArray *taken)
{
  const PatternSide *runs = &s->seam->sides[side];
  if (runs->n_runs < 2)
    return;
  for (guint i = 0; i < runs->n_runs; i++)
    {
      double from = drawing_strip_x (s, s->known->joints[side][i]);
      double to = drawing_strip_x (s, s->known->joints[side][i + 1]);
      double y = s->y[side]
                 + drawing_strip_outward (side) * (s->profile + s->small * 0.6);
      const char *name = run_name (s, &runs->runs[i], FALSE);
      if (to - from > 24)
        drawing_strip_text (s, name, from + 4, y, s->small, to - from - 8, 0,
                            s->style.faint);
      double end = from + 4 + drawing_strip_text_width (s, name, s->small, 0);
      end = fmin (end, to) + 6;
      g_array_append_val (taken, from);
      g_array_append_val (taken, end);
      if (i > 0)
        {
          cairo_set_line_width (s->cr, 1);
          drawing_set_colour (s->cr, s->style.faint);
          cairo_move_to (s->cr, from, s->y[side]);
          cairo_line_to (s->cr, from, y + s->small / 2);
          cairo_stroke (s->cr);
        }
    }
}

static void
paint_line (const DrawingStrip *s, int side)
{
  const PatternSide *runs = &s->seam->sides[side];
  cairo_set_line_width (s->cr, 2);
  cairo_set_line_cap (s->cr, CAIRO_LINE_CAP_BUTT);
  drawing_set_colour (s->cr, s->style.ink);
  for (guint i = 0; i < runs->n_runs; i++)
    {
      double gap = i > 0 ? 1.5 : 0;
      double from = drawing_strip_x (s, s->known->joints[side][i]) + gap;
      double to = drawing_strip_x (s, s->known->joints[side][i + 1])
                  - (i + 1 < runs->n_runs ? 1.5 : 0);
      cairo_move_to (s->cr, from, s->y[side]);
      cairo_line_to (s->cr, fmax (to, from), s->y[side]);
    }
  cairo_stroke (s->cr);
  /* The ends, as a tape's. */
  for (int end = 0; end < 2; end++)
    {
      double x = drawing_strip_x (s, end ? s->known->lengths[side] : 0);
      cairo_move_to (s->cr, x, s->y[side] - 4);
      cairo_line_to (s->cr, x, s->y[side] + 4);
    }
  cairo_stroke (s->cr);
}

static void
paint_run_clips (const DrawingStrip *s, int side, guint i)
{
  const PatternRun *run = &s->seam->sides[side].runs[i];
  const GeoClipPlan *plan
      = sewing_facts_clips (s->facts, s->pattern, run->piece, run->edge);
  if (plan == NULL)
    return;
  double from = s->known->joints[side][i], to = s->known->joints[side][i + 1];
  double near = s->y[side] - drawing_strip_outward (side) * 3;
  double far = s->y[side] - drawing_strip_outward (side) * TICK;
  for (size_t c = 0; c < plan->count; c++)
    {
      const GeoCut *cut = &plan->cuts[c];
      double x
          = drawing_strip_x (s, run->reversed ? to - cut->at : from + cut->at);
      double half = fmax (cut->mouth * s->scale / 2, 1.8);
      if (cut->kind == GEO_CUT_SLIT)
        {
          cairo_move_to (s->cr, x, near);
          cairo_line_to (s->cr, x, far);
          cairo_stroke (s->cr);
          continue;
        }
      cairo_move_to (s->cr, x, near);
      cairo_line_to (s->cr, x - half, far);
      cairo_line_to (s->cr, x + half, far);
      cairo_close_path (s->cr);
      cairo_fill (s->cr);
    }
}

static void
paint_clips (const DrawingStrip *s, int side)
{
  cairo_save (s->cr);
  cairo_set_line_width (s->cr, 1.2);
  drawing_set_colour (s->cr, drawing_with_alpha (s->style.ink, 0.62));
  for (guint i = 0; i < s->seam->sides[side].n_runs; i++)
    paint_run_clips (s, side, i);
  cairo_restore (s->cr);
}

/* At the right: the side's length, and how much it is short. */
static void
paint_length (const DrawingStrip *s, int side)
{
  double out = s->known->out * (side == 0 ? 1 : -1);
  double most = s->width - s->x1 - 20, x = s->width - 10;
  g_autofree char *length = pattern_length_format (s->known->lengths[side],
                                                   s->pattern->unit, FALSE);
  gboolean apart = fabs (out) > s->pattern->tolerance;
  double y = s->y[side];
  drawing_strip_text (s, length, x, y, s->figure, most,
                      DRAWING_TEXT_RIGHT | DRAWING_TEXT_BOLD, s->style.ink);
  if (!apart || out > 0)
    return;
  g_autofree char *amount = sewing_words_amount (s->pattern, out);
  g_autofree char *words = g_strdup_printf (_ ("%s short"), amount);
  double size = s->small * 1.1;
  drawing_strip_text (
      s, words, x, y + drawing_strip_outward (side) * s->figure * 1.9, size,
      most, DRAWING_TEXT_RIGHT | DRAWING_TEXT_BOLD, s->style.shorter);
}

static void
paint_verdict (const DrawingStrip *s)
{
  double y = (s->y[0] + s->y[1]) / 2;
  if (fabs (s->known->out) > s->pattern->tolerance)
    return;
  gboolean even = TRUE;
  for (guint i = 0; i < s->known->n_intervals; i++)
    even &= fabs (drawing_strip_out (&s->known->intervals[i]))
            <= s->pattern->tolerance;
  g_autofree char *amount = sewing_words_amount (s->pattern, s->known->ease);
  g_autofree char *words
      = s->known->meant != 0 ? g_strdup_printf (_ ("%s eased"), amount)
                             : g_strdup (even ? _ ("true") : _ ("true in all"));
  drawing_strip_text (s, words, s->width - 10, y, s->figure,
                      s->width - s->x1 - 20, DRAWING_TEXT_RIGHT, s->style.even);
}

/* --- the rest -------------------------------------------------------------- */

/* A round length as a bar between the names, so that the scale is seen. */
static void
paint_scale_bar (const DrawingStrip *s)
{
  static const double round_mm[] = { 5, 10, 20, 50, 100, 200, 500, 1000 };
  static const double round_in[] = { 0.25, 0.5, 1, 2, 4, 8, 20, 40 };
  double length = 0, y = (s->y[0] + s->y[1]) / 2;
  for (guint i = 0; i < G_N_ELEMENTS (round_mm); i++)
    {
      double mm
          = s->pattern->unit == PATTERN_INCH ? 25.4 * round_in[i] : round_mm[i];
      if (mm * s->scale <= (s->x0 - 24) * 0.45)
        length = mm;
    }
  if (length == 0)
    return;
  double to = 12 + length * s->scale;
  cairo_set_line_width (s->cr, 1);
  cairo_set_line_cap (s->cr, CAIRO_LINE_CAP_BUTT);
  drawing_set_colour (s->cr, s->style.faint);
  cairo_move_to (s->cr, 12.5, y - 3);
  cairo_line_to (s->cr, 12.5, y + 3);
  cairo_move_to (s->cr, to, y - 3);
  cairo_line_to (s->cr, to, y + 3);
  cairo_move_to (s->cr, 12.5, y);
  cairo_line_to (s->cr, to, y);
  cairo_stroke (s->cr);
  g_autofree char *text
      = pattern_length_format (length, s->pattern->unit, FALSE);
  drawing_strip_text (s, text, to + 6, y, s->small, 0, 0, s->style.faint);
}

static void
paint_all (const DrawingStrip *s, double lit_at)
{
  for (guint i = 0; i < s->known->n_intervals; i++)
    drawing_strip_paint_tint (s, &s->known->intervals[i]);
  for (int side = 0; side < 2; side++)
    {
      g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (double));
      paint_runs (s, side, taken);
      drawing_strip_paint_profile (s, side, taken);
      paint_clips (s, side);
      paint_names (s, side);
      paint_length (s, side);
    }
  paint_verdict (s);
  paint_scale_bar (s);
  if (lit_at >= 0)
    drawing_strip_paint_lit (s, lit_at);
  paint_line (s, 0);
  paint_line (s, 1);
  drawing_strip_paint_threads (s);
  for (guint i = 0; i < s->known->n_intervals; i++)
    drawing_strip_paint_figure (s, &s->known->intervals[i]);
}

void
drawing_paint_strip (cairo_t *cr, SewingFacts *facts, const Pattern *pattern,
                     const PatternSeam *seam, double width_px, double height_px,
                     gboolean dark, double lit_at)
{
  g_return_if_fail (cr != NULL && facts != NULL && pattern != NULL
                    && seam != NULL);
  if (!(width_px > 0) || !(height_px > 0))
    return;
  DrawingStrip s
      = { .cr = cr, .facts = facts, .pattern = pattern, .seam = seam };
  s.style = drawing_style_table (1, dark);
  s.width = width_px;
  s.height = height_px;
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width_px, height_px);
  cairo_clip (cr);
  drawing_set_colour (cr, s.style.paper);
  cairo_paint (cr);
  s.name = s.figure = 8.2;
  s.small = 6.6;
  s.known = sewing_facts_seam (facts, pattern, seam);
  if (s.known == NULL || !(s.known->lengths[0] > 0)
      || !(s.known->lengths[1] > 0))
    drawing_strip_text (&s, _ ("One side of this seam has no edge yet."),
                        width_px / 2, height_px / 2, s.figure, width_px - 20,
                        DRAWING_TEXT_CENTRE, s.style.faint);
  else
    {
      lay_out (s.known, width_px, &s.x0, &s.x1, &s.scale);
      double outer = CLAMP (height_px * 0.31, 14, 90);
      s.y[0] = round (outer) + 0.5;
      s.y[1] = round (height_px - outer) - 0.5;
      s.profile = fmax (outer - s.small * 2.1, 4);
      paint_all (&s, lit_at);
    }
  cairo_restore (cr);
}

double
drawing_strip_at (SewingFacts *facts, const Pattern *pattern,
                  const PatternSeam *seam, double width_px, double x_px)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && seam != NULL, 0);
  const SewingSeam *known = sewing_facts_seam (facts, pattern, seam);
  if (known == NULL || !(width_px > 0))
    return 0;
  double x0, x1, scale;
  lay_out (known, width_px, &x0, &x1, &scale);
  return CLAMP ((x_px - x0) / scale, 0, known->lengths[0]);
}
