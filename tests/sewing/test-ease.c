/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ease beyond what cloth and seam take, and shaping that is crowded into a
 * point. */
#include "builder.h"
#include "sewing/checks.h"
#include "sewing/ease.h"
#include "sewing/shaping.h"

/* The first finding of the check, or NULL. */
static const SewingFinding *
find (const GPtrArray *findings, SewingCheck check)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *finding = findings->pdata[i];
      if (finding->check == check)
        return finding;
    }
  return NULL;
}

static GPtrArray *
run (const char *text)
{
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  return sewing_checks_run (facts, p);
}

static gboolean
found (const char *text, SewingCheck check, const char *words)
{
  g_autoptr (GPtrArray) findings = run (text);
  const SewingFinding *finding = find (findings, check);
  if (finding == NULL)
    return FALSE;
  g_assert_cmpint (finding->weight, ==, SEWING_LOOK);
  g_assert_nonnull (strstr (finding->text, words));
  g_assert_nonnull (strstr (finding->text, "stimate"));
  return TRUE;
}

/* A shoulder of 120 and a longer one meant to be eased into it; give in per
 * cent. */
static char *
shoulders (double ease, double give)
{
  return g_strdup_printf (
      "unit mm\ncloth own %.3f\npiece back\nat 0 0\nedge shoulder seam 15\n"
      "line %.3f 0\nedge rest raw 0\nline 120 200\nline 0 200\n"
      "grain 50 50 50 150\ncut own 1\npiece front\nat 300 0\n"
      "edge shoulder seam 15\nline 420 0\nedge rest raw 0\nline 420 200\n"
      "line 300 200\ngrain 350 50 350 150\ncut own 1\n"
      "seam shoulder open %.3f back.shoulder / front.shoulder~\n",
      give, 120 + ease, ease);
}

/* How much a cloth eases. No published figures are known to us; the ranges are
 * from memory of common practice: firm cotton and polyester 2 to 3 per cent,
 * cotton and linen 3 to 5, wool 5 to 8, leather 0 to 1, an edge on the bias up
 * to 10. Ours, from the give, must fall into them. */
static void
test_cloth (void)
{
  static const struct
  {
    double give, bias, from, to;
  } cloths[] = { { 0.02, 0, 2, 3 },
                 { 0.035, 0, 3, 5 },
                 { 0.06, 0, 5, 8.01 },
                 { 0.005, 0, 0, 1 },
                 { 0.04, 0.9, 9, 10 } };
  for (guint i = 0; i < G_N_ELEMENTS (cloths); i++)
    {
      double most = sewing_ease_per_cent (cloths[i].give, cloths[i].bias);
      g_assert_cmpfloat (most, >=, cloths[i].from);
      g_assert_cmpfloat (most, <=, cloths[i].to);
    }
  /* A quarter inch on a shoulder of five, the handbooks' measure (W. D. F.
     Vincent, The cutter's practical guide, part 13), is 5 per cent: for wool,
     not for firm cotton. */
  g_autofree char *wool = shoulders (6, 0.06);
  g_assert_false (found (wool, SEWING_CHECK_EASE, ""));
  g_autofree char *cotton = shoulders (6, 0.02);
  g_assert_true (found (cotton, SEWING_CHECK_EASE, "about 3 %"));
  g_autofree char *much = shoulders (10, 0.06);
  g_assert_true (found (much, SEWING_CHECK_EASE, "about 8 %"));
}

/* Ease that is not meant is told as a length, and not again as ease. */
static void
test_not_meant (void)
{
  g_autofree char *text = shoulders (10, 0.04);
  g_autofree char *unmeant
      = builder_change (text,
                        "seam shoulder open 10.000 back.shoulder / "
                        "front.shoulder~",
                        "seam shoulder open 0 back.shoulder / "
                        "front.shoulder~");
  g_autoptr (GPtrArray) findings = run (unmeant);
  g_assert_null (find (findings, SEWING_CHECK_EASE));
  g_assert_nonnull (find (findings, SEWING_CHECK_SEAM_LENGTH));
}

/* By seam: half an inch at the most on a back shoulder and a back waist, under
 * a quarter over the bust (clothingpatterns101.com, Sewing ease); a sleeve's
 * cap 1 to 1 1/2 in (madalynne.com, Sleeve cap ease), while 2 in are called too
 * much (designloft.blogspot.com, 2008/03); an outer collar 1/8 in (H. Barlup,
 * threadsmagazine.com). */
