/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tracing: what it says, one sentence at a time. */
#include <glib/gi18n.h>
#include <math.h>

#include "app/tracing-private.h"

const char *
app_tracing_get_trouble (const AppTracing *t)
{
  return t->trouble;
}

static gboolean
is_open (const AppTracing *t, AppTracingWorkKind kind)
{
  return t->want[kind] != t->have[kind];
}

static const char *
size_says (const AppTracing *t)
{
  const AppTracingSet *set = &t->set;
  switch (set->by)
    {
    case APP_TRACING_BY_SHEET:
      if (!set->has_corners)
        return _ ("Looking for the sheet in the picture…");
      if (set->guessed != 0)
        return _ ("Drag each corner onto a corner of the sheet.");
      return _ ("Does the line run round your sheet? Then go on; else drag its "
                "corners, or click in the sheet.");
    case APP_TRACING_BY_DISTANCE:
      if (set->n_ends == 0)
        return _ ("Click on two places whose distance you know, such as two "
                  "marks on a tape.");
      if (set->n_ends == 1)
        return _ ("Now the second place.");
      return set->distance > 0 ? _ ("Drag the ends to be exact, then go on.")
                               : _ ("Type how far apart they are.");
    case APP_TRACING_BY_FILE:
    default:
      return _ ("A scanner knows its own scale: go on, if this is a scan.");
    }
}

static const char *
outline_says (const AppTracing *t)
{
  const AppTracingSet *set = &t->set;
  if (set->what == APP_TRACING_LIKE && !set->has_like)
    return _ ("Click on a piece: what has its colour becomes piece.");
  if (is_open (t, APP_TRACING_PART) || is_open (t, APP_TRACING_FOLLOW))
    return _ ("Following the outlines; move the level if the tint misses a "
              "piece.");
  if (set->what == APP_TRACING_DRAWN)
    return app_tracing_n_lines (t) == 0
               ? _ ("No drawn line was found. Draw over it with a softer "
                    "pencil or a pen, or follow it by hand.")
               : _ ("Closed lines become pieces, others lines on the table. "
                    "Click on one to leave it out or take it in.");
  if (app_tracing_n_lines (t) == 0)
    return _ ("Nothing was found: move the level until the tint covers the "
              "pieces and no more.");
  return app_tracing_n_taken (t) == 0
             ? _ ("Click on what is to become a piece.")
             : _ ("These become pieces. Click on one to leave it out or take "
                  "it in, then lay them.");
}

const char *
app_tracing_says (const AppTracing *t)
{
  switch (t->set.stage)
    {
    case APP_TRACING_SIZE:
      return size_says (t);
    case APP_TRACING_OUTLINE:
      return outline_says (t);
    case APP_TRACING_READING:
    default:
      return _ ("The picture is being read.");
    }
}

const char *
app_tracing_hint (const AppTracing *t)
{
  if (t->set.stage == APP_TRACING_READING)
    return NULL;
  if (t->set.stage == APP_TRACING_SIZE && t->set.by != APP_TRACING_BY_FILE)
    return _ ("Tab goes from corner to corner, arrows move it by a pixel, "
              "Enter goes on.");
  if (t->set.stage == APP_TRACING_OUTLINE)
    return _ ("Tab goes from outline to outline, Space takes or leaves it, "
              "Enter lays the pieces, Escape goes back.");
  return _ ("Enter goes on.");
}
