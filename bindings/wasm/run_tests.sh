#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Builds the WebAssembly module and the page, and tests both: the module under Node's
# own runner, the page in Chromium.
set -eu

folder=$builddir/bindings/wasm

missing() {
    echo "run_tests.sh: $1 is missing; install $2" >&2
    exit 1
}

command -v node >/dev/null || missing node nodejs
command -v npm >/dev/null || missing npm npm
CHROMIUM=$(command -v chromium) || missing chromium chromium

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$folder"
cp -R "$srcdir/bindings/node" "$srcdir/bindings/wasm" "$work"
chmod -R u+w "$work"

sh "$srcdir/bindings/wasm/build.sh" "$srcdir" "$builddir/tables" "$builddir/lib" \
    "$folder/platewright.wasm"
node "$srcdir/bindings/wasm/build_page.js" "$folder/platewright.wasm" "$folder/platewright.html"

MODULE=$folder/platewright.wasm
PAGE=$folder/platewright.html
PORT_ELLERY_IMAGE=$work/port-ellery.image
PORT_ELLERY_NAMES=$srcdir/tests/fixtures/quillfeather.names
EXAMPLES=$srcdir/tests/examples
export CHROMIUM MODULE PAGE PORT_ELLERY_IMAGE PORT_ELLERY_NAMES EXAMPLES

LD_LIBRARY_PATH=$stage$libdir "$stage$bindir/platewright" compile --image "$PORT_ELLERY_IMAGE" \
    "$srcdir/tests/fixtures/port-ellery.scheme"

cd "$work/wasm"
npm ci --ignore-scripts --no-audit --no-fund
node_modules/.bin/tsc --project test

# A run that finds no test ends well, so the count is looked at.
node --test --test-reporter=tap test/*.test.js >"$work/log" 2>&1 && status=0 || status=$?
cat "$work/log"
grep -q '^# pass [1-9]' "$work/log" || status=1
exit "$status"
