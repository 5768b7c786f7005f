/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/strain.h"

#include <glib/gi18n.h>

#include "sewing/facts-private.h"
#include "sewing/words.h"

#define TOP 0.5         /* cosine of 60 degrees */
#define BAND_DEPTH 80.0 /* mm */
#define HOLLOW_DEG 15.0 /* a neckline's turn, or more, the other way */
#define DEGREES (180 / G_PI)

/* One side of a seam: the pieces it lies on, by index, and what hangs by it. */
typedef struct
{
  const SewingSeam *known;
  gboolean top[2];
  double lengths[2]; /* in the whole garment */
  double load;
} Seam;

/* A piece on a side of a seam, and by how much of its edges. */
typedef struct
{
  guint seam;
  int side;
  guint runs;
  double length;
} Tie;

typedef struct
{
  SewingFacts *facts;
  const Pattern *pattern;
  GHashTable *index; /* piece id to its index */
  Seam *seams;       /* in the order of the pattern; known NULL: none */
  GeoPoint *down;
  double *copies; /* of a piece in the garment, halves on the fold twice */
  double *load;
  guint *hangers; /* runs that still hang from the piece */
  gboolean *hem, *band;
  SewingStrain *strain;
  guint *first; /* of each piece's ties; one more than there are pieces */
  Tie *ties;    /* piece by piece, each one's in the order of the seams */
} Work;

/* --- pieces -------------------------------------------------------------------- */

static guint
index_of (const Work *w, guint id)
{
  return GPOINTER_TO_UINT (
      g_hash_table_lookup (w->index, GUINT_TO_POINTER (id)));
}

/* The integral of the outward normal along an edge: its chord, turned. */
static GeoPoint
outward_sum (const SewingPiece *piece, guint edge)
{
  const GeoChain *chain = &piece->stitch[edge];
  GeoPoint chord = geo_sub (geo_chain_end (chain), geo_chain_start (chain));
  return geo_scale (geo_left (chord), -1);
}

static void
weigh_piece (Work *w, guint p)
{
  const PatternPiece *piece = w->pattern->pieces[p];
  const SewingPiece *known = sewing_facts_piece (w->facts, piece);
  double area = known->ring.area, fold = pattern_piece_on_fold (piece) ? 2 : 1;
  w->copies[p] = fold;
  for (guint i = 0; i < piece->n_cuts; i++)
    {
      const PatternCut *cut = &piece->cuts[i];
      const PatternCloth *cloth = pattern_get_cloth (w->pattern, cut->cloth);
      if (cloth == NULL || cut->count <= 0)
        continue;
      if (i == 0)
        w->copies[p] = fold * cut->count;
      if (!(cloth->weight > 0))
        w->strain->whole = FALSE;
      w->load[p] += fold * area / 1e6 * cut->count * fmax (cloth->weight, 0);
    }
  w->strain->piece_mass[p] = w->load[p];
  w->strain->mass += w->load[p];
  GeoPoint down = geo_point (0, 0);
  for (guint i = 0; i < piece->n_edges; i++)
    if (piece->edges[i].kind == PATTERN_EDGE_HEM)
      {
        w->hem[p] = TRUE;
        down = geo_add (down, outward_sum (known, i));
      }
  down = geo_unit (down);
  w->down[p] = down.x == 0 && down.y == 0 ? geo_point (0, 1) : down;
}

/* --- seams --------------------------------------------------------------------- */

static void
look_at_side (Work *w, Seam *seam, int side)
{
  const PatternSide *runs = &seam->known->seam->sides[side];
  double up = 0;
  for (guint r = 0; r < runs->n_runs; r++)
    {
      guint p = index_of (w, runs->runs[r].piece);
      const PatternPiece *piece = w->pattern->pieces[p];
      int edge = pattern_piece_find_edge (piece, runs->runs[r].edge);
      const SewingPiece *known = sewing_facts_piece (w->facts, piece);
      up -= geo_dot (outward_sum (known, (guint)edge), w->down[p]);
      seam->lengths[side] += known->lengths[edge] * w->copies[p];
    }
  seam->top[side] = up > TOP * seam->known->lengths[side];
}

