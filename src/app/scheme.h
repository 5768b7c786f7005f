/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light or dark: as the settings say, else as the desktop asks through its portal
 * (org.freedesktop.portal.Settings, color-scheme), else as the theme is. Only what is looked
 * at changes; print, PDF and SVG never do. */
#pragma once

#include <gtk/gtk.h>

/* Loads the program's style and follows the desktop from now on. */
void app_scheme_start (GtkApplication *app);
/* Looks at the settings again. */
void app_scheme_apply (void);
gboolean app_scheme_is_dark (void);
/* Called at every change, and not now. */
void app_scheme_watch (GObject *owner, void (*changed) (gpointer owner));
