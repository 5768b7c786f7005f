/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the picture of card slopers that comes with the program to named pieces, in the real window with real keys and
 * a real pointer; what is done is counted and timed. What comes out is laid on the slopers the picture was made
 * from and must agree with them. */
#include <math.h>

#include "app/canvas.h"
#include "app/tracing.h"
#include "demo-slopers.h"
#include "driver.h"
#include "file/picture.h"
#include "geometry/length.h"
#include "line-measure.h"

#define SAMPLES 240

static guint actions;

static void
press_key (const char *key)
{
  actions++;
  driver_xdotool ("key %s", key);
  driver_pause_ms (80);
}

static void
type_text (const char *text)
{
  actions++;
  driver_xdotool ("type --delay 15 '%s'", text);
  driver_pause_ms (200);
}

/* --- compared ---------------------------------------------------------------------------- */

static void
sample (const GeoChain *chain, GeoPoint *points)
{
  double whole = geo_chain_length (chain, 1e-3);
  for (int i = 0; i < SAMPLES; i++)
    points[i] = geo_chain_point (
        chain, geo_chain_at_length (chain, whole * i / SAMPLES, 1e-3));
}

/* The rigid motion that lays the one on the other best, places at like lengths on each other, from
 * whichever place that begins. */
static GeoMotion
lay_on (const GeoChain *found, const GeoChain *truth)
{
  GeoPoint a[SAMPLES], b[SAMPLES], turned[SAMPLES];
  double off[SAMPLES], least = INFINITY;
  GeoMotion best = geo_motion_none ();
  sample (truth, a);
  sample (found, b);
  for (int shift = 0; shift < SAMPLES; shift++)
    {
      GeoMotion m;
      double sum = 0;
      for (int i = 0; i < SAMPLES; i++)
        turned[i] = b[(i + shift) % SAMPLES];
      g_assert_true (tracing_lay_marks (a, turned, SAMPLES, &m, off));
      for (int i = 0; i < SAMPLES; i++)
        sum += off[i] * off[i];
      if (sum < least)
        {
          least = sum;
          best = m;
        }
    }
  return best;
}

/* From nearly there: each place to the nearest of the truth's, again and again. */
static GeoMotion
settle (const GeoChain *found, const GeoChain *truth, GeoMotion motion)
{
  const int dense = 16 * SAMPLES;
  g_autofree GeoPoint *to = g_new (GeoPoint, dense);
  GeoPoint from[SAMPLES], near[SAMPLES];
  double whole = geo_chain_length (truth, 1e-3);
  for (int i = 0; i < dense; i++)
    to[i] = geo_chain_point (
        truth, geo_chain_at_length (truth, whole * i / dense, 1e-3));
  sample (found, from);
  for (int round = 0; round < 40; round++)
    {
      for (int i = 0; i < SAMPLES; i++)
        {
          GeoPoint at = geo_motion_apply (motion, from[i]);
          near[i] = to[0];
          for (int k = 1; k < dense; k++)
            if (geo_distance (at, to[k]) < geo_distance (at, near[i]))
              near[i] = to[k];
        }
      g_assert_true (tracing_lay_marks (near, from, SAMPLES, &motion, NULL));
    }
  return motion;
}

static LineMeasure
measure (const PatternPiece *piece, const GeoChain *truth)
{
  TracingLine line = { .closed = TRUE, .hole_of = -1 };
  geo_chain_init (&line.chain);
  for (guint i = 0; i < piece->n_nodes; i++)
    geo_chain_append (&line.chain, pattern_piece_cubic (piece, i));
  line.corner = g_new0 (gboolean, piece->n_nodes);
  for (guint i = 0; i < piece->n_nodes; i++)
    line.corner[i] = piece->nodes[i].kind == PATTERN_NODE_CORNER;
  GeoMotion motion = lay_on (&line.chain, truth);
  geo_chain_transform (&line.chain, settle (&line.chain, truth, motion));
  LineMeasure m = line_measure (&line, truth);
  tracing_line_clear (&line);
  return m;
}

static void
assert_true_pieces (AppSession *session)
{
  DemoSlopers demo;
  const GeoChain *truths[2];
  const char *const names[] = { "back", "front" };
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "slopers.bodkin", NULL);
  demo_slopers_init (&demo, path);
  truths[0] = &demo.back;
  truths[1] = &demo.front;
  for (int i = 0; i < 2; i++)
    {
      LineMeasure m = measure (driver_piece (session, names[i]), truths[i]);
      g_test_message ("%s: worst %.3f mm, mean %.3f mm, corners %.3f mm",
                      names[i], m.worst, m.mean, m.corner);
      g_assert_cmpfloat (m.worst, <, 0.5);
      g_assert_cmpfloat (m.mean, <, 0.15);
    }
  demo_slopers_clear (&demo);
}

