/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A walk on the table: the moving side's pieces laid on the still side's, the way the pin has come on
 * both, notches lit as they are reached, the pin itself; at either end the corner as it
 * will be sewn. */
#include "app/overlays.h"
#include "app/walk-private.h"
#include "drawing/text.h"

#define ABOUT_MM 60.0

typedef struct
{
  AppWalk *walk;
  cairo_t *cr;
  const AppView *view;
  const AppPalette *colours;
  DrawingStyle style;
} Painter;

/* Lies on the table where the walk shows it. */
static gboolean
is_at_home (const AppWalk *walk, guint piece)
{
  const SewingWalk *w = walk->walk;
  return w->runs[walk->fixed][0].piece->piece->id == piece;
}

gboolean
app_walk_is_aside (const AppWalk *walk, guint piece)
{
  g_return_val_if_fail (walk != NULL, FALSE);
  return !is_at_home (walk, piece);
}

static void
to_table (const Painter *at)
{
  cairo_scale (at->cr, at->view->scale, at->view->scale);
  cairo_translate (at->cr, -at->view->origin.x, -at->view->origin.y);
}

static void
by_motion (cairo_t *cr, GeoMotion m)
{
  /* x' = c x - s y', y' = s x + c y', y' turned over where it flips. */
  double f = m.flip ? -1 : 1;
  cairo_matrix_t matrix;
  cairo_matrix_init (&matrix, m.c, m.s, -m.s * f, m.c * f, m.dx, m.dy);
  cairo_transform (cr, &matrix);
}

/* --- pieces ---------------------------------------------------------------------- */

static void
paint_name (const Painter *at, const SewingPiece *piece, GeoMotion motion,
            DrawingColour colour)
{
  GeoPoint px
      = app_view_to_px (at->view, geo_motion_apply (motion, piece->middle));
  const char *name = piece->piece->name;
  DrawingTextLook look
      = { at->style.font, 9, 0, DRAWING_TEXT_CENTRE | DRAWING_TEXT_BOLD };
  app_colour (at->cr, colour);
  drawing_text_line (at->cr, name, px, 0, &look);
}

static void
paint_piece (const Painter *at, const SewingPiece *piece, GeoMotion motion,
             double cover)
{
  AppSession *s = at->walk->session;
  cairo_t *cr = at->cr;
  cairo_save (cr);
  to_table (at);
  by_motion (cr, motion);
  drawing_path_chain (cr, &piece->ring.outline);
  cairo_close_path (cr);
  DrawingColour paper = at->colours->table;
  paper.a = cover;
  app_colour (cr, paper);
  cairo_fill (cr);
  drawing_paint_piece (cr, app_session_get_facts (s), app_session_get_shown (s),
                       piece->piece, &at->style);
  cairo_restore (cr);
}

/* The same piece may come again in a side, laid the same way: a dart's two halves of an
 * edge. */
static gboolean
is_laid_before (const AppWalk *walk, int side, guint run)
{
  const SewingWalkRun *runs = walk->walk->runs[side];
  for (guint r = 0; r < run; r++)
    if (runs[r].piece == runs[run].piece
        && geo_distance (geo_point (runs[r].lay.dx, runs[r].lay.dy),
                         geo_point (runs[run].lay.dx, runs[run].lay.dy))
               < 0.5
        && fabs (runs[r].lay.c - runs[run].lay.c) < 1e-3)
      return TRUE;
  return FALSE;
}

static void
paint_side (const Painter *at, int side)
{
  const AppWalk *walk = at->walk;
  for (guint r = 0; r < walk->walk->n_runs[side]; r++)
    {
      if (is_laid_before (walk, side, r) || (side == walk->fixed && r == 0))
        continue;
      const SewingPiece *piece = walk->walk->runs[side][r].piece;
      GeoMotion motion = sewing_walk_motion (walk->walk, &walk->step, side, r);
      paint_piece (at, piece, motion, side == walk->fixed ? 0.9 : 0.6);
      paint_name (at, piece, motion, at->style.ink);
    }
}

/* --- lines --------------------------------------------------------------------------- */

/* A chain of table millimetres as a path of pixels; gaps stay gaps. */
static void
path_of (const Painter *at, const GeoChain *chain)
{
  GeoPoint last = { NAN, NAN };
  cairo_new_path (at->cr);
  for (size_t i = 0; i < chain->count; i++)
    {
      GeoPoint p[4];
      for (int k = 0; k < 4; k++)
        p[k] = app_view_to_px (at->view, chain->cubics[i].p[k]);
      if (!(geo_distance (p[0], last) < 0.5))
        cairo_move_to (at->cr, p[0].x, p[0].y);
      cairo_curve_to (at->cr, p[1].x, p[1].y, p[2].x, p[2].y, p[3].x, p[3].y);
      last = p[3];
    }
}

