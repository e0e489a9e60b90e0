/* SPDX-License-Identifier: MIT
 *
 * A program of an embedder who built it with release 1.0 and never again: it is
 * compiled with that release's header and has to run with every later library
 * of the same major version. tests/repository/abi.sh does so.
 */
#include <platewright.h>

#include <stdio.h>
#include <string.h>

static char text[1 << 18];

/* Every verb, once, and something of what each of them found. */
static int32_t read_one(const char *number, plw_result *result)
{
    int32_t status = plw_suggest(NULL, number, strlen(number), "year=1968", 0, result);
    status |= plw_check_claims(result, "year=1968", 9);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        status |= plw_explain(result, format, 0, text, sizeof text, NULL);
    status |= plw_prefix(NULL, number, 3, 0, result);
    status |= plw_validate(NULL, number, strlen(number), NULL, 0, result);
    return status;
}

static int32_t compare_two(const char *full, const char *stamp, plw_car *car)
{
    int32_t status = plw_car_add_plate(car, PLW_PLACE_DASH, full, strlen(full));
    status |= plw_car_add_plate(car, PLW_PLACE_ENGINE, stamp, strlen(stamp));
    status |= plw_car_add_date(car, PLW_DATE_BODY_TAG, "C18", 3);
    status |= plw_compare(NULL, car, NULL, 0);
    status |= plw_explain_car(car, PLW_FORMAT_JSON, 0, text, sizeof text, NULL);
    return status;
}

static int32_t expect_one(plw_expectation *expectation)
{
    return plw_expect(NULL, "year=1968", 9, NULL, 0, expectation);
}

int main(void)
{
    static const char number[] = "1G4AH59H45G118341";
    plw_result *result;
    plw_car *car;
    plw_expectation *expectation;
    int32_t row[PLW_BATCH_COLUMNS];
    size_t end = sizeof number - 1;

    if (plw_version_number() / 10000 != PLW_VERSION_NUMBER / 10000 ||
        plw_version_number() < PLW_VERSION_NUMBER)
        return 1;
    if (plw_result_new(&result) != PLW_OK || plw_car_new(&car) != PLW_OK ||
        plw_expectation_new(&expectation) != PLW_OK)
        return 1;
    if (read_one(number, result) != PLW_OK || plw_reading_count(result) == 0 ||
        plw_result_grade(result) != PLW_GRADE_CLEAR)
        return 1;
    if (compare_two("RM23V0A149789", "0A149789", car) != PLW_OK ||
        plw_car_verdict(car) != PLW_PLATE_AGREES)
        return 1;
    if (expect_one(expectation) != PLW_OK)
        return 1;
    if (plw_batch(NULL, number, &end, 1, NULL, 0, row) != PLW_OK ||
        row[PLW_BATCH_GRADE] != PLW_GRADE_CLEAR)
        return 1;
    printf("%s runs with %s\n", PLW_VERSION_TEXT, plw_version_text());
    plw_expectation_free(expectation);
    plw_car_free(car);
    plw_result_free(result);
    return 0;
}
