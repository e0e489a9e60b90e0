/* SPDX-License-Identifier: MIT
 *
 * All that the library says, for comparing one platform with another: numbers
 * come in, one a line, and every answer goes out. Only memory of its own is
 * given to the library, so that this runs where there is no malloc, too.
 */
#include <inttypes.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include <platewright.h>

/* More than any object takes; the program stops when that should change. */
static uint64_t result_memory[1 << 15], car_memory[1 << 16], names_memory[1 << 10];
static char text[1 << 20];

static plw_result *result;
static plw_car *car;
static plw_names *names;

static void say(const char *what, int32_t status)
{
    printf("-- %s %s\n%s\n", what, plw_status_name(status), status == PLW_OK ? text : "");
}

static void explain(void)
{
    static const struct {
        int32_t format;
        const char *name;
    } formats[] = {
        { PLW_FORMAT_TEXT, "text" }, { PLW_FORMAT_MARKDOWN, "markdown" },
        { PLW_FORMAT_JSON, "json" }, { PLW_FORMAT_SVG, "svg" },
        { PLW_FORMAT_HTML, "html" },
    };
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++)
        say(formats[i].name, plw_explain(result, formats[i].format, PLW_EXPLAIN_SOURCES, text,
                                         sizeof text, NULL));
}

static void compare(const char *number, size_t length)
{
    size_t tail = length > 8 ? length - 8 : 0;
    plw_car_clear(car);
    plw_car_add_plate(car, PLW_PLACE_DASH, number, length);
    plw_car_add_plate(car, PLW_PLACE_ENGINE, number + tail, length - tail);
    say("compare", plw_compare(NULL, car, NULL, 0));
    say("car", plw_explain_car(car, PLW_FORMAT_JSON, 0, text, sizeof text, NULL));
}

static void batch(const char *number, size_t length)
{
    int32_t rows[PLW_BATCH_COLUMNS];
    int32_t status = plw_batch(NULL, number, &length, 1, "year=1968", 0, rows);
    printf("-- batch %s", plw_status_name(status));
    for (int i = 0; i < PLW_BATCH_COLUMNS; i++)
        printf(" %" PRId32, rows[i]);
    puts("");
}

static void answer(const char *number, size_t length)
{
    static const char claims[] = "year=1968; engine=426 cu in V8; body=2dr hardtop";
    printf("==== %s\n", number);
    plw_prefix(NULL, number, length / 2, 0, result);
    say("prefix", plw_prefix_allowed(result, text, sizeof text, NULL));
    plw_suggest(NULL, number, length, "maker=Ford", 0, result);
    plw_check_claims(result, claims, sizeof claims - 1);
    explain();
    compare(number, length);
    batch(number, length);
}

static int ready(void)
{
    static const char words[] = "field/engine = Motor\nnonsense\n";
    return plw_result_place(result_memory, sizeof result_memory, &result) == PLW_OK &&
           plw_car_place(car_memory, sizeof car_memory, &car) == PLW_OK &&
           plw_names_place(NULL, words, sizeof words - 1, names_memory, sizeof names_memory,
                           &names) == PLW_OK &&
           plw_result_use_names(result, names) == PLW_OK;
}

/* The functions that end in _new; where the library has no malloc, they say so. */
static int heap_is_as_built(void)
{
#ifdef PLWI_NO_MALLOC
    const int32_t wanted = PLW_E_MEMORY;
#else
    const int32_t wanted = PLW_OK;
#endif
    plw_result *new_result;
    plw_car *new_car;
    plw_names *new_names;
    plw_expectation *new_expectation;
    int good = plw_result_new(&new_result) == wanted && plw_car_new(&new_car) == wanted &&
               plw_names_new(NULL, "", 0, &new_names) == wanted &&
               plw_expectation_new(&new_expectation) == wanted;
    if (!good)
        return 0;
    good = (new_result && new_car && new_names && new_expectation) == (wanted == PLW_OK) &&
           (new_result || new_car || new_names || new_expectation) == (wanted == PLW_OK);
    plw_result_free(new_result);
    plw_car_free(new_car);
    plw_names_free(new_names);
    plw_expectation_free(new_expectation);
    return good;
}

int main(void)
{
    static char line[1024];
    setlocale(LC_ALL, "");
    if (!ready() || !heap_is_as_built()) {
        fputs("objects are not made as they should be\n", stderr);
        return 1;
    }
    printf("%s %s\n", plw_version_text(), plw_tables_edition(NULL));
    say("digest", plw_tables_digest(NULL, text, sizeof text, NULL));
    while (fgets(line, sizeof line, stdin)) {
        line[strcspn(line, "\r\n")] = '\0';
        answer(line, strlen(line));
    }
    return ferror(stdin) || ferror(stdout);
}
