/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/change-private.h"
#include "geometry/crossing.h"
#include "geometry/length.h"
#include "geometry/nearest.h"
#include "geometry/region.h"
#include "sewing/words.h"

#define AT_NODE 1e-6 /* mm: a place this near a node is that node */

/* Where a notch sits on the paper: a length along the side that starts at a node,
 * and the same from its end, should that node go. */
typedef struct
{
  guint notch, before, after;
  double from_before, to_after;
  guint edge; /* as it was */
  double place;
} Held;

/* --- life ----------------------------------------------------------------------- */
static gboolean
crosses_itself (const PatternPiece *piece)
{
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &outline);
  gboolean crosses = geo_chain_crosses_itself (&outline);
  geo_chain_clear (&outline);
  return crosses;
}

gboolean
drafting_change_begin (DraftingChange *c, const Pattern *p, guint piece,
                       GError **error)
{
  *c = (DraftingChange){ .before = p };
  c->piece = drafting_begin (p, piece, error);
  if (!c->piece)
    return FALSE;
  c->pattern = pattern_dup (p);
  c->crossed = crosses_itself (c->piece);
  return TRUE;
}

void
drafting_change_clear (DraftingChange *c)
{
  g_clear_pointer (&c->piece, pattern_piece_unref);
  g_clear_pointer (&c->pattern, pattern_unref);
  g_clear_pointer (&c->held, g_array_unref);
}

/* --- notches --------------------------------------------------------------------- */
static double
side_length (const PatternPiece *piece, guint node)
{
  GeoCubic side = pattern_piece_cubic (piece, node);
  return geo_cubic_length (&side, DRAFTING_EXACT);
}

static void
hold_notch (DraftingChange *c, const PatternNotch *notch)
{
  const PatternPiece *piece = c->piece;
  int edge = pattern_piece_find_edge (piece, notch->edge);
  g_return_if_fail (edge >= 0);
  double left
      = pattern_notch_place (notch, drafting_edge_length (piece, (guint)edge));
  Held held = { .notch = notch->id, .edge = notch->edge, .place = left };
  guint i = piece->edges[edge].first;
  guint last = pattern_piece_edge_last (piece, (guint)edge);
  double length = side_length (piece, i % piece->n_nodes);
  for (; i + 1 < last && left > length; i++)
    {
      left -= length;
      length = side_length (piece, (i + 1) % piece->n_nodes);
    }
  held.before = piece->nodes[i % piece->n_nodes].id;
  held.after = piece->nodes[(i + 1) % piece->n_nodes].id;
  held.from_before = left;
  held.to_after = MAX (length - left, 0);
  g_array_append_val (c->held, held);
}

void
drafting_change_hold (DraftingChange *c)
{
  g_clear_pointer (&c->held, g_array_unref);
  c->held = g_array_new (FALSE, FALSE, sizeof (Held));
  for (guint i = 0; i < c->piece->n_notches; i++)
    hold_notch (c, &c->piece->notches[i]);
}

static void
settle_notch (PatternPiece *piece, const Held *held)
{
  PatternNotch *notch
      = (PatternNotch *)pattern_piece_get_notch (piece, held->notch);
  if (!notch)
    return;
  guint n = piece->n_nodes;
  int before = pattern_piece_find_node (piece, held->before);
  int after = pattern_piece_find_node (piece, held->after);
  if (before < 0 && after < 0)
    return;
  guint node = before >= 0 ? (guint)before : ((guint)after + n - 1) % n;
  double side = side_length (piece, node);
  double place = before >= 0 ? MIN (held->from_before, side)
                             : MAX (side - held->to_after, 0);
  guint edge = pattern_piece_edge_of_node (piece, node);
  for (guint i = piece->edges[edge].first; i < node; i++)
    place += side_length (piece, i);
  double length = drafting_edge_length (piece, edge);
  if (notch->edge == piece->edges[edge].id
      && fabs (pattern_notch_place (notch, length) - place) < 1e-9)
    return;
  notch->edge = piece->edges[edge].id;
  notch->amount = place;
  if (notch->from == PATTERN_FROM_END)
    notch->amount = MAX (length - place, 0);
  else if (notch->from == PATTERN_FRACTION)
    notch->amount = length > 0 ? CLAMP (place / length, 0, 1) : 0;
}

