/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report for a spreadsheet: RFC 4180, one header, every record with the
 * same fields. What a record does not have stays empty. */
#include <string.h>

#include "file/report-private.h"

typedef enum
{
  COLUMN_RECORD,
  COLUMN_PIECE,
  COLUMN_EDGE,
  COLUMN_SEAM,
  COLUMN_SIDE,
  COLUMN_CLOTH,
  COLUMN_KIND,
  COLUMN_NUMBER,
  COLUMN_COUNT,
  COLUMN_LENGTH,
  COLUMN_LENGTH_B,
  COLUMN_DIFFERENCE,
  COLUMN_PER_CENT,
  COLUMN_ALLOWANCE,
  COLUMN_RADIUS,
  COLUMN_AREA,
  COLUMN_CUT_AREA,
  COLUMN_SHORTEST,
  COLUMN_LONGEST,
  COLUMN_DEPTH,
  COLUMN_TRIM,
  COLUMN_SURPLUS,
  COLUMN_MASS,
  COLUMN_X,
  COLUMN_Y,
  COLUMN_STATE,
  COLUMN_TEXT,
  COLUMN_MEANT,
  COLUMN_DEGREES,
  COLUMN_SHARPEST,
  COLUMN_BY_HAND,
  COLUMN_PER_CM,
  N_COLUMNS
} Column;

static const char *const headings[N_COLUMNS] = {
  "record",       "piece",           "edge",           "seam",
  "side",         "cloth",           "kind",           "number",
  "count",        "length_mm",       "length_b_mm",    "difference_mm",
  "per_cent",     "allowance_mm",    "radius_mm",      "area_mm2",
  "cut_area_mm2", "shortest_gap_mm", "longest_gap_mm", "depth_mm",
  "trim_to_mm",   "surplus_mm",      "mass_g",         "x_mm",
  "y_mm",         "state",           "text",           "meant_mm",
  "shaping_deg",  "sharpest_deg",    "by_hand_mm",     "load_g_per_cm",
};

typedef struct
{
  GString *out;
  char *fields[N_COLUMNS];
} Csv;

/* A spreadsheet takes a field that starts like this for a formula, and a name in
 * a file from elsewhere must not become one: an apostrophe is put before it. */
static gboolean
looks_like_formula (const char *text)
{
  return *text != '\0' && strchr ("=+-@\t\r", *text) != NULL;
}

static void
set (Csv *csv, Column column, const char *text)
{
  g_free (csv->fields[column]);
  csv->fields[column]
      = g_strconcat (looks_like_formula (text) ? "'" : "", text, NULL);
}

/* Nothing is written for what is not finite. */
static void
set_number (Csv *csv, Column column, double value, int places)
{
  if (!isfinite (value))
    return;
  char format[8], number[G_ASCII_DTOSTR_BUF_SIZE];
  g_snprintf (format, sizeof format, "%%.%df", places);
  g_ascii_formatd (number, sizeof number, format, value);
  if (strspn (number, "-0.") == strlen (number) && *number == '-')
    memmove (number, number + 1, strlen (number)); /* no "-0.000" */
  g_free (csv->fields[column]);
  csv->fields[column] = g_strdup (number);
}

static void
set_count (Csv *csv, Column column, guint value)
{
  g_free (csv->fields[column]);
  csv->fields[column] = g_strdup_printf ("%u", value);
}

static void
append_field (GString *out, const char *text)
{
  if (strpbrk (text, ",\"\r\n") == NULL)
    {
      g_string_append (out, text);
      return;
    }
  g_string_append_c (out, '"');
  for (; *text != '\0'; text++)
    {
      if (*text == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *text);
    }
  g_string_append_c (out, '"');
}

static void
record (Csv *csv, const char *name)
{
  set (csv, COLUMN_RECORD, name);
  for (int i = 0; i < N_COLUMNS; i++)
    {
      if (i > 0)
        g_string_append_c (csv->out, ',');
      if (csv->fields[i] != NULL)
        append_field (csv->out, csv->fields[i]);
      g_clear_pointer (&csv->fields[i], g_free);
    }
  g_string_append (csv->out, "\r\n");
}

