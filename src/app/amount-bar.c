/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/amount-bar.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/draft.h"
#include "app/figure-needs.h"
#include "app/ui.h"

#define MOST_ACROSS 8
/* More than so many fields are behind a button; those that may be left as they are. */
#define FIRST_FIELDS 8
#define REST_HEIGHT_PX 112

struct _AppAmountBar
{
  GtkBox parent;
  AppSession *session;
  const AppDraft *made_for; /* compared, never looked into */
  const DraftingVerb *verb;
  GtkWidget *title, *says, *fields, *rest, *rest_part, *more, *done;
  GtkWidget *groups,
      *group_names; /* a page for each group of a verb that has any */
  GtkWidget *missing, *missing_box;
  const PatternKnownFigure *missing_figure;
  GPtrArray *controls; /* GtkWidget, one a parameter */
  guint active;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (AppAmountBar, app_amount_bar, GTK_TYPE_BOX)

static AppDraft *
draft_of (AppAmountBar *bar)
{
  return bar->session != NULL ? app_draft_get (bar->session) : NULL;
}

static void
to_table (AppAmountBar *bar)
{
  gtk_widget_activate_action (GTK_WIDGET (bar), "win.table", NULL);
}

static guint
index_of (gpointer widget)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "index"));
}

/* --- what she does ------------------------------------------------------------------ */
static void
leave (AppAmountBar *bar)
{
  to_table (bar);
  app_draft_end (bar->session);
}

static void
do_it (AppAmountBar *bar)
{
  AppDraft *draft = draft_of (bar);
  if (draft != NULL && app_draft_do (draft))
    to_table (bar);
}

static void
on_typed (GtkEditable *entry, AppAmountBar *bar)
{
  AppDraft *draft = draft_of (bar);
  if (draft != NULL && !bar->updating)
    app_draft_set_text (draft, index_of (entry), gtk_editable_get_text (entry));
}

static void
on_checked (GtkCheckButton *check, AppAmountBar *bar)
{
  AppDraft *draft = draft_of (bar);
  if (draft != NULL && !bar->updating)
    app_draft_set_text (draft, index_of (check),
                        gtk_check_button_get_active (check) ? "yes" : "no");
}

static void
on_chosen (GtkDropDown *drop, GParamSpec *spec, AppAmountBar *bar)
{
  (void)spec;
  AppDraft *draft = draft_of (bar);
  guint i = index_of (drop);
  guint chosen = gtk_drop_down_get_selected (drop);
  if (draft != NULL && !bar->updating && chosen != GTK_INVALID_LIST_POSITION)
    app_draft_set_text (draft, i, bar->verb->parameters[i].choices[chosen]);
}

/* Clicks go to this field now; the keys stay at the table, which is clicked on. */
static void
on_pick_pressed (GtkButton *button, AppAmountBar *bar)
{
  AppDraft *draft = draft_of (bar);
  if (draft == NULL)
    return;
  app_draft_set_active (draft, index_of (button));
  to_table (bar);
}

static void
on_pick_cleared (GtkButton *button, AppAmountBar *bar)
{
  AppDraft *draft = draft_of (bar);
  if (draft == NULL)
    return;
  app_draft_set_active (draft, index_of (button));
  app_draft_set_text (draft, index_of (button), "");
}

static void
on_focus (GtkEventController *focus, AppAmountBar *bar)
{
  AppDraft *draft = draft_of (bar);
  if (draft != NULL && !bar->updating)
    app_draft_set_active (draft,
                          index_of (gtk_event_controller_get_widget (focus)));
}

static gboolean
on_entry_key (GtkEventController *keys, guint key, guint code,
              GdkModifierType mods, AppAmountBar *bar)
{
  (void)code;
  AppDraft *draft = draft_of (bar);
  GtkWidget *entry = gtk_event_controller_get_widget (keys);
  int by = key == GDK_KEY_Up ? 1 : key == GDK_KEY_Down ? -1 : 0;
  if (draft == NULL || by == 0)
    return FALSE;
  if (app_draft_step (draft, index_of (entry),
                      (mods & GDK_SHIFT_MASK) ? by * 10 : by))
    gtk_editable_set_position (GTK_EDITABLE (entry), -1);
  return TRUE;
}

