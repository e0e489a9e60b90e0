/* SPDX-License-Identifier: MIT
 *
 * Explain: exact texts on the frozen fixture, the width of a page, the buffer
 * contract, and that no text from a table can turn into markup.
 *
 * With the argument "json" it runs no test but prints one explanation a line,
 * for json_schema.py.
 */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fixture.h"
#include "image.h"
#include "platewright.h"
#include "probe.h"

#define PAGE_WIDTH 80

/* Numbers of every kind: plain, disputed, ambiguous, misread, unreadable,
 * unknown, contradictory, too long, hardly a number at all. */
static const char *const numbers[] = {
    "T24K3P100051",
    "t24k-3p-100051",
    "S23R8N500001",
    "H27R9P100200",
    "T24W2P100001",
    "T24K2P100001",
    "S23Z8N500010",
    "S23K6P100001",
    "XT43012345",
    "V24M6P100001",
    "T24K3PO00051",
    "T24K?P100051",
    "T24[KM]6P100051",
    "?23????5?????",
    "????????????",
    "[ABCDEFGHIJKLMNOPQRSTUVWXYZ]24[ABCDEFGHJK]3P[0123456789][0123456789]0051",
    "X99Q9Z000000",
    "T24R7N400000",
    "T24Z1P100001",
    "T24K3P1000512345",
    "T24K3P100051999999999999999999999999",
    "<b>*|`_[x]!",
    "\xC3\x84\xE2\x82\xAC",
    "?",
    "",
};
#define NUMBER_COUNT ((int)(sizeof numbers / sizeof *numbers))

static plw_result *validated_in(const plw_tables *tables, const char *number)
{
    plw_result *result = NULL;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    ck_assert_int_eq(plw_validate(tables, number, strlen(number), NULL, 0, result), PLW_OK);
    return result;
}

static plw_result *validated(const char *number)
{
    return validated_in(fixture_tables(), number);
}

/* The explanation on the heap. */
static char *explained(const plw_result *result, int32_t format, uint32_t flags)
{
    size_t needed = 0;
    ck_assert_int_eq(plw_explain(result, format, flags, NULL, 0, &needed), PLW_E_SHORT);
    char *text = malloc(needed);
    ck_assert_ptr_nonnull(text);
    ck_assert_int_eq(plw_explain(result, format, flags, text, needed, NULL), PLW_OK);
    ck_assert_uint_eq(strlen(text) + 1, needed);
    return text;
}

static char *explained_number(const char *number, int32_t format, uint32_t flags)
{
    plw_result *result = validated(number);
    char *text = explained(result, format, flags);
    plw_result_free(result);
    return text;
}

static void replace(char *text, const char *old, const char *new)
{
    char *found = strstr(text, old);
    ck_assert_ptr_nonnull(found);
    ck_assert_uint_le(strlen(new), strlen(old));
    memmove(found + strlen(new), found + strlen(old), strlen(found + strlen(old)) + 1);
    memcpy(found, new, strlen(new));
}

/* What moves with every release and every change of the tables is not expected
 * literally: the edition, the digest and the version. */
static void hide_versions(char *text)
{
    char digest[17];
    ck_assert_int_eq(plw_tables_digest(fixture_tables(), digest, sizeof digest, NULL), PLW_OK);
    replace(text, plw_tables_edition(fixture_tables()), "EDITION");
    replace(text, digest, "DIGEST");
    replace(text, plw_version_text(), "REL");
}

static void expect_text(const char *number, int32_t format, uint32_t flags, const char *expected)
{
    char *text = explained_number(number, format, flags);
    hide_versions(text);
    ck_assert_str_eq(text, expected);
    free(text);
}

/* ---- Exact texts ----------------------------------------------------------- */

