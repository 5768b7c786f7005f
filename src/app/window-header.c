/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's header: panels, title, undo and redo, pins, print, menu. */
#include <glib/gi18n.h>

#include "app/draft-popover.h"
#include "app/fittings-popover.h"
#include "app/history-popover.h"
#include "app/recent.h"
#include "app/tracing.h"
#include "app/ui.h"
#include "app/window-private.h"

#define MOST_RECENT 8

/* --- the menu -------------------------------------------------------------------------- */

static void
append (GMenu *menu, const char *label, const char *action, const char *accel)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (label, action);
  if (accel != NULL)
    g_menu_item_set_attribute (item, "accel", "s", accel);
  g_menu_append_item (menu, item);
}

static void
append_section (GMenu *menu, GMenu *section)
{
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
  g_object_unref (section);
}

static void
fill_recent (AppWindow *window)
{
  g_menu_remove_all (window->recent);
  g_autoptr (GPtrArray) list = app_recent_list (MOST_RECENT, TRUE);
  for (guint i = 0; i < list->len; i++)
    {
      const AppRecent *recent = g_ptr_array_index (list, i);
      /* An underscore in a name is no mnemonic. */
      g_auto (GStrv) parts = g_strsplit (recent->name, "_", -1);
      g_autofree char *label = g_strjoinv ("__", parts);
      g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);
      g_menu_item_set_action_and_target (item, "win.open-path", "^ay",
                                         recent->path);
      g_menu_append_item (window->recent, item);
    }
}

static GMenu *
make_view_menu (void)
{
  GMenu *menu = g_menu_new ();
  GMenu *zoom = g_menu_new ();
  append (zoom, _ ("_Larger"), "win.zoom-in", "<Control>plus");
  append (zoom, _ ("_Smaller"), "win.zoom-out", "<Control>minus");
  append (zoom, _ ("_All of it"), "win.zoom-fit", "<Control>0");
  append (zoom, _ ("Actual si_ze"), "win.zoom-actual", "<Control>1");
  append (zoom, _ ("What is _picked"), "win.zoom-pick", "<Control>2");
  append_section (menu, zoom);
  GMenu *panels = g_menu_new ();
  append (panels, _ ("Pi_eces"), "win.show-pieces", "F9");
  append (panels, _ ("Se_ttings of what is picked"), "win.show-pick",
          "<Shift>F9");
  append (panels, _ ("Seam st_rip"), "win.show-strip", "<Control>F9");
  append (panels, _ ("_Clip marks on every piece"), "win.show-clips", NULL);
  append (panels, _ ("C_urvature of what is picked"), "win.show-combs", NULL);
  append_section (menu, panels);
  GMenu *unit = app_window_unit_menu ();
  g_menu_append_section (menu, _ ("Unit of this pattern"), G_MENU_MODEL (unit));
  g_object_unref (unit);
  return menu;
}

static GMenu *
make_file_menu (AppWindow *window)
{
  GMenu *file = g_menu_new ();
  append (file, _ ("_New"), "win.new", "<Control>n");
  append (file, _ ("_Open…"), "win.open", "<Control>o");
  window->recent = g_menu_new ();
  g_menu_append_submenu (file, _ ("Opened _last"),
                         G_MENU_MODEL (window->recent));
  append (file, _ ("_Bring in a drawing…"), "win.import-svg", "<Control>i");
  append (file, _ ("_Trace a picture…"), "win.trace", "<Control>t");
  return file;
}

