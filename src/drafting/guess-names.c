/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Guessing what a piece's edges are.
 *
 * The trade draws a few sorts of pieces, and each has its edges in one order round it: a bodice's centre, neck, shoulder,
 * armhole, side and waist, say. Such a sort is a row of slots, each telling how its edge looks: how upright, hollow or
 * bulging, how high up in the piece and how far from the centre. Two legs of a dart are seen first (two straight sides
 * of about one length that run into the piece and out again) and left out. The other edges are laid
 * on the slots round the piece, starting anywhere and either way (a piece may lie with its centre to the left or
 * right), none out of order; a slot left empty and two edges on one slot cost something. The cheapest
 * laying of all sorts is the guess. Common practice of the trade; the figures are our own.
 */
#include <glib/gi18n.h>
#include <string.h>

#include "drafting/edge-names-private.h"
#include "drafting/edge-names.h"
#include "drafting/edit-private.h"
#include "geometry/length.h"

#define MOST_EDGES 24
#define MOST_SLOTS 6
#define EMPTY_SLOT 1.1
#define SAME_SLOT 0.35
#define TURNED 0.5    /* for a piece that lies on its side */
#define TOO_DEAR 0.75 /* an edge: no guess */

typedef struct
{
  DraftingEdgeWord word[2]; /* of a front, of a back */
  double upright;           /* 0 level .. 1 upright */
  double bulge;             /* -1 hollow .. 1 bulging */
  double from_centre, down; /* 0..1 in the piece's bounds */
} Slot;

typedef struct
{
  guint n;
  Slot slots[MOST_SLOTS];
} Sort;

/* In the order of an outline of positive area whose centre is to the left. */
static const Sort sorts[] = {
  { 6, /* bodice */
    { { { DRAFTING_CENTRE_FRONT, DRAFTING_CENTRE_BACK }, 1, 0, 0.0, 0.55 },
      { { DRAFTING_FRONT_NECK, DRAFTING_BACK_NECK }, 0.5, -1, 0.15, 0.08 },
      { { DRAFTING_SHOULDER, DRAFTING_SHOULDER }, 0.25, 0, 0.5, 0.04 },
      { { DRAFTING_ARMHOLE, DRAFTING_ARMHOLE }, 0.85, -0.8, 0.83, 0.3 },
      { { DRAFTING_SIDE_SEAM, DRAFTING_SIDE_SEAM }, 0.95, 0, 0.95, 0.75 },
      { { DRAFTING_WAIST, DRAFTING_WAIST }, 0.05, 0, 0.5, 1 } } },
  { 4, /* skirt */
    { { { DRAFTING_CENTRE_FRONT, DRAFTING_CENTRE_BACK }, 1, 0, 0, 0.5 },
      { { DRAFTING_WAIST, DRAFTING_WAIST }, 0.05, -0.35, 0.5, 0 },
      { { DRAFTING_SIDE_SEAM, DRAFTING_SIDE_SEAM }, 0.95, 0.15, 0.95, 0.5 },
      { { DRAFTING_HEM, DRAFTING_HEM }, 0.05, 0.2, 0.5, 1 } } },
  { 4, /* sleeve */
    { { { DRAFTING_UNDERARM, DRAFTING_UNDERARM }, 0.95, 0, 0.05, 0.65 },
      { { DRAFTING_SLEEVE_CAP, DRAFTING_SLEEVE_CAP }, 0.15, 1, 0.5, 0.1 },
      { { DRAFTING_UNDERARM, DRAFTING_UNDERARM }, 0.95, 0, 0.95, 0.65 },
      { { DRAFTING_HEM, DRAFTING_HEM }, 0.05, 0, 0.5, 1 } } },
};

typedef struct
{
  GeoPoint chord, middle; /* middle of its length, in the bounds */
  double bulge;           /* signed height of its bow over its chord, times 3 */
  double straight;        /* 1 - chord / length */
  double length, share;   /* of the outline */
} Look;

typedef struct
{
  guint n;
  Look look[MOST_EDGES];
  guint edge[MOST_EDGES]; /* index in the piece */
} Edges;

/* --- looking ----------------------------------------------------------------------- */

static Look
look_at (const PatternPiece *piece, guint edge)
{
  GeoChain chain = GEO_CHAIN_EMPTY;
  pattern_piece_edge_chain (piece, edge, &chain);
  GeoRuler ruler;
  geo_ruler_init (&ruler, &chain, 1e-3);
  Look look = { .length = geo_ruler_length (&ruler) };
  GeoPoint from = geo_chain_start (&chain);
  look.chord = geo_sub (geo_chain_end (&chain), from);
  double chord = geo_norm (look.chord), bow = 0;
  for (int i = 1; i < 16; i++)
    {
      GeoPoint at = geo_chain_point (
          &chain, geo_ruler_place (&ruler, look.length * i / 16));
      /* Inside is on the left: what bulges lies on the right of its chord. */
      double off = -geo_cross (geo_unit (look.chord), geo_sub (at, from));
      bow = fabs (off) > fabs (bow) ? off : bow;
      if (i == 8)
        look.middle = at;
    }
  look.bulge = chord > 0 ? CLAMP (3 * bow / chord, -1, 1) : 0;
  look.straight = look.length > 0 ? 1 - chord / look.length : 1;
  geo_ruler_clear (&ruler);
  geo_chain_clear (&chain);
  return look;
}

