#!/bin/sh
# The MIME package does what it says: asks the system what it takes our files for, with the package
# installed in a folder of its own.
#
#   mime.sh PACKAGE.xml STORE.notch DESIGN.json
set -eu
package=$1 store=$2 design=$3
for tool in update-mime-database gio; do
    command -v $tool >/dev/null || { echo "no $tool: skipped"; exit 77; }
done
home=$(mktemp -d)
trap 'rm -rf "$home"' EXIT
mkdir -p "$home/data/mime/packages" "$home/files"
cp "$package" "$home/data/mime/packages/notchwright.xml"
update-mime-database "$home/data/mime" >"$home/log" 2>&1 || { cat "$home/log"; exit 1; }
export XDG_DATA_HOME="$home/data" XDG_DATA_DIRS=/usr/share

failures=0
# A name, what it holds, and what it must be taken for.
expect() {
    cp "$2" "$home/files/$1"
    found=$(gio info -a standard::content-type "$home/files/$1" | sed -n 's/.*content-type: //p')
    if [ "$found" = "$3" ]; then
        echo "ok: $1 is $found"
    else
        echo "FAILED: $1 is taken for $found, not for $3"
        failures=$((failures + 1))
    fi
}

printf 'SQLite format 3' >"$home/other.db" # the header of another program's file
head -c 200 /dev/zero >>"$home/other.db"
printf '{"format": "something else"}' >"$home/other.json"

expect library.notch "$store" application/x-notchwright-store
expect nameless "$store" application/x-notchwright-store
expect box.notch.json "$design" application/x-notchwright-design+json
expect nameless-design "$design" application/x-notchwright-design+json
expect other.json "$home/other.json" application/json
expect other-database "$home/other.db" application/vnd.sqlite3
exit $failures
