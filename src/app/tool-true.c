/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is done while a line is trued is kept as patterns of its own, base first; the session only
 * previews the last of them, so that leaving drops all and doing makes one step. A blend is
 * previewed on top of the last; whatever is done next takes it for granted. */
#include "app/tool-true.h"

#include <glib/gi18n.h>

#include "app/tool-true-private.h"
#include "app/words.h"
#include "sewing/words.h"

#define DEGREES (180 / G_PI)
/* True to the eye, degrees; as the checks have it. */
#define LOOKS_TRUE 0.5

static AppTrue *
own (const AppTool *tool)
{
  return (AppTrue *)tool;
}

Pattern *
app_true_work (const AppTrue *t)
{
  return g_ptr_array_index (t->steps, t->steps->len - 1);
}

/* --- the line ----------------------------------------------------------------- */

static SewingLine *
make_line (const AppTrue *t, const Pattern *p)
{
  const PatternSeam *seam = pattern_get_seam (p, t->seam);
  return seam != NULL ? sewing_line_new (
             app_session_get_facts (t->tool.session), p, seam, t->end)
                      : NULL;
}

static void
close_all (AppTrue *t)
{
  t->seam = 0;
  app_true_drop (t);
  g_clear_pointer (&t->line, sewing_line_free);
  g_clear_pointer (&t->old, sewing_line_free);
  g_clear_pointer (&t->base, pattern_unref);
  g_ptr_array_set_size (t->steps, 0);
  g_clear_pointer (&t->trouble, g_free);
  if (t->typed != NULL)
    g_string_free (t->typed, TRUE);
  t->typed = NULL;
}

static const char *
trouble_words (AppTrue *t, GError *error)
{
  g_free (t->trouble);
  t->trouble = error != NULL ? g_strdup (error->message) : NULL;
  g_clear_error (&error);
  return t->trouble;
}

/* What the last step comes to by the blend; the step itself where none is asked for or
 * none can be had. */
static Pattern *
blended (AppTrue *t)
{
  Pattern *work = app_true_work (t), *result = NULL;
  GError *error = NULL;
  if (t->blending && t->line != NULL)
    {
      const SewingLineJoint *joint = &t->line->joints[t->joint];
      result = t->all ? drafting_blend_line (work, t->seam, t->end, t->reach,
                                             &t->told, &error)
                      : drafting_blend (work, joint->seam, joint->end, t->reach,
                                        &t->told, &error);
    }
  trouble_words (t, error);
  return result != NULL ? result : pattern_ref (work);
}

static void
show (AppTrue *t, Pattern *shown)
{
  AppSession *s = t->tool.session;
  if (shown == t->base)
    {
      app_session_cancel (s);
      pattern_unref (shown);
    }
  else
    app_session_preview (s, shown, NULL);
  g_clear_pointer (&t->line, sewing_line_free);
  t->line = make_line (t, app_session_get_shown (s));
  if (t->line != NULL)
    t->joint = MIN (t->joint, t->line->n_joints - 1);
}

void
app_true_refresh (AppTrue *t)
{
  if (t->seam == 0)
    return;
  show (t, blended (t));
  if (t->line == NULL)
    t->tool.done = TRUE;
}

void
app_true_absorb (AppTrue *t)
{
  if (!t->blending)
    return;
  Pattern *result = blended (t);
  t->blending = FALSE;
  if (result != app_true_work (t))
    g_ptr_array_add (t->steps, result);
  else
    pattern_unref (result);
}

gboolean
app_true_push (AppTrue *t, Pattern *result, GError **error)
{
  if (result == NULL)
    {
      if (error != NULL && *error != NULL)
        g_signal_emit_by_name (t->tool.session, "problem", (*error)->message);
      g_clear_error (error);
      app_true_refresh (t);
      return FALSE;
    }
  g_ptr_array_add (t->steps, result);
  app_true_refresh (t);
  return TRUE;
}

/* --- opening -------------------------------------------------------------------- */

gboolean
app_true_find_end (AppSession *session, guint seam, int *end)
{
  g_return_val_if_fail (APP_IS_SESSION (session) && end != NULL, FALSE);
  const Pattern *p = app_session_get_pattern (session);
  const PatternSeam *it = pattern_get_seam (p, seam);
  double best = -1;
  for (int e = 0; it != NULL && e < 2; e++)
    {
      SewingJoint joint;
      if (!sewing_seam_joint (app_session_get_facts (session), p, it, e,
                              &joint))
        continue;
      /* One that does not run on counts only where there is no other. */
      double out = joint.runs_on ? 1 + fabs (joint.angle - G_PI) : 0;
      if (out > best)
        {
          best = out;
          *end = e;
        }
    }
  return best >= 0;
}

