/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A chain whose cubics each say where they come from. */
#pragma once

#include <stdint.h>

#include "geometry/chain.h"

typedef struct {
  GeoChain chain;
  size_t *tags;
  size_t room;
} GeoTagged;

void geo_tagged_clear (GeoTagged *tagged);
void geo_tagged_append (GeoTagged *tagged, GeoCubic cubic, size_t tag);
/* A line from where the chain ends; nothing where that is already there. */
void geo_tagged_line_to (GeoTagged *tagged, GeoPoint to, size_t tag);
