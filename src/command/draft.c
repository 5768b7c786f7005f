/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bodkin draft: one verb of drafting, done to a pattern. */
#include <glib/gi18n.h>
#include <string.h>

#include "command/command-private.h"
#include "drafting/verb.h"
#include "file/document.h"

static const char *const group_names[] = {
  [DRAFTING_GROUP_DART] = N_ ("Darts"),
  [DRAFTING_GROUP_SPREAD] = N_ ("Slash and spread"),
  [DRAFTING_GROUP_EDGE] = N_ ("Edges"),
  [DRAFTING_GROUP_PIECE] = N_ ("Pieces"),
  [DRAFTING_GROUP_GUIDE] = N_ ("Guides and figures"),
  [DRAFTING_GROUP_TRUE] = N_ ("Truing"),
  [DRAFTING_GROUP_TRACED] = N_ ("After tracing"),
  [DRAFTING_GROUP_DRAFT] = N_ ("Linked pieces"),
};

/* --- telling ---------------------------------------------------------------------- */
static int
list_verbs (void)
{
  for (guint g = 0; g < G_N_ELEMENTS (group_names); g++)
    {
      gboolean led = FALSE;
      const DraftingVerb *verb;
      for (guint i = 0; (verb = drafting_verb_nth (i)) != NULL; i++)
        if ((guint)verb->group == g)
          {
            if (!led)
              g_print ("%s\n", _ (group_names[g]));
            led = TRUE;
            g_print ("  %-22s %s\n", verb->name, _ (verb->hint));
          }
    }
  return COMMAND_DONE;
}

static const char *
kind_words (DraftingParameterKind kind)
{
  switch (kind)
    {
    case DRAFTING_LENGTH:
      return _ ("a length, such as 35mm, 5/8in or “bust girth / 4 + 1 cm”");
    case DRAFTING_ANGLE:
      return _ ("degrees");
    case DRAFTING_SHARE:
      return _ ("per cent");
    case DRAFTING_NUMBER:
      return _ ("a number");
    case DRAFTING_COUNT:
      return _ ("a whole number");
    case DRAFTING_YES:
      return _ ("yes or no");
    case DRAFTING_CHOICE:
      return _ ("one of");
    case DRAFTING_TEXT:
      return _ ("words");
    case DRAFTING_PIECE:
      return _ ("a piece, by name or number");
    case DRAFTING_PIECES:
      return _ ("pieces, parted by commas");
    case DRAFTING_EDGE:
      return _ ("an edge, such as front/neck; -front/neck is walked backwards");
    case DRAFTING_EDGES:
      return _ ("edges in order, parted by commas, such as "
                "-front/neck,back/neck");
    case DRAFTING_NODE:
      return _ (
          "a node, such as front/neck/start, front/neck/end or front/n12");
    case DRAFTING_SEAM:
      return _ ("a seam, by name or number");
    case DRAFTING_DART:
      return _ ("a dart, by the name or number of its seam");
    case DRAFTING_POINT:
      return _ ("a point on the table, X,Y in mm");
    case DRAFTING_POINTS:
      return _ ("points on the table, X,Y X,Y ... in mm");
    }
  return "";
}

static void
print_parameter (const DraftingParameter *p)
{
  g_print ("  %s=  %s: %s", p->key, _ (p->label), kind_words (p->kind));
  if (p->kind == DRAFTING_CHOICE)
    for (guint i = 0; p->choices[i] != NULL; i++)
      g_print ("%s %s", i > 0 ? "," : "", p->choices[i]);
  if (p->least != 0 || p->most != 0)
    g_print (_ (" (%g to %g)"), p->least, p->most);
  if (p->start == NULL)
    g_print (_ ("; must be given"));
  else if (*p->start != '\0')
    g_print (_ ("; %s where not given"), p->start);
  g_print ("\n");
}

static int
help_verb (const char *name)
{
  const DraftingVerb *verb = drafting_verb_find (name);
  if (verb == NULL)
    return command_misused ("draft",
                            _ ("there is no verb “%s”; “bodkin draft --list” "
                               "names them all"),
                            name);
  g_print ("%s: %s\n%s\n\n", verb->name, _ (verb->title), _ (verb->hint));
  for (guint i = 0; i < verb->n_parameters; i++)
    print_parameter (&verb->parameters[i]);
  return COMMAND_DONE;
}

