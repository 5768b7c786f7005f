/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sleeve. Half a cap is one cubic from the underarm, where it leaves the side square, to the crown, where it
 * is level; the width under the arm that gives it its length is found by halving, for the length
 * grows with it. The sides taper from that width to the hem's about the middle between
 * the two underarms, so they are equal; how they slope depends on the widths, and so they
 * are found together, in a few rounds.
 */
#include "drafting/blocks.h"

#include "drafting/collar.h"
#include "drafting/trace.h"

#define LEAST_CAP 25.0
#define SAME_WIDTH 1e-6 /* mm */
#define ROUNDS 12
#define HALVINGS 60
#define EXACT 1e-11      /* mm */
#define BACK_HOLLOW 0.36 /* handle at the underarm, of the half's width */
#define FRONT_HOLLOW 0.40
#define CROWN 0.53 /* handle at the crown */

double
drafting_skirt_radius (double waist, double length, double flare)
{
  return flare > 0 ? waist * length / flare : INFINITY;
}

static void
rename_edge (DraftingShape *shape, const char *from, const char *to)
{
  for (guint i = 0; i < shape->n_edges; i++)
    if (g_str_equal (shape->edges[i].part, from))
      shape->edges[i].part = g_intern_string (to);
}

gboolean
drafting_skirt_shape (double waist, double length, double flare,
                      DraftingShape *shape)
{
  DraftingBandWish band = { .neck = waist, .height = length, .bend = -flare };
  if (!drafting_band_shape (&band, shape))
    return FALSE;
  rename_edge (shape, "neck", "waist");
  rename_edge (shape, "end", "side");
  rename_edge (shape, "outer", "hem");
  /* Bands stand up from their neck edge: hung the other way. */
  drafting_shape_move (shape, (GeoMotion){ 1, 0, 0, 0, true });
  return TRUE;
}

/* Half a cap to the right of the crown, at 0, 0; level is the way from the underarm in. */
static GeoCubic
half_cap (double width, double cap, double hollow, GeoPoint level)
{
  GeoPoint under = geo_point (width, cap);
  return (GeoCubic){ { under, geo_along (under, level, hollow * width),
                       geo_point (CROWN * width, 0), geo_point (0, 0) } };
}

/* How much longer than asked a half cap of that width is. */
static double
cap_off (double width, double length, double cap, double hollow, GeoPoint level)
{
  GeoCubic c = half_cap (width, cap, hollow, level);
  return geo_cubic_length (&c, 1e-10) - length;
}

/* The width whose cap is as long as asked; 0 where none is. */
static double
width_for (double length, double cap, double hollow, GeoPoint level)
{
  if (length < cap * 1.1)
    return 0;
  /* The length grows with the width: a chord's root, its steady end weighed half (Illinois). */
  double low = 0, high = length, half = 0;
  double below = cap_off (low, length, cap, hollow, level);
  double above = cap_off (high, length, cap, hollow, level);
  for (int i = 0, last = 0; i < HALVINGS && high - low > EXACT; i++)
    {
      half = above > below ? low - below * (high - low) / (above - below)
                           : (low + high) / 2;
      double off = cap_off (half, length, cap, hollow, level);
      if (fabs (off) < EXACT)
        return half;
      int side = off < 0 ? -1 : 1;
      if (side < 0)
        {
          low = half;
          below = off;
          above /= last < 0 ? 2 : 1;
        }
      else
        {
          high = half;
          above = off;
          below /= last > 0 ? 2 : 1;
        }
      last = side;
    }
  return half;
}

typedef struct
{
  double back, front; /* widths */
  GeoPoint in;        /* from the front underarm in, square to the side */
} Widths;

/* The sides lean in by the same on both. */
static gboolean
find_widths (const DraftingSleeveWish *w, Widths *widths)
{
  widths->in = geo_point (-1, 0);
  for (int i = 0; i < ROUNDS; i++)
    {
      widths->front = width_for (w->front, w->cap, FRONT_HOLLOW, widths->in);
      widths->back = width_for (w->back, w->cap, BACK_HOLLOW, widths->in);
      if (widths->front <= 0 || widths->back <= 0)
        return FALSE;
      double lean = (widths->front + widths->back - w->hem) / 2;
      GeoPoint side = geo_unit (geo_point (-lean, w->length - w->cap));
      widths->in = geo_point (-side.y, side.x);
    }
  return TRUE;
}

static GeoCubic
mirrored (GeoCubic c)
{
  for (int i = 0; i < 4; i++)
    c.p[i].x = -c.p[i].x;
  return c;
}

gboolean
drafting_sleeve_shape (const DraftingSleeveWish *w, DraftingShape *shape,
                       double *width)
{
  drafting_shape_clear (shape);
  Widths widths;
  if (w->cap < 10 || w->hem < 20 || w->length < w->cap + 20
      || !find_widths (w, &widths))
    return FALSE;
  GeoCubic front = half_cap (widths.front, w->cap, FRONT_HOLLOW, widths.in);
  GeoCubic back
      = mirrored (half_cap (widths.back, w->cap, BACK_HOLLOW, widths.in));
  double middle = (widths.front - widths.back) / 2;
  GeoPoint right = geo_point (middle + w->hem / 2, w->length);
  GeoPoint left = geo_point (middle - w->hem / 2, w->length);
  geo_chain_append (drafting_shape_add (shape, "back-cap"), back);
  geo_chain_append (drafting_shape_add (shape, "front-cap"),
                    geo_cubic_reverse (&front));
  drafting_shape_add_line (shape, "front-side", right);
  geo_chain_append (drafting_shape_add (shape, "hem"),
                    drafting_trace_arc (right, widths.in, left,
                                        geo_point (widths.in.x, -widths.in.y)));
  drafting_shape_add_line (shape, "back-side", back.p[0]);
  *width = widths.front + widths.back;
  return drafting_shape_is_sound (shape);
}

/* The higher the cap, the narrower the sleeve; 0 where it is too high. */
static double
width_at (DraftingSleeveWish *w, double cap)
{
  Widths widths;
  w->cap = cap;
  return w->length > cap + 20 && find_widths (w, &widths)
             ? widths.front + widths.back
             : 0;
}

int
drafting_sleeve_cap_for (DraftingSleeveWish *w, double width)
{
  double low = LEAST_CAP, high = fmax (fmin (w->back, w->front), low);
  if (width_at (w, low) < width)
    return 1;
  for (int i = 0; i < HALVINGS; i++)
    {
      double half = (low + high) / 2;
      if (width_at (w, half) >= width)
        low = half;
      else
        high = half;
    }
  return fabs (width_at (w, low) - width) < SAME_WIDTH ? 0 : -1;
}
