/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners of a measured line, put where what runs up to them from both sides meets.
 *
 * A lens rounds a corner off, and so does whatever looked for the edge, over a length that is about known (clear).
 * Where the directions before and after a place, each told by the places beyond that length, differ, there may be a
 * corner. Each side (leg) is then laid anew, by a straight line over as long a way as it is straight, or else by a parabola,
 *
 *   y = a + b x + c x^2, least squares, x along the leg from the corner,
 *
 * and both are carried on to where they meet. It is a corner if they differ in direction there and
 * the places in between lie no further from it than rounding explains: from a corner of the inner angle phi
 * blurred by sigma the half-way line keeps off by about 0.7 sigma / tan (phi / 2) (a narrow wedge's, where it
 * is as wide as half of the blurred light; at a right angle 0.77 by the closed form).
 */
#include "tracing/shape-private.h"

#include <math.h>
#include <string.h>

#define LEAST_TURN 0.3
#define WINDOW 4.0   /* mm told a direction by, at least */
#define LONGEST 60.0 /* mm of a straight leg */
#define MOST_PLACES 400

typedef struct
{
  GeoPoint origin, u; /* x along u, y along its left normal */
  double a, b, c;
  double noise; /* root of the mean square left over */
  double to;    /* mm from the corner it was laid along */
  double size;  /* mm, from its first place to its last */
  double free;  /* places more than numbers */
} Leg;

gsize
shape_track_step (const ShapeTrack *track, gsize i, gssize steps)
{
  gssize n = (gssize)track->n, k = (gssize)i + steps;
  if (track->closed)
    return (gsize)(((k % n) + n) % n);
  return k < 0 || k >= n ? track->n : (gsize)k;
}

/* Signed way from along to place i, the short way round. */
static double
way_to (const ShapeTrack *track, double along, gsize i)
{
  double d = track->along[i] - along, all = track->along[track->n];
  if (track->closed && d > all / 2)
    d -= all;
  if (track->closed && d < -all / 2)
    d += all;
  return d;
}

/* Places seen well (or any) from..to mm before (way -1) or after a place of the track, nearest first. */
static gsize
gather (const ShapeTrack *track, double along, gsize start, int way,
        double from, double to, gboolean any, GeoPoint *q)
{
  gsize count = 0, i = start;
  double step = fmax (track->spacing, (to - from) / MOST_PLACES), next = from;
  for (gsize k = 0; k < track->n && count < MOST_PLACES; k++)
    {
      double d = way * way_to (track, along, i);
      if (k > 0 && track->closed && k > track->n / 2)
        break;
      if (d > to)
        break;
      if (d >= next && (any || track->places[i].weight > 0))
        {
          q[count++] = track->places[i].at;
          if (step > 1.5 * track->spacing)
            next = d + step;
        }
      i = shape_track_step (track, i, way);
      if (i == track->n)
        break;
    }
  return count;
}

/* Least squares over places of weight above 0; a line where straight. */
static gboolean
solve_leg (const GeoPoint *q, const guint8 *use, gsize n, gboolean straight,
           Leg *leg)
{
  double s[5] = { 0 }, t[3] = { 0 }, size = leg->size;
  for (gsize i = 0; i < n; i++)
    {
      GeoPoint r = geo_sub (q[i], leg->origin);
      double x = geo_dot (r, leg->u) / size, y = geo_cross (leg->u, r), p = 1;
      for (int k = 0; k < 5 && use[i]; k++, p *= x)
        {
          s[k] += p;
          if (k < 3)
            t[k] += p * y;
        }
    }
  double det2 = s[0] * s[2] - s[1] * s[1];
  double m0 = s[2] * s[4] - s[3] * s[3], m1 = s[1] * s[4] - s[2] * s[3],
         m2 = s[1] * s[3] - s[2] * s[2];
  double det3 = s[0] * m0 - s[1] * m1 + s[2] * m2;
  leg->free = s[0] - 2;
  if (!straight && s[0] >= 5 && det3 > 1e-9 * s[0] * s[0] * s[0])
    {
      double m3 = s[0] * s[4] - s[2] * s[2], m4 = s[0] * s[3] - s[1] * s[2];
      leg->a = (m0 * t[0] - m1 * t[1] + m2 * t[2]) / det3;
      leg->b = (-m1 * t[0] + m3 * t[1] - m4 * t[2]) / det3 / size;
      leg->c = (m2 * t[0] - m4 * t[1] + det2 * t[2]) / det3 / (size * size);
      leg->free--;
      return TRUE;
    }
  leg->c = 0;
  if (!(det2 > 1e-12 * s[0] * s[0]))
    return FALSE;
  leg->a = (s[2] * t[0] - s[1] * t[1]) / det2;
  leg->b = (s[0] * t[1] - s[1] * t[0]) / det2 / size;
  return TRUE;
}

