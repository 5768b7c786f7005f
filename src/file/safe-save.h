/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing a file so that its path always holds the whole old or the whole new
 * content. */
#pragma once

#include <gio/gio.h>

/* What a file looked like when it was read or last written, to notice another writer. */
typedef struct
{
  gboolean known;
  guint64 size;
  gint64 mtime_ns;
  guint64 inode;
} FileStamp;

FileStamp file_stamp_of (const char *path);
gboolean file_stamp_equal (const FileStamp *a, const FileStamp *b);
/* Links are followed to the file itself; its mode is kept; one backup "name~" of the
 * last content is kept by a hard link where the file system has them. Refused with
 * FILE_ERROR_UNSAFE for hard-linked files, folders that can't be written and files that
 * are no regular file. backup: keep one. */
gboolean file_safe_save (const char *path, const char *content, gsize length,
                         gboolean backup, GError **error);
