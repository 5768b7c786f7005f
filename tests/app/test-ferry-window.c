/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From two slopers to the ferry cape in the real window, with a real pointer and real keys; what is
 * done is counted: choosing a verb, picking an edge or a piece on the table, going to a field, giving
 * an amount, doing it. The help page "From slopers to a cape" tells the same. */
#include "app/canvas.h"
#include "app/draft.h"
#include "app/field.h"
#include "driver.h"
#include "geometry/length.h"
#include "sewing/checks.h"

typedef struct
{
  const char *field;        /* label; NULL: the one that is lit */
  const char *piece, *edge; /* edge NULL: the piece; both NULL: an amount */
  const char *amount;
} Filled;

typedef struct
{
  const char *verb, *title;
  Filled filled[12];
} Step;

static const Step steps[] = {
  { "cape",
    "Cape from a sloper",
    { { NULL, "Back sloper", "neck", NULL },
      { NULL, "Back sloper", "shoulder", NULL },
      { NULL, "Front sloper", "neck", NULL },
      { NULL, "Front sloper", "shoulder", NULL } } },
  { "flat-collar",
    "Flat collar",
    { { NULL, "Back", "neck", NULL },
      { NULL, "Side panel", "back neck", NULL },
      { NULL, "Side panel", "front neck", NULL },
      { NULL, "Front", "neck", NULL } } },
  { "facing",
    "Facing",
    { { NULL, "Back", "neck", NULL },
      { NULL, "Side panel", "back neck", NULL } } },
  { "facing",
    "Facing",
    { { NULL, "Side panel", "front neck", NULL },
      { NULL, "Front", "neck", NULL },
      { NULL, "Front", "neck of the button stand", NULL },
      { NULL, "Front", "front edge", NULL },
      { "join", "Back facing", "back dart leg", NULL } } },
  { "lining",
    "Lining",
    { { NULL, "Back", NULL, NULL },
      { NULL, "Side panel", NULL, NULL },
      { NULL, "Front", NULL, NULL },
      { "facings", "Back facing", NULL, NULL },
      { NULL, "Front facing", NULL, NULL } } },
  { "welt",
    "Welt",
    { { NULL, "Front", "arm opening", NULL },
      { NULL, "Side panel", "opening edge", NULL } } },
  { "buttons", "Buttons", { { NULL, "Front", "front edge", NULL } } },
};

static guint
parameter_of (const AppDraft *draft, const char *key)
{
  const DraftingVerb *verb = app_draft_get_verb (draft);
  for (guint i = 0; i < verb->n_parameters; i++)
    if (g_str_equal (verb->parameters[i].key, key))
      return i;
  g_error ("no field “%s”", key);
}

/* On the stitch line, at a share of its length; or in the piece. */
static GeoPoint
place_of (AppSession *session, const Filled *f, double share)
{
  const PatternPiece *piece = driver_piece (session, f->piece);
  const SewingPiece *facts
      = sewing_facts_piece (app_session_get_facts (session), piece);
  if (f->edge == NULL)
    return facts->middle;
  int i = pattern_piece_find_edge (
      piece, driver_edge (session, f->piece, f->edge)->id);
  GeoPlace at = geo_ruler_place (&facts->rulers[i], facts->lengths[i] * share);
  return geo_chain_point (&facts->stitch[i], at);
}

static void
click_table (AppWindow *window, GeoPoint mm)
{
  GeoPoint px = driver_on_screen (window, mm);
  driver_xdotool ("mousemove %d %d", (int)(px.x + .5), (int)(px.y + .5));
  driver_pause_ms (60);
  driver_xdotool ("click 1");
}

/* All that stands in the fields. */
static char *
texts_of (const AppDraft *draft)
{
  g_autoptr (GString) all = g_string_new (NULL);
  for (guint i = 0; i < app_draft_get_verb (draft)->n_parameters; i++)
    g_string_append_printf (all, "%s|", app_draft_get_text (draft, i));
  return g_string_free (g_steal_pointer (&all), FALSE);
}

static guint
fill (AppWindow *window, AppSession *session, const Filled *f)
{
  guint actions = 0;
  if (f->field != NULL)
    {
      app_draft_set_active (app_draft_get (session),
                            parameter_of (app_draft_get (session), f->field));
      actions++;
    }
  g_autofree char *before = texts_of (app_draft_get (session));
  if (f->amount != NULL)
    app_draft_set_text (app_draft_get (session),
                        app_draft_get_active (app_draft_get (session)),
                        f->amount);
  else
    {
      /* Where another piece lies over its middle, she clicks beside that. */
      static const double shares[] = { 0.5, 0.3, 0.7 };
      gboolean taken = FALSE;
      for (guint k = 0; k < G_N_ELEMENTS (shares) && !taken; k++)
        {
          click_table (window, place_of (session, f, shares[k]));
          for (int wait = 0; wait < 40 && !taken; wait++)
            {
              driver_pause_ms (20);
              {
                g_autofree char *now = texts_of (app_draft_get (session));
                taken = !g_str_equal (before, now);
              }
            }
        }
      if (!taken)
        g_error ("%s/%s could not be picked: %s", f->piece, f->edge,
                 app_draft_hint (app_draft_get (session)));
    }
  return actions + 1;
}

