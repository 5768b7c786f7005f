/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/clips.h"

#include <glib.h>

#define DEGREE (M_PI / 180)

/* An arc whose k has the sign of angle. */
static void
append_arc (GeoChain *chain, double radius, double angle)
{
  int n = (int)ceil (fabs (angle) / (15 * DEGREE));
  double side = angle < 0 ? -1 : 1;
  for (int i = 0; i < n; i++)
    geo_chain_append (chain,
                      geo_cubic_arc (geo_point (0, 0), radius,
                                     angle * i / n - side * M_PI / 2,
                                     angle * (i + 1) / n - side * M_PI / 2));
}

static void
plan_chain (const GeoChain *chain, int outside, GeoClipRule rule,
            const double *marks, size_t mark_count, GeoClipPlan *plan)
{
  GeoRuler ruler;
  geo_ruler_init (&ruler, chain, 1e-9);
  geo_clip_plan (&ruler, outside, &rule, NULL, NULL, marks, mark_count, plan);
  geo_ruler_clear (&ruler);
}

static void
test_spacing (void)
{
  /* sqrt (8 x 0.3 R) and 6 R / (2 w), the smaller. The columns of R and w are
   * worked by hand from those two; published spacing on necklines and collars
   * is 6 to 13 mm, closer as the curve tightens (Goodheart-Willcox, Apparel,
   * 2012, pp. 451-452). */
  const struct
  {
    double radius, width, spacing;
  } rows[] = { { 20, 6, 6.9282 },
               { 40, 15, 8.0 },
               { 60, 15, 12.0 },
               { 100, 15, 15.4919 },
               { 250, 15, 24.4949 } };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      GeoClipRule rule = geo_clip_rule_default (rows[i].width, 0.04);
      for (int side = -1; side <= 1; side += 2)
        g_assert_cmpfloat_with_epsilon (
            geo_clip_spacing (&rule, side / rows[i].radius), rows[i].spacing,
            1e-3);
      if (rows[i].radius <= 60)
        {
          g_assert_cmpfloat (rows[i].spacing, >=, 6);
          g_assert_cmpfloat (rows[i].spacing, <=, 13);
        }
    }
  /* The bow alone: s = sqrt (2.4 R). */
  const double bow[][2]
      = { { 15, 6.0 },   { 25, 7.7 },   { 40, 9.8 },  { 60, 12.0 },
          { 100, 15.5 }, { 150, 19.0 }, { 300, 25.0 } /* 26.8, held */ };
  GeoClipRule rule = geo_clip_rule_default (3, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (bow); i++)
    g_assert_cmpfloat_with_epsilon (geo_clip_spacing (&rule, 1 / bow[i][0]),
                                    bow[i][1], 0.05);
}

static void
test_give (void)
{
  GeoClipRule rule = geo_clip_rule_default (6, 0.04);
  g_assert_cmpfloat (geo_clip_spacing (&rule, 0), ==, INFINITY);
  /* 2 w / R = 4 % at R 300. */
  g_assert_cmpfloat (geo_clip_spacing (&rule, 1 / 301.0), ==, INFINITY);
  g_assert_cmpfloat (geo_clip_spacing (&rule, 1 / 299.0), <, INFINITY);
  rule.width = 0;
  g_assert_cmpfloat (geo_clip_spacing (&rule, 1), ==, INFINITY);
}

