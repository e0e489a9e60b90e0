#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Builds the PostgreSQL extension against the installed library, starts a server of
# its own and runs pg_regress on it. Nothing of the system is touched: PostgreSQL
# finds its folders from where its program stands, so a copy of the programs, with
# links to the rest, is a server into which the extension is installed by DESTDIR.
set -eu

here=$srcdir/bindings/postgresql
work=$builddir/bindings/postgresql
rm -rf "$work"
mkdir -p "$work"

complain() {
    echo "bindings/postgresql: $*" >&2
    exit 1
}

# The newest server that has what extensions are built with.
PG_CONFIG=
for candidate in /usr/lib/postgresql/*/bin/pg_config; do
    [ -x "${candidate%/*}/postgres" ] && [ -r "$("$candidate" --pgxs)" ] && PG_CONFIG=$candidate
done
[ -n "$PG_CONFIG" ] ||
    complain "needs a PostgreSQL server (Debian: postgresql-15, postgresql-server-dev-15)"

PKG_CONFIG_SYSROOT_DIR=$stage
PKG_CONFIG_LIBDIR=$stage$libdir/pkgconfig
PKG_CONFIG_ALLOW_SYSTEM_CFLAGS=1
PKG_CONFIG_ALLOW_SYSTEM_LIBS=1
export PG_CONFIG PKG_CONFIG PKG_CONFIG_SYSROOT_DIR PKG_CONFIG_LIBDIR
export PKG_CONFIG_ALLOW_SYSTEM_CFLAGS PKG_CONFIG_ALLOW_SYSTEM_LIBS
# This make is not part of the one that runs the tests.
unset MAKEFLAGS MFLAGS MAKELEVEL DESTDIR

# A server does not run as root.
as_user() {
    if [ "$(id -u)" -eq 0 ]; then
        runuser -u postgres -- "$@"
    else
        "$@"
    fi
}

server=$(mktemp -d)
finish() {
    [ ! -f "$server/data/postmaster.pid" ] || stop
    rm -rf "$server"
}
trap finish EXIT
trap 'exit 1' HUP INT TERM
chmod 755 "$server"

extension() {
    (cd "$work" && "$MAKE" -s -f "$here/Makefile" CC="$CC" with_llvm=no "$@")
}

# ---- The server --------------------------------------------------------------------

bin=$("$PG_CONFIG" --bindir)
mkdir -p "$server$bin"
cp "$bin/postgres" "$bin/initdb" "$bin/pg_ctl" "$server$bin"
for folder in "$("$PG_CONFIG" --pkglibdir)" "$("$PG_CONFIG" --sharedir)"; do
    mkdir -p "$server$folder"
    cp -rs "$folder/." "$server$folder"
done

extension
extension install DESTDIR="$server"
cp "$stage$libdir/libplatewright.so.1" "$server"
LD_LIBRARY_PATH=$stage$libdir "$stage$bindir/platewright" compile --image "$server/fixture.image" \
    "$srcdir/tests/fixtures/port-ellery.scheme" >/dev/null

PGHOST=$server
PGPORT=5432
PGUSER=postgres
PGDATABASE=postgres
FIXTURE=$server/fixture.image
export PGHOST PGPORT PGUSER PGDATABASE FIXTURE

mkdir "$server/data"
if [ "$(id -u)" -eq 0 ]; then
    chown -Rh postgres "$server"
fi
as_user "$server$bin/initdb" --pgdata="$server/data" --username=postgres --auth=trust \
    --encoding=UTF8 --locale=C.UTF-8 --no-sync >"$work/log" 2>&1 || {
    cat "$work/log"
    complain "initdb fails"
}

# start VARIABLE=VALUE...: the server on a socket in its folder, with this in its
# environment.
start() {
    as_user env "$@" "$server$bin/pg_ctl" start --silent --wait --pgdata="$server/data" \
        --log="$server/log" --options="-F -h '' -k $server" || {
        cat "$server/log"
        complain "the server does not start"
    }
}
stop() {
    as_user "$server$bin/pg_ctl" stop --silent --wait --mode=fast --pgdata="$server/data"
}

# ---- The tests ---------------------------------------------------------------------

# Memory is PostgreSQL's: whatever allocates by itself is not called.
nm -D --undefined-only "$work/platewright.so" >"$work/called"
grep -q plw_result_place "$work/called" || complain "nm shows nothing of the extension"
if grep -E ' (malloc|calloc|realloc|free|plw_[a-z]+_(new|free))(@|$)' "$work/called"; then
    complain "the extension allocates behind PostgreSQL's back"
fi

start LD_LIBRARY_PATH="$server"
extension installcheck >"$work/report" 2>&1 || {
    cat "$work/report"
    [ ! -f "$work/regression.diffs" ] || cat "$work/regression.diffs"
    exit 1
}
cat "$work/report"
grep -q 'All [1-9][0-9]* tests passed' "$work/report" || complain "no test was run"

# fenced LANGUAGE: what stands between ```LANGUAGE and ``` in the README.
fenced() {
    awk -v fence="\`\`\`$1" '$0 == fence { on = 1; next } /^```/ { on = 0 } on' "$here/README.md"
}
fenced sql >"$work/snippet.sql"
fenced text >"$work/expected"
[ -s "$work/snippet.sql" ] && [ -s "$work/expected" ] || complain "README.md has no snippet"
psql -X -q -A -t -v ON_ERROR_STOP=1 -f "$work/snippet.sql" >"$work/printed"
diff "$work/expected" "$work/printed"
echo "bindings/postgresql: the snippet prints what README.md says"
stop

# refused WORDS: the server cannot load the extension and says so.
refused() {
    psql -X -c "LOAD 'platewright'" >"$work/said" 2>&1 && complain "loads with $1"
    grep -q "$1" "$work/said" || {
        cat "$work/said"
        complain "does not say: $1"
    }
    echo "bindings/postgresql: $(cat "$work/said")"
}
start LD_LIBRARY_PATH=
refused libplatewright.so.1
stop
echo 'unsigned plw_version_number(void) { return 20000; }' >"$work/other.c"
# shellcheck disable=SC2086 # CC may hold flags
$CC -shared -fPIC -o "$server/other.so" "$work/other.c"
start LD_LIBRARY_PATH="$server" LD_PRELOAD="$server/other.so"
refused "the library found has number 20000"
stop
