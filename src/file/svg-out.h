/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A true-scale SVG: stitch lines, cutting lines, marks and names in named groups. */
#pragma once

#include <gio/gio.h>

#include "pattern/pattern.h"

char *file_svg_write (const Pattern *pattern, gsize *length);
gboolean file_svg_save (const Pattern *pattern, const char *path,
                        GError **error);
