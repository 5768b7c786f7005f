/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arc length by Gauss-Legendre quadrature with the number of nodes known
 * beforehand.
 *
 * Written as a complex number, P' is a quadratic h (t) = A (t - r1) (t - r2),
 * and |P'| is the square root of h times its conjugate: analytic except at r1,
 * r2 and their conjugates. Bernstein's bound for Gauss quadrature (Trefethen,
 * Approximation Theory and Approximation Practice, theorem 19.3) falls as
 * rho^(-2n), where rho is the sum of the half axes of the largest ellipse about
 * the interval that keeps clear of those places. The interval is moved to
 * [-1, 1]; a root at z there has |z - 1| + |z + 1| = rho + 1/rho.
 *
 * The constant in front is measured, not proved: the error stays below
 * 0.06 L rho^(-2n) on curves of the kind drawn here, so 0.5 L rho^(-2n) is asked
 * to lie below the tolerance. Where more than 32 nodes would be needed the
 * interval is cut at the offending root's real part, or halved.
 */
#include "geometry/length.h"

#include "geometry/memory.h"

#define TOLERANCE_LIMIT 1e-10
#define SAFETY 0.5
#define DEEPEST 60

/* Nodes and weights on [-1, 1], the positive half; computed with 40 digits from
 * the Legendre polynomials and held against GSL's in the test. */
static const double nodes_8[][2] = {
  { 0.9602898564975362317, 0.1012285362903762592 },
  { 0.7966664774136267396, 0.2223810344533744705 },
  { 0.5255324099163289858, 0.3137066458778872873 },
  { 0.1834346424956498049, 0.362683783378361983 },
};
static const double nodes_16[][2] = {
  { 0.9894009349916499326, 0.02715245941175409485 },
  { 0.9445750230732325761, 0.06225352393864789286 },
  { 0.8656312023878317439, 0.09515851168249278481 },
  { 0.7554044083550030339, 0.1246289712555338721 },
  { 0.6178762444026437484, 0.1495959888165767321 },
  { 0.4580167776572273863, 0.1691565193950025382 },
  { 0.2816035507792589132, 0.1826034150449235889 },
  { 0.09501250983763744019, 0.1894506104550684963 },
};
static const double nodes_24[][2] = {
  { 0.9951872199970213602, 0.01234122979998719955 },
  { 0.9747285559713094982, 0.02853138862893366318 },
  { 0.9382745520027327585, 0.04427743881741980617 },
  { 0.8864155270044010342, 0.05929858491543678075 },
  { 0.820001985973902922, 0.07334648141108030573 },
  { 0.7401241915785543642, 0.08619016153195327592 },
  { 0.6480936519369755693, 0.09761865210411388827 },
  { 0.5454214713888395357, 0.1074442701159656348 },
  { 0.4337935076260451385, 0.1155056680537256014 },
  { 0.3150426796961633744, 0.1216704729278033912 },
  { 0.1911188674736163092, 0.1258374563468282961 },
  { 0.06405689286260562609, 0.127938195346752157 },
};
static const double nodes_32[][2] = {
  { 0.9972638618494815635, 0.0070186100094700966 },
  { 0.9856115115452683354, 0.01627439473090567061 },
  { 0.9647622555875064308, 0.02539206530926205946 },
  { 0.9349060759377396892, 0.0342738629130214331 },
  { 0.896321155766052124, 0.04283589802222668066 },
  { 0.8493676137325699701, 0.0509980592623761762 },
  { 0.794483795967942407, 0.05868409347853554715 },
  { 0.7321821187402896804, 0.06582222277636184684 },
  { 0.663044266930215201, 0.07234579410884850623 },
  { 0.587715757240762329, 0.07819389578707030647 },
  { 0.50689990893222939, 0.08331192422694675522 },
  { 0.4213512761306353454, 0.08765209300440381114 },
  { 0.3318686022821276498, 0.09117387869576388471 },
  { 0.2392873622521370745, 0.09384439908080456564 },
  { 0.1444719615827964935, 0.09563872007927485942 },
  { 0.04830766568773831623, 0.09654008851472780057 },
};

