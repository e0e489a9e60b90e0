<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

/** Your own words in place of those of the tables: lines of "key = words" in UTF-8. */
final class Names extends Owner
{
    /**
     * Names for these tables; for others they say nothing. Lines with mistakes are left
     * out: see problems().
     */
    public function __construct(string $text, ?Tables $tables = null)
    {
        $library = Library::get();
        $keeps = $tables?->handle();
        $this->handle = $library->make('plw_names', static fn ($names) =>
            $library->ffi->plw_names_new($keeps?->pointer, $text, strlen($text), $names), $keeps);
    }

    /** Names from a file. */
    public static function open(string $path, ?Tables $tables = null): self
    {
        return new self(self::bytes($path), $tables);
    }

    /**
     * The lines that do not count: line and text.
     *
     * @return list<object>
     */
    public function problems(): array
    {
        $names = $this->handle()->pointer;
        $library = Library::get();
        $problems = [];
        for ($i = 0; $i < $library->ffi->plw_names_problem_count($names); $i++) {
            $problems[] = (object) [
                'line' => $library->ffi->plw_names_problem_line($names, $i),
                'text' => $library->written(static fn (...$out) =>
                    $library->ffi->plw_names_problem_text($names, $i, ...$out)),
            ];
        }
        return $problems;
    }
}
