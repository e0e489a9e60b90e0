/* SPDX-License-Identifier: MIT
 *
 * The commands that read numbers: decode, validate and explain.
 */
#include <string.h>

#include "client.h"

/* ---- texts of the library ------------------------------------------------------ */

static int32_t number_source(const void *result, uint32_t reading, uint32_t unused, char *buffer,
                             size_t capacity, size_t *needed)
{
    (void)unused;
    return reading == PLW_NONE ? plw_result_number(result, buffer, capacity, needed)
                               : plw_reading_number(result, reading, buffer, capacity, needed);
}

int32_t code_source(const void *result, uint32_t reading, uint32_t field, char *buffer,
                    size_t capacity, size_t *needed)
{
    return plw_field_code(result, reading, field, buffer, capacity, needed);
}

static int32_t sentence_source(const void *result, uint32_t finding, uint32_t unused, char *buffer,
                               size_t capacity, size_t *needed)
{
    (void)unused;
    return plw_finding_sentence(result, finding, buffer, capacity, needed);
}

static int32_t claim_source(const void *result, uint32_t claim, uint32_t unused, char *buffer,
                            size_t capacity, size_t *needed)
{
    (void)unused;
    return plw_claim_sentence(result, claim, buffer, capacity, needed);
}

static int32_t suggestion_source(const void *result, uint32_t suggestion, uint32_t unused,
                                 char *buffer, size_t capacity, size_t *needed)
{
    (void)unused;
    return plw_suggestion_sentence(result, suggestion, buffer, capacity, needed);
}

static int32_t explain_source(const void *result, uint32_t format, uint32_t flags, char *buffer,
                              size_t capacity, size_t *needed)
{
    return plw_explain(result, (int32_t)format, flags, buffer, capacity, needed);
}

static void print_explained(const client_options *options, const plw_result *result)
{
    fputs(text_of(explain_source, result, (uint32_t)options->format, options->flags), stdout);
}

/* ---- decode ----------------------------------------------------------------------- */

static void put_years(const plw_result *result, uint32_t reading)
{
    uint32_t count = plw_reading_year_count(result, reading);
    for (uint32_t i = 0; i < count; i++) {
        row_put(i ? "," : "");
        row_number((uint32_t)plw_reading_year(result, reading, i));
    }
}

/* "engine J: 340 V8, three two-barrels" */
static void put_field(const plw_result *result, uint32_t reading, uint32_t field)
{
    uint32_t count = plw_field_row_count(result, reading, field);
    row_put(plw_field_label(result, reading, field));
    row_put(" ");
    row_cell(text_of(code_source, result, reading, field));
    for (uint32_t i = 0; i < count; i++) {
        row_put(i ? " / " : ": ");
        row_cell(plw_field_words(result, reading, field, i));
    }
}

static void print_reading(const client_options *options, const plw_result *result, uint32_t reading)
{
    row_cell(text_of(number_source, result, PLW_NONE, 0));
    row_put("\t");
    row_cell(plw_scheme_key(options->tables, plw_reading_scheme(result, reading)));
    row_put("\t");
    put_years(result, reading);
    row_put("\t");
    for (uint32_t i = 0, any = 0; i < plw_field_count(result, reading); i++) {
        if (plw_field_is_detail(result, reading, i))
            continue;
        row_put(any++ ? "; " : "");
        put_field(result, reading, i);
    }
    row_end();
}

static int decode_number(const client_options *options, const char *number, size_t length,
                         plw_result *result)
{
    if (plw_decode(options->tables, number, length, options->hints, 0, result) != PLW_OK)
        return EXIT_DATA;
    uint32_t count = plw_reading_count(result);
    if (options->format == PLW_FORMAT_JSON) {
        print_explained(options, result);
    } else {
        for (uint32_t i = 0; i < count; i++)
            print_reading(options, result, i);
        if (count == 0) {
            row_cell(text_of(number_source, result, PLW_NONE, 0));
            row_put("\t\t\tno reading");
            row_end();
        }
    }
    return count > 0 ? EXIT_DONE : EXIT_DOUBT;
}

bool text_or_json(const client_options *options, const char *command)
{
    bool taken = options->format == PLW_FORMAT_TEXT || options->format == PLW_FORMAT_JSON;
    if (!taken)
        complain("%s writes text or json; the other formats are for explain, compare and expect",
                 command);
    return taken;
}

int decode_command(const client_options *options)
{
    if (!text_or_json(options, "decode"))
        return EXIT_USAGE;
    if (options->format == PLW_FORMAT_TEXT)
        puts("number\tscheme\tyears\tfields");
    return for_each_number(options, decode_number);
}

/* ---- validate ----------------------------------------------------------------------- */

static void put_positions(uint32_t positions)
{
    for (uint32_t p = 0, any = 0; p < PLW_MAX_POSITIONS; p++) {
        if (!(positions >> p & 1))
            continue;
        row_put(any++ ? "," : "");
        row_number(p + 1);
    }
}

/* A row: a finding, a claim behind the findings, a suggestion behind those; or
 * that there is nothing to say. */
