/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report for reading: her unit, her language, columns that line up. */
#include <glib/gi18n.h>
#include <string.h>

#include "file/report-private.h"
#include "sewing/words.h"

/* --- tables -------------------------------------------------------------------- */

/* Rows of cells, each row as long as the first. */
typedef struct
{
  GPtrArray *cells;
  guint columns;
  guint lefts; /* so many columns are set to the left, the rest to the right */
} Table;

static Table
table_new (guint columns, guint lefts)
{
  return (Table){ g_ptr_array_new_with_free_func (g_free), columns, lefts };
}

/* Takes over the text. */
static void
cell (Table *table, char *text)
{
  g_ptr_array_add (table->cells, text);
}

static void
head (Table *table, const char *const *titles)
{
  for (guint i = 0; i < table->columns; i++)
    cell (table, g_strdup (titles[i]));
}

static void
pad (GString *out, glong by)
{
  for (; by > 0; by--)
    g_string_append_c (out, ' ');
}

/* Writes the table, if it has more than its head, and lets it go. */
static void
table_end (Table *table, GString *out)
{
  guint n = table->cells->len / table->columns;
  g_autofree glong *widths = g_new0 (glong, table->columns);
  for (guint i = 0; i < n * table->columns; i++)
    {
      glong *width = &widths[i % table->columns];
      *width = MAX (*width, g_utf8_strlen (table->cells->pdata[i], -1));
    }
  for (guint row = 0; n > 1 && row < n; row++)
    {
      g_autoptr (GString) line = g_string_new ("  ");
      for (guint c = 0; c < table->columns; c++)
        {
          const char *text = table->cells->pdata[row * table->columns + c];
          glong by = widths[c] - g_utf8_strlen (text, -1);
          if (c > 0)
            g_string_append (line, "  ");
          if (c >= table->lefts)
            pad (line, by);
          g_string_append (line, text);
          if (c < table->lefts)
            pad (line, by);
        }
      g_strchomp (line->str);
      g_string_append_printf (out, "%s\n", line->str);
    }
  g_ptr_array_unref (table->cells);
}

static void
title (GString *out, const char *text)
{
  g_string_append_printf (out, "%s\n", text);
  for (glong i = g_utf8_strlen (text, -1); i > 0; i--)
    g_string_append_c (out, '-');
  g_string_append_c (out, '\n');
}

/* --- figures ------------------------------------------------------------------- */

static char *
length (const Report *r, double mm)
{
  return pattern_length_format (mm, r->pattern->unit, FALSE);
}

static char *
cloth_area (const Report *r, double mm2)
{
  if (r->pattern->unit == PATTERN_INCH)
    return g_strdup_printf (_ ("%.2f sq yd"), mm2 / (914.4 * 914.4));
  return g_strdup_printf (_ ("%.2f m²"), mm2 / 1e6);
}

static const char *
kind_name (PatternEdgeKind kind)
{
  switch (kind)
    {
    case PATTERN_EDGE_SEAM:
      return _ ("seam");
    case PATTERN_EDGE_HEM:
      return _ ("hem");
    case PATTERN_EDGE_FOLD:
      return _ ("on the fold");
    case PATTERN_EDGE_BOUND:
      return _ ("bound");
    case PATTERN_EDGE_RAW:
      return _ ("raw");
    default:
      return "";
    }
}

static char *
edge_name (const PatternPiece *piece, guint index)
{
  const char *name = piece->edges[index].name;
  return *name != '\0' ? g_strdup (name)
                       : g_strdup_printf (_ ("edge %u"), index + 1);
}

static const char *
piece_name (const PatternPiece *piece)
{
  return *piece->name != '\0' ? piece->name : _ ("(no name)");
}

/* --- parts --------------------------------------------------------------------- */

