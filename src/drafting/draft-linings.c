/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes for what lies under the shell: facings, linings, interfacing; and for strips and welts. */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/amounts.h"
#include "drafting/draft-help.h"
#include "drafting/edit-private.h"
#include "drafting/facing.h"
#include "drafting/trace.h"
#include "drafting/values.h"
#include "geometry/nearest.h"
#include "sewing/words.h"

static GeoPoint
grain_way (const PatternPiece *piece)
{
  GeoPoint way = geo_sub (piece->grain_to, piece->grain_from);
  return piece->has_grain && geo_norm (way) > 0 ? way : geo_point (0, 1);
}

/* --- facing --------------------------------------------------------------------------- */

static const char *const inners[] = { "seam", "bound", "raw", NULL };
static const char *const inner_labels[]
    = { N_ ("Sewn"), N_ ("Bound"), N_ ("Left as cut"), NULL };

static const DraftingParameter facing_parameters[] = {
  { "edges", DRAFTING_EDGES, N_ ("Edges faced"), NULL, NULL, NULL, 0, 0 },
  { "depth", DRAFTING_LENGTH, N_ ("Depth"), "50 mm", NULL, NULL, 5, 400 },
  { "front-depth", DRAFTING_LENGTH, N_ ("Depth behind the corner"), "", NULL,
    NULL, 5, 600 },
  { "smooth", DRAFTING_LENGTH, N_ ("Inner corner rounded"), "60 mm", NULL, NULL,
    0, 300 },
  { "free", DRAFTING_LENGTH, N_ ("Free above a hem"), "20 mm", NULL, NULL, 0,
    200 },
  { "inner", DRAFTING_CHOICE, N_ ("Inner edge"), "seam", inners, inner_labels,
    0, 0 },
  { "join", DRAFTING_EDGE, N_ ("Start sewn to"), "", NULL, NULL, 0, 0 },
  { "interfacing", DRAFTING_YES, N_ ("Interfacing, too"), "yes", NULL, NULL, 0,
    0 },
  { "allowance", DRAFTING_LENGTH, N_ ("Inner allowance"), "10 mm", NULL, NULL,
    0, 60 },
};

typedef struct
{
  const Pattern *p;
  const DraftingLay *lay;
  DraftingFacingWish wish;
} FacingTry;

static gboolean
facing_works (gpointer data)
{
  FacingTry *t = data;
  g_auto (DraftingShape) shape = { 0 };
  return drafting_facing_shape (t->p, t->lay, &t->wish, &shape);
}

static gboolean
refuse_facing (FacingTry *t, GError **error)
{
  DraftingAmount amounts[] = {
    { &t->wish.depth, 10, N_ ("Depth"), DRAFTING_AMOUNT_LENGTH },
    { &t->wish.depth_after, 10, N_ ("Depth behind the corner"),
      DRAFTING_AMOUNT_LENGTH },
    { &t->wish.smooth, 0, N_ ("Inner corner rounded"), DRAFTING_AMOUNT_LENGTH },
  };
  return drafting_refuse_amounts (
      t->p, amounts, G_N_ELEMENTS (amounts), facing_works, t,
      _ ("No facing can be drafted on these edges: they should follow each "
         "other, and what lies beside their two ends should lead into the "
         "piece."),
      error);
}

/* An end of the facing is as the shell's edge it follows. */
static void
give_end (DraftingDraftPiece *piece, const DraftingShape *shape,
          const char *part, const PatternEdge *as)
{
  if (as == NULL)
    return;
  const char *name = *as->name != '\0' ? as->name : _ ("end");
  PatternEdgeKind kind = as->kind;
  drafting_give_corner (piece, shape, part, name, kind, as->allowance,
                        kind == PATTERN_EDGE_HEM ? GEO_CORNER_FOLDED_BACK
                                                 : GEO_CORNER_EXTENDED,
                        TRUE);
}

