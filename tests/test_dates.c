/* SPDX-License-Identifier: MIT
 *
 * Dates held against the car and against each other: state tables on frozen vans of
 * Port Ellery, dates printed in publications on the live tables, the forms that
 * the table compiler refuses, and what must hold for any dates.
 *
 * With the argument "json" it runs no test but prints comparisons, one a line,
 * for the check against lib/car.schema.json.
 */
#include <stdio.h>
#include <string.h>

#include "../tables/compile/compile.h"
#include "calendar.h"
#include "dates.h"
#include "fixture.h"
#include "probe.h"

#define COUNT(table) ((int)(sizeof table / sizeof *table))

static const plw_tables *vans(void)
{
    static unsigned char *image; /* stays for as long as the tables are in use */
    static const plw_tables *tables;
    size_t size;
    if (tables == NULL) {
        char *text = fixture_text("tests/fixtures/port-ellery-vans.scheme", &size);
        image = fixture_image_of(text, &size);
        free(text);
        ck_assert_int_eq(plw_tables_open(image, size, 0, &tables), PLW_OK);
    }
    return tables;
}

static plw_car *shared_car(void)
{
    static plw_car *car;
    if (car == NULL)
        ck_assert_int_eq(plw_car_new(&car), PLW_OK);
    return car;
}

static int32_t kind_named(const char *name, size_t length)
{
    for (int32_t kind = PLW_DATE_CASTING; kind <= PLW_DATE_LABEL; kind++)
        if (strlen(plw_date_kind_name(kind)) == length &&
            strncmp(plw_date_kind_name(kind), name, length) == 0)
            return kind;
    ck_abort_msg("no kind %s", name);
    return 0;
}

/* Adds "casting=8C1;label=8/70". */
static void add_dates(plw_car *car, const char *dates)
{
    while (*dates) {
        size_t name = strcspn(dates, "="), length = strcspn(dates + name + 1, ";");
        int32_t kind = kind_named(dates, name);
        ck_assert_int_eq(plw_car_add_date(car, kind, dates + name + 1, length), PLW_OK);
        dates += name + 1 + length;
        dates += *dates == ';';
    }
}

static plw_car *compare_with(const plw_tables *tables, const char *number, const char *dates)
{
    plw_car *car = shared_car();
    plw_car_clear(car);
    if (number[0])
        ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH, number, strlen(number)), PLW_OK);
    add_dates(car, dates);
    ck_assert_int_eq(plw_compare(tables, car, NULL, 0), PLW_OK);
    return car;
}

/* A letter for each date: Fits, Later, Order, Early, or a small one for what is
 * open: u not understood, r no reading, f no form, d no day, m too many. */
static const char *verdicts(const plw_car *car)
{
    static char text[PLW_MAX_DATES + 1];
    uint32_t count = plw_date_count(car);
    for (uint32_t i = 0; i < count; i++)
        text[i] = plw_date_verdict(car, i) == PLW_DATE_VERDICT_OPEN
                      ? "?urfdm"[plw_date_reason(car, i)]
                      : "?FLOE"[plw_date_verdict(car, i)];
    text[count] = '\0';
    return text;
}

/* Clear, Note, Doubt, Fault. */
static const char *grades(const plw_car *car)
{
    static char text[PLW_MAX_DATES + 1];
    uint32_t count = plw_date_count(car);
    for (uint32_t i = 0; i < count; i++)
        text[i] = "CNDF"[plw_date_grade(car, i)];
    text[count] = '\0';
    return text;
}

/* "19680301 19700801-19700831" */
static const char *days(const plw_car *car, uint32_t date)
{
    static char text[PLW_MAX_DATE_SPANS * 20];
    size_t used = 0;
    text[0] = '\0';
    for (uint32_t i = 0; i < plw_date_span_count(car, date); i++) {
        int first = plw_date_span_first(car, date, i), last = plw_date_span_last(car, date, i);
        used += (size_t)snprintf(text + used, sizeof text - used, first == last ? "%s%d" : "%s%d-%d",
                                 i ? " " : "", first, last);
    }
    return text;
}

static const char *sentence(const plw_car *car, uint32_t date)
{
    static char text[4096];
    ck_assert_int_eq(plw_date_sentence(car, date, text, sizeof text, NULL), PLW_OK);
    return text;
}

static const char *explained(const plw_car *car, int32_t format)
{
    static char text[1 << 18];
    ck_assert_int_eq(
        plw_explain_car(car, format, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL), PLW_OK);
    return text;
}

/* ---- the calendar --------------------------------------------------------------- */

START_TEST(test_the_calendar)
{
    static const struct {
        int32_t year, length;
    } years[] = { { 1900, 365 }, { 1920, 366 }, { 1967, 365 }, { 1968, 366 }, { 2000, 366 },
                  { 2047, 365 }, { 2100, 365 } };
    for (int i = 0; i < COUNT(years); i++)
        ck_assert_int_eq(plwi_day_number(years[i].year + 1, 1, 1) -
                             plwi_day_number(years[i].year, 1, 1),
                         years[i].length);
    /* Known distances: the day count of the tables, a leap day, a century. */
    ck_assert_int_eq(plwi_day_number(1968, 1, 1) - plwi_day_number(1962, 1, 1), 2191);
    ck_assert_int_eq(plwi_day_number(1968, 3, 1) - plwi_day_number(1968, 2, 28), 2);
    ck_assert_int_eq(plwi_day_number(2000, 1, 1) - plwi_day_number(1900, 1, 1), 36524);
}
END_TEST

START_TEST(test_days_and_numbers_turn_into_each_other)
{
    int32_t number = plwi_day_number(1899, 12, 31);
    for (int32_t year = 1900; year <= 2105; year++)
        for (int32_t month = 1; month <= 12; month++)
            for (int32_t day = 1; day <= plwi_days_in_month(year, month); day++) {
                ck_assert_int_eq(plwi_day_number(year, month, day), ++number);
                ck_assert_int_eq(plwi_calendar_day(number), (year * 100 + month) * 100 + day);
            }
}
END_TEST

