/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The side of the window that shows what is picked, with its settings to be typed. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_PICK_PANEL (app_pick_panel_get_type ())
G_DECLARE_FINAL_TYPE (AppPickPanel, app_pick_panel, APP, PICK_PANEL, GtkBox)

GtkWidget *app_pick_panel_new (AppSession *session);
/* Into the field with the name of what is picked, the old one ready to be typed over. */
void app_pick_panel_focus_name (AppPickPanel *panel);
