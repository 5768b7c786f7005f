/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing pictures in the native document, and what the parts of its writing share about them. */
#pragma once

#include "pattern/pattern.h"

/* Where a document will lie, as far as pictures need it. */
typedef struct
{
  const char *folder; /* paths are told from there; NULL: whole */
  /* For copies kept by the minute: pictures inside are named in place of being written, as the file
   * this gives (in the folder); NULL: written. The name is freed. */
  char *(*kept_as) (const PatternPicture *picture, gpointer data);
  gpointer data;
} FileWhere;

void file_write_picture (GString *out, const PatternPicture *picture,
                         const FileWhere *where);
/* file_document_write() for a place. */
char *file_document_write_at (const Pattern *pattern, const FileWhere *where,
                              gsize *length);
/* file_document_save_with() for a place. */
gboolean file_document_save_at (const Pattern *pattern, const char *path,
                                const FileWhere *where, gboolean backup,
                                GError **error);
/* How to get from a folder to a file, both absolute; a whole path where they have no folder but the root
 * in common. */
char *file_path_from (const char *folder, const char *path);
