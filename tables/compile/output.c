/* SPDX-License-Identifier: MIT */
#include "output.h"

#include <string.h>

static const uint8_t record_sizes[SECTION_COUNT] = SECTION_RECORD_SIZES;

/* ---- numbers, lowest byte first --------------------------------------- */

void tc_put16(unsigned char *at, size_t value)
{
    at[0] = (unsigned char)(value & 0xFF);
    at[1] = (unsigned char)(value >> 8 & 0xFF);
}

void tc_put32(unsigned char *at, size_t value)
{
    tc_put16(at, value & 0xFFFF);
    tc_put16(at + 2, value >> 16 & 0xFFFF);
}

void tc_put64(unsigned char *at, uint64_t value)
{
    tc_put32(at, (size_t)(value & UINT32_MAX));
    tc_put32(at + 4, (size_t)(value >> 32));
}

/* ---- records ---------------------------------------------------------- */

void tc_open_output(tc_output *out, tc_compilation *c)
{
    memset(out, 0, sizeof *out);
    out->c = c;
    for (int i = 0; i < SECTION_COUNT; i++)
        out->sections[i].record = record_sizes[i];
    tc_text(out, "");
}

uint32_t tc_append(tc_output *out, enum image_section section, uint32_t count,
                   unsigned char **records)
{
    tc_output_section *s = &out->sections[section];
    uint32_t first = s->count;
    size_t start = s->bytes.count;
    for (size_t i = 0; i < (size_t)count * s->record; i++)
        *TC_ADD(&out->c->memory, &s->bytes) = 0;
    *records = s->bytes.items + start;
    s->count += count;
    return first;
}

static uint32_t hash_bytes(const unsigned char *bytes, size_t size)
{
    return (uint32_t)(image_digest(bytes, size) >> 16);
}

static size_t slot_of(const tc_output_section *s, uint32_t hash)
{
    return (size_t)hash & (s->known_slots - 1);
}

static void grow_known(tc_output *out, tc_output_section *s)
{
    tc_known_list *old = s->known;
    size_t old_slots = s->known_slots;
    s->known_slots = old_slots ? old_slots * 2 : 64;
    s->known = tc_allocate(&out->c->memory, s->known_slots * sizeof *s->known);
    for (size_t i = 0; i < old_slots; i++) {
        if (old[i].count == 0)
            continue;
        size_t slot = slot_of(s, old[i].hash);
        while (s->known[slot].count != 0)
            slot = (slot + 1) & (s->known_slots - 1);
        s->known[slot] = old[i];
    }
}

static bool is_list(const tc_output_section *s, const tc_known_list *known, uint32_t hash,
                    const unsigned char *records, uint32_t count)
{
    return known->hash == hash && known->count == count &&
           memcmp(s->bytes.items + (size_t)known->first * s->record, records,
                  (size_t)count * s->record) == 0;
}

uint32_t tc_share(tc_output *out, enum image_section section, const unsigned char *records,
                  uint32_t count)
{
    tc_output_section *s = &out->sections[section];
    size_t size = (size_t)count * s->record;
    uint32_t hash = hash_bytes(records, size);
    unsigned char *added;
    if (size == 0)
        return 0;
    if (s->known_count * 2 >= s->known_slots)
        grow_known(out, s);
    size_t slot = slot_of(s, hash);
    while (s->known[slot].count != 0) {
        if (is_list(s, &s->known[slot], hash, records, count))
            return s->known[slot].first;
        slot = (slot + 1) & (s->known_slots - 1);
    }
    uint32_t first = tc_append(out, section, count, &added);
    memcpy(added, records, size);
    s->known[slot] = (tc_known_list){ hash, first, count };
    s->known_count++;
    return first;
}

uint32_t tc_text(tc_output *out, const char *text)
{
    return tc_share(out, SECTION_TEXT, (const unsigned char *)text, (uint32_t)strlen(text) + 1);
}

uint32_t tc_text_of(tc_output *out, tc_word word)
{
    return tc_text(out, word.text ? tc_string(out->c, word) : "");
}

uint32_t tc_share_codes(tc_output *out, const tc_codes *codes)
{
    unsigned char *records = tc_allocate(&out->c->memory, codes->count * 8);
    for (size_t i = 0; i < codes->count; i++)
        tc_put64(records + i * 8, codes->items[i]);
    return tc_share(out, SECTION_CODES, records, (uint32_t)codes->count);
}

uint32_t tc_share_numbers(tc_output *out, enum image_section section, const tc_numbers *numbers)
{
    unsigned char *records = tc_allocate(&out->c->memory, numbers->count * 4);
    for (size_t i = 0; i < numbers->count; i++)
        tc_put32(records + i * 4, numbers->items[i]);
    return tc_share(out, section, records, (uint32_t)numbers->count);
}

/* ---- the whole -------------------------------------------------------- */

static size_t aligned(size_t offset)
{
    return (offset + 7) / 8 * 8;
}

static size_t image_size(const tc_output *out)
{
    size_t size = HEADER_DIRECTORY + SECTION_COUNT * DIRECTORY_RECORD;
    for (int i = 0; i < SECTION_COUNT; i++)
        size = aligned(size) + out->sections[i].bytes.count;
    return aligned(size);
}

static void put_sections(const tc_output *out, unsigned char *image)
{
    size_t offset = HEADER_DIRECTORY + SECTION_COUNT * DIRECTORY_RECORD;
    for (int i = 0; i < SECTION_COUNT; i++) {
        const tc_output_section *s = &out->sections[i];
        unsigned char *entry = image + HEADER_DIRECTORY + (size_t)i * DIRECTORY_RECORD;
        offset = aligned(offset);
        tc_put32(entry + DIRECTORY_OFFSET, offset);
        tc_put32(entry + DIRECTORY_COUNT, s->count);
        if (s->bytes.count > 0)
            memcpy(image + offset, s->bytes.items, s->bytes.count);
        offset += s->bytes.count;
    }
}

void tc_close_output(tc_output *out)
{
    uint32_t edition = tc_text(out, out->c->edition);
    size_t size = image_size(out);
    if (size > UINT32_MAX) {
        tc_complain(out->c, (tc_place){ TC_NO_FILE, 0, 0 },
                    "these tables are too large for one image; share them between two");
        return;
    }
    unsigned char *image = tc_allocate(&out->c->memory, size);
    memcpy(image + HEADER_MAGIC, IMAGE_MAGIC, IMAGE_MAGIC_SIZE);
    tc_put32(image + HEADER_VERSION, IMAGE_VERSION);
    tc_put32(image + HEADER_SIZE, size);
    tc_put32(image + HEADER_EDITION, edition);
    tc_put32(image + HEADER_SECTIONS, SECTION_COUNT);
    put_sections(out, image);
    tc_put64(image + HEADER_DIGEST, image_digest(image + DIGEST_START, size - DIGEST_START));
    out->c->image = image;
    out->c->image_size = size;
}
