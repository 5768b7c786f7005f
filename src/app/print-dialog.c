/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/print-dialog.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/ask.h"
#include "app/field.h"
#include "app/print-job.h"
#include "app/settings.h"
#include "app/ui.h"

typedef struct
{
  GtkWidget *window;
  AppSession *session;
  Pattern *pattern; /* what is printed: the step at the moment of opening */
  GtkWidget *paper, *landscape, *clips, *stitch, *overlap;
  GtkWidget *pieces, *summary, *pins;
  GtkWidget *preview, *page_name, *back, *on;
  GtkWidget *stack, *bar, *result, *show, *save, *print;
  FileSheets *sheets;
  char *problem; /* why there are none */
  guint page;
  AppPrintJob *job;
  char *path;
} Print;

static void
print_free (gpointer data)
{
  Print *print = data;
  if (print->job != NULL)
    app_print_job_forget (print->job);
  g_clear_pointer (&print->sheets, file_sheets_free);
  pattern_unref (print->pattern);
  g_object_unref (print->session);
  g_free (print->problem);
  g_free (print->path);
  g_free (print);
}

static GArray *
chosen_pieces (Print *print)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (guint));
  for (GtkWidget *check = gtk_widget_get_first_child (print->pieces);
       check != NULL; check = gtk_widget_get_next_sibling (check))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (check)))
      {
        guint id
            = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (check), "id"));
        g_array_append_val (ids, id);
      }
  return ids;
}

/* The options borrow the array. */
static FileSheetOptions
read_options (Print *print, GArray *ids)
{
  const FilePaper *papers = file_papers ();
  FileSheetOptions options = file_sheet_options_default (
      &papers[gtk_drop_down_get_selected (GTK_DROP_DOWN (print->paper))]);
  options.landscape
      = gtk_check_button_get_active (GTK_CHECK_BUTTON (print->landscape));
  options.clips = gtk_check_button_get_active (GTK_CHECK_BUTTON (print->clips));
  options.stitch_lines
      = gtk_check_button_get_active (GTK_CHECK_BUTTON (print->stitch));
  options.overlap = app_field_get_value (APP_FIELD (print->overlap));
  options.pieces = (const guint *)(void *)ids->data;
  options.n_pieces = ids->len;
  return options;
}

static void
show_page (Print *print)
{
  guint n = print->sheets != NULL ? file_sheets_count (print->sheets) : 0;
  if (print->page >= n)
    print->page = n > 0 ? n - 1 : 0;
  gtk_widget_set_sensitive (print->back, n > 0 && print->page > 0);
  gtk_widget_set_sensitive (print->on, print->page + 1 < n);
  if (n == 0)
    app_ui_set_text (print->page_name, "");
  else
    {
      g_autofree char *text = g_strdup_printf (
          _ ("Page %u of %u · %s"), print->page + 1, n,
          file_sheets_page_name (print->sheets, print->page));
      app_ui_set_text (print->page_name, text);
    }
  gtk_widget_queue_draw (print->preview);
}

static void
show_summary (Print *print)
{
  if (print->sheets == NULL)
    {
      app_ui_set_text (print->summary, print->problem);
      return;
    }
  guint n = file_sheets_count (print->sheets);
  g_autofree char *pages
      = g_strdup_printf (ngettext ("%u page", "%u pages", n), n);
  g_autofree char *grid = g_strdup_printf (
      _ ("%s, joined in %u rows of up to %u sheets"), pages,
      file_sheets_rows (print->sheets), file_sheets_columns (print->sheets));
  app_ui_set_text (print->summary, grid);
}

