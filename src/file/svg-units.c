/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "file/svg-units.h"

#include <math.h>
#include <string.h>

FileSvgMatrix
file_svg_matrix_multiply (FileSvgMatrix m, FileSvgMatrix n)
{
  return (FileSvgMatrix){
    .a = m.a * n.a + m.c * n.b,
    .b = m.b * n.a + m.d * n.b,
    .c = m.a * n.c + m.c * n.d,
    .d = m.b * n.c + m.d * n.d,
    .e = m.a * n.e + m.c * n.f + m.e,
    .f = m.b * n.e + m.d * n.f + m.f,
  };
}

GeoPoint
file_svg_matrix_apply (FileSvgMatrix m, GeoPoint p)
{
  return geo_point (m.a * p.x + m.c * p.y + m.e, m.b * p.x + m.d * p.y + m.f);
}

/* The larger singular value: half the sum of |(a + d, b - c)| and |(a - d, b + c)|. */
double
file_svg_matrix_scale (FileSvgMatrix m)
{
  return (hypot (m.a + m.d, m.b - m.c) + hypot (m.a - m.d, m.b + m.c)) / 2;
}

void
file_svg_skip_blanks (const char **at)
{
  *at += strspn (*at, " \t\r\n\f");
}

gboolean
file_svg_skip_comma (const char **at)
{
  file_svg_skip_blanks (at);
  if (**at != ',')
    return FALSE;
  ++*at;
  file_svg_skip_blanks (at);
  return TRUE;
}

/* Where the number at text ends: sign, digits with a point, exponent; text itself where there is
 * none. An e without digits is not part of it ("2em"). */
static const char *
number_end (const char *text)
{
  static const char *const digits = "0123456789";
  const char *p = text;
  if (*p == '+' || *p == '-')
    p++;
  gsize whole = strspn (p, digits);
  p += whole;
  if (*p == '.')
    {
      gsize part = strspn (p + 1, digits);
      if (whole == 0 && part == 0)
        return text;
      p += 1 + part;
    }
  else if (whole == 0)
    return text;
  if (*p == 'e' || *p == 'E')
    {
      const char *e = p + 1;
      if (*e == '+' || *e == '-')
        e++;
      gsize power = strspn (e, digits);
      if (power > 0)
        p = e + power;
    }
  return p;
}

gboolean
file_svg_scan_number (const char **at, double *number)
{
  const char *end = number_end (*at);
  gsize n = (gsize)(end - *at);
  if (n == 0)
    return FALSE;
  /* a copy, or "0x1" would be taken for hexadecimal */
  char buffer[64];
  char *text = n < sizeof buffer ? buffer : g_malloc (n + 1);
  memcpy (text, *at, n);
  text[n] = '\0';
  double value = g_ascii_strtod (text, NULL);
  if (text != buffer)
    g_free (text);
  if (!isfinite (value))
    return FALSE;
  *at = end;
  *number = value;
  return TRUE;
}

/* CSS 2.1, 4.3.2 and SVG 1.1, 4.2: px to the unit. */
double
file_svg_length (const char *text, double whole, double fallback)
{
  static const struct
  {
    const char *name;
    double px;
  } units[] = {
    { "", 1 },           { "px", 1 },
    { "mm", 96 / 25.4 }, { "cm", 960 / 25.4 },
    { "in", 96 },        { "pt", 96.0 / 72 },
    { "pc", 16 },        { "q", 24 / 25.4 },
    { "em", 16 },        { "ex", 8 },
    { "rem", 16 },
  };
  double value;
  if (text == NULL)
    return fallback;
  file_svg_skip_blanks (&text);
  if (!file_svg_scan_number (&text, &value))
    return fallback;
  char unit[5] = "";
  gsize n = strcspn (text, " \t\r\n;!");
  if (n >= sizeof unit || text[n + strspn (text + n, " \t\r\n")] != '\0')
    return fallback;
  memcpy (unit, text, n);
  if (strcmp (unit, "%") == 0)
    return value / 100 * whole;
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_ascii_strcasecmp (unit, units[i].name) == 0)
      return value * units[i].px;
  return fallback;
}

gboolean
file_svg_is_percent (const char *text)
{
  return text != NULL && strchr (text, '%') != NULL;
}

