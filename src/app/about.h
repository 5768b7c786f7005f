/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window of all keys, and the one that says what this is. */
#pragma once

#include <gtk/gtk.h>

void app_shortcuts_open (GtkWindow *parent);
void app_about_open (GtkWindow *parent);