START_TEST(test_runs_of_days_stay_apart_and_in_order)
{
    plwi_spans spans = { .count = 0 };
    static const plwi_days added[] = { { 50, 60 }, { 10, 12 }, { 13, 14 }, { 70, 70 }, { 55, 65 },
                                       { 10, 11 }, { 66, 69 } };
    for (int i = 0; i < COUNT(added); i++)
        plwi_add_span(&spans, added[i]);
    ck_assert_uint_eq(spans.count, 2);
    ck_assert_int_eq(spans.item[0].first, 10);
    ck_assert_int_eq(spans.item[0].last, 14);
    ck_assert_int_eq(spans.item[1].first, 50);
    ck_assert_int_eq(spans.item[1].last, 70);
    for (int32_t i = 0; i < PLW_MAX_DATE_SPANS; i++)
        plwi_add_span(&spans, (plwi_days){ 100 + 2 * i, 100 + 2 * i });
    ck_assert_uint_eq(spans.count, PLW_MAX_DATE_SPANS);
    ck_assert_uint_eq(spans.capped, 1);
}
END_TEST

/* ---- what a date can mean ---------------------------------------------------------- */

static const struct meaning {
    const char *number;
    const char *date;
    const char *days;
    const char *verdicts;
} meanings[] = {
    /* the year's last figure: the year nearest to the model year, of two the earlier */
    { "V6P1001", "casting=6C1", "19660301", "F" },
    { "V6P1001", "casting=0C1", "19700301", "L" },
    { "V6P1001", "casting=1C1", "19610301", "E" },
    { "V6P1001", "casting=5M31", "19651231", "F" },
    { "V6P1001", "casting=6J1", "19660901", "L" },
    { "V0P1001", "casting=9L30", "19691130", "F" },
    /* how it is typed */
    { "V6P1001", "casting=6 c 01", "19660301", "F" },
    { "V6P1001", "casting= *6-C/1.* ", "19660301", "F" },
    { "V6P1001", "casting=6C", "", "u" },
    { "V6P1001", "casting=6C1X", "", "u" },
    { "V6P1001", "casting=", "", "u" },
    { "V6P1001", "casting=6C?", "", "u" },
    { "V6P1001", "casting=6I1", "", "u" },
    /* days that there are not */
    { "V6P1001", "casting=6D31", "", "u" },
    { "V6P1001", "casting=6D30", "19660430", "F" },
    { "V6P1001", "casting=6D0", "", "u" },
    { "V6P1001", "casting=6B30", "", "u" },
    { "V6P1001", "casting=6B29", "", "d" },
    { "V8P1001", "casting=8B29", "19680229", "F" },
    { "V6P1001", "casting=31041966", "", "u" },
    { "V6P1001", "casting=30041966", "19660430", "F" },
    { "V6P1001", "casting=30 04 1966", "19660430", "F" },
    { "V6P1001", "casting=30041066", "", "d" },
    { "V6P1001", "casting=30131966", "", "u" },
    /* sources that differ are both served; figures that can be cut in two ways, too */
    { "V4P1001", "casting=H14", "19640801", "F" },
    { "V4P1001", "casting=J14", "19640901 19641001", "F" },
    { "V4P1001", "casting=I14", "19640901", "F" },
    { "V4P1001", "casting=M14", "19641201", "F" },
    { "V5P1001", "casting=A 25 5", "19650125", "F" },
    { "V5P1001", "casting=A255", "19550102 19650125", "F" },
    { "V5P1001", "casting=A2555", "19550125", "F" },
    { "V5P1001", "casting=305", "19650717-19650729", "F" },
    { "V5P1001", "casting=015", "19650101-19650107", "F" },
    { "V5P1001", "casting=535", "19651225-19651231", "F" },
    { "V5P1001", "casting=545", "", "u" },
    /* no year: each time in the run, and for a part a year before it */
    { "V6P1001", "assembly=X0312", "19650312 19660312", "F" },
    { "V6P1001", "assembly=X1231", "19641231 19651231", "F" },
    { "V6P1001", "body_tag=04B", "19660402-19660414", "F" },
    { "V6P1001", "body_tag=09A", "19650901-19650907", "F" },
    { "V7P1001", "body_tag=09A", "19660901-19660907 19670901-19670907", "F" },
    { "V7P1001", "body_tag=02E", "19670223-19670228", "F" },
    { "V7P1001", "body_tag=02F", "", "u" },
    /* months with letters for a second round */
    { "V3P1001", "body_tag=5H", "19620805", "F" },
    { "V3P1001", "body_tag=5F", "19630605", "F" },
    { "V3P1001", "body_tag=5U", "19630705", "F" },
    { "V3P1001", "body_tag=5V", "19630805", "F" },
    { "V3P1001", "body_tag=5N", "19640105", "L" },
    { "V1P1001", "body_tag=5A", "19710105", "F" },
    { "V1P1001", "body_tag=5B", "", "u" },
    /* a month, running days */
    { "V8P1001", "label=8/67", "19670801-19670831", "F" },
    { "V8P1001", "label=02 68", "19680201-19680229", "F" },
    { "V8P1001", "label=6/67", "19670601-19670630", "E" },
    { "V8P1001", "label=1/69", "19690101-19690131", "L" },
    { "V8P1001", "label=8/18", "", "d" },
    { "V9P1001", "assembly=2557", "19681231", "F" },
    { "V9P1001", "assembly=1", "19620101", "F" },
    { "V9P1001", "assembly=AAA02", "19680201-19680229 19690201-19690228", "F" },
    /* two model years */
    { "W8P1001", "casting=8C1", "19680301 19780301", "F" },
    { "W8P1001", "casting=9C1", "19690301 19790301", "L" },
    { "W6P1001", "casting=30041966", "19660430", "F" },
    /* what the tables or the plates do not tell */
    { "V2P1001", "casting=2C1", "", "f" },
    { "V6P1001", "label=4/66", "", "f" },
    { "", "casting=6C1", "", "r" },
    { "??", "casting=6C1", "", "r" },
};

