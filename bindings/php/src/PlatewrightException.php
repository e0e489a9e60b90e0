<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

/**
 * Anything that is refused. The status is the name that the library has for it
 * ("PLW_E_TOO_LONG"), or null when it was not the library that refused.
 */
class PlatewrightException extends \RuntimeException
{
    public function __construct(string $sentence, public readonly ?string $status = null)
    {
        parent::__construct($status === null ? $sentence : "$sentence ($status)");
    }
}
