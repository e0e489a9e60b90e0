#!/bin/sh
# SPDX-License-Identifier: MIT
#
# The client's own tests, with bats, against the client that was just built.
set -eu
export srcdir PLATEWRIGHT_CLIENT
exec "${BATS:-bats}" --tap "$srcdir/bindings/shell/test_client.bats"
