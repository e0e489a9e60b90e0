#!/bin/sh
# SPDX-License-Identifier: MIT
#
# Compiles the library to WebAssembly:
#
#     build.sh SOURCE-TREE TABLES-FOLDER CONSTANTS-FOLDER platewright.wasm
#
# The folders are those of a build that hold tables.inc and constants.inc. The
# module imports nothing and exports every plw_ function, malloc and free.
set -eu

source=$1
tables=$2
constants=$3
module=$4
compiler=${WASM_CC:-clang}

command -v "$compiler" >/dev/null || {
    echo "build.sh: $compiler is missing; install clang, lld, wasi-libc and" \
        "libclang-rt-dev-wasm32, or name a compiler in WASM_CC" >&2
    exit 1
}

# Results take more of the stack than the linker's 64 KiB; it lies below the data, so
# that an overflow is trapped.
"$compiler" --target=wasm32-wasi -mexec-model=reactor -std=c99 -O2 -DNDEBUG \
    -fvisibility=hidden '-DPLW_API=__attribute__((visibility("default")))' \
    -I"$source/include" -I"$source/lib" -I"$tables" -I"$constants" \
    -Wl,--export-dynamic -Wl,--export=malloc -Wl,--export=free -Wl,--strip-all \
    -Wl,--stack-first -Wl,-z,stack-size=4194304 -Wl,--max-memory=268435456 \
    -o "$module" "$source"/lib/*.c
