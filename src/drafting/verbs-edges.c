/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verbs on edges, told. */
#include <glib/gi18n.h>

#include "drafting/verbs-private.h"

static const char *const shapes[] = { "even", "swell", "start", "end", NULL };
static const char *const shape_labels[]
    = { N_ ("all along"), N_ ("about a place"), N_ ("at the start"),
        N_ ("at the end"), NULL };

static const DraftingParameter shift_parameters[] = {
  { "edges", DRAFTING_EDGES, N_ ("Edges"), NULL, NULL, NULL, 0, 0 },
  { "by", DRAFTING_LENGTH, N_ ("Let out by"), "7 mm", NULL, NULL, 0, 0 },
  { "where", DRAFTING_CHOICE, N_ ("Where"), "even", shapes, shape_labels, 0,
    0 },
  { "at", DRAFTING_LENGTH, N_ ("The place, from the start"), "", NULL, NULL, 0,
    1e5 },
  { "reach", DRAFTING_LENGTH, N_ ("Easing to nothing over"), "150 mm", NULL,
    NULL, 1, 1e5 },
  { "both", DRAFTING_YES, N_ ("The seam's other side too"), "yes", NULL, NULL,
    0, 0 },
};

static Pattern *
run_shift (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_get_runs (v, "edges", &n);
  DraftingShift shift
      = { .by = drafting_values_get_number (v, "by"),
          .shape = (DraftingShiftShape)drafting_values_get_choice (v, "where"),
          .reach = drafting_values_get_number (v, "reach"),
          .both = drafting_values_get_yes (v, "both") };
  if (drafting_values_has (v, "at"))
    shift.at = drafting_values_get_number (v, "at");
  else
    for (guint i = 0; i < n; i++)
      {
        const PatternPiece *piece = pattern_get_piece (p, runs[i].piece);
        int edge = piece ? pattern_piece_find_edge (piece, runs[i].edge) : -1;
        if (edge >= 0)
          shift.at += drafting_edge_length (piece, (guint)edge) / 2;
      }
  return drafting_shift_edges (p, runs, n, &shift, error);
}

static const DraftingParameter hem_parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("Hem"), NULL, NULL, NULL, 0, 0 },
  { "by", DRAFTING_LENGTH, N_ ("Lengthen by"), "20 mm", NULL, NULL, 0, 0 },
  { "all", DRAFTING_YES, N_ ("All hems it runs on into"), "yes", NULL, NULL, 0,
    0 },
};

static Pattern *
run_hem (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_get_runs (v, "edge", &n);
  return drafting_lengthen_hem (p, n ? runs[0].piece : 0, n ? runs[0].edge : 0,
                                drafting_values_get_number (v, "by"),
                                drafting_values_get_yes (v, "all"), error);
}

static const char *const ends[] = { "start", "end", NULL };
static const char *const end_labels[]
    = { N_ ("its start"), N_ ("its end"), NULL };

static const DraftingParameter lower_parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("Edge"), NULL, NULL, NULL, 0, 0 },
  { "end", DRAFTING_CHOICE, N_ ("Which end"), "end", ends, end_labels, 0, 0 },
  { "by", DRAFTING_LENGTH, N_ ("Lower by"), "9 mm", NULL, NULL, 0, 0 },
};

static Pattern *
run_lower (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_get_runs (v, "edge", &n);
  gboolean start = drafting_values_get_choice (v, "end") == 0;
  if (n > 0 && runs[0].reversed)
    start = !start;
  return drafting_lower_end (p, n ? runs[0].piece : 0, n ? runs[0].edge : 0,
                             start, drafting_values_get_number (v, "by"),
                             error);
}

static const char *const sides[] = { "a", "b", NULL };
static const char *const side_labels[] = { N_ ("side A"), N_ ("side B"), NULL };

static const DraftingParameter carry_parameters[] = {
  { "seam", DRAFTING_SEAM, N_ ("Seam"), NULL, NULL, NULL, 0, 0 },
  { "from", DRAFTING_CHOICE, N_ ("As long as"), "a", sides, side_labels, 0, 0 },
};

static Pattern *
run_carry (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_carry_over (p, drafting_values_get_seam (v, "seam"),
                              (int)drafting_values_get_choice (v, "from"),
                              error);
}

static const DraftingVerb verbs[] = {
  { "shift-edges", N_ ("Let out or take in"),
    N_ ("Pick edges of a piece, in a row: they are let out or, below nothing, "
        "taken in, all along or easing to nothing, on one side of their seam "
        "or "
        "on both."),
    DRAFTING_GROUP_EDGE, DRAFTING_PARAMETERS (shift_parameters), run_shift,
    NULL, NULL },
  { "lengthen-hem", N_ ("Lengthen hem"),
    N_ ("Pick a hem: it is lengthened or, below nothing, shortened evenly, and "
        "so are the hems it runs on into."),
    DRAFTING_GROUP_EDGE, DRAFTING_PARAMETERS (hem_parameters), run_hem, NULL,
    NULL },
  { "lower-end", N_ ("Lower one end"),
    N_ ("Pick an edge, say the neck: one end slides along the edge beside it, "
        "into the piece or, below nothing, out of it; the far end stays."),
    DRAFTING_GROUP_EDGE, DRAFTING_PARAMETERS (lower_parameters), run_lower,
    NULL, NULL },
  { "carry-over", N_ ("Carry over to other side"),
    N_ ("Pick a seam: its other side is made as long as this one, with the "
        "ease "
        "that is meant."),
    DRAFTING_GROUP_EDGE, DRAFTING_PARAMETERS (carry_parameters), run_carry,
    NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_edges (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