/* "1 pair (one turned over)" */
static char *
cutting_words (const SewingCutting *item)
{
  int pairs = item->count / 2;
  if (item->on_fold)
    return g_strdup (_ ("on the fold"));
  if (!item->mirrored || pairs == 0)
    return g_strdup ("");
  if (item->count % 2)
    return g_strdup_printf (
        ngettext ("%d pair (one turned over) and one more",
                  "%d pairs (one of each turned over) and one more",
                  (gulong)pairs),
        pairs);
  return g_strdup_printf (ngettext ("%d pair (one turned over)",
                                    "%d pairs (one of each turned over)",
                                    (gulong)pairs),
                          pairs);
}

static void
write_cutting (GString *out, const Report *r)
{
  title (out, _ ("Cutting list"));
  if (r->cutting->len == 0)
    g_string_append (out, _ ("  No piece says what it is cut from.\n\n"));
  for (guint c = 0; c < r->pattern->n_cloths; c++)
    {
      const PatternCloth *cloth = &r->pattern->cloths[c];
      double whole = sewing_cutting_area (r->cutting, cloth->id);
      if (whole <= 0)
        continue;
      g_string_append_printf (out, "%s\n", cloth->name);
      Table table = table_new (3, 3);
      head (&table, (const char *[]){ _ ("piece"), _ ("cut"), "" });
      for (guint i = 0; i < r->cutting->len; i++)
        {
          const SewingCutting *item
              = &g_array_index (r->cutting, SewingCutting, i);
          if (item->cloth != cloth->id)
            continue;
          const PatternPiece *piece
              = pattern_get_piece (r->pattern, item->piece);
          cell (&table, g_strdup (piece_name (piece)));
          cell (&table, g_strdup_printf ("%d", item->count));
          cell (&table, cutting_words (item));
        }
      table_end (&table, out);
      g_autofree char *sum = cloth_area (r, whole);
      double mass = report_mass (r, cloth);
      if (mass > 0)
        g_string_append_printf (out,
                                _ ("  in all %s of cloth, without what is "
                                   "left between the pieces, %.0f g"),
                                sum, mass);
      else
        g_string_append_printf (out,
                                _ ("  in all %s of cloth, without what is "
                                   "left between the pieces"),
                                sum);
      g_string_append (out, "\n\n");
    }
}

static void
write_piece (GString *out, const Report *r, const PatternPiece *piece)
{
  const SewingPiece *facts = sewing_facts_piece (r->facts, piece);
  g_autofree char *inside = sewing_words_area (r->pattern, facts->area);
  g_autofree char *round = length (r, facts->perimeter);
  g_autofree char *cut = sewing_words_area (r->pattern, facts->ring.area);
  g_string_append_printf (
      out, _ ("%s: area %s, round the stitch line %s, as cut %s\n"),
      piece_name (piece), inside, round, cut);
  Table table = table_new (5, 2);
  head (&table, (const char *[]){ _ ("edge"), _ ("kind"), _ ("length"),
                                  _ ("allowance"), _ ("tightest radius") });
  for (guint i = 0; i < piece->n_edges; i++)
    {
      const PatternEdge *edge = &piece->edges[i];
      double width = pattern_edge_width (edge);
      cell (&table, edge_name (piece, i));
      cell (&table, g_strdup (kind_name (edge->kind)));
      cell (&table, length (r, facts->lengths[i]));
      cell (&table, width > 0 ? length (r, width) : g_strdup ("–"));
      cell (&table,
            sewing_words_radius (r->pattern, report_tightest (r, piece, i)));
    }
  table_end (&table, out);
  g_string_append_c (out, '\n');
}

static const char *
press_name (PatternPress press)
{
  switch (press)
    {
    case PATTERN_PRESS_OPEN:
      return _ ("pressed open");
    case PATTERN_PRESS_TO_A:
      return _ ("pressed to side A");
    case PATTERN_PRESS_TO_B:
      return _ ("pressed to side B");
    case PATTERN_PRESS_TURNED:
      return _ ("turned");
    default:
      return "";
    }
}

