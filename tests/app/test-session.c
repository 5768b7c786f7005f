/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gstdio.h>

#include "cape.h"
#include "file/document.h"

static void
count (int *counter)
{
  (*counter)++;
}

static void
keep_text (AppSession *session, const char *text, char **kept)
{
  (void)session;
  g_free (*kept);
  *kept = g_strdup (text);
}

static Pattern *
move_hem (Cape *c, double by)
{
  return drafting_move_edge (app_session_get_pattern (c->session), c->front,
                             c->hem, geo_point (0, by), NULL);
}

static void
test_do_undo (void)
{
  Cape c = cape_new ();
  int shown = 0, state = 0;
  g_signal_connect_swapped (c.session, "shown-changed", G_CALLBACK (count),
                            &shown);
  g_signal_connect_swapped (c.session, "state-changed", G_CALLBACK (count),
                            &state);
  const Pattern *first = app_session_get_pattern (c.session);
  g_assert_true (app_session_is_saved (c.session));
  g_assert_true (
      app_session_do (c.session, "lengthen", NULL, move_hem (&c, 20), NULL));
  g_assert_cmpint (shown, ==, 1);
  g_assert_cmpint (state, ==, 1);
  g_assert_false (app_session_is_saved (c.session));
  g_assert_cmpfloat (cape_front (&c)->nodes[2].at.y, ==, 320);
  g_assert_cmpstr (
      pattern_history_get_undo_label (app_session_get_history (c.session)), ==,
      "lengthen");
  app_session_undo (c.session);
  g_assert_true (app_session_get_shown (c.session) == first);
  g_assert_true (app_session_is_saved (c.session));
  app_session_redo (c.session);
  g_assert_cmpfloat (cape_front (&c)->nodes[2].at.y, ==, 320);
  app_session_go (c.session, 0);
  g_assert_true (app_session_get_pattern (c.session) == first);
  /* What changes nothing is no step. */
  g_assert_true (
      app_session_do (c.session, "nothing", NULL, move_hem (&c, 0), NULL));
  g_assert_cmpuint (
      pattern_history_get_position (app_session_get_history (c.session)), ==,
      0);
  cape_clear (&c);
}

static void
test_failure_is_told (void)
{
  Cape c = cape_new ();
  g_autofree char *told = NULL;
  g_signal_connect (c.session, "problem", G_CALLBACK (keep_text), &told);
  const Pattern *before = app_session_get_pattern (c.session);
  GError *error = NULL;
  Pattern *result = drafting_remove_piece (before, 9999, &error);
  g_assert_null (result);
  g_autofree char *message = g_strdup (error->message);
  g_assert_false (app_session_do (c.session, "delete", NULL, result, &error));
  g_assert_null (error);
  g_assert_cmpstr (told, ==, message);
  g_assert_true (app_session_get_pattern (c.session) == before);
  cape_clear (&c);
}

static void
test_preview (void)
{
  Cape c = cape_new ();
  const Pattern *before = app_session_get_pattern (c.session);
  app_session_preview (c.session, move_hem (&c, 30), NULL);
  g_assert_true (app_session_is_previewing (c.session));
  g_assert_true (app_session_get_pattern (c.session) == before);
  g_assert_cmpfloat (cape_front (&c)->nodes[2].at.y, ==, 330);
  /* A failed one keeps what was shown and tells nothing. */
  g_signal_connect (c.session, "problem", G_CALLBACK (cape_no_problem), NULL);
  const Pattern *shown = app_session_get_shown (c.session);
  GError *error = NULL;
  app_session_preview (c.session, drafting_remove_piece (before, 9999, &error),
                       &error);
  g_assert_null (error);
  g_assert_true (app_session_get_shown (c.session) == shown);
  app_session_cancel (c.session);
  g_assert_true (app_session_get_shown (c.session) == before);
  g_assert_cmpuint (
      pattern_history_get_length (app_session_get_history (c.session)), ==, 1);
  app_session_preview (c.session, move_hem (&c, 40), NULL);
  app_session_commit (c.session, "let down");
  g_assert_false (app_session_is_previewing (c.session));
  g_assert_cmpfloat (cape_front (&c)->nodes[2].at.y, ==, 340);
  g_assert_cmpuint (
      pattern_history_get_length (app_session_get_history (c.session)), ==, 2);
  app_session_commit (c.session, "nothing previewed");
  g_assert_cmpuint (
      pattern_history_get_length (app_session_get_history (c.session)), ==, 2);
  /* Undo in the middle of a preview drops that as well. */
  app_session_preview (c.session, move_hem (&c, 50), NULL);
  app_session_undo (c.session);
  g_assert_true (app_session_get_shown (c.session) == before);
  cape_clear (&c);
}

