#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Builds the SQLite extension against the installed library and tests it with
# Python's unittest; the snippet of the README runs in the sqlite3 shell.
set -eu

here=$srcdir/bindings/sqlite
work=$builddir/bindings/sqlite
rm -rf "$work"
mkdir -p "$work"
cd "$work"

PKG_CONFIG_SYSROOT_DIR=$stage
PKG_CONFIG_LIBDIR=$stage$libdir/pkgconfig
PKG_CONFIG_ALLOW_SYSTEM_CFLAGS=1
PKG_CONFIG_ALLOW_SYSTEM_LIBS=1
LD_LIBRARY_PATH=$stage$libdir
PYTHONDONTWRITEBYTECODE=1
export PKG_CONFIG_SYSROOT_DIR PKG_CONFIG_LIBDIR LD_LIBRARY_PATH PYTHONDONTWRITEBYTECODE
export PKG_CONFIG_ALLOW_SYSTEM_CFLAGS PKG_CONFIG_ALLOW_SYSTEM_LIBS

# needs WHAT COMMAND...
needs() {
    what=$1
    shift
    "$@" >/dev/null 2>&1 || {
        echo "bindings/sqlite: needs $what (Debian: libsqlite3-dev, sqlite3, python3)" >&2
        exit 1
    }
}
echo '#include <sqlite3ext.h>' >header.c
# shellcheck disable=SC2086 # CC may hold flags
needs "sqlite3ext.h" $CC -fsyntax-only header.c
needs "the sqlite3 shell" sqlite3 --version
needs "Python with sqlite3 that loads extensions" "$PYTHON" -c \
    'import sqlite3; sqlite3.connect(":memory:").enable_load_extension'

# shellcheck disable=SC2046,SC2086 # lists of flags
$CC -std=c99 -O2 -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror -fvisibility=hidden \
    -fPIC -shared -o platewright.so "$here"/*.c $($PKG_CONFIG --cflags --libs platewright)

# A library of another release is one whose version is put in its place.
echo 'unsigned plw_version_number(void) { return 20000; }' >other.c
# shellcheck disable=SC2086 # CC may hold flags
$CC -shared -fPIC -o other.so other.c

"$stage$bindir/platewright" compile --image fixture.image \
    "$srcdir/tests/fixtures/port-ellery.scheme"
EXTENSION=$work/platewright
FIXTURE=$work/fixture.image
EXAMPLES=$srcdir/tests/examples/dearborn.tsv
OTHER_RELEASE=$work/other.so
export EXTENSION FIXTURE EXAMPLES OTHER_RELEASE
"$PYTHON" "$here/test_sqlite.py" >report 2>&1 || {
    cat report
    exit 1
}
cat report
grep -q '^Ran [1-9]' report || {
    echo "bindings/sqlite: no test was run" >&2
    exit 1
}

# fenced LANGUAGE: what stands between ```LANGUAGE and ``` in the README.
fenced() {
    awk -v fence="\`\`\`$1" '$0 == fence { on = 1; next } /^```/ { on = 0 } on' "$here/README.md"
}
fenced sql >snippet.sql
fenced text >expected
[ -s snippet.sql ] && [ -s expected ] || {
    echo "bindings/sqlite: README.md has no snippet" >&2
    exit 1
}
sqlite3 -bail -batch -init /dev/null :memory: <snippet.sql >printed
diff expected printed
echo "bindings/sqlite: the snippet prints what README.md says"
