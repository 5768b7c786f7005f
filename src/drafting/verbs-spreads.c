/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verbs that slash and spread, told. */
#include <glib/gi18n.h>

#include "drafting/verbs-private.h"
#include "sewing/words.h"

#define FAIR                                                                   \
  {                                                                            \
    "fair", DRAFTING_YES, N_ ("Fair over gaps"), "yes", NULL, NULL, 0, 0       \
  }
#define OPEN                                                                   \
  {                                                                            \
    "open", DRAFTING_LENGTH, N_ ("Open by"), "40 mm", NULL, NULL, 0, 0         \
  }
#define OTHER                                                                  \
  {                                                                            \
    "other", DRAFTING_LENGTH, N_ ("Other end by"), "0 mm", NULL, NULL, 0, 0    \
  }

static const DraftingParameter slash_parameters[] = {
  { "from", DRAFTING_EDGE, N_ ("Open at the edge"), NULL, NULL, NULL, 0, 0 },
  { "from-at", DRAFTING_LENGTH, N_ ("At, from its start"), "", NULL, NULL, 0,
    1e5 },
  { "to", DRAFTING_EDGE, N_ ("To the edge"), NULL, NULL, NULL, 0, 0 },
  { "to-at", DRAFTING_LENGTH, N_ ("At, from its start"), "", NULL, NULL, 0,
    1e5 },
  OPEN,
  OTHER,
  FAIR,
};

static Pattern *
run_slash (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_slash (p, drafting_values_place (p, v, "from", "from-at"),
                         drafting_values_place (p, v, "to", "to-at"),
                         drafting_values_get_number (v, "open"),
                         drafting_values_get_number (v, "other"),
                         drafting_values_get_yes (v, "fair"), error);
}

static const DraftingParameter line_parameters[] = {
  { "piece", DRAFTING_PIECE, N_ ("Piece"), NULL, NULL, NULL, 0, 0 },
  { "line", DRAFTING_POINTS, N_ ("Line across"), NULL, NULL, NULL, 0, 0 },
  OPEN,
  OTHER,
  FAIR,
};

static Pattern *
run_line (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const GeoPoint *line = drafting_values_get_points (v, "line", &n);
  if (n < 2)
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("A slash needs a line of two points, across the "
                          "piece. Nothing was changed."));
      return NULL;
    }
  return drafting_slash_line (p, drafting_values_get_piece (v, "piece"),
                              line[0], line[n - 1],
                              drafting_values_get_number (v, "open"),
                              drafting_values_get_number (v, "other"),
                              drafting_values_get_yes (v, "fair"), error);
}

static const DraftingParameter sweep_parameters[] = {
  { "edges", DRAFTING_EDGES, N_ ("Open at the edges"), NULL, NULL, NULL, 0, 0 },
  { "hinge", DRAFTING_EDGES, N_ ("Hinged at the edges"), NULL, NULL, NULL, 0,
    0 },
  { "count", DRAFTING_COUNT, N_ ("Slashes"), "5", NULL, NULL, 1, 60 },
  { "total", DRAFTING_LENGTH, N_ ("Open by, in all"), "100 mm", NULL, NULL, 0,
    0 },
  { "other", DRAFTING_LENGTH, N_ ("Hinged end by, in all"), "0 mm", NULL, NULL,
    0, 0 },
  { "smooth", DRAFTING_YES, N_ ("Make both edges fair"), "yes", NULL, NULL, 0,
    0 },
};

static Pattern *
run_sweep (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n_open = 0, n_hinge = 0;
  const PatternRun *open = drafting_values_get_runs (v, "edges", &n_open);
  const PatternRun *hinge = drafting_values_get_runs (v, "hinge", &n_hinge);
  return drafting_sweep (p, open, n_open, hinge, n_hinge,
                         (guint)MAX (drafting_values_get_count (v, "count"), 0),
                         drafting_values_get_number (v, "total"),
                         drafting_values_get_number (v, "other"),
                         drafting_values_get_yes (v, "smooth"), error);
}

static const DraftingParameter lengthen_parameters[] = {
  { "pieces", DRAFTING_PIECES, N_ ("Pieces"), NULL, NULL, NULL, 0, 0 },
  { "at", DRAFTING_POINT, N_ ("At the height of"), NULL, NULL, NULL, 0, 0 },
  { "by", DRAFTING_LENGTH, N_ ("Lengthen by"), "20 mm", NULL, NULL, 0, 0 },
};

static Pattern *
run_lengthen (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const PatternRun *pieces = drafting_values_get_runs (v, "pieces", &n);
  const GeoPoint *at = drafting_values_point (v, "at");
  Pattern *result = pattern_ref (p);
  for (guint i = 0; at && result && i < n; i++)
    {
      Pattern *next
          = drafting_lengthen_at (result, pieces[i].piece, *at,
                                  drafting_values_get_number (v, "by"), error);
      pattern_unref (result);
      result = next;
    }
  return result;
}

static char *
describe_open (const Pattern *p, const DraftingValues *v, guint piece)
{
  const PatternPiece *own = pattern_get_piece (p, piece);
  g_autofree char *name
      = own ? sewing_words_piece (own) : g_strdup (_ ("piece"));
  g_autofree char *open
      = sewing_words_length (p, drafting_values_get_number (v, "open"));
  return g_strdup_printf (_ ("Slash %s, open by %s"), name, open);
}

static char *
describe_slash (const Pattern *p, const DraftingValues *v)
{
  return describe_open (p, v,
                        drafting_values_place (p, v, "from", "from-at").piece);
}

static char *
describe_line (const Pattern *p, const DraftingValues *v)
{
  return describe_open (p, v, drafting_values_get_piece (v, "piece"));
}

static const DraftingVerb verbs[] = {
  { "slash", N_ ("Slash and spread"),
    N_ ("Pick two edges: the piece is cut straight from one to the other and "
        "opened; an end that opens by nothing is a hinge, and below nothing "
        "pinches out."),
    DRAFTING_GROUP_SPREAD, DRAFTING_PARAMETERS (slash_parameters), run_slash,
    NULL, describe_slash },
  { "slash-line", N_ ("Slash along a line"),
    N_ ("Draw a line across a piece: it is cut there and opened at the line's "
        "start, and at its other end by another amount or, by nothing, "
        "hinged."),
    DRAFTING_GROUP_SPREAD, DRAFTING_PARAMETERS (line_parameters), run_line,
    NULL, describe_line },
  { "sweep", N_ ("Spread evenly"),
    N_ ("Pick the edges to open, say the hem, and those to hinge on, say the "
        "neck: evenly spaced slashes share the amount out."),
    DRAFTING_GROUP_SPREAD, DRAFTING_PARAMETERS (sweep_parameters), run_sweep,
    NULL, NULL },
  { "lengthen-at", N_ ("Lengthen at a line"),
    N_ ("Pick pieces and a height: they are cut square to their grainline and "
        "drawn apart, or, below nothing, folded out."),
    DRAFTING_GROUP_SPREAD, DRAFTING_PARAMETERS (lengthen_parameters),
    run_lengthen, NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_spreads (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