static void
plan (Print *print)
{
  g_clear_pointer (&print->sheets, file_sheets_free);
  g_clear_pointer (&print->problem, g_free);
  g_autoptr (GArray) ids = chosen_pieces (print);
  if (ids->len == 0)
    print->problem = g_strdup (_ ("No piece is chosen."));
  else
    {
      g_autoptr (GError) error = NULL;
      FileSheetOptions options = read_options (print, ids);
      print->sheets = file_sheets_plan (print->pattern, &options, &error);
      if (print->sheets == NULL)
        print->problem = g_strdup (error->message);
    }
  gtk_widget_set_sensitive (print->save, print->sheets != NULL);
  gtk_widget_set_sensitive (print->print, print->sheets != NULL);
  show_summary (print);
  show_page (print);
}

static void
on_changed (Print *print)
{
  AppSettings *settings = app_settings_get ();
  const FilePaper *papers = file_papers ();
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (print->paper));
  g_free (settings->paper);
  settings->paper = g_strdup (papers[chosen].name);
  settings->landscape
      = gtk_check_button_get_active (GTK_CHECK_BUTTON (print->landscape));
  settings->print_clips
      = gtk_check_button_get_active (GTK_CHECK_BUTTON (print->clips));
  settings->overlap = app_field_get_value (APP_FIELD (print->overlap));
  plan (print);
}

static void
on_back (Print *print)
{
  print->page--;
  show_page (print);
}

static void
on_on (Print *print)
{
  print->page++;
  show_page (print);
}

static void
paint_preview (GtkDrawingArea *area, cairo_t *cr, int width, int height,
               gpointer data)
{
  (void)area;
  Print *print = data;
  if (print->sheets == NULL)
    return;
  double w, h;
  file_sheets_size (print->sheets, print->page, &w, &h);
  double scale = fmin ((width - 36) / w, (height - 36) / h);
  if (scale <= 0)
    return;
  double x = (width - w * scale) / 2, y = (height - h * scale) / 2;
  cairo_set_source_rgba (cr, 0, 0, 0, 0.18);
  cairo_rectangle (cr, x + 2, y + 3, w * scale, h * scale);
  cairo_fill (cr);
  /* Paper is white, whatever the window's looks. */
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, x, y, w * scale, h * scale);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  file_sheets_paint (print->sheets, print->page, cr);
}

/* --- saving and printing -------------------------------------------------------------- */

static void
show_stage (Print *print, const char *stage)
{
  gtk_stack_set_visible_child_name (GTK_STACK (print->stack), stage);
}

static void
on_progress (double done, gboolean finished, guint n_pages, const GError *error,
             gpointer data)
{
  Print *print = data;
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (print->bar), done);
  if (!finished)
    return;
  print->job = NULL;
  g_autofree char *name = g_filename_display_basename (print->path);
  g_autofree char *text = NULL;
  if (error == NULL)
    text = g_strdup_printf (
        ngettext ("Saved “%s”, %u page. Print it at 100 %% and measure the "
                  "square.",
                  "Saved “%s”, %u pages. Print the first alone at 100 %% and "
                  "measure the square.",
                  n_pages),
        name, n_pages);
  else
    text = g_strdup (error->message);
  app_ui_set_text (print->result, text);
  gtk_widget_set_visible (print->show, error == NULL);
  show_stage (print, "done");
}

static void
save_to (const char *path, gpointer data)
{
  Print *print = data;
  g_autoptr (GArray) ids = chosen_pieces (print);
  FileSheetOptions options = read_options (print, ids);
  g_free (print->path);
  print->path = g_strdup (path);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (print->bar), 0);
  show_stage (print, "busy");
  print->job
      = app_print_job_save (print->pattern, &options, path, on_progress, print);
}

static void
on_save (Print *print)
{
  g_autofree char *title = app_session_dup_title (print->session);
  const char *path = app_session_get_path (print->session);
  g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;
  app_settings_save ();
  app_ask_save (GTK_WINDOW (print->window), APP_FILES_PDF, title, folder,
                save_to, print);
}

static void
on_cancel_job (Print *print)
{
  if (print->job != NULL)
    app_print_job_cancel (print->job);
}

static void
on_show_file (Print *print)
{
  g_autofree char *uri = g_filename_to_uri (print->path, NULL, NULL);
  if (uri != NULL)
    gtk_show_uri (GTK_WINDOW (print->window), uri, GDK_CURRENT_TIME);
}

