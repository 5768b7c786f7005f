/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Collars, against published tables and closed forms. */
#include "drafting/collar.h"

#include "drafting/trace.h"
#include "geometry/nearest.h"
#include "geometry/region.h"

#include "sloper.h"

static double
length_of (const DraftingShape *shape, const char *part)
{
  return drafting_shape_length (shape, part);
}

static DraftingCollarWish
plain (double overlap, double depth)
{
  return (DraftingCollarWish){ .overlap = overlap,
                               .depth_back = depth,
                               .depth_front = depth };
}

/* The angle for a shoulder of 125 mm and what the outer edge of a collar 60 mm deep loses,
 * by the geometry of the circle; overlaps as in published drafts: 1/2 in, 1 in,
 * a quarter of the shoulder, 2 in (patternstudio101.com, "Shoulder overlap collar standing"), 7-8 cm (M. Mueller & Sohn, "Pattern construction
 * for Peter Pan collar"), 4 in (miasews.blogspot.com 2012/12). */
static const struct
{
  double overlap, degrees, loss;
} table[] = {
  { 0, 0, 0 },
  { 12.7, 5.82, 6.1 },
  { 25.4, 11.66, 12.2 },
  { 31.25, 14.36, 15.0 },
  { 50.8, 23.45, 24.6 },
  { 75, 34.92, 36.6 },
  { 101.6, 47.96, 50.2 },
};

static void
test_overlap (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingLay) lay = { 0 };
  sloper_lay_neck (&s, &lay);
  double flat = 0;
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_auto (DraftingShape) shape = { 0 };
      DraftingCollarFacts facts;
      DraftingCollarWish wish = plain (table[i].overlap, 60);
      wish.shoulder = 125;
      g_assert_true (drafting_collar_shape (&lay, &wish, 0, &shape, &facts));
      g_assert_cmpfloat_with_epsilon (facts.turned * 180 / G_PI,
                                      table[i].degrees, 0.006);
      /* The neck edge is the neckline's length whatever the overlap. */
      g_assert_cmpfloat_with_epsilon (length_of (&shape, "neck"),
                                      drafting_lay_length (&lay), 1e-6);
      double outer = length_of (&shape, "outer");
      if (i == 0)
        flat = outer;
      g_assert_cmpfloat_with_epsilon (flat - outer, table[i].loss, 0.06);
    }
  sloper_clear (&s);
}

/* Without overlap the collar is the garment's own shape: the outer edge is the parallel of
 * the neckline, longer by the depth times its turning. */
static void
test_flat (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingLay) lay = { 0 };
  sloper_lay_neck (&s, &lay);
  g_auto (DraftingShape) shape = { 0 };
  DraftingCollarFacts facts;
  DraftingCollarWish wish = plain (0, 76);
  g_assert_true (drafting_collar_shape (&lay, &wish, 0, &shape, &facts));
  double turn = fabs (geo_chain_turning (&lay.chain));
  g_assert_cmpfloat_with_epsilon (length_of (&shape, "outer"),
                                  drafting_lay_length (&lay) + 76 * turn, 0.05);
  g_assert_cmpfloat (facts.stand, ==, 0);
  sloper_clear (&s);
}

/* h = c phi / (2 t), t the turning of the back neck, here 1.2: 3, 19 and 27 mm, beside the published
 * "flat" (1/2 in), "high" (7-8 cm) and "1 in stand" (4 in). */
static void
test_stand (void)
{
  static const double overlap[] = { 12.7, 75, 101.6 };
  static const double stand[] = { 3, 19, 27 };
  for (int i = 0; i < 3; i++)
    {
      double phi = drafting_overlap_angle (overlap[i], 125);
      g_assert_cmpfloat_with_epsilon (76 * phi / (2 * 1.2), stand[i], 0.55);
    }
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingLay) lay = { 0 };
  sloper_lay_neck (&s, &lay);
  g_auto (DraftingShape) shape = { 0 };
  DraftingCollarFacts facts;
  DraftingCollarWish wish = plain (75, 76);
  wish.shoulder = 125;
  g_assert_true (drafting_collar_shape (&lay, &wish, 0, &shape, &facts));
  double phi = drafting_overlap_angle (75, 125);
  g_assert_cmpfloat_with_epsilon (facts.stand, 76 * phi / (2 * facts.turning),
                                  1e-9);
  sloper_clear (&s);
}

/* A published flat collar: 6 cm wide, shoulders lapped 1 to 1.5 cm, the neckline lowered 1 cm at
 * the shoulder and the centre back and 2 cm at the front, the collar drawn 0.7 cm below the front
 * neckline, "very flat" (M. Mueller & Sohn, "Pattern construction for Peter Pan
 * collar"). */
