/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/recent.h"

#include <gtk/gtk.h>

#include "file/document.h"

void
app_recent_add (const char *path)
{
  g_autofree char *uri = g_filename_to_uri (path, NULL, NULL);
  if (uri == NULL)
    return;
  GtkRecentData data = { .mime_type = (char *)FILE_DOCUMENT_MIME,
                         .app_name = (char *)"Bodkin",
                         .app_exec = (char *)"bodkin %f" };
  gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &data);
}

static int
newer_first (gconstpointer a, gconstpointer b)
{
  GDateTime *x = gtk_recent_info_get_modified ((GtkRecentInfo *)a);
  GDateTime *y = gtk_recent_info_get_modified ((GtkRecentInfo *)b);
  return g_date_time_compare (y, x);
}

GPtrArray *
app_recent_list (guint most)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
  GList *items
      = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  items = g_list_sort (items, newer_first);
  for (GList *l = items; l != NULL && paths->len < most; l = l->next)
    {
      const char *mime = gtk_recent_info_get_mime_type (l->data);
      if (g_strcmp0 (mime, FILE_DOCUMENT_MIME) != 0)
        continue;
      char *path
          = g_filename_from_uri (gtk_recent_info_get_uri (l->data), NULL, NULL);
      if (path != NULL)
        g_ptr_array_add (paths, path);
    }
  g_list_free_full (items, (GDestroyNotify)gtk_recent_info_unref);
  return paths;
}
