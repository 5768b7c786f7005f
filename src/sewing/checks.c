/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sewing/checks-private.h"

static const char *const check_words[] = {
  [SEWING_CHECK_SEAM_LENGTH] = "seam-length",
  [SEWING_CHECK_SEAM_ALLOWANCE] = "seam-allowance",
  [SEWING_CHECK_HEM_ALLOWANCE] = "hem-allowance",
  [SEWING_CHECK_NOTCH] = "notch",
  [SEWING_CHECK_FOLD_SQUARE] = "fold-square",
  [SEWING_CHECK_JOINT] = "joint",
  [SEWING_CHECK_DART_LEGS] = "dart-legs",
  [SEWING_CHECK_HOLLOW] = "hollow",
  [SEWING_CHECK_OUTLINE] = "outline",
  [SEWING_CHECK_GRAIN] = "grain",
  [SEWING_CHECK_CUT] = "cut",
  [SEWING_CHECK_EASE] = "ease",
  [SEWING_CHECK_POINTED] = "pointed",
  [SEWING_CHECK_BUTTONHOLE] = "buttonhole",
  [SEWING_CHECK_RECIPE] = "recipe",
};

const char *
sewing_check_word (SewingCheck check)
{
  g_return_val_if_fail ((guint)check < G_N_ELEMENTS (check_words), "");
  return check_words[check];
}

void
sewing_finding_free (SewingFinding *finding)
{
  if (finding == NULL)
    return;
  g_free (finding->key);
  g_free (finding->text);
  g_free (finding->remedy.label);
  for (guint i = 0; i < finding->n_others; i++)
    g_free (finding->others[i].label);
  g_free (finding->others);
  g_free (finding);
}

SewingFinding *
sewing_finding_add (SewingCheckRun *run, SewingCheck check, SewingWeight weight,
                    char *key, char *text, GeoPoint at, double amount)
{
  SewingFinding *finding = g_new0 (SewingFinding, 1);
  finding->check = check;
  finding->weight = weight;
  finding->key = g_strconcat (sewing_check_word (check), ":", key, NULL);
  finding->text = sewing_words_capital (text);
  finding->at = at;
  finding->amount = amount;
  for (guint i = 0; i < run->pattern->n_set_aside; i++)
    if (g_str_equal (run->pattern->set_aside[i].key, finding->key))
      {
        finding->set_aside = TRUE;
        finding->note = run->pattern->set_aside[i].note;
      }
  g_free (key);
  g_ptr_array_add (run->findings, finding);
  return finding;
}

void
sewing_finding_set_remedy (SewingFinding *finding, SewingRemedyKind kind,
                           guint piece, guint edge, double amount, char *label)
{
  finding->remedy = (SewingRemedy){
    .kind = kind, .piece = piece, .edge = edge, .amount = amount, .label = label
  };
}

SewingRemedy *
sewing_finding_add_other (SewingFinding *finding, SewingRemedyKind kind,
                          guint piece, guint edge, double amount, char *label)
{
  finding->others
      = g_renew (SewingRemedy, finding->others, finding->n_others + 1);
  SewingRemedy *other = &finding->others[finding->n_others++];
  *other = (SewingRemedy){
    .kind = kind, .piece = piece, .edge = edge, .amount = amount, .label = label
  };
  return other;
}

gboolean
sewing_check_is_out (const SewingCheckRun *run, double amount)
{
  return fabs (amount) > run->pattern->tolerance + CHECK_ROUNDING;
}

SewingWeight
sewing_weigh_length (double out)
{
  return fabs (out) > CHECK_MEND_LENGTH + CHECK_ROUNDING ? SEWING_MEND
                                                         : SEWING_LOOK;
}

SewingWeight
sewing_weigh_angle (double out_deg)
{
  double out = fabs (out_deg);
  return out > CHECK_MEND_ANGLE && out < CHECK_MEANT_ANGLE ? SEWING_MEND
                                                           : SEWING_LOOK;
}

static gboolean
belongs (const SewingFinding *finding, int place)
{
  if (finding->set_aside)
    return place == 2;
  return place == (finding->weight == SEWING_MEND ? 0 : 1);
}

/* Mend, look, set aside; the order found is kept inside each. */
static GPtrArray *
sorted (GPtrArray *found)
{
  GPtrArray *list
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sewing_finding_free);
  for (int place = 0; place < 3; place++)
    for (guint i = 0; i < found->len; i++)
      if (belongs (found->pdata[i], place))
        g_ptr_array_add (list, found->pdata[i]);
  return list;
}

GPtrArray *
sewing_checks_run (SewingFacts *facts, const Pattern *pattern)
{
  g_return_val_if_fail (facts != NULL && pattern != NULL, NULL);
  g_autoptr (GPtrArray) found = g_ptr_array_new ();
  SewingCheckRun run = { facts, pattern, found };
  for (guint i = 0; i < pattern->n_pieces; i++)
    sewing_check_piece (&run, pattern->pieces[i]);
  for (guint i = 0; i < pattern->n_seams; i++)
    sewing_check_seam (&run, pattern->seams[i]);
  for (guint i = 0; i < pattern->n_pieces; i++)
    sewing_check_holes (&run, pattern->pieces[i]);
  sewing_check_joints (&run);
  sewing_check_shaping (&run);
  sewing_check_recipes (&run);
  return sorted (found);
}

guint
sewing_checks_open (const GPtrArray *findings)
{
  guint open = 0;
  for (guint i = 0; i < findings->len; i++)
    open += !((const SewingFinding *)findings->pdata[i])->set_aside;
  return open;
}
