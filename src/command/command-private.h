/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files of this folder only. */
#pragma once

#include "pattern/pattern.h"

#define COMMAND_DONE 0
#define COMMAND_FINDINGS 1
#define COMMAND_FAILED 2

/* Each takes the arguments after its own name and gives the exit status. */
int command_check (int argc, char **argv);
int command_report (int argc, char **argv);
int command_convert (int argc, char **argv);
int command_draft (int argc, char **argv);
int command_trace (int argc, char **argv);
int command_walk (int argc, char **argv);

/* Reads options; help asked for is printed. TRUE to go on; else status is what to
 * exit with. name: of the command. Arguments left are argv[1] on. */
gboolean command_options (const char *name, const char *usage,
                          const char *summary, const GOptionEntry *entries,
                          int *argc, char ***argv, int *status);
/* Writes "bodkin: ..." to the standard error; the status for failure. */
int command_fail (const char *format, ...) G_GNUC_PRINTF (1, 2);
/* The same, with where to find help on the command. */
int command_misused (const char *name, const char *format, ...)
    G_GNUC_PRINTF (2, 3);
/* A pattern from a document, an SVG file by its ending, or a document on the
 * standard input for "-". */
Pattern *command_load (const char *path, double allowance, GError **error);
/* Bytes to the standard output, or to the file; the status. */
int command_write (const char *path, const char *content);
/* "a.SVG" and ".svg". */
gboolean command_has_ending (const char *path, const char *ending);
