/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets found in made pictures: how far places about them are off by the plane they give. */
#include <math.h>
#include <string.h>

#include "picture-maker.h"
#include "tracing/sheet.h"

typedef struct
{
  const char *name;
  MakerLook look;
  double width, height, angle;
  guint32 colour;
  gboolean
      covered; /* a dark piece lies over part of a side, a light one touches another */
  gboolean pieces; /* and others lie about */
  double goal;     /* mm, two sheet lengths away */
} Case;

/* Dark table, light sheet; px/mm, tilt, around, turn, blur, noise, light, shadow, dark, jpeg, table, ruling's colour, ruling, grain */
static const Case cases[] = {
  { "square on",
    { 5, 0, 0.7, 0, 0.6, 2, 0, 0, 0.5, 0, 0x39504a, 0xb9c4a4, 0, 0, 1 },
    210,
    297,
    0.2,
    MAKER_PAPER,
    FALSE,
    FALSE,
    0.3 },
  { "slanted 25 degrees",
    { 5, 0.436, 0.9, 0.3, 0.9, 3, 0.3, 0, 0.5, 80, 0x39504a, 0xb9c4a4, 0, 0.05,
      2 },
    210,
    297,
    0.15,
    MAKER_PAPER,
    FALSE,
    TRUE,
    0.3 },
  { "shadow and mat",
    { 5, 0.3, 2.2, 0, 0.8, 3, 0.3, 4, 0.4, 80, 0x2f5d4e, 0xb9c4a4, 10, 0.03,
      3 },
    210,
    297,
    0.05,
    MAKER_PAPER,
    FALSE,
    TRUE,
    0.3 },
  { "partly covered",
    { 5, 0.25, -1, 0.1, 0.8, 3, 0.2, 3, 0.4, 80, 0x39504a, 0xb9c4a4, 0, 0.05,
      4 },
    210,
    297,
    0.1,
    MAKER_PAPER,
    TRUE,
    FALSE,
    0.3 },
  { "letter on wood",
    { 5, 0.2, 0.4, 0, 1.2, 4, 0.3, 3, 0.4, 85, 0xb98d5c, 0xb9c4a4, 0, 0.08, 5 },
    215.9,
    279.4,
    0.25,
    MAKER_PAPER,
    FALSE,
    TRUE,
    0.3 },
  { "dark mat on a light table",
    { 3, 0.3, 1.1, 0.2, 0.8, 3, 0.2, 0, 0.4, 85, 0xe6e2d8, 0xb9c4a4, 0, 0.03,
      6 },
    300,
    220,
    0.3,
    0x2f5d4e,
    FALSE,
    FALSE,
    0.5 },
};

static void
add_pieces (Maker *maker, const Case *c)
{
  static const GeoPoint dark[4]
      = { { 20, 60 }, { 70, 62 }, { 74, 130 }, { 16, 120 } };
  static const GeoPoint light[4]
      = { { 160, 310 }, { 250, 290 }, { 260, 420 }, { 130, 430 } };
  if (c->covered)
    {
      maker_add_polygon (maker, dark, 4, 0x20242a);
      maker_add_polygon (maker, light, 4, MAKER_CARD);
    }
  if (!c->pieces)
    return;
  GeoChain bodice = GEO_CHAIN_EMPTY;
  maker_bodice (&bodice, geo_point (300, -60), 30, 120);
  maker_add_shape (maker, &bodice, MAKER_CARD);
  geo_chain_clear (&bodice);
}

static TracingPicture *
make (const Case *c, TracingPlane *truth, GeoPoint corners[4])
{
  g_autoptr (Maker) maker
      = maker_new ((GeoBox){ -60, -40, c->pieces ? 560 : 340, 400 });
  maker_add_rectangle (maker, geo_point (60, 0), c->width, c->height, c->angle,
                       c->colour, corners);
  add_pieces (maker, c);
  return maker_make (maker, &c->look, truth);
}

