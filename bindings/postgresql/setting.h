/* SPDX-License-Identifier: MIT
 *
 * What the SQL functions share: arguments, the tables and names of a call, answers
 * and errors. All memory is palloc's; the library's objects are placed in it.
 */
#ifndef SETTING_H
#define SETTING_H

#include <postgres.h>

#include <fmgr.h>
#include <lib/stringinfo.h>
#include <platewright.h>

/* A text or an image as handed over; NULL and 0 for SQL's NULL. */
typedef struct {
    const char *bytes;
    size_t size;
} given;

/* The tables and names that a call was given, opened. */
typedef struct {
    MemoryContext memory; /* of the copies; NULL when nothing was given */
    given image;
    given words;
    const plw_tables *tables;
    plw_names *names;
} setting;

/* The arguments of a call, in the encoding of the library, UTF-8. */
given text_argument(FunctionCallInfo call, int index);
given bytes_argument(FunctionCallInfo call, int index);
/* "" for NULL; a text of SQL holds no zero byte. */
const char *hints_argument(FunctionCallInfo call, int index);
/* PLW_FORMAT_ by its name in small letters; text for NULL. */
int32 format_argument(FunctionCallInfo call, int index);

/* Opens tables and names in a new memory context below parent. */
void setting_open(setting *made, MemoryContext parent, given image, given words);
/* The setting of a call site, which keeps the last one; with its result. */
setting *call_setting(FunctionCallInfo call, given image, given words);
plw_result *call_result(FunctionCallInfo call);

/* A text of the library, as an SQL text or jsonb. */
typedef int32_t text_source(const void *object, int32_t format, char *buffer, size_t capacity,
                            size_t *needed);
Datum text_answer(text_source *source, const void *object, int32 format);
Datum jsonb_answer(text_source *source, const void *object);
Datum jsonb_of(const char *utf8);

/* An error for every status but PLW_OK. */
void check(int32_t status);

#endif
