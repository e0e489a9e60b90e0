/* SPDX-License-Identifier: MIT
 *
 * Layouts: rulers become forms, one for each length a number can have.
 */
#include <string.h>

#include "codes.h"
#include "resolve.h"
#include "years.h"

#define NO_GROUP 0

/* A layout while it is being read; positions are those of the longest form. */
typedef struct drawing {
    tc_compilation *c;
    tc_scheme *scheme;
    tc_layout *layout;
    tc_years years;
    unsigned length;
    unsigned groups;               /* optional groups, numbered from 1 */
    uint8_t group[MAX_POSITIONS];  /* the innermost group of the position */
    uint64_t classes[MAX_POSITIONS];
    TC_LIST(tc_span) spans;
} drawing;

/* ---- rulers ----------------------------------------------------------- */

static tc_field *field_of_letter(const tc_scheme *scheme, char letter)
{
    for (size_t i = 0; i < scheme->fields.count; i++)
        if (scheme->fields.items[i]->letter == letter && letter != '-')
            return scheme->fields.items[i];
    return NULL;
}

static bool refuse_character(drawing *d, tc_word at, const char *why)
{
    tc_complain(d->c, at.place, "%s; a ruler is made of small letters (fields), capitals and "
                                "digits (themselves), and . in further rulers", why);
    return false;
}

/* Puts the field at the position; the spans of this ruler start at first. */
static bool place_field(drawing *d, tc_word at, size_t first, unsigned position)
{
    tc_field *field = field_of_letter(d->scheme, at.text[0]);
    size_t i = 0;
    if (!field)
        return refuse_character(d, at, tc_print(d->c, "no field has the letter %c",
                                                at.text[0]));
    while (i < d->spans.count && d->spans.items[i].field != field)
        i++;
    if (i < first)
        return refuse_character(d, at, tc_print(d->c, "%s stands in a ruler above already",
                                                field->name));
    if (i == d->spans.count)
        TC_ADD(&d->c->memory, &d->spans)->field = field;
    d->spans.items[i].positions |= UINT32_C(1) << position;
    if (field->characters)
        d->classes[position] &= field->characters;
    if (d->classes[position])
        return true;
    tc_complain(d->c, at.place, "no character is left that %s could show here; compare the "
                                "characters of the fields at this position", field->name);
    return false;
}

static bool read_first_character(drawing *d, tc_word at)
{
    int literal = tc_character(at.text[0]);
    if (d->length == MAX_POSITIONS)
        return refuse_character(d, at, tc_print(d->c, "a number has at most %d positions",
                                                MAX_POSITIONS));
    d->classes[d->length] = literal < 0 ? ALL_CHARACTERS : UINT64_C(1) << literal;
    if (literal < 0) {
        tc_field *field = field_of_letter(d->scheme, at.text[0]);
        if (field && !field->characters) {
            tc_complain(d->c, at.place, "%s says - for its characters, so it only lies over "
                                        "other fields; write its characters under [fields], or "
                                        "give it a further ruler", field->name);
            return false;
        }
        if (!place_field(d, at, 0, d->length))
            return false;
    }
    d->length++;
    return true;
}

/* The first ruler says what every position is; brackets enclose positions that
 * may be missing. */
static bool read_first_ruler(drawing *d, tc_word ruler)
{
    uint8_t open[MAX_POSITIONS];
    unsigned depth = 0;
    for (size_t i = 0; i < ruler.length; i++) {
        tc_word at = tc_slice(ruler, i, 1);
        if (ruler.text[i] == '[') {
            if (d->groups == MAX_POSITIONS)
                return refuse_character(d, at, "there are too many brackets");
            open[depth++] = (uint8_t)++d->groups;
        } else if (ruler.text[i] == ']') {
            if (depth == 0)
                return refuse_character(d, at, "this bracket was never opened");
            depth--;
        } else {
            unsigned position = d->length;
            if (!read_first_character(d, at))
                return false;
            d->group[position] = depth ? open[depth - 1] : NO_GROUP;
        }
    }
    if (depth > 0)
        return refuse_character(d, ruler, "a bracket of this ruler is not closed");
    return true;
}

