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
 *            So it does on every other failure, and *needed becomes 0.
 *            buffer may be NULL when capacity is 0. Text out is UTF-8.
 * Borrowed   A const char * that is returned is never NULL and ends in a zero
 *            byte. It lives as long as the tables or names it came from; it is
 *            "" when an index is out of range.
 * Counts     are 0 when an argument is NULL or out of range.
 * Memory     Only the functions that end in _new allocate, once each; for each of
 *            them there is one that ends in _place and takes memory of the
 *            caller. Nothing else touches the heap.
 * Threads    The library keeps no state. Tables and names never change once
 *            opened and may be shared by all threads; a result or a car belongs
 *            to one thread at a time.
 * Locale     is never read. No file is opened and no network is used.
 * Positions  count characters of the number from 1. A set of positions is a
 *            uint32_t in which bit 0 is position 1.
 * Years      are model years from 1920 to 2047.
 *
 * Every function and constant exists since 1.0 unless its comment says else.
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

/* The host's own words, in place of those of the tables. */
typedef struct plw_names plw_names;

/* ---- Limits ---------------------------------------------------------- */

#define PLW_MAX_TEXT 256      /* bytes of one number as typed */
#define PLW_MAX_POSITIONS 32  /* characters of one number as read */
#define PLW_MAX_READINGS 32   /* readings of one result */
#define PLW_MAX_FINDINGS 96   /* findings of one result */
#define PLW_MAX_HINTS 512     /* bytes of a hint text */
#define PLW_MAX_SUGGESTIONS 8 /* suggestions of one result */
#define PLW_MAX_SETTLINGS 24  /* entries of what would settle a result */
#define PLW_MAX_CLAIMS 24      /* claims of one result */
#define PLW_MAX_CLAIM_TEXT 1024 /* bytes of a claims text */
#define PLW_MAX_CLAIM_ROWS 16  /* rows told of one claim */
#define PLW_MAX_PATTERNS 256   /* patterns of one expectation */
#define PLW_MAX_PATTERN_ROWS 16 /* rows told of one pattern */
#define PLW_MAX_NAMES 4194304 /* bytes of a names text */
#define PLW_MAX_NAMES_LINE 1024 /* bytes of one line of a names text */
#define PLW_MAX_WORDS 512     /* bytes of the words in such a line */
#define PLW_NONE UINT32_MAX   /* "no such index" where an index is returned */

/* ---- Status ---------------------------------------------------------- */

#define PLW_OK 0
#define PLW_E_ARGUMENT (-1) /* NULL where an object is needed, index out of range */
#define PLW_E_FLAGS (-2)    /* a flag or format this release does not know */
#define PLW_E_TOO_LONG (-3) /* over a PLW_MAX_ limit of a text or of claims */
#define PLW_E_MEMORY (-4)   /* allocation failed, or the given memory is too small */
#define PLW_E_SHORT (-5)    /* the buffer is too small; *needed tells the size */
#define PLW_E_IMAGE (-6)    /* not a table image, or a damaged one */
#define PLW_E_VERSION (-7)  /* a table image of a format this release does not read */
#define PLW_E_ABSENT (-8)   /* the row does not state this */
#define PLW_E_HINT (-9)     /* the hint text cannot be read */
#define PLW_E_CLAIM (-10)   /* the claims text is not attribute=value */

/* The name of a status ("PLW_E_SHORT") and a sentence for people. Codes from
 * later releases have a name and a sentence too ("unknown status"). */
PLW_API const char *plw_status_name(int32_t status);
PLW_API const char *plw_status_text(int32_t status);

/* ---- Identity -------------------------------------------------------- */

/* The release this header belongs to; the functions tell the release that is
 * running. Bindings compare both when they load. */
#define PLW_VERSION_NUMBER 10000 /* major * 10000 + minor * 100 + patch */
#define PLW_VERSION_TEXT "1.0.0"

PLW_API uint32_t plw_version_number(void);
PLW_API const char *plw_version_text(void);

/* ---- Constants, for other languages ---------------------------------- */

/* Every number that this header defines, by index from 0 and by name
 * ("PLW_GRADE_FAULT"), so that no binding keeps a list of its own. The name is
 * "" and the value 0 when an index is out of range. Status of plw_constant:
 * PLW_E_ARGUMENT for NULL, PLW_E_ABSENT, and then *value is 0, for a name that
 * this release does not have. */
PLW_API uint32_t plw_constant_count(void);
PLW_API const char *plw_constant_name(uint32_t index);
PLW_API int64_t plw_constant_value(uint32_t index);
PLW_API int32_t plw_constant(const char *name, int64_t *value);

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

/* ---- Names: the host's own words -------------------------------------- */

/* A names text replaces what the tables say to people: trade names, house
 * style, another language. It is UTF-8, one "key = words" a line, with blanks
 * around the '='; lines that start with '#' are comments. A key is one of
 *
 *     dearborn-1960/engine/R/1968   a row, by plw_row_key: its words
 *     field/engine                  a field, by name: its label
 *     scheme/dearborn-1960          a scheme, by key: its title
 *
 * Good lines count even where others have problems; of lines with the same key
 * the first. Control characters and marks that turn the direction of writing
 * are refused.
 *
 * plw_names_new makes names for these tables in one allocation, which
 * plw_names_free, that accepts NULL, gives back. The text is copied; the tables
 * must stay as long as the names. Status PLW_E_ARGUMENT, PLW_E_TOO_LONG (over
 * PLW_MAX_NAMES) or PLW_E_MEMORY, and then *names is NULL. Problems of lines
 * are no failure: ask for them. */
