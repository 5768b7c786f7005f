/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/tracing.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/tracing-private.h"
#include "file/picture.h"
#include "sewing/words.h"

#define MOST_STEPS 200

/* --- beginning and ending ------------------------------------------------------------ */

static void
tracing_free (AppTracing *t)
{
  app_tracing_drop_lines (t);
  g_clear_pointer (&t->bytes, g_bytes_unref);
  g_clear_pointer (&t->sight, app_sight_unref);
  g_clear_pointer (&t->parts, tracing_parts_unref);
  g_array_unref (t->before);
  g_array_unref (t->after);
  g_free (t->mask);
  g_free (t->path);
  g_free (t->name);
  g_free (t->trouble);
  g_free (t);
}

void
app_session_drop_tracing (AppSession *s)
{
  g_clear_pointer (&s->tracing, tracing_free);
  s->tracing_aside = FALSE;
}

AppTracing *
app_tracing_get (AppSession *session)
{
  g_return_val_if_fail (APP_IS_SESSION (session), NULL);
  return session->tracing_aside ? NULL : session->tracing;
}

void
app_tracing_tell (AppTracing *t)
{
  g_signal_emit_by_name (t->session, "tracing-changed");
}

void
app_tracing_end (AppSession *session)
{
  g_return_if_fail (APP_IS_SESSION (session));
  if (session->tracing == NULL)
    return;
  app_session_drop_tracing (session);
  g_signal_emit_by_name (session, "tracing-changed");
}

void
app_tracing_put_aside (AppSession *session)
{
  g_return_if_fail (APP_IS_SESSION (session));
  AppTracing *t = app_tracing_get (session);
  if (t == NULL)
    return;
  if (t->set.stage == APP_TRACING_READING)
    {
      app_tracing_end (session);
      return;
    }
  app_tracing_drop (t);
  session->tracing_aside = TRUE;
  g_signal_emit_by_name (session, "tracing-changed");
}

gboolean
app_tracing_is_aside (AppSession *session)
{
  g_return_val_if_fail (APP_IS_SESSION (session), FALSE);
  return session->tracing != NULL && session->tracing_aside;
}

void
app_tracing_take_up (AppSession *session)
{
  g_return_if_fail (APP_IS_SESSION (session));
  if (!app_tracing_is_aside (session))
    return;
  session->tracing_aside = FALSE;
  g_signal_emit_by_name (session, "tracing-changed");
}

static AppTracing *
tracing_new (AppSession *session, GBytes *bytes, const char *path,
             const char *name, const FilePictureFacts *facts)
{
  AppTracing *t = g_new0 (AppTracing, 1);
  t->session = session;
  t->bytes = g_bytes_ref (bytes);
  t->path = g_strdup (path);
  t->name = g_strdup (name);
  t->width = facts->width;
  t->height = facts->height;
  t->dots_mm = facts->dots_mm;
  t->before = g_array_new (FALSE, FALSE, sizeof (AppTracingSet));
  t->after = g_array_new (FALSE, FALSE, sizeof (AppTracingSet));
  t->active = t->hover = t->held = -1;
  t->reach = 24;
  t->pixels = (TracingPlane){ { 1, 0, 0, 0, 1, 0, 0, 0, 1 } };
  GeoPoint a4 = app_tracing_paper_size (APP_TRACING_A4);
  t->set = (AppTracingSet){ .by = t->dots_mm.x > 0 ? APP_TRACING_BY_FILE
                                                   : APP_TRACING_BY_SHEET,
                            .width = a4.x,
                            .height = a4.y,
                            .off = NAN,
                            .level = -1,
                            .tolerance = 0.3,
                            .darts = TRUE };
  if (app_session_get_pattern (session)->unit == PATTERN_INCH)
    {
      GeoPoint letter = app_tracing_paper_size (APP_TRACING_LETTER);
      t->set.paper = APP_TRACING_LETTER;
      t->set.width = letter.x;
      t->set.height = letter.y;
    }
  app_tracing_want (t, APP_TRACING_READ);
  return t;
}

static void
begin (AppSession *session, AppTracing *t)
{
  app_session_drop_tracing (session);
  app_session_cancel (session);
  session->tracing = t;
  app_tracing_tell (t);
}

gboolean
app_tracing_begin (AppSession *session, GBytes *bytes, const char *path,
                   const char *name, GError **error)
{
  g_return_val_if_fail (APP_IS_SESSION (session) && bytes != NULL, FALSE);
  FilePictureFacts facts;
  if (!file_picture_look (bytes, &facts, error))
    return FALSE;
  begin (session, tracing_new (session, bytes, path, name, &facts));
  return TRUE;
}

