/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What cairo can't say in a PDF: that it is to be printed at its own size. Appended as an
 * incremental update (ISO 32000-1, 7.5.6): a new catalog and a new information
 * dictionary, their cross-reference section and trailer; what was there is not touched. */
#pragma once

#include <gio/gio.h>

/* pdf: a whole file with a plain cross-reference table, PDF 1.4 as cairo writes
 * it. Appends in place. The catalog gets /ViewerPreferences with /PrintScaling /None and
 * /PickTrayByPDFSize true; the information holds the title, and a date only
 * where SOURCE_DATE_EPOCH gives one; /ID is made from the content, so equal
 * content gives equal bytes. FALSE, with pdf untouched, where it is no such file. */
gboolean file_pdf_finish (GByteArray *pdf, const char *title, GError **error);
