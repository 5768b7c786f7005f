/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipe for buttons and buttonholes along an edge. */
#include <glib/gi18n.h>

#include "drafting/buttons.h"
#include "drafting/draft-help.h"
#include "drafting/edit-private.h"
#include "drafting/facing.h"
#include "geometry/length.h"
#include "sewing/words.h"

#define MOST_BUTTONS 40
#define BEYOND                                                                 \
  3.0 /* mm a lying hole begins before the centre, towards the edge */
#define LIPS 6.0      /* mm, both lips of a bound hole */
#define PATCH 25.0    /* mm of patch round a bound hole */
#define IN_FACING 5.0 /* mm a facing reaches past the holes */

static const char *const ways[] = { "lying", "upright", NULL };
static const char *const way_labels[]
    = { N_ ("Across the edge"), N_ ("Along the edge"), NULL };

static const DraftingParameter parameters[] = {
  { "edge", DRAFTING_EDGE, N_ ("Edge with the holes"), NULL, NULL, NULL, 0, 0 },
  { "other", DRAFTING_EDGE, N_ ("Edge with the buttons"), "", NULL, NULL, 0,
    0 },
  { "diameter", DRAFTING_LENGTH, N_ ("Button's diameter"), "20 mm", NULL, NULL,
    4, 100 },
  { "thickness", DRAFTING_LENGTH, N_ ("Button's thickness"), "3 mm", NULL, NULL,
    0, 40 },
  { "centre", DRAFTING_LENGTH, N_ ("Centre line from edge"), "20 mm", NULL,
    NULL, 2, 200 },
  { "first", DRAFTING_LENGTH, N_ ("First from the top"), "20 mm", NULL, NULL, 0,
    1000 },
  { "count", DRAFTING_COUNT, N_ ("How many"), "4", NULL, NULL, 1,
    MOST_BUTTONS },
  { "spacing", DRAFTING_LENGTH, N_ ("Spacing"), "100 mm", NULL, NULL, 1, 600 },
  { "last", DRAFTING_LENGTH, N_ ("Last from the top"), "", NULL, NULL, 1,
    3000 },
  { "way", DRAFTING_CHOICE, N_ ("Holes lie"), "lying", ways, way_labels, 0, 0 },
  { "bound", DRAFTING_YES, N_ ("Bound holes"), "no", NULL, NULL, 0, 0 },
  { "facing", DRAFTING_LENGTH, N_ ("Width of the facing"), "", NULL, NULL, 5,
    400 },
};

typedef struct
{
  double diameter, thickness, centre, first, step, length;
  int count;
  gboolean upright, bound;
} Buttons;

static gboolean
read_buttons (const Pattern *p, const DraftingValues *v, Buttons *b,
              GError **error)
{
  b->diameter = drafting_values_get_number (v, "diameter");
  b->thickness = drafting_values_get_number (v, "thickness");
  b->centre = drafting_values_get_number (v, "centre");
  b->first = drafting_values_get_number (v, "first");
  b->count = drafting_values_get_count (v, "count");
  b->upright = drafting_values_get_choice (v, "way") == 1;
  b->bound = drafting_values_get_yes (v, "bound");
  b->length = drafting_buttonhole_length (b->diameter, b->thickness, b->bound);
  b->step = drafting_values_has (v, "last")
                ? drafting_button_step (
                    b->first, drafting_values_get_number (v, "last"), b->count)
                : drafting_values_get_number (v, "spacing");
  double largest = drafting_button_largest (b->centre);
  if (b->diameter > largest)
    {
      g_autofree char *has = sewing_words_length (p, b->diameter);
      g_autofree char *can = sewing_words_length (p, largest);
      g_autofree char *wants
          = sewing_words_length (p, drafting_button_extension (b->diameter));
      return drafting_refuse (
          error, DRAFTING_ERROR_AMOUNT,
          _ ("A button of %s would stand over the edge: the stand is too "
             "narrow. The largest that works is %s; for this one the centre "
             "line should be %s from the edge."),
          has, can, wants);
    }
  if (b->count > 1 && b->step < b->diameter)
    {
      g_autofree char *has = sewing_words_length (p, fmax (b->step, 0));
      g_autofree char *can = sewing_words_length (p, b->diameter);
      return drafting_refuse (
          error, DRAFTING_ERROR_AMOUNT,
          _ ("A spacing of %s puts one button over the next. The least that "
             "works is their diameter, %s."),
          has, can);
    }
  return TRUE;
}

