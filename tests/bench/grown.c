/* SPDX-License-Identifier: MIT */
#include "grown.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../../tables/compile/compile.h"
#include "rivals.h"

#define TEXT_SIZE (1u << 16)

/* ---- the text of an invented scheme ---------------------------------------- */

typedef struct text {
    size_t length;
    char bytes[TEXT_SIZE];
} text;

static void put(text *t, const char *line)
{
    size_t length = strlen(line);
    if (t->length + length > sizeof t->bytes)
        bench_give_up("the invented scheme is too long");
    memcpy(t->bytes + t->length, line, length);
    t->length += length;
}

static void put_rows(text *t, const char *section, const char *codes, unsigned width)
{
    char line[128];
    snprintf(line, sizeof line, "[%s]\n", section);
    put(t, line);
    for (; *codes; codes += width) {
        snprintf(line, sizeof line, "%.*s 1960-1979 - practice - - %s %.*s\n", (int)width, codes,
                 section, (int)width, codes);
        put(t, line);
    }
}

/* About as many rows as a scheme of the real tables has. The plant, at the fifth
 * place, is a digit, where the numbers of the bench have a letter. */
static void write_scheme(text *t, unsigned number)
{
    char line[128];
    t->length = 0;
    snprintf(line, sizeof line, "[scheme]\nkey grown%u\ntitle Grown %u\n", number, number);
    put(t, line);
    put(t, "years 1960-1979\nfacts -\n[fields]\nb body code 0-9A-Z\ne engine code 0-9A-Z\n"
           "y year code 0-9A-Z\np plant code 0-9\nc series free 0-9A-Z\n"
           "s sequence run 0-9A-Z\nl line code 0-9A-Z\n");
    put(t, number % 2 ? "[layout]\nsample 12A00AA000001\nruler bbeypclssssss\n"
                      : "[layout]\nsample 12A00AAAAAA000001\nruler bbeypccccclssssss\n");
    put_rows(t, "body", "101112131415161718192021222324252627282930", 2);
    put_rows(t, "engine", "ABCDEFGHJKLMNPQRSTUVWXYZ", 1);
    put_rows(t, "year", "0123456789", 1);
    put_rows(t, "plant", "0123456789", 1);
    put_rows(t, "line", "ABCDEFGHJKLMNPQRSTUVWXYZ", 1);
    put(t, "[sequence]\n1+ 1960-1979 - practice - - numbers from 1\n");
}

/* ---- all of it ---------------------------------------------------------------- */

static void add_file(tc_compilation *c, const char *path)
{
    FILE *file = fopen(path, "rb");
    size_t capacity = TEXT_SIZE, size = 0;
    char *bytes = malloc(capacity);
    if (file == NULL)
        bench_give_up(path);
    while (bytes && (size += fread(bytes + size, 1, capacity - size, file)) == capacity)
        bytes = realloc(bytes, capacity *= 2);
    if (bytes == NULL || ferror(file))
        bench_give_up(path);
    fclose(file);
    tc_add(c, path, bytes, size);
    free(bytes);
}

/* Rows of an invented scheme. */
#define GROWN_ROWS 90u

const plw_tables *bench_grown_tables(char **files, int count, unsigned times)
{
    static text scheme;
    const plw_tables *tables;
    tc_compilation *c = tc_new();
    for (int i = 0; i < count; i++)
        add_file(c, files[i]);
    unsigned more = (times - 1) * plw_row_count(NULL) / GROWN_ROWS;
    for (unsigned i = 0; i < more; i++) {
        write_scheme(&scheme, i);
        tc_add(c, "grown", scheme.bytes, scheme.length);
    }
    if (!tc_finish(c))
        bench_give_up(tc_message(c, 0));
    size_t size;
    const unsigned char *image = tc_image(c, &size);
    if (plw_tables_open(image, size, 0, &tables) != PLW_OK)
        bench_give_up("the grown tables cannot be opened");
    return tables;
}
