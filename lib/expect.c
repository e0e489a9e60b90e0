/* SPDX-License-Identifier: MIT
 *
 * The verb expect: claims in, patterns of numbers out, ranked; and where there is
 * none, which claims leave nothing.
 */
#include "expect.h"

#include <string.h>

#include "memory.h"

/* ---- ranking --------------------------------------------------------------- */

static int names_maker(image_t image, const plwi_pattern *pattern, const unsigned char *scheme,
                       const plwi_hints *hints)
{
    if (plwi_facts_name_maker(image, plwi_u32(scheme + SCHEME_FACT),
                              plwi_u32(scheme + SCHEME_FACT_COUNT), hints))
        return 1;
    for (uint32_t i = 0; i < pattern->row_count; i++) {
        const unsigned char *row = plwi_row(image, pattern->rows[i]);
        if (plwi_facts_name_maker(image, plwi_u32(row + ROW_FACT), row[ROW_FACT_COUNT], hints))
            return 1;
    }
    return 0;
}

static int32_t hints_met(image_t image, const plwi_pattern *pattern, const plwi_hints *hints)
{
    const unsigned char *scheme = plwi_scheme(image, plwi_layout_scheme(image, pattern->layout));
    const char *key = plwi_text(image, plwi_u32(scheme + SCHEME_KEY));
    int32_t met = hints->year && plwi_years_has(pattern->years, hints->year);
    met += hints->scheme && strlen(key) == hints->scheme_length &&
           memcmp(key, hints->scheme, hints->scheme_length) == 0;
    met += hints->maker && names_maker(image, pattern, scheme, hints);
    return met;
}

/* Those that tell the most claims first, then those that meet the most hints. */
static int goes_before(const plwi_pattern *a, const plwi_pattern *b)
{
    uint32_t told_a = plwi_count_bits(a->told), told_b = plwi_count_bits(b->told);
    return told_a != told_b ? told_a > told_b : a->hints > b->hints;
}

static int is_joined(plw_expectation *e, const plwi_pattern *pattern, image_t image)
{
    for (uint32_t i = 0; i < e->pattern_count; i++)
        if (plwi_join_same(&e->patterns[i], pattern, image))
            return 1;
    return 0;
}

/* Patterns come in the order of the tables, and keep it where they are equal. */
static void keep(plw_expectation *e, const plwi_pattern *pattern, image_t image)
{
    uint32_t at = e->pattern_count;
    if (is_joined(e, pattern, image))
        return;
    while (at > 0 && goes_before(pattern, &e->patterns[at - 1]))
        at--;
    if (e->pattern_count == PLW_MAX_PATTERNS)
        e->capped = 1;
    else
        e->pattern_count++;
    if (at == PLW_MAX_PATTERNS)
        return;
    memmove(&e->patterns[at + 1], &e->patterns[at],
            (e->pattern_count - 1 - at) * sizeof e->patterns[0]);
    e->patterns[at] = *pattern;
}

/* ---- all schemes -------------------------------------------------------------- */

static void find_patterns(plw_expectation *e, image_t image, const plwi_hints *hints)
{
    plwi_search *search = &e->search;
    plwi_walk walk = plwi_walk_layouts(image);
    for (uint32_t layout; (layout = plwi_next_layout(&walk)) != PLW_NONE;) {
        plwi_search_layout(search, layout);
        e->capped |= search->capped;
        for (uint32_t i = 0; i < search->found.count; i++) {
            search->found.item[i].hints = hints_met(image, &search->found.item[i], hints);
            keep(e, &search->found.item[i], image);
        }
    }
}

/* ---- why there is none ------------------------------------------------------------ */

/* 1 when some number could bear these claims. */
static int leaves_something(plwi_search *search, uint32_t claims)
{
    plwi_walk walk = plwi_walk_layouts(search->inquiry.image);
    search->inquiry.active = claims;
    search->found.count = 0;
    for (uint32_t layout; (layout = plwi_next_layout(&walk)) != PLW_NONE;) {
        plwi_search_layout(search, layout);
        if (search->found.count > 0 || search->capped)
            return 1;
    }
    return 0;
}

/* A claim that alone leaves nothing is all there is to say. Else claims are taken
 * away as long as what stays still leaves nothing: none of the last ones can go. */
