/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/pick-draw.h"

#include <glib/gi18n.h>

#include "app/picture-sights.h"
#include "drafting/draw-to.h"

/* mm that an edge may be moved to a line of the picture. */
#define DRAW_REACH 3.0

/* The picture under the middle of the edge, once it can be seen. */
static AppSight *
sight_under (AppPage *page, const PatternPicture **picture)
{
  const Pattern *p = app_page_pattern (page);
  const PatternPiece *piece = NULL;
  const PatternEdge *edge = pattern_get_edge (p, page->piece, page->id, &piece);
  GeoPoint px;
  if (edge == NULL || p->n_pictures == 0)
    return NULL;
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, (guint)(edge - piece->edges), &chain);
  GeoPoint middle = geo_cubic_point (&chain.cubics[chain.count / 2], 0.5);
  geo_chain_clear (&chain);
  *picture = pattern_get_picture (p, app_picture_at (p, middle, &px));
  return *picture != NULL ? app_picture_sight (page->session, *picture) : NULL;
}

void
app_draw_edge (AppPage *page)
{
  const PatternPicture *picture = NULL;
  AppSight *sight = sight_under (page, &picture);
  GError *error = NULL;
  DraftingDrawn told;
  if (sight == NULL)
    {
      const char *why
          = picture == NULL
                ? _ ("No picture lies under the middle of this edge. Move the "
                     "piece onto its place in the picture first.")
            : picture->bytes == NULL
                ? _ ("The picture's file was not found when the pattern was "
                     "opened. Put it back and open the pattern again.")
                : _ ("The picture is still being read. Try again in a moment.");
      g_signal_emit_by_name (page->session, "problem", why);
      return;
    }
  TracingPlane plane = app_picture_plane (picture);
  Pattern *p = drafting_draw_to_picture (
      app_page_pattern (page), page->piece, page->id,
      app_sight_get_picture (sight), &plane, DRAW_REACH, &told, &error);
  g_autofree char *says
      = p != NULL ? g_strdup_printf (_ ("Drawn to the picture: moved by up to "
                                        "%.1f mm, the line seen along %.0f %% "
                                        "of the edge, within %.2f mm of it"),
                                     told.moved, 100 * told.seen, told.off)
                  : NULL;
  if (app_page_do (page, _ ("draw an edge to the picture"), NULL, p, &error))
    g_signal_emit_by_name (page->session, "hint", says);
}
