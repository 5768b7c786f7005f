/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strain at the cut edge, positive for surplus:
 *
 *   D = 2 w k              folded back on its own piece
 *   D = w (k + k_partner)  laid over the partner
 *
 * Within the give nothing is cut. Elsewhere the spacing is
 *
 *   s = min (sqrt (8 facet / |k|), opening / |D|)
 *
 * for a chord of length s stands off an arc of curvature k by s^2 |k| / 8, and
 * one cut takes up |D| s; held between closest and farthest. A stretch where D
 * is over the give and keeps its sign is a zone. With the measure
 *
 *   m = integral of ds / s
 *
 * over it, n = ceil (m) steps are enough, and cuts at equal parts of m have
 * equal demand between them: by sqrt |k| where the facet governs, by |D| where
 * the opening does. The first ply has its n - 1 cuts on the joints of the
 * steps, the staggered one n in their middles. Where a cut would come too near a
 * balance mark all are shifted together, or a step is added, before any is
 * moved by itself.
 *
 * A wedge takes out the surplus of one step; what lies in the half steps
 * at the ends of a zone is left to the give and the seam's own end.
 */
#include "geometry/clips.h"

#include "geometry/memory.h"

#include <string.h>

#define SAMPLES 48 /* intervals a cubic */
#define SHIFTS 9
/* What is cut by hand for less than this would be cut for noise. */
#define LEAST_BY_HAND 0.005
/* A joint inside an edge that turns inward by more is clipped to: radians. */
#define SHARP 0.2

typedef struct
{
  GeoPlace place;
  double at, strain, density; /* density: cuts per mm, 0 within the give */
  double measure;             /* integral of density so far */
  double surplus;             /* integral of strain so far */
} Sample;

typedef struct
{
  const GeoRuler *edge;
  const GeoClipRule *rule;
  int outside;
  double (*partner) (double at, void *data);
  void *data;
  const double *marks;
  size_t mark_count;
  Sample *samples;
  size_t count;
  GeoClipPlan *plan;
} Work;

GeoClipRule
geo_clip_rule_default (double width, double give)
{
  return (GeoClipRule){ .width = width,
                        .give = give,
                        .facet = 0.3,
                        .opening = 6,
                        .closest = 4,
                        .farthest = 25,
                        .keep_off = 5,
                        .stagger = false,
                        .apart = 2 };
}

void
geo_clip_plan_init (GeoClipPlan *plan)
{
  memset (plan, 0, sizeof *plan);
}

void
geo_clip_plan_clear (GeoClipPlan *plan)
{
  free (plan->cuts);
  geo_clip_plan_init (plan);
}

/* The spacing before it is held. */
static double
free_spacing (const GeoClipRule *rule, double curvature, double strain)
{
  double facet
      = curvature != 0 ? sqrt (8 * rule->facet / fabs (curvature)) : INFINITY;
  double opening = strain != 0 ? rule->opening / fabs (strain) : INFINITY;
  return fmin (facet, opening);
}

static double
spacing (const GeoClipRule *rule, double curvature, double strain)
{
  if (!(fabs (strain) > rule->give) || !(rule->width > 0))
    return INFINITY;
  double s = free_spacing (rule, curvature, strain);
  return fmax (fmin (s, rule->farthest), rule->closest);
}

double
geo_clip_spacing (const GeoClipRule *rule, double curvature)
{
  return spacing (rule, curvature, 2 * rule->width * curvature);
}

double
geo_hem_surplus (const GeoChain *hem, int outside, double depth)
{
  return 2 * depth * outside * geo_chain_turning (hem);
}

/* Depth of a cut: it stops short of the stitch line by what the trade does. 0
 * where the allowance is too narrow to be cut. */
static double
cut_depth (double width)
{
  double depth = width - (width > 6 ? 3 : 2);
  return depth >= 0.5 ? depth : 0;
}

static void
fill_sample (const Work *work, Sample *sample)
{
  const GeoClipRule *rule = work->rule;
  double k
      = geo_chain_curvature (work->edge->chain, sample->place) * work->outside;
  double sum = 2 * k;
  if (work->partner)
    sum = k + work->partner (sample->at, work->data);
  sample->strain = rule->width * sum;
  double s = spacing (rule, k, sample->strain);
  if (rule->spacing > 0)
    s = fabs (sample->strain) > LEAST_BY_HAND ? rule->spacing : INFINITY;
  sample->density = isfinite (s) ? 1 / s : 0;
}

static double
signed_density (const Sample *s)
{
  return s->strain < 0 ? -s->density : s->density;
}

/* Fills the table, in steps of equal t: lengths by the trapezoid of the speed,
 * scaled to what the ruler measured. */
