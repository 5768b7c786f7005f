/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar over the table while an edge is made fair. Seen only then. */
#pragma once

#include <gtk/gtk.h>

#include "app/canvas.h"

#define APP_TYPE_FAIR_BAR (app_fair_bar_get_type ())
G_DECLARE_FINAL_TYPE (AppFairBar, app_fair_bar, APP, FAIR_BAR, GtkBox)

GtkWidget *app_fair_bar_new (AppSession *session, AppCanvas *canvas);
