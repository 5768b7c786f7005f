/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be seen on one seam: lengths, allowances, notches, dart legs. */
#include "sewing/checks-private.h"

#include <glib/gi18n.h>

/* Runs of the two sides that face each other over less than this only touch
 * at a joint. */
#define LEAST_FACING 1.0

static SewingFinding *
add (SewingCheckRun *run, SewingCheck check, SewingWeight weight,
     const SewingSeam *seam, char *key, char *text, int side, double at,
     double amount)
{
  SewingFinding *finding
      = sewing_finding_add (run, check, weight, key, text,
                            sewing_seam_point (seam, side, at), amount);
  finding->seam = seam->seam->id;
  const PatternSide *runs = &seam->seam->sides[side];
  guint r = 0;
  while (r + 1 < runs->n_runs && at > seam->joints[side][r + 1])
    r++;
  finding->piece = runs->runs[r].piece;
  finding->edge = runs->runs[r].edge;
  return finding;
}

/* --- lengths ----------------------------------------------------------------- */

/* The side with the fewer runs is the one to speak of and to alter: a collar
 * is made to fit its neckline. Of two equals it is B. */
static int
side_to_alter (const PatternSeam *seam)
{
  return seam->sides[0].n_runs < seam->sides[1].n_runs ? 0 : 1;
}

/* "the single notch on the front's panel seam"; mark 0 is the seam's start. */
static char *
mark_words (const SewingCheckRun *run, const SewingSeam *seam, guint mark,
            int side)
{
  if (mark == 0)
    return g_strdup (_ ("the seam's start"));
  if (mark == seam->n_intervals)
    return g_strdup (_ ("the seam's end"));
  const SewingInterval *interval = &seam->intervals[mark - 1];
  guint notch_id = side == 0 ? interval->a_notch : interval->b_notch;
  const PatternSide *runs = &seam->seam->sides[side];
  for (guint r = 0; notch_id != 0 && r < runs->n_runs; r++)
    {
      const PatternPiece *piece
          = pattern_get_piece (run->pattern, runs->runs[r].piece);
      const PatternNotch *notch = pattern_piece_get_notch (piece, notch_id);
      if (notch == NULL)
        continue;
      g_autofree char *edge = sewing_words_edge_of (
          run->pattern, runs->runs[r].piece, notch->edge);
      return g_strdup_printf (_ ("the %s on %s"),
                              sewing_words_notch (notch->count), edge);
    }
  g_autofree char *whole = sewing_words_side (run->pattern, seam->seam, side);
  return g_strdup_printf (_ ("the joint in %s"), whole);
}

/* Some ease is meant for the seam as a whole, without saying where. */
static gboolean
is_spread (const SewingSeam *seam)
{
  return seam->seam->ease != 0;
}

static double
interval_out (const SewingSeam *seam, guint i)
{
  return seam->intervals[i].difference - seam->intervals[i].meant;
}

/* The interval that is out most, the way the whole seam is. */
static guint
worst_interval (const SewingSeam *seam)
{
  double way = seam->out < 0 ? -1 : 1;
  guint worst = 0;
  for (guint i = 1; i < seam->n_intervals; i++)
    if (way * interval_out (seam, i) > way * interval_out (seam, worst))
      worst = i;
  return worst;
}

/* It is more than half of what the whole seam is out by, and nothing elsewhere
 * makes up for a part of it. */
static gboolean
is_most_of_it (const SewingCheckRun *run, const SewingSeam *seam, guint worst)
{
  double share = interval_out (seam, worst) * (seam->out < 0 ? -1 : 1);
  double whole = fabs (seam->out);
  return share > whole / 2
         && (share < whole || !sewing_check_is_out (run, share - whole));
}