static void
stroke (const Painter *at, DrawingColour colour, double width)
{
  cairo_set_line_cap (at->cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (at->cr, CAIRO_LINE_JOIN_ROUND);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, width + 2.5);
  cairo_stroke_preserve (at->cr);
  app_colour (at->cr, colour);
  cairo_set_line_width (at->cr, width);
  cairo_stroke (at->cr);
}

static DrawingColour
side_colour (const Painter *at, int side)
{
  return side == 0 ? at->colours->lit : at->colours->partner;
}

/* The side's whole edge, thin. */
static void
paint_edge (const Painter *at, int side)
{
  const SewingWalk *w = at->walk->walk;
  for (guint r = 0; r < w->n_runs[side]; r++)
    {
      const SewingWalkRun *run = &w->runs[side][r];
      GeoChain edge = GEO_CHAIN_EMPTY;
      geo_chain_copy (&edge, &run->piece->stitch[run->edge]);
      geo_chain_transform (&edge,
                           sewing_walk_motion (w, &at->walk->step, side, r));
      path_of (at, &edge);
      stroke (at, side_colour (at, side), 1.2);
      geo_chain_clear (&edge);
    }
}

/* Side A full, side B dashed over it: where they lie on each other both are seen. */
static void
paint_trail (const Painter *at, int side)
{
  cairo_t *cr = at->cr;
  GeoChain trail = GEO_CHAIN_EMPTY;
  sewing_walk_trail (at->walk->walk, &at->walk->step, side, &trail);
  path_of (at, &trail);
  if (side == 0)
    stroke (at, side_colour (at, side), 4.5);
  else
    {
      cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
      cairo_set_dash (cr, (const double[]){ 10, 8 }, 2, 0);
      app_colour (cr, side_colour (at, side));
      cairo_set_line_width (cr, 4.5);
      cairo_stroke (cr);
      cairo_set_dash (cr, NULL, 0, 0);
    }
  geo_chain_clear (&trail);
}

/* The edge that runs on across the joint, where the walk is at an end of the seam. */
static void
paint_corner (const Painter *at)
{
  AppWalk *walk = at->walk;
  gboolean start = walk->walked <= 0;
  if (!start && walk->walked < walk->walk->whole)
    return;
  SewingWalkCorner corner;
  sewing_walk_corner_init (&corner);
  if (sewing_walk_corner (walk->walk, app_session_get_facts (walk->session),
                          app_session_get_shown (walk->session), start ? 0 : 1,
                          &corner))
    for (int side = 0; side < 2; side++)
      {
        path_of (at, &corner.across[side]);
        stroke (at, at->colours->thread, 3);
      }
  sewing_walk_corner_clear (&corner);
}

/* --- notches and the pin ---------------------------------------------------------------- */

static void
paint_notch (const Painter *at, const AppWalkMark *mark)
{
  cairo_t *cr = at->cr;
  GeoPoint px = app_view_to_px (at->view, mark->place);
  DrawingColour c = side_colour (at, mark->side);
  double away = fabs (mark->at - at->walk->step.along[mark->side]);
  if (away <= APP_WALK_AT)
    {
      DrawingColour glow = c;
      glow.a = 0.25;
      cairo_new_sub_path (cr);
      cairo_arc (cr, px.x, px.y, 13, 0, 2 * G_PI);
      app_colour (cr, glow);
      cairo_fill (cr);
    }
  for (int i = 0; i < mark->strokes; i++)
    {
      double x = px.x + (i - (mark->strokes - 1) / 2.0) * 8;
      cairo_new_sub_path (cr);
      cairo_arc (cr, x, px.y, 4.2, 0, 2 * G_PI);
      app_colour (cr, mark->reached ? c : at->colours->table);
      cairo_fill_preserve (cr);
      app_colour (cr, c);
      cairo_set_line_width (cr, 1.8);
      cairo_stroke (cr);
    }
}

static void
paint_notches (const Painter *at)
{
  g_autoptr (GArray) marks = app_walk_marks (at->walk);
  for (guint i = 0; i < marks->len; i++)
    {
      const AppWalkMark *mark = &g_array_index (marks, AppWalkMark, i);
      if (mark->notch != 0)
        paint_notch (at, mark);
    }
}

