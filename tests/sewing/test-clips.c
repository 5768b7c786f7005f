/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clips and notches by the curve of both edges and by how the seam is
 * pressed. Surplus at the cut edge: 2 w theta for a ply folded back on its own
 * piece, w (theta_own + theta_partner) for a ply laid over the other one. */
#include "builder.h"
#include "sewing/facts.h"

#define WIDTH 15.0

/* Edge "e" of 50 pi mm: bulging or hollow with radius 100, or straight. */
static const char *const shapes[] = {
  ['('] = "edge start seam 15\nline 100 0\nedge e seam 15\narc 0 0 90\n"
          "edge rest seam 15\n",
  [')'] = "edge start seam 15\nline 200 0\nline 200 200\nline 0 200\n"
          "line 0 100\nedge e seam 15\narc 0 0 -90\n",
  ['|'] = "edge e seam 15\nline 157.07963267948966 0\nedge rest seam 15\n"
          "line 157.07963267948966 90\nline 0 90\n",
};

static const char *
start_of (char shape)
{
  return shape == ')' ? "at 100 0\n" : "at 0 0\n";
}

static Pattern *
make (char a, char b, const char *press)
{
  g_autofree char *text = g_strdup_printf (
      "piece A\n%s%scut shell 1\npiece B\n%s%scut shell 1\nseam s %s 0 A.e / "
      "B.e~\n",
      start_of (a), shapes[(int)a], start_of (b), shapes[(int)b], press);
  return builder_read (text);
}

typedef struct
{
  char a, b;
  const char *press;
  double a_surplus, b_surplus; /* in units of w theta = 15 pi / 2 */
} Case;

/* Bulging ( k = 1/100 ), hollow ( k = -1/100 ), straight. */
static const Case cases[] = {
  /* complements: a round edge into a hollow one */
  { '(', ')', "open", 2, -2 },
  { '(', ')', "turned", 2, -2 },
  { '(', ')', "to-a", 2, 0 },
  { '(', ')', "to-b", 0, -2 },
  { ')', '(', "open", -2, 2 },
  { ')', '(', "to-a", -2, 0 },
  { ')', '(', "to-b", 0, 2 },
  /* both bulge: a shoulder line; both plies are in surplus */
  { '(', '(', "open", 2, 2 },
  { '(', '(', "turned", 2, 2 },
  { '(', '(', "to-a", 2, 2 },
  { '(', '(', "to-b", 2, 2 },
  /* both hollow */
  { ')', ')', "open", -2, -2 },
  { ')', ')', "to-a", -2, -2 },
  { ')', ')', "to-b", -2, -2 },
  /* against a straight edge */
  { '(', '|', "open", 2, 0 },
  { '(', '|', "to-a", 2, 1 },
  { '(', '|', "to-b", 1, 0 },
  { ')', '|', "open", -2, 0 },
  { ')', '|', "to-a", -2, -1 },
  { ')', '|', "to-b", -1, 0 },
  { '(', '|', "turned", 2, 0 },
  { ')', '|', "turned", -2, 0 },
  { ')', '(', "turned", -2, 2 },
  { ')', ')', "turned", -2, -2 },
  { '|', '(', "open", 0, 2 },
  { '|', '(', "to-a", 0, 1 },
  { '|', '(', "to-b", 1, 2 },
  { '|', '(', "turned", 0, 2 },
  { '|', ')', "open", 0, -2 },
  { '|', ')', "to-a", 0, -1 },
  { '|', ')', "to-b", -1, -2 },
  { '|', ')', "turned", 0, -2 },
  { '|', '|', "open", 0, 0 },
  { '|', '|', "to-b", 0, 0 },
  { '|', '|', "to-a", 0, 0 },
  { '|', '|', "turned", 0, 0 },
};

static void
check_plan (const GeoClipPlan *plan, double times)
{
  double surplus = times * WIDTH * G_PI / 2;
  g_assert_cmpfloat_with_epsilon (plan->surplus, surplus, 1e-3);
  if (times == 0)
    {
      g_assert_cmpuint (plan->count, ==, 0);
      return;
    }
  g_assert_cmpuint (plan->count, >, 2);
  for (size_t i = 0; i < plan->count; i++)
    {
      g_assert_cmpint (plan->cuts[i].kind, ==,
                       times > 0 ? GEO_CUT_WEDGE : GEO_CUT_SLIT);
      g_assert_cmpfloat (plan->cuts[i].at, >, 0);
      g_assert_cmpfloat (plan->cuts[i].at, <, 50 * G_PI);
    }
}

