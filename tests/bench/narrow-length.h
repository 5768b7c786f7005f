/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths made once more without wide registers, under other names. */
#pragma once

#define geo_chain_at_length narrow_chain_at_length
#define geo_chain_length narrow_chain_length
#define geo_chain_length_to narrow_chain_length_to
#define geo_cubic_at_length narrow_cubic_at_length
#define geo_cubic_length narrow_cubic_length
#define geo_cubic_length_to narrow_cubic_length_to
#define geo_ruler_clear narrow_ruler_clear
#define geo_ruler_init narrow_ruler_init
#define geo_ruler_length narrow_ruler_length
#define geo_ruler_length_to narrow_ruler_length_to
#define geo_ruler_place narrow_ruler_place
#define geo_speed_at narrow_speed_at
#define geo_speed_easy_length narrow_speed_easy_length
#define geo_speed_init narrow_speed_init
#define geo_speed_is_easy narrow_speed_is_easy
#define geo_speed_length narrow_speed_length
#define geo_speed_whole narrow_speed_whole
