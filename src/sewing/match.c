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

/* The alignment of two sequences by dynamic programming (R. A. Wagner and M. J.
 * Fischer, The string-to-string correction problem, J. ACM 21, 1974): best
 * (i, j) is the least cost of the first i marks of A against the first j of
 * B. */
guint
sewing_match (const SewingMark *a, guint n_a, double a_length,
              const SewingMark *b, guint n_b, double b_length, int *partner)
{
  for (guint i = 0; i < n_a; i++)
    partner[i] = -1;
  if (n_a == 0 || n_b == 0 || a_length <= 0 || b_length <= 0)
    return 0;

  guint row = n_b + 1;
  g_autofree double *best = g_new (double, (gsize)(n_a + 1) * row);
  g_autofree guint8 *step = g_new (guint8, (gsize)(n_a + 1) * row);
  for (guint i = 0; i <= n_a; i++)
    for (guint j = 0; j <= n_b; j++)
      {
        double least = i + j == 0 ? 0 : INFINITY;
        guint8 by = STEP_PAIR;
        if (i > 0 && j > 0)
          least = best[(i - 1) * row + j - 1]
                  + pair_cost (
                      &a[i - 1], &b[j - 1],
                      fabs (a[i - 1].at / a_length - b[j - 1].at / b_length));
        double skip_a = i > 0 ? best[(i - 1) * row + j] + loose_cost (&a[i - 1])
                              : INFINITY;
        double skip_b
            = j > 0 ? best[i * row + j - 1] + loose_cost (&b[j - 1]) : INFINITY;
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
        best[i * row + j] = least;
        step[i * row + j] = by;
      }

  guint pairs = 0;
  guint i = n_a, j = n_b;
  while (i > 0 || j > 0)
    switch ((Step)step[i * row + j])
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
