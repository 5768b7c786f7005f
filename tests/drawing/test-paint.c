/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces painted on an image and looked at pixel by pixel against closed forms.
 */
#include "drawing/paint.h"
#include "drawing/text.h"
#include "sample.h"

typedef struct
{
  cairo_surface_t *surface;
  cairo_t *cr;
  int width, height;
  double mm_per_px;
  GeoPoint corner; /* of the table at pixel (0, 0) */
} Picture;

/* White, so that what is painted is what isn't white. */
static Picture
picture_new (GeoBox box, double mm_per_px)
{
  Picture p = { .mm_per_px = mm_per_px, .corner = { box.x0, box.y0 } };
  p.width = (int)ceil ((box.x1 - box.x0) / mm_per_px);
  p.height = (int)ceil ((box.y1 - box.y0) / mm_per_px);
  p.surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, p.width, p.height);
  p.cr = cairo_create (p.surface);
  cairo_set_source_rgb (p.cr, 1, 1, 1);
  cairo_paint (p.cr);
  cairo_scale (p.cr, 1 / mm_per_px, 1 / mm_per_px);
  cairo_translate (p.cr, -box.x0, -box.y0);
  return p;
}

static void
picture_clear (Picture *p)
{
  cairo_destroy (p->cr);
  cairo_surface_destroy (p->surface);
}

/* 0 black to 255 white; white outside. */
static int
pixel (const Picture *p, int x, int y)
{
  if (x < 0 || y < 0 || x >= p->width || y >= p->height)
    return 255;
  cairo_surface_flush (p->surface);
  const guint8 *row = cairo_image_surface_get_data (p->surface)
                      + y * cairo_image_surface_get_stride (p->surface);
  const guint8 *c = row + 4 * x;
  return (c[0] + c[1] + c[2]) / 3;
}

/* The darkest pixel within reach of a place on the table. */
static int
darkest (const Picture *p, double x, double y, int reach)
{
  int cx = (int)floor ((x - p->corner.x) / p->mm_per_px);
  int cy = (int)floor ((y - p->corner.y) / p->mm_per_px);
  int dark = 255;
  for (int j = -reach; j <= reach; j++)
    for (int i = -reach; i <= reach; i++)
      dark = MIN (dark, pixel (p, cx + i, cy + j));
  return dark;
}

/* Stretches of dark pixels met on the way from one place to another. */
static int
dark_runs (const Picture *p, GeoPoint from, GeoPoint to)
{
  int runs = 0;
  gboolean before = FALSE;
  int n = (int)ceil (geo_distance (from, to) / p->mm_per_px * 4);
  for (int i = 0; i <= n; i++)
    {
      GeoPoint q = geo_lerp (from, to, (double)i / n);
      gboolean dark = darkest (p, q.x, q.y, 0) < 140;
      runs += dark && !before;
      before = dark;
    }
  return runs;
}

/* Black on white, nothing but what is asked for. */
static DrawingStyle
bare_style (double mm_per_px)
{
  DrawingStyle style = drawing_style_table (mm_per_px, FALSE);
  style.ink = style.stitch = style.faint = (DrawingColour){ 0, 0, 0, 1 };
  style.fill = style.stitch_line = style.cutting_line = style.notches = FALSE;
  style.clips = style.folds = style.grain = style.words = style.inner = FALSE;
  style.edge_names = FALSE;
  return style;
}

static void
paint_one (Picture *p, const Pattern *pattern, const PatternPiece *piece,
           const DrawingStyle *style)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  drawing_paint_piece (p->cr, facts, pattern, piece, style);
}

/* --- lines -----------------------------------------------------------------
 */

