/* SPDX-License-Identifier: MIT
 *
 * Opening images: good ones at any address, and damaged, truncated or hostile
 * ones, which must be refused or do no harm. Meant to be run under sanitizers,
 * which turn a read out of bounds into a failure.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "fixture.h"
#include "image.h"
#include "image_check.h"
#include "platewright.h"

#define RANDOM_DAMAGES 300000u
#define OPENED_EVERY 64u /* of the damaged images, how many go through the full opening */

static unsigned char *good; /* the fixture image */
static size_t good_size;

static const unsigned char record_sizes[SECTION_COUNT] = SECTION_RECORD_SIZES;

/* ---- Tools ----------------------------------------------------------- */

static void put_u32(unsigned char *p, uint32_t value)
{
    for (unsigned i = 0; i < 4; i++)
        p[i] = (unsigned char)(value >> (8 * i));
}

/* Writes the digest that the image would have to have. */
static void seal(unsigned char *image, size_t size)
{
    uint64_t digest = image_digest(image + DIGEST_START, size - DIGEST_START);
    put_u32(image + HEADER_DIGEST, (uint32_t)digest);
    put_u32(image + HEADER_DIGEST + 4, (uint32_t)(digest >> 32));
}

/* For what is asked millions of times: the ck_assert_ family tells the test
 * runner of each call. */
static void expect(int holds, const char *what)
{
    if (!holds)
        ck_abort_msg("%s", what);
}

/* The status of opening, after a look at the handle that came with it. */
static int32_t open_status(const unsigned char *image, size_t size)
{
    const plw_tables *tables = fixture_tables();
    int32_t status = plw_tables_open(image, size, 0, &tables);
    expect(tables == (status == PLW_OK ? (const void *)image : NULL), "the handle");
    return status;
}

/* A copy on the heap of exactly size bytes, so that sanitizers know its end. */
static unsigned char *copy_of(const unsigned char *image, size_t size)
{
    unsigned char *copy = malloc(size ? size : 1);
    ck_assert_ptr_nonnull(copy);
    memcpy(copy, image, size);
    return copy;
}

