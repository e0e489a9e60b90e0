/* SPDX-License-Identifier: MIT
 *
 * Reading what a claim says. The words here are plain English of the trade and
 * belong to no maker; plw_check_claims(3) lists every form that is accepted.
 * A value is first put into plain form, then taken apart from the left.
 */
#include <string.h>

#include "claims.h"

/* ---- plain form ----------------------------------------------------------- */

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Letters, and the bytes of letters beyond ASCII. */
static int is_letter(char c)
{
    c = plwi_small(c);
    return (c >= 'a' && c <= 'z') || (unsigned char)c >= 0x80;
}

/* A point between figures belongs to the number. */
static int is_point(const char *text, size_t length, size_t at)
{
    return text[at] == '.' && at > 0 && at + 1 < length && is_digit(text[at - 1]) &&
           is_digit(text[at + 1]);
}

int plwi_plain(const char *text, size_t length, char plain[PLAIN_SIZE])
{
    size_t used = 0;
    plain[used++] = ' ';
    for (size_t i = 0; i < length; i++) {
        int figure = is_digit(text[i]) || is_point(text, length, i);
        char last = plain[used - 1];
        int parts = last != ' ' && (figure ? is_letter(last) : !is_letter(last));
        if (used + 3 > PLAIN_SIZE)
            return 0;
        if ((figure || is_letter(text[i])) && parts)
            plain[used++] = ' ';
        if (figure || is_letter(text[i]))
            plain[used++] = plwi_small(text[i]);
        else if (last != ' ')
            plain[used++] = ' ';
    }
    if (plain[used - 1] != ' ')
        plain[used++] = ' ';
    plain[used] = '\0';
    return 1;
}

/* ---- taking a value apart ---------------------------------------------------- */

/* The rest of a plain text: stands on the blank before a word. */
typedef const char *rest_t;

static int at_end(rest_t rest)
{
    return rest[1] == '\0';
}

/* Takes a phrase, " cu in", when it stands next. */
static int take(rest_t *rest, const char *phrase)
{
    size_t length = strlen(phrase);
    if (strncmp(*rest, phrase, length) != 0 || (*rest)[length] != ' ')
        return 0;
    *rest += length;
    return 1;
}

/* Words that stand for a number, or for nothing but themselves (0). */
typedef struct word {
    char phrase[18];
    int32_t number;
} word;

#define COUNT_OF(list) (sizeof(list) / sizeof *(list))

static int take_word(rest_t *rest, const word *words, size_t count, int32_t *number)
{
    for (size_t i = 0; i < count; i++)
        if (take(rest, words[i].phrase)) {
            *number = words[i].number;
            return 1;
        }
    return 0;
}

#define MOST_FIGURES 7

/* Takes a number with up to three decimals; step is one of its last figure. */
static int take_figures(rest_t *rest, int64_t *thousandths, int64_t *step)
{
    rest_t at = *rest + 1;
    int64_t value = 0, unit = 1000;
    int figures = 0;
    for (; is_digit(*at) && figures < MOST_FIGURES; figures++, at++)
        value = value * 10 + (*at - '0');
    value *= 1000;
    if (figures > 0 && *at == '.')
        for (at++; is_digit(*at) && unit > 1; at++) {
            unit /= 10;
            value += unit * (*at - '0');
        }
    if (figures == 0 || *at != ' ')
        return 0;
    *rest = at;
    *thousandths = value;
    *step = unit;
    return 1;
}

static const word counts[] = {
    { " single", 1 }, { " one", 1 },  { " two", 2 },  { " twin", 2 },  { " dual", 2 },
    { " three", 3 },  { " triple", 3 }, { " four", 4 }, { " five", 5 },  { " six", 6 },
    { " eight", 8 },  { " ten", 10 },  { " twelve", 12 }, { " sixteen", 16 },
};

/* Takes a whole number, in figures or as a word. */
static int take_count(rest_t *rest, int32_t *count)
{
    rest_t at = *rest;
    int64_t thousandths, step;
    if (take_word(rest, counts, COUNT_OF(counts), count))
        return 1;
    if (!take_figures(&at, &thousandths, &step) || step != 1000)
        return 0;
    *count = (int32_t)(thousandths / 1000);
    *rest = at;
    return 1;
}

