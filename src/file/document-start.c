/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The elements of the native document: where each may stand, and what its attributes
 * become. */
#include <glib/gi18n.h>
#include <math.h>

#include "file/document-reading.h"
#include "file/document-words.h"
#include "file/document.h"

#define FARTHEST 1e5 /* mm: 100 m */

static guint
take_own_id (FileReading *r, FileTaking *t)
{
  guint id = file_take_count (t, "id", G_MAXUINT - 2, FILE_REQUIRED);
  r->highest_id = MAX (r->highest_id, id);
  return id;
}

static const char *
take_name (FileTaking *t)
{
  const char *name = file_take_text (t, "name");
  return name != NULL ? name : "";
}

void
file_take_pattern (FileTaking *t, Pattern *pattern)
{
  pattern_set_string (&pattern->name, take_name (t));
  pattern->unit = file_take_word (t, "unit", file_words_unit);
  pattern->tolerance = file_take_number (t, "tolerance", 0, FARTHEST, 0.5);
  pattern->next_id = file_take_count (t, "next", G_MAXUINT - 1, 1);
}

static gboolean
start_pattern (FileReading *r, FileTaking *t, GError **error)
{
  guint version = file_take_count (t, "version", G_MAXUINT - 1, FILE_REQUIRED);
  if (t->error == NULL && version > FILE_DOCUMENT_VERSION)
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_NEWER,
                   _ ("it was written by a newer Bodkin (document version %u; "
                      "this one reads up to %d). Open it with that newer one."),
                   version, FILE_DOCUMENT_VERSION);
      return FALSE;
    }
  if (t->error == NULL && version == 0)
    return file_reading_broken (error, _ ("there is no document version 0."));
  file_take_pattern (t, r->pattern);
  return TRUE;
}

static gboolean
start_cloth (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  r->cloth = (PatternCloth){
    .id = take_own_id (r, t),
    .use = file_take_word (t, "use", file_words_cloth_use),
    .width = file_take_number (t, "width", 0, FARTHEST, 0),
    .thickness = file_take_number (t, "thickness", 0, FARTHEST, 0),
    .give = file_take_number (t, "give", 0, 10, 0),
    .weight = file_take_number (t, "weight", 0, FARTHEST, 0),
    .tint = file_take_count (t, "tint", 7, 0),
  };
  r->cloth.name = g_strdup (take_name (t));
  return TRUE;
}

static gboolean
start_piece (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  guint id = take_own_id (r, t);
  r->piece = pattern_piece_new (id, take_name (t));
  return TRUE;
}

static gboolean
start_edge (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternEdge edge = {
    .id = take_own_id (r, t),
    .kind = file_take_word (t, "kind", file_words_edge_kind),
    .allowance = file_take_number (t, "allowance", 0, FARTHEST, 0),
    .corner.kind = file_take_word (t, "corner", file_words_corner),
    .corner.governor = file_take_word (t, "corner-by", file_words_corner_by),
    .clip_spacing = file_take_number (t, "clip-spacing", 0, FARTHEST, 0),
    .first = r->nodes->len,
  };
  edge.name = g_strdup (take_name (t));
  g_array_append_val (r->edges, edge);
  return TRUE;
}

static gboolean
start_node (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternNode node = {
    .id = take_own_id (r, t),
    .kind = file_take_word (t, "kind", file_words_node_kind),
    .at = file_take_point (t, "at", NULL),
  };
  node.in = file_take_point (t, "in", &node.at);
  node.out = file_take_point (t, "out", &node.at);
  gboolean inner = file_reading_inmost (r) == IN_LINE && r->piece != NULL;
  g_array_append_val (inner ? r->inner : r->nodes, node);
  return TRUE;
}

static gboolean
start_notch (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternNotch notch = {
    .id = take_own_id (r, t),
    .edge = file_take_count (t, "edge", G_MAXUINT - 2, FILE_REQUIRED),
    .count = (int)file_take_count (t, "count", 3, 1),
    .from = file_take_word (t, "from", file_words_notch_from),
    .amount = file_take_number (t, "amount", -FARTHEST, FARTHEST, NAN),
  };
  pattern_piece_add_notch (r->piece, notch);
  return TRUE;
}