static uint32_t next_random(uint32_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

static void load_fixture(void)
{
    good = fixture_image(&good_size);
    ck_assert_ptr_nonnull(good);
}

static void unload_fixture(void)
{
    free(good);
}

/* ---- Good images ----------------------------------------------------- */

START_TEST(opens_where_it_is)
{
    const plw_tables *tables = NULL;
    ck_assert_int_eq(plw_tables_open(good, good_size, 0, &tables), PLW_OK);
    ck_assert_ptr_eq(tables, (const void *)good);
    ck_assert_str_eq(plw_tables_edition(tables), "2026-11-25");
}
END_TEST

START_TEST(opens_at_any_address)
{
    unsigned char *room = malloc(good_size + 8);
    ck_assert_ptr_nonnull(room);
    for (size_t shift = 0; shift < 8; shift++) {
        const plw_tables *tables = NULL;
        memcpy(room + shift, good, good_size);
        ck_assert_int_eq(plw_tables_open(room + shift, good_size, 0, &tables), PLW_OK);
        ck_assert_uint_eq(plw_row_count(tables), plw_row_count(fixture_tables()));
        ck_assert_str_eq(plw_scheme_key(tables, 0), "port-ellery-1962");
    }
    free(room);
}
END_TEST

START_TEST(compiled_in_image_opens)
{
    size_t size = plwi_u32(plwi_builtin_image + HEADER_SIZE);
    ck_assert_int_eq(open_status(plwi_builtin_image, size), PLW_OK);
    ck_assert_ptr_eq(plw_tables_builtin(), (const void *)plwi_builtin_image);
    ck_assert_ptr_eq(plwi_image(NULL), plwi_builtin_image);
}
END_TEST

START_TEST(refuses_arguments)
{
    const plw_tables *tables = fixture_tables();
    ck_assert_int_eq(plw_tables_open(good, good_size, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_tables_open(NULL, good_size, 0, &tables), PLW_E_ARGUMENT);
    ck_assert_ptr_null(tables);
    tables = fixture_tables();
    ck_assert_int_eq(plw_tables_open(good, good_size, 1, &tables), PLW_E_FLAGS);
    ck_assert_ptr_null(tables);
    ck_assert_int_eq(open_status(good, 0), PLW_E_IMAGE);
}
END_TEST

START_TEST(digest_is_written_in_sixteen_digits)
{
    char digest[17], expected[17];
    size_t needed = 0;
    for (unsigned i = 0; i < 8; i++) {
        unsigned byte = good[HEADER_DIGEST + 7 - i];
        expected[2 * i] = "0123456789abcdef"[byte >> 4];
        expected[2 * i + 1] = "0123456789abcdef"[byte & 15];
    }
    expected[16] = '\0';
    ck_assert_int_eq(plw_tables_digest(fixture_tables(), digest, sizeof digest, &needed), PLW_OK);
    ck_assert_str_eq(digest, expected);
    ck_assert_uint_eq(needed, 17);
    ck_assert_int_eq(plw_tables_digest(fixture_tables(), digest, 16, &needed), PLW_E_SHORT);
    ck_assert_str_eq(digest, "");
    ck_assert_uint_eq(needed, 17);
}
END_TEST

/* ---- Sets of years --------------------------------------------------- */

START_TEST(years_are_walked_in_order)
{
    static const int years[] = { 1920, 1921, 1983, 1984, 1985, 2030, 2047 };
    plwi_years set = { 0, 0 };
    int at = FIRST_YEAR - 1;
    for (size_t i = 0; i < sizeof years / sizeof *years; i++)
        set = plwi_years_or(set, plwi_years_one(years[i]));
    ck_assert_uint_eq(plwi_years_count(set), sizeof years / sizeof *years);
    for (size_t i = 0; i < sizeof years / sizeof *years; i++) {
        at = plwi_years_next(set, at);
        ck_assert_int_eq(at, years[i]);
    }
    ck_assert_int_eq(plwi_years_next(set, at), 0);
    ck_assert_int_eq(plwi_years_next(set, 3000), 0);
    ck_assert_int_eq(plwi_years_next(set, -3000), 1920);
}
END_TEST

START_TEST(empty_set_has_no_year)
{
    plwi_years none = { 0, 0 };
    ck_assert_uint_eq(plwi_years_count(none), 0);
    ck_assert_int_eq(plwi_years_next(none, FIRST_YEAR - 1), 0);
}
END_TEST

/* ---- Damage that the digest or the size shows ------------------------ */

START_TEST(every_truncation_is_refused)
{
    for (size_t size = 0; size < good_size; size++) {
        unsigned char *image = copy_of(good, size);
        ck_assert_int_eq(open_status(image, size), PLW_E_IMAGE);
        free(image);
    }
}
END_TEST

/* Cut short, but with a size and a digest that say so. */
START_TEST(every_sealed_truncation_is_refused)
{
    for (size_t size = HEADER_DIRECTORY; size < good_size; size++) {
        unsigned char *image = copy_of(good, size);
        put_u32(image + HEADER_SIZE, (uint32_t)size);
        seal(image, size);
        ck_assert_int_eq(open_status(image, size), PLW_E_IMAGE);
        free(image);
    }
}
END_TEST

START_TEST(more_bytes_than_the_image_are_refused)
{
    unsigned char *image = calloc(1, good_size + 8);
    ck_assert_ptr_nonnull(image);
    memcpy(image, good, good_size);
    ck_assert_int_eq(open_status(image, good_size + 8), PLW_E_IMAGE);
    free(image);
}
END_TEST

START_TEST(every_flipped_byte_is_refused)
{
    unsigned char *image = copy_of(good, good_size);
    for (size_t i = 0; i < good_size; i++) {
        image[i] ^= (unsigned char)(1u << (i % 8));
        int is_version = i >= HEADER_VERSION && i < HEADER_VERSION + 4;
        ck_assert_int_eq(open_status(image, good_size), is_version ? PLW_E_VERSION : PLW_E_IMAGE);
        image[i] = good[i];
    }
    free(image);
}
END_TEST

START_TEST(another_version_is_named)
{
    unsigned char *image = copy_of(good, good_size);
    put_u32(image + HEADER_VERSION, IMAGE_VERSION + 1);
    seal(image, good_size);
    ck_assert_int_eq(open_status(image, good_size), PLW_E_VERSION);
    free(image);
}
END_TEST

/* ---- Damage under a good digest, one fault at a time ----------------- */

/* A number that is put into a record of a section. */
typedef struct fault {
    unsigned section;
    unsigned offset;
    unsigned size; /* bytes, at most 8 */
    uint64_t value;
} fault;

#define HUGE_NUMBER 0xFFFFFFF0u

/* Each of them goes into the first record of its section. */
static const fault faults[] = {
    { SECTION_SCHEMES, SCHEME_KEY, 4, 0 },
    { SECTION_SCHEMES, SCHEME_KEY, 4, 2 }, /* inside a text */
    { SECTION_SCHEMES, SCHEME_TITLE, 4, HUGE_NUMBER },
    { SECTION_SCHEMES, SCHEME_YEARS, 4, HUGE_NUMBER },
    { SECTION_SCHEMES, SCHEME_FIELD, 4, 1 },
    { SECTION_SCHEMES, SCHEME_FIELD_COUNT, 4, LIMIT_FIELDS + 1 },
    { SECTION_SCHEMES, SCHEME_FIELD_COUNT, 4, 1 },
    { SECTION_SCHEMES, SCHEME_ROW, 4, 1 },
    { SECTION_SCHEMES, SCHEME_ROW_COUNT, 4, 1 },
    { SECTION_SCHEMES, SCHEME_ROW_COUNT, 4, HUGE_NUMBER },
    { SECTION_SCHEMES, SCHEME_FACT, 4, HUGE_NUMBER },
    { SECTION_SCHEMES, SCHEME_FACT_COUNT, 4, LIMIT_FACTS + 1 },
    { SECTION_SCHEMES, SCHEME_CHECK, 4, 0 }, /* that of another scheme */
    { SECTION_SCHEMES, SCHEME_REMARK, 4, HUGE_NUMBER },
    { SECTION_FIELDS, FIELD_NAME, 2, 0xFFFF },
    { SECTION_FIELDS, FIELD_SCHEME, 2, 1 },
    { SECTION_FIELDS, FIELD_KIND, 1, KIND_COUNT },
    { SECTION_FIELDS, FIELD_KIND, 1, KIND_TOPIC },
    { SECTION_FIELDS, FIELD_KIND, 1, KIND_FREE },
    { SECTION_FIELDS, FIELD_WIDTH, 1, 0 },
    { SECTION_FIELDS, FIELD_WIDTH, 1, MAX_CODE_WIDTH + 1 },
    { SECTION_FIELDS, FIELD_ROW, 4, 1 },
    { SECTION_FIELDS, FIELD_ROW_COUNT, 4, 0 },
    { SECTION_FIELDS, FIELD_ROW_COUNT, 4, HUGE_NUMBER },
    { SECTION_FIELDS, FIELD_RULE_COUNT, 4, 1 },
    { SECTION_FIELDS, FIELD_RULE_COUNT, 4, HUGE_NUMBER },
    { SECTION_FIELDS, FIELD_PROVIDES, 4, 0 },
    { SECTION_FIELDS, FIELD_PROVIDES + 4, 4, 0x80000000u },
    { SECTION_FIELDS, FIELD_RESERVED, 1, 1 },
    { SECTION_FIELDS, FIELD_COVER, 4, HUGE_NUMBER },
    { SECTION_FIELDS, FIELD_COVER_COUNT, 2, 0xFFFF },
    { SECTION_COVERS, COVER_YEARS, 4, HUGE_NUMBER },
    { SECTION_COVERS, COVER_ROW, 4, HUGE_NUMBER },
    { SECTION_LAYOUTS, LAYOUT_SCHEME, 2, 0 }, /* the other one */
    { SECTION_LAYOUTS, LAYOUT_LENGTH, 1, 0 },
    { SECTION_LAYOUTS, LAYOUT_LENGTH, 1, 11 },
    { SECTION_LAYOUTS, LAYOUT_LENGTH, 1, MAX_POSITIONS + 1 },
    { SECTION_LAYOUTS, LAYOUT_SPAN_COUNT, 1, MAX_SPANS + 1 },
    { SECTION_LAYOUTS, LAYOUT_YEARS, 4, HUGE_NUMBER },
    { SECTION_LAYOUTS, LAYOUT_SPAN, 4, HUGE_NUMBER },
    { SECTION_LAYOUTS, LAYOUT_POSITION, 4, HUGE_NUMBER },
    { SECTION_LAYOUTS, LAYOUT_SAMPLE, 4, HUGE_NUMBER },
    { SECTION_LAYOUTS, LAYOUT_RESERVED, 4, 1 },
    { SECTION_SPANS, SPAN_FIELD, 2, 0xFFFF },
    { SECTION_SPANS, SPAN_FIELD, 2, 2 }, /* not in rising order */
    { SECTION_SPANS, SPAN_WIDTH, 1, 0 },
    { SECTION_SPANS, SPAN_WIDTH, 1, MAX_CODE_WIDTH + 1 },
    { SECTION_SPANS, SPAN_POSITIONS, 4, 0 },
    { SECTION_SPANS, SPAN_POSITIONS, 4, 0x80000000u }, /* behind the end */
    { SECTION_SPANS, SPAN_POSITIONS, 4, 7 },           /* more than its width */
    { SECTION_POSITIONS, 0, 2, 0xFFFF },
    { SECTION_CLASSES, 0, 8, 0 },
    { SECTION_CLASSES, 4, 4, 0x10 }, /* a character that is none */
    { SECTION_ROWS, ROW_FIELD, 2, 1 },
    { SECTION_ROWS, ROW_YEARS, 2, 0xFFFF },
    { SECTION_ROWS, ROW_STANDING, 1, STANDING_COUNT },
    { SECTION_ROWS, ROW_MARKS, 1, MARK_ALL + 1 },
    { SECTION_ROWS, ROW_KIND, 1, ROW_KIND_COUNT },
    { SECTION_ROWS, ROW_KIND, 1, ROW_CLOSED },
    { SECTION_ROWS, ROW_FACT_COUNT, 1, LIMIT_FACTS + 1 },
    { SECTION_ROWS, ROW_CONDITION_COUNT, 1, LIMIT_CONDITIONS + 1 },
    { SECTION_ROWS, ROW_CODE_COUNT, 2, 0 },
    { SECTION_ROWS, ROW_CODE_COUNT, 2, 0xFFFF },
    { SECTION_ROWS, ROW_NOTE, 2, 0xFFFF },
    { SECTION_ROWS, ROW_RESERVED, 1, 1 },
    { SECTION_ROWS, ROW_CODE, 4, HUGE_NUMBER },
    { SECTION_ROWS, ROW_CODE_TEXT, 4, HUGE_NUMBER },
    { SECTION_ROWS, ROW_WORDS, 4, 0 },
    { SECTION_ROWS, ROW_WORDS, 4, HUGE_NUMBER },
    { SECTION_ROWS, ROW_FACT, 4, HUGE_NUMBER },
    { SECTION_ROWS, ROW_CONDITION, 2, 0xFFFF },
    { SECTION_NOTES, NOTE_REMARK, 4, HUGE_NUMBER },
    { SECTION_NOTES, NOTE_TAG, 4, HUGE_NUMBER },
    { SECTION_NOTES, NOTE_CITATION, 4, HUGE_NUMBER },
    { SECTION_NOTES, NOTE_CITATION_COUNT, 2, 0 }, /* published without source */
    { SECTION_NOTES, NOTE_CITATION_COUNT, 2, LIMIT_CITATIONS + 1 },
    { SECTION_CODES, 0, 4, 0 },
    { SECTION_CODES, 0, 4, 63 },
    { SECTION_FACTS, FACT_ATTRIBUTE, 2, MAX_ATTRIBUTES },
    { SECTION_FACTS, FACT_VALUE, 4, HUGE_NUMBER },
    { SECTION_CONDITIONS, CONDITION_KIND, 1, CONDITION_KIND_COUNT },
    { SECTION_CONDITIONS, CONDITION_KIND, 1, CONDITION_CHECK }, /* no check there */
    { SECTION_CONDITIONS, CONDITION_REF, 2, 0xFFFF },
    { SECTION_CONDITIONS, CONDITION_VALUE, 4, HUGE_NUMBER },
    { SECTION_CONDITIONS, CONDITION_VALUE_COUNT, 2, 0 },
    { SECTION_CONDITIONS, CONDITION_VALUE_COUNT, 2, LIMIT_VALUES + 1 },
    { SECTION_CONDITIONS, CONDITION_RESERVED, 4, 1 },
    { SECTION_VALUES, 0, 4, HUGE_NUMBER },
    { SECTION_CITATIONS, 0, 4, HUGE_NUMBER },
    { SECTION_SOURCES, SOURCE_KEY, 4, 0 },
    { SECTION_SOURCES, SOURCE_CITATION, 4, 0 },
    { SECTION_SOURCES, SOURCE_ADDRESS, 4, HUGE_NUMBER },
    { SECTION_MEMBERS, 0, 2, 0xFFFF },
    { SECTION_CHOICES, 0, 2, 0xFFFF },
    { SECTION_MASKS, 0, 4, 0xFFFFFFFFu }, /* layouts that are not there */
    { SECTION_FIELD_NAMES, FIELD_NAME_NAME, 4, 0 },
    { SECTION_FIELD_NAMES, FIELD_NAME_LABEL, 4, 0 },
    { SECTION_ATTRIBUTES, ATTRIBUTE_NAME, 4, 0 },
    { SECTION_ATTRIBUTES, ATTRIBUTE_LABEL, 4, 0 },
    { SECTION_ATTRIBUTES, ATTRIBUTE_UNIT, 4, HUGE_NUMBER },
    { SECTION_ATTRIBUTES, ATTRIBUTE_KIND, 1, ATTRIBUTE_KIND_COUNT },
    { SECTION_FINDINGS, FINDING_NUMBER, 2, 2 },
    { SECTION_FINDINGS, FINDING_GRADE, 1, PLW_GRADE_CLEAR },
    { SECTION_FINDINGS, FINDING_GRADE, 1, PLW_GRADE_FAULT + 1 },
    { SECTION_FINDINGS, FINDING_NAME, 4, 0 },
    { SECTION_FINDINGS, FINDING_SENTENCE, 4, 0 },
    { SECTION_MISREADS, MISREAD_TYPED, 1, ALPHABET_SIZE },
    { SECTION_MISREADS, MISREAD_MEANT, 1, ALPHABET_SIZE },
    { SECTION_MISREADS, MISREAD_USE, 1, MISREAD_USE_COUNT },
    { SECTION_MISREADS, MISREAD_STANDING, 1, STANDING_COUNT },
    { SECTION_MISREADS, MISREAD_WORDS, 4, 0 },
    { SECTION_MISREADS, MISREAD_CITATION, 4, HUGE_NUMBER },
    { SECTION_MISREADS, MISREAD_CITATION_COUNT, 2, LIMIT_CITATIONS + 1 },
    { SECTION_CAUTIONS, CAUTION_KEY, 4, 0 },
    { SECTION_CAUTIONS, CAUTION_TEXT, 4, 0 },
};

/* Writes a fault into a record of an image. */
static void damage(unsigned char *image, const fault *f, uint32_t record)
{
    size_t at = (size_t)(plwi_record(image, f->section, record_sizes[f->section], record) - image) +
                f->offset;
    for (unsigned i = 0; i < f->size; i++)
        image[at + i] = (unsigned char)(f->value >> (8 * i));
}

static void refuse_fault(const fault *f, uint32_t record)
{
    unsigned char *image = copy_of(good, good_size);
    ck_assert_uint_lt(record, plwi_count(good, f->section));
    damage(image, f, record);
    ck_assert_msg(memcmp(image, good, good_size) != 0, "section %u, offset %u: no change",
                  f->section, f->offset);
    seal(image, good_size);
    ck_assert_msg(open_status(image, good_size) == PLW_E_IMAGE, "section %u, offset %u: accepted",
                  f->section, f->offset);
    free(image);
}

START_TEST(single_faults_are_refused)
{
    refuse_fault(&faults[_i], 0);
}
END_TEST

/* Bytes that are put in the middle of a text. */
static const struct {
    const char *bytes;
    int32_t status;
} spellings[] = {
    { "\xC3\xA9", PLW_OK }, /* a letter with an accent */
    { "\n", PLW_E_IMAGE },
    { "\x1B", PLW_E_IMAGE },
    { "\x7F", PLW_E_IMAGE },
    { "\xC2\x9B", PLW_E_IMAGE },         /* a control character beyond ASCII */
    { "\xE2\x80\xA8", PLW_E_IMAGE },     /* ends a line */
    { "\xE2\x80\xAE", PLW_E_IMAGE },     /* turns the direction of writing */
    { "\xE2\x81\xA6", PLW_E_IMAGE },     /* the same */
    { "\xEF\xBF\xBF", PLW_E_IMAGE },     /* no character for ever */
    { "\x80", PLW_E_IMAGE },             /* begins in the middle */
    { "\xC3", PLW_E_IMAGE },             /* ends in the middle */
    { "\xC1\xA1", PLW_E_IMAGE },         /* longer than it need be */
    { "\xE0\x82\xA9", PLW_E_IMAGE },     /* the same */
    { "\xED\xA0\x80", PLW_E_IMAGE },     /* half of a pair */
    { "\xF4\x90\x80\x80", PLW_E_IMAGE }, /* beyond the last */
    { "\xF8\x88\x80\x80", PLW_E_IMAGE },
};

START_TEST(text_is_held_to_its_spelling)
{
    unsigned char *image = copy_of(good, good_size);
    const unsigned char *caution = plwi_record(good, SECTION_CAUTIONS, 8, 0);
    const char *text = plwi_text(good, plwi_u32(caution + CAUTION_TEXT));
    size_t at = (size_t)((const unsigned char *)text - good) + 1;
    ck_assert_uint_gt(strlen(text), 8);
    memcpy(image + at, spellings[_i].bytes, strlen(spellings[_i].bytes));
    seal(image, good_size);
    ck_assert_int_eq(open_status(image, good_size), spellings[_i].status);
    free(image);
}
END_TEST

START_TEST(text_has_its_bounds)
{
    const fault first = { SECTION_TEXT, 0, 1, 'x' };
    const fault last = { SECTION_TEXT, 0, 1, '.' };
    refuse_fault(&first, 0);
    refuse_fault(&last, plwi_count(good, SECTION_TEXT) - 1);
}
END_TEST

/* A text may be as long as the limit, and not a byte longer. */
START_TEST(text_has_its_limit)
{
    unsigned char *image = copy_of(good, good_size);
    size_t start = (size_t)(plwi_section(good, SECTION_TEXT) - good) + 1;
    ck_assert_uint_gt(plwi_count(good, SECTION_TEXT), LIMIT_TEXT + 2);
    memset(image + start, 'x', LIMIT_TEXT - 1);
    image[start + LIMIT_TEXT - 1] = 0;
    ck_assert_int_eq(plwi_is_text(image, 1), 1);
    ck_assert_int_eq(plwi_texts_hold(image), 1);
    image[start + LIMIT_TEXT - 1] = 'x';
    image[start + LIMIT_TEXT] = 0;
    ck_assert_int_eq(plwi_texts_hold(image), 0);
    free(image);
}
END_TEST

/* The first condition of a kind, and the first row of a kind of field. */
static uint32_t condition_of_kind(unsigned kind)
{
    uint32_t i = 0;
    while (plwi_condition(good, i)[CONDITION_KIND] != kind)
        i++;
    return i;
}

static uint32_t field_of_kind(unsigned kind)
{
    uint32_t i = 0;
    while (plwi_field(good, i)[FIELD_KIND] != kind)
        i++;
    return i;
}

static uint32_t row_of_kind(unsigned kind)
{
    return plwi_u32(plwi_field(good, field_of_kind(kind)) + FIELD_ROW);
}

START_TEST(faults_in_conditions_are_refused)
{
    uint32_t other_scheme = plwi_u32(plwi_scheme(good, 1) + SCHEME_FIELD);
    const fault other_field = { SECTION_CONDITIONS, CONDITION_REF, 2, other_scheme };
    const fault topic = { SECTION_CONDITIONS, CONDITION_REF, 2, field_of_kind(KIND_TOPIC) };
    const fault no_attribute = { SECTION_CONDITIONS, CONDITION_REF, 2, MAX_ATTRIBUTES - 1 };
    const fault check_with_ref = { SECTION_CONDITIONS, CONDITION_REF, 2, 1 };
    const fault behind = { SECTION_CONDITIONS, CONDITION_VALUE, 4,
                           plwi_count(good, SECTION_VALUES) };
    refuse_fault(&other_field, condition_of_kind(CONDITION_FIELD));
    refuse_fault(&topic, condition_of_kind(CONDITION_FIELD));
    refuse_fault(&no_attribute, condition_of_kind(CONDITION_ATTRIBUTE));
    refuse_fault(&behind, condition_of_kind(CONDITION_ATTRIBUTE));
    refuse_fault(&check_with_ref, condition_of_kind(CONDITION_CHECK));
    refuse_fault(&behind, condition_of_kind(CONDITION_CHECK));
}
END_TEST

START_TEST(faults_in_running_numbers_are_refused)
{
    static const fault no_range = { SECTION_ROWS, ROW_CODE_COUNT, 2, 0 };
    static const fault half_a_range = { SECTION_ROWS, ROW_CODE_COUNT, 2, 1 };
    static const fault other_row = { SECTION_FIELDS, FIELD_ROW, 4, 0 };
    const fault narrow_code = { SECTION_CODES, 0, 8, 11 };
    static const fault backwards = { SECTION_CODES, 0, 8, UINT64_C(0x041041041) }; /* 000000 */
    uint32_t row = row_of_kind(KIND_RUN);
    uint32_t code = plwi_u32(plwi_row(good, row) + ROW_CODE);
    refuse_fault(&no_range, row);
    refuse_fault(&half_a_range, row);
    refuse_fault(&other_row, field_of_kind(KIND_RUN));
    refuse_fault(&narrow_code, code);
    refuse_fault(&backwards, code + 1);
}
END_TEST

/* What lies inside its section can still be more than a record may have. */
START_TEST(ranges_have_their_limits)
{
    static const fault from_the_start = { SECTION_SCHEMES, SCHEME_FACT, 4, 0 };
    unsigned char *image = copy_of(good, good_size);
    ck_assert_uint_gt(plwi_count(good, SECTION_FACTS), LIMIT_FACTS);
    damage(image, &from_the_start, 0);
    for (uint32_t more = 0; more < 2; more++) {
        const fault count = { SECTION_SCHEMES, SCHEME_FACT_COUNT, 4, LIMIT_FACTS + more };
        damage(image, &count, 0);
        seal(image, good_size);
        ck_assert_int_eq(open_status(image, good_size), more ? PLW_E_IMAGE : PLW_OK);
    }
    free(image);
}
END_TEST

START_TEST(rows_of_another_field_are_refused)
{
    static const fault behind = { SECTION_MEMBERS, 0, 2, 0x100 };
    refuse_fault(&behind, plwi_count(good, SECTION_MEMBERS) - 1);
}
END_TEST

/* A length that counts a layout more than there are, or names too few words. */
START_TEST(faults_in_lengths_are_refused)
{
    static const fault length_faults[] = {
        { SECTION_LENGTHS, LENGTH_LAYOUT, 4, 0 }, { SECTION_LENGTHS, LENGTH_COUNT, 2, 0 },
        { SECTION_LENGTHS, LENGTH_COUNT, 2, 2 },  { SECTION_LENGTHS, LENGTH_COUNT, 2, 0xFFFF },
        { SECTION_LENGTHS, LENGTH_WORDS, 2, 0 },  { SECTION_LENGTHS, LENGTH_WORDS, 2, 2 },
        { SECTION_LENGTHS, LENGTH_MASK, 4, 0 },   { SECTION_LENGTHS, LENGTH_MASK, 4, HUGE_NUMBER },
        { SECTION_LENGTHS, LENGTH_CHOICE, 4, 1 },
        { SECTION_LENGTHS, LENGTH_CHOICE, 4, HUGE_NUMBER },
        { SECTION_LENGTHS, LENGTH_MASK_COUNT, 2, 1 },
        { SECTION_LENGTHS, LENGTH_MASK_COUNT, 2, 0xFFFF },
    };
    refuse_fault(&length_faults[_i], 12); /* a length with one layout */
}
END_TEST

START_TEST(faults_in_checks_are_refused)
{
    static const fault check_faults[] = {
        { SECTION_CHECKS, CHECK_FIELD, 2, 0 },  /* not a check field */
        { SECTION_CHECKS, CHECK_FIELD, 2, 11 }, /* the same, but of its own scheme */
        { SECTION_CHECKS, CHECK_FIELD, 2, 0xFFFF },
        { SECTION_CHECKS, CHECK_LENGTH, 1, 0 },
        { SECTION_CHECKS, CHECK_LENGTH, 1, MAX_POSITIONS + 1 },
        { SECTION_CHECKS, CHECK_MODULUS, 1, 0 },
        { SECTION_CHECKS, CHECK_MODULUS, 1, 1 },
        { SECTION_CHECKS, CHECK_MODULUS, 1, ALPHABET_SIZE + 1 },
        { SECTION_CHECKS, CHECK_DIGITS, 1, ALPHABET_SIZE },
        { SECTION_CHECKS, CHECK_RESERVED, 4, 1 },
    };
    refuse_fault(&check_faults[_i], 0);
}
END_TEST

/* The first slot of the hash table that is used or empty. */
static uint32_t group_slot(int used)
{
    uint32_t slot = 0;
    while ((plwi_u16(plwi_record(good, SECTION_GROUPS, 16, slot) + GROUP_COUNT) != 0) != used)
        slot++;
    return slot;
}

START_TEST(faults_in_groups_are_refused)
{
    static const fault group_faults[] = {
        { SECTION_GROUPS, GROUP_CODE, 4, 0 },
        { SECTION_GROUPS, GROUP_MEMBER, 4, HUGE_NUMBER },
        { SECTION_GROUPS, GROUP_FIELD, 2, 0xFFFF },
        { SECTION_GROUPS, GROUP_FIELD, 2, 9 }, /* rows of another field */
        { SECTION_GROUPS, GROUP_COUNT, 2, LIMIT_GROUP + 1 },
    };
    refuse_fault(&group_faults[_i], group_slot(1));
}
END_TEST

/* Without an empty slot the search for an unknown code would never end. */
START_TEST(full_group_table_is_refused)
{
    unsigned char *image = copy_of(good, good_size);
    const unsigned char *used = plwi_record(good, SECTION_GROUPS, 16, group_slot(1));
    for (uint32_t slot = 0; slot < plwi_count(good, SECTION_GROUPS); slot++) {
        size_t at = (size_t)(plwi_record(image, SECTION_GROUPS, 16, slot) - image);
        if (plwi_u16(image + at + GROUP_COUNT) == 0)
            memcpy(image + at, used, 16);
    }
    seal(image, good_size);
    ck_assert_int_eq(open_status(image, good_size), PLW_E_IMAGE);
    free(image);
}
END_TEST

START_TEST(faults_in_the_directory_are_refused)
{
    static const uint32_t values[] = { 0, 1, 8, 0x7FFFFFF8u, 0xFFFFFFF8u, 0xFFFFFFFFu };
    for (size_t at = HEADER_SECTIONS; at < HEADER_DIRECTORY + SECTION_COUNT * DIRECTORY_RECORD;
         at += 4) {
        for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
            unsigned char *image = copy_of(good, good_size);
            put_u32(image + at, values[i]);
            seal(image, good_size);
            int is_change = plwi_u32(good + at) != values[i];
            ck_assert_int_eq(open_status(image, good_size), is_change ? PLW_E_IMAGE : PLW_OK);
            free(image);
        }
    }
}
END_TEST

/* ---- Work ------------------------------------------------------------ */

#define MANY_CODES 20000u

/* The fixture with so many codes more, all of them "A", behind its own. */
/* The image with more records of a section, each like its last. */
static unsigned char *with_more(unsigned section, uint32_t records, size_t *size)
{
    size_t one = record_sizes[section], more = records * one;
    size_t end = (size_t)(plwi_section(good, section) - good) + plwi_count(good, section) * one;
    unsigned char *image = calloc(1, good_size + more);
    ck_assert_ptr_nonnull(image);
    ck_assert_uint_eq(more % 8, 0);
    *size = good_size + more;
    memcpy(image, good, end);
    for (size_t at = end; at < end + more; at += one)
        memcpy(image + at, good + end - one, one);
    memcpy(image + end + more, good + end, good_size - end);
    for (unsigned behind = section + 1; behind < SECTION_COUNT; behind++) {
        size_t entry = (size_t)(plwi_directory(image, behind) - image);
        put_u32(image + entry, plwi_u32(image + entry) + (uint32_t)more);
    }
    put_u32(image + (plwi_directory(image, section) - image) + DIRECTORY_COUNT,
            plwi_count(good, section) + records);
    put_u32(image + HEADER_SIZE, (uint32_t)*size);
    return image;
}

static unsigned char *with_many_codes(size_t *size)
{
    static const fault narrow = { SECTION_CODES, 0, 8, 11 };
    unsigned char *image = with_more(SECTION_CODES, MANY_CODES, size);
    for (uint32_t i = 0; i < MANY_CODES; i++)
        damage(image, &narrow, plwi_count(good, SECTION_CODES) + i);
    return image;
}

/* What nobody owns does not belong there, nor a list longer than it may be. */
START_TEST(records_too_many_are_refused)
{
    static const unsigned sections[] = { SECTION_FIELDS,  SECTION_ROWS,  SECTION_LAYOUTS,
                                         SECTION_LENGTHS, SECTION_CHOICES, SECTION_MASKS,
                                         SECTION_ATTRIBUTES };
    for (size_t i = 0; i < sizeof sections / sizeof *sections; i++) {
        size_t size;
        unsigned char *image = with_more(sections[i], MAX_ATTRIBUTES, &size);
        seal(image, size);
        ck_assert_msg(open_status(image, size) == PLW_E_IMAGE, "section %u", sections[i]);
        free(image);
    }
}
END_TEST

/* The field of that name in the first scheme. */
static uint32_t field_named(const char *name)
{
    uint32_t i = 0;
    while (strcmp(plwi_field_name(good, i), name) != 0)
        i++;
    return i;
}

/* The fixture with two faults in the groups of all codes of a field. */
static unsigned char *with_groups_changed(uint32_t field, const fault faults_of_groups[2])
{
    unsigned char *image = copy_of(good, good_size);
    for (uint32_t slot = 0; slot < plwi_count(good, SECTION_GROUPS); slot++) {
        const unsigned char *group = plwi_record(good, SECTION_GROUPS, 16, slot);
        if (plwi_u16(group + GROUP_COUNT) == 0 || plwi_u16(group + GROUP_FIELD) != field)
            continue;
        damage(image, &faults_of_groups[0], slot);
        damage(image, &faults_of_groups[1], slot);
    }
    seal(image, good_size);
    return image;
}

/* Where a group of one row finds the second of its field. */
static uint32_t member_of_second_row(void)
{
    uint32_t i = 0;
    while (plwi_u16(plwi_record(good, SECTION_MEMBERS, 2, i)) != 1)
        i++;
    return i;
}

static uint32_t patterns_of(const plw_tables *tables, const char *claims)
{
    plw_expectation *e;
    ck_assert_int_eq(plw_expectation_new(&e), PLW_OK);
    ck_assert_int_eq(plw_expect(tables, claims, strlen(claims), NULL, 0, e), PLW_OK);
    uint32_t count = plw_pattern_count(e);
    plw_expectation_free(e);
    return count;
}

/* 1 when a field of that name would settle the year of a number. */
static int settles(const plw_tables *tables, const char *number, const char *field)
{
    plw_result *r;
    int found = 0;
    ck_assert_int_eq(plw_result_new(&r), PLW_OK);
    ck_assert_int_eq(plw_decode(tables, number, strlen(number), NULL, 0, r), PLW_OK);
    for (uint32_t i = 0; i < plw_settling_count(r); i++)
        found |= strcmp(plw_field_name(r, plw_settling_reading(r, i), plw_settling_field(r, i)),
                        field) == 0;
    plw_result_free(r);
    return found;
}

/* No compiler of ours writes codes that cannot be found, nor some that lead to the rows of
 * others: they say nothing, and nothing is found of them. */
START_TEST(codes_that_cannot_be_found_say_nothing)
{
    const fault changes[2][2] = {
        { { SECTION_GROUPS, GROUP_CODE, 8, 1 }, { SECTION_GROUPS, GROUP_COUNT, 2, 1 } },
        /* an H that held until 1969 */
        { { SECTION_GROUPS, GROUP_MEMBER, 4, member_of_second_row() },
          { SECTION_GROUPS, GROUP_COUNT, 2, 1 } },
    };
    const char *claims = "line=Harrier;year=1970", *number = "T24K4P100001";
    ck_assert_uint_gt(patterns_of(fixture_tables(), claims), 0);
    ck_assert(settles(fixture_tables(), number, "line"));
    for (int i = 0; i < 2; i++) {
        const plw_tables *tables = NULL;
        unsigned char *image = with_groups_changed(field_named("line"), changes[i]);
        ck_assert_int_eq(plw_tables_open(image, good_size, 0, &tables), PLW_OK);
        ck_assert_uint_eq(patterns_of(tables, claims), 0);
        ck_assert(!settles(tables, number, "line"));
        free(image);
    }
}
END_TEST

/* A fault and the record that it goes into. */
typedef struct change {
    fault what;
    uint32_t record;
} change;

static void refuse_changes(const char *name, const change *changes, size_t count)
{
    unsigned char *image = copy_of(good, good_size);
    for (size_t i = 0; i < count; i++)
        damage(image, &changes[i].what, changes[i].record);
    seal(image, good_size);
    ck_assert_msg(open_status(image, good_size) == PLW_E_IMAGE, "%s: accepted", name);
    free(image);
}

#define REFUSE(name, ...) \
    do { \
        const change changes[] = { __VA_ARGS__ }; \
        refuse_changes(name, changes, sizeof changes / sizeof *changes); \
    } while (0)

static uint32_t first_row_of_kind(unsigned kind)
{
    uint32_t i = 0;
    while (plwi_row(good, i)[ROW_KIND] != kind)
        i++;
    return i;
}

static uint32_t text_of(unsigned section, unsigned offset)
{
    return plwi_u32(plwi_record(good, section, record_sizes[section], 0) + offset);
}

START_TEST(names_and_days_are_held_to_their_spelling)
{
    uint32_t edition = plwi_u32(good + HEADER_EDITION);
    unsigned char *image = copy_of(good, good_size);
    REFUSE("a name with a capital",
           { { SECTION_TEXT, 0, 1, 'X' }, text_of(SECTION_FIELD_NAMES, FIELD_NAME_NAME) + 1 });
    REFUSE("an edition of letters", { { SECTION_TEXT, 0, 1, 'X' }, edition });
    REFUSE("an edition without hyphens", { { SECTION_TEXT, 0, 1, '0' }, edition + 4 });
    REFUSE("an edition that goes on", { { SECTION_TEXT, 0, 1, '0' }, edition + 10 });
    put_u32(image + HEADER_EDITION, edition + 1); /* inside the text */
    seal(image, good_size);
    ck_assert_int_eq(open_status(image, good_size), PLW_E_IMAGE);
    free(image);
}
END_TEST

START_TEST(faults_in_codes_and_conditions_are_refused)
{
    uint32_t field = condition_of_kind(CONDITION_FIELD);
    uint32_t check = plwi_u32(plwi_condition(good, condition_of_kind(CONDITION_CHECK)) +
                              CONDITION_VALUE);
    uint32_t closed = first_row_of_kind(ROW_CLOSED);
    uint32_t cover = plwi_count(good, SECTION_COVERS) - 1;
    REFUSE("a code of eleven characters",
           { { SECTION_CODES, 0, 8, UINT64_C(0x1041041041041041) }, 0 });
    REFUSE("codes that do not rise", { { SECTION_CONDITIONS, CONDITION_VALUE, 4, 0 }, field },
           { { SECTION_CONDITIONS, CONDITION_VALUE_COUNT, 2, 2 }, field });
    REFUSE("a check where there is none",
           { { SECTION_CONDITIONS, CONDITION_KIND, 1, CONDITION_CHECK }, field },
           { { SECTION_CONDITIONS, CONDITION_REF, 2, 0 }, field },
           { { SECTION_CONDITIONS, CONDITION_VALUE, 4, 0 }, field });
    REFUSE("a check in no state", { { SECTION_VALUES, 0, 4, CHECK_STATE_COUNT }, check });
    REFUSE("a check that is not there", { { SECTION_SCHEMES, SCHEME_CHECK, 4, 1 }, 0 });
    REFUSE("a rule with a code", { { SECTION_ROWS, ROW_CODE_COUNT, 2, 1 }, closed });
    REFUSE("a rule that means something", { { SECTION_ROWS, ROW_KIND, 1, ROW_MEANING }, closed });
    REFUSE("a check that a field requires which is none",
           { { SECTION_ROWS, ROW_KIND, 1, ROW_REQUIRED }, closed });
    REFUSE("a cover of an earlier field", { { SECTION_COVERS, COVER_ROW, 4, 0 }, cover });
}
END_TEST

START_TEST(faults_in_years_are_refused)
{
    uint32_t first = plwi_u32(plwi_scheme(good, 0) + SCHEME_YEARS);
    uint32_t other = plwi_u32(plwi_scheme(good, 1) + SCHEME_YEARS);
    uint32_t one = plwi_u16(plwi_row(good, 4) + ROW_YEARS); /* of 1966 alone */
    REFUSE("no year", { { SECTION_YEARS, 0, 8, 0 }, one }, { { SECTION_YEARS, 8, 8, 0 }, one });
    REFUSE("a scheme of no year", { { SECTION_YEARS, 0, 8, 0 }, first },
           { { SECTION_YEARS, 8, 8, 0 }, first });
    for (uint32_t i = 0; i < 2; i++)
        REFUSE("years of another scheme",
               { { SECTION_LAYOUTS, LAYOUT_YEARS, 4,
                   plwi_u16(plwi_layout(good, i) + LAYOUT_SCHEME) ? first : other }, i });
}
END_TEST

START_TEST(faults_in_places_are_refused)
{
    static const unsigned kept[] = { LENGTH_COUNT, LENGTH_WORDS, LENGTH_MASK_COUNT };
    REFUSE("wider than its field", { { SECTION_SPANS, SPAN_WIDTH, 1, 2 }, 0 },
           { { SECTION_SPANS, SPAN_POSITIONS, 4, 3 }, 0 });
    REFUSE("one field in two places",
           { { SECTION_SPANS, SPAN_FIELD, 2, plwi_u16(plwi_span(good, 0) + SPAN_FIELD) }, 1 });
    /* The layouts of a length that stand at the next: these would have more choices. */
    unsigned char *image = copy_of(good, good_size);
    unsigned char *length =
        image + (plwi_record(image, SECTION_LENGTHS, LENGTH_SIZE, 12) - image);
    memcpy(length + LENGTH_SIZE, length, LENGTH_SIZE);
    for (size_t i = 0; i < sizeof kept / sizeof *kept; i++)
        memset(length + kept[i], 0, 2);
    seal(image, good_size);
    ck_assert_int_eq(open_status(image, good_size), PLW_E_IMAGE);
    free(image);
}
END_TEST

/* Braces inside each other, or that close nothing. */
START_TEST(faults_in_sentences_are_refused)
{
    uint32_t finding = 0, at;
    do
        at = plwi_u32(plwi_record(good, SECTION_FINDINGS, 12, finding++) + FINDING_SENTENCE);
    while (strchr(plwi_text(good, at), '{') == NULL);
    at += (uint32_t)strcspn(plwi_text(good, at), "{");
    REFUSE("two that open", { { SECTION_TEXT, 0, 1, '{' }, at + 1 });
    REFUSE("one that closes nothing", { { SECTION_TEXT, 0, 1, '}' }, at });
    REFUSE("one that is not closed",
           { { SECTION_TEXT, 0, 1, 'x' },
             at + (uint32_t)strcspn(plwi_text(good, at), "}") });
}
END_TEST

/* Nor layouts of which no field is left: what stands there is compared, and means nothing. */
START_TEST(layouts_without_fields_say_nothing)
{
    static const fault none = { SECTION_LAYOUTS, LAYOUT_SPAN_COUNT, 1, 0 };
    static const char *const plates[] = { "T24K6P100051", "T24R6P100051" };
    char sentence[500];
    const plw_tables *tables = NULL;
    plw_car *car;
    unsigned char *image = copy_of(good, good_size);
    for (uint32_t layout = 0; layout < plwi_count(good, SECTION_LAYOUTS); layout++)
        damage(image, &none, layout);
    seal(image, good_size);
    ck_assert_int_eq(plw_tables_open(image, good_size, 0, &tables), PLW_OK);
    ck_assert_int_eq(plw_car_new(&car), PLW_OK);
    for (int32_t i = 0; i < 2; i++)
        ck_assert_int_eq(plw_car_add_plate(car, PLW_PLACE_DASH + i, plates[i], 12), PLW_OK);
    ck_assert_int_eq(plw_compare(tables, car, NULL, 0), PLW_OK);
    ck_assert_uint_eq(plw_difference_count(car), 2);
    ck_assert_uint_eq(plw_difference_row_count(car, 0), 0);
    ck_assert_int_eq(plw_difference_sentence(car, 0, sentence, sizeof sentence, NULL), PLW_OK);
    ck_assert_int_eq(strncmp(sentence, "Position 4: K on ", 17), 0);
    plw_car_free(car);
    free(image);
}
END_TEST

/* Nor a field that only adds to others, and stands on none. */
START_TEST(details_of_no_field_stand_alone)
{
    static const fault detail = { SECTION_FIELDS, FIELD_KIND, 1, KIND_DETAIL };
    static char text[1 << 15];
    const plw_tables *tables = NULL;
    plw_result *r;
    unsigned char *image = copy_of(good, good_size);
    damage(image, &detail, field_named("engine"));
    seal(image, good_size);
    ck_assert_int_eq(plw_tables_open(image, good_size, 0, &tables), PLW_OK);
    ck_assert_int_eq(plw_result_new(&r), PLW_OK);
    ck_assert_int_eq(plw_validate(tables, "T24K6P100051", 12, NULL, 0, r), PLW_OK);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++) {
        ck_assert_int_eq(plw_explain(r, format, 0, text, sizeof text, NULL), PLW_OK);
        ck_assert_ptr_nonnull(strstr(text, "1490 cc four"));
    }
    plw_result_free(r);
    free(image);
}
END_TEST

