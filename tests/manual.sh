#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The manual tells the truth: its programs compile and run, its sessions print
# what it shows, its whole table compiles, and it lists the findings and the
# attributes of the vocabulary. tests/repository/man.sh looks at its form.
. "$srcdir/tests/repository/gate.sh"

PATH=$scratch/bin:$PATH
LD_LIBRARY_PATH=$builddir/lib/.libs
export PATH LD_LIBRARY_PATH
mkdir "$scratch/bin"
printf '#!/bin/sh\nexec "%s" "$@"\n' "$PLATEWRIGHT_CLIENT" >"$scratch/bin/platewright"
chmod +x "$scratch/bin/platewright"

# displays START FOLDER PAGE...: writes each literal display whose first line
# begins with START as FOLDER/NUMBER.
displays() {
    rm -rf "$2"
    mkdir "$2"
    start=$1
    folder=$2
    shift 2
    sed 's/\\e/\\/g; s/\\&//g' "$@" | awk -v start="$start" -v folder="$folder" '
        /^\.Bd -literal/ { first = 1; next }
        /^\.Ed/ { file = ""; next }
        first { first = 0; if (index($0, start) == 1) file = folder "/" ++count }
        file { print >file }'
    [ -e "$folder/1" ] || complain "no display begins with $start"
}

programs() {
    displays '#include' "$scratch/programs" "$@"
    for program in "$scratch/programs"/*; do
        # shellcheck disable=SC2086 # CC may hold flags
        $CC -std=c99 -Wall -Wextra -Wpedantic -Werror -I"$srcdir/include" -x c \
            -o "$scratch/program" "$program" -x none "$PLATEWRIGHT_LIBRARY" &&
            "$scratch/program" >"$scratch/printed" 2>&1 </dev/null &&
            [ -s "$scratch/printed" ] || {
            cat "$program"
            complain "a program fails or prints nothing"
        }
    done
}

# A line that begins with "$ " is a command; what follows is what it prints.
sessions() {
    displays '$ ' "$scratch/sessions" "$@"
    for session in "$scratch/sessions"/*; do
        while IFS= read -r line; do
            case $line in
            '$ '*)
                printf '%s\n' "$line"
                (cd "$scratch" && sh -c "${line#??}") </dev/null
                ;;
            esac
        done <"$session" >"$scratch/printed" 2>&1
        diff "$session" "$scratch/printed" || complain "a session goes another way"
    done
}

whole_tables() {
    displays '[sources]' "$scratch/tables" "$@"
    compiled=0
    for table in "$scratch/tables"/*; do
        grep -q '^\[scheme\]' "$table" || continue
        compiled=$((compiled + 1))
        platewright compile "$table" || complain "a table is refused"
    done
    [ "$compiled" -gt 0 ] || complain "no whole table"
}

# entries SECTION: of the vocabulary, without comments.
entries() {
    awk -v section="[$1]" '
        /^\[/ { inside = $0 == section; next }
        inside && NF && !/^#/' "$srcdir/tables/vocabulary.txt"
}

# lists WHAT PAGE: the lines of standard input stand in the page, each as the
# first cells of a list.
lists() {
    cat >"$scratch/wanted"
    not_empty "$1 of the vocabulary" "$scratch/wanted"
    while IFS= read -r cells; do
        grep -q -F -e ".It $cells Ta" "$2" || complain "$1: not listed: $cells"
    done <"$scratch/wanted"
}

findings() {
    entries findings | awk '{ print $1, "Ta", $2, "Ta", $3 }' | lists findings "$1"
}

attributes() {
    entries attributes | awk '{ print $1, "Ta", $2 }' | lists attributes "$1"
}

man=$srcdir/man
bad=$scratch/bad

sed 's/plw_result_new(/plw_result_old(/' "$man/plw_decode.3" >"$bad"
must_refuse "a program that does not compile" programs "$bad"
sed 's/^highland-park-1966	1978$/highland-park-1966	1979/' "$man/platewright.1" >"$bad"
must_refuse "a session that goes another way" sessions "$bad"
sed 's/handbook  line=Tern/leaflet  line=Tern/' "$man/platewright-tables.5" >"$bad"
must_refuse "a table that is refused" whole_tables "$bad"
sed 's/Ta exclusion Ta fault/Ta exclusion Ta note/' "$man/libplatewright.3" >"$bad"
must_refuse "a finding with another grade" findings "$bad"
sed '/^\.It doors/d' "$man/platewright-tables.5" >"$bad"
must_refuse "an attribute that is not listed" attributes "$bad"

programs "$man"/*.3
sessions "$man"/*.1
whole_tables "$man"/*.5
findings "$man/libplatewright.3"
attributes "$man/platewright-tables.5"
verdict
