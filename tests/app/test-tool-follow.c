/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing by hand over a picture. */
#include <string.h>

#include "app/follow-picture.h"
#include "app/picture-sights.h"
#include "cape.h"

static const PatternPiece *
last_piece (AppSession *s)
{
  const Pattern *p = app_session_get_pattern (s);
  return p->pieces[p->n_pieces - 1];
}

static guint
steps (AppSession *s)
{
  return pattern_history_get_length (app_session_get_history (s)) - 1;
}

/* Twelve places on a circle: the curve through them is the circle to within a thousandth of its area, in closed
 * form, and smooth all round. */
static void
test_circle (void)
{
  AppSession *s = app_session_new (pattern_new ("follow"));
  AppTool *tool = app_tool_new (APP_TOOL_FOLLOW, s);
  for (int i = 0; i < 12; i++)
    cape_click (tool, 300 + 100 * cos (i * G_PI / 6),
                300 + 100 * sin (i * G_PI / 6), 0);
  guint corners;
  g_assert_cmpuint (app_follow_count (tool, &corners), ==, 12);
  g_assert_cmpuint (corners, ==, 0);
  g_assert_true (app_tool_is_busy (tool));
  g_assert_cmpuint (steps (s), ==, 0);
  cape_click (tool, 400.5, 300.5, 0);
  g_assert_true (app_tool_is_done (tool));
  g_assert_cmpuint (steps (s), ==, 1);
  const PatternPiece *piece = last_piece (s);
  g_assert_cmpuint (piece->n_nodes, ==, 12);
  double area = G_PI * 100 * 100;
  g_assert_cmpfloat (fabs (pattern_piece_area (piece) - area), <, area / 1000);
  for (guint i = 0; i < 12; i++)
    {
      const PatternNode *node = &piece->nodes[i];
      g_assert_cmpint (node->kind, ==, PATTERN_NODE_SMOOTH);
      GeoPoint in = geo_sub (node->at, node->in);
      GeoPoint out = geo_sub (node->out, node->at);
      g_assert_cmpfloat (fabs (geo_angle_between (in, out)), <, 1e-6);
    }
  app_tool_free (tool);
  g_object_unref (s);
}

/* Corners by key and by double click; between two of them the line is straight. */
static void
test_corners (void)
{
  AppSession *s = app_session_new (pattern_new ("follow"));
  AppTool *tool = app_tool_new (APP_TOOL_FOLLOW, s);
  static const double at[][2]
      = { { 0, 0 }, { 200, 0 }, { 200, 300 }, { 0, 300 } };
  g_assert_false (app_tool_type (tool, 'c'));
  for (int i = 0; i < 4; i++)
    {
      cape_click (tool, at[i][0], at[i][1], 0);
      if (i % 2 == 0)
        g_assert_true (app_tool_type (tool, 'c'));
      else
        {
          AppPointer p = { .at = { at[i][0], at[i][1] },
                           .mm_per_px = 0.5,
                           .presses = 2 };
          app_tool_press (tool, &p);
          app_tool_release (tool, &p);
        }
    }
  guint corners;
  g_assert_cmpuint (app_follow_count (tool, &corners), ==, 4);
  g_assert_cmpuint (corners, ==, 4);
  cape_click (tool, 50, 150, 0);
  g_assert_true (app_tool_key (tool, APP_KEY_BACKSPACE));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  const PatternPiece *piece = last_piece (s);
  g_assert_cmpuint (piece->n_edges, ==, 4);
  g_assert_cmpfloat (fabs (pattern_piece_area (piece) - 60000), <, 1e-9);
  app_tool_free (tool);
  g_object_unref (s);
}

static gboolean
to_line (AppSession *s, GeoPoint at, double reach, GeoPoint *snapped,
         gpointer data)
{
  (void)s;
  double y = *(double *)data;
  *snapped = geo_point (at.x, y);
  return fabs (at.y - y) <= reach;
}

