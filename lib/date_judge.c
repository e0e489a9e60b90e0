/* SPDX-License-Identifier: MIT
 *
 * Holds the dates of a car against its model years and against each other.
 *
 * Each model year that the plates leave open is looked at by itself: the forms and
 * rules that the tables have for it, the days on which its cars were built, what
 * labels and tags narrow that to. A label that fits some of the model years rules
 * the others out; of those left the one that suits a date best counts. When labels
 * rule out all of them, the one that suits it worst does. So another date can only
 * narrow what a date is held against, and never makes a verdict better.
 */
#include <string.h>

#include "calendar.h"
#include "car.h"
#include "date_form.h"
#include "explain.h"

/* Common practice where the tables say nothing: a model year is built from July
 * of the year before to December, and a car within a month of a scheduled day. */
#define USUAL_OPENS 6
#define USUAL_CLOSES 12
#define USUAL_WITHIN 30

/* Limits for what an image can state. */
#define MOST_MONTHS 24
#define MOST_DAYS 3660

#define MAX_DATE_ROWS 64 /* of a scheme; more are not looked at */

typedef struct date_row {
    uint32_t row;
    uint32_t kinds; /* bit 0 is kind 1 */
    const char *form;
    const char *months;
    const char *origin;
    int32_t opens, closes, lead, within; /* -1 where they are not stated */
} date_row;

/* One date as one model year reads it. */
typedef struct reading {
    plwi_spans spans;
    uint32_t row;
    uint32_t from_car;
    int32_t reason;
    int weak; /* its form is not confirmed */
} reading;

/* A day by which something must have happened, and the date that says so. */
typedef struct limit {
    int32_t day;
    uint32_t against; /* PLW_NONE: the model year */
} limit;

typedef struct court {
    plw_car *car;
    image_t image;
    uint32_t row_count;
    date_row rows[MAX_DATE_ROWS];
    int labels_differ; /* about the model year */
    /* of one model year */
    int32_t year;
    uint32_t reading;
    int32_t first_month, last_month;
    plwi_days built;
    reading dates[PLW_MAX_DATES];
} court;

/* ---- rows ---------------------------------------------------------------- */

static int32_t stated_number(const court *c, uint32_t row, const char *name, int32_t most)
{
    int64_t thousandths;
    if (plw_row_quantity(c->car->tables, row, name, &thousandths) != PLW_OK)
        return -1;
    return thousandths / 1000 < most ? (int32_t)(thousandths / 1000) : most;
}

static uint32_t read_kinds(const char *text)
{
    uint32_t kinds = 0;
    while (*text != '\0') {
        size_t length = strcspn(text, "+");
        for (int32_t kind = 1; kind <= DATE_KIND_COUNT; kind++) {
            const char *name = plw_date_kind_name(kind);
            if (strlen(name) == length && memcmp(name, text, length) == 0)
                kinds |= UINT32_C(1) << (kind - 1);
        }
        text += length;
        text += *text == '+';
    }
    return kinds;
}

static void add_row(court *c, uint32_t row)
{
    const unsigned char *record = plwi_row(c->image, row);
    date_row r = { .row = row };
    if (record[ROW_FACT_COUNT] == 0 || c->row_count == MAX_DATE_ROWS)
        return;
    r.kinds = read_kinds(plwi_stated_text(c->image, record, DATE_KINDS));
    r.opens = stated_number(c, row, DATE_OPENS, MOST_MONTHS);
    r.closes = stated_number(c, row, DATE_CLOSES, MOST_MONTHS);
    if (r.kinds == 0 && r.opens < 0 && r.closes < 0)
        return;
    r.form = plwi_stated_text(c->image, record, DATE_FORM);
    r.months = plwi_stated_text(c->image, record, DATE_MONTHS);
    r.origin = plwi_stated_text(c->image, record, DATE_ORIGIN);
    r.lead = stated_number(c, row, DATE_LEAD, MOST_DAYS);
    r.within = stated_number(c, row, DATE_WITHIN, MOST_DAYS);
    c->rows[c->row_count++] = r;
}