static void
test_nudges_merge (void)
{
  Cape c = cape_new ();
  const PatternHistory *history = app_session_get_history (c.session);
  app_session_pick_nodes (c.session, c.front, c.hem, &c.nodes[2], 1);
  for (int i = 0; i < 5; i++)
    app_session_nudge (c.session, 1, 0);
  g_assert_cmpfloat (cape_front (&c)->nodes[2].at.x, ==, 205);
  g_assert_cmpuint (pattern_history_get_length (history), ==, 2);
  /* Another pick is another step, also when it is the first one again. */
  app_session_pick_nodes (c.session, c.front, c.hem, &c.nodes[3], 1);
  app_session_nudge (c.session, 0, 1);
  g_assert_cmpuint (pattern_history_get_length (history), ==, 3);
  app_session_pick_nodes (c.session, c.front, c.hem, &c.nodes[2], 1);
  app_session_nudge (c.session, 1, 0);
  g_assert_cmpuint (pattern_history_get_length (history), ==, 4);
  for (int i = 0; i < 3; i++)
    app_session_undo (c.session);
  g_assert_cmpfloat (cape_front (&c)->nodes[2].at.x, ==, 200);
  cape_clear (&c);
}

static void
test_nudge_others (void)
{
  Cape c = cape_new ();
  app_session_pick_piece (c.session, c.collar, FALSE);
  app_session_pick_piece (c.session, c.front, TRUE);
  app_session_nudge (c.session, 3, 4);
  const Pattern *p = app_session_get_pattern (c.session);
  g_assert_cmpfloat (p->pieces[0]->nodes[0].at.x, ==, 3);
  g_assert_cmpfloat (p->pieces[1]->nodes[0].at.y, ==, 4);
  app_session_undo (c.session);
  app_session_pick_edge (c.session, c.front, c.hem);
  app_session_nudge (c.session, 0, 2);
  g_assert_cmpfloat (cape_front (&c)->nodes[3].at.y, ==, 302);
  /* A notch goes along its edge: left on a hem that is walked from right to
   * left is on. */
  guint notch = 0;
  app_session_do (c.session, "notch", NULL,
                  drafting_add_notch (app_session_get_pattern (c.session),
                                      c.front, c.hem, 1, PATTERN_FROM_START, 50,
                                      &notch, NULL),
                  NULL);
  app_session_pick_mark (c.session, c.front, notch);
  app_session_nudge (c.session, -1, 0);
  g_assert_cmpfloat_with_epsilon (
      pattern_piece_get_notch (cape_front (&c), notch)->amount, 51, 1e-9);
  cape_clear (&c);
}

static void
test_pick (void)
{
  Cape c = cape_new ();
  int told = 0;
  g_signal_connect_swapped (c.session, "pick-changed", G_CALLBACK (count),
                            &told);
  app_session_pick_edge (c.session, c.front, c.neck);
  app_session_pick_edge (c.session, c.front, c.neck);
  g_assert_cmpint (told, ==, 1);
  g_assert_cmpuint (app_session_get_strip_seam (c.session), ==, c.seam);
  g_assert_true (app_session_is_picked (c.session, c.front, c.neck));
  g_assert_false (app_session_is_picked (c.session, c.collar, c.collar_neck));
  app_session_pick_seam (c.session, c.seam);
  g_assert_true (app_session_is_picked (c.session, c.collar, c.collar_neck));
  g_autofree char *words = app_session_describe_pick (c.session);
  g_assert_cmpstr (words, ==, "Seam collar seam");
  app_session_pick_edge (c.session, c.front, c.side);
  g_assert_cmpuint (app_session_get_strip_seam (c.session), ==, 0);
  g_autofree char *side = app_session_describe_pick (c.session);
  g_assert_cmpstr (side, ==, "side, edge of front, 300.0 mm");
  GeoBox box = app_session_pick_box (c.session);
  g_assert_cmpfloat (box.x0, ==, 200);
  g_assert_cmpfloat (box.y1, ==, 300);
  app_session_select_all (c.session);
  g_assert_cmpuint (app_session_get_pick (c.session)->n_ids, ==, 2);
  app_session_pick_piece (c.session, c.front, TRUE);
  g_assert_cmpuint (app_session_get_pick (c.session)->n_ids, ==, 1);
  g_assert_cmpuint (app_session_get_pick (c.session)->piece, ==, c.collar);
  cape_clear (&c);
}

