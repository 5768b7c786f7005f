/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A sizes: ISO 216:2007, table 1. Letter and tabloid: ANSI/ASME Y14.1, sizes A and B,
 * 8.5 x 11 in and 11 x 17 in. Rolls by their width in inches. */
#include "file/sheets.h"

#include <string.h>

static const FilePaper papers[] = {
  { "A4", 210, 297 },         { "letter", 215.9, 279.4 },
  { "A3", 297, 420 },         { "tabloid", 279.4, 431.8 },
  { "A2", 420, 594 },         { "A1", 594, 841 },
  { "A0", 841, 1189 },        { "roll 24 in", 609.6, 0 },
  { "roll 36 in", 914.4, 0 }, { NULL, 0, 0 },
};

const FilePaper *
file_papers (void)
{
  return papers;
}

/* The same name, whatever its case, and with or without spaces and hyphens. */
static gboolean
same_name (const char *a, const char *b)
{
  for (;; a++, b++)
    {
      a += strspn (a, " -_");
      b += strspn (b, " -_");
      if (g_ascii_tolower (*a) != g_ascii_tolower (*b))
        return FALSE;
      if (*a == '\0')
        return TRUE;
    }
}

const FilePaper *
file_paper_find (const char *name)
{
  g_return_val_if_fail (name != NULL, NULL);
  for (const FilePaper *p = papers; p->name; p++)
    if (same_name (p->name, name))
      return p;
  /* A roll may be asked for without its unit. */
  g_autofree char *inches = g_strconcat (name, "in", NULL);
  for (const FilePaper *p = papers; p->name; p++)
    if (p->height == 0 && same_name (p->name, inches))
      return p;
  return NULL;
}
