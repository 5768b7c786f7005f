/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gauss-Legendre quadrature with the number of nodes known beforehand.
 *
 * Written as a complex number, P' is a quadratic h (t) = A (t - r1) (t - r2),
 * and |P'| is the square root of h times its conjugate: analytic except at r1,
 * r2 and their conjugates. Bernstein's bound for Gauss quadrature (Trefethen,
 * Approximation Theory and Approximation Practice, theorem 19.3) falls as
 * rho^(-2n), where rho is the sum of the half axes of the largest ellipse about
 * the interval that keeps clear of those places. The interval is moved to
 * [-1, 1]; a root at z there has |z - 1| + |z + 1| = rho + 1/rho. Squared, with
 * |z - 1|^2 + |z + 1|^2 = 2 |z|^2 + 2,
 *
 *   rho^2 + rho^-2 = 2 (|z|^2 + |z^2 - 1|) = K (1)
 *
 * and with K (n) = rho^2n + rho^-2n the rest needs no root: K (2n) = K (n)^2 - 2,
 * K (m + n) = K (m) K (n) - K (m - n).
 *
 * The constant in front is measured, not proved: the error stays below
 * 0.06 L rho^(-2n) on curves of the kind drawn here, so 0.15 L rho^(-2n) is asked
 * to lie below the tolerance. Where more than 32 nodes would be needed the
 * interval is cut at the offending root's real part, or halved.
 */
#include "geometry/speed.h"

#include "geometry/lanes.h"

#include <stdint.h>
#include <string.h>

#define SAFETY 0.15
#define ELLIPSES 17
#define FIRST_ELLIPSE 6
#define DEEPEST 60
#define BLUR 2e-7
#define HALF 0.5
#define SHARE 0.09

/* Four pairs of nodes at once: square roots are most of the work, and the wide
 * registers take four in the time of two. */
typedef double Four __attribute__ ((vector_size (32)));
typedef double Two __attribute__ ((vector_size (16)));

/* Nodes and weights on [-1, 1], the positive half, of the rules of 8, 16, 24
 * and 32 one after the other; computed with 40 digits from the Legendre
 * polynomials and held against GSL's quadrature in the test. */
static const Four nodes[][2] = {
  { { 0.9602898564975362317, 0.7966664774136267396, 0.5255324099163289858,
      0.1834346424956498049 },
    { 0.1012285362903762592, 0.2223810344533744705, 0.3137066458778872873,
      0.362683783378361983 } },
  { { 0.9894009349916499326, 0.9445750230732325761, 0.8656312023878317439,
      0.7554044083550030339 },
    { 0.02715245941175409485, 0.06225352393864789286, 0.09515851168249278481,
      0.1246289712555338721 } },
  { { 0.6178762444026437484, 0.4580167776572273863, 0.2816035507792589132,
      0.09501250983763744019 },
    { 0.1495959888165767321, 0.1691565193950025382, 0.1826034150449235889,
      0.1894506104550684963 } },
  { { 0.9951872199970213602, 0.9747285559713094982, 0.9382745520027327585,
      0.8864155270044010342 },
    { 0.01234122979998719955, 0.02853138862893366318, 0.04427743881741980617,
      0.05929858491543678075 } },
  { { 0.820001985973902922, 0.7401241915785543642, 0.6480936519369755693,
      0.5454214713888395357 },
    { 0.07334648141108030573, 0.08619016153195327592, 0.09761865210411388827,
      0.1074442701159656348 } },
  { { 0.4337935076260451385, 0.3150426796961633744, 0.1911188674736163092,
      0.06405689286260562609 },
    { 0.1155056680537256014, 0.1216704729278033912, 0.1258374563468282961,
      0.127938195346752157 } },
  { { 0.9972638618494815635, 0.9856115115452683354, 0.9647622555875064308,
      0.9349060759377396892 },
    { 0.0070186100094700966, 0.01627439473090567061, 0.02539206530926205946,
      0.0342738629130214331 } },
  { { 0.896321155766052124, 0.8493676137325699701, 0.794483795967942407,
      0.7321821187402896804 },
    { 0.04283589802222668066, 0.0509980592623761762, 0.05868409347853554715,
      0.06582222277636184684 } },
  { { 0.663044266930215201, 0.587715757240762329, 0.50689990893222939,
      0.4213512761306353454 },
    { 0.07234579410884850623, 0.07819389578707030647, 0.08331192422694675522,
      0.08765209300440381114 } },
  { { 0.3318686022821276498, 0.2392873622521370745, 0.1444719615827964935,
      0.04830766568773831623 },
    { 0.09117387869576388471, 0.09384439908080456564, 0.09563872007927485942,
      0.09654008851472780057 } },
};