static void
test_kinds (void)
{
  g_assert_cmpfloat (sewing_ease_most (SEWING_EASE_PLAIN), ==, 12.7);
  g_assert_cmpfloat (sewing_ease_most (SEWING_EASE_SHAPED), ==, 6.35);
  g_assert_cmpfloat (sewing_ease_most (SEWING_EASE_SET_IN), ==, 38.1);
  g_assert_cmpfloat (sewing_ease_most (SEWING_EASE_TURNED), ==, 3.175);
}

/* A long waist takes 2 per cent, but not 20 mm of it. */
static void
test_long_seam (void)
{
  const char *const waist
      = "unit mm\npiece skirt\nat 0 0\nedge waist seam 15\nline %d 0\n"
        "edge rest raw 0\nline 1000 300\nline 0 300\ngrain 50 50 50 150\n"
        "cut shell 1\npiece band\nat 0 400\nedge low seam 15\nline 1000 400\n"
        "edge rest raw 0\nline 1000 500\nline 0 500\ngrain 50 420 150 420\n"
        "cut shell 1\nseam waist open %d skirt.waist / band.low~\n";
  for (int ease = 8; ease <= 20; ease += 12)
    {
      GString *text = g_string_new (waist);
      g_autofree char *length = g_strdup_printf ("%d", 1000 + ease);
      g_autofree char *meant = g_strdup_printf ("%d", ease);
      g_string_replace (text, "%d", length, 1);
      g_string_replace (text, "%d", meant, 1);
      g_assert_cmpint (found (text->str, SEWING_CHECK_EASE, "12.7 mm"), ==,
                       ease == 20);
      g_string_free (text, TRUE);
    }
}

/* Half a cap of the radius r, into a hollow of 100. */
static char *
cap (double r, double ease, const char *press)
{
  return g_strdup_printf (
      "unit mm\npiece sleeve\nat %.6f 0\nedge cap seam 10\narc 0 0 120\n"
      "edge rest raw 0\nline 0 0\ngrain 0 20 0 60\ncut shell 1\n"
      "piece body\nat 600 0\nedge low raw 0\nline 700 0\nline 700 200\n"
      "line 300 200\nline 300 86.602540\nline 450 86.602540\n"
      "edge hole seam 10\narc 500 0 -120\ngrain 680 20 680 60\ncut shell 1\n"
      "seam armhole %s %.6f sleeve.cap / body.hole~\n",
      r, press, ease);
}

static void
test_set_in (void)
{
  double arc = 120 * G_PI / 180;
  /* 5 per cent, 10 mm: neither cloth nor seam minds. */
  g_autofree char *good = cap (105, 5 * arc, "open");
  g_assert_false (found (good, SEWING_CHECK_EASE, ""));
  g_autoptr (Pattern) p = builder_read (good);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const SewingSeam *seam
      = sewing_facts_seam (facts, p, builder_seam (p, "armhole"));
  g_assert_cmpint (sewing_ease_kind (facts, p, seam), ==, SEWING_EASE_SET_IN);
  /* A whole cap is hollow at both its ends, and is set in all the same. */
  g_autofree char *ends
      = builder_change (good, "edge rest raw 0\nline 0 0",
                        "curve -62.5 80.933 -82.5 84.933 -102.5 84.933\n"
                        "edge rest raw 0\nline -102.5 0\nline 0 0");
  g_autoptr (Pattern) whole = builder_read (ends);
  const SewingSeam *real
      = sewing_facts_seam (facts, whole, builder_seam (whole, "armhole"));
  g_assert_cmpint (sewing_ease_kind (facts, whole, real), ==,
                   SEWING_EASE_SET_IN);
  /* The same ease in a turned edge is far more than the turn of the cloth. */
  g_autofree char *turned = cap (105, 5 * arc, "turned");
  g_assert_true (found (turned, SEWING_CHECK_EASE, "two plies"));
  /* A cap must not be the shorter one (emmakespatterns.com, Sleeve cap
     ease). */
  g_autofree char *small = cap (97, -3 * arc, "open");
  g_autoptr (GPtrArray) findings = run (small);
  const SewingFinding *finding = find (findings, SEWING_CHECK_EASE);
  g_assert_nonnull (finding);
  g_assert_nonnull (strstr (finding->text, "never be the shorter"));
}

/* --- points
 * -------------------------------------------------------------------- */

