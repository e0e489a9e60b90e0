/* SPDX-License-Identifier: MIT
 *
 * Explain: a result as text for people or programs. This file checks what was
 * asked for and holds the phrases that the forms share.
 */
#include "explain.h"

#include <string.h>

#include "names.h"
#include "row_text.h"

static void explain(plwi_view *view, int32_t format)
{
    if (format == PLW_FORMAT_TEXT)
        plwi_explain_text(view);
    else if (format == PLW_FORMAT_MARKDOWN)
        plwi_explain_markdown(view);
    else if (format == PLW_FORMAT_JSON)
        plwi_explain_json(view);
    else if (format == PLW_FORMAT_SVG)
        plwi_explain_svg(view);
    else
        plwi_explain_html(view);
}

int32_t plw_explain(const plw_result *result, int32_t format, uint32_t flags, char *buffer,
                    size_t capacity, size_t *needed)
{
    if (!result)
        return plwi_writer_refuse(PLW_E_ARGUMENT, buffer, capacity, needed);
    if (format < PLW_FORMAT_TEXT || format > PLW_FORMAT_HTML || (flags & ~PLW_EXPLAIN_SOURCES))
        return plwi_writer_refuse(PLW_E_FLAGS, buffer, capacity, needed);
    plwi_view view = { result, result->tables, flags, PLWI_FULL_READINGS, PLWI_MAX_PLACES,
                       plwi_writer_on(buffer, capacity) };
    if (format == PLW_FORMAT_SVG) {
        view.readings = 1;
        view.places = 0;
    }
    explain(&view, format);
    return plwi_writer_end(&view.out, needed);
}

/* ---- Pieces ------------------------------------------------------------- */

/* Text too long for a piece is replaced by a note of its length; an accessor
 * that refuses for another reason has nothing to say. */
static const char *settle(plwi_piece *piece, int32_t status, size_t needed)
{
    if (status == PLW_OK)
        return piece->text;
    plwi_writer writer = plwi_writer_on(piece->text, sizeof piece->text);
    if (status == PLW_E_SHORT) { /* GCOVR_EXCL_BR_LINE: nobody asks for what is not there */
        plwi_put_text(&writer, "(left out: a text of ");
        plwi_put_number(&writer, (int64_t)(needed - 1));
        plwi_put_text(&writer, " bytes)");
    }
    plwi_writer_end(&writer, NULL);
    return piece->text;
}

plwi_writer plwi_piece_writer(plwi_piece *piece)
{
    return plwi_writer_on(piece->text, sizeof piece->text);
}

const char *plwi_piece_end(plwi_piece *piece, plwi_writer *writer)
{
    size_t needed = 0;
    int32_t status = plwi_writer_end(writer, &needed);
    return settle(piece, status, needed);
}

const char *plwi_number_text(const plwi_view *view, plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_result_number(view->result, piece->text, sizeof piece->text, &needed);
    return settle(piece, status, needed);
}

const char *plwi_reading_text(const plwi_view *view, uint32_t reading, plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_reading_number(view->result, reading, piece->text, sizeof piece->text,
                                        &needed);
    return settle(piece, status, needed);
}

const char *plwi_code_text(const plwi_view *view, uint32_t reading, uint32_t field,
                            plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_field_code(view->result, reading, field, piece->text,
                                    sizeof piece->text, &needed);
    return settle(piece, status, needed);
}

const char *plwi_key_text(const plwi_view *view, uint32_t row, plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_row_key(view->tables, row, piece->text, sizeof piece->text, &needed);
    return settle(piece, status, needed);
}

const char *plwi_row_words(const plwi_view *view, uint32_t row)
{
    return plwi_words(view->result->names, plwi_image(view->tables), row);
}

const char *plwi_condition_text(const plwi_view *view, uint32_t row, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_condition(&writer, plwi_image(view->tables), view->result->names, row);
    return plwi_piece_end(piece, &writer);
}

const char *plwi_attribute_text(const plwi_view *view, uint32_t row, uint32_t index,
                               plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_row_attribute_text(view->tables, row, index, piece->text,
                                            sizeof piece->text, &needed);
    return settle(piece, status, needed);
}

const char *plwi_sentence_text(const plwi_view *view, uint32_t finding, plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_finding_sentence(view->result, finding, piece->text,
                                          sizeof piece->text, &needed);
    return settle(piece, status, needed);
}

