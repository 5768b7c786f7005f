/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/document.h"

#include "file/safe-save.h"

gboolean
file_document_save (const Pattern *pattern, const char *path, GError **error)
{
  g_return_val_if_fail (pattern != NULL && path != NULL, FALSE);
  gsize length = 0;
  g_autofree char *text = file_document_write (pattern, &length);
  return file_safe_save (path, text, length, TRUE, error);
}
