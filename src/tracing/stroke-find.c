/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "geometry/nearest.h"
#include "tracing/stroke-private.h"

static int
by_length (gconstpointer a, gconstpointer b)
{
  const StrokeLine *p = a, *q = b;
  return p->length > q->length ? -1 : p->length < q->length;
}

static GArray *
fail (int code, const char *words, GError **error)
{
  g_set_error_literal (error, TRACING_ERROR, code, words);
  return NULL;
}

/* Cubics for the lines that are long enough. */
static GArray *
lay (const GArray *found, const TracingStrokeWish *wish, double spacing)
{
  GArray *lines = g_array_new (FALSE, TRUE, sizeof (TracingLine));
  g_array_set_clear_func (lines, tracing_line_clear);
  for (guint i = 0; i < found->len; i++)
    {
      const StrokeLine *from = &g_array_index (found, StrokeLine, i);
      TracingLine line = { .hole_of = -1 };
      if (from->length < wish->least_length)
        break;
      if (!tracing_line_fit ((const GeoPoint *)(gpointer)from->places->data,
                             from->places->len, from->closed, wish->tolerance,
                             spacing, &line))
        continue;
      line.closed = from->closed;
      line.hole_of = -1;
      line.blur = from->width;
      g_array_append_val (lines, line);
    }
  return lines;
}

static void
keep_nearest (GArray *lines, GeoPoint at)
{
  guint best = 0;
  double least = INFINITY;
  for (guint i = 0; i < lines->len; i++)
    {
      double d = geo_chain_nearest (
          &g_array_index (lines, TracingLine, i).chain, at, NULL);
      if (d < least)
        {
          least = d;
          best = i;
        }
    }
  if (lines->len > best + 1)
    g_array_remove_range (lines, best + 1, lines->len - best - 1);
  if (best > 0)
    g_array_remove_range (lines, 0, best);
}

GArray *
tracing_find_strokes (TracingPicture *picture, const TracingPlane *plane,
                      const TracingStrokeWish *wish, TracingTick tick,
                      gpointer data, GError **error)
{
  StrokeInk ink;
  GeoPoint middle = { tracing_picture_get_width (picture) / 2.0,
                      tracing_picture_get_height (picture) / 2.0 };
  double dots = tracing_plane_dots (plane, middle);
  gboolean seen = stroke_ink_find (picture, wish->widest * dots, wish->level,
                                   &ink, tick, data, error);
  g_autoptr (GArray) runs = seen ? stroke_runs (&ink) : NULL;
  stroke_ink_clear (&ink);
  if (runs == NULL)
    return NULL;
  g_autoptr (GArray) found = stroke_link (runs, plane, wish->gap);
  if (found == NULL)
    return fail (TRACING_ERROR_TOO_MUCH,
                 _ ("there are thousands of strokes in the picture: a pattern "
                    "on the paper, or print. Follow the lines by hand"),
                 error);
  g_array_sort (found, by_length);
  GArray *lines = lay (found, wish, 1 / dots);
  if (lines->len == 0)
    {
      g_array_unref (lines);
      return fail (TRACING_ERROR_NOTHING,
                   _ ("no drawn line as long as asked for was found: draw over "
                      "it with a softer pencil or a pen, or take shorter "
                      "lines, too"),
                   error);
    }
  if (wish->clicked)
    keep_nearest (lines, tracing_plane_to_mm (plane, wish->at));
  if (tick != NULL)
    (void)tick (1, data);
  return lines;
}
