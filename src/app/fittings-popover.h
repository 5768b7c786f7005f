/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The header's button to the fittings: what was kept, what was changed since, what lies over
 * the table. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

GtkWidget *app_fittings_button_new (AppSession *session);
