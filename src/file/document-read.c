/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The native document, read element by element into a pattern.
 *
 * Each known element says which elements it may stand in. One that is unknown, or known but out
 * of its place, is kept with all it holds as text in the extra of the pattern, piece,
 * edge, seam or cloth it stands in, and so are unknown attributes of these five.
 * Unknown content of the smaller elements (nodes, notches, ...) is not kept.
 */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "file/document-tag.h"
#include "file/document-words.h"
#include "file/document.h"

#define FARTHEST 1e5  /* mm: 100 m */
#define N_ELEMENTS 17 /* that are known */

typedef enum
{
  IN_NOTHING,
  IN_PATTERN,
  IN_CLOTH,
  IN_PIECE,
  IN_EDGE,
  IN_SEAM,
  IN_SIDE,
  IN_LINE,
  IN_NOTE,
  IN_WORDS,
  IN_SET_ASIDE,
  IN_LEAF,    /* may hold nothing that is kept */
  IN_UNKNOWN, /* kept as text */
} Within;

typedef struct
{
  Pattern *pattern;
  GArray *within; /* of Within, outermost first */
  guint highest_id;
  guint counts[N_ELEMENTS]; /* of each kind so far */
  /* what is under way */
  PatternPiece *piece;
  PatternSeam *seam;
  PatternCloth cloth;
  PatternText words;
  guint line_id;
  char *line_name;
  int side;                    /* of the seam; -1 before its first */
  GArray *nodes;               /* of the piece or of a line on the table */
  GArray *inner;               /* nodes of a line inside the piece */
  GArray *edges;               /* of the piece */
  char *finding;               /* of a set-aside */
  GString *text;               /* of a note, words, set-aside */
  GString *extra[IN_SEAM + 1]; /* of what is under way, by kind */
  guint unknown_depth;
  gboolean unknown_open; /* its start tag still lacks its ">" */
} Reading;

static Within
inmost (const Reading *r)
{
  return r->within->len == 0
             ? IN_NOTHING
             : g_array_index (r->within, Within, r->within->len - 1);
}

/* The pattern, piece, edge, seam or cloth that keeps unknown things. */
static GString *
keeper (Reading *r, Within place)
{
  return place <= IN_SEAM ? r->extra[place] : NULL;
}

static gboolean
broken (GError **error, const char *words)
{
  g_set_error_literal (error, FILE_ERROR, FILE_ERROR_BROKEN, words);
  return FALSE;
}

static guint
take_own_id (Reading *r, FileTaking *t)
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

static char *
steal_extra (Reading *r, Within kind)
{
  char *text = r->extra[kind]->len > 0 ? g_strdup (r->extra[kind]->str) : NULL;
  g_string_truncate (r->extra[kind], 0);
  return text;
}

/* --- starts: each takes its attributes ----------------------------------- */
static gboolean
start_pattern (Reading *r, FileTaking *t, GError **error)
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
    return broken (error, _ ("there is no document version 0."));
  pattern_set_string (&r->pattern->name, take_name (t));
  r->pattern->unit = file_take_word (t, "unit", file_words_unit);
  r->pattern->tolerance = file_take_number (t, "tolerance", 0, FARTHEST, 0.5);
  r->pattern->next_id = file_take_count (t, "next", G_MAXUINT - 1, 1);
  return TRUE;
}

static gboolean
start_cloth (Reading *r, FileTaking *t, GError **error)
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
start_piece (Reading *r, FileTaking *t, GError **error)
{
  (void)error;
  guint id = take_own_id (r, t);
  r->piece = pattern_piece_new (id, take_name (t));
  return TRUE;
}

static gboolean
start_edge (Reading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternEdge edge = {
    .id = take_own_id (r, t),
    .kind = file_take_word (t, "kind", file_words_edge_kind),
    .allowance = file_take_number (t, "allowance", 0, FARTHEST, 0),
    .corner.kind = file_take_word (t, "corner", file_words_corner),
    .corner.governor = file_take_word (t, "corner-by", file_words_corner_by),
    .first = r->nodes->len,
  };
  edge.name = g_strdup (take_name (t));
  g_array_append_val (r->edges, edge);
  return TRUE;
}

