/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facings and linings, against closed forms and published amounts. */
#include "drafting/facing.h"

#include "drafting/trace.h"
#include "geometry/nearest.h"
#include "geometry/parallel.h"
#include "geometry/region-boolean.h"
#include "geometry/region.h"

#include "sloper.h"

#define INCH 25.4

static double
length (const DraftingShape *shape, const char *part)
{
  return drafting_shape_length (shape, part);
}

static double
area (const DraftingShape *shape)
{
  GeoChain outline = GEO_CHAIN_EMPTY;
  drafting_shape_outline (shape, &outline);
  double a = fabs (geo_chain_area (&outline));
  geo_chain_clear (&outline);
  return a;
}

static gboolean
face (const Sloper *s, const PatternRun *runs, guint n,
      const DraftingFacingWish *wish, DraftingShape *shape)
{
  g_auto (DraftingLay) lay = { 0 };
  GError *error = NULL;
  g_assert_true (drafting_lay_runs (s->pattern, runs, n, &lay, &error));
  g_assert_no_error (error);
  return drafting_facing_shape (s->pattern, &lay, wish, shape);
}

/* 2 in wide, the usual (blogforbettersewing.com 2011/01; "The sewtionary" p. 140), 2 1/2 (theclosethistorian.blogspot.com
 * 2017/08): the inner edge is that far off everywhere, the faced edge the garment's
 * own, exactly (mpfashionschool.com lesson 5). */
static void
test_neck_facing (void)
{
  Sloper s;
  sloper_init (&s);
  static const double widths[] = { 2 * INCH, 2.5 * INCH };
  for (int i = 0; i < 2; i++)
    {
      g_auto (DraftingShape) shape = { 0 };
      PatternRun run = sloper_run (s.back, "neck");
      DraftingFacingWish wish = { .depth = widths[i] };
      g_assert_true (face (&s, &run, 1, &wish, &shape));
      const GeoChain *faced = drafting_shape_get (&shape, "faced-1");
      const GeoChain *inner = drafting_shape_get (&shape, "inner");
      GeoChain neck = GEO_CHAIN_EMPTY;
      pattern_piece_edge_chain (s.back, 0, &neck);
      g_assert_cmpfloat_with_epsilon (geo_chain_length (&neck, 1e-9),
                                      length (&shape, "faced-1"), 1e-9);
      for (int k = 1; k < 10; k++)
        {
          double at = geo_chain_length (inner, 1e-9) * k / 10;
          GeoPoint p
              = geo_chain_point (inner, geo_chain_at_length (inner, at, 1e-9));
          g_assert_cmpfloat_with_epsilon (geo_chain_nearest (faced, p, NULL),
                                          widths[i], 0.02);
        }
      /* Square to the fold and, as the neck is, to the shoulder. */
      g_assert_cmpfloat_with_epsilon (length (&shape, "start"), widths[i],
                                      1e-4);
      g_assert_cmpfloat_with_epsilon (length (&shape, "end"), widths[i], 1e-4);
      geo_chain_clear (&neck);
    }
  sloper_clear (&s);
}

/* Neck and front edge in one, the inner corner rounded; it lies within the piece. */
static void
test_neck_and_front (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingShape) shape = { 0 };
  PatternRun runs[]
      = { sloper_run (s.front, "neck"), sloper_run (s.front, "centre front") };
  DraftingFacingWish wish = { .depth = 40, .depth_after = 60, .smooth = 60 };
  g_assert_true (face (&s, runs, 2, &wish, &shape));
  GeoChain outline = GEO_CHAIN_EMPTY, piece = GEO_CHAIN_EMPTY;
  drafting_shape_outline (&shape, &outline);
  pattern_piece_outline (s.front, &piece);
  g_assert_true (geo_region_contains (&piece, &outline, 1e-3));
  geo_chain_clear (&outline);
  geo_chain_clear (&piece);
  g_assert_cmpfloat_with_epsilon (length (&shape, "start"), 40, 1e-4);
  /* Smooth: no corner along the inner edge. */
  const GeoChain *inner = drafting_shape_get (&shape, "inner");
  for (size_t i = 1; i < inner->count; i++)
    g_assert_cmpfloat (
        fabs (geo_angle_between (geo_cubic_tangent (&inner->cubics[i - 1], 1),
                                 geo_cubic_tangent (&inner->cubics[i], 0))),
        <, 1e-3);
  sloper_clear (&s);
}

/* Over the shoulder: back and front neck in one piece. */
static void
test_joined (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingShape) shape = { 0 };
  PatternRun runs[]
      = { sloper_run (s.back, "neck"), sloper_run (s.front, "neck") };
  DraftingFacingWish wish = { .depth = 50 };
  g_assert_true (face (&s, runs, 2, &wish, &shape));
  GeoChain all = GEO_CHAIN_EMPTY;
  geo_chain_append_chain (&all, drafting_shape_get (&shape, "faced-1"));
  geo_chain_append_chain (&all, drafting_shape_get (&shape, "faced-2"));
  /* A strip along a hollow that turns by t is longer inside by depth t. */
  g_assert_cmpfloat_with_epsilon (length (&shape, "inner"),
                                  geo_chain_length (&all, 1e-9)
                                      + 50 * fabs (geo_chain_turning (&all)),
                                  0.05);
  geo_chain_clear (&all);
  sloper_clear (&s);
}

