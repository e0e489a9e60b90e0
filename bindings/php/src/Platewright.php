<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

use FFI;

/**
 * Reads the identification numbers stamped on collector cars.
 *
 * Arguments that most methods take, best by name:
 *
 * - maker, year, scheme: what you believe; it ranks readings and hides none
 * - claims: what a listing says, as plw_check_claims(3) lists it: ['year' => 1966]
 * - tables: in place of the compiled-in ones
 * - names: your own words
 *
 * Whatever the library refuses is a PlatewrightException.
 */
final class Platewright
{
    public const VERSION = '1.0.0';

    private const PAGE = 1 << 14; // bytes that most explanations fit into
    private const BOOK = 1 << 16; // bytes that most expectations fit into

    private function __construct()
    {
    }

    /** The version of the C library that is running. */
    public static function libraryVersion(): string
    {
        return Library::get()->ffi->plw_version_text();
    }

    /**
     * Every number of the C header, by name.
     *
     * @return array<string, int>
     */
    public static function constants(): array
    {
        return Library::get()->constants;
    }

    /**
     * Every way to read the number, ranked: the library's JSON as an object. Its JSON
     * Schema is installed with the library. spans comes along: substr($number, ...$span)
     * is what was typed at a position.
     *
     * @param string       $number as typed or scanned, UTF-8; '?' is a character that cannot
     *                             be read, '[8B]' one that can be either
     * @param array<mixed> $claims
     */
    public static function decode(
        string $number,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        array $claims = [],
        ?Tables $tables = null,
        ?Names $names = null,
    ): object {
        $hints = Arguments::hints($maker, $year, $scheme);
        return self::document('plw_decode', $number, $hints, $claims, $tables, $names);
    }

    /**
     * Like decode, and all findings.
     *
     * @param array<mixed> $claims
     */
    public static function validate(
        string $number,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        array $claims = [],
        ?Tables $tables = null,
        ?Names $names = null,
    ): object {
        $hints = Arguments::hints($maker, $year, $scheme);
        return self::document('plw_validate', $number, $hints, $claims, $tables, $names);
    }

    /**
     * Like validate, and where the number does not hold the nearest numbers that would, as
     * guesses. Nothing of them is applied.
     *
     * @param array<mixed> $claims
     */
    public static function suggest(
        string $number,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        array $claims = [],
        ?Tables $tables = null,
        ?Names $names = null,
    ): object {
        $hints = Arguments::hints($maker, $year, $scheme);
        return self::document('plw_suggest', $number, $hints, $claims, $tables, $names);
    }

    /**
     * The reading in words, with claims, findings and cautions.
     *
     * @param string       $format  one of plw_explain(3): 'text', 'markdown', 'json' ...
     * @param bool         $sources list the sources in full
     * @param array<mixed> $claims
     */
    public static function explain(
        string $number,
        string $format = 'text',
        bool $sources = false,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        array $claims = [],
        ?Tables $tables = null,
        ?Names $names = null,
    ): string {
        $code = Arguments::format($format);
        $hints = Arguments::hints($maker, $year, $scheme);
        $result = self::filled('plw_validate', $number, $hints, $claims, $tables, $names);
        return self::explained($result, $code, $sources);
    }

    /** Just the grade: 'clear', 'note', 'doubt' or 'fault'. */
    public static function grade(
        string $number,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        ?Tables $tables = null,
    ): string {
        $library = Library::get();
        $grade = $library->ffi->new('int32_t');
        $hints = Arguments::hints($maker, $year, $scheme);
        $library->check($library->ffi->plw_grade(
            $tables?->handle()->pointer,
            $number,
            strlen($number),
            $hints,
            0,
            FFI::addr($grade),
        ));
        return $library->ffi->plw_grade_name($grade->cdata);
    }

