/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/application.h"

#include <glib/gi18n.h>
#include <gtk/gtk.h>

#include "app/ask.h"
#include "app/scheme.h"
#include "app/window.h"
#include "file/autosave.h"

/* Made from data/bodkin.gresource.xml. Named here, since nothing else of a static
 * library would be linked in for it. */
GResource *bodkin_get_resource (void);

static const struct
{
  const char *action;
  const char *accels[3];
} accels[] = {
  { "win.new", { "<Control>n" } },
  { "win.open", { "<Control>o" } },
  { "win.import-svg", { "<Control>i" } },
  { "win.trace", { "<Control>t" } },
  { "win.save", { "<Control>s" } },
  { "win.save-as", { "<Control><Shift>s" } },
  { "win.print", { "<Control>p" } },
  { "win.close", { "<Control>w" } },
  { "app.quit", { "<Control>q" } },
  { "win.help", { "F1" } },
  { "win.shortcuts", { "<Control>question", "<Control><Shift>question" } },
  { "win.preferences", { "<Control>comma" } },
  { "win.pins", { "F8" } },
  { "win.show-pieces", { "F9" } },
  { "win.show-pick", { "<Shift>F9" } },
  { "win.show-strip", { "<Control>F9" } },
  { "win.zoom-in", { "<Control>plus", "<Control>equal" } },
  { "win.zoom-out", { "<Control>minus" } },
  { "win.zoom-fit", { "<Control>0" } },
  { "win.zoom-actual", { "<Control>1" } },
  { "win.zoom-pick", { "<Control>2" } },
};

static void
on_quit (GSimpleAction *action, GVariant *value, gpointer data)
{
  (void)action;
  (void)value;
  /* Each window asks for itself; a copy, since closing changes the list. */
  g_autoptr (GList) windows
      = g_list_copy (gtk_application_get_windows (GTK_APPLICATION (data)));
  for (GList *l = windows; l != NULL; l = l->next)
    if (APP_IS_WINDOW (l->data))
      gtk_window_close (l->data);
}

static void
on_kept (const char *slot, gboolean kept, gpointer data)
{
  for (GList *l = gtk_application_get_windows (data); l != NULL; l = l->next)
    if (APP_IS_WINDOW (l->data))
      app_window_kept (l->data, slot, kept);
}

static void
on_shutdown (void)
{
  file_autosave_watch (NULL, NULL);
}

static void
on_startup (GtkApplication *app)
{
  static const GActionEntry entries[]
      = { { .name = "quit", .activate = on_quit } };
  g_action_map_add_action_entries (G_ACTION_MAP (app), entries,
                                   G_N_ELEMENTS (entries), app);
  for (guint i = 0; i < G_N_ELEMENTS (accels); i++)
    gtk_application_set_accels_for_action (app, accels[i].action,
                                           accels[i].accels);
  app_scheme_start (app);
  file_autosave_watch (on_kept, app);
}

static AppWindow *
new_window (GApplication *app)
{
  AppWindow *window = app_window_new (GTK_APPLICATION (app));
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static void
on_activate (GApplication *app)
{
  new_window (app);
}

static void
open_files (GApplication *app, GFile **files, int n)
{
  for (int i = 0; i < n; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);
      AppWindow *window = new_window (app);
      if (path != NULL)
        app_window_open_path (window, path);
      else
        app_tell_far (GTK_WINDOW (window));
    }
}

static void
on_open (GApplication *app, GFile **files, int n, const char *hint)
{
  (void)hint;
  open_files (app, files, n);
}

static int
on_command_line (GApplication *app, GApplicationCommandLine *line)
{
  GVariantDict *options = g_application_command_line_get_options_dict (line);
  gboolean demo = FALSE;
  g_autofree char **names = NULL;
  g_variant_dict_lookup (options, "demo", "b", &demo);
  g_variant_dict_lookup (options, G_OPTION_REMAINING, "^a&ay", &names);
  if (demo)
    app_window_open_demo (new_window (app));
  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    {
      g_autoptr (GFile) file
          = g_application_command_line_create_file_for_arg (line, names[i]);
      open_files (app, &file, 1);
    }
  if (!demo && (names == NULL || names[0] == NULL))
    g_application_activate (app);
  return 0;
}

GtkApplication *
app_application_new (void)
{
  static const GOptionEntry entries[]
      = { { "demo", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("Open the demo"), NULL },
          { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, NULL, NULL,
            N_ ("[FILE…]") },
          { NULL } };
  g_resources_register (bodkin_get_resource ());
  gtk_window_set_default_icon_name ("page.bodkin.bodkin");
  GtkApplication *app = gtk_application_new (
      "page.bodkin.bodkin",
      G_APPLICATION_HANDLES_OPEN | G_APPLICATION_HANDLES_COMMAND_LINE);
  g_application_add_main_option_entries (G_APPLICATION (app), entries);
  g_signal_connect (app, "startup", G_CALLBACK (on_startup), NULL);
  g_signal_connect (app, "shutdown", G_CALLBACK (on_shutdown), NULL);
  g_signal_connect (app, "activate", G_CALLBACK (on_activate), NULL);
  g_signal_connect (app, "open", G_CALLBACK (on_open), NULL);
  g_signal_connect (app, "command-line", G_CALLBACK (on_command_line), NULL);
  return app;
}

int
app_run (int argc, char **argv)
{
  if (!gtk_init_check ())
    {
      g_printerr ("%s\n", _ ("There is no display to open a window on. "
                             "“bodkin --help” tells what can be done in a "
                             "terminal."));
      return APP_NO_DISPLAY;
    }
  g_set_application_name (_ ("Bodkin"));
  g_autoptr (GtkApplication) app = app_application_new ();
  int status = g_application_run (G_APPLICATION (app), argc, argv);
  file_autosave_flush ();
  return status;
}