PLW_API int32_t plw_names_new(const plw_tables *tables, const char *text, size_t length,
                              plw_names **names);
PLW_API void plw_names_free(plw_names *names);

/* The same in memory of the caller, as for a result: plw_names_size tells how
 * many bytes this text takes, 0 for a text that plw_names_new would refuse. They
 * must not be given to plw_names_free. */
PLW_API size_t plw_names_size(const char *text, size_t length);
PLW_API int32_t plw_names_place(const plw_tables *tables, const char *text, size_t length,
                                void *memory, size_t size, plw_names **names);

/* Problems, by line, by index from 0: the line, from 1, and a sentence that
 * says what to write. A key that the tables do not have is one. */
PLW_API uint32_t plw_names_problem_count(const plw_names *names);
PLW_API uint32_t plw_names_problem_line(const plw_names *names, uint32_t problem);
PLW_API int32_t plw_names_problem_text(const plw_names *names, uint32_t problem, char *buffer,
                                       size_t capacity, size_t *needed);

/* The title of a scheme of the names' tables, in the host's words if it has
 * some. */
PLW_API const char *plw_names_title(const plw_names *names, uint32_t scheme);

/* From now on, over any number of calls, the words, labels and titles of this
 * result, its sentences and explanations come from the names; NULL takes them
 * away. The names must stay as long as the result uses them. They say nothing
 * about a number that was decoded with other tables. */
PLW_API int32_t plw_result_use_names(plw_result *result, const plw_names *names);

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

/* A batch: the verdict on many numbers by one call, for callers to whom a call
 * is dear. text holds all numbers, one behind the other; ends[i] is the offset
 * behind number i, so that number i begins at ends[i - 1] and the first at 0.
 * rows receives count times PLW_BATCH_COLUMNS values, number by number. hints
 * and flags as for plw_validate, the same for all numbers.
 *
 * A number that cannot be taken has its status in its row and does not end the
 * batch. Status PLW_E_ARGUMENT, also for ends that go back, PLW_E_FLAGS or
 * PLW_E_HINT: then no row is written. Works on the stack as plw_grade does. */
#define PLW_BATCH_STATUS 0     /* PLW_OK, or why this number was not read */
#define PLW_BATCH_GRADE 1      /* PLW_GRADE_ */
#define PLW_BATCH_FINDING 2    /* the gravest finding, PLW_FINDING_, or 0 */
#define PLW_BATCH_SCHEME 3     /* scheme of the best reading, or -1 */
#define PLW_BATCH_FIRST_YEAR 4 /* model years of the best reading, or 0 */
#define PLW_BATCH_LAST_YEAR 5
#define PLW_BATCH_READINGS 6   /* how many readings and findings there are */
#define PLW_BATCH_FINDINGS 7
#define PLW_BATCH_COLUMNS 8
PLW_API int32_t plw_batch(const plw_tables *tables, const char *text, const size_t *ends,
                          size_t count, const char *hints, uint32_t flags, int32_t *rows);

/* Explain: the result as text. format is one of PLW_FORMAT_; flags are
 * PLW_EXPLAIN_. Works on a decoded result (no findings) and a validated one. */
#define PLW_FORMAT_TEXT 0     /* for a terminal of 80 columns */
#define PLW_FORMAT_MARKDOWN 1
#define PLW_FORMAT_JSON 2     /* one object; its JSON Schema is installed */
#define PLW_FORMAT_SVG 3      /* a drawing of the best reading, safe inside a page */
#define PLW_FORMAT_HTML 4     /* a page that stands alone: no script, nothing to fetch */
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
/* The title of its scheme, in the host's words if the result uses names. */
PLW_API const char *plw_reading_title(const plw_result *result, uint32_t reading);

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
/* The words of such a row. They and the label are the host's if the result uses
 * names; plw_row_words and plw_row_label always give those of the tables. */
PLW_API const char *plw_field_words(const plw_result *result, uint32_t reading, uint32_t field,
                                    uint32_t index);
/* 1 when this field by itself rules the model year out. Asked for a year that
 * another field allows, it tells what settles the decade. */
PLW_API int32_t plw_field_excludes_year(const plw_result *result, uint32_t reading,
                                        uint32_t field, int32_t year);

/* ---- Stamps of a reading, by index from 0 ----------------------------- */

/* What a partial stamp on a car of this number shows, "0A149789" on its engine: the
 * characters that the tables say it repeats in one of the reading's model years,
 * and the row that says so. Each selection of characters stands there once. */
PLW_API uint32_t plw_stamp_count(const plw_result *result, uint32_t reading);
PLW_API uint32_t plw_stamp_row(const plw_result *result, uint32_t reading, uint32_t stamp);
PLW_API int32_t plw_stamp_text(const plw_result *result, uint32_t reading, uint32_t stamp,
                               char *buffer, size_t capacity, size_t *needed);

/* ---- What would settle it, by index from 0 --------------------------- */

