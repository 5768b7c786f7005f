/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The native document: XML, one file a pattern. See data/bodkin.rng for its schema and
 * help for its meaning; numbers are written in the C locale, the shortest that reads back equal. */
#pragma once

#include <gio/gio.h>

#include "pattern/pattern.h"

#define FILE_ERROR (file_error_quark ())
GQuark file_error_quark (void);
typedef enum
{
  FILE_ERROR_READ,     /* could not be read from disk */
  FILE_ERROR_NOT_OURS, /* not a document of this kind */
  FILE_ERROR_BROKEN,   /* not well-formed, or not sound; message has the line */
  FILE_ERROR_NEWER,    /* written by a newer version */
  FILE_ERROR_TOO_BIG,  /* beyond a limit; message says which */
  FILE_ERROR_UNSAFE, /* saving there could lose the old document; message says why and what to do */
  FILE_ERROR_WRITE,
  FILE_ERROR_CHANGED, /* another program wrote the file since */
} FileError;

#define FILE_DOCUMENT_VERSION 1
#define FILE_DOCUMENT_SUFFIX ".bodkin"
#define FILE_DOCUMENT_MIME "application/x-bodkin+xml"

/* Pictures that lie beside the document are read by file_document_load() alone, where the file is
 * there and is the same as when it was brought in; else they have no bytes, which is no error. Messages name the file and, where it applies, the line. */
Pattern *file_document_load (const char *path, GError **error);
Pattern *file_document_parse (const char *text, gsize length, const char *name,
                              GError **error);
/* What of the pictures beside the document was not found when it was opened, and what to do; NULL
 * where all is there. */
char *file_document_missing (const Pattern *pattern);
/* Whether a picture of so many bytes is kept inside unless she chooses otherwise. */
#define FILE_DOCUMENT_INSIDE_BYTES (8u << 20)
gboolean file_document_keeps_inside (gsize size);
/* Deterministic: equal patterns give equal bytes. */
char *file_document_write (const Pattern *pattern, gsize *length);
/* Never loses what was there: see file/safe-save.h. A pattern that could not be opened again is
 * not written: FILE_ERROR_UNSAFE says what is wrong with it. */
gboolean file_document_save (const Pattern *pattern, const char *path,
                             GError **error);
/* The same, with or without the one backup. */
gboolean file_document_save_with (const Pattern *pattern, const char *path,
                                  gboolean backup, GError **error);
