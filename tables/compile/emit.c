/* SPDX-License-Identifier: MIT */
#include "emit.h"

#include "conditions.h"
#include "index.h"
#include "output.h"
#include "years.h"

/* ---- the vocabulary --------------------------------------------------- */

static void emit_field_names(tc_output *out)
{
    unsigned char *record;
    for (size_t i = 0; i < out->c->field_names.count; i++) {
        const tc_field_name *name = &out->c->field_names.items[i];
        tc_append(out, SECTION_FIELD_NAMES, 1, &record);
        tc_put32(record + FIELD_NAME_NAME, tc_text(out, name->name));
        tc_put32(record + FIELD_NAME_LABEL, tc_text(out, name->label));
    }
}

static void emit_attributes(tc_output *out)
{
    unsigned char *record;
    for (size_t i = 0; i < out->c->attributes.count; i++) {
        const tc_attribute *attribute = &out->c->attributes.items[i];
        tc_append(out, SECTION_ATTRIBUTES, 1, &record);
        tc_put32(record + ATTRIBUTE_NAME, tc_text(out, attribute->name));
        tc_put32(record + ATTRIBUTE_LABEL, tc_text(out, attribute->label));
        tc_put32(record + ATTRIBUTE_UNIT, tc_text(out, attribute->unit));
        record[ATTRIBUTE_KIND] = attribute->kind;
    }
}

static void emit_findings(tc_output *out)
{
    unsigned char *record;
    for (size_t i = 0; i < out->c->findings.count; i++) {
        const tc_finding *finding = &out->c->findings.items[i];
        tc_append(out, SECTION_FINDINGS, 1, &record);
        tc_put16(record + FINDING_NUMBER, finding->number);
        record[FINDING_GRADE] = finding->grade;
        tc_put32(record + FINDING_NAME, tc_text(out, finding->name));
        tc_put32(record + FINDING_SENTENCE, tc_text(out, finding->sentence));
    }
}

static void emit_misreads(tc_output *out)
{
    unsigned char *record;
    for (size_t i = 0; i < out->c->misreads.count; i++) {
        const tc_misread *misread = &out->c->misreads.items[i];
        tc_append(out, SECTION_MISREADS, 1, &record);
        record[MISREAD_TYPED] = misread->typed;
        record[MISREAD_MEANT] = misread->meant;
        record[MISREAD_USE] = misread->use;
        record[MISREAD_STANDING] = misread->standing;
        tc_put32(record + MISREAD_WORDS, tc_text(out, misread->words));
        tc_put32(record + MISREAD_CITATION,
                 tc_share_numbers(out, SECTION_CITATIONS, &misread->citations));
        tc_put16(record + MISREAD_CITATION_COUNT, misread->citations.count);
    }
}

static void emit_sources(tc_output *out)
{
    unsigned char *record;
    for (size_t i = 0; i < out->c->sources.count; i++) {
        const tc_source *source = &out->c->sources.items[i];
        tc_append(out, SECTION_SOURCES, 1, &record);
        tc_put32(record + SOURCE_KEY, tc_text(out, source->key));
        tc_put32(record + SOURCE_CITATION, tc_text(out, source->citation));
        tc_put32(record + SOURCE_ADDRESS, tc_text(out, source->address));
    }
}

static void emit_cautions(tc_output *out)
{
    unsigned char *record;
    for (size_t i = 0; i < out->c->cautions.count; i++) {
        const tc_caution *caution = &out->c->cautions.items[i];
        tc_append(out, SECTION_CAUTIONS, 1, &record);
        tc_put32(record + CAUTION_KEY, tc_text(out, caution->key));
        tc_put32(record + CAUTION_TEXT, tc_text(out, caution->words));
    }
}

/* ---- lists of rows ---------------------------------------------------- */

static uint32_t emit_years(tc_output *out, tc_years years)
{
    unsigned char record[16];
    tc_put64(record + YEARS_LOW, years.low);
    tc_put64(record + YEARS_HIGH, years.high);
    return tc_share(out, SECTION_YEARS, record, 1);
}

