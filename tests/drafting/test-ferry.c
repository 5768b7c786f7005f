/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From two slopers to the ferry cape, in steps as they are typed; then changed, and all that
 * was drafted on it follows. The help page "From slopers to a cape" tells the same steps. */
#include <string.h>

#include "drafting/verb.h"
#include "sewing/checks.h"
#include "sloper.h"

#define MOST_WORDS 10
#define EXACT 0.05 /* mm seams may be off their meant ease */
/* But a lining has the flare of the panels, which at the facing's depth has begun, and the
 * facing none. */
#define FLARED 0.3

static const char *const steps[][MOST_WORDS] = {
  { "cape", "back-neck=Back sloper/neck", "back-shoulder=Back sloper/shoulder",
    "front-neck=Front sloper/neck", "front-shoulder=Front sloper/shoulder" },
  { "flat-collar",
    "neck=Back/neck,Side panel/back neck,Side panel/front neck,Front/neck" },
  { "facing", "edges=Back/neck,Side panel/back neck" },
  { "facing",
    "edges=Side panel/front neck,Front/neck,Front/neck of the button "
    "stand,Front/front edge",
    "front-depth=80 mm", "join=Back facing/back dart leg" },
  { "lining", "pieces=Back,Side panel,Front",
    "facings=Back facing,Front facing" },
  { "welt", "edge=Front/arm opening", "other=Side panel/opening edge" },
  { "buttons", "edge=Front/front edge", "facing=80 mm" },
};

static Pattern *
take_step (const Pattern *p, char *const *words, int n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PatternStep) step = drafting_step_parse (p, n, words, &error);
  if (step == NULL)
    g_error ("%s: %s", words[0], error->message);
  Pattern *now = drafting_step_run (p, step, &error);
  if (now == NULL)
    g_error ("%s: %s", words[0], error->message);
  return now;
}

static Pattern *
make_cape (guint *actions)
{
  Sloper s;
  sloper_init (&s);
  g_autoptr (Pattern) p = s.pattern;
  *actions = 0;
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      char *words[MOST_WORDS + 1];
      int n = 0;
      while (n < MOST_WORDS && steps[i][n] != NULL)
        {
          words[n] = (char *)steps[i][n];
          n++;
        }
      Pattern *now = take_step (p, words, n);
      pattern_unref (p);
      p = now;
      *actions += 1;
    }
  return g_steal_pointer (&p);
}

static void
assert_clear (const Pattern *p)
{
  g_autofree char *unsound = pattern_unsound (p);
  g_assert_cmpstr (unsound, ==, NULL);
  for (guint i = 0; i < p->n_recipes; i++)
    g_assert_cmpstr (p->recipes[i]->trouble, ==, NULL);
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  g_autoptr (GPtrArray) findings = sewing_checks_run (facts, p);
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *f = g_ptr_array_index (findings, i);
      if (!f->set_aside)
        g_error ("%s", f->text);
    }
}

/* off: how far a seam may be from its meant ease. */
static void
assert_walks (const Pattern *p, double off)
{
  g_autoptr (SewingFacts) facts = sewing_facts_new ();
  for (guint i = 0; i < p->n_seams; i++)
    {
      const SewingSeam *seam = sewing_facts_seam (facts, p, p->seams[i]);
      g_assert_nonnull (seam);
      gboolean flared = strcmp (p->seams[i]->name, "Lining to facing") == 0;
      if (fabs (seam->out) > (flared ? FLARED : off))
        g_error ("%s is out by %.4f mm", p->seams[i]->name, seam->out);
    }
}

static void
test_made (void)
{
  guint actions;
  g_autoptr (Pattern) p = make_cape (&actions);
  g_assert_cmpuint (actions, <, 40);
  /* Two slopers; three panels, two collars, two facings, three linings, a
     welt. */
  g_assert_cmpuint (p->n_pieces, ==, 2 + 3 + 2 + 2 + 3 + 1);
  assert_clear (p);
  assert_walks (p, EXACT);
  /* The lining is sewn to both facings. */
  guint to_facing = 0;
  for (guint i = 0; i < p->n_seams; i++)
    to_facing += strcmp (p->seams[i]->name, "Lining to facing") == 0;
  g_assert_cmpuint (to_facing, ==, 2);
}

