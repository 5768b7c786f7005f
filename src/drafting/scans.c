/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/scans.h"

#include <glib/gi18n.h>

#include "drafting/change-private.h"
#include "drafting/join-private.h"
#include "geometry/length.h"
#include "geometry/nearest.h"
#include "geometry/region-boolean.h"
#include "geometry/region.h"
#include "sewing/words.h"
#include "tracing/plane.h"

#define SAME_LINE                                                              \
  1e-4 /* mm: from an old edge, where a cubic was left as it was */
#define SHORTEST 1e-6    /* mm: a cubic of no length */
#define UNITE_EXACT 0.01 /* mm */

/* --- laying --------------------------------------------------------------------- */

static void
sheet_of (const PatternPicture *picture, GeoChain *sheet)
{
  GeoPoint corners[4];
  pattern_picture_corners (picture, corners);
  for (int i = 0; i < 4; i++)
    geo_chain_append_line (sheet, corners[i], corners[(i + 1) % 4]);
}

static gboolean
is_on (const PatternPicture *picture, GeoPoint at)
{
  GeoChain sheet = GEO_CHAIN_EMPTY;
  sheet_of (picture, &sheet);
  gboolean on = geo_chain_contains (&sheet, at);
  geo_chain_clear (&sheet);
  return on;
}

guint
drafting_picture_at (const Pattern *p, GeoPoint at, guint but)
{
  for (guint i = p->n_pictures; i-- > 0;)
    if (p->pictures[i]->id != but && !p->pictures[i]->hidden
        && is_on (p->pictures[i], at))
      return p->pictures[i]->id;
  return 0;
}

static gboolean
lies_on (const PatternPiece *piece, const PatternPicture *picture)
{
  for (guint i = 0; i < piece->n_nodes; i++)
    if (!is_on (picture, piece->nodes[i].at))
      return FALSE;
  return piece->n_nodes > 0;
}

/* Of those that lie on the picture; what lies on the first as well is the first's. */
static GArray *
pieces_on (const Pattern *p, guint picture, guint first)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (guint));
  const PatternPicture *own = pattern_get_picture (p, picture);
  const PatternPicture *other = pattern_get_picture (p, first);
  for (guint i = 0; own && i < p->n_pieces; i++)
    if (lies_on (p->pieces[i], own)
        && !(other && lies_on (p->pieces[i], other)))
      g_array_append_val (found, p->pieces[i]->id);
  return found;
}

static gboolean
find_motion (const Pattern *p, const GeoPoint *a, const GeoPoint *b, guint n,
             double most, double *off, GeoMotion *motion, GError **error)
{
  for (guint i = 0; i < n; i++)
    if (!drafting_point_is_good (a[i], error)
        || !drafting_point_is_good (b[i], error))
      return FALSE;
  if (n < 2)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("Two marks at least have to be in both: click "
                               "one on the first, the same one on the second, "
                               "and so on."));
  if (!tracing_lay_marks (a, b, n, motion, off))
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("All marks of one side lie in one place, so "
                               "they do not say how it is turned. Choose marks "
                               "far from each other."));
  double worst = 0;
  guint which = 0;
  for (guint i = 0; i < n; i++)
    if (off[i] > worst)
      {
        worst = off[i];
        which = i;
      }
  if (worst <= most)
    return TRUE;
  g_autofree char *words = sewing_words_amount (p, worst);
  g_autofree char *limit = sewing_words_amount (p, most);
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      _ ("Laid as well as can be, mark %u would still be %s off, and %s is the "
         "most allowed. Look whether it is the same place on both, and whether "
         "both pictures have their true size."),
      which + 1, words, limit);
}

