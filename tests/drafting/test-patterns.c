/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two patterns of our own, of invented figures: a bodice shaped by a panel seam, and a
 * sleeve that is set in. Nothing is wrong with either. */
#include <math.h>

#include "file/document.h"
#include "sample.h"
#include "sewing/shaping.h"

static Pattern *
load (const char *name)
{
  g_autofree char *path = g_build_filename (g_getenv ("BODKIN_TEST_DATA"),
                                            "patterns", name, NULL);
  GError *error = NULL;
  Pattern *p = file_document_load (path, &error);
  g_assert_no_error (error);
  return p;
}

static const PatternSeam *
seam_named (const Pattern *p, const char *name)
{
  for (guint i = 0; i < p->n_seams; i++)
    if (g_str_equal (p->seams[i]->name, name))
      return p->seams[i];
  g_assert_not_reached ();
}

static void
assert_nothing_found (SewingFacts *facts, const Pattern *p)
{
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((const SewingFinding *)findings->pdata[i])->text);
  g_assert_cmpuint (findings->len, ==, 0);
}

/* The side front is eased over the bust between its two notches and nowhere
 * else; the seam makes a dome of 20 degrees. */
static void
test_princess (void)
{
  g_autoptr (Pattern) p = load ("princess.bodkin");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  assert_nothing_found (facts, p);
  const PatternSeam *own = seam_named (p, "Panel seam");
  const SewingSeam *seam = sewing_facts_seam (facts, p, own);
  g_assert_cmpuint (seam->n_intervals, ==, 3);
  g_assert_cmpuint (seam->n_loose, ==, 0);
  assert_near (seam->intervals[0].difference, 0, 0.05);
  assert_near (seam->intervals[1].difference, -4, 0.05);
  assert_near (seam->intervals[2].difference, 0, 0.05);
  g_assert_cmpfloat (seam->intervals[0].meant, ==, 0);
  assert_near (seam->intervals[1].meant, -4, 1e-9);
  const SewingShaping *shaping = sewing_facts_shaping (facts, p, own);
  assert_near (shaping->total_deg, 20, 0.05);
  g_assert_cmpfloat (shaping->sharp_deg, >, 3);
  g_assert_cmpfloat (shaping->sharp_deg, <, SEWING_SHARP_DEG);
}

/* A cap eased over the head of the arm, 6 mm before the shoulder and 8 mm behind it; under
 * the arm it lies as it is. */
static void
test_sleeve (void)
{
  g_autoptr (Pattern) p = load ("set-in-sleeve.bodkin");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  assert_nothing_found (facts, p);
  const SewingSeam *seam
      = sewing_facts_seam (facts, p, seam_named (p, "Armhole"));
  static const double meant[] = { 0, 6, 8, 0 };
  g_assert_cmpuint (seam->n_intervals, ==, G_N_ELEMENTS (meant));
  for (guint i = 0; i < G_N_ELEMENTS (meant); i++)
    {
      assert_near (seam->intervals[i].meant, meant[i], 1e-9);
      assert_near (seam->intervals[i].difference, meant[i], 0.05);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/patterns/princess", test_princess);
  g_test_add_func ("/patterns/sleeve", test_sleeve);
  return g_test_run ();
}