static void
give_faced (const Pattern *p, const DraftingLay *lay, DraftingDraftPiece *piece,
            const DraftingShape *shape)
{
  for (guint i = 0; i < lay->n; i++)
    {
      const PatternEdge *edge
          = pattern_get_edge (p, lay->runs[i].piece, lay->runs[i].edge, NULL);
      g_autofree char *part = g_strdup_printf ("faced-%u", i + 1);
      drafting_give_edge (piece, shape, part,
                          *edge->name != '\0' ? edge->name : _ ("faced edge"),
                          PATTERN_EDGE_SEAM, pattern_edge_width (edge));
    }
}

static void
sew_facing (DraftingDraft *draft, const DraftingLay *lay,
            const DraftingShape *shape)
{
  DraftingDraftRun a[DRAFTING_LAY_MOST], b[DRAFTING_LAY_MOST];
  for (guint i = 0; i < lay->n; i++)
    {
      char part[16];
      g_snprintf (part, sizeof part, "faced-%u", i + 1);
      a[i] = (DraftingDraftRun){ NULL, NULL, lay->runs[i] };
      b[i]
          = drafting_shape_run (shape, "facing", g_intern_string (part), FALSE);
    }
  drafting_draft_add_seam (draft, "faced", _ ("Facing seam"), PATTERN_JOIN_SEAM,
                           a, lay->n, b, lay->n, 0, PATTERN_PRESS_TURNED);
}

/* Start to the edge named, both walked from the faced edge inwards: two facings of one garment lie
 * the same way up, so one of the two edges runs against the other. */
static void
sew_join (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
          const DraftingShape *shape)
{
  guint n;
  const PatternRun *to = drafting_values_has (v, "join")
                             ? drafting_values_get_runs (v, "join", &n)
                             : NULL;
  if (to == NULL || n == 0
      || pattern_get_edge (p, to[0].piece, to[0].edge, NULL) == NULL)
    return;
  DraftingDraftRun a = drafting_shape_run (shape, "facing", "start", TRUE);
  DraftingDraftRun b = { NULL, NULL, to[0] };
  b.run.reversed = !a.run.reversed;
  drafting_draft_add_seam (draft, "join", _ ("Facing shoulder"),
                           PATTERN_JOIN_SEAM, &a, 1, &b, 1, 0,
                           PATTERN_PRESS_OPEN);
}

/* The facing lies as the piece does that it faces most of, and has its grain. */
static guint
longest_run (const DraftingLay *lay)
{
  guint best = 0;
  for (guint i = 1; i < lay->n; i++)
    if (lay->starts[i + 1] - lay->starts[i]
        > lay->starts[best + 1] - lay->starts[best])
      best = i;
  return best;
}