START_TEST(text_of_a_plain_number)
{
    expect_text("T24K3P100051", PLW_FORMAT_TEXT, PLW_EXPLAIN_SOURCES,
        "T24K3P100051\n"
        "12 characters, read in 2 ways; grade: note (worth knowing)\n"
        "\n"
        "Reading 1: Wexcombe cars of Port Ellery, 1962-1975\n"
        "scheme port-ellery-1962, model year 1963\n"
        "\n"
        "  1     T       line        Tern, small saloon line [handbook-63]\n"
        "  2-3   24      body        four-door sedan [handbook-63]\n"
        "  4     K       engine      1490 cc four [handbook-63]\n"
        "                            1490 cc (90.9 cu in, 1.5 L), 4 cylinders, barrels 1\n"
        "                            advertised power: 62 hp [handbook-63]\n"
        "                              62 hp gross\n"
        "  5     3       model year  model year ending in 3 [handbook-63]\n"
        "  6     P       plant       Port Ellery [handbook-63]\n"
        "  7-12  100051  sequence    running number of the year at Port Ellery, from\n"
        "                            100001 [parts-66]\n"
        "\n"
        "  Model year: 3 alone is 1963 or 1973; 1973 is another reading.\n"
        "\n"
        "  Where the number stands:\n"
        "  - scuttle, left side; riveted plate under the bonnet [handbook-63]\n"
        "\n"
        "Reading 2: Wexcombe cars of Port Ellery, 1962-1975\n"
        "scheme port-ellery-1962, model year 1973\n"
        "\n"
        "  1     T       line        Tern, small saloon line [handbook-63]\n"
        "  2-3   24      body        four-door sedan [handbook-63]\n"
        "  4     K       engine      1760 cc four [dealer-notes]\n"
        "                            1760 cc (107.4 cu in, 1.8 L), 4 cylinders, barrels 2\n"
        "  5     3       model year  model year ending in 3 [handbook-63]\n"
        "  6     P       plant       Port Ellery [handbook-63]\n"
        "  7-12  100051  sequence    running number of the year at Port Ellery, from\n"
        "                            100001 [parts-66]\n"
        "\n"
        "  Model year: 3 alone is 1963 or 1973; 1963 is another reading.\n"
        "\n"
        "  Where the number stands:\n"
        "  - dash top; seen through the windscreen (common practice)\n"
        "\n"
        "Findings\n"
        "  note   The number can be read in 2 ways.\n"
        "\n"
        "Sources\n"
        "  [handbook-63] Owner's handbook, model year 1963, Wexcombe Motor Works, 1962\n"
        "  [parts-66] Parts list, model years 1962-1966, Wexcombe Motor Works, 1966\n"
        "  [dealer-notes] Notes to dealers, Wexcombe Motor Works, 1971\n"
        "\n"
        "Tables of EDITION, digest DIGEST; Platewright REL.\n"
        "\n"
        "Before you rely on this\n"
        "  - A number that reads well does not prove the car: plates can be moved and\n"
        "    restamped, and tables can be incomplete or wrong.\n"
        "  - Never remove or alter a plate or a stamped number; in many places that is an\n"
        "    offence.\n"
        "  - For title, theft or value ask the police or a licensed inspector. Local law\n"
        "    decides.\n");
}
END_TEST

START_TEST(text_of_a_disputed_number)
{
    expect_text("H27R9P100200", PLW_FORMAT_TEXT, 0,
        "H27R9P100200\n"
        "12 characters, read in one way; grade: note (worth knowing)\n"
        "\n"
        "Wexcombe cars of Port Ellery, 1962-1975\n"
        "scheme port-ellery-1962, model year 1969\n"
        "\n"
        "  1     H       line        Heron, large saloon line [parts-66]\n"
        "  2-3   27      body        convertible [parts-66]\n"
        "  4     R       engine      - 212 six, last of the stock (sources differ)\n"
        "                              [parts-66]\n"
        "                              212 cu in (3474 cc, 3.5 L), 6 cylinders, barrels\n"
        "                              2x1\n"
        "                            - 260 V8 (sources differ) [club-list]\n"
        "                              260 cu in (4261 cc, 4.3 L), 8 cylinders, barrels 2\n"
        "  5     9       model year  1969 (common practice)\n"
        "  6     P       plant       Port Ellery [handbook-63]\n"
        "  7-12  100200  sequence    running number of the year at Port Ellery, from\n"
        "                            100001 [parts-66]\n"
        "\n"
        "  Where the number stands:\n"
        "  - scuttle, left side; riveted plate under the bonnet [handbook-63]\n"
        "  - dash top; seen through the windscreen (common practice)\n"
        "\n"
        "Findings\n"
        "  note   Sources differ about engine R: 212 six, last of the stock (parts-66);\n"
        "         or 260 V8 (club-list).\n"
        "\n"
        "3 sources stand behind this answer, by key in brackets; they can be listed in\n"
        "full on request.\n"
        "Tables of EDITION, digest DIGEST; Platewright REL.\n"
        "\n"
        "Before you rely on this\n"
        "  - A number that reads well does not prove the car: plates can be moved and\n"
        "    restamped, and tables can be incomplete or wrong.\n"
        "  - Never remove or alter a plate or a stamped number; in many places that is an\n"
        "    offence.\n"
        "  - For title, theft or value ask the police or a licensed inspector. Local law\n"
        "    decides.\n");
}
END_TEST