static void
fill_cubic (Work *work, size_t index)
{
  const GeoCubic *c = &work->edge->chain->cubics[index];
  double before = work->edge->before[index];
  double length = work->edge->before[index + 1] - before;
  double reach[SAMPLES + 1] = { 0 };
  double speed = geo_norm (geo_cubic_velocity (c, 0));
  if (!(length > 0))
    return;
  for (int i = 1; i <= SAMPLES; i++)
    {
      double next = geo_norm (geo_cubic_velocity (c, (double)i / SAMPLES));
      reach[i] = reach[i - 1] + (speed + next) / 2;
      speed = next;
    }
  for (int i = 0; i <= SAMPLES; i++)
    {
      Sample *s = &work->samples[work->count++];
      *s = (Sample){ .place = { index, (double)i / SAMPLES } };
      s->at = before;
      if (reach[SAMPLES] > 0)
        s->at += length * reach[i] / reach[SAMPLES];
      fill_sample (work, s);
    }
}

/* Surplus between two samples of one cubic. The integral of k ds is the angle
 * between the tangents, which stays finite where k does not (a collapsed
 * handle); the partner's is taken in the middle, off the ends of its cubics,
 * and turns no more than half round in one step. */
static double
surplus_between (const Work *work, const Sample *a, const Sample *b)
{
  const GeoChain *chain = work->edge->chain;
  double ds = b->at - a->at;
  if (!(ds > 0))
    return 0;
  double own = work->outside
               * geo_angle_between (geo_chain_tangent (chain, a->place),
                                    geo_chain_tangent (chain, b->place));
  if (!work->partner)
    return 2 * work->rule->width * own;
  double other = ds * work->partner ((a->at + b->at) / 2, work->data);
  return work->rule->width * (own + fmax (-M_PI, fmin (M_PI, other)));
}

static void
integrate (Work *work)
{
  for (size_t i = 1; i < work->count; i++)
    {
      const Sample *a = &work->samples[i - 1];
      Sample *b = &work->samples[i];
      double ds = b->at - a->at;
      b->measure = a->measure + ds * (a->density + b->density) / 2;
      double more = surplus_between (work, a, b);
      b->surplus = a->surplus + more;
      if (more > 0)
        work->plan->comes_out += more;
      else
        work->plan->opens -= more;
    }
}

static void
append_cut (const Work *work, double at, double mouth)
{
  GeoClipPlan *plan = work->plan;
  plan->cuts
      = geo_grow (plan->cuts, plan->count, &plan->room, sizeof *plan->cuts);
  plan->cuts[plan->count++]
      = (GeoCut){ .at = at,
                  .depth = cut_depth (work->rule->width),
                  .mouth = mouth > 0 ? mouth : 0,
                  .kind = mouth > 0 ? GEO_CUT_WEDGE : GEO_CUT_SLIT };
}

/* Where the measure reaches m between samples first and last: exact place, and
 * the surplus up to there. */
static double
place_of_measure (const Work *work, size_t first, size_t last, double m,
                  double *surplus)
{
  size_t low = first, high = last;
  while (high - low > 1)
    {
      size_t middle = (low + high) / 2;
      if (work->samples[middle].measure <= m)
        low = middle;
      else
        high = middle;
    }
  const Sample *a = &work->samples[low], *b = &work->samples[high];
  double part = b->measure - a->measure;
  double u = part > 0 ? fmin (fmax ((m - a->measure) / part, 0), 1) : 0;
  *surplus = a->surplus + u * (b->surplus - a->surplus);
  double t = a->place.t + u * (b->place.t - a->place.t);
  if (a->place.cubic != b->place.cubic)
    return a->at;
  return geo_ruler_length_to (work->edge, (GeoPlace){ a->place.cubic, t });
}

/* How near to each other cuts may stand. */
static double
closest (const GeoClipRule *rule)
{
  return rule->spacing > 0 ? fmin (rule->spacing, rule->closest)
                           : rule->closest;
}

/* Distance by which a place is too near one of the others; 0 when it is
 * clear. */
static double
too_near (double at, const double *others, size_t count, double keep)
{
  double worst = 0;
  for (size_t i = 0; i < count; i++)
    worst = fmax (worst, keep - fabs (at - others[i]));
  return worst > 1e-9 ? worst : 0;
}

static double
crowding (const Work *work, double at)
{
  return too_near (at, work->marks, work->mark_count, work->rule->keep_off);
}

/* By the other ply's cuts: put up with where there is no help. */
static double
facing (const Work *work, double at)
{
  const GeoClipRule *rule = work->rule;
  return too_near (at, rule->facing, rule->facing_count, rule->apart);
}