static gboolean
on_key (AppAmountBar *bar, guint key)
{
  if (key != GDK_KEY_Escape || draft_of (bar) == NULL)
    return FALSE;
  leave (bar);
  return TRUE;
}

/* --- fields --------------------------------------------------------------------------- */
static void
set_index (GtkWidget *widget, guint i)
{
  g_object_set_data (G_OBJECT (widget), "index", GUINT_TO_POINTER (i));
}

static GtkWidget *
make_entry (AppAmountBar *bar, guint i)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 11);
  g_signal_connect (entry, "changed", G_CALLBACK (on_typed), bar);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (do_it), bar);
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_entry_key), bar);
  gtk_widget_add_controller (entry, keys);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "enter", G_CALLBACK (on_focus), bar);
  gtk_widget_add_controller (entry, focus);
  set_index (entry, i);
  return entry;
}

static GtkWidget *
make_pick (AppAmountBar *bar, guint i, const char *label)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class (box, "linked");
  GtkWidget *button = gtk_toggle_button_new ();
  GtkWidget *words = app_ui_label ("", NULL);
  /* Two lines, so that names of pieces and edges can be read. */
  gtk_widget_add_css_class (words, "picked-words");
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (words), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_lines (GTK_LABEL (words), 2);
  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_label_set_ellipsize (GTK_LABEL (words), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (words), 8);
  gtk_label_set_max_width_chars (GTK_LABEL (words), 11);
  gtk_button_set_child (GTK_BUTTON (button), words);
  gtk_widget_set_hexpand (button, TRUE);
  app_ui_name (button, label);
  g_signal_connect (button, "clicked", G_CALLBACK (on_pick_pressed), bar);
  set_index (button, i);
  gtk_box_append (GTK_BOX (box), button);
  GtkWidget *clear
      = app_ui_icon_button ("edit-clear-symbolic", _ ("Empty it"), NULL, NULL);
  g_signal_connect (clear, "clicked", G_CALLBACK (on_pick_cleared), bar);
  gtk_widget_add_css_class (clear, "clear");
  set_index (clear, i);
  gtk_box_append (GTK_BOX (box), clear);
  g_object_set_data (G_OBJECT (box), "button", button);
  g_object_set_data (G_OBJECT (box), "words", words);
  g_object_set_data (G_OBJECT (box), "clear", clear);
  return box;
}

static GtkWidget *
make_choice (AppAmountBar *bar, guint i, const DraftingParameter *parameter)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  for (guint k = 0; parameter->choices[k] != NULL; k++)
    g_ptr_array_add (words, (gpointer)(parameter->choice_labels
                                           ? _ (parameter->choice_labels[k])
                                           : parameter->choices[k]));
  g_ptr_array_add (words, NULL);
  GtkWidget *drop = app_ui_drop_down ((const char *const *)words->pdata,
                                      _ (parameter->label));
  g_signal_connect (drop, "notify::selected", G_CALLBACK (on_chosen), bar);
  set_index (drop, i);
  return drop;
}

static GtkWidget *
make_control (AppAmountBar *bar, guint i)
{
  const DraftingParameter *parameter = &bar->verb->parameters[i];
  if (app_draft_is_pick (parameter))
    return make_pick (bar, i, _ (parameter->label));
  if (parameter->kind == DRAFTING_CHOICE)
    return make_choice (bar, i, parameter);
  if (parameter->kind == DRAFTING_YES)
    {
      GtkWidget *check = gtk_check_button_new_with_label (_ (parameter->label));
      g_signal_connect (check, "toggled", G_CALLBACK (on_checked), bar);
      set_index (check, i);
      return check;
    }
  GtkWidget *entry = make_entry (bar, i);
  app_ui_name (entry, _ (parameter->label));
  return entry;
}

