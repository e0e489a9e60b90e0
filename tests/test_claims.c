/* SPDX-License-Identifier: MIT
 *
 * Claims: each verdict and each reason on the frozen fixture, every form that a
 * value may have, and on the live tables that what a reading says of itself is
 * never contradicted.
 */
#include <stdio.h>
#include <string.h>

#include "claims.h"
#include "fixture.h"
#include "internal.h"
#include "probe.h"

#define SUPPORTED PLW_VERDICT_SUPPORTED
#define CONTRADICTED PLW_VERDICT_CONTRADICTED
#define NOT_TOLD PLW_VERDICT_NOT_TOLD

static plw_result *check(const char *number, const char *claims)
{
    plw_result *result = probe_validate(fixture_tables(), number, NULL);
    ck_assert_int_eq(plw_check_claims(result, claims, strlen(claims)), PLW_OK);
    return result;
}

static const char *sentence(const plw_result *result, uint32_t claim)
{
    static char text[4096];
    ck_assert_int_eq(plw_claim_sentence(result, claim, text, sizeof text, NULL), PLW_OK);
    return text;
}

/* ---- verdicts and reasons --------------------------------------------------------- */

typedef struct verdict_row {
    const char *number;
    const char *claim;
    int32_t verdict;
    int32_t reason;
    uint32_t positions;
    const char *says; /* stands in the sentence */
} verdict_row;

#define P(position) (1u << ((position) - 1))
#define SEQUENCE_PLACES (P(7) | P(8) | P(9) | P(10) | P(11) | P(12))

