/* SPDX-License-Identifier: MIT
 *
 * The host's own words: where they stand in place of the tables', what is said
 * about lines with mistakes, and that no names text does harm.
 */
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "fixture.h"
#include "probe.h"

#define SAMPLE "tests/fixtures/quillfeather.names"
#define OUTPUT_SIZE (1 << 18)

/* Names for the fixture. Freed when the test ends, with everything else: Check
 * runs each test in a process of its own. */
static plw_names *names_of(const char *text, size_t length)
{
    plw_names *names = NULL;
    ck_assert_int_eq(plw_names_new(fixture_tables(), text, length, &names), PLW_OK);
    return names;
}

static plw_names *sample(void)
{
    size_t size;
    char *text = fixture_text(SAMPLE, &size);
    plw_names *names = names_of(text, size);
    memset(text, 'x', size); /* nothing of it is borrowed */
    free(text);
    return names;
}

/* The shared result of probe.c, using these names from now on. */
static plw_result *validate_with(const plw_names *names, const char *number)
{
    plw_result *result = probe_validate(fixture_tables(), number, NULL);
    ck_assert_int_eq(plw_result_use_names(result, names), PLW_OK);
    return result;
}

static const char *explained(const plw_result *result, int32_t format)
{
    static char output[OUTPUT_SIZE];
    ck_assert_int_eq(plw_explain(result, format, 0, output, sizeof output, NULL), PLW_OK);
    return output;
}

static const char *problem_text(const plw_names *names, uint32_t problem)
{
    static char text[2048];
    ck_assert_int_eq(plw_names_problem_text(names, problem, text, sizeof text, NULL), PLW_OK);
    return text;
}

static const char *words_of(const plw_result *result, const char *field, uint32_t index)
{
    return plw_field_words(result, 0, probe_field(result, 0, field), index);
}

/* ---- words in every output ------------------------------------------------------ */

START_TEST(test_the_sample_is_good)
{
    plw_names *names = sample();
    for (uint32_t i = 0; i < plw_names_problem_count(names); i++)
        ck_abort_msg("line %u: %s", plw_names_problem_line(names, i), problem_text(names, i));
    plw_names_free(names);
}
END_TEST

START_TEST(test_accessors_give_the_names)
{
    plw_names *names = sample();
    plw_result *r = validate_with(names, "S23M6N500123");
    ck_assert_str_eq(plw_reading_title(r, 0), "Wexcombe of Port Ellery, first numbering");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "body")), "coachwork");
    ck_assert_str_eq(words_of(r, "body", 0), "Hardtop \xE2\x80\x9CSealine\xE2\x80\x9D");
    ck_assert_str_eq(plw_names_title(names, 0), "Wexcombe of Port Ellery, first numbering");
    plw_names_free(names);
}
END_TEST

START_TEST(test_what_has_no_name_keeps_its_words)
{
    plw_names *names = names_of("field/body = coachwork", 22);
    plw_result *r = validate_with(names, "S23M6N500123");
    ck_assert_str_eq(plw_reading_title(r, 0), "Wexcombe cars of Port Ellery, 1962-1975");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), "line");
    ck_assert_str_eq(words_of(r, "body", 0), "two-door hardtop");
    ck_assert_str_eq(plw_names_title(names, 1), "Wexcombe cars of Port Ellery, 1976-1980");
    plw_names_free(names);
}
END_TEST

START_TEST(test_names_change_words_only)
{
    plw_names *names = sample();
    const plw_tables *t = fixture_tables();
    plw_result *r = validate_with(names, "H24K0P100051");
    uint32_t line = probe_field(r, 0, "line");
    uint32_t row = plw_field_row(r, 0, line, 0);
    ck_assert_str_eq(plw_field_words(r, 0, line, 0), "Wexcombe Harrier");
    ck_assert_str_eq(plw_field_name(r, 0, line), "line");
    ck_assert_str_eq(plw_row_words(t, row), "Harrier, sporting line");
    ck_assert_str_eq(plw_row_label(t, row), "line");
    ck_assert_str_eq(plw_row_remark(t, row), "the letter was used again");
    ck_assert_str_eq(plw_scheme_title(t, 0), "Wexcombe cars of Port Ellery, 1962-1975");
    plw_names_free(names);
}
END_TEST