static gboolean
draft_facing (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
              GError **error)
{
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "edges", &n);
  g_auto (DraftingLay) lay = { 0 };
  if (!drafting_lay_runs (p, runs, n, &lay, error))
    return FALSE;
  double depth = drafting_values_get_number (v, "depth");
  FacingTry t = { p,
                  &lay,
                  { depth, drafting_number_or (v, "front-depth", depth),
                    drafting_values_get_number (v, "smooth"),
                    drafting_values_get_number (v, "free") } };
  g_auto (DraftingShape) shape = { 0 };
  if (!drafting_facing_shape (p, &lay, &t.wish, &shape))
    return refuse_facing (&t, error);
  guint longest = longest_run (&lay);
  drafting_shape_move (&shape, geo_motion_inverse (lay.motions[longest]));
  GeoPoint grain = grain_way (pattern_get_piece (p, lay.runs[longest].piece));
  DraftingShape *shapes[] = { &shape };
  drafting_lay_out (p, shapes, 1);
  g_autofree char *name = g_strdup_printf (
      _ ("%s facing"), pattern_get_piece (p, lay.runs[longest].piece)->name);
  DraftingDraftPiece *piece
      = drafting_shape_give (&shape, draft, "facing", name);
  GeoChain beside = GEO_CHAIN_EMPTY;
  const PatternEdge *start, *end;
  drafting_lay_beside (p, &lay, TRUE, &beside, &start);
  drafting_lay_beside (p, &lay, FALSE, &beside, &end);
  geo_chain_clear (&beside);
  give_faced (p, &lay, piece, &shape);
  give_end (piece, &shape, "start", start);
  give_end (piece, &shape, "end", end);
  static const PatternEdgeKind kinds[]
      = { PATTERN_EDGE_SEAM, PATTERN_EDGE_BOUND, PATTERN_EDGE_RAW };
  PatternEdgeKind kind = kinds[drafting_values_get_choice (v, "inner")];
  double width = drafting_values_get_number (v, "allowance");
  drafting_give_edge (piece, &shape, "inner", _ ("inner edge"), kind, width);
  drafting_give_edge (piece, &shape, "inner-free", _ ("inner edge, free"), kind,
                      width);
  drafting_give_grain (piece, &shape, grain);
  gboolean one = start != NULL && start->kind == PATTERN_EDGE_FOLD;
  drafting_draft_add_cut (piece, PATTERN_SHELL, one ? 1 : 2, !one);
  if (drafting_values_get_yes (v, "interfacing"))
    drafting_draft_add_cut (piece, PATTERN_INTERFACING, one ? 1 : 2, !one);
  sew_facing (draft, &lay, &shape);
  sew_join (p, v, draft, &shape);
  g_autofree char *inner
      = sewing_words_length (p, drafting_shape_length (&shape, "inner"));
  drafting_draft_say (draft, _ ("Inner edge %s."), inner);
  return TRUE;
}

/* --- lining ----------------------------------------------------------------------------- */

static const DraftingParameter lining_parameters[] = {
  { "pieces", DRAFTING_PIECES, N_ ("Pieces lined"), NULL, NULL, NULL, 0, 0 },
  { "facings", DRAFTING_PIECES, N_ ("Their facings"), "", NULL, NULL, 0, 0 },
  { "faced", DRAFTING_EDGES, N_ ("Or edges faced"), "", NULL, NULL, 0, 0 },
  { "depth", DRAFTING_LENGTH, N_ ("Depth of the facing"), "50 mm", NULL, NULL,
    5, 400 },
  { "front-depth", DRAFTING_LENGTH, N_ ("Depth behind the corner"), "", NULL,
    NULL, 5, 600 },
  { "smooth", DRAFTING_LENGTH, N_ ("Inner corner rounded"), "60 mm", NULL, NULL,
    0, 300 },
  { "to", DRAFTING_EDGES, N_ ("Sewn to facings"), "", NULL, NULL, 0, 0 },
  { "shorter", DRAFTING_LENGTH, N_ ("Shorter at the hem by"), "20 mm", NULL,
    NULL, 0, 200 },
  { "pleat", DRAFTING_LENGTH, N_ ("Pleat at the fold"), "12.7 mm", NULL, NULL,
    0, 100 },
  { "hem", DRAFTING_LENGTH, N_ ("Hem allowance"), "20 mm", NULL, NULL, 0, 100 },
  { "allowance", DRAFTING_LENGTH, N_ ("Inner allowance"), "10 mm", NULL, NULL,
    0, 60 },
};

#define MOST_LINED 8
#define MOST_INNER 8

typedef struct
{
  const Pattern *p;
  DraftingLiningWish wish;
  DraftingLay lay; /* of the faced edges, for their ways */
  guint of[DRAFTING_LAY_MOST];
  DraftingFacingWish wishes[DRAFTING_LAY_MOST];
  PatternRun to[DRAFTING_LAY_MOST]; /* facings' inner edges */
  guint n_to;
  guint n;
  const PatternPiece *shells[MOST_LINED];
  DraftingShape shapes[MOST_LINED];
} Lining;

static gboolean
lining_works (gpointer data)
{
  Lining *l = data;
  for (guint i = 0; i < l->n; i++)
    {
      g_auto (DraftingShape) shape = { 0 };
      if (!drafting_lining_shape (l->p, l->shells[i], &l->wish, &shape))
        return FALSE;
    }
  return TRUE;
}

