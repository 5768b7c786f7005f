/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The laid pieces and the line across them. From below: the pieces, each the colour of its cloth; the
 * seams they are joined by; the line as it was, where it has changed; the
 * curvature; the reach; the line; nodes and handles; what stands at joints and folds. */
#include <glib/gi18n.h>

#include "app/comb.h"
#include "app/overlays.h"
#include "app/tool-true-private.h"
#include "drawing/text.h"
#include "geometry/length.h"

#define DEGREES (180 / G_PI)
#define LOOKS_TRUE 0.5
#define SHOWS                                                                  \
  6.0 /* degrees: beyond, a point or a dip is seen; as in the checks */
#define LABEL_PX 34.0
#define LABEL_HALF_PX 46.0

typedef struct
{
  const AppTrue *t;
  cairo_t *cr;
  const DrawingStyle *style;
  const AppPalette *colours;
  double px; /* mm */
} Paint;

static void
colour (const Paint *at, DrawingColour c, double alpha)
{
  cairo_set_source_rgba (at->cr, c.r, c.g, c.b, c.a * alpha);
}

static void
stroke (const Paint *at, DrawingColour c, double alpha, double width_px)
{
  colour (at, c, alpha);
  cairo_set_line_width (at->cr, width_px * at->px);
  cairo_stroke (at->cr);
}

static void
dash (const Paint *at, double on_px, double off_px)
{
  double dashes[] = { on_px * at->px, off_px * at->px };
  cairo_set_dash (at->cr, dashes, on_px > 0 ? 2 : 0, 0);
}

/* --- pieces -------------------------------------------------------------------------- */

static DrawingColour
tint_of (const Paint *at, const PatternPiece *piece)
{
  const Pattern *p = app_session_get_shown (at->t->tool.session);
  const PatternCloth *cloth
      = piece->n_cuts > 0 ? pattern_get_cloth (p, piece->cuts[0].cloth) : NULL;
  return at->style->tints[cloth != NULL ? cloth->tint % 8 : 0];
}

/* Laid already for an earlier run of the line? */
static gboolean
is_again (const SewingLine *line, guint run)
{
  const SewingLineRun *own = &line->runs[run];
  for (guint i = 0; i < run; i++)
    {
      const SewingLineRun *other = &line->runs[i];
      if (other->piece == own->piece
          && geo_distance (geo_motion_apply (own->lay, geo_point (0, 0)),
                           geo_motion_apply (other->lay, geo_point (0, 0)))
                 < 1e-6
          && geo_distance (geo_motion_apply (own->lay, geo_point (1000, 0)),
                           geo_motion_apply (other->lay, geo_point (1000, 0)))
                 < 1e-6)
        return TRUE;
    }
  return FALSE;
}

/* A closed dart lays one piece twice; each time only what is on its own side
 * of the dart shows. */
static void
clip_to_dart (const Paint *at, guint run, guint joint, GeoBox box)
{
  const SewingLineJoint *j = &at->t->line->joints[joint];
  if (!j->dart)
    return;
  const SewingLineRun *own = &at->t->line->runs[run];
  GeoBox edge = geo_chain_bounds (&own->laid);
  double far = 2 * (geo_box_width (box) + geo_box_height (box)) + 1;
  GeoPoint side = geo_left (j->out);
  if (geo_dot (side, geo_sub (geo_box_centre (edge), j->at)) < 0)
    side = geo_scale (side, -1);
  GeoPoint a = geo_along (j->at, j->out, far),
           b = geo_along (j->at, j->out, -far);
  GeoPoint c = geo_along (b, side, far), d = geo_along (a, side, far);
  cairo_new_path (at->cr);
  cairo_move_to (at->cr, a.x, a.y);
  cairo_line_to (at->cr, b.x, b.y);
  cairo_line_to (at->cr, c.x, c.y);
  cairo_line_to (at->cr, d.x, d.y);
  cairo_close_path (at->cr);
  cairo_clip (at->cr);
}

static void
outline_of (const SewingPiece *facts, GeoMotion lay, GeoChain *outline)
{
  for (guint e = 0; e < facts->piece->n_edges; e++)
    geo_chain_append_chain (outline, &facts->stitch[e]);
  geo_chain_transform (outline, lay);
}

