/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracing: true size, and the handles by which it is set. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/tracing-private.h"
#include "pattern/length-text.h"

#define NOT_SWAPPED 0.15
/* Sides of a whole picture of pieces, mm, that are not believed. */
#define DOUBT_SMALL 100.0
#define DOUBT_LARGE 3000.0
/* A sheet seen so much larger at one corner than at another is seen slantwise. */
#define SLANT 1.05

/* ISO 216 and ANSI/ASME Y14.1, from memory. */
GeoPoint
app_tracing_paper_size (AppTracingPaper paper)
{
  return paper == APP_TRACING_LETTER ? geo_point (215.9, 279.4)
                                     : geo_point (210, 297);
}

/* --- the plane -------------------------------------------------------------------------- */

static gboolean
find_plane (const AppTracing *t, TracingPlane *plane, GError **error)
{
  const AppTracingSet *set = &t->set;
  switch (set->by)
    {
    case APP_TRACING_BY_SHEET:
      return set->has_corners && set->guessed == 0
             && tracing_plane_from_corners (set->corners, set->width,
                                            set->height, plane, error);
    case APP_TRACING_BY_DISTANCE:
      return set->n_ends == 2 && set->distance > 0
             && tracing_plane_from_distance (set->ends[0], set->ends[1],
                                             set->distance, plane, error);
    case APP_TRACING_BY_FILE:
    default:
      return t->dots_mm.x > 0
             && tracing_plane_from_resolution (t->dots_mm, plane, error);
    }
}

void
app_tracing_derive_plane (AppTracing *t)
{
  g_autoptr (GError) error = NULL;
  TracingPlane plane = t->pixels;
  t->has_plane = FALSE;
  if (t->sight == NULL)
    return;
  gboolean found = find_plane (t, &plane, &error);
  if (error != NULL)
    app_tracing_set_trouble (t, error->message);
  if (!found)
    return;
  if (!tracing_plane_is_fit (&plane, t->width, t->height))
    {
      app_tracing_set_trouble (
          t, _ ("That would make the picture larger or smaller than it can "
                "be. Look at the size typed, and at where the handles are."));
      return;
    }
  tracing_plane_set_upright (&plane, t->width, t->height);
  t->plane = plane;
  t->has_plane = TRUE;
}

gboolean
app_tracing_get_plane (const AppTracing *t, TracingPlane *plane)
{
  if (t->has_plane && plane != NULL)
    *plane = t->plane;
  return t->has_plane;
}

/* --- what is set -------------------------------------------------------------------------- */

AppTracingBy
app_tracing_get_by (const AppTracing *t)
{
  return t->set.by;
}

/* Looked for by itself, until she has put corners herself. */
static void
want_sheets (AppTracing *t)
{
  if (t->set.by == APP_TRACING_BY_SHEET && !t->set.by_hand && t->sight != NULL)
    app_tracing_want (t, APP_TRACING_FIND_SHEETS);
}

