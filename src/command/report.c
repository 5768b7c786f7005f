/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "command/command-private.h"
#include "file/report.h"

static gboolean
find_format (const char *word, FileReportFormat *format)
{
  static const char *const words[] = { "text", "csv", "xml" };
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strcasecmp (word, words[i]) == 0)
      {
        *format = (FileReportFormat)i;
        return TRUE;
      }
  return FALSE;
}

int
command_report (int argc, char **argv)
{
  g_autofree char *word = NULL;
  g_autofree char *out = NULL;
  const GOptionEntry entries[]
      = { { "format", 'f', 0, G_OPTION_ARG_STRING, &word,
            N_ ("text to read (the default), csv or xml"), N_ ("FORMAT") },
          { "output", 'o', 0, G_OPTION_ARG_FILENAME, &out,
            N_ ("Write to a file instead of the standard output"),
            N_ ("FILE") },
          { NULL } };
  int status;
  if (!command_options (
          "report", _ ("FILE"),
          _ ("Gives the figures of a pattern: every piece with its area, every "
             "edge with its\nlength and tightest radius, seams stretch by "
             "stretch, clips and notches, what\nto cut, and the findings. "
             "Lengths in CSV and XML are in millimetres. FILE may\nbe - for "
             "the standard input."),
          entries, &argc, &argv, &status))
    return status;
  FileReportFormat format = FILE_REPORT_TEXT;
  if (word != NULL && !find_format (word, &format))
    return command_misused (
        "report", _ ("there is no format “%s”: it can be text, csv or xml"),
        word);
  if (argc != 2)
    return command_misused ("report", "%s",
                            argc < 2
                                ? _ ("which file is to be reported on?")
                                : _ ("one file at a time can be reported on"));
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) pattern = command_load (argv[1], -1, &error);
  if (pattern == NULL)
    return command_fail ("%s", error->message);
  g_autofree char *report = file_report (pattern, format);
  return command_write (out, report);
}
