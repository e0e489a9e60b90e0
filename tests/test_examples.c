/* SPDX-License-Identifier: MIT
 *
 * Worked examples printed in publications, read with the live tables. Each line
 * of tests/examples/ is one run of the loop test; the form of a line stands at
 * the head of each of those files.
 */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "internal.h"
#include "probe.h"

#define MAX_EXAMPLES 1000
#define MESSAGE_SIZE 2048

enum { NUMBER, SCHEME, YEARS, FIELDS, FINDINGS, SOURCE, NOTE, COLUMNS };

typedef struct example {
    const char *file;
    unsigned line;
    unsigned columns; /* as found; a well-formed line has COLUMNS */
    char *column[COLUMNS];
} example;

typedef struct failure {
    char text[MESSAGE_SIZE];
} failure;

/* Always 0, so that a check can end with "return unmet(...)". */
static int unmet(failure *f, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(f->text, sizeof f->text, format, arguments);
    va_end(arguments);
    return 0;
}

/* Cuts the next part off *rest, which becomes NULL after the last one. */
static char *next_part(char **rest, const char *divider)
{
    char *part = *rest;
    char *end = strstr(part, divider);
    *rest = NULL;
    if (end != NULL) {
        *end = '\0';
        *rest = end + strlen(divider);
    }
    return part;
}

static int is(const char *text, const char *other)
{
    return strcmp(text, other) == 0;
}

/* ---- what came ------------------------------------------------------------------ */

/* What the number works out to in place of its check digit, or "". */
static const char *check_digit(const plw_result *r, uint32_t reading)
{
    static char text[2];
    int32_t expected;
    plw_reading_check(r, reading, &expected);
    text[0] = (char)expected;
    return text;
}

static const char *code_of(const plw_result *r, uint32_t reading, const char *name)
{
    if (is(name, "number"))
        return probe_number(r, reading);
    if (is(name, "check-digit"))
        return check_digit(r, reading);
    return probe_code(r, reading, name);
}

/* "name=CODE", "name~words" or "name=CODE~words": cut into its parts, NULL where
 * there is none. */
typedef struct wish {
    char copy[MESSAGE_SIZE];
    const char *name, *code, *words;
} wish;

static int read_wish(const char *part, wish *w, failure *f)
{
    snprintf(w->copy, sizeof w->copy, "%s", part);
    char *words = strchr(w->copy, '~');
    char *code = strchr(w->copy, '=');
    if (words != NULL)
        *words++ = '\0';
    if (code != NULL)
        *code++ = '\0';
    w->name = w->copy;
    w->code = code;
    w->words = words;
    return ((code != NULL || words != NULL) && w->name[0] != '\0') ||
           unmet(f, "malformed field '%s'", part);
}

static int meets_field(const plw_tables *t, const plw_result *r, uint32_t reading, const char *part,
                       failure *f)
{
    wish w;
    if (!read_wish(part, &w, f))
        return 0;
    const char *code = w.code == NULL ? "" : code_of(r, reading, w.name);
    const char *words = w.words == NULL ? "" : probe_words(t, r, reading, w.name);
    int met = (w.code == NULL || is(code, w.code)) &&
              (w.words == NULL || strstr(words, w.words) != NULL);
    return met || unmet(f, "%s expected, '%s' %s came", part, code, words);
}

static int meets_fields(const plw_tables *t, const plw_result *r, uint32_t reading,
                        const char *fields, failure *f)
{
    char copy[MESSAGE_SIZE];
    char *rest = copy;
    if (is(fields, "-"))
        return 1;
    snprintf(copy, sizeof copy, "%s", fields);
    while (rest != NULL)
        if (!meets_field(t, r, reading, next_part(&rest, "; "), f))
            return 0;
    return 1;
}

static int is_of_scheme(const plw_tables *t, const plw_result *r, uint32_t reading,
                        const char *scheme)
{
    return is(probe_scheme(t, r, reading), scheme);
}

/* The best reading of the scheme that meets the fields, or PLW_NONE. */
static uint32_t find_reading(const plw_tables *t, const plw_result *r, const example *e, failure *f)
{
    uint32_t of_scheme = 0;
    for (uint32_t i = 0; i < plw_reading_count(r); i++) {
        if (!is_of_scheme(t, r, i, e->column[SCHEME]))
            continue;
        of_scheme++;
        f->text[0] = '\0';
        if (meets_fields(t, r, i, e->column[FIELDS], f))
            return i;
    }
    if (of_scheme == 0)
        unmet(f, "no reading in %s", e->column[SCHEME]);
    return PLW_NONE;
}

