/* SPDX-License-Identifier: MIT
 *
 * What the tables hold, for hosts that look around in them: schemes, layouts,
 * rows, sources and cautions. An index that is out of range gives "" or 0.
 */
#include <string.h>

#include "image.h"
#include "names.h"
#include "row_text.h"
#include "writer.h"

static const unsigned char record_sizes[SECTION_COUNT] = SECTION_RECORD_SIZES;

/* A record of a section, or NULL when there is none of that number. */
static const unsigned char *find(image_t image, unsigned section, uint32_t index)
{
    if (index >= plwi_count(image, section))
        return NULL;
    return plwi_record(image, section, record_sizes[section], index);
}

static const char *find_text(const plw_tables *tables, unsigned section, uint32_t index,
                             unsigned offset)
{
    image_t image = plwi_image(tables);
    const unsigned char *record = find(image, section, index);
    return record ? plwi_text(image, plwi_u32(record + offset)) : "";
}

static uint32_t find_u32(const plw_tables *tables, unsigned section, uint32_t index,
                         unsigned offset, uint32_t otherwise)
{
    const unsigned char *record = find(plwi_image(tables), section, index);
    return record ? plwi_u32(record + offset) : otherwise;
}

static const unsigned char *find_row(const plw_tables *tables, uint32_t row)
{
    return find(plwi_image(tables), SECTION_ROWS, row);
}

static int32_t first_year(plwi_years years)
{
    return plwi_years_next(years, FIRST_YEAR - 1);
}

static int32_t last_year(plwi_years years)
{
    int32_t year = LAST_YEAR;
    while (year >= FIRST_YEAR && !plwi_years_has(years, year))
        year--;
    return year < FIRST_YEAR ? 0 : year;
}

/* ---- Schemes --------------------------------------------------------- */

uint32_t plw_scheme_count(const plw_tables *tables)
{
    return plwi_count(plwi_image(tables), SECTION_SCHEMES);
}

const char *plw_scheme_key(const plw_tables *tables, uint32_t scheme)
{
    return find_text(tables, SECTION_SCHEMES, scheme, SCHEME_KEY);
}

const char *plw_scheme_title(const plw_tables *tables, uint32_t scheme)
{
    return find_text(tables, SECTION_SCHEMES, scheme, SCHEME_TITLE);
}

static plwi_years scheme_years(const plw_tables *tables, uint32_t scheme)
{
    image_t image = plwi_image(tables);
    const unsigned char *record = find(image, SECTION_SCHEMES, scheme);
    plwi_years none = { 0, 0 };
    return record ? plwi_year_set(image, plwi_u32(record + SCHEME_YEARS)) : none;
}

int32_t plw_scheme_first_year(const plw_tables *tables, uint32_t scheme)
{
    return first_year(scheme_years(tables, scheme));
}

int32_t plw_scheme_last_year(const plw_tables *tables, uint32_t scheme)
{
    return last_year(scheme_years(tables, scheme));
}

uint32_t plw_scheme_first_row(const plw_tables *tables, uint32_t scheme)
{
    return find_u32(tables, SECTION_SCHEMES, scheme, SCHEME_ROW, PLW_NONE);
}

uint32_t plw_scheme_row_count(const plw_tables *tables, uint32_t scheme)
{
    return find_u32(tables, SECTION_SCHEMES, scheme, SCHEME_ROW_COUNT, 0);
}

/* ---- Layouts --------------------------------------------------------- */

/* Layouts stand in the image by length; these two pick those of one scheme. */
uint32_t plw_layout_count(const plw_tables *tables, uint32_t scheme)
{
    image_t image = plwi_image(tables);
    uint32_t count = 0;
    for (uint32_t i = 0; i < plwi_count(image, SECTION_LAYOUTS); i++)
        count += plwi_layout_scheme(image, i) == scheme;
    return count;
}

static const unsigned char *find_layout(image_t image, uint32_t scheme, uint32_t layout)
{
    for (uint32_t i = 0; i < plwi_count(image, SECTION_LAYOUTS); i++) {
        const unsigned char *record = plwi_layout(image, i);
        if (plwi_u16(record + LAYOUT_SCHEME) == scheme && layout-- == 0)
            return record;
    }
    return NULL;
}

uint32_t plw_layout_length(const plw_tables *tables, uint32_t scheme, uint32_t layout)
{
    const unsigned char *record = find_layout(plwi_image(tables), scheme, layout);
    return record ? record[LAYOUT_LENGTH] : 0;
}

