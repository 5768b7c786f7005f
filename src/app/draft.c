/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/draft.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/draft-private.h"
#include "app/session-private.h"
#include "pattern/figure.h"

/* --- beginning and ending ------------------------------------------------------------ */
static void
draft_free (AppDraft *draft)
{
  if (draft->handler != 0
      && g_signal_handler_is_connected (draft->session, draft->handler))
    g_signal_handler_disconnect (draft->session, draft->handler);
  for (guint i = 0; i < draft->verb->n_parameters; i++)
    g_free (draft->texts[i]);
  g_free (draft->texts);
  g_free (draft->trouble);
  g_free (draft->lets_go);
  g_free (draft->hint);
  g_ptr_array_unref (draft->clicks);
  g_free (draft);
}

void
app_session_drop_draft (AppSession *s)
{
  if (s->draft == NULL)
    return;
  draft_free (s->draft);
  s->draft = NULL;
}

void
app_draft_end (AppSession *session)
{
  g_return_if_fail (APP_IS_SESSION (session));
  if (session->draft == NULL)
    return;
  app_session_drop_draft (session);
  app_session_cancel (session);
  g_signal_emit_by_name (session, "draft-changed");
}

AppDraft *
app_draft_get (AppSession *session)
{
  g_return_val_if_fail (APP_IS_SESSION (session), NULL);
  return session->draft;
}

/* --- fields --------------------------------------------------------------------------- */
gboolean
app_draft_is_pick (const DraftingParameter *parameter)
{
  return parameter->kind >= DRAFTING_PIECE;
}

static const DraftingParameter *
parameter_of (const AppDraft *draft, guint i)
{
  return &draft->verb->parameters[i];
}

/* A verb's start as she would type it: "40 mm" is 1 1/2 in + ... where she works in inches. One with
 * body figures stays as it is, to follow them. */
static char *
start_text (const Pattern *p, const DraftingParameter *parameter)
{
  double mm;
  const char *start = parameter->start ? parameter->start : "";
  g_auto (GStrv) figures = pattern_amount_figures (p, start);
  if (parameter->kind == DRAFTING_LENGTH && *start != '\0' && !figures[0]
      && pattern_amount_evaluate (p, start, PATTERN_MM, &mm, NULL))
    return pattern_length_format (mm, p->unit, TRUE);
  return g_strdup (start);
}

char *
app_draft_argument_shown (const Pattern *p, const PatternStep *step,
                          const DraftingParameter *parameter, const char *text)
{
  return text ? app_draft_with_unit (p, step, parameter, text)
              : start_text (p, parameter);
}

/* The step as the fields now are. Signs of the shown minus are read as well as the
 * plain one. */
static PatternStep *
step_of (const AppDraft *draft)
{
  PatternStep *step = pattern_step_new (draft->verb->name);
  for (guint i = 0; i < draft->verb->n_parameters; i++)
    pattern_step_set (step, parameter_of (draft, i)->key, draft->texts[i]);
  return step;
}

static gboolean
is_empty (const AppDraft *draft, guint i)
{
  return draft->texts[i][strspn (draft->texts[i], " ")] == '\0';
}

static gboolean
is_lacking (const AppDraft *draft, guint i)
{
  const DraftingParameter *parameter = parameter_of (draft, i);
  return is_empty (draft, i) && parameter->kind != DRAFTING_TEXT
         && (parameter->start == NULL || *parameter->start != '\0');
}

/* --- what it comes to ------------------------------------------------------------------ */
static void
set_trouble (AppDraft *draft, const char *text, gboolean bad, int field)
{
  g_free (draft->trouble);
  draft->trouble = g_strdup (text);
  draft->bad = bad;
  draft->trouble_field = field;
}

static const char *
lack_words (const DraftingParameter *parameter)
{
  switch (parameter->kind)
    {
    case DRAFTING_PIECE:
      return _ ("Click the piece on the table.");
    case DRAFTING_PIECES:
      return _ ("Click the pieces on the table.");
    case DRAFTING_EDGE:
      return _ ("Click the edge on the table.");
    case DRAFTING_EDGES:
      return _ ("Click the edges on the table, one after the other.");
    case DRAFTING_NODE:
      return _ ("Click the node on the table: its edge first, then the node.");
    case DRAFTING_SEAM:
      return _ ("Click an edge of the seam on the table.");
    case DRAFTING_DART:
      return _ ("Click a leg of the dart on the table.");
    case DRAFTING_POINT:
      return _ ("Click the place on the table.");
    case DRAFTING_POINTS:
      return _ ("Click the places on the table, one after the other.");
    default:
      return _ ("Type the amount.");
    }
}

