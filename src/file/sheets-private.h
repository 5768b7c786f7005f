/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What planning and painting of sheets share.
 *
 * The strip is one sheet of paper as large as needed, on which everything lies
 * in millimetres. A tile is the part of it that one sheet shows in its frame, the sheet
 * less its margins; tiles lie a step apart, the frame less the overlap. */
#pragma once

#include "file/sheets.h"

/* A piece, or the block of test squares (piece NULL), as laid on the strip. */
typedef struct
{
  const PatternPiece *piece;
  GeoMotion motion; /* from the table to the strip */
  GeoBox box;       /* on the strip */
  GeoChain cut;     /* its cutting line on the strip */
} SheetItem;

struct _FileSheets
{
  Pattern *pattern;
  SewingFacts *facts;
  FileSheetOptions options;
  guint *wanted; /* owned copy of options.pieces */
  gboolean roll;
  double width, height;    /* of a sheet; of a roll the longest it may be */
  double frame_w, frame_h; /* inside the margins */
  double step_x, step_y;
  GArray *items; /* SheetItem */
  guint columns, rows;
  gboolean *used;    /* columns * rows, row by row */
  GArray *pages;     /* index into used, in order */
  gboolean overview; /* a page of its own comes first */
  GPtrArray *names;  /* one a page */
};

#define FILE_SHEET_INCH 25.4
#define FILE_SHEET_GAP 5.0        /* between pieces */
#define FILE_SHEET_INSET 5.0      /* from trim lines, where there is room */
#define FILE_SHEET_LONGEST 5080.0 /* 14,400 points, the limit of a PDF page */
/* Size of the block of test squares, and its smaller form. */
#define FILE_SHEET_BLOCK_W 212.0
#define FILE_SHEET_BLOCK_H 150.0

/* The tiles that show a stretch of the strip from a to b, in one direction: first
 * and last. */
void file_sheet_range (double a, double b, double frame, double step,
                       guint *first, guint *last);
/* Lays the items, whose boxes have their size at the origin, on a strip; sets boxes
 * and motions, columns, rows and used. */
void file_sheet_lay_out (FileSheets *sheets);
/* The part of the strip that a tile shows. */
GeoBox file_sheet_tile (const FileSheets *sheets, guint column, guint row);
gboolean file_sheet_is_used (const FileSheets *sheets, int column, int row);
/* "B3" */
char *file_sheet_tile_name (guint column, guint row);
/* Whether an item's line or inside comes into a box. */
gboolean file_sheet_item_meets (const SheetItem *item, GeoBox box);

/* Each in the sheet's own millimetres, frame at the margin. */
void file_sheet_paint_tile (FileSheets *sheets, guint column, guint row,
                            cairo_t *cr);
void file_sheet_paint_overview (FileSheets *sheets, cairo_t *cr);
/* The block, its corner at the origin; also for the strip of one large sheet. */
void file_sheet_paint_block (FileSheets *sheets, cairo_t *cr);
/* A square of a side, ticked along it, with words inside. */
void file_sheet_paint_square (cairo_t *cr, double x, double y, double side,
                              double unit, const char *title,
                              const char *words);