static bool read_further_ruler(drawing *d, tc_word ruler)
{
    size_t first = d->spans.count;
    bool good = true;
    if (ruler.length != d->length) {
        tc_complain(d->c, ruler.place, "this ruler has %zu positions, but the first has %u; "
                                       "write one character for each position, . where it says "
                                       "nothing", ruler.length, d->length);
        return false;
    }
    for (unsigned i = 0; i < d->length; i++) {
        tc_word at = tc_slice(ruler, i, 1);
        if (at.text[0] != '.' && !place_field(d, at, first, i))
            good = false;
    }
    return good;
}

static void read_at(drawing *d, const tc_at *at)
{
    uint64_t set;
    int32_t position = tc_number(at->position);
    if (position < 1 || position > (int32_t)d->length) {
        tc_complain(d->c, at->position.place, "\"%s\" is no position of this layout; write 1 to "
                                              "%u", tc_string(d->c, at->position), d->length);
        return;
    }
    if (!tc_read_set(d->c, at->characters, &set))
        return;
    if (!(d->classes[position - 1] & set)) {
        tc_complain(d->c, at->characters.place, "position %d takes only %s; write some of these",
                    (int)position, tc_show_set(d->c, d->classes[position - 1]));
        return;
    }
    d->classes[position - 1] &= set;
}

static unsigned count_positions(uint32_t positions)
{
    unsigned count = 0;
    for (; positions; positions &= positions - 1)
        count++;
    return count;
}

static bool check_widths(drawing *d)
{
    bool good = true;
    for (size_t i = 0; i < d->spans.count; i++) {
        tc_span *span = &d->spans.items[i];
        unsigned width = count_positions(span->positions);
        span->width = (uint8_t)width;
        if (width <= MAX_CODE_WIDTH)
            continue;
        tc_complain(d->c, d->layout->rulers.items[0].place,
                    "%s has %u positions, but a field has at most %d; share them between two "
                    "fields", span->field->name, width, MAX_CODE_WIDTH);
        good = false;
    }
    if (d->spans.count > MAX_SPANS) {
        tc_complain(d->c, d->layout->place, "this layout has %zu fields, but at most %d can be "
                                            "read; leave some out", d->spans.count, MAX_SPANS);
        good = false;
    }
    return good;
}

static bool read_rulers(drawing *d)
{
    tc_words *rulers = &d->layout->rulers;
    bool good = true;
    if (rulers->count == 0) {
        tc_complain(d->c, d->layout->place, "this layout has no ruler; write a line like: ruler "
                                            "lbbeypssssss");
        return false;
    }
    if (!read_first_ruler(d, rulers->items[0]))
        return false;
    for (size_t i = 1; i < rulers->count; i++)
        if (!read_further_ruler(d, rulers->items[i]))
            good = false;
    for (size_t i = 0; i < d->layout->ats.count; i++)
        read_at(d, &d->layout->ats.items[i]);
    return check_widths(d) && good;
}

/* ---- forms ------------------------------------------------------------ */

/* In form number n the first n optional groups are there. Brackets that open
 * later have higher numbers, so the innermost group decides. */
static bool is_present(const drawing *d, unsigned position, unsigned form)
{
    return d->group[position] <= form;
}

static unsigned form_length(const drawing *d, unsigned form)
{
    unsigned length = 0;
    for (unsigned p = 0; p < d->length; p++)
        length += is_present(d, p, form);
    return length;
}

static void add_form_span(drawing *d, tc_form *form, unsigned number, const tc_span *span)
{
    tc_span kept = { span->field, 0, 0 };
    unsigned to = 0;
    for (unsigned p = 0; p < d->length; p++) {
        if (!is_present(d, p, number))
            continue;
        if (span->positions >> p & 1)
            kept.positions |= UINT32_C(1) << to;
        to++;
    }
    kept.width = (uint8_t)count_positions(kept.positions);
    if (kept.width == 0)
        return;
    kept.field->widths |= UINT32_C(1) << kept.width;
    if (kept.width > kept.field->width)
        kept.field->width = kept.width;
    *TC_ADD(&d->c->memory, &form->spans) = kept;
}

/* ---- samples ---------------------------------------------------------- */

static const char *misfit_of_sample(drawing *d, tc_word sample, unsigned form)
{
    unsigned at = 0;
    for (unsigned p = 0; p < d->length; p++) {
        if (!is_present(d, p, form))
            continue;
        int bit = tc_character(sample.text[at]);
        if (bit < 0 || !(d->classes[p] >> bit & 1))
            return tc_print(d->c, "position %u shows %c, but takes %s", at + 1, sample.text[at],
                            tc_show_set(d->c, d->classes[p]));
        at++;
    }
    return NULL;
}

