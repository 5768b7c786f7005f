/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/picture-sights.h"

#include <string.h>

#include "file/picture.h"

typedef struct
{
  GHashTable *
      sights; /* picture's number -> AppSight; NULL: being read, or could not be */
  GCancellable *cancel;
} Sights;

static void
sights_free (gpointer data)
{
  Sights *own = data;
  g_cancellable_cancel (own->cancel);
  g_object_unref (own->cancel);
  g_hash_table_unref (own->sights);
  g_free (own);
}

static void
unref_sight (gpointer sight)
{
  if (sight != NULL)
    app_sight_unref (sight);
}

static Sights *
sights_of (AppSession *session)
{
  Sights *own = g_object_get_data (G_OBJECT (session), "picture-sights");
  if (own != NULL)
    return own;
  own = g_new (Sights, 1);
  own->sights = g_hash_table_new_full (NULL, NULL, NULL, unref_sight);
  own->cancel = g_cancellable_new ();
  g_object_set_data_full (G_OBJECT (session), "picture-sights", own,
                          sights_free);
  return own;
}

void
app_picture_put_sight (AppSession *session, guint picture, AppSight *sight)
{
  g_hash_table_insert (sights_of (session)->sights, GUINT_TO_POINTER (picture),
                       sight != NULL ? app_sight_ref (sight) : NULL);
  g_signal_emit_by_name (session, "picture-read");
}

typedef struct
{
  GBytes *bytes;
  guint picture;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;
  g_bytes_unref (job->bytes);
  g_free (job);
}

static void
read_sight (GTask *task, gpointer source, gpointer data, GCancellable *cancel)
{
  (void)source;
  Job *job = data;
  GError *error = NULL;
  g_autoptr (TracingPicture) pixels
      = file_picture_decode (job->bytes, 1, cancel, NULL, NULL, &error);
  if (pixels != NULL)
    g_task_return_pointer (task, app_sight_new (pixels), unref_sight);
  else
    g_task_return_error (task, error);
}

static void
sight_read (GObject *source, GAsyncResult *result, gpointer data)
{
  (void)data;
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (AppSight) sight = g_task_propagate_pointer (G_TASK (result), NULL);
  if (sight != NULL)
    app_picture_put_sight (APP_SESSION (source), job->picture, sight);
}

AppSight *
app_picture_sight (AppSession *session, const PatternPicture *picture)
{
  Sights *own = sights_of (session);
  gpointer key = GUINT_TO_POINTER (picture->id), sight = NULL;
  if (g_hash_table_lookup_extended (own->sights, key, NULL, &sight))
    return sight;
  if (picture->bytes == NULL)
    return NULL;
  g_hash_table_insert (own->sights, key, NULL);
  Job *job = g_new (Job, 1);
  *job = (Job){ g_bytes_ref (picture->bytes), picture->id };
  g_autoptr (GTask) task = g_task_new (session, own->cancel, sight_read, NULL);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, read_sight);
  return NULL;
}

guint
app_picture_at (const Pattern *p, GeoPoint at, GeoPoint *px)
{
  for (guint i = p->n_pictures; i-- > 0;)
    {
      const PatternPicture *picture = p->pictures[i];
      if (!picture->hidden && pattern_picture_to_px (picture, at, px)
          && px->x >= 0 && px->y >= 0 && px->x < picture->width
          && px->y < picture->height)
        return picture->id;
    }
  return 0;
}

TracingPlane
app_picture_plane (const PatternPicture *picture)
{
  TracingPlane plane;
  memcpy (plane.m, picture->plane, sizeof plane.m);
  tracing_plane_move (&plane, picture->place);
  return plane;
}
