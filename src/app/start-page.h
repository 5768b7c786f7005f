/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a window shows while nothing is open: three large choices and smaller ones, what was
 * opened last, and what is kept from a time the program ended without saving. */
#pragma once

#include <gtk/gtk.h>

#include "file/autosave.h"

#define APP_TYPE_START_PAGE (app_start_page_get_type ())
G_DECLARE_FINAL_TYPE (AppStartPage, app_start_page, APP, START_PAGE, GtkBox)

/* Its buttons activate actions of the window: trace, slopers, demo, import-svg, new-drawing, open, and open-path (s).
 * Signal "recover" (FileRecovery *). */
GtkWidget *app_start_page_new (void);
/* Looks again at what was opened and what is kept. */
void app_start_page_refresh (AppStartPage *page);
