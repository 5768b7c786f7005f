/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A seam walked, without a display. The cape's front neck is hollow and longer
 * than the collar's 200 mm. */
#include "app/walk.h"
#include <string.h>

#include "cape.h"

static guint told; /* "walk-changed" */

static void
count (AppSession *session, guint *n)
{
  (void)session;
  (*n)++;
}

static AppWalk *
begin (Cape *c)
{
  *c = cape_new ();
  told = 0;
  g_signal_connect (c->session, "walk-changed", G_CALLBACK (count), &told);
  g_assert_true (app_walk_begin (c->session, c->seam));
  return app_walk_get (c->session);
}

static double
neck_length (Cape *c)
{
  const Pattern *p = app_session_get_shown (c->session);
  return sewing_facts_seam (app_session_get_facts (c->session), p,
                            pattern_get_seam (p, c->seam))
      ->lengths[0];
}

static guint
steps (Cape *c)
{
  return pattern_history_get_length (app_session_get_history (c->session));
}

/* Another than the last of its notches, or the last. */
static const PatternNotch *
last_notch (Cape *c, guint piece_id)
{
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_pattern (c->session), piece_id);
  return piece->n_notches > 0 ? &piece->notches[piece->n_notches - 1] : NULL;
}

static void
put_notch (Cape *c, guint piece, guint edge, double at)
{
  GError *error = NULL;
  Pattern *p
      = drafting_add_notch (app_session_get_pattern (c->session), piece, edge,
                            2, PATTERN_FROM_START, at, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (app_session_do (c->session, "notch", NULL, p, NULL));
}

static void
test_begin (void)
{
  Cape c;
  AppWalk *walk = begin (&c);
  const AppPick *pick = app_session_get_pick (c.session);
  g_assert_cmpint (pick->kind, ==, APP_PICK_SEAM);
  g_assert_cmpuint (pick->ids[0], ==, c.seam);
  g_assert_cmpuint (told, ==, 1);
  const SewingWalkStep *step = app_walk_get_step (walk);
  /* The collar's neck runs from 500, 60 to 300, 60, the front's from 0, 0; where the front's
   * leaves by its handle at 60, 60, the collar is laid along it. */
  g_assert_cmpfloat_with_epsilon (step->at.x, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (step->at.y, 0, 1e-9);
  GeoMotion m = sewing_walk_motion (app_walk_get_walk (walk), step, 1, 0);
  GeoPoint start = geo_motion_apply (m, geo_point (300, 60));
  GeoPoint end = geo_motion_apply (m, geo_point (500, 60));
  g_assert_cmpfloat_with_epsilon (geo_norm (start), 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (end.x, 200 * G_SQRT2 / 2, 1e-6);
  g_assert_cmpfloat_with_epsilon (end.y, 200 * G_SQRT2 / 2, 1e-6);
  /* Nothing is changed by it, and nothing left when it is over. */
  g_assert_cmpuint (steps (&c), ==, 1);
  app_walk_end (c.session);
  g_assert_null (app_walk_get (c.session));
  g_assert_cmpuint (told, ==, 2);
  g_assert_cmpfloat (app_session_get_strip_at (c.session), <, 0);
  g_assert_cmpuint (steps (&c), ==, 1);
  cape_clear (&c);
}

static void
keep_text (AppSession *session, const char *text, char **kept)
{
  (void)session;
  g_free (*kept);
  *kept = g_strdup (text);
}

static void
test_not_begun (void)
{
  Cape c = cape_new ();
  g_autofree char *text = NULL;
  g_signal_connect (c.session, "problem", G_CALLBACK (keep_text), &text);
  g_assert_false (app_walk_begin_picked (c.session));
  g_assert_nonnull (strstr (text, "pick"));
  /* An edge that is sewn will do. */
  app_session_pick_edge (c.session, c.collar, c.collar_neck);
  g_assert_true (app_walk_begin_picked (c.session));
  g_assert_cmpint (app_session_get_pick (c.session)->kind, ==, APP_PICK_SEAM);
  cape_clear (&c);
}

/* The pin goes where it is sent, is held to the seam, and is caught by a notch. */
static void
test_go (void)
{
  Cape c;
  AppWalk *walk = begin (&c);
  double length = neck_length (&c);
  put_notch (&c, c.front, c.neck, 60);
  g_assert_cmpfloat_with_epsilon (app_walk_get_whole (walk), length, 1e-9);
  app_walk_go (walk, 57, 0);
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, ==, 57);
  g_assert_cmpfloat (app_session_get_strip_at (c.session), ==, 57);
  app_walk_go (walk, 58.5, 2);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->walked, 60, 1e-9);
  app_walk_go (walk, 1e6, 0);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->walked, length,
                                  1e-9);
  app_walk_go (walk, -3, 0);
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, ==, 0);
  /* Halfway by the curve's own symmetry: its point at t 1/2 is 100, 45. */
  app_walk_go_near (walk, geo_point (100, 200), 0);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->walked, length / 2,
                                  1e-6);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->at.x, 100, 1e-6);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->at.y, 45, 1e-6);
  cape_clear (&c);
}