static int
first_lack (const AppDraft *draft)
{
  for (guint i = 0; i < draft->verb->n_parameters; i++)
    if (is_lacking (draft, i))
      return (int)i;
  return -1;
}

/* The pattern with the verb done, or NULL with the error set. */
static Pattern *
result_of (AppDraft *draft, GError **error)
{
  const Pattern *p = app_session_get_pattern (draft->session);
  g_autoptr (PatternStep) step = step_of (draft);
  g_clear_pointer (&draft->lets_go, g_free);
  if (draft->recipe != 0)
    return drafting_set_recipe (p, draft->recipe, step, error);
  return drafting_step_do (p, step, &draft->lets_go, error);
}

static int
field_of (const AppDraft *draft, const DraftingParameter *parameter)
{
  return parameter ? (int)(parameter - draft->verb->parameters) : -1;
}

static void
show_result (AppDraft *draft)
{
  AppSession *s = draft->session;
  g_autoptr (PatternStep) step = step_of (draft);
  const DraftingParameter *bad = NULL;
  g_autoptr (GError) error = NULL;
  int lack = first_lack (draft);
  Pattern *done = NULL;
  g_clear_pointer (&draft->lets_go, g_free);
  if (lack >= 0)
    {
      const DraftingParameter *parameter = parameter_of (draft, (guint)lack);
      g_autofree char *words = g_strdup_printf ("%s: %s", _ (parameter->label),
                                                lack_words (parameter));
      set_trouble (draft, words, FALSE, lack);
    }
  else if (!drafting_step_check (app_session_get_pattern (s), step, &bad,
                                 &error))
    set_trouble (draft, error->message, TRUE, field_of (draft, bad));
  else if ((done = result_of (draft, &error)) == NULL)
    set_trouble (draft, error->message, TRUE, -1);
  else
    set_trouble (draft, NULL, FALSE, -1);
  draft->showing = TRUE;
  if (done != NULL)
    app_session_preview (s, done, NULL);
  else
    app_session_cancel (s);
  draft->showing = FALSE;
}

static void
draft_changed (AppDraft *draft)
{
  AppSession *s = draft->session;
  show_result (draft);
  g_signal_emit_by_name (s, "draft-changed");
}

/* Undone, done again, or edited elsewhere. */
static void
on_state_changed (AppSession *s)
{
  AppDraft *draft = s->draft;
  if (draft == NULL || draft->showing)
    return;
  if (draft->recipe != 0
      && !pattern_get_recipe (app_session_get_pattern (s), draft->recipe))
    app_draft_end (s);
  else
    draft_changed (draft);
}

/* --- asking ---------------------------------------------------------------------------- */
const DraftingVerb *
app_draft_get_verb (const AppDraft *draft)
{
  return draft->verb;
}

guint
app_draft_get_recipe (const AppDraft *draft)
{
  return draft->recipe;
}

const char *
app_draft_get_text (const AppDraft *draft, guint i)
{
  g_return_val_if_fail (i < draft->verb->n_parameters, "");
  return draft->texts[i];
}

char *
app_draft_get_words (const AppDraft *draft, guint i)
{
  g_return_val_if_fail (i < draft->verb->n_parameters, NULL);
  const DraftingParameter *parameter = parameter_of (draft, i);
  if (parameter->kind == DRAFTING_POINT && !is_empty (draft, i))
    return g_strdup (_ ("a place on the table"));
  if (parameter->kind == DRAFTING_POINTS && !is_empty (draft, i))
    {
      guint n = app_draft_count (draft->texts[i]);
      return g_strdup_printf (ngettext ("%u place", "%u places", n), n);
    }
  return drafting_argument_words (app_session_get_pattern (draft->session),
                                  parameter, draft->texts[i]);
}

guint
app_draft_get_active (const AppDraft *draft)
{
  return draft->active;
}

const char *
app_draft_get_trouble (const AppDraft *draft, gboolean *bad)
{
  if (bad)
    *bad = draft->bad;
  return draft->trouble;
}

const char *
app_draft_get_lets_go (const AppDraft *draft)
{
  return draft->lets_go;
}

int
app_draft_get_trouble_field (const AppDraft *draft)
{
  return draft->trouble_field;
}

