/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From an SVG's elements to outlines in millimetres: the walk through groups, nested
 * views and uses, with the transform that holds at each place. */
#include "file/svg-in.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "file/document.h"
#include "file/svg-path.h"
#include "file/svg-style.h"
#include "file/svg-tree.h"
#include "file/svg-units.h"
#include "file/xml-guard.h"

#define FARTHEST 1e5        /* mm: 100 m */
#define ARC_TOLERANCE 0.005 /* mm */
#define MEETING 0.01        /* mm; ends nearer than this are one point */
#define MOST_USES 100000
#define MOST_CUBICS 2000000
#define MOST_WORK                                                              \
  2000000000            /* bytes of attributes looked at, about two seconds */
#define MOST_DEPTH 1000 /* of elements and uses together */
#define NAME_LETTERS 120

typedef struct
{
  FileSvgTree tree;
  FileSvgStyle *style;
  GPtrArray *shapes;
  guint uses, depth;
  gsize cubics;
  guint64 work;
  GError *error;
  guint error_line;
  gboolean all; /* marks and cutting lines of our own pieces, too */
} Walk;

/* What holds at a place of the walk. */
typedef struct
{
  FileSvgMatrix to_mm;
  double width,
      height; /* of the nearest view, in its units: what percent are of */
  gboolean visible;
  const FileSvgNode *named; /* the nearest around it that has a name, or NULL */
  gboolean keep_name;       /* a use's name goes before that of what it uses */
} Place;

void
file_svg_shape_free (FileSvgShape *shape)
{
  if (shape == NULL)
    return;
  g_free (shape->name);
  geo_chain_clear (&shape->chain);
  g_free (shape);
}

/* --- names -------------------------------------------------------------------- */
static const char *
own_name (const FileSvgNode *node)
{
  if (node->title != NULL && node->title[strspn (node->title, " \t\r\n")] != 0)
    return node->title;
  static const FileSvgAttribute keys[]
      = { FILE_SVG_ARIA_LABEL, FILE_SVG_LABEL, FILE_SVG_ID };
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      const char *value = file_svg_node_get (node, keys[i]);
      if (value != NULL && value[strspn (value, " \t\r\n")] != '\0')
        return value;
    }
  return NULL;
}

/* One line without control characters, not endless. */
static char *
tidy_name (const char *name)
{
  GString *out = g_string_new (NULL);
  guint letters = 0;
  gboolean gap = FALSE;
  for (; *name != '\0' && letters < NAME_LETTERS;
       name = g_utf8_next_char (name))
    {
      gunichar c = g_utf8_get_char (name);
      GUnicodeType type = g_unichar_type (c);
      if (g_unichar_isspace (c) || type == G_UNICODE_CONTROL)
        gap = out->len > 0;
      else if (type != G_UNICODE_FORMAT) /* marks that turn the direction */
        {
          if (gap)
            g_string_append_c (out, ' ');
          g_string_append_unichar (out, c);
          gap = FALSE;
          letters++;
        }
    }
  return g_string_free (out, FALSE);
}

/* --- shapes ------------------------------------------------------------------- */
static void
fail (Walk *w, const FileSvgNode *node, const char *words)
{
  if (w->error != NULL)
    return;
  w->error = g_error_new_literal (FILE_ERROR, FILE_ERROR_TOO_BIG, words);
  w->error_line = node->line;
}

/* Uses multiply what a small file asks for; FALSE where it is beyond reason. */
static gboolean
spend (Walk *w, const FileSvgNode *node)
{
  w->work += 64 + node->weight * (8 + file_svg_style_rules (w->style));
  if (w->work > MOST_WORK)
    fail (w, node, _ ("its parts are used too often in each other."));
  return w->error == NULL;
}

static gboolean
to_mm (GeoChain *chain, FileSvgMatrix m)
{
  for (size_t i = 0; i < chain->count; i++)
    for (guint k = 0; k < 4; k++)
      {
        GeoPoint p = file_svg_matrix_apply (m, chain->cubics[i].p[k]);
        if (!(fabs (p.x) <= FARTHEST && fabs (p.y) <= FARTHEST))
          return FALSE;
        chain->cubics[i].p[k] = p;
      }
  return TRUE;
}

/* A dot with round ends, for one, is drawn as a line of no length. */
static gboolean
is_dot (const GeoChain *chain)
{
  for (size_t i = 0; i < chain->count; i++)
    if (!geo_cubic_is_point (&chain->cubics[i], 1e-9))
      return FALSE;
  return TRUE;
}