/* Where a scheme leaves more than one model year open, 1968 or 1978, an entry
 * tells which codes of a field only one of them allows: "were the engine B, F,
 * H or M, it would be 1968". Where the field is partly unreadable, these are the
 * characters to look for. Entries stand by position. They are worked out anew by
 * every call, from the tables, with about plw_result_size() bytes of stack. */
PLW_API uint32_t plw_settling_count(const plw_result *result);
/* The reading it would settle for, and the field, by index in that reading
 * (plw_field_name, plw_field_label, plw_field_positions); or PLW_NONE. */
PLW_API uint32_t plw_settling_reading(const plw_result *result, uint32_t settling);
PLW_API uint32_t plw_settling_field(const plw_result *result, uint32_t settling);
/* The model years it would settle for, in order: those of the reading, or one of
 * those that its year code leaves open. */
PLW_API uint32_t plw_settling_year_count(const plw_result *result, uint32_t settling);
PLW_API int32_t plw_settling_year(const plw_result *result, uint32_t settling, uint32_t index);
/* The codes for people: "B, F, H or M"; of many the first ones and how many more
 * there are. JSON has all. */
PLW_API int32_t plw_settling_codes(const plw_result *result, uint32_t settling, char *buffer,
                                   size_t capacity, size_t *needed);

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

/* ---- Suggestions: could it be a misreading? -------------------------- */

/* suggest: validates, and where the number does not hold looks for the nearest
 * numbers that would. They are guesses for somebody who can look at the plate
 * again; nothing is ever applied. The arguments and the status are those of
 * plw_validate; readings and findings are those of the number itself.
 *
 * A number does not hold when its best reading has a fault or a doubt other
 * than about its length, a running number or a misread character. What is tried:
 * one character for another that it is commonly taken for; if that finds
 * nothing, any one character in the places that the findings speak of; if that
 * finds nothing, two characters that are read for others. A suggestion has a
 * better grade than the number and fewer faults and doubts. Where a check
 * character takes part, it fits, and it is offered only when no other such
 * change makes it fit. */
PLW_API int32_t plw_suggest(const plw_tables *tables, const char *text, size_t length,
                            const char *hints, uint32_t flags, plw_result *result);

/* Suggestions, nearest first, by index from 0: those that leave the fewest
 * doubts, then in the order of the misread pairs. */
PLW_API uint32_t plw_suggestion_count(const plw_result *result);
/* How many more were found: those beyond the list, and those that are not
 * offered because several make the check character fit. */
PLW_API uint32_t plw_suggestion_left_out(const plw_result *result);
PLW_API int32_t plw_suggestion_number(const plw_result *result, uint32_t suggestion,
                                      char *buffer, size_t capacity, size_t *needed);
/* The positions where it differs from the number as typed. At each of them:
 * the code point that was typed and the character it would be; 0 elsewhere. */
PLW_API uint32_t plw_suggestion_positions(const plw_result *result, uint32_t suggestion);
PLW_API int32_t plw_suggestion_typed(const plw_result *result, uint32_t suggestion,
                                     uint32_t position);
PLW_API int32_t plw_suggestion_meant(const plw_result *result, uint32_t suggestion,
                                     uint32_t position);
/* The standing of the misread pairs it rests on, the weakest; memory when it
 * rests on none. */
PLW_API int32_t plw_suggestion_standing(const plw_result *result, uint32_t suggestion);
/* The grade it would have. */
PLW_API int32_t plw_suggestion_grade(const plw_result *result, uint32_t suggestion);
/* One sentence in English. Wording may improve in any release. */
PLW_API int32_t plw_suggestion_sentence(const plw_result *result, uint32_t suggestion,
                                        char *buffer, size_t capacity, size_t *needed);

/* ---- What a position can be ------------------------------------------ */

/* The characters a position can be in a reading, by index from 0, and the rows
 * of its fields that are left for each: for an unreadable character, what it
 * would mean. There are no rows where the tables list no codes. */
PLW_API uint32_t plw_possible_count(const plw_result *result, uint32_t reading,
                                    uint32_t position);
PLW_API int32_t plw_possible_character(const plw_result *result, uint32_t reading,
                                       uint32_t position, uint32_t index);
PLW_API uint32_t plw_possible_row_count(const plw_result *result, uint32_t reading,
                                        uint32_t position, uint32_t index);
PLW_API uint32_t plw_possible_row(const plw_result *result, uint32_t reading,
                                  uint32_t position, uint32_t index, uint32_t row);

/* ---- Typing: the beginning of a number ------------------------------- */

#define PLW_PREFIX_IMPOSSIBLE 0 /* no number begins so */
#define PLW_PREFIX_OPEN 1       /* more characters must come */
#define PLW_PREFIX_COMPLETE 2   /* can stand as it is; longer ones may begin so, too */

/* prefix: what the beginning of a number leaves open, for a form field at every
 * key stroke. Text, flags and status as for plw_decode; the result is
 * overwritten, has no readings, and keeps the positions. A bracket that is not
 * closed yet is left out. Impossible stays impossible whatever is typed behind
 * it; complete is what plw_decode can read, misread characters or not. All else
 * speaks of the layouts that take the characters as they are, or, if there are
 * none, of those that take some of them as others. */
PLW_API int32_t plw_prefix(const plw_tables *tables, const char *text, size_t length,
                           uint32_t flags, plw_result *result);

