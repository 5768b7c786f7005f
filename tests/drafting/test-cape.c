/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Capes: closed forms, published drafts, and what has to hold at any amounts. */
#include "drafting/cape.h"

#include "drafting/trace.h"
#include "geometry/region.h"

#include "sloper.h"

#define DEGREES (180 / G_PI)
#define INCH 25.4

typedef struct
{
  Sloper sloper;
  DraftingHalf back, front;
  DraftingShape panels[3]; /* back, side, front */
  DraftingCapeFacts facts;
} Cape;

static void
take (const Sloper *s, const PatternPiece *piece, DraftingHalf *half)
{
  GError *error = NULL;
  g_assert_true (drafting_half_take (s->pattern, sloper_run (piece, "neck"),
                                     sloper_run (piece, "shoulder"), half,
                                     &error));
  g_assert_no_error (error);
}

static void
cape_init (Cape *c)
{
  *c = (Cape){ 0 };
  sloper_init (&c->sloper);
  take (&c->sloper, c->sloper.back, &c->back);
  take (&c->sloper, c->sloper.front, &c->front);
}

static void
cape_clear (Cape *c)
{
  for (int i = 0; i < 3; i++)
    drafting_shape_clear (&c->panels[i]);
  drafting_half_clear (&c->back);
  drafting_half_clear (&c->front);
  sloper_clear (&c->sloper);
}

static gboolean
draft (Cape *c, const DraftingCapeWish *wish)
{
  return drafting_cape_shape (&c->back, &c->front, wish, &c->panels[0],
                              &c->panels[1], &c->panels[2], &c->facts);
}

static DraftingCapeWish
usual (void)
{
  return (DraftingCapeWish){
    .length = 760,
    .slope = 52,
    .ease = 15,
    .round = 80,
    .longer_front = 12,
    .flare = 25,
    .stand = 20,
    .back_panel = 30,
    .front_panel = 40,
    .back_share = 0.5,
    .front_share = 0.45,
    .opening_from = 260,
    .opening_length = 200,
  };
}

/* Angle of the cloth at the corner where an edge starts. */
static double
corner (const DraftingShape *shape, const char *part)
{
  for (guint i = 0; i < shape->n_edges; i++)
    if (g_str_equal (shape->edges[i].part, part))
      {
        const GeoChain *out = &shape->edges[i].chain;
        const GeoChain *in
            = &shape->edges[(i + shape->n_edges - 1) % shape->n_edges].chain;
        double a = geo_angle_between (
            geo_cubic_tangent (&out->cubics[0], 0),
            geo_scale (geo_cubic_tangent (&in->cubics[in->count - 1], 1), -1));
        return (a < 0 ? a + 2 * G_PI : a) * DEGREES;
      }
  g_assert_not_reached ();
}

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
  double a = geo_chain_area (&outline);
  geo_chain_clear (&outline);
  return a;
}

static void
assert_true_seams (const Cape *c)
{
  const DraftingShape *back = &c->panels[0], *side = &c->panels[1],
                      *front = &c->panels[2];
  for (int i = 0; i < 3; i++)
    g_assert_cmpfloat (area (&c->panels[i]), >, 0);
  g_assert_cmpfloat_with_epsilon (length (back, "panel"),
                                  length (side, "panel-back"), 1e-6);
  g_assert_cmpfloat_with_epsilon (length (front, "panel-upper"),
                                  length (side, "panel-upper"), 1e-6);
  g_assert_cmpfloat_with_epsilon (length (front, "opening"),
                                  length (side, "opening"), 1e-6);
  g_assert_cmpfloat_with_epsilon (length (front, "panel-lower"),
                                  length (side, "panel-lower"), 1e-6);
  g_assert_cmpfloat_with_epsilon (length (side, "dart-back")
                                      - length (side, "dart-front"),
                                  c->facts.dart_ease, 1e-6);
}

/* The crossing lines run on across every seam, and meet the centres square. */
static void
assert_smooth_joints (const Cape *c)
{
  const DraftingShape *back = &c->panels[0], *side = &c->panels[1],
                      *front = &c->panels[2];
  const char *lower = drafting_shape_get (side, "opening")->count > 0
                          ? "panel-lower"
                          : "panel-upper";
  double e = 0.02; /* degrees */
  g_assert_cmpfloat_with_epsilon (
      corner (back, "panel") + corner (side, "neck-back"), 180, e);
  g_assert_cmpfloat_with_epsilon (
      corner (back, "hem") + corner (side, "panel-back"), 180, e);
  g_assert_cmpfloat_with_epsilon (
      corner (front, "neck") + corner (side, "panel-upper"), 180, e);
  g_assert_cmpfloat_with_epsilon (corner (front, lower) + corner (side, "hem"),
                                  180, e);
  g_assert_cmpfloat_with_epsilon (corner (back, "centre"), 90, e);
  g_assert_cmpfloat_with_epsilon (corner (back, "neck"), 90, e);
  g_assert_cmpfloat_with_epsilon (
      corner (side, "dart-back") + corner (side, "neck-front"), 180, 0.1);
}

