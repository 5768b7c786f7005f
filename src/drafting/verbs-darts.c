/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verbs on darts, told. */
#include <glib/gi18n.h>

#include "drafting/verbs-private.h"
#include "sewing/words.h"

#define DART                                                                   \
  {                                                                            \
    "dart", DRAFTING_DART, N_ ("Dart"), NULL, NULL, NULL, 0, 0                 \
  }
#define TO                                                                     \
  {                                                                            \
    "to", DRAFTING_EDGE, N_ ("To the edge"), NULL, NULL, NULL, 0, 0            \
  }
#define AT                                                                     \
  {                                                                            \
    "at", DRAFTING_LENGTH, N_ ("At, from its start"), "", NULL, NULL, 0, 1e5   \
  }
#define SHARE                                                                  \
  {                                                                            \
    "share", DRAFTING_SHARE, N_ ("Share"), "100", NULL, NULL, 0, 100           \
  }
#define PIVOT                                                                  \
  {                                                                            \
    "pivot", DRAFTING_POINT, N_ ("About"), "", NULL, NULL, 0, 0                \
  }

/* --- turned ------------------------------------------------------------------------ */
static const DraftingParameter turn_parameters[]
    = { DART, TO, AT, SHARE, PIVOT };

static Pattern *
run_turn (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_turn_dart (p, drafting_values_get_seam (v, "dart"),
                             drafting_values_place (p, v, "to", "at"),
                             drafting_values_get_number (v, "share") / 100,
                             drafting_values_point (v, "pivot"), error);
}

static Pattern *
run_flare (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_dart_to_flare (p, drafting_values_get_seam (v, "dart"),
                                 drafting_values_place (p, v, "to", "at"),
                                 drafting_values_get_number (v, "share") / 100,
                                 drafting_values_point (v, "pivot"), error);
}

/* --- split ------------------------------------------------------------------------- */
static const DraftingParameter split_parameters[] = {
  DART,
  { "places", DRAFTING_POINTS, N_ ("Places on the outline"), NULL, NULL, NULL,
    0, 0 },
  { "share", DRAFTING_SHARE, N_ ("Share, over all"), "100", NULL, NULL, 0,
    100 },
  PIVOT,
};

static Pattern *
run_split (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint dart = drafting_values_get_seam (v, "dart"), n = 0;
  const GeoPoint *points = drafting_values_get_points (v, "places", &n);
  const PatternSeam *seam = drafting_find_seam (p, dart, error);
  const PatternPiece *piece
      = seam ? drafting_find_piece (p, seam->sides[0].runs[0].piece, error)
             : NULL;
  if (!piece)
    return NULL;
  g_autofree DraftingPlace *to = g_new0 (DraftingPlace, n);
  g_autofree double *shares = g_new0 (double, n);
  for (guint i = 0; i < n; i++)
    {
      drafting_place_near (piece, points[i], &to[i]);
      shares[i] = drafting_values_get_number (v, "share") / 100 / n;
    }
  return drafting_split_dart (p, dart, to, shares, n,
                              drafting_values_point (v, "pivot"), error);
}

/* --- into ease --------------------------------------------------------------------- */
static const DraftingParameter ease_parameters[] = { DART };

static Pattern *
run_ease (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_dart_to_ease (p, drafting_values_get_seam (v, "dart"), error);
}

/* --- made -------------------------------------------------------------------------- */
static const DraftingParameter make_parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("In the edge"), NULL, NULL, NULL, 0, 0 },
  AT,
  { "intake", DRAFTING_LENGTH, N_ ("Intake"), "20 mm", NULL, NULL, 0.1, 1000 },
  { "length", DRAFTING_LENGTH, N_ ("Length"), "100 mm", NULL, NULL, 1, 5000 },
  { "point", DRAFTING_POINT, N_ ("Towards"), "", NULL, NULL, 0, 0 },
};

static Pattern *
run_make (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_make_dart (p, drafting_values_place (p, v, "edge", "at"),
                             drafting_values_get_number (v, "intake"),
                             drafting_values_get_number (v, "length"),
                             drafting_values_point (v, "point"), NULL, error);
}

/* --- shaped ------------------------------------------------------------------------ */
static const DraftingParameter point_parameters[] = {
  DART,
  { "back", DRAFTING_LENGTH, N_ ("Back by"), "25 mm", NULL, NULL, 0, 0 },
};

static Pattern *
run_point (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_move_dart_point (p, drafting_values_get_seam (v, "dart"),
                                   drafting_values_get_number (v, "back"),
                                   error);
}

