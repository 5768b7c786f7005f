/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture's tracing without a display: made pictures with a sheet and two cards, the long work done at
 * once where it is asked for. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "app/tracing.h"
#include "file/picture.h"
#include "picture-maker.h"

#define DOTS 2.2

typedef struct
{
  AppSession *session;
  GBytes *bytes;
  TracingPlane truth;
  GeoPoint sheet[4]; /* px */
  guint changes;
} Table;

static void
on_changed (Table *table)
{
  table->changes++;
}

/* A sheet at the left and two cards beside it, seen askew. */
static void
make_picture (Table *table, double tilt, gboolean with_sheet)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ -40, -40, 760, 520 });
  GeoPoint corners[4];
  GeoChain card = { 0 };
  geo_chain_init (&card);
  if (with_sheet)
    maker_add_rectangle (maker, geo_point (20, 30), 210, 297, 0.05, MAKER_PAPER,
                         corners);
  maker_bodice (&card, geo_point (270, 20), 24, 90);
  maker_add_shape (maker, &card, MAKER_CARD);
  maker_bodice (&card, geo_point (510, 30), 20, 110);
  maker_add_shape (maker, &card, MAKER_CARD);
  geo_chain_clear (&card);
  MakerLook look = MAKER_LOOK;
  look.dots = DOTS;
  look.tilt = tilt;
  look.noise = 2;
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &table->truth);
  for (int i = 0; with_sheet && i < 4; i++)
    table->sheet[i] = maker_see (&table->truth, corners[i]);
  g_autofree char *path
      = g_build_filename (g_get_tmp_dir (), "XXXXXX.png", NULL);
  g_close (g_mkstemp (path), NULL);
  g_autoptr (GError) error = NULL;
  maker_save (picture, path, 0, &error);
  g_assert_no_error (error);
  char *data;
  gsize size;
  g_assert_true (g_file_get_contents (path, &data, &size, NULL));
  g_unlink (path);
  table->bytes = g_bytes_new_take (data, size);
}

/* Making a picture takes a second, so each sort is made once. */
static void
table_open (Table *table, double tilt, gboolean with_sheet)
{
  static struct
  {
    double tilt;
    gboolean with_sheet;
    Table made;
  } kept[8];
  guint i = 0;
  memset (table, 0, sizeof *table);
  while (kept[i].made.bytes != NULL
         && (kept[i].tilt != tilt || kept[i].with_sheet != with_sheet))
    g_assert_cmpuint (++i, <, G_N_ELEMENTS (kept));
  if (kept[i].made.bytes == NULL)
    {
      kept[i].tilt = tilt;
      kept[i].with_sheet = with_sheet;
      make_picture (&kept[i].made, tilt, with_sheet);
    }
  *table = kept[i].made;
  g_bytes_ref (table->bytes);
  table->session = app_session_new (pattern_new ("traced"));
  g_signal_connect_swapped (table->session, "tracing-changed",
                            G_CALLBACK (on_changed), table);
}

static void
table_close (Table *table)
{
  g_object_unref (table->session);
  g_bytes_unref (table->bytes);
}

static AppTracing *
begin (Table *table)
{
  g_autoptr (GError) error = NULL;
  app_tracing_begin (table->session, table->bytes, NULL, "card.png", &error);
  g_assert_no_error (error);
  AppTracing *t = app_tracing_get (table->session);
  g_assert_nonnull (t);
  return t;
}

/* One piece of work; FALSE where there is none. */
static gboolean
work_once (AppTracing *t, AppTracingWorkKind *kind)
{
  AppTracingWork *work = app_tracing_next_work (t);
  if (work == NULL)
    return FALSE;
  *kind = app_tracing_work_kind (work);
  g_assert_true (app_tracing_wants (t, work));
  app_tracing_work_run (work, NULL, NULL, NULL);
  app_tracing_take_work (t, work);
  return TRUE;
}

static guint
work_all (Table *table)
{
  guint n = 0;
  AppTracingWorkKind kind;
  while (app_tracing_get (table->session) != NULL
         && work_once (app_tracing_get (table->session), &kind))
    g_assert_cmpuint (++n, <, 20);
  return n;
}

/* By the truth's own measure: how far two places of the picture are apart, mm, as the plane found
 * tells it and as it is. */