const char *plwi_suggestion_text(const plwi_view *view, uint32_t suggestion, plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_suggestion_sentence(view->result, suggestion, piece->text,
                                             sizeof piece->text, &needed);
    return settle(piece, status, needed);
}

const char *plwi_suggestions_left(const plwi_view *view, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    uint32_t left = plw_suggestion_left_out(view->result);
    if (left > 0 && plw_suggestion_count(view->result) > 0) {
        plwi_put_text(&writer, "and ");
        plwi_put_number(&writer, left);
        plwi_put_text(&writer, " more");
    } else if (left > 0) {
        plwi_put_number(&writer, left);
        plwi_put_text(&writer, " single changes would make the check character fit; nothing tells "
                               "them apart, so none is offered.");
    }
    return plwi_piece_end(piece, &writer);
}

const char *plwi_digest_text(const plwi_view *view, plwi_piece *piece)
{
    size_t needed = 0;
    int32_t status = plw_tables_digest(view->tables, piece->text, sizeof piece->text, &needed);
    return settle(piece, status, needed);
}

/* ---- Years and positions ------------------------------------------------ */

plwi_years plwi_reading_years(const plwi_view *view, uint32_t reading)
{
    plwi_years years = { 0, 0 };
    uint32_t count = plw_reading_year_count(view->result, reading);
    for (uint32_t i = 0; i < count; i++)
        years = plwi_years_or(years, plwi_years_one(plw_reading_year(view->result, reading, i)));
    return years;
}

plwi_years plwi_row_years(const plwi_view *view, uint32_t row)
{
    image_t image = plwi_image(view->tables);
    return plwi_year_set(image, plwi_u16(plwi_row(image, row) + ROW_YEARS));
}

int plwi_run_end(plwi_years years, int year)
{
    while (plwi_years_has(years, year + 1))
        year++;
    return year;
}

/* "1962-1966, 1970 or 1973": runs of three years and more are closed up. */
static void put_years(plwi_writer *writer, plwi_years years, const char *before_last)
{
    int year = plwi_years_next(years, FIRST_YEAR - 1);
    for (int first = 1; year; first = 0) {
        int end = plwi_run_end(years, year);
        if (end < year + 2)
            end = year;
        int next = plwi_years_next(years, end);
        if (!first)
            plwi_put_text(writer, next ? ", " : before_last);
        plwi_put_number(writer, year);
        if (end > year) {
            plwi_put_char(writer, '-');
            plwi_put_number(writer, end);
        }
        year = next;
    }
}

const char *plwi_years_text(plwi_years years, const char *before_last, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    put_years(&writer, years, before_last);
    return plwi_piece_end(piece, &writer);
}

const char *plwi_positions_text(uint32_t positions, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    for (unsigned first = 0; first < PLW_MAX_POSITIONS; first++) {
        if (!(positions >> first & 1u))
            continue;
        unsigned last = first;
        while (last + 1 < PLW_MAX_POSITIONS && (positions >> (last + 1) & 1u))
            last++;
        if (writer.length > 0)
            plwi_put_text(&writer, ", ");
        plwi_put_number(&writer, first + 1);
        if (last > first) {
            plwi_put_char(&writer, '-');
            plwi_put_number(&writer, last + 1);
        }
        first = last;
    }
    return plwi_piece_end(piece, &writer);
}

/* ---- Phrases about the number and its readings -------------------------- */

static const char *grade_in_words(int32_t grade)
{
    static const char *const words[] = { "nothing to remark on", "worth knowing",
                                         "worth a second look",
                                         "cannot be right as it stands" };
    return words[grade];
}

static void put_characters(plwi_writer *writer, uint32_t count)
{
    if (count == 0)
        plwi_put_text(writer, "no");
    else
        plwi_put_number(writer, count);
    plwi_put_text(writer, count == 1 ? " character, " : " characters, ");
}

static void put_reading_count(plwi_writer *writer, uint32_t count)
{
    if (count == 0) {
        plwi_put_text(writer, "no reading");
    } else if (count == 1) {
        plwi_put_text(writer, "read in one way");
    } else {
        plwi_put_text(writer, "read in ");
        plwi_put_number(writer, count);
        plwi_put_text(writer, " ways");
    }
}

