#!/usr/bin/env bash
# Cheap checks of the text of the sources: nothing left undone, no path of somebody's machine, no tabs or blanks at line
# ends, short files with names of their own, and (where clang-format is installed) the agreed layout.
set -u
cd "${srcdir:-.}" || exit 2
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

code=$(find src include tests demo -type f \( -name '*.[ch]' -o -name '*.sh' -o -name '*.am' \) | sort)
texts="$code README.md DEVELOPERS.md configure.ac Makefile.am $(find refdata src -name '*.md' -o -name '*.rules' -o -name '*.[15]')"

# The words are written apart so that this file does not find itself.
undone='TO''DO|FIX''ME|\<XX''X\>|not implem''ented|lorem ip''sum'
# shellcheck disable=SC2086
grep -nE "$undone" $texts && fail "something is left undone"
# shellcheck disable=SC2086
grep -nE '(^|[^[:alnum:]_.$}/])/(ho''me|ro''ot|wo''rk|Us''ers)/' $texts && fail "a path of somebody's machine"
# shellcheck disable=SC2086
grep -nE '[[:blank:]]+$' $code && fail "blanks at the end of a line"
tab=$(printf '\t')
find src include tests demo -name '*.[ch]' -exec grep -n "$tab" {} + && fail "a tab in C code"

find src include tests demo -name '*.[ch]' -exec wc -l {} + |
    awk '$2 != "total" && $1 > 700 { print "FAIL: " $2 " has " $1 " lines; split it"; bad = 1 } END { exit bad }' || failed=1

# Who reads "words.c" should know which one is meant.
twice=$(find src -name '*.[ch]' | sed 's|.*/||' | sort | uniq -d | grep -vxE 'main\.c|lpc\.c')
[ -z "$twice" ] || fail "two files are called $twice"

if command -v clang-format >/dev/null && clang-format --version | grep -q ' 14\.'; then
    # versions lay out differently; 14 is the one of Debian 12
    find src include -name '*.[ch]' -exec clang-format --dry-run --Werror {} + 2>&1 |
        grep -E 'error:' | sed 's/:.*//' | sort -u >"${TMPDIR:-/tmp}/format.$$"
    [ -s "${TMPDIR:-/tmp}/format.$$" ] && { cat "${TMPDIR:-/tmp}/format.$$"; fail "files that clang-format would change"; }
    rm -f "${TMPDIR:-/tmp}/format.$$"
fi
exit $failed
