/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What comes after tracing, told. */
#include <glib/gi18n.h>

#include "drafting/edge-names.h"
#include "drafting/put-right.h"
#include "drafting/tape.h"
#include "drafting/verbs-private.h"
#include "sewing/words.h"

#define EDGE                                                                   \
  {                                                                            \
    "edge", DRAFTING_EDGE, N_ ("Edge"), NULL, NULL, NULL, 0, 0                 \
  }
#define PIECE                                                                  \
  {                                                                            \
    "piece", DRAFTING_PIECE, N_ ("Piece"), NULL, NULL, NULL, 0, 0              \
  }

static PatternRun
only_run (const DraftingValues *v, const char *key)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_has (v, key)
                               ? drafting_values_get_runs (v, key, &n)
                               : NULL;
  return n > 0 ? runs[0] : (PatternRun){ 0, 0, FALSE };
}

/* --- names ---------------------------------------------------------------------- */

static const DraftingParameter name_parameters[] = {
  EDGE,
  { "name", DRAFTING_TEXT, N_ ("Name"), NULL, NULL, NULL, 0, 0 },
};

static Pattern *
run_name (const Pattern *p, const DraftingValues *v, GError **error)
{
  PatternRun run = only_run (v, "edge");
  return drafting_name_edge (p, run.piece, run.edge,
                             drafting_values_get_text (v, "name"), error);
}

static char *
describe_name (const Pattern *p, const DraftingValues *v)
{
  PatternRun run = only_run (v, "edge");
  g_autofree char *edge = sewing_words_edge_of (p, run.piece, run.edge);
  return g_strdup_printf (_ ("Name %s “%s”"), edge,
                          drafting_values_get_text (v, "name"));
}

/* --- straight, square, upright ----------------------------------------------------- */

static const char *const ways[] = { "ends", "mean", NULL };
static const char *const way_labels[]
    = { N_ ("between its ends"), N_ ("through its middle"), NULL };

static const DraftingParameter straight_parameters[] = {
  EDGE,
  { "line", DRAFTING_CHOICE, N_ ("Line"), "ends", ways, way_labels, 0, 0 },
  { "within", DRAFTING_LENGTH, N_ ("It may move"), "3 mm", NULL, NULL, 0, 1e3 },
};

static Pattern *
run_straight (const Pattern *p, const DraftingValues *v, GError **error)
{
  PatternRun run = only_run (v, "edge");
  return drafting_straighten_edge (
      p, run.piece, run.edge,
      (DraftingStraight)drafting_values_get_choice (v, "line"),
      drafting_values_get_number (v, "within"), NULL, error);
}

static const DraftingParameter square_parameters[] = {
  { "fold", DRAFTING_EDGE, N_ ("Fold"), NULL, NULL, NULL, 0, 0 },
  { "reach", DRAFTING_LENGTH, N_ ("Over"), "20 mm", NULL, NULL, 0, 1e5 },
};

static Pattern *
run_square (const Pattern *p, const DraftingValues *v, GError **error)
{
  PatternRun run = only_run (v, "fold");
  return drafting_square_fold (p, run.piece, run.edge,
                               drafting_values_get_number (v, "reach"), error);
}

static const DraftingParameter upright_parameters[] = {
  PIECE,
  { "edge", DRAFTING_EDGE, N_ ("By the edge"), "", NULL, NULL, 0, 0 },
};

static Pattern *
run_upright (const Pattern *p, const DraftingValues *v, GError **error)
{
  PatternRun run = only_run (v, "edge");
  guint piece = drafting_values_get_piece (v, "piece");
  if (run.edge && run.piece != piece)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("That edge is not the piece's own."));
      return NULL;
    }
  return drafting_stand_upright (p, piece, run.edge, error);
}

/* --- the tape ------------------------------------------------------------------------ */

static const DraftingParameter tape_parameters[] = {
  { "edges", DRAFTING_EDGES, N_ ("Edges"), "", NULL, NULL, 0, 0 },
  { "from", DRAFTING_NODE, N_ ("Or from node"), "", NULL, NULL, 0, 0 },
  { "to", DRAFTING_NODE, N_ ("To node"), "", NULL, NULL, 0, 0 },
  { "length", DRAFTING_LENGTH, N_ ("By tape"), NULL, NULL, NULL, 0.1, 1e5 },
};

