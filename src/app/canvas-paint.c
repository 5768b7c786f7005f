/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table's layers. Each piece's picture is recorded once and kept, by the piece's address and the
 * scale: moving the view, or dragging one piece, records nothing else anew. The renderer
 * repaints only where a node is another than in the frame before, so what stands still
 * must be the same node, or one of plain colour, which it compares by value. */
#include "app/canvas-private.h"
#include "app/comb.h"
#include "app/draft.h"
#include "app/hit.h"
#include "app/laid-over.h"
#include "app/overlays.h"
#include "app/rulers.h"
#include "app/tracing.h"

typedef struct
{
  GskRenderNode *node;
  double scale;
  guint dressing;
  guint frame;        /* last painted in */
  GeoBox words;       /* of its name and cuts, table mm */
  double words_scale; /* they were found at; 0 not yet */
} Picture;

static void
picture_free (gpointer data)
{
  Picture *picture = data;
  g_clear_pointer (&picture->node, gsk_render_node_unref);
  g_free (picture);
}

static void
piece_unref (gpointer data)
{
  pattern_piece_unref (data);
}

void
app_canvas_init_pictures (AppCanvas *canvas)
{
  canvas->pictures
      = g_hash_table_new_full (NULL, NULL, piece_unref, picture_free);
}

/* What of the pattern, beside the piece itself, its picture shows. */
static guint
dressing_of (AppCanvas *canvas, const Pattern *p)
{
  guint hash = (guint)p->unit * 31u + (canvas->all_clips ? 17u : 0u);
  for (guint i = 0; i < p->n_cloths; i++)
    hash = hash * 33u + p->cloths[i].id * 131u + p->cloths[i].tint * 7u
           + g_str_hash (p->cloths[i].name);
  /* A dart's cap goes by how it is pressed. */
  for (guint i = 0; i < p->n_seams; i++)
    if (p->seams[i]->join == PATTERN_JOIN_DART)
      hash = hash * 33u + p->seams[i]->id * 7u + (guint)p->seams[i]->press;
  /* Clips look across the seam. */
  if (canvas->all_clips)
    hash = hash * 33u + canvas->generation;
  return hash;
}

static graphene_rect_t
rect_of (GeoBox box)
{
  return GRAPHENE_RECT_INIT ((float)floor (box.x0), (float)floor (box.y0),
                             (float)(ceil (box.x1) - floor (box.x0)),
                             (float)(ceil (box.y1) - floor (box.y0)));
}

cairo_t *
app_canvas_layer (AppCanvas *canvas, GtkSnapshot *snapshot, GeoBox box)
{
  GeoBox seen = { 0, 0, gtk_widget_get_width (GTK_WIDGET (canvas)),
                  gtk_widget_get_height (GTK_WIDGET (canvas)) };
  if (geo_box_is_empty (box) || !geo_box_meets (box, seen))
    return NULL;
  GeoBox cut = { fmax (box.x0, seen.x0), fmax (box.y0, seen.y0),
                 fmin (box.x1, seen.x1), fmin (box.y1, seen.y1) };
  graphene_rect_t rect = rect_of (cut);
  return gtk_snapshot_append_cairo (snapshot, &rect);
}

static DrawingStyle
table_style (AppCanvas *canvas)
{
  DrawingStyle style
      = drawing_style_table (1 / canvas->view.scale, canvas->dark);
  style.clips = canvas->all_clips;
  return style;
}

/* Recorded about the table's own origin, so that it can be laid anywhere. */
static GskRenderNode *
record_piece (AppCanvas *canvas, const Pattern *p, const PatternPiece *piece,
              GeoBox bounds)
{
  double scale = canvas->view.scale;
  DrawingStyle style = table_style (canvas);
  GeoBox px = { bounds.x0 * scale, bounds.y0 * scale, bounds.x1 * scale,
                bounds.y1 * scale };
  graphene_rect_t rect = rect_of (geo_box_grow (px, 6));
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &rect);
  cairo_scale (cr, scale, scale);
  drawing_paint_piece (cr, app_session_get_facts (canvas->session), p, piece,
                       &style);
  cairo_destroy (cr);
  return gtk_snapshot_free_to_node (snapshot);
}