START_TEST(text_of_a_contradiction)
{
    expect_text("S23K6P100O01", PLW_FORMAT_TEXT, 0,
        "S23K6P100O01\n"
        "^  ^ ^   ^\n"
        "12 characters, read in one way; grade: doubt (worth a second look)\n"
        "\n"
        "Wexcombe cars of Port Ellery, 1962-1975\n"
        "scheme port-ellery-1962, model year 1966, read as S23K6P100001\n"
        "\n"
        "  1     S       line        Shrike, sporting line [parts-66]\n"
        "  2-3   23      body        two-door hardtop [parts-66]\n"
        "  4     K       engine      1490 cc four [handbook-63]\n"
        "                            1490 cc (90.9 cu in, 1.5 L), 4 cylinders, barrels 1\n"
        "                            advertised power: 62 hp [handbook-63]\n"
        "                              62 hp gross\n"
        "  5     6       model year  1966 [parts-66]\n"
        "  6     P       plant       Port Ellery [handbook-63]\n"
        "  7-12  100001  sequence    running number of the year at Port Ellery, from\n"
        "                            100001 [parts-66]\n"
        "\n"
        "  Where the number stands:\n"
        "  - scuttle, left side; riveted plate under the bonnet [handbook-63]\n"
        "\n"
        "Findings\n"
        "  doubt  Position 10 shows O, which cannot stand there; it was read as 0.\n"
        "  doubt  The tables say this combination was not built: line S (Shrike, sporting\n"
        "         line) with engine K (1490 cc four), 1966; the parts list names every\n"
        "         engine of the Shrike.\n"
        "  doubt  The tables do not have this plant building this line: line S (Shrike,\n"
        "         sporting line) with plant P (Port Ellery), 1966; the Shrike was built\n"
        "         at Netherwick only.\n"
        "\n"
        "2 sources stand behind this answer, by key in brackets; they can be listed in\n"
        "full on request.\n"
        "Tables of EDITION, digest DIGEST; Platewright REL.\n"
        "\n"
        "Before you rely on this\n"
        "  - A number that reads well does not prove the car: plates can be moved and\n"
        "    restamped, and tables can be incomplete or wrong.\n"
        "  - Never remove or alter a plate or a stamped number; in many places that is an\n"
        "    offence.\n"
        "  - For title, theft or value ask the police or a licensed inspector. Local law\n"
        "    decides.\n");
}
END_TEST

