/* SPDX-License-Identifier: MIT
 *
 * Claims: takes a listing's words apart, has every reading judge each of them,
 * and makes one verdict of what the readings say.
 */
#include "claims.h"

#include <string.h>

/* ---- the text: "attribute=value; attribute=value" ------------------------------ */

static int is_blank(char c)
{
    return c == ' ';
}

/* A run of the text without the blanks around it. */
static void trim(const char *text, uint16_t *start, uint16_t *length)
{
    while (*length > 0 && is_blank(text[*start])) {
        ++*start;
        --*length;
    }
    while (*length > 0 && is_blank(text[*start + *length - 1]))
        --*length;
}

/* UTF-8 without signs that would disturb the text it is shown in. */
static int is_showable(const char *text, size_t length)
{
    const unsigned char *bytes = (const unsigned char *)text;
    for (size_t i = 0; i < length;) {
        plwi_unit unit = plwi_next_unit(bytes + i, length - i);
        if (unit.code == INVALID_UNIT || plwi_is_unshowable(unit.code))
            return 0;
        i += unit.length;
    }
    return 1;
}

/* One part of the text; a blank one is no claim. */
static int32_t add_claim(plwi_claims *claims, uint16_t start, uint16_t length)
{
    trim(claims->text, &start, &length);
    if (length == 0)
        return PLW_OK;
    const char *equals = memchr(claims->text + start, '=', length);
    if (equals == NULL)
        return PLW_E_CLAIM;
    if (claims->count == PLW_MAX_CLAIMS)
        return PLW_E_TOO_LONG;
    plwi_claim *claim = &claims->item[claims->count];
    memset(claim, 0, sizeof *claim);
    claim->name = start;
    claim->name_length = (uint16_t)(equals - claims->text - start);
    claim->value = (uint16_t)(equals + 1 - claims->text);
    claim->value_length = (uint16_t)(start + length - claim->value);
    trim(claims->text, &claim->name, &claim->name_length);
    trim(claims->text, &claim->value, &claim->value_length);
    if (claim->name_length == 0 || claim->value_length == 0)
        return PLW_E_CLAIM;
    claim->about =
        (uint8_t)plwi_claim_about(claims->text + claim->name, claim->name_length);
    claims->count++;
    return PLW_OK;
}

int32_t plwi_read_claims(plwi_claims *claims, const char *text, size_t length)
{
    claims->count = 0;
    if (length > PLW_MAX_CLAIM_TEXT)
        return PLW_E_TOO_LONG;
    if (!is_showable(text, length))
        return PLW_E_CLAIM;
    if (length > 0)
        memcpy(claims->text, text, length);
    for (size_t start = 0; start < length;) {
        const char *end = memchr(claims->text + start, ';', length - start);
        size_t stop = end ? (size_t)(end - claims->text) : length;
        int32_t status = add_claim(claims, (uint16_t)start, (uint16_t)(stop - start));
        if (status != PLW_OK)
            return status;
        start = stop + 1;
    }
    return PLW_OK;
}

/* ---- the verdict ------------------------------------------------------------------ */

/* Readings whose fields exclude each other count only when all are such. */
static int any_has_years(const plw_result *result)
{
    for (uint32_t r = 0; r < result->reading_count; r++)
        if (!plwi_years_empty(result->readings[r].years))
            return 1;
    return 0;
}

/* The best reading that counts speaks for the claim unless another one differs
 * from it: only a contradiction by all of them contradicts. */
static void ask_readings(const plw_result *result, plwi_claim *claim, const plwi_wanted *wanted)
{
    int need_years = any_has_years(result), asked = 0, all_alike = 1;
    for (uint32_t r = 0; r < result->reading_count; r++) {
        plwi_evidence one;
        if (need_years && plwi_years_empty(result->readings[r].years))
            continue;
        plwi_judge_claim(result, r, claim->about, wanted, &one);
        if (one.verdict == PLW_VERDICT_SUPPORTED && claim->supporting == NO_READING)
            claim->supporting = (uint8_t)r;
        if (asked++ == 0)
            claim->evidence = one;
        else if (one.verdict != claim->evidence.verdict)
            all_alike = 0;
    }
    if (!all_alike && claim->evidence.verdict != PLW_VERDICT_SUPPORTED) {
        claim->evidence.verdict = PLW_VERDICT_NOT_TOLD;
        claim->evidence.reason = PLW_REASON_READINGS_DIFFER;
    }
}