static void gather_rows(court *c, uint32_t scheme)
{
    const unsigned char *record = plwi_scheme(c->image, scheme);
    uint32_t first = plwi_u32(record + SCHEME_FIELD);
    for (uint32_t i = first; i < first + plwi_u32(record + SCHEME_FIELD_COUNT); i++) {
        const unsigned char *field = plwi_field(c->image, i);
        uint32_t row = plwi_u32(field + FIELD_ROW);
        uint32_t end = row + plwi_u32(field + FIELD_ROW_COUNT);
        for (; field[FIELD_KIND] == KIND_TOPIC && row < end; row++)
            add_row(c, row);
    }
}

/* 1 when the row can hold for a car of the model year at hand. */
static int holds(const court *c, const date_row *r)
{
    plwi_view view = { .result = &c->car->result, .tables = c->car->tables };
    return plw_row_holds_in(c->car->tables, r->row, c->year) &&
           plwi_row_applies(&view, c->reading, r->row) != PLWI_NO;
}

static int is_form(const date_row *r)
{
    return r->form[0] != '\0';
}

static int is_about(const date_row *r, int32_t kind)
{
    return (r->kinds >> (kind - 1) & 1) != 0;
}

static int is_weak(const court *c, uint32_t row)
{
    const unsigned char *record = plwi_row(c->image, row);
    return record[ROW_STANDING] == STANDING_MEMORY || (record[ROW_MARKS] & MARK_DOUBTFUL);
}

/* ---- the model year -------------------------------------------------------- */

static void widen(int32_t *value, int32_t stated)
{
    if (stated > *value)
        *value = stated;
}

/* Of several rows the most forgiving counts. */
static void set_built(court *c)
{
    int32_t opens = -1, closes = -1;
    for (uint32_t i = 0; i < c->row_count; i++) {
        const date_row *r = &c->rows[i];
        if (is_form(r) || !holds(c, r))
            continue;
        widen(&opens, r->opens);
        widen(&closes, r->closes);
    }
    c->first_month = c->year * 12 - (opens < 0 ? USUAL_OPENS : opens);
    c->last_month = c->year * 12 + (closes < 0 ? USUAL_CLOSES : closes) - 1;
    c->built.first = plwi_day_number(c->first_month / 12, c->first_month % 12 + 1, 1);
    c->built.last = plwi_day_number((c->last_month + 1) / 12, (c->last_month + 1) % 12 + 1, 1) - 1;
}

/* What rules say of a kind of date, or fallback; *rule receives the row. */
static int32_t ruled(const court *c, int32_t kind, int is_lead, int32_t fallback, uint32_t *rule)
{
    int32_t found = -1;
    *rule = PLW_NONE;
    for (uint32_t i = 0; i < c->row_count; i++) {
        const date_row *r = &c->rows[i];
        int32_t own = is_lead ? r->lead : r->within;
        if (own <= found || !is_about(r, kind) || !holds(c, r))
            continue;
        found = own;
        *rule = r->row;
    }
    return found < 0 ? fallback : found;
}

/* ---- reading ----------------------------------------------------------------- */

static int is_part(int32_t kind)
{
    return kind == PLW_DATE_CASTING || kind == PLW_DATE_ASSEMBLY;
}

static plwi_date_form form_of(const court *c, const date_row *r, int32_t kind)
{
    plwi_date_form form = { .form = r->form, .months = r->months, .origin = r->origin,
                            .model_year = c->year };
    form.first_month = r->opens < 0 ? c->first_month : c->year * 12 - r->opens;
    form.last_month = r->closes < 0 ? c->last_month : c->year * 12 + r->closes - 1;
    if (is_part(kind)) /* may lie in a drawer for a while */
        form.first_month -= 12;
    return form;
}

/* Of the rows that read a date the surest is told. */
static void prefer(const court *c, reading *read, uint32_t row)
{
    if (read->row == PLW_NONE || plwi_row(c->image, row)[ROW_STANDING] <
                                     plwi_row(c->image, read->row)[ROW_STANDING])
        read->row = row;
    read->weak = read->weak && is_weak(c, row);
}

