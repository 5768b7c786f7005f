/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Replays the inputs of a fuzz target's folder as an ordinary test. To look for new ones, build the
 * target with libFuzzer in place of this file, from the top of the tree:
 *
 *   clang -g -O1 -fsanitize=fuzzer,address,undefined -D_GNU_SOURCE -DGETTEXT_PACKAGE='"bodkin"'
 *     -std=gnu17 -Isrc tests/file/fuzz-svg.c src/geometry/[a-z]*.c src/pattern/[a-z]*.c
 *     src/file/document*.c src/file/safe-save.c src/file/svg-[!o]*.c src/file/xml-*.c
 *     $(pkg-config --cflags --libs glib-2.0 gio-2.0 libxml-2.0) -lm -o fuzz-svg
 *   ./fuzz-svg -max_len=6000 -timeout=10 found tests/data/fuzz-svg
 *
 * pictures' headers by
 *
 *   clang -g -O1 -fsanitize=fuzzer,address,undefined -D_GNU_SOURCE -DGETTEXT_PACKAGE='"bodkin"'
 *     -std=gnu17 -Isrc tests/file/fuzz-picture.c src/file/picture.c src/file/picture-header.c
 *     src/tracing/picture.c $(pkg-config --cflags --libs glib-2.0 gio-2.0) -lm -o fuzz-picture
 *   ./fuzz-picture -max_len=4096 -timeout=10 found tests/data/fuzz-picture
 *
 * those of tests/geometry by
 *
 *   clang -g -O1 -fsanitize=fuzzer,address,undefined -D_GNU_SOURCE -std=gnu17 -Isrc
 *     tests/geometry/fuzz-ring.c src/geometry/[a-z]*.c -lm -o fuzz-ring
 *   ./fuzz-ring -max_len=160 -timeout=20 found tests/data/fuzz-ring
 *
 * and tracing by
 *
 *   clang -g -O1 -fsanitize=fuzzer,address,undefined -D_GNU_SOURCE -DGETTEXT_PACKAGE='"bodkin"'
 *     -std=gnu17 -Isrc tests/tracing/fuzz-shape.c src/tracing/shape*.c src/tracing/picture.c
 *     src/tracing/plane*.c src/geometry/[a-z]*.c $(pkg-config --cflags --libs glib-2.0) -lm -o fuzz-shape
 *   ./fuzz-shape -max_len=1500 -timeout=90 found tests/data/fuzz-shape
 *
 * (fuzz-stroke.c the same way, with src/tracing/stroke-[cfjmt]*.c and profile.c added)
 */
#include "fuzz.h"

#include <gio/gio.h>

static void
replay (gconstpointer folder)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_TEST_DATA"), folder, NULL);
  g_autoptr (GError) error = NULL;
  GDir *dir = g_dir_open (path, 0, &error);
  g_assert_no_error (error);
  guint n = 0;
  for (const char *name; (name = g_dir_read_name (dir)) != NULL; n++)
    {
      g_autofree char *file = g_build_filename (path, name, NULL);
      g_autofree char *text = NULL;
      gsize length;
      g_file_get_contents (file, &text, &length, &error);
      g_assert_no_error (error);
      /* a copy of just that size, so that reading past it is seen */
      g_autofree guint8 *copy = g_memdup2 (text, length);
      LLVMFuzzerTestOneInput (copy, length);
    }
  g_dir_close (dir);
  g_test_message ("%u inputs", n);
  g_assert_cmpuint (n, >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_autofree char *path = g_strconcat ("/fuzz/", fuzz_folder, NULL);
  g_test_add_data_func (path, fuzz_folder, replay);
  return g_test_run ();
}