static void put_grade(plwi_writer *writer, int32_t grade)
{
    plwi_put_text(writer, "; grade: ");
    plwi_put_text(writer, plw_grade_name(grade));
    plwi_put_text(writer, " (");
    plwi_put_text(writer, grade_in_words(grade));
    plwi_put_char(writer, ')');
}

const char *plwi_summary(const plwi_view *view, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    put_characters(&writer, plw_result_position_count(view->result));
    put_reading_count(&writer, plw_reading_count(view->result));
    if (plw_finding_count(view->result) > 0)
        put_grade(&writer, plw_result_grade(view->result));
    return plwi_piece_end(piece, &writer);
}

static void put_model_years(plwi_writer *writer, const plwi_view *view, uint32_t reading)
{
    plwi_years years = plwi_reading_years(view, reading);
    uint32_t count = plwi_years_count(years);
    if (count == 0)
        plwi_put_text(writer, "no model year fits");
    else
        plwi_put_text(writer, count == 1 ? "model year " : "model years ");
    put_years(writer, years, " or ");
}

const char *plwi_reading_head(const plwi_view *view, uint32_t reading, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_piece typed;
    plwi_piece read;
    plwi_put_text(&writer, "scheme ");
    plwi_put_text(&writer, plw_scheme_key(view->tables, plw_reading_scheme(view->result, reading)));
    plwi_put_text(&writer, ", ");
    put_model_years(&writer, view, reading);
    if (strcmp(plwi_number_text(view, &typed), plwi_reading_text(view, reading, &read)) != 0) {
        plwi_put_text(&writer, ", read as ");
        plwi_put_text(&writer, read.text);
    }
    return plwi_piece_end(piece, &writer);
}

const char *plwi_reading_brief(const plwi_view *view, uint32_t reading, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_put_text(&writer, plw_reading_title(view->result, reading));
    plwi_put_text(&writer, "; ");
    put_model_years(&writer, view, reading);
    if (plw_finding_count(view->result) > 0) {
        plwi_put_text(&writer, "; grade: ");
        plwi_put_text(&writer, plw_grade_name(plw_reading_grade(view->result, reading)));
    }
    return plwi_piece_end(piece, &writer);
}

static uint32_t year_field(const plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_field_count(view->result, reading);
    for (uint32_t field = 0; field < count; field++)
        if (strcmp(plw_field_name(view->result, reading, field), "year") == 0)
            return field;
    return PLW_NONE;
}

/* What the year field allows by itself; no year when there is none or its
 * code is not in the tables. */
static plwi_years years_alone(const plwi_view *view, uint32_t reading)
{
    plwi_years none = { 0, 0 };
    uint32_t field = year_field(view, reading);
    const plwi_slot *slot = field == PLW_NONE ? NULL : plwi_slot_at(view->result, reading, field);
    return slot && slot->narrows ? slot->years : none;
}

plwi_years plwi_excluded_years(const plwi_view *view, uint32_t reading, uint32_t field)
{
    plwi_years alone = years_alone(view, reading);
    plwi_years excluded = { 0, 0 };
    for (int year = plwi_years_next(alone, FIRST_YEAR - 1); year;
         year = plwi_years_next(alone, year))
        if (plw_field_excludes_year(view->result, reading, field, year))
            excluded = plwi_years_or(excluded, plwi_years_one(year));
    return excluded;
}

/* Years of the other readings of the same scheme. */
static plwi_years years_elsewhere(const plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_reading_count(view->result);
    plwi_years years = { 0, 0 };
    for (uint32_t other = 0; other < count; other++)
        if (other != reading && plw_reading_scheme(view->result, other) ==
                                    plw_reading_scheme(view->result, reading))
            years = plwi_years_or(years, plwi_reading_years(view, other));
    return years;
}

/* The fields that rule out years, each with the years. */
static void put_exclusions(plwi_writer *writer, const plwi_view *view, uint32_t reading)
{
    uint32_t count = plw_field_count(view->result, reading);
    plwi_piece code;
    for (uint32_t field = 0; field < count; field++) {
        plwi_years years = plwi_excluded_years(view, reading, field);
        if (plwi_years_empty(years))
            continue;
        plwi_put_text(writer, "; ");
        plwi_put_text(writer, plw_field_label(view->result, reading, field));
        plwi_put_char(writer, ' ');
        plwi_put_text(writer, plwi_code_text(view, reading, field, &code));
        plwi_put_text(writer, " rules out ");
        put_years(writer, years, " and ");
    }
}

