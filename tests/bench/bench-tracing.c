/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracing made pictures of known outlines: how far the traced line is from the true one over a grid of
 * slant, blur, noise, light, JPEG and pixels a mm; how long twelve megapixels take beside cairo's painting of the
 * same picture, and the memory they take. */
#include <cairo.h>
#include <stdlib.h>
#include <string.h>

#include "bench.h"
#include "line-measure.h"
#include "picture-maker.h"
#include "tracing/stroke.h"

typedef struct
{
  double worst, mean, corner, nodes;
  guint missed, count;
} Sums;

static GArray *
trace (TracingPicture *picture, const TracingPlane *plane)
{
  TracingShapeWish wish = TRACING_SHAPE_WISH;
  TracingParts *parts
      = tracing_parts_new (picture, plane, TRACING_CARD_ANY, NULL, NULL, NULL);
  GArray *lines = parts == NULL ? NULL
                                : tracing_find_shapes (parts, plane, &wish,
                                                       NULL, NULL, NULL);
  tracing_parts_unref (parts);
  return lines;
}

static void
cross (GeoChain *chain)
{
  GeoPoint p[12] = { { 0, 30 },  { 30, 30 }, { 30, 0 },  { 60, 0 },
                     { 60, 30 }, { 90, 30 }, { 90, 60 }, { 60, 60 },
                     { 60, 90 }, { 30, 90 }, { 30, 60 }, { 0, 60 } };
  maker_polygon (chain, p, 12);
  geo_chain_transform (chain, geo_motion_about (geo_point (45, 45), 0.3));
}

static void
measure (const MakerLook *look, gboolean small, Sums *sums)
{
  GeoChain truth = GEO_CHAIN_EMPTY;
  TracingPlane plane;
  if (small)
    cross (&truth);
  else
    maker_bodice (&truth, geo_point (0, 0), 28, 110);
  g_autoptr (Maker) maker
      = maker_new (geo_box_grow (geo_chain_bounds (&truth), 25));
  maker_add_shape (maker, &truth, MAKER_CARD);
  g_autoptr (TracingPicture) picture = maker_make (maker, look, &plane);
  g_autoptr (GArray) lines = trace (picture, &plane);
  const TracingLine *line
      = lines != NULL ? line_measure_nearest (lines, &truth) : NULL;
  sums->count++;
  if (line == NULL)
    sums->missed++;
  else
    {
      LineMeasure m = line_measure (line, &truth);
      sums->worst = fmax (sums->worst, m.worst);
      sums->mean = fmax (sums->mean, m.mean);
      sums->corner = fmax (sums->corner, m.corner);
      sums->nodes = fmax (sums->nodes, m.nodes);
      if (g_getenv ("BENCH_EACH") != NULL)
        printf ("  %4.0f px/mm tilt %.2f blur %.1f noise %.0f light %.1f jpeg "
                "%d: worst %.3f mean %.3f corner %.3f nodes %.2f\n",
                look->dots, look->tilt, look->blur, look->noise, look->light,
                look->jpeg, m.worst, m.mean, m.corner, m.nodes);
    }
  geo_chain_clear (&truth);
}

/* Every second of the grid's 32 places, so that each two ways are met together. */
static void
bench_grid (double dots, gboolean small)
{
  Sums sums = { 0 };
  for (int way = 0; way < 32; way++)
    {
      MakerLook look = MAKER_LOOK;
      if (__builtin_popcount ((unsigned)way) % 2 != 0)
        continue;
      look.dots = dots;
      look.tilt = way & 1 ? 25 * G_PI / 180 : 0;
      look.blur = way & 2 ? 2 : 0.6;
      look.noise = way & 4 ? 8 : 1;
      look.light = way & 8 ? 0.5 : 0.1;
      look.ruling = way & 8 ? 10 : 0;
      look.shadow = way & 8 ? 5 : 0;
      look.jpeg = way & 16 ? 80 : 0;
      look.seed = (guint32)way + 1;
      measure (&look, small, &sums);
    }
  printf ("%g px/mm, %u pictures of a %s\n", dots, sums.count,
          small ? "cross" : "bodice with a dart");
  bench_line ("  not found", sums.missed, 0);
  bench_line ("  worst place, mm", sums.worst, 0.5);
  bench_line ("  mean, the worst picture's, mm", sums.mean, 0.15);
  bench_line ("  worst corner, mm", sums.corner, 0.5);
  bench_line ("  nodes, of the true line's", sums.nodes, 1.3);
}

/* kB */
static double
status (const char *what)
{
  g_autofree char *text = NULL;
  if (!g_file_get_contents ("/proc/self/status", &text, NULL, NULL))
    return 0;
  const char *at = strstr (text, what);
  return at != NULL ? g_ascii_strtod (at + strlen (what), NULL) : 0;
}

