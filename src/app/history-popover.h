/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The button that opens the list of everything done so far; picking a step goes there. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

GtkWidget *app_history_button_new (AppSession *session);