static gboolean
refuse_lining (Lining *l, GError **error)
{
  DraftingLiningWish *w = &l->wish;
  DraftingAmount amounts[] = {
    { &w->shorter, 0, N_ ("Shorter at the hem by"), DRAFTING_AMOUNT_LENGTH },
    { &w->facing.depth, 10, N_ ("Depth of the facing"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->facing.depth_after, 10, N_ ("Depth behind the corner"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->facing.smooth, 0, N_ ("Inner corner rounded"),
      DRAFTING_AMOUNT_LENGTH },
    { &w->pleat, 0, N_ ("Pleat at the fold"), DRAFTING_AMOUNT_LENGTH },
  };
  return drafting_refuse_amounts (
      l->p, amounts, G_N_ELEMENTS (amounts), lining_works, l,
      _ ("No lining of these amounts can be drafted for these pieces: beside "
         "faced edges and hems there should be edges that lead into the "
         "piece, and no piece may have more than 14 edges."),
      error);
}

static char *
piece_part (const PatternPiece *shell)
{
  return g_strdup_printf ("p%u", shell->id);
}

/* The part a shell's edge has on its lining; NULL for one that is not there as itself. */
static const char *
edge_part (const Lining *l, guint i, guint edge)
{
  g_autofree char *part = g_strdup_printf ("e%u", edge);
  return drafting_shape_get (&l->shapes[i], part)->count > 0
             ? g_intern_string (part)
             : NULL;
}

static void
give_lining_edges (const Lining *l, guint i, const DraftingValues *v,
                   DraftingDraftPiece *piece)
{
  const PatternPiece *shell = l->shells[i];
  const DraftingShape *shape = &l->shapes[i];
  double width = drafting_values_get_number (v, "allowance");
  for (guint k = 0; k < shell->n_edges; k++)
    {
      const PatternEdge *e = &shell->edges[k];
      const char *part = edge_part (l, i, e->id);
      double own = e->kind == PATTERN_EDGE_HEM
                       ? drafting_values_get_number (v, "hem")
                       : e->allowance;
      if (part != NULL)
        drafting_give_corner (piece, shape, part, e->name, e->kind, own,
                              e->corner.kind,
                              e->corner.governor == GEO_CORNER_BY_LEAVING);
    }
  for (guint k = 0; k < shape->n_edges; k++)
    if (g_str_has_prefix (shape->edges[k].part, "inner"))
      drafting_give_edge (piece, shape, shape->edges[k].part, _ ("inner edge"),
                          PATTERN_EDGE_SEAM, width);
  drafting_give_edge (piece, shape, "pleat", _ ("pleat"), PATTERN_EDGE_SEAM,
                      width);
  drafting_give_edge (piece, shape, "pleat-hem", _ ("hem of the pleat"),
                      PATTERN_EDGE_HEM, drafting_values_get_number (v, "hem"));
}

/* Notches stay where they were on the cloth, where there still is an edge. */
static void
keep_notches (const Lining *l, guint i, DraftingDraftPiece *piece,
              GeoPoint moved)
{
  const PatternPiece *shell = l->shells[i];
  for (guint k = 0; k < shell->n_notches; k++)
    {
      const PatternNotch *notch = &shell->notches[k];
      const char *part = edge_part (l, i, notch->edge);
      int edge = pattern_piece_find_edge (shell, notch->edge);
      if (part == NULL || edge < 0)
        continue;
      GeoChain own = GEO_CHAIN_EMPTY;
      pattern_piece_edge_chain (shell, (guint)edge, &own);
      double at = pattern_notch_place (notch, geo_chain_length (&own, 1e-9));
      GeoPoint place = geo_add (
          geo_chain_point (&own, geo_chain_at_length (&own, at, 1e-9)), moved);
      geo_chain_clear (&own);
      const GeoChain *chain = drafting_shape_get (&l->shapes[i], part);
      GeoPlace found;
      if (geo_chain_nearest (chain, place, &found) > 0.01)
        continue;
      g_autofree char *name = g_strdup_printf ("n%u", notch->id);
      drafting_draft_add_notch (piece, name, part, notch->count,
                                PATTERN_FROM_START,
                                geo_chain_length_to (chain, found, 1e-9));
    }
}

static void
give_cuts (const Pattern *p, const PatternPiece *shell,
           DraftingDraftPiece *piece)
{
  for (guint i = 0; i < shell->n_cuts; i++)
    {
      const PatternCloth *cloth = pattern_get_cloth (p, shell->cuts[i].cloth);
      if (cloth != NULL && cloth->use == PATTERN_SHELL)
        drafting_draft_add_cut (piece, PATTERN_LINING, shell->cuts[i].count,
                                shell->cuts[i].mirrored);
    }
}

static int
lined_index (const Lining *l, guint piece)
{
  for (guint i = 0; i < l->n; i++)
    if (l->shells[i]->id == piece)
      return (int)i;
  return -1;
}

/* A seam's side on the linings; 0 where any of it is not there. */
static guint
lining_side (const Lining *l, const PatternSide *side, DraftingDraftRun *runs)
{
  for (guint r = 0; r < side->n_runs; r++)
    {
      const PatternRun *run = &side->runs[r];
      int i = lined_index (l, run->piece);
      const char *part = i >= 0 ? edge_part (l, (guint)i, run->edge) : NULL;
      if (part == NULL || r >= MOST_INNER)
        return 0;
      g_autofree char *piece = piece_part (l->shells[i]);
      runs[r] = (DraftingDraftRun){ g_intern_string (piece), part, *run };
    }
  return side->n_runs;
}

/* What is sewn together of the shell is of the lining. */
static void
sew_linings (const Lining *l, DraftingDraft *draft)
{
  for (guint i = 0; i < l->p->n_seams; i++)
    {
      const PatternSeam *seam = l->p->seams[i];
      DraftingDraftRun a[MOST_INNER], b[MOST_INNER];
      guint n_a = lining_side (l, &seam->sides[0], a);
      guint n_b = lining_side (l, &seam->sides[1], b);
      if (n_a == 0 || n_b == 0)
        continue;
      g_autofree char *part = g_strdup_printf ("s%u", seam->id);
      g_autofree char *name
          = g_strdup_printf (_ ("%s of the lining"), seam->name);
      drafting_draft_add_seam (draft, part, name, seam->join, a, n_a, b, n_b,
                               seam->ease, seam->press);
    }
}

/* Inner edges in the order their faced edges are told, each once. */
typedef struct
{
  DraftingDraftRun runs[MOST_INNER];
  double lengths[MOST_INNER];
  guint n;
} Inner;

static void
find_inner (const Lining *l, Inner *inner)
{
  for (guint k = 0; k < l->wish.n_faced; k++)
    {
      const PatternRun *run = &l->wish.faced[k];
      int i = lined_index (l, run->piece);
      g_autofree char *part
          = i >= 0 ? drafting_lining_inner (l->shells[i], &l->wish, run->edge)
                   : NULL;
      if (part == NULL || inner->n >= MOST_INNER)
        continue;
      g_autofree char *piece = piece_part (l->shells[i]);
      const char *own = g_intern_string (piece), *edge = g_intern_string (part);
      gboolean had = FALSE;
      for (guint m = 0; m < inner->n; m++)
        had = had
              || (inner->runs[m].piece_part == own
                  && inner->runs[m].edge_part == edge);
      if (had)
        continue;
      inner->runs[inner->n]
          = (DraftingDraftRun){ own, edge, { 0, 0, run->reversed } };
      inner->lengths[inner->n++] = drafting_shape_length (&l->shapes[i], part);
    }
}

/* Facings' inner edges take the lining's in order, as many as make up their length. A facing lies
 * the same way up as the first piece it faces, so its inner edge runs against the lining's
 * there. */
static void
sew_to_facings (const Lining *l, DraftingDraft *draft)
{
  Inner inner = { 0 };
  find_inner (l, &inner);
  guint next = 0;
  const PatternRun *to = l->to;
  for (guint i = 0; i < l->n_to; i++)
    {
      const PatternPiece *piece;
      const PatternEdge *edge
          = pattern_get_edge (l->p, to[i].piece, to[i].edge, &piece);
      if (edge == NULL)
        continue;
      double length
          = drafting_edge_length (piece, (guint)(edge - piece->edges));
      double sum = 0;
      guint first = next;
      while (next < inner.n && sum < length - 2)
        sum += inner.lengths[next++];
      if (next == first)
        return;
      DraftingDraftRun a = { NULL, NULL, to[i] };
      a.run.reversed = !inner.runs[first].run.reversed;
      g_autofree char *part = g_strdup_printf ("facing-%u", i + 1);
      drafting_draft_add_seam (draft, part, _ ("Lining to facing"),
                               PATTERN_JOIN_SEAM, &a, 1, &inner.runs[first],
                               next - first, 0, PATTERN_PRESS_TO_B);
    }
}

static gboolean
take_shells (const Pattern *p, const DraftingValues *v, Lining *l,
             GError **error)
{
  guint n;
  const PatternRun *pieces = drafting_values_get_runs (v, "pieces", &n);
  if (n > MOST_LINED)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("Up to %d pieces are lined at once."),
                            MOST_LINED);
  for (guint i = 0; i < n; i++)
    {
      const PatternPiece *shell
          = drafting_find_piece (p, pieces[i].piece, error);
      if (shell == NULL)
        return FALSE;
      /* Picked twice it is lined once. */
      if (lined_index (l, shell->id) < 0)
        l->shells[l->n++] = shell;
    }
  return TRUE;
}

static void
give_linings (Lining *l, const DraftingValues *v, DraftingDraft *draft)
{
  DraftingShape *shapes[MOST_LINED];
  GeoPoint before[MOST_LINED];
  for (guint i = 0; i < l->n; i++)
    {
      shapes[i] = &l->shapes[i];
      before[i] = geo_chain_start (&shapes[i]->edges[0].chain);
    }
  drafting_lay_out (l->p, shapes, l->n);
  for (guint i = 0; i < l->n; i++)
    {
      GeoPoint moved
          = geo_sub (geo_chain_start (&shapes[i]->edges[0].chain), before[i]);
      g_autofree char *part = piece_part (l->shells[i]);
      g_autofree char *name
          = g_strdup_printf (_ ("%s lining"), l->shells[i]->name);
      DraftingDraftPiece *piece
          = drafting_shape_give (shapes[i], draft, part, name);
      give_lining_edges (l, i, v, piece);
      keep_notches (l, i, piece, moved);
      drafting_give_grain (piece, shapes[i], grain_way (l->shells[i]));
      give_cuts (l->p, l->shells[i], piece);
    }
}

/* --- what is faced ------------------------------------------------------------------------- */

/* The edges of one linked facing, and how it was drafted. */
static gboolean
add_facing (const Pattern *p, guint piece, guint nth, Lining *l,
            PatternRun *faced, guint *n_faced, GError **error)
{
  const PatternRecipe *recipe = drafting_recipe_of (p, piece);
  g_autoptr (DraftingValues) v
      = recipe != NULL && strcmp (recipe->step->verb, "facing") == 0
            ? drafting_values_new (p, drafting_verb_find ("facing"),
                                   recipe->step, NULL, NULL)
            : NULL;
  if (v == NULL)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("Only linked facings tell what they face. For "
                               "others, pick the edges faced, and the inner "
                               "edges to sew to."));
  guint n;
  const PatternRun *runs = drafting_values_get_runs (v, "edges", &n);
  if (*n_faced + n > DRAFTING_LAY_MOST)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("These facings face more than %d edges."),
                            DRAFTING_LAY_MOST);
  for (guint i = 0; i < n; i++)
    {
      l->of[*n_faced] = nth;
      faced[(*n_faced)++] = runs[i];
    }
  double depth = drafting_values_get_number (v, "depth");
  l->wishes[nth]
      = (DraftingFacingWish){ depth,
                              drafting_number_or (v, "front-depth", depth),
                              drafting_values_get_number (v, "smooth"), 0 };
  l->to[l->n_to++]
      = (PatternRun){ piece, pattern_recipe_get_made (recipe, "facing/e:inner"),
                      FALSE };
  return TRUE;
}

