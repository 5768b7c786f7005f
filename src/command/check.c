/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <stdio.h>

#include "command/command-private.h"
#include "file/report.h"

int
command_check (int argc, char **argv)
{
  static const GOptionEntry entries[] = { { NULL } };
  int status;
  if (!command_options (
          "check", _ ("FILE"),
          _ ("Says what is wrong with a pattern: seams that do not fit, "
             "allowances and hems\nthat differ, loose notches, and so on. FILE "
             "may be - for the standard input.\nExit status: 0 nothing found, "
             "1 something found, 2 could not be done."),
          entries, &argc, &argv, &status))
    return status;
  if (argc != 2)
    return command_misused ("check", "%s",
                            argc < 2 ? _ ("which file is to be checked?")
                                     : _ ("one file at a time can be checked"));
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) pattern = command_load (argv[1], -1, &error);
  if (pattern == NULL)
    return command_fail ("%s", error->message);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, pattern);
  g_autofree char *text = file_report_findings (pattern, findings);
  g_print ("%s", text);
  if (fflush (stdout) != 0 || ferror (stdout))
    return command_fail ("%s", _ ("the findings could not be written"));
  return sewing_checks_open (findings) > 0 ? COMMAND_FINDINGS : COMMAND_DONE;
}
