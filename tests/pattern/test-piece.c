/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "geometry/length.h"
#include "geometry/region.h"
#include "sample.h"

#define assert_near(a, b, within)                                              \
  g_assert_cmpfloat (fabs ((a) - (b)), <=, (within))

static PatternPiece *
marked_rectangle (Pattern *pattern)
{
  PatternPiece *piece = sample_rectangle (pattern, "front", 10, 20);
  sample_mark (pattern, piece);
  return piece;
}

/* Where a notch sits on the table. */
static GeoPoint
notch_point (const PatternPiece *piece, guint id)
{
  const PatternNotch *notch = pattern_piece_get_notch (piece, id);
  g_assert_nonnull (notch);
  int edge = pattern_piece_find_edge (piece, notch->edge);
  g_assert_cmpint (edge, >=, 0);
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_edge_chain (piece, (guint)edge, &chain);
  double length = geo_chain_length (&chain, 1e-9);
  GeoPlace place
      = geo_chain_at_length (&chain, pattern_notch_place (notch, length), 1e-9);
  GeoPoint at = geo_chain_point (&chain, place);
  geo_chain_clear (&chain);
  return at;
}

static void
assert_notches_stay (const PatternPiece *before, const PatternPiece *after)
{
  g_assert_cmpuint (before->n_notches, ==, after->n_notches);
  for (guint i = 0; i < before->n_notches; i++)
    {
      guint id = before->notches[i].id;
      g_assert_cmpint (pattern_piece_get_notch (after, id)->from, ==,
                       before->notches[i].from);
      g_assert_cmpfloat (
          geo_distance (notch_point (before, id), notch_point (after, id)), <,
          1e-6);
    }
}

static void
test_outline (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = sample_rectangle (pattern, "front", 10, 20);
  assert_near (pattern_piece_area (piece), 6000, 1e-9);
  g_assert_cmpuint (piece->n_edges, ==, 4);
  GeoChain chain;
  geo_chain_init (&chain);
  pattern_piece_outline (piece, &chain);
  g_assert_true (geo_chain_is_closed (&chain));
  assert_near (geo_chain_length (&chain, 1e-9), 320, 1e-9);
  geo_chain_reset (&chain);
  pattern_piece_edge_chain (piece, 3, &chain);
  g_assert_cmpuint (chain.count, ==, 1);
  g_assert_true (geo_same (geo_chain_end (&chain), piece->nodes[0].at));
  geo_chain_clear (&chain);
}

/* The same corners given the other way round make the same piece of positive
 * area, starting at the same node. */
static void
test_outline_turned (void)
{
  PatternNode nodes[] = { sample_node (0, 0), sample_node (0, 60),
                          sample_node (100, 60), sample_node (100, 0) };
  nodes[1].out = geo_point (20, 80);
  gboolean starts[] = { FALSE, TRUE, FALSE, TRUE };
  guint next = 5;
  g_autoptr (PatternPiece) piece = pattern_piece_new (1, "p");
  pattern_piece_set_outline (piece, nodes, 4, starts, &next);
  g_assert_cmpfloat (pattern_piece_area (piece), >, 6000);
  g_assert_true (geo_same (piece->nodes[0].at, nodes[0].at));
  g_assert_true (geo_same (piece->nodes[1].at, nodes[3].at));
  g_assert_true (geo_same (piece->nodes[3].at, nodes[1].at));
  g_assert_true (geo_same (piece->nodes[3].in, nodes[1].out));
  g_assert_cmpuint (piece->n_edges, ==, 3);
  g_assert_cmpuint (piece->edges[0].first, ==, 0);
  g_assert_cmpuint (piece->edges[1].first, ==, 1);
  g_assert_cmpuint (piece->edges[2].first, ==, 3);
  g_assert_cmpuint (next, ==, 12);
}

