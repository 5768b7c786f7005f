/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The native document's text. One element a line, in the order of the pattern's own
 * arrays; what has its usual value is left out, so equal patterns give equal bytes. */
#include <string.h>

#include "file/document-pictures.h"
#include "file/document-words.h"
#include "file/document.h"
#include "file/xml-guard.h"
#include "pattern/change.h"

const char *const file_words_unit[] = { "mm", "cm", "in", NULL };
const char *const file_words_cloth_use[]
    = { "shell", "lining", "interfacing", "other", NULL };
const char *const file_words_press[]
    = { "open", "to-a", "to-b", "turned", NULL };
const char *const file_words_join[] = { "seam", "dart", NULL };
const char *const file_words_node_kind[]
    = { "corner", "smooth", "symmetric", NULL };
const char *const file_words_edge_kind[]
    = { "seam", "hem", "fold", "bound", "raw", NULL };
const char *const file_words_corner[]
    = { "extended", "squared", "matched", "folded-back", NULL };
const char *const file_words_corner_by[] = { "arriving", "leaving", NULL };
const char *const file_words_notch_from[] = { "start", "end", "share", NULL };
const char *const file_words_yes[] = { "no", "yes", NULL };

static void
open_tag (GString *out, guint depth, const char *name)
{
  for (guint i = 0; i < depth; i++)
    g_string_append (out, "  ");
  g_string_append_printf (out, "<%s", name);
}

static void
put_text (GString *out, const char *name, const char *value)
{
  g_string_append_printf (out, " %s=\"", name);
  file_xml_append (out, value, TRUE);
  g_string_append_c (out, '"');
}

static void
put_name (GString *out, const char *value)
{
  if (value != NULL && *value != '\0')
    put_text (out, "name", value);
}

static void
put_count (GString *out, const char *name, guint value)
{
  g_string_append_printf (out, " %s=\"%u\"", name, value);
}

static void
put_number (GString *out, const char *name, double value)
{
  g_string_append_printf (out, " %s=\"", name);
  file_xml_append_number (out, value);
  g_string_append_c (out, '"');
}

static void
put_point (GString *out, const char *name, GeoPoint p)
{
  g_string_append_printf (out, " %s=\"", name);
  file_xml_append_number (out, p.x);
  g_string_append_c (out, ' ');
  file_xml_append_number (out, p.y);
  g_string_append_c (out, '"');
}

/* Words that are first in their list are the usual ones. */
static void
put_word (GString *out, const char *name, const char *const *words, guint i)
{
  if (i > 0)
    g_string_append_printf (out, " %s=\"%s\"", name, words[i]);
}

/* extra: unknown attributes, each after a blank, then unknown elements. */
static const char *
put_extra_attributes (GString *out, const char *extra)
{
  if (extra == NULL)
    return "";
  const char *elements = strchrnul (extra, '<');
  g_string_append_len (out, extra, elements - extra);
  return elements;
}

static void
put_extra_elements (GString *out, guint depth, const char *elements)
{
  if (*elements == '\0')
    return;
  for (guint i = 0; i < depth; i++)
    g_string_append (out, "  ");
  g_string_append_printf (out, "%s\n", elements);
}

static void
put_body (GString *out, const char *name, const char *text)
{
  g_string_append_c (out, '>');
  file_xml_append (out, text, FALSE);
  g_string_append_printf (out, "</%s>\n", name);
}

static void
put_note (GString *out, guint depth, const char *note)
{
  if (note == NULL || *note == '\0')
    return;
  open_tag (out, depth, "note");
  put_body (out, "note", note);
}

static void
write_node (GString *out, guint depth, const PatternNode *node)
{
  open_tag (out, depth, "node");
  put_count (out, "id", node->id);
  put_word (out, "kind", file_words_node_kind, node->kind);
  put_point (out, "at", node->at);
  if (!geo_same (node->in, node->at))
    put_point (out, "in", node->in);
  if (!geo_same (node->out, node->at))
    put_point (out, "out", node->out);
  g_string_append (out, "/>\n");
}

static void
write_line (GString *out, guint depth, const PatternLine *line)
{
  open_tag (out, depth, "line");
  put_count (out, "id", line->id);
  put_name (out, line->name);
  g_string_append (out, ">\n");
  for (guint i = 0; i < line->n_nodes; i++)
    write_node (out, depth + 1, &line->nodes[i]);
  for (guint i = 0; i < depth; i++)
    g_string_append (out, "  ");
  g_string_append (out, "</line>\n");
}

