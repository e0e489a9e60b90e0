/* SPDX-License-Identifier: MIT
 *
 * The first byte chooses the verb and the output, the second the room for it,
 * the rest is a number and, behind a line end, hints.
 */
#include "fuzz.h"

#include <string.h>

static void explain(const plw_result *result, uint8_t choice, uint8_t room)
{
    size_t needed = 0, capacity = room < 200 ? FUZZ_TEXT : room;
    int32_t format = choice % (PLW_FORMAT_HTML + 1);
    uint32_t flags = choice & 0x80 ? PLW_EXPLAIN_SOURCES : 0;
    int32_t status = plw_explain(result, format, flags, fuzz_buffer(), capacity, &needed);
    MUST(status == PLW_OK || (status == PLW_E_SHORT && capacity < FUZZ_TEXT));
    fuzz_check_text(status, fuzz_buffer(), capacity, needed);
}

static void read_positions(const plw_result *result)
{
    for (uint32_t i = 0; i < plw_reading_count(result); i++) {
        for (uint32_t p = 1; p <= PLW_MAX_POSITIONS; p++) {
            for (uint32_t c = 0; c < plw_possible_count(result, i, p); c++)
                MUST(plw_possible_character(result, i, p, c) > ' ');
        }
    }
}

static void read_suggestions(const plw_result *result)
{
    MUST(plw_suggestion_count(result) <= PLW_MAX_SUGGESTIONS);
    for (uint32_t i = 0; i < plw_suggestion_count(result); i++) {
        size_t needed = 0;
        int32_t status = plw_suggestion_sentence(result, i, fuzz_buffer(), FUZZ_TEXT, &needed);
        MUST(status == PLW_OK);
        fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
        MUST(plw_suggestion_grade(result, i) < plw_result_grade(result));
    }
}

static void prefix(const char *text, size_t length)
{
    plw_result *result = fuzz_result();
    size_t needed = 0;
    int32_t status = plw_prefix(NULL, text, length, 0, result);
    MUST(status == PLW_OK || status == PLW_E_TOO_LONG);
    if (status != PLW_OK)
        return;
    MUST(plw_prefix_remaining_min(result) <= plw_prefix_remaining_max(result));
    status = plw_prefix_allowed(result, fuzz_buffer(), FUZZ_TEXT, &needed);
    fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
}

void fuzz_number(const uint8_t *data, size_t size)
{
    char hints[PLW_MAX_HINTS + 2];
    if (size < 2)
        return;
    uint8_t choice = data[0], room = data[1];
    data += 2;
    size -= 2;
    fuzz_line number = fuzz_next_line(&data, &size);
    size_t length = size < sizeof hints ? size : sizeof hints - 1;
    if (length > 0)
        memcpy(hints, data, length);
    hints[length] = '\0';
    if ((choice & 0x60) == 0x60) {
        prefix(number.text, number.length);
        return;
    }
    plw_result *result = fuzz_result();
    int32_t status, grade = -1;
    if (choice & 0x40)
        status = plw_suggest(NULL, number.text, number.length, hints, 0, result);
    else if (choice & 0x20)
        status = plw_decode(NULL, number.text, number.length, hints, 0, result);
    else
        status = plw_validate(NULL, number.text, number.length, hints, 0, result);
    MUST(status == PLW_OK || status == PLW_E_TOO_LONG || status == PLW_E_HINT);
    MUST(status == PLW_OK || plw_reading_count(result) == 0);
    fuzz_read_result(result);
    if (status != PLW_OK)
        return;
    if (choice & 0x40)
        read_suggestions(result);
    if (choice & 0x10)
        read_positions(result);
    if ((choice & 0x60) == 0) {
        MUST(plw_grade(NULL, number.text, number.length, hints, 0, &grade) == PLW_OK);
        MUST(grade == plw_result_grade(result));
    }
    if (room & 1)
        explain(result, choice, room);
}