static void
paint_piece (const Paint *at, guint run)
{
  const SewingLine *line = at->t->line;
  const SewingLineRun *own = &line->runs[run];
  AppSession *s = at->t->tool.session;
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_shown (s), own->piece);
  const SewingPiece *facts
      = sewing_facts_piece (app_session_get_facts (s), piece);
  GeoChain outline = GEO_CHAIN_EMPTY;
  outline_of (facts, own->lay, &outline);
  cairo_save (at->cr);
  if (outline.count > 0)
    {
      GeoBox box = geo_chain_bounds (&outline);
      if (run > 0)
        clip_to_dart (at, run, run - 1, box);
      if (run + 1 < line->n_runs)
        clip_to_dart (at, run, run, box);
      cairo_new_path (at->cr);
      drawing_path_chain (at->cr, &outline);
      colour (at, tint_of (at, piece), 1);
      cairo_fill_preserve (at->cr);
      stroke (at, at->style->stitch, 0.65, 1.1);
    }
  cairo_restore (at->cr);
  geo_chain_clear (&outline);
}

/* --- words ------------------------------------------------------------------------------ */

static void
words (const Paint *at, const char *text, GeoPoint where, double angle,
       double capital_px, DrawingTextFlags flags, DrawingColour c)
{
  DrawingTextLook look = { at->style->font, capital_px * at->px, 0, flags };
  colour (at, c, 1);
  drawing_text_line (at->cr, text, where, angle, &look);
}

/* A small card about a point. */
static void
card (const Paint *at, const char *text, GeoPoint where, DrawingColour edge,
      gboolean strong)
{
  DrawingTextLook look = { at->style->font, 8 * at->px, 0,
                           DRAWING_TEXT_CENTRE | DRAWING_TEXT_BOLD };
  double w, h, r = 6 * at->px;
  drawing_text_size (at->cr, text, &look, &w, &h);
  double half = w / 2 + 9 * at->px, tall = 12 * at->px;
  cairo_new_sub_path (at->cr);
  cairo_arc (at->cr, where.x + half - r, where.y - tall + r, r, -G_PI / 2, 0);
  cairo_arc (at->cr, where.x + half - r, where.y + tall - r, r, 0, G_PI / 2);
  cairo_arc (at->cr, where.x - half + r, where.y + tall - r, r, G_PI / 2, G_PI);
  cairo_arc (at->cr, where.x - half + r, where.y - tall + r, r, G_PI,
             1.5 * G_PI);
  cairo_close_path (at->cr);
  colour (at, at->colours->tag, 0.97);
  cairo_fill_preserve (at->cr);
  stroke (at, edge, 1, strong ? 2.4 : 1.2);
  words (at, text, where, 0, 8, look.flags, at->colours->tag_ink);
}

/* The piece's name inside it, beside the middle of its edge. */
static void
paint_name (const Paint *at, guint run)
{
  const SewingLineRun *own = &at->t->line->runs[run];
  const PatternPiece *piece = pattern_get_piece (
      app_session_get_shown (at->t->tool.session), own->piece);
  GeoPlace place
      = geo_chain_at_length (&own->laid, (own->to - own->from) / 2, 1e-3);
  GeoPoint way = geo_chain_tangent (&own->laid, place);
  GeoPoint in = geo_left (way);
  if (own->reversed != own->lay.flip)
    in = geo_scale (in, -1);
  GeoPoint where
      = geo_along (geo_chain_point (&own->laid, place), in, 26 * at->px);
  double angle = drawing_text_upright (at->cr, atan2 (way.y, way.x));
  words (at, piece->name, where, angle, 7, DRAWING_TEXT_CENTRE,
         at->style->faint);
}

/* --- the line ------------------------------------------------------------------------------ */

static void
path_line (const Paint *at, const SewingLine *line)
{
  for (guint i = 0; i < line->n_runs; i++)
    drawing_path_chain (at->cr, &line->runs[i].laid);
}