/* ---- parts ---------------------------------------------------------------------- */

/* A reader takes one part from the rest when it stands there. */
typedef int reader(rest_t *rest, uint32_t about, plwi_wanted *wanted);

static int read_power(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    static const word units[] = { { " bhp", 0 }, { " hp", 0 }, { " horsepower", 0 } };
    static const word bases[] = {
        { " sae gross", BASIS_GROSS }, { " gross", BASIS_GROSS },
        { " sae net", BASIS_NET },     { " net", BASIS_NET },
    };
    int32_t basis = BASIS_OPEN, unused;
    int64_t step;
    rest_t at = *rest;
    if (!take_figures(&at, &wanted->power, &step))
        return 0;
    int based = take_word(&at, bases, COUNT_OF(bases), &basis);
    int united = take_word(&at, units, COUNT_OF(units), &unused);
    if (!based)
        take_word(&at, bases, COUNT_OF(bases), &basis);
    if (!united && about != CLAIM_POWER)
        return 0;
    wanted->basis = (uint8_t)basis;
    *rest = at;
    return 1;
}

static int take_barrel_unit(rest_t *rest)
{
    static const word units[] = {
        { " barrels", 0 }, { " barrel", 0 }, { " bbls", 0 }, { " bbl", 0 },
    };
    int32_t unused;
    return take_word(rest, units, COUNT_OF(units), &unused);
}

static int take_carburettor_word(rest_t *rest)
{
    static const word units[] = {
        { " carburettors", 0 }, { " carburettor", 0 }, { " carburetors", 0 },
        { " carburetor", 0 },   { " carbs", 0 },       { " carb", 0 },
    };
    int32_t unused;
    return take_word(rest, units, COUNT_OF(units), &unused);
}

#define MOST_BARRELS 4      /* of one carburettor */
#define MOST_CARBURETTORS 3 /* where no x stands: in "six two-barrel" six are the cylinders */

/* "2x4", "three two-barrels" */
static int read_several(rest_t *rest, int32_t first, plwi_wanted *wanted)
{
    rest_t at = *rest;
    int crossed = take(&at, " x");
    if ((!crossed && first > MOST_CARBURETTORS) || !take_count(&at, &wanted->barrels) ||
        wanted->barrels > MOST_BARRELS || wanted->barrels == 0 ||
        (!take_barrel_unit(&at) && !crossed))
        return 0;
    wanted->carburettors = first;
    *rest = at;
    return 1;
}

/* "four barrel": one carburettor; more than it can have are those of all. */
static void set_barrels(int32_t count, plwi_wanted *wanted)
{
    wanted->carburettors = count <= MOST_BARRELS;
    wanted->barrels = count <= MOST_BARRELS ? count : 0;
    wanted->all_barrels = count <= MOST_BARRELS ? 0 : count;
}

static int read_carburation(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    rest_t at = *rest;
    int32_t first;
    wanted->carburettors = wanted->barrels = wanted->all_barrels = 0;
    if (!take_count(&at, &first) || first == 0)
        return 0;
    if (read_several(&at, first, wanted)) {
        take_carburettor_word(&at);
    } else if (take_barrel_unit(&at)) {
        take_carburettor_word(&at);
        set_barrels(first, wanted);
    } else if (take_carburettor_word(&at)) {
        wanted->carburettors = first;
        wanted->barrels = 0;
    } else if (about == CLAIM_CARBURATION) {
        set_barrels(first, wanted);
    } else {
        return 0;
    }
    *rest = at;
    return 1;
}

static int read_cylinders(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    static const word shapes[] = {
        { " v", 0 }, { " i", 0 }, { " inline", 0 }, { " in line", 0 }, { " straight", 0 },
        { " flat", 0 },
    };
    static const word units[] = {
        { " cylinders", 0 }, { " cylinder", 0 }, { " cyls", 0 }, { " cyl", 0 },
    };
    int32_t unused;
    rest_t at = *rest;
    int shaped = take_word(&at, shapes, COUNT_OF(shapes), &unused);
    int in_words = !is_digit(at[1]);
    if (!take_count(&at, &wanted->cylinders))
        return 0;
    if (!take_word(&at, units, COUNT_OF(units), &unused) && !shaped && !in_words &&
        about != CLAIM_CYLINDERS)
        return 0;
    *rest = at;
    return 1;
}