static GskRenderNode *
picture_of (AppCanvas *canvas, const Pattern *p, const PatternPiece *piece,
            GeoBox bounds, guint dressing, guint frame)
{
  Picture *picture = g_hash_table_lookup (canvas->pictures, piece);
  if (picture == NULL)
    {
      picture = g_new0 (Picture, 1);
      g_hash_table_insert (canvas->pictures,
                           pattern_piece_ref ((PatternPiece *)piece), picture);
    }
  if (picture->node == NULL || picture->scale != canvas->view.scale
      || picture->dressing != dressing)
    {
      g_clear_pointer (&picture->node, gsk_render_node_unref);
      picture->node = record_piece (canvas, p, piece, bounds);
      picture->scale = canvas->view.scale;
      picture->dressing = dressing;
      picture->words_scale = 0;
    }
  picture->frame = frame;
  return picture->node;
}

static gboolean
is_old (gpointer key, gpointer value, gpointer data)
{
  (void)key;
  return ((Picture *)value)->frame != *(guint *)data;
}

static void
paint_pieces (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  static guint frame;
  const Pattern *p = app_session_get_shown (canvas->session);
  SewingFacts *facts = app_session_get_facts (canvas->session);
  const AppView *view = &canvas->view;
  GeoBox seen = app_view_box_to_mm (view, app_canvas_area (canvas));
  guint dressing = dressing_of (canvas, p);
  AppWalk *walk = app_canvas_walk (canvas);
  frame++;
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (
      snapshot, &GRAPHENE_POINT_INIT ((float)(-view->origin.x * view->scale),
                                      (float)(-view->origin.y * view->scale)));
  for (guint i = 0; i < p->n_pieces; i++)
    {
      const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[i]);
      if (piece == NULL)
        continue;
      /* Names may stand out of a small piece. */
      GeoBox bounds = geo_box_grow (piece->bounds, 12 / view->scale);
      if (!geo_box_meets (bounds, seen))
        continue;
      GskRenderNode *node
          = picture_of (canvas, p, p->pieces[i], bounds, dressing, frame);
      if (node == NULL)
        continue;
      gboolean aside
          = walk != NULL && app_walk_is_aside (walk, p->pieces[i]->id);
      if (aside)
        gtk_snapshot_push_opacity (snapshot, 0.14);
      gtk_snapshot_append_node (snapshot, node);
      if (aside)
        gtk_snapshot_pop (snapshot);
    }
  gtk_snapshot_restore (snapshot);
  g_hash_table_foreach_remove (canvas->pictures, is_old, &frame);
}

static guint
hash_bytes (guint hash, gconstpointer data, gsize size)
{
  const guint8 *bytes = data;
  for (gsize i = 0; i < size; i++)
    hash = (hash ^ bytes[i]) * 16777619u;
  return hash;
}

/* What beside the pattern a kept layer was recorded for. */
static guint
view_key (AppCanvas *canvas)
{
  guint hash = hash_bytes (2166136261u, &canvas->view.scale, sizeof (double));
  hash = hash_bytes (hash, &canvas->view.origin, sizeof (GeoPoint));
  int size[3] = { gtk_widget_get_width (GTK_WIDGET (canvas)),
                  gtk_widget_get_height (GTK_WIDGET (canvas)), canvas->dark };
  return hash_bytes (hash, size, sizeof size);
}

static GeoBox
lines_box (const Pattern *p)
{
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < p->n_lines; i++)
    for (guint k = 0; k < p->lines[i].n_nodes; k++)
      {
        const PatternNode *node = &p->lines[i].nodes[k];
        box = geo_box_add (box, node->at);
        box = geo_box_add (geo_box_add (box, node->in), node->out);
      }
  return box;
}

