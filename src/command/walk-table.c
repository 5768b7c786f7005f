/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/walk-table.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "sewing/shaping.h"
#include "sewing/walk.h"
#include "sewing/words.h"

/* A dart this narrow is none that anybody sews. */
#define FLAT_DEG 0.5

/* What the table is written from. */
typedef struct
{
  const Pattern *pattern;
  const PatternSeam *seam;
  const SewingSeam *known;
  const SewingShaping *shaping; /* NULL: says nothing of a dome */
} Walked;

/* --- columns ------------------------------------------------------------------- */

#define COLUMNS 9

static void
write_columns (GString *out, GPtrArray *cells)
{
  glong widths[COLUMNS] = { 0 };
  for (guint i = 0; i < cells->len; i++)
    widths[i % COLUMNS]
        = MAX (widths[i % COLUMNS], g_utf8_strlen (cells->pdata[i], -1));
  for (guint i = 0; i < cells->len; i++)
    {
      guint column = i % COLUMNS;
      glong by = widths[column] - g_utf8_strlen (cells->pdata[i], -1);
      gboolean left = column == 0;
      g_string_append_printf (out, "  %*s%s%*s", left ? 0 : (int)by, "",
                              (char *)cells->pdata[i], left ? (int)by : 0, "");
      if (column + 1 == COLUMNS)
        g_string_append_c (out, '\n');
    }
}

static void
cell (GPtrArray *cells, char *text)
{
  g_ptr_array_add (cells, text);
}

/* --- words ----------------------------------------------------------------------- */

static char *
length (const Walked *w, double mm)
{
  return pattern_length_format (mm, w->pattern->unit, FALSE);
}

static char *
degrees (double deg)
{
  if (fabs (deg) < 0.05)
    return g_strdup ("0.0°");
  return g_strdup_printf ("%s%.1f°", deg > 0 ? "+" : "−", fabs (deg));
}

static const PatternNotch *
notch_of (const Walked *w, int side, guint id)
{
  for (guint i = 0; id != 0 && i < w->seam->sides[side].n_runs; i++)
    {
      const PatternPiece *piece
          = pattern_get_piece (w->pattern, w->seam->sides[side].runs[i].piece);
      const PatternNotch *notch
          = piece != NULL ? pattern_piece_get_notch (piece, id) : NULL;
      if (notch != NULL)
        return notch;
    }
  return NULL;
}

/* What an interval runs to. */
static const char *
mark_name (const Walked *w, guint i)
{
  const SewingInterval *in = &w->known->intervals[i];
  const PatternNotch *notch = notch_of (w, 0, in->a_notch);
  if (i + 1 == w->known->n_intervals)
    return _ ("end");
  if (notch == NULL)
    notch = notch_of (w, 1, in->b_notch);
  return notch != NULL ? sewing_words_notch (notch->count) : _ ("joint");
}

/* With what sits at the seam's two ends, a dart's point, but shared with no
 * neighbour: what sits at a joint belongs to the stretch that ends there. */
static double
shaping_of (const Walked *w, guint i)
{
  const SewingInterval *in = &w->known->intervals[i];
  double whole = sewing_shaping_between (
      w->shaping, w->known->intervals[0].a_from, in->a_to);
  double before
      = i == 0 ? 0
               : sewing_shaping_between (
                   w->shaping, w->known->intervals[0].a_from, in->a_from);
  return whole - before;
}

static double
so_far (const SewingInterval *in)
{
  return in->a_to - in->b_to;
}

/* --- the table to read -------------------------------------------------------------- */

static void
write_stretches (GString *out, const Walked *w)
{
  const char *const titles[COLUMNS]
      = { _ ("to"),    _ ("at, on A"), _ ("at, on B"), _ ("A"),      _ ("B"),
          _ ("A − B"), _ ("so far"),   _ ("meant"),    _ ("shaping") };
  g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < COLUMNS; i++)
    cell (cells, g_strdup (titles[i]));
  for (guint i = 0; i < w->known->n_intervals; i++)
    {
      const SewingInterval *in = &w->known->intervals[i];
      cell (cells, g_strdup (mark_name (w, i)));
      cell (cells, length (w, in->a_to));
      cell (cells, length (w, in->b_to));
      cell (cells, length (w, in->a_to - in->a_from));
      cell (cells, length (w, in->b_to - in->b_from));
      g_autofree char *change
          = sewing_words_change (w->pattern, in->difference);
      double share = fabs (in->per_cent) < 0.005 ? 0 : in->per_cent;
      cell (cells, g_strdup_printf ("%s (%.2f %%)", change, share));
      cell (cells, sewing_words_change (w->pattern, so_far (in)));
      cell (cells, sewing_words_change (w->pattern, in->meant));
      cell (cells,
            w->shaping != NULL ? degrees (shaping_of (w, i)) : g_strdup ("–"));
    }
  write_columns (out, cells);
}

static void
write_loose (GString *out, const Walked *w)
{
  for (guint i = 0; i < w->known->n_loose; i++)
    {
      const SewingLooseNotch *loose = &w->known->loose[i];
      const PatternNotch *notch = notch_of (w, loose->side, loose->notch);
      g_autofree char *at = length (w, loose->at);
      g_string_append_printf (
          out,
          loose->side == 0 ? _ ("  no partner for the %s at %s on A\n")
                           : _ ("  no partner for the %s at %s on B\n"),
          sewing_words_notch (notch != NULL ? notch->count : 1), at);
    }
}

