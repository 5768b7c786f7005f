/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture under the table is picked. */
#include <glib/gi18n.h>

#include "app/pick-page.h"
#include "app/pick-pictures.h"

typedef struct
{
  AppPage page;
  GtkWidget *title, *rows;
} PicturePage;

static void
name_entered (AppField *field, gboolean step, AppPage *page)
{
  (void)step;
  GError *error = NULL;
  Pattern *p = drafting_set_picture_name (app_page_pattern (page), page->id,
                                          app_field_get_text (field), &error);
  app_page_do (page, _ ("name a picture"), NULL, p, &error);
}

static void
update (AppPage *page)
{
  PicturePage *self = (PicturePage *)page;
  const Pattern *pattern = app_page_shown (page);
  const PatternPicture *picture = pattern_get_picture (pattern, page->id);
  if (picture == NULL)
    return;
  app_page_set_title (self->title, picture->name);
  app_field_set_text (APP_FIELD (page->name), picture->name);
  app_picture_rows_show (self->rows, pattern);
}

AppPage *
app_page_picture_new (AppSession *session)
{
  PicturePage *self = app_page_new (sizeof *self, session, update);
  AppPage *page = &self->page;
  self->title = app_page_title (page, _ ("Picture"));
  GtkWidget *rows = app_page_section (page, NULL);
  page->name
      = app_page_field (page, rows, APP_FIELD_TEXT, _ ("Name"), name_entered);
  self->rows = app_picture_rows_new (page, page->id);
  gtk_box_append (GTK_BOX (page->box), self->rows);
  return page;
}
