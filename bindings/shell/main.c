/* SPDX-License-Identifier: MIT
 *
 * platewright: the reference client. Reads the command line and hands over to
 * the command.
 */
#include <getopt.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "client.h"

#define HINTS_SIZE (PLW_MAX_HINTS + 1)
#define CLAIMS_SIZE (PLW_MAX_CLAIM_TEXT + 1)

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
    "  compare    holds the plates of one car against each other: PLACE=TEXT ...\n"
    "  expect     the numbers that could bear claims: 'year=1971; body=convertible'\n"
    "  catalogue  the rows of a CSV file, or JSON Lines, with verdict columns\n"
    "  schemes    what the tables cover\n"
    "  compile    checks table files; with --image FILE writes an image\n"
    "\n"
    "options\n"
    "  -f, --format FORMAT  text (default), json; explain, compare and expect also\n"
    "                       markdown, html and, but for expect, svg\n"
    "  -s, --sources        list the sources in full\n"
    "  -m, --maker NAME     hint: ranks readings of this maker first\n"
    "  -y, --year YEAR      hint: ranks readings of this model year first\n"
    "  -S, --scheme KEY     hint: ranks this scheme first\n"
    "  -d, --date KIND=TEXT compare: a date; casting, assembly, body_tag or label\n"
    "  -c, --claim CLAIM    explain, validate, compare, expect: ATTRIBUTE=VALUE\n"
    "  -g, --suggest        explain, validate: guess what a number that does not hold\n"
    "                       may have been misread from\n"
    "  --covers NUMBER      expect: which of the patterns cover this number\n"
    "  -n, --names FILE     put your own words (key = words) in place of the tables'\n"
    "  -t, --tables FILE    use an image written by compile\n"
    "  -i, --image FILE     compile: where to write the image\n"
    "  --column NAME        catalogue: the column of numbers, if not 'number'\n"
    "  --maker-column NAME, --year-column NAME  catalogue: columns of hints\n"
    "  --claim-column ATTRIBUTE=NAME            catalogue: a column of claims\n"
    "  --no-duplicates      catalogue: do not look for repeated numbers\n"
    "  -h, --help           this page        -V, --version  release and tables\n"
    "\n"
    "exit status: 0 done; 1 doubt, or no reading; 2 fault, a claim contradicted, or\n"
    "plates differ; 64 wrong use; 65 bad line or table; 66 unreadable file; see\n"
    "platewright(1).\n";

/* Options that cannot be given by a letter go by one among ourselves. */
enum long_option {
    OPTION_COLUMN = 'N',
    OPTION_MAKER = 'M',
    OPTION_YEAR = 'Y',
    OPTION_CLAIM = 'C',
    OPTION_UNIQUE = 'U',
    OPTION_COVERS = 'O'
};

static const struct option long_options[] = {
    { "format", required_argument, NULL, 'f' }, { "sources", no_argument, NULL, 's' },
    { "maker", required_argument, NULL, 'm' },  { "year", required_argument, NULL, 'y' },
    { "scheme", required_argument, NULL, 'S' }, { "tables", required_argument, NULL, 't' },
    { "image", required_argument, NULL, 'i' },  { "names", required_argument, NULL, 'n' },
    { "date", required_argument, NULL, 'd' },
    { "claim", required_argument, NULL, 'c' },  { "suggest", no_argument, NULL, 'g' },
    { "help", no_argument, NULL, 'h' },         { "version", no_argument, NULL, 'V' },
    { "column", required_argument, NULL, OPTION_COLUMN },
    { "maker-column", required_argument, NULL, OPTION_MAKER },
    { "year-column", required_argument, NULL, OPTION_YEAR },
    { "claim-column", required_argument, NULL, OPTION_CLAIM },
    { "covers", required_argument, NULL, OPTION_COVERS },
    { "no-duplicates", no_argument, NULL, OPTION_UNIQUE },
    { NULL, 0, NULL, 0 },
};

typedef struct client_command {
    const char *name;
    int (*run)(const client_options *options);
    const char *options; /* the letters of those it takes */
} client_command;

/* What all commands take that read numbers or claims: format, hints, names, tables. */
#define COMMON "fmySnt"

