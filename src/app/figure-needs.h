/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What drafting a sloper needs of the body figures: those still missing, each with a field to enter it,
 * and the draft itself by one click. Below the table of body figures. */
#pragma once

#include "app/pick-page.h"
#include "pattern/figure.h"

GtkWidget *app_figure_needs_new (AppPage *page);
/* Hidden where the pattern has none of the figures, or few of them and pieces already. */
void app_figure_needs_show (GtkWidget *widget, const Pattern *pattern);

/* A known figure that the text names and the pattern lacks; NULL. */
const PatternKnownFigure *app_figure_missing (const Pattern *pattern,
                                              const char *text);
/* Adds it; one step of history. */
gboolean app_figure_add (AppSession *session, const PatternKnownFigure *known,
                         double mm);
/* A field with how to take the figure below it; entered: AppField's signal. */
GtkWidget *app_figure_field (const PatternKnownFigure *known, PatternUnit unit,
                             GCallback entered, gpointer data);
/* Of app_figure_field(). */
const PatternKnownFigure *app_figure_of (gpointer field);
