/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos and scans: every turn, every kind of pixel, and files that are none.
 *
 * Turns are built from the table in CIPA DC-008 (Exif), 4.6.4: on which side of what is seen row 0 and column 0 lie. Where
 * ImageMagick is installed, it makes pictures too, and says what they look like.
 */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

#include "file/picture.h"

#define WIDTH 44 /* as seen */
#define HEIGHT 28

static void
colour_at (guint x, guint y, guint8 *rgb)
{
  rgb[0] = (guint8)(5 * x);
  rgb[1] = (guint8)(9 * y);
  rgb[2] = (guint8)(x + y);
}

/* --- making files --------------------------------------------------------------------- */
typedef enum
{
  TOP,
  BOTTOM,
  LEFT,
  RIGHT
} Side;

static const Side row_0[]
    = { TOP, TOP, BOTTOM, BOTTOM, LEFT, RIGHT, RIGHT, LEFT };
static const Side column_0[]
    = { LEFT, RIGHT, RIGHT, LEFT, TOP, TOP, BOTTOM, BOTTOM };

static void
go_from (Side side, guint n, guint *x, guint *y)
{
  if (side == TOP)
    *y = n;
  else if (side == BOTTOM)
    *y = HEIGHT - 1 - n;
  else if (side == LEFT)
    *x = n;
  else
    *x = WIDTH - 1 - n;
}

/* As a camera that was turned so would store it; alpha: every other column half clear. */
static GdkPixbuf *
make_pixbuf (guint turn, gboolean alpha)
{
  guint w = turn > 4 ? HEIGHT : WIDTH, h = turn > 4 ? WIDTH : HEIGHT;
  GdkPixbuf *pixbuf
      = gdk_pixbuf_new (GDK_COLORSPACE_RGB, alpha, 8, (int)w, (int)h);
  guint8 *pixels = gdk_pixbuf_get_pixels (pixbuf);
  guint stride = (guint)gdk_pixbuf_get_rowstride (pixbuf);
  guint channels = (guint)gdk_pixbuf_get_n_channels (pixbuf);
  for (guint row = 0; row < h; row++)
    for (guint column = 0; column < w; column++)
      {
        guint x = 0, y = 0;
        guint8 *p = pixels + row * stride + column * channels;
        go_from (row_0[turn - 1], row, &x, &y);
        go_from (column_0[turn - 1], column, &x, &y);
        colour_at (x, y, p);
        if (alpha)
          p[3] = column % 2 == 0 ? 255 : 128;
      }
  return pixbuf;
}

static GByteArray *
save (GdkPixbuf *pixbuf, const char *kind, const char *key, const char *value)
{
  char *buffer;
  gsize size;
  g_autoptr (GError) error = NULL;
  gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size, kind, &error, key, value,
                             NULL);
  g_assert_no_error (error);
  return g_byte_array_new_take ((guint8 *)buffer, size);
}

static void
put_number (GByteArray *to, guint32 value, guint bytes, gboolean little)
{
  for (guint i = 0; i < bytes; i++)
    {
      guint8 byte = (guint8)(value >> 8 * (little ? i : bytes - 1 - i));
      g_byte_array_append (to, &byte, 1);
    }
}

static void
put_tag (GByteArray *to, guint tag, guint type, guint value, gboolean little)
{
  put_number (to, tag, 2, little);
  put_number (to, type, 2, little);
  put_number (to, 1, 4, little);
  if (type == 3)
    {
      put_number (to, value, 2, little);
      put_number (to, 0, 2, little);
    }
  else
    put_number (to, value, 4, little);
}

/* A TIFF header and its first directory: the turn, and 300 dots to the inch. */
static GByteArray *
make_exif (guint turn, gboolean little, gboolean camera)
{
  GByteArray *exif = g_byte_array_new ();
  guint entries = camera ? 5 : 4, after = 8 + 2 + 12 * entries + 4;
  g_byte_array_append (exif, (const guint8 *)(little ? "II" : "MM"), 2);
  put_number (exif, 42, 2, little);
  put_number (exif, 8, 4, little);
  put_number (exif, entries, 2, little);
  put_tag (exif, 274, 3, turn, little);
  put_tag (exif, 282, 5, after, little);
  put_tag (exif, 283, 5, after, little);
  put_tag (exif, 296, 3, 2, little);
  if (camera)
    put_tag (exif, 0x8769, 4, after + 8, little);
  put_number (exif, 0, 4, little);
  put_number (exif, 3000, 4, little);
  put_number (exif, 10, 4, little);
  put_number (exif, 1, 2, little);
  put_tag (exif, 0x829d, 5, 0, little);
  put_number (exif, 0, 4, little);
  return exif;
}

