/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures under the table: each is laid flat for the view it is seen in and kept; painted anew where the view or
 * the picture is another. While the view moves what was painted last is shown where it belongs
 * now, and is made sharp again once the view rests; so too while a picture is dragged. */
#include <math.h>
#include <string.h>

#include "app/canvas-private.h"
#include "app/picture-sights.h"

#define REST_MS 90

/* As it was painted last. */
typedef struct
{
  AppSight *sight;
  TracingPlane plane;
  AppView view;
  int width, height;
  cairo_surface_t *surface;
  GeoPoint by; /* moved since then, mm */
} Laid;

struct _AppCanvasPictures
{
  GHashTable *laid; /* picture's number -> Laid */
  guint rest;
  gboolean rested; /* this frame is the one after the view's rest */
};

static void
laid_free (gpointer data)
{
  Laid *laid = data;
  g_clear_pointer (&laid->sight, app_sight_unref);
  g_clear_pointer (&laid->surface, cairo_surface_destroy);
  g_free (laid);
}

void
app_canvas_pictures_free (AppCanvas *canvas)
{
  AppCanvasPictures *own = canvas->under;
  if (own == NULL)
    return;
  g_clear_handle_id (&own->rest, g_source_remove);
  g_hash_table_unref (own->laid);
  g_clear_pointer (&canvas->under, g_free);
}

static Laid *
laid_of (AppCanvas *canvas, guint picture)
{
  if (canvas->under == NULL)
    {
      canvas->under = g_new0 (AppCanvasPictures, 1);
      canvas->under->laid = g_hash_table_new_full (NULL, NULL, NULL, laid_free);
    }
  gpointer key = GUINT_TO_POINTER (picture);
  Laid *laid = g_hash_table_lookup (canvas->under->laid, key);
  if (laid == NULL)
    {
      laid = g_new0 (Laid, 1);
      g_hash_table_insert (canvas->under->laid, key, laid);
    }
  return laid;
}

static gboolean
on_rest (gpointer data)
{
  AppCanvas *canvas = data;
  canvas->under->rest = 0;
  canvas->under->rested = TRUE;
  gtk_widget_queue_draw (GTK_WIDGET (canvas));
  return G_SOURCE_REMOVE;
}

static gboolean
same_plane (const TracingPlane *a, const TracingPlane *b)
{
  return memcmp (a->m, b->m, sizeof a->m) == 0;
}

/* Whether the second is the first moved on, and by how much. */
static gboolean
is_moved (const TracingPlane *a, const TracingPlane *b, GeoPoint *by)
{
  const double *m = a->m, *n = b->m;
  if (memcmp (m + 6, n + 6, 3 * sizeof *m) != 0 || m[8] == 0)
    return FALSE;
  *by = geo_point ((n[2] - m[2]) / m[8], (n[5] - m[5]) / m[8]);
  for (int i = 0; i < 3; i++)
    if (fabs (n[i] - m[i] - by->x * m[6 + i]) > 1e-9 * (1 + fabs (n[i]))
        || fabs (n[3 + i] - m[3 + i] - by->y * m[6 + i])
               > 1e-9 * (1 + fabs (n[3 + i])))
      return FALSE;
  return TRUE;
}

static gboolean
same_view (const Laid *laid, const AppView *view, int width, int height)
{
  return laid->view.scale == view->scale
         && geo_same (laid->view.origin, view->origin) && laid->width == width
         && laid->height == height;
}

static void
render (Laid *laid, AppSight *sight, const TracingPlane *plane,
        const AppView *view, int width, int height)
{
  double to_px[9];
  g_clear_pointer (&laid->surface, cairo_surface_destroy);
  g_clear_pointer (&laid->sight, app_sight_unref);
  laid->sight = app_sight_ref (sight);
  laid->plane = *plane;
  laid->by = geo_point (0, 0);
  laid->view = *view;
  laid->width = width;
  laid->height = height;
  if (app_sight_matrix (plane, view->scale, view->origin, to_px))
    laid->surface = app_sight_render (sight, to_px, width, height, NULL);
}

/* Rendered anew at once where the picture itself is another, or the view has rested; else what there is
 * is shown till it rests. */
static void
settle (AppCanvas *canvas, Laid *laid, AppSight *sight,
        const TracingPlane *plane, int width, int height)
{
  AppCanvasPictures *own = canvas->under;
  gboolean other = laid->surface == NULL || laid->sight != sight
                   || !is_moved (&laid->plane, plane, &laid->by);
  if (!other && same_plane (&laid->plane, plane)
      && same_view (laid, &canvas->view, width, height))
    return;
  if (other || own->rested)
    {
      render (laid, sight, plane, &canvas->view, width, height);
      return;
    }
  g_clear_handle_id (&own->rest, g_source_remove);
  own->rest = g_timeout_add (REST_MS, on_rest, canvas);
}

static void
paint (cairo_t *cr, const Laid *laid, const AppView *view, double strength)
{
  GeoPoint corner
      = app_view_to_px (view, geo_add (laid->view.origin, laid->by));
  double by = view->scale / laid->view.scale;
  cairo_save (cr);
  cairo_translate (cr, corner.x, corner.y);
  cairo_scale (cr, by, by);
  cairo_set_source_surface (cr, laid->surface, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr),
                            by == 1 ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_FAST);
  cairo_paint_with_alpha (cr, strength);
  cairo_restore (cr);
}

void
app_canvas_paint_pictures (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const Pattern *p = app_session_get_shown (canvas->session);
  int width = gtk_widget_get_width (GTK_WIDGET (canvas));
  int height = gtk_widget_get_height (GTK_WIDGET (canvas));
  cairo_t *cr = NULL;
  for (guint i = 0; i < p->n_pictures; i++)
    {
      const PatternPicture *picture = p->pictures[i];
      if (picture->hidden || picture->strength <= 0)
        continue;
      AppSight *sight = app_picture_sight (canvas->session, picture);
      if (sight == NULL)
        continue;
      TracingPlane plane = app_picture_plane (picture);
      Laid *laid = laid_of (canvas, picture->id);
      settle (canvas, laid, sight, &plane, width, height);
      if (laid->surface == NULL)
        continue;
      if (cr == NULL)
        cr = app_canvas_layer (canvas, snapshot,
                               (GeoBox){ 0, 0, width, height });
      if (cr != NULL)
        paint (cr, laid, &canvas->view, picture->strength);
    }
  if (cr != NULL)
    cairo_destroy (cr);
  if (canvas->under != NULL)
    canvas->under->rested = FALSE;
}