static void
test_table (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *c = &cases[i];
      g_test_message ("%c against %c, %s", c->a, c->b, c->press);
      g_autoptr (Pattern) p = make (c->a, c->b, c->press);
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      check_plan (sewing_facts_clips (facts, p, p->pieces[0]->id,
                                      builder_edge (p, "A", "e")->id),
                  c->a_surplus);
      check_plan (sewing_facts_clips (facts, p, p->pieces[1]->id,
                                      builder_edge (p, "B", "e")->id),
                  c->b_surplus);
    }
}

/* Radius 100, w 15: spacing 15.5 mm, inside the 6-13 mm of handbooks for
 * necklines (radius about 60-80) and wider as the curve is flatter. */
static void
test_spacing (void)
{
  g_autoptr (Pattern) p = make (')', '(', "open");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const GeoClipPlan *plan = sewing_facts_clips (facts, p, p->pieces[0]->id,
                                                builder_edge (p, "A", "e")->id);
  g_assert_cmpfloat (plan->longest_gap, <, 15.5 + 0.1);
  g_assert_cmpfloat (plan->shortest_gap, >, 10);
}

/* No two cuts of the two plies face each other, whatever the shapes and however
 * pressed; where one ply has more of them than the other, half a step between
 * them was once not enough. */
static void
test_stagger (void)
{
  static const char *const presses[] = { "open", "to-a", "to-b", "turned" };
  static const char all[] = "()|";
  guint compared = 0;
  for (guint i = 0; i < 9; i++)
    for (guint k = 0; k < G_N_ELEMENTS (presses); k++)
      {
        g_test_message ("%c against %c, %s", all[i / 3], all[i % 3],
                        presses[k]);
        g_autoptr (Pattern) p = make (all[i / 3], all[i % 3], presses[k]);
        g_autoptr (SewingFacts) facts = sewing_facts_new ();
        const GeoClipPlan *a = sewing_facts_clips (
            facts, p, p->pieces[0]->id, builder_edge (p, "A", "e")->id);
        const GeoClipPlan *b = sewing_facts_clips (
            facts, p, p->pieces[1]->id, builder_edge (p, "B", "e")->id);
        for (size_t x = 0; x < a->count; x++)
          for (size_t y = 0; y < b->count; y++)
            {
              /* B is walked backwards. */
              double facing = 50 * G_PI - b->cuts[y].at;
              g_assert_cmpfloat (fabs (a->cuts[x].at - facing), >=, 2 - 1e-4);
              compared++;
            }
      }
  g_assert_cmpuint (compared, >, 1000);
}

/* Another cloth for side A moves its cuts, and side B keeps off the new ones. */
static void
test_stagger_cloth (void)
{
  g_autoptr (Pattern) p = make (')', ')', "open");
  g_autoptr (Pattern) q = pattern_dup (p);
  PatternCloth loose = p->cloths[0];
  loose.id = pattern_take_id (q);
  loose.give = 0.5;
  pattern_put_cloth (q, &loose);
  PatternPiece *piece = pattern_piece_dup (p->pieces[0]);
  piece->cuts[0].cloth = loose.id;
  pattern_put_piece (q, piece);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  guint a = builder_edge (p, "A", "e")->id, b = builder_edge (p, "B", "e")->id;
  g_assert_cmpuint (sewing_facts_clips (facts, q, q->pieces[1]->id, b)->count,
                    >, 0);
  g_assert_cmpuint (sewing_facts_clips (facts, q, q->pieces[0]->id, a)->count,
                    ==, 0);
  g_autoptr (Pattern) r = pattern_dup (q);
  loose.give = 0.04;
  pattern_put_cloth (r, &loose);
  const GeoClipPlan *on_b = sewing_facts_clips (facts, r, r->pieces[1]->id, b);
  const GeoClipPlan *on_a = sewing_facts_clips (facts, r, r->pieces[0]->id, a);
  g_assert_cmpuint (on_a->count, >, 0);
  for (size_t x = 0; x < on_a->count; x++)
    for (size_t y = 0; y < on_b->count; y++)
      g_assert_cmpfloat (
          fabs (on_a->cuts[x].at - (50 * G_PI - on_b->cuts[y].at)), >=,
          2 - 1e-4);
}