static void
paint_seams (const Paint *at)
{
  const SewingLine *line = at->t->line;
  AppSession *s = at->t->tool.session;
  for (guint i = 0; i < line->n_joints; i++)
    {
      const SewingLineJoint *j = &line->joints[i];
      const PatternSeam *seam
          = pattern_get_seam (app_session_get_shown (s), j->seam);
      const SewingSeam *facts = sewing_facts_seam (
          app_session_get_facts (s), app_session_get_shown (s), seam);
      if (facts == NULL)
        continue;
      /* Side A lies as its piece does. */
      GeoChain chain = GEO_CHAIN_EMPTY;
      geo_chain_copy (&chain, &facts->chains[0]);
      geo_chain_transform (&chain, line->runs[j->a_first ? i : i + 1].lay);
      drawing_path_chain (at->cr, &chain);
      dash (at, 7, 5);
      stroke (at, at->colours->thread, 0.9, 1.6);
      dash (at, 0, 0);
      geo_chain_clear (&chain);
    }
}

static gboolean
has_changed (const Paint *at)
{
  return app_true_is_changed (&at->t->tool) && at->t->old != NULL;
}

static void
paint_old (const Paint *at)
{
  if (!has_changed (at))
    return;
  path_line (at, at->t->old);
  dash (at, 3, 4);
  stroke (at, at->colours->tag_faint, 0.9, 1.3);
  dash (at, 0, 0);
}

/* --- curvature ------------------------------------------------------------------------- */

/* One scale for before and after, so that they can be compared. */
static void
paint_comb (const Paint *at)
{
  const SewingLine *line = at->t->line;
  if (!at->t->comb)
    return;
  const SewingLine *was = at->t->old != NULL ? at->t->old : line;
  GeoChain whole = GEO_CHAIN_EMPTY;
  sewing_line_chain (was, &whole);
  double scale = app_comb_scale (&whole, 1, APP_COMB_PX * at->px);
  geo_chain_clear (&whole);
  for (guint r = 0; has_changed (at) && r < was->n_runs; r++)
    app_comb_paint (at->cr, &was->runs[r].laid, scale, at->px,
                    at->colours->tag_faint, TRUE);
  for (guint r = 0; r < line->n_runs; r++)
    app_comb_paint (at->cr, &line->runs[r].laid, scale, at->px,
                    at->style->shaping, FALSE);
}

/* --- the reach ---------------------------------------------------------------------------------- */

/* The part of a run within the reach of a joint at its end (or start). */
static void
path_reach (const Paint *at, guint run, gboolean at_end)
{
  const SewingLineRun *own = &at->t->line->runs[run];
  double length = own->to - own->from;
  double reach = fmin (at->t->reach, length);
  GeoPlace from
      = geo_chain_at_length (&own->laid, at_end ? length - reach : 0, 1e-6);
  GeoPlace to = geo_chain_at_length (&own->laid, at_end ? length : reach, 1e-6);
  GeoChain part = GEO_CHAIN_EMPTY;
  if (geo_place_compare (from, to) < 0)
    geo_chain_slice (&own->laid, from, to, &part);
  drawing_path_chain (at->cr, &part);
  geo_chain_clear (&part);
}

static void
tick (const Paint *at, guint run, gboolean at_end)
{
  const SewingLineRun *own = &at->t->line->runs[run];
  double length = own->to - own->from;
  double reach = fmin (at->t->reach, length);
  GeoPlace place
      = geo_chain_at_length (&own->laid, at_end ? length - reach : reach, 1e-6);
  GeoPoint foot = geo_chain_point (&own->laid, place);
  GeoPoint across = geo_left (geo_chain_tangent (&own->laid, place));
  GeoPoint a = geo_along (foot, across, 9 * at->px);
  GeoPoint b = geo_along (foot, across, -9 * at->px);
  cairo_move_to (at->cr, a.x, a.y);
  cairo_line_to (at->cr, b.x, b.y);
}

