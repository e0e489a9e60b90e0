/* SPDX-License-Identifier: MIT
 *
 * The command schemes: what the tables cover. Without arguments one row for
 * each scheme; with keys, the lines and the fields of those schemes, with the
 * model years that have no row.
 */
#include <json-c/json.h>
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

static void add_line(struct json_object *lines, const char *line)
{
    for (size_t i = 0; i < json_object_array_length(lines); i++)
        if (strcmp(json_object_get_string(json_object_array_get_idx(lines, i)), line) == 0)
            return;
    json_object_array_add(lines, json_object_new_string(line));
}

/* Each line once, in the order of the rows. */
static struct json_object *lines_of(const plw_tables *tables, uint32_t scheme)
{
    struct json_object *lines = json_object_new_array();
    uint32_t first = plw_scheme_first_row(tables, scheme);
    uint32_t end = first + plw_scheme_row_count(tables, scheme);
    for (uint32_t row = first; row < end; row++)
        for (uint32_t i = 0; i < plw_row_attribute_count(tables, row); i++)
            if (strcmp(plw_row_attribute_name(tables, row, i), "line") == 0)
                add_line(lines, text_of(attribute_source, tables, row, i));
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
    struct json_object *lines = lines_of(tables, scheme);
    size_t count = json_object_array_length(lines), column = 6;
    if (count > 0)
        fputs("lines:", stdout);
    for (size_t i = 0; i < count; i++) {
        const char *line = json_object_get_string(json_object_array_get_idx(lines, i));
        size_t width = strlen(line) + 1 + (i + 1 < count);
        if (column + width > PAGE_WIDTH) {
            fputs("\n ", stdout);
            column = 1;
        }
        printf(" %s%s", line, i + 1 < count ? "," : "\n");
        column += width;
    }
    json_object_put(lines);
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

static void add_text(struct json_object *object, const char *key, const char *text)
{
    json_object_object_add(object, key, json_object_new_string(text));
}

static void add_number(struct json_object *object, const char *key, int64_t number)
{
    json_object_object_add(object, key, json_object_new_int64(number));
}

static void add_counts(struct json_object *object, const coverage *c)
{
    add_number(object, "rows", c->rows);
    for (int32_t i = 0; i < STANDINGS; i++)
        add_number(object, plw_standing_name(i), c->by_standing[i]);
    add_number(object, "disputed", c->disputed);
    add_number(object, "doubtful", c->doubtful);
}

static struct json_object *year_pair(int32_t first, int32_t last)
{
    struct json_object *pair = json_object_new_array();
    json_object_array_add(pair, json_object_new_int(first));
    json_object_array_add(pair, json_object_new_int(last));
    return pair;
}

static void add_gap(void *context, int32_t first, int32_t last)
{
    json_object_array_add(context, year_pair(first, last));
}

static struct json_object *fields_object(const plw_tables *tables, uint32_t scheme)
{
    struct json_object *fields = json_object_new_array();
    uint32_t row = plw_scheme_first_row(tables, scheme);
    uint32_t end = row + plw_scheme_row_count(tables, scheme);
    while (row < end) {
        uint32_t next = field_end(tables, row, end);
        coverage c = count_rows(tables, row, next - row);
        struct json_object *field = json_object_new_object();
        struct json_object *gaps = json_object_new_array();
        add_text(field, "field", plw_row_field(tables, row));
        add_counts(field, &c);
        for_each_gap(tables, scheme, row, next, add_gap, gaps);
        json_object_object_add(field, "years_without_row", gaps);
        json_object_array_add(fields, field);
        row = next;
    }
    return fields;
}

static void print_object(const client_options *options, uint32_t scheme)
{
    const plw_tables *tables = options->tables;
    struct json_object *object = json_object_new_object();
    struct json_object *lengths = json_object_new_array();
    coverage c = count_rows(tables, plw_scheme_first_row(tables, scheme),
                            plw_scheme_row_count(tables, scheme));
    add_text(object, "scheme", plw_scheme_key(tables, scheme));
    add_text(object, "title", title_of(options, scheme));
    json_object_object_add(object, "years",
                           year_pair(plw_scheme_first_year(tables, scheme),
                                     plw_scheme_last_year(tables, scheme)));
    for (int length = 1; length <= PLW_MAX_POSITIONS; length++)
        if (lengths_of(tables, scheme) >> (length - 1) & 1)
            json_object_array_add(lengths, json_object_new_int(length));
    json_object_object_add(object, "lengths", lengths);
    json_object_object_add(object, "lines", lines_of(tables, scheme));
    add_counts(object, &c);
    json_object_object_add(object, "fields", fields_object(tables, scheme));
    puts(json_object_to_json_string_ext(object, JSON_C_TO_STRING_PLAIN |
                                                    JSON_C_TO_STRING_NOSLASHESCAPE));
    json_object_put(object);
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
