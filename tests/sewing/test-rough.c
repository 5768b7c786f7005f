/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Patterns nobody would draw: collapsed edges, folded handles, notches beyond
 * their edge, seams that sew an edge to itself or a side of many runs. Facts and
 * checks must come to an end and hold no number that is not one. */
#include "builder.h"
#include "sewing/checks.h"
#include "sewing/cutting.h"
#include "sewing/joints.h"

static double
rough_number (void)
{
  switch (g_test_rand_int_range (0, 4))
    {
    case 0:
      return g_test_rand_int_range (-3, 4) * 50;
    case 1:
      return g_test_rand_double_range (-1e-7, 1e-7);
    default:
      return g_test_rand_double_range (-300, 300);
    }
}

static GeoPoint
rough_point (void)
{
  return geo_point (rough_number (), rough_number ());
}

static void
rough_marks (Pattern *p, PatternPiece *piece)
{
  int n = g_test_rand_int_range (0, 5);
  for (int i = 0; i < n; i++)
    {
      guint edge = (guint)g_test_rand_int_range (0, (int)piece->n_edges);
      PatternNotch notch
          = { .id = pattern_take_id (p),
              .edge = piece->edges[edge].id,
              .count = g_test_rand_int_range (1, 4),
              .from = (PatternNotchFrom)g_test_rand_int_range (0, 3) };
      double most = notch.from == PATTERN_FRACTION ? 1 : 400;
      notch.amount = g_test_rand_double_range (0, most);
      pattern_piece_add_notch (piece, notch);
    }
  if (g_test_rand_bit ())
    pattern_piece_add_cut (
        piece,
        (PatternCut){ .cloth = p->cloths[0].id, .count = 2, .mirrored = TRUE });
}

static void
rough_piece (Pattern *p)
{
  PatternNode nodes[8];
  gboolean starts[8] = { TRUE };
  guint n = (guint)g_test_rand_int_range (1, 9);
  for (guint i = 0; i < n; i++)
    {
      GeoPoint at = i > 0 && g_test_rand_int_range (0, 6) == 0 ? nodes[i - 1].at
                                                               : rough_point ();
      gboolean straight = g_test_rand_bit ();
      nodes[i] = (PatternNode){ .kind = PATTERN_NODE_CORNER,
                                .at = at,
                                .in = straight ? at : rough_point (),
                                .out = straight ? at : rough_point () };
      starts[i] = i == 0 || g_test_rand_bit ();
    }
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), "rough");
  pattern_piece_set_outline (piece, nodes, n, starts, &p->next_id);
  for (guint i = 0; i < piece->n_edges; i++)
    {
      PatternEdge *edge = &piece->edges[i];
      edge->kind = (PatternEdgeKind)g_test_rand_int_range (0, 5);
      edge->allowance = g_test_rand_double_range (0, 40);
      edge->corner.kind = (GeoCornerKind)g_test_rand_int_range (0, 4);
      edge->corner.governor = (GeoCornerGovernor)g_test_rand_int_range (0, 2);
      if (g_test_rand_bit ())
        pattern_set_string (&edge->name, "edge");
    }
  rough_marks (p, piece);
  pattern_put_piece (p, piece);
}

static void
rough_seam (Pattern *p)
{
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), "seam");
  seam->join = g_test_rand_int_range (0, 4) == 0 ? PATTERN_JOIN_DART
                                                 : PATTERN_JOIN_SEAM;
  seam->press = (PatternPress)g_test_rand_int_range (0, 4);
  seam->ease = g_test_rand_bit () ? 0 : g_test_rand_double_range (-20, 20);
  for (int side = 0; side < 2; side++)
    for (int r = g_test_rand_int_range (1, 4); r > 0; r--)
      {
        const PatternPiece *piece
            = p->pieces[g_test_rand_int_range (0, (int)p->n_pieces)];
        guint edge = (guint)g_test_rand_int_range (0, (int)piece->n_edges);
        pattern_seam_add_run (seam, side,
                              (PatternRun){ piece->id, piece->edges[edge].id,
                                            g_test_rand_bit () });
      }
  pattern_put_seam (p, seam);
}

