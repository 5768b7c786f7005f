#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# in-display.sh PROGRAM ARGUMENTS: runs it on a display of its own, with a window manager
# and an empty home. Where there is no Xvfb the program is run as it is and skips
# itself.
set -u
command -v Xvfb >/dev/null || exec "$@"

work=$(mktemp -d)
wm=
Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp -noreset \
  3>"$work/number" 2>/dev/null &
xvfb=$!
finish () {
  [ -z "$wm" ] || kill "$wm" 2>/dev/null
  kill "$xvfb" 2>/dev/null
  wait 2>/dev/null
  rm -rf "$work"
}
trap finish EXIT

for _ in $(seq 200); do
  [ -s "$work/number" ] && break
  sleep 0.05
done
DISPLAY=:$(cat "$work/number")
mkdir -p "$work/home" "$work/run"
chmod 700 "$work/run"
export DISPLAY HOME=$work/home XDG_RUNTIME_DIR=$work/run
export XDG_CONFIG_HOME=$work/config XDG_STATE_HOME=$work/state
export XDG_DATA_HOME=$work/data XDG_CACHE_HOME=$work/cache
export GDK_BACKEND=x11 LC_ALL=C.UTF-8
unset WAYLAND_DISPLAY DBUS_SESSION_BUS_ADDRESS GTK_THEME
if command -v openbox >/dev/null; then
  openbox >/dev/null 2>&1 &
  wm=$!
  sleep 0.5
fi
"$@"
