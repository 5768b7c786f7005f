/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/edge-names.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edge-names-private.h"
#include "drafting/edit-private.h"

/* The order is that of DraftingEdgeWord. */
static const DraftingEdgeName names[] = {
  [DRAFTING_CENTRE_FRONT] = { N_ ("centre front"), -1 },
  [DRAFTING_CENTRE_FRONT_FOLD]
  = { N_ ("centre front fold"), PATTERN_EDGE_FOLD },
  [DRAFTING_CENTRE_BACK] = { N_ ("centre back"), -1 },
  [DRAFTING_CENTRE_BACK_FOLD] = { N_ ("centre back fold"), PATTERN_EDGE_FOLD },
  [DRAFTING_FRONT_NECK] = { N_ ("front neck"), PATTERN_EDGE_SEAM },
  [DRAFTING_BACK_NECK] = { N_ ("back neck"), PATTERN_EDGE_SEAM },
  [DRAFTING_NECK_EDGE] = { N_ ("neck edge"), PATTERN_EDGE_SEAM },
  [DRAFTING_SHOULDER] = { N_ ("shoulder"), PATTERN_EDGE_SEAM },
  [DRAFTING_ARMHOLE] = { N_ ("armhole"), PATTERN_EDGE_SEAM },
  [DRAFTING_SIDE_SEAM] = { N_ ("side seam"), PATTERN_EDGE_SEAM },
  [DRAFTING_WAIST] = { N_ ("waist"), PATTERN_EDGE_SEAM },
  [DRAFTING_HEM] = { N_ ("hem"), PATTERN_EDGE_HEM },
  [DRAFTING_DART_LEG] = { N_ ("dart leg"), PATTERN_EDGE_SEAM },
  [DRAFTING_SLEEVE_CAP] = { N_ ("sleeve cap"), PATTERN_EDGE_SEAM },
  [DRAFTING_UNDERARM] = { N_ ("underarm"), PATTERN_EDGE_SEAM },
  [DRAFTING_PANEL_SEAM] = { N_ ("panel seam"), PATTERN_EDGE_SEAM },
  [DRAFTING_YOKE_SEAM] = { N_ ("yoke seam"), PATTERN_EDGE_SEAM },
  [DRAFTING_FRONT_EDGE] = { N_ ("front edge"), PATTERN_EDGE_SEAM },
  [DRAFTING_ARM_OPENING] = { N_ ("arm opening"), PATTERN_EDGE_SEAM },
  [DRAFTING_COLLAR_SEAM] = { N_ ("collar seam"), PATTERN_EDGE_SEAM },
  [DRAFTING_OUTER_EDGE] = { N_ ("outer edge"), PATTERN_EDGE_SEAM },
  [DRAFTING_BAND_END] = { N_ ("band end"), PATTERN_EDGE_SEAM },
  [DRAFTING_FACING_EDGE] = { N_ ("facing edge"), PATTERN_EDGE_SEAM },
  [DRAFTING_POCKET_OPENING] = { N_ ("pocket opening"), -1 },
  [DRAFTING_INSEAM] = { N_ ("inseam"), PATTERN_EDGE_SEAM },
  [DRAFTING_CROTCH] = { N_ ("crotch"), PATTERN_EDGE_SEAM },
  [DRAFTING_FOLD] = { N_ ("fold"), PATTERN_EDGE_FOLD },
};

const DraftingEdgeName *
drafting_edge_names (guint *n)
{
  *n = G_N_ELEMENTS (names);
  return names;
}

int
drafting_edge_name_find (const char *name)
{
  g_autofree char *asked = g_utf8_casefold (name, -1);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *own = g_utf8_casefold (_ (names[i].name), -1);
      if (strcmp (own, asked) == 0)
        return (int)i;
    }
  return -1;
}

Pattern *
drafting_name_edge (const Pattern *p, guint piece, guint edge, const char *name,
                    GError **error)
{
  guint index;
  PatternPiece *copy = drafting_begin_edge (p, piece, edge, &index, error);
  if (!copy)
    return NULL;
  PatternEdge *own = &copy->edges[index];
  int known = drafting_edge_name_find (name);
  int kind = known >= 0 ? names[known].kind : -1;
  pattern_set_string (&own->name, name);
  if (kind == PATTERN_EDGE_SEAM
      && (own->kind == PATTERN_EDGE_BOUND || own->kind == PATTERN_EDGE_RAW))
    kind = -1;
  if (kind >= 0)
    own->kind = (PatternEdgeKind)kind;
  return drafting_finish_marks (p, copy, NULL);
}
