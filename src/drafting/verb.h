/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Verbs of drafting, each with its parameters told, so that one bar over the table, one
 * command and one list of changes serve them all.
 *
 * A verb is a row in a table: its name, its words, its parameters, and the function
 * that does it. A verb that drafts (a recipe) says with DraftingDraft what pieces come
 * out, and is done again when what it was drafted from changes.
 */
#pragma once

#include "drafting/edit.h"
#include "pattern/step.h"

typedef enum
{
  DRAFTING_LENGTH, /* mm */
  DRAFTING_ANGLE,  /* degrees */
  DRAFTING_SHARE,  /* per cent */
  DRAFTING_NUMBER, /* plain */
  DRAFTING_COUNT,  /* a whole number */
  DRAFTING_YES,    /* "yes", "no" */
  DRAFTING_CHOICE, /* one of choices */
  DRAFTING_TEXT,
  DRAFTING_PIECE,
  DRAFTING_PIECES,
  DRAFTING_EDGE,
  DRAFTING_EDGES, /* a run of edges, in order, each with its way */
  DRAFTING_NODE,
  DRAFTING_SEAM,
  DRAFTING_DART,  /* a seam that joins as a dart */
  DRAFTING_POINT, /* on the table, mm */
  DRAFTING_POINTS,
} DraftingParameterKind;

typedef struct
{
  const char *key;
  DraftingParameterKind kind;
  const char *label; /* N_(): beside its field */
  const char
      *start; /* what the field holds at first, lengths with a unit (or in
                        mm); NULL: must be given; "": may be left empty */
  const char *const *choices;       /* words of the file */
  const char *const *choice_labels; /* N_() */
  double least, most; /* of numbers, in mm or as they are; both 0: no limit
                         but what the verb says */
} DraftingParameter;

/* What the arguments of a step amount to in a pattern. */
typedef struct _DraftingValues DraftingValues;
double drafting_values_get_number (const DraftingValues *v, const char *key);
int drafting_values_get_count (const DraftingValues *v, const char *key);
gboolean drafting_values_get_yes (const DraftingValues *v, const char *key);
/* Index into choices. */
guint drafting_values_get_choice (const DraftingValues *v, const char *key);
const char *drafting_values_get_text (const DraftingValues *v, const char *key);
guint drafting_values_get_piece (const DraftingValues *v, const char *key);
guint drafting_values_get_seam (const DraftingValues *v, const char *key);
/* piece gets the node's piece. */
guint drafting_values_get_node (const DraftingValues *v, const char *key,
                                guint *piece);
/* Edges, and pieces (edge 0); one for EDGE and PIECE; in order. */
const PatternRun *drafting_values_get_runs (const DraftingValues *v,
                                            const char *key, guint *n);
const GeoPoint *drafting_values_get_points (const DraftingValues *v,
                                            const char *key, guint *n);
/* FALSE for a parameter left empty, whose start is "". */
gboolean drafting_values_has (const DraftingValues *v, const char *key);

/* --- what a recipe drafts ------------------------------------------------------ */

/* Every part has a name that stays the same from one drafting to the next, whatever
 * the amounts: by it the part keeps its number, and hand changes find their
 * node. Names are unique in their piece, short, of a-z, 0-9 and '-'. */
typedef struct
{
  const char *part;
  PatternNode node; /* id is given by the engine */
  const char *edge; /* part name of the edge that starts here; NULL: none */
} DraftingDraftNode;

typedef struct _DraftingDraft DraftingDraft;
typedef struct _DraftingDraftPiece DraftingDraftPiece;

/* A piece, as it is to lie on the table the first time; later draftings are laid where the
 * piece has been moved to. name: translated, used the first time only, as are cuts, allowances, kinds, corners:
 * afterwards they are hers. outline: a closed loop; either way round. The first
 * node starts an edge. */
DraftingDraftPiece *drafting_draft_add_piece (DraftingDraft *draft,
                                              const char *part,
                                              const char *name,
                                              const DraftingDraftNode *outline,
                                              guint n_nodes);
void drafting_draft_set_edge (DraftingDraftPiece *piece, const char *edge,
                              const char *name, PatternEdgeKind kind,
                              double allowance, GeoCorner corner);
