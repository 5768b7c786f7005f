/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/document.h"

#include <glib/gi18n.h>

#include "file/document-pictures.h"
#include "file/safe-save.h"
#include "file/xml-guard.h"

/* What can't be opened again must not take the place of what can. An outline turned inside
 * out is not sound but is put right when it is opened, so it is tried. */
static gboolean
can_be_read (const Pattern *pattern, const char *text, gsize length,
             GError **error)
{
  g_autofree char *unsound = pattern_unsound (pattern);
  if (unsound == NULL)
    return TRUE;
  g_autoptr (Pattern) back = file_document_parse (text, length, "", NULL);
  if (back != NULL)
    return TRUE;
  g_set_error (error, FILE_ERROR, FILE_ERROR_UNSAFE,
               /* what is wrong with the pattern, a sentence */
               _ ("The pattern was not saved, because it could not be opened "
                  "again as it is: %s The old file is as it was. Undo the last "
                  "steps, then save."),
               unsound);
  return FALSE;
}

/* The pictures inside are what makes a document so large. */
static gboolean
is_not_too_large (gsize length, GError **error)
{
  if (length <= FILE_XML_MAX_BYTES)
    return TRUE;
  g_set_error_literal (
      error, FILE_ERROR, FILE_ERROR_TOO_BIG,
      _ ("The pattern was not saved: with its pictures the document would be "
         "larger than 64 MB. The old file is as it was. Keep some of the "
         "pictures beside the document, then save."));
  return FALSE;
}

gboolean
file_document_save_at (const Pattern *pattern, const char *path,
                       const FileWhere *where, gboolean backup, GError **error)
{
  gsize length = 0;
  g_autofree char *text = file_document_write_at (pattern, where, &length);
  return is_not_too_large (length, error)
         && can_be_read (pattern, text, length, error)
         && file_safe_save (path, text, length, backup, error);
}

gboolean
file_document_save_with (const Pattern *pattern, const char *path,
                         gboolean backup, GError **error)
{
  g_return_val_if_fail (pattern != NULL && path != NULL, FALSE);
  g_autofree char *whole = g_canonicalize_filename (path, NULL);
  g_autofree char *folder = g_path_get_dirname (whole);
  FileWhere where = { .folder = folder };
  return file_document_save_at (pattern, path, &where, backup, error);
}

gboolean
file_document_save (const Pattern *pattern, const char *path, GError **error)
{
  return file_document_save_with (pattern, path, TRUE, error);
}
