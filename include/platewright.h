/* SPDX-License-Identifier: MIT
 *
 * Platewright: reads the identification numbers stamped on collector cars.
 *
 * One number takes one call:
 *
 *     plw_result *result;
 *     if (plw_result_new(&result) == PLW_OK) {
 *         if (plw_validate(NULL, "3Y86N400001", 11, NULL, 0, result) == PLW_OK)
 *             ... plw_reading_..., plw_finding_..., plw_explain ...
 *         plw_result_free(result);
 *     }
 *
 * Rules that hold for every call
 *
 * Status     An int32_t named status is PLW_OK (0) or a negative PLW_E_ code.
 *            A strange number is not a failure: it comes back with findings.
 * Text in    Bytes and their length; need not end in a zero byte.
 * Text out   buffer, capacity, needed. *needed receives the bytes the text
 *            takes, its zero byte included; needed may be NULL. A text that
 *            does not fit is never cut: the status is PLW_E_SHORT and the
 *            buffer, if it holds at least one byte, becomes the empty string.
 *            buffer may be NULL when capacity is 0. Text out is UTF-8.
 * Borrowed   A const char * that is returned is never NULL and ends in a zero
 *            byte. It lives as long as the tables it came from; it is "" when
 *            an index is out of range.
 * Counts     are 0 when an argument is NULL or out of range.
 * Memory     Only plw_result_new allocates, once. Nothing else touches the heap.
 * Threads    The library keeps no state. Tables never change once opened and
 *            may be shared by all threads; a result belongs to one thread at a
 *            time.
 * Locale     is never read. No file is opened and no network is used.
 * Positions  count characters of the number from 1. A set of positions is a
 *            uint32_t in which bit 0 is position 1.
 * Years      are model years from 1920 to 2047.
 *
 * Every function and constant exists since 0.1 unless its comment says else.
 */
#ifndef PLATEWRIGHT_H
#define PLATEWRIGHT_H

#include <stddef.h>
#include <stdint.h>

#ifndef PLW_API
#if defined(_WIN32) && !defined(PLW_STATIC)
#define PLW_API __declspec(dllimport)
#else
#define PLW_API
#endif
#endif

