#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The wheel that carries the library: built by the documented command, installed
# into a fresh environment without any network, tested there with the library that
# it carries, and its types checked.
set -eu

unset PYTHONPATH
folder=$srcdir/bindings/python
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

for module in build wheel setuptools venv mypy hypothesis; do
    "$PYTHON" -c "import $module" || {
        echo "the test of the wheel needs $module for $PYTHON (Debian packages python3-build," \
            "python3-wheel, python3-setuptools, python3-venv, mypy, python3-hypothesis)" >&2
        exit 1
    }
done

echo "==== the wheel"
cd "$scratch"
find "$folder" >before
PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1 \
    "$PYTHON" -m build --wheel --no-isolation --outdir . "$folder" >log 2>&1 || {
    cat log
    exit 1
}
ls platewright-*-py3-none-linux_*.whl
find "$folder" | diff before -

echo "==== installed"
"$PYTHON" -m venv --system-site-packages venv
venv/bin/python -m pip install --quiet --no-index --no-deps \
    --disable-pip-version-check ./*.whl
PLATEWRIGHT_LIBRARY="" LD_LIBRARY_PATH="" venv/bin/python - "$scratch/venv" <<'END'
import importlib.metadata
import sys

import platewright

assert platewright.__file__.startswith(sys.argv[1]), platewright.__file__
assert importlib.metadata.version("platewright") == platewright.library_version()
mapped = {line.split()[-1] for line in open("/proc/self/maps") if "libplatewright" in line}
assert len(mapped) == 1 and mapped.pop().startswith(sys.argv[1]), mapped
print(platewright.library_version(), platewright.grade("3Y86N400001"))
END

echo "==== tests"
package=$(echo "$scratch"/venv/lib/python3*/site-packages/platewright)
PLATEWRIGHT_LIBRARY=$package/libplatewright.so.1 PYTHONDONTWRITEBYTECODE=1 \
    venv/bin/python -m unittest discover -v -s "$folder/tests" >log 2>&1 && status=0 || status=$?
cat log
grep -q '^Ran [1-9][0-9]* test' log || status=1

echo "==== types"
cat >typed.py <<'END'
from typing import Optional, Tuple

import platewright

years: Tuple[int, ...] = platewright.decode("3Y86N400001").readings[0].years
finding: Optional[str] = platewright.batch(["3Y86N400001"])[0].finding
END
cat >mistyped.py <<'END'
import platewright

years: str = platewright.decode("3Y86N400001").readings[0].years
platewright.decode(19)
END
check_types() {
    "$PYTHON" -m mypy --strict --python-executable venv/bin/python --cache-dir mypy "$@"
}
check_types "$package" || status=1
check_types typed.py || status=1
check_types mistyped.py >log && status=1
grep -c 'error:.*\[\(assignment\|arg-type\)\]' log | grep -q -x 2 || {
    cat log
    status=1
}
exit "$status"
