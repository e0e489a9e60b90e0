/* SPDX-License-Identifier: MIT
 *
 * Explain for a car: the plates stacked so that their characters align, what was
 * found, and what to look at next, as text and Markdown.
 */
#include "explain_car.h"

#include "markdown.h"

#define FIRST_EDGE 2u
#define NAME_WIDTH 24u
#define STACK_WIDTH (PAGE_WIDTH - FIRST_EDGE - NAME_WIDTH)

/* ---- the stack ------------------------------------------------------------- */

/* Columns of each position, so that "[8B]" has room in every line. */
typedef struct stack {
    uint32_t length;
    int narrow; /* brackets would make it too wide: they become '*' */
    uint8_t width[MAX_POSITIONS];
} stack;

static void cell_text(const plwi_cell *cell, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_typed(&writer, cell);
    plwi_piece_end(piece, &writer);
}

static void widen(stack *s, uint32_t position, const plwi_cell *cell)
{
    plwi_piece piece;
    cell_text(cell, &piece);
    unsigned columns = plwi_columns(piece.text);
    if (columns > s->width[position])
        s->width[position] = (uint8_t)columns;
}

/* The cell of a plate at a position, or NULL. */
static const plwi_cell *cell_of(const plwi_plate *plate, uint32_t position)
{
    const plwi_alignment *a = &plate->alignment;
    return a->positions >> position & 1 ? &plate->number.cell[a->cell[position]] : NULL;
}

static stack stack_of(const plw_car *car)
{
    const plwi_number *joined = &car->joined[0].number;
    stack s = { .length = joined->count };
    uint32_t columns = 0;
    for (uint32_t p = 0; p < s.length; p++) {
        widen(&s, p, &joined->cell[p]);
        for (uint32_t i = 0; i < car->plate_count; i++)
            if (cell_of(&car->plates[i], p))
                widen(&s, p, cell_of(&car->plates[i], p));
        columns += s.width[p];
    }
    s.narrow = columns > STACK_WIDTH;
    for (uint32_t p = 0; s.narrow && p < s.length; p++)
        s.width[p] = 1;
    return s;
}

static void pad(plwi_writer *out, unsigned from, unsigned to)
{
    for (; from < to; from++)
        plwi_put_char(out, ' ');
}

/* Writes a cell at its column; column is where the line ends so far. */
static void put_cell(plwi_writer *out, const stack *s, uint32_t position, const plwi_cell *cell,
                     unsigned *column)
{
    plwi_piece piece;
    unsigned start = 0;
    if (cell == NULL)
        return;
    for (uint32_t p = 0; p < position; p++)
        start += s->width[p];
    cell_text(cell, &piece);
    const char *text = s->narrow && plwi_columns(piece.text) > 1 ? "*" : piece.text;
    pad(out, *column, start);
    plwi_put_text(out, text);
    *column = start + plwi_columns(text);
}

static void put_line_name(plwi_writer *out, const char *name)
{
    pad(out, 0, FIRST_EDGE);
    plwi_put_text(out, name);
    pad(out, plwi_columns(name), NAME_WIDTH);
}

static const char *plate_name(const plw_car *car, uint32_t plate, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_plate_name(&writer, car, plate);
    return plwi_piece_end(piece, &writer);
}

static void put_plate_line(plwi_writer *out, const plw_car *car, const stack *s, uint32_t plate)
{
    plwi_piece name;
    unsigned column = 0;
    put_line_name(out, plate_name(car, plate, &name));
    for (uint32_t p = 0; p < s->length; p++)
        put_cell(out, s, p, cell_of(&car->plates[plate], p), &column);
    plwi_put_char(out, '\n');
}

static void put_joined_line(plwi_writer *out, const plw_car *car, const stack *s)
{
    unsigned column = 0;
    put_line_name(out, "together");
    for (uint32_t p = 0; p < s->length; p++)
        put_cell(out, s, p, &car->joined[0].number.cell[p], &column);
    plwi_put_char(out, '\n');
}

static void put_carets(plwi_writer *out, const plw_car *car, const stack *s)
{
    uint32_t marked = plwi_contradictions(car);
    if (marked == 0)
        return;
    put_line_name(out, "");
    for (uint32_t p = 0; p < s->length && marked >> p; p++)
        for (uint32_t column = 0; column < s->width[p]; column++)
            plwi_put_char(out, marked >> p & 1 ? '^' : ' ');
    plwi_put_char(out, '\n');
}

/* Plates that lie on no position are shown as they were read. */
static void put_loose_lines(plwi_writer *out, const plw_car *car)
{
    for (uint32_t i = 0; i < car->plate_count; i++) {
        const plwi_number *number = &car->plates[i].number;
        plwi_piece name;
        if (car->plates[i].alignment.taken != PLW_TAKEN_NOT)
            continue;
        put_line_name(out, plate_name(car, i, &name));
        for (uint32_t p = 0; p < number->count && p < MAX_POSITIONS; p++)
            plwi_put_typed(out, &number->cell[p]);
        plwi_put_text(out, number->count ? " (not aligned)\n" : "(nothing to read)\n");
    }
}

