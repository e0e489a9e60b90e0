/* SPDX-License-Identifier: MIT
 *
 * The table image: one block of bytes without pointers, little-endian on
 * every host, so that it can be compiled in, mapped from a file or handed
 * over in memory. The table compiler writes it and the library reads it;
 * this file is the only place that says where everything lies.
 *
 *   header | section directory | sections, each 8-aligned
 *
 * A record field is named RECORD_FIELD and is a byte offset in its record.
 * "text" is an offset into the TEXT section, where every string stands once
 * and ends in a zero byte; offset 0 is the empty string. Equal text offsets
 * mean equal strings and the reverse: conditions rest on that.
 */
#ifndef PLW_IMAGE_FORMAT_H
#define PLW_IMAGE_FORMAT_H

#include <stdint.h>

#define IMAGE_MAGIC "PLWTABLE"
#define IMAGE_MAGIC_SIZE 8
#define IMAGE_VERSION 2u

/* Header. The digest is FNV-1a (64 bit) over everything behind it. */
#define HEADER_MAGIC 0         /* 8 bytes */
#define HEADER_DIGEST 8        /* u64 */
#define HEADER_VERSION 16      /* u32 */
#define HEADER_SIZE 20         /* u32, of the whole image */
#define HEADER_EDITION 24      /* text */
#define HEADER_SECTIONS 28     /* u32, number of sections */
#define HEADER_DIRECTORY 32    /* section directory starts here */
#define DIGEST_START 16        /* first byte the digest covers */

/* One directory entry a section: u32 byte offset, u32 number of records. */
#define DIRECTORY_OFFSET 0
#define DIRECTORY_COUNT 4
#define DIRECTORY_RECORD 8

enum image_section {
    SECTION_TEXT,       /* bytes */
    SECTION_YEARS,      /* sets of model years */
    SECTION_SCHEMES,
    SECTION_FIELDS,     /* by scheme, providers before those who depend on them */
    SECTION_LAYOUTS,    /* by length, then by scheme */
    SECTION_SPANS,
    SECTION_POSITIONS,  /* u16: the class of each position of a layout */
    SECTION_CLASSES,    /* u64: the characters that may stand somewhere */
    SECTION_ROWS,       /* by field; rules of a field stand behind its rows */
    SECTION_NOTES,      /* what rows have beside their meaning, often the same */
    SECTION_CODES,      /* u64: packed codes */
    SECTION_FACTS,
    SECTION_CONDITIONS,
    SECTION_VALUES,     /* u32: what an attribute condition allows */
    SECTION_CITATIONS,  /* u32: source numbers of rows */
    SECTION_SOURCES,
    SECTION_GROUPS,     /* hash table: (field, code) -> rows */
    SECTION_MEMBERS,    /* u16: rows of groups, counted from the first of the field */
    SECTION_COVERS,     /* the model years a field's rows speak of, by condition */
    SECTION_LENGTHS,    /* one record for each length 0..MAX_POSITIONS */
    SECTION_CHOICES,    /* u16: the mask of each character at each position */
    SECTION_MASKS,      /* u64: sets of layouts of one length, one bit a layout */
    SECTION_CHECKS,     /* check characters */
    SECTION_FIELD_NAMES,
    SECTION_ATTRIBUTES,
    SECTION_FINDINGS,
    SECTION_MISREADS,
    SECTION_CAUTIONS,
    SECTION_COUNT
};

/* Record sizes, in the order of the sections. */
#define SECTION_RECORD_SIZES                                                   \
    { 1, 16, 48, 40, LAYOUT_SIZE, 8, 2, 8, ROW_SIZE, NOTE_SIZE, 8, FACT_SIZE,  \
      16, 4, 4, 12, 16, 2, 8, LENGTH_SIZE, 2, 8, 112, 8, 16, 12, 16, 8 }

/* Characters. A code is at most ten characters, packed six bits each, first
 * character highest; '0'..'9' are 1..10 and 'A'..'Z' are 11..36, so codes of
 * one width sort as they read. A set of characters is a u64 with bit
 * (value - 1); bit ODD_CHARACTER stands for anything else. */
#define ALPHABET_SIZE 36
#define ODD_CHARACTER 36
#define CHARACTER_COUNT 37
#define ALL_CHARACTERS ((UINT64_C(1) << ALPHABET_SIZE) - 1)
#define CODE_BITS 6
#define MAX_CODE_WIDTH 10
#define MAX_POSITIONS 32
#define MAX_SPANS 24       /* fields of one layout */

/* Limits. The compiler refuses tables that exceed them and opening refuses such
 * an image, so that whoever decodes can count on them. */
#define LIMIT_TEXT 2048      /* bytes of one text, its zero byte included */
#define LIMIT_FIELDS 64      /* fields of a scheme */
#define LIMIT_FACTS 32       /* facts of a row, or of a scheme */
#define LIMIT_CONDITIONS 8   /* conditions of a row */
#define LIMIT_VALUES 1024    /* codes or values of a condition, ranges written out */
#define LIMIT_CITATIONS 32   /* sources of a row */
#define LIMIT_GROUP 256      /* rows of one code of a field */

