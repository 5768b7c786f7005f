/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each cubic couples two nodes that follow each other, and in a closed run the
 * last one the first. The matrix is cut into blocks, one a pair of nodes, and factored by
 * Cholesky from the first node on:
 *
 *   D_i = L L',  E = L^-1 E_i,  B = L^-1 B_i
 *   D_(i+1) -= E' E,  B_(i+1) -= E' B,  D_last -= B' B
 *
 * with E_i the coupling to the next node and B_i that to the last, which is
 * where closing the run leaves its only fill-in. A pair that touches the last
 * node is kept in B alone, so one code serves runs of any count, open and
 * closed, in time proportional to the count.
 */
#include "geometry/node-run.h"

#include "geometry/memory.h"

#include <string.h>

#define N GEO_FREEDOMS

void
geo_node_run_clear (GeoNodeRun *run)
{
  free (run->nodes);
  *run = (GeoNodeRun){ NULL, 0, 0, false };
}

void
geo_node_run_reset (GeoNodeRun *run, bool closed)
{
  run->count = 0;
  run->closed = closed;
}

void
geo_node_run_add (GeoNodeRun *run, GeoNode node)
{
  run->nodes
      = geo_grow (run->nodes, run->count, &run->room, sizeof *run->nodes);
  run->nodes[run->count++] = node;
}

void
geo_node_run_copy (GeoNodeRun *target, const GeoNodeRun *source)
{
  geo_node_run_reset (target, source->closed);
  for (size_t i = 0; i < source->count; i++)
    geo_node_run_add (target, source->nodes[i]);
}

size_t
geo_node_run_cubics (const GeoNodeRun *run)
{
  if (run->closed || run->count == 0)
    return run->count;
  return run->count - 1;
}

GeoCubic
geo_node_run_cubic (const GeoNodeRun *run, size_t k)
{
  const GeoNode *a = &run->nodes[k];
  const GeoNode *b = &run->nodes[k + 1 < run->count ? k + 1 : 0];
  GeoPoint from = { cos (a->angle), sin (a->angle) };
  GeoPoint to = { cos (b->angle), sin (b->angle) };
  return (GeoCubic){ { a->at, geo_along (a->at, from, a->out),
                       geo_along (b->at, to, -b->in), b->at } };
}

void
geo_node_run_append (const GeoNodeRun *run, GeoChain *chain)
{
  size_t n = geo_node_run_cubics (run);
  for (size_t k = 0; k < n; k++)
    geo_chain_append (chain, geo_node_run_cubic (run, k));
}

void
geo_node_block_add (GeoNodeBlock *block, const double row[2 * N], double weight,
                    double value)
{
  for (int i = 0; i < 2 * N; i++)
    {
      double w = weight * row[i];
      if (w == 0)
        continue;
      block->g[i] += w * value;
      for (int j = 0; j < 2 * N; j++)
        block->h[i][j] += w * row[j];
    }
}

/* P1 = P0 + out T0 and P2 = P3 - in T1, T turning by its left normal. */
void
geo_node_row (const GeoNode *from, const GeoNode *to, const double by_point[8],
              double row[2 * N])
{
  const double *p = by_point;
  double c0 = cos (from->angle), s0 = sin (from->angle);
  double c1 = cos (to->angle), s1 = sin (to->angle);
  double *a = row, *b = row + N;
  a[0] = p[0] + p[2];
  a[1] = p[1] + p[3];
  a[2] = from->out * (-s0 * p[2] + c0 * p[3]);
  a[3] = a[5] = 0;
  a[4] = c0 * p[2] + s0 * p[3];
  b[0] = p[4] + p[6];
  b[1] = p[5] + p[7];
  b[2] = -to->in * (-s1 * p[4] + c1 * p[5]);
  b[3] = -(c1 * p[4] + s1 * p[5]);
  b[4] = b[5] = 0;
}

void
geo_node_system_clear (GeoNodeSystem *s)
{
  free (s->diagonal);
  free (s->next);
  free (s->last);
  free (s->right);
  free (s->held);
  memset (s, 0, sizeof *s);
}

void
geo_node_system_reset (GeoNodeSystem *s, size_t nodes)
{
  if (nodes > s->room)
    {
      s->diagonal = geo_realloc (s->diagonal, nodes, sizeof *s->diagonal);
      s->next = geo_realloc (s->next, nodes, sizeof *s->next);
      s->last = geo_realloc (s->last, nodes, sizeof *s->last);
      s->right = geo_realloc (s->right, nodes, sizeof *s->right);
      s->held = geo_realloc (s->held, nodes, sizeof *s->held);
      s->room = nodes;
    }
  s->count = nodes;
  if (nodes == 0)
    return;
  memset (s->diagonal, 0, nodes * sizeof *s->diagonal);
  memset (s->next, 0, nodes * sizeof *s->next);
  memset (s->last, 0, nodes * sizeof *s->last);
  memset (s->right, 0, nodes * sizeof *s->right);
  memset (s->held, 0, nodes * sizeof *s->held);
}

/* Where the rows of a couple with the columns of b, a before b. */
static double (*coupling (GeoNodeSystem *s, size_t a, size_t b))[N]
{
  return b + 1 == s->count ? s->last[a] : s->next[a];
}

