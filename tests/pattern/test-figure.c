/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps, recipes and body figures as values, and the arithmetic of amounts. */
#include <string.h>

#include "pattern/figure.h"
#include "sample.h"

static Pattern *
with_figures (void)
{
  Pattern *p = pattern_new ("figures");
  static const struct
  {
    const char *name;
    double mm;
  } rows[] = { { "bust girth", 880 },
               { "bust", 500 },
               { "neck base girth", 370 },
               { "Größe 2", 100 },
               { "back-waist", 400 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PatternFigure figure = { pattern_take_id (p), (char *)rows[i].name,
                               rows[i].mm, (char *)"" };
      pattern_put_figure (p, &figure);
    }
  return p;
}

static void
test_amounts (void)
{
  g_autoptr (Pattern) p = with_figures ();
  static const struct
  {
    const char *text;
    PatternUnit unit;
    double mm;
  } rows[] = {
    { "bust girth / 4 + 1 cm", PATTERN_CM, 230 },
    { "bust girth/4+1", PATTERN_CM, 230 },
    { "Bust  Girth / 4 + 1", PATTERN_INCH, 245.4 },
    { "bust / 2", PATTERN_MM, 250 },
    { "2 * (bust girth - bust)", PATTERN_MM, 760 },
    { "neck base girth / 5 - 0.2", PATTERN_CM, 72 },
    { "-bust", PATTERN_MM, -500 },
    { "größe 2 + 1", PATTERN_MM, 101 },
    { "back-waist - 5", PATTERN_MM, 395 },
    { "15 mm", PATTERN_CM, 15 },
    { "1 1/2", PATTERN_INCH, 38.1 },
    { "bust girth / bust * 10 mm", PATTERN_CM, 17.6 },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double mm = 0;
      g_autoptr (GError) error = NULL;
      pattern_amount_evaluate (p, rows[i].text, rows[i].unit, &mm, &error);
      g_assert_no_error (error);
      g_assert_cmpfloat_with_epsilon (mm, rows[i].mm, 1e-9);
    }
}

static void
test_refused (void)
{
  g_autoptr (Pattern) p = with_figures ();
  static const struct
  {
    const char *text;
    int code;
    const char *says;
  } rows[] = {
    { "bust girht / 4", PATTERN_AMOUNT_ERROR_FIGURE, "girht" },
    { "hip girth + 1", PATTERN_AMOUNT_ERROR_FIGURE, "hip girth" },
    { "buster", PATTERN_AMOUNT_ERROR_FIGURE, "buster" },
    { "", PATTERN_AMOUNT_ERROR_UNREADABLE, "missing" },
    { "bust girth bust", PATTERN_AMOUNT_ERROR_FIGURE, "girth bust" },
    { "bust * bust", PATTERN_AMOUNT_ERROR_UNREADABLE, "area" },
    { "bust girth / bust", PATTERN_AMOUNT_ERROR_UNREADABLE, "plain number" },
    { "bust / 0", PATTERN_AMOUNT_ERROR_UNREADABLE, "divided" },
    { "bust * 1000", PATTERN_AMOUNT_ERROR_RANGE, "100 m" },
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double mm = 7;
      g_autoptr (GError) error = NULL;
      g_assert_false (
          pattern_amount_evaluate (p, rows[i].text, PATTERN_CM, &mm, &error));
      g_assert_error (error, PATTERN_AMOUNT_ERROR, rows[i].code);
      g_assert_nonnull (strstr (error->message, rows[i].says));
      g_assert_cmpfloat (mm, ==, 7);
    }
}

static void
test_numbers (void)
{
  g_autoptr (Pattern) p = with_figures ();
  double n = 0;
  g_assert_true (pattern_amount_evaluate_number (p, "3 * 4.5", &n, NULL));
  g_assert_cmpfloat (n, ==, 13.5);
  g_assert_true (
      pattern_amount_evaluate_number (p, "bust girth / bust * 10", &n, NULL));
  g_assert_cmpfloat_with_epsilon (n, 17.6, 1e-12);
  g_assert_false (pattern_amount_evaluate_number (p, "5 mm", &n, NULL));
  g_assert_false (pattern_amount_evaluate_number (p, "bust", &n, NULL));
  g_assert_true (pattern_amount_needs_unit (p, "bust / 4 + 1"));
  g_assert_true (pattern_amount_needs_unit (p, "5"));
  g_assert_false (pattern_amount_needs_unit (p, "bust / 4 + 1 cm"));
  g_assert_false (pattern_amount_needs_unit (p, "nothing"));
  g_auto (GStrv) used
      = pattern_amount_figures (p, "bust girth / 4 + BUST + bust girth");
  g_assert_cmpuint (g_strv_length (used), ==, 2);
  g_assert_cmpstr (used[0], ==, "bust girth");
  g_assert_cmpstr (used[1], ==, "bust");
}

static void
test_names (void)
{
  static const char *const bad[]
      = { "", "2 bust", "bust/2", "mm", "Inch", "bust ", "bust-", "a+b" };
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autofree char *why = pattern_figure_name_unfit (bad[i]);
      g_assert_nonnull (why);
    }
  guint n;
  const PatternKnownFigure *known = pattern_known_figures (&n);
  g_assert_cmpuint (n, >, 20);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < n; i++)
    {
      g_assert_null (pattern_figure_name_unfit (known[i].name));
      g_assert_true (g_hash_table_add (seen, (gpointer)known[i].name));
      g_assert_cmpfloat (known[i].least, <, known[i].most);
    }
}

