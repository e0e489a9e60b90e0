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
    attempts += heap_closed;
    return heap_closed ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    attempts += heap_closed;
    return heap_closed ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *memory, size_t size)
{
    attempts += heap_closed;
    return heap_closed ? NULL : __real_realloc(memory, size);
}

START_TEST(test_a_failed_allocation_is_reported)
{
    plw_result *result = (plw_result *)&attempts;
    heap_closed = 1;
    int32_t status = plw_result_new(&result);
    heap_closed = 0;
    ck_assert_int_eq(status, PLW_E_MEMORY);
    ck_assert_ptr_null(result);
    ck_assert_int_eq(attempts, 1);
}
END_TEST

START_TEST(test_no_call_needs_the_heap)
{
    static const char *const numbers[] = { "3Y86N400001", "RM23V0A149789", "1G4AH59H45G118341",
                                           "?????????????", "RM23UOA174567", "x", "" };
    static char text[1 << 20];
    plw_result *result;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    attempts = 0;
    heap_closed = 1;
    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        int32_t grade;
        size_t length = strlen(numbers[i]);
        int32_t status = plw_decode(NULL, numbers[i], length, "year=1970", 0, result);
        status |= plw_validate(NULL, numbers[i], length, NULL, 0, result);
        status |= plw_grade(NULL, numbers[i], length, NULL, 0, &grade);
        for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++)
            status |= plw_explain(result, format, PLW_EXPLAIN_SOURCES, text, sizeof text, NULL);
        if (status != PLW_OK || attempts > 0)
            break;
    }
    heap_closed = 0;
    ck_assert_int_eq(attempts, 0);
    plw_result_free(result);
}
END_TEST

START_TEST(test_free_accepts_nothing)
{
    plw_result_free(NULL);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_test(test, test_a_failed_allocation_is_reported);
    tcase_add_test(test, test_no_call_needs_the_heap);
    tcase_add_test(test, test_free_accepts_nothing);
}

int main(void)
{
    return probe_run("memory", add);
}
