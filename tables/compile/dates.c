/* SPDX-License-Identifier: MIT
 *
 * Rows about dates: the form of a date, its month letters, the day it counts from.
 */
#include <string.h>

#include "../../lib/date_form.h"
#include "resolve.h"

/* ---- one value --------------------------------------------------------- */

static tc_place place_in(tc_word word, size_t offset)
{
    return tc_slice(word, offset + (word.text[0] == '"'), 1).place;
}

static bool is_date_part_of(enum date_part part, unsigned seen)
{
    return part != DATE_GAP && part != DATE_SIGN && (seen >> part & 1);
}

static bool check_form(tc_compilation *c, tc_word word, const char *form)
{
    unsigned seen = 0;
    size_t length;
    for (size_t at = 0; form[at]; at += length) {
        enum date_part part = date_part(form + at, &length);
        if (part == DATE_NONE) {
            tc_complain(c, place_in(word, at),
                        "\"%s\" is no form of a date; write M, MM for the month, D, DD for the "
                        "day, Y, YY, YYYY for the year, W for the week of the month, WW for that "
                        "of the year, J for running days, S for any other character, and a blank "
                        "where something may stand between them", form);
            return false;
        }
        if (is_date_part_of(part, seen)) {
            tc_complain(c, place_in(word, at), "%.*s stands in \"%s\" twice; write it once",
                        (int)length, form + at, form);
            return false;
        }
        seen |= 1u << part;
    }
    return true;
}

static bool is_month_sign(char sign)
{
    return (sign >= 'A' && sign <= 'Z') || (sign >= '0' && sign <= '9');
}

static bool check_months(tc_compilation *c, tc_word word, const char *months)
{
    size_t length = strlen(months);
    if (length != 12 && length != 24) {
        tc_complain(c, word.place, "\"%s\" names %u months; write 12 characters from January on, "
                                   "or 24 where the months of a second round have their own, and "
                                   "a full stop for a month whose character is not known",
                    months, (unsigned)length);
        return false;
    }
    for (size_t i = 0; i < length; i++) {
        if (months[i] == '.')
            continue;
        if (!is_month_sign(months[i]) || memchr(months, months[i], i)) {
            tc_complain(c, place_in(word, i), "\"%c\" cannot stand for this month; write a "
                                              "capital or a figure that no other month has, or "
                                              "a full stop", months[i]);
            return false;
        }
    }
    return true;
}

static int32_t figures(tc_word word, size_t from, size_t length)
{
    return tc_number(tc_slice(word, from, length));
}

static bool check_day(tc_compilation *c, tc_word word, const char *text)
{
    tc_word day = { text, strlen(text), word.place };
    if (day.length == 10 && text[4] == '-' && text[7] == '-' && figures(day, 0, 4) >= 1900 &&
        figures(day, 5, 2) >= 1 && figures(day, 5, 2) <= 12 && figures(day, 8, 2) >= 1 &&
        figures(day, 8, 2) <= 28)
        return true;
    tc_complain(c, word.place, "\"%s\" is no day to count from; write it like 1962-01-01, with a "
                               "day up to 28", text);
    return false;
}

bool tc_check_date_value(tc_compilation *c, const tc_attribute *attribute, tc_word word,
                         const char *text)
{
    switch (attribute->writes) {
    case TC_DATE_FORM:
        return check_form(c, word, text);
    case TC_MONTHS:
        return check_months(c, word, text);
    case TC_DAY:
        return check_day(c, word, text);
    default:
        return true;
    }
}

/* ---- what belongs together in a row -------------------------------------- */

static const tc_fact *stated(const tc_compilation *c, const tc_facts *facts, const char *name)
{
    for (size_t i = 0; i < facts->count; i++)
        if (strcmp(c->attributes.items[facts->items[i].attribute].name, name) == 0)
            return &facts->items[i];
    return NULL;
}

static unsigned parts_of(const char *form)
{
    unsigned parts = 0;
    size_t length;
    for (size_t at = 0; form[at]; at += length)
        parts |= 1u << date_part(form + at, &length);
    return parts;
}

static bool has(unsigned parts, enum date_part part)
{
    return parts >> part & 1;
}

/* What is wrong with a form that is well written, or NULL. */
static const char *missing_part(unsigned parts)
{
    bool month = has(parts, DATE_MONTH) || has(parts, DATE_MONTH_2);
    bool day = has(parts, DATE_DAY) || has(parts, DATE_DAY_2) || has(parts, DATE_WEEK);
    bool year = has(parts, DATE_YEAR_1) || has(parts, DATE_YEAR_2) || has(parts, DATE_YEAR_4);
    int ways = (int)has(parts, DATE_WEEK_2) + (int)has(parts, DATE_RUNNING) + (int)month;
    if (ways == 0)
        return "tells no date; write a month (M, MM), a week of the year (WW) or running days (J)";
    if (ways > 1 || (day && !month) || (has(parts, DATE_RUNNING) && year))
        return "tells a date in two ways; write a month with a day or week, or WW, or J alone";
    if (has(parts, DATE_WEEK_2) && !year)
        return "has weeks of a year but no year; write Y, YY or YYYY";
    return NULL;
}

static const char *wrong_company(const tc_compilation *c, const tc_facts *facts, unsigned parts)
{
    if (!stated(c, facts, DATE_KINDS))
        return "a form of a date must say which dates have it; write dates=casting or others";
    if (stated(c, facts, DATE_MONTHS) && !has(parts, DATE_MONTH))
        return "months are given, but the form has no M; write M for the month, or leave them out";
    if (has(parts, DATE_RUNNING) && !stated(c, facts, DATE_ORIGIN))
        return "running days count from a day; write origin=1962-01-01 or another day";
    if (stated(c, facts, DATE_ORIGIN) && !has(parts, DATE_RUNNING))
        return "an origin is given, but the form has no J; leave the origin out";
    return NULL;
}

bool tc_check_dates(tc_compilation *c, tc_place place, const tc_facts *facts)
{
    const tc_fact *form = stated(c, facts, DATE_FORM);
    const char *problem = NULL;
    if (form) {
        unsigned parts = parts_of(form->text);
        problem = missing_part(parts);
        if (problem) {
            tc_complain(c, place, "the form \"%s\" %s", form->text, problem);
            return false;
        }
        problem = wrong_company(c, facts, parts);
    } else if (stated(c, facts, DATE_MONTHS) || stated(c, facts, DATE_ORIGIN)) {
        problem = "months and origin belong to a form of a date; write date=\"...\" beside them";
    } else if ((stated(c, facts, DATE_LEAD) || stated(c, facts, DATE_WITHIN)) &&
               !stated(c, facts, DATE_KINDS)) {
        problem = "a rule on dates must say for which; write dates=casting or others";
    }
    if (problem)
        tc_complain(c, place, "%s", problem);
    return !problem;
}
