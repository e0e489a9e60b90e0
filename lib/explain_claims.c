/* SPDX-License-Identifier: MIT
 *
 * Claims in an explanation: their texts, and the sources behind a verdict.
 */
#include "claims.h"
#include "explain.h"

const char *plwi_claim_text(const plwi_view *view, uint32_t claim, plwi_piece *piece)
{
    const plwi_claims *claims = &view->result->claims;
    const plwi_claim *c = &claims->item[claim];
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put(&writer, claims->text + c->name, c->name_length);
    plwi_put_char(&writer, '=');
    plwi_put(&writer, claims->text + c->value, c->value_length);
    return plwi_piece_end(piece, &writer);
}

const char *plwi_claim_value(const plwi_view *view, uint32_t claim, plwi_piece *piece)
{
    const plwi_claims *claims = &view->result->claims;
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put(&writer, claims->text + claims->item[claim].value, claims->item[claim].value_length);
    return plwi_piece_end(piece, &writer);
}

const char *plwi_claim_sentence(const plwi_view *view, uint32_t claim, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_claim_sentence(&writer, view->result, &view->result->claims.item[claim]);
    return plwi_piece_end(piece, &writer);
}

static int row_cites(const plwi_view *view, uint32_t row, uint32_t source)
{
    uint32_t count = plw_row_source_count(view->tables, row);
    for (uint32_t i = 0; i < count; i++)
        if (plw_row_source(view->tables, row, i) == source)
            return 1;
    return 0;
}

/* A source that a row before this one names, too. */
static int is_named_before(const plwi_view *view, uint32_t claim, uint32_t index, uint32_t source)
{
    for (uint32_t i = 0; i < index; i++)
        if (row_cites(view, plw_claim_row(view->result, claim, i), source))
            return 1;
    return 0;
}

const char *plwi_claim_sources(const plwi_view *view, uint32_t claim, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    uint32_t rows = plw_claim_row_count(view->result, claim);
    for (uint32_t i = 0; i < rows; i++) {
        uint32_t row = plw_claim_row(view->result, claim, i);
        uint32_t count = plw_row_source_count(view->tables, row);
        for (uint32_t k = 0; k < count; k++) {
            uint32_t source = plw_row_source(view->tables, row, k);
            if (is_named_before(view, claim, i, source))
                continue;
            plwi_put_text(&writer, writer.length > 0 ? ", " : "");
            plwi_put_text(&writer, plw_source_key(view->tables, source));
        }
    }
    return plwi_piece_end(piece, &writer);
}
