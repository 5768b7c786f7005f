/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which edge to change when the sides of a seam differ in length.
 *
 * An edge may be in several seams: a band's neck edge is sewn to the shell's
 * neckline and to the facing's. And the end that moves is its neighbour's end,
 * too. So every end of every edge of the seam is tried: what would change, and
 * in which seams. All are judged by an estimate of what the neighbour does; the
 * one that then looks best is stretched for real, and is only offered if it
 * still is. An edge that puts another seam out is never
 * offered, or mends would go round in a circle. */
#include "sewing/checks-private.h"
#include "sewing/shaping.h"

#include <glib/gi18n.h>

/* Bending moves an edge's middle: farther than this it would be another shape, mm. */
#define BEND_MOST 15.0

/* Lengths that a change would add: of the edge itself and of its neighbour. */
typedef struct
{
  guint piece;
  guint edges[2];
  double by[2];
} Change;

/* What speaks for and against a change. */
typedef struct
{
  Change change;
  const PatternPiece *piece;
  guint edge; /* index */
  gboolean at_start;
  gboolean is_exact;
  double length;               /* the edge's new one */
  guint put_out;               /* seams, this one counted where it stays out */
  const PatternSeam *put_seam; /* one of them */
  gboolean bends_fold;
  guint mended; /* other seams */
  int side;
  double share; /* of the worst interval that lies on the edge */
} Choice;

/* --- what a change does ------------------------------------------------------ */

/* By how much the neighbour of the moving end grows when that end goes x along
 * way: its node and handle there go along, the rest stays. */
static double
neighbour_grows (const PatternPiece *piece, guint node, gboolean arrives,
                 GeoPoint way, double x)
{
  guint n = piece->n_nodes;
  GeoCubic c = pattern_piece_cubic (piece, (node + (arrives ? n - 1 : 0)) % n);
  double before = geo_cubic_length (&c, 1e-6);
  int first = arrives ? 2 : 0;
  for (int i = first; i < first + 2; i++)
    c.p[i] = geo_along (c.p[i], way, x);
  return geo_cubic_length (&c, 1e-6) - before;
}

/* The edge on the other side of the end that moves. */
static guint
beside (const Choice *c)
{
  guint n = c->piece->n_edges;
  return (c->edge + (c->at_start ? n - 1 : 1)) % n;
}

/* As pattern_piece_stretch_edge() does it, the end moves along the tangent
 * there; here, as far as the edge is to grow. */
static void
estimate (Choice *c, double by)
{
  const PatternPiece *piece = c->piece;
  guint node = c->at_start ? piece->edges[c->edge].first
                           : pattern_piece_edge_last (piece, c->edge);
  node %= piece->n_nodes;
  guint before = (node + piece->n_nodes - 1) % piece->n_nodes;
  GeoCubic own = pattern_piece_cubic (piece, c->at_start ? node : before);
  GeoPoint way = c->at_start ? geo_scale (geo_cubic_tangent (&own, 0), -1)
                             : geo_cubic_tangent (&own, 1);
  c->change = (Change){
    .piece = piece->id,
    .edges = { piece->edges[c->edge].id, piece->edges[beside (c)].id },
    .by = { by, neighbour_grows (piece, node, c->at_start, way, by) }
  };
  c->bends_fold = piece->edges[beside (c)].kind == PATTERN_EDGE_FOLD;
}

static double
length_of (const PatternPiece *piece, guint edge)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, edge, &chain);
  double length = geo_chain_length (&chain, 1e-7);
  geo_chain_clear (&chain);
  return length;
}

/* FALSE where it can't be done. */
static gboolean
measure (Choice *c)
{
  g_autoptr (PatternPiece) copy = pattern_piece_dup (c->piece);
  if (!pattern_piece_stretch_edge (copy, c->edge, c->length, c->at_start))
    return FALSE;
  c->change.by[1]
      = length_of (copy, beside (c)) - length_of (c->piece, beside (c));
  c->is_exact = TRUE;
  return TRUE;
}

/* By how much the change alters a seam's A less B; FALSE where it does not
 * touch the seam. */
static gboolean
change_of_seam (const PatternSeam *seam, const Change *change, double *by)
{
  gboolean touched = FALSE;
  *by = 0;
  for (int side = 0; side < 2; side++)
    for (guint r = 0; r < seam->sides[side].n_runs; r++)
      for (int i = 0; i < 2; i++)
        {
          const PatternRun *run = &seam->sides[side].runs[r];
          if (run->piece != change->piece || run->edge != change->edges[i])
            continue;
          touched = TRUE;
          *by += side == 0 ? change->by[i] : -change->by[i];
        }
  return touched;
}

static void
weigh (const SewingCheckRun *run, const PatternSeam *mending, Choice *choice)
{
  choice->put_out = choice->mended = 0;
  for (guint i = 0; i < run->pattern->n_seams; i++)
    {
      const PatternSeam *s = run->pattern->seams[i];
      double by;
      if (!change_of_seam (s, &choice->change, &by))
        continue;
      const SewingSeam *seam = sewing_facts_seam (run->facts, run->pattern, s);
      if (seam == NULL)
        continue;
      double after = seam->out + by;
      gboolean was_out = sewing_check_is_out (run, seam->out);
      gboolean is_out = sewing_check_is_out (run, after);
      if (is_out && (s == mending || fabs (after) > fabs (seam->out)))
        {
          choice->put_out++;
          choice->put_seam = s;
        }
      else if (was_out && !is_out && s != mending)
        choice->mended++;
    }
}

