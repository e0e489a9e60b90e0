/* SPDX-License-Identifier: MIT
 *
 * A catalogue as JSON Lines, one object a line, read with json-c. The line goes
 * out as it came in, with the verdicts put in before its last brace.
 */
#include <json-c/json.h>
#include <stdlib.h>
#include <string.h>

#include "catalogue.h"

/* ---- lots ------------------------------------------------------------------------- */

/* The text of a member; empty when there is none. False for a list or an object. */
static bool member_cell(struct json_object *row, const char *name, byte_span *cell)
{
    struct json_object *member;
    cell->bytes = "";
    cell->length = 0;
    if (name == NULL || !json_object_object_get_ex(row, name, &member) || member == NULL)
        return true;
    if (json_object_is_type(member, json_type_array) ||
        json_object_is_type(member, json_type_object))
        return false;
    cell->bytes = json_object_get_string(member);
    if (cell->bytes == NULL)
        out_of_memory();
    cell->length = json_object_is_type(member, json_type_string)
                       ? (size_t)json_object_get_string_len(member)
                       : strlen(cell->bytes);
    return true;
}

static bool has_verdict(const catalogue_work *catalogue, struct json_object *row)
{
    for (int i = 0; i < VERDICT_COLUMNS; i++) {
        const char *name = verdict_name(catalogue, i);
        if (name != NULL && json_object_object_get_ex(row, name, NULL))
            return true;
    }
    return false;
}

/* ---- rows out ------------------------------------------------------------------------ */

/* The parts of a text between blanks, as numbers or as strings. */
static void put_list(growing_text *members, const growing_text *text, bool numbers)
{
    json_begin(members, "[");
    for (size_t start = 0; start < text->length;) {
        const char *part = text->bytes + start;
        const char *blank = memchr(part, ' ', text->length - start);
        size_t length = blank ? (size_t)(blank - part) : text->length - start;
        if (numbers)
            json_number(members, strtol(part, NULL, 10));
        else
            json_string(members, part, length);
        start += length + 1;
    }
    json_end(members, "]");
}

static void put_value(growing_text *members, int column, const growing_text *text)
{
    if (column == VERDICT_YEARS || column == VERDICT_FINDINGS)
        put_list(members, text, column == VERDICT_YEARS);
    else if (text->length == 0)
        json_null(members);
    else if (column == VERDICT_REPEATS || column == VERDICT_PARTIAL)
        json_number(members, strtol(text->bytes, NULL, 10));
    else
        json_string(members, text->bytes, text->length);
}

/* The line without its end, and behind its members those of the verdict. */
static void write_row(catalogue_work *catalogue, const byte_span *line, bool empty)
{
    growing_text *members = &catalogue->members;
    text_clear(members);
    for (int i = 0; i < VERDICT_COLUMNS; i++) {
        const char *name = verdict_name(catalogue, i);
        /* strtol reads up to a zero byte. */
        text_add(&catalogue->verdict[i], "", 1);
        catalogue->verdict[i].length--;
        if (name == NULL)
            continue;
        json_name(members, name);
        put_value(members, i, &catalogue->verdict[i]);
    }
    json_end(members, "}\n");
    fwrite(line->bytes, 1, line->length - 1, stdout);
    fputs(empty ? "" : ",", stdout);
    fwrite(members->bytes, 1, members->length, stdout);
}

/* ---- rows in ------------------------------------------------------------------------- */

static void handle_object(catalogue_work *catalogue, const byte_span *line, struct json_object *row)
{
    catalogue_lot lot = { .line = catalogue->lines.row_line };
    bool plain = true;
    for (int i = 0; i < CATALOGUE_COLUMNS; i++)
        plain = member_cell(row, catalogue->options->columns[i], &lot.cells[i]) && plain;
    if (has_verdict(catalogue, row)) {
        leave_out_row(catalogue, lot.line, "has members of a verdict already");
        return;
    }
    if (plain)
        judge_lot(catalogue, &lot);
    else
        refuse_row(catalogue, lot.line, "a list or an object where a text is needed");
    write_row(catalogue, line, json_object_object_length(row) == 0);
}

static void trim(byte_span *line)
{
    while (line->length > 0 && strchr(" \t\r\n", line->bytes[line->length - 1]) != NULL &&
           line->bytes[line->length - 1] != '\0')
        line->length--;
}

/* json-c takes it for granted that there is memory for what it finds: without, it
 * would lose members or crash. So there must be some before it begins: for each
 * list, object or member of the line about a kilobyte, and the bytes themselves. */
static void need_memory(const byte_span *line)
{
    size_t parts = 1;
    for (size_t i = 0; i < line->length; i++)
        parts += line->bytes[i] == ',' || line->bytes[i] == '{' || line->bytes[i] == '[';
    free(larger_memory(NULL, parts * 1024 + line->length * 4));
}

static void handle_line(catalogue_work *catalogue, struct json_tokener *tokener, byte_span *line)
{
    trim(line);
    if (line->length == 0)
        return;
    json_tokener_reset(tokener);
    need_memory(line);
    struct json_object *row = json_tokener_parse_ex(tokener, line->bytes, (int)line->length);
    if (json_object_is_type(row, json_type_object) &&
        json_tokener_get_parse_end(tokener) == line->length)
        handle_object(catalogue, line, row);
    else
        leave_out_row(catalogue, catalogue->lines.row_line, "no JSON object");
    json_object_put(row);
}

void catalogue_json(catalogue_work *catalogue)
{
    line_reader *lines = &catalogue->lines;
    struct json_tokener *tokener = json_tokener_new();
    enum line_state state;
    byte_span line;
    if (tokener == NULL)
        out_of_memory();
    json_tokener_set_flags(tokener, JSON_TOKENER_STRICT | JSON_TOKENER_VALIDATE_UTF8);
    if (lines->marked)
        fputs("\xEF\xBB\xBF", stdout);
    while ((state = lines_take(lines, &line)) != LINE_NONE) {
        if (state == LINE_TAKEN) {
            handle_line(catalogue, tokener, &line);
        } else {
            leave_out_row(catalogue, lines->row_line, "over 1 MiB long");
            lines_skip(lines);
        }
        lines_begin_row(lines);
    }
    json_tokener_free(tokener);
}