/* The outline turns sharply out of the piece between two straight edges of about one length. */
static gboolean
are_legs (const Look *a, const Look *b)
{
  double turn = geo_angle_between (a->chord, b->chord);
  double longer = fmax (a->length, b->length);
  return turn < -G_PI * 0.6 && a->straight < 0.01 && b->straight < 0.01
         && fabs (a->length - b->length) < 0.12 * longer;
}

/* Of an outline turned by quarter turns, as bounds are looked at. */
static GeoPoint
turned (GeoPoint p, GeoPoint up)
{
  return geo_point (geo_cross (up, p), -geo_dot (up, p));
}

/* --- laying on slots ------------------------------------------------------------------ */

typedef struct
{
  const Edges *edges;
  GeoPoint up;
  GeoBox box; /* turned */
  gboolean mirrored;
} Frame;

static double
cost_of (const Frame *f, guint i, const Slot *slot)
{
  const Look *look = &f->edges->look[i];
  GeoPoint chord = turned (look->chord, f->up);
  GeoPoint at = turned (look->middle, f->up);
  double upright = fabs (atan2 (chord.y, chord.x)) * 2 / G_PI;
  upright = upright > 1 ? 2 - upright : upright;
  double width = fmax (geo_box_width (f->box), 1);
  double height = fmax (geo_box_height (f->box), 1);
  double across = (at.x - f->box.x0) / width;
  double down = (at.y - f->box.y0) / height;
  if (f->mirrored)
    across = 1 - across;
  return fabs (upright - slot->upright) + 0.7 * fabs (look->bulge - slot->bulge)
         + fabs (across - slot->from_centre) + fabs (down - slot->down);
}

/* Edges from start on, step by step, on slots in order; the best slot of each in place. */
static double
lay (const Frame *f, const Sort *sort, guint start, guint *place)
{
  guint n = f->edges->n, m = sort->n;
  double best[MOST_EDGES][MOST_SLOTS];
  guint came[MOST_EDGES][MOST_SLOTS];
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < m; k++)
      {
        guint e = (f->mirrored ? start + n - i : start + i) % n;
        double own = cost_of (f, e, &sort->slots[k]);
        best[i][k] = i == 0 ? own + EMPTY_SLOT * k : INFINITY;
        came[i][k] = k;
        for (guint j = 0; i > 0 && j <= k; j++)
          {
            double way = best[i - 1][j] + own
                         + (j == k ? SAME_SLOT : EMPTY_SLOT * (k - j - 1));
            if (way < best[i][k])
              {
                best[i][k] = way;
                came[i][k] = j;
              }
          }
      }
  double least = INFINITY;
  guint at = 0;
  for (guint k = 0; k < m; k++)
    if (best[n - 1][k] + EMPTY_SLOT * (m - 1 - k) < least)
      {
        least = best[n - 1][k] + EMPTY_SLOT * (m - 1 - k);
        at = k;
      }
  for (guint i = n; i-- > 0; at = came[i][at])
    place[(f->mirrored ? start + n - i : start + i) % n] = at;
  return least;
}

typedef struct
{
  double cost;
  const Sort *sort;
  guint place[MOST_EDGES];
  Frame frame;
} Guess;

static void
try_up (const Edges *edges, GeoPoint up, double extra, Guess *guess)
{
  Frame f = { .edges = edges, .up = up, .box = geo_box_empty () };
  for (guint i = 0; i < edges->n; i++)
    {
      const Look *look = &edges->look[i];
      GeoPoint half = geo_scale (look->chord, 0.5);
      f.box = geo_box_add (f.box, turned (look->middle, up));
      f.box = geo_box_add (f.box, turned (geo_add (look->middle, half), up));
      f.box = geo_box_add (f.box, turned (geo_sub (look->middle, half), up));
    }
  for (guint s = 0; s < G_N_ELEMENTS (sorts); s++)
    for (guint start = 0; start < edges->n; start++)
      for (int way = 0; way < 2; way++)
        {
          guint place[MOST_EDGES];
          f.mirrored = way == 1;
          double cost = lay (&f, &sorts[s], start, place) + extra;
          if (cost >= guess->cost)
            continue;
          guess->cost = cost;
          guess->sort = &sorts[s];
          guess->frame = f;
          memcpy (guess->place, place, sizeof place);
        }
}

