/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the bars that lie over the table share: truing, fairing. */
#pragma once

#include "app/canvas.h"

/* Lays the bar out: a heading, the verbs, and below them a line for what hinders, which is
 * returned hidden. Hidden until it is wanted. */
GtkWidget *app_verb_bar_fill (GtkBox *bar, const char *name, GtkWidget *heading,
                              GtkWidget *verbs);
/* update is called, with the bar, whenever what it tells of may have changed, until the bar is gone. */
void app_verb_bar_follow (GtkBox *bar, AppSession *session, AppCanvas *canvas,
                          GCallback update);
/* A title that gives way, at the start of a heading. */
GtkWidget *app_verb_bar_title (void);
/* A child of a heading or of the verbs, in their middle. */
void app_verb_bar_add (GtkWidget *box, GtkWidget *child);
/* The button that leaves all as it was; leave is called with the bar, by
 * Escape in it, too. */
void app_verb_bar_add_leave (GtkWidget *heading, GtkBox *bar, GCallback leave);
