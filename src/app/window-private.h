/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of AppWindow, for the window-*.c files only. */
#pragma once

#include "app/canvas.h"
#include "app/checks-popover.h"
#include "app/hand-tools.h"
#include "app/import-dialog.h"
#include "app/notice.h"
#include "app/pick-panel.h"
#include "app/pieces-panel.h"
#include "app/start-page.h"
#include "app/strip-area.h"
#include "app/window.h"
#include "file/document.h"

struct _AppWindow
{
  GtkApplicationWindow parent;

  AppSession *session;      /* NULL on the start page */
  GtkWidget *stack, *start; /* start: NULL while working */
  /* Of the work area; NULL on the start page. */
  AppCanvas *canvas;
  GtkWidget *left, *pieces, *rack, *pick, *strip;
  GtkWidget *left_pane, *pick_pane; /* hold the panels beside the table */
  GtkWidget *strip_pane;            /* holds all that, and the strip below */
  int strip_px;                     /* as laid out at first */
  GtkWidget *hint, *zoom, *unit, *walk_bar, *amount_bar, *name_bar, *trace_bar;
  gboolean walking, drafting, tracing; /* as last told */
  GtkWidget *notice; /* over the start page and the table alike */

  GtkWidget *header, *title, *subtitle;
  GtkWidget *left_end, *right_end; /* what the header holds while working */
  GtkWidget *undo, *redo, *menu, *draft;
  AppChecksButton *checks;
  GMenu *recent;

  char *recovered;   /* the file that what was brought back had; or NULL */
  guint keep;        /* timeout until what changed is kept */
  guint again;       /* the same, where that failed */
  gboolean close_ok; /* she was asked, and gives the changes up */
  gboolean close_after_save;
  gboolean not_kept; /* the last copy for after a crash could not be written */
};

/* --- window-header.c ---------------------------------------------------------- */
void app_window_make_header (AppWindow *window);
/* Fills in what belongs to the session just opened. */
void app_window_header_opened (AppWindow *window);
void app_window_header_update (AppWindow *window);
/* Only undo and redo stay beside the menu. */
void app_window_header_rest (AppWindow *window, gboolean rest);

/* --- window-file.c ------------------------------------------------------------- */
void app_window_add_file_actions (AppWindow *window);
/* Opens a document or brings in a drawing, here when nothing is open yet, else in
 * a window of its own. Problems are told in this window. */
void app_window_open_path (AppWindow *window, const char *path);
void app_window_open_demo (AppWindow *window);
void app_window_recover (AppWindow *window, const FileRecovery *recovery);
/* FALSE: she has to be asked first, and is. */
gboolean app_window_may_close (AppWindow *window);
/* Keeps what is not saved, soon. */
void app_window_keep_soon (AppWindow *window);
void app_window_keep_no_more (AppWindow *window);

/* --- window-trace.c ------------------------------------------------------------ */
void app_window_add_trace_actions (AppWindow *window);
gboolean app_window_is_picture (const char *path);
void app_window_trace_path (AppWindow *window, const char *path);
void app_window_trace_changed (AppWindow *window);

/* --- window-edit.c --------------------------------------------------------------- */
void app_window_add_edit_actions (AppWindow *window);
void app_window_update_edit_actions (AppWindow *window);
/* Which picks an action makes sense for. */
typedef enum
{
  APP_FOR_ANY = 1 << 0,    /* also when nothing is picked */
  APP_FOR_PIECES = 1 << 1, /* whole pieces */
  APP_FOR_PART = 1 << 2,   /* an edge, a node or a mark of a piece */
  APP_FOR_EDGE = 1 << 3,
  APP_FOR_SEAM = 1 << 4,
  APP_FOR_LINE = 1 << 5,
  APP_BY_HISTORY = 1 << 6, /* the header knows */
} AppWindowFor;
/* Those of what is picked. */
guint app_window_pick_mask (AppSession *session);
/* The three units of a pattern, each set by win.unit. New reference. */
GMenu *app_window_unit_menu (void);
/* What tells the unit follows the pattern. */
void app_window_show_unit (AppWindow *window);

/* --- window-menu.c --------------------------------------------------------------- */
/* What clicking with the secondary button on the table offers. */
void app_window_context_menu (AppWindow *window, double x, double y);

/* Panels as the settings and what she is at want them. */
void app_window_show_panels (AppWindow *window);
void app_window_enable (AppWindow *window, const char *action,
                        gboolean enabled);
/* Something to be shown without stopping her. */
void app_window_tell (AppWindow *window, const char *text, gboolean passing);