static gboolean
is_fold (const Pattern *p, guint piece, guint edge)
{
  const PatternEdge *it = pattern_get_edge (p, piece, edge, NULL);
  return it == NULL || it->kind == PATTERN_EDGE_FOLD;
}

/* The joint at an end of the edge that is most out of true. One that is not known to run on, by
 * names or seams, counts only where there is no other, and nothing is to run on into a fold. */
static gboolean
find_of_edge (AppSession *session, guint piece, guint edge, guint *seam,
              int *end)
{
  const Pattern *p = app_session_get_pattern (session);
  double best = -1;
  for (guint i = 0; i < p->n_seams; i++)
    for (int e = 0; e < 2; e++)
      {
        SewingJoint j;
        if (!sewing_seam_joint (app_session_get_facts (session), p, p->seams[i],
                                e, &j)
            || is_fold (p, j.a_piece, j.a_edge)
            || is_fold (p, j.b_piece, j.b_edge))
          continue;
        gboolean here = (j.a_piece == piece && j.a_edge == edge)
                        || (j.b_piece == piece && j.b_edge == edge);
        double out = j.runs_on ? 1 + fabs (j.angle - G_PI) : 0;
        if (!here || out <= best)
          continue;
        best = out;
        *seam = p->seams[i]->id;
        *end = e;
      }
  return best >= 0;
}

gboolean
app_true_find_picked (AppSession *session, guint *seam, int *end)
{
  g_return_val_if_fail (APP_IS_SESSION (session), FALSE);
  const AppPick *pick = app_session_get_pick (session);
  gboolean on_edge
      = pick->kind == APP_PICK_EDGE || pick->kind == APP_PICK_NODES;
  if (on_edge && find_of_edge (session, pick->piece, pick->edge, seam, end))
    return TRUE;
  *seam = app_session_get_strip_seam (session);
  return *seam != 0 && app_true_find_end (session, *seam, end);
}

static double
start_reach (const AppTrue *t)
{
  double reach = drafting_blend_start (t->base, t->seam, t->end);
  return reach > 0 ? reach : 20;
}

gboolean
app_true_open (AppTool *tool, guint seam, int end)
{
  AppTrue *t = own (tool);
  AppSession *s = tool->session;
  g_return_val_if_fail (tool->class == &app_tool_true, FALSE);
  close_all (t);
  app_session_cancel (s);
  t->seam = seam;
  t->end = end;
  t->base = pattern_ref ((Pattern *)app_session_get_pattern (s));
  t->line = make_line (t, t->base);
  if (t->line == NULL)
    {
      close_all (t);
      g_signal_emit_by_name (
          s, "problem",
          _ ("No line runs on across that end of the seam, so there is "
             "nothing to be trued there."));
      return FALSE;
    }
  g_ptr_array_add (t->steps, pattern_ref (t->base));
  t->old = make_line (t, t->base);
  t->joint = t->line->asked;
  t->reach = start_reach (t);
  t->blending = t->all = t->has_node = FALSE;
  const AppPick *pick = app_session_get_pick (s);
  if (pick->kind != APP_PICK_SEAM || pick->ids[0] != seam)
    app_session_pick_seam (s, seam);
  return TRUE;
}

/* The pattern was changed by other means: undone, say. Begun anew, if there still is
 * what it is about. */
void
app_true_follow_session (AppTrue *t)
{
  AppSession *s = t->tool.session;
  if (t->seam == 0 || t->base == app_session_get_pattern (s))
    return;
  guint seam = t->seam;
  int end = t->end;
  double reach = t->reach;
  if (pattern_get_seam (app_session_get_pattern (s), seam) == NULL
      || !app_true_open (&t->tool, seam, end))
    {
      close_all (t);
      t->tool.done = TRUE;
      return;
    }
  t->reach = reach;
}

gboolean
app_true_is_open (const AppTool *tool)
{
  return own (tool)->seam != 0;
}

guint
app_true_get_seam (const AppTool *tool)
{
  return own (tool)->seam;
}

