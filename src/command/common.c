/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What all commands do alike: options, reasons, files in and out. */
#include <errno.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include "command/command-private.h"
#include "file/document.h"
#include "file/safe-save.h"
#include "file/svg-in.h"

/* A document on the standard input may be as long as one on disk. */
#define LONGEST_INPUT (64 * 1024 * 1024)

static void
print_reason (const char *format, va_list args)
{
  g_autofree char *reason = g_strdup_vprintf (format, args);
  g_printerr ("bodkin: %s\n", reason);
}

int
command_fail (const char *format, ...)
{
  va_list args;
  va_start (args, format);
  print_reason (format, args);
  va_end (args);
  return COMMAND_FAILED;
}

int
command_misused (const char *name, const char *format, ...)
{
  va_list args;
  va_start (args, format);
  print_reason (format, args);
  va_end (args);
  if (name != NULL)
    g_printerr (_ ("Try “bodkin %s --help”.\n"), name);
  else
    g_printerr (_ ("Try “bodkin --help”.\n"));
  return COMMAND_FAILED;
}

gboolean
command_options (const char *name, const char *usage, const char *summary,
                 const GOptionEntry *entries, int *argc, char ***argv,
                 int *status)
{
  gboolean help = FALSE;
  const GOptionEntry own[]
      = { { "help", 'h', 0, G_OPTION_ARG_NONE, &help, N_ ("Show this"), NULL },
          { NULL } };
  g_autoptr (GOptionContext) context = g_option_context_new (usage);
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_set_summary (context, summary);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, own, GETTEXT_PACKAGE);
  g_autoptr (GError) error = NULL;
  if (!g_option_context_parse (context, argc, argv, &error))
    {
      *status = command_misused (name, "%s", error->message);
      return FALSE;
    }
  /* "--" only ends the options. */
  if (*argc > 1 && g_str_equal ((*argv)[1], "--"))
    {
      memmove (&(*argv)[1], &(*argv)[2], (gsize)(*argc - 1) * sizeof (char *));
      (*argc)--;
    }
  if (!help)
    return TRUE;
  g_autofree char *program = g_strdup_printf ("bodkin %s", name);
  g_set_prgname (program); /* what the help begins its usage with */
  g_autofree char *text = g_option_context_get_help (context, TRUE, NULL);
  g_print ("%s", text);
  *status = COMMAND_DONE;
  return FALSE;
}

gboolean
command_has_ending (const char *path, const char *ending)
{
  gsize n = strlen (path), m = strlen (ending);
  return n >= m && g_ascii_strcasecmp (path + n - m, ending) == 0;
}

static Pattern *
load_standard_input (GError **error)
{
  g_autoptr (GString) text = g_string_new (NULL);
  char part[1 << 16];
  gsize n;
  while ((n = fread (part, 1, sizeof part, stdin)) > 0
         && text->len <= LONGEST_INPUT)
    g_string_append_len (text, part, (gssize)n);
  if (ferror (stdin))
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_READ,
                   _ ("the standard input could not be read: %s"),
                   g_strerror (errno));
      return NULL;
    }
  return file_document_parse (text->str, text->len, _ ("standard input"),
                              error);
}

Pattern *
command_load (const char *path, double allowance, GError **error)
{
  if (g_str_equal (path, "-"))
    return load_standard_input (error);
  if (!command_has_ending (path, ".svg"))
    {
      Pattern *pattern = file_document_load (path, error);
      g_autofree char *missing
          = pattern != NULL ? file_document_missing (pattern) : NULL;
      if (missing != NULL)
        g_printerr ("bodkin: %s\n", missing);
      return pattern;
    }
  FileSvgOptions options = file_svg_options_default ();
  if (allowance >= 0)
    options.allowance = allowance;
  return file_svg_load (path, &options, error);
}

int
command_write (const char *path, const char *content)
{
  gsize length = strlen (content);
  if (path != NULL && !g_str_equal (path, "-"))
    {
      g_autoptr (GError) error = NULL;
      if (file_safe_save (path, content, length, FALSE, &error))
        return COMMAND_DONE;
      return command_fail ("%s", error->message);
    }
  if (fwrite (content, 1, length, stdout) != length || fflush (stdout) != 0)
    return command_fail (_ ("the standard output could not be written: %s"),
                         g_strerror (errno));
  return COMMAND_DONE;
}
