/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A node dragged in a pattern of many pieces with the seam strip open: how long the facts
 * of what changed take, whether that grows with what did not change, what a plain
 * full recomputation takes beside it, and what painting all pieces costs against bare
 * strokes of the same visible paths. */
#include <stdlib.h>

#include "bench.h"
#include "drafting/edit.h"
#include "drawing/paint.h"
#include "sewing/shaping.h"
#include "sewing/strain.h"

#define STEPS 400

/* --- a made pattern ---------------------------------------------------------- */

static PatternNode
node (double x, double y, double in_x, double in_y, double out_x, double out_y)
{
  return (PatternNode){ 0,
                        PATTERN_NODE_SMOOTH,
                        { x, y },
                        { x + in_x, y + in_y },
                        { x + out_x, y + out_y } };
}

/* A panel: curved top, two curved sides of two cubics each, hem; four notches. */
static PatternPiece *
panel (Pattern *p, guint i)
{
  double x = 260.0 * (i % 20), y = 560.0 * (i / 20);
  char name[32];
  g_snprintf (name, sizeof name, "panel %u", i + 1);
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), name);
  PatternNode nodes[] = {
    node (x + 30, y, 0, 0, 30, 18),
    node (x + 150, y, -30, 18, 18, 60),
    node (x + 180, y + 220, -4, -70, 5, 80),
    node (x + 210, y + 480, -6, -80, -60, 14),
    node (x, y + 480, 60, 14, 6, -80),
    node (x + 12, y + 220, -5, 80, 4, -70),
  };
  const gboolean starts[] = { TRUE, TRUE, FALSE, TRUE, TRUE, FALSE };
  static const char *const names[] = { "top", "right", "hem", "left" };
  pattern_piece_set_outline (piece, nodes, 6, starts, &p->next_id);
  for (guint e = 0; e < piece->n_edges; e++)
    {
      pattern_set_string (&piece->edges[e].name, names[e]);
      piece->edges[e].allowance = e == 2 ? 40 : 15;
      if (e == 2)
        piece->edges[e].kind = PATTERN_EDGE_HEM;
    }
  for (guint k = 0; k < 4; k++)
    pattern_piece_add_notch (
        piece,
        (PatternNotch){ pattern_take_id (p), piece->edges[1 + k / 2 * 2].id,
                        1 + (int)(k % 2), PATTERN_FRACTION,
                        (k / 2 == 0) == (k % 2 == 0) ? 0.3 : 0.65 });
  pattern_piece_add_cut (piece, (PatternCut){ p->cloths[0].id, 2, TRUE });
  piece->has_grain = TRUE;
  piece->grain_from = geo_point (x + 100, y + 120);
  piece->grain_to = geo_point (x + 100, y + 400);
  return piece;
}

static void
sew (Pattern *p, guint a, guint a_edge, guint b, guint b_edge)
{
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), "panel seam");
  const PatternPiece *x = p->pieces[a], *y = p->pieces[b];
  pattern_seam_add_run (seam, 0,
                        (PatternRun){ x->id, x->edges[a_edge].id, FALSE });
  pattern_seam_add_run (seam, 1,
                        (PatternRun){ y->id, y->edges[b_edge].id, TRUE });
  pattern_put_seam (p, seam);
}

/* Four seams to three pieces: side by side, and every third top to the next. */
static Pattern *
make (guint n)
{
  Pattern *p = pattern_new ("bench");
  PatternCloth cloth = p->cloths[0];
  cloth.name = (char *)"wool";
  cloth.weight = 300;
  pattern_put_cloth (p, &cloth);
  for (guint i = 0; i < n; i++)
    pattern_put_piece (p, panel (p, i));
  for (guint i = 0; i + 1 < n; i++)
    sew (p, i, 1, i + 1, 3);
  for (guint i = 0; i + 2 < n; i += 3)
    sew (p, i, 0, i + 2, 0);
  return p;
}

/* --- the drag ---------------------------------------------------------------- */

