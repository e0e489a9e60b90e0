/* SPDX-License-Identifier: MIT */
#include "probe.h"

#include <stdio.h>
#include <string.h>

#define TEXT_SIZE 4096

static plw_result *shared_result(void)
{
    static plw_result *result;
    if (result == NULL)
        ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    return result;
}

static char *next_text(void)
{
    static char texts[8][TEXT_SIZE];
    static int turn;
    turn = (turn + 1) % 8;
    texts[turn][0] = '\0';
    return texts[turn];
}

plw_result *probe_validate(const plw_tables *tables, const char *number, const char *hints)
{
    plw_result *result = shared_result();
    ck_assert_int_eq(plw_validate(tables, number, strlen(number), hints, 0, result), PLW_OK);
    return result;
}

plw_result *probe_decode(const plw_tables *tables, const char *number, const char *hints)
{
    plw_result *result = shared_result();
    ck_assert_int_eq(plw_decode(tables, number, strlen(number), hints, 0, result), PLW_OK);
    return result;
}

const char *probe_years(const plw_result *result, uint32_t reading)
{
    char *text = next_text();
    for (uint32_t i = 0; i < plw_reading_year_count(result, reading); i++)
        sprintf(text + strlen(text), "%s%d", i ? "," : "", plw_reading_year(result, reading, i));
    return text;
}

const char *probe_scheme(const plw_tables *tables, const plw_result *result, uint32_t reading)
{
    return plw_scheme_key(tables, plw_reading_scheme(result, reading));
}

const char *probe_number(const plw_result *result, uint32_t reading)
{
    char *text = next_text();
    ck_assert_int_eq(plw_reading_number(result, reading, text, TEXT_SIZE, NULL), PLW_OK);
    return text;
}

uint32_t probe_field(const plw_result *result, uint32_t reading, const char *field)
{
    for (uint32_t i = 0; i < plw_field_count(result, reading); i++)
        if (strcmp(plw_field_name(result, reading, i), field) == 0)
            return i;
    return PLW_NONE;
}

const char *probe_words(const plw_tables *tables, const plw_result *result, uint32_t reading,
                        const char *field)
{
    uint32_t index = probe_field(result, reading, field);
    char *text = next_text();
    if (index == PLW_NONE)
        return "?";
    for (uint32_t i = 0; i < plw_field_row_count(result, reading, index); i++) {
        const char *words = plw_row_words(tables, plw_field_row(result, reading, index, i));
        if (strlen(text) + strlen(words) + 4 > TEXT_SIZE)
            break;
        strcat(text, i ? " / " : "");
        strcat(text, words);
    }
    return text;
}

const char *probe_code(const plw_result *result, uint32_t reading, const char *field)
{
    uint32_t index = probe_field(result, reading, field);
    char *text = next_text();
    if (index != PLW_NONE)
        ck_assert_int_eq(plw_field_code(result, reading, index, text, TEXT_SIZE, NULL), PLW_OK);
    return text;
}

const char *probe_findings(const plw_result *result, uint32_t reading)
{
    char *text = next_text();
    for (uint32_t i = 0; i < plw_finding_count(result); i++) {
        if (plw_finding_reading(result, i) != reading)
            continue;
        strcat(text, text[0] ? " " : "");
        strcat(text, plw_finding_name(result, i));
    }
    return text;
}

uint32_t probe_finding(const plw_result *result, int32_t code)
{
    for (uint32_t i = 0; i < plw_finding_count(result); i++)
        if (plw_finding_code(result, i) == code)
            return i;
    return PLW_NONE;
}

const char *probe_sentence(const plw_result *result, int32_t code)
{
    char *text = next_text();
    uint32_t finding = probe_finding(result, code);
    if (finding != PLW_NONE)
        ck_assert_int_eq(plw_finding_sentence(result, finding, text, TEXT_SIZE, NULL), PLW_OK);
    return text;
}

int probe_run(const char *name, void (*add)(TCase *test))
{
    Suite *suite = suite_create(name);
    TCase *test = tcase_create(name);
    tcase_set_timeout(test, 300);
    add(test);
    suite_add_tcase(suite, test);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
