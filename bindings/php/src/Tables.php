<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

use FFI;

/** A set of schemes: the one that is compiled in, or an image of your own. */
final class Tables extends Owner
{
    /**
     * The compiled-in tables or, given the bytes of an image that "platewright compile
     * --image" wrote, those of a copy of it, after a full check.
     */
    public function __construct(?string $image = null)
    {
        $library = Library::get();
        if ($image === null) {
            $this->handle = new Handle($library->ffi->plw_tables_builtin());
            return;
        }
        $size = strlen($image);
        $copy = $library->ffi->new('uint64_t[' . (intdiv($size, 8) + 1) . ']');
        FFI::memcpy($copy, $image, $size);
        $tables = $library->ffi->new('const plw_tables *');
        $library->check($library->ffi->plw_tables_open($copy, $size, 0, FFI::addr($tables)));
        $this->handle = new Handle($tables, keeps: $copy);
    }

    /** The image in a file. */
    public static function open(string $path): self
    {
        return new self(self::bytes($path));
    }

    /** The date written in the tables. */
    public function edition(): string
    {
        return Library::get()->ffi->plw_tables_edition($this->handle()->pointer);
    }

    /** Identifies the tables that an answer came from. */
    public function digest(): string
    {
        $tables = $this->handle()->pointer;
        $library = Library::get();
        return $library->written(static fn (...$out) =>
            $library->ffi->plw_tables_digest($tables, ...$out));
    }

    /**
     * What the tables cover: key, title, first_year, last_year, rows, and layouts of
     * length and sample.
     *
     * @return list<object>
     */
    public function schemes(): array
    {
        $tables = $this->handle()->pointer;
        $ffi = Library::get()->ffi;
        $schemes = [];
        for ($scheme = 0; $scheme < $ffi->plw_scheme_count($tables); $scheme++) {
            $schemes[] = (object) [
                'key' => $ffi->plw_scheme_key($tables, $scheme),
                'title' => $ffi->plw_scheme_title($tables, $scheme),
                'first_year' => $ffi->plw_scheme_first_year($tables, $scheme),
                'last_year' => $ffi->plw_scheme_last_year($tables, $scheme),
                'rows' => $ffi->plw_scheme_row_count($tables, $scheme),
                'layouts' => self::layouts($ffi, $tables, $scheme),
            ];
        }
        return $schemes;
    }

    /** @return list<object> */
    private static function layouts(FFI $ffi, FFI\CData $tables, int $scheme): array
    {
        $layouts = [];
        for ($layout = 0; $layout < $ffi->plw_layout_count($tables, $scheme); $layout++) {
            $layouts[] = (object) [
                'length' => $ffi->plw_layout_length($tables, $scheme, $layout),
                'sample' => $ffi->plw_layout_sample($tables, $scheme, $layout),
            ];
        }
        return $layouts;
    }
}