static const struct {
    const char *number;
    int32_t code;
    const char *sentence;
} sentences[] = {
    { "T99M6P100051", PLW_FINDING_UNKNOWN_CODE,
      "The tables have no coachwork 99 for 1966; that does not make it wrong." },
    { "T24M6Z100051", PLW_FINDING_UNKNOWN_CODE,
      "The tables have no works Z for 1966; that does not make it wrong." },
    { "S31K5N500123", PLW_FINDING_NOT_BUILT,
      "The tables say this combination was not built: line S (Wexcombe Shrike) with engine K "
      "(1490 cc four), 1965; the Quillfeather file names every Shrike engine." },
    { "H24R9P100200", PLW_FINDING_DISPUTED,
      "Sources differ about engine R: 3\xC2\xB7" "5-litre six (parts-66); or 4\xC2\xBC-litre V8 "
      "(club-list)." },
    { "T27W3P100100", PLW_FINDING_EXCLUSION,
      "These exclude each other: engine W needs 1972; model year 3 needs 1963, 1973." },
};

START_TEST(test_sentences_have_the_names)
{
    plw_names *names = sample();
    plw_result *r = validate_with(names, sentences[_i].number);
    ck_assert_str_eq(probe_sentence(r, sentences[_i].code), sentences[_i].sentence);
    plw_names_free(names);
}
END_TEST

START_TEST(test_conditions_have_the_names)
{
    static const char text[] = "field/line = range\n";
    plw_names *names = names_of(text, sizeof text - 1);
    plw_result *r = validate_with(names, "T23M6P100051");
    ck_assert_str_eq(probe_sentence(r, PLW_FINDING_CONDITION),
                     "The tables know body 23 only where range is S (1964-1968).");
    validate_with(names, "S23M6N500123");
    ck_assert_ptr_nonnull(strstr(explained(r, PLW_FORMAT_JSON), "\"condition\":\"range is S\""));
    plw_names_free(names);
}
END_TEST

/* What the explanations of one number say with the sample, and what they no
 * longer say. */
START_TEST(test_explanations_have_the_names)
{
    static const char *const said[] = {
        "Wexcombe of Port Ellery, first numbering", "Wexcombe Shrike", "coachwork",
        "Estate, 5 doors", "Quillfeather file",
    };
    static const char *const replaced[] = {
        "Wexcombe cars of", "Shrike, sporting line", "five-door wagon", "parts list names",
        "body ", "\"body\",\"positions\"", "| body |",
    };
    plw_names *names = sample();
    plw_result *r = validate_with(names, "S31K5N500123");
    const char *text = explained(r, _i);
    for (size_t i = 0; i < sizeof said / sizeof *said; i++)
        ck_assert_msg(strstr(text, said[i]), "%s is missing in %s", said[i], text);
    for (size_t i = 0; i < sizeof replaced / sizeof *replaced; i++)
        ck_assert_msg(!strstr(text, replaced[i]), "%s stands in %s", replaced[i], text);
    plw_names_free(names);
}
END_TEST

START_TEST(test_places_have_the_names)
{
    plw_names *names = sample();
    plw_result *r = validate_with(names, "T24K3P100051");
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_MARKDOWN; format++) {
        const char *text = explained(r, format);
        ck_assert_ptr_nonnull(strstr(text, "rivetted plate below the bonnet hinge"));
        ck_assert_ptr_null(strstr(text, "riveted plate under"));
    }
    plw_names_free(names);
}
END_TEST

