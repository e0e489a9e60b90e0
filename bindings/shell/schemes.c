/* SPDX-License-Identifier: MIT
 *
 * The command schemes: what the tables cover. Without arguments one row for
 * each scheme; with keys, the lines and the fields of those schemes, with the
 * model years that have no row.
 */
#include <string.h>

#include "client.h"

#define STANDINGS 3

typedef struct coverage {
    uint32_t rows;
    uint32_t by_standing[STANDINGS];
    uint32_t disputed;
    uint32_t doubtful;
} coverage;

static void count_row(const plw_tables *tables, uint32_t row, coverage *c)
{
    uint32_t marks = plw_row_marks(tables, row);
    int32_t standing = plw_row_standing(tables, row);
    c->rows++;
    if (standing >= 0 && standing < STANDINGS)
        c->by_standing[standing]++;
    c->disputed += (marks & PLW_MARK_DISPUTED) != 0;
    c->doubtful += (marks & PLW_MARK_DOUBTFUL) != 0;
}

static coverage count_rows(const plw_tables *tables, uint32_t first, uint32_t count)
{
    coverage c = { 0, { 0, 0, 0 }, 0, 0 };
    for (uint32_t row = first; row < first + count; row++)
        count_row(tables, row, &c);
    return c;
}

/* Rows of one field have consecutive numbers. */
static uint32_t field_end(const plw_tables *tables, uint32_t row, uint32_t end)
{
    const char *field = plw_row_field(tables, row);
    while (row < end && strcmp(plw_row_field(tables, row), field) == 0)
        row++;
    return row;
}

static bool any_row_holds(const plw_tables *tables, uint32_t first, uint32_t end, int32_t year)
{
    for (uint32_t row = first; row < end; row++)
        if (plw_row_holds_in(tables, row, year))
            return true;
    return false;
}

typedef void year_run(void *context, int32_t first, int32_t last);

/* Calls found for each run of the scheme's model years without a row. */
static void for_each_gap(const plw_tables *tables, uint32_t scheme, uint32_t first, uint32_t end,
                         year_run *found, void *context)
{
    int32_t last_year = plw_scheme_last_year(tables, scheme);
    for (int32_t year = plw_scheme_first_year(tables, scheme); year <= last_year; year++) {
        int32_t start = year;
        while (year <= last_year && !any_row_holds(tables, first, end, year))
            year++;
        if (year > start)
            found(context, start, year - 1);
    }
}

static const char *title_of(const client_options *options, uint32_t scheme)
{
    return options->names ? plw_names_title(options->names, scheme)
                          : plw_scheme_title(options->tables, scheme);
}

/* The lengths of a scheme's numbers as a set: bit 0 is one character. */
static uint32_t lengths_of(const plw_tables *tables, uint32_t scheme)
{
    uint32_t set = 0;
    for (uint32_t i = 0; i < plw_layout_count(tables, scheme); i++) {
        uint32_t length = plw_layout_length(tables, scheme, i);
        if (length > 0 && length <= PLW_MAX_POSITIONS)
            set |= UINT32_C(1) << (length - 1);
    }
    return set;
}

/* ---- lines: what a scheme's rows name in the attribute "line" ------------------ */

static int32_t attribute_source(const void *tables, uint32_t row, uint32_t index, char *buffer,
                                size_t capacity, size_t *needed)
{
    return plw_row_attribute_text(tables, row, index, buffer, capacity, needed);
}

static bool has_line(const growing_text *lines, const char *line)
{
    for (size_t at = 0; at < lines->length; at += strlen(lines->bytes + at) + 1)
        if (strcmp(lines->bytes + at, line) == 0)
            return true;
    return false;
}

/* Each line once, in the order of the rows, and a zero byte behind each. */
static growing_text lines_of(const plw_tables *tables, uint32_t scheme)
{
    growing_text lines = { NULL, 0, 0 };
    uint32_t first = plw_scheme_first_row(tables, scheme);
    uint32_t end = first + plw_scheme_row_count(tables, scheme);
    for (uint32_t row = first; row < end; row++)
        for (uint32_t i = 0; i < plw_row_attribute_count(tables, row); i++) {
            if (strcmp(plw_row_attribute_name(tables, row, i), "line") != 0)
                continue;
            const char *line = text_of(attribute_source, tables, row, i);
            if (!has_line(&lines, line))
                text_add(&lines, line, strlen(line) + 1);
        }
    return lines;
}