/* Years: bit (year - FIRST_YEAR) of two words, low word first. */
#define FIRST_YEAR 1920
#define LAST_YEAR 2047
#define YEARS_LOW 0  /* u64 */
#define YEARS_HIGH 8 /* u64 */

#define SCHEME_KEY 0           /* text */
#define SCHEME_TITLE 4         /* text */
#define SCHEME_YEARS 8         /* u32 year set */
#define SCHEME_FIELD 12        /* u32 first field */
#define SCHEME_FIELD_COUNT 16  /* u32 */
#define SCHEME_ROW 20          /* u32 first row */
#define SCHEME_ROW_COUNT 24    /* u32, rules included */
#define SCHEME_FACT 28         /* u32 first fact: what is true of every number */
#define SCHEME_FACT_COUNT 32   /* u32 */
#define SCHEME_CHECK 36        /* u32, NO_CHECK when there is none */
#define SCHEME_REMARK 40       /* text */
#define NO_CHECK UINT32_MAX

#define FIELD_NAME 0        /* u16 field name */
#define FIELD_SCHEME 2      /* u16 */
#define FIELD_KIND 4        /* u8 */
#define FIELD_ROW 8         /* u32 first row */
#define FIELD_ROW_COUNT 12  /* u32 */
#define FIELD_RULE_COUNT 16 /* u32, rules stand behind the rows */
#define FIELD_PROVIDES 24   /* u64 set of attributes its rows state; 0 for a topic */
#define FIELD_WIDTH 32      /* u8, widest span in any layout; 0 for a topic */
#define FIELD_RESERVED 33   /* u8, zero */
#define FIELD_COVER_COUNT 34 /* u16 */
#define FIELD_COVER 36      /* u32 first cover */

enum field_kind {
    KIND_CODE,   /* every code should have a row */
    KIND_RUN,    /* a running number; rows are ranges of FIELD_WIDTH characters: a shorter
                    number is filled up with '0' on the left before it is compared; an open
                    upper end is the greatest code of that width, Z at every place */
    KIND_NARROW, /* rows narrow the years where their conditions surely hold */
    KIND_DETAIL, /* rows add detail and never narrow */
    KIND_FREE,   /* characters that the tables do not read */
    KIND_CHECK,  /* a check character */
    KIND_TOPIC,  /* no position: facts about the scheme */
    KIND_COUNT
};

#define LAYOUT_SIZE 24
#define LAYOUT_SCHEME 0     /* u16 */
#define LAYOUT_LENGTH 2     /* u8 */
#define LAYOUT_SPAN_COUNT 3 /* u8 */
#define LAYOUT_YEARS 4      /* u32 year set */
#define LAYOUT_SPAN 8       /* u32 first span; spans stand in field order */
#define LAYOUT_POSITION 12  /* u32 first of its positions */
#define LAYOUT_SAMPLE 16    /* text */
#define LAYOUT_RESERVED 20  /* u32, zero */

#define SPAN_FIELD 0     /* u16 */
#define SPAN_WIDTH 2     /* u8, number of positions */
#define SPAN_POSITIONS 4 /* u32, bit i = position i + 1 */

#define ROW_SIZE 32
#define ROW_FIELD 0            /* u16 */
#define ROW_YEARS 2            /* u16 year set */
#define ROW_CODE_COUNT 4       /* u16, single codes; a run row has pairs low, high */
#define ROW_NOTE 6             /* u16 */
#define ROW_CONDITION 8        /* u16 first condition */
#define ROW_STANDING 10        /* u8 */
#define ROW_MARKS 11           /* u8 */
#define ROW_KIND 12            /* u8 */
#define ROW_FACT_COUNT 13      /* u8 */
#define ROW_CONDITION_COUNT 14 /* u8 */
#define ROW_RESERVED 15        /* u8, zero */
#define ROW_CODE 16            /* u32 first code */
#define ROW_CODE_TEXT 20       /* text, the code as written in the table */
#define ROW_WORDS 24           /* text */
#define ROW_FACT 28            /* u32 first fact */

#define NOTE_SIZE 14
#define NOTE_REMARK 0          /* text */
#define NOTE_TAG 4             /* text, tells rows apart that share code and year */
#define NOTE_CITATION 8        /* u32 first citation */
#define NOTE_CITATION_COUNT 12 /* u16 */

enum row_standing { STANDING_PUBLISHED, STANDING_PRACTICE, STANDING_MEMORY, STANDING_COUNT };

#define MARK_DISPUTED 1u /* sources contradict each other */
#define MARK_EITHER 2u   /* the code does not tell these meanings apart */
#define MARK_DOUBTFUL 4u /* listed somewhere, not to be relied on */
#define MARK_ALSO 8u     /* holds beside rows with fewer conditions, hides none of them */
#define MARK_ALL 15u
#define MARKS_SERVED 7u  /* the marks a reader is told of */

enum row_kind {
    ROW_MEANING,  /* a fact about a code (or a topic) */
    ROW_CLOSED,   /* rule: the field's rows are complete for these years and conditions */
    ROW_REQUIRED, /* rule: the check character is required */
    ROW_KIND_COUNT
};

