/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Baste: pair two edges into a seam by picking both. Shift with a click adds a further edge to the
 * shorter side of the seam that is picked: front neck and back neck against one collar. */
#include <glib/gi18n.h>

#include "app/tool-private.h"
#include "sewing/words.h"

typedef struct
{
  AppTool tool;
  gboolean has_first;
  gboolean by_key; /* the first was taken by Enter */
  AppHit first;
  AppHit over; /* under the pointer; kind nothing when none */
} Baste;

static const char *
baste_hint (const AppTool *tool)
{
  const Baste *b = (const Baste *)tool;
  const AppPick *pick = app_session_get_pick (b->tool.session);
  if (b->has_first)
    return b->by_key ? _ ("Now go to the edge it is sewn to with Esc, Tab and "
                          "Enter, and press Enter on it")
                     : _ ("Now click the edge it is sewn to. Esc lets go of "
                          "the first");
  if (pick->kind == APP_PICK_SEAM)
    return _ ("Shift-click an edge to add it to the shorter side, or begin "
              "another seam");
  return _ ("Click the first of the two edges that are sewn together");
}

static gboolean
same_edge (const AppHit *a, const AppHit *b)
{
  return a->piece == b->piece && a->edge == b->edge;
}

static double
length_of (AppSession *s, const AppHit *hit)
{
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_shown (s), hit->piece);
  int e = piece != NULL ? pattern_piece_find_edge (piece, hit->edge) : -1;
  return e >= 0
             ? sewing_facts_piece (app_session_get_facts (s), piece)->lengths[e]
             : 0;
}

static void
tell (Baste *b)
{
  AppSession *s = b->tool.session;
  gboolean two = b->has_first && b->over.kind == APP_HIT_EDGE
                 && !same_edge (&b->first, &b->over);
  const AppHit *one = b->has_first ? &b->first : &b->over;
  if (one->kind != APP_HIT_EDGE)
    {
      app_tool_take_tag (&b->tool, NULL);
      return;
    }
  g_autofree char *a = app_tag_edge (s, one->piece, one->edge);
  if (!two || a == NULL)
    {
      app_tool_take_tag (&b->tool, g_steal_pointer (&a));
      return;
    }
  g_autofree char *other = app_tag_edge (s, b->over.piece, b->over.edge);
  const Pattern *p = app_session_get_shown (s);
  double more = length_of (s, &b->first) - length_of (s, &b->over);
  g_autofree char *amount = sewing_words_amount (p, more);
  g_autofree char *difference
      = fabs (more) <= p->tolerance
            ? g_strdup (_ ("they match"))
            : g_strdup_printf (more < 0 ? _ ("the first is  %s shorter")
                                        : _ ("the first is  %s longer"),
                               amount);
  app_tool_take_tag (&b->tool,
                     g_strdup_printf ("%s\n%s\n%s", a,
                                      other != NULL ? other : "", difference));
}

static void
baste_hover (AppTool *tool, const AppPointer *p)
{
  Baste *b = (Baste *)tool;
  b->over = app_hit_edge (tool->session, p->at, app_pointer_reach (p));
  AppHover hover = { 0 };
  if (b->over.kind == APP_HIT_EDGE)
    hover = (AppHover){ .piece = b->over.piece, .edge = b->over.edge };
  app_session_set_hover (tool->session, hover);
  tell (b);
}

static void
forget_first (Baste *b)
{
  b->has_first = FALSE;
  tell (b);
}

static void
pair (Baste *b, const AppHit *second)
{
  AppSession *s = b->tool.session;
  GError *error = NULL;
  guint seam = 0;
  Pattern *result = drafting_pair_edges (
      app_session_get_pattern (s), b->first.piece, b->first.edge, second->piece,
      second->edge, &seam, &error);
  gboolean done = app_session_do (s, _ ("baste seam"), NULL, result, &error);
  b->has_first = FALSE;
  if (done && seam != 0)
    app_session_pick_seam (s, seam);
}

/* Outlines all run the same way round, so a further edge is walked the way of the one before it:
 * the cloth then lies on the same side of the seam. */
static void
extend (Baste *b, const AppHit *hit)
{
  AppSession *s = b->tool.session;
  const Pattern *p = app_session_get_pattern (s);
  const AppPick *pick = app_session_get_pick (s);
  const PatternSeam *seam = pattern_get_seam (p, pick->ids[0]);
  const SewingSeam *facts
      = seam != NULL ? sewing_facts_seam (app_session_get_facts (s), p, seam)
                     : NULL;
  if (facts == NULL)
    return;
  int side = facts->lengths[0] <= facts->lengths[1] ? 0 : 1;
  const PatternSide *runs = &seam->sides[side];
  PatternRun run
      = { hit->piece, hit->edge,
          runs->n_runs > 0 && runs->runs[runs->n_runs - 1].reversed };
  GError *error = NULL;
  app_session_do (s, _ ("add edge to seam"), NULL,
                  drafting_extend_seam (p, seam->id, side, run, &error),
                  &error);
}