/* ---- text ------------------------------------------------------------------- */

#define LENGTHS_SIZE 128 /* of 32 lengths, "1,3,5-8" */
#define PAGE_WIDTH 80u

/* "6-12" or "9,11". */
static const char *lengths_text(const plw_tables *tables, uint32_t scheme, char text[LENGTHS_SIZE])
{
    uint32_t set = lengths_of(tables, scheme);
    size_t used = 0;
    text[0] = '\0';
    for (unsigned first = 1; first <= PLW_MAX_POSITIONS; first++) {
        unsigned last = first;
        if (!(set >> (first - 1) & 1))
            continue;
        while (last < PLW_MAX_POSITIONS && set >> last & 1)
            last++;
        used += (size_t)snprintf(text + used, LENGTHS_SIZE - used, used ? ",%u" : "%u", first);
        if (last > first)
            used += (size_t)snprintf(text + used, LENGTHS_SIZE - used, "-%u", last);
        first = last;
    }
    return text;
}

static void print_counts(const coverage *c)
{
    printf(" %5u %9u %8u %6u %8u %8u\n", (unsigned)c->rows, (unsigned)c->by_standing[0],
           (unsigned)c->by_standing[1], (unsigned)c->by_standing[2], (unsigned)c->disputed,
           (unsigned)c->doubtful);
}

static void print_scheme(const client_options *options, uint32_t scheme)
{
    const plw_tables *tables = options->tables;
    coverage c = count_rows(tables, plw_scheme_first_row(tables, scheme),
                            plw_scheme_row_count(tables, scheme));
    char lengths[LENGTHS_SIZE];
    printf("%-26s %d-%d %-8s", plw_scheme_key(tables, scheme),
           (int)plw_scheme_first_year(tables, scheme), (int)plw_scheme_last_year(tables, scheme),
           lengths_text(tables, scheme, lengths));
    print_counts(&c);
}

static void print_gap(void *context, int32_t first, int32_t last)
{
    int *any = context;
    printf(*any ? ", %d" : "  no row for %d", (int)first);
    if (last > first)
        printf("-%d", (int)last);
    *any = 1;
}

/* The lines of a scheme, wrapped. */
static void print_lines(const plw_tables *tables, uint32_t scheme)
{
    growing_text lines = lines_of(tables, scheme);
    size_t column = 6;
    if (lines.length > 0)
        fputs("lines:", stdout);
    for (size_t at = 0; at < lines.length;) {
        const char *line = lines.bytes + at;
        at += strlen(line) + 1;
        size_t width = strlen(line) + 1 + (at < lines.length);
        if (column + width > PAGE_WIDTH) {
            fputs("\n ", stdout);
            column = 1;
        }
        printf(" %s%s", line, at < lines.length ? "," : "\n");
        column += width;
    }
    text_free(&lines);
}

static void print_fields(const client_options *options, uint32_t scheme)
{
    const plw_tables *tables = options->tables;
    uint32_t row = plw_scheme_first_row(tables, scheme);
    uint32_t end = row + plw_scheme_row_count(tables, scheme);
    char lengths[LENGTHS_SIZE];
    printf("%s: %s\n", plw_scheme_key(tables, scheme), title_of(options, scheme));
    printf("model years %d-%d; %s characters\n", (int)plw_scheme_first_year(tables, scheme),
           (int)plw_scheme_last_year(tables, scheme), lengths_text(tables, scheme, lengths));
    print_lines(tables, scheme);
    printf("%-43s %4s %9s %8s %6s %8s %8s\n", "field", "rows", "published", "practice", "memory",
           "disputed", "doubtful");
    while (row < end) {
        uint32_t next = field_end(tables, row, end);
        coverage c = count_rows(tables, row, next - row);
        int any = 0;
        printf("%-42s", plw_row_field(tables, row));
        print_counts(&c);
        for_each_gap(tables, scheme, row, next, print_gap, &any);
        if (any)
            putchar('\n');
        row = next;
    }
}

/* ---- JSON ---------------------------------------------------------------------- */

static void put_text(growing_text *json, const char *name, const char *text)
{
    json_name(json, name);
    json_string(json, text, strlen(text));
}

static void put_number(growing_text *json, const char *name, long number)
{
    json_name(json, name);
    json_number(json, number);
}

