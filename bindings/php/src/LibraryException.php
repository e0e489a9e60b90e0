<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

/** The C library is missing, or of another release, or PHP may not load it. */
final class LibraryException extends PlatewrightException
{
}
