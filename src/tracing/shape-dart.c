/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Open darts: notches with two straight sides. */
#include "tracing/shape-private.h"

#include <math.h>

#include "geometry/nearest.h"

#define LEAST_MOUTH 5.0
#define MOST_MOUTH 80.0
#define LEAST_LENGTH 20.0
#define MOST_LENGTH 300.0
#define LIKE 0.85 /* the shorter leg of the longer */

/* The corner before or after a joint; the joint itself where there is no other. */
static gsize
next_corner (const TracingLine *line, gsize joint, int way)
{
  gsize n = line->chain.count;
  for (gsize k = 1; k <= n; k++)
    {
      gsize j = (joint + (way > 0 ? k : n - k)) % n;
      if (line->corner[j])
        return j;
    }
  return joint;
}

/* Whether the line between two joints keeps to the straight one. */
static gboolean
is_straight (const TracingLine *line, gsize from, gsize to)
{
  const GeoChain *chain = &line->chain;
  GeoPoint a = chain->cubics[from].p[0], b = chain->cubics[to].p[0];
  GeoPoint u = geo_unit (geo_sub (b, a));
  double slack = fmax (0.6, 0.012 * geo_distance (a, b));
  for (gsize i = from; i != to; i = (i + 1) % chain->count)
    for (int k = 0; k <= 8; k++)
      {
        GeoPoint p = geo_cubic_point (&chain->cubics[i], k / 8.0);
        if (fabs (geo_cross (u, geo_sub (p, a))) > slack)
          return FALSE;
      }
  return TRUE;
}

void
shape_find_darts (TracingLine *line)
{
  const GeoChain *chain = &line->chain;
  g_autoptr (GArray) darts = g_array_new (FALSE, FALSE, sizeof (TracingDart));
  for (gsize i = 0; line->closed && i < chain->count; i++)
    {
      if (!line->corner[i])
        continue;
      TracingDart dart
          = { next_corner (line, i, -1), i, next_corner (line, i, 1), 0, 0 };
      if (dart.start == i || dart.end == i || dart.start == dart.end)
        continue;
      GeoPoint tip = chain->cubics[i].p[0];
      GeoPoint a = chain->cubics[dart.start].p[0];
      GeoPoint b = chain->cubics[dart.end].p[0];
      double from = geo_distance (a, tip), to = geo_distance (b, tip);
      dart.width = geo_distance (a, b);
      dart.length = geo_distance (geo_lerp (a, b, 0.5), tip);
      /* the outline turns the other way at the tip of a notch */
      if (geo_cross (geo_sub (tip, a), geo_sub (b, tip)) < 0
          && dart.width >= LEAST_MOUTH && dart.width <= MOST_MOUTH
          && dart.length >= LEAST_LENGTH && dart.length <= MOST_LENGTH
          && dart.width < dart.length
          && fmin (from, to) >= LIKE * fmax (from, to)
          && is_straight (line, dart.start, i)
          && is_straight (line, i, dart.end))
        g_array_append_val (darts, dart);
    }
  line->n_darts = darts->len;
  line->darts = darts->len > 0
                    ? g_memdup2 (darts->data, darts->len * sizeof (TracingDart))
                    : NULL;
}
