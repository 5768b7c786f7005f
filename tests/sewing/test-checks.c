/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every check with a pattern that has the fault and one that has not. */
#include "builder.h"
#include "sewing/checks.h"

/* The findings as "word/weight", in their order. */
static void
expect_of (const Pattern *p, const char *expected)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  g_autoptr (GString) found = g_string_new (NULL);
  g_autoptr (GHashTable) keys = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = findings->pdata[i];
      g_test_message ("%s: %s (%g)", f->key, f->text, f->amount);
      g_string_append_printf (found, "%s%s/%s", i > 0 ? " " : "",
                              sewing_check_word (f->check),
                              f->weight == SEWING_MEND ? "mend" : "look");
      g_assert_true (g_hash_table_add (keys, f->key)); /* keys are unique */
      g_assert_true (isfinite (f->at.x) && isfinite (f->at.y));
      g_assert_true (f->remedy.kind == SEWING_REMEDY_NONE
                     || f->remedy.label != NULL);
    }
  g_assert_cmpstr (found->str, ==, expected);
}

static void
expect (const char *text, const char *expected)
{
  g_autoptr (Pattern) p = builder_read (text);
  expect_of (p, expected);
}

static void
expect_change (const char *line, const char *by, const char *expected)
{
  g_autofree char *text = builder_change (builder_skirt, line, by);
  expect (text, expected);
}

/* The first finding of a text, kept with what it borrows from. */
typedef struct
{
  Pattern *pattern;
  SewingFacts *facts;
  GPtrArray *findings;
  const SewingFinding *first;
} Found;

static Found
first_of (const char *text)
{
  Found found
      = { .pattern = builder_read (text), .facts = sewing_facts_new () };
  found.findings = sewing_checks_run (found.facts, found.pattern);
  g_assert_cmpuint (found.findings->len, >, 0);
  found.first = found.findings->pdata[0];
  return found;
}

static void
found_clear (Found *found)
{
  g_ptr_array_unref (found->findings);
  sewing_facts_free (found->facts);
  pattern_unref (found->pattern);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Found, found_clear)

/* Waistband of that length instead of 400. */
static char *
with_band (const char *length)
{
  g_autofree char *top = g_strdup_printf ("line %s 400", length);
  g_autofree char *low = g_strdup_printf ("line %s 440", length);
  g_autofree char *text = builder_change (builder_skirt, "line 400 400", top);
  return builder_change (text, "line 400 440", low);
}

/* --- nothing wrong -------------------------------------------------------------- */

static void
test_sound (void)
{
  expect (builder_skirt, "");
  g_autoptr (Pattern) empty = pattern_new ("empty");
  expect_of (empty, "");
}

/* Turned and moved anywhere it is as sound as before: rounding alone finds
 * nothing, nor does what lies in the middle of the tolerance. */
static void
test_turned (void)
{
  for (int run = 0; run < 50; run++)
    {
      g_autoptr (Pattern) p = builder_read (builder_skirt);
      for (guint i = 0; i < p->n_pieces; i++)
        {
          double a = g_test_rand_double_range (-G_PI, G_PI);
          GeoMotion m = { .c = cos (a),
                          .s = sin (a),
                          .dx = g_test_rand_double_range (-9e3, 9e3),
                          .dy = g_test_rand_double_range (-9e3, 9e3),
                          .flip = g_test_rand_bit () };
          PatternPiece *piece = pattern_piece_dup (p->pieces[i]);
          pattern_piece_move (piece, m);
          if (!m.flip)
            {
              pattern_put_piece (p, piece);
              continue;
            }
          /* The outline was turned round, and with it the walks along it. */
          pattern_put_piece (p, piece);
          for (guint s = 0; s < p->n_seams; s++)
            {
              PatternSeam *seam = pattern_seam_dup (p->seams[s]);
              for (int side = 0; side < 2; side++)
                for (guint r = 0; r < seam->sides[side].n_runs; r++)
                  if (seam->sides[side].runs[r].piece == piece->id)
                    seam->sides[side].runs[r].reversed ^= TRUE;
              pattern_put_seam (p, seam);
            }
        }
      expect_of (p, "");
    }
}