/* ---- model years ------------------------------------------------------------------ */

/* The years of all readings of the scheme, in order: "1968,1978", or "none". */
static void years_of_scheme(const plw_tables *t, const plw_result *r, const char *scheme,
                            char text[MESSAGE_SIZE])
{
    text[0] = '\0';
    for (int32_t year = 1900; year < 2100; year++) {
        int held = 0;
        for (uint32_t i = 0; i < plw_reading_count(r); i++)
            for (uint32_t k = 0; k < plw_reading_year_count(r, i); k++)
                held |= is_of_scheme(t, r, i, scheme) && plw_reading_year(r, i, k) == year;
        if (held)
            sprintf(text + strlen(text), "%s%d", text[0] ? "," : "", (int)year);
    }
    if (text[0] == '\0')
        strcpy(text, "none");
}

static int meets_years(const plw_tables *t, const plw_result *r, const example *e, failure *f)
{
    static const char first[] = "first:";
    char came[MESSAGE_SIZE];
    const char *wanted = e->column[YEARS];
    if (is(wanted, "-"))
        return 1;
    if (strncmp(wanted, first, strlen(first)) == 0) {
        wanted += strlen(first);
        snprintf(came, sizeof came, "%s", probe_years(r, 0));
        if (!is(probe_scheme(t, r, 0), e->column[SCHEME]))
            return unmet(f, "first reading in %s expected, in %s came", e->column[SCHEME],
                         probe_scheme(t, r, 0));
    } else {
        years_of_scheme(t, r, e->column[SCHEME], came);
    }
    return is(came, wanted) || unmet(f, "years %s expected, %s came", e->column[YEARS], came);
}

/* ---- findings ----------------------------------------------------------------------- */

/* Is the name among the names, which a blank divides? */
static int has_name(const char *names, const char *name)
{
    size_t length = strlen(name);
    for (const char *at = names; *at != '\0'; at += strcspn(at, " ")) {
        at += strspn(at, " ");
        if (strcspn(at, " ") == length && strncmp(at, name, length) == 0)
            return length > 0;
    }
    return 0;
}

/* "!mispelt" would never come and so always hold. */
static int is_finding(const plw_tables *t, const char *name)
{
    image_t image = plwi_image(t);
    for (int32_t code = PLW_FINDING_EMPTY; code <= PLW_FINDING_NO_SCHEME; code++) {
        const unsigned char *record = plwi_finding_record(image, code);
        if (record != NULL && is(plwi_text(image, plwi_u32(record + FINDING_NAME)), name))
            return 1;
    }
    return 0;
}

static const char suggest[] = "suggest=";

static int is_suggestion(const char *part)
{
    return strncmp(part, suggest, strlen(suggest)) == 0;
}

static int meets_finding(const plw_tables *t, const plw_result *r, uint32_t reading,
                         const char *part, failure *f)
{
    static const char grade[] = "grade=";
    if (strncmp(part, grade, strlen(grade)) == 0) {
        int32_t came = reading == PLW_NONE ? plw_result_grade(r) : plw_reading_grade(r, reading);
        return is(plw_grade_name(came), part + strlen(grade)) ||
               unmet(f, "%s expected, %s came", part, plw_grade_name(came));
    }
    if (is_suggestion(part))
        return 1; /* see meets_suggestions */
    const char *of_number = probe_findings(r, PLW_NONE);
    const char *of_reading = reading == PLW_NONE ? "" : probe_findings(r, reading);
    int unwanted = part[0] == '!';
    if (!is_finding(t, part + unwanted))
        return unmet(f, "there is no finding '%s'", part + unwanted);
    int came = has_name(of_number, part + unwanted) || has_name(of_reading, part + unwanted);
    return came != unwanted ||
           unmet(f, "finding %s expected; came: %s %s", part, of_number, of_reading);
}

static int meets_findings(const plw_tables *t, const plw_result *r, uint32_t reading,
                          const char *findings, failure *f)
{
    char copy[MESSAGE_SIZE];
    char *rest = copy;
    if (is(findings, "-"))
        return 1;
    snprintf(copy, sizeof copy, "%s", findings);
    while (rest != NULL)
        if (!meets_finding(t, r, reading, next_part(&rest, " "), f))
            return 0;
    return 1;
}