/* A check character stands in one position, and a text section is never empty. */
START_TEST(faults_between_records_are_refused)
{
    uint32_t check = field_of_kind(KIND_CHECK), span = 0;
    while (plwi_u16(plwi_span(good, span) + SPAN_FIELD) != check)
        span++;
    unsigned char *image = copy_of(good, good_size);
    const fault wide[] = {
        { SECTION_FIELDS, FIELD_WIDTH, 1, 2 },
        { SECTION_SPANS, SPAN_WIDTH, 1, 2 },
        { SECTION_SPANS, SPAN_POSITIONS, 4, 3 },
    };
    damage(image, &wide[0], check);
    damage(image, &wide[1], span);
    damage(image, &wide[2], span);
    seal(image, good_size);
    ck_assert_int_eq(open_status(image, good_size), PLW_E_IMAGE);
    memcpy(image, good, good_size);
    put_u32(image + (plwi_directory(image, SECTION_TEXT) - image) + DIRECTORY_COUNT, 0);
    ck_assert_int_eq(plwi_texts_hold(image), 0);
    free(image);
}
END_TEST

/* Layouts of a length stand in the order of their schemes. */
START_TEST(layouts_out_of_order_are_refused)
{
    size_t size;
    unsigned char kept[LAYOUT_SIZE];
    unsigned char *image = fixture_image_of(
        "[scheme]\nkey odd-1970\ntitle Odd cars\nyears 1970-1979\nfacts -\n"
        "[fields]\nl line code A-Z\n[layout]\nsample A\nruler l\n"
        "[line]\nA 1970-1979 - practice - - first line\n"
        "[scheme]\nkey odd-1971\ntitle Other cars\nyears 1970-1979\nfacts -\n"
        "[fields]\nl line code A-Z\n[layout]\nsample A\nruler l\n"
        "[line]\nA 1970-1979 - practice - - other line\n",
        &size);
    ck_assert_int_eq(open_status(image, size), PLW_OK);
    ck_assert_uint_eq(plwi_count(image, SECTION_LAYOUTS), 2);
    unsigned char *first = image + (plwi_layout(image, 0) - image);
    memcpy(kept, first, LAYOUT_SIZE);
    memcpy(first, first + LAYOUT_SIZE, LAYOUT_SIZE);
    memcpy(first + LAYOUT_SIZE, kept, LAYOUT_SIZE);
    seal(image, size);
    ck_assert_int_eq(open_status(image, size), PLW_E_IMAGE);
    free(image);
}
END_TEST

