/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a pattern keeps the promises of pattern.h and piece.h. */
#include <glib/gi18n.h>
#include <math.h>

#include "pattern/change.h"
#include "pattern/parts.h"
#include "pattern/unsound.h"

#define FARTHEST 1e5 /* mm: 100 m */
/* Rounding in a closed-form area of pieces up to that size stays below this. */
#define AREA_SLACK 1e-4

typedef struct
{
  const Pattern *pattern;
  GHashTable *ids;
  GHashTable *made; /* by recipes */
  gboolean parts;   /* of a pattern only: what they rest on may be missing */
  char *words;      /* the first thing found, or NULL */
} Search;

static void tell (Search *search, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
tell (Search *search, const char *format, ...)
{
  if (search->words)
    return;
  va_list args;
  va_start (args, format);
  search->words = g_strdup_vprintf (format, args);
  va_end (args);
}

static gboolean
in_reach (double number)
{
  return isfinite (number) && fabs (number) <= FARTHEST;
}

static gboolean
point_in_reach (GeoPoint p)
{
  return in_reach (p.x) && in_reach (p.y);
}

static void
look_at_id (Search *search, guint id)
{
  if (id == 0)
    tell (search, _ ("Something in the pattern has the number 0, which "
                     "nothing may have."));
  else if (!search->parts && id >= search->pattern->next_id)
    tell (search,
          _ ("Number %u is in use, but the pattern says that only "
             "numbers below %u are."),
          id, search->pattern->next_id);
  else if (!g_hash_table_add (search->ids, GUINT_TO_POINTER (id)))
    tell (search, _ ("Number %u stands for two things at once."), id);
}

static void
look_at_nodes (Search *search, const PatternNode *nodes, guint n,
               const char *name)
{
  for (guint i = 0; i < n; i++)
    {
      look_at_id (search, nodes[i].id);
      if (!point_in_reach (nodes[i].at) || !point_in_reach (nodes[i].in)
          || !point_in_reach (nodes[i].out))
        tell (search,
              _ ("A node of “%s” lies more than 100 m away, or nowhere."),
              name);
      if ((guint)nodes[i].kind > PATTERN_NODE_SYMMETRIC)
        tell (search, _ ("A node of “%s” is of no known kind."), name);
    }
}

static void
look_at_line (Search *search, const PatternLine *line)
{
  look_at_id (search, line->id);
  if (!line->name)
    {
      tell (search, _ ("A line has no name, not even an empty one."));
      return;
    }
  look_at_nodes (search, line->nodes, line->n_nodes, line->name);
}

static void
look_at_edges (Search *search, const PatternPiece *piece)
{
  if ((piece->n_nodes == 0) != (piece->n_edges == 0))
    tell (search, _ ("The outline of “%s” is not divided into edges."),
          piece->name);
  for (guint i = 0; i < piece->n_edges; i++)
    {
      const PatternEdge *edge = &piece->edges[i];
      look_at_id (search, edge->id);
      if (!edge->name)
        tell (search,
              _ ("An edge of “%s” has no name, not even an empty "
                 "one."),
              piece->name);
      if (edge->first >= piece->n_nodes
          || (i == 0 ? edge->first != 0
                     : edge->first <= piece->edges[i - 1].first))
        tell (search, _ ("The edges of “%s” do not follow each other."),
              piece->name);
      if (!in_reach (edge->allowance) || edge->allowance < 0)
        tell (search,
              _ ("An edge of “%s” has an allowance that is less than "
                 "nothing, or more than 100 m."),
              piece->name);
      if (!in_reach (edge->clip_spacing) || edge->clip_spacing < 0)
        tell (search,
              _ ("An edge of “%s” is to be clipped at distances that are "
                 "less than nothing, or more than 100 m."),
              piece->name);
      if ((guint)edge->kind > PATTERN_EDGE_RAW
          || (guint)edge->corner.kind > GEO_CORNER_FOLDED_BACK
          || (guint)edge->corner.governor > GEO_CORNER_BY_LEAVING)
        tell (search, _ ("An edge of “%s” is of no known kind."), piece->name);
    }
}

static void
look_at_notches (Search *search, const PatternPiece *piece)
{
  for (guint i = 0; i < piece->n_notches; i++)
    {
      const PatternNotch *notch = &piece->notches[i];
      look_at_id (search, notch->id);
      if (pattern_piece_find_edge (piece, notch->edge) < 0)
        tell (search, _ ("A notch of “%s” is on an edge that is not there."),
              piece->name);
      if (notch->count < 1 || notch->count > 3
          || (guint)notch->from > PATTERN_FRACTION)
        tell (search,
              _ ("A notch of “%s” is neither single, double nor triple, or "
                 "is measured from nowhere."),
              piece->name);
      if (!in_reach (notch->amount)
          || (notch->from == PATTERN_FRACTION
              && (notch->amount < 0 || notch->amount > 1)))
        tell (search, _ ("A notch of “%s” lies off its edge."), piece->name);
    }
}

static void
look_at_marks (Search *search, const PatternPiece *piece)
{
  gboolean in = TRUE;
  for (guint i = 0; i < piece->n_buttonholes; i++)
    {
      const PatternButtonhole *hole = &piece->buttonholes[i];
      look_at_id (search, hole->id);
      in = in && point_in_reach (hole->at) && in_reach (hole->angle)
           && in_reach (hole->length) && hole->length >= 0;
    }
  for (guint i = 0; i < piece->n_drills; i++)
    {
      look_at_id (search, piece->drills[i].id);
      in = in && point_in_reach (piece->drills[i].at);
    }
  for (guint i = 0; i < piece->n_texts; i++)
    {
      const PatternText *text = &piece->texts[i];
      look_at_id (search, text->id);
      in = in && point_in_reach (text->at) && in_reach (text->angle)
           && in_reach (text->size) && text->size >= 0 && text->text;
    }
  if (piece->has_grain)
    in = in && point_in_reach (piece->grain_from)
         && point_in_reach (piece->grain_to);
  if (!in)
    tell (search,
          _ ("A mark or the grainline of “%s” lies more than 100 m away, or "
             "nowhere."),
          piece->name);
  for (guint i = 0; i < piece->n_lines; i++)
    look_at_line (search, &piece->lines[i]);
}

static void
look_at_piece (Search *search, const PatternPiece *piece)
{
  look_at_id (search, piece->id);
  if (!piece->name || !piece->note)
    {
      tell (search, _ ("A piece has no name or note, not even an empty "
                       "one."));
      return;
    }
  look_at_nodes (search, piece->nodes, piece->n_nodes, piece->name);
  look_at_edges (search, piece);
  look_at_notches (search, piece);
  look_at_marks (search, piece);
  for (guint i = 0; i < piece->n_cuts; i++)
    if ((!search->parts
         && !pattern_get_cloth (search->pattern, piece->cuts[i].cloth))
        || piece->cuts[i].count < 0)
      tell (search,
            _ ("“%s” is cut from a cloth that is not there, or fewer than "
               "no times."),
            piece->name);
  if (!search->words && pattern_piece_area (piece) < -AREA_SLACK)
    tell (search, _ ("The outline of “%s” runs the wrong way round."),
          piece->name);
}

static void
look_at_seam (Search *search, const PatternSeam *seam)
{
  look_at_id (search, seam->id);
  if (!seam->name)
    {
      tell (search, _ ("A seam has no name, not even an empty one."));
      return;
    }
  if (!in_reach (seam->ease) || (guint)seam->press > PATTERN_PRESS_TURNED
      || (guint)seam->join > PATTERN_JOIN_DART)
    tell (search, _ ("The ease or the pressing of seam “%s” makes no sense."),
          seam->name);
  for (guint i = 0; i < seam->n_spans; i++)
    {
      const PatternEaseSpan *span = &seam->spans[i];
      if (!in_reach (span->amount)
          || (span->from == span->to && span->from != 0)
          || pattern_seam_get_span (seam, span->from, span->to) != span)
        tell (search,
              _ ("The ease meant between two marks of seam “%s” makes no "
                 "sense."),
              seam->name);
    }
  for (int s = 0; s < 2; s++)
    {
      if (seam->sides[s].n_runs == 0)
        tell (search, _ ("Seam “%s” has only one side."), seam->name);
      for (guint i = 0; i < seam->sides[s].n_runs; i++)
        if (!search->parts
            && !pattern_get_edge (search->pattern, seam->sides[s].runs[i].piece,
                                  seam->sides[s].runs[i].edge, NULL))
          tell (search, _ ("Seam “%s” runs along an edge that is not there."),
                seam->name);
    }
}

static void
look_at_cloth (Search *search, const PatternCloth *cloth)
{
  look_at_id (search, cloth->id);
  if (!cloth->name)
    tell (search, _ ("A cloth has no name, not even an empty one."));
  else if (!in_reach (cloth->width) || cloth->width < 0
           || !in_reach (cloth->thickness) || cloth->thickness < 0
           || !in_reach (cloth->give) || cloth->give < 0
           || !in_reach (cloth->weight) || cloth->weight < 0
           || (guint)cloth->use > PATTERN_OTHER_CLOTH || cloth->tint > 7)
    tell (search, _ ("A figure of the cloth “%s” makes no sense."),
          cloth->name);
}

/* Parts stand in the pattern under their numbers, so these are not looked at
 * again, but none may be taken anew. */
static void
look_at_recipe_ids (Search *search, const PatternRecipe *recipe)
{
  look_at_id (search, recipe->id);
  for (guint i = 0; i < recipe->n_made; i++)
    {
      guint id = recipe->made[i].id;
      if (id == 0 || (!search->parts && id >= search->pattern->next_id))
        tell (search, _ ("A part of a recipe has a number that nothing has."));
      else if (!g_hash_table_add (search->made, GUINT_TO_POINTER (id)))
        tell (search, _ ("Two parts of recipes have the number %u."), id);
    }
}

static char *
look_at_all (const Pattern *pattern, gboolean parts)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);
  g_autoptr (GHashTable) made = g_hash_table_new (NULL, NULL);
  Search search = { pattern, ids, made, parts, NULL };
  if (!pattern->name || !pattern->note)
    tell (&search, _ ("The pattern has no name or note, not even an empty "
                      "one."));
  if (!in_reach (pattern->tolerance) || pattern->tolerance < 0
      || (guint)pattern->unit > PATTERN_INCH)
    tell (&search, _ ("The pattern's unit or tolerance makes no sense."));
  for (guint i = 0; i < pattern->n_cloths; i++)
    look_at_cloth (&search, &pattern->cloths[i]);
  for (guint i = 0; i < pattern->n_pieces; i++)
    look_at_piece (&search, pattern->pieces[i]);
  for (guint i = 0; i < pattern->n_seams; i++)
    look_at_seam (&search, pattern->seams[i]);
  for (guint i = 0; i < pattern->n_lines; i++)
    look_at_line (&search, &pattern->lines[i]);
  for (guint i = 0; i < pattern->n_set_aside; i++)
    if (!pattern->set_aside[i].key || !pattern->set_aside[i].note)
      tell (&search, _ ("A finding set aside has no name."));
  for (guint i = 0; i < pattern->n_figures; i++)
    look_at_id (&search, pattern->figures[i].id);
  for (guint i = 0; i < pattern->n_recipes; i++)
    look_at_recipe_ids (&search, pattern->recipes[i]);
  for (guint i = 0; i < pattern->n_fittings; i++)
    look_at_id (&search, pattern->fittings[i]->id);
  for (guint i = 0; i < pattern->n_pictures; i++)
    look_at_id (&search, pattern->pictures[i]->id);
  return search.words ? search.words : pattern_unsound_recipes (pattern);
}

char *
pattern_unsound_parts (const Pattern *pattern)
{
  return look_at_all (pattern, TRUE);
}

char *
pattern_unsound (const Pattern *pattern)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  char *words = look_at_all (pattern, FALSE);
  words = words ? words : pattern_unsound_pictures (pattern);
  return words ? words : pattern_unsound_fittings (pattern);
}
