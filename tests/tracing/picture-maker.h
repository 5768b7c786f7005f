/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of known things: outlines, sheets and strokes that lie on a table, as a camera
 * would see them.
 *
 * Everything is laid in mm; what a pixel gets is the light from the area it covers, counted exactly, then
 * blurred by the lens, evened or not, made sRGB, given noise and, where asked for, a round trip
 * through JPEG. The camera is a pinhole, so that the plane it tells is exact.
 */
#pragma once

#include "geometry/chain.h"
#include "tracing/plane.h"

typedef struct
{
  double dots;   /* px a mm in the picture's middle */
  double tilt;   /* radians between the lens' axis and the table's upright */
  double around; /* the direction the camera leans in */
  double turn;   /* the camera turned about its axis */
  double blur;   /* px: sigma */
  double noise;  /* of 255: sigma */
  double light;  /* the share of it that is missing in the darkest corner */
  double shadow; /* mm: how far a soft shadow falls; 0: none */
  double dark;   /* share of the light a shadow takes */
  int jpeg;      /* its quality; 0: not so kept */
  guint32 table; /* 0xrrggbb */
  guint32 lines; /* of a mat's ruling */
  double ruling; /* mm from line to line; 0: none */
  double grain;  /* unevenness of the table's colour, share; 0: none */
  guint32 seed;
} MakerLook;

/* Square on, clean, 5 px/mm, a dark table without ruling. */
#define MAKER_LOOK                                                             \
  ((MakerLook){ 5, 0, 0.7, 0, 0.6, 0, 0, 0, 0.5, 0, 0x39504a, 0xb9c4a4, 0, 0,  \
                1 })
#define MAKER_CARD 0xf0e6cd
#define MAKER_PAPER 0xf4f5f6
#define MAKER_PENCIL 0x4a4a4e

typedef struct _Maker Maker;

/* view: what must be seen, mm; a margin is for the caller to add. */
Maker *maker_new (GeoBox view);
void maker_free (Maker *maker);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Maker, maker_free)

/* Each lies on what was added before it and, if the look says so, throws a shadow on it. Outlines are closed and don't
 * cross themselves. */
void maker_add_shape (Maker *maker, const GeoChain *outline, guint32 colour);
void maker_add_polygon (Maker *maker, const GeoPoint *points, gsize n,
                        guint32 colour);
void maker_add_circle (Maker *maker, GeoPoint centre, double radius,
                       guint32 colour);
/* Turned by angle about its corner; corners (or NULL) gets them in order round, from that corner along its
 * width. */
void maker_add_rectangle (Maker *maker, GeoPoint corner, double width,
                          double height, double angle, guint32 colour,
                          GeoPoint corners[4]);
/* Cut out of the shape added last: what lies below it is seen. */
void maker_add_hole (Maker *maker, const GeoChain *outline);
/* A drawn line: no shadow. Square ends; a closed chain is drawn all round. */
void maker_add_stroke (Maker *maker, const GeoChain *chain, double width,
                       guint32 colour);

/* truth (or NULL): where places of the picture truly are. */
TracingPicture *maker_make (const Maker *maker, const MakerLook *look,
                            TracingPlane *truth);
/* The places of the picture that show places on the table. */
GeoPoint maker_see (const TracingPlane *truth, GeoPoint mm);
/* An 8-bit PNG or JPEG (by quality; 0: PNG) of the picture. */
gboolean maker_save (TracingPicture *picture, const char *path, int jpeg,
                     GError **error);

/* Shapes for pictures; emptied first. */
void maker_polygon (GeoChain *chain, const GeoPoint *points, gsize n);
void maker_circle (GeoChain *chain, GeoPoint centre, double radius);
/* A half bodice front: neck, shoulder, armhole, side, waist with a dart cut as a notch (width x length mm),
 * fold. 11 cubics (two of them the fold in line), 9 corners; about 240 x 440 mm, its top left at `at`. */
#define MAKER_BODICE_CUBICS 11
#define MAKER_BODICE_CORNERS 9
void maker_bodice (GeoChain *chain, GeoPoint at, double width, double length);