/* --- lengths ---------------------------------------------------------------------- */

static void
test_length (void)
{
  g_autofree char *text = with_band ("397.6");
  expect (text, "seam-length/mend");
  g_auto (Found) found = first_of (text);
  g_assert_cmpstr (
      found.first->text, ==,
      "The waistband's lower edge is 2.4 mm shorter than the waist it is sewn "
      "to. Most of it lies between the single notch on the front's waist and "
      "the seam's end.");
  g_assert_cmpfloat_with_epsilon (found.first->amount, 2.4, 1e-6);
  g_assert_cmpuint (found.first->piece, ==,
                    builder_piece (found.pattern, "waistband")->id);
  const SewingRemedy *remedy = &found.first->remedy;
  g_assert_cmpint (remedy->kind, ==, SEWING_REMEDY_LENGTH);
  g_assert_cmpfloat_with_epsilon (remedy->amount, 400, 1e-6);
  g_assert_cmpstr (remedy->label, ==,
                   "Lengthen the waistband's lower edge by 2.4 mm");
  g_assert_cmpuint (
      remedy->edge, ==,
      builder_edge (found.pattern, "waistband", "lower edge")->id);

  g_autofree char *longer = with_band ("401");
  expect (longer, "seam-length/look");
  g_auto (Found) too_long = first_of (longer);
  g_assert_nonnull (
      strstr (too_long.first->text, "is 1.0 mm longer than the waist"));
  g_assert_cmpfloat_with_epsilon (too_long.first->remedy.amount, 400, 1e-6);
}

/* Rectangles as wide as said, 100 high, named a, b, ... */
static char *
rectangles (guint n, const double *widths, const char *seams)
{
  GString *text = g_string_new ("unit mm\n");
  for (guint i = 0; i < n; i++)
    g_string_append_printf (
        text,
        "piece %c\nat 0 0\nedge top seam 10\nline %g 0\n"
        "edge right raw 0\nline %g 100\nedge low raw 0\nline 0 100\n"
        "edge left raw 0\ngrain 50 20 50 80\ncut shell 1\n",
        'a' + (int)i, widths[i], widths[i]);
  g_string_append (text, seams);
  return g_string_free (text, FALSE);
}

/* One side is in another seam, too, and true there: it is the other that is to
 * change, though it is not the one that would be made to fit. */
static void
test_length_one_held (void)
{
  const double widths[] = { 402.4, 400, 400 };
  g_autofree char *text = rectangles (3, widths,
                                      "seam one open 0 a.top / b.top\n"
                                      "seam two open 0 b.top / c.top\n");
  expect (text, "seam-length/mend");
  g_auto (Found) found = first_of (text);
  g_assert_cmpuint (found.first->remedy.piece, ==,
                    builder_piece (found.pattern, "a")->id);
  g_assert_cmpstr (found.first->remedy.label, ==,
                   "Shorten the a's top by 2.4 mm");
  g_assert_nonnull (strstr (found.first->text,
                            "To change the b's top instead, change what it is "
                            "sewn to in the two, too."));
}

/* Both are: every change would put something out, and none is offered. */
static void
test_length_all_held (void)
{
  const double widths[] = { 402.4, 400, 400, 402.4 };
  g_autofree char *text = rectangles (4, widths,
                                      "seam one open 0 a.top / b.top\n"
                                      "seam two open 0 b.top / c.top\n"
                                      "seam three open 0 a.top / d.top\n");
  expect (text, "seam-length/mend");
  g_auto (Found) found = first_of (text);
  g_assert_cmpint (found.first->remedy.kind, ==, SEWING_REMEDY_NONE);
  g_assert_nonnull (strstr (found.first->text,
                            "No edge here can be changed by itself: it would "
                            "put the "));
}

/* Half a millimetre may differ unasked, and what the pattern says. */
static void
test_tolerance (void)
{
  g_autofree char *half = with_band ("399.5");
  expect (half, "");
  g_autofree char *more = with_band ("399.4");
  expect (more, "seam-length/look");
  g_autofree char *wide
      = builder_change (more, "unit mm", "unit mm\ntolerance 0.7");
  expect (wide, "");
}

