#!/bin/sh
# SPDX-License-Identifier: MIT
#
# README.md tells the truth: every snippet in C, Python or shell runs against
# what was built and prints the text that stands behind it, and the list of what
# the tables cover is the client's.
. "$srcdir/tests/repository/gate.sh"

PATH=$scratch/bin:$PATH
LD_LIBRARY_PATH=$builddir/lib/.libs
PYTHONPATH=$srcdir/bindings/python
PYTHONDONTWRITEBYTECODE=1
export PATH LD_LIBRARY_PATH PYTHONPATH PYTHONDONTWRITEBYTECODE
mkdir "$scratch/bin"
printf '#!/bin/sh\nexec "%s" "$@"\n' "$PLATEWRIGHT_CLIENT" >"$scratch/bin/platewright"
chmod +x "$scratch/bin/platewright"

# take_out PAGE FOLDER: writes the snippets as NUMBER.LANGUAGE, and the text that
# stands behind each as NUMBER.text.
take_out() {
    rm -rf "$2"
    mkdir "$2"
    awk -v folder="$2" '
        /^```/ && inside { inside = 0; next }
        /^```/ {
            inside = 1
            file = "/dev/null"
            language = substr($0, 4)
            if (language ~ /^(c|python|sh)$/)
                file = folder "/" ++count "." language
            else if (language == "text" && count > answered) {
                answered = count
                file = folder "/" count ".text"
            }
            printf "" >file
            next
        }
        inside { print >file }' "$1"
}

# A snippet sees the tree as a reader does and writes into a folder of its own.
reader=$scratch/reader
mkdir "$reader"
ln -s "$srcdir/tables" "$srcdir/tests" "$reader"

run_snippet() (
    cd "$reader" || exit
    case $1 in
    *.c)
        # shellcheck disable=SC2086 # CC may hold flags
        $CC -std=c99 -I"$srcdir/include" -o "$1.program" "$1" "$PLATEWRIGHT_LIBRARY" &&
            "$1.program"
        ;;
    *.python) "$PYTHON" "$1" ;;
    *.sh) sh "$1" ;;
    esac
)

# snippets PAGE: each kind must be there, run well and print its text.
snippets() {
    take_out "$1" "$scratch/snippets"
    for language in c python sh; do
        ls "$scratch/snippets"/*."$language" >/dev/null 2>&1 || complain "no snippet in $language"
    done
    for snippet in "$scratch/snippets"/*.c "$scratch/snippets"/*.python "$scratch/snippets"/*.sh; do
        [ -e "$snippet" ] || continue
        name=$(basename "$snippet")
        expected=${snippet%.*}.text
        not_empty "the text behind snippet $name" "$expected"
        run_snippet "$snippet" >"$scratch/printed" 2>"$scratch/said" || {
            cat "$scratch/said"
            complain "snippet $name fails"
            continue
        }
        [ ! -e "$expected" ] || diff "$expected" "$scratch/printed" ||
            complain "snippet $name prints something else"
    done
}

# coverage PAGE: the homes of makers, first part of a scheme's key, and the model
# years from the first to the last of their schemes: `HOME` YEAR-YEAR.
coverage() {
    grep -o '`[a-z0-9-]*` [0-9]*-[0-9]*' "$1" | tr -d '`' >"$scratch/told"
    platewright schemes | awk 'NR > 1 {
        home = $1
        sub(/-[0-9][0-9][0-9][0-9].*/, "", home)
        split($2, years, "-")
        if (!(home in first) || years[1] < first[home]) first[home] = years[1]
        if (!(home in last) || years[2] > last[home]) last[home] = years[2]
    }
    END { for (home in first) print home, first[home] "-" last[home] }' >"$scratch/covered"
    not_empty "the list of schemes" "$scratch/covered"
    same_lines "$(basename "$1")" "$scratch/told" "the tables" "$scratch/covered"
}

page=$srcdir/README.md
bad=$scratch/bad.md

sed 's/Lincoln Continental four-door/Lincoln Continental three-door/' "$page" >"$bad"
must_refuse "an answer that the library does not give" snippets "$bad"
sed 's/plw_result_free(result)/plw_result_burn(result)/' "$page" >"$bad"
must_refuse "a program that does not compile" snippets "$bad"
sed 's/^import platewright$/import platewrong/' "$page" >"$bad"
must_refuse "a module that is not there" snippets "$bad"
sed 's/^```text$/```/' "$page" >"$bad"
must_refuse "snippets without what they print" snippets "$bad"
sed 's/^```python$/```/' "$page" >"$bad"
must_refuse "a language without a snippet" snippets "$bad"
sed 's/^|.*dearborn.*$//' "$page" >"$bad"
must_refuse "a maker that is not listed" coverage "$bad"

snippets "$page"
coverage "$page"
verdict