/* A field may not ask for what a field behind it states. */
START_TEST(questions_that_lead_forward_are_refused)
{
    size_t size;
    unsigned char *image = fixture_image_of(
        "[scheme]\nkey odd-1970\ntitle Odd cars\nyears 1970-1979\nfacts -\n"
        "[fields]\nl line code A-Z\ne engine code A-Z\np plant code A-Z\n"
        "[layout]\nsample AAA\nruler lep\n"
        "[line]\nA 1970-1979 - practice - country=Wexland first line\n"
        "[engine]\nA 1970-1979 country=Wexland practice - - first engine\n"
        "[plant]\nA 1970-1979 - practice - place=Netherwick first plant\n",
        &size);
    ck_assert_int_eq(open_status(image, size), PLW_OK);
    size_t at = (size_t)(plwi_condition(image, 0) - image) + CONDITION_REF;
    uint32_t place = plwi_u16(plwi_fact(image, plwi_count(image, SECTION_FACTS) - 1) +
                              FACT_ATTRIBUTE);
    ck_assert_uint_ne(plwi_u16(image + at), place);
    image[at] = (unsigned char)place;
    seal(image, size);
    ck_assert_int_eq(open_status(image, size), PLW_E_IMAGE);
    free(image);
}
END_TEST

/* Rows may share codes, but not so that the check takes longer than the image is. */
START_TEST(shared_codes_cannot_blow_up_the_check)
{
    size_t size;
    unsigned char *image = with_many_codes(&size);
    for (uint32_t row = 0; row < 15; row++) {
        const fault codes[] = {
            { SECTION_ROWS, ROW_CODE, 4, plwi_count(good, SECTION_CODES) },
            { SECTION_ROWS, ROW_CODE_COUNT, 2, MANY_CODES },
        };
        damage(image, &codes[0], row);
        damage(image, &codes[1], row);
        seal(image, size);
        if (row == 0)
            ck_assert_int_eq(open_status(image, size), PLW_OK);
    }
    ck_assert_int_eq(open_status(image, size), PLW_E_IMAGE);
    free(image);
}
END_TEST

