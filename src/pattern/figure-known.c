/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Body figures a sewist may take.
 *
 * The names follow ISO 8559-1:2017, whose text is sold and was not at hand: they are given from
 * memory of its list, but for "neck base girth", which ASTM D5585-11e1 prints as "neck base", and
 * the last group, which is our own. How to take each is told in our own words. The bounds only warn of a slip of the tape or of the
 * unit: they are the limits suggested by the spread of published surveys (Gordon et al., 2012
 * Anthropometric Survey of U.S. Army Personnel, from memory) and of ASTM D5585's table, widened; an
 * estimate.
 */
#include <glib/gi18n.h>

#include "pattern/figure.h"

static const PatternKnownFigure known[] = {
  /* round the body */
  { "bust girth", N_ ("bust girth"),
    N_ ("Level round the body over the fullest part of the bust, tape easy "
        "enough for two fingers, breathing calmly."),
    650, 1700 },
  { "underbust girth", N_ ("underbust girth"),
    N_ ("Level round the ribs, close under the bust."), 550, 1500 },
  { "upper chest girth", N_ ("upper chest girth"),
    N_ ("Round the body high under the arms, above the bust."), 650, 1600 },
  { "waist girth", N_ ("waist girth"),
    N_ ("Round the natural waist: between the lowest rib and the hip bone, "
        "where the body bends sideways."),
    450, 1600 },
  { "hip girth", N_ ("hip girth"),
    N_ ("Level round the fullest part of the seat."), 650, 1800 },
  { "neck girth", N_ ("neck girth"),
    N_ ("Round the middle of the neck, just under the larynx."), 270, 500 },
  { "neck base girth", N_ ("neck base girth"),
    N_ ("Round the foot of the neck, where a plain round neckline lies: over "
        "the bone at the back and the hollow in front."),
    300, 520 },
  { "head girth", N_ ("head girth"),
    N_ ("Round the head over the brow: what an opening has to let through."),
    480, 660 },
  { "upper arm girth", N_ ("upper arm girth"),
    N_ ("Round the thickest part of the upper arm, arm hanging."), 200, 550 },
  { "elbow girth", N_ ("elbow girth"), N_ ("Round the elbow, arm bent."), 190,
    450 },
  { "wrist girth", N_ ("wrist girth"), N_ ("Round the wrist bone."), 120, 240 },
  /* across */
  { "shoulder length", N_ ("shoulder length"),
    N_ ("From the neck along the shoulder to its bony end, where the arm "
        "begins."),
    90, 170 },
  { "shoulder width", N_ ("shoulder width"),
    N_ ("Across the back from one shoulder's end to the other's, over the bone "
        "of the neck."),
    310, 520 },
  { "back width", N_ ("back width"),
    N_ ("Across the back between the creases of the arms, half way down the "
        "armhole."),
    270, 500 },
  { "front chest width", N_ ("front chest width"),
    N_ ("Across the front between the creases of the arms, half way down the "
        "armhole."),
    260, 480 },
  { "bust point width", N_ ("bust point width"),
    N_ ("From one bust point to the other, straight across."), 140, 300 },
  { "shoulder girth", N_ ("shoulder girth"),
    N_ ("Level round both upper arms and the body at the widest place below "
        "the shoulders, arms hanging: what a cape must clear."),
    850, 1700 },
  /* down the body */
  { "body height", N_ ("body height"),
    N_ ("From the top of the head to the floor, without shoes."), 1350, 2100 },
  { "back waist length", N_ ("back waist length"),
    N_ ("From the bone at the foot of the neck down the spine to the waist."),
    320, 520 },
  { "front waist length", N_ ("front waist length"),
    N_ ("From the neck end of the shoulder over the bust point to the waist."),
    340, 620 },
  { "shoulder to bust point", N_ ("shoulder to bust point"),
    N_ ("From the neck end of the shoulder to the bust point."), 200, 420 },
  { "scye depth", N_ ("scye depth"),
    N_ ("From the bone at the foot of the neck straight down to the level of "
        "the armpits."),
    150, 320 },
  { "waist to hip", N_ ("waist to hip"),
    N_ ("From the waist down the side to the fullest part of the seat."), 140,
    320 },
  { "back neck to knee", N_ ("back neck to knee"),
    N_ ("From the bone at the foot of the neck down the back to the crease of "
        "the knee."),
    800, 1300 },
  { "back neck to floor", N_ ("back neck to floor"),
    N_ ("From the bone at the foot of the neck down the back to the floor."),
    1100, 1800 },
  { "arm length", N_ ("arm length"),
    N_ ("From the shoulder's end over the bent elbow to the wrist bone."), 480,
    760 },
  { "waist height", N_ ("waist height"), N_ ("From the waist to the floor."),
    800, 1350 },
  /* our own */
  { "cape length", N_ ("cape length"),
    N_ ("From the bone at the foot of the neck down the back to where the cape "
        "is to end."),
    300, 1600 },
  { "hand width", N_ ("hand width"),
    N_ ("Round the hand over the knuckles, thumb laid in: half of it passes an "
        "opening."),
    170, 280 },
};

const PatternKnownFigure *
pattern_known_figures (guint *n)
{
  g_return_val_if_fail (n != NULL, NULL);
  *n = G_N_ELEMENTS (known);
  return known;
}
