/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracing: what lies over the picture. Lines have a light one below them, for a picture may have any
 * colour. */
#include <math.h>
#include <pango/pangocairo.h>
#include <string.h>

#include "app/tracing-private.h"
#include "pattern/length-text.h"

#define HANDLE_PX 7.0
#define LOUPE_PX 78.0
#define BADGE_PX 13.0

typedef struct
{
  AppTracing *t;
  cairo_t *cr;
  const AppView *view;
  GeoBox area;
  const AppPalette *colours;
} Paint;

static GeoPoint
handle_px (const Paint *p, guint i)
{
  return app_view_to_px (p->view, app_tracing_get_handle (p->t, i));
}

static void
stroke_twice (const Paint *p, DrawingColour colour, double width)
{
  app_colour (p->cr, p->colours->halo);
  cairo_set_line_width (p->cr, width + 3);
  cairo_stroke_preserve (p->cr);
  app_colour (p->cr, colour);
  cairo_set_line_width (p->cr, width);
  cairo_stroke (p->cr);
}

static void
words_at (const Paint *p, const char *text, GeoPoint middle)
{
  cairo_t *cr = p->cr;
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_new ();
  pango_font_description_set_family (font, "sans");
  pango_font_description_set_absolute_size (font, 12 * PANGO_SCALE);
  pango_font_description_set_weight (font, PANGO_WEIGHT_SEMIBOLD);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_text (layout, text, -1);
  int w, h;
  pango_layout_get_pixel_size (layout, &w, &h);
  double x = round (middle.x - w / 2.0), y = round (middle.y - h / 2.0);
  cairo_new_path (cr);
  double r = h / 2.0 + 2;
  cairo_arc (cr, x, y + h / 2.0, r, G_PI_2, 3 * G_PI_2);
  cairo_arc (cr, x + w, y + h / 2.0, r, -G_PI_2, G_PI_2);
  cairo_close_path (cr);
  app_colour (cr, p->colours->tag);
  cairo_fill_preserve (cr);
  app_colour (cr, p->colours->tag_edge);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  app_colour (cr, p->colours->tag_ink);
  cairo_move_to (cr, x, y);
  pango_cairo_show_layout (cr, layout);
  g_object_unref (layout);
}

static void
length_at (const Paint *p, double mm, GeoPoint middle)
{
  g_autofree char *text = pattern_length_format (
      mm, app_session_get_pattern (p->t->session)->unit, TRUE);
  words_at (p, text, middle);
}

/* --- true size ------------------------------------------------------------------------- */

