#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Every JSON that the explain tests know follows lib/explain.schema.json, and the
# schema refuses JSON that was broken on purpose.
set -eu

lines=$(mktemp)
trap 'rm -f "$lines"' EXIT
"$builddir/tests/test_explain" json >"$lines"
for option in --self-check ''; do
    # shellcheck disable=SC2086 # no word when it is empty
    "$PYTHON" "$srcdir/tests/json_schema.py" $option "$srcdir/lib/explain.schema.json" <"$lines"
done
