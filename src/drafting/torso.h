/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The geometry of a torso sloper: a half back and a half front to the waist, with a dart in
 * each shoulder and each waist, from body figures.
 *
 * The method is told step by step in help/C/sloper.page. In short: the two halves share the underarm
 * line and the side; the bust point is where three figures put it (bust point width, shoulder to
 * bust point, front waist length); each shoulder is one straight line once its dart is sewn; what
 * the waist is narrower than the bust goes by shares into two darts and the side. Every curve is one cubic laid
 * between two tangents (necklines, armholes) or an arc (waist). What is given as a length comes out as that
 * length, to 1e-6 mm: neckline, shoulders, waist, bust line, and the way down the front.
 *
 * Rules taken from a worked draft for a bust of 88 cm ("Pattern making: adult close fitting
 * bodice block", angelfire.com/empire/radhika/Cool/Patterns.htm) stand in draft-torso.c as the
 * amounts' beginnings; here is no proportion of the body.
 */
#pragma once

#include "drafting/shape.h"

typedef struct
{
  /* The body, mm. */
  double bust, waist, neck;       /* girths */
  double back_waist, front_waist; /* lengths down to the waist */
  double scye, shoulder; /* depth of the armhole, length of the shoulder */
  double back_width, front_width; /* across, from arm to arm */
  double point_width,
      point_shoulder; /* between the bust points; from the neck point to one */
  /* Ease, mm, of the whole body, not of a quarter. */
  double bust_ease, waist_ease, neck_ease, back_ease, front_ease;
  double scye_ease;     /* the underarm line lower by */
  double shoulder_ease; /* of one back shoulder */
  /* The draft. */
  double back_neck, back_rise,
      front_neck;                 /* neck widths of a half; rise at the back */
  double back_slope, front_slope; /* of the shoulders, darts sewn, radians */
  double bust_dart;               /* radians at the bust point */
  double bust_short;              /* it ends so far from the bust point */
  double back_dart, back_dart_length,
      back_dart_in; /* at the shoulder; its point in by */
  double place; /* of the shoulder darts, share of the shoulder from the neck */
  double front_short; /* front waist dart ends so far below the bust point */
  double back_dart_from,
      back_dart_below; /* back waist dart: from the centre; its
                                             point below the underarm line */
  double front_share,
      back_share;    /* of what the waist takes in; the side has the rest */
  double side_place; /* share of the armhole's width that is the back's */
  /* To the hip; hip 0: it ends at the waist. */
  double hip, hip_ease, waist_hip; /* girth, ease, depth below the waist */
  double front_tail, back_tail;    /* of the waist darts below the waist */
  double taper; /* darts wider than cloth hides are tapered over so much */
} DraftingTorsoWish;

typedef enum
{
  DRAFTING_TORSO_SOUND,
  DRAFTING_TORSO_NECK, /* the neckline is too short or too long for its widths */
  DRAFTING_TORSO_ACROSS,     /* no room left for the armholes */
  DRAFTING_TORSO_SCYE,       /* the underarm line is too near the shoulder */
  DRAFTING_TORSO_LENGTH,     /* the waist is too near the underarm line */
  DRAFTING_TORSO_BUST_POINT, /* no place for the bust point */
  DRAFTING_TORSO_FRONT, /* the front is too short or too long for the back */
  DRAFTING_TORSO_WAIST_WIDE,   /* nothing to take in */
  DRAFTING_TORSO_WAIST_NARROW, /* the darts have no room */
  DRAFTING_TORSO_SHOULDER,     /* the shoulder ends inside the armhole */
  DRAFTING_TORSO_HIP,          /* the hip is narrower than the waist */
  DRAFTING_TORSO_OUTLINE,      /* anything else */
} DraftingTorsoTrouble;

typedef struct
{
  DraftingTorsoTrouble trouble;
  double front_depth; /* of the neck */
  double suppression; /* of half the waist */
  double back_armhole, front_armhole;
  double back_width, front_width; /* of the halves on the underarm line */
  double armhole_width;
  double bust_intake;  /* at the shoulder */
  GeoPoint bust_point; /* on the front's shape, as drawn */
  /* To the hip: of the darts in the back and the front, whose two points lie inside: upper point, leg
   * at the centre's side, lower point, leg at the side's; as drawn. */
  GeoPoint waist_dart[2][4];
  double bust_below; /* of the underarm line */
} DraftingTorsoFacts;

/* Edges, in this order, back and front the same: neck (from the centre), shoulder-neck, dart-neck, dart-arm,
 * shoulder-arm, armhole, side, waist-side, waist-dart-side, waist-dart-centre, waist-centre,
 * centre. To the hip it is side, of two cubics, hip, centre. A dart of no width has no edges; a shoulder without one is
 * shoulder. The back's centre is its left side, the front's its
 * right; both lie on one underarm line, y 0 at the nape. FALSE with facts->trouble where they can't be
 * drafted; the shapes are then not to be used. */
gboolean drafting_torso_shape (const DraftingTorsoWish *wish,
                               DraftingShape *back, DraftingShape *front,
                               DraftingTorsoFacts *facts);