static void leave_untold(plwi_claim *claim, int reason)
{
    claim->evidence.verdict = PLW_VERDICT_NOT_TOLD;
    claim->evidence.reason = (uint8_t)reason;
    claim->evidence.reading = NO_READING;
}

static void judge(const plw_result *result, const plwi_claims *claims, plwi_claim *claim)
{
    plwi_wanted wanted;
    claim->supporting = NO_READING;
    if (!plwi_read_value(claim->about, claims->text + claim->value, claim->value_length, &wanted))
        leave_untold(claim, PLW_REASON_NOT_UNDERSTOOD);
    else if (result->reading_count == 0)
        leave_untold(claim, PLW_REASON_NO_READING);
    else
        ask_readings(result, claim, &wanted);
}

int32_t plw_check_claims(plw_result *result, const char *claims, size_t length)
{
    if (result == NULL)
        return PLW_E_ARGUMENT;
    result->claims.count = 0;
    if (claims == NULL && length > 0)
        return PLW_E_ARGUMENT;
    int32_t status = plwi_read_claims(&result->claims, claims, length);
    if (status != PLW_OK) {
        result->claims.count = 0;
        return status;
    }
    for (uint32_t i = 0; i < result->claims.count; i++)
        judge(result, &result->claims, &result->claims.item[i]);
    return PLW_OK;
}

/* ---- what a host may ask -------------------------------------------------------------- */

static const plwi_claim *claim_at(const plw_result *result, uint32_t index)
{
    return result && index < result->claims.count ? &result->claims.item[index] : NULL;
}

uint32_t plw_claim_count(const plw_result *result)
{
    return result ? result->claims.count : 0;
}

const char *plw_claim_attribute(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c ? plwi_claim_name(c->about) : "";
}

int32_t plw_claim_text(const plw_result *result, uint32_t claim, char *buffer, size_t capacity,
                       size_t *needed)
{
    const plwi_claim *c = claim_at(result, claim);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (c == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put(&writer, result->claims.text + c->name, c->name_length);
    plwi_put_char(&writer, '=');
    plwi_put(&writer, result->claims.text + c->value, c->value_length);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_claim_value(const plw_result *result, uint32_t claim, char *buffer, size_t capacity,
                        size_t *needed)
{
    const plwi_claim *c = claim_at(result, claim);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (c == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put(&writer, result->claims.text + c->value, c->value_length);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_claim_verdict(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c ? c->evidence.verdict : 0;
}

int32_t plw_claim_reason(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c ? c->evidence.reason : PLW_REASON_NONE;
}

uint32_t plw_claim_reading(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c && c->supporting != NO_READING ? c->supporting : PLW_NONE;
}

uint32_t plw_claim_positions(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c ? c->evidence.positions : 0;
}

uint32_t plw_claim_row_count(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c ? c->evidence.row_count : 0;
}

uint32_t plw_claim_row(const plw_result *result, uint32_t claim, uint32_t index)
{
    const plwi_claim *c = claim_at(result, claim);
    return c && index < c->evidence.row_count ? c->evidence.row[index] : PLW_NONE;
}

int32_t plw_claim_standing(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c ? plwi_evidence_standing(plwi_image(result->tables), &c->evidence)
             : PLW_E_ARGUMENT;
}

uint32_t plw_claim_marks(const plw_result *result, uint32_t claim)
{
    const plwi_claim *c = claim_at(result, claim);
    return c ? plwi_evidence_marks(plwi_image(result->tables), &c->evidence) : 0;
}

int32_t plw_claim_sentence(const plw_result *result, uint32_t claim, char *buffer,
                           size_t capacity, size_t *needed)
{
    const plwi_claim *c = claim_at(result, claim);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (c == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_claim_sentence(&writer, result, c);
    return plwi_writer_end(&writer, needed);
}

const char *plw_verdict_name(int32_t verdict)
{
    static const char names[][16] = { "supported", "contradicted", "not-told" };
    return verdict >= PLW_VERDICT_SUPPORTED && verdict <= PLW_VERDICT_NOT_TOLD
               ? names[verdict - PLW_VERDICT_SUPPORTED]
               : "";
}

const char *plw_reason_name(int32_t reason)
{
    static const char names[][20] = {
        "none",         "not-understood", "no-reading",       "not-coded",
        "unreadable",   "unknown-code",   "not-stated",       "several-meanings",
        "near",         "unknown-name",   "readings-differ",  "conflict",
    };
    return reason >= PLW_REASON_NONE && reason <= PLW_REASON_CONFLICT ? names[reason] : "";
}