static const verdict_row verdict_rows[] = {
    /* one reading, one meaning */
    { "T24M6P100051", "year=1966", SUPPORTED, PLW_REASON_NONE, P(5), "model year 1966" },
    { "T24M6P100051", "year=1965", CONTRADICTED, PLW_REASON_NONE, P(4) | P(5),
      "model year 1966" },
    { "T24M6P100051", "line=Tern", SUPPORTED, PLW_REASON_NONE, P(1), "line T says Tern" },
    { "T24M6P100051", "line=Heron", CONTRADICTED, PLW_REASON_NONE, P(1), "line T says Tern" },
    { "T24M6P100051", "maker=Wexcombe", SUPPORTED, PLW_REASON_NONE, 0,
      "scheme port-ellery-1962 says Wexcombe Motor Works" },
    { "T24M6P100051", "country=Wexland", SUPPORTED, PLW_REASON_NONE, 0, "says Wexland" },
    { "T24M6P100051", "plant=Port Ellery", SUPPORTED, PLW_REASON_NONE, P(6), "Port Ellery" },
    { "T24M6P100051", "plant=Netherwick", CONTRADICTED, PLW_REASON_NONE, P(6), "Port Ellery" },
    { "T24M6P100051", "body=sedan", SUPPORTED, PLW_REASON_NONE, P(2) | P(3), "sedan" },
    { "T24M6P100051", "body=convertible", CONTRADICTED, PLW_REASON_NONE, P(2) | P(3), "sedan" },
    { "T24M6P100051", "body=2dr sedan", CONTRADICTED, PLW_REASON_NONE, P(2) | P(3), "4 doors" },
    { "T24M6P100051", "doors=4", SUPPORTED, PLW_REASON_NONE, P(2) | P(3), "4 doors" },
    { "T24M6P100051", "engine=260 V8 two-barrel", SUPPORTED, PLW_REASON_NONE, P(4),
      "engine M says 260 cu in (4.3 L), 8 cylinders, 2 barrels (position 4); common practice" },
    { "T24M6P100051", "engine=260 V8 four-barrel", CONTRADICTED, PLW_REASON_NONE, P(4),
      "2 barrels" },
    { "T24M6P100051", "cylinders=6", CONTRADICTED, PLW_REASON_NONE, P(4), "8 cylinders" },
    { "T24M6P100051", "sequence=100051", SUPPORTED, PLW_REASON_NONE, SEQUENCE_PLACES, "100051" },
    { "T24M6P100051", "sequence=100052", CONTRADICTED, PLW_REASON_NONE, SEQUENCE_PLACES,
      "100051" },
    { "XTA3012345", "sequence=12345", SUPPORTED, PLW_REASON_NONE,
      P(5) | P(6) | P(7) | P(8) | P(9) | P(10), "012345" },
    /* a detail is asked where the engine is silent */
    { "T24K3P100051", "power=62 hp gross", SUPPORTED, PLW_REASON_NONE, P(4),
      "advertised power K says 62 hp gross" },
    { "S23R6N500123", "power=128", SUPPORTED, PLW_REASON_NONE, P(4), "128 hp gross" },
    { "S23R6N500123", "power=130 hp", CONTRADICTED, PLW_REASON_NONE, P(4), "128 hp gross" },
    { "S23R6N500123", "power=128 hp net", NOT_TOLD, PLW_REASON_NOT_STATED, P(4),
      "do not state it" },
    { "S23Z8N500123", "power=410", SUPPORTED, PLW_REASON_NONE, P(4), "not confirmed by a source" },
    /* several readings */
    { "T31K3P100051", "year=1963", SUPPORTED, PLW_REASON_NONE, P(5), "model year 1963" },
    { "T31K3P100051", "year=1973", NOT_TOLD, PLW_REASON_READINGS_DIFFER, P(5),
      "reading 2 would support it" },
    { "T31K3P100051", "year=1970", CONTRADICTED, PLW_REASON_NONE, P(5),
      "no other reading supports it" },
    { "T31K3P100051", "engine=1760 cc", NOT_TOLD, PLW_REASON_READINGS_DIFFER, P(4),
      "reading 2 would support it" },
    { "T31K3P100051", "engine=1.6", NOT_TOLD, PLW_REASON_READINGS_DIFFER, P(4),
      "none of them supports it" },
    { "T31K3P100051", "cylinders=4", SUPPORTED, PLW_REASON_NONE, P(4), "4 cylinders" },
    { "T31K3P100051", "cylinders=8", CONTRADICTED, PLW_REASON_NONE, P(4), "4 cylinders" },
    /* several meanings of one code */
    { "T24W2P100100", "engine=1760 cc", NOT_TOLD, PLW_REASON_SEVERAL_MEANINGS, P(4),
      "1760 cc (1.8 L) or 1980 cc (2.0 L)" },
    { "T24W2P100100", "engine=427", CONTRADICTED, PLW_REASON_NONE, P(4), "not confirmed" },
    { "T24W2P100100", "cylinders=4", SUPPORTED, PLW_REASON_NONE, P(4), "not confirmed" },
    { "H24R9P100200", "engine=212 six", SUPPORTED, PLW_REASON_NONE, P(4), "sources differ" },
    { "H24R9P100200", "engine=260 V8", SUPPORTED, PLW_REASON_NONE, P(4), "sources differ" },
    { "H24R9P100200", "engine=212 V8", CONTRADICTED, PLW_REASON_NONE, P(4), "sources differ" },
    { "V24M6P100001", "line=Vireo", SUPPORTED, PLW_REASON_NONE, P(1), "a doubtful entry" },
    /* years left open */
    { "XTA4012345", "year=1976", NOT_TOLD, PLW_REASON_SEVERAL_MEANINGS, P(3), "1976 or 1979" },
    { "XTA4012345", "year=1978", CONTRADICTED, PLW_REASON_NONE, P(3), "1976 or 1979" },
    { "T27Z9P100001", "year=1969", NOT_TOLD, PLW_REASON_CONFLICT, P(4), "exclude each other" },
    { "T27Z9P100001", "engine=427", SUPPORTED, PLW_REASON_NONE, P(4), "427 cu in" },
    /* unreadable characters */
    { "T24?6P100051", "engine=260", NOT_TOLD, PLW_REASON_UNREADABLE, P(4), "position 4" },
    { "T24?6P100051", "engine=427", NOT_TOLD, PLW_REASON_UNREADABLE, P(4), "position 4" },
    { "T24[KM]6P100051", "engine=427", CONTRADICTED, PLW_REASON_NONE, P(4), "1490 cc" },
    { "T24[KM]6P100051", "engine=260", NOT_TOLD, PLW_REASON_UNREADABLE, P(4), "position 4" },
    { "T24[RM]6P100051", "engine=7.0", CONTRADICTED, PLW_REASON_NONE, P(4), "212 cu in" },
    { "T24M6P1000?1", "sequence=100051", NOT_TOLD, PLW_REASON_UNREADABLE, SEQUENCE_PLACES,
      "positions 7-12" },
    { "T24M6P1000?1", "sequence=100052", CONTRADICTED, PLW_REASON_NONE, SEQUENCE_PLACES,
      "1000?1" },
    /* what the tables do not have */
    { "T99M6P100051", "body=sedan", NOT_TOLD, PLW_REASON_UNKNOWN_CODE, P(2) | P(3),
      "do not know the code" },
    { "T24M6P100051", "fuel=diesel", NOT_TOLD, PLW_REASON_NOT_CODED, 0, "does not code it" },
    { "T24M6P100051", "series=Deluxe", NOT_TOLD, PLW_REASON_NOT_CODED, 0, "does not code it" },
    { "XTA3012345", "engine=260", NOT_TOLD, PLW_REASON_NOT_CODED, 0,
      "scheme port-ellery-1976 does not code it" },
    { "T24W2P100100", "carb=2", NOT_TOLD, PLW_REASON_NOT_STATED, P(4), "do not state it" },
    { "T24M6P100051", "line=Wren", NOT_TOLD, PLW_REASON_UNKNOWN_NAME, P(1), "no such name" },
    { "T24M6P100051", "line=Tern Deluxe", NOT_TOLD, PLW_REASON_NEAR, P(1), "too close" },
    { "T31M6P100051", "doors=4", NOT_TOLD, PLW_REASON_NEAR, P(2) | P(3), "5 doors" },
    { "T31M6P100051", "body=van", NOT_TOLD, PLW_REASON_NEAR, P(2) | P(3), "wagon" },
    { "S23R6N500123", "body=coupe", NOT_TOLD, PLW_REASON_NEAR, P(2) | P(3), "hardtop" },
    { "T24M6P100051", "engine=4.4", NOT_TOLD, PLW_REASON_NEAR, P(4), "4.3 L" },
    { "T24M6P100051", "engine=4.5", CONTRADICTED, PLW_REASON_NONE, P(4), "4.3 L" },
    /* what is not understood */
    { "T24M6P100051", "engine=a big one", NOT_TOLD, PLW_REASON_NOT_UNDERSTOOD, 0,
      "write 440, 426 cu in V8" },
    { "T24M6P100051", "year=sixty-six", NOT_TOLD, PLW_REASON_NOT_UNDERSTOOD, 0, "write 1966" },
    { "T24M6P100051", "colour=red", NOT_TOLD, PLW_REASON_NOT_UNDERSTOOD, 0,
      "claims can be about year" },
    { "T24M6", "year=1966", NOT_TOLD, PLW_REASON_NO_READING, 0, "no reading" },
};
#define VERDICT_ROWS ((int)(sizeof verdict_rows / sizeof *verdict_rows))

START_TEST(test_verdict)
{
    const verdict_row *row = &verdict_rows[_i];
    plw_result *r = check(row->number, row->claim);
    ck_assert_uint_eq(plw_claim_count(r), 1);
    ck_assert_msg(plw_claim_verdict(r, 0) == row->verdict &&
                      plw_claim_reason(r, 0) == row->reason &&
                      plw_claim_positions(r, 0) == row->positions &&
                      strstr(sentence(r, 0), row->says),
                  "%s, %s: verdict %d, reason %d, positions %x: %s", row->number, row->claim,
                  plw_claim_verdict(r, 0), plw_claim_reason(r, 0), plw_claim_positions(r, 0),
                  sentence(r, 0));
    ck_assert_ptr_nonnull(strstr(sentence(r, 0), row->claim));
}
END_TEST

