/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A question in a small window of its own. */
#pragma once

#include <gtk/gtk.h>

/* answer: the index of the button, from 0; -1 where the question was closed. */
typedef void (*AppAnswer) (int answer, gpointer data);

/* buttons: NULL-ended labels, from the safest to the one that is offered (Enter, suggested). Where
 * harm is >= 0 that button is shown as one that loses something. */
void app_ask (GtkWindow *parent, const char *question, const char *more,
              const char *const *buttons, int harm, AppAnswer answer,
              gpointer data);
/* Tells something that can't wait, with one button. */
void app_tell (GtkWindow *parent, const char *what, const char *more);
/* Tells that a file chosen or dropped has no path on this computer. */
void app_tell_far (GtkWindow *parent);

typedef void (*AppFileChosen) (const char *path, gpointer data);
typedef enum
{
  APP_FILES_DOCUMENT,
  APP_FILES_SVG,
  APP_FILES_PDF,
  APP_FILES_TEXT,
  APP_FILES_PICTURE /* to read only */
} AppFiles;
/* Asks for a file to read. chosen is not called where she thinks better of it. */
void app_ask_open (GtkWindow *parent, AppFiles files, AppFileChosen chosen,
                   gpointer data);
/* Asks for a file to write; the path ends as files of that sort do, and replacing one has been
 * agreed to. name: what is proposed, without its ending. */
void app_ask_save (GtkWindow *parent, AppFiles files, const char *name,
                   const char *folder, AppFileChosen chosen, gpointer data);
