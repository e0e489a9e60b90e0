/* SPDX-License-Identifier: MIT
 *
 * The client without memory: each command is run again and again, and every time
 * another allocation fails, once or from then on, or the heap is full at another
 * size; the allocations of json-c, libcsv and libc are among them. It ends as if
 * nothing had been, or says that there is no memory and ends with the status for
 * that; what it wrote before is the beginning of what it writes otherwise.
 *
 * The linker calls the client's main __real_main, and this one __wrap_main.
 */
#define _GNU_SOURCE /* MAP_ANONYMOUS */

#include <errno.h>
#include <malloc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include "fixture.h"
#include "probe.h"

#define NO_MEMORY 66 /* exit status */
#define COUNT(list) (sizeof(list) / sizeof *(list))

int __real_main(int count, char **arguments);
int __wrap_main(void);

/* ---- a heap that fails ------------------------------------------------------------- */

/* Under the address sanitizer its functions stand behind malloc, else those of libc. */
#if defined __SANITIZE_ADDRESS__
#define BEHIND(function) __interceptor_##function
#elif defined __has_feature
#if __has_feature(address_sanitizer)
#define BEHIND(function) __interceptor_##function
#endif
#endif
#ifndef BEHIND
#define BEHIND(function) __libc_##function
#endif

/* Libraries must find these here. */
#define FOR_ALL __attribute__((visibility("default")))
FOR_ALL void *malloc(size_t size);
FOR_ALL void *calloc(size_t count, size_t size);
FOR_ALL void *realloc(void *memory, size_t size);
FOR_ALL void free(void *memory);

void *BEHIND(malloc)(size_t size);
void *BEHIND(calloc)(size_t count, size_t size);
void *BEHIND(realloc)(void *memory, size_t size);
void BEHIND(free)(void *memory);

enum failing {
    ONCE,        /* one allocation */
    FROM_THEN_ON,
    HEAP_IS_FULL /* all that would need more than a number of bytes */
};

static int watched; /* in the process under test */
static int spared;  /* while json-c alone would fail */

/* What this process and the one under test tell each other. */
static struct heap {
    enum failing failing;
    size_t limit; /* the allocation that fails, from 1, or the bytes; 0: none fails */
    size_t attempts, held;
    size_t failures, needed; /* what the first one to fail would have needed in all */
} *heap;

static int is_refused(size_t size)
{
    if (heap->limit == 0)
        return 0;
    if (heap->failing == HEAP_IS_FULL)
        return heap->held + size > heap->limit;
    return !spared && (heap->attempts == heap->limit ||
                             (heap->failing == FROM_THEN_ON && heap->attempts > heap->limit));
}

static int refused(size_t size)
{
    if (!watched)
        return 0;
    heap->attempts += !spared;
    if (!is_refused(size))
        return 0;
    if (heap->failures++ == 0)
        heap->needed = heap->held + size;
    errno = ENOMEM;
    return 1;
}

static void *given(void *memory)
{
    if (watched)
        heap->held += malloc_usable_size(memory);
    return memory;
}

/* Of memory from before it is not known. */
static void given_back(void *memory)
{
    if (!watched)
        return;
    size_t size = malloc_usable_size(memory);
    heap->held -= size < heap->held ? size : heap->held;
}

void *malloc(size_t size)
{
    return refused(size) ? NULL : given(BEHIND(malloc)(size));
}

void *calloc(size_t count, size_t size)
{
    return refused(count * size) ? NULL : given(BEHIND(calloc)(count, size));
}

void *realloc(void *memory, size_t size)
{
    if (refused(size))
        return NULL;
    given_back(memory);
    return given(BEHIND(realloc)(memory, size));
}

void free(void *memory)
{
    given_back(memory);
    BEHIND(free)(memory);
}

/* json-c does not survive what fails in here: the client sees to it beforehand that
 * there is memory, and that it is enough the full heap shows. */
struct json_tokener;
struct json_object;
struct json_object *__real_json_tokener_parse_ex(struct json_tokener *tokener, const char *text,
                                                 int length);