static void read_one(court *c, const plwi_date *date, reading *read)
{
    *read = (reading){ .row = PLW_NONE, .reason = PLW_DATE_REASON_NO_FORM, .weak = 1 };
    for (uint32_t i = 0; i < c->row_count; i++) {
        const date_row *r = &c->rows[i];
        if (!is_form(r) || !is_about(r, date->kind) || !holds(c, r))
            continue;
        plwi_date_form form = form_of(c, r, date->kind);
        int outcome = plwi_read_date(date->text, &form, &read->spans, &read->from_car);
        if (read->reason == PLW_DATE_REASON_NO_FORM)
            read->reason = PLW_DATE_REASON_NOT_UNDERSTOOD;
        if (outcome == PLWI_DATE_NOWHERE)
            read->reason = PLW_DATE_REASON_NO_DAY;
        if (outcome == PLWI_DATE_READ)
            prefer(c, read, r->row);
    }
    if (read->spans.capped) /* the days left out might be the ones that fit */
        read->reason = PLW_DATE_REASON_TOO_MANY;
    else if (read->spans.count > 0)
        read->reason = PLW_DATE_REASON_NONE;
}

/* ---- limits -------------------------------------------------------------------- */

/* The days of a label or tag on which cars of this model year were built. */
static int fitting_days(const court *c, uint32_t index, plwi_days *days)
{
    const reading *read = &c->dates[index];
    int found = 0;
    if (read->reason != PLW_DATE_REASON_NONE)
        return 0;
    for (uint32_t i = 0; i < read->spans.count; i++) {
        const plwi_days *span = &read->spans.item[i];
        if (span->last < c->built.first || span->first > c->built.last)
            continue;
        if (!found)
            days->first = span->first;
        days->last = span->last;
        found = 1;
    }
    return found;
}

/* The days on which a car with this label or tag was built. */
static int car_days(const court *c, uint32_t index, plwi_days *days)
{
    int32_t kind = c->car->dates[index].kind;
    uint32_t rule;
    if (is_part(kind) || !fitting_days(c, index, days))
        return 0;
    int32_t within = ruled(c, kind, 0, kind == PLW_DATE_BODY_TAG ? USUAL_WITHIN : 0, &rule);
    days->first -= within;
    days->last += within;
    return 1;
}

/* A label is held against labels, a tag against labels too, a part against all. */
static int bounds(int32_t kind, int32_t other)
{
    return other == PLW_DATE_LABEL || (is_part(kind) && !is_part(other)) ||
           (kind == PLW_DATE_BODY_TAG && other == PLW_DATE_BODY_TAG);
}

/* The last day that the model year or one of the other dates leaves; those that are
 * not confirmed only on demand. */
static limit last_day(const court *c, uint32_t index, int unconfirmed)
{
    limit found = { c->built.last, PLW_NONE };
    for (uint32_t i = 0; i < c->car->date_count; i++) {
        plwi_days days;
        if (i == index || !bounds(c->car->dates[index].kind, c->car->dates[i].kind) ||
            (c->dates[i].weak && !unconfirmed) || !car_days(c, i, &days))
            continue;
        if (days.last < found.day)
            found = (limit){ days.last, i };
    }
    return found;
}

static limit first_day(const court *c, uint32_t index)
{
    limit found = { c->built.first, PLW_NONE };
    for (uint32_t i = 0; i < c->car->date_count; i++) {
        plwi_days days;
        if (i == index || !is_part(c->car->dates[index].kind) || !car_days(c, i, &days))
            continue;
        if (days.first > found.day)
            found = (limit){ days.first, i };
    }
    return found;
}

/* ---- verdicts ---------------------------------------------------------------------- */

static int32_t earliest(const plwi_spans *spans)
{
    return spans->item[0].first;
}

static int32_t latest(const plwi_spans *spans)
{
    return spans->item[spans->count - 1].last;
}

static void rule_on(plwi_date *date, int32_t verdict, int32_t grade, limit by)
{
    date->verdict = verdict;
    date->grade = grade;
    date->limit = by.day;
    date->against = by.against;
}