PLW_API int32_t plw_prefix_state(const plw_result *result);
/* The schemes it can belong to, in the order of the tables; at most 256. */
PLW_API uint32_t plw_prefix_scheme_count(const plw_result *result);
PLW_API uint32_t plw_prefix_scheme(const plw_result *result, uint32_t index);
/* The characters that can come next, in a row ("0123"): all that a layout
 * allows, and those among them that lead on to a code the tables list or stand
 * where the tables list none. A character that is allowed but not known is a
 * doubt at most. */
PLW_API int32_t plw_prefix_allowed(const plw_result *result, char *buffer, size_t capacity,
                                   size_t *needed);
PLW_API int32_t plw_prefix_known(const plw_result *result, char *buffer, size_t capacity,
                                 size_t *needed);
/* The fewest and the most characters that are still to come. */
PLW_API uint32_t plw_prefix_remaining_min(const plw_result *result);
PLW_API uint32_t plw_prefix_remaining_max(const plw_result *result);

/* ---- Claims: what a listing says, held against the number -------------- */

/* Holds claims against a result that was decoded or validated, and keeps the
 * verdicts in it until the next call that fills the result or checks claims.
 *
 * claims  "attribute=value" parts joined by ';' ("year=1966; engine=426 cu in V8;
 *         body=2dr hardtop"), UTF-8. Attributes are year, maker, division, line,
 *         series, model, body, doors, engine, displacement, cylinders,
 *         carburation, power, fuel, plant, country and sequence; values are
 *         forgiving. plw_check_claims(3) lists every form that is accepted. NULL
 *         or no text: no claims.
 *
 * Status: PLW_E_ARGUMENT, PLW_E_TOO_LONG, PLW_E_CLAIM; the result then has no
 * claims. An attribute or a value that is not understood is no failure. */
PLW_API int32_t plw_check_claims(plw_result *result, const char *claims, size_t length);

/* Supported: the best reading says so. Contradicted: every reading says
 * otherwise. Not told: all else, for the reason given. None of them is a
 * judgement of the car. */
#define PLW_VERDICT_SUPPORTED 1
#define PLW_VERDICT_CONTRADICTED 2
#define PLW_VERDICT_NOT_TOLD 3

#define PLW_REASON_NONE 0             /* the claim is supported or contradicted */
#define PLW_REASON_NOT_UNDERSTOOD 1   /* attribute or value */
#define PLW_REASON_NO_READING 2       /* the number has none */
#define PLW_REASON_NOT_CODED 3        /* the scheme does not code it */
#define PLW_REASON_UNREADABLE 4       /* the characters that tell it cannot be read */
#define PLW_REASON_UNKNOWN_CODE 5     /* the tables do not know the code */
#define PLW_REASON_NOT_STATED 6       /* the tables know the code, but do not state this */
#define PLW_REASON_SEVERAL_MEANINGS 7 /* the code or the year leaves more than one open */
#define PLW_REASON_NEAR 8             /* word or figure is too loose to decide */
#define PLW_REASON_UNKNOWN_NAME 9     /* the tables use no such name */
#define PLW_REASON_READINGS_DIFFER 10
#define PLW_REASON_CONFLICT 11        /* fields of the number contradict each other */

/* Claims in the order given, by index from 0. */
PLW_API uint32_t plw_claim_count(const plw_result *result);
/* The stable name of the attribute; "" when this release does not know it. */
PLW_API const char *plw_claim_attribute(const plw_result *result, uint32_t claim);
/* The claim and its value, as given. */
PLW_API int32_t plw_claim_text(const plw_result *result, uint32_t claim, char *buffer,
                               size_t capacity, size_t *needed);
PLW_API int32_t plw_claim_value(const plw_result *result, uint32_t claim, char *buffer,
                                size_t capacity, size_t *needed);
PLW_API int32_t plw_claim_verdict(const plw_result *result, uint32_t claim);
PLW_API int32_t plw_claim_reason(const plw_result *result, uint32_t claim);
/* The best reading that supports the claim, or PLW_NONE. */
PLW_API uint32_t plw_claim_reading(const plw_result *result, uint32_t claim);
/* The positions and the rows that decide, or that leave it open. */
PLW_API uint32_t plw_claim_positions(const plw_result *result, uint32_t claim);
PLW_API uint32_t plw_claim_row_count(const plw_result *result, uint32_t claim);
PLW_API uint32_t plw_claim_row(const plw_result *result, uint32_t claim, uint32_t index);
/* How sure these rows are: the weakest standing (PLW_E_ABSENT without rows) and
 * the marks that any of them has. */
PLW_API int32_t plw_claim_standing(const plw_result *result, uint32_t claim);
PLW_API uint32_t plw_claim_marks(const plw_result *result, uint32_t claim);
/* One sentence in English. Wording may improve in any release. */
PLW_API int32_t plw_claim_sentence(const plw_result *result, uint32_t claim, char *buffer,
                                   size_t capacity, size_t *needed);
/* Stable names: "supported", "contradicted", "not-told"; "none", "not-coded" ... */
PLW_API const char *plw_verdict_name(int32_t verdict);
PLW_API const char *plw_reason_name(int32_t reason);

/* ---- Cars: plates held against each other ----------------------------- */

