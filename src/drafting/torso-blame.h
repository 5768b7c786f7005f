/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of a body's figures to look at where they can't be drafted together. */
#pragma once

/* In the order of the torso sloper's parameters. */
enum
{
  DRAFTING_TORSO_BUST_GIRTH,
  DRAFTING_TORSO_WAIST_GIRTH,
  DRAFTING_TORSO_NECK_GIRTH,
  DRAFTING_TORSO_BACK_WAIST,
  DRAFTING_TORSO_FRONT_WAIST,
  DRAFTING_TORSO_SCYE_DEPTH,
  DRAFTING_TORSO_SHOULDER_LENGTH,
  DRAFTING_TORSO_ACROSS_BACK,
  DRAFTING_TORSO_ACROSS_FRONT,
  DRAFTING_TORSO_POINT_WIDTH,
  DRAFTING_TORSO_POINT_SHOULDER,
  DRAFTING_TORSO_FIGURES
};

/* The one that stands out most against the rest; expected gets what they would have it be,
 * mm: an estimate (torso-blame.c says by what rules). */
unsigned drafting_torso_outlier (const double figures[DRAFTING_TORSO_FIGURES],
                                 double *expected);