static const client_command commands[] = {
    { "explain", explain_command, COMMON "scg" },
    { "decode", decode_command, COMMON "s" },
    { "validate", validate_command, COMMON "scg" },
    { "compare", compare_command, COMMON "scd" },
    { "expect", expect_command, COMMON "scO" },
    { "catalogue", catalogue_command, COMMON "NMYCU" },
    { "schemes", schemes_command, "fnt" },
    { "compile", compile_command, "i" },
};
#define COMMANDS (sizeof commands / sizeof *commands)

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
    static const char *const names[] = { "text", "markdown", "json", "svg", "html" };
    for (int32_t i = 0; i <= PLW_FORMAT_HTML; i++)
        if (strcmp(name, names[i]) == 0) {
            *format = i;
            return true;
        }
    complain("there is no format '%s'; write text, markdown, json, svg or html", name);
    return false;
}

/* Appends "key=value;" to the hints. */
static bool add_hint(client_options *options, const char *key, const char *value)
{
    static char hints[HINTS_SIZE];
    size_t used = strlen(hints);
    int length = snprintf(hints + used, HINTS_SIZE - used, "%s=%s;", key, value);
    if (value[0] == '\0' || strchr(value, ';') || length < 0 ||
        (size_t)length >= HINTS_SIZE - used) {
        complain("'%s' cannot serve as a %s hint", value, key);
        return false;
    }
    options->hints = hints;
    return true;
}

/* Appends "claim;" to the claims of the command line. */
static bool add_claim(client_options *options, const char *claim)
{
    static char claims[CLAIMS_SIZE];
    size_t used = strlen(claims);
    int length = snprintf(claims + used, CLAIMS_SIZE - used, "%s;", claim);
    options->claims = claims;
    if (length >= 0 && (size_t)length < CLAIMS_SIZE - used)
        return true;
    complain("claims: %s", plw_status_text(PLW_E_TOO_LONG));
    return false;
}

/* "KIND=TEXT". */
static bool add_date(client_options *options, const char *date)
{
    if (options->date_count == PLW_MAX_DATES) {
        complain("more than %d dates", PLW_MAX_DATES);
        return false;
    }
    options->dates[options->date_count++] = date;
    return true;
}

