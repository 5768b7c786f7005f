/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A draft laid into a pattern.
 *
 * A piece is built as drafted, with the numbers its parts have; hand changes are laid on;
 * then it is put where its frame lies, and what is hers (names, allowances, kinds, cuts, her own
 * marks) is taken over from the piece that was there. Frames: see recipe.h. A hand
 * change is told for the outline walked with a positive area in the frame, so `in` and `out` mean the same
 * whether or not the piece was turned over since.
 */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "drafting/recipe.h"
#include "sewing/words.h"

/* Parts that moved less are where they were: rounding of a frame's motion. */
#define SAME_PLACE 1e-7 /* mm */

typedef struct
{
  Pattern *p;
  PatternRecipe *recipe;
  GHashTable *here;   /* parts drafted this time */
  GHashTable *turned; /* parts of pieces that lie the other way round than
                         drafted */
} Laying;

static guint
take_part (Laying *l, const char *part)
{
  guint id = pattern_recipe_get_made (l->recipe, part);
  if (id == 0)
    {
      id = pattern_take_id (l->p);
      pattern_recipe_put_made (l->recipe, part, id);
    }
  g_hash_table_add (l->here, g_strdup (part));
  return id;
}

static const PatternHandChange *
change_of (const Laying *l, const char *part)
{
  return pattern_recipe_get_change (l->recipe, part);
}

static gboolean
is_gone (const Laying *l, const char *part)
{
  const PatternHandChange *change = change_of (l, part);
  return change && change->gone;
}

/* --- a piece as drafted ------------------------------------------------------------- */
static PatternPiece *
build_outline (Laying *l, const DraftingDraftPiece *d)
{
  PatternPiece *piece = pattern_piece_new (take_part (l, d->part), d->name);
  piece->nodes = g_memdup2 (d->nodes, d->n_nodes * sizeof *d->nodes);
  piece->n_nodes = d->n_nodes;
  for (guint i = 0; i < d->n_nodes; i++)
    piece->nodes[i].id = take_part (l, d->node_parts[i]);
  for (guint i = 0; i < d->edges->len; i++)
    {
      const DraftEdge *e = &g_array_index (d->edges, DraftEdge, i);
      PatternEdge edge = { .id = take_part (l, e->part),
                           .name = e->name,
                           .kind = e->kind,
                           .allowance = e->allowance,
                           .corner = e->corner };
      pattern_piece_insert_edge (piece, d->firsts[i], edge);
    }
  return piece;
}

/* From the drafted frame to where it was drafted. */
static GeoMotion
frame_as_drafted (const DraftingDraftPiece *d)
{
  GeoPoint along = geo_point (1, 0);
  if (d->has_grain && !geo_same (d->grain_from, d->grain_to))
    along = geo_unit (geo_sub (d->grain_to, d->grain_from));
  return (GeoMotion){ along.x, along.y, d->nodes[0].at.x, d->nodes[0].at.y,
                      false };
}

static void
change_nodes (const Laying *l, const DraftingDraftPiece *d, PatternPiece *piece,
              GeoMotion frame)
{
  for (guint i = 0; i < d->n_nodes; i++)
    {
      const PatternHandChange *c = change_of (l, d->node_parts[i]);
      int index = c ? pattern_piece_find_node (
                      piece, pattern_recipe_get_made (l->recipe, c->part))
                    : -1;
      if (index < 0)
        continue;
      PatternNode *node = &piece->nodes[index];
      GeoPoint in = geo_sub (node->in, node->at);
      GeoPoint out = geo_sub (node->out, node->at);
      in = geo_add (in, geo_motion_turn (frame, c->in));
      out = geo_add (out, geo_motion_turn (frame, c->out));
      node->at = geo_add (node->at, geo_motion_turn (frame, c->at));
      node->in = geo_add (node->at, in);
      node->out = geo_add (node->at, out);
      if (c->kind >= 0)
        node->kind = (PatternNodeKind)c->kind;
    }
}

/* --- marks as drafted --------------------------------------------------------------- */
static void
change_notch (const Laying *l, const char *part, const PatternPiece *piece,
              guint edge, PatternNotch *notch)
{
  const PatternHandChange *c = change_of (l, part);
  if (!c || c->at.x == 0)
    return;
  double length = drafting_edge_length (piece, edge);
  if (notch->from == PATTERN_FROM_START)
    notch->amount += c->at.x;
  else if (notch->from == PATTERN_FROM_END)
    notch->amount -= c->at.x;
  else if (length > 0)
    notch->amount = CLAMP (notch->amount + c->at.x / length, 0, 1);
}

