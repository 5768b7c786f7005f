/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of recipes, for drafting/recipe*.c and draft.c.
 *
 * A drafted piece has a frame of its own: it begins at the outline's first node as drafted, its x along the
 * grain as drafted (along the table's x where there is none). PatternMade.frame puts that frame on the
 * table. So the piece stays where she put it, however its sources are moved or turned, its first node
 * and its grain holding still, and a hand change means the same wherever the piece lies.
 */
#pragma once

#include "drafting/verb.h"

typedef struct
{
  char *part; /* "collar/e:neck" or "collar/n:tip" */
  char *name; /* of an edge */
  PatternEdgeKind kind;
  double allowance;
  GeoCorner corner;
} DraftEdge;

typedef struct
{
  char *part;
  char *edge; /* part of an edge */
  PatternNotch notch;
} DraftNotch;

typedef struct
{
  char *part;
  PatternButtonhole hole; /* a drill mark has length -1 */
} DraftMark;

typedef struct
{
  char *part;
  PatternLine line;
} DraftLine;

struct _DraftingDraftPiece
{
  char *part; /* NULL for a piece that is there already */
  guint on;   /* its id, then */
  char *name;
  PatternNode *nodes;
  char **node_parts;
  guint n_nodes;
  GArray *edges; /* of DraftEdge, in the outline's order */
  guint *firsts; /* one an edge */
  GArray *notches, *marks, *lines;
  GArray *cuts; /* of PatternCut; cloth is a PatternClothUse */
  gboolean has_grain;
  GeoPoint grain_from, grain_to;
  char *note;
};

typedef struct
{
  char *part, *name;
  PatternJoin join;
  GArray *sides[2]; /* of DraftRun */
  double ease;
  PatternPress press;
  GArray *spans; /* of DraftSpan */
} DraftSeam;

typedef struct
{
  char *from, *to; /* parts of notches */
  double amount;
} DraftSpan;

typedef struct
{
  char *piece, *edge; /* parts; NULL: run tells */
  PatternRun run;
} DraftRun;

struct _DraftingDraft
{
  GPtrArray *pieces; /* of DraftingDraftPiece */
  GArray *seams;     /* of DraftSeam */
  GString *words;
};

DraftingDraft *drafting_draft_new (void);
void drafting_draft_free (DraftingDraft *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DraftingDraft, drafting_draft_free)

/* A step's verb; NULL with the error set. */
const DraftingVerb *drafting_step_verb (const PatternStep *step,
                                        GError **error);
/* A copy that says what unit its bare amounts are in. */
PatternStep *drafting_step_with_unit (const Pattern *p,
                                      const PatternStep *step);

/* Drafts a new recipe. */
Pattern *drafting_recipe_start (const Pattern *p, const PatternStep *step,
                                GError **error);
/* What the step drafts in the pattern; NULL with the error set. */
DraftingDraft *drafting_recipe_draft (const Pattern *p, const PatternStep *step,
                                      GError **error);
/* Lays a draft into a pattern that is being altered: pieces, seams and marks made or brought up to
 * date, hand changes laid on. recipe is a copy being altered; its made parts are
 * brought up to date. FALSE with the error set where the result would be no pattern; the pattern is
 * then not to be used. */
gboolean drafting_recipe_lay (Pattern *p, PatternRecipe *recipe,
                              const DraftingDraft *draft, GError **error);
/* What she did by hand between the two goes into the recipe, a copy being altered. FALSE with the error
 * set where it can't be kept. */
gboolean drafting_recipe_absorb (const Pattern *before, const Pattern *now,
                                 PatternRecipe *recipe, GError **error);
/* A recipe whose piece has other nodes or edges now, or 0. */
guint drafting_recipe_unkept (const Pattern *before, const Pattern *now);
/* Whether the recipe was drafted from the piece. */
gboolean drafting_recipe_reads (const Pattern *p, const PatternRecipe *recipe,
                                guint piece);