/* Beside what is cut: what is computed where it is fixed by hand, and the
 * handbooks' range. */
static void
write_other_spacings (Csv *csv, const Report *r, const PatternPiece *piece,
                      guint i)
{
  SewingAllowance a;
  if (!sewing_facts_allowance (r->facts, r->pattern, piece->id,
                               piece->edges[i].id, &a))
    return;
  for (int k = a.by_hand > 0 ? 0 : 1; k < 2; k++)
    {
      set (csv, COLUMN_PIECE, piece->name);
      set (csv, COLUMN_EDGE, piece->edges[i].name);
      set_count (csv, COLUMN_NUMBER, i + 1);
      if (k == 0)
        set_count (csv, COLUMN_COUNT, (guint)a.computed->count);
      set_number (csv, COLUMN_SHORTEST,
                  k == 0 ? a.computed->shortest_gap : SEWING_HANDBOOK_LEAST, 3);
      set_number (csv, COLUMN_LONGEST,
                  k == 0 ? a.computed->longest_gap : SEWING_HANDBOOK_MOST, 3);
      record (csv, k == 0 ? "clips-computed" : "clips-handbook");
    }
}

static void
write_edge (Csv *csv, const Report *r, const PatternPiece *piece, guint i)
{
  const SewingPiece *facts = sewing_facts_piece (r->facts, piece);
  const PatternEdge *edge = &piece->edges[i];
  set (csv, COLUMN_PIECE, piece->name);
  set (csv, COLUMN_EDGE, edge->name);
  set_count (csv, COLUMN_NUMBER, i + 1);
  set (csv, COLUMN_KIND, pattern_edge_kind_word (edge->kind));
  set_number (csv, COLUMN_LENGTH, facts->lengths[i], 4);
  set_number (csv, COLUMN_ALLOWANCE, pattern_edge_width (edge), 3);
  set_number (csv, COLUMN_RADIUS, report_tightest (r, piece, i), 3);
  record (csv, "edge");

  ReportCuts cuts = report_cuts (r, piece, i);
  gboolean hem = edge->kind == PATTERN_EDGE_HEM;
  if (!hem && cuts.slits + cuts.wedges == 0)
    return;
  set (csv, COLUMN_PIECE, piece->name);
  set (csv, COLUMN_EDGE, edge->name);
  set_count (csv, COLUMN_NUMBER, i + 1);
  set_number (csv, COLUMN_SURPLUS, cuts.surplus, 3);
  if (hem)
    {
      SewingAllowance a;
      if (sewing_facts_allowance (r->facts, r->pattern, piece->id, edge->id,
                                  &a))
        set (csv, COLUMN_STATE, sewing_hem_word (a.hem));
      record (csv, "hem-fullness");
      return;
    }
  set (csv, COLUMN_KIND,
       cuts.wedges == 0  ? "clip"
       : cuts.slits == 0 ? "wedge"
                         : "mixed");
  set_count (csv, COLUMN_COUNT, cuts.slits + cuts.wedges);
  set_number (csv, COLUMN_SHORTEST, cuts.shortest_gap, 3);
  set_number (csv, COLUMN_LONGEST, cuts.longest_gap, 3);
  set_number (csv, COLUMN_DEPTH, cuts.depth, 3);
  if (cuts.trim_to > 0)
    set_number (csv, COLUMN_TRIM, cuts.trim_to, 3);
  if (edge->clip_spacing > 0)
    set_number (csv, COLUMN_BY_HAND, edge->clip_spacing, 3);
  record (csv, "clips");
  write_other_spacings (csv, r, piece, i);
}

static void
write_piece (Csv *csv, const Report *r, const PatternPiece *piece)
{
  const SewingPiece *facts = sewing_facts_piece (r->facts, piece);
  set (csv, COLUMN_PIECE, piece->name);
  set_number (csv, COLUMN_LENGTH, facts->perimeter, 4);
  set_number (csv, COLUMN_AREA, facts->area, 2);
  set_number (csv, COLUMN_CUT_AREA, facts->ring.area, 2);
  record (csv, "piece");
  for (guint i = 0; i < piece->n_edges; i++)
    write_edge (csv, r, piece, i);
}

