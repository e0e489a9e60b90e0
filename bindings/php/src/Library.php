<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

use FFI;
use FFI\CData;

/**
 * The C library: found, checked and declared; its constants, statuses and texts.
 *
 * @internal
 */
final class Library
{
    /** The releases that this binding works with. */
    private const MAJOR = 1;
    private const OLDEST = 10000;

    private const VERSION = 'uint32_t plw_version_number(void);';

    private const DECLARATIONS = self::VERSION . <<<'C'
        typedef struct plw_tables plw_tables;
        typedef struct plw_result plw_result;
        typedef struct plw_names plw_names;
        typedef struct plw_car plw_car;
        typedef struct plw_expectation plw_expectation;

        const char *plw_version_text(void);
        const char *plw_status_name(int32_t);
        const char *plw_status_text(int32_t);
        uint32_t plw_constant_count(void);
        const char *plw_constant_name(uint32_t);
        int64_t plw_constant_value(uint32_t);

        const plw_tables *plw_tables_builtin(void);
        int32_t plw_tables_open(const void *, size_t, uint32_t, const plw_tables **);
        const char *plw_tables_edition(const plw_tables *);
        int32_t plw_tables_digest(const plw_tables *, char *, size_t, size_t *);
        uint32_t plw_scheme_count(const plw_tables *);
        const char *plw_scheme_key(const plw_tables *, uint32_t);
        const char *plw_scheme_title(const plw_tables *, uint32_t);
        int32_t plw_scheme_first_year(const plw_tables *, uint32_t);
        int32_t plw_scheme_last_year(const plw_tables *, uint32_t);
        uint32_t plw_scheme_row_count(const plw_tables *, uint32_t);
        uint32_t plw_layout_count(const plw_tables *, uint32_t);
        uint32_t plw_layout_length(const plw_tables *, uint32_t, uint32_t);
        const char *plw_layout_sample(const plw_tables *, uint32_t, uint32_t);

        int32_t plw_names_new(const plw_tables *, const char *, size_t, plw_names **);
        void plw_names_free(plw_names *);
        uint32_t plw_names_problem_count(const plw_names *);
        uint32_t plw_names_problem_line(const plw_names *, uint32_t);
        int32_t plw_names_problem_text(const plw_names *, uint32_t, char *, size_t, size_t *);

        int32_t plw_result_new(plw_result **);
        void plw_result_free(plw_result *);
        int32_t plw_result_use_names(plw_result *, const plw_names *);
        uint32_t plw_result_position_count(const plw_result *);
        int32_t plw_result_position(const plw_result *, uint32_t, size_t *, size_t *);
        int32_t plw_decode(const plw_tables *, const char *, size_t, const char *, uint32_t,
                           plw_result *);
        int32_t plw_validate(const plw_tables *, const char *, size_t, const char *, uint32_t,
                             plw_result *);
        int32_t plw_suggest(const plw_tables *, const char *, size_t, const char *, uint32_t,
                            plw_result *);
        int32_t plw_check_claims(plw_result *, const char *, size_t);
        int32_t plw_explain(const plw_result *, int32_t, uint32_t, char *, size_t, size_t *);
        int32_t plw_grade(const plw_tables *, const char *, size_t, const char *, uint32_t,
                          int32_t *);
        const char *plw_grade_name(int32_t);
        int32_t plw_batch(const plw_tables *, const char *, const size_t *, size_t, const char *,
                          uint32_t, int32_t *);

        int32_t plw_prefix(const plw_tables *, const char *, size_t, uint32_t, plw_result *);
        int32_t plw_prefix_state(const plw_result *);
        uint32_t plw_prefix_scheme_count(const plw_result *);
        uint32_t plw_prefix_scheme(const plw_result *, uint32_t);
        int32_t plw_prefix_allowed(const plw_result *, char *, size_t, size_t *);
        int32_t plw_prefix_known(const plw_result *, char *, size_t, size_t *);
        uint32_t plw_prefix_remaining_min(const plw_result *);
        uint32_t plw_prefix_remaining_max(const plw_result *);

