/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A side's line, and what is done along it. */
#include <glib/gi18n.h>

#include "drawing/strip-private.h"
#include "sewing/strain.h"

const SewingPiece *
drawing_strip_piece (const DrawingStrip *s, int side, guint run, guint *edge)
{
  const PatternRun *r = &s->seam->sides[side].runs[run];
  const PatternPiece *piece = pattern_get_piece (s->pattern, r->piece);
  int index = piece != NULL ? pattern_piece_find_edge (piece, r->edge) : -1;
  if (index < 0)
    return NULL;
  *edge = (guint)index;
  return sewing_facts_piece (s->facts, piece);
}

/* --- the bias ------------------------------------------------------------------ */

/* Pairs of lengths along the side between which it runs on the bias; FALSE where the grain of
 * a piece is not known. */
static gboolean
bias_runs (const DrawingStrip *s, int side, GArray *runs)
{
  const PatternSide *from = &s->seam->sides[side];
  for (guint r = 0; r < from->n_runs; r++)
    {
      guint edge, first = runs->len;
      const SewingPiece *piece = drawing_strip_piece (s, side, r, &edge);
      if (piece == NULL || !sewing_bias_runs (piece, edge, runs))
        return FALSE;
      double start = s->known->joints[side][r];
      double end = s->known->joints[side][r + 1];
      for (guint i = first; i < runs->len; i++)
        {
          double *at = &g_array_index (runs, double, i);
          *at = from->runs[r].reversed ? end - *at : start + *at;
        }
      /* Each pair ascending. */
      for (guint i = first; from->runs[r].reversed && i + 1 < runs->len; i += 2)
        {
          double *pair = &g_array_index (runs, double, i);
          double swap = pair[0];
          pair[0] = pair[1];
          pair[1] = swap;
        }
    }
  return TRUE;
}

double
drawing_strip_bias (const DrawingStrip *s, int side)
{
  g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (double));
  double sum = 0;
  if (!bias_runs (s, side, runs))
    return -1;
  for (guint i = 0; i + 1 < runs->len; i += 2)
    sum += g_array_index (runs, double, i + 1)
           - g_array_index (runs, double, i);
  return sum / s->known->lengths[side];
}

