/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report for reading: her unit, her language, columns that line up. */
#include <glib/gi18n.h>
#include <string.h>

#include "file/report-private.h"
#include "sewing/words.h"

/* Radii beyond this are as good as straight at the table. */
/* What easing can't take up any more; a hem is faced there (methods of the
 * trade; common practice). */
#define FACED_HEM 0.30

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

static void
write_intervals (GString *out, const Report *r, const SewingSeam *seam)
{
  Table table = table_new (7, 2);
  head (&table, (const char *[]){ _ ("to, on A"), _ ("to, on B"),
                                  _ ("A so far"), _ ("length A"),
                                  _ ("length B"), _ ("A − B"), _ ("%") });
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
  g_string_append_printf (out, _ ("  in all A − B is %s; meant %s\n\n"), ease,
                          meant);
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

static void
write_cuts (GString *out, const Report *r)
{
  title (out, _ ("Clips and notches in the allowances"));
  Table table = table_new (6, 3);
  head (&table,
        (const char *[]){ _ ("piece"), _ ("edge"), _ ("cuts"), _ ("apart"),
                          _ ("deep"), _ ("trim first to") });
  for (guint p = 0; p < r->pattern->n_pieces; p++)
    for (guint i = 0; i < r->pattern->pieces[p]->n_edges; i++)
      {
        const PatternPiece *piece = r->pattern->pieces[p];
        ReportCuts cuts = report_cuts (r, piece, i);
        if (cuts.slits + cuts.wedges == 0)
          continue;
        g_autofree char *near = length (r, cuts.shortest_gap);
        g_autofree char *far = length (r, cuts.longest_gap);
        cell (&table, g_strdup (piece_name (piece)));
        cell (&table, edge_name (piece, i));
        cell (&table, cuts_words (&cuts));
        cell (&table, cuts.longest_gap <= 0 ? g_strdup ("–")
                      : g_str_equal (near, far)
                          ? g_strdup (near)
                          : g_strdup_printf (_ ("%s to %s"), near, far));
        cell (&table, length (r, cuts.depth));
        cell (&table,
              cuts.trim_to > 0 ? length (r, cuts.trim_to) : g_strdup ("–"));
      }
  if (table.cells->len == table.columns)
    g_string_append (
        out, _ ("  None: no edge that is sewn to another needs any.\n"));
  table_end (&table, out);
  g_string_append (
      out,
      _ ("  An estimate from the curve, the width of the allowance and "
         "the give of the cloth.\n  Try it on a scrap. A rotary cutter "
         "or points of scissors go through a stitch line in a moment:\n  "
         "stop short of it, cut away from the hand, and close the blade.\n\n"));
}

static double
give_of (const Report *r, const PatternPiece *piece)
{
  for (guint i = 0; i < piece->n_cuts; i++)
    {
      const PatternCloth *cloth
          = pattern_get_cloth (r->pattern, piece->cuts[i].cloth);
      if (cloth != NULL)
        return cloth->give;
    }
  return r->pattern->n_cloths > 0 ? r->pattern->cloths[0].give : 0.04;
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
        ReportCuts cuts = report_cuts (r, piece, i);
        if (fabs (cuts.share) <= give_of (r, piece))
          continue;
        cell (&table, g_strdup (piece_name (piece)));
        cell (&table, edge_name (piece, i));
        cell (&table, sewing_words_change (r->pattern, cuts.surplus));
        cell (&table, g_strdup (cuts.share > FACED_HEM ? _ ("face it")
                                : cuts.share > 0       ? _ ("ease-stitch")
                                                       : _ ("clip or face "
                                                                  "it")));
      }
  if (table.cells->len > table.columns)
    title (out, _ ("Fullness of turned-up hems"));
  gboolean any = table.cells->len > table.columns;
  table_end (&table, out);
  if (any)
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
  return g_string_free (out, FALSE);
}
