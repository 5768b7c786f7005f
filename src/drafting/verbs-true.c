/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Truing and fairing, told. */
#include <glib/gi18n.h>

#include "drafting/true.h"
#include "drafting/verbs-private.h"

/* --- blending ------------------------------------------------------------------- */

static const char *const ends[] = { "worst", "start", "end", NULL };
static const char *const end_labels[]
    = { N_ ("where it is most out"), N_ ("its start"), N_ ("its end"), NULL };

static const DraftingParameter blend_parameters[] = {
  { "seam", DRAFTING_SEAM, N_ ("Across"), NULL, NULL, NULL, 0, 0 },
  { "at", DRAFTING_CHOICE, N_ ("At"), "worst", ends, end_labels, 0, 0 },
  { "reach", DRAFTING_LENGTH, N_ ("Over, on either side"), "50 mm", NULL, NULL,
    1, 1e5 },
  { "all", DRAFTING_YES, N_ ("All joints of the line"), "no", NULL, NULL, 0,
    0 },
};

/* The end of the seam at which a line runs on that is most out of true; 1 where none does. */
static int
worst_end (const Pattern *p, guint seam)
{
  const PatternSeam *own = pattern_get_seam (p, seam);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  double worst = -1;
  int found = 1;
  for (int end = 0; own != NULL && end < 2; end++)
    {
      SewingJoint joint;
      if (!sewing_seam_joint (facts, p, own, end, &joint) || !joint.runs_on)
        continue;
      double out = fabs (joint.angle - G_PI);
      if (out > worst)
        {
          worst = out;
          found = end;
        }
    }
  return found;
}

static Pattern *
run_blend (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint seam = drafting_values_get_seam (v, "seam");
  guint at = drafting_values_get_choice (v, "at");
  int end = at == 0 ? worst_end (p, seam) : (int)at - 1;
  double reach = drafting_values_get_number (v, "reach");
  return drafting_values_get_yes (v, "all")
             ? drafting_blend_line (p, seam, end, reach, NULL, error)
             : drafting_blend (p, seam, end, reach, NULL, error);
}

/* --- squaring --------------------------------------------------------------------- */

static const DraftingParameter square_parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("Edge"), NULL, NULL, NULL, 0, 0 },
  { "reach", DRAFTING_LENGTH, N_ ("Over"), "50 mm", NULL, NULL, 0, 1e5 },
};

/* At whichever of its ends lies on a fold, or at both. */
static Pattern *
run_square (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_get_runs (v, "edge", &n);
  guint piece = n ? runs[0].piece : 0, edge = n ? runs[0].edge : 0;
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  int index = own != NULL ? drafting_find_edge (own, edge, error) : -1;
  if (index < 0)
    return NULL;
  guint m = own->n_edges, i = (guint)index;
  gboolean at_end = own->edges[(i + 1) % m].kind == PATTERN_EDGE_FOLD;
  gboolean at_start = own->edges[(i + m - 1) % m].kind == PATTERN_EDGE_FOLD;
  double reach = drafting_values_get_number (v, "reach");
  g_autoptr (Pattern) first
      = drafting_square (p, piece, edge, at_end, reach, NULL, error);
  if (first == NULL || !(at_start && at_end))
    return g_steal_pointer (&first);
  return drafting_square (first, piece, edge, FALSE, reach, NULL, error);
}

/* --- fairing ------------------------------------------------------------------------ */

static const DraftingParameter fair_parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("Edge"), NULL, NULL, NULL, 0, 0 },
  { "within", DRAFTING_LENGTH, N_ ("It may move"), "1 mm", NULL, NULL, 0, 1e3 },
  { "keep", DRAFTING_YES, N_ ("Keep its length"), "yes", NULL, NULL, 0, 0 },
  { "from", DRAFTING_LENGTH, N_ ("From, along the edge"), "", NULL, NULL, 0,
    1e5 },
  { "to", DRAFTING_LENGTH, N_ ("To"), "", NULL, NULL, 0, 1e5 },
};

static Pattern *
run_fair (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_get_runs (v, "edge", &n);
  guint piece = n ? runs[0].piece : 0, edge = n ? runs[0].edge : 0;
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  int index = own != NULL ? drafting_find_edge (own, edge, error) : -1;
  if (index < 0)
    return NULL;
  DraftingFairing how = { .within = drafting_values_get_number (v, "within"),
                          .keep_length = drafting_values_get_yes (v, "keep"),
                          .to = drafting_edge_length (own, (guint)index) };
  double length = how.to;
  if (drafting_values_has (v, "from"))
    how.from = drafting_values_get_number (v, "from");
  if (drafting_values_has (v, "to"))
    how.to = drafting_values_get_number (v, "to");
  /* Told the way the edge was picked. */
  if (n > 0 && runs[0].reversed)
    {
      double from = length - how.to;
      how.to = length - how.from;
      how.from = from;
    }
  return drafting_fair_edge (p, piece, edge, &how, NULL, error);
}

static const DraftingVerb verbs[] = {
  { "blend-joint", N_ ("True across a seam"),
    N_ ("Pick a seam or a dart: over a reach on either side one fair curve "
        "takes the place of the edges that run on across it; the seam keeps "
        "its length."),
    DRAFTING_GROUP_TRUE, DRAFTING_PARAMETERS (blend_parameters), run_blend,
    NULL, NULL },
  { "square-to-fold", N_ ("Square to the fold"),
    N_ ("Pick an edge that ends at a fold: it is made to leave the fold at "
        "90°, smoothly over a reach."),
    DRAFTING_GROUP_TRUE, DRAFTING_PARAMETERS (square_parameters), run_square,
    NULL, NULL },
  { "fair-edge", N_ ("Make an edge fair"),
    N_ ("Pick an edge: its curvature is evened out, no place of it moving "
        "farther than you say."),
    DRAFTING_GROUP_TRUE, DRAFTING_PARAMETERS (fair_parameters), run_fair, NULL,
    NULL },
};

const DraftingVerb *
drafting_verbs_of_truing (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