/* The check pays for what it visits: whatever it is at when nothing is left, it refuses. */
START_TEST(visits_are_paid_for)
{
    uint32_t purse = 0;
    while (!plwi_links_hold(good, purse))
        purse++;
    ck_assert_uint_gt(purse, plwi_count(good, SECTION_CODES) / 2);
    ck_assert_uint_lt(purse, good_size / 10); /* what a good image has is far from all */
}
END_TEST

/* ---- Random damage --------------------------------------------------- */

/* What is used of everything an accessor hands out, so that nothing is left
 * unread. */
static size_t walked;

static void walk_text(const char *text)
{
    walked += strlen(text);
}

static void walk_row(const plw_tables *tables, uint32_t row)
{
    char buffer[512];
    int64_t quantity;
    walk_text(plw_row_field(tables, row));
    walk_text(plw_row_label(tables, row));
    walk_text(plw_row_code(tables, row));
    walk_text(plw_row_words(tables, row));
    walk_text(plw_row_remark(tables, row));
    walk_text(plw_standing_name(plw_row_standing(tables, row)));
    expect(plw_row_scheme(tables, row) < plw_scheme_count(tables), "scheme of a row");
    expect(plw_row_marks(tables, row) <= MARKS_SERVED, "marks of a row");
    expect(plw_row_holds_in(tables, row, plw_row_first_year(tables, row)), "first year of a row");
    expect(plw_row_holds_in(tables, row, plw_row_last_year(tables, row)), "last year of a row");
    expect(plw_row_key(tables, row, buffer, sizeof buffer, NULL) != PLW_E_ARGUMENT, "key");
    expect(plw_row_condition(tables, row, buffer, sizeof buffer, NULL) != PLW_E_ARGUMENT,
           "condition");
    expect(plw_row_quantity(tables, row, "cid", &quantity) != PLW_E_ARGUMENT, "quantity");
    for (uint32_t i = 0; i < plw_row_attribute_count(tables, row); i++) {
        walk_text(plw_row_attribute_name(tables, row, i));
        plw_row_attribute_text(tables, row, i, buffer, sizeof buffer, NULL);
    }
    for (uint32_t i = 0; i < plw_row_source_count(tables, row); i++)
        expect(plw_row_source(tables, row, i) < plw_source_count(tables), "source of a row");
}