static GtkWidget *
make_cell (AppAmountBar *bar, guint i)
{
  const DraftingParameter *parameter = &bar->verb->parameters[i];
  GtkWidget *cell = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  const char *sign = parameter->kind == DRAFTING_ANGLE   ? " (°)"
                     : parameter->kind == DRAFTING_SHARE ? " (%)"
                                                         : "";
  g_autofree char *words = g_strconcat (
      parameter->kind == DRAFTING_YES ? "" : _ (parameter->label), sign, NULL);
  GtkWidget *label = app_ui_label (words, "dim");
  /* In full: it is what tells one field from its neighbours. */
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_width_chars (GTK_LABEL (label), 14);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 17);
  gtk_widget_set_vexpand (label, TRUE);
  gtk_widget_set_valign (label, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (cell), label);
  GtkWidget *control = make_control (bar, i);
  gtk_box_append (GTK_BOX (cell), control);
  g_ptr_array_add (bar->controls, control);
  return cell;
}

static GtkWidget *
make_flow (void)
{
  GtkWidget *flow = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 4);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 10);
  gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (flow), 2);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), MOST_ACROSS);
  gtk_flow_box_set_homogeneous (GTK_FLOW_BOX (flow), TRUE);
  return flow;
}

static void
add_cell (AppAmountBar *bar, guint i, GtkWidget *flow)
{
  GtkWidget *cell = make_cell (bar, i);
  gtk_flow_box_insert (GTK_FLOW_BOX (flow), cell, -1);
  /* The control takes the focus, not the place it lies in. */
  gtk_widget_set_focusable (gtk_widget_get_parent (cell), FALSE);
}

/* What has to be given comes first, then amounts in the verb's order. */
static gboolean
comes_first (const DraftingVerb *verb, guint i, guint n_first)
{
  const DraftingParameter *parameter = &verb->parameters[i];
  return verb->n_parameters <= FIRST_FIELDS + 1 || parameter->start == NULL
         || n_first < FIRST_FIELDS;
}

static void
clear_groups (AppAmountBar *bar)
{
  GtkWidget *page;
  while ((page = gtk_widget_get_first_child (bar->groups)) != NULL)
    gtk_stack_remove (GTK_STACK (bar->groups), page);
}

/* A page for each group of the verb's. */
static void
make_groups (AppAmountBar *bar)
{
  const char *last = NULL;
  GtkWidget *flow = NULL;
  for (guint i = 0; i < bar->verb->n_parameters; i++)
    {
      const char *heading = drafting_verb_heading (bar->verb, i);
      if (heading != last || flow == NULL)
        {
          flow = make_flow ();
          gtk_flow_box_set_min_children_per_line (GTK_FLOW_BOX (flow), 3);
          gtk_widget_set_valign (flow, GTK_ALIGN_START);
          gtk_stack_add_titled (GTK_STACK (bar->groups), flow, heading,
                                _ (heading));
        }
      last = heading;
      add_cell (bar, i, flow);
    }
}

static void
make_fields (AppAmountBar *bar)
{
  guint first = 0, rest = 0;
  app_ui_clear (bar->fields);
  app_ui_clear (bar->rest);
  clear_groups (bar);
  g_ptr_array_set_size (bar->controls, 0);
  bar->updating = TRUE;
  gboolean grouped = drafting_verb_heading (bar->verb, 0) != NULL;
  gtk_widget_set_visible (bar->groups, grouped);
  gtk_widget_set_visible (bar->group_names, grouped);
  gtk_widget_set_visible (bar->fields, !grouped);
  if (grouped)
    make_groups (bar);
  for (guint i = 0; i < bar->verb->n_parameters && !grouped; i++)
    {
      gboolean is_first = comes_first (bar->verb, i, first);
      add_cell (bar, i, is_first ? bar->fields : bar->rest);
      first += is_first;
      rest += !is_first;
    }
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (bar->more), FALSE);
  gtk_widget_set_visible (bar->more, rest > 0);
  g_autofree char *words
      = g_strdup_printf (ngettext ("%u more", "%u more", rest), rest);
  gtk_button_set_label (GTK_BUTTON (bar->more), words);
  bar->updating = FALSE;
}

