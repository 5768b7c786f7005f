/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ease meant between two marks: where it goes, and what is said of it. */
#include <math.h>

#include "builder.h"
#include "drafting/edit.h"

#define assert_near(a, b, within)                                              \
  g_assert_cmpfloat (fabs ((a) - (b)), <=, (within))

/* A band of 200 and one of 206 whose middle, from 50 to 150, is 6 longer. */
static const char *const bands
    = "unit mm\ncloth wool 0.06\npiece top\nat 0 0\nedge seam seam 10\nline "
      "206 0\n"
      "edge rest raw 0\nline 206 80\nline 0 80\nnotch seam 1 start 50\n"
      "notch seam 1 end 50\ngrain 50 20 50 60\ncut wool 1\n"
      "piece base\nat 300 0\nedge seam seam 10\nline 500 0\n"
      "edge rest raw 0\nline 500 80\nline 300 80\nnotch seam 1 start 50\n"
      "notch seam 1 end 50\ngrain 350 20 350 60\ncut wool 1\n"
      "seam bands open 0 top.seam / base.seam\n";

typedef struct
{
  Pattern *p;
  SewingFacts *facts;
  const SewingSeam *seam;
  GPtrArray *findings;
} Read;

static Read
read_with (const char *more)
{
  g_autofree char *text = g_strconcat (bands, more, NULL);
  Read r = { .p = builder_read (text), .facts = sewing_facts_new () };
  r.seam = sewing_facts_seam (r.facts, r.p, builder_seam (r.p, "bands"));
  r.findings = sewing_checks_run (r.facts, r.p);
  return r;
}

static void
done (Read *r)
{
  g_ptr_array_unref (r->findings);
  sewing_facts_free (r->facts);
  pattern_unref (r->p);
}

static guint
count (const Read *r, SewingCheck check)
{
  guint n = 0;
  for (guint i = 0; i < r->findings->len; i++)
    n += ((const SewingFinding *)r->findings->pdata[i])->check == check;
  return n;
}

/* 6 mm of 100 between the notches, and nowhere else. */
static void
test_between (void)
{
  Read r = read_with ("ease bands top.1 top.2 6\n");
  g_assert_cmpuint (r.seam->n_intervals, ==, 3);
  g_assert_cmpuint (r.seam->n_spans, ==, 1);
  g_assert_false (r.seam->spans[0].lost);
  assert_near (r.seam->spans[0].ease, 6, 1e-9);
  assert_near (r.seam->spans[0].b_from, 50, 1e-9);
  assert_near (r.seam->spans[0].a_to, 156, 1e-9);
  assert_near (r.seam->intervals[0].meant, 0, 1e-9);
  assert_near (r.seam->intervals[1].meant, 6, 1e-9);
  assert_near (r.seam->intervals[2].meant, 0, 1e-9);
  assert_near (r.seam->meant, 6, 1e-9);
  assert_near (r.seam->out, 0, 1e-9);
  g_assert_cmpuint (r.findings->len, ==, 0);
  done (&r);
}

/* The other side's notches name the same marks; 6 per cent of 100 is 6. */
static void
test_per_cent (void)
{
  Read r = read_with ("ease bands base.1 top.2 6%\n");
  assert_near (r.seam->spans[0].ease, 6, 1e-9);
  assert_near (r.seam->meant, 6, 1e-9);
  g_assert_cmpuint (r.findings->len, ==, 0);
  done (&r);
  /* Negative: B is to be the longer; per cent of A, the shorter then. */
  r = read_with ("ease bands top.1 top.2 -5%\n");
  assert_near (r.seam->spans[0].ease, -5, 1e-9);
  assert_near (r.seam->out, 11, 1e-9);
  done (&r);
}

/* Over several intervals, and beside what is meant for the whole: shared out by
 * the length of the side that is not eased in. */
static void
test_shared (void)
{
  Read r = read_with ("ease bands - top.2 6\nease bands - - 1%\n");
  assert_near (r.seam->intervals[0].meant, 2 + 0.5, 1e-9);
  assert_near (r.seam->intervals[1].meant, 4 + 1, 1e-9);
  assert_near (r.seam->intervals[2].meant, 0.5, 1e-9);
  assert_near (r.seam->meant, 8, 1e-9);
  /* Out in all, and said once. */
  g_assert_cmpuint (count (&r, SEWING_CHECK_SEAM_LENGTH), >=, 1);
  done (&r);
}

/* What is meant elsewhere is told where it is missing and where it is too much,
 * although the seam as a whole is as meant. */
