/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is computed from the pieces and seams of a pattern, kept by their
 * addresses so that an edit costs what it changed.
 *
 * A SewingFacts belongs to one thread. What it hands out is borrowed and holds
 * until sewing_facts_keep() drops it.
 */
#pragma once

#include "geometry/clips.h"
#include "geometry/length.h"
#include "geometry/ring.h"
#include "pattern/pattern.h"

typedef struct _SewingFacts SewingFacts;

/* Facts of one piece. Arrays run over its edges. */
typedef struct
{
  const PatternPiece *piece;
  GeoChain *stitch; /* each edge's stitch line, in outline order */
  GeoRuler *rulers;
  double *lengths;
  double area; /* inside the stitch line, mm2 */
  double perimeter;
  GeoBox bounds;   /* of stitch and cutting line */
  GeoPoint middle; /* a good place for the name: inside the piece */
  GeoRing ring; /* ring.outline empty where there is no outline to speak of */
  gboolean crosses; /* the outline crosses itself */
  GeoPoint crosses_at;
} SewingPiece;

/* One interval of a seam between two matched marks. */
typedef struct
{
  double a_from, a_to; /* lengths along side A */
  double b_from, b_to;
  guint a_notch, b_notch; /* the marks at its end; 0 at the seam's end, and
                             where the mark is a joint between runs */
  double difference;      /* (a_to - a_from) - (b_to - b_from) */
  double per_cent;        /* difference of the shorter of the two, 100 times */
  double meant; /* what difference should be: of the whole seam's meant ease
                   its share by length, and of each span's that covers it its
                   share of the span; 0 where nothing is meant */
} SewingInterval;

/* A span of meant ease, where it was found on the seam. */
typedef struct
{
  const PatternEaseSpan *span;
  gboolean
      lost; /* a notch it is meant from is gone, or has no partner: it counts
                    for nothing, and the rest here is 0 */
  guint first, last;                 /* intervals, first to last - 1 */
  double a_from, a_to, b_from, b_to; /* lengths along the sides */
  double ease; /* mm, signed as the seam's; a per cent is of the shorter side */
} SewingEaseSpan;

/* A notch on a seam side that found no partner. Notches at the seam's two ends
 * are not listed: the ends are matched anyhow. Partners keep their order along
 * both sides and have the same number of strokes; a notch may also face the
 * place where two runs of the other side meet. */
typedef struct
{
  int side;
  guint piece, notch;
  double at; /* length along the side */
} SewingLooseNotch;

/* Facts of one seam. Chains run the way the seam is walked. */
typedef struct
{
  const PatternSeam *seam;
  GeoChain chains[2]; /* the runs of a side end to end; laid where the pieces
                          lie, so neighbours of different pieces do not touch */
  GeoRuler rulers[2];
  double lengths[2];
  int inside[2]; /* +1: the first piece lies on the left normal's side */
  double *joints
      [2]; /* lengths along a side where runs meet; n_runs + 1, from 0 to the whole */
  SewingInterval *intervals;
  guint n_intervals;
  SewingLooseNotch *loose;
  guint n_loose;
  SewingEaseSpan *spans; /* one for each of the seam's, in their order */
  guint n_spans;
  double ease;  /* lengths[0] - lengths[1] */
  double meant; /* of the whole seam and of its spans together */
  double out;   /* ease - meant */
} SewingSeam;

SewingFacts *sewing_facts_new (void);
void sewing_facts_free (SewingFacts *facts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SewingFacts, sewing_facts_free)
/* Drops what belongs to pieces and seams in neither pattern: at once where old is NULL,
 * else when enough has gathered to be worth the look. */
void sewing_facts_keep (SewingFacts *facts, const Pattern *pattern,
                        const Pattern *old);

const SewingPiece *sewing_facts_piece (SewingFacts *facts,
                                       const PatternPiece *piece);
/* NULL where a side is empty or points nowhere. */
const SewingSeam *sewing_facts_seam (SewingFacts *facts, const Pattern *pattern,
                                     const PatternSeam *seam);
/* Clip plan of one edge by the seam it is in first and how that is pressed; no cuts for
 * hems, folds, bound and raw edges and for edges in no seam. The cloth is the first the piece is cut from. */
const GeoClipPlan *sewing_facts_clips (SewingFacts *facts,
                                       const Pattern *pattern, guint piece,
                                       guint edge);

/* As pattern_edge_seam(), in a time that does not grow with the pattern. */
const PatternSeam *sewing_facts_edge_seam (SewingFacts *facts,
                                           const Pattern *pattern,
                                           guint piece_id, guint edge_id,
                                           guint n, int *side, guint *run);

/* Where a notch sits: on the stitch line, and the outward normal there. */
gboolean sewing_notch_place (const SewingPiece *piece,
                             const PatternNotch *notch, GeoPoint *at,
                             GeoPoint *outward);
/* Place of a length along a seam side, on the table. */
GeoPoint sewing_seam_point (const SewingSeam *seam, int side, double at);