static char *
mark_name (const Report *r, const PatternSeam *seam, int side, guint notch_id,
           gboolean last)
{
  if (last)
    return g_strdup (_ ("end"));
  for (guint i = 0; notch_id != 0 && i < seam->sides[side].n_runs; i++)
    {
      const PatternPiece *piece
          = pattern_get_piece (r->pattern, seam->sides[side].runs[i].piece);
      const PatternNotch *notch = pattern_piece_get_notch (piece, notch_id);
      if (notch != NULL)
        return g_strdup (sewing_words_notch (notch->count));
    }
  return g_strdup (_ ("joint"));
}

static char *
degrees (double deg)
{
  return g_strdup_printf ("%.1f°", fabs (deg) < 0.05 ? 0 : deg);
}

/* "From the single notch to the end 6.0 mm is meant." */
static void
write_spans (GString *out, const Report *r, const SewingSeam *seam)
{
  for (guint i = 0; i < seam->n_spans; i++)
    {
      const SewingEaseSpan *span = &seam->spans[i];
      if (span->lost)
        {
          g_string_append (out, _ ("  Ease is meant between two marks one of "
                                   "which is gone: it counts for nothing.\n"));
          continue;
        }
      const SewingInterval *ends = seam->intervals;
      g_autofree char *from
          = span->first == 0 ? g_strdup (_ ("start"))
                             : mark_name (r, seam->seam, 0,
                                          ends[span->first - 1].a_notch, FALSE);
      g_autofree char *to
          = mark_name (r, seam->seam, 0, ends[span->last - 1].a_notch,
                       span->last == seam->n_intervals);
      g_autofree char *ease = sewing_words_change (r->pattern, span->ease);
      if (span->span->per_cent)
        g_string_append_printf (
            out, _ ("  meant from %s (%u) to %s (%u): %s (%.1f %%)\n"), from,
            span->first, to, span->last, ease, span->span->amount);
      else
        g_string_append_printf (out,
                                _ ("  meant from %s (%u) to %s (%u): %s\n"),
                                from, span->first, to, span->last, ease);
    }
}

static void
write_intervals (GString *out, const Report *r, const SewingSeam *seam)
{
  const SewingShaping *shaping = report_shaping (r, seam->seam);
  Table table = table_new (9, 2);
  head (&table,
        (const char *[]){ _ ("to, on A"), _ ("to, on B"), _ ("A so far"),
                          _ ("length A"), _ ("length B"), _ ("A − B"), _ ("%"),
                          _ ("meant"), _ ("shaping") });
  for (guint i = 0; i < seam->n_intervals; i++)
    {
      const SewingInterval *in = &seam->intervals[i];
      gboolean last = i + 1 == seam->n_intervals;
      cell (&table, mark_name (r, seam->seam, 0, in->a_notch, last));
      cell (&table, mark_name (r, seam->seam, 1, in->b_notch, last));
      cell (&table, length (r, in->a_to));
      cell (&table, length (r, in->a_to - in->a_from));
      cell (&table, length (r, in->b_to - in->b_from));
      cell (&table, sewing_words_change (r->pattern, in->difference));
      double per_cent = fabs (in->per_cent) < 0.005 ? 0 : in->per_cent;
      cell (&table, g_strdup_printf ("%.2f", per_cent)); /* no "-0.00" */
      cell (&table, sewing_words_change (r->pattern, in->meant));
      cell (&table, shaping == NULL ? g_strdup ("–")
                                    : degrees (sewing_shaping_between (
                                        shaping, in->a_from, in->a_to)));
    }
  table_end (&table, out);
}

