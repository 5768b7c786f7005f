/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "builder.h"
#include "sewing/cutting.h"
#include "sewing/strain.h"

static void
near (double value, double expected, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance);
}

static Pattern *
weighing (const char *text, double weight)
{
  Pattern *p = builder_read (text);
  for (guint i = 0; i < p->n_cloths; i++)
    p->cloths[i].weight = weight;
  return p;
}

static const SewingLoad *
load_on (const SewingStrain *strain, const Pattern *p, const char *seam)
{
  guint id = builder_seam (p, seam)->id;
  for (guint i = 0; i < strain->loads->len; i++)
    {
      const SewingLoad *load = &g_array_index (strain->loads, SewingLoad, i);
      if (load->seam == id)
        return load;
    }
  return NULL;
}

/* Whatever hangs on whatever: all of it rests somewhere. */
static void
nothing_lost (const SewingStrain *strain)
{
  double sum = strain->borne;
  for (guint i = 0; i < strain->loads->len; i++)
    {
      const SewingLoad *load = &g_array_index (strain->loads, SewingLoad, i);
      if (load->rests)
        sum += load->load;
    }
  near (sum, strain->mass, 1e-9 * (1 + strain->mass));
}

/* By hand: front and back as cut 200 + 15 wide and 300 + 10 + 40 high, twice on
 * the fold: 0.1505 m2, at 200 g/m2 30.1 g each. The band 400 by 50, twice: 0.04
 * m2, 8 g. The two panels hang from 2 x 400 mm of waist: 60.2 g / 80 cm. */
static void
test_skirt (void)
{
  g_autoptr (Pattern) p = weighing (builder_skirt, 200);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, p);
  g_assert_true (strain->whole);
  near (strain->piece_mass[0], 30.1, 1e-9);
  near (strain->piece_mass[1], 30.1, 1e-9);
  near (strain->piece_mass[2], 8, 1e-9);
  near (strain->mass, 68.2, 1e-9);
  const SewingLoad *waist = load_on (strain, p, "waist seam");
  near (waist->load, 60.2, 1e-9);
  near (waist->length, 800, 1e-6);
  near (waist->per_cm, 60.2 / 80, 1e-9);
  g_assert_false (waist->rests);
  g_assert_null (load_on (strain, p, "side seam"));
  near (strain->borne, 68.2, 1e-9); /* the band bears it */
  nothing_lost (strain);
}

static const char *const tabard
    = "unit mm\npiece front\nat 0 0\nedge shoulder seam 0\nline 100 0\n"
      "edge side seam 0\nline 100 500\nedge hem hem 0\nline 0 500\n"
      "edge middle fold 0\ncut shell 1\npiece back\nat 300 0\n"
      "edge shoulder seam 0\nline 400 0\nedge middle fold 0\n"
      "line 400 600\nedge hem hem 0\nline 300 600\nedge side seam 0\n"
      "cut shell 1\npiece pocket\nat 600 0\nedge a raw 0\nline 650 0\n"
      "edge b seam 0\nline 650 50\nedge c raw 0\nline 600 50\nedge d raw 0\n"
      "cut shell 2\nseam shoulder open 0 front.shoulder / back.shoulder~\n"
      "seam pocket open 0 pocket.b / front.side\n";

/* By hand: front 0.2 x 0.5, back 0.2 x 0.6, two pockets of 0.05 x 0.05 m, at
 * 1000 g/m2 100, 120 and 5 g, all of it on 2 x 100 mm of shoulder. The
 * pocket weighs on the front. */
static void
test_shoulder (void)
{
  g_autoptr (Pattern) p = weighing (tabard, 1000);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, p);
  near (strain->mass, 225, 1e-9);
  const SewingLoad *shoulder = load_on (strain, p, "shoulder");
  g_assert_true (shoulder->rests);
  near (shoulder->load, 225, 1e-9);
  near (shoulder->per_cm, 225.0 / 20, 1e-9);
  near (load_on (strain, p, "pocket")->load, 5, 1e-9);
  near (strain->borne, 0, 1e-9);
  nothing_lost (strain);
  /* Heavy, but straight, on the grain and not clipped. */
  g_assert_cmpuint (strain->advice->len, ==, 0);
}

/* The same upside down on the table: the hem says where down is. */
static void
test_upside_down (void)
{
  g_autoptr (Pattern) p = weighing (tabard, 1000);
  for (guint i = 0; i < p->n_pieces; i++)
    {
      PatternPiece *piece = pattern_piece_dup (p->pieces[i]);
      pattern_piece_move (piece,
                          geo_motion_about (geo_point (50, 80), 2.2 + i));
      pattern_put_piece (p, piece);
    }
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, p);
  near (load_on (strain, p, "shoulder")->load, 225, 1e-6);
  nothing_lost (strain);
}

static void
test_unknown (void)
{
  g_autoptr (Pattern) p = weighing (builder_skirt, 0);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, p);
  g_assert_false (strain->whole);
  g_assert_cmpfloat (strain->mass, ==, 0);
  g_assert_cmpuint (strain->loads->len, ==, 0);
}

