#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Everything is put in place, and all of it is taken out again.
source=$1
build=$2
failed=0
n=0
dest=$(mktemp -d)
trap 'rm -rf "$dest"' EXIT
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
there () {
  local f
  for f in "$@"; do
    [ -n "$(find "$dest" -path "*/$f" -type f -size +0)" ] || { echo "missing: $f"; return 1; }
  done
}
check "install" meson install -C "$build" --no-rebuild --destdir "$dest"
check "the program is there" there bin/bodkin share/man/man1/bodkin.1
check "so are the demo, the slopers and the figures" there share/bodkin/ferry-cape.bodkin \
  share/bodkin/slopers.bodkin share/bodkin/measurements.bodkin share/bodkin/ferry-sloper.jpg
check "desktop entry, icon, media type, metadata" there \
  share/applications/page.bodkin.bodkin.desktop \
  share/icons/hicolor/scalable/apps/page.bodkin.bodkin.svg \
  share/icons/hicolor/symbolic/apps/page.bodkin.bodkin-symbolic.svg \
  share/mime/packages/page.bodkin.bodkin.xml \
  share/metainfo/page.bodkin.bodkin.metainfo.xml
check "help" there share/help/C/bodkin/index.page share/help/C/bodkin/figures/window.png
check "the licence" there share/licenses/bodkin/COPYING
check "it runs from there" bash -c "\"\$(find '$dest' -path '*/bin/bodkin')\" --version"
if command -v update-mime-database >/dev/null; then
  mime=$(dirname "$(dirname "$(find "$dest" -path '*/mime/packages/page.bodkin.bodkin.xml')")")
  check "the media type is known" update-mime-database "$mime"
  cp "$source/data/ferry-cape.bodkin" "$dest/renamed"
  check "a document is known by its content" bash -c "
    XDG_DATA_HOME='$dest/none' XDG_DATA_DIRS='$(dirname "$mime"):/usr/share' GIO_USE_VFS=local \
      gio info -a standard::content-type '$dest/renamed' | grep -q application/x-bodkin+xml"
  rm -rf "$dest/renamed"
  find "$mime" -type f ! -path '*/packages/*' -delete
fi
check "uninstall" ninja -C "$build" uninstall
check "nothing is left" bash -c "! find '$dest' -type f | grep ."
echo "1..$n"
exit $failed