static void
on_more (AppAmountBar *bar)
{
  gtk_widget_set_visible (bar->rest_part, gtk_toggle_button_get_active (
                                              GTK_TOGGLE_BUTTON (bar->more)));
}

/* A field that hinders is in sight. */
static void
show_rest_for (AppAmountBar *bar, int field)
{
  if (field < 0 || (guint)field >= bar->controls->len)
    return;
  GtkWidget *control = g_ptr_array_index (bar->controls, field);
  if (gtk_widget_is_ancestor (control, bar->rest))
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (bar->more), TRUE);
  for (GtkWidget *page = gtk_widget_get_first_child (bar->groups); page != NULL;
       page = gtk_widget_get_next_sibling (page))
    if (gtk_widget_is_ancestor (control, page))
      gtk_stack_set_visible_child (GTK_STACK (bar->groups), page);
}

/* --- a figure that is missing ---------------------------------------------------------------- */
static void
figure_entered (AppField *field, gboolean step, AppAmountBar *bar)
{
  (void)step;
  double mm = app_field_get_value (field);
  if (!isfinite (mm))
    return;
  gtk_popover_popdown (
      gtk_menu_button_get_popover (GTK_MENU_BUTTON (bar->missing)));
  app_figure_add (bar->session, app_figure_of (field), mm);
}

/* Offers to enter the figure that the field in trouble names. */
static void
show_missing (AppAmountBar *bar, const AppDraft *draft)
{
  int field = app_draft_get_trouble_field (draft);
  const Pattern *pattern = app_session_get_pattern (bar->session);
  const PatternKnownFigure *known
      = field >= 0 ? app_figure_missing (
            pattern, app_draft_get_text (draft, (guint)field))
                   : NULL;
  gtk_widget_set_visible (bar->missing, known != NULL);
  if (known == NULL || known == bar->missing_figure)
    return;
  bar->missing_figure = known;
  g_autofree char *words = g_strdup_printf (_ ("Enter “%s”"), _ (known->title));
  gtk_menu_button_set_label (GTK_MENU_BUTTON (bar->missing), words);
  app_ui_clear (bar->missing_box);
  gtk_box_append (GTK_BOX (bar->missing_box),
                  app_figure_field (known, pattern->unit,
                                    G_CALLBACK (figure_entered), bar));
}

/* --- what it shows ---------------------------------------------------------------------- */
static void
show_pick (AppAmountBar *bar, const AppDraft *draft, guint i, GtkWidget *box)
{
  (void)bar;
  GtkWidget *button = g_object_get_data (G_OBJECT (box), "button");
  g_autofree char *words = app_draft_get_words (draft, i);
  gboolean empty = *app_draft_get_text (draft, i) == '\0';
  gboolean active = app_draft_get_active (draft) == i;
  GtkWidget *label = g_object_get_data (G_OBJECT (box), "words");
  app_ui_set_text (label, !empty   ? words
                          : active ? _ ("click the table")
                                   : _ ("pick…"));
  gtk_widget_set_tooltip_text (button, empty ? NULL : words);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), active);
  gtk_widget_set_visible (g_object_get_data (G_OBJECT (box), "clear"), !empty);
}

static void
show_field (AppAmountBar *bar, const AppDraft *draft, guint i)
{
  const DraftingParameter *parameter = &bar->verb->parameters[i];
  GtkWidget *control = g_ptr_array_index (bar->controls, i);
  const char *text = app_draft_get_text (draft, i);
  gboolean bad = FALSE;
  app_draft_get_trouble (draft, &bad);
  if (app_draft_is_pick (parameter))
    show_pick (bar, draft, i, control);
  else if (parameter->kind == DRAFTING_YES)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (control),
                                 g_ascii_strcasecmp (text, "yes") == 0);
  else if (parameter->kind == DRAFTING_CHOICE)
    {
      for (guint k = 0; parameter->choices[k] != NULL; k++)
        if (g_ascii_strcasecmp (parameter->choices[k], text) == 0)
          gtk_drop_down_set_selected (GTK_DROP_DOWN (control), k);
    }
  else
    {
      GtkEditable *entry = GTK_EDITABLE (control);
      if (!g_str_equal (gtk_editable_get_text (entry), text))
        gtk_editable_set_text (entry, text);
      if (bad && app_draft_get_trouble_field (draft) == (int)i)
        gtk_widget_add_css_class (control, "error");
      else
        gtk_widget_remove_css_class (control, "error");
    }
}