/* What is gone is not picked any more. */
static void
test_prune (void)
{
  Cape c = cape_new ();
  app_session_pick_seam (c.session, c.seam);
  app_session_delete_pick (c.session);
  g_assert_cmpint (app_session_get_pick (c.session)->kind, ==, APP_PICK_NONE);
  g_assert_null (
      pattern_get_seam (app_session_get_pattern (c.session), c.seam));
  app_session_undo (c.session);
  app_session_pick_piece (c.session, c.collar, FALSE);
  app_session_delete_pick (c.session);
  g_assert_cmpint (app_session_get_pick (c.session)->kind, ==, APP_PICK_NONE);
  app_session_undo (c.session);
  guint node = 0;
  app_session_do (c.session, "add node", NULL,
                  drafting_add_node (app_session_get_pattern (c.session),
                                     c.front, c.hem, 80, &node, NULL),
                  NULL);
  app_session_pick_nodes (c.session, c.front, c.hem, &node, 1);
  app_session_delete_pick (c.session);
  /* A node that is gone leaves its edge picked. */
  g_assert_cmpint (app_session_get_pick (c.session)->kind, ==, APP_PICK_EDGE);
  g_assert_cmpuint (app_session_get_pick (c.session)->edge, ==, c.hem);
  g_assert_cmpuint (cape_front (&c)->n_nodes, ==, 4);
  cape_clear (&c);
}

static void
test_step (void)
{
  Cape c = cape_new ();
  AppSession *s = c.session;
  g_assert_false (app_session_step_out (s));
  g_assert_true (app_session_step_pick (s, 1));
  g_assert_cmpuint (app_session_get_pick (s)->piece, ==, c.front);
  g_assert_true (app_session_step_pick (s, 1));
  g_assert_cmpuint (app_session_get_pick (s)->piece, ==, c.collar);
  g_assert_false (app_session_step_pick (s, 1));
  g_assert_cmpint (app_session_get_pick (s)->kind, ==, APP_PICK_NONE);
  g_assert_true (app_session_step_pick (s, -1));
  g_assert_cmpuint (app_session_get_pick (s)->piece, ==, c.collar);
  app_session_pick_piece (s, c.front, FALSE);
  g_assert_true (app_session_step_into (s));
  g_assert_cmpuint (app_session_get_pick (s)->edge, ==, c.neck);
  app_session_step_pick (s, -1);
  g_assert_cmpuint (app_session_get_pick (s)->edge, ==, c.centre);
  app_session_step_pick (s, 1);
  g_assert_true (app_session_step_into (s));
  g_assert_cmpint (app_session_get_pick (s)->kind, ==, APP_PICK_NODES);
  g_assert_cmpuint (app_session_get_pick (s)->ids[0], ==, c.nodes[0]);
  g_assert_false (app_session_step_into (s));
  app_session_step_pick (s, 1);
  g_assert_cmpuint (app_session_get_pick (s)->ids[0], ==, c.nodes[1]);
  g_assert_cmpuint (app_session_get_pick (s)->edge, ==, c.neck);
  app_session_step_pick (s, 1);
  g_assert_cmpuint (app_session_get_pick (s)->ids[0], ==, c.nodes[0]);
  g_assert_true (app_session_step_out (s));
  g_assert_cmpint (app_session_get_pick (s)->kind, ==, APP_PICK_EDGE);
  g_assert_true (app_session_step_out (s));
  g_assert_true (app_session_step_out (s));
  g_assert_cmpint (app_session_get_pick (s)->kind, ==, APP_PICK_NONE);
  cape_clear (&c);
}

static const SewingFinding *
find (AppSession *s, SewingCheck check)
{
  const GPtrArray *findings = app_session_get_findings (s);
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      if (finding->check == check)
        return finding;
    }
  return NULL;
}

static void
keep_box (AppSession *session, double x0, double y0, double x1, double y1,
          GeoBox *box)
{
  (void)session;
  *box = (GeoBox){ x0, y0, x1, y1 };
}

static void
test_findings (void)
{
  Cape c = cape_new ();
  GeoBox looked = geo_box_empty ();
  g_signal_connect (c.session, "look-at", G_CALLBACK (keep_box), &looked);
  /* The collar has no grainline; mending lays one. */
  const SewingFinding *finding = find (c.session, SEWING_CHECK_GRAIN);
  g_assert_nonnull (finding);
  g_assert_cmpuint (finding->piece, ==, c.collar);
  app_session_pick_finding (c.session, finding);
  g_assert_cmpuint (app_session_get_pick (c.session)->piece, ==, c.collar);
  g_assert_cmpfloat (looked.x0, <=, 300);
  g_assert_cmpfloat (looked.x1, >=, 500);
  app_session_mend (c.session, find (c.session, SEWING_CHECK_GRAIN));
  g_assert_null (find (c.session, SEWING_CHECK_GRAIN));
  /* The neck is longer than the collar: findings follow a preview and its end.
   */
  g_assert_nonnull (find (c.session, SEWING_CHECK_SEAM_LENGTH));
  app_session_preview (c.session,
                       drafting_straighten (app_session_get_pattern (c.session),
                                            c.front, c.nodes[0], NULL),
                       NULL);
  g_assert_null (find (c.session, SEWING_CHECK_SEAM_LENGTH));
  app_session_cancel (c.session);
  g_assert_nonnull (find (c.session, SEWING_CHECK_SEAM_LENGTH));
  cape_clear (&c);
}

