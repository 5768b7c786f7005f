/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes by their words: buttons against published sizes, small parts, and what is refused,
 * with how much would do. */
#include <string.h>

#include "drafting/blocks.h"
#include "drafting/buttons.h"
#include "drafting/collar.h"
#include "drafting/small-parts.h"
#include "drafting/verb.h"
#include "sewing/checks.h"
#include "sloper.h"

/* --- buttons ----------------------------------------------------------------------------- */

/* Lignes to mm: exact products, beside the trade's rounded table (yourbuttonshop.blogspot.com 2012/09),
 * which is off by up to 0.5 mm. */
static void
test_lignes (void)
{
  static const double exact[][2]
      = { { 28, 17.78 }, { 40, 25.4 }, { 20, 12.7 }, { 24, 15.24 } };
  static const double trade[][2] = { { 14, 9.2 },  { 16, 10.5 }, { 18, 11.6 },
                                     { 20, 12.5 }, { 24, 15.0 }, { 28, 17.8 },
                                     { 30, 19.0 }, { 32, 20.5 }, { 36, 22.9 },
                                     { 40, 25.5 } };
  for (guint i = 0; i < G_N_ELEMENTS (exact); i++)
    g_assert_cmpfloat_with_epsilon (drafting_ligne (exact[i][0]), exact[i][1],
                                    1e-9);
  for (guint i = 0; i < G_N_ELEMENTS (trade); i++)
    g_assert_cmpfloat_with_epsilon (drafting_ligne (trade[i][0]), trade[i][1],
                                    0.5);
}

/* 28 lignes, 3 mm thick: a worked hole of 23.8 mm, a bound one of 20.8, an extension of 17.8 (emmakespatterns.com
 * "marking button position"; frkbustad.blogspot.com 2010/09; dresspatternmaking.com "button extension").
 * First 30, last 420, seven: 65 apart; the first and last of five 4 in apart: 1 in (sempstress.org). */
