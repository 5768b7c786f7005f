/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The work behind the print dialog: sheets to a PDF on another thread, or to a printer. */
#pragma once

#include <gtk/gtk.h>

#include "file/sheets.h"

typedef struct _AppPrintJob AppPrintJob;

/* Called on the main thread: as it goes on (done from 0 to 1), and at its end with
 * finished set; error is NULL when all went well, G_IO_ERROR_CANCELLED when cancelled. */
typedef void (*AppPrintProgress) (double done, gboolean finished, guint n_pages,
                                  const GError *error, gpointer data);

/* Owns itself until finished was told. */
AppPrintJob *app_print_job_save (const Pattern *pattern,
                                 const FileSheetOptions *options,
                                 const char *path, AppPrintProgress progress,
                                 gpointer data);
void app_print_job_cancel (AppPrintJob *job);
/* Nothing more is told. */
void app_print_job_forget (AppPrintJob *job);

/* How sheets are printed: each page at its own size, edge to edge, not scaled. Takes over
 * sheets. */
GtkPrintOperation *app_print_operation_new (FileSheets *sheets,
                                            const char *name);
/* Opens the printer's dialog; every page at its own size, not scaled. told gets a message where
 * it failed. */
void app_print_to_printer (GtkWindow *parent, const Pattern *pattern,
                           const FileSheetOptions *options, const char *name,
                           void (*told) (const char *problem, gpointer data),
                           gpointer data);