static void
on_printed (const char *problem, gpointer data)
{
  Print *print = data;
  app_tell (GTK_WINDOW (print->window), _ ("Printing did not work"), problem);
}

static void
on_print (Print *print)
{
  g_autoptr (GArray) ids = chosen_pieces (print);
  FileSheetOptions options = read_options (print, ids);
  g_autofree char *title = app_session_dup_title (print->session);
  app_settings_save ();
  app_print_to_printer (GTK_WINDOW (print->window), print->pattern, &options,
                        title, on_printed, print);
}

/* --- making the window ------------------------------------------------------------------ */

static gboolean
is_picked (AppSession *session, guint piece)
{
  const AppPick *pick = app_session_get_pick (session);
  if (pick->kind != APP_PICK_PIECES)
    return TRUE;
  for (guint i = 0; i < pick->n_ids; i++)
    if (pick->ids[i] == piece)
      return TRUE;
  return FALSE;
}

static GtkWidget *
make_pieces (Print *print)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scroller),
                                              96);
  print->pieces = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_widget_add_css_class (scroller, "note");
  gtk_widget_add_css_class (print->pieces, "print-pieces");
  for (guint i = 0; i < print->pattern->n_pieces; i++)
    {
      const PatternPiece *piece = print->pattern->pieces[i];
      GtkWidget *check = gtk_check_button_new_with_label (
          piece->name[0] != '\0' ? piece->name : _ ("unnamed piece"));
      g_object_set_data (G_OBJECT (check), "id", GUINT_TO_POINTER (piece->id));
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check),
                                   is_picked (print->session, piece->id));
      g_signal_connect_swapped (check, "toggled", G_CALLBACK (on_changed),
                                print);
      gtk_box_append (GTK_BOX (print->pieces), check);
    }
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), print->pieces);
  return scroller;
}

static GtkWidget *
make_check (Print *print, GtkWidget *rows, const char *label, gboolean on)
{
  GtkWidget *check = gtk_check_button_new_with_label (label);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), on);
  g_signal_connect_swapped (check, "toggled", G_CALLBACK (on_changed), print);
  app_ui_rows_add_wide (rows, check);
  return check;
}