static double
off_leg (const Leg *leg, GeoPoint p)
{
  GeoPoint r = geo_sub (p, leg->origin);
  double x = geo_dot (r, leg->u);
  return geo_cross (leg->u, r) - leg->a - leg->b * x - leg->c * x * x;
}

/* Twice: what lies far off the first time is left out the second. */
static gboolean
lay_leg (const GeoPoint *q, gsize n, gboolean straight, Leg *leg)
{
  guint8 use[MOST_PLACES];
  if (n < 2)
    return FALSE;
  leg->origin = q[0];
  leg->u = geo_unit (geo_sub (q[n - 1], q[0]));
  leg->size = geo_distance (q[n - 1], q[0]);
  if (!(leg->size > 0))
    return FALSE;
  memset (use, 1, sizeof use);
  for (int round = 0; round < 2; round++)
    {
      if (!solve_leg (q, use, n, straight, leg))
        return FALSE;
      double left = 0;
      for (gsize i = 0; i < n; i++)
        left += use[i] ? off_leg (leg, q[i]) * off_leg (leg, q[i]) : 0;
      leg->noise = sqrt (left / fmax (leg->free, 1));
      for (gsize i = 0; i < n && round == 0 && n >= 10; i++)
        use[i] = fabs (off_leg (leg, q[i])) <= 2.3 * leg->noise;
    }
  return TRUE;
}

static GeoPoint
leg_point (const Leg *leg, double x)
{
  GeoPoint p = geo_along (leg->origin, leg->u, x);
  return geo_along (p, geo_left (leg->u), leg->a + leg->b * x + leg->c * x * x);
}

static GeoPoint
leg_slope (const Leg *leg, double x)
{
  return geo_along (leg->u, geo_left (leg->u), leg->b + 2 * leg->c * x);
}

/* The leg on one side: of the ways that are straight, or bent as a parabola, to within the noise the one that
 * says most surely where it begins. A mean square over n places of a line is told to about noise sqrt (4 / n) at
 * its end, a parabola to noise sqrt (9 / n). */
static gboolean
find_leg (const ShapeTrack *track, double along, gsize start, int way,
          double from, double room, double noise, Leg *best)
{
  static const double lengths[] = { 60, 40, 28, 20, 14, 10, 7 };
  GeoPoint q[MOST_PLACES];
  double enough = 1.35 * noise + 0.05 * track->tolerance, least = INFINITY;
  for (gsize k = 0; k < G_N_ELEMENTS (lengths); k++)
    {
      double to = fmin (room, from + lengths[k]);
      gboolean last = k + 1 == G_N_ELEMENTS (lengths);
      gsize n = gather (track, along, start, way, from, to, FALSE, q);
      for (int straight = 0; straight < 2 && n >= 2; straight++)
        {
          Leg leg = { 0 };
          if (!lay_leg (q, n, straight || n < 6, &leg))
            continue;
          leg.to = to;
          double doubt = fmax (leg.noise, noise)
                         * sqrt ((leg.c == 0 ? 4.0 : 9.0) / (double)n);
          /* what it was not laid close enough along counts as doubt of its own */
          if (leg.noise > enough)
            doubt += 6 * (leg.noise - enough) + (last ? 0 : enough);
          if (doubt < least)
            {
              least = doubt;
              *best = leg;
            }
        }
    }
  return least < INFINITY;
}

/* Where both legs meet, by Newton's steps from where their near ends' tangents do. */
static gboolean
meet (const Leg *a, const Leg *b, GeoPoint near, GeoPoint *at, double *turn)
{
  double x = geo_dot (geo_sub (near, a->origin), a->u);
  double y = geo_dot (geo_sub (near, b->origin), b->u);
  for (int round = 0; round < 20; round++)
    {
      GeoPoint r = geo_sub (leg_point (b, y), leg_point (a, x));
      GeoPoint u = leg_slope (a, x), v = leg_slope (b, y);
      double sine = geo_cross (u, v);
      if (fabs (sine) < 0.03 * geo_norm (u) * geo_norm (v))
        return FALSE;
      double dx = geo_cross (r, v) / sine, dy = geo_cross (r, u) / sine;
      x += CLAMP (dx, -20, 20);
      y += CLAMP (dy, -20, 20);
    }
  *at = geo_lerp (leg_point (a, x), leg_point (b, y), 0.5);
  *turn
      = geo_angle_between (geo_scale (leg_slope (a, x), -1), leg_slope (b, y));
  return geo_distance (leg_point (a, x), leg_point (b, y)) < 0.01
         && geo_norm (geo_sub (*at, near)) < 100;
}

