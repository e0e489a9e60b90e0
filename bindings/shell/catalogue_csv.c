/* SPDX-License-Identifier: MIT
 *
 * A catalogue as comma-separated values (RFC 4180), read with libcsv. The cells
 * go out as they came in; only quotes may change, and line ends are those of the
 * header.
 */
#include <csv.h>
#include <stdlib.h>
#include <string.h>

#include "catalogue.h"

#define NO_COLUMN SIZE_MAX

typedef struct csv_rows {
    catalogue_work *catalogue;
    struct csv_parser parser;
    growing_text bytes; /* of the row's cells, end to end */
    size_t *ends;       /* where each of them ends */
    size_t count;
    size_t capacity;
    bool complete;
    size_t columns; /* of the header */
    size_t wanted[CATALOGUE_COLUMNS];
    const char *line_end;
} csv_rows;

/* ---- rows in ---------------------------------------------------------------------- */

static void take_cell(void *bytes, size_t length, void *context)
{
    csv_rows *rows = context;
    if (rows->count == rows->capacity) {
        rows->capacity = rows->capacity * 2 + 16;
        rows->ends = larger_memory(rows->ends, rows->capacity * sizeof *rows->ends);
    }
    text_add(&rows->bytes, bytes, length);
    rows->ends[rows->count++] = rows->bytes.length;
}

static void end_row(int terminator, void *context)
{
    csv_rows *rows = context;
    (void)terminator;
    rows->complete = true;
}

static byte_span cell_of(const csv_rows *rows, size_t column)
{
    byte_span none = { "", 0 };
    if (column >= rows->count)
        return none;
    size_t start = column > 0 ? rows->ends[column - 1] : 0;
    byte_span found = { rows->bytes.bytes + start, rows->ends[column] - start };
    return found.length > 0 ? found : none;
}

/* By itself libcsv drops the blanks around a cell. */
static int no_blank(unsigned char c)
{
    (void)c;
    return 0;
}

static void begin_row(csv_rows *rows)
{
    csv_fini(&rows->parser, NULL, NULL, NULL);
    text_clear(&rows->bytes);
    rows->count = 0;
    rows->complete = false;
    lines_begin_row(&rows->catalogue->lines);
}

/* False when the quotes are broken. */
static bool parse(csv_rows *rows, const char *bytes, size_t length)
{
    size_t taken = csv_parse(&rows->parser, bytes, length, take_cell, end_row, rows);
    if (csv_error(&rows->parser) == CSV_ENOMEM)
        out_of_memory();
    return taken == length;
}

static bool ends_line(const byte_span *line)
{
    char last = line->bytes[line->length - 1];
    return last == '\n' || last == '\r';
}

static bool is_line_end(const byte_span *line)
{
    return line->bytes[0] == '\n' || line->bytes[0] == '\r';
}

enum row_state { ROW_READ, ROW_NONE, ROW_BROKEN, ROW_TOO_LONG };

/* Reads a row; a broken one is left after its first line, because a quote that
 * is not closed would swallow the rest of the catalogue. */
static enum row_state read_row(csv_rows *rows)
{
    line_reader *lines = &rows->catalogue->lines;
    begin_row(rows);
    while (!rows->complete) {
        byte_span line;
        bool first = lines->next == lines->row;
        enum line_state state = lines_take(lines, &line);
        if (first && state == LINE_NONE)
            return ROW_NONE;
        if (first && state == LINE_TOO_LONG) {
            lines_skip(lines);
            return ROW_TOO_LONG;
        }
        if (first && state == LINE_TAKEN && is_line_end(&line)) {
            begin_row(rows);
            continue;
        }
        if (state != LINE_TAKEN || !parse(rows, line.bytes, line.length) ||
            (!ends_line(&line) && !parse(rows, "\n", 1))) {
            lines_leave_row(lines);
            return ROW_BROKEN;
        }
    }
    return ROW_READ;
}

/* ---- rows out ---------------------------------------------------------------------- */

static bool needs_quotes(const byte_span *cell)
{
    if (cell->length == 0)
        return false;
    if (cell->bytes[0] == ' ' || cell->bytes[cell->length - 1] == ' ')
        return true;
    for (size_t i = 0; i < cell->length; i++)
        if (cell->bytes[i] == ',' || cell->bytes[i] == '"' || cell->bytes[i] == '\n' ||
            cell->bytes[i] == '\r')
            return true;
    return false;
}

static void write_cell(const byte_span *cell)
{
    if (needs_quotes(cell))
        csv_fwrite(stdout, cell->bytes, cell->length);
    else if (cell->length > 0)
        fwrite(cell->bytes, 1, cell->length, stdout);
}

/* A spreadsheet takes a cell that begins with one of these for a formula. The
 * cells of the catalogue are its owner's business; ours are made harmless. */
static void write_own_cell(growing_text *text)
{
    if (text->length > 0 && memchr("=+-@\t\r", text->bytes[0], 6) != NULL) {
        text_add(text, "'", 1);
        memmove(text->bytes + 1, text->bytes, text->length - 1);
        text->bytes[0] = '\'';
    }
    byte_span own = { text->bytes, text->length };
    putchar(',');
    write_cell(&own);
}

