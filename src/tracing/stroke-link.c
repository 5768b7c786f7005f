/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs become lines: an end is put to the one that goes on best from it, over where lines meet and over
 * gaps, nearest and straightest first. */
#include <math.h>

#include "tracing/stroke-private.h"

#define MOST_ENDS 6000
#define TELLS 2.5 /* mm of a run that tell where its end is heading */
#define TURN 0.64 /* cosine: 50 degrees */
#define MOST_TIP                                                               \
  8.0 /* mm that ink of two lines runs together before they meet */

void
stroke_line_clear (gpointer data)
{
  StrokeLine *line = data;
  g_clear_pointer (&line->places, g_array_unref);
}

typedef struct
{
  GeoPoint at, way; /* mm; where it heads */
  double half;      /* mm */
  double cut;       /* mm of ink beyond it */
  int to;           /* the end it is put to; -1 */
  gboolean has_tip; /* where the two meet, beyond both */
  GeoPoint tip;
} End;

typedef struct
{
  double cost;
  guint a, b;
} Pair;

static GArray *
run_mm (const StrokeRun *run, const TracingPlane *plane)
{
  GArray *mm
      = g_array_sized_new (FALSE, FALSE, sizeof (GeoPoint), run->places->len);
  for (guint i = 0; i < run->places->len; i++)
    {
      GeoPoint p = tracing_plane_to_mm (
          plane, g_array_index (run->places, GeoPoint, i));
      g_array_append_val (mm, p);
    }
  return mm;
}

/* The direction a run leaves at its end, from the places TELLS mm before it. */
static GeoPoint
heading (const GArray *mm, gboolean at_start)
{
  guint n = mm->len, i;
  GeoPoint end = g_array_index (mm, GeoPoint, at_start ? 0 : n - 1), p = end;
  for (i = 1; i < n && geo_distance (p, end) < TELLS; i++)
    p = g_array_index (mm, GeoPoint, at_start ? i : n - 1 - i);
  return geo_unit (geo_sub (end, p));
}

/* INFINITY where they can't belong together. Aligned: the one goes on as the other went; else only ends
 * that all but touch, as at a corner. */
static double
cost_of (const End *a, const End *b, double gap, gboolean aligned)
{
  GeoPoint v = geo_sub (b->at, a->at);
  double d = geo_norm (v), own = a->cut + b->cut;
  double straight = -geo_dot (a->way, b->way);
  if (!aligned)
    return d <= own + 0.8 ? d : INFINITY;
  if (d > gap + own || straight < TURN)
    return INFINITY;
  if (d > own
      && (geo_dot (a->way, v) < TURN * d || geo_dot (b->way, v) > -TURN * d))
    return INFINITY;
  return d + 4 * (1 - straight) + (d > own ? d - geo_dot (a->way, v) : 0);
}

static int
by_cost (gconstpointer a, gconstpointer b)
{
  const Pair *p = a, *q = b;
  if (p->cost != q->cost)
    return p->cost < q->cost ? -1 : 1;
  return p->a != q->a ? (p->a < q->a ? -1 : 1)
                      : (p->b < q->b ? -1 : p->b > q->b);
}

static void
pair_ends (GArray *ends, double gap, gboolean aligned)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (Pair));
  End *e = (End *)(gpointer)ends->data;
  for (guint a = 0; a < ends->len; a++)
    for (guint b = a + 1; b < ends->len && e[a].to < 0; b++)
      {
        if (e[b].to >= 0 || fabs (e[a].at.x - e[b].at.x) > gap + 12)
          continue;
        Pair pair = { cost_of (&e[a], &e[b], gap, aligned), a, b };
        if (isfinite (pair.cost))
          g_array_append_val (pairs, pair);
      }
  g_array_sort (pairs, by_cost);
  for (guint i = 0; i < pairs->len; i++)
    {
      Pair p = g_array_index (pairs, Pair, i);
      if (e[p.a].to >= 0 || e[p.b].to >= 0)
        continue;
      e[p.a].to = (int)p.b;
      e[p.b].to = (int)p.a;
    }
}

/* --- sharp corners ------------------------------------------------------------------- */
/* Where two heads meet beyond both, not too far. */
static gboolean
find_tip (const End *a, const End *b, GeoPoint *tip)
{
  double c = geo_cross (a->way, b->way);
  if (fabs (c) < 0.05)
    return FALSE;
  double t = geo_cross (geo_sub (b->at, a->at), b->way) / c;
  double u = geo_cross (geo_sub (b->at, a->at), a->way) / c;
  *tip = geo_along (a->at, a->way, t);
  return t > 0 && u > 0 && t < MOST_TIP && u < MOST_TIP;
}

/* Other ends within reach of one, at most n of them; how many there are. */
static guint
ends_near (const GArray *ends, guint of, double more, guint *near, guint n)
{
  const End *e = (const End *)(gpointer)ends->data;
  guint count = 0;
  for (guint i = 0; i < ends->len; i++)
    if (i / 2 != of / 2
        && geo_distance (e[i].at, e[of].at)
               <= 2 * (e[i].half + e[of].half) + more)
      {
        if (count < n)
          near[count] = i;
        count++;
      }
  return count;
}

/* Where two lines meet sharply their ink runs together before they do: they end early, and a short tail is
 * left on to the corner. The two are put to each other, by way of where they head; the tail, whose runs
 * are told in drop, is no line. */