static gboolean
one_transform (const char *name, gsize n, const double *v, guint count,
               FileSvgMatrix *m)
{
  *m = FILE_SVG_IDENTITY;
  double angle = count > 0 ? v[0] * G_PI / 180 : 0;
  if (n == 6 && strncmp (name, "matrix", n) == 0 && count == 6)
    *m = (FileSvgMatrix){ v[0], v[1], v[2], v[3], v[4], v[5] };
  else if (n == 9 && strncmp (name, "translate", n) == 0
           && (count == 1 || count == 2))
    {
      m->e = v[0];
      m->f = count == 2 ? v[1] : 0;
    }
  else if (n == 5 && strncmp (name, "scale", n) == 0
           && (count == 1 || count == 2))
    {
      m->a = v[0];
      m->d = v[count - 1];
    }
  else if (n == 6 && strncmp (name, "rotate", n) == 0
           && (count == 1 || count == 3))
    {
      double x = count == 3 ? v[1] : 0, y = count == 3 ? v[2] : 0;
      double c = cos (angle), s = sin (angle);
      *m = (FileSvgMatrix){ c, s, -s, c, x - c * x + s * y, y - s * x - c * y };
    }
  else if (n == 5 && g_ascii_strncasecmp (name, "skewX", n) == 0 && count == 1)
    m->c = tan (angle);
  else if (n == 5 && g_ascii_strncasecmp (name, "skewY", n) == 0 && count == 1)
    m->b = tan (angle);
  else
    return FALSE;
  return TRUE;
}

FileSvgMatrix
file_svg_transform (const char *text)
{
  FileSvgMatrix whole = FILE_SVG_IDENTITY;
  if (text == NULL)
    return whole;
  file_svg_skip_blanks (&text);
  if (strcmp (text, "none") == 0)
    return whole;
  while (*text != '\0')
    {
      const char *name = text;
      while (g_ascii_isalpha (*text))
        text++;
      gsize n = (gsize)(text - name);
      file_svg_skip_blanks (&text);
      if (*text++ != '(')
        return FILE_SVG_IDENTITY;
      double v[6];
      guint count = 0;
      file_svg_skip_blanks (&text);
      while (count < 6 && file_svg_scan_number (&text, &v[count]))
        {
          count++;
          if (strncmp (text, "px", 2) == 0) /* as a property it has units */
            text += 2;
          else if (strncmp (text, "deg", 3) == 0)
            text += 3;
          file_svg_skip_comma (&text);
        }
      FileSvgMatrix one;
      /* one that lacks its bracket at the very end is closed there, as CSS does */
      if (*text == ')')
        text++;
      else if (*text != '\0')
        return FILE_SVG_IDENTITY;
      if (!one_transform (name, n, v, count, &one))
        return FILE_SVG_IDENTITY;
      whole = file_svg_matrix_multiply (whole, one);
      file_svg_skip_comma (&text);
    }
  return whole;
}

gboolean
file_svg_view_box (const char *text, FileSvgBox *box)
{
  if (text == NULL)
    return FALSE;
  double v[4];
  file_svg_skip_blanks (&text);
  for (guint i = 0; i < 4; i++)
    {
      if (!file_svg_scan_number (&text, &v[i]))
        return FALSE;
      file_svg_skip_comma (&text);
    }
  if (*text != '\0' || v[2] <= 0 || v[3] <= 0)
    return FALSE;
  *box = (FileSvgBox){ v[0], v[1], v[2], v[3] };
  return TRUE;
}

/* Share of the spare room before the box: 0, 1/2 or 1 for Min, Mid, Max after the letter. */
static double
spare_share (const char *preserve, const char *letter)
{
  const char *at = strstr (preserve, letter);
  if (at == NULL || strncmp (at + 1, "Mid", 3) == 0)
    return 0.5;
  return strncmp (at + 1, "Max", 3) == 0 ? 1 : 0;
}

FileSvgMatrix
file_svg_fit (FileSvgBox box, FileSvgBox view, const char *preserve)
{
  double sx = view.width / box.width, sy = view.height / box.height;
  double spare_x = 0, spare_y = 0;
  if (preserve == NULL)
    preserve = "xMidYMid";
  if (strstr (preserve, "none") == NULL)
    {
      double s
          = strstr (preserve, "slice") != NULL ? fmax (sx, sy) : fmin (sx, sy);
      spare_x = (view.width - box.width * s) * spare_share (preserve, "x");
      spare_y = (view.height - box.height * s) * spare_share (preserve, "Y");
      sx = sy = s;
    }
  return (FileSvgMatrix){
    sx, 0, 0, sy, view.x + spare_x - box.x * sx, view.y + spare_y - box.y * sy
  };
}
