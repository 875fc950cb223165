#!/usr/bin/env bash
# One run writes into a folder: a second is refused in words, never a mixture. What a killed run has left goes, and nothing
# else; a place that takes no folder is told before the work.
set -u
failed=0

fail() {
    echo "FAIL: $1"
    cat err
    failed=1
}

aperta=$PWD/aperta
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
tests/cli/make-sound sung "$scratch/sung.wav" || exit 1
cd "$scratch" || exit 1

# The first run waits for its recording, and has the folder.
mkfifo late.wav
"$aperta" take late.wav --out shared -q >first 2>first.err &
pid=$!
exec 3<>late.wav
for _ in $(seq 200); do [ -d shared ] && break; sleep 0.05; done
timeout 20 "$aperta" take sung.wav --out shared -q >out 2>err
[ $? = 1 ] || fail "a second run into the same folder"
grep -q '^aperta: shared: another run is writing into this folder' err || fail "its message"
[ -s out ] && fail "it printed something"
[ -z "$(ls -A shared)" ] || fail "it wrote something"
mkdir beside
timeout 60 "$aperta" take sung.wav --out shared/../beside -q >out 2>err || fail "another folder"

# Killed, it leaves what it was writing; only that goes.
kill -KILL $pid
wait $pid 2>/dev/null
exec 3>&-
printf half >shared/report.txt.A1b2C3
printf half >shared/take.json.ZZZZZZ
touch shared/report.txt.bak shared/my-report.txt.A1b2C3 shared/report.txt.A1b2C34 shared/report.txt.A1-2C3
timeout 60 "$aperta" take sung.wav --out shared -q >out 2>err || fail "a run after one that was killed"
ls shared | grep -v '^chart\|^frames\|^notes' | diff - <(printf '%s\n' my-report.txt.A1b2C3 report.txt report.txt.A1-2C3 \
    report.txt.A1b2C34 report.txt.bak take.json) || fail "what is left"

# Killed with workers, it takes them along: the folder is free.
mkfifo later.wav
"$aperta" take late.wav later.wav --jobs 2 --out shared -q >first 2>first.err &
pid=$!
exec 3<>late.wav 4<>later.wav
for _ in $(seq 200); do [ "$(wc -w <"/proc/$pid/task/$pid/children")" = 2 ] && break; sleep 0.05; done
kill -KILL $pid
wait $pid 2>/dev/null
sleep 0.5
timeout 60 "$aperta" take sung.wav --out shared -q >out 2>err || fail "a run after a batch that was killed"
exec 3>&- 4>&-

# A folder that was made for nothing goes again.
printf nothing >bad.wav
"$aperta" take bad.wav --out fresh -q >out 2>err && fail "a bad recording"
[ -e fresh ] && fail "an empty folder is left"

# Told before the work: were the recording read, it would wait for ever.
ln -s loop loop
ln -s nowhere dangling
long=$(printf 'x%.0s' $(seq 256))
fitting=$(printf 'x%.0s' $(seq 255))
refused() { # PATTERN ARGUMENT...
    local pattern=$1
    shift
    timeout 10 "$aperta" take late.wav "$@" -q >out 2>err
    [ $? = 1 ] || fail "$*"
    grep -qE "$pattern" err || fail "$*: its message"
    [ "$(wc -l <err)" = 1 ] || fail "$*: several messages"
}
refused '^aperta: loop: is a link that leads nowhere' --out loop
refused 'is a link that leads nowhere' --out dangling/in/it
refused 'its name is too long' --out "$long"
refused 'its name is too long' --chart "$fitting.svg"
exit $failed
