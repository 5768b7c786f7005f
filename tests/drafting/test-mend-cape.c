/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo put out at one edge, then mended by what the checks offer, one
 * remedy after the other: it never goes round in a circle. */
#include <math.h>
#include <string.h>

#include "file/document.h"
#include "sample.h"

#define STEPS 6

static Pattern *
cape (void)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-cape.bodkin", NULL);
  GError *error = NULL;
  Pattern *p = file_document_load (path, &error);
  g_assert_no_error (error);
  return p;
}

static gboolean
is_length (const SewingFinding *finding)
{
  return finding->check == SEWING_CHECK_SEAM_LENGTH
         || finding->check == SEWING_CHECK_DART_LEGS;
}

/* The first finding about a length that can be mended, or just the first. */
static const SewingFinding *
first_length (const GPtrArray *findings, gboolean mendable)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      if (is_length (finding)
          && (!mendable || finding->remedy.kind == SEWING_REMEDY_LENGTH))
        return finding;
    }
  return NULL;
}

static const PatternPiece *
piece_named (const Pattern *p, const char *name)
{
  for (guint i = 0; i < p->n_pieces; i++)
    if (strcmp (p->pieces[i]->name, name) == 0)
      return p->pieces[i];
  g_assert_not_reached ();
}

static guint
edge_named (const PatternPiece *piece, const char *name)
{
  for (guint i = 0; i < piece->n_edges; i++)
    if (strcmp (piece->edges[i].name, name) == 0)
      return piece->edges[i].id;
  g_assert_not_reached ();
}

static Pattern *
lengthen (const Pattern *p, guint piece, guint edge, double by, gboolean start)
{
  GError *error = NULL;
  Pattern *longer = drafting_set_edge_length (
      p, piece, edge, edge_length (p, piece, edge) + by, start, &error);
  g_assert_no_error (error);
  return longer;
}

static gboolean
seam_is_true (SewingFacts *facts, const Pattern *p, const PatternSeam *seam)
{
  return fabs (sewing_facts_seam (facts, p, seam)->out) <= p->tolerance;
}

static Pattern *
mend_once (const Pattern *p, const SewingRemedy *remedy)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  GError *error = NULL;
  Pattern *mended = drafting_mend (p, remedy, &error);
  g_assert_no_error (error);
  assert_sound (mended);
  for (guint i = 0; i < p->n_seams; i++)
    if (seam_is_true (facts, p, p->seams[i]))
      {
        double out = sewing_facts_seam (facts, mended, mended->seams[i])->out;
        if (fabs (out) > p->tolerance)
          g_test_message ("%s is out by %.3f after: %s (start %d)",
                          p->seams[i]->name, out, remedy->label,
                          remedy->at_start);
        g_assert_cmpfloat (fabs (out), <=, p->tolerance);
      }
  return mended;
}

/* Mends as long as something is offered. Takes over the pattern. */
static Pattern *
mend_all (Pattern *p, guint *steps)
{
  for (*steps = 0;; ++*steps)
    {
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
      const SewingFinding *finding = first_length (findings, TRUE);
      if (finding == NULL)
        return p;
      g_test_message ("%s | %s", finding->text, finding->remedy.label);
      g_assert_cmpuint (*steps, <, STEPS);
      Pattern *mended = mend_once (p, &finding->remedy);
      pattern_unref (p);
      p = mended;
    }
}

static void
assert_lengths_true (const Pattern *p)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  const SewingFinding *left = first_length (findings, FALSE);
  if (left != NULL)
    g_test_message ("left: %s", left->text);
  g_assert_null (left);
}

/* The neckline is let out, and nothing else followed. */
static void
test_front_neck (void)
{
  for (int start = 0; start < 2; start++)
    {
      g_autoptr (Pattern) p = cape ();
      const PatternPiece *front = piece_named (p, "Front");
      g_autoptr (Pattern) out
          = lengthen (p, front->id, edge_named (front, "neck"), 9, start);
      guint steps;
      g_autoptr (Pattern) mended = mend_all (g_steal_pointer (&out), &steps);
      g_assert_cmpuint (steps, <=, 3);
      assert_lengths_true (mended);
    }
}

/* The band was made to fit the neckline; now it is the facing that is to
 * follow, not the band that is to go back. */
