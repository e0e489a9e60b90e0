<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright;

/**
 * What callers give, as the library takes it.
 *
 * @internal
 */
final class Arguments
{
    /** maker, year and scheme as a text; null, which is NULL, for none. */
    public static function hints(?string $maker, ?int $year, ?string $scheme): ?string
    {
        $hints = array_filter(
            ['maker' => $maker, 'year' => $year, 'scheme' => $scheme],
            static fn ($value) => $value !== null,
        );
        return $hints ? self::pairs($hints, 'PLW_E_HINT') : null;
    }

    /**
     * Claims are attribute => value, or pairs of both in a row.
     *
     * @param array<mixed> $claims
     */
    public static function claims(array $claims): string
    {
        return self::pairs($claims, 'PLW_E_CLAIM');
    }

    /** @param array<mixed> $parts */
    private static function pairs(array $parts, string $status): string
    {
        $texts = [];
        foreach ($parts as $key => $value) {
            [$key, $value] = is_array($value) ? array_values($value) : [$key, $value];
            if (strpbrk("$key$value", ";\0") !== false || str_contains((string) $key, '=')) {
                throw new PlatewrightException(
                    "$key cannot hold ';' or a zero byte, nor a key '='",
                    $status,
                );
            }
            $texts[] = "$key=$value";
        }
        return implode(';', $texts);
    }

    public static function format(string $name): int
    {
        return self::numbered(
            Library::get()->family('PLW_FORMAT_'),
            $name,
            'format',
            'PLW_E_FLAGS',
        );
    }

    public static function place(string $name): int
    {
        $library = Library::get();
        $names = array_map(
            static fn ($place) => $library->ffi->plw_place_name($place),
            $library->family('PLW_PLACE_'),
        );
        return self::numbered(
            array_combine($names, $library->family('PLW_PLACE_')),
            $name,
            'place',
        );
    }

    /** PLW_DATE_ is also how verdicts and reasons begin; only kinds have such a name. */
    public static function dateKind(string $name): int
    {
        $library = Library::get();
        $kinds = [];
        foreach ($library->family('PLW_DATE_') as $kind) {
            $kinds[$library->ffi->plw_date_kind_name($kind)] = $kind;
        }
        unset($kinds['']);
        return self::numbered($kinds, $name, 'kind of date');
    }

    /** @param array<string, int> $list */
    private static function numbered(
        array $list,
        string $name,
        string $what,
        ?string $status = null,
    ): int {
        return $list[$name] ?? throw new PlatewrightException(
            "there is no $what $name; use one of " . implode(', ', array_keys($list)),
            $status,
        );
    }
}
