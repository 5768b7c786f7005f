/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reckoning of small parts. */
#pragma once

/* Lengths cut at 45 degrees from a cloth of that width (mm) that make up a strip: one from edge to
 * edge is sqrt 2 (W - w / sqrt 2) long on its shorter side, and each join takes 10 mm of both. 1 where
 * the width is not known (0). */
int drafting_bias_parts (double length, double width, double cloth);
