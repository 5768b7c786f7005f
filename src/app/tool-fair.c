/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/tool-fair.h"

#include <glib/gi18n.h>

#include "app/comb.h"
#include "app/tool-private.h"
#include "app/words.h"
#include "geometry/nearest.h"
#include "sewing/words.h"

#define MOST_TYPED 16
#define LEAST_STRETCH 5.0 /* mm between the ticks */
#define TICK_PX 12.0

typedef struct
{
  AppTool tool;
  guint piece, edge; /* 0: not open */
  Pattern *base;
  GeoChain was; /* the edge in base */
  double length, from, to;
  double within;
  gboolean keep, comb;
  GString *typed;
  char *trouble;
  DraftingFaired told;
  int tick; /* the one picked: 0, 1, or -1 */
  int held;
} Fair;

static Fair *
own (const AppTool *tool)
{
  return (Fair *)tool;
}

static void
close_all (Fair *f)
{
  f->piece = f->edge = 0;
  f->held = f->tick = -1;
  geo_chain_clear (&f->was);
  g_clear_pointer (&f->base, pattern_unref);
  g_clear_pointer (&f->trouble, g_free);
  if (f->typed != NULL)
    g_string_free (f->typed, TRUE);
  f->typed = NULL;
  app_tool_take_tag (&f->tool, NULL);
}

static gboolean
is_whole (const Fair *f)
{
  return f->from <= 0 && f->to >= f->length;
}

static void
refresh (Fair *f)
{
  if (f->piece == 0)
    return;
  AppSession *s = f->tool.session;
  DraftingFairing how = {
    .within = f->within, .keep_length = f->keep, .from = f->from, .to = f->to
  };
  if (is_whole (f))
    how.from = how.to = 0;
  GError *error = NULL;
  Pattern *result
      = drafting_fair_edge (f->base, f->piece, f->edge, &how, &f->told, &error);
  g_free (f->trouble);
  f->trouble = error != NULL ? g_strdup (error->message) : NULL;
  g_clear_error (&error);
  if (result != NULL)
    app_session_preview (s, result, NULL);
  else
    app_session_cancel (s);
}

static gboolean
take_edge (Fair *f)
{
  const PatternPiece *piece = pattern_get_piece (f->base, f->piece);
  int edge = piece != NULL ? pattern_piece_find_edge (piece, f->edge) : -1;
  geo_chain_reset (&f->was);
  if (edge < 0)
    return FALSE;
  pattern_piece_edge_chain (piece, (guint)edge, &f->was);
  f->length = geo_chain_length (&f->was, 1e-9);
  return TRUE;
}

gboolean
app_fair_open (AppTool *tool, guint piece, guint edge)
{
  Fair *f = own (tool);
  AppSession *s = tool->session;
  g_return_val_if_fail (tool->class == &app_tool_fair, FALSE);
  close_all (f);
  app_session_cancel (s);
  f->piece = piece;
  f->edge = edge;
  f->base = pattern_ref ((Pattern *)app_session_get_pattern (s));
  if (!take_edge (f))
    {
      close_all (f);
      return FALSE;
    }
  f->from = 0;
  f->to = f->length;
  f->comb = TRUE;
  f->within = f->base->unit == PATTERN_INCH ? 25.4 / 32 : 1;
  const AppPick *pick = app_session_get_pick (s);
  if (pick->kind != APP_PICK_EDGE || pick->piece != piece || pick->edge != edge)
    app_session_pick_edge (s, piece, edge);
  refresh (f);
  return TRUE;
}

/* The pattern was changed by other means; begun anew where the edge still is. */
static void
follow_session (Fair *f)
{
  if (f->piece == 0 || f->base == app_session_get_pattern (f->tool.session))
    return;
  Fair kept = *f;
  if (app_fair_open (&f->tool, kept.piece, kept.edge))
    {
      f->within = kept.within;
      f->keep = kept.keep;
      refresh (f);
    }
  else
    f->tool.done = TRUE;
}

gboolean
app_fair_is_open (const AppTool *tool)
{
  return own (tool)->piece != 0;
}

gboolean
app_fair_is_of (const AppTool *tool, guint piece, guint edge)
{
  return own (tool)->piece == piece && own (tool)->edge == edge;
}

PatternUnit
app_fair_get_unit (const AppTool *tool)
{
  PatternUnit unit = app_session_get_pattern (tool->session)->unit;
  return unit == PATTERN_CM ? PATTERN_MM : unit;
}