/* "The collar's neck edge is 2.4 mm shorter than the neckline it is sewn to." */
static char *
length_text (const SewingCheckRun *run, const SewingSeam *seam)
{
  const PatternSeam *s = seam->seam;
  int side = side_to_alter (s);
  double longer = side == 0 ? seam->ease : -seam->ease; /* of that side */
  double meant = side == 0 ? seam->meant : -seam->meant;
  g_autofree char *own = sewing_words_side (run->pattern, s, side);
  g_autofree char *other = sewing_words_side (run->pattern, s, 1 - side);
  g_autofree char *amount = sewing_words_amount (run->pattern, longer);
  gboolean several = s->sides[side].n_runs > 1;
  g_autofree char *first
      = several
            ? g_strdup_printf (longer >= 0
                                   ? _ ("%s together are %s longer than %s.")
                                   : _ ("%s together are %s shorter than %s."),
                               own, amount, other)
            : g_strdup_printf (
                longer >= 0 ? _ ("%s is %s longer than %s it is sewn to.")
                            : _ ("%s is %s shorter than %s it is sewn "
                                 "to."),
                own, amount, other);
  if (meant == 0)
    return g_steal_pointer (&first);
  g_autofree char *ease = sewing_words_amount (run->pattern, meant);
  g_autofree char *out = sewing_words_amount (run->pattern, seam->out);
  const char *rest
      = meant > 0 ? (longer > meant
                         ? _ ("It is meant to be eased in by %s: %s too long.")
                         : _ ("It is meant to be eased in by %s: %s too "
                              "short."))
                  : (longer > meant
                         ? _ ("It is meant to be %s shorter: %s too long.")
                         : _ ("It is meant to be %s shorter: %s too short."));
  g_autofree char *second = g_strdup_printf (rest, ease, out);
  return g_strdup_printf ("%s %s", first, second);
}

static void
check_length (SewingCheckRun *run, const SewingSeam *seam)
{
  char *text = length_text (run, seam);
  guint worst = worst_interval (seam);
  if (seam->n_intervals > 1 && !is_spread (seam)
      && is_most_of_it (run, seam, worst))
    {
      g_autofree char *from = mark_words (run, seam, worst, 0);
      g_autofree char *to = mark_words (run, seam, worst + 1, 0);
      g_autofree char *where = g_strdup_printf (
          _ ("Most of it lies between %s and %s."), from, to);
      char *both = g_strdup_printf ("%s %s", text, where);
      g_free (text);
      text = both;
    }
  int side = side_to_alter (seam->seam);
  const SewingInterval *in = &seam->intervals[worst];
  double at
      = side == 0 ? (in->a_from + in->a_to) / 2 : (in->b_from + in->b_to) / 2;
  SewingFinding *finding = add (
      run, SEWING_CHECK_SEAM_LENGTH, sewing_weigh_length (seam->out), seam,
      g_strdup_printf ("s%u", seam->seam->id), text, side, at, seam->out);
  sewing_offer_length (run, finding, seam, side, worst);
}

static void
check_dart (SewingCheckRun *run, const SewingSeam *seam)
{
  if (!sewing_check_is_out (run, seam->out))
    return;
  g_autofree char *dart = *seam->seam->name != '\0'
                              ? sewing_words_seam (seam->seam)
                              : g_strdup (_ ("the dart"));
  int longer = seam->out > 0 ? 0 : 1;
  g_autofree char *a = sewing_words_side (run->pattern, seam->seam, longer);
  g_autofree char *b = sewing_words_side (run->pattern, seam->seam, 1 - longer);
  g_autofree char *amount = sewing_words_amount (run->pattern, seam->out);
  SewingFinding *finding = add (
      run, SEWING_CHECK_DART_LEGS, sewing_weigh_length (seam->out), seam,
      g_strdup_printf ("s%u", seam->seam->id),
      g_strdup_printf (_ ("The legs of %s differ by %s: %s is longer than %s."),
                       dart, amount, a, b),
      0, seam->lengths[0] / 2, seam->out);
  sewing_offer_length (run, finding, seam, side_to_alter (seam->seam),
                       worst_interval (seam));
}

/* --- intervals --------------------------------------------------------------- */

/* Ease is not always spread evenly on purpose (a sleeve's head takes it all):
 * where some is meant, an uneven share is only worth a look. */
static SewingWeight
weigh_interval (const SewingSeam *seam, double out)
{
  return is_spread (seam) ? SEWING_LOOK : sewing_weigh_length (out);
}

static void
report_off_notch (SewingCheckRun *run, const SewingSeam *seam, guint mark)
{
  const SewingInterval *before = &seam->intervals[mark - 1];
  double out = interval_out (seam, mark - 1);
  g_autofree char *a = mark_words (run, seam, mark, 0);
  g_autofree char *b = mark_words (run, seam, mark, 1);
  g_autofree char *amount = sewing_words_amount (run->pattern, out);
  const char *text
      = !is_spread (seam)
            ? _ ("%s and %s do not face each other: as sewn they are %s apart.")
            : _ ("%s and %s do not face each other: with the ease spread "
                 "evenly they are %s apart.");
  add (run, SEWING_CHECK_NOTCH, weigh_interval (seam, out), seam,
       g_strdup_printf ("s%u:n%u:n%u", seam->seam->id, before->a_notch,
                        before->b_notch),
       g_strdup_printf (text, a, b, amount), 0, before->a_to, out);
}