#ifdef __cplusplus
extern "C" {
#endif

/* The compiled tables: a set of schemes, rows and sources. Wherever a function
 * takes tables, NULL means the set that is compiled into the library. */
typedef struct plw_tables plw_tables;

/* What one call found out about one number. Reused from call to call. */
typedef struct plw_result plw_result;

/* ---- Limits ---------------------------------------------------------- */

#define PLW_MAX_TEXT 256      /* bytes of one number as typed */
#define PLW_MAX_POSITIONS 32  /* characters of one number as read */
#define PLW_MAX_READINGS 32   /* readings of one result */
#define PLW_MAX_FINDINGS 96   /* findings of one result */
#define PLW_MAX_HINTS 512     /* bytes of a hint text */
#define PLW_NONE UINT32_MAX   /* "no such index" where an index is returned */

/* ---- Status ---------------------------------------------------------- */

#define PLW_OK 0
#define PLW_E_ARGUMENT (-1) /* NULL where an object is needed, index out of range */
#define PLW_E_FLAGS (-2)    /* a flag or format this release does not know */
#define PLW_E_TOO_LONG (-3) /* text over PLW_MAX_TEXT or hints over PLW_MAX_HINTS */
#define PLW_E_MEMORY (-4)   /* allocation failed, or the given memory is too small */
#define PLW_E_SHORT (-5)    /* the buffer is too small; *needed tells the size */
#define PLW_E_IMAGE (-6)    /* not a table image, or a damaged one */
#define PLW_E_VERSION (-7)  /* a table image of a format this release does not read */
#define PLW_E_ABSENT (-8)   /* the row does not state this */
#define PLW_E_HINT (-9)     /* the hint text cannot be read */

/* The name of a status ("PLW_E_SHORT") and a sentence for people. Codes from
 * later releases have a name and a sentence too ("unknown status"). */
PLW_API const char *plw_status_name(int32_t status);
PLW_API const char *plw_status_text(int32_t status);

/* ---- Identity -------------------------------------------------------- */

/* The release this header belongs to; the functions tell the release that is
 * running. Bindings compare both when they load. */
#define PLW_VERSION_NUMBER 100 /* major * 10000 + minor * 100 + patch */
#define PLW_VERSION_TEXT "0.1.0"

PLW_API uint32_t plw_version_number(void);
PLW_API const char *plw_version_text(void);

/* ---- Tables ---------------------------------------------------------- */

/* The compiled-in tables; what NULL stands for. */
PLW_API const plw_tables *plw_tables_builtin(void);

/* Opens an image that platewright's table compiler wrote. The bytes are
 * checked in full, then used where they are: they must stay unchanged for as
 * long as the tables, any result decoded with them or any borrowed text is in
 * use. There is nothing to close. flags must be 0. On failure *tables is NULL.
 * Hostile bytes are refused or harmless. Status: PLW_E_ARGUMENT, PLW_E_FLAGS,
 * PLW_E_IMAGE, PLW_E_VERSION. */
PLW_API int32_t plw_tables_open(const void *bytes, size_t size, uint32_t flags,
                                const plw_tables **tables);

/* The date written in the tables (YYYY-MM-DD), and the digest of the image as
 * 16 hexadecimal digits. Answers depend on the tables; keep the digest where an
 * answer is filed. */
PLW_API const char *plw_tables_edition(const plw_tables *tables);
PLW_API int32_t plw_tables_digest(const plw_tables *tables, char *buffer, size_t capacity,
                                  size_t *needed);

/* Schemes, by index from 0. The key ("dearborn-1960") is stable; the title may
 * be reworded. Rows of a scheme have consecutive numbers; its rules (what is
 * complete, what is required) count as rows. */
PLW_API uint32_t plw_scheme_count(const plw_tables *tables);
PLW_API const char *plw_scheme_key(const plw_tables *tables, uint32_t scheme);
PLW_API const char *plw_scheme_title(const plw_tables *tables, uint32_t scheme);
PLW_API int32_t plw_scheme_first_year(const plw_tables *tables, uint32_t scheme);
PLW_API int32_t plw_scheme_last_year(const plw_tables *tables, uint32_t scheme);
PLW_API uint32_t plw_scheme_first_row(const plw_tables *tables, uint32_t scheme);
PLW_API uint32_t plw_scheme_row_count(const plw_tables *tables, uint32_t scheme);

/* Layouts of a scheme, by index from 0: how many characters its numbers have,
 * and a sample number. */
PLW_API uint32_t plw_layout_count(const plw_tables *tables, uint32_t scheme);
PLW_API uint32_t plw_layout_length(const plw_tables *tables, uint32_t scheme, uint32_t layout);
PLW_API const char *plw_layout_sample(const plw_tables *tables, uint32_t scheme,
                                      uint32_t layout);

/* ---- Rows: one fact each --------------------------------------------- */

#define PLW_STANDING_PUBLISHED 0 /* read in a named source */
#define PLW_STANDING_PRACTICE 1  /* common practice, no single source */
#define PLW_STANDING_MEMORY 2    /* not confirmed */

#define PLW_MARK_DISPUTED 1u /* sources contradict each other here */
#define PLW_MARK_EITHER 2u   /* the code does not tell these meanings apart */
#define PLW_MARK_DOUBTFUL 4u /* listed somewhere, not to be relied on */

PLW_API uint32_t plw_row_count(const plw_tables *tables);
PLW_API uint32_t plw_row_scheme(const plw_tables *tables, uint32_t row);

/* The stable key of a row: scheme/field/code/first year, and what else is
 * needed to tell it apart ("dearborn-1960/engine/R/1968"). */
PLW_API int32_t plw_row_key(const plw_tables *tables, uint32_t row, char *buffer,
                            size_t capacity, size_t *needed);

/* The field's name ("engine") and label for people ("engine"), the code as the
 * table writes it ("R", "100001+"), the words, and the table's remark or "". */
PLW_API const char *plw_row_field(const plw_tables *tables, uint32_t row);
PLW_API const char *plw_row_label(const plw_tables *tables, uint32_t row);
PLW_API const char *plw_row_code(const plw_tables *tables, uint32_t row);
PLW_API const char *plw_row_words(const plw_tables *tables, uint32_t row);
PLW_API const char *plw_row_remark(const plw_tables *tables, uint32_t row);

/* The condition under which the row holds, in words ("line is B or J"), or "". */
PLW_API int32_t plw_row_condition(const plw_tables *tables, uint32_t row, char *buffer,
                                  size_t capacity, size_t *needed);

/* PLW_E_ARGUMENT, which no standing equals, for a row that is not there. */
PLW_API int32_t plw_row_standing(const plw_tables *tables, uint32_t row);
PLW_API uint32_t plw_row_marks(const plw_tables *tables, uint32_t row);
PLW_API const char *plw_standing_name(int32_t standing);

/* 1 when the row holds for that model year, else 0. */
PLW_API int32_t plw_row_holds_in(const plw_tables *tables, uint32_t row, int32_t year);
PLW_API int32_t plw_row_first_year(const plw_tables *tables, uint32_t row);
PLW_API int32_t plw_row_last_year(const plw_tables *tables, uint32_t row);

/* Typed attributes: what the row states for programs. Names are stable; they
 * and their units are listed in platewright-tables(5). */
PLW_API uint32_t plw_row_attribute_count(const plw_tables *tables, uint32_t row);
PLW_API const char *plw_row_attribute_name(const plw_tables *tables, uint32_t row,
                                           uint32_t index);
/* The value as text, numbers without unit ("340", "3x2", "Ford"). */
PLW_API int32_t plw_row_attribute_text(const plw_tables *tables, uint32_t row, uint32_t index,
                                       char *buffer, size_t capacity, size_t *needed);

/* A number the row states, in thousandths of its unit. "cid" (cubic inches)
 * and "cc" (cubic centimetres) are both answered when either is stated: 1 cu in
 * is 16.387064 cc exactly. Status PLW_E_ABSENT when the row does not state it. */
PLW_API int32_t plw_row_quantity(const plw_tables *tables, uint32_t row, const char *name,
                                 int64_t *thousandths);

/* Sources behind a row, by index from 0; the value is a source number. */
PLW_API uint32_t plw_row_source_count(const plw_tables *tables, uint32_t row);
PLW_API uint32_t plw_row_source(const plw_tables *tables, uint32_t row, uint32_t index);

PLW_API uint32_t plw_source_count(const plw_tables *tables);
PLW_API const char *plw_source_key(const plw_tables *tables, uint32_t source);
PLW_API const char *plw_source_citation(const plw_tables *tables, uint32_t source);
PLW_API const char *plw_source_address(const plw_tables *tables, uint32_t source);

/* ---- Results --------------------------------------------------------- */

/* A result from the heap: one allocation, given back by plw_result_free, which
 * accepts NULL. Status PLW_E_MEMORY, and *result NULL, when there is none. */
PLW_API int32_t plw_result_new(plw_result **result);
PLW_API void plw_result_free(plw_result *result);

/* A result in memory of the caller: at least plw_result_size() bytes, aligned
 * for any object. It needs no freeing and must not be given to
 * plw_result_free. Status PLW_E_MEMORY when the memory is too small or badly
 * aligned. */
PLW_API size_t plw_result_size(void);
PLW_API int32_t plw_result_place(void *memory, size_t size, plw_result **result);

/* ---- The verbs ------------------------------------------------------- */

/* Decode: every way to read the number, ranked. validate: the same, and all
 * findings. The result is overwritten; on failure it is empty.
 *
 * text    One number, UTF-8. Spaces, hyphens, dots, slashes and the stars or
 *         marks around a stamp are skipped; small and full-width letters are
 *         read as capitals. '?' is a character that cannot be read; "[8B]" is
 *         one that can be either.
 * hints   What the host believes: "key=value" parts joined by ';', with keys
 *         maker, year and scheme ("maker=Ford; year=1970"). Hints rank
 *         readings; they never hide one. NULL for none; ends in a zero byte.
 * flags   must be 0.
 *
 * Status: PLW_E_ARGUMENT, PLW_E_FLAGS, PLW_E_TOO_LONG, PLW_E_HINT. */
PLW_API int32_t plw_decode(const plw_tables *tables, const char *text, size_t length,
                           const char *hints, uint32_t flags, plw_result *result);
PLW_API int32_t plw_validate(const plw_tables *tables, const char *text, size_t length,
                             const char *hints, uint32_t flags, plw_result *result);

/* Just the grade, without a result and without heap: the gravest finding on
 * the best reading. It keeps its working memory on the stack, about
 * plw_result_size() bytes. */
PLW_API int32_t plw_grade(const plw_tables *tables, const char *text, size_t length,
                          const char *hints, uint32_t flags, int32_t *grade);

/* Explain: the result as text. format is one of PLW_FORMAT_; flags are
 * PLW_EXPLAIN_. Works on a decoded result (no findings) and a validated one. */
#define PLW_FORMAT_TEXT 0     /* for a terminal of 80 columns */
#define PLW_FORMAT_MARKDOWN 1
#define PLW_FORMAT_JSON 2     /* one object; its JSON Schema is installed */
#define PLW_EXPLAIN_SOURCES 1u /* list the sources in full */

PLW_API int32_t plw_explain(const plw_result *result, int32_t format, uint32_t flags,
                            char *buffer, size_t capacity, size_t *needed);

/* ---- What was read --------------------------------------------------- */

/* The number as read: capitals, no separators, '?' for unreadable characters
 * and "[8B]" for alternatives. */
PLW_API int32_t plw_result_number(const plw_result *result, char *buffer, size_t capacity,
                                  size_t *needed);
/* How many characters there are; only the first PLW_MAX_POSITIONS are kept. */
PLW_API uint32_t plw_result_position_count(const plw_result *result);

/* Where a position that is kept stands in the text as given: byte offset and
 * length. Status PLW_E_ARGUMENT for any other position. */
PLW_API int32_t plw_result_position(const plw_result *result, uint32_t position,
                                    size_t *offset, size_t *length);

/* ---- Readings, best first, by index from 0 --------------------------- */

PLW_API uint32_t plw_reading_count(const plw_result *result);
PLW_API uint32_t plw_reading_scheme(const plw_result *result, uint32_t reading);

/* The possible model years, in order. None when the fields exclude each other. */
PLW_API uint32_t plw_reading_year_count(const plw_result *result, uint32_t reading);
PLW_API int32_t plw_reading_year(const plw_result *result, uint32_t reading, uint32_t index);

/* The number as this reading has it: characters that were read as another
 * (the letter O in a digit's place) are replaced. */
PLW_API int32_t plw_reading_number(const plw_result *result, uint32_t reading, char *buffer,
                                   size_t capacity, size_t *needed);

/* The gravest finding on this reading. */
PLW_API int32_t plw_reading_grade(const plw_result *result, uint32_t reading);

/* The check character: what it should be (one character, 0 when it cannot be
 * computed) and how it stands. */
#define PLW_CHECK_NONE 0     /* this scheme has none */
#define PLW_CHECK_FITS 1
#define PLW_CHECK_FAILS 2
#define PLW_CHECK_OPEN 3     /* a character it needs is unreadable */
PLW_API int32_t plw_reading_check(const plw_result *result, uint32_t reading, int32_t *expected);

/* ---- Fields of a reading, in order of position, by index from 0 ------ */

#define PLW_FIELD_KNOWN 0      /* rows say what the code means */
#define PLW_FIELD_UNKNOWN 1    /* the code is not in the tables */
#define PLW_FIELD_UNREADABLE 2 /* partly unreadable; rows are what it can be */
#define PLW_FIELD_PLAIN 3      /* characters the tables do not interpret */
#define PLW_FIELD_CHECK 4      /* the check character */

PLW_API uint32_t plw_field_count(const plw_result *result, uint32_t reading);
PLW_API const char *plw_field_name(const plw_result *result, uint32_t reading, uint32_t field);
PLW_API const char *plw_field_label(const plw_result *result, uint32_t reading, uint32_t field);
PLW_API uint32_t plw_field_positions(const plw_result *result, uint32_t reading,
                                     uint32_t field);
PLW_API int32_t plw_field_state(const plw_result *result, uint32_t reading, uint32_t field);
/* 1 when the field only adds detail (engine power, model names), else 0. */
PLW_API int32_t plw_field_is_detail(const plw_result *result, uint32_t reading, uint32_t field);
PLW_API int32_t plw_field_code(const plw_result *result, uint32_t reading, uint32_t field,
                               char *buffer, size_t capacity, size_t *needed);
/* The rows that say what the code means: one, or several when sources differ,
 * when the code covers several meanings or when a character is unreadable. */
PLW_API uint32_t plw_field_row_count(const plw_result *result, uint32_t reading,
                                     uint32_t field);
PLW_API uint32_t plw_field_row(const plw_result *result, uint32_t reading, uint32_t field,
                               uint32_t index);
/* 1 when this field by itself rules the model year out. Asked for a year that
 * another field allows, it tells what settles the decade. */
PLW_API int32_t plw_field_excludes_year(const plw_result *result, uint32_t reading,
                                        uint32_t field, int32_t year);

/* ---- Findings, gravest first, by index from 0 ------------------------ */

#define PLW_GRADE_CLEAR 0 /* no finding at all */
#define PLW_GRADE_NOTE 1  /* worth knowing */
#define PLW_GRADE_DOUBT 2 /* worth a second look */
#define PLW_GRADE_FAULT 3 /* cannot be right as it stands */

#define PLW_FINDING_EMPTY 1             /* nothing to read */
#define PLW_FINDING_LENGTH 2            /* no scheme has this length */
#define PLW_FINDING_CHARACTER 3         /* a character not allowed at its position */
#define PLW_FINDING_MISREAD 4           /* a character was read as another */
#define PLW_FINDING_UNREADABLE 5        /* an unreadable character, and what it can be */
#define PLW_FINDING_UNKNOWN_CODE 6      /* a code that is not in the tables */
#define PLW_FINDING_CONDITION 7         /* a code the tables know only with another field */
#define PLW_FINDING_EXCLUSION 8         /* fields whose model years exclude each other */
#define PLW_FINDING_CHECK_WRONG 9       /* check character wrong where it is required */
#define PLW_FINDING_CHECK_UNFIT 10      /* check character does not fit; not required */
#define PLW_FINDING_SEQUENCE_LOW 11     /* running number below the known start */
#define PLW_FINDING_SEQUENCE_HIGH 12    /* running number above the known end */
#define PLW_FINDING_NOT_BUILT 13        /* a combination the tables say was not built */
#define PLW_FINDING_PLANT 14            /* a plant that did not build this line */
#define PLW_FINDING_SEVERAL_READINGS 15 /* more than one reading */
#define PLW_FINDING_DISPUTED 16         /* sources differ */
#define PLW_FINDING_DOUBTFUL 17         /* rests on a row that is itself doubted */
#define PLW_FINDING_UNCONFIRMED 18      /* rests on rows that nobody confirmed */
#define PLW_FINDING_CAPPED 19           /* more was found than is listed */
#define PLW_FINDING_NO_SCHEME 20        /* no scheme of this length takes the characters */

PLW_API uint32_t plw_finding_count(const plw_result *result);
PLW_API int32_t plw_finding_code(const plw_result *result, uint32_t finding);
/* The stable name of the code ("check-wrong"). */
PLW_API const char *plw_finding_name(const plw_result *result, uint32_t finding);
PLW_API int32_t plw_finding_grade(const plw_result *result, uint32_t finding);
/* The reading it speaks of, or PLW_NONE when it speaks of the number. */
PLW_API uint32_t plw_finding_reading(const plw_result *result, uint32_t finding);
PLW_API uint32_t plw_finding_positions(const plw_result *result, uint32_t finding);
/* One sentence in English. Wording may improve in any release. */
PLW_API int32_t plw_finding_sentence(const plw_result *result, uint32_t finding, char *buffer,
                                     size_t capacity, size_t *needed);

/* The grade of the whole: the gravest finding on the best reading or on the
 * number itself. */
PLW_API int32_t plw_result_grade(const plw_result *result);
PLW_API const char *plw_grade_name(int32_t grade);

/* What human outputs must close with: a number that reads well does not prove
 * the car. Cautions by index from 0. */
PLW_API uint32_t plw_caution_count(const plw_tables *tables);
PLW_API const char *plw_caution_text(const plw_tables *tables, uint32_t index);

#ifdef __cplusplus
}
#endif

#endif