/* --- changed ---------------------------------------------------------------------------- */

static double
length_named (const Pattern *p, const char *piece, const char *edge)
{
  for (guint i = 0; i < p->n_pieces; i++)
    if (strcmp (p->pieces[i]->name, piece) == 0)
      for (guint k = 0; k < p->pieces[i]->n_edges; k++)
        if (strcmp (p->pieces[i]->edges[k].name, edge) == 0)
          {
            GeoChain chain = GEO_CHAIN_EMPTY;
            pattern_piece_edge_chain (p->pieces[i], k, &chain);
            double length = geo_chain_length (&chain, 1e-9);
            geo_chain_clear (&chain);
            return length;
          }
  g_assert_not_reached ();
}

/* Other amounts for the first recipe, the cape. */
static Pattern *
cape_with (const Pattern *p, const char *key, const char *amount)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PatternStep) step = pattern_step_dup (p->recipes[0]->step);
  pattern_step_set (step, key, amount);
  Pattern *now = drafting_set_recipe (p, p->recipes[0]->id, step, &error);
  g_assert_no_error (error);
  return now;
}

static void
test_changed (void)
{
  guint actions;
  g_autoptr (Pattern) made = make_cape (&actions);
  /* The front neck 9 mm lower, the hem 35 mm longer, the dart's point 12 mm
     nearer the neck. */
  g_autoptr (Pattern) lower = cape_with (made, "lower-front", "19 mm");
  g_assert_cmpfloat (length_named (lower, "Front", "neck"), >,
                     length_named (made, "Front", "neck") + 3);
  g_assert_cmpfloat (length_named (lower, "Under collar", "neck edge"), >,
                     length_named (made, "Under collar", "neck edge") + 3);
  assert_clear (lower);
  g_autoptr (Pattern) longer = cape_with (lower, "length", "795 mm");
  g_assert_cmpfloat_with_epsilon (
      length_named (longer, "Back", "centre back"),
      length_named (lower, "Back", "centre back") + 35, 1e-6);
  g_assert_cmpfloat_with_epsilon (
      length_named (longer, "Back lining", "centre back"),
      length_named (lower, "Back lining", "centre back") + 35, 1e-3);
  assert_clear (longer);
  g_autoptr (Pattern) darted = cape_with (longer, "round", "73 mm");
  double was = length_named (longer, "Side panel", "back dart leg");
  g_assert_cmpfloat (length_named (darted, "Side panel", "back dart leg"), <,
                     was - 5);
  assert_clear (darted);
  assert_walks (darted, EXACT);
}

/* The cape let go, its pieces take any change; what is drafted on them still follows. */
static void
test_let_out (void)
{
  guint actions;
  g_autoptr (Pattern) made = make_cape (&actions);
  g_autoptr (GError) error = NULL;
  g_autoptr (Pattern) free
      = drafting_let_go (made, made->recipes[0]->id, &error);
  g_assert_no_error (error);
  char *words[] = { "shift-edges", "edges=Side panel/lower front panel seam",
                    "by=7 mm",     "where=swell",
                    "at=150 mm",   "reach=150 mm",
                    "both=no" };
  g_autoptr (Pattern) out = take_step (free, words, G_N_ELEMENTS (words));
  g_autoptr (Pattern) now = drafting_follow (free, out, &error);
  g_assert_no_error (error);
  assert_clear (now);
  /* The lining was let out with it. */
  g_assert_cmpfloat (
      fabs (
          length_named (now, "Side panel lining", "lower front panel seam")
          - length_named (made, "Side panel lining", "lower front panel seam")),
      >, 0.01);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ferry/made", test_made);
  g_test_add_func ("/ferry/changed", test_changed);
  g_test_add_func ("/ferry/let-out", test_let_out);
  return g_test_run ();
}
