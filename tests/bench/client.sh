#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Whole programs: a million numbers through the client beside a mawk program that
# cuts and looks up, the shared library in a process that decodes one number, and
# the Python package. Called by make bench, which sets srcdir and builddir.
set -eu
: "${srcdir:?}" "${builddir:?}" "${PYTHON:=python3}"
here=$srcdir/tests/bench
LD_LIBRARY_PATH=$builddir/lib/.libs
export LD_LIBRARY_PATH
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
command -v mawk >/dev/null || {
    echo "make bench needs mawk (Debian package mawk)" >&2
    exit 1
}

# built NAME: the program itself, not the script that libtool may put before it.
built() {
    folder=$builddir/$(dirname "$1")
    file=$(basename "$1")
    if [ -x "$folder/.libs/$file" ]; then
        echo "$folder/.libs/$file"
    else
        echo "$folder/$file"
    fi
}

# clock ROUNDS COMMAND...: sets seconds and memory.
clock() {
    taken=$("$PYTHON" "$here/clock.py" "$@")
    seconds=${taken% *}
    memory=${taken#* }
}

# fed FILE COMMAND...: the command reads the file.
fed() {
    # shellcheck disable=SC2016 # for the inner shell
    clock 3 sh -c 'exec "$@" <"$0"' "$@"
}

ratio() {
    awk -v a="$1" -v b="$2" 'BEGIN { printf "%.2f", a / b }'
}

told() {
    printf '  %-32s %7.2f s %7d KiB %6s x mawk\n' "$1" "$seconds" "$memory" \
        "$(ratio "$seconds" "$mawk")"
}

client=$(built bindings/shell/platewright)
mawk -v count=1000000 -f "$here/numbers.awk" >"$scratch/numbers"
head -n 10000 "$scratch/numbers" >"$scratch/few"

echo "one million numbers: processor time, and memory (not less than Python has)"
clock 3 mawk -f "$here/fixed.awk" "$srcdir/tables/highland-park-1966.scheme" "$scratch/numbers"
mawk=$seconds
told "mawk, cut and looked up"
fed "$scratch/numbers" "$client" decode
told "platewright decode"
fed "$scratch/numbers" "$client" validate
told "platewright validate"
fed "$scratch/few" "$client" decode
echo "  ten thousand numbers need $memory KiB"

# start NAME: milliseconds of one process, out of a loop.
start() {
    # shellcheck disable=SC2016 # for the inner shell
    clock 5 sh -c 'for i in 1 2 3 4 5 6 7 8 9 10; do
        "$0"; "$0"; "$0"; "$0"; "$0"; "$0"; "$0"; "$0"; "$0"; "$0"; done' "$(built "$1")"
    awk -v s="$seconds" 'BEGIN { print s * 10 }'
}

echo "start of a process: processor time"
nothing=$(start tests/bench/start_nothing)
one=$(start tests/bench/start)
echo "  does nothing $nothing ms; loads the library and decodes one number $one ms:" \
    "$(ratio "$one" "$nothing") x"

echo "Python: processor time"
PYTHONPATH=$srcdir/bindings/python PYTHONDONTWRITEBYTECODE=1 \
    PLATEWRIGHT_LIBRARY=$builddir/lib/.libs/libplatewright.so \
    "$PYTHON" "$here/python.py" "$scratch/numbers"