/* --- candidates --------------------------------------------------------------------- */

static double
find_clear (const ShapeTrack *track)
{
  return 2.2 * track->blur + 2 * track->spacing;
}

/* In a narrow notch no place is seen well; any will do to tell that there is one. */
static gboolean
lay_window (const ShapeTrack *track, gsize i, int way, double clear,
            double window, Leg *leg)
{
  GeoPoint q[MOST_PLACES];
  gsize n = gather (track, track->along[i], i, way, clear, window, FALSE, q);
  if (n < 3)
    n = gather (track, track->along[i], i, way, clear, window, TRUE, q);
  return n >= 3 && lay_leg (q, n, TRUE, leg);
}

/* The turn at each place, by straight lines over a window on either side. */
static double *
find_turns (const ShapeTrack *track)
{
  double *turn = g_new0 (double, track->n);
  double clear = find_clear (track);
  double window = clear + fmax (WINDOW, 8 * track->spacing);
  for (gsize i = 0; i < track->n; i++)
    {
      Leg a, b;
      double at = track->along[i];
      if (!track->closed && (at < clear || at > track->along[track->n] - clear))
        continue;
      if (!lay_window (track, i, -1, clear, window, &a)
          || !lay_window (track, i, 1, clear, window, &b))
        continue;
      turn[i] = geo_angle_between (geo_scale (leg_slope (&a, 0), -1),
                                   leg_slope (&b, 0));
    }
  return turn;
}

