/* SPDX-License-Identifier: MIT
 *
 * Where numbers and files come from.
 */
#include <errno.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "client.h"

void complain(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fflush(stdout);
    fputs("platewright: ", stderr);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
}

int graver(int a, int b)
{
    return a > b ? a : b;
}

/* ---- files ------------------------------------------------------------------ */

static char *read_stream(FILE *stream, size_t *size)
{
    size_t capacity = 65536;
    char *bytes = malloc(capacity);
    *size = 0;
    while (bytes != NULL) {
        *size += fread(bytes + *size, 1, capacity - *size, stream);
        if (*size < capacity)
            return bytes;
        char *larger = realloc(bytes, capacity *= 2);
        if (larger == NULL)
            free(bytes);
        bytes = larger;
    }
    return NULL;
}

char *read_file(const char *path, size_t *size)
{
    FILE *stream = strcmp(path, "-") == 0 ? stdin : fopen(path, "rb");
    char *bytes = NULL;
    if (stream != NULL) {
        errno = 0;
        bytes = read_stream(stream, size);
        if (ferror(stream)) {
            free(bytes);
            bytes = NULL;
        }
    }
    if (bytes == NULL)
        complain("%s: %s", path, strerror(errno ? errno : ENOMEM));
    if (stream != NULL && stream != stdin)
        (void)fclose(stream);
    return bytes;
}

/* ---- lines ------------------------------------------------------------------- */

typedef struct input_line {
    char text[PLW_MAX_TEXT];
    size_t length;
    bool too_long;
    bool binary;
} input_line;

static bool is_control(int c)
{
    return (c >= 0 && c < ' ' && c != '\t' && c != '\r') || c == 0x7F;
}

/* Reads one line, of any length, keeping what fits; false at the end. */
static bool read_line(FILE *stream, input_line *line)
{
    int c = getc(stream);
    line->length = 0;
    line->too_long = line->binary = false;
    if (c == EOF)
        return false;
    for (; c != EOF && c != '\n'; c = getc(stream)) {
        if (is_control(c))
            line->binary = true;
        if (line->length < sizeof line->text)
            line->text[line->length++] = (char)c;
        else
            line->too_long = true;
    }
    return true;
}

static bool is_blank(const input_line *line)
{
    for (size_t i = 0; i < line->length; i++)
        if (line->text[i] != ' ' && line->text[i] != '\t' && line->text[i] != '\r')
            return false;
    return true;
}

static int handle_line(const client_options *options, number_handler *handle, const input_line *line,
                       unsigned long number, plw_result *result)
{
    if (line->too_long) {
        complain("line %lu: longer than %d bytes; skipped", number, PLW_MAX_TEXT);
        return EXIT_DATA;
    }
    if (line->binary) {
        complain("line %lu: holds bytes that are not text; skipped", number);
        return EXIT_DATA;
    }
    if (is_blank(line))
        return EXIT_DONE;
    return handle(options, line->text, line->length, result);
}

static int handle_lines(const client_options *options, number_handler *handle, plw_result *result)
{
    input_line line;
    int status = EXIT_DONE;
    for (unsigned long number = 1; read_line(stdin, &line); number++)
        status = graver(status, handle_line(options, handle, &line, number, result));
    if (ferror(stdin)) {
        complain("standard input: %s", strerror(errno));
        return EXIT_NO_INPUT;
    }
    return status;
}

static int handle_arguments(const client_options *options, number_handler *handle, plw_result *result)
{
    int status = EXIT_DONE;
    for (int i = 0; i < options->argument_count; i++) {
        size_t length = strlen(options->arguments[i]);
        if (length > PLW_MAX_TEXT) {
            complain("number %d: longer than %d bytes; skipped", i + 1, PLW_MAX_TEXT);
            status = graver(status, EXIT_DATA);
            continue;
        }
        status = graver(status, handle(options, options->arguments[i], length, result));
    }
    return status;
}

int for_each_number(const client_options *options, number_handler *handle)
{
    plw_result *result;
    if (plw_result_new(&result) != PLW_OK) {
        complain("%s", plw_status_text(PLW_E_MEMORY));
        return EXIT_NO_INPUT;
    }
    plw_result_use_names(result, options->names);
    int status = options->argument_count > 0 ? handle_arguments(options, handle, result)
                                             : handle_lines(options, handle, result);
    plw_result_free(result);
    return status;
}