/* Seen from above: the prick, and a head of glass beside it on its shaft. */
static void
paint_pin (const Painter *at)
{
  cairo_t *cr = at->cr;
  GeoPoint px = app_view_to_px (at->view, at->walk->step.at);
  GeoPoint head = { px.x + 15, px.y - 24 };
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_move_to (cr, px.x, px.y);
  cairo_line_to (cr, head.x, head.y);
  app_colour (cr, at->colours->halo);
  cairo_set_line_width (cr, 5);
  cairo_stroke_preserve (cr);
  app_colour (cr, at->colours->pin_shaft);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
  cairo_new_sub_path (cr);
  cairo_arc (cr, px.x, px.y, 4.5, 0, 2 * G_PI);
  app_colour (cr, at->colours->table);
  cairo_fill_preserve (cr);
  app_colour (cr, at->colours->thread);
  cairo_set_line_width (cr, 2.2);
  cairo_stroke (cr);
  cairo_new_sub_path (cr);
  cairo_arc (cr, head.x, head.y, 6.5, 0, 2 * G_PI);
  app_colour (cr, at->colours->thread);
  cairo_fill (cr);
  cairo_new_sub_path (cr);
  cairo_arc (cr, head.x - 2, head.y - 2, 1.8, 0, 2 * G_PI);
  cairo_set_source_rgba (cr, 1, 1, 1, 0.75);
  cairo_fill (cr);
}

void
app_walk_paint (AppWalk *walk, cairo_t *cr, const AppView *view, gboolean dark)
{
  g_return_if_fail (walk != NULL && cr != NULL && view != NULL);
  Painter at = { walk, cr, view, app_palette (dark),
                 drawing_style_table (1 / view->scale, dark) };
  /* Turned over, words would be in a mirror; the name is written anew. */
  at.style.words = at.style.clips = at.style.edge_names = FALSE;
  at.style.notches = FALSE;
  cairo_save (cr);
  paint_side (&at, walk->fixed);
  paint_side (&at, 1 - walk->fixed);
  paint_edge (&at, walk->fixed);
  paint_edge (&at, 1 - walk->fixed);
  paint_trail (&at, 0);
  paint_trail (&at, 1);
  paint_corner (&at);
  paint_notches (&at);
  paint_pin (&at);
  cairo_restore (cr);
}

#define OUTLINE_STEPS 5

static void
add_outline (const SewingPiece *piece, GeoMotion motion, const AppView *view,
             GArray *points)
{
  for (guint e = 0; e < piece->piece->n_edges; e++)
    for (size_t i = 0; i < piece->stitch[e].count; i++)
      for (int k = 0; k < OUTLINE_STEPS; k++)
        {
          GeoPoint at = geo_cubic_point (&piece->stitch[e].cubics[i],
                                         k / (double)OUTLINE_STEPS);
          GeoPoint px = app_view_to_px (view, geo_motion_apply (motion, at));
          g_array_append_val (points, px);
        }
}

void
app_walk_outlines (const AppWalk *walk, const AppView *view, GArray *points)
{
  g_return_if_fail (walk != NULL && view != NULL && points != NULL);
  for (int side = 0; side < 2; side++)
    for (guint r = 0; r < walk->walk->n_runs[side]; r++)
      {
        if (is_laid_before (walk, side, r))
          continue;
        const SewingPiece *piece = walk->walk->runs[side][r].piece;
        GeoMotion motion
            = sewing_walk_motion (walk->walk, &walk->step, side, r);
        add_outline (piece, motion, view, points);
        /* Its name. */
        GeoPoint name
            = app_view_to_px (view, geo_motion_apply (motion, piece->middle));
        for (int k = -4; k <= 4; k++)
          {
            GeoPoint px = geo_point (name.x + 9 * k, name.y);
            g_array_append_val (points, px);
          }
      }
}

GeoBox
app_walk_box (const AppWalk *walk)
{
  g_return_val_if_fail (walk != NULL, geo_box_empty ());
  GeoBox box = geo_box_empty ();
  const SewingWalk *w = walk->walk;
  for (guint r = 0; r < w->n_runs[walk->fixed]; r++)
    {
      const SewingWalkRun *run = &w->runs[walk->fixed][r];
      GeoChain edge = GEO_CHAIN_EMPTY;
      geo_chain_copy (&edge, &run->piece->stitch[run->edge]);
      geo_chain_transform (&edge, run->lay);
      box = geo_box_join (box, geo_chain_bounds (&edge));
      geo_chain_clear (&edge);
    }
  return geo_box_grow (box, ABOUT_MM);
}