/* ---- forms ---------------------------------------------------------------------------- */

/* Each claim of a row is supported by the number; behind "!" all are contradicted. */
typedef struct form_row {
    const char *number;
    const char *claims;
} form_row;

static const form_row form_rows[] = {
    /* names of attributes */
    { "S23Z8N500123", "YEAR=1968; model year=1968; Model_Year=1968; make=Wexcombe; "
                      "manufacturer=wexcombe motor works; carb=2x4; carburetion=2x4; "
                      "carburettor=2x4; carburetor=2x4; barrels=2x4; cyl=8; horsepower=410; "
                      "hp=410; body style=hardtop; body-type=hardtop; capacity=427; "
                      "assembly plant=Netherwick; running number=500123; model=Shrike" },
    { "S23Z8N500123", "year=1968; year=68; year='68; year= 1968 ;;" },
    { "S23Z8N500123", "!year=1967; year=67; year=1868" },
    /* displacement */
    { "S23Z8N500123", "engine=427; engine=427ci; engine=427 cid; engine=427 C.I.D.; "
                      "engine=427 cu in; engine=427 cu. in.; engine=427 cubic inches; "
                      "engine=427-cubic-inch; engine=427 c.i.; engine=427 cu inches; "
                      "engine=427.0" },
    { "S23Z8N500123", "engine=7.0; engine=7.0L; engine=7 litre; engine=7 liters; "
                      "engine=7-litre V8; engine=7.0 ltr; engine=6997cc; engine=6997 ccm; "
                      "engine=7000 cc; engine=6997; engine=6997 c.c.; displacement=7; "
                      "displacement=427" },
    { "S23Z8N500123", "!engine=426; engine=428 cu in; engine=6.8L; engine=7.2; engine=6981 cc; "
                      "engine=4.27" },
    { "T31K6P100051", "engine=1490; engine=1490cc; engine=1500 cc; engine=1.5 L; engine=1.49L; "
                      "engine=91 cu in" },
    { "T31K6P100051", "!engine=1491 cc; engine=1600 cc; engine=1.48 L; engine=92 cu in" },
    /* cylinders */
    { "S23Z8N500123", "engine=V8; engine=V-8; engine=8 cylinders; engine=eight-cylinder; "
                      "engine=8 cyl; engine=8cyl; cylinders=8; cylinders=eight; cylinders=V8; "
                      "engine=427 V8 engine" },
    { "S23R6N500123", "engine=six; engine=inline six; engine=straight 6; engine=in-line-6; "
                      "engine=212 six; cylinders=i6; engine=flat six" },
    { "S23R6N500123", "!engine=V8; cylinders=4; engine=212 eight" },
    /* carburation */
    { "S23Z8N500123", "carburation=2x4; carburation=2 x 4; carburation=two four-barrels; "
                      "carburation=dual 4bbl; carburation=2x4 bbl; carburation=2x4 carburettors; "
                      "carburation=twin carburettors; carburation=two carbs; "
                      "carburation=8 barrels; engine=427 2x4; "
                      "engine=427 V8 with two four-barrel carburetors" },
    { "S23Z8N500123", "!carburation=four barrel; carburation=4; carburation=3x2; "
                      "carburation=single carburettor; carburation=six barrels" },
    { "S23M6N500123", "carburation=4; carburation=four; carburation=four barrel; "
                      "carburation=4bbl; carburation=4-bbl; carburation=4 barrel carburettor; "
                      "carburation=single four-barrel; carburation=1x4; carburation=one carb; "
                      "engine=260 4bbl; engine=260 four-barrel V8; engine=V8 4 barrel" },
    { "S23M6N500123", "!carburation=2; carburation=2bbl; carburation=2x4; engine=260 2x4" },
    { "S23R6N500123", "carburation=2x1; carburation=twin carburettors; carburation=twin carbs; "
                      "engine=212 six with twin carburettors; carburation=two one-barrels" },
    /* power */
    { "S23R6N500123", "power=128; power=128hp; power=128 bhp; power=128 horsepower; "
                      "power=128 hp gross; power=128 gross; power=128 gross hp; "
                      "power=128 SAE gross; engine=212 128 hp" },
    { "S23R6N500123", "!power=129; power=120 hp gross; engine=212 130hp" },
    /* bodies */
    { "T27K6P100051", "body=convertible; body=conv; body=Conv.; body=2dr convertible; "
                      "body=two-door convertible; body=2-door conv; body=cabriolet; body=cabrio; "
                      "body=drophead; body=drophead coupe; body=DHC; body=convertible coupe; "
                      "doors=2; doors=two; doors=2dr; doors=2 doors; doors=two-door" },
    { "T27K6P100051", "!body=hardtop; body=coupe; body=sedan; body=4dr convertible; body=wagon; "
                      "body=van; body=pickup; body=limousine; body=chassis; body=fastback; "
                      "body=hatchback; doors=4" },
    { "T27K1P100051", "body=coupe; body=coup\xC3\xA9; body=2dr coupe; body=fixed-head coupe; "
                      "body=FHC" },
    { "S23R6N500123", "body=hardtop; body=2dr hardtop; body=hard top; body=HT; "
                      "body=hardtop coupe; body=2-dr HT" },
    { "T24M6P100051", "body=sedan; body=saloon; body=4dr sedan; body=four door saloon" },
    { "T31M6P100051", "body=wagon; body=station wagon; body=estate; body=estate car; "
                      "body=5dr wagon; body=five-door estate" },
    /* names */
    { "T24M6P100051", "line=TERN; line=tern; maker=Wexcombe Motor; maker=motor works; "
                      "plant=port-ellery; plant=Port Ellery, Wexland; country=WEXLAND" },
    { "T24M6P100051", "sequence=100051; sequence=100 051; sequence=0100051; sequence=100,051" },
};
#define FORM_ROWS ((int)(sizeof form_rows / sizeof *form_rows))

