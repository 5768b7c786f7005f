#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The layers of DEVELOPERS.md: an include that climbs fails here, and so does a
# file without its licence line.
cd "$1" || exit 99
failed=0
n=0
check () { # name, output that must be empty
  n=$((n + 1))
  if [ -z "$2" ]; then echo "ok $n - $1"; else
    failed=1; echo "not ok $n - $1"; printf '%s\n' "$2" | sed 's/^/# /'
  fi
}
climbs () { # layer, pattern of includes it must not have
  grep -rnE "#[[:space:]]*include[[:space:]]*[<\"]($2)" "src/$1" --include='*.[ch]'
}
own='geometry|tracing|pattern|sewing|drafting|drawing|file|app|command'
without () { # layers allowed -> a pattern of the others
  local all=${own//|/ } out="" l
  for l in $all; do case " $* " in *" $l "*) ;; *) out="$out|$l/" ;; esac; done
  echo "${out#|}"
}
check "geometry stands on C and libm alone" \
  "$(climbs geometry "$(without geometry)|glib|gio|gtk|gdk|cairo|pango|libxml|gsl|geos")"
check "tracing stands on geometry and GLib" \
  "$(climbs tracing "$(without geometry tracing)|gio|gtk|gdk|cairo|pango|libxml")"
check "pattern stands on geometry and GLib" \
  "$(climbs pattern "$(without geometry pattern)|gio|gtk|gdk|cairo|pango|libxml")"
check "sewing stands on pattern" \
  "$(climbs sewing "$(without geometry pattern sewing)|gio/|gtk|gdk|cairo|pango|libxml")"
check "drafting stands on sewing and tracing" \
  "$(climbs drafting "$(without geometry tracing pattern sewing drafting)|gio/|gtk|gdk|cairo|pango|libxml")"
check "drawing stands on sewing and cairo" \
  "$(climbs drawing "$(without geometry pattern sewing drawing)|gio/|gtk|gdk/|libxml")"
check "file knows no window" "$(climbs file "app/|command/|gtk|gdk/")"
check "command knows no window" "$(climbs command "app/|gtk|gdk/")"
check "session and tools know no toolkit" \
  "$(grep -nE '#[[:space:]]*include[[:space:]]*[<"](gtk|gdk)/' src/app/session*.[ch] src/app/hit*.[ch] src/app/tool*.[ch])"
check "only tests know the reference libraries" \
  "$(grep -rnE '#[[:space:]]*include[[:space:]]*<(gsl|geos|librsvg)' src)"
check "every source carries its licence line" \
  "$(grep -rL 'SPDX-License-Identifier: GPL-3.0-or-later' src tests \
      --include='*.[ch]' --include='*.sh' --include='*.py' --include='meson.build' --include='*.css')"
top=""
for e in $(git ls-files 2>/dev/null | cut -d/ -f1 | sort -u); do
  case "$e" in README.md|DEVELOPERS.md|meson.build|src|data|po|tests|help|.*) ;; *) top="$top $e" ;; esac
done
check "nothing at the top that does not belong" "$top"
echo "1..$n"
exit $failed
