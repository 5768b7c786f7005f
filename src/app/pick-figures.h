/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In the pattern's page: the table of body figures. */
#pragma once

#include "app/pick-page.h"

GtkWidget *app_figure_rows_new (AppPage *page);
void app_figure_rows_show (GtkWidget *rows, const Pattern *pattern);