static gboolean
build_notches (Laying *l, const DraftingDraftPiece *d, PatternPiece *piece,
               GError **error)
{
  for (guint i = 0; i < d->notches->len; i++)
    {
      const DraftNotch *n = &g_array_index (d->notches, DraftNotch, i);
      PatternNotch notch = n->notch;
      notch.id = take_part (l, n->part);
      if (d->on == 0)
        notch.edge = pattern_recipe_get_made (l->recipe, n->edge);
      int edge = drafting_find_edge (piece, notch.edge, error);
      if (edge < 0)
        return FALSE;
      change_notch (l, n->part, piece, (guint)edge, &notch);
      if (!is_gone (l, n->part))
        pattern_piece_add_notch (piece, notch);
    }
  return TRUE;
}

static void
build_marks (Laying *l, const DraftingDraftPiece *d, PatternPiece *piece,
             GeoMotion frame)
{
  for (guint i = 0; i < d->marks->len; i++)
    {
      const DraftMark *m = &g_array_index (d->marks, DraftMark, i);
      PatternButtonhole hole = m->hole;
      hole.id = take_part (l, m->part);
      const PatternHandChange *c = change_of (l, m->part);
      if (c && c->gone)
        continue;
      if (c)
        {
          hole.at = geo_add (hole.at, geo_motion_turn (frame, c->at));
          hole.angle += c->in.y;
        }
      if (hole.length < 0)
        pattern_piece_add_drill (piece, (PatternDrill){ hole.id, hole.at });
      else
        {
          hole.length = MAX (hole.length + (c ? c->in.x : 0), 0);
          pattern_piece_add_buttonhole (piece, hole);
        }
    }
}

/* Nodes of inner lines are numbered anew where their count changed. */
static void
build_lines (Laying *l, const DraftingDraftPiece *d, PatternPiece *piece,
             GeoMotion frame)
{
  for (guint i = 0; i < d->lines->len; i++)
    {
      const DraftLine *line = &g_array_index (d->lines, DraftLine, i);
      guint id = take_part (l, line->part);
      const PatternHandChange *c = change_of (l, line->part);
      if (c && c->gone)
        continue;
      g_autofree PatternNode *nodes = g_memdup2 (
          line->line.nodes, line->line.n_nodes * sizeof (PatternNode));
      GeoPoint by = c ? geo_motion_turn (frame, c->at) : geo_point (0, 0);
      for (guint k = 0; k < line->line.n_nodes; k++)
        {
          g_autofree char *part = g_strdup_printf ("%s/%u", line->part, k);
          nodes[k].id = take_part (l, part);
          nodes[k].at = geo_add (nodes[k].at, by);
          nodes[k].in = geo_add (nodes[k].in, by);
          nodes[k].out = geo_add (nodes[k].out, by);
        }
      pattern_piece_add_line (piece, id, line->line.name, nodes,
                              line->line.n_nodes);
    }
}

static void
build_grain (const Laying *l, const DraftingDraftPiece *d, PatternPiece *piece,
             GeoMotion frame)
{
  g_autofree char *part = g_strdup_printf ("%s/grain", d->part);
  const PatternHandChange *c = change_of (l, part);
  piece->has_grain = d->has_grain && !(c && c->gone);
  piece->grain_from = d->grain_from;
  piece->grain_to = d->grain_to;
  if (piece->has_grain && c)
    {
      piece->grain_from
          = geo_add (piece->grain_from, geo_motion_turn (frame, c->at));
      piece->grain_to
          = geo_add (piece->grain_to, geo_motion_turn (frame, c->in));
    }
}

/* --- what is hers ----------------------------------------------------------------- */
static guint
cloth_of_use (Pattern *p, PatternClothUse use)
{
  for (guint i = 0; i < p->n_cloths; i++)
    if (p->cloths[i].use == use)
      return p->cloths[i].id;
  static const char *const names[]
      = { N_ ("shell"), N_ ("lining"), N_ ("interfacing"), N_ ("other cloth") };
  static const double thickness[] = { 0.5, 0.2, 0.3, 0.5 };
  PatternCloth cloth = {
    .id = pattern_take_id (p),
    .name = (char *)_ (names[use]),
    .use = use,
    .width = use == PATTERN_INTERFACING ? 900 : 1500,
    .thickness = thickness[use],
    .give = 0.04,
    .tint = (p->n_cloths) % 8,
  };
  pattern_put_cloth (p, &cloth);
  return cloth.id;
}

