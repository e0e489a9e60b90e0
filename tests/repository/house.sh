#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The order of the house: nothing stands at the top level that does not belong
# there, every file is in the distribution, and no file names a path of the
# machine on which it was written.
. "$srcdir/tests/repository/gate.sh"

folders='include lib tables tests bindings man'
files='README.md DEVELOPERS.md LICENSE configure.ac Makefile.am'
dot_files='.autotools .ci .clang-format .clang-tidy .editorconfig .git .gitignore'

# generated TREE NAME: does .gitignore name it at the top level?
generated() {
    grep '^/[^/]*/\{0,1\}$' "$1/.gitignore" | sed 's|^/||; s|/$||' >"$scratch/ignored"
    while read -r pattern; do
        # shellcheck disable=SC2254 # it is a pattern
        case $2 in
        $pattern) return 0 ;;
        esac
    done <"$scratch/ignored"
    return 1
}

# top_level TREE
top_level() {
    ls -A "$1" >"$scratch/top"
    while read -r name; do
        case " $folders $files $dot_files " in
        *" $name "*) ;;
        *) generated "$1" "$name" || complain "does not belong at the top level: $name" ;;
        esac
    done <"$scratch/top"
    for name in $folders $files; do
        [ -e "$1/$name" ] || complain "missing at the top level: $name"
    done
}

# source_files TREE: every file that people wrote, also where a build in the tree
# left its own.
source_files() {
    (
        cd "$1" && for name in $folders $files .ci .clang-format .clang-tidy .editorconfig .gitignore; do
            [ ! -e "$name" ] || find "$name" \
                \( -name .deps -o -name .libs -o -name __pycache__ \) -prune -o -type f -print
        done
    ) | grep -v -E -e '\.(o|a|lo|la|inc|log|trs|pc)$' -e '/\.dirstamp$' -e '^tests/test_[a-z_]*$' \
        -e '^bindings/shell/platewright$' -e '^tables/compile/platewright-tables$' | sort -u
}

# distributed TREE: what Makefile.am does not name and automake takes by itself
# is left out on purpose.
distributed() {
    source_files "$1" | grep -v -x -e configure.ac -e Makefile.am -e 'README\.md' \
        -e 'lib/platewright\.pc\.in' >"$scratch/sources"
    tr -s ' \t' '\n\n' <"$1/Makefile.am" | sed 's|^\(tests/test_[a-z_]*\)$|\1.c|' | sort -u \
        >"$scratch/named"
    not_empty "the tree" "$scratch/sources"
    comm -23 "$scratch/sources" "$scratch/named" >"$scratch/forgotten"
    while read -r name; do complain "not in Makefile.am: $name"; done <"$scratch/forgotten"
}

# no_machine_paths TREE
no_machine_paths() {
    source_files "$1" >"$scratch/sources"
    while read -r name; do
        grep -I -n -E '(^|[^A-Za-z0-9._/-])/(work|tmp|root|home|farm|mnt)/' "$1/$name" \
            >"$scratch/paths" || continue
        complain "$name names a path of a machine: $(head -n 1 "$scratch/paths")"
    done <"$scratch/sources"
}

bad=$scratch/tree
mkdir "$bad" "$bad/lib"
cp "$srcdir/.gitignore" "$srcdir/Makefile.am" "$bad"
echo 'see /'home/somebody/notes >"$bad/lib/stray.c"
touch "$bad/NOTES"
must_refuse "a stray file at the top level" top_level "$bad"
must_refuse "a file that is not distributed" distributed "$bad"
must_refuse "a path of a machine" no_machine_paths "$bad"

top_level "$srcdir"
distributed "$srcdir"
no_machine_paths "$srcdir"
verdict
