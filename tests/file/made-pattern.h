/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Patterns made at random with every field in use, for reading back. */
#pragma once

#include "pattern/pattern.h"

Pattern *made_pattern (guint n_pieces, guint n_nodes);
/* Puts up to two pictures under it. */
void made_pictures (Pattern *pattern);
