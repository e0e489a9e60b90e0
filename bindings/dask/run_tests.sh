#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The Dask example, with the Python package of the tree and the staged library.
set -eu

folder=$srcdir/bindings/dask
PYTHONPATH=$folder:$srcdir/bindings/python
PYTHONDONTWRITEBYTECODE=1
PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
export PYTHONPATH PYTHONDONTWRITEBYTECODE PLATEWRIGHT_LIBRARY

"$PYTHON" -c 'import distributed' || {
    echo "the tests need distributed for $PYTHON (Debian packages python3-distributed," \
        "python3-dask)" >&2
    exit 1
}

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

"$PYTHON" -W ignore::ResourceWarning -m unittest discover -v -s "$folder" >log 2>&1 && status=0 ||
    status=$?
cat log
grep -q '^Ran [1-9][0-9]* test' log || status=1

# What it measures depends on the machine; that it measures does not.
"$PYTHON" "$folder/measure.py" --rows 2000 "$srcdir/tests/examples"/*.tsv || status=1
exit "$status"