static void
test_inches (void)
{
  g_autofree char *text = with_band ("393.65"); /* a quarter inch short */
  g_autofree char *inches = builder_change (text, "unit mm", "unit in");
  g_auto (Found) found = first_of (inches);
  g_assert_nonnull (strstr (found.first->text, "is 1/4 in shorter than"));
  g_autofree char *odd = with_band ("397.5");
  g_autofree char *odd_inches = builder_change (odd, "unit mm", "unit in");
  g_auto (Found) between = first_of (odd_inches);
  g_assert_nonnull (
      strstr (between.first->text, "is scant 1/8 in shorter than"));
}

static void
test_ease (void)
{
  static const char *const line
      = "seam waist_seam turned 0 front.waist back.waist / "
        "waistband.lower_edge~";
  g_autofree char *text = with_band ("397.6");
  g_autofree char *turned
      = builder_change (text, line,
                        "seam waist_seam turned 2.4 front.waist back.waist / "
                        "waistband.lower_edge~");
  expect (turned, "notch/look");
  g_autofree char *meant
      = builder_change (text, line,
                        "seam waist_seam open 2.4 front.waist back.waist / "
                        "waistband.lower_edge~");
  /* The first quarter takes none of it: 0.6 mm from an even share. */
  expect (meant, "notch/look");
  g_autofree char *even = builder_change (meant, "notch lower_edge 1 end 100",
                                          "notch lower_edge 1 end 99.4");
  expect (even, "");
  g_autofree char *more
      = builder_change (text, line,
                        "seam waist_seam turned 6 front.waist back.waist / "
                        "waistband.lower_edge~");
  expect (more, "seam-length/mend");
  g_auto (Found) found = first_of (more);
  g_assert_cmpstr (
      found.first->text, ==,
      "The waistband's lower edge is 2.4 mm shorter than the waist it is sewn "
      "to. It is meant to be 6.0 mm shorter: 3.6 mm too long.");
  g_assert_cmpfloat_with_epsilon (found.first->remedy.amount, 394, 1e-6);
}

/* Stretches of an eased seam are judged against an even share of the ease, and
 * an uneven one is only worth a look: it may be meant. */
static void
test_ease_by_stretch (void)
{
  /* A is 408 with marks at 102 and 204; B is 400. */
  static const struct
  {
    const char *marks, *expected, *says;
  } cases[] = {
    { "notch e 1 end 100\nnotch e 2 end 200\n", "", NULL },
    { "notch e 1 end 100.4\nnotch e 2 end 200\n", "", NULL },
    { "notch e 1 end 102\nnotch e 2 end 200\n", "notch/look",
      "with the ease spread evenly they are 2.0 mm apart." },
    /* 0, 4, 4: what the first lacks, the others share. */
    { "notch e 1 end 102\nnotch e 2 end 201\n",
      "seam-length/look seam-length/look seam-length/look",
      "Between the seam's start and the single notch on the A's e, the A's e "
      "is as long as the B's e. An even share of the ease would make "
      "it 2.0 mm longer." },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strdup_printf (
          "unit mm\npiece A\nat 0 0\nedge e seam 10\nline 408 0\n"
          "edge rest raw 0\nline 408 80\nline 0 80\nnotch e 1 start 102\n"
          "notch e 2 start 204\ngrain 20 20 20 60\ncut shell 1\n"
          "piece B\nat 0 0\nedge e seam 10\nline 400 0\nedge rest raw 0\n"
          "line 400 80\nline 0 80\n%sgrain 20 20 20 60\ncut shell 1\n"
          "seam s open 8 A.e / B.e~\n",
          cases[i].marks);
      expect (text, cases[i].expected);
      if (cases[i].says == NULL)
        continue;
      g_auto (Found) found = first_of (text);
      g_test_message ("%s", found.first->text);
      g_assert_nonnull (strstr (found.first->text, cases[i].says));
    }
}