const char *plw_layout_sample(const plw_tables *tables, uint32_t scheme, uint32_t layout)
{
    image_t image = plwi_image(tables);
    const unsigned char *record = find_layout(image, scheme, layout);
    return record ? plwi_text(image, plwi_u32(record + LAYOUT_SAMPLE)) : "";
}

/* ---- Rows ------------------------------------------------------------ */

uint32_t plw_row_count(const plw_tables *tables)
{
    return plwi_count(plwi_image(tables), SECTION_ROWS);
}

uint32_t plw_row_scheme(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    if (!record)
        return PLW_NONE;
    return plwi_u16(plwi_field(plwi_image(tables), plwi_u16(record + ROW_FIELD)) + FIELD_SCHEME);
}

/* Writes what put has to say about a row. */
static int32_t row_text_out(void (*put)(plwi_writer *, image_t, uint32_t), const plw_tables *tables,
                            uint32_t row, char *buffer, size_t capacity, size_t *needed)
{
    plwi_writer out = plwi_writer_on(buffer, capacity);
    if (!find_row(tables, row))
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    put(&out, plwi_image(tables), row);
    return plwi_writer_end(&out, needed);
}

int32_t plw_row_key(const plw_tables *tables, uint32_t row, char *buffer, size_t capacity,
                    size_t *needed)
{
    return row_text_out(plwi_put_row_key, tables, row, buffer, capacity, needed);
}

static void put_condition(plwi_writer *out, image_t image, uint32_t row)
{
    plwi_put_condition(out, image, NULL, row);
}

int32_t plw_row_condition(const plw_tables *tables, uint32_t row, char *buffer, size_t capacity,
                          size_t *needed)
{
    return row_text_out(put_condition, tables, row, buffer, capacity, needed);
}

const char *plw_row_field(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    return record ? plwi_field_name(plwi_image(tables), plwi_u16(record + ROW_FIELD)) : "";
}

const char *plw_row_label(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    return record ? plwi_label(NULL, plwi_image(tables), plwi_u16(record + ROW_FIELD)) : "";
}

const char *plw_row_code(const plw_tables *tables, uint32_t row)
{
    return find_text(tables, SECTION_ROWS, row, ROW_CODE_TEXT);
}

const char *plw_row_words(const plw_tables *tables, uint32_t row)
{
    return find_text(tables, SECTION_ROWS, row, ROW_WORDS);
}

const char *plw_row_remark(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    image_t image = plwi_image(tables);
    return record ? plwi_text(image, plwi_u32(plwi_note(image, record) + NOTE_REMARK)) : "";
}

/* Not 0 for an unknown row: that would be a standing, and the best one. */
int32_t plw_row_standing(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    return record ? record[ROW_STANDING] : PLW_E_ARGUMENT;
}

uint32_t plw_row_marks(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    return record ? record[ROW_MARKS] & MARKS_SERVED : 0;
}

static plwi_years row_years(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    plwi_years none = { 0, 0 };
    return record ? plwi_year_set(plwi_image(tables), plwi_u16(record + ROW_YEARS)) : none;
}

int32_t plw_row_holds_in(const plw_tables *tables, uint32_t row, int32_t year)
{
    return plwi_years_has(row_years(tables, row), year);
}

int32_t plw_row_first_year(const plw_tables *tables, uint32_t row)
{
    return first_year(row_years(tables, row));
}

int32_t plw_row_last_year(const plw_tables *tables, uint32_t row)
{
    return last_year(row_years(tables, row));
}

/* ---- Attributes of a row --------------------------------------------- */

uint32_t plw_row_attribute_count(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    return record ? record[ROW_FACT_COUNT] : 0;
}

/* The number of a row's fact in the image, or PLW_NONE. */
static uint32_t find_fact(const plw_tables *tables, uint32_t row, uint32_t index)
{
    const unsigned char *record = find_row(tables, row);
    if (!record || index >= record[ROW_FACT_COUNT])
        return PLW_NONE;
    return plwi_u32(record + ROW_FACT) + index;
}

const char *plw_row_attribute_name(const plw_tables *tables, uint32_t row, uint32_t index)
{
    uint32_t fact = find_fact(tables, row, index);
    if (fact == PLW_NONE)
        return "";
    uint32_t attribute = plwi_u16(plwi_fact(plwi_image(tables), fact) + FACT_ATTRIBUTE);
    return find_text(tables, SECTION_ATTRIBUTES, attribute, ATTRIBUTE_NAME);
}

