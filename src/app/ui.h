/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small parts the panels and dialogs are put together from, and the words they share. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"
#include "app/words.h"

/* The name a screen reader says. */
void app_ui_name (GtkWidget *widget, const char *name);
/* A flat button with an icon; tip is its name and its tooltip, with the key in brackets where
 * there is one ("Ctrl+Z"). action may be NULL. */
GtkWidget *app_ui_icon_button (const char *icon, const char *tip,
                               const char *key, const char *action);
/* The same as a toggle. */
GtkWidget *app_ui_icon_toggle (const char *icon, const char *tip,
                               const char *key, const char *action);
void app_ui_tip (GtkWidget *widget, const char *tip, const char *key);
GtkWidget *app_ui_text_button (const char *text, const char *tip);
GtkWidget *app_ui_heading (const char *text);
GtkWidget *app_ui_label (const char *text, const char *css_class);
/* A label that wraps at the panel's width. */
GtkWidget *app_ui_paragraph (const char *text, const char *css_class);
/* Rows of a label and a control. */
GtkWidget *app_ui_rows_new (void);
/* Gives the control the label's name as well. Returns the label. */
GtkWidget *app_ui_rows_add (GtkWidget *rows, const char *label,
                            GtkWidget *control);
/* A row over the whole width. */
void app_ui_rows_add_wide (GtkWidget *rows, GtkWidget *control);
/* A value that is only shown. */
GtkWidget *app_ui_value (void);
void app_ui_set_text (GtkWidget *label, const char *text);
/* The wheel scrolls what the range lies in, and does not change it. */
void app_ui_leave_wheel (GtkWidget *range);
GtkWidget *app_ui_drop_down (const char *const *words, const char *name);
/* Other words for its choices, where they differ; what is chosen stays. */
void app_ui_drop_down_set_words (GtkWidget *drop, const char *const *words);
/* Takes every child out. */
void app_ui_clear (GtkWidget *box);
/* Escape closes the window. */
void app_ui_close_on_escape (GtkWindow *window);
/* An open popover lets the program's keys with Ctrl through, undo and redo among them. */
void app_ui_pass_keys (GtkWidget *popover);