/* --- finishing -------------------------------------------------------------------- */
Pattern *
drafting_change_finish (DraftingChange *c, GError **error)
{
  PatternPiece *piece = c->piece;
  for (guint i = 0; c->held && i < c->held->len; i++)
    settle_notch (piece, &g_array_index (c->held, Held, i));
  g_autofree char *name = sewing_words_piece (piece);
  double area = pattern_piece_area (piece);
  if (!isfinite (area) || area < DRAFTING_LEAST_AREA)
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("That would leave no area in %s. Nothing was "
                          "changed."),
                       name);
      return NULL;
    }
  if (!c->crossed && crosses_itself (piece))
    {
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("That would fold %s over itself. Nothing was "
                          "changed."),
                       name);
      return NULL;
    }
  return drafting_finish (c->pattern, g_steal_pointer (&c->piece), NULL, error);
}

/* --- nodes ------------------------------------------------------------------------- */
guint
drafting_change_index (const DraftingChange *c, guint node)
{
  int index = pattern_piece_find_node (c->piece, node);
  g_return_val_if_fail (index >= 0, 0);
  return (guint)index;
}

PatternNode *
drafting_change_node (const DraftingChange *c, guint node)
{
  return &c->piece->nodes[drafting_change_index (c, node)];
}

gboolean
drafting_change_starts_edge (const DraftingChange *c, guint node)
{
  guint i = drafting_change_index (c, node);
  guint edge = pattern_piece_edge_of_node (c->piece, i);
  return c->piece->edges[edge].first == i;
}

/* The side from node i cut at t. */
static guint
cut_side (DraftingChange *c, guint i, double t)
{
  PatternPiece *piece = c->piece;
  PatternNode *from = &piece->nodes[i];
  PatternNode *to = &piece->nodes[(i + 1) % piece->n_nodes];
  PatternNode node = { .id = pattern_take_id (c->pattern) };
  if (pattern_nodes_are_straight (from, to))
    node.at = node.in = node.out = geo_lerp (from->at, to->at, t);
  else
    {
      GeoCubic whole = pattern_piece_cubic (piece, i), a, b;
      geo_cubic_split (&whole, t, &a, &b);
      node.kind = PATTERN_NODE_SMOOTH;
      node.at = a.p[3];
      node.in = a.p[2];
      node.out = b.p[1];
      from->out = a.p[1];
      to->in = b.p[2];
      if (from->kind == PATTERN_NODE_SYMMETRIC)
        from->kind = PATTERN_NODE_SMOOTH;
      if (to->kind == PATTERN_NODE_SYMMETRIC)
        to->kind = PATTERN_NODE_SMOOTH;
    }
  pattern_piece_insert_node (piece, i + 1, node);
  return node.id;
}

guint
drafting_change_node_at (DraftingChange *c, guint edge, double at,
                         GError **error)
{
  PatternPiece *piece = c->piece;
  int index = drafting_find_edge (piece, edge, error);
  if (index < 0 || !drafting_number_is_good (at, error))
    return 0;
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, (guint)index, &chain);
  GeoRuler ruler;
  geo_ruler_init (&ruler, &chain, DRAFTING_EXACT);
  double length = geo_ruler_length (&ruler);
  GeoPlace place = geo_ruler_place (&ruler, CLAMP (at, 0, length));
  double before = at - ruler.before[place.cubic];
  double after = ruler.before[place.cubic + 1] - at;
  geo_ruler_clear (&ruler);
  geo_chain_clear (&chain);
  if (at < -AT_NODE || at > length + AT_NODE)
    {
      g_autofree char *most = sewing_words_length (c->before, length);
      g_autofree char *name = sewing_words_edge (piece, (guint)index);
      drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                       _ ("That place is beyond the end of %s, which is %s "
                          "long. Nothing was changed."),
                       name, most);
      return 0;
    }
  guint i = (piece->edges[index].first + (guint)place.cubic) % piece->n_nodes;
  if (before < AT_NODE)
    return piece->nodes[i].id;
  if (after < AT_NODE)
    return piece->nodes[(i + 1) % piece->n_nodes].id;
  return cut_side (c, i, place.t);
}

guint
drafting_change_part (DraftingChange *c, guint node)
{
  guint i = drafting_change_index (c, node);
  PatternNode *second = &c->piece->nodes[i];
  PatternNode first = *second;
  first.id = pattern_take_id (c->pattern);
  first.kind = PATTERN_NODE_CORNER;
  first.out = first.at;
  second->kind = PATTERN_NODE_CORNER;
  second->in = second->at;
  pattern_piece_insert_node (c->piece, i, first);
  return first.id;
}

guint
drafting_change_insert (DraftingChange *c, guint before, GeoPoint at)
{
  PatternNode node = { .id = pattern_take_id (c->pattern),
                       .kind = PATTERN_NODE_CORNER,
                       .at = at,
                       .in = at,
                       .out = at };
  pattern_piece_insert_node (c->piece, drafting_change_index (c, before), node);
  return node.id;
}

