#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Tests the Java classes with JUnit 5 against the installed library, and runs the
# snippet of the README.
set -eu

here=$srcdir/bindings/java
work=$builddir/bindings/java
rm -rf "$work"
mkdir -p "$work"
cd "$work"

complain() {
    echo "bindings/java: $*" >&2
    exit 1
}
java --list-modules 2>/dev/null | grep -q '^jdk.incubator.foreign@17' && command -v javac >/dev/null ||
    complain "needs a JDK 17 (Debian: openjdk-17-jdk-headless)"
jars=
for jar in junit-jupiter-api junit-jupiter-engine junit-platform-commons junit-platform-console \
    junit-platform-engine junit-platform-launcher junit-platform-reporting apiguardian-api opentest4j \
    opentest4j-reporting-events opentest4j-reporting-schema picocli univocity-parsers; do
    [ -e "/usr/share/java/$jar.jar" ] || complain "needs $jar.jar (Debian: junit5)"
    jars=$jars:/usr/share/java/$jar.jar
done

PLATEWRIGHT_LIBRARY=$stage$libdir/libplatewright.so.1
LD_LIBRARY_PATH=$stage$libdir
export PLATEWRIGHT_LIBRARY LD_LIBRARY_PATH
"$stage$bindir/platewright" compile --image fixture.image \
    "$srcdir/tests/fixtures/port-ellery.scheme"

# A library of another release, and one that puts a function without memory before the
# installed library's.
echo 'unsigned plw_version_number(void) { return 20000; }' >other.c
cat >memory.c <<END
#include <platewright.h>
int32_t plw_result_place(void *memory, size_t size, plw_result **result)
{ (void)memory; (void)size; *result = NULL; return PLW_E_MEMORY; }
END
for name in other memory; do
    # shellcheck disable=SC2086 # CC may hold flags
    $CC -I"$srcdir/include" -shared -fPIC -o "$name.so" "$name.c" -Wl,--no-as-needed \
        "$PLATEWRIGHT_LIBRARY"
done
FIXTURE=$work/fixture.image
EXAMPLES=$srcdir/tests/examples/dearborn.tsv
OTHER_RELEASE=$work/other.so
NO_MEMORY=$work/memory.so
export FIXTURE EXAMPLES OTHER_RELEASE NO_MEMORY

foreign='--add-modules jdk.incubator.foreign'
# shellcheck disable=SC2086 # two words
{
    javac -encoding UTF-8 $foreign -d classes "$here"/src/platewright/*.java
    javac -encoding UTF-8 $foreign -cp "classes$jars" -d tests "$here"/test/platewright/*.java
    java $foreign --enable-native-access=ALL-UNNAMED -cp "classes:tests$jars" \
        org.junit.platform.console.ConsoleLauncher --disable-banner --disable-ansi-colors \
        --details=tree --fail-if-no-tests --select-package=platewright
}

# fenced LANGUAGE: what stands between ```LANGUAGE and ``` in the README.
fenced() {
    awk -v fence="\`\`\`$1" '$0 == fence { on = 1; next } /^```/ { on = 0 } on' "$here/README.md"
}
fenced java >Lot.java
fenced text >expected
[ -s Lot.java ] && [ -s expected ] || complain "README.md has no snippet"
# shellcheck disable=SC2086 # two words
{
    javac -encoding UTF-8 $foreign -cp classes -d snippet Lot.java
    java $foreign --enable-native-access=ALL-UNNAMED -cp classes:snippet Lot >printed
}
diff expected printed
echo "bindings/java: the snippet prints what README.md says"
