/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/match.h"

#include <math.h>

/* Costs, in units of "one notch left without a partner". Our own choice:
 * - two notches of the same strokes belong together unless they stand farther
 *   apart than 2 REACH of the seam (then leaving both alone, cost 2, is
 *   cheaper): a notch that was misplaced is still told as misplaced;
 * - notches of different strokes never belong together: that is what strokes
 *   are for;
 * - a notch may face a joint (a collar's notch at the shoulder seam), if they
 *   are near: cost under 1;
 * - two joints face each other only when nearly at the same place. A joint is
 *   never missed. */
#define REACH 0.2
#define JOINT_COST 0.25
#define JOINTS_NEAR 0.05
#define JOINTS_BONUS 0.5

static double
loose_cost (const SewingMark *mark)
{
  return mark->count > 0 ? 1 : 0;
}

/* apart: distance as a share of the seam. */
static double
pair_cost (const SewingMark *a, const SewingMark *b, double apart)
{
  if (a->count > 0 && a->count == b->count)
    return apart / REACH;
  if (a->joint && b->joint)
    return apart <= JOINTS_NEAR ? apart / REACH - JOINTS_BONUS : INFINITY;
  if ((a->joint && a->count == 0 && b->count > 0)
      || (b->joint && b->count == 0 && a->count > 0))
    return JOINT_COST + apart / REACH;
  return INFINITY;
}

typedef enum
{
  STEP_PAIR,
  STEP_SKIP_A,
  STEP_SKIP_B
} Step;

typedef struct
{
  const SewingMark *a, *b;
  guint n_a, n_b;
  double a_length, b_length;
  double *best; /* (n_a + 1) rows of n_b + 1 */
  guint8 *step; /* Step, the same way */
} Table;

static double
best_at (const Table *t, guint i, guint j)
{
  return t->best[i * (t->n_b + 1) + j];
}

/* The least cost of the first i marks of A against the first j of B, from those
 * of fewer. */
static void
fill (Table *t, guint i, guint j)
{
  double least = i + j == 0 ? 0 : INFINITY;
  Step by = STEP_PAIR;
  if (i > 0 && j > 0)
    {
      const SewingMark *a = &t->a[i - 1], *b = &t->b[j - 1];
      double apart = fabs (a->at / t->a_length - b->at / t->b_length);
      least = best_at (t, i - 1, j - 1) + pair_cost (a, b, apart);
    }
  double skip_a
      = i > 0 ? best_at (t, i - 1, j) + loose_cost (&t->a[i - 1]) : INFINITY;
  double skip_b
      = j > 0 ? best_at (t, i, j - 1) + loose_cost (&t->b[j - 1]) : INFINITY;
  if (skip_a < least)
    {
      least = skip_a;
      by = STEP_SKIP_A;
    }
  if (skip_b < least)
    {
      least = skip_b;
      by = STEP_SKIP_B;
    }
  t->best[i * (t->n_b + 1) + j] = least;
  t->step[i * (t->n_b + 1) + j] = (guint8)by;
}

/* Back along the steps taken. */
static guint
collect (const Table *t, int *partner)
{
  guint pairs = 0, i = t->n_a, j = t->n_b;
  while (i > 0 || j > 0)
    switch ((Step)t->step[i * (t->n_b + 1) + j])
      {
      case STEP_SKIP_A:
        i--;
        break;
      case STEP_SKIP_B:
        j--;
        break;
      case STEP_PAIR:
      default:
        i--;
        j--;
        partner[i] = (int)j;
        pairs++;
        break;
      }
  return pairs;
}

/* The alignment of two sequences by dynamic programming (R. A. Wagner and M. J.
 * Fischer, The string-to-string correction problem, J. ACM 21, 1974). */
guint
sewing_match (const SewingMark *a, guint n_a, double a_length,
              const SewingMark *b, guint n_b, double b_length, int *partner)
{
  for (guint i = 0; i < n_a; i++)
    partner[i] = -1;
  if (n_a == 0 || n_b == 0 || a_length <= 0 || b_length <= 0)
    return 0;

  gsize cells = (gsize)(n_a + 1) * (n_b + 1);
  g_autofree double *best = g_new (double, cells);
  g_autofree guint8 *step = g_new (guint8, cells);
  Table t = { a, b, n_a, n_b, a_length, b_length, best, step };
  for (guint i = 0; i <= n_a; i++)
    for (guint j = 0; j <= n_b; j++)
      fill (&t, i, j);
  return collect (&t, partner);
}
