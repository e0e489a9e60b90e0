/* SPDX-License-Identifier: MIT
 *
 * Looking around in tables: schemes, layouts, rows, sources, cautions, and the
 * names the library has for its own numbers.
 */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "../tables/compile/compile.h"
#include "fixture.h"
#include "platewright.h"

/* ---- Tools ----------------------------------------------------------- */

static const plw_tables *tables;

static void open_fixture(void)
{
    tables = fixture_tables();
    ck_assert_ptr_nonnull(tables);
}

static const char *key_of(uint32_t row)
{
    static char key[256];
    ck_assert_int_eq(plw_row_key(tables, row, key, sizeof key, NULL), PLW_OK);
    return key;
}

static const char *condition_of(uint32_t row)
{
    static char condition[256];
    ck_assert_int_eq(plw_row_condition(tables, row, condition, sizeof condition, NULL), PLW_OK);
    return condition;
}

/* The row with this key. */
static uint32_t row_named(const char *key)
{
    for (uint32_t row = 0; row < plw_row_count(tables); row++)
        if (strcmp(key_of(row), key) == 0)
            return row;
    ck_abort_msg("no row has the key %s", key);
    return PLW_NONE;
}

/* ---- The whole ------------------------------------------------------- */

START_TEST(counts_of_the_fixture)
{
    ck_assert_str_eq(plw_tables_edition(tables), "2026-11-25");
    ck_assert_uint_eq(plw_scheme_count(tables), 2);
    ck_assert_uint_eq(plw_row_count(tables), 56);
    ck_assert_uint_eq(plw_caution_count(tables), 3);
    ck_assert_uint_ge(plw_source_count(tables), 4);
}
END_TEST

START_TEST(null_stands_for_the_compiled_in_tables)
{
    const plw_tables *builtin = plw_tables_builtin();
    char digest[17], same[17];
    ck_assert_uint_gt(plw_scheme_count(NULL), 0);
    ck_assert_uint_eq(plw_scheme_count(NULL), plw_scheme_count(builtin));
    ck_assert_uint_eq(plw_row_count(NULL), plw_row_count(builtin));
    ck_assert_ptr_eq(plw_scheme_key(NULL, 0), plw_scheme_key(builtin, 0));
    ck_assert_ptr_eq(plw_row_words(NULL, 0), plw_row_words(builtin, 0));
    ck_assert_ptr_eq(plw_caution_text(NULL, 0), plw_caution_text(builtin, 0));
    ck_assert_int_eq(plw_tables_digest(NULL, digest, sizeof digest, NULL), PLW_OK);
    ck_assert_int_eq(plw_tables_digest(builtin, same, sizeof same, NULL), PLW_OK);
    ck_assert_str_eq(digest, same);
}
END_TEST

/* ---- Schemes and layouts --------------------------------------------- */

START_TEST(a_scheme_tells_about_itself)
{
    ck_assert_str_eq(plw_scheme_key(tables, 0), "port-ellery-1962");
    ck_assert_str_eq(plw_scheme_title(tables, 0), "Wexcombe cars of Port Ellery, 1962-1975");
    ck_assert_int_eq(plw_scheme_first_year(tables, 0), 1962);
    ck_assert_int_eq(plw_scheme_last_year(tables, 0), 1975);
    ck_assert_uint_eq(plw_scheme_first_row(tables, 0), 0);
    ck_assert_uint_eq(plw_scheme_row_count(tables, 0), 46);
    ck_assert_str_eq(plw_scheme_key(tables, 1), "port-ellery-1976");
    ck_assert_uint_eq(plw_scheme_first_row(tables, 1), 46);
    ck_assert_uint_eq(plw_scheme_row_count(tables, 1), 10);
}
END_TEST