static gboolean
is_shoulder (const Seam *seam)
{
  return seam->known != NULL && seam->top[0] && seam->top[1];
}

/* The side that hangs from the other, or -1. */
static int
hanging_side (const Seam *seam)
{
  if (seam->known == NULL || seam->top[0] == seam->top[1])
    return -1;
  return seam->top[0] ? 0 : 1;
}

static void
look_at_seams (Work *w)
{
  for (guint i = 0; i < w->pattern->n_seams; i++)
    {
      const PatternSeam *s = w->pattern->seams[i];
      if (s->join == PATTERN_JOIN_DART)
        continue;
      Seam *seam = &w->seams[i];
      seam->known = sewing_facts_seam (w->facts, w->pattern, s);
      if (seam->known == NULL)
        continue;
      look_at_side (w, seam, 0);
      look_at_side (w, seam, 1);
      int lower = hanging_side (seam);
      for (guint r = 0; lower >= 0 && r < s->sides[1 - lower].n_runs; r++)
        w->hangers[index_of (w, s->sides[1 - lower].runs[r].piece)]
            += s->sides[lower].n_runs;
    }
}

static gboolean
is_band (const Work *w, guint p)
{
  if (w->hem[p] || w->hangers[p] == 0)
    return FALSE;
  const SewingPiece *known
      = sewing_facts_piece (w->facts, w->pattern->pieces[p]);
  double longest = 0;
  for (guint i = 0; i < known->piece->n_edges; i++)
    longest = fmax (longest, known->lengths[i]);
  return longest > 0 && known->area <= BAND_DEPTH * longest;
}

/* A band hangs from nothing. */
static void
find_bands (Work *w)
{
  for (guint p = 0; p < w->pattern->n_pieces; p++)
    w->band[p] = is_band (w, p);
  for (guint i = 0; i < w->pattern->n_seams; i++)
    {
      const PatternSide *sides = w->pattern->seams[i]->sides;
      int lower = hanging_side (&w->seams[i]);
      for (guint r = 0; lower >= 0 && r < sides[lower].n_runs; r++)
        for (guint u = 0; u < sides[1 - lower].n_runs; u++)
          if (w->band[index_of (w, sides[lower].runs[r].piece)])
            w->hangers[index_of (w, sides[1 - lower].runs[u].piece)]--;
    }
}

/* --- the load's way up ---------------------------------------------------------- */

typedef enum
{
  BY_SHOULDER,
  BY_TOP,
  BY_ANY,
} By;

/* Every run is a tie at first; those of one piece on one side become one. */
static void
tie_pieces (Work *w)
{
  guint n = w->pattern->n_pieces, all = 0;
  for (guint i = 0; i < w->pattern->n_seams; i++)
    for (int side = 0; side < 2 && w->seams[i].known != NULL; side++)
      for (guint r = 0; r < w->pattern->seams[i]->sides[side].n_runs;
           r++, all++)
        w->first[index_of (w, w->pattern->seams[i]->sides[side].runs[r].piece)
                 + 1]++;
  for (guint p = 0; p < n; p++)
    w->first[p + 1] += w->first[p];
  w->ties = g_new0 (Tie, all + 1);
  g_autofree guint *count = g_new0 (guint, n + 1);
  for (guint i = 0; i < w->pattern->n_seams; i++)
    for (int side = 0; side < 2 && w->seams[i].known != NULL; side++)
      for (guint r = 0; r < w->pattern->seams[i]->sides[side].n_runs; r++)
        {
          const double *joints = w->seams[i].known->joints[side];
          guint p
              = index_of (w, w->pattern->seams[i]->sides[side].runs[r].piece);
          Tie *last = w->ties + w->first[p] + count[p];
          if (count[p] == 0 || last[-1].seam != i || last[-1].side != side)
            {
              *last = (Tie){ .seam = i, .side = side };
              count[p]++;
            }
          else
            last--;
          last->runs++;
          last->length += joints[r + 1] - joints[r];
        }
}

/* One past a piece's last tie: where its room ends, or where they have no
 * runs. */
