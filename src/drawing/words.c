/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing/parts.h"

#include <glib/gi18n.h>
#include <string.h>

#include "drawing/fit.h"
#include "drawing/text.h"

/* --- what is cut ----------------------------------------------------------- */

static char *
cut_line (const Pattern *pattern, const PatternPiece *piece,
          const PatternCut *cut)
{
  const PatternCloth *cloth = pattern_get_cloth (pattern, cut->cloth);
  const char *in = cloth ? cloth->name : _ ("no cloth");
  if (pattern_piece_on_fold (piece))
    return g_strdup_printf (_ ("Cut %d on the fold in %s"), cut->count, in);
  if (!cut->mirrored || cut->count < 2)
    return g_strdup_printf (_ ("Cut %d in %s"), cut->count, in);
  int pairs = cut->count / 2;
  if (cut->count % 2)
    return g_strdup_printf (ngettext ("Cut %d (%d pair and one more) in %s",
                                      "Cut %d (%d pairs and one more) in %s",
                                      (gulong)pairs),
                            cut->count, pairs, in);
  return g_strdup_printf (ngettext ("Cut %d (%d pair) in %s",
                                    "Cut %d (%d pairs) in %s", (gulong)pairs),
                          cut->count, pairs, in);
}

char *
drawing_cut_words (const Pattern *pattern, const PatternPiece *piece)
{
  g_return_val_if_fail (pattern != NULL && piece != NULL, NULL);
  GString *words = g_string_new (NULL);
  for (guint i = 0; i < piece->n_cuts; i++)
    {
      g_autofree char *line = cut_line (pattern, piece, &piece->cuts[i]);
      g_string_append_printf (words, "%s%s", i ? "\n" : "", line);
    }
  return g_string_free (words, FALSE);
}

/* --- the name and what goes with it ---------------------------------------- */

typedef struct
{
  char *text;
  double share; /* height of its capitals, of the name's */
  gboolean bold;
  double width; /* at a name of height 1 */
} Line;

static void
line_clear (gpointer data)
{
  g_free (((Line *)data)->text);
}

static void
add_line (GArray *lines, char *text, double share, gboolean bold)
{
  Line line = { text, share, bold, 0 };
  g_array_append_val (lines, line);
}

static guint
number_of (const Pattern *pattern, const PatternPiece *piece)
{
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (pattern->pieces[i]->id == piece->id)
      return i + 1;
  return 0;
}

static GArray *
lines_of (const Pattern *pattern, const PatternPiece *piece,
          const DrawingStyle *style)
{
  GArray *lines = g_array_new (FALSE, TRUE, sizeof (Line));
  g_array_set_clear_func (lines, line_clear);
  if (*piece->name)
    add_line (lines, g_strdup (piece->name), 1, TRUE);
  guint number = number_of (pattern, piece);
  if (number > 0 && style->edge_names && *pattern->name)
    add_line (lines,
              g_strdup_printf (_ ("%s · piece %u of %u"), pattern->name, number,
                               pattern->n_pieces),
              0.6, FALSE);
  else if (number > 0)
    {
      g_autofree char *words = g_strdup_printf (_ ("piece %u"), number);
      g_autofree char *folded = g_utf8_casefold (words, -1);
      g_autofree char *name = g_utf8_casefold (piece->name, -1);
      /* A piece that was given no other name yet. */
      if (strcmp (folded, name) != 0)
        add_line (lines, g_steal_pointer (&words), 0.7, FALSE);
    }
  for (guint i = 0; i < piece->n_cuts; i++)
    add_line (lines, cut_line (pattern, piece, &piece->cuts[i]), 0.7, FALSE);
  if (style->edge_names && piece->n_cuts == 0)
    add_line (lines, g_strdup (_ ("no cut count yet")), 0.7, FALSE);
  if (style->edge_names && !piece->has_grain)
    add_line (lines, g_strdup (_ ("no grainline yet")), 0.7, FALSE);
  return lines;
}

#define LEAST_ON_ONE_SHEET 0.4 /* of the style's capitals */
#define LEADING 0.85           /* between lines, of the lower one's capitals */

