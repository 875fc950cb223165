#!/usr/bin/env bash
# cases.sh [--refresh] - runs the command lines of cases/*.case and compares everything they say.
#
# A case file is a written dialogue. Lines that begin with "$ " are command lines; below each stand its standard output (|),
# its standard error (!) and its exit status (=). Other lines are remarks. With --refresh the dialogues are written
# anew: read the difference before you keep it.
#
# All lines of one file run in one fresh folder that holds the recordings of make-sound, *.wav; those of a sheet*.case
# have the scores of make-score instead.
set -u
srcdir=$(cd "${srcdir:-.}" && pwd)
builddir=$(pwd)
refresh=${1:-}
failed=0

scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
mkdir "$scratch/sounds"
for kind in silence noise sine short sung clipped telephone fine many-channels two-things not-numbers no-samples \
    offset spoken with-organ with-hum truncated giant-header; do
    tests/cli/make-sound $kind "$scratch/sounds/$kind.wav" || exit 1
done

mkdir "$scratch/scores"
for kind in song wordless swedish no-pitch negative percussion no-part not-xml wrong-root truncated external-entity \
    entity-bomb nesting; do
    tests/cli/make-score $kind "$scratch/scores/$kind.musicxml" || exit 1
done
tests/cli/make-score midi "$scratch/scores/song.mid" || exit 1
for kind in no-score zip-bomb; do
    tests/cli/make-score $kind "$scratch/scores/$kind.mxl" || exit 1
done
cat >"$scratch/scores/song.txt" <<'END'
Slow is the wa-ter, see the moon.
A3:2 C4 Bb3 C4:2 A3:2 C5 A4 Bb4:2
END

export PATH=$builddir:$builddir/tests/cli:$PATH
export LC_ALL=C
unset NO_COLOR

# dialogue FILE - the same file with what is said now
dialogue() {
    local line
    while IFS= read -r line; do
        case $line in
        '| '* | '|' | '! '* | '!' | '= '*) continue ;;
        esac
        printf '%s\n' "$line"
        [ "${line#\$ }" = "$line" ] && continue
        bash -c "${line#\$ }" >"$scratch/out" 2>"$scratch/err" </dev/null
        local status=$?
        sed 's/^/| /; s/ $//' "$scratch/out"
        sed 's/^/! /; s/ $//' "$scratch/err"
        printf '= %d\n' $status
    done <"$1"
}

aperta --version >/dev/null || { echo "FAIL: there is no program to test"; exit 1; }

for case in "$srcdir"/tests/cli/cases/*.case; do
    rm -rf "$scratch/here"
    case $(basename "$case") in
    sheet*) cp -r "$scratch/scores" "$scratch/here" ;;
    *) cp -r "$scratch/sounds" "$scratch/here" ;;
    esac
    (cd "$scratch/here" && dialogue "$case") >"$scratch/now"
    if [ "$refresh" = --refresh ]; then
        cp "$scratch/now" "$case"
    elif ! diff -u "$case" "$scratch/now"; then
        echo "FAIL: $case (if the new text is right: tests/cli/cases.sh --refresh)"
        failed=1
    fi
done
exit $failed
