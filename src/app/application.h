/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

/* No display could be opened; as EX_UNAVAILABLE of sysexits.h. */
#define APP_NO_DISPLAY 69

/* The application, not yet registered; needs gtk_init() to have worked. */
GtkApplication *app_application_new (void);

/* Runs the window with the arguments of the command line: files to open or bring in, or
 * --demo; the exit status. */
int app_run (int argc, char **argv);
