/* SPDX-License-Identifier: MIT */
#include "page.h"

#include <string.h>

#include "internal.h"

#define REPLACEMENT "\xEF\xBF\xBD"

void plwi_page_end_line(plwi_page *page)
{
    plwi_put_char(page->out, '\n');
    page->column = 0;
}

void plwi_page_pad(plwi_page *page, unsigned column)
{
    for (; page->column < column; page->column++)
        plwi_put_char(page->out, ' ');
}

static void write_word(plwi_page *page)
{
    plwi_put(page->out, page->word, page->bytes);
    page->column += page->columns;
    page->bytes = 0;
    page->columns = 0;
}

void plwi_page_end_word(plwi_page *page)
{
    if (page->bytes == 0)
        return;
    if (page->column > page->left) {
        if (page->column + 1 + page->columns <= PAGE_WIDTH)
            plwi_page_pad(page, page->column + 1);
        else
            plwi_page_end_line(page);
    }
    plwi_page_pad(page, page->left);
    write_word(page);
}

static int is_combining(const char *text)
{
    unsigned char first = (unsigned char)text[0];
    unsigned char second = (unsigned char)text[1];
    return first == 0xCC || (first == 0xCD && second < 0xB0);
}

size_t plwi_character_size(const char *text)
{
    size_t size = 1;
    while (size < 4 && ((unsigned char)text[size] & 0xC0) == 0x80)
        size++;
    return size;
}

/* Blanks, line ends and other controls part words and never reach a terminal. */
static int is_blank(const char *text)
{
    unsigned char first = (unsigned char)text[0];
    return first <= 0x20 || first == 0x7F ||
           (first == 0xC2 && (unsigned char)text[1] >= 0x80 && (unsigned char)text[1] < 0xA0);
}

static void put_character(plwi_page *page, const char *text, size_t size)
{
    unsigned columns = is_combining(text) ? 0 : 1;
    if (page->left + page->columns + columns > PAGE_WIDTH || page->bytes + size > WORD_SIZE)
        plwi_page_end_word(page);
    memcpy(page->word + page->bytes, text, size);
    page->bytes += size;
    page->columns += columns;
}

void plwi_page_put(plwi_page *page, const char *text)
{
    size_t left = strlen(text);
    while (left > 0) {
        plwi_unit unit = plwi_next_unit((const unsigned char *)text, left);
        if (is_blank(text))
            plwi_page_end_word(page);
        else if (unit.code == INVALID_UNIT || plwi_is_unshowable(unit.code))
            put_character(page, REPLACEMENT, sizeof REPLACEMENT - 1);
        else
            put_character(page, text, unit.length);
        text += unit.length;
        left -= unit.length;
    }
}

void plwi_page_cell(plwi_page *page, unsigned column)
{
    plwi_page_end_word(page);
    if (page->column > 0 && page->column >= column)
        plwi_page_end_line(page);
    page->left = column;
}

void plwi_page_bullet(plwi_page *page, unsigned column)
{
    plwi_page_cell(page, column);
    plwi_page_pad(page, column);
    plwi_put_char(page->out, '-');
    page->column++;
    plwi_page_pad(page, column + 2);
    page->left = column + 2;
}

void plwi_page_finish(plwi_page *page)
{
    plwi_page_end_word(page);
    if (page->column > 0)
        plwi_page_end_line(page);
}

void plwi_page_blank(plwi_page *page)
{
    plwi_page_finish(page);
    plwi_page_end_line(page);
}

void plwi_page_heading(plwi_page *page, const char *text)
{
    plwi_page_blank(page);
    plwi_page_cell(page, 0);
    plwi_page_put(page, text);
    plwi_page_finish(page);
}

void plwi_page_count(plwi_page *page, uint32_t count)
{
    char digits[12];
    plwi_writer writer = plwi_writer_on(digits, sizeof digits);
    plwi_put_number(&writer, count);
    plwi_writer_end(&writer, NULL);
    plwi_page_put(page, digits);
}

unsigned plwi_columns(const char *text)
{
    unsigned columns = 0;
    for (; *text; text += plwi_character_size(text))
        columns += is_combining(text) ? 0 : 1;
    return columns;
}
