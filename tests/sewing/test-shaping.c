/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sum of a closed surface's curvature is 720 degrees whatever its shape, by
 * Gauss and Bonnet (M. P. do Carmo, Differential Geometry of Curves and
 * Surfaces, 1976, section 4-5): what seams and points of a closed shape carry
 * must add up to it. */
#include "builder.h"
#include "sewing/shaping.h"

#define DEGREE (G_PI / 180)

typedef struct
{
  Pattern *pattern;
  SewingFacts *facts;
} Sewn;

static Sewn
sewn (const char *text)
{
  return (Sewn){ builder_read (text), sewing_facts_new () };
}

static void
sewn_clear (Sewn *s)
{
  sewing_facts_free (s->facts);
  pattern_unref (s->pattern);
}

static const SewingShaping *
shaping_of (Sewn *s, const char *seam)
{
  const SewingShaping *shaping = sewing_facts_shaping (
      s->facts, s->pattern, builder_seam (s->pattern, seam));
  g_assert_nonnull (shaping);
  return shaping;
}

static void
near (double value, double expected, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance);
}

/* All seams and all points that no seam has counted. */
static double
whole_curvature (Sewn *s, guint *n_points)
{
  double sum = 0;
  for (guint i = 0; i < s->pattern->n_seams; i++)
    sum += sewing_facts_shaping (s->facts, s->pattern, s->pattern->seams[i])
               ->total_deg;
  g_autoptr (GArray) points = sewing_shaping_points (s->facts, s->pattern);
  for (guint i = 0; i < points->len; i++)
    {
      const SewingShapingPoint *point
          = &g_array_index (points, SewingShapingPoint, i);
      if (!point->dart)
        sum += point->angle_deg;
    }
  *n_points = points->len;
  return sum;
}

/* Four equilateral triangles: 180 degrees at each of four points. */
static void
test_tetrahedron (void)
{
  GString *text = g_string_new ("unit mm\n");
  for (int i = 0; i < 4; i++)
    g_string_append_printf (text,
                            "piece t%d\nat %d 0\nedge a seam 10\nline %d 0\n"
                            "edge b seam 10\nline %d 86.60254037844386\n"
                            "edge c seam 10\n",
                            i, 200 * i, 200 * i + 100, 200 * i + 50);
  /* t0 in the middle; the others hang on it and meet in the fourth point. */
  g_string_append (text, "seam s1 open 0 t0.a / t1.a~\n"
                         "seam s2 open 0 t0.b / t2.a~\n"
                         "seam s3 open 0 t0.c / t3.a~\n"
                         "seam s4 open 0 t1.c / t2.b~\n"
                         "seam s5 open 0 t2.c / t3.b~\n"
                         "seam s6 open 0 t3.c / t1.b~\n");
  Sewn s = sewn (text->str);
  g_autoptr (GArray) points = sewing_shaping_points (s.facts, s.pattern);
  g_assert_cmpuint (points->len, ==, 4);
  for (guint i = 0; i < 4; i++)
    {
      const SewingShapingPoint *point
          = &g_array_index (points, SewingShapingPoint, i);
      near (point->angle_deg, 180, 1e-9);
      g_assert_cmpuint (point->corners, ==, 3);
      g_assert_false (point->dart);
    }
  guint n;
  near (whole_curvature (&s, &n), 720, 1e-9);
  near (shaping_of (&s, "s4")->total_deg, 0, 1e-12);
  near (shaping_of (&s, "s4")->sharp_deg, 0, 1e-12);
  sewn_clear (&s);
  g_string_free (text, TRUE);
}

/* A cone of slant 150 on its disc: a sector of 120 degrees, so a disc of 50.
 * Its point carries 240, the rim the rest. */
static void
test_cone (void)
{
  Sewn s = sewn ("unit mm\npiece cone\nat 0 0\nedge back seam 10\nline 150 0\n"
                 "edge rim seam 10\narc 0 0 120\nedge front seam 10\n"
                 "piece disc\nat 450 0\nedge rim seam 10\narc 400 0 360\n"
                 "dart side cone.back~ / cone.front\n"
                 "seam rim open 0 cone.rim / disc.rim~\n");
  const SewingShaping *side = shaping_of (&s, "side");
  near (side->point_deg[0], 0, 1e-9);
  near (side->point_deg[1], 240, 1e-5);
  near (side->total_deg, 240, 1e-5);
  near (side->sharp_deg, 240, 1e-5);
  near (side->sharp_to, 150, 1e-6);
  near (shaping_of (&s, "rim")->total_deg, 120 + 360, 1e-5);
  guint n;
  near (whole_curvature (&s, &n), 720, 1e-5);
  g_assert_cmpuint (n, ==, 2); /* the cone's point, and one on the rim */
  sewn_clear (&s);
}