static DrawingTextLook
look_of (const Line *line, const DrawingStyle *style, double capital)
{
  DrawingTextLook look
      = { style->font, capital * line->share, 0,
          DRAWING_TEXT_CENTRE | (line->bold ? DRAWING_TEXT_BOLD : 0) };
  return look;
}

/* Size of the first count lines at a name of height 1. */
static void
measure (cairo_t *cr, GArray *lines, guint count, const DrawingStyle *style,
         double *width, double *height)
{
  *width = *height = 0;
  for (guint i = 0; i < count; i++)
    {
      Line *line = &g_array_index (lines, Line, i);
      if (line->width == 0)
        {
          DrawingTextLook look = look_of (line, style, 10);
          drawing_text_size (cr, line->text, &look, &line->width, NULL);
          line->width /= 10;
        }
      *width = fmax (*width, line->width);
      *height += line->share * (i ? 1 + LEADING : 1);
    }
}

static GArray *
obstacles (const SewingPiece *piece, const DrawingStyle *style, guint *outline)
{
  const PatternPiece *p = piece->piece;
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (DrawingStretch));
  for (guint e = 0; e < p->n_edges; e++)
    drawing_fit_add_chain (lines, &piece->stitch[e]);
  *outline = lines->len;
  for (guint e = 0; e < p->n_edges && style->folds; e++)
    if (p->edges[e].kind == PATTERN_EDGE_FOLD && piece->stitch[e].count)
      {
        const GeoChain *c = &piece->stitch[e];
        double reach = drawing_fold_reach (piece, e, style)
                       + (style->words ? style->text * 0.9 : 0);
        GeoPoint in = geo_left (
            geo_unit (geo_sub (geo_chain_end (c), geo_chain_start (c))));
        drawing_fit_add_line (lines, geo_along (geo_chain_start (c), in, reach),
                              geo_along (geo_chain_end (c), in, reach));
      }
  if (style->grain && p->has_grain)
    drawing_fit_add_line (lines, p->grain_from, p->grain_to);
  if (!style->inner)
    return lines;
  for (guint i = 0; i < p->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_line_chain (&p->lines[i], &chain);
      drawing_fit_add_chain (lines, &chain);
      geo_chain_clear (&chain);
    }
  for (guint i = 0; i < p->n_buttonholes; i++)
    {
      const PatternButtonhole *h = &p->buttonholes[i];
      GeoPoint along = { cos (h->angle), sin (h->angle) };
      drawing_fit_add_line (lines, h->at, geo_along (h->at, along, h->length));
    }
  for (guint i = 0; i < p->n_drills; i++)
    drawing_fit_add_line (lines, p->drills[i].at, p->drills[i].at);
  return lines;
}

typedef struct
{
  GeoPoint middle;
  double angle;
  double capital; /* 0: no room */
} Place;

static const double along_grain[] = { 0.5, 0.38, 0.62, 0.25, 0.75 };
#define USUAL_SPOTS (1 + 2 * G_N_ELEMENTS (along_grain))

/* Places to try for a box of a height: the piece's middle; beside the grainline at
 * several heights of it; where the style says. */
static GeoPoint
spot_at (const SewingPiece *piece, const DrawingJoins *joins, guint i,
         double angle, double height)
{
  const PatternPiece *p = piece->piece;
  if (i >= USUAL_SPOTS)
    return joins->spots[i - USUAL_SPOTS];
  if (i == 0)
    return piece->middle;
  GeoPoint from = p->has_grain ? p->grain_from : piece->middle;
  GeoPoint to = p->has_grain ? p->grain_to : piece->middle;
  GeoPoint side = geo_left (geo_point (cos (angle), sin (angle)));
  double away = ((i & 1) ? 1 : -1) * height;
  return geo_along (geo_lerp (from, to, along_grain[(i - 1) / 2]), side, away);
}

