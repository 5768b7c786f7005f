/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/tool-follow.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/tool-private.h"
#include "drafting/guides.h"
#include "geometry/length.h"

/* Allowance every edge of a new piece starts with, mm. */
static const double first_allowance = 10;
/* Places nearer to each other than this are one, mm. */
static const double apart = 0.05;

typedef struct
{
  GeoPoint at;
  gboolean corner, snapped;
} Place;

typedef struct
{
  AppTool tool;
  GArray *places;
  Place next;      /* where a click would put one */
  gboolean hovers; /* the pointer is over the table */
  gboolean closes; /* ... and over the first place */
} Follow;

/* --- snapping ---------------------------------------------------------------------- */

typedef struct
{
  AppFollowSnap snap;
  gpointer data;
  GDestroyNotify free_data;
} Snapper;

static void
snapper_free (gpointer data)
{
  Snapper *own = data;
  if (own->free_data)
    own->free_data (own->data);
  g_free (own);
}

void
app_follow_set_snap (AppSession *session, AppFollowSnap snap, gpointer data,
                     GDestroyNotify free_data)
{
  g_return_if_fail (APP_IS_SESSION (session));
  Snapper *own = g_new (Snapper, 1);
  *own = (Snapper){ snap, data, free_data };
  g_object_set_data_full (G_OBJECT (session), "follow-snap", own, snapper_free);
}

static Place *
nth (const Follow *f, guint i)
{
  return &g_array_index (f->places, Place, i);
}

static guint
count (const Follow *f)
{
  return f->places->len;
}

static Place
place_at (Follow *f, const AppPointer *p)
{
  Place place = { p->at, FALSE, FALSE };
  Snapper *own = g_object_get_data (G_OBJECT (f->tool.session), "follow-snap");
  if (!own || !own->snap || (p->mods & APP_MOD_CTRL))
    return place;
  place.snapped = own->snap (f->tool.session, p->at, app_pointer_reach (p),
                             &place.at, own->data);
  if (!place.snapped)
    place.at = p->at;
  return place;
}

/* --- the curve -------------------------------------------------------------------------- */

/* From place first to place last, counted on past the end round the outline; in between all are smooth. */
static void
append_section (const Follow *f, guint first, guint last, const Place *extra,
                GeoChain *chain)
{
  guint n = count (f);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (GeoPoint));
  for (guint i = first; i <= last; i++)
    g_array_append_val (points, nth (f, i % n)->at);
  if (extra)
    g_array_append_val (points, extra->at);
  drafting_curve_through ((const GeoPoint *)(gpointer)points->data, points->len,
                          chain);
}

/* All that is clicked, and the pointer's place after it. */
static void
open_curve (const Follow *f, const Place *extra, GeoChain *chain)
{
  guint n = count (f), first = 0;
  for (guint i = 1; i < n; i++)
    if (nth (f, i)->corner && i + 1 < n)
      {
        append_section (f, first, i, NULL, chain);
        first = i;
      }
  if (n > 0 && nth (f, n - 1)->corner && n > 1 && extra)
    {
      append_section (f, first, n - 1, NULL, chain);
      first = n - 1;
    }
  if (n > 0)
    append_section (f, first, n - 1, extra, chain);
}

/* Smooth all round: laid once more past both ends of the seam, so that both sides of it see the same
 * neighbours. */
static void
round_curve (const Follow *f, GeoChain *chain)
{
  guint n = count (f), more = MIN (n, 3);
  GeoChain wide = GEO_CHAIN_EMPTY;
  append_section (f, n - more, n + n + more, NULL, &wide);
  for (guint i = 0; i < n && more + i < wide.count; i++)
    geo_chain_append (chain, wide.cubics[more + i]);
  geo_chain_clear (&wide);
  if (chain->count == 0)
    return;
  GeoCubic *last = &chain->cubics[chain->count - 1];
  GeoCubic *first = &chain->cubics[0];
  last->p[3] = first->p[0];
  GeoPoint way
      = geo_unit (geo_add (geo_unit (geo_sub (first->p[1], first->p[0])),
                           geo_unit (geo_sub (last->p[3], last->p[2]))));
  double out = geo_distance (first->p[1], first->p[0]);
  double in = geo_distance (last->p[3], last->p[2]);
  first->p[1] = geo_along (first->p[0], way, out);
  last->p[2] = geo_along (last->p[3], way, -in);
}

static void
closed_curve (const Follow *f, GeoChain *chain)
{
  guint n = count (f), start = 0;
  while (start < n && !nth (f, start)->corner)
    start++;
  if (start == n)
    {
      round_curve (f, chain);
      return;
    }
  for (guint from = start, i = start + 1; i <= start + n; i++)
    if (nth (f, i % n)->corner)
      {
        append_section (f, from, i, NULL, chain);
        from = i;
      }
}

