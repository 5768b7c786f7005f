#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# From a fresh clone to the window on the demo, in one command: installs what is missing,
# builds, and opens Bodkin. Where there is no display it does the same
# job without one: checks the demo, writes its report and its print sheets.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
. "$top/src/packages.sh"
need_packages "${build_packages[@]}"

build=${BODKIN_BUILD:-$top/build}/release
[ -f "$build/build.ninja" ] ||
  meson setup "$build" "$top" --buildtype=release
ninja -C "$build" src/bodkin

export BODKIN_DATA="$top/data"
bodkin="$build/src/bodkin"
demo="$top/data/ferry-cape.bodkin"

if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
  status=0
  "$bodkin" --demo "$@" || status=$?
  # 69: no window could be opened, though a display was named.
  [ "$status" -eq 69 ] || exit "$status"
fi

out="$build/ferry-cape"
mkdir -p "$out"
echo
echo "There is no display here, so the demo is checked and printed without a window."
echo
findings=0
"$bodkin" check "$demo" || findings=$?
[ "$findings" -le 1 ] || exit "$findings"
"$bodkin" report "$demo" -o "$out/report.txt"
"$bodkin" convert "$demo" "$out/sheets-A4.pdf" --paper A4
"$bodkin" convert "$demo" "$out/pattern.svg"
echo
echo "(The demo carries two faults on purpose, so that there is something to find.)"
echo "Report:       $out/report.txt"
echo "Print sheets: $out/sheets-A4.pdf   (print at 100 %, then measure the 100 mm square)"
echo "Outlines:     $out/pattern.svg"
