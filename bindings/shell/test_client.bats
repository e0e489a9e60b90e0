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

@test "claims are held against the number" {
    client validate --claim 'year=1963; engine=7.0L' -c 'body=wagon;colour=red' "$lincoln"
    [ "$status" -eq 2 ]
    [ -z "$errors" ]
    rows=$(printf '%s\n' "$output" | grep claim | cut -f 2-6)
    [ "$(printf '%s\n' "$rows" | cut -f 1 | tr '\n' ' ')" = \
        "supported supported contradicted not-told " ]
    [ "$(printf '%s\n' "$rows" | cut -f 2 | tr '\n' ' ')" = \
        "claim-year claim-engine claim-body claim " ]
    [ "$(printf '%s\n' "$rows" | sed -n 2p)" = \
        "supported	claim-engine	dearborn-1960	1963	5" ]
}

@test "explain tells claims and fails when one is contradicted" {
    client explain -c 'year=1963' "$lincoln"
    [ "$status" -eq 0 ]
    [[ "$output" == *"The number supports year=1963"* ]]
    client explain -c 'year=1962' "$lincoln"
    [ "$status" -eq 2 ]
    client explain -f json -c 'year=1963' "$lincoln"
    [[ "$output" == *'"claims":[{"claim":"year=1963"'* ]]
}