/* Every row, field and scheme can be named by its key. */
static void name_everything(const plw_tables *tables)
{
    static char text[PLW_MAX_NAMES];
    size_t used = 0;
    uint32_t rows = plw_row_count(tables), count = 0;
    plw_names *names = NULL;
    for (uint32_t row = 0; row < rows; row++) {
        char key[PLW_MAX_NAMES_LINE];
        ck_assert_int_eq(plw_row_key(tables, row, key, sizeof key, NULL), PLW_OK);
        used += (size_t)snprintf(text + used, sizeof text - used, "%s = name %u\n", key, count++);
    }
    for (uint32_t i = 0; i < plw_scheme_count(tables); i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "scheme/%s = title %u\n",
                                 plw_scheme_key(tables, i), i);
    ck_assert_int_eq(plw_names_new(tables, text, used, &names), PLW_OK);
    for (uint32_t i = 0; i < plw_names_problem_count(names); i++)
        ck_abort_msg("line %u: %s", plw_names_problem_line(names, i), problem_text(names, i));
    for (uint32_t i = 0; i < plw_scheme_count(tables); i++) {
        char title[32];
        snprintf(title, sizeof title, "title %u", i);
        ck_assert_str_eq(plw_names_title(names, i), title);
    }
    plw_names_free(names);
}

START_TEST(test_everything_can_be_named)
{
    name_everything(fixture_tables());
    name_everything(NULL);
}
END_TEST

START_TEST(test_each_row_gets_its_own_words)
{
    char text[8192];
    size_t used = 0;
    const plw_tables *t = fixture_tables();
    for (uint32_t row = plw_row_count(t); row-- > 0;) {
        char key[200];
        ck_assert_int_eq(plw_row_key(t, row, key, sizeof key, NULL), PLW_OK);
        used += (size_t)snprintf(text + used, sizeof text - used, "%s = row %u\n", key, row);
    }
    ck_assert_uint_lt(used, sizeof text);
    plw_names *names = names_of(text, used);
    plw_result *r = validate_with(names, "H24R9P100200");
    for (uint32_t field = 0; field < plw_field_count(r, 0); field++)
        for (uint32_t i = 0; i < plw_field_row_count(r, 0, field); i++) {
            char words[32];
            snprintf(words, sizeof words, "row %u", plw_field_row(r, 0, field, i));
            ck_assert_str_eq(plw_field_words(r, 0, field, i), words);
        }
    plw_names_free(names);
}
END_TEST

/* ---- how long names hold ------------------------------------------------------------ */

START_TEST(test_names_stay_until_they_are_taken_away)
{
    plw_names *names = sample();
    plw_result *r = validate_with(names, "T24M6P100051");
    for (int i = 0; i < 3; i++) {
        probe_decode(fixture_tables(), "S24M6P100051", NULL);
        ck_assert_str_eq(words_of(r, "line", 0), "Wexcombe Shrike");
    }
    ck_assert_int_eq(plw_decode(fixture_tables(), NULL, 1, NULL, 0, r), PLW_E_ARGUMENT);
    probe_validate(fixture_tables(), "S24M6P100051", NULL);
    ck_assert_str_eq(words_of(r, "line", 0), "Wexcombe Shrike");
    ck_assert_int_eq(plw_result_use_names(r, NULL), PLW_OK);
    ck_assert_str_eq(words_of(r, "line", 0), "Shrike, sporting line");
    plw_names_free(names);
}
END_TEST

START_TEST(test_a_new_result_has_no_names)
{
    static uint64_t memory[20000];
    plw_result *r;
    memset(memory, 0xA5, sizeof memory);
    ck_assert_int_eq(plw_result_place(memory, sizeof memory, &r), PLW_OK);
    ck_assert_int_eq(plw_validate(fixture_tables(), "S24M6P100051", 12, NULL, 0, r), PLW_OK);
    ck_assert_str_eq(words_of(r, "line", 0), "Shrike, sporting line");
}
END_TEST

START_TEST(test_names_of_other_tables_say_nothing)
{
    static const char text[] = "field/line = foreign\n";
    plw_names *names;
    ck_assert_int_eq(plw_names_new(NULL, text, sizeof text - 1, &names), PLW_OK);
    ck_assert_uint_eq(plw_names_problem_count(names), 0);
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), "line");
    plw_names_free(names);
}
END_TEST

START_TEST(test_nothing_means_the_tables_that_are_built_in)
{
    static const char text[] = "field/engine = motor\n";
    plw_names *names;
    ck_assert_int_eq(plw_names_new(plw_tables_builtin(), text, sizeof text - 1, &names), PLW_OK);
    plw_result *r = probe_validate(NULL, "3Y86N400001", NULL);
    ck_assert_int_eq(plw_result_use_names(r, names), PLW_OK);
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "engine")), "motor");
    plw_names_free(names);
}
END_TEST

