/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The native document, read element by element into a pattern.
 *
 * Each known element says which elements it may stand in. One that is unknown, or known but out
 * of its place, is kept with all it holds as text in the extra of the pattern, piece,
 * edge, seam, cloth or recipe it stands in, and so are unknown attributes of these six.
 * Unknown content of the smaller elements (nodes, notches, ...) is not kept.
 */
#include <glib/gi18n.h>
#include <string.h>

#include "file/document-reading.h"
#include "file/document.h"

FileWithin
file_reading_inmost (const FileReading *r)
{
  return r->within->len == 0
             ? IN_NOTHING
             : g_array_index (r->within, FileWithin, r->within->len - 1);
}

/* The pattern, piece, edge, seam, recipe or cloth that keeps unknown things. */
static GString *
keeper (FileReading *r, FileWithin place)
{
  return place <= IN_SEAM ? r->extra[place] : NULL;
}

gboolean
file_reading_broken (GError **error, const char *words)
{
  g_set_error_literal (error, FILE_ERROR, FILE_ERROR_BROKEN, words);
  return FALSE;
}

static char *
steal_extra (FileReading *r, FileWithin kind)
{
  char *text = r->extra[kind]->len > 0 ? g_strdup (r->extra[kind]->str) : NULL;
  g_string_truncate (r->extra[kind], 0);
  return text;
}

/* --- what is not known ------------------------------------------------------ */
static void
close_unknown_tag (FileReading *r, GString *extra)
{
  if (r->unknown_open)
    g_string_append_c (extra, '>');
  r->unknown_open = FALSE;
}

/* Where the unknown element stands in something that keeps nothing, NULL. */
static GString *
unknown_keeper (FileReading *r)
{
  return keeper (r, g_array_index (r->within, FileWithin,
                                   r->within->len - r->unknown_depth - 1));
}

