/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Curves for the tests of this folder: pattern edges from the data file, random
 * ones, and those that break things. */
#pragma once

#include <gio/gio.h>
#include <glib.h>
#include <stdlib.h>
#include <string.h>

#include "geometry/chain.h"

#define NEAR(a, b, tolerance) g_assert_cmpfloat_with_epsilon (a, b, tolerance)
#define NEAR_POINT(p, q, tolerance)                                            \
  g_assert_cmpfloat (geo_distance (p, q), <=, tolerance)

typedef struct
{
  char name[24];
  GeoCubic c;
} CurveSample;

static inline CurveSample
curve_sample (const char *name, double x0, double y0, double x1, double y1,
              double x2, double y2, double x3, double y3)
{
  CurveSample sample
      = { "", { { { x0, y0 }, { x1, y1 }, { x2, y2 }, { x3, y3 } } } };
  g_strlcpy (sample.name, name, sizeof sample.name);
  return sample;
}

/* Those of tests/data/pattern-curves.txt. */
static inline GArray *
curve_samples_pattern (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("BODKIN_TEST_DATA"),
                                            "pattern-curves.txt", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  GArray *samples = g_array_new (FALSE, FALSE, sizeof (CurveSample));
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line; line++)
    {
      if (**line == '#' || **line == '\0')
        continue;
      g_auto (GStrv) words = g_strsplit (*line, " ", -1);
      g_assert_cmpuint (g_strv_length (words), ==, 9);
      double v[8];
      for (int i = 0; i < 8; i++)
        v[i] = g_ascii_strtod (words[i + 1], NULL);
      CurveSample sample = curve_sample (words[0], v[0], v[1], v[2], v[3], v[4],
                                         v[5], v[6], v[7]);
      g_array_append_val (samples, sample);
    }
  g_assert_cmpuint (samples->len, >=, 200);
  return samples;
}

/* Collapsed and tiny handles, cusps, folds, points, loops. */
static inline GArray *
curve_samples_degenerate (void)
{
  const CurveSample all[] = {
    curve_sample ("point", 50, 60, 50, 60, 50, 60, 50, 60),
    curve_sample ("nearly a point", 50, 60, 50 + 1e-9, 60, 50, 60, 50,
                  60 - 1e-9),
    curve_sample ("line", 0, 0, 100, 50, 200, 100, 300, 150),
    curve_sample ("line, uneven", 0, 0, 10, 5, 20, 10, 300, 150),
    curve_sample ("line, bare", 0, 0, 0, 0, 300, 150, 300, 150),
    curve_sample ("line, bare start", 0, 0, 0, 0, 0, 0, 300, 150),
    curve_sample ("line, bare end", 0, 0, 300, 150, 300, 150, 300, 150),
    curve_sample ("no start handle", 10, 20, 10, 20, 150, 10, 200, 90),
    curve_sample ("no end handle", 10, 20, 60, 100, 200, 90, 200, 90),
    curve_sample ("no handles", 10, 20, 10, 20, 200, 90, 200, 90),
    curve_sample ("start handle twice none", 10, 20, 10, 20, 10, 20, 200, 90),
    curve_sample ("tiny start handle", 10, 20, 10 + 1e-6, 20 - 1e-6, 150, 10,
                  200, 90),
    curve_sample ("tiny handle 1e-3", 10, 20, 10, 20 - 1e-3, 150, 10, 200, 90),
    curve_sample ("tiny handle 0.1", 10, 20, 10, 20.1, 150, 10, 200, 90),
    curve_sample ("tiny handle, back", 10, 20, 10 - 1e-4, 20, 150, 10, 200, 90),
    curve_sample ("tiny end handle", 10, 20, 60, 100, 200 + 3e-4, 90, 200, 90),
    curve_sample ("exact cusp", 0, 0, 100, 100, 0, 100, 100, 0),
    curve_sample ("near cusp", 0, 0, 100.001, 100, 0, 100, 100, 0),
    curve_sample ("near cusp, loop", 0, 0, 101, 100, 0, 100, 100, 0),
    curve_sample ("near cusp, open", 0, 0, 99, 100, 0, 100, 100, 0),
    curve_sample ("fold", 0, 0, 100, 0, -50, 0, 60, 0),
    curve_sample ("fold, slanting", 10, 10, 110, 60, -40, -15, 70, 40),
    curve_sample ("fold, to its start", 0, 0, 120, 80, 120, 80, 0, 0),
    curve_sample ("hairpin", 0, 0, 100, 0.001, 100, -0.001, 0, 1e-9),
    curve_sample ("loop", 0, 0, 150, 100, -50, 100, 100, 0),
    curve_sample ("closed loop", 0, 0, 150, 100, -150, 100, 0, 0),
    curve_sample ("long handles", 0, 0, 900, 700, -800, 700, 50, 0),
    curve_sample ("s", 0, 0, 100, 0, 0, 100, 100, 100),
    curve_sample ("tiny", 0, 0, 1e-7, 0, 2e-7, 1e-7, 2e-7, 3e-7),
    curve_sample ("far away", 1e6, 1e6, 1e6 + 50, 1e6, 1e6 + 90, 1e6 + 40,
                  1e6 + 90, 1e6 + 99),
  };
  GArray *samples = g_array_new (FALSE, FALSE, sizeof (CurveSample));
  g_array_append_vals (samples, all, G_N_ELEMENTS (all));
  return samples;
}

