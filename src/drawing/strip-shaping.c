/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the seam does to flat cloth, as the outline of a hill or a hollow over the seam's
 * length: degrees per cm, domes up, saddles down; and the tape that it all is measured
 * by. */
#include <glib/gi18n.h>

#include "drawing/strip-private.h"

/* Degrees per cm that fill the height, where the seam has no more: so that a gentle seam
 * looks gentle. */
#define FULL_RATE 2.0
#define FLAT_DEG 0.5
#define LEAST_TOLD_DEG 1.0

typedef struct
{
  double *rate; /* along side A, equal steps */
  int n;
  double scale; /* px a degree per cm */
} Rates;

static double
step_x (const DrawingStrip *s, const Rates *r, int i)
{
  return drawing_strip_x (s, s->known->lengths[0] * i / (r->n - 1));
}

static Rates
rates_new (const DrawingStrip *s)
{
  Rates r = { .n = (int)CLAMP (s->known->lengths[0] * s->scale / 3, 8, 2000) };
  r.rate = g_new (double, r.n);
  double up = FULL_RATE, down = FULL_RATE;
  for (int i = 0; i < r.n; i++)
    {
      double at = s->known->lengths[0] * i / (r.n - 1);
      r.rate[i] = sewing_shaping_rate (s->shaping, at);
      up = fmax (up, r.rate[i]);
      down = fmax (down, -r.rate[i]);
    }
  r.scale = s->dome / up;
  if (s->saddle > s->dome)
    r.scale = s->saddle / down;
  else if (s->saddle > 0 && down > FULL_RATE)
    r.scale = fmin (r.scale, s->saddle / down);
  return r;
}

static double
rate_y (const DrawingStrip *s, const Rates *r, double rate)
{
  return s->flat - CLAMP (rate * r->scale, -s->saddle, s->dome);
}

/* The outline from one step to another and back along the flat. */
static void
hill_path (const DrawingStrip *s, const Rates *r, int from, int to)
{
  cairo_move_to (s->cr, step_x (s, r, from), s->flat);
  for (int i = from; i <= to; i++)
    cairo_line_to (s->cr, step_x (s, r, i), rate_y (s, r, r->rate[i]));
  cairo_line_to (s->cr, step_x (s, r, to), s->flat);
  cairo_close_path (s->cr);
}

static void
fill_hill (const DrawingStrip *s, const Rates *r, DrawingColour c)
{
  cairo_pattern_t *fade = cairo_pattern_create_linear (0, s->flat - s->dome, 0,
                                                       s->flat + s->saddle);
  double flat = s->dome + s->saddle > 0 ? s->dome / (s->dome + s->saddle) : 1;
  cairo_pattern_add_color_stop_rgba (fade, 0, c.r, c.g, c.b, 0.42);
  cairo_pattern_add_color_stop_rgba (fade, flat, c.r, c.g, c.b, 0.12);
  cairo_pattern_add_color_stop_rgba (fade, 1, c.r, c.g, c.b, 0.42);
  hill_path (s, r, 0, r->n - 1);
  cairo_set_source (s->cr, fade);
  cairo_fill (s->cr);
  cairo_pattern_destroy (fade);
  cairo_set_line_width (s->cr, 1.2);
  for (int i = 0; i < r->n; i++)
    cairo_line_to (s->cr, step_x (s, r, i), rate_y (s, r, r->rate[i]));
  drawing_set_colour (s->cr, drawing_with_alpha (c, 0.9));
  cairo_stroke (s->cr);
}

static int
step_at (const DrawingStrip *s, const Rates *r, double at)
{
  return (int)CLAMP (round (at / s->known->lengths[0] * (r->n - 1)), 0,
                     r->n - 1);
}

/* Clear of the hill that the words stand over. */
static double
words_y (const DrawingStrip *s, const Rates *r, double from, double to)
{
  double top = s->flat;
  for (int i = 0; i < r->n; i++)
    {
      double x = step_x (s, r, i);
      if (x >= from - 3 && x <= to + 3)
        top = fmin (top, rate_y (s, r, r->rate[i]));
    }
  return top - s->small * 1.05;
}

