/* SPDX-License-Identifier: MIT
 *
 * The command catalogue: what its parts share. A catalogue travels so: lines ->
 * rows (CSV or JSON) -> lots -> verdicts -> the same rows with more columns.
 */
#ifndef CATALOGUE_H
#define CATALOGUE_H

#include "client.h"

/* A row is held in memory as a whole; none may be longer, in bytes. */
#define CATALOGUE_MAX_ROW (UINT32_C(1) << 20)

/* ---- lines (catalogue_lines.c) ---------------------------------------------- */

/* Bytes that belong to somebody else. */
typedef struct byte_span {
    const char *bytes;
    size_t length;
} byte_span;

/* A window over the input that holds one row, of one line or more, so that a
 * row that turns out to be broken can be left after its first line. Lines end in
 * LF, CR LF or CR. */
typedef struct line_reader {
    int input; /* a file descriptor */
    int error; /* why it cannot be read on; 0: it can, or it ended */
    char *bytes;
    size_t length;    /* bytes held */
    size_t row;       /* where the row begins */
    size_t first_end; /* where its first line ends */
    size_t next;      /* the first byte that was not taken yet */
    unsigned long row_line;
    unsigned long next_line;
    bool marked; /* the input began with a UTF-8 byte order mark; it is skipped */
    bool ended;
} line_reader;

enum line_state { LINE_TAKEN, LINE_NONE, LINE_TOO_LONG };

void lines_open(line_reader *lines, int input);
void lines_close(line_reader *lines);

/* The next line begins a new row. */
void lines_begin_row(line_reader *lines);

/* Takes the next line of the row, its end included. What was taken stays where
 * it is only until the next call. */
enum line_state lines_take(line_reader *lines, byte_span *line);

/* Goes back to the second line of the row. */
void lines_leave_row(line_reader *lines);

/* Skips a line that is too long. */
void lines_skip(line_reader *lines);

/* ---- numbers seen (catalogue_seen.c) ---------------------------------------- */

/* A set of 64-bit digests, each with the line where it was seen first: 12 bytes
 * a slot, so 16 to 32 bytes a number. Two different numbers out of a million
 * have the same digest once in forty million catalogues. */
typedef struct numbers_seen {
    uint64_t *digests;
    uint32_t *lines; /* 0: the slot is free */
    size_t slots;    /* a power of two */
    size_t count;
} numbers_seen;

/* Adds a number; the line where it was seen before, or 0. */
unsigned long seen_before(numbers_seen *seen, const char *number, size_t length,
                          unsigned long line);
/* The line where a number was seen, or 0. */
unsigned long seen_at(const numbers_seen *seen, const char *number, size_t length);
void seen_free(numbers_seen *seen);

/* ---- progress (catalogue_progress.c) ---------------------------------------- */

typedef struct progress_line {
    bool terminal;
    bool shown;
    int64_t last; /* when it was shown, in milliseconds */
} progress_line;

/* Shows a count of rows on standard error, when that is a terminal and the rows go
 * elsewhere, at most five times a second; and takes it away, before anything else
 * is written there. */
void progress_begin(progress_line *progress);
void progress_show(progress_line *progress, unsigned long rows);
void progress_hide(progress_line *progress);

/* ---- verdicts ------------------------------------------------------------------ */

enum verdict_column {
    VERDICT_GRADE,
    VERDICT_SCHEME,
    VERDICT_YEARS,
    VERDICT_FINDINGS,
    VERDICT_READING,
    VERDICT_PARTIAL, /* the line with a number of which this is a part, or a part of this */
    VERDICT_REPEATS, /* the line with the same number */
    VERDICT_CLAIMS,
    VERDICT_COLUMNS
};

#define GRADES (PLW_GRADE_FAULT + 1)

typedef struct catalogue_work {
    const client_options *options;
    plw_result *result;
    line_reader lines;
    numbers_seen seen;
    numbers_seen stamps; /* what stamps of these numbers show */
    progress_line progress;
    growing_text verdict[VERDICT_COLUMNS];
    growing_text members; /* JSON: the verdict as it is written */
    unsigned long rows;
    unsigned long by_grade[GRADES];
    unsigned long left_out;
    unsigned long bad;
    unsigned long repeated;
    unsigned long partial;
    unsigned long contradicted;
    int status;
} catalogue_work;

/* The cells that a row has for the columns of the command line, in their order;
 * empty where it has none. */
typedef struct catalogue_lot {
    unsigned long line;
    byte_span cells[CATALOGUE_COLUMNS];
} catalogue_lot;

/* The name of a verdict column; NULL when this catalogue does not have it. */
const char *verdict_name(const catalogue_work *catalogue, int column);

/* Fills in the verdicts for a lot (catalogue_judge.c). */
void judge_lot(catalogue_work *catalogue, const catalogue_lot *lot);

/* A row that is bad, for the reason given: it is complained about, and either
 * has no verdict but the reason or is not written at all. */
void refuse_row(catalogue_work *catalogue, unsigned long line, const char *reason);
void leave_out_row(catalogue_work *catalogue, unsigned long line, const char *reason);

/* Read the rows, have the lots judged and write them with their verdicts. */
void catalogue_csv(catalogue_work *catalogue);
void catalogue_json(catalogue_work *catalogue);

#endif
