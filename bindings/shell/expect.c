/* SPDX-License-Identifier: MIT
 *
 * The command expect: from claims to the numbers that could bear them.
 */
#include <string.h>

#include "client.h"

static int32_t explain_source(const void *expectation, uint32_t format, uint32_t flags,
                              char *buffer, size_t capacity, size_t *needed)
{
    return plw_explain_expectation(expectation, (int32_t)format, flags, buffer, capacity, needed);
}

static int32_t pattern_source(const void *expectation, uint32_t pattern, uint32_t unused,
                              char *buffer, size_t capacity, size_t *needed)
{
    (void)unused;
    return plw_pattern_text(expectation, pattern, buffer, capacity, needed);
}

static int32_t sentence_source(const void *expectation, uint32_t unused, uint32_t also_unused,
                               char *buffer, size_t capacity, size_t *needed)
{
    (void)unused;
    (void)also_unused;
    return plw_expectation_sentence(expectation, buffer, capacity, needed);
}

static bool tells_all(const plw_expectation *expectation, uint32_t pattern)
{
    for (uint32_t i = 0; i < plw_expectation_claim_count(expectation); i++)
        if (!plw_pattern_tells(expectation, pattern, i))
            return false;
    return true;
}

/* ---- does a pattern cover this number? ------------------------------------------- */

typedef struct number_text {
    char text[4 * PLW_MAX_TEXT]; /* as read, it may be a little longer than as typed */
} number_text;

/* The number as the scheme reads it, so that the letter O in a digit's place is 0. */
static void number_in(const plw_result *result, uint32_t scheme, number_text *number)
{
    for (uint32_t i = 0; i < plw_reading_count(result); i++)
        if (plw_reading_scheme(result, i) == scheme &&
            plw_reading_number(result, i, number->text, sizeof number->text, NULL) == PLW_OK)
            return;
    plw_result_number(result, number->text, sizeof number->text, NULL);
}

static void print_covered(const client_options *options, const plw_expectation *expectation,
                          uint32_t pattern, int32_t covered, uint32_t position)
{
    static const char *const names[] = { "not covered", "covered", "open" };
    fputs(text_of(pattern_source, expectation, pattern, 0), stdout);
    printf("\t%s\t%s\t", plw_scheme_key(options->tables, plw_pattern_scheme(expectation, pattern)),
           names[covered]);
    if (position > 0)
        printf("%u", (unsigned)position);
    printf("\t%s\n", tells_all(expectation, pattern) ? "all" : "some");
}

static int exit_for_covered(int32_t covered)
{
    return covered == PLW_COVERED ? EXIT_DONE : covered == PLW_COVERED_OPEN ? EXIT_DOUBT
                                                                            : EXIT_FAULT;
}

/* One row for each pattern of the number's length; the best of them is what counts. */
static int print_all_covered(const client_options *options, const plw_expectation *expectation,
                             const plw_result *result)
{
    int best = EXIT_FAULT;
    puts("pattern\tscheme\tcovered\tposition\tclaims told");
    for (uint32_t i = 0; i < plw_pattern_count(expectation); i++) {
        uint32_t scheme = plw_pattern_scheme(expectation, i), position;
        uint32_t layout = plw_pattern_layout(expectation, i);
        const char *pattern = text_of(pattern_source, expectation, i, 0);
        int32_t covered;
        number_text number;
        if (plw_layout_length(options->tables, scheme, layout) !=
            plw_result_position_count(result))
            continue;
        number_in(result, scheme, &number);
        if (plw_pattern_covers(pattern, strlen(pattern), number.text, strlen(number.text),
                               &covered, &position) != PLW_OK)
            continue;
        print_covered(options, expectation, i, covered, position);
        if (exit_for_covered(covered) < best)
            best = exit_for_covered(covered);
    }
    return best;
}

static int covers(const client_options *options, const plw_expectation *expectation)
{
    plw_result *result;
    if (plw_result_new(&result) != PLW_OK) {
        complain("%s", plw_status_text(PLW_E_MEMORY));
        return EXIT_NO_INPUT;
    }
    int status = EXIT_DATA;
    if (plw_decode(options->tables, options->covers, strlen(options->covers), options->hints, 0,
                   result) != PLW_OK)
        complain("%s", plw_status_text(PLW_E_TOO_LONG));
    else if (plw_pattern_count(expectation) == 0)
        complain("%s", text_of(sentence_source, expectation, 0, 0));
    else
        status = print_all_covered(options, expectation, result);
    plw_result_free(result);
    return plw_pattern_count(expectation) == 0 ? EXIT_FAULT : status;
}

/* ---- the command -------------------------------------------------------------------- */

static int exit_for_patterns(const plw_expectation *expectation)
{
    return plw_pattern_count(expectation) == 0 ? EXIT_FAULT
           : tells_all(expectation, 0)         ? EXIT_DONE
                                               : EXIT_DOUBT;
}

static int print_expected(const client_options *options, plw_expectation *expectation)
{
    plw_expectation_use_names(expectation, options->names);
    plw_expect(options->tables, options->claims, strlen(options->claims), options->hints, 0,
               expectation);
    if (options->covers)
        return covers(options, expectation);
    fputs(text_of(explain_source, expectation, (uint32_t)options->format, options->flags),
          stdout);
    return exit_for_patterns(expectation);
}

int expect_command(const client_options *options)
{
    plw_expectation *expectation;
    if (options->claims == NULL) {
        complain("expect needs claims; write 'ATTRIBUTE=VALUE', such as 'year=1971; "
                 "body=convertible'");
        return EXIT_USAGE;
    }
    if (options->format == PLW_FORMAT_SVG) {
        complain("expect writes text, markdown, json or html");
        return EXIT_USAGE;
    }
    if (plw_expectation_new(&expectation) != PLW_OK) {
        complain("%s", plw_status_text(PLW_E_MEMORY));
        return EXIT_NO_INPUT;
    }
    int status = print_expected(options, expectation);
    plw_expectation_free(expectation);
    return status;
}
