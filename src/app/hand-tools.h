/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand tools: one button each with its key; narrow when the pieces beside are folded
 * away. */
#pragma once

#include <gtk/gtk.h>

#include "app/canvas.h"

#define APP_TYPE_HAND_TOOLS (app_hand_tools_get_type ())
G_DECLARE_FINAL_TYPE (AppHandTools, app_hand_tools, APP, HAND_TOOLS, GtkBox)

GtkWidget *app_hand_tools_new (AppSession *session, AppCanvas *canvas);
void app_hand_tools_set_narrow (AppHandTools *rack, gboolean narrow);
/* The tool of a key ("r"); FALSE where there is none. */
gboolean app_hand_tool_of_key (guint keyval, AppToolKind *kind);
