/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report for other programs: XML 1.0 in UTF-8. Every length is in
 * millimetres and says so in its name. */
#include <string.h>

#include "file/report-private.h"

typedef struct
{
  GString *out;
  GPtrArray *open; /* names of the elements that are open */
  gboolean in_tag; /* the last start tag is not closed yet */
} Xml;

/* Characters XML 1.0 can't carry at all (production 2, Char) become U+FFFD;
 * white space in an attribute is written so that it is read back as it
 * was. */
static void
append_escaped (GString *out, const char *text, gboolean attribute)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  for (const char *c = valid; *c != '\0'; c = g_utf8_next_char (c))
    {
      gunichar u = g_utf8_get_char (c);
      if (u == '&')
        g_string_append (out, "&amp;");
      else if (u == '<')
        g_string_append (out, "&lt;");
      else if (u == '>')
        g_string_append (out, "&gt;");
      else if (u == '"' && attribute)
        g_string_append (out, "&quot;");
      else if (u == '\r' || (attribute && (u == '\n' || u == '\t')))
        g_string_append_printf (out, "&#%u;", u);
      else if ((u < 0x20 && u != '\n' && u != '\t') || u == 0xFFFE
               || u == 0xFFFF)
        g_string_append (out, "\357\277\275");
      else
        g_string_append_unichar (out, u);
    }
}

static void
finish_tag (Xml *xml)
{
  if (xml->in_tag)
    g_string_append (xml->out, ">\n");
  xml->in_tag = FALSE;
}

static void
indent (Xml *xml)
{
  for (guint i = 0; i < xml->open->len; i++)
    g_string_append (xml->out, "  ");
}

static void
start (Xml *xml, const char *name)
{
  finish_tag (xml);
  indent (xml);
  g_string_append_printf (xml->out, "<%s", name);
  g_ptr_array_add (xml->open, (gpointer)name);
  xml->in_tag = TRUE;
}

static void
end (Xml *xml)
{
  const char *name = xml->open->pdata[xml->open->len - 1];
  g_ptr_array_set_size (xml->open, (int)xml->open->len - 1);
  if (xml->in_tag)
    g_string_append (xml->out, "/>\n");
  else
    {
      indent (xml);
      g_string_append_printf (xml->out, "</%s>\n", name);
    }
  xml->in_tag = FALSE;
}

static void
attribute (Xml *xml, const char *name, const char *value)
{
  g_string_append_printf (xml->out, " %s=\"", name);
  append_escaped (xml->out, value, TRUE);
  g_string_append_c (xml->out, '"');
}

/* Left out where it is not finite. */
static void
number (Xml *xml, const char *name, double value, int places)
{
  if (!isfinite (value))
    return;
  char format[8], text[G_ASCII_DTOSTR_BUF_SIZE];
  g_snprintf (format, sizeof format, "%%.%df", places);
  g_ascii_formatd (text, sizeof text, format, value);
  const char *from = text;
  if (*from == '-' && strspn (from, "-0.") == strlen (from))
    from++; /* no "-0.000" */
  attribute (xml, name, from);
}

static void
count (Xml *xml, const char *name, guint value)
{
  g_autofree char *text = g_strdup_printf ("%u", value);
  attribute (xml, name, text);
}

static void
text_element (Xml *xml, const char *name, const char *text)
{
  finish_tag (xml);
  indent (xml);
  g_string_append_printf (xml->out, "<%s>", name);
  append_escaped (xml->out, text, FALSE);
  g_string_append_printf (xml->out, "</%s>\n", name);
}

/* --- parts ----------------------------------------------------------------------- */

static void
write_computed (Xml *xml, const GeoClipPlan *plan)
{
  count (xml, "computed", (guint)plan->count);
  number (xml, "computed-shortest-gap-mm", plan->shortest_gap, 3);
  number (xml, "computed-longest-gap-mm", plan->longest_gap, 3);
}