void
drafting_set_kind_by_shape (PatternPiece *piece, guint index)
{
  guint n = piece->n_nodes;
  PatternNode *node = &piece->nodes[index];
  if (geo_same (node->in, node->at) && geo_same (node->out, node->at))
    {
      node->kind = PATTERN_NODE_CORNER;
      return;
    }
  GeoCubic in = pattern_piece_cubic (piece, (index + n - 1) % n);
  GeoCubic out = pattern_piece_cubic (piece, index);
  double turn = geo_angle_between (geo_cubic_tangent (&in, 1),
                                   geo_cubic_tangent (&out, 0));
  node->kind = fabs (turn) < 1e-6 ? PATTERN_NODE_SMOOTH : PATTERN_NODE_CORNER;
}

void
drafting_change_merge (DraftingChange *c, guint first, guint second)
{
  PatternNode *a = drafting_change_node (c, first);
  PatternNode *b = drafting_change_node (c, second);
  GeoPoint at = geo_distance (a->at, b->at) < 1e-12
                    ? b->at
                    : geo_lerp (a->at, b->at, 0.5);
  gboolean in = !geo_same (a->in, a->at), out = !geo_same (b->out, b->at);
  b->in = in ? geo_add (at, geo_sub (a->in, a->at)) : at;
  b->out = out ? geo_add (at, geo_sub (b->out, b->at)) : at;
  b->at = at;
  /* The first may start an edge, where that has no other node; the second then
   * starts it in its stead. */
  pattern_piece_remove_node (c->piece, drafting_change_index (c, first));
  drafting_set_kind_by_shape (c->piece, drafting_change_index (c, second));
}

/* --- edges ------------------------------------------------------------------------- */
static void
drop_notches_of (PatternPiece *piece, guint edge)
{
  for (guint i = piece->n_notches; i-- > 0;)
    if (piece->notches[i].edge == edge)
      pattern_piece_remove_mark (piece, piece->notches[i].id);
}

void
drafting_change_remove_between (DraftingChange *c, guint first, guint last)
{
  PatternPiece *piece = c->piece;
  for (;;)
    {
      guint i = (drafting_change_index (c, first) + 1) % piece->n_nodes;
      guint edge = pattern_piece_edge_of_node (piece, i);
      if (piece->edges[edge].first == i && piece->nodes[i].id != last)
        {
          drop_notches_of (piece, piece->edges[edge].id);
          pattern_piece_remove_edge (piece, edge);
        }
      i = (drafting_change_index (c, first) + 1) % piece->n_nodes;
      if (piece->nodes[i].id == last)
        return;
      pattern_piece_remove_node (piece, i);
    }
}

guint
drafting_change_edge (DraftingChange *c, guint node, const PatternEdge *like,
                      guint number)
{
  PatternEdge edge = *like;
  edge.id = number ? number : pattern_take_id (c->pattern);
  edge.extra = number ? like->extra : NULL;
  pattern_piece_insert_edge (c->piece, drafting_change_index (c, node), edge);
  return edge.id;
}

void
drafting_change_cut_edge (DraftingChange *c, guint node)
{
  guint i = drafting_change_index (c, node);
  guint index = pattern_piece_edge_of_node (c->piece, i);
  if (c->piece->edges[index].first == i)
    return;
  PatternEdge like = c->piece->edges[index];
  g_autofree char *name = g_strdup (like.name);
  like.name = name;
  like.corner = (GeoCorner){ GEO_CORNER_EXTENDED, GEO_CORNER_BY_ARRIVING };
  guint added = drafting_change_edge (c, node, &like, 0);
  drafting_runs_split (c->pattern, c->piece->id, like.id, added);
}

/* Whether both edges are walked one after the other wherever either is walked. */
static gboolean
seams_keep_together (const Pattern *p, guint piece, guint before, guint after)
{
  for (guint s = 0; s < p->n_seams; s++)
    for (int k = 0; k < 2; k++)
      {
        const PatternSide *side = &p->seams[s]->sides[k];
        for (guint r = 0; r < side->n_runs; r++)
          {
            const PatternRun *run = &side->runs[r];
            gboolean is_before = run->piece == piece && run->edge == before;
            gboolean is_after = run->piece == piece && run->edge == after;
            if (!is_before && !is_after)
              continue;
            gboolean forward = is_before != run->reversed;
            if (forward ? r + 1 >= side->n_runs : r == 0)
              return FALSE;
            const PatternRun *next = &side->runs[forward ? r + 1 : r - 1];
            if (next->piece != piece || next->reversed != run->reversed
                || next->edge != (is_before ? after : before))
              return FALSE;
          }
      }
  return TRUE;
}

