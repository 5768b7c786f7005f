/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever is read as a picture's header is of the kind its first bytes say, its turn is one of eight,
 * its resolution none or a believable one both ways; what is no picture is told in words; the time goes with
 * the size; and only what is within bounds gets as far as the child that reads pixels. */
#include "fuzz.h"

#include <math.h>

#include "file/picture-header.h"

const char *const fuzz_folder = "fuzz-picture";

static const char *const kinds[] = { "PNG", "JPEG", "TIFF" };

static FilePictureKind
kind_by_first (const uint8_t *data)
{
  return data[0] == 0x89   ? FILE_PICTURE_PNG
         : data[0] == 0xff ? FILE_PICTURE_JPEG
                           : FILE_PICTURE_TIFF;
}

static gboolean
is_believable (double dots_mm)
{
  return isfinite (dots_mm) && dots_mm >= 0.2 && dots_mm <= 200;
}

static void
look_at_header (const uint8_t *data, size_t size,
                const FilePictureHeader *header)
{
  g_assert_cmpuint (size, >=, 8);
  g_assert_cmpint (header->kind, ==, kind_by_first (data));
  g_assert_true (header->turn >= 1 && header->turn <= 8);
  GeoPoint dots = header->dots_mm;
  g_assert_true ((dots.x == 0 && dots.y == 0)
                 || (is_believable (dots.x) && is_believable (dots.y)));
}

static void
look_at_facts (const FilePictureFacts *facts, const FilePictureHeader *header)
{
  gboolean lies = header->turn >= 5;
  g_assert_cmpstr (facts->kind, ==, kinds[header->kind]);
  g_assert_cmpuint (facts->width, ==, lies ? header->height : header->width);
  g_assert_cmpuint (facts->height, ==, lies ? header->width : header->height);
  g_assert_true (facts->width >= 16 && facts->width <= TRACING_MOST_SIDE);
  g_assert_true (facts->height >= 16 && facts->height <= TRACING_MOST_SIDE);
  g_assert_true ((double)facts->width * facts->height <= TRACING_MOST_PIXELS);
}

static void
look_at_words (const GError *error)
{
  g_assert_nonnull (error);
  g_assert_true (error->domain == FILE_PICTURE_ERROR);
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL, other = NULL;
  FilePictureHeader header;
  FilePictureFacts facts;
  gboolean read = file_picture_header (data, size, &header, &error);
  g_autoptr (GBytes) bytes = g_bytes_new_static (data, size);
  gboolean known = file_picture_look (bytes, &facts, &other);
  if (read)
    look_at_header (data, size, &header);
  else
    look_at_words (error);
  if (known)
    look_at_facts (&facts, &header);
  else
    look_at_words (other);
  g_assert_true (read || !known);
  g_assert_true (read == (error == NULL) && known == (other == NULL));
  return 0;
}