/* Distances between places up to two lengths about the sheet, as the plane tells them, against the truth: the
 * mean place's error once the two are laid together at the sheet. */
static double
error_about (const TracingPlane *plane, const TracingPlane *truth,
             const GeoPoint corners[4], double length)
{
  GeoPoint a[4], b[4];
  for (guint i = 0; i < 4; i++)
    {
      a[i] = corners[i];
      b[i] = tracing_plane_to_mm (plane, maker_see (truth, corners[i]));
    }
  GeoMotion m;
  g_assert_true (tracing_lay_marks (a, b, 4, &m, NULL));
  double worst = 0;
  GeoPoint middle = geo_lerp (corners[0], corners[2], 0.5);
  for (guint i = 0; i < 24; i++)
    {
      double t = i * G_PI / 12;
      GeoPoint at
          = geo_along (middle, geo_point (cos (t), sin (t)), 2 * length);
      GeoPoint seen = maker_see (truth, at);
      GeoPoint told = geo_motion_apply (m, tracing_plane_to_mm (plane, seen));
      worst = fmax (worst, geo_distance (told, at));
    }
  return worst;
}

static double
corner_error (const TracingSheet *sheet, const TracingPlane *truth,
              const GeoPoint corners[4])
{
  double worst = 0;
  for (guint k = 0; k < 4; k++)
    {
      double near = INFINITY;
      for (guint j = 0; j < 4; j++)
        near = fmin (near, geo_distance (sheet->corners[k],
                                         maker_see (truth, corners[j])));
      worst = fmax (worst, near);
    }
  return worst;
}

static void
test_found (gconstpointer data)
{
  const Case *c = data;
  TracingPlane truth, plane;
  GeoPoint corners[4];
  g_autoptr (TracingPicture) picture = make (c, &truth, corners);
  TracingSheet sheets[4];
  g_autoptr (GTimer) timer = g_timer_new ();
  gsize n = tracing_find_sheets (picture, c->width, c->height, NULL, sheets, 4);
  double took = g_timer_elapsed (timer, NULL);
  double pixels = (double)tracing_picture_get_width (picture)
                  * tracing_picture_get_height (picture);
  if (g_getenv ("BODKIN_TEST_KEEP") != NULL)
    {
      g_autofree char *path = g_strdup_printf (
          "%s/sheet %s.png", g_getenv ("BODKIN_TEST_KEEP"), c->name);
      maker_save (picture, path, 0, NULL);
    }
  g_assert_cmpuint (n, >=, 1);
  double off = corner_error (&sheets[0], &truth, corners);
  g_test_message ("%s: %zu found in %.2f s (%.1f Mpx); corners within %.3f px, "
                  "off %.2f, quality %.2f",
                  c->name, n, took, pixels / 1e6, off, sheets[0].off,
                  sheets[0].quality);
  double least = fmin (c->width, c->height), most = fmax (c->width, c->height);
  g_assert_true (tracing_plane_from_corners (sheets[0].corners, least, most,
                                             &plane, NULL));
  double far = error_about (&plane, &truth, corners, most);
  g_test_message ("%s: two lengths away %.3f mm", c->name, far);
  g_assert_cmpfloat (off, <, 0.3);
  g_assert_cmpfloat (far, <, c->goal);
  g_assert_cmpfloat (sheets[0].quality, >, 0.7);
  /* The one that has a place in it. */
  GeoPoint in = maker_see (&truth, geo_lerp (corners[0], corners[2], 0.4));
  g_assert_cmpuint (
      tracing_find_sheets (picture, c->width, c->height, &in, sheets, 1), ==,
      1);
  g_assert_cmpfloat (corner_error (&sheets[0], &truth, corners), <, 0.3);
}

