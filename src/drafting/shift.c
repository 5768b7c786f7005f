/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edges shifted along their normals.
 *
 * The width along a run of edges is a profile w (s), outward; each edge becomes the line O = P - w N
 * beside it (N the left normal, which points into the piece). Where two lines that follow each other no longer
 * meet, they are cut off at, or drawn on straight to, the crossing nearest to where their corner was. */
#include <glib/gi18n.h>

#include "drafting/shift-private.h"
#include "geometry/length.h"
#include "geometry/parallel-varying.h"
#include "sewing/words.h"

#define WITHIN 1e-4 /* mm: the line beside an edge */
#define SMOOTH 0.2  /* radians: edges that run on into each other */
#define LEAST_REACH 1.0

/* --- one piece ----------------------------------------------------------------------- */
static const DraftingShifted *
shift_of (const DraftingShifted *edges, guint n, guint piece, guint edge)
{
  for (guint i = 0; i < n; i++)
    if (edges[i].piece == piece && edges[i].edge == edge)
      return &edges[i];
  return NULL;
}

static gboolean
cannot_meet (const PatternPiece *piece, guint before, guint after,
             gboolean smooth, GError **error)
{
  g_autofree char *a = sewing_words_edge (piece, before);
  g_autofree char *b = sewing_words_edge (piece, after);
  if (smooth)
    return drafting_refuse (
        error, DRAFTING_ERROR_SHAPE,
        _ ("%s and %s run on smoothly into each other. Shift both together, or "
           "let the amount ease to nothing where they meet. Nothing was "
           "changed."),
        a, b);
  return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                          _ ("So far shifted, %s and %s would no longer meet. "
                             "Nothing was changed."),
                          a, b);
}

/* Moves the line beside the edge; FALSE where there is none. */
static gboolean
shift_chain (GeoChain *chain, const DraftingShifted *shift, double share)
{
  GeoProfileKnot knots[G_N_ELEMENTS (shift->knots)];
  for (guint i = 0; i < shift->n; i++)
    knots[i]
        = (GeoProfileKnot){ shift->knots[i].at, -share * shift->knots[i].d };
  GeoChain moved = GEO_CHAIN_EMPTY;
  gboolean done = geo_chain_parallel_varying (
      chain, knots, shift->n, GEO_PROFILE_EASED, WITHIN, &moved);
  if (done && moved.count > 0)
    geo_chain_copy (chain, &moved);
  done = done && moved.count > 0;
  geo_chain_clear (&moved);
  return done;
}

static gboolean
make_corner (const PatternPiece *piece, GeoChain *chains, gboolean *changed,
             guint after, GError **error)
{
  guint m = piece->n_edges, before = (after + m - 1) % m;
  GeoPoint corner = piece->nodes[piece->edges[after].first].at;
  GeoPoint end = geo_chain_end (&chains[before]);
  GeoPoint start = geo_chain_start (&chains[after]);
  double apart = geo_distance (end, start);
  if (geo_same (end, start))
    return TRUE;
  if (apart < 1e-6)
    {
      if (changed[before])
        chains[before].cubics[chains[before].count - 1].p[3] = start;
      else
        chains[after].cubics[0].p[0] = end;
      return TRUE;
    }
  GeoPoint on = geo_chain_tangent (&chains[before],
                                   (GeoPlace){ chains[before].count - 1, 1 });
  GeoPoint off = geo_chain_tangent (&chains[after], (GeoPlace){ 0, 0 });
  double turn = fabs (geo_angle_between (on, off));
  if (turn < SMOOTH || turn > G_PI - SMOOTH)
    return cannot_meet (piece, before, after, TRUE, error);
  double far = MAX (geo_distance (end, corner), geo_distance (start, corner));
  if (before == after
      || !drafting_meet (&chains[before], &chains[after], corner,
                         10 * far / sin (turn) + 10))
    return cannot_meet (piece, before, after, FALSE, error);
  changed[before] = changed[after] = TRUE;
  return TRUE;
}

