/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random runs of verbs with random amounts, good and bad. Whatever is asked: the
 * pattern given is unchanged, the answer is a sound pattern or an error in
 * words, never both and never neither; and going back through the history gives
 * the very patterns that were there. */
#include <math.h>

#include "pattern/history.h"
#include "sample.h"

static guint
pick (guint n)
{
  return n == 0 ? 0 : (guint)g_test_rand_int_range (0, (gint32)n);
}

static const PatternPiece *
any_piece (const Pattern *p)
{
  return p->pieces[pick (p->n_pieces)];
}

static guint
any_edge (const PatternPiece *piece)
{
  return piece->edges[pick (piece->n_edges)].id;
}

static guint
any_node (const PatternPiece *piece)
{
  return piece->nodes[pick (piece->n_nodes)].id;
}

/* Mostly of a pattern's size, now and then absurd. */
static double
any_amount (void)
{
  static const double odd[]
      = { 0, NAN, INFINITY, -INFINITY, 1e5, -1e5, 1e300, 1e-300 };
  return pick (40) == 0 ? odd[pick (G_N_ELEMENTS (odd))]
                        : g_test_rand_double_range (-120, 240);
}

static GeoPoint
any_point (void)
{
  return geo_point (any_amount (), any_amount ());
}

static Pattern *
edit_nodes (const Pattern *p, const PatternPiece *piece, GError **error)
{
  guint id = piece->id, node = any_node (piece);
  guint both[] = { node, any_node (piece) };
  switch (pick (8))
    {
    case 0:
      return drafting_move_nodes (p, id, both, 2, any_point (), error);
    case 1:
      return drafting_set_node (p, id, node, any_point (), error);
    case 2:
      return drafting_set_handle (p, id, node, (DraftingHandle)pick (2),
                                  any_point (), error);
    case 3:
      return drafting_set_node_kind (p, id, node, (PatternNodeKind)pick (3),
                                     error);
    case 4:
      return drafting_add_node (p, id, any_edge (piece), fabs (any_amount ()),
                                NULL, error);
    case 5:
      return drafting_remove_node (p, id, node, error);
    case 6:
      return drafting_bend (p, id, node, g_test_rand_double_range (-0.1, 1.1),
                            any_point (), error);
    default:
      return drafting_straighten (p, id, node, error);
    }
}

static Pattern *
edit_edges (const Pattern *p, const PatternPiece *piece, GError **error)
{
  guint id = piece->id, edge = any_edge (piece);
  GeoCorner corner = { (GeoCornerKind)pick (4), (GeoCornerGovernor)pick (2) };
  switch (pick (7))
    {
    case 0:
      return drafting_move_edge (p, id, edge, any_point (), error);
    case 1:
      return drafting_set_edge_length (p, id, edge, any_amount (),
                                       (gboolean)pick (2), error);
    case 2:
      return drafting_set_edge_kind (p, id, edge, (PatternEdgeKind)pick (5),
                                     error);
    case 3:
      return drafting_set_allowance (p, id, edge, any_amount (), error);
    case 4:
      return drafting_set_corner (p, id, edge, corner, error);
    case 5:
      return drafting_split_edge (p, id, any_node (piece), NULL, error);
    default:
      return drafting_join_edge (p, id, edge, error);
    }
}

static Pattern *
edit_pieces (const Pattern *p, const PatternPiece *piece, GError **error)
{
  guint id = piece->id;
  double turn = g_test_rand_double_range (-4, 4);
  GeoMotion motion
      = { cos (turn), sin (turn), any_amount (), any_amount (), pick (2) == 1 };
  switch (pick (7))
    {
    case 0:
      return p->n_pieces > 2 ? drafting_remove_piece (p, id, error)
                             : pattern_ref (p);
    case 1:
      return p->n_pieces < 6
                 ? drafting_copy_piece (p, id, (gboolean)pick (2), NULL, error)
                 : pattern_ref (p);
    case 2:
      return drafting_move_pieces (p, &id, 1, motion, error);
    case 3:
      return drafting_turn_piece (p, id, any_amount (), error);
    case 4:
      return drafting_mirror_piece (p, id, error);
    case 5:
      return drafting_set_grain (p, id, any_point (), any_point (), TRUE,
                                 error);
    default:
      return drafting_default_grain (p, id, error);
    }
}

