/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture-maker.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

#include "picture-cover.h"

typedef enum
{
  THING_SHAPE,
  THING_HOLE,
  THING_STROKE,
} ThingKind;

typedef struct
{
  ThingKind kind;
  GArray *loops; /* of GArray of GeoPoint, mm */
  guint32 colour;
} Thing;

struct _Maker
{
  GeoBox view;
  GArray *things;
};

static void
thing_clear (gpointer data)
{
  Thing *thing = data;
  g_array_unref (thing->loops);
}

static void
loop_clear (gpointer data)
{
  g_array_unref (*(GArray **)data);
}

Maker *
maker_new (GeoBox view)
{
  Maker *maker = g_new0 (Maker, 1);
  maker->view = view;
  maker->things = g_array_new (FALSE, FALSE, sizeof (Thing));
  g_array_set_clear_func (maker->things, thing_clear);
  return maker;
}

void
maker_free (Maker *maker)
{
  g_array_unref (maker->things);
  g_free (maker);
}

static GArray *
add_loop (GArray *loops)
{
  GArray *loop = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  g_array_append_val (loops, loop);
  return loop;
}

static Thing *
add_thing (Maker *maker, ThingKind kind, guint32 colour)
{
  Thing thing = { kind, g_array_new (FALSE, FALSE, sizeof (GArray *)), colour };
  g_array_set_clear_func (thing.loops, loop_clear);
  g_array_append_val (maker->things, thing);
  return &g_array_index (maker->things, Thing, maker->things->len - 1);
}

/* Chords stay within a few thousandths of a mm. */
static void
flatten (const GeoChain *chain, GArray *loop)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      guint n = geo_cubic_is_straight (c, 1e-9) ? 1 : 96;
      for (guint k = 0; k < n; k++)
        {
          GeoPoint p = geo_cubic_point (c, k / (double)n);
          g_array_append_val (loop, p);
        }
    }
  GeoPoint end = geo_chain_end (chain);
  if (!geo_chain_is_closed (chain))
    g_array_append_val (loop, end);
}

void
maker_add_shape (Maker *maker, const GeoChain *outline, guint32 colour)
{
  flatten (outline, add_loop (add_thing (maker, THING_SHAPE, colour)->loops));
}

void
maker_add_hole (Maker *maker, const GeoChain *outline)
{
  flatten (outline, add_loop (add_thing (maker, THING_HOLE, 0)->loops));
}

void
maker_add_polygon (Maker *maker, const GeoPoint *points, gsize n,
                   guint32 colour)
{
  GArray *loop = add_loop (add_thing (maker, THING_SHAPE, colour)->loops);
  g_array_append_vals (loop, points, (guint)n);
}

void
maker_add_circle (Maker *maker, GeoPoint centre, double radius, guint32 colour)
{
  GArray *loop = add_loop (add_thing (maker, THING_SHAPE, colour)->loops);
  for (guint i = 0; i < 720; i++)
    {
      GeoPoint p = { centre.x + radius * cos (i * G_PI / 360),
                     centre.y + radius * sin (i * G_PI / 360) };
      g_array_append_val (loop, p);
    }
}

void
maker_add_rectangle (Maker *maker, GeoPoint corner, double width, double height,
                     double angle, guint32 colour, GeoPoint corners[4])
{
  GeoPoint u = { cos (angle), sin (angle) }, v = geo_left (u);
  GeoPoint q[4] = { corner, geo_along (corner, u, width),
                    geo_along (geo_along (corner, u, width), v, height),
                    geo_along (corner, v, height) };
  maker_add_polygon (maker, q, 4, colour);
  if (corners != NULL)
    memcpy (corners, q, sizeof q);
}

