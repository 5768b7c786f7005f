/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kept copies.
 *
 * In the state folder each slot has up to three files: SLOT.bodkin, the pattern;
 * SLOT.about, a key file that says whose it is; SLOT.lock, on which the program holds a lock
 * (flock) for as long as it runs. The system lets a lock go when its program ends, however it
 * ends, so a slot that can be locked is one that was left behind, and process numbers that come
 * round again can't mislead. Both files are written by file_safe_save(); the pattern
 * first, so that what is spoken of is there.
 *
 * Writing is done by one thread. Per slot only the newest pattern waits; a pattern
 * never changes, so a reference is all it takes.
 */
#include "file/autosave.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "file/document-pictures.h"
#include "file/document.h"
#include "file/safe-save.h"

#define ENDING FILE_DOCUMENT_SUFFIX
#define PICTURE_ENDING ".picture"
#define GROUP "Kept pattern"

/* A slot of this program. */
typedef struct
{
  char *slot;
  int lock;            /* descriptor; -1 before the first keep */
  Pattern *waiting;    /* newest not yet written, or NULL */
  char *path;          /* of the document, for waiting */
  GPtrArray *replaced; /* slots taken over, to be dropped after the next keep */
  gboolean failed;     /* the last write */
} Slot;

static GMutex mutex; /* guards all below */
static GCond changed;
static GHashTable *slots; /* slot -> Slot */
static GHashTable
    *claims; /* slot taken over -> descriptor of its lock, as pointer */
static GThread *writer;
static gboolean writing;
static FileAutosaveTold told; /* of the main loop's thread */
static gpointer told_data;

static char *
state_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "bodkin", NULL);
}

static char *
file_of (const char *slot, const char *ending)
{
  g_autofree char *folder = state_folder ();
  g_autofree char *name = g_strconcat (slot, ending, NULL);
  return g_build_filename (folder, name, NULL);
}

void
file_recovery_free (FileRecovery *recovery)
{
  if (recovery == NULL)
    return;
  g_free (recovery->file);
  g_free (recovery->path);
  g_free (recovery->name);
  g_free (recovery);
}

char *
file_autosave_new_slot (void)
{
  return g_uuid_string_random ();
}

/* --- locks ---------------------------------------------------------------------- */
/* The lock of a slot, or -1 where another holds it or it can't be had. Another program may have
 * dropped the slot, and its lock file with it, between the opening and the locking. */
