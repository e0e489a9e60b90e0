#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The library answers alike wherever it is built. For each platform the core is
# compiled with its compiler, asked about every published example, and its
# answers are compared, byte for byte, with those of the installed library.
. "$srcdir/tests/repository/gate.sh"

sources=$(ls "$srcdir"/lib/*.c)
cat "$srcdir"/tests/examples/*.tsv | grep -v '^#' | cut -f1 >"$scratch/numbers"
printf '%s\n' '' '???????????' '[8B]Y86N400001' 'RM23VOA149789' '12345' >>"$scratch/numbers"
not_empty "the list of examples" "$scratch/numbers"

# build PROGRAM COMPILER...: the program asks (answers.c) unless asking is said.
build() {
    program=$1
    shift
    # shellcheck disable=SC2086 # a list of files
    "$@" -std=c99 -I"$srcdir/include" -I"$builddir/tables" -I"$builddir/lib" -iquote "$srcdir/lib" \
        -o "$program" "$srcdir/tests/platforms/${asking:-answers.c}" $sources
}

# answers_alike NAME RUNNER...: the program's answers against the expected ones.
answers_alike() {
    name=$1
    shift
    "$@" <"$scratch/numbers" >"$scratch/answers" 2>"$scratch/errors" || {
        head -n 20 "$scratch/errors"
        complain "$name: the program fails"
        return
    }
    cmp "$scratch/expected" "$scratch/answers" || complain "$name: answers differ"
}

# platform NAME RUNNER COMPILER...: RUNNER is "-" where the program runs by itself.
platform() {
    name=$1
    runner=$2
    shift 2
    [ "$runner" != - ] || runner=
    if ! command -v "$1" >/dev/null; then
        complain "$name: $1 is not installed"
    elif build "$scratch/program" "$@"; then
        # shellcheck disable=SC2086 # a command with arguments
        answers_alike "$name" $runner "$scratch/program"
    else
        complain "$name: does not compile"
    fi
}

# shellcheck disable=SC2086 # NM may hold options
without_malloc() {
    build "$scratch/program" "$CC" "-$1" || complain "no malloc: does not compile"
    answers_alike "no malloc" "$scratch/program"
    # The program itself has stdio; the library's own objects must not ask.
    (cd "$scratch" && for source in $sources; do
        "$CC" -std=c99 "-$1" -I"$srcdir/include" -I"$builddir/tables" \
            -I"$builddir/lib" -iquote "$srcdir/lib" -c -o object.o "$source" &&
            $NM -u object.o
    done) | grep -E ' (malloc|calloc|realloc|free|aligned_alloc)$' >"$scratch/heap"
    while read -r symbol; do complain "no malloc: the library needs $symbol"; done <"$scratch/heap"
}

# threads: what they share is only read.
threads() {
    asking=threads.c
    build "$scratch/program" clang -O1 -g -fsanitize=thread -pthread && "$scratch/program" ||
        complain "threads: the program fails"
    asking=
}

# A locale whose small i has another capital; made here, since few machines have it.
turkish() {
    mkdir -p "$scratch/locales"
    localedef -i tr_TR -f UTF-8 "$scratch/locales/tr_TR.UTF-8" 2>/dev/null
    turkey="env LOCPATH=$scratch/locales LC_ALL=tr_TR.UTF-8"
    $turkey locale charmap 2>/dev/null | grep -q UTF-8 ||
        complain "turkish: the locale cannot be made"
    # shellcheck disable=SC2086 # a command with arguments
    answers_alike turkish $turkey "$scratch/reference"
}

# A library for Windows: it links, and it exports what the header declares.
windows() {
    cc=x86_64-w64-mingw32-gcc
    # shellcheck disable=SC2086 # a list of files
    "$cc" -std=c99 -shared '-DPLW_API=__declspec(dllexport)' -I"$srcdir/include" \
        -I"$builddir/tables" -I"$builddir/lib" -iquote "$srcdir/lib" \
        -o "$scratch/platewright.dll" -Wl,--out-implib,"$scratch/libplatewright.dll.a" $sources &&
        "$cc" -std=c99 -I"$srcdir/include" -o "$scratch/answers.exe" \
            "$srcdir/tests/platforms/answers.c" "$scratch/libplatewright.dll.a" ||
        complain "windows: does not build"
    declared "$srcdir/include/platewright.h" >"$scratch/declared"
    x86_64-w64-mingw32-objdump -p "$scratch/platewright.dll" |
        sed -n 's/.*\[ *[0-9]*\] \(+base\[ *[0-9]*\] *[0-9a-f]* \)\{0,1\}\(plw_[a-z0-9_]*\)$/\2/p' \
            >"$scratch/exported"
    not_empty "the library for Windows" "$scratch/exported"
    same_lines "the header" "$scratch/declared" "the library for Windows" "$scratch/exported"
}

# built_at FOLDER: the library, from a copy of the tree in that folder, under another
# time zone and umask. The table compiler gets relative paths, as in Makefile.am.
built_at() {
    mkdir -p "$1"
    cp -R "$srcdir/lib" "$srcdir/include" "$srcdir/tables" "$1"
    (
        cd "$1" && umask "$2" && export TZ="$3" &&
            "$CC" -std=c99 -Ilib -o compiler tables/compile/*.c &&
            LC_ALL=C ./compiler --c-source tables.inc tables/vocabulary.txt tables/*.sources \
                tables/*.scheme &&
            cp "$builddir/lib/constants.inc" . &&
            "$CC" -std=c99 -O2 -fPIC -shared -Iinclude -I. -iquote lib -o library.so lib/*.c
    ) || complain "reproducible: no library in $1"
}

reproducible() {
    built_at "$scratch/here" 022 UTC
    built_at "$scratch/some/where/else" 077 Asia/Tokyo
    ${1:-:}
    cmp "$scratch/here/tables.inc" "$scratch/some/where/else/tables.inc" &&
        cmp "$scratch/here/library.so" "$scratch/some/where/else/library.so" ||
        complain "reproducible: two builds differ"
}

spoil() {
    echo >>"$scratch/here/library.so"
}

build "$scratch/reference" "$CC" -O2 && "$scratch/reference" <"$scratch/numbers" \
    >"$scratch/expected" || complain "the reference cannot be built"
not_empty "the reference" "$scratch/expected"

sed 's/[0-9]/7/' "$scratch/expected" >"$scratch/other"
cp "$scratch/expected" "$scratch/kept"
cp "$scratch/other" "$scratch/expected"
must_refuse "answers that differ" answers_alike other "$scratch/reference"
cp "$scratch/kept" "$scratch/expected"
must_refuse "a compiler that is missing" platform missing - no-such-compiler
must_refuse "builds that differ" reproducible spoil
must_refuse "a library that asks for memory" without_malloc UPLWI_NO_MALLOC

LD_LIBRARY_PATH=$stage$libdir
export LD_LIBRARY_PATH
platform small - "$CC" -Os
platform unoptimised - "$CC" -O0
platform clang - clang -O2
platform static - "$CC" -O2 -static
platform 32-bit - i686-linux-gnu-gcc -O2 -static
platform big-endian qemu-s390x s390x-linux-gnu-gcc -O2 -static
platform musl - musl-gcc -O2 -static
platform initialised - clang -O1 -g -fsanitize=memory -fno-sanitize-recover=all
platform valgrind "valgrind -q --error-exitcode=9" "$CC" -O1 -g
without_malloc DPLWI_NO_MALLOC
reproducible
threads
turkish
windows
verdict