static gboolean
take_faced (const Pattern *p, const DraftingValues *v, Lining *l,
            GError **error)
{
  PatternRun faced[DRAFTING_LAY_MOST];
  const PatternRun *runs = faced;
  guint n = 0, n_facings = 0;
  const PatternRun *facings
      = drafting_values_has (v, "facings")
            ? drafting_values_get_runs (v, "facings", &n_facings)
            : NULL;
  for (guint i = 0; i < MIN (n_facings, DRAFTING_LAY_MOST); i++)
    if (!add_facing (p, facings[i].piece, i, l, faced, &n, error))
      return FALSE;
  if (n > 0)
    {
      l->wish.of = l->of;
      l->wish.wishes = l->wishes;
    }
  else if (drafting_values_has (v, "faced"))
    {
      guint n_to = 0;
      const PatternRun *to = drafting_values_has (v, "to")
                                 ? drafting_values_get_runs (v, "to", &n_to)
                                 : NULL;
      runs = drafting_values_get_runs (v, "faced", &n);
      for (guint i = 0; i < MIN (n_to, DRAFTING_LAY_MOST); i++)
        l->to[l->n_to++] = to[i];
    }
  if (n == 0)
    return TRUE;
  if (!drafting_lay_runs (p, runs, n, &l->lay, error))
    return FALSE;
  l->wish.faced = l->lay.runs;
  l->wish.n_faced = n;
  return TRUE;
}

