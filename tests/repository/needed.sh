#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The shared library needs libc and nothing else, keeps no writable data, and
# holds the table image as read-only bytes that the loader need not touch.
. "$srcdir/tests/repository/gate.sh"

# needs_only_libc FILE
needs_only_libc() {
    $READELF -dW "$1" | sed -n 's/.*(NEEDED).*\[\(.*\)\]/\1/p' >"$scratch/needed"
    not_empty "the list of needed libraries" "$scratch/needed"
    grep -v -e '^libc\.so' -e '^ld-linux' -e '^ld64\.so' "$scratch/needed" >"$scratch/strange"
    while read -r name; do complain "needs $name"; done <"$scratch/strange"
}

# writes_no_statics OBJECT...: .data.rel.ro is written by the loader only.
writes_no_statics() {
    for object; do
        $READELF -SW "$object" | sed 's/^ *\[ *[0-9]*\] *//' | awk '
            $1 ~ /^\.(data|bss|tdata|tbss)/ && $1 !~ /^\.data\.rel\.ro/ && $5 !~ /^0+$/ {
                print $1
            }' >"$scratch/writable"
        while read -r section; do
            complain "$(basename "$object") has writable data in $section"
        done <"$scratch/writable"
    done
}

# image_is_plain OBJECT SYMBOL: in .rodata, and no relocation for it or other data.
image_is_plain() {
    index=$($READELF -sW "$1" | awk -v name="$2" '$8 == name { print $7 }')
    section=$($READELF -SW "$1" | sed 's/^ *\[ *\([0-9]*\)\] */\1 /' |
        awk -v index_wanted="$index" '$1 == index_wanted { print $2 }')
    case $section in
    .rodata*) ;;
    *) complain "$2 stands in '$section', not in .rodata" ;;
    esac
    $READELF -rW "$1" | sed -n "s/^Relocation section '\([^']*\)'.*/\1/p" |
        grep -E '^\.rela?\.(rodata|data)' >"$scratch/relocated"
    while read -r name; do complain "relocations in $name"; done <"$scratch/relocated"
}

objects=$builddir/lib/.libs

cat >"$scratch/bad.c" <<'END'
#include <math.h>
static int counter;
const unsigned char *const plwi_builtin_image[] = { (const unsigned char *)&counter };
double bad(double x);
double bad(double x)
{
    return pow(x, counter++);
}
END
$CC -O0 -fPIC -c -o "$scratch/bad.o" "$scratch/bad.c"
$CC -shared -o "$scratch/bad.so" "$scratch/bad.o" -lm
must_refuse "a library that needs libm" needs_only_libc "$scratch/bad.so"
must_refuse "a writable static" writes_no_statics "$scratch/bad.o"
must_refuse "an image made of pointers" image_is_plain "$scratch/bad.o" plwi_builtin_image

needs_only_libc "$PLATEWRIGHT_LIBRARY"
writes_no_statics "$objects"/libcore_la-*.o
image_is_plain "$objects/libcore_la-builtin.o" plwi_builtin_image
verdict