static void
start_unknown (FileReading *r, const FileXmlTag *tag)
{
  static const FileWithin unknown = IN_UNKNOWN;
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
end_unknown (FileReading *r, const char *name)
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
end_cloth (FileReading *r, GError **error)
{
  if (pattern_get_cloth (r->pattern, r->cloth.id) != NULL)
    return file_reading_broken (error, _ ("two cloths have the same id."));
  r->cloth.extra = steal_extra (r, IN_CLOTH);
  pattern_put_cloth (r->pattern, &r->cloth);
  g_clear_pointer (&r->cloth.name, g_free);
  g_clear_pointer (&r->cloth.extra, g_free);
  return TRUE;
}

static gboolean
end_edge (FileReading *r, GError **error)
{
  PatternEdge *edge = &g_array_index (r->edges, PatternEdge, r->edges->len - 1);
  edge->extra = steal_extra (r, IN_EDGE);
  if (edge->first == r->nodes->len)
    return file_reading_broken (error, _ ("the edge has no <node>."));
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
end_piece (FileReading *r, GError **error)
{
  if (pattern_get_piece (r->pattern, r->piece->id) != NULL)
    return file_reading_broken (error, _ ("two pieces have the same id."));
  r->piece->nodes = steal_array (r->nodes, &r->piece->n_nodes);
  r->piece->edges = steal_array (r->edges, &r->piece->n_edges);
  r->piece->extra = steal_extra (r, IN_PIECE);
  pattern_put_piece (r->pattern, g_steal_pointer (&r->piece));
  return TRUE;
}

static gboolean
end_seam (FileReading *r, GError **error)
{
  if (r->side != 1)
    return file_reading_broken (error,
                                _ ("the seam has not two <side> elements."));
  if (pattern_get_seam (r->pattern, r->seam->id) != NULL)
    return file_reading_broken (error, _ ("two seams have the same id."));
  r->seam->extra = steal_extra (r, IN_SEAM);
  pattern_put_seam (r->pattern, g_steal_pointer (&r->seam));
  return TRUE;
}

static void
end_line (FileReading *r)
{
  if (r->piece != NULL)
    {
      pattern_piece_add_line (r->piece, r->line_id, r->line_name,
                              (PatternNode *)r->inner->data, r->inner->len);
      g_array_set_size (r->inner, 0);
      return;
    }
  PatternLine line = { .id = r->line_id };
  line.name = g_steal_pointer (&r->line_name);
  line.nodes = steal_array (r->nodes, &line.n_nodes);
  g_array_append_val (r->table, line);
}

static gboolean
end_known (FileReading *r, FileWithin what, GError **error)
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
    case IN_RECIPE:
      return file_end_recipe (r, steal_extra (r, IN_RECIPE), error);
    case IN_PICTURE:
      return file_end_picture (r, steal_extra (r, IN_PICTURE), error);
    case IN_FIGURE:
      return file_end_figure (r, error);
    case IN_FITTING:
      return file_end_fitting (r, error);
    case IN_KEPT:
      return file_end_kept (r, error);
    case IN_CHANGE:
      return file_end_change (r, error);
    case IN_PARTS:
      return file_end_parts (r, error);
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
  FileReading *r = data;
  FileWithin place = file_reading_inmost (r);
  if (place != IN_UNKNOWN)
    for (guint i = 0; i < FILE_N_ELEMENTS; i++)
      if ((file_elements[i].places & (1u << place)) != 0
          && strcmp (file_elements[i].name, tag->name) == 0)
        {
          if (++r->counts[i] > file_elements[i].most
              && file_elements[i].most > 0)
            {
              g_set_error (error, FILE_ERROR, FILE_ERROR_TOO_BIG,
                           _ ("there are more than %u <%s> elements."),
                           file_elements[i].most, tag->name);
              return FALSE;
            }
          FileTaking t = file_taking_begin (tag);
          gboolean started = file_elements[i].start (r, &t, error);
          GString *extra = keeper (r, file_elements[i].inside);
          if (!file_taking_end (&t, extra, started ? error : NULL) || !started)
            return FALSE;
          g_array_append_val (r->within, file_elements[i].inside);
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
  FileReading *r = data;
  FileWithin what = file_reading_inmost (r);
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
  FileReading *r = data;
  FileWithin what = file_reading_inmost (r);
  if (what == IN_NOTE || what == IN_WORDS || what == IN_SET_ASIDE
      || what == IN_FIGURE)
    g_string_append_len (r->text, text, (gssize)length);
  else if (what == IN_BYTES)
    return file_take_bytes (r, text, length, error);
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
          return file_reading_broken (error,
                                      _ ("there is text where none belongs."));
    }
  return TRUE;
}

/* --- the whole ------------------------------------------------------------------ */
static void
begin (FileReading *r)
{
  *r = (FileReading){ .pattern = pattern_new (""), .side = -1 };
  while (r->pattern->n_cloths > 0)
    pattern_remove_cloth (r->pattern, r->pattern->cloths[0].id);
  r->within = g_array_new (FALSE, FALSE, sizeof (FileWithin));
  r->nodes = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  r->inner = g_array_new (FALSE, FALSE, sizeof (PatternNode));
  r->table = g_array_new (FALSE, FALSE, sizeof (PatternLine));
  r->edges = g_array_new (FALSE, FALSE, sizeof (PatternEdge));
  r->text = g_string_new (NULL);
  for (guint i = 0; i < G_N_ELEMENTS (r->extra); i++)
    r->extra[i] = g_string_new (NULL);
}

static void
end (FileReading *r)
{
  for (guint i = 0; i < r->edges->len; i++)
    {
      g_free (g_array_index (r->edges, PatternEdge, i).name);
      g_free (g_array_index (r->edges, PatternEdge, i).extra);
    }
  for (guint i = 0; i < r->table->len; i++)
    {
      g_free (g_array_index (r->table, PatternLine, i).name);
      g_free (g_array_index (r->table, PatternLine, i).nodes);
    }
  file_clear_fittings (r);
  g_clear_pointer (&r->pattern, pattern_unref);
  g_clear_pointer (&r->piece, pattern_piece_unref);
  g_clear_pointer (&r->seam, pattern_seam_unref);
  g_clear_pointer (&r->recipe, pattern_recipe_unref);
  g_clear_pointer (&r->picture, pattern_picture_unref);
  g_clear_pointer (&r->bytes, g_byte_array_unref);
  g_free (r->kept_as);
  g_free (r->figure.name);
  g_array_free (r->within, TRUE);
  g_array_free (r->nodes, TRUE);
  g_array_free (r->inner, TRUE);
  g_array_free (r->edges, TRUE);
  g_array_free (r->table, TRUE);
  g_string_free (r->text, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (r->extra); i++)
    g_string_free (r->extra[i], TRUE);
  g_free (r->cloth.name);
  g_free (r->line_name);
  g_free (r->finding);
}

static Pattern *
parse (const char *text, gsize length, const char *name, const char *folder,
       GError **error)
{
  static const FileXmlHandler handler = { on_start, on_end, on_text };
  FileReading r;
  begin (&r);
  r.folder = folder;
  Pattern *done = NULL;
  if (file_xml_read (text, length, name, &handler, &r, error))
    {
      file_settle_lines (&r);
      r.pattern->extra = steal_extra (&r, IN_PATTERN);
      r.pattern->next_id = MAX (r.pattern->next_id, r.highest_id + 1);
      file_turn_outlines (r.pattern);
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
file_document_parse (const char *text, gsize length, const char *name,
                     GError **error)
{
  g_return_val_if_fail (name != NULL, NULL);
  return parse (text, length, name, NULL, error);
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
  g_autofree char *whole = g_canonicalize_filename (path, NULL);
  g_autofree char *folder = g_path_get_dirname (whole);
  return parse (text, length, name, folder, error);
}