/* As a cord laid of two strands: the diagonal is the bias's own sign. */
static void
paint_cord (const DrawingStrip *s, int side, double from, double to)
{
  cairo_t *cr = s->cr;
  double x = drawing_strip_x (s, from), end = drawing_strip_x (s, to);
  double y = s->y[side] - CORD / 2;
  if (end - x < 2)
    return;
  cairo_save (cr);
  cairo_rectangle (cr, x, y, end - x, CORD);
  drawing_set_colour (cr, s->style.paper);
  cairo_fill_preserve (cr);
  drawing_set_colour (cr, s->style.ink);
  cairo_save (cr);
  cairo_clip_preserve (cr);
  cairo_new_path (cr);
  cairo_set_line_width (cr, 2);
  for (double at = floor ((x - CORD) / 6) * 6; at < end; at += 6)
    {
      cairo_move_to (cr, at, y + CORD + 1);
      cairo_line_to (cr, at + CORD + 2, y - 1);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
  cairo_set_line_width (cr, 1);
  cairo_rectangle (cr, x, y + 0.5, end - x, CORD - 1);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
drawing_strip_paint_line (const DrawingStrip *s, int side)
{
  const PatternSide *runs = &s->seam->sides[side];
  cairo_t *cr = s->cr;
  cairo_set_line_width (cr, 2);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  drawing_set_colour (cr, s->style.ink);
  for (guint i = 0; i < runs->n_runs; i++)
    {
      double gap = i > 0 ? 1.5 : 0;
      double from = drawing_strip_x (s, s->known->joints[side][i]) + gap;
      double to = drawing_strip_x (s, s->known->joints[side][i + 1])
                  - (i + 1 < runs->n_runs ? 1.5 : 0);
      cairo_move_to (cr, from, s->y[side]);
      cairo_line_to (cr, fmax (to, from), s->y[side]);
    }
  cairo_stroke (cr);
  g_autoptr (GArray) bias = g_array_new (FALSE, FALSE, sizeof (double));
  if (bias_runs (s, side, bias))
    for (guint i = 0; i + 1 < bias->len; i += 2)
      paint_cord (s, side, g_array_index (bias, double, i),
                  g_array_index (bias, double, i + 1));
  /* The ends, as a tape's. */
  cairo_set_line_width (cr, 2);
  drawing_set_colour (cr, s->style.ink);
  for (int end = 0; end < 2; end++)
    {
      double x = drawing_strip_x (s, end ? s->known->lengths[side] : 0);
      cairo_move_to (cr, x, s->y[side] - 5);
      cairo_line_to (cr, x, s->y[side] + 5);
    }
  cairo_stroke (cr);
}

/* --- clips and wedges ------------------------------------------------------------ */

static void
paint_run_cuts (const DrawingStrip *s, int side, guint i)
{
  const PatternRun *run = &s->seam->sides[side].runs[i];
  const GeoClipPlan *plan
      = sewing_facts_clips (s->facts, s->pattern, run->piece, run->edge);
  if (plan == NULL)
    return;
  double from = s->known->joints[side][i], to = s->known->joints[side][i + 1];
  double near = s->y[side] - drawing_strip_outward (side) * 4;
  double far = s->y[side] - drawing_strip_outward (side) * (TICK + 1);
  for (size_t c = 0; c < plan->count; c++)
    {
      const GeoCut *cut = &plan->cuts[c];
      double x
          = drawing_strip_x (s, run->reversed ? to - cut->at : from + cut->at);
      double half = fmax (cut->mouth * s->scale / 2, 2);
      if (cut->kind == GEO_CUT_SLIT)
        {
          cairo_move_to (s->cr, x, near);
          cairo_line_to (s->cr, x, far);
          cairo_stroke (s->cr);
          continue;
        }
      cairo_move_to (s->cr, x, near);
      cairo_line_to (s->cr, x - half, far);
      cairo_line_to (s->cr, x + half, far);
      cairo_close_path (s->cr);
      cairo_fill (s->cr);
    }
}

void
drawing_strip_paint_cuts (const DrawingStrip *s, int side)
{
  cairo_save (s->cr);
  cairo_set_line_width (s->cr, 1.3);
  drawing_set_colour (s->cr, drawing_with_alpha (s->style.ink, 0.62));
  for (guint i = 0; i < s->seam->sides[side].n_runs; i++)
    paint_run_cuts (s, side, i);
  cairo_restore (s->cr);
}

/* --- advice ------------------------------------------------------------------------ */

static const char *
advice_words (SewingAdviceKind kind)
{
  switch (kind)
    {
    case SEWING_ADVICE_STAY_TAPE:
      return _ ("stay tape");
    case SEWING_ADVICE_SECOND_ROW:
      return _ ("stitch twice");
    case SEWING_ADVICE_STAYSTITCH:
    default:
      return _ ("staystitch");
    }
}

/* A ribbon for tape, a row of running stitches for stitching; inside the line, where the
 * allowance lies. */
static void
paint_ribbon (const DrawingStrip *s, int side, SewingAdviceKind kind,
              double from, double to)
{
  static const double stitch[] = { 4, 3 };
  cairo_t *cr = s->cr;
  double x = drawing_strip_x (s, from) + 2, end = drawing_strip_x (s, to) - 2;
  /* Tape lies on the line, rows of stitches beyond the cuts. */
  double away = kind == SEWING_ADVICE_STAY_TAPE ? 5 : STITCHES_IN;
  double y = s->y[side] - drawing_strip_outward (side) * away;
  if (end - x < 6 || s->y[1] - s->y[0] < 4 * TICK)
    return;
  cairo_save (cr);
  cairo_set_line_width (cr, kind == SEWING_ADVICE_STAY_TAPE ? 4 : 1.2);
  drawing_set_colour (
      cr, drawing_with_alpha (s->style.shaping,
                              kind == SEWING_ADVICE_STAY_TAPE ? 0.35 : 0.65));
  if (kind != SEWING_ADVICE_STAY_TAPE)
    cairo_set_dash (cr, stitch, 2, 0);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, end, y);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* In the first gap of the row that is wide enough. */
static void
write_advice (const DrawingStrip *s, int side, SewingAdviceKind kind,
              double from, double to, GArray *taken)
{
  const char *words = advice_words (kind);
  double w = drawing_strip_text_width (s, words, s->small, 0);
  double end = drawing_strip_x (s, to) - w - 4;
  for (double x = drawing_strip_x (s, from) + 6; x <= end; x += 12)
    if (drawing_strip_take (taken, x, x + w))
      {
        drawing_strip_text (s, words, x, drawing_strip_words_y (s, side),
                            s->small, 0, 0, s->style.shaping);
        return;
      }
}

void
drawing_strip_paint_advice (const DrawingStrip *s, int side, GArray *taken)
{
  const PatternSide *runs = &s->seam->sides[side];
  for (guint i = 0; s->strain != NULL && i < s->strain->advice->len; i++)
    {
      const SewingAdvice *a
          = &g_array_index (s->strain->advice, SewingAdvice, i);
      for (guint r = 0; r < runs->n_runs; r++)
        {
          if ((a->seam != 0 && a->seam != s->seam->id)
              || runs->runs[r].piece != a->piece
              || runs->runs[r].edge != a->edge)
            continue;
          double from = s->known->joints[side][r];
          double to = s->known->joints[side][r + 1];
          paint_ribbon (s, side, a->kind, from, to);
          write_advice (s, side, a->kind, from, to, taken);
        }
    }
}