/* --- names ------------------------------------------------------------------------------ */

static gboolean
is_called (const PatternPiece *piece, const char *word)
{
  g_autofree char *name = g_utf8_casefold (piece->name, -1);
  g_autofree char *folded = g_utf8_casefold (word, -1);
  return strstr (name, folded) != NULL;
}

/* A neck deeper than it is wide by four fifths is a front's. */
static gboolean
is_back (const PatternPiece *piece, const Edges *edges, const Guess *guess)
{
  if (is_called (piece, _ ("back")))
    return TRUE;
  if (is_called (piece, _ ("front")) || guess->sort != &sorts[0])
    return FALSE;
  for (guint i = 0; i < edges->n; i++)
    if (guess->place[i] == 1)
      {
        GeoPoint chord = turned (edges->look[i].chord, guess->frame.up);
        return fabs (chord.y) < 0.8 * fabs (chord.x);
      }
  return FALSE;
}

static gboolean
is_fold (const PatternPiece *piece, guint edge)
{
  return piece->edges[edge].kind == PATTERN_EDGE_FOLD;
}

static void
offer (int *row, guint room, int word)
{
  for (guint i = 0; i < room; i++)
    {
      if (row[i] == word)
        return;
      if (row[i] < 0)
        {
          row[i] = word;
          return;
        }
    }
}

static void
offer_slot (const PatternPiece *piece, guint edge, const Slot *slot,
            gboolean back, guint room, int *row)
{
  int word = (int)slot->word[back];
  int fold = word == DRAFTING_CENTRE_FRONT  ? DRAFTING_CENTRE_FRONT_FOLD
             : word == DRAFTING_CENTRE_BACK ? DRAFTING_CENTRE_BACK_FOLD
                                            : -1;
  if (fold >= 0 && is_fold (piece, edge))
    offer (row, room, fold);
  offer (row, room, word);
  if (fold >= 0)
    offer (row, room, fold);
  offer (row, room, (int)slot->word[!back]);
}

/* The other slots, the likelier first. */
static void
offer_others (const PatternPiece *piece, const Guess *guess, guint i,
              gboolean back, guint room, int *row)
{
  gboolean used[MOST_SLOTS] = { FALSE };
  for (guint turn = 0; turn < guess->sort->n; turn++)
    {
      int best = -1;
      double least = INFINITY;
      for (guint k = 0; k < guess->sort->n; k++)
        {
          double cost = cost_of (&guess->frame, i, &guess->sort->slots[k]);
          if (!used[k] && cost < least)
            {
              least = cost;
              best = (int)k;
            }
        }
      used[best] = TRUE;
      offer_slot (piece, guess->frame.edges->edge[i], &guess->sort->slots[best],
                  back, room, row);
    }
  offer (row, room, DRAFTING_HEM);
}

void
drafting_guess_edge_names (const PatternPiece *piece, guint room, int *out)
{
  g_return_if_fail (piece != NULL && room > 0 && out != NULL);
  guint n = piece->n_edges;
  for (guint i = 0; i < n * room; i++)
    out[i] = -1;
  if (n == 0 || n > MOST_EDGES)
    return;
  Edges edges = { 0 };
  Look looks[MOST_EDGES];
  for (guint i = 0; i < n; i++)
    looks[i] = look_at (piece, i);
  for (guint i = 0; i < n; i++)
    {
      gboolean leg = are_legs (&looks[i], &looks[(i + 1) % n])
                     || are_legs (&looks[(i + n - 1) % n], &looks[i]);
      if (leg)
        offer (out + i * room, room, DRAFTING_DART_LEG);
      else
        {
          edges.look[edges.n] = looks[i];
          edges.edge[edges.n++] = i;
        }
    }
  if (edges.n < 3)
    return;
  Guess guess = { .cost = INFINITY };
  GeoPoint up = geo_point (0, -1);
  if (piece->has_grain)
    {
      up = geo_unit (geo_sub (piece->grain_from, piece->grain_to));
      if (geo_norm (up) < 0.5)
        up = geo_point (0, -1);
    }
  for (int quarter = 0; quarter < 4; quarter++, up = geo_left (up))
    try_up (&edges, up, quarter ? TURNED : 0, &guess);
  if (!guess.sort || guess.cost > TOO_DEAR * edges.n)
    return;
  gboolean back = is_back (piece, &edges, &guess);
  for (guint i = 0; i < edges.n; i++)
    {
      int *row = out + edges.edge[i] * room;
      offer_slot (piece, edges.edge[i], &guess.sort->slots[guess.place[i]],
                  back, room, row);
      offer_others (piece, &guess, i, back, room, row);
    }
}
