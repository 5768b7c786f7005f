/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How pieces fall on the strip.
 *
 * Paper is saved, and taping with it, by putting each piece, tallest first, where it
 * needs the fewest sheets that aren't needed yet, then where it lies across the fewest,
 * then with its sides off the lines that sheets are trimmed at, then as far up and left as it goes. Places tried are the corners that the sheets
 * and the pieces laid so far make. All widths of the strip from the narrowest
 * possible to some sheets more are tried, and other orders of the pieces beside tallest
 * first; the layout with the fewest sheets that isn't overlong is kept. The orders are shuffled always the same
 * way, so that a pattern always prints the same. */
#include "file/sheets-private.h"

#include "geometry/region.h"

#define EPS 1e-6
#define MANY 60       /* more pieces than this are laid on plain shelves */
#define TRIED 8       /* widths of the strip */
#define ORDERS 60     /* of the pieces, where they are few */
#define NEAR_COST 0.2 /* sheets, for a side of a piece on a trim line */

typedef struct
{
  FileSheets *sheets;
  guint columns;
  guint n;
  guint *order;    /* of items, tallest first */
  GeoBox *boxes;   /* by item */
  guint done;      /* items laid, in order */
  guint room;      /* rows in taken */
  gboolean *taken; /* tiles needed so far, columns * room */
  gboolean inset;  /* keep sides off trim lines */
} Trial;

static SheetItem *
item_at (FileSheets *sheets, guint i)
{
  return &g_array_index (sheets->items, SheetItem, i);
}

void
file_sheet_range (double a, double b, double frame, double step, guint *first,
                  guint *last)
{
  *first = (guint)fmax (0, floor ((a + EPS) / step));
  double more = ceil ((b - EPS - *first * step - frame) / step);
  *last = *first + (guint)fmax (0, more);
}

GeoBox
file_sheet_tile (const FileSheets *s, guint column, guint row)
{
  double x = column * s->step_x, y = row * s->step_y;
  return (GeoBox){ x, y, x + s->frame_w, y + s->frame_h };
}

gboolean
file_sheet_is_used (const FileSheets *s, int column, int row)
{
  return column >= 0 && row >= 0 && (guint)column < s->columns
         && (guint)row < s->rows
         && s->used[(guint)row * s->columns + (guint)column];
}

/* --- does a shape come into a box? ------------------------------------------- */

/* Clips a straight stretch against a box (Liang and Barsky): TRUE where some of
 * it is left. */
static gboolean
stretch_meets (GeoPoint a, GeoPoint b, GeoBox box)
{
  double from = 0, to = 1;
  const double p[4] = { a.x - b.x, b.x - a.x, a.y - b.y, b.y - a.y };
  const double q[4]
      = { a.x - box.x0, box.x1 - a.x, a.y - box.y0, box.y1 - a.y };
  for (int i = 0; i < 4; i++)
    {
      if (p[i] == 0)
        {
          if (q[i] < 0)
            return FALSE;
          continue;
        }
      double t = q[i] / p[i];
      if (p[i] < 0)
        from = fmax (from, t);
      else
        to = fmin (to, t);
    }
  return from <= to;
}

static gboolean
chain_meets (const GeoChain *chain, GeoBox box)
{
  if (chain->count == 0 || geo_box_is_empty (box))
    return FALSE;
  for (size_t i = 0; i < chain->count; i++)
    {
      const GeoCubic *c = &chain->cubics[i];
      if (!geo_box_meets (geo_cubic_bounds (c), box))
        continue;
      int steps = geo_cubic_is_straight (c, 1e-3) ? 1 : 32;
      GeoPoint a = c->p[0];
      for (int k = 1; k <= steps; k++)
        {
          GeoPoint b = geo_cubic_point (c, (double)k / steps);
          if (stretch_meets (a, b, box))
            return TRUE;
          a = b;
        }
    }
  return geo_chain_contains (
      chain, geo_point ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2));
}

static GeoBox
box_meet (GeoBox a, GeoBox b)
{
  return (GeoBox){ fmax (a.x0, b.x0), fmax (a.y0, b.y0), fmin (a.x1, b.x1),
                   fmin (a.y1, b.y1) };
}

gboolean
file_sheet_item_meets (const SheetItem *item, GeoBox box)
{
  GeoBox common = box_meet (item->box, box);
  if (geo_box_is_empty (common))
    return FALSE;
  return item->cut.count == 0 || chain_meets (&item->cut, common);
}

/* --- which tiles are needed ---------------------------------------------------- */

/* What only a tile shows of an item that lies on tiles first to last: the part
 * the tile before it doesn't reach. */