/* Ends that meet but for rounding are made one point. */
static void
join_ends (FileSvgShape *shape)
{
  GeoChain *c = &shape->chain;
  GeoPoint start = geo_chain_start (c);
  if (shape->closed || geo_distance (start, geo_chain_end (c)) > MEETING)
    return;
  GeoBox box = geo_chain_bounds (c);
  if (fmax (box.x1 - box.x0, box.y1 - box.y0) <= 10 * MEETING)
    return;
  c->cubics[c->count - 1].p[3] = start;
  shape->closed = TRUE;
}

static void
emit (Walk *w, const FileSvgNode *node, const Place *place, GArray *subpaths)
{
  const FileSvgNode *named
      = place->keep_name || own_name (node) == NULL ? place->named : node;
  g_autofree char *name
      = named != NULL ? tidy_name (own_name (named)) : g_strdup ("");
  for (guint i = 0; i < subpaths->len && w->error == NULL; i++)
    {
      FileSvgSubpath *s = &g_array_index (subpaths, FileSvgSubpath, i);
      w->cubics += s->chain.count;
      if (w->cubics > MOST_CUBICS)
        fail (w, node, _ ("its outlines have more than 2,000,000 curves."));
      if (w->error != NULL)
        return;
      if (!to_mm (&s->chain, place->to_mm) || is_dot (&s->chain))
        continue;
      FileSvgShape *shape = g_new0 (FileSvgShape, 1);
      shape->name = g_strdup (name);
      shape->chain = s->chain;
      shape->closed = s->closed;
      s->chain = GEO_CHAIN_EMPTY;
      join_ends (shape);
      g_ptr_array_add (w->shapes, shape);
    }
}

/* SVG 2 has sizes and places as properties too: the style attribute goes before the
 * attribute of the name. */
static double
length_of (const FileSvgNode *node, FileSvgAttribute key, double whole,
           double fallback)
{
  g_autofree char *styled = file_svg_style_own (node, file_svg_key_name (key));
  double length = file_svg_length (styled, whole, NAN);
  return isnan (length)
             ? file_svg_length (file_svg_node_get (node, key), whole, fallback)
             : length;
}

static FileSvgMatrix
transform_of (const FileSvgNode *node)
{
  g_autofree char *styled = file_svg_style_own (node, "transform");
  return file_svg_transform (
      styled != NULL ? styled : file_svg_node_get (node, FILE_SVG_TRANSFORM));
}

/* The rounded rectangle of SVG 1.1, 9.2: from the start of the top side, round by the right. */
static void
add_rect (const FileSvgNode *node, const Place *at, double tolerance,
          GeoChain *chain)
{
  double x = length_of (node, FILE_SVG_X, at->width, 0);
  double y = length_of (node, FILE_SVG_Y, at->height, 0);
  double w = length_of (node, FILE_SVG_WIDTH, at->width, 0);
  double h = length_of (node, FILE_SVG_HEIGHT, at->height, 0);
  double rx = length_of (node, FILE_SVG_RX, at->width, -1);
  double ry = length_of (node, FILE_SVG_RY, at->height, -1);
  if (!(w > 0 && h > 0))
    return;
  if (rx < 0)
    rx = ry;
  if (ry < 0)
    ry = rx;
  rx = fmin (fmax (rx, 0), w / 2);
  ry = fmin (fmax (ry, 0), h / 2);
  if (rx == 0 || ry == 0)
    rx = ry = 0;
  const GeoPoint p[8] = {
    { x + rx, y },         { x + w - rx, y },     { x + w, y + ry },
    { x + w, y + h - ry }, { x + w - rx, y + h }, { x + rx, y + h },
    { x, y + h - ry },     { x, y + ry },
  };
  for (guint i = 0; i < 8; i += 2)
    {
      if (!geo_same (p[i], p[i + 1]))
        geo_chain_append_line (chain, p[i], p[i + 1]);
      file_svg_arc (chain, p[i + 1], rx, ry, 0, FALSE, TRUE, p[(i + 2) % 8],
                    tolerance);
    }
}

