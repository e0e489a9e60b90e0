/* SPDX-License-Identifier: MIT
 *
 * The aggregates plw_compare and plw_explain_car: each row is a plate or a date of
 * one car.
 */
#include "setting.h"

/* What lives from the first row to the answer, in the memory of the aggregate. */
typedef struct {
    plw_car *car;
    setting with;
    const char *hints;
    given claims;
    int32 format;
} group;

static int32_t explain_source(const void *object, int32_t format, char *buffer, size_t capacity,
                              size_t *needed)
{
    return plw_explain_car(object, format, 0, buffer, capacity, needed);
}

static MemoryContext aggregate_memory(FunctionCallInfo call)
{
    MemoryContext memory;

    if (!AggCheckCallContext(call, &memory))
        elog(ERROR, "called as no aggregate");
    return memory;
}

/* The options of the first row hold for the group: hints, claims, tables and names
 * from argument first on. */
static group *begin(FunctionCallInfo call, int first, int32 format)
{
    MemoryContext memory = aggregate_memory(call);
    MemoryContext before = MemoryContextSwitchTo(memory);
    group *made = palloc0(sizeof(group));
    given claims = text_argument(call, first + 1);
    size_t size = plw_car_size();

    made->format = format;
    made->hints = pstrdup(hints_argument(call, first));
    if (claims.bytes) {
        made->claims.bytes = pnstrdup(claims.bytes, claims.size);
        made->claims.size = claims.size;
    }
    setting_open(&made->with, memory, bytes_argument(call, first + 2),
                 text_argument(call, first + 3));
    check(plw_car_place(palloc(size), size, &made->car));
    check(plw_car_use_names(made->car, made->with.names));
    MemoryContextSwitchTo(before);
    return made;
}

/* The number of a name that a function gives to numbers from 1 on; 0 for none. */
static int32 number_of(const char *(*name_of)(int32_t), const char *name)
{
    for (int32 number = 1; *name_of(number); number++)
        if (strcmp(name_of(number), name) == 0)
            return number;
    return 0;
}

/* A plate at "engine", or a date at "date_casting". */
static void add(plw_car *car, const char *where, given text)
{
    if (strncmp(where, "date_", 5) == 0)
        check(
            plw_car_add_date(car, number_of(plw_date_kind_name, where + 5), text.bytes, text.size));
    else
        check(plw_car_add_plate(car, number_of(plw_place_name, where), text.bytes, text.size));
}

static Datum step(FunctionCallInfo call, int first, int32 format)
{
    group *of = call->args[0].isnull ? begin(call, first, format)
                                     : (group *)DatumGetPointer(call->args[0].value);
    given where = text_argument(call, 1);
    given text = text_argument(call, 2);

    if (where.bytes && text.bytes)
        add(of->car, pnstrdup(where.bytes, where.size), text);
    return PointerGetDatum(of);
}

PG_FUNCTION_INFO_V1(platewright_compare_step);
Datum platewright_compare_step(PG_FUNCTION_ARGS)
{
    return step(fcinfo, 3, PLW_FORMAT_JSON);
}

PG_FUNCTION_INFO_V1(platewright_explain_car_step);
Datum platewright_explain_car_step(PG_FUNCTION_ARGS)
{
    return step(fcinfo, 4, format_argument(fcinfo, 3));
}

static const group *compared(FunctionCallInfo call)
{
    group *of = (group *)DatumGetPointer(call->args[0].value);

    aggregate_memory(call);
    check(plw_compare(of->with.tables, of->car, of->hints, 0));
    if (of->claims.bytes)
        check(plw_car_check_claims(of->car, of->claims.bytes, of->claims.size));
    return of;
}

PG_FUNCTION_INFO_V1(platewright_compare_final);
Datum platewright_compare_final(PG_FUNCTION_ARGS)
{
    if (PG_ARGISNULL(0))
        PG_RETURN_NULL();
    return jsonb_answer(explain_source, compared(fcinfo)->car);
}

PG_FUNCTION_INFO_V1(platewright_explain_car_final);
Datum platewright_explain_car_final(PG_FUNCTION_ARGS)
{
    const group *of;

    if (PG_ARGISNULL(0))
        PG_RETURN_NULL();
    of = compared(fcinfo);
    return text_answer(explain_source, of->car, of->format);
}
