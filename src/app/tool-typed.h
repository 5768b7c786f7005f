/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small field of a tool: a length and an angle typed on the table, shown in the hang tag. The
 * length is read as everywhere (pattern/length-text.h: "24", "5/8 in", "2*15 mm"); the angle in
 * degrees from level to the right, turning up: 0 right, 90 up, 180 left, 270 or -90 down. */
#pragma once

#include "app/tool.h"

typedef struct
{
  GString *length, *angle; /* NULL while closed */
  gboolean in_angle;       /* which one takes what is typed */
} AppTyped;

/* A character: TRUE where it was used. Only a digit, a fraction or a decimal mark opens
 * the field; once open it takes everything that can be printed. */
gboolean app_typed_take (AppTyped *typed, gunichar c);
/* TAB goes to the other of the two, BACKSPACE takes a character back (from the empty length: the
 * field closes), ESCAPE closes, an arrow types its angle. FALSE while closed and for
 * every other key. */
gboolean app_typed_key (AppTyped *typed, AppKey key);
gboolean app_typed_is_open (const AppTyped *typed);
void app_typed_close (AppTyped *typed);
/* Length in mm, more than 0; angle in radians in the table's sense (y down), NAN where none is
 * typed. FALSE with error set, in her words, where one of them can't be read. */
gboolean app_typed_read (const AppTyped *typed, PatternUnit unit,
                         double *length, double *angle, GError **error);
/* The field's two lines, for the tag. angle: what holds while none is typed, as above; NAN for
 * none. */
char *app_typed_words (const AppTyped *typed, PatternUnit unit, double angle);
