/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/picture-header.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_SEGMENTS 100000
#define MOST_TAGS 4096

/* clang-format off */
G_DEFINE_QUARK (file-picture-error-quark, file_picture_error)
/* clang-format on */

/* --- numbers within bounds ----------------------------------------------------------- */
typedef struct
{
  const guint8 *data;
  gsize size;
  gboolean little; /* the least byte first */
} Bytes;

/* 0 beyond the end. */
static guint
at16 (const Bytes *b, gsize i)
{
  if (b->size < 2 || i > b->size - 2)
    return 0;
  const guint8 *p = b->data + i;
  return b->little ? (guint)(p[1] << 8 | p[0]) : (guint)(p[0] << 8 | p[1]);
}

static guint
at32 (const Bytes *b, gsize i)
{
  if (b->size < 4 || i > b->size - 4)
    return 0;
  guint first = at16 (b, i), second = at16 (b, i + 2);
  return b->little ? second << 16 | first : first << 16 | second;
}

/* --- resolution ----------------------------------------------------------------------- */
/* 72 and 96 to the inch stand for "not known": cameras and screens write them. What is beyond
 * belief isn't believed. */
static double
believe (double dots_mm)
{
  double dpi = dots_mm * 25.4;
  if (!isfinite (dots_mm) || dots_mm < 0.2 || dots_mm > 200
      || fabs (dpi - 72) < 0.6 || fabs (dpi - 96) < 0.6)
    return 0;
  return dots_mm;
}

static GeoPoint
believe_both (double x, double y)
{
  GeoPoint dots = { believe (x), believe (y) };
  return dots.x > 0 && dots.y > 0 ? dots : geo_point (0, 0);
}

/* --- TIFF, and Exif, which is one ------------------------------------------------------ */
typedef struct
{
  guint width, height, turn, unit;
  double x, y; /* in that unit */
  gboolean has_resolution;
  gsize exposure;  /* where the list of how it was exposed stands; 0: none */
  gboolean camera; /* it says how it was exposed: it is no scan */
} Tags;

static double
rational (const Bytes *b, gsize i)
{
  guint below = at32 (b, i + 4);
  return below > 0 ? (double)at32 (b, i) / below : 0;
}

/* A whole number of one of the two kinds that sizes come in. */
static guint
whole (const Bytes *b, gsize entry)
{
  return at16 (b, entry + 2) == 3 ? at16 (b, entry + 8) : at32 (b, entry + 8);
}

static gboolean
says_exposure (const Bytes *b, gsize ifd)
{
  guint n = MIN (at16 (b, ifd), MOST_TAGS);
  for (guint i = 0; i < n && ifd + 14 + 12 * (gsize)i <= b->size; i++)
    switch (at16 (b, ifd + 2 + 12 * (gsize)i))
      {
      case 0x829a: /* exposure time */
      case 0x829d: /* f-number */
      case 0x920a: /* focal length */
        return TRUE;
      default:
        break;
      }
  return FALSE;
}

static void
read_tag (const Bytes *b, gsize entry, Tags *tags)
{
  guint value = whole (b, entry);
  gsize away = at32 (b, entry + 8);
  switch (at16 (b, entry))
    {
    case 256:
      tags->width = value;
      break;
    case 257:
      tags->height = value;
      break;
    case 274:
      tags->turn = value >= 1 && value <= 8 ? value : 1;
      break;
    case 282:
      tags->x = rational (b, away);
      tags->has_resolution = TRUE;
      break;
    case 283:
      tags->y = rational (b, away);
      break;
    case 296:
      tags->unit = value;
      break;
    case 0x8769:
      tags->exposure = away;
      break;
    default:
      break;
    }
}

