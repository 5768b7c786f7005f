/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window of preferences: looks, and what new patterns start with. */
#pragma once

#include <gtk/gtk.h>

void app_preferences_open (GtkWindow *parent);
