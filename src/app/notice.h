/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A quiet bar over the table: what happened, what is safe, what to do. It stops nothing. */
#pragma once

#include <gtk/gtk.h>

#define APP_TYPE_NOTICE (app_notice_get_type ())
G_DECLARE_FINAL_TYPE (AppNotice, app_notice, APP, NOTICE, GtkBox)

GtkWidget *app_notice_new (void);
/* Shows a text until it is closed; where passing is set it goes away by itself after
 * some seconds, or when app_notice_pass() is called. action may be NULL; else it is the label of a
 * button that activates an action of the window. */
void app_notice_show (AppNotice *notice, const char *text, gboolean passing,
                      const char *action_label, const char *action);
/* What was told to pass has passed: she went on. */
void app_notice_pass (AppNotice *notice);
void app_notice_hide (AppNotice *notice);
