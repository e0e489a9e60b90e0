/* SPDX-License-Identifier: MIT
 *
 * First half of the check: the frame of an image, its texts, and every number
 * in its records that can be judged by itself. What a record may hold is
 * written down in tables below; a walk over the sections holds them to it.
 */
#include "image_check.h"

#include <string.h>

static const unsigned char record_sizes[SECTION_COUNT] = SECTION_RECORD_SIZES;

/* ---- Header and directory -------------------------------------------- */

#define FRAME_SIZE (HEADER_DIRECTORY + SECTION_COUNT * DIRECTORY_RECORD)

static int header_holds(image_t image, size_t size)
{
    return size >= FRAME_SIZE && plwi_u32(image + HEADER_SIZE) == size &&
           plwi_u32(image + HEADER_SECTIONS) == SECTION_COUNT &&
           plwi_u64(image + HEADER_DIGEST) ==
               image_digest(image + DIGEST_START, size - DIGEST_START);
}

/* Sections follow one another, each at the next multiple of eight, up to the
 * end of the image. */
static int directory_holds(image_t image, size_t size)
{
    uint64_t end = FRAME_SIZE;
    for (unsigned section = 0; section < SECTION_COUNT; section++) {
        uint64_t offset = plwi_u32(plwi_directory(image, section) + DIRECTORY_OFFSET);
        if (offset != (end + 7) / 8 * 8)
            return 0;
        end = offset + (uint64_t)plwi_count(image, section) * record_sizes[section];
    }
    return end == size;
}

/* ---- Text ------------------------------------------------------------ */

/* Nothing that moves a cursor, ends a line or turns the direction of writing:
 * outputs hand texts on as they are. */
static int is_printable(uint32_t c)
{
    if (c < 0x20 || (c >= 0x7F && c < 0xA0))
        return 0;
    if ((c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069))
        return 0;
    return (c & 0xFFFE) != 0xFFFE;
}

/* The bytes of the UTF-8 character at p, or 0 when it is none or not
 * printable. A zero byte stands behind the text, so no continuation is missed. */
static uint32_t character_length(const unsigned char *p)
{
    static const uint32_t smallest[5] = { 0, 0, 0x80, 0x800, 0x10000 };
    uint32_t length = p[0] < 0x80 ? 1 : p[0] < 0xC0 ? 0 : p[0] < 0xE0 ? 2 : p[0] < 0xF0 ? 3 : 4;
    if (length == 0 || p[0] >= 0xF8)
        return 0;
    uint32_t c = length == 1 ? p[0] : p[0] & (0x7Fu >> length);
    for (uint32_t i = 1; i < length; i++) {
        if ((p[i] & 0xC0) != 0x80)
            return 0;
        c = c << 6 | (p[i] & 0x3Fu);
    }
    if (c < smallest[length] || c > 0x10FFFF || (c >= 0xD800 && c < 0xE000))
        return 0;
    return is_printable(c) ? length : 0;
}

int plwi_texts_hold(image_t image)
{
    const unsigned char *text = plwi_section(image, SECTION_TEXT);
    uint32_t count = plwi_count(image, SECTION_TEXT);
    if (count == 0 || text[0] != 0 || text[count - 1] != 0)
        return 0;
    uint32_t start = 0;
    for (uint32_t i = 0; i < count;) {
        uint32_t length = text[i] == 0 ? 1 : character_length(text + i);
        if (length == 0 || i - start >= LIMIT_TEXT)
            return 0;
        if (text[i] == 0)
            start = i + 1;
        i += length;
    }
    return 1;
}

/* ---- Numbers in records ---------------------------------------------- */

enum member_kind {
    MEMBER_BELOW, /* less than bound */
    MEMBER_INDEX, /* the number of a record of section bound */
    MEMBER_TEXT,  /* where a text starts */
    MEMBER_WORDS, /* the same, and it is not empty */
    MEMBER_NAME   /* the same, of small letters, digits and "._-" */
};

typedef struct member {
    unsigned char section;
    unsigned char offset;
    unsigned char size; /* bytes: 1, 2 or 4 */
    unsigned char kind;
    uint32_t bound;
} member;

