/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Darts found, opened, closed. */
#include <glib/gi18n.h>

#include "drafting/dart-private.h"
#include "geometry/region.h"
#include "sewing/words.h"

static gboolean
no_dart (const PatternSeam *seam, GError **error)
{
  g_autofree char *name = sewing_words_seam (seam);
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("%s is no dart of two legs that meet at a point. "
                             "A leg that is in several edges has to be joined "
                             "into one first. Nothing was changed."),
                          name);
}

gboolean
drafting_find_dart (const Pattern *p, guint seam, DraftingDart *dart,
                    GError **error)
{
  const PatternSeam *found = drafting_find_seam (p, seam, error);
  if (!found)
    return FALSE;
  *dart = (DraftingDart){ .seam = found };
  const PatternRun *runs[2] = { found->sides[0].runs, found->sides[1].runs };
  if (found->join != PATTERN_JOIN_DART || found->sides[0].n_runs != 1
      || found->sides[1].n_runs != 1 || runs[0]->piece != runs[1]->piece)
    return no_dart (found, error);
  const PatternPiece *piece = pattern_get_piece (p, runs[0]->piece);
  int a = piece ? pattern_piece_find_edge (piece, runs[0]->edge) : -1;
  int b = piece ? pattern_piece_find_edge (piece, runs[1]->edge) : -1;
  if (a < 0 || b < 0 || a == b || piece->n_edges < 3)
    return no_dart (found, error);
  guint m = piece->n_edges;
  guint legs[2] = { (guint)a, (guint)b };
  if (((guint)a + 1) % m != (guint)b)
    {
      legs[0] = (guint)b;
      legs[1] = (guint)a;
    }
  if ((legs[0] + 1) % m != legs[1])
    return no_dart (found, error);
  const PatternNode *a0 = &piece->nodes[piece->edges[legs[0]].first];
  const PatternNode *tip = &piece->nodes[piece->edges[legs[1]].first];
  const PatternNode *a1
      = &piece
             ->nodes[pattern_piece_edge_last (piece, legs[1]) % piece->n_nodes];
  dart->piece = piece;
  for (int i = 0; i < 2; i++)
    dart->leg[i] = piece->edges[legs[i]].id;
  dart->a0 = a0->id;
  dart->tip = tip->id;
  dart->a1 = a1->id;
  dart->mouth[0] = a0->at;
  dart->mouth[1] = a1->at;
  dart->point = tip->at;
  return TRUE;
}

double
drafting_dart_turn (const DraftingDart *dart, GeoPoint about)
{
  return geo_angle_between (geo_sub (dart->mouth[1], about),
                            geo_sub (dart->mouth[0], about));
}

double
drafting_dart_angle (const Pattern *p, guint dart)
{
  DraftingDart d;
  return p && drafting_find_dart (p, dart, &d, NULL)
             ? fabs (drafting_dart_turn (&d, d.point))
             : 0;
}

/* z -> fixed + k (z - fixed), k a complex number: turned and drawn out. */
static GeoPoint
similar (GeoPoint z, GeoPoint fixed, GeoPoint k)
{
  GeoPoint v = geo_sub (z, fixed);
  return geo_point (fixed.x + k.x * v.x - k.y * v.y,
                    fixed.y + k.x * v.y + k.y * v.x);
}

static GeoPoint
ratio (GeoPoint to, GeoPoint from)
{
  double n = geo_dot (from, from);
  return n > 0 ? geo_point (geo_dot (from, to) / n, geo_cross (from, to) / n)
               : geo_point (1, 0);
}

static void
lay_handle (GeoPoint *handle, GeoPoint old_at, GeoPoint new_at, GeoPoint fixed,
            GeoPoint k)
{
  *handle = geo_same (*handle, old_at) ? new_at : similar (*handle, fixed, k);
}

