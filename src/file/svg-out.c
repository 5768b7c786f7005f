/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/svg-out.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "drawing/fit.h"
#include "drawing/paint.h"
#include "file/safe-save.h"
#include "file/xml-guard.h"
#include "sewing/facts.h"

#define MARGIN 10    /* mm about everything */
#define MARK 6       /* length of a mark where no allowance gives it, mm */
#define WORDS 6      /* height of a capital, mm */
#define CAPITAL 0.72 /* of the font size: usual for sans faces */
#define APART 3      /* strokes of one notch, mm */

typedef struct
{
  GString *out;
  SewingFacts *facts;
  const Pattern *pattern;
} Writer;

/* To a millionth of a millimetre, without trailing zeros. */
static void
put_number (GString *out, double number)
{
  char text[64];
  g_ascii_formatd (text, sizeof text, "%.6f", number);
  char *end = text + strlen (text);
  while (end[-1] == '0')
    *--end = '\0';
  if (end[-1] == '.')
    *--end = '\0';
  g_string_append (out, strcmp (text, "-0") == 0 ? "0" : text);
}

static void
put_point (GString *out, char command, GeoPoint p)
{
  if (command != '\0')
    g_string_append_c (out, command);
  put_number (out, p.x);
  g_string_append_c (out, ' ');
  put_number (out, p.y);
}

/* Walked evenly from end to end, so that it reads back as the same curve. */
static gboolean
is_line (const GeoCubic *c)
{
  GeoCubic line = geo_cubic_line (c->p[0], c->p[3]);
  return geo_distance (line.p[1], c->p[1]) < 1e-7
         && geo_distance (line.p[2], c->p[2]) < 1e-7;
}

static void
put_chain (GString *out, const GeoChain *chain)
{
  if (chain->count == 0)
    return;
  put_point (out, 'M', geo_chain_start (chain));
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      if (is_line (c))
        {
          put_point (out, 'L', c->p[3]);
          continue;
        }
      put_point (out, 'C', c->p[1]);
      g_string_append_c (out, ' ');
      put_point (out, '\0', c->p[2]);
      g_string_append_c (out, ' ');
      put_point (out, '\0', c->p[3]);
    }
  if (geo_chain_is_closed (chain))
    g_string_append_c (out, 'Z');
}

static void
put_path (Writer *w, const GeoChain *chain)
{
  if (chain->count == 0)
    return;
  g_string_append (w->out, "   <path d=\"");
  put_chain (w->out, chain);
  g_string_append (w->out, "\"/>\n");
}

static void
put_stroke (Writer *w, GeoPoint from, GeoPoint to)
{
  g_string_append (w->out, "   <path d=\"");
  put_point (w->out, 'M', from);
  put_point (w->out, 'L', to);
  g_string_append (w->out, "\"/>\n");
}

/* A group of the piece, as "piece-12-grain", and what it is to a person. */
static void
open_part (Writer *w, const PatternPiece *piece, const char *part,
           const char *title, const char *look)
{
  g_string_append_printf (w->out, "  <g id=\"piece-%u-%s\" %s>\n   <title>",
                          piece->id, part, look);
  file_xml_append (w->out, piece->name, FALSE);
  g_string_append (w->out, *piece->name != '\0' ? ", " : "");
  file_xml_append (w->out, title, FALSE);
  g_string_append (w->out, "</title>\n");
}

static void
close_part (Writer *w)
{
  g_string_append (w->out, "  </g>\n");
}

#define LOOK_CUTTING "fill=\"none\" stroke=\"#000\" stroke-width=\"0.5\""
#define LOOK_STITCH                                                            \
  "fill=\"none\" stroke=\"#000\" stroke-width=\"0.4\" "                        \
  "stroke-dasharray=\"4 2\""
#define LOOK_FOLD                                                              \
  "fill=\"none\" stroke=\"#000\" stroke-width=\"0.4\" "                        \
  "stroke-dasharray=\"8 2 1 2\""