/* What was set when the picture was laid. */
static void
set_again (AppTracing *t, const PatternPicture *picture)
{
  AppTracingSet *set = &t->set;
  switch (picture->size)
    {
    case PATTERN_SIZE_CORNERS:
      set->by = APP_TRACING_BY_SHEET;
      set->paper = APP_TRACING_OTHER;
      for (int paper = APP_TRACING_A4; paper < APP_TRACING_OTHER; paper++)
        {
          GeoPoint size = app_tracing_paper_size ((AppTracingPaper)paper);
          if (fabs (size.x - picture->true_width) < 0.01
              && fabs (size.y - picture->true_height) < 0.01)
            set->paper = (AppTracingPaper)paper;
        }
      set->width = picture->true_width;
      set->height = picture->true_height;
      set->has_corners = TRUE;
      memcpy (set->corners, picture->places, sizeof set->corners);
      break;
    case PATTERN_SIZE_DISTANCE:
      set->by = APP_TRACING_BY_DISTANCE;
      set->n_ends = 2;
      set->ends[0] = picture->places[0];
      set->ends[1] = picture->places[1];
      set->distance = picture->true_width;
      break;
    case PATTERN_SIZE_RESOLUTION:
    case PATTERN_SIZE_NONE:
    default:
      break;
    }
}

gboolean
app_tracing_begin_again (AppSession *session, guint id, gboolean outline,
                         GError **error)
{
  g_return_val_if_fail (APP_IS_SESSION (session), FALSE);
  const Pattern *p = app_session_get_pattern (session);
  const PatternPicture *picture = pattern_get_picture (p, id);
  FilePictureFacts facts;
  if (picture == NULL || picture->bytes == NULL)
    {
      g_set_error (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_BAD,
                   _ ("The picture's file was not found, so there is nothing "
                      "to trace. Put it back where it was, or bring it in "
                      "anew."));
      return FALSE;
    }
  if (!file_picture_look (picture->bytes, &facts, error))
    return FALSE;
  AppTracing *t = tracing_new (session, picture->bytes, picture->beside,
                               picture->name, &facts);
  t->again = id;
  t->to_outline = outline;
  set_again (t, picture);
  begin (session, t);
  return TRUE;
}

/* --- changes ---------------------------------------------------------------------------- */

void
app_tracing_want (AppTracing *t, AppTracingWorkKind kind)
{
  t->want[kind]++;
}

void
app_tracing_unwant (AppTracing *t, AppTracingWorkKind kind)
{
  t->have[kind] = ++t->want[kind];
}

void
app_tracing_set_trouble (AppTracing *t, const char *text)
{
  /* Reasons of the layer below begin small, as the terminal puts them after a colon. */
  char *own = text != NULL ? sewing_words_capital (g_strdup (text)) : NULL;
  g_free (t->trouble);
  t->trouble = own;
}

AppTracingSet
app_tracing_change_begin (const AppTracing *t)
{
  return t->set;
}

static gboolean
same_plane (const TracingPlane *a, const TracingPlane *b)
{
  return memcmp (a->m, b->m, sizeof a->m) == 0;
}

void
app_tracing_drop_outlines (AppTracing *t)
{
  app_tracing_drop_lines (t);
  g_clear_pointer (&t->parts, tracing_parts_unref);
  app_tracing_unwant (t, APP_TRACING_PART);
  app_tracing_unwant (t, APP_TRACING_FOLLOW);
  t->mask_serial++;
  t->outlined = FALSE;
}

static gboolean
same_clicks (const AppTracingSet *a, const AppTracingSet *b)
{
  return a->n_clicks == b->n_clicks
         && memcmp (a->clicks, b->clicks, a->n_clicks * sizeof (GeoPoint)) == 0;
}

/* Pieces have to be parted anew where the plane or what is followed is another; outlines followed
 * anew for anything else that they go by. */
static void
want_outlines (AppTracing *t, const AppTracingSet *was, gboolean moved)
{
  const AppTracingSet *set = &t->set;
  gboolean other
      = moved || set->what != was->what
        || (set->what == APP_TRACING_LIKE && !geo_same (set->like, was->like));
  if (set->stage != APP_TRACING_OUTLINE)
    {
      if (moved && t->outlined)
        app_tracing_drop_outlines (t);
      return;
    }
  if (other || !t->outlined)
    {
      app_tracing_drop_outlines (t);
      t->outlined = TRUE;
      if (set->what != APP_TRACING_DRAWN)
        app_tracing_want (t, APP_TRACING_PART);
      app_tracing_want (t, APP_TRACING_FOLLOW);
      app_tracing_set_trouble (t, NULL);
    }
  else if (set->level != was->level || set->tolerance != was->tolerance
           || set->holes != was->holes)
    {
      app_tracing_want (t, APP_TRACING_FOLLOW);
      app_tracing_set_trouble (t, NULL);
    }
}