void
geo_node_system_add (GeoNodeSystem *s, size_t from, size_t to,
                     const GeoNodeBlock *b)
{
  bool turned = from > to;
  double (*beside)[N]
      = from == to ? s->diagonal[from]
                   : coupling (s, turned ? to : from, turned ? from : to);
  for (int i = 0; i < N; i++)
    {
      s->right[from][0][i] += b->g[i];
      s->right[to][0][i] += b->g[N + i];
      for (int j = 0; j < N; j++)
        {
          s->diagonal[from][i][j] += b->h[i][j];
          s->diagonal[to][i][j] += b->h[N + i][N + j];
          beside[i][j] += turned ? b->h[N + i][j] : b->h[i][N + j];
          if (from == to)
            beside[i][j] += b->h[N + i][j];
        }
    }
}

static void
hold (GeoNodeSystem *s, size_t i, int f)
{
  for (int j = 0; j < N; j++)
    {
      s->diagonal[i][f][j] = s->diagonal[i][j][f] = 0;
      s->next[i][f][j] = s->last[i][f][j] = 0;
      if (i > 0)
        s->next[i - 1][j][f] = 0;
      if (i + 1 == s->count)
        for (size_t k = 0; k < i; k++)
          s->last[k][j][f] = 0;
    }
  s->diagonal[i][f][f] = 1;
  s->right[i][0][f] = s->right[i][1][f] = 0;
}

static void
damp (GeoNodeSystem *s, double damping)
{
  double trace = 1e-300;
  for (size_t i = 0; i < s->count; i++)
    for (int f = 0; f < N; f++)
      trace += s->diagonal[i][f][f];
  double floor = 1e-13 * trace / (double)(s->count > 0 ? s->count : 1);
  for (size_t i = 0; i < s->count; i++)
    for (int f = 0; f < N; f++)
      {
        double *d = &s->diagonal[i][f][f];
        *d += damping * *d;
        /* A freedom that nothing asks about. */
        *d = *d > 1e-7 * floor ? *d : floor;
      }
  for (size_t i = 0; i < s->count; i++)
    for (int f = 0; f < N; f++)
      if (s->held[i][f])
        hold (s, i, f);
}

static bool
is_finite (const GeoNodeSystem *s, int sides)
{
  for (size_t i = 0; i < s->count; i++)
    for (int j = 0; j < sides; j++)
      for (int f = 0; f < N; f++)
        if (!isfinite (s->right[i][j][f]))
          return false;
  return true;
}

/* The lower factor in place of a. */
static bool
factor (double a[N][N])
{
  for (int j = 0; j < N; j++)
    {
      double before = a[j][j];
      for (int k = 0; k < j; k++)
        a[j][j] -= a[j][k] * a[j][k];
      if (!(a[j][j] > 1e-15 * before) || !(a[j][j] < INFINITY))
        return false;
      a[j][j] = sqrt (a[j][j]);
      for (int i = j + 1; i < N; i++)
        {
          for (int k = 0; k < j; k++)
            a[i][j] -= a[i][k] * a[j][k];
          a[i][j] /= a[j][j];
        }
    }
  return true;
}

static void
forward (double l[N][N], double *x, int stride)
{
  for (int i = 0; i < N; i++)
    {
      for (int k = 0; k < i; k++)
        x[i * stride] -= l[i][k] * x[k * stride];
      x[i * stride] /= l[i][i];
    }
}

static void
backward (double l[N][N], double *x)
{
  for (int i = N - 1; i >= 0; i--)
    {
      for (int k = i + 1; k < N; k++)
        x[i] -= l[k][i] * x[k];
      x[i] /= l[i][i];
    }
}

/* c -= a' b */
static void
take_product (double c[N][N], double a[N][N], double b[N][N])
{
  for (int i = 0; i < N; i++)
    for (int j = 0; j < N; j++)
      for (int k = 0; k < N; k++)
        c[i][j] -= a[k][i] * b[k][j];
}

/* x -= a' y, or a y */
static void
take_vector (double *x, double a[N][N], const double *y, bool turned)
{
  for (int i = 0; i < N; i++)
    for (int k = 0; k < N; k++)
      x[i] -= (turned ? a[k][i] : a[i][k]) * y[k];
}

static bool
eliminate (GeoNodeSystem *s, size_t i, int sides)
{
  size_t last = s->count - 1;
  double (*l)[N] = s->diagonal[i];
  if (!factor (l))
    return false;
  for (int j = 0; j < sides; j++)
    forward (l, s->right[i][j], 1);
  if (i == last)
    return true;
  for (int j = 0; j < N; j++)
    {
      forward (l, &s->next[i][0][j], N);
      forward (l, &s->last[i][0][j], N);
    }
  if (i + 1 < last)
    {
      take_product (s->diagonal[i + 1], s->next[i], s->next[i]);
      take_product (s->last[i + 1], s->next[i], s->last[i]);
    }
  take_product (s->diagonal[last], s->last[i], s->last[i]);
  for (int j = 0; j < sides; j++)
    {
      if (i + 1 < last)
        take_vector (s->right[i + 1][j], s->next[i], s->right[i][j], true);
      take_vector (s->right[last][j], s->last[i], s->right[i][j], true);
    }
  return true;
}

bool
geo_node_system_solve (GeoNodeSystem *s, double damping, int sides)
{
  damp (s, damping);
  for (size_t i = 0; i < s->count; i++)
    if (!eliminate (s, i, sides))
      return false;
  for (size_t i = s->count; i-- > 0;)
    for (int j = 0; j < sides; j++)
      {
        if (i + 2 < s->count)
          take_vector (s->right[i][j], s->next[i], s->right[i + 1][j], false);
        if (i + 1 < s->count)
          take_vector (s->right[i][j], s->last[i], s->right[s->count - 1][j],
                       false);
        backward (s->diagonal[i], s->right[i][j]);
      }
  return is_finite (s, sides);
}