#define LOOK_MARK "fill=\"none\" stroke=\"#000\" stroke-width=\"0.4\""
#define LOOK_FAINT "fill=\"none\" stroke=\"#595959\" stroke-width=\"0.35\""
#define LOOK_LINES                                                             \
  "fill=\"none\" stroke=\"#595959\" stroke-width=\"0.4\" "                     \
  "stroke-dasharray=\"8 2 1 2\""
#define LOOK_WORDS "fill=\"#000\" stroke=\"none\" font-family=\"sans-serif\""

/* --- the parts of a piece --------------------------------------------------- */
static void
write_stitch (Writer *w, const PatternPiece *piece)
{
  GeoChain outline = GEO_CHAIN_EMPTY;
  pattern_piece_outline (piece, &outline);
  open_part (w, piece, "stitch", _ ("stitch line"), LOOK_STITCH);
  put_path (w, &outline);
  close_part (w);
  geo_chain_clear (&outline);
}

static void
write_cutting (Writer *w, const SewingPiece *known)
{
  if (known->ring.outline.count == 0)
    return;
  open_part (w, known->piece, "cutting", _ ("cutting line"), LOOK_CUTTING);
  put_path (w, &known->ring.outline);
  for (size_t i = 0; i < known->ring.island_count; i++)
    put_path (w, &known->ring.islands[i]);
  close_part (w);
}

static void
write_folds (Writer *w, const SewingPiece *known)
{
  if (!pattern_piece_on_fold (known->piece))
    return;
  open_part (w, known->piece, "fold", _ ("place on the fold"), LOOK_FOLD);
  for (guint i = 0; i < known->piece->n_edges; i++)
    if (known->piece->edges[i].kind == PATTERN_EDGE_FOLD)
      put_path (w, &known->stitch[i]);
  close_part (w);
}

/* A point of an edge and which way is out. */
static GeoPoint
on_edge (const SewingPiece *known, guint edge, double at, GeoPoint *along,
         GeoPoint *outward)
{
  GeoPlace place = geo_ruler_place (&known->rulers[edge], at);
  *along = geo_chain_tangent (&known->stitch[edge], place);
  *outward = geo_scale (geo_left (*along), -1);
  return geo_chain_point (&known->stitch[edge], place);
}

static void
write_notch (Writer *w, const SewingPiece *known, const PatternNotch *notch)
{
  int edge = pattern_piece_find_edge (known->piece, notch->edge);
  if (edge < 0 || known->stitch[edge].count == 0)
    return;
  double length = known->lengths[edge];
  double width = pattern_edge_width (&known->piece->edges[edge]);
  double middle = pattern_notch_place (notch, length);
  int count = CLAMP (notch->count, 1, 3);
  for (int i = 0; i < count; i++)
    {
      GeoPoint along, outward;
      double at = CLAMP (middle + (i - (count - 1) / 2.0) * APART, 0, length);
      GeoPoint p = on_edge (known, (guint)edge, at, &along, &outward);
      put_stroke (w, p, geo_along (p, outward, width > 0 ? width : -MARK));
    }
}

static void
write_notches (Writer *w, const SewingPiece *known)
{
  const PatternPiece *piece = known->piece;
  if (piece->n_notches == 0)
    return;
  open_part (w, piece, "notches", _ ("notches"), LOOK_MARK);
  for (guint i = 0; i < piece->n_notches; i++)
    write_notch (w, known, &piece->notches[i]);
  close_part (w);
}

static void
write_clip (Writer *w, const SewingPiece *known, guint edge, const GeoCut *cut)
{
  double width = pattern_edge_width (&known->piece->edges[edge]);
  GeoPoint along, outward;
  GeoPoint p = on_edge (known, edge, cut->at, &along, &outward);
  GeoPoint mouth = geo_along (p, outward, width);
  GeoPoint point = geo_along (p, outward, width - cut->depth);
  if (cut->kind == GEO_CUT_SLIT)
    {
      put_stroke (w, mouth, point);
      return;
    }
  GeoChain wedge = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&wedge, geo_along (mouth, along, -cut->mouth / 2),
                         point);
  geo_chain_append_line (&wedge, point,
                         geo_along (mouth, along, cut->mouth / 2));
  put_path (w, &wedge);
  geo_chain_clear (&wedge);
}