static void
assert_true_size (Table *table, const TracingPlane *plane, double within)
{
  for (int i = 0; i < 8; i++)
    {
      GeoPoint a = { 270 + 50 * i, 60 }, b = { 700 - 40 * i, 430 };
      double found = geo_distance (
          tracing_plane_to_mm (plane, maker_see (&table->truth, a)),
          tracing_plane_to_mm (plane, maker_see (&table->truth, b)));
      g_assert_cmpfloat_with_epsilon (found, geo_distance (a, b), within);
    }
}

/* --- the sheet finds itself ----------------------------------------------------------- */
static void
test_sheet (void)
{
  Table table;
  table_open (&table, 0.2, TRUE);
  AppTracing *t = begin (&table);
  AppTracingWorkKind kind;
  TracingPlane plane;
  g_assert_cmpint (app_tracing_get_stage (t), ==, APP_TRACING_READING);
  g_assert_false (app_tracing_can_go_on (t));
  g_assert_true (work_once (t, &kind));
  g_assert_cmpint (kind, ==, APP_TRACING_READ);
  g_assert_cmpint (app_tracing_get_stage (t), ==, APP_TRACING_SIZE);
  g_assert_true (work_once (t, &kind));
  g_assert_cmpint (kind, ==, APP_TRACING_FIND_SHEETS);
  g_assert_cmpuint (app_tracing_n_handles (t), ==, 4);
  g_assert_true (app_tracing_get_plane (t, &plane));
  assert_true_size (&table, &plane, 0.5);
  g_assert_false (app_tracing_seems_swapped (t));
  g_autofree char *words = app_tracing_residual_words (t);
  g_assert_nonnull (strstr (words, "sides straight to within"));
  g_assert_true (app_tracing_can_go_on (t));
  g_assert_false (app_tracing_can_undo (t));
  /* Upright: what is above in the picture is above on the table. */
  GeoPoint up = tracing_plane_to_mm (
      &plane, maker_see (&table.truth, geo_point (400, 60)));
  GeoPoint low = tracing_plane_to_mm (
      &plane, maker_see (&table.truth, geo_point (400, 400)));
  g_assert_cmpfloat (low.y - up.y, >, 330);
  g_assert_false (work_once (t, &kind));
  table_close (&table);
}

/* The wrong way round is told, and one swap mends it. */
static void
test_swapped (void)
{
  Table table;
  table_open (&table, 0.4, TRUE);
  AppTracing *t = begin (&table);
  work_all (&table);
  g_assert_false (app_tracing_seems_swapped (t));
  app_tracing_swap_sides (t);
  g_assert_true (app_tracing_seems_swapped (t));
  app_tracing_swap_sides (t);
  g_assert_false (app_tracing_seems_swapped (t));
  app_tracing_undo (t);
  g_assert_true (app_tracing_seems_swapped (t));
  app_tracing_undo (t);
  g_assert_false (app_tracing_seems_swapped (t));
  g_assert_false (app_tracing_can_undo (t));
  g_assert_true (app_tracing_can_redo (t));
  table_close (&table);
}

/* What speaks against a true size is said: nothing, a slant that two places leave in, a unit
 * mistaken, corners that lie nowhere. */
static void
test_doubts (void)
{
  Table table;
  table_open (&table, 0.2, TRUE);
  AppTracing *t = begin (&table);
  work_all (&table);
  g_assert_null (app_tracing_doubt_words (t));
  GeoPoint corner = app_tracing_get_handle (t, 1);
  app_tracing_set_by (t, APP_TRACING_BY_DISTANCE);
  for (int i = 0; i < 2; i++)
    {
      app_tracing_press (t, table.sheet[i], 5);
      app_tracing_release (t, table.sheet[i], TRUE);
    }
  app_tracing_set_distance (t, 210);
  g_autofree char *slant = app_tracing_doubt_words (t);
  g_assert_nonnull (slant);
  g_assert_nonnull (strstr (slant, "aslant"));
  app_tracing_set_distance (t, 2100);
  g_autofree char *large = app_tracing_doubt_words (t);
  g_assert_nonnull (large);
  g_assert_nonnull (strstr (large, "the whole picture"));
  app_tracing_set_by (t, APP_TRACING_BY_SHEET);
  g_assert_null (app_tracing_doubt_words (t));
  app_tracing_hover (t, corner, 20);
  app_tracing_press (t, corner, 20);
  app_tracing_drag (t, geo_add (corner, geo_point (120, -60)));
  app_tracing_release (t, geo_add (corner, geo_point (120, -60)), FALSE);
  work_all (&table);
  g_autofree char *nowhere = app_tracing_doubt_words (t);
  g_assert_nonnull (nowhere);
  table_close (&table);
}