/* --- what can be asked and set ------------------------------------------------------ */

guint
app_true_n_joints (const AppTool *tool)
{
  return own (tool)->line != NULL ? own (tool)->line->n_joints : 0;
}

guint
app_true_get_joint (const AppTool *tool)
{
  return own (tool)->joint;
}

void
app_true_set_joint (AppTool *tool, guint joint)
{
  AppTrue *t = own (tool);
  if (joint >= app_true_n_joints (tool) || joint == t->joint)
    return;
  if (!t->all)
    app_true_absorb (t);
  t->joint = joint;
  t->has_node = FALSE;
  app_true_refresh (t);
}

double
app_true_get_reach (const AppTool *tool)
{
  return own (tool)->reach;
}

void
app_true_set_reach (AppTool *tool, double reach)
{
  AppTrue *t = own (tool);
  if (!isfinite (reach) || reach <= 0)
    return;
  t->reach = reach;
  t->blending = TRUE;
  app_true_refresh (t);
}

gboolean
app_true_is_blending (const AppTool *tool)
{
  return own (tool)->blending;
}

void
app_true_set_blending (AppTool *tool, gboolean blending)
{
  own (tool)->blending = blending;
  app_true_refresh (own (tool));
}

gboolean
app_true_is_all (const AppTool *tool)
{
  return own (tool)->all;
}

void
app_true_set_all (AppTool *tool, gboolean all)
{
  own (tool)->all = all;
  app_true_refresh (own (tool));
}

gboolean
app_true_has_comb (const AppTool *tool)
{
  return own (tool)->comb;
}

void
app_true_set_comb (AppTool *tool, gboolean comb)
{
  own (tool)->comb = comb;
}

gboolean
app_true_can_square (const AppTool *tool)
{
  const SewingLine *line = own (tool)->line;
  return line != NULL && (line->ends[0].fold || line->ends[1].fold);
}

void
app_true_square (AppTool *tool)
{
  AppTrue *t = own (tool);
  app_true_absorb (t);
  for (int end = 0; end < 2 && t->line != NULL; end++)
    {
      if (!t->line->ends[end].fold)
        continue;
      const SewingLineRun *run
          = &t->line->runs[end == 0 ? 0 : t->line->n_runs - 1];
      gboolean at_end = (end == 1) != run->reversed;
      double reach = fmin (t->reach, run->to - run->from);
      GError *error = NULL;
      app_true_push (t,
                     drafting_square (app_true_work (t), run->piece, run->edge,
                                      at_end, reach, NULL, &error),
                     &error);
    }
}

gboolean
app_true_take_back (AppTool *tool)
{
  AppTrue *t = own (tool);
  if (t->seam == 0 || (!t->blending && t->steps->len < 2))
    return FALSE;
  if (t->blending)
    t->blending = FALSE;
  else
    g_ptr_array_set_size (t->steps, t->steps->len - 1);
  t->nudged = FALSE;
  app_true_refresh (t);
  return TRUE;
}

gboolean
app_true_is_changed (const AppTool *tool)
{
  const AppTrue *t = own (tool);
  return t->seam != 0 && app_session_get_shown (tool->session) != t->base
         && app_session_is_previewing (tool->session);
}

static char *
line_name (const AppTrue *t)
{
  const SewingLineRun *run = &t->line->runs[t->joint];
  const PatternPiece *piece = NULL;
  const PatternEdge *edge = pattern_get_edge (
      app_session_get_shown (t->tool.session), run->piece, run->edge, &piece);
  if (edge == NULL)
    return g_strdup ("");
  return *edge->name != '\0' ? g_strdup (edge->name)
                             : app_edge_name (piece, edge);
}

void
app_true_do (AppTool *tool)
{
  AppTrue *t = own (tool);
  if (app_true_is_changed (tool))
    {
      g_autofree char *name = line_name (t);
      /* Translators: a step of the history; the name of an edge, "hem" */
      g_autofree char *label = g_strdup_printf (_ ("true the %s"), name);
      app_session_commit (tool->session, label);
    }
  close_all (t);
  tool->done = TRUE;
}

void
app_true_leave (AppTool *tool)
{
  app_session_cancel (tool->session);
  close_all (own (tool));
  tool->done = TRUE;
}

/* --- words ------------------------------------------------------------------------- */

