/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the two halves of reading the native document share: document-start.c takes the
 * elements' attributes, document-read.c does the rest. */
#pragma once

#include "file/document-tag.h"
#include "pattern/change.h"

#define FILE_N_ELEMENTS 30 /* that are known */

typedef enum
{
  IN_NOTHING,
  IN_PATTERN,
  IN_CLOTH,
  IN_PIECE,
  IN_EDGE,
  IN_RECIPE,
  IN_PICTURE,
  IN_SEAM,
  IN_SIDE,
  IN_LINE,
  IN_NOTE,
  IN_WORDS,
  IN_SET_ASIDE,
  IN_FIGURE,
  IN_FITTING,
  IN_KEPT, /* of a fitting: a pattern in the pattern */
  IN_CHANGE,
  IN_PARTS,   /* of a change: as they were, as they became */
  IN_BYTES,   /* of a picture */
  IN_LEAF,    /* may hold nothing that is kept */
  IN_UNKNOWN, /* kept as text */
} FileWithin;

typedef struct
{
  Pattern *pattern;
  GArray *within; /* of FileWithin, outermost first */
  guint highest_id;
  guint counts[FILE_N_ELEMENTS]; /* of each kind so far */
  /* what is under way */
  PatternPiece *piece;
  PatternSeam *seam;
  PatternCloth cloth;
  PatternFigure figure;
  PatternRecipe *recipe;
  PatternPicture *picture;
  char *kept_as;     /* of the picture */
  GByteArray *bytes; /* of the picture; NULL: none stand inside */
  int base64_state;
  guint base64_save;
  gsize beside_bytes; /* read so far */
  const char *folder; /* of the document; NULL: nothing beside it is read */
  Pattern *outer;     /* the document's, while one within it is read */
  guint outer_counts[FILE_N_ELEMENTS], inner_counts[FILE_N_ELEMENTS];
  PatternFitting *fitting; /* its kept is a stand-in till it is read */
  char *label;             /* of the change */
  guint change_next;
  PatternStep *step; /* of the change, where it is told by one */
  Pattern *was, *is; /* of the change */
  PatternText words;
  guint line_id;
  char *line_name;
  int side;                    /* of the seam; -1 before its first */
  GArray *nodes;               /* of the piece or of a line on the table */
  GArray *inner;               /* nodes of a line inside the piece */
  GArray *table;               /* lines on the table */
  GArray *edges;               /* of the piece */
  char *finding;               /* of a set-aside */
  GString *text;               /* of a note, words, set-aside */
  GString *extra[IN_SEAM + 1]; /* of what is under way, by kind */
  guint unknown_depth;
  gboolean unknown_open; /* its start tag still lacks its ">" */
} FileReading;

typedef struct
{
  const char *name;
  guint places; /* bits of FileWithin it may stand in */
  FileWithin inside;
  gboolean (*start) (FileReading *, FileTaking *, GError **);
  guint most; /* in a document, where the time taken grows faster than their
                 number; 0: any */
} FileElement;

extern const FileElement file_elements[FILE_N_ELEMENTS];

/* Of figures and recipes (document-recipes.c). */
gboolean file_start_figure (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_recipe (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_argument (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_made (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_hand (FileReading *r, FileTaking *t, GError **error);
gboolean file_end_figure (FileReading *r, GError **error);
gboolean file_end_recipe (FileReading *r, char *extra, GError **error);

/* Of pictures (document-pictures.c). */
gboolean file_start_picture (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_bytes (FileReading *r, FileTaking *t, GError **error);
gboolean file_take_bytes (FileReading *r, const char *text, gsize length,
                          GError **error);
/* Takes over extra. */
gboolean file_end_picture (FileReading *r, char *extra, GError **error);

FileWithin file_reading_inmost (const FileReading *r);
gboolean file_reading_broken (GError **error, const char *words);

/* Of fittings and changes (document-fittings.c). */
gboolean file_start_fitting (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_kept (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_change (FileReading *r, FileTaking *t, GError **error);
gboolean file_start_parts (FileReading *r, FileTaking *t, GError **error);
gboolean file_end_fitting (FileReading *r, GError **error);
gboolean file_end_kept (FileReading *r, GError **error);
gboolean file_end_change (FileReading *r, GError **error);
gboolean file_end_parts (FileReading *r, GError **error);
void file_clear_fittings (FileReading *r);
/* Gives the lines on the table that were read to the pattern under way. */
void file_settle_lines (FileReading *r);
/* Puts outlines that run the wrong way round the right one. */
void file_turn_outlines (Pattern *pattern);
/* Of a pattern's element, version apart. */
void file_take_pattern (FileTaking *t, Pattern *pattern);
