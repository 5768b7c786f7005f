/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar above the table that leads from a picture to pieces: the stages, one sentence that says the next thing, what
 * can be set at this stage, and how long work has come. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_TRACE_BAR (app_trace_bar_get_type ())
G_DECLARE_FINAL_TYPE (AppTraceBar, app_trace_bar, APP, TRACE_BAR, GtkBox)

/* Shown while a picture is traced. Activates win.trace-by-hand and win.table. */
GtkWidget *app_trace_bar_new (AppSession *session);
/* A number typed over the table begins in the field that wants one now. */
void app_trace_bar_type (AppTraceBar *bar, const char *text);