static void
write_seam (GString *out, const Report *r, const PatternSeam *seam)
{
  const SewingSeam *facts = sewing_facts_seam (r->facts, r->pattern, seam);
  if (facts == NULL)
    return;
  g_autofree char *a = sewing_words_side (r->pattern, seam, 0);
  g_autofree char *b = sewing_words_side (r->pattern, seam, 1);
  const char *name = *seam->name != '\0' ? seam->name : _ ("(no name)");
  if (seam->join == PATTERN_JOIN_DART)
    g_string_append_printf (out, _ ("%s: a dart\n"), name);
  else
    g_string_append_printf (out, "%s: %s\n", name, press_name (seam->press));
  g_string_append_printf (out, "  A: %s\n  B: %s\n", a, b);
  write_intervals (out, r, facts);
  g_autofree char *ease = sewing_words_change (r->pattern, facts->ease);
  g_autofree char *meant = sewing_words_change (r->pattern, facts->meant);
  g_string_append_printf (out, _ ("  in all A − B is %s; meant %s\n"), ease,
                          meant);
  write_spans (out, r, facts);
  const SewingShaping *shaping = report_shaping (r, seam);
  if (shaping != NULL)
    {
      g_autofree char *total = degrees (shaping->total_deg);
      g_autofree char *sharp = degrees (shaping->sharp_deg);
      g_string_append_printf (
          out, _ ("  shaping: a dart of %s; the sharpest 20 mm %s\n"), total,
          sharp);
    }
  g_string_append_c (out, '\n');
}

static char *
cuts_words (const ReportCuts *cuts)
{
  g_autofree char *slits = g_strdup_printf (
      ngettext ("%u clip", "%u clips", cuts->slits), cuts->slits);
  g_autofree char *wedges = g_strdup_printf (
      ngettext ("%u wedge", "%u wedges", cuts->wedges), cuts->wedges);
  if (cuts->slits > 0 && cuts->wedges > 0)
    return g_strdup_printf ("%s, %s", slits, wedges);
  return g_strdup (cuts->slits > 0 ? slits : wedges);
}

static char *
gaps (const Report *r, double shortest, double longest)
{
  g_autofree char *near = length (r, shortest);
  g_autofree char *far = length (r, longest);
  return longest <= 0 ? g_strdup ("–")
         : g_str_equal (near, far)
             ? g_strdup (near)
             : g_strdup_printf (_ ("%s to %s"), near, far);
}

static void
write_cuts (GString *out, const Report *r)
{
  title (out, _ ("Clips and notches in the allowances"));
  Table table = table_new (8, 3);
  head (&table, (const char *[]){ _ ("piece"), _ ("edge"), _ ("cuts"),
                                  _ ("apart"), _ ("by hand"), _ ("computed"),
                                  _ ("deep"), _ ("trim first to") });
  for (guint p = 0; p < r->pattern->n_pieces; p++)
    for (guint i = 0; i < r->pattern->pieces[p]->n_edges; i++)
      {
        const PatternPiece *piece = r->pattern->pieces[p];
        ReportCuts cuts = report_cuts (r, piece, i);
        if (cuts.slits + cuts.wedges == 0)
          continue;
        SewingAllowance a;
        gboolean known = sewing_facts_allowance (
            r->facts, r->pattern, piece->id, piece->edges[i].id, &a);
        cell (&table, g_strdup (piece_name (piece)));
        cell (&table, edge_name (piece, i));
        cell (&table, cuts_words (&cuts));
        cell (&table, gaps (r, cuts.shortest_gap, cuts.longest_gap));
        cell (&table,
              known && a.by_hand > 0 ? length (r, a.by_hand) : g_strdup ("–"));
        cell (&table, known ? gaps (r, a.computed->shortest_gap,
                                    a.computed->longest_gap)
                            : g_strdup ("–"));
        cell (&table, length (r, cuts.depth));
        cell (&table,
              cuts.trim_to > 0 ? length (r, cuts.trim_to) : g_strdup ("–"));
      }
  if (table.cells->len == table.columns)
    g_string_append (
        out, _ ("  None: no edge that is sewn to another needs any.\n"));
  table_end (&table, out);
  g_autofree char *handbook = sewing_handbook_text (r->pattern);
  g_string_append_printf (out, "  %s\n", handbook);
  g_string_append (
      out,
      _ ("  An estimate from the curve, the width of the allowance and "
         "the give of the cloth.\n  Try it on a scrap. A rotary cutter "
         "or points of scissors go through a stitch line in a moment:\n  "
         "stop short of it, cut away from the hand, and close the blade.\n\n"));
}

