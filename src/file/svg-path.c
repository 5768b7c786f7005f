/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/svg-path.h"

#include <math.h>
#include <string.h>

#include "file/svg-units.h"

typedef struct
{
  const char *at;
  double tolerance;
  GArray *subpaths;
  GeoChain chain; /* the subpath under way */
  GeoPoint start; /* of the subpath */
  GeoPoint now;
  GeoPoint handle; /* last control point of the last curve */
  char last;       /* the last command, in capitals */
} Pen;

static void
clear_subpath (gpointer data)
{
  geo_chain_clear (&((FileSvgSubpath *)data)->chain);
}

GArray *
file_svg_subpaths_new (void)
{
  GArray *array = g_array_new (FALSE, FALSE, sizeof (FileSvgSubpath));
  g_array_set_clear_func (array, clear_subpath);
  return array;
}

static void
finish_subpath (Pen *pen, gboolean closed)
{
  if (pen->chain.count > 0)
    {
      FileSvgSubpath subpath = { pen->chain, closed };
      g_array_append_val (pen->subpaths, subpath);
    }
  geo_chain_init (&pen->chain);
}

static void
line_to (Pen *pen, GeoPoint to)
{
  geo_chain_append_line (&pen->chain, pen->now, to);
  pen->now = to;
}

static void
curve_to (Pen *pen, GeoPoint a, GeoPoint b, GeoPoint to)
{
  geo_chain_append (&pen->chain, (GeoCubic){ { pen->now, a, b, to } });
  pen->handle = b;
  pen->now = to;
}

/* A quadratic with handle q is the cubic whose handles lie two thirds of the way to q. */
static void
quadratic_to (Pen *pen, GeoPoint q, GeoPoint to)
{
  curve_to (pen, geo_lerp (pen->now, q, 2.0 / 3), geo_lerp (to, q, 2.0 / 3),
            to);
  pen->handle = q;
}

/* How many cubics an arc of that much turning takes. One of angle t leaves the circle
 * of radius r by 2/27 r sin(t/4)^6 / cos(t/4)^2 at most (Goldapp, CAGD 8, 1991, for handles of
 * 4/3 tan(t/4)); an ellipse by no more than its larger radius would. */
static guint
arc_parts (double turning, double radius, double tolerance)
{
  guint n = (guint)fmax (1, ceil (fabs (turning) / (G_PI / 2) - 1e-9));
  for (; n < 1024; n++)
    {
      double q = fabs (turning) / n / 4;
      if (2.0 / 27 * radius * pow (sin (q), 6) / (cos (q) * cos (q))
          <= tolerance)
        break;
    }
  return n;
}

void
file_svg_arc (GeoChain *chain, GeoPoint from, double rx, double ry,
              double turn_deg, gboolean large, gboolean sweep, GeoPoint to,
              double tolerance)
{
  rx = fabs (rx);
  ry = fabs (ry);
  if (geo_same (from, to))
    return;
  if (rx == 0 || ry == 0)
    {
      geo_chain_append_line (chain, from, to);
      return;
    }
  double c = cos (fmod (turn_deg, 360) * G_PI / 180);
  double s = sin (fmod (turn_deg, 360) * G_PI / 180);
  GeoPoint half = geo_scale (geo_sub (from, to), 0.5);
  /* F.6.5.1, in units of the radii so that the ellipse is the unit circle */
  GeoPoint p
      = { (c * half.x + s * half.y) / rx, (c * half.y - s * half.x) / ry };
  double spread = geo_dot (p, p);
  if (spread > 1) /* F.6.6.2: radii too small grow until they reach */
    {
      double k = sqrt (spread);
      rx *= k;
      ry *= k;
      p = geo_scale (p, 1 / k);
      spread = 1;
    }
  if (!isfinite (rx) || !isfinite (ry) || !(spread > 0))
    {
      geo_chain_append_line (chain, from, to);
      return;
    }
  /* F.6.5.2: the centre, off the middle of the chord */
  double off = sqrt (fmax (0, 1 / spread - 1)) * (large == sweep ? -1 : 1);
  GeoPoint u = { off * p.y, -off * p.x };
  GeoPoint centre = { c * rx * u.x - s * ry * u.y + (from.x + to.x) / 2,
                      s * rx * u.x + c * ry * u.y + (from.y + to.y) / 2 };
  GeoPoint first = geo_sub (p, u), last = geo_sub (geo_scale (p, -1), u);
  double a0 = atan2 (first.y, first.x);
  double turning = atan2 (last.y, last.x) - a0; /* F.6.5.6 */
  if (sweep && turning < 0)
    turning += 2 * G_PI;
  else if (!sweep && turning > 0)
    turning -= 2 * G_PI;
  guint n = arc_parts (turning, fmax (rx, ry), tolerance);
  double k = 4.0 / 3 * tan (turning / n / 4);
  GeoPoint at = from;
  for (guint i = 1; i <= n; i++)
    {
      double b0 = a0 + turning * (i - 1) / n, b1 = a0 + turning * i / n;
      GeoPoint h[3] = { { cos (b0) - k * sin (b0), sin (b0) + k * cos (b0) },
                        { cos (b1) + k * sin (b1), sin (b1) - k * cos (b1) },
                        { cos (b1), sin (b1) } };
      for (guint j = 0; j < 3; j++)
        h[j] = geo_point (centre.x + c * rx * h[j].x - s * ry * h[j].y,
                          centre.y + s * rx * h[j].x + c * ry * h[j].y);
      if (i == n)
        h[2] = to;
      geo_chain_append (chain, (GeoCubic){ { at, h[0], h[1], h[2] } });
      at = h[2];
    }
}