/* Rows that are too short are filled up, so that verdicts stand in their columns. */
static void write_cells(const csv_rows *rows)
{
    for (size_t i = 0; i < rows->columns; i++) {
        byte_span given = cell_of(rows, i);
        if (i > 0)
            putchar(',');
        write_cell(&given);
    }
}

static void write_row(csv_rows *rows)
{
    catalogue_work *catalogue = rows->catalogue;
    write_cells(rows);
    for (int i = 0; i < VERDICT_COLUMNS; i++)
        if (verdict_name(catalogue, i) != NULL)
            write_own_cell(&catalogue->verdict[i]);
    fputs(rows->line_end, stdout);
}

static void write_header(const csv_rows *rows)
{
    if (rows->catalogue->lines.marked)
        fputs("\xEF\xBB\xBF", stdout);
    write_cells(rows);
    for (int i = 0; i < VERDICT_COLUMNS; i++) {
        const char *name = verdict_name(rows->catalogue, i);
        if (name != NULL)
            printf(",%s", name);
    }
    fputs(rows->line_end, stdout);
}

/* ---- the header --------------------------------------------------------------------- */

static char small(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static bool is_named(const byte_span *cell, const char *name, bool exactly)
{
    if (cell->length != strlen(name))
        return false;
    for (size_t i = 0; i < cell->length; i++)
        if (exactly ? cell->bytes[i] != name[i] : small(cell->bytes[i]) != small(name[i]))
            return false;
    return true;
}

/* Capitals and small letters are the same, unless a column has the very name. */
static size_t find_column(const csv_rows *rows, const char *name)
{
    for (int exactly = 1; exactly >= 0; exactly--)
        for (size_t i = 0; i < rows->count; i++) {
            byte_span header = cell_of(rows, i);
            if (is_named(&header, name, exactly))
                return i;
        }
    return NO_COLUMN;
}

static bool find_columns(csv_rows *rows)
{
    const client_options *options = rows->catalogue->options;
    for (int i = 0; i < CATALOGUE_COLUMNS; i++) {
        rows->wanted[i] = NO_COLUMN;
        if (options->columns[i] == NULL)
            continue;
        rows->wanted[i] = find_column(rows, options->columns[i]);
        if (rows->wanted[i] == NO_COLUMN) {
            complain("the header has no column '%s'%s", options->columns[i],
                     i == CATALOGUE_NUMBER ? "; name another with --column" : "");
            return false;
        }
    }
    for (int i = 0; i < VERDICT_COLUMNS; i++) {
        const char *name = verdict_name(rows->catalogue, i);
        if (name != NULL && find_column(rows, name) != NO_COLUMN) {
            complain("the header has a column '%s' already", name);
            return false;
        }
    }
    return true;
}

/* False after a complaint: without a header no row can be understood. */
static bool read_header(csv_rows *rows)
{
    const line_reader *lines = &rows->catalogue->lines;
    if (read_row(rows) != ROW_READ) {
        complain("line %lu: no header that can be read", lines->row_line);
        rows->catalogue->status = EXIT_DATA;
        return false;
    }
    rows->columns = rows->count;
    bool carriage = lines->next - lines->row >= 2 && lines->bytes[lines->next - 2] == '\r';
    rows->line_end = carriage ? "\r\n" : "\n";
    if (!find_columns(rows)) {
        rows->catalogue->status = EXIT_USAGE;
        return false;
    }
    return true;
}

/* ---- the whole ------------------------------------------------------------------------ */

static void handle_row(csv_rows *rows, unsigned long line)
{
    char reason[80];
    snprintf(reason, sizeof reason, "%zu column%s where the header has %zu", rows->count,
             rows->count == 1 ? "" : "s", rows->columns);
    if (rows->count > rows->columns) {
        leave_out_row(rows->catalogue, line, reason);
        return;
    }
    catalogue_lot lot = { .line = line };
    for (int i = 0; i < CATALOGUE_COLUMNS; i++)
        lot.cells[i] = cell_of(rows, rows->wanted[i]);
    if (rows->count < rows->columns)
        refuse_row(rows->catalogue, line, reason);
    else
        judge_lot(rows->catalogue, &lot);
    write_row(rows);
}

static void handle_rows(csv_rows *rows)
{
    enum row_state state;
    while ((state = read_row(rows)) != ROW_NONE) {
        unsigned long line = rows->catalogue->lines.row_line;
        if (state == ROW_READ)
            handle_row(rows, line);
        else
            leave_out_row(rows->catalogue, line,
                          state == ROW_BROKEN ? "broken quotes" : "over 1 MiB long");
    }
}

void catalogue_csv(catalogue_work *catalogue)
{
    csv_rows rows = { .catalogue = catalogue };
    if (csv_init(&rows.parser, CSV_STRICT) != 0)
        out_of_memory();
    csv_set_space_func(&rows.parser, no_blank);
    csv_set_blk_size(&rows.parser, 4096);
    if (read_header(&rows)) {
        write_header(&rows);
        handle_rows(&rows);
    }
    csv_free(&rows.parser);
    text_free(&rows.bytes);
    free(rows.ends);
}