static void
test_misplaced (void)
{
  Read r = read_with ("ease bands top.2 - 6\n");
  assert_near (r.seam->out, 0, 1e-9);
  g_assert_cmpuint (count (&r, SEWING_CHECK_NOTCH), ==, 1);
  const SewingFinding *finding = r.findings->pdata[0];
  g_assert_cmpint (finding->weight, ==, SEWING_MEND);
  assert_near (fabs (finding->amount), 6, 1e-9);
  done (&r);
  r = read_with ("ease bands top.1 top.2 3\n");
  g_assert_cmpuint (count (&r, SEWING_CHECK_SEAM_LENGTH), ==, 1);
  finding = r.findings->pdata[0];
  g_assert_nonnull (strstr (finding->text, "meant to be"));
  assert_near (finding->amount, 3, 1e-9);
  done (&r);
}

/* Too much for a cotton of 2 % give between the notches, though it would pass
 * over the whole. */
static void
test_limit (void)
{
  Read r = read_with ("ease bands top.1 top.2 6\n");
  g_assert_cmpuint (count (&r, SEWING_CHECK_EASE), ==, 0);
  done (&r);
  g_autoptr (GString) text = g_string_new (bands);
  g_string_append (text, "ease bands top.1 top.2 6\n");
  g_string_replace (text, "unit mm", "unit mm\ncloth firm 0.02", 1);
  g_string_replace (text, "cut wool", "cut firm", 0);
  g_autoptr (Pattern) p = builder_read (text->str);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  g_assert_cmpuint (findings->len, ==, 1);
  const SewingFinding *finding = findings->pdata[0];
  g_assert_cmpint (finding->check, ==, SEWING_CHECK_EASE);
}

/* A notch unmarked: the span counts for nothing, is told, and can be taken
 * away. */
static void
test_lost (void)
{
  Read r = read_with ("ease bands top.1 top.2 6\n");
  const PatternPiece *top = builder_piece (r.p, "top");
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) without
      = drafting_remove_mark (r.p, top->id, top->notches[1].id, &error);
  g_assert_no_error (error);
  const PatternSeam *own = builder_seam (without, "bands");
  g_assert_cmpuint (own->n_spans, ==, 1);
  const SewingSeam *seam = sewing_facts_seam (r.facts, without, own);
  g_assert_true (seam->spans[0].lost);
  assert_near (seam->meant, 0, 1e-9);
  g_autoptr (GPtrArray) findings = sewing_checks_run (r.facts, without);
  const SewingFinding *told = NULL;
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = findings->pdata[i];
      if (f->remedy.kind == SEWING_REMEDY_SPAN)
        told = f;
    }
  g_assert_nonnull (told);
  g_autoptr (Pattern) mended = drafting_mend (without, &told->remedy, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (builder_seam (mended, "bands")->n_spans, ==, 0);
  done (&r);
}

static void
test_verbs (void)
{
  Read r = read_with ("");
  guint seam = builder_seam (r.p, "bands")->id;
  const PatternNotch *notches = builder_piece (r.p, "top")->notches;
  g_autoptr (GError) error = NULL;
  PatternEaseSpan span = { notches[0].id, notches[1].id, 6, FALSE };
  g_autoptr (Pattern) with = drafting_set_ease_span (r.p, seam, span, &error);
  g_assert_no_error (error);
  g_assert_false (pattern_equal (with, r.p));
  span.amount = 4;
  span.per_cent = TRUE;
  g_autoptr (Pattern) other = drafting_set_ease_span (with, seam, span, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (builder_seam (other, "bands")->n_spans, ==, 1);
  g_assert_true (builder_seam (other, "bands")->spans[0].per_cent);
  g_autoptr (Pattern) off
      = drafting_remove_ease_span (other, seam, span.from, span.to, &error);
  g_assert_no_error (error);
  g_assert_true (pattern_equal (off, r.p));
  g_assert_null (
      drafting_remove_ease_span (off, seam, span.from, span.to, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  span.from = span.to;
  g_assert_null (drafting_set_ease_span (r.p, seam, span, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE);
  g_clear_error (&error);
  span.from = 12345;
  g_assert_null (drafting_set_ease_span (r.p, seam, span, &error));
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_GONE);
  g_clear_error (&error);
  span.from = 0;
  span.amount = NAN;
  g_assert_null (drafting_set_ease_span (r.p, seam, span, &error));
  g_assert_nonnull (error);
  done (&r);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/spans/between", test_between);
  g_test_add_func ("/spans/per-cent", test_per_cent);
  g_test_add_func ("/spans/shared", test_shared);
  g_test_add_func ("/spans/misplaced", test_misplaced);
  g_test_add_func ("/spans/limit", test_limit);
  g_test_add_func ("/spans/lost", test_lost);
  g_test_add_func ("/spans/verbs", test_verbs);
  return g_test_run ();
}
