#!/usr/bin/env bash
# Files of a folder do not need each other in a circle, and check-circles sees it when such files are planted.
set -u
srcdir=${srcdir:-.}
check=$srcdir/tests/hygiene/check-circles
failed=0

"$check" "$srcdir" || { echo "FAIL: files of a folder need each other in a circle"; failed=1; }

scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT

# expect good|bad WHAT A B C - three files of one folder with these lines
expect() {
    local wanted=$1 what=$2 got
    shift 2
    rm -rf "${scratch:?}/src"
    mkdir -p "$scratch/src/planted/room"
    printf '%s\n' "$1" >"$scratch/src/planted/first.c"
    printf '%s\n' "$2" >"$scratch/src/planted/second.c"
    printf '%s\n' "$3" >"$scratch/src/planted/room/third.c"
    if "$check" "$scratch" >"$scratch/said"; then got=good; else got=bad; fi
    [ $got = "$wanted" ] && return
    echo "FAIL: $what should be $wanted, but check-circles called it $got:"
    cat "$scratch/said"
    failed=1
}

calls_b=$'int planted_a(int x)\n{\n    return planted_b(x);\n}'
b=$'char *planted_b(int x)\n{\n    return NULL;\n}'
calls_a=$'char *planted_b(int x,\n                int y)\n{\n    return planted_a(x);\n}'
calls_c=$'char *planted_b(int x)\n{\n    return run(planted_c, x);\n}'
third_calls_a=$'void aperta_other(void)\n{\n}\n\ngboolean planted_c(void)\n{\n    planted_a(1);\n}'

expect good "a chain" "$calls_b" "$calls_c" $'void planted_c(void)\n{\n}'
expect bad "two files" "$calls_b" "$calls_a" ""
expect bad "three files, one by a pointer, one in a room of its own" "$calls_b" "$calls_c" "$third_calls_a"
expect good "a name in a comment or a text" "$calls_b" $'/* not as planted_a\n * does it */\n'"$b"$'\nconst char *planted_text = "planted_a";' ""
expect good "a static function of the same name" $'static int own_help(void)\n{\n}\n'"$calls_b" \
    $'static int own_help(void)\n{\n}\nchar *planted_b(int x)\n{\n    return own_help();\n}' ""
exit $failed
