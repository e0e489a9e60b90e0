/* SPDX-License-Identifier: MIT
 *
 * Explain for a car: the plates stacked so that their characters align, then what
 * they say together, what agrees, what contradicts, what is open, and what to look
 * at next. All forms for people say the same; they differ in the stack.
 */
#include "explain_car.h"

#include "explain_html.h"
#include "html.h"
#include "markdown.h"

/* ---- what the forms share ---------------------------------------------------- */

int plwi_plate_stand(int32_t verdict)
{
    return verdict == PLW_PLATE_AGREES    ? STANDS_FOR
           : verdict == PLW_PLATE_DIFFERS ? STANDS_AGAINST
                                          : STANDS_OPEN;
}

const plwi_cell *plwi_plate_cell(const plwi_plate *plate, uint32_t position)
{
    const plwi_alignment *a = &plate->alignment;
    return a->positions >> position & 1 ? &plate->number.cell[a->cell[position]] : NULL;
}

static const char *plates_summary(const plw_car *car)
{
    if (car->plate_count == 0)
        return "No plate was given.";
    switch (car->verdict) {
    case PLW_PLATE_AGREES:
        return "All plates agree wherever they can be compared.";
    case PLW_PLATE_DIFFERS:
        return "The plates differ.";
    case PLW_PLATE_NOT_EXPECTED:
        return "Nothing differs, but a plate is not expected on this car.";
    case PLW_PLATE_CANNOT_COMPARE:
        return "Nothing differs, but not every plate can be compared.";
    default:
        return "The plates were not compared.";
    }
}

const char *plwi_plate_name(const plw_car *car, uint32_t plate, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_plate_name(&writer, car, plate);
    return plwi_piece_end(piece, &writer);
}

static uint32_t claims_of(const plw_car *car, int32_t verdict)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < plw_claim_count(&car->result); i++)
        count += plw_claim_verdict(&car->result, i) == verdict;
    return count;
}

/* Findings on the reading that the comparison rests on, of one grade. */
static int finding_counts(const plw_car *car, uint32_t finding, int32_t grade)
{
    uint32_t reading = plw_finding_reading(&car->result, finding);
    return plw_finding_grade(&car->result, finding) == grade &&
           (reading == PLW_NONE || reading == car->reading);
}

static uint32_t findings_of(const plw_car *car, int32_t grade)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < plw_finding_count(&car->result); i++)
        count += (uint32_t)finding_counts(car, i, grade);
    return count;
}

static uint32_t later_dates(const plw_car *car)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < plwi_date_count_told(car); i++)
        count += car->dates[i].verdict == PLW_DATE_VERDICT_LATER;
    return count;
}

/* " 2 claims are contradicted." */
static void put_count(plwi_writer *out, uint32_t count, const char *one, const char *several)
{
    if (count == 0)
        return;
    plwi_put_char(out, ' ');
    if (count > 1)
        plwi_put_number(out, count);
    plwi_put_text(out, count > 1 ? several : one);
}

const char *plwi_car_summary(const plw_car *car, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_text(&writer, plates_summary(car));
    put_count(&writer, findings_of(car, PLW_GRADE_FAULT), "The number has a fault.",
              " faults are in the number.");
    put_count(&writer, claims_of(car, PLW_VERDICT_CONTRADICTED), "A claim is contradicted.",
              " claims are contradicted.");
    put_count(&writer, later_dates(car), "A date is later than the car.",
              " dates are later than the car.");
    return plwi_piece_end(piece, &writer);
}

/* A sentence into a piece. */
typedef void sentence_writer(plwi_writer *out, const plw_car *car, uint32_t index);

static const char *sentence(sentence_writer *write, const plw_car *car, uint32_t index,
                            plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    write(&writer, car, index);
    return plwi_piece_end(piece, &writer);
}

const char *plwi_plate_sentence(const plw_car *car, uint32_t plate, plwi_piece *piece)
{
    return sentence(plwi_put_plate_sentence, car, plate, piece);
}

