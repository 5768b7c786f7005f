/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever is read as a pattern is sound, and once written reads back equal, in the same
 * bytes. */
#include "fuzz.h"

#include "file/document.h"

const char *const fuzz_folder = "fuzz-document";

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  Pattern *p = file_document_parse ((const char *)data, size, "f", &error);
  g_assert_true ((p == NULL) == (error != NULL));
  if (p == NULL)
    {
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      return 0;
    }
  char *unsound = pattern_unsound (p);
  g_assert_null (unsound);
  gsize length, again_length;
  char *text = file_document_write (p, &length);
  Pattern *back = file_document_parse (text, length, "f", &error);
  if (back == NULL)
    g_error ("%s\n%s", error->message, text);
  g_assert_true (pattern_equal (p, back));
  char *again = file_document_write (back, &again_length);
  g_assert_cmpstr (text, ==, again);
  g_free (text);
  g_free (again);
  pattern_unref (p);
  pattern_unref (back);
  return 0;
}
