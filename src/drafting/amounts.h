/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Saying no to amounts that can't be drafted, with the largest that can. */
#pragma once

#include "drafting/edit.h"

typedef enum
{
  DRAFTING_AMOUNT_LENGTH, /* mm */
  DRAFTING_AMOUNT_DEGREES,
  DRAFTING_AMOUNT_SHARE, /* per cent */
} DraftingAmountUnit;

typedef struct
{
  double *amount;
  double neutral;    /* an amount sure to work, were it only for this one */
  const char *label; /* N_(): as its field's */
  DraftingAmountUnit unit;
} DraftingAmount;

/* Whether what is drafted from the amounts as they now stand is sound. */
typedef gboolean (*DraftingWorks) (gpointer data);

/* Finds the amount that is to blame: the first that, neutral, lets the rest work; then how much of it
 * would do, to a tenth. Always FALSE, with the error set; the amounts are as they were. */
gboolean drafting_refuse_amounts (const Pattern *p, DraftingAmount *amounts,
                                  guint n, DraftingWorks works, gpointer data,
                                  const char *otherwise, GError **error);