static gboolean
start_cut (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternCut cut = {
    .cloth = file_take_count (t, "cloth", G_MAXUINT - 2, FILE_REQUIRED),
    .count = (int)file_take_count (t, "count", 10000, 1),
    .mirrored = file_take_word (t, "mirrored", file_words_yes) != 0,
  };
  pattern_piece_add_cut (r->piece, cut);
  return TRUE;
}

static gboolean
start_grain (FileReading *r, FileTaking *t, GError **error)
{
  if (r->piece->has_grain)
    return file_reading_broken (error, _ ("the piece has a second <grain>."));
  r->piece->has_grain = TRUE;
  r->piece->grain_from = file_take_point (t, "from", NULL);
  r->piece->grain_to = file_take_point (t, "to", NULL);
  r->piece->grain_both_ways
      = file_take_word (t, "both-ways", file_words_yes) != 0;
  return TRUE;
}

static gboolean
start_buttonhole (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternButtonhole hole = {
    .id = take_own_id (r, t),
    .at = file_take_point (t, "at", NULL),
    .angle = file_take_number (t, "angle", -FARTHEST, FARTHEST, 0),
    .length = file_take_number (t, "length", 0, FARTHEST, NAN),
  };
  pattern_piece_add_buttonhole (r->piece, hole);
  return TRUE;
}

static gboolean
start_drill (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternDrill drill = {
    .id = take_own_id (r, t),
    .at = file_take_point (t, "at", NULL),
  };
  pattern_piece_add_drill (r->piece, drill);
  return TRUE;
}

static gboolean
start_words (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  g_string_truncate (r->text, 0);
  r->words = (PatternText){
    .id = take_own_id (r, t),
    .at = file_take_point (t, "at", NULL),
    .angle = file_take_number (t, "angle", -FARTHEST, FARTHEST, 0),
    .size = file_take_number (t, "size", 0, FARTHEST, NAN),
  };
  return TRUE;
}

static gboolean
start_line (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  r->line_id = take_own_id (r, t);
  g_free (r->line_name);
  r->line_name = g_strdup (take_name (t));
  return TRUE;
}

static gboolean
start_seam (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  guint id = take_own_id (r, t);
  r->seam = pattern_seam_new (id, take_name (t));
  r->seam->join = file_take_word (t, "join", file_words_join);
  r->seam->ease = file_take_number (t, "ease", -FARTHEST, FARTHEST, 0);
  r->seam->press = file_take_word (t, "press", file_words_press);
  r->side = -1;
  return TRUE;
}

static gboolean
start_side (FileReading *r, FileTaking *t, GError **error)
{
  (void)t;
  if (++r->side > 1)
    return file_reading_broken (error, _ ("the seam has a third <side>."));
  return TRUE;
}

static gboolean
start_run (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternRun run = {
    .piece = file_take_count (t, "piece", G_MAXUINT - 2, FILE_REQUIRED),
    .edge = file_take_count (t, "edge", G_MAXUINT - 2, FILE_REQUIRED),
    .reversed = file_take_word (t, "reversed", file_words_yes) != 0,
  };
  pattern_seam_add_run (r->seam, r->side, run);
  return TRUE;
}

/* Either a length or a per cent; where both stand, the length. */
static gboolean
start_ease (FileReading *r, FileTaking *t, GError **error)
{
  PatternEaseSpan span = {
    .from = file_take_count (t, "from", G_MAXUINT - 2, 0),
    .to = file_take_count (t, "to", G_MAXUINT - 2, 0),
  };
  double share
      = file_take_number (t, "per-cent", -FARTHEST, FARTHEST, INFINITY);
  span.per_cent = isfinite (share);
  span.amount = span.per_cent
                    ? share
                    : file_take_number (t, "amount", -FARTHEST, FARTHEST, NAN);
  if (t->error == NULL && pattern_seam_get_span (r->seam, span.from, span.to))
    return file_reading_broken (
        error, _ ("the seam has two <ease> elements between the same marks."));
  pattern_seam_put_span (r->seam, span);
  return TRUE;
}

