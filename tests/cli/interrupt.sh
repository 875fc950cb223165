#!/usr/bin/env bash
# A run that is interrupted ends soon, says so, exits with 128 + the signal, leaves nothing half-written, and keeps what
# was good.
set -u
set -m # jobs of their own, so that the shell does not make them deaf to SIGINT
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

aperta=$PWD/aperta
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
tests/cli/make-sound long "$scratch/long.wav" || exit 1
cp "$scratch/long.wav" "$scratch/longer.wav"
tests/cli/make-sound sung "$scratch/sung.wav" || exit 1
read_json=$PWD/tests/cli/read-json
cd "$scratch" || exit 1

# listens PID - has it come so far that it catches SIGTERM (signal 15)? Before, it is a shell, which may catch it too.
listens() {
    local mask
    case $(readlink "/proc/$1/exe") in *aperta) ;; *) return 1 ;; esac
    mask=$(awk '/^SigCgt/ { print $2 }' "/proc/$1/status" 2>/dev/null) || return 1
    [ -n "$mask" ] && [ $((16#$mask >> 14 & 1)) = 1 ]
}

# interrupt SIGNAL ARGUMENT... - runs aperta, sends the signal in mid-run, and leaves the status in $status
interrupt() {
    local signal=$1 pid tries
    shift
    env --default-signal=INT,TERM "$aperta" "$@" >out 2>err & # a caller in the background may have SIGINT ignored
    pid=$!
    for ((tries = 0; tries < 500; tries++)); do
        listens $pid && break
        sleep 0.02
    done
    sleep 0.2
    kill -"$signal" $pid || fail "aperta $* ended before it could be interrupted"
    wait $pid
    status=$?
}

echo good >frames.csv
for signal in INT TERM; do
    expected=$((128 + $(kill -l $signal)))
    interrupt $signal take long.wav --frames frames.csv --out kept
    [ $status = $expected ] || fail "SIG$signal: exit status $status, expected $expected"
    grep -q '^aperta: long.wav: interrupted' err || { fail "SIG$signal: no message"; cat err; }
    [ -s out ] && fail "SIG$signal: something was printed"
    [ -e kept ] && fail "SIG$signal: something was written"
    [ "$(cat frames.csv)" = good ] || fail "SIG$signal: a good file was overwritten"

    interrupt $signal take long.wav longer.wav --jobs 2 --out kept
    [ $status = $expected ] || fail "two recordings, SIG$signal: exit status $status, expected $expected"
    grep -q '^aperta: interrupted after 0 of 2 recordings' err || { fail "two recordings, SIG$signal: no message"; cat err; }
    [ "$(wc -l <err)" = 1 ] || { fail "two recordings, SIG$signal: more than one message"; cat err; }
    [ -e kept ] && fail "two recordings, SIG$signal: something was written"
done

# Pages take a while to draw, and a long score a while to read: the first signal ends that, too.
printf 'title: long\nlanguage: en\n\n' >long.txt
for _ in $(seq 600); do printf 'see you moon see you moon see you moon\nC5 C5 C5 A4 A4 A4 B4 B4 B4\n'; done >>long.txt
for signal in INT TERM; do
    expected=$((128 + $(kill -l $signal)))
    interrupt $signal sheet long.txt --out kept
    [ $status = $expected ] || fail "a sheet, SIG$signal: exit status $status, expected $expected"
    grep -q '^aperta: long.txt: interrupted, nothing was written' err || { fail "a sheet, SIG$signal: no message"; cat err; }
    [ -e kept ] && fail "a sheet, SIG$signal: something was written"
    [ -s out ] && fail "a sheet, SIG$signal: something was printed"
done
started=$(date +%s%N)
interrupt INT sheet long.txt long.txt --jobs 2 --out kept
[ $status = 130 ] || fail "two sheets: exit status $status, expected 130"
[ $((($(date +%s%N) - started) / 1000000)) -lt 10000 ] || fail "two sheets: it does not end soon"
grep -q '^aperta: interrupted after 0 of 2 scores' err || { fail "two sheets: no message"; cat err; }
[ -e kept ] && fail "two sheets: something was written"
rm long.txt

# What was printed stays good JSON.
env --default-signal=INT,TERM "$aperta" take sung.wav long.wav longer.wav long.wav longer.wav --json --jobs 1 >out 2>err &
pid=$!
for ((tries = 0; tries < 1000; tries++)); do
    [ -s out ] && break
    sleep 0.02
done
kill -INT $pid || fail "the JSON of the first recording comes only when all are read"
wait $pid
[ $? = 130 ] || fail "JSON: exit status $?, expected 130"
# How many recordings were read by then depends on the machine: the first, and not all.
read=$("$read_json" out '$[*].source.file') || { fail "JSON: it is broken off"; tail -c 99 out; }
case $read in
'$[*].source.file "sung.wav"'*) ;;
*) fail "JSON: the first recording is missing: $read" ;;
esac
[ "$(grep -o 'wav"' <<<"$read" | wc -l)" -lt 5 ] || fail "JSON: nothing was interrupted"

[ "$(echo *)" = "err frames.csv long.wav longer.wav out sung.wav" ] || { fail "something is left behind"; ls; }
exit $failed