static void
add_ellipse (const FileSvgNode *node, const Place *at, double tolerance,
             GeoChain *chain)
{
  double cx = length_of (node, FILE_SVG_CX, at->width, 0);
  double cy = length_of (node, FILE_SVG_CY, at->height, 0);
  double rx, ry;
  if (node->kind == FILE_SVG_CIRCLE)
    rx = ry = length_of (node, FILE_SVG_R,
                         hypot (at->width, at->height) / G_SQRT2, 0);
  else
    {
      rx = length_of (node, FILE_SVG_RX, at->width, -1);
      ry = length_of (node, FILE_SVG_RY, at->height, -1);
      if (rx < 0) /* SVG 2: one alone stands for both */
        rx = ry;
      if (ry < 0)
        ry = rx;
    }
  if (!(rx > 0 && ry > 0))
    return;
  const GeoPoint p[4]
      = { { cx + rx, cy }, { cx, cy + ry }, { cx - rx, cy }, { cx, cy - ry } };
  for (guint i = 0; i < 4; i++)
    file_svg_arc (chain, p[i], rx, ry, 0, FALSE, TRUE, p[(i + 1) % 4],
                  tolerance);
}

static void
add_points (const FileSvgNode *node, GeoChain *chain)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  if (node->kind == FILE_SVG_LINE)
    return;
  const char *text = file_svg_node_get (node, FILE_SVG_POINTS);
  guint n = text != NULL ? file_svg_points_parse (text, points) : 0;
  const GeoPoint *p = (const GeoPoint *)points->data;
  for (guint i = 1; i < n; i++)
    geo_chain_append_line (chain, p[i - 1], p[i]);
  if (node->kind == FILE_SVG_POLYGON && n > 1 && !geo_same (p[n - 1], p[0]))
    geo_chain_append_line (chain, p[n - 1], p[0]);
}

static void
add_line (const FileSvgNode *node, const Place *at, GeoChain *chain)
{
  GeoPoint from = { length_of (node, FILE_SVG_X1, at->width, 0),
                    length_of (node, FILE_SVG_Y1, at->height, 0) };
  GeoPoint to = { length_of (node, FILE_SVG_X2, at->width, 0),
                  length_of (node, FILE_SVG_Y2, at->height, 0) };
  if (!geo_same (from, to))
    geo_chain_append_line (chain, from, to);
}

static void
walk_shape (Walk *w, const FileSvgNode *node, const Place *place)
{
  double scale = file_svg_matrix_scale (place->to_mm);
  if (!place->visible || !(scale > 0) || !isfinite (scale))
    return;
  double tolerance = ARC_TOLERANCE / scale;
  GArray *subpaths = file_svg_subpaths_new ();
  FileSvgSubpath one = { GEO_CHAIN_EMPTY, TRUE };
  const char *d;
  switch (node->kind)
    {
    case FILE_SVG_PATH:
      d = file_svg_node_get (node, FILE_SVG_D);
      if (d != NULL)
        file_svg_path_parse (d, tolerance, subpaths);
      break;
    case FILE_SVG_RECT:
      add_rect (node, place, tolerance, &one.chain);
      break;
    case FILE_SVG_LINE:
      add_line (node, place, &one.chain);
      one.closed = FALSE;
      break;
    case FILE_SVG_POLYLINE:
    case FILE_SVG_POLYGON:
      add_points (node, &one.chain);
      one.closed = node->kind == FILE_SVG_POLYGON;
      break;
    default:
      add_ellipse (node, place, tolerance, &one.chain);
      break;
    }
  if (one.chain.count > 0)
    g_array_append_val (subpaths, one);
  else
    geo_chain_clear (&one.chain);
  emit (w, node, place, subpaths);
  g_array_free (subpaths, TRUE);
}

/* --- the walk ------------------------------------------------------------------ */
static void walk_node (Walk *w, FileSvgNode *node, Place place);

static void
walk_children (Walk *w, FileSvgNode *node, const Place *place)
{
  for (FileSvgNode *child = node->first; child != NULL && spend (w, child);
       child = child->next)
    walk_node (w, child, *place);
}

/* The stitch line in a group as svg-out.c writes it: "piece-4" that holds
 * "piece-4-stitch". NULL in any other. */
static FileSvgNode *
stitch_group (const FileSvgNode *group)
{
  const char *id = file_svg_node_get (group, FILE_SVG_ID);
  if (id == NULL || !g_str_has_prefix (id, "piece-") || !g_ascii_isdigit (id[6])
      || id[6 + strspn (id + 6, "0123456789")] != '\0')
    return NULL;
  g_autofree char *wanted = g_strconcat (id, "-stitch", NULL);
  for (FileSvgNode *child = group->first; child != NULL; child = child->next)
    if (g_strcmp0 (file_svg_node_get (child, FILE_SVG_ID), wanted) == 0)
      return child;
  return NULL;
}

/* A piece of ours is its stitch line: the cutting line would come in as a
 * piece of its own, and marks as construction lines. */
