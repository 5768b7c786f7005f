/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawings by many hands and programs, read by ours and by librsvg: the box about all outlines must
 * agree within 0.1 mm. librsvg draws them as hairlines (its own style sheet set so by the test:
 * no words, pictures, clips, masks, filters and markers) onto a surface that
 * records, whose extent is the box.
 *
 * Drawings: the Debian package iso-flags-svg (all of it), and openclipart-svg where it is
 * installed. BODKIN_SVG_FOLDER names another folder. */
#include <cairo.h>
#include <librsvg/rsvg.h>
#include <math.h>
#include <string.h>

#include "file/document.h"
#include "file/svg-in.h"
#include "file/svg-out.h"

#define AGREE 0.1 /* mm */
#define FAR 3e4   /* mm; about where cairo turns over at that fineness */
#define FINE                                                                   \
  100 /* steps of the recording in a mm: its extents are whole steps */

static const char style[]
    = "* { fill: none !important; stroke: #000 !important;"
      "  stroke-width: 0.000001px !important; stroke-opacity: 1 !important;"
      "  stroke-dasharray: none !important; stroke-linejoin: bevel !important;"
      "  stroke-linecap: butt !important;"
      "  opacity: 1 !important; clip-path: none !important;"
      "  mask: none !important; filter: none !important;"
      "  marker-start: none !important; marker-mid: none !important;"
      "  marker-end: none !important; overflow: visible !important; }"
      "text, image, foreignObject { display: none !important; }";

typedef struct
{
  guint files, compared, empty, unread, far, off, sizeless;
  double worst;
} Count;

static gboolean
box_of_ours (const char *text, gsize length, GeoBox *box, double *width,
             double *height, GError **error)
{
  g_autoptr (GPtrArray) shapes
      = file_svg_parse_all (text, length, "drawing", width, height, error);
  *box = geo_box_empty ();
  if (shapes == NULL)
    return FALSE;
  for (guint i = 0; i < shapes->len; i++)
    {
      const FileSvgShape *shape = g_ptr_array_index (shapes, i);
      g_assert_cmpuint (shape->chain.count, >, 0);
      g_assert_true (!shape->closed || geo_chain_is_closed (&shape->chain));
      *box = geo_box_join (*box, geo_chain_bounds (&shape->chain));
    }
  return TRUE;
}

/* FALSE where librsvg won't read or draw it. The size is its page's, in mm. */
static gboolean
box_of_librsvg (const char *text, gsize length, double width, double height,
                GeoBox *box, double *own_width, double *own_height)
{
  g_autoptr (GError) error = NULL;
  RsvgHandle *handle
      = rsvg_handle_new_from_data ((const guint8 *)text, length, &error);
  if (handle == NULL)
    return FALSE;
  rsvg_handle_set_dpi (handle, 96);
  rsvg_handle_set_stylesheet (handle, (const guint8 *)style, strlen (style),
                              &error);
  g_assert_no_error (error);
  *own_width = *own_height = 0;
  if (rsvg_handle_get_intrinsic_size_in_pixels (handle, own_width, own_height))
    {
      *own_width *= 25.4 / 96;
      *own_height *= 25.4 / 96;
    }
  cairo_surface_t *surface
      = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (surface);
  RsvgRectangle view = { 0, 0, width * FINE, height * FINE };
  gboolean ok = rsvg_handle_render_document (handle, cr, &view, &error);
  double x, y, w, h;
  cairo_recording_surface_ink_extents (surface, &x, &y, &w, &h);
  *box = w > 0 && h > 0
             ? (GeoBox){ x / FINE, y / FINE, (x + w) / FINE, (y + h) / FINE }
             : geo_box_empty ();
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  g_object_unref (handle);
  return ok;
}

static double
disagreement (GeoBox a, GeoBox b)
{
  return fmax (fmax (fabs (a.x0 - b.x0), fabs (a.x1 - b.x1)),
               fmax (fabs (a.y0 - b.y0), fabs (a.y1 - b.y1)));
}