static void
to_table (cairo_t *cr, const AppView *view)
{
  cairo_scale (cr, view->scale, view->scale);
  cairo_translate (cr, -view->origin.x, -view->origin.y);
}

static void
record_lines (AppCanvas *canvas, GtkSnapshot *snapshot, const Pattern *p,
              GeoBox box)
{
  cairo_t *cr = app_canvas_layer (canvas, snapshot, box);
  if (cr == NULL)
    return;
  DrawingStyle style = table_style (canvas);
  to_table (cr, &canvas->view);
  drawing_paint_lines (cr, p, &style);
  cairo_destroy (cr);
}

static void
paint_lines (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const Pattern *p = app_session_get_shown (canvas->session);
  GeoBox box = lines_box (p);
  if (geo_box_is_empty (box))
    return;
  guint key = view_key (canvas);
  for (guint i = 0; i < p->n_lines; i++)
    key = hash_bytes (key, p->lines[i].nodes,
                      p->lines[i].n_nodes * sizeof (PatternNode));
  if (canvas->lines == NULL || canvas->lines_key != key)
    {
      GtkSnapshot *own = gtk_snapshot_new ();
      box = geo_box_grow (app_view_box_to_px (&canvas->view, box), 40);
      record_lines (canvas, own, p, box);
      g_clear_pointer (&canvas->lines, gsk_render_node_unref);
      canvas->lines = gtk_snapshot_free_to_node (own);
      canvas->lines_key = key;
    }
  if (canvas->lines != NULL)
    gtk_snapshot_append_node (snapshot, canvas->lines);
}

/* Clip marks of the edges of the seam that is picked, or whose edge is. */
static void
paint_clips (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const Pattern *p = app_session_get_shown (canvas->session);
  SewingFacts *facts = app_session_get_facts (canvas->session);
  guint id = app_session_get_strip_seam (canvas->session);
  const PatternSeam *seam = id != 0 ? pattern_get_seam (p, id) : NULL;
  if (seam == NULL || canvas->all_clips)
    return;
  DrawingStyle style = table_style (canvas);
  style.clips = TRUE;
  for (int side = 0; side < 2; side++)
    for (guint i = 0; i < seam->sides[side].n_runs; i++)
      {
        const PatternRun *run = &seam->sides[side].runs[i];
        const PatternPiece *piece = pattern_get_piece (p, run->piece);
        int edge
            = piece != NULL ? pattern_piece_find_edge (piece, run->edge) : -1;
        if (edge < 0)
          continue;
        GeoBox box = geo_chain_bounds (
            &sewing_facts_piece (facts, piece)->stitch[edge]);
        box = geo_box_grow (box, pattern_edge_width (&piece->edges[edge]) + 2);
        cairo_t *cr = app_canvas_layer (
            canvas, snapshot, app_view_box_to_px (&canvas->view, box));
        if (cr == NULL)
          continue;
        to_table (cr, &canvas->view);
        drawing_paint_clips (cr, facts, p, piece, (guint)edge, &style);
        cairo_destroy (cr);
      }
}

static gboolean
is_combed (AppCanvas *canvas, const PatternPiece *piece, guint edge)
{
  const AppPick *pick = app_session_get_pick (canvas->session);
  return app_session_is_picked (
      canvas->session, piece->id,
      pick->kind == APP_PICK_PIECES ? 0 : piece->edges[edge].id);
}

/* Teeth for all that is picked are of one scale: the most bent edge's. FALSE where nothing
 * is. */
static gboolean
comb_scale (AppCanvas *canvas, double *scale)
{
  const Pattern *p = app_session_get_shown (canvas->session);
  SewingFacts *facts = app_session_get_facts (canvas->session);
  *scale = INFINITY;
  for (guint i = 0; i < p->n_pieces; i++)
    for (guint e = 0; e < p->pieces[i]->n_edges; e++)
      if (is_combed (canvas, p->pieces[i], e))
        {
          const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[i]);
          *scale = fmin (*scale,
                         app_comb_scale (&piece->stitch[e], 1,
                                         APP_COMB_PX / canvas->view.scale));
        }
  return *scale < INFINITY;
}