static void
own_part (double frame, double step, guint tile, guint first, guint last,
          double *from, double *to)
{
  *from = tile == first ? -INFINITY : (tile - 1) * step + frame + 2 * EPS;
  *to = tile == last ? INFINITY : tile * step + frame;
}

static guint
mark_used (Trial *t, gboolean *used, guint rows)
{
  FileSheets *s = t->sheets;
  for (guint i = 0; i < t->n; i++)
    {
      SheetItem item = *item_at (s, i);
      GeoBox at = t->boxes[i];
      guint c0, c1, r0, r1;
      file_sheet_range (at.x0, at.x1, s->frame_w, s->step_x, &c0, &c1);
      file_sheet_range (at.y0, at.y1, s->frame_h, s->step_y, &r0, &r1);
      for (guint r = r0; r <= MIN (r1, rows - 1); r++)
        for (guint c = c0; c <= MIN (c1, t->columns - 1); c++)
          {
            GeoBox own;
            own_part (s->frame_w, s->step_x, c, c0, c1, &own.x0, &own.x1);
            own_part (s->frame_h, s->step_y, r, r0, r1, &own.y0, &own.y1);
            /* The shape itself still lies where item.box is. */
            double dx = item.box.x0 - at.x0, dy = item.box.y0 - at.y0;
            own = (GeoBox){ own.x0 + dx, own.y0 + dy, own.x1 + dx,
                            own.y1 + dy };
            if (file_sheet_item_meets (&item, own))
              used[r * t->columns + c] = TRUE;
          }
    }
  guint count = 0;
  for (guint i = 0; i < rows * t->columns; i++)
    count += used[i] ? 1 : 0;
  return count;
}

static guint
rows_needed (const Trial *t)
{
  guint rows = 1;
  for (guint i = 0; i < t->n; i++)
    {
      guint first, last;
      file_sheet_range (t->boxes[i].y0, t->boxes[i].y1, t->sheets->frame_h,
                        t->sheets->step_y, &first, &last);
      rows = MAX (rows, last + 1);
    }
  return rows;
}

/* --- laying ------------------------------------------------------------------ */

static gboolean
is_free (const Trial *t, GeoBox box)
{
  GeoBox wide = geo_box_grow (box, FILE_SHEET_GAP - EPS);
  for (guint i = 0; i < t->done; i++)
    if (geo_box_meets (wide, t->boxes[t->order[i]]))
      return FALSE;
  return TRUE;
}

/* A side of the box lies within the inset of a line that sheets are trimmed at,
 * or of the end of what is printed: nothing would be left to cut by. */
static guint
count_near (const Trial *t, GeoBox box)
{
  const FileSheets *s = t->sheets;
  const double sides[4] = { box.x0, box.x1, box.y0, box.y1 };
  guint near = 0;
  for (int i = 0; i < 4; i++)
    {
      double step = i < 2 ? s->step_x : s->step_y;
      double frame = i < 2 ? s->frame_w : s->frame_h;
      double off = sides[i] - floor (sides[i] / step + 0.5) * step;
      double tile = floor (fmax (sides[i] - frame, 0) / step + 0.5);
      double end = sides[i] - frame - tile * step;
      if (fabs (off) < FILE_SHEET_INSET - EPS
          || fabs (end) < FILE_SHEET_INSET - EPS)
        near++;
    }
  return near;
}

/* New tiles, then tiles lain across. */
static void
count_tiles (const Trial *t, GeoBox box, guint *fresh, guint *across)
{
  const FileSheets *s = t->sheets;
  guint c0, c1, r0, r1;
  file_sheet_range (box.x0, box.x1, s->frame_w, s->step_x, &c0, &c1);
  file_sheet_range (box.y0, box.y1, s->frame_h, s->step_y, &r0, &r1);
  *across = (c1 - c0 + 1) * (r1 - r0 + 1);
  *fresh = 0;
  for (guint r = r0; r <= r1; r++)
    for (guint c = c0; c <= c1; c++)
      if (r >= t->room || c >= t->columns || !t->taken[r * t->columns + c])
        *fresh += 1;
}

static void
take_tiles (Trial *t, GeoBox box)
{
  const FileSheets *s = t->sheets;
  guint c0, c1, r0, r1;
  file_sheet_range (box.x0, box.x1, s->frame_w, s->step_x, &c0, &c1);
  file_sheet_range (box.y0, box.y1, s->frame_h, s->step_y, &r0, &r1);
  for (guint r = r0; r <= r1 && r < t->room; r++)
    for (guint c = c0; c <= c1 && c < t->columns; c++)
      t->taken[r * t->columns + c] = TRUE;
}