/* The largest capitals up to a height at which the box finds room. */
static Place
find_place (const SewingPiece *piece, const DrawingJoins *joins,
            const GArray *lines, guint outline, double angle, double most,
            double least, double width, double height)
{
  guint spots = USUAL_SPOTS + (joins ? joins->n_spots : 0);
  /* Air about the words: half a capital all round. */
  double w = width + 1, h = height + 1;
  for (double capital = most; capital >= least; capital *= 0.84)
    for (guint i = 0; i < spots; i++)
      {
        GeoPoint middle
            = spot_at (piece, joins, i, angle, (h / 2 + 0.4) * capital);
        if (drawing_fit_share (lines, middle, angle, w * capital, h * capital)
                >= 1
            && drawing_fit_inside (lines, outline, middle))
          return (Place){ middle, angle, capital };
      }
  return (Place){ piece->middle, angle, 0 };
}

static double
grain_angle (cairo_t *cr, const PatternPiece *piece)
{
  if (!piece->has_grain || geo_same (piece->grain_from, piece->grain_to))
    return 0;
  GeoPoint d = geo_sub (piece->grain_to, piece->grain_from);
  return drawing_text_upright (cr, atan2 (d.y, d.x));
}

typedef struct
{
  cairo_t *cr;
  const SewingPiece *piece;
  const DrawingStyle *style;
  const DrawingJoins *joins;
  const GArray *blocked;
  guint outline;
  double angle; /* along the grain */
} Room;

/* The first count lines along the grain; across it where that is far larger, as
 * in a collar band; aslant where there is no other room. */
static Place
place_lines (const Room *r, GArray *lines, guint count)
{
  static const double turns[] = { 0.5, 0.25, -0.25 };
  const DrawingStyle *style = r->style;
  double width, height;
  measure (r->cr, lines, count, style, &width, &height);
  double least = style->least / g_array_index (lines, Line, count - 1).share;
  Place best = find_place (r->piece, r->joins, r->blocked, r->outline, r->angle,
                           style->text, least, width, height);
  for (guint i = 0; i < G_N_ELEMENTS (turns); i++)
    if (best.capital == 0 || (i == 0 && best.capital < 0.7 * style->text))
      {
        double angle = drawing_text_upright (r->cr, r->angle + turns[i] * G_PI);
        Place other = find_place (
            r->piece, r->joins, r->blocked, r->outline, angle, style->text,
            fmax (least, 1.3 * best.capital), width, height);
        if (other.capital > 0)
          best = other;
      }
  return best;
}

/* Breaks the first line in two at the space nearest its middle. */
static gboolean
break_name (GArray *lines)
{
  Line *name = &g_array_index (lines, Line, 0);
  size_t length = strlen (name->text), at = 0;
  for (size_t i = 1; i + 1 < length; i++)
    if (name->text[i] == ' '
        && (at == 0 || fabs (i - length / 2.0) < fabs (at - length / 2.0)))
      at = i;
  if (at == 0)
    return FALSE;
  Line rest = { g_strdup (name->text + at + 1), 1, TRUE, 0 };
  name->text[at] = '\0';
  name->width = 0;
  g_array_insert_val (lines, 1, rest);
  return TRUE;
}

/* On one sheet, where joins are known and all lines find room there that is not
 * too small to be read at arm's length. */
static Place
place_on_one_sheet (Room room, GArray *lines)
{
  const DrawingJoins *joins = room.style->joins;
  g_autoptr (GArray) blocked = g_array_copy ((GArray *)room.blocked);
  for (guint i = 0; i < joins->n_lines; i++)
    drawing_fit_add_line (blocked, joins->lines[2 * i],
                          joins->lines[2 * i + 1]);
  room.joins = joins;
  room.blocked = blocked;
  Place place = place_lines (&room, lines, lines->len);
  if (place.capital < LEAST_ON_ONE_SHEET * room.style->text)
    place.capital = 0;
  return place;
}

