<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

/**
 * Something to close: Tables, Names, Car.
 *
 * @internal
 */
abstract class Owner
{
    protected ?Handle $handle = null;

    /** @internal */
    final public function handle(): Handle
    {
        return $this->handle
            ?? throw new PlatewrightException('this ' . static::class . ' is closed');
    }

    /**
     * Nothing may follow. The memory is given back when nothing else uses it. May be
     * called again.
     */
    final public function close(): void
    {
        $this->handle = null;
    }

    final protected static function bytes(string $path): string
    {
        $bytes = @file_get_contents($path);
        return $bytes !== false ? $bytes : throw new PlatewrightException("cannot read $path");
    }

    private function __clone()
    {
    }
}
