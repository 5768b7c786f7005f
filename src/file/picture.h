/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading photos and scans: PNG, JPEG, TIFF, right way up as the file's own turn (Exif orientation) asks.
 *
 * A picture is a stranger's file read by libraries with a history of holes: it is decoded by a child of
 * this program that may open nothing and is held to a limit of memory and time; what comes back is plain pixels. So it can also
 * be left off at any moment. Sizes are read from the header first; what is over TRACING_MOST_SIDE or
 * TRACING_MOST_PIXELS is refused unread.
 */
#pragma once

#include <gio/gio.h>

#include "tracing/picture.h"

#define FILE_PICTURE_ERROR (file_picture_error_quark ())
GQuark file_picture_error_quark (void);
typedef enum
{
  FILE_PICTURE_ERROR_KIND,  /* no PNG, JPEG or TIFF */
  FILE_PICTURE_ERROR_BAD,   /* broken off or damaged */
  FILE_PICTURE_ERROR_LARGE, /* more pixels than can be read */
  FILE_PICTURE_ERROR_SMALL, /* under 16 px a side */
  FILE_PICTURE_ERROR_READ, /* the file or the system would not let it be read */
} FilePictureError;

/* Reads the file (at most 256 MB) and its header. */
GBytes *file_picture_load (const char *path, GError **error);
/* The same, whatever the file holds. */
GBytes *file_picture_read (const char *path, GError **error);
typedef struct
{
  guint width, height; /* right way up */
  GeoPoint
      dots_mm; /* resolution; 0 where the file does not say, or says what only stands for "not known" (72 dpi of a camera) */
  const char *kind; /* "PNG", "JPEG", "TIFF" */
} FilePictureFacts;
gboolean file_picture_look (GBytes *bytes, FilePictureFacts *facts,
                            GError **error);
/* Blocks; call it on a thread, or in a command. shrink: 1, or 2, 4, 8: made smaller while reading, for the
 * layer under the table. tick as in tracing/picture.h. cancellable may be NULL; left
 * off by it or by the tick: G_IO_ERROR_CANCELLED. */
TracingPicture *file_picture_decode (GBytes *bytes, guint shrink,
                                     GCancellable *cancellable,
                                     TracingTick tick, gpointer data,
                                     GError **error);
/* main() asks this first: TRUE where the program was started as the child that decodes, which is then done; status gets its exit
 * code. */
gboolean file_picture_child (int argc, char **argv, int *status);