static void
test_published (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingLay) lay = { 0 };
  sloper_lay_neck (&s, &lay);
  g_auto (DraftingShape) shape = { 0 };
  DraftingCollarFacts facts;
  DraftingCollarWish wish = plain (12.5, 60);
  wish.raise_front = -7;
  wish.corner = 40;
  g_assert_true (drafting_collar_shape (&lay, &wish, 0, &shape, &facts));
  g_assert_cmpfloat_with_epsilon (length_of (&shape, "neck"),
                                  drafting_lay_length (&lay), 1e-6);
  g_assert_cmpfloat_with_epsilon (length_of (&shape, "centre"), 60, 1e-6);
  g_assert_cmpfloat (facts.stand, <, 5); /* very flat */
  g_assert_cmpfloat (facts.stand, >, 0);
  sloper_clear (&s);
}

/* Two layers that turn over through half a turn: 1 mm of cloth gives the published 1/8 in (J. Barlup,
 * "Understand turn-of-cloth", Threads 131); the table by the circle's own
 * length. */
static void
test_turn_of_cloth (void)
{
  static const double t[] = { 0.3, 0.5, 1, 1.5, 2 };
  static const double more[] = { 0.94, 1.57, 3.14, 4.71, 6.28 };
  for (int i = 0; i < 5; i++)
    g_assert_cmpfloat_with_epsilon (drafting_turn_of_cloth (t[i]), more[i],
                                    0.005);
  g_assert_cmpfloat_with_epsilon (drafting_turn_of_cloth (1), 3.175, 0.04);
}

/* Smaller by that at the three outer edges, the neck edges equal. */
static void
test_under (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingLay) lay = { 0 };
  sloper_lay_neck (&s, &lay);
  g_auto (DraftingShape) upper = { 0 }, under = { 0 };
  DraftingCollarFacts facts;
  DraftingCollarWish wish = plain (40, 80);
  wish.corner = 25;
  g_assert_true (drafting_collar_shape (&lay, &wish, 0, &upper, &facts));
  g_assert_true (drafting_collar_shape (&lay, &wish, 3.175, &under, &facts));
  g_assert_cmpfloat_with_epsilon (length_of (&upper, "neck"),
                                  length_of (&under, "neck"), 1e-6);
  g_assert_cmpfloat_with_epsilon (length_of (&upper, "centre"),
                                  length_of (&under, "centre") + 3.175, 1e-6);
  const GeoChain *a = drafting_shape_get (&upper, "outer");
  const GeoChain *b = drafting_shape_get (&under, "outer");
  /* Everywhere on the back part of the outer edge. */
  for (int i = 0; i <= 10; i++)
    {
      double length = geo_chain_length (b, 1e-9);
      GeoPlace place = geo_chain_at_length (b, length * (1 - 0.04 * i), 1e-9);
      g_assert_cmpfloat_with_epsilon (
          geo_chain_nearest (a, geo_chain_point (b, place), NULL), 3.175, 0.05);
    }
  sloper_clear (&s);
}

/* Square to the fold at both ends of the centre back, whatever the amounts. */
static void
test_square_at_fold (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingLay) lay = { 0 };
  sloper_lay_neck (&s, &lay);
  for (int i = 0; i < 60; i++)
    {
      g_auto (DraftingShape) shape = { 0 };
      DraftingCollarFacts facts;
      DraftingCollarWish wish
          = { .overlap = g_test_rand_double_range (-10, 110),
              .depth_back = g_test_rand_double_range (35, 120),
              .depth_front = g_test_rand_double_range (35, 120),
              .raise_back = g_test_rand_double_range (-6, 6),
              .raise_shoulder = g_test_rand_double_range (-6, 6),
              .raise_front = g_test_rand_double_range (-8, 8),
              .corner = g_test_rand_double_range (0, 30),
              .ease = g_test_rand_double_range (-4, 6),
              .point = g_test_rand_double_range (0, 20) };
      if (!drafting_collar_shape (&lay, &wish, 0, &shape, &facts))
        continue;
      g_assert_true (drafting_shape_is_sound (&shape));
      g_assert_cmpfloat_with_epsilon (length_of (&shape, "neck"),
                                      drafting_lay_length (&lay) - wish.ease,
                                      1e-6);
      const GeoChain *neck = drafting_shape_get (&shape, "neck");
      const GeoChain *outer = drafting_shape_get (&shape, "outer");
      const GeoChain *fold = drafting_shape_get (&shape, "centre");
      GeoPoint down = geo_cubic_tangent (&fold->cubics[0], 0);
      double a
          = geo_angle_between (down, geo_cubic_tangent (&neck->cubics[0], 0));
      double b = geo_angle_between (
          down, geo_cubic_tangent (&outer->cubics[outer->count - 1], 1));
      g_assert_cmpfloat_with_epsilon (fabs (a), G_PI_2, 1e-3);
      g_assert_cmpfloat_with_epsilon (fabs (b), G_PI_2, 1e-3);
      /* Smooth all along. */
      for (size_t k = 1; k < outer->count; k++)
        g_assert_cmpfloat (fabs (geo_angle_between (
                               geo_cubic_tangent (&outer->cubics[k - 1], 1),
                               geo_cubic_tangent (&outer->cubics[k], 0))),
                           <, 1e-3);
    }
  sloper_clear (&s);
}