static const struct
{
  int half;
  const double (*nodes)[2];
} rules[] = {
  { 4, nodes_8 },
  { 8, nodes_16 },
  { 12, nodes_24 },
  { 16, nodes_32 },
};

#define RULES 4

/* P' = v0 + v1 t + v2 t^2, and its complex roots in t. */
typedef struct
{
  GeoPoint v0, v1, v2;
  GeoPoint roots[2];
  int root_count;
  double reach; /* upper bound of the speed in [0, 1] */
  double blur;  /* roots nearer the real axis than this count as on it */
} Hodograph;

static GeoPoint
times (GeoPoint a, GeoPoint b)
{
  return geo_point (a.x * b.x - a.y * b.y, a.x * b.y + a.y * b.x);
}

static GeoPoint
divided (GeoPoint a, GeoPoint b)
{
  double n = b.x * b.x + b.y * b.y;
  return geo_point ((a.x * b.x + a.y * b.y) / n, (a.y * b.x - a.x * b.y) / n);
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

static double
square (GeoPoint a)
{
  return a.x * a.x + a.y * a.y;
}

/* Roots far outside matter to no rule, so leading terms lost in rounding are
 * left out. */
static void
hodograph_find_roots (Hodograph *h)
{
  double tiny = 1e-28 * (square (h->v0) + square (h->v1) + square (h->v2));
  GeoPoint half = geo_scale (h->v1, -0.5);
  h->root_count = 0;
  if (square (h->v2) <= tiny)
    {
      if (square (h->v1) > tiny)
        h->roots[h->root_count++] = divided (geo_scale (h->v0, -1), h->v1);
      return;
    }
  GeoPoint disc = geo_sub (times (half, half), times (h->v2, h->v0));
  GeoPoint root = square_root (disc);
  double sign = geo_dot (root, half) < 0 ? -1 : 1;
  GeoPoint q = geo_along (half, root, sign);
  h->roots[h->root_count++] = divided (q, h->v2);
  if (square (q) > tiny)
    h->roots[h->root_count++] = divided (h->v0, q);
  else
    h->roots[h->root_count++] = h->roots[0];
}

static void
hodograph_init (Hodograph *h, const GeoCubic *c)
{
  GeoPoint d0 = geo_sub (c->p[1], c->p[0]), d1 = geo_sub (c->p[2], c->p[1]);
  GeoPoint d2 = geo_sub (c->p[3], c->p[2]);
  h->v0 = geo_scale (d0, 3);
  h->v1 = geo_scale (geo_sub (d1, d0), 6);
  h->v2 = geo_scale (geo_add (geo_sub (d0, geo_scale (d1, 2)), d2), 3);
  h->reach = 3 * sqrt (fmax (square (d0), fmax (square (d1), square (d2))));
  /* sqrt (x^2 + e^2) against |x|: the integrals differ by about e^2 ln (1/e)
   * times the speed's slope, so roots this near may count as real. */
  h->blur = 2e-7 / sqrt (1 + h->reach);
  hodograph_find_roots (h);
}

/* n nodes of the speed on [a, b]. */
static double
gauss (const Hodograph *h, int rule, double a, double b)
{
  double centre = 0.5 * (a + b), half = 0.5 * (b - a), sum = 0;
  const double (*node)[2] = rules[rule].nodes;
  for (int i = 0; i < rules[rule].half; i++)
    {
      double t = centre + half * node[i][0], u = centre - half * node[i][0];
      double tx = h->v0.x + t * (h->v1.x + t * h->v2.x);
      double ty = h->v0.y + t * (h->v1.y + t * h->v2.y);
      double ux = h->v0.x + u * (h->v1.x + u * h->v2.x);
      double uy = h->v0.y + u * (h->v1.y + u * h->v2.y);
      sum += node[i][1] * (sqrt (tx * tx + ty * ty) + sqrt (ux * ux + uy * uy));
    }
  return sum * half;
}

/* rho for [a, b], and the real part of the root that sets it. A root on the
 * real axis at or beyond an end spoils nothing: the speed is |t - r| there,
 * without a bend inside. */
static double
clearance (const Hodograph *h, double a, double b, double *nearest)
{
  double rho = INFINITY, width = b - a;
  for (int i = 0; i < h->root_count; i++)
    {
      GeoPoint r = h->roots[i];
      double slack = fmax (1e-13, h->blur);
      if (fabs (r.y) <= h->blur && (r.x <= a + slack || r.x >= b - slack))
        continue;
      double x = (2 * r.x - a - b) / width, y = 2 * r.y / width;
      double sum = 0.5
                   * (sqrt ((x - 1) * (x - 1) + y * y)
                      + sqrt ((x + 1) * (x + 1) + y * y));
      double ellipse = sum + sqrt (fmax (0, sum * sum - 1));
      if (ellipse < rho)
        {
          rho = ellipse;
          *nearest = r.x;
        }
    }
  return rho;
}

static double
length_between (const Hodograph *h, double a, double b, double tolerance,
                int depth)
{
  double at = 0, width = b - a, longest = h->reach * width;
  if (!(width > 0))
    return 0;
  double rho = clearance (h, a, b, &at);
  /* rho^(-2n) by repeated squaring, for n = 8, 16, 24, 32 */
  double r8 = 1 / (rho * rho);
  r8 *= r8;
  r8 *= r8;
  r8 *= r8;
  double error = SAFETY * longest, power = 1;
  for (int rule = 0; rule < RULES; rule++)
    {
      power *= r8;
      if (error * power <= tolerance)
        return gauss (h, rule, a, b);
    }
  if (depth == 0 || longest <= tolerance)
    return gauss (h, RULES - 1, a, b);
  double cut = 0.5 * (a + b);
  if (at > a + 0.05 * width && at < b - 0.05 * width)
    cut = at;
  return length_between (h, a, cut, tolerance / 2, depth - 1)
         + length_between (h, cut, b, tolerance / 2, depth - 1);
}

static double
held (double tolerance)
{
  return tolerance > TOLERANCE_LIMIT ? tolerance : TOLERANCE_LIMIT;
}

double
geo_cubic_length (const GeoCubic *c, double tolerance)
{
  return geo_cubic_length_to (c, 1, tolerance);
}

double
geo_cubic_length_to (const GeoCubic *c, double t, double tolerance)
{
  Hodograph h;
  hodograph_init (&h, c);
  return length_between (&h, 0, fmin (1, t), held (tolerance), DEEPEST);
}

/* Bracketed Newton on s (t) = length, s measured along from the last place.
 * Steps that leave the bracket, or that no longer halve it, are replaced by
 * its middle. */
static double
find_length (const Hodograph *h, double whole, double length, double tolerance)
{
  double lo = 0, hi = 1, t = length / whole, at = 0, s = 0;
  double enough = tolerance / 8, last = INFINITY;
  for (int step = 0; step < 100; step++)
    {
      double add
          = length_between (h, fmin (at, t), fmax (at, t), enough / 4, DEEPEST);
      s += t > at ? add : -add;
      at = t;
      double off = length - s;
      if (fabs (off) <= enough)
        break;
      if (off > 0)
        lo = t;
      else
        hi = t;
      double vx = h->v0.x + t * (h->v1.x + t * h->v2.x);
      double vy = h->v0.y + t * (h->v1.y + t * h->v2.y);
      double speed = sqrt (vx * vx + vy * vy);
      double next = speed > 0 ? t + off / speed : lo;
      if (!(next > lo && next < hi) || fabs (off) > 0.5 * last)
        next = 0.5 * (lo + hi);
      if (!(next > lo && next < hi))
        break;
      last = fabs (off);
      t = next;
    }
  return t;
}

/* The place at a length of a segment whose whole length is known.
 *
 * Lengths are put on a grid finer than the tolerance but coarser than the
 * residual of the search: two that fall on one grid line get the same place,
 * two that do not cannot change order. */
static double
place_at (const Hodograph *h, double whole, double length, double tolerance)
{
  if (!(length > 0))
    return 0;
  if (length >= whole)
    return 1;
  double grid = ldexp (1, (int)floor (log2 (tolerance)));
  double wanted = grid * floor (length / grid + 0.5);
  if (!(wanted > 0))
    return 0;
  if (wanted >= whole)
    return 1;
  return find_length (h, whole, wanted, grid);
}

double
geo_cubic_at_length (const GeoCubic *c, double length, double tolerance)
{
  Hodograph h;
  tolerance = held (tolerance);
  hodograph_init (&h, c);
  double whole = length_between (&h, 0, 1, tolerance / 8, DEEPEST);
  return place_at (&h, whole, length, tolerance);
}

double
geo_chain_length (const GeoChain *chain, double tolerance)
{
  double sum = 0;
  for (size_t i = 0; i < chain->count; i++)
    sum += geo_cubic_length (&chain->cubics[i], tolerance);
  return sum;
}

double
geo_chain_length_to (const GeoChain *chain, GeoPlace place, double tolerance)
{
  double sum = 0;
  for (size_t i = 0; i < chain->count && i <= place.cubic; i++)
    sum += geo_cubic_length_to (&chain->cubics[i],
                                i < place.cubic ? 1 : place.t, tolerance);
  return sum;
}

GeoPlace
geo_chain_at_length (const GeoChain *chain, double length, double tolerance)
{
  GeoPlace place = { 0, 0 };
  if (chain->count == 0 || !(length > 0))
    return place;
  GeoRuler ruler;
  geo_ruler_init (&ruler, chain, tolerance);
  place = geo_ruler_place (&ruler, length);
  geo_ruler_clear (&ruler);
  return place;
}

void
geo_ruler_init (GeoRuler *ruler, const GeoChain *chain, double tolerance)
{
  ruler->chain = chain;
  ruler->tolerance = held (tolerance);
  ruler->before = geo_realloc (NULL, chain->count + 1, sizeof *ruler->before);
  ruler->before[0] = 0;
  for (size_t i = 0; i < chain->count; i++)
    ruler->before[i + 1]
        = ruler->before[i]
          + geo_cubic_length (&chain->cubics[i], ruler->tolerance / 8);
}

void
geo_ruler_clear (GeoRuler *ruler)
{
  free (ruler->before);
  *ruler = (GeoRuler){ NULL, NULL, 0 };
}

double
geo_ruler_length (const GeoRuler *ruler)
{
  return ruler->chain ? ruler->before[ruler->chain->count] : 0;
}

GeoPlace
geo_ruler_place (const GeoRuler *ruler, double length)
{
  if (!ruler->chain || ruler->chain->count == 0 || !(length > 0))
    return (GeoPlace){ 0, 0 };
  size_t low = 0, high = ruler->chain->count;
  if (length >= ruler->before[high])
    return (GeoPlace){ high - 1, 1 };
  while (high - low > 1)
    {
      size_t mid = low + (high - low) / 2;
      if (ruler->before[mid] <= length)
        low = mid;
      else
        high = mid;
    }
  Hodograph h;
  hodograph_init (&h, &ruler->chain->cubics[low]);
  double t = place_at (&h, ruler->before[low + 1] - ruler->before[low],
                       length - ruler->before[low], ruler->tolerance);
  return (GeoPlace){ low, t };
}

double
geo_ruler_length_to (const GeoRuler *ruler, GeoPlace place)
{
  if (!ruler->chain || ruler->chain->count == 0)
    return 0;
  if (place.cubic >= ruler->chain->count)
    return geo_ruler_length (ruler);
  if (place.t >= 1)
    return ruler->before[place.cubic + 1];
  return ruler->before[place.cubic]
         + geo_cubic_length_to (&ruler->chain->cubics[place.cubic], place.t,
                                ruler->tolerance);
}