static void
test_insert_and_remove_node (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = sample_rectangle (pattern, "front", 0, 0);
  PatternNode node = sample_node (100, 30);
  node.id = 900;
  /* At an edge's start: before it, on the edge before. */
  pattern_piece_insert_node (piece, 2, node);
  g_assert_cmpuint (piece->n_nodes, ==, 5);
  g_assert_cmpuint (piece->edges[1].first, ==, 1);
  g_assert_cmpuint (piece->edges[2].first, ==, 3);
  g_assert_cmpuint (piece->edges[3].first, ==, 4);
  g_assert_cmpuint (pattern_piece_edge_of_node (piece, 2), ==, 1);
  /* At 0: last, on the last edge. */
  node = sample_node (0, 30);
  node.id = 901;
  pattern_piece_insert_node (piece, 0, node);
  g_assert_cmpuint (piece->nodes[5].id, ==, 901);
  g_assert_cmpuint (piece->edges[0].first, ==, 0);
  g_assert_cmpuint (pattern_piece_edge_of_node (piece, 5), ==, 3);
  g_assert_cmpuint (pattern_piece_edge_last (piece, 3), ==, 6);
  assert_near (pattern_piece_area (piece), 6000, 1e-9);
  pattern_piece_remove_node (piece, 5);
  pattern_piece_remove_node (piece, 2);
  g_autoptr (Pattern) other = pattern_new ("p");
  g_autoptr (PatternPiece) fresh = sample_rectangle (other, "front", 0, 0);
  g_assert_true (pattern_piece_equal (piece, fresh));
}

static void
test_remove_corner (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = marked_rectangle (pattern);
  guint left = piece->edges[3].id;
  /* The first node starts the top edge: it joins the left one, and the loop
   * begins at the right one. */
  pattern_piece_remove_node (piece, 0);
  g_assert_cmpuint (piece->n_nodes, ==, 3);
  g_assert_cmpuint (piece->n_edges, ==, 3);
  g_assert_cmpstr (piece->edges[0].name, ==, "right");
  g_assert_cmpuint (piece->edges[0].first, ==, 0);
  g_assert_cmpuint (piece->edges[2].id, ==, left);
  for (guint i = 0; i < piece->n_notches; i++)
    g_assert_cmpuint (piece->notches[i].edge, ==, left);
  assert_near (pattern_piece_area (piece), 3000, 1e-9);
}

static void
test_insert_and_remove_edge (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = marked_rectangle (pattern);
  g_autoptr (PatternPiece) before = pattern_piece_dup (piece);
  PatternNode node = sample_node (50, 20); /* 40 along the top */
  node.id = pattern_take_id (pattern);
  pattern_piece_insert_node (piece, 1, node);
  PatternEdge edge = { .id = pattern_take_id (pattern),
                       .name = (char *)"yoke",
                       .kind = PATTERN_EDGE_HEM,
                       .allowance = 40,
                       .corner = { GEO_CORNER_SQUARED, GEO_CORNER_BY_LEAVING },
                       .first = 77 };
  pattern_piece_insert_edge (piece, 1, edge);
  g_assert_cmpuint (piece->n_edges, ==, 5);
  g_assert_cmpstr (piece->edges[1].name, ==, "yoke");
  g_assert_true (piece->edges[1].name != edge.name);
  g_assert_cmpuint (piece->edges[1].first, ==, 1);
  g_assert_cmpint (piece->edges[1].kind, ==, PATTERN_EDGE_HEM);
  g_assert_cmpint (piece->edges[1].corner.kind, ==, GEO_CORNER_SQUARED);
  assert_notches_stay (before, piece);
  /* 30 from the start and a quarter of 100 stay; 30 from the end moves on. */
  g_assert_cmpuint (piece->notches[0].edge, ==, piece->edges[0].id);
  g_assert_cmpuint (piece->notches[1].edge, ==, edge.id);
  assert_near (piece->notches[1].amount, 30, 1e-9);
  g_assert_cmpuint (piece->notches[2].edge, ==, piece->edges[0].id);
  assert_near (piece->notches[2].amount, 0.625, 1e-9);
  pattern_piece_remove_edge (piece, 1);
  assert_notches_stay (before, piece);
  pattern_piece_remove_node (piece, 1);
  assert_notches_stay (before, piece);
  for (guint i = 0; i < 4; i++)
    pattern_piece_remove_edge (piece, 0);
  g_assert_cmpuint (piece->n_edges, ==, 1);
  g_assert_cmpuint (piece->edges[0].first, ==, 0);
  assert_notches_stay (before, piece);
}

