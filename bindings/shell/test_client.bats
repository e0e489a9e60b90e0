#!/usr/bin/env bats
# SPDX-License-Identifier: MIT
#
# The client as a person or a script meets it: outputs, errors, exit statuses.
# PLATEWRIGHT_CLIENT names the program under test.

setup() {
    client=${PLATEWRIGHT_CLIENT:-platewright}
    work=$BATS_TEST_TMPDIR
    # Printed in Automotive Mileposts: 1963 Lincoln Continental, first unit.
    lincoln=3Y86N400001
}

# Standard output and standard error apart: $output and $errors.
client() {
    run sh -c '"$0" "$@" 2>"$ERRORS"' "$client" "$@"
    errors=$(cat "$ERRORS")
}

feed() {
    local text=$1
    shift
    printf "$text" >"$work/input"
    run sh -c '"$0" "$@" <"$INPUT" 2>"$ERRORS"' "$client" "$@"
    errors=$(cat "$ERRORS")
}

setup_file() {
    export ERRORS="$BATS_FILE_TMPDIR/errors" INPUT
}

@test "help fits one screen" {
    client --help
    [ "$status" -eq 0 ]
    [ "${#lines[@]}" -le 40 ]
    [ "$(printf '%s\n' "$output" | awk 'length > 80' | wc -l)" -eq 0 ]
}

@test "version names the release and the tables" {
    client --version
    [ "$status" -eq 0 ]
    [[ "$output" =~ ^platewright\ [0-9.]+,\ tables\ of\ [0-9-]+,\ digest\ [0-9a-f]{16}$ ]]
}

@test "explain reads a number position by position" {
    client explain "$lincoln"
    [ "$status" -eq 0 ]
    [ -z "$errors" ]
    [[ "$output" == *"model year 1963"* ]]
    [[ "$output" == *"430 V8"* ]]
    [[ "$output" == *"does not prove the car"* ]]
}

@test "explain: no line is wider than a terminal" {
    client explain "$lincoln" RL41G8A123456 1G4AH59H45G118341 '????????????' BS27N3B123456
    [ "$(printf '%s\n' "$output" | LC_ALL=C.UTF-8 awk 'length > 80' | wc -l)" -eq 0 ]
}

@test "explain: markdown, json, sources in full" {
    client explain -f markdown "$lincoln"
    [[ "$output" == *"| "* ]]
    client explain --format json "$lincoln"
    [ "${#lines[@]}" -eq 1 ]
    [[ "$output" == "{"*"}" ]]
    client explain --sources "$lincoln"
    [[ "$output" == *"http"* ]]
}

@test "decode writes a row for each reading" {
    client decode RL41G8A123456
    [ "$status" -eq 0 ]
    [ "${#lines[@]}" -eq 3 ]
    [ "$(printf '%s\n' "$output" | cut -f3)" = "$(printf 'years\n1968\n1978')" ]
}

@test "hints rank" {
    client decode --year 1978 RL41G8A123456
    [ "$(printf '%s\n' "${lines[1]}" | cut -f3)" = 1978 ]
    client decode -S dearborn-1960 -m Ford "$lincoln"
    [ "$status" -eq 0 ]
}

@test "validate: exit status 0 for a good number, 1 for a doubt, 2 for a fault" {
    client validate "$lincoln"
    [ "$status" -eq 0 ]
    client validate RM23UOA174567
    [ "$status" -eq 1 ]
    client validate 'RM23U0A1745#7'
    [ "$status" -eq 2 ]
    [ "$(printf '%s\n' "${lines[1]}" | cut -f2,3)" = "$(printf 'fault\tcharacter')" ]
}

@test "validate: the gravest of several numbers decides" {
    client validate "$lincoln" 'RM23U0A1745#7' RM23UOA174567
    [ "$status" -eq 2 ]
}

@test "decode and explain: exit status 1 when a number has no reading" {
    client decode "$lincoln" 12
    [ "$status" -eq 1 ]
    [[ "$output" == *"no reading"* ]]
    client explain 12
    [ "$status" -eq 1 ]
}

