/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The header's "Draft" button: every verb of drafting by group, those that fit what is picked
 * first, found by typing. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

GtkWidget *app_draft_button_new (AppSession *session);
void app_draft_button_open (GtkWidget *button);
