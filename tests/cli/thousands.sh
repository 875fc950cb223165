#!/usr/bin/env bash
# A folder of takes read with GNU parallel, by the very lines of the manual page: resumed after it was broken off, with
# statuses that a scheduler understands, and the results joined. Skipped where parallel or jq is missing.
set -u
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

parallel --version 2>/dev/null | grep -q GNU && command -v jq >/dev/null || { echo "no GNU parallel, or no jq"; exit 77; }
page=$(cd "$(dirname "$0")/../.." && pwd)/src/cli/aperta-take.1
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
tests/cli/make-sound sung "$scratch/sung.wav" || exit 1
export PATH=$PWD:$PATH # aperta
export PARALLEL_HOME=$scratch/home HOME=$scratch
mkdir "$scratch/home"
cd "$scratch" || exit 1

# The examples, as a reader sees them.
begin='/^\.\\" begin: tests.cli.thousands.sh/'
sed -n "$begin,/^\\.\\\\\" end/p" "$page" | grep -v '^\.' | sed 's/\\e/\\/g' >lines
grep -n '^find notes' lines | cut -d: -f1 >cut
head -n 1 lines >list
head -n $(($(cat cut) - 1)) lines | tail -n +2 >read-all
tail -n +"$(cat cut)" lines >join
[ -s list ] && [ -s read-all ] && [ -s join ] || fail "the manual page has no such lines"

# A take whose name has a blank, the same name in two folders, and one that cannot be read.
mkdir -p takes/monday 'takes/her second'
for take in takes/monday/a takes/monday/b 'takes/her second/a'; do cp sung.wav "$take.wav"; done
echo "no sound" >takes/monday/broken.wav
bash ./list
bash ./read-all >out 2>err </dev/null
[ $? = 1 ] || fail "one of four failed: parallel counts them in its status"
grep -q '^aperta: takes/monday/broken.wav: ' err || { fail "what failed is not told"; cat err; }
tail -n +2 takes.log | awk -F'\t' '{ print $7, $8 }' | sort | uniq -c >ends
printf '      3 0 0\n      1 1 0\n' | diff ends - || fail "the log's statuses"
[ -d notes/takes/monday/broken ] && fail "a failed take left a folder"
find notes -name take.json | sort | diff - <(printf 'notes/takes/%s/take.json\n' 'her second/a' monday/a monday/b) ||
    fail "each take has a folder of its own"

# Again, the broken one mended: nothing else is read a second time.
touch -d '2001-01-01' notes/takes/monday/a/take.json
cp sung.wav takes/monday/broken.wav
bash ./read-all >out 2>err </dev/null || { fail "the second run"; cat err; }
[ -f notes/takes/monday/broken/take.json ] || fail "what failed was not tried again"
[ notes/takes/monday/a/take.json -ot read-all ] || fail "what was done was done again"

# Broken off in the middle by the machine's scheduler, and taken up again.
rm -rf notes takes.log
mkfifo takes/monday/late.wav
bash ./list
bash ./read-all >out 2>err </dev/null &
pid=$!
for _ in $(seq 200); do
    [ "$(tail -n +2 takes.log 2>/dev/null | wc -l)" -ge 4 ] && break
    sleep 0.1
done
pkill -TERM -P $pid parallel
pkill -TERM -P $pid parallel # at once, and not after the takes that run
wait $pid && fail "a run that was ended says all is well"
rm takes/monday/late.wav && cp sung.wav takes/monday/late.wav
for _ in $(seq 50); do pgrep -f 'aperta take takes/monday/late.wav' >/dev/null || break; sleep 0.1; done
bash ./read-all >out 2>err </dev/null || { fail "taking it up again"; cat err; }
[ "$(find notes -name take.json | wc -l)" = 5 ] || fail "not all five takes were read"

# Several machines: a file of them; ":" is this one, without ssh.
rm -rf notes takes.log
echo "1/:" >machines.txt
sed 's/--resume-failed/& --sshloginfile machines.txt --workdir ./' read-all >read-there
bash ./read-there >out 2>err </dev/null || { fail "with a file of machines"; cat err; }
[ "$(find notes -name take.json | wc -l)" = 5 ] || fail "not all five takes were read by the machines"

bash ./join >joined || fail "the join"
jq -e 'length == 4 and (.[0] | startswith("takes/")) and (.[1] | type) == "number"' joined >/dev/null ||
    { fail "joined lines"; cat joined; }
exit $failed
