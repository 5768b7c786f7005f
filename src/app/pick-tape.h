/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tape says beside what the piece has: a table in a piece's page, and a line in an edge's
 * and in that of two nodes. */
#pragma once

#include "app/pick-page.h"

/* All measures of the page's piece, with the buttons that even the piece out to them. */
GtkWidget *app_tape_rows_new (AppPage *page);
void app_tape_rows_show (GtkWidget *rows, const Pattern *pattern);
/* Of what is picked: the edge, or the distance between two nodes. */
GtkWidget *app_tape_line_new (AppPage *page);
void app_tape_line_show (GtkWidget *line, const Pattern *pattern);