static void put_stack(plwi_writer *out, const plw_car *car)
{
    if (car->joined_count > 0) {
        stack s = stack_of(car);
        for (uint32_t i = 0; i < car->plate_count; i++)
            if (car->plates[i].alignment.taken != PLW_TAKEN_NOT)
                put_plate_line(out, car, &s, i);
        put_joined_line(out, car, &s);
        put_carets(out, car, &s);
    }
    put_loose_lines(out, car);
}

/* ---- what the forms share ---------------------------------------------------- */

const char *plwi_car_summary(const plw_car *car)
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
    if (!plwi_put_advice(&writer, car, advice))
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

static uint32_t lower_source(const plwi_view *view, uint32_t row, uint32_t after, uint32_t best)
{
    uint32_t count = plw_row_source_count(view->tables, row);
    for (uint32_t i = 0; i < count; i++) {
        uint32_t source = plw_row_source(view->tables, row, i);
        if ((after == PLW_NONE || source > after) && source < best)
            best = source;
    }
    return best;
}

uint32_t plwi_next_car_source(const plwi_view *view, const plw_car *car, uint32_t after)
{
    uint32_t best = PLW_NONE;
    for (uint32_t i = 0; i < car->plate_count; i++)
        best = lower_source(view, car->plates[i].alignment.row, after, best);
    for (uint32_t i = 0; i < car->missing_count; i++)
        best = lower_source(view, car->missing[i].row, after, best);
    for (uint32_t i = 0; i < car->difference_count; i++)
        for (uint32_t k = 0; k < car->differences[i].row_count; k++)
            best = lower_source(view, car->differences[i].rows[k], after, best);
    return best;
}

/* The keys of a row's sources, or "" without a row. */
static const char *row_sources(const plwi_view *view, uint32_t row, plwi_piece *piece)
{
    return row == PLW_NONE ? "" : plwi_row_sources(view, row, piece);
}

/* ---- text ------------------------------------------------------------------------- */

static void text_item(plwi_page *page, const char *text, const char *sources)
{
    plwi_page_bullet(page, FIRST_EDGE);
    plwi_page_put(page, text);
    if (sources[0] != '\0') {
        plwi_page_put(page, " [");
        plwi_page_put(page, sources);
        plwi_page_put(page, "]");
    }
    plwi_page_finish(page);
}

static void text_plates(plwi_page *page, const plwi_view *view, const plw_car *car)
{
    plwi_piece text, sources;
    if (car->verdict == 0 || car->plate_count == 0)
        return;
    plwi_page_heading(page, "Plate by plate");
    for (uint32_t i = 0; i < car->plate_count; i++)
        text_item(page, plwi_plate_sentence(car, i, &text),
                  row_sources(view, car->plates[i].alignment.row, &sources));
}

static void text_differences(plwi_page *page, const plw_car *car)
{
    plwi_piece text;
    if (car->difference_count > 0)
        plwi_page_heading(page, "Where they differ, and what each would mean");
    for (uint32_t i = 0; i < car->difference_count; i++)
        text_item(page, plwi_difference_sentence(car, i, &text), "");
}

static void text_missing(plwi_page *page, const plwi_view *view, const plw_car *car)
{
    plwi_piece text, sources;
    if (car->missing_count > 0)
        plwi_page_heading(page, "Expected but not given");
    for (uint32_t i = 0; i < car->missing_count; i++)
        text_item(page, plwi_missing_sentence(car, i, &text),
                  row_sources(view, car->missing[i].row, &sources));
}

static void text_joined(plwi_page *page, const plw_car *car)
{
    plwi_piece text;
    if (car->joined_count > 0)
        plwi_page_heading(page, "What they say together");
    for (uint32_t i = 0; i < car->joined_count; i++)
        text_item(page, joined_line(car, i, &text), "");
    if (car->joined_capped)
        text_item(page, "and more schemes that the plates fit", "");
}

static void text_advice(plwi_page *page, const plw_car *car)
{
    plwi_piece text;
    uint32_t count = plw_advice_count(car);
    if (count > 0)
        plwi_page_heading(page, "What to look at next");
    for (uint32_t i = 0; i < count; i++)
        text_item(page, plwi_advice_sentence(car, i, &text), "");
}

static void text_sources(plwi_page *page, const plwi_view *view, const plw_car *car)
{
    uint32_t source = plwi_next_car_source(view, car, PLW_NONE);
    if (view->flags & PLW_EXPLAIN_SOURCES && source != PLW_NONE)
        plwi_page_heading(page, "Sources");
    for (; view->flags & PLW_EXPLAIN_SOURCES && source != PLW_NONE;
         source = plwi_next_car_source(view, car, source))
        plwi_text_source(page, view, source);
    plwi_page_blank(page);
}

