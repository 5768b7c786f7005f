/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces on the clipboard: as text, a document of their own, so that they can be
 * pasted into another pattern, or another program's text. An SVG drawing on the clipboard can be
 * pasted too. */
#pragma once

#include <gtk/gtk.h>

#include "app/session.h"

/* Copies the picked pieces, or the piece of what is picked; FALSE where there is none. */
gboolean app_clipboard_copy (GdkClipboard *clipboard, AppSession *session);
/* In a moment, pastes what is there: pieces at once, a drawing through on_svg (text). Where the
 * owner has gone by then, nothing happens. */
void app_clipboard_paste (GdkClipboard *clipboard, AppSession *session,
                          void (*on_svg) (const char *text, gpointer owner),
                          GObject *owner);
