/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saving, on real folders and real failures: a full disk, no room for names,
 * links of both kinds, folders and files that may not be written, and an end of the program
 * at any system call. What the system does is POSIX rename(2), link(2). */
#include <errno.h>
#include <glib/gstdio.h>
#include <sched.h>
#include <string.h>
#include <sys/mount.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "file/document.h"
#include "file/safe-save.h"

static const char *program;

typedef struct
{
  char *folder;
  char *file;
  char *backup;
} Place;

static void
set_up (Place *p, gconstpointer data)
{
  (void)data;
  g_autoptr (GError) error = NULL;
  p->folder = g_dir_make_tmp ("bodkin-save-XXXXXX", &error);
  g_assert_no_error (error);
  p->file = g_build_filename (p->folder, "cape.bodkin", NULL);
  p->backup = g_strconcat (p->file, "~", NULL);
}

static void
tear_down (Place *p, gconstpointer data)
{
  (void)data;
  g_chmod (p->folder, 0700);
  GDir *dir = g_dir_open (p->folder, 0, NULL);
  for (const char *n; (n = g_dir_read_name (dir)) != NULL;)
    {
      g_autofree char *path = g_build_filename (p->folder, n, NULL);
      if (g_unlink (path) != 0)
        g_rmdir (path);
    }
  g_dir_close (dir);
  g_assert_cmpint (g_rmdir (p->folder), ==, 0);
  g_free (p->folder);
  g_free (p->file);
  g_free (p->backup);
}

static gboolean
save (const char *path, const char *text, gboolean backup, GError **error)
{
  return file_safe_save (path, text, strlen (text), backup, error);
}

static void
save_ok (const char *path, const char *text, gboolean backup)
{
  g_autoptr (GError) error = NULL;
  gboolean done = save (path, text, backup, &error);
  g_assert_no_error (error);
  g_assert_true (done);
}

