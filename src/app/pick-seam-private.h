/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a picked seam, for the pick-seam*.c files only: what is entered stands in pick-seam.c, what
 * is shown in pick-seam-show.c. */
#pragma once

#include "app/ease-rows.h"

typedef struct
{
  AppPage page;
  GtkWidget *title, *state, *name, *allowance, *press, *join;
  GtkWidget *ease, *ease_share, *longer, *too_much;
  GtkWidget *sides, *lengths[2], *length_names[2], *difference;
  gboolean
      longer_known; /* she or the seam has said which side is to be longer */
  GtkWidget *table_heading, *table, *loose, *spans;
  GtkWidget *clips[2], *clip_names[2], *plies[2], *stagger, *turns[2];
  GtkWidget *trues[2], *true_heading;
  char *sides_key, *table_key;
} SeamPage;

/* Its update: every value as the shown pattern has it. */
void app_seam_page_show (AppPage *page);
