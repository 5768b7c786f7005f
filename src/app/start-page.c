/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/start-page.h"

#include <glib/gi18n.h>

#include "app/recent.h"
#include "app/settings.h"
#include "app/ui.h"
#include "file/document.h"

#define MOST_RECENT 6

struct _AppStartPage
{
  GtkBox parent;
  GtkWidget *recover_box, *recover_list, *recent_box, *recent_list, *unit;
  GtkWidget *choice; /* the first */
  GtkWidget *newest; /* brings the newest kept copy back; NULL without */
  GPtrArray *kept;   /* FileRecovery */
};

G_DEFINE_FINAL_TYPE (AppStartPage, app_start_page, GTK_TYPE_BOX)

enum
{
  SIGNAL_RECOVER,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* --- kept from last time ------------------------------------------------------------ */

static const FileRecovery *
recovery_of (AppStartPage *page, GtkButton *button)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "index"));
  return page->kept != NULL && i < page->kept->len
             ? g_ptr_array_index (page->kept, i)
             : NULL;
}

static void
on_recover (GtkButton *button, AppStartPage *page)
{
  const FileRecovery *recovery = recovery_of (page, button);
  if (recovery != NULL)
    g_signal_emit (page, signals[SIGNAL_RECOVER], 0, recovery);
}

static void
on_forget (GtkButton *button, AppStartPage *page)
{
  const FileRecovery *recovery = recovery_of (page, button);
  if (recovery == NULL)
    return;
  file_autosave_forget (recovery);
  app_start_page_refresh (page);
}

static gboolean
same_day (GDateTime *a, GDateTime *b)
{
  return g_date_time_get_year (a) == g_date_time_get_year (b)
         && g_date_time_get_day_of_year (a) == g_date_time_get_day_of_year (b);
}

/* "today, 17:40", "yesterday, 9:05", or the date. */
static char *
words_when (gint64 when)
{
  g_autoptr (GDateTime) then = g_date_time_new_from_unix_local (when);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  if (then == NULL)
    return g_strdup ("");
  g_autoptr (GDateTime) day_before = g_date_time_add_days (now, -1);
  if (same_day (then, now))
    return g_date_time_format (then, _ ("today, %H:%M"));
  if (same_day (then, day_before))
    return g_date_time_format (then, _ ("yesterday, %H:%M"));
  return g_date_time_format (then, _ ("%e %B %Y, %H:%M"));
}

static void
add_recovery (AppStartPage *page, guint index)
{
  const FileRecovery *recovery = g_ptr_array_index (page->kept, index);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_hexpand (words, TRUE);
  g_autofree char *when = words_when (recovery->when);
  const char *name = recovery->name != NULL && recovery->name[0] != '\0'
                         ? recovery->name
                         : _ ("Untitled pattern");
  GtkWidget *title = app_ui_label (name, "piece-name");
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (words), title);
  g_autofree char *file = recovery->path != NULL
                              ? g_filename_display_basename (recovery->path)
                              : g_strdup (_ ("never saved as a file"));
  g_autofree char *more = g_strdup_printf ("%s · %s", file, when);
  GtkWidget *second = app_ui_label (more, "dim");
  gtk_label_set_ellipsize (GTK_LABEL (second), PANGO_ELLIPSIZE_MIDDLE);
  gtk_box_append (GTK_BOX (words), second);
  gtk_box_append (GTK_BOX (line), words);
  GtkWidget *forget = gtk_button_new_with_label (_ ("Let it go"));
  GtkWidget *bring = gtk_button_new_with_label (_ ("Bring it back"));
  gtk_widget_add_css_class (forget, "flat");
  if (index == 0)
    {
      gtk_widget_add_css_class (bring, "suggested-action");
      page->newest = bring;
    }
  g_object_set_data (G_OBJECT (forget), "index", GUINT_TO_POINTER (index));
  g_object_set_data (G_OBJECT (bring), "index", GUINT_TO_POINTER (index));
  g_signal_connect (forget, "clicked", G_CALLBACK (on_forget), page);
  g_signal_connect (bring, "clicked", G_CALLBACK (on_recover), page);
  gtk_widget_set_valign (forget, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (bring, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (line), forget);
  gtk_box_append (GTK_BOX (line), bring);
  gtk_box_append (GTK_BOX (page->recover_list), line);
}

static void
show_recoveries (AppStartPage *page)
{
  app_ui_clear (page->recover_list);
  page->newest = NULL;
  g_clear_pointer (&page->kept, g_ptr_array_unref);
  page->kept = file_autosave_list ();
  for (guint i = 0; page->kept != NULL && i < page->kept->len; i++)
    add_recovery (page, i);
  gtk_widget_set_visible (page->recover_box,
                          page->kept != NULL && page->kept->len > 0);
}

