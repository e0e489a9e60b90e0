/* SPDX-License-Identifier: MIT
 *
 * A table-valued function whose rows are those of a prepared query. Its arguments are
 * hidden columns; a constraint on one of them becomes a parameter of the query.
 */
#include "queries.h"

#include <string.h>

SQLITE_EXTENSION_INIT3

enum { MOST_ARGUMENTS = 5 };

typedef struct {
    const char *name;
    const char *columns;
    const char *arguments; /* "hidden" columns, behind the others */
    int argument_count;
    const char *query; /* its columns are these columns, its parameters the arguments */
} query;

static const query queries[] = {
    { "plw_fields",
      "reading INTEGER, scheme TEXT, first_year INTEGER, last_year INTEGER, field TEXT, "
      "label TEXT, positions TEXT, code TEXT, state TEXT, detail INTEGER, words TEXT, "
      "standing TEXT, row_key TEXT",
      "number HIDDEN, hints HIDDEN, claims HIDDEN, tables HIDDEN, names HIDDEN", 5,
      "SELECT r.key, json_extract(r.value, '$.scheme'), json_extract(r.value, '$.years[0]'),"
      " json_extract(r.value, '$.years[#-1]'), json_extract(f.value, '$.field'),"
      " json_extract(f.value, '$.label'), json_extract(f.value, '$.positions'),"
      " json_extract(f.value, '$.code'), json_extract(f.value, '$.state'),"
      " json_extract(f.value, '$.detail'), json_extract(m.value, '$.words'),"
      " json_extract(m.value, '$.standing'), json_extract(m.value, '$.key')"
      " FROM json_each(plw_json(?1, ?2, ?3, ?4, ?5), '$.readings') AS r"
      " CROSS JOIN json_each(r.value, '$.fields') AS f"
      " LEFT JOIN json_each(f.value, '$.meanings') AS m" },
    { "plw_findings", "finding TEXT, grade TEXT, reading INTEGER, positions TEXT, sentence TEXT",
      "number HIDDEN, hints HIDDEN, claims HIDDEN, tables HIDDEN, names HIDDEN", 5,
      "SELECT json_extract(value, '$.code'), json_extract(value, '$.grade'),"
      " json_extract(value, '$.reading'), json_extract(value, '$.positions'),"
      " json_extract(value, '$.sentence')"
      " FROM json_each(plw_json(?1, ?2, ?3, ?4, ?5), '$.findings')" },
    { "plw_claims",
      "claim TEXT, attribute TEXT, verdict TEXT, reason TEXT, positions TEXT, standing TEXT, "
      "sentence TEXT",
      "number HIDDEN, claims HIDDEN, hints HIDDEN, tables HIDDEN, names HIDDEN", 5,
      "SELECT json_extract(value, '$.claim'), json_extract(value, '$.attribute'),"
      " json_extract(value, '$.verdict'), json_extract(value, '$.reason'),"
      " json_extract(value, '$.positions'), json_extract(value, '$.standing'),"
      " json_extract(value, '$.sentence')"
      " FROM json_each(plw_json(?1, ?3, ?2, ?4, ?5), '$.claims')" },
    { "plw_patterns",
      "pattern TEXT, scheme TEXT, title TEXT, first_year INTEGER, last_year INTEGER, "
      "range TEXT, sentence TEXT",
      "claims HIDDEN, hints HIDDEN, tables HIDDEN, names HIDDEN", 4,
      "SELECT json_extract(value, '$.pattern'), json_extract(value, '$.scheme'),"
      " json_extract(value, '$.title'), json_extract(value, '$.years[0]'),"
      " json_extract(value, '$.years[#-1]'), json_extract(value, '$.range'),"
      " json_extract(value, '$.sentence')"
      " FROM json_each(plw_expect(?1, NULL, ?2, ?3, ?4), '$.patterns')" },
    { "plw_schemes", "key TEXT, title TEXT, first_year INTEGER, last_year INTEGER, rows INTEGER",
      "tables HIDDEN", 1,
      "SELECT json_extract(value, '$.key'), json_extract(value, '$.title'),"
      " json_extract(value, '$.first_year'), json_extract(value, '$.last_year'),"
      " json_extract(value, '$.rows') FROM json_each(plw_tables(?1), '$.schemes')" },
};

typedef struct {
    sqlite3_vtab base;
    sqlite3 *database;
    const query *of;
    int column_count; /* without the arguments */
} table;

typedef struct {
    sqlite3_vtab_cursor base;
    sqlite3_stmt *statement;
    sqlite3_int64 row;
    int ended;
} cursor;

static int count_columns(const char *columns)
{
    int count = 1;
    for (; *columns; columns++)
        count += *columns == ',';
    return count;
}

static int connect(sqlite3 *database, void *data, int count, const char *const *words,
                   sqlite3_vtab **made, char **problem)
{
    const query *of = data;
    (void)count;
    (void)words;
    (void)problem;
    char *declaration = sqlite3_mprintf("CREATE TABLE x(%s, %s)", of->columns, of->arguments);
    table *table_made = sqlite3_malloc64(sizeof(table));
    int code =
        declaration && table_made ? sqlite3_declare_vtab(database, declaration) : SQLITE_NOMEM;
    sqlite3_free(declaration);
    if (code != SQLITE_OK) {
        sqlite3_free(table_made);
        return code;
    }
    *table_made =
        (table){ .database = database, .of = of, .column_count = count_columns(of->columns) };
    sqlite3_vtab_config(database, SQLITE_VTAB_INNOCUOUS);
    *made = &table_made->base;
    return SQLITE_OK;
}