static void
paint_handle (const Paint *p, guint i)
{
  GeoPoint at = handle_px (p, i);
  gboolean active = app_tracing_get_active (p->t) == (int)i;
  cairo_t *cr = p->cr;
  cairo_new_path (cr);
  if (active)
    {
      cairo_arc (cr, at.x, at.y, HANDLE_PX + 5, 0, 2 * G_PI);
      DrawingColour ring = p->colours->lit;
      ring.a = 0.3;
      app_colour (cr, ring);
      cairo_fill (cr);
    }
  cairo_arc (cr, at.x, at.y, HANDLE_PX, 0, 2 * G_PI);
  app_colour (cr, p->colours->node);
  cairo_fill_preserve (cr);
  app_colour (cr, p->colours->lit);
  cairo_set_line_width (cr, 2.5);
  cairo_stroke (cr);
  cairo_arc (cr, at.x, at.y, 1.5, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
path_corners (const Paint *p)
{
  cairo_new_path (p->cr);
  for (guint i = 0; i < 4; i++)
    {
      GeoPoint at = handle_px (p, i);
      cairo_line_to (p->cr, at.x, at.y);
    }
  cairo_close_path (p->cr);
}

/* The table about the sheet is dimmed; its first two sides say how long they are. */
static void
paint_sheet (const Paint *p)
{
  cairo_t *cr = p->cr;
  cairo_save (cr);
  path_corners (p);
  GeoBox seen = app_view_box_to_px (p->view, app_tracing_get_box (p->t));
  cairo_rectangle (cr, seen.x0, seen.y0, geo_box_width (seen),
                   geo_box_height (seen));
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.28);
  cairo_fill (cr);
  cairo_restore (cr);
  path_corners (p);
  stroke_twice (p, p->colours->lit, 2);
  GeoPoint c[4], middle = { 0, 0 };
  for (guint i = 0; i < 4; i++)
    {
      c[i] = handle_px (p, i);
      middle = geo_along (middle, c[i], 0.25);
    }
  for (guint i = 0; i < 2; i++)
    {
      GeoPoint m = geo_lerp (c[i], c[i + 1], 0.5);
      GeoPoint in = geo_unit (geo_sub (middle, m));
      length_at (p, i == 0 ? p->t->set.width : p->t->set.height,
                 geo_along (m, in, 20 + 28 * fabs (in.x)));
    }
}

static void
paint_distance (const Paint *p)
{
  cairo_t *cr = p->cr;
  if (app_tracing_n_handles (p->t) < 2)
    return;
  GeoPoint a = handle_px (p, 0), b = handle_px (p, 1);
  GeoPoint across = geo_scale (geo_left (geo_unit (geo_sub (b, a))), 14);
  cairo_new_path (cr);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
  GeoPoint ends[2] = { a, b };
  for (int i = 0; i < 2; i++)
    {
      cairo_move_to (cr, ends[i].x - across.x, ends[i].y - across.y);
      cairo_line_to (cr, ends[i].x + across.x, ends[i].y + across.y);
    }
  stroke_twice (p, p->colours->lit, 2);
  if (p->t->set.distance > 0)
    length_at (p, p->t->set.distance,
               geo_along (geo_lerp (a, b, 0.5), geo_unit (across), 24));
}

/* Beside the handle, on the side where there is most room, so that it never lies under it. */
static GeoPoint
loupe_middle (const Paint *p, GeoPoint at)
{
  double off = LOUPE_PX + 40;
  GeoPoint middle = geo_box_centre (p->area);
  GeoPoint m = { at.x + (at.x < middle.x ? off : -off),
                 at.y + (at.y < middle.y ? off : -off) };
  double r = LOUPE_PX + 4;
  m.x = fmin (fmax (m.x, p->area.x0 + r), p->area.x1 - r);
  m.y = fmin (fmax (m.y, p->area.y0 + r), p->area.y1 - r);
  return m;
}

/* The lines through the handle, as they run in the loupe. */
static void
paint_loupe_lines (const Paint *p, guint i, GeoPoint m)
{
  cairo_t *cr = p->cr;
  GeoPoint at = handle_px (p, i);
  guint n = app_tracing_n_handles (p->t);
  cairo_new_path (cr);
  for (guint k = 1; k < n; k += 2)
    {
      GeoPoint u = geo_unit (geo_sub (handle_px (p, (i + k) % n), at));
      GeoPoint from = geo_along (m, u, 7), to = geo_along (m, u, LOUPE_PX);
      cairo_move_to (cr, from.x, from.y);
      cairo_line_to (cr, to.x, to.y);
    }
  stroke_twice (p, p->colours->lit, 1.5);
  cairo_new_path (cr);
  for (int k = 0; k < 4; k++)
    {
      GeoPoint u = { (k == 0) - (k == 1), (k == 2) - (k == 3) };
      cairo_move_to (cr, m.x + 3 * u.x, m.y + 3 * u.y);
      cairo_line_to (cr, m.x + 13 * u.x, m.y + 13 * u.y);
    }
  stroke_twice (p, p->colours->tag_ink, 1);
}

static void
paint_loupe (const Paint *p, guint i)
{
  cairo_t *cr = p->cr;
  AppSight *sight = app_tracing_get_sight (p->t);
  GeoPoint at = app_tracing_get_handle (p->t, i);
  GeoPoint m = loupe_middle (p, handle_px (p, i));
  double zoom = fmin (fmax (p->view->scale * 6, 3), 16);
  double m9[9];
  GeoPoint origin = { at.x - LOUPE_PX / zoom, at.y - LOUPE_PX / zoom };
  if (!app_sight_matrix (app_tracing_get_shown (p->t), zoom, origin, m9))
    return;
  int size = (int)(2 * LOUPE_PX);
  cairo_surface_t *seen = app_sight_render (sight, m9, size, size, NULL);
  cairo_save (cr);
  cairo_new_path (cr);
  cairo_arc (cr, m.x, m.y, LOUPE_PX, 0, 2 * G_PI);
  app_colour (cr, p->colours->table);
  cairo_fill_preserve (cr);
  cairo_save (cr);
  cairo_clip (cr);
  cairo_set_source_surface (cr, seen, m.x - LOUPE_PX, m.y - LOUPE_PX);
  cairo_paint (cr);
  paint_loupe_lines (p, i, m);
  cairo_restore (cr);
  cairo_new_path (cr);
  cairo_arc (cr, m.x, m.y, LOUPE_PX, 0, 2 * G_PI);
  stroke_twice (p, p->colours->tag_ink, 1.5);
  cairo_restore (cr);
  cairo_surface_destroy (seen);
}

static void
paint_size (const Paint *p)
{
  guint n = app_tracing_n_handles (p->t);
  if (p->t->set.by == APP_TRACING_BY_SHEET && n == 4)
    paint_sheet (p);
  else if (p->t->set.by == APP_TRACING_BY_DISTANCE)
    paint_distance (p);
  for (guint i = 0; i < n; i++)
    paint_handle (p, i);
  int shown = app_tracing_is_holding (p->t) ? p->t->held : p->t->active;
  if (shown >= 0 && shown < (int)n)
    paint_loupe (p, (guint)shown);
}

/* --- outlines --------------------------------------------------------------------------- */

static void
path_line (const Paint *p, const TracingLine *line)
{
  cairo_new_path (p->cr);
  for (gsize i = 0; i < line->chain.count; i++)
    {
      const GeoCubic *c = &line->chain.cubics[i];
      GeoPoint q[4] = { app_view_to_px (p->view, c->p[0]),
                        app_view_to_px (p->view, c->p[1]),
                        app_view_to_px (p->view, c->p[2]),
                        app_view_to_px (p->view, c->p[3]) };
      if (i == 0)
        cairo_move_to (p->cr, q[0].x, q[0].y);
      cairo_curve_to (p->cr, q[1].x, q[1].y, q[2].x, q[2].y, q[3].x, q[3].y);
    }
  if (line->closed)
    cairo_close_path (p->cr);
}

static void
paint_nodes (const Paint *p, const TracingLine *line)
{
  cairo_t *cr = p->cr;
  gsize n = line->chain.count + (line->closed ? 0 : 1);
  for (gsize i = 0; i < n; i++)
    {
      const GeoCubic *c = &line->chain.cubics[MIN (i, line->chain.count - 1)];
      GeoPoint at
          = app_view_to_px (p->view, i < line->chain.count ? c->p[0] : c->p[3]);
      cairo_new_path (cr);
      if (line->corner != NULL && line->corner[i])
        cairo_rectangle (cr, at.x - 3.5, at.y - 3.5, 7, 7);
      else
        cairo_arc (cr, at.x, at.y, 3.2, 0, 2 * G_PI);
      app_colour (cr, p->colours->node);
      cairo_fill_preserve (cr);
      app_colour (cr, p->colours->lit);
      cairo_set_line_width (cr, 1.4);
      cairo_stroke (cr);
    }
}

static void
paint_darts (const Paint *p, const TracingLine *line)
{
  cairo_t *cr = p->cr;
  for (gsize i = 0; i < line->n_darts; i++)
    {
      const TracingDart *dart = &line->darts[i];
      gsize at[3] = { dart->start, dart->tip, dart->end };
      cairo_new_path (cr);
      for (int k = 0; k < 3; k++)
        {
          GeoPoint px = app_view_to_px (
              p->view, line->chain.cubics[at[k] % line->chain.count].p[0]);
          cairo_line_to (cr, px.x, px.y);
        }
      cairo_close_path (cr);
      DrawingColour fill = p->colours->partner;
      fill.a = 0.45;
      app_colour (cr, fill);
      cairo_fill_preserve (cr);
      cairo_set_dash (cr, (double[]){ 6, 4 }, 2, 0);
      stroke_twice (p, p->colours->partner, 1.8);
      cairo_set_dash (cr, NULL, 0, 0);
    }
}

/* A tick where it is taken, an empty ring where it is left. */
static void
paint_badge (const Paint *p, const TracingLine *line, gboolean taken)
{
  cairo_t *cr = p->cr;
  GeoBox box = app_view_box_to_px (p->view, geo_chain_bounds (&line->chain));
  GeoPoint m = line->closed
                   ? geo_box_centre (box)
                   : app_view_to_px (p->view, line->chain.cubics[0].p[0]);
  if (geo_box_width (box) < 3 * BADGE_PX && geo_box_height (box) < 3 * BADGE_PX)
    return;
  cairo_new_path (cr);
  cairo_arc (cr, m.x, m.y, BADGE_PX, 0, 2 * G_PI);
  app_colour (cr, taken ? p->colours->lit : p->colours->tag);
  cairo_fill_preserve (cr);
  app_colour (cr, taken ? p->colours->node : p->colours->tag_faint);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
  if (!taken)
    return;
  cairo_move_to (cr, m.x - 5.5, m.y + 0.5);
  cairo_line_to (cr, m.x - 1.5, m.y + 4.5);
  cairo_line_to (cr, m.x + 6, m.y - 4.5);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_width (cr, 2.6);
  cairo_stroke (cr);
}

static void
paint_line (const Paint *p, guint i)
{
  const TracingLine *line = app_tracing_get_line (p->t, i);
  gboolean taken = app_tracing_is_taken (p->t, i);
  gboolean over = app_tracing_get_hover (p->t) == (int)i;
  cairo_t *cr = p->cr;
  if (line->chain.count == 0)
    return;
  path_line (p, line);
  if (over && line->closed)
    {
      DrawingColour fill = p->colours->lit;
      fill.a = 0.16;
      app_colour (cr, fill);
      cairo_fill_preserve (cr);
    }
  if (!taken)
    cairo_set_dash (cr, (double[]){ 7, 6 }, 2, 0);
  stroke_twice (p, taken ? p->colours->lit : p->colours->tag_faint,
                over ? 3 : 2);
  cairo_set_dash (cr, NULL, 0, 0);
  if (taken)
    paint_nodes (p, line);
  if (taken && p->t->set.darts)
    paint_darts (p, line);
}

static void
paint_outlines (const Paint *p)
{
  guint n = app_tracing_n_lines (p->t);
  for (guint i = 0; i < n; i++)
    paint_line (p, i);
  for (guint i = 0; i < n; i++)
    if (app_tracing_get_line (p->t, i)->hole_of < 0)
      paint_badge (p, app_tracing_get_line (p->t, i),
                   app_tracing_is_taken (p->t, i));
}

void
app_tracing_paint (AppTracing *t, cairo_t *cr, const AppView *view, GeoBox area,
                   gboolean dark)
{
  Paint p = { t, cr, view, area, app_palette (dark) };
  cairo_save (cr);
  cairo_rectangle (cr, area.x0, area.y0, geo_box_width (area),
                   geo_box_height (area));
  cairo_clip (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  if (t->set.stage == APP_TRACING_SIZE)
    paint_size (&p);
  else if (t->set.stage == APP_TRACING_OUTLINE)
    paint_outlines (&p);
  cairo_restore (cr);
}