static void
walk_group (Walk *w, FileSvgNode *node, const Place *place)
{
  FileSvgNode *stitch = w->all ? NULL : stitch_group (node);
  if (stitch == NULL)
    {
      walk_children (w, node, place);
      return;
    }
  Place inside = *place;
  inside.keep_name = TRUE;
  if (spend (w, stitch))
    walk_node (w, stitch, inside);
}

/* The first that asks for no extension; of those, the first for any language, or the
 * first of all. */
static void
walk_switch (Walk *w, FileSvgNode *node, const Place *place)
{
  FileSvgNode *taken = NULL;
  for (FileSvgNode *child = node->first; child != NULL && spend (w, child);
       child = child->next)
    {
      const char *extensions = file_svg_node_get (child, FILE_SVG_EXTENSIONS);
      if (extensions != NULL && *extensions != '\0')
        continue;
      gboolean any = file_svg_node_get (child, FILE_SVG_LANGUAGE) == NULL;
      if (taken == NULL || any)
        taken = child;
      if (any)
        break;
    }
  if (taken != NULL && w->error == NULL)
    walk_node (w, taken, *place);
}

/* A view of its own: a nested svg, or a symbol that is used, which takes the place of the use. */
static void
walk_view (Walk *w, FileSvgNode *node, Place place, const FileSvgNode *use)
{
  FileSvgBox view = { 0, 0, place.width, place.height };
  FileSvgBox box;
  if (node->kind == FILE_SVG_SVG)
    {
      view.x = length_of (node, FILE_SVG_X, place.width, 0);
      view.y = length_of (node, FILE_SVG_Y, place.height, 0);
    }
  view.width = length_of (node, FILE_SVG_WIDTH, place.width, place.width);
  view.height = length_of (node, FILE_SVG_HEIGHT, place.height, place.height);
  if (use != NULL)
    {
      view.width = length_of (use, FILE_SVG_WIDTH, place.width, view.width);
      view.height = length_of (use, FILE_SVG_HEIGHT, place.height, view.height);
    }
  FileSvgMatrix m = { 1, 0, 0, 1, view.x, view.y };
  if (file_svg_view_box (file_svg_node_get (node, FILE_SVG_VIEW_BOX), &box))
    {
      if (!(view.width > 0 && view.height > 0))
        return;
      m = file_svg_fit (box, view, file_svg_node_get (node, FILE_SVG_PRESERVE));
      place.width = box.width;
      place.height = box.height;
    }
  else
    {
      place.width = view.width;
      place.height = view.height;
    }
  place.to_mm = file_svg_matrix_multiply (place.to_mm, m);
  walk_children (w, node, &place);
}

static void
walk_use (Walk *w, const FileSvgNode *node, Place place)
{
  const char *href = file_svg_node_get (node, FILE_SVG_HREF);
  FileSvgNode *target = href != NULL && *href == '#'
                            ? g_hash_table_lookup (w->tree.ids, href + 1)
                            : NULL;
  if (target == NULL || target->busy)
    return;
  if (++w->uses > MOST_USES)
    fail (w, node, _ ("its parts are used more than 100,000 times."));
  if (w->error != NULL || !spend (w, target))
    return;
  FileSvgMatrix m = { 1,
                      0,
                      0,
                      1,
                      length_of (node, FILE_SVG_X, place.width, 0),
                      length_of (node, FILE_SVG_Y, place.height, 0) };
  place.to_mm = file_svg_matrix_multiply (place.to_mm, m);
  place.keep_name = place.keep_name || own_name (node) != NULL;
  if (target->kind != FILE_SVG_SYMBOL && target->kind != FILE_SVG_SVG)
    {
      walk_node (w, target, place);
      return;
    }
  if (file_svg_style_gone (w->style, target))
    return;
  place.visible = file_svg_style_visible (w->style, target, place.visible);
  place.to_mm = file_svg_matrix_multiply (place.to_mm, transform_of (target));
  target->busy = TRUE;
  walk_view (w, target, place, node);
  target->busy = FALSE;
}

static void
walk_node (Walk *w, FileSvgNode *node, Place place)
{
  if (node->busy || node->kind == FILE_SVG_HIDDEN
      || node->kind == FILE_SVG_SYMBOL || file_svg_style_gone (w->style, node))
    return;
  if (++w->depth > MOST_DEPTH)
    {
      fail (w, node, _ ("its parts are used too deep in each other."));
      return;
    }
  node->busy = TRUE;
  place.visible = file_svg_style_visible (w->style, node, place.visible);
  place.to_mm = file_svg_matrix_multiply (place.to_mm, transform_of (node));
  if (!place.keep_name && own_name (node) != NULL)
    place.named = node;
  switch (node->kind)
    {
    case FILE_SVG_SVG:
      walk_view (w, node, place, NULL);
      break;
    case FILE_SVG_GROUP:
      walk_group (w, node, &place);
      break;
    case FILE_SVG_SWITCH:
      walk_switch (w, node, &place);
      break;
    case FILE_SVG_USE:
      walk_use (w, node, place);
      break;
    default:
      walk_shape (w, node, &place);
      break;
    }
  node->busy = FALSE;
  w->depth--;
}

