/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hang tag on the table: what it says now, and where it hangs. */
#include "app/canvas-private.h"
#include "app/hit.h"
#include "app/overlays.h"
#include "app/tool-true.h"

static void
sample_edge (AppCanvas *canvas, const PatternPiece *piece, guint edge,
             int samples, GArray *points)
{
  guint last = pattern_piece_edge_last (piece, edge);
  for (guint i = piece->edges[edge].first; i < last; i++)
    {
      GeoCubic c = pattern_piece_cubic (piece, i % piece->n_nodes);
      for (int k = 0; k <= samples; k++)
        {
          GeoPoint px = app_view_to_px (
              &canvas->view, geo_cubic_point (&c, k / (double)samples));
          g_array_append_val (points, px);
        }
    }
}

/* Outlines about the point: the piece that is held or pointed at more than the others. */
static void
sample_about (AppCanvas *canvas, GeoPoint px, guint held, GArray *points)
{
  static const double near_px = 320;
  const Pattern *p = app_session_get_shown (canvas->session);
  SewingFacts *facts = app_session_get_facts (canvas->session);
  GeoBox near = geo_box_grow (geo_box_add (geo_box_empty (), px), near_px);
  for (guint i = 0; i < p->n_pieces; i++)
    {
      const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[i]);
      if (piece == NULL
          || !geo_box_meets (app_view_box_to_px (&canvas->view, piece->bounds),
                             near))
        continue;
      for (guint e = 0; e < p->pieces[i]->n_edges; e++)
        sample_edge (canvas, p->pieces[i], e, p->pieces[i]->id == held ? 10 : 4,
                     points);
    }
}

static void
sample_line (AppCanvas *canvas, const SewingLine *line, GArray *points)
{
  for (guint r = 0; line != NULL && r < line->n_runs; r++)
    for (size_t i = 0; i < line->runs[r].laid.count; i++)
      for (int k = 0; k <= 12; k++)
        {
          GeoPoint px = app_view_to_px (
              &canvas->view,
              geo_cubic_point (&line->runs[r].laid.cubics[i], k / 12.0));
          g_array_append_val (points, px);
        }
}

/* What the tag must not lie on: the active edge and the edge pointed at; and, less strictly, what
 * else is drawn about the point. */
static GArray *
keep_clear (AppCanvas *canvas, GeoPoint beside)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  const Pattern *p = app_session_get_shown (canvas->session);
  const PatternPiece *piece;
  AppHover hover = app_session_get_hover (canvas->session);
  guint edge, held = hover.piece;
  if (app_canvas_walk (canvas) != NULL)
    {
      app_walk_outlines (app_canvas_walk (canvas), &canvas->view, points);
      return points;
    }
  AppTool *truing = app_canvas_get_truing (canvas);
  if (truing != NULL)
    {
      sample_line (canvas, app_true_get_line (truing), points);
      return points;
    }
  if (app_active_edge (canvas->session, &piece, &edge))
    {
      sample_edge (canvas, piece, edge, 24, points);
      held = piece->id;
    }
  const PatternEdge *over
      = hover.edge != 0 ? pattern_get_edge (p, hover.piece, hover.edge, &piece)
                        : NULL;
  if (over != NULL)
    sample_edge (canvas, piece, (guint)(over - piece->edges), 24, points);
  sample_about (canvas, beside, held, points);
  return points;
}

/* A pin's words are broken into lines of a readable width. */
static char *
pin_words (const SewingFinding *finding)
{
  GString *out = g_string_new (NULL);
  g_auto (GStrv) words = g_strsplit (finding->text, " ", -1);
  glong width = 0;
  for (guint i = 0; words[i] != NULL; i++)
    {
      glong w = g_utf8_strlen (words[i], -1);
      if (width > 0 && width + w > 44)
        {
          g_string_append_c (out, '\n');
          width = 0;
        }
      else if (width > 0)
        g_string_append_c (out, ' ');
      g_string_append (out, words[i]);
      width += w + 1;
    }
  return g_string_free (out, FALSE);
}

/* What is to be told now and beside which point: a pin pointed at, nudges, or what the tool tells;
 * NULL for nothing. */
static char *
tag_text (AppCanvas *canvas, GeoPoint *beside)
{
  const SewingFinding *finding = app_canvas_pin_finding (canvas);
  const char *of_tool = app_tool_get_tag (canvas->tool);
  GeoBox box = app_session_pick_box (canvas->session);
  *beside = canvas->pointer;
  if (canvas->moving)
    return NULL;
  AppWalk *walk = app_canvas_walk (canvas);
  if (walk != NULL)
    {
      *beside = app_view_to_px (&canvas->view, app_walk_get_step (walk)->at);
      return app_walk_tag (walk);
    }
  GeoPoint place;
  if (of_tool != NULL && app_tool_get_tag_place (canvas->tool, &place))
    {
      GeoBox area = app_canvas_area (canvas);
      GeoPoint px = app_view_to_px (&canvas->view, place);
      *beside = geo_point (CLAMP (px.x, area.x0, area.x1),
                           CLAMP (px.y, area.y0, area.y1));
      return g_strdup (of_tool);
    }
  if (finding != NULL && canvas->pointer_in)
    return pin_words (finding);
  if (canvas->nudge_tag != NULL && !geo_box_is_empty (box))
    {
      GeoBox area = app_canvas_area (canvas);
      GeoPoint px
          = app_view_to_px (&canvas->view, geo_point ((box.x0 + box.x1) / 2,
                                                      (box.y0 + box.y1) / 2));
      *beside = geo_point (CLAMP (px.x, area.x0, area.x1),
                           CLAMP (px.y, area.y0, area.y1));
      return g_strdup (canvas->nudge_tag);
    }
  return canvas->pointer_in ? g_strdup (of_tool) : NULL;
}

void
app_canvas_paint_tag (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  GeoPoint beside;
  g_autofree char *text = tag_text (canvas, &beside);
  if (text == NULL)
    {
      canvas->tag_shown = FALSE;
      return;
    }
  GeoBox area = geo_box_grow (app_canvas_clear_area (canvas), -6);
  cairo_surface_t *scratch
      = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *ruler = cairo_create (scratch);
  AppTagSize size = app_tag_measure (ruler, text);
  cairo_destroy (ruler);
  cairo_surface_destroy (scratch);
  g_autoptr (GArray) points = keep_clear (canvas, beside);
  canvas->tag_box = app_tag_place (
      size, beside, area, (GeoPoint *)(void *)points->data, points->len,
      canvas->tag_shown ? &canvas->tag_box : NULL);
  canvas->tag_shown = TRUE;
  GeoBox box = geo_box_grow (canvas->tag_box, 4);
  box = geo_box_grow (geo_box_add (box, beside), 1);
  cairo_t *cr = app_canvas_layer (canvas, snapshot, box);
  if (cr == NULL)
    return;
  app_paint_tag (cr, text, canvas->tag_box, beside, app_palette (canvas->dark));
  cairo_destroy (cr);
}