static const Tie *
ties_end (const Work *w, guint p)
{
  const Tie *tie = w->ties + w->first[p], *end = w->ties + w->first[p + 1];
  while (tie < end && tie->runs > 0)
    tie++;
  return tie;
}

/* By how much of its edges the tie holds its piece. */
static double
held_length (const Work *w, const Tie *tie, By by)
{
  const Seam *seam = &w->seams[tie->seam];
  if ((by == BY_SHOULDER && !is_shoulder (seam))
      || (by == BY_TOP && hanging_side (seam) != tie->side))
    return 0;
  return tie->length;
}

/* To the pieces of a side, by their shares of it. */
static void
pass_on (Work *w, const Seam *seam, int side, double load)
{
  const PatternSide *runs = &seam->known->seam->sides[side];
  const double *joints = seam->known->joints[side];
  for (guint r = 0; r < runs->n_runs; r++)
    w->load[index_of (w, runs->runs[r].piece)]
        += load * (joints[r + 1] - joints[r]) / seam->known->lengths[side];
}

static double
whole_held (const Work *w, guint p, By by)
{
  double whole = 0;
  const Tie *end = ties_end (w, p);
  for (const Tie *tie = w->ties + w->first[p]; tie < end; tie++)
    whole += held_length (w, tie, by);
  return whole;
}

/* Gives the piece's load to its seams; FALSE where none holds it so. */
static gboolean
hang (Work *w, guint p, By by)
{
  double whole = whole_held (w, p, by), load = w->load[p];
  if (!(whole > 0))
    return FALSE;
  const Tie *end = ties_end (w, p);
  for (const Tie *tie = w->ties + w->first[p]; tie < end; tie++)
    {
      Seam *seam = &w->seams[tie->seam];
      double share = load * held_length (w, tie, by) / whole;
      if (!(share > 0))
        continue;
      seam->load += share;
      if (by != BY_SHOULDER)
        pass_on (w, seam, 1 - tie->side, share);
    }
  return TRUE;
}

/* What waited for this piece waits no longer. */
static void
let_go (Work *w, guint p, GArray *ready)
{
  const Tie *end = ties_end (w, p);
  for (const Tie *tie = w->ties + w->first[p]; tie < end && !w->band[p]; tie++)
    {
      Seam *seam = &w->seams[tie->seam];
      if (hanging_side (seam) != tie->side)
        continue;
      const PatternSide *upper = &seam->known->seam->sides[1 - tie->side];
      for (guint n = tie->runs; n > 0; n--)
        for (guint r = 0; r < upper->n_runs; r++)
          {
            guint q = index_of (w, upper->runs[r].piece);
            if (--w->hangers[q] == 0)
              g_array_append_val (ready, q);
          }
    }
}

/* Small parts first, on whatever they are sewn to; then from below upwards, each
 * piece when all that hangs from it has come (A. B. Kahn, Topological sorting
 * of large networks, Comm. ACM 5, 1962). Pieces that hang from each other
 * in a ring are left to bear themselves. */
static void
carry (Work *w)
{
  guint n = w->pattern->n_pieces;
  g_autoptr (GArray) ready = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autofree gboolean *done = g_new0 (gboolean, n + 1);
  for (guint p = 0; p < n; p++)
    {
      done[p] = !w->hem[p] && w->hangers[p] == 0
                && !(whole_held (w, p, BY_SHOULDER) > 0)
                && !(whole_held (w, p, BY_TOP) > 0)
                && whole_held (w, p, BY_ANY) > 0;
      if (w->hangers[p] == 0)
        g_array_append_val (ready, p);
    }
  for (guint p = 0; p < n; p++)
    if (done[p] && hang (w, p, BY_ANY))
      w->load[p] = 0;
  for (guint i = 0; i < ready->len; i++)
    {
      guint p = g_array_index (ready, guint, i);
      if (!w->band[p] && (hang (w, p, BY_SHOULDER) || hang (w, p, BY_TOP)))
        w->load[p] = 0;
      let_go (w, p, ready);
    }
  for (guint p = 0; p < n; p++)
    w->strain->borne += w->load[p];
}

