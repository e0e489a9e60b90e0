#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Three tools that look for mistakes in C without running it have nothing to say of
# library, compiler and client: clang-tidy with the checks of .clang-tidy, cppcheck,
# and the analyzer of gcc. Tests run, under sanitizers, which is better.
. "$srcdir/tests/repository/gate.sh"

jobs=$(nproc)
cd "$srcdir" || exit 1

# Of the tables a tool needs to see the first line only; cppcheck would take minutes.
include=$scratch/include
mkdir "$include"
for name in tables vocabulary; do
    awk '!/^[0-9]/ || !lines++' "$builddir/tables/$name.inc" >"$include/$name.inc"
done
cp "$builddir/lib/constants.inc" "$include"
flags="-std=c99 -Iinclude -I$include -iquote lib -iquote tables/compile"

# content TOOL COMMAND...: the command succeeds; otherwise it has told what is wrong.
content() {
    tool=$1
    shift
    "$@" >"$scratch/report" 2>&1 && return
    cat "$scratch/report"
    complain "$tool is not content"
}

# each COMMAND...: with every file of the list in the place of {}.
# shellcheck disable=SC2317 # content calls it
each() {
    xargs -P "$jobs" -I '{}' "$@" <"$scratch/list"
}

# tidy SOURCE...
# shellcheck disable=SC2086 # the flags
tidy() {
    printf '%s\n' "$@" >"$scratch/list"
    content clang-tidy each clang-tidy --quiet --config-file=.clang-tidy '{}' -- $flags
}

# Its warning of what is not initialized takes every struct that a function of another
# file returns for such; clang-tidy and the memory sanitizer look for it, too.
# shellcheck disable=SC2086 # the flags
gcc_analyzer() {
    printf '%s\n' "$@" >"$scratch/list"
    content "gcc -fanalyzer" each gcc $flags -O1 -Werror -fanalyzer \
        -Wno-analyzer-use-of-uninitialized-value -S -o /dev/null '{}'
}

# In "a < b ? a : b" it takes one of the two to be always so; the fields of a list it
# does not see through the macro that declares them.
cppcheck_all() {
    content cppcheck cppcheck --quiet -j "$jobs" --std=c99 --inline-suppr --error-exitcode=1 \
        --enable=warning,performance,portability,style \
        --suppress=knownConditionTrueFalse --suppress=unusedStructMember \
        -Iinclude -I"$include" -Ilib -Itables/compile "$@"
}

bad=$scratch/bad.c
cat >"$bad" <<'end'
int first(const int *list);
int first(const int *list)
{
    if (list == 0)
        return *list;
    return list[0];
}
end
must_refuse "a null pointer that is followed (clang-tidy)" tidy "$bad"
cat >"$bad" <<'end'
#include <stddef.h>
size_t area(unsigned width, unsigned height);
size_t area(unsigned width, unsigned height)
{
    return width * height;
}
end
must_refuse "a product that is widened too late (clang-tidy)" tidy "$bad"
cat >"$bad" <<'end'
int past(void);
int past(void)
{
    int list[4] = { 1, 2, 3, 4 };
    return list[4];
}
end
must_refuse "an index behind an array (cppcheck)" cppcheck_all "$bad"
cat >"$bad" <<'end'
#include <stdlib.h>
void twice(void *memory);
void twice(void *memory)
{
    free(memory);
    free(memory);
}
end
must_refuse "memory that is freed twice (gcc)" gcc_analyzer "$bad"
echo 'int idle(int x); int idle(int x) { return x + 1; }' >"$bad"
gcc_analyzer "$bad"
tidy "$bad"
cppcheck_all "$bad"

# shellcheck disable=SC2046 # names of ours, without blanks
set -- $(ls lib/*.c tables/compile/*.c bindings/shell/*.c)
cppcheck_all "$@"
gcc_analyzer "$@"
tidy "$@"
verdict
