/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finding a sheet that nobody pointed at.
 *
 * In a small copy of the picture everything lighter, and everything darker, than each of some levels is parted into
 * regions; the border places of a region vote for lines by their direction (Hough), and the four best that can be a quadrangle's
 * sides make a candidate. What a piece lying on the sheet takes away, or one beside it adds, takes votes from one side only. The
 * candidates seen best are then looked at in the picture itself.
 */
#include <math.h>
#include <string.h>

#include "tracing/profile.h"
#include "tracing/sheet.h"

#define SMALL 560 /* px: the copy's longer side */
#define LEVELS 13
#define LEAST_SHARE 0.003 /* of the picture */
#define ANGLES 180        /* of a whole turn */
#define MOST_LINES 10
#define CANDIDATES 40
#define LOOKED_AT 10
#define LEAST_SIDE 0.3   /* of a side seen */
#define LEAST_SIDES 0.55 /* of all */
#define OTHER_SHAPE                                                            \
  0.25 /* how far the sides' ratio may be off, in its logarithm */

typedef struct
{
  guint width, height, shrink;
  guint8 *maps[2]; /* lightness; the least of the three colours */
  guint *label;    /* round of the last visit */
  guint *stack;
  guint rounds;
} Small;

typedef struct
{
  guint x, y;
  guint angle; /* of the outward normal, in 1/ANGLES turn */
} Border;

typedef struct
{
  GeoPoint normal; /* outward */
  double rho;
  guint votes;
} Line;

typedef struct
{
  GeoPoint corners[4];
  double seen;
} Quad;

/* --- the small copy ---------------------------------------------------------------- */
static void
small_fill (Small *s, const TracingView *view)
{
  for (guint y = 0; y < s->height; y++)
    for (guint x = 0; x < s->width; x++)
      {
        guint sum[3] = { 0, 0, 0 }, n = 0;
        guint step = MAX (s->shrink / 4, 1);
        for (guint j = 0; j < s->shrink; j += step)
          for (guint i = 0; i < s->shrink; i += step)
            {
              guint py = y * s->shrink + j, px = x * s->shrink + i;
              const guint8 *p = view->rgb + py * view->stride + 3 * px;
              for (guint c = 0; c < 3; c++)
                sum[c] += p[c];
              n++;
            }
        gsize at = (gsize)y * s->width + x;
        s->maps[0][at] = (guint8)((2 * sum[0] + 5 * sum[1] + sum[2]) / (8 * n));
        s->maps[1][at] = (guint8)(MIN (MIN (sum[0], sum[1]), sum[2]) / n);
      }
}

/* Evened by its eight neighbours: for directions. */
static void
soften (guint8 *map, guint width, guint height)
{
  g_autofree guint8 *old = g_memdup2 (map, (gsize)width * height);
  for (guint y = 1; y + 1 < height; y++)
    for (guint x = 1; x + 1 < width; x++)
      {
        const guint8 *p = old + (gsize)y * width + x;
        guint sum = 4U * p[0] + 2U * (p[-1] + p[1]);
        sum += 2U * (p[-(gssize)width] + p[width]);
        sum += p[-(gssize)width - 1] + p[-(gssize)width + 1];
        sum += p[width - 1] + p[width + 1];
        map[(gsize)y * width + x] = (guint8)(sum / 16);
      }
}

static gboolean
small_init (Small *s, const TracingView *view)
{
  guint longer = MAX (view->width, view->height);
  memset (s, 0, sizeof *s);
  s->shrink = MAX (longer / SMALL, 1);
  s->width = view->width / s->shrink;
  s->height = view->height / s->shrink;
  if (s->width < 16 || s->height < 16)
    return FALSE;
  gsize n = (gsize)s->width * s->height;
  for (guint m = 0; m < 2; m++)
    s->maps[m] = g_new (guint8, n);
  s->label = g_new0 (guint, n);
  s->stack = g_new (guint, n);
  small_fill (s, view);
  for (guint m = 0; m < 2; m++)
    soften (s->maps[m], s->width, s->height);
  return TRUE;
}