/* Why the reading has fewer years than the year field alone, or that it has not. */
static void put_settling(plwi_writer *writer, const plwi_view *view, uint32_t reading,
                         plwi_years alone)
{
    plwi_years own = plwi_reading_years(view, reading);
    plwi_years other = plwi_years_and(plwi_years_without(alone, own),
                                      years_elsewhere(view, reading));
    put_exclusions(writer, view, reading);
    if (!plwi_years_empty(other)) {
        plwi_put_text(writer, "; ");
        put_years(writer, other, " and ");
        plwi_put_text(writer, plwi_years_count(other) == 1 ? " is another reading"
                                                           : " are other readings");
    } else if (plwi_years_equal(alone, own)) {
        plwi_put_text(writer, "; no other field settles it");
    }
}

const char *plwi_year_story(const plwi_view *view, uint32_t reading, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_years alone = years_alone(view, reading);
    if (plwi_years_count(alone) > 1) {
        plwi_piece code;
        uint32_t year = year_field(view, reading);
        plwi_put_text(&writer, plwi_code_text(view, reading, year, &code));
        plwi_put_text(&writer, " alone is ");
        put_years(&writer, alone, " or ");
        put_settling(&writer, view, reading, alone);
        plwi_put_char(&writer, '.');
    }
    return plwi_piece_end(piece, &writer);
}

static void put_check(plwi_writer *writer, const plwi_view *view, uint32_t reading)
{
    int32_t expected = 0;
    int32_t state = plw_reading_check(view->result, reading, &expected);
    if (state == PLW_CHECK_FITS) {
        plwi_put_text(writer, "fits the other characters");
    } else if (state == PLW_CHECK_FAILS) {
        plwi_put_text(writer, "does not fit; ");
        plwi_put_char(writer, (char)expected);
        plwi_put_text(writer, " would");
    } else if (expected) {
        plwi_put_text(writer, "cannot be read; ");
        plwi_put_char(writer, (char)expected);
        plwi_put_text(writer, " would fit");
    } else {
        plwi_put_text(writer, "cannot be worked out: a character is unreadable");
    }
}

static int lies_outside(const plwi_view *view, uint32_t reading, uint32_t field)
{
    const plwi_slot *slot = plwi_slot_at(view->result, reading, field);
    return slot->rule == RULE_BELOW || slot->rule == RULE_ABOVE;
}

const char *plwi_field_plainly(const plwi_view *view, uint32_t reading, uint32_t field,
                               plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    int32_t state = plw_field_state(view->result, reading, field);
    if (state == PLW_FIELD_CHECK)
        put_check(&writer, view, reading);
    else if (state == PLW_FIELD_UNREADABLE)
        plwi_put_text(&writer, "cannot be read");
    else if (state == PLW_FIELD_PLAIN)
        plwi_put_text(&writer, "the maker's own; the tables do not interpret it");
    else if (lies_outside(view, reading, field))
        plwi_put_text(&writer, "outside the known running numbers");
    else
        plwi_put_text(&writer, "not in the tables");
    return plwi_piece_end(piece, &writer);
}

/* ---- Phrases about a row ------------------------------------------------ */

/* The years of a row that matter to a reading: where some are possible, those. */
static plwi_years years_in_reading(const plwi_view *view, uint32_t reading, uint32_t row)
{
    plwi_years years = plwi_row_years(view, row);
    plwi_years possible = plwi_reading_years(view, reading);
    return plwi_years_empty(possible) ? years : plwi_years_and(years, possible);
}

static void put_part(plwi_writer *writer, const char *before, const char *text)
{
    if (text[0] == '\0')
        return;
    if (writer->length > 0)
        plwi_put_text(writer, ", ");
    plwi_put_text(writer, before);
    plwi_put_text(writer, text);
}

/* With an unreadable character it matters which code a row speaks of, except
 * where rows are ranges of running numbers. */
static int code_is_open(const plwi_view *view, uint32_t reading, uint32_t field)
{
    image_t image = plwi_image(view->tables);
    const plwi_slot *slot = plwi_slot_at(view->result, reading, field);
    return slot && slot->state == PLW_FIELD_UNREADABLE &&
           plwi_field(image, plwi_slot_field(image, slot))[FIELD_KIND] != KIND_RUN;
}