static void
settle_first (Laying *l, const DraftingDraftPiece *d, PatternPiece *piece)
{
  for (guint i = 0; i < d->cuts->len; i++)
    {
      PatternCut cut = g_array_index (d->cuts, PatternCut, i);
      cut.cloth = cloth_of_use (l->p, (PatternClothUse)cut.cloth);
      pattern_piece_add_cut (piece, cut);
    }
  if (d->note)
    pattern_set_string (&piece->note, d->note);
}

static void
keep_edges (PatternPiece *piece, const PatternPiece *old)
{
  for (guint i = 0; i < piece->n_edges; i++)
    {
      PatternEdge *edge = &piece->edges[i];
      int index = pattern_piece_find_edge (old, edge->id);
      if (index < 0)
        continue;
      PatternEdge was = old->edges[index];
      g_free (edge->name);
      g_free (edge->extra);
      was.first = edge->first;
      was.name = g_strdup (was.name);
      was.extra = g_strdup (was.extra);
      *edge = was;
    }
}

/* Marks that are not the recipe's. A notch whose edge is no longer drafted can't be
 * kept, and is not dropped in silence. */
static gboolean
keep_marks (const Laying *l, PatternPiece *piece, const PatternPiece *old,
            GError **error)
{
  for (guint i = 0; i < old->n_notches; i++)
    {
      const PatternNotch *notch = &old->notches[i];
      if (pattern_recipe_find_made (l->recipe, notch->id))
        {
          for (guint k = 0; k < piece->n_notches; k++)
            if (piece->notches[k].id == notch->id)
              piece->notches[k].count = notch->count;
          continue;
        }
      if (pattern_piece_find_edge (piece, notch->edge) < 0)
        {
          g_autofree char *name
              = sewing_words_edge_of (l->p, old->id, notch->edge);
          return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                                  _ ("%s is no longer drafted, but carries a "
                                     "notch of yours. Take the notch away, or "
                                     "let the piece go."),
                                  name);
        }
      pattern_piece_add_notch (piece, *notch);
    }
  for (guint i = 0; i < old->n_buttonholes; i++)
    if (!pattern_recipe_find_made (l->recipe, old->buttonholes[i].id))
      pattern_piece_add_buttonhole (piece, old->buttonholes[i]);
  for (guint i = 0; i < old->n_drills; i++)
    if (!pattern_recipe_find_made (l->recipe, old->drills[i].id))
      pattern_piece_add_drill (piece, old->drills[i]);
  for (guint i = 0; i < old->n_texts; i++)
    {
      const PatternText *t = &old->texts[i];
      pattern_piece_add_text (piece, t->id, t->at, t->angle, t->size, t->text);
    }
  for (guint i = 0; i < old->n_lines; i++)
    {
      const PatternLine *line = &old->lines[i];
      if (!pattern_recipe_find_made (l->recipe, line->id))
        pattern_piece_add_line (piece, line->id, line->name, line->nodes,
                                line->n_nodes);
    }
  return TRUE;
}

static gboolean
keep_hers (const Laying *l, PatternPiece *piece, const PatternPiece *old,
           GError **error)
{
  pattern_set_string (&piece->name, old->name);
  pattern_set_string (&piece->note, old->note);
  pattern_set_string (&piece->extra, old->extra);
  piece->grain_both_ways = old->grain_both_ways;
  for (guint i = 0; i < old->n_cuts; i++)
    pattern_piece_add_cut (piece, old->cuts[i]);
  keep_edges (piece, old);
  return keep_marks (l, piece, old, error);
}

/* --- in its place ------------------------------------------------------------------ */
static gboolean
snap (GeoPoint *to, GeoPoint from)
{
  if (geo_distance (*to, from) > SAME_PLACE)
    return FALSE;
  *to = from;
  return TRUE;
}

/* Where only rounding tells the piece from the old one, it is the old one: nothing that
 * was computed from that has to be computed again. */