static void
small_clear (Small *s)
{
  for (guint m = 0; m < 2; m++)
    g_free (s->maps[m]);
  g_free (s->label);
  g_free (s->stack);
}

/* --- regions ----------------------------------------------------------------------- */
static inline gboolean
is_in (const guint8 *map, gsize at, guint level, gboolean light)
{
  return light ? map[at] >= level : map[at] < level;
}

/* Whether any of the four beside it is out; the direction light falls off there. */
static gboolean
is_border (const Small *s, const guint8 *map, guint x, guint y, guint level,
           gboolean light, Border *border)
{
  gsize at = (gsize)y * s->width + x;
  if (x < 2 || y < 2 || x + 2 >= s->width || y + 2 >= s->height)
    return FALSE;
  if (is_in (map, at - 1, level, light) && is_in (map, at + 1, level, light)
      && is_in (map, at - s->width, level, light)
      && is_in (map, at + s->width, level, light))
    return FALSE;
  gsize w = s->width;
  int dx = 2 * (map[at + 1] - map[at - 1]) + map[at + 1 - w] - map[at - 1 - w]
           + map[at + 1 + w] - map[at - 1 + w];
  int dy = 2 * (map[at + w] - map[at - w]) + map[at + w - 1] - map[at - w - 1]
           + map[at + w + 1] - map[at - w + 1];
  if (dx * dx + dy * dy < 64)
    return FALSE;
  double angle = light ? atan2 (-dy, -dx) : atan2 (dy, dx);
  *border = (Border){
    x, y, (guint)floor ((angle / (2 * G_PI) + 1) * ANGLES + 0.5) % ANGLES
  };
  return TRUE;
}

/* Fills the region from a place on; its size, and its border places. */
static guint
flood (Small *s, const guint8 *map, guint start, guint level, gboolean light,
       GArray *border)
{
  guint top = 0, size = 0, w = s->width, n = s->width * s->height;
  s->stack[top++] = start;
  s->label[start] = s->rounds;
  while (top > 0)
    {
      guint at = s->stack[--top], x = at % w, y = at / w;
      Border b;
      size++;
      if (is_border (s, map, x, y, level, light, &b))
        g_array_append_val (border, b);
      const guint beside[4] = { x > 0 ? at - 1 : n, x + 1 < w ? at + 1 : n,
                                y > 0 ? at - w : n, at + w };
      for (guint k = 0; k < 4; k++)
        if (beside[k] < n && s->label[beside[k]] != s->rounds
            && is_in (map, beside[k], level, light))
          {
            s->label[beside[k]] = s->rounds;
            s->stack[top++] = beside[k];
          }
    }
  return size;
}

/* --- lines ------------------------------------------------------------------------- */
static inline double
rho_of (const Border *b, guint angle)
{
  double a = 2 * G_PI * angle / ANGLES;
  return (b->x + 0.5) * cos (a) + (b->y + 0.5) * sin (a);
}

/* The line through what voted for it, by least squares. */
static Line
line_of (const GArray *border, GeoPoint normal, double rho)
{
  double n = 0, sx = 0, sy = 0, xx = 0, xy = 0, yy = 0;
  for (guint i = 0; i < border->len; i++)
    {
      const Border *b = &g_array_index (border, Border, i);
      double a = 2 * G_PI * b->angle / ANGLES, x = b->x + 0.5, y = b->y + 0.5;
      if (fabs (x * normal.x + y * normal.y - rho) > 2
          || cos (a) * normal.x + sin (a) * normal.y < 0.9)
        continue;
      n++;
      sx += x;
      sy += y;
      xx += x * x;
      xy += x * y;
      yy += y * y;
    }
  Line line = { normal, rho, (guint)n };
  if (n < 3)
    return line;
  double angle = 0.5
                 * atan2 (2 * (xy - sx * sy / n),
                          (xx - sx * sx / n) - (yy - sy * sy / n));
  GeoPoint now = { -sin (angle), cos (angle) };
  line.normal = geo_dot (now, normal) < 0 ? geo_scale (now, -1) : now;
  line.rho = (line.normal.x * sx + line.normal.y * sy) / n;
  return line;
}