static void
test_sizes (void)
{
  double d = drafting_ligne (28);
  g_assert_cmpfloat_with_epsilon (drafting_buttonhole_length (d, 3, false),
                                  23.8, 0.03);
  g_assert_cmpfloat_with_epsilon (drafting_buttonhole_length (d, 3, true), 20.8,
                                  0.03);
  g_assert_cmpfloat_with_epsilon (drafting_button_extension (d), 17.8, 0.03);
  g_assert_cmpfloat_with_epsilon (drafting_button_extension (9), 13.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (drafting_button_step (30, 420, 7), 65, 1e-9);
  g_assert_cmpfloat_with_epsilon (drafting_button_step (0, 101.6, 5), 25.4,
                                  1e-9);
}

/* One length from edge to edge of a cloth 1000 wide, strip 30: sqrt 2 (1000 - 30 / sqrt 2) = 1384.2. */
static void
test_bias (void)
{
  g_assert_cmpint (drafting_bias_parts (1384, 30, 1000), ==, 1);
  g_assert_cmpint (drafting_bias_parts (1385, 30, 1000), ==, 2);
  g_assert_cmpint (drafting_bias_parts (2 * 1384.2 - 21, 30, 1000), ==, 2);
  g_assert_cmpint (drafting_bias_parts (2 * 1384.2 - 19, 30, 1000), ==, 3);
  g_assert_cmpint (drafting_bias_parts (5000, 30, 0), ==, 1);
}

/* --- by words ------------------------------------------------------------------------------ */

static Pattern *
draft (const Pattern *p, GError **error, const char *verb, ...)
{
  char *words[12] = { (char *)verb };
  int n = 1;
  va_list args;
  va_start (args, verb);
  while (n < 12 && (words[n] = va_arg (args, char *)) != NULL)
    n++;
  va_end (args);
  g_autoptr (PatternStep) step = drafting_step_parse (p, n, words, error);
  return step != NULL ? drafting_step_run (p, step, error) : NULL;
}

static const char *const neck = "neck=Back sloper/neck,Front sloper/neck";

static void
assert_sound (const Pattern *p, double off)
{
  g_autofree char *unsound = pattern_unsound (p);
  g_assert_cmpstr (unsound, ==, NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  for (guint i = 0; i < p->n_seams; i++)
    {
      const SewingSeam *seam = sewing_facts_seam (facts, p, p->seams[i]);
      g_assert_nonnull (seam);
      if (fabs (seam->out) > off)
        g_error ("%s is out by %f", p->seams[i]->name, seam->out);
    }
  for (guint i = 0; i < p->n_pieces; i++)
    {
      const SewingPiece *piece = sewing_facts_piece (facts, p->pieces[i]);
      g_assert_cmpfloat (piece->area, >, 0);
      g_assert_false (piece->crosses);
    }
}

static void
test_collars (void)
{
  Sloper s;
  sloper_init (&s);
  static const char *const verbs[]
      = { "flat-collar", "band-collar", "stand-and-fall-collar" };
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (Pattern) p
          = draft (s.pattern, &error, verbs[i], neck, "ease=3 mm", NULL);
      g_assert_no_error (error);
      g_assert_cmpuint (p->n_pieces, >, 2);
      assert_sound (p, 0.05);
      /* The neck seam has the ease that was asked for. */
      g_autoptr (SewingFacts) facts = sewing_facts_new ();
      for (guint k = 0; k < p->n_seams; k++)
        if (strcmp (p->seams[k]->name, "Neck seam") == 0)
          g_assert_cmpfloat_with_epsilon (
              sewing_facts_seam (facts, p, p->seams[k])->ease, 3, 0.01);
      g_autofree char *words = drafting_recipe_words (p, p->recipes[0]->id);
      g_assert_cmpstr (words, !=, "");
    }
  sloper_clear (&s);
}

/* Any amounts: drafted soundly, or refused in words. */
static void
test_any_collar (void)
{
  Sloper s;
  sloper_init (&s);
  int drawn = 0;
  for (int i = 0; i < 40; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *overlap
          = g_strdup_printf ("overlap=%d mm", g_test_rand_int_range (-30, 200));
      g_autofree char *depth
          = g_strdup_printf ("depth=%d mm", g_test_rand_int_range (20, 200));
      g_autofree char *corner
          = g_strdup_printf ("corner=%d mm", g_test_rand_int_range (0, 90));
      g_autofree char *point
          = g_strdup_printf ("point=%d mm", g_test_rand_int_range (-20, 60));
      g_autofree char *turn
          = g_strdup_printf ("turn=%d mm", g_test_rand_int_range (0, 8));
      g_autoptr (Pattern) p = draft (s.pattern, &error, "flat-collar", neck,
                                     overlap, depth, corner, point, turn, NULL);
      if (p != NULL)
        {
          drawn++;
          assert_sound (p, 0.05);
        }
      else
        g_assert_cmpuint (strlen (error->message), >, 20);
    }
  g_assert_cmpint (drawn, >, 5);
  sloper_clear (&s);
}

/* The shoulder is 125 mm: no overlap can be more, and the message's amount works. */
static void
test_overlap_refused (void)
{
  Sloper s;
  sloper_init (&s);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) none = draft (s.pattern, &error, "flat-collar", neck,
                                    "overlap=150 mm", "corner=0", NULL);
  g_assert_null (none);
  g_assert_error (error, DRAFTING_ERROR, DRAFTING_ERROR_AMOUNT);
  const char *most = strstr (error->message, "works is ");
  g_assert_nonnull (most);
  g_autofree char *amount
      = g_strdup_printf ("overlap=%s", most + strlen ("works is "));
  amount[strlen (amount) - 1] = '\0'; /* the full stop */
  g_clear_error (&error);
  g_autoptr (Pattern) some = draft (s.pattern, &error, "flat-collar", neck,
                                    amount, "corner=0", NULL);
  g_assert_no_error (error);
  assert_sound (some, 0.05);
  sloper_clear (&s);
}

static void
refused (const Pattern *p, const char *verb, const char *a, const char *b)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) none = draft (p, &error, verb, a, b, NULL);
  g_assert_null (none);
  g_assert_nonnull (error);
  g_assert_cmpuint (strlen (error->message), >, 20);
}

static void
test_refused (void)
{
  Sloper s;
  sloper_init (&s);
  refused (s.pattern, "facing", "edges=Back sloper/neck", "depth=160 mm");
  refused (s.pattern, "band-collar", neck, "corner=90 mm");
  refused (s.pattern, "stand-and-fall-collar", neck, "longer=290 mm");
  refused (s.pattern, "buttons", "edge=Front sloper/centre front",
           "diameter=60 mm");
  refused (s.pattern, "buttons", "edge=Front sloper/centre front", "count=12");
  refused (s.pattern, "buttons", "edge=Front sloper/centre front",
           "spacing=5 mm");
  refused (s.pattern, "welt", "edge=Front sloper/side", "length=500 mm");
  refused (s.pattern, "circular-cape", "share=50", "neck=1 mm");
  sloper_clear (&s);
}

