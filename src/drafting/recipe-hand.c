/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What she did by hand to a linked piece, found by comparing it before and after.
 *
 * A rigid motion of all nodes moves the piece's frame. Anything else that moves nodes is told
 * node by node, in the frame. Marks are compared only where the outline is the same
 * but for a rigid motion: an edit that reshapes the outline takes marks along as it sees fit.
 */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit-private.h"
#include "drafting/recipe.h"
#include "sewing/words.h"

#define SAME 1e-9 /* mm: less is rounding */
#define SAME_RIGID                                                             \
  1e-6 /* mm: a rigid motion's rounding, 100 m from the origin */

typedef struct
{
  const PatternPiece *before, *now;
  PatternRecipe *recipe;
  const char *part; /* of the piece, or "on12" */
  GeoMotion frame;  /* of the piece as it lies now; none for "on12" */
} Compare;

/* --- rigid motions ---------------------------------------------------------------- */
static GeoMotion
motion_of_pairs (GeoPoint a, GeoPoint b, GeoPoint to_a, GeoPoint to_b,
                 gboolean flip)
{
  GeoPoint u = geo_sub (b, a), v = geo_sub (to_b, to_a);
  if (flip)
    u.y = -u.y;
  double n = geo_norm (u) * geo_norm (v);
  GeoMotion m = { 1, 0, 0, 0, flip };
  if (n > 0)
    {
      GeoPoint turn = geo_unit (geo_point (geo_dot (u, v), geo_cross (u, v)));
      m.c = turn.x;
      m.s = turn.y;
    }
  GeoPoint d = geo_sub (to_a, geo_motion_turn (m, a));
  m.dx = d.x;
  m.dy = d.y;
  return m;
}

static gboolean
maps_nodes (const PatternPiece *before, const PatternPiece *now, GeoMotion m)
{
  for (guint i = 0; i < before->n_nodes; i++)
    {
      const PatternNode *b = &before->nodes[i];
      int index = pattern_piece_find_node (now, b->id);
      if (index < 0)
        return FALSE;
      const PatternNode *n = &now->nodes[index];
      GeoPoint in = m.flip ? n->out : n->in, out = m.flip ? n->in : n->out;
      if (geo_distance (geo_motion_apply (m, b->at), n->at) > SAME_RIGID
          || geo_distance (geo_motion_apply (m, b->in), in) > SAME_RIGID
          || geo_distance (geo_motion_apply (m, b->out), out) > SAME_RIGID)
        return FALSE;
    }
  return TRUE;
}

/* The motion that takes all nodes along; a still piece gives exactly none. */
static gboolean
rigid_motion (const PatternPiece *before, const PatternPiece *now, GeoMotion *m)
{
  guint far = 0;
  if (before->n_nodes == 0 || before->n_nodes != now->n_nodes)
    return FALSE;
  for (guint i = 1; i < before->n_nodes; i++)
    if (geo_distance (before->nodes[i].at, before->nodes[0].at)
        > geo_distance (before->nodes[far].at, before->nodes[0].at))
      far = i;
  int a = pattern_piece_find_node (now, before->nodes[0].id);
  int b = pattern_piece_find_node (now, before->nodes[far].id);
  *m = geo_motion_none ();
  if (maps_nodes (before, now, *m))
    return TRUE;
  for (int flip = 0; flip < 2 && a >= 0 && b >= 0; flip++)
    {
      *m = motion_of_pairs (before->nodes[0].at, before->nodes[far].at,
                            now->nodes[a].at, now->nodes[b].at, flip != 0);
      if (maps_nodes (before, now, *m))
        return TRUE;
    }
  *m = geo_motion_none ();
  return FALSE;
}

/* --- the same make-up --------------------------------------------------------------- */
static gboolean
same_make_up (const PatternPiece *before, const PatternPiece *now)
{
  if (before->n_nodes != now->n_nodes || before->n_edges != now->n_edges)
    return FALSE;
  int shift = pattern_piece_find_node (now, before->nodes[0].id);
  for (guint i = 0; shift >= 0 && i < before->n_nodes; i++)
    if (now->nodes[(i + (guint)shift) % now->n_nodes].id != before->nodes[i].id)
      return FALSE;
  for (guint i = 0; shift >= 0 && i < before->n_edges; i++)
    {
      int edge = pattern_piece_find_edge (now, before->edges[i].id);
      if (edge < 0
          || now->nodes[now->edges[edge].first].id
                 != before->nodes[before->edges[i].first].id)
        return FALSE;
    }
  return shift >= 0;
}