static void put_counts(growing_text *json, const coverage *c)
{
    put_number(json, "rows", c->rows);
    for (int32_t i = 0; i < STANDINGS; i++)
        put_number(json, plw_standing_name(i), c->by_standing[i]);
    put_number(json, "disputed", c->disputed);
    put_number(json, "doubtful", c->doubtful);
}

static void put_years(void *json, int32_t first, int32_t last)
{
    json_begin(json, "[");
    json_number(json, first);
    json_number(json, last);
    json_end(json, "]");
}

static void put_lengths(growing_text *json, uint32_t lengths)
{
    json_begin(json, "[");
    for (int length = 1; length <= PLW_MAX_POSITIONS; length++)
        if (lengths >> (length - 1) & 1)
            json_number(json, length);
    json_end(json, "]");
}

static void put_lines(growing_text *json, const plw_tables *tables, uint32_t scheme)
{
    growing_text lines = lines_of(tables, scheme);
    json_begin(json, "[");
    for (size_t at = 0; at < lines.length;) {
        size_t length = strlen(lines.bytes + at);
        json_string(json, lines.bytes + at, length);
        at += length + 1;
    }
    json_end(json, "]");
    text_free(&lines);
}

static void put_fields(growing_text *json, const plw_tables *tables, uint32_t scheme)
{
    uint32_t row = plw_scheme_first_row(tables, scheme);
    uint32_t end = row + plw_scheme_row_count(tables, scheme);
    json_begin(json, "[");
    while (row < end) {
        uint32_t next = field_end(tables, row, end);
        coverage c = count_rows(tables, row, next - row);
        json_begin(json, "{");
        put_text(json, "field", plw_row_field(tables, row));
        put_counts(json, &c);
        json_name(json, "years_without_row");
        json_begin(json, "[");
        for_each_gap(tables, scheme, row, next, put_years, json);
        json_end(json, "]");
        json_end(json, "}");
        row = next;
    }
    json_end(json, "]");
}

static void print_object(const client_options *options, uint32_t scheme)
{
    const plw_tables *tables = options->tables;
    growing_text json = { NULL, 0, 0 };
    coverage c = count_rows(tables, plw_scheme_first_row(tables, scheme),
                            plw_scheme_row_count(tables, scheme));
    json_begin(&json, "{");
    put_text(&json, "scheme", plw_scheme_key(tables, scheme));
    put_text(&json, "title", title_of(options, scheme));
    json_name(&json, "years");
    put_years(&json, plw_scheme_first_year(tables, scheme), plw_scheme_last_year(tables, scheme));
    json_name(&json, "lengths");
    put_lengths(&json, lengths_of(tables, scheme));
    json_name(&json, "lines");
    put_lines(&json, tables, scheme);
    put_counts(&json, &c);
    json_name(&json, "fields");
    put_fields(&json, tables, scheme);
    json_end(&json, "}\n");
    fwrite(json.bytes, 1, json.length, stdout);
    text_free(&json);
}

/* ---- the command ------------------------------------------------------------------ */

typedef void print_function(const client_options *options, uint32_t scheme);

static uint32_t find_scheme(const plw_tables *tables, const char *key)
{
    for (uint32_t i = 0; i < plw_scheme_count(tables); i++)
        if (strcmp(plw_scheme_key(tables, i), key) == 0)
            return i;
    complain("there is no scheme '%s'; 'platewright schemes' lists them", key);
    return PLW_NONE;
}

static int print_named(const client_options *options, print_function *print)
{
    int status = EXIT_DONE;
    for (int i = 0; i < options->argument_count; i++) {
        uint32_t scheme = find_scheme(options->tables, options->arguments[i]);
        if (scheme == PLW_NONE)
            status = EXIT_USAGE;
        else
            print(options, scheme);
    }
    return status;
}

static void print_all(const client_options *options, print_function *print)
{
    for (uint32_t i = 0; i < plw_scheme_count(options->tables); i++)
        print(options, i);
}

int schemes_command(const client_options *options)
{
    if (!text_or_json(options, "schemes"))
        return EXIT_USAGE;
    bool json = options->format == PLW_FORMAT_JSON;
    if (options->argument_count > 0)
        return print_named(options, json ? print_object : print_fields);
    if (!json)
        printf("%-26s %-9s %-8s %5s %9s %8s %6s %8s %8s\n", "scheme", "years", "length", "rows",
               "published", "practice", "memory", "disputed", "doubtful");
    print_all(options, json ? print_object : print_scheme);
    return EXIT_DONE;
}