static void
make_paper (Print *print, GtkWidget *rows)
{
  const AppSettings *settings = app_settings_get ();
  const FilePaper *papers = file_papers ();
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  guint chosen = 0;
  for (guint i = 0; papers[i].name != NULL; i++)
    {
      g_autofree char *width
          = pattern_length_format_bare (papers[i].width, print->pattern->unit);
      g_autofree char *height = pattern_length_format (
          papers[i].height, print->pattern->unit, FALSE);
      g_ptr_array_add (
          names,
          papers[i].height > 0
              ? g_strdup_printf (_ ("%s, %s × %s"), papers[i].name, width,
                                 height)
              : g_strdup_printf (_ ("%s, %s wide"), papers[i].name, width));
      if (g_ascii_strcasecmp (papers[i].name, settings->paper) == 0)
        chosen = i;
    }
  g_ptr_array_add (names, NULL);
  print->paper = app_ui_drop_down ((const char *const *)(void *)names->pdata,
                                   _ ("Paper"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (print->paper), chosen);
  g_signal_connect_swapped (print->paper, "notify::selected",
                            G_CALLBACK (on_changed), print);
  app_ui_rows_add (rows, _ ("Paper"), print->paper);
}

/* In an idle moment: a list that opens needs its window to be the active one. */
static gboolean
open_list (gpointer parent)
{
  g_action_group_activate_action (G_ACTION_GROUP (parent), "pins", NULL);
  g_object_unref (parent);
  return G_SOURCE_REMOVE;
}

static void
on_pins (Print *print)
{
  GtkWindow *window = GTK_WINDOW (print->window);
  g_timeout_add (150, open_list,
                 g_object_ref (gtk_window_get_transient_for (window)));
  gtk_window_close (window);
}

static GtkWidget *
make_settings (Print *print)
{
  const AppSettings *settings = app_settings_get ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class (box, "print-side");
  gtk_widget_set_size_request (box, 340, -1);
  gtk_widget_set_hexpand (box, FALSE);
  GtkWidget *rows = app_ui_rows_new ();
  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("Sheets")));
  gtk_box_append (GTK_BOX (box), rows);
  make_paper (print, rows);
  print->overlap = app_field_new (APP_FIELD_LENGTH, _ ("Sheets lap by"));
  app_field_set_unit (APP_FIELD (print->overlap), print->pattern->unit);
  app_field_set_range (APP_FIELD (print->overlap), 0, 50);
  app_field_set_value (APP_FIELD (print->overlap), settings->overlap);
  g_signal_connect_swapped (print->overlap, "entered", G_CALLBACK (on_changed),
                            print);
  app_ui_rows_add (rows, _ ("Sheets lap by"), print->overlap);
  print->landscape
      = make_check (print, rows, _ ("Sheets lie across"), settings->landscape);
  print->stitch = make_check (print, rows, _ ("Stitch lines"), TRUE);
  print->clips
      = make_check (print, rows, _ ("Clip marks"), settings->print_clips);
  gtk_box_append (GTK_BOX (box), app_ui_heading (_ ("Pieces")));
  gtk_box_append (GTK_BOX (box), make_pieces (print));
  print->summary = app_ui_paragraph ("", "summary");
  gtk_box_append (GTK_BOX (box), print->summary);
  guint open = sewing_checks_open (app_session_get_findings (print->session));
  g_autofree char *pins
      = g_strdup_printf (ngettext ("%u pin is still in the pattern.",
                                   "%u pins are still in the pattern.", open),
                         open);
  print->pins = app_ui_text_button (pins, _ ("Close this and list them"));
  gtk_widget_add_css_class (print->pins, "out");
  gtk_widget_set_visible (print->pins, open > 0);
  g_signal_connect_swapped (print->pins, "clicked", G_CALLBACK (on_pins),
                            print);
  gtk_box_append (GTK_BOX (box), print->pins);
  return box;
}

static GtkWidget *
make_advice (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (box, "advice");
  gtk_box_append (GTK_BOX (box),
                  app_ui_heading (_ ("To come out at its true size")));
  GtkWidget *text = app_ui_paragraph (
      _ ("In the print window that opens, or in your PDF viewer's, choose "
         "“100 %”, “actual size” or “no scaling”, and switch off “fit to "
         "page”. Print one sheet alone and measure its square: exactly "
         "100 mm both ways. Only then print the rest, and only then cut."),
      NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (text), 60);
  gtk_box_append (GTK_BOX (box), text);
  return box;
}

static GtkWidget *
make_preview (Print *print)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_hexpand (box, TRUE);
  print->preview = gtk_drawing_area_new ();
  gtk_widget_set_vexpand (print->preview, TRUE);
  gtk_widget_set_size_request (print->preview, 360, 240);
  gtk_widget_add_css_class (print->preview, "print-preview");
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (print->preview),
                                  paint_preview, print, NULL);
  app_ui_name (print->preview, _ ("The page as it will be printed"));
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_set_halign (line, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (line, "print-pager");
  print->back = app_ui_icon_button ("go-previous-symbolic", _ ("Page before"),
                                    NULL, NULL);
  print->on
      = app_ui_icon_button ("go-next-symbolic", _ ("Next page"), NULL, NULL);
  print->page_name = app_ui_label ("", "figures");
  g_signal_connect_swapped (print->back, "clicked", G_CALLBACK (on_back),
                            print);
  g_signal_connect_swapped (print->on, "clicked", G_CALLBACK (on_on), print);
  gtk_box_append (GTK_BOX (line), print->back);
  gtk_box_append (GTK_BOX (line), print->page_name);
  gtk_box_append (GTK_BOX (line), print->on);
  gtk_box_append (GTK_BOX (box), print->preview);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), make_advice ());
  return box;
}

