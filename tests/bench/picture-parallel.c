/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thirty hard curves with their parallels, to be looked at: writes an SVG to
 * standard output.
 *
 *   tests/bench/picture-parallel > parallels.svg
 */
#include "../geometry/curve-samples.h"
#include "geometry/parallel-varying.h"
#include "geometry/parallel.h"

#define ACROSS 6
#define CELL 190
#define TOLERANCE 0.01

static const CurveSample hard[] = {
  { "arch", { { { 0, 0 }, { 40, 90 }, { 90, 90 }, { 130, 0 } } } },
  { "s", { { { 0, 0 }, { 120, 0 }, { 0, 90 }, { 120, 90 } } } },
  { "armhole", { { { 0, 0 }, { 5, 80 }, { 60, 100 }, { 140, 105 } } } },
  { "two cusps close", { { { 0, 0 }, { 60, 62 }, { 80, 62 }, { 140, 0 } } } },
  { "tight bend", { { { 0, 0 }, { 190, 30 }, { 190, 50 }, { 0, 80 } } } },
  { "hairpin", { { { 0, 0 }, { 160, 2 }, { 160, -2 }, { 0, 8 } } } },
  { "loop", { { { 0, 0 }, { 170, 130 }, { -60, 130 }, { 110, 0 } } } },
  { "loop, small", { { { 0, 0 }, { 120, 100 }, { -10, 100 }, { 110, 0 } } } },
  { "exact cusp", { { { 0, 0 }, { 100, 100 }, { 0, 100 }, { 100, 0 } } } },
  { "near cusp, open", { { { 0, 0 }, { 96, 100 }, { 0, 100 }, { 96, 0 } } } },
  { "near cusp, loop", { { { 0, 0 }, { 104, 100 }, { 0, 100 }, { 100, 0 } } } },
  { "no start handle", { { { 0, 0 }, { 0, 0 }, { 20, 90 }, { 130, 90 } } } },
  { "no end handle", { { { 0, 0 }, { 90, 0 }, { 130, 90 }, { 130, 90 } } } },
  { "start handle twice none",
    { { { 0, 60 }, { 0, 60 }, { 0, 60 }, { 130, 0 } } } },
  { "tiny handle, aside",
    { { { 0, 0 }, { 0, 0.001 }, { 120, 10 }, { 130, 90 } } } },
  { "tiny handle, back",
    { { { 0, 0 }, { -0.01, 0 }, { 120, 10 }, { 130, 90 } } } },
  { "tiny handles, both",
    { { { 0, 0 }, { 0, 0.01 }, { 130, 59.99 }, { 130, 60 } } } },
  { "handle 0.5 mm", { { { 0, 0 }, { -0.5, 0 }, { 100, 0 }, { 130, 80 } } } },
  { "straight", { { { 0, 0 }, { 40, 25 }, { 90, 55 }, { 130, 80 } } } },
  { "straight, uneven", { { { 0, 0 }, { 1, 1 }, { 3, 3 }, { 100, 100 } } } },
  { "fold", { { { 0, 20 }, { 180, 20 }, { 100, 20 }, { 60, 20 } } } },
  { "fold, two turns", { { { 0, 0 }, { 220, 0 }, { -100, 0 }, { 120, 0 } } } },
  { "fold, all but", { { { 0, 0 }, { 180, 3 }, { 100, -3 }, { 60, 2 } } } },
  { "closed loop", { { { 60, 0 }, { 200, 120 }, { -80, 120 }, { 60, 0 } } } },
  { "long handles", { { { 0, 0 }, { 300, 80 }, { -170, 80 }, { 130, 0 } } } },
  { "crossed handles", { { { 0, 0 }, { 130, 70 }, { 0, 70 }, { 130, 0 } } } },
  { "radius just 20", { { { 0, 0 }, { 0, 26.7 }, { 40, 26.7 }, { 40, 0 } } } },
  { "inflection at end", { { { 0, 0 }, { 50, 0 }, { 100, 0 }, { 130, 90 } } } },
  { "question mark", { { { 0, 40 }, { 10, -50 }, { 170, 40 }, { 40, 100 } } } },
  { "shallow", { { { 0, 0 }, { 45, 6 }, { 90, 6 }, { 135, 0 } } } },
};

