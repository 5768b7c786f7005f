/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words that panels, strip, table and tag share, so that they say the same. All new strings
 * but where const. */
#pragma once

#include "sewing/facts.h"

/* "Front · panel seam" */
char *app_words_edge (const Pattern *pattern, guint piece, guint edge);
/* Names of a seam's side: its first edge, and how many more. */
char *app_words_side (const Pattern *pattern, const PatternSeam *seam,
                      int side);
/* The seam's name, or made of its sides. */
char *app_words_seam (const Pattern *pattern, const PatternSeam *seam);
/* The pieces of a seam's side: "Collar band", "Back and Front", "Back and 2 more"; of a
 * seam within one piece the edge. */
char *app_words_side_piece (const Pattern *pattern, const PatternSeam *seam,
                            int side);
/* "Collar fall 2.1 mm too short", "true", "eased 7 mm, as meant", "lengths true, allowances
 * differ": the one wording for the strip, the panels and the tag. *is_out: lengths or
 * allowances don't match; is_out may be NULL. */
char *app_words_seam_state (const Pattern *pattern, const SewingSeam *facts,
                            gboolean *is_out);
/* NULL where the cloth takes the ease that is meant. */
char *app_words_too_much_ease (const Pattern *pattern, const SewingSeam *facts);
/* What one interval between matched marks lacks or eases: "2.1 mm short", "7 mm eased"; the ease
 * meant for the whole seam is shared out by length. NULL where it is true. side: of which it is said;
 * is_out: not as meant. */
char *app_words_interval (const Pattern *pattern, const SewingSeam *facts,
                          guint interval, int *side, gboolean *is_out);
/* "14 slits, 9 to 14 mm apart"; "none needed" */
char *app_words_clips (const GeoClipPlan *plan, PatternUnit unit);
const char *app_words_edge_kind (PatternEdgeKind kind);