/* The field that wants filling is typed in, where it is typed in at all. */
static void
focus_active (AppAmountBar *bar, const AppDraft *draft)
{
  guint i = app_draft_get_active (draft);
  if (i >= bar->controls->len)
    return;
  GtkWidget *control = g_ptr_array_index (bar->controls, i);
  if (GTK_IS_ENTRY (control))
    gtk_widget_grab_focus (control);
  else
    to_table (bar);
}

static void
update (AppAmountBar *bar)
{
  AppDraft *draft = draft_of (bar);
  gtk_widget_set_visible (GTK_WIDGET (bar), draft != NULL);
  if (draft == NULL)
    {
      bar->made_for = NULL;
      return;
    }
  /* One draft may come to lie where another lay. */
  gboolean anew
      = draft != bar->made_for || app_draft_get_verb (draft) != bar->verb;
  if (anew)
    {
      bar->made_for = draft;
      bar->verb = app_draft_get_verb (draft);
      app_ui_set_text (bar->title, _ (bar->verb->title));
      make_fields (bar);
    }
  bar->updating = TRUE;
  for (guint i = 0; i < bar->verb->n_parameters; i++)
    show_field (bar, draft, i);
  bar->updating = FALSE;
  gboolean bad = FALSE;
  const char *trouble = app_draft_get_trouble (draft, &bad);
  /* What the verb is, until its fields say something more useful. */
  const char *lets_go = app_draft_get_lets_go (draft);
  g_autofree char *freed
      = lets_go != NULL ? g_strdup_printf (
            _ ("This lets %s go: its pieces get other nodes or edges, and "
               "are no longer drafted again."),
            lets_go)
                        : NULL;
  app_ui_set_text (bar->says, freed != NULL ? freed
                              : trouble != NULL && (bad || !anew)
                                  ? trouble
                                  : _ (bar->verb->hint));
  gtk_button_set_label (GTK_BUTTON (bar->done),
                        freed != NULL ? _ ("Let go and do it") : _ ("Do it"));
  gtk_widget_set_tooltip_text (bar->says, _ (bar->verb->hint));
  if (bad)
    gtk_widget_add_css_class (bar->says, "out");
  else
    gtk_widget_remove_css_class (bar->says, "out");
  gtk_widget_set_sensitive (bar->done, trouble == NULL);
  show_rest_for (bar, app_draft_get_trouble_field (draft));
  show_missing (bar, draft);
  guint active = app_draft_get_active (draft);
  if (anew || active != bar->active)
    {
      bar->active = active;
      focus_active (bar, draft);
    }
}

/* --- making it ------------------------------------------------------------------------- */
static void
add_missing (AppAmountBar *bar, GtkWidget *row)
{
  bar->missing = gtk_menu_button_new ();
  bar->missing_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (popover), bar->missing_box);
  app_ui_pass_keys (popover);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (bar->missing), popover);
  gtk_widget_set_valign (bar->missing, GTK_ALIGN_CENTER);
  gtk_widget_set_visible (bar->missing, FALSE);
  gtk_box_append (GTK_BOX (row), bar->missing);
}