static void
write_seam (Csv *csv, const Report *r, const PatternSeam *seam)
{
  const SewingSeam *facts = sewing_facts_seam (r->facts, r->pattern, seam);
  if (facts == NULL)
    return;
  set (csv, COLUMN_SEAM, seam->name);
  set (csv, COLUMN_KIND, report_join_word (seam->join));
  set (csv, COLUMN_STATE, report_press_word (seam->press));
  set_number (csv, COLUMN_LENGTH, facts->lengths[0], 4);
  set_number (csv, COLUMN_LENGTH_B, facts->lengths[1], 4);
  set_number (csv, COLUMN_DIFFERENCE, facts->ease, 4);
  set_number (csv, COLUMN_MEANT, facts->meant, 4);
  const SewingShaping *shaping = report_shaping (r, seam);
  if (shaping != NULL)
    {
      set_number (csv, COLUMN_DEGREES, shaping->total_deg, 3);
      set_number (csv, COLUMN_SHARPEST, shaping->sharp_deg, 3);
    }
  record (csv, "seam");
  for (guint i = 0; i < facts->n_intervals; i++)
    {
      const SewingInterval *in = &facts->intervals[i];
      set (csv, COLUMN_SEAM, seam->name);
      set_count (csv, COLUMN_NUMBER, i + 1);
      set_number (csv, COLUMN_LENGTH, in->a_to - in->a_from, 4);
      set_number (csv, COLUMN_LENGTH_B, in->b_to - in->b_from, 4);
      set_number (csv, COLUMN_DIFFERENCE, in->difference, 4);
      set_number (csv, COLUMN_PER_CENT, in->per_cent, 4);
      set_number (csv, COLUMN_MEANT, in->meant, 4);
      if (shaping != NULL)
        set_number (csv, COLUMN_DEGREES,
                    sewing_shaping_between (shaping, in->a_from, in->a_to), 3);
      record (csv, "interval");
    }
  for (guint i = 0; i < facts->n_spans; i++)
    {
      const SewingEaseSpan *span = &facts->spans[i];
      set (csv, COLUMN_SEAM, seam->name);
      set_count (csv, COLUMN_NUMBER, i + 1);
      set_number (csv, COLUMN_LENGTH, span->a_to - span->a_from, 4);
      set_number (csv, COLUMN_LENGTH_B, span->b_to - span->b_from, 4);
      set_number (csv, COLUMN_MEANT, span->ease, 4);
      if (span->span->per_cent)
        set_number (csv, COLUMN_PER_CENT, span->span->amount, 4);
      set (csv, COLUMN_STATE, span->lost ? "lost" : "found");
      record (csv, "ease");
    }
  for (guint i = 0; i < facts->n_loose; i++)
    {
      const SewingLooseNotch *loose = &facts->loose[i];
      set (csv, COLUMN_SEAM, seam->name);
      set (csv, COLUMN_SIDE, loose->side == 0 ? "A" : "B");
      set (csv, COLUMN_PIECE,
           pattern_get_piece (r->pattern, loose->piece)->name);
      set_number (csv, COLUMN_LENGTH, loose->at, 4);
      record (csv, "loose-notch");
    }
}

static void
write_cutting (Csv *csv, const Report *r)
{
  for (guint i = 0; i < r->cutting->len; i++)
    {
      const SewingCutting *item = &g_array_index (r->cutting, SewingCutting, i);
      set (csv, COLUMN_PIECE,
           pattern_get_piece (r->pattern, item->piece)->name);
      set (csv, COLUMN_CLOTH,
           pattern_get_cloth (r->pattern, item->cloth)->name);
      set_count (csv, COLUMN_COUNT, (guint)item->count);
      set (csv, COLUMN_KIND,
           item->on_fold    ? "fold"
           : item->mirrored ? "mirrored"
                            : "single");
      set_number (csv, COLUMN_CUT_AREA, item->area, 2);
      record (csv, "cut");
    }
  for (guint i = 0; i < r->pattern->n_cloths; i++)
    {
      const PatternCloth *cloth = &r->pattern->cloths[i];
      set (csv, COLUMN_CLOTH, cloth->name);
      set (csv, COLUMN_KIND, report_use_word (cloth->use));
      set_number (csv, COLUMN_CUT_AREA,
                  sewing_cutting_area (r->cutting, cloth->id), 2);
      double mass = report_mass (r, cloth);
      if (mass > 0)
        set_number (csv, COLUMN_MASS, mass, 1);
      record (csv, "cloth");
    }
}

