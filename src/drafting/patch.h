/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Laying a change made by hand on another state of the pattern: a node that was moved is
 * moved by as much, a setting that was set is set, a part that was made or
 * taken away is made or taken away. Where the other state has no such part, or
 * its nodes are not those the change was made on, it is refused in words. */
#pragma once

#include "drafting/edit.h"
#include "pattern/change.h"

/* The piece of the other state with the change laid on; NULL with the error set. */
PatternPiece *drafting_patch_piece (const PatternPiece *was,
                                    const PatternPiece *is,
                                    const PatternPiece *now, GError **error);
/* The whole change; it must have been made by hand. */
Pattern *drafting_patch (const Pattern *now, const PatternChange *change,
                         GError **error);
