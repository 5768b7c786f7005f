/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In the dart's own frame: the point at 0, 0, x along the middle line, a leg's end at L, h. The leg is straight
 * from its end to Q at x = r, and would there aim at V = v, 0; from Q it is an arc that comes to the
 * point at q times its angle off the line. An arc's chord lies half way between its end directions:
 *   (r - v) / r = (1 + q) / 2,   v = r (1 - q) / 2.
 * Of the whole angle 2 a = 2 atan (h / (L - v)) the point keeps q and the arc has the rest, over r; the
 * sharpest window of length w has
 *   2 a (q + (1 - q) w / r),
 * which is to be the limit. a hangs on q only weakly, so that a few rounds give q. */
#include "drafting/torso-dart.h"

#include "drafting/trace.h"
#include "geometry/length.h"
#include "sewing/shaping.h"

#define LIMIT ((SEWING_SHARP_DEG - 1) * 3.14159265358979323846 / 180)
#define MOST_OF_LEG 0.7 /* may be bent */
#define LEAST_KEPT 0.05
#define ROUNDS 60

static double
kept_at_point (double length, double half, double r)
{
  double w = SEWING_SHARP_WINDOW;
  if (r <= 1.5 * w || 2 * atan2 (half, length) <= LIMIT)
    return 1;
  double q = 1;
  for (int i = 0; i < ROUNDS; i++)
    {
      double v = r * (1 - q) / 2;
      double whole = 2 * atan2 (half, length - v);
      double next = (LIMIT / whole - w / r) / (1 - w / r);
      q = fmin (fmax (next, LEAST_KEPT), 1);
    }
  return q;
}

/* From the frame to the table: x along e, y along n. */
static GeoPoint
place (GeoPoint point, GeoPoint e, GeoPoint n, double x, double y)
{
  return geo_along (geo_along (point, e, x), n, y);
}

void
drafting_torso_dart (DraftingTorsoDart *dart, GeoPoint point, GeoPoint one,
                     GeoPoint other, double taper)
{
  GeoPoint axis = geo_sub (geo_lerp (one, other, 0.5), point);
  double length = geo_norm (axis), half = geo_distance (one, other) / 2;
  double r = fmin (taper, MOST_OF_LEG * length);
  double q = kept_at_point (length, half, r);
  double v = r * (1 - q) / 2;
  double a = length > v ? atan2 (half, length - v) : 0;
  GeoPoint e = geo_unit (axis);
  GeoPoint n = geo_unit (geo_sub (other, one));
  *dart = (DraftingTorsoDart){ .length = length, .half_angle = a };
  for (int i = 0; i < 2; i++)
    {
      double way = i == 0 ? -1 : 1;
      GeoPoint end = i == 0 ? one : other;
      GeoPoint bend = place (point, e, n, r, way * (r - v) * tan (a));
      GeoPoint out = geo_unit (geo_sub (bend, end));
      GeoPoint in
          = place (geo_point (0, 0), e, n, -cos (q * a), -way * sin (q * a));
      if (q == 1 || r <= 0)
        {
          bend = geo_lerp (point, end, 0.5);
          dart->legs[i][1] = geo_cubic_line (bend, point);
        }
      else
        dart->legs[i][1] = drafting_trace_arc (bend, out, point, in);
      dart->legs[i][0] = geo_cubic_line (end, bend);
    }
  dart->leg = geo_cubic_length (&dart->legs[0][0], 1e-11)
              + geo_cubic_length (&dart->legs[0][1], 1e-11);
}
