/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ring made once more on the narrow parallel, under other names. */
#pragma once

#include "narrow-names.h"

#define geo_ring_clear narrow_ring_clear
#define geo_ring_init narrow_ring_init
#define geo_ring_make narrow_ring_make
#define geo_strip_corner narrow_strip_corner
#define geo_strip_covers narrow_strip_covers
#define geo_strip_extend narrow_strip_extend
#define geo_strip_keep_draft narrow_strip_keep_draft
#define geo_strip_lay narrow_strip_lay
#define geo_strip_room_clear narrow_strip_room_clear