START_TEST(test_form)
{
    const form_row *row = &form_rows[_i];
    int32_t verdict = row->claims[0] == '!' ? CONTRADICTED : SUPPORTED;
    plw_result *r = check(row->number, row->claims + (verdict == CONTRADICTED));
    ck_assert_uint_gt(plw_claim_count(r), 0);
    for (uint32_t i = 0; i < plw_claim_count(r); i++)
        ck_assert_msg(plw_claim_verdict(r, i) == verdict, "%s: %s", row->number, sentence(r, i));
}
END_TEST

static const char *const not_understood[] = {
    "year=1966.5",       "year=196",         "year=19666",       "year=0",
    "engine=7",          "engine=0",         "engine=V",         "engine=440 426",
    "engine=440 extra",  "engine=7,0",       "engine=big block", "engine=440 cu",
    "engine=99999999",   "engine=5000 L",    "engine=1.2.3",     "engine=with",
    "body=two",          "body=big sedan",   "body=sedan wagon", "body=sedan 4",
    "doors=many",        "doors=2.5",        "cylinders=V",      "cylinders=8 or 6",
    "carburation=0",     "carburation=2x5",  "carburation=2x",   "carburation=x4",
    "power=hp",          "power=300 kW",     "fuel=steam",       "sequence=1000?1",
    "sequence=-",        "maker=!",          "country=.",        "year=1966 1966",
};

START_TEST(test_not_understood)
{
    plw_result *r = check("T24M6P100051", not_understood[_i]);
    ck_assert_msg(plw_claim_reason(r, 0) == PLW_REASON_NOT_UNDERSTOOD, "%s", sentence(r, 0));
}
END_TEST

/* Bodies that the fixture does not have, fuels and countries: what is understood. */
typedef struct word_row {
    const char *words; /* with commas between them */
    const char *body;
    const char *near; /* bodies with blanks between them */
} word_row;

static const word_row body_rows[] = {
    { "sedan,saloon", "sedan", "coupe limousine hatchback" },
    { "hardtop,hard top,ht,hardtop coupe", "hardtop", "coupe fastback" },
    { "hardtop sedan", "hardtop", "sedan" },
    { "coupe,coup\xC3\xA9,fixed head coupe,fhc", "coupe", "hardtop fastback hatchback sedan" },
    { "fastback,fast back,fastback coupe", "fastback", "coupe hardtop hatchback" },
    { "hatchback,hatch", "hatchback", "coupe fastback sedan wagon" },
    { "convertible,conv,convertible coupe,cabriolet,cabrio,drophead,drophead coupe,dhc",
      "convertible", "roadster" },
    { "roadster,spider,spyder", "roadster", "convertible" },
    { "wagon,station wagon,estate,estate car", "wagon", "utility van hatchback" },
    { "pickup,pick up,pick-up,ute", "utility", "chassis" },
    { "utility", "utility", "chassis wagon" },
    { "coupe utility", "utility", "" },
    { "limousine,limo", "limousine", "sedan" },
    { "chassis,chassis cab,cab chassis,cab/chassis", "chassis", "utility" },
    { "van,panel van", "van", "wagon utility" },
};
#define BODY_ROWS ((int)(sizeof body_rows / sizeof *body_rows))

static uint32_t bodies_of(const char *names)
{
    uint32_t set = 0;
    char text[100];
    strcpy(text, names);
    for (char *name = strtok(text, " "); name; name = strtok(NULL, " ")) {
        ck_assert_msg(plwi_body(name) != 0, "%s", name);
        set |= plwi_body(name);
    }
    return set;
}

START_TEST(test_words_for_bodies)
{
    const word_row *row = &body_rows[_i];
    uint32_t body = bodies_of(row->body), near = bodies_of(row->near);
    char words[200];
    strcpy(words, row->words);
    for (char *word = strtok(words, ","); word; word = strtok(NULL, ",")) {
        plwi_wanted wanted;
        ck_assert_msg(plwi_read_value(CLAIM_BODY, word, strlen(word), &wanted), "%s", word);
        ck_assert_msg(wanted.bodies == body && wanted.near_bodies == near, "%s", word);
    }
}
END_TEST

START_TEST(test_words_for_fuels_and_countries)
{
    static const char *const rows[][2] = {
        { "diesel", "diesel" },   { "gasoline", "gasoline" },
        { "petrol", "gasoline" }, { "Gas", "gasoline" },
    };
    static const char *const countries[][2] = {
        { "USA", " united states " },        { "U.S.A.", " united states " },
        { "US", " united states " },         { "U.S.", " united states " },
        { "America", " united states " },    { "UK", " united kingdom " },
        { "U.K.", " united kingdom " },      { "Great Britain", " united kingdom " },
        { "Britain", " united kingdom " },   { "England", " united kingdom " },
        { "West Germany", " germany " },     { "Holland", " netherlands " },
        { "Canada", " canada " },
    };
    plwi_wanted wanted;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ck_assert_int_eq(plwi_read_value(CLAIM_FUEL, rows[i][0], strlen(rows[i][0]), &wanted), 1);
        ck_assert_str_eq(wanted.fuel, rows[i][1]);
    }
    for (size_t i = 0; i < sizeof countries / sizeof *countries; i++) {
        const char *name = countries[i][0];
        ck_assert_int_eq(plwi_read_value(CLAIM_COUNTRY, name, strlen(name), &wanted), 1);
        ck_assert_str_eq(wanted.text, countries[i][1]);
    }
}
END_TEST

/* ---- litres: a displacement that rounds to both figures ------------------------------- */