void drafting_draft_set_grain (DraftingDraftPiece *piece, GeoPoint from,
                               GeoPoint to);
/* Cut from the pattern's first cloth of that use; a cloth is made where there is none. */
void drafting_draft_add_cut (DraftingDraftPiece *piece, PatternClothUse use,
                             int count, gboolean mirrored);
void drafting_draft_add_notch (DraftingDraftPiece *piece, const char *part,
                               const char *edge, int count,
                               PatternNotchFrom from, double amount);
void drafting_draft_add_buttonhole (DraftingDraftPiece *piece, const char *part,
                                    GeoPoint at, double angle, double length);
void drafting_draft_add_drill (DraftingDraftPiece *piece, const char *part,
                               GeoPoint at);
void drafting_draft_add_line (DraftingDraftPiece *piece, const char *part,
                              const char *name, const PatternNode *nodes,
                              guint n_nodes);
void drafting_draft_set_note (DraftingDraftPiece *piece, const char *note);
/* A seam between edges; each side's runs walked from the seam's start. An edge of a drafted piece is
 * named by the piece's and the edge's parts, one of the pattern by its numbers (piece_part
 * NULL). ease: meant. */
typedef struct
{
  const char *piece_part, *edge_part;
  PatternRun run; /* reversed also for drafted edges */
} DraftingDraftRun;
void drafting_draft_add_seam (DraftingDraft *draft, const char *part,
                              const char *name, PatternJoin join,
                              const DraftingDraftRun *a, guint n_a,
                              const DraftingDraftRun *b, guint n_b, double ease,
                              PatternPress press);
/* Ease of the last seam added, meant between two notches drafted on one of its sides, on top of the seam's
 * own; set anew at each drafting. Notches by their parts. */
void drafting_draft_add_ease (DraftingDraft *draft, const char *piece_part,
                              const char *from_notch, const char *to_notch,
                              double amount);
/* Buttonholes and marks on a piece that is there already: kept by part, replaced at
 * each drafting. A notch's edge is the edge's number ("7"). */
DraftingDraftPiece *drafting_draft_on_piece (DraftingDraft *draft, guint piece);
/* Plain words for the panel: "stand about 9 mm (an estimate)". */
void drafting_draft_say (DraftingDraft *draft, const char *format, ...)
    G_GNUC_PRINTF (2, 3);

/* --- the table ----------------------------------------------------------------- */

typedef enum
{
  DRAFTING_GROUP_DART,
  DRAFTING_GROUP_SPREAD,
  DRAFTING_GROUP_EDGE,
  DRAFTING_GROUP_PIECE,
  DRAFTING_GROUP_GUIDE,
  DRAFTING_GROUP_TRUE,
  DRAFTING_GROUP_TRACED, /* what comes after tracing */
  DRAFTING_GROUP_DRAFT,  /* recipes */
} DraftingGroup;

typedef struct
{
  const char *name;  /* "turn-dart": in documents and on the command line */
  const char *title; /* N_("Turn dart") */
  const char *hint;  /* N_(): one sentence: what to pick and what happens */
  DraftingGroup group;
  const DraftingParameter *parameters;
  guint n_parameters;
  /* One of the two. */
  Pattern *(*run) (const Pattern *p, const DraftingValues *v, GError **error);
  gboolean (*draft) (const Pattern *p, const DraftingValues *v,
                     DraftingDraft *draft, GError **error);
  /* For the history and the list of changes: "Lengthen hem 35 mm"; NULL: the title
   * and the first amount. */
  char *(*describe) (const Pattern *p, const DraftingValues *v);
} DraftingVerb;

/* Each file of verbs gives a table; drafting/verb.c lists those there are: whoever adds
 * the file adds its line there. */
