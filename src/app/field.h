/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line to type in: words, a length in the pattern's unit (arithmetic and
 * fractions), or a plain number.
 *
 * Enter or leaving the field takes what stands there; Escape puts back what stood there. Up, Down and
 * the wheel (while it has the focus) step lengths and numbers, with Shift by ten steps.
 * What can't be read stays as typed, in an error state with the reason below, and nothing is changed.
 *
 * Signal "entered" (gboolean step): there is a new value; step is set when it came by stepping, so
 * that a run of steps can be one edit.
 */
#pragma once

#include <gtk/gtk.h>

#include "pattern/length-text.h"

typedef enum
{
  APP_FIELD_TEXT,
  APP_FIELD_LENGTH,
  APP_FIELD_NUMBER
} AppFieldKind;

#define APP_TYPE_FIELD (app_field_get_type ())
G_DECLARE_FINAL_TYPE (AppField, app_field, APP, FIELD, GtkBox)

GtkWidget *app_field_new (AppFieldKind kind, const char *name);
void app_field_set_name (AppField *field, const char *name);
void app_field_set_unit (AppField *field, PatternUnit unit);
/* Written after a number: "%", "°"; digits after the decimal mark; the step. */
void app_field_set_number (AppField *field, const char *suffix, int digits,
                           double step);
/* Values beyond are not taken. */
void app_field_set_range (AppField *field, double least, double most);
/* Shown unless something else is being typed at the moment. */
void app_field_set_value (AppField *field, double value);
/* Several values at once: nothing is shown but these words, and any number typed is a new
 * one. The value is not a number until then. */
void app_field_set_mixed (AppField *field, const char *words);
void app_field_set_text (AppField *field, const char *text);
double app_field_get_value (AppField *field);
const char *app_field_get_text (AppField *field);
/* Takes what is typed now, as Enter does. */
void app_field_take (AppField *field);
gboolean app_field_is_unreadable (AppField *field);
GtkEntry *app_field_get_entry (AppField *field);
