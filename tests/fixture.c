/* SPDX-License-Identifier: MIT */
#include "fixture.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../tables/compile/compile.h"

static void give_up(const char *what, const char *name)
{
    fprintf(stderr, "fixture: %s %s\n", what, name);
    abort();
}

static FILE *open_source(const char *name)
{
    char path[4096];
    const char *srcdir = getenv("srcdir");
    snprintf(path, sizeof path, "%s/%s", srcdir ? srcdir : ".", name);
    FILE *file = fopen(path, "rb");
    if (!file)
        give_up("cannot open", path);
    return file;
}

char *fixture_text(const char *name, size_t *size)
{
    FILE *file = open_source(name);
    size_t capacity = 1u << 16;
    char *text = malloc(capacity);
    *size = 0;
    while (text && (*size += fread(text + *size, 1, capacity - 1 - *size, file)) == capacity - 1)
        text = realloc(text, capacity *= 2);
    if (!text || ferror(file))
        give_up("cannot read", name);
    fclose(file);
    text[*size] = '\0';
    return text;
}

static void add_text(tc_compilation *c, const char *name)
{
    size_t size;
    char *text = fixture_text(name, &size);
    tc_add(c, name, text, size);
    free(text);
}

/* A copy of the image; the compilation is given back. */
static unsigned char *finish(tc_compilation *c, const char *name, size_t *size)
{
    if (!tc_finish(c)) {
        for (size_t i = 0; i < tc_message_count(c); i++)
            fprintf(stderr, "%s\n", tc_message(c, i));
        give_up("cannot compile", name);
    }
    const unsigned char *image = tc_image(c, size);
    unsigned char *copy = malloc(*size);
    if (!copy)
        give_up("no memory for", "the image");
    memcpy(copy, image, *size);
    tc_free(c);
    return copy;
}

unsigned char *fixture_image(size_t *size)
{
    tc_compilation *c = tc_new();
    add_text(c, "tables/vocabulary.txt");
    add_text(c, "tests/fixtures/port-ellery.scheme");
    return finish(c, "port-ellery.scheme", size);
}

unsigned char *fixture_image_of(const char *scheme, size_t *size)
{
    tc_compilation *c = tc_new();
    add_text(c, "tables/vocabulary.txt");
    tc_add(c, "test.scheme", scheme, strlen(scheme));
    return finish(c, "test.scheme", size);
}

static const plw_tables *opened(const unsigned char *image, size_t size)
{
    const plw_tables *tables;
    if (plw_tables_open(image, size, 0, &tables) != PLW_OK)
        give_up("cannot open", "the image");
    return tables;
}

const plw_tables *fixture_tables(void)
{
    static unsigned char *image; /* stays for as long as the tables are in use */
    static const plw_tables *tables;
    size_t size;
    if (tables)
        return tables;
    image = fixture_image(&size);
    return tables = opened(image, size);
}

void *fixture_keep(void *memory)
{
    static void *kept[256];
    static size_t count;
    if (count == sizeof kept / sizeof kept[0])
        give_up("no room to keep", "more memory");
    kept[count++] = memory;
    return memory;
}

const plw_tables *fixture_tables_of(const char *scheme)
{
    size_t size;
    unsigned char *image = fixture_keep(fixture_image_of(scheme, &size));
    return opened(image, size);
}

const plw_tables *fixture_hostile_tables(void)
{
    static const plw_tables *tables;
    if (!tables)
        tables = fixture_tables_of(
            "[sources]\n"
            "bad <a xlink:href=\"javascript:x()\">book</a>]]> | javascript:alert(1)\n"
            "[scheme]\nkey hostile-1970\ntitle </title><script>alert(1)</script>\n"
            "years 1970-1979\nfacts -\n"
            "[fields]\nl line code A-Z\nb body code 0-9\ns sequence run 0-9\n"
            "- partial_stamp topic -\n"
            "[layout]\nsample A112345\nruler lbsssss\n"
            "[line]\n"
            "A 1970-1979 - published bad - <b onload='x()'>&amp;\"</b> -- <!--remark-->\n"
            "[body]\n"
            "1 1970-1979 - practice - - one" RIGHT_TO_LEFT_MARK "two" ARABIC_MARK
            "three" BYTE_ORDER_MARK "four --- </text></svg><img src=x>\n"
            "[sequence]\n1+ 1970-1979 - practice - - url(#a) ![CDATA[ ?>\n"
            "[partial_stamp]\n"
            "engine 1970-1979 - published bad repeats=line+sequence,places=engine "
            "</style></main><iframe src=x>" RIGHT_TO_LEFT_MARK "stamp\n"
            "gearbox 1970-1979 - published bad repeats=sequence,places=gearbox "
            "<h1>`*_[x](y)\"</h1>\n");
    return tables;
}
