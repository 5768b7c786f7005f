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
guint driver_count_windows (void);
void driver_click (GtkWidget *root, const char *name);
/* An action of the window that takes no value. */
void driver_act (AppWindow *window, const char *action);
/* Into the field of that name, as with Enter. */
void driver_type (AppWindow *window, const char *name, const char *text);

AppWindow *driver_open (void);
AppWindow *driver_open_demo (void);
/* Without saving. */
void driver_close (AppWindow *window);

/* Of the pattern; the test fails where there is none of the name. */
const PatternPiece *driver_piece (AppSession *session, const char *name);
const PatternEdge *driver_edge (AppSession *session, const char *piece_name,
                                const char *name);
void driver_pick_edge (AppSession *session, const char *piece,
                       const char *edge);
double driver_edge_length (AppSession *session, const char *piece_name,
                           const char *name);

/* --- a real pointer and real keys -------------------------------------------------- */
/* One xdotool command; FALSE where it is not installed. */
gboolean driver_xdotool (const char *format, ...) G_GNUC_PRINTF (1, 2);
/* The active window's place on the screen, from the window manager's point of view; FALSE where
 * there is none. */
gboolean driver_window_place (int *x, int *y);
/* A point of a widget, and one of the table in mm, on the screen. */
GeoPoint driver_widget_on_screen (AppWindow *window, GtkWidget *widget,
                                  GeoPoint px);
GeoPoint driver_on_screen (AppWindow *window, GeoPoint table);