/* Beside the place, where there is more room first; FALSE where there is none. */
static gboolean
write_beside (const DrawingStrip *s, const Rates *r, const char *words,
              double from, double to, DrawingTextFlags flags, DrawingColour c,
              GArray *taken)
{
  double w = drawing_strip_text_width (s, words, s->small, flags);
  double at[2] = { to + 7, from - 7 - w };
  int first = s->x1 - to >= from - s->x0 ? 0 : 1;
  for (int turn = 0; turn < 2; turn++)
    {
      double x = at[turn == 0 ? first : 1 - first];
      if (x < s->x0 || x + w > s->x1 || !drawing_strip_take (taken, x, x + w))
        continue;
      drawing_strip_text (s, words, x, words_y (s, r, x, x + w), s->small, 0,
                          flags, c);
      return TRUE;
    }
  return FALSE;
}

/* The 20 mm in which it is sharpest: filled, with its figure beside it. */
static void
paint_sharpest (const DrawingStrip *s, const Rates *r, double deg, double from,
                double to, GArray *taken)
{
  if (fabs (deg) < LEAST_TOLD_DEG)
    return;
  gboolean pointed = deg > SEWING_SHARP_DEG;
  DrawingColour c = pointed ? s->style.shorter : s->style.shaping;
  hill_path (s, r, step_at (s, r, from), step_at (s, r, to));
  drawing_set_colour (s->cr, drawing_with_alpha (c, 0.5));
  cairo_fill (s->cr);
  const char *window
      = s->pattern->unit == PATTERN_INCH ? _ ("0.8 in") : _ ("20 mm");
  g_autofree char *words
      = g_strdup_printf (pointed   ? _ ("pointed, %.1f° in %s")
                         : deg > 0 ? _ ("dome, %.1f° in %s")
                                   : _ ("saddle, %.1f° in %s"),
                         fabs (deg), window);
  write_beside (s, r, words, drawing_strip_x (s, from), drawing_strip_x (s, to),
                pointed ? DRAWING_TEXT_BOLD : 0, c, taken);
}

static void
write_total (const DrawingStrip *s)
{
  double total = s->shaping->total_deg;
  double middle = (s->flat - s->dome + s->flat + s->saddle) / 2;
  double most = s->x0 - 30 - 14, right = s->width - s->x1 - 24;
  drawing_strip_text (s, _ ("shaping"), 30, middle - s->name * 0.75, s->name,
                      most, DRAWING_TEXT_BOLD, s->style.shaping);
  drawing_strip_text (s, _ ("degrees a cm"), 30, middle + s->name * 1.05,
                      s->small, most, 0, s->style.faint);
  if (fabs (total) < FLAT_DEG)
    {
      drawing_strip_text (s, _ ("lies flat"), s->width - 12, middle, s->figure,
                          right, DRAWING_TEXT_RIGHT, s->style.even);
      return;
    }
  g_autofree char *dart = g_strdup_printf (_ ("%.1f° dart"), fabs (total));
  drawing_strip_text (s, dart, s->width - 12, middle - s->name * 0.75,
                      s->figure, right, DRAWING_TEXT_RIGHT | DRAWING_TEXT_BOLD,
                      s->style.shaping);
  drawing_strip_text (s, total > 0 ? _ ("dome in all") : _ ("saddle in all"),
                      s->width - 12, middle + s->name * 1.05, s->small, right,
                      DRAWING_TEXT_RIGHT, s->style.faint);
}

