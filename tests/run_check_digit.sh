#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The check digits of the client that was just built, worked out a second time.
set -eu
"$PYTHON" "$srcdir/tests/check_digit.py" "$PLATEWRIGHT_CLIENT" "$srcdir"/tests/examples/*.tsv
