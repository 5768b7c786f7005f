/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ring-outline.h"

#include "geometry/nearest.h"
#include "geometry/region.h"

static void
test_slit (void)
{
  /* A slit 12 wide between allowances of 10: closed by them from its mouth to
   * its end. */
  const double p[][2] = { { 0, 0 },   { 100, 0 }, { 100, 200 }, { 56, 200 },
                          { 56, 60 }, { 44, 60 }, { 44, 200 },  { 0, 200 } };
  const double w[] = { 10, 10, 10, 10, 10, 10, 10, 10 };
  Outline *o = outline_polygon (p, 8, w);
  GeoRing ring = outline_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 220, 1e-3);
  g_assert_cmpuint (ring.island_count, ==, 0);
  geo_ring_clear (&ring);
  outline_free (o);
  /* Exactly two allowances wide. */
  const double q[][2] = { { 0, 0 },   { 100, 0 }, { 100, 200 }, { 60, 200 },
                          { 60, 60 }, { 40, 60 }, { 40, 200 },  { 0, 200 } };
  o = outline_polygon (q, 8, w);
  ring = outline_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 220, 0.1);
  geo_ring_clear (&ring);
  outline_free (o);
}

static void
test_island (void)
{
  /* A room 80 x 80 with a door 10 wide: the door is closed, a gap of 60 x 60
   * stays in the room. */
  const double p[][2] = { { 0, 0 },    { 120, 0 },   { 120, 120 }, { 65, 120 },
                          { 65, 100 }, { 100, 100 }, { 100, 20 },  { 20, 20 },
                          { 20, 100 }, { 55, 100 },  { 55, 120 },  { 0, 120 } };
  double w[12];
  for (int i = 0; i < 12; i++)
    w[i] = 10;
  Outline *o = outline_polygon (p, 12, w);
  GeoRing ring = outline_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 140 * 140, 1e-3);
  g_assert_cmpuint (ring.island_count, ==, 1);
  g_assert_cmpfloat_with_epsilon (fabs (geo_chain_area (&ring.islands[0])),
                                  60 * 60, 1e-3);
  geo_ring_clear (&ring);
  outline_free (o);
}

/* A 200 x 100 piece whose top edge has a half circle of this radius let into
 * it, as one edge or with corners at its ends. */
static Outline *
scallop (double radius, double width, bool one_edge)
{
  Outline *o = g_new0 (Outline, 1);
  outline_add_line (o, width, 0, 0, 100 - radius, 0);
  if (!one_edge)
    outline_add_edge (o, width);
  outline_add_arc (o, geo_point (100, 0), radius, M_PI, 0);
  if (one_edge)
    outline_add_cubic (
        o, geo_cubic_line (geo_point (100 + radius, 0), geo_point (200, 0)));
  else
    outline_add_line (o, width, 100 + radius, 0, 200, 0);
  outline_add_line (o, width, 200, 0, 200, 100);
  outline_add_line (o, width, 200, 100, 0, 100);
  outline_add_line (o, width, 0, 100, 0, 0);
  return o;
}

static void
test_scallop (void)
{
  for (int one = 0; one < 2; one++)
    {
      /* Deeper than the hollow: closed, and said. */
      Outline *o = scallop (20, 25, one);
      GeoRing ring = outline_ring (o);
      g_assert_cmpfloat_with_epsilon (ring.area, 250 * 150, 0.1);
      g_assert_cmpuint (ring.hollow_count, ==, 1);
      g_assert_cmpuint (ring.hollows[0].edge, ==, one ? 0 : 1);
      g_assert_cmpfloat_with_epsilon (ring.hollows[0].radius, 20, 0.02);
      geo_ring_clear (&ring);
      outline_free (o);
      /* Not as deep: the hollow's own parallel shows, radius 40 - 10. */
      o = scallop (40, 10, one);
      ring = outline_ring (o);
      g_assert_cmpuint (ring.hollow_count, ==, 0);
      GeoPlace place;
      g_assert_cmpfloat_with_epsilon (
          geo_chain_nearest (&ring.outline, geo_point (100, 0), &place), 30,
          0.02);
      g_assert_cmpuint (ring.source[place.cubic], ==, one ? 0 : 1);
      geo_ring_clear (&ring);
      outline_free (o);
    }
}

