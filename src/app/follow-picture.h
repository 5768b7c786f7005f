/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawing over the pictures on the table, by their pixels (app/picture-sights.h). Until they are read nothing
 * snaps.
 */
#pragma once

#include "app/tool-follow.h"

/* From now on places drawn over a picture snap to its lines and edges (app_follow_set_snap()). */
void app_follow_picture_start (AppSession *session);
