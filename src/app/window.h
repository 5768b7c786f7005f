/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window: header, pieces at one side, the table, what is picked at the other
 * side, the seam strip below; or the start page while nothing is open. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_WINDOW (app_window_get_type ())
G_DECLARE_FINAL_TYPE (AppWindow, app_window, APP, WINDOW, GtkApplicationWindow)

AppWindow *app_window_new (GtkApplication *app);
/* Takes over the session; path as it was set in it. Once a window. */
void app_window_open_session (AppWindow *window, AppSession *session);
AppSession *
app_window_get_session (AppWindow *window); /* NULL on the start page */
/* The table; NULL on the start page. */
/* The copy kept for after a crash was written, or could not be: then she is told, and it
 * is tried again. */
void app_window_kept (AppWindow *window, const char *slot, gboolean kept);
GtkWidget *app_window_get_canvas (AppWindow *window);
/* A document, or a drawing to bring in; here when nothing is open yet, else in a window of
 * its own. */
void app_window_open_path (AppWindow *window, const char *path);
void app_window_open_demo (AppWindow *window);