static GBytes *
done (GByteArray *file)
{
  return g_byte_array_free_to_bytes (file);
}

/* The segment stands where cameras put it, first of all. */
static GBytes *
make_jpeg (guint turn, gboolean little, gboolean camera)
{
  g_autoptr (GdkPixbuf) pixbuf = make_pixbuf (turn, FALSE);
  g_autoptr (GByteArray) plain = save (pixbuf, "jpeg", "quality", "100");
  g_autoptr (GByteArray) exif = make_exif (turn, little, camera);
  GByteArray *file = g_byte_array_new ();
  g_byte_array_append (file, plain->data, 2);
  put_number (file, 0xffe1, 2, FALSE);
  put_number (file, exif->len + 8, 2, FALSE);
  g_byte_array_append (file, (const guint8 *)"Exif\0", 6);
  g_byte_array_append (file, exif->data, exif->len);
  g_byte_array_append (file, plain->data + 2, plain->len - 2);
  return done (file);
}

static guint32
crc_of (const guint8 *data, gsize n)
{
  guint32 crc = 0xffffffff;
  for (gsize i = 0; i < n; i++)
    {
      crc ^= data[i];
      for (guint k = 0; k < 8; k++)
        crc = crc & 1 ? 0xedb88320 ^ crc >> 1 : crc >> 1;
    }
  return ~crc;
}

static GBytes *
make_png (guint turn)
{
  g_autoptr (GdkPixbuf) pixbuf = make_pixbuf (turn, FALSE);
  g_autoptr (GByteArray) plain = save (pixbuf, "png", "compression", "5");
  g_autoptr (GByteArray) exif = make_exif (turn, FALSE, FALSE);
  GByteArray *file = g_byte_array_new ();
  g_byte_array_append (file, plain->data, 33);
  put_number (file, exif->len, 4, FALSE);
  g_byte_array_append (file, (const guint8 *)"eXIf", 4);
  g_byte_array_append (file, exif->data, exif->len);
  put_number (file, crc_of (file->data + 37, exif->len + 4), 4, FALSE);
  g_byte_array_append (file, plain->data + 33, plain->len - 33);
  return done (file);
}

/* Not packed, one strip. */
static GBytes *
make_tiff (guint turn, gboolean little)
{
  g_autoptr (GdkPixbuf) pixbuf = make_pixbuf (turn, FALSE);
  guint w = (guint)gdk_pixbuf_get_width (pixbuf);
  guint h = (guint)gdk_pixbuf_get_height (pixbuf);
  guint entries = 13, after = 8 + 2 + 12 * entries + 4;
  GByteArray *file = g_byte_array_new ();
  g_byte_array_append (file, (const guint8 *)(little ? "II" : "MM"), 2);
  put_number (file, 42, 2, little);
  put_number (file, 8, 4, little);
  put_number (file, entries, 2, little);
  const guint tags[][3]
      = { { 256, 4, w },         { 257, 3, h },     { 258, 3, 8 },
          { 259, 3, 1 },         { 262, 3, 2 },     { 273, 4, after + 8 },
          { 274, 3, turn },      { 277, 3, 3 },     { 278, 3, h },
          { 279, 4, w * h * 3 }, { 282, 5, after }, { 283, 5, after },
          { 296, 3, 3 } };
  for (guint i = 0; i < entries; i++)
    put_tag (file, tags[i][0], tags[i][1], tags[i][2], little);
  put_number (file, 0, 4, little);
  put_number (file, 1500, 4, little);
  put_number (file, 10, 4, little);
  for (guint row = 0; row < h; row++)
    g_byte_array_append (file,
                         gdk_pixbuf_get_pixels (pixbuf)
                             + row * (guint)gdk_pixbuf_get_rowstride (pixbuf),
                         w * 3);
  /* every sample has the one number of bits: no array of three is written */
  return done (file);
}