/* Curvature of the edges that are picked, or of the seam or piece that is. */
static void
paint_combs (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const Pattern *p = app_session_get_shown (canvas->session);
  SewingFacts *facts = app_session_get_facts (canvas->session);
  double scale;
  if (!canvas->combs || app_canvas_get_fairing (canvas) != NULL
      || !comb_scale (canvas, &scale))
    return;
  DrawingStyle style = table_style (canvas);
  for (guint i = 0; i < p->n_pieces; i++)
    for (guint e = 0; e < p->pieces[i]->n_edges; e++)
      {
        if (!is_combed (canvas, p->pieces[i], e))
          continue;
        const GeoChain *edge
            = &sewing_facts_piece (facts, p->pieces[i])->stitch[e];
        GeoBox box
            = app_view_box_to_px (&canvas->view, geo_chain_bounds (edge));
        cairo_t *cr = app_canvas_layer (
            canvas, snapshot, geo_box_grow (box, 2 * APP_COMB_PX + 4));
        if (cr == NULL)
          continue;
        to_table (cr, &canvas->view);
        app_comb_paint (cr, edge, scale, 1 / canvas->view.scale, style.shaping,
                        FALSE);
        cairo_destroy (cr);
      }
}

static void
paint_tool (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const AppView *view = &canvas->view;
  GeoBox own = app_tool_get_paint_box (canvas->tool);
  if (geo_box_is_empty (own))
    return;
  cairo_t *cr = app_canvas_layer (
      canvas, snapshot, geo_box_grow (app_view_box_to_px (view, own), 14));
  if (cr == NULL)
    return;
  DrawingStyle style = table_style (canvas);
  to_table (cr, view);
  app_tool_paint (canvas->tool, cr, &style, 1 / view->scale);
  cairo_destroy (cr);
}

static void
paint_overlays (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const AppPalette *colours = app_palette (canvas->dark);
  AppSession *session = canvas->session;
  const AppView *view = &canvas->view;
  cairo_t *cr
      = app_canvas_layer (canvas, snapshot, app_laid_over_box (session, view));
  if (cr != NULL)
    {
      app_paint_laid_over (cr, session, view, colours);
      cairo_destroy (cr);
    }
  cr = app_canvas_layer (canvas, snapshot, app_lit_box (session, view));
  if (cr != NULL)
    {
      app_paint_lit (cr, session, view, colours);
      if (app_tool_get_kind (canvas->tool) == APP_TOOL_RESHAPE)
        app_paint_nodes (cr, session, view, colours);
      cairo_destroy (cr);
    }
  cr = app_canvas_layer (canvas, snapshot, app_thread_box (session, view));
  if (cr != NULL)
    {
      app_paint_thread (cr, session, view, colours);
      cairo_destroy (cr);
    }
  paint_tool (canvas, snapshot);
}

/* Near a piece without a pin its words stand in nobody's way. */
static gboolean
has_pin_near (AppCanvas *canvas, const SewingPiece *piece)
{
  const GPtrArray *findings = app_session_get_findings (canvas->session);
  GeoBox near = geo_box_grow (piece->bounds, 80 / canvas->view.scale);
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      if (geo_box_holds (near, finding->at))
        return TRUE;
    }
  return FALSE;
}

