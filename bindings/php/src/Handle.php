<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

use FFI\CData;

/**
 * A native object, given back when nobody holds the handle any more.
 *
 * @internal
 */
final class Handle
{
    /**
     * @param ?\Closure $free  what gives the pointer back
     * @param mixed     $keeps what the object uses as long as it lives
     */
    public function __construct(
        public readonly CData $pointer,
        private readonly ?\Closure $free = null,
        private readonly mixed $keeps = null,
    ) {
    }

    public function __destruct()
    {
        if ($this->free !== null) {
            ($this->free)($this->pointer);
        }
    }

    private function __clone()
    {
    }
}