/* The rule of 8 n starts at first[n - 1] and is n long. */
static const int first[] = { 0, 1, 3, 6 };

#define RULES 4

static GeoPoint
times (GeoPoint a, GeoPoint b)
{
  return geo_point (a.x * b.x - a.y * b.y, a.x * b.y + a.y * b.x);
}

static GeoPoint
divided (GeoPoint a, GeoPoint b)
{
  double n = 1 / (b.x * b.x + b.y * b.y);
  return geo_point ((a.x * b.x + a.y * b.y) * n, (a.y * b.x - a.x * b.y) * n);
}

static GeoPoint
square_root (GeoPoint a)
{
  double n = sqrt (a.x * a.x + a.y * a.y);
  double re = sqrt (0.5 * (n + fabs (a.x)));
  if (re == 0)
    return geo_point (0, 0);
  double im = a.y / (2 * re);
  if (a.x >= 0)
    return geo_point (re, im);
  return geo_point (fabs (im), copysign (re, a.y));
}

static inline double
square (GeoPoint a)
{
  return a.x * a.x + a.y * a.y;
}

static inline double
larger (double a, double b)
{
  return a > b ? a : b;
}

/* At least its length, at most sqrt 2 times that. */
static inline double
spread (GeoPoint a)
{
  return fabs (a.x) + fabs (a.y);
}

static void
add_root (GeoSpeed *h, GeoPoint r)
{
  h->roots[h->root_count++] = geo_point (2 * r.x - 1, 2 * r.y);
}

/* Roots far outside matter to no rule, so leading terms lost in rounding are
 * left out. */
static void
find_roots (GeoSpeed *h)
{
  double n0 = square (h->v0), n1 = square (h->v1), n2 = square (h->v2);
  double tiny = 1e-28 * (n0 + n1 + n2);
  h->root_count = 0;
  if (n2 <= tiny)
    {
      if (n1 > tiny)
        add_root (h, divided (geo_scale (h->v0, -1), h->v1));
      return;
    }
  if (n2 > 1e-8 * n1)
    {
      /* v1 / v2 is not so large that rounding shows. */
      GeoPoint mean = geo_scale (divided (h->v1, h->v2), -0.5);
      GeoPoint off
          = square_root (geo_sub (times (mean, mean), divided (h->v0, h->v2)));
      add_root (h, geo_sub (mean, off));
      add_root (h, geo_add (mean, off));
      return;
    }
  GeoPoint half = geo_scale (h->v1, -0.5);
  GeoPoint disc = geo_sub (times (half, half), times (h->v2, h->v0));
  GeoPoint root = square_root (disc);
  double sign = geo_dot (root, half) < 0 ? -1 : 1;
  GeoPoint q = geo_along (half, root, sign);
  add_root (h, divided (q, h->v2));
  if (square (q) > tiny)
    add_root (h, divided (h->v0, q));
  else
    h->roots[h->root_count++] = h->roots[0];
}

static inline void
take_cubic (GeoSpeed *h, const GeoCubic *c)
{
  GeoPoint d0 = geo_sub (c->p[1], c->p[0]), d1 = geo_sub (c->p[2], c->p[1]);
  GeoPoint d2 = geo_sub (c->p[3], c->p[2]);
  GeoPoint e0 = geo_sub (d1, d0), e1 = geo_sub (d2, d1);
  h->v0 = geo_scale (d0, 3);
  h->v1 = geo_scale (e0, 6);
  h->v2 = geo_scale (geo_sub (e1, e0), 3);
  h->reach = 3 * larger (spread (d0), larger (spread (d1), spread (d2)));
}

void
geo_speed_init (GeoSpeed *h, const GeoCubic *c)
{
  take_cubic (h, c);
  find_roots (h);
}

double
geo_speed_at (const GeoSpeed *h, double t)
{
  double x = h->v0.x + t * (h->v1.x + t * h->v2.x);
  double y = h->v0.y + t * (h->v1.y + t * h->v2.y);
  return sqrt (x * x + y * y);
}

