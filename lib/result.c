/* SPDX-License-Identifier: MIT
 *
 * The result object and what a host may ask of it.
 */
#include "internal.h"
#include "memory.h"
#include "names.h"

/* ---- the object ------------------------------------------------------------ */

void plwi_clear(plw_result *result, const plw_tables *tables)
{
    result->tables = tables;
    result->number.count = 0;
    result->reading_count = 0;
    result->slot_count = 0;
    result->row_count = 0;
    result->finding_count = 0;
    result->claims.count = 0;
    result->length_known = 0;
    result->capped = 0;
    result->grade = PLW_GRADE_CLEAR;
    result->prefix.state = PLW_PREFIX_IMPOSSIBLE;
    result->prefix.scheme_count = 0;
    result->prefix.allowed = result->prefix.known = 0;
    result->prefix.left_min = result->prefix.left_max = 0;
    result->suggestions.asked = result->suggestions.count = 0;
    result->suggestions.found = 0;
}

size_t plw_result_size(void)
{
    return sizeof(plw_result);
}

int32_t plw_result_place(void *memory, size_t size, plw_result **result)
{
    if (result == NULL)
        return PLW_E_ARGUMENT;
    *result = NULL;
    int32_t status = plwi_can_hold(memory, size, sizeof(plw_result));
    if (status != PLW_OK)
        return status;
    *result = memory;
    (*result)->names = NULL;
    plwi_clear(*result, NULL);
    return PLW_OK;
}

int32_t plw_result_new(plw_result **result)
{
    if (result == NULL)
        return PLW_E_ARGUMENT;
    *result = plwi_allocate(sizeof(plw_result));
    if (*result == NULL)
        return PLW_E_MEMORY;
    (*result)->names = NULL;
    plwi_clear(*result, NULL);
    return PLW_OK;
}

void plw_result_free(plw_result *result)
{
    plwi_release(result);
}

int32_t plw_result_use_names(plw_result *result, const plw_names *names)
{
    if (result == NULL)
        return PLW_E_ARGUMENT;
    result->names = names;
    return PLW_OK;
}

/* ---- the number -------------------------------------------------------------- */

static uint32_t kept_positions(const plw_result *result)
{
    return result->number.count < MAX_POSITIONS ? result->number.count : MAX_POSITIONS;
}

/* A character as it was read: odd ones in UTF-8. */
static void put_code_point(plwi_writer *writer, uint32_t code)
{
    if (code < 0x80) {
        plwi_put_char(writer, (char)code);
        return;
    }
    unsigned char bytes[4];
    size_t length = code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    for (size_t i = length - 1; i > 0; i--, code >>= 6)
        bytes[i] = (unsigned char)(0x80 | (code & 0x3F));
    bytes[0] = (unsigned char)(0xF00u >> length | code);
    plwi_put(writer, (const char *)bytes, length);
}

void plwi_put_set(plwi_writer *writer, uint64_t set)
{
    for (set &= ALL_CHARACTERS; set; set &= set - 1)
        plwi_put_char(writer, plwi_character(plwi_lowest_bit(set)));
}

void plwi_put_typed(plwi_writer *writer, const plwi_cell *cell)
{
    if (cell->shown == SHOWN_ALTERNATIVES) {
        plwi_put_char(writer, '[');
        plwi_put_set(writer, cell->set);
        plwi_put_char(writer, ']');
    } else {
        put_code_point(writer, cell->shown);
    }
}