/* Hems whose raw edge is longer (or shorter) than where it is to lie. */
static void
write_hems (GString *out, const Report *r)
{
  Table table = table_new (4, 2);
  head (&table, (const char *[]){ _ ("piece"), _ ("hem"), _ ("fullness"),
                                  _ ("what to do") });
  for (guint p = 0; p < r->pattern->n_pieces; p++)
    for (guint i = 0; i < r->pattern->pieces[p]->n_edges; i++)
      {
        const PatternPiece *piece = r->pattern->pieces[p];
        if (piece->edges[i].kind != PATTERN_EDGE_HEM)
          continue;
        SewingAllowance a;
        if (!sewing_facts_allowance (r->facts, r->pattern, piece->id,
                                     piece->edges[i].id, &a)
            || a.hem == SEWING_HEM_PRESS)
          continue;
        cell (&table, g_strdup (piece_name (piece)));
        cell (&table, edge_name (piece, i));
        cell (&table, sewing_words_change (r->pattern, a.surplus));
        cell (&table,
              g_strdup (a.hem == SEWING_HEM_FACE   ? _ ("face it")
                        : a.hem == SEWING_HEM_CLIP ? _ ("clip or face "
                                                        "it")
                                                   : _ ("ease-stitch")));
      }
  if (table.cells->len > table.columns)
    title (out, _ ("Fullness of turned-up hems"));
  gboolean any = table.cells->len > table.columns;
  table_end (&table, out);
  if (any)
    g_string_append_c (out, '\n');
}

/* What the garment weighs, where the weight rests, and what to do about it. */
static void
write_strain (GString *out, const Report *r)
{
  const SewingStrain *strain = r->strain;
  if (r->pattern->n_pieces == 0)
    return;
  title (out, _ ("Weight and strain, an estimate"));
  if (strain->whole && strain->mass > 0)
    g_string_append_printf (out, _ ("  The garment weighs about %.0f g.\n"),
                            strain->mass);
  else
    g_string_append (out, _ ("  What it weighs is not known: give each cloth "
                             "its weight.\n"));
  Table table = table_new (4, 1);
  head (&table, (const char *[]){ _ ("seam"), _ ("carries"), _ ("length"),
                                  _ ("g per cm") });
  for (guint i = 0; i < strain->loads->len; i++)
    {
      const SewingLoad *load = &g_array_index (strain->loads, SewingLoad, i);
      const PatternSeam *seam = pattern_get_seam (r->pattern, load->seam);
      cell (&table,
            g_strdup (*seam->name != '\0' ? seam->name : _ ("(no name)")));
      cell (&table, g_strdup_printf (_ ("%.0f g"), load->load));
      cell (&table, length (r, load->length));
      cell (&table, g_strdup_printf ("%.1f", load->per_cm));
    }
  table_end (&table, out);
  for (guint i = 0; i < strain->advice->len; i++)
    {
      g_autofree char *text = sewing_advice_text (
          r->pattern, &g_array_index (strain->advice, SewingAdvice, i));
      g_string_append_printf (out, "  %s\n", text);
    }
  g_string_append_c (out, '\n');
}

char *
report_text (const Report *r)
{
  GString *out = g_string_new (NULL);
  const char *name
      = *r->pattern->name != '\0' ? r->pattern->name : _ ("(no name)");
  g_string_append_printf (out, "%s\n", name);
  for (glong i = g_utf8_strlen (name, -1); i > 0; i--)
    g_string_append_c (out, '=');
  g_string_append (out, "\n\n");

  title (out, _ ("Findings"));
  g_autofree char *findings = file_report_findings (r->pattern, r->findings);
  g_string_append_printf (out, "%s\n", findings);
  write_cutting (out, r);
  title (out, _ ("Pieces"));
  for (guint i = 0; i < r->pattern->n_pieces; i++)
    write_piece (out, r, r->pattern->pieces[i]);
  if (r->pattern->n_seams > 0)
    title (out, _ ("Seams"));
  for (guint i = 0; i < r->pattern->n_seams; i++)
    write_seam (out, r, r->pattern->seams[i]);
  write_cuts (out, r);
  write_hems (out, r);
  write_strain (out, r);
  return g_string_free (out, FALSE);
}