static void
test_hollow_neck (void)
{
  /* A neckline that tightens to a radius of about 8 mm under an allowance of
   * 15: the swallow-tail is trimmed and told. */
  Outline *o = g_new0 (Outline, 1);
  outline_add_edge (o, 15);
  outline_add_cubic (
      o, (GeoCubic){ { { 0, 0 }, { 80, 20 }, { 78, 60 }, { 85, 60 } } });
  outline_add_cubic (
      o, (GeoCubic){ { { 85, 60 }, { 92, 60 }, { 90, 20 }, { 170, 0 } } });
  outline_add_line (o, 15, 170, 0, 170, 200);
  outline_add_line (o, 15, 170, 200, 0, 200);
  outline_add_line (o, 15, 0, 200, 0, 0);
  GeoRing ring = outline_ring (o);
  g_assert_cmpuint (ring.hollow_count, ==, 1);
  g_assert_cmpfloat (ring.hollows[0].radius, <, 15);
  for (size_t i = 0; i < ring.outline.count; i++)
    for (int k = 0; k < 16; k++)
      {
        GeoPoint q = geo_cubic_point (&ring.outline.cubics[i], k / 16.0);
        for (size_t e = 0; e < o->count; e++)
          g_assert_cmpfloat (geo_chain_nearest (&o->stitch[e], q, NULL), >=,
                             15 - 0.01);
      }
  geo_ring_clear (&ring);
  outline_free (o);
}

/* A U between two legs that run a little more than two allowances apart, and
 * a little less: the cutting line goes in, and does not. */
static void
test_u_turn (void)
{
  for (int narrow = 0; narrow < 2; narrow++)
    {
      double r = narrow ? 9 : 13, w = 10;
      Outline *o = g_new0 (Outline, 1);
      outline_add_edge (o, w);
      outline_add_cubic (
          o, geo_cubic_line (geo_point (-100, 0), geo_point (-r, 0)));
      outline_add_cubic (
          o, geo_cubic_line (geo_point (-r, 0), geo_point (-r, 150)));
      outline_add_arc (o, geo_point (0, 150), r, M_PI, 0);
      outline_add_cubic (o,
                         geo_cubic_line (geo_point (r, 150), geo_point (r, 0)));
      outline_add_cubic (o,
                         geo_cubic_line (geo_point (r, 0), geo_point (100, 0)));
      outline_add_line (o, w, 100, 0, 100, 250);
      outline_add_line (o, w, 100, 250, -100, 250);
      outline_add_line (o, w, -100, 250, -100, 0);
      GeoRing ring = outline_ring (o);
      double inside = 220 * 270;
      /* The slot left open: 2 (r - w) wide, a half circle at its end. */
      if (!narrow)
        inside -= 2 * (r - w) * 160 + M_PI * (r - w) * (r - w) / 2;
      g_assert_cmpfloat_with_epsilon (ring.area, inside, 1);
      g_assert_cmpuint (ring.island_count, ==, 0);
      g_assert_cmpuint (ring.hollow_count, ==, narrow ? 1 : 0);
      for (size_t i = 0; i < ring.outline.count; i++)
        for (int k = 0; k < 8; k++)
          g_assert_cmpfloat (
              outline_distance (
                  o, geo_cubic_point (&ring.outline.cubics[i], k / 8.0)),
              >=, w - 0.01);
      geo_ring_clear (&ring);
      outline_free (o);
    }
}

static void
test_crossing_outline (void)
{
  /* A bow tie with unequal lobes: the outer line about both. */
  const double p[][2] = { { 0, 0 }, { 200, 150 }, { 200, 0 }, { 0, 100 } };
  const double w[] = { 10, 10, 10, 10 };
  Outline *o = outline_polygon (p, 4, w);
  GeoRing ring;
  geo_ring_init (&ring);
  if (geo_ring_make (o->edges, o->count, 0.01, &ring))
    {
      g_assert_true (ring_is_sound (o, &ring));
      g_assert_true (ring_holds_stitch (o, &ring));
    }
  else
    {
      /* The other way round, then. */
      for (size_t i = 0; i < 2; i++)
        {
          GeoChain swap = o->stitch[i];
          o->stitch[i] = o->stitch[3 - i];
          o->stitch[3 - i] = swap;
        }
      for (size_t i = 0; i < 4; i++)
        geo_chain_reverse (&o->stitch[i]);
      g_assert_true (geo_ring_make (o->edges, o->count, 0.01, &ring));
      g_assert_true (ring_is_sound (o, &ring));
      g_assert_true (ring_holds_stitch (o, &ring));
    }
  geo_ring_clear (&ring);
  outline_free (o);
}