static gboolean
start_node (Reading *r, FileTaking *t, GError **error)
{
  (void)error;
  PatternNode node = {
    .id = take_own_id (r, t),
    .kind = file_take_word (t, "kind", file_words_node_kind),
    .at = file_take_point (t, "at", NULL),
  };
  node.in = file_take_point (t, "in", &node.at);
  node.out = file_take_point (t, "out", &node.at);
  gboolean inner = inmost (r) == IN_LINE && r->piece != NULL;
  g_array_append_val (inner ? r->inner : r->nodes, node);
  return TRUE;
}

static gboolean
start_notch (Reading *r, FileTaking *t, GError **error)
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
start_cut (Reading *r, FileTaking *t, GError **error)
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
start_grain (Reading *r, FileTaking *t, GError **error)
{
  if (r->piece->has_grain)
    return broken (error, _ ("the piece has a second <grain>."));
  r->piece->has_grain = TRUE;
  r->piece->grain_from = file_take_point (t, "from", NULL);
  r->piece->grain_to = file_take_point (t, "to", NULL);
  r->piece->grain_both_ways
      = file_take_word (t, "both-ways", file_words_yes) != 0;
  return TRUE;
}

static gboolean
start_buttonhole (Reading *r, FileTaking *t, GError **error)
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
start_drill (Reading *r, FileTaking *t, GError **error)
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
start_words (Reading *r, FileTaking *t, GError **error)
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
start_line (Reading *r, FileTaking *t, GError **error)
{
  (void)error;
  r->line_id = take_own_id (r, t);
  g_free (r->line_name);
  r->line_name = g_strdup (take_name (t));
  return TRUE;
}

static gboolean
start_seam (Reading *r, FileTaking *t, GError **error)
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
start_side (Reading *r, FileTaking *t, GError **error)
{
  (void)t;
  if (++r->side > 1)
    return broken (error, _ ("the seam has a third <side>."));
  return TRUE;
}

static gboolean
start_run (Reading *r, FileTaking *t, GError **error)
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

static gboolean
start_note (Reading *r, FileTaking *t, GError **error)
{
  (void)t;
  (void)error;
  g_string_truncate (r->text, 0);
  return TRUE;
}

static gboolean
start_set_aside (Reading *r, FileTaking *t, GError **error)
{
  (void)error;
  g_string_truncate (r->text, 0);
  const char *finding = file_take_text (t, "finding");
  g_free (r->finding);
  r->finding = g_strdup (finding != NULL ? finding : "");
  return TRUE;
}

static const struct
{
  const char *name;
  guint places; /* bits of Within it may stand in */
  Within inside;
  gboolean (*start) (Reading *, FileTaking *, GError **);
  guint
      most; /* in a document, where the time taken grows faster than their number; 0: any */
} elements[N_ELEMENTS] = {
  { "node", 1 << IN_EDGE | 1 << IN_LINE, IN_LEAF, start_node, 0 },
  { "edge", 1 << IN_PIECE, IN_EDGE, start_edge, 200000 },
  { "run", 1 << IN_SIDE, IN_LEAF, start_run, 50000 },
  { "side", 1 << IN_SEAM, IN_SIDE, start_side, 0 },
  { "notch", 1 << IN_PIECE, IN_LEAF, start_notch, 20000 },
  { "cut", 1 << IN_PIECE, IN_LEAF, start_cut, 50000 },
  { "grain", 1 << IN_PIECE, IN_LEAF, start_grain, 0 },
  { "buttonhole", 1 << IN_PIECE, IN_LEAF, start_buttonhole, 0 },
  { "drill", 1 << IN_PIECE, IN_LEAF, start_drill, 0 },
  { "words", 1 << IN_PIECE, IN_WORDS, start_words, 0 },
  { "line", 1 << IN_PIECE | 1 << IN_PATTERN, IN_LINE, start_line, 0 },
  { "note", 1 << IN_PIECE | 1 << IN_PATTERN, IN_NOTE, start_note, 0 },
  { "cloth", 1 << IN_PATTERN, IN_CLOTH, start_cloth, 1000 },
  { "piece", 1 << IN_PATTERN, IN_PIECE, start_piece, 10000 },
  { "seam", 1 << IN_PATTERN, IN_SEAM, start_seam, 10000 },
  { "set-aside", 1 << IN_PATTERN, IN_SET_ASIDE, start_set_aside, 10000 },
  { "bodkin-pattern", 1 << IN_NOTHING, IN_PATTERN, start_pattern, 0 },
};