/* "suggest=NUMBER", the only one; "suggest=-", none. */
static int meets_suggestion(const plw_tables *t, const char *number, const char *wanted,
                            failure *f)
{
    char came[PLW_MAX_TEXT] = "-";
    plw_result *r = probe_decode(t, "", NULL);
    ck_assert_int_eq(plw_suggest(t, number, strlen(number), NULL, 0, r), PLW_OK);
    if (plw_suggestion_count(r) > 0)
        plw_suggestion_number(r, 0, came, sizeof came, NULL);
    return (plw_suggestion_count(r) <= 1 && is(came, wanted)) ||
           unmet(f, "suggestion %s expected; of %u came: %s", wanted,
                 (unsigned)plw_suggestion_count(r), came);
}

static int meets_suggestions(const plw_tables *t, const example *e, failure *f)
{
    char copy[MESSAGE_SIZE];
    char *rest = copy;
    snprintf(copy, sizeof copy, "%s", e->column[FINDINGS]);
    while (rest != NULL) {
        const char *part = next_part(&rest, " ");
        if (is_suggestion(part) &&
            !meets_suggestion(t, e->column[NUMBER], part + strlen(suggest), f))
            return 0;
    }
    return 1;
}

/* ---- one example ---------------------------------------------------------------------- */

static int is_source(const plw_tables *t, const char *key)
{
    for (uint32_t i = 0; i < plw_source_count(t); i++)
        if (is(plw_source_key(t, i), key))
            return 1;
    return is(key, "practice") || is(key, "memory");
}

static int has_sources(const plw_tables *t, const char *sources, failure *f)
{
    char copy[MESSAGE_SIZE];
    char *rest = copy;
    snprintf(copy, sizeof copy, "%s", sources);
    while (rest != NULL) {
        const char *key = next_part(&rest, ",");
        if (!is_source(t, key))
            return unmet(f, "source '%s' is not in the tables", key);
    }
    return 1;
}

/* "none" or "!scheme" */
static int wants_no_reading(const example *e)
{
    return is(e->column[SCHEME], "none") || e->column[SCHEME][0] == '!';
}

/* A stamp or tag is no number: only its rows are looked up. */
static int is_stamp(const example *e)
{
    static const char prefix[] = "stamp:";
    return strncmp(e->column[NUMBER], prefix, strlen(prefix)) == 0;
}

static int is_well_formed(const example *e, failure *f)
{
    if (e->columns != COLUMNS)
        return unmet(f, "%u columns, %d expected", e->columns, COLUMNS);
    for (int i = 0; i < COLUMNS; i++)
        if (e->column[i][0] == '\0')
            return unmet(f, "column %d is empty; write - there", i + 1);
    if (wants_no_reading(e) && !(is(e->column[YEARS], "-") && is(e->column[FIELDS], "-")))
        return unmet(f, "years and fields of a number that no scheme takes");
    if (is_stamp(e) && !is(e->column[FINDINGS], "-"))
        return unmet(f, "findings on a stamp");
    return 1;
}

/* A row of the scheme that a stamp or tag rests on: it has no position, so no
 * number is read. */
static int meets_row(const plw_tables *t, uint32_t row, const wish *w, const char *years)
{
    return is(plw_row_field(t, row), w->name) &&
           (w->code == NULL || is(plw_row_code(t, row), w->code)) &&
           (w->words == NULL || strstr(plw_row_words(t, row), w->words) != NULL) &&
           (is(years, "-") || plw_row_holds_in(t, row, (int32_t)strtol(years, NULL, 10)));
}

static int has_row(const plw_tables *t, const example *e, const char *part, failure *f)
{
    wish w;
    if (!read_wish(part, &w, f))
        return 0;
    for (uint32_t row = 0; row < plw_row_count(t); row++)
        if (is(plw_scheme_key(t, plw_row_scheme(t, row)), e->column[SCHEME]) &&
            meets_row(t, row, &w, e->column[YEARS]))
            return 1;
    return unmet(f, "no row %s in %s, %s", part, e->column[SCHEME], e->column[YEARS]);
}

