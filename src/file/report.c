/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/report-private.h"

#include <glib/gi18n.h>

/* --- figures ----------------------------------------------------------------- */

static ReportCuts
hem_fullness (const SewingPiece *piece, guint edge_index)
{
  double depth = pattern_edge_width (&piece->piece->edges[edge_index]);
  ReportCuts cuts = { 0 };
  cuts.surplus = geo_hem_surplus (&piece->stitch[edge_index], 1, depth);
  if (piece->lengths[edge_index] > 0)
    cuts.share = cuts.surplus / piece->lengths[edge_index];
  return cuts;
}

ReportCuts
report_cuts (const Report *report, const PatternPiece *piece, guint edge_index)
{
  const PatternEdge *edge = &piece->edges[edge_index];
  const SewingPiece *facts = sewing_facts_piece (report->facts, piece);
  if (edge->kind == PATTERN_EDGE_HEM)
    return hem_fullness (facts, edge_index);
  const GeoClipPlan *plan = sewing_facts_clips (report->facts, report->pattern,
                                                piece->id, edge->id);
  ReportCuts cuts = { .shortest_gap = plan->shortest_gap,
                      .longest_gap = plan->longest_gap,
                      .trim_to = plan->trim_to,
                      .surplus = plan->surplus };
  for (size_t i = 0; i < plan->count; i++)
    {
      const GeoCut *cut = &plan->cuts[i];
      if (cut->kind == GEO_CUT_SLIT)
        cuts.slits++;
      else
        cuts.wedges++;
      cuts.depth = MAX (cuts.depth, cut->depth);
      cuts.widest_mouth = MAX (cuts.widest_mouth, cut->mouth);
    }
  if (facts->lengths[edge_index] > 0)
    cuts.share = cuts.surplus / facts->lengths[edge_index];
  return cuts;
}

double
report_tightest (const Report *report, const PatternPiece *piece,
                 guint edge_index)
{
  const SewingPiece *facts = sewing_facts_piece (report->facts, piece);
  const GeoChain *chain = &facts->stitch[edge_index];
  return chain->count > 0 ? geo_chain_tightest (chain, 0, NULL) : INFINITY;
}

double
report_mass (const Report *report, const PatternCloth *cloth)
{
  return sewing_cutting_area (report->cutting, cloth->id) / 1e6 * cloth->weight;
}

/* --- words --------------------------------------------------------------------- */

const char *
report_use_word (PatternClothUse use)
{
  static const char *const words[]
      = { "shell", "lining", "interfacing", "other" };
  return (guint)use < G_N_ELEMENTS (words) ? words[use] : "";
}

const char *
report_press_word (PatternPress press)
{
  static const char *const words[] = { "open", "to-a", "to-b", "turned" };
  return (guint)press < G_N_ELEMENTS (words) ? words[press] : "";
}

const char *
report_join_word (PatternJoin join)
{
  return join == PATTERN_JOIN_DART ? "dart" : "seam";
}

const char *
report_weight_word (const SewingFinding *finding)
{
  return finding->weight == SEWING_MEND ? "mend" : "look";
}

const SewingShaping *
report_shaping (const Report *r, const PatternSeam *seam)
{
  return seam->press == PATTERN_PRESS_TURNED && seam->join != PATTERN_JOIN_DART
             ? NULL
             : sewing_facts_shaping (r->facts, r->pattern, seam);
}

const char *
report_remedy_word (SewingRemedyKind kind)
{
  static const char *const words[]
      = { "none",  "length", "allowance", "square", "grain", "cut",
          "notch", "ease",   "blend",     "bend",   "taper" };
  return (guint)kind < G_N_ELEMENTS (words) ? words[kind] : "";
}

/* --- the whole -------------------------------------------------------------------- */

char *
file_report (const Pattern *pattern, FileReportFormat format)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, pattern);
  g_autoptr (GArray) cutting = sewing_cutting_list (facts, pattern);
  g_autoptr (SewingStrain) strain = sewing_strain_new (facts, pattern);
  Report report = { pattern, facts, findings, cutting, strain };
  switch (format)
    {
    case FILE_REPORT_CSV:
      return report_csv (&report);
    case FILE_REPORT_XML:
      return report_xml (&report);
    case FILE_REPORT_TEXT:
    default:
      return report_text (&report);
    }
}

static void
append_finding (GString *text, const SewingFinding *finding)
{
  const char *head = finding->set_aside               ? _ ("Set aside")
                     : finding->weight == SEWING_MEND ? _ ("Mend")
                                                      : _ ("Look");
  g_string_append_printf (text, "%s: %s\n", head, finding->text);
  if (finding->set_aside)
    {
      if (finding->note != NULL && *finding->note != '\0')
        g_string_append_printf (text, "  %s\n", finding->note);
    }
  else if (finding->remedy.label != NULL)
    /* Translators: what can be done about a finding */
    g_string_append_printf (text, _ ("  To do: %s.\n"), finding->remedy.label);
  for (guint i = 0; !finding->set_aside && i < finding->n_others; i++)
    /* Translators: another thing that can be done about a finding */
    g_string_append_printf (text, _ ("  Or: %s.\n"), finding->others[i].label);
  g_string_append_c (text, '\n');
}

char *
file_report_findings (const Pattern *pattern, const GPtrArray *findings)
{
  g_return_val_if_fail (pattern != NULL && findings != NULL, NULL);
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < findings->len; i++)
    append_finding (text, findings->pdata[i]);
  guint open = sewing_checks_open (findings), aside = findings->len - open;
  if (open == 0)
    g_string_append (text, _ ("Nothing to mend was found."));
  else
    g_string_append_printf (
        text, ngettext ("%u finding.", "%u findings.", open), open);
  if (aside > 0)
    g_string_append_printf (
        text, ngettext (" %u is set aside.", " %u are set aside.", aside),
        aside);
  g_string_append_c (text, '\n');
  return g_string_free (text, FALSE);
}
