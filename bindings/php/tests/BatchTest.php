<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright\Tests;

use Platewright\Platewright;

final class BatchTest extends TestCase
{
    /** @return list<string> every number that is printed in a reference */
    private static function publishedNumbers(): array
    {
        $numbers = [];
        foreach (glob(self::source('tests/examples/*.tsv')) as $file) {
            foreach (file($file, FILE_IGNORE_NEW_LINES | FILE_SKIP_EMPTY_LINES) as $line) {
                if ($line[0] !== '#') {
                    $numbers[] = strtok($line, "\t");
                }
            }
        }
        return $numbers;
    }

    public function testEachIsWhatValidateSays(): void
    {
        $numbers = self::publishedNumbers();
        self::assertGreaterThan(100, count($numbers));
        foreach (Platewright::batch($numbers) as $index => $verdict) {
            $result = Platewright::validate($numbers[$index]);
            $best = $result->readings[0] ?? (object) ['scheme' => null, 'years' => []];
            self::assertEquals((object) [
                'number' => $numbers[$index],
                'error' => null,
                'grade' => $result->grade,
                'finding' => $result->findings[0]->code ?? null,
                'scheme' => $best->scheme,
                'first_year' => $best->years[0] ?? null,
                'last_year' => array_slice($best->years, -1)[0] ?? null,
                'readings' => count($result->readings),
                'findings' => count($result->findings),
            ], $verdict);
        }
    }

    public function testABadNumberDoesNotEndIt(): void
    {
        $numbers = [self::LINCOLN, str_repeat('1', 257), '', "\u{ff13}Y86N400001"];
        $batch = Platewright::batch(new \ArrayIterator($numbers));
        self::assertSame([null, 'PLW_E_TOO_LONG', null, null], array_column($batch, 'error'));
        self::assertSame(['clear', null, 'fault', 'clear'], array_column($batch, 'grade'));
        self::assertNull($batch[1]->scheme);
        self::assertSame([], Platewright::batch([]));
    }

    public function testHintsAreForAll(): void
    {
        $numbers = ['RL41G8A123456', 'RL41G8A123456'];
        self::assertSame(
            [1968, 1968],
            array_column(Platewright::batch($numbers), 'first_year'),
        );
        self::assertSame(
            [1978, 1978],
            array_column(Platewright::batch($numbers, year: 1978), 'first_year'),
        );
        $this->assertRefused('/PLW_E_HINT/', 'PLW_E_HINT', static fn () =>
            Platewright::batch($numbers, year: 19));
    }

    public function testWhatIsNoString(): void
    {
        $this->expectException(\TypeError::class);
        $this->expectExceptionMessage('a number is a string, not int');
        Platewright::batch([self::LINCOLN, 5]);
    }
}
