#!/usr/bin/env bash
# No sentence about a take or a sheet stands outside src/words, and check-sentences sees one when it is planted.
set -u
srcdir=${srcdir:-.}
check=$srcdir/tests/hygiene/check-sentences
failed=0

"$check" "$srcdir" || { echo "FAIL: sentences outside src/words"; failed=1; }

scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT

expect() { # good|bad FOLDER LINE
    rm -rf "${scratch:?}/tree"
    mkdir -p "$scratch/tree/src/"{base,dsp,audio,score,diction,pitch,tract,vowel,align,advice,result,report,words}
    : >"$scratch/tree/src/result/nothing.c"
    printf '%s\n' "$3" >"$scratch/tree/src/$2/planted.c"
    if "$check" "$scratch/tree" >"$scratch/said" 2>&1; then got=good; else got=bad; fi
    [ $got = "$1" ] && return
    echo "FAIL: $3 in src/$2 should be $1, but check-sentences called it $got:"
    cat "$scratch/said"
    failed=1
}

expect bad result 'const char *text = "the vowel cannot be told.";'
expect bad report '    return g_strdup_printf(n == 1 ? "%u note wants a change" : "%u notes want a change", n);'
expect bad advice '    add("jaw", "let it fall toward the next vowel");'
expect bad score '    score_remark(remarks, "of %u parts, %s was read, which has most words");'
expect bad diction '    sound.remark = g_strdup("no vowel of the word falls here");'
expect bad audio '    add("the recording is clipped");'
expect bad align '    warn("the words are laid on notes by time alone");'
expect good score '    return score_fail(error, file, 0, "it holds no music (export the score again)");'
expect good words 'const char *text = "the vowel cannot be told.";'
expect good result '/* "the vowel cannot be told." */ int n = 0;'
expect good result '    g_set_error(error, DOMAIN, 1, "%s: there is no verse %d", file, verse);'
expect good advice '    advice_problems_add(problems, at, "expected each rule once, found it again");'
expect good report 'svg_text(svg, "ap-strong", x, y);'
exit $failed
