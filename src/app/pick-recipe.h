/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In a piece's page: the recipes it is linked to, each with its amounts to be changed in place, what it says,
 * what hinders it, changes by hand to be taken back, and letting it go. */
#pragma once

#include "app/pick-page.h"

GtkWidget *app_recipe_rows_new (AppPage *page);
/* For the piece, in the pattern shown. Hidden where it is linked to none. */
void app_recipe_rows_show (GtkWidget *rows, const Pattern *pattern,
                           guint piece);