static Pattern *
shift_piece (const Pattern *p, guint id, const DraftingShifted *edges, guint n,
             double share, GError **error)
{
  g_auto (DraftingChange) c = { 0 };
  if (!drafting_change_begin (&c, p, id, error))
    return NULL;
  PatternPiece *piece = c.piece;
  guint m = piece->n_edges;
  g_autofree GeoChain *chains = g_new0 (GeoChain, m);
  g_autofree gboolean *changed = g_new0 (gboolean, m);
  gboolean good = TRUE;
  for (guint e = 0; e < m; e++)
    {
      pattern_piece_edge_chain (piece, e, &chains[e]);
      const DraftingShifted *shift
          = shift_of (edges, n, id, piece->edges[e].id);
      if (!shift || !good)
        continue;
      changed[e] = TRUE;
      if (!shift_chain (&chains[e], shift, share))
        good = cannot_meet (piece, e, (e + 1) % m, FALSE, error);
    }
  for (guint e = 0; good && e < m; e++)
    good = make_corner (piece, chains, changed, e, error);
  if (good)
    drafting_lay_outline (c.pattern, piece, chains, changed);
  for (guint e = 0; e < m; e++)
    geo_chain_clear (&chains[e]);
  return good ? drafting_change_finish (&c, error) : NULL;
}

Pattern *
drafting_shift_all (const Pattern *p, const DraftingShifted *edges, guint n,
                    double share, GError **error)
{
  Pattern *result = pattern_ref (p);
  for (guint i = 0; result && i < n; i++)
    {
      gboolean done = FALSE;
      for (guint k = 0; k < i; k++)
        done = done || edges[k].piece == edges[i].piece;
      if (done)
        continue;
      Pattern *next
          = shift_piece (result, edges[i].piece, edges, n, share, error);
      pattern_unref (result);
      result = next;
    }
  return result;
}

/* --- a run of edges --------------------------------------------------------------------- */
static guint
knots_of (const DraftingShift *shift, double length, GeoProfileKnot knots[3])
{
  switch (shift->shape)
    {
    case DRAFTING_SHIFT_SWELL:
      return (guint)geo_profile_swell (shift->at, shift->reach, shift->by,
                                       knots);
    case DRAFTING_SHIFT_START:
      knots[0] = (GeoProfileKnot){ 0, shift->by };
      knots[1] = (GeoProfileKnot){ shift->reach, 0 };
      return 2;
    case DRAFTING_SHIFT_END:
      knots[0] = (GeoProfileKnot){ length - shift->reach, 0 };
      knots[1] = (GeoProfileKnot){ length, shift->by };
      return 2;
    case DRAFTING_SHIFT_EVEN:
      break;
    }
  knots[0] = (GeoProfileKnot){ 0, shift->by };
  return 1;
}

static gboolean
can_shift (const Pattern *p, const PatternRun *runs, guint n,
           const DraftingShift *shift, GError **error)
{
  if (!drafting_number_is_good (shift->by, error)
      || !drafting_number_is_good (shift->at, error)
      || !drafting_number_is_good (shift->reach, error))
    return FALSE;
  if (n == 0)
    return drafting_refuse (error, DRAFTING_ERROR_GONE,
                            _ ("There is no edge to shift."));
  if (shift->shape != DRAFTING_SHIFT_EVEN && shift->reach < LEAST_REACH)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("A shift can ease to nothing over 1 mm at "
                               "least. Nothing was changed."));
  for (guint i = 0; i < n; i++)
    {
      const PatternPiece *piece = drafting_find_piece (p, runs[i].piece, error);
      if (!piece || drafting_find_edge (piece, runs[i].edge, error) < 0)
        return FALSE;
      if (runs[i].piece != runs[0].piece)
        return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                                _ ("Edges that are shifted as one have to be "
                                   "of one piece. Nothing was changed."));
    }
  return TRUE;
}

/* The run's knots as each edge has them, from its own start. */
static GArray *
spread_knots (const Pattern *p, const PatternRun *runs, guint n,
              const DraftingShift *shift)
{
  GArray *edges = g_array_new (FALSE, FALSE, sizeof (DraftingShifted));
  const PatternPiece *piece = pattern_get_piece (p, runs[0].piece);
  g_autofree double *lengths = g_new (double, n);
  double whole = 0, before = 0;
  for (guint i = 0; i < n; i++)
    {
      lengths[i] = drafting_edge_length (
          piece, (guint)pattern_piece_find_edge (piece, runs[i].edge));
      whole += lengths[i];
    }
  GeoProfileKnot knots[3];
  guint count = knots_of (shift, whole, knots);
  for (guint i = 0; i < n; i++)
    {
      DraftingShifted one
          = { .piece = piece->id, .edge = runs[i].edge, .n = count };
      for (guint k = 0; k < count; k++)
        if (runs[i].reversed)
          one.knots[count - 1 - k]
              = (GeoProfileKnot){ lengths[i] - (knots[k].at - before),
                                  knots[k].d };
        else
          one.knots[k] = (GeoProfileKnot){ knots[k].at - before, knots[k].d };
      if (!shift_of ((const DraftingShifted *)(gpointer)edges->data, edges->len,
                     one.piece, one.edge))
        g_array_append_val (edges, one);
      before += lengths[i];
    }
  return edges;
}