static gboolean
refuse_make_up (const Compare *c, GError **error)
{
  g_autofree char *name = sewing_words_piece (c->before);
  return drafting_refuse (
      error, DRAFTING_ERROR_LINKED,
      _ ("%s is a linked piece, drafted by “%s”: its nodes can be moved and "
         "that is kept, but this would give it other nodes or edges, which the "
         "next drafting would not know. Change its amounts, or let it go in "
         "its panel first. Nothing was changed."),
      name, c->recipe->name);
}

/* --- nodes ------------------------------------------------------------------------ */
static GeoPoint
in_frame (const Compare *c, GeoPoint v)
{
  return geo_motion_turn (geo_motion_inverse (c->frame), v);
}

static void
add_to (GeoPoint *sum, GeoPoint more)
{
  sum->x += more.x;
  sum->y += more.y;
}

static gboolean
is_none (GeoPoint v)
{
  return fabs (v.x) < SAME && fabs (v.y) < SAME;
}

/* A change that came to nothing is none. */
static void
forget_if_none (PatternRecipe *recipe, const char *part)
{
  const PatternHandChange *h = pattern_recipe_get_change (recipe, part);
  if (h && !h->gone && h->kind < 0 && is_none (h->at) && is_none (h->in)
      && is_none (h->out))
    pattern_recipe_remove_change (recipe, part);
}

static void
absorb_node (const Compare *c, const PatternNode *b, const PatternNode *n)
{
  const PatternMade *made = pattern_recipe_find_made (c->recipe, b->id);
  GeoPoint at = geo_sub (n->at, b->at);
  GeoPoint in = geo_sub (geo_sub (n->in, n->at), geo_sub (b->in, b->at));
  GeoPoint out = geo_sub (geo_sub (n->out, n->at), geo_sub (b->out, b->at));
  if (!made
      || (is_none (at) && is_none (in) && is_none (out) && b->kind == n->kind))
    return;
  g_autofree char *part = g_strdup (made->part);
  PatternHandChange *h = pattern_recipe_change (c->recipe, part);
  add_to (&h->at, in_frame (c, at));
  add_to (c->frame.flip ? &h->out : &h->in, in_frame (c, in));
  add_to (c->frame.flip ? &h->in : &h->out, in_frame (c, out));
  if (b->kind != n->kind)
    h->kind = (int)n->kind;
  forget_if_none (c->recipe, part);
}

/* --- marks ------------------------------------------------------------------------ */
static const PatternButtonhole *
find_hole (const PatternPiece *piece, guint id)
{
  for (guint i = 0; i < piece->n_buttonholes; i++)
    if (piece->buttonholes[i].id == id)
      return &piece->buttonholes[i];
  return NULL;
}

static const PatternDrill *
find_drill (const PatternPiece *piece, guint id)
{
  for (guint i = 0; i < piece->n_drills; i++)
    if (piece->drills[i].id == id)
      return &piece->drills[i];
  return NULL;
}

static const PatternLine *
find_line (const PatternPiece *piece, guint id)
{
  for (guint i = 0; i < piece->n_lines; i++)
    if (piece->lines[i].id == id && piece->lines[i].n_nodes > 0)
      return &piece->lines[i];
  return NULL;
}

static double
place_of_notch (const PatternPiece *piece, const PatternNotch *notch)
{
  int edge = pattern_piece_find_edge (piece, notch->edge);
  return edge < 0 ? 0
                  : pattern_notch_place (
                      notch, drafting_edge_length (piece, (guint)edge));
}

