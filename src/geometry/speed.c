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

#define SAFETY 0.15
#define DEEPEST 60
#define BLUR 2e-7
#define HALF 0.5
#define EIGHTH 0.125

/* Two pairs of nodes at once, which every processor of the kind can. */
typedef double Two __attribute__ ((vector_size (16)));

/* Nodes and weights on [-1, 1], the positive half, of the rules of 8, 16, 24
 * and 32 one after the other; computed with 40 digits from the Legendre
 * polynomials and held against GSL's quadrature in the test. */
static const Two nodes[][2] = {
  { { 0.9602898564975362317, 0.7966664774136267396 },
    { 0.1012285362903762592, 0.2223810344533744705 } },
  { { 0.5255324099163289858, 0.1834346424956498049 },
    { 0.3137066458778872873, 0.362683783378361983 } },
  { { 0.9894009349916499326, 0.9445750230732325761 },
    { 0.02715245941175409485, 0.06225352393864789286 } },
  { { 0.8656312023878317439, 0.7554044083550030339 },
    { 0.09515851168249278481, 0.1246289712555338721 } },
  { { 0.6178762444026437484, 0.4580167776572273863 },
    { 0.1495959888165767321, 0.1691565193950025382 } },
  { { 0.2816035507792589132, 0.09501250983763744019 },
    { 0.1826034150449235889, 0.1894506104550684963 } },
  { { 0.9951872199970213602, 0.9747285559713094982 },
    { 0.01234122979998719955, 0.02853138862893366318 } },
  { { 0.9382745520027327585, 0.8864155270044010342 },
    { 0.04427743881741980617, 0.05929858491543678075 } },
  { { 0.820001985973902922, 0.7401241915785543642 },
    { 0.07334648141108030573, 0.08619016153195327592 } },
  { { 0.6480936519369755693, 0.5454214713888395357 },
    { 0.09761865210411388827, 0.1074442701159656348 } },
  { { 0.4337935076260451385, 0.3150426796961633744 },
    { 0.1155056680537256014, 0.1216704729278033912 } },
  { { 0.1911188674736163092, 0.06405689286260562609 },
    { 0.1258374563468282961, 0.127938195346752157 } },
  { { 0.9972638618494815635, 0.9856115115452683354 },
    { 0.0070186100094700966, 0.01627439473090567061 } },
  { { 0.9647622555875064308, 0.9349060759377396892 },
    { 0.02539206530926205946, 0.0342738629130214331 } },
  { { 0.896321155766052124, 0.8493676137325699701 },
    { 0.04283589802222668066, 0.0509980592623761762 } },
  { { 0.794483795967942407, 0.7321821187402896804 },
    { 0.05868409347853554715, 0.06582222277636184684 } },
  { { 0.663044266930215201, 0.587715757240762329 },
    { 0.07234579410884850623, 0.07819389578707030647 } },
  { { 0.50689990893222939, 0.4213512761306353454 },
    { 0.08331192422694675522, 0.08765209300440381114 } },
  { { 0.3318686022821276498, 0.2392873622521370745 },
    { 0.09117387869576388471, 0.09384439908080456564 } },
  { { 0.1444719615827964935, 0.04830766568773831623 },
    { 0.09563872007927485942, 0.09654008851472780057 } },
};

/* The rule of 8 n starts at first[n - 1] and is 2 n long. */
static const int first[] = { 0, 2, 6, 12 };

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
static inline double
gauss (const GeoSpeed *h, int n, double a, double b)
{
  double centre = 0.5 * (a + b), half = 0.5 * (b - a);
  double mx = h->v0.x + centre * (h->v1.x + centre * h->v2.x);
  double my = h->v0.y + centre * (h->v1.y + centre * h->v2.y);
  double sx = half * (h->v1.x + 2 * centre * h->v2.x);
  double sy = half * (h->v1.y + 2 * centre * h->v2.y);
  double qx = half * half * h->v2.x, qy = half * half * h->v2.y;
  const Two (*node)[2] = nodes + first[n - 1];
  Two sum = { 0, 0 };
  for (int i = 0; i < 2 * n; i++)
    {
      Two x = node[i][0], xx = x * x;
      Two ex = mx + qx * xx, ey = my + qy * xx, ox = sx * x, oy = sy * x;
      Two ax = ex + ox, ay = ey + oy, bx = ex - ox, by = ey - oy;
      Two p = ax * ax + ay * ay, q = bx * bx + by * by;
      Two one = { sqrt (p[0]), sqrt (p[1]) };
      Two other = { sqrt (q[0]), sqrt (q[1]) };
      sum += node[i][1] * (one + other);
    }
  return half * (sum[0] + sum[1]);
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
  double cut = cut_at (a, b, at, EIGHTH);
  return length_between (h, a, cut, tolerance / 2, depth - 1)
         + length_between (h, cut, b, tolerance / 2, depth - 1);
}

