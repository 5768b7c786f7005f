/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kept copies, with real programs that are really killed. */
#include <errno.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "file/autosave.h"
#include "file/document.h"

static const char *program;
static char *state; /* the state folder of this test */

static void
empty_state (void)
{
  g_autofree char *folder = g_build_filename (state, "bodkin", NULL);
  GDir *dir = g_dir_open (folder, 0, NULL);
  if (dir == NULL)
    return;
  for (const char *n; (n = g_dir_read_name (dir)) != NULL;)
    {
      g_autofree char *path = g_build_filename (folder, n, NULL);
      g_unlink (path);
    }
  g_dir_close (dir);
  g_rmdir (folder);
}

static guint
count_files (void)
{
  guint n = 0;
  g_autofree char *folder = g_build_filename (state, "bodkin", NULL);
  GDir *dir = g_dir_open (folder, 0, NULL);
  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  if (dir != NULL)
    g_dir_close (dir);
  return n;
}

/* A program that keeps patterns of these names in a slot each, then waits to be killed. */
static pid_t
start_program (const char *path, const char *const *names, guint n)
{
  int ready[2];
  g_assert_cmpint (pipe (ready), ==, 0);
  pid_t pid = fork ();
  g_assert_cmpint (pid, >=, 0);
  if (pid == 0)
    {
      const char *argv[12] = { program, "--keep", path };
      for (guint i = 0; i < n; i++)
        argv[3 + i] = names[i];
      dup2 (ready[1], STDOUT_FILENO);
      close (ready[0]);
      execv (program, (char **)argv);
      _exit (1);
    }
  close (ready[1]);
  char mark = 0;
  g_assert_cmpint (read (ready[0], &mark, 1), ==, 1);
  close (ready[0]);
  return pid;
}

static void
kill_program (pid_t pid)
{
  int status;
  kill (pid, SIGKILL);
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  g_assert_true (WIFSIGNALED (status));
}

/* What the started program does. */
static int
keep_and_wait (const char *path, char **names)
{
  for (guint i = 0; names[i] != NULL; i++)
    {
      char *slot = file_autosave_new_slot ();
      for (guint k = 0; k < 20; k++)
        {
          g_autofree char *name = g_strdup_printf ("%s %u", names[i], k);
          g_autoptr (Pattern) p = pattern_new (k < 19 ? name : names[i]);
          file_autosave_keep (slot, p, *path != '\0' ? path : NULL);
        }
      g_free (slot);
    }
  file_autosave_flush ();
  if (write (STDOUT_FILENO, "r", 1) != 1)
    return 1;
  for (;;)
    pause ();
}

