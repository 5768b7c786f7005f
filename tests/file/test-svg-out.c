/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Our own drawings, read back by svg-in: outlines and cutting lines to 1e-6 mm, all inside the page,
 * every mark in its group. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "file/document.h"
#include "file/svg-in.h"
#include "file/svg-out.h"
#include "made-pattern.h"
#include "sewing/facts.h"

static GPtrArray *
shapes_of (const char *text)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *shapes
      = file_svg_parse (text, strlen (text), "t", NULL, NULL, &error);
  g_assert_no_error (error);
  return shapes;
}

static const FileSvgShape *
shape (const GPtrArray *shapes, guint i)
{
  g_assert_cmpuint (i, <, shapes->len);
  return g_ptr_array_index (shapes, i);
}

static void
assert_near (double a, double b, double by)
{
  if (!(fabs (a - b) <= by))
    g_error ("%.12g is not %.12g within %g", a, b, by);
}

static void
assert_same_outline (const GeoChain *a, const GeoChain *b, GeoPoint offset)
{
  g_assert_cmpuint (a->count, ==, b->count);
  for (size_t i = 0; i < a->count; i++)
    for (guint k = 0; k <= 8; k++)
      {
        GeoPoint p = geo_cubic_point (&a->cubics[i], k / 8.0);
        GeoPoint q = geo_cubic_point (&b->cubics[i], k / 8.0);
        assert_near (geo_distance (geo_add (p, offset), q), 0, 1e-6);
      }
}

static const FileSvgShape *
find_shape (const GPtrArray *shapes, const char *piece, const char *part,
            guint nth)
{
  g_autofree char *name
      = g_strdup_printf ("%s%s%s", piece, *piece != '\0' ? ", " : "", part);
  for (guint i = 0; i < shapes->len; i++)
    if (strcmp (shape (shapes, i)->name, name) == 0 && nth-- == 0)
      return shape (shapes, i);
  g_error ("no “%s”", name);
}

static GeoPoint
page_offset (const char *text)
{
  double x, y;
  const char *box = strstr (text, "viewBox=\"");
  g_assert_cmpint (sscanf (box, "viewBox=\"%lf %lf", &x, &y), ==, 2);
  return geo_point (-x, -y);
}

static void
assert_reads_back (const Pattern *pattern)
{
  gsize length;
  g_autofree char *text = file_svg_write (pattern, &length);
  g_autofree char *again = file_svg_write (pattern, NULL);
  g_assert_cmpstr (text, ==, again);
  GeoPoint offset = page_offset (text);
  g_autoptr (GError) error = NULL;
  double width, height;
  g_autoptr (GPtrArray) shapes
      = file_svg_parse (text, length, "t", &width, &height, &error);
  g_assert_no_error (error);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  for (guint i = 0; i < pattern->n_pieces; i++)
    {
      const PatternPiece *piece = pattern->pieces[i];
      const SewingPiece *known = sewing_facts_piece (facts, piece);
      GeoChain outline = GEO_CHAIN_EMPTY;
      pattern_piece_outline (piece, &outline);
      const FileSvgShape *stitch
          = find_shape (shapes, piece->name, "stitch line", 0);
      g_assert_true (stitch->closed);
      assert_same_outline (&outline, &stitch->chain, offset);
      /* wild outlines may have no cutting line */
      const GeoChain *ring = &known->ring.outline;
      const FileSvgShape *cutting
          = find_shape (shapes, piece->name,
                        ring->count > 0 ? "cutting line" : "stitch line", 0);
      if (ring->count > 0)
        assert_same_outline (ring, &cutting->chain, offset);
      GeoBox box = geo_chain_bounds (&cutting->chain);
      g_assert_true (box.x0 >= 0 && box.y0 >= 0 && box.x1 <= width
                     && box.y1 <= height);
      geo_chain_clear (&outline);
      for (guint k = 0; k < piece->n_notches; k++)
        for (int s = 0; s < piece->notches[k].count; s++)
          find_shape (shapes, piece->name, "notches", k);
      if (piece->has_grain
          && geo_distance (piece->grain_from, piece->grain_to) > 1e-3)
        assert_near (
            geo_distance (
                geo_chain_start (
                    &find_shape (shapes, piece->name, "grainline", 0)->chain),
                geo_add (piece->grain_from, offset)),
            0, 1e-6);
    }
}

static void
test_demo_out (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-cape.bodkin", NULL);
  g_autoptr (Pattern) demo = file_document_load (path, &error);
  g_assert_no_error (error);
  assert_reads_back (demo);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  for (guint i = 0; i < demo->n_pieces; i++)
    g_assert_cmpuint (
        sewing_facts_piece (facts, demo->pieces[i])->ring.outline.count, >, 0);
}

static void
test_made_out (void)
{
  /* names all differ, so that shapes can be found */
  for (guint i = 0; i < 8; i++)
    {
      g_autoptr (Pattern) p = made_pattern (3, 4 + i);
      for (guint k = 0; k < 3; k++)
        {
          PatternPiece *piece = pattern_piece_dup (p->pieces[k]);
          char name[] = "piece & <A>";
          name[9] = (char)('A' + k);
          pattern_set_string (&piece->name, name);
          for (guint e = 0; e < piece->n_edges; e++)
            piece->edges[e].allowance = 5 + e % 7;
          while (piece->n_notches > 0)
            pattern_piece_remove_mark (piece, piece->notches[0].id);
          pattern_put_piece (p, piece);
        }
      assert_reads_back (p);
    }
}

static void
test_empty_out (void)
{
  g_autoptr (Pattern) p = pattern_new ("nothing yet");
  g_autofree char *text = file_svg_write (p, NULL);
  g_autoptr (GPtrArray) shapes = shapes_of (text);
  g_assert_cmpuint (shapes->len, ==, 0);
  g_assert_nonnull (strstr (text, "<title>nothing yet</title>"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/file/svg-out/demo", test_demo_out);
  g_test_add_func ("/file/svg-out/made", test_made_out);
  g_test_add_func ("/file/svg-out/empty", test_empty_out);
  return g_test_run ();
}
