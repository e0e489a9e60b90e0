#!/bin/sh
# SPDX-License-Identifier: MIT
#
# What was promised with release 1.0 stays: the library still has every function
# of the stored baseline with the same types, and a program that was compiled
# with the header of that release runs with the library of today.
#
# The baseline is written once for a major version, from the library as released:
#   abidw --exported-interfaces-only --headers-dir include --no-corpus-path --no-comp-dir-path \
#       --no-show-locs LIBRARY
# Without the first option functions that another file declares first are left out.
. "$srcdir/tests/repository/gate.sh"

baseline=$srcdir/tests/abi/platewright-1.0.abi
header=$srcdir/tests/abi/platewright-1.0.h
library=$(readlink -f "$PLATEWRIGHT_LIBRARY")

# keeps BASELINE LIBRARY: any difference but an added function counts; private
# structures do not, since their header is not public.
keeps() {
    abidiff --no-added-syms --exported-interfaces-only --headers-dir2 "$srcdir/include" "$1" "$2" >"$scratch/report" 2>&1 || {
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

# complete BASELINE HEADER: the baseline describes each function.
complete() {
    declared "$2" >"$scratch/header"
    sed -n "s/.* elf-symbol-id='\([a-z0-9_]*\)@.*/\1/p" "$1" >"$scratch/described"
    same_lines "the header of the baseline" "$scratch/header" "the baseline" "$scratch/described"
}

command -v abidiff >/dev/null || {
    complain "abidiff is not installed (Debian package abigail-tools)"
    verdict
}

sed 's/plw_decode/plw_decoded/g' "$baseline" >"$scratch/gone.abi"
must_refuse "a function that is gone" keeps "$scratch/gone.abi" "$library"
# The definition of plw_reading_count gets the result type of plw_result_grade.
definition() { grep -n "name='$1' .*elf-symbol-id='$1@@" "$baseline" | head -n 1 | cut -d: -f1; }
result_type() { sed -n "$(definition "$1"),/<return/s/.*<return type-id='\([^']*\)'.*/\1/p" "$baseline"; }
sed "$(definition plw_reading_count),/<return/s/<return type-id='[^']*'/<return type-id='$(result_type plw_result_grade)'/" \
    "$baseline" >"$scratch/changed.abi"
not_empty "the changed baseline" "$scratch/changed.abi"
must_refuse "a function with another type" keeps "$scratch/changed.abi" "$library"
sed 's/^#define PLW_VERSION_NUMBER .*/#define PLW_VERSION_NUMBER 20000/' "$header" >"$scratch/other.h"
must_refuse "a library of another major version" runs "$scratch/other.h"

sed "/elf-symbol-id='plw_grade@@/d" "$baseline" >"$scratch/short.abi"
must_refuse "a baseline that lacks a function" complete "$scratch/short.abi" "$header"

complete "$baseline" "$header"
keeps "$baseline" "$library"
runs "$header"
verdict