static void
test_flip (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = marked_rectangle (pattern);
  piece->edges[1].corner
      = (GeoCorner){ GEO_CORNER_MATCHED, GEO_CORNER_BY_ARRIVING };
  GeoPoint corner = piece->nodes[1].at;
  g_autoptr (PatternPiece) before = pattern_piece_dup (piece);
  GeoMotion flip = { 0.6, 0.8, 12, -7, true };
  pattern_piece_move (piece, flip);
  assert_near (pattern_piece_area (piece), 6000, 1e-8);
  for (guint i = 0; i < 4; i++)
    {
      /* Every edge keeps its id and its cloth: start and end swap. */
      int now = pattern_piece_find_edge (piece, before->edges[i].id);
      g_assert_cmpint (now, >=, 0);
      g_assert_cmpstr (piece->edges[now].name, ==, before->edges[i].name);
      GeoPoint start = piece->nodes[piece->edges[now].first].at;
      guint end = pattern_piece_edge_last (before, i) % 4;
      GeoPoint old = geo_motion_apply (flip, before->nodes[end].at);
      g_assert_cmpfloat (geo_distance (start, old), <, 1e-9);
      /* The corner treatment stays with its corner. */
      if (geo_distance (start, geo_motion_apply (flip, corner)) < 1e-9)
        {
          g_assert_cmpint (piece->edges[now].corner.kind, ==,
                           GEO_CORNER_MATCHED);
          g_assert_cmpint (piece->edges[now].corner.governor, ==,
                           GEO_CORNER_BY_LEAVING);
        }
      else
        g_assert_cmpint (piece->edges[now].corner.kind, ==,
                         GEO_CORNER_EXTENDED);
    }
  for (guint i = 0; i < before->n_notches; i++)
    {
      guint id = before->notches[i].id;
      GeoPoint moved = geo_motion_apply (flip, notch_point (before, id));
      g_assert_cmpfloat (geo_distance (moved, notch_point (piece, id)), <,
                         1e-6);
    }
  GeoPoint drill = geo_motion_apply (flip, before->drills[0].at);
  g_assert_true (geo_same (piece->drills[0].at, drill));
}

/* Flipping twice about the same line gives everything back. */
static void
test_flip_twice (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = marked_rectangle (pattern);
  g_autoptr (PatternPiece) before = pattern_piece_dup (piece);
  GeoMotion flip = { 1, 0, 0, 0, true };
  pattern_piece_move (piece, flip);
  g_assert_false (pattern_piece_equal (piece, before));
  pattern_piece_move (piece, flip);
  /* 1 - (1 - 1/4) and atan2 of cosine and sine: exact but for the last bits. */
  for (guint i = 0; i < piece->n_buttonholes; i++)
    piece->buttonholes[i].angle = before->buttonholes[i].angle;
  for (guint i = 0; i < piece->n_texts; i++)
    piece->texts[i].angle = before->texts[i].angle;
  g_assert_true (pattern_piece_equal (piece, before));
}

static void
test_turn (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = marked_rectangle (pattern);
  double angle = piece->buttonholes[0].angle;
  GeoMotion turn = { cos (0.4), sin (0.4), 3, 4, false };
  pattern_piece_move (piece, turn);
  assert_near (piece->buttonholes[0].angle, angle + 0.4, 1e-12);
  assert_near (pattern_piece_area (piece), 6000, 1e-8);
  /* A side without handles has none after turning, and stays straight. */
  for (guint i = 0; i < piece->n_nodes; i++)
    g_assert_true (geo_same (piece->nodes[i].in, piece->nodes[i].at)
                   && geo_same (piece->nodes[i].out, piece->nodes[i].at));
}

static void
test_marks (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = marked_rectangle (pattern);
  guint ids[] = { piece->notches[1].id, piece->buttonholes[0].id,
                  piece->drills[0].id, piece->texts[0].id, piece->lines[0].id };
  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      g_assert_true (pattern_piece_remove_mark (piece, ids[i]));
      g_assert_false (pattern_piece_remove_mark (piece, ids[i]));
    }
  g_assert_cmpuint (piece->n_notches, ==, 2);
  g_assert_cmpuint (piece->n_buttonholes + piece->n_drills + piece->n_texts
                        + piece->n_lines,
                    ==, 0);
}

static void
test_notch_place (void)
{
  PatternNotch notch = { 1, 1, 1, PATTERN_FROM_START, 30 };
  g_assert_cmpfloat (pattern_notch_place (&notch, 100), ==, 30);
  g_assert_cmpfloat (pattern_notch_place (&notch, 20), ==, 20);
  notch.from = PATTERN_FROM_END;
  g_assert_cmpfloat (pattern_notch_place (&notch, 100), ==, 70);
  g_assert_cmpfloat (pattern_notch_place (&notch, 20), ==, 0);
  notch.from = PATTERN_FRACTION;
  notch.amount = 0.25;
  g_assert_cmpfloat (pattern_notch_place (&notch, 100), ==, 25);
}

