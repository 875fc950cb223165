#!/usr/bin/env bash
# readme.sh [--refresh] - the example in README.md is a part of what the program prints on the demo take. With --refresh
# it is written anew (from the folder of the build: srcdir=WHERE WHERE/tests/cli/readme.sh --refresh).
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

# The head, the heading of the notes, seven of them, and the first advice.
awk -v command="$command" '
BEGIN { print "```"; print "$ " command }
/^Note by note/ { heading = 3 }
NR == 1, /^$/ { print; next }
heading > 0 { heading--; print; if (heading == 0) print "..."; next }
/^ *1[2-8] +[0-9]+:/ { print; next }
/^What to try/ { print "..."; advice = 1 }
advice == 1 { if (/^$/) { print "..."; exit } print }
END { print "```" }' "$scratch/report" >"$scratch/example"

# with_example FILE - FILE with the example between its two marks
with_example() {
    sed -n '1,/^<!-- example -->$/p' "$1"
    cat "$scratch/example"
    sed -n '/^<!-- end -->$/,$p' "$1"
}

with_example "$readme" >"$scratch/README.md"
if [ "${1:-}" = --refresh ]; then
    cp "$scratch/README.md" "$readme"
elif ! diff -u "$readme" "$scratch/README.md"; then
    echo "FAIL: the example in README.md is out of date (if the new report is right: tests/cli/readme.sh --refresh)"
    exit 1
fi