/* The first 30 from the top, seven in all, the last at 330: 50 apart, on the centre line. */
static void
test_buttons (void)
{
  Sloper s;
  sloper_init (&s);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) p
      = draft (s.pattern, &error, "buttons", "edge=Front sloper/centre front",
               "first=30 mm", "last=330 mm", "count=7", "diameter=18 mm",
               "thickness=3 mm", "bound=yes", NULL);
  g_assert_no_error (error);
  const PatternPiece *front = pattern_get_piece (p, s.front->id);
  g_assert_cmpuint (front->n_buttonholes, ==, 7);
  g_assert_cmpuint (front->n_drills, ==, 7);
  g_assert_cmpuint (front->n_lines, ==, 7); /* the lips */
  double edge = 760, top = 280;             /* of the centre front */
  for (guint i = 0; i < 7; i++)
    {
      g_assert_cmpfloat_with_epsilon (front->drills[i].at.x, edge - 20, 1e-6);
      g_assert_cmpfloat_with_epsilon (front->drills[i].at.y, top + 30 + 50 * i,
                                      1e-6);
      g_assert_cmpfloat_with_epsilon (front->buttonholes[i].at.x, edge - 20 + 3,
                                      1e-6);
      g_assert_cmpfloat_with_epsilon (front->buttonholes[i].length, 21, 1e-9);
    }
  sloper_clear (&s);
}

/* Areas: a circle's ring, and a facing and lining out of one piece. */
static void
test_others (void)
{
  Sloper s;
  sloper_init (&s);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) circle
      = draft (s.pattern, &error, "circular-cape", "neck=400 mm", "share=75",
               "length=600 mm", NULL);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (
      2 * pattern_piece_area (circle->pieces[2]) / 100, 10882, 2);
  g_autoptr (Pattern) strip
      = draft (s.pattern, &error, "bias-strip",
               "edges=Back sloper/neck,Front sloper/neck", "more=0", NULL);
  g_assert_no_error (error);
  assert_sound (strip, 0.05);
  g_autoptr (Pattern) inter
      = draft (s.pattern, &error, "interfacing", "piece=Front sloper", NULL);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (pattern_piece_area (inter->pieces[2]),
                                  pattern_piece_area (s.front), 1e-6);
  sloper_clear (&s);
}

/* --- skirt and sleeve ---------------------------------------------------------------------- */

/* A skirt of a quarter of a circle: radius of the waist 2 W / pi; for 26 in 16.56 in (prettyquirkypants.com
 * 2014/03/07). Its whole turn of a quarter circle is an eighth of pi in each quarter of it. */
static void
test_skirt (void)
{
  double waist = 26 * 25.4, length = 600, flare = length * G_PI / 8;
  g_assert_cmpfloat_with_epsilon (
      drafting_skirt_radius (waist / 4, length, flare) / 25.4, 16.56, 0.015);
  g_auto (DraftingShape) shape = { 0 };
  g_assert_true (drafting_skirt_shape (waist / 4, length, flare, &shape));
  g_assert_cmpfloat_with_epsilon (drafting_shape_length (&shape, "hem"),
                                  waist / 4 + flare, 1e-4);
  g_assert_cmpfloat_with_epsilon (drafting_shape_length (&shape, "side"),
                                  length, 1e-9);
  g_assert_false (drafting_skirt_shape (waist / 4, 600, 4000, &shape));
}

/* Cap ease of 25.4 mm over an armhole of about 430 is 5.9 %; half of it in each half of the cap, exactly. */
static void
test_sleeve (void)
{
  g_auto (DraftingShape) shape = { 0 };
  double width;
  DraftingSleeveWish w = { .back = 215 + 12.7,
                           .front = 215 + 12.7,
                           .cap = 135,
                           .length = 580,
                           .hem = 240 };
  g_assert_true (drafting_sleeve_shape (&w, &shape, &width));
  double cap = drafting_shape_length (&shape, "back-cap")
               + drafting_shape_length (&shape, "front-cap");
  g_assert_cmpfloat_with_epsilon (cap, 430 + 25.4, 1e-6);
  g_assert_cmpfloat_with_epsilon ((cap - 430) / 430 * 100, 5.9, 0.05);
  g_assert_cmpfloat_with_epsilon (drafting_shape_length (&shape, "front-side"),
                                  drafting_shape_length (&shape, "back-side"),
                                  1e-9);
  w.cap = 240; /* higher than the cap is long */
  g_assert_false (drafting_sleeve_shape (&w, &shape, &width));
}

