/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pin's head as it is on the table, beside words: told apart by shape and colour. */
#pragma once

#include <gtk/gtk.h>

typedef enum
{
  APP_PIN_MEND,
  APP_PIN_LOOK,
  APP_PIN_ASIDE,
} AppPinHead;

/* dark is looked at when it is painted, and has to outlive it. Says what it means in its
 * tooltip. */
GtkWidget *app_pin_head_new (const gboolean *dark);
void app_pin_head_set (GtkWidget *pin, AppPinHead what);
