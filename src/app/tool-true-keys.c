/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The truing tool by the keyboard: its letters, a reach typed in, arrows on joints and
 * nodes. */
#include <glib/gi18n.h>

#include "app/tool-true-private.h"

#define MOST_TYPED 16

static void
end_typing (AppTrue *t)
{
  if (t->typed != NULL)
    g_string_free (t->typed, TRUE);
  t->typed = NULL;
  app_tool_take_tag (&t->tool, NULL);
}

/* What is typed shows as the tag and, where it can be read, as the blend. */
static void
typing (AppTrue *t)
{
  double reach;
  PatternUnit unit = app_session_get_pattern (t->tool.session)->unit;
  if (t->typed->len == 0)
    {
      end_typing (t);
      return;
    }
  app_tool_take_tag (&t->tool,
                     g_strdup_printf (_ ("reach  %s|"), t->typed->str));
  if (pattern_length_parse (t->typed->str, unit, &reach, NULL) && reach > 0)
    app_true_set_reach (&t->tool, reach);
}

static gboolean
typing_key (AppTrue *t, AppKey key)
{
  if (key == APP_KEY_ENTER || key == APP_KEY_ESCAPE || key == APP_KEY_TAB)
    {
      if (key == APP_KEY_ESCAPE)
        app_true_set_blending (&t->tool, FALSE);
      end_typing (t);
      return TRUE;
    }
  if (key != APP_KEY_BACKSPACE)
    return FALSE;
  const char *last
      = g_utf8_find_prev_char (t->typed->str, t->typed->str + t->typed->len);
  g_string_truncate (t->typed,
                     last != NULL ? (gsize)(last - t->typed->str) : 0);
  typing (t);
  return TRUE;
}

gboolean
app_true_type (AppTool *tool, gunichar c)
{
  AppTrue *t = (AppTrue *)tool;
  if (t->seam == 0 || c == 0 || !g_unichar_isprint (c))
    return FALSE;
  gboolean digit = g_unichar_isdigit (c) || c == '.' || c == ','
                   || g_unichar_type (c) == G_UNICODE_OTHER_NUMBER;
  if (t->typed != NULL || digit)
    {
      if (t->typed == NULL)
        t->typed = g_string_new (NULL);
      if (g_utf8_strlen (t->typed->str, -1) < MOST_TYPED)
        g_string_append_unichar (t->typed, c);
      typing (t);
      return TRUE;
    }
  switch (g_unichar_tolower (c))
    {
    case 'b':
      app_true_set_blending (tool, !t->blending);
      return TRUE;
    case 'a':
      app_true_set_all (tool, !t->all);
      return TRUE;
    case 'q':
      app_true_square (tool);
      return TRUE;
    case 'c':
      t->comb = !t->comb;
      return TRUE;
    default:
      return FALSE;
    }
}

/* Arrows, without a node picked. */
static gboolean
move_about (AppTrue *t, AppKey key)
{
  guint n = app_true_n_joints (&t->tool);
  double step = app_session_get_pattern (t->tool.session)->unit == PATTERN_INCH
                    ? 12.7
                    : 5;
  if (key == APP_KEY_LEFT && t->joint > 0)
    app_true_set_joint (&t->tool, t->joint - 1);
  else if (key == APP_KEY_RIGHT && t->joint + 1 < n)
    app_true_set_joint (&t->tool, t->joint + 1);
  else if (key == APP_KEY_UP)
    app_true_set_reach (&t->tool, t->reach + step);
  else if (key == APP_KEY_DOWN && t->reach > step)
    app_true_set_reach (&t->tool, t->reach - step);
  return TRUE;
}

static gboolean
arrow (AppTrue *t, AppKey key)
{
  double step
      = pattern_length_step (app_session_get_pattern (t->tool.session)->unit);
  GeoPoint by = { key == APP_KEY_LEFT    ? -step
                  : key == APP_KEY_RIGHT ? step
                                         : 0,
                  key == APP_KEY_UP     ? -step
                  : key == APP_KEY_DOWN ? step
                                        : 0 };
  return t->has_node ? app_true_nudge (t, by) : move_about (t, key);
}

static gboolean
escape (AppTrue *t)
{
  if (t->held.kind != APP_TRUE_NOTHING)
    {
      app_true_drop (t);
      app_true_refresh (t);
    }
  else if (t->has_node)
    t->has_node = FALSE;
  else
    app_true_leave (&t->tool);
  return TRUE;
}

gboolean
app_true_key (AppTool *tool, AppKey key)
{
  AppTrue *t = (AppTrue *)tool;
  app_true_follow_session (t);
  if (t->seam == 0)
    return FALSE;
  if (t->typed != NULL)
    return typing_key (t, key);
  switch (key)
    {
    case APP_KEY_ESCAPE:
      return escape (t);
    case APP_KEY_ENTER:
      app_true_do (tool);
      return TRUE;
    case APP_KEY_BACKSPACE:
      app_true_take_back (tool);
      return TRUE;
    case APP_KEY_TAB:
      app_true_next_node (t);
      return TRUE;
    case APP_KEY_LEFT:
    case APP_KEY_RIGHT:
    case APP_KEY_UP:
    case APP_KEY_DOWN:
      return arrow (t, key);
    case APP_KEY_SPACE:
    default:
      return FALSE;
    }
}
