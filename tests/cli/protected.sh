#!/usr/bin/env bash
# Files that may not be read or written: exit 1 and a message, and nothing is changed. Nothing is forbidden to root, so
# the program runs as nobody then; skipped where that is impossible.
set -u
failed=0

fail() {
    echo "FAIL: $1"
    cat err
    failed=1
}

aperta=$PWD/aperta
if [ "$(id -u)" = 0 ]; then
    run() { setpriv --reuid=65534 --regid=65534 --clear-groups "$aperta" "$@"; }
    run --version >/dev/null 2>&1 || { echo "cannot run as nobody here"; exit 77; }
else
    run() { "$aperta" "$@"; }
fi

scratch=$(mktemp -d) && trap 'chmod -R u+rwX "$scratch"; rm -rf "$scratch"' EXIT
chmod 755 "$scratch"
tests/cli/make-sound sung "$scratch/sung.wav" && tests/cli/make-sound sung "$scratch/secret.wav" || exit 1
cd "$scratch" || exit 1
touch err out
mkdir locked open
echo good >open/kept.csv
chmod 000 secret.wav
chmod 444 open/kept.csv
chmod 555 locked
chmod 777 open

# expect PATTERN ARGUMENT...
expect() {
    local pattern=$1 status
    shift
    run "$@" >out 2>err
    status=$?
    [ $status = 1 ] || fail "aperta $*: exit status $status, expected 1"
    grep -qE "$pattern" err || fail "aperta $*: its message does not match $pattern"
    [ -s out ] && fail "aperta $*: something was printed"
}

expect '^aperta: secret.wav: Permission denied' take secret.wav
expect '^aperta: locked/chart.svg: .*cannot be written' take sung.wav --chart locked/chart.svg
expect '^aperta: locked/new: the folder cannot be made' take sung.wav --out locked/new
expect '^aperta: open/kept.csv: cannot be written' take sung.wav --frames open/kept.csv
[ "$(wc -l <err)" = 1 ] || fail "more than one message"
expect '^aperta: locked: nothing can be written into this folder' take sung.wav --out locked
expect '^aperta: /proc/new: the folder cannot be made' take sung.wav --out /proc/new
[ "$(wc -l <err)" = 1 ] || fail "more than one message"
expect '^aperta: /proc/chart.svg: its folder cannot be written to' take sung.wav --chart /proc/chart.svg
[ "$(cat open/kept.csv)" = good ] || fail "a protected file was overwritten"
[ -z "$(ls locked)" ] || fail "something was written into a protected folder"
exit $failed
