/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/field.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/ui.h"

struct _AppField
{
  GtkBox parent;
  GtkWidget *entry;
  GtkWidget *why;
  AppFieldKind kind;
  PatternUnit unit;
  char *suffix;
  int digits;
  double step, least, most;
  double value;
  char *text;
  char *shown; /* what the entry said when it was last set from here */
  gboolean unreadable;
};

G_DEFINE_FINAL_TYPE (AppField, app_field, GTK_TYPE_BOX)

enum
{
  SIGNAL_ENTERED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static gboolean
is_dirty (AppField *field)
{
  return !g_str_equal (gtk_editable_get_text (GTK_EDITABLE (field->entry)),
                       field->shown);
}

static void
set_unreadable (AppField *field, const char *why)
{
  field->unreadable = why != NULL;
  gtk_widget_set_visible (field->why, why != NULL);
  gtk_label_set_text (GTK_LABEL (field->why), why != NULL ? why : "");
  if (why != NULL)
    gtk_widget_add_css_class (field->entry, "error");
  else
    gtk_widget_remove_css_class (field->entry, "error");
  gtk_accessible_update_state (
      GTK_ACCESSIBLE (field->entry), GTK_ACCESSIBLE_STATE_INVALID,
      why != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE,
      -1);
}

static char *
format_number (AppField *field, double value)
{
  g_autofree char *number = g_strdup_printf ("%.*f", field->digits, value);
  if (field->digits > 0)
    {
      size_t n = strlen (number);
      while (n > 1 && number[n - 1] == '0')
        number[--n] = '\0';
      if (n > 1 && !g_ascii_isdigit (number[n - 1]))
        number[--n] = '\0';
    }
  if (g_str_equal (number, "-0"))
    return g_strconcat ("0", field->suffix, NULL);
  /* The same minus as lengths have. */
  if (number[0] == '-')
    return g_strconcat ("\u2212", number + 1, field->suffix, NULL);
  return g_strconcat (number, field->suffix, NULL);
}

static void
show_value (AppField *field)
{
  g_free (field->shown);
  if (field->kind == APP_FIELD_TEXT)
    field->shown = g_strdup (field->text);
  else if (isnan (field->value))
    field->shown = g_strdup ("");
  else if (field->kind == APP_FIELD_LENGTH)
    field->shown = pattern_length_format (field->value, field->unit, TRUE);
  else
    field->shown = format_number (field, field->value);
  set_unreadable (field, NULL);
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (field->entry)),
                    field->shown))
    gtk_editable_set_text (GTK_EDITABLE (field->entry), field->shown);
}

/* Plain numbers are read by the reader of lengths, for its arithmetic; words of
 * units are kept out first. */
static gboolean
read_number (AppField *field, const char *text, double *value, GError **error)
{
  g_autofree char *plain = g_strdup (text);
  g_strstrip (plain);
  g_autofree char *suffix = g_strstrip (g_strdup (field->suffix));
  if (suffix[0] != '\0' && g_str_has_suffix (plain, suffix))
    plain[strlen (plain) - strlen (suffix)] = '\0';
  for (const char *p = plain; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_isalpha (g_utf8_get_char (p)) || *p == '"' || *p == '\'')
      {
        g_set_error (error, PATTERN_LENGTH_ERROR,
                     PATTERN_LENGTH_ERROR_UNREADABLE,
                     _ ("“%s” is not a number."), text);
        return FALSE;
      }
  return pattern_length_parse (plain, PATTERN_MM, value, error);
}

static gboolean
check_range (AppField *field, double value, GError **error)
{
  if (value >= field->least && value <= field->most)
    return TRUE;
  g_autofree char *least
      = field->kind == APP_FIELD_LENGTH
            ? pattern_length_format (field->least, field->unit, FALSE)
            : format_number (field, field->least);
  g_autofree char *most
      = field->kind == APP_FIELD_LENGTH
            ? pattern_length_format (field->most, field->unit, FALSE)
            : format_number (field, field->most);
  if (isinf (field->most))
    g_set_error (error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_RANGE,
                 _ ("At least %s fits here."), least);
  else
    g_set_error (error, PATTERN_LENGTH_ERROR, PATTERN_LENGTH_ERROR_RANGE,
                 _ ("Between %s and %s fits here."), least, most);
  return FALSE;
}

