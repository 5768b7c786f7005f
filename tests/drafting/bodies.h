/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bodies to draft slopers for, as patterns that hold their figures. */
#pragma once

#include <string.h>

#include "drafting/verb.h"
#include "pattern/figure.h"

enum
{
  BODY_BUST,
  BODY_WAIST,
  BODY_NECK,
  BODY_BACK_WAIST,
  BODY_FRONT_WAIST,
  BODY_SCYE,
  BODY_SHOULDER,
  BODY_BACK_WIDTH,
  BODY_FRONT_WIDTH,
  BODY_POINT_WIDTH,
  BODY_POINT_SHOULDER,
  BODY_UPPER_ARM,
  BODY_ARM_LENGTH,
  BODY_WRIST,
  BODY_HIP,
  BODY_WAIST_HIP,
  BODY_FIGURES
};

static const char *const body_names[BODY_FIGURES] = { "bust girth",
                                                      "waist girth",
                                                      "neck base girth",
                                                      "back waist length",
                                                      "front waist length",
                                                      "scye depth",
                                                      "shoulder length",
                                                      "back width",
                                                      "front chest width",
                                                      "bust point width",
                                                      "shoulder to bust point",
                                                      "upper arm girth",
                                                      "arm length",
                                                      "wrist girth",
                                                      "hip girth",
                                                      "waist to hip" };

/* ASTM D5585-11e1, figures shown on the publisher's page (astm.org/Standards/D5585.htm): bust, waist
 * "curvy" and neck base, inches, of sizes 00 to 20. */
static const double body_table[][3] = {
  { 31.125, 23.875, 13.25 }, { 31.75, 24.625, 13.5 },  { 33, 25.375, 13.75 },
  { 34.125, 26.125, 14 },    { 35.25, 27, 14.25 },     { 36.25, 28, 14.625 },
  { 37.25, 29, 14.875 },     { 38.75, 30.75, 15.125 }, { 40.375, 32.5, 15.5 },
  { 42.125, 34.5, 15.75 },   { 44, 36.75, 16 },        { 46, 39, 16.375 },
};
#define BODY_SIZES G_N_ELEMENTS (body_table)

/* The lengths and widths that page does not show: widths across grow by a quarter of the bust, the scye by a
 * twelfth, as in a college's proportional draft (from memory), all from the worked draft for a bust of
 * 88 cm; the rest invented to grow likewise. */
static inline void
body_of_size (guint size, double figures[BODY_FIGURES])
{
  double bust = body_table[size][0] * 25.4, more = bust - 880;
  figures[BODY_BUST] = bust;
  figures[BODY_WAIST] = body_table[size][1] * 25.4;
  figures[BODY_NECK] = body_table[size][2] * 25.4;
  figures[BODY_BACK_WAIST] = 400 + 0.03 * more;
  figures[BODY_FRONT_WAIST] = 423 + 0.13 * more;
  figures[BODY_SCYE] = 210 + more / 12;
  figures[BODY_SHOULDER] = 122.5 + 0.04 * more;
  figures[BODY_BACK_WIDTH] = 344 + more / 4;
  figures[BODY_FRONT_WIDTH] = 324 + more / 4;
  figures[BODY_POINT_WIDTH] = 188 + 0.17 * more;
  figures[BODY_POINT_SHOULDER] = 257 + 0.14 * more;
  figures[BODY_UPPER_ARM] = 280 + 0.3 * more;
  figures[BODY_ARM_LENGTH] = 585 + 0.04 * more;
  figures[BODY_WRIST] = 160 + 0.1 * more;
  figures[BODY_HIP] = 940 + 0.9 * more;
  figures[BODY_WAIST_HIP] = 206;
}

/* A pattern that has these figures and nothing else. */
static inline Pattern *
body_new (const double figures[BODY_FIGURES])
{
  Pattern *p = pattern_new ("");
  for (guint i = 0; i < BODY_FIGURES; i++)
    {
      PatternFigure figure = { pattern_take_id (p), (char *)body_names[i],
                               figures[i], (char *)"" };
      pattern_put_figure (p, &figure);
    }
  return p;
}

/* A verb by its words, the last NULL. */
static inline Pattern *
body_draft (const Pattern *p, GError **error, const char *verb, ...)
{
  char *words[16] = { (char *)verb };
  int n = 1;
  va_list args;
  va_start (args, verb);
  while (n < 16 && (words[n] = va_arg (args, char *)) != NULL)
    n++;
  va_end (args);
  g_autoptr (PatternStep) step = drafting_step_parse (p, n, words, error);
  return step != NULL ? drafting_step_run (p, step, error) : NULL;
}
