/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/words.h"

#include <glib/gi18n.h>
#include <math.h>

#include "sewing/words.h"

char *
app_words_edge (const Pattern *pattern, guint piece_id, guint edge_id)
{
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (pattern, piece_id, edge_id, &piece);
  if (edge == NULL)
    return g_strdup (_ ("an edge that is gone"));
  const char *piece_name
      = piece->name[0] != '\0' ? piece->name : _ ("unnamed piece");
  if (edge->name[0] != '\0')
    return g_strdup_printf ("%s · %s", piece_name, edge->name);
  /* Counted from 1 as the outline is walked. */
  return g_strdup_printf (_ ("%s · edge %d"), piece_name,
                          pattern_piece_find_edge (piece, edge_id) + 1);
}

char *
app_words_side (const Pattern *pattern, const PatternSeam *seam, int side)
{
  const PatternSide *s = &seam->sides[side];
  if (s->n_runs == 0)
    return g_strdup (_ ("nothing yet"));
  g_autofree char *first
      = app_words_edge (pattern, s->runs[0].piece, s->runs[0].edge);
  if (s->n_runs == 1)
    return g_steal_pointer (&first);
  return g_strdup_printf (
      ngettext ("%s and %u more", "%s and %u more", s->n_runs - 1), first,
      s->n_runs - 1);
}

char *
app_words_seam (const Pattern *pattern, const PatternSeam *seam)
{
  if (seam->name[0] != '\0')
    return g_strdup (seam->name);
  g_autofree char *a = app_words_side (pattern, seam, 0);
  g_autofree char *b = app_words_side (pattern, seam, 1);
  return g_strdup_printf (_ ("%s to %s"), a, b);
}

char *
app_words_interval (const Pattern *pattern, const SewingSeam *facts,
                    guint interval, int *side, gboolean *is_out)
{
  const SewingInterval *in = &facts->intervals[interval];
  double out = in->difference - in->meant;
  gboolean as_meant = fabs (out) <= pattern->tolerance;
  double told = as_meant ? in->difference : out;
  *is_out = !as_meant;
  *side = (told < 0) == *is_out ? 0 : 1;
  if (fabs (told) <= pattern->tolerance)
    return NULL;
  g_autofree char *amount = sewing_words_amount (pattern, told);
  return g_strdup_printf (as_meant ? _ ("%s eased") : _ ("%s short"), amount);
}

static char *
words_gaps (const GeoClipPlan *plan, PatternUnit unit)
{
  g_autofree char *least
      = pattern_length_format (plan->shortest_gap, unit, FALSE);
  g_autofree char *most
      = pattern_length_format (plan->longest_gap, unit, FALSE);
  if (plan->count < 2)
    return g_strdup ("");
  if (g_str_equal (least, most))
    return g_strdup_printf (_ (", %s apart"), least);
  g_autofree char *bare = pattern_length_format_bare (plan->shortest_gap, unit);
  return g_strdup_printf (_ (", %s to %s apart"), bare, most);
}

char *
app_words_clips (const GeoClipPlan *plan, PatternUnit unit)
{
  if (plan == NULL || plan->count == 0)
    return g_strdup (_ ("none needed"));
  guint slits = 0, wedges = 0;
  for (size_t i = 0; i < plan->count; i++)
    if (plan->cuts[i].kind == GEO_CUT_SLIT)
      slits++;
    else
      wedges++;
  g_autofree char *slit_words
      = g_strdup_printf (ngettext ("%u slit", "%u slits", slits), slits);
  g_autofree char *wedge_words
      = g_strdup_printf (ngettext ("%u wedge", "%u wedges", wedges), wedges);
  g_autofree char *gaps = words_gaps (plan, unit);
  if (slits > 0 && wedges > 0)
    return g_strdup_printf (_ ("%s and %s%s"), slit_words, wedge_words, gaps);
  return g_strconcat (slits > 0 ? slit_words : wedge_words, gaps, NULL);
}

const char *
app_words_edge_kind (PatternEdgeKind kind)
{
  switch (kind)
    {
    case PATTERN_EDGE_HEM:
      return _ ("Hem, turned up");
    case PATTERN_EDGE_FOLD:
      return _ ("On the fold");
    case PATTERN_EDGE_BOUND:
      return _ ("Bound with tape");
    case PATTERN_EDGE_RAW:
      return _ ("Left raw");
    case PATTERN_EDGE_SEAM:
    default:
      return _ ("Seam");
    }
}