/* Both sides of the line as one loop, or as two round a closed one, the outer first; sides meet in mitres. */
void
maker_add_stroke (Maker *maker, const GeoChain *chain, double width,
                  guint32 colour)
{
  g_autoptr (GArray) line = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  gboolean closed = geo_chain_is_closed (chain);
  flatten (chain, line);
  GArray *loops = add_thing (maker, THING_STROKE, colour)->loops;
  GArray *loop = add_loop (loops);
  const GeoPoint *q = (const GeoPoint *)(gpointer)line->data;
  guint n = line->len;
  gboolean bulges = !closed || cover_area (q, n) > 0;
  for (int way = 1; way >= -1; way -= 2)
    {
      for (guint k = 0; k < n; k++)
        {
          guint i = way > 0 ? k : n - 1 - k;
          GeoPoint a = q[i > 0 ? i - 1 : closed ? n - 1 : 0];
          GeoPoint b = q[i + 1 < n ? i + 1 : closed ? 0 : n - 1];
          GeoPoint u = geo_unit (geo_sub (q[i], a));
          GeoPoint v = geo_unit (geo_sub (b, q[i]));
          GeoPoint mid = geo_unit (geo_add (u, v));
          double open = fmax (0.3, sqrt (0.5 * (1 + geo_dot (u, v))));
          if (geo_norm (u) < 0.5 || geo_norm (v) < 0.5)
            open = 1;
          double out = 0.5 * (bulges ? -way : way) * width / open;
          GeoPoint p = geo_along (q[i], geo_left (mid), out);
          g_array_append_val (loop, p);
        }
      if (closed && way > 0)
        loop = add_loop (loops);
    }
}

/* --- the camera ------------------------------------------------------------ */

typedef struct
{
  double g[9]; /* mm to px */
  guint width, height;
} Camera;

static GeoPoint
see (const double g[9], GeoPoint p)
{
  double w = g[6] * p.x + g[7] * p.y + g[8];
  return geo_point ((g[0] * p.x + g[1] * p.y + g[2]) / w,
                    (g[3] * p.x + g[4] * p.y + g[5]) / w);
}

static void
multiply (const double a[9], const double b[9], double c[9])
{
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      c[3 * i + j]
          = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
}

static void
invert (const double a[9], double b[9])
{
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      {
        int r = (j + 1) % 3, s = (j + 2) % 3, p = (i + 1) % 3, q = (i + 2) % 3;
        b[3 * i + j]
            = a[3 * r + p] * a[3 * s + q] - a[3 * r + q] * a[3 * s + p];
      }
  double k = 1 / b[8];
  for (int i = 0; i < 9; i++)
    b[i] *= k;
}

/* mm about the middle, turned so that x leans away: depth is D + x sin (tilt), and a picture at distance f
 * shows x cos (tilt) and y; f / D is the scale in the middle. */
static Camera
aim (const Maker *maker, const MakerLook *look)
{
  Camera camera;
  GeoBox view = maker->view;
  GeoPoint m = geo_box_centre (view);
  double span = fmax (geo_box_width (view), geo_box_height (view));
  double f = 0.9 * look->dots * span, far = f / look->dots;
  double c = cos (look->around), s = sin (look->around);
  double lean[9]
      = { c, s, -c * m.x - s * m.y, -s, c, s * m.x - c * m.y, 0, 0, 1 };
  double view_it[9]
      = { f * cos (look->tilt), 0, 0, 0, f, 0, sin (look->tilt), 0, far };
  double a = look->turn + look->around;
  double back[9] = { cos (a), -sin (a), 0, sin (a), cos (a), 0, 0, 0, 1 };
  double one[9], two[9];
  multiply (view_it, lean, one);
  multiply (back, one, two);
  GeoBox box = geo_box_empty ();
  for (int i = 0; i < 4; i++)
    box = geo_box_add (box, see (two, geo_point (i & 1 ? view.x1 : view.x0,
                                                 i & 2 ? view.y1 : view.y0)));
  double shift[9] = { 1, 0, -floor (box.x0), 0, 1, -floor (box.y0), 0, 0, 1 };
  multiply (shift, two, camera.g);
  camera.width = (guint)ceil (box.x1 - floor (box.x0));
  camera.height = (guint)ceil (box.y1 - floor (box.y0));
  return camera;
}

GeoPoint
maker_see (const TracingPlane *truth, GeoPoint mm)
{
  double g[9];
  invert (truth->m, g);
  return see (g, mm);
}

/* --- painting -------------------------------------------------------------- */

static void
unpack (guint32 colour, float rgb[3])
{
  for (int k = 0; k < 3; k++)
    rgb[k] = cover_linear ((double)((colour >> (16 - 8 * k)) & 255) / 255);
}

static void
cover_loops (CoverMask *mask, const double g[9], const GArray *loops,
             GeoPoint shift)
{
  gboolean turned = FALSE;
  for (guint i = 0; i < loops->len; i++)
    {
      const GArray *loop = g_array_index (loops, GArray *, i);
      g_autofree GeoPoint *px = g_new (GeoPoint, loop->len);
      for (guint k = 0; k < loop->len; k++)
        px[k] = see (g, geo_add (g_array_index (loop, GeoPoint, k), shift));
      if (i == 0)
        turned = cover_area (px, loop->len) < 0;
      cover_mask_add (mask, px, loop->len, turned);
    }
}

