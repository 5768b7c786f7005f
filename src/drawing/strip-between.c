/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "drawing/strip-private.h"
#include "sewing/words.h"

static void
interval_path (const DrawingStrip *s, const SewingInterval *i)
{
  cairo_move_to (s->cr, drawing_strip_x (s, i->a_from), s->y[0]);
  cairo_line_to (s->cr, drawing_strip_x (s, i->a_to), s->y[0]);
  cairo_line_to (s->cr, drawing_strip_x (s, i->b_to), s->y[1]);
  cairo_line_to (s->cr, drawing_strip_x (s, i->b_from), s->y[1]);
  cairo_close_path (s->cr);
}

double
drawing_strip_out (const SewingInterval *i)
{
  return i->difference - i->meant;
}

static gboolean
is_true (const DrawingStrip *s, double amount)
{
  return fabs (amount) <= s->pattern->tolerance;
}

/* Of the shorter of the two, in hundredths. */
static double
share (const SewingInterval *i, double amount)
{
  double shorter = fmin (i->a_to - i->a_from, i->b_to - i->b_from);
  return shorter > 0 ? 100 * fabs (amount) / shorter : 0;
}

void
drawing_strip_paint_tint (const DrawingStrip *s, const SewingInterval *i)
{
  double out = drawing_strip_out (i);
  gboolean as_meant = is_true (s, out), even = is_true (s, i->difference);
  double told = as_meant ? i->difference : out;
  double strength = 0.16 + 0.40 * fmin (1, share (i, told) / 3);
  DrawingColour a = out > 0 ? s->style.longer : s->style.shorter;
  DrawingColour b = out > 0 ? s->style.shorter : s->style.longer;
  if (as_meant)
    {
      a = b = s->style.even;
      strength = even ? 0.12 : strength * 0.6;
    }
  cairo_pattern_t *p = cairo_pattern_create_linear (0, s->y[0], 0, s->y[1]);
  double middle = as_meant ? strength : strength * 0.25;
  cairo_pattern_add_color_stop_rgba (p, 0, a.r, a.g, a.b, strength);
  cairo_pattern_add_color_stop_rgba (p, 0.5, (a.r + b.r) / 2, (a.g + b.g) / 2,
                                     (a.b + b.b) / 2, middle);
  cairo_pattern_add_color_stop_rgba (p, 1, b.r, b.g, b.b, strength);
  cairo_set_source (s->cr, p);
  interval_path (s, i);
  cairo_fill (s->cr);
  cairo_pattern_destroy (p);
}

/* The longest wording that fits: with the share, with the word, the amount. */
static char *
interval_words (const DrawingStrip *s, const SewingInterval *i,
                gboolean as_meant, double room)
{
  double told = as_meant ? i->difference : drawing_strip_out (i);
  g_autofree char *amount = sewing_words_amount (s->pattern, told);
  /* Where ease is meant, by how much it is missed; else which length lacks. */
  gboolean more = told * i->meant > 0;
  g_autofree char *words
      = g_strdup_printf (as_meant                ? _ ("%s eased")
                         : is_true (s, i->meant) ? _ ("%s short")
                         : more                  ? _ ("%s more ease than meant")
                                : _ ("%s less ease than meant"),
                         amount);
  g_autofree char *all
      = g_strdup_printf ("%s · %.1f %%", words, share (i, told));
  const char *tries[] = { all, words, amount };
  for (guint k = 0; k < G_N_ELEMENTS (tries); k++)
    if (drawing_strip_text_width (s, tries[k], s->figure, DRAWING_TEXT_BOLD)
        <= room)
      return g_strdup (tries[k]);
  return NULL;
}

/* "11.3 cm on 11.0 cm", or one length where both have it. */
static char *
interval_lengths (const DrawingStrip *s, const SewingInterval *i)
{
  PatternUnit unit = s->pattern->unit;
  double a = i->a_to - i->a_from, b = i->b_to - i->b_from;
  g_autofree char *a_words = NULL, *b_words = NULL;
  if (is_true (s, i->difference))
    return pattern_length_format (a, unit, FALSE);
  sewing_words_two_lengths (s->pattern, a, b, &a_words, &b_words);
  return g_strdup_printf (_ ("%s on %s"), a_words, b_words);
}

/* The length first gives way, where there is little room. */
static void
paint_true (const DrawingStrip *s, const SewingInterval *i, double x,
            double room)
{
  g_autofree char *length = interval_lengths (s, i);
  g_autofree char *all = g_strdup_printf (_ ("%s, true"), length);
  const char *tries[] = { all, _ ("true") };
  for (guint k = 0; k < G_N_ELEMENTS (tries); k++)
    if (drawing_strip_text_width (s, tries[k], s->small, 0) <= room)
      {
        drawing_strip_text (s, tries[k], x, (s->y[0] + s->y[1]) / 2, s->small,
                            0, DRAWING_TEXT_CENTRE, s->style.even);
        return;
      }
}

/* Where both fit, the lengths stand under the figure; else the figure stands by the line
 * it speaks of: the one that is short, or the one that is eased in. */
