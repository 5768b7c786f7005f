/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The headers of PNG, JPEG and TIFF files, read by bounds alone: sizes, the turn, the resolution. And what the
 * two halves of reading pictures share.
 *
 * W3C, Portable Network Graphics, 3rd ed., 5 and 11 (chunks, IHDR, pHYs, eXIf); ITU-T T.81, annex B (markers, SOF) and
 * T.871 (JFIF density); CIPA DC-008 (Exif), 4.6; Adobe, TIFF revision 6.0, 2 and 8. (From memory.)
 */
#pragma once

#include "file/picture.h"

typedef enum
{
  FILE_PICTURE_PNG,
  FILE_PICTURE_JPEG,
  FILE_PICTURE_TIFF,
} FilePictureKind;

typedef struct
{
  FilePictureKind kind;
  guint width, height; /* as stored, before the turn */
  guint turn;          /* Exif orientation, 1 to 8 */
  GeoPoint dots_mm;    /* as stored; 0 where not known */
} FilePictureHeader;

/* Fails as file_picture_look() does, but for sizes. Also where the end of a PNG or JPEG is missing. */
gboolean file_picture_header (const guint8 *data, gsize size,
                              FilePictureHeader *header, GError **error);

/* Turns 5 to 8 lie on their side. */
#define FILE_PICTURE_LIES(turn) ((turn) >= 5)

/* --- between the program and its child ------------------------------------------------ */
#define FILE_PICTURE_HIDDEN_ARGUMENT "--read-picture"
/* The socket is the child's standard input: the file comes in, then bytes go out. */
#define FILE_PICTURE_PIXELS_FD 3
/* Bytes sent: 1 to 100 is how far it is; these are the end. */
#define FILE_PICTURE_DONE 200
#define FILE_PICTURE_FAILED 201
#define FILE_PICTURE_NO_MEMORY 202

typedef struct
{
  FilePictureKind kind;
  guint width, height; /* as stored */
  guint turn, shrink;
  gsize length; /* of the file */
} FilePictureTask;

/* Right way up and shrunk; three bytes a pixel, without gaps. */
void file_picture_task_size (const FilePictureTask *task, guint *width,
                             guint *height);