static void
test_cutting_line_outermost (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  PatternPiece *piece = sample_rectangle (pattern, "Front", 0, 0, 100, 60,
                                          PATTERN_EDGE_SEAM, 10);
  pattern_put_piece (pattern, piece);
  Picture p = picture_new ((GeoBox){ -20, -20, 120, 80 }, 0.25);
  DrawingStyle style = bare_style (0.25);
  style.cutting_line = style.stitch_line = TRUE;
  paint_one (&p, pattern, piece, &style);
  for (double t = 0; t <= 1; t += 1 / 240.0)
    {
      /* The 120 x 80 mm rectangle of methods' exact check, all the way round. */
      g_assert_cmpint (darkest (&p, -10 + 120 * t, -10, 1), <, 100);
      g_assert_cmpint (darkest (&p, -10 + 120 * t, 70, 1), <, 100);
      g_assert_cmpint (darkest (&p, -10, -10 + 80 * t, 1), <, 100);
      g_assert_cmpint (darkest (&p, 110, -10 + 80 * t, 1), <, 100);
    }
  for (int y = 0; y < p.height; y++)
    for (int x = 0; x < p.width; x++)
      {
        double tx = (x + 0.5) * 0.25 - 20, ty = (y + 0.5) * 0.25 - 20;
        if (tx < -11 || ty < -11 || tx > 111 || ty > 71)
          g_assert_cmpint (pixel (&p, x, y), ==, 255);
      }
  picture_clear (&p);
}

static void
test_stitch_line_dashed (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  PatternPiece *piece = sample_rectangle (pattern, "Front", 0, 0, 200, 60,
                                          PATTERN_EDGE_SEAM, 10);
  pattern_put_piece (pattern, piece);
  Picture p = picture_new ((GeoBox){ -20, -20, 220, 80 }, 0.25);
  DrawingStyle style = bare_style (0.25);
  style.cutting_line = style.stitch_line = TRUE;
  paint_one (&p, pattern, piece, &style);
  /* Dashes of 6 pixels with gaps of 3.3: 200 mm at 0.25 hold about 86. */
  int runs = dark_runs (&p, geo_point (1, 0), geo_point (199, 0));
  g_assert_cmpint (runs, >=, 80);
  g_assert_cmpint (runs, <=, 90);
  /* And the cutting line not. */
  g_assert_cmpint (dark_runs (&p, geo_point (-9, -10), geo_point (209, -10)),
                   ==, 1);
  picture_clear (&p);
}

static void
test_line_width_constant (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  PatternPiece *piece = sample_rectangle (pattern, "Front", 0, 0, 100, 60,
                                          PATTERN_EDGE_SEAM, 10);
  pattern_put_piece (pattern, piece);
  const double scales[] = { 1, 0.25, 0.05, 0.01 };
  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    {
      double s = scales[i];
      GeoBox box = { -10 - 20 * s, 30, -10 + 20 * s, 30 + 4 * s };
      Picture p = picture_new (box, s);
      DrawingStyle style = drawing_style_table (s, FALSE);
      style.fill = style.words = FALSE;
      paint_one (&p, pattern, piece, &style);
      double ink = 0;
      for (int x = 0; x < p.width; x++)
        ink += (255 - pixel (&p, x, 2)) / 255.0;
      /* 1.4 pixels of a very dark brown, at every zoom. */
      g_assert_cmpfloat (ink, >, 1.0);
      g_assert_cmpfloat (ink, <, 1.5);
      picture_clear (&p);
    }
}

static void
test_circle (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  PatternPiece *piece
      = sample_circle (pattern, "Disc", geo_point (0, 0), 80, 15);
  pattern_put_piece (pattern, piece);
  Picture p = picture_new ((GeoBox){ -100, -100, 100, 100 }, 0.2);
  DrawingStyle style = bare_style (0.2);
  style.cutting_line = TRUE;
  paint_one (&p, pattern, piece, &style);
  for (double a = 0; a < 2 * G_PI; a += 0.01)
    {
      /* The parallel of a circle is a circle. */
      g_assert_cmpint (darkest (&p, 95 * cos (a), 95 * sin (a), 1), <, 90);
      g_assert_cmpint (darkest (&p, 94 * cos (a), 94 * sin (a), 0), ==, 255);
      g_assert_cmpint (darkest (&p, 96 * cos (a), 96 * sin (a), 0), ==, 255);
    }
  picture_clear (&p);
}