static void
write_edge (Xml *xml, const Report *r, const PatternPiece *piece, guint i)
{
  const SewingPiece *facts = sewing_facts_piece (r->facts, piece);
  const PatternEdge *edge = &piece->edges[i];
  start (xml, "edge");
  count (xml, "id", edge->id);
  attribute (xml, "name", edge->name);
  attribute (xml, "kind", pattern_edge_kind_word (edge->kind));
  number (xml, "length-mm", facts->lengths[i], 4);
  number (xml, "allowance-mm", pattern_edge_width (edge), 3);
  number (xml, "tightest-radius-mm", report_tightest (r, piece, i), 3);
  ReportCuts cuts = report_cuts (r, piece, i);
  SewingAllowance a;
  gboolean known
      = sewing_facts_allowance (r->facts, r->pattern, piece->id, edge->id, &a);
  if (edge->kind == PATTERN_EDGE_HEM)
    {
      number (xml, "fullness-mm", cuts.surplus, 3);
      if (known)
        attribute (xml, "hem", sewing_hem_word (a.hem));
    }
  if (edge->clip_spacing > 0)
    number (xml, "clip-spacing-by-hand-mm", edge->clip_spacing, 3);
  if (known && a.seam != NULL)
    attribute (xml, "lies", sewing_lies_word (&a));
  if (cuts.slits + cuts.wedges > 0)
    {
      start (xml, "clips");
      count (xml, "slits", cuts.slits);
      count (xml, "wedges", cuts.wedges);
      number (xml, "shortest-gap-mm", cuts.shortest_gap, 3);
      number (xml, "longest-gap-mm", cuts.longest_gap, 3);
      if (a.by_hand > 0)
        write_computed (xml, a.computed);
      number (xml, "handbook-least-mm", SEWING_HANDBOOK_LEAST, 2);
      number (xml, "handbook-most-mm", SEWING_HANDBOOK_MOST, 2);
      number (xml, "depth-mm", cuts.depth, 3);
      number (xml, "widest-mouth-mm", cuts.widest_mouth, 3);
      number (xml, "surplus-mm", cuts.surplus, 3);
      if (cuts.trim_to > 0)
        number (xml, "trim-to-mm", cuts.trim_to, 3);
      const GeoClipPlan *plan
          = sewing_facts_clips (r->facts, r->pattern, piece->id, edge->id);
      for (size_t k = 0; k < plan->count; k++)
        {
          start (xml, plan->cuts[k].kind == GEO_CUT_SLIT ? "slit" : "wedge");
          number (xml, "at-mm", plan->cuts[k].at, 3);
          end (xml);
        }
      end (xml);
    }
  end (xml);
}

static void
write_piece (Xml *xml, const Report *r, const PatternPiece *piece)
{
  const SewingPiece *facts = sewing_facts_piece (r->facts, piece);
  start (xml, "piece");
  count (xml, "id", piece->id);
  attribute (xml, "name", piece->name);
  number (xml, "area-mm2", facts->area, 2);
  number (xml, "cut-area-mm2", facts->ring.area, 2);
  number (xml, "perimeter-mm", facts->perimeter, 4);
  for (guint i = 0; i < piece->n_edges; i++)
    write_edge (xml, r, piece, i);
  end (xml);
}

static void
write_runs (Xml *xml, const Report *r, const PatternSeam *seam, int side)
{
  for (guint i = 0; i < seam->sides[side].n_runs; i++)
    {
      const PatternRun *run = &seam->sides[side].runs[i];
      const PatternPiece *piece;
      const PatternEdge *edge
          = pattern_get_edge (r->pattern, run->piece, run->edge, &piece);
      start (xml, "run");
      attribute (xml, "side", side == 0 ? "A" : "B");
      attribute (xml, "piece", piece->name);
      attribute (xml, "edge", edge->name);
      attribute (xml, "reversed", run->reversed ? "true" : "false");
      end (xml);
    }
}

