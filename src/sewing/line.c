/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/line.h"

#include "geometry/length.h"

/* Corners that are one agree to this, mm; laid by a motion, to MEETS. */
#define SAME 1e-9
#define MEETS 1e-6
/* More edges than any garment's line has. */
#define MOST_RUNS 64

typedef struct
{
  SewingFacts *facts;
  const Pattern *pattern;
  GArray *runs;   /* SewingLineRun, without from and to */
  GArray *joints; /* SewingLineJoint */
} Build;

static GeoChain
edge_chain (Build *build, guint piece, guint edge)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  const PatternPiece *own = pattern_get_piece (build->pattern, piece);
  const SewingPiece *facts = sewing_facts_piece (build->facts, own);
  geo_chain_copy (&chain, &facts->stitch[pattern_piece_find_edge (own, edge)]);
  return chain;
}

static SewingLineRun
lay_run (Build *build, guint piece, guint edge, gboolean reversed,
         GeoMotion lay)
{
  SewingLineRun run
      = { piece, edge, reversed, lay, edge_chain (build, piece, edge), 0, 0 };
  geo_chain_transform (&run.laid, lay);
  if (reversed)
    geo_chain_reverse (&run.laid);
  return run;
}

/* The way along the seam out of the pieces, on side A's. */
static GeoPoint
way_out (const SewingSeam *seam, int end)
{
  const GeoChain *chain = &seam->chains[0];
  GeoPoint way
      = end == 0 ? geo_chain_tangent (chain, (GeoPlace){ 0, 0 })
                 : geo_chain_tangent (chain, (GeoPlace){ chain->count - 1, 1 });
  return end == 0 ? geo_scale (way, -1) : way;
}

/* lay_a: lays side A's piece. */
static SewingLineJoint
make_joint (Build *build, const PatternSeam *seam, int end,
            const SewingJoint *joint, gboolean a_first, GeoMotion lay_a)
{
  const SewingSeam *facts
      = sewing_facts_seam (build->facts, build->pattern, seam);
  return (SewingLineJoint){
    .seam = seam->id,
    .end = end,
    .a_first = a_first,
    .at = geo_motion_apply (lay_a, joint->at),
    .out = geo_motion_turn (lay_a, way_out (facts, end)),
    .angle = joint->angle,
    .step = facts->out,
    .dart = seam->join == PATTERN_JOIN_DART,
  };
}

/* The edge runs towards the corner at `at`, on its own piece. */
static gboolean
ends_at (Build *build, guint piece, guint edge, GeoPoint at, gboolean *reversed)
{
  GeoChain chain = edge_chain (build, piece, edge);
  double start = geo_distance (geo_chain_start (&chain), at);
  double end = geo_distance (geo_chain_end (&chain), at);
  gboolean any = chain.count > 0 && fmin (start, end) < MEETS;
  geo_chain_clear (&chain);
  *reversed = start < end;
  return any;
}

static gboolean
has_run (Build *build, guint piece, guint edge)
{
  for (guint i = 0; i < build->runs->len; i++)
    {
      const SewingLineRun *run = &g_array_index (build->runs, SewingLineRun, i);
      if (run->piece == piece && run->edge == edge)
        return TRUE;
    }
  return FALSE;
}

typedef struct
{
  const PatternSeam *seam;
  int end;
  SewingJoint joint;
  gboolean a_here; /* side A is the one the line has come to */
} Found;

/* The joint at which an edge, at its corner `at`, runs on. */
static gboolean
find_joint (Build *build, guint piece, guint edge, GeoPoint at, Found *found)
{
  for (guint i = 0; i < build->pattern->n_seams; i++)
    for (int end = 0; end < 2; end++)
      {
        *found = (Found){ .seam = build->pattern->seams[i], .end = end };
        SewingJoint *j = &found->joint;
        /* Behind a turned edge there is another ply, a facing: the line ends. */
        if (found->seam->press == PATTERN_PRESS_TURNED
            || !sewing_seam_joint (build->facts, build->pattern, found->seam,
                                   end, j)
            || !j->runs_on)
          continue;
        GeoPoint b = geo_motion_apply (geo_motion_inverse (j->motion), j->at);
        found->a_here = j->a_piece == piece && j->a_edge == edge
                        && geo_distance (j->at, at) < MEETS;
        if (found->a_here
            || (j->b_piece == piece && j->b_edge == edge
                && geo_distance (b, at) < MEETS))
          return TRUE;
      }
  return FALSE;
}