/* --- what is asked of them -------------------------------------------------------------- */
static TracingPicture *
decode (GBytes *bytes, guint shrink)
{
  g_autoptr (GError) error = NULL;
  TracingPicture *picture
      = file_picture_decode (bytes, shrink, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_nonnull (picture);
  return picture;
}

static void
assert_seen (TracingPicture *picture, guint within)
{
  g_assert_cmpuint (tracing_picture_get_width (picture), ==, WIDTH);
  g_assert_cmpuint (tracing_picture_get_height (picture), ==, HEIGHT);
  const guint8 *rgb = tracing_picture_get_rgb (picture);
  for (guint y = 0; y < HEIGHT; y++)
    for (guint x = 0; x < WIDTH; x++)
      {
        guint8 is[3];
        colour_at (x, y, is);
        const guint8 *p
            = rgb + y * tracing_picture_get_stride (picture) + 3 * x;
        for (guint k = 0; k < 3; k++)
          g_assert_cmpint (ABS ((int)p[k] - (int)is[k]), <=, (int)within);
      }
}

static void
assert_bad (GBytes *bytes, FilePictureError code, const char *words)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TracingPicture) picture
      = file_picture_decode (bytes, 1, NULL, NULL, NULL, &error);
  g_assert_null (picture);
  g_assert_error (error, FILE_PICTURE_ERROR, (int)code);
  if (strstr (error->message, words) == NULL
      || strstr (error->message, "Nothing was changed.") == NULL)
    g_error ("“%s” lacks “%s”", error->message, words);
}

/* --- turns --------------------------------------------------------------------------------- */
static void
test_turns (void)
{
  for (guint turn = 1; turn <= 8; turn++)
    for (guint i = 0; i < 5; i++)
      {
        g_autoptr (GBytes) bytes = i < 2   ? make_jpeg (turn, i == 1, FALSE)
                                   : i < 4 ? make_tiff (turn, i == 3)
                                           : make_png (turn);
        g_autoptr (GError) error = NULL;
        FilePictureFacts facts;
        g_assert_true (file_picture_look (bytes, &facts, &error));
        g_assert_cmpuint (facts.width, ==, WIDTH);
        g_assert_cmpuint (facts.height, ==, HEIGHT);
        g_assert_cmpstr (facts.kind, ==,
                         i < 2   ? "JPEG"
                         : i < 4 ? "TIFF"
                                 : "PNG");
        g_test_message ("turn %u, %s %u", turn, facts.kind, i);
        g_autoptr (TracingPicture) picture = decode (bytes, 1);
        assert_seen (picture, i < 2 ? 12 : 0);
      }
}

static void
test_resolution (void)
{
  struct
  {
    GBytes *bytes;
    double dots;
  } cases[] = {
    { make_jpeg (6, TRUE, FALSE), 300 / 25.4 },
    { make_jpeg (6, TRUE, TRUE), 0 }, /* a camera's 300 stands for nothing */
    { make_tiff (1, FALSE), 15 },
    { NULL, 300 / 25.4 },
    { NULL, 150 / 25.4 },
    { NULL, 0 },
    { NULL, 0 },
  };
  g_autoptr (GdkPixbuf) pixbuf = make_pixbuf (1, FALSE);
  static const char *const dpi[] = { "300", "150", "72", "96" };
  for (guint i = 0; i < 4; i++)
    {
      char *buffer;
      gsize size;
      gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &size,
                                 i % 2 == 0 ? "png" : "jpeg", NULL, "x-dpi",
                                 dpi[i], "y-dpi", dpi[i], NULL);
      cases[3 + i].bytes = g_bytes_new_take (buffer, size);
    }
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      FilePictureFacts facts;
      g_assert_true (file_picture_look (cases[i].bytes, &facts, NULL));
      g_assert_cmpfloat_with_epsilon (facts.dots_mm.x, cases[i].dots, 1e-3);
      g_assert_cmpfloat_with_epsilon (facts.dots_mm.y, cases[i].dots, 1e-3);
      g_autoptr (TracingPicture) half = decode (cases[i].bytes, 2);
      g_assert_cmpfloat_with_epsilon (tracing_picture_get_dots_mm (half).x,
                                      cases[i].dots / 2, 1e-3);
      g_bytes_unref (cases[i].bytes);
    }
}