static gboolean
read_value (AppField *field, double *value, GError **error)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (field->entry));
  gboolean read = field->kind == APP_FIELD_LENGTH
                      ? pattern_length_parse (text, field->unit, value, error)
                      : read_number (field, text, value, error);
  return read && check_range (field, *value, error);
}

void
app_field_take (AppField *field)
{
  g_return_if_fail (APP_IS_FIELD (field));
  if (!is_dirty (field))
    return;
  gboolean changed = TRUE;
  if (field->kind == APP_FIELD_TEXT)
    {
      char *text
          = g_strdup (gtk_editable_get_text (GTK_EDITABLE (field->entry)));
      g_strstrip (text);
      changed = !g_str_equal (text, field->text);
      g_free (field->text);
      field->text = text;
    }
  else
    {
      g_autoptr (GError) error = NULL;
      double value = 0;
      if (!read_value (field, &value, &error))
        {
          set_unreadable (field, error->message);
          return;
        }
      changed = !(fabs (value - field->value) <= 1e-9);
      field->value = value;
    }
  show_value (field);
  if (changed)
    g_signal_emit (field, signals[SIGNAL_ENTERED], 0, FALSE);
}

static void
step_by (AppField *field, double steps)
{
  double value = field->value;
  if (is_dirty (field))
    {
      g_autoptr (GError) error = NULL;
      if (!read_value (field, &value, &error))
        {
          set_unreadable (field, error->message);
          return;
        }
    }
  if (isnan (value))
    return;
  double step = field->kind == APP_FIELD_LENGTH
                    ? pattern_length_step (field->unit)
                    : field->step;
  value += steps * step;
  value = CLAMP (value, field->least, field->most);
  if (value == field->value && !is_dirty (field))
    return;
  field->value = value;
  show_value (field);
  gtk_editable_set_position (GTK_EDITABLE (field->entry), -1);
  g_signal_emit (field, signals[SIGNAL_ENTERED], 0, TRUE);
}

static gboolean
on_key (AppField *field, guint key, guint code, GdkModifierType mods)
{
  (void)code;
  gboolean steps = field->kind != APP_FIELD_TEXT;
  double by = (mods & GDK_SHIFT_MASK) != 0 ? 10 : 1;
  switch (key)
    {
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      if (steps)
        step_by (field, by);
      return steps;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      if (steps)
        step_by (field, -by);
      return steps;
    case GDK_KEY_Escape:
      if (!is_dirty (field) && !field->unreadable)
        return FALSE;
      show_value (field);
      gtk_editable_set_position (GTK_EDITABLE (field->entry), -1);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
on_scroll (AppField *field, double dx, double dy)
{
  (void)dx;
  if (field->kind == APP_FIELD_TEXT || dy == 0
      || (gtk_widget_get_state_flags (field->entry)
          & GTK_STATE_FLAG_FOCUS_WITHIN)
             == 0)
    return FALSE;
  step_by (field, dy < 0 ? 1 : -1);
  return TRUE;
}

static void
on_leave (AppField *field)
{
  app_field_take (field);
  gtk_editable_select_region (GTK_EDITABLE (field->entry), 0, 0);
}

static void
on_activate (AppField *field)
{
  app_field_take (field);
  if (!field->unreadable)
    gtk_editable_select_region (GTK_EDITABLE (field->entry), 0, -1);
}

static void
app_field_finalize (GObject *object)
{
  AppField *field = APP_FIELD (object);
  g_free (field->suffix);
  g_free (field->text);
  g_free (field->shown);
  G_OBJECT_CLASS (app_field_parent_class)->finalize (object);
}

static gboolean
app_field_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (APP_FIELD (widget)->entry);
}

static void
app_field_class_init (AppFieldClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = app_field_finalize;
  GTK_WIDGET_CLASS (klass)->grab_focus = app_field_grab_focus;
  signals[SIGNAL_ENTERED]
      = g_signal_new ("entered", APP_TYPE_FIELD, G_SIGNAL_RUN_LAST, 0, NULL,
                      NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
}

static void
app_field_init (AppField *field)
{
  field->text = g_strdup ("");
  field->shown = g_strdup ("");
  field->suffix = g_strdup ("");
  field->step = 1;
  field->least = -INFINITY;
  field->most = INFINITY;
  gtk_orientable_set_orientation (GTK_ORIENTABLE (field),
                                  GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (field), 3);

  field->entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (field->entry), 6);
  gtk_widget_set_hexpand (field->entry, TRUE);
  gtk_box_append (GTK_BOX (field), field->entry);
  field->why = app_ui_paragraph ("", "why");
  gtk_label_set_max_width_chars (GTK_LABEL (field->why), 16);
  gtk_widget_set_visible (field->why, FALSE);
  gtk_box_append (GTK_BOX (field), field->why);

  g_signal_connect_swapped (field->entry, "activate", G_CALLBACK (on_activate),
                            field);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_leave), field);
  gtk_widget_add_controller (field->entry, focus);
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), field);
  gtk_widget_add_controller (field->entry, keys);
  GtkEventController *wheel = gtk_event_controller_scroll_new (
      GTK_EVENT_CONTROLLER_SCROLL_VERTICAL
      | GTK_EVENT_CONTROLLER_SCROLL_DISCRETE);
  g_signal_connect_swapped (wheel, "scroll", G_CALLBACK (on_scroll), field);
  gtk_widget_add_controller (field->entry, wheel);
}

