<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

/** Collects what was found where, and compares it. */
final class Car extends Owner
{
    private const PAGE = 1 << 15; // bytes that most comparisons fit into

    /** What the last comparison used; explain needs it later. */
    private ?Handle $tables = null;

    /** An empty car. names: your own words, made for the tables to compare with. */
    public function __construct(?Names $names = null)
    {
        $library = Library::get();
        $keeps = $names?->handle();
        $this->handle = $library->make('plw_car', static fn ($car) =>
            $library->ffi->plw_car_new($car), $keeps);
        $library->check($library->ffi->plw_car_use_names(
            $this->handle->pointer,
            $keeps?->pointer,
        ));
    }

    /** Takes everything away that was added. */
    public function clear(): self
    {
        Library::get()->ffi->plw_car_clear($this->handle()->pointer);
        return $this;
    }

    /**
     * Adds a plate; the place is dash, door_label, body_tag, certification_label, engine,
     * gearbox or body, and may be given more than once.
     */
    public function addPlate(string $place, string $number): self
    {
        $library = Library::get();
        $library->check($library->ffi->plw_car_add_plate(
            $this->handle()->pointer,
            Arguments::place($place),
            $number,
            strlen($number),
        ));
        return $this;
    }

    /** Adds a date code as found; the kind is casting, assembly, body_tag or label. */
    public function addDate(string $kind, string $text): self
    {
        $library = Library::get();
        $library->check($library->ffi->plw_car_add_date(
            $this->handle()->pointer,
            Arguments::dateKind($kind),
            $text,
            strlen($text),
        ));
        return $this;
    }

    /**
     * Holds all of them against each other: the library's JSON as an object. The full
     * number may be missing: stamps alone are joined, too. The arguments are those of
     * Platewright::decode.
     *
     * @param array<mixed> $claims
     */
    public function compare(
        ?string $maker = null,
        ?int $year = null,
        ?string $scheme = null,
        array $claims = [],
        ?Tables $tables = null,
    ): object {
        $library = Library::get();
        $car = $this->handle()->pointer;
        $hints = Arguments::hints($maker, $year, $scheme);
        $listed = Arguments::claims($claims);
        $this->tables = $tables?->handle();
        $library->check($library->ffi->plw_compare($this->tables?->pointer, $car, $hints, 0));
        $library->check($library->ffi->plw_car_check_claims($car, $listed, strlen($listed)));
        return json_decode($this->explain('json', sources: true), flags: JSON_THROW_ON_ERROR);
    }

    /** The last comparison in words, in a format of Platewright::explain. */
    public function explain(string $format = 'text', bool $sources = false): string
    {
        $library = Library::get();
        $car = $this->handle()->pointer;
        $code = Arguments::format($format);
        $flags = $sources ? $library->constants['PLW_EXPLAIN_SOURCES'] : 0;
        return $library->written(static fn (...$out) =>
            $library->ffi->plw_explain_car($car, $code, $flags, ...$out), self::PAGE);
    }
}