/* FALSE where there is no TIFF header. */
static gboolean
read_tags (const guint8 *data, gsize size, Tags *tags)
{
  Bytes b = { data, size, size > 0 && data[0] == 'I' };
  *tags = (Tags){ .turn = 1, .unit = 2 };
  if (size < 8
      || (memcmp (data, "II*\0", 4) != 0 && memcmp (data, "MM\0*", 4) != 0))
    return FALSE;
  gsize ifd = at32 (&b, 4);
  guint n = MIN (at16 (&b, ifd), MOST_TAGS);
  for (guint i = 0; i < n && ifd + 14 + 12 * (gsize)i <= size; i++)
    read_tag (&b, ifd + 2 + 12 * (gsize)i, tags);
  /* Once: a list looked through at each of its mentions would take time by the square. */
  tags->camera = tags->exposure > 0 && says_exposure (&b, tags->exposure);
  return TRUE;
}

static GeoPoint
tags_dots (const Tags *tags)
{
  if (!tags->has_resolution || tags->camera
      || (tags->unit != 2 && tags->unit != 3))
    return geo_point (0, 0);
  double mm = tags->unit == 2 ? 25.4 : 10;
  return believe_both (tags->x / mm, tags->y / mm);
}

static gboolean
broken_off (GError **error)
{
  g_set_error_literal (
      error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_BAD,
      _ ("The picture is broken off: its end is missing. Nothing was "
         "changed. Copy it from the phone or scanner once more."));
  return FALSE;
}

static gboolean
damaged (GError **error)
{
  g_set_error_literal (
      error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_BAD,
      _ ("The picture is damaged and can't be read. Nothing was changed. "
         "Copy it from the phone or scanner once more."));
  return FALSE;
}

static gboolean
read_tiff (const guint8 *data, gsize size, FilePictureHeader *header,
           GError **error)
{
  Tags tags;
  if (!read_tags (data, size, &tags) || tags.width == 0 || tags.height == 0)
    return damaged (error);
  header->width = tags.width;
  header->height = tags.height;
  header->turn = tags.turn;
  header->dots_mm = tags_dots (&tags);
  return TRUE;
}

/* --- PNG -------------------------------------------------------------------------------- */
static gboolean
read_png (const guint8 *data, gsize size, FilePictureHeader *header,
          GError **error)
{
  Bytes b = { data, size, FALSE };
  if (size < 33)
    return broken_off (error);
  if (memcmp (data + 12, "IHDR", 4) != 0)
    return damaged (error);
  header->width = at32 (&b, 16);
  header->height = at32 (&b, 20);
  for (gsize at = 8; size - at >= 12;)
    {
      gsize length = at32 (&b, at);
      const guint8 *name = data + at + 4;
      if (length > size - at - 12)
        return broken_off (error);
      if (memcmp (name, "IEND", 4) == 0)
        return TRUE;
      if (memcmp (name, "pHYs", 4) == 0 && length == 9 && data[at + 16] == 1)
        header->dots_mm = believe_both (at32 (&b, at + 8) / 1000.0,
                                        at32 (&b, at + 12) / 1000.0);
      Tags tags;
      if (memcmp (name, "eXIf", 4) == 0
          && read_tags (data + at + 8, length, &tags))
        header->turn = tags.turn;
      at += length + 12;
    }
  return broken_off (error);
}

/* --- JPEG ------------------------------------------------------------------------------- */
/* Where the next marker's second byte stands; size where there is none. What a scan holds is passed over: there FF
 * is followed by 00, or by a restart's number. */
static gsize
next_marker (const guint8 *data, gsize size, gsize at)
{
  while (at < size)
    {
      const guint8 *ff = memchr (data + at, 0xff, size - at);
      if (ff == NULL)
        return size;
      at = (gsize)(ff - data) + 1;
      while (at < size && data[at] == 0xff)
        at++;
      if (at < size && data[at] != 0 && !(data[at] >= 0xd0 && data[at] <= 0xd7))
        return at;
    }
  return size;
}

static void
read_jfif (const Bytes *b, gsize at, gsize length, FilePictureHeader *header)
{
  if (length < 16 || memcmp (b->data + at + 2, "JFIF", 5) != 0)
    return;
  guint unit = b->data[at + 9];
  double mm = unit == 1 ? 25.4 : 10;
  if (unit == 1 || unit == 2)
    header->dots_mm
        = believe_both (at16 (b, at + 10) / mm, at16 (b, at + 12) / mm);
}

