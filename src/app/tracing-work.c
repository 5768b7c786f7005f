/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracing: the long work, given out with all it needs, done on any thread, and taken back. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/tracing-private.h"
#include "file/picture.h"
#include "tracing/stroke.h"

/* The share of its sides that must have been seen of a sheet nobody pointed at. */
#define PLAIN 0.7

struct _AppTracingWork
{
  AppTracingWorkKind kind;
  guint want; /* what was wanted when it was given out */
  GError *error;
  /* What it goes by. */
  GBytes *bytes;
  TracingPicture *picture;
  TracingParts *parts;
  AppTracingSet set;
  TracingPlane plane;
  GeoPoint near;
  gboolean has_near;
  double reach;
  /* What it comes to. */
  AppSight *sight;
  TracingSheet sheets[APP_TRACING_MOST_SHEETS];
  gsize n_sheets;
  TracingParts *parted;
  GArray *lines;
};

/* --- given out ---------------------------------------------------------------------------- */

static gboolean
is_ready (const AppTracing *t, AppTracingWorkKind kind)
{
  const AppTracingSet *set = &t->set;
  if (t->want[kind] == t->have[kind])
    return FALSE;
  switch (kind)
    {
    case APP_TRACING_READ:
      return TRUE;
    case APP_TRACING_FIND_SHEETS:
    case APP_TRACING_REFINE:
      return t->sight != NULL && set->stage == APP_TRACING_SIZE
             && set->by == APP_TRACING_BY_SHEET && t->held < 0;
    case APP_TRACING_PART:
      return set->stage == APP_TRACING_OUTLINE && set->what != APP_TRACING_DRAWN
             && (set->what != APP_TRACING_LIKE || set->has_like);
    case APP_TRACING_FOLLOW:
      return set->stage == APP_TRACING_OUTLINE
             && (t->parts != NULL || set->what == APP_TRACING_DRAWN);
    case APP_TRACING_N_WORK:
    default:
      return FALSE;
    }
}

static AppTracingWork *
give_out (AppTracing *t, AppTracingWorkKind kind)
{
  AppTracingWork *work = g_new0 (AppTracingWork, 1);
  work->kind = kind;
  work->want = t->want[kind];
  if (kind == APP_TRACING_READ)
    work->bytes = g_bytes_ref (t->bytes);
  else
    work->picture = tracing_picture_ref (app_sight_get_picture (t->sight));
  if (t->parts != NULL)
    work->parts = tracing_parts_ref (t->parts);
  work->set = t->set;
  work->plane = t->plane;
  work->near = t->near;
  work->has_near = t->has_near;
  work->reach = t->reach;
  return work;
}

AppTracingWork *
app_tracing_next_work (AppTracing *t)
{
  for (int kind = 0; kind < APP_TRACING_N_WORK; kind++)
    if (is_ready (t, (AppTracingWorkKind)kind))
      return give_out (t, (AppTracingWorkKind)kind);
  return NULL;
}

gboolean
app_tracing_wants (const AppTracing *t, const AppTracingWork *work)
{
  return t->want[work->kind] == work->want && is_ready (t, work->kind);
}

AppTracingWorkKind
app_tracing_work_kind (const AppTracingWork *work)
{
  return work->kind;
}

const char *
app_tracing_work_words (const AppTracingWork *work)
{
  switch (work->kind)
    {
    case APP_TRACING_READ:
      return _ ("Reading the picture…");
    case APP_TRACING_FIND_SHEETS:
      return _ ("Looking for the sheet…");
    case APP_TRACING_REFINE:
      return _ ("Finding its true corners…");
    case APP_TRACING_PART:
      return _ ("Telling pieces from table…");
    case APP_TRACING_FOLLOW:
    case APP_TRACING_N_WORK:
    default:
      return _ ("Following the outlines…");
    }
}

void
app_tracing_work_free (AppTracingWork *work)
{
  if (work == NULL)
    return;
  g_clear_error (&work->error);
  g_clear_pointer (&work->bytes, g_bytes_unref);
  g_clear_pointer (&work->picture, tracing_picture_unref);
  g_clear_pointer (&work->parts, tracing_parts_unref);
  g_clear_pointer (&work->parted, tracing_parts_unref);
  g_clear_pointer (&work->sight, app_sight_unref);
  g_clear_pointer (&work->lines, g_array_unref);
  g_free (work);
}

