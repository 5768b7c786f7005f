/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip from the outside in: the names of both sides at the left and their
 * lengths at the right; between them two lines to one scale. Away from each line
 * its curvature stands as a filled profile; between the lines lie the seam's
 * intervals, each tinted towards the line that is long and the one that is short,
 * with threads from notch to notch; under it all what the seam does to the cloth, and
 * a tape. */
#include "drawing/strip.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drawing/strip-private.h"
#include "sewing/walk.h"
#include "sewing/words.h"

#define TAPE_PX 17.0

/* Figures every strip of a width shares, for painting and for pointing alike. */
static void
lay_out (const SewingSeam *known, double width, double *x0, double *x1,
         double *scale)
{
  double left = CLAMP (width * 0.16, 84, 184);
  double right = CLAMP (width * 0.12, 74, 132);
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

double
drawing_strip_outward (int side)
{
  return side == 0 ? -1 : 1;
}

double
drawing_strip_words_y (const DrawingStrip *s, int side)
{
  return s->y[side]
         + drawing_strip_outward (side) * (s->profile + s->small * 0.9);
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

gboolean
drawing_strip_is_open (const GArray *taken, double from, double to)
{
  for (guint i = 0; i + 1 < taken->len; i += 2)
    if (from < g_array_index (taken, double, i + 1)
        && to > g_array_index (taken, double, i))
      return FALSE;
  return TRUE;
}

gboolean
drawing_strip_take (GArray *taken, double from, double to)
{
  if (!drawing_strip_is_open (taken, from, to))
    return FALSE;
  double ends[2] = { from - 6, to + 6 };
  g_array_append_vals (taken, ends, 2);
  return TRUE;
}

/* --- names and figures at the sides ------------------------------------------ */

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

/* "A" or "B" in a seal on the line, and beside it the names. */
static void
paint_names (const DrawingStrip *s, int side)
{
  g_autofree char *edges = side_name (s, side, FALSE);
  g_autofree char *pieces = side_name (s, side, TRUE);
  double x = 30, most = s->x0 - x - 14, y = s->y[side];
  const char *seal = side == 0 ? _ ("A") : _ ("B");
  cairo_new_sub_path (s->cr);
  cairo_arc (s->cr, 15, y, 8.5, 0, 2 * G_PI);
  cairo_set_line_width (s->cr, 1.2);
  drawing_set_colour (s->cr, s->style.stitch);
  cairo_stroke (s->cr);
  drawing_strip_text (s, seal, 15, y, s->small, 0,
                      DRAWING_TEXT_BOLD | DRAWING_TEXT_CENTRE, s->style.stitch);
  /* The pieces are what she holds in her hands; their edges stand below. */
  gboolean same = g_strcmp0 (edges, pieces) == 0;
  double apart = same ? 0 : s->name * 0.95;
  drawing_strip_text (s, pieces, x, y - apart, s->name, most, DRAWING_TEXT_BOLD,
                      s->style.ink);
  if (!same)
    drawing_strip_text (s, edges, x, y + s->name * 0.95, s->small, most, 0,
                        s->style.faint);
}

/* Where several pieces make up a side, a gap in the line and each one's name
 * over its stretch. */
static void
paint_runs (const DrawingStrip *s, int side, GArray *taken)
{
  const PatternSide *runs = &s->seam->sides[side];
  if (runs->n_runs < 2)
    return;
  double y = drawing_strip_words_y (s, side);
  for (guint i = 0; i < runs->n_runs; i++)
    {
      double from = drawing_strip_x (s, s->known->joints[side][i]);
      double to = drawing_strip_x (s, s->known->joints[side][i + 1]);
      const char *edge = run_name (s, &runs->runs[i], FALSE);
      const char *piece = run_name (s, &runs->runs[i], TRUE);
      g_autofree char *both = g_str_equal (edge, piece)
                                  ? g_strdup (piece)
                                  : g_strdup_printf ("%s · %s", piece, edge);
      gboolean fits
          = drawing_strip_text_width (s, both, s->small, 0) <= to - from - 12;
      const char *name = fits ? both : piece;
      if (to - from > 24)
        drawing_strip_text (s, name, from + 5, y, s->small, to - from - 10, 0,
                            s->style.faint);
      double end = from + 5 + drawing_strip_text_width (s, name, s->small, 0);
      drawing_strip_take (taken, from, fmin (end, to));
      if (i == 0)
        continue;
      cairo_set_line_width (s->cr, 1);
      drawing_set_colour (s->cr, drawing_with_alpha (s->style.faint, 0.7));
      cairo_move_to (s->cr, from, s->y[side]);
      cairo_line_to (s->cr, from,
                     y + drawing_strip_outward (side) * s->small / 2);
      cairo_stroke (s->cr);
    }
}

/* At the right: the side's length, how much it is short, and its share on the bias. */
static void
paint_length (const DrawingStrip *s, int side)
{
  double out = s->known->out * (side == 0 ? 1 : -1);
  double most = s->width - s->x1 - 24, x = s->width - 12, y = s->y[side];
  double line = s->small * 2.1, outward = drawing_strip_outward (side);
  g_autofree char *length = pattern_length_format (s->known->lengths[side],
                                                   s->pattern->unit, FALSE);
  drawing_strip_text (s, length, x, y, s->figure, most,
                      DRAWING_TEXT_RIGHT | DRAWING_TEXT_BOLD, s->style.ink);
  double bias = drawing_strip_bias (s, side);
  double at = y + outward * (s->figure / 2 + line * 0.8);
  if (fabs (out) > s->pattern->tolerance && out < 0)
    {
      g_autofree char *amount = sewing_words_amount (s->pattern, out);
      g_autofree char *words = g_strdup_printf (_ ("%s short"), amount);
      drawing_strip_text (s, words, x, at, s->small * 1.1, most,
                          DRAWING_TEXT_RIGHT | DRAWING_TEXT_BOLD,
                          s->style.shorter);
      at += outward * line;
    }
  if (bias < 0.005
      || (side == 0 ? at < s->small : at > s->y[1] + s->profile + line))
    return;
  g_autofree char *words = g_strdup_printf (_ ("%.0f %% bias"), 100 * bias);
  drawing_strip_text (s, words, x, at, s->small, most, DRAWING_TEXT_RIGHT,
                      s->style.faint);
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
  double most = s->width - s->x1 - 24;
  gboolean fits = s->known->meant == 0
                  || drawing_strip_text_width (s, words, s->figure, 0) <= most;
  drawing_strip_text (s, fits ? words : amount, s->width - 12, y, s->figure,
                      most, DRAWING_TEXT_RIGHT, s->style.even);
}

/* --- all of it ---------------------------------------------------------------- */

static void
paint_all (DrawingStrip *s)
{
  s->fills = drawing_strip_tightest (s);
  for (guint i = 0; i < s->known->n_intervals; i++)
    drawing_strip_paint_tint (s, &s->known->intervals[i]);
  if (s->shaping != NULL)
    drawing_strip_paint_shaping (s);
  drawing_strip_paint_tape (s);
  for (int side = 0; side < 2; side++)
    {
      g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (double));
      paint_runs (s, side, taken);
      drawing_strip_paint_profile (s, side, taken);
      drawing_strip_paint_advice (s, side, taken);
      drawing_strip_paint_cuts (s, side);
      paint_names (s, side);
      paint_length (s, side);
      drawing_strip_paint_line (s, side);
    }
  paint_verdict (s);
  drawing_strip_paint_threads (s);
  for (guint i = 0; i < s->known->n_intervals; i++)
    drawing_strip_paint_figure (s, &s->known->intervals[i]);
}

static double
tape_height (double height)
{
  return height >= 120 ? TAPE_PX : 0;
}

static double
foot_height (double height)
{
  return height >= 130 ? CLAMP (height * 0.22, 27, 64) : 0;
}

gboolean
drawing_strip_is_shaping (double height_px, double y_px)
{
  double foot = foot_height (height_px);
  double end = height_px - tape_height (height_px);
  return foot > 0 && y_px >= end - foot && y_px < end;
}

/* Which of the heights goes to what. Where there is little, shaping gives way first, then
 * the tape, then the profiles. */
static void
share_height (DrawingStrip *s)
{
  double h = s->height;
  double tape = tape_height (h);
  double foot = s->shaping != NULL ? foot_height (h) : 0;
  double rest = h - tape - foot;
  double outer = CLAMP (rest * 0.285, 14, 90);
  if (foot <= 0)
    s->shaping = NULL;
  s->y[0] = round (outer) + 0.5;
  s->y[1] = round (rest - outer) - 0.5;
  s->profile = fmax (outer - s->small * 2.1, 4);
  s->tape = tape > 0 ? round (h - tape) : h;
  if (s->shaping == NULL)
    return;
  /* By how much of either there is. */
  double room = foot - s->small * 2.2, up = 0, down = 0;
  for (double at = 0; at <= s->known->lengths[0]; at += 3)
    {
      double rate = sewing_shaping_rate (s->shaping, at);
      up = fmax (up, rate);
      down = fmin (down, rate);
    }
  double whole = fmax (up - down, 1e-9);
  double share = up - down < 0.05 ? 1 : CLAMP (up / whole, 0.2, 1);
  if (up < 0.05)
    share = 0.15;
  else if (down > -0.05)
    share = 1;
  s->dome = room * share;
  s->saddle = room - s->dome;
  s->flat = round (s->tape - 3 - s->saddle) - 0.5;
}

static gboolean
strip_begin (DrawingStrip *s, cairo_t *cr, SewingFacts *facts,
             const Pattern *pattern, const PatternSeam *seam, double width,
             double height, gboolean dark)
{
  *s = (DrawingStrip){ .cr = cr,
                       .facts = facts,
                       .pattern = pattern,
                       .seam = seam,
                       .width = width,
                       .height = height };
  /* Where there is room, words are a size larger. */
  double size = height >= 230 && width >= 1000 ? 1.12 : 1;
  s->name = s->figure = 8.2 * size;
  s->small = 6.6 * size;
  s->style = drawing_style_table (1, dark);
  s->known = sewing_facts_seam (facts, pattern, seam);
  if (s->known == NULL || !(s->known->lengths[0] > 0)
      || !(s->known->lengths[1] > 0))
    return FALSE;
  /* Of something that lies double there is no dome to tell. */
  if (seam->press != PATTERN_PRESS_TURNED || seam->join == PATTERN_JOIN_DART)
    s->shaping = sewing_facts_shaping (facts, pattern, seam);
  lay_out (s->known, width, &s->x0, &s->x1, &s->scale);
  share_height (s);
  return TRUE;
}

void
drawing_paint_strip (cairo_t *cr, SewingFacts *facts, const Pattern *pattern,
                     const PatternSeam *seam, double width_px, double height_px,
                     const DrawingStripLook *look)
{
  g_return_if_fail (cr != NULL && facts != NULL && pattern != NULL
                    && seam != NULL && look != NULL);
  if (!(width_px > 0) || !(height_px > 0))
    return;
  DrawingStrip s;
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width_px, height_px);
  cairo_clip (cr);
  gboolean some = strip_begin (&s, cr, facts, pattern, seam, width_px,
                               height_px, look->dark);
  s.strain = look->strain;
  drawing_set_colour (cr, s.style.paper);
  cairo_paint (cr);
  if (some)
    paint_all (&s);
  else
    drawing_strip_text (&s, _ ("One side of this seam has no edge yet."),
                        width_px / 2, height_px / 2, s.figure, width_px - 20,
                        DRAWING_TEXT_CENTRE, s.style.faint);
  cairo_restore (cr);
}

void
drawing_paint_strip_lit (cairo_t *cr, SewingFacts *facts,
                         const Pattern *pattern, const PatternSeam *seam,
                         double width_px, double height_px, gboolean dark,
                         const double at[2])
{
  g_return_if_fail (cr != NULL && facts != NULL && pattern != NULL
                    && seam != NULL && at != NULL);
  DrawingStrip s;
  if (!(width_px > 0) || !(height_px > 0)
      || !strip_begin (&s, cr, facts, pattern, seam, width_px, height_px, dark))
    return;
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width_px, height_px);
  cairo_clip (cr);
  drawing_strip_paint_lit (&s, at);
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