static uint32_t find_ruling(plwi_search *search, uint32_t claims)
{
    for (uint32_t i = 0; i < PLW_MAX_CLAIMS; i++)
        if ((claims >> i & 1) && !leaves_something(search, UINT32_C(1) << i))
            return UINT32_C(1) << i;
    for (uint32_t i = 0; i < PLW_MAX_CLAIMS; i++)
        if ((claims >> i & 1) && !leaves_something(search, claims & ~(UINT32_C(1) << i)))
            claims &= ~(UINT32_C(1) << i);
    return claims;
}

static uint32_t find_freeing(plwi_search *search, uint32_t claims)
{
    uint32_t freeing = 0;
    for (uint32_t i = 0; i < PLW_MAX_CLAIMS; i++)
        if ((claims >> i & 1) && leaves_something(search, claims & ~(UINT32_C(1) << i)))
            freeing |= UINT32_C(1) << i;
    return freeing;
}

static void find_reason(plw_expectation *e)
{
    uint32_t claims = e->search.inquiry.understood;
    e->search.first_only = 1;
    e->ruling = find_ruling(&e->search, claims);
    e->freeing = find_freeing(&e->search, claims);
}

/* ---- the verb -------------------------------------------------------------------- */

static void clear(plw_expectation *e, const plw_tables *tables)
{
    e->tables = tables;
    e->pattern_count = e->capped = e->ruling = e->freeing = 0;
    e->claims.count = 0;
    plwi_clear(&e->result, tables);
}

int32_t plw_expect(const plw_tables *tables, const char *claims, size_t length,
                   const char *hints, uint32_t flags, plw_expectation *e)
{
    plwi_hints read;
    if (e == NULL)
        return PLW_E_ARGUMENT;
    clear(e, tables);
    if (claims == NULL && length > 0)
        return PLW_E_ARGUMENT;
    int32_t status = flags ? PLW_E_FLAGS : plwi_hints_read(hints, &read);
    if (status == PLW_OK)
        status = plwi_read_claims(&e->claims, claims, length);
    if (status != PLW_OK) {
        e->claims.count = 0;
        return status;
    }
    plwi_open_inquiry(&e->search.inquiry, plwi_image(tables), &e->claims);
    e->search.first_only = 0;
    find_patterns(e, plwi_image(tables), &read);
    if (e->pattern_count == 0 && !e->capped)
        find_reason(e);
    return PLW_OK;
}

/* ---- the object ------------------------------------------------------------------- */

int32_t plw_expectation_new(plw_expectation **expectation)
{
    if (expectation == NULL)
        return PLW_E_ARGUMENT;
    *expectation = plwi_allocate(sizeof **expectation);
    if (*expectation == NULL)
        return PLW_E_MEMORY;
    (*expectation)->result.names = NULL;
    clear(*expectation, NULL);
    return PLW_OK;
}

void plw_expectation_free(plw_expectation *expectation)
{
    plwi_release(expectation);
}

size_t plw_expectation_size(void)
{
    return sizeof(plw_expectation);
}

int32_t plw_expectation_place(void *memory, size_t size, plw_expectation **expectation)
{
    if (expectation == NULL)
        return PLW_E_ARGUMENT;
    *expectation = NULL;
    int32_t status = plwi_can_hold(memory, size, sizeof **expectation);
    if (status != PLW_OK)
        return status;
    *expectation = memory;
    (*expectation)->result.names = NULL;
    clear(*expectation, NULL);
    return PLW_OK;
}

int32_t plw_expectation_use_names(plw_expectation *expectation, const plw_names *names)
{
    return expectation ? plw_result_use_names(&expectation->result, names) : PLW_E_ARGUMENT;
}

/* ---- what a host may ask ------------------------------------------------------------ */

static const plwi_pattern *pattern_at(const plw_expectation *e, uint32_t pattern)
{
    return e && pattern < e->pattern_count ? &e->patterns[pattern] : NULL;
}

static image_t image_of(const plw_expectation *e)
{
    return plwi_image(e->tables);
}

uint32_t plw_expectation_claim_count(const plw_expectation *e)
{
    return e ? e->claims.count : 0;
}

const char *plw_expectation_claim_attribute(const plw_expectation *e, uint32_t claim)
{
    return claim < plw_expectation_claim_count(e) ? plwi_claim_name(e->claims.item[claim].about)
                                                  : "";
}

