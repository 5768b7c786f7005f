/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Runs the window with the arguments of the command line; the exit status. */
int app_run (int argc, char **argv);
