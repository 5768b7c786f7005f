/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole pattern: the immutable value everything else is computed from.
 *
 * Reference-counted (atomically: a snapshot may be saved on another thread),
 * never changed once others hold it. pattern_dup() gives a copy that shares every
 * piece and seam; alter that with the setters below, then publish it.
 */
#pragma once

#include "pattern/length-text.h"
#include "pattern/picture.h"
#include "pattern/piece.h"
#include "pattern/step.h"

typedef enum
{
  PATTERN_SHELL,
  PATTERN_LINING,
  PATTERN_INTERFACING,
  PATTERN_OTHER_CLOTH,
} PatternClothUse;

typedef struct
{
  guint id;
  char *name;
  PatternClothUse use;
  double width;     /* mm, usable; 0 not known */
  double thickness; /* mm */
  double give;      /* strain taken up by pressing or easing: 0.04 is 4 % */
  double weight;    /* g per square metre; 0 not known */
  guint tint;       /* 0..7, a faint colour on the table */
  char *extra;
} PatternCloth;

typedef enum
{
  PATTERN_PRESS_OPEN,
  PATTERN_PRESS_TO_A, /* both allowances lie over side A */
  PATTERN_PRESS_TO_B,
  PATTERN_PRESS_TURNED, /* enclosed: turned right side out, as a facing's edge */
} PatternPress;

typedef enum
{
  PATTERN_JOIN_SEAM,
  PATTERN_JOIN_DART, /* both sides are legs of one dart; they meet at its point */
} PatternJoin;

/* One edge in the order it is walked; reversed when it is walked from its end to
 * its start. */
typedef struct
{
  guint piece, edge; /* ids */
  gboolean reversed;
} PatternRun;

typedef struct
{
  PatternRun *runs;
  guint n_runs;
} PatternSide;

/* Ease meant between two marks of a seam, beside what is meant for the whole of it. A mark
 * is a notch of either side (its id) that is matched with one of the other; 0 is
 * the seam's start for from and its end for to. There is one span for a pair of marks. */
typedef struct
{
  guint from, to;
  double amount;     /* how much longer A is than B, signed: mm, or ... */
  gboolean per_cent; /* ... 100 parts of the side that is the shorter there */
} PatternEaseSpan;

typedef struct
{
  gatomicrefcount refs;
  guint id;
  char *name;
  PatternJoin join;
  PatternSide sides[2]; /* A, B; both walked from the seam's start to its end */
  double ease; /* meant over the whole seam, spread evenly: how much longer
                 A is than B, mm, signed; the spans' ease comes on top */
  PatternEaseSpan *spans;
  guint n_spans;
  PatternPress press;
  char *extra;
} PatternSeam;

typedef struct
{
  char *key;  /* of a finding */
  char *note; /* why it is set aside */
} PatternSetAside;

/* A body figure, or another length with a name, that amounts may use. */
typedef struct
{
  guint id;
  char *name;
  double mm;
  char *note;
} PatternFigure;

typedef struct _PatternFitting PatternFitting;
typedef struct _PatternChange PatternChange;

typedef struct
{
  gatomicrefcount refs;
  char *name;
  PatternUnit unit; /* shown and typed in */
  double tolerance; /* mm two seam sides may differ unasked; default 0.5 */
  guint next_id;    /* ids are never used twice in one document */
  const PatternPiece **pieces;
  guint n_pieces;
  const PatternSeam **seams;
  guint n_seams;
  PatternCloth *cloths;
  guint n_cloths;
  PatternLine *lines; /* construction lines on the table */
  guint n_lines;
  PatternSetAside *set_aside;
  guint n_set_aside;
  PatternFigure *figures;
  guint n_figures;
  const PatternRecipe **recipes; /* of linked pieces */
  guint n_recipes;
  const PatternFitting **fittings; /* see change.h; in the order kept */
  guint n_fittings;
  const PatternChange **changes; /* since the first of them */
  guint n_changes;
  const PatternPicture **pictures; /* under the table, the lowest first */
  guint n_pictures;
  char *note;
  char *extra;
} Pattern;

/* An empty pattern: no piece, one shell cloth "shell" (give 4 %, 0.5 mm, 1500 wide), centimetres. */
Pattern *pattern_new (const char *name);
Pattern *pattern_dup (const Pattern *pattern);
Pattern *pattern_ref (const Pattern *pattern);
void pattern_unref (Pattern *pattern);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Pattern, pattern_unref)

PatternSeam *pattern_seam_new (guint id, const char *name);
PatternSeam *pattern_seam_dup (const PatternSeam *seam);
PatternSeam *pattern_seam_ref (const PatternSeam *seam);
void pattern_seam_unref (PatternSeam *seam);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PatternSeam, pattern_seam_unref)
gboolean pattern_seam_equal (const PatternSeam *a, const PatternSeam *b);
void pattern_seam_add_run (PatternSeam *seam, int side, PatternRun run);
/* Adds the span, or replaces the one between the same marks. */
void pattern_seam_put_span (PatternSeam *seam, PatternEaseSpan span);
gboolean pattern_seam_remove_span (PatternSeam *seam, guint from, guint to);
/* NULL where there is none. */
const PatternEaseSpan *pattern_seam_get_span (const PatternSeam *seam,
                                              guint from, guint to);

