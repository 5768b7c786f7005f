/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/ask.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/ui.h"
#include "file/document.h"

/* --- questions ------------------------------------------------------------------- */

typedef struct
{
  GtkWidget *window;
  GtkWindow *parent; /* data may live no longer than it */
  AppAnswer answer;
  gpointer data;
  int given;
} Ask;

static void
ask_free (gpointer data)
{
  Ask *ask = data;
  g_clear_object (&ask->parent);
  g_free (ask);
}

static void
on_button (GtkButton *button, Ask *ask)
{
  ask->given = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "index"));
  gtk_window_close (GTK_WINDOW (ask->window));
}

static gboolean
answer_idle (gpointer data)
{
  Ask *ask = data;
  if (ask->answer != NULL)
    ask->answer (ask->given, ask->data);
  return G_SOURCE_REMOVE;
}

/* The window is gone before the answer is acted on. Where it goes with its parent
 * instead, nobody is left to be answered. */
static gboolean
on_close (Ask *ask)
{
  g_object_steal_data (G_OBJECT (ask->window), "ask");
  ask->window = NULL;
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, answer_idle, ask, ask_free);
  return FALSE;
}

static GtkWidget *
make_buttons (Ask *ask, const char *const *buttons, int harm)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_widget_set_halign (line, GTK_ALIGN_END);
  int n = (int)g_strv_length ((char **)buttons);
  for (int i = 0; i < n; i++)
    {
      GtkWidget *button = gtk_button_new_with_label (buttons[i]);
      g_object_set_data (G_OBJECT (button), "index", GINT_TO_POINTER (i));
      g_signal_connect (button, "clicked", G_CALLBACK (on_button), ask);
      if (i == harm)
        gtk_widget_add_css_class (button, "destructive");
      gtk_box_append (GTK_BOX (line), button);
      if (i != n - 1)
        continue;
      gtk_widget_add_css_class (button, "suggested-action");
      gtk_window_set_default_widget (GTK_WINDOW (ask->window), button);
    }
  return line;
}

void
app_ask (GtkWindow *parent, const char *question, const char *more,
         const char *const *buttons, int harm, AppAnswer answer, gpointer data)
{
  Ask *ask = g_new0 (Ask, 1);
  ask->answer = answer;
  ask->data = data;
  ask->given = -1;
  ask->parent = g_object_ref (parent);
  ask->window = gtk_window_new ();
  GtkWindow *window = GTK_WINDOW (ask->window);
  g_object_set_data_full (G_OBJECT (window), "ask", ask, ask_free);
  gtk_window_set_title (window, question);
  gtk_window_set_modal (window, TRUE);
  gtk_window_set_resizable (window, FALSE);
  gtk_window_set_transient_for (window, parent);
  gtk_window_set_destroy_with_parent (window, TRUE);
  gtk_widget_add_css_class (ask->window, "ask");
  GtkWidget *bar = gtk_header_bar_new ();
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (bar), gtk_label_new (NULL));
  gtk_widget_add_css_class (bar, "flat");
  gtk_window_set_titlebar (window, bar);

  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class (box, "ask-box");
  GtkWidget *head = app_ui_paragraph (question, "ask-question");
  gtk_label_set_max_width_chars (GTK_LABEL (head), 48);
  gtk_box_append (GTK_BOX (box), head);
  GtkWidget *body = app_ui_paragraph (more, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (body), 52);
  gtk_box_append (GTK_BOX (box), body);
  gtk_box_append (GTK_BOX (box), make_buttons (ask, buttons, harm));
  gtk_window_set_child (window, box);
  app_ui_close_on_escape (window);
  g_signal_connect_swapped (window, "close-request", G_CALLBACK (on_close),
                            ask);
  gtk_window_present (window);
  gtk_window_set_focus (window, gtk_window_get_default_widget (window));
}

void
app_tell (GtkWindow *parent, const char *what, const char *more)
{
  const char *const buttons[] = { _ ("Close"), NULL };
  app_ask (parent, what, more, buttons, -1, NULL, NULL);
}

void
app_tell_far (GtkWindow *parent)
{
  app_tell (parent, _ ("That place is not on this computer"),
            _ ("Bodkin reads and writes files on this computer only. Copy it "
               "to a folder here first. Nothing was changed."));
}

/* --- files ----------------------------------------------------------------------- */

typedef struct
{
  GtkFileChooserNative *native;
  GtkWindow *parent;
  AppFiles files;
  AppFileChosen chosen;
  gpointer data;
  char *path; /* waits for replacing to be agreed to */
} AskFile;

static char *last_folder; /* of this run */

static const struct
{
  const char *suffix, *mime, *words, *open, *save;
} kinds[] = {
  [APP_FILES_DOCUMENT]
  = { FILE_DOCUMENT_SUFFIX, FILE_DOCUMENT_MIME, N_ ("Bodkin patterns"),
      N_ ("Open a pattern"), N_ ("Save the pattern") },
  [APP_FILES_SVG] = { ".svg", "image/svg+xml", N_ ("SVG drawings"),
                      N_ ("Bring in a drawing"), N_ ("Save as SVG") },
  [APP_FILES_PDF] = { ".pdf", "application/pdf", N_ ("PDF sheets"),
                      N_ ("Open PDF"), N_ ("Save the sheets as PDF") },
  [APP_FILES_TEXT] = { ".txt", "text/plain", N_ ("Text"), N_ ("Open a text"),
                       N_ ("Save a report") },
  [APP_FILES_PICTURE] = { ".png", "image/png", N_ ("Photos and scans"),
                          N_ ("Trace a picture"), "" },
};

