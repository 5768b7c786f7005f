/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A help page read into labels, for where no help viewer is installed. Knows the
 * elements of Mallard 1.0 (projectmallard.org) that the pages of help/ use; the text of any other is
 * shown plain. */
#pragma once

#include <gtk/gtk.h>

/* Folder of the pages in her language, or NULL where they are not installed. */
char *app_help_folder (void);
/* Title of a page, or NULL where there is none. */
char *app_help_title (const char *folder, const char *page);
/* All its words, in one case, to be searched; NULL where there is none. */
char *app_help_words (const char *folder, const char *page);
/* A box that shows the page, or NULL. on_link gets the name of the page a link leads to. */
GtkWidget *app_help_render (const char *folder, const char *page,
                            void (*on_link) (const char *page, gpointer data),
                            gpointer data);