static void explain_text(plwi_view *view, const plw_car *car)
{
    plwi_page page = { .out = &view->out };
    plwi_page_put(&page, plwi_car_summary(car));
    plwi_page_blank(&page);
    put_stack(&view->out, car);
    text_plates(&page, view, car);
    text_differences(&page, car);
    text_missing(&page, view, car);
    text_joined(&page, car);
    text_advice(&page, car);
    text_sources(&page, view, car);
    plwi_text_closing(&page, view);
}

/* ---- Markdown ------------------------------------------------------------------------ */

static void markdown_heading(plwi_view *view, uint32_t items, const char *text)
{
    if (items > 0)
        plwi_markdown_between(view, "\n## ", text, "\n\n");
}

static void markdown_item(plwi_view *view, const char *text, const char *sources)
{
    plwi_markdown_between(view, "- ", text, "");
    plwi_markdown_between(view, " \\[", sources, "\\]");
    plwi_markdown_put(view, "\n");
}

/* A fence longer than any run of backquotes in it holds the stack. */
static void markdown_stack(plwi_view *view, const plw_car *car)
{
    static const char fence[] = "````````````````````````````````````````\n";
    plwi_markdown_put(view, "\n");
    plwi_markdown_put(view, fence);
    put_stack(&view->out, car);
    plwi_markdown_put(view, fence);
}

static void markdown_plates(plwi_view *view, const plw_car *car)
{
    plwi_piece text, sources;
    uint32_t count = car->verdict ? car->plate_count : 0;
    markdown_heading(view, count, "Plate by plate");
    for (uint32_t i = 0; i < count; i++)
        markdown_item(view, plwi_plate_sentence(car, i, &text),
                      row_sources(view, car->plates[i].alignment.row, &sources));
}

static void markdown_findings(plwi_view *view, const plw_car *car)
{
    plwi_piece text, sources;
    markdown_heading(view, car->difference_count, "Where they differ, and what each would mean");
    for (uint32_t i = 0; i < car->difference_count; i++)
        markdown_item(view, plwi_difference_sentence(car, i, &text), "");
    markdown_heading(view, car->missing_count, "Expected but not given");
    for (uint32_t i = 0; i < car->missing_count; i++)
        markdown_item(view, plwi_missing_sentence(car, i, &text),
                      row_sources(view, car->missing[i].row, &sources));
}

static void markdown_joined(plwi_view *view, const plw_car *car)
{
    plwi_piece text;
    markdown_heading(view, car->joined_count, "What they say together");
    for (uint32_t i = 0; i < car->joined_count; i++)
        markdown_item(view, joined_line(car, i, &text), "");
    if (car->joined_capped)
        markdown_item(view, "and more schemes that the plates fit", "");
}

static void markdown_advice(plwi_view *view, const plw_car *car)
{
    plwi_piece text;
    uint32_t count = plw_advice_count(car);
    markdown_heading(view, count, "What to look at next");
    for (uint32_t i = 0; i < count; i++)
        markdown_item(view, plwi_advice_sentence(car, i, &text), "");
}

static void explain_markdown(plwi_view *view, const plw_car *car)
{
    plwi_markdown_between(view, "# ", plwi_car_summary(car), "\n");
    markdown_stack(view, car);
    markdown_plates(view, car);
    markdown_findings(view, car);
    markdown_joined(view, car);
    markdown_advice(view, car);
    if (view->flags & PLW_EXPLAIN_SOURCES) {
        uint32_t source = plwi_next_car_source(view, car, PLW_NONE);
        markdown_heading(view, source != PLW_NONE, "Sources");
        for (; source != PLW_NONE; source = plwi_next_car_source(view, car, source))
            plwi_markdown_source(view, source);
    }
    plwi_markdown_closing(view);
}

/* ---- the call -------------------------------------------------------------------------- */

static int32_t refuse(int32_t status, char *buffer, size_t capacity, size_t *needed)
{
    if (needed)
        *needed = 0;
    if (buffer && capacity > 0)
        buffer[0] = '\0';
    return status;
}

int32_t plw_explain_car(const plw_car *car, int32_t format, uint32_t flags, char *buffer,
                        size_t capacity, size_t *needed)
{
    if (!car)
        return refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    if (format < PLW_FORMAT_TEXT || format > PLW_FORMAT_JSON || (flags & ~PLW_EXPLAIN_SOURCES))
        return refuse(PLW_E_FLAGS, buffer, capacity, needed);
    plwi_view view = { .result = &car->result,
                       .tables = car->tables,
                       .flags = flags,
                       .out = plwi_writer_on(buffer, capacity) };
    if (format == PLW_FORMAT_TEXT)
        explain_text(&view, car);
    else if (format == PLW_FORMAT_MARKDOWN)
        explain_markdown(&view, car);
    else
        plwi_explain_car_json(&view, car);
    return plwi_writer_end(&view.out, needed);
}
