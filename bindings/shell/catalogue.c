/* SPDX-License-Identifier: MIT
 *
 * The command catalogue: reads the rows of a catalogue, one lot a row, and writes
 * them with verdict columns. Whatever a row holds, the others are worked on.
 */
#define _POSIX_C_SOURCE 200809L

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "catalogue.h"

static void print_summary(const catalogue_work *catalogue)
{
    unsigned long ungraded = catalogue->rows - catalogue->left_out;
    growing_text text = { NULL, 0, 0 };
    char part[64];
    snprintf(part, sizeof part, "%lu row%s:", catalogue->rows, catalogue->rows == 1 ? "" : "s");
    text_put(&text, part);
    for (int32_t i = 0; i < GRADES; i++) {
        snprintf(part, sizeof part, " %s %lu,", plw_grade_name(i), catalogue->by_grade[i]);
        text_put(&text, part);
        ungraded -= catalogue->by_grade[i];
    }
    snprintf(part, sizeof part, " not graded %lu, left out %lu", ungraded, catalogue->left_out);
    text_put(&text, part);
    complain("%.*s", (int)text.length, text.bytes);
    text_clear(&text);
    if (!catalogue->options->no_duplicates) {
        snprintf(part, sizeof part, "; repeated numbers: %lu", catalogue->repeated);
        text_put(&text, part);
    }
    if (catalogue->partial > 0) {
        snprintf(part, sizeof part, "; partial numbers: %lu", catalogue->partial);
        text_put(&text, part);
    }
    if (catalogue->options->claim_count > 0) {
        snprintf(part, sizeof part, "; contradicted claims: %lu", catalogue->contradicted);
        text_put(&text, part);
    }
    complain("bad rows: %lu%.*s", catalogue->bad, (int)text.length, text.bytes);
    text_free(&text);
}

/* An attribute that no release of the library knew would be told of every lot. */
static bool attributes_are_known(const catalogue_work *catalogue)
{
    const client_options *options = catalogue->options;
    for (int i = 0; i < options->claim_count; i++) {
        char claim[PLW_MAX_CLAIM_TEXT];
        int length = snprintf(claim, sizeof claim, "%s=?", options->claimed[i]);
        if (length < 0 || (size_t)length >= sizeof claim ||
            plw_check_claims(catalogue->result, claim, (size_t)length) != PLW_OK ||
            plw_claim_attribute(catalogue->result, 0)[0] == '\0') {
            complain("'%s' is no attribute that can be claimed", options->claimed[i]);
            return false;
        }
    }
    return true;
}

static void work_through(catalogue_work *catalogue, int input)
{
    progress_begin(&catalogue->progress);
    lines_open(&catalogue->lines, input);
    if (catalogue->options->format == PLW_FORMAT_JSON)
        catalogue_json(catalogue);
    else
        catalogue_csv(catalogue);
    progress_hide(&catalogue->progress);
    if (catalogue->lines.error != 0) {
        complain("the catalogue cannot be read on: %s", strerror(catalogue->lines.error));
        catalogue->status = EXIT_NO_INPUT;
    }
    if (catalogue->rows > 0 || catalogue->status == EXIT_DONE)
        print_summary(catalogue);
    lines_close(&catalogue->lines);
    seen_free(&catalogue->seen);
    seen_free(&catalogue->stamps);
    for (int i = 0; i < VERDICT_COLUMNS; i++)
        text_free(&catalogue->verdict[i]);
    text_free(&catalogue->members);
}

static int with_result(const client_options *options, int input)
{
    catalogue_work catalogue = { .options = options };
    if (plw_result_new(&catalogue.result) != PLW_OK)
        out_of_memory();
    plw_result_use_names(catalogue.result, options->names);
    if (attributes_are_known(&catalogue))
        work_through(&catalogue, input);
    else
        catalogue.status = EXIT_USAGE;
    plw_result_free(catalogue.result);
    return catalogue.status;
}

int catalogue_command(const client_options *options)
{
    const char *path = options->argument_count > 0 ? options->arguments[0] : "-";
    if (options->argument_count > 1) {
        complain("catalogue reads one file");
        return EXIT_USAGE;
    }
    if (!text_or_json(options, "catalogue"))
        return EXIT_USAGE;
    int input = strcmp(path, "-") == 0 ? STDIN_FILENO : open(path, O_RDONLY);
    if (input < 0) {
        complain("%s: %s", path, strerror(errno));
        return EXIT_NO_INPUT;
    }
    int status = with_result(options, input);
    if (input != STDIN_FILENO)
        close(input);
    return status;
}
