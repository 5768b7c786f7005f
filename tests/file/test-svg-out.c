/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Our own drawings, read back by svg-in: outlines and cutting lines to 1e-6 mm, all inside the page,
 * every mark in its group. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "file/document.h"
#include "file/svg-in.h"
#include "file/svg-out.h"
#include "geometry/region.h"
#include "made-pattern.h"
#include "sewing/facts.h"

static GPtrArray *
shapes_of (const char *text)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *shapes
      = file_svg_parse_all (text, strlen (text), "t", NULL, NULL, &error);
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
      = file_svg_parse_all (text, length, "t", &width, &height, &error);
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

/* Written and brought in again: each piece once, by its name, where its stitch
 * line was; nothing is made of cutting lines and marks. */
static void
test_there_and_back (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-cape.bodkin", NULL);
  g_autoptr (Pattern) demo = file_document_load (path, &error);
  g_assert_no_error (error);
  gsize length;
  g_autofree char *text = file_svg_write (demo, &length);
  g_autoptr (Pattern) back
      = file_svg_to_pattern (text, length, "cape.svg", NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (back->n_pieces, ==, demo->n_pieces);
  g_assert_cmpuint (back->n_lines, ==, demo->n_lines);
  for (guint i = 0; i < demo->n_pieces; i++)
    {
      g_assert_cmpstr (back->pieces[i]->name, ==, demo->pieces[i]->name);
      GeoChain was = GEO_CHAIN_EMPTY, is = GEO_CHAIN_EMPTY;
      pattern_piece_outline (demo->pieces[i], &was);
      pattern_piece_outline (back->pieces[i], &is);
      assert_near (geo_chain_area (&is), geo_chain_area (&was), 1e-2);
      assert_near (geo_chain_length (&is, 1e-6), geo_chain_length (&was, 1e-6),
                   1e-4);
      geo_chain_clear (&was);
      geo_chain_clear (&is);
    }
}

/* A drawing that only looks alike keeps all its outlines. */
static void
test_not_ours (void)
{
  static const char text[]
      = "<svg xmlns='http://www.w3.org/2000/svg' width='90mm' height='90mm' "
        "viewBox='0 0 90 90'><g id='piece-4'><g id='piece-40-stitch'>"
        "<rect width='20' height='20'/></g><g id='piece-4-cutting'>"
        "<rect width='30' height='30'/></g></g>"
        "<g id='piece-x'><g id='piece-x-stitch'>"
        "<rect width='20' height='20'/></g>"
        "<rect width='30' height='30'/></g></svg>";
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) p
      = file_svg_to_pattern (text, strlen (text), "t", NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (p->n_pieces, ==, 4);
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
  g_test_add_func ("/file/svg-out/there-and-back", test_there_and_back);
  g_test_add_func ("/file/svg-out/not-ours", test_not_ours);
  g_test_add_func ("/file/svg-out/empty", test_empty_out);
  return g_test_run ();
}
