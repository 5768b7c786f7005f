/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/traced.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edit.h"
#include "geometry/region.h"

#define MOST_MM 100000.0
#define LEAST_AREA 1.0 /* mm2; what encloses less is no piece */
/* A joint that turns less is smooth, radians. */
#define SMOOTH_TURN 0.00873

typedef struct
{
  Pattern *pattern;
  const FileTracedWish *wish;
  guint *piece_of; /* by line; 0: none */
  guint n_named, n_lines;
} Adding;

/* --- nodes ---------------------------------------------------------------------- */
/* At the start of cubic i, or at the chain's end. */
static PatternNode
node_of (const GeoChain *chain, gsize i, gboolean closed, gboolean corner)
{
  gsize n = chain->count;
  PatternNode node = pattern_node_of_chain (chain, i, closed);
  gboolean bends
      = !geo_same (node.in, node.at) || !geo_same (node.out, node.at);
  gboolean inner = closed || (i > 0 && i < n);
  if (!corner && bends && inner
      && geo_cubic_joint_turn (&chain->cubics[(i + n - 1) % n],
                               &chain->cubics[i % n])
             < SMOOTH_TURN)
    node.kind = PATTERN_NODE_SMOOTH;
  return node;
}

/* Of the whole line, in order; a closed one as an inner line comes back to its first node. */
static PatternNode *
line_nodes (Adding *a, const TracingLine *line, const GeoChain *chain, guint *n)
{
  *n = (guint)chain->count + 1;
  PatternNode *nodes = g_new (PatternNode, *n);
  for (guint i = 0; i < *n; i++)
    {
      gboolean end = !line->closed && (i == 0 || i + 1 == *n);
      gboolean corner = end || line->corner[i % (line->closed ? *n - 1 : *n)];
      nodes[i] = node_of (chain, i, line->closed, corner);
      if (line->closed && i + 1 == *n)
        nodes[i] = nodes[0];
      nodes[i].id = pattern_take_id (a->pattern);
    }
  return nodes;
}

/* --- pieces ----------------------------------------------------------------------- */
static gboolean
has_piece_named (const Pattern *p, const char *name)
{
  for (guint i = 0; i < p->n_pieces; i++)
    if (g_str_equal (p->pieces[i]->name, name))
      return TRUE;
  return FALSE;
}

static char *
next_name (Adding *a)
{
  guint i = a->n_named++;
  const char *const *names = a->wish->names;
  if (names != NULL && i < g_strv_length ((char **)(gpointer)names)
      && *names[i] != '\0')
    return g_strdup (names[i]);
  for (guint k = 1;; k++)
    {
      char *name = g_strdup_printf (_ ("piece %u"), k);
      if (!has_piece_named (a->pattern, name))
        return name;
      g_free (name);
    }
}

/* The edge between two corners, either way; NULL. */
static PatternEdge *
edge_between (PatternPiece *piece, GeoPoint from, GeoPoint to, gboolean *turned)
{
  for (guint i = 0; i < piece->n_edges; i++)
    {
      GeoPoint start = piece->nodes[piece->edges[i].first].at;
      guint last = pattern_piece_edge_last (piece, i) % piece->n_nodes;
      GeoPoint end = piece->nodes[last].at;
      *turned = geo_same (start, to) && geo_same (end, from);
      if (*turned || (geo_same (start, from) && geo_same (end, to)))
        return &piece->edges[i];
    }
  return NULL;
}

static char *
dart_name (const Pattern *p)
{
  char *name = g_strdup (_ ("Dart"));
  for (guint k = 2, i = 0; i < p->n_seams;)
    if (g_str_equal (p->seams[i]->name, name))
      {
        g_free (name);
        name = g_strdup_printf (_ ("Dart %u"), k++);
        i = 0;
      }
    else
      i++;
  return name;
}

/* Both legs are walked from the mouth to the point. */
static void
add_dart (Adding *a, PatternPiece *piece, const GeoChain *chain,
          const TracingDart *dart)
{
  const gsize ends[2] = { dart->start, dart->end };
  GeoPoint tip = chain->cubics[dart->tip].p[0];
  g_autofree char *name = dart_name (a->pattern);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (a->pattern), name);
  seam->join = PATTERN_JOIN_DART;
  seam->press = PATTERN_PRESS_TO_A;
  for (int side = 0; side < 2; side++)
    {
      gboolean turned;
      PatternEdge *leg
          = edge_between (piece, chain->cubics[ends[side]].p[0], tip, &turned);
      if (leg == NULL)
        {
          pattern_seam_unref (seam);
          return;
        }
      pattern_set_string (&leg->name, _ ("dart leg"));
      pattern_seam_add_run (seam, side,
                            (PatternRun){ piece->id, leg->id, turned });
    }
  pattern_put_seam (a->pattern, seam);
}

/* A dart that can be one: its corners are three of the outline's, in order round it. */
static gboolean
is_dart (const GeoChain *chain, const TracingDart *dart)
{
  gsize n = chain->count;
  if (dart->start >= n || dart->tip >= n || dart->end >= n)
    return FALSE;
  gsize to_tip = (dart->tip + n - dart->start) % n;
  gsize to_end = (dart->end + n - dart->start) % n;
  return to_tip > 0 && to_end > to_tip;
}

/* Edges start at corners; a dart's legs are an edge each. */
static void
find_starts (const Adding *a, const TracingLine *line, gboolean *starts)
{
  gsize n = line->chain.count;
  memcpy (starts, line->corner, n * sizeof *starts);
  for (gsize d = 0; a->wish->darts && d < line->n_darts; d++)
    {
      const TracingDart *dart = &line->darts[d];
      if (!is_dart (&line->chain, dart))
        continue;
      for (gsize i = dart->start; i != dart->end; i = (i + 1) % n)
        starts[i] = i == dart->start || i == dart->tip;
      starts[dart->end] = TRUE;
    }
}