/* --- an edge, from its top down --------------------------------------------------------- */

typedef struct
{
  guint piece;
  GeoChain chain;
  GeoRuler ruler;
  int inside;
} Edge;

static void
edge_clear (Edge *edge)
{
  geo_ruler_clear (&edge->ruler);
  geo_chain_clear (&edge->chain);
}

static void
edge_init (Edge *edge, const Pattern *p, PatternRun run)
{
  const PatternPiece *piece;
  const PatternEdge *own = pattern_get_edge (p, run.piece, run.edge, &piece);
  *edge = (Edge){ .piece = run.piece, .inside = 1 };
  if (own != NULL)
    pattern_piece_edge_chain (piece, (guint)(own - piece->edges), &edge->chain);
  if (geo_chain_start (&edge->chain).y > geo_chain_end (&edge->chain).y)
    {
      geo_chain_reverse (&edge->chain);
      edge->inside = -1;
    }
  geo_ruler_init (&edge->ruler, &edge->chain, 1e-9);
}

/* On the centre line; along and inward get directions there. */
static GeoPoint
place_at (const Edge *edge, double s, double centre, GeoPoint *along,
          GeoPoint *inward)
{
  GeoPlace place = geo_ruler_place (&edge->ruler, s);
  *along = geo_chain_tangent (&edge->chain, place);
  *inward = geo_scale (geo_left (*along), edge->inside);
  return geo_along (geo_chain_point (&edge->chain, place), *inward, centre);
}

static gboolean
is_room (const Pattern *p, const Buttons *b, const Edge *edge, GError **error)
{
  double length = geo_ruler_length (&edge->ruler);
  double last = b->first + b->step * (b->count - 1);
  if (last <= length - b->diameter / 2)
    return TRUE;
  int most = b->first > length - b->diameter / 2
                 ? 0
                 : 1
                       + (int)floor ((length - b->diameter / 2 - b->first)
                                     / fmax (b->step, 1));
  g_autofree char *is = sewing_words_length (p, length);
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      g_dngettext (GETTEXT_PACKAGE,
                   "The edge is %s long: from that first place and at that "
                   "spacing it has room for %d button at most.",
                   "The edge is %s long: from that first place and at that "
                   "spacing it has room for %d buttons at most.",
                   (gulong)most),
      is, most);
}

/* --- marks -------------------------------------------------------------------------------- */

static void
draw_lips (DraftingDraftPiece *piece, int i, GeoPoint from, GeoPoint way,
           double length)
{
  GeoPoint n = geo_left (way), a = geo_along (from, n, LIPS / 2);
  GeoPoint c = geo_along (from, n, -LIPS / 2);
  GeoPoint corners[]
      = { a, geo_along (a, way, length), geo_along (c, way, length), c, a };
  PatternNode nodes[G_N_ELEMENTS (corners)];
  for (guint k = 0; k < G_N_ELEMENTS (corners); k++)
    nodes[k] = (PatternNode){ 0, PATTERN_NODE_CORNER, corners[k], corners[k],
                              corners[k] };
  g_autofree char *part = g_strdup_printf ("lips-%d", i + 1);
  drafting_draft_add_line (piece, part, _ ("bound buttonhole"), nodes,
                           G_N_ELEMENTS (nodes));
}

static void
mark_holes (const Buttons *b, const Edge *edge, DraftingDraft *draft)
{
  DraftingDraftPiece *piece = drafting_draft_on_piece (draft, edge->piece);
  for (int i = 0; i < b->count; i++)
    {
      GeoPoint along, inward;
      GeoPoint at
          = place_at (edge, b->first + b->step * i, b->centre, &along, &inward);
      GeoPoint way = b->upright ? along : inward;
      GeoPoint from
          = geo_along (at, way, b->upright ? -b->length / 2 : -BEYOND);
      g_autofree char *part = g_strdup_printf ("hole-%d", i + 1);
      drafting_draft_add_buttonhole (piece, part, from, atan2 (way.y, way.x),
                                     b->length);
      if (b->bound)
        draw_lips (piece, i, from, way, b->length);
    }
}