/* The years in which a row holds, if they are fewer than the reading's or there
 * are none to compare with; "" too when the words of the row say just that. */
static const char *row_years(const plwi_view *view, uint32_t reading, uint32_t row,
                             plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_years years = years_in_reading(view, reading, row);
    if (!plwi_years_equal(years, plwi_reading_years(view, reading)))
        put_years(&writer, years, ", ");
    const char *text = plwi_piece_end(piece, &writer);
    return strcmp(text, plwi_row_words(view, row)) == 0 ? "" : text;
}

const char *plwi_row_when(const plwi_view *view, uint32_t reading, uint32_t field, uint32_t row,
                          plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_piece part;
    if (code_is_open(view, reading, field))
        put_part(&writer, "", plw_row_code(view->tables, row));
    put_part(&writer, "", row_years(view, reading, row, &part));
    if (plwi_row_applies(view, reading, row) != PLWI_YES)
        put_part(&writer, "if ", plwi_condition_text(view, row, &part));
    return plwi_piece_end(piece, &writer);
}

static int64_t rounded(int64_t value, int64_t step)
{
    return (value + step / 2) / step;
}

/* Adds a figure unless the words of the row say the same. */
static void put_figure(plwi_writer *writer, const plwi_view *view, uint32_t row,
                       const char *name, const char *unit)
{
    int64_t thousandths = 0;
    plwi_piece figure;
    plwi_writer own = plwi_piece_writer(&figure);
    if (plw_row_quantity(view->tables, row, name, &thousandths) != PLW_OK)
        return;
    plwi_put_thousandths(&own, thousandths);
    plwi_put_text(&own, unit);
    if (strstr(plwi_row_words(view, row), plwi_piece_end(&figure, &own)))
        return;
    put_part(writer, "", figure.text);
}

static uint32_t attribute_named(const plwi_view *view, uint32_t row, const char *name)
{
    uint32_t count = plw_row_attribute_count(view->tables, row);
    for (uint32_t i = 0; i < count; i++)
        if (strcmp(plw_row_attribute_name(view->tables, row, i), name) == 0)
            return i;
    return PLW_NONE;
}

/* The figure as stated first, then what it comes to in the other units. */
static void put_displacement(plwi_writer *writer, const plwi_view *view, uint32_t row)
{
    int64_t cubic_inches = 0;
    int64_t cc = 0;
    if (plw_row_quantity(view->tables, row, "cid", &cubic_inches) != PLW_OK)
        return;
    (void)plw_row_quantity(view->tables, row, "cc", &cc); /* told whenever the other is */
    if (attribute_named(view, row, "cid") != PLW_NONE) {
        plwi_put_thousandths(writer, cubic_inches);
        plwi_put_text(writer, " cu in (");
        plwi_put_number(writer, rounded(cc, 1000));
        plwi_put_text(writer, " cc, ");
    } else {
        plwi_put_thousandths(writer, cc);
        plwi_put_text(writer, " cc (");
        plwi_put_thousandths(writer, rounded(cubic_inches, 100) * 100);
        plwi_put_text(writer, " cu in, ");
    }
    int64_t tenths = rounded(cc, 100000);
    plwi_put_number(writer, tenths / 10);
    plwi_put_char(writer, '.');
    plwi_put_number(writer, tenths % 10);
    plwi_put_text(writer, " L)");
}

static void put_words(plwi_writer *writer, const plwi_view *view, uint32_t row,
                      const char *name, const char *before)
{
    uint32_t index = attribute_named(view, row, name);
    plwi_piece piece;
    if (index != PLW_NONE)
        put_part(writer, before, plwi_attribute_text(view, row, index, &piece));
}

const char *plwi_row_figures(const plwi_view *view, uint32_t row, int is_detail,
                             plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    if (!is_detail) {
        put_displacement(&writer, view, row);
        put_figure(&writer, view, row, "cyl", " cylinders");
        put_words(&writer, view, row, "carb", "barrels ");
        put_words(&writer, view, row, "fuel", "");
    }
    put_figure(&writer, view, row, "hp_gross", " hp gross");
    put_figure(&writer, view, row, "hp_net", " hp net");
    return plwi_piece_end(piece, &writer);
}

