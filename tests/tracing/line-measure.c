/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "line-measure.h"

#include <math.h>

#include "geometry/nearest.h"

#define SAMPLES 60
#define CORNER 0.3

static double
mean_stray (const GeoChain *chain, const GeoChain *from, double *worst)
{
  double sum = 0, all = 0;
  for (size_t i = 0; i < chain->count; i++)
    {
      GeoPoint before = chain->cubics[i].p[0];
      for (int k = 1; k <= SAMPLES; k++)
        {
          GeoPoint p = geo_cubic_point (&chain->cubics[i], k / (double)SAMPLES);
          double d = geo_chain_nearest (from, p, NULL);
          double length = geo_distance (p, before);
          sum += length * d;
          all += length;
          *worst = fmax (*worst, d);
          before = p;
        }
    }
  return sum / all;
}

static bool
is_corner (const GeoChain *chain, size_t i)
{
  size_t before = (i + chain->count - 1) % chain->count;
  GeoPoint u = geo_cubic_tangent (&chain->cubics[before], 1);
  GeoPoint v = geo_cubic_tangent (&chain->cubics[i], 0);
  return fabs (geo_angle_between (u, v)) > CORNER;
}

LineMeasure
line_measure (const TracingLine *line, const GeoChain *truth)
{
  LineMeasure m = { 0 };
  double there = mean_stray (&line->chain, truth, &m.worst);
  double back = mean_stray (truth, &line->chain, &m.worst);
  m.mean = 0.5 * (there + back);
  m.nodes = (double)line->chain.count / (double)truth->count;
  for (size_t k = 0; k < line->chain.count; k++)
    m.corners += line->corner[k];
  for (size_t i = 0; i < truth->count; i++)
    {
      double near = INFINITY;
      if (!is_corner (truth, i))
        continue;
      m.true_corners++;
      for (size_t k = 0; k < line->chain.count; k++)
        if (line->corner[k])
          near = fmin (near, geo_distance (line->chain.cubics[k].p[0],
                                           truth->cubics[i].p[0]));
      m.corner = fmax (m.corner, near);
    }
  return m;
}

const TracingLine *
line_measure_nearest (const GArray *lines, const GeoChain *truth)
{
  const TracingLine *best = NULL;
  double least = INFINITY;
  GeoBox box = geo_chain_bounds (truth);
  for (guint i = 0; i < lines->len; i++)
    {
      const TracingLine *line = &g_array_index (lines, TracingLine, i);
      GeoBox b = geo_chain_bounds (&line->chain);
      double off = hypot (b.x0 - box.x0, b.y0 - box.y0)
                   + hypot (b.x1 - box.x1, b.y1 - box.y1);
      if (off < least)
        {
          least = off;
          best = line;
        }
    }
  return best;
}
