/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "demo-slopers.h"

#include <string.h>

#include "file/document.h"

/* A dart cut out of a cubic of the outline: mouth and length in mm, its middle at the share of the cubic. */
static void
cut_dart (GeoChain *chain, gsize i, double share, double width, double length)
{
  GeoChain cut = GEO_CHAIN_EMPTY;
  GeoCubic c = chain->cubics[i];
  double speed = geo_norm (geo_cubic_velocity (&c, share));
  double half = 0.5 * width / speed;
  GeoPoint inward = geo_left (geo_cubic_tangent (&c, share));
  GeoPoint tip = geo_along (geo_cubic_point (&c, share), inward, length);
  GeoCubic before = geo_cubic_part (&c, 0, share - half);
  GeoCubic after = geo_cubic_part (&c, share + half, 1);
  geo_chain_append (&cut, before);
  geo_chain_append_line (&cut, before.p[3], tip);
  geo_chain_append_line (&cut, tip, after.p[0]);
  geo_chain_append (&cut, after);
  geo_chain_replace (chain, i, 1, &cut);
  geo_chain_clear (&cut);
}

static void
lay_piece (const Pattern *pattern, guint which, double share, double width,
           double length, GeoMotion motion, GeoChain *chain)
{
  const PatternPiece *piece = pattern->pieces[which];
  *chain = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, chain);
  for (guint i = 0; i < piece->n_edges; i++)
    if (strcmp (piece->edges[i].name, "waist") == 0)
      cut_dart (chain, piece->edges[i].first, share, width, length);
  geo_chain_transform (chain, motion);
  chain->cubics[chain->count - 1].p[3] = chain->cubics[0].p[0];
}

void
demo_slopers_init (DemoSlopers *demo, const char *path)
{
  GError *error = NULL;
  Pattern *pattern = file_document_load (path, &error);
  g_assert_no_error (error);
  GeoMotion back
      = geo_motion_then (geo_motion_about (geo_point (218, 412), -0.05),
                         geo_motion_move (-100, -198));
  GeoMotion front
      = geo_motion_then (geo_motion_about (geo_point (640, 418), 0.04),
                         geo_motion_move (-248, -200));
  lay_piece (pattern, 0, 0.52, 26, 135, back, &demo->back);
  lay_piece (pattern, 1, 0.47, 30, 105, front, &demo->front);
  pattern_unref (pattern);
  GeoPoint corner = { 564, 88 }, u = { cos (0.06), sin (0.06) };
  demo->sheet[0] = corner;
  demo->sheet[1] = geo_along (corner, u, 210);
  demo->sheet[2] = geo_along (demo->sheet[1], geo_left (u), 297);
  demo->sheet[3] = geo_along (corner, geo_left (u), 297);
  demo->view = (GeoBox){ -32, -30, 806, 474 };
}

void
demo_slopers_clear (DemoSlopers *demo)
{
  geo_chain_clear (&demo->back);
  geo_chain_clear (&demo->front);
}

static void
draw_line (Maker *maker, GeoPoint from, GeoPoint to)
{
  GeoChain line = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&line, from, to);
  maker_add_stroke (maker, &line, 0.7, 0x6b665c);
  geo_chain_clear (&line);
}

/* A grain line in pencil, with its arrow heads. */
static void
draw_grain (Maker *maker, GeoPoint from, GeoPoint to)
{
  GeoPoint u = geo_unit (geo_sub (to, from)), v = geo_left (u);
  draw_line (maker, from, to);
  for (int side = -1; side <= 1; side += 2)
    {
      draw_line (maker, from, geo_along (geo_along (from, u, 9), v, 4 * side));
      draw_line (maker, to, geo_along (geo_along (to, u, -9), v, 4 * side));
    }
}

TracingPicture *
demo_slopers_make (const DemoSlopers *demo, TracingPlane *truth)
{
  g_autoptr (Maker) maker = maker_new (demo->view);
  MakerLook look = MAKER_LOOK;
  look.dots = 5.2;
  look.tilt = 15 * G_PI / 180;
  look.around = 1.25;
  look.turn = 0.02;
  look.blur = 0.95;
  look.noise = 1.3;
  look.light = 0.42;
  look.shadow = 5;
  look.dark = 0.6;
  look.table = 0x4c6a62;
  look.lines = 0x9fb09a;
  look.ruling = 10;
  look.grain = 0.05;
  maker_add_polygon (maker, demo->sheet, 4, MAKER_PAPER);
  maker_add_shape (maker, &demo->back, MAKER_CARD);
  draw_grain (maker, geo_point (70, 140), geo_point (76, 340));
  maker_add_shape (maker, &demo->front, MAKER_CARD);
  draw_grain (maker, geo_point (452, 140), geo_point (446, 340));
  return maker_make (maker, &look, truth);
}