char *
app_true_title (const AppTool *tool)
{
  const AppTrue *t = own (tool);
  if (t->line == NULL)
    return g_strdup ("");
  const Pattern *p = app_session_get_shown (tool->session);
  const PatternSeam *seam
      = pattern_get_seam (p, t->line->joints[t->joint].seam);
  g_autofree char *name = line_name (t);
  g_autofree char *across = app_words_seam (p, seam);
  /* Translators: of a line of the garment and the seam it crosses: "hem across
   * side seam" */
  return sewing_words_capital (
      g_strdup_printf (_ ("%s across %s"), name, across));
}

static char *
joint_words (const AppTrue *t, guint joint)
{
  double deg = t->line->joints[joint].angle * DEGREES;
  double out = fabs (deg - 180);
  if (out < LOOKS_TRUE)
    return g_strdup (_ ("true"));
  return g_strdup_printf (deg > 180 ? _ ("dip of %.1f°") : _ ("peak of %.1f°"),
                          out);
}

char *
app_true_angle_words (const AppTool *tool)
{
  const AppTrue *t = own (tool);
  return t->line != NULL ? joint_words (t, t->joint) : g_strdup ("");
}

char *
app_true_length_words (const AppTool *tool)
{
  const AppTrue *t = own (tool);
  if (t->line == NULL || t->old == NULL)
    return g_strdup ("");
  const Pattern *p = app_session_get_shown (tool->session);
  double change = t->line->length - t->old->length;
  g_autofree char *now = pattern_length_format (t->line->length, p->unit, TRUE);
  g_autofree char *by = sewing_words_change (p, change);
  return fabs (change) < 0.05 ? g_strdup (now)
                              : g_strdup_printf ("%s  %s", now, by);
}

const char *
app_true_get_trouble (const AppTool *tool)
{
  return own (tool)->trouble;
}

const SewingLine *
app_true_get_line (const AppTool *tool)
{
  return own (tool)->line;
}

GeoBox
app_true_view_box (const AppTool *tool)
{
  const AppTrue *t = own (tool);
  if (t->line == NULL)
    return geo_box_empty ();
  GeoBox box = sewing_line_bounds (t->line);
  double size = fmax (geo_box_width (box), geo_box_height (box));
  return geo_box_grow (box, fmax (30, 0.08 * size));
}

/* --- the tool ------------------------------------------------------------------------ */

static void
true_start (AppTool *tool)
{
  own (tool)->steps
      = g_ptr_array_new_with_free_func ((GDestroyNotify)pattern_unref);
}

static void
true_clear (AppTool *tool)
{
  close_all (own (tool));
  g_ptr_array_unref (own (tool)->steps);
}

static const char *
true_hint (const AppTool *tool)
{
  const AppTrue *t = own (tool);
  app_true_follow_session ((AppTrue *)tool);
  if (t->typed != NULL)
    return _ ("Type how far the blend reaches on either side of the seam, then "
              "Enter.");
  if (t->has_node)
    return _ ("Arrows move the node; at a joint along its seam. Enter does it, "
              "Escape lets go.");
  if (app_true_is_changed (tool))
    return _ ("Enter makes it so in every piece, Escape leaves all as it was.");
  return _ ("Drag the line, or blend it (B). Tab picks nodes, Left and Right "
            "the joint.");
}

static void
true_hover (AppTool *tool, const AppPointer *p)
{
  AppTrue *t = own (tool);
  app_true_follow_session (t);
  t->over = app_true_hit (t, p);
  tool->cursor = t->over.kind == APP_TRUE_NOTHING ? "default" : "pointer";
}

static void
true_leave (AppTool *tool)
{
  own (tool)->over.kind = APP_TRUE_NOTHING;
}

/* Always: what is previewed is dropped with the tool. */
static gboolean
true_is_busy (const AppTool *tool)
{
  return own (tool)->seam != 0;
}

const AppToolClass app_tool_true = {
  .kind = APP_TOOL_TRUE,
  .size = sizeof (AppTrue),
  .cursor = "default",
  .start = true_start,
  .clear = true_clear,
  .hint = true_hint,
  .hover = true_hover,
  .press = app_true_press,
  .drag = app_true_drag,
  .release = app_true_release,
  .leave = true_leave,
  .key = app_true_key,
  .type = app_true_type,
  .paint = app_true_paint,
  .paint_box = app_true_paint_box,
  .is_busy = true_is_busy,
};