    /**
     * What the beginning of a number leaves open, for a form at every key stroke: state,
     * schemes, allowed, known, remaining_min, remaining_max.
     */
    public static function prefix(string $text, ?Tables $tables = null): object
    {
        $library = Library::get();
        $ffi = $library->ffi;
        $known = $tables?->handle()->pointer;
        $handle = self::result();
        $result = $handle->pointer;
        $library->check($ffi->plw_prefix($known, $text, strlen($text), 0, $result));
        $schemes = [];
        for ($index = 0; $index < $ffi->plw_prefix_scheme_count($result); $index++) {
            $schemes[] = $ffi->plw_scheme_key($known, $ffi->plw_prefix_scheme($result, $index));
        }
        $states = array_flip($library->family('PLW_PREFIX_'));
        return (object) [
            'state' => $states[$ffi->plw_prefix_state($result)],
            'schemes' => $schemes,
            'allowed' => $library->written(static fn (...$out) =>
                $ffi->plw_prefix_allowed($result, ...$out)),
            'known' => $library->written(static fn (...$out) =>
                $ffi->plw_prefix_known($result, ...$out)),
            'remaining_min' => $ffi->plw_prefix_remaining_min($result),
            'remaining_max' => $ffi->plw_prefix_remaining_max($result),
        ];
    }

    /**
     * The verdicts on many numbers by one call of the library: for each number, error,
     * grade, finding (the gravest), scheme, first_year and last_year (of the best
     * reading), readings and findings (how many). A number that cannot be taken has the
     * name of its status as error and does not end the batch.
     *
     * @param iterable<string> $numbers
     *
     * @return list<object>
     */
    public static function batch(
        iterable $numbers,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        ?Tables $tables = null,
    ): array {
        $hints = Arguments::hints($maker, $year, $scheme);
        $texts = [];
        foreach ($numbers as $number) {
            $texts[] = is_string($number)
                ? $number : throw new \TypeError('a number is a string, not '
                    . get_debug_type($number));
        }
        return Batch::verdicts($texts, $hints, $tables?->handle());
    }

    /**
     * The plates and dates of one car against each other, in one call:
     * compare(['dash' => $number, 'engine' => [$stamp, $other]]). See Car.
     *
     * @param array<string, string|list<string>> $plates
     * @param array<string, string|list<string>> $dates
     * @param array<mixed>                       $claims
     */
    public static function compare(
        array $plates,
        array $dates = [],
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        array $claims = [],
        ?Tables $tables = null,
        ?Names $names = null,
    ): object {
        return self::car($plates, $dates, $names)
            ->compare($maker, $year, $scheme, $claims, $tables);
    }

    /**
     * The same for people.
     *
     * @param array<string, string|list<string>> $plates
     * @param array<string, string|list<string>> $dates
     * @param array<mixed>                       $claims
     */
    public static function explainCar(
        array $plates,
        string $format = 'text',
        bool $sources = false,
        array $dates = [],
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        array $claims = [],
        ?Tables $tables = null,
        ?Names $names = null,
    ): string {
        $car = self::car($plates, $dates, $names);
        $car->compare($maker, $year, $scheme, $claims, $tables);
        return $car->explain($format, $sources);
    }

    /**
     * For every scheme, the patterns of the numbers that could bear the claims: the
     * library's JSON as an object. Hints rank patterns and hide none.
     *
     * @param array<mixed> $claims
     */
    public static function expect(
        array $claims,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        ?Tables $tables = null,
        ?Names $names = null,
    ): object {
        $json = self::explainExpectation(
            $claims,
            'json',
            true,
            $maker,
            $year,
            $scheme,
            $tables,
            $names,
        );
        return json_decode($json, flags: JSON_THROW_ON_ERROR);
    }

    /**
     * The same for people.
     *
     * @param array<mixed> $claims
     */
    public static function explainExpectation(
        array $claims,
        string $format = 'text',
        bool $sources = false,
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        ?Tables $tables = null,
        ?Names $names = null,
    ): string {
        $library = Library::get();
        $ffi = $library->ffi;
        $code = Arguments::format($format);
        $flags = $sources ? $library->constants['PLW_EXPLAIN_SOURCES'] : 0;
        $listed = Arguments::claims($claims);
        $hints = Arguments::hints($maker, $year, $scheme);
        $with = $tables?->handle()->pointer;
        $handle = $library->make('plw_expectation', static fn ($made) =>
            $ffi->plw_expectation_new($made));
        $found = $handle->pointer;
        $library->check($ffi->plw_expectation_use_names($found, $names?->handle()->pointer));
        $library->check($ffi->plw_expect($with, $listed, strlen($listed), $hints, 0, $found));
        return $library->written(static fn (...$out) =>
            $ffi->plw_explain_expectation($found, $code, $flags, ...$out), self::BOOK);
    }