static void
write_clips (Writer *w, const SewingPiece *known)
{
  const PatternPiece *piece = known->piece;
  gboolean opened = FALSE;
  for (guint e = 0; e < piece->n_edges; e++)
    {
      const GeoClipPlan *plan = sewing_facts_clips (
          w->facts, w->pattern, piece->id, piece->edges[e].id);
      for (size_t i = 0; plan != NULL && i < plan->count; i++)
        {
          if (!opened)
            open_part (w, piece, "clips", _ ("clips, after sewing"),
                       LOOK_FAINT);
          opened = TRUE;
          write_clip (w, known, e, &plan->cuts[i]);
        }
    }
  if (opened)
    close_part (w);
}

static void
write_arrow_head (Writer *w, GeoPoint tip, GeoPoint towards, double length)
{
  GeoPoint back = geo_along (tip, towards, -length);
  GeoPoint side = geo_scale (geo_left (towards), length * 0.3);
  GeoChain head = GEO_CHAIN_EMPTY;
  geo_chain_append_line (&head, geo_add (back, side), tip);
  geo_chain_append_line (&head, tip, geo_sub (back, side));
  put_path (w, &head);
  geo_chain_clear (&head);
}

static void
write_grain (Writer *w, const PatternPiece *piece)
{
  double length = geo_distance (piece->grain_from, piece->grain_to);
  if (!piece->has_grain || !(length > 0))
    return;
  GeoPoint along = geo_unit (geo_sub (piece->grain_to, piece->grain_from));
  double head = fmin (WORDS, length / 4);
  open_part (w, piece, "grain", _ ("grainline"), LOOK_MARK);
  put_stroke (w, piece->grain_from, piece->grain_to);
  write_arrow_head (w, piece->grain_to, along, head);
  if (piece->grain_both_ways)
    write_arrow_head (w, piece->grain_from, geo_scale (along, -1), head);
  close_part (w);
}

static void
write_buttonhole (Writer *w, const PatternButtonhole *hole)
{
  GeoPoint along = { cos (hole->angle), sin (hole->angle) };
  GeoPoint side
      = geo_scale (geo_left (along), fmin (MARK, hole->length * 0.5) / 2);
  GeoPoint end = geo_along (hole->at, along, hole->length);
  put_stroke (w, hole->at, end);
  put_stroke (w, geo_add (hole->at, side), geo_sub (hole->at, side));
  put_stroke (w, geo_add (end, side), geo_sub (end, side));
}

static void
write_drill (Writer *w, GeoPoint at)
{
  double reach = 2.5;
  put_stroke (w, geo_point (at.x - reach, at.y),
              geo_point (at.x + reach, at.y));
  put_stroke (w, geo_point (at.x, at.y - reach),
              geo_point (at.x, at.y + reach));
}

static void
write_marks (Writer *w, const PatternPiece *piece)
{
  if (piece->n_buttonholes + piece->n_drills > 0)
    {
      open_part (w, piece, "marks", _ ("buttonholes and drill marks"),
                 LOOK_MARK);
      for (guint i = 0; i < piece->n_buttonholes; i++)
        write_buttonhole (w, &piece->buttonholes[i]);
      for (guint i = 0; i < piece->n_drills; i++)
        write_drill (w, piece->drills[i].at);
      close_part (w);
    }
  if (piece->n_lines == 0)
    return;
  open_part (w, piece, "lines", _ ("inner lines"), LOOK_LINES);
  for (guint i = 0; i < piece->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_line_chain (&piece->lines[i], &chain);
      put_path (w, &chain);
      geo_chain_clear (&chain);
    }
  close_part (w);
}

