#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The Python binding's own tests, against the library that was just built.
set -eu

PYTHONPATH=$srcdir/bindings/python
PYTHONDONTWRITEBYTECODE=1
export PYTHONPATH PYTHONDONTWRITEBYTECODE PLATEWRIGHT_LIBRARY

# An unittest run that finds no test ends well, so the count is looked at.
log=$(mktemp)
trap 'rm -f "$log"' EXIT
"$PYTHON" -m unittest -v test_platewright >"$log" 2>&1 && status=0 || status=$?
cat "$log"
grep -q '^Ran [1-9][0-9]* test' "$log" || status=1
exit "$status"
