/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two slopers that come with the program, for tests of recipes. */
#pragma once

#include <string.h>

#include "drafting/lay.h"
#include "file/document.h"

typedef struct
{
  Pattern *pattern;
  const PatternPiece *back, *front;
} Sloper;

static inline void
sloper_init (Sloper *s)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "slopers.bodkin", NULL);
  GError *error = NULL;
  s->pattern = file_document_load (path, &error);
  g_assert_no_error (error);
  s->back = s->pattern->pieces[0];
  s->front = s->pattern->pieces[1];
}

static inline void
sloper_clear (Sloper *s)
{
  pattern_unref (s->pattern);
}

static inline PatternRun
sloper_run (const PatternPiece *piece, const char *edge)
{
  for (guint i = 0; i < piece->n_edges; i++)
    if (strcmp (piece->edges[i].name, edge) == 0)
      return (PatternRun){ piece->id, piece->edges[i].id, FALSE };
  g_assert_not_reached ();
}

/* Back neck and front neck, joined at the shoulder. */
static inline void
sloper_lay_neck (const Sloper *s, DraftingLay *lay)
{
  PatternRun runs[]
      = { sloper_run (s->back, "neck"), sloper_run (s->front, "neck") };
  GError *error = NULL;
  g_assert_true (drafting_lay_runs (s->pattern, runs, 2, lay, &error));
  g_assert_no_error (error);
}