static void
paint_ruling (CoverImage *image, const Camera *camera, const MakerLook *look)
{
  double back[9];
  float rgb[3];
  GeoBox box = geo_box_empty ();
  invert (camera->g, back);
  for (int i = 0; i < 4; i++)
    box = geo_box_add (box, see (back, geo_point (i & 1 ? camera->width : 0,
                                                  i & 2 ? camera->height : 0)));
  g_autoptr (CoverMask) mask = cover_mask_new (camera->width, camera->height);
  for (int way = 0; way < 2; way++)
    {
      double from = way ? box.y0 : box.x0, to = way ? box.y1 : box.x1;
      for (double k = floor (from / look->ruling); k * look->ruling < to; k++)
        {
          double w = fmod (fabs (k), 5) < 0.5 ? 0.5 : 0.25;
          double at = k * look->ruling;
          GeoPoint q[4] = { { at - w / 2, box.y0 },
                            { at + w / 2, box.y0 },
                            { at + w / 2, box.y1 },
                            { at - w / 2, box.y1 } };
          if (way)
            for (int i = 0; i < 4; i++)
              q[i] = geo_point (i & 2 ? box.x1 : box.x0,
                                at + (i == 1 || i == 2 ? -w / 2 : w / 2));
          for (int i = 0; i < 4; i++)
            q[i] = see (camera->g, q[i]);
          cover_mask_add (mask, q, 4, cover_area (q, 4) < 0);
        }
    }
  unpack (look->lines, rgb);
  cover_mask_close (mask);
  cover_image_paint (image, mask, rgb, 1);
}

static void
paint_thing (CoverImage *image, const Camera *camera, const MakerLook *look,
             const GArray *things, guint i)
{
  const Thing *thing = &g_array_index (things, Thing, i);
  const float black[3] = { 0, 0, 0 };
  float rgb[3];
  gboolean hole = i + 1 < things->len && thing->kind == THING_SHAPE
                  && g_array_index (things, Thing, i + 1).kind == THING_HOLE;
  g_autoptr (CoverMask) mask = cover_mask_new (camera->width, camera->height);
  if (thing->kind == THING_SHAPE && look->shadow > 0)
    {
      cover_loops (mask, camera->g, thing->loops,
                   geo_point (0.8 * look->shadow, 0.6 * look->shadow));
      cover_mask_close (mask);
      cover_mask_soften (mask, 0.45 * look->shadow * look->dots);
      cover_image_paint (image, mask, black, look->dark);
      cover_mask_reset (mask);
    }
  cover_loops (mask, camera->g, thing->loops, geo_point (0, 0));
  cover_mask_close (mask);
  for (guint k = i + 1; hole && k < things->len; k++)
    {
      const Thing *cut = &g_array_index (things, Thing, k);
      if (cut->kind != THING_HOLE)
        break;
      g_autoptr (CoverMask) out
          = cover_mask_new (camera->width, camera->height);
      cover_loops (out, camera->g, cut->loops, geo_point (0, 0));
      cover_mask_close (out);
      cover_mask_cut (mask, out);
    }
  unpack (thing->colour, rgb);
  cover_image_paint (image, mask, rgb, 1);
}

static void
free_bytes (gpointer data)
{
  g_free (data);
}

static void
free_pixbuf (gpointer data)
{
  g_object_unref (data);
}

static GdkPixbuf *
pixbuf_of (TracingPicture *picture)
{
  return gdk_pixbuf_new_from_data (
      tracing_picture_get_rgb (picture), GDK_COLORSPACE_RGB, FALSE, 8,
      (int)tracing_picture_get_width (picture),
      (int)tracing_picture_get_height (picture),
      (int)tracing_picture_get_stride (picture), NULL, NULL);
}

static TracingPicture *
through_jpeg (TracingPicture *picture, int quality)
{
  g_autofree char *text = g_strdup_printf ("%d", quality), *bytes = NULL;
  gsize size = 0;
  GError *error = NULL;
  g_autoptr (GdkPixbuf) pixbuf = pixbuf_of (picture);
  gdk_pixbuf_save_to_buffer (pixbuf, &bytes, &size, "jpeg", &error, "quality",
                             text, NULL);
  g_assert_no_error (error);
  g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new ();
  gdk_pixbuf_loader_write (loader, (guchar *)bytes, size, &error);
  g_assert_no_error (error);
  gdk_pixbuf_loader_close (loader, &error);
  g_assert_no_error (error);
  GdkPixbuf *back = g_object_ref (gdk_pixbuf_loader_get_pixbuf (loader));
  tracing_picture_unref (picture);
  return tracing_picture_new (
      (guint)gdk_pixbuf_get_width (back), (guint)gdk_pixbuf_get_height (back),
      (gsize)gdk_pixbuf_get_rowstride (back), gdk_pixbuf_read_pixels (back),
      geo_point (0, 0), free_pixbuf, back);
}