static void
test_nothing (void)
{
  GeoRing ring;
  geo_ring_init (&ring);
  g_assert_false (geo_ring_make (NULL, 0, 0.01, &ring));
  const double p[][2] = { { 0, 0 }, { 0, 100 }, { 100, 100 }, { 100, 0 } };
  const double w[] = { 10, 10, 10, 10 };
  Outline *o = outline_polygon (p, 4, w);
  g_assert_false (geo_ring_make (o->edges, 4, 0.01, &ring)); /* clockwise */
  g_assert_cmpuint (ring.outline.count, ==, 0);
  outline_free (o);
  const double q[][2] = { { 0, 0 }, { 50, 0 }, { 100, 0 } };
  o = outline_polygon (q, 3, w);
  g_assert_false (geo_ring_make (o->edges, 3, 0.01, &ring)); /* no area */
  outline_free (o);
  geo_ring_clear (&ring);
}

/* Handles shorter than a rounding error, corners that all but fold: wild, but an
 * outline that does not cross itself, and such a one has a ring. */
static void
test_wild_handles (void)
{
  const GeoCubic cubics[] = {
    { { { 221.6236341778266, 0 },
        { 221.6236341778266, 0 },
        { 159.96945690803813, 183.03990947282776 },
        { 145.96945690803813, 183.03990947284498 } } },
    { { { 145.96945690803813, 183.03990947284498 },
        { 144.27268357589315, 181.93990947284499 },
        { -50.805204299457138, 222.59214391651278 },
        { -50.805204299457138, 222.59214391651278 } } },
    { { { -50.805204299457138, 222.59214391651278 },
        { -50.805204299457138, 222.59214391651278 },
        { -324.78034472181326, 175.09947599968979 },
        { -324.78034472179633, 156.40597070557686 } } },
    { { { -324.78034472179633, 156.40597070557686 },
        { -341.20090513995405, 159.96736387520238 },
        { -199.46463376694527, -101.75027160768047 },
        { -184.29183794495489, -88.750271607680475 } } },
    { { { -184.29183794495489, -88.750271607680475 },
        { -184.29183794495489, -88.750271607680475 },
        { -49.638386605387268, -224.24678897013095 },
        { -48.72774558469731, -213.49020257816477 } } },
    { { { -48.72774558469731, -213.49020257816477 },
        { 25.926902251563369, -215.57321569198112 },
        { 100.58155008782404, -217.65622880579744 },
        { 175.23619792408473, -219.73924191961379 } } },
    { { { 175.23619792408473, -219.73924191961379 },
        { 190.69867667533202, -146.49282794640919 },
        { 206.16115542657931, -73.246413973204596 },
        { 221.6236341778266, 0 } } },
  };
  for (double w = 5; w < 30; w += 6)
    {
      Outline *o = g_new0 (Outline, 1);
      outline_add_edge (o, w);
      for (size_t i = 0; i < G_N_ELEMENTS (cubics); i++)
        outline_add_cubic (o, cubics[i]);
      outline_set_corner (o, 0, GEO_CORNER_SQUARED, GEO_CORNER_BY_LEAVING);
      GeoRing ring = outline_ring (o);
      for (size_t i = 0; i < ring.outline.count; i++)
        for (int k = 0; k < 8; k++)
          g_assert_cmpfloat (
              outline_distance (
                  o, geo_cubic_point (&ring.outline.cubics[i], k / 8.0)),
              >=, w - 0.01);
      geo_ring_clear (&ring);
      outline_free (o);
    }
}

