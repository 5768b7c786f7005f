/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blending a line of the garment across a seam or a dart, and squaring it to a fold. */
#include "drafting/true.h"

#include <glib/gi18n.h>

#include "drafting/true-private.h"
#include "geometry/apart.h"
#include "geometry/blend.h"
#include "geometry/length.h"
#include "sewing/words.h"

#define LEAST_REACH 1.0 /* mm: less is no curve to be cut */
/* A joint that is out by less needs nothing, radians. */
#define TRUE_ENOUGH (G_PI / 360)
/* Reaches that are tried, each this share of the one before, where the one
 * asked for does not work. */
#define NEXT_TRY 0.85
#define MOST_TRIES 16

/* One edge at the joint. */
typedef struct
{
  guint piece, edge; /* ids */
  gboolean reversed; /* the line runs from the edge's end to its start */
  GeoMotion lay;
  GeoChain part; /* as laid, the way the line runs, over the reach */
  GeoChain made; /* what is to replace it */
} Side;

typedef struct
{
  Side sides[2]; /* before and after the joint */
  SewingJoint joint;
} Joint;

static void
joint_clear (Joint *joint)
{
  for (int i = 0; i < 2; i++)
    {
      geo_chain_clear (&joint->sides[i].part);
      geo_chain_clear (&joint->sides[i].made);
    }
}

static gboolean
no_joint (const Pattern *p, guint seam, GError **error)
{
  const PatternSeam *own = pattern_get_seam (p, seam);
  g_autofree char *name = own != NULL ? sewing_words_seam (own) : NULL;
  return drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                          _ ("No line runs on across %s at that end: there is "
                             "nothing to be trued."),
                          name != NULL ? name : _ ("the seam"));
}

/* The two edges that meet at the seam's end. */
static gboolean
find_joint (SewingFacts *facts, const Pattern *p, guint seam, int end,
            Joint *joint, GError **error)
{
  *joint = (Joint){ 0 };
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  if (own == NULL)
    return FALSE;
  g_autoptr (SewingLine) line = NULL;
  if (sewing_seam_joint (facts, p, own, end, &joint->joint))
    line = sewing_line_new (facts, p, own, end);
  if (line == NULL)
    return no_joint (p, seam, error);
  for (guint i = 0; i < 2; i++)
    {
      const SewingLineRun *run = &line->runs[line->asked + i];
      joint->sides[i] = (Side){ .piece = run->piece,
                                .edge = run->edge,
                                .reversed = run->reversed,
                                .lay = run->lay };
    }
  return TRUE;
}

static void
edge_chain (const Pattern *p, const Side *side, GeoChain *chain)
{
  const PatternPiece *piece = pattern_get_piece (p, side->piece);
  pattern_piece_edge_chain (
      piece, (guint)pattern_piece_find_edge (piece, side->edge), chain);
}

static double
length_of (const Pattern *p, const Side *side)
{
  const PatternPiece *piece = pattern_get_piece (p, side->piece);
  return drafting_edge_length (
      piece, (guint)pattern_piece_find_edge (piece, side->edge));
}

/* One edge may run into itself, round a tube: it has two ends to be blended. */
static double
room_of (const Pattern *p, const Joint *joint)
{
  double a = length_of (p, &joint->sides[0]);
  double b = length_of (p, &joint->sides[1]);
  gboolean one = joint->sides[0].piece == joint->sides[1].piece
                 && joint->sides[0].edge == joint->sides[1].edge;
  return one ? a / 2 : fmin (a, b);
}

/* The edge's end at the joint is the edge's own end. */
static gboolean
at_edge_end (const Side *side, int which)
{
  return (which == 0) != side->reversed;
}

static void
take_parts (const Pattern *p, Joint *joint, double reach)
{
  for (int i = 0; i < 2; i++)
    {
      Side *side = &joint->sides[i];
      GeoChain edge = GEO_CHAIN_EMPTY;
      edge_chain (p, side, &edge);
      geo_chain_reset (&side->part);
      drafting_cut_chain (&edge, reach, at_edge_end (side, i), &side->part,
                          NULL);
      geo_chain_transform (&side->part, side->lay);
      if (side->reversed)
        geo_chain_reverse (&side->part);
      geo_chain_clear (&edge);
    }
}

