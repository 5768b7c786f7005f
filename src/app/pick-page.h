/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages of the panel that shows what is picked: one for each sort of pick. A page is made
 * for one pick and thrown away with it; its values follow the shown pattern. */
#pragma once

#include "app/field.h"
#include "app/ui.h"

typedef struct _AppPage AppPage;
struct _AppPage
{
  GtkWidget *box;
  AppSession *session; /* borrowed; outlives the page */
  guint piece;         /* what the page is about; 0 where not needed */
  guint id;
  GtkWidget *name;   /* the field with its name; NULL where there is none */
  gboolean updating; /* values are being shown, not entered */
  void (*update) (AppPage *page);
  void (*clear) (AppPage *page); /* or NULL */
};

/* Fills in the common part and makes the box. size of the page's own struct. */
gpointer app_page_new (gsize size, AppSession *session,
                       void (*update) (AppPage *page));
void app_page_free (AppPage *page);
void app_page_update (AppPage *page);

/* Does an edit of the page's; merge may be NULL. Where it failed, the page shows the old
 * values again. */
gboolean app_page_do (AppPage *page, const char *label, const char *merge,
                      Pattern *result, GError **error);
/* The pattern a page edits, and the one it shows. */
const Pattern *app_page_pattern (AppPage *page);
const Pattern *app_page_shown (AppPage *page);

/* --- parts of pages; each is shown by update ---------------------------------------- */
GtkWidget *app_page_title (AppPage *page, const char *kind);
/* Its text: what the page is about. */
void app_page_set_title (GtkWidget *title, const char *text);
GtkWidget *app_page_section (AppPage *page, const char *heading);
GtkWidget *app_page_field (AppPage *page, GtkWidget *rows, AppFieldKind kind,
                           const char *label,
                           void (*entered) (AppField *, gboolean, AppPage *));
GtkWidget *app_page_drop (AppPage *page, GtkWidget *rows,
                          const char *const *words, const char *label,
                          void (*chosen) (GtkDropDown *, GParamSpec *,
                                          AppPage *));
GtkWidget *app_page_check (AppPage *page, GtkWidget *rows, const char *label,
                           void (*toggled) (GtkCheckButton *, AppPage *));
/* A row of buttons that wraps. */
GtkWidget *app_page_buttons (AppPage *page);
GtkWidget *app_page_button (AppPage *page, GtkWidget *buttons,
                            const char *label, const char *tip,
                            void (*clicked) (GtkButton *, AppPage *));
/* A text of several lines, entered when it is left. */
GtkWidget *app_page_note (AppPage *page, const char *label,
                          void (*entered) (const char *, AppPage *));
void app_page_set_note (GtkWidget *note, const char *text);

AppPage *app_page_pattern_new (AppSession *session);
AppPage *app_page_piece_new (AppSession *session);
AppPage *app_page_edge_new (AppSession *session);
AppPage *app_page_node_new (AppSession *session);
AppPage *app_page_mark_new (AppSession *session);
AppPage *app_page_seam_new (AppSession *session);
AppPage *app_page_picture_new (AppSession *session);
