/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fairing: an edge's curvature evened out within a distance, before and after shown together. A hand
 * tool without a button in the rack (APP_TOOL_FAIR), taken up for an edge; Enter does it, Escape leaves
 * all as it was. The stretch is the whole edge, or what lies between two ticks
 * that can be dragged. No toolkit.
 *
 * Keys: a digit begins a distance, Up and Down change it; l keeps the length, or lets it go; c shows the
 * curvature or not; Tab goes from tick to tick, Left and Right move the one come to. */
#pragma once

#include "app/tool.h"
#include "drafting/true.h"

/* For tools of the kind APP_TOOL_FAIR only. Takes the edge up; FALSE where it is gone. */
gboolean app_fair_open (AppTool *tool, guint piece, guint edge);
gboolean app_fair_is_open (const AppTool *tool);
gboolean app_fair_is_of (const AppTool *tool, guint piece, guint edge);

/* How far is told and typed in this: millimetres where the pattern is in centimetres. */
PatternUnit app_fair_get_unit (const AppTool *tool);
double app_fair_get_within (const AppTool *tool);
void app_fair_set_within (AppTool *tool, double within);
gboolean app_fair_keeps_length (const AppTool *tool);
void app_fair_set_keep_length (AppTool *tool, gboolean keep);
gboolean app_fair_has_comb (const AppTool *tool);
void app_fair_set_comb (AppTool *tool, gboolean comb);
/* Lengths along the edge as it was; from 0 to all of it is the whole edge. */
void app_fair_get_stretch (const AppTool *tool, double *from, double *to);
void app_fair_set_stretch (AppTool *tool, double from, double to);
void app_fair_do (AppTool *tool);
void app_fair_leave (AppTool *tool);
gboolean app_fair_is_changed (const AppTool *tool);

/* "Front · neck"; "moves 0.4 mm at most, 203.2 mm  −0.1"; new strings. */
char *app_fair_title (const AppTool *tool);
char *app_fair_words (const AppTool *tool);
/* Why it can't be had; NULL where it can. Borrowed. */
const char *app_fair_get_trouble (const AppTool *tool);
