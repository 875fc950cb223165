#!/usr/bin/env bash
# readme.sh [--refresh] - the examples in README.md are parts of what the program prints on the demo take and on the demo
# score. With --refresh they are written anew (from the folder of the build: srcdir=WHERE WHERE/tests/cli/readme.sh
# --refresh).
set -u
srcdir=$(cd "${srcdir:-.}" && pwd)
readme=$srcdir/README.md
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT

# The command of demo/run, below a folder that looks like a build.
command='build/aperta take demo/out/ferry-bell.wav --voice woman'
mkdir -p "$scratch/demo/out" "$scratch/build"
demo/sing "$srcdir/demo/song.txt" "$scratch/demo/out/ferry-bell.wav" || exit 1
ln -s "$PWD/aperta" "$scratch/build/aperta"
(cd "$scratch" && $command) >"$scratch/report" || exit 1

{ printf '```\n$ %s\n' "$command"; cat "$scratch/report"; echo '```'; } >"$scratch/example"

sheet='build/aperta sheet demo/ferry-bell.musicxml --voice woman --range G3-E5'
cp "$srcdir/demo/ferry-bell.musicxml" "$scratch/demo/"
(cd "$scratch" && $sheet) >"$scratch/sheet" || exit 1

# The head with what to try first, two lines of the first verse, the first advice, and the keys.
awk -v command="$sheet" '
BEGIN { print "```"; print "$ " command }
NR == 1, /^  3\. / { if (/^  3\. /) print "..."; else print; next }
/^Verse 1/ { verse = 1; next }
/^Verse 2/ { verse = 0; print "..." }
/^[34] / && verse == 1 { line = 1 }
/^5 / { line = 0 }
line == 1 { print; next }
/^What to try/ { advice = 1 }
/^  change/ && ++groups == 2 { advice = 0; print "..." }
advice == 1 { print; next }
/^Other keys/ { keys = 1 }
/^Remarks|^Take care/ { keys = 0 }
keys == 1 { print }
END { print "..."; print "```" }' "$scratch/sheet" >"$scratch/sheet-example"

# with_example MARK EXAMPLE - standard input with the example after its mark
with_example() {
    awk -v mark="<!-- $1 -->" -v example="$2" '
    $0 == mark { print; while ((getline line < example) > 0) print line; inside = 1; next }
    $0 == "<!-- end -->" { inside = 0 }
    !inside { print }'
}

with_example example "$scratch/example" <"$readme" | with_example sheet "$scratch/sheet-example" >"$scratch/README.md"
if [ "${1:-}" = --refresh ]; then
    cp "$scratch/README.md" "$readme"
elif ! diff -u "$readme" "$scratch/README.md"; then
    echo "FAIL: an example in README.md is out of date (if the new report is right: tests/cli/readme.sh --refresh)"
    exit 1
fi
