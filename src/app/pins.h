/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings as dressmaker's pins stuck in the paper where something is doubtful. A round head: mend; a
 * flat square one: look at; a hollow ring: set aside. Pixels. */
#pragma once

#include "app/palette.h"
#include "app/session.h"
#include "app/view.h"

typedef struct
{
  GeoPoint point; /* where it sticks */
  GeoPoint head;
  guint finding; /* index in app_session_get_findings() */
} AppPin;

/* Array of AppPin. Heads lie within area (pixels), on none of the boxes (the pieces' names) and off
 * each other as far as there is room, up to the right and outside of the piece where that is free.
 * What sticks outside of area has no pin. n boxes. */
GArray *app_pins_lay (AppSession *session, const AppView *view, GeoBox area,
                      const GeoBox *boxes, guint n);
/* Index of the pin whose head is nearest to px within 14 px; -1. */
int app_pins_hit (const GArray *pins, GeoPoint px);
void app_paint_pin (cairo_t *cr, const AppPin *pin,
                    const SewingFinding *finding, gboolean hovered,
                    const AppPalette *colours);
GeoBox app_pin_box (const AppPin *pin);
