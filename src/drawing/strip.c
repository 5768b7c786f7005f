/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip from the outside in: the names of both sides at the left and their
 * lengths at the right; between them two lines to one scale. Away from each line
 * its curvature stands as a filled profile, bulges full, hollows hatched; between
 * the lines lie the seam's intervals, each tinted towards the line that is long
 * and the one that is short, with threads from notch to notch. */
#include "drawing/strip.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drawing/parts.h"
#include "drawing/text.h"
#include "geometry/walk.h"

#define TICK 10.0 /* room for clip marks inside each line, px */

typedef struct
{
  cairo_t *cr;
  SewingFacts *facts;
  const Pattern *pattern;
  const PatternSeam *seam;
  const SewingSeam *known;
  DrawingStyle style;
  double width, height;
  double x0, x1, scale;       /* px a mm */
  double y[2];                /* of the two lines */
  double profile;             /* most a profile may stand out */
  double name, figure, small; /* capitals */
  gboolean as_meant;          /* eased, and by what was meant */
} Strip;

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

static double
x_at (const Strip *s, double length)
{
  return s->x0 + length * s->scale;
}

/* -1 above, towards which side A's profile stands; +1 below. */
static double
outward (int side)
{
  return side == 0 ? -1 : 1;
}

static DrawingColour
with_alpha (DrawingColour colour, double a)
{
  colour.a = a;
  return colour;
}

/* Differences are small: in millimetres where lengths are in centimetres. */
static PatternUnit
fine_unit (const Strip *s)
{
  return s->pattern->unit == PATTERN_INCH ? PATTERN_INCH : PATTERN_MM;
}

static double
text_width (const Strip *s, const char *text, double capital,
            DrawingTextFlags flags)
{
  DrawingTextLook look = { s->style.font, capital, 0, flags };
  double width;
  drawing_text_size (s->cr, text, &look, &width, NULL);
  return width;
}

static void
put_text (const Strip *s, const char *text, double x, double y, double capital,
          double most, DrawingTextFlags flags, DrawingColour colour)
{
  DrawingTextLook look = { s->style.font, capital, most, flags };
  drawing_set_colour (s->cr, colour);
  drawing_text_line (s->cr, text, geo_point (x, y), 0, &look);
}

/* --- curvature ------------------------------------------------------------- */

#define WINDOW 3.0 /* mm to either side that a curvature is taken over */

static guint
run_at (const Strip *s, int side, double at)
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
bulge_at (const Strip *s, int side, double at)
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

/* Height of a profile: the root makes gentle curves visible beside tight ones; a
 * radius of 20 mm fills it. */
static double
profile_height (const Strip *s, double k)
{
  return s->profile * sqrt (fmin (1, fabs (k) * 20));
}

static void
profile_path (const Strip *s, int side, int sign, const double *k, int n)
{
  cairo_t *cr = s->cr;
  double step = s->known->lengths[side] / (n - 1);
  cairo_move_to (cr, x_at (s, 0), s->y[side]);
  for (int i = 0; i < n; i++)
    {
      double h = k[i] * sign > 0 ? profile_height (s, k[i]) : 0;
      double y = s->y[side] + outward (side) * h;
      cairo_line_to (cr, x_at (s, i * step), y);
    }
  cairo_line_to (cr, x_at (s, s->known->lengths[side]), s->y[side]);
  cairo_close_path (cr);
}

static void
hatch (const Strip *s, int side)
{
  cairo_t *cr = s->cr;
  double top = s->y[side] + fmin (0, outward (side)) * s->profile;
  for (double x = s->x0 - s->profile; x < s->x1; x += 4)
    {
      cairo_move_to (cr, x, top + s->profile);
      cairo_line_to (cr, x + s->profile, top);
    }
  cairo_stroke (cr);
}

