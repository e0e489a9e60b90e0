-- SPDX-License-Identifier: MIT
--
-- The tables of the fixture, and a host's own words.

\getenv fixture FIXTURE
CREATE TABLE images AS SELECT pg_read_binary_file(:'fixture') AS image;

SELECT key, first_year, last_year FROM plw_schemes((SELECT image FROM images)) ORDER BY key;
SELECT count(*) = jsonb_array_length(plw_tables() -> 'schemes') AS all_of_them FROM plw_schemes();
SELECT plw_tables(image) ->> 'digest' <> plw_tables() ->> 'digest' AS other,
       length(plw_tables(image) ->> 'digest') AS digits,
       plw_tables(image) ->> 'edition' ~ '^\d{4}-\d\d-\d\d$' AS dated
FROM images;

SELECT plw_grade('T24K3P100051', tables => image) AS fixture, plw_grade('T24K3P100051') AS built_in
FROM images;

SELECT label FROM images,
    plw_fields('T24K3P100051', tables => image, names => 'field/engine = Maschine')
WHERE field = 'engine' AND reading = 0;
SELECT plw_json('T24K3P100051', NULL, NULL, image, 'scheme/port-ellery-1962 = Grüße')
           #>> '{readings,0,title}' AS title
FROM images;
SELECT problem ->> 'line' AS line, problem ->> 'text' <> '' AS said FROM images,
    jsonb_array_elements(plw_name_problems(E'field/engine = x\nnonsense\nfield/none = x', image))
        AS problem;
SELECT plw_compare('dash', 'T24K3P100051', NULL, NULL, image, NULL) #>> '{joined,0,scheme}' AS scheme
FROM images;

SELECT DISTINCT scheme, title FROM images,
    plw_patterns('year=1963', tables => image, names => 'scheme/port-ellery-1962 = Grüße');

-- Other tables from row to row.
SELECT DISTINCT n % 2 AS own, plw_grade('T24K3P100051', NULL, CASE n % 2 WHEN 1 THEN image END)
FROM images, generate_series(1, 100) AS n ORDER BY own;

-- What a statement takes it gives back: neither tables nor names nor answers pile up.
CREATE FUNCTION most_memory() RETURNS integer LANGUAGE sql AS
    $$ SELECT substring(pg_read_file('/proc/self/status') FROM 'VmHWM:\s+(\d+)')::integer $$;
CREATE FUNCTION use(rounds integer) RETURNS bigint LANGUAGE sql AS $$
    SELECT sum(length(plw_json('T24K3P100051', 'year=1963', 'year=1963',
                               CASE n % 2 WHEN 1 THEN image END, 'field/engine = ' || n)::text)
               + length(car::text))
    FROM images, generate_series(1, rounds) AS n,
        LATERAL (SELECT plw_compare(place, 'T24K3P' || 100000 + n, NULL, NULL, image, NULL)
                 FROM (VALUES ('dash')) AS p (place)) AS c (car)
    $$;
SELECT use(200) > 0 AS warm;
SELECT most_memory() AS before \gset
SELECT use(4000) > 0 AS worked;
SELECT most_memory() - :before < 20000 AS flat;

DROP TABLE images;
DROP FUNCTION most_memory(), use(integer);