static void
join_sharp_corners (GArray *ends, const GPtrArray *mm, guint8 *drop)
{
  End *e = (End *)(gpointer)ends->data;
  for (guint i = 0; i < ends->len; i++)
    {
      guint near[2], none[1];
      const GArray *run = g_ptr_array_index (mm, i / 2);
      double length
          = geo_distance (g_array_index (run, GeoPoint, 0),
                          g_array_index (run, GeoPoint, run->len - 1));
      GeoPoint tip;
      if (e[i].to >= 0 || length > MOST_TIP
          || ends_near (ends, i ^ 1u, 0.3, none, 1) != 0
          || ends_near (ends, i, 1.0, near, 2) != 2)
        continue;
      End *a = &e[near[0]], *b = &e[near[1]];
      if (a->to >= 0 || b->to >= 0 || geo_dot (a->way, b->way) < 0.5)
        continue;
      if (!find_tip (a, b, &tip))
        tip = e[i ^ 1u].at;
      a->to = (int)near[1];
      b->to = (int)near[0];
      a->has_tip = b->has_tip = TRUE;
      a->tip = b->tip = tip;
      drop[i / 2] = 1;
    }
}

/* A free end reaches to where its ink does: the middle line stops half a width before, and was trimmed. */
static void
lengthen (GArray *places, gboolean at_start, GeoPoint at, GeoPoint way,
          double by)
{
  GeoPoint end = geo_along (at, way, by);
  if (at_start)
    g_array_prepend_val (places, end);
  else
    g_array_append_val (places, end);
}

/* End 2 i is run i's start, 2 i + 1 its end. */
static StrokeLine
line_from (GPtrArray *mm, const GArray *ends, guint8 *done, guint first)
{
  StrokeLine line
      = { g_array_new (FALSE, FALSE, sizeof (GeoPoint)), FALSE, 0, 0 };
  const End *e = (const End *)(gpointer)ends->data;
  guint in = first, last = first, n = 0;
  for (;;)
    {
      const GArray *run = g_ptr_array_index (mm, in / 2);
      done[in / 2] = 1;
      for (guint i = 0; i < run->len; i++)
        {
          GeoPoint p
              = g_array_index (run, GeoPoint, in % 2 ? run->len - 1 - i : i);
          g_array_append_val (line.places, p);
        }
      line.width += 2 * e[in].half;
      n++;
      last = in ^ 1u;
      if (e[last].to < 0)
        break;
      if (e[last].has_tip)
        g_array_append_val (line.places, e[last].tip);
      in = (guint)e[last].to;
      if (in == first)
        {
          line.closed = TRUE;
          break;
        }
    }
  line.width /= n;
  if (!line.closed)
    {
      lengthen (line.places, TRUE, e[first].at, e[first].way, e[first].cut);
      lengthen (line.places, FALSE, e[last].at, e[last].way, e[last].cut);
    }
  return line;
}

static void
finish (StrokeLine *line, GArray *lines)
{
  const GeoPoint *p = (const GeoPoint *)(gpointer)line->places->data;
  double area = 0;
  guint n = line->places->len;
  for (guint i = 0; i + 1 < n + line->closed; i++)
    {
      line->length += geo_distance (p[i], p[(i + 1) % n]);
      area += geo_cross (p[i], p[(i + 1) % n]);
    }
  if (line->closed && area < 0)
    for (guint i = 0; i < n / 2; i++)
      {
        GeoPoint q = p[i];
        g_array_index (line->places, GeoPoint, i) = p[n - 1 - i];
        g_array_index (line->places, GeoPoint, n - 1 - i) = q;
      }
  g_array_append_val (lines, *line);
}

GArray *
stroke_link (const GArray *runs, const TracingPlane *plane, double gap)
{
  g_autoptr (GPtrArray) mm
      = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  g_autoptr (GArray) ends = g_array_new (FALSE, FALSE, sizeof (End));
  if (2 * runs->len > MOST_ENDS)
    return NULL;
  for (guint i = 0; i < runs->len; i++)
    {
      const StrokeRun *run = &g_array_index (runs, StrokeRun, i);
      GArray *places = run_mm (run, plane);
      g_ptr_array_add (mm, places);
      GeoPoint at[2] = { g_array_index (places, GeoPoint, 0),
                         g_array_index (places, GeoPoint, places->len - 1) };
      double dots = tracing_plane_dots (
          plane, g_array_index (run->places, GeoPoint, 0));
      for (int k = 0; k < 2; k++)
        {
          End end = { at[k],
                      heading (places, k == 0),
                      run->half / dots,
                      (run->half + run->cut) / dots,
                      -1,
                      FALSE,
                      { 0, 0 } };
          if (run->round)
            end.to = (int)(2 * i + 1 - (guint)k);
          g_array_append_val (ends, end);
        }
    }
  g_autofree guint8 *done = g_malloc0 (runs->len + 1);
  join_sharp_corners (ends, mm, done);
  for (guint i = 0; i < ends->len; i++)
    if (done[i / 2])
      g_array_index (ends, End, i).to = (int)i;
  pair_ends (ends, gap, TRUE);
  pair_ends (ends, gap, FALSE);
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (StrokeLine));
  g_array_set_clear_func (lines, stroke_line_clear);
  for (int closed = 0; closed < 2; closed++)
    for (guint i = 0; i < ends->len; i++)
      if (!done[i / 2] && (closed || g_array_index (ends, End, i).to < 0))
        {
          StrokeLine line = line_from (mm, ends, done, i);
          finish (&line, lines);
        }
  return lines;
}