/* --- doing ------------------------------------------------------------------------ */
static Pattern *
draft (const Pattern *p, int n_words, char **words, char **told, GError **error)
{
  g_autoptr (PatternStep) step = drafting_step_parse (p, n_words, words, error);
  if (step == NULL)
    return NULL;
  const DraftingParameter *bad = NULL;
  GError *cause = NULL;
  if (!drafting_step_check (p, step, &bad, &cause))
    {
      if (bad != NULL)
        g_propagate_prefixed_error (error, cause, "%s (%s=): ", step->verb,
                                    bad->key);
      else
        g_propagate_error (error, cause);
      return NULL;
    }
  g_autofree char *let_go = NULL;
  Pattern *done = drafting_step_do (p, step, &let_go, error);
  if (let_go != NULL)
    g_printerr (_ ("bodkin: %s is let go: its pieces are no longer drafted "
                   "again.\n"),
                let_go);
  if (done != NULL)
    *told = drafting_step_describe (p, step);
  return done;
}

static int
write_pattern (const Pattern *pattern, const char *path)
{
  g_autoptr (GError) error = NULL;
  if (g_str_equal (path, "-"))
    {
      g_autofree char *text = file_document_write (pattern, NULL);
      return command_write (NULL, text);
    }
  if (!command_has_ending (path, FILE_DOCUMENT_SUFFIX))
    return command_misused ("draft", _ ("“%s” should end in .bodkin"), path);
  return file_document_save (pattern, path, &error)
             ? COMMAND_DONE
             : command_fail ("%s", error->message);
}

static void
tell_trouble (const Pattern *pattern)
{
  for (guint i = 0; i < pattern->n_recipes; i++)
    if (pattern->recipes[i]->trouble != NULL)
      g_printerr (_ ("bodkin: %s could not be drafted again and is as it was: "
                     "%s\n"),
                  pattern->recipes[i]->name, pattern->recipes[i]->trouble);
}

static int
run_draft (int argc, char **argv, const char *output)
{
  if (argc < 3)
    return command_misused ("draft", "%s",
                            argc < 2 ? _ ("which pattern?")
                                     : _ ("which verb? “bodkin draft --list” "
                                          "names them all"));
  const char *path = argv[1];
  if (output == NULL && !command_has_ending (path, FILE_DOCUMENT_SUFFIX))
    return command_misused ("draft", "%s",
                            _ ("where should it be written? -o FILE.bodkin"));
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) pattern = command_load (path, -1, &error);
  if (pattern == NULL)
    return command_fail ("%s", error->message);
  g_autofree char *told = NULL;
  g_autoptr (Pattern) done = draft (pattern, argc - 2, argv + 2, &told, &error);
  if (done == NULL)
    return command_fail ("%s", error->message);
  tell_trouble (done);
  int status = write_pattern (done, output != NULL ? output : path);
  if (status == COMMAND_DONE)
    g_printerr ("%s\n", told);
  return status;
}

int
command_draft (int argc, char **argv)
{
  gboolean list = FALSE;
  char *output = NULL;
  /* --help VERB is about the verb. */
  for (int i = 1; i + 1 < argc; i++)
    if (g_str_equal (argv[i], "--help") || g_str_equal (argv[i], "-h"))
      return help_verb (argv[i + 1]);
  const GOptionEntry entries[] = {
    { "list", 'l', 0, G_OPTION_ARG_NONE, &list, N_ ("Name every verb"), NULL },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output,
      N_ ("Write to this file instead of over the one read; - for the standard "
          "output"),
      N_ ("FILE") },
    { NULL }
  };
  int status;
  if (command_options (
          "draft", _ ("FILE VERB [KEY=VALUE...]"),
          _ ("Does one verb of drafting to a pattern, as its bar in the window "
             "does, and drafts again\nwhat is linked to what it changed. "
             "Amounts are in the pattern's unit, or have their own; body\n"
             "figures may stand in them. Things are named by name or number: "
             "front, front/neck, s12.\n\"bodkin draft --list\" names the "
             "verbs, \"bodkin draft --help VERB\" tells what one takes."),
          entries, &argc, &argv, &status))
    status = list ? list_verbs () : run_draft (argc, argv, output);
  g_free (output);
  return status;
}