START_TEST(test_figures_of_one_unit_are_exact)
{
    static const int figures[] = { 424, 425, 426, 427, 428, 429, 430, 431 };
    plw_result *r = probe_validate(fixture_tables(), "S23Z8N500123", NULL);
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
        char claim[32];
        snprintf(claim, sizeof claim, "engine=%d", figures[i]);
        ck_assert_int_eq(plw_check_claims(r, claim, strlen(claim)), PLW_OK);
        ck_assert_int_eq(plw_claim_verdict(r, 0), figures[i] == 427 ? SUPPORTED : CONTRADICTED);
    }
}
END_TEST

/* A row of the live tables with that displacement. */
static uint32_t row_with_cid(int64_t cid)
{
    for (uint32_t row = 0; row < plw_row_count(NULL); row++) {
        int64_t stated;
        if (plw_row_quantity(NULL, row, "cid", &stated) == PLW_OK && stated == cid * 1000)
            return row;
    }
    return PLW_NONE;
}

/* The verdict when the engine of a number says what that row says. */
static int32_t verdict_of_row(uint32_t row, const char *claim)
{
    plw_result *r = probe_decode(NULL, "3Y86N400001", NULL);
    uint32_t field = probe_field(r, 0, "engine");
    plwi_slot *slot = &r->slots[r->readings[0].slot + field];
    r->reading_count = 1;
    slot->row_count = 1;
    r->rows[slot->row] = row;
    ck_assert_int_eq(plw_check_claims(r, claim, strlen(claim)), PLW_OK);
    return plw_claim_verdict(r, 0);
}

START_TEST(test_litres_of_the_trade)
{
    static const struct {
        int64_t cid;
        const char *claim;
        int32_t verdict;
    } rows[] = {
        { 426, "engine=7.0", SUPPORTED },  { 427, "engine=7.0", SUPPORTED },
        { 428, "engine=7.0", SUPPORTED },  { 429, "engine=7.0", SUPPORTED },
        { 430, "engine=7.0", SUPPORTED },  { 440, "engine=7.0", CONTRADICTED },
        { 413, "engine=7.0", CONTRADICTED }, { 440, "engine=7.2L", SUPPORTED },
        { 390, "engine=6.4 L", SUPPORTED }, { 302, "engine=5.0", SUPPORTED },
        { 302, "engine=4.9", SUPPORTED },  { 350, "engine=5.7", SUPPORTED },
        { 351, "engine=5.8", SUPPORTED },  { 350, "engine=5.8", NOT_TOLD },
        { 302, "engine=5.2", CONTRADICTED },
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        uint32_t row = row_with_cid(rows[i].cid);
        ck_assert_uint_ne(row, PLW_NONE);
        ck_assert_msg(verdict_of_row(row, rows[i].claim) == rows[i].verdict, "%d: %s",
                      (int)rows[i].cid, rows[i].claim);
    }
}
END_TEST

/* ---- the text of claims ------------------------------------------------------------------ */

static const char *text_of(int32_t text(const plw_result *, uint32_t, char *, size_t, size_t *),
                           const plw_result *result, uint32_t claim)
{
    static char buffer[2048];
    size_t needed = 0;
    ck_assert_int_eq(text(result, claim, NULL, 0, &needed), PLW_E_SHORT);
    ck_assert_int_eq(text(result, claim, buffer, needed, NULL), PLW_OK);
    ck_assert_uint_eq(strlen(buffer) + 1, needed);
    return buffer;
}

START_TEST(test_claims_stand_in_the_order_given)
{
    plw_result *r = check("T24M6P100051", " ; Model  Year = 1966 ;colour = a=b;; body=sedan;");
    ck_assert_uint_eq(plw_claim_count(r), 3);
    ck_assert_str_eq(plw_claim_attribute(r, 0), "year");
    ck_assert_str_eq(text_of(plw_claim_text, r, 0), "Model  Year=1966");
    ck_assert_str_eq(text_of(plw_claim_value, r, 0), "1966");
    ck_assert_str_eq(plw_claim_attribute(r, 1), "");
    ck_assert_str_eq(text_of(plw_claim_text, r, 1), "colour=a=b");
    ck_assert_str_eq(text_of(plw_claim_value, r, 1), "a=b");
    ck_assert_str_eq(plw_claim_attribute(r, 2), "body");
    ck_assert_str_eq(text_of(plw_claim_sentence, r, 2),
                     "The number supports body=sedan: body 24 says sedan (positions 2-3).");
}
END_TEST

START_TEST(test_bad_claims_are_refused)
{
    static const struct {
        const char *text;
        size_t length;
    } bad[] = {
        { "1966", 4 },          { "=1966", 5 },         { "year=", 5 },
        { "year= ;x=y", 10 },   { "year=19\00066", 9 }, { "line=a\nb", 8 },
        { "line=\xFF", 6 },     { "line=\xC3", 6 },     { "line=\xE2\x80\xAE", 8 },
        { "line=\x1B[1m", 9 },  { "year=1966;body", 14 },
    };
    plw_result *r = check("T24M6P100051", "year=1966");
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        ck_assert_int_eq(plw_check_claims(r, "year=1966", 9), PLW_OK);
        ck_assert_int_eq(plw_check_claims(r, bad[i].text, bad[i].length), PLW_E_CLAIM);
        ck_assert_uint_eq(plw_claim_count(r), 0);
        ck_assert_uint_eq(plw_reading_count(r), 1);
    }
}
END_TEST

