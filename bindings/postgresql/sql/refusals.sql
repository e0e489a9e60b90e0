-- SPDX-License-Identifier: MIT
--
-- Each refusal has a state of SQL, a sentence and the name of the library's status.
\set VERBOSITY sqlstate

SELECT plw_grade(repeat('A', 257));
SELECT plw_fields(repeat('A', 257));
SELECT plw_grade('A', 'colour=blue');
SELECT plw_json('A', 'colour=blue');
SELECT plw_json('A', NULL, 'blue');
SELECT plw_json('A', NULL, repeat('x', 1100));
SELECT plw_explain('A', 'poem');
SELECT plw_explain('A', 'TEXT');
SELECT plw_grade('A', NULL, 'damaged');
SELECT plw_tables('');
SELECT plw_name_problems(repeat('#', 4194305));
SELECT plw_compare('roof', 'A');
SELECT plw_compare('date_roof', 'A');
SELECT plw_compare('dash', repeat('A', 257));
SELECT plw_compare('dash', 'A') FROM generate_series(1, 17);
SELECT plw_compare('dash', 'A', 'colour=blue', NULL, NULL, NULL);
SELECT plw_compare('dash', 'A', NULL, 'blue', NULL, NULL);
SELECT plw_explain_car('dash', 'A', 'poem');
SELECT plw_covers(repeat('A', 257), 'A');
SELECT plw_expect('blue');

\set VERBOSITY default
DO $$
BEGIN
    PERFORM plw_grade('A', 'colour=blue');
EXCEPTION WHEN invalid_parameter_value THEN
    RAISE NOTICE '%', sqlerrm LIKE 'platewright: % (PLW_E_HINT)';
END $$;

-- A refusal in a loop leaves what the call site keeps in order.
DO $$
DECLARE
    image bytea;
    refused integer := 0;
BEGIN
    FOR n IN 1 .. 20 LOOP
        BEGIN
            image := CASE WHEN n % 2 = 1 THEN 'damaged'::bytea END;
            IF plw_grade('3Y86N400001', NULL, image) <> 'clear' THEN
                RAISE NOTICE 'not clear';
            END IF;
        EXCEPTION WHEN invalid_binary_representation THEN
            refused := refused + 1;
        END;
    END LOOP;
    RAISE NOTICE '% refused', refused;
END $$;
