/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/command.h"

#include <glib/gi18n.h>
#include <string.h>

#include "command/command-private.h"

typedef struct
{
  const char *name;
  int (*run) (int argc, char **argv);
} Command;

static const Command commands[] = {
  { "check", command_check },     { "report", command_report },
  { "convert", command_convert }, { "walk", command_walk },
  { "draft", command_draft },     { "trace", command_trace },
};

/* What the window takes for itself. */
static const char *const window_options[]
    = { "--demo", "--gapplication-", NULL };

static const Command *
find_command (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    if (g_str_equal (commands[i].name, name))
      return &commands[i];
  return NULL;
}

static gboolean
is_window_option (const char *word)
{
  if (g_str_equal (word, "--"))
    return TRUE;
  for (guint i = 0; window_options[i] != NULL; i++)
    if (g_str_has_prefix (word, window_options[i]))
      return TRUE;
  return FALSE;
}

/* A bare word that is no file: somebody meant a command. */
static gboolean
looks_like_command (const char *word)
{
  if (*word == '\0')
    return FALSE;
  for (const char *c = word; *c != '\0'; c++)
    if (!g_ascii_islower (*c))
      return FALSE;
  return !g_file_test (word, G_FILE_TEST_EXISTS);
}

gboolean
command_is_one (int argc, char **argv)
{
  if (argc < 2)
    return FALSE;
  const char *word = argv[1];
  if (find_command (word) != NULL || g_str_equal (word, "help"))
    return TRUE;
  if (*word == '-')
    return !is_window_option (word);
  return looks_like_command (word);
}

static int
print_help (void)
{
  g_print (
      "%s",
      _ ("Usage:\n"
         "  bodkin [FILE...]                 open the window\n"
         "  bodkin --demo                    open it on the demo, the ferry "
         "cape\n"
         "  bodkin check FILE                what is wrong with a pattern\n"
         "  bodkin report FILE               its figures: pieces, seams, "
         "clips, cutting list\n"
         "  bodkin convert IN OUT            to another kind of file, or "
         "to print sheets\n"
         "  bodkin walk FILE SEAM            one seam, stretch by "
         "stretch, and its picture\n"
         "  bodkin draft FILE VERB KEY=VALUE...\n"
         "                                   a change of the draft, by "
         "amounts\n"
         "  bodkin trace IMAGE --scale SCALE -o FILE\n"
         "                                   pieces from a photo or scan, at "
         "true size\n"
         "  bodkin COMMAND --help            more on a command\n"
         "  bodkin --version                 which Bodkin this is\n"
         "\n"
         "FILE is a Bodkin pattern, or an SVG file to take outlines "
         "from.\n"
         "Exit status: 0 done, 1 check found something, 2 could not be "
         "done.\n"));
  return COMMAND_DONE;
}

static int
help_on (const char *name)
{
  const Command *command = find_command (name);
  if (command == NULL)
    return command_misused (NULL, _ ("there is no command “%s”"), name);
  /* Reading options takes words out of the array, so it owns none. */
  g_autofree char *own_name = g_strdup (name);
  char asked[] = "--help";
  char *words[] = { own_name, asked, NULL };
  return command->run (2, words);
}

int
command_run (int argc, char **argv)
{
  g_return_val_if_fail (argc >= 1, COMMAND_FAILED);
  const char *word = argc > 1 ? argv[1] : "--help";
  const Command *command = find_command (word);
  if (command != NULL)
    return command->run (argc - 1, argv + 1);
  if (g_str_equal (word, "help") && argc > 2)
    return help_on (argv[2]);
  if (g_str_equal (word, "--help") || g_str_equal (word, "-h")
      || g_str_equal (word, "help"))
    return print_help ();
  if (g_str_equal (word, "--version"))
    {
      g_print ("bodkin %s\n", BODKIN_VERSION);
      return COMMAND_DONE;
    }
  if (*word == '-')
    return command_misused (NULL, _ ("there is no option “%s”"), word);
  return command_misused (
      NULL, _ ("there is no command “%s”, and no such file"), word);
}
