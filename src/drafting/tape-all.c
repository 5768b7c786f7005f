/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole piece brought to what the tape says, by one factor or two.
 *
 * One factor f turns each length l into f l, so the sum of (f l - t)^2 is least at f = sum l t / sum l^2.
 * With two, a across and b along, a curve's length is the integral of |(a x', b y')|: no closed form. With r = L (a, b) - t
 * the step d solves J' J d = -J' r (Gauss and Newton), where J holds
 *
 *   dL/da = integral of a x'^2 / |(a x', b y')|,  dL/db = the same with b y'^2,
 *
 * taken over short straight stretches of the curve. The two rows' directions have to differ enough for J' J to be
 * solved: the smaller eigenvalue is asked to be more than a hundredth of the larger. */
#include <glib/gi18n.h>

#include "drafting/edit-private.h"
#include "drafting/tape.h"
#include "geometry/length.h"

#define STEPS 30
#define STRETCHES 64 /* of a cubic, for the derivatives only */

/* --- scaling a piece ----------------------------------------------------------------- */

typedef struct
{
  GeoPoint about, way;
  double across, along;
} Scale;

static GeoPoint
scaled (const Scale *s, GeoPoint p)
{
  GeoPoint d = geo_sub (p, s->about);
  GeoPoint side = geo_left (s->way);
  GeoPoint q = geo_along (s->about, s->way, s->along * geo_dot (d, s->way));
  return geo_along (q, side, s->across * geo_dot (d, side));
}

static void
scale_nodes (const Scale *s, PatternNode *nodes, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      nodes[i].at = scaled (s, nodes[i].at);
      nodes[i].in = scaled (s, nodes[i].in);
      nodes[i].out = scaled (s, nodes[i].out);
    }
}

static void
scale_notches (PatternPiece *piece, const double *before)
{
  for (guint i = 0; i < piece->n_notches; i++)
    {
      PatternNotch *notch = &piece->notches[i];
      int edge = pattern_piece_find_edge (piece, notch->edge);
      if (edge >= 0 && notch->from != PATTERN_FRACTION && before[edge] > 0)
        notch->amount
            *= drafting_edge_length (piece, (guint)edge) / before[edge];
    }
}

void
drafting_scale_piece (PatternPiece *piece, GeoPoint about, GeoPoint way,
                      double across, double along)
{
  Scale s = { about, way, across, along };
  g_autofree double *before = g_new0 (double, piece->n_edges + 1);
  for (guint i = 0; i < piece->n_edges; i++)
    before[i] = drafting_edge_length (piece, i);
  scale_nodes (&s, piece->nodes, piece->n_nodes);
  for (guint i = 0; i < piece->n_lines; i++)
    scale_nodes (&s, piece->lines[i].nodes, piece->lines[i].n_nodes);
  for (guint i = 0; i < piece->n_buttonholes; i++)
    piece->buttonholes[i].at = scaled (&s, piece->buttonholes[i].at);
  for (guint i = 0; i < piece->n_drills; i++)
    piece->drills[i].at = scaled (&s, piece->drills[i].at);
  for (guint i = 0; i < piece->n_texts; i++)
    piece->texts[i].at = scaled (&s, piece->texts[i].at);
  if (piece->has_grain)
    {
      piece->grain_from = scaled (&s, piece->grain_from);
      piece->grain_to = scaled (&s, piece->grain_to);
    }
  scale_notches (piece, before);
}

/* --- lengths under two factors ---------------------------------------------------------- */

static GeoPoint
way_of (const PatternPiece *piece)
{
  GeoPoint way = geo_unit (geo_sub (piece->grain_to, piece->grain_from));
  return piece->has_grain && geo_norm (way) > 0.5 ? way : geo_point (0, 1);
}

