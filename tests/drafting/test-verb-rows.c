/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every row of the tables of verbs on pieces: told soundly, done from words, and the same done again from
 * the step that was kept. */
#include <string.h>

#include "dart-sample.h"
#include "drafting/verb.h"

static void
assert_row (const DraftingVerb *verb)
{
  g_assert_true ((verb->run != NULL) != (verb->draft != NULL));
  g_assert_nonnull (verb->title);
  g_assert_nonnull (verb->hint);
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      const DraftingParameter *one = &verb->parameters[i];
      g_assert_nonnull (one->label);
      for (guint k = 0; k < i; k++)
        g_assert_cmpstr (one->key, !=, verb->parameters[k].key);
      g_assert_true ((one->kind == DRAFTING_CHOICE) == (one->choices != NULL));
    }
}

static void
test_rows (void)
{
  for (guint i = 0; i < drafting_verb_count (); i++)
    {
      const DraftingVerb *verb = drafting_verb_nth (i);
      assert_row (verb);
      g_assert_true (drafting_verb_find (verb->name) == verb);
    }
}

/* Words, and the change of area they make; NAN: any. */
static const struct
{
  const char *words[8];
  double area;
} done[] = {
  { { "turn-dart", "dart=bust dart", "to=front/right", "at=170 mm" }, 0 },
  { { "turn-dart", "dart=bust dart", "to=front/hem", "share=40" }, NAN },
  { { "split-dart", "dart=bust dart", "places=0,180 410,180" }, NAN },
  { { "flare-dart", "dart=bust dart", "to=front/hem", "at=26 cm" }, NAN },
  { { "ease-dart", "dart=bust dart" }, NAN },
  { { "make-dart", "edge=front/hem", "at=150 mm", "intake=30 mm",
      "length=120 mm" },
    -1800 },
  { { "dart-point", "dart=bust dart", "back=30 mm" }, 600 },
  { { "curve-dart", "dart=bust dart", "by=3 mm" }, -720 },
  { { "dart-intake", "dart=bust dart", "intake=50 mm" }, NAN },
  { { "slash", "from=front/hem", "from-at=100 mm", "to=front/right",
      "open=20 mm", "other=20 mm" },
    NAN },
  { { "slash-line", "piece=front", "line=-20,400 430,400", "open=20 mm",
      "other=20 mm" },
    8200 },
  { { "sweep", "edges=front/hem", "hinge=front/left", "count=3",
      "total=60 mm" },
    NAN },
  { { "lengthen-at", "pieces=front", "at=0,400", "by=35 mm" }, 410 * 35 },
  { { "shift-edges", "edges=front/right", "by=7 mm", "where=end",
      "reach=150 mm" },
    NAN },
  { { "lengthen-hem", "edge=front/hem", "by=35 mm" }, 410 * 35 },
  { { "split-piece", "piece=front", "line=-20,300 430,330", "name=top" }, NAN },
  { { "dart-to-seam", "dart=bust dart", "to=front/hem" }, NAN },
  { { "mirror-piece", "piece=front" }, 0 },
  { { "extend-edge", "edge=front/left", "width=20 mm" }, NAN },
  { { "guide-point", "from=0,0", "distance=10 cm", "angle=30", "name=apex" },
    0 },
  { { "guide-line", "from=0,0", "distance=10 cm", "angle=30" }, 0 },
  { { "guide-on-edge", "edge=front/hem", "at=5 cm" }, 0 },
  { { "guide-square", "edge=front/hem", "at=5 cm", "length=10 cm" }, 0 },
  { { "guide-arc", "centre=0,0", "from=100,0", "length=10 cm" }, 0 },
  { { "guide-curve", "points=0,0 50,20 100,0" }, 0 },
  { { "lower-end", "edge=front/right", "end=start", "by=9 mm" }, NAN },
};

static void
test_done (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (done); i++)
    {
      DartSample s = dart_sample ();
      g_autoptr (Pattern) p = s.p;
      g_autoptr (GError) error = NULL;
      int n = 0;
      while (n < 8 && done[i].words[n])
        n++;
      g_autoptr (PatternStep) step = drafting_step_parse (
          p, n, (char *const *)(gpointer)done[i].words, &error);
      g_assert_no_error (error);
      g_autoptr (Pattern) now = drafting_step_run (p, step, &error);
      if (error)
        g_error ("%s: %s", done[i].words[0], error->message);
      assert_good (now, s.piece, error);
      g_assert_false (pattern_equal (now, p));
      if (!isnan (done[i].area))
        assert_near (area_of (now, s.piece) - area_of (p, s.piece),
                     done[i].area, 1e-6);
      g_autofree char *words = drafting_step_describe (p, step);
      g_assert_nonnull (words);
      g_autoptr (Pattern) again = drafting_step_run (p, step, &error);
      g_assert_true (pattern_equal (now, again));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/verb-rows/rows", test_rows);
  g_test_add_func ("/verb-rows/done", test_done);
  return g_test_run ();
}
