/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether there is room for buttons: on the stand beside their holes, and for the holes on the facing
 * under them. What the button measures is told from the hole: as long as the
 * diameter, some thickness and an end, 6 mm together.
 */
#include <glib/gi18n.h>

#include "geometry/crossing.h"
#include "geometry/nearest.h"
#include "sewing/checks-private.h"

#define THICK 6.0     /* mm of a hole's length that are not the diameter */
#define BEYOND 3.0    /* mm a hole across the edge begins before its button */
#define IN_FACING 5.0 /* mm a facing reaches past a hole */
#define FARTHEST 500.0

typedef struct
{
  const SewingPiece *piece;
  const PatternButtonhole *hole;
  GeoPoint button; /* where its middle lies */
  guint edge;      /* index of the nearest */
  double off;      /* the button's middle from it */
  double at;       /* length along the edge, square to the button */
  double reach;    /* the hole's far end from the edge */
} Hole;

static gboolean
look_at (const SewingPiece *piece, const PatternButtonhole *hole, Hole *found)
{
  *found = (Hole){ .piece = piece, .hole = hole, .off = INFINITY };
  GeoPoint way = geo_point (cos (hole->angle), sin (hole->angle));
  GeoPlace place = { 0, 0 };
  for (guint e = 0; e < piece->piece->n_edges; e++)
    {
      GeoPlace here;
      double off = geo_chain_nearest (&piece->stitch[e], hole->at, &here);
      if (off >= found->off)
        continue;
      found->off = off;
      found->edge = e;
      place = here;
    }
  if (!(found->off < INFINITY))
    return FALSE;
  const GeoChain *edge = &piece->stitch[found->edge];
  gboolean across
      = fabs (geo_cross (way, geo_chain_tangent (edge, place))) > G_SQRT2 / 2;
  found->button = geo_along (hole->at, way, across ? BEYOND : hole->length / 2);
  found->off = geo_chain_nearest (edge, found->button, &place);
  found->at = geo_ruler_length_to (&piece->rulers[found->edge], place);
  found->reach = across ? geo_chain_nearest (
                     edge, geo_along (hole->at, way, hole->length), NULL)
                        : found->off;
  return TRUE;
}

static void
report_stand (SewingCheckRun *run, const Hole *h, double over)
{
  g_autofree char *edge = sewing_words_edge (h->piece->piece, h->edge);
  g_autofree char *amount = sewing_words_amount (run->pattern, over);
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_BUTTONHOLE, SEWING_LOOK,
      g_strdup_printf ("p%u:h%u", h->piece->piece->id, h->hole->id),
      g_strdup_printf (_ ("The button of a buttonhole of that length would "
                          "stand about %s over %s: the stand is too narrow, "
                          "or the button too large."),
                       amount, edge),
      h->hole->at, over);
  finding->piece = h->piece->piece->id;
  finding->edge = h->piece->piece->edges[h->edge].id;
}

/* --- the facing --------------------------------------------------------------------- */

/* How deep the piece is, square to its edge, from a place on a seam's side. */
static double
depth_at (SewingCheckRun *run, const SewingSeam *seam, int side, double at,
          const PatternPiece **piece)
{
  const PatternSide *runs = &seam->seam->sides[side];
  guint r = 0;
  while (r + 1 < runs->n_runs && at > seam->joints[side][r + 1])
    r++;
  *piece = pattern_get_piece (run->pattern, runs->runs[r].piece);
  GeoPlace place = geo_ruler_place (&seam->rulers[side], at);
  GeoPoint in = geo_left (geo_chain_tangent (&seam->chains[side], place));
  if (runs->runs[r].reversed)
    in = geo_scale (in, -1);
  GeoPoint from = geo_chain_point (&seam->chains[side], place);
  GeoChain ray = GEO_CHAIN_EMPTY, outline = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&ray, geo_along (from, in, 1),
                         geo_along (from, in, FARTHEST));
  pattern_piece_outline (*piece, &outline);
  GeoCrossings list;
  geo_crossings_init (&list);
  geo_chain_crossings (&ray, &outline, &list);
  double depth
      = list.count > 0 ? geo_distance (from, list.items[0].at) : INFINITY;
  geo_crossings_clear (&list);
  geo_chain_clear (&ray);
  geo_chain_clear (&outline);
  return depth;
}

static void
check_facing (SewingCheckRun *run, const Hole *h, const PatternSeam *s,
              int side, guint r)
{
  const SewingSeam *seam = sewing_facts_seam (run->facts, run->pattern, s);
  if (seam == NULL || !(seam->lengths[side] > 0))
    return;
  double length = h->piece->lengths[h->edge];
  double at = seam->joints[side][r]
              + (s->sides[side].runs[r].reversed ? length - h->at : h->at);
  at *= seam->lengths[1 - side] / seam->lengths[side];
  const PatternPiece *facing;
  double depth = depth_at (run, seam, 1 - side, at, &facing);
  double wants = h->reach + IN_FACING;
  if (facing == NULL || facing == h->piece->piece
      || depth >= wants - CHECK_ROUNDING)
    return;
  g_autofree char *name = sewing_words_piece (facing);
  g_autofree char *has = NULL, *least = NULL;
  sewing_words_two_lengths (run->pattern, depth, wants, &has, &least);
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_BUTTONHOLE, SEWING_LOOK,
      g_strdup_printf ("p%u:h%u", facing->id, h->hole->id),
      g_strdup_printf (_ ("%s is %s wide under a buttonhole that asks for %s: "
                          "the hole would run past it."),
                       name, has, least),
      h->hole->at, wants - depth);
  finding->piece = facing->id;
}

static void
check_facings (SewingCheckRun *run, const Hole *h)
{
  const PatternPiece *piece = h->piece->piece;
  int side;
  guint r;
  const PatternSeam *seam;
  for (guint i = 0;
       (seam = pattern_edge_seam (run->pattern, piece->id,
                                  piece->edges[h->edge].id, i, &side, &r))
       != NULL;
       i++)
    if (seam->press == PATTERN_PRESS_TURNED)
      check_facing (run, h, seam, side, r);
}

void
sewing_check_holes (SewingCheckRun *run, const PatternPiece *p)
{
  const SewingPiece *piece = sewing_facts_piece (run->facts, p);
  for (guint i = 0; i < p->n_buttonholes; i++)
    {
      Hole hole;
      if (!look_at (piece, &p->buttonholes[i], &hole))
        continue;
      double radius = (hole.hole->length - THICK) / 2;
      if (hole.off < radius - CHECK_ROUNDING)
        report_stand (run, &hole, radius - hole.off);
      check_facings (run, &hole);
    }
}