static void
add_head (AppAmountBar *bar)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  bar->title = app_ui_label ("", "figure");
  gtk_box_append (GTK_BOX (row), bar->title);
  bar->says = app_ui_label ("", "dim");
  gtk_label_set_wrap (GTK_LABEL (bar->says), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (bar->says), 24);
  gtk_label_set_max_width_chars (GTK_LABEL (bar->says), 72);
  gtk_label_set_lines (GTK_LABEL (bar->says), 2);
  gtk_label_set_ellipsize (GTK_LABEL (bar->says), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (bar->says, TRUE);
  gtk_box_append (GTK_BOX (row), bar->says);
  add_missing (bar, row);
  bar->groups = gtk_stack_new ();
  gtk_stack_set_vhomogeneous (GTK_STACK (bar->groups), FALSE);
  bar->group_names = gtk_stack_switcher_new ();
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (bar->group_names),
                                GTK_STACK (bar->groups));
  gtk_widget_set_halign (bar->group_names, GTK_ALIGN_START);
  bar->more = gtk_toggle_button_new_with_label ("");
  gtk_widget_set_valign (bar->more, GTK_ALIGN_CENTER);
  /* Enter goes on doing the verb after it was clicked. */
  gtk_widget_set_focus_on_click (bar->more, FALSE);
  app_ui_tip (bar->more, _ ("Amounts that may be left as they are"), NULL);
  g_signal_connect_swapped (bar->more, "toggled", G_CALLBACK (on_more), bar);
  gtk_box_append (GTK_BOX (row), bar->more);
  bar->done = gtk_button_new_with_label (_ ("Do it"));
  gtk_widget_add_css_class (bar->done, "suggested-action");
  gtk_widget_set_valign (bar->done, GTK_ALIGN_CENTER);
  app_ui_tip (bar->done, _ ("One step, which can be undone"), _ ("Enter"));
  g_signal_connect_swapped (bar->done, "clicked", G_CALLBACK (do_it), bar);
  gtk_box_append (GTK_BOX (row), bar->done);
  GtkWidget *close = app_ui_icon_button ("window-close-symbolic",
                                         _ ("Leave it"), _ ("Esc"), NULL);
  gtk_widget_set_valign (close, GTK_ALIGN_CENTER);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (leave), bar);
  gtk_box_append (GTK_BOX (row), close);
  gtk_box_append (GTK_BOX (bar), row);
}

static void
app_amount_bar_dispose (GObject *object)
{
  AppAmountBar *bar = APP_AMOUNT_BAR (object);
  if (bar->session != NULL)
    g_signal_handlers_disconnect_by_data (bar->session, bar);
  g_clear_object (&bar->session);
  g_clear_pointer (&bar->controls, g_ptr_array_unref);
  G_OBJECT_CLASS (app_amount_bar_parent_class)->dispose (object);
}

static void
app_amount_bar_class_init (AppAmountBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_amount_bar_dispose;
}

static void
app_amount_bar_init (AppAmountBar *bar)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (bar),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (bar), 6);
  gtk_widget_add_css_class (GTK_WIDGET (bar), "amount-bar");
  app_ui_name (GTK_WIDGET (bar), _ ("Amounts"));
  bar->controls = g_ptr_array_new ();
  add_head (bar);
  bar->fields = make_flow ();
  bar->rest = make_flow ();
  gtk_box_append (GTK_BOX (bar), bar->group_names);
  gtk_box_append (GTK_BOX (bar), bar->groups);
  gtk_box_append (GTK_BOX (bar), bar->fields);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller),
                                  GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scroller),
                                              REST_HEIGHT_PX);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), bar->rest);
  gtk_widget_set_visible (scroller, FALSE);
  bar->rest_part = scroller;
  gtk_box_append (GTK_BOX (bar), scroller);
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), bar);
  gtk_widget_add_controller (GTK_WIDGET (bar), keys);
}

GtkWidget *
app_amount_bar_new (AppSession *session)
{
  AppAmountBar *bar = g_object_new (APP_TYPE_AMOUNT_BAR, NULL);
  bar->session = g_object_ref (session);
  g_signal_connect_swapped (session, "draft-changed", G_CALLBACK (update), bar);
  update (bar);
  return GTK_WIDGET (bar);
}
