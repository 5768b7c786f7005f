#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Help, desktop entry, metadata and catalogue, by their own validators.
cd "$1" || exit 99
build=$2
failed=0
n=0
check () { # name, command...
  local name=$1 out
  shift
  n=$((n + 1))
  if out=$("$@" 2>&1); then echo "ok $n - $name"; else
    failed=1
    echo "not ok $n - $name"
    printf '%s\n' "$out" | sed 's/^/# /'
  fi
}
skip () { n=$((n + 1)); echo "ok $n - $1 # SKIP $2 is not installed"; }
have () { command -v "$1" >/dev/null; }
if have yelp-check; then
  check "help pages are valid" yelp-check validate help/C/*.page
  check "help pages' links lead somewhere" yelp-check links help/C/*.page
  check "every help page can be reached" yelp-check orphans help/C/*.page
else
  skip "help pages" yelp-check
fi
check "every figure of the help is there" bash -c '
  for f in $(grep -oh "figures/[a-z-]*\.png" help/C/*.page README.md | sort -u); do
    [ -s "help/C/$f" ] || { echo "$f"; exit 1; }
  done'
if have identify; then
  check "no figure is an empty picture" bash -c '
    for f in help/C/figures/*.png; do
      [ "$(identify -format %k "$f")" -ge 32 ] || { echo "$f"; exit 1; }
    done'
fi
check "every help page is installed" bash -c '
  for f in help/C/*.page; do grep -q "${f#help/C/}" help/meson.build || { echo "$f"; exit 1; }; done'
check "the desktop entry is valid" desktop-file-validate "$build/data/page.bodkin.bodkin.desktop"
if have appstreamcli; then
  check "the metadata are valid" appstreamcli validate --no-net --explain "$build/data/page.bodkin.bodkin.metainfo.xml"
else
  skip "metadata" appstreamcli
fi
check "every source with words for people is in the catalogue" bash -c '
  for f in $(grep -rlE "\b(_|C_|N_|ngettext) ?\(\"" src --include=*.c; grep -rl "translatable=\"yes\"" src data --include=*.ui); do
    grep -qx "$f" po/POTFILES || { echo "$f is not in po/POTFILES"; exit 1; }
  done'
for po in po/*.po; do
  [ -e "$po" ] || continue
  check "$po is sound" msgfmt -c -o /dev/null "$po"
done
echo "1..$n"
exit $failed