/* A car collects what was found where: the full number on the dash, a short
 * stamp on the engine, a label on the door. compare holds the plates against
 * each other, position by position. What a stamp repeats, and where, is said in
 * the tables. */
typedef struct plw_car plw_car;

#define PLW_MAX_PLATES 16      /* plates of one car */
#define PLW_MAX_JOINED 8       /* joined numbers of one comparison */
#define PLW_MAX_DIFFERENCES 96 /* differences listed of one comparison */

#define PLW_PLACE_DASH 1
#define PLW_PLACE_DOOR_LABEL 2 /* label or metal plate */
#define PLW_PLACE_BODY_TAG 3
#define PLW_PLACE_CERTIFICATION_LABEL 4
#define PLW_PLACE_ENGINE 5
#define PLW_PLACE_GEARBOX 6
#define PLW_PLACE_BODY 7

/* The stable name of a place ("door_label") and its label for people; "" for
 * any other number. */
PLW_API const char *plw_place_name(int32_t place);
PLW_API const char *plw_place_label(int32_t place);

/* A car from the heap or in memory of the caller, as for a result: about twice
 * the size of one. It is empty. */
PLW_API int32_t plw_car_new(plw_car **car);
PLW_API void plw_car_free(plw_car *car);
PLW_API size_t plw_car_size(void);
PLW_API int32_t plw_car_place(void *memory, size_t size, plw_car **car);

/* Takes all plates and dates away. Names, as for plw_result_use_names, stay. */
PLW_API void plw_car_clear(plw_car *car);
PLW_API int32_t plw_car_use_names(plw_car *car, const plw_names *names);

/* Adds a plate; a place may be given more than once. The text is what
 * plw_decode takes. Whatever was compared before is forgotten. Status
 * PLW_E_ARGUMENT for another place, PLW_E_TOO_LONG for a longer text or one
 * plate more than PLW_MAX_PLATES. */
PLW_API int32_t plw_car_add_plate(plw_car *car, int32_t place, const char *text,
                                  size_t length);

/* compare: holds all plates against each other. The full number may be missing:
 * stamps alone are joined, too. The way to read them that takes the most plates
 * with the fewest differences is the one that is reported. hints and flags as
 * for plw_decode. */
PLW_API int32_t plw_compare(const plw_tables *tables, plw_car *car, const char *hints,
                            uint32_t flags);

/* Holds claims against the joined number of the last comparison, as
 * plw_check_claims does; plw_claim_ accessors on plw_car_result tell the verdicts,
 * until the next comparison. Where plates differ, a claim is told only if every
 * reading of what they show says the same. Arguments and status as for
 * plw_check_claims. */
PLW_API int32_t plw_car_check_claims(plw_car *car, const char *claims, size_t length);

#define PLW_PLATE_AGREES 1         /* every character that can be compared agrees */
#define PLW_PLATE_DIFFERS 2        /* a character differs from that of another plate */
#define PLW_PLATE_CANNOT_COMPARE 3 /* not understood, or nothing to hold it against */
#define PLW_PLATE_NOT_EXPECTED 4   /* the tables know no such stamp there in that year */

/* The verdict on the whole: a plate differs; else one is not expected; else one
 * cannot be compared; else all agree. 0 before compare. */
PLW_API int32_t plw_car_verdict(const plw_car *car);
/* The stable name of a verdict ("cannot-compare"). */
PLW_API const char *plw_plate_verdict_name(int32_t verdict);

/* ---- Plates, as they were added, by index from 0 ---------------------- */

PLW_API uint32_t plw_plate_count(const plw_car *car);
PLW_API int32_t plw_plate_place(const plw_car *car, uint32_t plate);
/* The text as read: capitals without separators, as plw_result_number. */
PLW_API int32_t plw_plate_number(const plw_car *car, uint32_t plate, char *buffer,
                                 size_t capacity, size_t *needed);

#define PLW_TAKEN_NOT 0     /* not understood */
#define PLW_TAKEN_FULL 1    /* a full number */
#define PLW_TAKEN_PARTIAL 2 /* a stamp that repeats part of the number */
PLW_API int32_t plw_plate_taken(const plw_car *car, uint32_t plate);
/* The row that tells what such a stamp repeats or, for a plate that is not
 * expected, since when; or PLW_NONE. */
PLW_API uint32_t plw_plate_row(const plw_car *car, uint32_t plate);
/* The positions of the full number that it repeats, and what it shows at one of
 * them: a character, "[8B]" or '?'; "" elsewhere. */
PLW_API uint32_t plw_plate_positions(const plw_car *car, uint32_t plate);
PLW_API int32_t plw_plate_shows(const plw_car *car, uint32_t plate, uint32_t position,
                                char *buffer, size_t capacity, size_t *needed);

PLW_API int32_t plw_plate_verdict(const plw_car *car, uint32_t plate);
/* Positions that both can be read at, and those of them that differ. */
PLW_API uint32_t plw_plate_compared(const plw_car *car, uint32_t plate, uint32_t other);
PLW_API uint32_t plw_plate_differs(const plw_car *car, uint32_t plate, uint32_t other);
/* One sentence in English. Wording may improve in any release. */
PLW_API int32_t plw_plate_sentence(const plw_car *car, uint32_t plate, char *buffer,
                                   size_t capacity, size_t *needed);

/* ---- Dates, as they were added, by index from 0 ----------------------- */