const char *plwi_difference_sentence(const plw_car *car, uint32_t difference, plwi_piece *piece)
{
    return sentence(plwi_put_difference_sentence, car, difference, piece);
}

const char *plwi_missing_sentence(const plw_car *car, uint32_t missing, plwi_piece *piece)
{
    return sentence(plwi_put_missing_sentence, car, missing, piece);
}

const char *plwi_advice_sentence(const plw_car *car, uint32_t advice, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    if (!plwi_put_advice(&writer, car, advice)) /* GCOVR_EXCL_BR_LINE: it was counted */
        return "";
    return plwi_piece_end(piece, &writer);
}

static void put_joined(plwi_writer *out, const plw_car *car, uint32_t joined)
{
    const plwi_number *number = &car->joined[joined].number;
    plwi_piece years;
    for (uint32_t p = 0; p < number->count; p++)
        plwi_put_typed(out, &number->cell[p]);
    plwi_put_text(out, ": ");
    plwi_put_text(out, plwi_title(car->result.names, plwi_image(car->tables),
                                  plw_joined_scheme(car, joined)));
    if (joined > 0)
        return;
    if (plwi_years_empty(plwi_car_years(car)))
        plwi_put_text(out, "; no model year fits");
    else
        plwi_put_text(out, plwi_years_count(plwi_car_years(car)) == 1 ? "; model year "
                                                                      : "; model years ");
    plwi_put_text(out, plwi_years_text(plwi_car_years(car), " or ", &years));
}

static const char *joined_line(const plw_car *car, uint32_t joined, plwi_piece *piece)
{
    return sentence(put_joined, car, joined, piece);
}

/* ---- sources -------------------------------------------------------------------- */

/* Of the rows behind the verdicts on claims. */
static uint32_t lower_claim_source(const plwi_view *view, uint32_t after, uint32_t best)
{
    uint32_t count = plw_claim_count(view->result);
    for (uint32_t i = 0; i < count; i++)
        for (uint32_t k = 0; k < plw_claim_row_count(view->result, i); k++)
            best = plwi_lower_source(view, plw_claim_row(view->result, i, k), after, best);
    return best;
}

uint32_t plwi_next_car_source(const plwi_view *view, const plw_car *car, uint32_t after)
{
    uint32_t best = PLW_NONE;
    for (uint32_t i = 0; i < car->plate_count; i++)
        best = plwi_lower_source(view, car->plates[i].alignment.row, after, best);
    for (uint32_t i = 0; i < car->missing_count; i++)
        best = plwi_lower_source(view, car->missing[i].row, after, best);
    for (uint32_t i = 0; i < car->difference_count; i++)
        for (uint32_t k = 0; k < car->differences[i].row_count; k++)
            best = plwi_lower_source(view, car->differences[i].rows[k], after, best);
    best = lower_claim_source(view, after, best);
    if (view->readings > 0)
        best = plwi_lower_field_source(view, car->reading, after, best);
    return plwi_next_date_source(view, car, after, best);
}

/* The keys of a row's sources, or "" without a row. */
static const char *row_sources(const plwi_view *view, uint32_t row, plwi_piece *piece)
{
    return row == PLW_NONE ? "" : plwi_row_sources(view, row, piece);
}

/* ---- the verdict page ------------------------------------------------------------- */

static void put_joined_numbers(plwi_outline *outline, const plw_car *car)
{
    plwi_piece text;
    if (car->joined_count > 0)
        plwi_outline_heading(outline, "What they say together");
    for (uint32_t i = 0; i < car->joined_count; i++)
        plwi_outline_item(outline, joined_line(car, i, &text), "");
    if (car->joined_capped)
        plwi_outline_item(outline, "and more schemes that the plates fit", "");
}

/* A page has room for the whole reading. */
static void put_reading(plwi_outline *outline, const plw_car *car)
{
    if (outline->format != PLW_FORMAT_HTML || car->reading == PLW_NONE)
        return;
    plwi_outline_heading(outline, "What the number says");
    plwi_html_fields(outline->view, car->reading);
}