/* A gore's edge from the closed form: with the meridian of length pi R laid
 * straight, half the gore at latitude u is pi R / n cos u wide. Cubics through
 * it at every 7.5 degrees with its own tangents. */
static void
append_gore (GString *text, int i, int n, double r)
{
  int steps = 24;
  double h = G_PI / steps, x0 = 400 * i;
  g_string_append_printf (text, "piece g%d\nat %.9f %.9f\nedge right seam 10\n",
                          i, x0, -r * G_PI / 2);
  for (int way = 0; way < 2; way++)
    {
      for (int k = 0; k < steps; k++)
        {
          /* Latitude runs from -90 to 90 degrees down the right, and back up the
         left. */
          double u0 = (way == 0 ? -1 : 1) * (G_PI / 2 - k * h);
          double u1 = u0 + (way == 0 ? h : -h);
          double sign = way == 0 ? 1 : -1, w = sign * G_PI * r / n;
          double third = (u1 - u0) / 3;
          g_string_append_printf (
              text, "curve %.12f %.12f %.12f %.12f %.12f %.12f\n",
              x0 + w * (cos (u0) - third * sin (u0)), r * (u0 + third),
              x0 + w * (cos (u1) + third * sin (u1)), r * (u1 - third),
              x0 + w * cos (u1), r * u1);
        }
      if (way == 0)
        g_string_append (text, "edge left seam 10\n");
    }
}

/* A sphere cut in n gores. Seams and poles give 720 degrees; and a zone of a
 * sphere has the curvature 2 pi (sin u1 - sin u0), of which each seam carries
 * an nth, by as near as its gore is narrow. */
static void
test_sphere (void)
{
  for (int n = 4; n <= 24; n += 10)
    {
      double r = 100;
      GString *text = g_string_new ("unit mm\n");
      for (int i = 0; i < n; i++)
        append_gore (text, i, n, r);
      for (int i = 0; i < n; i++)
        g_string_append_printf (text, "seam s%d open 0 g%d.right / g%d.left~\n",
                                i, i, (i + 1) % n);
      Sewn s = sewn (text->str);
      g_string_free (text, TRUE);
      guint points;
      near (whole_curvature (&s, &points), 720, 1e-7);
      g_assert_cmpuint (points, ==, 2);
      const SewingShaping *seam = shaping_of (&s, "s0");
      /* Each of the two edges turns from atan (pi / n) to its opposite. */
      near (seam->total_deg, 4 * atan (G_PI / n) / DEGREE, 1e-7);
      if (n == 24)
        {
          double length = seam->knots[seam->n_knots - 1].at;
          /* The middle half of so narrow a gore is 45 degrees to either side,
         as near as its length is its meridian's. */
          double zone
              = sewing_shaping_between (seam, length / 4, length * 3 / 4);
          near (zone, 360.0 / n * 2 * sin (45 * DEGREE), 0.15);
        }
      sewn_clear (&s);
    }
}

/* Straight legs: the point carries the intake, the legs nothing. */
static void
test_straight_dart (void)
{
  for (int deg = 6; deg <= 30; deg += 8)
    {
      double half = 120 * tan (deg * DEGREE / 2);
      g_autofree char *text = g_strdup_printf (
          "unit mm\npiece p\nat 0 0\nedge waist seam 10\nline %.12f 0\n"
          "edge left seam 0\nline 100 120\nedge right seam 0\nline %.12f 0\n"
          "edge rest seam 10\nline 200 0\nline 200 300\nline 0 300\n"
          "dart d p.left / p.right~\n",
          100 - half, 100 + half);
      Sewn s = sewn (text);
      const SewingShaping *dart = shaping_of (&s, "d");
      double length = dart->knots[dart->n_knots - 1].at;
      near (dart->point_deg[1], deg, 1e-9);
      near (dart->total_deg, deg, 1e-9);
      near (sewing_shaping_between (dart, 0, length - 1), 0, 1e-9);
      near (dart->sharp_deg, deg, 1e-9);
      near (dart->sharp_to, length, 1e-9);
      near (sewing_shaping_rate (dart, length / 2), 0, 1e-9);
      g_autoptr (GArray) points = sewing_shaping_points (s.facts, s.pattern);
      g_assert_cmpuint (points->len, ==, 1);
      const SewingShapingPoint *point
          = &g_array_index (points, SewingShapingPoint, 0);
      g_assert_true (point->dart);
      near (point->angle_deg, deg, 1e-9);
      near (point->at.x, 100, 1e-9);
      near (point->at.y, 120, 1e-9);
      sewn_clear (&s);
    }
}

