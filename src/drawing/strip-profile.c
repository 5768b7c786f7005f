/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "drawing/strip-private.h"
#include "sewing/words.h"

#define WINDOW 3.0 /* mm to either side that a curvature is taken over */

static guint
run_at (const DrawingStrip *s, int side, double at)
{
  guint i = 0;
  while (i + 1 < s->seam->sides[side].n_runs
         && at >= s->known->joints[side][i + 1])
    i++;
  return i;
}

/* Curvature, positive where the side's own piece bulges: the turn of the line over a
 * short stretch by its length, so that an end without a handle, where the curvature
 * itself has no bound, is shown for what it does. */
static double
bulge_at (const DrawingStrip *s, int side, double at)
{
  guint run = run_at (s, side, at);
  double from = fmax (at - WINDOW, s->known->joints[side][run] + 1e-6);
  double to = fmin (at + WINDOW, s->known->joints[side][run + 1] - 1e-6);
  if (!(to > from))
    return 0;
  const GeoChain *chain = &s->known->chains[side];
  const GeoRuler *ruler = &s->known->rulers[side];
  double turn = geo_angle_between (
      geo_chain_tangent (chain, geo_ruler_place (ruler, from)),
      geo_chain_tangent (chain, geo_ruler_place (ruler, to)));
  /* Outlines bulge where they turn left when they are walked forwards. */
  gboolean back = s->seam->sides[side].runs[run].reversed;
  return (back ? -turn : turn) / (to - from);
}

/* Height of a profile: the root makes gentle curves visible beside tight ones. The
 * seam's tightest radius fills it, but none below 20 mm, nor above 150 mm, so
 * that a gentle seam looks gentle. */
static double
profile_height (const DrawingStrip *s, double k)
{
  return s->profile * sqrt (fmin (1, fabs (k) * s->fills));
}

double
drawing_strip_tightest (const DrawingStrip *s)
{
  double most = 1 / 150.0;
  for (int side = 0; side < 2; side++)
    for (double at = 0; at <= s->known->lengths[side]; at += WINDOW)
      most = fmax (most, fabs (bulge_at (s, side, at)));
  return fmax (1 / most, 20);
}

static void
profile_path (const DrawingStrip *s, int side, int sign, const double *k, int n)
{
  cairo_t *cr = s->cr;
  double step = s->known->lengths[side] / (n - 1);
  cairo_move_to (cr, drawing_strip_x (s, 0), s->y[side]);
  for (int i = 0; i < n; i++)
    {
      double h = k[i] * sign > 0 ? profile_height (s, k[i]) : 0;
      double y = s->y[side] + drawing_strip_outward (side) * h;
      cairo_line_to (cr, drawing_strip_x (s, i * step), y);
    }
  cairo_line_to (cr, drawing_strip_x (s, s->known->lengths[side]), s->y[side]);
  cairo_close_path (cr);
}

static void
paint_profile_sign (const DrawingStrip *s, int side, int sign, const double *k,
                    int n)
{
  cairo_t *cr = s->cr;
  DrawingColour c = s->style.stitch;
  cairo_save (cr);
  profile_path (s, side, sign, k, n);
  cairo_pattern_t *fade = cairo_pattern_create_linear (
      0, s->y[side], 0, s->y[side] + drawing_strip_outward (side) * s->profile);
  cairo_pattern_add_color_stop_rgba (fade, 0, c.r, c.g, c.b,
                                     sign > 0 ? 0.46 : 0.13);
  cairo_pattern_add_color_stop_rgba (fade, 1, c.r, c.g, c.b,
                                     sign > 0 ? 0.20 : 0.05);
  cairo_set_source (cr, fade);
  cairo_fill_preserve (cr);
  cairo_pattern_destroy (fade);
  cairo_set_line_width (cr, 1);
  drawing_set_colour (cr, drawing_with_alpha (c, 0.75));
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* The tightest radius of the edge there, as it is told wherever the edge is picked;
 * seen, the one that the profile shows, where an end without a handle has none
 * of its own. */
static double
tightest_near (const DrawingStrip *s, int side, int sign, double at,
               double seen)
{
  const PatternRun *run = &s->seam->sides[side].runs[run_at (s, side, at)];
  const PatternPiece *piece = pattern_get_piece (s->pattern, run->piece);
  const SewingPiece *known = sewing_facts_piece (s->facts, piece);
  int edge = pattern_piece_find_edge (piece, run->edge);
  double radius = geo_chain_tightest (&known->stitch[edge], sign, NULL);
  return radius > WINDOW && isfinite (radius) ? radius : seen;
}

/* Names the tightest bulge and the tightest hollow, where they stand out. */
static void
label_profile (const DrawingStrip *s, int side, const double *k, int n,
               GArray *taken)
{
  for (int sign = 1; sign >= -1; sign -= 2)
    {
      int best = -1;
      for (int i = 0; i < n; i++)
        if (k[i] * sign > 1 / 600.0
            && (best < 0 || k[i] * sign > k[best] * sign))
          best = i;
      if (best < 0)
        continue;
      g_autofree char *radius = sewing_words_radius (
          s->pattern, tightest_near (s, side, sign,
                                     best * s->known->lengths[side] / (n - 1),
                                     1 / fabs (k[best])));
      g_autofree char *words = g_strdup_printf (
          sign > 0 ? _ ("bulges, radius %s") : _ ("hollow, radius %s"), radius);
      double w = drawing_strip_text_width (s, words, s->small, 0);
      double length = s->known->lengths[side];
      double peak = drawing_strip_x (s, best * length / (n - 1)), x = -1;
      /* Over the place, or else just before or after it. */
      for (int turn = 0; turn < 3 && x < 0; turn++)
        {
          double try = peak + (turn ? (turn == 1 ? -1 : 1) * (w / 2 + 4) : 0);
          try = CLAMP (try, s->x0 + w / 2, fmax (s->x0, s->x1 - w) + w / 2);
          if (fabs (try - peak) <= w / 2 + 8
              && drawing_strip_is_open (taken, try - w / 2, try + w / 2))
            x = try;
        }
      if (x < 0)
        continue;
      /* Clear of all the profile under the words. */
      double out = 0;
      for (int i = 0; i < n; i++)
        if (fabs (drawing_strip_x (s, i * length / (n - 1)) - x) <= w / 2)
          out = fmax (out, profile_height (s, k[i]));
      double y = s->y[side]
                 + drawing_strip_outward (side)
                       * fmin (out + s->small, s->profile + s->small * 0.9);
      drawing_strip_text (s, words, x, y, s->small, 0, DRAWING_TEXT_CENTRE,
                          s->style.stitch);
      drawing_strip_take (taken, x - w / 2, x + w / 2);
    }
}

void
drawing_strip_paint_profile (const DrawingStrip *s, int side, GArray *taken)
{
  double length = s->known->lengths[side];
  int n = (int)CLAMP (length * s->scale / 2.5, 8, 2000);
  g_autofree double *k = g_new (double, n);
  gboolean any[2] = { FALSE, FALSE };
  for (int i = 0; i < n; i++)
    {
      k[i] = bulge_at (s, side, i * length / (n - 1));
      any[k[i] < 0] |= profile_height (s, k[i]) > 1;
    }
  if (any[0])
    paint_profile_sign (s, side, 1, k, n);
  if (any[1])
    paint_profile_sign (s, side, -1, k, n);
  label_profile (s, side, k, n, taken);
}
