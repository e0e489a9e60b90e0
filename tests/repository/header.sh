#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The public header compiles alone as C99, C11 and C++17 without a warning and
# includes nothing but stddef.h and stdint.h.
. "$srcdir/tests/repository/gate.sh"

warnings='-Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror'

# compiles_alone HEADER
compiles_alone() {
    echo "#include \"$1\"" >"$scratch/alone.c"
    for standard in c99 c11; do
        # shellcheck disable=SC2086 # a list of flags
        $CC -std=$standard $warnings -Wstrict-prototypes -fsyntax-only "$scratch/alone.c" ||
            complain "does not compile alone as $standard"
    done
    # shellcheck disable=SC2086
    $CXX -std=c++17 $warnings -fsyntax-only -x c++ "$scratch/alone.c" ||
        complain "does not compile alone as c++17"
}

# includes_little HEADER
includes_little() {
    grep -E '^[[:space:]]*#[[:space:]]*include' "$1" |
        grep -v -e '^#include <stddef\.h>$' -e '^#include <stdint\.h>$' >"$scratch/includes"
    while read -r line; do complain "has $line"; done <"$scratch/includes"
}

header=$srcdir/include/platewright.h

{ cat "$header"; echo 'int plw_old_style();'; } >"$scratch/bad.h"
must_refuse "a declaration without prototype" compiles_alone "$scratch/bad.h"
sed '/<stdint.h>/d' "$header" >"$scratch/bad.h"
must_refuse "a header that rests on others" compiles_alone "$scratch/bad.h"
sed 's/plw_result \*result/plw_result *class/' "$header" >"$scratch/bad.h"
must_refuse "a name that C++ forbids" compiles_alone "$scratch/bad.h"
{ cat "$header"; echo '#include <stdio.h>'; } >"$scratch/bad.h"
must_refuse "one include more" includes_little "$scratch/bad.h"

compiles_alone "$header"
includes_little "$header"
verdict
