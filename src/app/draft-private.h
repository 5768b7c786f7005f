/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of AppDraft, for the draft*.c files only. */
#pragma once

#include "app/draft.h"

struct _AppDraft
{
  AppSession *session;
  gulong handler;
  const DraftingVerb *verb;
  guint recipe;
  char **texts; /* one a parameter; not NULL */
  guint active;
  char *trouble;
  gboolean bad;
  char *lets_go; /* recipes this frees, or NULL */
  int trouble_field;
  gboolean showing; /* what changes is the preview */
  char *hint;
  GPtrArray *clicks; /* a GStrv each: texts as they were before a click */
};

/* Things in an argument. */
guint app_draft_count (const char *text);
/* What is picked goes into the fields it fits; each pick into one. */
void app_draft_fill_picked (AppDraft *draft);
/* A length that says where on the edge in the field before. */
gboolean app_draft_is_place (const AppDraft *draft, guint field);
/* The field that took the click, -1 for none. */
int app_draft_fill_click (AppDraft *draft, GeoPoint at, double reach);
/* An argument of a recipe as it is to be read in the pattern's unit. */
char *app_draft_with_unit (const Pattern *p, const PatternStep *step,
                           const DraftingParameter *parameter,
                           const char *text);
