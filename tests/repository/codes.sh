#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Numbers are ABI. Every constant of the header has the number that stands in
# constants.txt, the library serves it to other languages, and every finding has
# the same number and name in the header and in tables/vocabulary.txt.
. "$srcdir/tests/repository/gate.sh"

# constants HEADER: "NAME NUMBER" of each constant. The release's own numbers
# change with each release; configure looks after them.
constants() {
    sed -n 's/^#define \(PLW_[A-Z0-9_]*\) .*/\1/p' "$1" |
        grep -v -e '^PLW_API$' -e '^PLW_VERSION_' >"$scratch/names"
    {
        echo "#include \"$1\""
        echo '#include <stdio.h>'
        echo 'int main(void) {'
        sed 's/.*/printf("& %lld\\n", (long long)(&));/' "$scratch/names"
        echo 'return 0; }'
    } >"$scratch/constants.c"
    $CC -o "$scratch/constants" "$scratch/constants.c" && "$scratch/constants"
}

# golden HEADER LIST
golden() {
    constants "$1" >"$scratch/header"
    grep -v -e '^#' -e '^$' "$2" >"$scratch/golden"
    not_empty "the header" "$scratch/header"
    same_lines "the header" "$scratch/header" "constants.txt" "$scratch/golden"
}

# findings HEADER VOCABULARY
findings() {
    constants "$1" | sed -n 's/^PLW_FINDING_//p' | tr 'A-Z_' 'a-z-' >"$scratch/header"
    awk '/^\[/ { inside = ($0 == "[findings]"); next }
        inside && /^[0-9]/ { print $2, $1 }' "$2" >"$scratch/vocabulary"
    not_empty "the vocabulary" "$scratch/vocabulary"
    same_lines "the header" "$scratch/header" "the vocabulary" "$scratch/vocabulary"
}

# served LIST: what plw_constant_name and plw_constant_value list.
served() {
    cat >"$scratch/served.c" <<'PROGRAM'
#include <platewright.h>
#include <stdio.h>
int main(void)
{
    for (uint32_t i = 0; i < plw_constant_count(); i++)
        printf("%s %lld\n", plw_constant_name(i), (long long)plw_constant_value(i));
    return 0;
}
PROGRAM
    $CC -I"$srcdir/include" -o "$scratch/served" "$scratch/served.c" "$PLATEWRIGHT_LIBRARY" &&
        LD_LIBRARY_PATH=$(dirname "$PLATEWRIGHT_LIBRARY") "$scratch/served" |
        grep -v '^PLW_VERSION_' >"$scratch/library"
    grep -v -e '^#' -e '^$' "$1" >"$scratch/golden"
    not_empty "the library" "$scratch/library"
    same_lines "the library" "$scratch/library" "constants.txt" "$scratch/golden"
}

header=$srcdir/include/platewright.h
list=$srcdir/tests/repository/constants.txt
vocabulary=$srcdir/tables/vocabulary.txt

sed 's/^#define PLW_E_SHORT .*/#define PLW_E_SHORT (-99)/' "$header" >"$scratch/bad.h"
must_refuse "a constant with another number" golden "$scratch/bad.h" "$list"
sed '/^#define PLW_GRADE_DOUBT /d' "$header" >"$scratch/bad.h"
must_refuse "a constant that is gone" golden "$scratch/bad.h" "$list"
sed '/^#define PLW_OK /a #define PLW_NEW 1' "$header" >"$scratch/bad.h"
must_refuse "a constant that the list does not have" golden "$scratch/bad.h" "$list"
sed 's/^8  *exclusion/88 exclusion/' "$vocabulary" >"$scratch/bad.txt"
must_refuse "a finding with another number" findings "$header" "$scratch/bad.txt"
sed 's/check-wrong/check-bad/' "$vocabulary" >"$scratch/bad.txt"
must_refuse "a finding with another name" findings "$header" "$scratch/bad.txt"

{ cat "$list"; echo "PLW_MISSING 1"; } >"$scratch/longer.txt"
must_refuse "a constant that the library does not serve" served "$scratch/longer.txt"

golden "$header" "$list"
served "$list"
findings "$header" "$vocabulary"
verdict
