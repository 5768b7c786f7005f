/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by report*.c only. */
#pragma once

#include "file/report.h"
#include "sewing/allowance.h"
#include "sewing/cutting.h"
#include "sewing/shaping.h"
#include "sewing/strain.h"

/* What a report is written from; computed once. */
typedef struct
{
  const Pattern *pattern;
  SewingFacts *facts;
  GPtrArray *findings; /* of SewingFinding */
  GArray *cutting;     /* of SewingCutting */
  SewingStrain *strain;
} Report;

/* Clips and hem fullness of one edge, in figures. */
typedef struct
{
  guint slits, wedges;
  double shortest_gap, longest_gap; /* 0 with fewer than two cuts */
  double depth;                     /* deepest cut */
  double widest_mouth;              /* of a wedge */
  double trim_to;                   /* 0: no need */
  double surplus;                   /* mm at the cut edge, signed */
  double share; /* surplus as a share of the edge's length */
} ReportCuts;

ReportCuts report_cuts (const Report *report, const PatternPiece *piece,
                        guint edge_index);
/* NULL of a turned seam, which lies double and makes no dome. */
const SewingShaping *report_shaping (const Report *report,
                                     const PatternSeam *seam);
/* 1 / max |k|; INFINITY where straight. */
double report_tightest (const Report *report, const PatternPiece *piece,
                        guint edge_index);
/* Grams, or 0 where the cloth's weight is not known. */
double report_mass (const Report *report, const PatternCloth *cloth);
/* "shell", "open", "seam", "mend", ...: as in the document, not translated. */
const char *report_use_word (PatternClothUse use);
const char *report_press_word (PatternPress press);
const char *report_join_word (PatternJoin join);
const char *report_weight_word (const SewingFinding *finding);
const char *report_remedy_word (SewingRemedyKind kind);

char *report_text (const Report *report);
char *report_csv (const Report *report);
char *report_xml (const Report *report);