/* --- what is not known ------------------------------------------------------ */
static void
close_unknown_tag (Reading *r, GString *extra)
{
  if (r->unknown_open)
    g_string_append_c (extra, '>');
  r->unknown_open = FALSE;
}

/* Where the unknown element stands in something that keeps nothing, NULL. */
static GString *
unknown_keeper (Reading *r)
{
  return keeper (r, g_array_index (r->within, Within,
                                   r->within->len - r->unknown_depth - 1));
}

static void
start_unknown (Reading *r, const FileXmlTag *tag)
{
  static const Within unknown = IN_UNKNOWN;
  GString *extra = unknown_keeper (r);
  if (extra != NULL)
    {
      close_unknown_tag (r, extra);
      g_string_append_printf (extra, "<%s", tag->name);
      for (guint i = 0; i < tag->n_attributes; i++)
        {
          g_string_append_printf (extra, " %s=\"", tag->attributes[i].name);
          file_xml_append (extra, tag->attributes[i].value, TRUE);
          g_string_append_c (extra, '"');
        }
      r->unknown_open = TRUE;
    }
  r->unknown_depth++;
  g_array_append_val (r->within, unknown);
}

static void
end_unknown (Reading *r, const char *name)
{
  GString *extra = unknown_keeper (r);
  if (extra != NULL && r->unknown_open)
    g_string_append (extra, "/>");
  else if (extra != NULL)
    g_string_append_printf (extra, "</%s>", name);
  r->unknown_open = FALSE;
  r->unknown_depth--;
}

/* --- ends ------------------------------------------------------------------- */
static gboolean
end_cloth (Reading *r, GError **error)
{
  if (pattern_get_cloth (r->pattern, r->cloth.id) != NULL)
    return broken (error, _ ("two cloths have the same id."));
  r->cloth.extra = steal_extra (r, IN_CLOTH);
  pattern_put_cloth (r->pattern, &r->cloth);
  g_clear_pointer (&r->cloth.name, g_free);
  g_clear_pointer (&r->cloth.extra, g_free);
  return TRUE;
}

static gboolean
end_edge (Reading *r, GError **error)
{
  PatternEdge *edge = &g_array_index (r->edges, PatternEdge, r->edges->len - 1);
  edge->extra = steal_extra (r, IN_EDGE);
  if (edge->first == r->nodes->len)
    return broken (error, _ ("the edge has no <node>."));
  return TRUE;
}

static gpointer
steal_array (GArray *array, guint *length)
{
  *length = array->len;
  gpointer data
      = g_memdup2 (array->data, array->len * g_array_get_element_size (array));
  g_array_set_size (array, 0);
  return data;
}

static gboolean
end_piece (Reading *r, GError **error)
{
  if (pattern_get_piece (r->pattern, r->piece->id) != NULL)
    return broken (error, _ ("two pieces have the same id."));
  r->piece->nodes = steal_array (r->nodes, &r->piece->n_nodes);
  r->piece->edges = steal_array (r->edges, &r->piece->n_edges);
  r->piece->extra = steal_extra (r, IN_PIECE);
  pattern_put_piece (r->pattern, g_steal_pointer (&r->piece));
  return TRUE;
}

