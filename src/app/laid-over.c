/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/laid-over.h"

#include <glib/gi18n.h>
#include <math.h>

#include "geometry/nearest.h"
#include "pattern/change.h"
#include "sewing/compare.h"

gboolean
app_laid_over (AppSession *session, const Pattern **was, const Pattern **is)
{
  AppLaidOver laid = app_session_get_laid_over (session);
  const Pattern *shown = app_session_get_shown (session);
  const PatternFitting *a = pattern_get_fitting (shown, laid.was);
  const PatternFitting *b = pattern_get_fitting (shown, laid.is);
  if (a == NULL || (laid.is != 0 && b == NULL))
    return FALSE;
  *was = a->kept;
  *is = b != NULL ? b->kept : shown;
  return TRUE;
}

/* --- painting ----------------------------------------------------------------------- */
typedef struct
{
  cairo_t *cr;
  const AppView *view;
  const AppPalette *colours;
} Painter;

static void
path_of (const Painter *at, const PatternPiece *piece, GeoMotion lay)
{
  GeoChain outline;
  geo_chain_init (&outline);
  pattern_piece_outline (piece, &outline);
  geo_chain_transform (&outline, lay);
  cairo_save (at->cr);
  cairo_scale (at->cr, at->view->scale, at->view->scale);
  cairo_translate (at->cr, -at->view->origin.x, -at->view->origin.y);
  drawing_path_chain (at->cr, &outline);
  cairo_restore (at->cr);
  geo_chain_clear (&outline);
}