static void
ask_file_free (AskFile *ask)
{
  g_clear_object (&ask->native);
  g_free (ask->path);
  g_free (ask);
}

static void
remember_folder (const char *path)
{
  g_free (last_folder);
  last_folder = g_path_get_dirname (path);
}

static void
on_replace (int answer, gpointer data)
{
  AskFile *ask = data;
  if (answer == 1)
    ask->chosen (ask->path, ask->data);
  ask_file_free (ask);
}

/* The ending was added here, so the chooser could not ask about the file that is
 * really meant. */
static void
ask_replace (AskFile *ask)
{
  g_autofree char *name = g_filename_display_basename (ask->path);
  g_autofree char *question = g_strdup_printf (_ ("Replace “%s”?"), name);
  const char *const buttons[] = { _ ("Keep it"), _ ("Replace"), NULL };
  app_ask (ask->parent, question,
           _ ("There is a file of this name in the folder already."), buttons,
           -1, on_replace, ask);
}

/* "CAPE.BODKIN" is one too. */
static gboolean
has_ending (const char *path, const char *suffix)
{
  gsize n = strlen (path), m = strlen (suffix);
  return n >= m && g_ascii_strcasecmp (path + n - m, suffix) == 0;
}

static void
on_response (GtkNativeDialog *native, int response, AskFile *ask)
{
  g_autoptr (GFile) file = NULL;
  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native));
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  gtk_native_dialog_hide (native);
  if (path == NULL)
    {
      if (file != NULL)
        app_tell_far (ask->parent);
      ask_file_free (ask);
      return;
    }
  remember_folder (path);
  gboolean saving = gtk_file_chooser_get_action (GTK_FILE_CHOOSER (native))
                    == GTK_FILE_CHOOSER_ACTION_SAVE;
  const char *suffix = kinds[ask->files].suffix;
  if (saving && !has_ending (path, suffix))
    {
      ask->path = g_strconcat (path, suffix, NULL);
      if (g_file_test (ask->path, G_FILE_TEST_EXISTS))
        {
          ask_replace (ask);
          return;
        }
    }
  else
    ask->path = g_strdup (path);
  ask->chosen (ask->path, ask->data);
  ask_file_free (ask);
}

static void
add_filter (GtkFileChooser *chooser, AppFiles files)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  gtk_file_filter_set_name (filter, _ (kinds[files].words));
  g_autofree char *glob = g_strconcat ("*", kinds[files].suffix, NULL);
  gtk_file_filter_add_pattern (filter, glob);
  gtk_file_filter_add_mime_type (filter, kinds[files].mime);
  if (files == APP_FILES_PICTURE)
    {
      /* Whatever their names end in, capitals too. */
      gtk_file_filter_add_mime_type (filter, "image/jpeg");
      gtk_file_filter_add_mime_type (filter, "image/tiff");
      static const char *const endings[]
          = { "png", "jpg", "jpeg", "tif", "tiff" };
      for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
        gtk_file_filter_add_suffix (filter, endings[i]);
    }
  gtk_file_chooser_add_filter (chooser, filter);
  g_autoptr (GtkFileFilter) all = gtk_file_filter_new ();
  gtk_file_filter_set_name (all, _ ("All files"));
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_chooser_add_filter (chooser, all);
}

static AskFile *
ask_file (GtkWindow *parent, AppFiles files, GtkFileChooserAction action,
          const char *title, const char *accept, AppFileChosen chosen,
          gpointer data)
{
  AskFile *ask = g_new0 (AskFile, 1);
  ask->parent = parent;
  ask->files = files;
  ask->chosen = chosen;
  ask->data = data;
  ask->native
      = gtk_file_chooser_native_new (title, parent, action, accept, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (ask->native), TRUE);
  add_filter (GTK_FILE_CHOOSER (ask->native), files);
  g_signal_connect (ask->native, "response", G_CALLBACK (on_response), ask);
  return ask;
}

static void
start_in (AskFile *ask, const char *folder)
{
  if (folder == NULL)
    folder = last_folder;
  if (folder == NULL)
    return;
  g_autoptr (GFile) file = g_file_new_for_path (folder);
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (ask->native), file,
                                       NULL);
}

void
app_ask_open (GtkWindow *parent, AppFiles files, AppFileChosen chosen,
              gpointer data)
{
  AskFile *ask = ask_file (
      parent, files, GTK_FILE_CHOOSER_ACTION_OPEN, _ (kinds[files].open),
      files == APP_FILES_SVG ? _ ("_Bring in") : _ ("_Open"), chosen, data);
  start_in (ask, NULL);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (ask->native));
}

void
app_ask_save (GtkWindow *parent, AppFiles files, const char *name,
              const char *folder, AppFileChosen chosen, gpointer data)
{
  AskFile *ask = ask_file (parent, files, GTK_FILE_CHOOSER_ACTION_SAVE,
                           _ (kinds[files].save), _ ("_Save"), chosen, data);
  start_in (ask, folder);
  g_autofree char *clean = g_strdelimit (g_strdup (name), "/\\", '-');
  g_autofree char *full = g_str_has_suffix (clean, kinds[files].suffix)
                              ? g_strdup (clean)
                              : g_strconcat (clean, kinds[files].suffix, NULL);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (ask->native), full);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (ask->native));
}
