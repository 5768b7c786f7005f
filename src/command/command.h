/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bodkin check | report | convert ... in a terminal. No display needed. */
#pragma once

#include <glib.h>

/* TRUE where argv asks for a command (or --help, --version), or for something
 * that is neither a command nor a file nor an option of the window, so that
 * command_run() can say so; FALSE where the window is to open. */
gboolean command_is_one (int argc, char **argv);
/* Exit status: 0 done, 1 findings, 2 could not be done. Results go to the
 * standard output, reasons to the standard error. */
int command_run (int argc, char **argv);