static void put_doubt(plwi_writer *writer, int applies, const char *words)
{
    if (!applies)
        return;
    if (writer->length > 0)
        plwi_put_text(writer, "; ");
    plwi_put_text(writer, words);
}

const char *plwi_row_doubts(const plwi_view *view, uint32_t row, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    int32_t standing = plw_row_standing(view->tables, row);
    uint32_t marks = plw_row_marks(view->tables, row);
    put_doubt(&writer, standing == PLW_STANDING_MEMORY, "memory: not confirmed");
    put_doubt(&writer, standing == PLW_STANDING_PRACTICE, "common practice");
    put_doubt(&writer, (marks & PLW_MARK_DISPUTED) != 0, "sources differ");
    put_doubt(&writer, (marks & PLW_MARK_EITHER) != 0, "the code covers more than one meaning");
    put_doubt(&writer, (marks & PLW_MARK_DOUBTFUL) != 0, "doubtful");
    return plwi_piece_end(piece, &writer);
}

const char *plwi_row_sources(const plwi_view *view, uint32_t row, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    uint32_t count = plw_row_source_count(view->tables, row);
    for (uint32_t i = 0; i < count; i++) {
        if (i > 0)
            plwi_put_text(&writer, ", ");
        plwi_put_text(&writer, plw_source_key(view->tables, plw_row_source(view->tables, row, i)));
    }
    return plwi_piece_end(piece, &writer);
}

/* ---- Closing lines ------------------------------------------------------ */

const char *plwi_tables_line(const plwi_view *view, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    plwi_piece digest;
    plwi_put_text(&writer, "Tables of ");
    plwi_put_text(&writer, plw_tables_edition(view->tables));
    plwi_put_text(&writer, ", digest ");
    plwi_put_text(&writer, plwi_digest_text(view, &digest));
    plwi_put_text(&writer, "; Platewright ");
    plwi_put_text(&writer, plw_version_text());
    plwi_put_char(&writer, '.');
    return plwi_piece_end(piece, &writer);
}

const char *plwi_sources_line(const plwi_view *view, plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    uint32_t count = 0;
    for (uint32_t source = plwi_next_source(view, PLW_NONE); source != PLW_NONE;
         source = plwi_next_source(view, source))
        count++;
    if (count == 0) {
        plwi_put_text(&writer, "No source stands behind this answer.");
    } else {
        plwi_put_number(&writer, count);
        plwi_put_text(&writer, count == 1 ? " source stands" : " sources stand");
        plwi_put_text(&writer, " behind this answer, by key in brackets; "
                               "they can be listed in full on request.");
    }
    return plwi_piece_end(piece, &writer);
}

/* ---- What belongs to an explanation ------------------------------------- */

uint32_t plwi_full_readings(const plwi_view *view)
{
    uint32_t count = plw_reading_count(view->result);
    return count < view->readings ? count : view->readings;
}

uint32_t plwi_rows_shown(const plwi_view *view, uint32_t reading, uint32_t field)
{
    uint32_t count = plw_field_row_count(view->result, reading, field);
    return count <= PLWI_MAX_ROWS ? count : PLWI_MAX_ROWS;
}

const char *plwi_rows_hidden(const plwi_view *view, uint32_t reading, uint32_t field,
                             plwi_piece *piece)
{
    plwi_writer writer = plwi_piece_writer(piece);
    uint32_t count = plw_field_row_count(view->result, reading, field);
    uint32_t shown = plwi_rows_shown(view, reading, field);
    if (count > shown) {
        plwi_put_text(&writer, "and ");
        plwi_put_number(&writer, count - shown);
        plwi_put_text(&writer, " more that the tables allow");
    }
    return plwi_piece_end(piece, &writer);
}

uint32_t plwi_field_of_detail(const plwi_view *view, uint32_t reading, uint32_t detail)
{
    uint32_t count = plw_field_count(view->result, reading);
    uint32_t last = plw_field_positions(view->result, reading, detail);
    while (last & (last - 1)) /* keep the highest position only */
        last &= last - 1;
    for (uint32_t field = 0; field < count; field++) /* GCOVR_EXCL_BR_LINE: details lie on one */
        if (!plw_field_is_detail(view->result, reading, field) &&
            (plw_field_positions(view->result, reading, field) & last))
            return field;
    return PLW_NONE;
}