struct json_object *__wrap_json_tokener_parse_ex(struct json_tokener *tokener, const char *text,
                                                 int length);

struct json_object *__wrap_json_tokener_parse_ex(struct json_tokener *tokener, const char *text,
                                                 int length)
{
    spared = 1;
    struct json_object *object = __real_json_tokener_parse_ex(tokener, text, length);
    spared = 0;
    return object;
}

/* ---- runs ------------------------------------------------------------------------------ */

#define OUTPUT_SIZE (1u << 20)

typedef struct outcome {
    int status; /* of waitpid */
    size_t length;
    char out[OUTPUT_SIZE];
    char errors[OUTPUT_SIZE];
} outcome;

typedef struct input {
    const char *bytes;
    size_t size;
} input;

static FILE *file_of(const char *bytes, size_t size)
{
    FILE *file = tmpfile();
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(bytes, 1, size, file), size);
    rewind(file);
    return file;
}

static size_t read_back(FILE *file, char text[OUTPUT_SIZE])
{
    rewind(file);
    size_t length = fread(text, 1, OUTPUT_SIZE - 1, file);
    ck_assert_uint_lt(length, OUTPUT_SIZE - 1);
    text[length] = '\0';
    fclose(file);
    return length;
}

static void look_away(void)
{
    watched = 0;
}

/* Paths are those of the source tree. What counts branches may allocate at the end. */
static void become_client(const char *const *arguments, int count)
{
    char *copies[16] = { "platewright" };
    const char *srcdir = getenv("srcdir");
    for (int i = 0; i < count; i++)
        copies[i + 1] = strdup(arguments[i]);
    if (srcdir != NULL && chdir(srcdir) != 0)
        _exit(1);
    if (atexit(look_away) != 0)
        _exit(1);
    watched = 1;
    exit(__real_main(count + 1, copies));
}

static void run(const char *const *arguments, const input *in, enum failing failing, size_t limit,
                outcome *o)
{
    FILE *files[3] = { file_of(in->bytes, in->size), file_of("", 0), file_of("", 0) };
    int count = 0;
    while (arguments[count] != NULL)
        count++;
    *heap = (struct heap){ .failing = failing, .limit = limit };
    fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        for (int i = 0; i < 3; i++)
            dup2(fileno(files[i]), i);
        become_client(arguments, count);
    }
    ck_assert_int_eq(waitpid(child, &o->status, 0), child);
    fclose(files[0]);
    o->length = read_back(files[1], o->out);
    read_back(files[2], o->errors);
}

/* ---- what is asked ------------------------------------------------------------------- */

enum stream { NOTHING, NUMBERS, IMAGE, NAMES, CATALOGUE, LONG_CATALOGUE, LINES, STREAMS };