/* What was made for a side, back in its piece. */
static Pattern *
put_back (const Pattern *p, const Side *side, int which, double reach,
          GError **error)
{
  guint index, next = p->next_id;
  g_autoptr (PatternPiece) copy
      = drafting_begin_edge (p, side->piece, side->edge, &index, error);
  if (copy == NULL)
    return NULL;
  GeoChain edge = GEO_CHAIN_EMPTY, rest = GEO_CHAIN_EMPTY;
  GeoChain made = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (copy, index, &edge);
  gboolean at_end = at_edge_end (side, which);
  drafting_cut_chain (&edge, reach, at_end, NULL, &rest);
  geo_chain_copy (&made, &side->made);
  geo_chain_transform (&made, geo_motion_inverse (side->lay));
  if (side->reversed)
    geo_chain_reverse (&made);
  geo_chain_append_chain (at_end ? &rest : &made, at_end ? &made : &rest);
  GeoChain *whole = at_end ? &rest : &made;
  /* Turned there and back a corner is a rounding off. */
  whole->cubics[0].p[0] = geo_chain_start (&edge);
  whole->cubics[whole->count - 1].p[3] = geo_chain_end (&edge);
  drafting_put_edge_chain (copy, index, whole, &next);
  geo_chain_clear (&edge);
  geo_chain_clear (&rest);
  geo_chain_clear (&made);
  g_autoptr (Pattern) result
      = drafting_finish (p, g_steal_pointer (&copy), &next, error);
  if (result == NULL
      || !drafting_outline_is_good (p, result, side->piece, error))
    return NULL;
  return g_steal_pointer (&result);
}

static Pattern *
blend_over (const Pattern *p, Joint *joint, double reach, GError **error)
{
  take_parts (p, joint, reach);
  Side *a = &joint->sides[0], *b = &joint->sides[1];
  if (!geo_blend (&a->part, &b->part, &a->made, &b->made))
    {
      drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                       _ ("No smooth curve was found over that reach. "
                          "Nothing was changed."));
      return NULL;
    }
  g_autoptr (Pattern) first = put_back (p, a, 0, reach, error);
  return first != NULL ? put_back (first, b, 1, reach, error) : NULL;
}

static void
measure (const Pattern *p, const Joint *joint, int when, DraftingTrued *told)
{
  told->length[when] = 0;
  for (int i = 0; i < 2; i++)
    if (i == 0 || joint->sides[0].piece != joint->sides[1].piece
        || joint->sides[0].edge != joint->sides[1].edge)
      told->length[when] += length_of (p, &joint->sides[i]);
}

static double
moved_by (const Joint *joint)
{
  double most = 0;
  for (int i = 0; i < 2; i++)
    most = fmax (
        most, geo_chain_apart (&joint->sides[i].part, &joint->sides[i].made));
  return most;
}

static void
tell (const Pattern *p, const Pattern *after, guint seam, int end,
      const Joint *joint, DraftingTrued *told)
{
  if (told == NULL)
    return;
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  SewingJoint now;
  measure (p, joint, 0, told);
  measure (after, joint, 1, told);
  told->angle[0] = told->angle[1] = joint->joint.angle;
  if (sewing_seam_joint (facts, after, pattern_get_seam (after, seam), end,
                         &now))
    told->angle[1] = now.angle;
  told->moved = moved_by (joint);
}

/* The largest reach that works, at most `most`; 0 where none does. */
static double
largest (const Pattern *p, Joint *joint, double most)
{
  double reach = most;
  for (int i = 0; i < MOST_TRIES && reach >= LEAST_REACH; i++)
    {
      g_autoptr (Pattern) result = blend_over (p, joint, reach, NULL);
      if (result != NULL)
        return reach;
      reach *= NEXT_TRY;
    }
  return 0;
}

/* Rounded down to what can be typed. */
static char *
reach_words (const Pattern *p, double reach)
{
  double step = p->unit == PATTERN_INCH ? 25.4 / 16 : 1;
  double whole = floor (reach / step + 1e-9) * step;
  return pattern_length_format (whole > 0 ? whole : reach, p->unit, TRUE);
}

static Pattern *
refuse_reach (const Pattern *p, Joint *joint, double reach, GError **error)
{
  double room = room_of (p, joint);
  double best = largest (p, joint, fmin (room, reach * NEXT_TRY));
  g_autofree char *asked = pattern_length_format (reach, p->unit, TRUE);
  g_autofree char *words = reach_words (p, best);
  if (best == 0)
    drafting_refuse (error, DRAFTING_ERROR_SHAPE,
                     _ ("The two edges meet so sharply that no smooth curve "
                        "runs through the end of the seam. Draw them nearer "
                        "to one line first. Nothing was changed."));
  else if (reach > room)
    drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                     _ ("The shorter edge has no %s to blend over here. At "
                        "most it can be %s. Nothing was changed."),
                     asked, words);
  else
    drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                     _ ("Over %s no smooth curve keeps to both edges and the "
                        "end of the seam. Over %s one does. Nothing was "
                        "changed."),
                     asked, words);
  return NULL;
}

static gboolean
reach_is_good (double reach, GError **error)
{
  if (!drafting_number_is_good (reach, error))
    return FALSE;
  if (reach < LEAST_REACH)
    return drafting_refuse (error, DRAFTING_ERROR_AMOUNT,
                            _ ("A blend needs at least 1 mm on either side of "
                               "the seam. Nothing was changed."));
  return TRUE;
}