static uint32_t fact_value(tc_output *out, const tc_fact *fact)
{
    bool is_number = out->c->attributes.items[fact->attribute].kind == ATTRIBUTE_NUMBER;
    return is_number ? fact->thousandths : tc_text(out, fact->text);
}

static uint32_t emit_facts(tc_output *out, const tc_facts *facts)
{
    unsigned char *records = tc_allocate(&out->c->memory, facts->count * FACT_SIZE);
    for (size_t i = 0; i < facts->count; i++) {
        tc_put16(records + i * FACT_SIZE + FACT_ATTRIBUTE, facts->items[i].attribute);
        tc_put32(records + i * FACT_SIZE + FACT_VALUE, fact_value(out, &facts->items[i]));
    }
    return tc_share(out, SECTION_FACTS, records, (uint32_t)facts->count);
}

static uint32_t emit_values(tc_output *out, const tc_facts *values)
{
    tc_numbers numbers = { NULL, 0, 0 };
    for (size_t i = 0; i < values->count; i++)
        *TC_ADD(&out->c->memory, &numbers) = fact_value(out, &values->items[i]);
    return tc_share_numbers(out, SECTION_VALUES, &numbers);
}

static void put_condition(tc_output *out, unsigned char *record, const tc_condition *condition)
{
    record[CONDITION_KIND] = condition->kind;
    if (condition->kind == CONDITION_FIELD) {
        tc_put16(record + CONDITION_REF, condition->field->index);
        tc_put32(record + CONDITION_VALUE, tc_share_codes(out, &condition->codes));
        tc_put16(record + CONDITION_VALUE_COUNT, condition->codes.count);
    } else if (condition->kind == CONDITION_ATTRIBUTE) {
        tc_put16(record + CONDITION_REF, condition->attribute);
        tc_put32(record + CONDITION_VALUE, emit_values(out, &condition->values));
        tc_put16(record + CONDITION_VALUE_COUNT, condition->values.count);
    } else {
        tc_put32(record + CONDITION_VALUE,
                 tc_share_numbers(out, SECTION_VALUES, &condition->states));
        tc_put16(record + CONDITION_VALUE_COUNT, condition->states.count);
    }
}

static uint32_t emit_conditions(tc_output *out, const tc_row *row)
{
    unsigned char *records = tc_allocate(&out->c->memory, row->conditions.count * 16);
    for (size_t i = 0; i < row->conditions.count; i++)
        put_condition(out, records + i * 16, &row->conditions.items[i]);
    return tc_share(out, SECTION_CONDITIONS, records, (uint32_t)row->conditions.count);
}

/* ---- rows ------------------------------------------------------------- */

static uint32_t emit_note(tc_output *out, const tc_row *row)
{
    unsigned char record[NOTE_SIZE];
    tc_put32(record + NOTE_REMARK, tc_text_of(out, row->remark));
    tc_put32(record + NOTE_TAG, tc_text(out, row->tag));
    tc_put32(record + NOTE_CITATION, tc_share_numbers(out, SECTION_CITATIONS, &row->citations));
    tc_put16(record + NOTE_CITATION_COUNT, row->citations.count);
    return tc_share(out, SECTION_NOTES, record, 1);
}

static void emit_row(tc_output *out, const tc_field *field, const tc_row *row)
{
    unsigned char *record;
    uint32_t code = tc_share_codes(out, &row->codes);
    uint32_t fact = emit_facts(out, &row->facts);
    uint32_t condition = emit_conditions(out, row);
    uint32_t note = emit_note(out, row);
    tc_append(out, SECTION_ROWS, 1, &record);
    tc_put16(record + ROW_FIELD, field->index);
    tc_put16(record + ROW_YEARS, emit_years(out, row->years));
    tc_put16(record + ROW_CODE_COUNT, row->codes.count);
    tc_put16(record + ROW_NOTE, note);
    tc_put16(record + ROW_CONDITION, condition);
    record[ROW_STANDING] = row->standing;
    record[ROW_MARKS] = row->marks;
    record[ROW_KIND] = row->kind;
    record[ROW_FACT_COUNT] = (unsigned char)row->facts.count;
    record[ROW_CONDITION_COUNT] = (unsigned char)row->conditions.count;
    tc_put32(record + ROW_CODE, code);
    tc_put32(record + ROW_CODE_TEXT, tc_text(out, row->code_text));
    tc_put32(record + ROW_WORDS, tc_text_of(out, row->words));
    tc_put32(record + ROW_FACT, fact);
}

