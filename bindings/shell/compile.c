/* SPDX-License-Identifier: MIT
 *
 * The command compile: checks table files as the library's own are checked,
 * and writes an image that --tables opens. The shared vocabulary is built in.
 */
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "client.h"
#include "compile.h"

/* Generated from tables/vocabulary.txt. */
#include "vocabulary.inc"

static bool write_image(const char *path, const unsigned char *image, size_t size)
{
    FILE *stream = fopen(path, "wb");
    bool written = stream != NULL && fwrite(image, 1, size, stream) == size;
    if (stream != NULL && fclose(stream) != 0)
        written = false;
    if (!written)
        complain("%s: %s", path, strerror(errno));
    return written;
}

static int add_files(tc_compilation *compilation, const client_options *options)
{
    tc_add(compilation, "(built-in vocabulary)", (const char *)client_vocabulary,
           sizeof client_vocabulary);
    for (int i = 0; i < options->argument_count; i++) {
        size_t size;
        char *text = read_file(options->arguments[i], &size);
        if (text == NULL)
            return EXIT_NO_INPUT;
        tc_add(compilation, options->arguments[i], text, size);
        free(text);
    }
    return EXIT_DONE;
}

static int finish(tc_compilation *compilation, const client_options *options)
{
    size_t size;
    if (!tc_finish(compilation)) {
        for (size_t i = 0; i < tc_message_count(compilation); i++)
            fprintf(stderr, "%s\n", tc_message(compilation, i));
        return EXIT_DATA;
    }
    const unsigned char *image = tc_image(compilation, &size);
    if (options->image != NULL && !write_image(options->image, image, size))
        return EXIT_NO_INPUT;
    printf("%d file%s good; image of %zu bytes%s%s\n", options->argument_count,
           options->argument_count == 1 ? "" : "s", size,
           options->image ? " written to " : " not written", options->image ? options->image : "");
    return EXIT_DONE;
}

int compile_command(const client_options *options)
{
    if (options->argument_count == 0) {
        complain("compile needs at least one table file");
        return EXIT_USAGE;
    }
    tc_without_memory(out_of_memory);
    tc_compilation *compilation = tc_new();
    int status = add_files(compilation, options);
    if (status == EXIT_DONE)
        status = finish(compilation, options);
    tc_free(compilation);
    return status;
}