/* --- pixels ---------------------------------------------------------------------------------- */
static void
test_alpha_and_shrink (void)
{
  g_autoptr (GdkPixbuf) pixbuf = make_pixbuf (1, TRUE);
  g_autoptr (GBytes) bytes = done (save (pixbuf, "png", "compression", "1"));
  g_autoptr (TracingPicture) picture = decode (bytes, 1);
  const guint8 *rgb = tracing_picture_get_rgb (picture);
  for (guint x = 0; x < WIDTH; x++)
    {
      guint8 is[3];
      colour_at (x, 10, is);
      double clear = x % 2 == 0 ? 1 : 128.0 / 255;
      const guint8 *p = rgb + 10 * tracing_picture_get_stride (picture) + 3 * x;
      for (guint k = 0; k < 3; k++)
        g_assert_cmpfloat (fabs (p[k] - (is[k] * clear + 255 * (1 - clear))),
                           <=, 1);
    }
  for (guint shrink = 2; shrink <= 8; shrink *= 2)
    for (guint turn = 1; turn <= 8; turn += 5)
      {
        g_autoptr (GBytes) jpeg = make_jpeg (turn, TRUE, FALSE);
        g_autoptr (GBytes) png = make_png (turn);
        g_autoptr (TracingPicture) a = decode (jpeg, shrink);
        g_autoptr (TracingPicture) b = decode (png, shrink);
        guint w = (WIDTH + shrink - 1) / shrink;
        guint h = (HEIGHT + shrink - 1) / shrink;
        g_assert_cmpuint (tracing_picture_get_width (a), ==, w);
        g_assert_cmpuint (tracing_picture_get_height (b), ==, h);
        /* Whole blocks: the mean of a ramp is its middle. */
        double middle = (shrink - 1) / 2.0;
        const guint8 *p = tracing_picture_get_rgb (b)
                          + tracing_picture_get_stride (b) + 3 * 2;
        g_assert_cmpfloat (fabs (p[0] - 5 * (2 * shrink + middle)), <=, 1);
        g_assert_cmpfloat (fabs (p[1] - 9 * (shrink + middle)), <=, 1);
        p = tracing_picture_get_rgb (a) + tracing_picture_get_stride (a)
            + 3 * 2;
        g_assert_cmpfloat (fabs (p[0] - 5 * (2 * shrink + middle)), <=, 14);
      }
}

/* Made by another program, of kinds gdk-pixbuf does not write. */
static void
test_made_elsewhere (void)
{
  static const char *const made[] = {
    "-colorspace Gray PNG8:",   "-depth 16 PNG48:",
    "-colorspace CMYK JPEG:",   "-colorspace CMYK -depth 8 TIFF:",
    "-depth 16 TIFF:",          "-compress LZW TIFF:",
    "-colors 200 PNG8:",        "-interlace JPEG JPEG:",
    "-interlace PNG PNG:",      "-monochrome TIFF:",
    "-colorspace Gray JPEG:",   "-orient RightTop JPEG:",
    "-orient LeftBottom TIFF:",
  };
  g_autofree char *tool = g_find_program_in_path ("convert");
  if (tool == NULL)
    {
      g_test_skip ("ImageMagick is not installed");
      return;
    }
  g_autofree char *dir = g_dir_make_tmp ("bodkin-XXXXXX", NULL);
  g_autofree char *file = g_build_filename (dir, "made", NULL);
  g_autofree char *back = g_build_filename (dir, "back.ppm", NULL);
  for (guint i = 0; i < G_N_ELEMENTS (made); i++)
    {
      /* A slow gradient of colours: packing hardly harms it. */
      g_autofree char *make = g_strdup_printf (
          "%s -size 64x48 gradient:tomato-steelblue -quality 98 "
          "-sampling-factor 1x1 %s%s",
          tool, made[i], file);
      g_autofree char *show = g_strdup_printf (
          "%s %s -auto-orient -colorspace sRGB -depth 8 PPM:%s", tool, file,
          back);
      g_assert_true (g_spawn_command_line_sync (make, NULL, NULL, NULL, NULL));
      g_assert_true (g_spawn_command_line_sync (show, NULL, NULL, NULL, NULL));
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = file_picture_load (file, &error);
      g_assert_no_error (error);
      g_autoptr (TracingPicture) picture = decode (bytes, 1);
      g_autoptr (GdkPixbuf) truth = gdk_pixbuf_new_from_file (back, &error);
      g_assert_no_error (error);
      guint w = tracing_picture_get_width (picture);
      guint h = tracing_picture_get_height (picture);
      g_assert_cmpuint (w, ==, (guint)gdk_pixbuf_get_width (truth));
      g_assert_cmpuint (h, ==, (guint)gdk_pixbuf_get_height (truth));
      double sum = 0;
      for (guint y = 0; y < h; y++)
        for (guint x = 0; x < 3 * w; x++)
          sum += abs (
              tracing_picture_get_rgb (
                  picture)[y * tracing_picture_get_stride (picture) + x]
              - gdk_pixbuf_get_pixels (
                  truth)[y * (guint)gdk_pixbuf_get_rowstride (truth) + x]);
      g_test_message ("%s off %.2f", made[i], sum / (3 * w * h));
      /* inks are told by each program in its own way */
      g_assert_cmpfloat (sum / (3 * w * h), <,
                         strstr (made[i], "CMYK") != NULL ? 40 : 2);
    }
  g_unlink (file);
  g_unlink (back);
  g_rmdir (dir);
}