const char *
app_draft_hint (const AppDraft *draft)
{
  AppDraft *own = (AppDraft *)draft;
  const DraftingParameter *parameter = parameter_of (draft, draft->active);
  g_free (own->hint);
  if (draft->verb->n_parameters == 0)
    own->hint = g_strdup (_ (draft->verb->hint));
  else if (app_draft_is_pick (parameter))
    own->hint = g_strdup_printf (_ ("%s: %s Enter does it, Esc leaves it."),
                                 _ (parameter->label), lack_words (parameter));
  else
    own->hint = g_strdup (_ ("Enter does it, Esc leaves it."));
  return own->hint;
}

/* --- changing -------------------------------------------------------------------------- */
void
app_draft_set_text (AppDraft *draft, guint i, const char *text)
{
  g_return_if_fail (i < draft->verb->n_parameters && text != NULL);
  if (strcmp (draft->texts[i], text) == 0)
    return;
  pattern_set_string (&draft->texts[i], text);
  draft_changed (draft);
}

gboolean
app_draft_step (AppDraft *draft, guint i, int by)
{
  g_return_val_if_fail (i < draft->verb->n_parameters, FALSE);
  const Pattern *p = app_session_get_pattern (draft->session);
  const DraftingParameter *parameter = parameter_of (draft, i);
  double value = 0;
  g_autofree char *text = NULL;
  if (parameter->kind == DRAFTING_LENGTH)
    {
      if (!is_empty (draft, i)
          && !pattern_amount_evaluate (p, draft->texts[i], p->unit, &value,
                                       NULL))
        return FALSE;
      value += by * pattern_length_step (p->unit);
    }
  else if (parameter->kind < DRAFTING_YES)
    {
      g_autofree char *plain = g_strdup (draft->texts[i]);
      g_strdelimit (plain, "%", ' ');
      if (!is_empty (draft, i)
          && !pattern_amount_evaluate_number (p, plain, &value, NULL))
        return FALSE;
      value += by * (parameter->kind == DRAFTING_SHARE ? 5 : 1);
    }
  else
    return FALSE;
  if (parameter->least != 0 || parameter->most != 0)
    value = CLAMP (value, parameter->least, parameter->most);
  if (parameter->kind == DRAFTING_LENGTH)
    text = pattern_length_format (value, p->unit, TRUE);
  else
    text = g_strdup_printf ("%.6g", value);
  app_draft_set_text (draft, i, text);
  return TRUE;
}

void
app_draft_set_active (AppDraft *draft, guint i)
{
  g_return_if_fail (i < draft->verb->n_parameters);
  if (draft->active == i)
    return;
  draft->active = i;
  g_signal_emit_by_name (draft->session, "draft-changed");
}

void
app_draft_move_active (AppDraft *draft, int by)
{
  guint n = draft->verb->n_parameters;
  if (n > 0)
    app_draft_set_active (draft,
                          (draft->active + n + (by < 0 ? n - 1 : 1)) % n);
}

/* Where the next thing is to be filled in; after a pick that may go on (several) it stays. */
static void
go_on (AppDraft *draft)
{
  int lack = first_lack (draft);
  if (lack >= 0)
    draft->active = (guint)lack;
  else
    for (guint i = 0; i < draft->verb->n_parameters; i++)
      if (!app_draft_is_pick (parameter_of (draft, i))
          && !(app_draft_is_place (draft, i) && !is_empty (draft, i)))
        {
          draft->active = i;
          break;
        }
}

static GStrv
dup_texts (const AppDraft *draft)
{
  guint n = draft->verb->n_parameters;
  GStrv texts = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    texts[i] = g_strdup (draft->texts[i]);
  return texts;
}

gboolean
app_draft_take_back (AppDraft *draft)
{
  if (draft->clicks->len == 0)
    return FALSE;
  g_auto (GStrv) before
      = g_ptr_array_steal_index (draft->clicks, draft->clicks->len - 1);
  for (guint i = draft->verb->n_parameters; i-- > 0;)
    if (strcmp (draft->texts[i], before[i]) != 0)
      {
        pattern_set_string (&draft->texts[i], before[i]);
        draft->active = i;
      }
  draft_changed (draft);
  return TRUE;
}

