-- SPDX-License-Identifier: MIT
--
-- README.md lists these functions. The unit of COST is an operator of numbers, about
-- ten nanoseconds: a grade takes a few microseconds, a jsonb some dozens.

\echo Use "CREATE EXTENSION platewright" to load this file. \quit

CREATE FUNCTION plw_grade(number text, hints text DEFAULT NULL, tables bytea DEFAULT NULL)
RETURNS text AS 'MODULE_PATHNAME', 'platewright_grade'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 200;

CREATE FUNCTION plw_json(number text, hints text DEFAULT NULL, claims text DEFAULT NULL,
                         tables bytea DEFAULT NULL, names text DEFAULT NULL)
RETURNS jsonb AS 'MODULE_PATHNAME', 'platewright_json'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 4000;

CREATE FUNCTION plw_suggest(number text, hints text DEFAULT NULL, claims text DEFAULT NULL,
                            tables bytea DEFAULT NULL, names text DEFAULT NULL)
RETURNS jsonb AS 'MODULE_PATHNAME', 'platewright_suggest'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 5000;

CREATE FUNCTION plw_explain(number text, format text DEFAULT NULL, hints text DEFAULT NULL,
                            claims text DEFAULT NULL, tables bytea DEFAULT NULL,
                            names text DEFAULT NULL)
RETURNS text AS 'MODULE_PATHNAME', 'platewright_explain'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 4000;

CREATE FUNCTION plw_prefix(beginning text, tables bytea DEFAULT NULL)
RETURNS jsonb AS 'MODULE_PATHNAME', 'platewright_prefix'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 500;

CREATE FUNCTION plw_tables(tables bytea DEFAULT NULL)
RETURNS jsonb AS 'MODULE_PATHNAME', 'platewright_tables'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 4000;

CREATE FUNCTION plw_name_problems(names text, tables bytea DEFAULT NULL)
RETURNS jsonb AS 'MODULE_PATHNAME', 'platewright_name_problems'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 4000;

CREATE FUNCTION plw_expect(claims text, hints text DEFAULT NULL, tables bytea DEFAULT NULL,
                           names text DEFAULT NULL)
RETURNS jsonb AS 'MODULE_PATHNAME', 'platewright_expect'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 500000;

CREATE FUNCTION plw_explain_expectation(claims text, format text DEFAULT NULL,
                                        hints text DEFAULT NULL, tables bytea DEFAULT NULL,
                                        names text DEFAULT NULL)
RETURNS text AS 'MODULE_PATHNAME', 'platewright_explain_expectation'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 500000;

CREATE FUNCTION plw_covers(pattern text, number text)
RETURNS boolean AS 'MODULE_PATHNAME', 'platewright_covers'
LANGUAGE C IMMUTABLE STRICT PARALLEL SAFE COST 100;

-- Sets of rows, from the jsonb. They are in no order of their own: a subquery that sorts
-- would keep a plan from being parallel.

CREATE FUNCTION plw_fields(number text, hints text DEFAULT NULL, claims text DEFAULT NULL,
                           tables bytea DEFAULT NULL, names text DEFAULT NULL)
RETURNS TABLE (reading integer, scheme text, first_year integer, last_year integer, field text,
               label text, positions integer[], code text, state text, detail boolean, words text,
               standing text, row_key text)