/* --- altering a copy ------------------------------------------------------- */
guint pattern_take_id (Pattern *pattern);
/* Takes over the piece; replaces the one with its id, or adds it at the end. */
void pattern_put_piece (Pattern *pattern, PatternPiece *piece);
/* Also takes away seams' runs on it, and seams left without a side. */
gboolean pattern_remove_piece (Pattern *pattern, guint id);
void pattern_put_seam (Pattern *pattern, PatternSeam *seam);
gboolean pattern_remove_seam (Pattern *pattern, guint id);
/* Copies the cloth's strings; replaces by id or adds. */
void pattern_put_cloth (Pattern *pattern, const PatternCloth *cloth);
/* FALSE where a piece is still cut from it. */
gboolean pattern_remove_cloth (Pattern *pattern, guint id);
void pattern_add_line (Pattern *pattern, const char *name,
                       const PatternNode *nodes, guint n_nodes);
gboolean pattern_remove_line (Pattern *pattern, guint id);
void pattern_put_set_aside (Pattern *pattern, const char *key,
                            const char *note);
gboolean pattern_remove_set_aside (Pattern *pattern, const char *key);
/* Copies the figure's strings; replaces by id or adds. */
void pattern_put_figure (Pattern *pattern, const PatternFigure *figure);
gboolean pattern_remove_figure (Pattern *pattern, guint id);
/* Takes over the recipe; replaces by id or adds. */
void pattern_put_recipe (Pattern *pattern, PatternRecipe *recipe);
/* What it made stays. */
gboolean pattern_remove_recipe (Pattern *pattern, guint id);
/* Takes over the picture; replaces by id or adds, on top of the others. */
void pattern_put_picture (Pattern *pattern, PatternPicture *picture);
gboolean pattern_remove_picture (Pattern *pattern, guint id);
/* Drops runs whose piece or edge is gone, seams left without a side, and cuts of
 * cloths that are gone. To be called after edges were removed. */
void pattern_drop_loose_ends (Pattern *pattern);
/* Turns every seam's runs on the piece: for a piece whose outline was turned round or
 * over, so that its edges swapped start and end. */
void pattern_turn_runs (Pattern *pattern, guint piece_id);

/* --- asking ---------------------------------------------------------------- */
const PatternPiece *pattern_get_piece (const Pattern *pattern, guint id);
const PatternSeam *pattern_get_seam (const Pattern *pattern, guint id);
const PatternCloth *pattern_get_cloth (const Pattern *pattern, guint id);
/* Takes over the fitting; replaces by id or adds. */
void pattern_put_fitting (Pattern *pattern, PatternFitting *fitting);
/* With the first fitting that is left, the changes before it are forgotten. */
gboolean pattern_remove_fitting (Pattern *pattern, guint id);
/* Takes over the change. */
void pattern_add_change (Pattern *pattern, PatternChange *change);
/* Leaves the first n changes; fittings stay. */
void pattern_cut_changes (Pattern *pattern, guint n);
void pattern_clear_fittings (Pattern *pattern);
const PatternFitting *pattern_get_fitting (const Pattern *pattern, guint id);
const PatternFigure *pattern_get_figure (const Pattern *pattern, guint id);
const PatternPicture *pattern_get_picture (const Pattern *pattern, guint id);
/* By name; capitals and runs of spaces do not matter. */
const PatternFigure *pattern_find_figure (const Pattern *pattern,
                                          const char *name);
const PatternRecipe *pattern_get_recipe (const Pattern *pattern, guint id);
/* Whether a part that a recipe made, or a hand change names, is in the pattern now. A piece's
 * grain is where its piece is. */
gboolean pattern_recipe_part_is_there (const Pattern *pattern,
                                       const PatternRecipe *recipe,
                                       const char *part);
/* A change by hand that finds nothing to be laid on: kept for when its part is drafted again. */
gboolean pattern_recipe_change_waits (const Pattern *pattern,
                                      const PatternRecipe *recipe,
                                      const PatternHandChange *change);
/* The edge of a run and its piece; NULL where it is gone. piece may be NULL. */
const PatternEdge *pattern_get_edge (const Pattern *pattern, guint piece_id,
                                     guint edge_id, const PatternPiece **piece);
/* The nth seam, counted from 0, that the edge is in (a seam it is in twice counts
 * twice); side gets 0 or 1, run its
 * place in the side (each may be NULL). NULL when there is no further one. */
const PatternSeam *pattern_edge_seam (const Pattern *pattern, guint piece_id,
                                      guint edge_id, guint n, int *side,
                                      guint *run);
gboolean pattern_equal (const Pattern *a, const Pattern *b);
/* Why the value is not sound (ids used twice, first out of order, a number not
 * finite or beyond 100 m, a run that points nowhere), or NULL; in words for a
 * person. For readers of files and for tests. */
char *pattern_unsound (const Pattern *pattern);
