/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/palette.h"

#define RGB(hex)                                                               \
  {                                                                            \
    ((hex) >> 16 & 255) / 255.0, ((hex) >> 8 & 255) / 255.0,                   \
        ((hex)&255) / 255.0, 1                                                 \
  }
#define RGBA(hex, alpha)                                                       \
  {                                                                            \
    ((hex) >> 16 & 255) / 255.0, ((hex) >> 8 & 255) / 255.0,                   \
        ((hex)&255) / 255.0, (alpha)                                           \
  }

static const AppPalette light = {
  .table = RGB (0xf5f0e7),
  .grid = RGBA (0x6b5b45, 0.10),
  .grid_strong = RGBA (0x6b5b45, 0.20),
  .ruler = RGB (0xebe4d6),
  .ruler_line = RGB (0xcfc4b0),
  .ruler_ink = RGB (0x55493a),
  .lit = RGB (0x94296f),
  .partner = RGB (0x0c6b66),
  .hover = RGB (0xb35a93),
  .halo = RGBA (0xffffff, 0.85),
  .node = RGB (0xffffff),
  .guide = RGB (0x94296f),
  .thread = RGB (0x5b4a86),
  .tag = RGB (0xfffdf6),
  .tag_edge = RGB (0xb9a98c),
  .tag_ink = RGB (0x2a241c),
  .tag_faint = RGB (0x6a5e4e),
  .pin_mend = RGB (0xc8420a),
  .pin_look = RGB (0x0a6aa8),
  .pin_aside = RGB (0x8d8778),
  .pin_shaft = RGB (0x6f6a62),
  .pin_ink = RGB (0xffffff),
};

static const AppPalette dark = {
  .table = RGB (0x1d2429),
  .grid = RGBA (0xc9d6e4, 0.07),
  .grid_strong = RGBA (0xc9d6e4, 0.14),
  .ruler = RGB (0x161b1f),
  .ruler_line = RGB (0x454d56),
  .ruler_ink = RGB (0xb9c3cd),
  .lit = RGB (0xf99bd1),
  .partner = RGB (0x63d2c8),
  .hover = RGB (0xd993b8),
  .halo = RGBA (0x14181c, 0.75),
  .node = RGB (0x1d2429),
  .guide = RGB (0xf99bd1),
  .thread = RGB (0xc6b4f5),
  .tag = RGB (0x3a4149),
  .tag_edge = RGB (0x6d7884),
  .tag_ink = RGB (0xf3f1ea),
  .tag_faint = RGB (0xb9c0c7),
  .pin_mend = RGB (0xff8a4c),
  .pin_look = RGB (0x58b4f0),
  .pin_aside = RGB (0x9a9a94),
  .pin_shaft = RGB (0xb4b8bc),
  .pin_ink = RGB (0x1b1f23),
};

const AppPalette *
app_palette (gboolean is_dark)
{
  return is_dark ? &dark : &light;
}

void
app_colour (cairo_t *cr, DrawingColour c)
{
  cairo_set_source_rgba (cr, c.r, c.g, c.b, c.a);
}
