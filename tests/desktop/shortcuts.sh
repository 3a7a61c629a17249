#!/bin/sh
# The page of keyboard shortcuts is complete: every key of the window's table is on it, and every
# key on it can be read as one.
#
#   shortcuts.sh SOURCE_ROOT
set -eu
cd "$1"
status=0
shown=$(sed -n 's/.*"accelerator">\(.*\)<.*/\1/p' ui/help-overlay.ui | sed 's/&lt;/</g; s/&gt;/>/g' |
    tr ' ' '\n' | tr '[:upper:]' '[:lower:]' | sort -u)
keys=$(sed -n '/^} accels\[\]/,/^};/p' src/app/application.c |
    grep -oE '"(<[A-Za-z]+>)*[A-Za-z0-9]+"' | tr -d '"' | tr '[:upper:]' '[:lower:]' | sort -u)
[ "$(echo "$keys" | wc -l)" -gt 15 ] || { echo "FAILED: the table of keys was not found"; exit 1; }
for key in $keys; do
    echo "$shown" | grep -qxF -- "$key" || {
        echo "FAILED: ui/help-overlay.ui does not tell of $key"
        status=1
    }
done
for key in $shown; do
    echo "$key" | grep -qE '^(<(ctrl|shift|alt)>)*[a-z0-9_]+$' || {
        echo "FAILED: $key in ui/help-overlay.ui is no key"
        status=1
    }
done
[ $status -ne 0 ] || echo "$(echo "$keys" | wc -l) keys of the table, all told"
exit $status
