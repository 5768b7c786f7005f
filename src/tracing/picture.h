/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A photo or scan in memory, right way up: what everything in this layer reads.
 *
 * Places in a picture are pixels: x right, y down, (0, 0) the corner of the top left
 * pixel, so that its middle is (0.5, 0.5). Immutable and counted: it may be read on another thread.
 */
#pragma once

#include <glib.h>

#include "geometry/point.h"

/* Each side at most, and in all: what is larger is refused before it is decoded. */
#define TRACING_MOST_SIDE 32000
#define TRACING_MOST_PIXELS 120000000.0

typedef struct _TracingPicture TracingPicture;

/* Takes over rgb, freed with free_rgb (data): three bytes a pixel, row after row, stride
 * bytes from row to row. dots_mm: dots a millimetre as the file says, x and y; 0 where it says nothing. */
TracingPicture *tracing_picture_new (guint width, guint height, gsize stride,
                                     const guint8 *rgb, GeoPoint dots_mm,
                                     GDestroyNotify free_rgb, gpointer data);
TracingPicture *tracing_picture_ref (TracingPicture *picture);
void tracing_picture_unref (TracingPicture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TracingPicture, tracing_picture_unref)

guint tracing_picture_get_width (const TracingPicture *picture);
guint tracing_picture_get_height (const TracingPicture *picture);
gsize tracing_picture_get_stride (const TracingPicture *picture);
const guint8 *tracing_picture_get_rgb (const TracingPicture *picture);
GeoPoint tracing_picture_get_dots_mm (const TracingPicture *picture);

/* How far long work is, from 0 to 1, in order, on the thread that does it; FALSE: leave off. */
typedef gboolean (*TracingTick) (double share, gpointer data);

#define TRACING_ERROR (tracing_error_quark ())
GQuark tracing_error_quark (void);
/* Messages are in the sewist's words: what is wrong, and what to do. */
typedef enum
{
  TRACING_ERROR_SCALE,     /* the places given set no true size */
  TRACING_ERROR_NOTHING,   /* nothing to follow was found */
  TRACING_ERROR_TOO_MUCH,  /* more than could be pieces: a texture */
  TRACING_ERROR_CANCELLED, /* the tick said so */
} TracingError;