START_TEST(test_meaning)
{
    const struct meaning *m = &meanings[_i];
    const plw_car *car = compare_with(vans(), m->number, m->date);
    ck_assert_msg(strcmp(days(car, 0), m->days) == 0, "%s %s: %s", m->number, m->date,
                  days(car, 0));
    ck_assert_msg(strcmp(verdicts(car), m->verdicts) == 0, "%s %s: %s", m->number, m->date,
                  sentence(car, 0));
    ck_assert_int_eq(plw_date_row(car, 0) == PLW_NONE, m->days[0] == '\0');
    ck_assert_int_eq(plw_car_date_verdict(car), plw_date_verdict(car, 0));
    ck_assert_int_eq(plw_date_capped(car, 0), 0);
}
END_TEST

/* ---- dates against each other ---------------------------------------------------------- */

static const struct state {
    const char *number;
    const char *dates;
    const char *verdicts;
    const char *grades;
    int32_t whole;
} states[] = {
    /* later than the model year, a label, a tag; a tag can be off by a month */
    { "V8P1001", "casting=8M31", "F", "C", PLW_DATE_VERDICT_FITS },
    { "V8P1001", "casting=9A1", "L", "F", PLW_DATE_VERDICT_LATER },
    { "V8P1001", "label=3/68;casting=8C31", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V8P1001", "label=3/68;casting=8D1", "FL", "CF", PLW_DATE_VERDICT_LATER },
    { "V7P1001", "body_tag=04A;casting=7E7", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V7P1001", "body_tag=04A;casting=7E8", "FL", "CF", PLW_DATE_VERDICT_LATER },
    { "V7P1001", "casting=7E8;body_tag=04A", "LF", "FC", PLW_DATE_VERDICT_LATER },
    { "V8P1001", "body_tag=04A;casting=8D12", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V8P1001", "body_tag=04A;casting=8D13", "FL", "CF", PLW_DATE_VERDICT_LATER },
    { "V8P1001", "label=3/68;body_tag=04A", "FL", "CF", PLW_DATE_VERDICT_LATER },
    { "V8P1001", "label=3/68;body_tag=03E", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V8P1001", "label=3/68;label=4/68", "FL", "CF", PLW_DATE_VERDICT_LATER },
    /* a tag before the label: bodies wait */
    { "V8P1001", "label=6/68;body_tag=03A", "FF", "CC", PLW_DATE_VERDICT_FITS },
    /* a label or tag of another model year says nothing about the parts */
    { "V8P1001", "label=1/69;casting=8L1", "LF", "FC", PLW_DATE_VERDICT_LATER },
    /* forms that nobody confirmed: a doubt at most */
    { "V1P1001", "casting=2A1", "L", "D", PLW_DATE_VERDICT_LATER },
    { "V1P1001", "body_tag=5A;label=4/71;casting=1C1", "FFL", "CCD", PLW_DATE_VERDICT_LATER },
    { "V1P1001", "label=4/71;casting=1E1", "FL", "CD", PLW_DATE_VERDICT_LATER },
    { "W5P1001", "label=4/75;casting=5E1", "FL", "CF", PLW_DATE_VERDICT_LATER },
    /* early by the rule of thumb; where there is no rule, nothing is early */
    { "V7P1001", "body_tag=04A;casting=6M2", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V7P1001", "body_tag=04A;casting=6M1", "FE", "CD", PLW_DATE_VERDICT_EARLY },
    { "C7P1001", "body_tag=04A;casting=6M1", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V8P1001", "label=3/68;casting=7M1", "FE", "CD", PLW_DATE_VERDICT_EARLY },
    { "V8P1001", "label=3/68;casting=7M2", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V8P1001", "casting=7D2", "F", "C", PLW_DATE_VERDICT_FITS },
    { "V8P1001", "casting=7D1", "E", "D", PLW_DATE_VERDICT_EARLY },
    { "V7P1001", "body_tag=04A;assembly=5A1", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V6P1001", "casting=5F2", "E", "D", PLW_DATE_VERDICT_EARLY },
    { "C6P1001", "casting=5F2", "F", "C", PLW_DATE_VERDICT_FITS },
    /* a casting after the assembly */
    { "V7P1001", "casting=7C1;assembly=7C1", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "V7P1001", "casting=7C2;assembly=7C1", "OO", "DD", PLW_DATE_VERDICT_ORDER },
    { "V7P1001", "assembly=7C1;casting=7C2;casting=7B1", "OOF", "DDC", PLW_DATE_VERDICT_ORDER },
    { "V7P1001", "casting=8C2;assembly=7C1", "LO", "FD", PLW_DATE_VERDICT_LATER },
    { "V6P1001", "casting=6C13;assembly=X0312", "OO", "DD", PLW_DATE_VERDICT_ORDER },
    { "V6P1001", "casting=5C12;assembly=X0312", "EF", "DC", PLW_DATE_VERDICT_EARLY },
    /* what is open speaks less against a car than a doubt, and more than nothing */
    { "V7P1001", "casting=7C1;casting=X", "Fu", "CN", PLW_DATE_VERDICT_OPEN },
    { "V7P1001", "casting=5A1;casting=X", "Eu", "DN", PLW_DATE_VERDICT_EARLY },
    /* a label settles the model year; labels that differ about it suit nothing */
    { "W8P1001", "label=3/78;casting=8D1", "FL", "CF", PLW_DATE_VERDICT_LATER },
    { "W8P1001", "label=3/78;casting=8C1", "FF", "CC", PLW_DATE_VERDICT_FITS },
    { "W8P1001", "label=3/68;label=3/78", "EL", "DF", PLW_DATE_VERDICT_LATER },
    { "W8P1001", "label=3/85;casting=8C1", "LF", "FC", PLW_DATE_VERDICT_LATER },
};

START_TEST(test_state)
{
    const struct state *s = &states[_i];
    const plw_car *car = compare_with(vans(), s->number, s->dates);
    ck_assert_msg(strcmp(verdicts(car), s->verdicts) == 0, "%s %s: %s", s->number, s->dates,
                  verdicts(car));
    ck_assert_msg(strcmp(grades(car), s->grades) == 0, "%s %s: %s", s->number, s->dates,
                  grades(car));
    ck_assert_int_eq(plw_car_date_verdict(car), s->whole);
}
END_TEST

/* What a verdict rests on: the other date, the rule, the form. */
START_TEST(test_what_a_verdict_rests_on)
{
    const plw_car *car = compare_with(vans(), "V7P1001", "casting=7E8;body_tag=04A;casting=6M1");
    char key[128];
    ck_assert_uint_eq(plw_date_against(car, 0), 1);
    ck_assert_uint_eq(plw_date_against(car, 1), PLW_NONE);
    ck_assert_uint_eq(plw_date_against(car, 2), 1);
    ck_assert_uint_eq(plw_date_rule(car, 0), PLW_NONE);
    ck_assert_int_eq(plw_row_key(vans(), plw_date_rule(car, 2), key, sizeof key, NULL), PLW_OK);
    ck_assert_str_eq(key, "port-ellery-1962-vans/date_rule/casting/1966");
    ck_assert_int_eq(plw_row_key(vans(), plw_date_row(car, 0), key, sizeof key, NULL), PLW_OK);
    ck_assert_str_eq(key, "port-ellery-1962-vans/casting_date/year, month, day/1966");
    car = compare_with(vans(), "V7P1001", "casting=8A1");
    ck_assert_uint_eq(plw_date_against(car, 0), PLW_NONE);
}
END_TEST

static const struct built {
    const char *number;
    const char *dates;
    int32_t first, last;
} builts[] = {
    { "V7P1001", "", 19660701, 19671231 },
    { "V6P1001", "", 19650901, 19660831 },
    { "C6P1001", "", 19650101, 19660831 },
    { "W8P1001", "", 19670701, 19781231 },
    { "W8P1001", "label=3/78", 19780301, 19780331 },
    { "V7P1001", "body_tag=04A", 19670302, 19670507 },
    { "V8P1001", "body_tag=04A", 19680327, 19680412 },
    { "V8P1001", "body_tag=04A;label=4/68", 19680401, 19680412 },
    { "V8P1001", "label=1/69", 19670701, 19681231 },
    { "", "casting=6C1", 0, 0 },
};

START_TEST(test_when_the_car_was_built)
{
    const struct built *b = &builts[_i];
    const plw_car *car = compare_with(vans(), b->number, b->dates);
    ck_assert_int_eq(plw_car_built_first(car), b->first);
    ck_assert_int_eq(plw_car_built_last(car), b->last);
}
END_TEST

START_TEST(test_dates_change_no_verdict_on_plates)
{
    plw_car *car = compare_with(vans(), "V7P1001", "casting=9A1");
    int32_t with = plw_car_verdict(car);
    car = compare_with(vans(), "V7P1001", "");
    ck_assert_int_eq(plw_car_verdict(car), with);
    ck_assert_int_eq(plw_car_date_verdict(car), 0);
}
END_TEST

/* ---- published dates ---------------------------------------------------------------------- */

/* Numbers are samples of the tables with the year that the source speaks of. */
static const struct live {
    const char *number;
    const char *date;
    const char *days;
    const char *verdict;
} lives[] = {
    /* Crankshaft Coalition wiki, GM build codes */
    { "194675S400025", "casting=D 16 5", "19650416", "F" },
    /* nationalnova.com, casting numbers and date codes */
    { "194675S400025", "casting=F 10 5", "19650610", "F" },
    { "194675S400025", "casting=f105", "19650610", "F" },
    /* chevytech.com: one text, two ways to read it, and the decade open */
    { "194677S400025", "casting=A 25 7", "19670125", "F" },
    { "194677S400025", "casting=A 257", "19570102 19670125", "F" },
    /* both counts of month letters, nationalnova.com and chevytech.com */
    { "194677S400025", "casting=J 10 7", "19670910 19671010", "F" },
    /* Chevelle Restoration and Authenticity Guide */
    { "136370B100001", "assembly=P0E01", "19700501", "F" },
    { "136370B100001", "assembly=T0616CRT", "19690616 19700616", "F" },
    /* brianesser.com, numbers and cowl tags */
    { "136370B100001", "assembly=V0101CLJ", "19690101 19700101", "F" },
    /* Year One: two-digit month and week on the tag */
    { "194677S400025", "body_tag=08C", "19660809-19660821 19670809-19670821", "F" },
    /* ClassicOldsmobile forum, 1978 Toronado: the car was shipped in September 1977 */
    { "3Z57R8E100001", "body_tag=08C", "19770809-19770821 19780809-19780821", "F" },
    /* 428 Cobra Jet pages: block 8C1 in an engine of 8D10 */
    { "8F02R100001", "casting=8C1", "19680301", "F" },
    { "8F02R100001", "assembly=8D10", "19680410", "F" },
    { "8F02R100001", "casting=8C1;assembly=8D10", "19680301", "FF" },
    /* early 1965 Mustang with a block of 17 April 1964 */
    { "5F08F100140", "casting=4D17", "19640417", "F" },
    /* Mustang and Fords: 5F08F100140, plate date 05C, 5 March 1964 */
    { "5F08F100140", "body_tag=05C", "19640305", "F" },
    /* 65pony: 23A is 23 January 1965 */
    { "5F08C100140", "body_tag=23A", "19650123", "F" },
    /* data plates of the schedule, brc; and bsl71 */
    { "RM23V1A149789", "body_tag=C18", "19701218", "F" },
    { "RM23V1A149789", "body_tag=818", "19700818", "F" },
    { "RM23V0A149789", "body_tag=B30", "19691130", "F" },
    { "RM23G3A149789", "body_tag=A10", "19721010", "F" },
    /* mmc: 6 December 1971 both ways, week 30 or the other way round */
    { "RM23V1A149789", "casting=12 6 71", "19711206", "F" },
    { "RM23V1A149789", "casting=12 6 1", "19711206", "F" },
    { "RM23V1A149789", "casting=301", "19710717-19710729 19730101-19730107", "F" },
    /* fc77: block of a 1977 engine */
    { "RM23G7A149789", "casting=9-18-76", "19760918", "F" },
};

START_TEST(test_live)
{
    const struct live *l = &lives[_i];
    const plw_car *car = compare_with(NULL, l->number, l->date);
    ck_assert_msg(strcmp(days(car, 0), l->days) == 0, "%s %s: %s", l->number, l->date,
                  sentence(car, 0));
    ck_assert_msg(strcmp(verdicts(car), l->verdict) == 0, "%s %s: %s", l->number, l->date,
                  sentence(car, 0));
}
END_TEST

/* ---- the object ------------------------------------------------------------------------------ */

START_TEST(test_refusals)
{
    plw_car *car = shared_car();
    char text[PLW_MAX_DATE_TEXT + 1];
    memset(text, '1', sizeof text);
    plw_car_clear(car);
    ck_assert_int_eq(plw_car_add_date(NULL, PLW_DATE_CASTING, "8C1", 3), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_date(car, 0, "8C1", 3), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_LABEL + 1, "8C1", 3), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, NULL, 3), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, text, sizeof text), PLW_E_TOO_LONG);
    ck_assert_uint_eq(plw_date_count(car), 0);
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, text, sizeof text - 1), PLW_OK);
    ck_assert_int_eq(plw_date_sentence(car, 0, text, sizeof text, NULL), PLW_E_ARGUMENT);
    for (int i = 1; i < PLW_MAX_DATES; i++)
        ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_car_add_date(car, PLW_DATE_CASTING, "8C1", 3), PLW_E_TOO_LONG);
}
END_TEST

START_TEST(test_nothing_to_answer_with)
{
    const plw_car *car = compare_with(vans(), "V7P1001", "casting=7C1");
    char text[8] = "x";
    ck_assert_uint_eq(plw_date_count(NULL), 0);
    ck_assert_int_eq(plw_car_date_verdict(NULL), 0);
    ck_assert_int_eq(plw_car_built_first(NULL), 0);
    ck_assert_int_eq(plw_car_built_last(NULL), 0);
    for (uint32_t i = 1; i <= PLW_NONE / 2; i = i * 2 + 1) {
        ck_assert_int_eq(plw_date_kind(car, i), 0);
        ck_assert_int_eq(plw_date_text(car, i, text, sizeof text, NULL), PLW_E_ARGUMENT);
        ck_assert_uint_eq(plw_date_span_count(car, i), 0);
        ck_assert_int_eq(plw_date_span_first(car, i, 0), 0);
        ck_assert_int_eq(plw_date_span_last(car, 0, i), 0);
        ck_assert_int_eq(plw_date_capped(car, i), 0);
        ck_assert_uint_eq(plw_date_row(car, i), PLW_NONE);
        ck_assert_uint_eq(plw_date_rule(car, i), PLW_NONE);
        ck_assert_uint_eq(plw_date_against(car, i), PLW_NONE);
        ck_assert_int_eq(plw_date_verdict(car, i), 0);
        ck_assert_int_eq(plw_date_reason(car, i), PLW_DATE_REASON_NONE);
        ck_assert_int_eq(plw_date_grade(car, i), PLW_GRADE_CLEAR);
        ck_assert_int_eq(plw_date_sentence(car, i, text, sizeof text, NULL), PLW_E_ARGUMENT);
    }
}
END_TEST

START_TEST(test_names)
{
    static const char *const kinds[] = { "", "casting", "assembly", "body_tag", "label", "" };
    static const char *const words[] = { "", "fits", "later", "order", "early", "open", "" };
    static const char *const reasons[] = { "none",    "not-understood", "no-reading", "no-form",
                                           "no-day", "too-many",       "" };
    for (int32_t i = 0; i < COUNT(kinds); i++) {
        ck_assert_str_eq(plw_date_kind_name(i), kinds[i]);
        ck_assert_int_eq(plw_date_kind_label(i)[0] == '\0', kinds[i][0] == '\0');
    }
    for (int32_t i = 0; i < COUNT(words); i++)
        ck_assert_str_eq(plw_date_verdict_name(i), words[i]);
    for (int32_t i = 0; i < COUNT(reasons); i++)
        ck_assert_str_eq(plw_date_reason_name(i), reasons[i]);
    ck_assert_str_eq(plw_date_reason_name(-1), "");
}
END_TEST

START_TEST(test_text_is_kept_as_read)
{
    static const struct {
        const char *typed, *read;
    } texts[] = {
        { "d 16-5", "D 16 5" }, { " *8c1* ", "8C1" },  { "8//.1", "8 1" },
        { "\xE2\x80\xAE" "8C1", "?8C1" }, { "<b>", "?B?" }, { "\x01\xFF", "??" },
    };
    plw_car *car = shared_car();
    for (int i = 0; i < COUNT(texts); i++) {
        char text[PLW_MAX_DATE_TEXT + 1];
        plw_car_clear(car);
        ck_assert_int_eq(
            plw_car_add_date(car, PLW_DATE_CASTING, texts[i].typed, strlen(texts[i].typed)),
            PLW_OK);
        ck_assert_int_eq(plw_date_text(car, 0, text, sizeof text, NULL), PLW_OK);
        ck_assert_str_eq(text, texts[i].read);
    }
}
END_TEST

START_TEST(test_a_date_more_forgets_the_comparison)
{
    plw_car *car = compare_with(vans(), "V7P1001", "casting=8A1");
    ck_assert_int_eq(plw_car_date_verdict(car), PLW_DATE_VERDICT_LATER);
    add_dates(car, "casting=7A1");
    ck_assert_int_eq(plw_car_date_verdict(car), 0);
    ck_assert_int_eq(plw_car_verdict(car), 0);
    ck_assert_uint_eq(plw_date_span_count(car, 0), 0);
    ck_assert_int_eq(plw_car_built_first(car), 0);
    ck_assert_int_eq(plw_compare(vans(), car, NULL, 0), PLW_OK);
    ck_assert_str_eq(verdicts(car), "LF");
    plw_car_clear(car);
    ck_assert_uint_eq(plw_date_count(car), 0);
}
END_TEST

/* ---- words ----------------------------------------------------------------------------------- */

START_TEST(test_sentences)
{
    const plw_car *car = compare_with(vans(), "V8P1001", "casting=8D1;label=3/68;casting=7A1");
    ck_assert_str_eq(sentence(car, 0),
                     "Casting date 8D1: 1 April 1968, with the year taken from the car; that is "
                     "later than the car, built by 31 March 1968 going by the date on label 3 68.");
    ck_assert_str_eq(sentence(car, 1), "Date on label 3 68: March 1968; that fits a car built "
                                       "between 1 March 1968 and 31 March 1968.");
    ck_assert_str_eq(sentence(car, 2),
                     "Casting date 7A1: 1 January 1967, with the year taken from the car; that is "
                     "unusually early: more than 90 days before the car, 1 March 1968 at the "
                     "earliest going by the date on label 3 68; a rule of thumb.");
    car = compare_with(vans(), "V1P1001", "casting=2A1");
    ck_assert_ptr_nonnull(strstr(sentence(car, 0), "(how it is written is not confirmed)"));
}
END_TEST

START_TEST(test_outputs_tell_every_date_and_do_not_judge)
{
    const struct state *s = &states[_i];
    const plw_car *car = compare_with(vans(), s->number, s->dates);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++) {
        const char *text = explained(car, format);
        static const char *const never[] = { "fake", "genuine", "original", "forge" };
        ck_assert_ptr_nonnull(strstr(text, format == PLW_FORMAT_JSON ? "\"dates\":[{" : "Dates"));
        for (int i = 0; i < COUNT(never); i++)
            ck_assert_ptr_null(strstr(text, never[i]));
        for (uint32_t i = 0; format == PLW_FORMAT_JSON && i < plw_date_count(car); i++)
            ck_assert_ptr_nonnull(strstr(text, sentence(car, i)));
    }
    const char *line = explained(car, PLW_FORMAT_TEXT);
    for (size_t length; *line; line += length + (line[length] == '\n')) {
        length = strcspn(line, "\n");
        ck_assert_uint_le(length, 80);
    }
}
END_TEST

START_TEST(test_sources_of_forms_and_rules_are_listed)
{
    const plw_car *car = compare_with(vans(), "C7P1001", "body_tag=04A;casting=6A1");
    ck_assert_str_eq(verdicts(car), "FE");
    ck_assert_ptr_nonnull(strstr(explained(car, PLW_FORMAT_TEXT), "Letter of the works"));
    ck_assert_ptr_nonnull(strstr(explained(car, PLW_FORMAT_JSON), "\"rule\":{\"key\""));
}
END_TEST

/* ---- what the table compiler refuses ----------------------------------------------------------- */

static const struct refused {
    const char *facts;
    const char *message; /* behind the column */
    int column;          /* in the facts, from 0 */
} refusals[] = {
    { "date=\"Y Q D\",dates=casting", "\"Y Q D\" is no form of a date; write M, MM", 8 },
    { "date=\"Y MMM D\",dates=casting", "is no form of a date", 8 },
    { "date=YYYYYM,dates=casting", "is no form of a date", 5 },
    { "date=\"M D M\",dates=casting", "M stands in \"M D M\" twice", 10 },
    { "date=Y,dates=casting", "the form \"Y\" tells no date; write a month", 0 },
    { "date=\"D Y\",dates=casting", "tells no date", 0 },
    { "date=\"D WW Y\",dates=casting", "tells a date in two ways", 0 },
    { "date=\"M WW Y\",dates=casting", "tells a date in two ways", 0 },
    { "date=WW,dates=casting", "has weeks of a year but no year", 0 },
    { "date=\"J Y\",origin=1962-01-01,dates=casting", "tells a date in two ways", 0 },
    { "date=J,dates=casting", "running days count from a day; write origin=1962-01-01", 0 },
    { "date=\"M D\",origin=1962-01-01,dates=casting", "an origin is given, but the form has no J",
      0 },
    { "date=\"M D\"", "must say which dates have it; write dates=casting", 0 },
    { "date=\"MM D\",months=ABCDEFGHJKLM,dates=casting", "the form has no M", 0 },
    { "date=\"M D\",months=ABC,dates=casting", "\"ABC\" names 3 months; write 12 characters", 18 },
    { "date=\"M D\",months=ABCDEFGHAJKL,dates=casting", "\"A\" cannot stand for this month", 26 },
    { "date=\"M D\",months=ABCDEFGHiJKL,dates=casting", "\"i\" cannot stand for this month", 26 },
    { "date=J,origin=1962-13-01,dates=casting", "\"1962-13-01\" is no day to count from", 14 },
    { "date=J,origin=1962-02-29,dates=casting", "is no day to count from", 14 },
    { "date=J,origin=62,dates=casting", "is no day to count from", 14 },
    { "date=\"M D\",dates=casting+door", "dates does not take \"casting+door\"", 17 },
    { "months=ABCDEFGHJKLM,dates=casting", "belong to a form of a date", 0 },
    { "lead=90", "a rule on dates must say for which", 0 },
};

static const char small_scheme[] =
    "[sources]\n"
    "book  A book | -\n"
    "[scheme]\nkey small-1960\ntitle Small\nyears 1960-1969\n"
    "[fields]\ny year code 0-9\n- casting_date topic -\n"
    "[layout]\nsample 5\nruler y\n"
    "[year]\n0-9 1960-1969 - published book - a year\n"
    "[casting_date]\n";

static const char row_start[] = "form 1960-1969 - published book ";

/* The only message that this row causes, or NULL. */
static tc_compilation *compile_row(const char *facts)
{
    char text[2048];
    size_t size;
    tc_compilation *c = tc_new();
    char *vocabulary = fixture_text("tables/vocabulary.txt", &size);
    tc_add(c, "vocabulary.txt", vocabulary, size);
    free(vocabulary);
    int length = snprintf(text, sizeof text, "%s%s%s words\n", small_scheme, row_start, facts);
    tc_add(c, "small.scheme", text, (size_t)length);
    return c;
}

START_TEST(test_refused_form)
{
    const struct refused *r = &refusals[_i];
    char place[64];
    tc_compilation *c = compile_row(r->facts);
    ck_assert(!tc_finish(c));
    ck_assert_uint_eq(tc_message_count(c), 1);
    const char *message = tc_message(c, 0);
    int lines = 1;
    for (const char *at = small_scheme; *at; at++)
        lines += *at == '\n';
    snprintf(place, sizeof place, "small.scheme:%d:%d: ", lines,
             (int)strlen(row_start) + r->column + 1);
    ck_assert_msg(strncmp(message, place, strlen(place)) == 0, "%s: %s", r->facts, message);
    ck_assert_msg(strstr(message, r->message) != NULL, "%s: %s", r->facts, message);
    tc_free(c);
}
END_TEST

START_TEST(test_accepted_form)
{
    static const char *const good[] = {
        "date=\"Y M D\",dates=casting", "date=MMDDYY,dates=casting+assembly+body_tag+label",
        "date=\"WW YYYY\",dates=casting", "date=\"S S J\",origin=1962-02-28,dates=assembly",
        "date=\"M W\",months=............ABCDEFGHJKLM,dates=body_tag", "opens=5,closes=8",
        "lead=90,dates=casting", "within=3,dates=label",
    };
    tc_compilation *c = compile_row(good[_i]);
    ck_assert_msg(tc_finish(c), "%s: %s", good[_i], tc_message(c, 0));
    tc_free(c);
}
END_TEST

/* ---- properties ---------------------------------------------------------------------------------- */

static uint32_t state;

static uint32_t random_below(uint32_t limit)
{
    state = state * 1664525u + 1013904223u;
    return (uint32_t)((uint64_t)state * limit >> 32);
}

static const char *const numbers[] = { "V6P1001", "V7P1001", "V8P1001", "W8P1001", "W6P1001",
                                       "C6P1001", "V1P1001", "W9P1001", "V5P1001", "V3P1001" };

static void add_random_date(plw_car *car)
{
    char text[32];
    unsigned month = random_below(12), day = 1 + random_below(31), year = 60 + random_below(22);
    int32_t kind = 1 + (int32_t)random_below(DATE_KIND_COUNT);
    switch (random_below(7)) {
    case 0:
        snprintf(text, sizeof text, "%02u%c", month + 1, "ABCDE"[random_below(5)]);
        kind = PLW_DATE_BODY_TAG;
        break;
    case 1:
        snprintf(text, sizeof text, "%u/%02u", month + 1, year);
        kind = PLW_DATE_LABEL;
        break;
    case 2:
        snprintf(text, sizeof text, "%02u%02u19%02u", day, month + 1, year);
        break;
    case 3:
        snprintf(text, sizeof text, "%u", 1000 + random_below(5000));
        break;
    case 4:
        snprintf(text, sizeof text, "%u%c", day, "ABCDEFGHJKLMNPQRSTUVWXYZ"[random_below(24)]);
        break;
    default:
        snprintf(text, sizeof text, "%u%c%u", year % 10, "ABCDEFGHJKLM"[month], day);
        kind = 1 + (int32_t)random_below(2);
    }
    ck_assert_int_eq(plw_car_add_date(car, kind, text, strlen(text)), PLW_OK);
}

/* By how much a verdict speaks against a date. */
static int gravity(int32_t verdict)
{
    return "015432"[verdict] - '0';
}

START_TEST(test_a_date_more_never_makes_a_verdict_better)
{
    uint32_t grave = 0, worse = 0;
    state = (uint32_t)_i + 77;
    for (int round = 0; round < 300; round++) {
        const char *number = numbers[random_below(COUNT(numbers))];
        plw_car *car = compare_with(vans(), number, "");
        int32_t before[PLW_MAX_DATES] = { 0 };
        for (uint32_t count = 1; count <= 7; count++) {
            add_random_date(car);
            ck_assert_int_eq(plw_compare(vans(), car, NULL, 0), PLW_OK);
            for (uint32_t i = 0; i < count; i++) {
                int32_t now = plw_date_verdict(car, i);
                ck_assert_msg(gravity(now) >= gravity(before[i]), "%s: %s", number,
                              explained(car, PLW_FORMAT_TEXT));
                grave += now == PLW_DATE_VERDICT_LATER;
                worse += before[i] != 0 && gravity(now) > gravity(before[i]);
                before[i] = now;
            }
        }
    }
    ck_assert_uint_gt(grave, 100);
    ck_assert_uint_gt(worse, 20);
}
END_TEST

/* A verdict is never graver than what the dates themselves allow, and grades follow
 * the standing of the forms. */
START_TEST(test_verdict_and_grade_belong_together)
{
    state = (uint32_t)_i + 5;
    for (int round = 0; round < 300; round++) {
        plw_car *car = compare_with(vans(), numbers[random_below(COUNT(numbers))], "");
        for (uint32_t count = random_below(PLW_MAX_DATES); count > 0; count--)
            add_random_date(car);
        ck_assert_int_eq(plw_compare(vans(), car, NULL, 0), PLW_OK);
        for (uint32_t i = 0; i < plw_date_count(car); i++) {
            int32_t verdict = plw_date_verdict(car, i), grade = plw_date_grade(car, i);
            ck_assert_int_eq(verdict == PLW_DATE_VERDICT_FITS, grade == PLW_GRADE_CLEAR);
            ck_assert_int_eq(verdict == PLW_DATE_VERDICT_OPEN, grade == PLW_GRADE_NOTE);
            ck_assert(grade != PLW_GRADE_FAULT || verdict == PLW_DATE_VERDICT_LATER);
            if (verdict == PLW_DATE_VERDICT_LATER &&
                plw_row_standing(vans(), plw_date_row(car, i)) == PLW_STANDING_MEMORY)
                ck_assert_int_eq(grade, PLW_GRADE_DOUBT);
            for (uint32_t k = 0; k < plw_date_span_count(car, i); k++)
                ck_assert_int_le(plw_date_span_first(car, i, k), plw_date_span_last(car, i, k));
        }
    }
}
END_TEST

START_TEST(test_random_bytes_are_harmless)
{
    state = (uint32_t)_i + 1;
    for (int round = 0; round < 100; round++) {
        plw_car *car = compare_with(NULL, "RM23V1A149789", "");
        for (uint32_t i = random_below(PLW_MAX_DATES + 1); i > 0; i--) {
            char text[PLW_MAX_DATE_TEXT];
            uint32_t length = random_below(sizeof text + 1);
            for (uint32_t k = 0; k < length; k++)
                text[k] = (char)(random_below(4) ? '0' + random_below(10) : random_below(256));
            ck_assert_int_eq(
                plw_car_add_date(car, 1 + (int32_t)random_below(DATE_KIND_COUNT), text, length),
                PLW_OK);
        }
        ck_assert_int_eq(plw_compare(NULL, car, NULL, 0), PLW_OK);
        for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++)
            ck_assert_str_ne(explained(car, format), "");
    }
}
END_TEST