/* --- the page ------------------------------------------------------------------ */
/* Size in px; a missing side follows from the view box's proportion, two from its size. 0 where
 * nothing says how large the page is. */
static void
page_size (const FileSvgNode *root, const FileSvgBox *box, double *width,
           double *height)
{
  const char *w = file_svg_node_get (root, FILE_SVG_WIDTH);
  const char *h = file_svg_node_get (root, FILE_SVG_HEIGHT);
  double box_w = box != NULL ? box->width : 0;
  double box_h = box != NULL ? box->height : 0;
  *width = file_svg_length (w, box_w, -1);
  *height = file_svg_length (h, box_h, -1);
  gboolean set_w = *width > 0 && !file_svg_is_percent (w);
  gboolean set_h = *height > 0 && !file_svg_is_percent (h);
  if (*width < 0)
    *width = box != NULL && set_h ? *height * box_w / box_h : box_w;
  if (*height < 0)
    *height = box != NULL && set_w ? *width * box_h / box_w : box_h;
}

static void
walk_root (Walk *w, double *width, double *height)
{
  FileSvgNode *root = w->tree.root;
  FileSvgBox box;
  gboolean has_box
      = file_svg_view_box (file_svg_node_get (root, FILE_SVG_VIEW_BOX), &box);
  double px_width, px_height;
  page_size (root, has_box ? &box : NULL, &px_width, &px_height);
  if (width != NULL)
    *width = px_width * FILE_SVG_MM_PER_PX;
  if (height != NULL)
    *height = px_height * FILE_SVG_MM_PER_PX;
  Place place = {
    .to_mm = { FILE_SVG_MM_PER_PX, 0, 0, FILE_SVG_MM_PER_PX, 0, 0 },
    .width = has_box ? box.width : px_width,
    .height = has_box ? box.height : px_height,
    .visible = file_svg_style_visible (w->style, root, TRUE),
  };
  if (file_svg_style_gone (w->style, root))
    return;
  if (has_box)
    {
      FileSvgBox view = { 0, 0, px_width, px_height };
      if (!(px_width > 0 && px_height > 0))
        return;
      place.to_mm = file_svg_matrix_multiply (
          place.to_mm,
          file_svg_fit (box, view,
                        file_svg_node_get (root, FILE_SVG_PRESERVE)));
    }
  place.to_mm = file_svg_matrix_multiply (place.to_mm, transform_of (root));
  root->busy = TRUE;
  walk_children (w, root, &place);
}

static GPtrArray *
parse (const char *text, gsize length, const char *name, gboolean all,
       double *width, double *height, GError **error)
{
  Walk w = { .all = all };
  GError *cause = NULL;
  w.shapes
      = g_ptr_array_new_with_free_func ((GDestroyNotify)file_svg_shape_free);
  if (file_svg_tree_read (text, length, name, &w.tree, &cause))
    {
      if (w.tree.root == NULL)
        w.error
            = g_error_new (FILE_ERROR, FILE_ERROR_NOT_OURS,
                           _ ("this is no SVG drawing (it begins with <%s>)."),
                           w.tree.root_name);
      else
        {
          w.style = file_svg_style_new (w.tree.style->str);
          walk_root (&w, width, height);
          file_svg_style_free (w.style);
        }
      if (w.error != NULL)
        {
          file_xml_place_error (&w.error, name, w.error_line);
          cause = w.error;
        }
    }
  file_svg_tree_clear (&w.tree);
  if (cause == NULL)
    return w.shapes;
  g_ptr_array_unref (w.shapes);
  g_propagate_error (error, cause);
  return NULL;
}

GPtrArray *
file_svg_parse (const char *text, gsize length, const char *name, double *width,
                double *height, GError **error)
{
  g_return_val_if_fail (name != NULL, NULL);
  return parse (text, length, name, FALSE, width, height, error);
}

GPtrArray *
file_svg_parse_all (const char *text, gsize length, const char *name,
                    double *width, double *height, GError **error)
{
  g_return_val_if_fail (name != NULL, NULL);
  return parse (text, length, name, TRUE, width, height, error);
}