static void file_codes(tc_output *out, const tc_field *field, uint16_t index,
                       tc_filed_rows *filed)
{
    const tc_row *row = &field->rows.items[index];
    if (field->kind == KIND_RUN)
        return;
    for (size_t i = 0; i < row->codes.count; i++)
        *TC_ADD(&out->c->memory, filed) =
            (tc_filed_row){ field->index, row->codes.items[i], index };
}

static void emit_rows(tc_output *out, const tc_field *field, tc_filed_rows *filed)
{
    for (size_t i = 0; i < field->rows.count; i++) {
        emit_row(out, field, &field->rows.items[i]);
        file_codes(out, field, (uint16_t)i, filed);
    }
    for (size_t i = 0; i < field->rules.count; i++)
        emit_row(out, field, &field->rules.items[i]);
}

/* The conditions of a row in the image; equal lists stand there once. */
static uint64_t conditions_of(const tc_output *out, uint32_t row)
{
    const unsigned char *record = out->sections[SECTION_ROWS].bytes.items + (size_t)row * ROW_SIZE;
    uint64_t count = record[ROW_CONDITION_COUNT];
    uint32_t first = record[ROW_CONDITION] | (uint32_t)record[ROW_CONDITION + 1] << 8;
    return count == 0 ? 0 : count << 32 | first;
}

/* For each set of conditions the years that rows of the field have under it.
 * first is the field's first row in the image. */
static uint16_t emit_covers(tc_output *out, const tc_field *field, uint32_t first)
{
    uint16_t count = 0;
    for (size_t i = 0; i < field->rows.count; i++) {
        uint64_t conditions = conditions_of(out, first + (uint32_t)i);
        tc_years years = field->rows.items[i].years;
        unsigned char *record;
        bool seen = false;
        for (size_t k = 0; k < i && !seen; k++)
            seen = conditions_of(out, first + (uint32_t)k) == conditions;
        if (seen)
            continue;
        for (size_t k = i + 1; k < field->rows.count; k++)
            if (conditions_of(out, first + (uint32_t)k) == conditions)
                years = tc_years_or(years, field->rows.items[k].years);
        uint32_t set = emit_years(out, years);
        tc_append(out, SECTION_COVERS, 1, &record);
        tc_put32(record + COVER_YEARS, set);
        tc_put32(record + COVER_ROW, first + (uint32_t)i);
        count++;
    }
    return count;
}

/* ---- fields and schemes ----------------------------------------------- */

static uint64_t provided(const tc_compilation *c, const tc_field *field)
{
    uint64_t set = 0;
    for (size_t i = 0; i < c->attributes.count; i++)
        if (tc_provides(field, (uint16_t)i))
            set |= UINT64_C(1) << i;
    return set;
}

static void emit_field(tc_output *out, const tc_field *field, uint16_t scheme,
                       tc_filed_rows *filed)
{
    unsigned char *record;
    tc_append(out, SECTION_FIELDS, 1, &record);
    tc_put16(record + FIELD_NAME, field->name_index);
    tc_put16(record + FIELD_SCHEME, scheme);
    record[FIELD_KIND] = field->kind;
    tc_put32(record + FIELD_ROW, out->sections[SECTION_ROWS].count);
    tc_put32(record + FIELD_ROW_COUNT, field->rows.count);
    tc_put32(record + FIELD_RULE_COUNT, field->rules.count);
    tc_put64(record + FIELD_PROVIDES, provided(out->c, field));
    record[FIELD_WIDTH] = field->width;
    tc_put32(record + FIELD_COVER, out->sections[SECTION_COVERS].count);
    uint32_t row = out->sections[SECTION_ROWS].count;
    emit_rows(out, field, filed);
    if (field->kind == KIND_CODE || field->kind == KIND_RUN || field->kind == KIND_NARROW)
        tc_put16(record + FIELD_COVER_COUNT, emit_covers(out, field, row));
}

