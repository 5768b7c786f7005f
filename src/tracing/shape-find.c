/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a parted picture to the outlines in it. */
#include "tracing/shape-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_SHAPES 120
#define GRAIN 0.4 /* mm from place to place, at least 1.5 px */

typedef struct
{
  const TracingParts *parts;
  const TracingPlane *plane;
  const TracingShapeWish *wish;
  double dots;
  double opened; /* px: lines as wide as that were taken away */
} Search;

static gboolean
fail (GError **error, TracingError code, const char *message)
{
  g_set_error_literal (error, TRACING_ERROR, code, message);
  return FALSE;
}

/* In mm2, by its places. */
static double
true_area (const Search *search, const ShapeLoop *loop)
{
  double area = 0;
  guint n = loop->points->len;
  GeoPoint first = tracing_plane_to_mm (
      search->plane, g_array_index (loop->points, GeoPoint, 0));
  GeoPoint a = first;
  for (guint i = 1; i <= n; i++)
    {
      GeoPoint b = i < n ? tracing_plane_to_mm (
                       search->plane, g_array_index (loop->points, GeoPoint, i))
                         : first;
      area += 0.5 * geo_cross (geo_sub (a, first), geo_sub (b, first));
      a = b;
    }
  return area;
}

/* Which loops are wanted, by the wish; holes go by the loop they are in. */
static gboolean *
choose (const Search *search, const GArray *loops, const double *area)
{
  const TracingShapeWish *wish = search->wish;
  gboolean *chosen = g_new0 (gboolean, loops->len + 1);
  gssize best = -1;
  for (guint i = 0; i < loops->len; i++)
    {
      const ShapeLoop *loop = &g_array_index (loops, ShapeLoop, i);
      chosen[i] = loop->area > 0 && fabs (area[i]) >= wish->least_area
                  && (wish->touching || !loop->touches);
      if (wish->clicked)
        chosen[i] = chosen[i] && shape_loop_holds (loop, wish->at);
      /* the innermost that was clicked, or the largest of all */
      gboolean less = best >= 0 && fabs (area[i]) < fabs (area[best]);
      if (chosen[i] && (best < 0 || (wish->clicked ? less : !less)))
        best = (gssize)i;
    }
  for (guint i = 0; i < loops->len && (wish->largest || wish->clicked); i++)
    chosen[i] = (gssize)i == best;
  for (guint i = 0; i < loops->len; i++)
    {
      const ShapeLoop *loop = &g_array_index (loops, ShapeLoop, i);
      if (loop->area < 0)
        chosen[i] = wish->holes && loop->parent >= 0 && chosen[loop->parent]
                    && fabs (area[i]) >= wish->least_area && !loop->touches;
    }
  return chosen;
}

/* A hole, too, is given with positive area, so its places are turned round. */
static gboolean
lay_loop (const Search *search, const ShapeLoop *loop, TracingLine *line)
{
  GeoPoint middle = geo_box_centre (loop->box);
  double dots = tracing_plane_dots (search->plane, middle), blur;
  double spacing = CLAMP (GRAIN * dots, 1.5, 9);
  g_autoptr (GArray) places = shape_edge_places (
      &search->parts->full, loop, search->parts->shrink, spacing, &blur);
  ShapePlace *p = (ShapePlace *)(gpointer)places->data;
  double area = 0;
  for (guint n = places->len, i = 0; i < n; i++)
    p[i].at = tracing_plane_to_mm (search->plane, p[i].at);
  for (guint n = places->len, i = 0; i < n; i++)
    area += geo_cross (geo_sub (p[i].at, p[0].at),
                       geo_sub (p[(i + 1) % n].at, p[0].at));
  for (guint n = places->len, i = 0; i < n / 2 && area < 0; i++)
    {
      ShapePlace t = p[i];
      p[i] = p[n - 1 - i];
      p[n - 1 - i] = t;
    }
  if (!shape_lay_line (p, places->len, TRUE, search->wish->tolerance,
                       spacing / dots, blur / dots, search->opened / dots,
                       line))
    return FALSE;
  line->cut_off = loop->touches;
  return TRUE;
}

typedef struct
{
  guint loop;
  double area;
} Rank;

static int
compare (const void *a, const void *b)
{
  double x = ((const Rank *)a)->area, y = ((const Rank *)b)->area;
  return (x < y) - (x > y);
}