/* 8 n nodes of the speed on [a, b]. About the middle P' is m + s x + q x^2 at
 * the node x; the node -x has the same even part. */
GEO_WIDE static double
gauss (const GeoSpeed *h, int n, double a, double b)
{
  double centre = 0.5 * (a + b), half = 0.5 * (b - a);
  double mx = h->v0.x + centre * (h->v1.x + centre * h->v2.x);
  double my = h->v0.y + centre * (h->v1.y + centre * h->v2.y);
  double sx = half * (h->v1.x + 2 * centre * h->v2.x);
  double sy = half * (h->v1.y + 2 * centre * h->v2.y);
  double qx = half * half * h->v2.x, qy = half * half * h->v2.y;
  const Four (*node)[2] = nodes + first[n - 1];
  Four sum = { 0, 0, 0, 0 };
  for (int i = 0; i < n; i++)
    {
      Four x = node[i][0], xx = x * x, one, other;
      Four ex = mx + qx * xx, ey = my + qy * xx, ox = sx * x, oy = sy * x;
      Four ax = ex + ox, ay = ey + oy, bx = ex - ox, by = ey - oy;
      Four p = ax * ax + ay * ay, q = bx * bx + by * by;
      for (int k = 0; k < 4; k++)
        one[k] = sqrt (p[k]);
      for (int k = 0; k < 4; k++)
        other[k] = sqrt (q[k]);
      sum += node[i][1] * (one + other);
    }
  double whole = half * ((sum[0] + sum[2]) + (sum[1] + sum[3]));
  geo_wide_leave ();
  return whole;
}

/* sqrt (x^2 + e^2) against |x|: the integrals differ by about e^2 ln (1/e) times
 * the speed's slope, so roots this near to the real axis may count as on it. */
static bool
is_real (const GeoSpeed *h, double x, double y, double over)
{
  if (fabs (y) > BLUR * 2 * over)
    return false;
  double blur = 2 * over * larger (1e-13, BLUR / sqrt (1 + h->reach));
  return fabs (y) <= blur && fabs (x) >= 1 - blur;
}

/* K (1) for [a, b], and the real part of the root that sets it, in t. A root on the
 * real axis at or beyond an end spoils nothing: the speed is |t - r| there,
 * without a bend inside. */
static double
clearance (const GeoSpeed *h, double a, double b, double *nearest)
{
  double least = INFINITY, over = 1 / (b - a);
  for (int i = 0; i < h->root_count; i++)
    {
      /* From [0, 1] as [-1, 1] to [a, b] as [-1, 1]. */
      double x = (h->roots[i].x + 1 - a - b) * over, y = h->roots[i].y * over;
      if (is_real (h, x, y, over))
        continue;
      double xx = x * x, yy = y * y, re = xx - yy - 1, im = 2 * x * y;
      double k = 2 * (xx + yy + sqrt (re * re + im * im));
      if (k < least)
        {
          least = k;
          *nearest = 0.5 * (h->roots[i].x + 1);
        }
    }
  return least;
}

/* Where to cut an interval because of the root nearest to it: through the
 * root, or a share of the width away from an end that is near it. */
static double
cut_at (double a, double b, double nearest, double share)
{
  double width = b - a;
  if (nearest <= a + 0.05 * width)
    return a + share * width;
  if (nearest >= b - 0.05 * width)
    return b - share * width;
  return nearest;
}

/* K (8) of K (1) */
static inline double
eighth (double k)
{
  k = k * k - 2;
  k = k * k - 2;
  return k * k - 2;
}

/* The number of 8 nodes that will do for an interval, 0 if more than RULES. */
static inline int
nodes_needed (double k, double longest, double tolerance)
{
  double k8 = eighth (k), k16 = k8 * k8 - 2, enough = SAFETY * longest;
  if (k8 * tolerance >= enough)
    return 1;
  if (k16 * tolerance >= enough)
    return 2;
  if ((k16 * k8 - k8) * tolerance >= enough)
    return 3;
  return (k16 * k16 - 2) * tolerance >= enough ? 4 : 0;
}

