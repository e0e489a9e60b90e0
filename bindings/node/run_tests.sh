#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The Node.js binding's tests, under Node's own runner, against the staged library.
set -eu

for tool in node npm; do
    command -v "$tool" >/dev/null || {
        echo "run_tests.sh: $tool is missing; install nodejs and npm" >&2
        exit 1
    }
done

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp -R "$srcdir/bindings/node/." "$work"
chmod -R u+w "$work"
cd "$work"

PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
PORT_ELLERY_IMAGE=$work/port-ellery.image
PORT_ELLERY_NAMES=$srcdir/tests/fixtures/quillfeather.names
EXAMPLES=$srcdir/tests/examples
SCHEMAS=$srcdir/lib
export PLATEWRIGHT_LIBRARY PORT_ELLERY_IMAGE PORT_ELLERY_NAMES EXAMPLES SCHEMAS CC

LD_LIBRARY_PATH=$stage$libdir "$stage$bindir/platewright" compile --image "$PORT_ELLERY_IMAGE" \
    "$srcdir/tests/fixtures/port-ellery.scheme"

npm ci --ignore-scripts --no-audit --no-fund
npm run --silent check

# A run that finds no test ends well, so the count is looked at.
node --test --test-reporter=tap test/*.test.js >"$work/log" 2>&1 && status=0 || status=$?
cat "$work/log"
grep -q '^# pass [1-9]' "$work/log" || status=1
exit "$status"