START_TEST(test_limits)
{
    char text[PLW_MAX_CLAIM_TEXT + 1] = "";
    plw_result *r = check("T24M6P100051", "");
    ck_assert_uint_eq(plw_claim_count(r), 0);
    for (int i = 0; i < PLW_MAX_CLAIMS; i++)
        strcat(text, "year=1966;");
    ck_assert_int_eq(plw_check_claims(r, text, strlen(text)), PLW_OK);
    ck_assert_uint_eq(plw_claim_count(r), PLW_MAX_CLAIMS);
    strcat(text, "year=1966;");
    ck_assert_int_eq(plw_check_claims(r, text, strlen(text)), PLW_E_TOO_LONG);
    memset(text, 'x', sizeof text);
    memcpy(text, "line=", 5);
    ck_assert_int_eq(plw_check_claims(r, text, PLW_MAX_CLAIM_TEXT), PLW_OK);
    ck_assert_int_eq(plw_claim_reason(r, 0), PLW_REASON_NOT_UNDERSTOOD);
    ck_assert_uint_gt(strlen(text_of(plw_claim_sentence, r, 0)), PLW_MAX_CLAIM_TEXT);
    ck_assert_int_eq(plw_check_claims(r, text, sizeof text), PLW_E_TOO_LONG);
    ck_assert_int_eq(plw_check_claims(r, NULL, 0), PLW_OK);
    ck_assert_int_eq(plw_check_claims(r, NULL, 1), PLW_E_ARGUMENT);
    ck_assert_int_eq(plw_check_claims(NULL, "year=1966", 9), PLW_E_ARGUMENT);
}
END_TEST

START_TEST(test_accessors_out_of_range)
{
    plw_result *r = check("T24M6P100051", "year=1966");
    const plw_result *results[] = { r, NULL };
    char text[8];
    for (size_t i = 0; i < 2; i++) {
        uint32_t claim = results[i] ? 1 : 0;
        ck_assert_str_eq(plw_claim_attribute(results[i], claim), "");
        ck_assert_int_eq(plw_claim_verdict(results[i], claim), 0);
        ck_assert_int_eq(plw_claim_reason(results[i], claim), PLW_REASON_NONE);
        ck_assert_uint_eq(plw_claim_reading(results[i], claim), PLW_NONE);
        ck_assert_uint_eq(plw_claim_positions(results[i], claim), 0);
        ck_assert_uint_eq(plw_claim_row_count(results[i], claim), 0);
        ck_assert_uint_eq(plw_claim_row(results[i], claim, 0), PLW_NONE);
        ck_assert_int_eq(plw_claim_standing(results[i], claim), PLW_E_ARGUMENT);
        ck_assert_uint_eq(plw_claim_marks(results[i], claim), 0);
        ck_assert_int_eq(plw_claim_text(results[i], claim, text, 8, NULL), PLW_E_ARGUMENT);
        ck_assert_int_eq(plw_claim_value(results[i], claim, text, 8, NULL), PLW_E_ARGUMENT);
        ck_assert_int_eq(plw_claim_sentence(results[i], claim, text, 8, NULL), PLW_E_ARGUMENT);
    }
    ck_assert_uint_eq(plw_claim_count(NULL), 0);
    ck_assert_uint_eq(plw_claim_row(r, 0, plw_claim_row_count(r, 0)), PLW_NONE);
}
END_TEST

START_TEST(test_names_of_verdicts_and_reasons)
{
    ck_assert_str_eq(plw_verdict_name(SUPPORTED), "supported");
    ck_assert_str_eq(plw_verdict_name(CONTRADICTED), "contradicted");
    ck_assert_str_eq(plw_verdict_name(NOT_TOLD), "not-told");
    ck_assert_str_eq(plw_verdict_name(0), "");
    ck_assert_str_eq(plw_verdict_name(4), "");
    ck_assert_str_eq(plw_reason_name(PLW_REASON_NONE), "none");
    ck_assert_str_eq(plw_reason_name(PLW_REASON_CONFLICT), "conflict");
    ck_assert_str_eq(plw_reason_name(PLW_REASON_CONFLICT + 1), "");
    ck_assert_str_eq(plw_reason_name(-1), "");
}
END_TEST

/* ---- what decides ---------------------------------------------------------------------------- */

static const char *key_of(const plw_result *r, uint32_t claim, uint32_t index)
{
    static char key[256];
    ck_assert_int_eq(plw_row_key(fixture_tables(), plw_claim_row(r, claim, index), key,
                                 sizeof key, NULL),
                     PLW_OK);
    return key;
}

START_TEST(test_rows_and_how_sure_they_are)
{
    plw_result *r = check("H24R9P100200", "cylinders=8; body=sedan; maker=Wexcombe; year=1969");
    ck_assert_uint_eq(plw_claim_row_count(r, 0), 2);
    ck_assert_str_eq(key_of(r, 0, 0), "port-ellery-1962/engine/R/1969/six");
    ck_assert_str_eq(key_of(r, 0, 1), "port-ellery-1962/engine/R/1969/eight");
    ck_assert_uint_eq(plw_claim_marks(r, 0), PLW_MARK_DISPUTED);
    ck_assert_int_eq(plw_claim_standing(r, 0), PLW_STANDING_PUBLISHED);
    ck_assert_uint_eq(plw_claim_reading(r, 0), 0);
    ck_assert_uint_eq(plw_claim_row_count(r, 1), 1);
    ck_assert_uint_eq(plw_claim_marks(r, 1), 0);
    ck_assert_uint_eq(plw_claim_row_count(r, 2), 0);
    ck_assert_int_eq(plw_claim_standing(r, 2), PLW_E_ABSENT);
    ck_assert_int_eq(plw_claim_standing(r, 3), PLW_STANDING_PRACTICE);
    r = check("T24W2P100100", "cylinders=4; engine=1760 cc");
    ck_assert_int_eq(plw_claim_standing(r, 0), PLW_STANDING_MEMORY);
    ck_assert_uint_eq(plw_claim_row_count(r, 1), 2);
    ck_assert_uint_eq(plw_claim_reading(r, 1), PLW_NONE);
}
END_TEST

START_TEST(test_the_reading_that_supports)
{
    plw_result *r = check("T31K3P100051", "year=1963; year=1973; year=1970");
    ck_assert_uint_eq(plw_claim_reading(r, 0), 0);
    ck_assert_uint_eq(plw_claim_reading(r, 1), 1);
    ck_assert_uint_eq(plw_claim_reading(r, 2), PLW_NONE);
    r = probe_validate(fixture_tables(), "T31K3P100051", "year=1973");
    ck_assert_int_eq(plw_check_claims(r, "year=1973", 9), PLW_OK);
    ck_assert_int_eq(plw_claim_verdict(r, 0), SUPPORTED);
}
END_TEST

