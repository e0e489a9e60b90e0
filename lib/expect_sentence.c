/* SPDX-License-Identifier: MIT
 *
 * What expect found, in sentences: what a pattern rests on and what it leaves
 * open, and which claims leave nothing.
 */
#include "expect.h"
#include "names.h"

static void put_claim(plwi_writer *out, const plwi_claims *claims, const plwi_claim *claim)
{
    plwi_put(out, claims->text + claim->name, claim->name_length);
    plwi_put_char(out, '=');
    plwi_put(out, claims->text + claim->value, claim->value_length);
}

void plwi_put_claim_list(plwi_writer *out, const plwi_claims *claims, uint32_t set,
                         const char *last)
{
    uint32_t count = plwi_count_bits(set), done = 0;
    for (uint32_t i = 0; i < claims->count; i++) {
        if (!(set >> i & 1))
            continue;
        if (done > 0)
            plwi_put_text(out, done + 1 == count ? last : ", ");
        put_claim(out, claims, &claims->item[i]);
        done++;
    }
}

static uint32_t all_claims(const plw_expectation *e)
{
    return (UINT32_C(1) << e->claims.count) - 1;
}

/* ---- one pattern ------------------------------------------------------------- */

static void put_range(plwi_writer *out, const plw_expectation *e, const plwi_pattern *pattern)
{
    char first;
    plwi_writer trial = plwi_writer_on(&first, 1);
    plwi_put_pattern_range(&trial, plwi_image(e->tables), pattern);
    if (trial.length == 0)
        return;
    plwi_put_text(out, ", running numbers ");
    plwi_put_pattern_range(out, plwi_image(e->tables), pattern);
}

void plwi_put_pattern_sentence(plwi_writer *out, const plw_expectation *e, uint32_t index)
{
    const plwi_pattern *pattern = &e->patterns[index];
    uint32_t open = all_claims(e) & ~pattern->told;
    plwi_put_text(out, plwi_title(e->result.names, plwi_image(e->tables),
                                  plw_pattern_scheme(e, index)));
    plwi_put_text(out, plwi_years_count(pattern->years) == 1 ? ", model year " : ", model years ");
    plwi_put_years(out, pattern->years);
    put_range(out, e, pattern);
    if (pattern->told) {
        plwi_put_text(out, "; tells ");
        plwi_put_claim_list(out, &e->claims, pattern->told, " and ");
    }
    if (open) {
        plwi_put_text(out, "; does not tell ");
        plwi_put_claim_list(out, &e->claims, open, " or ");
    }
    plwi_put_char(out, '.');
}

/* ---- the whole ------------------------------------------------------------------ */

/* Claims that no pattern tells. */
static uint32_t untold_claims(const plw_expectation *e)
{
    uint32_t told = 0;
    for (uint32_t i = 0; i < e->pattern_count; i++)
        told |= e->patterns[i].told;
    return all_claims(e) & ~told;
}

static void put_found(plwi_writer *out, const plw_expectation *e)
{
    uint32_t untold = untold_claims(e), full = 0;
    for (uint32_t i = 0; i < e->pattern_count; i++)
        full += e->patterns[i].told == all_claims(e);
    plwi_put_number(out, e->pattern_count);
    plwi_put_text(out, e->pattern_count == 1 ? " pattern" : " patterns");
    if (e->claims.count > 0 && full < e->pattern_count) {
        plwi_put_text(out, ", of which ");
        if (full == 0)
            plwi_put_text(out, "none tells");
        else
            plwi_put_number(out, full);
        if (full > 0)
            plwi_put_text(out, full == 1 ? " tells" : " tell");
        plwi_put_text(out, " all that is claimed");
    }
    if (untold && plwi_count_bits(untold) < e->claims.count) {
        plwi_put_text(out, "; no number tells ");
        plwi_put_claim_list(out, &e->claims, untold, " or ");
    }
    plwi_put_text(out, e->capped ? "; more were found than are listed." : ".");
}

/* A maker whom no table knows rules everything out alone. */
static const plwi_claim *strange_maker(const plw_expectation *e)
{
    for (uint32_t i = 0; i < e->claims.count; i++)
        if (e->ruling & e->search.inquiry.strangers & UINT32_C(1) << i)
            return &e->claims.item[i];
    return NULL;
}

static void put_nothing(plwi_writer *out, const plw_expectation *e)
{
    const plwi_claim *strange = strange_maker(e);
    if (strange) {
        plwi_put_text(out, "These tables know no maker of the name ");
        plwi_put(out, e->claims.text + strange->value, strange->value_length);
    } else {
        plwi_put_text(out, "No number of these tables could bear what is claimed");
    }
    plwi_put_text(out, ": ");
    plwi_put_claim_list(out, &e->claims, e->ruling, " and ");
    plwi_put_text(out, plwi_count_bits(e->ruling) == 1 ? " alone rules everything out"
                                                       : " together rule everything out");
    if (e->freeing && (strange ? e->claims.count : plwi_count_bits(e->ruling)) > 1) {
        plwi_put_text(out, "; something would be left without ");
        plwi_put_claim_list(out, &e->claims, e->freeing, " or without ");
    }
    plwi_put_char(out, '.');
}

void plwi_put_expectation_sentence(plwi_writer *out, const plw_expectation *e)
{
    if (e->pattern_count > 0)
        put_found(out, e);
    else if (e->ruling)
        put_nothing(out, e);
    else if (e->capped)
        plwi_put_text(out, "Nothing can be said: there is too much to look through.");
    else
        plwi_put_text(out, "No pattern.");
}