/* The lining is the shell less the facing: areas add up, and the edges that join are one
 * line. Drawn with allowances of 5/8 in on both, their cutting lines lap by 1 1/4 in: the
 * published amount (craftsy.com "lining pattern"; McCall/Butterick FAQ). */
static void
test_lining (void)
{
  Sloper s;
  sloper_init (&s);
  PatternRun faced[]
      = { sloper_run (s.front, "neck"), sloper_run (s.front, "centre front") };
  DraftingFacingWish facing = { .depth = 40, .depth_after = 60, .smooth = 60 };
  DraftingLiningWish wish = { .faced = faced, .n_faced = 2, .facing = facing };
  g_auto (DraftingShape) lining = { 0 }, piece = { 0 };
  g_assert_true (drafting_lining_shape (s.pattern, s.front, &wish, &lining));
  g_assert_true (face (&s, faced, 2, &facing, &piece));
  g_assert_cmpfloat_with_epsilon (area (&lining) + area (&piece),
                                  pattern_piece_area (s.front), 1);
  g_assert_cmpfloat_with_epsilon (length (&lining, "inner"),
                                  length (&piece, "inner"), 1e-6);
  g_autofree char *part = drafting_lining_inner (s.front, &wish, faced[1].edge);
  g_assert_cmpstr (part, ==, "inner");
  const GeoChain *a = drafting_shape_get (&lining, "inner");
  const GeoChain *b = drafting_shape_get (&piece, "inner");
  g_assert_cmpfloat (geo_chain_stray (a, b, 8, NULL), <, 1e-6);
  GeoChain cut = GEO_CHAIN_EMPTY, other = GEO_CHAIN_EMPTY;
  geo_chain_parallel (a, 0.625 * INCH, 1e-4, &cut);
  geo_chain_parallel (b, 0.625 * INCH, 1e-4, &other);
  GeoPoint middle = geo_chain_point (
      &cut,
      geo_chain_at_length (&cut, 0.5 * geo_chain_length (&cut, 1e-6), 1e-6));
  g_assert_cmpfloat_with_epsilon (geo_chain_nearest (&other, middle, NULL),
                                  1.25 * INCH, 1e-3);
  geo_chain_clear (&cut);
  geo_chain_clear (&other);
  sloper_clear (&s);
}

/* Each back half 1/2 in wider for the pleat (Butterick, "Coats and jackets"): the area grows by its
 * length. */
static void
test_pleat (void)
{
  Sloper s;
  sloper_init (&s);
  PatternRun faced[] = { sloper_run (s.back, "neck") };
  DraftingLiningWish wish
      = { .faced = faced, .n_faced = 1, .facing = { .depth = 2 * INCH } };
  g_auto (DraftingShape) plain = { 0 }, pleated = { 0 };
  g_assert_true (drafting_lining_shape (s.pattern, s.back, &wish, &plain));
  wish.pleat = 0.5 * INCH;
  g_assert_true (drafting_lining_shape (s.pattern, s.back, &wish, &pleated));
  g_autofree char *fold
      = g_strdup_printf ("e%u", sloper_run (s.back, "centre back").edge);
  g_assert_cmpfloat_with_epsilon (area (&pleated) - area (&plain),
                                  0.5 * INCH * length (&plain, fold), 1e-3);
  g_assert_cmpfloat_with_epsilon (length (&pleated, "pleat"), 12.7, 1e-9);
  g_assert_cmpfloat_with_epsilon (length (&pleated, "inner"),
                                  length (&plain, "inner"), 1e-9);
  sloper_clear (&s);
}

static void
test_refused (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingShape) shape = { 0 };
  PatternRun run = sloper_run (s.back, "neck");
  /* Deeper than the shoulder is long. */
  DraftingFacingWish wish = { .depth = 160 };
  g_assert_false (face (&s, &run, 1, &wish, &shape));
  wish.depth = 0;
  g_assert_false (face (&s, &run, 1, &wish, &shape));
  sloper_clear (&s);
}

/* What does not follow is told by the edges that would have to be sewn together. */
static void
test_no_run (void)
{
  Sloper s;
  sloper_init (&s);
  PatternRun wrong[]
      = { sloper_run (s.front, "centre front"), sloper_run (s.back, "neck") };
  PatternRun waist[]
      = { sloper_run (s.front, "neck"), sloper_run (s.front, "side") };
  g_auto (DraftingLay) lay = { 0 };
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_false (drafting_lay_runs (s.pattern, i == 0 ? wrong : waist, 2,
                                         &lay, &error));
      g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
      g_assert_nonnull (strstr (error->message, "do not follow each other"));
    }
  sloper_clear (&s);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/facing/neck", test_neck_facing);
  g_test_add_func ("/facing/neck-and-front", test_neck_and_front);
  g_test_add_func ("/facing/joined", test_joined);
  g_test_add_func ("/facing/lining", test_lining);
  g_test_add_func ("/facing/pleat", test_pleat);
  g_test_add_func ("/facing/refused", test_refused);
  g_test_add_func ("/facing/no-run", test_no_run);
  return g_test_run ();
}