typedef struct validate_row {
    const char *grade;
    const char *kind; /* before the name */
    const char *name;
    uint32_t reading; /* PLW_NONE: it speaks of the number itself */
    uint32_t positions;
    text_source *sentence; /* NULL: none */
    uint32_t index;
} validate_row;

static void print_row(const client_options *options, const plw_result *result,
                      const validate_row *row)
{
    row_cell(text_of(number_source, result, PLW_NONE, 0));
    row_put("\t");
    row_put(row->grade);
    row_put("\t");
    row_put(row->kind);
    row_put(row->name);
    row_put("\t");
    if (row->reading != PLW_NONE)
        row_cell(plw_scheme_key(options->tables, plw_reading_scheme(result, row->reading)));
    row_put("\t");
    if (row->reading != PLW_NONE)
        put_years(result, row->reading);
    row_put("\t");
    put_positions(row->positions);
    row_put("\t");
    if (row->sentence != NULL)
        row_cell(text_of(row->sentence, result, row->index, 0));
    row_end();
}

static validate_row clear_row(void)
{
    validate_row row = { plw_grade_name(PLW_GRADE_CLEAR), "", "", PLW_NONE, 0, NULL, 0 };
    return row;
}

static validate_row finding_row(const plw_result *result, uint32_t finding)
{
    validate_row row = { plw_grade_name(plw_finding_grade(result, finding)),
                         "",
                         plw_finding_name(result, finding),
                         plw_finding_reading(result, finding),
                         plw_finding_positions(result, finding),
                         sentence_source,
                         finding };
    return row;
}

static validate_row claim_row(const plw_result *result, uint32_t claim)
{
    const char *attribute = plw_claim_attribute(result, claim);
    validate_row row = { plw_verdict_name(plw_claim_verdict(result, claim)),
                         attribute[0] ? "claim-" : "claim",
                         attribute,
                         plw_claim_reading(result, claim),
                         plw_claim_positions(result, claim),
                         claim_source,
                         claim };
    return row;
}

static validate_row suggestion_row(const plw_result *result, uint32_t suggestion)
{
    validate_row row = { "guess",
                         "",
                         "suggestion",
                         PLW_NONE,
                         plw_suggestion_positions(result, suggestion),
                         suggestion_source,
                         suggestion };
    return row;
}

static void print_rows(const client_options *options, const plw_result *result)
{
    validate_row row = clear_row();
    if (plw_finding_count(result) == 0)
        print_row(options, result, &row);
    for (uint32_t i = 0; i < plw_finding_count(result); i++) {
        row = finding_row(result, i);
        print_row(options, result, &row);
    }
    for (uint32_t i = 0; i < plw_claim_count(result); i++) {
        row = claim_row(result, i);
        print_row(options, result, &row);
    }
    for (uint32_t i = 0; i < plw_suggestion_count(result); i++) {
        row = suggestion_row(result, i);
        print_row(options, result, &row);
    }
}

/* Validates the number and holds the claims of the command line against it. */
static int32_t validate_with_claims(const client_options *options, const char *number,
                                    size_t length, plw_result *result)
{
    int32_t status = (options->suggest ? plw_suggest : plw_validate)(
        options->tables, number, length, options->hints, 0, result);
    if (status == PLW_OK && options->claims)
        status = plw_check_claims(result, options->claims, strlen(options->claims));
    return status;
}

int exit_for_claims(const plw_result *result)
{
    for (uint32_t i = 0; i < plw_claim_count(result); i++)
        if (plw_claim_verdict(result, i) == PLW_VERDICT_CONTRADICTED)
            return EXIT_FAULT;
    return EXIT_DONE;
}

int exit_for_grade(int32_t grade)
{
    return grade == PLW_GRADE_FAULT ? EXIT_FAULT : grade == PLW_GRADE_DOUBT ? EXIT_DOUBT : EXIT_DONE;
}

static int validate_number(const client_options *options, const char *number, size_t length,
                           plw_result *result)
{
    if (validate_with_claims(options, number, length, result) != PLW_OK)
        return EXIT_DATA;
    if (options->format == PLW_FORMAT_JSON)
        print_explained(options, result);
    else
        print_rows(options, result);
    return graver(exit_for_grade(plw_result_grade(result)), exit_for_claims(result));
}

int validate_command(const client_options *options)
{
    if (!text_or_json(options, "validate"))
        return EXIT_USAGE;
    if (options->format == PLW_FORMAT_TEXT)
        puts("number\tgrade\tfinding\tscheme\tyears\tpositions\tsentence");
    return for_each_number(options, validate_number);
}

/* ---- explain ---------------------------------------------------------------------------- */

static int explain_number(const client_options *options, const char *number, size_t length,
                          plw_result *result)
{
    static bool another;
    if (validate_with_claims(options, number, length, result) != PLW_OK)
        return EXIT_DATA;
    if (another && options->format != PLW_FORMAT_JSON)
        putchar('\n');
    another = true;
    print_explained(options, result);
    return graver(plw_reading_count(result) > 0 ? EXIT_DONE : EXIT_DOUBT,
                  exit_for_claims(result));
}

int explain_command(const client_options *options)
{
    return for_each_number(options, explain_number);
}
