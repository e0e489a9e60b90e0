#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The Lua module's own tests, under busted on LuaJIT, against the staged installation.
set -eu

luajit -e 'require "ffi"; require "dkjson"; require "busted"' || {
    echo "run_tests.sh: LuaJIT or a module is missing; install luajit, lua-busted, lua-dkjson" >&2
    exit 1
}

SCRATCH=$builddir/bindings/lua/work
rm -rf "$SCRATCH"
mkdir -p "$SCRATCH"

PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
# What was freed is overwritten, so that using it is seen.
MALLOC_PERTURB_=90
PORT_ELLERY_IMAGE=$SCRATCH/port-ellery.image
LUA_PATH="$srcdir/bindings/lua/?.lua;$srcdir/bindings/lua/?/init.lua;;"
export SCRATCH PLATEWRIGHT_LIBRARY MALLOC_PERTURB_ PORT_ELLERY_IMAGE LUA_PATH CC srcdir

LD_LIBRARY_PATH=$stage$libdir "$stage$bindir/platewright" compile --image "$PORT_ELLERY_IMAGE" \
    "$srcdir/tests/fixtures/port-ellery.scheme"

# A run that finds no test ends well, so the count is looked at.
busted --lua="$(command -v luajit)" --output=TAP "$srcdir/bindings/lua/spec" \
    >"$SCRATCH/log" 2>&1 && status=0 || status=$?
cat "$SCRATCH/log"
grep -q '^1\.\.[1-9]' "$SCRATCH/log" || status=1
exit "$status"