static void
compare_text (const char *path, const char *text, gsize length, Count *count)
{
  g_autoptr (GError) error = NULL;
  count->files++;
  GeoBox ours = geo_box_empty (), theirs = geo_box_empty ();
  double width = 0, height = 0, own_width, own_height;
  gboolean read = box_of_ours (text, length, &ours, &width, &height, &error);
  if (!read)
    width = height = 100;
  if (width <= 0 || height <= 0)
    {
      count->sizeless++; /* a page for librsvg would scale it */
      return;
    }
  gboolean drawn = box_of_librsvg (text, length, width, height, &theirs,
                                   &own_width, &own_height);
  if (!read)
    {
      g_test_message ("%s: %s%s", path, error->message,
                      drawn ? " (librsvg reads it)" : "");
      count->unread++;
      return;
    }
  if (!drawn || geo_box_is_empty (theirs) || geo_box_is_empty (ours))
    {
      count->empty++;
      if (geo_box_is_empty (theirs) != geo_box_is_empty (ours))
        g_test_message ("%s: only %s is empty", path,
                        geo_box_is_empty (theirs) ? "librsvg's" : "ours");
      return;
    }
  if (theirs.x0 < -FAR || theirs.y0 < -FAR || theirs.x1 > FAR
      || theirs.y1 > FAR)
    {
      count
          ->far++; /* ours leaves out shapes beyond 100 m, cairo turns them over */
      return;
    }
  double off = disagreement (ours, theirs);
  if (own_width > 0)
    off = fmax (off,
                fmax (fabs (width - own_width), fabs (height - own_height)));
  count->compared++;
  count->worst = off <= AGREE ? fmax (count->worst, off) : count->worst;
  if (off <= AGREE)
    return;
  count->off++;
  g_test_message ("%s: page %.6gx%.6g (%.6gx%.6g), box %.4f %.4f %.4f %.4f, "
                  "librsvg %.4f %.4f %.4f %.4f",
                  path, width, height, own_width, own_height, ours.x0, ours.y0,
                  ours.x1, ours.y1, theirs.x0, theirs.y0, theirs.x1, theirs.y1);
}

static void
compare (const char *path, Count *count)
{
  g_autofree char *text = NULL;
  gsize length;
  if (g_file_get_contents (path, &text, &length, NULL))
    compare_text (path, text, length, count);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

static void
find_drawings (const char *folder, GPtrArray *found)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  if (dir == NULL)
    return;
  for (const char *n; (n = g_dir_read_name (dir)) != NULL;)
    {
      g_autofree char *path = g_build_filename (folder, n, NULL);
      if (g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        continue;
      if (g_file_test (path, G_FILE_TEST_IS_DIR))
        find_drawings (path, found);
      else if (g_str_has_suffix (n, ".svg"))
        g_ptr_array_add (found, g_steal_pointer (&path));
    }
  g_dir_close (dir);
}

/* Every step-th drawing of the folder. */
static void
compare_folder (const char *folder, guint step, Count *count)
{
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func (g_free);
  find_drawings (folder, found);
  g_ptr_array_sort (found, by_name);
  for (guint i = 0; i < found->len; i += step)
    compare (g_ptr_array_index (found, i), count);
  g_test_message ("%s: %u drawings, %u compared, %u apart by more than %g mm "
                  "(the others by %.4f at most), %u without outline, %u with a "
                  "shape beyond 30 m, %u without size, %u not read",
                  folder, count->files, count->compared, count->off, AGREE,
                  count->worst, count->empty, count->far, count->sizeless,
                  count->unread);
}

/* Drawings of our own, each for one part of the standard. */
static void
test_features (void)
{
  g_autofree char *folder
      = g_build_filename (g_getenv ("BODKIN_TEST_DATA"), "drawings", NULL);
  Count count = { 0 };
  compare_folder (folder, 1, &count);
  g_assert_cmpuint (count.compared, >=, 7);
  g_assert_cmpuint (count.compared, ==, count.files);
  g_assert_cmpuint (count.off, ==, 0);
}

/* What we write, as librsvg sees it: the page's millimetres, and the place of
 * what is on it. */
static void
test_own (void)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-cape.bodkin", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) demo = file_document_load (path, &error);
  g_assert_no_error (error);
  gsize length;
  g_autofree char *text = file_svg_write (demo, &length);
  Count count = { 0 };
  compare_text ("the demo as SVG", text, length, &count);
  g_assert_cmpuint (count.compared, ==, 1);
  g_assert_cmpuint (count.off, ==, 0);
}

static void
test_flags (void)
{
  static const char folder[] = "/usr/share/iso-flags-svg";
  Count count = { 0 };
  if (!g_file_test (folder, G_FILE_TEST_IS_DIR))
    {
      g_test_skip ("the package iso-flags-svg is not installed");
      return;
    }
  compare_folder (folder, 1, &count);
  g_assert_cmpuint (count.compared, >=, 300);
  g_assert_cmpuint (count.off, ==, 0);
  g_assert_cmpuint (count.unread, ==, 0);
}

static const char *
more_folder (void)
{
  const char *folder = g_getenv ("BODKIN_SVG_FOLDER");
  return folder != NULL ? folder : "/usr/share/openclipart/svg";
}

static void
test_more (void)
{
  Count count = { 0 };
  compare_folder (more_folder (), g_getenv ("BODKIN_SVG_FOLDER") ? 1 : 37,
                  &count);
  g_assert_cmpuint (count.off, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/file/svg-corpus/features", test_features);
  g_test_add_func ("/file/svg-corpus/own", test_own);
  g_test_add_func ("/file/svg-corpus/flags", test_flags);
  if (g_file_test (more_folder (), G_FILE_TEST_IS_DIR))
    g_test_add_func ("/file/svg-corpus/more", test_more);
  return g_test_run ();
}