void
app_tracing_follow_change (AppTracing *t, const AppTracingSet *was)
{
  TracingPlane plane = t->plane;
  gboolean had = t->has_plane;
  if (t->set.stage == APP_TRACING_SIZE)
    app_tracing_set_trouble (t, NULL);
  app_tracing_derive_plane (t);
  gboolean moved = had != t->has_plane || !same_plane (&plane, &t->plane);
  if (t->set.stage != was->stage)
    t->active = t->hover = -1;
  if (t->set.level != was->level)
    t->mask_serial++;
  want_outlines (t, was, moved);
  if (!same_clicks (&t->set, was))
    app_tracing_count_clicks (t);
}

/* A run of steps of a slider, or of nudges, is one. */
static void
remember (AppTracing *t, const AppTracingSet *was, AppTracingStep step)
{
  g_array_set_size (t->after, 0);
  gboolean runs
      = step != APP_TRACING_STEP_OTHER && step == t->step && t->before->len > 0;
  t->step = step;
  if (runs)
    return;
  if (t->before->len >= MOST_STEPS)
    g_array_remove_index (t->before, 0);
  g_array_append_val (t->before, *was);
}

void
app_tracing_change_end (AppTracing *t, const AppTracingSet *was,
                        AppTracingStep step)
{
  if (memcmp (&t->set, was, sizeof *was) == 0)
    return;
  remember (t, was, step);
  app_tracing_follow_change (t, was);
  app_tracing_tell (t);
}

static void
swing (AppTracing *t, GArray *from, GArray *to)
{
  if (from->len == 0)
    return;
  AppTracingSet was = t->set;
  g_array_append_val (to, was);
  t->set = g_array_index (from, AppTracingSet, from->len - 1);
  g_array_set_size (from, from->len - 1);
  t->step = APP_TRACING_STEP_OTHER;
  t->held = -1;
  t->pressed = FALSE;
  app_tracing_unwant (t, APP_TRACING_REFINE);
  if (t->set.by == APP_TRACING_BY_SHEET && !t->set.has_corners)
    app_tracing_want (t, APP_TRACING_FIND_SHEETS);
  app_tracing_follow_change (t, &was);
  app_tracing_tell (t);
}

gboolean
app_tracing_can_undo (const AppTracing *t)
{
  return t->before->len > 0;
}

void
app_tracing_undo (AppTracing *t)
{
  swing (t, t->before, t->after);
}

gboolean
app_tracing_can_redo (const AppTracing *t)
{
  return t->after->len > 0;
}

void
app_tracing_redo (AppTracing *t)
{
  swing (t, t->after, t->before);
}

/* --- stages ------------------------------------------------------------------------------ */

AppTracingStage
app_tracing_get_stage (const AppTracing *t)
{
  return t->set.stage;
}

gboolean
app_tracing_can_go_on (const AppTracing *t)
{
  switch (t->set.stage)
    {
    case APP_TRACING_SIZE:
      return t->has_plane;
    case APP_TRACING_OUTLINE:
      return app_tracing_n_taken (t) > 0
             && t->have[APP_TRACING_FOLLOW] == t->want[APP_TRACING_FOLLOW];
    case APP_TRACING_READING:
    default:
      return FALSE;
    }
}

gboolean
app_tracing_go_on (AppTracing *t)
{
  if (!app_tracing_can_go_on (t))
    return FALSE;
  if (t->set.stage == APP_TRACING_OUTLINE)
    return app_tracing_lay (t);
  AppTracingSet was = app_tracing_change_begin (t);
  t->set.stage = APP_TRACING_OUTLINE;
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
  return TRUE;
}

gboolean
app_tracing_go_back (AppTracing *t)
{
  if (t->set.stage != APP_TRACING_OUTLINE)
    return FALSE;
  AppTracingSet was = app_tracing_change_begin (t);
  t->set.stage = APP_TRACING_SIZE;
  app_tracing_change_end (t, &was, APP_TRACING_STEP_OTHER);
  return TRUE;
}

/* --- what there is ------------------------------------------------------------------------- */

const char *
app_tracing_get_name (const AppTracing *t)
{
  return t->name;
}

AppSight *
app_tracing_get_sight (AppTracing *t)
{
  return t->sight;
}

const TracingPlane *
app_tracing_get_shown (const AppTracing *t)
{
  return t->set.stage == APP_TRACING_OUTLINE && t->has_plane ? &t->plane
                                                             : &t->pixels;
}

GeoBox
app_tracing_get_box (const AppTracing *t)
{
  return tracing_plane_box (app_tracing_get_shown (t), t->width, t->height);
}