double
app_fair_get_within (const AppTool *tool)
{
  return own (tool)->within;
}

void
app_fair_set_within (AppTool *tool, double within)
{
  if (!isfinite (within) || within <= 0)
    return;
  own (tool)->within = within;
  refresh (own (tool));
}

gboolean
app_fair_keeps_length (const AppTool *tool)
{
  return own (tool)->keep;
}

void
app_fair_set_keep_length (AppTool *tool, gboolean keep)
{
  own (tool)->keep = keep;
  refresh (own (tool));
}

gboolean
app_fair_has_comb (const AppTool *tool)
{
  return own (tool)->comb;
}

void
app_fair_set_comb (AppTool *tool, gboolean comb)
{
  own (tool)->comb = comb;
}

void
app_fair_get_stretch (const AppTool *tool, double *from, double *to)
{
  *from = own (tool)->from;
  *to = own (tool)->to;
}

void
app_fair_set_stretch (AppTool *tool, double from, double to)
{
  Fair *f = own (tool);
  f->from = CLAMP (from, 0, fmax (0, f->length - LEAST_STRETCH));
  f->to = CLAMP (to, fmin (f->from + LEAST_STRETCH, f->length), f->length);
  refresh (f);
}

gboolean
app_fair_is_changed (const AppTool *tool)
{
  return own (tool)->piece != 0 && app_session_is_previewing (tool->session);
}

static char *
edge_name (const Fair *f)
{
  const PatternPiece *piece = NULL;
  const PatternEdge *edge
      = pattern_get_edge (f->base, f->piece, f->edge, &piece);
  return edge != NULL ? app_edge_name (piece, edge) : g_strdup ("");
}

void
app_fair_do (AppTool *tool)
{
  Fair *f = own (tool);
  if (app_fair_is_changed (tool))
    {
      g_autofree char *name = edge_name (f);
      /* Translators: a step of the history; the name of an edge */
      g_autofree char *label = g_strdup_printf (_ ("make %s fair"), name);
      app_session_commit (tool->session, label);
    }
  close_all (f);
  tool->done = TRUE;
}

void
app_fair_leave (AppTool *tool)
{
  app_session_cancel (tool->session);
  close_all (own (tool));
  tool->done = TRUE;
}

char *
app_fair_title (const AppTool *tool)
{
  const Fair *f = own (tool);
  return f->piece != 0 ? app_words_edge (f->base, f->piece, f->edge)
                       : g_strdup ("");
}

char *
app_fair_words (const AppTool *tool)
{
  const Fair *f = own (tool);
  if (!app_fair_is_changed (tool))
    return g_strdup ("");
  double change = f->told.length[1] - f->told.length[0];
  g_autofree char *moved = sewing_words_amount (f->base, f->told.moved);
  g_autofree char *length
      = pattern_length_format (f->told.length[1], f->base->unit, TRUE);
  g_autofree char *by = sewing_words_change (f->base, change);
  return fabs (change) < 0.05
             ? g_strdup_printf (_ ("moves %s at most; length kept, %s"), moved,
                                length)
             : g_strdup_printf (_ ("moves %s at most; length %s  %s"), moved,
                                length, by);
}

const char *
app_fair_get_trouble (const AppTool *tool)
{
  return own (tool)->trouble;
}

/* --- the ticks --------------------------------------------------------------------- */

static GeoPoint
tick_at (const Fair *f, int tick, GeoPoint *across)
{
  GeoPlace place
      = geo_chain_at_length (&f->was, tick == 0 ? f->from : f->to, 1e-6);
  if (across != NULL)
    *across = geo_left (geo_chain_tangent (&f->was, place));
  return geo_chain_point (&f->was, place);
}

static int
hit_tick (const Fair *f, const AppPointer *p)
{
  int best = -1;
  double nearest = app_pointer_reach (p) * 1.5;
  for (int i = 0; f->piece != 0 && i < 2; i++)
    {
      double d = geo_distance (tick_at (f, i, NULL), p->at);
      if (d < nearest)
        {
          nearest = d;
          best = i;
        }
    }
  return best;
}

static void
move_tick (Fair *f, int tick, double to)
{
  double from = tick == 0 ? fmin (to, f->to - LEAST_STRETCH) : f->from;
  double end = tick == 1 ? fmax (to, f->from + LEAST_STRETCH) : f->to;
  app_fair_set_stretch (&f->tool, from, end);
}

