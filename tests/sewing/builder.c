/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "builder.h"

#include <math.h>

#include "geometry/region.h"

#define ARC_STEP 15.0

const char *const builder_skirt = "unit mm\n"
                                  "piece front\n"
                                  "at 0 0\n"
                                  "edge waist seam 10\n"
                                  "line 200 0\n"
                                  "edge side seam 15\n"
                                  "line 200 300\n"
                                  "edge hem hem 40\n"
                                  "line 0 300\n"
                                  "edge centre_front fold 0\n"
                                  "notch waist 1 start 100\n"
                                  "notch side 2 start 150\n"
                                  "grain 100 50 100 250\n"
                                  "cut shell 1\n"
                                  "piece back\n"
                                  "at 300 0\n"
                                  "edge waist seam 10\n"
                                  "line 500 0\n"
                                  "edge centre_back fold 0\n"
                                  "line 500 300\n"
                                  "edge hem hem 40\n"
                                  "line 300 300\n"
                                  "edge side seam 15\n"
                                  "notch side 2 end 150\n"
                                  "grain 400 50 400 250\n"
                                  "cut shell 1\n"
                                  "piece waistband\n"
                                  "at 0 400\n"
                                  "edge top bound 0\n"
                                  "line 400 400\n"
                                  "edge end raw 0\n"
                                  "line 400 440\n"
                                  "edge lower_edge seam 10\n"
                                  "line 0 440\n"
                                  "edge centre fold 0\n"
                                  "notch lower_edge 1 end 100\n"
                                  "grain 100 420 300 420\n"
                                  "cut shell 1\n"
                                  "seam side_seam open 0 front.side / "
                                  "back.side~\n"
                                  "seam waist_seam turned 0 front.waist "
                                  "back.waist / waistband.lower_edge~\n";

typedef struct
{
  Pattern *pattern;
  PatternPiece *piece; /* being built, or NULL */
  GArray *nodes, *starts;
  GPtrArray *marks; /* lines kept until the outline stands */
  GArray *edges;
} Builder;

static double
number (char **words, guint i)
{
  g_assert_cmpuint (g_strv_length (words), >, i);
  char *end;
  double value = g_ascii_strtod (words[i], &end);
  g_assert_true (end != words[i] && *end == '\0');
  return value;
}

static GeoPoint
point (char **words, guint i)
{
  return geo_point (number (words, i), number (words, i + 1));
}

static int
choice (const char *word, const char *const *choices)
{
  for (int i = 0; choices[i] != NULL; i++)
    if (g_str_equal (word, choices[i]))
      return i;
  g_error ("'%s' is none of the words that can stand here", word);
}

static char *
name_of (const char *word)
{
  return g_strdelimit (g_strdup (g_str_equal (word, "-") ? "" : word), "_",
                       ' ');
}

static void
add_node (Builder *b, GeoPoint out_before, GeoPoint in, GeoPoint at)
{
  if (b->nodes->len > 0)
    g_array_index (b->nodes, PatternNode, b->nodes->len - 1).out = out_before;
  PatternNode node
      = { .kind = PATTERN_NODE_CORNER, .at = at, .in = in, .out = at };
  gboolean no = FALSE;
  g_array_append_val (b->nodes, node);
  g_array_append_val (b->starts, no);
}

static GeoPoint
reached (const Builder *b)
{
  g_assert_cmpuint (b->nodes->len, >, 0);
  return g_array_index (b->nodes, PatternNode, b->nodes->len - 1).at;
}

static void
add_arc (Builder *b, GeoPoint centre, double degrees)
{
  int n = (int)ceil (fabs (degrees) / ARC_STEP);
  GeoPoint from = geo_sub (reached (b), centre);
  double radius = geo_norm (from), a0 = atan2 (from.y, from.x);
  double step = degrees * G_PI / 180 / n;
  for (int i = 0; i < n; i++)
    {
      GeoCubic c
          = geo_cubic_arc (centre, radius, a0 + i * step, a0 + (i + 1) * step);
      add_node (b, c.p[1], c.p[2], c.p[3]);
    }
}

static void
close_outline (Builder *b)
{
  PatternNode *first = &g_array_index (b->nodes, PatternNode, 0);
  PatternNode *last = &g_array_index (b->nodes, PatternNode, b->nodes->len - 1);
  if (geo_distance (first->at, last->at) < 1e-6)
    {
      first->in = geo_add (last->in, geo_sub (first->at, last->at));
      g_array_set_size (b->nodes, b->nodes->len - 1);
      g_array_set_size (b->starts, b->starts->len - 1);
    }
  pattern_piece_set_outline (b->piece, (PatternNode *)b->nodes->data,
                             b->nodes->len, (gboolean *)b->starts->data,
                             &b->pattern->next_id);
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (b->piece, &outline);
  /* A test may ask for an outline that crosses itself, but not for one that
     was turned round behind its back. */
  g_assert_true (geo_same (b->piece->nodes[0].at,
                           g_array_index (b->nodes, PatternNode, 0).at));
  geo_chain_clear (&outline);
  g_assert_cmpuint (b->piece->n_edges, ==, b->edges->len);
  for (guint i = 0; i < b->edges->len; i++)
    {
      PatternEdge *given = &g_array_index (b->edges, PatternEdge, i);
      PatternEdge *edge = &b->piece->edges[i];
      pattern_set_string (&edge->name, given->name);
      edge->kind = given->kind;
      edge->allowance = given->allowance;
      g_free (given->name);
    }
}

