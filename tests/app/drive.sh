#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# drive.sh BODKIN: the whole program in its real window, driven by the keyboard alone: the
# demo is changed, taken back, printed and saved; a crash loses nothing; a
# drawing is brought in. Prints TAP. To be run by in-display.sh.
set -u
bodkin=$1
for tool in xdotool openbox pdfinfo qpdf; do
  command -v "$tool" >/dev/null || { echo "1..0 # SKIP $tool is not installed"; exit 0; }
done
[ -n "${DISPLAY:-}" ] || { echo "1..0 # SKIP no display"; exit 0; }

work=$(mktemp -d)
pid=
n=0
failed=0
finish () {
  [ -z "$pid" ] || kill -9 "$pid" 2>/dev/null
  rm -rf "$work"
}
trap finish EXIT

check () { # what, then a command
  local what=$1
  shift
  n=$((n + 1))
  if "$@" >"$work/out" 2>&1; then
    echo "ok $n - $what"
  else
    echo "not ok $n - $what"
    sed 's/^/# /' "$work/out"
    echo "# active: $(xdotool getactivewindow getwindowname 2>/dev/null)"
    failed=1
  fi
}
wait_for () { # a command, until it succeeds
  for _ in $(seq 150); do
    "$@" >/dev/null 2>&1 && return 0
    sleep 0.1
  done
  return 1
}
active_is () { [[ $(xdotool getactivewindow getwindowname) == $1 ]]; }
titled () { wait_for active_is "$1"; }
gone () { ! kill -0 "$pid" 2>/dev/null; }
start () { "$bodkin" "$@" 2>>"$work/log" & pid=$!; }
ended_well () { wait_for gone && wait "$pid"; }
keys () { for key in "$@"; do xdotool key "$key"; sleep 0.15; done; }
# Into a file chooser: a path begun with / goes to the place to type in.
choose () {
  keys ctrl+a
  xdotool type --delay 20 "$1"
  sleep 0.5
  keys Return
}

# --- the demo, by keys ---
start --demo
check "the demo opens" titled "Ferry cape – Bodkin"
sleep 0.5
keys Tab Tab Tab Return Return Right
check "a node nudged: the title says it is not saved" titled "• Ferry cape – Bodkin"
keys ctrl+z
check "taken back: nothing to save" titled "Ferry cape – Bodkin"

# --- a seam walked ---
# The back's first edge that is sewn; a notch struck on both sides 3 mm past the first one.
keys Escape Escape Escape Tab Return
for _ in 1 2 3 4; do keys w Right shift+Right shift+Right shift+Right n
  titled_now=$(xdotool getactivewindow getwindowname)
  [[ $titled_now == "•"* ]] && break
  keys Escape Tab
done
check "a notch is struck while a seam is walked" titled "• Ferry cape – Bodkin"
keys ctrl+z
check "one undo takes it back" titled "Ferry cape – Bodkin"
keys Delete
sleep 0.5
check "nothing is taken away meanwhile" titled "Ferry cape – Bodkin"
keys Escape

# --- print ---
keys ctrl+p
check "the print window opens" titled "Print at full size"
sleep 0.5
keys Return
check "it asks where to save the sheets" titled "Save the sheets as PDF"
choose "$work/sheets"
check "the sheets are saved" wait_for test -s "$work/sheets.pdf"
sleep 0.5
check "on A4" grep -q "210 x 297\|595.2[0-9]* x 841.[89]" <(pdfinfo "$work/sheets.pdf")
check "in several pages" test "$(pdfinfo "$work/sheets.pdf" | sed -n 's/^Pages: *//p')" -gt 10
check "sound, and never scaled" bash -c \
  "qpdf --check '$work/sheets.pdf' && qpdf --json '$work/sheets.pdf' | grep -q '\"/PrintScaling\": \"/None\"'"
keys Escape
check "back on the table" titled "Ferry cape – Bodkin"

# --- save ---
keys ctrl+s
check "it asks where to save" titled "Save the pattern"
choose "$work/cape"
check "the document is saved" wait_for test -s "$work/cape.bodkin"
"$bodkin" check "$work/cape.bodkin" >"$work/findings" 2>&1
check "and carries the demo's two faults" test $? -eq 1

# --- a crash ---
sleep 0.5
keys Escape Escape Escape Tab Right
check "changed again" titled "• Ferry cape – Bodkin"
sleep 2
kill -9 "$pid"
wait "$pid" 2>/dev/null
start
check "after a crash the start page opens" titled "Bodkin"
sleep 1
keys Return
check "and brings back what was not saved" titled "• Ferry cape – Bodkin"
sleep 0.5
keys ctrl+w
check "closing asks" titled "Save what you changed*"
sleep 0.5
keys Return
check "saving asks for a place: the old file is not replaced unasked" titled "Save the pattern"
choose "$work/again"
check "saved, closed, ended" ended_well
check "both files are there" test -s "$work/again.bodkin" -a -s "$work/cape.bodkin"
check "and they differ" bash -c "! cmp -s '$work/again.bodkin' '$work/cape.bodkin'"
start
titled "Bodkin"
sleep 1
check "nothing is offered a second time" bash -c \
  "! ls '$XDG_STATE_HOME'/bodkin/*.bodkin 2>/dev/null"
keys ctrl+q
check "it ends" ended_well

# --- a drawing ---
cat >"$work/drawing.svg" <<'SVG'
<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">
<path id="flap" d="M10 10H90V60C70 75 30 75 10 60Z"/></svg>
SVG
start "$work/drawing.svg"
check "a drawing is shown before it lands" titled "Bring in “drawing”"
sleep 0.5
keys Return
check "and becomes a pattern" titled "• drawing – Bodkin"
sleep 0.5
keys ctrl+q
titled "Save what you changed*"
sleep 0.5
keys shift+Tab Return
check "given up, it ends" ended_well

# --- what can't be opened ---
start "$work/none.bodkin"
check "a file that is not there does no harm" titled "Bodkin"
sleep 0.5
keys ctrl+q
check "it ends" ended_well
pid=

check "nothing was complained of" bash -c "! grep -iE 'warning|critical|error' '$work/log'"
echo "1..$n"
exit $failed