/* "ATTRIBUTE=COLUMN". */
static bool add_claim_column(client_options *options, char *text)
{
    char *equals = strchr(text, '=');
    if (equals == NULL || equals == text || equals[1] == '\0') {
        complain("'%s' is no claim column; write ATTRIBUTE=COLUMN", text);
        return false;
    }
    if (options->claim_count == PLW_MAX_CLAIMS) {
        complain("more than %d claim columns", PLW_MAX_CLAIMS);
        return false;
    }
    *equals = '\0';
    options->claimed[options->claim_count] = text;
    options->columns[CATALOGUE_CLAIMS + options->claim_count++] = equals + 1;
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

static int32_t problem_source(const void *names, uint32_t problem, uint32_t unused, char *buffer,
                              size_t capacity, size_t *needed)
{
    (void)unused;
    return plw_names_problem_text(names, problem, buffer, capacity, needed);
}

/* Names stay in memory until the program ends. Lines with problems are
 * complained about, and the good ones count. */
static int open_names(const char *path, client_options *options)
{
    size_t size;
    plw_names *names;
    char *text = read_file(path, &size);
    if (text == NULL)
        return EXIT_NO_INPUT;
    int32_t status = plw_names_new(options->tables, text, size, &names);
    free(text);
    if (status != PLW_OK) {
        complain("%s: %s", path, plw_status_text(status));
        return EXIT_NO_INPUT;
    }
    options->names = names;
    uint32_t count = plw_names_problem_count(names);
    for (uint32_t i = 0; i < count; i++)
        complain("%s:%u: %s", path, (unsigned)plw_names_problem_line(names, i),
                 text_of(problem_source, names, i, 0));
    return count > 0 ? EXIT_DATA : EXIT_DONE;
}

/* Takes one option; false when it is unknown or what it says is. */
static bool take_option(int letter, client_options *options)
{
    switch (letter) {
    case 'f': return read_format(optarg, &options->format);
    case 'm': return add_hint(options, "maker", optarg);
    case 'y': return add_hint(options, "year", optarg);
    case 'S': return add_hint(options, "scheme", optarg);
    case 'c': return add_claim(options, optarg);
    case 'd': return add_date(options, optarg);
    case OPTION_CLAIM: return add_claim_column(options, optarg);
    case 's': options->flags |= PLW_EXPLAIN_SOURCES; break;
    case 'g': options->suggest = true; break;
    case 't': options->tables_file = optarg; break;
    case 'n': options->names_file = optarg; break;
    case 'i': options->image = optarg; break;
    case OPTION_COLUMN: options->columns[CATALOGUE_NUMBER] = optarg; break;
    case OPTION_MAKER: options->columns[CATALOGUE_MAKER] = optarg; break;
    case OPTION_YEAR: options->columns[CATALOGUE_YEAR] = optarg; break;
    case OPTION_COVERS: options->covers = optarg; break;
    case OPTION_UNIQUE: options->no_duplicates = true; break;
    default:
        complain("try 'platewright --help'");
        return false;
    }
    return true;
}

#define GO_ON (-1)

/* Takes all options, before the command and behind it, and tells which were given;
 * GO_ON or the status to end with. */
static int take_options(int count, char **arguments, client_options *options, bool given[])
{
    int letter;
    while ((letter = getopt_long(count, arguments, "c:d:f:gi:m:n:sS:t:y:hV", long_options, NULL)) !=
           -1) {
        if (letter == 'h') {
            fputs(usage, stdout);
            return EXIT_DONE;
        }
        if (letter == 'V') {
            print_version();
            return EXIT_DONE;
        }
        if (!take_option(letter, options))
            return EXIT_USAGE;
        given[letter] = true;
    }
    return GO_ON;
}

/* "explain, validate": the commands that take an option. */
static void put_takers(growing_text *text, int letter)
{
    for (size_t i = 0; i < COMMANDS; i++) {
        if (strchr(commands[i].options, letter) == NULL)
            continue;
        text_put(text, text->length > 0 ? ", " : "");
        text_put(text, commands[i].name);
    }
}

/* An option that does nothing for a command would leave somebody waiting for it. */
static bool takes_what_is_given(const client_command *command, const bool given[])
{
    for (const struct option *option = long_options; option->name != NULL; option++) {
        if (!given[option->val] || strchr(command->options, option->val) != NULL)
            continue;
        growing_text takers = { NULL, 0, 0 };
        put_takers(&takers, option->val);
        complain("%s does not take --%s, which is for: %.*s", command->name, option->name,
                 (int)takers.length, takers.bytes);
        text_free(&takers);
        return false;
    }
    return true;
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

/* Likewise the claims. */
static bool claims_are_good(const client_options *options)
{
    plw_result *result;
    if (options->claims == NULL)
        return true;
    if (plw_result_new(&result) != PLW_OK)
        out_of_memory();
    int32_t status = plw_check_claims(result, options->claims, strlen(options->claims));
    plw_result_free(result);
    if (status != PLW_OK)
        complain("claims: %s", plw_status_text(status));
    return status == PLW_OK;
}

/* NULL after a complaint. */
static const client_command *find_command(int count, char **arguments)
{
    if (optind == count) {
        complain("no command; 'platewright --help' lists them");
        return NULL;
    }
    for (size_t i = 0; i < COMMANDS; i++)
        if (strcmp(commands[i].name, arguments[optind]) == 0)
            return &commands[i];
    complain("there is no command '%s'; 'platewright --help' lists them", arguments[optind]);
    return NULL;
}

/* What stands behind the command: for expect these are claims. */
static bool take_arguments(int count, char **arguments, const client_command *command,
                           client_options *options)
{
    options->arguments = arguments + optind + 1;
    options->argument_count = count - optind - 1;
    for (int i = 0; command->run == expect_command && i < options->argument_count; i++)
        if (!add_claim(options, options->arguments[i]))
            return false;
    return true;
}

static int run(int count, char **arguments)
{
    static client_options options = { .format = PLW_FORMAT_TEXT, .columns = { "number" } };
    bool given[UCHAR_MAX + 1] = { false };
    int status = take_options(count, arguments, &options, given);
    if (status != GO_ON)
        return status;
    const client_command *command = find_command(count, arguments);
    if (command == NULL || !takes_what_is_given(command, given) ||
        !take_arguments(count, arguments, command, &options))
        return EXIT_USAGE;
    if (options.tables_file && !open_tables(options.tables_file, &options.tables))
        return EXIT_NO_INPUT;
    if (!hints_are_good(&options) || !claims_are_good(&options))
        return EXIT_USAGE;
    int names_status = options.names_file ? open_names(options.names_file, &options) : EXIT_DONE;
    if (names_status == EXIT_NO_INPUT)
        return EXIT_NO_INPUT;
    return graver(names_status, command->run(&options));
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
