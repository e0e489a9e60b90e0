#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Every manual page is clean for mandoc, and every public function is named in
# one of them.
. "$srcdir/tests/repository/gate.sh"

# clean PAGE
clean() {
    $MANDOC -T lint -W warning "$1" >"$scratch/lint" 2>&1 || {
        cat "$scratch/lint"
        complain "$(basename "$1") is not clean"
    }
}

# tells_all HEADER FOLDER
tells_all() {
    declared "$1" >"$scratch/header"
    not_empty "the header" "$scratch/header"
    while read -r name; do
        grep -q -E "^\.(Fn|Fo|Nm) $name( |\$)" "$2"/*.3 2>/dev/null ||
            complain "no page of section 3 has $name"
    done <"$scratch/header"
}

header=$srcdir/include/platewright.h

printf '.Dd November 1, 2026\n.Dt BAD 3\n.Os\n.Sh NAME\n.Nm bad\n.Nd bad\n.Xx wrong\n' \
    >"$scratch/bad.3"
must_refuse "a macro that does not exist" clean "$scratch/bad.3"
must_refuse "functions without a page" tells_all "$header" "$scratch"

for page in "$srcdir"/man/*.[1-9]; do
    clean "$page"
done
tells_all "$header" "$srcdir/man"
verdict
