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

# The sloper drafted from the figures that come with the program, the help's steps beside what they draw.
steps () {
  local work; work=$(mktemp -d)
  "$bodkin" draft "$top/data/measurements.bodkin" torso-sloper -o "$work/sloper.bodkin" >/dev/null
  "$bodkin" convert "$work/sloper.bodkin" "$work/sloper.svg" >/dev/null
  rsvg-convert "$work/sloper.svg" -w 1000 -b white -o "$work/sloper.png"
  local marks=() at
  for at in 1:410,380 2:700,421 3:72,56 4:190,22 5:850,560 6:850,403 7:918,62 8:757,180 9:276,190 9:702,240 10:275,660 10:708,662 11:104,662 12:800,350; do
    local n=${at%%:*} x=${at#*:}; local y=${x#*,}; x=${x%,*}
    marks+=(-fill '#8c2668' -stroke none -draw "circle $x,$y $((x + 12)),$y" -fill white
      -draw "text $((x - 4 * ${#n})),$((y + 5)) '$n'")
  done
  convert "$work/sloper.png" -font DejaVu-Sans-Bold -pointsize 13 "${marks[@]}" \
    -bordercolor white -border 12 -strip +dither -colors 64 -define png:compression-level=9 "PNG8:$out/sloper-steps.png"
  rm -r "$work"
}

strip strip "$top/tests/data/patterns/set-in-sleeve.bodkin" armhole
strip shaping "$top/tests/data/patterns/princess.bodkin" "panel seam"
steps
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
kill "$pid"
wait "$pid" 2>/dev/null || true
# From measurements, as its amounts are filled in.
work=$(mktemp -d)
cp "$top/data/measurements.bodkin" "$work/sloper.bodkin"
"$bodkin" "$work/sloper.bodkin" & pid=$!
xdotool search --sync --onlyvisible --name 'Sloper from measurements' >/dev/null
sleep 4
xdotool key v
sleep 1
xdotool type torso
sleep 1
xdotool key Return
sleep 1
xdotool mousemove 640 20
shot sloper
rm -r "$work"