START_TEST(markdown_of_a_plain_number)
{
    expect_text("S23?8N500001", PLW_FORMAT_MARKDOWN, 0,
        "# S23?8N500001\n"
        "\n"
        "12 characters, read in one way; grade: note (worth knowing)\n"
        "\n"
        "Positions to look at again: 4\n"
        "\n"
        "## Wexcombe cars of Port Ellery, 1962-1975\n"
        "\n"
        "scheme port-ellery-1962, model year 1968\n"
        "\n"
        "| position | code | field | meaning | standing | sources |\n"
        "|---|---|---|---|---|---|\n"
        "| 1 | S | line | Shrike, sporting line | published | parts-66 |\n"
        "| 1, 4 | S? | engine offered in line | SR: 212 six offered in the Shrike | published | p"
        "arts-66 |\n"
        "| | | | SZ: 427 V8 offered in the Shrike | published | parts-66 |\n"
        "| 1, 6 | SN | plant that built the line | Netherwick built the Shrike | published | part"
        "s-66 |\n"
        "| 2-3 | 23 | body | two-door hardtop | published | parts-66 |\n"
        "| 4 | ? | engine | R: 212 six, twin carburettors; 212 cu in (3474 cc, 3.5 L), 6 cylinder"
        "s, barrels 2x1 | published | parts-66 |\n"
        "| | | | M: 260 V8; 260 cu in (4261 cc, 4.3 L), 8 cylinders, barrels 2 | common practice "
        "| |\n"
        "| | | | Z: 427 V8, two four-barrels; 427 cu in (6997 cc, 7.0 L), 8 cylinders, barrels 2x"
        "4 | published | parts-66 |\n"
        "| 4 | ? | advertised power | R: 128 hp; 128 hp gross | published | parts-66 |\n"
        "| | | | Z: 410 hp; 410 hp gross | memory: not confirmed | |\n"
        "| 5 | 8 | model year | 1968 | common practice | |\n"
        "| 6 | N | plant | Netherwick | published | parts-66 |\n"
        "| 7-12 | 500001 | sequence | running number of the year at Netherwick, from 500001 | com"
        "mon practice | |\n"
        "\n"
        "Where the number stands:\n"
        "\n"
        "- **scuttle, left side**; riveted plate under the bonnet \\[handbook-63\\]\n"
        "- **dash top**; seen through the windscreen (common practice)\n"
        "\n"
        "## Findings\n"
        "\n"
        "- **note**: Position 4 cannot be read; in engine it can be M, R or Z.\n"
        "\n"
        "## Sources\n"
        "\n"
        "2 sources stand behind this answer, by key in brackets; they can be listed in full on re"
        "quest.\n"
        "\n"
        "Tables of EDITION, digest DIGEST; Platewright REL.\n"
        "\n"
        "## Before you rely on this\n"
        "\n"
        "- A number that reads well does not prove the car: plates can be moved and restamped, an"
        "d tables can be incomplete or wrong.\n"
        "- Never remove or alter a plate or a stamped number; in many places that is an offence."
        "\n"
        "- For title, theft or value ask the police or a licensed inspector. Local law decides.\n");
}
END_TEST

