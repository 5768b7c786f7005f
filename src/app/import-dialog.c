/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/import-dialog.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/ask.h"
#include "app/field.h"
#include "app/palette.h"
#include "app/scheme.h"
#include "app/settings.h"
#include "app/ui.h"
#include "drafting/edit.h"
#include "drawing/paint.h"
#include "file/svg-in.h"
#include "file/xml-guard.h"

/* Room between what lies on the table and what is brought in beside it, mm. */
#define GAP 50

typedef struct
{
  GtkWidget *window, *found, *width, *height, *allowance, *angle, *preview;
  GPtrArray *shapes; /* FileSvgShape */
  GeoBox box;        /* of all shapes as the file has them, mm */
  AppSession *onto;  /* or NULL */
  Pattern *fresh;    /* without onto: what the pieces are added to */
  char *name;
  double scale;
  AppImported imported;
  gpointer data;
} Import;

Pattern *
app_pattern_of_settings (const char *name)
{
  const AppSettings *settings = app_settings_get ();
  Pattern *pattern = pattern_new (name);
  pattern->unit = settings->unit;
  pattern->tolerance = settings->tolerance;
  return pattern;
}

static void
import_free (gpointer data)
{
  Import *im = data;
  g_ptr_array_unref (im->shapes);
  g_clear_object (&im->onto);
  g_clear_pointer (&im->fresh, pattern_unref);
  g_free (im->name);
  g_free (im);
}

/* Asked for anew each time: it may be edited while the window is open. */
static const Pattern *
base (const Import *im)
{
  return im->onto != NULL ? app_session_get_pattern (im->onto) : im->fresh;
}

/* Smaller closed shapes are a drawing's ornaments: dots, arrowheads, letters. */
static gboolean
is_piece (const Import *im, const FileSvgShape *shape)
{
  GeoBox box = geo_chain_bounds (&shape->chain);
  double least = file_svg_options_default ().least_size;
  return shape->closed
         && fmax (geo_box_width (box), geo_box_height (box)) * im->scale
                >= least;
}

/* The shape's chain as it will lie on the table. */
static void
place_chain (const Import *im, const FileSvgShape *shape, GeoPoint to,
             GeoChain *chain)
{
  geo_chain_copy (chain, &shape->chain);
  for (size_t i = 0; i < chain->count; i++)
    for (int k = 0; k < 4; k++)
      {
        GeoPoint *p = &chain->cubics[i].p[k];
        *p = geo_point (to.x + (p->x - im->box.x0) * im->scale,
                        to.y + (p->y - im->box.y0) * im->scale);
      }
}

/* Right of what lies on the table, on a level with its top. */
static GeoPoint
free_place (const Pattern *onto)
{
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < onto->n_pieces; i++)
    {
      GeoChain outline = GEO_CHAIN_EMPTY;
      pattern_piece_outline (onto->pieces[i], &outline);
      box = geo_box_join (box, geo_chain_bounds (&outline));
      geo_chain_clear (&outline);
    }
  return geo_box_is_empty (box) ? geo_point (GAP, GAP)
                                : geo_point (box.x1 + GAP, box.y0);
}

static Pattern *
add_shape (const Import *im, const Pattern *pattern, const FileSvgShape *shape,
           GeoPoint to, GError **error)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  place_chain (im, shape, to, &chain);
  Pattern *result
      = shape->closed ? drafting_add_piece (
            pattern, shape->name, &chain,
            app_field_get_value (APP_FIELD (im->angle)) * G_PI / 180,
            app_field_get_value (APP_FIELD (im->allowance)), NULL, error)
                      : drafting_add_line (pattern, shape->name, &chain, error);
  geo_chain_clear (&chain);
  return result;
}

/* Shapes that can't be pieces (no area, not one loop) are passed over and counted. */
static Pattern *
build (const Import *im, guint *passed_over)
{
  Pattern *pattern = pattern_dup (base (im));
  GeoPoint to = free_place (pattern);
  *passed_over = 0;
  for (guint i = 0; i < im->shapes->len; i++)
    {
      const FileSvgShape *shape = g_ptr_array_index (im->shapes, i);
      if (shape->closed && !is_piece (im, shape))
        continue;
      Pattern *next = add_shape (im, pattern, shape, to, NULL);
      if (next == NULL)
        {
          (*passed_over)++;
          continue;
        }
      pattern_unref (pattern);
      pattern = next;
    }
  return pattern;
}

static void
on_bring_in (Import *im)
{
  app_field_take (APP_FIELD (im->width));
  app_field_take (APP_FIELD (im->height));
  app_field_take (APP_FIELD (im->allowance));
  app_field_take (APP_FIELD (im->angle));
  guint passed_over;
  Pattern *result = build (im, &passed_over);
  if (pattern_equal (result, base (im)))
    {
      pattern_unref (result);
      app_tell (GTK_WINDOW (im->window), _ ("Nothing could be brought in"),
                _ ("No shape of the drawing encloses an area that could be a "
                   "piece. The drawing and your pattern are as they were."));
      return;
    }
  im->imported (result, im->name, im->onto, im->data);
  gtk_window_destroy (GTK_WINDOW (im->window));
}

