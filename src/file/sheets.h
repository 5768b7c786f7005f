/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Printing at full size: how pieces fall on sheets, and the sheets as PDF or on any
 * cairo context. Sizes: ISO 216 (A4, A3, A0), ANSI/ASME Y14.1 letter; rolls 24 and 36 in. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "sewing/facts.h"

typedef struct
{
  const char *name;     /* "A4" */
  double width, height; /* mm, upright; height 0: a roll, as long as needed */
} FilePaper;

/* Ends with a paper whose name is NULL. */
const FilePaper *file_papers (void);
const FilePaper *file_paper_find (const char *name); /* any case; NULL */

typedef struct
{
  FilePaper paper;
  gboolean landscape;
  double margin;  /* mm kept free on every side; default 10 */
  double overlap; /* by which sheets lap; default 10 */
  gboolean clips; /* print clip marks */
  gboolean stitch_lines;
  gboolean overview;
  const guint *pieces; /* ids to print, NULL for all */
  guint n_pieces;
} FileSheetOptions;

FileSheetOptions file_sheet_options_default (const FilePaper *paper);

/* A plan borrows nothing; it keeps a reference to the pattern. */
typedef struct _FileSheets FileSheets;
/* Pieces are laid out on one long strip of sheets, grain upright, then cut into tiles; tiles
 * that hold nothing are left out. */
FileSheets *file_sheets_plan (const Pattern *pattern,
                              const FileSheetOptions *options, GError **error);
void file_sheets_free (FileSheets *sheets);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FileSheets, file_sheets_free)
guint
file_sheets_count (const FileSheets *sheets); /* pages, overview included */
guint file_sheets_columns (const FileSheets *sheets);
guint file_sheets_rows (const FileSheets *sheets);
/* Size of a page, mm. */
void file_sheets_size (const FileSheets *sheets, guint page, double *width,
                       double *height);
/* Paints a page; the context's unit is a millimetre, origin the sheet's corner. */
void file_sheets_paint (FileSheets *sheets, guint page, cairo_t *cr);
const char *file_sheets_page_name (const FileSheets *sheets,
                                   guint page); /* "B3", "overview" */

typedef gboolean (*FileProgress) (double done,
                                  gpointer data); /* FALSE cancels */
/* Whole file, /PrintScaling /None set, written by file_safe_save(). */
gboolean file_sheets_save_pdf (FileSheets *sheets, const char *path,
                               FileProgress progress, gpointer data,
                               GError **error);