/* From words: seams walk, and nothing is wrong with what came out. */
static void
test_blocks (void)
{
  Sloper s;
  sloper_init (&s);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) skirt
      = draft (s.pattern, &error, "flared-skirt", "waist=70 cm", NULL);
  g_assert_no_error (error);
  assert_sound (skirt, 0.05);
  g_autoptr (Pattern) sleeve
      = draft (skirt, &error, "sleeve",
               "armhole=Back sloper/armhole,Front sloper/armhole", NULL);
  g_assert_no_error (error);
  assert_sound (sleeve, 0.05);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, sleeve);
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = g_ptr_array_index (findings, i);
      if (!f->set_aside && f->weight == SEWING_MEND)
        g_error ("%s", f->text);
    }
  sloper_clear (&s);
}

/* The shoulder taken up by a seam down to the hem: four panels, all of them sewn, nothing
 * wrong with any. */
static void
test_side_seam (void)
{
  Sloper s;
  sloper_init (&s);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) p = draft (
      s.pattern, &error, "cape", "back-neck=Back sloper/neck",
      "back-shoulder=Back sloper/shoulder", "front-neck=Front sloper/neck",
      "front-shoulder=Front sloper/shoulder", "shoulder=seam", NULL);
  g_assert_no_error (error);
  g_assert_cmpuint (p->n_pieces, ==, 6);
  assert_sound (p, 0.05);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = g_ptr_array_index (findings, i);
      if (!f->set_aside)
        g_error ("%s", f->text);
    }
  sloper_clear (&s);
}

static guint
hole_findings (const Pattern *p)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  guint n = 0;
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = g_ptr_array_index (findings, i);
      n += f->check == SEWING_CHECK_BUTTONHOLE;
    }
  return n;
}

/* Holes 26 mm long are for buttons of 20: their middles 12 mm from the edge are clear of it, 9 mm are not. They
 * reach 35 mm from the edge, and 5 more are asked of the facing. */
static void
test_room (void)
{
  Sloper s;
  sloper_init (&s);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) p
      = draft (s.pattern, &error, "buttons", "edge=Front sloper/centre front",
               "centre=12 mm", "count=2", "last=230 mm", NULL);
  g_assert_no_error (error);
  g_assert_cmpuint (hole_findings (p), ==, 0);
  const PatternPiece *front = pattern_get_piece (p, s.front->id);
  const PatternButtonhole *hole = &front->buttonholes[0];
  g_autoptr (Pattern) near = drafting_set_buttonhole (
      p, front->id, hole->id, geo_point (hole->at.x + 3, hole->at.y),
      hole->angle, hole->length, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (hole_findings (near), ==, 1);
  const char *depths[] = { "depth=41 mm", "depth=39 mm" };
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (Pattern) faced
          = draft (p, &error, "facing", "edges=Front sloper/centre front",
                   depths[i], NULL);
      g_assert_no_error (error);
      g_assert_cmpuint (hole_findings (faced), ==, 2 * i);
    }
  sloper_clear (&s);
}

/* --- anything at all ------------------------------------------------------------------------ */

static char *
any_thing (const Pattern *p, DraftingParameterKind kind)
{
  GString *text = g_string_new (NULL);
  guint n = kind == DRAFTING_EDGES || kind == DRAFTING_PIECES
                ? (guint)g_test_rand_int_range (1, 5)
                : 1;
  gboolean edges = kind == DRAFTING_EDGES || kind == DRAFTING_EDGE;
  for (guint i = 0; i < n; i++)
    {
      const PatternPiece *piece
          = p->pieces[g_test_rand_int_range (0, (int)p->n_pieces)];
      guint edge = (guint)g_test_rand_int_range (0, (int)piece->n_edges);
      if (i > 0)
        g_string_append_c (text, ' ');
      if (edges && g_test_rand_int_range (0, 4) == 0)
        g_string_append_c (text, '-');
      g_string_append_printf (text, "%u", piece->id);
      if (edges)
        g_string_append_printf (text, "/%u", piece->edges[edge].id);
    }
  return g_string_free (text, FALSE);
}