void
app_tracing_set_by (AppTracing *t, AppTracingBy by)
{
  AppTracingSet was = app_tracing_change_begin (t);
  if (by == was.by || (by == APP_TRACING_BY_FILE && !(t->dots_mm.x > 0)))
    return;
  t->set.by = by;
  t->active = t->hover = -1;
  if (!t->set.has_corners)
    want_sheets (t);
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

gboolean
app_tracing_has_dots (const AppTracing *t, double *dots_mm)
{
  *dots_mm = t->dots_mm.x;
  return t->dots_mm.x > 0;
}

AppTracingPaper
app_tracing_get_paper (const AppTracing *t)
{
  return t->set.paper;
}

void
app_tracing_set_paper (AppTracing *t, AppTracingPaper paper)
{
  AppTracingSet was = app_tracing_change_begin (t);
  t->set.paper = paper;
  if (paper != APP_TRACING_OTHER)
    {
      GeoPoint size = app_tracing_paper_size (paper);
      t->set.width = size.x;
      t->set.height = size.y;
    }
  if (t->set.width != was.width || t->set.height != was.height)
    want_sheets (t);
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

double
app_tracing_get_width (const AppTracing *t)
{
  return t->set.width;
}

double
app_tracing_get_height (const AppTracing *t)
{
  return t->set.height;
}

void
app_tracing_set_sides (AppTracing *t, double width, double height)
{
  AppTracingSet was = app_tracing_change_begin (t);
  if (!(width > 0) || !(height > 0)
      || (width == was.width && height == was.height))
    return;
  t->set.width = width;
  t->set.height = height;
  want_sheets (t);
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

void
app_tracing_swap_sides (AppTracing *t)
{
  AppTracingSet was = app_tracing_change_begin (t);
  if (!was.has_corners)
    return;
  for (int i = 0; i < 4; i++)
    t->set.corners[i] = was.corners[(i + 1) % 4];
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

/* The view tells a ratio r times that of the sides; with the sides swapped it would be r (w / h)^2 times.
 * They are the wrong way round where that is nearer to 1. */
gboolean
app_tracing_seems_swapped (const AppTracing *t)
{
  const AppTracingSet *set = &t->set;
  if (set->by != APP_TRACING_BY_SHEET || !set->has_corners || !t->has_plane)
    return FALSE;
  double r = tracing_plane_side_ratio (set->corners, set->width, set->height,
                                       t->width, t->height);
  if (!(r > 0))
    return FALSE;
  double now = fabs (log (r));
  double then = fabs (log (r) + 2 * log (set->width / set->height));
  return now > NOT_SWAPPED && then < now;
}

double
app_tracing_get_distance (const AppTracing *t)
{
  return t->set.distance;
}

void
app_tracing_set_distance (AppTracing *t, double mm)
{
  AppTracingSet was = app_tracing_change_begin (t);
  if (!(mm > 0))
    return;
  t->set.distance = mm;
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
}

/* --- how true it is ------------------------------------------------------------------------- */

static char *
length_words (const AppTracing *t, double mm)
{
  PatternUnit unit = app_session_get_pattern (t->session)->unit;
  return pattern_length_format (mm, unit == PATTERN_CM ? PATTERN_MM : unit,
                                TRUE);
}

char *
app_tracing_residual_words (const AppTracing *t)
{
  const AppTracingSet *set = &t->set;
  if (!t->has_plane)
    return NULL;
  if (set->by == APP_TRACING_BY_FILE)
    return g_strdup_printf (_ ("%.0f dots to the inch, the file says"),
                            t->dots_mm.x * 25.4);
  GeoPoint middle = { 0, 0 };
  guint n = app_tracing_n_handles (t);
  for (guint i = 0; i < n; i++)
    middle = geo_along (middle, app_tracing_get_handle (t, i), 1.0 / n);
  double mm_px = 1 / tracing_plane_dots (&t->plane, middle);
  if (set->by == APP_TRACING_BY_DISTANCE)
    {
      g_autofree char *one = length_words (t, mm_px);
      return g_strdup_printf (_ ("one pixel is %s"), one);
    }
  if (isnan (set->off))
    {
      g_autofree char *one = length_words (t, mm_px);
      return g_strdup_printf (_ ("corners put by hand; one pixel is %s"), one);
    }
  /* Rounded up: never better than it is. */
  g_autofree char *off
      = length_words (t, ceil (fmax (set->off * mm_px, 0.01) * 10) / 10);
  return g_strdup_printf (_ ("sides straight to within %s"), off);
}

/* Whether the sheet that was found is seen slantwise. */
static gboolean
is_slanted (const AppTracing *t)
{
  const AppTracingSet *set = &t->set;
  TracingPlane plane;
  double least = INFINITY, most = 0;
  if (!set->has_corners || set->guessed != 0
      || !tracing_plane_from_corners (set->corners, set->width, set->height,
                                      &plane, NULL))
    return FALSE;
  for (int i = 0; i < 4; i++)
    {
      double dots = tracing_plane_dots (&plane, set->corners[i]);
      least = fmin (least, dots);
      most = fmax (most, dots);
    }
  return most > SLANT * least;
}

char *
app_tracing_doubt_words (const AppTracing *t)
{
  const AppTracingSet *set = &t->set;
  if (!t->has_plane)
    return NULL;
  PatternUnit unit = app_session_get_pattern (t->session)->unit;
  GeoBox box = tracing_plane_box (&t->plane, t->width, t->height);
  double large = fmax (geo_box_width (box), geo_box_height (box));
  g_autofree char *size = pattern_length_format (large, unit, TRUE);
  if (large > DOUBT_LARGE || large < DOUBT_SMALL)
    return g_strdup_printf (_ ("That makes the whole picture %s long. Look at "
                               "the length typed, and its unit."),
                            size);
  if (set->by == APP_TRACING_BY_DISTANCE && is_slanted (t))
    return g_strdup (_ ("The sheet in this picture shows that it was taken "
                        "aslant, and two places leave that in: go by the "
                        "sheet."));
  if (app_tracing_seems_swapped (t))
    return g_strdup (_ ("The sides seem to be the wrong way round."));
  if (set->by == APP_TRACING_BY_SHEET && set->by_hand && isnan (set->off)
      && t->held < 0
      && t->want[APP_TRACING_REFINE] == t->have[APP_TRACING_REFINE])
    return g_strdup (
        _ ("Nothing in the picture confirms these corners: let "
           "them go near the sheet's own, or click in the sheet."));
  return NULL;
}

/* --- handles -------------------------------------------------------------------------------- */

guint
app_tracing_n_handles (const AppTracing *t)
{
  if (t->set.stage != APP_TRACING_SIZE || t->sight == NULL)
    return 0;
  return t->set.by == APP_TRACING_BY_SHEET      ? (t->set.has_corners ? 4 : 0)
         : t->set.by == APP_TRACING_BY_DISTANCE ? t->set.n_ends
                                                : 0;
}

GeoPoint
app_tracing_get_handle (const AppTracing *t, guint i)
{
  return t->set.by == APP_TRACING_BY_SHEET ? t->set.corners[i % 4]
                                           : t->set.ends[i % 2];
}

static void
set_handle (AppTracing *t, guint i, GeoPoint at)
{
  at.x = fmin (fmax (at.x, 0), t->width);
  at.y = fmin (fmax (at.y, 0), t->height);
  if (t->set.by == APP_TRACING_BY_SHEET)
    {
      t->set.corners[i % 4] = at;
      t->set.by_hand = TRUE;
      t->set.guessed &= ~(1u << (i % 4));
      t->set.off = NAN;
    }
  else
    t->set.ends[i % 2] = at;
}

int
app_tracing_get_active (const AppTracing *t)
{
  return t->held >= 0     ? t->held
         : t->hover >= 0  ? t->hover
         : t->active >= 0 ? t->active
                          : -1;
}

gboolean
app_tracing_is_holding (const AppTracing *t)
{
  return t->held >= 0;
}

static int
handle_at (const AppTracing *t, GeoPoint at, double reach)
{
  int best = -1;
  double least = reach;
  for (guint i = 0; i < app_tracing_n_handles (t); i++)
    {
      double d = geo_distance (at, app_tracing_get_handle (t, i));
      if (d <= least)
        {
          least = d;
          best = (int)i;
        }
    }
  return best;
}

void
app_tracing_hover (AppTracing *t, GeoPoint at, double reach)
{
  int was = t->hover;
  t->hover = t->set.stage == APP_TRACING_SIZE
                 ? handle_at (t, at, reach)
                 : app_tracing_line_at (t, at, reach);
  if (t->hover != was)
    app_tracing_tell (t);
}

void
app_tracing_leave (AppTracing *t)
{
  if (t->hover < 0)
    return;
  t->hover = -1;
  app_tracing_tell (t);
}

/* --- pressed, dragged, let go ------------------------------------------------------------------ */

void
app_tracing_press (AppTracing *t, GeoPoint at, double reach)
{
  t->pressed = TRUE;
  t->dragged = FALSE;
  t->press_at = at;
  t->press_reach = reach;
  if (t->set.stage != APP_TRACING_SIZE)
    return;
  t->held = handle_at (t, at, reach);
  t->held_set = t->set;
  t->active = -1;
  if (t->held >= 0)
    {
      app_tracing_unwant (t, APP_TRACING_REFINE);
      t->held_from = app_tracing_get_handle (t, (guint)t->held);
      t->held_by = geo_sub (t->held_from, at);
    }
  app_tracing_tell (t);
}

/* A line drawn anew from where it was pressed; or a second end. */
static void
take_end (AppTracing *t)
{
  t->held_by = geo_point (0, 0);
  if (t->set.n_ends != 1)
    {
      t->set.ends[0] = t->press_at;
      t->set.n_ends = 1;
    }
  t->held = 1;
  t->set.n_ends = 2;
}

void
app_tracing_drag (AppTracing *t, GeoPoint at)
{
  if (!t->pressed || t->set.stage != APP_TRACING_SIZE)
    return;
  if (!t->dragged && geo_distance (at, t->press_at) < t->press_reach / 3)
    return;
  t->dragged = TRUE;
  if (t->held < 0 && t->set.by == APP_TRACING_BY_DISTANCE)
    take_end (t);
  if (t->held < 0)
    return;
  set_handle (t, (guint)t->held, geo_add (at, t->held_by));
  app_tracing_follow_change (t, &t->held_set);
  app_tracing_tell (t);
}

/* Corners set by hand go to the sheet's true ones, where these are near. */
static void
want_refined (AppTracing *t)
{
  t->reach = fmax (8, 1.5 * t->press_reach);
  app_tracing_want (t, APP_TRACING_REFINE);
}

static void
click (AppTracing *t, GeoPoint at)
{
  if (t->set.stage == APP_TRACING_OUTLINE)
    app_tracing_click_line (t, at, t->press_reach);
  else if (t->set.by == APP_TRACING_BY_SHEET)
    {
      t->near = at;
      t->has_near = TRUE;
      app_tracing_want (t, APP_TRACING_FIND_SHEETS);
    }
  else if (t->set.by == APP_TRACING_BY_DISTANCE && t->set.n_ends < 2)
    {
      t->set.ends[t->set.n_ends++] = at;
      app_tracing_change_end (t, &t->held_set, APP_TRACING_STEP_OTHER);
    }
}

void
app_tracing_release (AppTracing *t, GeoPoint at, gboolean exact)
{
  if (!t->pressed)
    return;
  int held = t->held;
  t->pressed = FALSE;
  t->held = -1;
  if (!t->dragged)
    {
      if (held >= 0)
        t->active = held;
      else
        click (t, at);
    }
  else if (held >= 0)
    {
      if (t->set.by == APP_TRACING_BY_SHEET && !exact)
        want_refined (t);
      t->hover = held;
      app_tracing_change_end (t, &t->held_set, APP_TRACING_STEP_OTHER);
    }
  app_tracing_tell (t);
}

gboolean
app_tracing_drop (AppTracing *t)
{
  if (!t->pressed)
    return FALSE;
  AppTracingSet was = t->set;
  if (t->set.stage == APP_TRACING_SIZE)
    t->set = t->held_set;
  t->pressed = FALSE;
  t->held = -1;
  app_tracing_follow_change (t, &was);
  app_tracing_tell (t);
  return TRUE;
}

/* --- keys ---------------------------------------------------------------------------------------- */

void
app_tracing_step (AppTracing *t, int by)
{
  int n = t->set.stage == APP_TRACING_SIZE ? (int)app_tracing_n_handles (t)
                                           : (int)app_tracing_n_lines (t);
  t->hover = -1;
  if (n == 0)
    t->active = -1;
  else if (t->active < 0)
    t->active = by > 0 ? 0 : n - 1;
  else
    t->active = (t->active + by + n) % n;
  app_tracing_tell (t);
}

gboolean
app_tracing_nudge (AppTracing *t, double dx, double dy)
{
  if (t->set.stage != APP_TRACING_SIZE || t->active < 0
      || t->active >= (int)app_tracing_n_handles (t))
    return FALSE;
  AppTracingSet was = app_tracing_change_begin (t);
  GeoPoint at = app_tracing_get_handle (t, (guint)t->active);
  t->hover = -1;
  set_handle (t, (guint)t->active, geo_add (at, geo_point (dx, dy)));
  app_tracing_change_end (t, &was, APP_TRACING_STEP_NUDGE);
  return TRUE;
}

const char *
app_tracing_get_cursor (const AppTracing *t)
{
  if (t->held >= 0)
    return "grabbing";
  if (t->hover >= 0)
    return t->set.stage == APP_TRACING_SIZE ? "grab" : "pointer";
  if (t->set.stage == APP_TRACING_SIZE && t->set.by != APP_TRACING_BY_FILE)
    return "crosshair";
  return t->set.what == APP_TRACING_LIKE ? "crosshair" : "default";
}
