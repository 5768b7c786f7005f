/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two pictures of one large piece put together: the second laid on the first by marks that are in both, and
 * what was traced from the two made one outline. In the manner of edit.h.
 */
#pragma once

#include "drafting/edit.h"

/* Marks on the table: a on what stays, b the same places on what is moved, n >= 2. By the least sum of squares, never turned
 * over (tracing_lay_marks()). picture: what lies under the marks b, 0 for none; pieces as told, and with a
 * picture those that lie wholly on it and not on the one under the first mark a (n_pieces 0 only). off (n, may be
 * NULL) gets how far each mark is off then. Refused where two marks of a side coincide, where nothing would be moved, and
 * where the worst mark is off by more than most mm: then the marks were not the same places, or a
 * picture's size is wrong. */
Pattern *drafting_lay_on_marks (const Pattern *p, const GeoPoint *a,
                                const GeoPoint *b, guint n, guint picture,
                                const guint *pieces, guint n_pieces,
                                double most, double *off, GError **error);
/* The picture that is seen, topmost, at the place but not the one given; 0 for none. */
guint drafting_picture_at (const Pattern *p, GeoPoint at, guint but);

/* Pieces that overlap made one: the outline round both. The first keeps its number, name and grainline; edges
 * keep theirs as far as they are left, seams and marks along. Refused where they do not overlap, or a hole would be
 * left between them. */
Pattern *drafting_unite_pieces (const Pattern *p, guint first, guint second,
                                GError **error);
