/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bringing in an SVG drawing: what was found, at what size, before it lands on the table. */
#pragma once

#include <gtk/gtk.h>

#include "pattern/pattern.h"

/* Takes over result. name: of the drawing, without its ending. */
typedef void (*AppImported) (Pattern *result, const char *name, gpointer data);

/* onto: the pattern the pieces are added to, beside what lies there; NULL for a new one by the
 * settings. Where the drawing can't be used it says so itself. */
void app_import_svg (GtkWindow *parent, const char *path, const Pattern *onto,
                     AppImported imported, gpointer data);
/* The same from text, as it was pasted. */
void app_import_svg_text (GtkWindow *parent, const char *text,
                          const Pattern *onto, AppImported imported,
                          gpointer data);
/* A new pattern with the settings' unit and tolerance. */
Pattern *app_pattern_of_settings (const char *name);
