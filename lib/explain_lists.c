/* SPDX-License-Identifier: MIT
 *
 * What the explanation of a number says in lists, the same in every form: other
 * readings, what would settle it, claims, findings, suggestions, sources, cautions.
 */
#include "outline.h"

#define GRADE_COLUMNS 5u

static void put_count_of_others(plwi_outline *outline, uint32_t count)
{
    plwi_piece piece;
    plwi_writer writer = plwi_piece_writer(&piece);
    plwi_put_text(&writer, "Other readings (");
    plwi_put_number(&writer, count);
    plwi_put_text(&writer, ")");
    plwi_outline_heading(outline, plwi_piece_end(&piece, &writer));
}

static void put_other_readings(plwi_outline *outline)
{
    const plwi_view *view = outline->view;
    uint32_t count = plw_reading_count(view->result);
    uint32_t reading = plwi_full_readings(view);
    plwi_piece piece;
    if (reading < count)
        put_count_of_others(outline, count - reading);
    for (; reading < count; reading++)
        plwi_outline_item(outline, plwi_reading_brief(view, reading, &piece), "");
}

static void put_settling(plwi_outline *outline)
{
    plwi_settling list[PLW_MAX_SETTLINGS];
    plwi_piece piece;
    uint32_t count = plwi_settlings(outline->view->result, list);
    if (count > 0)
        plwi_outline_heading(outline, "What would settle it");
    for (uint32_t i = 0; i < count;)
        plwi_outline_item(outline, plwi_settling_line(outline->view, list, count, &i, &piece), "");
}

/* ---- claims ------------------------------------------------------------------- */

static int stand_of(int32_t verdict)
{
    return verdict == PLW_VERDICT_SUPPORTED      ? STANDS_FOR
           : verdict == PLW_VERDICT_CONTRADICTED ? STANDS_AGAINST
                                                 : STANDS_OPEN;
}

static void put_claim(plwi_outline *outline, uint32_t claim)
{
    const plwi_view *view = outline->view;
    int32_t verdict = plw_claim_verdict(view->result, claim);
    plwi_mark mark = { stand_of(verdict), plw_verdict_name(verdict), PLWI_VERDICT_COLUMNS };
    plwi_piece sentence, sources;
    plwi_outline_marked(outline, &mark, plwi_claim_sentence(view, claim, &sentence),
                        plwi_claim_sources(view, claim, &sources));
}

void plwi_outline_claims(plwi_outline *outline)
{
    uint32_t count = plw_claim_count(outline->view->result);
    if (count > 0)
        plwi_outline_heading(outline, "Claims");
    for (uint32_t claim = 0; claim < count; claim++)
        put_claim(outline, claim);
}

void plwi_outline_claims_of(plwi_outline *outline, int32_t verdict)
{
    uint32_t count = plw_claim_count(outline->view->result);
    for (uint32_t claim = 0; claim < count; claim++)
        if (plw_claim_verdict(outline->view->result, claim) == verdict)
            put_claim(outline, claim);
}

/* ---- findings and suggestions --------------------------------------------------- */

static const char *finding_text(const plwi_view *view, uint32_t finding, int with_reading,
                                plwi_piece *piece)
{
    plwi_piece sentence;
    plwi_writer writer = plwi_piece_writer(piece);
    uint32_t reading = plw_finding_reading(view->result, finding);
    if (with_reading && reading != PLW_NONE) {
        plwi_put_text(&writer, "Reading ");
        plwi_put_number(&writer, (int64_t)reading + 1);
        plwi_put_text(&writer, ": ");
    }
    plwi_put_text(&writer, plwi_sentence_text(view, finding, &sentence));
    return plwi_piece_end(piece, &writer);
}

void plwi_outline_finding(plwi_outline *outline, uint32_t finding, int with_reading,
                          unsigned columns)
{
    int32_t grade = plw_finding_grade(outline->view->result, finding);
    int stand = grade == PLW_GRADE_FAULT   ? STANDS_AGAINST
                : grade == PLW_GRADE_DOUBT ? STANDS_OPEN
                                           : STANDS_ASIDE;
    plwi_mark mark = { stand, plw_grade_name(grade), columns };
    plwi_piece piece;
    plwi_outline_marked(outline, &mark, finding_text(outline->view, finding, with_reading, &piece),
                        "");
}

static void put_hidden(plwi_outline *outline, uint32_t count)
{
    plwi_piece piece;
    plwi_writer writer = plwi_piece_writer(&piece);
    plwi_put_text(&writer, "and ");
    plwi_put_number(&writer, count);
    plwi_put_text(&writer, " on the other readings");
    plwi_outline_item(outline, plwi_piece_end(&piece, &writer), "");
}

static void put_findings(plwi_outline *outline)
{
    uint32_t count = plw_finding_count(outline->view->result);
    uint32_t hidden = plwi_findings_hidden(outline->view);
    int several = plw_reading_count(outline->view->result) > 1;
    if (count > 0)
        plwi_outline_heading(outline, "Findings");
    for (uint32_t finding = 0; finding < count; finding++)
        if (plwi_finding_shown(outline->view, finding))
            plwi_outline_finding(outline, finding, several, GRADE_COLUMNS);
    if (hidden > 0)
        put_hidden(outline, hidden);
}

void plwi_outline_suggestions(plwi_outline *outline)
{
    const plwi_view *view = outline->view;
    plwi_piece piece;
    uint32_t count = plw_suggestion_count(view->result);
    if (count + plw_suggestion_left_out(view->result) == 0)
        return;
    plwi_outline_heading(outline, "Could it be a misreading?");
    for (uint32_t i = 0; i < count; i++)
        plwi_outline_item(outline, plwi_suggestion_text(view, i, &piece), "");
    if (plwi_suggestions_left(view, &piece)[0] != '\0')
        plwi_outline_item(outline, piece.text, "");
}

/* ---- sources and cautions --------------------------------------------------------- */

static int has_headed_paragraphs(const plwi_outline *outline)
{
    return outline->format == PLW_FORMAT_MARKDOWN || outline->format == PLW_FORMAT_HTML;
}

void plwi_outline_sources(plwi_outline *outline)
{
    const plwi_view *view = outline->view;
    plwi_piece piece;
    uint32_t source = plwi_next_source(view, PLW_NONE);
    int in_full = view->flags & PLW_EXPLAIN_SOURCES && source != PLW_NONE;
    if (in_full || has_headed_paragraphs(outline))
        plwi_outline_heading(outline, "Sources");
    if (!in_full) {
        plwi_outline_paragraph(outline, plwi_sources_line(view, &piece));
        plwi_outline_line(outline, plwi_tables_line(view, &piece));
        return;
    }
    for (; source != PLW_NONE; source = plwi_next_source(view, source))
        plwi_outline_source(outline, source);
    plwi_outline_paragraph(outline, plwi_tables_line(view, &piece));
}

void plwi_outline_cautions(plwi_outline *outline)
{
    const plw_tables *tables = outline->view->tables;
    uint32_t count = plw_caution_count(tables);
    if (count > 0)
        plwi_outline_heading(outline, "Before you rely on this");
    for (uint32_t i = 0; i < count; i++)
        plwi_outline_item(outline, plw_caution_text(tables, i), "");
    plwi_outline_end_list(outline);
}

void plwi_outline_lists(plwi_outline *outline)
{
    put_other_readings(outline);
    put_settling(outline);
    plwi_outline_claims(outline);
    put_findings(outline);
    plwi_outline_suggestions(outline);
    plwi_outline_sources(outline);
    plwi_outline_cautions(outline);
}
