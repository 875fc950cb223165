#!/usr/bin/env bash
# A film as a person has it, and the program that decodes it: what it may do, and that nothing else is linked to
# FFmpeg's libraries.
set -u
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

aperta=$PWD/aperta
decode=$PWD/aperta-decode
read_json=$PWD/tests/cli/read-json
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT

# They would be loaded at every start.
ldd .libs/libaperta.so | grep -E 'libav|libsw|seccomp' && fail "the library is linked to what only aperta-decode needs"
ldd .libs/aperta | grep -E 'libav|libsw|seccomp' && fail "the program is linked to what only aperta-decode needs"

tests/cli/make-sound sung "$scratch/sung.wav" || exit 1
cd "$scratch" || exit 1
command -v ffmpeg >/dev/null || { echo "there is no program ffmpeg to make films with"; [ $failed = 0 ] && exit 77; exit 1; }
# its sound begins at 0.5 s; the first note is sung 0.1 s later (make-sound)
ffmpeg -nostdin -v error -itsoffset 0.5 -i sung.wav -f lavfi -i testsrc=size=64x48:rate=10:duration=3.5 -map 0:a -map 1:v \
    -c:v mpeg4 -c:a alac film.mov || exit 1

if [ ! -x "$decode" ]; then
    "$aperta" take film.mov 2>err
    [ $? = 1 ] || fail "a film, built without libav"
    grep -q '^aperta: film.mov: this is an M4A, MP4 or MOV file, and the program that reads it, aperta-decode, is not there' err || { fail "its message"; cat err; }
    exit $failed
fi

"$aperta" take film.mov --quiet --json >film.json || fail "a film"
"$aperta" take sung.wav --quiet --json >sung.json || fail "the sound of it"
for file in film sung; do
    "$read_json" $file.json '$.notes[*].pitch.name' '$.source.seconds' '$.notes[*].start_s' '$.warnings' >$file.told
done
cat >wanted <<'END'
$.notes[*].pitch.name "A3" "C4" "E4"
$.source.seconds 3.5
END
head -n 2 film.told | diff wanted - || fail "what is told of the film"
# times of the film are those of its sound and half a second
paste -d' ' <(sed -n 3p sung.told) <(sed -n 3p film.told) |
    awk '{ for (i = 2; i <= 4; i++) if ($(i + 4) - $i < 0.485 || $(i + 4) - $i > 0.515) bad = 1; print } END { exit bad || NF != 8 }' ||
    fail "times are not those of the film"

# through a pipe, and among other files
"$aperta" take - --quiet --csv <film.mov | cut -d, -f4 | tr '\n' ' ' >piped
cat film.mov | "$aperta" take - --quiet --csv | cut -d, -f4 | tr '\n' ' ' | diff piped - || fail "a film through a pipe"
"$aperta" take film.mov sung.wav film.mov --quiet --csv | cut -d, -f1,5 | tr '\n' ' ' |
    diff - <(printf 'file,pitch film.mov,A3 film.mov,C4 film.mov,E4 sung.wav,A3 sung.wav,C4 sung.wav,E4 film.mov,A3 film.mov,C4 film.mov,E4 ') ||
    fail "films among other files"

# It cannot open, write, or start anything, nor take all memory. A stopped reader holds it where it can be looked at.
ffmpeg -nostdin -v error -f lavfi -i sine=440:duration=60 -c:a aac long.m4a || exit 1
mkfifo out
"$decode" <long.m4a >out 3<sung.wav &
pid=$!
exec 4<out
for ((tries = 0; tries < 500; tries++)); do
    grep -q '^State:[[:blank:]]*S' /proc/$pid/status && grep -q pipe /proc/$pid/wchan 2>/dev/null && break
    sleep 0.01
done
sleep 0.2
[ "$(echo $(ls /proc/$pid/fd))" = "0 1 2" ] || fail "open descriptors: $(echo $(ls /proc/$pid/fd))"
grep -q '^Max file size  *0  *0 ' /proc/$pid/limits || fail "it may write files"
if nm -D "$decode" | grep -q __asan_; then
    echo "not tried under AddressSanitizer: limits of memory and system calls"
else
    grep -q '^Max address space  *1073741824 ' /proc/$pid/limits || fail "it may take any memory"
    if nm -D "$decode" | grep -q seccomp_load; then
        grep -q '^Seccomp:[[:blank:]]*2$' /proc/$pid/status || fail "its system calls are not filtered"
    else
        echo "built without libseccomp"
    fi
fi
[ "$(awk '/^Threads:/ { print $2 }' /proc/$pid/status)" = 1 ] || fail "it has several threads"
exec 4<&-
wait $pid
[ $? = 141 ] || fail "without a reader it ended with $?, not with SIGPIPE"
exit $failed
