/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of this layer share and nobody else needs. */
#pragma once

#include "pattern/pattern.h"

/* Grows a plain array by one element at its end; the element is copied. */
#define PATTERN_APPEND(array, count, element)                                  \
  ((array) = g_renew (typeof (*(array)), (array), (count) + 1),                \
   (array)[(count)++] = (element))

/* Takes element i out of a plain array; what it owned must be cleared. */
#define PATTERN_TAKE_OUT(array, count, i)                                      \
  (memmove ((array) + (i), (array) + (i) + 1,                                  \
            ((count) - (i)-1) * sizeof (*(array))),                            \
   (count)--)

gboolean pattern_point_equal (GeoPoint a, GeoPoint b);
gboolean pattern_nodes_equal (const PatternNode *a, guint n_a,
                              const PatternNode *b, guint n_b);
/* A straight side where neither of its handles is set. */
GeoCubic pattern_side_cubic (const PatternNode *from, const PatternNode *to);
PatternLine pattern_line_make (guint id, const char *name,
                               const PatternNode *nodes, guint n_nodes);
void pattern_line_clear (PatternLine *line);
gboolean pattern_line_equal (const PatternLine *a, const PatternLine *b);
/* The seam without the runs for which gone() says TRUE: a new reference to
 * itself where nothing goes, a changed copy, or NULL where a side is left
 * empty. */
PatternSeam *pattern_seam_without (const PatternSeam *seam,
                                   gboolean (*gone) (const PatternRun *run,
                                                     gconstpointer data),
                                   gconstpointer data);
/* Figures and recipes of a copy that still has its original's arrays, and of a
 * pattern whose life ends. */
void pattern_copy_recipes (Pattern *copy, const Pattern *pattern);
void pattern_clear_recipes (Pattern *pattern);
gboolean pattern_recipes_equal (const Pattern *a, const Pattern *b);
/* The same of fittings and changes. */
void pattern_copy_fittings (Pattern *copy, const Pattern *pattern);
void pattern_free_fittings (Pattern *pattern);
gboolean pattern_fittings_equal (const Pattern *a, const Pattern *b);
/* The same of pictures. */
void pattern_copy_pictures (Pattern *copy, const Pattern *pattern);
void pattern_free_pictures (Pattern *pattern);
gboolean pattern_pictures_equal (const Pattern *a, const Pattern *b);