static void
test_quarter_circle (void)
{
  /* R 100, w 15: cut edge 180.642, must lie in 133.518, surplus 47.124. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  append_arc (&chain, 100, 90 * DEGREE);
  plan_chain (&chain, 1, geo_clip_rule_default (15, 0.04), NULL, 0, &plan);
  g_assert_cmpfloat_with_epsilon (plan.surplus, 180.642 - 133.518, 1e-3);
  /* 157.08 / 15.49 wants 11 steps. */
  g_assert_cmpuint (plan.count, ==, 10);
  double step = 157.0796 / 11;
  g_assert_cmpfloat_with_epsilon (plan.longest_gap, step, 1e-2);
  g_assert_cmpfloat_with_epsilon (plan.shortest_gap, step, 1e-2);
  for (size_t i = 0; i < plan.count; i++)
    {
      g_assert_cmpint (plan.cuts[i].kind, ==, GEO_CUT_WEDGE);
      g_assert_cmpfloat (plan.cuts[i].depth, ==, 12);
      g_assert_cmpfloat_with_epsilon (plan.cuts[i].at, (double)(i + 1) * step,
                                      1e-2);
      g_assert_cmpfloat_with_epsilon (plan.cuts[i].mouth, 47.124 / 11, 1e-2);
    }
  g_assert_cmpfloat (plan.trim_to, ==, 0);
  /* The same line walked as a hollow: slits. */
  plan_chain (&chain, -1, geo_clip_rule_default (15, 0.04), NULL, 0, &plan);
  g_assert_cmpfloat_with_epsilon (plan.surplus, -47.124, 1e-3);
  g_assert_cmpuint (plan.count, ==, 10);
  for (size_t i = 0; i < plan.count; i++)
    {
      g_assert_cmpint (plan.cuts[i].kind, ==, GEO_CUT_SLIT);
      g_assert_cmpfloat (plan.cuts[i].mouth, ==, 0);
    }
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

static void
test_neckline (void)
{
  /* Half a neckline, 110 mm of R 60, s <= 12: ten steps, nine clips. Opening
   * g = 2 w s / R. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  append_arc (&chain, 60, -110.0 / 60);
  plan_chain (&chain, 1, geo_clip_rule_default (6.4, 0.04), NULL, 0, &plan);
  g_assert_cmpuint (plan.count, ==, 9);
  g_assert_cmpfloat_with_epsilon (plan.longest_gap, 11, 0.01);
  g_assert_cmpfloat (plan.cuts[0].depth, ==, 6.4 - 3);
  plan_chain (&chain, -1, geo_clip_rule_default (6.4, 0.04), NULL, 0, &plan);
  g_assert_cmpfloat_with_epsilon (plan.cuts[4].mouth, 2 * 6.4 * 11 / 60, 0.01);
  plan_chain (&chain, 1, geo_clip_rule_default (6, 0.04), NULL, 0, &plan);
  g_assert_cmpfloat (plan.cuts[0].depth, ==, 4);
  /* Too narrow to cut. */
  plan_chain (&chain, 1, geo_clip_rule_default (2, 0.04), NULL, 0, &plan);
  g_assert_cmpuint (plan.count, ==, 0);
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

static void
test_straight (void)
{
  const double widths[] = { 0, 3, 15, 60 };
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (300, 40));
  for (gsize i = 0; i < G_N_ELEMENTS (widths); i++)
    {
      plan_chain (&chain, 1, geo_clip_rule_default (widths[i], 0), NULL, 0,
                  &plan);
      g_assert_cmpuint (plan.count, ==, 0);
      g_assert_cmpfloat_with_epsilon (plan.surplus, 0, 1e-9);
      g_assert_cmpfloat (plan.longest_gap, ==, 0);
    }
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

static void
test_trim (void)
{
  /* R 10, w 15: the opening asks for 2 mm, held at 4; at w = 6 x 10 / (2 x 4)
   * it would ask for 4. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  append_arc (&chain, 10, 180 * DEGREE);
  plan_chain (&chain, 1, geo_clip_rule_default (15, 0.04), NULL, 0, &plan);
  g_assert_cmpfloat_with_epsilon (plan.trim_to, 7.5, 0.01);
  g_assert_cmpfloat (plan.shortest_gap, >=, 3.9);
  plan_chain (&chain, 1, geo_clip_rule_default (7.4, 0.04), NULL, 0, &plan);
  g_assert_cmpfloat (plan.trim_to, ==, 0);
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

/* A handle drawn in: the curvature has no bound at that end, but the turn of
 * a quarter is what it is (2 w theta). Trimming to nothing was once the advice
 * here, and the first wedge of the second ply as wide as a house. */
static void
test_collapsed_handle (void)
{
  const GeoCubic curves[]
      = { { { { 0, 0 }, { 0, 0 }, { 100, 0 }, { 100, 100 } } },
          { { { 0, 0 }, { 100, 0 }, { 100, 100 }, { 100, 100 } } },
          { { { 0, 0 }, { 1, 0 }, { 100, 20 }, { 100, 100 } } } };
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  for (gsize i = 0; i < G_N_ELEMENTS (curves); i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoClipRule rule = geo_clip_rule_default (15, 0);
      double out = 0;
      geo_chain_append (&chain, curves[i]);
      rule.stagger = true;
      plan_chain (&chain, 1, rule, NULL, 0, &plan);
      g_assert_cmpuint (plan.count, >, 5);
      g_assert_cmpuint (plan.count, <, 20);
      for (size_t j = 0; j < plan.count; j++)
        {
          g_assert_cmpfloat (plan.cuts[j].mouth, <, 10);
          out += plan.cuts[j].mouth;
        }
      /* Each takes out a whole step, so together they take out everything. */
      g_assert_cmpfloat_with_epsilon (out, 15 * M_PI, 1e-3);
      g_assert_true (plan.trim_to == 0 || plan.trim_to > 5);
      geo_chain_clear (&chain);
    }
  geo_clip_plan_clear (&plan);
}

/* Straight, and laid over a partner whose handle is drawn in at its start: with
 * s the length from there k goes as 1 / sqrt (s), here 0.1 / sqrt (s), which
 * turns by 0.2 sqrt (L). */
static double
opposite_collapsed (double at, void *data)
{
  (void)data;
  return at > 0 ? fmin (0.1 / sqrt (at), 1e9) : 1e9;
}

static void
test_collapsed_partner (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  GeoRuler ruler;
  GeoClipRule rule = geo_clip_rule_default (15, 0.04);
  geo_clip_plan_init (&plan);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (100, 0));
  geo_ruler_init (&ruler, &chain, 1e-9);
  geo_clip_plan (&ruler, 1, &rule, opposite_collapsed, NULL, NULL, 0, &plan);
  g_assert_cmpfloat (fabs (plan.surplus - 15 * 0.2 * 10), <, 0.06 * 30);
  g_assert_cmpuint (plan.count, >, 0);
  geo_ruler_clear (&ruler);
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

static double
opposite (double at, void *data)
{
  (void)at;
  return *(double *)data;
}

static void
test_partner (void)
{
  /* Laid over a partner that is its complement it demands nothing; over one
   * that bulges as well (a shoulder line) w (k + k'). */
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  GeoRuler ruler;
  GeoClipRule rule = geo_clip_rule_default (15, 0.04);
  double k = -1 / 80.0;
  geo_clip_plan_init (&plan);
  append_arc (&chain, 80, 60 * DEGREE);
  geo_ruler_init (&ruler, &chain, 1e-9);
  geo_clip_plan (&ruler, 1, &rule, opposite, &k, NULL, 0, &plan);
  g_assert_cmpuint (plan.count, ==, 0);
  g_assert_cmpfloat_with_epsilon (plan.surplus, 0, 1e-3);
  k = 1 / 160.0;
  geo_clip_plan (&ruler, 1, &rule, opposite, &k, NULL, 0, &plan);
  g_assert_cmpfloat_with_epsilon (plan.surplus, 15 * 1.5 * M_PI / 3, 1e-3);
  g_assert_cmpuint (plan.count, >, 0);
  g_assert_cmpint (plan.cuts[0].kind, ==, GEO_CUT_WEDGE);
  k = -1 / 40.0;
  geo_clip_plan (&ruler, 1, &rule, opposite, &k, NULL, 0, &plan);
  g_assert_cmpfloat_with_epsilon (plan.surplus, -15 * M_PI / 3, 1e-3);
  g_assert_cmpint (plan.cuts[0].kind, ==, GEO_CUT_SLIT);
  geo_ruler_clear (&ruler);
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

static void
test_hem (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  /* A full circle, any radius, depth 40: 2 x 40 x 2 pi. */
  append_arc (&chain, 563.7, 360 * DEGREE);
  g_assert_cmpfloat_with_epsilon (geo_hem_surplus (&chain, 1, 40), 502.65,
                                  0.01);
  g_assert_cmpfloat_with_epsilon (geo_hem_surplus (&chain, -1, 40), -502.65,
                                  0.01);
  geo_chain_reset (&chain);
  /* Excess 200 h / R per cent: 3.07, 6.14, 9.21 at R 827.3; a half circle at
   * 25.4: 159.6 mm. */
  append_arc (&chain, 827.3, 180 * DEGREE);
  double length = geo_chain_length (&chain, 1e-9);
  g_assert_cmpfloat_with_epsilon (
      100 * geo_hem_surplus (&chain, 1, 12.7) / length, 3.07, 0.005);
  g_assert_cmpfloat_with_epsilon (
      100 * geo_hem_surplus (&chain, 1, 25.4) / length, 6.14, 0.005);
  g_assert_cmpfloat_with_epsilon (
      100 * geo_hem_surplus (&chain, 1, 38.1) / length, 9.21, 0.005);
  g_assert_cmpfloat_with_epsilon (geo_hem_surplus (&chain, 1, 25.4), 159.6,
                                  0.05);
  geo_chain_clear (&chain);
}

/* Integral of ds / spacing between two places by steps of 0.02 mm: none of the
 * planner's own table. */
static double
demand (const GeoRuler *ruler, const GeoClipRule *rule, double from, double to)
{
  double sum = 0;
  int n = (int)ceil ((to - from) / 0.02);
  for (int i = 0; i < n; i++)
    {
      double at = from + (to - from) * (i + 0.5) / n;
      double k
          = geo_chain_curvature (ruler->chain, geo_ruler_place (ruler, at));
      double s = geo_clip_spacing (rule, k);
      sum += isfinite (s) ? (to - from) / n / s : 0;
    }
  return sum;
}

static void
test_equal_demand (void)
{
  /* An armhole's lower half: curvature from 1/200 to 1/35 and back. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan, other;
  GeoRuler ruler;
  GeoClipRule rule = geo_clip_rule_default (10, 0.02);
  geo_clip_plan_init (&plan);
  geo_clip_plan_init (&other);
  geo_chain_append (
      &chain, (GeoCubic){ { { 0, 0 }, { 8, 70 }, { 40, 118 }, { 120, 110 } } });
  geo_ruler_init (&ruler, &chain, 1e-9);
  geo_clip_plan (&ruler, 1, &rule, NULL, NULL, NULL, 0, &plan);
  rule.stagger = true;
  geo_clip_plan (&ruler, 1, &rule, NULL, NULL, NULL, 0, &other);
  g_assert_cmpuint (plan.count, >=, 6);
  g_assert_cmpuint (other.count, ==, plan.count + 1);
  double first = demand (&ruler, &rule, plan.cuts[0].at, plan.cuts[1].at);
  g_assert_cmpfloat (first, <=, 1.001);
  for (size_t i = 1; i < plan.count; i++)
    {
      double d = demand (&ruler, &rule, plan.cuts[i - 1].at, plan.cuts[i].at);
      g_assert_cmpfloat_with_epsilon (d, first, 0.01);
      /* The staggered ply's cut halves it. */
      d = demand (&ruler, &rule, plan.cuts[i - 1].at, other.cuts[i].at);
      g_assert_cmpfloat_with_epsilon (d, first / 2, 0.01);
    }
  geo_ruler_clear (&ruler);
  geo_clip_plan_clear (&plan);
  geo_clip_plan_clear (&other);
  geo_chain_clear (&chain);
}

static void
test_s_curve (void)
{
  /* Bulging, then hollow: wedges, then slits, and no cut of either kind in the
   * other's stretch. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  geo_chain_append (&chain, geo_cubic_arc (geo_point (0, 0), 50, 0, M_PI / 2));
  GeoCubic back = geo_cubic_arc (geo_point (0, 100), 50, 3 * M_PI / 2, M_PI);
  geo_chain_append (&chain, back);
  plan_chain (&chain, 1, geo_clip_rule_default (10, 0.04), NULL, 0, &plan);
  g_assert_cmpfloat_with_epsilon (plan.surplus, 0, 1e-6);
  g_assert_cmpuint (plan.count, >=, 8);
  for (size_t i = 0; i < plan.count; i++)
    g_assert_cmpint (plan.cuts[i].kind, ==,
                     plan.cuts[i].at < 25 * M_PI ? GEO_CUT_WEDGE
                                                 : GEO_CUT_SLIT);
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

static void
test_inner_corner (void)
{
  /* A point of a V neck inside one edge is clipped into. */
  GeoChain chain = GEO_CHAIN_EMPTY;
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  geo_chain_append_line (&chain, geo_point (0, 0), geo_point (80, 0));
  geo_chain_append_line (&chain, geo_point (80, 0), geo_point (80, -80));
  plan_chain (&chain, 1, geo_clip_rule_default (10, 0.04), NULL, 0, &plan);
  g_assert_cmpuint (plan.count, ==, 1);
  g_assert_cmpfloat_with_epsilon (plan.cuts[0].at, 80, 1e-9);
  g_assert_cmpint (plan.cuts[0].kind, ==, GEO_CUT_SLIT);
  g_assert_cmpfloat_with_epsilon (plan.surplus, -2 * 10 * M_PI / 2, 1e-9);
  plan_chain (&chain, -1, geo_clip_rule_default (10, 0.04), NULL, 0, &plan);
  g_assert_cmpuint (plan.count, ==, 0);
  geo_clip_plan_clear (&plan);
  geo_chain_clear (&chain);
}

static void
test_marks (void)
{
  /* Whatever the marks: none nearer than 5 mm, cuts ascending, inside the
   * edge, no two closer than half the hold. */
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  for (int i = 0; i < 300; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      double radius = g_test_rand_double_range (12, 250);
      double angle = g_test_rand_double_range (0.3, 3);
      double marks[4];
      size_t count = (size_t)g_test_rand_int_range (0, 5);
      append_arc (&chain, radius, angle);
      for (size_t j = 0; j < count; j++)
        marks[j] = g_test_rand_double_range (0, radius * angle);
      GeoClipRule rule
          = geo_clip_rule_default (g_test_rand_double_range (0, 25), 0.04);
      rule.stagger = i % 2;
      plan_chain (&chain, i % 3 ? 1 : -1, rule, marks, count, &plan);
      double before = 0;
      for (size_t j = 0; j < plan.count; j++)
        {
          for (size_t m = 0; m < count; m++)
            g_assert_cmpfloat (fabs (plan.cuts[j].at - marks[m]), >=, 5 - 1e-6);
          g_assert_cmpfloat (plan.cuts[j].at, >, before);
          g_assert_cmpfloat (plan.cuts[j].at, <, radius * angle);
          if (j > 0)
            g_assert_cmpfloat (plan.cuts[j].at - before, >=, 1.99);
          g_assert_cmpfloat (plan.cuts[j].depth, >, 0);
          g_assert_cmpfloat (plan.cuts[j].depth, <=, rule.width - 2);
          g_assert_true (isfinite (plan.cuts[j].mouth));
          before = plan.cuts[j].at;
        }
      geo_chain_clear (&chain);
    }
  geo_clip_plan_clear (&plan);
}

static void
test_degenerate (void)
{
  GeoClipPlan plan;
  geo_clip_plan_init (&plan);
  for (int i = 0; i < 400; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      for (int n = g_test_rand_int_range (0, 4); n > 0; n--)
        {
          GeoCubic c;
          for (int j = 0; j < 4; j++)
            c.p[j] = geo_point (g_test_rand_int_range (0, 3) * 20.0,
                                g_test_rand_int_range (0, 3) * 20.0);
          geo_chain_append (&chain, c);
        }
      plan_chain (&chain, 1, geo_clip_rule_default (15, 0.04), NULL, 0, &plan);
      g_assert_true (isfinite (plan.surplus) && isfinite (plan.trim_to));
      g_assert_cmpuint (plan.count, <, 500);
      /* No cubic turns by more than a few half turns. */
      for (size_t j = 0; j < plan.count; j++)
        g_assert_true (isfinite (plan.cuts[j].at) && plan.cuts[j].mouth >= 0
                       && plan.cuts[j].mouth <= 2 * 15 * 3 * M_PI);
      geo_chain_clear (&chain);
    }
  geo_clip_plan_clear (&plan);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/clips/spacing", test_spacing);
  g_test_add_func ("/clips/give", test_give);
  g_test_add_func ("/clips/quarter-circle", test_quarter_circle);
  g_test_add_func ("/clips/neckline", test_neckline);
  g_test_add_func ("/clips/straight", test_straight);
  g_test_add_func ("/clips/trim", test_trim);
  g_test_add_func ("/clips/collapsed-handle", test_collapsed_handle);
  g_test_add_func ("/clips/collapsed-partner", test_collapsed_partner);
  g_test_add_func ("/clips/partner", test_partner);
  g_test_add_func ("/clips/hem", test_hem);
  g_test_add_func ("/clips/equal-demand", test_equal_demand);
  g_test_add_func ("/clips/s-curve", test_s_curve);
  g_test_add_func ("/clips/inner-corner", test_inner_corner);
  g_test_add_func ("/clips/marks", test_marks);
  g_test_add_func ("/clips/degenerate", test_degenerate);
  return g_test_run ();
}