Pattern *
drafting_lay_on_marks (const Pattern *p, const GeoPoint *a, const GeoPoint *b,
                       guint n, guint picture, const guint *pieces,
                       guint n_pieces, double most, double *off, GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  g_autofree double *own_off = g_new0 (double, n + 1);
  GeoMotion motion;
  if (!drafting_number_is_good (most, error)
      || !find_motion (p, a, b, n, most, own_off, &motion, error))
    return NULL;
  for (guint i = 0; off && i < n; i++)
    off[i] = own_off[i];
  g_autoptr (GArray) on = g_array_new (FALSE, FALSE, sizeof (guint));
  if (n_pieces > 0)
    g_array_append_vals (on, pieces, n_pieces);
  else if (picture)
    {
      g_array_unref (on);
      on = pieces_on (p, picture, drafting_picture_at (p, a[0], picture));
    }
  if (picture == 0 && on->len == 0)
    {
      drafting_refuse (error, DRAFTING_ERROR_GONE,
                       _ ("There is nothing to lay: no picture lies under the "
                          "second marks. Pick the pieces that are to move."));
      return NULL;
    }
  g_autoptr (Pattern) moved = drafting_move_pieces (
      p, (const guint *)(void *)on->data, on->len, motion, error);
  const PatternPicture *own = picture ? pattern_get_picture (p, picture) : NULL;
  if (!moved || !picture)
    return g_steal_pointer (&moved);
  return drafting_place_picture (
      moved, picture, own ? geo_motion_then (own->place, motion) : motion,
      error);
}

/* --- uniting ----------------------------------------------------------------------- */

typedef struct
{
  const PatternPiece *pieces[2];
  GeoChain *edges[2];
} Sources;

static void
sources_init (Sources *s)
{
  for (int k = 0; k < 2; k++)
    {
      s->edges[k] = g_new0 (GeoChain, s->pieces[k]->n_edges);
      for (guint i = 0; i < s->pieces[k]->n_edges; i++)
        pattern_piece_edge_chain (s->pieces[k], i, &s->edges[k][i]);
    }
}

static void
sources_clear (Sources *s)
{
  for (int k = 0; k < 2; k++)
    {
      for (guint i = 0; i < s->pieces[k]->n_edges; i++)
        geo_chain_clear (&s->edges[k][i]);
      g_free (s->edges[k]);
    }
}

/* Of which edge a cubic of the common outline is; edges both have are the first's. */
static const PatternEdge *
source_of (const Sources *s, const GeoCubic *c)
{
  const PatternEdge *best = NULL;
  double least = INFINITY;
  GeoPoint middle = geo_cubic_point (c, 0.5);
  for (int k = 0; k < 2; k++)
    for (guint i = 0; i < s->pieces[k]->n_edges; i++)
      {
        double far = geo_chain_nearest (&s->edges[k][i], middle, NULL);
        if (far + SAME_LINE < least)
          {
            least = far;
            best = &s->pieces[k]->edges[i];
          }
      }
  return best;
}

static gboolean
number_is_used (const DraftingLoop *loop, guint id)
{
  for (guint i = 0; i < loop->edges->len; i++)
    if (g_array_index (loop->edges, PatternEdge, i).id == id)
      return TRUE;
  return FALSE;
}

/* The outline as nodes and edges; an edge begins where its source is another. */
static void
fill_loop (const Sources *s, const GeoChain *outline, Pattern *numbers,
           DraftingLoop *loop)
{
  size_t n = outline->count, start = 0;
  for (size_t i = 0; i < n; i++)
    if (source_of (s, &outline->cubics[i])
        != source_of (s, &outline->cubics[(i + n - 1) % n]))
      {
        start = i;
        break;
      }
  const PatternEdge *last = NULL;
  for (size_t k = 0; k < n; k++)
    {
      const GeoCubic *c = &outline->cubics[(start + k) % n];
      const PatternEdge *edge = source_of (s, c);
      PatternNode node = pattern_node_of_chain (outline, (start + k) % n, TRUE);
      node.id = pattern_take_id (numbers);
      PatternEdge own = *edge;
      if (edge != last && number_is_used (loop, own.id))
        own.id = pattern_take_id (numbers);
      drafting_loop_add (loop, &node, edge != last ? &own : NULL);
      last = edge;
    }
}

