/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pieces at the side of the window: a picture of each, its name and how it is cut. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_PIECES_PANEL (app_pieces_panel_get_type ())
G_DECLARE_FINAL_TYPE (AppPiecesPanel, app_pieces_panel, APP, PIECES_PANEL,
                      GtkBox)

GtkWidget *app_pieces_panel_new (AppSession *session);
void app_pieces_panel_set_dark (AppPiecesPanel *panel, gboolean dark);
