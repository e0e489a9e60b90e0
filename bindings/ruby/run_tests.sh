#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The Ruby gem's own tests, under minitest, against the staged installation.
set -eu

ruby -e "require 'fiddle'; require 'minitest'" || {
    echo "run_tests.sh: Ruby with fiddle and minitest is missing; install ruby, ruby-minitest" >&2
    exit 1
}

PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
# What was freed is overwritten, so that using it is seen.
MALLOC_PERTURB_=90
export PLATEWRIGHT_LIBRARY MALLOC_PERTURB_ CC srcdir stage bindir

log=$(mktemp)
trap 'rm -f "$log"' EXIT

# A run that finds no test ends well, so the count is looked at.
cd "$srcdir/bindings/ruby"
ruby -w -I lib -e 'Dir["./test/*_test.rb"].sort.each { |file| require file }' -- --verbose \
    >"$log" 2>&1 && status=0 || status=$?
cat "$log"
grep -q '^[1-9][0-9]* runs, [1-9]' "$log" || status=1
exit "$status"