/* --- choosing ---------------------------------------------------------------- */

/* Negative where a is the better one: nothing put out, no fold bent, other
 * seams mended at the same time, the side that is made to fit, the edge on
 * which most of the fault lies, the end rather than the start. */
static int
compare (const Choice *a, const Choice *b, int fitted)
{
  if (a->put_out != b->put_out)
    return a->put_out < b->put_out ? -1 : 1;
  if (a->bends_fold != b->bends_fold)
    return a->bends_fold ? 1 : -1;
  if (a->mended != b->mended)
    return a->mended > b->mended ? -1 : 1;
  if (a->side != b->side)
    return a->side == fitted ? -1 : 1;
  if (fabs (a->share - b->share) > 1e-9)
    return a->share > b->share ? -1 : 1;
  return (int)a->at_start - (int)b->at_start;
}

static double
share_of (const SewingSeam *seam, int side, guint r, guint worst)
{
  const SewingInterval *in = &seam->intervals[worst];
  double from = side == 0 ? in->a_from : in->b_from;
  double to = side == 0 ? in->a_to : in->b_to;
  double overlap = fmin (to, seam->joints[side][r + 1])
                   - fmax (from, seam->joints[side][r]);
  return to > from ? fmax (overlap, 0) / (to - from) : 0;
}

static void
add_choices (const SewingCheckRun *run, const SewingSeam *seam, int side,
             guint worst, GArray *choices)
{
  const PatternSide *runs = &seam->seam->sides[side];
  double by = side == 0 ? -seam->out : seam->out;
  for (guint r = 0; r < runs->n_runs; r++)
    for (int at_start = 0; at_start < 2; at_start++)
      {
        const PatternPiece *piece;
        const PatternEdge *edge = pattern_get_edge (
            run->pattern, runs->runs[r].piece, runs->runs[r].edge, &piece);
        double old = seam->joints[side][r + 1] - seam->joints[side][r];
        if (old + by < old / 2 || !(old + by > 0) || piece->n_edges < 2)
          continue;
        Choice choice = { .piece = piece,
                          .edge = (guint)(edge - piece->edges),
                          .at_start = at_start,
                          .length = old + by,
                          .side = side,
                          .share = share_of (seam, side, r, worst) };
        estimate (&choice, by);
        weigh (run, seam->seam, &choice);
        g_array_append_val (choices, choice);
      }
}

/* The best of a side (or, with -1, of both) by its true measures; NULL where
 * there is none. */
static Choice *
best_of (const SewingCheckRun *run, const SewingSeam *seam, GArray *choices,
         int side, int fitted)
{
  for (;;)
    {
      guint best = choices->len;
      Choice *all = (Choice *)(gpointer)choices->data;
      for (guint i = 0; i < choices->len; i++)
        if ((side < 0 || all[i].side == side)
            && (best == choices->len
                || compare (&all[i], &all[best], fitted) < 0))
          best = i;
      if (best == choices->len)
        return NULL;
      if (all[best].is_exact)
        return &all[best];
      if (measure (&all[best]))
        weigh (run, seam->seam, &all[best]);
      else
        g_array_remove_index (choices, best);
    }
}

/* "The collar band's neck edge can't follow by itself: that would put the
 * inner neck seam out." */
static void
add_held (const SewingCheckRun *run, SewingFinding *finding,
          const SewingSeam *seam, const Choice *held, gboolean all)
{
  g_autofree char *side
      = sewing_words_side (run->pattern, seam->seam, held->side);
  g_autofree char *other = sewing_words_seam (held->put_seam);
  g_autofree char *more
      = held->put_seam == seam->seam
            ? g_strdup (_ ("No change of one edge alone would mend it: the "
                           "edges move each other's ends."))
        : all ? g_strdup_printf (
              _ ("No edge here can be changed by itself: it would put %s "
                 "out. Change the edges of both seams together."),
              other)
              : g_strdup_printf (
                  _ ("To change %s instead, change what it is sewn to in %s, "
                     "too."),
                  side, other);
  char *text = g_strdup_printf ("%s %s", finding->text, more);
  g_free (finding->text);
  finding->text = text;
}

static char *
length_label (const SewingCheckRun *run, const Choice *c)
{
  double by = c->change.by[0];
  g_autofree char *edge = sewing_words_edge (c->piece, c->edge);
  g_autofree char *amount = sewing_words_amount (run->pattern, by);
  return g_strdup_printf (
      by > 0 ? _ ("Lengthen %s by %s") : _ ("Shorten %s by %s"), edge, amount);
}

static void
set_remedy (const SewingCheckRun *run, SewingFinding *finding,
            const Choice *best)
{
  sewing_finding_set_remedy (finding, SEWING_REMEDY_LENGTH, best->piece->id,
                             best->change.edges[0], best->length,
                             length_label (run, best));
  finding->remedy.at_start = best->at_start;
}