static void walk_scheme(const plw_tables *tables, uint32_t scheme)
{
    walk_text(plw_scheme_key(tables, scheme));
    walk_text(plw_scheme_title(tables, scheme));
    expect(plw_scheme_first_year(tables, scheme) >= FIRST_YEAR, "first year of a scheme");
    expect(plw_scheme_last_year(tables, scheme) <= LAST_YEAR, "last year of a scheme");
    uint32_t end = plw_scheme_first_row(tables, scheme) + plw_scheme_row_count(tables, scheme);
    expect(end <= plw_row_count(tables), "rows of a scheme");
    for (uint32_t i = 0; i < plw_layout_count(tables, scheme); i++) {
        walk_text(plw_layout_sample(tables, scheme, i));
        expect(plw_layout_length(tables, scheme, i) <= PLW_MAX_POSITIONS, "length of a layout");
    }
}

static void walk_tables(const plw_tables *tables)
{
    walk_text(plw_tables_edition(tables));
    for (uint32_t scheme = 0; scheme < plw_scheme_count(tables); scheme++)
        walk_scheme(tables, scheme);
    for (uint32_t row = 0; row < plw_row_count(tables); row++)
        walk_row(tables, row);
    for (uint32_t source = 0; source < plw_source_count(tables); source++) {
        walk_text(plw_source_key(tables, source));
        walk_text(plw_source_citation(tables, source));
        walk_text(plw_source_address(tables, source));
    }
    for (uint32_t i = 0; i < plw_caution_count(tables); i++)
        walk_text(plw_caution_text(tables, i));
}