/* ---- the text ---------------------------------------------------------------------------- */

START_TEST(test_ways_to_write_the_text)
{
    static const char *const texts[] = {
        "field/line = range",
        "field/line = range\n",
        "\n\n  \t\n# field/line = no\nfield/line = range\n",
        "field/line = range\r\n# more\r\n",
        "\357\273\277field/line = range\n",
        "  field/line\t=\t range \t\n",
        "#\n#=\n # = \nfield/line =  range",
        "field/line = range\nbroken\n",
    };
    plw_names *names = names_of(texts[_i], strlen(texts[_i]));
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), "range");
    ck_assert_uint_eq(plw_names_problem_count(names), strstr(texts[_i], "broken") != NULL);
    plw_names_free(names);
}
END_TEST

START_TEST(test_words_may_hold_what_keys_are_made_of)
{
    static const char text[] = "field/line = a = b # c\td/e";
    plw_names *names = names_of(text, sizeof text - 1);
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), "a = b # c d/e");
    plw_names_free(names);
}
END_TEST

/* Letters that are written from right to left are words like any others, and so
 * are the joiners that some languages spell with. */
START_TEST(test_all_languages_are_words)
{
    static const char *const words[] = {
        "\xD7\x94\xD7\x95\xD7\x93\xD7\xA2\xD7\x94", "\xE6\xB1\xBD\xE8\xBB\x8A",
        "\xD9\x85\xDB\x8C\xE2\x80\x8C\xD8\xB4", "e\xCC\x81", "\xF0\x9F\x9A\x97", "\xEF\xBF\xBD",
    };
    char text[64];
    snprintf(text, sizeof text, "field/line = %s", words[_i]);
    plw_names *names = names_of(text, strlen(text));
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), words[_i]);
    plw_names_free(names);
}
END_TEST

START_TEST(test_an_empty_text_names_nothing)
{
    static const char *const texts[] = { "", "\n", "\xEF\xBB\xBF", "# only this", " \r\n\t" };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        plw_names *names = names_of(texts[i], strlen(texts[i]));
        ck_assert_uint_eq(plw_names_problem_count(names), 0);
        plw_result *r = validate_with(names, "S24M6P100051");
        ck_assert_str_eq(words_of(r, "line", 0), "Shrike, sporting line");
        plw_result_use_names(r, NULL);
        plw_names_free(names);
    }
    plw_names_free(names_of(NULL, 0));
}
END_TEST

/* ---- problems ------------------------------------------------------------------------------ */

static const struct {
    const char *line;
    const char *says;
} mistakes[] = {
    { "field/line", "no '=' with a blank before and behind it; write key = words" },
    { "field/line=range", "no '=' with a blank before and behind it; write key = words" },
    { "field/line= range", "no '=' with a blank before and behind it; write key = words" },
    { "= range", "no key before the '='; write key = words" },
    { "field/line =", "no words behind the '='; write key = words" },
    { "field/line = \t", "no words behind the '='; write key = words" },
    { "=", "no key before the '='; write key = words" },
    { "field/lines = range", "these tables have nothing with the key 'field/lines'; write the key "
                             "of a row, field/NAME or scheme/KEY" },
    { "line/S = x", "these tables have nothing with the key 'line/S'; write the key of a row, "
                    "field/NAME or scheme/KEY" },
    { "port-ellery-1962/line/S/1963 = x", "these tables have nothing with the key "
      "'port-ellery-1962/line/S/1963'; write the key of a row, field/NAME or scheme/KEY" },
    { "field/engine = again", "the key 'field/engine' stands on line 2 already; take one of them "
                              "out" },
    { "field/line = \xFF", "the line is not UTF-8; save the text in that encoding" },
    { "field/line = caf\xE9", "the line is not UTF-8; save the text in that encoding" },
    { "field/line = \xC0\xAF", "the line is not UTF-8; save the text in that encoding" },
    { "field/line = \xED\xA0\x80", "the line is not UTF-8; save the text in that encoding" },
    { "field/line = \xF4\x90\x80\x80", "the line is not UTF-8; save the text in that encoding" },
    { "field/line = \xE2\x82", "the line is not UTF-8; save the text in that encoding" },
    { "field/line = \x1B[31mred", NULL },     { "field/line = a\x07", NULL },
    { "field/line = a\rb", NULL },            { "field/line = \x7F", NULL },
    { "field/line = \xC2\x85", NULL },        { "field/line = \xE2\x80\xAE" "egnar", NULL },
    { "field/line = \xE2\x80\x8F", NULL },    { "field/line = \xD8\x9C", NULL },
    { "field/line = \xE2\x81\xA6", NULL },    { "field/line = \xE2\x80\xA8", NULL },
    { "field/\x01line = x", NULL },
};