static int is_later(const court *c, uint32_t index, plwi_date *date)
{
    const reading *read = &c->dates[index];
    limit sure = last_day(c, index, 0), any = last_day(c, index, 1);
    if (earliest(&read->spans) > sure.day && !read->weak)
        rule_on(date, PLW_DATE_VERDICT_LATER, PLW_GRADE_FAULT, sure);
    else if (earliest(&read->spans) > any.day)
        rule_on(date, PLW_DATE_VERDICT_LATER, PLW_GRADE_DOUBT, any);
    else
        return 0;
    return 1;
}

/* A casting comes before the engine or gearbox that was made of it; whether both
 * belong together the dates do not tell. */
static int contradicts_order(const court *c, uint32_t index, plwi_date *date)
{
    for (uint32_t i = 0; i < c->car->date_count; i++) {
        const plwi_spans *spans = &c->dates[i].spans, *own = &c->dates[index].spans;
        int32_t other = c->car->dates[i].kind;
        if (!is_part(date->kind) || !is_part(other) || other == date->kind ||
            c->dates[i].reason != PLW_DATE_REASON_NONE)
            continue;
        int casting = date->kind == PLW_DATE_CASTING;
        if (casting ? earliest(own) > latest(spans) : earliest(spans) > latest(own)) {
            rule_on(date, PLW_DATE_VERDICT_ORDER, PLW_GRADE_DOUBT,
                    (limit){ casting ? latest(spans) : earliest(spans), i });
            return 1;
        }
    }
    return 0;
}

/* Days later than the car do not count: only if there are no others they do. */
static int32_t latest_possible(const court *c, uint32_t index)
{
    const plwi_spans *spans = &c->dates[index].spans;
    int32_t last = last_day(c, index, 1).day, found = earliest(spans);
    for (uint32_t i = 0; i < spans->count && spans->item[i].first <= last; i++)
        found = spans->item[i].last;
    return found;
}

static int is_early(const court *c, uint32_t index, plwi_date *date)
{
    limit first = first_day(c, index);
    date->lead = ruled(c, date->kind, 1, is_part(date->kind) ? -1 : 0, &date->rule);
    if (date->lead < 0 || latest_possible(c, index) >= first.day - date->lead) {
        date->rule = PLW_NONE;
        return 0;
    }
    rule_on(date, PLW_DATE_VERDICT_EARLY, PLW_GRADE_DOUBT, first);
    return 1;
}

static void judge_one(const court *c, uint32_t index, plwi_date *date)
{
    const reading *read = &c->dates[index];
    limit none = { 0, PLW_NONE };
    date->row = read->row;
    date->reason = read->reason;
    date->from_car = read->from_car;
    date->rule = PLW_NONE;
    if (read->reason != PLW_DATE_REASON_NONE)
        rule_on(date, PLW_DATE_VERDICT_OPEN, PLW_GRADE_NOTE, none);
    else if (!is_later(c, index, date) && !contradicts_order(c, index, date) &&
             !is_early(c, index, date))
        rule_on(date, PLW_DATE_VERDICT_FITS, PLW_GRADE_CLEAR, last_day(c, index, 1));
}

/* By how much a verdict speaks against the date. */
static int weight(int32_t verdict)
{
    switch (verdict) {
    case PLW_DATE_VERDICT_FITS:
        return 1;
    case PLW_DATE_VERDICT_OPEN:
        return 2;
    case PLW_DATE_VERDICT_EARLY:
        return 3;
    case PLW_DATE_VERDICT_ORDER:
        return 4;
    default:
        return verdict ? 5 : 0;
    }
}

/* 1 when what a model year makes of a date counts, and not what others made of it. */
static int counts_before(const court *c, const plwi_date *a, const plwi_date *b)
{
    int32_t by = weight(b->verdict) - weight(a->verdict);
    if (by == 0)
        by = b->grade - a->grade;
    return b->verdict == 0 || (c->labels_differ ? by < 0 : by > 0);
}

