/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is not saved yet, kept in the state folder ($XDG_STATE_HOME/bodkin) so that a crash costs at
 * most the last moments, also before the first save. */
#pragma once

#include <gio/gio.h>

#include "pattern/pattern.h"

typedef struct
{
  char *file;  /* the kept copy */
  char *path;  /* where the document was saved, or NULL */
  char *name;  /* of the pattern */
  gint64 when; /* unix time, seconds */
} FileRecovery;

void file_recovery_free (FileRecovery *recovery);
/* A name of its own for one open document; nothing is on disk until the first keep. */
char *file_autosave_new_slot (void);
/* Writes on another thread (the snapshot is immutable); the newest wins. */
void file_autosave_keep (const char *slot, const Pattern *pattern,
                         const char *path);
/* kept: FALSE where the copy could not be written; told in the main loop, for each failure and for
 * the first success after one. */
typedef void (*FileAutosaveTold) (const char *slot, gboolean kept,
                                  gpointer data);
/* One at a time; NULL ends it. */
void file_autosave_watch (FileAutosaveTold told, gpointer data);
/* Waits for writes under way. */
void file_autosave_flush (void);
void file_autosave_drop (const char *slot);
/* Kept copies whose program is no longer running; newest first. */
GPtrArray *file_autosave_list (void);
/* Takes over a kept copy for the document that has the slot: loads it, keeps other
 * programs from offering it, and drops it once the slot has been kept or dropped. */
Pattern *file_autosave_recover (const FileRecovery *recovery, const char *slot,
                                GError **error);
void file_autosave_forget (const FileRecovery *recovery);