static guint
edge_id (const PatternPiece *piece, const char *word)
{
  g_autofree char *name = name_of (word);
  for (guint i = 0; i < piece->n_edges; i++)
    if (g_str_equal (piece->edges[i].name, name))
      return piece->edges[i].id;
  g_error ("%s has no edge %s", piece->name, name);
}

static guint
cloth_id (const Pattern *pattern, const char *name)
{
  for (guint i = 0; i < pattern->n_cloths; i++)
    if (g_str_equal (pattern->cloths[i].name, name))
      return pattern->cloths[i].id;
  return 999999; /* a cloth that is not there */
}

static void
add_mark (Builder *b, char **words)
{
  static const char *const from[] = { "start", "end", "fraction", NULL };
  if (g_str_equal (words[0], "notch"))
    pattern_piece_add_notch (
        b->piece,
        (PatternNotch){ .id = pattern_take_id (b->pattern),
                        .edge = edge_id (b->piece, words[1]),
                        .count = (int)number (words, 2),
                        .from = (PatternNotchFrom)choice (words[3], from),
                        .amount = number (words, 4) });
  else if (g_str_equal (words[0], "grain"))
    {
      b->piece->has_grain = TRUE;
      b->piece->grain_from = point (words, 1);
      b->piece->grain_to = point (words, 3);
    }
  else
    pattern_piece_add_cut (
        b->piece, (PatternCut){ .cloth = cloth_id (b->pattern, words[1]),
                                .count = (int)number (words, 2),
                                .mirrored = words[3] != NULL });
}

static void
end_piece (Builder *b)
{
  if (b->piece == NULL)
    return;
  if (b->nodes->len > 0)
    close_outline (b);
  for (guint i = 0; i < b->marks->len; i++)
    {
      g_auto (GStrv) words = g_strsplit (b->marks->pdata[i], " ", -1);
      add_mark (b, words);
    }
  pattern_put_piece (b->pattern, g_steal_pointer (&b->piece));
  g_array_set_size (b->nodes, 0);
  g_array_set_size (b->starts, 0);
  g_array_set_size (b->edges, 0);
  g_ptr_array_set_size (b->marks, 0);
}

static void
add_run (Builder *b, PatternSeam *seam, int side, const char *word)
{
  g_autofree char *copy = g_strdup (word);
  gboolean reversed = g_str_has_suffix (copy, "~");
  if (reversed)
    copy[strlen (copy) - 1] = '\0';
  char *dot = strchr (copy, '.');
  g_assert_nonnull (dot);
  *dot = '\0';
  g_autofree char *name = name_of (copy);
  const PatternPiece *piece = builder_piece (b->pattern, name);
  pattern_seam_add_run (
      seam, side,
      (PatternRun){ piece->id, edge_id (piece, dot + 1), reversed });
}

static void
add_seam (Builder *b, char **words)
{
  static const char *const press[] = { "open", "to-a", "to-b", "turned", NULL };
  gboolean dart = g_str_equal (words[0], "dart");
  g_autofree char *name = name_of (words[1]);
  PatternSeam *seam = pattern_seam_new (pattern_take_id (b->pattern), name);
  seam->join = dart ? PATTERN_JOIN_DART : PATTERN_JOIN_SEAM;
  if (!dart)
    {
      seam->press = (PatternPress)choice (words[2], press);
      seam->ease = number (words, 3);
    }
  int side = 0;
  for (guint i = dart ? 2 : 4; words[i] != NULL; i++)
    if (g_str_equal (words[i], "/"))
      side = 1;
    else
      add_run (b, seam, side, words[i]);
  pattern_put_seam (b->pattern, seam);
}

/* "-" is the seam's end; else "PIECE.2" the piece's second notch. */
static guint
mark_of (Builder *b, const char *word)
{
  if (g_str_equal (word, "-"))
    return 0;
  g_auto (GStrv) parts = g_strsplit (word, ".", 2);
  g_autofree char *name = name_of (parts[0]);
  guint n = (guint)g_ascii_strtoull (parts[1], NULL, 10);
  return builder_piece (b->pattern, name)->notches[n - 1].id;
}

static void
add_span (Builder *b, char **words)
{
  g_autofree char *name = name_of (words[1]);
  PatternSeam *seam = pattern_seam_dup (builder_seam (b->pattern, name));
  pattern_seam_put_span (
      seam, (PatternEaseSpan){ mark_of (b, words[2]), mark_of (b, words[3]),
                               g_ascii_strtod (words[4], NULL),
                               g_str_has_suffix (words[4], "%") });
  pattern_put_seam (b->pattern, seam);
}