typedef struct
{
  size_t first, last; /* samples */
  double whole;       /* measure */
  int steps;
  double shift; /* in steps; cuts at (i + shift) steps */
} Zone;

static double
zone_cut (const Work *work, const Zone *zone, double step, double *surplus)
{
  double m = work->samples[zone->first].measure
             + zone->whole * fmin (fmax (step / zone->steps, 0), 1);
  return place_of_measure (work, zone->first, zone->last, m, surplus);
}

/* marks: of the whole, what balance marks alone make. */
static double
zone_crowding (const Work *work, const Zone *zone, double *marks)
{
  double sum = 0, unused;
  *marks = 0;
  for (int i = 0; i <= zone->steps; i++)
    if (i + zone->shift > 1e-9 && i + zone->shift < zone->steps - 1e-9)
      {
        double at = zone_cut (work, zone, i + zone->shift, &unused);
        double by_marks = crowding (work, at);
        *marks += by_marks;
        sum += by_marks + facing (work, at);
      }
  return sum;
}

/* Shifts all cuts together until none stands near a mark or faces a cut, or
 * adds a step for a mark's sake. */
static void
settle_zone (const Work *work, Zone *zone)
{
  Zone best = *zone;
  double marks, base = zone->shift;
  double least = zone_crowding (work, zone, &marks);
  const Sample *a = &work->samples[zone->first];
  const Sample *b = &work->samples[zone->last];
  for (int more = 0; more < 3 && (more ? marks : least) > 0; more++)
    {
      Zone trial = *zone;
      trial.steps += more;
      /* Not closer than the hold allows. */
      if (more && (b->at - a->at) / trial.steps < closest (work->rule))
        break;
      for (int i = 0; i <= 2 * SHIFTS && least > 0; i++)
        {
          double off = (i + 1) / 2 * 0.45 / SHIFTS * (i % 2 ? 1 : -1);
          trial.shift = base + off;
          double by_marks, sum = zone_crowding (work, &trial, &by_marks);
          if (sum < least)
            {
              least = sum;
              marks = by_marks;
              best = trial;
            }
        }
    }
  *zone = best;
}

typedef struct
{
  double from, reach,
      least; /* where it was; how far it may go; from where on */
  double best;
} Search;

/* Tries the places just clear of each of the others. */
static void
try_beside (const Work *work, Search *search, const double *others,
            size_t count, double keep, bool face)
{
  double length = geo_ruler_length (work->edge);
  for (size_t i = 0; i < 2 * count; i++)
    {
      double to = others[i / 2] + keep * (i % 2 ? 1 : -1);
      if (to > 0 && to < length && to >= search->least
          && fabs (to - search->from) <= search->reach
          && crowding (work, to) == 0 && (face || facing (work, to) == 0)
          && fabs (to - search->from) < fabs (search->best - search->from))
        search->best = to;
    }
}

/* The nearest clear place for one cut; facing a cut, where nothing better is in
 * reach; false where it would stand by a mark anywhere. */
static bool
clear_place (const Work *work, double *at, double before)
{
  const GeoClipRule *rule = work->rule;
  Search search = { .from = *at,
                    .reach = rule->keep_off,
                    .least = before + closest (rule) / 2,
                    .best = INFINITY };
  bool marked = crowding (work, *at) > 0;
  if (!marked && facing (work, *at) == 0)
    return true;
  if (!marked)
    search.reach = rule->apart;
  try_beside (work, &search, work->marks, work->mark_count, rule->keep_off,
              false);
  try_beside (work, &search, rule->facing, rule->facing_count, rule->apart,
              false);
  if (marked && !isfinite (search.best))
    try_beside (work, &search, work->marks, work->mark_count, rule->keep_off,
                true);
  if (isfinite (search.best))
    *at = search.best;
  return !marked || isfinite (search.best);
}

static void
note_gap (GeoClipPlan *plan, double gap)
{
  plan->longest_gap = fmax (plan->longest_gap, gap);
  plan->shortest_gap
      = plan->shortest_gap > 0 ? fmin (plan->shortest_gap, gap) : gap;
}

/* Where cuts as close as they may stand, or as they are fixed, would still have to take up more than
 * the opening, demand D over that length: the width w opening / D would meet
 * it, for D goes with w. */