void
drafting_dart_lay_legs (DraftingChange *c, const DraftingDart *dart,
                        const GeoPoint from[2], GeoPoint point)
{
  PatternPiece *piece = c->piece;
  guint n = piece->n_nodes;
  guint a0 = drafting_change_index (c, dart->a0);
  guint tip = drafting_change_index (c, dart->tip);
  guint a1 = drafting_change_index (c, dart->a1);
  for (int leg = 0; leg < 2; leg++)
    {
      guint first = leg == 0 ? a0 : tip, last = leg == 0 ? tip : a1;
      GeoPoint fixed = piece->nodes[leg == 0 ? a0 : a1].at;
      GeoPoint k = ratio (geo_sub (point, fixed), geo_sub (from[leg], fixed));
      for (guint i = first;; i = (i + 1) % n)
        {
          PatternNode *node = &piece->nodes[i];
          GeoPoint was = node->at;
          if (i != a0 && i != a1 && i != tip)
            node->at = similar (was, fixed, k);
          GeoPoint to = i == tip ? point : node->at;
          if (i != first)
            lay_handle (&node->in, was, to, fixed, k);
          if (i != last)
            lay_handle (&node->out, was, to, fixed, k);
          if (i == last)
            break;
        }
    }
  piece->nodes[tip].at = point;
}

static const PatternEdge *
leg_of (const DraftingDart *dart, int leg)
{
  int index = pattern_piece_find_edge (dart->piece, dart->leg[leg]);
  return &dart->piece->edges[index];
}

guint
drafting_dart_open (DraftingChange *c, guint first, guint second,
                    GeoPoint point, const PatternEdge *like,
                    const DraftingDart *dart)
{
  guint tip = drafting_change_insert (c, second, point);
  PatternEdge leg = { .name = (char *)"", .allowance = like->allowance };
  if (dart)
    {
      drafting_change_edge (c, first, leg_of (dart, 0), dart->leg[0]);
      drafting_change_edge (c, tip, leg_of (dart, 1), dart->leg[1]);
      return dart->seam->id;
    }
  g_autofree char *name = g_strdup (_ ("Dart"));
  for (guint k = 2, i = 0; i < c->pattern->n_seams; i++)
    if (g_str_equal (c->pattern->seams[i]->name, name))
      {
        g_free (name);
        name = g_strdup_printf (_ ("Dart %u"), k++);
        i = G_MAXUINT; /* from the first again */
      }
  guint ids[2];
  leg.name = (char *)_ ("dart leg");
  ids[0] = drafting_change_edge (c, first, &leg, 0);
  ids[1] = drafting_change_edge (c, tip, &leg, 0);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (c->pattern), name);
  seam->join = PATTERN_JOIN_DART;
  seam->press = PATTERN_PRESS_TO_A;
  for (int i = 0; i < 2; i++)
    pattern_seam_add_run (seam, i,
                          (PatternRun){ c->piece->id, ids[i], i == 1 });
  guint id = seam->id;
  pattern_put_seam (c->pattern, seam);
  return id;
}

void
drafting_dart_carry_drills (DraftingChange *c, const DraftingDart *dart,
                            GeoPoint point, GeoPoint mouth)
{
  GeoChain opening = GEO_CHAIN_EMPTY;
  for (int leg = 0; leg < 2; leg++)
    pattern_piece_edge_chain (
        dart->piece,
        (guint)pattern_piece_find_edge (dart->piece, dart->leg[leg]), &opening);
  geo_chain_append_line (&opening, dart->mouth[1], dart->mouth[0]);
  for (guint i = 0; i < dart->piece->n_drills; i++)
    {
      GeoPoint was = dart->piece->drills[i].at;
      if (geo_chain_contains (&opening, was))
        c->piece->drills[i].at
            = geo_along (point, geo_unit (geo_sub (mouth, point)),
                         geo_distance (was, dart->point));
    }
  geo_chain_clear (&opening);
}

void
drafting_dart_remove (DraftingChange *c, const DraftingDart *dart)
{
  guint first = drafting_change_part (c, dart->a0);
  drafting_change_remove_between (c, first, dart->a1);
  drafting_change_merge (c, first, dart->a1);
}