/* at: half the height of the capitals, at the start or the middle of the line. */
static void
put_words (Writer *w, const char *text, GeoPoint at, double angle, double size,
           gboolean middle)
{
  GString *out = w->out;
  g_string_append (out, "   <text transform=\"translate(");
  put_number (out, at.x);
  g_string_append_c (out, ' ');
  put_number (out, at.y);
  if (angle != 0)
    {
      g_string_append (out, ") rotate(");
      put_number (out, angle * 180 / G_PI);
    }
  g_string_append (out, ")\" y=\"");
  put_number (out, size / 2);
  g_string_append (out, "\" font-size=\"");
  put_number (out, size / CAPITAL);
  g_string_append (out, middle ? "\" text-anchor=\"middle\">" : "\">");
  file_xml_append (out, text, FALSE);
  g_string_append (out, "</text>\n");
}

/* Lines that words must not cross. */
static GArray *
obstacles (const SewingPiece *known)
{
  const PatternPiece *piece = known->piece;
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (DrawingStretch));
  for (guint i = 0; i < piece->n_edges; i++)
    drawing_fit_add_chain (lines, &known->stitch[i]);
  if (piece->has_grain)
    drawing_fit_add_line (lines, piece->grain_from, piece->grain_to);
  for (guint i = 0; i < piece->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_line_chain (&piece->lines[i], &chain);
      drawing_fit_add_chain (lines, &chain);
      geo_chain_clear (&chain);
    }
  return lines;
}

/* Where about the piece a block of words has most room, and the share of its size that fits
 * there, 1 at most. */
static double
find_room (const SewingPiece *known, double width, double height,
           GeoPoint *middle)
{
  g_autoptr (GArray) lines = obstacles (known);
  guint outline = 0;
  for (guint i = 0; i < known->piece->n_edges; i++)
    {
      g_autoptr (GArray) edge
          = g_array_new (FALSE, FALSE, sizeof (DrawingStretch));
      drawing_fit_add_chain (edge, &known->stitch[i]);
      outline += edge->len;
    }
  double best = 0;
  GeoBox box = known->bounds;
  *middle = known->middle;
  for (int i = 0; i <= 100 && best < 1; i++)
    {
      GeoPoint p = known->middle;
      if (i > 0) /* then over a grid */
        p = geo_point (box.x0 + (box.x1 - box.x0) * ((i - 1) % 10 + 0.5) / 10,
                       box.y0 + (box.y1 - box.y0) * ((i - 1) / 10 + 0.5) / 10);
      if (!drawing_fit_inside (lines, outline, p))
        continue;
      double share = fmin (1, drawing_fit_share (lines, p, 0, width, height));
      if (share > best)
        {
          best = share;
          *middle = p;
        }
    }
  return best;
}

#define LEAST_WORDS 0.25 /* of the usual size; smaller ones can't be read */

static void
write_name (Writer *w, const SewingPiece *known)
{
  g_autofree char *cut = drawing_cut_words (w->pattern, known->piece);
  g_auto (GStrv) lines = g_strsplit (cut != NULL ? cut : "", "\n", -1);
  guint n = g_strv_length (lines);
  /* letters of a sans face are 0.8 of a capital wide, taken together */
  double width = (double)g_utf8_strlen (known->piece->name, -1) * WORDS * 0.8;
  for (guint i = 0; i < n; i++)
    width = fmax (width, (double)g_utf8_strlen (lines[i], -1) * WORDS * 0.48);
  double height = WORDS * (1 + 1.4 * n);
  GeoPoint at;
  double size = WORDS * find_room (known, width + 4, height + 4, &at);
  if (size < WORDS * LEAST_WORDS)
    return;
  at.y -= size * 0.7 * n;
  if (*known->piece->name != '\0')
    put_words (w, known->piece->name, at, 0, size, TRUE);
  for (guint i = 0; i < n; i++)
    {
      at.y += size * 1.4;
      if (*lines[i] != '\0')
        put_words (w, lines[i], at, 0, size * 0.6, TRUE);
    }
}