static GMenu *
make_menu (AppWindow *window)
{
  GMenu *menu = g_menu_new ();
  append_section (menu, make_file_menu (window));
  GMenu *save = g_menu_new ();
  append (save, _ ("_Save"), "win.save", "<Control>s");
  append (save, _ ("Save _as…"), "win.save-as", "<Shift><Control>s");
  append (save, _ ("Save as S_VG…"), "win.export-svg", NULL);
  append (save, _ ("Save a _report…"), "win.export-report", NULL);
  append (save, _ ("_Print…"), "win.print", "<Control>p");
  append_section (menu, save);
  GMenu *edit = g_menu_new ();
  append (edit, _ ("Cu_t"), "win.cut", "<Control>x");
  append (edit, _ ("_Copy"), "win.copy", "<Control>c");
  append (edit, _ ("Pas_te"), "win.paste", "<Control>v");
  append (edit, _ ("Pick _all pieces"), "win.select-all", "<Control>a");
  append (edit, _ ("_Draft by amounts…"), "win.draft-list", NULL);
  GMenu *more = g_menu_new ();
  g_menu_append_submenu (more, _ ("_Edit"), G_MENU_MODEL (edit));
  g_object_unref (edit);
  GMenu *view = make_view_menu ();
  g_menu_append_submenu (more, _ ("_View"), G_MENU_MODEL (view));
  g_object_unref (view);
  append_section (menu, more);
  GMenu *help = g_menu_new ();
  append (help, _ ("P_references"), "win.preferences", "<Control>comma");
  append (help, _ ("All _keys"), "win.shortcuts", "<Control>question");
  append (help, _ ("_Help"), "win.help", "F1");
  append (help, _ ("A_bout Bodkin"), "win.about", NULL);
  append_section (menu, help);
  return menu;
}

/* --- the bar ------------------------------------------------------------------------------ */

static void
make_title (AppWindow *window)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  window->title = gtk_label_new (_ ("Bodkin"));
  gtk_widget_add_css_class (window->title, "title");
  gtk_label_set_ellipsize (GTK_LABEL (window->title), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_width_chars (GTK_LABEL (window->title), 8);
  window->subtitle = gtk_label_new ("");
  gtk_widget_add_css_class (window->subtitle, "subtitle");
  gtk_label_set_ellipsize (GTK_LABEL (window->subtitle),
                           PANGO_ELLIPSIZE_MIDDLE);
  gtk_widget_set_visible (window->subtitle, FALSE);
  gtk_box_append (GTK_BOX (box), window->title);
  gtk_box_append (GTK_BOX (box), window->subtitle);
  gtk_header_bar_set_title_widget (GTK_HEADER_BAR (window->header), box);
}

void
app_window_make_header (AppWindow *window)
{
  window->header = gtk_header_bar_new ();
  GtkHeaderBar *bar = GTK_HEADER_BAR (window->header);
  make_title (window);
  window->left_end = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  gtk_header_bar_pack_start (bar, window->left_end);

  window->menu = gtk_menu_button_new ();
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (window->menu),
                                 "open-menu-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (window->menu), FALSE);
  gtk_menu_button_set_primary (GTK_MENU_BUTTON (window->menu), TRUE);
  app_ui_tip (window->menu, _ ("Menu"), "F10");
  g_autoptr (GMenu) menu = make_menu (window);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (window->menu),
                                  G_MENU_MODEL (menu));
  fill_recent (window);
  g_signal_connect_object (gtk_recent_manager_get_default (), "changed",
                           G_CALLBACK (fill_recent), window, G_CONNECT_SWAPPED);
  gtk_header_bar_pack_end (bar, window->menu);
  window->right_end = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  gtk_header_bar_pack_end (bar, window->right_end);
  gtk_window_set_titlebar (GTK_WINDOW (window), window->header);
}

