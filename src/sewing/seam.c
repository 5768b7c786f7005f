/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts of one seam: its sides as chains, and the interval table. */
#include "sewing/facts-private.h"
#include "sewing/match.h"

#define LENGTH_TOLERANCE 1e-7
/* A notch this near to a joint or a seam's end is at it. */
#define AT_JOINT 0.05

/* --- entries --------------------------------------------------------------- */

guint
sewing_seam_entry_hash (gconstpointer data)
{
  const SewingSeamEntry *entry = data;
  guint hash = g_direct_hash (entry->seam);
  for (guint i = 0; i < entry->n_pieces; i++)
    hash = hash * 33 + g_direct_hash (entry->pieces[i]);
  return hash;
}

gboolean
sewing_seam_entry_equal (gconstpointer a, gconstpointer b)
{
  const SewingSeamEntry *x = a, *y = b;
  if (x->seam != y->seam || x->n_pieces != y->n_pieces)
    return FALSE;
  for (guint i = 0; i < x->n_pieces; i++)
    if (x->pieces[i] != y->pieces[i])
      return FALSE;
  return TRUE;
}

static guint
count_runs (const PatternSeam *seam)
{
  return seam->sides[0].n_runs + seam->sides[1].n_runs;
}

/* FALSE where a run points nowhere. */
static gboolean
find_pieces (const Pattern *pattern, const PatternSeam *seam,
             const PatternPiece **pieces)
{
  guint n = 0;
  for (int side = 0; side < 2; side++)
    for (guint r = 0; r < seam->sides[side].n_runs; r++)
      {
        const PatternRun *run = &seam->sides[side].runs[r];
        if (pattern_get_edge (pattern, run->piece, run->edge, &pieces[n])
            == NULL)
          return FALSE;
        n++;
      }
  return TRUE;
}

gboolean
sewing_seam_entry_is_of (const SewingSeamEntry *entry, const Pattern *pattern)
{
  g_autofree const PatternPiece **pieces
      = g_new (const PatternPiece *, entry->n_pieces);
  if (!find_pieces (pattern, entry->seam, pieces))
    return FALSE;
  for (guint i = 0; i < entry->n_pieces; i++)
    if (pieces[i] != entry->pieces[i])
      return FALSE;
  return TRUE;
}

static void
plan_free (gpointer data)
{
  SewingPlan *plan = data;
  geo_clip_plan_clear (&plan->plan);
  g_free (plan->gives);
  g_free (plan);
}

void
sewing_seam_entry_free (SewingSeamEntry *entry)
{
  SewingSeam *seam = &entry->facts;
  for (int side = 0; side < 2; side++)
    {
      geo_ruler_clear (&seam->rulers[side]);
      geo_chain_clear (&seam->chains[side]);
      g_free (seam->joints[side]);
      g_free (entry->marks[side]);
    }
  g_free (seam->intervals);
  g_free (seam->loose);
  g_free (seam->spans);
  g_ptr_array_unref (entry->plans);
  sewing_shaping_free (entry->shaping);
  for (guint i = 0; i < entry->n_pieces; i++)
    pattern_piece_unref ((PatternPiece *)entry->pieces[i]);
  g_free (entry->pieces);
  pattern_seam_unref ((PatternSeam *)entry->seam);
  g_free (entry);
}

/* --- sides ----------------------------------------------------------------- */

static void
lay_side (SewingFacts *facts, SewingSeamEntry *entry, int side,
          const PatternPiece *const *pieces)
{
  SewingSeam *seam = &entry->facts;
  const PatternSide *from = &entry->seam->sides[side];
  GeoChain *chain = &seam->chains[side];
  geo_chain_init (chain);
  seam->joints[side] = g_new0 (double, from->n_runs + 1);
  for (guint r = 0; r < from->n_runs; r++)
    {
      const PatternRun *run = &from->runs[r];
      const SewingPiece *piece = sewing_facts_piece (facts, pieces[r]);
      int edge = pattern_piece_find_edge (pieces[r], run->edge);
      GeoChain stretch = GEO_CHAIN_EMPTY;
      geo_chain_copy (&stretch, &piece->stitch[edge]);
      if (run->reversed)
        geo_chain_reverse (&stretch);
      for (size_t i = 0; i < stretch.count; i++)
        {
          geo_chain_append (chain, stretch.cubics[i]);
          /* Appending ties ends together; here each run stays where it lies. */
          chain->cubics[chain->count - 1] = stretch.cubics[i];
        }
      geo_chain_clear (&stretch);
      seam->joints[side][r + 1] = seam->joints[side][r] + piece->lengths[edge];
    }
  geo_ruler_init (&seam->rulers[side], chain, LENGTH_TOLERANCE);
  seam->lengths[side] = seam->joints[side][from->n_runs];
  seam->inside[side] = from->runs[0].reversed ? -1 : 1;
}