void
drawing_strip_paint_figure (const DrawingStrip *s, const SewingInterval *i)
{
  double from = drawing_strip_x (s, fmax (i->a_from, i->b_from));
  double to = drawing_strip_x (s, fmin (i->a_to, i->b_to));
  double room = to - from - 10, x = (from + to) / 2;
  double middle = (s->y[0] + s->y[1]) / 2, out = drawing_strip_out (i);
  gboolean as_meant = is_true (s, out);
  if (as_meant && is_true (s, i->difference))
    {
      paint_true (s, i, x, room);
      return;
    }
  int side = as_meant ? (i->difference > 0 ? 0 : 1) : (out > 0 ? 1 : 0);
  double away = fmin (TICK + s->figure, (s->y[1] - s->y[0]) / 2);
  double y = s->y[side] - drawing_strip_outward (side) * away;
  g_autofree char *text = interval_words (s, i, as_meant, room);
  g_autofree char *lengths = interval_lengths (s, i);
  if (text == NULL)
    return;
  /* Two lines clear the rows of stitches that may run inside both edges. */
  if (s->y[1] - s->y[0] >= 2 * (STITCHES_IN + 1 + 1.35 * s->figure)
      && drawing_strip_text_width (s, lengths, s->small, 0) <= room)
    {
      y = middle - s->figure * 0.85;
      drawing_strip_text (s, lengths, x, middle + s->figure * 1.05, s->small, 0,
                          DRAWING_TEXT_CENTRE, s->style.faint);
    }
  drawing_strip_text (s, text, x, y, s->figure, 0,
                      DRAWING_TEXT_CENTRE | DRAWING_TEXT_BOLD,
                      as_meant ? s->style.even : s->style.shorter);
}

static int
notch_count (const DrawingStrip *s, int side, guint notch)
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
paint_notch_strokes (const DrawingStrip *s, int side, double at, int count)
{
  cairo_set_line_width (s->cr, 1.4);
  drawing_set_colour (s->cr, s->style.ink);
  for (int i = 0; i < count; i++)
    {
      double x = drawing_strip_x (s, at) + (i - (count - 1) / 2.0) * 3.5;
      cairo_move_to (s->cr, x, s->y[side] - 5);
      cairo_line_to (s->cr, x, s->y[side] + 5);
    }
  cairo_stroke (s->cr);
}

/* A basting thread with a knot at either end. */
static void
paint_thread (const DrawingStrip *s, double a, double b)
{
  const double dashes[2] = { 5, 3 };
  cairo_t *cr = s->cr;
  double xa = drawing_strip_x (s, a), xb = drawing_strip_x (s, b),
         band = s->y[1] - s->y[0];
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

/* A thread hangs where words of this width would stand. */
static gboolean
thread_within (const DrawingStrip *s, int side, double x, double w)
{
  for (guint i = 0; i < s->known->n_intervals; i++)
    {
      const SewingInterval *v = &s->known->intervals[i];
      double at = drawing_strip_x (s, side == 0 ? v->a_to : v->b_to);
      if (at > x && at < x + w + 12)
        return TRUE;
    }
  return FALSE;
}

void
drawing_strip_paint_threads (const DrawingStrip *s)
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
      double x = drawing_strip_x (s, l->at);
      double y = s->y[l->side] - drawing_strip_outward (l->side) * 9;
      cairo_set_line_width (s->cr, 1.4);
      drawing_set_colour (s->cr, s->style.shorter);
      cairo_new_sub_path (s->cr);
      cairo_arc (s->cr, x, y, 3, 0, 2 * G_PI);
      cairo_stroke (s->cr);
      const char *words = _ ("no partner");
      double w = drawing_strip_text_width (s, words, s->small, 0);
      gboolean on_left = x + 8 + w > s->x1 || thread_within (s, l->side, x, w);
      drawing_strip_text (s, words, on_left ? x - 8 : x + 8, y, s->small, 0,
                          on_left ? DRAWING_TEXT_RIGHT : 0, s->style.shorter);
    }
}

void
drawing_strip_paint_lit (const DrawingStrip *s, const double at[2])
{
  cairo_t *cr = s->cr;
  double x[2];
  for (int side = 0; side < 2; side++)
    x[side] = drawing_strip_x (s, CLAMP (at[side], 0, s->known->lengths[side]));
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  drawing_set_colour (cr, drawing_with_alpha (s->style.lit, 0.35));
  if (s->tape < s->height)
    {
      cairo_set_line_width (cr, 1);
      cairo_move_to (cr, x[0], s->y[1] + 8);
      cairo_line_to (cr, x[0], s->height);
      cairo_stroke (cr);
    }
  cairo_set_line_width (cr, 5);
  cairo_move_to (cr, x[0], s->y[0]);
  cairo_line_to (cr, x[1], s->y[1]);
  cairo_stroke (cr);
  for (int side = 0; side < 2; side++)
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, x[side], s->y[side], 4.5, 0, 2 * G_PI);
      drawing_set_colour (cr, s->style.paper);
      cairo_fill_preserve (cr);
      cairo_set_line_width (cr, 2);
      drawing_set_colour (cr, s->style.lit);
      cairo_stroke (cr);
    }
}