/* --- what is no picture -------------------------------------------------------------------- */
static GBytes *
cut (GBytes *bytes, gsize to)
{
  return g_bytes_new_from_bytes (bytes, 0, to);
}

static void
test_broken_off (void)
{
  GBytes *whole[]
      = { make_png (1), make_jpeg (1, TRUE, FALSE), make_tiff (1, TRUE) };
  for (guint i = 0; i < 3; i++)
    {
      gsize size = g_bytes_get_size (whole[i]);
      for (guint k = 1; k < 8; k++)
        {
          g_autoptr (GBytes) part = cut (whole[i], size * k / 8);
          assert_bad (part, FILE_PICTURE_ERROR_BAD, "once more");
        }
      /* The last bytes of a TIFF may be a resolution, which is not missed. */
      g_autoptr (GBytes) nearly = cut (whole[i], size - 2);
      if (i < 2)
        assert_bad (nearly, FILE_PICTURE_ERROR_BAD, "once more");
      g_bytes_unref (whole[i]);
    }
}

/* Says 40,000 x 40,000, as PNG, JPEG, TIFF; nobody asks for memory for that. */
static void
test_bombs (void)
{
  static const guint at[3] = { 16, 0, 18 };
  GBytes *files[]
      = { make_png (1), make_jpeg (1, TRUE, FALSE), make_tiff (1, FALSE) };
  for (guint i = 0; i < 3; i++)
    {
      gsize size;
      guint8 *data = g_bytes_unref_to_data (files[i], &size);
      guint8 *p = data + at[i];
      static const guint8 forty[4] = { 0, 0, 0x9c, 0x40 };
      if (i == 0)
        {
          memcpy (p, forty, 4);
          memcpy (p + 4, forty, 4);
        }
      else if (i == 1)
        {
          p = data;
          while (!(p[0] == 0xff && p[1] == 0xc0))
            p++;
          memcpy (p + 5, forty + 2, 2);
          memcpy (p + 7, forty + 2, 2);
        }
      else
        {
          memcpy (p, forty, 4);
          memcpy (p + 12, forty + 2, 2);
        }
      g_autoptr (GBytes) bomb = g_bytes_new_take (data, size);
      assert_bad (bomb, FILE_PICTURE_ERROR_LARGE, "40000 × 40000");
    }
  g_autoptr (GdkPixbuf) tiny
      = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 1, 1);
  gdk_pixbuf_fill (tiny, 0xffffffff);
  g_autoptr (GBytes) one = done (save (tiny, "png", "compression", "1"));
  assert_bad (one, FILE_PICTURE_ERROR_SMALL, "1 × 1");
}