static void
paint_profile_sign (const Strip *s, int side, int sign, const double *k, int n)
{
  cairo_t *cr = s->cr;
  DrawingColour c = s->style.stitch;
  cairo_save (cr);
  profile_path (s, side, sign, k, n);
  cairo_pattern_t *fade = cairo_pattern_create_linear (
      0, s->y[side], 0, s->y[side] + outward (side) * s->profile);
  cairo_pattern_add_color_stop_rgba (fade, 0, c.r, c.g, c.b,
                                     sign > 0 ? 0.42 : 0.10);
  cairo_pattern_add_color_stop_rgba (fade, 1, c.r, c.g, c.b,
                                     sign > 0 ? 0.16 : 0.04);
  cairo_set_source (cr, fade);
  cairo_fill_preserve (cr);
  cairo_pattern_destroy (fade);
  cairo_set_line_width (cr, 1);
  if (sign < 0)
    {
      cairo_path_t *path = cairo_copy_path (cr);
      cairo_save (cr);
      cairo_clip (cr);
      drawing_set_colour (cr, with_alpha (c, 0.40));
      hatch (s, side);
      cairo_restore (cr);
      cairo_new_path (cr);
      cairo_append_path (cr, path);
      cairo_path_destroy (path);
    }
  drawing_set_colour (cr, with_alpha (c, 0.75));
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* taken holds pairs of x between which something is written already. */
static gboolean
is_open (const GArray *taken, double from, double to)
{
  for (guint i = 0; i + 1 < taken->len; i += 2)
    if (from < g_array_index (taken, double, i + 1)
        && to > g_array_index (taken, double, i))
      return FALSE;
  return TRUE;
}

/* Names the tightest bulge and the tightest hollow, where they stand out. */
static void
label_profile (const Strip *s, int side, const double *k, int n, GArray *taken)
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
      g_autofree char *radius = pattern_length_format (
          round (1 / fabs (k[best])), s->pattern->unit, FALSE);
      g_autofree char *words = g_strdup_printf (
          sign > 0 ? _ ("bulges, radius %s") : _ ("hollow, radius %s"), radius);
      double w = text_width (s, words, s->small, 0);
      double length = s->known->lengths[side];
      double peak = x_at (s, best * length / (n - 1)), x = -1;
      /* Over the place, or else just before or after it. */
      for (int turn = 0; turn < 3 && x < 0; turn++)
        {
          double try = peak + (turn ? (turn == 1 ? -1 : 1) * (w / 2 + 4) : 0);
          try = CLAMP (try, s->x0 + w / 2, fmax (s->x0, s->x1 - w) + w / 2);
          if (fabs (try - peak) <= w / 2 + 8
              && is_open (taken, try - w / 2, try + w / 2))
            x = try;
        }
      if (x < 0)
        continue;
      /* Clear of all the profile under the words. */
      double out = 0;
      for (int i = 0; i < n; i++)
        if (fabs (x_at (s, i * length / (n - 1)) - x) <= w / 2)
          out = fmax (out, profile_height (s, k[i]));
      double y = s->y[side]
                 + outward (side)
                       * fmin (out + s->small, s->profile + s->small * 0.6);
      put_text (s, words, x, y, s->small, 0, DRAWING_TEXT_CENTRE,
                s->style.stitch);
      double ends[2] = { x - w / 2 - 6, x + w / 2 + 6 };
      g_array_append_vals (taken, ends, 2);
    }
}

