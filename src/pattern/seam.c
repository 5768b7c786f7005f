/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "pattern/parts.h"

PatternSeam *
pattern_seam_new (guint id, const char *name)
{
  PatternSeam *seam = g_new0 (PatternSeam, 1);
  g_atomic_ref_count_init (&seam->refs);
  seam->id = id;
  seam->name = g_strdup (name ? name : "");
  return seam;
}

PatternSeam *
pattern_seam_dup (const PatternSeam *seam)
{
  g_return_val_if_fail (seam != NULL, NULL);
  PatternSeam *copy = g_new (PatternSeam, 1);
  *copy = *seam;
  g_atomic_ref_count_init (&copy->refs);
  copy->name = g_strdup (seam->name);
  copy->extra = g_strdup (seam->extra);
  copy->spans = g_memdup2 (seam->spans, seam->n_spans * sizeof *seam->spans);
  for (int s = 0; s < 2; s++)
    copy->sides[s].runs = g_memdup2 (
        seam->sides[s].runs, seam->sides[s].n_runs * sizeof (PatternRun));
  return copy;
}

PatternSeam *
pattern_seam_ref (const PatternSeam *seam)
{
  g_return_val_if_fail (seam != NULL, NULL);
  PatternSeam *own = (PatternSeam *)seam;
  g_atomic_ref_count_inc (&own->refs);
  return own;
}

void
pattern_seam_unref (PatternSeam *seam)
{
  g_return_if_fail (seam != NULL);
  if (!g_atomic_ref_count_dec (&seam->refs))
    return;
  g_free (seam->name);
  g_free (seam->extra);
  g_free (seam->sides[0].runs);
  g_free (seam->sides[1].runs);
  g_free (seam->spans);
  g_free (seam);
}

void
pattern_seam_add_run (PatternSeam *seam, int side, PatternRun run)
{
  g_return_if_fail (seam != NULL && (side == 0 || side == 1));
  PatternSide *own = &seam->sides[side];
  PATTERN_APPEND (own->runs, own->n_runs, run);
}

static int
find_span (const PatternSeam *seam, guint from, guint to)
{
  for (guint i = 0; i < seam->n_spans; i++)
    if (seam->spans[i].from == from && seam->spans[i].to == to)
      return (int)i;
  return -1;
}

void
pattern_seam_put_span (PatternSeam *seam, PatternEaseSpan span)
{
  g_return_if_fail (seam != NULL);
  int i = find_span (seam, span.from, span.to);
  if (i >= 0)
    seam->spans[i] = span;
  else
    PATTERN_APPEND (seam->spans, seam->n_spans, span);
}

gboolean
pattern_seam_remove_span (PatternSeam *seam, guint from, guint to)
{
  g_return_val_if_fail (seam != NULL, FALSE);
  int i = find_span (seam, from, to);
  if (i < 0)
    return FALSE;
  PATTERN_TAKE_OUT (seam->spans, seam->n_spans, (guint)i);
  return TRUE;
}

const PatternEaseSpan *
pattern_seam_get_span (const PatternSeam *seam, guint from, guint to)
{
  g_return_val_if_fail (seam != NULL, NULL);
  int i = find_span (seam, from, to);
  return i >= 0 ? &seam->spans[i] : NULL;
}

static gboolean
has_gone_run (const PatternSeam *seam,
              gboolean (*gone) (const PatternRun *, gconstpointer),
              gconstpointer data)
{
  for (int s = 0; s < 2; s++)
    for (guint i = 0; i < seam->sides[s].n_runs; i++)
      if (gone (&seam->sides[s].runs[i], data))
        return TRUE;
  return FALSE;
}

PatternSeam *
pattern_seam_without (const PatternSeam *seam,
                      gboolean (*gone) (const PatternRun *, gconstpointer),
                      gconstpointer data)
{
  g_autoptr (PatternSeam) left = NULL;
  if (has_gone_run (seam, gone, data))
    {
      left = pattern_seam_dup (seam);
      for (int s = 0; s < 2; s++)
        {
          PatternSide *side = &left->sides[s];
          guint kept = 0;
          for (guint i = 0; i < side->n_runs; i++)
            if (!gone (&side->runs[i], data))
              side->runs[kept++] = side->runs[i];
          side->n_runs = kept;
        }
    }
  else
    left = pattern_seam_ref (seam);
  if (left->sides[0].n_runs == 0 || left->sides[1].n_runs == 0)
    return NULL;
  return g_steal_pointer (&left);
}

static gboolean
sides_equal (const PatternSide *a, const PatternSide *b)
{
  if (a->n_runs != b->n_runs)
    return FALSE;
  for (guint i = 0; i < a->n_runs; i++)
    if (a->runs[i].piece != b->runs[i].piece
        || a->runs[i].edge != b->runs[i].edge
        || !a->runs[i].reversed != !b->runs[i].reversed)
      return FALSE;
  return TRUE;
}

static gboolean
spans_equal (const PatternSeam *a, const PatternSeam *b)
{
  if (a->n_spans != b->n_spans)
    return FALSE;
  for (guint i = 0; i < a->n_spans; i++)
    if (a->spans[i].from != b->spans[i].from || a->spans[i].to != b->spans[i].to
        || a->spans[i].amount != b->spans[i].amount
        || !a->spans[i].per_cent != !b->spans[i].per_cent)
      return FALSE;
  return TRUE;
}

gboolean
pattern_seam_equal (const PatternSeam *a, const PatternSeam *b)
{
  return a == b
         || (a->id == b->id && a->join == b->join && a->ease == b->ease
             && a->press == b->press && spans_equal (a, b)
             && g_strcmp0 (a->name, b->name) == 0
             && g_strcmp0 (a->extra, b->extra) == 0
             && sides_equal (&a->sides[0], &b->sides[0])
             && sides_equal (&a->sides[1], &b->sides[1]));
}