static gboolean
draft_lining (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
              GError **error)
{
  Lining l = { .p = p };
  if (!take_shells (p, v, &l, error))
    return FALSE;
  double depth = drafting_values_get_number (v, "depth");
  l.wish.facing
      = (DraftingFacingWish){ depth,
                              drafting_number_or (v, "front-depth", depth),
                              drafting_values_get_number (v, "smooth"), 0 };
  l.wish.shorter = drafting_values_get_number (v, "shorter");
  l.wish.pleat = drafting_values_get_number (v, "pleat");
  if (!take_faced (p, v, &l, error))
    return FALSE;
  gboolean drawn = TRUE;
  for (guint i = 0; drawn && i < l.n; i++)
    drawn = drafting_lining_shape (p, l.shells[i], &l.wish, &l.shapes[i]);
  if (drawn)
    {
      give_linings (&l, v, draft);
      sew_linings (&l, draft);
      sew_to_facings (&l, draft);
    }
  else
    refuse_lining (&l, error);
  for (guint i = 0; i < l.n; i++)
    drafting_shape_clear (&l.shapes[i]);
  drafting_lay_clear (&l.lay);
  return drawn;
}

/* --- table ------------------------------------------------------------------------------- */

static const DraftingVerb verbs[] = {
  { "facing", N_ ("Facing"),
    N_ ("Pick edges that follow each other, over seams and darts too: a "
        "facing is cut to them, its inner edge at a depth."),
    DRAFTING_GROUP_DRAFT, facing_parameters, G_N_ELEMENTS (facing_parameters),
    NULL, draft_facing, NULL },
  { "lining", N_ ("Lining"),
    N_ ("Pick pieces, and which of their edges are faced: each gets a lining, "
        "less the facing, shorter at the hem, with a pleat at the fold."),
    DRAFTING_GROUP_DRAFT, lining_parameters, G_N_ELEMENTS (lining_parameters),
    NULL, draft_lining, NULL },
};

const DraftingVerb *
drafting_verbs_of_linings (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
