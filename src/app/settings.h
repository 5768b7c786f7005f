/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the program remembers from one day to the next: looks, defaults for new
 * patterns, folded panels, the window's size, the last print. One key file in the
 * configuration folder ($XDG_CONFIG_HOME/bodkin/settings.ini), written only when something in it
 * changed; a file that can't be read or written costs nothing but the memory. */
#pragma once

#include "pattern/length-text.h"

typedef enum
{
  APP_LOOK_AUTO, /* as the desktop asks */
  APP_LOOK_LIGHT,
  APP_LOOK_DARK
} AppLook;

typedef struct
{
  AppLook look;
  PatternUnit unit;             /* of new patterns */
  double tolerance;             /* of new patterns, mm */
  double allowance;             /* of outlines brought in, mm */
  gboolean pieces, pick, strip; /* panels that are unfolded */
  gboolean clips;               /* clip marks always */
  gboolean combs;               /* curvature on what is picked */
  int width_px, height_px;
  int left_px,
      pick_px;  /* of the panels where she has drawn them wider; else 0 */
  int strip_px; /* height of the seam strip she has drawn it to; else 0 */
  gboolean maximized;
  char *paper; /* of the last print, never NULL */
  gboolean landscape, print_clips;
  double overlap; /* mm */
} AppSettings;

/* One for the whole program; read on first use. */
AppSettings *app_settings_get (void);
/* Writes what changed since it was read. */
void app_settings_save (void);
