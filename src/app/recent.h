/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The patterns opened last, in the desktop's own list. */
#pragma once

#include <gtk/gtk.h>

typedef struct
{
  char *path; /* of a local file; bytes, as the file system has them */
  char *name; /* without folder and ending, fit to be shown */
  gboolean there;
} AppRecent;

void app_recent_add (const char *path);
/* AppRecent, the newest first, at most that many. */
GPtrArray *app_recent_list (guint most, gboolean only_there);