static const member members[] = {
    { SECTION_SCHEMES, SCHEME_KEY, 4, MEMBER_NAME, 0 },
    { SECTION_SCHEMES, SCHEME_TITLE, 4, MEMBER_WORDS, 0 },
    { SECTION_SCHEMES, SCHEME_YEARS, 4, MEMBER_INDEX, SECTION_YEARS },
    { SECTION_SCHEMES, SCHEME_REMARK, 4, MEMBER_TEXT, 0 },
    { SECTION_FIELDS, FIELD_NAME, 2, MEMBER_INDEX, SECTION_FIELD_NAMES },
    { SECTION_FIELDS, FIELD_SCHEME, 2, MEMBER_INDEX, SECTION_SCHEMES },
    { SECTION_FIELDS, FIELD_KIND, 1, MEMBER_BELOW, KIND_COUNT },
    { SECTION_FIELDS, FIELD_WIDTH, 1, MEMBER_BELOW, MAX_CODE_WIDTH + 1 },
    { SECTION_FIELDS, FIELD_RESERVED, 1, MEMBER_BELOW, 1 },
    { SECTION_LAYOUTS, LAYOUT_SCHEME, 2, MEMBER_INDEX, SECTION_SCHEMES },
    { SECTION_LAYOUTS, LAYOUT_LENGTH, 1, MEMBER_BELOW, MAX_POSITIONS + 1 },
    { SECTION_LAYOUTS, LAYOUT_YEARS, 4, MEMBER_INDEX, SECTION_YEARS },
    { SECTION_LAYOUTS, LAYOUT_SAMPLE, 4, MEMBER_TEXT, 0 },
    { SECTION_LAYOUTS, LAYOUT_RESERVED, 4, MEMBER_BELOW, 1 },
    { SECTION_SPANS, SPAN_FIELD, 2, MEMBER_INDEX, SECTION_FIELDS },
    { SECTION_SPANS, SPAN_WIDTH, 1, MEMBER_BELOW, MAX_CODE_WIDTH + 1 },
    { SECTION_POSITIONS, 0, 2, MEMBER_INDEX, SECTION_CLASSES },
    { SECTION_ROWS, ROW_FIELD, 2, MEMBER_INDEX, SECTION_FIELDS },
    { SECTION_ROWS, ROW_YEARS, 2, MEMBER_INDEX, SECTION_YEARS },
    { SECTION_ROWS, ROW_STANDING, 1, MEMBER_BELOW, STANDING_COUNT },
    { SECTION_ROWS, ROW_MARKS, 1, MEMBER_BELOW, MARK_ALL + 1 },
    { SECTION_ROWS, ROW_KIND, 1, MEMBER_BELOW, ROW_KIND_COUNT },
    { SECTION_ROWS, ROW_CODE_TEXT, 4, MEMBER_TEXT, 0 },
    { SECTION_ROWS, ROW_WORDS, 4, MEMBER_WORDS, 0 },
    { SECTION_ROWS, ROW_NOTE, 2, MEMBER_INDEX, SECTION_NOTES },
    { SECTION_ROWS, ROW_RESERVED, 1, MEMBER_BELOW, 1 },
    { SECTION_NOTES, NOTE_REMARK, 4, MEMBER_TEXT, 0 },
    { SECTION_NOTES, NOTE_TAG, 4, MEMBER_TEXT, 0 },
    { SECTION_FACTS, FACT_ATTRIBUTE, 2, MEMBER_INDEX, SECTION_ATTRIBUTES },
    { SECTION_CONDITIONS, CONDITION_KIND, 1, MEMBER_BELOW, CONDITION_KIND_COUNT },
    { SECTION_CONDITIONS, CONDITION_RESERVED, 4, MEMBER_BELOW, 1 },
    { SECTION_CITATIONS, 0, 4, MEMBER_INDEX, SECTION_SOURCES },
    { SECTION_SOURCES, SOURCE_KEY, 4, MEMBER_NAME, 0 },
    { SECTION_SOURCES, SOURCE_CITATION, 4, MEMBER_WORDS, 0 },
    { SECTION_SOURCES, SOURCE_ADDRESS, 4, MEMBER_TEXT, 0 },
    { SECTION_GROUPS, GROUP_FIELD, 2, MEMBER_INDEX, SECTION_FIELDS },
    { SECTION_COVERS, COVER_YEARS, 4, MEMBER_INDEX, SECTION_YEARS },
    { SECTION_CHECKS, CHECK_FIELD, 2, MEMBER_INDEX, SECTION_FIELDS },
    { SECTION_CHECKS, CHECK_LENGTH, 1, MEMBER_BELOW, MAX_POSITIONS + 1 },
    { SECTION_CHECKS, CHECK_RESERVED, 4, MEMBER_BELOW, 1 },
    { SECTION_FIELD_NAMES, FIELD_NAME_NAME, 4, MEMBER_NAME, 0 },
    { SECTION_FIELD_NAMES, FIELD_NAME_LABEL, 4, MEMBER_WORDS, 0 },
    { SECTION_ATTRIBUTES, ATTRIBUTE_NAME, 4, MEMBER_NAME, 0 },
    { SECTION_ATTRIBUTES, ATTRIBUTE_LABEL, 4, MEMBER_WORDS, 0 },
    { SECTION_ATTRIBUTES, ATTRIBUTE_UNIT, 4, MEMBER_TEXT, 0 },
    { SECTION_ATTRIBUTES, ATTRIBUTE_KIND, 1, MEMBER_BELOW, ATTRIBUTE_KIND_COUNT },
    { SECTION_FINDINGS, FINDING_GRADE, 1, MEMBER_BELOW, PLW_GRADE_FAULT + 1 },
    { SECTION_FINDINGS, FINDING_NAME, 4, MEMBER_NAME, 0 },
    { SECTION_FINDINGS, FINDING_SENTENCE, 4, MEMBER_WORDS, 0 },
    { SECTION_MISREADS, MISREAD_TYPED, 1, MEMBER_BELOW, ALPHABET_SIZE },
    { SECTION_MISREADS, MISREAD_MEANT, 1, MEMBER_BELOW, ALPHABET_SIZE },
    { SECTION_MISREADS, MISREAD_USE, 1, MEMBER_BELOW, MISREAD_USE_COUNT },
    { SECTION_MISREADS, MISREAD_STANDING, 1, MEMBER_BELOW, STANDING_COUNT },
    { SECTION_MISREADS, MISREAD_WORDS, 4, MEMBER_WORDS, 0 },
    { SECTION_CAUTIONS, CAUTION_KEY, 4, MEMBER_NAME, 0 },
    { SECTION_CAUTIONS, CAUTION_TEXT, 4, MEMBER_WORDS, 0 },
};

