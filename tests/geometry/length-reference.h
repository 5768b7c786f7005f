/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths by GSL, for the tests and benchmarks of our own. */
#pragma once

#include <gsl/gsl_integration.h>

#include "geometry/cubic.h"

static inline double
speed (double t, void *data)
{
  return geo_norm (geo_cubic_velocity (data, t));
}

/* GSL's adaptive quadrature with the range cut where the speed is least, and
 * ever finer towards those places and both ends: left to itself it misses a
 * tiny handle by 2e-10 mm while claiming 5e-12. */
static inline double
reference_length (const GeoCubic *c, double to)
{
  static gsl_integration_workspace *room;
  if (!room)
    room = gsl_integration_workspace_alloc (2000);
  double centres[8] = { 0, to }, cuts[400];
  int centre_count = 2, count = 0;
  double least_speed = INFINITY;
  for (int i = 0; i <= 2000; i++)
    {
      double s = speed (i / 2000.0, (void *)c);
      if (s < least_speed)
        {
          least_speed = s;
          centres[2] = i / 2000.0;
          centre_count = 3;
        }
    }
  double cusps[2];
  int cusp_count = geo_cubic_cusps (c, cusps);
  for (int i = 0; i < cusp_count; i++)
    centres[centre_count++] = cusps[i];
  for (int i = 0; i < centre_count; i++)
    for (int k = -1; k < 30; k++)
      for (int side = -1; side <= 1; side += 2)
        {
          double t = k < 0 ? centres[i] : centres[i] + side * ldexp (1, -k);
          if (t >= 0 && t <= to)
            cuts[count++] = t;
        }
  for (int i = 1; i < count; i++)
    for (int j = i; j > 0 && cuts[j] < cuts[j - 1]; j--)
      {
        double swap = cuts[j];
        cuts[j] = cuts[j - 1];
        cuts[j - 1] = swap;
      }
  double sum = 0;
  gsl_function f = { speed, (void *)c };
  for (int i = 1; i < count; i++)
    {
      double part = 0, error;
      if (cuts[i] > cuts[i - 1])
        gsl_integration_qag (&f, cuts[i - 1], cuts[i], 1e-13, 1e-12, 2000,
                             GSL_INTEG_GAUSS31, room, &part, &error);
      sum += part;
    }
  return sum;
}