static int has_rows(const plw_tables *t, const example *e, failure *f)
{
    char copy[MESSAGE_SIZE];
    char *rest = copy;
    snprintf(copy, sizeof copy, "%s", e->column[FIELDS]);
    while (rest != NULL)
        if (!has_row(t, e, next_part(&rest, "; "), f))
            return 0;
    return 1;
}

/* The scheme, or every scheme, does not take the characters: it has no reading,
 * or only readings that find fault with a character. */
static int reads_nowhere(const plw_tables *t, const plw_result *r, const char *scheme, failure *f)
{
    for (uint32_t i = 0; i < plw_reading_count(r); i++)
        if ((is(scheme, "none") || is_of_scheme(t, r, i, scheme + 1)) &&
            !has_name(probe_findings(r, i), "character"))
            return unmet(f, "no reading expected, one in %s came", probe_scheme(t, r, i));
    return 1;
}

static int reads_as_expected(const plw_tables *t, const example *e, failure *f)
{
    const plw_result *r = probe_validate(t, e->column[NUMBER], NULL);
    uint32_t reading = plw_reading_count(r) > 0 ? 0 : PLW_NONE;
    if (wants_no_reading(e))
        return reads_nowhere(t, r, e->column[SCHEME], f) &&
               meets_findings(t, r, reading, e->column[FINDINGS], f);
    reading = find_reading(t, r, e, f);
    return reading != PLW_NONE && meets_years(t, r, e, f) &&
           meets_findings(t, r, reading, e->column[FINDINGS], f);
}

static int holds(const plw_tables *t, const example *e, failure *f)
{
    return is_well_formed(e, f) && has_sources(t, e->column[SOURCE], f) &&
           (is_stamp(e) ? has_rows(t, e, f)
                        : reads_as_expected(t, e, f) && meets_suggestions(t, e, f));
}

/* ---- the files -------------------------------------------------------------------------- */

static const char *const files[] = {
    "tests/examples/dearborn.tsv",      "tests/examples/detroit.tsv",
    "tests/examples/highland-park.tsv", "tests/examples/imports.tsv",
    "tests/examples/independents.tsv",  "tests/examples/iso3779.tsv",
    "tests/examples/practice.tsv",
};
#define FILES (sizeof files / sizeof files[0])

static example examples[MAX_EXAMPLES];
static int example_count;
static int examples_of_file[FILES];

static void split(char *line, example *e)
{
    e->columns = 0;
    while (line != NULL) {
        char *column = next_part(&line, "\t");
        if (e->columns < COLUMNS)
            e->column[e->columns] = column;
        e->columns++;
    }
}

static int read_examples(const char *file, char *text)
{
    int first = example_count;
    unsigned number = 0;
    while (text != NULL) {
        char *line = next_part(&text, "\n");
        number++;
        if (line[0] == '#' || line[0] == '\0')
            continue;
        if (example_count == MAX_EXAMPLES) {
            fprintf(stderr, "%s:%u: more than %d examples\n", file, number, MAX_EXAMPLES);
            abort();
        }
        example *e = &examples[example_count++];
        e->file = file;
        e->line = number;
        split(line, e);
    }
    return example_count - first;
}

/* The texts stay: the examples point into them. */
static void read_files(void)
{
    for (size_t i = 0; i < FILES; i++) {
        size_t size;
        examples_of_file[i] = read_examples(files[i], fixture_text(files[i], &size));
    }
}

/* ---- tests -------------------------------------------------------------------------------- */

START_TEST(test_example)
{
    failure f;
    const example *e = &examples[_i];
    if (!holds(NULL, e, &f))
        ck_abort_msg("%s:%u: %s: %s", e->file, e->line, e->column[NUMBER], f.text);
}
END_TEST

START_TEST(test_every_file_has_examples)
{
    ck_assert_msg(examples_of_file[_i] > 0, "%s has no example", files[_i]);
}
END_TEST

/* The check of an example itself, on the frozen fixture: a right line holds,
 * and the same line with one wrong word does not. */