static void
test_fold_is_not_cut (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  PatternPiece *piece = sample_rectangle (pattern, "Back", 0, 0, 100, 200,
                                          PATTERN_EDGE_SEAM, 10);
  piece->edges[3].kind = PATTERN_EDGE_FOLD; /* the left side */
  pattern_put_piece (pattern, piece);
  Picture p = picture_new ((GeoBox){ -20, -20, 120, 220 }, 0.25);
  DrawingStyle style = bare_style (0.25);
  style.cutting_line = TRUE;
  paint_one (&p, pattern, piece, &style);
  /* A chain of dashes on the fold itself, nothing outside it. */
  g_assert_cmpint (dark_runs (&p, geo_point (0, 5), geo_point (0, 195)), >, 20);
  for (double y = -15; y < 215; y += 0.25)
    g_assert_cmpint (darkest (&p, -2, y, 1), ==, 255);
  /* The bracket: between fold and 20 mm in, more is drawn with it. */
  int before = dark_runs (&p, geo_point (1.5, 100), geo_point (30, 100));
  style.folds = TRUE;
  paint_one (&p, pattern, piece, &style);
  g_assert_cmpint (dark_runs (&p, geo_point (1.5, 100), geo_point (30, 100)),
                   ==, before + 1);
  picture_clear (&p);
}

/* --- marks ------------------------------------------------------------------
 */

static void
test_notches (void)
{
  for (int count = 1; count <= 3; count++)
    {
      g_autoptr (Pattern) pattern = pattern_new ("test");
      PatternPiece *piece = sample_rectangle (pattern, "Front", 0, 0, 100, 60,
                                              PATTERN_EDGE_SEAM, 12);
      PatternNotch notch = { .id = pattern_take_id (pattern),
                             .edge = piece->edges[0].id,
                             .count = count,
                             .from = PATTERN_FROM_START,
                             .amount = 40 };
      pattern_piece_add_notch (piece, notch);
      pattern_put_piece (pattern, piece);
      Picture p = picture_new ((GeoBox){ -20, -20, 120, 80 }, 0.1);
      DrawingStyle style = bare_style (0.1);
      style.notches = TRUE;
      paint_one (&p, pattern, piece, &style);
      /* Across the allowance from line to line, and no further. */
      g_assert_cmpint (dark_runs (&p, geo_point (30, -6), geo_point (50, -6)),
                       ==, count);
      g_assert_cmpint (
          dark_runs (&p, geo_point (30, -11.8), geo_point (50, -11.8)), ==,
          count);
      g_assert_cmpint (
          dark_runs (&p, geo_point (30, -0.2), geo_point (50, -0.2)), ==,
          count);
      g_assert_cmpint (dark_runs (&p, geo_point (30, 0.4), geo_point (50, 0.4)),
                       ==, 0);
      g_assert_cmpint (
          dark_runs (&p, geo_point (30, -12.4), geo_point (50, -12.4)), ==, 0);
      if (count & 1)
        g_assert_cmpint (darkest (&p, 40, -6, 1), <, 100);
      picture_clear (&p);
    }
}

/* Clips of a hollow edge: as many strokes as the plan has cuts, from the cut
 * edge inward, and none reaches the stitch line. */
