/* SPDX-License-Identifier: MIT
 *
 * platewright: the reference client. Reads the command line and hands over to
 * the command.
 */
#include <getopt.h>
#include <stdlib.h>
#include <string.h>

#include "client.h"

#define HINTS_SIZE (PLW_MAX_HINTS + 1)

static const char usage[] =
    "usage: platewright COMMAND [OPTION...] [NUMBER...]\n"
    "\n"
    "Reads the identification numbers stamped on collector cars. Numbers come from\n"
    "the command line or, without any, one a line from standard input. A '?' stands\n"
    "for a character that cannot be read, [8B] for one that can be either.\n"
    "\n"
    "commands\n"
    "  explain    what a number says, position by position, with sources\n"
    "  decode     one tab-separated row for each reading\n"
    "  validate   one tab-separated row for each finding\n"
    "  schemes    what the tables cover\n"
    "  compile    checks table files; with --image FILE writes an image\n"
    "\n"
    "options\n"
    "  -f, --format FORMAT  text (default), markdown or json; json: also decode,\n"
    "                       validate and schemes\n"
    "  -s, --sources        explain: list the sources in full\n"
    "  -m, --maker NAME     hint: ranks readings of this maker first\n"
    "  -y, --year YEAR      hint: ranks readings of this model year first\n"
    "  -S, --scheme KEY     hint: ranks this scheme first\n"
    "  -t, --tables FILE    use an image written by compile\n"
    "  -i, --image FILE     compile: where to write the image\n"
    "  -h, --help           this page        -V, --version  release and tables\n"
    "\n"
    "exit status: 0 done; 1 doubt, or no reading; 2 fault; 64 wrong use; 65 bad\n"
    "line or table; 66 unreadable file. See platewright(1).\n";

typedef struct client_command {
    const char *name;
    int (*run)(const client_options *options);
} client_command;

static const client_command commands[] = {
    { "decode", decode_command },   { "validate", validate_command },
    { "explain", explain_command }, { "schemes", schemes_command },
    { "compile", compile_command },
};

static const struct option long_options[] = {
    { "format", required_argument, NULL, 'f' }, { "sources", no_argument, NULL, 's' },
    { "maker", required_argument, NULL, 'm' },  { "year", required_argument, NULL, 'y' },
    { "scheme", required_argument, NULL, 'S' }, { "tables", required_argument, NULL, 't' },
    { "image", required_argument, NULL, 'i' },  { "help", no_argument, NULL, 'h' },
    { "version", no_argument, NULL, 'V' },      { NULL, 0, NULL, 0 },
};

static int32_t digest_source(const void *object, uint32_t a, uint32_t b, char *buffer,
                             size_t capacity, size_t *needed)
{
    (void)a;
    (void)b;
    return plw_tables_digest(object, buffer, capacity, needed);
}

static void print_version(void)
{
    const plw_tables *tables = plw_tables_builtin();
    printf("platewright %s, tables of %s, digest %s\n", plw_version_text(),
           plw_tables_edition(tables), text_of(digest_source, tables, 0, 0));
}

static bool read_format(const char *name, int32_t *format)
{
    static const char *const names[] = { "text", "markdown", "json" };
    for (int32_t i = 0; i < 3; i++)
        if (strcmp(name, names[i]) == 0) {
            *format = i;
            return true;
        }
    complain("there is no format '%s'; write text, markdown or json", name);
    return false;
}

/* Appends "key=value; " to the hints. */
static bool add_hint(char hints[HINTS_SIZE], const char *key, const char *value)
{
    size_t used = strlen(hints);
    int length = snprintf(hints + used, HINTS_SIZE - used, "%s=%s;", key, value);
    if (value[0] == '\0' || strchr(value, ';') || length < 0 ||
        (size_t)length >= HINTS_SIZE - used) {
        complain("'%s' cannot serve as a %s hint", value, key);
        return false;
    }
    return true;
}

/* The opened image stays in memory until the program ends. */
static bool open_tables(const char *path, const plw_tables **tables)
{
    size_t size;
    char *bytes = read_file(path, &size);
    if (bytes == NULL)
        return false;
    int32_t status = plw_tables_open(bytes, size, 0, tables);
    if (status != PLW_OK) {
        complain("%s: %s", path, plw_status_text(status));
        free(bytes);
        return false;
    }
    return true;
}

/* Takes one option; EXIT_DONE or the status to end with. */
static int take_option(int letter, client_options *options, char hints[HINTS_SIZE])
{
    bool taken = true;
    switch (letter) {
    case 'f': taken = read_format(optarg, &options->format); break;
    case 's': options->flags |= PLW_EXPLAIN_SOURCES; break;
    case 'm': taken = add_hint(hints, "maker", optarg); break;
    case 'y': taken = add_hint(hints, "year", optarg); break;
    case 'S': taken = add_hint(hints, "scheme", optarg); break;
    case 't': return open_tables(optarg, &options->tables) ? EXIT_DONE : EXIT_NO_INPUT;
    case 'i': options->image = optarg; break;
    default:
        complain("try 'platewright --help'");
        return EXIT_USAGE;
    }
    return taken ? EXIT_DONE : EXIT_USAGE;
}

/* The hints must be readable before any number is worked on. */
static bool hints_are_good(const client_options *options)
{
    int32_t grade;
    int32_t status = plw_grade(options->tables, "", 0, options->hints, 0, &grade);
    if (status != PLW_OK)
        complain("hints: %s", plw_status_text(status));
    return status == PLW_OK;
}

static const client_command *find_command(const char *name)
{
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
        if (strcmp(commands[i].name, name) == 0)
            return &commands[i];
    return NULL;
}

static int run(int count, char **arguments)
{
    static char hints[HINTS_SIZE];
    client_options options = { NULL, NULL, PLW_FORMAT_TEXT, 0, NULL, NULL, 0 };
    int letter;
    while ((letter = getopt_long(count, arguments, "f:sm:y:S:t:i:hV", long_options, NULL)) != -1) {
        if (letter == 'h') {
            fputs(usage, stdout);
            return EXIT_DONE;
        }
        if (letter == 'V') {
            print_version();
            return EXIT_DONE;
        }
        int status = take_option(letter, &options, hints);
        if (status != EXIT_DONE)
            return status;
    }
    if (optind == count) {
        complain("no command; write decode, validate, explain, schemes or compile");
        return EXIT_USAGE;
    }
    const client_command *command = find_command(arguments[optind]);
    if (command == NULL) {
        complain("there is no command '%s'; write decode, validate, explain, schemes or compile",
                 arguments[optind]);
        return EXIT_USAGE;
    }
    options.hints = hints[0] ? hints : NULL;
    options.arguments = arguments + optind + 1;
    options.argument_count = count - optind - 1;
    if (!hints_are_good(&options))
        return EXIT_USAGE;
    return command->run(&options);
}

int main(int count, char **arguments)
{
    int status = run(count, arguments);
    if (fflush(stdout) != 0 || ferror(stdout)) {
        complain("standard output cannot be written");
        return EXIT_NO_INPUT;
    }
    return status;
}
