/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracing: what is followed, and which of the outlines found become pieces. */
#include <math.h>
#include <string.h>

#include "app/tracing-private.h"
#include "geometry/region.h"

#define MOST_MASK_BYTES 1500000.0

/* --- what is set -------------------------------------------------------------------------- */

AppTracingWhat
app_tracing_get_what (const AppTracing *t)
{
  return t->set.what;
}

void
app_tracing_set_what (AppTracing *t, AppTracingWhat what)
{
  AppTracingSet was = app_tracing_change_begin (t);
  t->set.what = what;
  if (what != was.what)
    {
      t->set.level = -1;
      t->set.n_clicks = 0;
    }
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

double
app_tracing_get_level (const AppTracing *t)
{
  if (t->set.level >= 0)
    return t->set.level;
  return t->parts != NULL ? tracing_parts_get_level (t->parts) : 0.5;
}

void
app_tracing_set_level (AppTracing *t, double level)
{
  AppTracingSet was = app_tracing_change_begin (t);
  t->set.level = fmin (fmax (level, 0), 1);
  app_tracing_change_end (t, &was, APP_TRACING_STEP_LEVEL);
}

double
app_tracing_get_tolerance (const AppTracing *t)
{
  return t->set.tolerance;
}

void
app_tracing_set_tolerance (AppTracing *t, double mm)
{
  AppTracingSet was = app_tracing_change_begin (t);
  if (!(mm > 0))
    return;
  t->set.tolerance = mm;
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

gboolean
app_tracing_get_holes (const AppTracing *t)
{
  return t->set.holes;
}

void
app_tracing_set_holes (AppTracing *t, gboolean keep)
{
  AppTracingSet was = app_tracing_change_begin (t);
  t->set.holes = keep;
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

gboolean
app_tracing_get_darts (const AppTracing *t)
{
  return t->set.darts;
}

void
app_tracing_set_darts (AppTracing *t, gboolean make)
{
  AppTracingSet was = app_tracing_change_begin (t);
  t->set.darts = make;
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

/* --- outlines --------------------------------------------------------------------------------- */

guint
app_tracing_n_lines (const AppTracing *t)
{
  return t->lines != NULL ? t->lines->len : 0;
}

const TracingLine *
app_tracing_get_line (const AppTracing *t, guint i)
{
  return &g_array_index (t->lines, TracingLine, i);
}

gboolean
app_tracing_is_taken (const AppTracing *t, guint i)
{
  return t->taken[i];
}

guint
app_tracing_n_taken (const AppTracing *t)
{
  guint n = 0;
  for (guint i = 0; i < app_tracing_n_lines (t); i++)
    if (t->taken[i] && app_tracing_get_line (t, i)->hole_of < 0)
      n++;
  return n;
}

guint
app_tracing_n_darts (const AppTracing *t)
{
  guint n = 0;
  for (guint i = 0; i < app_tracing_n_lines (t); i++)
    if (t->taken[i])
      n += (guint)app_tracing_get_line (t, i)->n_darts;
  return n;
}

int
app_tracing_get_hover (const AppTracing *t)
{
  return t->hover >= 0 ? t->hover : t->active;
}

void
app_tracing_drop_lines (AppTracing *t)
{
  g_clear_pointer (&t->lines, g_array_unref);
  g_clear_pointer (&t->taken, g_free);
  t->hover = t->active = -1;
}

/* The sheet that gave true size lies in the picture too. */
static gboolean
is_sheet (const AppTracing *t, const TracingLine *line)
{
  const AppTracingSet *set = &t->set;
  return set->by == APP_TRACING_BY_SHEET && set->has_corners
         && tracing_line_is_sheet (line, &t->plane, set->corners);
}

static gboolean
is_offered (const AppTracing *t, const TracingLine *line)
{
  return (line->closed || t->set.what == APP_TRACING_DRAWN) && !line->cut_off
         && !is_sheet (t, line);
}

/* Inside a closed one, by crossings of a ray with its cubics laid as short chords. */
static gboolean
holds (const TracingLine *line, GeoPoint at)
{
  gboolean in = FALSE;
  GeoPoint a = geo_cubic_point (&line->chain.cubics[0], 0);
  for (gsize i = 0; i < line->chain.count; i++)
    for (int k = 1; k <= 12; k++)
      {
        GeoPoint b = geo_cubic_point (&line->chain.cubics[i], k / 12.0);
        if ((a.y > at.y) != (b.y > at.y)
            && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x))
          in = !in;
        a = b;
      }
  return in;
}

static double
distance_to (const TracingLine *line, GeoPoint at)
{
  double least = INFINITY;
  for (gsize i = 0; i < line->chain.count; i++)
    for (int k = 0; k <= 16; k++)
      least = fmin (least,
                    geo_distance (at, geo_cubic_point (&line->chain.cubics[i],
                                                       k / 16.0)));
  return least;
}

/* The smallest it lies in, for one may lie in another's hole; else the nearest line within
 * reach. Lines are the largest first. */
int
app_tracing_line_at (const AppTracing *t, GeoPoint at, double reach)
{
  int best = -1;
  double least = reach;
  for (guint i = 0; i < app_tracing_n_lines (t); i++)
    {
      const TracingLine *line = app_tracing_get_line (t, i);
      if (line->chain.count == 0)
        continue;
      double d = distance_to (line, at);
      if (d < least)
        {
          least = d;
          best = (int)i;
        }
    }
  if (best >= 0)
    return best;
  for (guint i = 0; i < app_tracing_n_lines (t); i++)
    {
      const TracingLine *line = app_tracing_get_line (t, i);
      if (line->closed && line->chain.count > 0 && holds (line, at))
        best = (int)i;
    }
  return best;
}

/* Holes go with what they are in, unless they were clicked themselves. */
void
app_tracing_count_clicks (AppTracing *t)
{
  guint n = app_tracing_n_lines (t);
  for (guint i = 0; i < n; i++)
    {
      const TracingLine *line = app_tracing_get_line (t, i);
      t->taken[i] = line->hole_of >= 0 && line->hole_of < (gssize)i
                        ? t->taken[line->hole_of]
                        : is_offered (t, line);
    }
  for (guint k = 0; k < t->set.n_clicks; k++)
    {
      int i = app_tracing_line_at (t, t->set.clicks[k], 3);
      if (i < 0)
        continue;
      t->taken[i] = !t->taken[i];
      for (guint h = 0; h < n; h++)
        if (app_tracing_get_line (t, h)->hole_of == i)
          t->taken[h] = t->taken[i];
    }
}

void
app_tracing_take_lines (AppTracing *t, GArray *lines)
{
  app_tracing_drop_lines (t);
  t->lines = lines;
  t->taken = g_new0 (gboolean, lines->len + 1);
  app_tracing_count_clicks (t);
}

/* A click on a line that was clicked before takes that click back. */
static void
toggle_at (AppTracing *t, int line, GeoPoint at)
{
  AppTracingSet was = app_tracing_change_begin (t);
  AppTracingSet *set = &t->set;
  for (guint k = 0; k < set->n_clicks; k++)
    if (app_tracing_line_at (t, set->clicks[k], 3) == line)
      {
        set->n_clicks--;
        memmove (set->clicks + k, set->clicks + k + 1,
                 (set->n_clicks - k) * sizeof (GeoPoint));
        app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
        return;
      }
  if (set->n_clicks < APP_TRACING_MOST_CLICKS)
    set->clicks[set->n_clicks++] = at;
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

void
app_tracing_click_line (AppTracing *t, GeoPoint at, double reach)
{
  int line = app_tracing_line_at (t, at, reach);
  if (t->set.what == APP_TRACING_LIKE && line < 0)
    {
      AppTracingSet was = app_tracing_change_begin (t);
      t->set.like = tracing_plane_to_px (&t->plane, at);
      t->set.has_like = TRUE;
      app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
    }
  else if (line >= 0)
    toggle_at (t, line, at);
}

gboolean
app_tracing_toggle (AppTracing *t)
{
  if (t->set.stage != APP_TRACING_OUTLINE || t->active < 0
      || t->active >= (int)app_tracing_n_lines (t))
    return FALSE;
  const TracingLine *line = app_tracing_get_line (t, (guint)t->active);
  toggle_at (t, t->active, geo_cubic_point (&line->chain.cubics[0], 0));
  return TRUE;
}

/* --- the tint ------------------------------------------------------------------------------------ */

static void
make_mask (AppTracing *t, double level)
{
  double bytes = (double)t->width * t->height;
  guint shrink = (guint)fmax (1, ceil (sqrt (bytes / MOST_MASK_BYTES)));
  if (t->mask == NULL || t->mask_shrink != shrink)
    {
      g_free (t->mask);
      t->mask_shrink = shrink;
      t->mask_width = (t->width + shrink - 1) / shrink;
      t->mask_height = (t->height + shrink - 1) / shrink;
      t->mask_stride = t->mask_width;
      t->mask = g_malloc0 (t->mask_stride * t->mask_height);
    }
  tracing_parts_preview (t->parts, level, shrink, t->mask, t->mask_stride);
}

void
app_tracing_get_tint (AppTracing *t, AppSightTint *tint, guint *serial)
{
  *serial = t->mask_serial;
  tint->bytes = NULL;
  if (t->parts == NULL || t->set.stage != APP_TRACING_OUTLINE)
    return;
  double level = app_tracing_get_level (t);
  if (t->mask == NULL || t->mask_level != level || t->mask_for != t->parts)
    {
      make_mask (t, level);
      t->mask_level = level;
      t->mask_for = t->parts;
    }
  tint->bytes = t->mask;
  tint->stride = t->mask_stride;
  tint->width = t->mask_width;
  tint->height = t->mask_height;
  tint->shrink = t->mask_shrink;
}
