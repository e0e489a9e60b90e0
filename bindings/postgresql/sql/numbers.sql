-- SPDX-License-Identifier: MIT
--
-- One number. What is shown is stable: keys, codes, years, names; no wording.

SELECT number, plw_grade(number), plw_grade(number, hints => 'year=1963')
FROM (VALUES ('3Y86-N400001'), ('1M8GDM9AXKP042789'), (''), (NULL)) AS v (number);

SELECT plw_json('3Y86N400001') #>> '{readings,0,scheme}' AS scheme,
       plw_json('3Y86N400001') #> '{readings,0,years}' AS years,
       plw_json(NULL) IS NULL AS nothing;

SELECT plw_json('３Ｙ８６Ｎ４００００１') ->> 'number' AS full_width,
       plw_grade('日本') <> 'clear' AS strange;

-- Every form.
SELECT format, plw_explain('3Y86N400001', format) LIKE form AS fits
FROM (VALUES ('text', '3Y86N400001%'), ('markdown', '%3Y86N400001%'), ('json', '{"format":%'),
             ('svg', '<svg%'), ('html', '<!DOCTYPE html>%'), (NULL, '3Y86N400001%'))
     AS v (format, form);
SELECT plw_explain('3Y86N400001', 'json')::jsonb = plw_json('3Y86N400001') AS same;
SELECT plw_explain(NULL) IS NULL AS nothing;

-- Fields, findings and claims as rows.
SELECT reading, scheme, first_year, last_year, field, positions, code, state, detail, standing, row_key
FROM plw_fields('3Y86N400001') WHERE NOT detail ORDER BY positions;
SELECT count(*) FROM plw_fields('');
SELECT count(*) FROM plw_fields(NULL);
SELECT finding, grade, reading, positions, sentence <> '' AS said FROM plw_findings('3Y86?400001');
SELECT claim, attribute, verdict, reason, positions, standing
FROM plw_claims('3Y86N400001', 'engine=430 V8; body=hardtop; colour=blue') ORDER BY verdict;

CREATE TEMPORARY TABLE lots (lot integer, vin text);
INSERT INTO lots VALUES (1, '3Y86N400001'), (2, NULL), (3, '5F08F100001');
SELECT lot, field, code FROM lots, plw_fields(vin) WHERE field IN ('body', 'engine')
ORDER BY lot, field;

-- Suggestions, and the beginning of a number.
SELECT jsonb_array_length(plw_suggest('5F08N100001') -> 'suggestions') > 0 AS suggested,
       jsonb_array_length(plw_suggest('3Y86N400001') -> 'suggestions') AS of_a_good_one;
SELECT begins, plw_prefix(begins) ->> 'state' AS state,
       plw_prefix(begins) -> 'schemes' ? 'dearborn-1960' AS dearborn,
       plw_prefix(begins) ->> 'allowed' LIKE '%8%' AS allowed
FROM (VALUES ('3Y'), ('3Y86N400001'), ('###'), (NULL)) AS v (begins);

-- Immutable: fit for an index and a generated column.
CREATE TEMPORARY TABLE kept (vin text, grade text GENERATED ALWAYS AS (plw_grade(vin)) STORED);
CREATE INDEX ON kept ((plw_json(vin) #>> '{readings,0,scheme}'));
INSERT INTO kept VALUES ('3Y86N400001'), ('1M8GDM9AXKP042789');
SELECT * FROM kept;
