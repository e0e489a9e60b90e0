<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright\Tests;

use Platewright\PlatewrightException;

/** What the tests share. */
abstract class TestCase extends \PHPUnit\Framework\TestCase
{
    /** Printed in Automotive Mileposts: 1963 Lincoln Continental, first unit of the year. */
    protected const LINCOLN = '3Y86N400001';

    /** Of the invented Wexcombe Motor Works. */
    protected const WEXCOMBE = 'T24K3P100051';

    /** Printed as the altered pair: both share the last eight characters. */
    protected const ALTERED = [
        'dash' => 'BS27R0B212211', 'body_tag' => 'BH27G0B212211', 'engine' => '0B212211',
    ];

    protected static function library(): string
    {
        return getenv('PLATEWRIGHT_LIBRARY');
    }

    protected static function source(string $file): string
    {
        return getenv('srcdir') . "/$file";
    }

    /** The fixture's tables, compiled by the installed client. */
    protected static function image(): string
    {
        return file_get_contents(getenv('PORT_ELLERY_IMAGE'));
    }

    /** The call throws a PlatewrightException of this sentence and this status. */
    protected function assertRefused(string $sentence, ?string $status, \Closure $call): void
    {
        try {
            $call();
        } catch (PlatewrightException $problem) {
            self::assertMatchesRegularExpression($sentence, $problem->getMessage());
            self::assertSame($status, $problem->status);
            return;
        }
        self::fail("nothing was refused: $sentence");
    }

    /**
     * Starts a program in a fresh interpreter, with these environment variables; null
     * takes one away. What it prints and complains can be read from the stream.
     *
     * @param array<string, ?string> $variables
     *
     * @return array{resource, resource}
     */
    protected static function startPhp(string $code, array $variables = []): array
    {
        $environment = array_filter(
            $variables + getenv(),
            static fn ($value) => $value !== null,
        );
        $process = proc_open(
            [PHP_BINARY, '-r', 'require "' . dirname(__DIR__) . "/autoload.php\"; $code"],
            [1 => ['pipe', 'w'], 2 => ['redirect', 1]],
            $pipes,
            null,
            $environment,
        );
        return [$process, $pipes[1]];
    }

    /** @param array<string, ?string> $variables */
    protected static function runPhp(string $code, array $variables = []): string
    {
        [$process, $pipe] = self::startPhp($code, $variables);
        $printed = stream_get_contents($pipe);
        proc_close($process);
        return $printed;
    }
}