static const struct command {
    enum stream in;
    const char *arguments[12];
} commands[] = {
    { NOTHING, { "--help" } },
    { NOTHING, { "--version" } },
    { NOTHING, { "decode", "3Y86N400001", "RM23V0A149789" } },
    { NUMBERS, { "decode" } },
    { NUMBERS, { "decode", "-f", "json" } },
    { NUMBERS, { "validate", "-g", "-m", "Ford", "-c", "year=1963;engine=7.0L" } },
    { NOTHING, { "validate", "-f", "json", "3Y86N400001" } },
    { NOTHING, { "explain", "-s", "3Y86N400001", "RM23V0A149789" } },
    { NOTHING, { "explain", "-f", "html", "-c", "year=1963", "3Y86N400001" } },
    { NOTHING, { "explain", "-f", "svg", "3Y86N400001" } },
    { NAMES, { "explain", "--names", "-", "3Y86N400001" } },
    { IMAGE, { "explain", "--tables", "-", "--names", "tests/fixtures/quillfeather.names",
               "T24M6P100051" } },
    { NOTHING, { "compare", "dash=194677S400025", "engine=7S400026", "-d", "casting=A 25 7", "-c",
                 "year=1967" } },
    { NOTHING, { "compare", "-f", "json", "dash=RM23V0A149789", "engine=0A149789" } },
    { NOTHING, { "expect", "year=1966; body=convertible", "maker=Ford" } },
    { NOTHING, { "expect", "-f", "json", "year=1971; body=convertible" } },
    { NOTHING, { "expect", "--covers", "BS27R1B123456", "year=1971; body=convertible" } },
    { NOTHING, { "expect", "year=1971; year=1972" } },
    { NOTHING, { "schemes" } },
    { NOTHING, { "schemes", "dearborn-1960" } },
    { IMAGE, { "schemes", "--tables", "-", "-f", "json" } },
    { NOTHING, { "catalogue", "tests/fixtures/quillfeather-spring.csv" } },
    { CATALOGUE, { "catalogue", "--maker-column", "maker", "--year-column", "year",
                   "--claim-column", "engine=motor" } },
    { LONG_CATALOGUE, { "catalogue" } },
    { LINES, { "catalogue", "-f", "json", "--maker-column", "maker", "--claim-column",
               "body=body" } },
    { NOTHING, { "compile", "--image", "/dev/null", "tests/fixtures/port-ellery.scheme",
                 "tests/fixtures/small.scheme" } },
    { LINES, { "compile", "-" } },
    { NOTHING, { "compile", "no-such-file" } },
    { NOTHING, { "decode", "--hint" } },
};

static const char numbers[] = "3Y86N400001\n\nRM23V0A149789\nTZ4X3P100051\n1G4AH59H45G118341\n";
static const char names[] = "field/engine = motor\nnonsense\n";
/* More columns than libcsv's caller has room for at first, and a cell that lets its
 * buffer grow. */
#define LONG_WORDS "many words about a car that was never driven in the rain and was always "
static const char catalogue[] =
    "a,b,c,d,e,f,g,h,i,j,k,l,m,n,o,p,q,r,maker,year,motor,number\n"
    "1,\"" LONG_WORDS LONG_WORDS LONG_WORDS "\n\"\"dry\"\"\",,,,,,,,,,,,,,,,,"
    "Ford,1963,7.0L,3Y86N400001\n"
    "2,,,,,,,,,,,,,,,,,,Buick,1970,426,RM23R0A149789\n"
    "3,too,few\n"
    "4,,,,,,,,,,,,,,,,,,,,,3Y86N400001\n"
    "5,\"broken\n"
    "6,,,,,,,,,,,,,,,,,,,,,0A149789\n";
/* What takes json-c the most memory for the fewest bytes. */
#define TEN(text) text text text text text text text text text text
#define MUCH_OF_LITTLE TEN("{},") TEN("[],") TEN("1,") TEN("{\"\":0},") TEN("[[{}]],") TEN("\"\",")
static const char lines[] =
    "{\"lot\":1,\"number\":\"3Y86N400001\",\"maker\":\"Ford\",\"body\":\"wagon\"}\n"
    "{\"title\":\"" LONG_WORDS LONG_WORDS LONG_WORDS "\",\"number\":\"RM23R0A149789\",\"more\":"
    "{\"of\":[1,2.5,true,null,\"" LONG_WORDS "\"]}}\n"
    "{\"number\":194677400025,\"maker\":[]}\n"
    "{\"number\":194677400025,\"body\":2.5}\n"
    "{\"of\":[" TEN(MUCH_OF_LITTLE) "{" TEN("\"a\":{\"b\":") "0" TEN("}}") "}]}\n"
    "no object\n"
    "null\n"
    "{}\n"
    "{\"a\":1,\"b\":2,\"c\":3,\"d\":4,\"e\":5,\"f\":6,\"g\":7,\"h\":8,\"i\":9,\"j\":10,\"k\":11,"
    "\"l\":12,\"m\":13,\"number\":\"3Y86N400001\"}\n";