/* --- notches ---------------------------------------------------------------------- */

static void
test_off_notch (void)
{
  expect_change ("notch lower_edge 1 end 100", "notch lower_edge 1 end 103",
                 "notch/mend");
  expect_change ("notch lower_edge 1 end 100", "notch lower_edge 1 end 101",
                 "notch/look");
  expect_change ("notch lower_edge 1 end 100", "notch lower_edge 1 end 100.5",
                 "");
  g_autofree char *text
      = builder_change (builder_skirt, "notch lower_edge 1 end 100",
                        "notch lower_edge 1 end 103");
  g_auto (Found) found = first_of (text);
  g_assert_cmpstr (found.first->text, ==,
                   "The single notch on the front's waist and the single notch "
                   "on the waistband's lower edge do not face each other: as "
                   "sewn they are 3.0 mm apart.");
}

/* Where a seam is out is only named when one stretch has most of it. Once the
 * stretch that was out most the other way round was named. */
static void
test_most_of_it (void)
{
  static const struct
  {
    const char *marks; /* on B; A has one at 100 and two at 200 of 301 mm */
    const char *where; /* or NULL */
  } cases[] = {
    /* A - B: 0, 0, 1 */
    { "notch e 1 end 100\nnotch e 2 end 200\n",
      "Most of it lies between the double notch on the A's e and the seam's "
      "end." },
    /* -3, 1.5, 2.5 */
    { "notch e 1 end 103\nnotch e 2 end 201.5\n", NULL },
    /* 0.4, 0.3, 0.3 */
    { "notch e 1 end 99.6\nnotch e 2 end 199.3\n", NULL },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strdup_printf (
          "piece A\nat 0 0\nedge e seam 10\nline 301 0\nedge rest raw 0\n"
          "line 301 80\nline 0 80\nnotch e 1 start 100\n"
          "notch e 2 start 200\ngrain 20 20 20 60\ncut shell 1\n"
          "piece B\nat 0 0\nedge e seam 10\nline 300 0\nedge rest raw 0\n"
          "line 300 80\nline 0 80\n%sgrain 20 20 20 60\ncut shell 1\n"
          "seam s open 0 A.e / B.e~\n",
          cases[i].marks);
      g_auto (Found) found = first_of (text);
      guint n = 0;
      while (((SewingFinding *)found.findings->pdata[n])->check
             != SEWING_CHECK_SEAM_LENGTH)
        g_assert_cmpuint (++n, <, found.findings->len);
      const SewingFinding *length = found.findings->pdata[n];
      const char *where = strstr (length->text, "Most of it");
      g_assert_cmpstr (where, ==, cases[i].where);
    }
}

/* Two notches moved together: the stretch between them is right, those beside
 * it are not. */
static void
test_interval (void)
{
  g_autofree char *front
      = builder_change (builder_skirt, "notch waist 1 start 100",
                        "notch waist 1 start 80\nnotch waist 2 start 140");
  g_autofree char *band = builder_change (
      front, "notch lower_edge 1 end 100",
      "notch lower_edge 1 end 83\nnotch lower_edge 2 end 143");
  expect (band, "seam-length/mend seam-length/mend");
  g_auto (Found) found = first_of (band);
  g_assert_cmpstr (found.first->text, ==,
                   "Between the seam's start and the single notch on the "
                   "front's waist, the waist is 3.0 mm shorter than the "
                   "waistband's lower edge.");
}

static void
test_loose_notch (void)
{
  expect_change ("notch side 2 end 150",
                 "notch side 2 end 150\nnotch side 3 start 40", "notch/look");
  /* Wrong strokes: neither has a partner. */
  expect_change ("notch side 2 end 150", "notch side 1 end 150",
                 "notch/look notch/look");
  g_autofree char *text
      = builder_change (builder_skirt, "notch side 2 end 150",
                        "notch side 2 end 150\nnotch side 3 start 40");
  g_auto (Found) found = first_of (text);
  g_assert_cmpstr (
      found.first->text, ==,
      "The triple notch on the back's side has no partner on the front's "
      "side.");
  const SewingRemedy *remedy = &found.first->remedy;
  g_assert_cmpint (remedy->kind, ==, SEWING_REMEDY_NOTCH);
  g_assert_cmpuint (remedy->seam, ==,
                    builder_seam (found.pattern, "side seam")->id);
  g_assert_cmpuint (remedy->piece, ==,
                    builder_piece (found.pattern, "back")->id);
  g_assert_cmpuint (remedy->notch, ==,
                    builder_piece (found.pattern, "back")->notches[1].id);
}

