<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright\Tests;

use Platewright\Car;
use Platewright\Names;
use Platewright\Platewright;
use Platewright\Tables;

final class CarTest extends TestCase
{
    public function testPlatesThatAgree(): void
    {
        $car = Platewright::compare(['dash' => 'RM23V0A149789', 'engine' => '0a-149?89']);
        self::assertSame('agrees', $car->verdict);
        self::assertSame(['full', 'partial'], array_column($car->plates, 'taken'));
        self::assertSame('0A149?89', implode('', $car->plates[1]->shows));
        self::assertSame('RM23V0A149789', $car->joined[0]->number);
    }

    public function testPlatesThatDiffer(): void
    {
        $car = Platewright::compare(self::ALTERED);
        self::assertSame(
            ['differs', 'differs', 'agrees'],
            array_column($car->plates, 'verdict'),
        );
        self::assertEquals(
            [(object) ['plate' => 1, 'positions' => [2, 5]]],
            $car->plates[0]->differs_from,
        );
        self::assertSame('B[HS]27[GR]0B212211', $car->joined[0]->number);
    }

    public function testStampsAlone(): void
    {
        $car = Platewright::compare(['engine' => ['0A149789', '0A149780']]);
        self::assertSame('differs', $car->verdict);
        $car = Platewright::compare(['engine' => '0A149789'], scheme: 'highland-park-1966');
        self::assertSame('?????0A149789', $car->joined[0]->number);
    }

    public function testDates(): void
    {
        $dates = Platewright::compare(
            ['dash' => self::LINCOLN],
            ['casting' => ['3C1', 'nonsense #']],
        )->dates;
        self::assertSame(['3C1', 'NONSENSE ?'], array_column($dates, 'text'));
        self::assertSame('fits', $dates[0]->verdict);
        self::assertSame('not-understood', $dates[1]->reason);
    }

    public function testClaims(): void
    {
        $claims = ['year' => 1970, 'body' => 'wagon'];
        self::assertSame(
            ['supported', 'contradicted'],
            array_column(Platewright::compare(self::ALTERED, claims: $claims)->claims, 'verdict'),
        );
        self::assertStringContainsString(
            'body=wagon',
            Platewright::explainCar(self::ALTERED, claims: $claims),
        );
        self::assertFalse(isset(Platewright::compare(self::ALTERED)->claims));
    }

    public function testStepByStep(): void
    {
        $car = new Car();
        foreach (self::ALTERED as $place => $number) {
            $car->addPlate($place, $number);
        }
        self::assertEquals(Platewright::compare(self::ALTERED), $car->compare());
        self::assertSame(
            Platewright::explainCar(self::ALTERED, 'markdown'),
            $car->explain('markdown'),
        );
        self::assertCount(1, $car->clear()->addPlate('dash', self::LINCOLN)->compare()->plates);
    }

    public function testItKeepsTheWordsAndTablesThatItUses(): void
    {
        $tables = new Tables(self::image());
        $names = new Names('scheme/port-ellery-1962 = Erste Zählung', $tables);
        $worded = new Car($names);
        $worded->addPlate('dash', self::WEXCOMBE)->compare(tables: $tables);
        $tables->close();
        $names->close();
        self::assertStringContainsString('Erste Zählung', $worded->explain('json'));

        $others = new Tables(self::image());
        $plain = new Car();
        $plain->addPlate('dash', self::WEXCOMBE)->compare(tables: $others);
        $others->close();
        self::assertStringContainsString('port-ellery-1962', $plain->explain('json'));
    }

    public function testExplain(): void
    {
        $lines = explode("\n", Platewright::explainCar(self::ALTERED));
        self::assertLessThanOrEqual(80, max(array_map('mb_strlen', $lines)));
        self::assertStringNotContainsString('http', Platewright::explainCar(self::ALTERED));
        self::assertStringContainsString(
            'http',
            Platewright::explainCar(self::ALTERED, sources: true),
        );
    }

    public function testRefusals(): void
    {
        $this->assertRefused('/no place roof.*door_label/', null, static fn () =>
            Platewright::compare(['roof' => self::LINCOLN]));
        $this->assertRefused('/no place 0/', null, static fn () =>
            Platewright::compare([self::LINCOLN]));
        $this->assertRefused('/kind of date sunday.*casting/', null, static fn () =>
            Platewright::compare([], ['sunday' => '1']));
        $this->assertRefused('/PLW_E_TOO_LONG/', 'PLW_E_TOO_LONG', static fn () =>
            Platewright::compare(['dash' => str_repeat('1', 257)]));
        $this->assertRefused('/PLW_E_TOO_LONG/', 'PLW_E_TOO_LONG', static fn () =>
            Platewright::compare(['engine' => array_fill(0, 17, '1')]));
        $this->assertRefused('/PLW_E_HINT/', 'PLW_E_HINT', static fn () =>
            Platewright::compare([], year: 19));
        $this->assertRefused('/PLW_E_CLAIM/', 'PLW_E_CLAIM', static fn () =>
            Platewright::compare([], claims: ['year' => '']));
        $this->assertRefused('/PLW_E_FLAGS/', 'PLW_E_FLAGS', static fn () =>
            Platewright::explainCar([], 'papyrus'));
    }

    public function testClosed(): void
    {
        $car = new Car();
        $car->close();
        $car->close();
        $uses = [
            static fn () => $car->addPlate('dash', self::LINCOLN),
            static fn () => $car->addDate('casting', '3C1'),
            static fn () => $car->clear(),
            static fn () => $car->compare(),
            static fn () => $car->explain(),
        ];
        foreach ($uses as $use) {
            $this->assertRefused('/Car is closed/', null, $use);
        }
    }
}