static void
write_cloth (GString *out, const PatternCloth *cloth)
{
  open_tag (out, 1, "cloth");
  put_count (out, "id", cloth->id);
  put_name (out, cloth->name);
  g_string_append_printf (out, " use=\"%s\"", file_words_cloth_use[cloth->use]);
  put_number (out, "width", cloth->width);
  put_number (out, "thickness", cloth->thickness);
  put_number (out, "give", cloth->give);
  put_number (out, "weight", cloth->weight);
  put_count (out, "tint", cloth->tint);
  const char *elements = put_extra_attributes (out, cloth->extra);
  if (*elements == '\0')
    g_string_append (out, "/>\n");
  else
    {
      g_string_append (out, ">\n");
      put_extra_elements (out, 2, elements);
      g_string_append (out, "  </cloth>\n");
    }
}

static void
write_edge (GString *out, const PatternPiece *piece, guint i)
{
  const PatternEdge *edge = &piece->edges[i];
  open_tag (out, 2, "edge");
  put_count (out, "id", edge->id);
  put_name (out, edge->name);
  g_string_append_printf (out, " kind=\"%s\"",
                          file_words_edge_kind[edge->kind]);
  put_number (out, "allowance", edge->allowance);
  put_word (out, "corner", file_words_corner, edge->corner.kind);
  put_word (out, "corner-by", file_words_corner_by, edge->corner.governor);
  if (edge->clip_spacing > 0)
    put_number (out, "clip-spacing", edge->clip_spacing);
  const char *elements = put_extra_attributes (out, edge->extra);
  g_string_append (out, ">\n");
  guint last = i + 1 < piece->n_edges ? edge[1].first : piece->n_nodes;
  for (guint k = edge->first; k < last; k++)
    write_node (out, 3, &piece->nodes[k]);
  put_extra_elements (out, 3, elements);
  g_string_append (out, "    </edge>\n");
}

static void
write_notches_and_cuts (GString *out, const PatternPiece *piece)
{
  for (guint i = 0; i < piece->n_notches; i++)
    {
      const PatternNotch *n = &piece->notches[i];
      open_tag (out, 2, "notch");
      put_count (out, "id", n->id);
      put_count (out, "edge", n->edge);
      put_count (out, "count", (guint)n->count);
      g_string_append_printf (out, " from=\"%s\"",
                              file_words_notch_from[n->from]);
      put_number (out, "amount", n->amount);
      g_string_append (out, "/>\n");
    }
  for (guint i = 0; i < piece->n_cuts; i++)
    {
      const PatternCut *c = &piece->cuts[i];
      open_tag (out, 2, "cut");
      put_count (out, "cloth", c->cloth);
      put_count (out, "count", (guint)c->count);
      put_word (out, "mirrored", file_words_yes, c->mirrored ? 1 : 0);
      g_string_append (out, "/>\n");
    }
}

static void
write_grain (GString *out, const PatternPiece *piece)
{
  if (!piece->has_grain)
    return;
  open_tag (out, 2, "grain");
  put_point (out, "from", piece->grain_from);
  put_point (out, "to", piece->grain_to);
  put_word (out, "both-ways", file_words_yes, piece->grain_both_ways ? 1 : 0);
  g_string_append (out, "/>\n");
}

static void
write_marks (GString *out, const PatternPiece *piece)
{
  for (guint i = 0; i < piece->n_buttonholes; i++)
    {
      const PatternButtonhole *b = &piece->buttonholes[i];
      open_tag (out, 2, "buttonhole");
      put_count (out, "id", b->id);
      put_point (out, "at", b->at);
      put_number (out, "angle", b->angle);
      put_number (out, "length", b->length);
      g_string_append (out, "/>\n");
    }
  for (guint i = 0; i < piece->n_drills; i++)
    {
      open_tag (out, 2, "drill");
      put_count (out, "id", piece->drills[i].id);
      put_point (out, "at", piece->drills[i].at);
      g_string_append (out, "/>\n");
    }
  for (guint i = 0; i < piece->n_texts; i++)
    {
      const PatternText *t = &piece->texts[i];
      open_tag (out, 2, "words");
      put_count (out, "id", t->id);
      put_point (out, "at", t->at);
      put_number (out, "angle", t->angle);
      put_number (out, "size", t->size);
      put_body (out, "words", t->text);
    }
  for (guint i = 0; i < piece->n_lines; i++)
    write_line (out, 2, &piece->lines[i]);
}