static const struct trial {
    int holds;
    const char *line;
} trials[] = {
    { 1, "T24M6P100051\tport-ellery-1962\t1966\tengine=M~260 V8; body~sedan; number=T24M6P100051\t"
         "!misread\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t1967\t-\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\tnone\t-\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\tfirst:1967\t-\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1999\t-\t-\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tnone\t-\t-\t-\tparts-66\t-" },
    { 0, "T24M6P100051\t!port-ellery-1962\t-\t-\t-\tparts-66\t-" },
    { 1, "T24M6P100051\t!port-ellery-1999\t-\t-\t-\tparts-66\t-" },
    { 1, "stamp:VIEW\tport-ellery-1962\t1968\tplate_location=dash top~windscreen\t-\t"
         "parts-66\t-" },
    { 0, "stamp:VIEW\tport-ellery-1962\t1968\tplate_location~moon\t-\tparts-66\t-" },
    { 0, "stamp:VIEW\tport-ellery-1962\t1968\tplate_location=dash\t-\tparts-66\t-" },
    { 0, "stamp:VIEW\tport-ellery-1962\t1966\tplate_location=dash top\t-\tparts-66\t-" },
    { 0, "stamp:VIEW\tport-ellery-1999\t1968\tplate_location=dash top\t-\tparts-66\t-" },
    { 0, "stamp:VIEW\tport-ellery-1962\t1968\t-\t-\tparts-66\t-" },
    { 0, "stamp:VIEW\tport-ellery-1962\t-\tplate_location=dash top\tmisread\tparts-66\t-" },
    { 0, "12\tnone\t1966\t-\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\tengine=K\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\tengine=M~427\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\tmast=M\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\tengine\t-\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\t-\tmisread\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\t-\t!mispelt\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\t-\tgrade=fault\tparts-66\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t-\t-\t-\tno-such-book\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t1966\t-\t-\tparts-66" },
    { 0, "T24M6P100051\tport-ellery-1962\t1966\t-\t-\tparts-66\t-\t-" },
    { 0, "T24M6P100051\tport-ellery-1962\t1966\t\t-\tparts-66\t-" },
    { 1, "T31K3P100051\tport-ellery-1962\t1963,1973\tengine~1760 cc\tseveral-readings\t"
         "club-list,practice\t-" },
    { 0, "T31K3P100051\tport-ellery-1962\t1963\t-\t-\tpractice\t-" },
    { 0, "T31K3P100051\tport-ellery-1962\t-\t-\t!several-readings\tpractice\t-" },
    { 1, "T31K3P100051\tport-ellery-1962\tfirst:1963\t-\t-\tpractice\t-" },
    { 1, "T27Z9P100001\tport-ellery-1962\tnone\t-\texclusion grade=fault\tmemory\t-" },
    { 1, "T24X3P100051\tport-ellery-1962\t-\t-\tunknown-code suggest=T24K3P100051\tmemory\t-" },
    { 0, "T24X3P100051\tport-ellery-1962\t-\t-\tsuggest=T24R3P100051\tmemory\t-" },
    { 0, "T24X3P100051\tport-ellery-1962\t-\t-\tsuggest=-\tmemory\t-" },
    { 0, "T28K3P100051\tport-ellery-1962\t-\t-\tsuggest=T24K3P100051\tmemory\t-" },
    { 1, "T24M6P100051\tport-ellery-1962\t-\t-\tsuggest=-\tmemory\t-" },
    { 1, "12\tnone\t-\t-\tlength\tmemory\t-" },
    { 0, "12\tnone\t-\t-\t!length\tmemory\t-" },
};
#define TRIALS ((int)(sizeof trials / sizeof trials[0]))

START_TEST(test_a_wrong_expectation_is_noticed)
{
    char line[MESSAGE_SIZE];
    failure f = { "" };
    example e;
    snprintf(line, sizeof line, "%s", trials[_i].line);
    split(line, &e);
    ck_assert_msg(holds(fixture_tables(), &e, &f) == trials[_i].holds, "trial %d: %s %s", _i,
                  trials[_i].line, f.text);
    ck_assert_int_eq(f.text[0] == '\0', trials[_i].holds);
}
END_TEST

START_TEST(test_comments_alone_are_no_examples)
{
    char text[] = "# number\n\n# scheme\n";
    ck_assert_int_eq(read_examples("nothing", text), 0);
}
END_TEST

static void add(TCase *test)
{
    read_files();
    tcase_add_loop_test(test, test_every_file_has_examples, 0, (int)FILES);
    tcase_add_loop_test(test, test_example, 0, example_count);
    tcase_add_loop_test(test, test_a_wrong_expectation_is_noticed, 0, TRIALS);
    tcase_add_test(test, test_comments_alone_are_no_examples);
}

int main(void)
{
    return probe_run("examples", add);
}