static void
test_snap (void)
{
  AppSession *s = app_session_new (pattern_new ("follow"));
  double y = 100;
  app_follow_set_snap (s, to_line, &y, NULL);
  AppTool *tool = app_tool_new (APP_TOOL_FOLLOW, s);
  cape_click (tool, 0, 102, 0);              /* on to the line */
  cape_click (tool, 100, 103, APP_MOD_CTRL); /* not */
  cape_click (tool, 200, 160, 0);            /* out of reach */
  cape_hover (tool, 150, 99);
  g_assert_nonnull (strstr (app_tool_get_tag (tool), "picture"));
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  const PatternPiece *piece = last_piece (s);
  g_assert_cmpuint (piece->n_nodes, ==, 3);
  gboolean seen[3] = { FALSE };
  for (guint i = 0; i < 3; i++)
    {
      seen[0] |= geo_same (piece->nodes[i].at, geo_point (0, 100));
      seen[1] |= geo_same (piece->nodes[i].at, geo_point (100, 103));
      seen[2] |= geo_same (piece->nodes[i].at, geo_point (200, 160));
    }
  g_assert_true (seen[0] && seen[1] && seen[2]);
  app_tool_free (tool);
  g_object_unref (s);
}

/* A picture in memory, 8 px a mm: a pencil line 0.7 mm wide along y = 20.3 mm, and from x = 60 mm on dark card. */
static TracingPicture *
make_picture (void)
{
  guint w = 800, h = 400;
  guint8 *rgb = g_malloc (3 * w * h);
  for (guint y = 0; y < h; y++)
    for (guint x = 0; x < w; x++)
      {
        double mm = (y + 0.5) / 8, off = fabs (mm - 20.3);
        double line = CLAMP ((0.35 - off) * 8 + 0.5, 0, 1);
        double card = CLAMP (x + 0.5 - 480, 0, 1);
        double light = 230 - 120 * line;
        light = card > 0 ? 60 : light;
        memset (rgb + 3 * (y * w + x), (int)light, 3);
      }
  return tracing_picture_new (w, h, 3 * w, rgb, geo_point (8, 8), g_free, rgb);
}

static void
test_picture (void)
{
  Pattern *p = pattern_new ("follow");
  g_autoptr (GBytes) bytes = g_bytes_new_static ("none", 4);
  PatternPicture *picture
      = pattern_picture_new (pattern_take_id (p), "scan", bytes, 800, 400);
  picture->plane[0] = picture->plane[4] = 1.0 / 8;
  picture->place = geo_motion_move (1000, 500);
  guint id = picture->id;
  pattern_put_picture (p, picture);
  AppSession *s = app_session_new (p);
  g_autoptr (TracingPicture) pixels = make_picture ();
  g_autoptr (AppSight) sight = app_sight_new (pixels);
  app_picture_put_sight (s, id, sight);
  app_follow_picture_start (s);
  AppTool *tool = app_tool_new (APP_TOOL_FOLLOW, s);
  AppPointer near[] = { { .at = { 1010, 519.5 }, .mm_per_px = 0.2 },
                        { .at = { 1040, 521.5 }, .mm_per_px = 0.2 },
                        { .at = { 1058.8, 540 }, .mm_per_px = 0.2 },
                        { .at = { 1020, 540 }, .mm_per_px = 0.2 } };
  for (guint i = 0; i < G_N_ELEMENTS (near); i++)
    {
      near[i].presses = 1;
      app_tool_press (tool, &near[i]);
      app_tool_release (tool, &near[i]);
    }
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  const PatternPiece *piece = last_piece (s);
  g_assert_cmpuint (piece->n_nodes, ==, 4);
  /* On the line's middle, on the card's edge, and nowhere where there is nothing. */
  const double far[] = { fabs (piece->nodes[0].at.y - 520.3),
                         fabs (piece->nodes[1].at.y - 520.3),
                         fabs (piece->nodes[2].at.x - 1060) };
  gboolean order = geo_distance (piece->nodes[3].at, near[3].at) < 1e-9;
  if (order)
    for (int i = 0; i < 3; i++)
      g_assert_cmpfloat (far[i], <, 0.1);
  g_assert_true (order);
  app_tool_free (tool);
  g_object_unref (s);
}

