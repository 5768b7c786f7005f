/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/amounts.h"

#include <glib/gi18n.h>
#include <math.h>

#include "drafting/edit-private.h"
#include "sewing/words.h"

#define ROUNDS 24
#define STEP 0.1 /* mm or degrees told */

static char *
words_of (const Pattern *p, const DraftingAmount *amount, double value)
{
  if (amount->unit == DRAFTING_AMOUNT_DEGREES)
    return g_strdup_printf (_ ("%.1f°"), value);
  if (amount->unit == DRAFTING_AMOUNT_SHARE)
    return g_strdup_printf (_ ("%.1f %%"), value);
  return sewing_words_length (p, value);
}

/* The amount nearest what was asked that works, neutral being one that does. */
static double
nearest_that_works (DraftingAmount *amount, double asked, DraftingWorks works,
                    gpointer data)
{
  double good = amount->neutral, bad = asked;
  for (int i = 0; i < ROUNDS; i++)
    {
      *amount->amount = (good + bad) / 2;
      if (works (data))
        good = *amount->amount;
      else
        bad = *amount->amount;
    }
  /* Rounded towards what works. */
  double way = asked > amount->neutral ? 1 : -1;
  return way * floor (way * good / STEP + 1e-6) * STEP;
}

gboolean
drafting_refuse_amounts (const Pattern *p, DraftingAmount *amounts, guint n,
                         DraftingWorks works, gpointer data,
                         const char *otherwise, GError **error)
{
  for (guint i = 0; i < n; i++)
    {
      double asked = *amounts[i].amount;
      if (asked == amounts[i].neutral)
        continue;
      *amounts[i].amount = amounts[i].neutral;
      gboolean to_blame = works (data);
      double most
          = to_blame ? nearest_that_works (&amounts[i], asked, works, data) : 0;
      *amounts[i].amount = asked;
      if (!to_blame)
        continue;
      g_autofree char *is = words_of (p, &amounts[i], asked);
      g_autofree char *can = words_of (p, &amounts[i], most);
      return drafting_refuse (
          error, DRAFTING_ERROR_AMOUNT,
          asked > amounts[i].neutral
              ? _ ("%s: %s can't be drafted here. The most that works is %s.")
              : _ ("%s: %s can't be drafted here. The least that works is "
                   "%s."),
          _ (amounts[i].label), is, can);
    }
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE, "%s", otherwise);
}
