#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs every test: builds plain and with the address and undefined-behaviour
# sanitizers, and runs everything in both, the real window under a virtual
# display included. Ends in one line "N passed, N failed".
set -u
top=$(cd "$(dirname "$0")/.." && pwd)
. "$top/src/packages.sh"
test_packages=(
  xvfb xauth xdotool openbox dbus at-spi2-core imagemagick
  poppler-utils qpdf libxml2-utils appstream yelp-tools strace
  libgsl-dev libgeos-dev librsvg2-dev iso-flags-svg locales
)
if ! need_packages "${build_packages[@]}" "${test_packages[@]}"; then
  echo "0 passed, 1 failed"
  exit 1
fi

build=${BODKIN_BUILD:-$top/build}
export LC_ALL=C.UTF-8
broken=0
run () { # folder, meson options...
  local dir=$1
  shift
  if { [ -f "$dir/build.ninja" ] || meson setup "$dir" "$top" "$@"; } &&
     ninja -C "$dir"; then
    rm -f "$dir"/meson-logs/testlog.junit.xml
    # A program that dies leaves no failed case behind, only meson's verdict.
    if ! meson test -C "$dir" --print-errorlogs --no-rebuild &&
       ! grep -q '<failure\|<error' "$dir/meson-logs/testlog.junit.xml"; then
      broken=$((broken + 1))
    fi
  else
    broken=$((broken + 1))
    echo "$dir could not be built"
  fi
}
run "$build/plain" -Dwerror=true
run "$build/sanitized" -Dwerror=true -Db_sanitize=address,undefined -Db_lundef=false

# Every test case counts, not every program.
count () { # what
  cat "$build"/{plain,sanitized}/meson-logs/testlog.junit.xml 2>/dev/null |
    grep -o "<$1[ />]" | wc -l
}
cases=$(count testcase)
failed=$(($(count failure) + $(count error) + broken))
skipped=$(count skipped)
passed=$((cases - $(count failure) - $(count error) - skipped))
[ "$passed" -gt 0 ] || failed=$((failed + 1))
if [ "$skipped" -gt 0 ]; then
  echo "$passed passed, $failed failed, $skipped skipped"
else
  echo "$passed passed, $failed failed"
fi
[ "$failed" -eq 0 ]