/* From mark to mark, by gliding and at once. */
static void
test_marks (void)
{
  for (int still = 0; still < 2; still++)
    {
      Cape c;
      AppWalk *walk = begin (&c);
      put_notch (&c, c.front, c.neck, 60);
      app_walk_set_still (walk, still != 0);
      g_autoptr (GArray) marks = app_walk_marks (walk);
      g_assert_cmpuint (marks->len, ==, 3);
      const double stops[] = { 60, app_walk_get_whole (walk) };
      for (guint i = 0; i < 2; i++)
        {
          g_assert_true (app_walk_to_mark (walk, 1));
          if (still)
            g_assert_cmpint (app_walk_get_way (walk), ==, 0);
          else
            {
              /* Under way it is between; a fifth of a second takes it there. */
              app_walk_tick (walk, 0.1);
              g_assert_cmpfloat (app_walk_get_step (walk)->walked, <, stops[i]);
              app_walk_tick (walk, 0.2);
            }
          g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->walked,
                                          stops[i], 1e-9);
        }
      g_assert_false (app_walk_to_mark (walk, 1));
      g_assert_true (app_walk_to_mark (walk, -1));
      /* Asked again on the way, it goes on from the notch it was going to. */
      g_assert_true (still || app_walk_to_mark (walk, -1));
      app_walk_tick (walk, 5);
      g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->walked,
                                      still ? 60 : 0, 1e-9);
      g_autoptr (GArray) after = app_walk_marks (walk);
      g_assert_cmpint (g_array_index (after, AppWalkMark, 1).reached, ==,
                       still != 0);
      cape_clear (&c);
    }
}

static void
test_run (void)
{
  Cape c;
  AppWalk *walk = begin (&c);
  double whole = app_walk_get_whole (walk);
  app_walk_run (walk, 1);
  g_assert_cmpint (app_walk_get_way (walk), ==, 1);
  double last = 0;
  guint frames = 0;
  while (app_walk_tick (walk, 1 / 60.0))
    {
      double at = app_walk_get_step (walk)->walked;
      g_assert_cmpfloat (at, >, last);
      last = at;
      frames++;
    }
  /* Eight seconds for a seam of ordinary length. */
  g_assert_cmpuint (frames, >, 60 * 6);
  g_assert_cmpuint (frames, <, 60 * 10);
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, ==, whole);
  /* From the end it begins anew; stopped it stands where it was. */
  app_walk_run (walk, 1);
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, ==, 0);
  app_walk_tick (walk, 0.5);
  app_walk_stop (walk);
  double stood = app_walk_get_step (walk)->walked;
  g_assert_false (app_walk_tick (walk, 0.5));
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, ==, stood);
  app_walk_run (walk, -1);
  while (app_walk_tick (walk, 1 / 60.0))
    ;
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, ==, 0);
  /* Where motion is not wanted it is at the next mark at once. */
  app_walk_set_still (walk, TRUE);
  app_walk_run (walk, 1);
  g_assert_cmpint (app_walk_get_way (walk), ==, 0);
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, ==, whole);
  cape_clear (&c);
}

/* Matched, a notch is struck where the shares agree; one to one, where paper
 * touches it. One undo takes it back, and the walk goes on. */