static void
note_trim (const Work *work, const Zone *zone)
{
  const GeoClipRule *rule = work->rule;
  double worst = 0, step = rule->spacing > 0 ? rule->spacing : rule->closest;
  size_t j = zone->first;
  for (size_t i = zone->first; i < zone->last; i++)
    {
      const Sample *a = &work->samples[i];
      double to = a->at + step;
      while (j < zone->last && work->samples[j].at < to)
        j++;
      /* a is before it, so j is past i. */
      const Sample *c = &work->samples[j], *b = c - 1;
      double part
          = c->at > b->at ? fmin ((to - b->at) / (c->at - b->at), 1) : 1;
      double upto = b->surplus + part * (c->surplus - b->surplus);
      worst = fmax (worst, fabs (upto - a->surplus));
    }
  if (worst > rule->opening * (1 + 1e-6))
    {
      double width = rule->width * rule->opening / worst;
      double *trim = &work->plan->trim_to;
      *trim = *trim > 0 ? fmin (*trim, width) : width;
    }
}

static void
cut_zone (const Work *work, Zone zone)
{
  const Sample *a = &work->samples[zone.first];
  const Sample *b = &work->samples[zone.last];
  double nearest = closest (work->rule), before = -INFINITY;
  zone.whole = b->measure - a->measure;
  if (b->at - a->at < nearest || !(zone.whole > 0))
    return;
  note_trim (work, &zone);
  double steps
      = work->rule->spacing > 0 ? round (zone.whole) : ceil (zone.whole - 1e-9);
  zone.steps = (int)fmin (fmax (steps, 2), 1e5);
  zone.shift = work->rule->stagger ? 0.5 : 0;
  /* Two steps for want of fewer, and no room for two cuts: one, aside of the
   * middle, where the other ply may have its own. */
  if (work->rule->stagger && zone.whole <= 1 && b->at - a->at < 2 * nearest)
    {
      zone.steps = 1;
      zone.shift = 0.25;
    }
  settle_zone (work, &zone);
  for (int i = 0; i <= zone.steps; i++)
    {
      double step = i + zone.shift, from, to, unused;
      if (step <= 1e-9 || step >= zone.steps - 1e-9)
        continue;
      double at = zone_cut (work, &zone, step, &unused);
      if (!clear_place (work, &at, before) || at < before + nearest / 2)
        continue;
      zone_cut (work, &zone, step - 0.5, &from);
      zone_cut (work, &zone, step + 0.5, &to);
      append_cut (work, at, to - from);
      if (before > -INFINITY)
        note_gap (work->plan, at - before);
      before = at;
    }
}

/* Angle at the joint a sample stands on, by which the edge turns inward
 * there. */
static double
inward_joint (const Work *work, const Sample *a, const Sample *b)
{
  GeoPoint in = geo_chain_tangent (work->edge->chain, a->place);
  GeoPoint out = geo_chain_tangent (work->edge->chain, b->place);
  return -work->outside * geo_angle_between (in, out);
}

static void
find_zones (const Work *work)
{
  size_t first = 0;
  for (size_t i = 1; i <= work->count; i++)
    {
      const Sample *a = &work->samples[i - 1];
      const Sample *b = i < work->count ? &work->samples[i] : NULL;
      bool sharp = b && a->place.cubic != b->place.cubic
                   && fabs (inward_joint (work, a, b)) > SHARP;
      bool same = b && !sharp && signed_density (a) * signed_density (b) > 0;
      if (same)
        continue;
      if (a->density > 0 && i - 1 > first)
        cut_zone (work, (Zone){ .first = first, .last = i - 1 });
      if (sharp && inward_joint (work, a, b) > SHARP)
        append_cut (work, a->at, 0);
      first = i;
    }
}

void
geo_clip_plan (const GeoRuler *edge, int outside, const GeoClipRule *rule,
               double (*partner) (double at, void *data), void *data,
               const double *marks, size_t mark_count, GeoClipPlan *plan)
{
  Work work = { .edge = edge,
                .rule = rule,
                .outside = outside,
                .partner = partner,
                .data = data,
                .marks = marks,
                .mark_count = mark_count,
                .plan = plan };
  plan->count = 0;
  plan->surplus = plan->longest_gap = plan->shortest_gap = plan->trim_to = 0;
  plan->comes_out = plan->opens = 0;
  size_t cubics = edge->chain->count;
  if (!(rule->width > 0) || cubics == 0)
    return;
  work.samples
      = geo_realloc (NULL, cubics * (SAMPLES + 1), sizeof *work.samples);
  for (size_t i = 0; i < cubics; i++)
    fill_cubic (&work, i);
  if (work.count > 0)
    {
      integrate (&work);
      plan->surplus = work.samples[work.count - 1].surplus;
      if (!partner)
        plan->surplus = geo_hem_surplus (edge->chain, outside, rule->width);
      if (cut_depth (rule->width) > 0)
        find_zones (&work);
    }
  free (work.samples);
}
