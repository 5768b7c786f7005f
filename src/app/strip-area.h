/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip below the table: the seam that is picked, or that of the picked edge, unrolled. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_STRIP_AREA (app_strip_area_get_type ())
G_DECLARE_FINAL_TYPE (AppStripArea, app_strip_area, APP, STRIP_AREA, GtkBox)

GtkWidget *app_strip_area_new (AppSession *session);
void app_strip_area_set_dark (AppStripArea *strip, gboolean dark);
