/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracing: what was found becomes pieces, the picture lies below them. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/picture-sights.h"
#include "app/tracing-private.h"
#include "drafting/edit.h"
#include "file/document.h"
#include "file/traced.h"

/* From what lies on the table already, mm. */
#define GAP 80

/* Beside what lies there. */
static GeoMotion
place (const AppTracing *t, const Pattern *p)
{
  GeoBox box = geo_box_empty ();
  SewingFacts *facts = app_session_get_facts (t->session);
  for (guint i = 0; i < p->n_pieces; i++)
    {
      const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[i]);
      if (piece != NULL)
        box = geo_box_join (box, piece->bounds);
    }
  for (guint i = 0; i < p->n_pictures; i++)
    {
      GeoPoint corners[4];
      pattern_picture_corners (p->pictures[i], corners);
      for (guint k = 0; k < 4; k++)
        box = geo_box_add (box, corners[k]);
    }
  if (geo_box_is_empty (box))
    return geo_motion_none ();
  return geo_motion_move (box.x1 + GAP, box.y0);
}

static void
set_size (const AppTracing *t, PatternPicture *picture)
{
  const AppTracingSet *set = &t->set;
  switch (set->by)
    {
    case APP_TRACING_BY_SHEET:
      picture->size = PATTERN_SIZE_CORNERS;
      memcpy (picture->places, set->corners, sizeof picture->places);
      picture->true_width = set->width;
      picture->true_height = set->height;
      break;
    case APP_TRACING_BY_DISTANCE:
      picture->size = PATTERN_SIZE_DISTANCE;
      picture->places[0] = set->ends[0];
      picture->places[1] = set->ends[1];
      picture->true_width = set->distance;
      break;
    case APP_TRACING_BY_FILE:
    default:
      picture->size = PATTERN_SIZE_RESOLUTION;
      break;
    }
  memcpy (picture->plane, t->plane.m, sizeof picture->plane);
}

static PatternPicture *
picture_of (const AppTracing *t, GeoMotion lies)
{
  const PatternPicture *old
      = t->again != 0 ? pattern_get_picture (
            app_session_get_pattern (t->session), t->again)
                      : NULL;
  PatternPicture *picture
      = old != NULL
            ? pattern_picture_dup (old)
            : pattern_picture_new (0, t->name, t->bytes, t->width, t->height);
  if (old == NULL)
    picture->place = lies;
  if (old == NULL && t->path != NULL && g_path_is_absolute (t->path)
      && !file_document_keeps_inside (g_bytes_get_size (t->bytes)))
    picture->beside = g_canonicalize_filename (t->path, "/");
  picture->locked = TRUE;
  picture->hidden = FALSE;
  set_size (t, picture);
  return picture;
}

/* Pictures traced again stay where they lie. */
static GeoMotion
where (const AppTracing *t, const Pattern *p)
{
  const PatternPicture *old
      = t->again != 0 ? pattern_get_picture (p, t->again) : NULL;
  return old != NULL ? old->place : place (t, p);
}

/* What is taken, borrowed from the lines found; holes point to where what they are in went. */
static TracingLine *
taken_lines (const AppTracing *t, gsize *n)
{
  guint all = app_tracing_n_lines (t);
  TracingLine *lines = g_new0 (TracingLine, all + 1);
  g_autofree gssize *went = g_new (gssize, all + 1);
  *n = 0;
  for (guint i = 0; i < all; i++)
    {
      const TracingLine *line = app_tracing_get_line (t, i);
      went[i] = -1;
      if (!app_tracing_is_taken (t, i)
          || (line->hole_of >= 0 && went[line->hole_of] < 0))
        continue;
      lines[*n] = *line;
      if (line->hole_of >= 0)
        lines[*n].hole_of = went[line->hole_of];
      went[i] = (gssize)(*n)++;
    }
  return lines;
}

/* A pattern without a name takes the picture's. */
static Pattern *
name_pattern (const Pattern *pattern, const char *picture)
{
  Pattern *named = pattern_dup (pattern);
  g_autofree char *name = g_strdup (picture);
  char *dot = strrchr (name, '.');
  if (*pattern->name != '\0')
    return named;
  if (dot != NULL && dot != name)
    *dot = '\0';
  pattern_set_string (&named->name, name);
  return named;
}

/* The pattern (taken over; NULL: error says why not) with the picture below it becomes a step, and the tracing is
 * over: t is gone then. What is refused leaves the tracing as it was, and is told in it. Returns the picture's number; 0
 * for what was refused. */
static guint
lay (AppTracing *t, Pattern *pattern, GeoMotion lies, const char *label,
     GError **error)
{
  AppSession *session = t->session;
  guint id = 0;
  g_autoptr (Pattern) own = pattern;
  g_autoptr (PatternPicture) picture = picture_of (t, lies);
  g_autoptr (AppSight) sight = app_sight_ref (t->sight);
  Pattern *both
      = own != NULL ? drafting_put_picture (own, picture, &id, error) : NULL;
  if (both == NULL)
    {
      app_tracing_set_trouble (t, (*error)->message);
      app_tracing_tell (t);
      return 0;
    }
  if (!app_session_do (session, label, NULL, both, NULL))
    return 0;
  app_tracing_end (session);
  app_picture_put_sight (session, id, sight);
  return id;
}

/* One step: the pieces, and the picture below them. The first piece is picked, so that its name can be
 * typed. */
gboolean
app_tracing_lay (AppTracing *t)
{
  AppSession *session = t->session;
  const Pattern *p = app_session_get_pattern (session);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) made = g_array_new (FALSE, FALSE, sizeof (guint));
  gsize n;
  g_autofree TracingLine *lines = taken_lines (t, &n);
  FileTracedWish wish = FILE_TRACED_WISH;
  wish.place = where (t, p);
  wish.darts = t->set.darts;
  g_autoptr (Pattern) pieces
      = file_traced_add (p, lines, n, &wish, made, &error);
  Pattern *all = pieces != NULL ? name_pattern (pieces, t->name) : NULL;
  g_autofree char *label = g_strdup_printf (_ ("trace “%s”"), t->name);
  if (lay (t, all, wish.place, label, &error) == 0)
    return FALSE;
  if (made->len > 0)
    {
      app_session_pick_piece (session, g_array_index (made, guint, 0), FALSE);
      g_signal_emit_by_name (session, "name-it");
    }
  return TRUE;
}

guint
app_tracing_lay_picture (AppTracing *t)
{
  const Pattern *p = app_session_get_pattern (t->session);
  g_autoptr (GError) error = NULL;
  if (!t->has_plane)
    return 0;
  g_autofree char *label = g_strdup_printf (_ ("lay “%s” below"), t->name);
  return lay (t, pattern_dup (p), where (t, p), label, &error);
}
