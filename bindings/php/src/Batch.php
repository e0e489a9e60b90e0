<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

use FFI;

/**
 * Many numbers by one call.
 *
 * @internal
 */
final class Batch
{
    /**
     * @param list<string> $numbers
     *
     * @return list<object>
     */
    public static function verdicts(array $numbers, ?string $hints, ?Handle $tables): array
    {
        $library = Library::get();
        $columns = $library->family('PLW_BATCH_');
        $width = $columns['columns'];
        unset($columns['columns']);
        $values = self::values($numbers, $hints, $tables, $width);
        $findings = array_map(
            static fn ($name) => strtr($name, '_', '-'),
            array_flip($library->family('PLW_FINDING_')),
        );
        $verdicts = [];
        foreach ($numbers as $index => $number) {
            $row = array_map(static fn ($column) => $values[$index * $width + $column], $columns);
            $verdicts[] = self::verdict($number, $row, $findings, $tables);
        }
        return $verdicts;
    }

    /**
     * The integers that the library writes, number by number.
     *
     * @param list<string> $numbers
     *
     * @return list<int>
     */
    private static function values(
        array $numbers,
        ?string $hints,
        ?Handle $tables,
        int $width,
    ): array {
        $library = Library::get();
        $ffi = $library->ffi;
        $count = count($numbers);
        $ends = $ffi->new('size_t[' . ($count + 1) . ']');
        $rows = $ffi->new('int32_t[' . ($count * $width + 1) . ']');
        $sum = 0;
        foreach ($numbers as $index => $number) {
            $ends[$index] = $sum += strlen($number);
        }
        $library->check($ffi->plw_batch(
            $tables?->pointer,
            implode('', $numbers),
            $ends,
            $count,
            $hints,
            0,
            $rows,
        ));
        return array_values(unpack('l*', FFI::string($rows, FFI::sizeof($rows))));
    }

    /**
     * @param array<string, int> $row
     * @param array<int, string> $findings
     */
    private static function verdict(
        string $number,
        array $row,
        array $findings,
        ?Handle $tables,
    ): object {
        $library = Library::get();
        $ffi = $library->ffi;
        $read = $row['status'] === $library->constants['PLW_OK'];
        return (object) [
            'number' => $number,
            'error' => $read ? null : $ffi->plw_status_name($row['status']),
            'grade' => $read ? $ffi->plw_grade_name($row['grade']) : null,
            'finding' => $findings[$row['finding']] ?? null,
            'scheme' => $read && $row['scheme'] >= 0
                ? $ffi->plw_scheme_key($tables?->pointer, $row['scheme']) : null,
            'first_year' => $row['first_year'] ?: null,
            'last_year' => $row['last_year'] ?: null,
            'readings' => $row['readings'],
            'findings' => $row['findings'],
        ];
    }
}
