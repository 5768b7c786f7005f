/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pin-head.h"

#include <glib/gi18n.h>

#include "app/palette.h"
#include "app/ui.h"

#define PIN_PX 16
#define RADIUS_PX 5.5

static void
paint (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  int what = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), "pin"));
  const AppPalette *colours = app_palette (*(const gboolean *)data);
  double x = width / 2.0, y = height / 2.0, r = RADIUS_PX;
  if (what == APP_PIN_MEND)
    {
      cairo_arc (cr, x, y, r, 0, 2 * G_PI);
      app_colour (cr, colours->pin_mend);
      cairo_fill (cr);
    }
  else if (what == APP_PIN_LOOK)
    {
      cairo_rectangle (cr, x - r + 0.5, y - r + 0.5, 2 * r - 1, 2 * r - 1);
      app_colour (cr, colours->pin_look);
      cairo_fill (cr);
    }
  else
    {
      cairo_arc (cr, x, y, r - 1, 0, 2 * G_PI);
      app_colour (cr, colours->pin_aside);
      cairo_set_line_width (cr, 2);
      cairo_stroke (cr);
    }
}

void
app_pin_head_set (GtkWidget *pin, AppPinHead what)
{
  const char *const names[]
      = { _ ("To mend"), _ ("Worth a look"), _ ("Set aside") };
  g_object_set_data (G_OBJECT (pin), "pin", GINT_TO_POINTER (what));
  if (gtk_widget_get_has_tooltip (pin))
    gtk_widget_set_tooltip_text (pin, names[what]);
  app_ui_name (pin, names[what]);
  gtk_widget_queue_draw (pin);
}

GtkWidget *
app_pin_head_new (const gboolean *dark)
{
  GtkWidget *pin = gtk_drawing_area_new ();
  gtk_widget_set_size_request (pin, PIN_PX, PIN_PX);
  gtk_widget_set_valign (pin, GTK_ALIGN_START);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (pin), paint, (gpointer)dark,
                                  NULL);
  gtk_widget_set_has_tooltip (pin, TRUE);
  app_pin_head_set (pin, APP_PIN_ASIDE);
  return pin;
}
