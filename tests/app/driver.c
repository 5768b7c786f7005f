/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "driver.h"

#include <stdlib.h>
#include <string.h>

#include "app/application.h"
#include "app/canvas.h"
#include "app/field.h"
#include "file/autosave.h"

static GtkApplication *app;
static char *folder;

gboolean
driver_start (int *argc, char ***argv)
{
  g_setenv ("GTK_A11Y", "test", TRUE);
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return FALSE;
    }
  g_test_init (argc, argv, NULL);
  folder = g_dir_make_tmp ("bodkin-window-XXXXXX", NULL);
  app = app_application_new ();
  g_assert_true (g_application_register (G_APPLICATION (app), NULL, NULL));
  return TRUE;
}

int
driver_end (void)
{
  int status = g_test_run ();
  file_autosave_flush ();
  g_object_unref (app);
  return status;
}

const char *
driver_folder (void)
{
  return folder;
}

static gboolean
on_time (gpointer data)
{
  *(gboolean *)data = TRUE;
  return G_SOURCE_REMOVE;
}

void
driver_pause_ms (guint ms)
{
  gboolean over = FALSE;
  g_timeout_add (ms, on_time, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
}

static gboolean
has_name (GtkWidget *widget, const char *name)
{
  g_autofree char *other = gtk_test_accessible_check_property (
      GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name);
  return other == NULL
         || (GTK_IS_BUTTON (widget)
             && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), name)
                    == 0);
}

GtkWidget *
driver_find (GtkWidget *root, GType type, const char *name)
{
  if (g_type_is_a (G_OBJECT_TYPE (root), type)
      && (name == NULL || has_name (root, name)))
    return root;
  GtkWidget *found = NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (root);
       child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = driver_find (child, type, name);
  return found;
}

gboolean
driver_shows (GtkWidget *root, const char *text)
{
  if (GTK_IS_LABEL (root) && gtk_widget_get_mapped (root)
      && strstr (gtk_label_get_text (GTK_LABEL (root)), text) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (driver_shows (child, text))
      return TRUE;
  return FALSE;
}

GtkWindow *
driver_window (const char *title)
{
  GListModel *all = gtk_window_get_toplevels ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (all, i);
      const char *its = gtk_window_get_title (window);
      if (its != NULL && g_str_has_prefix (its, title))
        return window;
    }
  return NULL;
}

void
driver_click (GtkWidget *root, const char *name)
{
  GtkWidget *button = driver_find (root, GTK_TYPE_BUTTON, name);
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
}

AppWindow *
driver_open (void)
{
  AppWindow *window = app_window_new (app);
  gtk_window_present (GTK_WINDOW (window));
  driver_wait_until (gtk_widget_get_width (GTK_WIDGET (window)) > 0);
  return window;
}

AppWindow *
driver_open_demo (void)
{
  AppWindow *window = driver_open ();
  app_window_open_demo (window);
  g_assert_nonnull (app_window_get_session (window));
  GtkWidget *canvas = app_window_get_canvas (window);
  driver_wait_until (gtk_widget_get_width (canvas) > 100
                     && gtk_widget_has_focus (canvas));
  return window;
}

void
driver_close (AppWindow *window)
{
  gpointer alive = window;
  g_object_add_weak_pointer (G_OBJECT (window), &alive);
  gtk_window_close (GTK_WINDOW (window));
  driver_pause_ms (20);
  GtkWindow *question = driver_window ("Save what you changed");
  if (alive != NULL && question != NULL)
    driver_click (GTK_WIDGET (question), "Close without saving");
  driver_wait_until (alive == NULL);
}

guint
driver_count_windows (void)
{
  return g_list_model_get_n_items (gtk_window_get_toplevels ());
}

void
driver_act (AppWindow *window, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (window), action, NULL);
}

const PatternPiece *
driver_piece (AppSession *session, const char *name)
{
  const Pattern *pattern = app_session_get_pattern (session);
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (g_str_equal (pattern->pieces[i]->name, name))
      return pattern->pieces[i];
  g_assert_not_reached ();
}

const PatternEdge *
driver_edge (AppSession *session, const char *piece_name, const char *name)
{
  const PatternPiece *piece = driver_piece (session, piece_name);
  for (guint i = 0; i < piece->n_edges; i++)
    if (g_str_equal (piece->edges[i].name, name))
      return &piece->edges[i];
  g_assert_not_reached ();
}

void
driver_pick_edge (AppSession *session, const char *piece, const char *edge)
{
  app_session_pick_edge (session, driver_piece (session, piece)->id,
                         driver_edge (session, piece, edge)->id);
}

double
driver_edge_length (AppSession *session, const char *piece_name,
                    const char *name)
{
  const PatternPiece *piece = driver_piece (session, piece_name);
  int i = pattern_piece_find_edge (piece,
                                   driver_edge (session, piece_name, name)->id);
  return sewing_facts_piece (app_session_get_facts (session), piece)
      ->lengths[i];
}

void
driver_type (AppWindow *window, const char *name, const char *text)
{
  GtkWidget *field = driver_find (GTK_WIDGET (window), APP_TYPE_FIELD, name);
  g_assert_nonnull (field);
  gtk_editable_set_text (GTK_EDITABLE (app_field_get_entry (APP_FIELD (field))),
                         text);
  app_field_take (APP_FIELD (field));
}

/* --- a real pointer and real keys -------------------------------------------------- */

gboolean
driver_xdotool (const char *format, ...)
{
  va_list args;
  va_start (args, format);
  g_autofree char *words = g_strdup_vprintf (format, args);
  va_end (args);
  g_autofree char *line = g_strdup_printf ("xdotool %s", words);
  g_auto (GStrv) argv = NULL;
  g_assert_true (g_shell_parse_argv (line, NULL, &argv, NULL));
  GPid pid;
  if (!g_spawn_async (NULL, argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &pid,
                      NULL))
    return FALSE;
  driver_pause_ms (120);
  return TRUE;
}

gboolean
driver_window_place (int *x, int *y)
{
  g_autofree char *out = NULL;
  if (!g_spawn_command_line_sync (
          "xdotool getactivewindow getwindowgeometry --shell", &out, NULL, NULL,
          NULL))
    return FALSE;
  const char *at_x = strstr (out, "X="), *at_y = strstr (out, "Y=");
  if (at_x == NULL || at_y == NULL)
    return FALSE;
  *x = atoi (at_x + 2);
  *y = atoi (at_y + 2);
  return TRUE;
}

GeoPoint
driver_widget_on_screen (AppWindow *window, GtkWidget *widget, GeoPoint px)
{
  graphene_point_t at = GRAPHENE_POINT_INIT ((float)px.x, (float)px.y);
  graphene_point_t in_window;
  g_assert_true (
      gtk_widget_compute_point (widget, GTK_WIDGET (window), &at, &in_window));
  double dx, dy;
  gtk_native_get_surface_transform (GTK_NATIVE (window), &dx, &dy);
  int x = 0, y = 0;
  g_assert_true (driver_window_place (&x, &y));
  return geo_point (x + dx + in_window.x, y + dy + in_window.y);
}

GeoPoint
driver_on_screen (AppWindow *window, GeoPoint table)
{
  GtkWidget *canvas = app_window_get_canvas (window);
  return driver_widget_on_screen (
      window, canvas, app_canvas_to_px (APP_CANVAS (canvas), table));
}