/* --- opened last --------------------------------------------------------------------- */

static void
add_recent (AppStartPage *page, const AppRecent *recent)
{
  g_autofree char *folder_path = g_path_get_dirname (recent->path);
  g_autofree char *folder = g_filename_display_name (folder_path);
  g_autofree char *tip = g_filename_display_name (recent->path);
  GtkWidget *button = gtk_button_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *title = app_ui_label (recent->name, NULL);
  GtkWidget *where = app_ui_label (folder, "dim");
  gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (where), PANGO_ELLIPSIZE_START);
  gtk_widget_set_hexpand (where, TRUE);
  gtk_label_set_xalign (GTK_LABEL (where), 1);
  gtk_box_append (GTK_BOX (line), title);
  gtk_box_append (GTK_BOX (line), where);
  gtk_button_set_child (GTK_BUTTON (button), line);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, tip);
  app_ui_name (button, recent->name);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "win.open-path");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "^ay",
                                    recent->path);
  if (!recent->there)
    {
      gtk_widget_set_sensitive (button, FALSE);
      gtk_label_set_text (GTK_LABEL (where), _ ("no longer there"));
    }
  gtk_box_append (GTK_BOX (page->recent_list), button);
}

static void
show_recent (AppStartPage *page)
{
  app_ui_clear (page->recent_list);
  g_autoptr (GPtrArray) list = app_recent_list (MOST_RECENT, FALSE);
  for (guint i = 0; i < list->len; i++)
    add_recent (page, g_ptr_array_index (list, i));
  gtk_widget_set_visible (page->recent_box, list->len > 0);
}

/* --- the unit of new patterns --------------------------------------------------------- */

static void
show_unit (AppStartPage *page)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (page->unit),
                              (guint)app_settings_get ()->unit);
}

static void
on_unit_chosen (GtkDropDown *drop)
{
  app_settings_get ()->unit = (PatternUnit)gtk_drop_down_get_selected (drop);
  app_settings_save ();
}

void
app_start_page_refresh (AppStartPage *page)
{
  show_recoveries (page);
  show_recent (page);
  show_unit (page);
}

static void
app_start_page_finalize (GObject *object)
{
  g_clear_pointer (&APP_START_PAGE (object)->kept, g_ptr_array_unref);
  G_OBJECT_CLASS (app_start_page_parent_class)->finalize (object);
}

static gboolean
app_start_page_grab_focus (GtkWidget *widget)
{
  AppStartPage *page = APP_START_PAGE (widget);
  return gtk_widget_grab_focus (page->newest != NULL ? page->newest
                                                     : page->choice);
}

static void
app_start_page_class_init (AppStartPageClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = app_start_page_finalize;
  GTK_WIDGET_CLASS (klass)->grab_focus = app_start_page_grab_focus;
  signals[SIGNAL_RECOVER]
      = g_signal_new ("recover", APP_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0,
                      NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static GtkWidget *
make_choice (const char *icon, const char *title, const char *more,
             const char *action)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *image = gtk_image_new_from_icon_name (icon);
  gtk_image_set_pixel_size (GTK_IMAGE (image), 64);
  gtk_widget_set_margin_bottom (image, 6);
  GtkWidget *head = app_ui_paragraph (title, "choice-title");
  GtkWidget *body = app_ui_paragraph (more, "choice-more");
  GtkWidget *const labels[] = { head, body };
  for (guint i = 0; i < G_N_ELEMENTS (labels); i++)
    {
      gtk_label_set_xalign (GTK_LABEL (labels[i]), 0.5F);
      gtk_label_set_justify (GTK_LABEL (labels[i]), GTK_JUSTIFY_CENTER);
      gtk_label_set_max_width_chars (GTK_LABEL (labels[i]), 24);
    }
  gtk_box_append (GTK_BOX (box), image);
  gtk_box_append (GTK_BOX (box), head);
  gtk_box_append (GTK_BOX (box), body);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "choice");
  app_ui_name (button, title);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

static GtkWidget *
make_choices (AppStartPage *page)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  gtk_box_set_homogeneous (GTK_BOX (line), TRUE);
  page->choice = make_choice (
      "bodkin-start-trace-symbolic", _ ("Trace a picture"),
      _ ("A photo or scan of your paper or card pieces becomes pieces at "
         "their true size"),
      "win.trace");
  gtk_box_append (GTK_BOX (line), page->choice);
  gtk_box_append (
      GTK_BOX (line),
      make_choice ("bodkin-start-measurements-symbolic",
                   _ ("Draft from measurements"),
                   _ ("A fitted back, front and sleeve from your own body "
                      "figures"),
                   "win.measurements"));
  gtk_box_append (
      GTK_BOX (line),
      make_choice ("bodkin-start-demo-symbolic", _ ("Open the demo"),
                   _ ("The ferry cape: finished, printable, with two faults "
                      "to find"),
                   "win.demo"));
  return line;
}