/* Pieces that hang from each other in a ring bear themselves. */
static void
test_ring (void)
{
  g_autoptr (Pattern) p = weighing (
      "unit mm\npiece a\nat 0 0\nedge top seam 0\nline 100 0\nedge x raw 0\n"
      "line 100 100\nedge low seam 0\nline 0 100\nedge y raw 0\ncut shell 1\n"
      "piece b\nat 200 0\nedge top seam 0\nline 300 0\nedge x raw 0\n"
      "line 300 100\nedge low seam 0\nline 200 100\nedge y raw 0\n"
      "cut shell 1\nseam one open 0 a.top / b.low~\n"
      "seam two open 0 b.top / a.low~\n",
      100);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, p);
  near (strain->mass, 2, 1e-9);
  nothing_lost (strain);
}

static double
bias_of (const char *outline, double grain_deg, guint edge)
{
  double a = grain_deg * G_PI / 180;
  g_autofree char *text
      = g_strdup_printf ("unit mm\npiece p\n%sgrain 0 0 %.9f %.9f\n", outline,
                         100 * cos (a), 100 * sin (a));
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  double share;
  g_assert_true (sewing_bias_share (sewing_facts_piece (facts, p->pieces[0]),
                                    edge, &share));
  return share;
}

/* Straight edges are on the bias or not; on a circle half of every arc of 90
 * degrees is. */
static void
test_bias (void)
{
  static const char *const square
      = "at 0 0\nedge a seam 10\nline 100 0\nedge b seam 10\nline 0 100\n"
        "edge c seam 10\n";
  near (bias_of (square, 90, 0), 0, 1e-12);
  near (bias_of (square, 90, 1), 1, 1e-12);
  near (bias_of (square, 45, 0), 1, 1e-12);
  near (bias_of (square, 45, 1), 0, 1e-12);
  near (bias_of (square, 22, 0), 0, 1e-12);
  near (bias_of (square, 23, 0), 1, 1e-12);
  near (bias_of (square, 68, 0), 0, 1e-12);
  static const char *const quarter
      = "at 100 0\nedge rim seam 10\narc 0 0 90\nedge x seam 10\nline 0 0\n";
  for (int deg = 0; deg < 180; deg += 13)
    near (bias_of (quarter, deg, 0), 0.5, 1e-5);
  static const char *const eighth
      = "at 100 0\nedge rim seam 10\narc 0 0 45\nedge x seam 10\nline 0 0\n";
  near (bias_of (eighth, 0, 0), 0.5, 1e-5);
  near (bias_of (eighth, 22.5, 0), 0, 1e-5);
  near (bias_of (eighth, 67.5, 0), 1, 1e-5);
}

static gboolean
advised (const SewingStrain *strain, SewingAdviceKind kind, guint edge)
{
  for (guint i = 0; i < strain->advice->len; i++)
    {
      const SewingAdvice *a = &g_array_index (strain->advice, SewingAdvice, i);
      if (a->kind == kind && a->edge == edge)
        return TRUE;
    }
  return FALSE;
}

/* A round neck in a cape's half, hung from a straight band: hollow, half of it
 * on the bias, closely clipped. */
static void
test_advice (void)
{
  const char *const cape
      = "unit mm\npiece cape\nat 60 0\nedge front seam 10\nline 600 0\n"
        "edge hem hem 0\narc 0 0 90\nedge middle fold 0\nline 0 60\n"
        "edge neck seam 15\narc 0 0 -90\ngrain 200 200 200 400\n"
        "cut shell 1\npiece band\nat 800 0\nedge top seam 10\n"
        "line 894.24778 0\nedge end raw 0\nline 894.24778 40\n"
        "edge low seam 10\nline 800 40\nedge middle fold 0\n"
        "grain 810 10 880 10\ncut shell 1\n"
        "seam neck open 0 cape.neck / band.low\n";
  g_autoptr (Pattern) p = weighing (cape, 900);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, p);
  guint neck = builder_edge (p, "cape", "neck")->id;
  g_assert_cmpfloat (load_on (strain, p, "neck")->per_cm, >, SEWING_LOAD_HIGH);
  for (int kind = 0; kind <= SEWING_ADVICE_SECOND_ROW; kind++)
    g_assert_true (advised (strain, (SewingAdviceKind)kind, neck));
  g_assert_cmpuint (strain->advice->len, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_autofree char *text = sewing_advice_text (
          p, &g_array_index (strain->advice, SewingAdvice, i));
      g_assert_nonnull (strstr (text, "50 % of it runs on the bias"));
    }
  /* In thin cloth the neck is still hollow and on the bias, but carries
     little. */
  for (guint i = 0; i < p->n_cloths; i++)
    p->cloths[i].weight = 60;
  g_autoptr (SewingStrain) thin = sewing_strain_new (facts, p);
  g_assert_cmpuint (thin->advice->len, ==, 1);
  g_assert_true (advised (thin, SEWING_ADVICE_STAYSTITCH, neck));
}

/* The mass is the cutting list's, and all of it rests somewhere. */
static void
test_cutting_list (void)
{
  g_autoptr (Pattern) p = weighing (tabard, 333);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, p);
  g_autoptr (GArray) list = sewing_cutting_list (facts, p);
  near (strain->mass, sewing_cutting_area (list, p->cloths[0].id) / 1e6 * 333,
        1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/strain/skirt", test_skirt);
  g_test_add_func ("/strain/shoulder", test_shoulder);
  g_test_add_func ("/strain/upside-down", test_upside_down);
  g_test_add_func ("/strain/unknown", test_unknown);
  g_test_add_func ("/strain/ring", test_ring);
  g_test_add_func ("/strain/bias", test_bias);
  g_test_add_func ("/strain/advice", test_advice);
  g_test_add_func ("/strain/cutting-list", test_cutting_list);
  return g_test_run ();
}
