/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the outlines found in an SVG to a pattern: nodes, corners, edges, names. */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "file/document.h"
#include "file/svg-in.h"
#include "file/xml-guard.h"
#include "geometry/region.h"

#define POINT 1e-3 /* mm; a curve no larger is none */
#define SMOOTH                                                                 \
  (G_PI / 360) /* a joint that turns less has its handles in one line */
#define LEAST_AREA                                                             \
  1 /* mm2; what encloses less is a line drawn there and back */
#define MOST_SHAPES 10000
#define MOST_CURVES                                                            \
  100000 /* of all shapes; well within what a document may hold */

FileSvgOptions
file_svg_options_default (void)
{
  return (FileSvgOptions){
    .corner_angle = 20 * G_PI / 180,
    .allowance = 10,
    .least_size = 5,
  };
}

/* Without curves that are points; the ones around them are brought together. */
static void
drop_points (const GeoChain *from, GeoChain *to)
{
  for (size_t i = 0; i < from->count; i++)
    {
      GeoCubic c = from->cubics[i];
      if (geo_cubic_is_point (&c, POINT))
        continue;
      if (to->count > 0)
        c.p[0] = to->cubics[to->count - 1].p[3];
      geo_chain_append (to, c);
    }
  if (to->count > 0 && geo_chain_is_closed (from))
    to->cubics[to->count - 1].p[3] = to->cubics[0].p[0];
}

/* A loop of a single curve gets a second node, so that it has sides. */
static void
split_lone (GeoChain *chain)
{
  if (chain->count != 1)
    return;
  GeoCubic a, b;
  geo_cubic_split (&chain->cubics[0], 0.5, &a, &b);
  geo_chain_reset (chain);
  geo_chain_append (chain, a);
  geo_chain_append (chain, b);
}

/* Node at the start of cubic i of a closed chain, or of an open one with one node more than
 * it has cubics. */
static PatternNode
node_of (const GeoChain *chain, size_t i, gboolean closed, double turn)
{
  PatternNode node = pattern_node_of_chain (chain, i, closed);
  if (turn < SMOOTH && !geo_same (node.in, node.at)
      && !geo_same (node.out, node.at))
    node.kind = PATTERN_NODE_SMOOTH;
  return node;
}

/* The first joint that is a corner; 0 where none is. */
static size_t
first_corner (const GeoChain *chain, double corner_angle)
{
  size_t n = chain->count;
  for (size_t i = 0; i < n; i++)
    if (geo_cubic_joint_turn (&chain->cubics[(i + n - 1) % n],
                              &chain->cubics[i])
        > corner_angle)
      return i;
  return 0;
}

static PatternPiece *
make_piece (Pattern *pattern, const char *name, const GeoChain *chain,
            const FileSvgOptions *options)
{
  size_t n = chain->count;
  size_t first = first_corner (chain, options->corner_angle);
  PatternPiece *piece = pattern_piece_new (pattern_take_id (pattern), name);
  g_autofree PatternNode *nodes = g_new (PatternNode, n);
  g_autofree gboolean *starts = g_new0 (gboolean, n);
  for (size_t k = 0; k < n; k++)
    {
      size_t i = (first + k) % n;
      double turn = geo_cubic_joint_turn (&chain->cubics[(i + n - 1) % n],
                                          &chain->cubics[i]);
      nodes[k] = node_of (chain, i, TRUE, turn);
      starts[k] = k == 0 || turn > options->corner_angle;
    }
  pattern_piece_set_outline (piece, nodes, (guint)n, starts, &pattern->next_id);
  for (guint i = 0; i < piece->n_edges; i++)
    piece->edges[i].allowance = options->allowance;
  return piece;
}

static void
add_line (Pattern *pattern, const char *name, const GeoChain *chain)
{
  size_t n = chain->count;
  g_autofree PatternNode *nodes = g_new (PatternNode, n + 1);
  for (size_t i = 0; i <= n; i++)
    {
      double turn = i > 0 && i < n ? geo_cubic_joint_turn (
                        &chain->cubics[i - 1], &chain->cubics[i])
                                   : G_PI;
      nodes[i] = node_of (chain, i, FALSE, turn);
      nodes[i].id = pattern_take_id (pattern);
    }
  pattern_add_line (pattern, name, nodes, (guint)n + 1);
}