static void
test_refused (void)
{
  Sloper s;
  sloper_init (&s);
  g_auto (DraftingLay) lay = { 0 };
  sloper_lay_neck (&s, &lay);
  g_auto (DraftingShape) shape = { 0 };
  DraftingCollarFacts facts;
  DraftingCollarWish wish = plain (140, 60); /* more than the shoulder */
  g_assert_false (drafting_collar_shape (&lay, &wish, 0, &shape, &facts));
  wish = plain (10, 60);
  wish.corner = 90; /* deeper than the collar */
  g_assert_false (drafting_collar_shape (&lay, &wish, 0, &shape, &facts));
  wish = plain (10, 0);
  g_assert_false (drafting_collar_shape (&lay, &wish, 0, &shape, &facts));
  sloper_clear (&s);
}

/* An arc's parallel: exact. */
static void
test_band (void)
{
  g_auto (DraftingShape) band = { 0 };
  DraftingBandWish wish = { .neck = 200, .height = 35, .bend = 8 };
  g_assert_true (drafting_band_shape (&wish, &band));
  g_assert_cmpfloat_with_epsilon (length_of (&band, "neck"), 200, 1e-5);
  g_assert_cmpfloat_with_epsilon (length_of (&band, "outer"), 192, 1e-5);
  g_assert_cmpfloat_with_epsilon (length_of (&band, "end"), 35, 1e-6);
  /* A fall that is longer at its outer edge. */
  wish = (DraftingBandWish){
    .neck = 192, .height = 70, .bend = -22, .corner = 20, .point = 15
  };
  g_assert_true (drafting_band_shape (&wish, &band));
  g_assert_cmpfloat_with_epsilon (length_of (&band, "neck"), 192, 1e-5);
  wish.corner = wish.point = 0;
  g_assert_true (drafting_band_shape (&wish, &band));
  g_assert_cmpfloat_with_epsilon (length_of (&band, "outer"), 214, 1e-5);
  /* A straight strip is a rectangle. */
  wish = (DraftingBandWish){ .neck = 200, .height = 35, .extension = 18 };
  g_assert_true (drafting_band_shape (&wish, &band));
  GeoChain outline = GEO_CHAIN_EMPTY;
  drafting_shape_outline (&band, &outline);
  g_assert_cmpfloat_with_epsilon (fabs (geo_chain_area (&outline)), 218 * 35,
                                  1e-6);
  geo_chain_clear (&outline);
  /* Whole, both ends rounded: symmetric. */
  wish = (DraftingBandWish){
    .neck = 400, .height = 40, .bend = 12, .corner = 15, .whole = TRUE
  };
  g_assert_true (drafting_band_shape (&wish, &band));
  g_assert_cmpfloat_with_epsilon (length_of (&band, "tip"),
                                  length_of (&band, "other-tip"), 1e-6);
  g_assert_cmpfloat_with_epsilon (length_of (&band, "neck"), 400, 1e-5);
}

/* A half on a fold and both halves drafted whole are the same collar. */
static void
test_bend_keeps_length (void)
{
  GeoChain chain = GEO_CHAIN_EMPTY, bent = GEO_CHAIN_EMPTY;
  geo_chain_append (&chain, geo_cubic_arc (geo_point (0, 0), 70, 0, 1));
  GeoPoint end = geo_chain_end (&chain);
  geo_chain_append_line (&chain, end, geo_along (end, geo_point (1, 0.3), 60));
  double length = geo_chain_length (&chain, 1e-10);
  DraftingBend bend = { geo_cubic_length (&chain.cubics[0], 1e-10), 40, 0.6 };
  drafting_trace_bend (&chain, &bend, 1, &bent);
  g_assert_cmpfloat_with_epsilon (geo_chain_length (&bent, 1e-9), length, 1e-4);
  /* What it turns by is the chain's own and the angle. */
  g_assert_cmpfloat_with_epsilon (geo_chain_turning (&bent),
                                  geo_chain_turning (&chain) + 0.6, 1e-6);
  geo_chain_clear (&chain);
  geo_chain_clear (&bent);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/collar/overlap", test_overlap);
  g_test_add_func ("/collar/flat", test_flat);
  g_test_add_func ("/collar/stand", test_stand);
  g_test_add_func ("/collar/published", test_published);
  g_test_add_func ("/collar/turn-of-cloth", test_turn_of_cloth);
  g_test_add_func ("/collar/under", test_under);
  g_test_add_func ("/collar/square-at-fold", test_square_at_fold);
  g_test_add_func ("/collar/refused", test_refused);
  g_test_add_func ("/collar/band", test_band);
  g_test_add_func ("/collar/bend", test_bend_keeps_length);
  return g_test_run ();
}