static void
baste_press (AppTool *tool, const AppPointer *p)
{
  Baste *b = (Baste *)tool;
  AppHit hit = app_hit_edge (tool->session, p->at, app_pointer_reach (p));
  const AppPick *pick = app_session_get_pick (tool->session);
  if (hit.kind != APP_HIT_EDGE)
    {
      if (!b->has_first)
        app_session_pick_none (tool->session);
      return;
    }
  if ((p->mods & APP_MOD_SHIFT) && !b->has_first && pick->kind == APP_PICK_SEAM)
    extend (b, &hit);
  else if (b->has_first && same_edge (&hit, &b->first))
    b->has_first = FALSE;
  else if (b->has_first)
    pair (b, &hit);
  else
    {
      b->first = hit;
      b->has_first = TRUE;
      b->by_key = FALSE;
      app_session_pick_edge (tool->session, hit.piece, hit.edge);
    }
  b->over = hit;
  tell (b);
}

static void
baste_leave (AppTool *tool)
{
  ((Baste *)tool)->over.kind = APP_HIT_NOTHING;
  app_tool_take_tag (tool, NULL);
}

/* Enter takes the edge that Tab has come to, as a click would. */
static gboolean
take_picked (Baste *b)
{
  AppSession *s = b->tool.session;
  const AppPick *pick = app_session_get_pick (s);
  if (pick->kind != APP_PICK_EDGE)
    return FALSE;
  AppHit hit
      = { .kind = APP_HIT_EDGE, .piece = pick->piece, .edge = pick->edge };
  if (b->has_first && same_edge (&hit, &b->first))
    b->has_first = FALSE;
  else if (b->has_first)
    pair (b, &hit);
  else
    {
      b->first = hit;
      b->has_first = b->by_key = TRUE;
    }
  tell (b);
  return TRUE;
}

static gboolean
baste_key (AppTool *tool, AppKey key)
{
  Baste *b = (Baste *)tool;
  const AppPick *pick = app_session_get_pick (tool->session);
  if (key == APP_KEY_ENTER)
    return take_picked (b);
  if (key != APP_KEY_ESCAPE || !b->has_first)
    return FALSE;
  /* On the way to the second edge by keys Escape leads out to the pieces first. */
  if (b->by_key && pick->kind == APP_PICK_EDGE)
    app_session_step_out (tool->session);
  else
    forget_first (b);
  return TRUE;
}

static gboolean
first_point (const Baste *b, GeoPoint *at)
{
  AppSession *s = b->tool.session;
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_shown (s), b->first.piece);
  int e = piece != NULL ? pattern_piece_find_edge (piece, b->first.edge) : -1;
  if (!b->has_first || e < 0)
    return FALSE;
  const SewingPiece *facts
      = sewing_facts_piece (app_session_get_facts (s), piece);
  *at = geo_chain_point (
      &facts->stitch[e],
      geo_ruler_place (&facts->rulers[e], facts->lengths[e] / 2));
  return TRUE;
}

/* A thread from the first edge's middle to the pointed edge. */
static void
baste_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
             double mm_per_px)
{
  const Baste *b = (const Baste *)tool;
  GeoPoint from;
  if (!first_point (b, &from))
    return;
  if (b->over.kind == APP_HIT_EDGE && !same_edge (&b->first, &b->over))
    {
      double dashes[] = { 7 * mm_per_px, 5 * mm_per_px };
      cairo_set_dash (cr, dashes, 2, 0);
      cairo_move_to (cr, from.x, from.y);
      cairo_line_to (cr, b->over.point.x, b->over.point.y);
      app_tool_stroke (cr, style, mm_per_px, 1.6);
      cairo_set_dash (cr, NULL, 0, 0);
      app_tool_dot (cr, style, b->over.point, mm_per_px);
    }
  app_tool_dot (cr, style, from, mm_per_px);
}

static GeoBox
baste_paint_box (const AppTool *tool)
{
  const Baste *b = (const Baste *)tool;
  GeoBox box = geo_box_empty ();
  GeoPoint from;
  if (!first_point (b, &from))
    return box;
  box = geo_box_add (box, from);
  return b->over.kind == APP_HIT_EDGE ? geo_box_add (box, b->over.point) : box;
}

static gboolean
baste_is_busy (const AppTool *tool)
{
  return ((const Baste *)tool)->has_first;
}

const AppToolClass app_tool_baste = {
  .kind = APP_TOOL_BASTE,
  .size = sizeof (Baste),
  .cursor = "crosshair",
  .hint = baste_hint,
  .hover = baste_hover,
  .press = baste_press,
  .leave = baste_leave,
  .key = baste_key,
  .paint = baste_paint,
  .paint_box = baste_paint_box,
  .is_busy = baste_is_busy,
};