/* --- done ------------------------------------------------------------------------------------- */

static void
run_read (AppTracingWork *work, GCancellable *cancellable, TracingTick tick,
          gpointer data)
{
  TracingPicture *picture = file_picture_decode (work->bytes, 1, cancellable,
                                                 tick, data, &work->error);
  if (picture == NULL)
    return;
  work->sight = app_sight_new (picture);
  tracing_picture_unref (picture);
}

static void
run_refine (AppTracingWork *work)
{
  work->n_sheets = tracing_refine_sheet (work->picture, work->set.corners,
                                         work->reach, &work->sheets[0])
                       ? 1
                       : 0;
}

static void
run_part (AppTracingWork *work, TracingTick tick, gpointer data)
{
  static const TracingCard cards[] = {
    [APP_TRACING_CARD] = TRACING_CARD_ANY,
    [APP_TRACING_LIGHT] = TRACING_CARD_LIGHT,
    [APP_TRACING_DARK] = TRACING_CARD_DARK,
  };
  if (work->set.what == APP_TRACING_LIKE)
    work->parted = tracing_parts_new_like (
        work->picture, &work->plane, work->set.like, tick, data, &work->error);
  else
    work->parted
        = tracing_parts_new (work->picture, &work->plane, cards[work->set.what],
                             tick, data, &work->error);
}

static void
run_drawn (AppTracingWork *work, TracingTick tick, gpointer data)
{
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  wish.tolerance = work->set.tolerance;
  work->lines = tracing_find_strokes (work->picture, &work->plane, &wish, tick,
                                      data, &work->error);
}

static void
run_follow (AppTracingWork *work, TracingTick tick, gpointer data)
{
  const AppTracingSet *set = &work->set;
  if (set->what == APP_TRACING_DRAWN)
    {
      run_drawn (work, tick, data);
      return;
    }
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  wish.level = set->level;
  wish.tolerance = set->tolerance;
  wish.holes = set->holes;
  work->lines = tracing_find_shapes (work->parts, &work->plane, &wish, tick,
                                     data, &work->error);
}

void
app_tracing_work_run (AppTracingWork *work, GCancellable *cancellable,
                      TracingTick tick, gpointer data)
{
  switch (work->kind)
    {
    case APP_TRACING_READ:
      run_read (work, cancellable, tick, data);
      break;
    case APP_TRACING_FIND_SHEETS:
      work->n_sheets = tracing_find_sheets (
          work->picture, work->set.width, work->set.height,
          work->has_near ? &work->near : NULL, work->sheets,
          APP_TRACING_MOST_SHEETS);
      break;
    case APP_TRACING_REFINE:
      run_refine (work);
      break;
    case APP_TRACING_PART:
      run_part (work, tick, data);
      break;
    case APP_TRACING_FOLLOW:
      run_follow (work, tick, data);
      break;
    case APP_TRACING_N_WORK:
    default:
      break;
    }
}

/* --- taken back --------------------------------------------------------------------------------- */

/* Where none was found there are handles all the same: a rectangle to be drawn onto the sheet. */
static void
put_corners (AppTracing *t)
{
  double w = t->width, h = t->height;
  double height = 0.6 * h, width = height * t->set.width / t->set.height;
  if (width > 0.6 * w)
    {
      height *= 0.6 * w / width;
      width = 0.6 * w;
    }
  const double sx[4] = { -0.5, 0.5, 0.5, -0.5 },
               sy[4] = { -0.5, -0.5, 0.5, 0.5 };
  for (int i = 0; i < 4; i++)
    t->set.corners[i]
        = geo_point (w / 2 + sx[i] * width, h / 2 + sy[i] * height);
  t->set.off = NAN;
  t->set.has_corners = TRUE;
  t->set.guessed = 0xf;
}

static void
take_read (AppTracing *t, AppTracingWork *work)
{
  t->sight = g_steal_pointer (&work->sight);
  TracingPicture *picture = app_sight_get_picture (t->sight);
  t->width = tracing_picture_get_width (picture);
  t->height = tracing_picture_get_height (picture);
  AppTracingSet was = t->set;
  t->set.stage = APP_TRACING_SIZE;
  if (t->set.by == APP_TRACING_BY_SHEET && !t->set.has_corners)
    app_tracing_want (t, APP_TRACING_FIND_SHEETS);
  app_tracing_follow_change (t, &was);
  if (t->to_outline && t->has_plane)
    {
      was = t->set;
      t->set.stage = APP_TRACING_OUTLINE;
      app_tracing_follow_change (t, &was);
    }
}