static void
test_usual (void)
{
  Cape c;
  cape_init (&c);
  DraftingCapeWish wish = usual ();
  g_assert_true (draft (&c, &wish));
  assert_true_seams (&c);
  assert_smooth_joints (&c);
  /* The shoulders fall 18 and 22 degrees: what they turn by into the slope. */
  g_assert_cmpfloat_with_epsilon (c.facts.dart, 2 * 52 - 18 - 22, 0.01);
  /* The two shoulders are 6 mm apart in length; the front's turns by less when it
     is rounded, and so loses less of it. */
  g_assert_cmpfloat_with_epsilon (c.facts.dart_ease, 6, 1.5);
  cape_clear (&c);
}

/* The hem is as far below the neck point as the length says, all round: down the
 * centres, and down the side line less what the shoulder falls. */
static void
test_level (void)
{
  Cape c;
  cape_init (&c);
  DraftingCapeWish wish = usual ();
  g_assert_true (draft (&c, &wish));
  g_assert_cmpfloat_with_epsilon (c.facts.back_length, 760 - 24, 1e-6);
  g_assert_cmpfloat_with_epsilon (c.facts.front_length, 760 + 12 - 80, 1e-6);
  double fall = (146 * sin (18 / DEGREES) + 140 * sin (22 / DEGREES)) / 2;
  const GeoChain *hem = drafting_shape_get (&c.panels[1], "hem");
  const GeoChain *leg = drafting_shape_get (&c.panels[1], "dart-back");
  g_assert_cmpfloat_with_epsilon (
      geo_distance (geo_chain_end (leg), hem->cubics[0].p[3]), 760 - fall - 80,
      1e-6);
  /* Longer by 35 mm is longer by that everywhere. */
  double before = c.facts.side_length;
  wish.length += 35;
  g_assert_true (draft (&c, &wish));
  g_assert_cmpfloat_with_epsilon (c.facts.back_length, 760 - 24 + 35, 1e-6);
  g_assert_cmpfloat_with_epsilon (c.facts.side_length, before + 35, 1e-6);
  cape_clear (&c);
}

/* Half-circle cape: centre back and front at right angles, shoulder points touching; the side 2 to 3 in
 * more than the centre back, measured from the neck, the front 1 1/2 in less from the front's neck (W. D. F. Vincent, "Systems of
 * cutting all kinds of tailor-made garments", capes). For a length of 24 in: side
 * 26 to 27, front 22 1/2. The level reckoning gives the side an inch and a half more than its longer figure; that draft
 * takes it off for the cloth bridging the shoulder's corner. */
static void
test_half_circle_draft (void)
{
  Cape c;
  cape_init (&c);
  DraftingCapeWish wish = usual ();
  wish.slope = 45;
  wish.ease = 0;
  wish.round = 40;
  wish.flare = 0;
  wish.length = 24 * INCH + 24;
  wish.longer_front = 22.5 * INCH + 80 - wish.length;
  wish.longer_side = -1.5 * INCH;
  wish.opening_length = 0;
  g_assert_true (draft (&c, &wish));
  g_assert_cmpfloat_with_epsilon (c.facts.back_length / INCH, 24, 1e-6);
  g_assert_cmpfloat_with_epsilon (c.facts.front_length / INCH, 22.5, 1e-6);
  g_assert_cmpfloat (c.facts.side_length / INCH, >, 26);
  g_assert_cmpfloat (c.facts.side_length / INCH, <, 27);
  /* Laid by the side line the two centres stand at right angles: the turn of
     the shoulder dart and the centres' angle make up the shoulders' 140. */
  g_assert_cmpfloat_with_epsilon (180 - 18 - 22 - c.facts.dart, 90, 0.01);
  cape_clear (&c);
}