static void
mark_buttons (const Buttons *b, const Edge *edge, DraftingDraft *draft)
{
  DraftingDraftPiece *piece = drafting_draft_on_piece (draft, edge->piece);
  for (int i = 0; i < b->count; i++)
    {
      GeoPoint along, inward;
      g_autofree char *part = g_strdup_printf ("button-%d", i + 1);
      drafting_draft_add_drill (
          piece, part,
          place_at (edge, b->first + b->step * i, b->centre, &along, &inward));
    }
}

/* A patch of cloth for each hole, its middle marked. */
static void
give_patch (const Pattern *p, const Buttons *b, DraftingDraft *draft)
{
  g_auto (DraftingShape) shape = { 0 };
  drafting_strip_shape (b->length + 2 * PATCH, LIPS + 2 * PATCH, &shape);
  DraftingShape *shapes[] = { &shape };
  drafting_lay_out (p, shapes, 1);
  GeoPoint corner = geo_chain_start (&shape.edges[0].chain);
  DraftingDraftPiece *piece
      = drafting_shape_give (&shape, draft, "patch", _ ("Buttonhole patch"));
  static const char *const edges[] = { "top", "right", "bottom", "left" };
  for (int i = 0; i < 4; i++)
    drafting_give_edge (piece, &shape, edges[i], "", PATTERN_EDGE_RAW, 0);
  drafting_give_grain (piece, &shape, geo_point (0, 1));
  drafting_draft_add_cut (piece, PATTERN_SHELL, b->count, FALSE);
  draw_lips (piece, 0, geo_add (corner, geo_point (PATCH, PATCH + LIPS / 2)),
             geo_point (1, 0), b->length);
}

static void
say_buttons (const Pattern *p, const DraftingValues *v, const Buttons *b,
             DraftingDraft *draft)
{
  g_autofree char *length = sewing_words_length (p, b->length);
  g_autofree char *step = sewing_words_length (p, b->step);
  g_autofree char *wants
      = sewing_words_length (p, drafting_button_extension (b->diameter));
  if (b->count > 1)
    drafting_draft_say (draft, _ ("Holes %s long, %s apart."), length, step);
  else
    drafting_draft_say (draft, _ ("A hole %s long."), length);
  if (b->centre < drafting_button_extension (b->diameter))
    drafting_draft_say (draft,
                        _ ("The stand is narrow: %s past the centre is usual "
                           "for this button."),
                        wants);
  double reach = b->upright ? b->centre + LIPS : b->centre - BEYOND + b->length;
  if (drafting_values_has (v, "facing")
      && drafting_values_get_number (v, "facing") < reach + IN_FACING)
    {
      g_autofree char *least = sewing_words_length (p, reach + IN_FACING);
      drafting_draft_say (draft,
                          _ ("The facing is too narrow: it should be at least "
                             "%s wide, to lie under the whole hole."),
                          least);
    }
}

static gboolean
draft_buttons (const Pattern *p, const DraftingValues *v, DraftingDraft *draft,
               GError **error)
{
  guint n;
  Buttons b = { 0 };
  if (!read_buttons (p, v, &b, error))
    return FALSE;
  PatternRun run = drafting_values_get_runs (v, "edge", &n)[0];
  PatternRun other = drafting_values_has (v, "other")
                         ? drafting_values_get_runs (v, "other", &n)[0]
                         : run;
  Edge holes, buttons;
  edge_init (&holes, p, run);
  edge_init (&buttons, p, other);
  gboolean room
      = is_room (p, &b, &holes, error) && is_room (p, &b, &buttons, error);
  if (room)
    {
      mark_holes (&b, &holes, draft);
      mark_buttons (&b, &buttons, draft);
      if (b.bound)
        give_patch (p, &b, draft);
      say_buttons (p, v, &b, draft);
    }
  edge_clear (&holes);
  edge_clear (&buttons);
  return room;
}

static const DraftingVerb verbs[] = {
  { "buttons", N_ ("Buttons"),
    N_ ("Pick the edge the holes go along, and the other front's if that is a "
        "piece of its own: holes and buttons are set out on both alike."),
    DRAFTING_GROUP_DRAFT, parameters, G_N_ELEMENTS (parameters), NULL,
    draft_buttons, NULL },
};

const DraftingVerb *
drafting_verbs_of_closings (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}
