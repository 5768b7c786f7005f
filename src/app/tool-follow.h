/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing by hand over a picture: places clicked along its line, a curve laid through them as they are clicked. Inside
 * that tool a place is smooth unless it was made a corner: by C, which turns the last one, or by a double click.
 * Backspace takes the last back; Enter, or a click on the first, closes the outline to a piece.
 */
#pragma once

#include "app/tool.h"

/* Where a picture on the table shows a line within reach (mm) of a place. */
typedef gboolean (*AppFollowSnap) (AppSession *session, GeoPoint at,
                                   double reach, GeoPoint *snapped,
                                   gpointer data);
/* Who knows the pictures' pixels tells the tools so; NULL: places are taken as they are clicked. data is
 * freed with the session or with the next call. */
void app_follow_set_snap (AppSession *session, AppFollowSnap snap,
                          gpointer data, GDestroyNotify free_data);

/* Places so far; how many of them are corners. */
guint app_follow_count (const AppTool *tool, guint *corners);
