#!/usr/bin/env bash
# The tree keeps its layers, and check-layers sees each kind of wrong include when one is planted.
set -u
srcdir=${srcdir:-.}
check=$srcdir/tests/hygiene/check-layers
failed=0

"$check" "$srcdir" || { echo "FAIL: the tree breaks its layers"; failed=1; }

# The table names the folders there are, those that come later have their place only, and DEVELOPERS.md says the same.
while read -r row folder rest; do
    case " $rest " in
    *" later "*) [ ! -e "$srcdir/src/$folder" ] || { echo "FAIL: src/$folder is there, the table says later"; failed=1; } ;;
    *)
        [ -d "$srcdir/src/$folder" ] || { echo "FAIL: the table has src/$folder, which is not there"; failed=1; }
        grep -q "^| $row | .*\`$folder\`" "$srcdir/DEVELOPERS.md" ||
            { echo "FAIL: DEVELOPERS.md does not show $folder in row $row"; failed=1; }
        ;;
    esac
done < <("$check" --table)

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
expect good cli '#include <aperta/words.h>'       # cli stands above everything
expect good words '#include <aperta/result.h>'
expect good report/sheet '#include "words/words.h"'
expect good report/sheet '#include "report/draw/svg.h"'
expect good mixture '#include "dsp/dsp.h"'        # what comes later has its place
expect good studio '#include <aperta/report.h>'
expect good cli '#include <aperta/studio.h>'
expect bad audio '#include <libavcodec/avcodec.h>' # the library is not linked to it
expect bad audio '#include "decode/decode-private.h"'
expect bad base '#include <aperta/pitch.h>'       # upwards
expect bad pitch '#include "tract/tract.h"'       # sideways
expect bad pitch '# include  <aperta/tract.h>'    # sideways, spelled with blanks
expect bad pitch '#include "../tract/tract.h"'
expect bad result '#include "pitch/pitch-private.h"'
expect bad result '#include "vowel/vowel-tuning.h"'
expect bad result '#include "words/words.h"'      # words come last
expect bad words '#include "report/draw/svg.h"'
expect bad report '#include <aperta/cli.h>'       # nothing includes the programs
expect bad report '#include <aperta/studio.h>'
expect bad advice '#include "resynthesis/resynthesis.h"'
expect bad voicing '#include "mixture/mixture.h"'
expect bad studio '#include "report/report-html.h"'
expect bad cli '#include "dsp/dsp.h"'             # a program beside the public headers
expect bad pitch '#include <fftw3.h>'             # a library that belongs to another folder
expect bad result '#include <json-glib/json-glib.h>'
expect bad sing '#include <glib.h>'               # a folder without a row
exit $failed