START_TEST(a_layout_tells_length_and_sample)
{
    ck_assert_uint_eq(plw_layout_count(tables, 0), 1);
    ck_assert_uint_eq(plw_layout_length(tables, 0, 0), 12);
    ck_assert_str_eq(plw_layout_sample(tables, 0, 0), "T24K3P100051");
    ck_assert_uint_eq(plw_layout_count(tables, 1), 1);
    ck_assert_uint_eq(plw_layout_length(tables, 1, 0), 10);
    ck_assert_str_eq(plw_layout_sample(tables, 1, 0), "XTA3012345");
}
END_TEST

/* The layouts of the schemes, taken together, are those of the tables, and a
 * sample is as long as its layout. Held to all tables that are compiled in. */
START_TEST(every_layout_has_a_sample_of_its_length)
{
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++) {
        ck_assert_uint_gt(plw_layout_count(NULL, scheme), 0);
        for (uint32_t layout = 0; layout < plw_layout_count(NULL, scheme); layout++) {
            const char *sample = plw_layout_sample(NULL, scheme, layout);
            ck_assert_uint_eq(strlen(sample), plw_layout_length(NULL, scheme, layout));
        }
    }
}
END_TEST

START_TEST(schemes_and_layouts_that_are_not_there)
{
    static const uint32_t beyond[] = { 2, 3, 0x10000, PLW_NONE };
    uint32_t index = beyond[_i];
    ck_assert_str_eq(plw_scheme_key(tables, index), "");
    ck_assert_str_eq(plw_scheme_title(tables, index), "");
    ck_assert_int_eq(plw_scheme_first_year(tables, index), 0);
    ck_assert_int_eq(plw_scheme_last_year(tables, index), 0);
    ck_assert_uint_eq(plw_scheme_first_row(tables, index), PLW_NONE);
    ck_assert_uint_eq(plw_scheme_row_count(tables, index), 0);
    ck_assert_uint_eq(plw_layout_count(tables, index), 0);
    ck_assert_uint_eq(plw_layout_length(tables, index, 0), 0);
    ck_assert_uint_eq(plw_layout_length(tables, 0, index), 0);
    ck_assert_str_eq(plw_layout_sample(tables, index, 0), "");
    ck_assert_str_eq(plw_layout_sample(tables, 0, index), "");
}
END_TEST

/* ---- Rows ------------------------------------------------------------ */

START_TEST(a_row_tells_about_itself)
{
    uint32_t row = row_named("port-ellery-1962/line/H/1970");
    ck_assert_uint_eq(plw_row_scheme(tables, row), 0);
    ck_assert_str_eq(plw_row_field(tables, row), "line");
    ck_assert_str_eq(plw_row_label(tables, row), "line");
    ck_assert_str_eq(plw_row_code(tables, row), "H");
    ck_assert_str_eq(plw_row_words(tables, row), "Harrier, sporting line");
    ck_assert_str_eq(plw_row_remark(tables, row), "the letter was used again");
    ck_assert_int_eq(plw_row_standing(tables, row), PLW_STANDING_MEMORY);
    ck_assert_uint_eq(plw_row_marks(tables, row), 0);
    ck_assert_uint_eq(plw_row_source_count(tables, row), 0);
    ck_assert_uint_eq(plw_row_source(tables, row, 0), PLW_NONE);
    ck_assert_int_eq(plw_row_first_year(tables, row), 1970);
    ck_assert_int_eq(plw_row_last_year(tables, row), 1975);
}
END_TEST

START_TEST(a_row_holds_in_its_years_only)
{
    uint32_t row = row_named("port-ellery-1962/year/2/1962");
    for (int32_t year = 1900; year <= 2100; year++)
        ck_assert_int_eq(plw_row_holds_in(tables, row, year), year == 1962 || year == 1972);
    ck_assert_int_eq(plw_row_holds_in(tables, row, INT32_MIN), 0);
    ck_assert_int_eq(plw_row_holds_in(tables, row, INT32_MAX), 0);
    ck_assert_int_eq(plw_row_first_year(tables, row), 1962);
    ck_assert_int_eq(plw_row_last_year(tables, row), 1972);
}
END_TEST