static int
take_lock (const char *slot)
{
  g_autofree char *path = file_of (slot, ".lock");
  for (guint tries = 0; tries < 3; tries++)
    {
      struct stat held, named;
      int fd = open (path, O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
      if (fd < 0)
        return -1;
      if (flock (fd, LOCK_EX | LOCK_NB) != 0)
        {
          close (fd);
          return -1;
        }
      if (fstat (fd, &held) == 0 && stat (path, &named) == 0
          && held.st_ino == named.st_ino && held.st_dev == named.st_dev)
        return fd;
      close (fd);
    }
  return -1;
}

static void
remove_pictures (const char *slot)
{
  g_autofree char *folder = state_folder ();
  g_autofree char *start = g_strconcat (slot, "-", NULL);
  GDir *dir = g_dir_open (folder, 0, NULL);
  if (dir == NULL)
    return;
  for (const char *n; (n = g_dir_read_name (dir)) != NULL;)
    if (g_str_has_prefix (n, start) && g_str_has_suffix (n, PICTURE_ENDING))
      {
        g_autofree char *path = g_build_filename (folder, n, NULL);
        (void)g_unlink (path);
      }
  g_dir_close (dir);
}

/* While the lock is held; letting it go is the last thing. */
static void
remove_files (const char *slot, int lock)
{
  static const char *const endings[]
      = { ".about", ENDING, ENDING "~", ".lock" };
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    {
      g_autofree char *path = file_of (slot, endings[i]);
      (void)g_unlink (path);
    }
  remove_pictures (slot);
  if (lock >= 0)
    close (lock);
}

/* --- writing -------------------------------------------------------------------- */
static gboolean
write_about (const char *slot, const char *name, const char *path,
             GError **error)
{
  g_autoptr (GKeyFile) about = g_key_file_new ();
  g_autofree char *file = file_of (slot, ".about");
  g_autofree char *valid = g_utf8_make_valid (name, -1);
  g_key_file_set_string (about, GROUP, "name", valid);
  if (path != NULL)
    {
      /* a path need not be text */
      g_autofree char *uri = g_filename_to_uri (path, NULL, NULL);
      if (uri != NULL)
        g_key_file_set_string (about, GROUP, "document", uri);
    }
  g_key_file_set_int64 (about, GROUP, "when",
                        g_get_real_time () / G_USEC_PER_SEC);
  gsize length;
  g_autofree char *text = g_key_file_to_data (about, &length, NULL);
  return file_safe_save (file, text, length, FALSE, error);
}

/* A picture's bytes stay the same for as long as it is in the pattern, so they are written once, as
 * a file of its own. */
static char *
name_of_picture (const PatternPicture *picture, gpointer slot)
{
  return g_strdup_printf ("%s-%s" PICTURE_ENDING, (const char *)slot,
                          picture->digest);
}

static gboolean
write_pictures (const char *slot, const Pattern *pattern, GError **error)
{
  g_autofree char *folder = state_folder ();
  for (guint i = 0; i < pattern->n_pictures; i++)
    {
      const PatternPicture *picture = pattern->pictures[i];
      if (picture->beside != NULL || picture->bytes == NULL)
        continue;
      g_autofree char *name = name_of_picture (picture, (gpointer)slot);
      g_autofree char *file = g_build_filename (folder, name, NULL);
      gsize size;
      const char *data = g_bytes_get_data (picture->bytes, &size);
      struct stat st;
      if (lstat (file, &st) == 0 && (gsize)st.st_size == size)
        continue;
      if (!file_safe_save (file, data, size, FALSE, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
write_slot (const char *slot, const Pattern *pattern, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *file = file_of (slot, ENDING);
  g_autofree char *folder = state_folder ();
  FileWhere where = { folder, name_of_picture, (gpointer)slot };
  gboolean done
      = write_pictures (slot, pattern, &error)
        && file_document_save_at (pattern, file, &where, FALSE, &error)
        && write_about (slot, pattern->name, path, &error);
  if (!done)
    g_message ("autosave: %s", error->message);
  return done;
}

static void
drop_replaced (Slot *s)
{
  for (guint i = 0; i < s->replaced->len; i++)
    {
      const char *old = g_ptr_array_index (s->replaced, i);
      int lock = GPOINTER_TO_INT (g_hash_table_lookup (claims, old));
      g_hash_table_remove (claims, old);
      remove_files (old, lock);
    }
  g_ptr_array_set_size (s->replaced, 0);
}

static Slot *
next_waiting (void)
{
  GHashTableIter iter;
  gpointer value;
  g_hash_table_iter_init (&iter, slots);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    if (((Slot *)value)->waiting != NULL)
      return value;
  return NULL;
}

typedef struct
{
  char *slot;
  gboolean kept;
} Outcome;

static void
outcome_free (gpointer data)
{
  Outcome *outcome = data;
  g_free (outcome->slot);
  g_free (outcome);
}

static gboolean
tell (gpointer data)
{
  const Outcome *outcome = data;
  if (told != NULL)
    told (outcome->slot, outcome->kept, told_data);
  return G_SOURCE_REMOVE;
}

/* A slot was written, or could not be. */
static void
written (Slot *s, gboolean done)
{
  if (done)
    drop_replaced (s);
  if (!done || s->failed)
    {
      Outcome *outcome = g_new (Outcome, 1);
      *outcome = (Outcome){ g_strdup (s->slot), done };
      g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, tell, outcome, outcome_free);
    }
  s->failed = !done;
}

void
file_autosave_watch (FileAutosaveTold function, gpointer data)
{
  told = function;
  told_data = data;
}

static gpointer
run_writer (gpointer data)
{
  (void)data;
  g_mutex_lock (&mutex);
  for (;;)
    {
      Slot *s = next_waiting ();
      if (s == NULL)
        {
          g_cond_wait (&changed, &mutex);
          continue;
        }
      g_autoptr (Pattern) pattern = g_steal_pointer (&s->waiting);
      g_autofree char *path = g_steal_pointer (&s->path);
      g_autofree char *slot = g_strdup (s->slot);
      writing = TRUE;
      g_mutex_unlock (&mutex);
      gboolean done = write_slot (slot, pattern, path);
      g_mutex_lock (&mutex);
      writing = FALSE;
      s = g_hash_table_lookup (slots, slot); /* a drop waits for us */
      if (s != NULL)
        written (s, done);
      g_cond_broadcast (&changed);
    }
  return NULL;
}

static void
wait_until_written (const char *slot)
{
  for (;;)
    {
      const Slot *s = slot != NULL ? g_hash_table_lookup (slots, slot) : NULL;
      gboolean waiting = slot != NULL ? s != NULL && s->waiting != NULL
                                      : next_waiting () != NULL;
      if (!writing && !waiting)
        return;
      g_cond_wait (&changed, &mutex);
    }
}

/* --- slots of this program -------------------------------------------------------- */
static void
free_slot (gpointer data)
{
  Slot *s = data;
  g_free (s->slot);
  g_free (s->path);
  g_clear_pointer (&s->waiting, pattern_unref);
  g_ptr_array_unref (s->replaced);
  g_free (s);
}

static Slot *
get_slot (const char *name)
{
  if (slots == NULL)
    {
      slots = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, free_slot);
      claims = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    }
  Slot *s = g_hash_table_lookup (slots, name);
  if (s == NULL)
    {
      s = g_new0 (Slot, 1);
      s->slot = g_strdup (name);
      s->lock = -1;
      s->replaced = g_ptr_array_new_with_free_func (g_free);
      g_hash_table_insert (slots, s->slot, s);
    }
  return s;
}

void
file_autosave_keep (const char *slot, const Pattern *pattern, const char *path)
{
  g_return_if_fail (slot != NULL && *slot != '\0' && pattern != NULL);
  g_autofree char *folder = state_folder ();
  (void)g_mkdir_with_parents (folder, 0700);
  g_mutex_lock (&mutex);
  Slot *s = get_slot (slot);
  if (s->lock < 0)
    s->lock = take_lock (slot);
  g_clear_pointer (&s->waiting, pattern_unref);
  s->waiting = pattern_ref (pattern);
  g_free (s->path);
  s->path = g_strdup (path);
  if (writer == NULL)
    writer = g_thread_new ("autosave", run_writer, NULL);
  g_cond_broadcast (&changed);
  g_mutex_unlock (&mutex);
}

void
file_autosave_flush (void)
{
  g_mutex_lock (&mutex);
  if (slots != NULL)
    wait_until_written (NULL);
  g_mutex_unlock (&mutex);
}

void
file_autosave_drop (const char *slot)
{
  g_return_if_fail (slot != NULL);
  g_mutex_lock (&mutex);
  Slot *s = slots != NULL ? g_hash_table_lookup (slots, slot) : NULL;
  if (s != NULL)
    {
      g_clear_pointer (&s->waiting, pattern_unref);
      while (writing)
        g_cond_wait (&changed, &mutex);
      drop_replaced (s);
      if (s->lock >= 0)
        remove_files (slot, s->lock);
      g_hash_table_remove (slots, slot);
    }
  g_mutex_unlock (&mutex);
}

/* --- what was left behind ----------------------------------------------------------- */
/* The program may have ended between the pattern and what is said of it; then its
 * time is the file's. */
static FileRecovery *
read_about (const char *slot)
{
  g_autofree char *about_file = file_of (slot, ".about");
  g_autofree char *file = file_of (slot, ENDING);
  struct stat st;
  if (lstat (file, &st) != 0 || !S_ISREG (st.st_mode))
    return NULL;
  FileRecovery *recovery = g_new0 (FileRecovery, 1);
  recovery->file = g_steal_pointer (&file);
  recovery->when = st.st_mtime;
  g_autoptr (GKeyFile) about = g_key_file_new ();
  if (g_key_file_load_from_file (about, about_file, G_KEY_FILE_NONE, NULL))
    {
      recovery->name = g_key_file_get_string (about, GROUP, "name", NULL);
      g_autofree char *uri
          = g_key_file_get_string (about, GROUP, "document", NULL);
      if (uri != NULL)
        recovery->path = g_filename_from_uri (uri, NULL, NULL);
      gint64 when = g_key_file_get_int64 (about, GROUP, "when", NULL);
      recovery->when = when > 0 ? when : recovery->when;
    }
  if (recovery->name == NULL)
    recovery->name = g_strdup ("");
  return recovery;
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  const FileRecovery *x = *(FileRecovery *const *)a;
  const FileRecovery *y = *(FileRecovery *const *)b;
  if (x->when != y->when)
    return x->when > y->when ? -1 : 1;
  return strcmp (x->file, y->file);
}

GPtrArray *
file_autosave_list (void)
{
  GPtrArray *found
      = g_ptr_array_new_with_free_func ((GDestroyNotify)file_recovery_free);
  g_autofree char *folder = state_folder ();
  GDir *dir = g_dir_open (folder, 0, NULL);
  if (dir == NULL)
    return found;
  for (const char *n; (n = g_dir_read_name (dir)) != NULL;)
    {
      if (!g_str_has_suffix (n, ENDING))
        continue;
      g_autofree char *slot = g_strndup (n, strlen (n) - strlen (ENDING));
      int lock = take_lock (slot);
      if (lock < 0)
        continue;
      FileRecovery *recovery = read_about (slot);
      if (recovery != NULL)
        g_ptr_array_add (found, recovery);
      close (lock);
    }
  g_dir_close (dir);
  g_ptr_array_sort (found, newest_first);
  return found;
}

static char *
slot_of (const FileRecovery *recovery)
{
  g_autofree char *base = g_path_get_basename (recovery->file);
  if (g_str_has_suffix (base, ENDING))
    base[strlen (base) - strlen (ENDING)] = '\0';
  return g_steal_pointer (&base);
}

/* Whether a picture's only copy is one of the slot's files. */
static gboolean
leans_on (const Pattern *pattern, const char *slot)
{
  g_autofree char *start = file_of (slot, "-");
  for (guint i = 0; i < pattern->n_pictures; i++)
    if (pattern->pictures[i]->beside != NULL
        && g_str_has_prefix (pattern->pictures[i]->beside, start))
      return TRUE;
  return FALSE;
}

Pattern *
file_autosave_recover (const FileRecovery *recovery, const char *slot,
                       GError **error)
{
  g_return_val_if_fail (recovery != NULL && slot != NULL, NULL);
  g_autofree char *old = slot_of (recovery);
  int lock = take_lock (old);
  if (lock < 0)
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_READ,
                   _ ("“%s” is already being recovered in another window of "
                      "Bodkin. Nothing was changed."),
                   recovery->name);
      return NULL;
    }
  Pattern *pattern = file_document_load (recovery->file, error);
  if (pattern == NULL)
    {
      close (lock);
      return NULL;
    }
  /* What could not be read now may be readable later: then it must still be there. */
  gboolean whole = !leans_on (pattern, old);
  g_mutex_lock (&mutex);
  Slot *s = get_slot (slot);
  if (whole)
    g_ptr_array_add (s->replaced, g_strdup (old));
  g_hash_table_insert (claims, g_strdup (old), GINT_TO_POINTER (lock));
  g_mutex_unlock (&mutex);
  return pattern;
}

void
file_autosave_forget (const FileRecovery *recovery)
{
  g_return_if_fail (recovery != NULL);
  g_autofree char *slot = slot_of (recovery);
  int lock = take_lock (slot);
  if (lock >= 0)
    remove_files (slot, lock);
}