/* "Between the seam's start and the single notch on ..., the sleeve's head is
 * 2.0 mm longer than the armhole. An even share of the ease would make it
 * 6.0 mm longer." */
static char *
interval_text (const SewingCheckRun *run, const SewingSeam *seam, guint i)
{
  const SewingInterval *in = &seam->intervals[i];
  g_autofree char *from = mark_words (run, seam, i, 0);
  g_autofree char *to = mark_words (run, seam, i + 1, 0);
  g_autofree char *a = sewing_words_side (run->pattern, seam->seam, 0);
  g_autofree char *b = sewing_words_side (run->pattern, seam->seam, 1);
  g_autofree char *amount = sewing_words_amount (run->pattern, in->difference);
  g_autofree char *first
      = fabs (in->difference) < CHECK_SAME_WIDTH
            ? g_strdup_printf (_ ("Between %s and %s, %s is as long as %s."),
                               from, to, a, b)
            : g_strdup_printf (
                in->difference > 0
                    ? _ ("Between %s and %s, %s is %s longer than %s.")
                    : _ ("Between %s and %s, %s is %s shorter than %s."),
                from, to, a, amount, b);
  if (in->meant == 0)
    return g_steal_pointer (&first);
  g_autofree char *share = sewing_words_amount (run->pattern, in->meant);
  g_autofree char *second = g_strdup_printf (
      is_spread (seam)
          ? (in->meant > 0
                 ? _ ("An even share of the ease would make it %s longer.")
                 : _ ("An even share of the ease would make it %s shorter."))
          : (in->meant > 0 ? _ ("There it is meant to be %s longer.")
                           : _ ("There it is meant to be %s shorter.")),
      share);
  return g_strdup_printf ("%s %s", first, second);
}

static void
report_interval (SewingCheckRun *run, const SewingSeam *seam, guint i)
{
  const SewingInterval *in = &seam->intervals[i];
  double out = interval_out (seam, i);
  add (run, SEWING_CHECK_SEAM_LENGTH, weigh_interval (seam, out), seam,
       g_strdup_printf ("s%u:n%u:n%u", seam->seam->id,
                        i > 0 ? seam->intervals[i - 1].a_notch : 0,
                        in->a_notch),
       interval_text (run, seam, i), 0, (in->a_from + in->a_to) / 2, out);
}

static gboolean
has_notches (const SewingSeam *seam)
{
  for (guint i = 0; i < seam->n_intervals; i++)
    if (seam->intervals[i].a_notch != 0 || seam->intervals[i].b_notch != 0)
      return TRUE;
  return FALSE;
}

/* Two neighbours out by the same the other way round: the mark between them
 * is misplaced. Other intervals are told one by one, unless the whole seam is
 * out and has said so. */
static void
check_intervals (SewingCheckRun *run, const SewingSeam *seam,
                 gboolean whole_is_out)
{
  for (guint i = 0; i < seam->n_intervals; i++)
    {
      double here = interval_out (seam, i);
      if (!sewing_check_is_out (run, here))
        continue;
      if (i + 1 < seam->n_intervals
          && !sewing_check_is_out (run, here + interval_out (seam, i + 1)))
        {
          report_off_notch (run, seam, i + 1);
          i++;
        }
      else if (!whole_is_out)
        report_interval (run, seam, i);
    }
}

/* --- ease that has lost its place --------------------------------------------- */

/* A notch was unmarked, or its partner was. */
static void
check_spans (SewingCheckRun *run, const SewingSeam *seam)
{
  for (guint i = 0; i < seam->n_spans; i++)
    {
      const PatternEaseSpan *span = seam->spans[i].span;
      if (!seam->spans[i].lost)
        continue;
      g_autofree char *name = sewing_words_seam (seam->seam);
      g_autofree char *amount
          = span->per_cent
                ? g_strdup_printf (_ ("%.1f %%"), fabs (span->amount))
                : sewing_words_amount (run->pattern, span->amount);
      SewingFinding *finding = add (
          run, SEWING_CHECK_EASE, SEWING_MEND, seam,
          g_strdup_printf ("s%u:n%u:n%u", seam->seam->id, span->from, span->to),
          g_strdup_printf (
              _ ("In %s ease of %s is meant between two marks, but one "
                 "of the notches is gone or has no partner, so it "
                 "counts for nothing. Mark the notch on both sides, or "
                 "take that ease away."),
              name, amount),
          0, seam->lengths[0] / 2, span->amount);
      sewing_finding_set_remedy (
          finding, SEWING_REMEDY_SPAN, 0, 0, span->amount,
          g_strdup_printf (_ ("Take the ease of %s away"), amount));
      finding->remedy.seam = seam->seam->id;
      finding->remedy.from = span->from;
      finding->remedy.to = span->to;
    }
}

