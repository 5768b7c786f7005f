/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar over the table while a seam is walked: a slider for the pin, running and stopping, how and
 * which side moves, striking a notch. Hidden while none is walked. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_WALK_BAR (app_walk_bar_get_type ())
G_DECLARE_FINAL_TYPE (AppWalkBar, app_walk_bar, APP, WALK_BAR, GtkBox)

GtkWidget *app_walk_bar_new (AppSession *session);