static guint
find_lines (const Small *s, const GArray *border, guint16 *votes, Line *lines)
{
  guint most = (guint)hypot (s->width, s->height) + 4, rhos = 2 * most;
  guint found = 0;
  memset (votes, 0, sizeof *votes * rhos * ANGLES);
  for (guint i = 0; i < border->len; i++)
    {
      const Border *b = &g_array_index (border, Border, i);
      for (int k = -4; k <= 4; k++)
        {
          guint angle = (b->angle + ANGLES + (guint)(k + ANGLES)) % ANGLES;
          votes[angle * rhos + (guint)(rho_of (b, angle) + most)]++;
        }
    }
  while (found < MOST_LINES)
    {
      gsize best = 0;
      for (gsize i = 1; i + 1 < (gsize)rhos * ANGLES; i++)
        if (votes[i] + votes[i + 1] > votes[best] + votes[best + 1])
          best = i;
      if (votes[best] + votes[best + 1] < 14)
        break;
      guint angle = (guint)(best / rhos), r = (guint)(best % rhos);
      double a = 2 * G_PI * angle / ANGLES;
      lines[found++] = line_of (border, geo_point (cos (a), sin (a)),
                                (double)r + 1 - most);
      /* Nothing near it counts again. */
      for (int k = -5; k <= 5; k++)
        for (int j = -5; j <= 5; j++)
          {
            guint near = (angle + ANGLES + (guint)(k + ANGLES)) % ANGLES;
            int at = (int)r + j;
            if (at >= 0 && at < (int)rhos)
              votes[near * rhos + (guint)at] = 0;
          }
    }
  return found;
}

/* --- quadrangles ------------------------------------------------------------------- */
static gboolean
meet (const Line *a, const Line *b, GeoPoint *at)
{
  double across = geo_cross (a->normal, b->normal);
  if (!(across > 0.35)) /* outward normals go round, by 20 to 160 degrees */
    return FALSE;
  *at = geo_point ((a->rho * b->normal.y - b->rho * a->normal.y) / across,
                   (b->rho * a->normal.x - a->rho * b->normal.x) / across);
  return TRUE;
}

/* Share of a side that has border places on it. */
static double
side_seen (const GArray *border, const Line *line, GeoPoint from, GeoPoint to)
{
  double length = geo_distance (from, to);
  guint bins = (guint)length, seen = 0;
  if (bins < 12)
    return 0;
  g_autofree guint8 *hit = g_new0 (guint8, bins);
  GeoPoint way = geo_scale (geo_sub (to, from), 1 / length);
  for (guint i = 0; i < border->len; i++)
    {
      const Border *b = &g_array_index (border, Border, i);
      GeoPoint p = { b->x + 0.5, b->y + 0.5 };
      double t = geo_dot (geo_sub (p, from), way);
      if (fabs (geo_dot (p, line->normal) - line->rho) < 1.6 && t >= 0
          && t < bins)
        hit[(guint)t] = 1;
    }
  for (guint i = 0; i < bins; i++)
    seen += hit[i] || (i > 0 && hit[i - 1] && i + 1 < bins && hit[i + 1]);
  return (double)seen / bins;
}

static gboolean
make_quad (const Small *s, const GArray *border, const Line *lines[4],
           Quad *quad)
{
  double sum = 0, around = 0;
  for (guint i = 0; i < 4; i++)
    {
      GeoPoint *at = &quad->corners[i];
      if (!meet (lines[(i + 3) % 4], lines[i], at) || at->x < -2 || at->y < -2
          || at->x > s->width + 2 || at->y > s->height + 2)
        return FALSE;
    }
  for (guint i = 0; i < 4; i++)
    {
      GeoPoint from = quad->corners[i], to = quad->corners[(i + 1) % 4];
      double seen = side_seen (border, lines[i], from, to);
      double length = geo_distance (from, to);
      if (seen < LEAST_SIDE)
        return FALSE;
      sum += seen * length;
      around += length;
    }
  quad->seen = sum / around;
  return quad->seen > LEAST_SIDES;
}