/* --- loads and advice ------------------------------------------------------------ */

static int
compare_loads (gconstpointer a, gconstpointer b)
{
  const SewingLoad *x = a, *y = b;
  if (x->per_cm != y->per_cm)
    return x->per_cm > y->per_cm ? -1 : 1;
  return x->seam < y->seam ? -1 : x->seam > y->seam;
}

static void
list_loads (Work *w)
{
  for (guint i = 0; i < w->pattern->n_seams; i++)
    {
      const Seam *seam = &w->seams[i];
      if (seam->known == NULL || !(seam->load > 0))
        continue;
      int lower = hanging_side (seam);
      double length = lower >= 0 ? seam->lengths[lower]
                                 : fmax (seam->lengths[0], seam->lengths[1]);
      SewingLoad load = { .seam = seam->known->seam->id,
                          .rests = is_shoulder (seam),
                          .load = seam->load,
                          .length = length,
                          .per_cm = length > 0 ? 10 * seam->load / length : 0 };
      g_array_append_val (w->strain->loads, load);
    }
  g_array_sort (w->strain->loads, compare_loads);
}

static double
cuts_per_cm (const Work *w, const PatternPiece *piece, guint edge)
{
  double length = sewing_facts_piece (w->facts, piece)->lengths[edge];
  const GeoClipPlan *plan = sewing_facts_clips (w->facts, w->pattern, piece->id,
                                                piece->edges[edge].id);
  return length > 0 ? 10 * (double)plan->count / length : 0;
}

static void
advise_seam (Work *w, const SewingLoad *load)
{
  if (load->per_cm < SEWING_LOAD_HIGH)
    return;
  SewingAdvice advice
      = { .seam = load->seam, .per_cm = load->per_cm, .bias = -1 };
  const PatternSeam *seam = pattern_get_seam (w->pattern, load->seam);
  for (int side = 0; side < 2; side++)
    for (guint r = 0; r < seam->sides[side].n_runs; r++)
      {
        const PatternRun *run = &seam->sides[side].runs[r];
        const PatternPiece *piece
            = w->pattern->pieces[index_of (w, run->piece)];
        guint edge = (guint)pattern_piece_find_edge (piece, run->edge);
        double bias = 0;
        sewing_bias_share (sewing_facts_piece (w->facts, piece), edge, &bias);
        advice.cuts = fmax (advice.cuts, cuts_per_cm (w, piece, edge));
        if (bias <= advice.bias)
          continue;
        advice.bias = bias;
        advice.piece = run->piece;
        advice.edge = run->edge;
      }
  gboolean cut = advice.cuts >= SEWING_CUTS_HIGH;
  advice.kind = SEWING_ADVICE_STAY_TAPE;
  if (cut || advice.bias > SEWING_BIAS_HIGH)
    g_array_append_val (w->strain->advice, advice);
  advice.kind = SEWING_ADVICE_SECOND_ROW;
  if (cut)
    g_array_append_val (w->strain->advice, advice);
}

/* Long straight edges on the bias are not staystitched: that distorts them. */
static void
advise_edges (Work *w, const PatternPiece *piece)
{
  const SewingPiece *known = sewing_facts_piece (w->facts, piece);
  const SewingPieceEntry *run = sewing_piece_run (known);
  for (guint i = 0; i < piece->n_edges; i++)
    {
      double bias;
      if (piece->edges[i].kind != PATTERN_EDGE_SEAM
          || run->turning[i] * DEGREES > -HOLLOW_DEG
          || !sewing_bias_share (known, i, &bias) || bias <= SEWING_BIAS_HIGH)
        continue;
      SewingAdvice advice = { .kind = SEWING_ADVICE_STAYSTITCH,
                              .piece = piece->id,
                              .edge = piece->edges[i].id,
                              .bias = bias };
      g_array_append_val (w->strain->advice, advice);
    }
}

/* --- the whole -------------------------------------------------------------------- */