/* "front", "front 2", "front 3"; "piece 1" where it has none. */
static char *
new_name (GHashTable *names, const char *name)
{
  const char *stem = *name != '\0' ? name : _ ("piece");
  guint n = GPOINTER_TO_UINT (g_hash_table_lookup (names, stem)) + 1;
  g_hash_table_insert (names, g_strdup (stem), GUINT_TO_POINTER (n));
  return n == 1 && *name != '\0' ? g_strdup (name)
                                 : g_strdup_printf ("%s %u", stem, n);
}

static void
add_shape (Pattern *pattern, GHashTable *names, const FileSvgShape *shape,
           const FileSvgOptions *options)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  drop_points (&shape->chain, &chain);
  GeoBox box = geo_chain_bounds (&chain);
  gboolean closed = shape->closed && chain.count > 0
                    && fabs (geo_chain_area (&chain)) >= LEAST_AREA;
  if (chain.count > 0
      && (!shape->closed || box.x1 - box.x0 >= options->least_size
          || box.y1 - box.y0 >= options->least_size))
    {
      if (closed)
        {
          split_lone (&chain);
          g_autofree char *name = new_name (names, shape->name);
          pattern_put_piece (pattern,
                             make_piece (pattern, name, &chain, options));
        }
      else
        add_line (pattern, shape->name, &chain);
    }
  geo_chain_clear (&chain);
}

static char *
pattern_name (const char *file)
{
  g_autofree char *base = g_strdup (file);
  char *dot = strrchr (base, '.');
  if (dot != NULL && dot > base)
    *dot = '\0';
  return g_steal_pointer (&base);
}

static Pattern *
make_pattern (const GPtrArray *shapes, const char *file,
              const FileSvgOptions *options, GError **error)
{
  size_t curves = 0;
  for (guint i = 0; i < shapes->len; i++)
    curves
        += ((const FileSvgShape *)g_ptr_array_index (shapes, i))->chain.count;
  if (shapes->len > MOST_SHAPES || curves > MOST_CURVES)
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_TOO_BIG,
                   _ ("it has %u outlines of %u curves in all. More than %d, "
                      "or %d, are a picture rather than a pattern."),
                   shapes->len, (guint)MIN (curves, G_MAXUINT), MOST_SHAPES,
                   MOST_CURVES);
      return NULL;
    }
  g_autofree char *name = pattern_name (file);
  Pattern *pattern = pattern_new (name);
  g_autoptr (GHashTable) names
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < shapes->len; i++)
    add_shape (pattern, names, g_ptr_array_index (shapes, i), options);
  if (pattern->n_pieces > 0 || pattern->n_lines > 0)
    return pattern;
  pattern_unref (pattern);
  g_set_error_literal (
      error, FILE_ERROR, FILE_ERROR_NOT_OURS,
      shapes->len == 0
          ? _ ("there is no outline in it. Words and photos have none; turn "
               "words into paths, and trace photos, before they are brought "
               "in.")
          : _ ("its outlines are all too small to be pieces. Look at the size "
               "of the drawing's page."));
  return NULL;
}

Pattern *
file_svg_to_pattern (const char *text, gsize length, const char *name,
                     const FileSvgOptions *options, GError **error)
{
  g_return_val_if_fail (name != NULL, NULL);
  FileSvgOptions usual = file_svg_options_default ();
  g_autoptr (GPtrArray) shapes
      = file_svg_parse (text, length, name, NULL, NULL, error);
  if (shapes == NULL)
    return NULL;
  GError *cause = NULL;
  Pattern *pattern
      = make_pattern (shapes, name, options != NULL ? options : &usual, &cause);
  if (pattern == NULL)
    {
      file_xml_place_error (&cause, name, 0);
      g_propagate_error (error, cause);
    }
  return pattern;
}

Pattern *
file_svg_load (const char *path, const FileSvgOptions *options, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autofree char *text = NULL;
  g_autofree char *name = g_filename_display_basename (path);
  gsize length = 0;
  if (!file_xml_load (path, &text, &length, error))
    return NULL;
  return file_svg_to_pattern (text, length, name, options, error);
}
