#!/bin/sh
# SPDX-License-Identifier: MIT
#
# What was promised with release 1.0 stays: the library still has every function
# of the stored baseline with the same types, and a program that was compiled
# with the header of that release runs with the library of today.
#
# The baseline is written once for a major version, from the library as released:
#   abidw --headers-dir include --no-corpus-path --no-show-locs LIBRARY
. "$srcdir/tests/repository/gate.sh"

baseline=$srcdir/tests/abi/platewright-1.0.abi
header=$srcdir/tests/abi/platewright-1.0.h
library=$(readlink -f "$PLATEWRIGHT_LIBRARY")

# keeps BASELINE LIBRARY: any difference but an added function counts; private
# structures do not, since their header is not public.
keeps() {
    abidiff --no-added-syms --headers-dir2 "$srcdir/include" "$1" "$2" >"$scratch/report" 2>&1 || {
        cat "$scratch/report"
        complain "the library does not keep the interface of $(basename "$1")"
    }
}

# runs HEADER: compiled with that header, run with the library of today.
runs() {
    rm -rf "$scratch/include"
    mkdir "$scratch/include"
    cp "$1" "$scratch/include/platewright.h"
    # shellcheck disable=SC2086 # CC may hold flags
    $CC -std=c99 -I"$scratch/include" -o "$scratch/consumer" "$srcdir/tests/abi/consumer.c" \
        "$library" &&
        LD_LIBRARY_PATH=$(dirname "$library") "$scratch/consumer" ||
        complain "a program compiled with $(basename "$1") does not run"
}

command -v abidiff >/dev/null || {
    complain "abidiff is not installed (Debian package abigail-tools)"
    verdict
}

sed 's/plw_decode/plw_decoded/g' "$baseline" >"$scratch/gone.abi"
must_refuse "a function that is gone" keeps "$scratch/gone.abi" "$library"
awk '/<function-decl name=.plw_reading_count./ { inside = 1 }
    inside && /<return / { sub(/type-id=.[^ \/]*/, "type-id=" q other q); inside = 0 }
    { print }' q="'" other="$(sed -n "/<function-decl name='plw_result_grade'/,/<return/s/.*<return type-id='\([^']*\)'.*/\1/p" "$baseline" | head -n 1)" \
    "$baseline" >"$scratch/changed.abi"
must_refuse "a function with another type" keeps "$scratch/changed.abi" "$library"
sed 's/^#define PLW_VERSION_NUMBER .*/#define PLW_VERSION_NUMBER 20000/' "$header" >"$scratch/other.h"
must_refuse "a library of another major version" runs "$scratch/other.h"

keeps "$baseline" "$library"
runs "$header"
verdict