static void
test_widths_and_words (void)
{
  PatternEdge edge = { .allowance = 12 };
  static const struct
  {
    PatternEdgeKind kind;
    double width;
    const char *word;
  } known[] = { { PATTERN_EDGE_SEAM, 12, "seam" },
                { PATTERN_EDGE_HEM, 12, "hem" },
                { PATTERN_EDGE_FOLD, 0, "fold" },
                { PATTERN_EDGE_BOUND, 0, "bound" },
                { PATTERN_EDGE_RAW, 0, "raw" } };
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    {
      edge.kind = known[i].kind;
      g_assert_cmpfloat (pattern_edge_width (&edge), ==, known[i].width);
      g_assert_cmpstr (pattern_edge_kind_word (edge.kind), ==, known[i].word);
    }
}

/* Every field counts when two pieces are compared. */
static void
test_equal (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("p");
  g_autoptr (PatternPiece) piece = marked_rectangle (pattern);
  for (int i = 0; i < 20; i++)
    {
      g_autoptr (PatternPiece) other = pattern_piece_dup (piece);
      g_assert_true (pattern_piece_equal (piece, other));
      switch (i)
        {
        case 0:
          other->nodes[2].in.x += 1;
          break;
        case 1:
          other->nodes[2].kind = PATTERN_NODE_SMOOTH;
          break;
        case 2:
          other->edges[2].allowance += 1;
          break;
        case 3:
          other->edges[2].kind = PATTERN_EDGE_RAW;
          break;
        case 4:
          other->edges[2].corner.kind = GEO_CORNER_SQUARED;
          break;
        case 5:
          pattern_set_string (&other->edges[1].extra, NULL);
          break;
        case 6:
          pattern_set_string (&other->edges[1].name, "side");
          break;
        case 7:
          other->notches[0].amount += 1;
          break;
        case 8:
          other->notches[0].count = 3;
          break;
        case 9:
          other->cuts[0].mirrored = FALSE;
          break;
        case 10:
          other->buttonholes[0].length += 1;
          break;
        case 11:
          other->drills[0].at.y += 1;
          break;
        case 12:
          pattern_set_string (&other->texts[0].text, "x");
          break;
        case 13:
          other->texts[0].size += 1;
          break;
        case 14:
          other->lines[0].nodes[1].at.x += 1;
          break;
        case 15:
          other->grain_to.x += 1;
          break;
        case 16:
          other->grain_both_ways = TRUE;
          break;
        case 17:
          pattern_set_string (&other->note, "");
          break;
        case 18:
          pattern_set_string (&other->name, "rear");
          break;
        case 19:
          pattern_set_string (&other->extra, NULL);
          break;
        }
      g_assert_false (pattern_piece_equal (piece, other));
    }
}

/* Any run of insertions, removals and flips leaves edges in order and notches
 * on the line. */
static void
test_any_run (void)
{
  for (int run = 0; run < 200; run++)
    {
      g_autoptr (Pattern) pattern = pattern_new ("p");
      PatternPiece *piece = marked_rectangle (pattern);
      for (int step = 0; step < 20; step++)
        {
          guint n = piece->n_nodes;
          guint at = (guint)g_test_rand_int_range (0, (int)n);
          guint edge = pattern_piece_edge_of_node (piece, at);
          switch (g_test_rand_int_range (0, 5))
            {
            case 0:
              {
                GeoPoint p = geo_lerp (piece->nodes[at].at,
                                       piece->nodes[(at + 1) % n].at, 0.4);
                PatternNode node = sample_node (p.x, p.y);
                node.id = pattern_take_id (pattern);
                pattern_piece_insert_node (piece, at + 1, node);
                break;
              }
            case 1:
              if (n > 3 && piece->n_edges > 1)
                pattern_piece_remove_node (piece, at);
              break;
            case 2:
              if (piece->edges[edge].first != at)
                {
                  PatternEdge made = { .id = pattern_take_id (pattern) };
                  pattern_piece_insert_edge (piece, at, made);
                }
              break;
            case 3:
              pattern_piece_remove_edge (piece, edge);
              break;
            default:
              {
                double a = g_test_rand_double_range (-3, 3);
                GeoMotion m = { cos (a), sin (a), 1, 2,
                                g_test_rand_int_range (0, 2) == 1 };
                pattern_piece_move (piece, m);
              }
            }
        }
      if (pattern_piece_area (piece) < 0)
        pattern_piece_turn_round (piece);
      pattern_put_piece (pattern, piece);
      g_autofree char *words = pattern_unsound (pattern);
      g_assert_cmpstr (words, ==, NULL);
    }
}