static uint32_t plates_of(const plw_car *car, int32_t verdict)
{
    uint32_t count = 0;
    for (uint32_t i = 0; i < car->plate_count; i++)
        count += car->plates[i].verdict == verdict;
    return count;
}

static void put_findings(plwi_outline *outline, const plw_car *car, int32_t grade)
{
    for (uint32_t i = 0; i < plw_finding_count(&car->result); i++)
        if (finding_counts(car, i, grade))
            plwi_outline_finding(outline, i, 0, PLWI_VERDICT_COLUMNS);
}

static void put_plates(plwi_outline *outline, const plw_car *car, int32_t verdict)
{
    plwi_mark mark = { plwi_plate_stand(verdict), plw_plate_verdict_name(verdict),
                       PLWI_VERDICT_COLUMNS };
    plwi_piece text, sources;
    for (uint32_t i = 0; i < car->plate_count; i++)
        if (car->plates[i].verdict == verdict)
            plwi_outline_marked(outline, &mark, plwi_plate_sentence(car, i, &text),
                                row_sources(outline->view, car->plates[i].alignment.row,
                                            &sources));
}

static void put_agreement(plwi_outline *outline, const plw_car *car)
{
    if (plates_of(car, PLW_PLATE_AGREES) + claims_of(car, PLW_VERDICT_SUPPORTED) == 0)
        return;
    plwi_outline_heading(outline, "What agrees");
    put_plates(outline, car, PLW_PLATE_AGREES);
    plwi_outline_claims_of(outline, PLW_VERDICT_SUPPORTED);
}

static void put_contradictions(plwi_outline *outline, const plw_car *car)
{
    plwi_piece text;
    if (plates_of(car, PLW_PLATE_DIFFERS) + findings_of(car, PLW_GRADE_FAULT) +
            claims_of(car, PLW_VERDICT_CONTRADICTED) == 0)
        return;
    plwi_outline_heading(outline, "What contradicts");
    put_plates(outline, car, PLW_PLATE_DIFFERS);
    for (uint32_t i = 0; i < car->difference_count; i++)
        plwi_outline_item(outline, plwi_difference_sentence(car, i, &text), "");
    put_findings(outline, car, PLW_GRADE_FAULT);
    plwi_outline_claims_of(outline, PLW_VERDICT_CONTRADICTED);
}

static void put_open(plwi_outline *outline, const plw_car *car)
{
    plwi_mark missing = { STANDS_OPEN, "not-given", PLWI_VERDICT_COLUMNS };
    plwi_piece text, sources;
    if (plates_of(car, PLW_PLATE_NOT_EXPECTED) + plates_of(car, PLW_PLATE_CANNOT_COMPARE) +
            car->missing_count + findings_of(car, PLW_GRADE_DOUBT) +
            claims_of(car, PLW_VERDICT_NOT_TOLD) == 0)
        return;
    plwi_outline_heading(outline, "What is open");
    put_plates(outline, car, PLW_PLATE_NOT_EXPECTED);
    put_plates(outline, car, PLW_PLATE_CANNOT_COMPARE);
    for (uint32_t i = 0; i < car->missing_count; i++)
        plwi_outline_marked(outline, &missing, plwi_missing_sentence(car, i, &text),
                            row_sources(outline->view, car->missing[i].row, &sources));
    put_findings(outline, car, PLW_GRADE_DOUBT);
    plwi_outline_claims_of(outline, PLW_VERDICT_NOT_TOLD);
}

static void put_advice(plwi_outline *outline, const plw_car *car)
{
    plwi_piece text;
    uint32_t count = plw_advice_count(car);
    if (count > 0)
        plwi_outline_heading(outline, "What to look at next");
    for (uint32_t i = 0; i < count; i++)
        plwi_outline_item(outline, plwi_advice_sentence(car, i, &text), "");
}