static void
snap_to_old (PatternPiece *piece, const PatternPiece *old)
{
  if (piece->n_nodes != old->n_nodes)
    return;
  for (guint i = 0; i < piece->n_nodes; i++)
    {
      snap (&piece->nodes[i].at, old->nodes[i].at);
      snap (&piece->nodes[i].in, old->nodes[i].in);
      snap (&piece->nodes[i].out, old->nodes[i].out);
    }
  snap (&piece->grain_from, old->grain_from);
  snap (&piece->grain_to, old->grain_to);
  for (guint i = 0; i < MIN (piece->n_notches, old->n_notches); i++)
    if (fabs (piece->notches[i].amount - old->notches[i].amount) < SAME_PLACE)
      piece->notches[i].amount = old->notches[i].amount;
  for (guint i = 0; i < MIN (piece->n_buttonholes, old->n_buttonholes); i++)
    if (snap (&piece->buttonholes[i].at, old->buttonholes[i].at)
        && fabs (piece->buttonholes[i].angle - old->buttonholes[i].angle)
               < 1e-12)
      piece->buttonholes[i].angle = old->buttonholes[i].angle;
  for (guint i = 0; i < MIN (piece->n_drills, old->n_drills); i++)
    snap (&piece->drills[i].at, old->drills[i].at);
  for (guint i = 0; i < MIN (piece->n_lines, old->n_lines); i++)
    for (guint k = 0; k < MIN (piece->lines[i].n_nodes, old->lines[i].n_nodes);
         k++)
      {
        snap (&piece->lines[i].nodes[k].at, old->lines[i].nodes[k].at);
        snap (&piece->lines[i].nodes[k].in, old->lines[i].nodes[k].in);
        snap (&piece->lines[i].nodes[k].out, old->lines[i].nodes[k].out);
      }
}

static gboolean
refuse_shape (const PatternPiece *piece, gboolean by_hand, GError **error)
{
  g_autofree char *name = sewing_words_piece (piece);
  return drafting_refuse (
      error, DRAFTING_ERROR_SHAPE,
      by_hand
          ? _ ("The changes made by hand would turn %s over or leave it no "
               "area. Take them back in its panel, or let it go.")
          : _ ("These amounts leave no area in %s, or put a part of it more "
               "than 100 m away."),
      name);
}

/* The motion from where it was drafted to where it lies. */
static GeoMotion
place_of (Laying *l, const DraftingDraftPiece *d, GeoMotion frame,
          gboolean first)
{
  PatternMade *made = pattern_recipe_put_made (
      l->recipe, d->part, pattern_recipe_get_made (l->recipe, d->part));
  if (first)
    made->frame = frame;
  return geo_motion_then (geo_motion_inverse (frame), made->frame);
}

static gboolean
shape_piece (Laying *l, const DraftingDraftPiece *d, PatternPiece *piece,
             GeoMotion frame, GError **error)
{
  if (!build_notches (l, d, piece, error))
    return FALSE;
  if (!drafting_piece_in_reach (piece)
      || fabs (pattern_piece_area (piece)) < DRAFTING_LEAST_AREA)
    return refuse_shape (piece, FALSE, error);
  gboolean turned = pattern_piece_area (piece) < 0;
  if (turned)
    pattern_piece_turn_round (piece);
  change_nodes (l, d, piece, frame);
  if (!(pattern_piece_area (piece) > DRAFTING_LEAST_AREA))
    return refuse_shape (piece, TRUE, error);
  build_marks (l, d, piece, frame);
  build_lines (l, d, piece, frame);
  build_grain (l, d, piece, frame);
  if (turned)
    g_hash_table_add (l->turned, g_strdup (d->part));
  return TRUE;
}

static gboolean
lay_piece (Laying *l, const DraftingDraftPiece *d, GError **error)
{
  gboolean first = pattern_recipe_get_made (l->recipe, d->part) == 0;
  g_autoptr (PatternPiece) piece = build_outline (l, d);
  if (is_gone (l, d->part))
    return TRUE;
  GeoMotion frame = frame_as_drafted (d);
  if (!shape_piece (l, d, piece, frame, error))
    return FALSE;
  GeoMotion place = place_of (l, d, frame, first);
  pattern_piece_move (piece, place);
  if (place.flip && !g_hash_table_remove (l->turned, d->part))
    g_hash_table_add (l->turned, g_strdup (d->part));
  if (!drafting_piece_in_reach (piece))
    return refuse_shape (piece, FALSE, error);
  const PatternPiece *old = pattern_get_piece (l->p, piece->id);
  if (!old)
    settle_first (l, d, piece);
  else if (!keep_hers (l, piece, old, error))
    return FALSE;
  else
    snap_to_old (piece, old);
  if (!old || !pattern_piece_equal (piece, old))
    pattern_put_piece (l->p, g_steal_pointer (&piece));
  return TRUE;
}