int32_t plw_row_attribute_text(const plw_tables *tables, uint32_t row, uint32_t index, char *buffer,
                               size_t capacity, size_t *needed)
{
    plwi_writer out = plwi_writer_on(buffer, capacity);
    uint32_t fact = find_fact(tables, row, index);
    if (fact == PLW_NONE)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_fact(&out, plwi_image(tables), fact);
    return plwi_writer_end(&out, needed);
}

/* A number that the row itself states under this name. */
static int32_t stated_quantity(const plw_tables *tables, uint32_t row, const char *name,
                               int64_t *thousandths)
{
    image_t image = plwi_image(tables);
    for (uint32_t i = 0; i < plw_row_attribute_count(tables, row); i++) {
        const unsigned char *fact = plwi_fact(image, find_fact(tables, row, i));
        const unsigned char *attribute =
            plwi_record(image, SECTION_ATTRIBUTES, record_sizes[SECTION_ATTRIBUTES],
                        plwi_u16(fact + FACT_ATTRIBUTE));
        if (attribute[ATTRIBUTE_KIND] == ATTRIBUTE_NUMBER &&
            strcmp(plwi_text(image, plwi_u32(attribute + ATTRIBUTE_NAME)), name) == 0) {
            *thousandths = plwi_u32(fact + FACT_VALUE);
            return PLW_OK;
        }
    }
    return PLW_E_ABSENT;
}

/* One cubic inch is 16.387064 cubic centimetres, by definition of the inch. */
#define CUBIC_INCH INT64_C(16387064)
#define MILLION INT64_C(1000000)

/* value * times / over, rounded to nearest; value fits 32 bits. */
static int64_t scale(int64_t value, int64_t times, int64_t over)
{
    return (value * times + over / 2) / over;
}

int32_t plw_row_quantity(const plw_tables *tables, uint32_t row, const char *name,
                         int64_t *thousandths)
{
    if (!name || !thousandths || !find_row(tables, row))
        return PLW_E_ARGUMENT;
    int64_t stated = 0;
    int32_t status = stated_quantity(tables, row, name, &stated);
    if (status == PLW_E_ABSENT && strcmp(name, "cc") == 0) {
        status = stated_quantity(tables, row, "cid", &stated);
        stated = scale(stated, CUBIC_INCH, MILLION);
    } else if (status == PLW_E_ABSENT && strcmp(name, "cid") == 0) {
        status = stated_quantity(tables, row, "cc", &stated);
        stated = scale(stated, MILLION, CUBIC_INCH);
    }
    if (status == PLW_OK)
        *thousandths = stated;
    return status;
}

/* ---- Sources --------------------------------------------------------- */

uint32_t plw_row_source_count(const plw_tables *tables, uint32_t row)
{
    const unsigned char *record = find_row(tables, row);
    return record ? plwi_u16(plwi_note(plwi_image(tables), record) + NOTE_CITATION_COUNT) : 0;
}

uint32_t plw_row_source(const plw_tables *tables, uint32_t row, uint32_t index)
{
    image_t image = plwi_image(tables);
    if (index >= plw_row_source_count(tables, row))
        return PLW_NONE;
    const unsigned char *note = plwi_note(image, plwi_row(image, row));
    return plwi_citation(image, plwi_u32(note + NOTE_CITATION) + index);
}

uint32_t plw_source_count(const plw_tables *tables)
{
    return plwi_count(plwi_image(tables), SECTION_SOURCES);
}

const char *plw_source_key(const plw_tables *tables, uint32_t source)
{
    return find_text(tables, SECTION_SOURCES, source, SOURCE_KEY);
}

const char *plw_source_citation(const plw_tables *tables, uint32_t source)
{
    return find_text(tables, SECTION_SOURCES, source, SOURCE_CITATION);
}

const char *plw_source_address(const plw_tables *tables, uint32_t source)
{
    return find_text(tables, SECTION_SOURCES, source, SOURCE_ADDRESS);
}

/* ---- Cautions -------------------------------------------------------- */

uint32_t plw_caution_count(const plw_tables *tables)
{
    return plwi_count(plwi_image(tables), SECTION_CAUTIONS);
}

const char *plw_caution_text(const plw_tables *tables, uint32_t index)
{
    return find_text(tables, SECTION_CAUTIONS, index, CAUTION_TEXT);
}