/* Semi-axes of the ellipses whose rho^2n is at least ratio for n = 8, 16 and 24,
 * and half of those for rho^2: rounded up. */
static const struct
{
  double ratio;
  Two a1, b1, a2, b2; /* n = 8, 16 */
  double last[4];     /* n = 24 */
} ellipses[] = {
  { 2e+08,
    { 1.802553, 1.183756 },
    { 1.499732, 0.633464 },
    { 2.749195, 0.901277 },
    { 2.703345, 0.749866 },
    { 1.080337, 0.408813, 0.667128, 0.441655 } },
  { 2e+12,
    { 3.021336, 1.417981 },
    { 2.851048, 1.005320 },
    { 8.628471, 1.510668 },
    { 8.613972, 1.425524 },
    { 1.179213, 0.624933, 0.890542, 0.736929 } },
};

/* Most curves bend so little that their roots need not be known. With P' =
 * c0 + c1 z + c2 z^2 about the middle, z in [-1, 1], and in Chebyshev polynomials
 * T1 = z, T2 = 2 z^2 - 1, the real part of conj (c0) P' is
 *
 *   |c0|^2 + Re b / 2 + Re (a T1) + Re (b T2) / 2,  a = conj (c0) c1, b likewise.
 *
 * On the ellipse T(k) = A(k) cos (k s) + i B(k) sin (k s), A and B being
 * (rho^k +- rho^-k) / 2, so that Re (a T1) is never below
 * -sqrt (Re a^2 A1^2 + Im a^2 B1^2). Where the sum stays positive P' has no root
 * on or in the ellipse. Returns the nodes that will do, by the 8, or 0. */
static inline int
nodes_for_gentle (const GeoSpeed *h, double longest, double tolerance)
{
  double ratio = SAFETY * longest / tolerance;
  int i = ratio > ellipses[0].ratio;
  if (ratio > ellipses[1].ratio)
    return 0;
  GeoPoint c2 = geo_scale (h->v2, 0.25), half = geo_scale (h->v1, 0.5);
  GeoPoint c1 = geo_along (half, c2, 2);
  GeoPoint c0 = geo_add (h->v0, geo_add (half, c2));
  double ar = geo_dot (c0, c1), ai = geo_cross (c0, c1);
  double br = geo_dot (c0, c2), bi = geo_cross (c0, c2);
  double rest = geo_dot (c0, c0) + 0.5 * br;
  double aa = ar * ar, bb = ai * ai, cc = br * br, dd = bi * bi;
  Two p = aa * ellipses[i].a1 * ellipses[i].a1
          + bb * ellipses[i].b1 * ellipses[i].b1;
  Two q = cc * ellipses[i].a2 * ellipses[i].a2
          + dd * ellipses[i].b2 * ellipses[i].b2;
  Two u = { sqrt (p[0]), sqrt (p[1]) }, v = { sqrt (q[0]), sqrt (q[1]) };
  Two least = rest - u - v;
  if (least[0] > 0)
    return 1;
  if (least[1] > 0)
    return 2;
  const double *e = ellipses[i].last;
  double w = sqrt (aa * e[0] * e[0] + bb * e[1] * e[1])
             + sqrt (cc * e[2] * e[2] + dd * e[3] * e[3]);
  return rest > w ? 3 : 0;
}

double
geo_speed_whole (const GeoCubic *c, double tolerance)
{
  GeoSpeed h;
  take_cubic (&h, c);
  int n = nodes_for_gentle (&h, h.reach, tolerance);
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