static void
add_places (const Trial *t, GArray *places, double size, double frame,
            double step, guint tiles, gboolean level)
{
  for (guint k = 0; k < tiles; k++)
    {
      double start = k * step, end = start + frame - size;
      double inset[] = { start + FILE_SHEET_INSET, end - FILE_SHEET_INSET,
                         start + step - FILE_SHEET_INSET - size };
      g_array_append_val (places, start);
      g_array_append_val (places, inset[0]);
      if (end > start)
        g_array_append_val (places, end);
      for (int i = 1; i < 3; i++)
        if (inset[i] > start)
          g_array_append_val (places, inset[i]);
    }
  for (guint i = 0; i < t->done; i++)
    {
      GeoBox b = t->boxes[t->order[i]];
      double after = (level ? b.x1 : b.y1) + FILE_SHEET_GAP;
      double before = (level ? b.x0 : b.y0) - FILE_SHEET_GAP - size;
      g_array_append_val (places, after);
      if (before >= 0)
        g_array_append_val (places, before);
    }
}

static void
lay_one (Trial *t, guint item, double strip)
{
  FileSheets *s = t->sheets;
  GeoBox size = item_at (s, item)->box;
  double w = size.x1 - size.x0, h = size.y1 - size.y0, low = 0;
  for (guint i = 0; i < t->done; i++)
    low = fmax (low, t->boxes[t->order[i]].y1);
  guint rows = (guint)(low / s->step_y) + 2;
  g_autoptr (GArray) xs = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) ys = g_array_new (FALSE, FALSE, sizeof (double));
  add_places (t, xs, w, s->frame_w, s->step_x, t->columns, TRUE);
  add_places (t, ys, h, s->frame_h, s->step_y, rows, FALSE);
  GeoBox best = geo_box_empty ();
  guint best_fresh = G_MAXUINT, best_across = G_MAXUINT;
  guint best_near = G_MAXUINT;
  for (guint j = 0; j < ys->len; j++)
    for (guint i = 0; i < xs->len; i++)
      {
        double x = g_array_index (xs, double, i);
        double y = g_array_index (ys, double, j);
        GeoBox box = { x, y, x + w, y + h };
        guint fresh, across;
        if (x + w > strip + EPS)
          continue;
        count_tiles (t, box, &fresh, &across);
        if (fresh > best_fresh || (fresh == best_fresh && across > best_across))
          continue;
        guint near = t->inset ? count_near (t, box) : 0;
        gboolean even = fresh == best_fresh && across == best_across;
        if (even && near > best_near)
          continue;
        if (even && near == best_near
            && (box.y1 > best.y1 + EPS
                || (box.y1 > best.y1 - EPS && x >= best.x0)))
          continue;
        if (!is_free (t, box))
          continue;
        best = box;
        best_fresh = fresh;
        best_across = across;
        best_near = near;
      }
  t->boxes[item] = best;
  take_tiles (t, best);
}

static void
lay_on_shelves (Trial *t, double strip)
{
  double x = 0, y = 0, shelf = 0;
  for (guint i = 0; i < t->n; i++)
    {
      GeoBox size = item_at (t->sheets, t->order[i])->box;
      double w = size.x1 - size.x0, h = size.y1 - size.y0;
      if (x > 0 && x + w > strip + EPS)
        {
          y += shelf + FILE_SHEET_GAP;
          x = shelf = 0;
        }
      t->boxes[t->order[i]] = (GeoBox){ x, y, x + w, y + h };
      x += w + FILE_SHEET_GAP;
      shelf = fmax (shelf, h);
    }
}

static int
taller_first (gconstpointer a, gconstpointer b, gpointer data)
{
  guint i = *(const guint *)a, k = *(const guint *)b;
  GeoBox p = item_at (data, i)->box, q = item_at (data, k)->box;
  double h = (q.y1 - q.y0) - (p.y1 - p.y0), w = (q.x1 - q.x0) - (p.x1 - p.x0);
  if (fabs (h) > EPS)
    return h > 0 ? 1 : -1;
  if (fabs (w) > EPS)
    return w > 0 ? 1 : -1;
  return i < k ? -1 : i > k;
}