static void
write_spans (Xml *xml, const SewingSeam *facts)
{
  for (guint i = 0; i < facts->n_spans; i++)
    {
      const SewingEaseSpan *span = &facts->spans[i];
      start (xml, "ease");
      if (span->span->from != 0)
        count (xml, "from", span->span->from);
      if (span->span->to != 0)
        count (xml, "to", span->span->to);
      number (xml, "meant-mm", span->ease, 4);
      if (span->span->per_cent)
        number (xml, "per-cent", span->span->amount, 4);
      attribute (xml, "lost", span->lost ? "true" : "false");
      end (xml);
    }
}

static void
write_seam (Xml *xml, const Report *r, const PatternSeam *seam)
{
  const SewingSeam *facts = sewing_facts_seam (r->facts, r->pattern, seam);
  if (facts == NULL)
    return;
  start (xml, "seam");
  count (xml, "id", seam->id);
  attribute (xml, "name", seam->name);
  attribute (xml, "join", report_join_word (seam->join));
  attribute (xml, "press", report_press_word (seam->press));
  number (xml, "length-a-mm", facts->lengths[0], 4);
  number (xml, "length-b-mm", facts->lengths[1], 4);
  number (xml, "ease-mm", facts->ease, 4);
  number (xml, "meant-ease-mm", facts->meant, 4);
  const SewingShaping *shaping = report_shaping (r, seam);
  if (shaping != NULL)
    {
      number (xml, "shaping-deg", shaping->total_deg, 3);
      number (xml, "sharpest-20-mm-deg", shaping->sharp_deg, 3);
    }
  write_runs (xml, r, seam, 0);
  write_runs (xml, r, seam, 1);
  for (guint i = 0; i < facts->n_intervals; i++)
    {
      const SewingInterval *in = &facts->intervals[i];
      start (xml, "interval");
      number (xml, "length-a-mm", in->a_to - in->a_from, 4);
      number (xml, "length-b-mm", in->b_to - in->b_from, 4);
      number (xml, "difference-mm", in->difference, 4);
      number (xml, "per-cent", in->per_cent, 4);
      number (xml, "meant-mm", in->meant, 4);
      if (shaping != NULL)
        number (xml, "shaping-deg",
                sewing_shaping_between (shaping, in->a_from, in->a_to), 3);
      end (xml);
    }
  write_spans (xml, facts);
  for (guint i = 0; i < facts->n_loose; i++)
    {
      start (xml, "loose-notch");
      attribute (xml, "side", facts->loose[i].side == 0 ? "A" : "B");
      count (xml, "notch", facts->loose[i].notch);
      number (xml, "at-mm", facts->loose[i].at, 4);
      end (xml);
    }
  end (xml);
}

static void
write_cloth (Xml *xml, const Report *r, const PatternCloth *cloth)
{
  start (xml, "cloth");
  count (xml, "id", cloth->id);
  attribute (xml, "name", cloth->name);
  attribute (xml, "use", report_use_word (cloth->use));
  number (xml, "cut-area-mm2", sewing_cutting_area (r->cutting, cloth->id), 2);
  double mass = report_mass (r, cloth);
  if (mass > 0)
    number (xml, "mass-g", mass, 1);
  for (guint i = 0; i < r->cutting->len; i++)
    {
      const SewingCutting *item = &g_array_index (r->cutting, SewingCutting, i);
      if (item->cloth != cloth->id)
        continue;
      start (xml, "cut");
      attribute (xml, "piece",
                 pattern_get_piece (r->pattern, item->piece)->name);
      count (xml, "count", (guint)item->count);
      attribute (xml, "mirrored", item->mirrored ? "true" : "false");
      attribute (xml, "on-fold", item->on_fold ? "true" : "false");
      end (xml);
    }
  end (xml);
}