static int
compare_marks (gconstpointer a, gconstpointer b)
{
  const SewingMark *x = a, *y = b;
  if (x->at != y->at)
    return x->at < y->at ? -1 : 1;
  return (int)y->joint - (int)x->joint;
}

/* Puts a notch at the joint it sits at; TRUE where that is a seam's end, too. */
static gboolean
notch_at_joint (GArray *marks, SewingMark notch, double whole)
{
  if (notch.at < AT_JOINT || notch.at > whole - AT_JOINT)
    return TRUE;
  for (guint i = 0; i < marks->len; i++)
    {
      SewingMark *mark = &g_array_index (marks, SewingMark, i);
      if (!mark->joint || fabs (mark->at - notch.at) >= AT_JOINT)
        continue;
      if (mark->count == 0)
        {
          mark->count = notch.count;
          mark->piece = notch.piece;
          mark->notch = notch.notch;
        }
      return TRUE; /* the neighbour's notch at the same joint is the same mark */
    }
  return FALSE;
}

static GArray *
side_marks (const SewingSeamEntry *entry, int side,
            const PatternPiece *const *pieces)
{
  const SewingSeam *seam = &entry->facts;
  const PatternSide *from = &entry->seam->sides[side];
  const double *joints = seam->joints[side];
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (SewingMark));
  for (guint r = 1; r < from->n_runs; r++)
    {
      SewingMark joint = { .at = joints[r], .joint = TRUE };
      g_array_append_val (marks, joint);
    }
  for (guint r = 0; r < from->n_runs; r++)
    for (guint i = 0; i < pieces[r]->n_notches; i++)
      {
        const PatternNotch *notch = &pieces[r]->notches[i];
        if (notch->edge != from->runs[r].edge)
          continue;
        double length = joints[r + 1] - joints[r];
        double at = pattern_notch_place (notch, length);
        if (from->runs[r].reversed)
          at = length - at;
        SewingMark mark = { .at = joints[r] + at,
                            .count = notch->count,
                            .piece = pieces[r]->id,
                            .notch = notch->id };
        if (!notch_at_joint (marks, mark, seam->lengths[side]))
          g_array_append_val (marks, mark);
      }
  g_array_sort (marks, compare_marks);
  return marks;
}

/* --- the interval table ------------------------------------------------------ */

static void
add_interval (SewingSeamEntry *entry, double a_to, double b_to, guint a_notch,
              guint b_notch)
{
  SewingSeam *seam = &entry->facts;
  guint n = seam->n_intervals++;
  SewingInterval *interval = &seam->intervals[n];
  interval->a_from = entry->marks[0][n];
  interval->b_from = entry->marks[1][n];
  interval->a_to = entry->marks[0][n + 1] = a_to;
  interval->b_to = entry->marks[1][n + 1] = b_to;
  interval->a_notch = a_notch;
  interval->b_notch = b_notch;
  double a = a_to - interval->a_from, b = b_to - interval->b_from;
  double shorter = fmin (a, b);
  interval->difference = a - b;
  interval->per_cent = shorter > 0 ? 100 * (a - b) / shorter : 0;
}

/* --- meant ease -------------------------------------------------------------- */

/* What is meant from one mark to another is shared out by the lengths of the
 * side that is not eased in. */
static void
spread (SewingSeam *seam, guint first, guint last, double ease)
{
  const SewingInterval *from = &seam->intervals[first];
  const SewingInterval *to = &seam->intervals[last - 1];
  double whole = ease > 0 ? to->b_to - from->b_from : to->a_to - from->a_from;
  for (guint i = first; i < last && whole > 0; i++)
    {
      SewingInterval *in = &seam->intervals[i];
      double part = ease > 0 ? in->b_to - in->b_from : in->a_to - in->a_from;
      in->meant += ease * part / whole;
    }
}

/* Marks are counted from 0, the seam's start, to n_intervals, its end. */
static gboolean
find_mark (const SewingSeam *seam, guint notch, guint none, guint *mark)
{
  *mark = none;
  for (guint i = 0; notch != 0; i++)
    {
      if (i + 1 >= seam->n_intervals)
        return FALSE;
      *mark = i + 1;
      if (seam->intervals[i].a_notch == notch
          || seam->intervals[i].b_notch == notch)
        return TRUE;
    }
  return TRUE;
}

/* A seam that was turned since has its marks the other way round. */
static void
find_span (const SewingSeam *seam, SewingEaseSpan *found)
{
  guint from, to;
  if (!find_mark (seam, found->span->from, 0, &from)
      || !find_mark (seam, found->span->to, seam->n_intervals, &to)
      || from == to)
    {
      found->lost = TRUE;
      return;
    }
  found->first = MIN (from, to);
  found->last = MAX (from, to);
  const SewingInterval *first = &seam->intervals[found->first];
  const SewingInterval *last = &seam->intervals[found->last - 1];
  found->a_from = first->a_from;
  found->b_from = first->b_from;
  found->a_to = last->a_to;
  found->b_to = last->b_to;
  double shorter
      = fmin (found->a_to - found->a_from, found->b_to - found->b_from);
  found->ease = found->span->per_cent ? found->span->amount * shorter / 100
                                      : found->span->amount;
}