/* Nodes of the closed curve: corners where they were made, all else smooth. */
static GArray *
make_nodes (const Follow *f)
{
  GArray *nodes = g_array_new (FALSE, TRUE, sizeof (PatternNode));
  GeoChain chain = GEO_CHAIN_EMPTY;
  closed_curve (f, &chain);
  for (size_t i = 0; i < chain.count; i++)
    {
      PatternNode node = pattern_node_of_chain (&chain, i, TRUE);
      node.kind = PATTERN_NODE_SMOOTH;
      for (guint k = 0; k < count (f); k++)
        if (nth (f, k)->corner
            && geo_distance (nth (f, k)->at, node.at) < apart / 2)
          node.kind = PATTERN_NODE_CORNER;
      g_array_append_val (nodes, node);
    }
  geo_chain_clear (&chain);
  return nodes;
}

/* --- what it says --------------------------------------------------------------------------- */

static const char *
follow_hint (const AppTool *tool)
{
  const Follow *f = (const Follow *)tool;
  if (count (f) == 0)
    return _ ("Click along the line in the picture; a double click, or C "
              "after a click, makes a corner. Ctrl leaves out snapping");
  if (count (f) < 3)
    return _ ("Click on along the line: a curve runs through. C makes the "
              "last place a corner, Backspace takes it back");
  return _ ("Close it: click the first place or press Enter. C makes the last "
            "place a corner, Backspace takes it back, Esc leaves");
}

static void
tell (Follow *f)
{
  if (!f->hovers || count (f) == 0)
    {
      app_tool_take_tag (&f->tool, f->hovers && f->next.snapped
                                       ? g_strdup (_ ("on the picture's line"))
                                       : NULL);
      return;
    }
  GeoChain chain = GEO_CHAIN_EMPTY;
  if (f->closes)
    closed_curve (f, &chain);
  else
    open_curve (f, &f->next, &chain);
  PatternUnit unit = app_session_get_shown (f->tool.session)->unit;
  g_autofree char *length
      = pattern_length_format (geo_chain_length (&chain, 1e-3), unit, FALSE);
  geo_chain_clear (&chain);
  const char *why = f->closes         ? _ ("closes it")
                    : f->next.snapped ? _ ("on the picture's line")
                                      : NULL;
  app_tool_take_tag (&f->tool, why ? g_strdup_printf ("%s\n%s", length, why)
                                   : g_strdup (length));
}

/* --- doing ------------------------------------------------------------------------------------ */

static void
begin_anew (Follow *f)
{
  g_array_set_size (f->places, 0);
  f->closes = FALSE;
  app_tool_take_tag (&f->tool, NULL);
}

static char *
new_name (const Pattern *p)
{
  for (guint i = p->n_pieces + 1;; i++)
    {
      g_autofree char *name = g_strdup_printf (_ ("Piece %u"), i);
      gboolean taken = FALSE;
      for (guint k = 0; k < p->n_pieces; k++)
        taken |= g_ascii_strcasecmp (p->pieces[k]->name, name) == 0;
      if (!taken)
        return g_steal_pointer (&name);
    }
}

static void
finish (Follow *f)
{
  AppSession *s = f->tool.session;
  if (count (f) < 3)
    {
      g_signal_emit_by_name (s, "problem",
                             _ ("An outline needs three places at least."));
      return;
    }
  const Pattern *p = app_session_get_pattern (s);
  GError *error = NULL;
  guint piece = 0;
  g_autofree char *name = new_name (p);
  g_autoptr (GArray) nodes = make_nodes (f);
  Pattern *result = drafting_add_piece_nodes (
      p, name, (const PatternNode *)(gpointer)nodes->data, nodes->len,
      first_allowance, &piece, &error);
  /* What was clicked stays to be mended where it can't be made a piece of. */
  if (!app_session_do (s, _ ("draw over the picture"), NULL, result, &error))
    return;
  begin_anew (f);
  app_session_pick_piece (s, piece, FALSE);
  f->tool.done = TRUE;
}

/* --- pointer and keys ----------------------------------------------------------------------- */

static gboolean
over_first (const Follow *f, const AppPointer *p)
{
  return count (f) >= 3
         && geo_distance (nth (f, 0)->at, p->at) <= app_pointer_reach (p);
}

static void
follow_hover (AppTool *tool, const AppPointer *p)
{
  Follow *f = (Follow *)tool;
  f->hovers = TRUE;
  f->closes = over_first (f, p);
  f->next = f->closes ? *nth (f, 0) : place_at (f, p);
  tell (f);
}

static void
follow_press (AppTool *tool, const AppPointer *p)
{
  Follow *f = (Follow *)tool;
  follow_hover (tool, p);
  if (p->presses == 2 && count (f) > 0)
    nth (f, count (f) - 1)->corner = TRUE;
  else if (f->closes)
    finish (f);
  else if (count (f) == 0
           || geo_distance (nth (f, count (f) - 1)->at, f->next.at) > apart)
    g_array_append_val (f->places, f->next);
  if (!tool->done)
    tell (f);
}