void
drafting_change_rejoin (DraftingChange *c, guint node)
{
  PatternPiece *piece = c->piece;
  guint i = drafting_change_index (c, node);
  guint index = pattern_piece_edge_of_node (piece, i);
  if (piece->edges[index].first != i || piece->n_edges < 2)
    return;
  const PatternEdge *after = &piece->edges[index];
  const PatternEdge *before
      = &piece->edges[(index + piece->n_edges - 1) % piece->n_edges];
  if (before->kind != after->kind || before->allowance != after->allowance
      || strcmp (before->name, after->name) != 0
      || !seams_keep_together (c->pattern, piece->id, before->id, after->id))
    return;
  guint gone = after->id, heir = before->id;
  pattern_piece_remove_edge (piece, index);
  drafting_runs_join (c->pattern, piece->id, gone, heir);
}

/* --- moving ------------------------------------------------------------------------- */
static GeoPoint
move_handle (GeoPoint handle, GeoPoint old_at, GeoPoint new_at,
             GeoMotion motion)
{
  return geo_same (handle, old_at) ? new_at : geo_motion_apply (motion, handle);
}

static void
move_node (PatternNode *node, GeoMotion motion)
{
  GeoPoint old = node->at;
  node->at = geo_motion_apply (motion, old);
  node->in = move_handle (node->in, old, node->at, motion);
  node->out = move_handle (node->out, old, node->at, motion);
}

void
drafting_change_move (DraftingChange *c, guint first, guint last,
                      GeoMotion motion)
{
  PatternPiece *piece = c->piece;
  guint i = drafting_change_index (c, first);
  for (;; i = (i + 1) % piece->n_nodes)
    {
      move_node (&piece->nodes[i], motion);
      if (piece->nodes[i].id == last)
        return;
    }
}

void
drafting_change_chain (const DraftingChange *c, guint first, guint last,
                       GeoChain *chain)
{
  guint i = drafting_change_index (c, first);
  guint end = drafting_change_index (c, last);
  for (; i != end; i = (i + 1) % c->piece->n_nodes)
    geo_chain_append (chain, pattern_piece_cubic (c->piece, i));
}

/* A part of the paper, and the whole. */
typedef struct
{
  const GeoChain *region;
  GeoChain outline;
} Part;

/* A mark beside the cloth, as in the opening of a dart, goes with the nearest of it. */
static gboolean
is_on (const Part *part, GeoPoint at)
{
  if (geo_chain_contains (part->region, at))
    return TRUE;
  return !geo_chain_contains (&part->outline, at)
         && geo_chain_nearest (part->region, at, NULL)
                <= geo_chain_nearest (&part->outline, at, NULL) + 1e-6;
}

void
drafting_change_carry (DraftingChange *c, const GeoChain *region,
                       GeoMotion motion)
{
  PatternPiece *piece = c->piece;
  Part part = { .region = region };
  pattern_piece_outline (piece, &part.outline);
  double turn = atan2 (motion.s, motion.c);
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (is_on (&part, piece->buttonholes[i].at))
      {
        PatternButtonhole *hole = &piece->buttonholes[i];
        hole->at = geo_motion_apply (motion, hole->at);
        hole->angle += turn;
      }
  for (guint i = 0; i < piece->n_drills; i++)
    if (is_on (&part, piece->drills[i].at))
      piece->drills[i].at = geo_motion_apply (motion, piece->drills[i].at);
  for (guint i = 0; i < piece->n_texts; i++)
    if (is_on (&part, piece->texts[i].at))
      {
        piece->texts[i].at = geo_motion_apply (motion, piece->texts[i].at);
        piece->texts[i].angle += turn;
      }
  for (guint i = 0; i < piece->n_lines; i++)
    for (guint k = 0; k < piece->lines[i].n_nodes; k++)
      if (is_on (&part, piece->lines[i].nodes[k].at))
        move_node (&piece->lines[i].nodes[k], motion);
  GeoPoint middle = geo_lerp (piece->grain_from, piece->grain_to, 0.5);
  if (piece->has_grain && is_on (&part, middle))
    {
      GeoPoint by = geo_sub (geo_motion_apply (motion, middle), middle);
      piece->grain_from = geo_add (piece->grain_from, by);
      piece->grain_to = geo_add (piece->grain_to, by);
    }
  geo_chain_clear (&part.outline);
}