static void
stroke (const Painter *at, DrawingColour colour, double width,
        const double *dashes, int n_dashes)
{
  cairo_set_line_join (at->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_dash (at->cr, NULL, 0, 0);
  app_colour (at->cr, at->colours->halo);
  cairo_set_line_width (at->cr, width + 2.5);
  cairo_stroke_preserve (at->cr);
  cairo_set_dash (at->cr, dashes, n_dashes, 0);
  app_colour (at->cr, colour);
  cairo_set_line_width (at->cr, width);
  cairo_stroke (at->cr);
  cairo_set_dash (at->cr, NULL, 0, 0);
}

/* Lays a piece of either pattern where the table shows it now: the table's own where it is
 * there, else where it was. */
static GeoMotion
onto_table (AppSession *session, const PatternPiece *piece)
{
  const PatternPiece *now
      = pattern_get_piece (app_session_get_shown (session), piece->id);
  return now != NULL && now != piece ? sewing_lay_on (piece, now)
                                     : geo_motion_none ();
}

/* A short line from the earlier edge to the later at a few places shows which way it went. */
static void
paint_shifts (const Painter *at, const SewingPieceDifference *d, GeoMotion lay)
{
  cairo_save (at->cr);
  cairo_scale (at->cr, at->view->scale, at->view->scale);
  cairo_translate (at->cr, -at->view->origin.x, -at->view->origin.y);
  for (guint i = 0; i < d->n_edges; i++)
    {
      int a = pattern_piece_find_edge (d->was, d->edges[i].edge);
      int b = pattern_piece_find_edge (d->is, d->edges[i].edge);
      if (a < 0 || b < 0 || d->edges[i].apart < 0.2)
        continue;
      GeoChain was, is;
      geo_chain_init (&was);
      geo_chain_init (&is);
      pattern_piece_edge_chain (d->was, (guint)a, &was);
      geo_chain_transform (&was, d->lay);
      pattern_piece_edge_chain (d->is, (guint)b, &is);
      for (size_t k = 0; k < is.count; k++)
        {
          GeoPoint to = geo_chain_point (&is, (GeoPlace){ k, 0.5 });
          GeoPlace foot;
          if (geo_chain_nearest (&was, to, &foot) < 0.2)
            continue;
          GeoPoint p = geo_motion_apply (lay, geo_chain_point (&was, foot));
          GeoPoint q = geo_motion_apply (lay, to);
          cairo_move_to (at->cr, p.x, p.y);
          cairo_line_to (at->cr, q.x, q.y);
        }
      geo_chain_clear (&was);
      geo_chain_clear (&is);
    }
  cairo_restore (at->cr);
  app_colour (at->cr, at->colours->thread);
  cairo_set_line_width (at->cr, 1.2);
  cairo_stroke (at->cr);
}

static void
paint_piece (const Painter *at, AppSession *session,
             const SewingPieceDifference *d)
{
  static const double dashes[] = { 7, 4 }, chain[] = { 10, 3, 2, 3 };
  gboolean shows_is
      = d->is != NULL
        && pattern_get_piece (app_session_get_shown (session), d->piece)
               == d->is;
  GeoMotion lay = onto_table (session, d->is != NULL ? d->is : d->was);
  if (d->was != NULL)
    {
      path_of (at, d->was, geo_motion_then (d->lay, lay));
      stroke (at, at->colours->pin_look, 1.6, dashes, 2);
    }
  if (d->is != NULL && !shows_is)
    {
      path_of (at, d->is, lay);
      stroke (at, at->colours->partner, 1.6, chain, 4);
    }
  if (d->was != NULL && d->is != NULL)
    paint_shifts (at, d, lay);
}

void
app_paint_laid_over (cairo_t *cr, AppSession *session, const AppView *view,
                     const AppPalette *colours)
{
  const Pattern *was, *is;
  if (!app_laid_over (session, &was, &is))
    return;
  Painter at = { cr, view, colours };
  g_autoptr (GArray) all = sewing_compare (was, is);
  for (guint i = 0; i < all->len; i++)
    paint_piece (&at, session, &g_array_index (all, SewingPieceDifference, i));
}

static void
add_piece (GeoBox *box, AppSession *session, const PatternPiece *piece,
           GeoMotion lay)
{
  GeoChain outline;
  geo_chain_init (&outline);
  pattern_piece_outline (piece, &outline);
  geo_chain_transform (&outline,
                       geo_motion_then (lay, onto_table (session, piece)));
  *box = geo_box_join (*box, geo_chain_bounds (&outline));
  geo_chain_clear (&outline);
}

GeoBox
app_laid_over_box (AppSession *session, const AppView *view)
{
  GeoBox box = geo_box_empty ();
  const Pattern *was, *is;
  if (!app_laid_over (session, &was, &is))
    return box;
  for (guint i = 0; i < was->n_pieces; i++)
    add_piece (&box, session, was->pieces[i], geo_motion_none ());
  for (guint i = 0; i < is->n_pieces; i++)
    add_piece (&box, session, is->pieces[i], geo_motion_none ());
  return geo_box_is_empty (box)
             ? box
             : geo_box_grow (app_view_box_to_px (view, box), 8);
}

/* --- words -------------------------------------------------------------------------- */
static char *
edge_line (const SewingPieceDifference *d, const SewingEdgeDifference *e,
           PatternUnit unit)
{
  double longer = e->is - e->was;
  g_autofree char *name
      = e->name[0] != '\0'
            ? g_strdup (e->name)
            : g_strdup_printf (_ ("edge %d"),
                               pattern_piece_find_edge (d->is, e->edge) + 1);
  g_autofree char *apart = pattern_length_format (e->apart, unit, TRUE);
  g_autofree char *by = pattern_length_format (fabs (longer), unit, TRUE);
  if (d->was == NULL || pattern_piece_find_edge (d->was, e->edge) < 0)
    return g_strdup_printf (_ ("%s · %s: a new edge"), d->is->name, name);
  if (fabs (longer) < 0.05)
    return g_strdup_printf (_ ("%s · %s: up to %s away, as long as before"),
                            d->is->name, name, apart);
  /* Translators: piece, edge, how far away, by how much. */
  return longer > 0 ? g_strdup_printf (_ ("%s · %s: up to %s away, %s longer"),
                                       d->is->name, name, apart, by)
                    : g_strdup_printf (_ ("%s · %s: up to %s away, %s shorter"),
                                       d->is->name, name, apart, by);
}

char **
app_laid_over_words (const Pattern *was, const Pattern *is, PatternUnit unit)
{
  g_autoptr (GArray) all = sewing_compare (was, is);
  g_autoptr (GStrvBuilder) lines = g_strv_builder_new ();
  for (guint i = 0; i < all->len; i++)
    {
      const SewingPieceDifference *d
          = &g_array_index (all, SewingPieceDifference, i);
      g_autofree char *whole = NULL;
      if (d->was == NULL)
        whole = g_strdup_printf (_ ("%s: a new piece"), d->is->name);
      else if (d->is == NULL)
        whole = g_strdup_printf (_ ("%s: no longer there"), d->was->name);
      if (whole != NULL)
        g_strv_builder_add (lines, whole);
      for (guint k = 0; whole == NULL && k < d->n_edges; k++)
        {
          g_autofree char *line = edge_line (d, &d->edges[k], unit);
          g_strv_builder_add (lines, line);
        }
    }
  return g_strv_builder_end (lines);
}
