#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The Python package's own tests, against the staged installation. hypothesis
# leaves notes where it runs, so that is a folder of its own.
set -eu

PYTHONPATH=$srcdir/bindings/python
PYTHONDONTWRITEBYTECODE=1
PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
export PYTHONPATH PYTHONDONTWRITEBYTECODE PLATEWRIGHT_LIBRARY

"$PYTHON" -c 'import hypothesis' || {
    echo "the tests need hypothesis for $PYTHON (Debian package python3-hypothesis)" >&2
    exit 1
}

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

# A run of unittest that finds no test ends well, so the count is looked at.
"$PYTHON" -m unittest discover -v -s "$srcdir/bindings/python/tests" >log 2>&1 && status=0 ||
    status=$?
cat log
grep -q '^Ran [1-9][0-9]* test' log || status=1
exit "$status"
