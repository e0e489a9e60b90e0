/* SPDX-License-Identifier: MIT
 *
 * A car: each line is a plate ("1" to "7", its place, then the text), a date
 * ("d", its kind, then the text) or claims ("c", then the text).
 */
#include "fuzz.h"

static plw_car *one_car(void)
{
    static plw_car *car;
    if (car == NULL)
        MUST(plw_car_new(&car) == PLW_OK);
    plw_car_clear(car);
    return car;
}

static void add(plw_car *car, fuzz_line line, fuzz_line *claims)
{
    if (line.length == 0)
        return;
    if (line.text[0] == 'c') {
        claims->text = line.text + 1;
        claims->length = line.length - 1;
    } else if (line.text[0] == 'd' && line.length > 1) {
        plw_car_add_date(car, line.text[1] - '0', line.text + 2, line.length - 2);
    } else {
        plw_car_add_plate(car, line.text[0] - '0', line.text + 1, line.length - 1);
    }
}

static void read_plates(const plw_car *car)
{
    MUST(plw_plate_count(car) <= PLW_MAX_PLATES);
    MUST(plw_joined_count(car) <= PLW_MAX_JOINED);
    MUST(plw_difference_count(car) <= PLW_MAX_DIFFERENCES);
    for (uint32_t i = 0; i < plw_plate_count(car); i++) {
        size_t needed = 0;
        int32_t status = plw_plate_sentence(car, i, fuzz_buffer(), FUZZ_TEXT, &needed);
        MUST(status == PLW_OK);
        fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
        for (uint32_t j = 0; j < plw_plate_count(car); j++)
            MUST((plw_plate_differs(car, i, j) & ~plw_plate_compared(car, i, j)) == 0);
    }
}

void fuzz_car(const uint8_t *data, size_t size)
{
    plw_car *car = one_car();
    fuzz_line claims = { "", 0 };
    while (size > 0)
        add(car, fuzz_next_line(&data, &size), &claims);
    MUST(plw_compare(NULL, car, NULL, 0) == PLW_OK);
    int32_t status = plw_car_check_claims(car, claims.text, claims.length);
    MUST(status == PLW_OK || status == PLW_E_CLAIM || status == PLW_E_TOO_LONG);
    read_plates(car);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++) {
        size_t needed = 0;
        status = plw_explain_car(car, format, 0, fuzz_buffer(), FUZZ_TEXT, &needed);
        MUST(status == PLW_OK);
        fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
    }
}
