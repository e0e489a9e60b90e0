<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright\Tests;

use Platewright\Platewright;

final class PlatewrightTest extends TestCase
{
    private static function engine(object $result): object
    {
        $fields = array_column($result->readings[0]->fields, null, 'field');
        return $fields['engine'];
    }

    public function testDecode(): void
    {
        $result = Platewright::decode(self::LINCOLN);
        self::assertSame('dearborn-1960', $result->readings[0]->scheme);
        self::assertSame([1963], $result->readings[0]->years);
        self::assertSame([5], self::engine($result)->positions);
        self::assertSame(430, self::engine($result)->meanings[0]->attributes->cid);
        self::assertSame([], $result->findings);
    }

    public function testValidateFindsWhatCannotStandThere(): void
    {
        $result = Platewright::validate('3Y86N4000#1');
        self::assertSame('fault', $result->grade);
        self::assertSame('character', $result->findings[0]->code);
        self::assertSame([10], $result->findings[0]->positions);
        $check = Platewright::validate('1M8GDM9A1KP042788')->readings[0]->check;
        self::assertEquals((object) ['state' => 'fails', 'expected' => 'X'], $check);
    }

    public function testSpansPointIntoTheStringGiven(): void
    {
        $text = "\u{2605} 3Y 86\u{ff2e}-400001 \u{2605}";
        $result = Platewright::validate($text);
        self::assertSame(self::LINCOLN, $result->number);
        self::assertCount(11, $result->spans);
        self::assertSame("\u{ff2e}", substr($text, ...$result->spans[4]));
    }

    public function testAnyBytes(): void
    {
        self::assertSame('3Y86?400001', Platewright::decode("3Y86\xff400001")->number);
        self::assertSame('fault', Platewright::grade("\0"));
    }

    public function testHintsRank(): void
    {
        $number = 'RL41G8A123456';
        $years = static fn ($result) => array_column($result->readings, 'years');
        self::assertSame([[1968], [1978]], $years(Platewright::decode($number)));
        self::assertSame([[1978], [1968]], $years(Platewright::decode($number, year: 1978)));
    }

    public function testSuggestOffersAndAppliesNothing(): void
    {
        $result = Platewright::suggest('164AH59H45G118341');
        self::assertSame('fault', $result->grade);
        self::assertSame(['1G4AH59H45G118341'], array_column($result->suggestions, 'number'));
        self::assertEquals(
            [(object) ['position' => 2, 'typed' => '6', 'meant' => 'G']],
            $result->suggestions[0]->changes,
        );
        self::assertFalse(isset(Platewright::validate('164AH59H45G118341')->suggestions));
    }

    public function testPrefix(): void
    {
        self::assertEquals((object) [
            'state' => 'open', 'schemes' => ['iso3779'], 'allowed' => '0123456789',
            'known' => '0123456789', 'remaining_min' => 1, 'remaining_max' => 1,
        ], Platewright::prefix('1G4AH59H45G11834'));
        self::assertSame('impossible', Platewright::prefix('3Y#8')->state);
        self::assertSame('complete', Platewright::prefix(self::LINCOLN)->state);
    }

    public function testExplain(): void
    {
        $lines = explode("\n", Platewright::explain(self::LINCOLN));
        self::assertLessThanOrEqual(80, max(array_map('mb_strlen', $lines)));
        self::assertStringContainsString(
            'http',
            Platewright::explain(self::LINCOLN, 'markdown', sources: true),
        );
        self::assertStringNotContainsString(
            'http',
            Platewright::explain(self::LINCOLN, 'markdown'),
        );
        $begins = ['json' => '{', 'svg' => '<svg ', 'html' => '<!DOCTYPE html>'];
        foreach ($begins as $format => $start) {
            self::assertStringStartsWith($start, Platewright::explain(self::LINCOLN, $format));
        }
    }

    public function testGradeAgreesWithValidate(): void
    {
        foreach ([self::LINCOLN, '', '???', "\0", 'XX29L9B410772'] as $number) {
            self::assertSame(Platewright::validate($number)->grade, Platewright::grade($number));
        }
    }

    public function testClaims(): void
    {
        $claims = ['year' => 1963, 'engine' => '7.0L V8', 'body' => 'wagon', 'colour' => 'blue'];
        $result = Platewright::validate(self::LINCOLN, claims: $claims);
        self::assertSame(
            ['supported', 'supported', 'contradicted', 'not-told'],
            array_column($result->claims, 'verdict'),
        );
        self::assertSame(
            ['year', 'engine', 'body', null],
            array_column($result->claims, 'attribute'),
        );
        $pairs = [['year', 1963], ['year', 1964]];
        self::assertSame(
            ['year=1963', 'year=1964'],
            array_column(Platewright::decode(self::LINCOLN, claims: $pairs)->claims, 'claim'),
        );
        self::assertStringContainsString(
            'The number contradicts body=wagon',
            Platewright::explain(self::LINCOLN, claims: ['body' => 'wagon']),
        );
    }

    public function testConstantsAndVersion(): void
    {
        self::assertSame(256, Platewright::constants()['PLW_MAX_TEXT']);
        self::assertSame(Platewright::VERSION, Platewright::libraryVersion());
    }

    public function testRefusals(): void
    {
        foreach (['decode', 'validate', 'suggest', 'explain', 'grade', 'prefix'] as $verb) {
            $this->assertRefused('/\(PLW_E_TOO_LONG\)/', 'PLW_E_TOO_LONG', static fn () =>
                Platewright::$verb(str_repeat('1', 257)));
        }
        $hintLists = [['year' => 19], ['maker' => 'a;b'], ['scheme' => "a\0b"]];
        foreach ($hintLists as $hints) {
            foreach (['decode', 'explain', 'grade'] as $verb) {
                $this->assertRefused('/PLW_E_HINT/', 'PLW_E_HINT', static fn () =>
                    Platewright::$verb('1', ...$hints));
            }
        }
        $claimLists = [['year' => '1963;body=van'], ['a=b' => 'c'], ['year' => ''],
            ['line' => "a\nb"], ['line' => "a\0b"]];
        foreach ($claimLists as $claims) {
            $this->assertRefused('/PLW_E_CLAIM/', 'PLW_E_CLAIM', static fn () =>
                Platewright::decode('1', claims: $claims));
        }
        $this->assertRefused('/PLW_E_TOO_LONG/', 'PLW_E_TOO_LONG', static fn () =>
            Platewright::decode('1', claims: ['line' => str_repeat('x', 1100)]));
        $this->assertRefused('/papyrus.*markdown.*PLW_E_FLAGS/', 'PLW_E_FLAGS', static fn () =>
            Platewright::explain('1', 'papyrus'));
    }

    public function testWrongTypes(): void
    {
        $this->expectException(\TypeError::class);
        Platewright::decode(19);
    }
}
