/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/allowance.h"

#include <glib/gi18n.h>

#include "sewing/facts-private.h"
#include "sewing/words.h"

#define WINDOW 50.0 /* mm */
#define STEP 2.0    /* mm, of looking for the window */
/* Less is nothing that shows, mm. */
#define NOTHING 0.5

static const GeoClipPlan no_cuts;

/* --- hems -------------------------------------------------------------------- */

/* The direction at a length, as turned since the start. */
static double *
turns_along (const GeoRuler *ruler, guint n)
{
  double *turn = g_new0 (double, n + 1);
  double length = geo_ruler_length (ruler);
  GeoPoint last = geo_chain_tangent (ruler->chain, geo_ruler_place (ruler, 0));
  for (guint i = 1; i <= n; i++)
    {
      GeoPlace place = geo_ruler_place (ruler, length * i / n);
      GeoPoint next = geo_chain_tangent (ruler->chain, place);
      turn[i] = turn[i - 1] + geo_angle_between (last, next);
      last = next;
    }
  return turn;
}

/* Share of surplus (positive) or shortage that is the largest over a window. */
static double
largest_share (const GeoRuler *ruler, double depth)
{
  double length = geo_ruler_length (ruler), largest = 0;
  if (!(length > 0))
    return 0;
  guint n = (guint)CLAMP (ceil (length / STEP), 2, 5000);
  guint window = MIN (n, MAX (1, (guint)lround (WINDOW / (length / n))));
  g_autofree double *turn = turns_along (ruler, n);
  for (guint i = 0; i + window <= n; i++)
    {
      double share
          = 2 * depth * (turn[i + window] - turn[i]) / (length * window / n);
      if (fabs (share) > fabs (largest))
        largest = share;
    }
  return largest;
}

static SewingHemWay
hem_way (const SewingAllowance *a)
{
  if (fabs (a->most) <= a->give)
    return SEWING_HEM_PRESS;
  if (a->most < 0)
    return SEWING_HEM_CLIP;
  return a->most > SEWING_HEM_MOST ? SEWING_HEM_FACE : SEWING_HEM_EASE_STITCH;
}

static void
fill_hem (const SewingPiece *piece, guint index, SewingAllowance *a)
{
  const GeoRuler *ruler = &piece->rulers[index];
  guint n = (guint)CLAMP (ceil (piece->lengths[index] / STEP), 2, 5000);
  g_autofree double *turn = turns_along (ruler, n);
  for (guint i = 1; i <= n; i++)
    {
      double more = 2 * a->width * (turn[i] - turn[i - 1]);
      if (more > 0)
        a->comes_out += more;
      else
        a->opens -= more;
    }
  a->surplus = geo_hem_surplus (&piece->stitch[index], 1, a->width);
  a->most = largest_share (ruler, a->width);
  a->hem = hem_way (a);
}

/* --- the facts --------------------------------------------------------------- */

gboolean
sewing_facts_allowance (SewingFacts *facts, const Pattern *pattern, guint piece,
                        guint edge, SewingAllowance *a)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && a != NULL, FALSE);
  *a = (SewingAllowance){ .plan = &no_cuts, .computed = &no_cuts };
  const PatternPiece *own;
  const PatternEdge *e = pattern_get_edge (pattern, piece, edge, &own);
  a->width = e != NULL ? pattern_edge_width (e) : 0;
  if (!(a->width > 0))
    return FALSE;
  a->give = sewing_give_of (pattern, own);
  if (e->kind == PATTERN_EDGE_HEM)
    {
      fill_hem (sewing_facts_piece (facts, own),
                (guint)pattern_piece_find_edge (own, edge), a);
      return TRUE;
    }
  a->by_hand = e->clip_spacing;
  const GeoClipPlan *plan
      = sewing_clip_plan (facts, pattern, piece, edge, FALSE);
  if (plan == NULL)
    return TRUE;
  a->seam
      = sewing_facts_edge_seam (facts, pattern, piece, edge, 0, &a->side, NULL);
  a->over = sewing_lies_over (a->seam->press, a->side);
  a->plan = plan;
  a->computed = sewing_clip_plan (facts, pattern, piece, edge, TRUE);
  a->surplus = plan->surplus;
  a->comes_out = plan->comes_out;
  a->opens = plan->opens;
  return TRUE;
}

const char *
sewing_lies_word (const SewingAllowance *allowance)
{
  return allowance->over ? "over" : "folded-back";
}