static void
show_found (Import *im)
{
  guint pieces = 0, lines = 0, small = 0;
  for (guint i = 0; i < im->shapes->len; i++)
    {
      const FileSvgShape *shape = g_ptr_array_index (im->shapes, i);
      if (!shape->closed)
        lines++;
      else if (is_piece (im, shape))
        pieces++;
      else
        small++;
    }
  g_autoptr (GString) words = g_string_new (NULL);
  g_string_append_printf (words,
                          ngettext ("%u closed outline becomes a piece.",
                                    "%u closed outlines become pieces.",
                                    pieces),
                          pieces);
  if (lines > 0)
    g_string_append_printf (
        words,
        ngettext (" %u open line becomes a construction line.",
                  " %u open lines become construction lines.", lines),
        lines);
  if (small > 0)
    g_string_append_printf (
        words,
        ngettext (" %u shape is smaller than 5 mm and is left out.",
                  " %u shapes are smaller than 5 mm and are left out.", small),
        small);
  app_ui_set_text (im->found, words->str);
}

static void
show_size (Import *im)
{
  app_field_set_value (APP_FIELD (im->width),
                       geo_box_width (im->box) * im->scale);
  app_field_set_value (APP_FIELD (im->height),
                       geo_box_height (im->box) * im->scale);
  show_found (im);
  gtk_widget_queue_draw (im->preview);
}

static void
on_size (AppField *field, gboolean step, Import *im)
{
  (void)step;
  double whole = field == APP_FIELD (im->width) ? geo_box_width (im->box)
                                                : geo_box_height (im->box);
  if (whole > 0)
    im->scale = app_field_get_value (field) / whole;
  show_size (im);
}

static void
paint_preview (GtkDrawingArea *area, cairo_t *cr, int width, int height,
               gpointer data)
{
  (void)area;
  Import *im = data;
  gboolean dark = app_scheme_is_dark ();
  const AppPalette *colours = app_palette (dark);
  double w = fmax (geo_box_width (im->box), 1e-6);
  double h = fmax (geo_box_height (im->box), 1e-6);
  double scale = fmin ((width - 24) / w, (height - 24) / h);
  DrawingStyle style = drawing_style_table (1 / scale, dark);
  cairo_translate (cr, (width - w * scale) / 2, (height - h * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_translate (cr, -im->box.x0, -im->box.y0);
  cairo_set_line_width (cr, 1.4 / scale);
  for (guint i = 0; i < im->shapes->len; i++)
    {
      const FileSvgShape *shape = g_ptr_array_index (im->shapes, i);
      drawing_path_chain (cr, &shape->chain);
      if (shape->closed && is_piece (im, shape))
        {
          app_colour (cr, style.tints[0]);
          cairo_fill_preserve (cr);
          app_colour (cr, style.ink);
        }
      else
        app_colour (cr, shape->closed ? colours->grid_strong : style.faint);
      cairo_stroke (cr);
    }
}

static GtkWidget *
make_field (Import *im, GtkWidget *rows, const char *label, double value,
            double least, double most)
{
  GtkWidget *field = app_field_new (APP_FIELD_LENGTH, label);
  app_field_set_unit (APP_FIELD (field), base (im)->unit);
  app_field_set_range (APP_FIELD (field), least, most);
  app_field_set_value (APP_FIELD (field), value);
  app_ui_rows_add (rows, label, field);
  return field;
}

static GtkWidget *
make_settings (Import *im)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class (box, "import-side");
  gtk_widget_set_size_request (box, 310, -1);
  gtk_widget_set_hexpand (box, FALSE);
  im->found = app_ui_paragraph ("", NULL);
  gtk_box_append (GTK_BOX (box), im->found);

  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("Size on the table")));
  GtkWidget *rows = app_ui_rows_new ();
  im->width
      = make_field (im, rows, _ ("Width"), geo_box_width (im->box), 1, 1e5);
  im->height
      = make_field (im, rows, _ ("Height"), geo_box_height (im->box), 1, 1e5);
  g_signal_connect (im->width, "entered", G_CALLBACK (on_size), im);
  g_signal_connect (im->height, "entered", G_CALLBACK (on_size), im);
  gtk_box_append (GTK_BOX (box), rows);
  gtk_box_append (
      GTK_BOX (box),
      app_ui_paragraph (_ ("As the file says it. If you know it better (some "
                           "older drawings count 72 or 90 steps to the inch), "
                           "type one of the two."),
                        "dim"));

  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("Pieces")));
  rows = app_ui_rows_new ();
  im->allowance = make_field (im, rows, _ ("Allowance"),
                              app_settings_get ()->allowance, 0, 200);
  im->angle = app_field_new (APP_FIELD_NUMBER, _ ("A corner is any turn over"));
  app_field_set_number (APP_FIELD (im->angle), "°", 0, 5);
  app_field_set_range (APP_FIELD (im->angle), 1, 179);
  app_field_set_value (APP_FIELD (im->angle),
                       file_svg_options_default ().corner_angle * 180 / G_PI);
  app_ui_rows_add (rows, _ ("A corner is any turn over"), im->angle);
  gtk_widget_set_tooltip_text (
      im->angle, _ ("Where the outline turns by more than this, one edge ends "
                    "and the next begins"));
  gtk_box_append (GTK_BOX (box), rows);
  return box;
}

