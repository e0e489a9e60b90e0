/* SPDX-License-Identifier: MIT
 *
 * The reference client: what its commands share.
 */
#ifndef CLIENT_H
#define CLIENT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include <platewright.h>

/* Exit statuses. Scripts rest on them: platewright(1) lists them. */
enum exit_status {
    EXIT_DONE = 0,
    EXIT_DOUBT = 1,    /* validate: a doubt; decode, explain: a number without reading */
    EXIT_FAULT = 2,    /* a fault; a claim contradicted; plates differ */
    EXIT_USAGE = 64,   /* the command line is wrong */
    EXIT_DATA = 65,    /* a line or a table could not be read */
    EXIT_NO_INPUT = 66 /* a file could not be opened or read */
};

/* catalogue: the columns it reads, as the command line names them. */
enum catalogue_column {
    CATALOGUE_NUMBER,
    CATALOGUE_MAKER,
    CATALOGUE_YEAR,
    CATALOGUE_CLAIMS, /* and those behind it */
    CATALOGUE_COLUMNS = CATALOGUE_CLAIMS + PLW_MAX_CLAIMS
};

typedef struct client_options {
    const plw_tables *tables; /* NULL: compiled in */
    const plw_names *names;   /* NULL: the words of the tables */
    const char *hints;        /* NULL: none */
    const char *claims;       /* NULL: none */
    int32_t format;           /* PLW_FORMAT_ */
    uint32_t flags;           /* PLW_EXPLAIN_ */
    bool suggest;             /* explain, validate: look for misreadings */
    const char *image;        /* compile: where to write */
    const char *tables_file;  /* NULL: those that are compiled in */
    const char *names_file;   /* NULL: none */
    const char *columns[CATALOGUE_COLUMNS]; /* NULL: not asked for */
    const char *claimed[PLW_MAX_CLAIMS];    /* the attributes that claim columns state */
    int claim_count;
    const char *covers; /* expect: a number to hold against the patterns */
    bool no_duplicates; /* catalogue: do not look for repeated numbers */
    const char *dates[PLW_MAX_DATES]; /* compare: "casting=8C1" */
    int date_count;
    char **arguments;
    int argument_count;
} client_options;

/* A line on standard error that starts with the program's name. */
void complain(const char *format, ...);

/* The graver of two exit statuses. */
int graver(int a, int b);

/* A whole file in memory, to be freed; NULL after a complaint. "-" is standard
 * input. */
char *read_file(const char *path, size_t *size);

/* ---- numbers: from the arguments or one a line from standard input -------- */

typedef int number_handler(const client_options *options, const char *number, size_t length,
                           plw_result *result);

/* Calls the handler for each number; returns the gravest exit status. Lines
 * that cannot be numbers are complained about, and the rest goes on. */
int for_each_number(const client_options *options, number_handler *handle);

/* The exit status for the grade of a number, and for the verdicts on claims. */
int exit_for_grade(int32_t grade);
int exit_for_claims(const plw_result *result);

/* ---- text that grows (text.c) ----------------------------------------------- */

typedef struct growing_text {
    char *bytes;
    size_t length;
    size_t capacity;
} growing_text;

/* Ends the program with a complaint. */
void out_of_memory(void) __attribute__((noreturn));

/* realloc, or the end of the program. */
void *larger_memory(void *memory, size_t size);

void text_clear(growing_text *text);
void text_add(growing_text *text, const char *bytes, size_t length);
void text_put(growing_text *text, const char *string);
void text_free(growing_text *text);

/* ---- JSON in such a text (json_text.c) -------------------------------------------- */

/* Values; a comma goes before one that is not the first of its list or object. The
 * bracket is "[" or "{", and "]" or "}" at the end. */
void json_begin(growing_text *text, const char *bracket);
void json_end(growing_text *text, const char *bracket);
void json_string(growing_text *text, const char *bytes, size_t length);
void json_number(growing_text *text, long number);
void json_null(growing_text *text);
/* The name of a member; its value comes next. */
void json_name(growing_text *text, const char *name);

/* ---- output ----------------------------------------------------------------- */

/* Text of a call that fills a buffer: asks again with more room when short.
 * The text lives until the next call. */
typedef int32_t text_source(const void *object, uint32_t a, uint32_t b, char *buffer,
                            size_t capacity, size_t *needed);
const char *text_of(text_source *source, const void *object, uint32_t a, uint32_t b);

/* The code of a field. */
text_source code_source;

/* Whether the format is text or json; a complaint of that command when it is not. */
bool text_or_json(const client_options *options, const char *command);

/* Tab-separated rows, put together in memory: text as it is; a cell, whose tabs
 * and line ends become blanks; a number. The end of a row writes it. */
void row_put(const char *text);
void row_cell(const char *text);
void row_number(uint32_t number);
void row_end(void);

/* ---- commands ----------------------------------------------------------------- */

int decode_command(const client_options *options);
int validate_command(const client_options *options);
int explain_command(const client_options *options);
int compare_command(const client_options *options);
int expect_command(const client_options *options);
int catalogue_command(const client_options *options);
int schemes_command(const client_options *options);
int compile_command(const client_options *options);

#endif
