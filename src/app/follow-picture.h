/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing over the pictures on the table, by their pixels (app/picture-sights.h). Until they are read nothing
 * snaps.
 */
#pragma once

#include "app/tool-follow.h"
#include "tracing/picture.h"

/* From now on places drawn over a picture snap to its lines and edges (app_follow_set_snap()). */
void app_follow_picture_start (AppSession *session);
/* The nearest place (px) within reach px where the picture has the middle of a drawn line or, where there is none, an edge
 * between light and dark; dots: px a mm there, by which is told what is a line: dark, up to about 2
 * mm wide. FALSE: none. */
gboolean app_follow_picture_find (TracingPicture *pixels, GeoPoint at,
                                  double reach, double dots, GeoPoint *found);