/* --- allowances -------------------------------------------------------------- */

static void
report_allowance (SewingCheckRun *run, const SewingSeam *seam,
                  const PatternRun *a, const PatternRun *b, double at)
{
  const PatternPiece *pieces[2];
  const PatternEdge *edges[2];
  edges[0] = pattern_get_edge (run->pattern, a->piece, a->edge, &pieces[0]);
  edges[1] = pattern_get_edge (run->pattern, b->piece, b->edge, &pieces[1]);
  double widths[2]
      = { pattern_edge_width (edges[0]), pattern_edge_width (edges[1]) };
  g_autofree char *name_a
      = sewing_words_edge_of (run->pattern, a->piece, a->edge);
  g_autofree char *name_b
      = sewing_words_edge_of (run->pattern, b->piece, b->edge);
  g_autofree char *length_a = NULL, *length_b = NULL;
  sewing_words_two_lengths (run->pattern, widths[0], widths[1], &length_a,
                            &length_b);
  const char *name[2] = { name_a, name_b };
  const char *length[2] = { length_a, length_b };
  /* B is to follow A, unless it is A that has none. */
  int alter = widths[0] == 0 ? 0 : 1;
  char *text;
  if (widths[alter] == 0)
    text = g_strdup_printf (_ ("%s has no allowance, but %s, which it is sewn "
                               "to, has %s."),
                            name[alter], name[1 - alter], length[1 - alter]);
  else
    text = g_strdup_printf (_ ("%s has an allowance of %s, but %s, which it is "
                               "sewn to, has %s: the cut edges will not "
                               "match."),
                            name[alter], length[alter], name[1 - alter],
                            length[1 - alter]);
  SewingFinding *finding
      = add (run, SEWING_CHECK_SEAM_ALLOWANCE, SEWING_MEND, seam,
             g_strdup_printf ("s%u:e%u:e%u", seam->seam->id, a->edge, b->edge),
             text, 0, at, widths[0] - widths[1]);
  finding->piece = pieces[alter]->id;
  finding->edge = edges[alter]->id;
  PatternEdgeKind kind = edges[alter]->kind;
  if (kind == PATTERN_EDGE_SEAM || kind == PATTERN_EDGE_HEM)
    sewing_finding_set_remedy (
        finding, SEWING_REMEDY_ALLOWANCE, pieces[alter]->id, edges[alter]->id,
        widths[1 - alter],
        g_strdup_printf (_ ("Set the allowance of %s to %s"), name[alter],
                         length[1 - alter]));
}

/* Where run i of A faces run j of B as sewn; FALSE where it does not. Places on B are
 * brought to A's lengths by the share of the seam, which is near enough to tell which
 * runs face each other. */
static gboolean
runs_face (const SewingSeam *seam, guint i, guint j, double *at)
{
  double scale = seam->lengths[1] > 0 ? seam->lengths[0] / seam->lengths[1] : 0;
  double from = fmax (seam->joints[0][i], seam->joints[1][j] * scale);
  double to = fmin (seam->joints[0][i + 1], seam->joints[1][j + 1] * scale);
  *at = (from + to) / 2;
  return to - from >= LEAST_FACING;
}

static double
run_width (const Pattern *pattern, const PatternRun *run)
{
  return pattern_edge_width (
      pattern_get_edge (pattern, run->piece, run->edge, NULL));
}

gboolean
sewing_seam_allowances_match (const Pattern *pattern, const SewingSeam *seam)
{
  const PatternSide *sides = seam->seam->sides;
  double at;
  for (guint j = 0; j < sides[1].n_runs; j++)
    for (guint i = 0; i < sides[0].n_runs; i++)
      if (runs_face (seam, i, j, &at)
          && fabs (run_width (pattern, &sides[0].runs[i])
                   - run_width (pattern, &sides[1].runs[j]))
                 > CHECK_SAME_WIDTH)
        return FALSE;
  return TRUE;
}