    /**
     * The reverse: does a pattern cover a number? covered is null when the number's
     * unreadable characters decide; position is the first that does not fit or is open.
     * Both are read without tables: no character is taken for another.
     */
    public static function covers(string $pattern, string $number): object
    {
        $library = Library::get();
        [$covered, $position] = [$library->ffi->new('int32_t'), $library->ffi->new('uint32_t')];
        $library->check($library->ffi->plw_pattern_covers(
            $pattern,
            strlen($pattern),
            $number,
            strlen($number),
            FFI::addr($covered),
            FFI::addr($position),
        ));
        return (object) [
            'covered' => match ($covered->cdata) {
                $library->constants['PLW_COVERED_NOT'] => false,
                $library->constants['PLW_COVERED'] => true,
                $library->constants['PLW_COVERED_OPEN'] => null,
            },
            'position' => $position->cdata ?: null,
        ];
    }

    /**
     * @param array<string, string|list<string>> $plates
     * @param array<string, string|list<string>> $dates
     */
    private static function car(array $plates, array $dates, ?Names $names): Car
    {
        $car = new Car($names);
        foreach ($plates as $place => $numbers) {
            foreach ((array) $numbers as $number) {
                $car->addPlate((string) $place, $number);
            }
        }
        foreach ($dates as $kind => $texts) {
            foreach ((array) $texts as $text) {
                $car->addDate((string) $kind, $text);
            }
        }
        return $car;
    }

    private static function result(): Handle
    {
        $library = Library::get();
        return $library->make('plw_result', static fn ($result) =>
            $library->ffi->plw_result_new($result));
    }

    /**
     * A native result that the verb has filled.
     *
     * @param array<mixed> $claims
     */
    private static function filled(
        string $verb,
        string $number,
        ?string $hints,
        array $claims,
        ?Tables $tables,
        ?Names $names,
    ): Handle {
        $library = Library::get();
        $ffi = $library->ffi;
        $listed = Arguments::claims($claims);
        $with = $tables?->handle()->pointer;
        $handle = self::result();
        $result = $handle->pointer;
        $library->check($ffi->plw_result_use_names($result, $names?->handle()->pointer));
        $library->check($ffi->$verb($with, $number, strlen($number), $hints, 0, $result));
        $library->check($ffi->plw_check_claims($result, $listed, strlen($listed)));
        return $handle;
    }

    private static function explained(Handle $result, int $format, bool $sources): string
    {
        $library = Library::get();
        $flags = $sources ? $library->constants['PLW_EXPLAIN_SOURCES'] : 0;
        return $library->written(static fn (...$out) =>
            $library->ffi->plw_explain($result->pointer, $format, $flags, ...$out), self::PAGE);
    }

    /** @param array<mixed> $claims */
    private static function document(
        string $verb,
        string $number,
        ?string $hints,
        array $claims,
        ?Tables $tables,
        ?Names $names,
    ): object {
        $result = self::filled($verb, $number, $hints, $claims, $tables, $names);
        $json = self::explained($result, Arguments::format('json'), true);
        $document = json_decode($json, flags: JSON_THROW_ON_ERROR);
        $document->spans = self::spans($result);
        return $document;
    }

    /**
     * Offset and length of every position, in bytes of the text given.
     *
     * @return list<array{int, int}>
     */
    private static function spans(Handle $result): array
    {
        $library = Library::get();
        $ffi = $library->ffi;
        $count = min(
            $ffi->plw_result_position_count($result->pointer),
            $library->constants['PLW_MAX_POSITIONS'],
        );
        [$offset, $length] = [$ffi->new('size_t'), $ffi->new('size_t')];
        $spans = [];
        for ($position = 1; $position <= $count; $position++) {
            $library->check($ffi->plw_result_position(
                $result->pointer,
                $position,
                FFI::addr($offset),
                FFI::addr($length),
            ));
            $spans[] = [$offset->cdata, $length->cdata];
        }
        return $spans;
    }
}
