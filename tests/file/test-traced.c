/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Traced lines as pieces, holes, lines and darts. */
#include <math.h>
#include <string.h>

#include "file/document.h"
#include "file/traced.h"
#include "sewing/dart.h"

#define assert_near(a, b, tolerance)                                           \
  g_assert_cmpfloat_with_epsilon (a, b, tolerance)

static TracingLine
line_of (const GeoPoint *p, gsize n, gboolean closed)
{
  TracingLine line = { .closed = closed, .hole_of = -1 };
  for (gsize i = 0; i + 1 < n || (closed && i < n); i++)
    geo_chain_append_line (&line.chain, p[i], p[(i + 1) % n]);
  line.corner = g_new (gboolean, line.chain.count + 1);
  for (gsize i = 0; i <= line.chain.count; i++)
    line.corner[i] = TRUE;
  return line;
}

static void
line_free (TracingLine *line)
{
  geo_chain_clear (&line->chain);
  g_free (line->corner);
  g_free (line->darts);
}

/* A front 200 x 300 with a dart of 30 x 90 in its top edge; its first joint in the middle of the right
 * side, which is no corner. */
static TracingLine
front (void)
{
  static const GeoPoint p[8]
      = { { 200, 150 }, { 200, 300 }, { 0, 300 }, { 0, 0 },
          { 85, 0 },    { 100, 90 },  { 115, 0 }, { 200, 0 } };
  TracingLine line = line_of (p, 8, TRUE);
  line.corner[0] = FALSE;
  line.darts = g_new (TracingDart, 1);
  line.darts[0] = (TracingDart){ 4, 5, 6, 30, 90 };
  line.n_darts = 1;
  return line;
}

static TracingLine
circle (GeoPoint at, double radius)
{
  TracingLine line = { .closed = TRUE, .hole_of = -1 };
  for (guint i = 0; i < 4; i++)
    geo_chain_append (&line.chain, geo_cubic_arc (at, radius, i * G_PI / 2,
                                                  (i + 1) * G_PI / 2));
  line.chain.cubics[3].p[3] = line.chain.cubics[0].p[0];
  line.corner = g_new0 (gboolean, 4);
  return line;
}

static void
assert_sound (const Pattern *p)
{
  g_autofree char *why = pattern_unsound (p);
  g_assert_cmpstr (why, ==, NULL);
}

static void
test_all (gconstpointer data)
{
  gboolean flip = data != NULL;
  TracingLine lines[4] = { front (), circle (geo_point (400, 100), 60),
                           circle (geo_point (60, 200), 5) };
  static const GeoPoint open[3] = { { 10, 400 }, { 60, 420 }, { 90, 400 } };
  lines[3] = line_of (open, 3, FALSE);
  lines[2].hole_of = 0;
  FileTracedWish wish = FILE_TRACED_WISH;
  static const char *const names[] = { "front", NULL };
  wish.names = names;
  wish.darts = TRUE;
  wish.grain = TRUE;
  wish.place = geo_motion_about (geo_point (50, 50), 0.7);
  wish.place.flip = flip;
  g_autoptr (Pattern) empty = pattern_new ("traced");
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) p = file_traced_add (empty, lines, 4, &wish, ids, &error);
  g_assert_no_error (error);
  assert_sound (p);
  g_assert_cmpuint (empty->n_pieces, ==, 0);
  g_assert_cmpuint (p->n_pieces, ==, 2);
  g_assert_cmpuint (ids->len, ==, 2);
  const PatternPiece *piece
      = pattern_get_piece (p, g_array_index (ids, guint, 0));
  g_assert_cmpstr (piece->name, ==, "front");
  /* The right side is one edge, though a joint lies in it; seven corners, one edge each. */
  g_assert_cmpuint (piece->n_edges, ==, 7);
  assert_near (pattern_piece_area (piece), 200 * 300 - 30 * 90 / 2.0, 1e-6);
  assert_near (piece->edges[0].allowance, 10, 1e-12);
  g_assert_true (piece->has_grain);
  assert_near (piece->grain_from.x, piece->grain_to.x, 1e-9);
  g_assert_cmpuint (piece->n_lines, ==, 1);
  g_assert_cmpstr (piece->lines[0].name, ==, "hole");
  g_assert_cmpuint (piece->lines[0].n_nodes, ==, 5);
  g_assert_cmpuint (piece->lines[0].nodes[1].kind, ==, PATTERN_NODE_SMOOTH);
  const PatternPiece *round
      = pattern_get_piece (p, ids->len > 1 ? g_array_index (ids, guint, 1) : 0);
  g_assert_cmpstr (round->name, ==, "piece 1");
  g_assert_cmpuint (round->n_edges, ==, 1);
  for (guint i = 0; i < 4; i++)
    g_assert_cmpuint (round->nodes[i].kind, ==, PATTERN_NODE_SMOOTH);
  g_assert_cmpuint (p->n_lines, ==, 1);
  g_assert_cmpstr (p->lines[0].name, ==, "traced line 1");
  g_assert_cmpuint (p->lines[0].n_nodes, ==, 3);
  /* The dart is one: intake 2 atan (15/90). */
  g_assert_cmpuint (p->n_seams, ==, 1);
  g_assert_cmpuint (p->seams[0]->join, ==, PATTERN_JOIN_DART);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  SewingDart dart;
  g_assert_true (sewing_dart_cap (facts, p, p->seams[0], &dart, NULL));
  assert_near (dart.intake, 2 * atan (15.0 / 90), 1e-9);
  GeoPoint tip = geo_motion_apply (wish.place, geo_point (100, 90));
  assert_near (geo_distance (dart.point, tip), 0, 1e-9);
  /* Twice: names go on, and it is kept as it is. */
  g_autoptr (Pattern) twice = file_traced_add (p, lines, 4, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (twice->n_pieces, ==, 4);
  g_assert_cmpstr (twice->pieces[2]->name, ==, "piece 2");
  g_assert_cmpuint (twice->n_seams, ==, 1);
  gsize length;
  g_autofree char *text = file_document_write (twice, &length);
  g_autoptr (Pattern) again = file_document_parse (text, length, "t", &error);
  g_assert_no_error (error);
  g_assert_true (pattern_equal (twice, again));
  for (guint i = 0; i < 4; i++)
    line_free (&lines[i]);
}

static void
test_refused (void)
{
  g_autoptr (Pattern) p = pattern_new ("traced");
  GError *error = NULL;
  g_assert_null (file_traced_add (p, NULL, 0, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_NOTHING);
  g_clear_error (&error);
  TracingLine far = circle (geo_point (0, 0), 200000);
  g_assert_null (file_traced_add (p, &far, 1, NULL, NULL, &error));
  g_assert_error (error, TRACING_ERROR, TRACING_ERROR_SCALE);
  g_assert_nonnull (strstr (error->message, "nothing was added"));
  g_clear_error (&error);
  line_free (&far);
  /* Darts that are none of its corners are passed over. */
  TracingLine odd = front ();
  odd.darts[0].tip = 99;
  FileTracedWish wish = FILE_TRACED_WISH;
  wish.darts = TRUE;
  g_autoptr (Pattern) q = file_traced_add (p, &odd, 1, &wish, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (q->n_seams, ==, 0);
  /* Nobody asked for a grainline. */
  g_assert_false (q->pieces[q->n_pieces - 1]->has_grain);
  line_free (&odd);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/file/traced/all", NULL, test_all);
  g_test_add_data_func ("/file/traced/turned-over", "flip", test_all);
  g_test_add_func ("/file/traced/refused", test_refused);
  return g_test_run ();
}