/* Forms that no compiler wrote: an image of somebody else's can hold any text. */
START_TEST(test_hostile_forms_are_harmless)
{
    static const char *const forms[] = {
        "J J J J J J J J J J J J J J J J J J J J J J J J J J J J J J J J", "D D D D D D D D D D",
        "M", "MMMMM", "YYY", "Q", "", "J", "SSSSSSSSSSSSSSSSSSSSSSSSSSSSSSS", " ", "WW", "W",
    };
    static const char *const rest[] = { "", "A", "A......................................B",
                                        "9999-12-28", "0000-00-00", "x" };
    static const char text[] = "1111111111111111111111111111111111111111111111111111111111111111";
    for (int i = 0; i < COUNT(forms); i++)
        for (int k = 0; k < COUNT(rest); k++)
            for (size_t length = 0; length < sizeof text; length += 3) {
                plwi_date_form form = { .form = forms[i], .months = rest[k], .origin = rest[k],
                                        .model_year = 1968, .first_month = 1967 * 12,
                                        .last_month = 1968 * 12 };
                plwi_spans spans = { .count = 0 };
                uint32_t from_car = 0;
                plwi_read_date(text + sizeof text - 1 - length, &form, &spans, &from_car);
                for (uint32_t n = 0; n < spans.count; n++)
                    ck_assert_int_gt(plwi_calendar_day(spans.item[n].first), 0);
            }
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_the_calendar);
    tcase_add_test(test, test_days_and_numbers_turn_into_each_other);
    tcase_add_test(test, test_runs_of_days_stay_apart_and_in_order);
    tcase_add_loop_test(test, test_meaning, 0, COUNT(meanings));
    tcase_add_loop_test(test, test_state, 0, COUNT(states));
    tcase_add_test(test, test_what_a_verdict_rests_on);
    tcase_add_loop_test(test, test_when_the_car_was_built, 0, COUNT(builts));
    tcase_add_test(test, test_dates_change_no_verdict_on_plates);
    tcase_add_loop_test(test, test_live, 0, COUNT(lives));
    tcase_add_test(test, test_refusals);
    tcase_add_test(test, test_nothing_to_answer_with);
    tcase_add_test(test, test_names);
    tcase_add_test(test, test_text_is_kept_as_read);
    tcase_add_test(test, test_a_date_more_forgets_the_comparison);
    tcase_add_test(test, test_sentences);
    tcase_add_loop_test(test, test_outputs_tell_every_date_and_do_not_judge, 0, COUNT(states));
    tcase_add_test(test, test_sources_of_forms_and_rules_are_listed);
    tcase_add_loop_test(test, test_refused_form, 0, COUNT(refusals));
    tcase_add_loop_test(test, test_accepted_form, 0, 8);
    tcase_add_loop_test(test, test_a_date_more_never_makes_a_verdict_better, 0, 5);
    tcase_add_loop_test(test, test_verdict_and_grade_belong_together, 0, 5);
    tcase_add_loop_test(test, test_random_bytes_are_harmless, 0, 5);
    tcase_add_test(test, test_hostile_forms_are_harmless);
}

START_TEST(test_that_prints_json)
{
    for (int i = 0; i < COUNT(states); i++)
        fputs(explained(compare_with(vans(), states[i].number, states[i].dates), PLW_FORMAT_JSON),
              stdout);
    for (int i = 0; i < COUNT(lives); i++)
        fputs(explained(compare_with(NULL, lives[i].number, lives[i].date), PLW_FORMAT_JSON),
              stdout);
}
END_TEST

static void add_json(TCase *test)
{
    tcase_add_test(test, test_that_prints_json);
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "json") == 0)
        return probe_print("json", add_json);
    return probe_run("dates", add);
}