/* --- marks on a piece that is there -------------------------------------------------- */
static void
remove_own_marks (const Laying *l, const char *prefix, PatternPiece *piece)
{
  for (guint i = 0; i < l->recipe->n_made; i++)
    if (g_str_has_prefix (l->recipe->made[i].part, prefix))
      pattern_piece_remove_mark (piece, l->recipe->made[i].id);
}

static gboolean
lay_on_piece (Laying *l, const DraftingDraftPiece *d, GError **error)
{
  const PatternPiece *old = drafting_find_piece (l->p, d->on, error);
  if (!old)
    return FALSE;
  g_autoptr (PatternPiece) piece = pattern_piece_dup (old);
  g_autofree char *prefix = g_strdup_printf ("%s/", d->part);
  remove_own_marks (l, prefix, piece);
  if (!build_notches (l, d, piece, error))
    return FALSE;
  build_marks (l, d, piece, geo_motion_none ());
  build_lines (l, d, piece, geo_motion_none ());
  if (!drafting_piece_in_reach (piece))
    return refuse_shape (piece, FALSE, error);
  snap_to_old (piece, old);
  if (!pattern_piece_equal (piece, old))
    pattern_put_piece (l->p, g_steal_pointer (&piece));
  return TRUE;
}

/* A piece that carries marks no more. */
static void
clear_left_marks (Laying *l)
{
  for (guint i = 0; i < l->recipe->n_made; i++)
    {
      const PatternMade *made = &l->recipe->made[i];
      if (!g_str_has_prefix (made->part, "on") || !strstr (made->part, "/m:")
          || g_hash_table_contains (l->here, made->part))
        continue;
      guint id = (guint)g_ascii_strtoull (made->part + 2, NULL, 10);
      const PatternPiece *old = pattern_get_piece (l->p, id);
      g_autoptr (PatternPiece) piece = old ? pattern_piece_dup (old) : NULL;
      if (piece && pattern_piece_remove_mark (piece, made->id))
        pattern_put_piece (l->p, g_steal_pointer (&piece));
    }
}

/* --- seams ------------------------------------------------------------------------ */
/* FALSE where its piece was taken away. */
static gboolean
settle_run (const Laying *l, const DraftRun *run, PatternRun *out)
{
  *out = run->run;
  if (run->piece)
    {
      out->piece = pattern_recipe_get_made (l->recipe, run->piece);
      out->edge = pattern_recipe_get_made (l->recipe, run->edge);
      if (g_hash_table_contains (l->turned, run->piece))
        out->reversed = !out->reversed;
    }
  return pattern_get_edge (l->p, out->piece, out->edge, NULL) != NULL;
}

/* Spans between marks of the recipe's own are the recipe's. */
static void
lay_spans (const Laying *l, const DraftSeam *s, PatternSeam *seam)
{
  for (guint i = seam->n_spans; i-- > 0;)
    {
      PatternEaseSpan span = seam->spans[i];
      if (pattern_recipe_find_made (l->recipe, span.from)
          && pattern_recipe_find_made (l->recipe, span.to))
        pattern_seam_remove_span (seam, span.from, span.to);
    }
  for (guint i = 0; i < s->spans->len; i++)
    {
      const DraftSpan *d = &g_array_index (s->spans, DraftSpan, i);
      PatternEaseSpan span
          = { .from = pattern_recipe_get_made (l->recipe, d->from),
              .to = pattern_recipe_get_made (l->recipe, d->to),
              .amount = d->amount };
      if (span.from != 0 && span.to != 0 && !is_gone (l, d->from)
          && !is_gone (l, d->to))
        pattern_seam_put_span (seam, span);
    }
}

static void
lay_seam (Laying *l, const DraftSeam *s)
{
  guint id = take_part (l, s->part);
  const PatternHandChange *c = change_of (l, s->part);
  if (c && c->gone)
    return;
  const PatternSeam *old = pattern_get_seam (l->p, id);
  g_autoptr (PatternSeam) seam
      = old ? pattern_seam_dup (old) : pattern_seam_new (id, s->name);
  if (!old)
    seam->press = s->press;
  seam->sides[0].n_runs = seam->sides[1].n_runs = 0;
  seam->join = s->join;
  seam->ease = s->ease + (c ? c->at.x : 0);
  for (int side = 0; side < 2; side++)
    for (guint i = 0; i < s->sides[side]->len; i++)
      {
        PatternRun run;
        if (settle_run (l, &g_array_index (s->sides[side], DraftRun, i), &run))
          pattern_seam_add_run (seam, side, run);
      }
  if (seam->sides[0].n_runs == 0 || seam->sides[1].n_runs == 0)
    {
      if (old)
        pattern_remove_seam (l->p, id);
      return;
    }
  lay_spans (l, s, seam);
  if (!old || !pattern_seam_equal (old, seam))
    pattern_put_seam (l->p, g_steal_pointer (&seam));
}