static void
test_any_amounts (void)
{
  Cape c;
  cape_init (&c);
  int drawn = 0;
  for (int i = 0; i < 150; i++)
    {
      DraftingCapeWish w = usual ();
      w.length = g_test_rand_double_range (300, 1300);
      w.slope = g_test_rand_double_range (30, 75);
      w.ease = g_test_rand_double_range (-10, 50);
      w.round = g_test_rand_double_range (20, 110);
      w.flare = g_test_rand_double_range (0, 120);
      w.lower_back = g_test_rand_double_range (0, 20);
      w.lower_side = g_test_rand_double_range (0, 20);
      w.lower_front = g_test_rand_double_range (0, 40);
      w.stand = g_test_rand_int_range (0, 2) * 25;
      w.back_panel = g_test_rand_double_range (10, 60);
      w.front_panel = g_test_rand_double_range (10, 90);
      w.back_share = g_test_rand_double_range (0.3, 0.7);
      w.front_share = g_test_rand_double_range (0.3, 0.7);
      w.opening_length = g_test_rand_int_range (0, 2) * 180;
      w.opening_from = g_test_rand_double_range (50, 400);
      if (!draft (&c, &w))
        continue;
      drawn++;
      assert_true_seams (&c);
      assert_smooth_joints (&c);
    }
  g_assert_cmpint (drawn, >, 75);
  cape_clear (&c);
}

static void
test_refused (void)
{
  Cape c;
  cape_init (&c);
  DraftingCapeWish w = usual ();
  w.back_panel = 200; /* longer than the neck */
  g_assert_false (draft (&c, &w));
  w = usual ();
  w.slope = 20; /* no steeper than the shoulder */
  g_assert_false (draft (&c, &w));
  w = usual ();
  w.opening_from = 600; /* runs off the hem */
  g_assert_false (draft (&c, &w));
  w = usual ();
  w.round = 200; /* more than the shoulder */
  g_assert_false (draft (&c, &w));
  cape_clear (&c);
}

/* Radii of the neck, cm, by girth / (2 pi share); published: 17 in at 270 degrees 3.6 in (washuu.net, Cloak-3), 26 in
 * full 4.13, half 8.2, a quarter 16.56 in (prettyquirkypants.com 2014/03/07). */
static void
test_radius (void)
{
  static const struct
  {
    double girth, share, radius, within;
  } table[] = {
    { 38, 1, 6.05, 0.005 },       { 38, 0.75, 8.06, 0.005 },
    { 38, 0.5, 12.10, 0.005 },    { 38, 0.25, 24.19, 0.005 },
    { 40, 1, 6.37, 0.005 },       { 40, 0.5, 12.73, 0.005 },
    { 36.83, 0.75, 7.82, 0.005 }, { 17, 0.75, 3.6, 0.01 },
    { 26, 1, 4.13, 0.01 },        { 26, 0.5, 8.2, 0.08 },
    { 26, 0.25, 16.56, 0.015 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    g_assert_cmpfloat_with_epsilon (
        drafting_circle_radius (table[i].girth, table[i].share),
        table[i].radius, table[i].within);
}

/* Sweep and area, cm and cm2, in closed form; sweep less neck is 2 pi f L. */
static void
test_circle (void)
{
  static const struct
  {
    double girth, share, length, sweep, area;
  } table[] = {
    { 40, 0.5, 70, 259.91, 10496 },
    { 40, 0.75, 60, 322.74, 10882 },
    { 40, 1, 50, 354.16, 9855 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_auto (DraftingShape) shape = { 0 };
      g_assert_true (drafting_circle_shape (table[i].girth * 10, table[i].share,
                                            table[i].length * 10, &shape));
      double sweep = 2 * length (&shape, "hem") / 10;
      double neck = 2 * length (&shape, "neck") / 10;
      g_assert_cmpfloat_with_epsilon (neck, table[i].girth, 1e-5);
      g_assert_cmpfloat_with_epsilon (sweep, table[i].sweep, 0.006);
      g_assert_cmpfloat_with_epsilon (
          sweep - neck, 2 * G_PI * table[i].share * table[i].length, 1e-4);
      g_assert_cmpfloat_with_epsilon (2 * area (&shape) / 100, table[i].area,
                                      2);
    }
  g_auto (DraftingShape) none = { 0 };
  g_assert_false (drafting_circle_shape (400, 1.2, 700, &none));
  g_assert_false (drafting_circle_shape (400, 0, 700, &none));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cape/usual", test_usual);
  g_test_add_func ("/cape/level", test_level);
  g_test_add_func ("/cape/half-circle-draft", test_half_circle_draft);
  g_test_add_func ("/cape/any-amounts", test_any_amounts);
  g_test_add_func ("/cape/refused", test_refused);
  g_test_add_func ("/cape/radius", test_radius);
  g_test_add_func ("/cape/circle", test_circle);
  return g_test_run ();
}