static void
make_window (Import *im, GtkWindow *parent)
{
  im->window = gtk_window_new ();
  GtkWindow *window = GTK_WINDOW (im->window);
  g_autofree char *title = im->name[0] != '\0'
                               ? g_strdup_printf (_ ("Bring in “%s”"), im->name)
                               : g_strdup (_ ("Bring in a drawing"));
  gtk_window_set_title (window, title);
  gtk_window_set_transient_for (window, parent);
  gtk_window_set_destroy_with_parent (window, TRUE);
  gtk_window_set_modal (window, TRUE);
  gtk_window_set_default_size (window, 860, 560);
  GtkWidget *bar = gtk_header_bar_new ();
  gtk_header_bar_set_show_title_buttons (GTK_HEADER_BAR (bar), FALSE);
  GtkWidget *cancel = gtk_button_new_with_label (_ ("Cancel"));
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (gtk_window_close),
                            window);
  GtkWidget *bring = gtk_button_new_with_label (_ ("Bring in"));
  gtk_widget_add_css_class (bring, "suggested-action");
  g_signal_connect_swapped (bring, "clicked", G_CALLBACK (on_bring_in), im);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (bar), cancel);
  gtk_header_bar_pack_end (GTK_HEADER_BAR (bar), bring);
  gtk_window_set_titlebar (window, bar);
  gtk_window_set_default_widget (window, bring);

  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  im->preview = gtk_drawing_area_new ();
  gtk_widget_set_hexpand (im->preview, TRUE);
  gtk_widget_add_css_class (im->preview, "table-colour");
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (im->preview), paint_preview,
                                  im, NULL);
  app_ui_name (im->preview, _ ("What was found in the drawing"));
  gtk_box_append (GTK_BOX (line), im->preview);
  gtk_box_append (GTK_BOX (line), make_settings (im));
  gtk_window_set_child (window, line);
  g_object_set_data_full (G_OBJECT (window), "import", im, import_free);
  app_ui_close_on_escape (window);
  gtk_window_set_focus (window, bring);
}

static void
start (GtkWindow *parent, const char *text, gsize length, const char *file,
       const char *name, AppSession *onto, AppImported imported, gpointer data)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *shapes = file_svg_parse (text, length, file, NULL, NULL, &error);
  if (shapes == NULL)
    {
      app_tell (parent, _ ("The drawing could not be brought in"),
                error->message);
      return;
    }
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < shapes->len; i++)
    {
      const FileSvgShape *shape = g_ptr_array_index (shapes, i);
      box = geo_box_join (box, geo_chain_bounds (&shape->chain));
    }
  if (geo_box_is_empty (box))
    {
      g_ptr_array_unref (shapes);
      app_tell (parent, _ ("There is nothing to bring in"),
                _ ("The drawing holds no lines. Text and pictures can't be "
                   "brought in; in the program that drew it, turn text into "
                   "paths first."));
      return;
    }
  Import *im = g_new0 (Import, 1);
  im->shapes = shapes;
  im->box = box;
  im->scale = 1;
  im->name = g_strdup (name);
  if (onto != NULL)
    im->onto = g_object_ref (onto);
  else
    im->fresh = app_pattern_of_settings (name);
  im->imported = imported;
  im->data = data;
  make_window (im, parent);
  show_found (im);
  gtk_window_present (GTK_WINDOW (im->window));
}

void
app_import_svg (GtkWindow *parent, const char *path, AppSession *onto,
                AppImported imported, gpointer data)
{
  g_autofree char *text = NULL;
  g_autofree char *file = g_filename_display_basename (path);
  g_autofree char *name = g_strdup (file);
  gsize length = 0;
  g_autoptr (GError) error = NULL;
  char *dot = strrchr (name, '.');
  if (dot != NULL && dot != name)
    *dot = '\0';
  if (!file_xml_load (path, &text, &length, &error))
    {
      app_tell (parent, _ ("The drawing could not be read"), error->message);
      return;
    }
  start (parent, text, length, file, name, onto, imported, data);
}

void
app_import_svg_text (GtkWindow *parent, const char *text, AppSession *onto,
                     AppImported imported, gpointer data)
{
  start (parent, text, strlen (text), _ ("clipboard"), "", onto, imported,
         data);
}