static void
test_none (void)
{
  g_autoptr (Pattern) p = make ('(', ')', "open");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  guint a = p->pieces[0]->id;
  /* In no seam. */
  g_assert_cmpuint (
      sewing_facts_clips (facts, p, a, builder_edge (p, "A", "rest")->id)
          ->count,
      ==, 0);
  g_assert_cmpuint (sewing_facts_clips (facts, p, a, 999)->count, ==, 0);
  /* Bound: no allowance to cut into. */
  g_autoptr (Pattern) q = pattern_dup (p);
  PatternPiece *bound = pattern_piece_dup (p->pieces[0]);
  bound->edges[1].kind = PATTERN_EDGE_BOUND;
  pattern_put_piece (q, bound);
  g_assert_cmpuint (
      sewing_facts_clips (facts, q, a, builder_edge (q, "A", "e")->id)->count,
      ==, 0);
}

/* The cloth is the first the piece is cut from: one that gives enough wants
 * no cuts. 2 w / R = 0.3. */
static void
test_cloth (void)
{
  g_autoptr (Pattern) p = make (')', '(', "open");
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  guint a = p->pieces[0]->id, e = builder_edge (p, "A", "e")->id;
  g_assert_cmpuint (sewing_facts_clips (facts, p, a, e)->count, >, 0);
  g_autoptr (Pattern) q = pattern_dup (p);
  PatternCloth knit = p->cloths[0];
  knit.give = 0.35;
  pattern_put_cloth (q, &knit);
  g_assert_cmpuint (sewing_facts_clips (facts, q, a, e)->count, ==, 0);
  g_assert_cmpuint (sewing_facts_clips (facts, p, a, e)->count, >, 0);
}

/* Balance marks are kept clear of. */
static void
test_marks (void)
{
  g_autoptr (Pattern) p = make (')', '(', "open");
  g_autoptr (Pattern) q = pattern_dup (p);
  PatternPiece *notched = pattern_piece_dup (p->pieces[0]);
  const PatternEdge *e = builder_edge (p, "A", "e");
  pattern_piece_add_notch (notched, (PatternNotch){ .id = pattern_take_id (q),
                                                    .edge = e->id,
                                                    .count = 1,
                                                    .amount = 70 });
  pattern_put_piece (q, notched);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const GeoClipPlan *plan = sewing_facts_clips (facts, q, notched->id, e->id);
  g_assert_cmpuint (plan->count, >, 0);
  for (size_t i = 0; i < plan->count; i++)
    g_assert_cmpfloat (fabs (plan->cuts[i].at - 70), >, 5 - 1e-6);
}

/* A stretch of 6 mm, wide enough for one cut: the staggered ply once had two, 3 mm
 * from each other. A tight one keeps its many. */
static void
test_short (void)
{
  static const struct
  {
    const char *edge;
    size_t least, most;
  } edges[]
      = { { "line 100 0\nedge e seam 15\narc 0 0 3.4377467707849396\n", 1, 1 },
          { "line 12 0\nedge e seam 15\narc 0 0 90\n", 3, 5 } };
  for (guint i = 0; i < G_N_ELEMENTS (edges); i++)
    for (int side = 0; side < 2; side++)
      {
        g_autofree char *text = g_strdup_printf (
            "piece A\nat 0 0\nedge start seam 15\n%sedge rest seam 15\n"
            "piece B\nat 0 0\nedge start seam 15\n%sedge rest seam 15\n"
            "seam s open 0 A.e / B.e~\n",
            edges[i].edge, edges[i].edge);
        g_autoptr (Pattern) p = builder_read (text);
        g_autoptr (SewingFacts) facts = sewing_facts_new ();
        const char *name = side == 0 ? "A" : "B";
        const GeoClipPlan *plan
            = sewing_facts_clips (facts, p, builder_piece (p, name)->id,
                                  builder_edge (p, name, "e")->id);
        g_assert_cmpuint (plan->count, >=, edges[i].least);
        g_assert_cmpuint (plan->count, <=, edges[i].most);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/clips/table", test_table);
  g_test_add_func ("/clips/spacing", test_spacing);
  g_test_add_func ("/clips/stagger", test_stagger);
  g_test_add_func ("/clips/stagger-cloth", test_stagger_cloth);
  g_test_add_func ("/clips/none", test_none);
  g_test_add_func ("/clips/cloth", test_cloth);
  g_test_add_func ("/clips/marks", test_marks);
  g_test_add_func ("/clips/short", test_short);
  return g_test_run ();
}
