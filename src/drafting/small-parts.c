/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/small-parts.h"

#include <math.h>

#define JOIN 10.0 /* mm of each end in a join */

int
drafting_bias_parts (double length, double width, double cloth)
{
  double one = sqrt (2) * (cloth - width / sqrt (2));
  if (cloth <= 0 || one <= 3 * JOIN || length <= one)
    return 1;
  /* n lengths joined n - 1 times: n one - 2 (n - 1) JOIN. */
  return (int)ceil ((length - 2 * JOIN) / (one - 2 * JOIN) - 1e-9);
}
