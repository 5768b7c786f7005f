/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pictures under the table: all in the pattern's page, one in its own. */
#pragma once

#include "app/pick-page.h"

/* only: that one alone, its name left to the page; 0: all. */
GtkWidget *app_picture_rows_new (AppPage *page, guint only);
void app_picture_rows_show (GtkWidget *rows, const Pattern *pattern);