GtkWidget *
app_field_new (AppFieldKind kind, const char *name)
{
  AppField *field = g_object_new (APP_TYPE_FIELD, NULL);
  field->kind = kind;
  if (kind != APP_FIELD_TEXT)
    gtk_widget_add_css_class (field->entry, "figures");
  app_field_set_name (field, name);
  if (kind != APP_FIELD_TEXT)
    show_value (field);
  return GTK_WIDGET (field);
}

void
app_field_set_name (AppField *field, const char *name)
{
  app_ui_name (field->entry, name);
}

void
app_field_set_unit (AppField *field, PatternUnit unit)
{
  if (field->unit == unit)
    return;
  gboolean dirty = is_dirty (field);
  field->unit = unit;
  if (!dirty)
    show_value (field);
}

void
app_field_set_number (AppField *field, const char *suffix, int digits,
                      double step)
{
  g_free (field->suffix);
  field->suffix = g_strdup (suffix);
  field->digits = digits;
  field->step = step;
  show_value (field);
}

void
app_field_set_range (AppField *field, double least, double most)
{
  field->least = least;
  field->most = most;
}

void
app_field_set_value (AppField *field, double value)
{
  g_return_if_fail (APP_IS_FIELD (field));
  field->value = value;
  if (!is_dirty (field))
    show_value (field);
}

void
app_field_set_mixed (AppField *field, const char *words)
{
  g_return_if_fail (APP_IS_FIELD (field) && field->kind != APP_FIELD_TEXT);
  gtk_entry_set_placeholder_text (GTK_ENTRY (field->entry), words);
  app_field_set_value (field, NAN);
}

void
app_field_set_text (AppField *field, const char *text)
{
  g_return_if_fail (APP_IS_FIELD (field));
  gboolean dirty = is_dirty (field);
  if (!g_str_equal (field->text, text))
    {
      g_free (field->text);
      field->text = g_strdup (text);
    }
  if (!dirty)
    show_value (field);
}

double
app_field_get_value (AppField *field)
{
  return field->value;
}

const char *
app_field_get_text (AppField *field)
{
  return field->text;
}

gboolean
app_field_is_unreadable (AppField *field)
{
  return field->unreadable;
}

GtkEntry *
app_field_get_entry (AppField *field)
{
  return GTK_ENTRY (field->entry);
}