/* Chosen loops, the largest first, each followed by its holes. */
static GArray *
rank_loops (const GArray *loops, const gboolean *chosen, const double *area)
{
  GArray *outer = g_array_new (FALSE, FALSE, sizeof (Rank));
  GArray *all = g_array_new (FALSE, FALSE, sizeof (Rank));
  for (guint i = 0; i < loops->len; i++)
    {
      Rank rank = { i, fabs (area[i]) };
      if (chosen[i] && g_array_index (loops, ShapeLoop, i).area > 0)
        g_array_append_val (outer, rank);
    }
  g_array_sort (outer, compare);
  for (guint k = 0; k < outer->len; k++)
    {
      Rank rank = g_array_index (outer, Rank, k);
      guint first = all->len + 1;
      g_array_append_val (all, rank);
      for (guint i = 0; i < loops->len; i++)
        {
          Rank hole = { i, fabs (area[i]) };
          if (chosen[i] && g_array_index (loops, ShapeLoop, i).area < 0
              && g_array_index (loops, ShapeLoop, i).parent
                     == (gssize)rank.loop)
            g_array_append_val (all, hole);
        }
      if (all->len > first)
        qsort (&g_array_index (all, Rank, first), all->len - first,
               sizeof (Rank), compare);
    }
  g_array_unref (outer);
  return all;
}

static gboolean
lay_ranked (const Search *search, const GArray *loops, const GArray *ranked,
            GArray *lines, TracingTick tick, gpointer data, GError **error)
{
  gssize parent = -1;
  for (guint k = 0; k < ranked->len; k++)
    {
      const ShapeLoop *loop = &g_array_index (
          loops, ShapeLoop, g_array_index (ranked, Rank, k).loop);
      TracingLine line;
      if (tick != NULL && !tick (0.2 + 0.8 * k / ranked->len, data))
        return fail (error, TRACING_ERROR_CANCELLED,
                     _ ("Tracing was left off; nothing was changed."));
      if (loop->area > 0)
        parent = -1;
      if ((loop->area < 0 && parent < 0) || !lay_loop (search, loop, &line))
        continue;
      line.hole_of = loop->area < 0 ? parent : -1;
      if (loop->area > 0)
        parent = (gssize)lines->len;
      g_array_append_val (lines, line);
    }
  return TRUE;
}

static gboolean
find_lines (const Search *search, GArray *lines, TracingTick tick,
            gpointer data, GError **error)
{
  const TracingParts *parts = search->parts;
  double level = search->wish->level < 0 ? parts->level : search->wish->level;
  const char *much = _ (
      "There is more in this picture than could be pieces: it looks like a "
      "texture. Try another level, or lay the piece on a plain table.");
  ShapeMap open = shape_map_open (
      &parts->small, shape_line_reach (search->dots, parts->shrink));
  /* a third of the least, for what is nearer the camera and what is at its rim */
  double least = search->wish->least_area * search->dots * search->dots / 3;
  g_autoptr (GArray) loops = shape_follow (
      &open, parts->shrink, SHAPE_ZERO + CLAMP (level, 0.02, 0.98) * SHAPE_SPAN,
      fmax (least, 9));
  g_free (open.at);
  if (loops == NULL)
    return fail (error, TRACING_ERROR_TOO_MUCH, much);
  g_autofree double *area = g_new (double, loops->len + 1);
  for (guint i = 0; i < loops->len; i++)
    area[i] = true_area (search, &g_array_index (loops, ShapeLoop, i));
  g_autofree gboolean *chosen = choose (search, loops, area);
  g_autoptr (GArray) ranked = rank_loops (loops, chosen, area);
  if (ranked->len > MOST_SHAPES)
    return fail (error, TRACING_ERROR_TOO_MUCH, much);
  if (!lay_ranked (search, loops, ranked, lines, tick, data, error))
    return FALSE;
  if (lines->len > 0)
    return TRUE;
  return fail (
      error, TRACING_ERROR_NOTHING,
      search->wish->clicked
          ? _ ("No piece was found there. Click well inside of one, or "
               "try another level.")
          : _ (
              "No piece was found that lies wholly in the picture. Try another "
              "level, or take the picture with some table all round."));
}

GArray *
tracing_find_shapes (const TracingParts *parts, const TracingPlane *plane,
                     const TracingShapeWish *wish, TracingTick tick,
                     gpointer data, GError **error)
{
  g_return_val_if_fail (plane != NULL && wish->tolerance > 0, NULL);
  GeoPoint middle = { parts->full.width / 2.0, parts->full.height / 2.0 };
  double dots = tracing_plane_dots (plane, middle);
  guint reach = shape_line_reach (dots, parts->shrink);
  Search search
      = { parts, plane, wish, dots, (2.0 * reach + 1) * parts->shrink };
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (TracingLine));
  g_array_set_clear_func (lines, tracing_line_clear);
  if (!find_lines (&search, lines, tick, data, error))
    g_clear_pointer (&lines, g_array_unref);
  return lines;
}