static double
length_between (const GeoSpeed *h, double a, double b, double tolerance,
                int depth)
{
  double at = 0, width = b - a, longest = h->reach * width;
  if (!(width > 0))
    return 0;
  int n = nodes_needed (clearance (h, a, b, &at), longest, tolerance);
  if (n == 0 && (depth == 0 || longest <= tolerance))
    n = RULES;
  if (n > 0)
    return gauss (h, n, a, b);
  double cut = cut_at (a, b, at, SHARE);
  return length_between (h, a, cut, tolerance / 2, depth - 1)
         + length_between (h, cut, b, tolerance / 2, depth - 1);
}

/* Of the ellipses whose rho^2n is 4^(FIRST_ELLIPSE + i): for n = 8 the longer
 * semi-axis, for n = 16 and 24 both, and those for rho^2; rounded up. */
static const struct
{
  double radius;
  Two a1, b1, a2, b2;
} ellipses[ELLIPSES] = {
  { 1.138199,
    { 1.033973, 1.015052 },
    { 0.262868, 0.174156 },
    { 1.138199, 1.060661 },
    { 0.543595, 0.353554 } },
  { 1.189631,
    { 1.046335, 1.020506 },
    { 0.307922, 0.203548 },
    { 1.189631, 1.082864 },
    { 0.644378, 0.415444 } },
  { 1.250000,
    { 1.060661, 1.026811 },
    { 0.353554, 0.233111 },
    { 1.250001, 1.108681 },
    { 0.750001, 0.478721 } },
  { 1.319759,
    { 1.076977, 1.033973 },
    { 0.399850, 0.262868 },
    { 1.319759, 1.138199 },
    { 0.861257, 0.543595 } },
  { 1.399432,
    { 1.095316, 1.041997 },
    { 0.446896, 0.292844 },
    { 1.399432, 1.171515 },
    { 0.978984, 0.610284 } },
  { 1.489616,
    { 1.115710, 1.050891 },
    { 0.494781, 0.323064 },
    { 1.489616, 1.208741 },
    { 1.104064, 0.679009 } },
  { 1.590991,
    { 1.138199, 1.060661 },
    { 0.543595, 0.353554 },
    { 1.590991, 1.250000 },
    { 1.237437, 0.750000 } },
  { 1.704316,
    { 1.162824, 1.071316 },
    { 0.593429, 0.384339 },
    { 1.704316, 1.295432 },
    { 1.380106, 0.823495 } },
  { 1.830444,
    { 1.189631, 1.082864 },
    { 0.644378, 0.415444 },
    { 1.830444, 1.345187 },
    { 1.533142, 0.899738 } },
  { 1.970322,
    { 1.218672, 1.095316 },
    { 0.696535, 0.446896 },
    { 1.970322, 1.399432 },
    { 1.697695, 0.978984 } },
  { 2.125000,
    { 1.250000, 1.108681 },
    { 0.750000, 0.478721 },
    { 2.125000, 1.458347 },
    { 1.875000, 1.061496 } },
  { 2.295641,
    { 1.283675, 1.122972 },
    { 0.804873, 0.510945 },
    { 2.295641, 1.522129 },
    { 2.066390, 1.147552 } },
  { 2.483527,
    { 1.319759, 1.138199 },
    { 0.861257, 0.543595 },
    { 2.483527, 1.590991 },
    { 2.273303, 1.237437 } },
  { 2.690068,
    { 1.358321, 1.154375 },
    { 0.919258, 0.576699 },
    { 2.690068, 1.665163 },
    { 2.497291, 1.331453 } },
  { 2.916816,
    { 1.399432, 1.171515 },
    { 0.978984, 0.610284 },
    { 2.916816, 1.744892 },
    { 2.740039, 1.429911 } },
  { 3.165475,
    { 1.443170, 1.189631 },
    { 1.040547, 0.644378 },
    { 3.165475, 1.830444 },
    { 3.003370, 1.533142 } },
  { 3.437912,
    { 1.489616, 1.208741 },
    { 1.104064, 0.679009 },
    { 3.437912, 1.922106 },
    { 3.289261, 1.641490 } },
};

