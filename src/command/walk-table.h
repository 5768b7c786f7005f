/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What bodkin walk says of a seam. */
#pragma once

#include "sewing/facts.h"

/* A table to read, in the pattern's unit, and what stands in all; or one record a
 * stretch as CSV (RFC 4180), mm and degrees, with a head. NULL where a side of the seam is
 * empty or has no length. */
char *command_walk_table (SewingFacts *facts, const Pattern *pattern,
                          const PatternSeam *seam, gboolean csv);