static void
write_words (Writer *w, const SewingPiece *known)
{
  const PatternPiece *piece = known->piece;
  open_part (w, piece, "words", _ ("words"), LOOK_WORDS);
  write_name (w, known);
  for (guint i = 0; i < piece->n_texts; i++)
    put_words (w, piece->texts[i].text, piece->texts[i].at,
               piece->texts[i].angle, piece->texts[i].size, FALSE);
  close_part (w);
}

static void
write_piece (Writer *w, const PatternPiece *piece)
{
  const SewingPiece *known = sewing_facts_piece (w->facts, piece);
  g_string_append_printf (w->out, " <g id=\"piece-%u\">\n  <title>", piece->id);
  file_xml_append (w->out, piece->name, FALSE);
  g_string_append (w->out, "</title>\n");
  write_stitch (w, piece);
  if (known != NULL)
    {
      write_cutting (w, known);
      write_folds (w, known);
      write_notches (w, known);
      write_clips (w, known);
    }
  write_grain (w, piece);
  write_marks (w, piece);
  if (known != NULL)
    write_words (w, known);
  g_string_append (w->out, " </g>\n");
}

/* --- the page ------------------------------------------------------------------ */
/* Whole millimetres about everything. */
static GeoBox
page_box (Writer *w)
{
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < w->pattern->n_pieces; i++)
    {
      const SewingPiece *known
          = sewing_facts_piece (w->facts, w->pattern->pieces[i]);
      if (known != NULL)
        box = geo_box_join (box, known->bounds);
    }
  for (guint i = 0; i < w->pattern->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_line_chain (&w->pattern->lines[i], &chain);
      box = geo_box_join (box, geo_chain_bounds (&chain));
      geo_chain_clear (&chain);
    }
  if (geo_box_is_empty (box))
    return (GeoBox){ 0, 0, 100, 100 };
  return (GeoBox){ floor (box.x0) - MARGIN, floor (box.y0) - MARGIN,
                   ceil (box.x1) + MARGIN, ceil (box.y1) + MARGIN };
}

static void
write_head (Writer *w)
{
  GeoBox box = page_box (w);
  g_string_append_printf (
      w->out,
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.0fmm\" "
      "height=\"%.0fmm\" viewBox=\"%.0f %.0f %.0f %.0f\">\n <title>",
      box.x1 - box.x0, box.y1 - box.y0, box.x0, box.y0, box.x1 - box.x0,
      box.y1 - box.y0);
  file_xml_append (w->out, w->pattern->name, FALSE);
  g_string_append (w->out, "</title>\n");
}

static void
write_lines (Writer *w)
{
  if (w->pattern->n_lines == 0)
    return;
  g_string_append (w->out, " <g id=\"lines\" " LOOK_LINES ">\n  <title>");
  file_xml_append (w->out, _ ("construction lines"), FALSE);
  g_string_append (w->out, "</title>\n");
  for (guint i = 0; i < w->pattern->n_lines; i++)
    {
      GeoChain chain = GEO_CHAIN_EMPTY;
      pattern_line_chain (&w->pattern->lines[i], &chain);
      put_path (w, &chain);
      geo_chain_clear (&chain);
    }
  g_string_append (w->out, " </g>\n");
}

char *
file_svg_write (const Pattern *pattern, gsize *length)
{
  g_return_val_if_fail (pattern != NULL, NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  Writer w = { g_string_new (NULL), facts, pattern };
  write_head (&w);
  for (guint i = 0; i < pattern->n_pieces; i++)
    write_piece (&w, pattern->pieces[i]);
  write_lines (&w);
  g_string_append (w.out, "</svg>\n");
  if (length != NULL)
    *length = w.out->len;
  return g_string_free (w.out, FALSE);
}

gboolean
file_svg_save (const Pattern *pattern, const char *path, GError **error)
{
  g_return_val_if_fail (pattern != NULL && path != NULL, FALSE);
  gsize length = 0;
  g_autofree char *text = file_svg_write (pattern, &length);
  return file_safe_save (path, text, length, FALSE, error);
}
