/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photo or scan kept with a pattern, lying under the table: the file as it is, how its pixels lie on a flat
 * sheet in mm, and where the sheet lies on the table. Immutable and counted once in a pattern. */
#pragma once

#include <glib.h>

#include "geometry/point.h"

/* How true size was set; kept so that it can be set again from the same places. */
typedef enum
{
  PATTERN_SIZE_NONE, /* not yet: plane is a guess */
  PATTERN_SIZE_RESOLUTION,
  PATTERN_SIZE_DISTANCE, /* places 0 and 1, width apart */
  PATTERN_SIZE_CORNERS,  /* places 0 to 3 round a rectangle, width by height */
} PatternSizeKind;

typedef struct
{
  gatomicrefcount refs;
  guint id;
  char *name; /* "photo of Tuesday.jpg": for lists and messages */
  GBytes *
      bytes; /* the picture's file, byte for byte (shared by every step of history);
                      NULL where it lies beside and was not found */
  char *
      beside; /* the file's path when it is kept beside the document: absolute here, written
                      relative to the document; NULL: kept inside */
  char *digest;        /* SHA-256 of the bytes, hexadecimal: to know it again */
  guint width, height; /* px, right way up; for a picture not found, too */
  PatternSizeKind size;
  GeoPoint places[4];             /* px */
  double true_width, true_height; /* mm */
  double plane[9];                /* px to the sheet's mm: TracingPlane */
  GeoMotion place;                /* the sheet's mm to the table's */
  double strength;                /* 0 not seen .. 1 as it is; 0.5 at first */
  gboolean hidden, locked;
  char *extra;
} PatternPicture;

/* Each side at most. */
#define PATTERN_PICTURE_MOST_SIDE 32000

/* bytes borrowed; plane at first 1 mm a px, place at rest. */
PatternPicture *pattern_picture_new (guint id, const char *name, GBytes *bytes,
                                     guint width, guint height);
PatternPicture *pattern_picture_dup (const PatternPicture *picture);
PatternPicture *pattern_picture_ref (const PatternPicture *picture);
void pattern_picture_unref (PatternPicture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternPicture, pattern_picture_unref)
gboolean pattern_picture_equal (const PatternPicture *a,
                                const PatternPicture *b);
/* As pattern_unsound() in pattern.h, of one picture but for its number. */
char *pattern_picture_unsound (const PatternPicture *picture);
/* A pixel's place on the table; FALSE for places beyond the horizon. */
gboolean pattern_picture_to_table (const PatternPicture *picture, GeoPoint px,
                                   GeoPoint *at);
gboolean pattern_picture_to_px (const PatternPicture *picture, GeoPoint at,
                                GeoPoint *px);
/* Its four corners on the table. */
void pattern_picture_corners (const PatternPicture *picture,
                              GeoPoint corners[4]);