/* What a row measures, as a chain. */
static void
row_chain (const PatternPiece *piece, const DraftingTape *row, GeoChain *chain)
{
  for (guint i = 0; i < row->n_runs; i++)
    {
      GeoChain edge = GEO_CHAIN_EMPTY;
      pattern_piece_edge_chain (
          piece, (guint)pattern_piece_find_edge (piece, row->runs[i].edge),
          &edge);
      for (size_t k = 0; k < edge.count; k++)
        {
          /* Edges that do not touch are measured one by one: a chain's cubics
           * would be drawn together. */
          GeoPoint by = chain->count > 0 ? geo_sub (geo_chain_end (chain),
                                                    edge.cubics[k].p[0])
                                         : geo_point (0, 0);
          GeoCubic c = edge.cubics[k];
          for (int j = 0; j < 4; j++)
            c.p[j] = geo_add (c.p[j], by);
          geo_chain_append (chain, c);
        }
      geo_chain_clear (&edge);
    }
  if (row->n_runs == 0)
    geo_chain_append_line (
        chain, piece->nodes[pattern_piece_find_node (piece, row->nodes[0])].at,
        piece->nodes[pattern_piece_find_node (piece, row->nodes[1])].at);
}

static double
length_at (const GeoChain *chain, const Scale *s)
{
  GeoChain copy = GEO_CHAIN_EMPTY;
  geo_chain_copy (&copy, chain);
  for (size_t i = 0; i < copy.count; i++)
    for (int k = 0; k < 4; k++)
      copy.cubics[i].p[k] = scaled (s, copy.cubics[i].p[k]);
  double length = geo_chain_length (&copy, DRAFTING_EXACT);
  geo_chain_clear (&copy);
  return length;
}

static void
derivatives (const GeoChain *chain, const Scale *s, double *across,
             double *along)
{
  *across = *along = 0;
  GeoPoint side = geo_left (s->way);
  for (size_t i = 0; i < chain->count; i++)
    for (int k = 0; k < STRETCHES; k++)
      {
        GeoPoint d = geo_sub (
            geo_cubic_point (&chain->cubics[i], (k + 1.0) / STRETCHES),
            geo_cubic_point (&chain->cubics[i], (double)k / STRETCHES));
        double x = geo_dot (d, side), y = geo_dot (d, s->way);
        double now = hypot (s->across * x, s->along * y);
        if (now > 0)
          {
            *across += s->across * x * x / now;
            *along += s->along * y * y / now;
          }
      }
}

/* --- the fit ----------------------------------------------------------------------------- */

typedef struct
{
  GArray *rows;
  GeoChain *chains;
  Scale scale;
} Fit;

static void
fit_one (Fit *f)
{
  double lt = 0, ll = 0;
  for (guint i = 0; i < f->rows->len; i++)
    {
      const DraftingTape *row = &g_array_index (f->rows, DraftingTape, i);
      lt += row->length * row->tape;
      ll += row->length * row->length;
    }
  f->scale.across = f->scale.along = ll > 0 ? lt / ll : 1;
}

/* FALSE where the rows run one way. */
static gboolean
fit_two (Fit *f)
{
  for (int step = 0; step < STEPS; step++)
    {
      double aa = 0, ab = 0, bb = 0, ra = 0, rb = 0;
      for (guint i = 0; i < f->rows->len; i++)
        {
          const DraftingTape *row = &g_array_index (f->rows, DraftingTape, i);
          double a, b, r = row->tape - length_at (&f->chains[i], &f->scale);
          derivatives (&f->chains[i], &f->scale, &a, &b);
          aa += a * a;
          ab += a * b;
          bb += b * b;
          ra += a * r;
          rb += b * r;
        }
      double middle = (aa + bb) / 2, reach = hypot ((aa - bb) / 2, ab);
      double det = aa * bb - ab * ab;
      if (!(middle - reach > 0.01 * (middle + reach)))
        return FALSE;
      double da = (bb * ra - ab * rb) / det, db = (aa * rb - ab * ra) / det;
      f->scale.across = CLAMP (f->scale.across + da, 0.2, 5);
      f->scale.along = CLAMP (f->scale.along + db, 0.2, 5);
      if (fabs (da) + fabs (db) < 1e-13)
        break;
    }
  return TRUE;
}

