/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be seen where pieces are sewn together and a line of the garment
 * runs on from one to the next: whether it is smooth, and whether hems are
 * turned up alike. */
#include "sewing/checks-private.h"

#include <glib/gi18n.h>

#include "sewing/line.h"

#define DEGREES (180 / G_PI)

/* An edge that shares a hem line, and which line. */
typedef struct
{
  guint piece, edge;
  double width;
  guint line;
} Hem;

typedef struct
{
  const PatternSeam *seam;
  int end;
  SewingJoint joint;
  guint a, b; /* indices of hems */
} HemJoint;

typedef struct
{
  GArray *hems;   /* Hem */
  GArray *joints; /* HemJoint */
} Hems;

/* --- smoothness -------------------------------------------------------------- */

static void
offer_blend (const SewingCheckRun *run, SewingFinding *finding, int end,
             const SewingJoint *joint)
{
  double reach = sewing_joint_reach (run->facts, run->pattern, joint);
  if (reach < 1)
    return;
  g_autofree char *words
      = pattern_length_format (reach, run->pattern->unit, TRUE);
  sewing_finding_set_remedy (
      finding, SEWING_REMEDY_BLEND, joint->a_piece, joint->a_edge, reach,
      g_strdup_printf (_ ("Blend them over %s on either side"), words));
  finding->remedy.seam = finding->seam;
  finding->remedy.at_start = end == 0;
}

static void
check_smooth (SewingCheckRun *run, const PatternSeam *seam, int end,
              const SewingJoint *joint)
{
  double deg = joint->angle * DEGREES;
  double out = deg - 180;
  if (fabs (out) <= CHECK_LOOK_ANGLE)
    return;
  g_autofree char *a
      = sewing_words_edge_of (run->pattern, joint->a_piece, joint->a_edge);
  g_autofree char *b
      = sewing_words_edge_of (run->pattern, joint->b_piece, joint->b_edge);
  g_autofree char *where
      = seam->join == PATTERN_JOIN_DART && *seam->name == '\0'
            ? g_strdup (_ ("the dart"))
            : sewing_words_seam (seam);
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_JOINT, sewing_weigh_angle (out),
      g_strdup_printf ("s%u:%s", seam->id, end == 0 ? "start" : "end"),
      g_strdup_printf (
          out < 0 ? _ ("%s does not run on smoothly into %s across %s: they "
                       "meet at %.0f°, not 180°, which leaves a "
                       "point there.")
                  : _ ("%s does not run on smoothly into %s across %s: they "
                       "meet at %.0f°, not 180°, which leaves a "
                       "dip there."),
          a, b, where, deg),
      joint->at, out);
  finding->piece = joint->a_piece;
  finding->edge = joint->a_edge;
  finding->seam = seam->id;
  /* A sharper corner was drawn on purpose. */
  if (fabs (out) <= CHECK_MEANT_ANGLE)
    offer_blend (run, finding, end, joint);
}

/* --- hems -------------------------------------------------------------------- */

static guint
find_hem (Hems *hems, guint piece, const PatternEdge *edge)
{
  for (guint i = 0; i < hems->hems->len; i++)
    {
      const Hem *hem = &g_array_index (hems->hems, Hem, i);
      if (hem->piece == piece && hem->edge == edge->id)
        return i;
    }
  Hem hem = { piece, edge->id, pattern_edge_width (edge), hems->hems->len };
  g_array_append_val (hems->hems, hem);
  return hems->hems->len - 1;
}

static void
join_lines (Hems *hems, guint a, guint b)
{
  guint from = g_array_index (hems->hems, Hem, b).line;
  guint to = g_array_index (hems->hems, Hem, a).line;
  for (guint i = 0; i < hems->hems->len; i++)
    {
      Hem *hem = &g_array_index (hems->hems, Hem, i);
      if (hem->line == from)
        hem->line = to;
    }
}

/* How many hems of the line are as deep as this one. */
static guint
count_alike (const Hems *hems, const Hem *as)
{
  guint n = 0;
  for (guint i = 0; i < hems->hems->len; i++)
    {
      const Hem *hem = &g_array_index (hems->hems, Hem, i);
      n += hem->line == as->line
           && fabs (hem->width - as->width) <= CHECK_SAME_WIDTH;
    }
  return n;
}

/* The joint, on the hem's own piece. */
static GeoPoint
place_of (const SewingCheckRun *run, const HemJoint *at, const Hem *hem)
{
  if (hem->piece == at->joint.a_piece && hem->edge == at->joint.a_edge)
    return at->joint.at;
  const SewingSeam *seam
      = sewing_facts_seam (run->facts, run->pattern, at->seam);
  return sewing_seam_point (seam, 1, at->end == 0 ? 0 : seam->lengths[1]);
}