static void
add_piece (Adding *a, gsize index, const TracingLine *line,
           const GeoChain *chain)
{
  guint n = (guint)chain->count, first = 0;
  g_autofree gboolean *starts = g_new (gboolean, n);
  find_starts (a, line, starts);
  while (first < n && !starts[first])
    first++;
  first %= n;
  g_autofree PatternNode *nodes = g_new (PatternNode, n);
  g_autofree gboolean *begun = g_new (gboolean, n);
  for (guint k = 0; k < n; k++)
    {
      guint i = (first + k) % n;
      nodes[k] = node_of (chain, i, TRUE, line->corner[i]);
      begun[k] = k == 0 || starts[i];
    }
  g_autofree char *name = next_name (a);
  PatternPiece *piece = pattern_piece_new (pattern_take_id (a->pattern), name);
  pattern_piece_set_outline (piece, nodes, n, begun, &a->pattern->next_id);
  for (guint i = 0; i < piece->n_edges; i++)
    piece->edges[i].allowance = a->wish->allowance;
  a->piece_of[index] = piece->id;
  for (gsize d = 0; a->wish->darts && d < line->n_darts; d++)
    if (is_dart (chain, &line->darts[d]))
      add_dart (a, piece, chain, &line->darts[d]);
  pattern_put_piece (a->pattern, piece);
  Pattern *with_grain
      = a->wish->grain
            ? drafting_default_grain (a->pattern, a->piece_of[index], NULL)
            : NULL;
  if (with_grain != NULL)
    {
      pattern_unref (a->pattern);
      a->pattern = with_grain;
    }
}

static void
add_hole (Adding *a, guint piece_id, const TracingLine *line,
          const GeoChain *chain)
{
  PatternPiece *piece
      = pattern_piece_dup (pattern_get_piece (a->pattern, piece_id));
  guint n;
  g_autofree PatternNode *nodes = line_nodes (a, line, chain, &n);
  pattern_piece_add_line (piece, pattern_take_id (a->pattern), _ ("hole"),
                          nodes, n);
  pattern_put_piece (a->pattern, piece);
}

static void
add_open (Adding *a, const TracingLine *line, const GeoChain *chain)
{
  guint n;
  g_autofree PatternNode *nodes = line_nodes (a, line, chain, &n);
  g_autofree char *name = g_strdup_printf (_ ("traced line %u"), ++a->n_lines);
  pattern_add_line (a->pattern, name, nodes, n);
}

/* --- all of them ---------------------------------------------------------------------- */
static gboolean
is_in_reach (const GeoChain *chain)
{
  for (gsize i = 0; i < chain->count; i++)
    for (guint k = 0; k < 4; k++)
      if (!(fabs (chain->cubics[i].p[k].x) <= MOST_MM)
          || !(fabs (chain->cubics[i].p[k].y) <= MOST_MM))
        return FALSE;
  return TRUE;
}

static gboolean
is_piece (const TracingLine *line, const GeoChain *chain)
{
  return line->closed && chain->count > 1
         && fabs (geo_chain_area (chain)) >= LEAST_AREA;
}

static void
add_line (Adding *a, const TracingLine *lines, gsize n, gsize i,
          const GeoChain *chain)
{
  const TracingLine *line = &lines[i];
  gssize in = line->hole_of;
  guint parent = in >= 0 && (gsize)in < n ? a->piece_of[in] : 0;
  if (parent != 0)
    add_hole (a, parent, line, chain);
  else if (line->hole_of < 0 && is_piece (line, chain))
    add_piece (a, i, line, chain);
  else
    add_open (a, line, chain);
}

static gsize
count_usable (const TracingLine *lines, gsize n)
{
  gsize usable = 0;
  for (gsize i = 0; i < n; i++)
    usable += lines[i].chain.count > 0;
  return usable;
}

Pattern *
file_traced_add (const Pattern *p, const TracingLine *lines, gsize n,
                 const FileTracedWish *wish, GArray *new_pieces, GError **error)
{
  g_return_val_if_fail (p != NULL && (n == 0 || lines != NULL), NULL);
  FileTracedWish usual = FILE_TRACED_WISH;
  if (count_usable (lines, n) == 0)
    {
      g_set_error_literal (error, TRACING_ERROR, TRACING_ERROR_NOTHING,
                           _ ("no line was traced, so nothing was added"));
      return NULL;
    }
  g_autofree guint *piece_of = g_new0 (guint, n);
  Adding a = { .pattern = pattern_dup (p),
               .wish = wish != NULL ? wish : &usual,
               .piece_of = piece_of };
  for (gsize i = 0; i < n; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      geo_chain_copy (&chain, &lines[i].chain);
      geo_chain_transform (&chain, a.wish->place);
      gboolean good = is_in_reach (&chain);
      if (good && chain.count > 0)
        add_line (&a, lines, n, i, &chain);
      geo_chain_clear (&chain);
      if (!good)
        {
          pattern_unref (a.pattern);
          g_set_error_literal (
              error, TRACING_ERROR, TRACING_ERROR_SCALE,
              _ ("what was traced reaches farther than 100 m: look at the true "
                 "size that was set; nothing was added"));
          return NULL;
        }
    }
  for (gsize i = 0; i < n && new_pieces != NULL; i++)
    if (piece_of[i] != 0)
      g_array_append_val (new_pieces, piece_of[i]);
  return a.pattern;
}