static void
lay_pins (AppCanvas *canvas)
{
  const Pattern *p = app_session_get_shown (canvas->session);
  DrawingStyle style = table_style (canvas);
  g_autoptr (GArray) boxes = g_array_new (FALSE, FALSE, sizeof (GeoBox));
  cairo_surface_t *scratch
      = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  cairo_t *cr = cairo_create (scratch);
  cairo_scale (cr, canvas->view.scale, canvas->view.scale);
  for (guint i = 0; i < p->n_pieces; i++)
    {
      const SewingPiece *piece = sewing_facts_piece (
          app_session_get_facts (canvas->session), p->pieces[i]);
      Picture *picture = g_hash_table_lookup (canvas->pictures, p->pieces[i]);
      if (picture == NULL || piece == NULL || !has_pin_near (canvas, piece))
        continue;
      if (picture->words_scale != canvas->view.scale)
        picture->words = drawing_words_box (cr, p, piece, &style);
      picture->words_scale = canvas->view.scale;
      GeoBox box = app_view_box_to_px (&canvas->view, picture->words);
      if (!geo_box_is_empty (picture->words))
        g_array_append_val (boxes, box);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (scratch);
  canvas->pins
      = app_pins_lay (canvas->session, &canvas->view, app_canvas_area (canvas),
                      (const GeoBox *)(const void *)boxes->data, boxes->len);
}

static void
paint_pins (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const AppPalette *colours = app_palette (canvas->dark);
  const GPtrArray *findings = app_session_get_findings (canvas->session);
  if (canvas->pins == NULL)
    lay_pins (canvas);
  for (guint i = 0; i < canvas->pins->len; i++)
    {
      const AppPin *pin = &g_array_index (canvas->pins, AppPin, i);
      cairo_t *cr = app_canvas_layer (canvas, snapshot, app_pin_box (pin));
      if (cr == NULL)
        continue;
      app_paint_pin (cr, pin, g_ptr_array_index (findings, pin->finding),
                     canvas->hovered_pin == i + 1, colours);
      cairo_destroy (cr);
    }
}

static void
fill (GtkSnapshot *snapshot, DrawingColour c, double x, double y, double w,
      double h)
{
  GdkRGBA colour = { (float)c.r, (float)c.g, (float)c.b, (float)c.a };
  gtk_snapshot_append_color (
      snapshot, &colour,
      &GRAPHENE_RECT_INIT ((float)x, (float)y, (float)w, (float)h));
}

static void
paint_grid (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  const AppPalette *colours = app_palette (canvas->dark);
  double w = gtk_widget_get_width (GTK_WIDGET (canvas));
  double h = gtk_widget_get_height (GTK_WIDGET (canvas));
  AppGrid grids[2];
  guint n = app_grid (&canvas->view, w, h,
                      app_session_get_shown (canvas->session)->unit, grids);
  for (guint i = 0; i < n; i++)
    {
      DrawingColour c = grids[i].strong ? colours->grid_strong : colours->grid;
      for (double x = grids[i].x; x < w; x += grids[i].step_px)
        fill (snapshot, c, floor (x), 0, 1, h);
      for (double y = grids[i].y; y < h; y += grids[i].step_px)
        fill (snapshot, c, 0, floor (y), w, 1);
    }
}

static GskRenderNode *
record_rulers (AppCanvas *canvas, PatternUnit unit)
{
  double w = gtk_widget_get_width (GTK_WIDGET (canvas));
  double h = gtk_widget_get_height (GTK_WIDGET (canvas));
  GeoBox bands[2]
      = { { 0, 0, w, APP_RULER_PX + 1 }, { 0, 0, APP_RULER_PX + 1, h } };
  GtkSnapshot *own = gtk_snapshot_new ();
  for (int i = 0; i < 2; i++)
    {
      cairo_t *cr = app_canvas_layer (canvas, own, bands[i]);
      app_paint_rulers (cr, &canvas->view, w, h, unit,
                        app_palette (canvas->dark));
      cairo_destroy (cr);
    }
  return gtk_snapshot_free_to_node (own);
}

static void
paint_rulers (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  PatternUnit unit = app_session_get_shown (canvas->session)->unit;
  guint key = view_key (canvas) + (guint)unit;
  if (canvas->rulers == NULL || canvas->rulers_key != key)
    {
      g_clear_pointer (&canvas->rulers, gsk_render_node_unref);
      canvas->rulers = record_rulers (canvas, unit);
      canvas->rulers_key = key;
    }
  gtk_snapshot_append_node (snapshot, canvas->rulers);
  if (!canvas->pointer_in)
    return;
  DrawingColour lit = app_palette (canvas->dark)->lit;
  if (canvas->pointer.x > APP_RULER_PX)
    fill (snapshot, lit, floor (canvas->pointer.x) - 1, 0, 2, APP_RULER_PX);
  if (canvas->pointer.y > APP_RULER_PX)
    fill (snapshot, lit, 0, floor (canvas->pointer.y) - 1, APP_RULER_PX, 2);
}

static void
paint_blank_rulers (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  DrawingColour c = app_palette (canvas->dark)->ruler;
  GtkWidget *widget = GTK_WIDGET (canvas);
  fill (snapshot, c, 0, 0, gtk_widget_get_width (widget), APP_RULER_PX);
  fill (snapshot, c, 0, 0, APP_RULER_PX, gtk_widget_get_height (widget));
}

static void
paint_focus (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  GtkWidget *widget = GTK_WIDGET (canvas);
  DrawingColour lit = app_palette (canvas->dark)->lit;
  double w = gtk_widget_get_width (widget);
  double h = gtk_widget_get_height (widget);
  if (!gtk_widget_has_visible_focus (widget)
      && !(canvas->by_keys && gtk_widget_has_focus (widget)))
    return;
  fill (snapshot, lit, 0, 0, w, 2);
  fill (snapshot, lit, 0, h - 2, w, 2);
  fill (snapshot, lit, 0, 0, 2, h);
  fill (snapshot, lit, w - 2, 0, 2, h);
}

/* What stands in the fields of the verb that is filled in. */
static void
paint_draft (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  AppDraft *draft = app_draft_get (canvas->session);
  if (draft == NULL)
    return;
  cairo_t *cr = app_canvas_layer (canvas, snapshot, app_canvas_area (canvas));
  if (cr == NULL)
    return;
  app_draft_paint (draft, cr, &canvas->view, canvas->dark);
  cairo_destroy (cr);
}

static void
paint_all (AppCanvas *canvas, GtkSnapshot *snapshot)
{
  paint_lines (canvas, snapshot);
  paint_pieces (canvas, snapshot);
  if (canvas->walking && app_canvas_walk (canvas) != NULL)
    {
      app_canvas_paint_walk (canvas, snapshot);
      return;
    }
  paint_clips (canvas, snapshot);
  paint_combs (canvas, snapshot);
  paint_overlays (canvas, snapshot);
  paint_draft (canvas, snapshot);
  paint_pins (canvas, snapshot);
}

void
app_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  AppCanvas *canvas = APP_CANVAS (widget);
  const AppPalette *colours = app_palette (canvas->dark);
  int w = gtk_widget_get_width (widget), h = gtk_widget_get_height (widget);
  if (w <= 0 || h <= 0)
    return;
  fill (snapshot, colours->table, 0, 0, w, h);
  AppTracing *tracing = app_canvas_tracing (canvas);
  if (tracing != NULL)
    {
      app_canvas_paint_trace (canvas, snapshot);
      /* A picture's pixels are no lengths yet. */
      if (app_tracing_get_stage (tracing) == APP_TRACING_OUTLINE)
        paint_rulers (canvas, snapshot);
      else
        paint_blank_rulers (canvas, snapshot);
      paint_focus (canvas, snapshot);
      return;
    }
  paint_grid (canvas, snapshot);
  if (app_canvas_get_truing (canvas) != NULL)
    paint_tool (canvas, snapshot);
  else
    {
      app_canvas_paint_pictures (canvas, snapshot);
      paint_all (canvas, snapshot);
    }
  paint_rulers (canvas, snapshot);
  app_canvas_paint_tag (canvas, snapshot);
  paint_focus (canvas, snapshot);
}
