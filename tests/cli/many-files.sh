#!/usr/bin/env bash
# More files than the program may keep open, and more outputs than may be compared each with each.
set -u
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

aperta=$PWD/aperta
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
tests/cli/make-score song "$scratch/song.musicxml" || exit 1
tests/cli/make-sound sung "$scratch/sung.wav" || exit 1
cd "$scratch" || exit 1

# The last of 9000 outputs stands on an input, so nothing is read, and the time is that of the check. Compared each with
# each they took two minutes; 20 s leave room for a slow machine.
mkdir -p kept/marked
cp song.musicxml kept/marked/marked.musicxml
names=$(printf 'song%d.musicxml ' $(seq 1499))
timeout 20 "$aperta" sheet $names kept/marked/marked.musicxml --out kept >out 2>err
[ $? = 1 ] || fail "the check of many outputs takes too long"
grep -q '^aperta: kept/marked/marked.musicxml: is also read' err || { fail "an input would be overwritten"; cat err; }
cmp song.musicxml kept/marked/marked.musicxml || failed=1
[ "$(ls -A kept)" = marked ] || fail "the check left something behind"

# A title that would be laid out for minutes, and notes that would be: 60 s each leave room for a slow machine.
printf 'title: %s\nlanguage: en\n\nsee you moon\nC5 C5 C5\n' "$(head -c 100000 /dev/zero | tr '\0' x)" >title.txt
timeout 60 "$aperta" sheet title.txt --out titled --quiet >out 2>err || { fail "a long title"; cat err; }
[ "$(head -c 300 out | head -1 | wc -m)" -lt 250 ] || fail "a long title is told in full"
{ printf 'language: en\n\n'; yes $'see you\nC5 C5' | head -n 42000; } >notes.txt
timeout 60 "$aperta" sheet notes.txt --out noted >out 2>err
[ $? = 1 ] || fail "42000 notes"
grep -q '^aperta: notes.txt: 42000 notes .* more than a sheet holds' err || { fail "42000 notes: message"; cat err; }
[ -e noted ] && fail "42000 notes: something was written"
rm -r titled title.txt notes.txt

# With little memory libraries break down in many ways: a message and a status, whatever the limit. (The loader ends with
# 127 before us; a sanitizer needs terabytes of addresses.)
if ! ldd "$(dirname "$aperta")"/.libs/aperta | grep -q libasan; then
    for limit in 100 150 200 250 300 350 399 400 450 600; do
        for command in "take sung.wav" "take sung.wav --out tight" "sheet song.musicxml --out tight-sheet"; do
            (ulimit -v $((limit * 1024)); "$aperta" $command --quiet --jobs 2 >out 2>err)
            case $? in
            0) [ $limit -ge 400 ] || fail "$limit MB, $command: it was read" ;;
            1 | 127) [ $limit -lt 400 ] && [ -s err ] || { fail "$limit MB, $command"; cat err; } ;;
            *) fail "$limit MB, $command: it broke down"; cat err ;;
            esac
        done
    done
    rm -rf tight tight-sheet
fi

# The first score comes late, and the results of all others wait for it: no descriptors may be held for them.
mkfifo late.musicxml
names=$(for number in $(seq 40); do echo "song$number.musicxml"; done)
for name in $names; do ln song.musicxml $name; done
(sleep 2; cat song.musicxml) >late.musicxml &
(ulimit -n 40; "$aperta" sheet late.musicxml $names --csv --jobs 2 --quiet >out 2>err)
[ $? = 0 ] || { fail "40 scores with 40 descriptors"; cat err; }
wait
[ -s err ] && { fail "40 scores with 40 descriptors: messages"; cat err; }
tail -n +2 out | cut -d, -f1 | uniq | diff - <(echo late.musicxml; echo "$names") || fail "scores are missing"

# A worker that is killed over its file: the file has failed, and another worker reads the rest.
mkfifo stuck.musicxml
"$aperta" sheet song1.musicxml stuck.musicxml song2.musicxml song3.musicxml --csv --jobs 1 >out 2>err &
pid=$!
exec 3<>stuck.musicxml # a reader does not block, and nothing ever comes
for _ in $(seq 100); do
    worker=$(cat /proc/$pid/task/$pid/children)
    [ -n "$worker" ] && ls -l /proc/${worker% }/fd 2>/dev/null | grep -q stuck.musicxml && break
    sleep 0.1
done
kill -KILL $worker
wait $pid
[ $? = 3 ] || fail "one of four scores broke a worker"
grep -q '^aperta: stuck.musicxml: the analysis broke off (Killed)$' err || { fail "a broken worker is not told"; cat err; }
tail -n +2 out | cut -d, -f1 | uniq | diff - <(printf 'song%d.musicxml\n' 1 2 3) || fail "scores are missing behind a broken one"
exit $failed