/* Half of the places lie within this of parabolas through their neighbours. */
static int
compare (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

double
shape_track_noise (const ShapeTrack *track)
{
  g_autofree double *v = g_new (double, track->n + 1);
  gsize m = 0, every = MAX (1, track->n / 400);
  GeoPoint q[MOST_PLACES];
  for (gsize i = 0; i < track->n; i += every)
    {
      Leg leg;
      gsize n = gather (track, track->along[i], i, 1, 0, 14 * track->spacing,
                        FALSE, q);
      if (n >= 8 && lay_leg (q, n, FALSE, &leg))
        v[m++] = leg.noise;
    }
  if (m == 0)
    return 0.05 * track->tolerance;
  qsort (v, m, sizeof *v, compare);
  return v[m / 2];
}

/* Places where the turn is larger than anywhere near; the middle of a stretch of equal turn. */
static GArray *
find_peaks (const ShapeTrack *track, const double *turn)
{
  GArray *peaks = g_array_new (FALSE, FALSE, sizeof (gsize));
  double near = find_clear (track) + 0.5 * WINDOW;
  gssize most = (gssize)(track->n / 2);
  for (gsize i = 0; i < track->n; i++)
    {
      double mine = fabs (turn[i]), sum = 0, weight = 0;
      gboolean peak = mine > LEAST_TURN;
      for (int way = -1; way <= 1 && peak; way += 2)
        for (gssize k = 1; k < most && peak; k++)
          {
            gsize j = shape_track_step (track, i, way * k);
            if (j == track->n
                || fabs (way_to (track, track->along[i], j)) > near)
              break;
            double other = turn[j] * (turn[i] > 0 ? 1 : -1);
            peak = way > 0 ? other <= mine : other < mine;
            if (other > 0.92 * mine)
              {
                sum += way * (double)k;
                weight++;
              }
          }
      if (!peak)
        continue;
      gsize at
          = shape_track_step (track, i, (gssize)lround (sum / (weight + 1)));
      g_array_append_val (peaks, at);
    }
  return peaks;
}

/* Half a turn is one to either side. */
static gboolean
are_alike (double a, double b)
{
  return a * b > 0 || fabs (a - b) > 1.7 * G_PI;
}

/* How far from a corner of that inner angle the measured line may keep; where nothing was seen, as far as
 * thin lines were taken away. */
static double
find_rounding (const ShapeTrack *track, double turn, gboolean seen)
{
  double half = fmax (0.5 * (G_PI - fabs (turn)), 0.03);
  double width = 1.4 * (track->blur + 0.8 * track->spacing);
  if (!seen)
    width += 0.6 * track->opened;
  return 0.6 * track->tolerance + width / tan (half);
}

static double
nearest_place (const ShapeTrack *track, GeoPoint p, gsize about, double within,
               gsize *place)
{
  double best = INFINITY;
  *place = about;
  for (int way = -1; way <= 1; way += 2)
    for (gsize k = 0, i = about; k < track->n; k++)
      {
        double d = geo_distance (track->places[i].at, p);
        if (d < best)
          {
            best = d;
            *place = i;
          }
        if (fabs (way_to (track, track->along[about], i)) > within)
          break;
        i = shape_track_step (track, i, way);
        if (i == track->n)
          break;
      }
  return best;
}

/* The corner near a peak, if it is one. before and after: room to the neighbours, mm. */
static gboolean
place_corner (const ShapeTrack *track, gsize peak, double before, double after,
              double noise, double turn_there, ShapeCorner *corner)
{
  double along = track->along[peak], turn;
  double half = fmax (0.5 * (G_PI - fabs (turn_there)), 0.05);
  double clear = find_clear (track) * CLAMP (1 / tan (half), 1, 4);
  double least = 3 * track->spacing;
  Leg a, b;
  GeoPoint at;
  double clear_a = fmin (clear, fmax (0.4 * before, before - least));
  double clear_b = fmin (clear, fmax (0.4 * after, after - least));
  if (!find_leg (track, along, peak, -1, clear_a, before, noise, &a)
      || !find_leg (track, along, peak, 1, clear_b, after, noise, &b)
      || !meet (&a, &b, track->places[peak].at, &at, &turn)
      || fabs (turn) < LEAST_TURN || !are_alike (turn, turn_there))
    return FALSE;
  gsize place;
  double off = nearest_place (track, at, peak, 3 * clear + 3, &place);
  /* what was seen on a leg says nothing against the corner beyond it */
  GeoPoint seen = track->places[place].at;
  double aside = fmin (fabs (off_leg (&a, seen)), fabs (off_leg (&b, seen)));
  gboolean against = track->places[place].weight > 0
                     && aside > 0.6 * track->tolerance + track->blur;
  if (off > find_rounding (track, turn, against))
    return FALSE;
  *corner = (ShapeCorner){ at, track->along[place], clear };
  return TRUE;
}

static double
room_to (const ShapeTrack *track, const GArray *peaks, guint k, int way)
{
  double all = track->along[track->n];
  gsize i = g_array_index (peaks, gsize, k);
  if (peaks->len == 1)
    return track->closed ? 0.5 * all
           : way > 0     ? all - track->along[i]
                         : track->along[i];
  gboolean last = way > 0 ? k + 1 == peaks->len : k == 0;
  if (last && !track->closed)
    return way > 0 ? all - track->along[i] : track->along[i];
  guint next = (k + (way > 0 ? 1 : peaks->len - 1)) % peaks->len;
  double d
      = way
        * (track->along[g_array_index (peaks, gsize, next)] - track->along[i]);
  return d < 0 ? d + all : d;
}

/* Of peaks that came out nearly in one place the sharper stays. */
static void
join_peaks (const ShapeTrack *track, GArray *peaks, const double *turn)
{
  double near = find_clear (track) + 0.5 * WINDOW;
  for (guint k = 0; k < peaks->len && peaks->len > 1;)
    {
      guint next = (k + 1) % peaks->len;
      gsize i = g_array_index (peaks, gsize, k);
      gsize j = g_array_index (peaks, gsize, next);
      if ((next == 0 && !track->closed) || !are_alike (turn[i], turn[j])
          || fabs (way_to (track, track->along[i], j)) > near)
        k++;
      else
        g_array_remove_index (peaks,
                              fabs (turn[i]) < fabs (turn[j]) ? k : next);
    }
}

static int
compare_along (const void *a, const void *b)
{
  double x = ((const ShapeCorner *)a)->along,
         y = ((const ShapeCorner *)b)->along;
  return (x > y) - (x < y);
}

static int
compare_index (const void *a, const void *b)
{
  gsize x = *(const gsize *)a, y = *(const gsize *)b;
  return (x > y) - (x < y);
}

GArray *
shape_find_corners (const ShapeTrack *track)
{
  GArray *corners = g_array_new (FALSE, FALSE, sizeof (ShapeCorner));
  if (track->n < 8)
    return corners;
  g_autofree double *turn = find_turns (track);
  g_autoptr (GArray) peaks = find_peaks (track, turn);
  double noise = track->noise, clear = find_clear (track);
  g_array_sort (peaks, compare_index);
  join_peaks (track, peaks, turn);
  for (guint k = 0; k < peaks->len; k++)
    {
      ShapeCorner corner;
      gsize i = g_array_index (peaks, gsize, k);
      double before = room_to (track, peaks, k, -1) - clear;
      double after = room_to (track, peaks, k, 1) - clear;
      if (place_corner (track, i, before, after, noise, turn[i], &corner))
        g_array_append_val (corners, corner);
    }
  g_array_sort (corners, compare_along);
  return corners;
}