/* Claims are about one number: the next call forgets them. */
START_TEST(test_the_next_number_has_no_claims)
{
    plw_result *r = check("T24M6P100051", "year=1966");
    ck_assert_uint_eq(plw_claim_count(r), 1);
    ck_assert_uint_eq(plw_claim_count(probe_validate(fixture_tables(), "T24M6P100051", NULL)), 0);
}
END_TEST

START_TEST(test_a_decoded_result_will_do)
{
    plw_result *r = probe_decode(fixture_tables(), "T24M6P100051", NULL);
    ck_assert_int_eq(plw_check_claims(r, "year=1966", 9), PLW_OK);
    ck_assert_int_eq(plw_claim_verdict(r, 0), SUPPORTED);
}
END_TEST

START_TEST(test_no_word_of_judgement)
{
    for (int i = 0; i < VERDICT_ROWS; i++) {
        const char *text = sentence(check(verdict_rows[i].number, verdict_rows[i].claim), 0);
        ck_assert_ptr_null(strstr(text, "fake"));
        ck_assert_ptr_null(strstr(text, "genuine"));
    }
}
END_TEST

/* ---- explanations ------------------------------------------------------- */

static void explain(const char *claims, int32_t format, char *text, size_t size)
{
    plw_result *r = check("T24M6P100051", claims);
    ck_assert_int_eq(plw_explain(r, format, 0, text, size, NULL), PLW_OK);
}

START_TEST(test_explanations_have_claims)
{
    static char text[1 << 16];
    explain("engine=V8; line=<b>*x*</b>", PLW_FORMAT_TEXT, text, sizeof text);
    ck_assert_ptr_nonnull(strstr(text, "\nClaims\n"
                                       "  supported       The number supports engine=V8: engine M "
                                       "says 8 cylinders"));
    ck_assert_ptr_nonnull(strstr(text, "  not-told        The number does not tell "));
    explain("body=4dr sedan; line=<b>*x*</b>", PLW_FORMAT_MARKDOWN, text, sizeof text);
    ck_assert_ptr_nonnull(strstr(text, "\n## Claims\n\n"
                                       "- **supported**: The number supports body=4dr sedan: "
                                       "body 24 says sedan, 4 doors (positions 2-3). "
                                       "\\[handbook-63\\]\n"));
    ck_assert_ptr_nonnull(strstr(text, "line=\\<b\\>\\*x\\*\\</b\\>: "));
    explain("engine=V8; colour=\"\\", PLW_FORMAT_JSON, text, sizeof text);
    ck_assert_ptr_nonnull(
        strstr(text, "\"claims\":[{\"claim\":\"engine=V8\",\"attribute\":\"engine\",\"value\":"
                     "\"V8\",\"verdict\":\"supported\",\"reason\":\"none\",\"reading\":0,"
                     "\"positions\":[4],\"rows\":[\"port-ellery-1962/engine/M/1966\"],"
                     "\"standing\":\"practice\",\"marks\":[],\"sentence\":\"The number "));
    ck_assert_ptr_nonnull(
        strstr(text, "{\"claim\":\"colour=\\\"\\\\\",\"attribute\":null,\"value\":\"\\\"\\\\\","
                     "\"verdict\":\"not-told\",\"reason\":\"not-understood\",\"reading\":null,"
                     "\"positions\":[],\"rows\":[],\"standing\":null,\"marks\":[]"));
}
END_TEST

START_TEST(test_explanations_without_claims_say_nothing_of_them)
{
    static char text[1 << 16];
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_JSON; format++) {
        explain("", format, text, sizeof text);
        ck_assert_ptr_null(strstr(text, "laims"));
    }
}
END_TEST

/* ---- live tables: what a reading says of itself ------------------------- */

/* Attributes of rows, and the claims that are about them. */
static const char *const claimed_as[][2] = {
    { "maker", "maker" },       { "division", "division" }, { "brand", "maker" },
    { "line", "line" },         { "line", "model" },        { "series", "series" },
    { "cid", "displacement" },  { "cc", "displacement" },   { "cyl", "cylinders" },
    { "carb", "carburation" },  { "body", "body" },         { "doors", "doors" },
    { "hp_gross", "power" },    { "hp_net", "power" },      { "fuel", "fuel" },
    { "place", "plant" },       { "country", "country" },
};

static const char *unit_of(const char *attribute)
{
    return strcmp(attribute, "cid") == 0        ? " cu in"
           : strcmp(attribute, "cc") == 0       ? " cc"
           : strcmp(attribute, "hp_gross") == 0 ? " hp gross"
           : strcmp(attribute, "hp_net") == 0   ? " hp net"
                                                : "";
}

/* The value a row states for an attribute, or NULL. */
static const char *stated(uint32_t row, const char *attribute)
{
    static char texts[2][300];
    static int turn;
    char *text = texts[turn = !turn];
    for (uint32_t i = 0; i < plw_row_attribute_count(NULL, row); i++)
        if (strcmp(plw_row_attribute_name(NULL, row, i), attribute) == 0 &&
            plw_row_attribute_text(NULL, row, i, text, sizeof texts[0], NULL) == PLW_OK)
            return text;
    return NULL;
}

/* 1 when every row of the reading that states the attribute states this value, and
 * no row beside it in its field is silent. */
static int is_of_one_voice(const plw_result *r, uint32_t reading, const char *attribute,
                           const char *value)
{
    for (uint32_t f = 0; f < plw_field_count(r, reading); f++) {
        uint32_t count = plw_field_row_count(r, reading, f), said = 0;
        for (uint32_t k = 0; k < count; k++) {
            const char *other = stated(plw_field_row(r, reading, f, k), attribute);
            said += other != NULL;
            if (other && strcmp(other, value) != 0)
                return 0;
        }
        if (said != 0 && said != count)
            return 0;
    }
    return 1;
}

