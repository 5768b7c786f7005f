/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/recent.h"

#include <string.h>

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

static void
recent_free (gpointer data)
{
  AppRecent *recent = data;
  g_free (recent->path);
  g_free (recent->name);
  g_free (recent);
}

/* NULL where it is none of ours. */
static AppRecent *
recent_of (GtkRecentInfo *info)
{
  if (g_strcmp0 (gtk_recent_info_get_mime_type (info), FILE_DOCUMENT_MIME) != 0)
    return NULL;
  char *path = g_filename_from_uri (gtk_recent_info_get_uri (info), NULL, NULL);
  if (path == NULL)
    return NULL;
  AppRecent *recent = g_new0 (AppRecent, 1);
  recent->path = path;
  recent->name = g_filename_display_basename (path);
  recent->there = gtk_recent_info_exists (info);
  if (g_str_has_suffix (recent->name, FILE_DOCUMENT_SUFFIX))
    recent->name[strlen (recent->name) - strlen (FILE_DOCUMENT_SUFFIX)] = '\0';
  return recent;
}

GPtrArray *
app_recent_list (guint most, gboolean only_there)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (recent_free);
  GList *items
      = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  items = g_list_sort (items, newer_first);
  for (GList *l = items; l != NULL && list->len < most; l = l->next)
    {
      AppRecent *recent = recent_of (l->data);
      if (recent != NULL && (recent->there || !only_there))
        g_ptr_array_add (list, recent);
      else if (recent != NULL)
        recent_free (recent);
    }
  g_list_free_full (items, (GDestroyNotify)gtk_recent_info_unref);
  return list;
}