static void
paint_reach (const Paint *at)
{
  const AppTrue *t = at->t;
  for (guint j = 0; j < t->line->n_joints; j++)
    {
      if (j != t->joint && !(t->all && t->blending))
        continue;
      path_reach (at, j, TRUE);
      path_reach (at, j + 1, FALSE);
      cairo_set_line_cap (at->cr, CAIRO_LINE_CAP_BUTT);
      stroke (at, at->colours->partner, t->blending ? 0.32 : 0.16, 13);
      tick (at, j, TRUE);
      tick (at, j + 1, FALSE);
      stroke (at, at->colours->partner, 0.9, 1.6);
    }
}

/* --- nodes --------------------------------------------------------------------------------------- */

static void
paint_handles (const Paint *at)
{
  g_autoptr (GArray) handles = app_true_handles (at->t, at->t->line);
  for (guint i = 0; i < handles->len; i++)
    {
      const AppTrueHandle *h = &g_array_index (handles, AppTrueHandle, i);
      cairo_move_to (at->cr, h->node.x, h->node.y);
      cairo_line_to (at->cr, h->at.x, h->at.y);
      stroke (at, at->colours->lit, 0.9, 1);
      cairo_new_sub_path (at->cr);
      cairo_arc (at->cr, h->at.x, h->at.y, 4 * at->px, 0, 2 * G_PI);
      colour (at, at->colours->lit, 1);
      cairo_fill_preserve (at->cr);
      stroke (at, at->colours->halo, 1, 1.4);
    }
}

static gboolean
is_over (const AppTrue *t, const AppTrueNode *node)
{
  return t->over.kind == APP_TRUE_NODE && t->over.node.run == node->run
         && t->over.node.id == node->id;
}

static void
paint_nodes (const Paint *at)
{
  const AppTrue *t = at->t;
  g_autoptr (GArray) nodes = app_true_nodes (t, t->line);
  for (guint i = 0; i < nodes->len; i++)
    {
      const AppTrueNode *node = &g_array_index (nodes, AppTrueNode, i);
      gboolean picked
          = t->has_node && t->run == node->run && t->node == node->id;
      double r = (is_over (t, node) ? 6 : 4.5) * at->px;
      cairo_new_sub_path (at->cr);
      if (node->joint < 0 && node->kind == PATTERN_NODE_CORNER)
        cairo_rectangle (at->cr, node->at.x - r, node->at.y - r, 2 * r, 2 * r);
      else
        cairo_arc (at->cr, node->at.x, node->at.y,
                   node->joint >= 0 ? r * 1.4 : r, 0, 2 * G_PI);
      colour (at, picked ? at->colours->lit : at->colours->node, 1);
      cairo_fill_preserve (at->cr);
      stroke (at, at->colours->lit, 1, 1.8);
    }
}

/* --- joints and folds ------------------------------------------------------------------------------- */

/* A label that would lie on one of an earlier joint goes farther out. */
GeoPoint
app_true_label_at (const AppTrue *t, guint joint, double mm_per_px)
{
  /* The comb mostly stands outside; the label then goes inside. */
  double first = (t->comb ? -LABEL_PX : LABEL_PX) * mm_per_px;
  g_autofree GeoPoint *at = g_new (GeoPoint, joint + 1);
  for (guint i = 0; i <= joint; i++)
    {
      const SewingLineJoint *j = &t->line->joints[i];
      double far = first;
      gboolean free = FALSE;
      for (int tries = 0; tries < 8 && !free; tries++)
        {
          at[i] = geo_along (j->at, j->out, far);
          free = TRUE;
          for (guint k = 0; k < i; k++)
            free = free
                   && (fabs (at[k].x - at[i].x) > 2 * LABEL_HALF_PX * mm_per_px
                       || fabs (at[k].y - at[i].y) > 28 * mm_per_px);
          far += copysign (28 * mm_per_px, first);
        }
    }
  return at[joint];
}

static DrawingColour
weigh (const Paint *at, double out_deg)
{
  out_deg = fabs (out_deg);
  return out_deg < LOOKS_TRUE ? at->style->even
         : out_deg < SHOWS    ? at->colours->pin_look
                              : at->colours->pin_mend;
}