#define PLW_MAX_DATES 16      /* dates of one car */
#define PLW_MAX_DATE_TEXT 64  /* bytes of one date as typed */
#define PLW_MAX_DATE_SPANS 16 /* runs of days that one date can mean */

#define PLW_DATE_CASTING 1  /* cast into a part */
#define PLW_DATE_ASSEMBLY 2 /* stamped on an engine or gearbox that was put together */
#define PLW_DATE_BODY_TAG 3 /* on a body tag or data plate, the day a car was planned for */
#define PLW_DATE_LABEL 4    /* on a door or certification label */

/* The stable name of a kind of date ("body_tag") and its label for people; "" for
 * any other number. */
PLW_API const char *plw_date_kind_name(int32_t kind);
PLW_API const char *plw_date_kind_label(int32_t kind);

/* Adds a date code as it was found ("8C1", "D 16 5"); plw_compare reads it as the
 * tables say that the car's maker wrote such dates. Separators do not matter, and
 * small letters are read as capitals. Whatever was compared before is forgotten.
 * Status PLW_E_ARGUMENT for another kind, PLW_E_TOO_LONG for a longer text or one
 * date more than PLW_MAX_DATES. */
PLW_API int32_t plw_car_add_date(plw_car *car, int32_t kind, const char *text, size_t length);

/* Later is worded as what was compared and judges neither part nor car. A date
 * that can mean several days, or a car that can be of several model years, has the
 * verdict of what suits it best. */
#define PLW_DATE_VERDICT_FITS 1
#define PLW_DATE_VERDICT_LATER 2 /* than the car: its model year, label or tag */
#define PLW_DATE_VERDICT_ORDER 3 /* a casting later than the assembly, if of one part */
#define PLW_DATE_VERDICT_EARLY 4 /* by a rule of thumb, or before the model year */
#define PLW_DATE_VERDICT_OPEN 5  /* for the reason given */

#define PLW_DATE_REASON_NONE 0
#define PLW_DATE_REASON_NOT_UNDERSTOOD 1 /* no form of the tables, or no day: 31 April */
#define PLW_DATE_REASON_NO_READING 2     /* the car has no model year */
#define PLW_DATE_REASON_NO_FORM 3        /* the tables know no such dates of this car */
#define PLW_DATE_REASON_NO_DAY 4         /* no such day near the car: 29 February 1967 */
#define PLW_DATE_REASON_TOO_MANY 5       /* it can mean too many days */

/* The verdict that speaks most against a date: later, order, early, open, fits. 0
 * before compare and without dates. It is no part of plw_car_verdict, which speaks
 * of plates only. */
PLW_API int32_t plw_car_date_verdict(const plw_car *car);
/* Stable names: "fits", "later" ...; "none", "not-understood" ... */
PLW_API const char *plw_date_verdict_name(int32_t verdict);
PLW_API const char *plw_date_reason_name(int32_t reason);

/* The first and last day on which the car can have been built, as YYYYMMDD: its
 * model years, narrowed by labels and tags. A model year is taken to be built from
 * July of the year before to December unless a row says otherwise, and a car within
 * 30 days of a body tag's date. 0 before compare and when no model year is known. */
PLW_API int32_t plw_car_built_first(const plw_car *car);
PLW_API int32_t plw_car_built_last(const plw_car *car);

PLW_API uint32_t plw_date_count(const plw_car *car);
PLW_API int32_t plw_date_kind(const plw_car *car, uint32_t date);
/* The text as read: capitals, one blank for separators, '?' for any other sign. */
PLW_API int32_t plw_date_text(const plw_car *car, uint32_t date, char *buffer, size_t capacity,
                              size_t *needed);
/* The days it can mean, as runs from first to last, YYYYMMDD, in order. Of a year
 * that shows its last figure only the one nearest to the model year is meant, of two
 * figures one from 70 years before it to 29 after; without any year all days near the
 * car count. 1 from capped: there were more. */
PLW_API uint32_t plw_date_span_count(const plw_car *car, uint32_t date);
PLW_API int32_t plw_date_span_first(const plw_car *car, uint32_t date, uint32_t span);
PLW_API int32_t plw_date_span_last(const plw_car *car, uint32_t date, uint32_t span);
PLW_API int32_t plw_date_capped(const plw_car *car, uint32_t date);
/* The row that tells how the date is written, or PLW_NONE; for an early one the row
 * with the rule of thumb, or PLW_NONE when it is the model year's begin. */
PLW_API uint32_t plw_date_row(const plw_car *car, uint32_t date);
PLW_API uint32_t plw_date_rule(const plw_car *car, uint32_t date);
/* The other date that a verdict but fits rests on, or PLW_NONE for the model year. */
PLW_API uint32_t plw_date_against(const plw_car *car, uint32_t date);
PLW_API int32_t plw_date_verdict(const plw_car *car, uint32_t date);
PLW_API int32_t plw_date_reason(const plw_car *car, uint32_t date);
/* PLW_GRADE_FAULT for later, but PLW_GRADE_DOUBT where a form is not confirmed;
 * doubt for order and early, note for open, clear for fits. */
PLW_API int32_t plw_date_grade(const plw_car *car, uint32_t date);
/* One sentence in English. Wording may improve in any release. */
PLW_API int32_t plw_date_sentence(const plw_car *car, uint32_t date, char *buffer, size_t capacity,
                                  size_t *needed);