gboolean
app_draft_click (AppDraft *draft, GeoPoint at, double reach)
{
  g_auto (GStrv) before = dup_texts (draft);
  int filled = app_draft_fill_click (draft, at, reach);
  if (filled < 0)
    return FALSE;
  g_ptr_array_add (draft->clicks, g_steal_pointer (&before));
  DraftingParameterKind kind = parameter_of (draft, (guint)filled)->kind;
  draft->active = (guint)filled;
  if (kind != DRAFTING_EDGES && kind != DRAFTING_PIECES
      && kind != DRAFTING_POINTS)
    go_on (draft);
  draft_changed (draft);
  return TRUE;
}

/* --- doing ----------------------------------------------------------------------------- */
/* Of a recipe that was not there before. */
static guint
new_piece (const Pattern *before, const Pattern *now)
{
  for (guint r = 0; r < now->n_recipes; r++)
    if (!pattern_get_recipe (before, now->recipes[r]->id))
      for (guint i = 0; i < now->recipes[r]->n_made; i++)
        if (pattern_part_is_piece (now->recipes[r]->made[i].part))
          return now->recipes[r]->made[i].id;
  return 0;
}

gboolean
app_draft_do (AppDraft *draft)
{
  AppSession *s = draft->session;
  int lack = first_lack (draft);
  if (lack >= 0)
    {
      draft->active = (guint)lack;
      draft_changed (draft);
      g_signal_emit_by_name (s, "problem", draft->trouble);
      return FALSE;
    }
  g_autoptr (Pattern) before = pattern_ref (app_session_get_pattern (s));
  g_autoptr (PatternStep) step = step_of (draft);
  g_autofree char *label = drafting_step_describe (before, step);
  if (draft->recipe != 0)
    {
      g_autofree char *title = g_steal_pointer (&label);
      label = g_strdup_printf (_ ("change amounts: %s"), title);
    }
  GError *error = NULL;
  Pattern *done = result_of (draft, &error);
  /* Bare amounts mean the same when the change is done again in another unit. */
  pattern_step_set (step, "unit", pattern_unit_word (before->unit));
  if (done != NULL && draft->recipe == 0)
    app_session_tell_step (s, step);
  draft->showing = TRUE;
  gboolean worked = app_session_do (s, label, NULL, done, &error);
  draft->showing = FALSE;
  if (!worked)
    {
      draft_changed (draft);
      return FALSE;
    }
  guint piece = new_piece (before, app_session_get_pattern (s));
  app_draft_end (s);
  if (piece != 0)
    app_session_pick_piece (s, piece, FALSE);
  return TRUE;
}

/* --- beginning --------------------------------------------------------------------------- */
static AppDraft *
draft_new (AppSession *session, const DraftingVerb *verb)
{
  app_session_cancel (session);
  app_session_drop_draft (session);
  AppDraft *draft = g_new0 (AppDraft, 1);
  app_walk_end (session);
  draft->session = session;
  draft->verb = verb;
  draft->texts = g_new0 (char *, verb->n_parameters + 1);
  draft->clicks = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  draft->trouble_field = -1;
  draft->handler = g_signal_connect (session, "state-changed",
                                     G_CALLBACK (on_state_changed), NULL);
  session->draft = draft;
  return draft;
}

gboolean
app_draft_begin (AppSession *session, const char *verb)
{
  g_return_val_if_fail (APP_IS_SESSION (session) && verb != NULL, FALSE);
  const DraftingVerb *found = drafting_verb_find (verb);
  if (found == NULL)
    return FALSE;
  app_walk_end (session);
  AppDraft *draft = draft_new (session, found);
  const Pattern *p = app_session_get_pattern (session);
  for (guint i = 0; i < found->n_parameters; i++)
    draft->texts[i] = start_text (p, &found->parameters[i]);
  app_draft_fill_picked (draft);
  go_on (draft);
  draft_changed (draft);
  return TRUE;
}

gboolean
app_draft_begin_recipe (AppSession *session, guint recipe)
{
  g_return_val_if_fail (APP_IS_SESSION (session), FALSE);
  const Pattern *p = app_session_get_pattern (session);
  const PatternRecipe *own = pattern_get_recipe (p, recipe);
  const DraftingVerb *verb = own ? drafting_verb_find (own->step->verb) : NULL;
  if (verb == NULL)
    return FALSE;
  app_walk_end (session);
  AppDraft *draft = draft_new (session, verb);
  draft->recipe = recipe;
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      const char *text = pattern_step_get (own->step, verb->parameters[i].key);
      draft->texts[i]
          = app_draft_argument_shown (p, own->step, &verb->parameters[i], text);
    }
  go_on (draft);
  draft_changed (draft);
  return TRUE;
}