const char *
sewing_hem_word (SewingHemWay hem)
{
  static const char *const words[]
      = { "none", "press", "ease-stitch", "face", "clip" };
  g_return_val_if_fail ((guint)hem < G_N_ELEMENTS (words), "");
  return words[hem];
}

/* --- sentences --------------------------------------------------------------- */

static char *
hem_text (const Pattern *pattern, const SewingAllowance *a)
{
  g_autofree char *amount
      = sewing_words_amount (pattern, a->most < 0 ? a->opens : a->comes_out);
  switch (a->hem)
    {
    case SEWING_HEM_EASE_STITCH:
      return g_strdup_printf (
          _ ("Turned up, its raw edge is %s too long for where it lies: draw "
             "it "
             "in with a line of long stitches, and shrink it with steam."),
          amount);
    case SEWING_HEM_FACE:
      return g_strdup_printf (
          _ ("Turned up, its raw edge is %s too long for where it lies, at the "
             "roundest place %.0f %%: more than stitches draw in. Face it, or "
             "make it shallower. An estimate."),
          amount, 100 * a->most);
    case SEWING_HEM_CLIP:
      return g_strdup_printf (
          _ ("Turned up, its raw edge is %s too short for where it lies: clip "
             "it, or face it."),
          amount);
    case SEWING_HEM_PRESS:
    case SEWING_HEM_NONE:
    default:
      break;
    }
  return a->comes_out + a->opens < NOTHING
             ? g_strdup (_ ("Turned up it lies flat: press it."))
             : g_strdup_printf (
                 _ ("Turned up, its raw edge is %s out: the cloth gives that "
                    "much, press it flat."),
                 amount);
}

/* What the cut edge is, where it lies. */
static char *
surplus_text (const Pattern *pattern, const SewingAllowance *a)
{
  g_autofree char *out = sewing_words_amount (pattern, a->comes_out);
  g_autofree char *open = sewing_words_amount (pattern, a->opens);
  gboolean some_out = a->comes_out >= NOTHING, some_open = a->opens >= NOTHING;
  if (some_out && some_open)
    return g_strdup_printf (
        _ ("its cut edge is %s too long there in places, and %s too short in "
           "others"),
        out, open);
  if (some_out)
    return g_strdup_printf (_ ("its cut edge is %s too long there"), out);
  if (some_open)
    return g_strdup_printf (_ ("its cut edge is %s too short there"), open);
  return g_strdup (_ ("its cut edge is as long as the line it lies on"));
}

static const char *
cuts_text (const SewingAllowance *a)
{
  guint slits = 0, wedges = 0;
  for (size_t i = 0; i < a->plan->count; i++)
    if (a->plan->cuts[i].kind == GEO_CUT_SLIT)
      slits++;
    else
      wedges++;
  if (slits > 0 && wedges > 0)
    return _ ("Cut wedges out where it is too long and slits where it is too "
              "short.");
  if (wedges > 0)
    return _ ("Cut wedges out; slits would only overlap.");
  if (slits > 0)
    return _ ("Clip it with slits, so that it opens.");
  return a->comes_out + a->opens < NOTHING ? _ ("Nothing is cut.")
                                           : _ ("The cloth gives that much: "
                                                "nothing is cut.");
}

char *
sewing_allowance_text (const Pattern *pattern, const SewingAllowance *a)
{
  g_return_val_if_fail (pattern != NULL && a != NULL, NULL);
  if (a->hem != SEWING_HEM_NONE)
    return hem_text (pattern, a);
  if (a->seam == NULL)
    return g_strdup (_ ("Sewn to nothing yet: what is to be cut will show when "
                        "it is."));
  g_autofree char *surplus = surplus_text (pattern, a);
  g_autofree char *lies = g_strdup_printf (
      a->over ? _ ("It lies over the other piece: %s. %s")
              : _ ("It is folded back on its own piece: %s. %s"),
      surplus, cuts_text (a));
  if (!(a->plan->trim_to > 0))
    return g_steal_pointer (&lies);
  g_autofree char *trim = sewing_words_length (pattern, a->plan->trim_to);
  return g_strdup_printf (
      a->by_hand > 0
          ? _ (
              "%s So far apart each would have to take up more than 6 mm: trim "
              "to %s first, or cut closer.")
          : _ ("%s It is too deep for so tight a curve: trim to %s first."),
      lies, trim);
}

char *
sewing_handbook_text (const Pattern *pattern)
{
  return g_strdup (
      pattern->unit == PATTERN_INCH
          ? _ ("Handbooks: every 1/4 to 1/2 in, closer on sharper curves.")
          : _ ("Handbooks: every 6 to 13 mm, closer on sharper curves."));
}