/* Two mirrored arcs of radius R over the angle phi: 2 phi in all, evenly. */
static const char *const lens
    = "unit mm\npiece a\nat 100 0\nedge rim seam 10\narc 0 0 60\n"
      "edge chord raw 0\npiece b\nat 400 0\nedge rim seam 10\narc 300 0 60\n"
      "edge chord raw 0\nnotch rim 1 fraction 0.25\n"
      "seam s open 0 a.rim / b.rim~\n";

static void
test_arcs (void)
{
  Sewn s = sewn (lens);
  const SewingShaping *seam = shaping_of (&s, "s");
  double length = 100 * 60 * DEGREE;
  near (seam->total_deg, 120, 1e-5);
  near (seam->sharp_deg, 2 * 20 / (100 * DEGREE), 2e-3);
  near (seam->hollow_deg, 0, 1e-12);
  near (sewing_shaping_between (seam, 0, length / 3), 40, 2e-3);
  near (sewing_shaping_between (seam, length / 2, length), 60, 2e-3);
  for (double at = 0; at <= length; at += 9)
    near (sewing_shaping_rate (seam, at), 2 * 10 / (100 * DEGREE), 2e-2);
  sewn_clear (&s);
}

/* An arc in the hollow it was cut from lies flat; two hollows make a saddle. */
static void
test_flat_and_saddle (void)
{
  char *made[2];
  for (int i = 0; i < 2; i++)
    {
      int x = 400 * i;
      made[i] = g_strdup_printf (
          "piece %s\nat %d 0\nedge low raw 0\nline %d 0\nline %d 200\n"
          "line %d 200\nline %d 100\nedge rim seam 10\narc %d 0 -90\n",
          i == 0 ? "h1" : "h2", x + 100, x + 200, x + 200, x, x, x);
    }
  g_autofree char *h1 = made[0], *h2 = made[1];
  g_autofree char *text = g_strdup_printf (
      "unit mm\npiece round\nat 900 0\nedge rim seam 10\narc 800 0 90\n"
      "edge other raw 0\nline 800 0\n%s%s"
      "seam flat open 0 round.rim / h1.rim~\n"
      "seam saddle open 0 h1.rim / h2.rim~\n",
      h1, h2);
  Sewn s = sewn (text);
  const SewingShaping *flat = shaping_of (&s, "flat");
  near (flat->total_deg, 0, 1e-5);
  near (flat->sharp_deg, 0, 1e-2);
  near (flat->hollow_deg, 0, 1e-2);
  const SewingShaping *saddle = shaping_of (&s, "saddle");
  near (saddle->total_deg, -180, 1e-5);
  near (saddle->sharp_deg, 0, 1e-12);
  near (saddle->hollow_deg, -2 * 20 / (100 * DEGREE), 2e-3);
  sewn_clear (&s);
}

/* A joint inside a side: what its two corners are short of half a turn. */
static void
test_joint (void)
{
  Sewn s = sewn (builder_skirt);
  near (shaping_of (&s, "waist seam")->total_deg, 0, 1e-9);
  sewn_clear (&s);
  /* The front's side leans out by 1 in 10 at the top. */
  g_autofree char *leaning
      = builder_change (builder_skirt, "line 200 300", "line 230 300");
  s = sewn (leaning);
  const SewingShaping *waist = shaping_of (&s, "waist seam");
  double lean = atan (0.1) / DEGREE;
  near (waist->total_deg, -lean, 1e-9);
  near (sewing_shaping_between (waist, 199.9, 200.1), -lean, 1e-9);
  near (sewing_shaping_between (waist, 200, 200), -lean, 1e-9);
  near (sewing_shaping_between (waist, 0, 199), 0, 1e-9);
  near (waist->hollow_deg, -lean, 1e-9);
  sewn_clear (&s);
}

/* Half a closed bag on the fold: a rectangle folded down its middle and sewn
 * round: two points of a quarter turn each side, 180 degrees each; open at the
 * top it has those two alone. */
