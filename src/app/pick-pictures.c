/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pick-pictures.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/picture-sights.h"
#include "file/safe-save.h"

/* What is shown of one picture. */
typedef struct
{
  AppPage *page; /* borrowed; outlives the rows */
  guint id;
  GtkWidget *box, *title, *says, *strength, *hidden, *locked;
  GtkWidget *across, *down, *turned, *keep;
} Row;

typedef struct
{
  AppPage *page;
  guint only; /* 0: all */
  GtkWidget *heading, *list;
  GArray *rows; /* of Row */
} Rows;

static void
rows_free (gpointer data)
{
  Rows *self = data;
  g_array_unref (self->rows);
  g_free (self);
}

static const PatternPicture *
picture_of (const Row *row)
{
  return pattern_get_picture (app_page_pattern (row->page), row->id);
}

static Row *
row_of (gpointer widget)
{
  return g_object_get_data (G_OBJECT (widget), "row");
}

/* --- edits ---------------------------------------------------------------------------- */
static void
show_as (Row *row, double strength, gboolean hidden, gboolean locked,
         const char *label, gboolean step)
{
  GError *error = NULL;
  g_autofree char *merge = g_strdup_printf ("picture-strength-%u", row->id);
  Pattern *p = drafting_show_picture (app_page_pattern (row->page), row->id,
                                      strength, hidden, locked, &error);
  app_page_do (row->page, label, step ? merge : NULL, p, &error);
}

static void
on_strength (GtkRange *range, gpointer data)
{
  Row *row = row_of (range);
  const PatternPicture *picture = picture_of (row);
  (void)data;
  if (row->page->updating || picture == NULL)
    return;
  show_as (row, gtk_range_get_value (range) / 100, picture->hidden,
           picture->locked, _ ("set how strong a picture is seen"), TRUE);
}

static void
on_hidden (GtkCheckButton *check, gpointer data)
{
  Row *row = row_of (check);
  const PatternPicture *picture = picture_of (row);
  gboolean is = gtk_check_button_get_active (check);
  (void)data;
  if (!row->page->updating && picture != NULL && is != picture->hidden)
    show_as (row, picture->strength, is, picture->locked,
             is ? _ ("hide a picture") : _ ("show a picture"), FALSE);
}

static void
on_locked (GtkCheckButton *check, gpointer data)
{
  Row *row = row_of (check);
  const PatternPicture *picture = picture_of (row);
  gboolean is = gtk_check_button_get_active (check);
  (void)data;
  if (!row->page->updating && picture != NULL && is != picture->locked)
    show_as (row, picture->strength, picture->hidden, is,
             is ? _ ("lock a picture") : _ ("unlock a picture"), FALSE);
}

/* Where its middle lies on the table. */
static GeoPoint
middle_of (const PatternPicture *picture)
{
  GeoPoint at = { 0, 0 };
  pattern_picture_to_table (
      picture, geo_point (picture->width / 2.0, picture->height / 2.0), &at);
  return at;
}

static double
turn_of (const PatternPicture *picture)
{
  return atan2 (picture->place.s, picture->place.c) * 180 / G_PI;
}

static void
move (Row *row, GeoPoint by, double angle, gboolean step)
{
  GError *error = NULL;
  g_autofree char *merge = g_strdup_printf ("picture-place-%u", row->id);
  Pattern *p = drafting_move_picture (app_page_pattern (row->page), row->id, by,
                                      angle, &error);
  app_page_do (row->page,
               angle != 0 ? _ ("turn a picture") : _ ("move a picture"),
               step ? merge : NULL, p, &error);
}

static void
on_place (AppField *field, gboolean step, AppPage *page)
{
  Row *row = row_of (field);
  const PatternPicture *picture = picture_of (row);
  (void)page;
  if (picture == NULL)
    return;
  GeoPoint at = middle_of (picture);
  double value = app_field_get_value (field);
  if (GTK_WIDGET (field) == row->turned)
    move (row, geo_point (0, 0), (value - turn_of (picture)) * G_PI / 180,
          step);
  else if (GTK_WIDGET (field) == row->across)
    move (row, geo_point (value - at.x, 0), 0, step);
  else
    move (row, geo_point (0, value - at.y), 0, step);
}

static void
on_removed (GtkButton *button, gpointer data)
{
  Row *row = row_of (button);
  GError *error = NULL;
  (void)data;
  Pattern *p
      = drafting_remove_picture (app_page_pattern (row->page), row->id, &error);
  app_page_do (row->page, _ ("take a picture away"), NULL, p, &error);
}

/* In the document's folder, under its own name; a file that is there already is only used where it is the
 * same. */
