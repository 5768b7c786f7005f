/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Printing at full size: what, on which paper, with a picture of the sheets; as a PDF or to a
 * printer. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

void app_print_open (GtkWindow *parent, AppSession *session);
