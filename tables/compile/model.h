/* SPDX-License-Identifier: MIT
 *
 * What was read: the shared vocabulary, and the schemes with their fields,
 * layouts and rows. The parser fills in the words as they stand in the file;
 * the resolver adds what they mean.
 */
#ifndef TC_MODEL_H
#define TC_MODEL_H

#include "../../lib/image_format.h"
#include "memory.h"
#include "text.h"

typedef struct tc_years {
    uint64_t low;
    uint64_t high;
} tc_years;

typedef TC_LIST(tc_word) tc_words;
typedef TC_LIST(uint64_t) tc_codes;
typedef TC_LIST(uint32_t) tc_numbers;

/* ---- the vocabulary ---- */

typedef struct tc_field_name {
    const char *name;
    const char *label;
} tc_field_name;

/* Text with a grammar of its own. */
enum tc_writing { TC_FREE_TEXT, TC_DATE_FORM, TC_MONTHS, TC_DAY };

typedef struct tc_attribute {
    const char *name;
    const char *label;
    const char *unit;
    uint8_t kind; /* enum attribute_kind */
    TC_LIST(const char *) words; /* of a list; empty: any text */
    bool joined;                 /* a value is one or several of these words */
    bool names_fields;           /* a value is fields of the scheme, or none */
    uint8_t writes;              /* enum tc_writing */
} tc_attribute;

typedef struct tc_finding {
    tc_place place;
    uint16_t number;
    uint8_t grade;
    const char *name;
    const char *sentence;
} tc_finding;

typedef struct tc_misread {
    uint8_t typed; /* by alphabet, 0-based */
    uint8_t meant;
    uint8_t use;
    uint8_t standing;
    tc_word standing_word;
    tc_word source;
    tc_numbers citations;
    const char *words;
} tc_misread;

typedef struct tc_source {
    const char *key;
    const char *citation;
    const char *address;
} tc_source;

typedef struct tc_caution {
    const char *key;
    const char *words;
} tc_caution;

/* ---- schemes ---- */

typedef struct tc_scheme tc_scheme;
typedef struct tc_field tc_field;

typedef struct tc_fact {
    uint16_t attribute;
    uint32_t thousandths; /* of a number */
    const char *text;     /* as written */
} tc_fact;

typedef TC_LIST(tc_fact) tc_facts;

typedef struct tc_condition {
    tc_word word;
    uint8_t kind; /* enum condition_kind */
    tc_field *field;
    uint16_t attribute;
    tc_codes codes;   /* rising; of a run field pairs low, high */
    tc_facts values;  /* of an attribute */
    tc_numbers states; /* of the check: enum check_state */
} tc_condition;

typedef struct tc_row {
    tc_place place;
    uint8_t kind; /* enum row_kind */
    /* as written */
    tc_word code_word;
    tc_word years_word;
    tc_word when_word;
    tc_word standing_word;
    tc_word source_word;
    tc_word facts_word;
    tc_word words;
    tc_word remark;
    /* as understood */
    bool sound; /* nothing in it was refused */
    bool reported; /* a contradiction with another row was */
    const char *code_text;
    const char *tag;
    tc_codes codes; /* rising; of a run field pairs low, high */
    tc_years years;
    uint8_t standing;
    uint8_t marks;
    tc_facts facts;
    tc_numbers citations;
    TC_LIST(tc_condition) conditions;
} tc_row;

typedef TC_LIST(tc_row) tc_rows;

struct tc_field {
    tc_place place;
    bool sound; /* its line in [fields] was not refused */
    const char *name;
    uint16_t name_index;
    char letter; /* '-' for a topic */
    uint8_t kind; /* enum field_kind */
    uint64_t characters; /* 0: those of the fields it lies over */
    uint32_t widths; /* bit w: some layout gives it w positions */
    uint8_t width; /* the widest */
    tc_rows rows;
    tc_rows rules;
    bool has_check; /* a section [check ...] was read */
    bool ordered;
    uint16_t index; /* in the image */
};

typedef struct tc_span {
    tc_field *field;
    uint8_t width;
    uint32_t positions;
} tc_span;

/* A layout of one length; optional positions give a layout several forms. */
typedef struct tc_form {
    tc_years years;
    uint8_t length;
    uint64_t classes[MAX_POSITIONS];
    TC_LIST(tc_span) spans;
    const char *sample;
} tc_form;

typedef struct tc_at {
    tc_word position;
    tc_word characters;
} tc_at;

typedef struct tc_layout {
    tc_place place;
    tc_word years_word;
    tc_words samples;
    tc_words rulers;
    TC_LIST(tc_at) ats;
} tc_layout;

enum tc_section_kind { TC_ROWS, TC_CLOSED, TC_REQUIRED, TC_CHECK };

typedef struct tc_pair {
    tc_word character;
    tc_word value;
} tc_pair;

/* One section that belongs to a field: its rows, a rule, or its check. */
typedef struct tc_section {
    enum tc_section_kind kind;
    tc_word field_word;
    tc_rows rows;
    tc_words values; /* of a check: A1 B2 ... */
    tc_words weights;
    tc_word modulus;
    tc_word digits;
} tc_section;

typedef struct tc_check {
    tc_field *field; /* the field of this kind; NULL: the scheme has none */
    uint8_t length;
    uint8_t modulus;
    uint8_t values[ALPHABET_SIZE];
    uint8_t weights[MAX_POSITIONS];
    uint8_t digits[ALPHABET_SIZE];
} tc_check;

struct tc_scheme {
    tc_place place;
    tc_word key_word;
    tc_word title_word;
    tc_word years_word;
    tc_word facts_word;
    tc_word remark_word;
    tc_word alphabet_word;
    TC_LIST(tc_layout *) layouts;
    TC_LIST(tc_section *) sections;
    TC_LIST(tc_field *) fields; /* in the order of the image once that is known */
    TC_LIST(tc_words) field_lines;
    const char *key;
    tc_years years;
    tc_facts facts;
    char alphabet[ALPHABET_SIZE + 1];
    TC_LIST(tc_form *) forms;
    bool layouts_sound; /* no ruler was refused: codes can be held against them */
    tc_check check;
};

/* ---- all of it ---- */

typedef struct tc_message_at {
    tc_place place;
    size_t order;
    const char *text;
} tc_message_at;


struct tc_compilation {
    tc_memory memory;
    TC_LIST(const char *) files; /* what they are called */
    TC_LIST(tc_message_at) messages;
    const char *edition;
    TC_LIST(tc_field_name) field_names;
    TC_LIST(tc_attribute) attributes;
    TC_LIST(tc_finding) findings;
    TC_LIST(tc_misread) misreads;
    TC_LIST(tc_source) sources;
    TC_LIST(tc_caution) cautions;
    TC_LIST(tc_scheme *) schemes;
    const unsigned char *image;
    size_t image_size;
};

#endif