static char *
write_beside (const PatternPicture *picture, const char *document,
              GError **error)
{
  g_autofree char *folder = g_path_get_dirname (document);
  g_autofree char *name = g_path_get_basename (picture->name);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *there = NULL;
  gsize size, length;
  const char *bytes = g_bytes_get_data (picture->bytes, &size);
  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return file_safe_save (path, bytes, size, FALSE, error)
               ? g_steal_pointer (&path)
               : NULL;
  if (!g_file_get_contents (path, &there, &length, error))
    return NULL;
  if (length == size && memcmp (there, bytes, size) == 0)
    return g_steal_pointer (&path);
  g_set_error (error, DRAFTING_ERROR, DRAFTING_ERROR_SHAPE,
               _ ("There is another “%s” beside the pattern already. The "
                  "picture stays inside; move that file away first."),
               name);
  return NULL;
}

static void
on_keep (GtkButton *button, gpointer data)
{
  Row *row = row_of (button);
  const PatternPicture *picture = picture_of (row);
  const char *document = app_session_get_path (row->page->session);
  GError *error = NULL;
  g_autofree char *beside = NULL;
  (void)data;
  if (picture == NULL)
    return;
  gboolean inside = picture->beside == NULL;
  if (inside && document == NULL)
    {
      g_signal_emit_by_name (row->page->session, "problem",
                             _ ("Save the pattern first: the picture is kept "
                                "beside its file."));
      return;
    }
  if (inside)
    beside = write_beside (picture, document, &error);
  Pattern *p = inside && beside == NULL
                   ? NULL
                   : drafting_keep_picture (app_page_pattern (row->page),
                                            row->id, beside, &error);
  app_page_do (row->page,
               inside ? _ ("keep a picture beside the pattern")
                      : _ ("keep a picture inside the pattern"),
               NULL, p, &error);
}

static void
on_again (GtkButton *button, const char *action)
{
  gtk_widget_activate_action (GTK_WIDGET (button), action, "u",
                              row_of (button)->id);
}

static void
on_trace_again (GtkButton *button, gpointer data)
{
  (void)data;
  on_again (button, "win.trace-again");
}

static void
on_size_again (GtkButton *button, gpointer data)
{
  (void)data;
  on_again (button, "win.trace-size");
}

/* --- rows ------------------------------------------------------------------------------- */
static void
tell_row (GtkWidget *widget, Row *row)
{
  g_object_set_data (G_OBJECT (widget), "row", row);
}

static GtkWidget *
add_button (Row *row, GtkWidget *buttons, const char *label, const char *tip,
            GCallback clicked)
{
  GtkWidget *button = app_ui_text_button (label, tip);
  tell_row (button, row);
  g_signal_connect (button, "clicked", clicked, NULL);
  gtk_flow_box_insert (GTK_FLOW_BOX (buttons), button, -1);
  return button;
}

static GtkWidget *
add_field (Row *row, GtkWidget *rows, AppFieldKind kind, const char *label)
{
  GtkWidget *field = app_page_field (row->page, rows, kind, label, on_place);
  tell_row (field, row);
  return field;
}

static GtkWidget *
add_check (Row *row, GtkWidget *box, const char *label, GCallback toggled)
{
  GtkWidget *check = gtk_check_button_new_with_label (label);
  tell_row (check, row);
  g_signal_connect (check, "toggled", toggled, NULL);
  gtk_box_append (GTK_BOX (box), check);
  return check;
}

static void
fill_row (Row *row)
{
  row->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (row->box, "card");
  row->title = app_ui_paragraph ("", "piece-name");
  gtk_box_append (GTK_BOX (row->box), row->title);
  row->says = app_ui_paragraph ("", "dim");
  gtk_box_append (GTK_BOX (row->box), row->says);
  GtkWidget *rows = app_ui_rows_new ();
  gtk_box_append (GTK_BOX (row->box), rows);
  row->strength
      = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 5, 100, 5);
  app_ui_leave_wheel (row->strength);
  tell_row (row->strength, row);
  app_ui_name (row->strength, _ ("Strength"));
  g_signal_connect (row->strength, "value-changed", G_CALLBACK (on_strength),
                    NULL);
  app_ui_rows_add (rows, _ ("Strength"), row->strength);
  row->across = add_field (row, rows, APP_FIELD_LENGTH, _ ("Middle, across"));
  row->down = add_field (row, rows, APP_FIELD_LENGTH, _ ("Middle, down"));
  row->turned = add_field (row, rows, APP_FIELD_NUMBER, _ ("Turned, degrees"));
  GtkWidget *checks = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  row->locked = add_check (row, checks, _ ("Locked"), G_CALLBACK (on_locked));
  row->hidden = add_check (row, checks, _ ("Hidden"), G_CALLBACK (on_hidden));
  gtk_box_append (GTK_BOX (row->box), checks);
  GtkWidget *buttons = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (buttons), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (buttons), 2);
  add_button (row, buttons, _ ("Trace again"),
              _ ("Follow outlines in it once more"),
              G_CALLBACK (on_trace_again));
  add_button (row, buttons, _ ("Set true size"),
              _ ("Say again how large it is"), G_CALLBACK (on_size_again));
  row->keep = add_button (row, buttons, "", NULL, G_CALLBACK (on_keep));
  GtkWidget *remove = add_button (row, buttons, _ ("Take away"),
                                  _ ("The pieces traced from it stay"),
                                  G_CALLBACK (on_removed));
  gtk_widget_add_css_class (remove, "destructive");
  gtk_box_append (GTK_BOX (row->box), buttons);
}

