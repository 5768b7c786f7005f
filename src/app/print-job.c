/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/print-job.h"

#include <glib/gi18n.h>

/* --- to a PDF ---------------------------------------------------------------------- */

struct _AppPrintJob
{
  Pattern *pattern;
  FileSheetOptions options;
  guint *pieces;
  char *path;
  GCancellable *cancellable;
  int permille; /* atomic */
  guint n_pages;
  guint poll;
  AppPrintProgress progress;
  gpointer data;
};

static gboolean
on_progress (double done, gpointer data)
{
  AppPrintJob *job = data;
  g_atomic_int_set (&job->permille, (int)(done * 1000));
  return !g_cancellable_is_cancelled (job->cancellable);
}

static void
run (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  (void)source;
  (void)cancellable;
  AppPrintJob *job = data;
  GError *error = NULL;
  g_autoptr (FileSheets) sheets
      = file_sheets_plan (job->pattern, &job->options, &error);
  gboolean saved = FALSE;
  if (sheets != NULL)
    {
      job->n_pages = file_sheets_count (sheets);
      saved
          = file_sheets_save_pdf (sheets, job->path, on_progress, job, &error);
    }
  /* Where it was done before the cancelling came through, it is done. */
  if (!saved && g_cancellable_is_cancelled (job->cancellable))
    {
      g_clear_error (&error);
      g_set_error_literal (&error, G_IO_ERROR, G_IO_ERROR_CANCELLED,
                           _ ("Cancelled; no file was written."));
    }
  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_boolean (task, TRUE);
}

static void
job_free (AppPrintJob *job)
{
  g_clear_handle_id (&job->poll, g_source_remove);
  pattern_unref (job->pattern);
  g_free (job->pieces);
  g_free (job->path);
  g_object_unref (job->cancellable);
  g_free (job);
}

static void
on_done (GObject *source, GAsyncResult *result, gpointer data)
{
  (void)source;
  AppPrintJob *job = data;
  g_autoptr (GError) error = NULL;
  g_task_propagate_boolean (G_TASK (result), &error);
  if (job->progress != NULL)
    job->progress (1, TRUE, job->n_pages, error, job->data);
  job_free (job);
}

static gboolean
on_poll (gpointer data)
{
  AppPrintJob *job = data;
  if (job->progress != NULL)
    job->progress (g_atomic_int_get (&job->permille) / 1000.0, FALSE, 0, NULL,
                   job->data);
  return G_SOURCE_CONTINUE;
}

AppPrintJob *
app_print_job_save (const Pattern *pattern, const FileSheetOptions *options,
                    const char *path, AppPrintProgress progress, gpointer data)
{
  AppPrintJob *job = g_new0 (AppPrintJob, 1);
  job->pattern = pattern_ref (pattern);
  job->options = *options;
  job->pieces
      = options->n_pieces > 0
            ? g_memdup2 (options->pieces, options->n_pieces * sizeof (guint))
            : NULL;
  job->options.pieces = job->pieces;
  job->path = g_strdup (path);
  job->cancellable = g_cancellable_new ();
  job->progress = progress;
  job->data = data;
  job->poll = g_timeout_add (100, on_poll, job);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, on_done, job);
  g_task_set_task_data (task, job, NULL);
  g_task_run_in_thread (task, run);
  return job;
}

void
app_print_job_cancel (AppPrintJob *job)
{
  g_cancellable_cancel (job->cancellable);
}

void
app_print_job_forget (AppPrintJob *job)
{
  job->progress = NULL;
  g_cancellable_cancel (job->cancellable);
}

/* --- to a printer -------------------------------------------------------------------- */