/* A number of 1, 2 or 4 bytes. */
static uint32_t number_at(const unsigned char *p, unsigned size)
{
    return size == 1 ? p[0] : size == 2 ? plwi_u16(p) : plwi_u32(p);
}

int plwi_is_text(image_t image, uint32_t offset)
{
    return offset < plwi_count(image, SECTION_TEXT) &&
           (offset == 0 || plwi_text(image, offset)[-1] == '\0');
}

static int is_name(const char *text)
{
    size_t length = strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789._-");
    return length > 0 && text[length] == '\0';
}

static int member_holds(image_t image, const member *m, uint32_t value)
{
    switch (m->kind) {
    case MEMBER_BELOW:
        return value < m->bound;
    case MEMBER_INDEX:
        return value < plwi_count(image, m->bound);
    case MEMBER_TEXT:
        return plwi_is_text(image, value);
    case MEMBER_WORDS:
        return plwi_is_text(image, value) && *plwi_text(image, value) != '\0';
    default:
        return plwi_is_text(image, value) && is_name(plwi_text(image, value));
    }
}

static int members_hold(image_t image)
{
    for (size_t i = 0; i < sizeof members / sizeof *members; i++) {
        const member *m = &members[i];
        uint32_t count = plwi_count(image, m->section);
        const unsigned char *at = plwi_section(image, m->section) + m->offset;
        for (uint32_t n = 0; n < count; n++, at += record_sizes[m->section])
            if (!member_holds(image, m, number_at(at, m->size)))
                return 0;
    }
    return 1;
}

/* ---- Ranges: first record and number of records of another section ---- */

typedef struct range {
    unsigned char section;
    unsigned char first;
    unsigned char first_size; /* bytes: 2 or 4 */
    unsigned char count;
    unsigned char count_size; /* bytes: 1, 2 or 4 */
    unsigned char target;
    uint32_t most;
} range;

