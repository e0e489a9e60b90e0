/* SPDX-License-Identifier: MIT
 *
 * What the harnesses share: one result, one buffer, and readers of all that a
 * result has to say.
 */
#include "fuzz.h"

#include <string.h>

plw_result *fuzz_result(void)
{
    static plw_result *result;
    if (result == NULL)
        MUST(plw_result_new(&result) == PLW_OK);
    return result;
}

char *fuzz_buffer(void)
{
    static char buffer[FUZZ_TEXT];
    return buffer;
}

fuzz_line fuzz_next_line(const uint8_t **data, size_t *size)
{
    const uint8_t *end = *size > 0 ? memchr(*data, '\n', *size) : NULL;
    size_t length = end ? (size_t)(end - *data) : *size;
    fuzz_line line = { (const char *)*data, length };
    size_t taken = end ? length + 1 : length;
    *data += taken;
    *size -= taken;
    return line;
}

static int is_continuation(unsigned char byte)
{
    return (byte & 0xC0) == 0x80;
}

static int is_utf8(const char *text)
{
    const unsigned char *at = (const unsigned char *)text;
    while (*at) {
        int more = *at < 0x80 ? 0 : *at >= 0xF0 ? 3 : *at >= 0xE0 ? 2 : *at >= 0xC2 ? 1 : -1;
        if (more < 0)
            return 0;
        for (at++; more > 0; more--, at++) {
            if (!is_continuation(*at))
                return 0;
        }
    }
    return 1;
}

void fuzz_check_text(int32_t status, const char *buffer, size_t capacity, size_t needed)
{
    if (status == PLW_E_SHORT) {
        MUST(needed > capacity);
        MUST(capacity == 0 || buffer[0] == '\0');
        return;
    }
    if (status != PLW_OK)
        return;
    MUST(needed == strlen(buffer) + 1);
    MUST(is_utf8(buffer));
    for (const char *at = buffer; *at; at++)
        MUST((unsigned char)*at >= 0x20 || *at == '\n');
}

static void check_positions(const plw_result *result, uint32_t positions)
{
    uint32_t count = plw_result_position_count(result);
    MUST(count >= PLW_MAX_POSITIONS || (positions >> count) == 0);
}

static void read_field(const plw_result *result, uint32_t reading, uint32_t field)
{
    size_t needed = 0;
    int32_t status = plw_field_code(result, reading, field, fuzz_buffer(), FUZZ_TEXT, &needed);
    MUST(status == PLW_OK);
    fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
    MUST(plw_field_label(result, reading, field)[0] != '\0');
    for (uint32_t i = 0; i < plw_field_row_count(result, reading, field); i++)
        MUST(plw_field_row(result, reading, field, i) != PLW_NONE);
}

static void read_readings(const plw_result *result)
{
    MUST(plw_reading_count(result) <= PLW_MAX_READINGS);
    for (uint32_t i = 0; i < plw_reading_count(result); i++) {
        int32_t before = 0;
        for (uint32_t j = 0; j < plw_reading_year_count(result, i); j++) {
            MUST(plw_reading_year(result, i, j) > before);
            before = plw_reading_year(result, i, j);
        }
        for (uint32_t j = 0; j < plw_field_count(result, i); j++)
            read_field(result, i, j);
    }
}

static void read_findings(const plw_result *result)
{
    int32_t before = PLW_GRADE_FAULT;
    MUST(plw_finding_count(result) <= PLW_MAX_FINDINGS);
    for (uint32_t i = 0; i < plw_finding_count(result); i++) {
        size_t needed = 0;
        int32_t status = plw_finding_sentence(result, i, fuzz_buffer(), FUZZ_TEXT, &needed);
        MUST(status == PLW_OK && needed > 1);
        fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
        MUST(plw_finding_grade(result, i) <= before);
        before = plw_finding_grade(result, i);
        check_positions(result, plw_finding_positions(result, i));
    }
}

void fuzz_read_result(const plw_result *result)
{
    size_t needed = 0;
    int32_t status = plw_result_number(result, fuzz_buffer(), FUZZ_TEXT, &needed);
    MUST(status == PLW_OK);
    fuzz_check_text(status, fuzz_buffer(), FUZZ_TEXT, needed);
    read_readings(result);
    read_findings(result);
}