static inline GeoPoint
random_point (double size)
{
  double x = g_test_rand_double_range (0, size);
  return geo_point (x, g_test_rand_double_range (0, size));
}

static inline GeoCubic
random_cubic (double size)
{
  GeoCubic c;
  for (int i = 0; i < 4; i++)
    c.p[i] = random_point (size);
  return c;
}

/* Random, with control points made to fall together, in line, or nearly so, about
 * half of the time. */
static inline GeoCubic
random_awkward_cubic (double size)
{
  GeoCubic c = random_cubic (size);
  int i = g_test_rand_int_range (0, 4), j = g_test_rand_int_range (0, 4);
  double tiny = pow (10, g_test_rand_double_range (-12, 0));
  switch (g_test_rand_int_range (0, 10))
    {
    case 0:
      c.p[i] = c.p[j];
      break;
    case 1:
      c.p[i] = geo_along (c.p[j], random_point (1), tiny);
      break;
    case 2:
      for (int k = 1; k < 3; k++)
        c.p[k] = geo_lerp (c.p[0], c.p[3], g_test_rand_double_range (-1, 2));
      break;
    case 3:
      c.p[1] = c.p[0];
      c.p[2] = c.p[3];
      break;
    case 4:
      for (int k = 0; k < 4; k++)
        c.p[k] = geo_point (round (c.p[k].x / 50) * 50,
                            round (c.p[k].y / 50) * 50);
      break;
    default:
      break;
    }
  return c;
}

/* The graph y = a3 x^3 + a2 x^2 + a1 x + a0 over [-1, 1], made size times as
 * large; or x as that function of y. Control points are the values of the
 * three-argument form at (-1, -1, -1) to (1, 1, 1). */
static inline GeoCubic
graph_cubic (double a3, double a2, double a1, double a0, double size,
             bool sideways)
{
  GeoCubic c;
  for (int i = 0; i < 4; i++)
    {
      double u = i > 0 ? 1 : -1, v = i > 1 ? 1 : -1, w = i > 2 ? 1 : -1;
      double x = (u + v + w) / 3;
      double y
          = a3 * u * v * w + a2 * (u * v + v * w + w * u) / 3 + a1 * x + a0;
      c.p[i] = sideways ? geo_point (size * y, size * x)
                        : geo_point (size * x, size * y);
    }
  return c;
}

static inline void
assert_finite_point (GeoPoint p)
{
  g_assert_true (isfinite (p.x) && isfinite (p.y));
}

static inline void
chain_append_polygon (GeoChain *chain, const double *xy, size_t corners)
{
  for (size_t i = 0; i < corners; i++)
    {
      size_t j = (i + 1) % corners;
      geo_chain_append_line (chain, geo_point (xy[2 * i], xy[2 * i + 1]),
                             geo_point (xy[2 * j], xy[2 * j + 1]));
    }
}

/* A circle of positive area in arcs cubics, closed exactly. */
static inline void
chain_append_circle (GeoChain *chain, GeoPoint centre, double radius, int arcs)
{
  size_t first = chain->count;
  for (int i = 0; i < arcs; i++)
    geo_chain_append (chain, geo_cubic_arc (centre, radius, 2 * G_PI * i / arcs,
                                            2 * G_PI * (i + 1) / arcs));
  chain->cubics[chain->count - 1].p[3] = chain->cubics[first].p[0];
}