int32_t plw_expectation_claim_text(const plw_expectation *e, uint32_t claim, char *buffer,
                                   size_t capacity, size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (claim >= plw_expectation_claim_count(e))
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_claim_list(&writer, &e->claims, UINT32_C(1) << claim, "");
    return plwi_writer_end(&writer, needed);
}

int32_t plw_expectation_understands(const plw_expectation *e, uint32_t claim)
{
    return claim < plw_expectation_claim_count(e) &&
           (e->search.inquiry.understood >> claim & 1);
}

int32_t plw_expectation_rules_out(const plw_expectation *e, uint32_t claim)
{
    return claim < plw_expectation_claim_count(e) && (e->ruling >> claim & 1);
}

int32_t plw_expectation_left_without(const plw_expectation *e, uint32_t claim)
{
    return claim < plw_expectation_claim_count(e) && (e->freeing >> claim & 1);
}

int32_t plw_expectation_capped(const plw_expectation *e)
{
    return e && e->capped;
}

int32_t plw_expectation_sentence(const plw_expectation *e, char *buffer, size_t capacity,
                                 size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (e == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_expectation_sentence(&writer, e);
    return plwi_writer_end(&writer, needed);
}

uint32_t plw_pattern_count(const plw_expectation *e)
{
    return e ? e->pattern_count : 0;
}

uint32_t plw_pattern_scheme(const plw_expectation *e, uint32_t pattern)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p ? plwi_layout_scheme(image_of(e), p->layout) : PLW_NONE;
}

uint32_t plw_pattern_layout(const plw_expectation *e, uint32_t pattern)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    uint32_t index = 0;
    if (p == NULL)
        return PLW_NONE;
    image_t image = image_of(e);
    uint32_t scheme = plw_pattern_scheme(e, pattern);
    for (uint32_t layout = 0; layout < p->layout; layout++)
        index += plwi_layout_scheme(image, layout) == scheme;
    return index;
}

uint32_t plw_pattern_year_count(const plw_expectation *e, uint32_t pattern)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p ? plwi_years_count(p->years) : 0;
}

int32_t plw_pattern_year(const plw_expectation *e, uint32_t pattern, uint32_t index)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p ? plwi_years_at(p->years, index) : 0;
}

int32_t plw_pattern_tells(const plw_expectation *e, uint32_t pattern, uint32_t claim)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p && claim < e->claims.count && (p->told >> claim & 1);
}

uint32_t plw_pattern_row_count(const plw_expectation *e, uint32_t pattern)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p ? p->row_count : 0;
}

uint32_t plw_pattern_row(const plw_expectation *e, uint32_t pattern, uint32_t index)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p && index < p->row_count ? p->rows[index] : PLW_NONE;
}

int32_t plw_pattern_standing(const plw_expectation *e, uint32_t pattern)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p == NULL ? PLW_E_ARGUMENT : p->row_count == 0 ? PLW_E_ABSENT : p->standing;
}

uint32_t plw_pattern_marks(const plw_expectation *e, uint32_t pattern)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    return p ? p->marks : 0;
}

/* What the writers of a pattern have in common. */
typedef void pattern_writer(plwi_writer *out, image_t image, const plwi_pattern *pattern);

static int32_t write_pattern(pattern_writer *write, const plw_expectation *e, uint32_t pattern,
                             char *buffer, size_t capacity, size_t *needed)
{
    const plwi_pattern *p = pattern_at(e, pattern);
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (p == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    write(&writer, image_of(e), p);
    return plwi_writer_end(&writer, needed);
}

int32_t plw_pattern_text(const plw_expectation *e, uint32_t pattern, char *buffer,
                         size_t capacity, size_t *needed)
{
    return write_pattern(plwi_put_pattern, e, pattern, buffer, capacity, needed);
}

int32_t plw_pattern_range(const plw_expectation *e, uint32_t pattern, char *buffer,
                          size_t capacity, size_t *needed)
{
    return write_pattern(plwi_put_pattern_range, e, pattern, buffer, capacity, needed);
}

int32_t plw_pattern_sentence(const plw_expectation *e, uint32_t pattern, char *buffer,
                             size_t capacity, size_t *needed)
{
    plwi_writer writer = plwi_writer_on(buffer, capacity);
    if (pattern_at(e, pattern) == NULL)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    plwi_put_pattern_sentence(&writer, e, pattern);
    return plwi_writer_end(&writer, needed);
}
