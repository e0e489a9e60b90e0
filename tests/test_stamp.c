/* SPDX-License-Identifier: MIT
 *
 * What partial stamps on a car of a number show.
 */
#include <string.h>

#include "fixture.h"
#include "probe.h"

static const struct {
    const char *number;
    const char *stamps; /* joined by a blank */
} states[] = {
    { "T24M6P100051", "6P100051" },
    { "t24-m6 P 1OO051", "6P100051" }, /* as the reading has it */
    { "T24M6?100051", "6?100051" },
    { "T24M6P10005[18]", "6P10005[18]" },
    { "T24R4P100051", "" }, /* before the row's first year */
    { "XTA3012345", "" },   /* the scheme has none */
    { "12", "" },
};

START_TEST(test_state)
{
    char all[200] = "", one[100];
    const plw_result *r = probe_decode(fixture_tables(), states[_i].number, NULL);
    for (uint32_t i = 0; i < plw_stamp_count(r, 0); i++) {
        ck_assert_int_eq(plw_stamp_text(r, 0, i, one, sizeof one, NULL), PLW_OK);
        strcat(strcat(all, i ? " " : ""), one);
    }
    ck_assert_str_eq(all, states[_i].stamps);
}
END_TEST

START_TEST(test_row)
{
    const plw_tables *t = fixture_tables();
    const plw_result *r = probe_decode(t, "T24M6P100051", NULL);
    ck_assert_str_eq(plw_row_field(t, plw_stamp_row(r, 0, 0)), "partial_stamp");
}
END_TEST

START_TEST(test_out_of_range)
{
    char text[8] = "x";
    size_t needed = 9;
    const plw_result *r = probe_decode(fixture_tables(), "T24M6P100051", NULL);
    ck_assert_uint_eq(plw_stamp_count(NULL, 0), 0);
    ck_assert_uint_eq(plw_stamp_count(r, 9), 0);
    ck_assert_uint_eq(plw_stamp_row(r, 0, 1), PLW_NONE);
    ck_assert_uint_eq(plw_stamp_row(NULL, 0, 0), PLW_NONE);
    ck_assert_int_eq(plw_stamp_text(r, 0, 1, text, sizeof text, &needed), PLW_E_ARGUMENT);
    ck_assert_str_eq(text, "");
    ck_assert_uint_eq(needed, 0);
    ck_assert_int_eq(plw_stamp_text(r, 0, 0, text, sizeof text, &needed), PLW_E_SHORT);
    ck_assert_uint_eq(needed, 9);
}
END_TEST

/* A stamp laid on its own number agrees with it, in every scheme. */
START_TEST(test_stamps_of_samples_agree)
{
    uint32_t tried = 0;
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++)
        for (uint32_t layout = 0; layout < plw_layout_count(NULL, scheme); layout++) {
            const char *sample = plw_layout_sample(NULL, scheme, layout);
            const plw_result *r = probe_decode(NULL, sample, NULL);
            for (uint32_t i = 0; i < plw_stamp_count(r, 0); i++) {
                char stamp[100];
                plw_car *car = probe_car();
                ck_assert_int_eq(plw_stamp_text(r, 0, i, stamp, sizeof stamp, NULL), PLW_OK);
                plw_car_clear(car);
                plw_car_add_plate(car, PLW_PLACE_DASH, sample, strlen(sample));
                plw_car_add_plate(car, PLW_PLACE_ENGINE, stamp, strlen(stamp));
                ck_assert_int_eq(plw_compare(NULL, car, NULL, 0), PLW_OK);
                ck_assert_msg(plw_car_verdict(car) != PLW_PLATE_DIFFERS, "%s, %s", sample, stamp);
                tried++;
            }
        }
    ck_assert_uint_gt(tried, 5);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_state, 0, (int)(sizeof states / sizeof states[0]));
    tcase_add_test(test, test_row);
    tcase_add_test(test, test_out_of_range);
    tcase_add_test(test, test_stamps_of_samples_agree);
}

int main(void)
{
    return probe_run("stamp", add);
}
