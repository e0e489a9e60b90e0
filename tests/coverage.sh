#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Every branch of the library is taken by a Check program, both ways. Where one
# cannot be, the line says so and why: GCOVR_EXCL_BR_LINE: reason.
. "$srcdir/tests/repository/gate.sh"

# all_branches SOURCE BUILD: of the folder lib/ in both.
all_branches() {
    "$GCOVR" --root "$1" --object-directory "$2" --filter "$1/lib/" --branches \
        --exclude-branches-by-pattern '.*GCOVR_EXCL_BR_LINE: ' --fail-under-branch 100 "$2" \
        >"$scratch/report" 2>&1 || complain "a branch that no test takes"
    grep -q '^TOTAL  *[1-9]' "$scratch/report" || complain "no branch at all"
    cat "$scratch/report"
}

# reasons_given SOURCE: no line is left out without one, and none in bulk.
reasons_given() {
    grep -rn 'GCOVR\{0,1\}_EXCL\|LCOV_EXCL' "$1/lib" |
        grep -v 'GCOVR_EXCL_BR_LINE: [A-Za-z]...........' >"$scratch/silent"
    while read -r line; do complain "left out without a reason: $line"; done <"$scratch/silent"
}

# program NAME ARGUMENT...: a small lib/ of its own, and its program run once for each argument.
program() {
    name=$1
    shift
    mkdir -p "$scratch/$name/lib"
    cat >"$scratch/$name/lib/half.c"
    (
        cd "$scratch/$name" && $CC -O0 --coverage -o half lib/half.c || exit 1
        for argument; do ./half "$argument"; done
    )
}

half='#include <stdlib.h>
int main(int count, char **words)
{
    for (int i = 0; i < count; i++)
        words[i][0] = *words[i];
    return atoi(words[1]) > 0 ? 1 : 2;
}'
echo "$half" | program whole 0 1
echo "$half" | program half 1
printf '%s\nint idle(int x);\nint idle(int x)\n{\n    return x ? 1 : 2;\n}\n' "$half" |
    program idle 0 1
echo "$half" | sed 's,? 1 : 2;,& /* GCOVR_EXCL_BR_LINE: left out with a reason */,' |
    program reasoned 1
all_branches "$scratch/whole" "$scratch/whole"
all_branches "$scratch/reasoned" "$scratch/reasoned"
mkdir -p "$scratch/bare/lib"
must_refuse "a branch taken one way only" all_branches "$scratch/half" "$scratch/half"
must_refuse "a function that nothing calls" all_branches "$scratch/idle" "$scratch/idle"
must_refuse "a build without counts" all_branches "$scratch/bare" "$scratch/bare"
echo 'if (x) /* GCOVR_EXCL_BR_LINE */' >"$scratch/whole/lib/silent.c"
must_refuse "a branch left out without a reason" reasons_given "$scratch/whole"

# As the compiler and gcovr name it: without the "/.." of a build folder inside it.
source=$(cd "$srcdir" && pwd -P)
reasons_given "$source"
all_branches "$source" "$builddir"
verdict
