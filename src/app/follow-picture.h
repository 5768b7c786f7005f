/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pixels of the pictures on the table, for drawing over them: read on another thread when first
 * asked for, kept with the session. Until they are there nothing snaps.
 */
#pragma once

#include "app/tool-follow.h"
#include "tracing/picture.h"

/* From now on places drawn over a picture snap to its lines and edges (app_follow_set_snap()). */
void app_follow_picture_start (AppSession *session);
/* A picture's pixels that are known already. */
void app_follow_picture_put (AppSession *session, guint picture,
                             TracingPicture *pixels);
/* The nearest place (px) within reach px where the picture has the middle of a drawn line or, where there is none, an edge
 * between light and dark; dots: px a mm there, by which is told what is a line: dark, up to about 2
 * mm wide. FALSE: none. */
gboolean app_follow_picture_find (TracingPicture *pixels, GeoPoint at,
                                  double reach, double dots, GeoPoint *found);