static void
test_no_pictures (void)
{
  static const struct
  {
    const char *text;
    gsize length;
    const char *words;
  } cases[] = {
    { "", 0, "empty" },
    { "a shopping list", 15, "no PNG" },
    { "\0\0\0\x18"
      "ftypheic\0\0\0\0",
      16, "HEIC" },
    { "%PDF-1.7\n", 9, "PDF" },
    { "GIF89a\1\0\1\0", 10, "no PNG" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) bytes
          = g_bytes_new_static (cases[i].text, cases[i].length);
      assert_bad (bytes, FILE_PICTURE_ERROR_KIND, cases[i].words);
    }
  g_autoptr (GError) error = NULL;
  g_assert_null (file_picture_load ("/no/such/photo.jpg", &error));
  g_assert_error (error, FILE_PICTURE_ERROR, FILE_PICTURE_ERROR_READ);
  g_assert_nonnull (strstr (error->message, "photo.jpg"));
  g_clear_error (&error);
  g_assert_null (file_picture_load ("/tmp", &error));
  g_assert_nonnull (strstr (error->message, "folder"));
  g_clear_error (&error);
  g_assert_null (file_picture_load ("/dev/zero", &error));
  g_assert_nonnull (strstr (error->message, "ordinary"));
  g_clear_error (&error);
  g_autofree char *made = NULL;
  int fd = g_file_open_tmp ("XXXXXX.png", &made, NULL);
  close (fd);
  g_file_set_contents (made, "hello there", -1, NULL);
  g_assert_null (file_picture_load (made, &error));
  g_autofree char *name = g_path_get_basename (made);
  g_assert_nonnull (strstr (error->message, name));
  g_unlink (made);
}

/* Whatever bytes are changed, the answer is a picture of that size, or words. */
static void
test_spoilt_headers (void)
{
  GBytes *files[]
      = { make_png (6), make_jpeg (6, TRUE, TRUE), make_tiff (6, FALSE) };
  for (guint i = 0; i < 3; i++)
    {
      gsize size;
      const guint8 *data = g_bytes_get_data (files[i], &size);
      for (guint k = 0; k < 20000; k++)
        {
          /* just as long as it is, so that reading past it is seen */
          gsize n = g_test_rand_int_range (0, 3) == 0
                        ? (gsize)g_test_rand_int_range (0, (int)size)
                        : size;
          guint8 *copy = g_memdup2 (data, n);
          for (int j = g_test_rand_int_range (0, 6); n > 0 && j > 0; j--)
            copy[g_test_rand_int_range (0, (int)MIN (n, 260))]
                = (guint8)g_test_rand_int ();
          g_autoptr (GBytes) spoilt = g_bytes_new_take (copy, n);
          g_autoptr (GError) error = NULL;
          FilePictureFacts facts;
          if (!file_picture_look (spoilt, &facts, &error))
            {
              g_assert_nonnull (error);
              continue;
            }
          g_assert_cmpuint (facts.width, <=, TRACING_MOST_SIDE);
          g_assert_cmpuint (facts.height, <=, TRACING_MOST_SIDE);
          g_assert_true (isfinite (facts.dots_mm.x)
                         && isfinite (facts.dots_mm.y));
          if (k % 2000 != 0 || facts.width > 2000 || facts.height > 2000)
            continue;
          g_autoptr (TracingPicture) picture
              = file_picture_decode (spoilt, 1, NULL, NULL, NULL, &error);
          g_assert_true ((picture == NULL) == (error != NULL));
          if (picture != NULL)
            g_assert_cmpuint (tracing_picture_get_width (picture), ==,
                              facts.width);
        }
      g_bytes_unref (files[i]);
    }
}

/* --- a large one ------------------------------------------------------------------------------ */
typedef struct
{
  double last, most;
  guint n;
} Ticks;

static gboolean
on_tick (double share, gpointer data)
{
  Ticks *ticks = data;
  g_assert_cmpfloat (share, >=, ticks->last);
  g_assert_cmpfloat (share, <=, 1);
  ticks->last = share;
  ticks->n++;
  return share < ticks->most;
}

