/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the hang tag says, for drags, nudges and pointing alike. */
#pragma once

#include "app/session.h"

/* "front neck  203.4 mm"; NULL when the edge is gone. */
char *app_tag_edge (AppSession *session, guint piece, guint edge);
/* Name of an edge, else "edge of front". */
char *app_edge_name (const PatternPiece *piece, const PatternEdge *edge);
/* How a seam stands, in the words of app_words_seam_state(): "collar seam  Collar 1.1 mm too
 * short", "collar seam  true". */
char *app_tag_seam (AppSession *session, const PatternSeam *seam);

/* Lengths when a drag began, to tell the change by. */
typedef struct
{
  guint piece, edge;
  double length;
} AppTagEdge;
typedef struct
{
  AppTagEdge edges[4];
  guint n;
} AppTagStart;

/* Up to four edges are remembered. */
void app_tag_start_edge (AppTagStart *start, AppSession *session, guint piece,
                         guint edge);
/* The edges that what is picked is or lies on, those beside them that change with it
 * included. */
void app_tag_start_pick (AppTagStart *start, AppSession *session);
/* A line for each edge with its change since, and a line for each seam those edges are
 * in; NULL when no edge was remembered. */
char *app_tag_changes (const AppTagStart *start, AppSession *session);
