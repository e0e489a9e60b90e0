#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Tests the C++ header with doctest against the installed library, and runs the
# snippet of the README.
set -eu

here=$srcdir/bindings/cpp
work=$builddir/bindings/cpp
rm -rf "$work"
mkdir -p "$work"
cd "$work"

PKG_CONFIG_SYSROOT_DIR=$stage
PKG_CONFIG_LIBDIR=$stage$libdir/pkgconfig
PKG_CONFIG_ALLOW_SYSTEM_CFLAGS=1
PKG_CONFIG_ALLOW_SYSTEM_LIBS=1
export PKG_CONFIG_SYSROOT_DIR PKG_CONFIG_LIBDIR
export PKG_CONFIG_ALLOW_SYSTEM_CFLAGS PKG_CONFIG_ALLOW_SYSTEM_LIBS
cflags="$($PKG_CONFIG --cflags platewright) -I$here"
libs=$($PKG_CONFIG --libs platewright)

echo '#include <doctest/doctest.h>' >doctest.cpp
# shellcheck disable=SC2086 # CC, CXX and what pkg-config says are lists
$CXX -std=c++17 -DDOCTEST_CONFIG_IMPLEMENT -fsyntax-only doctest.cpp || {
    echo "bindings/cpp: needs a C++17 compiler and doctest (Debian: g++, doctest-dev)" >&2
    exit 1
}

# compile PROGRAM SOURCE FLAGS...
compile() {
    program=$1
    shift
    # shellcheck disable=SC2086 # lists
    $CXX -std=c++17 -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror -g $cflags \
        -o "$program" "$@" $libs -pthread
}

LD_LIBRARY_PATH=$stage$libdir
export LD_LIBRARY_PATH
"$stage$bindir/platewright" compile --image fixture.image \
    "$srcdir/tests/fixtures/port-ellery.scheme"
FIXTURE=$work/fixture.image
EXAMPLES=$srcdir/tests/examples/dearborn.tsv
export FIXTURE EXAMPLES

# tests ARGUMENT...: doctest is content without any test.
tests() {
    ./tests --no-colors "$@" >report 2>&1 || {
        cat report
        exit 1
    }
    cat report
    grep -q 'test cases: *[1-9][0-9]* *| *[1-9][0-9]* passed' report || {
        echo "bindings/cpp: no test was run" >&2
        exit 1
    }
}

compile tests "$here/test_platewright.cpp" -fsanitize=address,undefined \
    -fno-sanitize-recover=undefined
tests

# instead FUNCTION RETURNS: the tests meant for it, with this function in the place of
# the library's.
instead() {
    echo "$1 { $2 }" >instead.c
    # shellcheck disable=SC2086 # lists
    $CC $cflags -shared -fPIC -include platewright.h -o instead.so instead.c
    ASAN_OPTIONS=verify_asan_link_order=0 LD_PRELOAD=$work/instead.so \
        tests --no-skip --test-case="$3"
}
instead 'uint32_t plw_version_number(void)' 'return 20000;' 'a library of another release'
instead 'int32_t plw_result_new(plw_result **result)' '*result = NULL; return PLW_E_MEMORY;' \
    'a library without memory'

# fenced LANGUAGE: what stands between ```LANGUAGE and ``` in the README.
fenced() {
    awk -v fence="\`\`\`$1" '$0 == fence { on = 1; next } /^```/ { on = 0 } on' "$here/README.md"
}
fenced cpp >snippet.cpp
fenced text >expected
[ -s snippet.cpp ] && [ -s expected ] || {
    echo "bindings/cpp: README.md has no snippet" >&2
    exit 1
}
compile snippet snippet.cpp
./snippet >printed
diff expected printed
echo "bindings/cpp: the snippet prints what README.md says"