static double
time_cairo (TracingPicture *picture)
{
  int w = (int)tracing_picture_get_width (picture);
  int h = (int)tracing_picture_get_height (picture);
  cairo_surface_t *from = cairo_image_surface_create (CAIRO_FORMAT_RGB24, w, h);
  cairo_surface_t *to = cairo_image_surface_create (CAIRO_FORMAT_RGB24, w, h);
  const guint8 *rgb = tracing_picture_get_rgb (picture);
  guint8 *out = cairo_image_surface_get_data (from);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      for (int c = 0; c < 3; c++)
        out[y * cairo_image_surface_get_stride (from) + 4 * x + 2 - c]
            = rgb[(gsize)y * tracing_picture_get_stride (picture) + 3 * (gsize)x
                  + (gsize)c];
  cairo_surface_mark_dirty (from);
  cairo_t *cr = cairo_create (to);
  cairo_set_source_surface (cr, from, 0, 0);
  cairo_paint (cr); /* the first time pages are made */
  double best = INFINITY;
  for (int k = 0; k < 7; k++)
    {
      double start = bench_seconds ();
      cairo_paint (cr);
      best = fmin (best, bench_seconds () - start);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (from);
  cairo_surface_destroy (to);
  return best;
}

static void
bench_large (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ -60, -40, 520, 500 });
  GeoChain truth = GEO_CHAIN_EMPTY;
  MakerLook look = MAKER_LOOK;
  TracingPlane plane;
  look.dots = 6;
  look.tilt = 0.25;
  look.blur = 1;
  look.noise = 4;
  look.light = 0.4;
  look.shadow = 5;
  look.ruling = 10;
  look.jpeg = 80;
  maker_bodice (&truth, geo_point (0, 0), 28, 110);
  maker_add_shape (maker, &truth, MAKER_CARD);
  maker_add_rectangle (maker, geo_point (280, 40), 210, 297, 0.05, MAKER_PAPER,
                       NULL);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  double pixels = (double)tracing_picture_get_width (picture)
                  * tracing_picture_get_height (picture);
  double cairo = time_cairo (picture);
  /* the largest so far is forgotten */
  gboolean can = g_file_set_contents_full ("/proc/self/clear_refs", "5", 1,
                                           G_FILE_SET_CONTENTS_NONE, 0, NULL);
  double before = status ("VmRSS:");
  g_autoptr (GArray) lines = trace (picture, &plane);
  double most = status ("VmHWM:") - before, seconds = INFINITY;
  for (int k = 0; k < 5; k++)
    {
      double start = bench_seconds ();
      g_autoptr (GArray) again = trace (picture, &plane);
      seconds = fmin (seconds, bench_seconds () - start);
    }
  seconds *= 12e6 / pixels;
  printf ("%.1f megapixels, a bodice and a sheet: %u outlines\n", 1e-6 * pixels,
          lines != NULL ? lines->len : 0);
  bench_line ("  traced, seconds for 12 megapixels", seconds, 3);
  bench_line ("  traced, times cairo's painting of it",
              seconds / (cairo * 12e6 / pixels), 40);
  if (can)
    bench_line ("  memory, bytes a pixel, the picture's 3 included",
                3 + 1024 * most / pixels, 12);
  geo_chain_clear (&truth);
}

/* A drawn bodice, slanted, in uneven light. */
static void
bench_strokes (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ -60, -40, 520, 500 });
  GeoChain truth = GEO_CHAIN_EMPTY;
  MakerLook look = MAKER_LOOK;
  TracingPlane plane;
  TracingStrokeWish wish = TRACING_STROKE_WISH;
  look.dots = 6;
  look.tilt = 0.25;
  look.blur = 1;
  look.noise = 4;
  look.light = 0.4;
  look.jpeg = 80;
  look.table = MAKER_PAPER;
  maker_bodice (&truth, geo_point (0, 0), 28, 110);
  maker_add_stroke (maker, &truth, 0.7, MAKER_PENCIL);
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, &plane);
  double pixels = (double)tracing_picture_get_width (picture)
                  * tracing_picture_get_height (picture);
  gboolean can = g_file_set_contents_full ("/proc/self/clear_refs", "5", 1,
                                           G_FILE_SET_CONTENTS_NONE, 0, NULL);
  double before = status ("VmRSS:"), start = bench_seconds ();
  g_autoptr (GArray) lines
      = tracing_find_strokes (picture, &plane, &wish, NULL, NULL, NULL);
  double seconds = (bench_seconds () - start) * 12e6 / pixels;
  double most = status ("VmHWM:") - before;
  const TracingLine *line
      = lines != NULL ? line_measure_nearest (lines, &truth) : NULL;
  printf ("%.1f megapixels, a drawn bodice: %u lines\n", 1e-6 * pixels,
          lines != NULL ? lines->len : 0);
  if (line != NULL)
    {
      LineMeasure m = line_measure (line, &truth);
      bench_line ("  worst place, mm", m.worst, 0.4);
      bench_line ("  mean, mm", m.mean, 0.15);
      bench_line ("  nodes, of the true line's", m.nodes, 1.3);
    }
  bench_line ("  followed, seconds for 12 megapixels", seconds, 3);
  if (can)
    bench_line ("  memory, bytes a pixel, the picture's 3 included",
                3 + 1024 * most / pixels, 12);
  geo_chain_clear (&truth);
}

int
main (void)
{
  bench_large ();
  bench_strokes ();
  bench_grid (3, FALSE);
  bench_grid (5, FALSE);
  bench_grid (8, TRUE);
  bench_grid (20, TRUE);
  return 0;
}
