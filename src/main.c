/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <locale.h>

#include "app/application.h"
#include "command/command.h"
#include "file/picture.h"

int
main (int argc, char **argv)
{
  int status;
  if (file_picture_child (argc, argv, &status))
    return status;
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, BODKIN_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  if (command_is_one (argc, argv))
    return command_run (argc, argv);
  return app_run (argc, argv);
}