static const char *const numbers[] = {
    "T24K3P100051",
    "S23R6P100001",
    "H27R9N500001",
    "S31M6N4?0001",
    "????????????",
    "V24W2P[13]0O051",
    "SZ7Z8N123456",
    "T24K3P10005",
    "X99X99X999999",
    "t24-k3p/1OOO51",
    "XTA3012345",
    "XT?1012345",
    "ETB?112345",
    "??????????",
    "XVC0I1Z345",
    "*****",
    "T24K3P1000510000000000000000000000000000",
    "S2\xC3\x9FR6P100001",
};

#define NUMBER_COUNT (sizeof numbers / sizeof *numbers)

/* Reads one number with the tables and has it explained in every form. */
static void walk_number(const plw_tables *tables, const char *number, plw_result *result)
{
    static char buffer[1 << 16];
    expect(plw_validate(tables, number, strlen(number), NULL, 0, result) == PLW_OK, number);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_SVG; format++) {
        size_t needed = 0;
        int32_t status =
            plw_explain(result, format, PLW_EXPLAIN_SOURCES, buffer, sizeof buffer, &needed);
        expect(status == (needed <= sizeof buffer ? PLW_OK : PLW_E_SHORT), number);
    }
}

/* A place to damage: any section is as likely as another, whatever its size. */
static size_t random_place(const unsigned char *image, uint32_t *random)
{
    for (;;) {
        unsigned section = next_random(random) % (SECTION_COUNT + 1);
        if (section == SECTION_COUNT)
            return HEADER_EDITION + next_random(random) % (HEADER_DIRECTORY - HEADER_EDITION +
                                                           SECTION_COUNT * DIRECTORY_RECORD);
        uint32_t bytes = plwi_count(image, section) * record_sizes[section];
        if (bytes > 0)
            return (size_t)(plwi_section(image, section) - image) + next_random(random) % bytes;
    }
}

