/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pins.h"

#include "geometry/region.h"

static const double head_px = 7, grab_px = 14;
/* Longer ones only where there is no room for the short. */
static const double shafts_px[] = { 26, 42, 60 };
#define WAYS 16

typedef struct
{
  const GArray *pins; /* laid so far */
  GeoBox area;        /* for heads */
  const GeoBox *boxes;
  guint n;
  GeoPoint point;
  gboolean within[WAYS]; /* a short pin's head would lie on the piece */
} Laying;

static GeoPoint
way_of (guint way)
{
  double angle = 2 * G_PI * way / WAYS - G_PI / 3;
  return geo_point (cos (angle), sin (angle));
}

/* How far out of a box a point lies at least, over both sides; < 0 inside. */
static double
out_of (GeoBox box, GeoPoint p)
{
  return fmax (fmax (box.x0 - p.x, p.x - box.x1),
               fmax (box.y0 - p.y, p.y - box.y1));
}

static double
crowding (const Laying *lay, GeoPoint head)
{
  double cost = 0;
  for (guint i = 0; i < lay->pins->len; i++)
    {
      const AppPin *pin = &g_array_index (lay->pins, AppPin, i);
      double apart = geo_distance (pin->head, head);
      if (apart < 2 * head_px + 6)
        cost += 3000 + 50 * (2 * head_px + 6 - apart);
      if (geo_distance (pin->point, head) < head_px + 4)
        cost += 200;
    }
  return cost;
}

static double
covering (const Laying *lay, GeoPoint head)
{
  double cost = 0;
  for (guint i = 0; i < lay->n; i++)
    {
      double clear = out_of (lay->boxes[i], head);
      if (clear < head_px + 2)
        cost += 2000 + 20 * (head_px + 2 - clear);
      /* The shaft does less harm. */
      for (int k = 1; k <= 3; k++)
        if (out_of (lay->boxes[i], geo_lerp (lay->point, head, k / 4.0)) < 2)
          cost += 80;
    }
  return cost;
}

static double
cost_of (const Laying *lay, guint way, double shaft, GeoPoint head)
{
  double outside = fmax (out_of (lay->area, head), 0);
  double turned = fmin (way, WAYS - way) * 2.0 / WAYS;
  return (outside > 0 ? 1e6 + 1e3 * outside : 0) + crowding (lay, head)
         + covering (lay, head) + (lay->within[way] ? 60 : 0) + 30 * turned
         + 1.2 * (shaft - shafts_px[0]);
}

static GeoPoint
lay_head (const Laying *lay)
{
  GeoPoint best = lay->point;
  double least = INFINITY;
  for (guint s = 0; s < G_N_ELEMENTS (shafts_px); s++)
    for (guint way = 0; way < WAYS; way++)
      {
        GeoPoint head = geo_along (lay->point, way_of (way), shafts_px[s]);
        double cost = cost_of (lay, way, shafts_px[s], head);
        if (cost < least)
          {
            least = cost;
            best = head;
          }
      }
  return best;
}

static void
find_ways_within (Laying *lay, AppSession *session, const AppView *view,
                  guint piece_id)
{
  const PatternPiece *piece
      = piece_id != 0
            ? pattern_get_piece (app_session_get_shown (session), piece_id)
            : NULL;
  const SewingPiece *facts
      = piece != NULL
            ? sewing_facts_piece (app_session_get_facts (session), piece)
            : NULL;
  for (guint way = 0; way < WAYS; way++)
    {
      GeoPoint at = app_view_to_mm (
          view, geo_along (lay->point, way_of (way), shafts_px[0]));
      lay->within[way] = facts != NULL && facts->ring.outline.count > 0
                         && out_of (facts->bounds, at) <= 0
                         && geo_chain_contains (&facts->ring.outline, at);
    }
}