static void
assert_holds (const char *path, const char *text)
{
  g_autofree char *found = NULL;
  g_autoptr (GError) error = NULL;
  g_file_get_contents (path, &found, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (found, ==, text);
}

static void
assert_refused (const char *path, const char *words)
{
  g_autoptr (GError) error = NULL;
  g_assert_false (save (path, "new", TRUE, &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_UNSAFE);
  if (strstr (error->message, words) == NULL)
    g_error ("message lacks “%s”: %s", words, error->message);
}

static guint
count_entries (const char *folder)
{
  guint n = 0;
  GDir *dir = g_dir_open (folder, 0, NULL);
  while (g_dir_read_name (dir) != NULL)
    n++;
  g_dir_close (dir);
  return n;
}

static mode_t
mode_of (const char *path)
{
  struct stat st;
  g_assert_cmpint (stat (path, &st), ==, 0);
  return st.st_mode & 07777;
}

static void
test_new (Place *p, gconstpointer data)
{
  (void)data;
  mode_t before = umask (027);
  save_ok (p->file, "first", TRUE);
  umask (before);
  assert_holds (p->file, "first");
  g_assert_cmpuint (mode_of (p->file), ==, 0640);
  g_assert_cmpuint (count_entries (p->folder), ==, 1);
  save_ok (p->file, "", TRUE);
  assert_holds (p->file, "");
  assert_holds (p->backup, "first");
}

static void
test_modes (Place *p, gconstpointer data)
{
  (void)data;
  static const mode_t modes[] = { 0600, 0640, 0644, 0664, 0666, 0755 };
  static const mode_t masks[] = { 0, 022, 077 };
  for (guint i = 0; i < G_N_ELEMENTS (modes); i++)
    for (guint k = 0; k < G_N_ELEMENTS (masks); k++)
      {
        save_ok (p->file, "old", FALSE);
        g_assert_cmpint (g_chmod (p->file, (int)modes[i]), ==, 0);
        mode_t before = umask (masks[k]);
        save_ok (p->file, "new", FALSE);
        umask (before);
        assert_holds (p->file, "new");
        g_assert_cmpuint (mode_of (p->file), ==, modes[i]);
      }
}

static void
test_backup (Place *p, gconstpointer data)
{
  (void)data;
  save_ok (p->file, "one", TRUE);
  g_assert_false (g_file_test (p->backup, G_FILE_TEST_EXISTS));
  save_ok (p->file, "two", TRUE);
  assert_holds (p->backup, "one");
  save_ok (p->file, "three", TRUE);
  assert_holds (p->backup, "two");
  save_ok (p->file, "four", FALSE);
  assert_holds (p->backup, "two");
  assert_holds (p->file, "four");
  /* a save that ended after the backup was made must not bar the next */
  g_assert_cmpint (g_unlink (p->backup), ==, 0);
  g_assert_cmpint (link (p->file, p->backup), ==, 0);
  save_ok (p->file, "five", TRUE);
  assert_holds (p->file, "five");
  assert_holds (p->backup, "four");
  /* where the backup's name is taken by a folder, the document is still saved */
  g_assert_cmpint (g_unlink (p->backup), ==, 0);
  g_assert_cmpint (g_mkdir (p->backup, 0700), ==, 0);
  save_ok (p->file, "six", TRUE);
  assert_holds (p->file, "six");
}

static void
test_symlink (Place *p, gconstpointer data)
{
  (void)data;
  g_autofree char *target = g_build_filename (p->folder, "target", NULL);
  g_autofree char *middle = g_build_filename (p->folder, "middle", NULL);
  save_ok (target, "old", FALSE);
  g_assert_cmpint (symlink ("target", middle), ==, 0);
  g_assert_cmpint (symlink ("middle", p->file), ==, 0);
  save_ok (p->file, "new", TRUE);
  assert_holds (target, "new");
  g_assert_true (g_file_test (p->file, G_FILE_TEST_IS_SYMLINK));
  g_assert_true (g_file_test (middle, G_FILE_TEST_IS_SYMLINK));
  g_assert_false (g_file_test (target, G_FILE_TEST_IS_SYMLINK));
  g_autofree char *backup = g_strconcat (target, "~", NULL);
  assert_holds (backup, "old");
  g_assert_cmpint (g_unlink (target), ==, 0);
  assert_refused (p->file, "link to a file that can't be found");
  g_assert_cmpint (symlink ("target", target), ==, 0);
  assert_refused (p->file, "Save under another name");
}

static void
test_hard_link (Place *p, gconstpointer data)
{
  (void)data;
  g_autofree char *twin = g_build_filename (p->folder, "twin", NULL);
  save_ok (p->file, "old", FALSE);
  g_assert_cmpint (link (p->file, twin), ==, 0);
  assert_refused (p->file, "hard link");
  assert_holds (p->file, "old");
  assert_holds (twin, "old");
  g_assert_cmpuint (count_entries (p->folder), ==, 2);
}

static void
test_not_files (Place *p, gconstpointer data)
{
  (void)data;
  assert_refused (p->folder, "is a folder");
  g_assert_cmpint (mkfifo (p->file, 0600), ==, 0);
  assert_refused (p->file, "not an ordinary file");
  assert_refused ("/dev/null", "not an ordinary file");
  g_autofree char *lost
      = g_build_filename (p->folder, "no", "such", "cape.bodkin", NULL);
  assert_refused (lost, "does not exist");
  g_autofree char *long_name = g_strnfill (300, 'a');
  g_autofree char *long_path = g_build_filename (p->folder, long_name, NULL);
  assert_refused (long_path, "Save under another name");
}

/* Runs the check in a child that is nobody, or in name space of its own. */
static int
in_child (int (*check) (const Place *p), const Place *p)
{
  pid_t pid = fork ();
  g_assert_cmpint (pid, >=, 0);
  if (pid == 0)
    _exit (check (p));
  int status = 0;
  g_assert_cmpint (waitpid (pid, &status, 0), ==, pid);
  g_assert_true (WIFEXITED (status));
  return WEXITSTATUS (status);
}

enum
{
  GOOD = 0,
  CANT = 77
};

static int
same_content (const char *path, const char *text)
{
  g_autofree char *found = NULL;
  return g_file_get_contents (path, &found, NULL, NULL)
         && strcmp (found, text) == 0;
}

static int
check_as_nobody (const Place *p)
{
  if (geteuid () == 0
      && (setresgid (65534, 65534, 65534) != 0
          || setresuid (65534, 65534, 65534) != 0))
    return CANT;
  g_autoptr (GError) error = NULL;
  if (save (p->file, "new", TRUE, &error) || error == NULL
      || error->code != FILE_ERROR_UNSAFE
      || strstr (error->message, "another folder") == NULL)
    return 1;
  return same_content (p->file, "old") ? GOOD : 2;
}

static void
test_closed_folder (Place *p, gconstpointer data)
{
  (void)data;
  save_ok (p->file, "old", FALSE);
  g_assert_cmpint (g_chmod (p->file, 0666), ==, 0);
  g_assert_cmpint (g_chmod (p->folder, 0555), ==, 0);
  int result = in_child (check_as_nobody, p);
  if (result == CANT)
    g_test_skip ("can't become another user");
  else
    g_assert_cmpint (result, ==, GOOD);
  assert_holds (p->file, "old");
  g_assert_cmpuint (count_entries (p->folder), ==, 1);
}

static int
check_closed_file (const Place *p)
{
  if (geteuid () == 0
      && (setresgid (65534, 65534, 65534) != 0
          || setresuid (65534, 65534, 65534) != 0))
    return CANT;
  g_autoptr (GError) error = NULL;
  if (save (p->file, "new", TRUE, &error) || error == NULL
      || error->code != FILE_ERROR_UNSAFE)
    return 1;
  return same_content (p->file, "old") ? GOOD : 2;
}

static void
test_closed_file (Place *p, gconstpointer data)
{
  (void)data;
  save_ok (p->file, "old", FALSE);
  g_assert_cmpint (g_chmod (p->file, 0444), ==, 0);
  g_assert_cmpint (g_chmod (p->folder, 0777), ==, 0);
  int result = in_child (check_closed_file, p);
  if (result == CANT)
    g_test_skip ("can't become another user");
  else
    g_assert_cmpint (result, ==, GOOD);
  assert_holds (p->file, "old");
}

static gboolean
small_disk (const char *folder, const char *options)
{
  return unshare (CLONE_NEWNS) == 0
         && mount ("none", "/", NULL, MS_REC | MS_PRIVATE, NULL) == 0
         && mount ("tmpfs", folder, "tmpfs", 0, options) == 0;
}

static int
check_full_disk (const Place *p)
{
  if (!small_disk (p->folder, "size=64k"))
    return CANT;
  g_autofree char *old = g_strnfill (40000, 'o');
  g_autofree char *new = g_strnfill (40001, 'n');
  g_autoptr (GError) error = NULL;
  if (!save (p->file, old, FALSE, NULL))
    return 1;
  if (save (p->file, new, TRUE, &error)
      || !g_error_matches (error, FILE_ERROR, FILE_ERROR_WRITE)
      || strstr (error->message, "no room left") == NULL
      || strstr (error->message, "old file is as it was") == NULL)
    return 2;
  if (!same_content (p->file, old))
    return 3;
  if (count_entries (p->folder) > 2) /* nothing but it and its backup */
    return 4;
  /* and when there is room again, it is saved */
  return save (p->file, "short", TRUE, NULL) && same_content (p->file, "short")
                 && same_content (p->backup, old)
             ? GOOD
             : 5;
}

static int
check_no_inodes (const Place *p)
{
  if (!small_disk (p->folder, "size=1m,nr_inodes=2"))
    return CANT;
  if (!save (p->file, "old", FALSE, NULL))
    {
      /* the first save itself needs its name and no other */
      return 1;
    }
  g_autoptr (GError) error = NULL;
  if (save (p->file, "new", TRUE, &error)
      || !g_error_matches (error, FILE_ERROR, FILE_ERROR_WRITE))
    return 2;
  return same_content (p->file, "old") ? GOOD : 3;
}

static int
check_read_only_disk (const Place *p)
{
  if (!small_disk (p->folder, "size=1m"))
    return CANT;
  if (!save (p->file, "old", FALSE, NULL)
      || mount ("none", p->folder, NULL, MS_REMOUNT | MS_RDONLY, NULL) != 0)
    return 1;
  g_autoptr (GError) error = NULL;
  if (save (p->file, "new", TRUE, &error)
      || !g_error_matches (error, FILE_ERROR, FILE_ERROR_UNSAFE))
    return 2;
  return same_content (p->file, "old") ? GOOD : 3;
}

static void
test_disk (Place *p, int (*check) (const Place *p))
{
  int result = in_child (check, p);
  if (result == CANT)
    g_test_skip ("can't mount a file system here");
  else
    g_assert_cmpint (result, ==, GOOD);
}

static void
test_full_disk (Place *p, gconstpointer data)
{
  (void)data;
  test_disk (p, check_full_disk);
}

static void
test_no_inodes (Place *p, gconstpointer data)
{
  (void)data;
  test_disk (p, check_no_inodes);
}

static void
test_read_only_disk (Place *p, gconstpointer data)
{
  (void)data;
  test_disk (p, check_read_only_disk);
}

static void
test_stamp (Place *p, gconstpointer data)
{
  (void)data;
  FileStamp none = file_stamp_of (p->file);
  g_assert_false (none.known);
  g_assert_false (file_stamp_of (NULL).known);
  save_ok (p->file, "one", FALSE);
  FileStamp a = file_stamp_of (p->file);
  FileStamp again = file_stamp_of (p->file);
  g_assert_true (a.known && a.size == 3);
  g_assert_true (file_stamp_equal (&a, &again));
  g_assert_false (file_stamp_equal (&a, &none));
  save_ok (p->file, "two", FALSE); /* same size, other file */
  FileStamp b = file_stamp_of (p->file);
  g_assert_false (file_stamp_equal (&a, &b));
}

/* Ends this program, doing one save, at the kth call of a kind; says whether it came
 * that far. */
static gboolean
save_and_kill (const Place *p, const char *call, guint k, const char *inject,
               gboolean *usable)
{
  g_autofree char *log = g_build_filename (p->folder, "trace", NULL);
  g_autofree char *trace = g_strconcat ("trace=", call, NULL);
  g_autofree char *fault
      = g_strdup_printf ("inject=%s:%s:when=%u", call, inject, k);
  const char *argv[] = { "strace", "-f", "-o",  log,     "-e",
                         trace,    "-e", fault, program, "--save-new-to",
                         p->file,  NULL };
  int status = 0;
  g_autofree char *err = NULL;
  g_autofree char *out = NULL;
  g_auto (GStrv) environment = g_get_environ ();
  /* the leak checker can't look on while the tracer does */
  environment
      = g_environ_setenv (environment, "ASAN_OPTIONS", "detect_leaks=0", TRUE);
  *usable = g_spawn_sync (NULL, (char **)argv, environment, G_SPAWN_SEARCH_PATH,
                          NULL, NULL, &out, &err, &status, NULL);
  g_autofree char *text = NULL;
  if (*usable
      && (!g_file_get_contents (log, &text, NULL, NULL)
          || (WIFEXITED (status) && WEXITSTATUS (status) == 1
              && strstr (err, "ptrace") != NULL)))
    *usable = FALSE;
  g_unlink (log);
  return *usable
         && (strstr (text, "INJECTED") != NULL
             || strstr (text, "killed by SIGKILL") != NULL);
}

static void
clean_leftovers (const Place *p)
{
  GDir *dir = g_dir_open (p->folder, 0, NULL);
  for (const char *n; (n = g_dir_read_name (dir)) != NULL;)
    if (strcmp (n, "cape.bodkin") != 0)
      {
        g_autofree char *path = g_build_filename (p->folder, n, NULL);
        g_unlink (path);
      }
  g_dir_close (dir);
}

static void
kill_at_every (Place *p, const char *call, const char *inject, guint *tries,
               gboolean *usable)
{
  for (guint k = 1; k < 60; k++)
    {
      clean_leftovers (p);
      save_ok (p->file, "old", FALSE);
      gboolean hit = save_and_kill (p, call, k, inject, usable);
      if (!*usable)
        return;
      g_autofree char *found = NULL;
      g_assert_true (g_file_get_contents (p->file, &found, NULL, NULL));
      if (strcmp (found, "old") != 0 && strcmp (found, "new") != 0)
        g_error ("%s %u %s left “%s”", call, k, inject, found);
      if (!hit)
        return;
      ++*tries;
      /* the path must be good for the next save, whatever was left */
      save_ok (p->file, "next", TRUE);
      assert_holds (p->file, "next");
    }
}

static void
test_faults (Place *p, gconstpointer data)
{
  (void)data;
  g_autofree char *strace = g_find_program_in_path ("strace");
  if (strace == NULL)
    {
      g_test_skip ("strace is not there");
      return;
    }
  static const char *const calls[]
      = { "write", "fsync", "rename", "link", "unlink", "chmod" };
  static const char *const faults[]
      = { "signal=KILL", "error=EIO", "error=ENOSPC", "error=EACCES" };
  guint tries = 0;
  gboolean usable = TRUE;
  for (guint f = 0; f < G_N_ELEMENTS (faults) && usable; f++)
    for (guint i = 0; i < G_N_ELEMENTS (calls) && usable; i++)
      kill_at_every (p, calls[i], faults[f], &tries, &usable);
  if (!usable)
    g_test_skip ("programs can't be traced here");
  else
    {
      g_test_message ("%u faults injected", tries);
      g_assert_cmpuint (tries, >=, 20);
    }
}

#define ADD(name, test)                                                        \
  g_test_add ("/file/safe-save/" name, Place, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  if (argc == 3 && strcmp (argv[1], "--save-new-to") == 0)
    return save (argv[2], "new", TRUE, NULL) ? 0 : 2;
  program = argv[0];
  g_test_init (&argc, &argv, NULL);
  ADD ("new", test_new);
  ADD ("modes", test_modes);
  ADD ("backup", test_backup);
  ADD ("symlink", test_symlink);
  ADD ("hard-link", test_hard_link);
  ADD ("not-files", test_not_files);
  ADD ("closed-folder", test_closed_folder);
  ADD ("closed-file", test_closed_file);
  ADD ("full-disk", test_full_disk);
  ADD ("no-inodes", test_no_inodes);
  ADD ("read-only-disk", test_read_only_disk);
  ADD ("stamp", test_stamp);
  ADD ("faults", test_faults);
  return g_test_run ();
}
