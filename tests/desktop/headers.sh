#!/bin/sh
# Every header compiles by itself. Where the source file of its name includes it before anything else,
# the build has shown that; the others are compiled here, with all warnings as errors.
#
#   headers.sh SOURCE_ROOT COMPILER...
set -eu
root=$1
shift
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$root/src"

packages=
for package in gio-2.0 json-glib-1.0 sqlite3 epoxy cairo pangocairo libzip gtk4; do
    ! pkg-config --exists "$package" || packages="$packages $package"
done
find . -name '*.h' | sed 's,^\./,,' | sort >"$work/headers"
while read -r header; do
    source=${header%.h}.c
    first=
    [ ! -e "$source" ] || first=$(grep -m 1 '^#include' "$source")
    [ "$first" = "#include \"$header\"" ] || echo "$header"
done <"$work/headers" >"$work/alone"
case $packages in
*gtk4*) ;;
*) grep -v '^app/' "$work/alone" >"$work/without" && mv "$work/without" "$work/alone" ;;
esac

status=0
while read -r header; do
    echo "#include \"$header\"" >"$work/one.c"
    # shellcheck disable=SC2046 # flags are words
    "$@" -fsyntax-only -std=c17 -D_GNU_SOURCE -Wall -Wextra -Werror -I. $(pkg-config --cflags $packages) \
        "$work/one.c" || { echo "FAILED: $header needs something that it does not include"; status=1; }
done <"$work/alone"
echo "$(wc -l <"$work/headers") headers, $(wc -l <"$work/alone") of them compiled here"
exit $status