/* Numbers at which checks go wrong: limits of types, counts and their neighbours. */
static uint32_t boundary_value(const unsigned char *image, uint32_t *random)
{
    static const uint32_t limits[] = { 0,          1,          0x7F,       0x80,
                                       0xFF,       0x7FFF,     0x8000,     0xFFFF,
                                       0x7FFFFFFF, 0x80000000, 0xFFFFFFFE, 0xFFFFFFFF };
    uint32_t pick = next_random(random);
    if (pick % 2 == 0)
        return limits[pick / 2 % (sizeof limits / sizeof *limits)];
    return plwi_count(image, pick / 2 % SECTION_COUNT) + pick / 128 % 3 - 1;
}

/* Places and lengths that were damaged, to be mended afterwards. */
typedef struct wound {
    size_t at;
    size_t length;
} wound;

static wound damage_at_random(unsigned char *image, uint32_t *random)
{
    wound w = { random_place(good, random), 1 + next_random(random) % 8 };
    unsigned kind = next_random(random) % 4;
    if (kind == 0) {
        w.at -= w.at % 4;
        w.length = 4;
        put_u32(image + w.at, boundary_value(good, random));
        return w;
    }
    if (kind == 1)
        w.length = 1;
    if (w.length > good_size - w.at)
        w.length = good_size - w.at;
    for (size_t i = 0; i < w.length; i++)
        image[w.at + i] = (unsigned char)next_random(random);
    return w;
}

START_TEST(random_damage_is_refused_or_harmless)
{
    unsigned char *image = copy_of(good, good_size);
    plw_result *result;
    uint32_t random = 0x2545F491;
    uint32_t accepted = 0;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    for (uint32_t i = 0; i < RANDOM_DAMAGES; i++) {
        wound wounds[2] = { damage_at_random(image, &random), { 0, 0 } };
        if (i % 8 == 0)
            wounds[1] = damage_at_random(image, &random);
        int holds = plwi_content_holds(image, good_size);
        if (holds || i % OPENED_EVERY == 0) {
            seal(image, good_size);
            int is_open = open_status(image, good_size) == PLW_OK;
            expect(is_open == (holds && plwi_u32(image + HEADER_SECTIONS) == SECTION_COUNT),
                   "opening and the check of the content differ");
            if (is_open) {
                const plw_tables *tables = (const plw_tables *)(const void *)image;
                walk_tables(tables);
                walk_number(tables, numbers[accepted++ % NUMBER_COUNT], result);
            }
        }
        for (unsigned w = 0; w < 2; w++)
            memcpy(image + wounds[w].at, good + wounds[w].at, wounds[w].length);
    }
    /* Both ways must have been taken often, or the test tests nothing. */
    ck_assert_uint_gt(accepted, RANDOM_DAMAGES / 100);
    ck_assert_uint_lt(accepted, RANDOM_DAMAGES / 2);
    plw_result_free(result);
    free(image);
}
END_TEST

static Suite *image_suite(void)
{
    Suite *suite = suite_create("image");
    TCase *tc = tcase_create("opening");
    tcase_add_unchecked_fixture(tc, load_fixture, unload_fixture);
    tcase_set_timeout(tc, 300);
    tcase_add_test(tc, opens_where_it_is);
    tcase_add_test(tc, opens_at_any_address);
    tcase_add_test(tc, compiled_in_image_opens);
    tcase_add_test(tc, refuses_arguments);
    tcase_add_test(tc, digest_is_written_in_sixteen_digits);
    tcase_add_test(tc, years_are_walked_in_order);
    tcase_add_test(tc, empty_set_has_no_year);
    tcase_add_test(tc, every_truncation_is_refused);
    tcase_add_test(tc, every_sealed_truncation_is_refused);
    tcase_add_test(tc, more_bytes_than_the_image_are_refused);
    tcase_add_test(tc, every_flipped_byte_is_refused);
    tcase_add_test(tc, another_version_is_named);
    tcase_add_loop_test(tc, single_faults_are_refused, 0, sizeof faults / sizeof *faults);
    tcase_add_loop_test(tc, text_is_held_to_its_spelling, 0, sizeof spellings / sizeof *spellings);
    tcase_add_test(tc, text_has_its_bounds);
    tcase_add_test(tc, text_has_its_limit);
    tcase_add_test(tc, faults_in_conditions_are_refused);
    tcase_add_test(tc, faults_in_running_numbers_are_refused);
    tcase_add_test(tc, ranges_have_their_limits);
    tcase_add_test(tc, rows_of_another_field_are_refused);
    tcase_add_loop_test(tc, faults_in_lengths_are_refused, 0, 12);
    tcase_add_loop_test(tc, faults_in_checks_are_refused, 0, 10);
    tcase_add_loop_test(tc, faults_in_groups_are_refused, 0, 5);
    tcase_add_test(tc, full_group_table_is_refused);
    tcase_add_test(tc, faults_in_the_directory_are_refused);
    tcase_add_test(tc, records_too_many_are_refused);
    tcase_add_test(tc, faults_between_records_are_refused);
    tcase_add_test(tc, codes_that_cannot_be_found_say_nothing);
    tcase_add_test(tc, names_and_days_are_held_to_their_spelling);
    tcase_add_test(tc, faults_in_codes_and_conditions_are_refused);
    tcase_add_test(tc, faults_in_years_are_refused);
    tcase_add_test(tc, faults_in_places_are_refused);
    tcase_add_test(tc, faults_in_sentences_are_refused);
    tcase_add_test(tc, layouts_without_fields_say_nothing);
    tcase_add_test(tc, details_of_no_field_stand_alone);
    tcase_add_test(tc, layouts_out_of_order_are_refused);
    tcase_add_test(tc, questions_that_lead_forward_are_refused);
    tcase_add_test(tc, shared_codes_cannot_blow_up_the_check);
    tcase_add_test(tc, visits_are_paid_for);
    suite_add_tcase(suite, tc);
    tc = tcase_create("long");
    tcase_add_unchecked_fixture(tc, load_fixture, unload_fixture);
    tcase_set_timeout(tc, 300);
    tcase_set_tags(tc, "long"); /* as those of probe.h */
    tcase_add_test(tc, random_damage_is_refused_or_harmless);
    suite_add_tcase(suite, tc);
    return suite;
}

int main(void)
{
    SRunner *runner = srunner_create(image_suite());
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