static int read_fuel(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    static const word fuels[] = {
        { " diesel", 1 }, { " gasoline", 0 }, { " petrol", 0 }, { " gas", 0 },
    };
    int32_t diesel;
    (void)about;
    if (!take_word(rest, fuels, COUNT_OF(fuels), &diesel))
        return 0;
    wanted->fuel = diesel ? "diesel" : "gasoline";
    return 1;
}

#define LEAST_CU_IN 20000 /* thousandths; fewer can only be litres */
#define MOST_LITRES 1000000
#define LEAST_CC 1000000  /* as a bare number; more can only be cc */

/* A number without unit: what can only be litres or cc is that. */
static int guess_unit(uint32_t about, int32_t *unit, const plwi_wanted *wanted)
{
    if (wanted->volume < LEAST_CU_IN) {
        *unit = VOLUME_LITRE;
        return wanted->step < 1000 || about == CLAIM_DISPLACEMENT;
    }
    *unit = wanted->volume < LEAST_CC ? VOLUME_OPEN : VOLUME_CC;
    return 1;
}

/* "7 litre" says no less than "7.0 litre"; "1500 cc" is a round figure. */
static int64_t step_of(const plwi_wanted *wanted)
{
    if (wanted->unit == VOLUME_LITRE && wanted->step == 1000)
        return 100;
    if (wanted->unit == VOLUME_CC && wanted->volume % 100000 == 0)
        return 100000;
    if (wanted->unit == VOLUME_CC && wanted->volume % 10000 == 0)
        return 10000;
    return wanted->step;
}

static int read_volume(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    static const word units[] = {
        { " cubic inches", VOLUME_CU_IN }, { " cubic inch", VOLUME_CU_IN },
        { " cu inches", VOLUME_CU_IN },    { " cu inch", VOLUME_CU_IN },
        { " cu in", VOLUME_CU_IN },        { " c i d", VOLUME_CU_IN },
        { " cid", VOLUME_CU_IN },          { " c i", VOLUME_CU_IN },
        { " ci", VOLUME_CU_IN },           { " ccm", VOLUME_CC },
        { " cc", VOLUME_CC },              { " c c", VOLUME_CC },
        { " litres", VOLUME_LITRE },       { " litre", VOLUME_LITRE },
        { " liters", VOLUME_LITRE },       { " liter", VOLUME_LITRE },
        { " ltr", VOLUME_LITRE },          { " l", VOLUME_LITRE },
    };
    int32_t unit;
    rest_t at = *rest;
    if (!take_figures(&at, &wanted->volume, &wanted->step) || wanted->volume == 0)
        return 0;
    if (!take_word(&at, units, COUNT_OF(units), &unit) && !guess_unit(about, &unit, wanted))
        return 0;
    if (unit == VOLUME_LITRE && wanted->volume > MOST_LITRES)
        return 0;
    wanted->unit = (uint8_t)unit;
    wanted->step = step_of(wanted);
    *rest = at;
    return 1;
}

static int read_doors(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    static const word units[] = { { " doors", 0 }, { " door", 0 }, { " dr", 0 } };
    int32_t unused;
    rest_t at = *rest;
    if (!take_count(&at, &wanted->doors) ||
        (!take_word(&at, units, COUNT_OF(units), &unused) && about != CLAIM_DOORS))
        return 0;
    *rest = at;
    return 1;
}

/* The bodies of the vocabulary. */
enum body {
    SEDAN = 1u << 0,
    HARDTOP = 1u << 1,
    COUPE = 1u << 2,
    FASTBACK = 1u << 3,
    CONVERTIBLE = 1u << 4,
    WAGON = 1u << 5,
    UTILITY = 1u << 6,
    LIMOUSINE = 1u << 7,
    CHASSIS = 1u << 8,
    VAN = 1u << 9,
    ROADSTER = 1u << 10,
    HATCHBACK = 1u << 11
};