@test "numbers come one a line from standard input" {
    INPUT=$work/input feed "$lincoln\n\n  RM23V0A149789  \r\n" decode
    [ "$status" -eq 0 ]
    [ "${#lines[@]}" -eq 3 ]
}

@test "the last line needs no line end" {
    INPUT=$work/input feed "$lincoln" decode
    [ "${#lines[@]}" -eq 2 ]
}

@test "an over-long line is named and the rest goes on" {
    INPUT=$work/input feed "$lincoln\n$(printf '1%.0s' {1..300})\nRM23V0A149789\n" decode
    [ "$status" -eq 65 ]
    [ "$errors" = "platewright: line 2: longer than 256 bytes; skipped" ]
    [ "${#lines[@]}" -eq 3 ]
}

@test "binary input is named and the rest goes on" {
    INPUT=$work/input feed "\\001\\002\\000\n$lincoln\n" decode
    [ "$status" -eq 65 ]
    [ "$errors" = "platewright: line 1: holds bytes that are not text; skipped" ]
    [ "${#lines[@]}" -eq 2 ]
}

@test "an over-long argument is named and the rest goes on" {
    client decode "$(printf '1%.0s' {1..300})" "$lincoln"
    [ "$status" -eq 65 ]
    [ "$errors" = "platewright: number 1: longer than 256 bytes; skipped" ]
    [ "${#lines[@]}" -eq 2 ]
}

@test "wrong use: one line on standard error, status 64" {
    for arguments in '' 'guess' 'explain -f html' 'decode -f markdown' 'validate -f markdown' \
        'schemes -f markdown' 'explain --year 19' 'explain --maker a;b' 'schemes nowhere-1900' \
        'compile'; do
        # shellcheck disable=SC2086
        client $arguments
        [ "$status" -eq 64 ]
        [ -z "$output" ]
        [ "$(printf '%s\n' "$errors" | wc -l)" -eq 1 ]
        [[ "$errors" == "platewright: "* ]]
    done
    client --nonsense
    [ "$status" -eq 64 ]
}

@test "an unreadable file: status 66" {
    client decode --tables "$work/nothing" "$lincoln"
    [ "$status" -eq 66 ]
    [[ "$errors" == "platewright: $work/nothing: "* ]]
    printf 'no image' >"$work/file"
    client decode --tables "$work/file" "$lincoln"
    [ "$status" -eq 66 ]
    client compile "$work/nothing"
    [ "$status" -eq 66 ]
}

@test "a full disk is noticed" {
    [ -w /dev/full ] || skip "no /dev/full here"
    run sh -c '"$0" explain "$1" >/dev/full' "$client" "$lincoln"
    [ "$status" -eq 66 ]
}

@test "schemes lists what the tables cover, in text and json" {
    client schemes
    [ "$status" -eq 0 ]
    [[ "$output" == *"dearborn-1960 "*"1960-1980"* ]]
    client schemes highland-park-1966
    [[ "$output" == *"engine "* ]]
    client schemes -f json
    [[ "${lines[0]}" == '{"scheme":'* ]]
}

@test "compile: a good file, its image, and numbers read with it" {
    client compile --image "$work/wexcombe" "$srcdir/tests/fixtures/port-ellery.scheme"
    [ "$status" -eq 0 ]
    client decode --tables "$work/wexcombe" T24M6P100051
    [ "$status" -eq 0 ]
    [ "$(printf '%s\n' "${lines[1]}" | cut -f2,3)" = "$(printf 'port-ellery-1962\t1966')" ]
}

@test "compile: every mistake with its place and what to write" {
    sed -e 's/^M       1966-1969  -           practice /M       1966-1969  -           hearsay  /' \
        -e 's/^N       1965-1972/NN      1965-1972/' \
        "$srcdir/tests/fixtures/port-ellery.scheme" >"$work/bad.scheme"
    client compile --image "$work/image" "$work/bad.scheme"
    [ "$status" -eq 65 ]
    [ ! -e "$work/image" ]
    [[ "$errors" == *"bad.scheme:"*":"*": "*"hearsay"* ]]
    [[ "$errors" == *"bad.scheme:"*":"*": "*"NN"* ]]
}
