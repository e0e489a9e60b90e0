<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright\Tests;

use Platewright\Names;
use Platewright\Platewright;
use Platewright\Tables;

final class ExpectTest extends TestCase
{
    private Tables $tables;

    protected function setUp(): void
    {
        $this->tables = new Tables(self::image());
    }

    public function testPatterns(): void
    {
        $claims = ['year' => 1966, 'body' => 'convertible', 'engine' => '260'];
        $found = Platewright::expect($claims, tables: $this->tables);
        self::assertSame(['?27M6???????'], array_column($found->patterns, 'pattern'));
        self::assertSame([0, 1, 2], $found->patterns[0]->tells);
        self::assertSame(['year', 'body', 'engine'], array_column($found->claims, 'attribute'));
        self::assertSame($this->tables->digest(), $found->tables->digest);
    }

    public function testWhatRulesEverythingOut(): void
    {
        $claims = ['year' => 1950, 'body' => 'hardtop'];
        $found = Platewright::expect($claims, tables: $this->tables);
        self::assertSame([], $found->patterns);
        self::assertSame([true, false], array_column($found->claims, 'rules_out'));
    }

    public function testWordsAndHints(): void
    {
        $names = new Names('scheme/port-ellery-1962 = Größe', $this->tables);
        $found = Platewright::expect(['year' => 1966], tables: $this->tables, names: $names);
        self::assertSame('Größe', $found->patterns[0]->title);
        $claims = ['cylinders' => 4];
        $all = Platewright::expect($claims, tables: $this->tables)->patterns;
        $hinted = Platewright::expect($claims, year: 1972, tables: $this->tables)->patterns;
        self::assertSameSize($all, $hinted);
        self::assertSame([1972], $hinted[0]->years);
        self::assertNotSame([1972], $all[0]->years);
    }

    public function testForPeople(): void
    {
        $claims = ['year' => 1963, 'engine' => '430'];
        $lines = explode("\n", Platewright::explainExpectation($claims));
        self::assertLessThanOrEqual(80, max(array_map('mb_strlen', $lines)));
        self::assertStringNotContainsString(
            'http',
            Platewright::explainExpectation($claims, 'markdown'),
        );
        self::assertStringContainsString(
            'http',
            Platewright::explainExpectation($claims, 'markdown', sources: true),
        );
    }

    public function testCovers(): void
    {
        $pattern = '?27[MR]6???????';
        $numbers = ['S27M6P100001' => [true, null], 'S27Z6P100001' => [false, 4],
            'S27?6P100001' => [null, 4]];
        foreach ($numbers as $number => [$covered, $position]) {
            $answer = Platewright::covers($pattern, $number);
            self::assertSame($covered, $answer->covered);
            self::assertSame($position, $answer->position);
        }
        $claims = ['year' => 1963, 'engine' => '430', 'plant' => 'Wixom'];
        self::assertNotEmpty(array_filter(
            Platewright::expect($claims)->patterns,
            static fn ($each) => Platewright::covers($each->pattern, self::LINCOLN)->covered,
        ));
    }

    public function testRefusals(): void
    {
        $this->assertRefused('/PLW_E_CLAIM/', 'PLW_E_CLAIM', static fn () =>
            Platewright::expect(['year' => '']));
        $this->assertRefused('/PLW_E_HINT/', 'PLW_E_HINT', static fn () =>
            Platewright::expect([], year: 19));
        $this->assertRefused('/PLW_E_TOO_LONG/', 'PLW_E_TOO_LONG', static fn () =>
            Platewright::expect(['line' => str_repeat('x', 1100)]));
        $this->assertRefused('/PLW_E_FLAGS/', 'PLW_E_FLAGS', static fn () =>
            Platewright::explainExpectation([], 'svg'));
        $this->assertRefused('/PLW_E_TOO_LONG/', 'PLW_E_TOO_LONG', static fn () =>
            Platewright::covers(str_repeat('?', 257), '1'));
    }
}
