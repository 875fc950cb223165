#!/usr/bin/env bash
# Colours and progress are for terminals only.
set -u
command -v script >/dev/null || { echo "there is no script(1) to make a terminal with"; exit 77; }
script -qec true /dev/null </dev/null >/dev/null 2>&1 || { echo "no terminal can be made here"; exit 77; }
failed=0
escape=$(printf '\033')
colour="$escape\\[[0-9;]*m"
unset NO_COLOR
export TERM=xterm

aperta=$PWD/aperta
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
tests/cli/make-sound sung "$scratch/sung.wav" || exit 1
cd "$scratch" || exit 1

on_terminal() { script -qec "$1" /dev/null </dev/null; }

# expect with|without WHAT-PATTERN NAME < text
expect() {
    local got=without
    grep -q "$2" && got=with
    [ $got = "$1" ] || { echo "FAIL: $3 is $got $2"; failed=1; }
}

expect with "$colour" "the report on a terminal" < <(on_terminal "'$aperta' take sung.wav 2>/dev/null")
expect without "$escape" "the report in a pipe" < <("$aperta" take sung.wav 2>/dev/null)
expect without "$colour" "the report with NO_COLOR" < <(on_terminal "NO_COLOR=1 '$aperta' take sung.wav 2>/dev/null")
expect without "$colour" "the report on a dumb terminal" < <(on_terminal "TERM=dumb '$aperta' take sung.wav 2>/dev/null")
expect without "$colour" "the report with --no-colour" < <(on_terminal "'$aperta' take sung.wav --no-colour 2>/dev/null")
expect without "$escape" "JSON on a terminal" < <(on_terminal "'$aperta' take sung.wav --json 2>/dev/null")
expect with 'sung.wav: [0-9]* %' "standard error on a terminal" < <(on_terminal "'$aperta' take sung.wav >/dev/null")
expect without . "standard error with --quiet" < <(on_terminal "'$aperta' take sung.wav --quiet >/dev/null")
expect without . "standard error in a pipe" < <("$aperta" take sung.wav 2>&1 >/dev/null)

# What a narrow page says of a wider one is true of the wider one.
said=$(on_terminal "stty cols 60; '$aperta' take sung.wav --full --no-colour 2>/dev/null" | tr -s '\r\n ' ' ')
wide=$(sed -n 's/.*No room was left for .* a terminal of \([0-9]*\) columns shows.*/\1/p' <<<"$said")
[ -n "$wide" ] || { echo "FAIL: a terminal of 60 columns shows all"; failed=1; wide=80; }
for columns in "$wide" 110 220; do
    expect without 'No room was left' "the report on a terminal of $columns columns" < <(
        on_terminal "stty cols $columns; '$aperta' take sung.wav --full --no-colour 2>/dev/null")
done
exit $failed