static void
test_clips (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  PatternPiece *neck = sample_hollow (pattern, "neck", 0, 0, 60);
  PatternPiece *band = sample_band (pattern, "band", 0, 300, 94.25);
  pattern_put_piece (pattern, neck);
  pattern_put_piece (pattern, band);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (pattern), "neck");
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ neck->id, neck->edges[0].id, FALSE });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ band->id, band->edges[0].id, FALSE });
  seam->press = PATTERN_PRESS_TURNED;
  pattern_put_seam (pattern, seam);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const GeoClipPlan *plan
      = sewing_facts_clips (facts, pattern, neck->id, neck->edges[0].id);
  g_assert_nonnull (plan);
  g_assert_cmpuint (plan->count, >, 3);

  Picture p = picture_new ((GeoBox){ -60, -10, 60, 80 }, 0.05);
  DrawingStyle style = bare_style (0.05);
  style.clips = TRUE;
  drawing_paint_piece (p.cr, facts, pattern, neck, &style);
  int runs[2] = { 0, 0 };
  for (int which = 0; which < 2; which++)
    {
      /* Hollow: the allowance lies towards the centre, cut edge at 50. */
      double r = which ? 59.3 : 51;
      gboolean before = FALSE;
      for (double a = G_PI / 4; a < G_PI * 3 / 4; a += 0.0002)
        {
          gboolean dark = darkest (&p, r * cos (a), r * sin (a), 0) < 140;
          runs[which] += dark && !before;
          before = dark;
        }
    }
  g_assert_cmpint (runs[0], ==, (int)plan->count);
  g_assert_cmpint (runs[1], ==, 0);
  picture_clear (&p);
}

/* --- words ------------------------------------------------------------------
 */

/* At any turn of the piece and of the view a line reads from left to right, or
 * as good as upright. */
