#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Lets libFuzzer look for bytes that break something:
#
#     make fuzz FUZZ='number 1000000'     one harness, so many executions
#     make fuzz FUZZ='all 100000'         each of them
#
# Builds with clang and the sanitizers below fuzz/ in the build folder; what was
# found interesting stays there as the corpus of the next run, and so does an
# input that crashed. Such an input goes to tests/fuzz/corpus/ with its mending.
set -eu

harnesses='verdict number claims car expect names image tables catalogue'
wanted=${1:?the name of a harness, or all}
runs=${2:?how many executions}
[ "$wanted" != all ] || wanted=$harnesses

work=$builddir/fuzz
mkdir -p "$work"

objects() {
    (cd "$srcdir" && ls lib/*.c tables/compile/*.c bindings/shell/*.c tests/fuzz/*.c tests/fixture.c) |
        grep -v -e '/main\.c$' -e '/engine\.c$' >"$work/sources"
    while read -r source; do
        object=$work/objects/${source%.c}.o
        mkdir -p "$(dirname "$object")"
        echo "$object: $srcdir/$source"
        # shellcheck disable=SC2016 # for make
        printf '\t$(CC) $(FLAGS) -c -o $@ %s\n' "$srcdir/$source"
        echo "all: $object"
    done <"$work/sources"
}

objects >"$work/objects.mk"
# Check's header is on the compiler's own path, the table compiler's beside its users.
# FUZZ_CHECKS= looks for broken promises alone and counts no comparisons: tens of times as fast.
checks=${FUZZ_CHECKS-address,undefined}
quick=
[ -n "$checks" ] || quick=-fno-sanitize-coverage=trace-cmp
flags="-std=gnu99 -O2 -g -fsanitize=fuzzer-no-link${checks:+,$checks} -fno-sanitize-recover=all $quick \
-I$srcdir/include -I$builddir/tables -I$builddir/lib -iquote $srcdir/lib -iquote $srcdir/tables/compile"
${MAKE:-make} -s -j"$(nproc)" -f "$work/objects.mk" CC="${CLANG:-clang}" FLAGS="$flags" all

# seeds HARNESS FOLDER: one file for each example of the tree.
seeds() {
    mkdir -p "$2"
    case $1 in
    verdict | number | claims | car)
        cat "$srcdir"/tests/examples/*.tsv | grep -v '^#' | cut -f1 |
            awk -v folder="$2" -v kind="$1" '{
                file = folder "/example-" NR
                if (kind == "verdict") printf "%s", $0 > file
                else if (kind == "number") printf "%c%c%s", 48 + NR % 60, 49 + NR % 30, $0 > file
                else if (kind == "claims") printf "%s\nyear=1968;engine=426 cu in V8", $0 > file
                else printf "1%s\n5%s\nd1C18\ncyear=1968", $0, substr($0, length($0) - 7) > file
                close(file)
            }'
        ;;
    expect) printf 'year=1971;body=convertible\n3Y86N400001' >"$2/example" ;;
    names) cp "$srcdir/tests/fixtures/quillfeather.names" "$2" ;;
    image) printf '1\001\002\000\000\007' >"$2/example" ;;
    tables) cp "$srcdir"/tests/fixtures/*.scheme "$srcdir/tables/south-bend-1959.scheme" "$2" ;;
    catalogue)
        cp "$srcdir"/tests/fixtures/*.csv "$2"
        printf '{"number":"3Y86N400001"}\n' >"$2/example"
        ;;
    esac
    for input in "$srcdir/tests/fuzz/corpus/$1"-*; do
        [ ! -e "$input" ] || cp "$input" "$2"
    done
}

for harness in $wanted; do
    echo "==== $harness" >&2
    # shellcheck disable=SC2046,SC2086 # lists
    ${CLANG:-clang} $flags -fsanitize=fuzzer -DHARNESS="fuzz_$harness" -o "$work/$harness" \
        "$srcdir/tests/fuzz/engine.c" $(sed "s|^\(.*\)\.c\$|$work/objects/\1.o|" "$work/sources") \
        -ljson-c -lcsv
    seeds "$harness" "$work/seeds-$harness"
    mkdir -p "$work/corpus-$harness"
    "$work/$harness" -runs="$runs" -max_len="${FUZZ_LENGTH:-512}" -timeout=20 -print_final_stats=1 \
        -artifact_prefix="$work/$harness-" "$work/corpus-$harness" "$work/seeds-$harness"
done