static void
add_edge (Builder *b, char **words)
{
  static const char *const kinds[]
      = { "seam", "hem", "fold", "bound", "raw", NULL };
  PatternEdge edge = { .name = name_of (words[1]),
                       .kind = (PatternEdgeKind)choice (words[2], kinds),
                       .allowance = number (words, 3) };
  g_array_append_val (b->edges, edge);
  g_array_index (b->starts, gboolean, b->starts->len - 1) = TRUE;
}

static void
add_cloth (Builder *b, char **words)
{
  PatternCloth cloth = b->pattern->cloths[0];
  cloth.id = pattern_take_id (b->pattern);
  cloth.name = words[1];
  cloth.give = number (words, 2);
  pattern_put_cloth (b->pattern, &cloth);
}

static void
read_outline (Builder *b, char **words)
{
  if (g_str_equal (words[0], "at"))
    add_node (b, geo_point (0, 0), point (words, 1), point (words, 1));
  else if (g_str_equal (words[0], "edge"))
    add_edge (b, words);
  else if (g_str_equal (words[0], "line"))
    add_node (b, reached (b), point (words, 1), point (words, 1));
  else if (g_str_equal (words[0], "curve"))
    add_node (b, point (words, 1), point (words, 3), point (words, 5));
  else if (g_str_equal (words[0], "arc"))
    add_arc (b, point (words, 1), number (words, 3));
  else
    g_error ("a line starts with '%s'", words[0]);
}

static void
read_line (Builder *b, const char *line)
{
  static const char *const units[] = { "mm", "cm", "in", NULL };
  g_auto (GStrv) words = g_strsplit (line, " ", -1);
  const char *verb = words[0];
  if (g_str_equal (verb, "piece") || g_str_equal (verb, "seam")
      || g_str_equal (verb, "dart"))
    end_piece (b);
  if (g_str_equal (verb, "piece"))
    {
      g_autofree char *name = name_of (words[1]);
      b->piece = pattern_piece_new (pattern_take_id (b->pattern), name);
    }
  else if (g_str_equal (verb, "seam") || g_str_equal (verb, "dart"))
    add_seam (b, words);
  else if (g_str_equal (verb, "ease"))
    add_span (b, words);
  else if (g_str_equal (verb, "unit"))
    b->pattern->unit = (PatternUnit)choice (words[1], units);
  else if (g_str_equal (verb, "tolerance"))
    b->pattern->tolerance = number (words, 1);
  else if (g_str_equal (verb, "cloth"))
    add_cloth (b, words);
  else if (g_str_equal (verb, "aside"))
    pattern_put_set_aside (b->pattern, words[1], words[2]);
  else if (g_str_equal (verb, "notch") || g_str_equal (verb, "grain")
           || g_str_equal (verb, "cut"))
    g_ptr_array_add (b->marks, g_strdup (line));
  else
    read_outline (b, words);
}

Pattern *
builder_read (const char *text)
{
  Builder b = { .pattern = pattern_new ("test"),
                .nodes = g_array_new (FALSE, FALSE, sizeof (PatternNode)),
                .starts = g_array_new (FALSE, FALSE, sizeof (gboolean)),
                .marks = g_ptr_array_new_with_free_func (g_free),
                .edges = g_array_new (FALSE, FALSE, sizeof (PatternEdge)) };
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    if (**line != '\0')
      read_line (&b, *line);
  end_piece (&b);
  g_array_unref (b.nodes);
  g_array_unref (b.starts);
  g_array_unref (b.edges);
  g_ptr_array_unref (b.marks);
  g_autofree char *unsound = pattern_unsound (b.pattern);
  g_assert_cmpstr (unsound, ==, NULL);
  return b.pattern;
}

char *
builder_change (const char *text, const char *line, const char *by)
{
  g_autofree char *whole = g_strconcat (line, "\n", NULL);
  const char *at = strstr (text, whole);
  while (at != NULL && at != text && at[-1] != '\n')
    at = strstr (at + 1, whole);
  if (at == NULL)
    g_error ("no line '%s'", line);
  g_autofree char *before = g_strndup (text, (gsize)(at - text));
  return g_strconcat (before, by, "\n", at + strlen (whole), NULL);
}

const PatternPiece *
builder_piece (const Pattern *pattern, const char *name)
{
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (g_str_equal (pattern->pieces[i]->name, name))
      return pattern->pieces[i];
  g_error ("no piece %s", name);
}

const PatternEdge *
builder_edge (const Pattern *pattern, const char *piece, const char *edge)
{
  const PatternPiece *p = builder_piece (pattern, piece);
  for (guint i = 0; i < p->n_edges; i++)
    if (g_str_equal (p->edges[i].name, edge))
      return &p->edges[i];
  g_error ("%s has no edge %s", piece, edge);
}

const PatternSeam *
builder_seam (const Pattern *pattern, const char *name)
{
  for (guint i = 0; i < pattern->n_seams; i++)
    if (g_str_equal (pattern->seams[i]->name, name))
      return pattern->seams[i];
  g_error ("no seam %s", name);
}