LANGUAGE sql IMMUTABLE PARALLEL SAFE ROWS 20
BEGIN ATOMIC
    SELECT (r.place - 1)::integer, r.value ->> 'scheme', (r.value #>> '{years,0}')::integer,
           (r.value #>> '{years,-1}')::integer, f ->> 'field', f ->> 'label',
           ARRAY(SELECT p::integer FROM jsonb_array_elements_text(f -> 'positions') AS p),
           f ->> 'code', f ->> 'state', (f ->> 'detail')::boolean, m ->> 'words',
           m ->> 'standing', m ->> 'key'
    FROM jsonb_array_elements(plw_json(number, hints, claims, tables, names) -> 'readings')
             WITH ORDINALITY AS r (value, place)
         CROSS JOIN jsonb_array_elements(r.value -> 'fields') AS f
         LEFT JOIN jsonb_array_elements(f -> 'meanings') AS m ON true;
END;

CREATE FUNCTION plw_findings(number text, hints text DEFAULT NULL, tables bytea DEFAULT NULL,
                             names text DEFAULT NULL)
RETURNS TABLE (finding text, grade text, reading integer, positions integer[], sentence text)
LANGUAGE sql IMMUTABLE PARALLEL SAFE ROWS 3
BEGIN ATOMIC
    SELECT f ->> 'code', f ->> 'grade', (f ->> 'reading')::integer,
           ARRAY(SELECT p::integer FROM jsonb_array_elements_text(f -> 'positions') AS p),
           f ->> 'sentence'
    FROM jsonb_array_elements(plw_json(number, hints, NULL, tables, names) -> 'findings') AS f;
END;

CREATE FUNCTION plw_claims(number text, claims text, hints text DEFAULT NULL,
                           tables bytea DEFAULT NULL, names text DEFAULT NULL)
RETURNS TABLE (claim text, attribute text, verdict text, reason text, positions integer[],
               standing text, sentence text)
LANGUAGE sql IMMUTABLE PARALLEL SAFE ROWS 3
BEGIN ATOMIC
    SELECT c ->> 'claim', c ->> 'attribute', c ->> 'verdict',
           c ->> 'reason',
           ARRAY(SELECT p::integer FROM jsonb_array_elements_text(c -> 'positions') AS p),
           c ->> 'standing', c ->> 'sentence'
    FROM jsonb_array_elements(plw_json(number, hints, claims, tables, names) -> 'claims') AS c;
END;

CREATE FUNCTION plw_patterns(claims text, hints text DEFAULT NULL, tables bytea DEFAULT NULL,
                             names text DEFAULT NULL)
RETURNS TABLE (pattern text, scheme text, title text, first_year integer, last_year integer,
               range text, sentence text)
LANGUAGE sql IMMUTABLE PARALLEL SAFE ROWS 50
BEGIN ATOMIC
    SELECT p ->> 'pattern', p ->> 'scheme', p ->> 'title', (p #>> '{years,0}')::integer,
           (p #>> '{years,-1}')::integer, p ->> 'range', p ->> 'sentence'
    FROM jsonb_array_elements(plw_expect(claims, hints, tables, names) -> 'patterns') AS p;
END;

CREATE FUNCTION plw_schemes(tables bytea DEFAULT NULL)
RETURNS TABLE (key text, title text, first_year integer, last_year integer, rows integer)
LANGUAGE sql IMMUTABLE PARALLEL SAFE ROWS 60
BEGIN ATOMIC
    SELECT s ->> 'key', s ->> 'title', (s ->> 'first_year')::integer,
           (s ->> 'last_year')::integer, (s ->> 'rows')::integer
    FROM jsonb_array_elements(plw_tables(tables) -> 'schemes') AS s;
END;

-- Cars: each row is a plate or a date. An aggregate has no default arguments.

CREATE FUNCTION plw_compare_step(internal, place text, number text)
RETURNS internal AS 'MODULE_PATHNAME', 'platewright_compare_step'
LANGUAGE C IMMUTABLE PARALLEL SAFE;

CREATE FUNCTION plw_compare_step(internal, place text, number text, hints text, claims text,
                                 tables bytea, names text)
RETURNS internal AS 'MODULE_PATHNAME', 'platewright_compare_step'
LANGUAGE C IMMUTABLE PARALLEL SAFE;

CREATE FUNCTION plw_compare_final(internal)
RETURNS jsonb AS 'MODULE_PATHNAME', 'platewright_compare_final'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 10000;

CREATE AGGREGATE plw_compare(place text, number text) (
    SFUNC = plw_compare_step, STYPE = internal, FINALFUNC = plw_compare_final, PARALLEL = SAFE);

CREATE AGGREGATE plw_compare(place text, number text, hints text, claims text, tables bytea,
                             names text) (
    SFUNC = plw_compare_step, STYPE = internal, FINALFUNC = plw_compare_final, PARALLEL = SAFE);

CREATE FUNCTION plw_explain_car_step(internal, place text, number text, format text)
RETURNS internal AS 'MODULE_PATHNAME', 'platewright_explain_car_step'
LANGUAGE C IMMUTABLE PARALLEL SAFE;

CREATE FUNCTION plw_explain_car_step(internal, place text, number text, format text, hints text,
                                     claims text, tables bytea, names text)
RETURNS internal AS 'MODULE_PATHNAME', 'platewright_explain_car_step'
LANGUAGE C IMMUTABLE PARALLEL SAFE;

CREATE FUNCTION plw_explain_car_final(internal)
RETURNS text AS 'MODULE_PATHNAME', 'platewright_explain_car_final'
LANGUAGE C IMMUTABLE PARALLEL SAFE COST 10000;

CREATE AGGREGATE plw_explain_car(place text, number text, format text) (
    SFUNC = plw_explain_car_step, STYPE = internal, FINALFUNC = plw_explain_car_final,
    PARALLEL = SAFE);

CREATE AGGREGATE plw_explain_car(place text, number text, format text, hints text, claims text,
                                 tables bytea, names text) (
    SFUNC = plw_explain_car_step, STYPE = internal, FINALFUNC = plw_explain_car_final,
    PARALLEL = SAFE);
