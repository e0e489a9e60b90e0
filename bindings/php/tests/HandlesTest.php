<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright\Tests;

use Platewright\Car;
use Platewright\Names;
use Platewright\Platewright;
use Platewright\Tables;

final class HandlesTest extends TestCase
{
    private const WORDS =
        "# house words\nfield/engine = Großer Motor\nscheme/dearborn-1960 = Ab 1960\n";

    public function testTablesThatAreCompiledIn(): void
    {
        $tables = new Tables();
        $schemes = array_column($tables->schemes(), null, 'key');
        self::assertSame(1960, $schemes['dearborn-1960']->first_year);
        foreach ($schemes['dearborn-1960']->layouts as $layout) {
            self::assertSame($layout->length, strlen($layout->sample));
        }
        self::assertEquals(
            (object) ['edition' => $tables->edition(), 'digest' => $tables->digest()],
            Platewright::decode(self::LINCOLN)->tables,
        );
    }

    public function testAnImage(): void
    {
        $image = self::image();
        $tables = new Tables($image);
        $image[100] = "\0"; // the tables have a copy
        $scheme = $tables->schemes()[0]->key;
        $decoded = Platewright::decode(self::WEXCOMBE, tables: $tables);
        self::assertSame('port-ellery-1962', $scheme);
        self::assertSame($scheme, $decoded->readings[0]->scheme);
        self::assertSame($scheme, Platewright::batch([self::WEXCOMBE], tables: $tables)[0]->scheme);
        self::assertContains($scheme, Platewright::prefix('T2', $tables)->schemes);
        self::assertSame(
            Platewright::validate(self::WEXCOMBE, tables: $tables)->grade,
            Platewright::grade(self::WEXCOMBE, tables: $tables),
        );
    }

    public function testAFile(): void
    {
        $tables = Tables::open(getenv('PORT_ELLERY_IMAGE'));
        self::assertSame((new Tables(self::image()))->digest(), $tables->digest());
        self::assertNotSame((new Tables())->digest(), $tables->digest());
        $this->assertRefused('#cannot read /nowhere#', null, static fn () =>
            Tables::open('/nowhere'));
    }

    public function testWhatIsNoImage(): void
    {
        foreach (['', 'PLWTABLE', str_repeat('x', 4096), substr(self::image(), 0, -1)] as $bytes) {
            $this->assertRefused('/PLW_E_IMAGE/', 'PLW_E_IMAGE', static fn () =>
                new Tables($bytes));
        }
    }

    public function testClosedTables(): void
    {
        foreach ([new Tables(), new Tables(self::image())] as $tables) {
            $tables->close();
            $tables->close();
            $uses = [
                static fn () => $tables->digest(),
                static fn () => $tables->edition(),
                static fn () => $tables->schemes(),
                static fn () => Platewright::decode(self::LINCOLN, tables: $tables),
                static fn () => Platewright::grade(self::LINCOLN, tables: $tables),
                static fn () => Platewright::prefix(self::LINCOLN, $tables),
                static fn () => Platewright::batch([self::LINCOLN], tables: $tables),
                static fn () => Platewright::compare([], tables: $tables),
                static fn () => new Names('', $tables),
            ];
            foreach ($uses as $use) {
                $this->assertRefused('/Tables is closed/', null, $use);
            }
        }
    }

    public function testHandlesAreNotCloned(): void
    {
        $this->expectException(\Error::class);
        clone new Car();
    }

    public function testWordsStandInResultsAndExplanations(): void
    {
        $names = new Names(self::WORDS);
        self::assertSame([], $names->problems());
        $result = Platewright::decode(self::LINCOLN, names: $names);
        self::assertSame('Ab 1960', $result->readings[0]->title);
        foreach (['text', 'markdown', 'json'] as $format) {
            self::assertStringContainsString(
                'Großer Motor',
                Platewright::explain(self::LINCOLN, $format, names: $names),
            );
        }
        unset($names);
        self::assertStringNotContainsString('Motor', Platewright::explain(self::LINCOLN));
    }

    public function testProblemsHaveLineAndText(): void
    {
        $names = new Names("field/plant = X\nnonsense\nfield/nothing = x\n\xff = a\0b\n");
        self::assertSame([2, 3, 4], array_column($names->problems(), 'line'));
        self::assertStringContainsString('key = words', $names->problems()[0]->text);
    }

    public function testNamesKeepTheirTables(): void
    {
        $tables = new Tables(self::image());
        $names = Names::open(self::source('tests/fixtures/quillfeather.names'), $tables);
        self::assertStringContainsString(
            'Wexcombe of Port Ellery, first numbering',
            Platewright::explain(self::WEXCOMBE, tables: $tables, names: $names),
        );
        $tables->close();
        unset($tables);
        self::assertSame([], $names->problems());
    }

    public function testRefusedNames(): void
    {
        $this->assertRefused('/PLW_E_TOO_LONG/', 'PLW_E_TOO_LONG', static fn () =>
            new Names(str_repeat("\n", 4194305)));
        $names = new Names(self::WORDS);
        $names->close();
        $uses = [
            static fn () => $names->problems(),
            static fn () => Platewright::decode(self::LINCOLN, names: $names),
            static fn () => new Car($names),
        ];
        foreach ($uses as $use) {
            $this->assertRefused('/Names is closed/', null, $use);
        }
    }
}