/* --- other ways ---------------------------------------------------------------- */

static char *
bend_label (const SewingCheckRun *run, const Choice *c, double moved)
{
  double by = c->change.by[0];
  g_autofree char *edge = sewing_words_edge (c->piece, c->edge);
  g_autofree char *amount = sewing_words_amount (run->pattern, by);
  g_autofree char *far = sewing_words_amount (run->pattern, moved);
  return g_strdup_printf (
      by > 0
          ? _ ("Bend %s to be %s longer between its ends (it moves by up to "
               "%s)")
          : _ ("Bend %s to be %s shorter between its ends (it moves by up to "
               "%s)"),
      edge, amount, far);
}

/* With the piece so, no stretch between two marks of the seam is out: bending lengthens
 * an edge all along, which may be between the wrong marks. Nor is the seam
 * pointed by it. */
static gboolean
bend_is_good (const SewingCheckRun *run, const PatternSeam *seam,
              const PatternPiece *piece)
{
  g_autoptr (Pattern) trial = pattern_dup (run->pattern);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  pattern_put_piece (trial, pattern_piece_dup (piece));
  const SewingSeam *known = sewing_facts_seam (facts, trial, seam);
  for (guint i = 0; known != NULL && i < known->n_intervals; i++)
    if (sewing_check_is_out (run, known->intervals[i].difference
                                      - known->intervals[i].meant))
      return FALSE;
  if (known == NULL || seam->press == PATTERN_PRESS_TURNED)
    return known != NULL;
  double sharp = sewing_facts_shaping (facts, trial, seam)->sharp_deg;
  return sharp <= SEWING_SHARP_DEG
         || sharp <= sewing_facts_shaping (run->facts, run->pattern, seam)
                         ->sharp_deg;
}

/* Bending moves no neighbour, so it is weighed by itself. FALSE where it would not
 * do. */
static gboolean
bend_choice (const SewingCheckRun *run, const SewingSeam *seam, Choice *c,
             double *moved)
{
  c->change.by[1] = 0;
  c->is_exact = TRUE;
  weigh (run, seam->seam, c);
  if (c->put_out > 0)
    return FALSE;
  g_autoptr (PatternPiece) copy = pattern_piece_dup (c->piece);
  return pattern_piece_bend_edge (copy, c->edge, c->length, moved)
         && *moved <= BEND_MOST && bend_is_good (run, seam->seam, copy);
}

/* Of each side one end to move and one edge to bend, but for what is offered
 * already. */
static void
offer_others (const SewingCheckRun *run, SewingFinding *finding,
              const SewingSeam *seam, GArray *choices, int fitted)
{
  for (int i = 0; i < 2; i++)
    {
      int side = i == 0 ? fitted : 1 - fitted;
      const Choice *best = best_of (run, seam, choices, side, fitted);
      if (best == NULL)
        continue;
      Choice bend = *best;
      double moved = 0;
      if (best->put_out == 0
          && (finding->remedy.edge != best->change.edges[0]
              || finding->remedy.piece != best->piece->id
              || finding->remedy.at_start != best->at_start))
        {
          sewing_finding_add_other (finding, SEWING_REMEDY_LENGTH,
                                    best->piece->id, best->change.edges[0],
                                    best->length, length_label (run, best))
              ->at_start
              = best->at_start;
        }
      if (bend_choice (run, seam, &bend, &moved))
        sewing_finding_add_other (finding, SEWING_REMEDY_BEND, bend.piece->id,
                                  bend.change.edges[0], bend.length,
                                  bend_label (run, &bend, moved));
    }
}

/* Where no end can move, what can be bent is offered first. */
static void
promote_other (SewingFinding *finding)
{
  if (finding->remedy.kind != SEWING_REMEDY_NONE || finding->n_others == 0)
    return;
  finding->remedy = finding->others[0];
  finding->n_others--;
  memmove (finding->others, finding->others + 1,
           finding->n_others * sizeof *finding->others);
}

void
sewing_offer_length (const SewingCheckRun *run, SewingFinding *finding,
                     const SewingSeam *seam, int fitted, guint worst)
{
  g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (Choice));
  for (int side = 0; side < 2; side++)
    add_choices (run, seam, side, worst, choices);
  const Choice *found = best_of (run, seam, choices, -1, fitted);
  if (found == NULL)
    return;
  Choice best = *found; /* the next call may move it */
  if (best.put_out > 0)
    {
      offer_others (run, finding, seam, choices, fitted);
      promote_other (finding);
      if (finding->remedy.kind == SEWING_REMEDY_NONE)
        add_held (run, finding, seam, &best, TRUE);
      return;
    }
  set_remedy (run, finding, &best);
  const Choice *other = best.side == fitted
                            ? NULL
                            : best_of (run, seam, choices, fitted, fitted);
  if (other != NULL && other->put_out > 0 && other->put_seam != seam->seam)
    add_held (run, finding, seam, other, FALSE);
  offer_others (run, finding, seam, choices, fitted);
}
