/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report: every piece with area and edges with lengths and tightest radius,
 * seam interval tables, clip plans, cutting list, findings. */
#pragma once

#include <glib.h>

#include "sewing/checks.h"

typedef enum
{
  FILE_REPORT_TEXT,
  FILE_REPORT_CSV,
  FILE_REPORT_XML
} FileReportFormat;

/* Text is for reading, in the pattern's unit and the user's language; CSV and XML are in mm
 * with the C locale's numbers and English words; only what a finding says is in the
 * user's language there, too. CSV is one table (RFC 4180) whose first field says what
 * each record is; names that a spreadsheet would take for a formula get an apostrophe.
 * XML is version 1 of an element "report". */
char *file_report (const Pattern *pattern, FileReportFormat format);
/* The findings alone, as text, a paragraph each, and a line that counts them. */
char *file_report_findings (const Pattern *pattern, const GPtrArray *findings);