/* Exif comes after JFIF, and says it more exactly. */
static void
read_exif (const Bytes *b, gsize at, gsize length, FilePictureHeader *header)
{
  Tags tags;
  if (length < 16 || memcmp (b->data + at + 2, "Exif\0", 6) != 0
      || !read_tags (b->data + at + 8, length - 8, &tags))
    return;
  header->turn = tags.turn;
  GeoPoint dots = tags_dots (&tags);
  if (tags.camera || dots.x > 0)
    header->dots_mm = dots;
}

static gboolean
is_frame (guint8 marker)
{
  return marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8
         && marker != 0xcc;
}

static gboolean
read_jpeg (const guint8 *data, gsize size, FilePictureHeader *header,
           GError **error)
{
  Bytes b = { data, size, FALSE };
  gboolean scanned = FALSE;
  gsize at = 2;
  for (guint i = 0; i < MOST_SEGMENTS; i++)
    {
      at = next_marker (data, size, at);
      if (at >= size)
        return broken_off (error);
      guint8 marker = data[at++];
      if (marker == 0xd9)
        return scanned && header->width > 0 && header->height > 0
                   ? TRUE
                   : damaged (error);
      if (marker == 0x01 || marker == 0xd8)
        continue;
      gsize length = at16 (&b, at);
      if (size - at < 2 || length > size - at)
        return broken_off (error);
      if (length < 2)
        return damaged (error);
      if (marker == 0xe0)
        read_jfif (&b, at, length, header);
      else if (marker == 0xe1)
        read_exif (&b, at, length, header);
      else if (is_frame (marker) && length >= 8)
        {
          header->height = at16 (&b, at + 3);
          header->width = at16 (&b, at + 5);
        }
      scanned = scanned || marker == 0xda;
      at += length;
    }
  return damaged (error);
}

/* --- which of them ---------------------------------------------------------------------- */
static gboolean
no_picture (const guint8 *data, gsize size, GError **error)
{
  const char *words
      = _ ("This is no PNG, JPEG or TIFF picture. Nothing was changed. Save "
           "it as one of these with the program that made it.");
  if (size == 0)
    words = _ ("The file is empty. Nothing was changed.");
  else if (size >= 12 && memcmp (data + 4, "ftyp", 4) == 0)
    words = _ ("This is a HEIC or AVIF picture, as some phones take them. "
               "Nothing was changed. Set the phone's camera to JPEG, or save "
               "the picture as JPEG.");
  else if (size >= 5 && memcmp (data, "%PDF-", 5) == 0)
    words = _ ("This is a PDF. Nothing was changed. Let the scanner save PNG, "
               "JPEG or TIFF.");
  g_set_error_literal (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_KIND,
                       words);
  return FALSE;
}

gboolean
file_picture_header (const guint8 *data, gsize size, FilePictureHeader *header,
                     GError **error)
{
  static const guint8 png[8] = { 0x89, 'P', 'N', 'G', 13, 10, 26, 10 };
  *header = (FilePictureHeader){ .turn = 1 };
  if (size >= 8 && memcmp (data, png, 8) == 0)
    {
      header->kind = FILE_PICTURE_PNG;
      return read_png (data, size, header, error);
    }
  if (size >= 3 && data[0] == 0xff && data[1] == 0xd8 && data[2] == 0xff)
    {
      header->kind = FILE_PICTURE_JPEG;
      return read_jpeg (data, size, header, error);
    }
  if (size >= 4
      && (memcmp (data, "II*\0", 4) == 0 || memcmp (data, "MM\0*", 4) == 0))
    {
      header->kind = FILE_PICTURE_TIFF;
      return read_tiff (data, size, header, error);
    }
  return no_picture (data, size, error);
}

void
file_picture_task_size (const FilePictureTask *task, guint *width,
                        guint *height)
{
  guint w = (task->width + task->shrink - 1) / task->shrink;
  guint h = (task->height + task->shrink - 1) / task->shrink;
  *width = FILE_PICTURE_LIES (task->turn) ? h : w;
  *height = FILE_PICTURE_LIES (task->turn) ? w : h;
}