static void judge_in_year(court *c, uint32_t index)
{
    plwi_date *date = &c->car->dates[index], judged = *date;
    const plwi_spans *spans = &c->dates[index].spans;
    judge_one(c, index, &judged);
    for (uint32_t i = 0; i < spans->count; i++)
        plwi_add_span(&judged.spans, spans->item[i]);
    judged.spans.capped |= spans->capped;
    date->spans = judged.spans;
    if (counts_before(c, &judged, date))
        *date = judged;
}

/* ---- the car ----------------------------------------------------------------------- */

/* The days on which a car of the model year at hand was built. */
static plwi_days narrowed(const court *c)
{
    plwi_days built = c->built;
    for (uint32_t i = 0; i < c->car->date_count; i++) {
        plwi_days days;
        if (!car_days(c, i, &days))
            continue;
        if (days.first > built.first)
            built.first = days.first;
        if (days.last < built.last)
            built.last = days.last;
    }
    return built.first <= built.last ? built : c->built;
}

/* The reading of the layout that the comparison rests on and that has the year. */
static uint32_t reading_of_year(const plw_car *car, int year)
{
    const plw_result *result = &car->result;
    for (uint32_t i = 0; i < result->reading_count; i++) /* GCOVR_EXCL_BR_LINE: one has the year */
        if (result->readings[i].layout == result->readings[car->reading].layout &&
            plwi_years_has(result->readings[i].years, year))
            return i;
    return car->reading;
}

static void read_year(court *c, int year)
{
    c->year = year;
    c->reading = reading_of_year(c->car, year);
    set_built(c);
    for (uint32_t i = 0; i < c->car->date_count; i++)
        read_one(c, &c->car->dates[i], &c->dates[i]);
}

static void judge_year(court *c)
{
    plw_car *car = c->car;
    for (uint32_t i = 0; i < car->date_count; i++)
        judge_in_year(c, i);
    plwi_days built = narrowed(c);
    if (car->built.first == 0 || built.first < car->built.first)
        car->built.first = built.first;
    if (built.last > car->built.last)
        car->built.last = built.last;
}

/* The model years that labels and tags leave. */
static plwi_years years_left(court *c, plwi_years years)
{
    plwi_years fitting[PLW_MAX_DATES] = { { 0, 0 } };
    plwi_years left = years;
    plwi_days days;
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year)) {
        read_year(c, year);
        for (uint32_t i = 0; i < c->car->date_count; i++)
            if (car_days(c, i, &days))
                fitting[i] = plwi_years_or(fitting[i], plwi_years_one(year));
    }
    for (uint32_t i = 0; i < c->car->date_count; i++)
        if (!plwi_years_empty(fitting[i]))
            left = plwi_years_and(left, fitting[i]);
    return left;
}

static void judge_all(court *c)
{
    plwi_years all = plwi_car_years(c->car), years = years_left(c, all);
    c->labels_differ = plwi_years_empty(years);
    if (c->labels_differ)
        years = all;
    for (int year = plwi_years_next(years, FIRST_YEAR - 1); year;
         year = plwi_years_next(years, year)) {
        read_year(c, year);
        judge_year(c);
    }
}

void plwi_judge_dates(plw_car *car)
{
    court c = { .car = car, .image = plwi_image(car->tables) };
    plwi_forget_dates(car);
    if (car->reading != PLW_NONE) {
        gather_rows(&c, plw_reading_scheme(&car->result, car->reading));
        judge_all(&c);
    }
    for (uint32_t i = 0; i < car->date_count; i++) {
        plwi_date *date = &car->dates[i];
        if (date->verdict == 0) {
            date->verdict = PLW_DATE_VERDICT_OPEN;
            date->reason = PLW_DATE_REASON_NO_READING;
            date->grade = PLW_GRADE_NOTE;
        }
        if (date->verdict == PLW_DATE_VERDICT_OPEN && !date->spans.capped)
            date->spans.count = 0; /* days of a model year that does not count */
        if (weight(date->verdict) > weight(car->date_verdict))
            car->date_verdict = date->verdict;
    }
}
