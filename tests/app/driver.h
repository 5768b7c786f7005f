/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window in a test: waiting for it, finding what is in it, pressing its buttons. */
#pragma once

#include <gtk/gtk.h>

#include "app/window.h"

/* Starts the program in a folder of scratch for its files; FALSE, having said that all is
 * skipped, where there is no display. */
gboolean driver_start (int *argc, char ***argv);
/* Runs the tests. */
int driver_end (void);
const char *driver_folder (void);

void driver_pause_ms (guint ms);
#define driver_wait_until(condition)                                           \
  G_STMT_START                                                                 \
  {                                                                            \
    for (int wait_ = 0; wait_ < 500 && !(condition); wait_++)                  \
      driver_pause_ms (20);                                                    \
    g_assert_true (condition);                                                 \
  }                                                                            \
  G_STMT_END

/* The first of the type with that name or label; name NULL: any; NULL where there is none. */
GtkWidget *driver_find (GtkWidget *root, GType type, const char *name);
gboolean driver_shows (GtkWidget *root, const char *text);
/* Whose title begins so; NULL where there is none. */
GtkWindow *driver_window (const char *title);
void driver_click (GtkWidget *root, const char *name);

AppWindow *driver_open (void);
AppWindow *driver_open_demo (void);
/* Without saving. */
void driver_close (AppWindow *window);
