/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drafting/buttons.h"

#define INCH 25.4
#define WORKED_MORE 3.0 /* mm */
#define SMALL 9.525     /* 3/8 in */
#define CLEAR 2.0       /* mm a button stays back from the edge */

double
drafting_buttonhole_length (double diameter, double thickness, bool bound)
{
  return diameter + thickness + (bound ? 0 : WORKED_MORE);
}

double
drafting_button_extension (double diameter)
{
  return diameter <= SMALL ? 1.5 * diameter : diameter;
}

double
drafting_ligne (double lignes)
{
  return lignes * INCH / 40;
}

double
drafting_button_step (double first, double last, int count)
{
  return count > 1 ? (last - first) / (count - 1) : 0;
}

double
drafting_button_largest (double extension)
{
  return fmax (0, 2 * (extension - CLEAR));
}