static void
write_piece (GString *out, const PatternPiece *piece)
{
  open_tag (out, 1, "piece");
  put_count (out, "id", piece->id);
  put_name (out, piece->name);
  const char *elements = put_extra_attributes (out, piece->extra);
  g_string_append (out, ">\n");
  put_note (out, 2, piece->note);
  write_grain (out, piece);
  for (guint i = 0; i < piece->n_edges; i++)
    write_edge (out, piece, i);
  write_notches_and_cuts (out, piece);
  write_marks (out, piece);
  put_extra_elements (out, 2, elements);
  g_string_append (out, "  </piece>\n");
}

static void
write_seam (GString *out, const PatternSeam *seam)
{
  open_tag (out, 1, "seam");
  put_count (out, "id", seam->id);
  put_name (out, seam->name);
  put_word (out, "join", file_words_join, seam->join);
  put_number (out, "ease", seam->ease);
  g_string_append_printf (out, " press=\"%s\"", file_words_press[seam->press]);
  const char *elements = put_extra_attributes (out, seam->extra);
  g_string_append (out, ">\n");
  for (int s = 0; s < 2; s++)
    {
      open_tag (out, 2, "side");
      g_string_append (out, ">\n");
      for (guint i = 0; i < seam->sides[s].n_runs; i++)
        {
          const PatternRun *run = &seam->sides[s].runs[i];
          open_tag (out, 3, "run");
          put_count (out, "piece", run->piece);
          put_count (out, "edge", run->edge);
          put_word (out, "reversed", file_words_yes, run->reversed ? 1 : 0);
          g_string_append (out, "/>\n");
        }
      g_string_append (out, "    </side>\n");
    }
  for (guint i = 0; i < seam->n_spans; i++)
    {
      const PatternEaseSpan *span = &seam->spans[i];
      open_tag (out, 2, "ease");
      if (span->from != 0)
        put_count (out, "from", span->from);
      if (span->to != 0)
        put_count (out, "to", span->to);
      put_number (out, span->per_cent ? "per-cent" : "amount", span->amount);
      g_string_append (out, "/>\n");
    }
  put_extra_elements (out, 2, elements);
  g_string_append (out, "  </seam>\n");
}

static void
write_figure (GString *out, const PatternFigure *figure)
{
  open_tag (out, 1, "figure");
  put_count (out, "id", figure->id);
  put_name (out, figure->name);
  put_number (out, "length", figure->mm);
  put_body (out, "figure", figure->note);
}

static void
write_hand (GString *out, const PatternHandChange *hand)
{
  GeoPoint none = { 0, 0 };
  open_tag (out, 2, "hand");
  put_text (out, "part", hand->part);
  put_word (out, "gone", file_words_yes, hand->gone ? 1 : 0);
  if (hand->kind >= 0)
    g_string_append_printf (out, " kind=\"%s\"",
                            file_words_node_kind[hand->kind]);
  if (!geo_same (hand->at, none))
    put_point (out, "at", hand->at);
  if (!geo_same (hand->in, none))
    put_point (out, "in", hand->in);
  if (!geo_same (hand->out, none))
    put_point (out, "out", hand->out);
  g_string_append (out, "/>\n");
}

static void
write_made (GString *out, const PatternMade *made)
{
  open_tag (out, 2, "made");
  put_text (out, "part", made->part);
  put_count (out, "id", made->id);
  const GeoMotion *f = &made->frame;
  if (f->c != 1 || f->s != 0 || f->dx != 0 || f->dy != 0 || f->flip)
    {
      put_point (out, "at", geo_point (f->dx, f->dy));
      put_point (out, "along", geo_point (f->c, f->s));
      put_word (out, "over", file_words_yes, f->flip ? 1 : 0);
    }
  g_string_append (out, "/>\n");
}

static void
write_arguments (GString *out, const PatternStep *step)
{
  for (guint i = 0; i < step->n_arguments; i++)
    {
      open_tag (out, 2, "argument");
      put_text (out, "key", step->arguments[i].key);
      put_text (out, "text", step->arguments[i].text);
      g_string_append (out, "/>\n");
    }
}

