/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pictures on the table as they can be looked at: read on another thread when first asked for, kept with
 * the session. When one has arrived the session tells it by "picture-read". No toolkit.
 */
#pragma once

#include "app/session.h"
#include "app/sight.h"

/* Borrowed; NULL while it is read, and where it can't be (whoever opened the pattern has said
 * why). */
AppSight *app_picture_sight (AppSession *session,
                             const PatternPicture *picture);
/* One that is known already; NULL: can't be read. */
void app_picture_put_sight (AppSession *session, guint picture,
                            AppSight *sight);
/* The picture that is on top at a place of the table, hidden ones apart: 0 for none. px gets the place in it. */
guint app_picture_at (const Pattern *p, GeoPoint at, GeoPoint *px);
/* Pixels to the table's mm. */
TracingPlane app_picture_plane (const PatternPicture *picture);