START_TEST(label_and_name_of_a_field_differ)
{
    uint32_t row = row_named("port-ellery-1962/engine_power/K/1962");
    ck_assert_str_eq(plw_row_field(tables, row), "engine_power");
    ck_assert_str_eq(plw_row_label(tables, row), "advertised power");
}
END_TEST

START_TEST(standings_and_marks)
{
    uint32_t published = row_named("port-ellery-1962/line/T/1962");
    uint32_t practice = row_named("port-ellery-1962/body/31/1962");
    uint32_t doubtful = row_named("port-ellery-1962/line/V/1966");
    uint32_t disputed = row_named("port-ellery-1962/engine/R/1969/eight");
    uint32_t either = row_named("port-ellery-1962/engine/W/1972/big");
    ck_assert_int_eq(plw_row_standing(tables, published), PLW_STANDING_PUBLISHED);
    ck_assert_int_eq(plw_row_standing(tables, practice), PLW_STANDING_PRACTICE);
    ck_assert_uint_eq(plw_row_marks(tables, doubtful), PLW_MARK_DOUBTFUL);
    ck_assert_uint_eq(plw_row_marks(tables, disputed), PLW_MARK_DISPUTED);
    ck_assert_uint_eq(plw_row_marks(tables, either), PLW_MARK_EITHER);
}
END_TEST

START_TEST(sources_of_a_row)
{
    uint32_t row = row_named("port-ellery-1962/line/V/1966");
    ck_assert_uint_eq(plw_row_source_count(tables, row), 1);
    uint32_t source = plw_row_source(tables, row, 0);
    ck_assert_str_eq(plw_source_key(tables, source), "club-list");
    ck_assert_str_eq(plw_source_citation(tables, source),
                     "Register of the Port Ellery owners' club, 1988");
    ck_assert_str_eq(plw_source_address(tables, source), "https://club.example/register");
    ck_assert_uint_eq(plw_row_source(tables, row, 1), PLW_NONE);
}
END_TEST

START_TEST(a_source_without_address)
{
    uint32_t source = plw_row_source(tables, row_named("port-ellery-1962/line/T/1962"), 0);
    ck_assert_str_eq(plw_source_key(tables, source), "handbook-63");
    ck_assert_str_eq(plw_source_address(tables, source), "");
}
END_TEST

