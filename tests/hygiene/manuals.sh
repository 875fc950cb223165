#!/usr/bin/env bash
# Each command has a manual page; page and --help name the same options; the pages are clean for mandoc.
set -u
srcdir=${srcdir:-.}
aperta=./aperta
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT

# Long options at the start of the lines of --help; in a page they stand as ".It Fl -name" at the start of their entry.
options_of_help() { grep -oE '^ +(-[a-z], )?--[a-z0-9-]+' | grep -oE -- '--[a-z0-9-]+' | sort -u; }
options_of_page() { sed -nE 's/^\.It (Fl [a-z] , )?Fl -([a-z0-9-]+).*/--\2/p' "$1" | sort -u; }

compare() { # PAGE COMMAND...
    page=$srcdir/src/cli/$1
    shift
    [ -f "$page" ] || { fail "$page is missing"; return; }
    "$aperta" "$@" --help >"$scratch/help" || fail "aperta $* --help failed"
    options_of_help <"$scratch/help" >"$scratch/in-help"
    options_of_page "$page" >"$scratch/in-page"
    [ -s "$scratch/in-help" ] || fail "aperta $* --help names no options"
    diff -u "$scratch/in-help" "$scratch/in-page" || fail "$page and aperta $* --help differ"
}

compare aperta.1
commands=$("$aperta" --help | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[ -n "$commands" ] || fail "aperta --help lists no commands"
for command in $commands; do
    compare "aperta-$command.1" "$command"
    grep -q "^\.Xr aperta-$command 1" "$srcdir/src/cli/aperta.1" || fail "aperta.1 does not mention aperta-$command"
done

# The first example of a page on a file format is a good file.
first_example() { sed -n '/^\.Bd -literal/,/^\.Ed/p' "$1" | sed '1d;/^\.Ed/,$d' | sed 's/\\e/\\/g'; }
for kind in rules table; do
    ending=$([ $kind = rules ] && echo rules || echo tsv)
    command=$([ $kind = rules ] && echo rules || echo tables)
    first_example "$srcdir/src/cli/aperta-$kind-file.5" >"$scratch/example.$ending"
    "$aperta" $command --check "$scratch/example.$ending" >/dev/null || fail "the example of aperta-$kind-file.5"
done

# fields_stand PAGE LEAST: each field named on standard input stands in PAGE; there are at least so many.
fields_stand() {
    sort -u >"$scratch/fields"
    [ "$(wc -l <"$scratch/fields")" -gt "$2" ] || fail "only $(wc -l <"$scratch/fields") fields were found for $1"
    while read -r field; do
        grep -qwF -- "$field" "$1" || fail "$1 does not tell of $field"
    done <"$scratch/fields"
}

# Every field of the data stands in its page.
tests/cli/make-sound sung "$scratch/sung.wav" || fail "no sound to read"
"$aperta" take --quiet --json --explain "$scratch/sung.wav" >"$scratch/take.json" || fail "aperta take --json"
"$aperta" take --quiet --csv --frames "$scratch/frames.csv" "$scratch/sung.wav" >"$scratch/notes.csv" || fail "--csv"
{
    grep -oE '"[a-z0-9_]+":' "$scratch/take.json" | tr -d '":'
    head -qn 1 "$scratch/notes.csv" "$scratch/frames.csv" | tr , '\n' | sed 's/^f[23]_\(status\|low_hz\|high_hz\)$/f1_\1/'
} >"$scratch/take-fields"
fields_stand "$srcdir/src/cli/aperta-take-data.5" 80 <"$scratch/take-fields"

printf 'Beat the sea\nC5 C5 C5\n' >"$scratch/song.txt"
"$aperta" sheet --quiet --json --keys 0..1 --language en "$scratch/song.txt" >"$scratch/sheet.json" || fail "aperta sheet --json"
"$aperta" sheet --quiet --csv --language en "$scratch/song.txt" >"$scratch/sheet.csv" || fail "aperta sheet --csv"
{
    grep -oE '"[a-z0-9_]+":' "$scratch/sheet.json" | tr -d '":'
    head -n 1 "$scratch/sheet.csv" | tr , '\n'
} >"$scratch/sheet-fields"
fields_stand "$srcdir/src/cli/aperta-sheet-data.5" 80 <"$scratch/sheet-fields"

if command -v mandoc >/dev/null; then
    for page in "$srcdir"/src/cli/*.[1-8]; do
        # -W style and above; a page we do not install beside cannot be found by .Xr
        mandoc -T lint -W style "$page" | grep -v 'referenced manual not found' >"$scratch/lint"
        [ -s "$scratch/lint" ] && { cat "$scratch/lint"; fail "$page"; }
    done
fi
exit $failed