/* --- driven ---------------------------------------------------------------------------------- */

static AppTracing *
tracing_of (AppWindow *window)
{
  AppSession *session = app_window_get_session (window);
  return session != NULL ? app_tracing_get (session) : NULL;
}

static gboolean
is_ready (AppWindow *window, AppTracingStage stage)
{
  AppTracing *t = tracing_of (window);
  return t != NULL && app_tracing_get_stage (t) == stage
         && app_tracing_can_go_on (t);
}

static void
choose_picture (AppWindow *window)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-sloper.jpg", NULL);
  press_key ("ctrl+t");
  driver_wait_until (driver_window ("Trace a picture") != NULL);
  driver_pause_ms (800);
  driver_xdotool ("key ctrl+a");
  type_text (path);
  driver_pause_ms (400);
  press_key ("Return");
  driver_wait_until (tracing_of (window) != NULL);
}

/* The pointer on a piece, by its place in the picture's own mm. */
static void
click_on (AppWindow *window, GeoPoint table)
{
  GeoPoint px = driver_on_screen (window, table);
  actions++;
  driver_xdotool ("mousemove %d %d", (int)px.x, (int)px.y);
  driver_pause_ms (60);
  driver_xdotool ("click 1");
  driver_pause_ms (150);
}

static void
test_trace (void)
{
  AppWindow *window = driver_open ();
  int x, y;
  driver_pause_ms (500);
  if (!driver_xdotool ("version") || !driver_window_place (&x, &y))
    {
      g_test_skip ("no xdotool or no window manager");
      driver_close (window);
      return;
    }
  gint64 began = g_get_monotonic_time ();
  choose_picture (window);
  driver_wait_until (is_ready (window, APP_TRACING_SIZE));
  press_key ("Return");
  driver_wait_until (is_ready (window, APP_TRACING_OUTLINE));
  AppTracing *t = tracing_of (window);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 2);
  g_assert_cmpuint (app_tracing_n_darts (t), ==, 2);
  /* Left out and taken in again with the pointer. */
  GeoBox box = geo_chain_bounds (&app_tracing_get_line (t, 0)->chain);
  click_on (window, geo_box_centre (box));
  driver_wait_until (app_tracing_n_taken (t) == 1);
  driver_pause_ms (500); /* no double click */
  click_on (window, geo_box_centre (box));
  driver_wait_until (app_tracing_n_taken (t) == 2);
  /* Back and forth again: nothing is lost. */
  press_key ("Escape");
  driver_wait_until (is_ready (window, APP_TRACING_SIZE));
  press_key ("Return");
  driver_wait_until (is_ready (window, APP_TRACING_OUTLINE));
  press_key ("Return");
  driver_wait_until (tracing_of (window) == NULL);
  AppSession *session = app_window_get_session (window);
  const Pattern *p = app_session_get_pattern (session);
  g_assert_cmpuint (p->n_pieces, ==, 2);
  g_assert_cmpuint (p->n_pictures, ==, 1);
  /* The first piece's name is to be typed at once. */
  gboolean back_first = p->pieces[0]->n_nodes > 0
                        && pattern_piece_cubic (p->pieces[0], 0).p[0].x
                               < pattern_piece_cubic (p->pieces[1], 0).p[0].x;
  driver_pause_ms (500);
  driver_xdotool ("key ctrl+a");
  type_text (back_first ? "back" : "front");
  press_key ("Return");
  const guint second = app_session_get_pattern (session)->pieces[1]->id;
  app_session_pick_piece (session, second, FALSE);
  driver_pause_ms (300);
  driver_type (window, "Name", back_first ? "front" : "back");
  actions += 2;
  double seconds = (double)(g_get_monotonic_time () - began) / 1e6;
  g_test_message ("%u actions, %.1f s", actions, seconds);
  g_assert_cmpuint (actions, <, 20);
  assert_true_pieces (session);
  /* One step back takes all that was laid away. */
  while (app_session_get_pattern (session)->n_pieces > 0)
    app_session_undo (session);
  g_assert_cmpuint (app_session_get_pattern (session)->n_pictures, ==, 0);
  driver_close (window);
}

int
main (int argc, char **argv)
{
  int status;
  if (file_picture_child (argc, argv, &status))
    return status;
  if (!driver_start (&argc, &argv))
    return 0;
  g_test_add_func ("/trace-window/card-to-pieces", test_trace);
  return driver_end ();
}