static void
test_killed (void)
{
  static const char *const names[] = { "front\nnew line", "collar" };
  pid_t pid = start_program ("/somewhere/m\xfcnster cape.bodkin", names, 2);
  g_autoptr (GPtrArray) while_running = file_autosave_list ();
  g_assert_cmpuint (while_running->len, ==, 0);
  kill_program (pid);
  g_autoptr (GPtrArray) left = file_autosave_list ();
  g_assert_cmpuint (left->len, ==, 2);
  for (guint i = 0; i < left->len; i++)
    {
      const FileRecovery *r = g_ptr_array_index (left, i);
      g_assert_true (strcmp (r->name, names[0]) == 0
                     || strcmp (r->name, names[1]) == 0);
      g_assert_cmpstr (r->path, ==, "/somewhere/m\xfcnster cape.bodkin");
      gint64 now = g_get_real_time () / G_USEC_PER_SEC;
      g_assert_cmpint (r->when, >, now - 100);
      g_assert_cmpint (r->when, <=, now);
    }
  /* one is taken over, one is forgotten */
  g_autoptr (GError) error = NULL;
  g_autofree char *slot = file_autosave_new_slot ();
  const FileRecovery *first = g_ptr_array_index (left, 0);
  g_autoptr (Pattern) p = file_autosave_recover (first, slot, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (p->name, ==, first->name);
  g_autoptr (GPtrArray) rest = file_autosave_list ();
  g_assert_cmpuint (rest->len, ==, 1);
  g_assert_null (file_autosave_recover (first, "other", &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_READ);
  file_autosave_forget (g_ptr_array_index (left, 0)); /* held: no effect */
  g_assert_true (g_file_test (first->file, G_FILE_TEST_EXISTS));
  file_autosave_forget (g_ptr_array_index (rest, 0));
  /* until the new slot is kept, the old copy stays */
  file_autosave_keep (slot, p, NULL);
  file_autosave_flush ();
  g_assert_false (g_file_test (first->file, G_FILE_TEST_EXISTS));
  g_assert_cmpuint (count_files (), ==, 3);
  file_autosave_drop (slot);
  g_assert_cmpuint (count_files (), ==, 0);
}

/* Recovered, and killed again before anything was kept: it is there again. */
static void
test_killed_twice (void)
{
  static const char *const names[] = { "skirt" };
  kill_program (start_program ("", names, 1));
  int status;
  pid_t pid = fork ();
  if (pid == 0)
    {
      g_autoptr (GPtrArray) left = file_autosave_list ();
      g_autoptr (Pattern) p = NULL;
      if (left->len == 1)
        p = file_autosave_recover (g_ptr_array_index (left, 0), "again", NULL);
      _exit (p != NULL ? 0 : 1);
    }
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
  g_autoptr (GPtrArray) left = file_autosave_list ();
  g_assert_cmpuint (left->len, ==, 1);
  const FileRecovery *r = g_ptr_array_index (left, 0);
  g_assert_cmpstr (r->name, ==, "skirt");
  g_assert_null (r->path);
  g_autofree char *slot = file_autosave_new_slot ();
  g_autoptr (Pattern) p = file_autosave_recover (r, slot, NULL);
  g_assert_nonnull (p);
  file_autosave_drop (slot); /* she does not want it */
  g_assert_cmpuint (count_files (), ==, 0);
}

static void
test_newest_wins (void)
{
  g_autofree char *slot = file_autosave_new_slot ();
  g_autofree char *other = file_autosave_new_slot ();
  g_assert_cmpstr (slot, !=, other);
  for (guint i = 0; i < 300; i++)
    {
      g_autofree char *name = g_strdup_printf ("%u", i);
      g_autoptr (Pattern) p = pattern_new (name);
      file_autosave_keep (i % 3 == 0 ? other : slot, p, NULL);
    }
  file_autosave_flush ();
  g_autofree char *file = g_strdup_printf ("%s/bodkin/%s.bodkin", state, slot);
  g_autoptr (Pattern) p = file_document_load (file, NULL);
  g_assert_cmpstr (p->name, ==, "299");
  file_autosave_drop (slot);
  g_assert_false (g_file_test (file, G_FILE_TEST_EXISTS));
  file_autosave_drop (other);
  file_autosave_drop (other);
  file_autosave_drop ("never kept");
  g_assert_cmpuint (count_files (), ==, 0);
}

/* A pattern without what is said of it, and things that are no kept copies. */
static void
test_odd_files (void)
{
  g_autofree char *folder = g_build_filename (state, "bodkin", NULL);
  g_mkdir_with_parents (folder, 0700);
  g_autoptr (Pattern) p = pattern_new ("lonely");
  g_autofree char *file = g_build_filename (folder, "lonely.bodkin", NULL);
  g_assert_true (file_document_save (p, file, NULL));
  static const char *const others[]
      = { "a.about", "b.lock", "c.bodkin~", "notes", ".bodkin.AB12CD" };
  for (guint i = 0; i < G_N_ELEMENTS (others); i++)
    {
      g_autofree char *path = g_build_filename (folder, others[i], NULL);
      g_assert_true (g_file_set_contents (path, "x", 1, NULL));
    }
  g_autofree char *bad = g_build_filename (folder, "bad.bodkin", NULL);
  g_assert_true (g_file_set_contents (bad, "<bodk", -1, NULL));
  g_autoptr (GPtrArray) left = file_autosave_list ();
  g_assert_cmpuint (left->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const FileRecovery *r = g_ptr_array_index (left, i);
      gboolean good = g_str_has_suffix (r->file, "lonely.bodkin");
      g_autoptr (GError) error = NULL;
      g_autofree char *slot = file_autosave_new_slot ();
      g_autoptr (Pattern) back = file_autosave_recover (r, slot, &error);
      g_assert_true ((back != NULL) == good);
      if (good)
        file_autosave_drop (slot);
      else
        file_autosave_forget (r);
    }
  g_autoptr (GPtrArray) none = file_autosave_list ();
  g_assert_cmpuint (none->len, ==, 0);
  empty_state ();
}

typedef struct
{
  guint failed, kept;
} Heard;

static void
on_told (const char *slot, gboolean kept, gpointer data)
{
  Heard *heard = data;
  g_assert_cmpstr (slot, ==, "told");
  if (kept)
    heard->kept++;
  else
    heard->failed++;
}

static void
run_idle (void)
{
  file_autosave_flush ();
  while (g_main_context_iteration (NULL, FALSE))
    ;
}

/* A copy that can't be written is no secret, nor is it when it can be again. Something
 * that is no folder stands where the folder should be: that stops root too. */
static void
test_told (void)
{
  Heard heard = { 0 };
  g_autofree char *folder = g_build_filename (state, "bodkin", NULL);
  g_autofree char *file = g_build_filename (folder, "told.bodkin", NULL);
  g_autoptr (Pattern) p = pattern_new ("told");
  empty_state ();
  g_assert_true (g_file_set_contents (folder, "in the way", -1, NULL));
  file_autosave_watch (on_told, &heard);
  file_autosave_keep ("told", p, NULL);
  run_idle ();
  g_assert_cmpuint (heard.failed, ==, 1);
  file_autosave_keep ("told", p, NULL);
  run_idle ();
  g_assert_cmpuint (heard.failed, ==, 2);
  g_assert_cmpint (g_unlink (folder), ==, 0);
  for (guint i = 0; i < 2; i++)
    {
      file_autosave_keep ("told", p, NULL);
      run_idle ();
    }
  g_assert_true (g_file_test (file, G_FILE_TEST_EXISTS));
  g_assert_cmpuint (heard.failed, ==, 2);
  g_assert_cmpuint (heard.kept, ==, 1);
  file_autosave_watch (NULL, NULL);
  file_autosave_drop ("told");
  empty_state ();
}

int
main (int argc, char **argv)
{
  if (argc > 3 && strcmp (argv[1], "--keep") == 0)
    return keep_and_wait (argv[2], argv + 3);
  program = argv[0];
  g_autofree char *folder = g_dir_make_tmp ("bodkin-state-XXXXXX", NULL);
  state = folder;
  g_setenv ("XDG_STATE_HOME", folder, TRUE);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/file/autosave/killed", test_killed);
  g_test_add_func ("/file/autosave/killed-twice", test_killed_twice);
  g_test_add_func ("/file/autosave/newest-wins", test_newest_wins);
  g_test_add_func ("/file/autosave/odd-files", test_odd_files);
  g_test_add_func ("/file/autosave/told", test_told);
  int status = g_test_run ();
  empty_state ();
  g_rmdir (state);
  return status;
}
