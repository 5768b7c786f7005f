/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Guides, told. */
#include <glib/gi18n.h>

#include "drafting/guides.h"
#include "drafting/verbs-private.h"

#define NAME                                                                   \
  {                                                                            \
    "name", DRAFTING_TEXT, N_ ("Name"), "", NULL, NULL, 0, 0                   \
  }
#define FROM                                                                   \
  {                                                                            \
    "from", DRAFTING_POINT, N_ ("From"), NULL, NULL, NULL, 0, 0                \
  }
#define EDGE                                                                   \
  {                                                                            \
    "edge", DRAFTING_EDGE, N_ ("On the edge"), NULL, NULL, NULL, 0, 0          \
  }
#define AT                                                                     \
  {                                                                            \
    "at", DRAFTING_LENGTH, N_ ("At, from its start"), "", NULL, NULL, 0, 1e5   \
  }

static GeoPoint
point_of (const DraftingValues *v, const char *key)
{
  const GeoPoint *point = drafting_values_point (v, key);
  return point ? *point : geo_point (0, 0);
}

static const char *
name_of (const DraftingValues *v)
{
  return drafting_values_has (v, "name") ? drafting_values_get_text (v, "name")
                                         : "";
}

static const DraftingParameter point_parameters[] = {
  FROM,
  { "distance", DRAFTING_LENGTH, N_ ("Distance"), "50 mm", NULL, NULL, 0, 0 },
  { "angle", DRAFTING_ANGLE, N_ ("Angle"), "0", NULL, NULL, 0, 0 },
  NAME,
};

static Pattern *
run_point (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_guide_point (
      p, point_of (v, "from"), drafting_values_get_number (v, "distance"),
      drafting_values_get_number (v, "angle"), name_of (v), error);
}

static Pattern *
run_line (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_guide_line (
      p, point_of (v, "from"), drafting_values_get_number (v, "distance"),
      drafting_values_get_number (v, "angle"), name_of (v), error);
}

static const DraftingParameter edge_parameters[] = { EDGE, AT, NAME };

static Pattern *
run_edge (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_guide_on_edge (p, drafting_values_place (p, v, "edge", "at"),
                                 name_of (v), error);
}

static const DraftingParameter square_parameters[] = {
  EDGE,
  AT,
  { "length", DRAFTING_LENGTH, N_ ("Length"), "100 mm", NULL, NULL, 0, 0 },
  NAME,
};

static Pattern *
run_square (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_guide_square (p, drafting_values_place (p, v, "edge", "at"),
                                drafting_values_get_number (v, "length"),
                                name_of (v), error);
}

static const DraftingParameter meeting_parameters[] = {
  { "one", DRAFTING_TEXT, N_ ("First guide's name"), NULL, NULL, NULL, 0, 0 },
  { "two", DRAFTING_TEXT, N_ ("Second guide's name"), NULL, NULL, NULL, 0, 0 },
  NAME,
};

static Pattern *
run_meeting (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_guide_meeting (p, drafting_values_get_text (v, "one"),
                                 drafting_values_get_text (v, "two"),
                                 name_of (v), error);
}

static const DraftingParameter arc_parameters[] = {
  { "centre", DRAFTING_POINT, N_ ("About"), NULL, NULL, NULL, 0, 0 },
  FROM,
  { "length", DRAFTING_LENGTH, N_ ("Length"), "100 mm", NULL, NULL, 0, 0 },
  NAME,
};

static Pattern *
run_arc (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_guide_arc (p, point_of (v, "centre"), point_of (v, "from"),
                             drafting_values_get_number (v, "length"),
                             name_of (v), error);
}

static const DraftingParameter curve_parameters[] = {
  { "points", DRAFTING_POINTS, N_ ("Through"), NULL, NULL, NULL, 0, 0 },
  NAME,
};

static Pattern *
run_curve (const Pattern *p, const DraftingValues *v, GError **error)
{
  guint n = 0;
  const GeoPoint *points = drafting_values_get_points (v, "points", &n);
  return drafting_guide_curve (p, points, n, name_of (v), error);
}

static const DraftingParameter remove_parameters[] = {
  { "guide", DRAFTING_TEXT, N_ ("The guide's name"), NULL, NULL, NULL, 0, 0 },
};

static Pattern *
run_remove (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_remove_guide (p, drafting_values_get_text (v, "guide"),
                                error);
}

static const DraftingVerb verbs[] = {
  { "guide-point", N_ ("Guide point"),
    N_ ("A small cross, so far from a point, at an angle; 0° is to the right, "
        "90° up."),
    DRAFTING_GROUP_GUIDE, DRAFTING_PARAMETERS (point_parameters), run_point,
    NULL, NULL },
  { "guide-line", N_ ("Guide line"),
    N_ ("A straight line from a point, of a length, at an angle; 0° is to the "
        "right, 90° up."),
    DRAFTING_GROUP_GUIDE, DRAFTING_PARAMETERS (point_parameters), run_line,
    NULL, NULL },
  { "guide-on-edge", N_ ("Guide point on an edge"),
    N_ ("A small cross on an edge, at a length from its start."),
    DRAFTING_GROUP_GUIDE, DRAFTING_PARAMETERS (edge_parameters), run_edge, NULL,
    NULL },
  { "guide-square", N_ ("Guide square to an edge"),
    N_ ("A line from a place on an edge, square to it: into the piece or, "
        "below "
        "nothing, out of it."),
    DRAFTING_GROUP_GUIDE, DRAFTING_PARAMETERS (square_parameters), run_square,
    NULL, NULL },
  { "guide-meeting", N_ ("Meeting of two guides"),
    N_ ("A small cross where two guides meet, or would if they were drawn on "
        "straight."),
    DRAFTING_GROUP_GUIDE, DRAFTING_PARAMETERS (meeting_parameters), run_meeting,
    NULL, NULL },
  { "guide-arc", N_ ("Guide arc"),
    N_ ("An arc of a length about a centre, from a point, against the clock "
        "or, "
        "below nothing, with it."),
    DRAFTING_GROUP_GUIDE, DRAFTING_PARAMETERS (arc_parameters), run_arc, NULL,
    NULL },
  { "guide-curve", N_ ("Guide curve"),
    N_ ("A fair curve through points, as a French curve would give it."),
    DRAFTING_GROUP_GUIDE, DRAFTING_PARAMETERS (curve_parameters), run_curve,
    NULL, NULL },
  { "remove-guide", N_ ("Remove guide"),
    N_ ("Takes a guide away, by its name."), DRAFTING_GROUP_GUIDE,
    DRAFTING_PARAMETERS (remove_parameters), run_remove, NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_guides (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