static void
put_path (const GeoChain *chain, const char *colour, double width)
{
  g_print ("<path fill='none' stroke='%s' stroke-width='%g' d='", colour,
           width);
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoPoint *p = chain->cubics[i].p;
      if (i == 0)
        g_print ("M%.4f %.4f", p[0].x, p[0].y);
      g_print ("C%.4f %.4f %.4f %.4f %.4f %.4f", p[1].x, p[1].y, p[2].x, p[2].y,
               p[3].x, p[3].y);
    }
  g_print ("'/>\n");
}

static void
put_joints (const GeoChain *chain, const char *colour)
{
  for (size_t i = 0; i < chain->count; i++)
    g_print ("<circle cx='%.4f' cy='%.4f' r='0.9' fill='%s'/>\n",
             chain->cubics[i].p[3].x, chain->cubics[i].p[3].y, colour);
}

static void
put_curve (const CurveSample *sample, double x, double y)
{
  static const double widths[] = { 4, 10, 20 };
  GeoChain chain = GEO_CHAIN_EMPTY, source = GEO_CHAIN_EMPTY;
  GeoProfileKnot swell[3];
  GeoBox box = geo_cubic_bounds (&sample->c);
  size_t count = 0;
  g_print ("<text x='%g' y='%g'>%s</text>\n", x + 6, y + 12, sample->name);
  g_print ("<g transform='translate(%g %g)'>\n",
           x + CELL / 2.0 - (box.x0 + box.x1) / 2,
           y + 6 + CELL / 2.0 - (box.y0 + box.y1) / 2);
  geo_chain_append (&source, sample->c);
  for (int i = 0; i < 6; i++)
    {
      geo_chain_reset (&chain);
      geo_cubic_parallel (&sample->c, (i % 2 ? 1 : -1) * widths[i / 2],
                          TOLERANCE, &chain);
      put_path (&chain, i % 2 ? "#1a6fb0" : "#b0541a", 0.5);
      put_joints (&chain, i % 2 ? "#1a6fb0" : "#b0541a");
      count += chain.count;
    }
  geo_profile_swell (60, 45, 14, swell);
  geo_chain_reset (&chain);
  geo_cubic_parallel_varying (&sample->c, swell, 3, GEO_PROFILE_EASED,
                              TOLERANCE, &chain);
  put_path (&chain, "#2a9d4a", 0.7);
  put_path (&source, "black", 1.1);
  g_print ("</g>\n<text x='%g' y='%g' fill='#777'>%zu cubics</text>\n", x + 6,
           y + CELL - 6, count);
  geo_chain_clear (&chain);
  geo_chain_clear (&source);
}

int
main (void)
{
  int rows = ((int)G_N_ELEMENTS (hard) + ACROSS - 1) / ACROSS;
  g_print ("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 %d %d' "
           "font-family='sans-serif' font-size='9'>\n"
           "<rect width='100%%' height='100%%' fill='white'/>\n",
           ACROSS * CELL, rows * CELL + 16);
  g_print ("<text x='6' y='%d'>Black: the source. Blue and red: its parallels "
           "at 4, 10 and 20 mm, within 0.01 mm, untrimmed; dots where cubics "
           "join. Green: let out by 14 mm about 60 mm along.</text>\n",
           rows * CELL + 10);
  for (int i = 0; i < (int)G_N_ELEMENTS (hard); i++)
    put_curve (&hard[i], i % ACROSS * CELL, i / ACROSS * CELL);
  g_print ("</svg>\n");
  return 0;
}