START_TEST(json_of_a_plain_number)
{
    expect_text("T24M6P100051", PLW_FORMAT_JSON, 0,
        "{\"format\":1,\"number\":\"T24M6P100051\",\"positions\":12,\"grade\":\"clear\",\"reading"
        "s\":[{\"scheme\":\"port-ellery-1962\",\"title\":\"Wexcombe cars of Port Ellery, 1962-197"
        "5\",\"number\":\"T24M6P100051\",\"grade\":\"clear\",\"years\":[1966],\"fields\":[{\"fiel"
        "d\":\"line\",\"label\":\"line\",\"positions\":[1],\"code\":\"T\",\"state\":\"known\",\"d"
        "etail\":false,\"meanings\":[{\"key\":\"port-ellery-1962/line/T/1962\",\"words\":\"Tern, "
        "small saloon line\",\"remark\":\"\",\"condition\":\"\",\"years\":[[1962,1975]],\"standin"
        "g\":\"published\",\"marks\":[],\"attributes\":{\"line\":\"Tern\"},\"sources\":[\"handboo"
        "k-63\"]}],\"excludes_years\":[]},{\"field\":\"body\",\"label\":\"body\",\"positions\":[2"
        ",3],\"code\":\"24\",\"state\":\"known\",\"detail\":false,\"meanings\":[{\"key\":\"port-e"
        "llery-1962/body/24/1962\",\"words\":\"four-door sedan\",\"remark\":\"\",\"condition\":"
        "\"\",\"years\":[[1962,1975]],\"standing\":\"published\",\"marks\":[],\"attributes\":{\"b"
        "ody\":\"sedan\",\"doors\":4},\"sources\":[\"handbook-63\"]}],\"excludes_years\":[]},{\"f"
        "ield\":\"engine\",\"label\":\"engine\",\"positions\":[4],\"code\":\"M\",\"state\":\"know"
        "n\",\"detail\":false,\"meanings\":[{\"key\":\"port-ellery-1962/engine/M/1966\",\"words"
        "\":\"260 V8\",\"remark\":\"\",\"condition\":\"\",\"years\":[[1966,1969]],\"standing\":"
        "\"practice\",\"marks\":[],\"attributes\":{\"cid\":260,\"cyl\":8,\"carb\":\"2\"},\"displa"
        "cement_cc\":4260.637,\"displacement_cu_in\":260,\"sources\":[]}],\"excludes_years\":[]},"
        "{\"field\":\"year\",\"label\":\"model year\",\"positions\":[5],\"code\":\"6\",\"state\":"
        "\"known\",\"detail\":false,\"meanings\":[{\"key\":\"port-ellery-1962/year/6/1966\",\"wor"
        "ds\":\"1966\",\"remark\":\"\",\"condition\":\"\",\"years\":[[1966,1966]],\"standing\":"
        "\"published\",\"marks\":[],\"attributes\":{},\"sources\":[\"parts-66\"]}],\"excludes_yea"
        "rs\":[]},{\"field\":\"plant\",\"label\":\"plant\",\"positions\":[6],\"code\":\"P\",\"sta"
        "te\":\"known\",\"detail\":false,\"meanings\":[{\"key\":\"port-ellery-1962/plant/P/1962"
        "\",\"words\":\"Port Ellery\",\"remark\":\"\",\"condition\":\"\",\"years\":[[1962,1975]],"
        "\"standing\":\"published\",\"marks\":[],\"attributes\":{\"place\":\"Port Ellery\"},\"sou"
        "rces\":[\"handbook-63\"]}],\"excludes_years\":[]},{\"field\":\"sequence\",\"label\":\"se"
        "quence\",\"positions\":[7,8,9,10,11,12],\"code\":\"100051\",\"state\":\"known\",\"detail"
        "\":false,\"meanings\":[{\"key\":\"port-ellery-1962/sequence/100001+/1962/plant=P\",\"wor"
        "ds\":\"running number of the year at Port Ellery, from 100001\",\"remark\":\"\",\"condit"
        "ion\":\"plant is P\",\"years\":[[1962,1975]],\"standing\":\"published\",\"marks\":[],\"a"
        "ttributes\":{},\"sources\":[\"parts-66\"]}],\"excludes_years\":[]}],\"check\":{\"state"
        "\":\"none\",\"expected\":null}}],\"settling\":[],\"findings\":[],"
        "\"tables\":{\"edition\":\"EDITION\",\"d"
        "igest\":\"DIGEST\"},\"library\":\"REL\",\"cautions\":[\"A number that reads well does no"
        "t prove the car: plates can be moved and restamped, and tables can be incomplete or wron"
        "g.\",\"Never remove or alter a plate or a stamped number; in many places that is an offe"
        "nce.\",\"For title, theft or value ask the police or a licensed inspector. Local law dec"
        "ides.\"]}\n");
}
END_TEST

/* ---- Width ----------------------------------------------------------------- */

/* Columns of a line: one for each character, as terminals without wide letters. */
static int columns(const char *line, size_t length)
{
    int count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)line[i] & 0xC0) != 0x80;
    return count;
}

static void check_lines(const char *text)
{
    while (*text) {
        const char *end = strchr(text, '\n');
        ck_assert_ptr_nonnull(end);
        size_t length = (size_t)(end - text);
        ck_assert_msg(columns(text, length) <= PAGE_WIDTH, "too wide: %.*s", (int)length, text);
        ck_assert_msg(length == 0 || text[length - 1] != ' ', "ends in a blank: %.*s",
                      (int)length, text);
        text = end + 1;
    }
}

START_TEST(text_fits_the_page)
{
    for (uint32_t flags = 0; flags <= PLW_EXPLAIN_SOURCES; flags++) {
        char *text = explained_number(numbers[_i], PLW_FORMAT_TEXT, flags);
        check_lines(text);
        free(text);
    }
}
END_TEST

/* ---- Buffers and arguments ------------------------------------------------- */

/* Every capacity from none to one more than needed: the whole text or nothing,
 * and never a byte beyond the capacity. */