static void
lay_all (Trial *t)
{
  FileSheets *s = t->sheets;
  double strip = (t->columns - 1) * s->step_x + s->frame_w;
  t->done = 0;
  if (t->n > MANY)
    {
      lay_on_shelves (t, strip);
      return;
    }
  t->room = 2;
  for (guint i = 0; i < t->n; i++)
    {
      GeoBox b = item_at (s, i)->box;
      t->room += (guint)((b.y1 - b.y0) / s->step_y) + 2;
    }
  t->taken = g_new0 (gboolean, (gsize)t->room * t->columns);
  for (guint i = 0; i < t->n; i++)
    {
      lay_one (t, t->order[i], strip);
      t->done = i + 1;
    }
  g_clear_pointer (&t->taken, g_free);
}

/* A few pieces change places, so that most large ones still come early. */
static void
shuffle (Trial *t, GRand *dice)
{
  for (int swaps = 0; swaps < 3; swaps++)
    {
      gint32 n = (gint32)t->n;
      gint32 i = g_rand_int_range (dice, 0, n),
             k = g_rand_int_range (dice, 0, n);
      guint kept = t->order[i];
      t->order[i] = t->order[k];
      t->order[k] = kept;
    }
}

static void
keep_boxes (FileSheets *s, const GeoBox *boxes)
{
  for (guint i = 0; i < s->items->len; i++)
    {
      SheetItem *item = item_at (s, i);
      GeoMotion by = geo_motion_none ();
      by.dx = boxes[i].x0 - item->box.x0;
      by.dy = boxes[i].y0 - item->box.y0;
      geo_chain_transform (&item->cut, by);
      item->motion.dx += by.dx;
      item->motion.dy += by.dy;
      item->box = boxes[i];
    }
}

/* The narrowest and the widest strip worth trying, in sheets. */
static void
columns_to_try (FileSheets *s, guint *least, guint *most)
{
  double widest = 0, area = 0;
  for (guint i = 0; i < s->items->len; i++)
    {
      GeoBox b = item_at (s, i)->box;
      widest = fmax (widest, b.x1 - b.x0);
      area += (b.x1 - b.x0 + FILE_SHEET_GAP) * (b.y1 - b.y0 + FILE_SHEET_GAP);
    }
  guint first;
  file_sheet_range (0, widest, s->frame_w, s->step_x, &first, least);
  *least += 1;
  *most = *least + TRIED - 1;
  if (s->items->len > MANY)
    {
      guint square;
      file_sheet_range (0, sqrt (area) * 1.1, s->frame_w, s->step_x, &first,
                        &square);
      *least = *most = MAX (*least, square + 1);
    }
}

/* A long strip is a nuisance to tape and to store: 700 mm more of it are as bad
 * as one sheet more. */
static double
cost_of (const Trial *t, guint sheets, guint rows)
{
  const FileSheets *s = t->sheets;
  double cost = sheets + fmax (t->columns * s->step_x, rows * s->step_y) / 700;
  for (guint i = 0; i < t->n; i++)
    cost += NEAR_COST * count_near (t, t->boxes[i]);
  return cost;
}

/* Lays out, and keeps what is better than all before. */
static void
try_layout (Trial *t, GeoBox *best, double *best_cost)
{
  FileSheets *s = t->sheets;
  lay_all (t);
  guint rows = rows_needed (t);
  gboolean *used = g_new0 (gboolean, (gsize)rows * t->columns);
  double cost = cost_of (t, mark_used (t, used, rows), rows);
  if (cost >= *best_cost)
    {
      g_free (used);
      return;
    }
  *best_cost = cost;
  for (guint i = 0; i < t->n; i++)
    best[i] = t->boxes[i];
  g_free (s->used);
  s->used = used;
  s->columns = t->columns;
  s->rows = rows;
}

void
file_sheet_lay_out (FileSheets *s)
{
  Trial t = { .sheets = s, .n = s->items->len };
  g_autoptr (GArray) order = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < t.n; i++)
    g_array_append_val (order, i);
  g_array_sort_with_data (order, taller_first, s);
  t.order = (guint *)(void *)order->data;
  g_autofree GeoBox *boxes = g_new (GeoBox, t.n);
  g_autofree GeoBox *best = g_new (GeoBox, t.n);
  t.boxes = boxes;
  guint least, most;
  double best_cost = INFINITY;
  columns_to_try (s, &least, &most);
  g_autoptr (GRand) dice = g_rand_new_with_seed (1);
  guint orders = t.n < 2 ? 1 : CLAMP (20000 / (t.n * t.n * t.n), 1, ORDERS);
  for (guint turn = 0; turn < orders; turn++)
    {
      if (turn > 0)
        shuffle (&t, dice);
      for (t.columns = least; t.columns <= most; t.columns++)
        for (int inset = 0; inset < 2; inset++)
          {
            t.inset = inset;
            try_layout (&t, best, &best_cost);
          }
    }
  keep_boxes (s, best);
}
