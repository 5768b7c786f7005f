/* SPDX-License-Identifier: GPL-3.0-or-later */
/* In an edge's page: drawing it to the picture that lies under it. */
#pragma once

#include "app/pick-page.h"

/* The page's edge onto what the picture under its middle shows within 3 mm, as one step; told in words what
 * came of it. */
void app_draw_edge (AppPage *page);