static int
by_seen (gconstpointer a, gconstpointer b)
{
  double x = ((const Quad *)a)->seen, y = ((const Quad *)b)->seen;
  return (x < y) - (x > y);
}

static int
by_angle (gconstpointer a, gconstpointer b)
{
  const Line *p = a, *q = b;
  double x = atan2 (p->normal.y, p->normal.x);
  double y = atan2 (q->normal.y, q->normal.x);
  return (x > y) - (x < y);
}

static void
find_quads (const Small *s, const GArray *border, Line *lines, guint n,
            GArray *quads)
{
  qsort (lines, n, sizeof *lines, by_angle);
  for (guint a = 0; a < n; a++)
    for (guint b = a + 1; b < n; b++)
      for (guint c = b + 1; c < n; c++)
        for (guint d = c + 1; d < n; d++)
          {
            const Line *four[4]
                = { &lines[a], &lines[b], &lines[c], &lines[d] };
            Quad quad;
            if (make_quad (s, border, four, &quad))
              g_array_append_val (quads, quad);
          }
}

static void
look_in_map (Small *s, guint map, guint level, gboolean light, GArray *border,
             guint16 *votes, GArray *quads)
{
  guint n = s->width * s->height;
  Line lines[MOST_LINES];
  s->rounds++;
  for (guint i = 0; i < n; i++)
    {
      if (s->label[i] == s->rounds || !is_in (s->maps[map], i, level, light))
        continue;
      g_array_set_size (border, 0);
      guint size = flood (s, s->maps[map], i, level, light, border);
      if (size < LEAST_SHARE * n || border->len < 60)
        continue;
      guint found = find_lines (s, border, votes, lines);
      if (found >= 4)
        find_quads (s, border, lines, found, quads);
    }
}

/* Levels are spread over what the picture has, but for its last hundredths. */
static void
look_at_levels (Small *s, GArray *quads)
{
  guint n = s->width * s->height;
  g_autoptr (GArray) border = g_array_new (FALSE, FALSE, sizeof (Border));
  gsize rhos = 2 * ((gsize)hypot (s->width, s->height) + 4);
  g_autofree guint16 *votes = g_new (guint16, rhos * ANGLES + 1);
  votes[rhos * ANGLES] = 0;
  for (guint m = 0; m < 2; m++)
    {
      guint count[256] = { 0 }, low = 0, high = 255, sum = 0;
      for (guint i = 0; i < n; i++)
        count[s->maps[m][i]]++;
      while (low < 255 && (sum += count[low]) < n / 100)
        low++;
      sum = 0;
      while (high > low && (sum += count[high]) < n / 200)
        high--;
      for (guint k = 1; k <= LEVELS && high > low + 8; k++)
        for (int light = 0; light < 2; light++)
          look_in_map (s, m, low + (high - low) * k / (LEVELS + 1), light,
                       border, votes, quads);
    }
}

/* --- sheets ------------------------------------------------------------------------ */
/* How far the sides' ratio is off, in its logarithm; turns the corners so that the first side is a
 * shorter one, as far as the view tells. */
static double
shape_off (GeoPoint corners[4], double width, double height, guint pw, guint ph)
{
  double least = fmin (width, height), most = fmax (width, height);
  double across = tracing_plane_side_ratio (corners, least, most, pw, ph);
  double down = tracing_plane_side_ratio (corners, most, least, pw, ph);
  double sides = geo_distance (corners[0], corners[1])
                 + geo_distance (corners[2], corners[3]);
  double others = geo_distance (corners[1], corners[2])
                  + geo_distance (corners[3], corners[0]);
  gboolean first = sides <= others;
  double off = OTHER_SHAPE / 2;
  if (across > 0 && down > 0)
    {
      first = fabs (log (across)) <= fabs (log (down));
      off = fabs (log (first ? across : down));
    }
  if (!first)
    {
      GeoPoint zero = corners[0];
      for (guint i = 0; i < 3; i++)
        corners[i] = corners[i + 1];
      corners[3] = zero;
    }
  return off;
}