/* More numbers than the client's set of them has room for at first. */
static const char *long_catalogue(void)
{
    static char text[32768];
    size_t used = (size_t)sprintf(text, "number\n");
    for (int i = 0; i < 900; i++)
        used += (size_t)sprintf(text + used, "3Y86N4%05d\n", i);
    return text;
}

static input input_of(enum stream stream)
{
    static unsigned char *image;
    static size_t size;
    const char *texts[STREAMS] = { [NUMBERS] = numbers, [NAMES] = names, [CATALOGUE] = catalogue,
                                   [LINES] = lines, [LONG_CATALOGUE] = long_catalogue() };
    if (image == NULL)
        image = fixture_image(&size);
    if (stream == IMAGE)
        return (input){ (const char *)image, size };
    return (input){ texts[stream] ? texts[stream] : "", texts[stream] ? strlen(texts[stream]) : 0 };
}

/* ---- what must come of it ------------------------------------------------------------ */

static int same_outcome(const outcome *a, const outcome *b)
{
    return a->status == b->status && strcmp(a->out, b->out) == 0 &&
           strcmp(a->errors, b->errors) == 0;
}

/* The last line says that there is no memory. */
static int says_no_memory(const char *errors)
{
    const char *last = errors;
    for (const char *end = errors; (end = strchr(end, '\n')) != NULL && end[1] != '\0';)
        last = ++end;
    return strncmp(last, "platewright: ", 13) == 0 && last[strlen(last) - 1] == '\n' &&
           (strstr(last, plw_status_text(PLW_E_MEMORY)) || strstr(last, strerror(ENOMEM)));
}

static int ends_well(const outcome *clean, const outcome *o)
{
    return WIFEXITED(o->status) && WEXITSTATUS(o->status) == NO_MEMORY &&
           says_no_memory(o->errors) && strncmp(clean->out, o->out, o->length) == 0;
}

static void share_heap(void)
{
    heap = mmap(NULL, sizeof *heap, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    ck_assert_ptr_ne(heap, MAP_FAILED);
}

/* With one limit after the other, until there is none left to fail. */
static void fail_each(const struct command *c, enum failing failing)
{
    static outcome clean, o;
    input in = input_of(c->in);
    share_heap();
    run(c->arguments, &in, failing, 0, &clean);
    ck_assert(WIFEXITED(clean.status));
    for (size_t limit = 1;; limit = failing == HEAP_IS_FULL ? heap->needed : limit + 1) {
        run(c->arguments, &in, failing, limit, &o);
        if (!same_outcome(&clean, &o) && (heap->failures == 0 || !ends_well(&clean, &o)))
            ck_abort_msg("%s %s: limit %u: status %x where it was %x, %s", c->arguments[0],
                         c->arguments[1] ? c->arguments[1] : "", (unsigned)limit,
                         (unsigned)o.status, (unsigned)clean.status, o.errors);
        if (heap->failures == 0)
            return;
    }
}

START_TEST(test_one_allocation_fails)
{
    fail_each(&commands[_i], ONCE);
}
END_TEST

START_TEST(test_all_fail_from_then_on)
{
    fail_each(&commands[_i], FROM_THEN_ON);
}
END_TEST

START_TEST(test_the_heap_is_full)
{
    fail_each(&commands[_i], HEAP_IS_FULL);
}
END_TEST

/* Else it would be the client's own code alone that is put to the test. */
START_TEST(test_allocations_of_libraries_fail)
{
    share_heap();
    *heap = (struct heap){ .limit = 1 };
    watched = 1;
    FILE *file = fopen("/dev/null", "r");
    watched = 0;
    ck_assert_ptr_null(file);
    ck_assert_uint_eq(heap->failures, 1);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_one_allocation_fails, 0, COUNT(commands));
    tcase_add_loop_test(test, test_all_fail_from_then_on, 0, COUNT(commands));
    tcase_add_loop_test(test, test_the_heap_is_full, 0, COUNT(commands));
    tcase_add_test(test, test_allocations_of_libraries_fail);
}

int __wrap_main(void)
{
    return probe_run("client_memory", add);
}