START_TEST(rows_that_are_not_there)
{
    uint32_t row = _i == 0 ? plw_row_count(tables) : PLW_NONE;
    char buffer[8] = "before";
    int64_t quantity = 7;
    size_t needed = 7;
    ck_assert_uint_eq(plw_row_scheme(tables, row), PLW_NONE);
    ck_assert_str_eq(plw_row_field(tables, row), "");
    ck_assert_str_eq(plw_row_label(tables, row), "");
    ck_assert_str_eq(plw_row_code(tables, row), "");
    ck_assert_str_eq(plw_row_words(tables, row), "");
    ck_assert_str_eq(plw_row_remark(tables, row), "");
    ck_assert_int_eq(plw_row_standing(tables, row), PLW_E_ARGUMENT);
    ck_assert_uint_eq(plw_row_marks(tables, row), 0);
    ck_assert_int_eq(plw_row_holds_in(tables, row, 1966), 0);
    ck_assert_int_eq(plw_row_first_year(tables, row), 0);
    ck_assert_int_eq(plw_row_last_year(tables, row), 0);
    ck_assert_uint_eq(plw_row_attribute_count(tables, row), 0);
    ck_assert_str_eq(plw_row_attribute_name(tables, row, 0), "");
    ck_assert_uint_eq(plw_row_source_count(tables, row), 0);
    ck_assert_uint_eq(plw_row_source(tables, row, 0), PLW_NONE);
    ck_assert_int_eq(plw_row_quantity(tables, row, "cid", &quantity), PLW_E_ARGUMENT);
    ck_assert_int_eq(quantity, 7);
    ck_assert_int_eq(plw_row_key(tables, row, buffer, sizeof buffer, &needed), PLW_E_ARGUMENT);
    ck_assert_str_eq(buffer, "");
    ck_assert_uint_eq(needed, 0);
    ck_assert_int_eq(plw_row_condition(tables, row, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_row_attribute_text(tables, row, 0, NULL, 0, NULL), PLW_E_ARGUMENT);
}
END_TEST

START_TEST(sources_and_cautions_that_are_not_there)
{
    uint32_t beyond = _i == 0 ? plw_source_count(tables) : PLW_NONE;
    ck_assert_str_eq(plw_source_key(tables, beyond), "");
    ck_assert_str_eq(plw_source_citation(tables, beyond), "");
    ck_assert_str_eq(plw_source_address(tables, beyond), "");
    ck_assert_str_eq(plw_caution_text(tables, beyond), "");
    ck_assert_str_ne(plw_caution_text(tables, plw_caution_count(tables) - 1), "");
}
END_TEST

/* ---- Keys and conditions --------------------------------------------- */

/* A key of the fixture and its condition in words. */
static const struct {
    const char *key;
    const char *condition;
} keys[] = {
    { "port-ellery-1962/line/T/1962", "" },
    { "port-ellery-1962/body/23/1964/line=S", "line is S" },
    { "port-ellery-1962/engine/M/1966", "" },
    { "port-ellery-1962/engine/M/1966/line=S", "line is S" },
    { "port-ellery-1962/engine/R/1969/six", "" },
    { "port-ellery-1962/sequence/100001+/1962/plant=P", "plant is P" },
    { "port-ellery-1962/sequence/500001+/1965/plant=N", "plant is N" },
    { "port-ellery-1962/engine_line/SR/1964", "" },
    { "port-ellery-1962/plate_location/scuttle, left side/1962", "" },
    { "port-ellery-1962/engine_line/closed/1964/line=S", "line is S" },
    { "port-ellery-1976/check/required/1976/region=Export", "region is Export" },
    { "port-ellery-1976/span/0/1976/check=fits", "check digit fits" },
    { "port-ellery-1976/span/1-9/1979/check=fits", "check digit fits" },
};

START_TEST(keys_and_conditions)
{
    ck_assert_str_eq(condition_of(row_named(keys[_i].key)), keys[_i].condition);
}
END_TEST

/* A scheme whose rows have conditions of every kind. */
static const char conditional_scheme[] =
    "[scheme]\nkey maple-1990\ntitle Maple, 1990-1991\nyears 1990-1991\n"
    "[fields]\n"
    "l line code A-D\ne engine code J-M\nc check check 0-9X\ns sequence run 0-9\n"
    "d engine_power detail -\n"
    "[layout]\nsample AJ01000\nruler lecssss\nruler .d.....\n"
    "[check check]\nvalues A1 B2 C3 D4 J1 K2 L3 M4\nweights 2 3 0 4 5 6 7\nmodulus 11\n"
    "digits 0123456789X\n"
    "[line]\nA-D all - practice - - a line\n"
    "[engine]\n"
    "J all - practice - cid=340,fuel=gasoline engine J\n"
    "K all - practice - cid=225.5,fuel=gasoline engine K\n"
    "L all - practice - cid=318,fuel=diesel engine L\n"
    "M all - practice - cid=400,fuel=gasoline engine M\n"
    "[sequence]\n1000-7999 all - practice - - a running number\n"
    "8000+ all - practice - - another\n"
    "[engine_power]\n"
    "J 1990 line=B|D,engine=J practice - hp_net=1 one\n"
    "K 1990 line=A-D practice - hp_net=2 two\n"
    "K 1991 cid=225.5|318 practice - hp_net=3 three\n"
    "L 1991 fuel=diesel,check=fails practice - hp_net=4 four\n"
    "M 1990 check=fits|fails practice - hp_net=5 five\n"
    "M 1991 sequence=1000-1999|3000|9000+ practice - hp_net=6,tag=late six\n";

static const struct {
    const char *key;
    const char *condition;
} conditions[] = {
    { "J/1990/line=B|D,engine=J", "line is B or D and engine is J" },
    { "K/1990/line=A|B|C|D", "line is A, B, C or D" },
    { "K/1991/cid=225.5|318", "displacement is 225.5 or 318 cu in" },
    { "L/1991/fuel=diesel,check=fails", "fuel is diesel and check digit does not fit" },
    { "M/1990/check=fits|fails", "check digit fits or does not fit" },
    { "M/1991/sequence=1000-1999|3000|9000+/late",
      "sequence is 1000 to 1999, 3000 or 9000 or higher" },
};

/* Compiles a scheme with the shared vocabulary; ends the test when it cannot. */
static tc_compilation *compile(const char *scheme)
{
    size_t size;
    char *vocabulary = fixture_text("tables/vocabulary.txt", &size);
    tc_compilation *c = tc_new();
    tc_add(c, "vocabulary.txt", vocabulary, size);
    tc_add(c, "scheme", scheme, strlen(scheme));
    free(vocabulary);
    ck_assert_msg(tc_finish(c), "%s", tc_message_count(c) ? tc_message(c, 0) : "");
    return c;
}

START_TEST(conditions_of_every_kind)
{
    char key[128] = "maple-1990/engine_power/";
    size_t size;
    tc_compilation *c = compile(conditional_scheme);
    const unsigned char *image = tc_image(c, &size);
    ck_assert_int_eq(plw_tables_open(image, size, 0, &tables), PLW_OK);
    strcat(key, conditions[_i].key);
    ck_assert_str_eq(condition_of(row_named(key)), conditions[_i].condition);
    tc_free(c);
}
END_TEST

START_TEST(keys_are_unique)
{
    for (uint32_t row = 0; row < plw_row_count(tables); row++) {
        char key[256];
        strcpy(key, key_of(row));
        for (uint32_t other = 0; other < row; other++)
            ck_assert_str_ne(key_of(other), key);
    }
}
END_TEST

/* ---- Attributes ------------------------------------------------------ */

START_TEST(attributes_in_order)
{
    static const char *const expected[][2] = {
        { "cid", "212" },
        { "cyl", "6" },
        { "carb", "2x1" },
    };
    uint32_t row = row_named("port-ellery-1962/engine/R/1964");
    ck_assert_uint_eq(plw_row_attribute_count(tables, row), 3);
    for (uint32_t i = 0; i < 3; i++) {
        char text[8];
        size_t needed = 0;
        ck_assert_str_eq(plw_row_attribute_name(tables, row, i), expected[i][0]);
        ck_assert_int_eq(plw_row_attribute_text(tables, row, i, text, sizeof text, &needed),
                         PLW_OK);
        ck_assert_str_eq(text, expected[i][1]);
        ck_assert_uint_eq(needed, strlen(text) + 1);
    }
    ck_assert_str_eq(plw_row_attribute_name(tables, row, 3), "");
    ck_assert_int_eq(plw_row_attribute_text(tables, row, 3, NULL, 0, NULL), PLW_E_ARGUMENT);
}
END_TEST

static const struct {
    const char *row;
    const char *name;
    int32_t status;
    int64_t thousandths;
} quantities[] = {
    { "port-ellery-1962/engine/R/1964", "cid", PLW_OK, 212000 },
    { "port-ellery-1962/engine/R/1964", "cc", PLW_OK, 3474058 }, /* 3474.057568 */
    { "port-ellery-1962/engine/K/1962", "cc", PLW_OK, 1490000 },
    { "port-ellery-1962/engine/K/1962", "cid", PLW_OK, 90925 },      /* 90.925379... */
    { "port-ellery-1962/engine/W/1972/big", "cid", PLW_OK, 120827 }, /* 120.827013... */
    { "port-ellery-1962/engine/M/1966", "cc", PLW_OK, 4260637 },     /* 4260.63664 */
    { "port-ellery-1962/engine/R/1964", "cyl", PLW_OK, 6000 },
    { "port-ellery-1962/engine_power/R/1964/line=S", "hp_gross", PLW_OK, 128000 },
    { "port-ellery-1962/engine/R/1964", "hp_gross", PLW_E_ABSENT, 0 },
    { "port-ellery-1962/engine/R/1964", "carb", PLW_E_ABSENT, 0 }, /* stated, but not a number */
    { "port-ellery-1962/engine/R/1964", "", PLW_E_ABSENT, 0 },
    { "port-ellery-1962/line/T/1962", "cid", PLW_E_ABSENT, 0 },
    { "port-ellery-1962/line/T/1962", "cc", PLW_E_ABSENT, 0 },
};

START_TEST(quantities_in_thousandths)
{
    uint32_t row = row_named(quantities[_i].row);
    int64_t thousandths = -1;
    int32_t status = plw_row_quantity(tables, row, quantities[_i].name, &thousandths);
    ck_assert_int_eq(status, quantities[_i].status);
    ck_assert_int_eq(thousandths, status == PLW_OK ? quantities[_i].thousandths : -1);
}
END_TEST

START_TEST(quantities_need_arguments)
{
    int64_t thousandths = -1;
    ck_assert_int_eq(plw_row_quantity(tables, 0, NULL, &thousandths), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_row_quantity(tables, 0, "cid", NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(thousandths, -1);
}
END_TEST

/* ---- Text out -------------------------------------------------------- */

/* Every capacity from none to one too many: the whole text or the empty one. */
START_TEST(text_out_is_whole_or_empty)
{
    uint32_t row = row_named("port-ellery-1962/body/23/1964/line=S");
    const char *whole = "port-ellery-1962/body/23/1964/line=S";
    size_t size = strlen(whole) + 1;
    char buffer[64];
    for (size_t capacity = 0; capacity <= size + 1; capacity++) {
        size_t needed = 0;
        memset(buffer, '#', sizeof buffer);
        int32_t status = plw_row_key(tables, row, buffer, capacity, &needed);
        ck_assert_int_eq(status, capacity < size ? PLW_E_SHORT : PLW_OK);
        ck_assert_uint_eq(needed, size);
        if (capacity > 0)
            ck_assert_str_eq(buffer, capacity < size ? "" : whole);
        for (size_t i = capacity; i < sizeof buffer; i++)
            ck_assert_int_eq(buffer[i], '#');
    }
}
END_TEST

START_TEST(text_out_only_asked_for_its_size)
{
    uint32_t row = row_named("port-ellery-1962/body/23/1964/line=S");
    size_t needed = 0;
    ck_assert_int_eq(plw_row_condition(tables, row, NULL, 0, &needed), PLW_E_SHORT);
    ck_assert_uint_eq(needed, sizeof "line is S");
    ck_assert_int_eq(plw_row_condition(tables, row, NULL, 99, NULL), PLW_E_SHORT);
}
END_TEST

/* ---- The library's own numbers --------------------------------------- */

START_TEST(statuses_have_names_and_sentences)
{
    static const struct {
        int32_t status;
        const char *name;
    } statuses[] = {
        { PLW_OK, "PLW_OK" },
        { PLW_E_ARGUMENT, "PLW_E_ARGUMENT" },
        { PLW_E_FLAGS, "PLW_E_FLAGS" },
        { PLW_E_TOO_LONG, "PLW_E_TOO_LONG" },
        { PLW_E_MEMORY, "PLW_E_MEMORY" },
        { PLW_E_SHORT, "PLW_E_SHORT" },
        { PLW_E_IMAGE, "PLW_E_IMAGE" },
        { PLW_E_VERSION, "PLW_E_VERSION" },
        { PLW_E_ABSENT, "PLW_E_ABSENT" },
        { PLW_E_HINT, "PLW_E_HINT" },
        { PLW_E_CLAIM, "PLW_E_CLAIM" },
    };
    for (size_t i = 0; i < sizeof statuses / sizeof *statuses; i++) {
        const char *text = plw_status_text(statuses[i].status);
        ck_assert_str_eq(plw_status_name(statuses[i].status), statuses[i].name);
        ck_assert_int_eq(text[strlen(text) - 1], '.');
        ck_assert_str_ne(text, plw_status_text(1));
    }
}
END_TEST

START_TEST(statuses_of_later_releases_have_a_name_too)
{
    static const int32_t unknown[] = { 1, PLW_E_CLAIM - 1, INT32_MIN, INT32_MAX };
    ck_assert_str_eq(plw_status_name(unknown[_i]), "unknown status");
    ck_assert_str_eq(plw_status_text(unknown[_i]), "Unknown status.");
}
END_TEST

START_TEST(names_of_standings_and_grades)
{
    ck_assert_str_eq(plw_standing_name(PLW_STANDING_PUBLISHED), "published");
    ck_assert_str_eq(plw_standing_name(PLW_STANDING_PRACTICE), "practice");
    ck_assert_str_eq(plw_standing_name(PLW_STANDING_MEMORY), "memory");
    ck_assert_str_eq(plw_standing_name(-1), "");
    ck_assert_str_eq(plw_standing_name(3), "");
    ck_assert_str_eq(plw_grade_name(PLW_GRADE_CLEAR), "clear");
    ck_assert_str_eq(plw_grade_name(PLW_GRADE_NOTE), "note");
    ck_assert_str_eq(plw_grade_name(PLW_GRADE_DOUBT), "doubt");
    ck_assert_str_eq(plw_grade_name(PLW_GRADE_FAULT), "fault");
    ck_assert_str_eq(plw_grade_name(-1), "");
    ck_assert_str_eq(plw_grade_name(4), "");
}
END_TEST

START_TEST(version_is_that_of_the_header)
{
    ck_assert_uint_eq(plw_version_number(), PLW_VERSION_NUMBER);
    ck_assert_str_eq(plw_version_text(), PLW_VERSION_TEXT);
}
END_TEST

#define COUNT(array) ((int)(sizeof(array) / sizeof *(array)))

static Suite *tables_suite(void)
{
    Suite *suite = suite_create("tables");
    TCase *tc = tcase_create("accessors");
    tcase_add_checked_fixture(tc, open_fixture, NULL);
    tcase_add_test(tc, counts_of_the_fixture);
    tcase_add_test(tc, null_stands_for_the_compiled_in_tables);
    tcase_add_test(tc, a_scheme_tells_about_itself);
    tcase_add_test(tc, a_layout_tells_length_and_sample);
    tcase_add_test(tc, every_layout_has_a_sample_of_its_length);
    tcase_add_loop_test(tc, schemes_and_layouts_that_are_not_there, 0, 4);
    tcase_add_test(tc, a_row_tells_about_itself);
    tcase_add_test(tc, a_row_holds_in_its_years_only);
    tcase_add_test(tc, label_and_name_of_a_field_differ);
    tcase_add_test(tc, standings_and_marks);
    tcase_add_test(tc, sources_of_a_row);
    tcase_add_test(tc, a_source_without_address);
    tcase_add_loop_test(tc, rows_that_are_not_there, 0, 2);
    tcase_add_loop_test(tc, sources_and_cautions_that_are_not_there, 0, 2);
    tcase_add_loop_test(tc, keys_and_conditions, 0, COUNT(keys));
    tcase_add_loop_test(tc, conditions_of_every_kind, 0, COUNT(conditions));
    tcase_add_test(tc, keys_are_unique);
    tcase_add_test(tc, attributes_in_order);
    tcase_add_loop_test(tc, quantities_in_thousandths, 0, COUNT(quantities));
    tcase_add_test(tc, quantities_need_arguments);
    tcase_add_test(tc, text_out_is_whole_or_empty);
    tcase_add_test(tc, text_out_only_asked_for_its_size);
    tcase_add_test(tc, statuses_have_names_and_sentences);
    tcase_add_loop_test(tc, statuses_of_later_releases_have_a_name_too, 0, 4);
    tcase_add_test(tc, names_of_standings_and_grades);
    tcase_add_test(tc, version_is_that_of_the_header);
    suite_add_tcase(suite, tc);
    return suite;
}

int main(void)
{
    SRunner *runner = srunner_create(tables_suite());
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
