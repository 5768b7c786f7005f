/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "app/hit.h"
#include "drafting/guides.h"
#include "geometry/nearest.h"

static gboolean
listed (const guint *ids, guint n, guint id)
{
  for (guint i = 0; i < n; i++)
    if (ids[i] == id)
      return TRUE;
  return FALSE;
}

/* Nodes of guides, and the middles of guide points; nearer than distance. */
static gboolean
snap_guide_node (const Pattern *p, GeoPoint at, double *distance, AppSnap *snap)
{
  gboolean found = FALSE;
  for (guint i = 0; i < p->n_lines; i++)
    {
      const PatternLine *line = &p->lines[i];
      GeoPoint middle;
      gboolean cross = drafting_guide_is_point (line, &middle);
      for (guint k = 0; k < (cross ? 1 : line->n_nodes); k++)
        {
          GeoPoint place = cross ? middle : line->nodes[k].at;
          double d = geo_distance (place, at);
          if (d >= *distance)
            continue;
          *distance = d;
          snap->point = snap->from = place;
          found = TRUE;
        }
    }
  return found;
}

/* The place of a guide nearest to the pointer. */
static gboolean
snap_guide (AppSession *session, GeoPoint at, double reach, AppSnap *snap)
{
  const Pattern *p = app_session_get_shown (session);
  double distance = nextafter (reach, INFINITY);
  for (guint i = 0; i < p->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      GeoPoint middle;
      GeoPlace place;
      pattern_line_chain (&p->lines[i], &chain);
      double d = drafting_guide_is_point (&p->lines[i], &middle)
                     ? INFINITY
                     : geo_chain_nearest (&chain, at, &place);
      if (d < distance)
        {
          distance = d;
          snap->point = snap->from = geo_chain_point (&chain, place);
        }
      geo_chain_clear (&chain);
    }
  if (distance > reach)
    return FALSE;
  snap->snapped = TRUE;
  snap->why = _ ("on a guide");
  return TRUE;
}

static gboolean
snap_node (AppSession *session, GeoPoint at, double reach, const guint *without,
           guint n_without, AppSnap *snap)
{
  const Pattern *p = app_session_get_shown (session);
  double distance = nextafter (reach, INFINITY);
  for (guint i = 0; i < p->n_pieces; i++)
    for (guint k = 0; k < p->pieces[i]->n_nodes; k++)
      {
        const PatternNode *node = &p->pieces[i]->nodes[k];
        double d = geo_distance (node->at, at);
        if (d >= distance || listed (without, n_without, node->id))
          continue;
        distance = d;
        snap->point = snap->from = node->at;
      }
  gboolean guide = snap_guide_node (p, at, &distance, snap);
  if (distance > reach)
    return FALSE;
  snap->snapped = TRUE;
  snap->why = guide ? _ ("on a guide") : _ ("on a node");
  return TRUE;
}

static GeoPoint
foot_on (const AppSnapLine *line, GeoPoint at)
{
  return geo_along (line->from, line->along,
                    geo_dot (geo_sub (at, line->from), line->along));
}

static gboolean
crossing (const AppSnapLine *a, const AppSnapLine *b, GeoPoint *at)
{
  double sine = geo_cross (a->along, b->along);
  if (fabs (sine) < 0.1)
    return FALSE;
  double s = geo_cross (geo_sub (b->from, a->from), b->along) / sine;
  *at = geo_along (a->from, a->along, s);
  return TRUE;
}

guint
app_snap_directions (AppSession *session, guint piece_id, GeoPoint from,
                     AppSnapLine *lines)
{
  lines[0] = (AppSnapLine){ from, { 0, 1 }, _ ("upright") };
  lines[1] = (AppSnapLine){ from, { 1, 0 }, _ ("level") };
  const PatternPiece *piece
      = piece_id != 0
            ? pattern_get_piece (app_session_get_shown (session), piece_id)
            : NULL;
  if (piece == NULL || !piece->has_grain)
    return 2;
  GeoPoint grain = geo_unit (geo_sub (piece->grain_to, piece->grain_from));
  if (geo_same (grain, geo_point (0, 0)))
    return 2;
  if (fabs (grain.x) < 1e-9 || fabs (grain.y) < 1e-9)
    {
      gboolean upright = fabs (grain.x) < 1e-9;
      lines[0].why = upright ? _ ("on the grain") : _ ("square to the grain");
      lines[1].why = upright ? _ ("square to the grain") : _ ("on the grain");
      return 2;
    }
  lines[2] = (AppSnapLine){ from, grain, _ ("on the grain") };
  lines[3] = (AppSnapLine){ from, geo_left (grain), _ ("square to the grain") };
  return 4;
}

AppSnap
app_snap_lines (AppSession *session, GeoPoint at, double reach,
                const AppSnapLine *lines, guint n_lines, gboolean nodes,
                const guint *without, guint n_without)
{
  AppSnap snap = { .point = at };
  if (nodes && snap_node (session, at, reach, without, n_without, &snap))
    return snap;
  int best = -1, second = -1;
  double d1 = nextafter (reach, INFINITY), d2 = d1;
  for (guint i = 0; i < n_lines; i++)
    {
      double d = geo_distance (foot_on (&lines[i], at), at);
      if (d < d1)
        {
          d1 = d;
          best = (int)i;
        }
    }
  if (best < 0)
    {
      if (nodes)
        snap_guide (session, at, reach, &snap);
      return snap;
    }
  snap.snapped = TRUE;
  snap.point = foot_on (&lines[best], at);
  snap.from = lines[best].from;
  snap.why = lines[best].why;
  for (guint i = 0; reach < APP_SNAP_ALWAYS && i < n_lines; i++)
    {
      GeoPoint cross;
      double d = geo_distance (foot_on (&lines[i], at), at);
      if ((int)i != best && d < d2 && crossing (&lines[best], &lines[i], &cross)
          && geo_distance (cross, at) <= reach * 1.5)
        {
          d2 = d;
          second = (int)i;
          snap.point = cross;
        }
    }
  if (second >= 0)
    {
      snap.twice = TRUE;
      snap.from2 = lines[second].from;
      snap.why2 = lines[second].why;
    }
  return snap;
}