static int disconnect(sqlite3_vtab *base)
{
    sqlite3_free(base);
    return SQLITE_OK;
}

/* Arguments are equalities on hidden columns. idxNum tells, one bit each, which are
 * given; they are handed over in the order of the columns. */
static int best_index(sqlite3_vtab *base, sqlite3_index_info *plan)
{
    const table *of = (const table *)base;
    int places[MOST_ARGUMENTS];
    int handed = 0;
    for (int i = 0; i < MOST_ARGUMENTS; i++)
        places[i] = -1;
    for (int i = 0; i < plan->nConstraint; i++) {
        int place = plan->aConstraint[i].iColumn - of->column_count;
        if (place < 0 || plan->aConstraint[i].op != SQLITE_INDEX_CONSTRAINT_EQ)
            continue;
        if (!plan->aConstraint[i].usable)
            return SQLITE_CONSTRAINT;
        places[place] = i;
    }
    plan->idxNum = 0;
    for (int place = 0; place < of->of->argument_count; place++) {
        if (places[place] < 0)
            continue;
        plan->idxNum |= 1 << place;
        plan->aConstraintUsage[places[place]].argvIndex = ++handed;
        plan->aConstraintUsage[places[place]].omit = 1;
    }
    plan->estimatedCost = 10;
    plan->estimatedRows = 10;
    return SQLITE_OK;
}

static int open_cursor(sqlite3_vtab *base, sqlite3_vtab_cursor **made)
{
    (void)base;
    cursor *opened = sqlite3_malloc64(sizeof(cursor));
    if (opened == NULL)
        return SQLITE_NOMEM;
    *opened = (cursor){ .ended = 1 };
    *made = &opened->base;
    return SQLITE_OK;
}

static int close_cursor(sqlite3_vtab_cursor *base)
{
    sqlite3_finalize(((cursor *)base)->statement);
    sqlite3_free(base);
    return SQLITE_OK;
}

/* What the query says went wrong is what this table says. */
static int fail(cursor *at)
{
    table *of = (table *)at->base.pVtab;
    sqlite3_free(of->base.zErrMsg);
    of->base.zErrMsg = sqlite3_mprintf("%s", sqlite3_errmsg(of->database));
    return sqlite3_errcode(of->database);
}

static int next(sqlite3_vtab_cursor *base)
{
    cursor *at = (cursor *)base;
    int code = sqlite3_step(at->statement);
    at->row++;
    at->ended = code != SQLITE_ROW;
    return code == SQLITE_ROW || code == SQLITE_DONE ? SQLITE_OK : fail(at);
}

static int filter(sqlite3_vtab_cursor *base, int given, const char *unused, int count,
                  sqlite3_value **values)
{
    cursor *at = (cursor *)base;
    const table *of = (const table *)base->pVtab;
    (void)unused;
    if (at->statement == NULL &&
        sqlite3_prepare_v3(of->database, of->of->query, -1, SQLITE_PREPARE_PERSISTENT,
                           &at->statement, NULL) != SQLITE_OK)
        return fail(at);
    sqlite3_reset(at->statement);
    sqlite3_clear_bindings(at->statement);
    at->row = -1;
    for (int place = 0, taken = 0; taken < count; place++)
        if (given >> place & 1 &&
            sqlite3_bind_value(at->statement, place + 1, values[taken++]) != SQLITE_OK)
            return fail(at);
    return next(base);
}

static int at_end(sqlite3_vtab_cursor *base)
{
    return ((cursor *)base)->ended;
}

static int column(sqlite3_vtab_cursor *base, sqlite3_context *context, int index)
{
    /* The arguments, which nobody asks for, are NULL. */
    if (index < ((const table *)base->pVtab)->column_count)
        sqlite3_result_value(context, sqlite3_column_value(((cursor *)base)->statement, index));
    return SQLITE_OK;
}

static int row_number(sqlite3_vtab_cursor *base, sqlite3_int64 *row)
{
    *row = ((cursor *)base)->row;
    return SQLITE_OK;
}

/* Without xCreate: it is there in every schema and cannot be created. */
static const sqlite3_module module = {
    .xConnect = connect,
    .xBestIndex = best_index,
    .xDisconnect = disconnect,
    .xOpen = open_cursor,
    .xClose = close_cursor,
    .xFilter = filter,
    .xNext = next,
    .xEof = at_end,
    .xColumn = column,
    .xRowid = row_number,
};

int register_queries(sqlite3 *database)
{
    int code = SQLITE_OK;
    for (size_t i = 0; i < sizeof queries / sizeof *queries && code == SQLITE_OK; i++)
        code =
            sqlite3_create_module_v2(database, queries[i].name, &module, (void *)&queries[i], NULL);
    return code;
}
