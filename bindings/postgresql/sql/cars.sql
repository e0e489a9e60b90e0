-- SPDX-License-Identifier: MIT
--
-- Plates and dates of cars, and claims turned into patterns.

CREATE TEMPORARY TABLE plates (car integer, place text, number text);
INSERT INTO plates VALUES
    (1, 'dash', '3Y86N400001'), (1, 'door_label', '3Y86N400002'), (1, 'date_casting', 'no date'),
    (2, 'dash', '3Y86N400001'), (2, 'body', '3Y86N400001'), (2, 'engine', NULL);

SELECT car, plw_compare(place, number) ->> 'verdict' AS verdict,
       plw_compare(place, number) #>> '{joined,0,number}' AS joined,
       jsonb_array_length(plw_compare(place, number) -> 'plates') AS plates,
       plw_compare(place, number) #>> '{dates,0,verdict}' AS date
FROM plates GROUP BY car ORDER BY car;

SELECT plw_compare(place, number) IS NULL AS nothing FROM plates WHERE car = 3;

SELECT plw_explain_car(place, number, 'json')::jsonb = plw_compare(place, number) AS same,
       plw_explain_car(place, number, NULL) LIKE '%3Y86N40000%' AS text
FROM plates WHERE car = 1;

SELECT plw_compare(place, number, 'year=1963', 'year=1970; engine=430 V8', NULL, NULL)::text
           LIKE '%contradicted%' AS judged,
       plw_explain_car(place, number, 'html', 'year=1963', NULL, NULL, NULL)
           LIKE '<!DOCTYPE html>%' AS page
FROM plates WHERE car = 2;

-- Over a window, in which an answer is asked for before the last row.
SELECT car, place, plw_compare(place, number) OVER (PARTITION BY car ORDER BY place DESC)
           ->> 'verdict' AS verdict
FROM plates WHERE place NOT LIKE 'date%' AND number IS NOT NULL ORDER BY car, place DESC;

SELECT DISTINCT scheme, first_year, last_year
FROM plw_patterns('year=1963; engine=430 V8; line=Continental')
WHERE plw_covers(pattern, '3Y86N400001');
SELECT claim ->> 'text' AS claim, claim -> 'understood' AS understood
FROM jsonb_array_elements(plw_expect('year=1963; engine=430 V8; colour=blue') -> 'claims') AS claim;
SELECT plw_expect('year=1963; year=1964') -> 'patterns' AS patterns,
       plw_explain_expectation('year=1963; engine=430 V8', 'markdown') <> '' AS told,
       plw_expect(NULL) IS NULL AS nothing;
SELECT pattern, number, plw_covers(pattern, number)
FROM (VALUES ('3Y86N4?????', '3Y86N400001'), ('3Y86[NQ]4?????', '3Y86A400001'),
             ('3Y86N400001', '3Y86?400001'), (NULL, '3Y86N400001')) AS v (pattern, number);
