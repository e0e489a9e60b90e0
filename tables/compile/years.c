/* SPDX-License-Identifier: MIT */
#include "years.h"

tc_years tc_years_any(void)
{
    tc_years years = { UINT64_MAX, UINT64_MAX };
    return years;
}

tc_years tc_years_and(tc_years a, tc_years b)
{
    tc_years years = { a.low & b.low, a.high & b.high };
    return years;
}

tc_years tc_years_or(tc_years a, tc_years b)
{
    tc_years years = { a.low | b.low, a.high | b.high };
    return years;
}

bool tc_years_empty(tc_years years)
{
    return (years.low | years.high) == 0;
}

bool tc_years_equal(tc_years a, tc_years b)
{
    return a.low == b.low && a.high == b.high;
}

static bool has_year(tc_years years, int year)
{
    int bit = year - FIRST_YEAR;
    return (bit < 64 ? years.low >> bit : years.high >> (bit - 64)) & 1;
}

static void add_year(tc_years *years, int year)
{
    int bit = year - FIRST_YEAR;
    if (bit < 64)
        years->low |= UINT64_C(1) << bit;
    else
        years->high |= UINT64_C(1) << (bit - 64);
}

int tc_first_year(tc_years years)
{
    for (int year = FIRST_YEAR; year <= LAST_YEAR; year++)
        if (has_year(years, year))
            return year;
    return 0;
}

const char *tc_show_years(tc_compilation *c, tc_years years)
{
    const char *text = "";
    for (int year = FIRST_YEAR; year <= LAST_YEAR; year++) {
        int last = year;
        if (!has_year(years, year))
            continue;
        while (last < LAST_YEAR && has_year(years, last + 1))
            last++;
        const char *comma = *text ? "," : "";
        text = last > year ? tc_print(c, "%s%s%d-%d", text, comma, year, last)
                           : tc_print(c, "%s%s%d", text, comma, year);
        year = last;
    }
    return text;
}

static bool read_year(tc_compilation *c, tc_word word, int *year)
{
    *year = word.length == 4 ? tc_number(word) : -1;
    if (*year < 0) {
        tc_complain(c, word.place,
                    "\"%s\" is no model year; write years like 1968, 1968-1971 or 1968,1970-1972",
                    tc_string(c, word));
        return false;
    }
    if (*year < FIRST_YEAR || *year > LAST_YEAR) {
        tc_complain(c, word.place, "the year %d is out of reach; tables hold %d to %d", *year,
                    FIRST_YEAR, LAST_YEAR);
        return false;
    }
    return true;
}

/* One year or one span; *latest is the last year so far. */
static bool read_span(tc_compilation *c, tc_word part, int *latest, tc_years *years)
{
    tc_word first = part;
    tc_word last = part;
    int from;
    int to;
    tc_cut(part, '-', &first, &last);
    if (!read_year(c, first, &from) || !read_year(c, last, &to))
        return false;
    if (to < from) {
        tc_complain(c, part.place, "the years %s run backwards; write %d-%d",
                    tc_string(c, part), to, from);
        return false;
    }
    if (from <= *latest) {
        tc_complain(c, part.place, "%d stands behind %d; write each year once, in rising order",
                    from, *latest);
        return false;
    }
    for (int year = from; year <= to; year++)
        add_year(years, year);
    *latest = to;
    return true;
}

static bool check_within(tc_compilation *c, tc_word word, const tc_scheme *scheme,
                         tc_years years)
{
    tc_years outside = { years.low & ~scheme->years.low, years.high & ~scheme->years.high };
    if (tc_years_empty(outside))
        return true;
    tc_complain(c, word.place, "%s is outside the years of the scheme; write years within %s",
                tc_show_years(c, outside), tc_show_years(c, scheme->years));
    return false;
}

bool tc_read_years(tc_compilation *c, tc_word word, const tc_scheme *scheme, tc_years *years)
{
    tc_years read = { 0, 0 };
    int latest = 0;
    tc_word rest = word;
    tc_word part;
    if (scheme && tc_is(word, "all")) {
        *years = scheme->years;
        return !tc_years_empty(*years);
    }
    while (tc_part(&rest, ',', &part))
        if (!read_span(c, part, &latest, &read))
            return false;
    *years = read;
    return !scheme || tc_years_empty(scheme->years) || check_within(c, word, scheme, read);
}