uint32_t plwi_body(const char *name)
{
    static const char names[][12] = {
        "sedan",   "hardtop",   "coupe",   "fastback", "convertible", "wagon",
        "utility", "limousine", "chassis", "van",      "roadster",    "hatchback",
    };
    for (uint32_t i = 0; i < COUNT_OF(names); i++)
        if (strcmp(names[i], name) == 0)
            return UINT32_C(1) << i;
    return 0;
}

/* Words for bodies, and the bodies that are loosely called so: there the claim
 * is neither supported nor contradicted. A phrase stands before its beginning. */
typedef struct body_word {
    char phrase[18];
    uint32_t bodies;
    uint32_t near_bodies;
} body_word;

static const body_word body_words[] = {
    { " hardtop coupe", HARDTOP, COUPE | FASTBACK },
    { " hardtop sedan", HARDTOP, SEDAN },
    { " hardtop", HARDTOP, COUPE | FASTBACK },
    { " hard top", HARDTOP, COUPE | FASTBACK },
    { " ht", HARDTOP, COUPE | FASTBACK },
    { " fastback coupe", FASTBACK, COUPE | HARDTOP | HATCHBACK },
    { " fastback", FASTBACK, COUPE | HARDTOP | HATCHBACK },
    { " fast back", FASTBACK, COUPE | HARDTOP | HATCHBACK },
    { " hatchback", HATCHBACK, COUPE | FASTBACK | SEDAN | WAGON },
    { " hatch", HATCHBACK, COUPE | FASTBACK | SEDAN | WAGON },
    { " convertible coupe", CONVERTIBLE, ROADSTER },
    { " convertible", CONVERTIBLE, ROADSTER },
    { " conv", CONVERTIBLE, ROADSTER },
    { " cabriolet", CONVERTIBLE, ROADSTER },
    { " cabrio", CONVERTIBLE, ROADSTER },
    { " drophead coupe", CONVERTIBLE, ROADSTER },
    { " drophead", CONVERTIBLE, ROADSTER },
    { " dhc", CONVERTIBLE, ROADSTER },
    { " roadster", ROADSTER, CONVERTIBLE },
    { " spider", ROADSTER, CONVERTIBLE },
    { " spyder", ROADSTER, CONVERTIBLE },
    { " coupe utility", UTILITY, 0 },
    { " fixed head coupe", COUPE, HARDTOP | FASTBACK | HATCHBACK | SEDAN },
    { " fhc", COUPE, HARDTOP | FASTBACK | HATCHBACK | SEDAN },
    { " coup\xC3\xA9", COUPE, HARDTOP | FASTBACK | HATCHBACK | SEDAN },
    { " coupe", COUPE, HARDTOP | FASTBACK | HATCHBACK | SEDAN },
    { " sedan", SEDAN, COUPE | LIMOUSINE | HATCHBACK },
    { " saloon", SEDAN, COUPE | LIMOUSINE | HATCHBACK },
    { " limousine", LIMOUSINE, SEDAN },
    { " limo", LIMOUSINE, SEDAN },
    { " station wagon", WAGON, UTILITY | VAN | HATCHBACK },
    { " wagon", WAGON, UTILITY | VAN | HATCHBACK },
    { " estate car", WAGON, UTILITY | VAN | HATCHBACK },
    { " estate", WAGON, UTILITY | VAN | HATCHBACK },
    { " pickup", UTILITY, CHASSIS },
    { " pick up", UTILITY, CHASSIS },
    { " utility", UTILITY, CHASSIS | WAGON },
    { " ute", UTILITY, CHASSIS },
    { " chassis cab", CHASSIS, UTILITY },
    { " cab chassis", CHASSIS, UTILITY },
    { " chassis", CHASSIS, UTILITY },
    { " panel van", VAN, WAGON | UTILITY },
    { " van", VAN, WAGON | UTILITY },
};

static int read_body(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    (void)about;
    for (size_t i = 0; i < COUNT_OF(body_words); i++)
        if (take(rest, body_words[i].phrase)) {
            wanted->bodies = body_words[i].bodies;
            wanted->near_bodies = body_words[i].near_bodies;
            return 1;
        }
    return 0;
}

/* ---- what a claim is about ---------------------------------------------------------- */

#define PART(part) (UINT32_C(1) << (part))

typedef struct about_record {
    char name[16];
    uint32_t parts; /* that its value may state */
    char forms[72];
} about_record;