@test "a claim that is not attribute=value is wrong use" {
    client validate -c '1963' "$lincoln"
    [ "$status" -eq 64 ]
    [ -z "$output" ]
    [[ "$errors" == *"claims:"* ]]
    client validate -c "line=$(printf '%01100d' 0)" "$lincoln"
    [ "$status" -eq 64 ]
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

@test "explain: markdown, json, a drawing, sources in full" {
    client explain -f markdown "$lincoln"
    [[ "$output" == *"| "* ]]
    client explain -f html "$lincoln"
    [ "$status" -eq 0 ]
    [[ "$output" == "<!DOCTYPE html>"*"</html>" ]]
    client explain -f svg "$lincoln"
    [ "$status" -eq 0 ]
    [[ "$output" == "<svg "*"</svg>" ]]
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

@test "suggest: guesses stand behind the findings and change no grade" {
    client validate -g 164AH59H45G118341
    [ "$status" -eq 2 ]
    last=${lines[$((${#lines[@]} - 1))]}
    [ "$(printf '%s\n' "$last" | cut -f1-3,6)" = "$(printf '164AH59H45G118341\tguess\tsuggestion\t2')" ]
    [[ "$last" == *"it would be 1G4AH59H45G118341"* ]]
    client explain --suggest 164AH59H45G118341
    [[ "$output" == *"Could it be a misreading?"* ]]
    client validate 164AH59H45G118341
    [[ "$output" != *guess* ]]
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
    for arguments in '' 'guess' 'explain -f pdf' 'decode -f markdown' 'validate -f markdown' \
        'schemes -f markdown' 'decode -f svg' 'schemes -f svg' 'explain --year 19' 'explain --maker a;b' 'schemes nowhere-1900' \
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

@test "an option that does nothing for a command is refused, not ignored" {
    while read -r command option takers; do
        client "$command" "$option" "$lincoln"
        [ "$status" -eq 64 ]
        [ -z "$output" ]
        [[ "$errors" == "platewright: $command does not take --"*", which is for: $takers" ]]
        client "$option" "$command" "$lincoln"
        [ "$status" -eq 64 ]
    done <<END
explain --date=casting=8C1 compare
decode -dcasting=8C1 compare
catalogue -cyear=1966 explain, validate, compare, expect
catalogue -g explain, validate
compare -g explain, validate
decode --covers=12 expect
expect --column=number catalogue
explain --no-duplicates catalogue
schemes -y1966 explain, decode, validate, compare, expect, catalogue
validate --image=$work/image compile
compile --tables=$work/image explain, decode, validate, compare, expect, catalogue, schemes
END
}

@test "every command that can list sources does" {
    for command in "explain $lincoln" "decode -f json $lincoln" "validate -f json $lincoln" \
        "compare dash=$lincoln" 'expect -c maker=Lincoln year=1963'; do
        # shellcheck disable=SC2086
        client $command
        [[ "$output" != *"Vehicle Identification Number Explanation"* ]]
        # shellcheck disable=SC2086
        client -s $command
        [[ "${output//[[:space:]]/ }" == *"Explanation, Automotive Mileposts"* ]]
    done
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

@test "compare: exit status 0 when plates agree, 2 when they differ, 1 when it cannot tell" {
    client compare dash=RM23V0A149789 engine=0A149789 'gearbox=0A149?89'
    [ "$status" -eq 0 ]
    [ -z "$errors" ]
    [[ "$output" == *"The engine stamp agrees with the dash plate and the"* ]]
    [[ "$output" == *"does not prove the car"* ]]
    client compare dash=RM23V0A149789 engine=0A149780
    [ "$status" -eq 2 ]
    [[ "$output" == *"RM23V0A14978[09]"* ]]
    client compare engine=0A149789
    [ "$status" -eq 1 ]
}

@test "compare: characters stand under each other" {
    client compare dash=RM23V0A149789 engine=0A149789
    dash=$(printf '%s\n' "$output" | awk '/^  dash plate/ { print index($0, "0A149789") }')
    stamp=$(printf '%s\n' "$output" | awk '/^  engine stamp/ { print index($0, "0A149789") }')
    [ "$dash" -gt 0 ]
    [ "$dash" -eq "$stamp" ]
}

@test "compare: markdown, json, hints, a place with a hyphen" {
    client compare -f markdown --sources dash=RM23V0A149789 door-label=RM23V0A149789
    [ "$status" -eq 0 ]
    [[ "$output" == *"## What agrees"* ]]
    client compare --format json -S dearborn-1960 engine=0A149789
    [ "${#lines[@]}" -eq 1 ]
    [[ "$output" == *'"joined":[{"scheme":"dearborn-1960"'* ]]
}

@test "compare: a claim contradicted is graver than plates that agree" {
    client compare dash=RM23V0A149789 engine=0A149789 gearbox=0A149789 -c year=1970
    [ "$status" -eq 0 ]
    [[ "$output" == *"supported "*"year=1970"* ]]
    client compare dash=RM23V0A149789 engine=0A149789 gearbox=0A149789 --claim 'year=1969; body=<b>'
    [ "$status" -eq 2 ]
    [[ "$output" == *"contradicted "*"year=1969"* ]]
    client compare -f json dash=RM23V0A149789 -c year=1969
    [[ "$output" == *'"claims":[{"claim":"year=1969"'* ]]
}

@test "compare: a drawing, and a page that no claim can write markup into" {
    client compare -f svg dash=RM23V0A149789 engine=0A149780
    [ "$status" -eq 2 ]
    [[ "$output" == "<svg "*"</svg>" ]]
    client compare --format html dash=RM23V0A149789 'body=<b>]]>' -c 'colour=<script>"x"</script>'
    [[ "$output" == "<!DOCTYPE html>"*"</html>" ]]
    [[ "$output" == *"colour=&lt;script&gt;&quot;x&quot;&lt;/script&gt;"* ]]
    [[ "$output" != *"<script"* ]]
    [[ "$output" != *"<b>]"* ]]
}

@test "compare: dates are held against the car" {
    client compare dash=8F02R123456 engine=8F123456 -d casting=8C1 --date assembly=8D10
    [ "$status" -eq 0 ]
    [[ "$output" == *"Casting date 8C1: 1 March 1968"* ]]
    client compare dash=8F02R123456 engine=8F123456 -d casting=9C1
    [ "$status" -eq 2 ]
    [[ "$output" == *"later than the last day"* ]]
    client compare dash=8F02R123456 engine=8F123456 -d body-tag=nothing
    [ "$status" -eq 1 ]
    client compare -f json dash=8F02R123456 -d casting=8C1
    [[ "$output" == *'"days":[{"first":"1968-03-01","last":"1968-03-01"}]'* ]]
}

@test "compare: what is no date is wrong use, a text too long is bad data" {
    for date in 8C1 paint=8C1 =8C1; do
        client compare dash=8F02R123456 -d "$date"
        [ "$status" -eq 64 ]
        [ -z "$output" ]
        [[ "$errors" == "platewright: '$date' is no date; write KIND=TEXT"* ]]
    done
    client compare dash=8F02R123456 --date=casting=8C1{,,,,}{,,,,}
    [ "$status" -eq 64 ]
    [ "$errors" = "platewright: more than 16 dates" ]
    client compare dash=8F02R123456 -d "label=$(printf '1%.0s' {1..65})"
    [ "$status" -eq 65 ]
    [ "$errors" = "platewright: label: longer than 64 bytes" ]
}

@test "compare: what is no plate is wrong use, a text too long is bad data" {
    for arguments in 'compare' 'compare RM23V0A149789' 'compare roof=RM23V0A149789' \
        'compare -f pdf dash=RM23V0A149789' 'compare -c red dash=RM23V0A149789'; do
        # shellcheck disable=SC2086
        client $arguments
        [ "$status" -eq 64 ]
        [ -z "$output" ]
        [[ "$errors" == "platewright: "* ]]
    done
    client compare dash=1{,,,,,,,,,,,,,,,,}
    [ "$status" -eq 64 ]
    client compare "dash=$(printf '1%.0s' {1..300})"
    [ "$status" -eq 65 ]
    [ "$errors" = "platewright: dash: longer than 256 bytes" ]
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

@test "names: the words of a file stand in every output" {
    local names=$srcdir/tests/fixtures/quillfeather.names
    client compile --image "$work/wexcombe" "$srcdir/tests/fixtures/port-ellery.scheme"
    client decode -t "$work/wexcombe" --names "$names" T24M6P100051
    [ "$status" -eq 0 ]
    [ -z "$errors" ]
    [[ "$output" == *"line T: Wexcombe Tern; coachwork 24: Saloon, 4 doors;"* ]]
    client validate -n "$names" -t "$work/wexcombe" S31K5N500123
    [ "$status" -eq 1 ]
    [[ "$output" == *"line S (Wexcombe Shrike)"*"the Quillfeather file names"* ]]
    for format in text markdown json; do
        client explain -f "$format" -t "$work/wexcombe" -n "$names" T24M6P100051
        [[ "$output" == *"Wexcombe of Port Ellery, first numbering"*"Wexcombe Tern"* ]]
        [[ "$output" != *"Tern, small saloon line"* ]]
    done
    for format in text json; do
        client schemes -f "$format" -t "$work/wexcombe" -n "$names" port-ellery-1962
        [[ "$output" == *"Wexcombe of Port Ellery, first numbering"* ]]
    done
}

@test "names: bad lines are named and the good ones count" {
    printf 'field/engine = motor\nnonsense\r\nfield/motor = x\n' >"$work/house.names"
    client decode -n "$work/house.names" "$lincoln"
    [ "$status" -eq 65 ]
    [[ "$output" == *"motor N: 430 V8"* ]]
    [ "$(printf '%s\n' "$errors" | cut -d ' ' -f 1-2)" = "platewright: $work/house.names:2:
platewright: $work/house.names:3:" ]
    client decode -n "$work/nothing" "$lincoln"
    [ "$status" -eq 66 ]
    [ -z "$output" ]
    [[ "$errors" == "platewright: $work/nothing: "* ]]
}

@test "schemes: years, lengths, lines, rows by standing, disputes and gaps" {
    client compile --image "$work/wexcombe" "$srcdir/tests/fixtures/port-ellery.scheme"
    client schemes --tables "$work/wexcombe" port-ellery-1962
    [ "$status" -eq 0 ]
    [ "${lines[0]}" = "port-ellery-1962: Wexcombe cars of Port Ellery, 1962-1975" ]
    [ "${lines[1]}" = "model years 1962-1975; 12 characters" ]
    [ "${lines[2]}" = "lines: Tern, Heron, Harrier, Shrike, Vireo" ]
    [[ "$output" == *$'\n'"engine "*" 10         7        1      2        2        0"$'\n'* ]]
    [[ "$output" == *$'\n'"engine_power "*$'\n'"  no row for 1969-1975"$'\n'* ]]
    client schemes --tables "$work/wexcombe"
    [ "$(printf '%s\n' "${lines[2]}" | tr -s ' ')" = "port-ellery-1976 1976-1980 10 10 9 1 0 0 0" ]
}

@test "schemes in json: one object a line, the same figures" {
    client compile --image "$work/wexcombe" "$srcdir/tests/fixtures/port-ellery.scheme"
    client schemes -f json --tables "$work/wexcombe"
    [ "${#lines[@]}" -eq 2 ]
    [[ "${lines[0]}" == '{"scheme":"port-ellery-1962","title":"Wexcombe cars of Port Ellery, 1962-1975","years":[1962,1975],"lengths":[12],"lines":["Tern","Heron","Harrier","Shrike","Vireo"],"rows":'* ]]
    [[ "${lines[0]}" == *'{"field":"engine","rows":10,"published":7,"practice":1,"memory":2,"disputed":2,"doubtful":0,"years_without_row":[]}'* ]]
    [[ "${lines[0]}" == *'"field":"engine_power",'*'"years_without_row":[[1969,1975]]}'* ]]
}

@test "schemes: no line of a scheme's lines is wider than a terminal" {
    client schemes detroit-1965 stuttgart-1960 dearborn-1960
    [ "$(printf '%s\n' "$output" | grep -c '^lines:')" -eq 3 ]
    [ "$(printf '%s\n' "$output" | sed -n '/^lines:/,/^field /p' |
        grep -v '^field ' | LC_ALL=C.UTF-8 awk 'length > 80' | wc -l)" -eq 0 ]
}

@test "json comes without empty lines" {
    run sh -c '"$0" decode -f json "$1" "$1" | wc -l' "$client" "$lincoln"
    [ "$((output))" -eq 2 ]
}

@test "explain says what would settle the model year" {
    client explain RL41G8A123456
    [[ "$output" == *$'\n'"What would settle it"$'\n'* ]]
    [[ "$output" == *"engine (5): "*"would mean 1968; "*"would mean"* ]]
    client explain "$lincoln"
    [[ "$output" != *"What would settle it"* ]]
}

# A catalogue on standard input, read with the Wexcombe tables.
catalogue() {
    local text=$1
    shift
    "$client" compile -i "$work/wexcombe" "$srcdir/tests/fixtures/port-ellery.scheme" >"$work/log"
    INPUT=$work/input feed "$text" catalogue -t "$work/wexcombe" "$@"
}

@test "catalogue: the spring catalogue, with all that is wrong in it" {
    catalogue '' --maker-column maker --year-column YEAR --claim-column year=year \
        --claim-column body=body "$srcdir/tests/fixtures/quillfeather-spring.csv"
    [ "$status" -eq 65 ]
    [ "$errors" = "platewright: line 22: broken quotes; left out
platewright: line 29: 3 columns where the header has 7; not read
platewright: 32 rows: clear 10, note 9, doubt 7, fault 3, not graded 2, left out 1
platewright: bad rows: 2; repeated numbers: 1; contradicted claims: 2" ]
    [ "${lines[0]}" = "lot,maker,year,title,body,number,estimate,platewright_grade,platewright_scheme,platewright_years,platewright_findings,platewright_reading,platewright_partial,platewright_repeats,platewright_claims" ]
    [ "$(printf '%s\n' "$output" | awk -F , -v OFS=, \
        '/^(7|13|14|15|22|25|27|28),/ { print $1, $8, $10, $11, $(NF - 1), $NF }')" = \
"7,fault,,exclusion,,year not-told (conflict); body supported
13,doubt,1965,misread not-built,,year supported; body supported
14,doubt,1965,plant,,year supported; body supported
15,clear,1966,,5,year supported; body supported
22,clear,1966,,,year supported; body contradicted
25,clear,1968,,,year contradicted; body supported
27,,,,,
28,,,,," ]
    [[ "$output" == *$'\n8,'*'"Heron, large saloon line; four-door sedan; 212 six, last of the stock / 260 V8; Port Ellery"'* ]]
    [[ "$output" == *',1976 1979,check-unfit,'* ]]
    [[ "$output" == *$'\n27,Wexcombe,1964,,,,,,,,,3 columns where the header has 7,,,\n28,'*',no number,,,'* ]]
}

@test "catalogue: exit status as for validate" {
    catalogue 'number\nT24M6P100051\n\nH24R9P101200\n'
    [ "$status" -eq 0 ]
    catalogue 'number\nT24M6P100051\nT24Q6P100051\n'
    [ "$status" -eq 1 ]
    catalogue 'number\nT24Z6P100051\nT24Q6P100051\n'
    [ "$status" -eq 2 ]
    catalogue 'number,year\nT24M6P100051,1967\n' --claim-column year=year
    [ "$status" -eq 2 ]
}

@test "catalogue: the cells, the line ends and the mark at the start stay" {
    catalogue '\xEF\xBB\xBFnumber,"a ""b""",c\r\nT24M6P100051, x ,"1,\r\n\n2"\r\n12,=1+1,"say ""no"""\r\n"13", ,\xFF'
    cut -d , -f 1-4 <<<"$output" >"$work/cells"
    [ "$(sed 's/,platewright.*//; s/,\(clear\|doubt\).*//' "$work/cells" | od -A n -c)" = \
        "$(printf '\xEF\xBB\xBFnumber,"a ""b""",c\nT24M6P100051," x ","1,\r\n\n2"\n12,=1+1,"say ""no"""\n13," ",\xFF\n' |
            od -A n -c)" ]
}

@test "catalogue: each bad row is reported once, and the others are worked on" {
    local long
    long=$(printf '1%.0s' {1..300})
    catalogue "number,a\n\"T24M6P100051\"x,1\nT24M6P100051,\"2\nT24M6P100052,3\nT24M6P100053\n$long,5\n\nT24M6P100054,6,7\nT24M6P100055,8"
    [ "$status" -eq 65 ]
    [ "$(printf '%s\n' "$errors" | sed '$d')" = "platewright: line 2: broken quotes; left out
platewright: line 3: broken quotes; left out
platewright: line 5: 1 column where the header has 2; not read
platewright: line 6: number longer than 256 bytes; not read
platewright: line 8: 3 columns where the header has 2; left out
platewright: 7 rows: clear 2, note 0, doubt 0, fault 0, not graded 2, left out 3" ]
    [ "$(printf '%s\n' "$output" | cut -d , -f 2,3)" = "a,platewright_grade
3,clear
,
5,
8,clear" ]
}

@test "catalogue: rows come out while others are still to come" {
    {
        printf 'number\nT24M6P100051\n'
        for _ in {1..100}; do
            grep -q '^T24M6P100051,' "$work/rows" 2>/dev/null && break
            sleep 0.1
        done
        cp "$work/rows" "$work/early"
        printf 'T24M6P10'
        sleep 0.1
        printf '0052,'
        sleep 0.1
        printf '\r\n'
    } | "$client" catalogue >"$work/rows" 2>"$work/errors" || true
    [ "$(wc -l <"$work/early")" -eq 2 ]
    [[ "$(cat "$work/errors")" == *"line 3: 2 columns where the header has 1; left out"* ]]
}

@test "catalogue: a row that is too long ends with its line" {
    printf 'number,a\n1,%01100000d\nT24M6P100051,"%01100000d\nT24M6P100052,2\n' 0 0 >"$work/long"
    catalogue '' "$work/long"
    [ "$status" -eq 65 ]
    [ "$(printf '%s\n' "$errors" | head -n 2)" = "platewright: line 2: over 1 MiB long; left out
platewright: line 3: over 1 MiB long; left out" ]
    [ "${#lines[@]}" -eq 2 ]
}

@test "catalogue: hints of a row rank its readings" {
    catalogue 'number,built\nT24K3P100051,1963\nT24K3P100051,1973\nT24K3P100051,c. 1973;\n' \
        --year-column built --no-duplicates
    [ "$status" -eq 0 ]
    # a cell that is no year is no hint
    [ "$(printf '%s\n' "$output" | cut -d , -f 5)" = "platewright_years
1963
1973
1963" ]
}

@test "catalogue: the same number again, however it is written" {
    catalogue 'number\nS31K5N500125\n12\ns31-k5n5OO125\nT24M6P10005?\nT24M6P10005?\n 12\n'
    [ "$(printf '%s\n' "$output" | awk -F , '{ print $NF }')" = "platewright_repeats


2


3" ]
    [[ "$errors" == *"repeated numbers: 2" ]]
    catalogue 'number\nT24M6P100051\nT24M6P100051\n' --no-duplicates
    [[ "$output" != *repeats* ]]
    [[ "$errors" != *repeated* ]]
}

@test "catalogue: what we add is no formula, and the rest is not ours" {
    printf 'port-ellery-1962/line/T/1962 = =1+1\n' >"$work/names"
    catalogue 'number,a\nT24M6P100051,=2+2\n' -n "$work/names"
    [[ "${lines[1]}" == T24M6P100051,=2+2,clear,*",'=1+1; four-door sedan; 260 V8; Port Ellery,," ]]
}

@test "catalogue: JSON Lines in and out" {
    catalogue '{"number":"T24M6P100051", "big":12345678901234567890123 }\r\n{}\n\nnonsense\n{"number":["T"]}\n{"number":"t24m6p100051","x":"</a>"}\n{"number":1,"platewright_grade":""}\n' \
        -f json --claim-column year=big
    [ "$status" -eq 65 ]
    [ "${#lines[@]}" -eq 4 ]
    [ "${lines[0]}" = '{"number":"T24M6P100051", "big":12345678901234567890123 ,"platewright_grade":"clear","platewright_scheme":"port-ellery-1962","platewright_years":[1966],"platewright_findings":[],"platewright_reading":"Tern, small saloon line; four-door sedan; 260 V8; Port Ellery","platewright_partial":null,"platewright_repeats":null,"platewright_claims":"year not-told (not-understood)"}' ]
    [[ "${lines[1]}" == '{"platewright_grade":null,'*'"platewright_reading":"no number",'* ]]
    [[ "${lines[3]}" == '{"number":"t24m6p100051","x":"</a>","platewright_grade":"clear",'*'"platewright_repeats":1,'* ]]
    [ "$(printf '%s\n' "$errors" | head -n 3)" = "platewright: line 4: no JSON object; left out
platewright: line 5: a list or an object where a text is needed; not read
platewright: line 7: has members of a verdict already; left out" ]
}

@test "catalogue: wrong use, a file that is not there, a header that is none" {
    for arguments in '--column vin' '--year-column built' '--claim-column year' \
        '--claim-column colour=number' '--format svg' 'one two'; do
        # shellcheck disable=SC2086
        catalogue 'number\nT24M6P100051\n' $arguments
        [ "$status" -eq 64 ]
        [ -z "$output" ]
        [ "$(printf '%s\n' "$errors" | wc -l)" -eq 1 ]
    done
    catalogue 'number,platewright_years\n'
    [ "$status" -eq 64 ]
    catalogue '' "$work/nothing"
    [ "$status" -eq 66 ]
    catalogue '\n"number\n'
    [ "$status" -eq 65 ]
    [ "$errors" = "platewright: line 2: no header that can be read" ]
}

@test "catalogue: stamps that are a part of another number" {
    rows='number\nT24M6P100051\n6P100051\n6-P-100052\nT24M6P100052\nT24R4P100053\n4P100053\n'
    catalogue "$rows"
    [ "$(printf '%s\n' "$output" | awk -F , '{ print $(NF - 1) }' | tr '\n' ' ')" = \
        "platewright_partial  2  4   " ]
    [[ "$errors" == *"; repeated numbers: 0; partial numbers: 2"* ]]
    catalogue "$rows" --no-duplicates
    [[ "$output" != *platewright_partial* ]]
    [[ "$errors" != *partial* ]]
    # nobody has told the letter O of a stamp from a zero, whichever row comes first
    catalogue 'number\nT24M6P100051\n6P1OOO51\nT24M6P100061\n'
    [ "$(printf '%s\n' "$output" | awk -F , '{ print $1, $(NF - 1), $NF }' | tail -n 3)" = \
        $'T24M6P100051  \n6P1OOO51 2 \nT24M6P100061  ' ]
    catalogue 'number\n6P1OOO51\nT24M6P100051\n6P10O051\n'
    [ "$(printf '%s\n' "$output" | awk -F , '{ print $1, $(NF - 1), $NF }' | tail -n 3)" = \
        $'6P1OOO51  \nT24M6P100051 2 \n6P10O051 3 2' ]
    # a number that cannot be read in full is a part of nothing
    catalogue 'number\nT24M6P10005?\n6P10005?\n'
    [[ "$errors" != *partial* ]]
    catalogue '{"number":"6P100051"}\n{"number":"T24M6P100051"}\n' -f json
    [[ "${lines[1]}" == *'"platewright_partial":1,"platewright_repeats":null'* ]]
}

@test "catalogue: progress on a terminal only" {
    script -q -e -c true /dev/null >/dev/null || skip "no terminal can be made here"
    slowly='(printf "number\nT24M6P100051\n"; sleep 0.5; printf "T24M6P100052\n\"T\n") | "$0" catalogue'
    run sh -c "($slowly) 2>&1" "$client"
    [[ "$output" != *$'\r'* ]]
    CLIENT=$client run script -q -e -c "sh -c '$slowly >/dev/null' \"\$CLIENT\"" /dev/null
    [[ "$output" == *$'\rplatewright: 1 row'*$'\rplatewright: line 4: broken quotes'* ]]
    # rows on the terminal are progress enough
    CLIENT=$client run script -q -e -c "sh -c '$slowly' \"\$CLIENT\"" /dev/null
    [[ "$output" != *$'\rplatewright: 1 row'* ]]
}

# The most memory that a catalogue of so many rows takes, in KiB.
# An address sanitizer keeps what was freed for a while, which is no growth of ours.
peak_memory() {
    local rows=$work/rows
    local -x ASAN_OPTIONS=quarantine_size_mb=0
    mkfifo "$rows"
    "$client" catalogue --no-duplicates <"$rows" >/dev/null 2>&1 3>&- &
    exec 8>"$rows"
    awk -v rows="$1" 'BEGIN { print "number"; while (rows-- > 0) printf "3Y86N4%05d\n", rows }' >&8
    sed -n 's/^VmHWM:[[:space:]]*\([0-9]*\) kB/\1/p' "/proc/$!/status"
    exec 8>&-
    wait $! || true
    rm "$rows"
}

@test "catalogue: memory does not grow with the rows" {
    [ -e /proc/self/status ] || skip "no /proc here"
    small=$(peak_memory 10000)
    large=$(peak_memory 300000)
    [ "$small" -gt 0 ]
    # The peak counts shared pages, too, and swings by some hundred KiB from run to run.
    # Sixteen bytes kept for each row would be 4500 KiB.
    [ "$large" -lt $((small + 3072)) ]
}

@test "expect: the numbers that could bear claims" {
    client expect 'year=1963; body=sedan' 'engine=430 four-barrel' maker=Lincoln
    [ "$status" -eq 0 ]
    [ -z "$errors" ]
    [[ "$output" == *"Numbers that could bear it"*"3?82[7N]"*"What they rest on"* ]]
    client expect -f json year=1963 engine=430
    [ "$status" -eq 0 ]
    [[ "$output" == '{"format":2,"summary":'*'"pattern":"'* ]]
    client expect year=1963 'mood=fair'
    [ "$status" -eq 1 ]
    client expect -f json year=1899 body=sedan
    [ "$status" -eq 2 ]
    [[ "$output" == *"year=1899 alone rules everything out"* ]]
}

@test "expect: does a pattern cover the number" {
    client expect --covers 3Y86N4OOOO1 'year=1963;engine=430' maker=Lincoln doors=4
    [ "$status" -eq 0 ]
    [ "${lines[0]}" = "pattern	scheme	covered	position	claims told" ]
    [ "$(printf '%s\n' "$output" | cut -f 2-5 | grep -c "dearborn-1960	covered		all")" -eq 1 ]
    client expect --covers 3Y8?N400001 'year=1963;engine=430' maker=Lincoln doors=4
    [ "$status" -eq 1 ]
    [[ "$output" == *"dearborn-1960	open	4	all"* ]]
    client expect --covers "$lincoln" year=1964 engine=430 maker=Lincoln
    [ "$status" -eq 2 ]
    [[ "$output" == *"dearborn-1960	not covered	1	all"* ]]
    client expect --covers "$lincoln" year=1899
    [ "$status" -eq 2 ]
    [[ "$errors" == *"rules everything out"* ]]
}

@test "expect: wrong use" {
    client expect
    [ "$status" -eq 64 ]
    [[ "$errors" == *"write 'ATTRIBUTE=VALUE'"* ]]
    client expect convertible
    [ "$status" -eq 64 ]
    client expect -f svg year=1963
    [ "$status" -eq 64 ]
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