/* What the strip, the panel and the table ask for after a change of the piece. */
static double
ask_changed (SewingFacts *facts, const Pattern *p, guint piece)
{
  double sum = 0;
  const PatternPiece *own = pattern_get_piece (p, piece);
  sum += sewing_facts_piece (facts, own)->area;
  for (guint e = 0; e < own->n_edges; e++)
    {
      sum += (double)sewing_facts_clips (facts, p, piece, own->edges[e].id)
                 ->count;
      const PatternSeam *seam;
      for (guint k = 0; (seam = sewing_facts_edge_seam (
                             facts, p, piece, own->edges[e].id, k, NULL, NULL))
                        != NULL;
           k++)
        {
          const SewingSeam *known = sewing_facts_seam (facts, p, seam);
          sum += known->ease;
          sum += sewing_facts_shaping (facts, p, seam)->total_deg;
          for (int side = 0; side < 2; side++)
            sum += (double)sewing_facts_clips (facts, p,
                                               seam->sides[side].runs[0].piece,
                                               seam->sides[side].runs[0].edge)
                       ->count;
        }
    }
  return sum;
}

static double
ask_all (SewingFacts *facts, const Pattern *p)
{
  double sum = 0;
  for (guint i = 0; i < p->n_pieces; i++)
    sum += ask_changed (facts, p, p->pieces[i]->id);
  return sum;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return x < y ? -1 : x > y;
}

typedef struct
{
  double facts_median, facts_p99, edit_median; /* seconds */
} Drag;

static Drag
drag (guint n)
{
  g_autoptr (Pattern) base = make (n);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  ask_all (facts, base);
  const PatternPiece *piece = base->pieces[n / 2];
  guint id = piece->id, moved = piece->nodes[2].id;
  double times[STEPS], edits[STEPS];
  g_autoptr (Pattern) shown = pattern_ref (base);
  for (int i = 0; i < STEPS; i++)
    {
      double a = i * 0.05;
      double t0 = bench_seconds ();
      Pattern *next = drafting_move_nodes (
          base, id, &moved, 1, geo_point (12 * sin (a), 9 * cos (a)), NULL);
      double t1 = bench_seconds ();
      ask_changed (facts, next, id);
      sewing_facts_keep (facts, next, base);
      times[i] = bench_seconds () - t1;
      edits[i] = t1 - t0;
      pattern_unref (shown);
      shown = next;
    }
  qsort (times, STEPS, sizeof *times, compare);
  qsort (edits, STEPS, sizeof *edits, compare);
  return (Drag){ times[STEPS / 2], times[STEPS * 99 / 100], edits[STEPS / 2] };
}

static double
full (guint n)
{
  g_autoptr (Pattern) p = make (n);
  double best = INFINITY;
  for (int i = 0; i < 5; i++)
    {
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      double t0 = bench_seconds ();
      ask_all (facts, p);
      best = fmin (best, bench_seconds () - t0);
    }
  return best;
}

/* Weight and strain after one piece has changed, once its drag is over. */
static double
strain_after (guint n)
{
  g_autoptr (Pattern) base = make (n);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  ask_all (facts, base);
  sewing_strain_free (sewing_strain_new (facts, base));
  guint id = base->pieces[n / 2]->id, moved = base->pieces[n / 2]->nodes[2].id;
  double best = INFINITY;
  for (int i = 0; i < 7; i++)
    {
      g_autoptr (Pattern) next = drafting_move_nodes (
          base, id, &moved, 1, geo_point (i + 1, 0), NULL);
      ask_changed (facts, next, id);
      double t0 = bench_seconds ();
      sewing_strain_free (sewing_strain_new (facts, next));
      best = fmin (best, bench_seconds () - t0);
    }
  return best;
}

/* --- a frame ----------------------------------------------------------------- */

#define WIDTH 1280
#define HEIGHT 800

/* Both fills, cutting line, dashed stitch line, notches and clips: the visible paths of a
 * piece and nothing else. */