GArray *
app_pins_lay (AppSession *session, const AppView *view, GeoBox area,
              const GeoBox *boxes, guint n)
{
  GArray *pins = g_array_new (FALSE, FALSE, sizeof (AppPin));
  const GPtrArray *findings = app_session_get_findings (session);
  Laying lay = { .pins = pins,
                 .area = geo_box_grow (area, -(head_px + 4)),
                 .boxes = boxes,
                 .n = n };
  for (guint i = 0; findings != NULL && i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      AppPin pin
          = { .point = app_view_to_px (view, finding->at), .finding = i };
      if (out_of (area, pin.point) > 0)
        continue;
      lay.point = pin.point;
      find_ways_within (&lay, session, view, finding->piece);
      pin.head = lay_head (&lay);
      g_array_append_val (pins, pin);
    }
  return pins;
}

int
app_pins_hit (const GArray *pins, GeoPoint px)
{
  int best = -1;
  double nearest = grab_px;
  for (guint i = 0; pins != NULL && i < pins->len; i++)
    {
      double d = geo_distance (g_array_index (pins, AppPin, i).head, px);
      if (d < nearest)
        {
          nearest = d;
          best = (int)i;
        }
    }
  return best;
}

GeoBox
app_pin_box (const AppPin *pin)
{
  GeoBox box = geo_box_add (geo_box_empty (), pin->point);
  return geo_box_grow (geo_box_add (box, pin->head), head_px + 6);
}

static void
paint_shaft (cairo_t *cr, const AppPin *pin, const AppPalette *colours)
{
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_move_to (cr, pin->point.x + 2, pin->point.y + 2);
  cairo_line_to (cr, pin->head.x + 3, pin->head.y + 4);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.15);
  cairo_set_line_width (cr, 2.5);
  cairo_stroke (cr);
  cairo_move_to (cr, pin->point.x, pin->point.y);
  cairo_line_to (cr, pin->head.x, pin->head.y);
  app_colour (cr, colours->pin_shaft);
  cairo_set_line_width (cr, 1.8);
  cairo_stroke (cr);
  /* The hole it is stuck through. */
  cairo_arc (cr, pin->point.x, pin->point.y, 1.8, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
head_path (cairo_t *cr, GeoPoint at, const SewingFinding *finding, double r)
{
  cairo_new_sub_path (cr);
  if (!finding->set_aside && finding->weight == SEWING_LOOK)
    cairo_rectangle (cr, at.x - r * 0.88, at.y - r * 0.88, r * 1.76, r * 1.76);
  else
    cairo_arc (cr, at.x, at.y, r, 0, 2 * G_PI);
}

void
app_paint_pin (cairo_t *cr, const AppPin *pin, const SewingFinding *finding,
               gboolean hovered, const AppPalette *colours)
{
  cairo_save (cr);
  cairo_new_path (cr);
  paint_shaft (cr, pin, colours);
  DrawingColour head = finding->set_aside               ? colours->pin_aside
                       : finding->weight == SEWING_MEND ? colours->pin_mend
                                                        : colours->pin_look;
  double r = hovered ? head_px + 2 : head_px;
  head_path (cr, pin->head, finding, r);
  app_colour (cr, colours->halo);
  cairo_set_line_width (cr, 3);
  cairo_stroke_preserve (cr);
  if (finding->set_aside)
    {
      app_colour (cr, colours->table);
      cairo_fill_preserve (cr);
      app_colour (cr, head);
      cairo_set_line_width (cr, 2.5);
      cairo_stroke (cr);
    }
  else
    {
      app_colour (cr, head);
      cairo_fill (cr);
      /* The glass catches the lamp. */
      cairo_arc (cr, pin->head.x - r * 0.3, pin->head.y - r * 0.35, r * 0.28, 0,
                 2 * G_PI);
      cairo_set_source_rgba (cr, 1, 1, 1, 0.65);
      cairo_fill (cr);
    }
  cairo_restore (cr);
}
