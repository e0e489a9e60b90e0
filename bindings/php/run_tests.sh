#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The PHP package's own tests, under PHPUnit, against the staged installation.
set -eu

command -v phpunit >/dev/null && php -r 'exit(class_exists("FFI") ? 0 : 1);' || {
    echo "run_tests.sh: PHP with FFI or PHPUnit is missing; install php-cli, phpunit" >&2
    exit 1
}

SCRATCH=$builddir/bindings/php/work
rm -rf "$SCRATCH"
mkdir -p "$SCRATCH"

PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
# What was freed is overwritten, so that using it is seen, also when PHP has freed it.
MALLOC_PERTURB_=90
USE_ZEND_ALLOC=0
PORT_ELLERY_IMAGE=$SCRATCH/port-ellery.image
export SCRATCH PLATEWRIGHT_LIBRARY MALLOC_PERTURB_ USE_ZEND_ALLOC PORT_ELLERY_IMAGE CC srcdir

LD_LIBRARY_PATH=$stage$libdir "$stage$bindir/platewright" compile --image "$PORT_ELLERY_IMAGE" \
    "$srcdir/tests/fixtures/port-ellery.scheme"

# A run that finds no test fails by what phpunit.xml says; its summary is looked at, too.
phpunit --configuration "$srcdir/bindings/php/phpunit.xml" --testdox >"$SCRATCH/log" 2>&1 &&
    status=0 || status=$?
cat "$SCRATCH/log"
grep -q '^OK ([1-9][0-9]* tests' "$SCRATCH/log" || status=1
exit "$status"
