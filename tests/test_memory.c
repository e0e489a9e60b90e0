/* SPDX-License-Identifier: MIT
 *
 * Memory: with a reused result no call touches the heap, and where the one
 * allocation fails the library says so. malloc and its kin are wrapped by the
 * linker; they fail while the heap is closed.
 */
#include <string.h>

#include "probe.h"

static int heap_closed;
static int attempts;

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *memory, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *memory, size_t size);

void *__wrap_malloc(size_t size)
{
    attempts++;
    return heap_closed ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    attempts++;
    return heap_closed ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *memory, size_t size)
{
    attempts++;
    return heap_closed ? NULL : __real_realloc(memory, size);
}

START_TEST(test_a_failed_allocation_is_reported)
{
    plw_result *result = (plw_result *)&attempts;
    attempts = 0;
    heap_closed = 1;
    int32_t status = plw_result_new(&result);
    heap_closed = 0;
    int made = attempts; /* Check allocates, too */
    ck_assert_int_eq(status, PLW_E_MEMORY);
    ck_assert_ptr_null(result);
    ck_assert_int_eq(made, 1);
    plw_expectation *expectation = (plw_expectation *)&attempts;
    heap_closed = 1;
    status = plw_expectation_new(&expectation);
    heap_closed = 0;
    ck_assert_int_eq(status, PLW_E_MEMORY);
    ck_assert_ptr_null(expectation);
}
END_TEST

START_TEST(test_no_call_needs_the_heap)
{
    static const char *const numbers[] = { "3Y86N400001", "RM23V0A149789", "1G4AH59H45G118341",
                                           "?????????????", "RM23UOA174567", "x", "" };
    static char text[1 << 20];
    plw_result *result;
    plw_names *names;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    ck_assert_int_eq(plw_names_new(NULL, "field/engine = motor\nnonsense", 29, &names), PLW_OK);
    attempts = 0;
    heap_closed = 1;
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        int32_t grade;
        size_t length = strlen(numbers[i]);
        int32_t status = plw_result_use_names(result, i % 2 ? names : NULL);
        status |= plw_names_problem_text(names, 0, text, sizeof text, NULL);
        status |= plw_decode(NULL, numbers[i], length, "year=1970", 0, result);
        status |= plw_validate(NULL, numbers[i], length, NULL, 0, result);
        status |= plw_grade(NULL, numbers[i], length, NULL, 0, &grade);
        status |= plw_prefix(NULL, numbers[i], length, 0, result);
        status |= plw_suggest(NULL, numbers[i], length, NULL, 0, result);
        for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_SVG; format++)
            status |= plw_explain(result, format, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL);
        if (status != PLW_OK || attempts > 0)
            break;
    }
    heap_closed = 0;
    int made = attempts;
    ck_assert_int_eq(made, 0);
    plw_names_free(names);
    plw_result_free(result);
}
END_TEST

START_TEST(test_names_are_one_allocation)
{
    static const char text[] = "field/engine = motor\nfield/engine = again\nnonsense\n";
    plw_names *names = (plw_names *)&attempts;
    heap_closed = 1;
    int32_t status = plw_names_new(NULL, text, sizeof text - 1, &names);
    heap_closed = 0;
    ck_assert_int_eq(status, PLW_E_MEMORY);
    ck_assert_ptr_null(names);
    attempts = 0;
    status = plw_names_new(NULL, text, sizeof text - 1, &names);
    int made = attempts;
    ck_assert_int_eq(status, PLW_OK);
    ck_assert_int_eq(made, 1);
    plw_names_free(names);
}
END_TEST

/* A car is one allocation, and holding its plates against each other is none. */
START_TEST(test_a_car_is_one_allocation)
{
    static const char *const plates[] = { "RM23V0A149789", "0A149?89", "0A149780", "?", "x" };
    static char text[1 << 18];
    plw_car *car = (plw_car *)&attempts;
    heap_closed = 1;
    int32_t refused = plw_car_new(&car);
    heap_closed = 0;
    ck_assert_int_eq(refused, PLW_E_MEMORY);
    ck_assert_ptr_null(car);
    attempts = 0;
    int32_t status = plw_car_new(&car);
    heap_closed = 1;
    for (size_t i = 0; i < sizeof plates / sizeof *plates; i++)
        status |= plw_car_add_plate(car, (int32_t)i + 1, plates[i], strlen(plates[i]));
    status |= plw_compare(NULL, car, "maker=x", 0);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++)
        status |= plw_explain_car(car, format, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL);
    heap_closed = 0;
    int made = attempts;
    ck_assert_int_eq(status, PLW_OK);
    ck_assert_int_eq(made, 1);
    plw_car_free(car);
}
END_TEST

START_TEST(test_free_accepts_nothing)
{
    plw_car_free(NULL);
    plw_names_free(NULL);
    plw_result_free(NULL);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_a_failed_allocation_is_reported);
    tcase_add_test(test, test_no_call_needs_the_heap);
    tcase_add_test(test, test_names_are_one_allocation);
    tcase_add_test(test, test_a_car_is_one_allocation);
    tcase_add_test(test, test_free_accepts_nothing);
}

int main(void)
{
    return probe_run("memory", add);
}