static const range ranges[] = {
    { SECTION_SCHEMES, SCHEME_FIELD, 4, SCHEME_FIELD_COUNT, 4, SECTION_FIELDS, LIMIT_FIELDS },
    { SECTION_SCHEMES, SCHEME_ROW, 4, SCHEME_ROW_COUNT, 4, SECTION_ROWS, UINT32_MAX },
    { SECTION_SCHEMES, SCHEME_FACT, 4, SCHEME_FACT_COUNT, 4, SECTION_FACTS, LIMIT_FACTS },
    { SECTION_FIELDS, FIELD_ROW, 4, FIELD_ROW_COUNT, 4, SECTION_ROWS, UINT32_MAX },
    { SECTION_LAYOUTS, LAYOUT_SPAN, 4, LAYOUT_SPAN_COUNT, 1, SECTION_SPANS, MAX_SPANS },
    { SECTION_LAYOUTS, LAYOUT_POSITION, 4, LAYOUT_LENGTH, 1, SECTION_POSITIONS, MAX_POSITIONS },
    { SECTION_ROWS, ROW_CODE, 4, ROW_CODE_COUNT, 2, SECTION_CODES, UINT16_MAX },
    { SECTION_ROWS, ROW_FACT, 4, ROW_FACT_COUNT, 1, SECTION_FACTS, LIMIT_FACTS },
    { SECTION_ROWS, ROW_CONDITION, 2, ROW_CONDITION_COUNT, 1, SECTION_CONDITIONS,
      LIMIT_CONDITIONS },
    { SECTION_NOTES, NOTE_CITATION, 4, NOTE_CITATION_COUNT, 2, SECTION_CITATIONS, LIMIT_CITATIONS },
    { SECTION_GROUPS, GROUP_MEMBER, 4, GROUP_COUNT, 2, SECTION_MEMBERS, LIMIT_GROUP },
    { SECTION_LENGTHS, LENGTH_LAYOUT, 4, LENGTH_COUNT, 2, SECTION_LAYOUTS, UINT16_MAX },
    { SECTION_MISREADS, MISREAD_CITATION, 4, MISREAD_CITATION_COUNT, 2, SECTION_CITATIONS,
      LIMIT_CITATIONS },
};

static int ranges_hold(image_t image)
{
    for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++) {
        const range *r = &ranges[i];
        uint32_t records = plwi_count(image, r->section);
        const unsigned char *at = plwi_section(image, r->section);
        for (uint32_t n = 0; n < records; n++, at += record_sizes[r->section]) {
            uint32_t count = number_at(at + r->count, r->count_size);
            uint64_t end = (uint64_t)number_at(at + r->first, r->first_size) + count;
            if (count > r->most || end > plwi_count(image, r->target))
                return 0;
        }
    }
    return 1;
}

/* The digits and hyphens of YYYY-MM-DD. */
static int edition_holds(image_t image)
{
    uint32_t offset = plwi_u32(image + HEADER_EDITION);
    if (!plwi_is_text(image, offset))
        return 0;
    const char *edition = plwi_text(image, offset);
    for (unsigned i = 0; i < 10; i++) {
        int is_digit = edition[i] >= '0' && edition[i] <= '9';
        if (i == 4 || i == 7 ? edition[i] != '-' : !is_digit)
            return 0;
    }
    return edition[10] == '\0';
}

int plwi_content_holds(image_t image, size_t size)
{
    return directory_holds(image, size) && plwi_texts_hold(image) && edition_holds(image) &&
           members_hold(image) && ranges_hold(image) && plwi_links_hold(image, (uint32_t)size);
}

int32_t plwi_check_image(const unsigned char *bytes, size_t size)
{
    if (size < HEADER_DIRECTORY || memcmp(bytes, IMAGE_MAGIC, IMAGE_MAGIC_SIZE) != 0)
        return PLW_E_IMAGE;
    if (plwi_u32(bytes + HEADER_VERSION) != IMAGE_VERSION)
        return PLW_E_VERSION;
    return header_holds(bytes, size) && plwi_content_holds(bytes, size) ? PLW_OK : PLW_E_IMAGE;
}
