#!/bin/sh
# The translations keep up with the program: every file with translatable text is listed, and of
# the texts that are there today no language lacks more than a few in a hundred.
#
#   po.sh SOURCE_ROOT
set -eu
tolerance=3 # in a hundred
cd "$1"
for tool in xgettext msgmerge msgfmt; do
    command -v $tool >/dev/null || { echo "no $tool: skipped"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
status=0

# Listed and there, there and listed.
grep -v '^#' po/POTFILES.in | sed '/^$/d' | sort >"$work/listed"
{
    grep -lE '(^|[^A-Za-z0-9])(N_|C_|_|ngettext)\(' $(find src -name '*.c') || true
    grep -lE 'translatable="yes"' ui/*.ui
    ls data/*.desktop.in data/*.metainfo.xml.in data/*.mime.xml.in
} | sort -u >"$work/there"
for file in $(comm -13 "$work/listed" "$work/there"); do
    echo "FAILED: $file has text to translate and is not in po/POTFILES.in"
    status=1
done
for file in $(cat "$work/listed"); do
    [ -f "$file" ] || { echo "FAILED: po/POTFILES.in lists $file, which is not there"; status=1; }
done
[ $status -eq 0 ] || exit 1

xgettext --from-code=UTF-8 --keyword=_ --keyword=N_ --keyword=C_:1c,2 --keyword=NC_:1c,2 \
    --flag=g_strdup_printf:1:c-format --files-from=po/POTFILES.in --directory=. \
    --output="$work/now.pot" 2>"$work/log" || { cat "$work/log"; exit 1; }
total=$(msgfmt --statistics -o /dev/null "$work/now.pot" 2>&1 | grep -oE '[0-9]+ untranslated' |
    cut -d' ' -f1)
echo "$total texts in the program; $tolerance in a hundred may be missing"
[ "$total" -gt 100 ] || { echo "FAILED: that cannot be all of them"; exit 1; }

for language in $(grep -v '^#' po/LINGUAS); do
    msgfmt --check -o /dev/null "po/$language.po" || status=1
    # What is there today and has a translation that is not a guess.
    msgmerge --quiet --no-fuzzy-matching -o "$work/merged.po" "po/$language.po" "$work/now.pot"
    done=$(msgattrib --translated --no-fuzzy --no-obsolete "$work/merged.po" |
        msgfmt --statistics -o /dev/null - 2>&1 | grep -oE '^[0-9]+' || echo 0)
    missing=$((total - done))
    echo "$language: $done translated, $missing missing"
    if [ $((missing * 100)) -gt $((total * tolerance)) ]; then
        echo "FAILED: run the target notchwright-update-po and translate what is new in $language"
        msgattrib --untranslated --no-obsolete "$work/merged.po" | grep -E '^msgid ' | head -20
        status=1
    fi
done
exit $status