static gboolean
holds (const GeoPoint corners[4], GeoPoint at)
{
  int left = 0;
  for (guint i = 0; i < 4; i++)
    left += geo_cross (geo_sub (corners[(i + 1) % 4], corners[i]),
                       geo_sub (at, corners[i]))
                    >= 0
                ? 1
                : -1;
  return left == 4 || left == -4;
}

static gboolean
is_there (const TracingSheet *sheets, gsize n, const GeoPoint corners[4])
{
  for (gsize i = 0; i < n; i++)
    {
      double size = geo_distance (sheets[i].corners[0], sheets[i].corners[2]);
      double worst = 0;
      for (guint k = 0; k < 4; k++)
        {
          double near = INFINITY;
          for (guint j = 0; j < 4; j++)
            near = fmin (near, geo_distance (corners[k], sheets[i].corners[j]));
          worst = fmax (worst, near);
        }
      if (worst < 0.02 * size + 4)
        return TRUE;
    }
  return FALSE;
}

typedef struct
{
  TracingSheet sheet;
  double rank;
} Ranked;

static int
by_rank (gconstpointer a, gconstpointer b)
{
  double x = ((const Ranked *)a)->rank, y = ((const Ranked *)b)->rank;
  return (x < y) - (x > y);
}

/* Looks at a candidate in the picture itself; appends it if it is one. */
static void
look_closely (TracingPicture *picture, const Small *s, const Quad *quad,
              double width, double height, const GeoPoint *near, GArray *ranked)
{
  guint pw = tracing_picture_get_width (picture);
  guint ph = tracing_picture_get_height (picture);
  GeoPoint corners[4];
  Ranked one;
  for (guint i = 0; i < 4; i++)
    corners[i] = geo_scale (quad->corners[i], s->shrink);
  if ((near != NULL && !holds (corners, *near))
      || shape_off (corners, width, height, pw, ph) > 1.5 * OTHER_SHAPE)
    return;
  if (!tracing_refine_sheet (picture, corners, 2.5 * s->shrink + 3, &one.sheet))
    return;
  double off = shape_off (one.sheet.corners, width, height, pw, ph);
  if (off > OTHER_SHAPE)
    return;
  double size = geo_distance (one.sheet.corners[0], one.sheet.corners[2]);
  one.rank = one.sheet.quality * (1 - off / OTHER_SHAPE / 2)
             * pow (size / hypot (pw, ph), 0.2)
             / (1 + one.sheet.off / (0.001 * size + 1) / 4);
  g_array_append_val (ranked, one);
}

gsize
tracing_find_sheets (TracingPicture *picture, double width, double height,
                     const GeoPoint *near, TracingSheet *sheets, gsize room)
{
  TracingView view = tracing_view_of (picture);
  Small s;
  if (!(width > 0) || !(height > 0) || !isfinite (width) || !isfinite (height)
      || !small_init (&s, &view))
    return 0;
  g_autoptr (GArray) quads = g_array_new (FALSE, FALSE, sizeof (Quad));
  g_autoptr (GArray) ranked = g_array_new (FALSE, FALSE, sizeof (Ranked));
  look_at_levels (&s, quads);
  g_array_sort (quads, by_seen);
  g_autofree TracingSheet *tried = g_new (TracingSheet, CANDIDATES);
  gsize n_tried = 0;
  for (guint i = 0; i < quads->len && n_tried < CANDIDATES; i++)
    {
      const Quad *quad = &g_array_index (quads, Quad, i);
      if (is_there (tried, n_tried, quad->corners))
        continue;
      memcpy (tried[n_tried++].corners, quad->corners, sizeof quad->corners);
      look_closely (picture, &s, quad, width, height, near, ranked);
    }
  small_clear (&s);
  g_array_sort (ranked, by_rank);
  gsize n = 0;
  for (guint i = 0; i < ranked->len && n < room; i++)
    {
      const Ranked *one = &g_array_index (ranked, Ranked, i);
      if (!is_there (sheets, n, one->sheet.corners))
        sheets[n++] = one->sheet;
    }
  return n;
}