/* The form that has the length of the sample; complains when none fits. */
static int form_of_sample(drawing *d, tc_word sample)
{
    for (unsigned form = 0; form <= d->groups; form++) {
        if (form_length(d, form) != sample.length)
            continue;
        const char *misfit = misfit_of_sample(d, sample, form);
        if (!misfit)
            return (int)form;
        tc_complain(d->c, sample.place, "the sample does not match the layout: %s; write a "
                                        "number that this layout can show", misfit);
        return -1;
    }
    tc_complain(d->c, sample.place, "the sample does not match the layout: it has %zu "
                                    "characters, the layout %u; write a number of that length",
                sample.length, d->length);
    return -1;
}

static char lowest_of(uint64_t set)
{
    int bit = 0;
    while (!(set >> bit & 1))
        bit++;
    return "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"[bit];
}

/* The sample of one form in the shape of another: positions it lacks take the
 * lowest character, those it has too many are left out. */
static const char *reshape(drawing *d, tc_word sample, unsigned from, unsigned to)
{
    char text[MAX_POSITIONS + 1];
    size_t length = 0;
    size_t at = 0;
    for (unsigned p = 0; p < d->length; p++) {
        bool given = is_present(d, p, from);
        if (is_present(d, p, to))
            text[length++] = (char)(given ? sample.text[at] : lowest_of(d->classes[p]));
        at += given;
    }
    return tc_copy(&d->c->memory, text, length);
}

static void add_form(drawing *d, unsigned number, tc_word sample, unsigned sample_form)
{
    tc_form *form = tc_allocate(&d->c->memory, sizeof *form);
    form->years = d->years;
    for (unsigned p = 0; p < d->length; p++)
        if (is_present(d, p, number))
            form->classes[form->length++] = d->classes[p];
    for (size_t i = 0; i < d->spans.count; i++)
        add_form_span(d, form, number, &d->spans.items[i]);
    form->sample = sample.text ? reshape(d, sample, sample_form, number) : "";
    *TC_ADD(&d->c->memory, &d->scheme->forms) = form;
}

/* One form for each number of optional groups, the longest first. */
static void add_forms(drawing *d)
{
    tc_word samples[MAX_POSITIONS + 1] = { { NULL, 0, { 0, 0, 0 } } };
    unsigned some = 0;
    tc_words *given = &d->layout->samples;
    if (given->count == 0)
        tc_complain(d->c, d->layout->place, "this layout has no sample; write a line like: "
                                            "sample T24K3P100051");
    for (size_t i = 0; i < given->count; i++) {
        int form = form_of_sample(d, given->items[i]);
        if (form < 0)
            continue;
        samples[form] = given->items[i];
        some = (unsigned)form > some ? (unsigned)form : some;
    }
    for (unsigned form = d->groups + 1; form-- > 0;) {
        unsigned from = samples[form].text ? form : some;
        if (form_length(d, form) > 0)
            add_form(d, form, samples[from], from);
    }
}

static void resolve_years(tc_compilation *c, const tc_scheme *scheme, const tc_layout *layout,
                          tc_years *years)
{
    if (!tc_read_years(c, layout->years_word, scheme, years))
        *years = scheme->years; /* or its rows would be refused too */
}

static void resolve_layout(tc_compilation *c, tc_scheme *scheme, tc_layout *layout)
{
    drawing d = { .c = c, .scheme = scheme, .layout = layout, .years = scheme->years };
    if (layout->years_word.text)
        resolve_years(c, scheme, layout, &d.years);
    if (read_rulers(&d))
        add_forms(&d);
    else
        scheme->layouts_sound = false;
}

void tc_resolve_layouts(tc_compilation *c, tc_scheme *scheme)
{
    scheme->layouts_sound = scheme->layouts.count > 0;
    for (size_t i = 0; i < scheme->layouts.count; i++)
        resolve_layout(c, scheme, scheme->layouts.items[i]);
    if (scheme->layouts.count == 0)
        tc_complain(c, scheme->place, "this scheme has no layout; write a section [layout] with "
                                      "a sample and a ruler");
}