static void
tell (const Fit *f, DraftingTapeFit *fit)
{
  fit->n = f->rows->len;
  fit->lengths = g_new0 (double, fit->n + 1);
  fit->across = f->scale.across;
  fit->along = f->scale.along;
  for (guint i = 0; i < fit->n; i++)
    {
      const DraftingTape *row = &g_array_index (f->rows, DraftingTape, i);
      fit->lengths[i] = length_at (&f->chains[i], &f->scale);
      double off[2] = { row->length - row->tape, fit->lengths[i] - row->tape };
      if (fabs (off[1]) > fit->worst[1])
        fit->worst_row = i;
      for (int k = 0; k < 2; k++)
        {
          fit->rms[k] += off[k] * off[k] / fit->n;
          fit->worst[k] = fmax (fit->worst[k], fabs (off[k]));
        }
    }
  fit->rms[0] = sqrt (fit->rms[0]);
  fit->rms[1] = sqrt (fit->rms[1]);
}

static gboolean
is_within (const DraftingTapeFit *fit, GError **error)
{
  double across = fit->across - 1, along = fit->along - 1;
  double far = fabs (across) > fabs (along) ? across : along;
  if (fabs (far) <= DRAFTING_TAPE_MOST)
    return TRUE;
  return drafting_refuse (
      error, DRAFTING_ERROR_AMOUNT,
      far > 0 ? _ ("By the tape the piece would have to grow by %.1f %%. That "
                   "is more than can be evened out (5 %%): set the picture's "
                   "true size again, or look for a measure that was misread.")
              : _ ("By the tape the piece would have to shrink by %.1f %%. "
                   "That is more than can be evened out (5 %%): set the "
                   "picture's true size again, or look for a measure that was "
                   "misread."),
      100 * fabs (far));
}

void
drafting_tape_fit_clear (DraftingTapeFit *fit)
{
  g_clear_pointer (&fit->lengths, g_free);
}

gboolean
drafting_tape_fit (const Pattern *p, guint piece, gboolean two,
                   DraftingTapeFit *fit, GError **error)
{
  *fit = (DraftingTapeFit){ .across = 1, .along = 1 };
  const PatternPiece *own = drafting_find_piece (p, piece, error);
  if (!own)
    return FALSE;
  g_autoptr (GArray) rows = drafting_tapes (p, piece);
  if (rows->len == 0)
    return drafting_refuse (error, DRAFTING_ERROR_GONE,
                            _ ("Nothing of this piece was measured with the "
                               "tape yet. Pick an edge and type what the tape "
                               "says."));
  Fit f = { rows,
            g_new0 (GeoChain, rows->len),
            { geo_box_centre (drafting_bounds (own)), way_of (own), 1, 1 } };
  for (guint i = 0; i < rows->len; i++)
    row_chain (own, &g_array_index (rows, DraftingTape, i), &f.chains[i]);
  fit_one (&f);
  gboolean apart = !two || (rows->len > 1 && fit_two (&f));
  if (!apart)
    fit_one (&f);
  tell (&f, fit);
  for (guint i = 0; i < rows->len; i++)
    geo_chain_clear (&f.chains[i]);
  g_free (f.chains);
  if (!apart)
    return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                            _ ("For a width and a length of their own, measure "
                               "at least one line that runs across the grain "
                               "and one along it."));
  return is_within (fit, error);
}

Pattern *
drafting_tape_scale (const Pattern *p, guint piece, gboolean two,
                     GError **error)
{
  DraftingTapeFit fit;
  Pattern *result = NULL;
  if (drafting_tape_fit (p, piece, two, &fit, error))
    {
      PatternPiece *copy = drafting_begin (p, piece, error);
      drafting_scale_piece (copy, geo_box_centre (drafting_bounds (copy)),
                            way_of (copy), fit.across, fit.along);
      result = drafting_finish (p, copy, NULL, error);
    }
  drafting_tape_fit_clear (&fit);
  return result;
}
