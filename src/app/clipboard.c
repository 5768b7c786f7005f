/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/clipboard.h"

#include <glib/gi18n.h>
#include <string.h>

#include "file/document.h"

/* How far a pasted piece lies off the one it was copied from, mm. */
#define ASIDE 20

static gboolean
is_picked (const AppPick *pick, guint piece)
{
  if (pick->kind != APP_PICK_PIECES)
    return pick->piece != 0 && pick->piece == piece;
  for (guint i = 0; i < pick->n_ids; i++)
    if (pick->ids[i] == piece)
      return TRUE;
  return FALSE;
}

gboolean
app_clipboard_copy (GdkClipboard *clipboard, AppSession *session)
{
  const Pattern *pattern = app_session_get_pattern (session);
  const AppPick *pick = app_session_get_pick (session);
  g_autoptr (Pattern) some = pattern_dup (pattern);
  for (guint i = 0; i < pattern->n_pieces; i++)
    if (!is_picked (pick, pattern->pieces[i]->id))
      pattern_remove_piece (some, pattern->pieces[i]->id);
  while (some->n_pictures > 0)
    pattern_remove_picture (some, some->pictures[0]->id);
  if (some->n_pieces == 0)
    return FALSE;
  gsize length;
  g_autofree char *text = file_document_write (some, &length);
  gdk_clipboard_set_text (clipboard, text);
  return TRUE;
}

typedef struct
{
  AppSession *session;
  void (*on_svg) (const char *text, gpointer owner);
  GWeakRef owner;
} Paste;

static void
paste_free (Paste *paste)
{
  g_object_unref (paste->session);
  g_weak_ref_clear (&paste->owner);
  g_free (paste);
}

static void
paste_pieces (AppSession *session, const Pattern *from)
{
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (guint));
  GError *error = NULL;
  Pattern *p
      = drafting_add_pieces_of (app_session_get_pattern (session), from,
                                geo_point (ASIDE, ASIDE), pieces, &error);
  if (!app_session_do (session,
                       ngettext ("paste piece", "paste pieces", pieces->len),
                       NULL, p, &error))
    return;
  for (guint i = 0; i < pieces->len; i++)
    app_session_pick_piece (session, g_array_index (pieces, guint, i), i > 0);
}

static void
on_text (GObject *source, GAsyncResult *result, gpointer data)
{
  Paste *paste = data;
  g_autoptr (GObject) owner = g_weak_ref_get (&paste->owner);
  g_autofree char *text
      = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
  g_autoptr (Pattern) pattern
      = text != NULL && strstr (text, "<svg") == NULL
            ? file_document_parse (text, strlen (text), _ ("clipboard"), NULL)
            : NULL;
  if (owner == NULL)
    ; /* closed while another program took its time to answer */
  else if (pattern != NULL)
    paste_pieces (paste->session, pattern);
  else if (text != NULL && strstr (text, "<svg") != NULL)
    paste->on_svg (text, owner);
  else
    g_signal_emit_by_name (
        paste->session, "problem",
        _ ("There is nothing on the clipboard that could be a piece. Copy "
           "pieces here, or a drawing as SVG in another program."));
  paste_free (paste);
}

void
app_clipboard_paste (GdkClipboard *clipboard, AppSession *session,
                     void (*on_svg) (const char *text, gpointer owner),
                     GObject *owner)
{
  Paste *paste = g_new0 (Paste, 1);
  paste->session = g_object_ref (session);
  paste->on_svg = on_svg;
  g_weak_ref_init (&paste->owner, owner);
  gdk_clipboard_read_text_async (clipboard, NULL, on_text, paste);
}
