/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a whole old or a whole new document is always there:
 *
 * The content goes to a new file in the same folder, is brought to the disk (fsync), and
 * only then takes the old one's name by rename(2), which is atomic; the folder is brought to
 * the disk after that. g_file_set_contents_full() with CONSISTENT and DURABLE does this.
 * g_file_replace_contents() doesn't: where the disk is full it puts the part that
 * fitted in the document's place, and behind a link or in a folder that can't be written it
 * cuts the document to nothing before it writes (seen with GLib 2.74.6).
 *
 * Around it: links are followed first, or rename would replace the link; a file with a second
 * hard link is refused, since the other name would go on showing the old content; and the
 * mode is put back, which g_file_set_contents_full() narrows by the umask.
 */
#include "file/safe-save.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <limits.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/document.h"

GQuark
file_error_quark (void)
{
  return g_quark_from_static_string ("bodkin-file-error");
}

FileStamp
file_stamp_of (const char *path)
{
  struct stat st;
  if (path == NULL || stat (path, &st) != 0)
    return (FileStamp){ 0 };
  return (FileStamp){
    .known = TRUE,
    .size = (guint64)st.st_size,
    .mtime_ns = (gint64)st.st_mtim.tv_sec * 1000000000 + st.st_mtim.tv_nsec,
    .inode = (guint64)st.st_ino,
  };
}

gboolean
file_stamp_equal (const FileStamp *a, const FileStamp *b)
{
  return a->known == b->known
         && (!a->known
             || (a->size == b->size && a->mtime_ns == b->mtime_ns
                 && a->inode == b->inode));
}

/* What a person calls the file. */
static char *
shown (const char *path)
{
  return g_filename_display_basename (path);
}

/* The words have one place for the file's name. */
static gboolean
refuse (GError **error, const char *path, const char *words)
{
  g_autofree char *name = shown (path);
  g_set_error (error, FILE_ERROR, FILE_ERROR_UNSAFE, words, name);
  return FALSE;
}

/* The file itself behind any links; also for one that does not exist yet. NULL with errno
 * set where there is no such place. */
static char *
resolve (const char *path)
{
  char *real = realpath (path, NULL);
  if (real != NULL)
    {
      char *copy = g_strdup (real);
      free (real);
      return copy;
    }
  struct stat st;
  if (errno != ENOENT || lstat (path, &st) == 0)
    return NULL; /* a link that leads nowhere, a loop, a name that is too long */
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *base = g_path_get_basename (path);
  real = realpath (folder, NULL);
  if (real == NULL)
    return NULL;
  char *whole = g_build_filename (real, base, NULL);
  free (real);
  return whole;
}

static gboolean
fail_resolve (const char *path, int why, GError **error)
{
  struct stat st;
  if (lstat (path, &st) == 0 && S_ISLNK (st.st_mode))
    return refuse (
        error, path,
        _ ("“%s” is a link to a file that can't be found. Nothing was "
           "written. Save under another name."));
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *shown_folder = g_filename_display_name (folder);
  g_autofree char *name = shown (path);
  if (why == ENOENT || why == ENOTDIR)
    g_set_error (error, FILE_ERROR, FILE_ERROR_UNSAFE,
                 _ ("The folder “%s” for “%s” does not exist. Nothing was "
                    "written. Choose another folder."),
                 shown_folder, name);
  else
    g_set_error (error, FILE_ERROR, FILE_ERROR_UNSAFE,
                 _ ("“%s” can't be written there (%s). Nothing was written. "
                    "Save under another name or in another folder."),
                 name, g_strerror (why));
  return FALSE;
}

/* TRUE where the second name of the file is the backup of an earlier save that failed after
 * the backup was made. */
static gboolean
twin_is_backup (const char *real, const struct stat *st)
{
  g_autofree char *backup = g_strconcat (real, "~", NULL);
  struct stat other;
  return st->st_nlink == 2 && lstat (backup, &other) == 0
         && other.st_dev == st->st_dev && other.st_ino == st->st_ino;
}

