#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The shared library exports what the version script lists, that is what the
# header declares, and nothing else.
. "$srcdir/tests/repository/gate.sh"

# compare HEADER MAP LIBRARY
compare() {
    declared "$1" >"$scratch/header"
    sed -n 's/^ *\(plw_[a-z0-9_]*\);$/\1/p' "$2" >"$scratch/map"
    $NM -D --defined-only "$3" | awk '$2 != "A" { sub(/@.*/, "", $3); print $3 }' \
        >"$scratch/library"
    not_empty "the header" "$scratch/header"
    not_empty "the library" "$scratch/library"
    same_lines "the header" "$scratch/header" "the version script" "$scratch/map"
    same_lines "the header" "$scratch/header" "the library" "$scratch/library"
    grep -v '^plw_' "$scratch/library" >"$scratch/strange"
    while read -r name; do complain "the library exports $name"; done <"$scratch/strange"
}

# every_name_has_a_version LIBRARY
every_name_has_a_version() {
    $NM -D --defined-only "$1" | awk '$2 != "A" && $3 !~ /@@?PLATEWRIGHT_/ { print $3 }' \
        >"$scratch/bare"
    while read -r name; do complain "$name has no symbol version"; done <"$scratch/bare"
}

header=$srcdir/include/platewright.h
map=$srcdir/lib/platewright.map
library=$PLATEWRIGHT_LIBRARY

sed '/ plw_decode;/d' "$map" >"$scratch/short.map"
must_refuse "a function that the version script forgot" \
    compare "$header" "$scratch/short.map" "$library"

sed 's/plw_grade(/plw_grade_renamed(/' "$header" >"$scratch/changed.h"
must_refuse "a function that the header lost" compare "$scratch/changed.h" "$map" "$library"

echo 'int plwi_leak; int plw_extra(void); int plw_extra(void) { return plwi_leak; }' \
    >"$scratch/leak.c"
$CC -shared -fPIC -o "$scratch/leak.so" "$scratch/leak.c"
must_refuse "a library that exports something else" compare "$header" "$map" "$scratch/leak.so"
must_refuse "a symbol without version" every_name_has_a_version "$scratch/leak.so"

compare "$header" "$map" "$library"
every_name_has_a_version "$library"
verdict