/* A notch needs a partner in one of the seams its edge is in, not in all. */
static void
test_notch_in_two_seams (void)
{
  g_autofree char *text = g_strconcat (
      builder_skirt,
      "piece lining\nat 0 900\nedge waist seam 10\nline 200 900\n"
      "edge rest raw 0\nline 200 950\nline 0 950\ngrain 50 910 50 940\n"
      "cut shell 1\nseam lining_seam turned 0 front.waist / lining.waist~\n",
      NULL);
  expect (text, "");
}

/* What the checks say of allowances is what the seams' state says. */
static void
expect_match (const char *text, gboolean match)
{
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  gboolean all = TRUE;
  for (guint i = 0; i < p->n_seams; i++)
    all &= sewing_seam_allowances_match (
        p, sewing_facts_seam (facts, p, p->seams[i]));
  g_assert_cmpint (all, ==, match);
}

/* --- allowances ------------------------------------------------------------------- */

static void
test_allowance (void)
{
  expect_change ("edge lower_edge seam 10", "edge lower_edge seam 6",
                 "seam-allowance/mend");
  expect_change ("edge lower_edge seam 10", "edge lower_edge seam 10.04", "");
  g_autofree char *text = builder_change (
      builder_skirt, "edge lower_edge seam 10", "edge lower_edge seam 6");
  g_auto (Found) found = first_of (text);
  g_assert_cmpstr (
      found.first->text, ==,
      "The waistband's lower edge has an allowance of 6.0 mm, but the front's "
      "waist, which it is sewn to, has 10.0 mm: the cut edges will not match.");
  expect_match (builder_skirt, TRUE);
  expect_match (text, FALSE);
  g_assert_cmpint (found.first->remedy.kind, ==, SEWING_REMEDY_ALLOWANCE);
  g_assert_cmpfloat_with_epsilon (found.first->remedy.amount, 10, 1e-9);

  /* One of two runs of the same side: only its own stretch is told. */
  g_autofree char *one
      = builder_change (builder_skirt, "at 300 0\nedge waist seam 10",
                        "at 300 0\nedge waist seam 0");
  expect (one, "seam-allowance/mend");
  expect_match (one, FALSE);
  g_auto (Found) none = first_of (one);
  g_assert_nonnull (strstr (none.first->text,
                            "The back's waist has no allowance, but the "
                            "waistband's lower edge"));
}

static const char three_panels[] = "unit mm\n"
                                   "piece one\nat 0 0\nedge top bound 0\n"
                                   "line 100 0\nedge right seam 10\n"
                                   "line 100 100\nedge hem hem 30\n"
                                   "line 0 100\nedge left bound 0\n"
                                   "grain 50 20 50 80\ncut shell 1\n"
                                   "piece two\nat 200 0\nedge top bound 0\n"
                                   "line 300 0\nedge right seam 10\n"
                                   "line 300 100\nedge low hem 40\n"
                                   "line 200 100\nedge left seam 10\n"
                                   "grain 250 20 250 80\ncut shell 1\n"
                                   "piece three\nat 400 0\nedge top bound 0\n"
                                   "line 500 0\nedge right bound 0\n"
                                   "line 500 100\nedge hem hem 40\n"
                                   "line 400 100\nedge left seam 10\n"
                                   "grain 450 20 450 80\ncut shell 1\n"
                                   "seam first open 0 one.right / two.left~\n"
                                   "seam second open 0 two.right / "
                                   "three.left~\n";

