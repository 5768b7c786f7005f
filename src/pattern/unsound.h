/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by unsound*.c only. */
#pragma once

#include "pattern/pattern.h"

/* Of figures and recipes, their numbers excepted; NULL where all is sound. */
char *pattern_unsound_recipes (const Pattern *pattern);
/* Of fittings and changes. */
char *pattern_unsound_fittings (const Pattern *pattern);
/* Of pictures, their numbers excepted. */
char *pattern_unsound_pictures (const Pattern *pattern);
/* As pattern_unsound, of parts that may rest on some that are not there: of one side of a
 * change. */
char *pattern_unsound_parts (const Pattern *pattern);