static uint32_t emit_check(tc_output *out, const tc_check *check)
{
    unsigned char *record;
    if (!check->field)
        return NO_CHECK;
    uint32_t number = tc_append(out, SECTION_CHECKS, 1, &record);
    tc_put16(record + CHECK_FIELD, check->field->index);
    record[CHECK_LENGTH] = check->length;
    record[CHECK_MODULUS] = check->modulus;
    for (size_t i = 0; i < ALPHABET_SIZE; i++)
        record[CHECK_VALUES + i] = check->values[i];
    for (size_t i = 0; i < MAX_POSITIONS; i++)
        record[CHECK_WEIGHTS + i] = check->weights[i];
    for (size_t i = 0; i < ALPHABET_SIZE; i++)
        record[CHECK_DIGITS + i] = check->digits[i];
    return number;
}

static void emit_scheme(tc_output *out, const tc_scheme *scheme, uint16_t number,
                        tc_filed_rows *filed)
{
    unsigned char *record;
    uint32_t field = out->sections[SECTION_FIELDS].count;
    uint32_t row = out->sections[SECTION_ROWS].count;
    for (size_t i = 0; i < scheme->fields.count; i++)
        emit_field(out, scheme->fields.items[i], number, filed);
    tc_append(out, SECTION_SCHEMES, 1, &record);
    tc_put32(record + SCHEME_KEY, tc_text(out, scheme->key));
    tc_put32(record + SCHEME_TITLE, tc_text_of(out, scheme->title_word));
    tc_put32(record + SCHEME_YEARS, emit_years(out, scheme->years));
    tc_put32(record + SCHEME_FIELD, field);
    tc_put32(record + SCHEME_FIELD_COUNT, scheme->fields.count);
    tc_put32(record + SCHEME_ROW, row);
    tc_put32(record + SCHEME_ROW_COUNT, out->sections[SECTION_ROWS].count - row);
    tc_put32(record + SCHEME_FACT, emit_facts(out, &scheme->facts));
    tc_put32(record + SCHEME_FACT_COUNT, scheme->facts.count);
    tc_put32(record + SCHEME_CHECK, emit_check(out, &scheme->check));
    tc_put32(record + SCHEME_REMARK, tc_text_of(out, scheme->remark_word));
}

/* Conditions point forward to fields: all get their numbers before any row. */
static void number_fields(tc_compilation *c)
{
    uint16_t next = 0;
    for (size_t i = 0; i < c->schemes.count; i++)
        for (size_t k = 0; k < c->schemes.items[i]->fields.count; k++)
            c->schemes.items[i]->fields.items[k]->index = next++;
}

/* ---- layouts ---------------------------------------------------------- */

static uint32_t emit_spans(tc_output *out, const tc_form *form, const tc_scheme *scheme)
{
    unsigned char records[MAX_SPANS * 8] = { 0 };
    unsigned char *record = records;
    for (size_t i = 0; i < scheme->fields.count; i++) {
        for (size_t k = 0; k < form->spans.count; k++) {
            const tc_span *span = &form->spans.items[k];
            if (span->field != scheme->fields.items[i])
                continue;
            tc_put16(record + SPAN_FIELD, span->field->index);
            record[SPAN_WIDTH] = span->width;
            tc_put32(record + SPAN_POSITIONS, span->positions);
            record += 8;
        }
    }
    return tc_share(out, SECTION_SPANS, records, (uint32_t)form->spans.count);
}

static uint32_t emit_positions(tc_output *out, const tc_form *form)
{
    unsigned char records[MAX_POSITIONS * 2];
    unsigned char class[8];
    for (size_t p = 0; p < form->length; p++) {
        tc_put64(class, form->classes[p]);
        tc_put16(records + p * 2, tc_share(out, SECTION_CLASSES, class, 1));
    }
    return tc_share(out, SECTION_POSITIONS, records, form->length);
}