static void
show_row (Row *row, const PatternPicture *picture, PatternUnit unit)
{
  TracingPlane plane = app_picture_plane (picture);
  double dots = tracing_plane_dots (
      &plane, geo_point (picture->width / 2.0, picture->height / 2.0));
  GeoPoint at = middle_of (picture);
  app_ui_set_text (row->title, picture->name);
  const char *where = picture->bytes == NULL    ? _ ("not found")
                      : picture->beside != NULL ? _ ("kept beside the pattern")
                                                : _ ("kept inside the pattern");
  g_autofree char *says
      = g_strdup_printf (_ ("%u × %u pixels, %.3g a mm; %s"), picture->width,
                         picture->height, dots, where);
  app_ui_set_text (row->says, says);
  gtk_range_set_value (GTK_RANGE (row->strength), 100 * picture->strength);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->hidden), picture->hidden);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->locked), picture->locked);
  app_field_set_unit (APP_FIELD (row->across), unit);
  app_field_set_unit (APP_FIELD (row->down), unit);
  app_field_set_value (APP_FIELD (row->across), at.x);
  app_field_set_value (APP_FIELD (row->down), at.y);
  app_field_set_value (APP_FIELD (row->turned), turn_of (picture));
  GtkWidget *const places[] = { row->across, row->down, row->turned };
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    gtk_widget_set_sensitive (places[i], !picture->locked);
  gtk_button_set_label (GTK_BUTTON (row->keep), picture->beside != NULL
                                                    ? _ ("Keep inside")
                                                    : _ ("Keep beside"));
}

/* Of pictures; owns nothing of them. */
static GPtrArray *
shown_pictures (const Rows *self, const Pattern *pattern)
{
  GPtrArray *shown = g_ptr_array_new ();
  for (guint i = 0; i < pattern->n_pictures; i++)
    if (self->only == 0 || self->only == pattern->pictures[i]->id)
      g_ptr_array_add (shown, (gpointer)pattern->pictures[i]);
  return shown;
}

static guint
id_at (const GPtrArray *shown, guint i)
{
  return ((const PatternPicture *)g_ptr_array_index (shown, i))->id;
}

static gboolean
same_rows (const Rows *self, const GPtrArray *shown)
{
  gboolean same = self->rows->len == shown->len;
  for (guint i = 0; same && i < self->rows->len; i++)
    same = g_array_index (self->rows, Row, i).id == id_at (shown, i);
  return same;
}

void
app_picture_rows_show (GtkWidget *rows, const Pattern *pattern)
{
  Rows *self = g_object_get_data (G_OBJECT (rows), "rows");
  g_autoptr (GPtrArray) shown = shown_pictures (self, pattern);
  gtk_widget_set_visible (rows, shown->len > 0);
  if (!same_rows (self, shown))
    {
      app_ui_clear (self->list);
      /* Widgets keep the addresses of the rows. */
      g_array_set_size (self->rows, 0);
      g_array_set_size (self->rows, shown->len);
      for (guint i = 0; i < shown->len; i++)
        {
          Row *row = &g_array_index (self->rows, Row, i);
          *row = (Row){ .page = self->page, .id = id_at (shown, i) };
          fill_row (row);
          gtk_widget_set_visible (row->title, self->only == 0);
          gtk_box_append (GTK_BOX (self->list), row->box);
        }
    }
  for (guint i = 0; i < shown->len; i++)
    show_row (&g_array_index (self->rows, Row, i), g_ptr_array_index (shown, i),
              pattern->unit);
}

GtkWidget *
app_picture_rows_new (AppPage *page, guint only)
{
  Rows *self = g_new0 (Rows, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->page = page;
  self->only = only;
  self->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  if (only == 0)
    gtk_box_append (GTK_BOX (box),
                    app_ui_heading (_ ("Pictures under the table")));
  gtk_box_append (GTK_BOX (box), self->list);
  g_object_set_data_full (G_OBJECT (box), "rows", self, rows_free);
  return box;
}