static void
test_whole_pieces (void)
{
  Cape c = cape_new ();
  app_session_pick_piece (c.session, c.front, FALSE);
  app_session_copy_pick (c.session, TRUE);
  const Pattern *p = app_session_get_pattern (c.session);
  g_assert_cmpuint (p->n_pieces, ==, 3);
  g_assert_cmpuint (app_session_get_pick (c.session)->piece, ==,
                    p->pieces[2]->id);
  app_session_turn_pick (c.session, G_PI / 2);
  const PatternPiece *turned
      = pattern_get_piece (app_session_get_pattern (c.session),
                           app_session_get_pick (c.session)->piece);
  GeoPoint a = turned->grain_from, b = turned->grain_to;
  g_assert_cmpfloat_with_epsilon (fabs (b.x - a.x), 140, 1e-9);
  g_assert_cmpfloat_with_epsilon (b.y - a.y, 0, 1e-9);
  app_session_mirror_pick (c.session);
  app_session_undo (c.session);
  app_session_undo (c.session);
  app_session_undo (c.session);
  g_assert_cmpuint (app_session_get_pattern (c.session)->n_pieces, ==, 2);
  cape_clear (&c);
}

static void
test_save (void)
{
  Cape c = cape_new ();
  g_autofree char *dir = g_dir_make_tmp ("bodkin-session-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (dir, "cape.bodkin", NULL);
  GError *error = NULL;
  app_session_do (c.session, "move", NULL, move_hem (&c, 5), NULL);
  g_assert_true (app_session_save (c.session, path, FALSE, &error));
  g_assert_no_error (error);
  g_assert_true (app_session_is_saved (c.session));
  g_assert_cmpstr (app_session_get_path (c.session), ==, path);
  app_session_undo (c.session);
  g_assert_false (app_session_is_saved (c.session));
  /* Another program writes the file. */
  g_assert_true (g_file_set_contents (path, "something else", -1, NULL));
  g_assert_false (app_session_save (c.session, path, FALSE, &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_CHANGED);
  g_clear_error (&error);
  g_autofree char *kept = NULL;
  g_assert_true (g_file_get_contents (path, &kept, NULL, NULL));
  g_assert_cmpstr (kept, ==, "something else");
  g_assert_true (app_session_save (c.session, path, TRUE, &error));
  g_autoptr (Pattern) back = file_document_load (path, &error);
  g_assert_no_error (error);
  g_assert_true (pattern_equal (back, app_session_get_pattern (c.session)));
  app_session_mark_unsaved (c.session);
  g_assert_false (app_session_is_saved (c.session));
  g_autofree char *title = app_session_dup_title (c.session);
  g_assert_cmpstr (title, ==, "small cape");
  g_autofree char *backup = g_strconcat (path, "~", NULL);
  g_unlink (backup);
  g_unlink (path);
  g_rmdir (dir);
  cape_clear (&c);
}

/* What a crash left is not what the file holds, and nothing comes before it. */
static void
test_recovered (void)
{
  AppSession *s = app_session_new_recovered (pattern_new ("found"), "a-slot");
  g_assert_false (app_session_is_saved (s));
  g_assert_cmpstr (app_session_get_slot (s), ==, "a-slot");
  g_assert_null (app_session_get_path (s));
  app_session_undo (s);
  g_assert_cmpstr (app_session_get_pattern (s)->name, ==, "found");
  g_assert_false (app_session_is_saved (s));
  g_object_unref (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/session/do-undo", test_do_undo);
  g_test_add_func ("/session/failure-is-told", test_failure_is_told);
  g_test_add_func ("/session/preview", test_preview);
  g_test_add_func ("/session/nudges-merge", test_nudges_merge);
  g_test_add_func ("/session/nudge-others", test_nudge_others);
  g_test_add_func ("/session/pick", test_pick);
  g_test_add_func ("/session/prune", test_prune);
  g_test_add_func ("/session/step", test_step);
  g_test_add_func ("/session/findings", test_findings);
  g_test_add_func ("/session/whole-pieces", test_whole_pieces);
  g_test_add_func ("/session/save", test_save);
  g_test_add_func ("/session/recovered", test_recovered);
  return g_test_run ();
}