#define FACT_SIZE 6
#define FACT_ATTRIBUTE 0 /* u16 */
#define FACT_VALUE 2     /* u32: thousandths of a unit, or text */

#define CONDITION_KIND 0  /* u8 */
#define CONDITION_REF 2   /* u16 field (of the same scheme) or attribute; check: 0 */
#define CONDITION_VALUE 4 /* u32 first in CODES (field) or VALUES (attribute, check) */
#define CONDITION_VALUE_COUNT 8 /* u16; codes rise; a run field has pairs low, high */
#define CONDITION_RESERVED 12   /* u32, zero */

enum condition_kind {
    CONDITION_FIELD,     /* the field reads one of these codes */
    CONDITION_ATTRIBUTE, /* another field's row states one of these values */
    CONDITION_CHECK,     /* VALUES holds check states */
    CONDITION_KIND_COUNT
};

enum check_state { CHECK_FITS, CHECK_FAILS, CHECK_STATE_COUNT };

#define SOURCE_KEY 0     /* text */
#define SOURCE_CITATION 4 /* text */
#define SOURCE_ADDRESS 8 /* text */

/* Open addressing, linear probing; a slot with GROUP_COUNT 0 is empty and at
 * least one is. The slot of a key is (group_hash * number of slots) >> 32. */
#define GROUP_CODE 0  /* u64 */
#define GROUP_MEMBER 8 /* u32 */
#define GROUP_FIELD 12 /* u16 */
#define GROUP_COUNT 14 /* u16 */

/* One cover for each set of conditions that rows of a field share: all years
 * of those rows. Where no cover holds, the tables know nothing of the field. */
#define COVER_YEARS 0 /* u32 year set */
#define COVER_ROW 4   /* u32, one of the rows that share the conditions */

#define LENGTH_SIZE 18
#define LENGTH_LAYOUT 0 /* u32 first layout */
#define LENGTH_COUNT 4  /* u16 */
#define LENGTH_WORDS 6  /* u16, u64 words of one bit set of layouts */
#define LENGTH_CHOICE 8 /* u32 first choice: [length][CHARACTER_COUNT], the number of
                           the mask of the layouts that allow a character there */
#define LENGTH_MASK 12  /* u32 first mask: [masks][words] */
#define LENGTH_MASK_COUNT 16 /* u16 */

#define CHECK_FIELD 0    /* u16 */
#define CHECK_LENGTH 2   /* u8, number of weights */
#define CHECK_MODULUS 3  /* u8 */
#define CHECK_VALUES 4   /* 36 bytes, by alphabet; 255 = has no value */
#define CHECK_WEIGHTS 40 /* 32 bytes */
#define CHECK_DIGITS 72  /* 36 bytes, by remainder: value of the check character */
#define CHECK_RESERVED 108 /* u32, zero */
#define CHECK_NO_VALUE 255

#define FIELD_NAME_NAME 0  /* text */
#define FIELD_NAME_LABEL 4 /* text */

#define ATTRIBUTE_NAME 0  /* text */
#define ATTRIBUTE_LABEL 4 /* text */
#define ATTRIBUTE_UNIT 8  /* text */
#define ATTRIBUTE_KIND 12 /* u8 */
#define MAX_ATTRIBUTES 64

enum attribute_kind { ATTRIBUTE_NUMBER, ATTRIBUTE_TEXT, ATTRIBUTE_KIND_COUNT };

#define FINDING_NUMBER 0   /* u16, the PLW_FINDING_ constant */
#define FINDING_GRADE 2    /* u8, the PLW_GRADE_ constant */
#define FINDING_NAME 4     /* text */
#define FINDING_SENTENCE 8 /* text with {places} */

#define MISREAD_TYPED 0    /* u8 character value, 0-based */
#define MISREAD_MEANT 1    /* u8 */
#define MISREAD_USE 2      /* u8 */
#define MISREAD_STANDING 3 /* u8 */
#define MISREAD_WORDS 4    /* text */
#define MISREAD_CITATION 8 /* u32 first citation */
#define MISREAD_CITATION_COUNT 12 /* u16 */

enum misread_use {
    MISREAD_READ,    /* read as the other where the place allows only that */
    MISREAD_SUGGEST, /* only ever offered as a suggestion */
    MISREAD_USE_COUNT
};

#define CAUTION_KEY 0  /* text */
#define CAUTION_TEXT 4 /* text */

/* The hash of a group: what the compiler files under and the library looks up. */
static inline uint32_t group_hash(uint32_t field, uint64_t code)
{
    uint64_t mixed = (code ^ ((uint64_t)field << 48)) * UINT64_C(0x9E3779B97F4A7C15);
    mixed ^= mixed >> 29;
    mixed *= UINT64_C(0xBF58476D1CE4E5B9);
    return (uint32_t)(mixed >> 32);
}

static inline uint64_t image_digest(const unsigned char *bytes, uint64_t size)
{
    uint64_t digest = UINT64_C(0xCBF29CE484222325);
    for (uint64_t i = 0; i < size; i++)
        digest = (digest ^ bytes[i]) * UINT64_C(0x100000001B3);
    return digest;
}

#endif