static void
paint_joint (const Paint *at, guint i)
{
  const AppTrue *t = at->t;
  const SewingLineJoint *j = &t->line->joints[i];
  const Pattern *p = app_session_get_shown (t->tool.session);
  double deg = j->angle * DEGREES, out = deg - 180;
  g_autofree char *step = pattern_length_format (fabs (j->step), p->unit, TRUE);
  g_autoptr (GString) text = g_string_new (NULL);
  if (fabs (out) < LOOKS_TRUE)
    g_string_append (text, _ ("true"));
  else
    g_string_append_printf (
        text, out > 0 ? _ ("%.1f°  dip") : _ ("%.1f°  peak"), deg);
  if (fabs (j->step) > p->tolerance)
    g_string_append_printf (text, _ (", step %s"), step);
  GeoPoint where = app_true_label_at (t, i, at->px);
  cairo_move_to (at->cr, j->at.x, j->at.y);
  cairo_line_to (at->cr, where.x, where.y);
  stroke (at, weigh (at, out), 0.8, 1.2);
  card (at, text->str, where, weigh (at, out), i == t->joint);
}

static void
paint_fold (const Paint *at, const SewingLineEnd *end)
{
  if (!end->fold || geo_norm (end->in) < 0.5)
    return;
  double out = end->angle * DEGREES - 90;
  GeoPoint far = geo_along (end->at, end->in, 120 * at->px);
  cairo_move_to (at->cr, end->at.x, end->at.y);
  cairo_line_to (at->cr, far.x, far.y);
  double chain[] = { 14 * at->px, 4 * at->px, 3 * at->px, 4 * at->px };
  cairo_set_dash (at->cr, chain, 4, 0);
  stroke (at, at->style->ink, 0.9, 1.6);
  dash (at, 0, 0);
  g_autofree char *text
      = fabs (out) < LOOKS_TRUE
            ? g_strdup (_ ("square"))
            : g_strdup_printf (_ ("%.1f° at the fold"), out + 90);
  card (at, text,
        geo_along (end->at, end->in,
                   (at->t->comb ? LABEL_PX : -LABEL_PX) * at->px),
        weigh (at, out), FALSE);
}

GeoBox
app_true_paint_box (const AppTool *tool)
{
  const AppTrue *t = (const AppTrue *)tool;
  GeoBox box = geo_box_empty ();
  if (t->line == NULL)
    return box;
  AppSession *s = tool->session;
  for (guint i = 0; i < t->line->n_runs; i++)
    {
      const PatternPiece *piece = pattern_get_piece (app_session_get_shown (s),
                                                     t->line->runs[i].piece);
      GeoChain outline = GEO_CHAIN_EMPTY;
      outline_of (sewing_facts_piece (app_session_get_facts (s), piece),
                  t->line->runs[i].lay, &outline);
      if (outline.count > 0)
        box = geo_box_join (box, geo_chain_bounds (&outline));
      geo_chain_clear (&outline);
    }
  /* Labels and teeth stand out, by pixels; the view's scale is not known here. */
  double size = fmax (geo_box_width (box), geo_box_height (box));
  return geo_box_grow (box, 200 + size);
}

void
app_true_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
                double mm_per_px)
{
  const AppTrue *t = (const AppTrue *)tool;
  if (t->line == NULL)
    return;
  gboolean dark = style->ink.r + style->ink.g + style->ink.b > 1.5;
  Paint at = { t, cr, style, app_palette (dark), mm_per_px };
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (guint i = 0; i < t->line->n_runs; i++)
    if (!is_again (t->line, i))
      paint_piece (&at, i);
  for (guint i = 0; i < t->line->n_runs; i++)
    paint_name (&at, i);
  paint_seams (&at);
  paint_comb (&at);
  paint_reach (&at);
  paint_old (&at);
  path_line (&at, t->line);
  app_tool_stroke (cr, style, mm_per_px, 2.6);
  for (int i = 0; i < 2; i++)
    paint_fold (&at, &t->line->ends[i]);
  paint_handles (&at);
  paint_nodes (&at);
  for (guint i = 0; i < t->line->n_joints; i++)
    if (i != t->joint)
      paint_joint (&at, i);
  paint_joint (&at, t->joint);
}