static void
test_never_upside_down (void)
{
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 8, 8);
  cairo_t *cr = cairo_create (surface);
  for (int i = 0; i < 2000; i++)
    {
      double view = g_test_rand_double_range (-4, 4);
      double angle = g_test_rand_double_range (-7, 7);
      cairo_identity_matrix (cr);
      cairo_rotate (cr, view);
      double up = drawing_text_upright (cr, angle);
      /* The same line, perhaps the other way. */
      g_assert_cmpfloat_with_epsilon (sin (up - angle), 0, 1e-9);
      g_assert_cmpfloat (cos (up + view), >=, -sin (5.01 * G_PI / 180));
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* Names stay inside their piece, however it lies and whatever its size. */
static void
test_name_inside (void)
{
  for (int i = 0; i < 40; i++)
    {
      g_autoptr (Pattern) pattern = pattern_new ("test");
      GeoPoint corners[3];
      double size = g_test_rand_double_range (20, 300), area;
      do
        {
          for (int k = 0; k < 3; k++)
            corners[k] = geo_point (g_test_rand_double_range (0, size),
                                    g_test_rand_double_range (0, size));
          area = geo_cross (geo_sub (corners[1], corners[0]),
                            geo_sub (corners[2], corners[0]));
        }
      while (fabs (area) < size * size / 6);
      PatternPiece *piece = sample_polygon (pattern, "Side panel", corners, 3,
                                            PATTERN_EDGE_SEAM, 10);
      piece->has_grain = g_test_rand_bit ();
      GeoPoint middle = geo_scale (
          geo_add (geo_add (corners[0], corners[1]), corners[2]), 1 / 3.0);
      piece->grain_from = geo_lerp (middle, corners[0], 0.5);
      piece->grain_to = geo_lerp (middle, corners[0], -0.25);
      pattern_piece_add_cut (piece,
                             (PatternCut){ pattern->cloths[0].id, 2, TRUE });
      pattern_put_piece (pattern, piece);
      double s = size / 300;
      Picture p = picture_new ((GeoBox){ -20, -20, size + 20, size + 20 }, s);
      DrawingStyle style = bare_style (s);
      style.words = TRUE;
      paint_one (&p, pattern, piece, &style);
      int inked = 0;
      gboolean turned = area < 0;
      for (int y = 0; y < p.height; y++)
        for (int x = 0; x < p.width; x++)
          if (pixel (&p, x, y) < 200)
            {
              GeoPoint at = { (x + 0.5) * s - 20, (y + 0.5) * s - 20 };
              inked++;
              for (int k = 0; k < 3; k++)
                {
                  GeoPoint a = corners[k], b = corners[(k + 1) % 3];
                  double left = geo_cross (geo_sub (b, a), geo_sub (at, a));
                  g_assert_cmpfloat (turned ? -left : left, >, 0);
                }
            }
      g_assert_cmpint (inked, >, 20);
      picture_clear (&p);
    }
}

static void
test_cut_words (void)
{
  g_autoptr (Pattern) pattern = pattern_new ("test");
  guint shell = pattern->cloths[0].id;
  PatternCloth lining = { .id = pattern_take_id (pattern),
                          .name = (char *)"lining",
                          .use = PATTERN_LINING };
  pattern_put_cloth (pattern, &lining);
  PatternPiece *piece = sample_rectangle (pattern, "Front", 0, 0, 100, 60,
                                          PATTERN_EDGE_SEAM, 10);
  g_autofree char *none = drawing_cut_words (pattern, piece);
  g_assert_cmpstr (none, ==, "");
  pattern_piece_add_cut (piece, (PatternCut){ shell, 2, TRUE });
  pattern_piece_add_cut (piece, (PatternCut){ lining.id, 1, FALSE });
  g_autofree char *words = drawing_cut_words (pattern, piece);
  g_assert_cmpstr (words, ==, "Cut 2 (1 pair) in shell\nCut 1 in lining");
  piece->edges[3].kind = PATTERN_EDGE_FOLD;
  g_autofree char *folded = drawing_cut_words (pattern, piece);
  g_assert_cmpstr (folded, ==,
                   "Cut 2 on the fold in shell\nCut 1 on the fold in lining");
  pattern_piece_unref (piece);
}

/* --- colours ----------------------------------------------------------------
 */

static double
linear (double c)
{
  return c <= 0.04045 ? c / 12.92 : pow ((c + 0.055) / 1.055, 2.4);
}

/* Contrast ratio of WCAG 2.2, "relative luminance" and "contrast ratio". */
static double
contrast (DrawingColour a, DrawingColour b)
{
  double la
      = 0.2126 * linear (a.r) + 0.7152 * linear (a.g) + 0.0722 * linear (a.b);
  double lb
      = 0.2126 * linear (b.r) + 0.7152 * linear (b.g) + 0.0722 * linear (b.b);
  return (fmax (la, lb) + 0.05) / (fmin (la, lb) + 0.05);
}

static DrawingColour
over (DrawingColour top, DrawingColour under)
{
  return (DrawingColour){ top.r * top.a + under.r * (1 - top.a),
                          top.g * top.a + under.g * (1 - top.a),
                          top.b * top.a + under.b * (1 - top.a), 1 };
}

static void
test_contrast (void)
{
  for (int dark = 0; dark < 2; dark++)
    {
      DrawingStyle s = drawing_style_table (1, dark);
      const DrawingColour words[]
          = { s.ink, s.stitch, s.lit, s.longer, s.shorter, s.even };
      for (guint i = 0; i < G_N_ELEMENTS (words); i++)
        g_assert_cmpfloat (contrast (words[i], s.paper), >=, 4.5);
      g_assert_cmpfloat (contrast (s.faint, s.paper), >=, 4.5);
      for (int t = 0; t < 8; t++)
        {
          /* On a piece, whose tint is laid twice. */
          DrawingColour piece = over (s.tints[t], over (s.tints[t], s.paper));
          g_assert_cmpfloat (contrast (s.ink, piece), >=, 4.5);
          g_assert_cmpfloat (contrast (s.stitch, piece), >=, 3);
          g_assert_cmpfloat (contrast (s.faint, piece), >=, 3);
        }
    }
}

/* --- words on paper ----------------------------------------------------------
 */

static void
paint_words_of (Picture *p, const Pattern *pattern, const DrawingStyle *style)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  drawing_paint_words (p->cr, pattern,
                       sewing_facts_piece (facts, pattern->pieces[0]), style);
}

