/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar above the table for a verb with its amounts: a field for each parameter, what hinders
 * it, Enter does it, Escape leaves it. Made anew for each verb; hidden while nothing is drafted. It lies
 * on no piece: what is to be clicked on stays in sight. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

#define APP_TYPE_AMOUNT_BAR (app_amount_bar_get_type ())
G_DECLARE_FINAL_TYPE (AppAmountBar, app_amount_bar, APP, AMOUNT_BAR, GtkBox)

GtkWidget *app_amount_bar_new (AppSession *session);
