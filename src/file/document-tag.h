/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Taking an element's attributes one by one, and keeping what was not asked for. */
#pragma once

#include "file/xml-guard.h"
#include "geometry/point.h"

/* The first failure stays; later calls then give their fallback. */
typedef struct
{
  const FileXmlTag *tag;
  gboolean *taken; /* one an attribute */
  GError *error;
} FileTaking;

FileTaking file_taking_begin (const FileXmlTag *tag);
/* FALSE with error set where anything failed. Unknown attributes go to extra as the
 * text the writer puts back, unless it is NULL. */
gboolean file_taking_end (FileTaking *t, GString *extra, GError **error);

/* NULL where it is missing. */
const char *file_take_text (FileTaking *t, const char *name);
/* Whole numbers; required where fallback is FILE_REQUIRED. */
#define FILE_REQUIRED G_MAXUINT
guint file_take_count (FileTaking *t, const char *name, guint most,
                       guint fallback);
/* Required where fallback is NAN. */
double file_take_number (FileTaking *t, const char *name, double least,
                         double most, double fallback);
/* Within +-100 m each; required where fallback is NULL. */
GeoPoint file_take_point (FileTaking *t, const char *name,
                          const GeoPoint *fallback);
/* Index into the list; the first where it is missing. */
guint file_take_word (FileTaking *t, const char *name,
                      const char *const *words);
