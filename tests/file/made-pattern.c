/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "made-pattern.h"

#include <math.h>

#include "pattern/change.h"

static guint
pick (guint n)
{
  return (guint)g_test_rand_int_range (0, (gint32)n);
}

static double
number (double reach)
{
  switch (pick (8))
    {
    case 0:
      return 0;
    case 1:
      return round (g_test_rand_double_range (-reach, reach));
    case 2:
      return round (g_test_rand_double_range (-reach, reach)) / 10;
    case 3:
      return g_test_rand_double_range (-reach, reach) * 1e-12;
    default:
      return g_test_rand_double_range (-reach, reach);
    }
}

static const char *
words (void)
{
  static const char *const all[] = {
    "",
    "front neck",
    "Rücken & <Kragen> \"weit\"",
    "two\nlines\tand a tab",
    "  blanks at both ends  ",
    "襟 ⅝ ×2 🧵",
    "it's > 3",
    "carriage\rreturn",
    "&amp; &#38; ]]>",
  };
  return all[pick (G_N_ELEMENTS (all))];
}

static GeoPoint
point (void)
{
  return geo_point (number (2000), number (2000));
}

static PatternNode
node (Pattern *p, GeoPoint at)
{
  PatternNode n = { pattern_take_id (p), pick (3), at, at, at };
  if (pick (2))
    n.in = geo_add (at, geo_point (number (20), number (20)));
  if (pick (2))
    n.out = geo_add (at, geo_point (number (20), number (20)));
  return n;
}

static void
add_marks (Pattern *p, PatternPiece *piece)
{
  for (guint i = pick (4); i > 0; i--)
    {
      PatternNotch n
          = { pattern_take_id (p), piece->edges[pick (piece->n_edges)].id,
              1 + (int)pick (3), pick (3), fabs (number (1)) };
      pattern_piece_add_notch (piece, n);
      PatternButtonhole b
          = { pattern_take_id (p), point (), number (7), fabs (number (30)) };
      pattern_piece_add_buttonhole (piece, b);
      PatternDrill d = { pattern_take_id (p), point () };
      pattern_piece_add_drill (piece, d);
      guint id = pattern_take_id (p);
      pattern_piece_add_text (piece, id, point (), number (4),
                              fabs (number (9)), words ());
      PatternCut c = { p->cloths[pick (p->n_cloths)].id, (int)pick (9),
                       (gboolean)pick (2) };
      pattern_piece_add_cut (piece, c);
      PatternNode line[3];
      guint n_line = pick (4);
      for (guint k = 0; k < n_line; k++)
        line[k] = node (p, point ());
      id = pattern_take_id (p);
      pattern_piece_add_line (piece, id, words (), line, n_line);
    }
}

static void
add_piece (Pattern *p, guint n_nodes)
{
  PatternPiece *piece = pattern_piece_new (pattern_take_id (p), words ());
  PatternNode *nodes = g_new (PatternNode, n_nodes);
  gboolean *starts = g_new (gboolean, n_nodes);
  for (guint i = 0; i < n_nodes; i++)
    {
      double a = 2 * G_PI * i / n_nodes;
      double r = g_test_rand_double_range (200, 400);
      nodes[i] = node (p, geo_point (r * cos (a), r * sin (a)));
      starts[i] = i == 0 || pick (4) == 0;
    }
  pattern_piece_set_outline (piece, nodes, n_nodes, starts, &p->next_id);
  for (guint i = 0; i < piece->n_edges; i++)
    {
      PatternEdge *e = &piece->edges[i];
      pattern_set_string (&e->name, words ());
      e->kind = pick (5);
      e->allowance = fabs (number (40));
      if (pick (4) == 0)
        e->clip_spacing = fabs (number (30));
      e->corner.kind = pick (4);
      e->corner.governor = pick (2);
      if (pick (4) == 0)
        e->extra = g_strdup (" tone=\"a &amp; b\"<frill n=\"1\">x<y/></frill>");
    }
  piece->has_grain = (gboolean)pick (2);
  piece->grain_from = point ();
  piece->grain_to = point ();
  piece->grain_both_ways = (gboolean)pick (2);
  pattern_set_string (&piece->note, words ());
  if (pick (3) == 0)
    piece->extra = g_strdup ("<knot/><bow>\n  <loop side=\"l\"/>\n</bow>");
  add_marks (p, piece);
  pattern_put_piece (p, piece);
  g_free (nodes);
  g_free (starts);
}

static void
add_seam (Pattern *p)
{
  PatternSeam *seam = pattern_seam_new (pattern_take_id (p), words ());
  seam->join = pick (2);
  seam->ease = number (30);
  seam->press = pick (4);
  for (guint i = pick (3); i > 0; i--)
    pattern_seam_put_span (
        seam, (PatternEaseSpan){ 0, i * 7, number (20), pick (2) == 1 });
  if (pick (3) == 0)
    seam->extra = g_strdup (" thread=\"40\"");
  for (int side = 0; side < 2; side++)
    for (guint i = 1 + pick (3); i > 0; i--)
      {
        const PatternPiece *piece = p->pieces[pick (p->n_pieces)];
        PatternRun run = { piece->id, piece->edges[pick (piece->n_edges)].id,
                           (gboolean)pick (2) };
        pattern_seam_add_run (seam, side, run);
      }
  pattern_put_seam (p, seam);
}