const DraftingVerb *drafting_verbs_of_darts (guint *n);
const DraftingVerb *drafting_verbs_of_spreads (guint *n);
const DraftingVerb *drafting_verbs_of_edges (guint *n);
const DraftingVerb *drafting_verbs_of_pieces (guint *n);
const DraftingVerb *drafting_verbs_of_guides (guint *n);
const DraftingVerb *drafting_verbs_of_truing (guint *n);
const DraftingVerb *drafting_verbs_of_collars (guint *n);
const DraftingVerb *drafting_verbs_of_linings (guint *n);
const DraftingVerb *drafting_verbs_of_closings (guint *n); /* buttons */
const DraftingVerb *drafting_verbs_of_strips (guint *n);
const DraftingVerb *drafting_verbs_of_capes (guint *n);
const DraftingVerb *drafting_verbs_of_links (guint *n); /* and figures */
const DraftingVerb *drafting_verbs_of_blocks (guint *n);
const DraftingVerb *drafting_verbs_of_torsos (guint *n);
const DraftingVerb *drafting_verbs_of_traced (guint *n);
const DraftingVerb *drafting_verbs_of_scans (guint *n);

/* N_(): the group of a verb's parameters that one belongs to; NULL where the verb has none. The same pointer for
 * the same group; a group's parameters follow each other. */
const char *drafting_verb_heading (const DraftingVerb *verb, guint parameter);

const DraftingVerb *drafting_verb_find (const char *name);
guint drafting_verb_count (void);
const DraftingVerb *drafting_verb_nth (guint n);
/* One table more, after the others: for tests. */
void drafting_verbs_add_table (const DraftingVerb *(*table) (guint *n));

/* Does a step: for a verb that runs, the changed pattern; for one that drafts, the pattern with a new
 * recipe and its pieces. Numbers the step was given are checked against the pattern and the
 * parameters' limits first. */
Pattern *drafting_step_run (const Pattern *p, const PatternStep *step,
                            GError **error);
/* The same, and all that follows from it drafted again. Where it gives a linked piece other nodes or edges, the
 * piece is let go; let_go (or NULL) then gets the recipes' names, translated, else NULL. */
Pattern *drafting_step_do (const Pattern *p, const PatternStep *step,
                           char **let_go, GError **error);
/* Never NULL. */
char *drafting_step_describe (const Pattern *p, const PatternStep *step);
/* Whether it could be read; bad gets the parameter that could not (or NULL). */
gboolean drafting_step_check (const Pattern *p, const PatternStep *step,
                              const DraftingParameter **bad, GError **error);
/* What an argument names, for a field or a list: "neck (Front)"; "" for an empty one.
 * Amounts, choices and texts stay as they are. */
char *drafting_argument_words (const Pattern *p,
                               const DraftingParameter *parameter,
                               const char *text);
/* From words: "turn-dart dart='bust dart' to='front/shoulder' share=50": things are named by number or by name
 * ("front/neck": an edge of a piece, "-front/neck" walked the other way, "front/neck/end": the
 * node it ends at). Several are parted by commas, or by spaces where each is one word. */
PatternStep *drafting_step_parse (const Pattern *p, int n_words,
                                  char *const *words, GError **error);

/* --- recipes followed ------------------------------------------------------------ */

/* Drafts again, in order, every recipe whose sources or figures differ between the two, laying hand changes on;
 * what she did to a linked piece between the two becomes a hand change first (not where its sources were
 * reshaped in the same edit: then the draft has the word). What can't be drafted
 * keeps its last pieces and gets its trouble. Returns a new reference to now itself where nothing follows; NULL
 * with the error set where the edit gave a linked piece other nodes or edges, which can't be drafted again:
 * the piece has to be let go first. Called on every result before it is shown: in a drag, too. */
Pattern *drafting_follow (const Pattern *before, const Pattern *now,
                          GError **error);
/* Other arguments for a recipe; it and what depends on it are drafted at once. */
Pattern *drafting_set_recipe (const Pattern *p, guint recipe,
                              const PatternStep *step, GError **error);
/* Its pieces become free. */
Pattern *drafting_let_go (const Pattern *p, guint recipe, GError **error);
/* Takes hand changes back; part NULL: all. */
Pattern *drafting_undo_hand (const Pattern *p, guint recipe, const char *part,
                             GError **error);
/* The recipe that made the piece; NULL. */
const PatternRecipe *drafting_recipe_of (const Pattern *p, guint piece);
/* What the recipe says at its present amounts; lines; "" none. */
char *drafting_recipe_words (const Pattern *p, guint recipe);