static char *
any_amount (const DraftingParameter *one)
{
  double least = fmax (one->least, -50);
  double most = fmin (one->most, fmax (400, 2 * least));
  return g_strdup_printf ("%d%s",
                          g_test_rand_int_range ((int)least, (int)most + 1),
                          one->kind == DRAFTING_LENGTH ? " mm" : "");
}

static void
fill (const Pattern *p, const DraftingVerb *verb, PatternStep *step)
{
  for (guint i = 0; i < verb->n_parameters; i++)
    {
      const DraftingParameter *one = &verb->parameters[i];
      g_autofree char *text = NULL;
      if (one->kind >= DRAFTING_PIECE && one->kind <= DRAFTING_EDGES)
        text = one->start != NULL && g_test_rand_bit ()
                   ? NULL
                   : any_thing (p, one->kind);
      else if (g_test_rand_int_range (0, 5) > 0 || one->kind > DRAFTING_COUNT)
        continue;
      else
        text = any_amount (one);
      pattern_step_set (step, one->key, text);
    }
  /* A cape of any four edges is hardly ever one. */
  const char *own[]
      = { "back-neck", "back-shoulder", "front-neck", "front-shoulder" };
  const char *edges[] = { "neck", "shoulder", "neck", "shoulder" };
  for (guint i = 0; strcmp (verb->name, "cape") == 0 && i < 4; i++)
    for (guint k = 0; k < p->n_pieces; k++)
      if (strcmp (p->pieces[k]->name, i < 2 ? "Back sloper" : "Front sloper")
              == 0
          && g_test_rand_int_range (0, 20) > 0)
        {
          g_autofree char *text
              = g_strdup_printf ("%u/%u", p->pieces[k]->id,
                                 sloper_run (p->pieces[k], edges[i]).edge);
          pattern_step_set (step, own[i], text);
        }
}

/* Whatever is picked and typed: a sound pattern, or a reason; never a number that is none. */
static void
test_anything (void)
{
  Sloper s;
  sloper_init (&s);
  g_autofree char *path
      = g_build_filename (g_getenv ("BODKIN_DATA"), "ferry-cape.bodkin", NULL);
  g_autoptr (Pattern) demo = file_document_load (path, NULL);
  const Pattern *patterns[] = { s.pattern, demo };
  guint drafted = 0;
  for (guint i = 0; i < drafting_verb_count (); i++)
    for (int k = 0; k < 60; k++)
      {
        const DraftingVerb *verb = drafting_verb_nth (i);
        const Pattern *p = patterns[k % 2];
        if (verb->draft == NULL)
          break;
        g_autoptr (PatternStep) step = pattern_step_new (verb->name);
        fill (p, verb, step);
        g_autoptr (GError) error = NULL;
        g_autoptr (Pattern) now = drafting_step_run (p, step, &error);
        g_assert_true ((now == NULL) == (error != NULL));
        if (now == NULL)
          continue;
        drafted++;
        g_autofree char *unsound = pattern_unsound (now);
        if (unsound != NULL)
          g_error ("%s: %s", verb->name, unsound);
        g_autoptr (SewingFacts) facts = sewing_facts_new ();
        g_autoptr (GPtrArray) findings = sewing_checks_run (facts, now);
        g_assert_nonnull (findings);
      }
  g_assert_cmpuint (drafted, >, 20);
  sloper_clear (&s);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/recipes/lignes", test_lignes);
  g_test_add_func ("/recipes/button-sizes", test_sizes);
  g_test_add_func ("/recipes/bias", test_bias);
  g_test_add_func ("/recipes/collars", test_collars);
  g_test_add_func ("/recipes/any-collar", test_any_collar);
  g_test_add_func ("/recipes/overlap-refused", test_overlap_refused);
  g_test_add_func ("/recipes/refused", test_refused);
  g_test_add_func ("/recipes/buttons", test_buttons);
  g_test_add_func ("/recipes/others", test_others);
  g_test_add_func ("/recipes/skirt", test_skirt);
  g_test_add_func ("/recipes/sleeve", test_sleeve);
  g_test_add_func ("/recipes/blocks", test_blocks);
  g_test_add_func ("/recipes/side-seam", test_side_seam);
  g_test_add_func ("/recipes/room-for-buttons", test_room);
  g_test_add_func ("/recipes/anything", test_anything);
  return g_test_run ();
}