static void emit_layout(tc_output *out, const tc_numbered_form *numbered)
{
    unsigned char *record;
    const tc_form *form = numbered->form;
    tc_append(out, SECTION_LAYOUTS, 1, &record);
    tc_put16(record + LAYOUT_SCHEME, numbered->scheme);
    record[LAYOUT_LENGTH] = form->length;
    record[LAYOUT_SPAN_COUNT] = (unsigned char)form->spans.count;
    tc_put32(record + LAYOUT_YEARS, emit_years(out, form->years));
    tc_put32(record + LAYOUT_SPAN,
             emit_spans(out, form, out->c->schemes.items[numbered->scheme]));
    tc_put32(record + LAYOUT_POSITION, emit_positions(out, form));
    tc_put32(record + LAYOUT_SAMPLE, tc_text(out, form->sample));
}

static void emit_layouts(tc_output *out)
{
    tc_forms forms = { NULL, 0, 0 };
    tc_sort_forms(out->c, &forms);
    for (size_t i = 0; i < forms.count; i++)
        emit_layout(out, &forms.items[i]);
    tc_index_layouts(out, &forms);
}

/* ---- all -------------------------------------------------------------- */

static size_t visits_of(const tc_rows *rows)
{
    size_t visits = 0;
    for (size_t i = 0; i < rows->count; i++) {
        const tc_row *row = &rows->items[i];
        visits += row->codes.count;
        for (size_t k = 0; k < row->conditions.count; k++)
            visits += row->conditions.items[k].codes.count +
                      row->conditions.items[k].values.count +
                      row->conditions.items[k].states.count;
    }
    return visits;
}

/* Counts that have two bytes in the image. */
static bool has_room(const tc_output *out)
{
    static const enum image_section counted[] = {
        SECTION_SCHEMES, SECTION_FIELDS, SECTION_LAYOUTS,    SECTION_FIELD_NAMES,
        SECTION_YEARS,   SECTION_NOTES,  SECTION_CONDITIONS, SECTION_CLASSES,
    };
    for (size_t i = 0; i < sizeof counted / sizeof *counted; i++)
        if (out->sections[counted[i]].count > UINT16_MAX)
            return false;
    return true;
}

static bool fields_have_room(const tc_compilation *c)
{
    for (size_t i = 0; i < c->schemes.count; i++)
        for (size_t k = 0; k < c->schemes.items[i]->fields.count; k++)
            if (c->schemes.items[i]->fields.items[k]->rows.count > UINT16_MAX)
                return false;
    return true;
}

/* Who opens an image looks at each row's codes and at those its conditions ask
 * for, but not more often than the image has bytes. */
static bool can_be_opened(const tc_compilation *c)
{
    size_t visits = 0;
    for (size_t i = 0; i < c->schemes.count; i++) {
        const tc_scheme *scheme = c->schemes.items[i];
        for (size_t k = 0; k < scheme->fields.count; k++)
            visits += visits_of(&scheme->fields.items[k]->rows) +
                      visits_of(&scheme->fields.items[k]->rules);
    }
    return visits <= c->image_size;
}

void tc_emit(tc_compilation *c)
{
    tc_output out;
    tc_filed_rows filed = { NULL, 0, 0 };
    tc_open_output(&out, c);
    emit_field_names(&out);
    emit_attributes(&out);
    emit_findings(&out);
    emit_misreads(&out);
    emit_sources(&out);
    emit_cautions(&out);
    number_fields(c);
    for (size_t i = 0; i < c->schemes.count; i++)
        emit_scheme(&out, c->schemes.items[i], (uint16_t)i, &filed);
    emit_layouts(&out);
    tc_index_rows(&out, &filed);
    if (!has_room(&out) || !fields_have_room(c)) {
        tc_complain(c, (tc_place){ TC_NO_FILE, 0, 0 },
                    "an image holds at most %d schemes, fields, layouts, rows of one field, and "
                    "different years, conditions, remarks or lists of sources; share these tables "
                    "between two", UINT16_MAX);
        return;
    }
    tc_close_output(&out);
    if (c->image && !can_be_opened(c)) {
        c->image = NULL;
        tc_complain(c, (tc_place){ TC_NO_FILE, 0, 0 },
                    "the rows ask for too many codes; write wide ranges in fewer rows");
    }
}
