/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The elements of an SVG that can hold or be an outline, and their attributes that matter
 * for where it lies and whether it is shown. Everything else is passed over while reading. */
#pragma once

#include <gio/gio.h>

typedef enum
{
  /* shapes */
  FILE_SVG_PATH,
  FILE_SVG_RECT,
  FILE_SVG_CIRCLE,
  FILE_SVG_ELLIPSE,
  FILE_SVG_LINE,
  FILE_SVG_POLYLINE,
  FILE_SVG_POLYGON,
  /* containers that are drawn */
  FILE_SVG_SVG,
  FILE_SVG_GROUP, /* also a link */
  FILE_SVG_SWITCH,
  FILE_SVG_USE,
  FILE_SVG_SYMBOL, /* only by use */
  FILE_SVG_HIDDEN, /* defs, clipPath, mask, marker, pattern: only by use */
} FileSvgKind;

typedef enum
{
  FILE_SVG_ID,
  FILE_SVG_CLASS,
  FILE_SVG_STYLE,
  FILE_SVG_DISPLAY,
  FILE_SVG_VISIBILITY,
  FILE_SVG_TRANSFORM,
  FILE_SVG_D,
  FILE_SVG_POINTS,
  FILE_SVG_X,
  FILE_SVG_Y,
  FILE_SVG_WIDTH,
  FILE_SVG_HEIGHT,
  FILE_SVG_RX,
  FILE_SVG_RY,
  FILE_SVG_CX,
  FILE_SVG_CY,
  FILE_SVG_R,
  FILE_SVG_X1,
  FILE_SVG_Y1,
  FILE_SVG_X2,
  FILE_SVG_Y2,
  FILE_SVG_VIEW_BOX,
  FILE_SVG_PRESERVE,
  FILE_SVG_HREF,
  FILE_SVG_ARIA_LABEL,
  FILE_SVG_LABEL, /* of any name space */
  FILE_SVG_LANGUAGE,
  FILE_SVG_EXTENSIONS,
  FILE_SVG_ATTRIBUTES /* how many */
} FileSvgAttribute;

typedef struct
{
  FileSvgAttribute key;
  const char *value;
} FileSvgValue;

typedef struct _FileSvgNode FileSvgNode;
struct _FileSvgNode
{
  FileSvgKind kind;
  guint line;
  const char *tag; /* local name */
  FileSvgValue *values;
  guint n_values;
  gsize weight; /* bytes of all values */
  char *title;
  FileSvgNode *parent, *first, *last, *next;
  gboolean busy; /* being walked: a use of it from inside leads nowhere */
};

typedef struct
{
  FileSvgNode *root;
  GHashTable *ids; /* id -> FileSvgNode, the first of that id */
  GString *style;  /* text of style elements */
  GStringChunk *strings;
  char *root_name; /* of the document's first element, whatever it is */
} FileSvgTree;

/* Ids, classes and names are cut to 1,000 bytes. root stays NULL where the document is no SVG. */
gboolean file_svg_tree_read (const char *text, gsize length, const char *name,
                             FileSvgTree *tree, GError **error);
void file_svg_tree_clear (FileSvgTree *tree);
/* "width"; "label" for the one of any name space. */
const char *file_svg_key_name (FileSvgAttribute key);
/* NULL where it is missing. */
const char *file_svg_node_get (const FileSvgNode *node, FileSvgAttribute key);
