/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places of a in order, each with its foot on b. As long as the feet go
 * forward from b's start to its end, and neither chain turns much between two of
 * them, every place of b is the foot of some place of a just as far away, so one
 * way round stands for both. Between samples the distance is refined by the
 * parabola through three of them wherever the middle one is the largest.
 */
#include "geometry/apart.h"

#include "geometry/foot.h"
#include "geometry/nearest.h"

#define SAMPLES 16 /* a cubic of a */
/* Cosine of the most that may turn unseen, and of the most the two may differ
 * in direction. */
#define BLIND 0.8
#define ASTRAY 0.6

typedef struct
{
  GeoPlace place;
  GeoFoot foot;
  GeoPoint a_way, b_way;
} Sample;

static GeoPoint
way_at (const GeoCubic *c, double t)
{
  GeoPoint v = geo_cubic_velocity (c, t);
  double n = sqrt (geo_dot (v, v)), size = 0;
  for (int i = 0; i < 3; i++)
    size += fabs (c->p[i + 1].x - c->p[i].x) + fabs (c->p[i + 1].y - c->p[i].y);
  if (!(n > 1e-6 * size))
    return geo_cubic_tangent (c, t);
  return geo_scale (v, 1 / n);
}

static void
take (const GeoChain *a, const GeoChain *b, GeoPlace place, Sample *s)
{
  const GeoCubic *c = &a->cubics[place.cubic];
  s->place = place;
  geo_foot_find (b->cubics, b->count, false, geo_cubic_point (c, place.t), 8,
                 &s->foot);
  s->a_way = way_at (c, place.t);
  s->b_way = way_at (&b->cubics[s->foot.cubic], s->foot.u);
}

/* Whether the distance is square to b, but for the very ends. */
static bool
is_square (const Sample *s)
{
  double along = s->foot.far * s->foot.far - s->foot.off * s->foot.off;
  return along <= 1e-4 * s->foot.far * s->foot.far + 1e-16;
}

static bool
follows (const Sample *before, const Sample *s)
{
  GeoPlace p = { before->foot.cubic, before->foot.u - 1e-9 };
  GeoPlace q = { s->foot.cubic, s->foot.u };
  bool joint = s->foot.cubic != before->foot.cubic;
  return geo_place_compare (p, q) <= 0
         && geo_dot (s->a_way, before->a_way) > BLIND
         && geo_dot (s->b_way, before->b_way) > (joint ? BLIND - 0.1 : BLIND)
         && geo_dot (s->a_way, s->b_way) > ASTRAY && is_square (s);
}

/* The distance at the top of the parabola through three samples of one cubic, if
 * it lies among them and may be more than most; less than 0 where that place has
 * no foot of its own. */
static double
peak (const GeoChain *a, const GeoChain *b, const Sample s[3], double most)
{
  double e0 = s[0].foot.far, e1 = s[1].foot.far, e2 = s[2].foot.far;
  double bend = e0 - 2 * e1 + e2;
  double shift = bend < 0 ? 0.5 * (e0 - e2) / bend : 0;
  Sample top = s[1];
  if (shift == 0 || fabs (shift) > 1
      || e1 + 0.25 * (e2 - e0) * shift < 0.98 * most)
    return e1;
  double step = s[1].place.t - s[0].place.t;
  take (a, b, (GeoPlace){ s[1].place.cubic, s[1].place.t + shift * step },
        &top);
  return is_square (&top) ? fmax (e1, top.foot.far) : -1;
}

/* False where the chains do not run side by side. */
static bool
follow (const GeoChain *a, const GeoChain *b, double *most)
{
  Sample s[3];
  *most = fmax (geo_distance (geo_chain_start (a), geo_chain_start (b)),
                geo_distance (geo_chain_end (a), geo_chain_end (b)));
  s[2] = (Sample){ .place = { 0, 0 } };
  s[2].a_way = way_at (a->cubics, 0);
  s[2].b_way = way_at (b->cubics, 0);
  s[2].foot.far = *most;
  if (geo_dot (s[2].a_way, s[2].b_way) < ASTRAY)
    return false;
  for (size_t i = 0; i < a->count; i++)
    for (int k = i == 0 ? 1 : 0; k <= SAMPLES; k++)
      {
        s[0] = s[1];
        s[1] = s[2];
        take (a, b, (GeoPlace){ i, k / (double)SAMPLES }, &s[2]);
        if (!follows (&s[1], &s[2]))
          return false;
        *most = fmax (*most, s[2].foot.far);
        double top = k < 2 ? 0 : peak (a, b, s, *most);
        if (top < 0)
          return false;
        *most = fmax (*most, top);
      }
  return s[2].foot.cubic + 1 == b->count
         && geo_distance (
                geo_cubic_point (&b->cubics[b->count - 1], s[2].foot.u),
                geo_chain_end (b))
                <= *most + 1e-12;
}

double
geo_chain_apart (const GeoChain *a, const GeoChain *b)
{
  double most;
  if (a->count == 0 || b->count == 0)
    return a->count == b->count ? 0 : INFINITY;
  if (follow (a, b, &most))
    return most;
  return fmax (geo_chain_stray (a, b, 33, NULL),
               geo_chain_stray (b, a, 33, NULL));
}
