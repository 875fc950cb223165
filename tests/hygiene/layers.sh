#!/usr/bin/env bash
# The tree keeps its layers, and check-layers sees each kind of wrong include when one is planted.
set -u
srcdir=${srcdir:-.}
check=$srcdir/tests/hygiene/check-layers
failed=0

"$check" "$srcdir" || { echo "FAIL: the tree breaks its layers"; failed=1; }

scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT

# plant FOLDER LINE - a tree of one file with that line
plant() {
    rm -rf "${scratch:?}/tree"
    mkdir -p "$scratch/tree/src/$1" "$scratch/tree/include/aperta"
    printf '%s\n' "$2" >"$scratch/tree/src/$1/planted.c"
}

expect() { # good|bad FOLDER LINE
    plant "$2" "$3"
    if "$check" "$scratch/tree" >"$scratch/said"; then got=good; else got=bad; fi
    [ $got = "$1" ] && return
    echo "FAIL: $3 in src/$2 should be $1, but check-layers called it $got:"
    cat "$scratch/said"
    failed=1
}

expect good pitch '#include <aperta/base.h>'
expect good pitch '#include "pitch-private.h"'
expect good pitch '#include "dsp/dsp.h"'
expect good dsp '#include <fftw3.h>'
expect good cli '#include <aperta/report.h>'
expect good decode '#include <libavformat/avformat.h>'
expect good decode '#include "audio/decoder-stream.h"'
expect bad audio '#include <libavcodec/avcodec.h>' # the library is not linked to it
expect bad audio '#include "decode/decode-private.h"'
expect bad base '#include <aperta/pitch.h>'       # upwards
expect bad pitch '#include "tract/tract.h"'       # sideways
expect bad pitch '# include  <aperta/tract.h>'    # sideways, spelled with blanks
expect bad pitch '#include "../tract/tract.h"'
expect bad result '#include "pitch/pitch-private.h"'
expect bad result '#include "vowel/vowel-tuning.h"'
expect bad cli '#include "dsp/dsp.h"'             # a program beside the public headers
expect bad pitch '#include <fftw3.h>'             # a library that belongs to another folder
expect bad result '#include <json-glib/json-glib.h>'
expect bad sing '#include <glib.h>'               # a folder without a row
exit $failed