static void put_sources(plwi_outline *outline, const plw_car *car)
{
    const plwi_view *view = outline->view;
    plwi_piece piece;
    uint32_t source = plwi_next_car_source(view, car, PLW_NONE);
    if (view->flags & PLW_EXPLAIN_SOURCES && source != PLW_NONE)
        plwi_outline_heading(outline, "Sources");
    for (; view->flags & PLW_EXPLAIN_SOURCES && source != PLW_NONE;
         source = plwi_next_car_source(view, car, source))
        plwi_outline_source(outline, source);
    plwi_outline_paragraph(outline, plwi_tables_line(view, &piece));
}

void plwi_outline_car(plwi_outline *outline, const plw_car *car)
{
    put_joined_numbers(outline, car);
    put_agreement(outline, car);
    put_contradictions(outline, car);
    put_open(outline, car);
    plwi_outline_dates(outline, car);
    put_advice(outline, car);
    put_reading(outline, car);
    put_sources(outline, car);
    plwi_outline_cautions(outline);
}

/* ---- text and Markdown --------------------------------------------------------------- */

static void explain_text(plwi_view *view, const plw_car *car)
{
    plwi_page page = { .out = &view->out };
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_TEXT, .page = &page };
    plwi_piece piece;
    plwi_page_put(&page, plwi_car_summary(car, &piece));
    plwi_page_blank(&page);
    plwi_put_text_stack(&view->out, car);
    plwi_outline_car(&outline, car);
}

/* A fence longer than any run of backquotes in it holds the stack. */
static void explain_markdown(plwi_view *view, const plw_car *car)
{
    static const char fence[] = "````````````````````````````````````````\n";
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_MARKDOWN };
    plwi_piece piece;
    plwi_markdown_between(view, "# ", plwi_car_summary(car, &piece), "\n\n");
    plwi_markdown_put(view, fence);
    plwi_put_text_stack(&view->out, car);
    plwi_markdown_put(view, fence);
    plwi_outline_car(&outline, car);
}

/* ---- HTML ------------------------------------------------------------------------------- */

static void put_figure(plwi_view *view, const plw_car *car)
{
    if (car->verdict == 0 || car->plate_count == 0)
        return;
    plwi_html_markup(&view->out, "<figure>\n");
    plwi_svg_stack(view, car);
    plwi_html_markup(&view->out, "<figcaption>Characters that differ stand in dark boxes with a "
                                 "diamond below; hatched boxes cannot be read.</figcaption>\n"
                                 "</figure>\n");
}

static void explain_html(plwi_view *view, const plw_car *car)
{
    plwi_outline outline = { .view = view, .format = PLW_FORMAT_HTML };
    plwi_piece piece;
    const char *summary = plwi_car_summary(car, &piece);
    plwi_html_start(&view->out, summary);
    plwi_html_between(&view->out, "<h1>", summary, "</h1>\n");
    put_figure(view, car);
    plwi_outline_car(&outline, car);
    plwi_html_end(&view->out);
}

/* ---- the call -------------------------------------------------------------------------- */

int32_t plw_explain_car(const plw_car *car, int32_t format, uint32_t flags, char *buffer,
                        size_t capacity, size_t *needed)
{
    if (!car)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    if (format < PLW_FORMAT_TEXT || format > PLW_FORMAT_HTML || (flags & ~PLW_EXPLAIN_SOURCES))
        return plwi_writer_refuse(PLW_E_FLAGS, buffer, capacity, needed);
    plwi_view view = { .result = &car->result,
                       .tables = car->tables,
                       .flags = flags,
                       .readings = format == PLW_FORMAT_HTML,
                       .out = plwi_writer_on(buffer, capacity) };
    switch (format) {
    case PLW_FORMAT_TEXT: explain_text(&view, car); break;
    case PLW_FORMAT_MARKDOWN: explain_markdown(&view, car); break;
    case PLW_FORMAT_JSON: plwi_explain_car_json(&view, car); break;
    case PLW_FORMAT_SVG: plwi_explain_car_svg(&view, car); break;
    default: explain_html(&view, car);
    }
    return plwi_writer_end(&view.out, needed);
}
