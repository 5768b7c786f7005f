#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# figures.sh BODKIN: paints the figures of the help and the README anew, from the
# real window on the demo. Not a test; run it by hand after the window changed:
#   bash tests/app/in-display.sh bash tests/app/figures.sh build/plain/src/bodkin
# and look at what it made.
set -eu
bodkin=$1
top=$(cd "$(dirname "$0")/../.." && pwd)
out=$top/help/C/figures
export BODKIN_DATA=$top/data
"$bodkin" --demo & pid=$!
trap 'kill $pid 2>/dev/null' EXIT
xdotool search --sync --onlyvisible --name 'Ferry cape' >/dev/null
sleep 5
shot () {
  sleep 0.8
  import -window root "$out/$1.png"
  # Flat colours: a palette keeps the figures small.
  convert "$out/$1.png" -strip +dither -colors 128 -define png:compression-level=9 "PNG8:$out/$1.png"
}
click () { xdotool mousemove "$1" "$2"; sleep 0.3; xdotool click 1; sleep 0.5; }

# A seam unrolled, without the window.
strip () { # figure, pattern, seam
  "$bodkin" walk "$2" "$3" -o "$out/$1.png" >/dev/null
  convert "$out/$1.png" -resize 50% -strip +dither -colors 128 -define png:compression-level=9 "PNG8:$out/$1.png"
}

strip strip "$top/tests/data/patterns/set-in-sleeve.bodkin" armhole
strip shaping "$top/tests/data/patterns/princess.bodkin" "panel seam"
click 120 725 # the neck seam, from the list below the table
xdotool mousemove 640 60
shot window
xdotool key w
sleep 1
for _ in 1 2 3 4; do xdotool key Right; sleep 0.6; done
shot walk
xdotool key Escape
sleep 0.5
xdotool key Escape Escape
sleep 0.5
click 771 212 # the front's neckline
xdotool mousemove 771 212 mousedown 1
for _ in 1 2 3; do xdotool mousemove_relative -- -1 1; sleep 0.05; done
shot reshape
xdotool mouseup 1
sleep 0.5
xdotool key ctrl+z
sleep 0.5
xdotool key F8
sleep 2
shot checks
xdotool key Escape
sleep 0.5
xdotool key ctrl+p
sleep 1
shot print
