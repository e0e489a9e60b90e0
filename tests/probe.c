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

/* ---- markup -------------------------------------------------------------------- */

char probe_unescaped(const char **at)
{
    static const char *const entities[] = { "&lt;", "&gt;", "&amp;", "&quot;", "&#39;" };
    for (size_t i = 0; i < sizeof entities / sizeof *entities; i++) {
        size_t length = strlen(entities[i]);
        if (strncmp(*at, entities[i], length) == 0) {
            *at += length;
            return "<>&\"'"[i];
        }
    }
    return *(*at)++;
}

const char *probe_shown(const char *markup)
{
    static char shown[1 << 19];
    size_t length = 0;
    while (*markup) {
        if (strncmp(markup, "<style>", 7) == 0)
            markup = strstr(markup, "</style>");
        if (*markup == '<') {
            markup = strchr(markup, '>') + 1;
            continue;
        }
        char c = probe_unescaped(&markup);
        if (c == '\n')
            c = ' ';
        if (c != ' ' || (length > 0 && shown[length - 1] != ' '))
            shown[length++] = c;
        ck_assert_uint_lt(length, sizeof shown);
    }
    shown[length] = '\0';
    return shown;
}

/* ---- cars --------------------------------------------------------------------- */

plw_car *probe_car(void)
{
    static plw_car *car;
    if (car == NULL)
        ck_assert_int_eq(plw_car_new(&car), PLW_OK);
    return car;
}

static int32_t place_named(const char *name, size_t length)
{
    for (int32_t place = PLW_PLACE_DASH; place <= PLW_PLACE_BODY; place++)
        if (strlen(plw_place_name(place)) == length &&
            strncmp(plw_place_name(place), name, length) == 0)
            return place;
    ck_abort_msg("no place %s", name);
    return 0;
}

void probe_add_plates(plw_car *car, const char *plates)
{
    while (*plates) {
        size_t name = strcspn(plates, "="), length = strcspn(plates + name + 1, ";");
        int32_t place = place_named(plates, name);
        ck_assert_int_eq(plw_car_add_plate(car, place, plates + name + 1, length), PLW_OK);
        plates += name + 1 + length;
        plates += *plates == ';';
    }
}

plw_car *probe_compare(const plw_tables *tables, const char *plates, const char *hints)
{
    plw_car *car = probe_car();
    plw_car_clear(car);
    probe_add_plates(car, plates);
    ck_assert_int_eq(plw_compare(tables, car, hints, 0), PLW_OK);
    return car;
}

/* ---- running ------------------------------------------------------------------- */

static TCase *case_of(const char *name, void (*add)(TCase *test))
{
    TCase *test = tcase_create(name);
    tcase_set_timeout(test, 300);
    add(test);
    return test;
}

static Suite *suite_of(const char *name, void (*add)(TCase *test))
{
    Suite *suite = suite_create(name);
    suite_add_tcase(suite, case_of(name, add));
    return suite;
}

static int run(Suite *suite, enum fork_status fork_status, enum print_output output)
{
    SRunner *runner = srunner_create(suite);
    srunner_set_fork_status(runner, fork_status);
    srunner_run_all(runner, output);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

int probe_run(const char *name, void (*add)(TCase *test))
{
    return run(suite_of(name, add), CK_FORK_GETENV, CK_NORMAL);
}

int probe_run_long(const char *name, void (*add)(TCase *test), void (*add_long)(TCase *test))
{
    Suite *suite = suite_of(name, add);
    TCase *test = case_of("long", add_long);
    tcase_set_tags(test, "long");
    suite_add_tcase(suite, test);
    return run(suite, CK_FORK_GETENV, CK_NORMAL);
}

int probe_print(const char *name, void (*add)(TCase *test))
{
    return run(suite_of(name, add), CK_NOFORK, CK_SILENT);
}