/* FALSE with the error set where neither edges nor two nodes of a piece are told. */
static gboolean
measured (const DraftingValues *v, const PatternRun **runs, guint *n,
          guint *piece, guint nodes[2], GError **error)
{
  *n = 0;
  *piece = 0;
  *runs = drafting_values_has (v, "edges")
              ? drafting_values_get_runs (v, "edges", n)
              : NULL;
  if (*n > 0)
    return TRUE;
  guint other = 0;
  if (!drafting_values_has (v, "from") || !drafting_values_has (v, "to"))
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("Pick the edges that were measured, or the two "
                               "nodes between which."));
  nodes[0] = drafting_values_get_node (v, "from", piece);
  nodes[1] = drafting_values_get_node (v, "to", &other);
  return *piece == other
         || drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                             _ ("The two nodes have to be of one piece."));
}

static Pattern *
run_tape (const Pattern *p, const DraftingValues *v, GError **error)
{
  const PatternRun *runs;
  guint n, piece, nodes[2] = { 0, 0 };
  return measured (v, &runs, &n, &piece, nodes, error)
             ? drafting_set_tape (p, runs, n, piece, nodes,
                                  drafting_values_get_number (v, "length"),
                                  NULL, error)
             : NULL;
}

static const char *const fits[] = { "least", "bend", "spread", NULL };
static const char *const fit_labels[]
    = { N_ ("whichever alters less"), N_ ("bent, its ends stay"),
        N_ ("spread, its ends move"), NULL };

static const DraftingParameter fit_parameters[] = {
  { "edges", DRAFTING_EDGES, N_ ("Edges"), "", NULL, NULL, 0, 0 },
  { "from", DRAFTING_NODE, N_ ("Or from node"), "", NULL, NULL, 0, 0 },
  { "to", DRAFTING_NODE, N_ ("To node"), "", NULL, NULL, 0, 0 },
  { "length", DRAFTING_LENGTH, N_ ("Length"), NULL, NULL, NULL, 0.1, 1e5 },
  { "way", DRAFTING_CHOICE, N_ ("How"), "least", fits, fit_labels, 0, 0 },
};

static Pattern *
run_fit (const Pattern *p, const DraftingValues *v, GError **error)
{
  const PatternRun *runs;
  guint n, piece, nodes[2] = { 0, 0 };
  double length = drafting_values_get_number (v, "length");
  if (!measured (v, &runs, &n, &piece, nodes, error))
    return NULL;
  return n > 0 ? drafting_fit_length (
             p, runs, n, length,
             (DraftingFitWay)drafting_values_get_choice (v, "way"), NULL, error)
               : drafting_fit_distance (p, piece, nodes, length, error);
}

static const char *const factors[] = { "even", "two", NULL };
static const char *const factor_labels[]
    = { N_ ("evenly"), N_ ("across and along the grain each"), NULL };

static const DraftingParameter scale_parameters[] = {
  PIECE,
  { "way", DRAFTING_CHOICE, N_ ("How"), "even", factors, factor_labels, 0, 0 },
};

static Pattern *
run_scale (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_tape_scale (p, drafting_values_get_piece (v, "piece"),
                              drafting_values_get_choice (v, "way") == 1,
                              error);
}

static const DraftingVerb verbs[] = {
  { "name-edge", N_ ("Name an edge"),
    N_ ("Pick an edge and give it the trade's name for it: a fold then has no "
        "allowance, a hem is turned up."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (name_parameters), run_name,
    NULL, describe_name },
  { "straighten-edge", N_ ("Straighten an edge"),
    N_ ("Pick an edge that was meant straight: all of it becomes one straight "
        "line, unless some place would have to move farther than you say."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (straight_parameters),
    run_straight, NULL, NULL },
  { "square-fold", N_ ("Square a fold"),
    N_ ("Pick a fold: both lines that meet it are made to leave it at 90°."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (square_parameters), run_square,
    NULL, NULL },
  { "stand-upright", N_ ("Stand upright"),
    N_ ("Pick a piece: it is turned until its fold, or its grainline, or the "
        "edge you pick, is upright."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (upright_parameters),
    run_upright, NULL, NULL },
  { "set-tape", N_ ("Note what the tape says"),
    N_ ("Pick edges, or two nodes, of a piece and type what the tape says: "
        "it is kept beside the length on the piece."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (tape_parameters), run_tape,
    NULL, NULL },
  { "fit-tape", N_ ("Bring to a length"),
    N_ ("Pick edges of a piece, or two nodes: they are brought to the length, "
        "their ends moving as little as can be."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (fit_parameters), run_fit, NULL,
    NULL },
  { "tape-scale", N_ ("Even out to the tape"),
    N_ ("Pick a piece you measured: all of it is made larger or smaller, so "
        "that its lengths come nearest to what the tape says."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (scale_parameters), run_scale,
    NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_traced (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