void
drawing_strip_paint_shaping (const DrawingStrip *s)
{
  Rates r = rates_new (s);
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (double));
  const SewingShaping *known = s->shaping;
  cairo_save (s->cr);
  cairo_set_line_join (s->cr, CAIRO_LINE_JOIN_BEVEL);
  cairo_set_line_width (s->cr, 1);
  drawing_set_colour (s->cr, drawing_with_alpha (s->style.faint, 0.5));
  cairo_move_to (s->cr, s->x0, s->flat);
  cairo_line_to (s->cr, drawing_strip_x (s, s->known->lengths[0]), s->flat);
  cairo_stroke (s->cr);
  fill_hill (s, &r, s->style.shaping);
  /* What matters more is sure of its place. */
  gboolean dome_first = known->sharp_deg >= -known->hollow_deg;
  for (int turn = 0; turn < 2; turn++)
    if ((turn == 0) == dome_first)
      paint_sharpest (s, &r, known->sharp_deg, known->sharp_from,
                      known->sharp_to, taken);
    else
      paint_sharpest (s, &r, known->hollow_deg, known->hollow_from,
                      known->hollow_to, taken);
  write_total (s);
  cairo_restore (s->cr);
  g_free (r.rate);
}

/* --- the tape --------------------------------------------------------------------- */

/* The finest steps that stay apart: between marks, between long ones, between
 * figures. */
static void
tape_steps (const DrawingStrip *s, double *mark, double *bold, double *figure)
{
  static const double metric[]
      = { 1, 5, 10, 20, 50, 100, 200, 500, 1000, 5000 };
  static const double inches[]
      = { 1 / 8.0, 0.25, 0.5, 1, 2, 4, 6, 12, 36, 144 };
  gboolean inch = s->pattern->unit == PATTERN_INCH;
  const double *steps = inch ? inches : metric;
  guint n = inch ? G_N_ELEMENTS (inches) : G_N_ELEMENTS (metric);
  double unit = inch ? 25.4 : 1;
  *mark = *bold = *figure = steps[n - 1] * unit;
  for (guint i = n; i-- > 0;)
    {
      double px = steps[i] * unit * s->scale;
      if (px >= 4)
        *mark = steps[i] * unit;
      if (px >= 14)
        *bold = steps[i] * unit;
      /* Figures only at whole inches and centimetres. */
      if (px >= 58 && steps[i] >= (inch ? 1 : 10))
        *figure = steps[i] * unit;
    }
}

static gboolean
is_multiple (double at, double step)
{
  return fabs (remainder (at, step)) < step * 1e-6;
}

static void
tape_figures (const DrawingStrip *s, double figure, double longest)
{
  PatternUnit unit = s->pattern->unit;
  double one = unit == PATTERN_INCH ? 25.4 : unit == PATTERN_CM ? 10 : 1;
  for (guint i = 0; i * figure <= longest + 1e-9; i++)
    {
      double x = drawing_strip_x (s, i * figure) + 4;
      g_autofree char *text
          = i == 0 ? g_strdup_printf ("0 %s", pattern_unit_word (unit))
                   : g_strdup_printf ("%.0f", i * figure / one);
      drawing_strip_text (s, text, x, s->tape + 10, s->small, 0, 0,
                          s->style.faint);
    }
}

void
drawing_strip_paint_tape (const DrawingStrip *s)
{
  double mark, bold, figure, y = s->tape + 0.5;
  double longest = fmax (s->known->lengths[0], s->known->lengths[1]);
  if (s->tape >= s->height)
    return;
  tape_steps (s, &mark, &bold, &figure);
  cairo_set_line_width (s->cr, 1);
  drawing_set_colour (s->cr, drawing_with_alpha (s->style.faint, 0.75));
  cairo_move_to (s->cr, s->x0, y);
  cairo_line_to (s->cr, drawing_strip_x (s, longest), y);
  for (guint i = 0; i * mark <= longest + 1e-9; i++)
    {
      double x = floor (drawing_strip_x (s, i * mark)) + 0.5;
      double length = is_multiple (i * mark, figure) ? 13
                      : is_multiple (i * mark, bold) ? 5
                                                     : 3;
      cairo_move_to (s->cr, x, y);
      cairo_line_to (s->cr, x, y + length);
    }
  cairo_stroke (s->cr);
  tape_figures (s, figure, longest);
}