/* The piece's corner that the run comes to, forwards or back. */
static GeoPoint
far_corner (const SewingLineRun *run, gboolean forwards)
{
  GeoPoint laid
      = forwards ? geo_chain_end (&run->laid) : geo_chain_start (&run->laid);
  return geo_motion_apply (geo_motion_inverse (run->lay), laid);
}

/* Puts the next run and its joint at the line's end, or its start. */
static gboolean
follow (Build *build, gboolean forwards)
{
  guint last = forwards ? build->runs->len - 1 : 0;
  SewingLineRun from = g_array_index (build->runs, SewingLineRun, last);
  Found found;
  if (build->runs->len >= MOST_RUNS
      || !find_joint (build, from.piece, from.edge,
                      far_corner (&from, forwards), &found))
    return FALSE;
  const SewingJoint *j = &found.joint;
  guint piece = found.a_here ? j->b_piece : j->a_piece;
  guint edge = found.a_here ? j->b_edge : j->a_edge;
  GeoMotion motion = found.a_here ? j->motion : geo_motion_inverse (j->motion);
  GeoPoint at = found.a_here
                    ? geo_motion_apply (geo_motion_inverse (j->motion), j->at)
                    : j->at;
  GeoMotion lay = geo_motion_then (motion, from.lay);
  gboolean towards;
  if (has_run (build, piece, edge)
      || !ends_at (build, piece, edge, at, &towards))
    return FALSE;
  /* towards: the edge reversed comes to the joint; forwards the line leaves it. */
  SewingLineRun run
      = lay_run (build, piece, edge, forwards ? !towards : towards, lay);
  SewingLineJoint joint
      = make_joint (build, found.seam, found.end, j, found.a_here == forwards,
                    found.a_here ? from.lay : lay);
  if (forwards)
    {
      g_array_append_val (build->runs, run);
      g_array_append_val (build->joints, joint);
    }
  else
    {
      g_array_prepend_val (build->runs, run);
      g_array_prepend_val (build->joints, joint);
    }
  return TRUE;
}

static gboolean
begin (Build *build, const PatternSeam *seam, int end)
{
  SewingJoint j;
  gboolean a_reversed, b_reversed;
  if (!sewing_seam_joint (build->facts, build->pattern, seam, end, &j)
      || sewing_facts_seam (build->facts, build->pattern, seam) == NULL)
    return FALSE;
  GeoPoint b = geo_motion_apply (geo_motion_inverse (j.motion), j.at);
  if (!ends_at (build, j.a_piece, j.a_edge, j.at, &a_reversed)
      || !ends_at (build, j.b_piece, j.b_edge, b, &b_reversed))
    return FALSE;
  SewingLineRun run
      = lay_run (build, j.a_piece, j.a_edge, a_reversed, geo_motion_none ());
  g_array_append_val (build->runs, run);
  run = lay_run (build, j.b_piece, j.b_edge, !b_reversed, j.motion);
  g_array_append_val (build->runs, run);
  SewingLineJoint joint
      = make_joint (build, seam, end, &j, TRUE, geo_motion_none ());
  g_array_append_val (build->joints, joint);
  return TRUE;
}

/* A run may begin in the middle of an edge that is only one: nothing to ask of it. */
static SewingLineEnd
end_of (Build *build, const SewingLineRun *run, gboolean forwards)
{
  const PatternPiece *piece = pattern_get_piece (build->pattern, run->piece);
  const SewingPiece *facts = sewing_facts_piece (build->facts, piece);
  guint n = piece->n_edges;
  guint own = (guint)pattern_piece_find_edge (piece, run->edge);
  gboolean at_end = forwards != run->reversed; /* of the edge */
  guint beside = at_end ? (own + 1) % n : (own + n - 1) % n;
  SewingLineEnd end = { .at = forwards ? geo_chain_end (&run->laid)
                                       : geo_chain_start (&run->laid) };
  sewing_corner_inside (facts, at_end ? beside : own, &end.angle);
  const GeoChain *fold = &facts->stitch[beside];
  end.fold = n > 1 && piece->edges[beside].kind == PATTERN_EDGE_FOLD;
  if (!end.fold || fold->count == 0)
    return end;
  GeoPoint in
      = at_end
            ? geo_chain_tangent (fold, (GeoPlace){ 0, 0 })
            : geo_scale (
                geo_chain_tangent (fold, (GeoPlace){ fold->count - 1, 1 }), -1);
  end.in = geo_motion_turn (run->lay, in);
  return end;
}