static void
test_facing_follows (void)
{
  g_autoptr (Pattern) p = cape ();
  const PatternPiece *front = piece_named (p, "Front");
  const PatternPiece *band = piece_named (p, "Collar band");
  g_autoptr (Pattern) out
      = lengthen (p, front->id, edge_named (front, "neck"), 9, FALSE);
  g_autoptr (Pattern) fits
      = lengthen (out, band->id, edge_named (band, "neck edge"), 9, TRUE);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, fits);
  const SewingFinding *inner = NULL;
  for (guint i = 0; i < findings->len && inner == NULL; i++)
    {
      const SewingFinding *f = g_ptr_array_index (findings, i);
      const PatternSeam *seam = pattern_get_seam (fits, f->seam);
      if (is_length (f) && strcmp (seam->name, "Inner neck seam") == 0)
        inner = f;
    }
  g_assert_nonnull (inner);
  g_assert_cmpint (inner->remedy.kind, ==, SEWING_REMEDY_LENGTH);
  const PatternPiece *offered = pattern_get_piece (fits, inner->remedy.piece);
  g_assert_cmpstr (offered->name, ==, "Front facing");
  guint steps;
  g_autoptr (Pattern) mended = mend_all (g_steal_pointer (&fits), &steps);
  assert_lengths_true (mended);
}

/* Where the neckline and its facing were both let out it is the band that
 * fits neither. */
static void
test_band_follows (void)
{
  g_autoptr (Pattern) p = cape ();
  const PatternPiece *front = piece_named (p, "Front");
  const PatternPiece *facing = piece_named (p, "Front facing");
  g_autoptr (Pattern) half
      = lengthen (p, front->id, edge_named (front, "neck"), 9, FALSE);
  g_autoptr (Pattern) out
      = lengthen (half, facing->id, edge_named (facing, "neck"), 9, FALSE);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, out);
  const SewingFinding *first = first_length (findings, TRUE);
  const PatternPiece *offered = pattern_get_piece (out, first->remedy.piece);
  g_assert_cmpstr (offered->name, ==, "Collar band");
  g_autoptr (Pattern) mended = mend_once (out, &first->remedy);
  g_autoptr (GPtrArray) after = sewing_checks_run (facts, mended);
  /* Only the planted fault is left. */
  const SewingFinding *left = first_length (after, FALSE);
  g_assert_cmpstr (pattern_get_seam (mended, left->seam)->name, ==,
                   "Collar seam");
}

/* A mend leaves the fold where it is. */
static void
test_fold_stays (void)
{
  g_autoptr (Pattern) p = cape ();
  guint steps;
  g_autoptr (Pattern) mended = mend_all (pattern_ref (p), &steps);
  g_assert_cmpuint (steps, ==, 1);
  const PatternPiece *was = piece_named (p, "Collar fall");
  const PatternPiece *now = piece_named (mended, "Collar fall");
  g_assert_false (was == now);
  g_assert_true (geo_same (was->nodes[4].at, now->nodes[4].at));
  g_assert_true (geo_same (was->nodes[0].at, now->nodes[0].at));
}

/* Every edge that is sewn, let out and taken in, at either end: mends come to
 * an end, put nothing out (mend_once), and what is left unmended says so. */
static void
test_any_edge (void)
{
  g_autoptr (Pattern) p = cape ();
  for (guint i = 0; i < p->n_seams; i++)
    for (int side = 0; side < 2; side++)
      for (guint r = 0; r < p->seams[i]->sides[side].n_runs; r++)
        for (int way = 0; way < 4; way++)
          {
            PatternRun run = p->seams[i]->sides[side].runs[r];
            g_autoptr (Pattern) out = lengthen (
                p, run.piece, run.edge, way & 1 ? 9 : -4, (way & 2) != 0);
            guint steps;
            g_autoptr (Pattern) mended
                = mend_all (g_steal_pointer (&out), &steps);
            g_autoptr (SewingFacts) facts = sewing_facts_new ();
            g_autoptr (GPtrArray) left = sewing_checks_run (facts, mended);
            const SewingFinding *stuck = first_length (left, FALSE);
            if (stuck != NULL)
              g_test_message ("%u %u: left: %s", run.piece, run.edge,
                              stuck->text);
          }
}

/* Each of the other ways to mend the collar does it, too, and puts nothing else
 * out. */
static void
test_other_ways (void)
{
  g_autoptr (Pattern) p = cape ();
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  const SewingFinding *finding = first_length (findings, TRUE);
  g_assert_cmpuint (finding->n_others, >=, 1);
  for (guint i = 0; i < finding->n_others; i++)
    {
      GError *error = NULL;
      g_autoptr (Pattern) mended
          = drafting_mend (p, &finding->others[i], &error);
      g_assert_no_error (error);
      g_autoptr (GPtrArray) after = sewing_checks_run (facts, mended);
      for (guint k = 0; k < after->len; k++)
        g_test_message ("%s | %s", finding->others[i].label,
                        ((const SewingFinding *)after->pdata[k])->text);
      g_assert_cmpuint (after->len, ==, findings->len - 1);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mend-cape/front-neck", test_front_neck);
  g_test_add_func ("/mend-cape/facing-follows", test_facing_follows);
  g_test_add_func ("/mend-cape/band-follows", test_band_follows);
  g_test_add_func ("/mend-cape/fold-stays", test_fold_stays);
  g_test_add_func ("/mend-cape/any-edge", test_any_edge);
  g_test_add_func ("/mend-cape/other-ways", test_other_ways);
  return g_test_run ();
}
