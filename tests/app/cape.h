/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small pattern for the window's tests, in mm:
 *
 *     0,0 ~~neck~~ 200,0          300,0 --outer-- 500,0
 *      |            |               |              |
 *    centre        side            end            end
 *      |            |               |              |
 *     0,300 -hem- 200,300         300,60 --neck-- 500,60
 *           front                        collar
 *
 * The neck is hollow: its cubic's handles lie 60 mm below its ends. It is sewn
 * to the collar's neck, which is straight and 200 long. The front's grain is
 * upright.
 */
#pragma once

#include "app/session.h"
#include "app/tool.h"

typedef struct
{
  AppSession *session;
  guint front, collar, seam;
  guint neck, side, hem, centre; /* of the front */
  guint collar_neck, collar_outer;
  guint nodes[4]; /* of the front, from the top left on */
} Cape;

static inline PatternNode
cape_node (double x, double y)
{
  GeoPoint p = { x, y };
  return (PatternNode){ 0, PATTERN_NODE_CORNER, p, p, p };
}

static inline PatternPiece *
cape_piece (Pattern *p, const char *name, PatternNode *nodes,
            const char *const *edges)
{
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), name);
  gboolean starts[] = { TRUE, TRUE, TRUE, TRUE };
  pattern_piece_set_outline (piece, nodes, 4, starts, &p->next_id);
  for (guint i = 0; i < 4; i++)
    {
      pattern_set_string (&piece->edges[i].name, edges[i]);
      piece->edges[i].allowance = 10;
    }
  pattern_piece_add_cut (piece, (PatternCut){ p->cloths[0].id, 1, FALSE });
  return piece;
}

static inline Cape
cape_new (void)
{
  static const char *const front_edges[]
      = { "front neck", "side", "hem", "centre front" };
  static const char *const collar_edges[]
      = { "collar outer", "collar end", "collar neck", "collar other end" };
  Cape c = { 0 };
  Pattern *p = pattern_new ("small cape");
  p->unit = PATTERN_MM;
  PatternNode nodes[] = { cape_node (0, 0), cape_node (200, 0),
                          cape_node (200, 300), cape_node (0, 300) };
  nodes[0].out = geo_point (60, 60);
  nodes[1].in = geo_point (140, 60);
  PatternPiece *front = cape_piece (p, "front", nodes, front_edges);
  front->has_grain = TRUE;
  front->grain_from = geo_point (100, 120);
  front->grain_to = geo_point (100, 260);
  PatternNode strip[] = { cape_node (300, 0), cape_node (500, 0),
                          cape_node (500, 60), cape_node (300, 60) };
  PatternPiece *collar = cape_piece (p, "collar", strip, collar_edges);
  c.front = front->id;
  c.collar = collar->id;
  c.neck = front->edges[0].id;
  c.side = front->edges[1].id;
  c.hem = front->edges[2].id;
  c.centre = front->edges[3].id;
  c.collar_outer = collar->edges[0].id;
  c.collar_neck = collar->edges[2].id;
  for (guint i = 0; i < 4; i++)
    c.nodes[i] = front->nodes[i].id;
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), "collar seam");
  pattern_seam_add_run (seam, 0, (PatternRun){ c.front, c.neck, FALSE });
  pattern_seam_add_run (seam, 1, (PatternRun){ c.collar, c.collar_neck, TRUE });
  c.seam = seam->id;
  pattern_put_piece (p, front);
  pattern_put_piece (p, collar);
  pattern_put_seam (p, seam);
  char *unsound = pattern_unsound (p);
  g_assert_cmpstr (unsound, ==, NULL);
  c.session = app_session_new (p);
  return c;
}

static inline void
cape_clear (Cape *c)
{
  g_assert_finalize_object (c->session);
}

static inline const PatternPiece *
cape_front (Cape *c)
{
  return pattern_get_piece (app_session_get_shown (c->session), c->front);
}

/* Half a millimetre a pixel. */
static inline AppPointer
cape_pointer (double x, double y, guint mods)
{
  return (AppPointer){
    .at = { x, y }, .mm_per_px = 0.5, .mods = mods, .presses = 1
  };
}

static inline void
cape_hover (AppTool *tool, double x, double y)
{
  AppPointer p = cape_pointer (x, y, 0);
  app_tool_hover (tool, &p);
}

static inline void
cape_press (AppTool *tool, double x, double y, guint mods)
{
  AppPointer p = cape_pointer (x, y, mods);
  app_tool_hover (tool, &p);
  app_tool_press (tool, &p);
}

/* In three steps, as a hand does. */
static inline void
cape_drag (AppTool *tool, double x0, double y0, double x1, double y1,
           guint mods)
{
  for (int i = 1; i <= 3; i++)
    {
      AppPointer p
          = cape_pointer (x0 + (x1 - x0) * i / 3, y0 + (y1 - y0) * i / 3, mods);
      app_tool_drag (tool, &p);
    }
}

static inline void
cape_release (AppTool *tool, double x, double y, guint mods)
{
  AppPointer p = cape_pointer (x, y, mods);
  app_tool_release (tool, &p);
}

static inline void
cape_click (AppTool *tool, double x, double y, guint mods)
{
  cape_press (tool, x, y, mods);
  cape_release (tool, x, y, mods);
}

static inline void
cape_pull (AppTool *tool, double x0, double y0, double x1, double y1,
           guint mods)
{
  cape_press (tool, x0, y0, mods);
  cape_drag (tool, x0, y0, x1, y1, mods);
  cape_release (tool, x1, y1, mods);
}

/* Nothing may be told as gone wrong. */
static inline void
cape_no_problem (AppSession *session, const char *text, gpointer data)
{
  (void)session;
  (void)data;
  g_error ("unexpected problem: %s", text);
}