static void
fair_hover (AppTool *tool, const AppPointer *p)
{
  follow_session (own (tool));
  tool->cursor = hit_tick (own (tool), p) >= 0 ? "pointer" : "default";
}

static void
fair_press (AppTool *tool, const AppPointer *p)
{
  Fair *f = own (tool);
  f->held = hit_tick (f, p);
  f->tick = f->held;
}

static void
fair_drag (AppTool *tool, const AppPointer *p)
{
  Fair *f = own (tool);
  if (f->held < 0 || f->piece == 0)
    return;
  GeoPlace place;
  geo_chain_nearest (&f->was, p->at, &place);
  move_tick (f, f->held, geo_chain_length_to (&f->was, place, 1e-6));
  g_autofree char *words = app_fair_words (tool);
  app_tool_take_tag (tool, *words != '\0' ? g_steal_pointer (&words) : NULL);
}

static void
fair_release (AppTool *tool, const AppPointer *p)
{
  (void)p;
  own (tool)->held = -1;
  app_tool_take_tag (tool, NULL);
}

/* --- keys --------------------------------------------------------------------------- */

static void
end_typing (Fair *f)
{
  if (f->typed != NULL)
    g_string_free (f->typed, TRUE);
  f->typed = NULL;
  app_tool_take_tag (&f->tool, NULL);
}

static void
typing (Fair *f)
{
  double within;
  if (f->typed->len == 0)
    {
      end_typing (f);
      return;
    }
  /* Translators: what is typed follows after the two spaces */
  app_tool_take_tag (&f->tool,
                     g_strdup_printf (_ ("within  %s|"), f->typed->str));
  if (pattern_length_parse (f->typed->str, app_fair_get_unit (&f->tool),
                            &within, NULL))
    app_fair_set_within (&f->tool, within);
}

static gboolean
typing_key (Fair *f, AppKey key)
{
  if (key == APP_KEY_ENTER || key == APP_KEY_ESCAPE || key == APP_KEY_TAB)
    {
      end_typing (f);
      return TRUE;
    }
  if (key != APP_KEY_BACKSPACE)
    return FALSE;
  const char *last
      = g_utf8_find_prev_char (f->typed->str, f->typed->str + f->typed->len);
  g_string_truncate (f->typed,
                     last != NULL ? (gsize)(last - f->typed->str) : 0);
  typing (f);
  return TRUE;
}

static gboolean
fair_type (AppTool *tool, gunichar c)
{
  Fair *f = own (tool);
  if (f->piece == 0 || c == 0 || !g_unichar_isprint (c))
    return FALSE;
  gboolean digit = g_unichar_isdigit (c) || c == '.' || c == ','
                   || g_unichar_type (c) == G_UNICODE_OTHER_NUMBER;
  if (f->typed != NULL || digit)
    {
      if (f->typed == NULL)
        f->typed = g_string_new (NULL);
      if (g_utf8_strlen (f->typed->str, -1) < MOST_TYPED)
        g_string_append_unichar (f->typed, c);
      typing (f);
      return TRUE;
    }
  if (g_unichar_tolower (c) == 'l')
    app_fair_set_keep_length (tool, !f->keep);
  else if (g_unichar_tolower (c) == 'c')
    f->comb = !f->comb;
  else
    return FALSE;
  return TRUE;
}

static gboolean
arrow (Fair *f, AppKey key)
{
  double step = f->base->unit == PATTERN_INCH ? 25.4 / 32 : 0.5;
  double along = pattern_length_step (f->base->unit) * 5;
  if (key == APP_KEY_UP)
    app_fair_set_within (&f->tool, f->within + step);
  else if (key == APP_KEY_DOWN)
    app_fair_set_within (&f->tool, fmax (f->within - step, step / 5));
  else if (f->tick >= 0)
    move_tick (f, f->tick,
               (f->tick == 0 ? f->from : f->to)
                   + (key == APP_KEY_LEFT ? -along : along));
  return TRUE;
}

static gboolean
fair_key (AppTool *tool, AppKey key)
{
  Fair *f = own (tool);
  follow_session (f);
  if (f->piece == 0)
    return FALSE;
  if (f->typed != NULL)
    return typing_key (f, key);
  switch (key)
    {
    case APP_KEY_ESCAPE:
      app_fair_leave (tool);
      return TRUE;
    case APP_KEY_ENTER:
      app_fair_do (tool);
      return TRUE;
    case APP_KEY_TAB:
      f->tick = f->tick == 0 ? 1 : 0;
      return TRUE;
    case APP_KEY_LEFT:
    case APP_KEY_RIGHT:
    case APP_KEY_UP:
    case APP_KEY_DOWN:
      return arrow (f, key);
    case APP_KEY_BACKSPACE:
    case APP_KEY_SPACE:
    default:
      return key == APP_KEY_BACKSPACE;
    }
}

