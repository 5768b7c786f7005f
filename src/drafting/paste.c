/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces of one pattern added to another. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"

/* The cloth of that name in p, else a copy of it put there. */
static guint
match_cloth (Pattern *p, const Pattern *from, guint id)
{
  const PatternCloth *cloth = pattern_get_cloth (from, id);
  if (!cloth)
    return 0;
  for (guint i = 0; i < p->n_cloths; i++)
    if (g_strcmp0 (p->cloths[i].name, cloth->name) == 0)
      return p->cloths[i].id;
  PatternCloth copy = *cloth;
  copy.id = pattern_take_id (p);
  copy.tint = p->n_cloths % 8;
  pattern_put_cloth (p, &copy);
  return copy.id;
}

static void
match_cuts (Pattern *p, const Pattern *from, PatternPiece *piece)
{
  guint kept = 0;
  for (guint i = 0; i < piece->n_cuts; i++)
    {
      PatternCut cut = piece->cuts[i];
      cut.cloth = match_cloth (p, from, cut.cloth);
      if (cut.cloth != 0)
        piece->cuts[kept++] = cut;
    }
  piece->n_cuts = kept;
}

Pattern *
drafting_add_pieces_of (const Pattern *p, const Pattern *from, GeoPoint by,
                        GArray *new_pieces, GError **error)
{
  g_return_val_if_fail (p != NULL && from != NULL, NULL);
  if (!drafting_point_is_good (by, error))
    return NULL;
  g_autoptr (Pattern) result = pattern_dup (p);
  /* Numbers of both are below this, as renumbering asks. */
  guint next = MAX (p->next_id, from->next_id);
  result->next_id = next;
  for (guint i = 0; i < from->n_pieces; i++)
    {
      PatternPiece *copy = pattern_piece_dup (from->pieces[i]);
      match_cuts (result, from, copy);
      next = result->next_id;
      drafting_renumber (copy, &next);
      pattern_piece_move (copy, geo_motion_move (by.x, by.y));
      guint id = copy->id;
      Pattern *more = drafting_finish (result, copy, &next, error);
      if (!more)
        return NULL;
      pattern_unref (result);
      result = more;
      if (new_pieces)
        g_array_append_val (new_pieces, id);
    }
  return g_steal_pointer (&result);
}
