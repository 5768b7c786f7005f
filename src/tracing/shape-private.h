/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files that find shapes share; stroke*.c takes the map and its opening from it. */
#pragma once

#include "tracing/shape.h"

/* A byte of the map is ZERO for table, ZERO + SPAN for piece, with room beyond both. */
#define SHAPE_ZERO 48
#define SHAPE_SPAN 160

/* --- the mixture of colours that parts them, shape-mix.c -------------------- */

#define SHAPE_TERMS 6 /* of the light: 1 x y xx xy yy, both from -1 to 1 */

typedef struct
{
  double weight
      [3]; /* of linear light; piece-ness is their sum over the light, less zero */
  double zero;
  double light[SHAPE_TERMS]; /* logarithm of the light */
} ShapeMix;

/* at: the colour there is piece; or NULL. FALSE where there is only one colour. */
gboolean shape_mix_find (const TracingPicture *picture, TracingCard card,
                         const GeoPoint *at, ShapeMix *mix);
double shape_mix_light (const ShapeMix *mix, double x, double y);
float shape_linear (guint8 srgb);

/* --- the map, shape-parts.c ---------------------------------------------------- */

typedef struct
{
  guint width, height;
  guint8 *at;
} ShapeMap;

struct _TracingParts
{
  gatomicrefcount refs;
  ShapeMap full;
  ShapeMap small; /* each byte the mean of shrink x shrink of the full one's */
  guint shrink;
  double level;
};

/* --- shape-open.c ------------------------------------------------------------- */

/* A copy in which what is light and at most 2 r bytes wide is gone. */
ShapeMap shape_map_open (const ShapeMap *map, guint r);
/* The level, 0 to 1, along which the map changes fastest. */
double shape_map_level (const ShapeMap *map);
/* How far light lines on a table reach, in bytes of the small map; dots: px a mm. */
guint shape_line_reach (double dots, guint shrink);

/* --- following the border, shape-border.c --------------------------------------- */

typedef struct
{
  GArray *
      points; /* of GeoPoint, px of the full picture; the piece on the side of the left normal */
  GArray *outside; /* of guint8: 1 where it runs along the picture's border */
  double area;     /* px2; below 0: a hole */
  gboolean touches;
  GeoBox box;
  gssize parent; /* of a hole: the loop it is in */
} ShapeLoop;

void shape_loop_clear (gpointer loop);
/* Loops of what lies at or above the level (a byte) with at least least_area px2; NULL where there are
 * more than could be pieces. */
GArray *shape_follow (const ShapeMap *map, guint shrink, double level,
                      double least_area);
gboolean shape_loop_holds (const ShapeLoop *loop, GeoPoint px);

/* --- to a part of a pixel, shape-edge.c ------------------------------------------- */

typedef struct
{
  GeoPoint at;
  double
      weight; /* 0: a place that was seen badly, and serves as a witness only */
} ShapePlace;

/* Places of the edge near the loop, spacing px apart; blur: sigma of the edge, px. */
GArray *shape_edge_places (const ShapeMap *map, const ShapeLoop *loop,
                           guint shrink, double spacing, double *blur);

/* --- corners and cubics, shape-corner.c, shape-fit.c, shape-dart.c ------------------ */

typedef struct
{
  const ShapePlace *places; /* mm */
  gsize n;
  gboolean closed;
  double tolerance;
  double spacing; /* mm from place to place, about */
  double blur;    /* mm: sigma of what rounds corners off */
  double *along;  /* n + 1 lengths to each place, the last one all of it */
  double
      noise; /* mm: what half of the places keep within of their neighbours' parabolas */
  double opened; /* mm: what is narrower was taken off sharp corners */
} ShapeTrack;

typedef struct
{
  GeoPoint at;
  double along; /* of the track */
  double clear; /* mm on either side in which places are not to be trusted */
} ShapeCorner;

/* mm: half of the places lie nearer to parabolas through their neighbours. */
double shape_track_noise (const ShapeTrack *track);
/* In order along the track. */
GArray *shape_find_corners (const ShapeTrack *track);
/* Index of the place i steps on; closed tracks wrap, open ones give n beyond their ends. */
gsize shape_track_step (const ShapeTrack *track, gsize i, gssize steps);
/* Places are given in order; what TracingLine says of chain, corner, off and darts is set. */
gboolean shape_lay_line (const ShapePlace *places, gsize n, gboolean closed,
                         double tolerance, double spacing, double blur,
                         double opened, TracingLine *line);
void shape_find_darts (TracingLine *line);