/* --- the grammar ------------------------------------------------------------- */
static gboolean
scan_flag (const char **at, gboolean *flag)
{
  if (**at != '0' && **at != '1')
    return FALSE;
  *flag = **at == '1';
  ++*at;
  return TRUE;
}

/* The numbers of one segment; kinds: n number, f flag. Moves only when all are there. */
static gboolean
scan_arguments (Pen *pen, const char *kinds, double *v)
{
  const char *at = pen->at;
  for (guint i = 0; kinds[i] != '\0'; i++)
    {
      gboolean flag = FALSE;
      if (i > 0)
        file_svg_skip_comma (&at);
      if (kinds[i] == 'f' ? !scan_flag (&at, &flag)
                          : !file_svg_scan_number (&at, &v[i]))
        return FALSE;
      if (kinds[i] == 'f')
        v[i] = flag;
    }
  pen->at = at;
  return TRUE;
}

static const char *
argument_kinds (char command)
{
  switch (command)
    {
    case 'M':
    case 'L':
    case 'T':
      return "nn";
    case 'H':
    case 'V':
      return "n";
    case 'C':
      return "nnnnnn";
    case 'S':
    case 'Q':
      return "nnnn";
    case 'A':
      return "nnnffnn";
    default:
      return NULL;
    }
}

/* The handle of a smooth curve: the last one's, mirrored in the current point. */
static GeoPoint
mirrored (const Pen *pen, const char *kinds)
{
  return strchr (kinds, pen->last) != NULL && pen->last != '\0'
             ? geo_sub (geo_scale (pen->now, 2), pen->handle)
             : pen->now;
}

static void
draw (Pen *pen, char command, gboolean relative, const double *v)
{
  GeoPoint o = relative ? pen->now : geo_point (0, 0);
#define AT(i) geo_point (o.x + v[i], o.y + v[(i) + 1])
  switch (command)
    {
    case 'M':
      finish_subpath (pen, FALSE);
      pen->start = pen->now = AT (0);
      break;
    case 'L':
      line_to (pen, AT (0));
      break;
    case 'H':
      line_to (pen, geo_point (o.x + v[0], pen->now.y));
      break;
    case 'V':
      line_to (pen, geo_point (pen->now.x, o.y + v[0]));
      break;
    case 'C':
      curve_to (pen, AT (0), AT (2), AT (4));
      break;
    case 'S':
      curve_to (pen, mirrored (pen, "CS"), AT (0), AT (2));
      break;
    case 'Q':
      quadratic_to (pen, AT (0), AT (2));
      break;
    case 'T':
      quadratic_to (pen, mirrored (pen, "QT"), AT (0));
      break;
    case 'A':
      file_svg_arc (&pen->chain, pen->now, v[0], v[1], v[2], v[3] != 0,
                    v[4] != 0, AT (5), pen->tolerance);
      pen->now = AT (5);
      break;
    default:
      break;
    }
#undef AT
  pen->last = command;
}

static void
close_subpath (Pen *pen)
{
  if (!geo_same (pen->now, pen->start))
    line_to (pen, pen->start);
  finish_subpath (pen, TRUE);
  pen->now = pen->start;
  pen->last = 'Z';
}

/* One command with as many segments as it has numbers for. */
static gboolean
scan_command (Pen *pen)
{
  char letter = *pen->at;
  char command = g_ascii_toupper (letter);
  gboolean relative = letter != command;
  if (pen->last == '\0' && command != 'M')
    return FALSE;
  if (command == 'Z')
    {
      pen->at++;
      close_subpath (pen);
      return TRUE;
    }
  const char *kinds = argument_kinds (command);
  if (kinds == NULL)
    return FALSE;
  pen->at++;
  file_svg_skip_blanks (&pen->at);
  double v[7];
  do
    {
      if (!scan_arguments (pen, kinds, v))
        return FALSE;
      draw (pen, command, relative, v);
      if (command == 'M') /* further pairs are lines */
        command = 'L';
      const char *before = pen->at;
      gboolean comma = file_svg_skip_comma (&pen->at);
      if (g_ascii_isalpha (*pen->at) || *pen->at == '\0')
        {
          if (comma)
            pen->at = before; /* a comma must not end a command */
          return !comma;
        }
    }
  while (TRUE);
}

gboolean
file_svg_path_parse (const char *d, double tolerance, GArray *subpaths)
{
  Pen pen = { .at = d, .tolerance = tolerance, .subpaths = subpaths };
  geo_chain_init (&pen.chain);
  gboolean ok = TRUE;
  file_svg_skip_blanks (&pen.at);
  while (ok && *pen.at != '\0')
    {
      ok = scan_command (&pen);
      file_svg_skip_blanks (&pen.at);
    }
  finish_subpath (&pen, FALSE);
  return ok;
}

guint
file_svg_points_parse (const char *text, GArray *points)
{
  GeoPoint p;
  guint before = points->len;
  file_svg_skip_blanks (&text);
  while (file_svg_scan_number (&text, &p.x))
    {
      file_svg_skip_comma (&text);
      if (!file_svg_scan_number (&text, &p.y))
        break;
      g_array_append_val (points, p);
      file_svg_skip_comma (&text);
    }
  return points->len - before;
}
