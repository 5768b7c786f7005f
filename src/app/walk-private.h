/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of AppWalk, for the walk*.c files of this folder only. */
#pragma once

#include "app/walk.h"

struct _AppWalk
{
  AppSession *session; /* owns it */
  guint seam;
  int fixed;
  SewingWalkBy by;
  double walked;

  SewingWalk *walk; /* of the pattern shown */
  SewingWalkStep step;

  int way;       /* it runs; 0: stands */
  double target; /* and stops there */
  double speed;  /* mm a second */
  gboolean still;
  gboolean striking; /* the pattern changes by its own hand */
  gulong handlers[2];
};

/* Within this much walked, mm, a notch is at the pin. */
#define APP_WALK_AT 0.6

/* The notch of a side at the pin; NULL where there is none. */
const PatternNotch *app_walk_notch_here (const AppWalk *walk, int side,
                                         guint *piece, double *at);
/* "the collar band", as a side is spoken of. */
char *app_walk_side_name (const AppWalk *walk, int side);
/* A mark where it lies at the walk's step. */
GeoPoint app_walk_place (const AppWalk *walk, int side, double at);