Pattern *
drafting_blend (const Pattern *p, guint seam, int end, double reach,
                DraftingTrued *told, GError **error)
{
  g_return_val_if_fail (p != NULL && (end == 0 || end == 1), NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  Joint joint;
  if (!reach_is_good (reach, error)
      || !find_joint (facts, p, seam, end, &joint, error))
    return NULL;
  Pattern *result = reach <= room_of (p, &joint) + 1e-9
                        ? blend_over (p, &joint, reach, NULL)
                        : NULL;
  if (result != NULL)
    tell (p, result, seam, end, &joint, told);
  else
    refuse_reach (p, &joint, reach, error);
  joint_clear (&joint);
  return result;
}

double
drafting_blend_most (const Pattern *p, guint seam, int end)
{
  g_return_val_if_fail (p != NULL && (end == 0 || end == 1), 0);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  Joint joint;
  if (!find_joint (facts, p, seam, end, &joint, NULL))
    return 0;
  double most = largest (p, &joint, room_of (p, &joint));
  joint_clear (&joint);
  return most;
}

double
drafting_blend_start (const Pattern *p, guint seam, int end)
{
  g_return_val_if_fail (p != NULL && (end == 0 || end == 1), 0);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  Joint joint;
  if (!find_joint (facts, p, seam, end, &joint, NULL))
    return 0;
  double reach = sewing_joint_reach (facts, p, &joint.joint);
  joint_clear (&joint);
  return reach;
}

/* --- the whole line ------------------------------------------------------------------ */

/* Every edge is blended at one end or at both: then each has half of it. */
static double
share_of (const SewingLine *line, guint joint, double reach)
{
  for (guint i = joint; i <= joint + 1; i++)
    {
      const SewingLineRun *run = &line->runs[i];
      gboolean both = i > 0 && i + 1 < line->n_runs;
      reach = fmin (reach, (run->to - run->from) / (both ? 2 : 1));
    }
  return reach;
}

Pattern *
drafting_blend_line (const Pattern *p, guint seam, int end, double reach,
                     DraftingTrued *told, GError **error)
{
  g_return_val_if_fail (p != NULL && (end == 0 || end == 1), NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  if (own == NULL || !reach_is_good (reach, error))
    return NULL;
  g_autoptr (SewingLine) line = sewing_line_new (facts, p, own, end);
  if (line == NULL)
    {
      no_joint (p, seam, error);
      return NULL;
    }
  DraftingTrued all = { .length = { line->length, line->length } };
  g_autoptr (Pattern) result = pattern_ref ((Pattern *)p);
  double worst = -1;
  for (guint i = 0; i < line->n_joints; i++)
    {
      const SewingLineJoint *joint = &line->joints[i];
      double out = fabs (joint->angle - G_PI);
      if (i != line->asked && out < TRUE_ENOUGH)
        continue;
      DraftingTrued one;
      Pattern *next = drafting_blend (result, joint->seam, joint->end,
                                      share_of (line, i, reach), &one, error);
      if (next == NULL)
        return NULL;
      pattern_unref (result);
      result = next;
      all.length[1] += one.length[1] - one.length[0];
      all.moved = fmax (all.moved, one.moved);
      if (out > worst)
        {
          worst = out;
          all.angle[0] = one.angle[0];
          all.angle[1] = one.angle[1];
        }
    }
  if (told != NULL)
    *told = all;
  return g_steal_pointer (&result);
}

/* --- sliding ------------------------------------------------------------------------- */

static Pattern *
stretch (const Pattern *p, const PatternRun *run, int end, double by,
         GError **error)
{
  const PatternPiece *piece = drafting_find_piece (p, run->piece, error);
  int index = piece ? drafting_find_edge (piece, run->edge, error) : -1;
  if (index < 0)
    return NULL;
  return drafting_set_edge_length (
      p, run->piece, run->edge, drafting_edge_length (piece, (guint)index) + by,
      (end == 0) == !run->reversed, error);
}

Pattern *
drafting_slide_joint (const Pattern *p, guint seam, int end, double by,
                      GError **error)
{
  g_return_val_if_fail (p != NULL && (end == 0 || end == 1), NULL);
  const PatternSeam *own = drafting_find_seam (p, seam, error);
  if (own == NULL || !drafting_number_is_good (by, error))
    return NULL;
  g_autoptr (Pattern) result = pattern_ref ((Pattern *)p);
  for (int i = 0; i < 2; i++)
    {
      const PatternSide *side = &own->sides[i];
      if (side->n_runs == 0)
        {
          no_joint (p, seam, error);
          return NULL;
        }
      Pattern *next = stretch (
          result, &side->runs[end == 0 ? 0 : side->n_runs - 1], end, by, error);
      if (next == NULL)
        return NULL;
      pattern_unref (result);
      result = next;
    }
  return g_steal_pointer (&result);
}