static void check_capacities(const plw_result *result, int32_t format)
{
    char *whole = explained(result, format, PLW_EXPLAIN_SOURCES);
    size_t size = strlen(whole) + 1;
    char *buffer = malloc(size + 2);
    ck_assert_ptr_nonnull(buffer);
    for (size_t capacity = 0; capacity <= size + 1; capacity++) {
        size_t needed = 0;
        memset(buffer, '#', size + 2);
        int32_t status = plw_explain(result, format, PLW_EXPLAIN_SOURCES, buffer, capacity,
                                     &needed);
        ck_assert_uint_eq(needed, size);
        ck_assert_int_eq(status, capacity < size ? PLW_E_SHORT : PLW_OK);
        if (capacity > 0)
            ck_assert_str_eq(buffer, capacity < size ? "" : whole);
        ck_assert_int_eq(buffer[capacity], '#');
    }
    free(buffer);
    free(whole);
}

START_TEST(whole_text_or_nothing)
{
    plw_result *result = validated("T24K2P100001");
    check_capacities(result, _i);
    plw_result_free(result);
}
END_TEST

START_TEST(refuses_what_it_does_not_know)
{
    char buffer[8] = "before";
    plw_result *result = validated("T24K3P100051");
    ck_assert_int_eq(plw_explain(NULL, PLW_FORMAT_TEXT, 0, NULL, 0, NULL), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_explain(result, -1, 0, NULL, 0, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain(result, PLW_FORMAT_HTML + 1, 0, NULL, 0, NULL), PLW_E_FLAGS);
    for (uint32_t flag = PLW_EXPLAIN_SOURCES << 1; flag != 0; flag <<= 1)
        ck_assert_int_eq(plw_explain(result, PLW_FORMAT_TEXT, flag, NULL, 0, NULL), PLW_E_FLAGS);
    ck_assert_int_eq(plw_explain(result, -1, 0, buffer, sizeof buffer, NULL), PLW_E_FLAGS);
    ck_assert_str_eq(buffer, "");
    plw_result_free(result);
}
END_TEST

START_TEST(explains_a_decoded_result)
{
    plw_result *result = NULL;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    ck_assert_int_eq(plw_decode(fixture_tables(), "H27R9P100200", 12, NULL, 0, result), PLW_OK);
    char *text = explained(result, PLW_FORMAT_TEXT, 0);
    ck_assert_ptr_nonnull(strstr(text, "Heron, large saloon line"));
    ck_assert_ptr_null(strstr(text, "Findings"));
    ck_assert_ptr_null(strstr(text, "grade"));
    free(text);
    plw_result_free(result);
}
END_TEST

START_TEST(explains_an_unused_result)
{
    plw_result *result = NULL;
    ck_assert_int_eq(plw_result_new(&result), PLW_OK);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++)
        free(explained(result, format, PLW_EXPLAIN_SOURCES));
    plw_result_free(result);
}
END_TEST

/* ---- Sources on request ---------------------------------------------------- */

START_TEST(sources_stand_in_full_only_on_request)
{
    char *without = explained_number("T24K3P100051", _i, 0);
    char *with = explained_number("T24K3P100051", _i, PLW_EXPLAIN_SOURCES);
    const char *citation = "model year 1963, Wexcombe Motor";
    ck_assert_ptr_null(strstr(without, citation));
    ck_assert_ptr_nonnull(strstr(with, citation));
    ck_assert_ptr_null(strstr(strstr(with, citation) + 1, citation));
    free(without);
    free(with);
}
END_TEST

/* ---- Hostile text in a table ----------------------------------------------- */

/* A copy of the fixture's image with one text replaced by another of the same
 * length, and the digest made right again. */
static unsigned char *image_with(const char *old, const char *new)
{
    image_t image = plwi_image(fixture_tables());
    size_t size = plwi_u32(image + HEADER_SIZE);
    size_t length = strlen(old);
    unsigned char *copy = malloc(size);
    ck_assert_ptr_nonnull(copy);
    ck_assert_uint_eq(strlen(new), length);
    memcpy(copy, image, size);
    int replaced = 0;
    for (size_t i = 0; i + length < size; i++) {
        if (memcmp(copy + i, old, length) == 0 && copy[i + length] == 0) {
            memcpy(copy + i, new, length);
            replaced = 1;
        }
    }
    ck_assert(replaced);
    uint64_t digest = image_digest(copy + DIGEST_START, size - DIGEST_START);
    for (int i = 0; i < 8; i++)
        copy[HEADER_DIGEST + i] = (unsigned char)(digest >> (8 * i));
    return copy;
}

