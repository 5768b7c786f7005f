/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by unsound*.c only. */
#pragma once

#include "pattern/pattern.h"

/* Of figures and recipes, their numbers excepted; NULL where all is sound. */
char *pattern_unsound_recipes (const Pattern *pattern);
