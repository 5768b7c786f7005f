/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In the pattern's page: the pictures under the table. */
#pragma once

#include "app/pick-page.h"

GtkWidget *app_picture_rows_new (AppPage *page);
void app_picture_rows_show (GtkWidget *rows, const Pattern *pattern);
