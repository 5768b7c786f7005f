/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/scheme.h"

#include <string.h>

#include "app/settings.h"

#define PORTAL_NAME "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define APPEARANCE "org.freedesktop.appearance"
#define RESOURCES "/page/bodkin/bodkin/"

static gboolean portal_dark;
static gboolean theme_dark; /* what the theme's own setting was at the start */
static gboolean dark;
static gboolean contrast; /* the theme asks for more of it */
static GtkCssProvider *dark_style, *contrast_style;
static GPtrArray *watchers; /* Watcher */

typedef struct
{
  GObject *owner;
  void (*changed) (gpointer owner);
} Watcher;

gboolean
app_scheme_is_dark (void)
{
  return dark;
}

static void
watcher_gone (gpointer data, GObject *where)
{
  (void)where;
  g_ptr_array_remove (watchers, data);
}

void
app_scheme_watch (GObject *owner, void (*changed) (gpointer owner))
{
  if (watchers == NULL)
    watchers = g_ptr_array_new_with_free_func (g_free);
  Watcher *watcher = g_new0 (Watcher, 1);
  watcher->owner = owner;
  watcher->changed = changed;
  g_ptr_array_add (watchers, watcher);
  g_object_weak_ref (owner, watcher_gone, watcher);
}

static gboolean
wanted (void)
{
  switch (app_settings_get ()->look)
    {
    case APP_LOOK_LIGHT:
      return FALSE;
    case APP_LOOK_DARK:
      return TRUE;
    case APP_LOOK_AUTO:
    default:
      return portal_dark || theme_dark;
    }
}

/* Over light or dark, stronger lines and words. */
static void
use_contrast (GdkDisplay *display)
{
  if (contrast_style != NULL)
    gtk_style_context_remove_provider_for_display (
        display, GTK_STYLE_PROVIDER (contrast_style));
  g_clear_object (&contrast_style);
  contrast_style = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (
      contrast_style, dark ? RESOURCES "style-contrast-dark.css"
                           : RESOURCES "style-contrast.css");
  gtk_style_context_add_provider_for_display (
      display, GTK_STYLE_PROVIDER (contrast_style),
      GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 2);
}

void
app_scheme_apply (void)
{
  GdkDisplay *display = gdk_display_get_default ();
  if (display == NULL)
    return;
  dark = wanted ();
  g_object_set (gtk_settings_get_default (),
                "gtk-application-prefer-dark-theme", dark, NULL);
  if (dark_style == NULL)
    {
      dark_style = gtk_css_provider_new ();
      gtk_css_provider_load_from_resource (dark_style,
                                           RESOURCES "style-dark.css");
    }
  gtk_style_context_remove_provider_for_display (
      display, GTK_STYLE_PROVIDER (dark_style));
  if (dark)
    gtk_style_context_add_provider_for_display (
        display, GTK_STYLE_PROVIDER (dark_style),
        GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
  if (contrast)
    use_contrast (display);
  for (guint i = 0; watchers != NULL && i < watchers->len; i++)
    {
      const Watcher *watcher = g_ptr_array_index (watchers, i);
      watcher->changed (watcher->owner);
    }
}

/* 1 prefers dark, 2 light, 0 neither. It may be boxed once or twice. */
static void
take_portal_value (GVariant *value)
{
  g_autoptr (GVariant) inner = g_variant_ref (value);
  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT))
    {
      GVariant *next = g_variant_get_variant (inner);
      g_variant_unref (inner);
      inner = next;
    }
  if (!g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    return;
  gboolean now = g_variant_get_uint32 (inner) == 1;
  if (now == portal_dark)
    return;
  portal_dark = now;
  app_scheme_apply ();
}

static void
on_portal_signal (GDBusConnection *bus, const char *sender, const char *path,
                  const char *interface, const char *name, GVariant *args,
                  gpointer data)
{
  (void)bus;
  (void)sender;
  (void)path;
  (void)interface;
  (void)name;
  (void)data;
  if (!g_variant_is_of_type (args, G_VARIANT_TYPE ("(ssv)")))
    return;
  const char *group, *key;
  g_autoptr (GVariant) value = NULL;
  g_variant_get (args, "(&s&sv)", &group, &key, &value);
  if (g_str_equal (group, APPEARANCE) && g_str_equal (key, "color-scheme"))
    take_portal_value (value);
}

static void
on_portal_read (GObject *source, GAsyncResult *result, gpointer data)
{
  (void)data;
  g_autoptr (GVariant) reply = g_dbus_connection_call_finish (
      G_DBUS_CONNECTION (source), result, NULL);
  if (reply == NULL)
    return; /* no portal: the theme decides */
  g_autoptr (GVariant) value = NULL;
  g_variant_get (reply, "(v)", &value);
  take_portal_value (value);
}

static void
follow_portal (GApplication *app)
{
  GDBusConnection *bus = g_application_get_dbus_connection (app);
  if (bus == NULL)
    return;
  g_dbus_connection_signal_subscribe (
      bus, PORTAL_NAME, PORTAL_SETTINGS, "SettingChanged", PORTAL_PATH,
      APPEARANCE, G_DBUS_SIGNAL_FLAGS_NONE, on_portal_signal, NULL, NULL);
  g_dbus_connection_call (bus, PORTAL_NAME, PORTAL_PATH, PORTAL_SETTINGS,
                          "Read",
                          g_variant_new ("(ss)", APPEARANCE, "color-scheme"),
                          G_VARIANT_TYPE ("(v)"), G_DBUS_CALL_FLAGS_NONE, 2000,
                          NULL, on_portal_read, NULL);
}

void
app_scheme_start (GtkApplication *app)
{
  g_autofree char *theme = NULL;
  g_object_get (gtk_settings_get_default (),
                "gtk-application-prefer-dark-theme", &theme_dark,
                "gtk-theme-name", &theme, NULL);
  const char *forced = g_getenv ("GTK_THEME");
  if ((theme != NULL && strstr (theme, "dark") != NULL)
      || (forced != NULL && strstr (forced, "dark") != NULL))
    theme_dark = TRUE;
  contrast = (theme != NULL
              && (strstr (theme, "hc") != NULL
                  || strstr (theme, "HighContrast") != NULL))
             || (forced != NULL && strstr (forced, "hc") != NULL);
  g_autoptr (GtkCssProvider) style = gtk_css_provider_new ();
  gtk_css_provider_load_from_resource (style, RESOURCES "style.css");
  gtk_style_context_add_provider_for_display (
      gdk_display_get_default (), GTK_STYLE_PROVIDER (style),
      GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  follow_portal (G_APPLICATION (app));
  app_scheme_apply ();
}
