/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ease meant between two marks of a seam: a card for each span in the seam's panel, and a
 * line to add another. Marks are told as in the table above them: start, 1, 2, end. */
#pragma once

#include "app/pick-page.h"

/* To be put on the page, which is a seam's. */
GtkWidget *app_ease_rows_new (AppPage *page);
/* names: what the sides are called. */
void app_ease_rows_show (GtkWidget *rows, const Pattern *pattern,
                         const SewingSeam *seam, const char *const names[2]);