/* ---- Differences, by position, by index from 0 ------------------------ */

/* One for each character that plates show where others show another: the
 * position, the character, the plates (bit 0 is plate 0), and the readings that
 * it supports: their model years, and the rows of its field. */
PLW_API uint32_t plw_difference_count(const plw_car *car);
PLW_API uint32_t plw_difference_position(const plw_car *car, uint32_t difference);
PLW_API int32_t plw_difference_shows(const plw_car *car, uint32_t difference, char *buffer,
                                     size_t capacity, size_t *needed);
PLW_API uint32_t plw_difference_plates(const plw_car *car, uint32_t difference);
PLW_API uint32_t plw_difference_year_count(const plw_car *car, uint32_t difference);
PLW_API int32_t plw_difference_year(const plw_car *car, uint32_t difference, uint32_t index);
/* At most four rows are kept. */
PLW_API uint32_t plw_difference_row_count(const plw_car *car, uint32_t difference);
PLW_API uint32_t plw_difference_row(const plw_car *car, uint32_t difference, uint32_t index);
PLW_API int32_t plw_difference_sentence(const plw_car *car, uint32_t difference, char *buffer,
                                        size_t capacity, size_t *needed);

/* ---- Expected but not given, by index from 0 -------------------------- */

/* Places where the tables say that a car of this reading bears the number or a
 * part of it, and the row that says so. */
PLW_API uint32_t plw_missing_count(const plw_car *car);
PLW_API int32_t plw_missing_place(const plw_car *car, uint32_t missing);
PLW_API uint32_t plw_missing_row(const plw_car *car, uint32_t missing);
PLW_API int32_t plw_missing_sentence(const plw_car *car, uint32_t missing, char *buffer,
                                     size_t capacity, size_t *needed);

/* ---- The joined number, best first, by index from 0 ------------------- */

/* What all plates say together: a character where they agree, "[8B]" where they
 * differ, '?' where none can be read. Several when stamps alone fit several
 * schemes. */
PLW_API uint32_t plw_joined_count(const plw_car *car);
/* 1 when there were more than PLW_MAX_JOINED. */
PLW_API int32_t plw_joined_capped(const plw_car *car);
PLW_API uint32_t plw_joined_scheme(const plw_car *car, uint32_t joined);
PLW_API int32_t plw_joined_number(const plw_car *car, uint32_t joined, char *buffer,
                                  size_t capacity, size_t *needed);
/* The first joined number decoded, owned by the car; it is overwritten by the
 * next comparison and empty before the first. NULL only when car is. */
PLW_API const plw_result *plw_car_result(const plw_car *car);
/* The reading of that result which the comparison rests on, or PLW_NONE. */
PLW_API uint32_t plw_car_reading(const plw_car *car);

/* ---- What to look at next, by index from 0 ---------------------------- */

/* Which plate to photograph, which character to read again, which document would
 * settle a claim. */
PLW_API uint32_t plw_advice_count(const plw_car *car);
PLW_API int32_t plw_advice_sentence(const plw_car *car, uint32_t advice, char *buffer,
                                    size_t capacity, size_t *needed);

/* The comparison in any format of plw_explain (the JSON Schema is installed):
 * plates stacked so that their characters align, what they say together, what
 * agrees, what contradicts, what is open, what to look at next, cautions. A
 * drawing or a page has it all, too. flags as for plw_explain. */
PLW_API int32_t plw_explain_car(const plw_car *car, int32_t format, uint32_t flags, char *buffer,
                                size_t capacity, size_t *needed);

/* ---- Expect: from claims to the numbers that could bear them ----------- */

/* What plw_expect found. Reused from call to call; about 700 kB. */
typedef struct plw_expectation plw_expectation;

/* From the heap or in memory of the caller, as for a result. */
PLW_API int32_t plw_expectation_new(plw_expectation **expectation);
PLW_API void plw_expectation_free(plw_expectation *expectation);
PLW_API size_t plw_expectation_size(void);
PLW_API int32_t plw_expectation_place(void *memory, size_t size, plw_expectation **expectation);
/* As for a result: titles and words of the host. */
PLW_API int32_t plw_expectation_use_names(plw_expectation *expectation, const plw_names *names);

/* expect: for every scheme and layout, the patterns of the numbers that could
 * bear the claims. claims are those of plw_check_claims; hints and flags as for
 * plw_decode: hints rank, and hide nothing. The expectation is overwritten; on
 * failure it is empty.
 *
 * A pattern is a number with sets of characters, written as damaged numbers are:
 * "?27[RZ]8P??????". It tells a claim when all it covers supports it; a claim that
 * the scheme does not code, or whose codes leave it open, stays open and rules
 * nothing out; so does a name that the tables do not use, but for a maker's: one of
 * whom they know nothing leaves no pattern where a scheme names its maker. Every
 * number whose reading supports all claims is covered as long as the tables know the
 * codes that bear on them, and no pattern covers a number that such a code would
 * contradict. Where one pattern cannot tell both, there are several. Patterns stand
 * in order: those that leave the fewest claims open, then those that meet the most
 * hints, then as in the tables.
 *
 * Status: PLW_E_ARGUMENT, PLW_E_FLAGS, PLW_E_TOO_LONG, PLW_E_HINT, PLW_E_CLAIM. */
