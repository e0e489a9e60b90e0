#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Every page that the tests of pages know is HTML without errors, fetches nothing
# and can be read aloud; pages that were spoiled on purpose are refused.
set -eu

pages=$(mktemp)
trap 'rm -f "$pages"' EXIT
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
"$builddir/tests/test_html" print >"$pages"
for option in --self-check ''; do
    # shellcheck disable=SC2086 # no word when it is empty
    "$PYTHON" "$srcdir/tests/html.py" $option <"$pages"
done