int32_t plw_result_number(const plw_result *result, char *buffer, size_t capacity, size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (result == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    for (uint32_t p = 0; p < kept_positions(result); p++)
        plwi_put_typed(&writer, &result->number.cell[p]);
    return plwi_writer_end(&writer, needed);
}

uint32_t plw_result_position_count(const plw_result *result)
{
    return result ? result->number.count : 0;
}

int32_t plw_result_position(const plw_result *result, uint32_t position, size_t *offset,
                            size_t *length)
{
    if (result == NULL || position == 0 || position > kept_positions(result))
        return PLW_E_ARGUMENT;
    const plwi_cell *cell = &result->number.cell[position - 1];
    if (offset)
        *offset = cell->offset;
    if (length)
        *length = cell->length;
    return PLW_OK;
}

/* ---- readings ------------------------------------------------------------------ */

static const plwi_reading *reading_at(const plw_result *result, uint32_t index)
{
    return result && index < result->reading_count ? &result->readings[index] : NULL;
}

uint32_t plw_reading_count(const plw_result *result)
{
    return result ? result->reading_count : 0;
}

uint32_t plw_reading_scheme(const plw_result *result, uint32_t reading)
{
    const plwi_reading *r = reading_at(result, reading);
    if (r == NULL)
        return PLW_NONE;
    return plwi_layout_scheme(plwi_image(result->tables), r->layout);
}

const char *plw_reading_title(const plw_result *result, uint32_t reading)
{
    uint32_t scheme = plw_reading_scheme(result, reading);
    return scheme == PLW_NONE ? ""
                              : plwi_title(result->names, plwi_image(result->tables), scheme);
}

uint32_t plw_reading_year_count(const plw_result *result, uint32_t reading)
{
    const plwi_reading *r = reading_at(result, reading);
    return r ? plwi_years_count(r->years) : 0;
}

int32_t plw_reading_year(const plw_result *result, uint32_t reading, uint32_t index)
{
    const plwi_reading *r = reading_at(result, reading);
    return r ? plwi_years_at(r->years, index) : 0;
}

/* The characters a reading takes at one position. */
static void put_place(plwi_writer *writer, const plw_result *result, const plwi_reading *reading,
                      uint32_t position)
{
    if ((reading->misfit | reading->unreadable) >> position & 1)
        plwi_put_typed(writer, &result->number.cell[position]);
    else
        plwi_put_set(writer, reading->sets[position]);
}

int32_t plw_reading_number(const plw_result *result, uint32_t reading, char *buffer,
                           size_t capacity, size_t *needed)
{
    const plwi_reading *r = reading_at(result, reading);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (r == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    for (uint32_t p = 0; p < kept_positions(result); p++)
        put_place(&writer, result, r, p);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_reading_grade(const plw_result *result, uint32_t reading)
{
    const plwi_reading *r = reading_at(result, reading);
    return r ? r->grade : PLW_GRADE_CLEAR;
}

int32_t plw_reading_check(const plw_result *result, uint32_t reading, int32_t *expected)
{
    const plwi_reading *r = reading_at(result, reading);
    if (expected)
        *expected = r ? r->expected : 0;
    return r ? r->check : PLW_CHECK_NONE;
}

/* ---- fields ---------------------------------------------------------------------- */

const plwi_slot *plwi_slot_at(const plw_result *result, uint32_t reading, uint32_t field)
{
    const plwi_reading *r = reading_at(result, reading);
    return r && field < r->slot_count ? &result->slots[r->slot + field] : NULL;
}

uint32_t plwi_slot_positions(image_t image, const plwi_slot *slot)
{
    return plwi_u32(plwi_span(image, slot->span) + SPAN_POSITIONS);
}

uint32_t plwi_slot_field(image_t image, const plwi_slot *slot)
{
    return plwi_u16(plwi_span(image, slot->span) + SPAN_FIELD);
}

uint32_t plw_field_count(const plw_result *result, uint32_t reading)
{
    const plwi_reading *r = reading_at(result, reading);
    return r ? r->slot_count : 0;
}

const char *plw_field_name(const plw_result *result, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    if (slot == NULL)
        return "";
    image_t image = plwi_image(result->tables);
    return plwi_field_name(image, plwi_slot_field(image, slot));
}

const char *plw_field_label(const plw_result *result, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    if (slot == NULL)
        return "";
    image_t image = plwi_image(result->tables);
    return plwi_label(result->names, image, plwi_slot_field(image, slot));
}

uint32_t plw_field_positions(const plw_result *result, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    return slot ? plwi_slot_positions(plwi_image(result->tables), slot) : 0;
}

int32_t plw_field_state(const plw_result *result, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    return slot ? slot->state : PLW_FIELD_UNKNOWN;
}

int32_t plw_field_is_detail(const plw_result *result, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    return slot ? slot->overlay : 0;
}

void plwi_put_slot_code(plwi_writer *writer, const plw_result *result, const plwi_reading *reading,
                        const plwi_slot *slot)
{
    uint32_t positions = plwi_slot_positions(plwi_image(result->tables), slot);
    for (; positions != 0; positions &= positions - 1)
        put_place(writer, result, reading, plwi_lowest_bit(positions));
}

int32_t plw_field_code(const plw_result *result, uint32_t reading, uint32_t field, char *buffer,
                       size_t capacity, size_t *needed)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (slot == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_slot_code(&writer, result, &result->readings[reading], slot);
    return plwi_writer_end(&writer, needed);
}

uint32_t plw_field_row_count(const plw_result *result, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    return slot ? slot->row_count : 0;
}

uint32_t plw_field_row(const plw_result *result, uint32_t reading, uint32_t field, uint32_t index)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    return slot && index < slot->row_count ? result->rows[slot->row + index] : PLW_NONE;
}

const char *plw_field_words(const plw_result *result, uint32_t reading, uint32_t field,
                            uint32_t index)
{
    uint32_t row = plw_field_row(result, reading, field, index);
    return row == PLW_NONE ? "" : plwi_words(result->names, plwi_image(result->tables), row);
}

int32_t plw_field_excludes_year(const plw_result *result, uint32_t reading, uint32_t field,
                                int32_t year)
{
    const plwi_slot *slot = plwi_slot_at(result, reading, field);
    return slot && slot->narrows && !plwi_years_has(slot->years, year);
}

/* ---- findings --------------------------------------------------------------------- */

static const plwi_finding *finding_at(const plw_result *result, uint32_t index)
{
    return result && index < result->finding_count ? &result->findings[index] : NULL;
}

uint32_t plw_finding_count(const plw_result *result)
{
    return result ? result->finding_count : 0;
}

int32_t plw_finding_code(const plw_result *result, uint32_t finding)
{
    const plwi_finding *f = finding_at(result, finding);
    return f ? f->code : 0;
}

const unsigned char *plwi_finding_record(image_t image, int32_t code)
{
    return plwi_record(image, SECTION_FINDINGS, 12, (uint32_t)code - 1);
}

const char *plw_finding_name(const plw_result *result, uint32_t finding)
{
    const plwi_finding *f = finding_at(result, finding);
    if (f == NULL)
        return "";
    image_t image = plwi_image(result->tables);
    const unsigned char *record = plwi_finding_record(image, f->code);
    return plwi_text(image, plwi_u32(record + FINDING_NAME));
}

int32_t plw_finding_grade(const plw_result *result, uint32_t finding)
{
    const plwi_finding *f = finding_at(result, finding);
    return f ? f->grade : PLW_GRADE_CLEAR;
}

uint32_t plw_finding_reading(const plw_result *result, uint32_t finding)
{
    const plwi_finding *f = finding_at(result, finding);
    return f && f->reading != NO_READING ? f->reading : PLW_NONE;
}

uint32_t plw_finding_positions(const plw_result *result, uint32_t finding)
{
    const plwi_finding *f = finding_at(result, finding);
    return f ? f->positions : 0;
}

int32_t plw_finding_sentence(const plw_result *result, uint32_t finding, char *buffer,
                             size_t capacity, size_t *needed)
{
    const plwi_finding *f = finding_at(result, finding);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (f == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_sentence(&writer, result, f);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_result_grade(const plw_result *result)
{
    return result ? result->grade : PLW_GRADE_CLEAR;
}