SewingStrain *
sewing_strain_new (SewingFacts *facts, const Pattern *pattern)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL, NULL);
  guint n = pattern->n_pieces;
  SewingStrain *strain = g_new0 (SewingStrain, 1);
  strain->whole = TRUE;
  strain->piece_mass = g_new0 (double, n + 1);
  strain->loads = g_array_new (FALSE, FALSE, sizeof (SewingLoad));
  strain->advice = g_array_new (FALSE, FALSE, sizeof (SewingAdvice));
  g_autoptr (GHashTable) index = g_hash_table_new (NULL, NULL);
  g_autofree Seam *seams = g_new0 (Seam, pattern->n_seams + 1);
  g_autofree GeoPoint *down = g_new0 (GeoPoint, n + 1);
  g_autofree double *copies = g_new0 (double, n + 1);
  g_autofree double *load = g_new0 (double, n + 1);
  g_autofree guint *hangers = g_new0 (guint, n + 1);
  g_autofree gboolean *hem = g_new0 (gboolean, n + 1);
  g_autofree gboolean *band = g_new0 (gboolean, n + 1);
  g_autofree guint *first = g_new0 (guint, n + 2);
  Work w = { facts,   pattern, index, seams,  down,  copies, load,
             hangers, hem,     band,  strain, first, NULL };
  for (guint p = 0; p < n; p++)
    {
      g_hash_table_insert (index, GUINT_TO_POINTER (pattern->pieces[p]->id),
                           GUINT_TO_POINTER (p));
      weigh_piece (&w, p);
    }
  look_at_seams (&w);
  tie_pieces (&w);
  find_bands (&w);
  carry (&w);
  list_loads (&w);
  for (guint p = 0; p < n; p++)
    advise_edges (&w, pattern->pieces[p]);
  for (guint i = 0; i < strain->loads->len; i++)
    advise_seam (&w, &g_array_index (strain->loads, SewingLoad, i));
  g_free (w.ties);
  return strain;
}

void
sewing_strain_free (SewingStrain *strain)
{
  if (strain == NULL)
    return;
  g_free (strain->piece_mass);
  g_array_unref (strain->loads);
  g_array_unref (strain->advice);
  g_free (strain);
}

/* --- words ------------------------------------------------------------------------ */

const char *
sewing_advice_word (SewingAdviceKind kind)
{
  static const char *const words[]
      = { "staystitch", "stay-tape", "second-row" };
  g_return_val_if_fail ((guint)kind < G_N_ELEMENTS (words), "");
  return words[kind];
}

static char *
load_reasons (const SewingAdvice *advice)
{
  GString *why = g_string_new (NULL);
  g_string_append_printf (why, _ ("it carries about %.0f g per cm"),
                          advice->per_cm);
  if (advice->bias > SEWING_BIAS_HIGH)
    g_string_append_printf (why, _ (", %.0f %% of it runs on the bias"),
                            100 * advice->bias);
  if (advice->cuts >= SEWING_CUTS_HIGH)
    g_string_append_printf (why, _ (", it is cut into %.1f times a cm"),
                            advice->cuts);
  return g_string_free (why, FALSE);
}

char *
sewing_advice_text (const Pattern *pattern, const SewingAdvice *advice)
{
  g_return_val_if_fail (pattern != NULL && advice != NULL, NULL);
  g_autofree char *edge
      = sewing_words_edge_of (pattern, advice->piece, advice->edge);
  if (advice->kind == SEWING_ADVICE_STAYSTITCH)
    return g_strdup_printf (
        _ ("Staystitch %s before it is handled, 3 mm outside the stitch line: "
           "it is hollow and %.0f %% of it runs on the bias."),
        edge, 100 * advice->bias);
  const PatternSeam *s = pattern_get_seam (pattern, advice->seam);
  g_autofree char *seam = s != NULL ? sewing_words_seam (s) : g_strdup ("");
  g_autofree char *why = load_reasons (advice);
  if (advice->kind == SEWING_ADVICE_STAY_TAPE)
    return g_strdup_printf (_ ("Sew a stay tape into %s, along %s: %s."), seam,
                            edge, why);
  return g_strdup_printf (_ ("Stitch %s twice, the second row 2 mm inside the "
                             "allowance, before clipping: %s."),
                          seam, why);
}
