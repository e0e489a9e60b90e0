/* SPDX-License-Identifier: MIT
 *
 * The fuzzer's harnesses over inputs that are known: every published example,
 * the fixtures, what a fuzzer found (tests/fuzz/corpus), and a few thousand
 * mutations of all of these, the same in every run.
 */
#include <dirent.h>
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "fuzz/fuzz.h"
#include "probe.h"

#define LARGEST 4096
#define MUTATIONS 400

static const struct {
    const char *name;
    fuzz_harness *run;
    int mutations; /* fewer where one execution takes long */
} harnesses[] = {
    { "verdict", fuzz_verdict, MUTATIONS },      { "number", fuzz_number, MUTATIONS },
    { "claims", fuzz_claims, MUTATIONS },        { "car", fuzz_car, MUTATIONS / 4 },
    { "expect", fuzz_expect, MUTATIONS / 40 },   { "names", fuzz_names, MUTATIONS / 40 },
    { "image", fuzz_image, MUTATIONS },          { "tables", fuzz_tables, MUTATIONS / 8 },
};

static uint32_t seed = 1;

static uint32_t random_below(uint32_t limit)
{
    seed = seed * 1664525u + 1013904223u;
    return (seed >> 8) % limit;
}

/* A copy of its own size, so that a sanitizer sees the first byte read too many. */
static void feed(fuzz_harness *run, const uint8_t *bytes, size_t size)
{
    uint8_t *copy = malloc(size > 0 ? size : 1);
    ck_assert_ptr_nonnull(copy);
    if (size > 0)
        memcpy(copy, bytes, size);
    run(copy, size);
    free(copy);
}

static size_t mutate(uint8_t *bytes, size_t size)
{
    for (uint32_t changes = 1 + random_below(4); changes > 0; changes--) {
        size_t at = random_below((uint32_t)size + 1);
        if (random_below(3) == 0 && size > 1 && at < size) {
            memmove(bytes + at, bytes + at + 1, size - at - 1);
            size--;
        } else if (random_below(2) == 0 && size < LARGEST) {
            memmove(bytes + at + 1, bytes + at, size - at);
            bytes[at] = (uint8_t)random_below(256);
            size++;
        } else if (at < size) {
            bytes[at] = (uint8_t)"?[]=;\n0O1I8B"[random_below(12)];
        }
    }
    return size;
}

static void feed_with_mutations(int harness, const uint8_t *bytes, size_t size, int mutations)
{
    uint8_t changed[LARGEST + 8];
    feed(harnesses[harness].run, bytes, size);
    for (int i = 0; i < mutations && size <= LARGEST; i++) {
        memcpy(changed, bytes, size);
        feed(harnesses[harness].run, changed, mutate(changed, size));
    }
}

/* ---- the published examples ------------------------------------------------------ */

static const char *const example_files[] = {
    "dearborn", "detroit", "highland-park", "imports", "independents", "iso3779", "practice",
};

/* What a harness wants around a number. */
static int wrap(int harness, const char *number, char *input, size_t room)
{
    if (harnesses[harness].run == fuzz_verdict)
        return snprintf(input, room, "%s", number);
    if (harnesses[harness].run == fuzz_number)
        return snprintf(input, room, "%c%c%s", (char)(random_below(95) + 32),
                        (char)(random_below(95) + 32), number);
    if (harnesses[harness].run == fuzz_claims)
        return snprintf(input, room, "%s\nyear=1968;engine=426 cu in V8;body=2dr", number);
    if (harnesses[harness].run == fuzz_car)
        return snprintf(input, room, "1%s\n5%s\nd3C18\nd18C1\ncyear=1968", number,
                        strlen(number) > 8 ? number + strlen(number) - 8 : number);
    if (harnesses[harness].run == fuzz_expect)
        return snprintf(input, room, "year=1968;body=convertible\n%s", number);
    return 0;
}

START_TEST(test_published_examples)
{
    char name[64], input[512];
    size_t size;
    for (size_t file = 0; file < sizeof example_files / sizeof *example_files; file++) {
        snprintf(name, sizeof name, "tests/examples/%s.tsv", example_files[file]);
        char *text = fixture_text(name, &size);
        int fed = 0;
        for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
            line[strcspn(line, "\t")] = '\0';
            int length = *line == '#' ? 0 : wrap(_i, line, input, sizeof input);
            /* The expectation of one claim is worked out anew for each number. */
            if (length > 0 && (harnesses[_i].run != fuzz_expect || fed < 3)) {
                feed_with_mutations(_i, (const uint8_t *)input, (size_t)length, 4);
                fed++;
            }
        }
        free(text);
    }
}
END_TEST

/* ---- files --------------------------------------------------------------------------- */

static void feed_file(int harness, const char *name, int mutations)
{
    size_t size;
    char *text = fixture_text(name, &size);
    feed_with_mutations(harness, (const uint8_t *)text, size, mutations);
    free(text);
}

START_TEST(test_fixtures)
{
    static const uint8_t change[] = { 1, 40, 0, 0, 0, 7 };
    int mutations = harnesses[_i].mutations;
    if (harnesses[_i].run == fuzz_names)
        feed_file(_i, "tests/fixtures/quillfeather.names", mutations);
    else if (harnesses[_i].run == fuzz_tables)
        feed_file(_i, "tests/fixtures/small.scheme", mutations);
    else if (harnesses[_i].run == fuzz_image)
        feed_with_mutations(_i, change, sizeof change, mutations);
    else
        feed_with_mutations(_i, (const uint8_t *)"?", 1, mutations);
}
END_TEST

/* Inputs that broke something once or take an unusual way, by the name of the
 * harness. */
START_TEST(test_the_corpus)
{
    char path[4096];
    const char *srcdir = getenv("srcdir");
    int found = 0;
    snprintf(path, sizeof path, "%s/tests/fuzz/corpus", srcdir ? srcdir : ".");
    DIR *folder = opendir(path);
    ck_assert_ptr_nonnull(folder);
    for (const struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        for (size_t i = 0; i < sizeof harnesses / sizeof *harnesses; i++) {
            size_t length = strlen(harnesses[i].name);
            if (strncmp(entry->d_name, harnesses[i].name, length) != 0 ||
                entry->d_name[length] != '-')
                continue;
            snprintf(path, sizeof path, "tests/fuzz/corpus/%s", entry->d_name);
            feed_file((int)i, path, 0);
            found++;
        }
    }
    closedir(folder);
    ck_assert_int_gt(found, 0);
}
END_TEST

static void add(TCase *test)
{
    int count = (int)(sizeof harnesses / sizeof harnesses[0]);
    tcase_set_timeout(test, 60);
    tcase_add_loop_test(test, test_published_examples, 0, count);
    tcase_add_loop_test(test, test_fixtures, 0, count);
    tcase_add_test(test, test_the_corpus);
}

int main(void)
{
    return probe_run("fuzz", add);
}
