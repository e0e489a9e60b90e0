#!/bin/sh
# SPDX-License-Identifier: MIT
#
# `make install` gives an embedder all that is needed: a C and a C++ program find
# the library through pkg-config, link it dynamically and statically, and run; each
# function has its manual page.
. "$srcdir/tests/repository/gate.sh"

stage=$scratch/stage
PKG_CONFIG_SYSROOT_DIR=$stage
PKG_CONFIG_LIBDIR=$stage$libdir/pkgconfig
PKG_CONFIG_ALLOW_SYSTEM_CFLAGS=1
PKG_CONFIG_ALLOW_SYSTEM_LIBS=1
export PKG_CONFIG_SYSROOT_DIR PKG_CONFIG_LIBDIR
export PKG_CONFIG_ALLOW_SYSTEM_CFLAGS PKG_CONFIG_ALLOW_SYSTEM_LIBS

# This make is not part of the one that runs the tests.
unset MAKEFLAGS MFLAGS MAKELEVEL DESTDIR

# runs HOW COMPILER...: compiles and runs the consumer; HOW is dynamic or static.
runs() {
    how=$1
    shift
    link=
    [ "$how" = static ] && link=-static
    program=$scratch/consumer
    rm -f "$program"
    # shellcheck disable=SC2046 # lists of flags
    "$@" $link -o "$program" $($PKG_CONFIG --cflags platewright) \
        "$srcdir/tests/repository/consumer.c" -x none \
        $($PKG_CONFIG ${link:+--static} --libs platewright) || {
        complain "a consumer does not compile: $how, $*"
        return
    }
    LD_LIBRARY_PATH=$stage$libdir "$program" || complain "a consumer fails: $how, $*"
    needed=$($READELF -dW "$program" | grep -c 'NEEDED.*libplatewright')
    case $how:$needed in
    dynamic:1 | static:0) ;;
    *) complain "a consumer that is to be $how names the library $needed times" ;;
    esac
}

installed() {
    for file; do
        [ -s "$stage$file" ] || complain "not installed: $file"
    done
}

# manual FUNCTION...: each has a page that shows it. What is printed bold is printed
# twice, with a backspace between.
manual() {
    for name; do
        (cd "$stage$man3dir/.." && $MANDOC -T ascii "man3/$name.3" 2>&1) |
            sed "s/.$(printf '\b')//g" | grep -q "$name(" ||
            complain "no manual page of $name is installed"
    done
}

must_refuse "a library that is not installed" runs dynamic "$CC"

(cd "$builddir" && "$MAKE" install DESTDIR="$stage") >"$scratch/log" 2>&1 || {
    cat "$scratch/log"
    complain "make install fails"
    verdict
}

# shellcheck disable=SC2086 # CC and CXX may hold flags
{
    runs dynamic $CC -std=c99
    runs static $CC -std=c99
    runs dynamic $CXX -std=c++17 -x c++
    runs static $CXX -std=c++17 -x c++
}
must_refuse "a file that is not installed" installed "$libdir/no-such-file"
installed "$bindir/platewright" "$libdir/libplatewright.a"
must_refuse "a function without a page" manual plw_no_such_function
# shellcheck disable=SC2046 # names
manual $(declared "$srcdir/include/platewright.h")
LD_LIBRARY_PATH=$stage$libdir "$stage$bindir/platewright" explain 3Y86N400001 >"$scratch/log" ||
    complain "the installed client fails"
verdict