static gboolean
end_seam (Reading *r, GError **error)
{
  if (r->side != 1)
    return broken (error, _ ("the seam has not two <side> elements."));
  if (pattern_get_seam (r->pattern, r->seam->id) != NULL)
    return broken (error, _ ("two seams have the same id."));
  r->seam->extra = steal_extra (r, IN_SEAM);
  pattern_put_seam (r->pattern, g_steal_pointer (&r->seam));
  return TRUE;
}

static void
end_line (Reading *r)
{
  if (r->piece != NULL)
    {
      pattern_piece_add_line (r->piece, r->line_id, r->line_name,
                              (PatternNode *)r->inner->data, r->inner->len);
      g_array_set_size (r->inner, 0);
      return;
    }
  Pattern *p = r->pattern;
  p->lines = g_renew (PatternLine, p->lines, p->n_lines + 1);
  PatternLine *line = &p->lines[p->n_lines++];
  line->id = r->line_id;
  line->name = g_steal_pointer (&r->line_name);
  line->nodes = steal_array (r->nodes, &line->n_nodes);
}

static gboolean
end_known (Reading *r, Within what, GError **error)
{
  switch (what)
    {
    case IN_CLOTH:
      return end_cloth (r, error);
    case IN_PIECE:
      return end_piece (r, error);
    case IN_EDGE:
      return end_edge (r, error);
    case IN_SEAM:
      return end_seam (r, error);
    case IN_LINE:
      end_line (r);
      break;
    case IN_NOTE:
      pattern_set_string (
          r->piece != NULL ? &r->piece->note : &r->pattern->note, r->text->str);
      break;
    case IN_WORDS:
      pattern_piece_add_text (r->piece, r->words.id, r->words.at,
                              r->words.angle, r->words.size, r->text->str);
      break;
    case IN_SET_ASIDE:
      pattern_put_set_aside (r->pattern, r->finding, r->text->str);
      break;
    default:
      break;
    }
  return TRUE;
}

/* --- the three callbacks ------------------------------------------------------ */
static gboolean
on_start (gpointer data, const FileXmlTag *tag, GError **error)
{
  Reading *r = data;
  Within place = inmost (r);
  if (place != IN_UNKNOWN)
    for (guint i = 0; i < N_ELEMENTS; i++)
      if ((elements[i].places & (1u << place)) != 0
          && strcmp (elements[i].name, tag->name) == 0)
        {
          if (++r->counts[i] > elements[i].most && elements[i].most > 0)
            {
              g_set_error (error, FILE_ERROR, FILE_ERROR_TOO_BIG,
                           _ ("there are more than %u <%s> elements."),
                           elements[i].most, tag->name);
              return FALSE;
            }
          FileTaking t = file_taking_begin (tag);
          gboolean started = elements[i].start (r, &t, error);
          GString *extra = keeper (r, elements[i].inside);
          if (!file_taking_end (&t, extra, started ? error : NULL) || !started)
            return FALSE;
          g_array_append_val (r->within, elements[i].inside);
          return TRUE;
        }
  if (place == IN_NOTHING)
    {
      g_set_error (error, FILE_ERROR, FILE_ERROR_NOT_OURS,
                   _ ("this is no Bodkin pattern (it begins with <%s>)."),
                   tag->name);
      return FALSE;
    }
  start_unknown (r, tag);
  return TRUE;
}

static gboolean
on_end (gpointer data, const char *name, guint line, GError **error)
{
  (void)line;
  Reading *r = data;
  Within what = inmost (r);
  gboolean ok = TRUE;
  if (what == IN_UNKNOWN)
    end_unknown (r, name);
  else
    ok = end_known (r, what, error);
  g_array_set_size (r->within, r->within->len - 1);
  return ok;
}

