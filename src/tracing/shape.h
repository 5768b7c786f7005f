/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines of pieces that lie on a contrasting table, to a part of a pixel, as cubics in mm.
 *
 * First the picture is parted: a byte a pixel says how much it is piece and how much table, by the
 * mixture of colours that tells them apart best, with the light evened out. Then the outline of what is above a level
 * is followed, each of its points put where the picture's own edge is, the corners found, and
 * the fewest cubics laid within the tolerance.
 *
 * Limits: corners rounded by less than about 1.5 mm come out sharp, turns of less than 17 degrees smooth;
 * what is narrower than 1.4 mm (lines of a mat, but also slips of card) is lost, and points sharper than that
 * are carried on to where their sides meet. An edge that runs along a light line of the table is drawn to it by up to a
 * third of a mm. Dark card is told from its own shadow only where they differ by a fifth of the way from card
 * to table. A lens' distortion is not taken out.
 */
#pragma once

#include "geometry/chain.h"
#include "tracing/plane.h"

typedef struct _TracingParts TracingParts;

typedef enum
{
  TRACING_CARD_ANY, /* found out */
  TRACING_CARD_LIGHT,
  TRACING_CARD_DARK,
} TracingCard;

/* plane may be NULL: not yet known; its use is to know how large a shadow or a grid's line may be. NULL with
 * the error set when cancelled, or where the picture is all of one colour. */
TracingParts *tracing_parts_new (TracingPicture *picture,
                                 const TracingPlane *plane, TracingCard card,
                                 TracingTick tick, gpointer data,
                                 GError **error);
/* About a colour: piece is what looks like the picture at that place. */
TracingParts *tracing_parts_new_like (TracingPicture *picture,
                                      const TracingPlane *plane, GeoPoint at,
                                      TracingTick tick, gpointer data,
                                      GError **error);
TracingParts *tracing_parts_ref (TracingParts *parts);
void tracing_parts_unref (TracingParts *parts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TracingParts, tracing_parts_unref)

/* The level found to part them best, 0..1. */
double tracing_parts_get_level (const TracingParts *parts);
/* 0 table .. 1 piece. */
double tracing_parts_at (const TracingParts *parts, GeoPoint px);
/* What would be piece at the level, for a live preview: 255 or 0 (between at its border) a byte, the picture made smaller by shrink, each way
 * (a whole number from 1); (width / shrink) x (height / shrink), rounded up, stride bytes a row. A few ms for a
 * million bytes written. */
void tracing_parts_preview (const TracingParts *parts, double level,
                            guint shrink, guint8 *mask, gsize stride);

typedef struct
{
  double level;      /* 0..1; below 0: the one found */
  double tolerance;  /* mm; 0.3 is a good one */
  double least_area; /* mm2: what is smaller is passed over */
  gboolean holes;    /* keep them: outlines of their own */
  gboolean largest;  /* only the largest */
  gboolean clicked;  /* only the one that has the place in it */
  GeoPoint at;       /* px */
  gboolean
      touching; /* also what reaches the picture's border (cut off there) */
} TracingShapeWish;

#define TRACING_SHAPE_WISH                                                     \
  ((TracingShapeWish){ -1, 0.3, 400, FALSE, FALSE, FALSE, { 0, 0 }, FALSE })

/* A notch of the outline that looks like an open dart: two straight sides of about one
 * length, meeting in the piece at its point. Nodes are joints of the chain: joint i is where cubic i starts. */
typedef struct
{
  gsize start, tip, end; /* along the outline */
  double width, length;  /* mm: the mouth; mouth's middle to tip */
} TracingDart;

/* A line followed: closed, with positive area, or open. */
typedef struct
{
  GeoChain chain; /* mm */
  gboolean closed;
  gboolean *
      corner; /* of each cubic's start; closed lines: chain.count of them, open: one more */
  gssize hole_of;   /* index of the outline it is a hole of; -1 */
  gboolean cut_off; /* by the picture's border */
  double
      off; /* mm: how far the worst of the points it was laid along lies from it: the residual */
  double
      blur; /* mm: how wide the picture's edge is there: what it can be trusted to about a tenth of */
  TracingDart *darts;
  gsize n_darts;
} TracingLine;

void tracing_line_clear (gpointer line);
/* Whether the line lies round the rectangle that has these corners (px): the sheet that told true size, followed
 * along with the pieces. */
gboolean tracing_line_is_sheet (const TracingLine *line,
                                const TracingPlane *plane,
                                const GeoPoint corners[4]);
/* Of TracingLine, the largest first, holes after what they are in; elements cleared with it. plane may
 * not be NULL here. */
GArray *tracing_find_shapes (const TracingParts *parts,
                             const TracingPlane *plane,
                             const TracingShapeWish *wish, TracingTick tick,
                             gpointer data, GError **error);
/* Corners, cubics and darts for points measured in order (mm); what tracing_find_shapes() ends
 * in. spacing: mm from point to point, about; within two or three of them of a corner points need
 * not be true. Points noisier than a third of the tolerance are followed less closely, and off says how closely. FALSE for fewer than three points. */
gboolean tracing_line_fit (const GeoPoint *points, gsize n, gboolean closed,
                           double tolerance, double spacing, TracingLine *line);
