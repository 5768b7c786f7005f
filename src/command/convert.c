/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <stdlib.h>

#include "command/command-private.h"
#include "file/document.h"
#include "file/sheets.h"
#include "file/svg-out.h"

#define WIDEST_ALLOWANCE 200.0

typedef struct
{
  char *paper;
  char *allowance;
  gboolean landscape;
  gboolean no_clips;
} Options;

static char *
paper_names (void)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  for (const FilePaper *paper = file_papers (); paper->name != NULL; paper++)
    g_ptr_array_add (names, (gpointer)paper->name);
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **)names->pdata);
}

static int
save_sheets (const Pattern *pattern, const Options *options, const char *path)
{
  const char *name = options->paper != NULL ? options->paper : "A4";
  const FilePaper *paper = file_paper_find (name);
  if (paper == NULL)
    {
      g_autofree char *names = paper_names ();
      return command_misused (
          "convert", _ ("there is no paper “%s”: it can be %s"), name, names);
    }
  FileSheetOptions sheet = file_sheet_options_default (paper);
  sheet.landscape = options->landscape;
  sheet.clips = !options->no_clips;
  g_autoptr (GError) error = NULL;
  g_autoptr (FileSheets) sheets = file_sheets_plan (pattern, &sheet, &error);
  if (sheets == NULL
      || !file_sheets_save_pdf (sheets, path, NULL, NULL, &error))
    return command_fail ("%s", error->message);
  return COMMAND_DONE;
}

static int
save (const Pattern *pattern, const Options *options, const char *path)
{
  g_autoptr (GError) error = NULL;
  gboolean saved;
  if (command_has_ending (path, ".pdf"))
    return save_sheets (pattern, options, path);
  if (command_has_ending (path, ".svg"))
    saved = file_svg_save (pattern, path, &error);
  else
    saved = file_document_save (pattern, path, &error);
  return saved ? COMMAND_DONE : command_fail ("%s", error->message);
}

/* Both names lead to one file; writing it would put the result over what it
 * was made from. */
static gboolean
same_file (const char *in, const char *out)
{
  char *x = realpath (in, NULL), *y = realpath (out, NULL);
  gboolean same = x != NULL && y != NULL && g_str_equal (x, y);
  free (x);
  free (y);
  return same;
}

/* What can be told before anything is read; 0 where nothing is amiss. */
static int
look_over (const Options *options, const char *in, const char *out)
{
  gboolean pdf = command_has_ending (out, ".pdf");
  if (!pdf && !command_has_ending (out, ".svg")
      && !command_has_ending (out, FILE_DOCUMENT_SUFFIX))
    return command_misused ("convert",
                            _ ("“%s” should end in .bodkin, .svg or .pdf, "
                               "which says what to make of it"),
                            out);
  if (!pdf
      && (options->paper != NULL || options->landscape || options->no_clips))
    return command_misused (
        "convert", "%s",
        _ ("--paper, --landscape and --no-clips are for sheets (.pdf) only"));
  if (options->allowance != NULL && !command_has_ending (in, ".svg"))
    return command_misused ("convert", "%s",
                            _ ("--allowance is for outlines from .svg only; a "
                               "pattern has its own"));
  if (same_file (in, out))
    return command_fail (_ ("“%s” is both what is read and what would be "
                            "written; give another name"),
                         out);
  return COMMAND_DONE;
}

static int
convert (const Options *options, const char *in, const char *out)
{
  int amiss = look_over (options, in, out);
  if (amiss != COMMAND_DONE)
    return amiss;
  g_autoptr (GError) error = NULL;
  double allowance = -1;
  if (options->allowance != NULL)
    {
      if (!pattern_length_parse (options->allowance, PATTERN_MM, &allowance,
                                 &error))
        return command_misused ("convert", "%s", error->message);
      if (allowance < 0 || allowance > WIDEST_ALLOWANCE)
        return command_misused ("convert",
                                _ ("an allowance can be 0 to 20 cm, not “%s”"),
                                options->allowance);
    }
  g_autoptr (Pattern) pattern = command_load (in, allowance, &error);
  if (pattern == NULL)
    return command_fail ("%s", error->message);
  return save (pattern, options, out);
}

int
command_convert (int argc, char **argv)
{
  Options options = { 0 };
  const GOptionEntry entries[] = {
    { "paper", 'p', 0, G_OPTION_ARG_STRING, &options.paper,
      N_ ("Sheets to print on: A4 (the default), A3, letter, A0, roll-24, "
          "roll-36"),
      N_ ("PAPER") },
    { "landscape", 0, 0, G_OPTION_ARG_NONE, &options.landscape,
      N_ ("Sheets on their side"), NULL },
    { "no-clips", 0, 0, G_OPTION_ARG_NONE, &options.no_clips,
      N_ ("Leave clip marks off the sheets"), NULL },
    { "allowance", 'a', 0, G_OPTION_ARG_STRING, &options.allowance,
      N_ ("Allowance of outlines taken from SVG, such as 15mm or 5/8in (10 mm "
          "without)"),
      N_ ("LENGTH") },
    { NULL }
  };
  int status;
  if (command_options (
          "convert", _ ("IN OUT"),
          _ ("Makes another kind of file of a pattern, by the ending of OUT: "
             ".bodkin a pattern,\n.svg true-scale outlines, .pdf sheets to "
             "print at full size. IN is a pattern, - for\na pattern on the "
             "standard input, or an .svg file whose outlines become pieces.\n"
             "Print sheets at 100 %, then measure the 100 mm square before "
             "cutting."),
          entries, &argc, &argv, &status))
    status = argc == 3
                 ? convert (&options, argv[1], argv[2])
                 : command_misused ("convert", "%s",
                                    argc < 3
                                        ? _ ("what is to be read, and what is "
                                             "to be written?")
                                        : _ ("one file is read and one is "
                                             "written, no more"));
  g_free (options.paper);
  g_free (options.allowance);
  return status;
}
