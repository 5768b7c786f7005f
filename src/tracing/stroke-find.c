/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a picture of drawn lines to their centre lines in mm. */
#include "tracing/stroke-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define FINEST 8.0      /* cells a mm: finer pictures are made smaller */
#define GRAIN 0.4       /* mm from place to place, at least 1.5 px */
#define MOST_WAYS 20000 /* more is a texture */
#define MOST_LINES 300

typedef struct
{
  TracingPicture *picture;
  const TracingPlane *plane;
  const TracingStrokeWish *wish;
  TracingTick tick;
  gpointer data;
  double dots; /* px a mm */
} Search;

static gboolean
fail (GError **error, TracingError code, const char *message)
{
  g_set_error_literal (error, TRACING_ERROR, code, message);
  return FALSE;
}

static gboolean
go_on (const Search *search, double share, GError **error)
{
  return search->tick == NULL || search->tick (share, search->data)
         || fail (error, TRACING_ERROR_CANCELLED,
                  _ ("Tracing was left off; nothing was changed."));
}

static gboolean
fail_much (GError **error)
{
  return fail (error, TRACING_ERROR_TOO_MUCH,
               _ ("There is more in this picture than could be drawn lines: "
                  "it looks like a texture. Try another level, or draw on "
                  "plain paper."));
}

/* Ways that keep to the picture's border: a shadow or a sheet's own edge cut off there. */
static void
drop_border (const Search *search, StrokeGraph *graph)
{
  double w = tracing_picture_get_width (search->picture);
  double h = tracing_picture_get_height (search->picture);
  double rim = 0.6 * search->wish->widest * search->dots + 4;
  for (guint i = graph->ways->len; i-- > 0;)
    {
      const GArray *points = g_array_index (graph->ways, StrokeWay, i).points;
      guint near = 0;
      for (guint k = 0; k < points->len; k++)
        {
          GeoPoint p = g_array_index (points, GeoPoint, k);
          near += fmin (fmin (p.x, p.y), fmin (w - p.x, h - p.y)) < rim;
        }
      if (near > 0.7 * points->len)
        g_array_remove_index_fast (graph->ways, i);
    }
}

static double
trail_distance (const StrokeTrail *trail, GeoPoint at)
{
  double best = INFINITY;
  for (guint i = 0; i < trail->points->len; i++)
    best = fmin (best,
                 geo_distance (at, g_array_index (trail->points, GeoPoint, i)));
  return best;
}

static int
by_length (gconstpointer a, gconstpointer b)
{
  double x = ((const StrokeTrail *)a)->length;
  double y = ((const StrokeTrail *)b)->length;
  return (x < y) - (x > y);
}

/* Those long enough, the longest first; or the one clicked. */
static void
choose (const Search *search, GArray *trails)
{
  double least = search->wish->least_length * search->dots;
  gssize nearest = -1;
  g_array_sort (trails, by_length);
  for (guint i = trails->len; i-- > 0;)
    if (g_array_index (trails, StrokeTrail, i).length < 0.9 * least
        || g_array_index (trails, StrokeTrail, i).points->len < 4)
      g_array_remove_index (trails, i);
  if (!search->wish->clicked)
    return;
  double best = 20 * search->dots;
  for (guint i = 0; i < trails->len; i++)
    {
      double far = trail_distance (&g_array_index (trails, StrokeTrail, i),
                                   search->wish->at);
      if (far < best)
        {
          best = far;
          nearest = (gssize)i;
        }
    }
  for (guint i = trails->len; i-- > 0;)
    if ((gssize)i != nearest)
      g_array_remove_index (trails, i);
}