/* By enum claim_about. */
static const about_record abouts[] = {
    { "year", PART(PART_YEAR), "1966 or 66" },
    { "maker", PART(PART_TEXT), "a name" },
    { "division", PART(PART_TEXT), "a name" },
    { "line", PART(PART_TEXT), "a name" },
    { "series", PART(PART_TEXT), "a name" },
    { "model", PART(PART_TEXT), "a name" },
    { "body", PART(PART_BODY) | PART(PART_DOORS), "convertible, 2dr hardtop or four-door sedan" },
    { "doors", PART(PART_DOORS), "2 or four" },
    { "engine",
      PART(PART_VOLUME) | PART(PART_CYLINDERS) | PART(PART_CARBURATION) | PART(PART_POWER) |
          PART(PART_FUEL),
      "440, 426 cu in V8, 6.9L, 1498 cc or 440 four-barrel 375 hp" },
    { "displacement", PART(PART_VOLUME), "440, 426 cu in, 1498 cc or 6.9 litre" },
    { "cylinders", PART(PART_CYLINDERS), "8, V8 or straight six" },
    { "carburation", PART(PART_CARBURATION), "four barrel, 2bbl, 2x4 or three two-barrels" },
    { "power", PART(PART_POWER), "375, 375 hp gross or 170 bhp net" },
    { "fuel", PART(PART_FUEL), "gasoline, petrol or diesel" },
    { "plant", PART(PART_TEXT), "a place" },
    { "country", PART(PART_TEXT), "a country" },
    { "sequence", PART(PART_SEQUENCE), "100051" },
};

/* Other names, in plain form. */
static const word other_names[] = {
    { " model year", CLAIM_YEAR },       { " make", CLAIM_MAKER },
    { " manufacturer", CLAIM_MAKER },    { " brand", CLAIM_DIVISION },
    { " marque", CLAIM_DIVISION },       { " body style", CLAIM_BODY },
    { " body type", CLAIM_BODY },        { " capacity", CLAIM_DISPLACEMENT },
    { " cyl", CLAIM_CYLINDERS },         { " carburetion", CLAIM_CARBURATION },
    { " carburettor", CLAIM_CARBURATION }, { " carburetor", CLAIM_CARBURATION },
    { " carb", CLAIM_CARBURATION },      { " barrels", CLAIM_CARBURATION },
    { " horsepower", CLAIM_POWER },      { " hp", CLAIM_POWER },
    { " assembly plant", CLAIM_PLANT },  { " running number", CLAIM_SEQUENCE },
};

uint32_t plwi_claim_about(const char *name, size_t length)
{
    char plain[PLAIN_SIZE];
    if (!plwi_plain(name, length, plain))
        return CLAIM_ABOUT_COUNT;
    for (uint32_t i = 0; i < CLAIM_ABOUT_COUNT; i++) {
        rest_t rest = plain + 1;
        if (take(&rest, abouts[i].name) && at_end(rest))
            return i;
    }
    int32_t about;
    rest_t rest = plain;
    if (take_word(&rest, other_names, COUNT_OF(other_names), &about) && at_end(rest))
        return (uint32_t)about;
    return CLAIM_ABOUT_COUNT;
}

const char *plwi_claim_name(uint32_t about)
{
    return about < CLAIM_ABOUT_COUNT ? abouts[about].name : "";
}

const char *plwi_claim_forms(uint32_t about)
{
    return abouts[about].forms;
}

/* ---- whole values -------------------------------------------------------------------- */

/* In this order: figures with a unit go before the bare one. */
static const struct {
    uint8_t part;
    reader *read;
} readers[] = {
    { PART_POWER, read_power },         { PART_CARBURATION, read_carburation },
    { PART_CYLINDERS, read_cylinders }, { PART_FUEL, read_fuel },
    { PART_VOLUME, read_volume },       { PART_DOORS, read_doors },
    { PART_BODY, read_body },
};

static int take_filler(rest_t *rest)
{
    static const word fillers[] = {
        { " engine", 0 }, { " motor", 0 }, { " body", 0 }, { " with", 0 }, { " and", 0 },
    };
    int32_t unused;
    return take_word(rest, fillers, COUNT_OF(fillers), &unused);
}