static gboolean
on_text (gpointer data, const char *text, gsize length, GError **error)
{
  Reading *r = data;
  Within what = inmost (r);
  if (what == IN_NOTE || what == IN_WORDS || what == IN_SET_ASIDE)
    g_string_append_len (r->text, text, (gssize)length);
  else if (what == IN_UNKNOWN)
    {
      GString *extra = unknown_keeper (r);
      if (extra == NULL)
        return TRUE;
      close_unknown_tag (r, extra);
      g_autofree char *copy = g_strndup (text, length);
      file_xml_append (extra, copy, FALSE);
    }
  else if (memchr (text, '\0', length) != NULL
           || length != strspn (text, " \t\r\n"))
    {
      for (gsize i = 0; i < length; i++)
        if (!g_ascii_isspace (text[i]))
          return broken (error, _ ("there is text where none belongs."));
    }
  return TRUE;
}

/* --- the whole ------------------------------------------------------------------ */
static void
begin (Reading *r)
{
  *r = (Reading){ .pattern = pattern_new (""), .side = -1 };
  while (r->pattern->n_cloths > 0)
    pattern_remove_cloth (r->pattern, r->pattern->cloths[0].id);
  r->within = g_array_new (FALSE, FALSE, sizeof (Within));
  r->nodes = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  r->inner = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  r->edges = g_array_new (FALSE, FALSE, sizeof (PatternEdge));
  r->text = g_string_new (NULL);
  for (guint i = 0; i < G_N_ELEMENTS (r->extra); i++)
    r->extra[i] = g_string_new (NULL);
}

static void
end (Reading *r)
{
  for (guint i = 0; i < r->edges->len; i++)
    {
      g_free (g_array_index (r->edges, PatternEdge, i).name);
      g_free (g_array_index (r->edges, PatternEdge, i).extra);
    }
  g_clear_pointer (&r->pattern, pattern_unref);
  g_clear_pointer (&r->piece, pattern_piece_unref);
  g_clear_pointer (&r->seam, pattern_seam_unref);
  g_array_free (r->within, TRUE);
  g_array_free (r->nodes, TRUE);
  g_array_free (r->inner, TRUE);
  g_array_free (r->edges, TRUE);
  g_string_free (r->text, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (r->extra); i++)
    g_string_free (r->extra[i], TRUE);
  g_free (r->cloth.name);
  g_free (r->line_name);
  g_free (r->finding);
}

/* An outline turned inside out while it was being drawn is put the right way
 * round: nothing of it is lost, and everything else may rely on it. */
static void
turn_outlines (Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (pattern_piece_area (pattern->pieces[i]) < 0)
      {
        PatternPiece *piece = pattern_piece_dup (pattern->pieces[i]);
        pattern_piece_turn_round (piece);
        pattern_put_piece (pattern, piece);
        pattern_turn_runs (pattern, piece->id);
      }
}

Pattern *
file_document_parse (const char *text, gsize length, const char *name,
                     GError **error)
{
  g_return_val_if_fail (name != NULL, NULL);
  static const FileXmlHandler handler = { on_start, on_end, on_text };
  Reading r;
  begin (&r);
  Pattern *done = NULL;
  if (file_xml_read (text, length, name, &handler, &r, error))
    {
      r.pattern->extra = steal_extra (&r, IN_PATTERN);
      r.pattern->next_id = MAX (r.pattern->next_id, r.highest_id + 1);
      turn_outlines (r.pattern);
      g_autofree char *unsound = pattern_unsound (r.pattern);
      if (unsound == NULL)
        done = g_steal_pointer (&r.pattern);
      else
        {
          GError *cause
              = g_error_new_literal (FILE_ERROR, FILE_ERROR_BROKEN, unsound);
          file_xml_place_error (&cause, name, 0);
          g_propagate_error (error, cause);
        }
    }
  end (&r);
  return done;
}

Pattern *
file_document_load (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autofree char *text = NULL;
  g_autofree char *name = g_filename_display_basename (path);
  gsize length = 0;
  if (!file_xml_load (path, &text, &length, error))
    return NULL;
  return file_document_parse (text, length, name, error);
}