static void
on_again (Print *print)
{
  show_stage (print, "ready");
}

static GtkWidget *
make_busy (Print *print)
{
  GtkWidget *busy = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  print->bar = gtk_progress_bar_new ();
  gtk_widget_set_hexpand (print->bar, TRUE);
  gtk_widget_set_valign (print->bar, GTK_ALIGN_CENTER);
  app_ui_name (print->bar, _ ("Saving the sheets"));
  GtkWidget *cancel = gtk_button_new_with_label (_ ("Cancel"));
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (on_cancel_job),
                            print);
  gtk_box_append (GTK_BOX (busy), app_ui_label (_ ("Saving…"), NULL));
  gtk_box_append (GTK_BOX (busy), print->bar);
  gtk_box_append (GTK_BOX (busy), cancel);
  return busy;
}

static GtkWidget *
make_foot (Print *print)
{
  print->stack = gtk_stack_new ();
  gtk_widget_add_css_class (print->stack, "print-foot");
  gtk_stack_set_vhomogeneous (GTK_STACK (print->stack), TRUE);

  GtkWidget *ready = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_widget_set_halign (ready, GTK_ALIGN_END);
  print->print = gtk_button_new_with_label (_ ("Print…"));
  print->save = gtk_button_new_with_label (_ ("Save PDF…"));
  gtk_widget_add_css_class (print->save, "suggested-action");
  g_signal_connect_swapped (print->print, "clicked", G_CALLBACK (on_print),
                            print);
  g_signal_connect_swapped (print->save, "clicked", G_CALLBACK (on_save),
                            print);
  gtk_box_append (GTK_BOX (ready), print->print);
  gtk_box_append (GTK_BOX (ready), print->save);

  GtkWidget *done = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  print->result = app_ui_paragraph ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (print->result), 70);
  print->show = gtk_button_new_with_label (_ ("Look at it"));
  g_signal_connect_swapped (print->show, "clicked", G_CALLBACK (on_show_file),
                            print);
  GtkWidget *again = gtk_button_new_with_label (_ ("Back"));
  g_signal_connect_swapped (again, "clicked", G_CALLBACK (on_again), print);
  gtk_box_append (GTK_BOX (done), print->result);
  gtk_box_append (GTK_BOX (done), print->show);
  gtk_box_append (GTK_BOX (done), again);

  gtk_stack_add_named (GTK_STACK (print->stack), ready, "ready");
  gtk_stack_add_named (GTK_STACK (print->stack), make_busy (print), "busy");
  gtk_stack_add_named (GTK_STACK (print->stack), done, "done");
  return print->stack;
}

void
app_print_open (GtkWindow *parent, AppSession *session)
{
  Print *print = g_new0 (Print, 1);
  print->session = g_object_ref (session);
  print->pattern = pattern_ref (app_session_get_pattern (session));
  print->window = gtk_window_new ();
  GtkWindow *window = GTK_WINDOW (print->window);
  gtk_window_set_title (window, _ ("Print at full size"));
  gtk_window_set_transient_for (window, parent);
  gtk_window_set_destroy_with_parent (window, TRUE);
  gtk_window_set_modal (window, TRUE);
  gtk_window_set_default_size (window, 980, 680);
  gtk_window_set_titlebar (window, gtk_header_bar_new ());

  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_box_append (GTK_BOX (line), make_settings (print));
  gtk_box_append (GTK_BOX (line), make_preview (print));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_vexpand (line, TRUE);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), make_foot (print));
  gtk_window_set_child (window, box);
  gtk_window_set_default_widget (window, print->save);
  g_object_set_data_full (G_OBJECT (window), "print", print, print_free);
  app_ui_close_on_escape (window);
  plan (print);
  gtk_window_present (window);
  gtk_window_set_focus (window, print->save);
}
