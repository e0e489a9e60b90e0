#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Every drawing that the drawing's tests know is well-formed XML, made of plain
# shapes and texts only; drawings that were spoiled on purpose are refused.
set -eu

drawings=$(mktemp)
trap 'rm -f "$drawings"' EXIT
"$builddir/tests/test_svg" draw >"$drawings"
for option in --self-check ''; do
    # shellcheck disable=SC2086 # no word when it is empty
    "$PYTHON" "$srcdir/tests/svg.py" $option <"$drawings"
done