static void
test_progress (void)
{
  g_autoptr (GdkPixbuf) pixbuf
      = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 4000, 3000);
  guint8 *pixels = gdk_pixbuf_get_pixels (pixbuf);
  for (guint i = 0; i < 3 * 4000 * 3000; i++)
    pixels[i] = (guint8)(i * 2654435761u >> 25);
  g_autoptr (GBytes) bytes = done (save (pixbuf, "jpeg", "quality", "80"));
  g_autoptr (GError) error = NULL;
  Ticks ticks = { .most = 2 };
  gint64 start = g_get_monotonic_time ();
  g_autoptr (TracingPicture) picture
      = file_picture_decode (bytes, 1, NULL, on_tick, &ticks, &error);
  g_assert_no_error (error);
  g_test_message ("12 megapixels in %.2f s, %u steps",
                  (double)(g_get_monotonic_time () - start) / 1e6, ticks.n);
  g_assert_cmpuint (ticks.n, >, 5);
  g_assert_cmpfloat (ticks.last, >, 0.5);
  g_assert_cmpuint (tracing_picture_get_height (picture), ==, 3000);

  ticks = (Ticks){ .most = 0.2 };
  g_assert_null (file_picture_decode (bytes, 1, NULL, on_tick, &ticks, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpfloat (ticks.last, <, 0.8);
  g_clear_error (&error);
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();
  g_cancellable_cancel (cancelled);
  g_assert_null (file_picture_decode (bytes, 1, cancelled, NULL, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

/* A reader that isn't there, and one that says nothing. */
static void
test_no_reader (void)
{
  g_autoptr (GBytes) bytes = make_png (1);
  g_setenv ("BODKIN_PICTURE_READER", "/no/such/reader", TRUE);
  assert_bad (bytes, FILE_PICTURE_ERROR_READ, "did not start");
  g_setenv ("BODKIN_PICTURE_READER", "/bin/true", TRUE);
  assert_bad (bytes, FILE_PICTURE_ERROR_BAD, "damaged");
  g_unsetenv ("BODKIN_PICTURE_READER");
}

/* Each of many segments mentions the same long list 4000 times, which is looked through once: the time goes
 * with the size. (Looked through at each mention it took 0.4 s a MB.) */
static void
test_long_lists (void)
{
  g_autoptr (GByteArray) exif = g_byte_array_new ();
  g_byte_array_append (exif, (const guint8 *)"II", 2);
  put_number (exif, 42, 2, TRUE);
  put_number (exif, 8, 4, TRUE);
  put_number (exif, 4000, 2, TRUE);
  for (guint i = 0; i < 4000; i++)
    put_tag (exif, 0x8769, 4, 8, TRUE);
  g_autoptr (GBytes) plain = make_jpeg (1, TRUE, FALSE);
  gsize size;
  const guint8 *data = g_bytes_get_data (plain, &size);
  GByteArray *file = g_byte_array_new ();
  g_byte_array_append (file, data, 2);
  while (file->len < 16u << 20)
    {
      put_number (file, 0xffe1, 2, FALSE);
      put_number (file, exif->len + 8, 2, FALSE);
      g_byte_array_append (file, (const guint8 *)"Exif\0", 6);
      g_byte_array_append (file, exif->data, exif->len);
    }
  g_byte_array_append (file, data + 2, (guint)size - 2);
  g_autoptr (GBytes) bytes = done (file);
  FilePictureFacts facts;
  g_autoptr (GError) error = NULL;
  gint64 began = g_get_monotonic_time ();
  g_assert_true (file_picture_look (bytes, &facts, &error));
  g_assert_no_error (error);
  double seconds = (double)(g_get_monotonic_time () - began) / 1e6;
  g_test_message ("16 MB of lists: %.3f s", seconds);
  g_assert_cmpfloat (seconds, <, 2);
}

int
main (int argc, char **argv)
{
  int status;
  if (file_picture_child (argc, argv, &status))
    return status;
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/picture/turns", test_turns);
  g_test_add_func ("/picture/resolution", test_resolution);
  g_test_add_func ("/picture/alpha-and-shrink", test_alpha_and_shrink);
  g_test_add_func ("/picture/made-elsewhere", test_made_elsewhere);
  g_test_add_func ("/picture/broken-off", test_broken_off);
  g_test_add_func ("/picture/bombs", test_bombs);
  g_test_add_func ("/picture/no-pictures", test_no_pictures);
  g_test_add_func ("/picture/spoilt-headers", test_spoilt_headers);
  g_test_add_func ("/picture/long-lists", test_long_lists);
  g_test_add_func ("/picture/progress", test_progress);
  g_test_add_func ("/picture/no-reader", test_no_reader);
  return g_test_run ();
}