void
app_window_header_opened (AppWindow *window)
{
  GtkBox *left = GTK_BOX (window->left_end);
  GtkBox *right = GTK_BOX (window->right_end);
  gtk_box_append (left,
                  app_ui_icon_toggle ("bodkin-pieces-symbolic", _ ("Pieces"),
                                      "F9", "win.show-pieces"));
  window->undo = app_ui_icon_button ("edit-undo-symbolic", _ ("Undo"), "Ctrl+Z",
                                     "win.undo");
  window->redo = app_ui_icon_button ("edit-redo-symbolic", _ ("Redo"),
                                     "Shift+Ctrl+Z", "win.redo");
  gtk_widget_set_margin_start (window->undo, 10);
  gtk_box_append (left, window->undo);
  gtk_box_append (left, window->redo);
  gtk_box_append (left, app_history_button_new (window->session));
  window->draft = app_draft_button_new (window->session);
  gtk_widget_set_margin_start (window->draft, 10);
  gtk_box_append (left, window->draft);
  gtk_box_append (left, app_fittings_button_new (window->session));

  GtkWidget *checks = app_checks_button_new (window->session);
  window->checks = APP_CHECKS_BUTTON (checks);
  gtk_widget_set_margin_end (checks, 10);
  gtk_box_append (right, checks);
  gtk_box_append (right, app_ui_icon_button ("document-print-symbolic",
                                             _ ("Print at full size"), "Ctrl+P",
                                             "win.print"));
  gtk_box_append (right, app_ui_icon_toggle ("bodkin-settings-symbolic",
                                             _ ("Settings of what is picked"),
                                             "Shift+F9", "win.show-pick"));
}

static void
tip_with_label (GtkWidget *button, const char *verb, const char *label,
                const char *key)
{
  g_autofree char *tip = label != NULL ? g_strdup_printf ("%s: %s", verb, label)
                                       : g_strdup (verb);
  app_ui_tip (button, tip, key);
}

static const char *
words_state (const AppWindow *window, gboolean has_file, gboolean saved)
{
  if (saved)
    return has_file ? _ ("saved") : _ ("not saved as a file yet");
  if (window->not_kept)
    return has_file ? _ ("changed, not kept safe")
                    : _ ("not saved yet, not kept safe");
  return has_file ? _ ("changed, kept safe") : _ ("not saved yet, kept safe");
}

void
app_window_header_rest (AppWindow *window, gboolean rest)
{
  for (GtkWidget *child = gtk_widget_get_first_child (window->left_end);
       child != NULL; child = gtk_widget_get_next_sibling (child))
    if (child != window->undo && child != window->redo)
      gtk_widget_set_visible (child, !rest);
  gtk_widget_set_visible (window->right_end, !rest);
}

void
app_window_header_update (AppWindow *window)
{
  AppSession *s = window->session;
  const PatternHistory *history = app_session_get_history (s);
  g_autofree char *title = app_session_dup_title (s);
  const char *path = app_session_get_path (s);
  g_autofree char *file
      = path != NULL ? g_filename_display_basename (path) : NULL;
  gboolean saved = app_session_is_saved (s);
  const char *state = words_state (window, path != NULL, saved);
  g_autofree char *subtitle = file != NULL
                                  ? g_strdup_printf ("%s · %s", file, state)
                                  : g_strdup (state);
  app_ui_set_text (window->title, title);
  app_ui_set_text (window->subtitle, subtitle);
  gtk_widget_set_visible (window->subtitle, TRUE);
  g_autofree char *whole
      = g_strdup_printf (_ ("%s%s – Bodkin"), saved ? "" : "• ", title);
  gtk_window_set_title (GTK_WINDOW (window), whole);

  AppTracing *tracing = app_tracing_get (s);
  const char *undo = pattern_history_get_undo_label (history);
  const char *redo = pattern_history_get_redo_label (history);
  if (tracing != NULL)
    undo = redo = NULL;
  app_window_enable (window, "undo",
                     tracing != NULL ? app_tracing_can_undo (tracing)
                                     : undo != NULL);
  app_window_enable (window, "redo",
                     tracing != NULL ? app_tracing_can_redo (tracing)
                                     : redo != NULL);
  tip_with_label (window->undo, _ ("Undo"), undo, "Ctrl+Z");
  tip_with_label (window->redo, _ ("Redo"), redo, "Shift+Ctrl+Z");
}