static SewingLine *
finish (Build *build, guint asked)
{
  SewingLine *line = g_new0 (SewingLine, 1);
  line->asked = asked;
  line->n_runs = build->runs->len;
  line->n_joints = build->joints->len;
  line->runs = (SewingLineRun *)(gpointer)g_array_free (build->runs, FALSE);
  line->joints
      = (SewingLineJoint *)(gpointer)g_array_free (build->joints, FALSE);
  for (guint i = 0; i < line->n_runs; i++)
    {
      SewingLineRun *run = &line->runs[i];
      run->from = line->length;
      line->length += geo_chain_length (&run->laid, SAME);
      run->to = line->length;
    }
  line->ends[0] = end_of (build, &line->runs[0], FALSE);
  line->ends[1] = end_of (build, &line->runs[line->n_runs - 1], TRUE);
  return line;
}

SewingLine *
sewing_line_new (SewingFacts *facts, const Pattern *pattern,
                 const PatternSeam *seam, int end)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && seam != NULL, NULL);
  g_return_val_if_fail (end == 0 || end == 1, NULL);
  Build build
      = { facts, pattern, g_array_new (FALSE, FALSE, sizeof (SewingLineRun)),
          g_array_new (FALSE, FALSE, sizeof (SewingLineJoint)) };
  if (!begin (&build, seam, end))
    {
      g_array_unref (build.runs);
      g_array_unref (build.joints);
      return NULL;
    }
  guint asked = 0;
  while (follow (&build, TRUE))
    ;
  while (follow (&build, FALSE))
    asked++;
  return finish (&build, asked);
}

static double
length_of (SewingFacts *facts, const Pattern *pattern, guint piece, guint edge)
{
  const PatternPiece *own = NULL;
  const PatternEdge *it = pattern_get_edge (pattern, piece, edge, &own);
  return it != NULL ? sewing_facts_piece (facts, own)->lengths[it - own->edges]
                    : 0;
}

double
sewing_joint_reach (SewingFacts *facts, const Pattern *pattern,
                    const SewingJoint *joint)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL && joint != NULL, 0);
  double a = length_of (facts, pattern, joint->a_piece, joint->a_edge);
  double b = length_of (facts, pattern, joint->b_piece, joint->b_edge);
  gboolean one = joint->a_piece == joint->b_piece
                 && joint->a_edge == joint->b_edge; /* round a tube */
  double room = one ? a / 2 : fmin (a, b);
  double step = pattern->unit == PATTERN_INCH ? 12.7 : 5;
  double reach = fmin (CLAMP (room / 4, 20, 120), room);
  double whole = round (reach / step) * step;
  return whole > 0 && whole <= room ? whole : room;
}

void
sewing_line_free (SewingLine *line)
{
  if (line == NULL)
    return;
  for (guint i = 0; i < line->n_runs; i++)
    geo_chain_clear (&line->runs[i].laid);
  g_free (line->runs);
  g_free (line->joints);
  g_free (line);
}

void
sewing_line_chain (const SewingLine *line, GeoChain *chain)
{
  g_return_if_fail (line != NULL && chain != NULL);
  for (guint i = 0; i < line->n_runs; i++)
    for (size_t k = 0; k < line->runs[i].laid.count; k++)
      geo_chain_append (chain, line->runs[i].laid.cubics[k]);
}

GeoBox
sewing_line_bounds (const SewingLine *line)
{
  g_return_val_if_fail (line != NULL, geo_box_empty ());
  GeoBox box = geo_box_empty ();
  for (guint i = 0; i < line->n_runs; i++)
    box = geo_box_join (box, geo_chain_bounds (&line->runs[i].laid));
  return box;
}