/* --- by hand ------------------------------------------------------------------------------ */

static void
drag (AppTracing *t, GeoPoint from, GeoPoint to, gboolean exact)
{
  app_tracing_hover (t, from, 20);
  app_tracing_press (t, from, 20);
  app_tracing_drag (t, geo_lerp (from, to, 0.5));
  app_tracing_drag (t, to);
  app_tracing_release (t, to, exact);
}

/* A corner pulled off and let go near its place goes back to it; exact, it stays. */
static void
test_corner (void)
{
  Table table;
  table_open (&table, 0.2, TRUE);
  AppTracing *t = begin (&table);
  work_all (&table);
  GeoPoint at = app_tracing_get_handle (t, 2);
  GeoPoint off = geo_add (at, geo_point (9, -6));
  drag (t, at, off, FALSE);
  g_assert_cmpfloat (geo_distance (app_tracing_get_handle (t, 2), off), <,
                     1e-9);
  g_assert_cmpuint (work_all (&table), ==, 1);
  g_assert_cmpfloat (geo_distance (app_tracing_get_handle (t, 2), at), <, 0.5);
  drag (t, app_tracing_get_handle (t, 2), off, TRUE);
  g_assert_cmpuint (work_all (&table), ==, 0);
  g_autofree char *words = app_tracing_residual_words (t);
  g_assert_nonnull (strstr (words, "by hand"));
  /* Keys: a pixel at a time, a run of them one step. */
  app_tracing_step (t, 1);
  app_tracing_step (t, 1);
  app_tracing_step (t, 1);
  g_assert_cmpint (app_tracing_get_active (t), ==, 2);
  GeoPoint before = app_tracing_get_handle (t, 2);
  g_assert_true (app_tracing_nudge (t, 1, 0));
  g_assert_true (app_tracing_nudge (t, 0, 10));
  g_assert_cmpfloat (geo_distance (app_tracing_get_handle (t, 2),
                                   geo_add (before, geo_point (1, 10))),
                     <, 1e-9);
  app_tracing_undo (t);
  g_assert_cmpfloat (geo_distance (app_tracing_get_handle (t, 2), before), <,
                     1e-9);
  /* Dropped in the middle of it, a drag leaves nothing. */
  app_tracing_press (t, before, 20);
  app_tracing_drag (t, geo_point (30, 30));
  g_assert_true (app_tracing_drop (t));
  g_assert_cmpfloat (geo_distance (app_tracing_get_handle (t, 2), before), <,
                     1e-9);
  table_close (&table);
}

/* Two places of a picture taken squarely. */
static void
test_distance (void)
{
  Table table;
  table_open (&table, 0, FALSE);
  AppTracing *t = begin (&table);
  work_all (&table);
  GeoPoint a = maker_see (&table.truth, geo_point (270, 60));
  GeoPoint b = maker_see (&table.truth, geo_point (700, 400));
  TracingPlane plane;
  app_tracing_set_by (t, APP_TRACING_BY_DISTANCE);
  g_assert_false (app_tracing_can_go_on (t));
  drag (t, a, b, FALSE);
  g_assert_cmpuint (app_tracing_n_handles (t), ==, 2);
  g_assert_false (app_tracing_can_go_on (t));
  app_tracing_set_distance (t, hypot (430, 340));
  g_assert_true (app_tracing_get_plane (t, &plane));
  assert_true_size (&table, &plane, 0.3);
  /* Set, gone on and come back, nothing is lost. */
  g_assert_true (app_tracing_go_on (t));
  g_assert_true (app_tracing_go_back (t));
  g_assert_cmpuint (app_tracing_n_handles (t), ==, 2);
  g_assert_false (app_tracing_go_back (t));
  /* Ends in one place give no size, and say so. */
  drag (t, b, a, FALSE);
  g_assert_false (app_tracing_can_go_on (t));
  g_assert_nonnull (app_tracing_get_trouble (t));
  app_tracing_undo (t);
  g_assert_null (app_tracing_get_trouble (t));
  g_assert_true (app_tracing_can_go_on (t));
  table_close (&table);
}

