/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Slash: a line dragged across a piece, as scissors would go. The bar above the table then takes the amounts: to
 * spread the piece there, or, with Alt, to split it in two. */
#include <glib/gi18n.h>

#include "app/draft.h"
#include "app/tool-private.h"
#include "drafting/change.h"

typedef struct
{
  AppTool tool;
  gboolean pressed, drawn;
  GeoPoint press, a, b;
  AppSnap snap;
} Slash;

static const char *
slash_hint (const AppTool *tool)
{
  (void)tool;
  return _ ("Drag a line across a piece to slash and spread it there; with Alt "
            "to split it in two. Shift keeps to right angles, Ctrl leaves out "
            "snapping");
}

static GeoPoint
place (Slash *t, const AppPointer *p, const GeoPoint *anchor)
{
  return app_pointer_snap (t->tool.session, p, anchor, &t->snap);
}

/* The piece the line goes across over the longest stretch; 0 for none. */
static guint
piece_across (const Slash *t, double *length)
{
  const Pattern *p = app_session_get_shown (t->tool.session);
  guint best = 0;
  *length = 0;
  for (guint i = 0; i < p->n_pieces; i++)
    {
      GeoPoint from, to;
      if (drafting_stretch_across (p->pieces[i], t->a, t->b, &from, &to)
          && geo_distance (from, to) > *length)
        {
          *length = geo_distance (from, to);
          best = p->pieces[i]->id;
        }
    }
  return best;
}

static void
tell (Slash *t)
{
  double length;
  guint piece = piece_across (t, &length);
  const Pattern *p = app_session_get_shown (t->tool.session);
  if (piece == 0)
    {
      app_tool_take_tag (&t->tool, g_strdup (_ ("across no piece yet")));
      return;
    }
  g_autofree char *words = pattern_length_format (length, p->unit, FALSE);
  app_tool_take_tag (
      &t->tool, g_strdup_printf (_ ("across %s  %s"),
                                 pattern_get_piece (p, piece)->name, words));
}

static void
slash_press (AppTool *tool, const AppPointer *p)
{
  Slash *t = (Slash *)tool;
  t->pressed = TRUE;
  t->drawn = FALSE;
  t->press = p->at;
  t->a = t->b = place (t, p, NULL);
}

static void
slash_drag (AppTool *tool, const AppPointer *p)
{
  Slash *t = (Slash *)tool;
  if (!t->pressed || (!t->drawn && !app_pointer_dragged (p, t->press)))
    return;
  t->drawn = TRUE;
  t->b = place (t, p, &t->a);
  tell (t);
}

static void
put_away (Slash *t)
{
  t->pressed = t->drawn = FALSE;
  t->snap = (AppSnap){ 0 };
  app_tool_take_tag (&t->tool, NULL);
}

static void
fill (AppDraft *draft, const char *key, const char *text)
{
  const DraftingVerb *verb = app_draft_get_verb (draft);
  for (guint i = 0; i < verb->n_parameters; i++)
    if (g_str_equal (verb->parameters[i].key, key))
      {
        if (text != NULL)
          app_draft_set_text (draft, i, text);
        else
          app_draft_set_active (draft, i);
      }
}

static char *
points_text (GeoPoint a, GeoPoint b)
{
  const double numbers[4] = { a.x, a.y, b.x, b.y };
  char text[4][G_ASCII_DTOSTR_BUF_SIZE];
  for (int i = 0; i < 4; i++)
    g_ascii_formatd (text[i], sizeof text[i], "%.3f", numbers[i]);
  return g_strdup_printf ("%s,%s %s,%s", text[0], text[1], text[2], text[3]);
}

static void
slash_release (AppTool *tool, const AppPointer *p)
{
  Slash *t = (Slash *)tool;
  slash_drag (tool, p);
  double length;
  guint piece = t->drawn ? piece_across (t, &length) : 0;
  gboolean split = (p->mods & APP_MOD_ALT) != 0;
  GeoPoint a = t->a, b = t->b;
  put_away (t);
  if (piece == 0
      || !app_draft_begin (tool->session, split ? "split-piece" : "slash-line"))
    return;
  AppDraft *draft = app_draft_get (tool->session);
  g_autofree char *number = g_strdup_printf ("%u", piece);
  g_autofree char *line = points_text (a, b);
  fill (draft, "piece", number);
  fill (draft, "line", line);
  fill (draft, split ? "name" : "open", NULL);
}

static void
slash_leave (AppTool *tool)
{
  app_tool_take_tag (tool, NULL);
}

static gboolean
slash_key (AppTool *tool, AppKey key)
{
  Slash *t = (Slash *)tool;
  if (key != APP_KEY_ESCAPE || !t->pressed)
    return FALSE;
  put_away (t);
  return TRUE;
}

static void
slash_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
             double mm_per_px)
{
  const Slash *t = (const Slash *)tool;
  if (t->drawn)
    {
      const double dashes[] = { 8 * mm_per_px, 5 * mm_per_px };
      cairo_save (cr);
      cairo_set_dash (cr, dashes, 2, 0);
      cairo_move_to (cr, t->a.x, t->a.y);
      cairo_line_to (cr, t->b.x, t->b.y);
      app_tool_stroke (cr, style, mm_per_px, 2);
      cairo_restore (cr);
    }
  if (t->pressed)
    app_tool_paint_snap (cr, style, &t->snap, mm_per_px);
}

static GeoBox
slash_paint_box (const AppTool *tool)
{
  const Slash *t = (const Slash *)tool;
  GeoBox box = app_snap_box (&t->snap);
  return t->drawn ? geo_box_add (geo_box_add (box, t->a), t->b) : box;
}

static gboolean
slash_is_busy (const AppTool *tool)
{
  return ((const Slash *)tool)->drawn;
}

const AppToolClass app_tool_slash = {
  .kind = APP_TOOL_SLASH,
  .size = sizeof (Slash),
  .cursor = "crosshair",
  .hint = slash_hint,
  .press = slash_press,
  .drag = slash_drag,
  .release = slash_release,
  .leave = slash_leave,
  .key = slash_key,
  .paint = slash_paint,
  .paint_box = slash_paint_box,
  .is_busy = slash_is_busy,
};
