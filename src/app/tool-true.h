/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Truing: the pieces laid together along their seams, and the line that runs on across them
 * taken in hand as one curve. A hand tool without a button in the rack (APP_TOOL_TRUE): it is taken up
 * for a seam, shows nothing but the laid pieces, and is laid down by Enter, which makes one step of
 * history of all that was done, or by Escape, which drops it. No toolkit.
 *
 * Keys: Tab to the next node, arrows move it; without a node Left and Right go from joint to joint, Up
 * and Down change the reach. A digit begins a reach. b blends, a all joints, q squares to the
 * fold, c shows the curvature, Backspace takes back what was done last.
 */
#pragma once

#include "app/tool.h"
#include "drafting/true.h"

/* The end of a seam at which a line runs on that is most out of true; FALSE where none does. */
gboolean app_true_find_end (AppSession *session, guint seam, int *end);

/* The same for what is picked: the joint at either end of an edge at which it runs on, else of its
 * seam. */
gboolean app_true_find_picked (AppSession *session, guint *seam, int *end);

/* For tools of the kind APP_TOOL_TRUE only, here and below. Takes the seam's end up; FALSE, and the
 * reason told as a problem, where no line runs on there. */
gboolean app_true_open (AppTool *tool, guint seam, int end);
gboolean app_true_is_open (const AppTool *tool);
guint app_true_get_seam (const AppTool *tool); /* it was taken up for */

/* --- joints ------------------------------------------------------------------ */
guint app_true_n_joints (const AppTool *tool);
guint app_true_get_joint (const AppTool *tool);
void app_true_set_joint (AppTool *tool, guint joint);

/* --- blending ----------------------------------------------------------------- */
double app_true_get_reach (const AppTool *tool);
/* Also begins the blend, previewed from now on. */
void app_true_set_reach (AppTool *tool, double reach);
gboolean app_true_is_blending (const AppTool *tool);
void app_true_set_blending (AppTool *tool, gboolean blending);
/* Every joint of the line, not the chosen one alone. */
gboolean app_true_is_all (const AppTool *tool);
void app_true_set_all (AppTool *tool, gboolean all);

/* --- the rest ------------------------------------------------------------------ */
/* An end of the line lies on a fold. */
gboolean app_true_can_square (const AppTool *tool);
/* Both ends that do, over the reach. */
void app_true_square (AppTool *tool);
gboolean app_true_has_comb (const AppTool *tool);
void app_true_set_comb (AppTool *tool, gboolean comb);
/* Takes back what was done last; FALSE where nothing was. */
gboolean app_true_take_back (AppTool *tool);
gboolean app_true_is_changed (const AppTool *tool);
void app_true_do (AppTool *tool);
void app_true_leave (AppTool *tool);

/* "Hem across the side seam"; "171°, a dip of 9°"; "hem 402.1 mm, 0.3 mm shorter". New strings. */
char *app_true_title (const AppTool *tool);
char *app_true_angle_words (const AppTool *tool);
char *app_true_length_words (const AppTool *tool);
/* Why the blend asked for can't be had; NULL where it can. Borrowed. */
const char *app_true_get_trouble (const AppTool *tool);
/* The line as it is shown; NULL where not open. Borrowed until the next call. */
const SewingLine *app_true_get_line (const AppTool *tool);
/* What to show when it is taken up: the line and some cloth about it, mm. */
GeoBox app_true_view_box (const AppTool *tool);
