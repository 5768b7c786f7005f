/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines of a PDF, read back from its own content streams as qpdf unpacks
 * them: an opinion on what the file says that isn't ours. */
#pragma once

#include <glib.h>

#include "geometry/point.h"

/* One subpath, in mm from the page's top left. Curves are given by where they
 * end. */
typedef struct
{
  guint page;     /* from 0 */
  GArray *points; /* GeoPoint */
  gboolean closed;
  gboolean curved;
  gboolean filled, stroked;
} PdfLine;

typedef struct
{
  GPtrArray *lines;
  GArray *sizes; /* GeoPoint: width and height of each page's MediaBox, mm */
  char *text;    /* the whole file, unpacked */
} PdfFile;

/* Ends the test where the file can't be read. */
PdfFile *pdf_file_read (const char *path);
void pdf_file_free (PdfFile *file);
/* qpdf --check's exit status and words. */
int pdf_check (const char *path, char **words);