static const char *
fair_hint (const AppTool *tool)
{
  const Fair *f = own (tool);
  follow_session (own (tool));
  if (f->typed != NULL)
    return _ ("Type how far the edge may move, then Enter.");
  if (f->tick >= 0)
    return _ ("Left and Right move the tick; the edge is evened out between "
              "the two.");
  if (f->trouble != NULL)
    return _ ("Up and Down change how far it may move; Escape leaves.");
  return _ ("Dotted is the edge as it was. Enter makes it so; drag a tick for "
            "a part of it.");
}

/* --- painting ------------------------------------------------------------------------- */

/* The edge as it is shown. */
static void
shown_chain (const Fair *f, GeoChain *chain)
{
  const PatternPiece *piece
      = pattern_get_piece (app_session_get_shown (f->tool.session), f->piece);
  int edge = piece != NULL ? pattern_piece_find_edge (piece, f->edge) : -1;
  if (edge >= 0)
    pattern_piece_edge_chain (piece, (guint)edge, chain);
}

static void
paint_tick (const Fair *f, cairo_t *cr, const DrawingStyle *style, double px,
            int tick)
{
  GeoPoint across, at = tick_at (f, tick, &across);
  GeoPoint a = geo_along (at, across, TICK_PX * px);
  GeoPoint b = geo_along (at, across, -TICK_PX * px);
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
  app_tool_stroke (cr, style, px, f->tick == tick ? 4 : 2.4);
}

static void
fair_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
            double px)
{
  const Fair *f = own (tool);
  if (f->piece == 0)
    return;
  gboolean dark = style->ink.r + style->ink.g + style->ink.b > 1.5;
  const AppPalette *colours = app_palette (dark);
  GeoChain now = GEO_CHAIN_EMPTY;
  shown_chain (f, &now);
  gboolean changed = app_fair_is_changed (tool);
  double scale = app_comb_scale (&f->was, 1, APP_COMB_PX * px);
  if (f->comb && changed)
    app_comb_paint (cr, &f->was, scale, px, colours->tag_faint, TRUE);
  if (f->comb)
    app_comb_paint (cr, &now, scale, px, style->shaping, FALSE);
  if (changed)
    {
      double dots[] = { 3 * px, 4 * px };
      cairo_new_path (cr);
      drawing_path_chain (cr, &f->was);
      cairo_set_dash (cr, dots, 2, 0);
      app_colour (cr, colours->tag_faint);
      cairo_set_line_width (cr, 1.6 * px);
      cairo_stroke (cr);
      cairo_set_dash (cr, NULL, 0, 0);
    }
  for (int i = 0; i < 2; i++)
    paint_tick (f, cr, style, px, i);
  geo_chain_clear (&now);
}

static GeoBox
fair_paint_box (const AppTool *tool)
{
  const Fair *f = own (tool);
  if (f->piece == 0)
    return geo_box_empty ();
  GeoChain now = GEO_CHAIN_EMPTY;
  shown_chain (f, &now);
  GeoBox box = geo_chain_bounds (&f->was);
  if (now.count > 0)
    box = geo_box_join (box, geo_chain_bounds (&now));
  geo_chain_clear (&now);
  /* Teeth stand out by pixels; the view's scale is not known here. */
  double size = fmax (geo_box_width (box), geo_box_height (box));
  return geo_box_grow (box, 100 + 2 * size);
}

static void
fair_start (AppTool *tool)
{
  own (tool)->held = own (tool)->tick = -1;
}

static void
fair_clear (AppTool *tool)
{
  close_all (own (tool));
}

static gboolean
fair_is_busy (const AppTool *tool)
{
  return own (tool)->piece != 0;
}

const AppToolClass app_tool_fair = {
  .kind = APP_TOOL_FAIR,
  .size = sizeof (Fair),
  .cursor = "default",
  .start = fair_start,
  .clear = fair_clear,
  .hint = fair_hint,
  .hover = fair_hover,
  .press = fair_press,
  .drag = fair_drag,
  .release = fair_release,
  .key = fair_key,
  .type = fair_type,
  .paint = fair_paint,
  .paint_box = fair_paint_box,
  .is_busy = fair_is_busy,
};
