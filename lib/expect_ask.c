/* SPDX-License-Identifier: MIT
 *
 * What is asked: the claims, read as they are read when they are held against a
 * number, and what the rows of a scheme say to each part of them.
 */
#include "expect.h"

#include <string.h>

#define PART(part) (UINT32_C(1) << (part))

static void add_questions(plwi_inquiry *inquiry, uint32_t claim, uint32_t about)
{
    const plwi_wanted *wanted = &inquiry->wanted[claim];
    plwi_judge *judge = &inquiry->judges[claim];
    *judge = plwi_judge_of_rows(inquiry->image, about, wanted);
    for (unsigned part = 0; part < PART_COUNT; part++) {
        if (!(wanted->parts & PART(part)))
            continue;
        plwi_question *question = &inquiry->questions[inquiry->question_count++];
        question->claim = (uint8_t)claim;
        question->part = (uint8_t)part;
        question->known = part == PART_TEXT && plwi_is_known_name(judge);
        question->scheme = SILENT;
    }
    if (about == CLAIM_MAKER && plwi_is_unheard_name(judge))
        inquiry->strangers |= UINT32_C(1) << claim;
}

static int names_its_maker(image_t image, uint32_t scheme)
{
    const unsigned char *record = plwi_scheme(image, scheme);
    uint32_t fact = plwi_u32(record + SCHEME_FACT), field = plwi_u32(record + SCHEME_FIELD);
    uint32_t end = fact + plwi_u32(record + SCHEME_FACT_COUNT);
    uint64_t stated = 0;
    for (; fact < end; fact++)
        stated |= UINT64_C(1) << plwi_u16(plwi_fact(image, fact) + FACT_ATTRIBUTE);
    for (end = field + plwi_u32(record + SCHEME_FIELD_COUNT); field < end; field++)
        stated |= plwi_u64(plwi_field(image, field) + FIELD_PROVIDES);
    return (stated & plwi_maker_attributes(image)) != 0;
}

void plwi_open_inquiry(plwi_inquiry *inquiry, image_t image, const plwi_claims *claims)
{
    inquiry->image = image;
    inquiry->understood = inquiry->years = inquiry->sequences = inquiry->strangers = 0;
    inquiry->question_count = 0;
    inquiry->cached_scheme = PLW_NONE;
    for (uint32_t i = 0; i < claims->count; i++) {
        const plwi_claim *claim = &claims->item[i];
        if (!plwi_read_value(claim->about, claims->text + claim->value, claim->value_length,
                             &inquiry->wanted[i]))
            continue;
        inquiry->understood |= UINT32_C(1) << i;
        if (claim->about == CLAIM_YEAR)
            inquiry->years |= UINT32_C(1) << i;
        else if (claim->about == CLAIM_SEQUENCE)
            inquiry->sequences |= UINT32_C(1) << i;
        else
            add_questions(inquiry, i, claim->about);
    }
    inquiry->active = inquiry->understood;
}

void plwi_inquire_scheme(plwi_inquiry *inquiry, uint32_t scheme)
{
    if (inquiry->cached_scheme == scheme)
        return;
    inquiry->cached_scheme = scheme;
    inquiry->excludes_strangers = inquiry->strangers && names_its_maker(inquiry->image, scheme);
    memset(inquiry->cache, NOT_CACHED, sizeof inquiry->cache);
    for (uint32_t i = 0; i < inquiry->question_count; i++) {
        plwi_question *question = &inquiry->questions[i];
        question->scheme = (uint8_t)plwi_scheme_outcome(&inquiry->judges[question->claim], scheme,
                                                        question->part);
    }
}

static enum outcome judge_row(const plwi_inquiry *inquiry, uint32_t index, uint32_t row)
{
    const plwi_question *question = &inquiry->questions[index];
    return plwi_row_outcome(&inquiry->judges[question->claim], row, question->part);
}

enum outcome plwi_ask_row(plwi_inquiry *inquiry, uint32_t question, uint32_t row)
{
    const unsigned char *scheme = plwi_scheme(inquiry->image, inquiry->cached_scheme);
    uint32_t place = row - plwi_u32(scheme + SCHEME_ROW);
    if (question >= CACHED_QUESTIONS || place >= CACHED_ROWS)
        return judge_row(inquiry, question, row);
    uint8_t *cached = &inquiry->cache[question][place];
    if (*cached == NOT_CACHED)
        *cached = (uint8_t)judge_row(inquiry, question, row);
    return (enum outcome)*cached;
}

/* Who made or sold a car is told in several places, and one that agrees is enough. */
int plwi_is_asked(const plwi_inquiry *inquiry, uint32_t index)
{
    const plwi_question *question = &inquiry->questions[index];
    return (inquiry->active >> question->claim & 1) &&
           !(question->part == PART_TEXT && question->scheme == AGREES);
}

int plwi_year_is_claimed(const plwi_inquiry *inquiry, int year)
{
    uint32_t claims = inquiry->years & inquiry->active;
    for (uint32_t i = 0; i < PLW_MAX_CLAIMS; i++)
        if ((claims >> i & 1) && !plwi_is_claimed_year(&inquiry->wanted[i], year))
            return 0;
    return 1;
}
