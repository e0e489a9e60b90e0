/* SPDX-License-Identifier: MIT
 *
 * The build tool: table texts in, an image or a fragment of C out.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compile.h"
#include "memory.h"

static const char usage[] =
    "usage: platewright-tables [--image FILE | --c-source FILE] INPUT...\n"
    "       platewright-tables --embed NAME FILE OUT\n"
    "Checks table texts; --image writes the image of them, --c-source the image as C,\n"
    "--embed any file as C.\n";

typedef struct bytes {
    unsigned char *items;
    size_t count;
    size_t capacity;
} bytes;

/* ---- files ------------------------------------------------------------ */

static bool read_file(tc_memory *memory, const char *name, bytes *content)
{
    FILE *file = fopen(name, "rb");
    int byte;
    if (!file) {
        fprintf(stderr, "platewright-tables: cannot open %s\n", name);
        return false;
    }
    while ((byte = getc(file)) != EOF)
        *TC_ADD(memory, content) = (unsigned char)byte;
    bool good = !ferror(file);
    (void)fclose(file);
    if (!good)
        fprintf(stderr, "platewright-tables: cannot read %s\n", name);
    return good;
}

typedef void writer(FILE *file, const char *name, const unsigned char *items, size_t count);

static void write_image(FILE *file, const char *name, const unsigned char *items, size_t count)
{
    (void)name;
    fwrite(items, 1, count, file);
}

static void write_c(FILE *file, const char *name, const unsigned char *items, size_t count)
{
    fprintf(file, "/* Written by platewright-tables. */\nconst unsigned char %s[] = {", name);
    for (size_t i = 0; i < count; i++)
        fprintf(file, "%s%u,", i % 20 == 0 ? "\n" : "", (unsigned)items[i]);
    fprintf(file, "%s\n};\nenum { %s_size = %lu };\n", count == 0 ? "\n0" : "", name,
            (unsigned long)count);
}

/* Nobody ever sees half a file: it gets its name when it is complete. */
static bool write_file(const char *path, writer *write, const char *name,
                       const unsigned char *items, size_t count)
{
    tc_memory memory = { NULL };
    size_t length = strlen(path);
    char *temporary = tc_allocate(&memory, length + sizeof ".new");
    memcpy(temporary, path, length);
    memcpy(temporary + length, ".new", sizeof ".new");

    FILE *file = fopen(temporary, "wb");
    bool good = file;
    if (file) {
        write(file, name, items, count);
        good = !ferror(file);
        good = fclose(file) == 0 && good;
        good = good && rename(temporary, path) == 0;
        if (!good)
            (void)remove(temporary);
    }
    if (!good)
        fprintf(stderr, "platewright-tables: cannot write %s\n", path);
    tc_release(&memory);
    return good;
}

/* ---- the two jobs ----------------------------------------------------- */

static bool embed(const char *name, const char *from, const char *to)
{
    tc_memory memory = { NULL };
    bytes content = { NULL, 0, 0 };
    bool good = read_file(&memory, from, &content) &&
                write_file(to, write_c, name, content.items, content.count);
    tc_release(&memory);
    return good;
}

static bool add_file(tc_compilation *c, const char *name)
{
    tc_memory memory = { NULL };
    bytes content = { NULL, 0, 0 };
    bool good = read_file(&memory, name, &content);
    if (good)
        tc_add(c, name, (const char *)content.items, content.count);
    tc_release(&memory);
    return good;
}

static bool finish(tc_compilation *c, writer *write, const char *path)
{
    size_t size;
    if (!tc_finish(c)) {
        for (size_t i = 0; i < tc_message_count(c); i++)
            fprintf(stderr, "%s\n", tc_message(c, i));
        return false;
    }
    const unsigned char *image = tc_image(c, &size);
    return !write || write_file(path, write, "plwi_builtin_image", image, size);
}

static bool compile(writer *write, const char *path, char **inputs)
{
    bool good = true;
    tc_compilation *c = tc_new();
    for (; *inputs; inputs++)
        good = add_file(c, *inputs) && good;
    good = good && finish(c, write, path);
    tc_free(c);
    return good;
}

static bool is_option(int argc, char **argv, const char *option, int arguments)
{
    return argc > arguments + 1 && strcmp(argv[1], option) == 0;
}

int main(int argc, char **argv)
{
    bool good;
    if (is_option(argc, argv, "--embed", 3) && argc == 5) {
        good = embed(argv[2], argv[3], argv[4]);
    } else if (is_option(argc, argv, "--image", 2)) {
        good = compile(write_image, argv[2], argv + 3);
    } else if (is_option(argc, argv, "--c-source", 2)) {
        good = compile(write_c, argv[2], argv + 3);
    } else if (argc > 1 && argv[1][0] != '-') {
        good = compile(NULL, NULL, argv + 1);
    } else {
        fputs(usage, stderr);
        return 2;
    }
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