/* The field of a scheme that says where its numbers stand, or NULL. */
static const unsigned char *field_of_places(image_t image, uint32_t scheme)
{
    const unsigned char *record = plwi_scheme(image, scheme);
    uint32_t field = plwi_u32(record + SCHEME_FIELD);
    uint32_t end = field + plwi_u32(record + SCHEME_FIELD_COUNT);
    for (; field < end; field++)
        if (strcmp(plwi_field_name(image, field), "plate_location") == 0)
            return plwi_field(image, field);
    return NULL;
}

uint32_t plwi_next_place(const plwi_view *view, uint32_t reading, uint32_t after)
{
    image_t image = plwi_image(view->tables);
    const unsigned char *field = field_of_places(image, plw_reading_scheme(view->result, reading));
    if (field == NULL)
        return PLW_NONE;
    uint32_t row = plwi_u32(field + FIELD_ROW);
    uint32_t end = row + plwi_u32(field + FIELD_ROW_COUNT);
    if (after != PLW_NONE)
        row = after + 1;
    for (; row < end; row++)
        if (!plwi_years_empty(years_in_reading(view, reading, row)) &&
            plwi_row_applies(view, reading, row) != PLWI_NO)
            return row;
    return PLW_NONE;
}

uint32_t plwi_lower_source(const plwi_view *view, uint32_t row, uint32_t after, uint32_t best)
{
    uint32_t count = plw_row_source_count(view->tables, row);
    for (uint32_t i = 0; i < count; i++) {
        uint32_t source = plw_row_source(view->tables, row, i);
        if ((after == PLW_NONE || source > after) && source < best)
            best = source;
    }
    return best;
}

uint32_t plwi_lower_field_source(const plwi_view *view, uint32_t reading, uint32_t after,
                                 uint32_t best)
{
    uint32_t fields = plw_field_count(view->result, reading);
    for (uint32_t field = 0; field < fields; field++) {
        uint32_t rows = plw_field_row_count(view->result, reading, field);
        for (uint32_t i = 0; i < rows; i++)
            best = plwi_lower_source(view, plw_field_row(view->result, reading, field, i), after,
                                     best);
    }
    return best;
}

static uint32_t lower_place_source(const plwi_view *view, uint32_t reading, uint32_t after,
                                   uint32_t best)
{
    uint32_t row = plwi_next_place(view, reading, PLW_NONE);
    for (uint32_t named = 0; row != PLW_NONE && named < view->places; named++) {
        best = plwi_lower_source(view, row, after, best);
        row = plwi_next_place(view, reading, row);
    }
    return best;
}

uint32_t plwi_next_field_source(const plwi_view *view, uint32_t after)
{
    uint32_t count = plw_reading_count(view->result);
    uint32_t best = PLW_NONE;
    for (uint32_t reading = 0; reading < count; reading++)
        best = plwi_lower_field_source(view, reading, after, best);
    return best;
}

uint32_t plwi_next_source(const plwi_view *view, uint32_t after)
{
    uint32_t full = plwi_full_readings(view);
    uint32_t best = PLW_NONE;
    for (uint32_t reading = 0; reading < full; reading++) {
        best = plwi_lower_field_source(view, reading, after, best);
        best = lower_place_source(view, reading, after, best);
    }
    return best;
}

int plwi_finding_shown(const plwi_view *view, uint32_t finding)
{
    uint32_t reading = plw_finding_reading(view->result, finding);
    return reading == PLW_NONE || reading < plwi_full_readings(view);
}

uint32_t plwi_findings_hidden(const plwi_view *view)
{
    uint32_t count = plw_finding_count(view->result);
    uint32_t hidden = 0;
    for (uint32_t i = 0; i < count; i++)
        hidden += !plwi_finding_shown(view, i);
    return hidden;
}

uint32_t plwi_marked_positions(const plwi_view *view)
{
    uint32_t count = plw_finding_count(view->result);
    uint32_t marked = 0;
    for (uint32_t i = 0; i < count; i++) {
        uint32_t reading = plw_finding_reading(view->result, i);
        int32_t code = plw_finding_code(view->result, i);
        if (reading != PLW_NONE && reading != 0)
            continue;
        if (plw_finding_grade(view->result, i) >= PLW_GRADE_DOUBT ||
            code == PLW_FINDING_MISREAD || code == PLW_FINDING_UNREADABLE)
            marked |= plw_finding_positions(view->result, i);
    }
    return marked;
}