START_TEST(test_problem)
{
    char text[256];
    snprintf(text, sizeof text, "# names\nfield/engine = motor\n\n%s\nfield/body = shell\n",
             mistakes[_i].line);
    plw_names *names = names_of(text, strlen(text));
    ck_assert_uint_eq(plw_names_problem_count(names), 1);
    ck_assert_uint_eq(plw_names_problem_line(names, 0), 4);
    ck_assert_str_eq(problem_text(names, 0),
                     mistakes[_i].says ? mistakes[_i].says
                                       : "a control character or a mark that turns the direction "
                                         "of writing; take it out");
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), "line");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "engine")), "motor");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "body")), "shell");
    plw_names_free(names);
}
END_TEST

START_TEST(test_a_zero_byte_is_a_problem)
{
    static const char text[] = "field/line = a\0b\nfield/body = shell\n";
    plw_names *names = names_of(text, sizeof text - 1);
    ck_assert_uint_eq(plw_names_problem_count(names), 1);
    ck_assert_uint_eq(plw_names_problem_line(names, 0), 1);
    plw_names_free(names);
}
END_TEST

START_TEST(test_problems_come_by_line)
{
    static const char text[] = "z = 1\nfield/line = range\nnonsense\na = 1\nfield/line = 2\n"
                               "field/line = 3\nz = 2\n= 4\n";
    static const uint32_t lines[] = { 1, 3, 4, 5, 6, 7, 8 };
    plw_names *names = names_of(text, sizeof text - 1);
    ck_assert_uint_eq(plw_names_problem_count(names), 7);
    for (uint32_t i = 0; i < 7; i++)
        ck_assert_uint_eq(plw_names_problem_line(names, i), lines[i]);
    ck_assert_ptr_nonnull(strstr(problem_text(names, 4), "stands on line 2"));
    ck_assert_ptr_nonnull(strstr(problem_text(names, 5), "stands on line 1"));
    plw_names_free(names);
}
END_TEST

static void fill_line(char *text, const char *start, size_t length)
{
    memset(text, 'w', length);
    memcpy(text, start, strlen(start));
    text[length] = '\0';
}

START_TEST(test_limits_of_a_line)
{
    static const char key[] = "field/line = ";
    const size_t words = sizeof key - 1;
    char text[PLW_MAX_NAMES_LINE + 2];
    fill_line(text, key, words + PLW_MAX_WORDS);
    plw_names *names = names_of(text, strlen(text));
    ck_assert_uint_eq(plw_names_problem_count(names), 0);
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), text + words);
    ck_assert_ptr_nonnull(strstr(explained(r, PLW_FORMAT_JSON), text + words));
    plw_result_use_names(r, NULL);
    plw_names_free(names);

    fill_line(text, key, words + PLW_MAX_WORDS + 1);
    names = names_of(text, strlen(text));
    ck_assert_str_eq(problem_text(names, 0), "the words are longer than 512 bytes; write less");
    plw_names_free(names);

    fill_line(text, "", PLW_MAX_NAMES_LINE);
    memcpy(text + PLW_MAX_NAMES_LINE - 4, " = x", 4);
    names = names_of(text, strlen(text));
    ck_assert_ptr_nonnull(strstr(problem_text(names, 0), "nothing with the key"));
    plw_names_free(names);

    fill_line(text, "", PLW_MAX_NAMES_LINE + 1);
    names = names_of(text, strlen(text));
    ck_assert_str_eq(problem_text(names, 0), "the line is longer than 1024 bytes; write less");
    plw_names_free(names);
}
END_TEST