/* All of it estimates. */
static void
write_strain (Csv *csv, const Report *r)
{
  const SewingStrain *strain = r->strain;
  if (strain->whole && strain->mass > 0)
    {
      set_number (csv, COLUMN_MASS, strain->mass, 1);
      set (csv, COLUMN_STATE, "estimate");
      record (csv, "mass");
    }
  for (guint i = 0; i < strain->loads->len; i++)
    {
      const SewingLoad *load = &g_array_index (strain->loads, SewingLoad, i);
      set (csv, COLUMN_SEAM, pattern_get_seam (r->pattern, load->seam)->name);
      set_number (csv, COLUMN_MASS, load->load, 1);
      set_number (csv, COLUMN_LENGTH, load->length, 2);
      set_number (csv, COLUMN_PER_CM, load->per_cm, 3);
      set (csv, COLUMN_STATE, "estimate");
      record (csv, "load");
    }
  for (guint i = 0; i < strain->advice->len; i++)
    {
      const SewingAdvice *advice
          = &g_array_index (strain->advice, SewingAdvice, i);
      const PatternPiece *piece = NULL;
      const PatternEdge *edge
          = pattern_get_edge (r->pattern, advice->piece, advice->edge, &piece);
      const PatternSeam *seam = pattern_get_seam (r->pattern, advice->seam);
      g_autofree char *text = sewing_advice_text (r->pattern, advice);
      if (edge != NULL)
        {
          set (csv, COLUMN_PIECE, piece->name);
          set (csv, COLUMN_EDGE, edge->name);
        }
      if (seam != NULL)
        set (csv, COLUMN_SEAM, seam->name);
      set (csv, COLUMN_KIND, sewing_advice_word (advice->kind));
      set (csv, COLUMN_STATE, "estimate");
      set (csv, COLUMN_TEXT, text);
      record (csv, "advice");
    }
}

static void
write_finding (Csv *csv, const Report *r, const SewingFinding *finding)
{
  const PatternPiece *piece = pattern_get_piece (r->pattern, finding->piece);
  const PatternEdge *edge
      = pattern_get_edge (r->pattern, finding->piece, finding->edge, NULL);
  const PatternSeam *seam = pattern_get_seam (r->pattern, finding->seam);
  if (piece != NULL)
    set (csv, COLUMN_PIECE, piece->name);
  if (edge != NULL)
    set (csv, COLUMN_EDGE, edge->name);
  if (seam != NULL)
    set (csv, COLUMN_SEAM, seam->name);
  set (csv, COLUMN_KIND, sewing_check_word (finding->check));
  set (csv, COLUMN_STATE,
       finding->set_aside ? "set-aside" : report_weight_word (finding));
  set_number (csv, COLUMN_DIFFERENCE, finding->amount, 4);
  set_number (csv, COLUMN_X, finding->at.x, 3);
  set_number (csv, COLUMN_Y, finding->at.y, 3);
  set (csv, COLUMN_TEXT, finding->text);
  record (csv, "finding");
}

char *
report_csv (const Report *r)
{
  Csv csv = { .out = g_string_new (NULL) };
  for (int i = 0; i < N_COLUMNS; i++)
    g_string_append_printf (csv.out, "%s%s", headings[i],
                            i + 1 < N_COLUMNS ? "," : "\r\n");
  for (guint i = 0; i < r->pattern->n_pieces; i++)
    write_piece (&csv, r, r->pattern->pieces[i]);
  for (guint i = 0; i < r->pattern->n_seams; i++)
    write_seam (&csv, r, r->pattern->seams[i]);
  write_cutting (&csv, r);
  write_strain (&csv, r);
  for (guint i = 0; i < r->findings->len; i++)
    write_finding (&csv, r, r->findings->pdata[i]);
  return g_string_free (csv.out, FALSE);
}