/* What became of one mark; FALSE where nothing did. */
static gboolean
compare_mark (const Compare *c, guint id, PatternHandChange *h)
{
  const PatternNotch *bn = pattern_piece_get_notch (c->before, id);
  const PatternNotch *nn = pattern_piece_get_notch (c->now, id);
  const PatternButtonhole *bh = find_hole (c->before, id);
  const PatternButtonhole *nh = find_hole (c->now, id);
  const PatternDrill *bd = find_drill (c->before, id);
  const PatternDrill *nd = find_drill (c->now, id);
  const PatternLine *bl = find_line (c->before, id);
  const PatternLine *nl = find_line (c->now, id);
  h->gone = (bn && !nn) || (bh && !nh) || (bd && !nd) || (bl && !nl);
  if (bn && nn)
    h->at.x = (c->frame.flip ? -1 : 1)
              * (place_of_notch (c->now, nn) - place_of_notch (c->before, bn));
  if (bh && nh)
    {
      h->at = in_frame (c, geo_sub (nh->at, bh->at));
      h->in = geo_point (nh->length - bh->length,
                         (c->frame.flip ? -1 : 1) * (nh->angle - bh->angle));
    }
  if (bd && nd)
    h->at = in_frame (c, geo_sub (nd->at, bd->at));
  if (bl && nl)
    h->at = in_frame (c, geo_sub (nl->nodes[0].at, bl->nodes[0].at));
  return h->gone || fabs (h->at.x) > SAME_RIGID || fabs (h->at.y) > SAME_RIGID
         || fabs (h->in.x) > SAME_RIGID || fabs (h->in.y) > SAME_RIGID;
}

static void
add_change (PatternRecipe *recipe, const char *part,
            const PatternHandChange *more)
{
  PatternHandChange *h = pattern_recipe_change (recipe, part);
  h->gone = more->gone;
  add_to (&h->at, more->at);
  add_to (&h->in, more->in);
  forget_if_none (recipe, part);
}

static void
absorb_marks (const Compare *c)
{
  g_autofree char *prefix = g_strdup_printf ("%s/m:", c->part);
  for (guint i = 0; i < c->recipe->n_made; i++)
    {
      PatternHandChange h = { .kind = -1 };
      if (g_str_has_prefix (c->recipe->made[i].part, prefix)
          && compare_mark (c, c->recipe->made[i].id, &h))
        {
          g_autofree char *part = g_strdup (c->recipe->made[i].part);
          add_change (c->recipe, part, &h);
        }
    }
}

static void
absorb_grain (const Compare *c)
{
  g_autofree char *part = g_strdup_printf ("%s/grain", c->part);
  const PatternHandChange *was = pattern_recipe_get_change (c->recipe, part);
  PatternHandChange h = { .kind = -1, .gone = was && was->gone };
  if (c->before->has_grain != c->now->has_grain)
    h.gone = !c->now->has_grain;
  else if (c->now->has_grain)
    {
      h.at = in_frame (c, geo_sub (c->now->grain_from, c->before->grain_from));
      h.in = in_frame (c, geo_sub (c->now->grain_to, c->before->grain_to));
    }
  if (h.gone != (was && was->gone) || geo_norm (h.at) > SAME_RIGID
      || geo_norm (h.in) > SAME_RIGID)
    add_change (c->recipe, part, &h);
}

/* --- a piece ---------------------------------------------------------------------- */
/* The piece before, moved to where it is now. */
static PatternPiece *
moved (const PatternPiece *piece, GeoMotion m)
{
  PatternPiece *copy = pattern_piece_dup (piece);
  if (m.flip || m.s != 0 || m.dx != 0 || m.dy != 0)
    pattern_piece_move (copy, m);
  return copy;
}