static void
test_refined (void)
{
  const Case *c = &cases[3];
  TracingPlane truth;
  GeoPoint corners[4], rough[4];
  g_autoptr (TracingPicture) picture = make (c, &truth, corners);
  TracingSheet sheet;
  for (guint round = 0; round < 10; round++)
    {
      for (guint i = 0; i < 4; i++)
        {
          rough[i] = maker_see (&truth, corners[i]);
          rough[i].x += g_test_rand_double_range (-14, 14);
          rough[i].y += g_test_rand_double_range (-14, 14);
        }
      g_assert_true (tracing_refine_sheet (picture, rough, 20, &sheet));
      g_assert_cmpfloat (corner_error (&sheet, &truth, corners), <, 0.3);
    }
  /* On plain table there is none; nothing is made up. */
  GeoPoint nowhere[4] = { { 60, 60 }, { 200, 60 }, { 200, 160 }, { 60, 160 } };
  g_assert_false (tracing_refine_sheet (picture, nowhere, 10, &sheet));
  g_assert_true (isnan (sheet.off));
  g_assert_cmpmem (sheet.corners, sizeof nowhere, nowhere, sizeof nowhere);
  nowhere[2].x = NAN;
  g_assert_false (tracing_refine_sheet (picture, nowhere, 10, &sheet));
  nowhere[2] = nowhere[1];
  g_assert_false (tracing_refine_sheet (picture, nowhere, 10, &sheet));
}

/* A barrel lens bends the sides: off tells. A picture of a bent sheet stands in for it. */
static void
test_bent (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ -50, -50, 260, 347 });
  GeoPoint p[400];
  for (guint i = 0; i < 400; i++)
    {
      double t = i % 100 / 100.0, out = 0.6 * sin (G_PI * t); /* mm: 3 px */
      p[i] = i < 100   ? geo_point (210 * t, -out)
             : i < 200 ? geo_point (210 + out, 297 * t)
             : i < 300 ? geo_point (210 - 210 * t, 297 + out)
                       : geo_point (-out, 297 - 297 * t);
    }
  maker_add_polygon (maker, p, 400, MAKER_PAPER);
  MakerLook look = MAKER_LOOK;
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, NULL);
  TracingSheet sheet;
  g_assert_cmpuint (tracing_find_sheets (picture, 210, 297, NULL, &sheet, 1),
                    ==, 1);
  g_test_message ("bent by 3 px: off %.2f px", sheet.off);
  g_assert_cmpfloat (sheet.off, >, 1);
  g_assert_cmpfloat (sheet.off, <, 3);
}

static void
test_nothing (void)
{
  g_autoptr (Maker) maker = maker_new ((GeoBox){ 0, 0, 200, 150 });
  maker_add_circle (maker, geo_point (100, 75), 50, MAKER_CARD);
  MakerLook look = MAKER_LOOK;
  look.noise = 4;
  TracingSheet sheets[3];
  g_autoptr (TracingPicture) picture = maker_make (maker, &look, NULL);
  g_assert_cmpuint (tracing_find_sheets (picture, 210, 297, NULL, sheets, 3),
                    ==, 0);
  static const guint8 one[3] = { 1, 2, 3 };
  g_autoptr (TracingPicture) dot
      = tracing_picture_new (1, 1, 3, one, geo_point (0, 0), NULL, NULL);
  g_assert_cmpuint (tracing_find_sheets (dot, 210, 297, NULL, sheets, 3), ==,
                    0);
  g_assert_cmpuint (tracing_find_sheets (picture, 0, 297, NULL, sheets, 3), ==,
                    0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#ifdef __SANITIZE_ADDRESS__
  const guint step = 3; /* making the pictures takes long there */
#else
  const guint step = 1;
#endif
  for (guint i = 0; i < G_N_ELEMENTS (cases); i += step)
    {
      g_autofree char *path
          = g_strdup_printf ("/tracing/sheet/found/%s", cases[i].name);
      g_test_add_data_func (path, &cases[i], test_found);
    }
  g_test_add_func ("/tracing/sheet/refined", test_refined);
  g_test_add_func ("/tracing/sheet/bent", test_bent);
  g_test_add_func ("/tracing/sheet/nothing", test_nothing);
  return g_test_run ();
}