static void
add_figures_and_recipes (Pattern *p)
{
  static const char *const names[] = { "bust girth", "waist-2", "Größe 38" };
  for (guint i = pick (4); i > 0; i--)
    {
      PatternFigure figure = { pattern_take_id (p), (char *)names[i - 1],
                               number (2000), (char *)words () };
      pattern_put_figure (p, &figure);
    }
  for (guint i = pick (3); i > 0; i--)
    {
      g_autoptr (PatternStep) step = pattern_step_new ("flat-collar");
      pattern_step_set (step, "neck", "1/2 -3/4");
      pattern_step_set (step, "note", words ());
      PatternRecipe *r
          = pattern_recipe_new (pattern_take_id (p), words (), step);
      for (guint k = pick (5); k > 0; k--)
        {
          g_autofree char *part = g_strdup_printf ("collar/n:%u", k);
          PatternMade *made
              = pattern_recipe_put_made (r, part, pattern_take_id (p));
          if (pick (2))
            made->frame = geo_motion_about (point (), number (3));
          made->frame.flip = (gboolean)pick (2);
          PatternHandChange *hand = pattern_recipe_change (r, part);
          hand->gone = (gboolean)pick (2);
          hand->kind = (int)pick (4) - 1;
          hand->at = point ();
          hand->out = point ();
        }
      if (pick (2))
        r->trouble = g_strdup (words ());
      if (pick (2))
        r->extra = g_strdup (" mood=\"1\"<spoon/>");
      pattern_put_recipe (p, r);
    }
}

static void
add_fittings (Pattern *p, guint n_nodes)
{
  for (guint i = pick (3); i > 0; i--)
    {
      g_autoptr (Pattern) kept = pattern_dup (p);
      pattern_put_fitting (p,
                           pattern_fitting_new (pattern_take_id (p), words (),
                                                words (), kept, p->n_changes));
      for (guint k = pick (3); k > 0; k--)
        {
          g_autoptr (PatternStep) step = pattern_step_new ("turn-dart");
          pattern_step_set (step, "by", words ());
          pattern_add_change (p,
                              pattern_change_new (words (), p->next_id, step));
          g_autoptr (Pattern) before = pattern_dup (p);
          add_piece (p, n_nodes);
          if (p->n_pieces > 1)
            add_seam (p);
          pattern_add_change (
              p, pattern_change_between (words (), NULL, before, p));
        }
    }
}

void
made_pictures (Pattern *p)
{
  static const char *const beside[]
      = { "/photos/front & back.jpg", "/photos/Übung/100%.png",
          "/photos/\xff\xfe.tiff" };
  for (guint i = pick (3); i > 0; i--)
    {
      gsize size = pick (2000);
      guint8 *data = g_malloc (size + 1);
      for (gsize k = 0; k < size; k++)
        data[k] = (guint8)g_test_rand_int ();
      g_autoptr (GBytes) bytes = g_bytes_new_take (data, size);
      PatternPicture *picture = pattern_picture_new (
          pattern_take_id (p), words (), bytes, 100 + pick (4000), 300);
      picture->size = pick (4);
      for (guint k = 0; k < 4; k++)
        picture->places[k] = point ();
      picture->true_width = fabs (number (300));
      picture->true_height = fabs (number (400));
      picture->plane[0] = 0.1 + fabs (number (0.2));
      picture->plane[1] = number (0.01);
      picture->plane[6] = fabs (number (1e-4));
      picture->place = geo_motion_about (point (), number (3));
      picture->place.flip = (gboolean)pick (2);
      picture->strength = fabs (number (1));
      picture->hidden = (gboolean)pick (2);
      picture->locked = (gboolean)pick (2);
      if (pick (3) == 0)
        picture->beside = g_strdup (beside[pick (3)]);
      if (pick (2))
        picture->extra = g_strdup (" lens=\"1\"<exposure>2</exposure>");
      pattern_put_picture (p, picture);
    }
}

Pattern *
made_pattern (guint n_pieces, guint n_nodes)
{
  Pattern *p = pattern_new (words ());
  p->unit = pick (3);
  p->tolerance = fabs (number (2));
  pattern_set_string (&p->note, words ());
  for (guint i = 0; i < 3; i++)
    {
      PatternCloth cloth = {
        .id = pattern_take_id (p),
        .name = (char *)words (),
        .use = pick (4),
        .width = fabs (number (1600)),
        .thickness = fabs (number (5)),
        .give = fabs (number (0.2)),
        .weight = fabs (number (500)),
        .tint = pick (8),
        .extra = pick (2) ? (char *)" dye=\"1\"<fibre>wool</fibre>" : NULL,
      };
      pattern_put_cloth (p, &cloth);
    }
  for (guint i = 0; i < n_pieces; i++)
    add_piece (p, n_nodes);
  for (guint i = 0; n_pieces > 0 && i < 4; i++)
    add_seam (p);
  for (guint i = pick (3); i > 0; i--)
    {
      PatternNode line[2] = { node (p, point ()), node (p, point ()) };
      pattern_add_line (p, words (), line, 2);
    }
  add_figures_and_recipes (p);
  add_fittings (p, n_nodes);
  pattern_put_set_aside (p, "seam-out:12", words ());
  if (pick (2))
    pattern_set_string (&p->extra, " xmlns:w=\"tag:w\"<w:trim>&lt;</w:trim>");
  return p;
}