static void
look_at_seam (SewingFacts *facts, const Pattern *p, const PatternSeam *s)
{
  const SewingSeam *seam = sewing_facts_seam (facts, p, s);
  g_assert_nonnull (seam);
  g_assert_true (isfinite (seam->out));
  double a = 0, b = 0;
  for (guint i = 0; i < seam->n_intervals; i++)
    {
      const SewingInterval *in = &seam->intervals[i];
      g_assert_cmpfloat (in->a_from, ==, a);
      g_assert_cmpfloat (in->b_from, ==, b);
      g_assert_cmpfloat (in->a_to, >=, a);
      g_assert_cmpfloat (in->b_to, >=, b);
      g_assert_true (isfinite (in->per_cent));
      a = in->a_to;
      b = in->b_to;
    }
  g_assert_cmpfloat (a, ==, seam->lengths[0]);
  g_assert_cmpfloat (b, ==, seam->lengths[1]);
  for (int end = 0; end < 2; end++)
    {
      SewingJoint joint;
      if (sewing_seam_joint (facts, p, s, end, &joint))
        g_assert_true (isfinite (joint.angle) && isfinite (joint.motion.dx)
                       && isfinite (joint.motion.c));
    }
}

static void
look_at_piece (SewingFacts *facts, const Pattern *p, const PatternPiece *piece)
{
  const SewingPiece *f = sewing_facts_piece (facts, piece);
  g_assert_true (isfinite (f->area) && isfinite (f->perimeter));
  g_assert_true (isfinite (f->middle.x) && isfinite (f->middle.y));
  for (guint i = 0; i < piece->n_edges; i++)
    {
      const GeoClipPlan *plan
          = sewing_facts_clips (facts, p, piece->id, piece->edges[i].id);
      g_assert_true (isfinite (plan->surplus));
      for (size_t k = 0; k < plan->count; k++)
        {
          g_assert_cmpfloat (plan->cuts[k].at, >=, 0);
          g_assert_cmpfloat (plan->cuts[k].at, <=, f->lengths[i]);
        }
    }
  for (guint i = 0; i < piece->n_notches; i++)
    {
      GeoPoint at, outward;
      if (sewing_notch_place (f, &piece->notches[i], &at, &outward))
        g_assert_true (isfinite (at.x) && isfinite (outward.x));
    }
}

static void
test_rough (void)
{
  for (int run = 0; run < 120; run++)
    {
      g_autoptr (Pattern) p = pattern_new ("rough");
      for (int i = g_test_rand_int_range (1, 4); i > 0; i--)
        rough_piece (p);
      for (int i = g_test_rand_int_range (0, 4); i > 0; i--)
        rough_seam (p);
      g_autofree char *unsound = pattern_unsound (p);
      g_assert_cmpstr (unsound, ==, NULL);
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      for (guint i = 0; i < p->n_pieces; i++)
        look_at_piece (facts, p, p->pieces[i]);
      for (guint i = 0; i < p->n_seams; i++)
        look_at_seam (facts, p, p->seams[i]);
      g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
      for (guint i = 0; i < findings->len; i++)
        {
          const SewingFinding *f = findings->pdata[i];
          g_assert_true (isfinite (f->at.x) && isfinite (f->at.y));
          g_assert_true (isfinite (f->amount));
          g_assert_true (isfinite (f->remedy.amount));
          g_assert_true (g_utf8_validate (f->text, -1, NULL));
        }
      g_autoptr (GArray) list = sewing_cutting_list (facts, p);
      g_assert_true (isfinite (sewing_cutting_area (list, p->cloths[0].id)));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rough/patterns", test_rough);
  return g_test_run ();
}