START_TEST(test_limit_of_the_text)
{
    char *text = malloc(PLW_MAX_NAMES + 1);
    plw_names *names = NULL;
    ck_assert_ptr_nonnull(text);
    memset(text, '\n', PLW_MAX_NAMES + 1);
    ck_assert_int_eq(plw_names_new(fixture_tables(), text, PLW_MAX_NAMES, &names), PLW_OK);
    plw_names_free(names);
    ck_assert_int_eq(plw_names_new(fixture_tables(), text, PLW_MAX_NAMES + 1, &names),
                     PLW_E_TOO_LONG);
    ck_assert_ptr_null(names);
    free(text);
}
END_TEST

/* In memory of the caller, names say what those from the heap say; not a byte
 * less will do, and none more is touched. */
START_TEST(test_names_in_memory_of_the_caller)
{
    static const char text[] = "field/line = Reihe\nnonsense\n# comment\n\nfield/x = y";
    const plw_tables *tables = fixture_tables();
    size_t size = plw_names_size(text, sizeof text - 1);
    unsigned char *memory = malloc(size + 8);
    plw_names *names = NULL;
    ck_assert_ptr_nonnull(memory);
    memset(memory, 0x5A, size + 8);
    ck_assert_int_eq(plw_names_place(tables, text, sizeof text - 1, memory, size - 1, &names),
                     PLW_E_MEMORY);
    ck_assert_ptr_null(names);
    ck_assert_int_eq(plw_names_place(tables, text, sizeof text - 1, memory + 1, size, &names),
                     PLW_E_MEMORY);
    ck_assert_int_eq(plw_names_place(tables, text, sizeof text - 1, memory, size, &names), PLW_OK);
    ck_assert_uint_eq(plw_names_problem_count(names), 2);
    ck_assert_uint_eq(plw_names_problem_line(names, 0), 2);
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), "Reihe");
    for (size_t i = 0; i < 8; i++)
        ck_assert_uint_eq(memory[size + i], 0x5A);
    free(memory);
}
END_TEST