static void
write_sharp (GString *out, const Walked *w, double deg, double from, double to,
             const char *format)
{
  if (fabs (deg) < FLAT_DEG)
    return;
  g_autofree char *start = length (w, from);
  g_autofree char *end = length (w, to);
  g_string_append (out, "  ");
  g_string_append_printf (out, format, fabs (deg), start, end);
  g_string_append_c (out, '\n');
}

static void
write_shaping (GString *out, const Walked *w)
{
  const SewingShaping *s = w->shaping;
  if (s == NULL)
    {
      g_string_append (out, _ ("  turned, so that the cloth lies double: it "
                               "shapes nothing\n"));
      return;
    }
  if (fabs (s->total_deg) < FLAT_DEG)
    g_string_append (out, _ ("  shaping: in all none\n"));
  else
    g_string_append_printf (
        out,
        s->total_deg > 0
            ? _ ("  shaping: a dome, the work of a %.1f° dart in all\n")
            : _ ("  shaping: a saddle, in all a dart of %.1f° the other way\n"),
        fabs (s->total_deg));
  write_sharp (out, w, s->sharp_deg, s->sharp_from, s->sharp_to,
               _ ("sharpest dome %.1f° in 20 mm, from %s to %s on A"));
  write_sharp (out, w, s->hollow_deg, s->hollow_from, s->hollow_to,
               _ ("sharpest saddle %.1f° in 20 mm, from %s to %s on A"));
}

static const char *
press_name (const PatternSeam *seam)
{
  if (seam->join == PATTERN_JOIN_DART)
    return _ ("a dart");
  switch (seam->press)
    {
    case PATTERN_PRESS_TO_A:
      return _ ("pressed to side A");
    case PATTERN_PRESS_TO_B:
      return _ ("pressed to side B");
    case PATTERN_PRESS_TURNED:
      return _ ("turned");
    case PATTERN_PRESS_OPEN:
    default:
      return _ ("pressed open");
    }
}

static char *
to_read (const Walked *w)
{
  GString *out = g_string_new (NULL);
  g_autofree char *a = sewing_words_side (w->pattern, w->seam, 0);
  g_autofree char *b = sewing_words_side (w->pattern, w->seam, 1);
  g_autofree char *a_length = length (w, w->known->lengths[0]);
  g_autofree char *b_length = length (w, w->known->lengths[1]);
  const char *name = *w->seam->name != '\0' ? w->seam->name : _ ("(no name)");
  g_string_append_printf (out, "%s: %s\n", name, press_name (w->seam));
  g_string_append_printf (out, "  A: %s, %s\n  B: %s, %s\n\n", a, a_length, b,
                          b_length);
  write_stretches (out, w);
  g_autofree char *ease = sewing_words_change (w->pattern, w->known->ease);
  g_autofree char *meant = sewing_words_change (w->pattern, w->known->meant);
  g_string_append_printf (out, _ ("\n  in all A − B is %s; meant %s\n"), ease,
                          meant);
  write_loose (out, w);
  write_shaping (out, w);
  return g_string_free (out, FALSE);
}

/* --- CSV ------------------------------------------------------------------------------ */

static void
number (GString *out, double value, gboolean last)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  /* No "-0.0000". */
  if (fabs (value) < 5e-5)
    value = 0;
  g_ascii_formatd (text, sizeof text, "%.4f", value);
  g_string_append_printf (out, "%s%s", text, last ? "\r\n" : ",");
}

static char *
to_compute (const Walked *w)
{
  GString *out = g_string_new (
      "to,a_from_mm,a_to_mm,b_from_mm,b_to_mm,difference_mm,so_far_mm,"
      "per_cent,meant_mm,shaping_deg\r\n");
  for (guint i = 0; i < w->known->n_intervals; i++)
    {
      const SewingInterval *in = &w->known->intervals[i];
      const PatternNotch *notch = notch_of (w, 0, in->a_notch);
      if (i + 1 == w->known->n_intervals)
        g_string_append (out, "end,");
      else if (notch == NULL)
        g_string_append (out, "joint,");
      else
        g_string_append_printf (out, "notch-%d,", notch->count);
      number (out, in->a_from, FALSE);
      number (out, in->a_to, FALSE);
      number (out, in->b_from, FALSE);
      number (out, in->b_to, FALSE);
      number (out, in->difference, FALSE);
      number (out, so_far (in), FALSE);
      number (out, in->per_cent, FALSE);
      number (out, in->meant, FALSE);
      if (w->shaping != NULL)
        number (out, shaping_of (w, i), TRUE);
      else
        g_string_append (out, "\r\n");
    }
  return g_string_free (out, FALSE);
}

char *
command_walk_table (SewingFacts *facts, const Pattern *pattern,
                    const PatternSeam *seam, gboolean csv)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && seam != NULL, NULL);
  Walked w = { pattern, seam, sewing_facts_seam (facts, pattern, seam), NULL };
  if (w.known == NULL || !(w.known->lengths[0] > 0)
      || !(w.known->lengths[1] > 0) || w.known->n_intervals == 0)
    return NULL;
  if (seam->press != PATTERN_PRESS_TURNED || seam->join == PATTERN_JOIN_DART)
    w.shaping = sewing_facts_shaping (facts, pattern, seam);
  return csv ? to_compute (&w) : to_read (&w);
}
