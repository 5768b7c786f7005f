/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar over the table while a piece's edges are named. Seen only then. */
#pragma once

#include <gtk/gtk.h>

#include "app/canvas.h"

#define APP_TYPE_NAME_BAR (app_name_bar_get_type ())
G_DECLARE_FINAL_TYPE (AppNameBar, app_name_bar, APP, NAME_BAR, GtkBox)

GtkWidget *app_name_bar_new (AppSession *session, AppCanvas *canvas);
/* Begins with what is picked; where that is of no piece, says so. */
void app_name_bar_open (AppNameBar *bar);