static Pattern *
edit_marks (const Pattern *p, const PatternPiece *piece, GError **error)
{
  guint id = piece->id;
  guint notch
      = piece->n_notches ? piece->notches[pick (piece->n_notches)].id : 4711;
  guint drill
      = piece->n_drills ? piece->drills[pick (piece->n_drills)].id : 4711;
  switch (pick (7))
    {
    case 0:
      return drafting_add_notch (p, id, any_edge (piece), (int)pick (4),
                                 (PatternNotchFrom)pick (3), any_amount (),
                                 NULL, error);
    case 1:
      return drafting_move_notch (p, id, notch, any_amount (), error);
    case 2:
      return drafting_set_notch (p, id, notch, 2, (PatternNotchFrom)pick (3),
                                 any_amount () / 100, error);
    case 3:
      return drafting_add_buttonhole (p, id, any_point (), any_amount (),
                                      any_amount (), NULL, error);
    case 4:
      return drafting_add_drill (p, id, any_point (), NULL, error);
    case 5:
      return drafting_move_mark (p, id, drill, any_point (), error);
    default:
      return drafting_remove_mark (p, id, pick (2) ? notch : drill, error);
    }
}

static Pattern *
edit_seams (const Pattern *p, const PatternPiece *piece, GError **error)
{
  const PatternPiece *other = any_piece (p);
  guint seam = p->n_seams ? p->seams[pick (p->n_seams)]->id : 4711;
  PatternRun run = { piece->id, any_edge (piece), (gboolean)pick (2) };
  guint notch
      = piece->n_notches ? piece->notches[pick (piece->n_notches)].id : 4711;
  switch (pick (6))
    {
    case 0:
    case 1:
      return drafting_pair_edges (p, piece->id, any_edge (piece), other->id,
                                  any_edge (other), NULL, error);
    case 2:
      return drafting_extend_seam (p, seam, (int)pick (2), run, error);
    case 3:
      return drafting_turn_seam (p, seam, (int)pick (2), error);
    case 4:
      return drafting_strike_notch (p, seam, piece->id, notch, error);
    default:
      return drafting_remove_seam (p, seam, error);
    }
}

static Pattern *
any_edit (const Pattern *p, GError **error)
{
  const PatternPiece *piece = any_piece (p);
  switch (pick (6))
    {
    case 0:
    case 1:
      return edit_nodes (p, piece, error);
    case 2:
      return edit_edges (p, piece, error);
    case 3:
      return edit_pieces (p, piece, error);
    case 4:
      return edit_marks (p, piece, error);
    default:
      return edit_seams (p, piece, error);
    }
}

static void
one_run (int steps)
{
  g_autoptr (Pattern) first = sample_pattern ();
  g_autoptr (PatternHistory) history = pattern_history_new (first);
  g_autoptr (GPtrArray) copies
      = g_ptr_array_new_with_free_func ((GDestroyNotify)pattern_unref);
  g_ptr_array_add (copies, deep_copy (first));
  for (int i = 0; i < steps; i++)
    {
      const Pattern *p = pattern_history_get_current (history);
      g_autoptr (GError) error = NULL;
      g_autoptr (Pattern) result = any_edit (p, &error);
      g_assert_true ((result == NULL) == (error != NULL));
      if (result == NULL)
        {
          g_assert_true (error->domain == DRAFTING_ERROR
                         && *error->message != '\0');
          continue;
        }
      assert_sound (result);
      pattern_history_push (history, "edit", result);
      g_ptr_array_add (copies, deep_copy (result));
    }
  /* No step was changed by what came after it. */
  for (guint i = 0; i < copies->len; i++)
    g_assert_true (pattern_equal (pattern_history_get_pattern (history, i),
                                  g_ptr_array_index (copies, i)));
  while (pattern_history_undo (history))
    ;
  g_assert_true (pattern_history_get_current (history) == first);
}

static void
test_any_edits (void)
{
  for (int run = 0; run < 60; run++)
    one_run (60);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/any-edits", test_any_edits);
  return g_test_run ();
}