static PatternRecipe *
sample_recipe (Pattern *p)
{
  PatternStep *step = pattern_step_new ("flat-collar");
  pattern_step_set (step, "neck", "1/2 -3/4");
  pattern_step_set (step, "depth", "90 mm");
  PatternRecipe *r = pattern_recipe_new (pattern_take_id (p), "collar", step);
  pattern_step_free (step);
  pattern_recipe_put_made (r, "collar", pattern_take_id (p))->frame
      = geo_motion_about (geo_point (3, 4), 0.3);
  pattern_recipe_put_made (r, "collar/n:tip", pattern_take_id (p));
  pattern_recipe_change (r, "collar/n:tip")->at = geo_point (1, -2);
  return r;
}

static void
test_values (void)
{
  g_autoptr (Pattern) a = with_figures ();
  pattern_put_recipe (a, sample_recipe (a));
  g_assert_null (pattern_unsound (a));
  g_autoptr (Pattern) b = pattern_dup (a);
  g_assert_true (pattern_equal (a, b));
  g_assert_true (a->recipes[0] == b->recipes[0]);
  g_autoptr (PatternRecipe) changed = pattern_recipe_dup (b->recipes[0]);
  g_assert_true (pattern_recipe_equal (changed, b->recipes[0]));
  pattern_step_set (changed->step, "depth", "95 mm");
  g_assert_false (pattern_recipe_equal (changed, b->recipes[0]));
  pattern_step_set (changed->step, "depth", NULL);
  g_assert_null (pattern_step_get (changed->step, "depth"));
  g_assert_cmpstr (pattern_step_get (changed->step, "neck"), ==, "1/2 -3/4");
  pattern_recipe_remove_change (changed, "collar/n:tip");
  g_assert_cmpuint (changed->n_changes, ==, 0);
  pattern_put_recipe (b, g_steal_pointer (&changed));
  g_assert_false (pattern_equal (a, b));
  g_assert_cmpuint (b->n_recipes, ==, 1);
  const PatternFigure *bust = pattern_find_figure (b, "BUST girth");
  g_assert_nonnull (bust);
  PatternFigure other = *bust;
  other.mm = 900;
  pattern_put_figure (b, &other);
  g_assert_cmpfloat (pattern_find_figure (b, "bust girth")->mm, ==, 900);
  g_assert_cmpfloat (pattern_find_figure (a, "bust girth")->mm, ==, 880);
  g_assert_true (pattern_remove_figure (b, other.id));
  g_assert_null (pattern_find_figure (b, "bust girth"));
}

static void
test_unsound (void)
{
  static const struct
  {
    const char *name;
    double mm;
    const char *says;
  } rows[] = { { "mm", 3, "unit" },
               { "bust girth", 3, "Two figures" },
               { "far", 1e9, "100 m" } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Pattern) p = with_figures ();
      PatternFigure figure = { pattern_take_id (p), (char *)rows[i].name,
                               rows[i].mm, (char *)"" };
      pattern_put_figure (p, &figure);
      g_autofree char *words = pattern_unsound (p);
      g_assert_nonnull (words);
      g_assert_nonnull (strstr (words, rows[i].says));
    }
  g_autoptr (Pattern) p = with_figures ();
  PatternRecipe *r = sample_recipe (p);
  r->changes[0].kind = 9;
  pattern_put_recipe (p, r);
  g_autofree char *words = pattern_unsound (p);
  g_assert_nonnull (words);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/figure/amounts", test_amounts);
  g_test_add_func ("/figure/refused", test_refused);
  g_test_add_func ("/figure/numbers", test_numbers);
  g_test_add_func ("/figure/names", test_names);
  g_test_add_func ("/figure/values", test_values);
  g_test_add_func ("/figure/unsound", test_unsound);
  return g_test_run ();
}