static const DraftingParameter curve_parameters[] = {
  DART,
  { "by", DRAFTING_LENGTH, N_ ("Take more by"), "3 mm", NULL, NULL, 0, 0 },
};

static Pattern *
run_curve (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_curve_dart (p, drafting_values_get_seam (v, "dart"),
                              drafting_values_get_number (v, "by"), error);
}

static const DraftingParameter intake_parameters[] = {
  DART,
  { "intake", DRAFTING_LENGTH, N_ ("Intake"), "20 mm", NULL, NULL, 0.1, 1000 },
};

static Pattern *
run_intake (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_set_dart_intake (p, drafting_values_get_seam (v, "dart"),
                                   drafting_values_get_number (v, "intake"),
                                   error);
}

/* --- what was done ----------------------------------------------------------------- */
static char *
name_of_dart (const Pattern *p, const DraftingValues *v)
{
  const PatternSeam *seam
      = pattern_get_seam (p, drafting_values_get_seam (v, "dart"));
  return g_strdup (seam && *seam->name ? seam->name : _ ("dart"));
}

static char *
name_of_edge (const Pattern *p, const DraftingValues *v, const char *key)
{
  DraftingPlace place = drafting_values_place (p, v, key, "at");
  return sewing_words_edge_of (p, place.piece, place.edge);
}

static char *
describe_turn (const Pattern *p, const DraftingValues *v)
{
  g_autofree char *dart = name_of_dart (p, v);
  g_autofree char *edge = name_of_edge (p, v, "to");
  return g_strdup_printf (_ ("Turn %s to %s"), dart, edge);
}

static char *
describe_flare (const Pattern *p, const DraftingValues *v)
{
  g_autofree char *dart = name_of_dart (p, v);
  g_autofree char *edge = name_of_edge (p, v, "to");
  return g_strdup_printf (_ ("Turn %s into flare at %s"), dart, edge);
}

static char *
describe_split (const Pattern *p, const DraftingValues *v)
{
  guint n = 0;
  g_autofree char *dart = name_of_dart (p, v);
  drafting_values_get_points (v, "places", &n);
  return g_strdup_printf (
      ngettext ("Split %s to %u place", "Split %s over %u places", n), dart, n);
}

static char *
describe_make (const Pattern *p, const DraftingValues *v)
{
  g_autofree char *edge = name_of_edge (p, v, "edge");
  g_autofree char *intake
      = sewing_words_length (p, drafting_values_get_number (v, "intake"));
  return g_strdup_printf (_ ("Make dart of %s in %s"), intake, edge);
}

/* --- the table --------------------------------------------------------------------- */
static const DraftingVerb verbs[] = {
  { "turn-dart", N_ ("Turn dart"),
    N_ ("Pick a dart and the place it is to go to: it closes, and opens there "
        "by "
        "the same angle. Turn it about the bust point where its own point "
        "stops "
        "short of that."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (turn_parameters), run_turn, NULL,
    describe_turn },
  { "split-dart", N_ ("Split dart"),
    N_ ("Pick a dart and several places on the outline: its angle is shared "
        "out "
        "evenly over them."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (split_parameters), run_split,
    NULL, describe_split },
  { "flare-dart", N_ ("Turn dart into flare"),
    N_ ("Pick a dart and a place on the hem: the dart closes, and the hem "
        "opens "
        "into flare."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (turn_parameters), run_flare, NULL,
    describe_flare },
  { "ease-dart", N_ ("Turn dart into ease"),
    N_ ("Pick a dart: it is no longer sewn, and the seam it ends in is to ease "
        "its intake in."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (ease_parameters), run_ease, NULL,
    NULL },
  { "make-dart", N_ ("Make dart"),
    N_ ("Pick an edge: a dart takes the intake out of it, square to the edge "
        "or "
        "towards a point."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (make_parameters), run_make, NULL,
    describe_make },
  { "dart-point", N_ ("Move dart point"),
    N_ ("Pick a dart: its point goes back towards the edge, or, below nothing, "
        "farther in."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (point_parameters), run_point,
    NULL, NULL },
  { "curve-dart", N_ ("Curve dart legs"),
    N_ ("Pick a dart: both legs bow alike and take more cloth at their middle, "
        "or, below nothing, less."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (curve_parameters), run_curve,
    NULL, NULL },
  { "dart-intake", N_ ("Set dart intake"),
    N_ ("Pick a dart: its legs open or close about its point to another "
        "intake."),
    DRAFTING_GROUP_DART, DRAFTING_PARAMETERS (intake_parameters), run_intake,
    NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_darts (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