static void
test_hems (void)
{
  expect_change ("edge hem hem 40\nline 300 300",
                 "edge hem hem 30\nline 300 300", "hem-allowance/mend");
  expect_change ("edge hem hem 40\nline 300 300",
                 "edge hem hem 0\nline 300 300", "hem-allowance/mend");
  /* Of three panels the odd one is told, whichever side of its seam it is. */
  expect (three_panels, "hem-allowance/mend");
  g_auto (Found) found = first_of (three_panels);
  g_assert_cmpstr (found.first->text, ==,
                   "The one's hem has an allowance of 30.0 mm, but the two's "
                   "low, the next along the same hem line, has 40.0 mm.");
  g_assert_cmpfloat_with_epsilon (found.first->remedy.amount, 40, 1e-9);
  g_assert_cmpfloat_with_epsilon (found.first->at.x, 100, 1e-6);
  /* The one in the middle is told once. */
  g_autofree char *first
      = builder_change (three_panels, "edge hem hem 30", "edge hem hem 40");
  expect (first, "");
  g_autofree char *middle
      = builder_change (first, "edge low hem 40", "edge low hem 25");
  expect (middle, "hem-allowance/mend");
  g_auto (Found) odd = first_of (middle);
  g_assert_cmpuint (odd.first->piece, ==,
                    builder_piece (odd.pattern, "two")->id);
  g_assert_cmpfloat_with_epsilon (odd.first->at.x, 200, 1e-6);
}

static void
test_missing_hem (void)
{
  g_autofree char *raw
      = builder_change (three_panels, "edge hem hem 30", "edge low raw 0");
  expect (raw, "hem-allowance/mend");
  g_auto (Found) found = first_of (raw);
  g_assert_cmpstr (
      found.first->text, ==,
      "The one's low is no hem, but the two's low, which it runs on into, is.");
  /* Bound with tape instead: that was meant. */
  g_autofree char *bound
      = builder_change (three_panels, "edge hem hem 30", "edge low bound 0");
  g_autofree char *other
      = builder_change (bound, "edge low hem 40", "edge foot hem 40");
  expect (other, "");
}

/* --- folds and joints --------------------------------------------------------------- */

static void
test_fold (void)
{
  /* atan (7/60) = 6.65 degrees, atan (3/60) = 2.86, atan (2/60) = 1.91. */
  expect_change ("line 0 300", "curve 120 300 60 293 0 300",
                 "fold-square/mend");
  expect_change ("line 0 300", "curve 120 300 60 297 0 300",
                 "fold-square/look");
  expect_change ("line 0 300", "curve 120 300 60 298 0 300", "");
  g_autofree char *dip = builder_change (builder_skirt, "line 0 300",
                                         "curve 120 300 60 293 0 300");
  g_auto (Found) found = first_of (dip);
  g_assert_cmpstr (found.first->text, ==,
                   "The front's hem meets the fold at 83°, not "
                   "90°: opened out, the piece has a point there.");
  g_assert_cmpfloat_with_epsilon (found.first->amount,
                                  -atan (7.0 / 60) * 180 / G_PI, 1e-6);
  g_assert_cmpint (found.first->remedy.kind, ==, SEWING_REMEDY_SQUARE);
  g_assert_cmpuint (found.first->remedy.edge, ==,
                    builder_edge (found.pattern, "front", "hem")->id);
  g_assert_cmpfloat (found.first->remedy.amount, ==, 1); /* at its end */
  /* The other way round it is a dip. */
  g_autofree char *point = builder_change (builder_skirt, "line 0 300",
                                           "curve 120 300 60 307 0 300");
  g_auto (Found) other = first_of (point);
  g_assert_nonnull (strstr (other.first->text, "has a dip there"));
  /* A V neck is meant. */
  expect_change ("at 0 0\nedge waist seam 10\nline 200 0",
                 "at 0 0\nedge waist seam 10\ncurve 60 -50 130 0 200 0",
                 "seam-length/mend fold-square/look");
}

static void
test_crooked_fold (void)
{
  expect_change ("edge centre_front fold 0",
                 "edge centre_front fold 0\ncurve 10 200 10 100 0 0",
                 "fold-square/mend");
}