static void
test_strike (void)
{
  for (int paper = 0; paper < 2; paper++)
    {
      Cape c;
      AppWalk *walk = begin (&c);
      double length = neck_length (&c);
      put_notch (&c, c.front, c.neck, 60);
      guint before = steps (&c);
      app_walk_set_by (walk, paper ? SEWING_WALK_PAPER : SEWING_WALK_MATCHED);
      app_walk_go (walk, 59, 2);
      g_assert_cmpint (app_walk_can_strike (walk), ==, APP_STRIKE_ON_B);
      g_assert_true (app_walk_strike (walk));
      g_assert_cmpuint (steps (&c), ==, before + 1);
      const PatternNotch *struck = last_notch (&c, c.collar);
      g_assert_nonnull (struck);
      g_assert_cmpint (struck->count, ==, 2);
      /* The collar's neck is walked against its outline: from its end. */
      g_assert_cmpint (struck->from, ==, PATTERN_FROM_END);
      g_assert_cmpfloat_with_epsilon (struck->amount,
                                      paper ? 60 : 60 * 200 / length, 1e-6);
      g_assert_true (app_walk_get (c.session) == walk);
      g_assert_cmpint (app_walk_can_strike (walk), ==, APP_STRIKE_NONE);
      app_session_undo (c.session);
      g_assert_null (last_notch (&c, c.collar));
      g_assert_nonnull (app_walk_get (c.session));
      g_assert_cmpint (app_walk_can_strike (walk), ==, APP_STRIKE_ON_B);
      cape_clear (&c);
    }
}

static void
test_strike_other_ways (void)
{
  Cape c;
  AppWalk *walk = begin (&c);
  g_autofree char *text = NULL;
  g_signal_connect (c.session, "problem", G_CALLBACK (keep_text), &text);
  /* Ends are matched anyhow. */
  g_assert_false (app_walk_strike (walk));
  g_assert_nonnull (strstr (text, "end"));
  g_assert_cmpuint (steps (&c), ==, 1);
  /* Where neither has one, both are given one, in one step. */
  app_walk_go (walk, 50, 0);
  g_assert_cmpint (app_walk_can_strike (walk), ==, APP_STRIKE_BOTH);
  g_assert_true (app_walk_strike (walk));
  g_assert_cmpuint (steps (&c), ==, 2);
  g_assert_cmpfloat_with_epsilon (last_notch (&c, c.front)->amount, 50, 1e-6);
  g_assert_nonnull (last_notch (&c, c.collar));
  g_assert_false (app_walk_strike (walk));
  g_assert_nonnull (strstr (text, "already"));
  app_session_undo (c.session);
  g_assert_null (last_notch (&c, c.front));
  g_assert_null (last_notch (&c, c.collar));
  /* From the moving piece to the one that stays. */
  put_notch (&c, c.collar, c.collar_neck, 80); /* 120 from where it is walked */
  app_walk_set_by (walk, SEWING_WALK_PAPER);
  app_walk_go (walk, 120.4, 2);
  g_assert_cmpint (app_walk_can_strike (walk), ==, APP_STRIKE_ON_A);
  g_assert_true (app_walk_strike (walk));
  double length = neck_length (&c);
  g_assert_cmpint (last_notch (&c, c.front)->from, ==, PATTERN_FROM_END);
  g_assert_cmpfloat_with_epsilon (last_notch (&c, c.front)->amount,
                                  length - 120, 1e-6);
  cape_clear (&c);
}

/* One to one, at the end the longer side is left over. */
static void
test_ways (void)
{
  Cape c;
  AppWalk *walk = begin (&c);
  double length = neck_length (&c);
  app_walk_go (walk, 100, 0);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->along[1],
                                  100 * 200 / length, 1e-9);
  /* Swapped, the pin keeps its place. */
  app_walk_set_fixed (walk, 1);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->along[0], 100,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (app_walk_get_whole (walk), 200, 1e-9);
  /* And the collar lies where it lies: the pin is on its neck. */
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->at.y, 60, 1e-9);
  app_walk_set_by (walk, SEWING_WALK_PAPER);
  g_assert_cmpfloat_with_epsilon (app_walk_get_whole (walk), length, 1e-9);
  app_walk_go (walk, length, 0);
  g_assert_cmpfloat_with_epsilon (app_walk_get_step (walk)->along[1], 200,
                                  1e-9);
  g_autofree char *tag = app_walk_tag (walk);
  g_assert_nonnull (strstr (tag, "front longer so far"));
  g_assert_nonnull (strstr (tag, "step there"));
  g_assert_nonnull (strstr (tag, "corner, sewn"));
  cape_clear (&c);
}

/* It ends by itself with its seam, and where something else is picked; not by an
 * edit, a drag, or picking the same seam's edge. */