/* All lines; else the name alone; else the name in two. */
static Place
choose_place (const Room *room, GArray *lines, guint *count)
{
  *count = lines->len;
  if (room->style->joins)
    {
      Place on_one = place_on_one_sheet (*room, lines);
      if (on_one.capital > 0)
        return on_one;
    }
  Place place = place_lines (room, lines, *count);
  if (place.capital == 0 && *count > 1)
    {
      *count = 1;
      place = place_lines (room, lines, 1);
    }
  if (place.capital == 0 && break_name (lines))
    {
      *count = 2;
      place = place_lines (room, lines, 2);
    }
  return place;
}

typedef struct
{
  GArray *lines; /* Line; NULL where there is nothing to say or no room */
  guint count;
  Place place;
  double width, height; /* at a name of height 1 */
} Block;

static void
block_clear (Block *block)
{
  g_clear_pointer (&block->lines, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Block, block_clear)

static Block
lay_block (cairo_t *cr, const Pattern *pattern, const SewingPiece *piece,
           const DrawingStyle *style)
{
  Block block = { 0 };
  /* Far too small to say anything: don't even try. */
  if (geo_box_is_empty (piece->bounds)
      || fmax (piece->bounds.x1 - piece->bounds.x0,
               piece->bounds.y1 - piece->bounds.y0)
             < 3 * style->least)
    return block;
  g_autoptr (GArray) lines = lines_of (pattern, piece->piece, style);
  guint outline;
  g_autoptr (GArray) blocked = obstacles (piece, style, &outline);
  if (lines->len == 0)
    return block;
  Room room = {
    cr, piece, style, NULL, blocked, outline, grain_angle (cr, piece->piece)
  };
  block.place = choose_place (&room, lines, &block.count);
  if (!(block.place.capital > 0))
    return block;
  measure (cr, lines, block.count, style, &block.width, &block.height);
  block.lines = g_steal_pointer (&lines);
  return block;
}

void
drawing_paint_words (cairo_t *cr, const Pattern *pattern,
                     const SewingPiece *piece, const DrawingStyle *style)
{
  g_return_if_fail (cr != NULL && pattern != NULL && piece != NULL
                    && style != NULL);
  g_auto (Block) block = lay_block (cr, pattern, piece, style);
  if (block.lines == NULL)
    return;
  Place place = block.place;
  cairo_save (cr);
  drawing_set_colour (cr, style->ink);
  double y = -block.height / 2 * place.capital;
  GeoPoint down = { -sin (place.angle), cos (place.angle) };
  for (guint i = 0; i < block.count; i++)
    {
      const Line *line = &g_array_index (block.lines, Line, i);
      DrawingTextLook look = look_of (line, style, place.capital);
      if (i)
        y += look.capital * LEADING;
      drawing_text_line (cr, line->text,
                         geo_along (place.middle, down, y + look.capital / 2),
                         place.angle, &look);
      y += look.capital;
    }
  cairo_restore (cr);
}

GeoBox
drawing_words_box (cairo_t *cr, const Pattern *pattern,
                   const SewingPiece *piece, const DrawingStyle *style)
{
  GeoBox box = geo_box_empty ();
  g_return_val_if_fail (
      cr != NULL && pattern != NULL && piece != NULL && style != NULL, box);
  g_auto (Block) block = lay_block (cr, pattern, piece, style);
  if (block.lines == NULL)
    return box;
  double capital = block.place.capital, angle = block.place.angle;
  GeoPoint along = { cos (angle), sin (angle) };
  for (int x = -1; x <= 1; x += 2)
    for (int y = -1; y <= 1; y += 2)
      box = geo_box_add (
          box, geo_along (geo_along (block.place.middle, along,
                                     x * block.width / 2 * capital),
                          geo_left (along), y * block.height / 2 * capital));
  return box;
}

/* --- each edge's own words --------------------------------------------------- */

static char *
edge_words (const Pattern *pattern, const PatternEdge *edge, gboolean name)
{
  g_autofree char *width
      = pattern_length_format (pattern_edge_width (edge), pattern->unit, FALSE);
  const char *amount = edge->kind == PATTERN_EDGE_BOUND ? _ ("bound")
                       : edge->kind == PATTERN_EDGE_RAW ? _ ("left as cut")
                                                        : width;
  if (!name || *edge->name == '\0')
    return g_strdup (amount);
  return g_strdup_printf ("%s · %s", edge->name, amount);
}

/* Nothing else is drawn across the allowance within reach of a length. */
static gboolean
is_clear (const SewingPiece *piece, guint edge, const GeoClipPlan *plan,
          double at, double reach)
{
  const PatternPiece *p = piece->piece;
  for (guint i = 0; i < p->n_notches; i++)
    if (p->notches[i].edge == p->edges[edge].id
        && fabs (pattern_notch_place (&p->notches[i], piece->lengths[edge])
                 - at)
               < reach + 4)
      return FALSE;
  for (size_t i = 0; plan && i < plan->count; i++)
    if (fabs (plan->cuts[i].at - at) < reach + 1)
      return FALSE;
  return TRUE;
}

/* Paints the words at a place of the edge where there is room: in the
 * allowance, or close inside the stitch line. */
static gboolean
try_edge_words (cairo_t *cr, const SewingPiece *piece, guint edge,
                const GeoClipPlan *plan, const char *words, double capital,
                gboolean inside, const DrawingStyle *style)
{
  static const double places[] = { 0.5, 0.36, 0.64, 0.22, 0.78 };
  const GeoChain *line = &piece->stitch[edge];
  double length = piece->lengths[edge], width;
  double band = pattern_edge_width (&piece->piece->edges[edge]);
  DrawingTextLook look = { style->font, capital, 0, DRAWING_TEXT_CENTRE };
  drawing_text_size (cr, words, &look, &width, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      double at = places[i] * length;
      if (at - width / 2 < capital || at + width / 2 > length - capital)
        continue;
      GeoPlace on = geo_ruler_place (&piece->rulers[edge], at);
      GeoPoint p = geo_chain_point (line, on);
      GeoPoint along = geo_chain_tangent (line, on);
      GeoPoint a = geo_chain_point (
          line, geo_ruler_place (&piece->rulers[edge], at - width / 2));
      GeoPoint b = geo_chain_point (
          line, geo_ruler_place (&piece->rulers[edge], at + width / 2));
      GeoPoint in = geo_left (along);
      /* How far the line bends away from the words' ends, inward positive. */
      double bend_a = geo_dot (geo_sub (a, p), in);
      double bend_b = geo_dot (geo_sub (b, p), in);
      double most = fmax (fmax (bend_a, bend_b), 0);
      double bend = fmax (fabs (bend_a), fabs (bend_b));
      double away = inside ? capital * 1.2 + most : -band / 2;
      if (inside ? bend > 4 * capital
                 : bend > (band - capital * 1.6) / 2
                       || !is_clear (piece, edge, plan, at, width / 2))
        continue;
      drawing_text_line (cr, words, geo_along (p, in, away),
                         drawing_text_upright (cr, atan2 (along.y, along.x)),
                         &look);
      return TRUE;
    }
  return FALSE;
}

void
drawing_paint_edge_words (cairo_t *cr, SewingFacts *facts,
                          const Pattern *pattern, const SewingPiece *piece,
                          const DrawingStyle *style)
{
  double capital = style->text * 0.38;
  if (capital < style->least)
    capital = style->least;
  cairo_save (cr);
  drawing_set_colour (cr, style->faint);
  for (guint e = 0; e < piece->piece->n_edges; e++)
    {
      const PatternEdge *edge = &piece->piece->edges[e];
      if (edge->kind == PATTERN_EDGE_FOLD || piece->stitch[e].count == 0)
        continue;
      const GeoClipPlan *plan
          = sewing_facts_clips (facts, pattern, piece->piece->id, edge->id);
      gboolean done = FALSE;
      for (int turn = 0; turn < 4 && !done; turn++)
        {
          gboolean inside = turn & 1;
          g_autofree char *words = edge_words (pattern, edge, turn < 2);
          if (!inside && pattern_edge_width (edge) < capital * 1.7)
            continue;
          done = try_edge_words (cr, piece, e, plan, words, capital, inside,
                                 style);
        }
    }
  cairo_restore (cr);
}