static void
write_recipe (GString *out, const PatternRecipe *recipe)
{
  open_tag (out, 1, "recipe");
  put_count (out, "id", recipe->id);
  put_name (out, recipe->name);
  put_text (out, "verb", recipe->step->verb);
  if (recipe->trouble)
    put_text (out, "trouble", recipe->trouble);
  const char *elements = put_extra_attributes (out, recipe->extra);
  g_string_append (out, ">\n");
  write_arguments (out, recipe->step);
  for (guint i = 0; i < recipe->n_made; i++)
    write_made (out, &recipe->made[i]);
  for (guint i = 0; i < recipe->n_changes; i++)
    write_hand (out, &recipe->changes[i]);
  put_extra_elements (out, 2, elements);
  g_string_append (out, "  </recipe>\n");
}

static void
put_pattern (GString *out, const Pattern *p)
{
  put_name (out, p->name);
  g_string_append_printf (out, " unit=\"%s\"", file_words_unit[p->unit]);
  put_number (out, "tolerance", p->tolerance);
  put_count (out, "next", p->next_id);
}

static const char *
write_head (GString *out, const Pattern *p)
{
  g_string_append (out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
  open_tag (out, 0, "bodkin-pattern");
  put_count (out, "version", FILE_DOCUMENT_VERSION);
  put_pattern (out, p);
  const char *elements = put_extra_attributes (out, p->extra);
  g_string_append (out, ">\n");
  return elements;
}

/* What a pattern holds, in whatever element. */
static void
write_contents (GString *out, const Pattern *p)
{
  put_note (out, 1, p->note);
  for (guint i = 0; i < p->n_cloths; i++)
    write_cloth (out, &p->cloths[i]);
  for (guint i = 0; i < p->n_figures; i++)
    write_figure (out, &p->figures[i]);
  for (guint i = 0; i < p->n_pieces; i++)
    write_piece (out, p->pieces[i]);
  for (guint i = 0; i < p->n_seams; i++)
    write_seam (out, p->seams[i]);
  for (guint i = 0; i < p->n_recipes; i++)
    write_recipe (out, p->recipes[i]);
  for (guint i = 0; i < p->n_lines; i++)
    write_line (out, 1, &p->lines[i]);
  for (guint i = 0; i < p->n_set_aside; i++)
    {
      open_tag (out, 1, "set-aside");
      put_text (out, "finding", p->set_aside[i].key);
      put_body (out, "set-aside", p->set_aside[i].note);
    }
}

/* --- fittings and changes ------------------------------------------------------ */
static void
write_fitting (GString *out, const PatternFitting *fitting)
{
  open_tag (out, 1, "fitting");
  put_count (out, "id", fitting->id);
  put_name (out, fitting->name);
  put_count (out, "at", fitting->at);
  if (*fitting->note != '\0')
    put_text (out, "note", fitting->note);
  g_string_append (out, ">\n");
  open_tag (out, 2, "kept");
  put_pattern (out, fitting->kept);
  g_string_append (out, ">\n");
  write_contents (out, fitting->kept);
  g_string_append (out, "    </kept>\n  </fitting>\n");
}

static void
write_change (GString *out, const PatternChange *change)
{
  open_tag (out, 1, "change");
  put_text (out, "label", change->label);
  put_count (out, "next", change->next_id);
  if (change->step != NULL)
    put_text (out, "verb", change->step->verb);
  g_string_append (out, ">\n");
  if (change->step != NULL)
    write_arguments (out, change->step);
  else
    {
      g_string_append (out, "    <was>\n");
      write_contents (out, change->was);
      g_string_append (out, "    </was>\n    <is>\n");
      write_contents (out, change->is);
      g_string_append (out, "    </is>\n");
    }
  g_string_append (out, "  </change>\n");
}

char *
file_document_write (const Pattern *p, gsize *length)
{
  return file_document_write_at (p, &(FileWhere){ 0 }, length);
}

char *
file_document_write_at (const Pattern *p, const FileWhere *where, gsize *length)
{
  g_return_val_if_fail (p != NULL, NULL);
  GString *out = g_string_new (NULL);
  const char *elements = write_head (out, p);
  write_contents (out, p);
  for (guint i = 0; i < p->n_fittings; i++)
    write_fitting (out, p->fittings[i]);
  for (guint i = 0; i < p->n_changes; i++)
    write_change (out, p->changes[i]);
  for (guint i = 0; i < p->n_pictures; i++)
    file_write_picture (out, p->pictures[i], where);
  put_extra_elements (out, 1, elements);
  g_string_append (out, "</bodkin-pattern>\n");
  if (length != NULL)
    *length = out->len;
  return g_string_free (out, FALSE);
}