static gboolean
has_fold (const DraftingChange *c, guint first, guint last)
{
  const PatternPiece *piece = c->piece;
  guint end = drafting_change_index (c, last);
  for (guint i = drafting_change_index (c, first); i != end;
       i = (i + 1) % piece->n_nodes)
    if (piece->edges[pattern_piece_edge_of_node (piece, i)].kind
        == PATTERN_EDGE_FOLD)
      return TRUE;
  return FALSE;
}

gboolean
drafting_change_stays (const DraftingChange *c, const GeoChain *region,
                       guint first, guint last)
{
  const PatternPiece *piece = c->piece;
  if (pattern_piece_on_fold (piece))
    return has_fold (c, first, last);
  if (piece->has_grain)
    return geo_chain_contains (
        region, geo_lerp (piece->grain_from, piece->grain_to, 0.5));
  return fabs (geo_chain_area (region)) > pattern_piece_area (piece) / 2;
}

/* --- lines across -------------------------------------------------------------------- */
gboolean
drafting_change_inside (const DraftingChange *c, GeoPoint from, GeoPoint to,
                        GError **error)
{
  GeoChain outline = GEO_CHAIN_EMPTY, line = GEO_CHAIN_EMPTY;
  pattern_piece_outline (c->piece, &outline);
  geo_chain_append_line (&line, from, to);
  GeoCrossings met;
  geo_crossings_init (&met);
  geo_chain_crossings (&line, &outline, &met);
  gboolean inside = geo_chain_contains (&outline, geo_lerp (from, to, 0.5));
  for (size_t i = 0; i < met.count; i++)
    inside = inside
             && (geo_distance (met.items[i].at, from) < 1e-5
                 || geo_distance (met.items[i].at, to) < 1e-5);
  geo_crossings_clear (&met);
  geo_chain_clear (&line);
  geo_chain_clear (&outline);
  if (inside)
    return TRUE;
  g_autofree char *name = sewing_words_piece (c->piece);
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("The line to cut along leaves %s on its way. "
                             "Choose places that see each other inside the "
                             "piece. Nothing was changed."),
                          name);
}

gboolean
drafting_place_near (const PatternPiece *piece, GeoPoint point,
                     DraftingPlace *place)
{
  double least = INFINITY;
  for (guint e = 0; e < piece->n_edges; e++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_piece_edge_chain (piece, e, &chain);
      GeoPlace at;
      double distance = geo_chain_nearest (&chain, point, &at);
      if (distance < least)
        {
          least = distance;
          *place = (DraftingPlace){ piece->id, piece->edges[e].id,
                                    geo_chain_length_to (&chain, at,
                                                         DRAFTING_EXACT) };
        }
      geo_chain_clear (&chain);
    }
  return least < INFINITY;
}

/* --- what can be done --------------------------------------------------------------- */
static char *
largest_words (const Pattern *p, double amount, DraftingWords words)
{
  /* Told a little below what works, so that it works as told. */
  if (words == DRAFTING_WORDS_LENGTH)
    {
      double told = floor (fabs (amount) * 10) / 10;
      g_autofree char *length
          = sewing_words_length (p, copysign (told, amount));
      return told == 0 ? g_strdup (_ ("no more than nothing"))
                       : g_steal_pointer (&length);
    }
  double told = floor (fabs (amount) * 10) / 10;
  return g_strdup_printf (words == DRAFTING_WORDS_DEGREES ? _ ("%.1f°")
                                                          : _ ("%.1f %%"),
                          copysign (told, amount));
}

Pattern *
drafting_try (const Pattern *p, DraftingAttempt attempt, gconstpointer what,
              double amount, DraftingWords words, GError **error)
{
  g_autoptr (GError) trouble = NULL;
  Pattern *result = attempt (p, what, 1, &trouble);
  if (result)
    return result;
  if (!g_error_matches (trouble, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT)
      || fabs (amount) > DRAFTING_FARTHEST)
    {
      g_propagate_error (error, g_steal_pointer (&trouble));
      return NULL;
    }
  double works = 0, fails = 1;
  for (int i = 0; i < 18; i++)
    {
      double share = (works + fails) / 2;
      g_autoptr (Pattern) some = attempt (p, what, share, NULL);
      if (some)
        works = share;
      else
        fails = share;
    }
  if (works == 0)
    {
      g_propagate_error (error, g_steal_pointer (&trouble));
      return NULL;
    }
  g_autofree char *most = largest_words (p, works * amount, words);
  drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      /* TRANSLATORS: a sentence that says what was refused, and an amount. */
      _ ("%s The most that works here is %s."), trouble->message, most);
  return NULL;
}
