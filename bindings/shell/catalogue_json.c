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
static struct json_object *list_of(const growing_text *text, bool numbers)
{
    struct json_object *list = json_object_new_array();
    for (size_t start = 0; start < text->length;) {
        const char *part = text->bytes + start;
        const char *blank = memchr(part, ' ', text->length - start);
        size_t length = blank ? (size_t)(blank - part) : text->length - start;
        json_object_array_add(list, numbers ? json_object_new_int64(strtol(part, NULL, 10))
                                            : json_object_new_string_len(part, (int)length));
        start += length + 1;
    }
    return list;
}

static struct json_object *value_of(int column, const growing_text *text)
{
    if (column == VERDICT_YEARS || column == VERDICT_FINDINGS)
        return list_of(text, column == VERDICT_YEARS);
    if (text->length == 0)
        return NULL;
    return column == VERDICT_REPEATS || column == VERDICT_PARTIAL
               ? json_object_new_int64(strtol(text->bytes, NULL, 10))
               : json_object_new_string_len(text->bytes, (int)text->length);
}

/* The line without its end, and behind its members those of the verdict. */
static void write_row(catalogue_work *catalogue, const byte_span *line, bool empty)
{
    struct json_object *verdicts = json_object_new_object();
    for (int i = 0; i < VERDICT_COLUMNS; i++) {
        const char *name = verdict_name(catalogue, i);
        /* strtol reads up to a zero byte. */
        text_add(&catalogue->verdict[i], "", 1);
        catalogue->verdict[i].length--;
        if (name != NULL)
            json_object_object_add(verdicts, name, value_of(i, &catalogue->verdict[i]));
    }
    fwrite(line->bytes, 1, line->length - 1, stdout);
    fputs(empty ? "" : ",", stdout);
    puts(json_object_to_json_string_ext(verdicts, JSON_C_TO_STRING_PLAIN |
                                                      JSON_C_TO_STRING_NOSLASHESCAPE) + 1);
    json_object_put(verdicts);
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

static void handle_line(catalogue_work *catalogue, struct json_tokener *tokener, byte_span *line)
{
    trim(line);
    if (line->length == 0)
        return;
    json_tokener_reset(tokener);
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