TracingPicture *
maker_make (const Maker *maker, const MakerLook *look, TracingPlane *truth)
{
  Camera camera = aim (maker, look);
  float rgb[3];
  unpack (look->table, rgb);
  g_autoptr (CoverImage) image
      = cover_image_new (camera.width, camera.height, rgb);
  if (look->grain > 0)
    cover_image_grain (image, look->grain, look->seed);
  if (look->ruling > 0)
    paint_ruling (image, &camera, look);
  for (guint i = 0; i < maker->things->len; i++)
    if (g_array_index (maker->things, Thing, i).kind != THING_HOLE)
      paint_thing (image, &camera, look, maker->things, i);
  cover_image_blur (image, look->blur);
  guint8 *bytes
      = cover_image_develop (image, look->light, look->noise, look->seed);
  TracingPicture *picture = tracing_picture_new (
      camera.width, camera.height, 3 * (gsize)camera.width, bytes,
      geo_point (0, 0), free_bytes, bytes);
  if (truth != NULL)
    invert (camera.g, truth->m);
  return look->jpeg > 0 ? through_jpeg (picture, look->jpeg) : picture;
}

gboolean
maker_save (TracingPicture *picture, const char *path, int jpeg, GError **error)
{
  g_autofree char *text = g_strdup_printf ("%d", jpeg);
  g_autoptr (GdkPixbuf) pixbuf = pixbuf_of (picture);
  return jpeg > 0 ? gdk_pixbuf_save (pixbuf, path, "jpeg", error, "quality",
                                     text, NULL)
                  : gdk_pixbuf_save (pixbuf, path, "png", error, NULL);
}

/* --- shapes ---------------------------------------------------------------- */

void
maker_polygon (GeoChain *chain, const GeoPoint *points, gsize n)
{
  geo_chain_reset (chain);
  for (gsize i = 0; i < n; i++)
    geo_chain_append_line (chain, points[i], points[(i + 1) % n]);
}

void
maker_circle (GeoChain *chain, GeoPoint centre, double radius)
{
  geo_chain_reset (chain);
  for (int i = 0; i < 4; i++)
    geo_chain_append (chain, geo_cubic_arc (centre, radius, i * G_PI / 2,
                                            (i + 1) * G_PI / 2));
  chain->cubics[3].p[3] = chain->cubics[0].p[0];
}

void
maker_bodice (GeoChain *chain, GeoPoint at, double width, double length)
{
  GeoPoint tip = { 110, 440 - length };
  GeoPoint left = { 110 - width / 2, 442 }, right = { 110 + width / 2, 441 };
  const GeoCubic parts[MAKER_BODICE_CUBICS] = {
    { { { 0, 90 }, { 40, 90 }, { 68, 58 }, { 72, 8 } } },         /* neck */
    { { { 72, 8 }, { 110, 20 }, { 150, 34 }, { 188, 52 } } },     /* shoulder */
    { { { 188, 52 }, { 170, 90 }, { 166, 130 }, { 174, 160 } } }, /* armhole */
    { { { 174, 160 }, { 182, 190 }, { 206, 206 }, { 238, 210 } } },
    { { { 238, 210 }, { 230, 280 }, { 222, 350 }, { 218, 432 } } }, /* side */
    { { { 218, 432 }, { 190, 438 }, { 160, 440 }, right } },        /* waist */
    geo_cubic_line (right, tip),
    geo_cubic_line (tip, left),
    { { left, { 70, 442 }, { 30, 441 }, { 0, 440 } } },
    { { { 0, 440 }, { 0, 360 }, { 0, 300 }, { 0, 260 } } }, /* fold */
    { { { 0, 260 }, { 0, 220 }, { 0, 140 }, { 0, 90 } } },
  };
  geo_chain_reset (chain);
  for (int i = 0; i < MAKER_BODICE_CUBICS; i++)
    geo_chain_append (chain, parts[i]);
  geo_chain_transform (chain, geo_motion_move (at.x, at.y));
  chain->cubics[chain->count - 1].p[3] = chain->cubics[0].p[0];
}