static gboolean
outline_of_both (const PatternPiece *a, const PatternPiece *b, GeoChain *both,
                 GError **error)
{
  GeoChain one = GEO_CHAIN_EMPTY, other = GEO_CHAIN_EMPTY;
  GeoRegion region = { NULL, 0 };
  pattern_piece_outline (a, &one);
  pattern_piece_outline (b, &other);
  gboolean any = geo_region_combine (&one, &other, GEO_REGION_UNION,
                                     UNITE_EXACT, &region);
  gboolean good = any && region.count == 1;
  if (good)
    geo_chain_copy (both, &region.outlines[0]);
  gboolean hole = region.count == 2 && geo_chain_area (&region.outlines[1]) < 0;
  geo_region_clear (&region);
  geo_chain_clear (&one);
  geo_chain_clear (&other);
  return good
         || drafting_refuse (
             error, DRAFTING_ERROR_SHAPE,
             hole ? _ ("Between the two a hole would be left. Move them until "
                       "they overlap all along.")
                  : _ ("The two pieces do not overlap, so there is no one "
                       "outline round them. Lay one on the other first."));
}

/* Notches of the piece stay where they were on the paper; those on what is gone go. */
static void
place_notches (const PatternPiece *from, PatternPiece *one)
{
  for (guint i = 0; i < from->n_notches; i++)
    {
      const PatternNotch *notch = &from->notches[i];
      int index = pattern_piece_find_edge (from, notch->edge);
      GeoChain edge = GEO_CHAIN_EMPTY, now = GEO_CHAIN_EMPTY;
      pattern_piece_edge_chain (from, (guint)index, &edge);
      double length = geo_chain_length (&edge, DRAFTING_EXACT);
      GeoPoint at = geo_chain_point (
          &edge,
          geo_chain_at_length (&edge, pattern_notch_place (notch, length),
                               DRAFTING_EXACT));
      pattern_piece_outline (one, &now);
      DraftingPlace place;
      PatternNotch moved = *notch;
      gboolean left = geo_chain_nearest (&now, at, NULL) < SAME_LINE
                      && drafting_place_near (one, at, &place);
      geo_chain_clear (&edge);
      geo_chain_clear (&now);
      int same = left ? pattern_piece_find_edge (one, notch->edge) : -1;
      if (left && same >= 0 && place.edge == notch->edge
          && fabs (drafting_edge_length (one, (guint)same) - length)
                 < SAME_LINE)
        continue;
      pattern_piece_remove_mark (one, notch->id);
      if (!left)
        continue;
      moved.edge = place.edge;
      moved.from = PATTERN_FROM_START;
      moved.amount = place.at;
      pattern_piece_add_notch (one, moved);
    }
}

static void
settle_nodes (PatternPiece *piece)
{
  for (guint i = 0; i < piece->n_nodes; i++)
    drafting_set_kind_by_shape (piece, i);
}

Pattern *
drafting_unite_pieces (const Pattern *p, guint first, guint second,
                       GError **error)
{
  g_return_val_if_fail (p != NULL, NULL);
  const PatternPiece *a = drafting_find_piece (p, first, error);
  const PatternPiece *b = a ? drafting_find_piece (p, second, error) : NULL;
  GeoChain outline = GEO_CHAIN_EMPTY;
  if (b == a && b)
    drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                     _ ("Two different pieces are wanted."));
  if (!b || b == a || !outline_of_both (a, b, &outline, error))
    return NULL;
  Pattern *result = pattern_dup (p);
  g_autoptr (PatternPiece) other = pattern_piece_ref ((PatternPiece *)b);
  PatternPiece *one = pattern_piece_dup (a);
  Sources s = { { a, b }, { NULL, NULL } };
  sources_init (&s);
  g_auto (DraftingLoop) loop;
  drafting_loop_init (&loop);
  fill_loop (&s, &outline, result, &loop);
  drafting_loop_close (&loop, one);
  sources_clear (&s);
  geo_chain_clear (&outline);
  drafting_take_marks (one, other);
  place_notches (a, one);
  place_notches (b, one);
  settle_nodes (one);
  drafting_hand_over (result, second, one);
  pattern_put_piece (result, one);
  pattern_remove_piece (result, second);
  pattern_drop_loose_ends (result);
  return result;
}
