/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar over the table while a line is trued: what it is, how it stands, and what can be done
 * with it. Seen only then. */
#pragma once

#include <gtk/gtk.h>

#include "app/canvas.h"

#define APP_TYPE_TRUE_BAR (app_true_bar_get_type ())
G_DECLARE_FINAL_TYPE (AppTrueBar, app_true_bar, APP, TRUE_BAR, GtkBox)

GtkWidget *app_true_bar_new (AppSession *session, AppCanvas *canvas);
