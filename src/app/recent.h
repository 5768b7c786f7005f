/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Documents opened and saved last, as the desktop keeps them. */
#pragma once

#include <glib.h>

void app_recent_add (const char *path);
/* Array of paths, newest first; files that are gone are among them. */
GPtrArray *app_recent_list (guint most);
