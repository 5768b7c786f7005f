/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text and numbers as they stand in files. */
#include <math.h>
#include <string.h>

#include "file/xml-guard.h"

/* XML 1.0, production 2. */
static gboolean
is_xml_char (gunichar c)
{
  return c == '\t' || c == '\n' || c == '\r' || (c >= 0x20 && c <= 0xD7FF)
         || (c >= 0xE000 && c <= 0xFFFD) || (c >= 0x10000 && c <= 0x10FFFF);
}

void
file_xml_append (GString *out, const char *text, gboolean in_attribute)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  for (const char *at = valid; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);
      if (c == '&')
        g_string_append (out, "&amp;");
      else if (c == '<')
        g_string_append (out, "&lt;");
      else if (c == '>')
        g_string_append (out, "&gt;");
      else if (c == '\r' || (in_attribute && (c == '\t' || c == '\n')))
        g_string_append_printf (out, "&#%u;", c);
      else if (in_attribute && c == '"')
        g_string_append (out, "&quot;");
      else
        g_string_append_unichar (out, is_xml_char (c) ? c : 0xFFFD);
    }
}

void
file_xml_append_number (GString *out, double number)
{
  static const char *const formats[] = { "%.15g", "%.16g", "%.17g" };
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  number = number == 0 ? 0 : number; /* no -0 */
  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_ascii_formatd (text, sizeof text, formats[i], number);
      if (g_ascii_strtod (text, NULL) == number)
        break;
    }
  g_string_append (out, text);
}

gboolean
file_xml_parse_number (const char *text, double *number)
{
  static const char *const blanks = " \t\r\n";
  text += strspn (text, blanks);
  /* neither words (inf, nan) nor hexadecimal */
  gsize n = strspn (text, "+-.0123456789eE");
  if (n == 0 || text[n + strspn (text + n, blanks)] != '\0')
    return FALSE;
  char *end;
  double value = g_ascii_strtod (text, &end);
  if (end != text + n || !isfinite (value) || fabs (value) > 1e8)
    return FALSE;
  *number = value;
  return TRUE;
}