START_TEST(test_what_names_place_refuses)
{
    plw_names *names = (plw_names *)1;
    uint64_t memory[64];
    ck_assert_int_eq(plw_names_place(NULL, "", 0, memory, sizeof memory, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_names_place(NULL, NULL, 1, memory, sizeof memory, &names),
                     PLW_E_ARGUMENT);
    ck_assert_ptr_null(names);
    ck_assert_int_eq(plw_names_place(NULL, "", 0, NULL, sizeof memory, &names), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_names_place(NULL, "", PLW_MAX_NAMES + 1, memory, sizeof memory, &names),
                     PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_names_place(NULL, NULL, 0, memory, sizeof memory, &names), PLW_OK);
    ck_assert_uint_eq(plw_names_size(NULL, 1), 0);
    ck_assert_uint_eq(plw_names_size("", PLW_MAX_NAMES + 1), 0);
}
END_TEST

START_TEST(test_problem_texts_keep_the_rules_of_buffers)
{
    plw_names *names = names_of("nonsense", 8);
    char buffer[100];
    size_t needed = 0;
    ck_assert_int_eq(plw_names_problem_text(names, 0, NULL, 0, &needed), PLW_E_SHORT);
    ck_assert_int_eq(plw_names_problem_text(names, 0, buffer, needed, NULL), PLW_OK);
    ck_assert_uint_eq(strlen(buffer) + 1, needed);
    ck_assert_int_eq(plw_names_problem_text(names, 0, buffer, needed - 1, NULL), PLW_E_SHORT);
    ck_assert_str_eq(buffer, "");
    ck_assert_int_eq(plw_names_problem_text(names, 1, buffer, sizeof buffer, NULL),
                     PLW_E_ARGUMENT);
    ck_assert_uint_eq(plw_names_problem_line(names, 1), 0);
    plw_names_free(names);
}
END_TEST

START_TEST(test_arguments_are_checked)
{
    plw_names *names = (plw_names *)1;
    ck_assert_int_eq(plw_names_new(NULL, "", 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_names_new(NULL, NULL, 1, &names), PLW_E_ARGUMENT);
    ck_assert_ptr_null(names);
    ck_assert_int_eq(plw_result_use_names(NULL, NULL), PLW_E_ARGUMENT);
    ck_assert_uint_eq(plw_names_problem_count(NULL), 0);
    ck_assert_uint_eq(plw_names_problem_line(NULL, 0), 0);
    ck_assert_int_eq(plw_names_problem_text(NULL, 0, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_str_eq(plw_names_title(NULL, 0), "");
    ck_assert_str_eq(plw_field_words(NULL, 0, 0, 0), "");
    ck_assert_str_eq(plw_reading_title(NULL, 0), "");
    plw_names_free(NULL);
    names = sample();
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_names_title(names, plw_scheme_count(fixture_tables())), "");
    ck_assert_str_eq(plw_field_words(r, 0, 0, 99), "");
    ck_assert_str_eq(plw_field_words(r, 0, 99, 0), "");
    ck_assert_str_eq(plw_field_words(r, 99, 0, 0), "");
    ck_assert_str_eq(plw_reading_title(r, 99), "");
    plw_names_free(names);
}
END_TEST

/* ---- hostile names ----------------------------------------------------------------- */

START_TEST(test_words_never_become_markup)
{
    static const char text[] =
        "port-ellery-1962/line/S/1964 = <b>\"x\"</b> | `a` [l](u) \\ *s* {field} %s\n"
        "field/line = | <i>\n"
        "scheme/port-ellery-1962 = # <script>\n";
    plw_names *names = names_of(text, sizeof text - 1);
    plw_result *r = validate_with(names, "S31K5N500123");
    const char *markdown = explained(r, PLW_FORMAT_MARKDOWN);
    ck_assert_ptr_nonnull(strstr(markdown, "\\<b\\>\"x\"\\</b\\> \\| \\`a\\` \\[l\\](u) \\\\ "
                                           "\\*s\\* {field} %s"));
    ck_assert_ptr_nonnull(strstr(markdown, "## \\# \\<script\\>"));
    ck_assert_ptr_nonnull(strstr(markdown, "| \\| \\<i\\> |"));
    const char *json = explained(r, PLW_FORMAT_JSON);
    ck_assert_ptr_nonnull(strstr(json, "\"words\":\"<b>\\\"x\\\"</b> | `a` [l](u) \\\\ *s* "
                                       "{field} %s\""));
    ck_assert_ptr_nonnull(strstr(probe_sentence(r, PLW_FINDING_NOT_BUILT), "{field} %s) with"));
    plw_names_free(names);
}
END_TEST

/* The widest words still leave a page of 80 columns. */
START_TEST(test_long_words_keep_to_the_page)
{
    static const char *const keys[] = { "field/line", "scheme/port-ellery-1962",
                                        "port-ellery-1962/line/S/1964" };
    char text[3 * (PLW_MAX_WORDS + 64)] = "";
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        char start[64];
        snprintf(start, sizeof start, "%s = ", keys[i]);
        fill_line(text + strlen(text), start, strlen(start) + PLW_MAX_WORDS);
        strcat(text, "\n");
    }
    plw_names *names = names_of(text, strlen(text));
    ck_assert_uint_eq(plw_names_problem_count(names), 0);
    const char *page = explained(validate_with(names, "S31K5N500123"), PLW_FORMAT_TEXT);
    for (size_t length; *page; page += length + (page[length] != '\0')) {
        length = strcspn(page, "\n");
        ck_assert_uint_le(length, 80);
    }
    plw_names_free(names);
}
END_TEST

START_TEST(test_a_hundred_thousand_lines)
{
    const uint32_t lines = 100000;
    char *text = malloc(PLW_MAX_NAMES);
    size_t used = 0;
    ck_assert_ptr_nonnull(text);
    for (uint32_t i = 1; i <= lines; i++)
        used += i % 1000 == 500
                    ? (size_t)sprintf(text + used, "field/line = %u\n", i)
                    : (size_t)sprintf(text + used, "key/%u = words\n", i * 7919 % lines);
    plw_names *names = names_of(text, used);
    ck_assert_uint_eq(plw_names_problem_count(names), lines - 1);
    for (uint32_t i = 1; i < plw_names_problem_count(names); i++)
        ck_assert_uint_lt(plw_names_problem_line(names, i - 1), plw_names_problem_line(names, i));
    plw_result *r = validate_with(names, "S24M6P100051");
    ck_assert_str_eq(plw_field_label(r, 0, probe_field(r, 0, "line")), "500");
    plw_names_free(names);
    free(text);
}
END_TEST

/* Bytes without sense, and what they leave of the sample's own. */
START_TEST(test_random_bytes_do_no_harm)
{
    static const char signs[] = "= \n\t#/abfield/line\xC3\xA9\xE2\x80\xAE\xFF\x01";
    uint32_t random = (uint32_t)_i * 2654435761u + 1;
    size_t size;
    char *text = fixture_text(SAMPLE, &size);
    for (size_t i = 0; i < size / 8; i++) {
        random = random * 1664525u + 1013904223u;
        text[(random >> 8) % size] = signs[(random >> 4) % (sizeof signs - 1)];
    }
    plw_names *names = names_of(text, size);
    ck_assert_uint_gt(plw_names_problem_count(names), 0);
    for (uint32_t i = 0; i < plw_names_problem_count(names); i++)
        for (const char *c = problem_text(names, i); *c; c++)
            ck_assert_int_ne(*c, 1);
    plw_result *r = validate_with(names, "S31K5N500123");
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++) {
        const char *output = explained(r, format);
        ck_assert_ptr_null(strchr(output, 1));
        ck_assert_ptr_null(strstr(output, "\xE2\x80\xAE"));
        ck_assert_ptr_null(strchr(output, '\xFF'));
    }
    plw_names_free(names);
    free(text);
}
END_TEST

#define LENGTH(array) ((int)(sizeof(array) / sizeof *(array)))

static void add(TCase *test)
{
    tcase_add_test(test, test_the_sample_is_good);
    tcase_add_test(test, test_accessors_give_the_names);
    tcase_add_test(test, test_what_has_no_name_keeps_its_words);
    tcase_add_test(test, test_names_change_words_only);
    tcase_add_loop_test(test, test_sentences_have_the_names, 0, LENGTH(sentences));
    tcase_add_test(test, test_conditions_have_the_names);
    tcase_add_loop_test(test, test_explanations_have_the_names, PLW_FORMAT_TEXT,
                        PLW_FORMAT_HTML + 1);
    tcase_add_test(test, test_places_have_the_names);
    tcase_add_test(test, test_everything_can_be_named);
    tcase_add_test(test, test_each_row_gets_its_own_words);
    tcase_add_test(test, test_names_stay_until_they_are_taken_away);
    tcase_add_test(test, test_a_new_result_has_no_names);
    tcase_add_test(test, test_names_of_other_tables_say_nothing);
    tcase_add_test(test, test_nothing_means_the_tables_that_are_built_in);
    tcase_add_loop_test(test, test_ways_to_write_the_text, 0, 8);
    tcase_add_test(test, test_words_may_hold_what_keys_are_made_of);
    tcase_add_loop_test(test, test_all_languages_are_words, 0, 6);
    tcase_add_test(test, test_an_empty_text_names_nothing);
    tcase_add_loop_test(test, test_problem, 0, LENGTH(mistakes));
    tcase_add_test(test, test_a_zero_byte_is_a_problem);
    tcase_add_test(test, test_problems_come_by_line);
    tcase_add_test(test, test_limits_of_a_line);
    tcase_add_test(test, test_limit_of_the_text);
    tcase_add_test(test, test_names_in_memory_of_the_caller);
    tcase_add_test(test, test_what_names_place_refuses);
    tcase_add_test(test, test_problem_texts_keep_the_rules_of_buffers);
    tcase_add_test(test, test_arguments_are_checked);
    tcase_add_test(test, test_words_never_become_markup);
    tcase_add_test(test, test_long_words_keep_to_the_page);
    tcase_add_test(test, test_a_hundred_thousand_lines);
    tcase_add_loop_test(test, test_random_bytes_do_no_harm, 0, 40);
}

int main(void)
{
    return probe_run("names", add);
}
