/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fitting laid over the table: the outlines of its pieces on those of another, or of the pattern
 * as it stands, wherever they have been moved to since. */
#pragma once

#include "app/palette.h"
#include "app/session.h"
#include "app/view.h"

/* What lies over what: fittings by number, 0 the pattern as it is shown. FALSE, and nothing changed,
 * where nothing is laid over, or its fitting is gone. */
gboolean app_laid_over (AppSession *session, const Pattern **was,
                        const Pattern **is);
/* Outlines that differ; the earlier dashed, the later, where it is not what the table shows, in one-dot chains; and at
 * each edge that moved a short line from the one to the other where they are farthest apart. */
void app_paint_laid_over (cairo_t *cr, AppSession *session, const AppView *view,
                          const AppPalette *colours);
/* Pixels; empty for nothing. */
GeoBox app_laid_over_box (AppSession *session, const AppView *view);
/* Differences in words, a line each: "Front: side seam 7 mm away, 2.1 mm longer". */
char **app_laid_over_words (const Pattern *was, const Pattern *is,
                            PatternUnit unit);