static void
take_sheet (AppTracing *t, const TracingSheet *sheet, gboolean by_hand)
{
  AppTracingSet was = app_tracing_change_begin (t);
  memcpy (t->set.corners, sheet->corners, sizeof t->set.corners);
  t->set.has_corners = TRUE;
  t->set.off = sheet->off;
  t->set.guessed = 0;
  t->set.by_hand = by_hand;
  app_tracing_follow_change (t, &was);
}

static void
take_sheets (AppTracing *t, AppTracingWork *work)
{
  /* Found by itself it has to be plain to see; where she clicked there is something. */
  double least = work->has_near ? 0.4 : PLAIN;
  t->has_near = FALSE;
  if (work->n_sheets > 0 && work->sheets[0].quality >= least)
    {
      take_sheet (t, &work->sheets[0], work->has_near);
      return;
    }
  AppTracingSet was = app_tracing_change_begin (t);
  if (!t->set.has_corners)
    put_corners (t);
  app_tracing_follow_change (t, &was);
  app_tracing_set_trouble (
      t, work->has_near
             ? _ ("No sheet with such sides was found there. Look at the "
                  "sides, or drag the corners onto the sheet's own.")
             : _ ("No sheet was found by itself. Drag the four corners onto "
                  "the sheet's own."));
}

static void
take_follow (AppTracing *t, AppTracingWork *work)
{
  app_tracing_take_lines (t, g_steal_pointer (&work->lines));
  app_tracing_set_trouble (
      t, t->lines->len > 0
             ? NULL
             : _ ("Nothing to follow was found. Move the level, or say what "
                  "is to be followed."));
}

static void
take (AppTracing *t, AppTracingWork *work)
{
  switch (work->kind)
    {
    case APP_TRACING_READ:
      take_read (t, work);
      break;
    case APP_TRACING_FIND_SHEETS:
      take_sheets (t, work);
      break;
    case APP_TRACING_REFINE:
      if (work->n_sheets > 0)
        take_sheet (t, &work->sheets[0], TRUE);
      break;
    case APP_TRACING_PART:
      t->parts = g_steal_pointer (&work->parted);
      t->mask_serial++;
      break;
    case APP_TRACING_FOLLOW:
      take_follow (t, work);
      break;
    case APP_TRACING_N_WORK:
    default:
      break;
    }
}

/* A picture that can't be read is let go of; what is on the table is as it was. */
static void
take_error (AppTracing *t, const AppTracingWork *work)
{
  AppSession *session = t->session;
  g_autofree char *text = g_strdup (work->error->message);
  if (work->kind == APP_TRACING_READ)
    {
      app_tracing_end (session);
      g_signal_emit_by_name (session, "problem", text);
      return;
    }
  if (work->kind == APP_TRACING_PART)
    t->have[APP_TRACING_FOLLOW] = t->want[APP_TRACING_FOLLOW];
  app_tracing_drop_lines (t);
  app_tracing_set_trouble (t, text);
  app_tracing_tell (t);
}

void
app_tracing_take_work (AppTracing *t, AppTracingWork *work)
{
  if (t->want[work->kind] == work->want)
    {
      t->have[work->kind] = work->want;
      if (work->error != NULL)
        take_error (t, work);
      else
        {
          take (t, work);
          app_tracing_tell (t);
        }
    }
  app_tracing_work_free (work);
}

void
app_tracing_refuse_work (AppTracing *t, const AppTracingWork *work)
{
  if (t->want[work->kind] != work->want)
    return;
  switch (work->kind)
    {
    case APP_TRACING_READ:
      app_tracing_end (t->session);
      return;
    case APP_TRACING_PART:
    case APP_TRACING_FOLLOW:
      app_tracing_drop_outlines (t);
      app_tracing_go_back (t);
      return;
    case APP_TRACING_FIND_SHEETS:
    case APP_TRACING_REFINE:
    case APP_TRACING_N_WORK:
    default:
      t->have[work->kind] = work->want;
      if (!t->set.has_corners)
        put_corners (t);
      app_tracing_tell (t);
    }
}
