/* SPDX-License-Identifier: MIT */
#include "setting.h"

#include <mb/pg_wchar.h>
#include <utils/builtins.h>
#include <utils/jsonb.h>
#include <utils/memutils.h>

PG_MODULE_MAGIC;

void _PG_init(void);

/* The same major release as the header, and not an older one. */
void _PG_init(void)
{
    uint32 running = plw_version_number();

    if (running / 10000 != PLW_VERSION_NUMBER / 10000 || running < PLW_VERSION_NUMBER)
        ereport(ERROR, errcode(ERRCODE_FEATURE_NOT_SUPPORTED),
                errmsg("this extension was compiled for platewright %s; the library found has "
                       "number %u",
                       PLW_VERSION_TEXT, running));
}

/* ---- errors ---------------------------------------------------------------------- */

static int state_for(int32_t status)
{
    switch (status) {
    case PLW_E_MEMORY:
        return ERRCODE_OUT_OF_MEMORY;
    case PLW_E_TOO_LONG:
        return ERRCODE_PROGRAM_LIMIT_EXCEEDED;
    case PLW_E_IMAGE:
        return ERRCODE_INVALID_BINARY_REPRESENTATION;
    case PLW_E_VERSION:
        return ERRCODE_FEATURE_NOT_SUPPORTED;
    default:
        return ERRCODE_INVALID_PARAMETER_VALUE;
    }
}

void check(int32_t status)
{
    if (status != PLW_OK)
        ereport(ERROR, errcode(state_for(status)),
                errmsg("platewright: %s (%s)", plw_status_text(status), plw_status_name(status)));
}

/* ---- arguments --------------------------------------------------------------------- */

given text_argument(FunctionCallInfo call, int index)
{
    given found = { NULL, 0 };

    if (call->nargs > index && !call->args[index].isnull) {
        text *own = DatumGetTextPP(call->args[index].value);
        int size = VARSIZE_ANY_EXHDR(own);
        char *bytes = VARDATA_ANY(own);

        found.bytes = pg_server_to_any(bytes, size, PG_UTF8);
        found.size = found.bytes == bytes ? (size_t)size : strlen(found.bytes);
    }
    return found;
}

given bytes_argument(FunctionCallInfo call, int index)
{
    given found = { NULL, 0 };

    if (call->nargs > index && !call->args[index].isnull) {
        bytea *own = DatumGetByteaPP(call->args[index].value);

        found.bytes = VARDATA_ANY(own);
        found.size = VARSIZE_ANY_EXHDR(own);
    }
    return found;
}

const char *hints_argument(FunctionCallInfo call, int index)
{
    given hints = text_argument(call, index);

    return hints.bytes ? pnstrdup(hints.bytes, hints.size) : "";
}

int32 format_argument(FunctionCallInfo call, int index)
{
    given word = text_argument(call, index);
    StringInfoData name;
    int64_t number = 0;
    bool capitals = false;

    if (word.bytes == NULL)
        return PLW_FORMAT_TEXT;
    initStringInfo(&name);
    appendStringInfoString(&name, "PLW_FORMAT_");
    for (size_t i = 0; i < word.size; i++) {
        capitals |= word.bytes[i] >= 'A' && word.bytes[i] <= 'Z';
        appendStringInfoChar(&name, (char)pg_ascii_toupper((unsigned char)word.bytes[i]));
    }
    check(capitals || plw_constant(name.data, &number) != PLW_OK ? PLW_E_FLAGS : PLW_OK);
    return (int32)number;
}

/* ---- tables and names -------------------------------------------------------------- */

static given copy_of(given bytes)
{
    char *copy = palloc(bytes.size + 1);
    given kept = { copy, bytes.size };

    memcpy(copy, bytes.bytes, bytes.size);
    return kept;
}

static void open_names(setting *made, given words)
{
    size_t size = plw_names_size(words.bytes, words.size);

    made->words = copy_of(words);
    check(size == 0 ? PLW_E_TOO_LONG : PLW_OK);
    check(plw_names_place(made->tables, words.bytes, words.size, palloc(size), size, &made->names));
}

void setting_open(setting *made, MemoryContext parent, given image, given words)
{
    MemoryContext before = CurrentMemoryContext;

    memset(made, 0, sizeof *made);
    if (image.bytes == NULL && words.bytes == NULL)
        return;
    made->memory = AllocSetContextCreate(parent, "platewright tables", ALLOCSET_DEFAULT_SIZES);
    MemoryContextSwitchTo(made->memory);
    if (image.bytes) {
        made->image = copy_of(image);
        check(plw_tables_open(made->image.bytes, made->image.size, 0, &made->tables));
    }
    if (words.bytes)
        open_names(made, words);
    MemoryContextSwitchTo(before);
}

/* ---- what a call site keeps -------------------------------------------------------- */

typedef struct {
    setting last;
    plw_result *result;
} site;

static site *site_of(FunctionCallInfo call)
{
    if (call->flinfo->fn_extra == NULL)
        call->flinfo->fn_extra = MemoryContextAllocZero(call->flinfo->fn_mcxt, sizeof(site));
    return call->flinfo->fn_extra;
}

static bool same(given one, given other)
{
    if (one.bytes == NULL || other.bytes == NULL)
        return one.bytes == other.bytes;
    return one.size == other.size && memcmp(one.bytes, other.bytes, one.size) == 0;
}

setting *call_setting(FunctionCallInfo call, given image, given words)
{
    site *here = site_of(call);
    setting *last = &here->last;
    setting opened;

    if (same(last->image, image) && same(last->words, words))
        return last;
    setting_open(&opened, call->flinfo->fn_mcxt, image, words);
    plw_result_use_names(call_result(call), NULL);
    if (last->memory)
        MemoryContextDelete(last->memory);
    *last = opened;
    return last;
}

plw_result *call_result(FunctionCallInfo call)
{
    site *here = site_of(call);

    if (here->result == NULL) {
        size_t size = plw_result_size();

        check(
            plw_result_place(MemoryContextAlloc(call->flinfo->fn_mcxt, size), size, &here->result));
    }
    return here->result;
}

/* ---- answers ------------------------------------------------------------------------ */

static char *text_of(text_source *source, const void *object, int32 format)
{
    size_t needed = 8192;
    int32_t status = PLW_E_SHORT;
    char *buffer = NULL;

    for (int tries = 0; tries < 2 && status == PLW_E_SHORT; tries++) {
        size_t capacity = needed;

        buffer = palloc(capacity);
        status = source(object, format, buffer, capacity, &needed);
    }
    check(status);
    return buffer;
}

Datum text_answer(text_source *source, const void *object, int32 format)
{
    char *utf8 = text_of(source, object, format);

    return CStringGetTextDatum(pg_any_to_server(utf8, strlen(utf8), PG_UTF8));
}

Datum jsonb_of(const char *utf8)
{
    char *own = pg_any_to_server(utf8, strlen(utf8), PG_UTF8);

    return DirectFunctionCall1(jsonb_in, CStringGetDatum(own));
}

Datum jsonb_answer(text_source *source, const void *object)
{
    return jsonb_of(text_of(source, object, PLW_FORMAT_JSON));
}
