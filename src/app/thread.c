/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The basting thread. */
#include "app/overlays.h"
#include "app/words.h"

static const SewingSeam *
picked_seam (AppSession *session)
{
  const AppPick *pick = app_session_get_pick (session);
  const Pattern *p = app_session_get_shown (session);
  const PatternSeam *seam
      = pick->kind == APP_PICK_SEAM ? pattern_get_seam (p, pick->ids[0]) : NULL;
  return seam != NULL
             ? sewing_facts_seam (app_session_get_facts (session), p, seam)
             : NULL;
}

/* How far a thread hangs below the straight, as a share of its span. What is eased as meant by 6 %
 * hangs as far as is let; what is out, or true, hangs none. */
static double
slack (const SewingInterval *in, gboolean is_out)
{
  return is_out ? 0 : fmin (fabs (in->per_cent), 6) / 6 * 0.22;
}

static void
thread_path (cairo_t *cr, GeoPoint a, GeoPoint b, double hang)
{
  double span = geo_distance (a, b);
  double sag = fmin (hang * span, 120);
  cairo_move_to (cr, a.x, a.y);
  cairo_curve_to (cr, a.x + (b.x - a.x) * 0.25, a.y + (b.y - a.y) * 0.25 + sag,
                  a.x + (b.x - a.x) * 0.75, a.y + (b.y - a.y) * 0.75 + sag, b.x,
                  b.y);
}

/* Running stitches; a tight thread is drawn in long ones with a fine line under it. */
static void
stroke_thread (cairo_t *cr, const AppPalette *colours, gboolean tight)
{
  static const double loose[] = { 7, 5 }, taut[] = { 14, 4 };
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  app_colour (cr, colours->halo);
  cairo_set_line_width (cr, 4);
  cairo_stroke_preserve (cr);
  app_colour (cr, colours->thread);
  if (tight)
    {
      cairo_set_line_width (cr, 0.8);
      cairo_stroke_preserve (cr);
    }
  cairo_set_dash (cr, tight ? taut : loose, 2, 0);
  cairo_set_line_width (cr, 1.8);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
}

static void
thread_knot (cairo_t *cr, const AppPalette *colours, GeoPoint at)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, at.x, at.y, 3, 0, 2 * G_PI);
  app_colour (cr, colours->thread);
  cairo_fill (cr);
}

/* By the side it speaks of: at an end of the thread what is short, or what is eased in. */
static void
thread_figure (cairo_t *cr, const AppPalette *colours, GeoPoint of,
               GeoPoint other, double hang, const char *text)
{
  AppTagSize size = app_tag_measure (cr, text);
  GeoPoint at = geo_lerp (of, other, 0.3);
  at.y += 0.63 * fmin (hang * geo_distance (of, other), 120);
  GeoBox box = { at.x - size.width / 2, at.y - size.height / 2,
                 at.x + size.width / 2, at.y + size.height / 2 };
  app_paint_tag (cr, text, box, at, colours);
}

void
app_paint_thread (cairo_t *cr, AppSession *session, const AppView *view,
                  const AppPalette *colours)
{
  const SewingSeam *seam = picked_seam (session);
  if (seam == NULL || seam->n_intervals == 0)
    return;
  const Pattern *p = app_session_get_shown (session);
  cairo_save (cr);
  cairo_new_path (cr);
  for (guint i = 0; i <= seam->n_intervals; i++)
    {
      int side;
      gboolean is_out;
      /* Threads at both ends of every interval; each hangs by the interval before it, the first by
       * the one after. */
      guint of = i > 0 ? i - 1 : 0;
      const SewingInterval *in = &seam->intervals[of];
      g_autofree char *words = app_words_interval (p, seam, of, &side, &is_out);
      double at_a = i > 0 ? in->a_to : in->a_from;
      double at_b = i > 0 ? in->b_to : in->b_from;
      GeoPoint a = app_view_to_px (view, sewing_seam_point (seam, 0, at_a));
      GeoPoint b = app_view_to_px (view, sewing_seam_point (seam, 1, at_b));
      double hang = slack (in, is_out);
      thread_path (cr, a, b, hang);
      stroke_thread (cr, colours, is_out);
      thread_knot (cr, colours, a);
      thread_knot (cr, colours, b);
      if (i > 0 && words != NULL)
        thread_figure (cr, colours, side == 0 ? a : b, side == 0 ? b : a, hang,
                       words);
    }
  cairo_restore (cr);
}

GeoBox
app_thread_box (AppSession *session, const AppView *view)
{
  GeoBox box = geo_box_empty ();
  const SewingSeam *seam = picked_seam (session);
  for (guint i = 0; seam != NULL && i < seam->n_intervals; i++)
    {
      const SewingInterval *in = &seam->intervals[i];
      double at[2][2] = { { in->a_from, in->a_to }, { in->b_from, in->b_to } };
      for (int side = 0; side < 2; side++)
        for (int end = 0; end < 2; end++)
          box = geo_box_add (
              box, app_view_to_px (
                       view, sewing_seam_point (seam, side, at[side][end])));
    }
  if (geo_box_is_empty (box))
    return box;
  box = geo_box_grow (box, 60);
  box.y1 += 120;
  return box;
}