static GtkPageSetup *
page_setup (double width, double height)
{
  GtkPageSetup *setup = gtk_page_setup_new ();
  g_autofree char *name = g_strdup_printf ("bodkin_%.0fx%.0f", width, height);
  static const char *const known[] = { "iso_a4", "iso_a3", "na_letter" };
  GtkPaperSize *paper = NULL;
  GtkPageOrientation turned = GTK_PAGE_ORIENTATION_PORTRAIT;
  for (guint i = 0; i < G_N_ELEMENTS (known) && paper == NULL; i++)
    {
      GtkPaperSize *size = gtk_paper_size_new (known[i]);
      double w = gtk_paper_size_get_width (size, GTK_UNIT_MM);
      double h = gtk_paper_size_get_height (size, GTK_UNIT_MM);
      gboolean upright = ABS (w - width) < 0.5 && ABS (h - height) < 0.5;
      gboolean across = ABS (h - width) < 0.5 && ABS (w - height) < 0.5;
      if (upright || across)
        paper = gtk_paper_size_copy (size);
      if (across && !upright)
        turned = GTK_PAGE_ORIENTATION_LANDSCAPE;
      gtk_paper_size_free (size);
    }
  if (paper == NULL)
    paper = gtk_paper_size_new_custom (name, name, width, height, GTK_UNIT_MM);
  gtk_page_setup_set_paper_size (setup, paper);
  gtk_page_setup_set_orientation (setup, turned);
  gtk_paper_size_free (paper);
  gtk_page_setup_set_top_margin (setup, 0, GTK_UNIT_MM);
  gtk_page_setup_set_bottom_margin (setup, 0, GTK_UNIT_MM);
  gtk_page_setup_set_left_margin (setup, 0, GTK_UNIT_MM);
  gtk_page_setup_set_right_margin (setup, 0, GTK_UNIT_MM);
  return setup;
}

static void
on_request_setup (GtkPrintOperation *operation, GtkPrintContext *context,
                  int page, GtkPageSetup *setup, FileSheets *sheets)
{
  (void)operation;
  (void)context;
  double width, height;
  file_sheets_size (sheets, (guint)page, &width, &height);
  g_autoptr (GtkPageSetup) own = page_setup (width, height);
  gtk_page_setup_set_paper_size (setup, gtk_page_setup_get_paper_size (own));
  gtk_page_setup_set_orientation (setup, gtk_page_setup_get_orientation (own));
}

static void
on_draw_page (GtkPrintOperation *operation, GtkPrintContext *context, int page,
              FileSheets *sheets)
{
  (void)operation;
  file_sheets_paint (sheets, (guint)page,
                     gtk_print_context_get_cairo_context (context));
}

static void
sheets_free (gpointer data)
{
  file_sheets_free (data);
}

GtkPrintOperation *
app_print_operation_new (FileSheets *sheets, const char *name)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  g_object_set_data_full (G_OBJECT (operation), "sheets", sheets, sheets_free);
  double width, height;
  file_sheets_size (sheets, 0, &width, &height);
  g_autoptr (GtkPageSetup) setup = page_setup (width, height);
  g_autoptr (GtkPrintSettings) settings = gtk_print_settings_new ();
  gtk_print_settings_set_scale (settings, 100);
  gtk_print_settings_set (settings, "print-scaling", "none");
  gtk_print_settings_set (settings, "cups-print-scaling", "none");
  gtk_print_operation_set_print_settings (operation, settings);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_MM);
  gtk_print_operation_set_n_pages (operation, (int)file_sheets_count (sheets));
  gtk_print_operation_set_job_name (operation, name);
  gtk_print_operation_set_embed_page_setup (operation, FALSE);
  g_signal_connect (operation, "request-page-setup",
                    G_CALLBACK (on_request_setup), sheets);
  g_signal_connect (operation, "draw-page", G_CALLBACK (on_draw_page), sheets);
  return operation;
}

void
app_print_to_printer (GtkWindow *parent, const Pattern *pattern,
                      const FileSheetOptions *options, const char *name,
                      void (*told) (const char *problem, gpointer data),
                      gpointer data)
{
  g_autoptr (GError) error = NULL;
  FileSheets *sheets = file_sheets_plan (pattern, options, &error);
  if (sheets == NULL)
    {
      told (error->message, data);
      return;
    }
  g_autoptr (GtkPrintOperation) operation
      = app_print_operation_new (sheets, name);
  GtkPrintOperationResult result = gtk_print_operation_run (
      operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent, &error);
  if (result == GTK_PRINT_OPERATION_RESULT_ERROR)
    told (error->message, data);
}
