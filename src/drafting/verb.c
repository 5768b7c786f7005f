/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of all verbs. A file of verbs is listed here by its table's function. */
#include "drafting/verb.h"

#include <string.h>

typedef const DraftingVerb *(*Table) (guint *n);

/* Tests add a table of their own. */
static Table more;

/* clang-format off: one a line, so that lines can be added side by side. */
static const Table tables[] = {
  drafting_verbs_of_darts,
  drafting_verbs_of_spreads,
  drafting_verbs_of_edges,
  drafting_verbs_of_pieces,
  drafting_verbs_of_guides,
  drafting_verbs_of_truing,
  drafting_verbs_of_traced,
  drafting_verbs_of_scans,
  drafting_verbs_of_capes,
  drafting_verbs_of_collars,
  drafting_verbs_of_linings,
  drafting_verbs_of_closings,
  drafting_verbs_of_strips,
  drafting_verbs_of_links,
  drafting_verbs_of_torsos,
  drafting_verbs_of_blocks,
};
/* clang-format on */

static const DraftingVerb *
find_in (Table table, guint *skip)
{
  guint n = 0;
  const DraftingVerb *verbs = table (&n);
  if (*skip < n)
    return &verbs[*skip];
  *skip -= n;
  return NULL;
}

const DraftingVerb *
drafting_verb_nth (guint n)
{
  const DraftingVerb *verb = NULL;
  for (guint i = 0; !verb && i < G_N_ELEMENTS (tables); i++)
    if (tables[i])
      verb = find_in (tables[i], &n);
  return verb || !more ? verb : find_in (more, &n);
}

guint
drafting_verb_count (void)
{
  guint n = 0;
  while (drafting_verb_nth (n))
    n++;
  return n;
}

const DraftingVerb *
drafting_verb_find (const char *name)
{
  g_return_val_if_fail (name != NULL, NULL);
  const DraftingVerb *verb;
  for (guint i = 0; (verb = drafting_verb_nth (i)) != NULL; i++)
    if (strcmp (verb->name, name) == 0)
      return verb;
  return NULL;
}

void
drafting_verbs_add_table (const DraftingVerb *(*table) (guint *n))
{
  more = table;
}