static gboolean
absorb_piece (const Pattern *before, const Pattern *now, PatternRecipe *recipe,
              guint index, GError **error)
{
  g_autofree char *part = g_strdup (recipe->made[index].part);
  guint id = recipe->made[index].id;
  Compare c = { pattern_get_piece (before, id), pattern_get_piece (now, id),
                recipe, part, recipe->made[index].frame };
  if (!c.before || c.before == c.now)
    return TRUE;
  if (!c.now)
    {
      pattern_recipe_change (recipe, part)->gone = TRUE;
      return TRUE;
    }
  GeoMotion m;
  if (!rigid_motion (c.before, c.now, &m))
    {
      if (!same_make_up (c.before, c.now))
        return refuse_make_up (&c, error);
      for (guint i = 0; i < c.before->n_nodes; i++)
        {
          const PatternNode *b = &c.before->nodes[i];
          int n = pattern_piece_find_node (c.now, b->id);
          absorb_node (&c, b, &c.now->nodes[n]);
        }
      return TRUE;
    }
  if (!m.flip && !same_make_up (c.before, c.now))
    return refuse_make_up (&c, error);
  g_autoptr (PatternPiece) there = moved (c.before, m);
  c.frame = geo_motion_then (c.frame, m);
  recipe->made[index].frame = c.frame;
  c.before = there;
  for (guint i = 0; i < there->n_nodes; i++)
    {
      int n = pattern_piece_find_node (c.now, there->nodes[i].id);
      if (c.now->nodes[n].kind != there->nodes[i].kind)
        absorb_node (&c, &there->nodes[i], &c.now->nodes[n]);
    }
  absorb_marks (&c);
  absorb_grain (&c);
  return TRUE;
}

/* Marks on a piece that is not the recipe's. */
static void
absorb_on (const Pattern *before, const Pattern *now, PatternRecipe *recipe)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < recipe->n_made; i++)
    {
      const char *made = recipe->made[i].part;
      if (!g_str_has_prefix (made, "on") || !strstr (made, "/m:"))
        continue;
      guint id = (guint)g_ascii_strtoull (made + 2, NULL, 10);
      const PatternPiece *b = pattern_get_piece (before, id);
      const PatternPiece *n = pattern_get_piece (now, id);
      GeoMotion m;
      if (!b || !n || b == n || !g_hash_table_add (seen, GUINT_TO_POINTER (id))
          || !rigid_motion (b, n, &m))
        continue;
      g_autofree char *part = pattern_part_piece (made);
      g_autoptr (PatternPiece) there = moved (b, m);
      Compare c = { there, n, recipe, part, geo_motion_none () };
      absorb_marks (&c);
    }
}

static void
absorb_seams (const Pattern *before, const Pattern *now, PatternRecipe *recipe)
{
  for (guint i = 0; i < recipe->n_made; i++)
    {
      if (!g_str_has_prefix (recipe->made[i].part, "s:"))
        continue;
      const PatternSeam *b = pattern_get_seam (before, recipe->made[i].id);
      const PatternSeam *n = pattern_get_seam (now, recipe->made[i].id);
      PatternHandChange h = { .kind = -1, .gone = b && !n };
      if (b && n)
        h.at.x = n->ease - b->ease;
      /* A seam that went with its piece is not taken away by itself. */
      for (int s = 0; h.gone && s < 2; s++)
        for (guint r = 0; r < b->sides[s].n_runs; r++)
          if (!pattern_get_edge (now, b->sides[s].runs[r].piece,
                                 b->sides[s].runs[r].edge, NULL))
            h.gone = FALSE;
      g_autofree char *part = g_strdup (recipe->made[i].part);
      if (h.gone || fabs (h.at.x) > SAME)
        add_change (recipe, part, &h);
    }
}

gboolean
drafting_recipe_absorb (const Pattern *before, const Pattern *now,
                        PatternRecipe *recipe, GError **error)
{
  for (guint i = 0; i < recipe->n_made; i++)
    if (pattern_part_is_piece (recipe->made[i].part)
        && !absorb_piece (before, now, recipe, i, error))
      return FALSE;
  absorb_on (before, now, recipe);
  absorb_seams (before, now, recipe);
  return TRUE;
}

guint
drafting_recipe_unkept (const Pattern *before, const Pattern *now)
{
  for (guint r = 0; r < before->n_recipes; r++)
    {
      const PatternRecipe *recipe = before->recipes[r];
      for (guint i = 0; i < recipe->n_made; i++)
        {
          const PatternPiece *b
              = pattern_get_piece (before, recipe->made[i].id);
          const PatternPiece *n = pattern_get_piece (now, recipe->made[i].id);
          GeoMotion m;
          if (b && n && b != n && pattern_part_is_piece (recipe->made[i].part)
              && pattern_get_recipe (now, recipe->id) && !same_make_up (b, n)
              && !(rigid_motion (b, n, &m) && m.flip))
            return recipe->id;
        }
    }
  return 0;
}