/* Rules of ours, which the attribute says. */
static void
write_strain (Xml *xml, const Report *r)
{
  const SewingStrain *strain = r->strain;
  start (xml, "strain");
  attribute (xml, "estimate", "true");
  if (strain->whole && strain->mass > 0)
    number (xml, "mass-g", strain->mass, 1);
  for (guint i = 0; i < strain->loads->len; i++)
    {
      const SewingLoad *load = &g_array_index (strain->loads, SewingLoad, i);
      start (xml, "load");
      count (xml, "seam", load->seam);
      number (xml, "load-g", load->load, 1);
      number (xml, "length-mm", load->length, 2);
      number (xml, "per-cm-g", load->per_cm, 3);
      attribute (xml, "rests", load->rests ? "true" : "false");
      end (xml);
    }
  for (guint i = 0; i < strain->advice->len; i++)
    {
      const SewingAdvice *advice
          = &g_array_index (strain->advice, SewingAdvice, i);
      g_autofree char *text = sewing_advice_text (r->pattern, advice);
      start (xml, "advice");
      attribute (xml, "kind", sewing_advice_word (advice->kind));
      if (advice->seam != 0)
        count (xml, "seam", advice->seam);
      count (xml, "piece", advice->piece);
      count (xml, "edge", advice->edge);
      number (xml, "bias", advice->bias, 4);
      text_element (xml, "text", text);
      end (xml);
    }
  end (xml);
}

/* What is offered first comes first. */
static void
write_remedy (Xml *xml, const SewingRemedy *remedy)
{
  start (xml, "remedy");
  attribute (xml, "kind", report_remedy_word (remedy->kind));
  number (xml, "amount", remedy->amount, 4);
  attribute (xml, "label", remedy->label);
  end (xml);
}

static void
write_finding (Xml *xml, const SewingFinding *finding)
{
  start (xml, "finding");
  attribute (xml, "key", finding->key);
  attribute (xml, "check", sewing_check_word (finding->check));
  attribute (xml, "weight", report_weight_word (finding));
  attribute (xml, "set-aside", finding->set_aside ? "true" : "false");
  if (finding->piece != 0)
    count (xml, "piece", finding->piece);
  if (finding->edge != 0)
    count (xml, "edge", finding->edge);
  if (finding->seam != 0)
    count (xml, "seam", finding->seam);
  number (xml, "x-mm", finding->at.x, 3);
  number (xml, "y-mm", finding->at.y, 3);
  number (xml, "amount", finding->amount, 4);
  gboolean angle = finding->check == SEWING_CHECK_FOLD_SQUARE
                   || finding->check == SEWING_CHECK_JOINT
                   || finding->check == SEWING_CHECK_POINTED;
  attribute (xml, "amount-unit", angle ? "degree" : "mm");
  text_element (xml, "text", finding->text);
  if (finding->note != NULL)
    text_element (xml, "note", finding->note);
  if (finding->remedy.kind != SEWING_REMEDY_NONE)
    write_remedy (xml, &finding->remedy);
  for (guint i = 0; i < finding->n_others; i++)
    write_remedy (xml, &finding->others[i]);
  end (xml);
}

char *
report_xml (const Report *r)
{
  g_autoptr (GPtrArray) open = g_ptr_array_new ();
  Xml xml
      = { .out = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"),
          .open = open };
  start (&xml, "report");
  attribute (&xml, "version", "1");
  attribute (&xml, "pattern", r->pattern->name);
  number (&xml, "tolerance-mm", r->pattern->tolerance, 4);
  for (guint i = 0; i < r->pattern->n_pieces; i++)
    write_piece (&xml, r, r->pattern->pieces[i]);
  for (guint i = 0; i < r->pattern->n_seams; i++)
    write_seam (&xml, r, r->pattern->seams[i]);
  for (guint i = 0; i < r->pattern->n_cloths; i++)
    write_cloth (&xml, r, &r->pattern->cloths[i]);
  write_strain (&xml, r);
  start (&xml, "findings");
  count (&xml, "open", sewing_checks_open (r->findings));
  for (guint i = 0; i < r->findings->len; i++)
    write_finding (&xml, r->findings->pdata[i]);
  end (&xml);
  end (&xml);
  return g_string_free (xml.out, FALSE);
}