/* Bent to a length: its ends and the directions there stay, inner nodes stay
 * smooth, and nothing else of the outline moves. */
static void
test_bend_edge (void)
{
  for (int n = 1; n <= 4; n++)
    for (int way = -1; way <= 1; way += 2)
      {
        guint next = 2;
        g_autoptr (PatternPiece) piece = pattern_piece_new (1, "arc");
        PatternNode nodes[6];
        gboolean starts[6] = { TRUE, FALSE, FALSE, FALSE, FALSE, FALSE };
        double step = G_PI / 2 / n, h = 4.0 / 3 * tan (step / 4) * 100;
        for (int i = 0; i <= n; i++)
          {
            double a = i * step;
            GeoPoint at = { 100 * cos (a), 100 * sin (a) };
            GeoPoint t = { -sin (a), cos (a) };
            nodes[i] = (PatternNode){ .kind = PATTERN_NODE_SMOOTH,
                                      .at = at,
                                      .in = geo_along (at, t, -h),
                                      .out = geo_along (at, t, h) };
          }
        nodes[0].in = nodes[0].at;
        nodes[n].out = nodes[n].at;
        GeoPoint corner = { 0, 0 };
        nodes[n + 1]
            = (PatternNode){ 0, PATTERN_NODE_CORNER, corner, corner, corner };
        starts[n] = starts[n + 1] = TRUE;
        pattern_piece_set_outline (piece, nodes, (guint)n + 2, starts, &next);
        g_autoptr (PatternPiece) was = pattern_piece_dup (piece);
        double length = 50 * G_PI + 3 * way, moved = 0;
        g_assert_true (pattern_piece_bend_edge (piece, 0, length, &moved));
        GeoChain chain = GEO_CHAIN_EMPTY, old = GEO_CHAIN_EMPTY;
        pattern_piece_edge_chain (piece, 0, &chain);
        pattern_piece_edge_chain (was, 0, &old);
        g_assert_cmpfloat_with_epsilon (geo_chain_length (&chain, 1e-10),
                                        length, 1e-8);
        g_assert_cmpfloat (moved, >, 0.5);
        g_assert_cmpfloat (moved, <, 8);
        for (int end = 0; end < 2; end++)
          {
            GeoPlace place = { end == 0 ? 0 : (size_t)n - 1, end };
            g_assert_cmpfloat (geo_distance (geo_chain_point (&chain, place),
                                             geo_chain_point (&old, place)),
                               <, 1e-12);
            g_assert_cmpfloat (
                fabs (geo_angle_between (geo_chain_tangent (&chain, place),
                                         geo_chain_tangent (&old, place))),
                <, 1e-9);
          }
        for (int i = 1; i < n; i++)
          g_assert_cmpfloat (fabs (geo_angle_between (
                                 geo_cubic_tangent (&chain.cubics[i - 1], 1),
                                 geo_cubic_tangent (&chain.cubics[i], 0))),
                             <, 1e-6);
        geo_chain_clear (&chain);
        geo_chain_clear (&old);
        /* A straight edge is left alone, and so is what is out of reach. */
        g_assert_false (pattern_piece_bend_edge (piece, 1, 101, NULL));
        g_autoptr (PatternPiece) again = pattern_piece_dup (piece);
        g_assert_false (pattern_piece_bend_edge (piece, 0, 2000, NULL));
        for (guint i = 0; i < piece->n_nodes; i++)
          g_assert_true (geo_same (piece->nodes[i].out, again->nodes[i].out));
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/piece/outline", test_outline);
  g_test_add_func ("/piece/outline-turned", test_outline_turned);
  g_test_add_func ("/piece/nodes", test_insert_and_remove_node);
  g_test_add_func ("/piece/remove-corner", test_remove_corner);
  g_test_add_func ("/piece/edges", test_insert_and_remove_edge);
  g_test_add_func ("/piece/flip", test_flip);
  g_test_add_func ("/piece/flip-twice", test_flip_twice);
  g_test_add_func ("/piece/turn", test_turn);
  g_test_add_func ("/piece/marks", test_marks);
  g_test_add_func ("/piece/notch-place", test_notch_place);
  g_test_add_func ("/piece/widths-and-words", test_widths_and_words);
  g_test_add_func ("/piece/equal", test_equal);
  g_test_add_func ("/piece/any-run", test_any_run);
  g_test_add_func ("/piece/bend-edge", test_bend_edge);
  return g_test_run ();
}