static void
paint_profile (const Strip *s, int side, GArray *taken)
{
  double length = s->known->lengths[side];
  int n = (int)CLAMP (length * s->scale / 1.5, 8, 4000);
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

/* --- the two sides ----------------------------------------------------------- */

/* What a run is called: its edge's name, else its piece's. */
static const char *
run_name (const Strip *s, const PatternRun *run, gboolean of_piece)
{
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (s->pattern, run->piece, run->edge, &piece);
  if (edge == NULL)
    return "";
  return of_piece || *edge->name == '\0' ? piece->name : edge->name;
}

static char *
side_name (const Strip *s, int side, gboolean of_pieces)
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

static void
paint_names (const Strip *s, int side)
{
  g_autofree char *edges = side_name (s, side, FALSE);
  g_autofree char *pieces = side_name (s, side, TRUE);
  double most = s->x0 - 24, y = s->y[side];
  /* One name for all runs is the side's; else the pieces tell more, since each run
   * bears its own name along the line. */
  gboolean several = strstr (edges, " + ") != NULL;
  put_text (s, several ? pieces : edges, 12, y - s->name * 0.95, s->name, most,
            DRAWING_TEXT_BOLD, s->style.ink);
  if (g_strcmp0 (edges, pieces) != 0)
    put_text (s, several ? edges : pieces, 12, y + s->name * 0.95, s->small,
              most, 0, s->style.faint);
}

/* Where several pieces make up a side, a gap in the line and each one's name
 * over its stretch. */
static void
paint_runs (const Strip *s, int side, GArray *taken)
{
  const PatternSide *runs = &s->seam->sides[side];
  if (runs->n_runs < 2)
    return;
  for (guint i = 0; i < runs->n_runs; i++)
    {
      double from = x_at (s, s->known->joints[side][i]);
      double to = x_at (s, s->known->joints[side][i + 1]);
      double y = s->y[side] + outward (side) * (s->profile + s->small * 0.6);
      const char *name = run_name (s, &runs->runs[i], FALSE);
      if (to - from > 24)
        put_text (s, name, from + 4, y, s->small, to - from - 8, 0,
                  s->style.faint);
      double end = from + 4 + text_width (s, name, s->small, 0);
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
paint_line (const Strip *s, int side)
{
  const PatternSide *runs = &s->seam->sides[side];
  cairo_set_line_width (s->cr, 2);
  cairo_set_line_cap (s->cr, CAIRO_LINE_CAP_BUTT);
  drawing_set_colour (s->cr, s->style.ink);
  for (guint i = 0; i < runs->n_runs; i++)
    {
      double gap = i > 0 ? 1.5 : 0;
      double from = x_at (s, s->known->joints[side][i]) + gap;
      double to = x_at (s, s->known->joints[side][i + 1])
                  - (i + 1 < runs->n_runs ? 1.5 : 0);
      cairo_move_to (s->cr, from, s->y[side]);
      cairo_line_to (s->cr, fmax (to, from), s->y[side]);
    }
  cairo_stroke (s->cr);
  /* The ends, as a tape's. */
  for (int end = 0; end < 2; end++)
    {
      double x = x_at (s, end ? s->known->lengths[side] : 0);
      cairo_move_to (s->cr, x, s->y[side] - 4);
      cairo_line_to (s->cr, x, s->y[side] + 4);
    }
  cairo_stroke (s->cr);
}

static void
paint_run_clips (const Strip *s, int side, guint i)
{
  const PatternRun *run = &s->seam->sides[side].runs[i];
  const GeoClipPlan *plan
      = sewing_facts_clips (s->facts, s->pattern, run->piece, run->edge);
  if (plan == NULL)
    return;
  double from = s->known->joints[side][i], to = s->known->joints[side][i + 1];
  double near = s->y[side] - outward (side) * 3;
  double far = s->y[side] - outward (side) * TICK;
  for (size_t c = 0; c < plan->count; c++)
    {
      const GeoCut *cut = &plan->cuts[c];
      double x = x_at (s, run->reversed ? to - cut->at : from + cut->at);
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
paint_clips (const Strip *s, int side)
{
  cairo_save (s->cr);
  cairo_set_line_width (s->cr, 1.2);
  drawing_set_colour (s->cr, with_alpha (s->style.ink, 0.62));
  for (guint i = 0; i < s->seam->sides[side].n_runs; i++)
    paint_run_clips (s, side, i);
  cairo_restore (s->cr);
}

/* At the right: the side's length, and how much it is short. */
static void
paint_length (const Strip *s, int side)
{
  double out = s->known->out * (side == 0 ? 1 : -1);
  double most = s->width - s->x1 - 20, x = s->width - 10;
  g_autofree char *length = pattern_length_format (s->known->lengths[side],
                                                   s->pattern->unit, FALSE);
  gboolean apart = fabs (out) > s->pattern->tolerance;
  double y = s->y[side];
  put_text (s, length, x, y, s->figure, most,
            DRAWING_TEXT_RIGHT | DRAWING_TEXT_BOLD, s->style.ink);
  if (!apart || out > 0)
    return;
  g_autofree char *full = pattern_length_format (-out, fine_unit (s), FALSE);
  g_autofree char *bare = pattern_length_format_bare (-out, fine_unit (s));
  g_autofree char *words = g_strdup_printf (_ ("%s short"), full);
  double size = s->small * 1.1;
  if (text_width (s, words, size, DRAWING_TEXT_BOLD) > most)
    {
      g_free (words);
      words = g_strdup_printf (_ ("%s short"), bare);
    }
  put_text (s, words, x, y + outward (side) * s->figure * 1.9, size, most,
            DRAWING_TEXT_RIGHT | DRAWING_TEXT_BOLD, s->style.shorter);
}

static void
paint_verdict (const Strip *s)
{
  double y = (s->y[0] + s->y[1]) / 2;
  if (fabs (s->known->out) > s->pattern->tolerance)
    return;
  gboolean even = TRUE;
  for (guint i = 0; i < s->known->n_intervals; i++)
    even &= fabs (s->known->intervals[i].difference) <= s->pattern->tolerance;
  g_autofree char *amount
      = pattern_length_format (fabs (s->known->ease), fine_unit (s), FALSE);
  g_autofree char *words
      = s->as_meant ? g_strdup_printf (_ ("%s eased"), amount)
                    : g_strdup (even ? _ ("true") : _ ("true in all"));
  put_text (s, words, s->width - 10, y, s->figure, s->width - s->x1 - 20,
            DRAWING_TEXT_RIGHT, s->style.even);
}

/* --- between the lines ------------------------------------------------------- */

static void
interval_path (const Strip *s, const SewingInterval *i)
{
  cairo_move_to (s->cr, x_at (s, i->a_from), s->y[0]);
  cairo_line_to (s->cr, x_at (s, i->a_to), s->y[0]);
  cairo_line_to (s->cr, x_at (s, i->b_to), s->y[1]);
  cairo_line_to (s->cr, x_at (s, i->b_from), s->y[1]);
  cairo_close_path (s->cr);
}

static void
paint_interval_tint (const Strip *s, const SewingInterval *i)
{
  gboolean even = fabs (i->difference) <= s->pattern->tolerance;
  double strength = 0.16 + 0.40 * fmin (1, fabs (i->per_cent) / 3);
  DrawingColour a = i->difference > 0 ? s->style.longer : s->style.shorter;
  DrawingColour b = i->difference > 0 ? s->style.shorter : s->style.longer;
  if (even || s->as_meant)
    {
      a = b = s->style.even;
      strength = even ? 0.12 : strength * 0.6;
    }
  cairo_pattern_t *p = cairo_pattern_create_linear (0, s->y[0], 0, s->y[1]);
  double middle = even || s->as_meant ? strength : strength * 0.25;
  cairo_pattern_add_color_stop_rgba (p, 0, a.r, a.g, a.b, strength);
  cairo_pattern_add_color_stop_rgba (p, 0.5, (a.r + b.r) / 2, (a.g + b.g) / 2,
                                     (a.b + b.b) / 2, middle);
  cairo_pattern_add_color_stop_rgba (p, 1, b.r, b.g, b.b, strength);
  cairo_set_source (s->cr, p);
  interval_path (s, i);
  cairo_fill (s->cr);
  cairo_pattern_destroy (p);
}

/* The longest wording that fits: with the share, with the word, the bare figure. */
static char *
interval_words (const Strip *s, const SewingInterval *i, double room,
                double *width)
{
  g_autofree char *full
      = pattern_length_format (fabs (i->difference), fine_unit (s), FALSE);
  g_autofree char *bare
      = pattern_length_format_bare (fabs (i->difference), fine_unit (s));
  g_autofree char *share = g_strdup_printf ("%.1f %%", fabs (i->per_cent));
  for (int turn = 0; turn < 4; turn++)
    {
      const char *amount = turn < 2 ? full : bare;
      g_autofree char *words = s->as_meant
                                   ? g_strdup_printf (_ ("%s eased"), amount)
                                   : g_strdup_printf (_ ("%s short"), amount);
      g_autofree char *text = turn == 0
                                  ? g_strdup_printf ("%s · %s", words, share)
                              : turn == 3 ? g_strdup (bare)
                                          : g_strdup (words);
      *width = text_width (s, text, s->figure, DRAWING_TEXT_BOLD);
      if (*width <= room)
        return g_steal_pointer (&text);
    }
  return NULL;
}

/* The figure stands by the line it speaks of: the one that is short, or the one
 * that is eased in. */
static void
paint_interval_figure (const Strip *s, const SewingInterval *i)
{
  double from = x_at (s, fmax (i->a_from, i->b_from));
  double to = x_at (s, fmin (i->a_to, i->b_to));
  double room = to - from - 10, x = (from + to) / 2;
  double middle = (s->y[0] + s->y[1]) / 2, width;
  if (fabs (i->difference) <= s->pattern->tolerance)
    {
      const char *text = _ ("true");
      if (text_width (s, text, s->small, 0) <= room)
        put_text (s, text, x, middle, s->small, 0, DRAWING_TEXT_CENTRE,
                  s->style.even);
      return;
    }
  int side = (i->difference > 0) != s->as_meant ? 1 : 0;
  double away = fmin (TICK + s->figure, (s->y[1] - s->y[0]) / 2);
  double y = s->y[side] - outward (side) * away;
  g_autofree char *text = interval_words (s, i, room, &width);
  if (text)
    put_text (s, text, x, y, s->figure, 0,
              DRAWING_TEXT_CENTRE | DRAWING_TEXT_BOLD,
              s->as_meant ? s->style.even : s->style.shorter);
}

static int
notch_count (const Strip *s, int side, guint notch)
{
  const PatternSide *runs = &s->seam->sides[side];
  for (guint i = 0; notch && i < runs->n_runs; i++)
    {
      const PatternPiece *piece
          = pattern_get_piece (s->pattern, runs->runs[i].piece);
      const PatternNotch *found
          = piece ? pattern_piece_get_notch (piece, notch) : NULL;
      if (found)
        return CLAMP (found->count, 1, 3);
    }
  return 0;
}

static void
paint_notch_strokes (const Strip *s, int side, double at, int count)
{
  cairo_set_line_width (s->cr, 1.4);
  drawing_set_colour (s->cr, s->style.ink);
  for (int i = 0; i < count; i++)
    {
      double x = x_at (s, at) + (i - (count - 1) / 2.0) * 3.5;
      cairo_move_to (s->cr, x, s->y[side] - 5);
      cairo_line_to (s->cr, x, s->y[side] + 5);
    }
  cairo_stroke (s->cr);
}

/* A basting thread with a knot at either end. */
static void
paint_thread (const Strip *s, double a, double b)
{
  const double dashes[2] = { 5, 3 };
  cairo_t *cr = s->cr;
  double xa = x_at (s, a), xb = x_at (s, b), band = s->y[1] - s->y[0];
  cairo_save (cr);
  drawing_set_colour (cr, s->style.lit);
  cairo_set_line_width (cr, 1.3);
  cairo_set_dash (cr, dashes, 2, 2);
  cairo_move_to (cr, xa, s->y[0]);
  cairo_curve_to (cr, xa, s->y[0] + band * 0.45, xb, s->y[1] - band * 0.45, xb,
                  s->y[1]);
  cairo_stroke (cr);
  for (int side = 0; side < 2; side++)
    {
      cairo_arc (cr, side ? xb : xa, s->y[side], 2.6, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  cairo_restore (cr);
}

static void
paint_threads (const Strip *s)
{
  paint_thread (s, 0, 0);
  for (guint i = 0; i < s->known->n_intervals; i++)
    {
      const SewingInterval *v = &s->known->intervals[i];
      paint_notch_strokes (s, 0, v->a_to, notch_count (s, 0, v->a_notch));
      paint_notch_strokes (s, 1, v->b_to, notch_count (s, 1, v->b_notch));
      paint_thread (s, v->a_to, v->b_to);
    }
  for (guint i = 0; i < s->known->n_loose; i++)
    {
      const SewingLooseNotch *l = &s->known->loose[i];
      paint_notch_strokes (s, l->side, l->at,
                           notch_count (s, l->side, l->notch));
      /* No thread: an empty eye where the other end should be. */
      cairo_set_line_width (s->cr, 1.4);
      drawing_set_colour (s->cr, s->style.shorter);
      cairo_new_sub_path (s->cr);
      cairo_arc (s->cr, x_at (s, l->at), s->y[l->side] - outward (l->side) * 9,
                 3, 0, 2 * G_PI);
      cairo_stroke (s->cr);
    }
}

/* --- the rest -------------------------------------------------------------- */

static double
map_to_b (const SewingSeam *known, double at)
{
  g_autofree double *a = g_new (double, known->n_intervals + 1);
  g_autofree double *b = g_new (double, known->n_intervals + 1);
  a[0] = b[0] = 0;
  for (guint i = 0; i < known->n_intervals; i++)
    {
      a[i + 1] = known->intervals[i].a_to;
      b[i + 1] = known->intervals[i].b_to;
    }
  return known->n_intervals ? geo_walk_map (a, b, known->n_intervals + 1, at)
                            : at;
}

static void
paint_lit (const Strip *s, double at)
{
  cairo_t *cr = s->cr;
  at = fmin (at, s->known->lengths[0]);
  double xa = x_at (s, at), xb = x_at (s, map_to_b (s->known, at));
  cairo_set_line_width (cr, 5);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  drawing_set_colour (cr, with_alpha (s->style.lit, 0.35));
  cairo_move_to (cr, xa, s->y[0]);
  cairo_line_to (cr, xb, s->y[1]);
  cairo_stroke (cr);
  for (int side = 0; side < 2; side++)
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, side ? xb : xa, s->y[side], 4.5, 0, 2 * G_PI);
      drawing_set_colour (cr, s->style.paper);
      cairo_fill_preserve (cr);
      cairo_set_line_width (cr, 2);
      drawing_set_colour (cr, s->style.lit);
      cairo_stroke (cr);
    }
}

/* A round length as a bar between the names, so that the scale is seen. */
static void
paint_scale_bar (const Strip *s)
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
  put_text (s, text, to + 6, y, s->small, 0, 0, s->style.faint);
}

static void
paint_all (const Strip *s, double lit_at)
{
  for (guint i = 0; i < s->known->n_intervals; i++)
    paint_interval_tint (s, &s->known->intervals[i]);
  for (int side = 0; side < 2; side++)
    {
      g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (double));
      paint_runs (s, side, taken);
      paint_profile (s, side, taken);
      paint_clips (s, side);
      paint_names (s, side);
      paint_length (s, side);
    }
  paint_verdict (s);
  paint_scale_bar (s);
  if (lit_at >= 0)
    paint_lit (s, lit_at);
  paint_line (s, 0);
  paint_line (s, 1);
  paint_threads (s);
  for (guint i = 0; i < s->known->n_intervals; i++)
    paint_interval_figure (s, &s->known->intervals[i]);
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
  Strip s = { .cr = cr, .facts = facts, .pattern = pattern, .seam = seam };
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
    put_text (&s, _ ("One side of this seam has no edge yet."), width_px / 2,
              height_px / 2, s.figure, width_px - 20, DRAWING_TEXT_CENTRE,
              s.style.faint);
  else
    {
      lay_out (s.known, width_px, &s.x0, &s.x1, &s.scale);
      double outer = CLAMP (height_px * 0.31, 14, 90);
      s.y[0] = round (outer) + 0.5;
      s.y[1] = round (height_px - outer) - 0.5;
      s.profile = fmax (outer - s.small * 2.1, 4);
      s.as_meant = seam->ease != 0 && fabs (s.known->out) <= pattern->tolerance;
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