static gboolean
start_note (FileReading *r, FileTaking *t, GError **error)
{
  (void)t;
  (void)error;
  g_string_truncate (r->text, 0);
  return TRUE;
}

static gboolean
start_set_aside (FileReading *r, FileTaking *t, GError **error)
{
  (void)error;
  g_string_truncate (r->text, 0);
  const char *finding = file_take_text (t, "finding");
  g_free (r->finding);
  r->finding = g_strdup (finding != NULL ? finding : "");
  return TRUE;
}

/* The document's own, and one kept in it. */
#define PATTERNS (1 << IN_PATTERN | 1 << IN_KEPT)

const FileElement file_elements[FILE_N_ELEMENTS] = {
  { "node", 1 << IN_EDGE | 1 << IN_LINE, IN_LEAF, start_node, 0 },
  { "edge", 1 << IN_PIECE, IN_EDGE, start_edge, 200000 },
  { "run", 1 << IN_SIDE, IN_LEAF, start_run, 10000 },
  { "side", 1 << IN_SEAM, IN_SIDE, start_side, 0 },
  { "ease", 1 << IN_SEAM, IN_LEAF, start_ease, 5000 },
  { "notch", 1 << IN_PIECE, IN_LEAF, start_notch, 5000 },
  { "cut", 1 << IN_PIECE, IN_LEAF, start_cut, 5000 },
  { "grain", 1 << IN_PIECE, IN_LEAF, start_grain, 0 },
  { "buttonhole", 1 << IN_PIECE, IN_LEAF, start_buttonhole, 5000 },
  { "drill", 1 << IN_PIECE, IN_LEAF, start_drill, 5000 },
  { "words", 1 << IN_PIECE, IN_WORDS, start_words, 5000 },
  { "line", 1 << IN_PIECE | PATTERNS, IN_LINE, start_line, 20000 },
  { "note", 1 << IN_PIECE | PATTERNS, IN_NOTE, start_note, 0 },
  { "cloth", PATTERNS, IN_CLOTH, start_cloth, 1000 },
  { "piece", PATTERNS | 1 << IN_PARTS, IN_PIECE, start_piece, 10000 },
  { "seam", PATTERNS | 1 << IN_PARTS, IN_SEAM, start_seam, 10000 },
  { "set-aside", PATTERNS, IN_SET_ASIDE, start_set_aside, 10000 },
  { "figure", PATTERNS | 1 << IN_PARTS, IN_FIGURE, file_start_figure, 1000 },
  { "recipe", PATTERNS | 1 << IN_PARTS, IN_RECIPE, file_start_recipe, 1000 },
  { "argument", 1 << IN_RECIPE | 1 << IN_CHANGE, IN_LEAF, file_start_argument,
    20000 },
  { "made", 1 << IN_RECIPE, IN_LEAF, file_start_made, 100000 },
  { "hand", 1 << IN_RECIPE, IN_LEAF, file_start_hand, 100000 },
  { "fitting", 1 << IN_PATTERN, IN_FITTING, file_start_fitting, 200 },
  { "kept", 1 << IN_FITTING, IN_KEPT, file_start_kept, 0 },
  { "change", 1 << IN_PATTERN, IN_CHANGE, file_start_change, 20000 },
  { "was", 1 << IN_CHANGE, IN_PARTS, file_start_parts, 0 },
  { "is", 1 << IN_CHANGE, IN_PARTS, file_start_parts, 0 },
  { "picture", 1 << IN_PATTERN, IN_PICTURE, file_start_picture, 200 },
  { "bytes", 1 << IN_PICTURE, IN_BYTES, file_start_bytes, 2000 },
  { "bodkin-pattern", 1 << IN_NOTHING, IN_PATTERN, start_pattern, 0 },
};
