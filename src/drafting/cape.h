/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The geometry of capes: two half slopers and amounts in, outlines out. */
#pragma once

#include "drafting/edit.h"
#include "drafting/shape.h"

/* --- halves of a sloper -------------------------------------------------------------- */

/* Front or back, laid so that its centre is the upright through x 0 and runs down, its shoulder points to
 * the right, and its neck point is at height 0. */
typedef struct
{
  GeoChain neck;   /* from the centre to the neck point */
  GeoPoint centre; /* where it starts */
  GeoPoint point;  /* where it ends */
  GeoPoint along;  /* the shoulder's direction, from the neck point */
  double shoulder; /* its length */
  double width;    /* allowance of the neck edge */
} DraftingHalf;

void drafting_half_clear (DraftingHalf *half);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DraftingHalf, drafting_half_clear)
/* FALSE, with the error set, where the two edges do not meet at a neck point. half need not be
 * initialised. */
gboolean drafting_half_take (const Pattern *p, PatternRun neck,
                             PatternRun shoulder, DraftingHalf *half,
                             GError **error);

/* --- cape from a sloper ---------------------------------------------------------------- */

typedef struct
{
  double length; /* from the neck point down, mm, as all below */
  double slope;  /* degrees below the level at which it falls over the arm */
  double ease;   /* the shoulder is carried on by that, over the upper arm */
  double round; /* how far before and behind the shoulder's end it is rounded */
  double longer_front; /* for the bust */
  double longer_side;  /* for the arm; drafts of the trade take some off */
  double flare;        /* at the hem, of each of the panel seams' edges */
  double lower_back, lower_side, lower_front; /* the neckline */
  double stand;                   /* carried on past the centre front */
  double back_panel, front_panel; /* along the neck from the neck point */
  double back_share,
      front_share; /* where they meet the hem: 0 centre, 1 side */
  double opening_from, opening_length; /* on the front panel seam; 0: none */
} DraftingCapeWish;

typedef struct
{
  double back_length, side_length,
      front_length; /* of the cloth, from the neck */
  double sweep;     /* of the whole hem */
  double dart;      /* degrees the shoulder takes up */
  double dart_ease; /* its back leg is longer by this */
  double dart_tip;  /* of the point, past the shoulder's end along its legs */
} DraftingCapeFacts;

/* Edges: back neck, panel, hem, centre; side neck-back, dart-back, dart-front, neck-front, panel-upper,
 * opening, panel-lower, hem, panel-back; front neck, stand, front, hem, panel-lower,
 * opening, panel-upper. Without an opening, panel-upper is the whole seam; without a stand there is no
 * stand. All of positive area; the side panel hangs straight down, the other two by their
 * centres. Neckline and hem run on smoothly across all seams, which are of the same length.
 * FALSE where it can't be drawn. */
gboolean
drafting_cape_shape (const DraftingHalf *back, const DraftingHalf *front,
                     const DraftingCapeWish *wish, DraftingShape *back_panel,
                     DraftingShape *side_panel, DraftingShape *front_panel,
                     DraftingCapeFacts *facts);

/* --- circular cape ----------------------------------------------------------------------- */

/* Of a circle: 0 < share <= 1. The radius of a neck of that girth: girth / (2 pi share). */
double drafting_circle_radius (double girth, double share);
/* Half of it, to be cut on the fold at the centre back. Edges: neck, front, hem, centre. */
gboolean drafting_circle_shape (double girth, double share, double length,
                                DraftingShape *shape);
