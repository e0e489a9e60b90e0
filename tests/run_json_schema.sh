#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Every JSON that the explain tests know follows lib/explain.schema.json, every one
# of the compare and dates tests lib/car.schema.json, of the expect test
# lib/expect.schema.json, and the schemas refuse JSON that was
# broken on purpose.
set -eu

lines=$(mktemp)
trap 'rm -f "$lines"' EXIT
for pair in test_explain:explain test_compare:car test_dates:car test_expect:expect; do
    "$builddir/tests/${pair%:*}" json >"$lines"
    for option in --self-check ''; do
        # shellcheck disable=SC2086 # no word when it is empty
        "$PYTHON" "$srcdir/tests/json_schema.py" $option \
            "$srcdir/lib/${pair#*:}.schema.json" <"$lines"
    done
done
