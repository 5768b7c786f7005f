/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/trace-scale.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "pattern/length-text.h"

/* How far from where they are told corners are looked for: a share of the picture's width, and pixels. */
#define REACH_SHARE 0.01
#define REACH_LEAST 6.0

gboolean
command_trace_read_place (const char *text, GeoPoint *place)
{
  char *comma, *end;
  double x = g_ascii_strtod (text, &comma);
  if (comma == text || *comma != ',')
    return FALSE;
  double y = g_ascii_strtod (comma + 1, &end);
  if (end == comma + 1 || *end != '\0' || !isfinite (x) || !isfinite (y))
    return FALSE;
  *place = geo_point (x, y);
  return TRUE;
}

static gboolean
bad (GError **error, const char *scale)
{
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
               _ ("“%s” is no scale: it can be sheet=A4, "
                  "corners=X,Y/X,Y/X,Y/X,Y@60x45cm, length=X,Y/X,Y@15cm or "
                  "file"),
               scale);
  return FALSE;
}

/* "A4", "letter", "600x450", "60x45cm": a unit at the end is for both. */
static gboolean
read_size (const char *text, double *width, double *height)
{
  if (g_ascii_strcasecmp (text, "A4") == 0)
    {
      *width = 210; /* ISO 216 */
      *height = 297;
      return TRUE;
    }
  if (g_ascii_strcasecmp (text, "letter") == 0)
    {
      *width = 8.5 * 25.4; /* ANSI/ASME Y14.1 */
      *height = 11 * 25.4;
      return TRUE;
    }
  g_auto (GStrv) sides = g_strsplit (text, "x", 3);
  if (g_strv_length (sides) != 2)
    return FALSE;
  const char *unit = sides[1] + strspn (sides[1], "0123456789.,/ ");
  const char *own = sides[0] + strspn (sides[0], "0123456789.,/ ");
  g_autofree char *first
      = g_strconcat (sides[0], *own == '\0' ? unit : "", NULL);
  return pattern_length_parse (first, PATTERN_MM, width, NULL)
         && pattern_length_parse (sides[1], PATTERN_MM, height, NULL);
}

/* n places parted by strokes, and what follows "@". */
static gboolean
read_places (const char *text, GeoPoint *places, guint n, const char **rest)
{
  const char *at = strchr (text, '@');
  if (at == NULL)
    return FALSE;
  g_autofree char *before = g_strndup (text, (gsize)(at - text));
  g_auto (GStrv) words = g_strsplit (before, "/", -1);
  if (g_strv_length (words) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!command_trace_read_place (words[i], &places[i]))
      return FALSE;
  *rest = at + 1;
  return TRUE;
}

/* The shorter side of a sheet is its first as far as the view tells: where the view is told the
 * other way round by its own perspective, the sides are swapped. */
static gboolean
set_by_sheet (TracingPicture *picture, const TracingSheet *sheet, double width,
              double height, CommandTraceScale *scale, GError **error)
{
  double dots, ratio[2];
  for (int i = 0; i < 2; i++)
    ratio[i] = tracing_plane_side_ratio (sheet->corners, i ? height : width,
                                         i ? width : height,
                                         tracing_picture_get_width (picture),
                                         tracing_picture_get_height (picture));
  gboolean swap = ratio[0] > 0 && ratio[1] > 0
                  && fabs (log (ratio[1])) < fabs (log (ratio[0]));
  if (!tracing_plane_from_corners (sheet->corners, swap ? height : width,
                                   swap ? width : height, &scale->plane, error))
    return FALSE;
  GeoPoint middle = geo_lerp (sheet->corners[0], sheet->corners[2], 0.5);
  dots = tracing_plane_dots (&scale->plane, middle);
  scale->residual = dots > 0 ? sheet->off / dots : NAN;
  scale->by_sheet = TRUE;
  memcpy (scale->corners, sheet->corners, sizeof scale->corners);
  return TRUE;
}

static gboolean
scale_by_sheet (TracingPicture *picture, double width, double height,
                CommandTraceScale *scale, GError **error)
{
  TracingSheet sheet;
  double w = fmin (width, height), h = fmax (width, height);
  if (tracing_find_sheets (picture, w, h, NULL, &sheet, 1) > 0)
    return set_by_sheet (picture, &sheet, w, h, scale, error);
  g_set_error_literal (
      error, TRACING_ERROR, TRACING_ERROR_SCALE,
      _ ("no sheet of that size was found in the picture; all of it must be "
         "seen, on a table of another colour. Or give its corners: "
         "corners=X,Y/X,Y/X,Y/X,Y@210x297mm"));
  return FALSE;
}

static gboolean
scale_by_corners (TracingPicture *picture, double width, double height,
                  gboolean as_given, CommandTraceScale *scale, GError **error)
{
  TracingSheet sheet;
  double reach
      = fmax (REACH_LEAST, REACH_SHARE * tracing_picture_get_width (picture));
  scale->by_sheet = TRUE;
  if (!tracing_plane_from_corners (scale->corners, width, height, &scale->plane,
                                   error))
    return FALSE;
  if (as_given
      || !tracing_refine_sheet (picture, scale->corners, reach, &sheet))
    return TRUE;
  if (!tracing_plane_from_corners (sheet.corners, width, height, &scale->plane,
                                   error))
    return FALSE;
  GeoPoint middle = geo_lerp (sheet.corners[0], sheet.corners[2], 0.5);
  scale->residual = sheet.off / tracing_plane_dots (&scale->plane, middle);
  memcpy (scale->corners, sheet.corners, sizeof scale->corners);
  return TRUE;
}

static gboolean
read_scale (TracingPicture *picture, const char *text, gboolean as_given,
            CommandTraceScale *scale, GError **error)
{
  double width, height;
  const char *rest;
  if (g_str_equal (text, "file"))
    return tracing_plane_from_resolution (tracing_picture_get_dots_mm (picture),
                                          &scale->plane, error);
  if (g_str_has_prefix (text, "sheet=")
      && read_size (text + strlen ("sheet="), &width, &height))
    return scale_by_sheet (picture, width, height, scale, error);
  if (g_str_has_prefix (text, "corners=")
      && read_places (text + strlen ("corners="), scale->corners, 4, &rest)
      && read_size (rest, &width, &height))
    return scale_by_corners (picture, width, height, as_given, scale, error);
  if (g_str_has_prefix (text, "length=")
      && read_places (text + strlen ("length="), scale->corners, 2, &rest)
      && pattern_length_parse (rest, PATTERN_MM, &width, NULL))
    return tracing_plane_from_distance (scale->corners[0], scale->corners[1],
                                        width, &scale->plane, error);
  return bad (error, text);
}

gboolean
command_trace_scale (TracingPicture *picture, const char *text,
                     gboolean as_given, CommandTraceScale *scale,
                     GError **error)
{
  guint width = tracing_picture_get_width (picture);
  guint height = tracing_picture_get_height (picture);
  *scale = (CommandTraceScale){ .residual = NAN };
  if (!read_scale (picture, text, as_given, scale, error))
    return FALSE;
  if (!tracing_plane_is_fit (&scale->plane, width, height))
    {
      g_set_error_literal (
          error, TRACING_ERROR, TRACING_ERROR_SCALE,
          _ ("at that scale the picture would be larger or smaller than any "
             "table, or reach the horizon; look at the places and lengths "
             "given"));
      return FALSE;
    }
  tracing_plane_set_upright (&scale->plane, width, height);
  return TRUE;
}