/* --- what is not drafted any more ----------------------------------------------------- */
static void
remove_left_parts (Laying *l)
{
  for (guint i = 0; i < l->recipe->n_made; i++)
    {
      const PatternMade *made = &l->recipe->made[i];
      if (g_hash_table_contains (l->here, made->part))
        continue;
      if (pattern_part_is_piece (made->part))
        pattern_remove_piece (l->p, made->id);
      else if (g_str_has_prefix (made->part, "s:"))
        pattern_remove_seam (l->p, made->id);
    }
}

/* A seam that is not the recipe's along an edge that is no longer drafted. */
static gboolean
no_seam_is_cut (const Laying *l, GError **error)
{
  for (guint i = 0; i < l->p->n_seams; i++)
    for (int s = 0; s < 2; s++)
      for (guint r = 0; r < l->p->seams[i]->sides[s].n_runs; r++)
        {
          const PatternRun *run = &l->p->seams[i]->sides[s].runs[r];
          if (pattern_get_edge (l->p, run->piece, run->edge, NULL))
            continue;
          g_autofree char *name = sewing_words_seam (l->p->seams[i]);
          return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                                  _ ("An edge that %s runs along is no longer "
                                     "drafted. Take that seam away first, or "
                                     "let the piece go."),
                                  name);
        }
  return TRUE;
}

static gboolean
is_own (const PatternRecipe *recipe, guint id)
{
  return pattern_recipe_find_made (recipe, id) != NULL;
}

/* What she put on a piece that goes: marks, and seams with it. */
static gboolean
carries_hers (const Laying *l, const PatternPiece *piece)
{
  for (guint i = 0; i < l->p->n_seams; i++)
    for (int s = 0; s < 2; s++)
      for (guint r = 0; r < l->p->seams[i]->sides[s].n_runs; r++)
        if (l->p->seams[i]->sides[s].runs[r].piece == piece->id
            && !is_own (l->recipe, l->p->seams[i]->id))
          return TRUE;
  for (guint i = 0; i < piece->n_notches; i++)
    if (!is_own (l->recipe, piece->notches[i].id))
      return TRUE;
  for (guint i = 0; i < piece->n_texts; i++)
    if (!is_own (l->recipe, piece->texts[i].id))
      return TRUE;
  for (guint i = 0; i < piece->n_drills; i++)
    if (!is_own (l->recipe, piece->drills[i].id))
      return TRUE;
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (!is_own (l->recipe, piece->buttonholes[i].id))
      return TRUE;
  return FALSE;
}

static gboolean
no_piece_of_hers_goes (const Laying *l, GError **error)
{
  for (guint i = 0; i < l->recipe->n_made; i++)
    {
      const PatternMade *made = &l->recipe->made[i];
      if (g_hash_table_contains (l->here, made->part)
          || !pattern_part_is_piece (made->part))
        continue;
      const PatternPiece *piece = pattern_get_piece (l->p, made->id);
      if (piece != NULL && carries_hers (l, piece))
        return drafting_refuse (
            error, DRAFTING_ERROR_SHAPE,
            _ ("“%s” is no longer drafted, but carries a seam or a mark of "
               "yours. Take that away first, or let the piece go."),
            piece->name);
    }
  return TRUE;
}

static gboolean
lay_all (Laying *l, const DraftingDraft *draft, GError **error)
{
  for (guint i = 0; i < draft->pieces->len; i++)
    {
      const DraftingDraftPiece *d = draft->pieces->pdata[i];
      if (!(d->on == 0 ? lay_piece (l, d, error) : lay_on_piece (l, d, error)))
        return FALSE;
    }
  for (guint i = 0; i < draft->seams->len; i++)
    lay_seam (l, &g_array_index (draft->seams, DraftSeam, i));
  if (!no_piece_of_hers_goes (l, error))
    return FALSE;
  remove_left_parts (l);
  clear_left_marks (l);
  return no_seam_is_cut (l, error);
}

gboolean
drafting_recipe_lay (Pattern *p, PatternRecipe *recipe,
                     const DraftingDraft *draft, GError **error)
{
  g_autoptr (GHashTable) here
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) turned
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Laying l = { p, recipe, here, turned };
  return lay_all (&l, draft, error);
}