static char *explained_with(const char *number, const char *old, const char *new, int32_t format)
{
    unsigned char *image = image_with(old, new);
    const plw_tables *tables = NULL;
    ck_assert_int_eq(plw_tables_open(image, plwi_u32(image + HEADER_SIZE), 0, &tables), PLW_OK);
    plw_result *result = validated_in(tables, number);
    char *text = explained(result, format, PLW_EXPLAIN_SOURCES);
    plw_result_free(result);
    free(image);
    return text;
}

START_TEST(markdown_escapes_tables)
{
    char *text = explained_with("T24K3P100051", "four-door sedan", "<b>|*_`[x](y)&\\",
                                PLW_FORMAT_MARKDOWN);
    ck_assert_ptr_nonnull(strstr(text, "\\<b\\>\\|\\*\\_\\`\\[x\\](y)\\&\\\\"));
    free(text);
}
END_TEST

/* Every "<" is escaped or opens a link, and every "[" is escaped. */
static void check_no_markup(const char *text)
{
    for (const char *at = text; (at = strpbrk(at, "<[")) != NULL; at++) {
        int is_link = *at == '<' && strncmp(at, "<https://club.example/register>", 31) == 0;
        ck_assert_msg(is_link || (at > text && at[-1] == '\\'), "bare mark: %.40s", at);
    }
}

START_TEST(markdown_links_only_plain_addresses)
{
    char *text = explained_number("H27R9P100200", PLW_FORMAT_MARKDOWN, PLW_EXPLAIN_SOURCES);
    ck_assert_ptr_nonnull(strstr(text, "<https://club.example/register>"));
    check_no_markup(text);
    free(text);
    text = explained_with("H27R9P100200", "https://club.example/register",
                          "https://club.example/<script>", PLW_FORMAT_MARKDOWN);
    ck_assert_ptr_nonnull(strstr(text, "https://club.example/\\<script\\>"));
    check_no_markup(text);
    free(text);
    text = explained_with("H27R9P100200", "https://club.example/register",
                          "javascript:alert(document.xy)", PLW_FORMAT_MARKDOWN);
    ck_assert_ptr_nonnull(strstr(text, ", javascript:alert"));
    check_no_markup(text);
    free(text);
}
END_TEST

START_TEST(markdown_escapes_the_number)
{
    char *text = explained_number("A<b>*|`_!1", PLW_FORMAT_MARKDOWN, 0);
    ck_assert_int_eq(strncmp(text, "# A\\<B\\>\\`\\!1\n", 14), 0);
    check_no_markup(text);
    free(text);
}
END_TEST

/* A text that opens like a list item stays a text. */
START_TEST(markdown_makes_no_lists_of_tables)
{
    static const char caution[] =
        "Never remove or alter a plate or a stamped number; in many places that is an offence.";
    static const char *const items[][2] = {
        { "- ver remove or alter a plate or a stamped number; in many places that is an offence.",
          "\n- \\- ver" },
        { "12.er remove or alter a plate or a stamped number; in many places that is an offence.",
          "\n- 12\\.er" },
    };
    for (size_t i = 0; i < sizeof items / sizeof *items; i++) {
        char *text = explained_with("T24K3P100051", caution, items[i][0], PLW_FORMAT_MARKDOWN);
        ck_assert_ptr_nonnull(strstr(text, items[i][1]));
        free(text);
    }
}
END_TEST

START_TEST(json_escapes_tables)
{
    char *text = explained_with("T24K3P100051", "four-door sedan", "\"},\\n\\\"</b>'{}[",
                                PLW_FORMAT_JSON);
    ck_assert_ptr_nonnull(strstr(text, "\"words\":\"\\\"},\\\\n\\\\\\\"</b>'{}[\""));
    free(text);
}
END_TEST