/* Takes any one part that may stand there and was not stated before. */
static int take_part(rest_t *rest, uint32_t about, plwi_wanted *wanted)
{
    uint32_t open = abouts[about].parts & ~wanted->parts;
    for (size_t i = 0; i < COUNT_OF(readers); i++)
        if ((open & PART(readers[i].part)) && readers[i].read(rest, about, wanted)) {
            wanted->parts |= PART(readers[i].part);
            return 1;
        }
    return 0;
}

static int read_parts(uint32_t about, rest_t rest, plwi_wanted *wanted)
{
    while (!at_end(rest))
        if (!take_part(&rest, about, wanted) && !take_filler(&rest))
            return 0;
    return wanted->parts != 0;
}

/* "1966", "66" or "'66" */
static int read_year(rest_t rest, plwi_wanted *wanted)
{
    size_t length = strlen(rest) - 2;
    int64_t thousandths, step;
    if ((length != 4 && length != 2) || !take_figures(&rest, &thousandths, &step) ||
        step != 1000 || !at_end(rest))
        return 0;
    wanted->year = (int32_t)(thousandths / 1000);
    wanted->parts = PART(PART_YEAR);
    return length == 2 || wanted->year >= 100;
}

static int read_sequence(const char *value, size_t length, plwi_wanted *wanted)
{
    size_t used = 0;
    for (size_t i = 0; i < length; i++) {
        char c = plwi_small(value[i]);
        if (c == ' ' || c == '-' || c == '.' || c == ',')
            continue;
        if ((!is_digit(c) && (c < 'a' || c > 'z')) || used + 1 == PLAIN_SIZE)
            return 0;
        wanted->text[used++] = (char)(is_digit(c) ? c : c - 'a' + 'A');
    }
    wanted->text[used] = '\0';
    wanted->parts = PART(PART_SEQUENCE);
    return used > 0;
}

/* Other names of countries, as the tables have them. */
static const char countries[][2][20] = {
    { " u s a ", " united states " },         { " usa ", " united states " },
    { " u s ", " united states " },           { " us ", " united states " },
    { " america ", " united states " },       { " u k ", " united kingdom " },
    { " uk ", " united kingdom " },           { " great britain ", " united kingdom " },
    { " britain ", " united kingdom " },      { " england ", " united kingdom " },
    { " west germany ", " germany " },        { " holland ", " netherlands " },
};

/* A name in plain form, without what stands behind a comma: "Dearborn, Michigan". */
static int read_text(uint32_t about, const char *value, size_t length, plwi_wanted *wanted)
{
    const char *comma = memchr(value, ',', length);
    if (!plwi_plain(value, comma ? (size_t)(comma - value) : length, wanted->text))
        return 0;
    for (size_t i = 0; about == CLAIM_COUNTRY && i < COUNT_OF(countries); i++)
        if (strcmp(wanted->text, countries[i][0]) == 0)
            memcpy(wanted->text, countries[i][1], sizeof countries[i][1]);
    wanted->parts = PART(PART_TEXT);
    return !at_end(wanted->text);
}

int plwi_read_value(uint32_t about, const char *value, size_t length, plwi_wanted *wanted)
{
    char plain[PLAIN_SIZE];
    memset(wanted, 0, sizeof *wanted);
    if (about >= CLAIM_ABOUT_COUNT)
        return 0;
    if (about == CLAIM_SEQUENCE)
        return read_sequence(value, length, wanted);
    if (abouts[about].parts == PART(PART_TEXT))
        return read_text(about, value, length, wanted);
    if (!plwi_plain(value, length, plain))
        return 0;
    return about == CLAIM_YEAR ? read_year(plain, wanted) : read_parts(about, plain, wanted);
}

int plwi_read_barrels(const char *text, int32_t *carburettors, int32_t *barrels)
{
    char plain[PLAIN_SIZE];
    rest_t rest = plain;
    if (!plwi_plain(text, strlen(text), plain) || !take_count(&rest, barrels))
        return 0;
    *carburettors = 1;
    if (take(&rest, " x")) {
        *carburettors = *barrels;
        if (!take_count(&rest, barrels))
            return 0;
    }
    return at_end(rest);
}