static gboolean
follow_key (AppTool *tool, AppKey key)
{
  Follow *f = (Follow *)tool;
  if (count (f) == 0)
    return FALSE;
  if (key == APP_KEY_ESCAPE)
    begin_anew (f);
  else if (key == APP_KEY_ENTER)
    finish (f);
  else if (key == APP_KEY_BACKSPACE)
    {
      g_array_set_size (f->places, count (f) - 1);
      tell (f);
    }
  else
    return FALSE;
  return TRUE;
}

static gboolean
follow_type (AppTool *tool, gunichar c)
{
  Follow *f = (Follow *)tool;
  if (count (f) == 0 || (c != 'c' && c != 'C'))
    return FALSE;
  Place *last = nth (f, count (f) - 1);
  last->corner = !last->corner;
  tell (f);
  return TRUE;
}

static void
follow_leave (AppTool *tool)
{
  Follow *f = (Follow *)tool;
  f->hovers = f->closes = FALSE;
  app_tool_take_tag (tool, NULL);
}

static void
follow_start (AppTool *tool)
{
  ((Follow *)tool)->places = g_array_new (FALSE, TRUE, sizeof (Place));
}

static void
follow_clear (AppTool *tool)
{
  g_array_unref (((Follow *)tool)->places);
}

static gboolean
follow_is_busy (const AppTool *tool)
{
  return count ((const Follow *)tool) > 0;
}

guint
app_follow_count (const AppTool *tool, guint *corners)
{
  g_return_val_if_fail (app_tool_get_kind (tool) == APP_TOOL_FOLLOW, 0);
  const Follow *f = (const Follow *)tool;
  guint n = 0;
  for (guint i = 0; i < count (f); i++)
    n += nth (f, i)->corner;
  if (corners)
    *corners = n;
  return count (f);
}

/* --- painting ----------------------------------------------------------------------------------- */

static void
stroke_chain (cairo_t *cr, const DrawingStyle *style, const GeoChain *chain,
              double mm_per_px, double width_px)
{
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoPoint *q = chain->cubics[i].p;
      if (i == 0)
        cairo_move_to (cr, q[0].x, q[0].y);
      cairo_curve_to (cr, q[1].x, q[1].y, q[2].x, q[2].y, q[3].x, q[3].y);
    }
  if (chain->count > 0)
    app_tool_stroke (cr, style, mm_per_px, width_px);
}

static void
square (cairo_t *cr, const DrawingStyle *style, GeoPoint at, double mm_per_px)
{
  double r = 4.5 * mm_per_px;
  cairo_rectangle (cr, at.x - r, at.y - r, 2 * r, 2 * r);
  cairo_set_source_rgba (cr, style->lit.r, style->lit.g, style->lit.b,
                         style->lit.a);
  cairo_fill (cr);
}

static void
follow_paint (const AppTool *tool, cairo_t *cr, const DrawingStyle *style,
              double mm_per_px)
{
  const Follow *f = (const Follow *)tool;
  GeoChain chain = GEO_CHAIN_EMPTY;
  if (f->closes)
    closed_curve (f, &chain);
  else
    open_curve (f, f->hovers ? &f->next : NULL, &chain);
  stroke_chain (cr, style, &chain, mm_per_px, 2);
  geo_chain_clear (&chain);
  for (guint i = 0; i < count (f); i++)
    if (nth (f, i)->corner)
      square (cr, style, nth (f, i)->at, mm_per_px);
    else
      app_tool_dot (cr, style, nth (f, i)->at, mm_per_px);
  if (f->hovers && (f->next.snapped || f->closes))
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, f->next.at.x, f->next.at.y, 8 * mm_per_px, 0, 2 * G_PI);
      app_tool_stroke (cr, style, mm_per_px, 1.5);
    }
}

static GeoBox
follow_paint_box (const AppTool *tool)
{
  const Follow *f = (const Follow *)tool;
  GeoChain chain = GEO_CHAIN_EMPTY;
  if (f->closes)
    closed_curve (f, &chain);
  else
    open_curve (f, f->hovers ? &f->next : NULL, &chain);
  GeoBox box = geo_chain_bounds (&chain);
  geo_chain_clear (&chain);
  for (guint i = 0; i < count (f); i++)
    box = geo_box_add (box, nth (f, i)->at);
  return f->hovers ? geo_box_add (box, f->next.at) : box;
}

const AppToolClass app_tool_follow = {
  .kind = APP_TOOL_FOLLOW,
  .size = sizeof (Follow),
  .cursor = "crosshair",
  .start = follow_start,
  .hint = follow_hint,
  .clear = follow_clear,
  .hover = follow_hover,
  .press = follow_press,
  .leave = follow_leave,
  .key = follow_key,
  .type = follow_type,
  .paint = follow_paint,
  .paint_box = follow_paint_box,
  .is_busy = follow_is_busy,
};
