# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by src/start.sh and tests/run.sh: installs Debian packages that are
# not there yet, without asking. Says nothing where nothing is missing.

as_root () {
  if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo "$@"; fi
}

need_packages () {
  local missing=() p
  for p in "$@"; do
    dpkg-query -W -f '${Status}' "$p" 2>/dev/null | grep -q 'ok installed' || missing+=("$p")
  done
  [ ${#missing[@]} -eq 0 ] && return 0
  echo "Installing: ${missing[*]}"
  if ! as_root env DEBIAN_FRONTEND=noninteractive apt-get update -q ||
     ! as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q \
         --no-install-recommends "${missing[@]}"; then
    echo "These packages could not be installed: ${missing[*]}" >&2
    echo "Check the network connection, then run the same command again." >&2
    return 1
  fi
}

build_packages=(
  meson ninja-build pkg-config gcc libc6-dev gettext itstool
  libgtk-4-dev libxml2-dev adwaita-icon-theme fonts-dejavu-core
  shared-mime-info desktop-file-utils
)