static gboolean
line_is_clear (const Picture *p, GeoPoint from, GeoPoint to)
{
  return dark_runs (p, from, to) == 0;
}

/* Where sheets meet across the piece's middle the words go to one of them. */
static void
test_words_off_joins (void)
{
  const GeoPoint joins[] = { { 100, 0 }, { 100, 80 } },
                 spots[] = { { 150, 40 } };
  const DrawingJoins known = { joins, 1, spots, 1 };
  for (int with = 0; with < 2; with++)
    {
      g_autoptr (Pattern) pattern = pattern_new ("test");
      pattern_put_piece (pattern, sample_rectangle (pattern, "Front", 0, 0, 200,
                                                    80, PATTERN_EDGE_SEAM, 10));
      Picture p = picture_new ((GeoBox){ 0, 0, 200, 80 }, 0.25);
      DrawingStyle style = drawing_style_paper ();
      style.joins = with ? &known : NULL;
      paint_words_of (&p, pattern, &style);
      g_assert_cmpint (line_is_clear (&p, joins[0], joins[1]), ==, with);
      /* They are somewhere, and at reading size. */
      int lines = 0;
      for (double x = 0.5; x < 200; x += 0.5)
        lines
            = MAX (lines, dark_runs (&p, geo_point (x, 1), geo_point (x, 79)));
      g_assert_cmpint (lines, >=, 3);
      picture_clear (&p);
    }
}

/* Lines of words: stretches of rows with ink in them. */
static int
count_lines (const Picture *p)
{
  int lines = 0;
  gboolean before = FALSE;
  for (int y = 0; y < p->height; y++)
    {
      gboolean dark = FALSE;
      for (int x = 0; x < p->width && !dark; x++)
        dark = pixel (p, x, y) < 140;
      lines += dark && !before;
      before = dark;
    }
  return lines;
}

/* What a piece lacks is printed on it: one line for the grain, one for the cut. */
static void
test_lacking (void)
{
  for (int grain = 0; grain < 2; grain++)
    for (int cut = 0; cut < 2; cut++)
      {
        g_autoptr (Pattern) pattern = pattern_new ("test");
        PatternPiece *piece = sample_rectangle (pattern, "Front", 0, 0, 300,
                                                200, PATTERN_EDGE_SEAM, 10);
        piece->has_grain = grain;
        piece->grain_from = geo_point (20, 100);
        piece->grain_to = geo_point (280, 100);
        if (cut)
          pattern_piece_add_cut (
              piece, (PatternCut){ pattern->cloths[0].id, 1, FALSE });
        pattern_put_piece (pattern, piece);
        Picture p = picture_new ((GeoBox){ 0, 0, 300, 200 }, 0.25);
        DrawingStyle style = drawing_style_paper ();
        paint_words_of (&p, pattern, &style);
        /* Name, pattern, and either the cut or that there is none. */
        g_assert_cmpint (count_lines (&p), ==, grain ? 3 : 4);
        picture_clear (&p);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/paint/cutting-line", test_cutting_line_outermost);
  g_test_add_func ("/paint/stitch-line", test_stitch_line_dashed);
  g_test_add_func ("/paint/line-width", test_line_width_constant);
  g_test_add_func ("/paint/circle", test_circle);
  g_test_add_func ("/paint/fold", test_fold_is_not_cut);
  g_test_add_func ("/paint/notches", test_notches);
  g_test_add_func ("/paint/clips", test_clips);
  g_test_add_func ("/paint/upside-down", test_never_upside_down);
  g_test_add_func ("/paint/name-inside", test_name_inside);
  g_test_add_func ("/paint/cut-words", test_cut_words);
  g_test_add_func ("/paint/contrast", test_contrast);
  g_test_add_func ("/paint/words-off-joins", test_words_off_joins);
  g_test_add_func ("/paint/lacking", test_lacking);
  return g_test_run ();
}
