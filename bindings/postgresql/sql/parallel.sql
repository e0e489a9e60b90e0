-- SPDX-License-Identifier: MIT
--
-- A catalogue is checked on all cores.

CREATE TABLE catalogue AS
    SELECT lot, '3Y86' || substr('NXZQ', 1 + lot % 4, 1) || lpad((400000 + lot)::text, 6, '0') AS vin
    FROM generate_series(1, 60000) AS lot;
ANALYZE catalogue;
SET max_parallel_workers_per_gather = 2;
SET min_parallel_table_scan_size = 0;

EXPLAIN (COSTS OFF) SELECT lot FROM catalogue WHERE plw_grade(vin) = 'fault';
EXPLAIN (COSTS OFF, VERBOSE) SELECT plw_grade(vin), count(*) FROM catalogue GROUP BY 1;
EXPLAIN (COSTS OFF)
    SELECT count(*) FROM catalogue WHERE plw_json(vin) #>> '{readings,0,years,0}' = '1963';
EXPLAIN (COSTS OFF) SELECT count(*) FROM catalogue, plw_fields(vin) WHERE field = 'engine';

-- The workers are there, and they do the work: all rows are theirs.
SET parallel_leader_participation = off;
CREATE FUNCTION workers(query text) RETURNS TABLE (launched boolean, rows integer)
LANGUAGE plpgsql AS $$
DECLARE
    plan jsonb;
BEGIN
    EXECUTE 'EXPLAIN (ANALYZE, VERBOSE, TIMING OFF, FORMAT JSON) ' || query INTO plan;
    RETURN QUERY
        SELECT (jsonb_path_query_first(plan, '$.**."Workers Launched"'))::integer > 0,
               (SELECT sum((w ->> 'Actual Loops')::integer * (w ->> 'Actual Rows')::integer)::integer
                FROM jsonb_path_query(plan, 'strict $.** ? (@."Node Type" == "Seq Scan")."Workers"[*]') AS w);
END $$;
SELECT * FROM workers('SELECT lot FROM catalogue WHERE plw_grade(vin) <> ''poor''');

-- And they say what one process says.
CREATE TABLE together AS SELECT plw_grade(vin) AS grade, count(*) FROM catalogue GROUP BY 1;
SET max_parallel_workers_per_gather = 0;
CREATE TABLE alone AS SELECT plw_grade(vin) AS grade, count(*) FROM catalogue GROUP BY 1;
SELECT sum(count), count(*) > 0 AS some FROM together;
(TABLE together EXCEPT TABLE alone) UNION ALL (TABLE alone EXCEPT TABLE together);

DROP TABLE catalogue, together, alone;
DROP FUNCTION workers(text);
