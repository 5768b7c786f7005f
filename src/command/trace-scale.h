/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words by which bodkin trace is told true size. */
#pragma once

#include "tracing/sheet.h"

/* "120,80.5": pixels. */
gboolean command_trace_read_place (const char *text, GeoPoint *place);
typedef struct
{
  TracingPlane plane;  /* upright */
  double residual;     /* mm; NAN where nothing tells it */
  gboolean by_sheet;   /* a sheet or mat lies at the corners: it is no piece */
  GeoPoint corners[4]; /* px */
} CommandTraceScale;

/* What "sheet=A4" and the others of bodkin trace --help come to for the picture. as_given: corners
 * are not looked for round where they were told. Words that can't be read are G_OPTION_ERROR_BAD_VALUE. */
gboolean command_trace_scale (TracingPicture *picture, const char *text,
                              gboolean as_given, CommandTraceScale *scale,
                              GError **error);