static guint
take_step (AppWindow *window, AppSession *session, const Step *step)
{
  guint actions = 0;
  app_session_pick_none (session);
  driver_act (window, "zoom-fit");
  driver_pause_ms (100);
  driver_xdotool ("key v");
  driver_pause_ms (300);
  driver_xdotool ("type --delay 15 '%s'", step->title);
  driver_pause_ms (400);
  driver_xdotool ("key Return");
  driver_wait_until (app_draft_get (session) != NULL);
  g_assert_cmpstr (app_draft_get_verb (app_draft_get (session))->name, ==,
                   step->verb);
  actions++;
  driver_pause_ms (250);
  for (const Filled *f = step->filled; f->piece != NULL || f->amount != NULL;
       f++)
    actions += fill (window, session, f);
  driver_xdotool ("key Return");
  driver_wait_until (app_draft_get (session) == NULL);
  return actions + 1;
}

static void
assert_clear (AppSession *session)
{
  const GPtrArray *findings = app_session_get_findings (session);
  for (guint i = 0; i < findings->len; i++)
    {
      const SewingFinding *finding = g_ptr_array_index (findings, i);
      if (!finding->set_aside)
        g_error ("%s", finding->text);
    }
}

/* An amount of the cape, in the page of the piece that is picked. */
static void
change (AppWindow *window, AppSession *session, const char *field,
        const char *amount)
{
  g_autoptr (Pattern) before = pattern_ref (app_session_get_pattern (session));
  driver_wait_until (driver_find (GTK_WIDGET (window), APP_TYPE_FIELD, field)
                     != NULL);
  driver_type (window, field, amount);
  driver_wait_until (app_session_get_pattern (session) != before);
  assert_clear (session);
}

/* After the muslin: the front neck 9 mm lower, the hem 35 mm longer, the dart's point 12 mm nearer
 * the neck, the side panel let out 7 mm easing to nothing; collar, facings, lining and seams
 * follow. */
static void
change_all (AppWindow *window, AppSession *session)
{
  double neck = driver_edge_length (session, "Under collar", "neck edge");
  double back = driver_edge_length (session, "Back lining", "centre back");
  double lining = driver_edge_length (session, "Side panel lining",
                                      "lower front panel seam");
  app_session_pick_piece (session, driver_piece (session, "Front")->id, FALSE);
  change (window, session, "Neck lowered at the front", "1.9 cm");
  g_assert_cmpfloat (driver_edge_length (session, "Under collar", "neck edge"),
                     >, neck + 3);
  change (window, session, "Length from neck point", "79.5 cm");
  g_assert_cmpfloat_with_epsilon (
      driver_edge_length (session, "Back lining", "centre back"), back + 35,
      0.01);
  change (window, session, "Shoulder rounded from", "7.3 cm");
  static const Step let_out
      = { "shift-edges",
          "Let out or take in",
          { { NULL, "Side panel", "lower front panel seam", NULL },
            { "where", NULL, NULL, "swell" },
            { "at", NULL, NULL, "150 mm" },
            { "both", NULL, NULL, "no" } } };
  take_step (window, session, &let_out);
  assert_clear (session);
  g_assert_cmpfloat (ABS (driver_edge_length (session, "Side panel lining",
                                              "lower front panel seam")
                          - lining),
                     >, 0.01);
}

static void
test_ferry (void)
{
  AppWindow *window = driver_open ();
  g_action_group_activate_action (G_ACTION_GROUP (window), "slopers", NULL);
  driver_wait_until (app_window_get_session (window) != NULL);
  AppSession *session = app_window_get_session (window);
  GtkWidget *canvas = app_window_get_canvas (window);
  driver_wait_until (gtk_widget_get_width (canvas) > 100
                     && gtk_widget_has_focus (canvas));
  int x, y;
  if (!driver_xdotool ("version") || !driver_window_place (&x, &y))
    {
      g_test_skip ("no xdotool or no window manager");
      driver_close (window);
      return;
    }
  guint actions = 0; /* from the two slopers on */
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      actions += take_step (window, session, &steps[i]);
      g_test_message ("%s: %u actions so far", steps[i].title, actions);
    }
  g_assert_cmpuint (actions, <, 40);
  assert_clear (session);
  change_all (window, session);
  driver_close (window);
}

int
main (int argc, char **argv)
{
  if (!driver_start (&argc, &argv))
    return 0;
  g_test_add_func ("/ferry-window/slopers-to-cape", test_ferry);
  return driver_end ();
}