static void
mean_ease (SewingSeam *seam)
{
  const PatternSeam *from = seam->seam;
  spread (seam, 0, seam->n_intervals, from->ease);
  seam->meant = from->ease;
  seam->spans = g_new0 (SewingEaseSpan, from->n_spans);
  seam->n_spans = from->n_spans;
  for (guint i = 0; i < from->n_spans; i++)
    {
      SewingEaseSpan *span = &seam->spans[i];
      span->span = &from->spans[i];
      find_span (seam, span);
      if (span->lost)
        continue;
      spread (seam, span->first, span->last, span->ease);
      seam->meant += span->ease;
    }
}

static void
list_loose (SewingSeam *seam, const GArray *marks, int side,
            const gboolean *paired)
{
  for (guint i = 0; i < marks->len; i++)
    {
      const SewingMark *mark = &g_array_index (marks, SewingMark, i);
      if (paired[i] || mark->count == 0)
        continue;
      seam->loose[seam->n_loose++]
          = (SewingLooseNotch){ side, mark->piece, mark->notch, mark->at };
    }
}

static void
measure (SewingSeamEntry *entry, const GArray *a, const GArray *b)
{
  SewingSeam *seam = &entry->facts;
  g_autofree int *partner = g_new (int, a->len + 1);
  g_autofree gboolean *a_paired = g_new0 (gboolean, a->len + 1);
  g_autofree gboolean *b_paired = g_new0 (gboolean, b->len + 1);
  guint pairs = sewing_match (
      (const SewingMark *)(gpointer)a->data, a->len, seam->lengths[0],
      (const SewingMark *)(gpointer)b->data, b->len, seam->lengths[1], partner);
  seam->intervals = g_new0 (SewingInterval, pairs + 1);
  entry->n_marks = pairs + 2;
  for (int side = 0; side < 2; side++)
    entry->marks[side] = g_new0 (double, pairs + 2);
  for (guint i = 0; i < a->len; i++)
    {
      if (partner[i] < 0)
        continue;
      const SewingMark *x = &g_array_index (a, SewingMark, i);
      const SewingMark *y = &g_array_index (b, SewingMark, (guint)partner[i]);
      a_paired[i] = b_paired[partner[i]] = TRUE;
      add_interval (entry, x->at, y->at, x->notch, y->notch);
    }
  add_interval (entry, seam->lengths[0], seam->lengths[1], 0, 0);
  seam->loose = g_new0 (SewingLooseNotch, a->len + b->len + 1);
  list_loose (seam, a, 0, a_paired);
  list_loose (seam, b, 1, b_paired);
}

static SewingSeamEntry *
entry_make (SewingFacts *facts, const PatternSeam *seam,
            const PatternPiece *const *pieces)
{
  SewingSeamEntry *entry = g_new0 (SewingSeamEntry, 1);
  entry->seam = entry->facts.seam = pattern_seam_ref (seam);
  entry->n_pieces = count_runs (seam);
  entry->pieces = g_new (const PatternPiece *, entry->n_pieces);
  for (guint i = 0; i < entry->n_pieces; i++)
    entry->pieces[i] = pattern_piece_ref (pieces[i]);
  entry->plans = g_ptr_array_new_with_free_func (plan_free);

  const PatternPiece *const *b_pieces = pieces + seam->sides[0].n_runs;
  lay_side (facts, entry, 0, pieces);
  lay_side (facts, entry, 1, b_pieces);
  g_autoptr (GArray) a = side_marks (entry, 0, pieces);
  g_autoptr (GArray) b = side_marks (entry, 1, b_pieces);
  measure (entry, a, b);
  entry->facts.ease = entry->facts.lengths[0] - entry->facts.lengths[1];
  mean_ease (&entry->facts);
  entry->facts.out = entry->facts.ease - entry->facts.meant;
  return entry;
}

SewingSeamEntry *
sewing_seam_entry (SewingFacts *facts, const Pattern *pattern,
                   const PatternSeam *seam)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && seam != NULL, NULL);
  if (seam->sides[0].n_runs == 0 || seam->sides[1].n_runs == 0)
    return NULL;
  guint n = count_runs (seam);
  g_autofree const PatternPiece **pieces = g_new (const PatternPiece *, n);
  if (!find_pieces (pattern, seam, pieces))
    return NULL;
  SewingSeamEntry key = { .seam = seam, .pieces = pieces, .n_pieces = n };
  SewingSeamEntry *entry = g_hash_table_lookup (facts->seams, &key);
  if (entry == NULL)
    {
      entry = entry_make (facts, seam, pieces);
      g_hash_table_add (facts->seams, entry);
    }
  return entry;
}