static GtkWidget *
make_small_choice (const char *icon, const char *words, const char *tip,
                   const char *action)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *image = gtk_image_new_from_icon_name (icon);
  gtk_image_set_pixel_size (GTK_IMAGE (image), 28);
  gtk_widget_set_halign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), image);
  gtk_box_append (GTK_BOX (box), app_ui_label (words, NULL));
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "small-choice");
  gtk_widget_set_tooltip_text (button, tip);
  app_ui_name (button, words);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

/* The ways to begin that are asked for less often. */
static GtkWidget *
make_more_choices (void)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  gtk_box_set_homogeneous (GTK_BOX (line), TRUE);
  gtk_box_append (GTK_BOX (line),
                  make_small_choice (
                      "bodkin-start-slopers-symbolic", _ ("Draft from slopers"),
                      _ ("A half back and a half front, to draft a cape "
                         "from by amounts"),
                      "win.slopers"));
  gtk_box_append (GTK_BOX (line),
                  make_small_choice (
                      "bodkin-start-drawing-symbolic", _ ("Bring in a drawing"),
                      _ ("Outlines from an SVG file become pieces at their "
                         "true size"),
                      "win.import-svg"));
  gtk_box_append (
      GTK_BOX (line),
      make_small_choice ("bodkin-start-empty-symbolic", _ ("Draw from nothing"),
                         _ ("An empty table and the drawing pencil in your "
                            "hand"),
                         "win.new-drawing"));
  return line;
}

static GtkWidget *
make_group (AppStartPage *page, GtkWidget *inside, const char *heading,
            GtkWidget **list)
{
  (void)page;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), app_ui_heading (heading));
  *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_add_css_class (*list, "start-list");
  gtk_box_append (GTK_BOX (box), *list);
  gtk_box_append (GTK_BOX (inside), box);
  return box;
}

static GtkWidget *
make_foot (AppStartPage *page)
{
  const char *const units[]
      = { _ ("millimetres"), _ ("centimetres"), _ ("inches"), NULL };
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *open = gtk_button_new_with_label (_ ("Open a pattern…"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (open), "win.open");
  gtk_widget_set_tooltip_text (open, _ ("Open a pattern (Ctrl+O)"));
  gtk_box_append (GTK_BOX (line), open);
  GtkWidget *words = app_ui_label (_ ("New patterns are in"), "dim");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_label_set_xalign (GTK_LABEL (words), 1);
  gtk_box_append (GTK_BOX (line), words);
  page->unit = app_ui_drop_down (units, _ ("New patterns are in"));
  g_signal_connect (page->unit, "notify::selected", G_CALLBACK (on_unit_chosen),
                    NULL);
  gtk_box_append (GTK_BOX (line), page->unit);
  return line;
}

static void
app_start_page_init (AppStartPage *page)
{
  gtk_widget_add_css_class (GTK_WIDGET (page), "start-page");
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_hexpand (scroller, TRUE);
  gtk_widget_set_vexpand (scroller, TRUE);
  GtkWidget *inside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 24);
  gtk_widget_add_css_class (inside, "start-inside");
  gtk_widget_set_halign (inside, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (inside, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request (inside, 900, -1);

  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *name = app_ui_label (_ ("Bodkin"), "start-name");
  GtkWidget *job = app_ui_label (
      _ ("Your own patterns: every allowance, seam and clip follows as you "
         "draw; print full size."),
      "start-job");
  gtk_label_set_xalign (GTK_LABEL (name), 0.5F);
  gtk_label_set_xalign (GTK_LABEL (job), 0.5F);
  gtk_label_set_wrap (GTK_LABEL (job), TRUE);
  gtk_box_append (GTK_BOX (head), name);
  gtk_box_append (GTK_BOX (head), job);
  gtk_box_append (GTK_BOX (inside), head);
  page->recover_box = make_group (
      page, inside, _ ("Kept from a time Bodkin ended before you saved"),
      &page->recover_list);
  gtk_box_append (GTK_BOX (inside), make_choices (page));
  gtk_box_append (GTK_BOX (inside), make_more_choices ());
  gtk_box_append (GTK_BOX (inside), make_foot (page));
  page->recent_box
      = make_group (page, inside, _ ("Opened last"), &page->recent_list);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), inside);
  gtk_box_append (GTK_BOX (page), scroller);
}

GtkWidget *
app_start_page_new (void)
{
  AppStartPage *page = g_object_new (APP_TYPE_START_PAGE, NULL);
  app_start_page_refresh (page);
  return GTK_WIDGET (page);
}