START_TEST(json_is_one_line)
{
    char *text = explained_number(numbers[_i], PLW_FORMAT_JSON, PLW_EXPLAIN_SOURCES);
    ck_assert_ptr_eq(strchr(text, '\n'), text + strlen(text) - 1);
    free(text);
}
END_TEST

/* ---- Wrapping -------------------------------------------------------------- */

START_TEST(overlong_words_break_hard)
{
    char *text = explained_with("T24K3P100051",
                                "running number of the year at Port Ellery, from 100001",
                                "abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyzab",
                                PLW_FORMAT_TEXT);
    check_lines(text);
    ck_assert_ptr_nonnull(strstr(text, "abcdefghijklmnopqrstuvwxyz"));
    free(text);
}
END_TEST

/* More code points than a cell has columns, half of them combining accents: one
 * line holds them only when an accent takes no column. */
START_TEST(combining_marks_take_no_column)
{
    static const char caution[] = "A number that reads well does not prove the car: plates can be "
                                  "moved and restamped, and tables can be incomplete or wrong.";
    char accented[sizeof caution] = "";
    while (strlen(accented) + 4 < sizeof accented)
        strcat(accented, "e\xCC\x81");
    while (strlen(accented) + 1 < sizeof accented)
        strcat(accented, "e");
    char *text = explained_with("T24K3P100051", caution, accented, PLW_FORMAT_TEXT);
    ck_assert_ptr_nonnull(strstr(text, accented));
    free(text);
}
END_TEST

/* ---- The program ----------------------------------------------------------- */

static void add(TCase *cases)
{
    tcase_add_test(cases, text_of_a_plain_number);
    tcase_add_test(cases, text_of_a_disputed_number);
    tcase_add_test(cases, text_of_a_contradiction);
    tcase_add_test(cases, markdown_of_a_plain_number);
    tcase_add_test(cases, json_of_a_plain_number);
    tcase_add_loop_test(cases, text_fits_the_page, 0, NUMBER_COUNT);
    tcase_add_loop_test(cases, whole_text_or_nothing, PLW_FORMAT_TEXT,
                        PLW_FORMAT_HTML + 1);
    tcase_add_test(cases, refuses_what_it_does_not_know);
    tcase_add_test(cases, explains_a_decoded_result);
    tcase_add_test(cases, explains_an_unused_result);
    tcase_add_loop_test(cases, sources_stand_in_full_only_on_request, PLW_FORMAT_MARKDOWN,
                        PLW_FORMAT_JSON + 1);
    tcase_add_test(cases, markdown_escapes_tables);
    tcase_add_test(cases, markdown_links_only_plain_addresses);
    tcase_add_test(cases, markdown_escapes_the_number);
    tcase_add_test(cases, markdown_makes_no_lists_of_tables);
    tcase_add_test(cases, json_escapes_tables);
    tcase_add_loop_test(cases, json_is_one_line, 0, NUMBER_COUNT);
    tcase_add_test(cases, overlong_words_break_hard);
    tcase_add_test(cases, combining_marks_take_no_column);
}

START_TEST(print_json_lines)
{
    for (uint32_t flags = 0; flags <= PLW_EXPLAIN_SOURCES; flags++) {
        char *text = explained_number(numbers[_i], PLW_FORMAT_JSON, flags);
        fputs(text, stdout);
        free(text);
    }
    plw_result *result = validated(numbers[_i]);
    ck_assert_int_eq(plw_suggest(fixture_tables(), numbers[_i], strlen(numbers[_i]), NULL, 0,
                                 result),
                     PLW_OK);
    static const char claims[] = "year=1966; colour=red; engine=1760 cc; body=van; maker=Wexcombe";
    ck_assert_int_eq(plw_check_claims(result, claims, sizeof claims - 1), PLW_OK);
    char *text = explained(result, PLW_FORMAT_JSON, 0);
    fputs(text, stdout);
    free(text);
    plw_result_free(result);
}
END_TEST

static void add_json(TCase *cases)
{
    tcase_add_loop_test(cases, print_json_lines, 0, NUMBER_COUNT);
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "json") == 0)
        return probe_print("json", add_json);
    return probe_run("explain", add);
}
