/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each figure that grows with the bust tells a bust of its own; the middle one of these is the body's,
 * however wrong one or two of them are. Against what is expected at that bust each figure
 * stands out by so many times its usual spread.
 *
 * An estimate. The figures at a bust of 880 mm are those of the worked draft (see torso.h), back and front width grow
 * by a quarter of the bust as in a college's proportional draft, scye depth by a twelfth (from memory),
 * the neck base as in ASTM D5585-11e1's table (34 to 42 cm over busts of 79 to 117); the
 * rest, and the spreads, are ours. */
#include "drafting/torso-blame.h"

#include <math.h>

typedef struct
{
  double at_880, slope, spread; /* mm; by the bust; about its mean */
} Expected;

static const Expected expected_of[DRAFTING_TORSO_FIGURES] = {
  [DRAFTING_TORSO_BUST_GIRTH] = { 880, 1, 60 },
  [DRAFTING_TORSO_WAIST_GIRTH] = { 690, 1, 90 },
  [DRAFTING_TORSO_NECK_GIRTH] = { 370, 0.2, 18 },
  [DRAFTING_TORSO_BACK_WAIST] = { 402, 0.03, 25 },
  [DRAFTING_TORSO_FRONT_WAIST] = { 422, 0.13, 28 },
  [DRAFTING_TORSO_SCYE_DEPTH] = { 210, 1.0 / 12, 16 },
  [DRAFTING_TORSO_SHOULDER_LENGTH] = { 122.5, 0.02, 9 },
  [DRAFTING_TORSO_ACROSS_BACK] = { 344, 0.25, 20 },
  [DRAFTING_TORSO_ACROSS_FRONT] = { 324, 0.25, 22 },
  [DRAFTING_TORSO_POINT_WIDTH] = { 188, 0.17, 20 },
  [DRAFTING_TORSO_POINT_SHOULDER] = { 257, 0.14, 22 },
};

static double
expected_at (unsigned figure, double bust)
{
  const Expected *e = &expected_of[figure];
  return e->at_880 + e->slope * (bust - 880);
}

/* The middle bust of those told. */
static double
middle_bust (const double *figures)
{
  double busts[DRAFTING_TORSO_FIGURES];
  unsigned n = 0;
  for (unsigned i = 0; i < DRAFTING_TORSO_FIGURES; i++)
    {
      const Expected *e = &expected_of[i];
      if (e->slope < 0.08) /* hardly grows */
        continue;
      double bust = 880 + (figures[i] - e->at_880) / e->slope;
      unsigned at = n++;
      for (; at > 0 && busts[at - 1] > bust; at--)
        busts[at] = busts[at - 1];
      busts[at] = bust;
    }
  return busts[n / 2];
}

unsigned
drafting_torso_outlier (const double figures[DRAFTING_TORSO_FIGURES],
                        double *expected)
{
  double bust = middle_bust (figures), worst = -1;
  unsigned found = 0;
  for (unsigned i = 0; i < DRAFTING_TORSO_FIGURES; i++)
    {
      double out
          = fabs (figures[i] - expected_at (i, bust)) / expected_of[i].spread;
      if (out > worst)
        {
          worst = out;
          found = i;
        }
    }
  *expected = expected_at (found, bust);
  return found;
}
