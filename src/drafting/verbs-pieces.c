/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verbs on whole pieces, told. */
#include <glib/gi18n.h>

#include "drafting/guides.h"
#include "drafting/verbs-private.h"
#include "sewing/words.h"

#define PIECE                                                                  \
  {                                                                            \
    "piece", DRAFTING_PIECE, N_ ("Piece"), NULL, NULL, NULL, 0, 0              \
  }
#define APART                                                                  \
  {                                                                            \
    "apart", DRAFTING_LENGTH, N_ ("Lay apart by"), "40 mm", NULL, NULL, 0, 1e5 \
  }

static const DraftingParameter split_parameters[] = {
  PIECE,
  { "line", DRAFTING_POINTS, N_ ("Line across"), NULL, NULL, NULL, 0, 0 },
  { "curve", DRAFTING_YES, N_ ("Curve through the points"), "yes", NULL, NULL,
    0, 0 },
  APART,
  { "name", DRAFTING_TEXT, N_ ("The new piece's name"), "", NULL, NULL, 0, 0 },
};

static Pattern *
run_split (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const GeoPoint *points = drafting_values_get_points (v, "line", &n);
  GeoChain line = GEO_CHAIN_EMPTY;
  if (drafting_values_get_yes (v, "curve"))
    drafting_curve_through (points, n, &line);
  else
    for (guint i = 0; i + 1 < n; i++)
      geo_chain_append_line (&line, points[i], points[i + 1]);
  const char *name = drafting_values_has (v, "name")
                         ? drafting_values_get_text (v, "name")
                         : NULL;
  Pattern *result = drafting_split_piece (
      p, drafting_values_get_piece (v, "piece"), &line,
      drafting_values_get_number (v, "apart"), name, NULL, NULL, error);
  geo_chain_clear (&line);
  return result;
}

static const DraftingParameter dart_parameters[] = {
  { "dart", DRAFTING_DART, N_ ("Dart"), NULL, NULL, NULL, 0, 0 },
  { "to", DRAFTING_EDGE, N_ ("On to the edge"), NULL, NULL, NULL, 0, 0 },
  { "at", DRAFTING_LENGTH, N_ ("At, from its start"), "", NULL, NULL, 0, 1e5 },
  APART,
};

static Pattern *
run_dart (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_dart_to_seam (p, drafting_values_get_seam (v, "dart"),
                                drafting_values_place (p, v, "to", "at"),
                                drafting_values_get_number (v, "apart"), NULL,
                                error);
}

static const DraftingParameter join_parameters[] = {
  { "seam", DRAFTING_SEAM, N_ ("Seam"), NULL, NULL, NULL, 0, 0 },
};

static Pattern *
run_join (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_join_pieces (p, drafting_values_get_seam (v, "seam"), error);
}

static const DraftingParameter piece_parameters[] = { PIECE };

static Pattern *
run_unfold (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_unfold (p, drafting_values_get_piece (v, "piece"), error);
}

static Pattern *
run_fold (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_fold (p, drafting_values_get_piece (v, "piece"), error);
}

static Pattern *
run_mirror (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_mirror_piece (p, drafting_values_get_piece (v, "piece"),
                                error);
}

static const char *const ways[] = { "run-on", "facing", NULL };
static const char *const way_labels[]
    = { N_ ("edges beside run on"), N_ ("mirrored, as a facing"), NULL };

static const DraftingParameter extend_parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("Edge"), NULL, NULL, NULL, 0, 0 },
  { "width", DRAFTING_LENGTH, N_ ("Width"), "20 mm", NULL, NULL, 1, 1e5 },
  { "way", DRAFTING_CHOICE, N_ ("Shape"), "run-on", ways, way_labels, 0, 0 },
};

static Pattern *
run_extend (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const PatternRun *runs = drafting_values_get_runs (v, "edge", &n);
  return drafting_extend_edge (
      p, n ? runs[0].piece : 0, n ? runs[0].edge : 0,
      drafting_values_get_number (v, "width"),
      (DraftingExtend)drafting_values_get_choice (v, "way"), error);
}

static char *
describe_split (const Pattern *p, const DraftingValues *v)
{
  const PatternPiece *own
      = pattern_get_piece (p, drafting_values_get_piece (v, "piece"));
  g_autofree char *name
      = own ? sewing_words_piece (own) : g_strdup (_ ("piece"));
  return g_strdup_printf (_ ("Split %s"), name);
}

static char *
describe_seam (const Pattern *p, const DraftingValues *v)
{
  const PatternSeam *seam
      = pattern_get_seam (p, drafting_values_get_seam (v, "dart"));
  return g_strdup_printf (_ ("Turn %s into seam"),
                          seam && *seam->name ? seam->name : _ ("dart"));
}

static const DraftingVerb verbs[] = {
  { "split-piece", N_ ("Split piece"),
    N_ ("Draw a line across a piece: it becomes two, with a seam between "
        "them."),
    DRAFTING_GROUP_PIECE, DRAFTING_PARAMETERS (split_parameters), run_split,
    NULL, describe_split },
  { "dart-to-seam", N_ ("Turn dart into seam"),
    N_ ("Pick a dart and a place on another edge: the piece is split from the "
        "dart's point to there, and the legs become part of the seam."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (dart_parameters), run_dart, NULL,
    describe_seam },
  { "join-pieces", N_ ("Join pieces"),
    N_ ("Pick a seam whose two edges fit on each other: its pieces become "
        "one."),
    DRAFTING_GROUP_PIECE, DRAFTING_PARAMETERS (join_parameters), run_join, NULL,
    NULL },
  { "unfold", N_ ("Unfold piece"),
    N_ ("Pick a half that is cut on the fold: it becomes the whole piece."),
    DRAFTING_GROUP_PIECE, DRAFTING_PARAMETERS (piece_parameters), run_unfold,
    NULL, NULL },
  { "fold", N_ ("Fold piece in half"),
    N_ ("Pick a piece whose halves are alike: one half is left, on the fold."),
    DRAFTING_GROUP_PIECE, DRAFTING_PARAMETERS (piece_parameters), run_fold,
    NULL, NULL },
  { "mirror-piece", N_ ("Mirror piece"),
    N_ ("Pick a piece: it is turned over about its grainline."),
    DRAFTING_GROUP_PIECE, DRAFTING_PARAMETERS (piece_parameters), run_mirror,
    NULL, NULL },
  { "extend-edge", N_ ("Add stand or facing"),
    N_ ("Pick an edge: the piece goes on beyond it, as a button stand or as a "
        "facing cut in one; the edge stays as a line."),
    DRAFTING_GROUP_PIECE, DRAFTING_PARAMETERS (extend_parameters), run_extend,
    NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_pieces (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
