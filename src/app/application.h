/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* No display could be opened; as EX_UNAVAILABLE of sysexits.h. */
#define APP_NO_DISPLAY 69

/* Runs the window with the arguments of the command line: files to open or bring in, or
 * --demo; the exit status. */
int app_run (int argc, char **argv);