static void
count_problem (AppSession *s, const char *text, guint *n)
{
  (void)s;
  (void)text;
  (*n)++;
}

static void
test_keys (void)
{
  AppSession *s = app_session_new (pattern_new ("follow"));
  guint problems = 0;
  g_signal_connect (s, "problem", G_CALLBACK (count_problem), &problems);
  AppTool *tool = app_tool_new (APP_TOOL_FOLLOW, s);
  g_assert_false (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_false (app_tool_key (tool, APP_KEY_ESCAPE));
  cape_click (tool, 0, 0, 0);
  cape_click (tool, 0, 0, 0); /* the same place is no second one */
  cape_click (tool, 90, 0, 0);
  g_assert_cmpuint (app_follow_count (tool, NULL), ==, 2);
  g_assert_true (app_tool_key (tool, APP_KEY_ENTER));
  g_assert_cmpuint (problems, ==, 1);
  g_assert_cmpuint (app_follow_count (tool, NULL), ==, 2);
  GeoBox box = app_tool_get_paint_box (tool);
  g_assert_cmpfloat (box.x1, >=, 90);
  g_assert_true (app_tool_type (tool, 'C'));
  g_assert_true (app_tool_type (tool, 'C'));
  guint corners;
  app_follow_count (tool, &corners);
  g_assert_cmpuint (corners, ==, 0);
  g_assert_true (app_tool_key (tool, APP_KEY_ESCAPE));
  g_assert_false (app_tool_is_busy (tool));
  g_assert_cmpuint (steps (s), ==, 0);
  app_tool_free (tool);
  g_object_unref (s);
}

/* The plane a picture is painted by is the way its places are told by. */
static void
test_plane (void)
{
  PatternPicture *p = pattern_picture_new (3, "photo", NULL, 400, 300);
  static const double plane[9]
      = { 0.2, 0.01, -4, 0.02, 0.25, 7, 1e-4, -2e-4, 1 };
  memcpy (p->plane, plane, sizeof plane);
  for (int flip = 0; flip < 2; flip++)
    {
      p->place = geo_motion_about (geo_point (50, 20), 0.8);
      p->place.flip = flip;
      TracingPlane all = app_picture_plane (p);
      for (int i = 0; i < 16; i++)
        {
          GeoPoint px = { 130.0 * (i % 4), 90.0 * (int)(i / 4) }, at;
          g_assert_true (pattern_picture_to_table (p, px, &at));
          g_assert_cmpfloat (geo_distance (at, tracing_plane_to_mm (&all, px)),
                             <, 1e-9);
        }
    }
  Pattern *pattern = pattern_new ("under");
  GeoPoint at, px;
  pattern_picture_to_table (p, geo_point (100, 80), &at);
  pattern_put_picture (pattern, p);
  g_assert_cmpuint (app_picture_at (pattern, at, &px), ==, 3);
  g_assert_cmpfloat (geo_distance (px, geo_point (100, 80)), <, 1e-6);
  pattern_picture_to_table (p, geo_point (-5, 80), &at);
  g_assert_cmpuint (app_picture_at (pattern, at, &px), ==, 0);
  pattern_unref (pattern);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/follow/plane", test_plane);
  g_test_add_func ("/tool-follow/circle", test_circle);
  g_test_add_func ("/tool-follow/corners", test_corners);
  g_test_add_func ("/tool-follow/snap", test_snap);
  g_test_add_func ("/tool-follow/picture", test_picture);
  g_test_add_func ("/tool-follow/keys", test_keys);
  return g_test_run ();
}
