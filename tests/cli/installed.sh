#!/usr/bin/env bash
# installed.sh BINDIR LIBDIR - after "make install": the program finds its reference data with no environment
# at all, also when the whole prefix has moved; only aperta_* is exported; a program builds with pkg-config.
set -u
bindir=$1
libdir=$2
failed=0

fail() {
    echo "FAIL: $1"
    failed=1
}

scratch=$(mktemp -d) && trap 'rm -rf "$scratch"' EXIT

# Only the search path of programs is known, not even HOME.
bare() { env -i PATH=/usr/bin:/bin "$@"; }

# works PROGRAM
works() {
    bare "$1" tables >"$scratch/tables" || fail "$1 tables"
    grep -q '^hillenbrand1995-women$' "$scratch/tables" || fail "$1 does not find its vowel tables"
    bare "$1" rules belt >/dev/null || fail "$1 does not find its rules"
    [ ! -e "$scratch/a.m4a" ] || bare "$1" take --quiet "$scratch/a.m4a" >/dev/null || fail "$1 does not find its decoder"
}

# An M4A file, if this Aperta reads them.
if [ -e "$(dirname "$bindir")/libexec/aperta/aperta-decode" ] && command -v ffmpeg >/dev/null; then
    ffmpeg -nostdin -v error -f lavfi -i sine=440:duration=1 -c:a aac "$scratch/a.m4a" || fail "no M4A file could be made"
fi

works "$bindir/aperta"

prefix=$(dirname "$bindir")
case $libdir in
"$prefix"/lib)
    mv "$prefix" "$prefix-moved"
    works "$prefix-moved/bin/aperta"
    mv "$prefix-moved" "$prefix"
    ;;
*) echo "not a prefix that can be moved: $bindir, $libdir" ;;
esac

nm -D --defined-only "$libdir/libaperta.so" | awk '{ print $3 }' | grep -v '^aperta_' >"$scratch/foreign"
[ -s "$scratch/foreign" ] && { fail "exported, but not ours to export:"; cat "$scratch/foreign"; }
nm -D --defined-only "$libdir/libaperta.so" | grep -q ' aperta_take$' || fail "aperta_take is not exported"

# With DESTDIR the files do not lie yet where aperta.pc says.
export PKG_CONFIG_PATH=$libdir/pkgconfig
if [ "$(pkg-config --variable=libdir aperta)" != "$libdir" ]; then
    echo "not tried with pkg-config: $libdir is not its final place"
    exit $failed
fi
cat >"$scratch/use.c" <<'END'
#include <aperta/report.h>
#include <aperta/result.h>
int main(void)
{
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load("hillenbrand1995-men", NULL);
    return table != NULL && table->n_rows == 12 ? 0 : 1;
}
END
# shellcheck disable=SC2046
${CC:-cc} "$scratch/use.c" -o "$scratch/use" $(pkg-config --cflags --libs aperta) -Wl,-rpath,"$libdir" &&
    bare "$scratch/use" || fail "a program that uses the library through pkg-config"
exit $failed
