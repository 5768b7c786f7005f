/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The button in the header that counts the pins, and the list it opens: each finding in words; picking
 * one goes to its place, its mend is one button that shows what it would do while the pointer is
 * on it, and it can be set aside with a reason. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_CHECKS_BUTTON (app_checks_button_get_type ())
G_DECLARE_FINAL_TYPE (AppChecksButton, app_checks_button, APP, CHECKS_BUTTON,
                      GtkBox)

GtkWidget *app_checks_button_new (AppSession *session);
void app_checks_button_set_dark (AppChecksButton *checks, gboolean dark);
void app_checks_button_open (AppChecksButton *checks);
