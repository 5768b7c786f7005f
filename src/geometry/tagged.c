/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/tagged.h"

#include "geometry/memory.h"

void
geo_tagged_clear (GeoTagged *tagged)
{
  geo_chain_clear (&tagged->chain);
  free (tagged->tags);
  tagged->tags = NULL;
  tagged->room = 0;
}

void
geo_tagged_append (GeoTagged *tagged, GeoCubic cubic, size_t tag)
{
  tagged->tags = geo_grow (tagged->tags, tagged->chain.count, &tagged->room,
                           sizeof *tagged->tags);
  tagged->tags[tagged->chain.count] = tag;
  geo_chain_append (&tagged->chain, cubic);
}

void
geo_tagged_line_to (GeoTagged *tagged, GeoPoint to, size_t tag)
{
  GeoPoint from = geo_chain_end (&tagged->chain);
  if (!geo_same (from, to))
    geo_tagged_append (tagged, geo_cubic_line (from, to), tag);
}