static void
test_fold (void)
{
  Sewn s = sewn ("unit mm\npiece a\nat 0 0\nedge top raw 0\nline 100 0\n"
                 "edge side seam 10\nline 100 200\nedge bottom seam 10\n"
                 "line 0 200\nedge middle fold 0\npiece b\nat 300 0\n"
                 "edge top raw 0\nline 400 0\nedge side seam 10\n"
                 "line 400 200\nedge bottom seam 10\nline 300 200\n"
                 "edge middle fold 0\nseam side open 0 a.side / b.side\n"
                 "seam bottom open 0 a.bottom / b.bottom\n");
  g_autoptr (GArray) points = sewing_shaping_points (s.facts, s.pattern);
  g_assert_cmpuint (points->len, ==, 2);
  double sum = 0;
  for (guint i = 0; i < 2; i++)
    {
      const SewingShapingPoint *point
          = &g_array_index (points, SewingShapingPoint, i);
      sum += point->angle_deg;
    }
  /* The corner 180; at the fold four right angles: 0. */
  near (sum, 180, 1e-9);
  sewn_clear (&s);
}

/* Stretches add up, and no window is sharper than the sharpest. */
static void
test_any (void)
{
  for (int n = 0; n < 40; n++)
    {
      g_autofree char *text = g_strdup_printf (
          "unit mm\npiece a\nat 0 0\nedge e seam 10\n"
          "curve %.3f %.3f %.3f %.3f 200 0\nedge f raw 0\nline 200 300\n"
          "line 0 300\nnotch e 1 fraction %.4f\npiece b\nat 500 0\n"
          "edge e seam 10\ncurve %.3f %.3f %.3f %.3f 690 0\nedge f raw 0\n"
          "line 700 300\nline 500 300\nnotch e 1 fraction %.4f\n"
          "seam s open 0 a.e / b.e\n",
          g_test_rand_double_range (20, 80), g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (120, 180),
          g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (0.4, 0.6),
          g_test_rand_double_range (520, 570),
          g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (630, 680),
          g_test_rand_double_range (-60, 60),
          g_test_rand_double_range (0.4, 0.6));
      Sewn s = sewn (text);
      const SewingShaping *seam = shaping_of (&s, "s");
      const SewingSeam *facts = sewing_facts_seam (
          s.facts, s.pattern, builder_seam (s.pattern, "s"));
      double turned = geo_chain_turning (&facts->chains[0])
                      + geo_chain_turning (&facts->chains[1]);
      near (seam->total_deg, turned / DEGREE, 1e-7);
      double length = facts->lengths[0], sum = 0;
      for (guint i = 0; i < facts->n_intervals; i++)
        sum += sewing_shaping_between (seam, facts->intervals[i].a_from,
                                       facts->intervals[i].a_to);
      near (sum, seam->total_deg, 1e-9);
      for (double at = 0; at + 20 <= length; at += 1.7)
        {
          double deg = sewing_shaping_between (seam, at, at + 20);
          /* Windows begin at knots, 2 mm apart. */
          g_assert_cmpfloat (deg, <=, seam->sharp_deg + 0.6);
          g_assert_cmpfloat (deg, >=, seam->hollow_deg - 0.6);
        }
      sewn_clear (&s);
    }
}

/* Kept as long as the seam and its pieces are, and no longer. */
static void
test_kept (void)
{
  Sewn s = sewn (lens);
  const SewingShaping *first = shaping_of (&s, "s");
  g_autoptr (Pattern) other = pattern_dup (s.pattern);
  g_assert_true (sewing_facts_shaping (s.facts, other, other->seams[0])
                 == first);
  sewing_facts_keep (s.facts, other, NULL);
  g_assert_true (shaping_of (&s, "s") == first);
  sewn_clear (&s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shaping/tetrahedron", test_tetrahedron);
  g_test_add_func ("/shaping/cone", test_cone);
  g_test_add_func ("/shaping/sphere", test_sphere);
  g_test_add_func ("/shaping/straight-dart", test_straight_dart);
  g_test_add_func ("/shaping/arcs", test_arcs);
  g_test_add_func ("/shaping/flat-and-saddle", test_flat_and_saddle);
  g_test_add_func ("/shaping/joint", test_joint);
  g_test_add_func ("/shaping/fold", test_fold);
  g_test_add_func ("/shaping/any", test_any);
  g_test_add_func ("/shaping/kept", test_kept);
  return g_test_run ();
}