PLW_API int32_t plw_expect(const plw_tables *tables, const char *claims, size_t length,
                           const char *hints, uint32_t flags, plw_expectation *expectation);

/* One sentence on the whole: how many patterns there are or, if there is none,
 * which claims rule everything out. Wording may improve in any release. */
PLW_API int32_t plw_expectation_sentence(const plw_expectation *expectation, char *buffer,
                                         size_t capacity, size_t *needed);
/* 1 when there is more than is listed: over PLW_MAX_PATTERNS, or the search came
 * to its limit of 4 million codes for one layout. */
PLW_API int32_t plw_expectation_capped(const plw_expectation *expectation);

/* The claims as given, by index from 0, and the attribute's stable name. */
PLW_API uint32_t plw_expectation_claim_count(const plw_expectation *expectation);
PLW_API const char *plw_expectation_claim_attribute(const plw_expectation *expectation,
                                                    uint32_t claim);
PLW_API int32_t plw_expectation_claim_text(const plw_expectation *expectation, uint32_t claim,
                                           char *buffer, size_t capacity, size_t *needed);
/* 0 when attribute or value are not understood: it is open in every pattern. */
PLW_API int32_t plw_expectation_understands(const plw_expectation *expectation,
                                            uint32_t claim);
/* Why there is no pattern: 1 for the claims that together leave nothing, as few
 * as possible; just one when it leaves nothing by itself. And 1 for claims
 * without which something would be left. */
PLW_API int32_t plw_expectation_rules_out(const plw_expectation *expectation, uint32_t claim);
PLW_API int32_t plw_expectation_left_without(const plw_expectation *expectation,
                                             uint32_t claim);

/* Patterns, by index from 0. The layout is an index of plw_layout_length. */
PLW_API uint32_t plw_pattern_count(const plw_expectation *expectation);
PLW_API uint32_t plw_pattern_scheme(const plw_expectation *expectation, uint32_t pattern);
PLW_API uint32_t plw_pattern_layout(const plw_expectation *expectation, uint32_t pattern);
/* The model years for which it was made; its characters may allow others. */
PLW_API uint32_t plw_pattern_year_count(const plw_expectation *expectation, uint32_t pattern);
PLW_API int32_t plw_pattern_year(const plw_expectation *expectation, uint32_t pattern,
                                 uint32_t index);
/* The pattern itself, which plw_decode takes: at most PLW_MAX_TEXT bytes, for
 * which the longest brackets become '?' if need be. '?' is all that the layout
 * allows. */
PLW_API int32_t plw_pattern_text(const plw_expectation *expectation, uint32_t pattern,
                                 char *buffer, size_t capacity, size_t *needed);
/* The running numbers that the tables know for it, as they write them
 * ("100001+"); "" when they know none. */
PLW_API int32_t plw_pattern_range(const plw_expectation *expectation, uint32_t pattern,
                                  char *buffer, size_t capacity, size_t *needed);
/* 1 when it tells the claim, 0 when it leaves it open. */
PLW_API int32_t plw_pattern_tells(const plw_expectation *expectation, uint32_t pattern,
                                  uint32_t claim);
/* The rows that speak for the claims, at most PLW_MAX_PATTERN_ROWS; the weakest
 * standing of all of them (PLW_E_ABSENT without rows), and the marks of any. */
PLW_API uint32_t plw_pattern_row_count(const plw_expectation *expectation, uint32_t pattern);
PLW_API uint32_t plw_pattern_row(const plw_expectation *expectation, uint32_t pattern,
                                 uint32_t index);
PLW_API int32_t plw_pattern_standing(const plw_expectation *expectation, uint32_t pattern);
PLW_API uint32_t plw_pattern_marks(const plw_expectation *expectation, uint32_t pattern);
/* One sentence in English. Wording may improve in any release. */
PLW_API int32_t plw_pattern_sentence(const plw_expectation *expectation, uint32_t pattern,
                                     char *buffer, size_t capacity, size_t *needed);

/* The reverse test: whether a pattern covers a number. Both are read as by
 * plw_decode, without tables: no character is taken for another. *position (may
 * be NULL) receives the first position that does not fit or is open, from 1; 0
 * when the number is covered. Status PLW_E_ARGUMENT, PLW_E_TOO_LONG. */
#define PLW_COVERED_NOT 0
#define PLW_COVERED 1
#define PLW_COVERED_OPEN 2 /* the number's unreadable characters decide */
PLW_API int32_t plw_pattern_covers(const char *pattern, size_t pattern_length,
                                   const char *number, size_t number_length,
                                   int32_t *covered, uint32_t *position);

/* The expectation as text, Markdown or JSON (its JSON Schema is installed).
 * format and flags as for plw_explain. */
PLW_API int32_t plw_explain_expectation(const plw_expectation *expectation, int32_t format,
                                        uint32_t flags, char *buffer, size_t capacity,
                                        size_t *needed);

/* ---- Cautions --------------------------------------------------------- */

/* What human outputs must close with: a number that reads well does not prove
 * the car. Cautions by index from 0. */
PLW_API uint32_t plw_caution_count(const plw_tables *tables);
PLW_API const char *plw_caution_text(const plw_tables *tables, uint32_t index);

#ifdef __cplusplus
}
#endif

#endif