static void
stroke_bare (cairo_t *cr, SewingFacts *facts, const Pattern *p,
             const PatternPiece *piece, const DrawingStyle *style)
{
  const SewingPiece *known = sewing_facts_piece (facts, piece);
  double dash[2] = { style->dash, style->dash * 0.6 };
  cairo_set_line_width (cr, style->line);
  drawing_path_chain (cr, &known->ring.outline);
  cairo_close_path (cr);
  cairo_set_source_rgba (cr, 0.94, 0.87, 0.76, 0.7);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 0.13, 0.12, 0.1);
  cairo_stroke (cr);
  for (guint e = 0; e < piece->n_edges; e++)
    for (size_t i = 0; i < known->stitch[e].count; i++)
      {
        const GeoPoint *c = known->stitch[e].cubics[i].p;
        if (e == 0 && i == 0)
          cairo_move_to (cr, c[0].x, c[0].y);
        cairo_curve_to (cr, c[1].x, c[1].y, c[2].x, c[2].y, c[3].x, c[3].y);
      }
  cairo_set_source_rgba (cr, 0.9, 0.8, 0.6, 0.5);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0.13, 0.12, 0.1);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_dash (cr, dash, 2, 0);
  for (guint e = 0; e < piece->n_edges; e++)
    drawing_path_chain (cr, &known->stitch[e]);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  for (guint i = 0; i < piece->n_notches; i++)
    {
      GeoPoint at, out;
      if (!sewing_notch_place (known, &piece->notches[i], &at, &out))
        continue;
      for (int k = 0; k < piece->notches[i].count; k++)
        {
          cairo_move_to (cr, at.x, at.y + 3 * k);
          cairo_line_to (cr, at.x + 15 * out.x, at.y + 3 * k + 15 * out.y);
        }
    }
  for (guint e = 0; e < piece->n_edges; e++)
    {
      const GeoClipPlan *plan
          = sewing_facts_clips (facts, p, piece->id, piece->edges[e].id);
      for (size_t i = 0; i < plan->count; i++)
        {
          GeoPlace place
              = geo_ruler_place (&known->rulers[e], plan->cuts[i].at);
          GeoPoint at = geo_chain_point (&known->stitch[e], place);
          GeoPoint out = geo_scale (
              geo_left (geo_chain_tangent (&known->stitch[e], place)), -1);
          cairo_move_to (cr, at.x + 3 * out.x, at.y + 3 * out.y);
          cairo_line_to (cr, at.x + 15 * out.x, at.y + 15 * out.y);
        }
    }
  cairo_stroke (cr);
}

typedef enum
{
  BARE,
  LINES, /* as the table paints it, without words and grain */
  WHOLE,
} Painting;

static double
frame (guint n, Painting what)
{
  g_autoptr (Pattern) p = make (n);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  ask_all (facts, p);
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  double scale = WIDTH / (260.0 * 20), best = INFINITY;
  DrawingStyle style = drawing_style_table (1 / scale, FALSE);
  if (what == LINES)
    style.words = style.grain = style.edge_names = style.folds = FALSE;
  for (int i = 0; i < 9; i++)
    {
      double t0 = bench_seconds ();
      cairo_t *cr = cairo_create (surface);
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_paint (cr);
      cairo_scale (cr, scale, scale);
      for (guint k = 0; k < p->n_pieces; k++)
        if (what == BARE)
          stroke_bare (cr, facts, p, p->pieces[k], &style);
        else
          drawing_paint_piece (cr, facts, p, p->pieces[k], &style);
      cairo_destroy (cr);
      best = fmin (best, bench_seconds () - t0);
    }
  cairo_surface_destroy (surface);
  return best;
}

int
main (void)
{
  Drag sixty = drag (60), ten = drag (10), thousand = drag (1000);
  puts ("A node dragged, the strip open: 60 pieces, 79 seams");
  bench_line ("facts of what changed, 99th percentile, ms",
              1e3 * sixty.facts_p99, 2);
  printf ("%-58s %10.4g\n", "  the same, median, ms", 1e3 * sixty.facts_median);
  printf ("%-58s %10.4g\n", "  the edit itself, median, ms",
          1e3 * sixty.edit_median);
  printf ("%-58s %10.4g\n", "  everything computed anew, ms", 1e3 * full (60));
  bench_line ("facts, 1,000 pieces against 10, medians",
              thousand.facts_median / ten.facts_median, 1.2);
  printf ("%-58s %10.4g\n", "  the edit, 1,000 against 10",
          thousand.edit_median / ten.edit_median);
  printf ("%-58s %10.4g\n", "weight and strain of 60 pieces, one changed, ms",
          1e3 * strain_after (60));
  printf ("%-58s %10.4g\n", "  of 1,000, ms", 1e3 * strain_after (1000));
  double bare = frame (60, BARE);
  bench_line ("a frame of 60 pieces against bare strokes",
              frame (60, LINES) / bare, 1.5);
  printf ("%-58s %10.4g\n", "  bare, ms", 1e3 * bare);
  printf ("%-58s %10.4g\n", "  with grain and words besides",
          frame (60, WHOLE) / bare);
  return 0;
}
