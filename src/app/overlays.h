/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What lies over the pieces on the table: what is picked and pointed at, nodes and handles, the
 * basting thread of a seam, the hang tag. In pixels; line widths do not grow
 * with the view. */
#pragma once

#include "app/palette.h"
#include "app/session.h"
#include "app/view.h"

#define APP_NODE_PX 4.5 /* half the width of a node's mark */

/* Lights what is picked (a seam: side A and side B apart by colour and line) and what the pointer
 * is over. */
void app_paint_lit (cairo_t *cr, AppSession *session, const AppView *view,
                    const AppPalette *colours);
/* Nodes and handles of the active edge (app/hit.h): corner square, smooth round, even a
 * diamond; filled where picked. Above picked pieces the ring they are turned by. */
void app_paint_nodes (cairo_t *cr, AppSession *session, const AppView *view,
                      const AppPalette *colours);
/* Where app_paint_lit() and app_paint_nodes() may put a stroke, pixels; empty for nothing. */
GeoBox app_lit_box (AppSession *session, const AppView *view);

/* The basting thread of the picked seam: from each matched mark of side A to its partner on side B.
 * It hangs where the seam is eased as meant, is drawn tight where the two sides are out by more than
 * the pattern's tolerance, either with its figure, in the strip's words.
 * Nothing unless a seam is picked. */
void app_paint_thread (cairo_t *cr, AppSession *session, const AppView *view,
                       const AppPalette *colours);
GeoBox app_thread_box (AppSession *session, const AppView *view);

/* --- the hang tag (app/tag.c) ---------------------------------------------- */

typedef struct
{
  double width, height;
} AppTagSize;

/* text: lines by \n; what follows two spaces in a line are its figures, set at the
 * right. */
AppTagSize app_tag_measure (cairo_t *cr, const char *text);
/* Where a tag goes that hangs beside a point: the box of that size within area that covers least of
 * keep_clear (points of what is dragged, pixels), and least far off. before: where it hung
 * last, kept while that is as good, so that it does not flutter; NULL at first. */
GeoBox app_tag_place (AppTagSize size, GeoPoint beside, GeoBox area,
                      const GeoPoint *keep_clear, guint n_keep_clear,
                      const GeoBox *before);
void app_paint_tag (cairo_t *cr, const char *text, GeoBox box, GeoPoint beside,
                    const AppPalette *colours);