static void
test_smooth (void)
{
  /* atan (10/70) = 8.1 degrees, atan (5/70) = 4.1, atan (2/70) = 1.6. */
  expect_change ("line 300 300", "curve 430 300 370 310 300 300", "joint/mend");
  expect_change ("line 300 300", "curve 430 300 370 305 300 300", "joint/look");
  expect_change ("line 300 300", "curve 430 300 370 302 300 300", "");
  g_autofree char *text = builder_change (builder_skirt, "line 300 300",
                                          "curve 430 300 370 290 300 300");
  g_auto (Found) found = first_of (text);
  g_assert_cmpstr (found.first->text, ==,
                   "The front's hem does not run on smoothly into the back's "
                   "hem across the side seam: they meet at 172°, not "
                   "180°, which leaves a point there.");
  g_assert_cmpfloat_with_epsilon (found.first->at.x, 200, 1e-6);
  /* A corner of 45 degrees was drawn on purpose. */
  expect_change ("line 300 300", "curve 430 300 370 370 300 300", "joint/look");
}

/* --- darts -------------------------------------------------------------------------- */

/* The waist meets both legs at a right angle, so that it is smooth when the
 * dart is closed. Straight legs put all of its 14 degrees into the point, which is
 * told each time. */
static const char dart[] = "unit mm\npiece panel\nat 10 10\n"
                           "edge waist seam 10\nline 90 0\n"
                           "edge leg_one raw 0\nline 100 80\n"
                           "edge leg_two raw 0\nline 110 0\n"
                           "edge Waist seam 10\nline 190 10\n"
                           "edge rest raw 0\nline 190 200\nline 10 200\n"
                           "grain 50 50 50 150\ncut shell 1\n"
                           "dart waist_dart panel.leg_one / panel.leg_two~\n";

static void
test_dart (void)
{
  expect (dart, "pointed/look");
  g_autofree char *longer
      = builder_change (dart, "line 110 0", "line 110.3 -2.4");
  g_autofree char *text
      = builder_change (longer, "line 190 10", "line 190.3 7.6");
  expect (text, "dart-legs/mend pointed/look");
  g_auto (Found) found = first_of (text);
  g_assert_cmpstr (found.first->text, ==,
                   "The legs of the waist dart differ by 2.4 mm: the panel's "
                   "leg two is longer than the panel's leg one.");
  g_assert_cmpint (found.first->remedy.kind, ==, SEWING_REMEDY_LENGTH);
}

/* Straight across: closed, the waist has a dip of the dart's own angle. */
static void
test_dart_not_trued (void)
{
  g_autofree char *one = builder_change (dart, "at 10 10", "at 10 0");
  g_autofree char *two = builder_change (one, "line 190 10", "line 190 0");
  expect (two, "joint/mend pointed/look");
}

/* --- pieces -------------------------------------------------------------------------- */

static char *
scooped (const char *radius, const char *width)
{
  return g_strdup_printf ("unit mm\npiece scoop\nat %s 0\nedge top raw 0\n"
                          "line 200 0\nline 200 200\nline 0 200\nline 0 %s\n"
                          "edge armhole seam %s\narc 0 0 -90\n"
                          "grain 100 50 100 150\ncut shell 1\n",
                          radius, radius, width);
}

static void
test_hollow (void)
{
  g_autofree char *deep = scooped ("12", "15");
  expect (deep, "hollow/look");
  g_auto (Found) found = first_of (deep);
  g_assert_cmpstr (found.first->text, ==,
                   "The 15.0 mm allowance of the scoop's armhole is deeper "
                   "than the hollow it lies in, which has a radius of 12.0 mm. "
                   "The cutting line is trimmed there.");
  g_assert_cmpint (found.first->remedy.kind, ==, SEWING_REMEDY_ALLOWANCE);
  g_assert_cmpfloat (found.first->remedy.amount, <, 12);
  g_assert_cmpfloat (found.first->remedy.amount, >, 11);
  g_autofree char *fits = scooped ("12", "10");
  expect (fits, "");
}