/* Without a sheet there are handles to be drawn onto what is known; none of them counts until all are. */
static void
test_no_sheet (void)
{
  Table table;
  table_open (&table, 0, FALSE);
  AppTracing *t = begin (&table);
  work_all (&table);
  g_assert_cmpuint (app_tracing_n_handles (t), ==, 4);
  g_assert_false (app_tracing_can_go_on (t));
  g_assert_nonnull (app_tracing_get_trouble (t));
  app_tracing_set_paper (t, APP_TRACING_OTHER);
  app_tracing_set_sides (t, 400, 300);
  const GeoPoint true_mm[4]
      = { { 100, 50 }, { 500, 50 }, { 500, 350 }, { 100, 350 } };
  work_all (&table);
  for (guint i = 0; i < 4; i++)
    {
      g_assert_false (app_tracing_can_go_on (t));
      drag (t, app_tracing_get_handle (t, i),
            maker_see (&table.truth, true_mm[i]), TRUE);
    }
  TracingPlane plane;
  g_assert_true (app_tracing_get_plane (t, &plane));
  assert_true_size (&table, &plane, 0.01);
  /* Crossed corners: said, and nothing gone on with. */
  drag (t, app_tracing_get_handle (t, 1), app_tracing_get_handle (t, 3), TRUE);
  g_assert_false (app_tracing_can_go_on (t));
  g_assert_nonnull (app_tracing_get_trouble (t));
  table_close (&table);
}

/* --- outlines, and pieces laid ------------------------------------------------------------------ */
static void
test_lay (void)
{
  Table table;
  table_open (&table, 0.2, TRUE);
  AppTracing *t = begin (&table);
  work_all (&table);
  g_assert_true (app_tracing_go_on (t));
  g_assert_false (app_tracing_can_go_on (t));
  g_assert_cmpuint (work_all (&table), ==, 2);
  g_assert_null (app_tracing_get_trouble (t));
  /* Two cards; the sheet is found too, and left. */
  g_assert_cmpuint (app_tracing_n_lines (t), ==, 3);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 2);
  g_assert_cmpuint (app_tracing_n_darts (t), ==, 2);
  AppSightTint tint;
  guint serial;
  app_tracing_get_tint (t, &tint, &serial);
  g_assert_nonnull (tint.bytes);
  /* A click leaves one out, another takes it in again; both can be taken back. */
  TracingPlane plane;
  g_assert_true (app_tracing_get_plane (t, &plane));
  GeoPoint in = tracing_plane_to_mm (
      &plane, maker_see (&table.truth, geo_point (350, 200)));
  app_tracing_press (t, in, 3);
  app_tracing_release (t, in, FALSE);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 1);
  app_tracing_press (t, in, 3);
  app_tracing_release (t, in, FALSE);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 2);
  app_tracing_undo (t);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 1);
  /* A level moved in many steps is one thing to take back, and follows anew. */
  double level = app_tracing_get_level (t);
  app_tracing_set_level (t, level - 0.05);
  app_tracing_set_level (t, level - 0.1);
  g_assert_cmpuint (work_all (&table), ==, 1);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 1);
  app_tracing_undo (t);
  g_assert_cmpfloat_with_epsilon (app_tracing_get_level (t), level, 1e-9);
  app_tracing_undo (t);
  work_all (&table);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 2);
  g_assert_true (app_tracing_go_on (t));
  g_assert_null (app_tracing_get (table.session));
  const Pattern *p = app_session_get_pattern (table.session);
  g_assert_cmpuint (p->n_pieces, ==, 2);
  g_assert_cmpuint (p->n_pictures, ==, 1);
  g_assert_true (p->pictures[0]->locked);
  g_assert_cmpint (p->pictures[0]->size, ==, PATTERN_SIZE_CORNERS);
  g_assert_cmpint (app_session_get_pick (table.session)->kind, ==,
                   APP_PICK_PIECES);
  /* One step. */
  guint picture = p->pictures[0]->id;
  app_session_undo (table.session);
  g_assert_cmpuint (app_session_get_pattern (table.session)->n_pieces, ==, 0);
  app_session_redo (table.session);
  /* Again, from the picture that lies there: what was set is set. */
  g_autoptr (GError) error = NULL;
  g_assert_true (
      app_tracing_begin_again (table.session, picture, TRUE, &error));
  t = app_tracing_get (table.session);
  work_all (&table);
  g_assert_cmpint (app_tracing_get_stage (t), ==, APP_TRACING_OUTLINE);
  g_assert_cmpuint (app_tracing_n_taken (t), ==, 2);
  table_close (&table);
}