static Pattern *
attempt (const Pattern *p, gconstpointer what, double share, GError **error)
{
  const GArray *edges = what;
  return drafting_shift_all (p, (const DraftingShifted *)(gpointer)edges->data,
                             edges->len, share, error);
}

Pattern *
drafting_shift_edges (const Pattern *p, const PatternRun *runs, guint n,
                      const DraftingShift *shift, GError **error)
{
  g_return_val_if_fail (p != NULL && shift != NULL, NULL);
  if (!can_shift (p, runs, n, shift, error))
    return NULL;
  g_autoptr (GArray) edges = spread_knots (p, runs, n, shift);
  if (shift->both && !drafting_shift_facing (p, edges, error))
    return NULL;
  return drafting_try (p, attempt, edges, shift->by, DRAFTING_WORDS_LENGTH,
                       error);
}

/* --- hems ---------------------------------------------------------------------------------- */
static gboolean
has_edge (const GArray *edges, guint piece, guint edge)
{
  return shift_of ((const DraftingShifted *)(gpointer)edges->data, edges->len,
                   piece, edge)
         != NULL;
}

static void
add_hem (GArray *edges, guint piece, guint edge, double by)
{
  DraftingShifted one = { piece, edge, { { 0, by } }, 1 };
  if (!has_edge (edges, piece, edge))
    g_array_append_val (edges, one);
}

/* Hems of the pieces sewn to the edges beside a hem. */
static void
add_hems_beside (const Pattern *p, GArray *edges, guint at)
{
  DraftingShifted hem = g_array_index (edges, DraftingShifted, at);
  const PatternPiece *piece = pattern_get_piece (p, hem.piece);
  guint m = piece->n_edges;
  guint index = (guint)pattern_piece_find_edge (piece, hem.edge);
  guint beside[2] = { (index + 1) % m, (index + m - 1) % m };
  for (guint i = 0; i < 2; i++)
    for (guint k = 0;; k++)
      {
        int side;
        const PatternSeam *seam = pattern_edge_seam (
            p, piece->id, piece->edges[beside[i]].id, k, &side, NULL);
        if (!seam)
          break;
        const PatternSide *other = &seam->sides[1 - side];
        for (guint r = 0; r < other->n_runs; r++)
          {
            const PatternPiece *next
                = pattern_get_piece (p, other->runs[r].piece);
            int e = next ? pattern_piece_find_edge (next, other->runs[r].edge)
                         : -1;
            if (e < 0)
              continue;
            guint n = next->n_edges;
            guint near[2] = { ((guint)e + 1) % n, ((guint)e + n - 1) % n };
            for (guint j = 0; j < 2; j++)
              if (next->edges[near[j]].kind == PATTERN_EDGE_HEM)
                add_hem (edges, next->id, next->edges[near[j]].id,
                         hem.knots[0].d);
          }
      }
}

Pattern *
drafting_lengthen_hem (const Pattern *p, guint piece, guint edge, double by,
                       gboolean all, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  PatternRun run = { piece, edge, FALSE };
  DraftingShift shift = { .by = by, .shape = DRAFTING_SHIFT_EVEN };
  if (!can_shift (p, &run, 1, &shift, error))
    return NULL;
  g_autoptr (GArray) edges
      = g_array_new (FALSE, FALSE, sizeof (DraftingShifted));
  add_hem (edges, piece, edge, by);
  for (guint i = 0; all && i < edges->len; i++)
    add_hems_beside (p, edges, i);
  return drafting_try (p, attempt, edges, by, DRAFTING_WORDS_LENGTH, error);
}
