/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Help: in the desktop's help viewer where one is installed, else in a window of our own. */
#pragma once

#include <gtk/gtk.h>

/* page: "index", "print", ... */
void app_help_open (GtkWindow *parent, const char *page);