static gboolean
lay_trails (const Search *search, const GArray *trails, GArray *lines,
            GError **error)
{
  TracingView view = tracing_view_of (search->picture);
  const TracingStrokeWish *wish = search->wish;
  for (guint i = 0; i < trails->len; i++)
    {
      const StrokeTrail *trail = &g_array_index (trails, StrokeTrail, i);
      TracingLine line = { 0 };
      double width, spacing = CLAMP (GRAIN * search->dots, 1.5, 9);
      if (!go_on (search, 0.5 + 0.5 * i / trails->len, error))
        return FALSE;
      g_autoptr (GArray) points
          = stroke_centre (&view, search->plane, trail, spacing,
                           wish->widest * search->dots, &width);
      if (points == NULL
          || !tracing_line_fit ((const GeoPoint *)(gpointer)points->data,
                                points->len, trail->closed, wish->tolerance,
                                spacing / search->dots, &line))
        continue;
      line.hole_of = -1;
      line.blur = width;
      g_array_append_val (lines, line);
    }
  return TRUE;
}

/* The graph of what is drawn; width: of strokes, px, about. */
static gboolean
find_graph (const Search *search, StrokeGraph *graph, double *width,
            GError **error)
{
  const TracingStrokeWish *wish = search->wish;
  guint shrink = (guint)CLAMP (search->dots / FINEST, 1, 16);
  double cells = search->dots / shrink;
  gsize before;
  if (tracing_picture_get_width (search->picture) / shrink < 8
      || tracing_picture_get_height (search->picture) / shrink < 8)
    return fail (error, TRACING_ERROR_NOTHING,
                 _ ("The picture is too small to follow a line in it."));
  StrokeMap map = stroke_map_new (search->picture, shrink, wish->widest * cells,
                                  wish->level);
  gboolean good = go_on (search, 0.25, error);
  gsize thin = good ? stroke_thin (&map, &before) : 0;
  if (good && thin == 0 && before > 0)
    good = fail_much (error);
  if (good)
    {
      *width = thin > 0 ? (double)before / (double)thin * shrink : 0;
      *graph = stroke_graph_new (
          &map,
          fmin (fmax (1.2 * *width, 1.0 * search->dots), 2 * search->dots));
    }
  g_free (map.map.at);
  return good;
}

static gboolean
find_lines (const Search *search, GArray *lines, GError **error)
{
  StrokeGraph graph;
  double width, dots = search->dots;
  if (!go_on (search, 0, error) || !find_graph (search, &graph, &width, error))
    return FALSE;
  drop_border (search, &graph);
  gboolean good = (graph.ways->len <= MOST_WAYS || fail_much (error))
                  && go_on (search, 0.45, error);
  if (good)
    {
      /* thinning takes half a width from each end */
      stroke_bridge (&graph, search->wish->gap * dots + width, dots);
      g_autoptr (GArray) trails = stroke_follow (&graph, search->dots);
      choose (search, trails);
      good = trails->len <= MOST_LINES || fail_much (error);
      good = good && lay_trails (search, trails, lines, error);
    }
  stroke_graph_clear (&graph);
  return good;
}

GArray *
tracing_find_strokes (TracingPicture *picture, const TracingPlane *plane,
                      const TracingStrokeWish *wish, TracingTick tick,
                      gpointer data, GError **error)
{
  g_return_val_if_fail (plane != NULL && wish->tolerance > 0, NULL);
  GeoPoint middle = { tracing_picture_get_width (picture) / 2.0,
                      tracing_picture_get_height (picture) / 2.0 };
  Search search = { picture, plane, wish,
                    tick,    data,  tracing_plane_dots (plane, middle) };
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (TracingLine));
  GError *own = NULL;
  g_array_set_clear_func (lines, tracing_line_clear);
  if (find_lines (&search, lines, &own) && lines->len == 0)
    fail (&own, TRACING_ERROR_NOTHING,
          wish->clicked
              ? _ ("No drawn line was found there. Click nearer to it, or try "
                   "another level.")
              : _ ("No drawn line was found. Try another level, or follow it "
                   "by hand."));
  if (own != NULL)
    {
      g_clear_pointer (&lines, g_array_unref);
      g_propagate_error (error, own);
    }
  return lines;
}