static int count_of_own_claims;

static void claim_row(plw_result *r, uint32_t reading, uint32_t row, const char *number)
{
    for (size_t i = 0; i < sizeof claimed_as / sizeof *claimed_as; i++) {
        char claim[400], value[300];
        const char *text = stated(row, claimed_as[i][0]);
        if (text == NULL || strchr(text, ';'))
            continue;
        snprintf(value, sizeof value, "%s", text);
        snprintf(claim, sizeof claim, "%s=%s%s", claimed_as[i][1], value,
                 unit_of(claimed_as[i][0]));
        ck_assert_int_eq(plw_check_claims(r, claim, strlen(claim)), PLW_OK);
        ck_assert_msg(plw_claim_reason(r, 0) != PLW_REASON_NOT_UNDERSTOOD, "%s, %s", number,
                      sentence(r, 0));
        ck_assert_msg(plw_claim_verdict(r, 0) != CONTRADICTED, "%s, reading %u: %s", number,
                      (unsigned)reading + 1, sentence(r, 0));
        if (reading != 0 || plw_reading_year_count(r, 0) == 0 ||
            !is_of_one_voice(r, 0, claimed_as[i][0], value))
            continue;
        ck_assert_msg(plw_claim_verdict(r, 0) == SUPPORTED, "%s: %s", number, sentence(r, 0));
        count_of_own_claims++;
    }
}

static void claim_year(plw_result *r, uint32_t reading, const char *number)
{
    for (uint32_t i = 0; i < plw_reading_year_count(r, reading); i++) {
        char claim[32];
        snprintf(claim, sizeof claim, "year=%d", (int)plw_reading_year(r, reading, i));
        ck_assert_int_eq(plw_check_claims(r, claim, strlen(claim)), PLW_OK);
        ck_assert_msg(plw_claim_verdict(r, 0) != CONTRADICTED, "%s: %s", number, sentence(r, 0));
        if (reading == 0 && plw_reading_year_count(r, 0) == 1)
            ck_assert_msg(plw_claim_verdict(r, 0) == SUPPORTED, "%s: %s", number, sentence(r, 0));
    }
}

static void claim_own(const char *number)
{
    static char taken[PLW_MAX_READINGS]; /* those whose fields exclude each other do not count */
    plw_result *r = probe_decode(NULL, number, NULL);
    int any = 0;
    for (uint32_t i = 0; i < plw_reading_count(r); i++)
        any |= taken[i] = plw_reading_year_count(r, i) > 0;
    for (uint32_t i = 0; i < plw_reading_count(r); i++) {
        if (any && !taken[i])
            continue;
        claim_year(r, i, number);
        for (uint32_t f = 0; f < plw_field_count(r, i); f++)
            for (uint32_t k = 0; k < plw_field_row_count(r, i, f); k++)
                claim_row(r, i, plw_field_row(r, i, f, k), number);
    }
}

START_TEST(test_samples_support_what_they_say)
{
    count_of_own_claims = 0;
    for (uint32_t scheme = 0; scheme < plw_scheme_count(NULL); scheme++)
        for (uint32_t layout = 0; layout < plw_layout_count(NULL, scheme); layout++)
            claim_own(plw_layout_sample(NULL, scheme, layout));
    ck_assert_int_gt(count_of_own_claims, 100);
}
END_TEST

static const char *const example_files[] = {
    "tests/examples/dearborn.tsv",      "tests/examples/detroit.tsv",
    "tests/examples/highland-park.tsv", "tests/examples/imports.tsv",
    "tests/examples/independents.tsv",  "tests/examples/iso3779.tsv",
};

START_TEST(test_examples_support_what_they_say)
{
    size_t size;
    char *text = fixture_text(example_files[_i], &size);
    count_of_own_claims = 0;
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        line[strcspn(line, "\t")] = '\0';
        if (line[0] != '#' && strncmp(line, "stamp:", 6) != 0 && strlen(line) <= PLW_MAX_TEXT)
            claim_own(line);
    }
    free(text);
    ck_assert_int_gt(count_of_own_claims, 50);
}
END_TEST

static void add(TCase *test)
{
    tcase_add_loop_test(test, test_verdict, 0, VERDICT_ROWS);
    tcase_add_loop_test(test, test_form, 0, FORM_ROWS);
    tcase_add_loop_test(test, test_not_understood, 0,
                        (int)(sizeof not_understood / sizeof *not_understood));
    tcase_add_loop_test(test, test_words_for_bodies, 0, BODY_ROWS);
    tcase_add_test(test, test_words_for_fuels_and_countries);
    tcase_add_test(test, test_figures_of_one_unit_are_exact);
    tcase_add_test(test, test_litres_of_the_trade);
    tcase_add_test(test, test_claims_stand_in_the_order_given);
    tcase_add_test(test, test_bad_claims_are_refused);
    tcase_add_test(test, test_limits);
    tcase_add_test(test, test_accessors_out_of_range);
    tcase_add_test(test, test_names_of_verdicts_and_reasons);
    tcase_add_test(test, test_rows_and_how_sure_they_are);
    tcase_add_test(test, test_the_reading_that_supports);
    tcase_add_test(test, test_the_next_number_has_no_claims);
    tcase_add_test(test, test_a_decoded_result_will_do);
    tcase_add_test(test, test_no_word_of_judgement);
    tcase_add_test(test, test_explanations_have_claims);
    tcase_add_test(test, test_explanations_without_claims_say_nothing_of_them);
    tcase_add_test(test, test_samples_support_what_they_say);
    tcase_add_loop_test(test, test_examples_support_what_they_say, 0,
                        (int)(sizeof example_files / sizeof *example_files));
}

int main(void)
{
    return probe_run("claims", add);
}
