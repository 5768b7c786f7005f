/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever is read as a drawing gives chains that hang together, of finite points within
 * 100 m, and the closed ones are closed; and the pattern made of it is sound. */
#include "fuzz.h"

#include <math.h>

#include "file/svg-in.h"

const char *const fuzz_folder = "fuzz-svg";

static void
look_at (const FileSvgShape *shape)
{
  const GeoChain *chain = &shape->chain;
  g_assert_true (g_utf8_validate (shape->name, -1, NULL));
  g_assert_cmpuint (chain->count, >, 0);
  g_assert_true (!shape->closed || geo_chain_is_closed (chain));
  for (size_t i = 0; i < chain->count; i++)
    {
      for (guint k = 0; k < 4; k++)
        {
          GeoPoint p = chain->cubics[i].p[k];
          g_assert_true (fabs (p.x) <= 1e5 && fabs (p.y) <= 1e5);
        }
      if (i > 0)
        g_assert_true (
            geo_same (chain->cubics[i - 1].p[3], chain->cubics[i].p[0]));
    }
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  double width = 0, height = 0;
  GPtrArray *shapes
      = file_svg_parse ((const char *)data, size, "f", &width, &height, &error);
  g_assert_true ((shapes == NULL) == (error != NULL));
  if (shapes == NULL)
    {
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      return 0;
    }
  for (guint i = 0; i < shapes->len; i++)
    look_at (g_ptr_array_index (shapes, i));
  gboolean few = shapes->len <= 100;
  g_ptr_array_unref (shapes);
  if (!few)
    return 0;
  Pattern *p
      = file_svg_to_pattern ((const char *)data, size, "f", NULL, &error);
  g_assert_true ((p == NULL) == (error != NULL));
  if (p == NULL)
    return 0;
  char *unsound = pattern_unsound (p);
  if (unsound != NULL)
    g_error ("%s", unsound);
  pattern_unref (p);
  return 0;
}