static gboolean
check_old (const char *real, const struct stat *st, GError **error)
{
  if (S_ISDIR (st->st_mode))
    return refuse (
        error, real,
        _ ("“%s” is a folder. Nothing was written. Save under another "
           "name."));
  if (!S_ISREG (st->st_mode))
    return refuse (error, real,
                   _ ("“%s” is not an ordinary file. Nothing was written. Save "
                      "under another name."));
  if (st->st_nlink > 1 && !twin_is_backup (real, st))
    return refuse (
        error, real,
        _ ("“%s” has a second name somewhere (a hard link), and saving "
           "would part the two. Nothing was written, the old file "
           "is as it was. Save under another name."));
  if (access (real, W_OK) != 0)
    return refuse (
        error, real,
        _ ("“%s” is marked as not to be written. Nothing was changed. "
           "Allow writing in the file's properties, or save under "
           "another name."));
  return TRUE;
}

static gboolean
check_folder (const char *real, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (real);
  if (access (folder, W_OK | X_OK) == 0)
    return TRUE;
  g_autofree char *shown_folder = g_filename_display_name (folder);
  g_autofree char *name = shown (real);
  g_set_error (error, FILE_ERROR, FILE_ERROR_UNSAFE,
               _ ("The folder “%s” can't be written in, so “%s” can't be saved "
                  "there without risk to what it holds. Nothing was changed. "
                  "Save in another folder."),
               shown_folder, name);
  return FALSE;
}

/* The last content gets a second name, which is all it costs. Where the file system has no hard
 * links, or something that is no file has the name, there is no backup. Should the program end
 * between the two calls there is none either, but the document is whole. */
static void
keep_backup (const char *real, const struct stat *st)
{
  if (twin_is_backup (real, st))
    return;
  g_autofree char *backup = g_strconcat (real, "~", NULL);
  struct stat old;
  if (lstat (backup, &old) == 0 && !S_ISDIR (old.st_mode))
    (void)unlink (backup);
  (void)!link (real, backup);
}

/* A file that is replaced gets its owner and mode back. Owner first: changing it clears
 * set-id bits. Where the owner may not be given, the group alone; none of it undoes a
 * save that has succeeded. */
static void
restore_owner_and_mode (const char *real, const struct stat *old)
{
  struct stat now;
  if (stat (real, &now) != 0)
    return;
  if (now.st_uid != old->st_uid || now.st_gid != old->st_gid)
    if (chown (real, old->st_uid, old->st_gid) != 0)
      (void)!chown (real, (uid_t)-1, old->st_gid);
  if ((now.st_mode & 07777) != (old->st_mode & 07777))
    (void)chmod (real, old->st_mode & 07777);
}

static gboolean
fail_write (const char *real, gboolean existed, const GError *cause,
            GError **error)
{
  g_autofree char *name = shown (real);
  const char *safe = existed ? _ ("The old file is as it was.")
                             : _ ("Nothing was left behind.");
  const char *what_to_do = _ (
      "Save in another place, then look into what is wrong with this one.");
  const char *why = cause->message;
  if (g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_NOSPC))
    {
      why = _ ("there is no room left on that disk");
      what_to_do = _ ("Make room there, or save on another disk.");
    }
  g_set_error (error, FILE_ERROR, FILE_ERROR_WRITE,
               /* file, reason, what is safe, what to do */
               _ ("“%s” could not be saved: %s. %s %s"), name, why, safe,
               what_to_do);
  return FALSE;
}

gboolean
file_safe_save (const char *path, const char *content, gsize length,
                gboolean backup, GError **error)
{
  g_return_val_if_fail (path != NULL && *path != '\0', FALSE);
  g_return_val_if_fail (content != NULL || length == 0, FALSE);
  g_return_val_if_fail (length <= G_MAXSSIZE, FALSE);

  g_autofree char *real = resolve (path);
  if (real == NULL)
    return fail_resolve (path, errno, error);
  struct stat old;
  gboolean existed = lstat (real, &old) == 0;
  if (existed && !check_old (real, &old, error))
    return FALSE;
  if (!check_folder (real, error))
    return FALSE;
  if (existed && backup)
    keep_backup (real, &old);

  g_autoptr (GError) cause = NULL;
  int mode = existed ? (int)(old.st_mode & 0777) : 0666;
  if (!g_file_set_contents_full (
          real, content != NULL ? content : "", (gssize)length,
          G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, mode,
          &cause))
    return fail_write (real, existed, cause, error);
  if (existed)
    restore_owner_and_mode (real, &old);
  return TRUE;
}