static char *
dart (double deg)
{
  double half = 120 * tan (deg * G_PI / 360);
  return g_strdup_printf (
      "unit mm\npiece p\nat 0 0\nedge waist seam 10\nline %.9f 0\n"
      "edge left seam 10\nline 100 120\nedge right seam 10\nline %.9f 0\n"
      "edge rest seam 10\nline 200 0\nline 200 300\nline 0 300\n"
      "grain 50 50 50 200\ncut shell 1\ndart d p.left / p.right~\n",
      100 - half, 100 + half);
}

static void
test_pointed_dart (void)
{
  g_autofree char *mild = dart (11);
  g_assert_false (found (mild, SEWING_CHECK_POINTED, ""));
  g_autofree char *sharp = dart (18);
  g_assert_true (found (sharp, SEWING_CHECK_POINTED, "18°"));
  g_autoptr (GPtrArray) findings = run (sharp);
  const SewingFinding *finding = find (findings, SEWING_CHECK_POINTED);
  g_assert_cmpfloat_with_epsilon (finding->at.x, 100, 1e-6);
  g_assert_cmpfloat_with_epsilon (finding->at.y, 120, 1e-6);
  g_assert_cmpfloat_with_epsilon (finding->amount, 18, 1e-6);
  /* The same intake, run out finely. */
  double half = 120 * tan (18 * G_PI / 360);
  g_autofree char *tapered = g_strdup_printf (
      "unit mm\npiece p\nat 0 0\nedge waist seam 10\nline %.9f 0\n"
      "edge left seam 10\ncurve %.9f 40 98.5 60 100 120\n"
      "edge right seam 10\ncurve 101.5 60 %.9f 40 %.9f 0\n"
      "edge rest seam 10\nline 200 0\nline 200 300\nline 0 300\n"
      "grain 50 50 50 200\ncut shell 1\ndart d p.left / p.right~\n",
      100 - half, 100 - half * 2 / 3, 100 + half * 2 / 3, 100 + half);
  g_assert_false (found (tapered, SEWING_CHECK_POINTED, ""));
}

/* Two mirrored arcs: 2 x 20 mm / R over the window, 12 degrees at R 191. */
static void
test_pointed_seam (void)
{
  for (int i = 0; i < 2; i++)
    {
      int r = i == 0 ? 200 : 180;
      g_autofree char *text = g_strdup_printf (
          "unit mm\npiece a\nat %d 0\nedge rim seam 10\narc 0 0 60\n"
          "edge chord raw 0\npiece b\nat %d 0\nedge rim seam 10\n"
          "arc 700 0 60\nedge chord raw 0\n"
          "seam s open 0 a.rim / b.rim~\n",
          r, 700 + r);
      g_assert_cmpint (found (text, SEWING_CHECK_POINTED, "dart of 13°"), ==,
                       i == 1);
    }
}

/* A blunt pyramid of four: 4 x 84 degrees at its point, 24 short of a
 * turn. */
static void
test_meeting_point (void)
{
  for (int deg = 84; deg <= 88; deg += 4)
    {
      GString *text = g_string_new ("unit mm\n");
      double a = deg * G_PI / 180;
      for (int i = 0; i < 4; i++)
        g_string_append_printf (
            text,
            "piece p%d\nat %d 0\nedge one seam 10\nline %d 0\nedge low raw 0\n"
            "line %.9f %.9f\nedge two seam 10\n",
            i, 300 * i, 300 * i + 100, 300 * i + 100 * cos (a), 100 * sin (a));
      for (int i = 0; i < 4; i++)
        g_string_append_printf (text, "seam s%d open 0 p%d.one / p%d.two~\n", i,
                                i, (i + 1) % 4);
      g_autoptr (GPtrArray) findings = run (text->str);
      const SewingFinding *finding = find (findings, SEWING_CHECK_POINTED);
      if (deg == 88)
        g_assert_null (finding); /* 8 degrees */
      else
        {
          g_assert_cmpfloat_with_epsilon (finding->amount, 24, 1e-6);
          g_assert_cmpint (finding->weight, ==, SEWING_LOOK);
        }
      g_string_free (text, TRUE);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ease/cloth", test_cloth);
  g_test_add_func ("/ease/not-meant", test_not_meant);
  g_test_add_func ("/ease/kinds", test_kinds);
  g_test_add_func ("/ease/long-seam", test_long_seam);
  g_test_add_func ("/ease/set-in", test_set_in);
  g_test_add_func ("/pointed/dart", test_pointed_dart);
  g_test_add_func ("/pointed/seam", test_pointed_seam);
  g_test_add_func ("/pointed/meeting-point", test_meeting_point);
  return g_test_run ();
}
