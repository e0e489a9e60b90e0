# SPDX-License-Identifier: MIT
#
# What the gates share. A gate is a script that checks the tree or what was
# built from it. It says what is wrong, line by line, with `complain`; and since
# a gate that cannot fail guards nothing, it first feeds itself something bad
# with `must_refuse`. It ends with `verdict`.

set -u
export LC_ALL=C

gate=$(basename "$0" .sh)
complaints=$(mktemp)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch" "$complaints"' EXIT

complain() {
    echo "$gate: $*" | tee -a "$complaints"
}

# must_refuse WHAT COMMAND...: the command, a check of something bad, has to
# complain; its complaints then do not count.
must_refuse() {
    what=$1
    shift
    before=$(wc -l <"$complaints")
    "$@" >/dev/null 2>&1
    after=$(wc -l <"$complaints")
    head -n "$before" "$complaints" >"$scratch/complaints"
    cat "$scratch/complaints" >"$complaints"
    if [ "$after" -eq "$before" ]; then
        complain "does not notice $what"
    else
        echo "$gate: notices $what"
    fi
}

# same_lines WHAT FILE WHAT FILE: complains of each line that only one file has.
same_lines() {
    sort -u "$2" >"$scratch/left"
    sort -u "$4" >"$scratch/right"
    comm -23 "$scratch/left" "$scratch/right" >"$scratch/only"
    while read -r line; do complain "in $1, not in $3: $line"; done <"$scratch/only"
    comm -13 "$scratch/left" "$scratch/right" >"$scratch/only"
    while read -r line; do complain "in $3, not in $1: $line"; done <"$scratch/only"
}

# not_empty WHAT FILE: nothing compared with nothing is no agreement.
not_empty() {
    [ -s "$2" ] || complain "found nothing in $1"
}

# declared HEADER: the functions a header declares, one a line.
declared() {
    $CC -E -P -I"$srcdir/include" "$1" | grep -o 'plw_[a-z0-9_]* *(' | tr -d ' (' | sort -u
}

verdict() {
    if [ -s "$complaints" ]; then
        exit 1
    fi
    echo "$gate: in order"
    exit 0
}