static void
test_time (void)
{
  /* Told, not judged: an eight-edge piece, as it is made in a drag. */
  Outline *o = scallop (40, 10, false);
  o->edges[2].width = 15;
  GeoRing ring;
  geo_ring_init (&ring);
  gint64 start = g_get_monotonic_time ();
  for (int i = 0; i < 200; i++)
    geo_ring_make (o->edges, o->count, 0.01, &ring);
  g_test_message ("%.3f ms a ring",
                  (double)(g_get_monotonic_time () - start) / 200e3);
  geo_ring_clear (&ring);
  outline_free (o);
}

/* Cubics and edges that are a point are passed over, a gap at the end is closed
 * by a line: the ring is that of the plain rectangle, and its edges keep their
 * numbers. */
static void
test_passed_over (void)
{
  Outline *o = g_new0 (Outline, 1);
  GeoPoint dot = { 100, 0 }, gap = { 0, 20 };
  outline_add_line (o, 10, 0, 0, 100, 0);
  outline_add_cubic (o, geo_cubic_line (dot, dot));
  outline_add_edge (o, 40);
  outline_add_cubic (o, geo_cubic_line (dot, dot));
  outline_add_line (o, 10, 100, 0, 100, 60);
  outline_add_line (o, 10, 100, 60, 0, 60);
  outline_add_edge (o, 10);
  outline_add_cubic (o, geo_cubic_line (geo_point (0, 60), gap));
  GeoRing ring = outline_ring (o);
  g_assert_cmpfloat_with_epsilon (ring.area, 120 * 80, 1e-6);
  for (size_t i = 0; i < ring.outline.count; i++)
    g_assert_cmpuint (ring.source[i], !=, 1);
  geo_ring_clear (&ring);
  outline_free (o);
}

/* A bow tie of two edges, each of several cubics, one lobe run the other way
 * round, and left open at its end: the ring goes about both lobes, and every
 * point of it that an edge made is that edge's width away. */
static void
test_two_lobes (void)
{
  const double width[] = { 6, 12 };
  Outline *o = g_new0 (Outline, 1);
  outline_add_edge (o, width[0]);
  outline_add_arc (o, geo_point (0, 0), 60, 0.5, 2 * M_PI - 0.5);
  GeoPoint from = geo_chain_end (&o->stitch[0]);
  GeoPoint to = geo_point (160 - 40 * cos (0.5), 40 * sin (0.5));
  outline_add_edge (o, width[1]);
  outline_add_cubic (o, geo_cubic_line (from, to));
  outline_add_arc (o, geo_point (160, 0), 40, M_PI - 0.5, 0.5 - M_PI);
  GeoRing ring = outline_ring (o);
  double lobes = M_PI * 60 * 60 + M_PI * 40 * 40;
  g_assert_cmpfloat (ring.area, >, lobes);
  g_assert_cmpuint (ring.island_count, ==, 0);
  size_t seen[2] = { 0, 0 };
  for (size_t i = 0; i < ring.outline.count; i++)
    if (ring.source[i] != GEO_RING_CORNER)
      {
        size_t e = ring.source[i];
        GeoPoint q = geo_cubic_point (&ring.outline.cubics[i], 0.5);
        seen[e]++;
        g_assert_cmpfloat (geo_chain_nearest (&o->stitch[e], q, NULL), >=,
                           width[e] - 0.01);
      }
  g_assert_cmpuint (seen[0], >, 3);
  g_assert_cmpuint (seen[1], >, 3);
  geo_ring_clear (&ring);
  outline_free (o);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ring-hollow/slit", test_slit);
  g_test_add_func ("/ring-hollow/island", test_island);
  g_test_add_func ("/ring-hollow/scallop", test_scallop);
  g_test_add_func ("/ring-hollow/hollow-neck", test_hollow_neck);
  g_test_add_func ("/ring-hollow/u-turn", test_u_turn);
  g_test_add_func ("/ring-hollow/crossing-outline", test_crossing_outline);
  g_test_add_func ("/ring-hollow/nothing", test_nothing);
  g_test_add_func ("/ring-hollow/passed-over", test_passed_over);
  g_test_add_func ("/ring-hollow/two-lobes", test_two_lobes);
  g_test_add_func ("/ring-hollow/wild-handles", test_wild_handles);
  g_test_add_func ("/ring-hollow/time", test_time);
  return g_test_run ();
}
