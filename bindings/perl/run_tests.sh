#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The Perl module's own tests, under prove, against the staged installation. They run on
# what its Makefile.PL builds.
set -eu

perl -MFFI::Platypus=2 -MTest::More -e 1 || {
    echo "run_tests.sh: FFI::Platypus is missing; install perl, libffi-platypus-perl" >&2
    exit 1
}

work=$builddir/bindings/perl/work
rm -rf "$work"
mkdir -p "$work"
cp -R "$srcdir/bindings/perl/." "$work"
chmod -R u+w "$work"
cd "$work"

PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
# What was freed is overwritten, so that using it is seen.
MALLOC_PERTURB_=90
export PLATEWRIGHT_LIBRARY MALLOC_PERTURB_ CC srcdir stage bindir

perl Makefile.PL
"${MAKE:-make}"

# A run that finds no test ends well, so the count is looked at.
prove --blib -I t/lib --verbose t >log 2>&1 && status=0 || status=$?
cat log
grep -q '^Files=[1-9][0-9]*, Tests=[1-9]' log || status=1
exit "$status"