/* Most curves bend so little that their roots need not be known. With P' =
 * c0 + c1 z + c2 z^2 about the middle, z in [-1, 1], two tests tell that none lies
 * in an ellipse.
 *
 * That for 8 nodes is all but the circle of radius R about it. With a = c2 R^2,
 * b = c1 R, c = c0, both roots lie outside of that (Schur) just where
 *
 *   |a| < |c|  and  |conj (c) b - a conj (b)| < |c|^2 - |a|^2.
 *
 * The others are flat. In Chebyshev polynomials T1 = z, T2 = 2 z^2 - 1, P' is
 * m + c1 T1 + e T2 with e = c2 / 2, m = c0 + e, and the real part of conj (m) P' is
 *
 *   |m|^2 + Re (a T1) + Re (b T2),  a = conj (m) c1, b = conj (m) e.
 *
 * On the ellipse T(k) = A(k) cos (k s) + i B(k) sin (k s), A and B being
 * (rho^k +- rho^-k) / 2, so that Re (a T1) is never below
 * -sqrt (p), p = Re a^2 A1^2 + Im a^2 B1^2, and Re (b T2) never below -sqrt (q). The
 * sum stays positive where sqrt (p) + sqrt (q) < |m|^2, which squared twice needs no
 * root. */
static inline bool
is_round (GeoPoint c0, GeoPoint c1, GeoPoint c2, double radius)
{
  GeoPoint a = geo_scale (c2, radius * radius), b = geo_scale (c1, radius);
  double room = square (c0) - square (a);
  double re = geo_dot (c0, b) - geo_dot (a, b);
  double im = geo_cross (c0, b) + geo_cross (a, b);
  return room > 0 && re * re + im * im < room * room;
}

/* The first of them that will do: read off the exponent, of which two make a
 * power of 4. */
static inline int
ellipse_for (double ratio)
{
  uint64_t bits;
  memcpy (&bits, &ratio, sizeof bits);
  int power = (int)(bits >> 52) - 1022;
  int i = (power + 1) / 2 - FIRST_ELLIPSE;
  return power > 2 * FIRST_ELLIPSE ? i : 0;
}

/* Returns the nodes that will do, by the 8, or 0. */
static inline int
nodes_for_gentle (const GeoSpeed *h, double longest, double tolerance)
{
  int i = ellipse_for (SAFETY * longest / tolerance);
  if (i >= ELLIPSES)
    return 0;
  GeoPoint c2 = geo_scale (h->v2, 0.25), half = geo_scale (h->v1, 0.5);
  GeoPoint c1 = geo_along (half, c2, 2);
  GeoPoint c0 = geo_add (h->v0, geo_add (half, c2));
  if (is_round (c0, c1, c2, ellipses[i].radius))
    return 1;
  GeoPoint e = geo_scale (c2, 0.5), m = geo_add (c0, e);
  double ar = geo_dot (m, c1), ai = geo_cross (m, c1);
  double br = geo_dot (m, e), bi = geo_cross (m, e), rest = square (m);
  Two ra = ar * ellipses[i].a1, ia = ai * ellipses[i].b1;
  Two rb = br * ellipses[i].a2, ib = bi * ellipses[i].b2;
  Two p = ra * ra + ia * ia, q = rb * rb + ib * ib;
  Two room = rest * rest - p - q, both = 4 * p * q;
  for (int k = 0; k < 2; k++)
    if (room[k] > 0 && room[k] * room[k] > both[k])
      return 2 + k;
  return 0;
}

/* Of the control polygon; more by up to sqrt 2. */
static inline double
polygon_length (const GeoCubic *c)
{
  return spread (geo_sub (c->p[1], c->p[0]))
         + spread (geo_sub (c->p[2], c->p[1]))
         + spread (geo_sub (c->p[3], c->p[2]));
}

double
geo_speed_whole (const GeoCubic *c, double tolerance)
{
  GeoSpeed h;
  take_cubic (&h, c);
  int n = nodes_for_gentle (&h, polygon_length (c), tolerance);
  if (n > 0)
    return gauss (&h, n, 0, 1);
  find_roots (&h);
  return length_between (&h, 0, 1, tolerance, DEEPEST);
}

double
geo_speed_length (const GeoSpeed *speed, double a, double b, double tolerance)
{
  return length_between (speed, a, b, tolerance, DEEPEST);
}

bool
geo_speed_is_easy (const GeoSpeed *speed, double a, double b, double tolerance,
                   double *cut)
{
  double at = 0, longest = speed->reach * (b - a);
  double k8 = eighth (clearance (speed, a, b, &at));
  *cut = cut_at (a, b, at, HALF);
  return k8 * tolerance >= SAFETY * longest || longest <= tolerance;
}

double
geo_speed_easy_length (const GeoSpeed *speed, double a, double b)
{
  return gauss (speed, 1, a, b);
}
