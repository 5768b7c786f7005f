/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Paints the picture of card slopers that comes with the program: make-demo slopers.bodkin ferry-sloper.jpg */
#include "demo-slopers.h"

int
main (int argc, char **argv)
{
  DemoSlopers demo;
  GError *error = NULL;
  if (argc != 3)
    {
      g_printerr ("make-demo slopers.bodkin ferry-sloper.jpg\n");
      return 2;
    }
  demo_slopers_init (&demo, argv[1]);
  g_autoptr (TracingPicture) picture = demo_slopers_make (&demo, NULL);
  gboolean saved = maker_save (picture, argv[2], 85, &error);
  if (!saved)
    g_printerr ("%s\n", error->message);
  demo_slopers_clear (&demo);
  return !saved;
}