/* Every run against every run that faces it as sewn. A run of B that differs from several of A in the same
 * way is told once. */
static void
check_allowances (SewingCheckRun *run, const SewingSeam *seam)
{
  const PatternSide *sides = seam->seam->sides;
  for (guint j = 0; j < sides[1].n_runs; j++)
    {
      double told = -1;
      for (guint i = 0; i < sides[0].n_runs; i++)
        {
          double at;
          if (!runs_face (seam, i, j, &at))
            continue;
          const PatternRun *a = &sides[0].runs[i], *b = &sides[1].runs[j];
          double wa = run_width (run->pattern, a);
          double wb = run_width (run->pattern, b);
          if (fabs (wa - wb) <= CHECK_SAME_WIDTH || wa == told)
            continue;
          report_allowance (run, seam, a, b, at);
          told = wa;
        }
    }
}

/* --- notches ----------------------------------------------------------------- */

static gboolean
is_loose_in (const SewingSeam *seam, guint notch)
{
  for (guint i = 0; i < seam->n_loose; i++)
    if (seam->loose[i].notch == notch)
      return TRUE;
  return FALSE;
}

/* An edge may be in several seams (a shell's neckline, a collar between, a
 * facing over it); its notch needs a partner in one of them, and one that has
 * none is told with the first. */
static gboolean
is_told_here (const SewingCheckRun *run, const SewingSeam *seam,
              const PatternNotch *notch, guint piece)
{
  for (guint n = 0;; n++)
    {
      const PatternSeam *other
          = pattern_edge_seam (run->pattern, piece, notch->edge, n, NULL, NULL);
      if (other == NULL)
        return TRUE;
      if (n == 0 && other != seam->seam)
        return FALSE;
      const SewingSeam *facts
          = sewing_facts_seam (run->facts, run->pattern, other);
      if (facts != NULL && !is_loose_in (facts, notch->id))
        return FALSE;
    }
}

static void
check_notches (SewingCheckRun *run, const SewingSeam *seam)
{
  for (guint i = 0; i < seam->n_loose; i++)
    {
      const SewingLooseNotch *loose = &seam->loose[i];
      const PatternPiece *piece
          = pattern_get_piece (run->pattern, loose->piece);
      const PatternNotch *notch = pattern_piece_get_notch (piece, loose->notch);
      if (notch == NULL || !is_told_here (run, seam, notch, loose->piece))
        continue;
      g_autofree char *own
          = sewing_words_edge_of (run->pattern, loose->piece, notch->edge);
      g_autofree char *other
          = sewing_words_side (run->pattern, seam->seam, 1 - loose->side);
      const char *strokes = sewing_words_notch (notch->count);
      SewingFinding *finding
          = add (run, SEWING_CHECK_NOTCH, SEWING_LOOK, seam,
                 g_strdup_printf ("p%u:n%u", loose->piece, loose->notch),
                 g_strdup_printf (_ ("The %s on %s has no partner on %s."),
                                  strokes, own, other),
                 loose->side, loose->at, 0);
      finding->piece = loose->piece;
      finding->edge = notch->edge;
      sewing_finding_set_remedy (
          finding, SEWING_REMEDY_NOTCH, loose->piece, notch->edge, loose->at,
          g_strdup_printf (_ ("Strike the %s across to %s"), strokes, other));
      finding->remedy.seam = seam->seam->id;
      finding->remedy.notch = loose->notch;
    }
}

void
sewing_check_seam (SewingCheckRun *run, const PatternSeam *s)
{
  const SewingSeam *seam = sewing_facts_seam (run->facts, run->pattern, s);
  if (seam == NULL)
    return;
  if (s->join == PATTERN_JOIN_DART)
    check_dart (run, seam);
  else
    {
      gboolean whole_is_out = sewing_check_is_out (run, seam->out);
      if (whole_is_out)
        check_length (run, seam);
      /* Turn of cloth lies where the edge turns, not evenly; notches would
         tell how much of it goes where. */
      if (s->press != PATTERN_PRESS_TURNED || s->ease == 0
          || has_notches (seam))
        check_intervals (run, seam, whole_is_out);
      check_spans (run, seam);
      check_allowances (run, seam);
    }
  check_notches (run, seam);
}
