/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bringing in an SVG drawing: what was found, at what size, before it lands on the table. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

/* Takes over result. name: of the drawing, without its ending; onto: as it was asked for. */
typedef void (*AppImported) (Pattern *result, const char *name,
                             AppSession *onto, gpointer data);

/* onto: whose pattern the pieces are added to, beside what lies there when she says so; NULL for a
 * new pattern by the settings. Where the drawing can't be used it says so itself. */
void app_import_svg (GtkWindow *parent, const char *path, AppSession *onto,
                     AppImported imported, gpointer data);
/* The same from text, as it was pasted. */
void app_import_svg_text (GtkWindow *parent, const char *text, AppSession *onto,
                          AppImported imported, gpointer data);
/* A new pattern with the settings' unit and tolerance. */
Pattern *app_pattern_of_settings (const char *name);