        const char *plw_place_name(int32_t);
        const char *plw_date_kind_name(int32_t);
        int32_t plw_car_new(plw_car **);
        void plw_car_free(plw_car *);
        void plw_car_clear(plw_car *);
        int32_t plw_car_use_names(plw_car *, const plw_names *);
        int32_t plw_car_add_plate(plw_car *, int32_t, const char *, size_t);
        int32_t plw_car_add_date(plw_car *, int32_t, const char *, size_t);
        int32_t plw_compare(const plw_tables *, plw_car *, const char *, uint32_t);
        int32_t plw_car_check_claims(plw_car *, const char *, size_t);
        int32_t plw_explain_car(const plw_car *, int32_t, uint32_t, char *, size_t, size_t *);

        int32_t plw_expectation_new(plw_expectation **);
        void plw_expectation_free(plw_expectation *);
        int32_t plw_expectation_use_names(plw_expectation *, const plw_names *);
        int32_t plw_expect(const plw_tables *, const char *, size_t, const char *, uint32_t,
                           plw_expectation *);
        int32_t plw_explain_expectation(const plw_expectation *, int32_t, uint32_t, char *, size_t,
                                        size_t *);
        int32_t plw_pattern_covers(const char *, size_t, const char *, size_t, int32_t *,
                                   uint32_t *);
        C;

    private static ?self $loaded = null;

    /** @var array<string, int> every number of the C header, by name */
    public readonly array $constants;

    private function __construct(public readonly FFI $ffi)
    {
        $constants = [];
        for ($index = 0; $index < $ffi->plw_constant_count(); $index++) {
            $constants[$ffi->plw_constant_name($index)] = $ffi->plw_constant_value($index);
        }
        $this->constants = $constants;
    }

    /** The library; found and checked by the first call. */
    public static function get(): self
    {
        return self::$loaded ??= new self(self::load());
    }

    private static function load(): FFI
    {
        $file = getenv('PLATEWRIGHT_LIBRARY') ?: 'libplatewright.so.1';
        try {
            self::checkVersion(FFI::cdef(self::VERSION, $file)->plw_version_number());
            return FFI::cdef(self::DECLARATIONS, $file);
        } catch (FFI\Exception $problem) {
            throw new LibraryException("the platewright library cannot be loaded from $file ("
                . $problem->getMessage() . '); install it, or name its file in '
                . 'PLATEWRIGHT_LIBRARY');
        }
    }

    private static function checkVersion(int $number): void
    {
        if (intdiv($number, 10000) !== self::MAJOR || $number < self::OLDEST) {
            throw new LibraryException('this binding needs platewright ' . self::MAJOR
                . '.x from number ' . self::OLDEST . " on; the library found has number $number");
        }
    }

    /**
     * The constants that begin so: "svg" => 3 of PLW_FORMAT_SVG.
     *
     * @return array<string, int>
     */
    public function family(string $prefix): array
    {
        $family = [];
        foreach ($this->constants as $name => $value) {
            if (str_starts_with($name, $prefix)) {
                $family[strtolower(substr($name, strlen($prefix)))] = $value;
            }
        }
        return $family;
    }

    /** Throws what a status stands for. */
    public function check(int $status): void
    {
        if ($status !== $this->constants['PLW_OK']) {
            throw new PlatewrightException(
                $this->ffi->plw_status_text($status),
                $this->ffi->plw_status_name($status),
            );
        }
    }

    /**
     * The native object that a call writes into its argument.
     *
     * @param \Closure(CData): int $new
     */
    public function make(string $type, \Closure $new, mixed $keeps = null): Handle
    {
        $pointer = $this->ffi->new("$type *");
        $this->check($new(FFI::addr($pointer)));
        $ffi = $this->ffi;
        return new Handle($pointer, static fn ($object) => $ffi->{"{$type}_free"}($object), $keeps);
    }

    /**
     * The text that a call writes into its arguments buffer, capacity and needed.
     *
     * @param \Closure(CData, int, CData): int $call
     * @param int $guess bytes that most such texts fit into
     */
    public function written(\Closure $call, int $guess = 256): string
    {
        $needed = $this->ffi->new('size_t');
        $needed->cdata = $guess;
        do {
            $capacity = $needed->cdata;
            $buffer = $this->ffi->new("char[$capacity]");
            $status = $call($buffer, $capacity, FFI::addr($needed));
        } while ($status === $this->constants['PLW_E_SHORT']);
        $this->check($status);
        return FFI::string($buffer);
    }
}