static void
report_hem (SewingCheckRun *run, const HemJoint *at, const Hem *odd,
            const Hem *other)
{
  g_autofree char *a
      = sewing_words_edge_of (run->pattern, odd->piece, odd->edge);
  g_autofree char *b
      = sewing_words_edge_of (run->pattern, other->piece, other->edge);
  g_autofree char *has = NULL, *wants = NULL;
  sewing_words_two_lengths (run->pattern, odd->width, other->width, &has,
                            &wants);
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_HEM_ALLOWANCE, SEWING_MEND,
      g_strdup_printf ("p%u:e%u", odd->piece, odd->edge),
      odd->width == 0
          ? g_strdup_printf (_ ("%s has no allowance, but %s, the next "
                                "along the same hem line, has %s."),
                             a, b, wants)
          : g_strdup_printf (_ ("%s has an allowance of %s, but %s, the "
                                "next along the same hem line, has %s."),
                             a, has, b, wants),
      place_of (run, at, odd), odd->width - other->width);
  finding->piece = odd->piece;
  finding->edge = odd->edge;
  finding->seam = at->seam->id;
  if (other->width > 0)
    sewing_finding_set_remedy (
        finding, SEWING_REMEDY_ALLOWANCE, odd->piece, odd->edge, other->width,
        g_strdup_printf (_ ("Set the allowance of %s to %s"), a, wants));
}

/* Of two that differ, the one with fewer like it along the line is the odd
 * one; each is told once. */
static void
check_hems (SewingCheckRun *run, const Hems *hems)
{
  g_autoptr (GHashTable) told = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < hems->joints->len; i++)
    {
      const HemJoint *at = &g_array_index (hems->joints, HemJoint, i);
      const Hem *odd = &g_array_index (hems->hems, Hem, at->b);
      const Hem *other = &g_array_index (hems->hems, Hem, at->a);
      if (fabs (odd->width - other->width) <= CHECK_SAME_WIDTH)
        continue;
      if (count_alike (hems, other) < count_alike (hems, odd))
        {
          const Hem *swap = odd;
          odd = other;
          other = swap;
        }
      if (g_hash_table_add (told, (gpointer)odd))
        report_hem (run, at, odd, other);
    }
}

/* A hem that runs on into an edge which is no hem and is sewn to nothing. */
static void
check_missing_hem (SewingCheckRun *run, const PatternSeam *seam,
                   const SewingJoint *joint, const PatternEdge *a,
                   const PatternEdge *b)
{
  gboolean a_is_hem = a->kind == PATTERN_EDGE_HEM;
  const PatternEdge *hem = a_is_hem ? a : b, *other = a_is_hem ? b : a;
  guint hem_piece = a_is_hem ? joint->a_piece : joint->b_piece;
  guint piece = a_is_hem ? joint->b_piece : joint->a_piece;
  if (fabs (joint->angle * DEGREES - 180) > CHECK_MEANT_ANGLE)
    return;
  if (other->kind == PATTERN_EDGE_FOLD || other->kind == PATTERN_EDGE_BOUND)
    return;
  if (pattern_edge_seam (run->pattern, piece, other->id, 0, NULL, NULL) != NULL)
    return;
  g_autofree char *x = sewing_words_edge_of (run->pattern, piece, other->id);
  g_autofree char *y = sewing_words_edge_of (run->pattern, hem_piece, hem->id);
  SewingFinding *finding = sewing_finding_add (
      run, SEWING_CHECK_HEM_ALLOWANCE, SEWING_MEND,
      g_strdup_printf ("p%u:e%u", piece, other->id),
      g_strdup_printf (_ ("%s is no hem, but %s, which it runs on into, is."),
                       x, y),
      joint->at, 0);
  finding->piece = piece;
  finding->edge = other->id;
  finding->seam = seam->id;
}

static void
look_at_joint (SewingCheckRun *run, Hems *hems, const PatternSeam *seam,
               int end)
{
  HemJoint at = { .seam = seam, .end = end };
  SewingJoint *joint = &at.joint;
  if (!sewing_seam_joint (run->facts, run->pattern, seam, end, joint))
    return;
  if (joint->runs_on)
    check_smooth (run, seam, end, joint);
  const PatternEdge *a
      = pattern_get_edge (run->pattern, joint->a_piece, joint->a_edge, NULL);
  const PatternEdge *b
      = pattern_get_edge (run->pattern, joint->b_piece, joint->b_edge, NULL);
  gboolean a_hem = a->kind == PATTERN_EDGE_HEM;
  gboolean b_hem = b->kind == PATTERN_EDGE_HEM;
  if (a_hem && b_hem)
    {
      at.a = find_hem (hems, joint->a_piece, a);
      at.b = find_hem (hems, joint->b_piece, b);
      join_lines (hems, at.a, at.b);
      g_array_append_val (hems->joints, at);
    }
  else if (a_hem || b_hem)
    check_missing_hem (run, seam, joint, a, b);
}

void
sewing_check_joints (SewingCheckRun *run)
{
  g_autoptr (GArray) list = g_array_new (FALSE, FALSE, sizeof (Hem));
  g_autoptr (GArray) joints = g_array_new (FALSE, FALSE, sizeof (HemJoint));
  Hems hems = { list, joints };
  for (guint i = 0; i < run->pattern->n_seams; i++)
    for (int end = 0; end < 2; end++)
      look_at_joint (run, &hems, run->pattern->seams[i], end);
  check_hems (run, &hems);
}
