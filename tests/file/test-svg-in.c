/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines from SVG: sizes in closed form, names, what is left out, what becomes
 * a piece and what a line, and hostile drawings. */
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "file/document.h"
#include "file/svg-in.h"
#include "geometry/region.h"

#define HEAD "<svg xmlns='http://www.w3.org/2000/svg' "
#define MM "width='100mm' height='50mm' viewBox='0 0 100 50'>"

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

/* 96 px to the inch, and every unit of a page. */
static void
test_page (void)
{
  static const struct
  {
    const char *attributes;
    double width, height, side; /* of a square of 10 units, mm */
  } cases[] = {
    { "width='96' height='192'", 25.4, 50.8, 254.0 / 96 },
    { "width='10cm' height='4in' viewBox='0 0 100 101.6'", 100, 101.6, 10 },
    { "width='100mm' viewBox='0 0 50 25'", 100, 50, 20 },
    { "height='50mm' viewBox='0 0 50 25'", 100, 50, 20 },
    { "viewBox='0 0 96 48'", 25.4, 12.7, 254.0 / 96 },
    { "width='100%' height='50%' viewBox='0 0 96 96'", 25.4, 12.7, 127.0 / 96 },
    { "", 0, 0, 254.0 / 96 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strdup_printf (
          HEAD "%s><rect width='10' height='10'/></svg>", cases[i].attributes);
      double width, height;
      g_autoptr (GPtrArray) shapes
          = file_svg_parse (text, strlen (text), "t", &width, &height, NULL);
      assert_near (width, cases[i].width, 1e-9);
      assert_near (height, cases[i].height, 1e-9);
      GeoBox box = geo_chain_bounds (&shape (shapes, 0)->chain);
      assert_near (box.x1 - box.x0, cases[i].side, 1e-9);
    }
}

static void
test_areas (void)
{
  g_autoptr (GPtrArray) shapes = shapes_of (
      HEAD MM "<rect x='1' y='2' width='30' height='20' rx='4' ry='3'/>"
              "<circle cx='50' cy='20' r='15'/>"
              "<ellipse cx='50' cy='20' rx='15' ry='5'/>"
              "<polygon points='0,0 10,0 10,10'/>"
              "<g transform='rotate(33) scale(2)'><rect width='3' height='4'/>"
              "</g></svg>");
  g_assert_cmpuint (shapes->len, ==, 5);
  const double areas[]
      = { 30 * 20 - (4 - G_PI) * 4 * 3, G_PI * 225, G_PI * 15 * 5, 50, 48 };
  for (guint i = 0; i < 5; i++)
    {
      g_assert_true (shape (shapes, i)->closed);
      assert_near (geo_chain_area (&shape (shapes, i)->chain), areas[i],
                   0.005 * 100);
    }
}

static void
test_names (void)
{
  g_autoptr (GPtrArray) shapes = shapes_of (
      "<svg xmlns='http://www.w3.org/2000/svg' xmlns:k='tag:k' "
      "xmlns:xlink='http://www.w3.org/1999/xlink' id='page'>"
      "<title>whole</title>"
      "<path id='a' aria-label='front' d='M0 0h9v9z'><title> Front\n piece "
      "</title></path>"
      "<path id='b' aria-label='back' k:label='x' d='M0 0h9v9z'/>"
      "<path id='c' k:label='sleeve' d='M0 0h9v9z'/>"
      "<path id='d' d='M0 0h9v9zM20 0h9v9z'/>"
      "<g id='e' k:label='collar'><g><path d='M0 0h9v9z'/></g></g>"
      "<path d='M0 0h9v9z'/>"
      "<g><title>facing</title><use xlink:href='#d'/>"
      "<use xlink:href='#d' id='welt'/></g>"
      "<path id='x&#x202E;y&#x85;z' d='M0 0h9v9z'/>"
      "</svg>");
  static const char *const names[]
      = { "Front piece", "back", "sleeve", "d",    "d",   "collar", "",
          "d",           "d",    "welt",   "welt", "xy z" };
  g_assert_cmpuint (shapes->len, ==, G_N_ELEMENTS (names));
  for (guint i = 0; i < shapes->len; i++)
    g_assert_cmpstr (shape (shapes, i)->name, ==, names[i]);
}

/* What is not SVG's own, by its name space. */
static void
test_name_spaces (void)
{
  g_autoptr (GPtrArray) shapes = shapes_of (
      "<s:svg xmlns:s='http://www.w3.org/2000/svg' xmlns:o='tag:o'>"
      "<rect width='9' height='9'/><o:rect width='9' height='9'/>"
      "<o:g><s:rect width='9' height='9'/></o:g>"
      "<g xmlns='http://www.w3.org/2000/svg'><rect id='in' width='9' "
      "height='9'/></g><rect width='9' height='9'/>"
      "<s:rect id='s' width='9' height='9'/></s:svg>");
  g_assert_cmpuint (shapes->len, ==, 2);
  g_assert_cmpstr (shape (shapes, 0)->name, ==, "in");
  g_assert_cmpstr (shape (shapes, 1)->name, ==, "s");
  g_autoptr (GPtrArray) bare
      = shapes_of ("<svg><rect width='9' height='9'/></svg>");
  g_assert_cmpuint (bare->len, ==, 1);
}

static Pattern *
load (const char *text, const FileSvgOptions *options, GError **error)
{
  g_autofree char *folder = g_dir_make_tmp ("bodkin-svg-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "Summer cape.svg", NULL);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  Pattern *pattern = file_svg_load (path, options, error);
  g_unlink (path);
  g_rmdir (folder);
  return pattern;
}

static Pattern *
load_ok (const char *text, const FileSvgOptions *options)
{
  g_autoptr (GError) error = NULL;
  Pattern *pattern = load (text, options, &error);
  g_assert_no_error (error);
  g_autofree char *unsound = pattern_unsound (pattern);
  g_assert_cmpstr (unsound, ==, NULL);
  return pattern;
}

static void
test_pieces (void)
{
  g_autoptr (Pattern) p = load_ok (
      HEAD MM "<path id='front' d='M10 10V40C20 45 30 45 40 40V10Z'/>"
              "<path id='front' d='M50 10v9h9v-9z'/>"
              "<circle cx='80' cy='20' r='15'/>"
              "<path id='dot' d='M60 30h4v4h-4z'/>"
              "<path id='fold' d='M0 0L30 40'/>"
              "<path d='M0 0L30 40 0 0' id='there and back'/>"
              "<path id='loop' d='M20 30c40 0 0 40 0 0'/>"
              "<path id='nearly' d='M0 0h20v20L.001.002'/></svg>",
      NULL);
  g_assert_cmpstr (p->name, ==, "Summer cape");
  static const struct
  {
    const char *name;
    guint nodes, edges;
  } pieces[] = { { "front", 4, 4 },
                 { "front 2", 4, 4 },
                 { "piece 1", 4, 1 },
                 { "loop", 2, 1 },
                 { "nearly", 3, 3 } };
  g_assert_cmpuint (p->n_pieces, ==, G_N_ELEMENTS (pieces));
  for (guint i = 0; i < p->n_pieces; i++)
    {
      g_assert_cmpstr (p->pieces[i]->name, ==, pieces[i].name);
      g_assert_cmpuint (p->pieces[i]->n_nodes, ==, pieces[i].nodes);
      g_assert_cmpuint (p->pieces[i]->n_edges, ==, pieces[i].edges);
      g_assert_cmpfloat (pattern_piece_area (p->pieces[i]), >, 0);
      for (guint e = 0; e < p->pieces[i]->n_edges; e++)
        g_assert_cmpfloat (p->pieces[i]->edges[e].allowance, ==, 10);
    }
  g_assert_cmpuint (p->n_lines, ==, 2);
  g_assert_cmpstr (p->lines[0].name, ==, "fold");
  g_assert_cmpuint (p->lines[0].n_nodes, ==, 2);
  const PatternNode *round = p->pieces[2]->nodes;
  g_assert_cmpint (round[0].kind, ==, PATTERN_NODE_SMOOTH);
}

/* A polygon of n sides turns 360/n degrees at each joint. */
static void
test_corner_angle (void)
{
  static const guint sides[] = { 12, 17, 19, 40 };
  for (guint k = 0; k < G_N_ELEMENTS (sides); k++)
    {
      guint n = sides[k];
      GString *text = g_string_new (HEAD MM "<polygon points='");
      for (guint i = 0; i < n; i++)
        g_string_append_printf (text, "%d,%d ",
                                (int)round (1e6 * cos (2 * G_PI * i / n)),
                                (int)round (1e6 * sin (2 * G_PI * i / n)));
      g_string_append (text, "' transform='scale(.00002)'/></svg>");
      FileSvgOptions options = file_svg_options_default ();
      g_autoptr (Pattern) usual = load_ok (text->str, NULL);
      guint corners = 360.0 / n > 20 ? n : 1;
      g_assert_cmpuint (usual->pieces[0]->n_edges, ==, corners);
      options.corner_angle = 2 * G_PI / n - 0.01;
      options.allowance = 15;
      g_autoptr (Pattern) fine = load_ok (text->str, &options);
      g_assert_cmpuint (fine->pieces[0]->n_edges, ==, n);
      g_assert_cmpfloat (fine->pieces[0]->edges[0].allowance, ==, 15);
      options.corner_angle = 2 * G_PI / n + 0.01;
      g_autoptr (Pattern) coarse = load_ok (text->str, &options);
      g_assert_cmpuint (coarse->pieces[0]->n_edges, ==, 1);
      options.least_size = 41;
      g_autoptr (GError) error = NULL;
      g_assert_null (load (text->str, &options, &error));
      g_assert_error (error, FILE_ERROR, FILE_ERROR_NOT_OURS);
      g_string_free (text, TRUE);
    }
}

static void
load_fails (const char *text, int code, const char *words)
{
  g_autoptr (GError) error = NULL;
  g_assert_null (load (text, NULL, &error));
  g_assert_error (error, FILE_ERROR, code);
  if (strstr (error->message, words) == NULL
      || strstr (error->message, "Summer cape.svg") == NULL)
    g_error ("message lacks “%s”: %s", words, error->message);
}

static void
test_refused (void)
{
  load_fails ("<html/>", FILE_ERROR_NOT_OURS, "no SVG drawing");
  load_fails (HEAD MM "<text>front</text></svg>", FILE_ERROR_NOT_OURS,
              "there is no outline in it");
  load_fails (HEAD MM "<rect width='1' height='1'/></svg>", FILE_ERROR_NOT_OURS,
              "too small");
  load_fails (HEAD MM "\n<g>\n</svg>", FILE_ERROR_BROKEN, "line 3");
  load_fails ("", FILE_ERROR_BROKEN, "empty");
  g_autoptr (GError) error = NULL;
  g_assert_null (file_svg_load ("/no/such.svg", NULL, &error));
  g_assert_error (error, FILE_ERROR, FILE_ERROR_READ);
  GString *many = g_string_new (HEAD MM "<path d='");
  for (guint i = 0; i < 10001; i++)
    g_string_append (many, "M0 0h9v9z");
  g_string_append (many, "'/></svg>");
  load_fails (many->str, FILE_ERROR_TOO_BIG, "it has 10001 outlines");
  g_string_free (many, TRUE);
}

/* CSS 2.1, chapter 6: what is shown, by style sheet and by attribute. */
static void
test_styles (void)
{
  static const struct
  {
    const char *style, *shown; /* letters of the rectangles seen */
  } cases[] = {
    { "", "abcd" },
    { ".one{display:none}", "bd" },
    { " .one.two { display : NONE ; } ", "abcd" },
    { "#b, .three{fill:red;display:none}", "ac" },
    { "rect{display:none}", "" },
    { "rect.one{display:none}#a{display:inline}", "abd" },
    { "#a{display:none}.one{display:inline}", "bcd" },
    { ".one{display:none!important}#a{display:inline}", "bd" },
    { "#a{display:none;display:inline}", "abcd" },
    { "#a{display:none !important;display:inline}", "bcd" },
    { "#a{display:inline}#a{display:none}", "bcd" },
    { "g rect{display:none}", "ab" },
    { "svg > rect{display:none}", "cd" },
    { "svg>g .three{display:none}", "abc" },
    { "* > * > rect{display:none}", "ab" },
    { "g{display:none}", "ab" },
    { "g{visibility:hidden}#c{visibility:visible}", "abc" },
    { "circle rect, .four{display:none}", "abcd" },
    { "rect:hover{display:none}rect[id]{display:none}rect+rect{display:none}",
      "abcd" },
    { "@import url(x.css);@media print{rect{display:none}}#d{display:none}",
      "abc" },
    { "@font-face{a:b} /* #a{display:none} */ #b{display:none} /* #c{", "acd" },
    { "<!-- #a{display:none} -->", "abcd" },
    { "#a{display:none", "bcd" },
    { "#a display:none}", "abcd" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strdup_printf (
          HEAD "><style>%s</style><style type='text/css'/>"
               "<rect id='a' class='one' width='9' height='9'/>"
               "<rect id='b' class=' two\tthree' width='9' height='9'/>"
               "<g><rect id='c' class='one' width='9' height='9'/>"
               "<rect id='d' class='three' width='9' height='9'/></g></svg>",
          cases[i].style);
      g_autoptr (GPtrArray) shapes = shapes_of (text);
      GString *shown = g_string_new (NULL);
      for (guint k = 0; k < shapes->len; k++)
        g_string_append (shown, shape (shapes, k)->name);
      if (strcmp (shown->str, cases[i].shown) != 0)
        g_error ("“%s” shows %s, not %s", cases[i].style, shown->str,
                 cases[i].shown);
      g_string_free (shown, TRUE);
    }
}

/* Drawing programs write their name spaces as entities. */
static void
test_entities (void)
{
  g_autoptr (GPtrArray) shapes = shapes_of (
      "<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" "
      "\"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\" ["
      "<!ENTITY ns_svg \"http://www.w3.org/2000/svg\">"
      "<!ENTITY ten \"10\"><!ENTITY deep \"&ten;\">"
      "<!ENTITY outside SYSTEM \"file:///etc/passwd\">]>"
      "<svg xmlns=\"&ns_svg;\" xmlns:o=\"&ten;\">"
      "<rect id=\"&outside;a&deep;\" width=\"&ten;\" height=\"&ten;&ten;\"/>"
      "</svg>");
  g_assert_cmpuint (shapes->len, ==, 1);
  g_assert_cmpstr (shape (shapes, 0)->name, ==, "a");
  assert_near (geo_chain_area (&shape (shapes, 0)->chain),
               10 * 1010 * pow (25.4 / 96, 2), 1e-6);
}

/* Uses of uses: a small file must not become a large one, or never end. */
static void
test_hostile (void)
{
  GString *text = g_string_new (
      HEAD
      "xmlns:x='http://www.w3.org/1999/xlink'><path id='u0' d='M0 0h9v9z'/>");
  for (guint i = 1; i < 20; i++)
    {
      g_string_append_printf (text, "<g id='u%u'>", i);
      for (guint k = 0; k < 10; k++)
        g_string_append_printf (text, "<use x:href='#u%u'/>", i - 1);
      g_string_append (text, "</g>");
    }
  g_string_append (text, "</svg>");
  load_fails (text->str, FILE_ERROR_TOO_BIG, "more than 100,000 times");
  g_string_free (text, TRUE);
  /* long attributes used again and again */
  static const char *const heavy[] = { "d='%s'", "style='%s'", "id='%s'" };
  g_autofree char *blanks = g_strnfill (1000000, ' ');
  for (guint i = 0; i < G_N_ELEMENTS (heavy); i++)
    {
      GString *uses = g_string_new (HEAD "><g id='a'><path ");
      g_string_append_len (uses, heavy[i], (gssize)strcspn (heavy[i], "%"));
      g_string_append_printf (uses, "%s'/></g><g id='u0'>", blanks);
      for (guint k = 0; k < 20000; k++)
        g_string_append (uses, "<use href='#a'/>");
      g_string_append (uses, "</g></svg>");
      g_autoptr (GError) error = NULL;
      g_assert_null (load (uses->str, NULL, &error));
      g_string_free (uses, TRUE);
    }
  /* in circles */
  g_autoptr (GPtrArray) shapes = shapes_of (
      HEAD "><g id='a'><rect width='9' height='9'/><use href='#a'/>"
           "<use href='#b'/></g><g id='b'><use href='#a'/><use href='#c'/></g>"
           "<use id='c' href='#c'/><symbol id='d'><use href='#d'/></symbol>"
           "<use href='#d'/></svg>");
  g_assert_cmpuint (shapes->len, ==, 2);
  /* figures beyond reason leave that shape out, not the others */
  g_autoptr (GPtrArray) far = shapes_of (
      HEAD "><path d='M1e300 0h1e300v1z'/><rect width='1e308' height='5'/>"
           "<rect width='9' height='9' transform='scale(1e200)scale(1e200)'/>"
           "<path d='M0 0A1e-300 1e300 0 0 1 9 9z' transform='scale(0)'/>"
           "<rect width='9' height='9'/><circle r='1e-320'/>"
           "<svg viewBox='0 0 1e-300 1e-300' width='1e300' height='1'><path "
           "d='M0 0h9v9z'/></svg></svg>");
  g_assert_cmpuint (far->len, ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/file/svg-in/page", test_page);
  g_test_add_func ("/file/svg-in/areas", test_areas);
  g_test_add_func ("/file/svg-in/names", test_names);
  g_test_add_func ("/file/svg-in/name-spaces", test_name_spaces);
  g_test_add_func ("/file/svg-in/pieces", test_pieces);
  g_test_add_func ("/file/svg-in/corner-angle", test_corner_angle);
  g_test_add_func ("/file/svg-in/refused", test_refused);
  g_test_add_func ("/file/svg-in/styles", test_styles);
  g_test_add_func ("/file/svg-in/entities", test_entities);
  g_test_add_func ("/file/svg-in/hostile", test_hostile);
  return g_test_run ();
}