/* Only the picture, for following it by hand. */
static void
test_lay_picture (void)
{
  Table table;
  table_open (&table, 0.2, TRUE);
  AppTracing *t = begin (&table);
  g_assert_cmpuint (app_tracing_lay_picture (t), ==, 0);
  work_all (&table);
  guint id = app_tracing_lay_picture (t);
  g_assert_cmpuint (id, !=, 0);
  g_assert_null (app_tracing_get (table.session));
  const Pattern *p = app_session_get_pattern (table.session);
  g_assert_cmpuint (p->n_pieces, ==, 0);
  GeoPoint a, b;
  g_assert_true (pattern_picture_to_table (p->pictures[0], table.sheet[0], &a));
  g_assert_true (pattern_picture_to_table (p->pictures[0], table.sheet[1], &b));
  g_assert_cmpfloat_with_epsilon (geo_distance (a, b), 210, 0.3);
  table_close (&table);
}

/* --- put aside, refused, outdated ------------------------------------------------------------ */
static void
test_aside (void)
{
  Table table;
  table_open (&table, 0.2, TRUE);
  AppTracing *t = begin (&table);
  work_all (&table);
  app_tracing_put_aside (table.session);
  g_assert_null (app_tracing_get (table.session));
  g_assert_true (app_tracing_is_aside (table.session));
  app_tracing_take_up (table.session);
  g_assert_true (app_tracing_get (table.session) == t);
  g_assert_cmpuint (app_tracing_n_handles (t), ==, 4);
  app_tracing_end (table.session);
  g_assert_null (app_tracing_get (table.session));
  g_assert_false (app_tracing_is_aside (table.session));
  /* While it is read there is nothing to keep. */
  begin (&table);
  app_tracing_put_aside (table.session);
  g_assert_false (app_tracing_is_aside (table.session));
  table_close (&table);
}

static void
test_outdated (void)
{
  Table table;
  AppTracingWorkKind kind;
  table_open (&table, 0.2, TRUE);
  AppTracing *t = begin (&table);
  g_assert_true (work_once (t, &kind));
  AppTracingWork *work = app_tracing_next_work (t);
  g_assert_cmpint (app_tracing_work_kind (work), ==, APP_TRACING_FIND_SHEETS);
  app_tracing_set_by (t, APP_TRACING_BY_DISTANCE);
  g_assert_false (app_tracing_wants (t, work));
  app_tracing_work_free (work);
  app_tracing_set_by (t, APP_TRACING_BY_SHEET);
  work = app_tracing_next_work (t);
  app_tracing_work_run (work, NULL, NULL, NULL);
  app_tracing_set_paper (t, APP_TRACING_LETTER);
  g_assert_false (app_tracing_wants (t, work));
  app_tracing_take_work (t, work);
  g_assert_cmpuint (app_tracing_n_handles (t), ==, 0);
  /* Refused, there are handles all the same. */
  work = app_tracing_next_work (t);
  app_tracing_refuse_work (t, work);
  app_tracing_work_free (work);
  g_assert_null (app_tracing_next_work (t));
  g_assert_cmpuint (app_tracing_n_handles (t), ==, 4);
  g_assert_false (app_tracing_can_go_on (t));
  table_close (&table);
}

/* --- what is no picture ------------------------------------------------------------------------ */
static void
test_bad (void)
{
  g_autoptr (AppSession) session = app_session_new (pattern_new (""));
  g_autoptr (GBytes) words = g_bytes_new_static ("no picture", 10);
  g_autoptr (GError) error = NULL;
  g_assert_false (
      app_tracing_begin (session, words, NULL, "words.png", &error));
  g_assert_nonnull (error);
  g_assert_null (app_tracing_get (session));
}

int
main (int argc, char **argv)
{
  int status;
  if (file_picture_child (argc, argv, &status))
    return status;
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/tracing/doubts", test_doubts);
  g_test_add_func ("/app/tracing/sheet", test_sheet);
  g_test_add_func ("/app/tracing/swapped", test_swapped);
  g_test_add_func ("/app/tracing/corner", test_corner);
  g_test_add_func ("/app/tracing/distance", test_distance);
  g_test_add_func ("/app/tracing/no-sheet", test_no_sheet);
  g_test_add_func ("/app/tracing/lay", test_lay);
  g_test_add_func ("/app/tracing/lay-picture", test_lay_picture);
  g_test_add_func ("/app/tracing/aside", test_aside);
  g_test_add_func ("/app/tracing/outdated", test_outdated);
  g_test_add_func ("/app/tracing/bad", test_bad);
  return g_test_run ();
}
