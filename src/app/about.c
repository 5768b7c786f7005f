/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/about.h"

#include <glib/gi18n.h>

#include "app/ui.h"

typedef struct
{
  const char *group; /* set where a group begins */
  const char *keys;  /* as GtkShortcutLabel reads them */
  const char *words;
} Key;

static const Key keys[] = {
  { N_ ("Hand tools"), "R", N_ ("Reshape") },
  { NULL, "D", N_ ("Draw") },
  { NULL, "M", N_ ("Mark") },
  { NULL, "B", N_ ("Baste: pair two edges") },
  { NULL, "T", N_ ("Tape: measure") },
  { N_ ("On the table"), "Tab <Shift>Tab", N_ ("Next, previous") },
  { NULL, "Return", N_ ("Go into what is picked") },
  { NULL, "Escape", N_ ("Come out again") },
  { NULL, "S", N_ ("The seam an edge is in") },
  { NULL, "J", N_ ("Lay a seam’s pieces together and true the line") },
  { NULL, "<Shift>F", N_ ("Make the picked edge fair") },
  { NULL, "C", N_ ("Curvature of what is picked") },
  { NULL, "O", N_ ("Draw an outline over a picture") },
  { NULL, "N", N_ ("Name the edges of what is picked") },
  { NULL, "F", N_ ("See what is picked") },
  { NULL, "Left Up Right Down", N_ ("Nudge; move the view") },
  { NULL, "<Shift>Right", N_ ("Nudge ten times as far") },
  { NULL, "<Alt>Right", N_ ("Nudge a tenth as far") },
  { NULL, "Delete", N_ ("Take out what is picked") },
  { N_ ("Edits"), "<Control>z", N_ ("Undo") },
  { NULL, "<Control><Shift>z", N_ ("Redo") },
  { NULL, "<Control>x", N_ ("Cut pieces out to paste them") },
  { NULL, "<Control>c", N_ ("Copy pieces") },
  { NULL, "<Control>v", N_ ("Paste pieces or a drawing") },
  { NULL, "<Control>a", N_ ("Pick all pieces") },
  { NULL, "<Control><Shift>a", N_ ("Pick nothing") },
  { N_ ("View"), "<Control>plus", N_ ("Larger") },
  { NULL, "<Control>minus", N_ ("Smaller") },
  { NULL, "<Control>0", N_ ("All of it") },
  { NULL, "<Control>1", N_ ("Actual size") },
  { NULL, "<Control>2", N_ ("What is picked") },
  { NULL, "F8", N_ ("List of pins") },
  { NULL, "F9", N_ ("Pieces") },
  { NULL, "<Shift>F9", N_ ("Settings of what is picked") },
  { NULL, "<Control>F9", N_ ("Seam strip") },
  { N_ ("Patterns"), "<Control>n", N_ ("New") },
  { NULL, "<Control>o", N_ ("Open") },
  { NULL, "<Control>i", N_ ("Bring in a drawing") },
  { NULL, "<Control>s", N_ ("Save") },
  { NULL, "<Control><Shift>s", N_ ("Save as") },
  { NULL, "<Control>p", N_ ("Print") },
  { NULL, "<Control>w", N_ ("Close the window") },
  { NULL, "<Control>q", N_ ("Quit") },
  { N_ ("Help and settings"), "F1", N_ ("Help") },
  { NULL, "<Control>question", N_ ("All keys") },
  { NULL, "<Control>comma", N_ ("Preferences") },
  { NULL, "F10", N_ ("Menu") },
};

static GtkWidget *
make_group (const Key *first, guint n, GtkSizeGroup *widths)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (box), app_ui_heading (_ (first->group)));
  GtkWidget *grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (grid), 18);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  for (guint i = 0; i < n; i++)
    {
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      g_auto (GStrv) parts = g_strsplit (first[i].keys, " ", -1);
      for (guint k = 0; parts[k] != NULL; k++)
        gtk_box_append (GTK_BOX (line), gtk_shortcut_label_new (parts[k]));
      gtk_size_group_add_widget (widths, line);
      GtkWidget *words = app_ui_label (_ (first[i].words), NULL);
      gtk_grid_attach (GTK_GRID (grid), line, 0, (int)i, 1, 1);
      gtk_grid_attach (GTK_GRID (grid), words, 1, (int)i, 1, 1);
    }
  gtk_box_append (GTK_BOX (box), grid);
  return box;
}

static GtkWidget *
make_columns (void)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 36);
  GtkWidget *columns[2];
  g_autoptr (GtkSizeGroup) widths
      = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  for (int i = 0; i < 2; i++)
    {
      columns[i] = gtk_box_new (GTK_ORIENTATION_VERTICAL, 18);
      gtk_box_append (GTK_BOX (line), columns[i]);
    }
  guint group = 0;
  for (guint i = 0; i < G_N_ELEMENTS (keys);)
    {
      guint n = 1;
      while (i + n < G_N_ELEMENTS (keys) && keys[i + n].group == NULL)
        n++;
      /* Two columns of about the same height. */
      gtk_box_append (GTK_BOX (columns[group < 3 ? 0 : 1]),
                      make_group (&keys[i], n, widths));
      group++;
      i += n;
    }
  return line;
}

void
app_shortcuts_open (GtkWindow *parent)
{
  GtkWidget *window = gtk_window_new ();
  gtk_window_set_title (GTK_WINDOW (window), _ ("All keys"));
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (window), 840, 660);
  gtk_window_set_titlebar (GTK_WINDOW (window), gtk_header_bar_new ());
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  GtkWidget *columns = make_columns ();
  gtk_widget_add_css_class (columns, "keys");
  gtk_widget_set_halign (columns, GTK_ALIGN_CENTER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), columns);
  gtk_window_set_child (GTK_WINDOW (window), scroller);
  app_ui_close_on_escape (GTK_WINDOW (window));
  gtk_window_present (GTK_WINDOW (window));
}

void
app_about_open (GtkWindow *parent)
{
  gtk_show_about_dialog (
      parent, "program-name", _ ("Bodkin"), "logo-icon-name",
      "page.bodkin.bodkin", "version", APP_VERSION, "comments",
      _ ("Draft sewing patterns, see every seam and allowance follow, print "
         "full size."),
      "license-type", GTK_LICENSE_GPL_3_0, NULL);
}
