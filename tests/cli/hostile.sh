#!/usr/bin/env bash
# Text that commands the screen, in every place where the program quotes what others wrote: names of files, values of
# options, and what stands in the files. Nothing of it may reach a terminal or a table, and a name with a line feed does
# not split a message.
set -u
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

aperta=$PWD/aperta
read_json=$PWD/tests/cli/read-json
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
tests/cli/make-sound sung "$scratch/sung.wav" || exit 1
tests/cli/make-score song "$scratch/song.musicxml" || exit 1
cd "$scratch" || exit 1

# Escape sequences (ISO 6429) with ESC and with CSI, as UTF-8 and as a byte of its own; overrides of the direction (UAX #9);
# line separator, line feed, carriage return, bell, delete.
esc=$'\033]0;title\a\033[31mred' csi=$'\302\23331m' lone=$'\233' bidi=$'\342\200\256txt.gpj\342\201\246' line=$'\342\200\250' \
    feed=$'one\ntwo' back=$'\rcovered\177'
all=$esc$csi$lone$bidi$line$back
in_file=$esc$csi$bidi$line$'\177' # valid UTF-8 on one line

commands=$'\033|\a|\r|\177|\302[\200-\237]|\342\200[\216\217\250-\256]|\342\201[\246-\251]|^[^ -~]*\233'
clean() { # WHAT FILE...
    local what=$1
    shift
    LC_ALL=C grep -aqE "$commands" "$@" && { fail "$what: a command to the screen"; LC_ALL=C grep -aE "$commands" "$@" | cat -v | head -5; }
}

# What is said of a wrong word or a missing file: one line each, and clean.
refused() { # WORD...
    "$aperta" "$@" >out 2>err </dev/null && fail "$(printf '%q ' "$@"): is taken"
    clean "$(printf '%q ' "$@")" out err
    grep -v '^aperta: ' err | grep -q . && { fail "$(printf '%q ' "$@"): a message of several lines"; cat -v err; }
}
for evil in "$all" "$feed" "$esc" "$lone"; do
    refused "$evil"
    refused take "$evil.wav"
    refused take sung.wav "--$evil"
    for option in style rules table voice from to channel a4 hop correct sung jobs chart frames out; do
        refused take sung.wav "--$option=/dev/null/$evil"
    done
    refused sheet "$evil.musicxml"
    for option in style rules table voice language verse part octave transpose keys range words paper out; do
        refused sheet song.musicxml "--$option=/dev/null/$evil"
    done
    refused tables "./$evil.tsv"
    refused rules "./$evil.rules"
    refused rules --check "./$evil.rules"
done

# What stands in files of one's own that are wrong.
printf '%s\tx\n' "$in_file" >words.tsv
printf '1,%s\n' "$in_file" >corrections.csv
printf '[style]\nname = n\ntitle = t\n[rule %s]\n' "$in_file" >own.rules
printf 'title\t%s\n' "$in_file" >own.tsv
printf 'title: %s\n\n%s\nC5 %s\n' "$in_file" "$in_file" "$in_file" >own.txt
refused sheet song.musicxml --words words.tsv
refused take sung.wav --correct corrections.csv
refused rules --check own.rules
refused take sung.wav --rules own.rules
refused tables --check own.tsv
refused sheet own.txt

# What stands in files that are right, and what is written of them.
sed "s/^title = .*/title = $in_file/" <<<$'[style]\nname = own\ntitle = t\n[rule a]\nwhen = f0 > 1 Hz\nlevel = watch\nwords = Sing.\nreason = r\nsource = s' >right.rules
sed -i "s/words = Sing./words = Sing $in_file./; s/reason = r/reason = $in_file/; s/source = s/source = $in_file/" right.rules
cp sung.wav "$all.wav" && cp sung.wav "$feed.wav"
printf 'title: %s\nlanguage: en\n\nsee you moon\nC5 C5 C5\n' "$csi$bidi$line" >right.txt # with ESC it is no text to us
told() { # WORD...
    "$aperta" "$@" >out 2>err </dev/null
    [ $? = 0 ] || { fail "$(printf '%q ' "$@"): status"; cat -v err; }
    clean "$(printf '%q ' "$@")" out err
}
told rules ./right.rules
told rules --check ./right.rules
for format in "" --full --explain --json --csv; do
    told take "$all.wav" $format --rules right.rules -q
    told take "$feed.wav" sung.wav $format -q
    [ $format = --full ] || [ $format = --explain ] || told sheet right.txt $format --rules right.rules
done 2>/dev/null
told take "$all.wav" "$feed.wav" --out kept --rules right.rules -q
told sheet right.txt --out marks --rules right.rules -q
find kept marks -type f ! -name '*.png' ! -name '*.pdf' -print0 | while IFS= read -r -d '' file; do
    clean "$file" "$file"
    [ $failed = 0 ] || exit 1
done || failed=1

# JSON loses nothing; a table has one line a note, in UTF-8, whatever the file is called.
"$aperta" take "$feed.wav" --json -q | "$read_json" /dev/stdin '$.source.file' | grep -qF 'one\ntwo.wav' || fail "JSON: the name"
"$aperta" take "$all.wav" "$feed.wav" --csv -q >table.csv
[ "$(wc -l <table.csv)" = 7 ] || fail "CSV: lines"
iconv -f UTF-8 -t UTF-8 table.csv >/dev/null || fail "CSV: no UTF-8"

# Cells that a spreadsheet would take for a formula; numbers stay numbers.
for start in = + - @; do cp sung.wav "./${start}cmd.wav"; done
"$aperta" take --csv -q --a4 442 -- =cmd.wav +cmd.wav -cmd.wav @cmd.wav sung.wav >guarded.csv
cut -d, -f1 guarded.csv | uniq | diff - <(printf '%s\n' file "'=cmd.wav" "'+cmd.wav" "'-cmd.wav" "'@cmd.wav" sung.wav) ||
    fail "CSV: formulas"
cut -d, -f2- guarded.csv | grep "'" && fail "CSV: more is guarded than the names"
cut -d, -f8 guarded.csv | grep -q '^-[0-9]' || fail "CSV: no number below zero to look at"
exit $failed
