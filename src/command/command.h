/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bodkin check | report | convert ... in a terminal. No display needed. */
#pragma once

#include <glib.h>

/* TRUE where argv asks for a command (or --help, --version) rather than the window. */
gboolean command_is_one (int argc, char **argv);
/* Exit status: 0 done, 1 findings, 2 could not be done. */
int command_run (int argc, char **argv);
