/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/follow-picture.h"

#include "app/picture-sights.h"
#include "tracing/stroke.h"

/* The middle of a stroke is meant before its sides, which are borders too. */
static gboolean
snap (AppSession *session, GeoPoint at, double reach, GeoPoint *snapped,
      gpointer data)
{
  (void)data;
  const Pattern *p = app_session_get_shown (session);
  GeoPoint px, found;
  const PatternPicture *picture
      = pattern_get_picture (p, app_picture_at (p, at, &px));
  AppSight *sight
      = picture != NULL ? app_picture_sight (session, picture) : NULL;
  if (sight == NULL)
    return FALSE;
  TracingPicture *pixels = app_sight_get_picture (sight);
  TracingPlane plane = app_picture_plane (picture);
  double reach_px = reach * tracing_plane_dots (&plane, px);
  return (tracing_snap_point (pixels, px, TRACING_TO_LINE, reach_px, &found)
          || tracing_snap_point (pixels, px, TRACING_TO_EDGE, reach_px, &found))
         && pattern_picture_to_table (picture, found, snapped);
}

void
app_follow_picture_start (AppSession *session)
{
  app_follow_set_snap (session, snap, NULL, NULL);
}