static void
test_outline (void)
{
  expect ("piece bow\nat 0 0\nedge a seam 0\nline 100 0\nline 20 120\n"
          "line 80 120\ngrain 40 10 60 10\ncut shell 1\n",
          "outline/mend");
  expect ("piece hair\nat 0 0\nedge a seam 0\nline 100 0\ngrain 0 0 9 0\n"
          "cut shell 1\n",
          "outline/mend");
}

static void
test_grain_and_cut (void)
{
  g_autofree char *no_grain = builder_change (
      builder_skirt, "grain 100 420 300 420\ncut shell 1", "cut shell 1");
  expect (no_grain, "grain/look");
  g_autofree char *no_cut
      = builder_change (builder_skirt, "grain 100 420 300 420\ncut shell 1",
                        "grain 100 420 300 420");
  expect (no_cut, "cut/look");
  g_auto (Found) found = first_of (no_cut);
  g_assert_cmpint (found.first->remedy.kind, ==, SEWING_REMEDY_CUT);
  g_assert_cmpstr (found.first->text, ==,
                   "The waistband does not say how many are cut, and from "
                   "what.");
}

/* --- the list -------------------------------------------------------------------------- */

static void
test_set_aside (void)
{
  g_autofree char *band = with_band ("397.6");
  g_autofree char *text
      = builder_change (band, "notch side 2 end 150",
                        "notch side 2 end 150\nnotch side 3 start 40");
  expect (text, "seam-length/mend notch/look");
  g_autoptr (Pattern) p = builder_read (text);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) before = sewing_checks_run (facts, p);
  g_assert_cmpuint (sewing_checks_open (before), ==, 2);
  const SewingFinding *length = before->pdata[0];
  g_autoptr (Pattern) q = pattern_dup (p);
  pattern_put_set_aside (q, length->key, "stretched as it is sewn");
  g_autoptr (GPtrArray) after = sewing_checks_run (facts, q);
  g_assert_cmpuint (after->len, ==, 2);
  g_assert_cmpuint (sewing_checks_open (after), ==, 1);
  const SewingFinding *last = after->pdata[1];
  g_assert_cmpstr (last->key, ==, length->key);
  g_assert_true (last->set_aside);
  g_assert_cmpstr (last->note, ==, "stretched as it is sewn");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/checks/sound", test_sound);
  g_test_add_func ("/checks/turned", test_turned);
  g_test_add_func ("/checks/length", test_length);
  g_test_add_func ("/checks/length-one-held", test_length_one_held);
  g_test_add_func ("/checks/length-all-held", test_length_all_held);
  g_test_add_func ("/checks/tolerance", test_tolerance);
  g_test_add_func ("/checks/inches", test_inches);
  g_test_add_func ("/checks/ease", test_ease);
  g_test_add_func ("/checks/ease-by-stretch", test_ease_by_stretch);
  g_test_add_func ("/checks/off-notch", test_off_notch);
  g_test_add_func ("/checks/most-of-it", test_most_of_it);
  g_test_add_func ("/checks/interval", test_interval);
  g_test_add_func ("/checks/loose-notch", test_loose_notch);
  g_test_add_func ("/checks/notch-in-two-seams", test_notch_in_two_seams);
  g_test_add_func ("/checks/allowance", test_allowance);
  g_test_add_func ("/checks/hems", test_hems);
  g_test_add_func ("/checks/missing-hem", test_missing_hem);
  g_test_add_func ("/checks/fold", test_fold);
  g_test_add_func ("/checks/crooked-fold", test_crooked_fold);
  g_test_add_func ("/checks/smooth", test_smooth);
  g_test_add_func ("/checks/dart", test_dart);
  g_test_add_func ("/checks/dart-not-trued", test_dart_not_trued);
  g_test_add_func ("/checks/hollow", test_hollow);
  g_test_add_func ("/checks/outline", test_outline);
  g_test_add_func ("/checks/grain-and-cut", test_grain_and_cut);
  g_test_add_func ("/checks/set-aside", test_set_aside);
  return g_test_run ();
}