static void
test_ends (void)
{
  Cape c;
  AppWalk *walk = begin (&c);
  app_walk_go (walk, 80, 0);
  GError *error = NULL;
  Pattern *p
      = drafting_set_edge_length (app_session_get_pattern (c.session), c.collar,
                                  c.collar_neck, 50, TRUE, &error);
  app_walk_set_fixed (walk, 1);
  app_session_preview (c.session, p, &error);
  g_assert_cmpfloat_with_epsilon (app_walk_get_whole (walk), 50, 1e-6);
  g_assert_cmpfloat (app_walk_get_step (walk)->walked, <=, 50 + 1e-6);
  app_session_cancel (c.session);
  g_assert_cmpfloat_with_epsilon (app_walk_get_whole (walk), 200, 1e-6);
  app_session_pick_edge (c.session, c.front, c.neck);
  g_assert_true (app_walk_get (c.session) == walk);
  app_session_pick_edge (c.session, c.front, c.hem);
  g_assert_null (app_walk_get (c.session));
  g_assert_true (app_walk_begin (c.session, c.seam));
  guint before = told;
  app_session_delete_pick (c.session);
  g_assert_null (app_walk_get (c.session));
  g_assert_cmpuint (told, >, before);
  app_session_undo (c.session);
  g_assert_true (app_walk_begin (c.session, c.seam));
  cape_clear (&c); /* with a walk under way */
}

/* Painted at any place without a complaint; what stays in view is the seam. */
static void
test_paint (void)
{
  Cape c;
  AppWalk *walk = begin (&c);
  put_notch (&c, c.front, c.neck, 60);
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 300, 200);
  AppView view = app_view_start ();
  GeoBox box = app_walk_box (walk);
  app_view_fit (&view, box, (GeoBox){ 0, 0, 300, 200 });
  for (int fixed = 0; fixed < 2; fixed++)
    for (int i = 0; i <= 4; i++)
      {
        app_walk_set_fixed (walk, fixed);
        app_walk_go (walk, app_walk_get_whole (walk) * i / 4, 0);
        cairo_t *cr = cairo_create (surface);
        app_walk_paint (walk, cr, &view, i % 2);
        g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
        cairo_destroy (cr);
        GeoPoint px = app_view_to_px (&view, app_walk_get_step (walk)->at);
        if (fixed == 0)
          g_assert_true (px.x > 0 && px.x < 300 && px.y > 0 && px.y < 200);
        g_assert_true (app_walk_is_aside (walk, fixed ? c.front : c.collar));
        g_assert_false (app_walk_is_aside (walk, fixed ? c.collar : c.front));
      }
  cairo_surface_destroy (surface);
  cape_clear (&c);
}

/* Pointing at an edge of the seam on the table points at the strip. */
static void
test_point (void)
{
  Cape c = cape_new ();
  app_session_pick_seam (c.session, c.seam);
  app_session_point_strip (c.session, geo_point (100, 44), 4);
  g_assert_cmpfloat_with_epsilon (app_session_get_strip_at (c.session),
                                  neck_length (&c) / 2, 1e-6);
  /* From the collar, by what lies against it: a quarter of the way. */
  app_session_point_strip (c.session, geo_point (350, 61), 4);
  g_assert_cmpfloat_with_epsilon (app_session_get_strip_at (c.session),
                                  neck_length (&c) / 4, 1e-6);
  app_session_point_strip (c.session, geo_point (350, 65), 4);
  g_assert_cmpfloat (app_session_get_strip_at (c.session), <, 0);
  app_session_pick_edge (c.session, c.front, c.hem);
  app_session_point_strip (c.session, geo_point (100, 44), 4);
  g_assert_cmpfloat (app_session_get_strip_at (c.session), <, 0);
  cape_clear (&c);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/walk/begin", test_begin);
  g_test_add_func ("/walk/not-begun", test_not_begun);
  g_test_add_func ("/walk/go", test_go);
  g_test_add_func ("/walk/marks", test_marks);
  g_test_add_func ("/walk/run", test_run);
  g_test_add_func ("/walk/strike", test_strike);
  g_test_add_func ("/walk/strike-other-ways", test_strike_other_ways);
  g_test_add_func ("/walk/ways", test_ways);
  g_test_add_func ("/walk/ends", test_ends);
  g_test_add_func ("/walk/paint", test_paint);
  g_test_add_func ("/walk/point", test_point);
  return g_test_run ();
}
