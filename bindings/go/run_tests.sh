#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Tests the Go package with go test against the installed library, and runs the
# snippet of the README as a program of its own module.
set -eu

here=$srcdir/bindings/go
work=$builddir/bindings/go
rm -rf "$work"
mkdir -p "$work/user"

complain() {
    echo "bindings/go: $*" >&2
    exit 1
}
command -v go >/dev/null || complain "needs Go 1.19 or later (Debian: golang-go)"

PKG_CONFIG_SYSROOT_DIR=$stage
PKG_CONFIG_LIBDIR=$stage$libdir/pkgconfig
PKG_CONFIG_ALLOW_SYSTEM_CFLAGS=1
PKG_CONFIG_ALLOW_SYSTEM_LIBS=1
LD_LIBRARY_PATH=$stage$libdir
# Everything that go writes goes into the build tree, and nothing is fetched.
GOCACHE=$work/cache
GOPATH=$work/path
GOENV=off
GOFLAGS=
GOPROXY=off
GOTOOLCHAIN=local
export PKG_CONFIG PKG_CONFIG_SYSROOT_DIR PKG_CONFIG_LIBDIR LD_LIBRARY_PATH
export PKG_CONFIG_ALLOW_SYSTEM_CFLAGS PKG_CONFIG_ALLOW_SYSTEM_LIBS
export GOCACHE GOPATH GOENV GOFLAGS GOPROXY GOTOOLCHAIN CC

cd "$work"
"$stage$bindir/platewright" compile --image fixture.image \
    "$srcdir/tests/fixtures/port-ellery.scheme"
# preload FUNCTION BODY: a function to stand in the place of the library's.
preload() {
    echo "$2" >"$1.c"
    # shellcheck disable=SC2046,SC2086 # lists of flags
    $CC $($PKG_CONFIG --cflags platewright) -include platewright.h -shared -fPIC -o "$1.so" "$1.c"
}
preload release 'uint32_t plw_version_number(void) { return 20000; }'
preload memory 'int32_t plw_result_new(plw_result **r) { *r = NULL; return PLW_E_MEMORY; }'
FIXTURE=$work/fixture.image
EXAMPLES=$srcdir/tests/examples/dearborn.tsv
OTHER_RELEASE=$work/release.so
NO_MEMORY=$work/memory.so
export FIXTURE EXAMPLES OTHER_RELEASE NO_MEMORY

(cd "$here" && go vet ./...)
[ -z "$(gofmt -l "$here")" ] || complain "not as gofmt writes it: $(gofmt -l "$here")"
(cd "$here" && go test -count=1 -v ./...) >report 2>&1 || {
    cat report
    exit 1
}
grep -E '^(---|ok|PASS|FAIL)' report
grep -q '^--- PASS' report || complain "no test was run"

# fenced LANGUAGE: what stands between ```LANGUAGE and ``` in the README.
fenced() {
    awk -v fence="\`\`\`$1" '$0 == fence { on = 1; next } /^```/ { on = 0 } on' "$here/README.md"
}
fenced go >user/main.go
fenced text >expected
[ -s user/main.go ] && [ -s expected ] || complain "README.md has no snippet"
cat >user/go.mod <<END
module user

go 1.19

require platewright v0.0.0

replace platewright => $here
END
(cd user && go run .) >printed
diff expected printed
echo "bindings/go: the snippet prints what README.md says"
