/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two scans of one piece put together, told. */
#include <glib/gi18n.h>

#include "drafting/scans.h"
#include "drafting/verbs-private.h"
#include "sewing/words.h"

static const DraftingParameter lay_parameters[] = {
  { "marks", DRAFTING_POINTS, N_ ("Marks, first and second in turn"), NULL,
    NULL, NULL, 0, 0 },
  { "pieces", DRAFTING_PIECES, N_ ("Pieces that move"), "", NULL, NULL, 0, 0 },
  { "most", DRAFTING_LENGTH, N_ ("Off at most"), "2 mm", NULL, NULL, 0, 1e3 },
};

/* a and b get every other mark; free both. */
static guint
part_marks (const DraftingValues *v, GeoPoint **a, GeoPoint **b)
{
  guint n = 0;
  const GeoPoint *points = drafting_values_get_points (v, "marks", &n);
  *a = g_new (GeoPoint, n / 2 + 1);
  *b = g_new (GeoPoint, n / 2 + 1);
  for (guint i = 0; i < n / 2; i++)
    {
      (*a)[i] = points[2 * i];
      (*b)[i] = points[2 * i + 1];
    }
  return n / 2;
}

static Pattern *
lay (const Pattern *p, const DraftingValues *v, double *worst, GError **error)
{
  g_autofree GeoPoint *a = NULL, *b = NULL;
  guint n = part_marks (v, &a, &b), n_runs = 0;
  const PatternRun *runs = drafting_values_has (v, "pieces")
                               ? drafting_values_get_runs (v, "pieces", &n_runs)
                               : NULL;
  g_autofree guint *pieces = g_new (guint, n_runs + 1);
  for (guint i = 0; i < n_runs; i++)
    pieces[i] = runs[i].piece;
  g_autofree double *off = g_new0 (double, n + 1);
  guint picture = 0;
  if (n > 0)
    picture = drafting_picture_at (p, b[0], drafting_picture_at (p, a[0], 0));
  Pattern *result = drafting_lay_on_marks (
      p, a, b, n, picture, pieces, n_runs,
      drafting_values_get_number (v, "most"), off, error);
  *worst = 0;
  for (guint i = 0; i < n; i++)
    *worst = fmax (*worst, off[i]);
  return result;
}

static Pattern *
run_lay (const Pattern *p, const DraftingValues *v, GError **error)
{
  double worst;
  return lay (p, v, &worst, error);
}

static char *
describe_lay (const Pattern *p, const DraftingValues *v)
{
  double worst;
  g_autoptr (Pattern) done = lay (p, v, &worst, NULL);
  g_autofree char *words = sewing_words_amount (p, worst);
  return done ? g_strdup_printf (_ ("Lay on marks, the worst %s off"), words)
              : NULL;
}

static const DraftingParameter unite_parameters[] = {
  { "piece", DRAFTING_PIECE, N_ ("Piece"), NULL, NULL, NULL, 0, 0 },
  { "with", DRAFTING_PIECE, N_ ("With"), NULL, NULL, NULL, 0, 0 },
};

static Pattern *
run_unite (const Pattern *p, const DraftingValues *v, GError **error)
{
  return drafting_unite_pieces (p, drafting_values_get_piece (v, "piece"),
                                drafting_values_get_piece (v, "with"), error);
}

static const DraftingVerb verbs[] = {
  { "lay-on-marks", N_ ("Join two pictures"),
    N_ ("Click a mark on the first picture or piece, the same one on the "
        "second, and so on for two marks or more: the second is laid on the "
        "first, with the pieces traced from it."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (lay_parameters), run_lay, NULL,
    describe_lay },
  { "unite-pieces", N_ ("Unite overlapping pieces"),
    N_ ("Pick two pieces that overlap: they become one, with the outline "
        "round both."),
    DRAFTING_GROUP_TRACED, DRAFTING_PARAMETERS (unite_parameters), run_unite,
    NULL, NULL },
};

const DraftingVerb *
drafting_verbs_of_scans (guint *n)
{
  return DRAFTING_TABLE (verbs, n);
}
