/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Naming a piece's edges one after the other, with the trade's names and a guess from the shape. No toolkit: the edge in hand
 * is the session's picked edge, so the table shows it and a click on another takes that; the bar over the
 * table shows what is offered.
 */
#pragma once

#include "app/session.h"

/* From the picked piece, edge, node or mark: picks the first edge without a name, from the picked edge on, or else the first.
 * FALSE, with a "problem", where nothing of a piece is picked. */
gboolean app_naming_begin (AppSession *session);
/* The next edge of the piece, or the one before, round it. */
void app_naming_step (AppSession *session, int by);

typedef struct
{
  char *name;
  gboolean guess; /* from the shape: to be said so */
  gboolean typed; /* as she typed it: none of the list's */
} AppNameOffer;

/* Best first, at most room: with nothing typed the guesses for the edge, then other names of the piece's sort; else the
 * names that have what was typed at a word's start, then what was typed itself. Free with
 * g_array_unref(). Empty where no edge is picked. */
GArray *app_naming_offers (AppSession *session, const char *typed, guint room);
/* Gives the picked edge the name, as one step, and goes on to the next edge without one; stays where
 * there is none. FALSE where it can't be done. */
gboolean app_naming_take (AppSession *session, const char *name);
/* How many edges of the piece have no name; which one is in hand, from 1, and of how many; all 0 without one. */
guint app_naming_left (AppSession *session, guint *which, guint *of);
/* "Names of Front's edges", "edge 3 of 8, 20.3 cm, side seam": new. */
char *app_naming_title (AppSession *session);
char *app_naming_words (AppSession *session);
