# SPDX-License-Identifier: MIT
"""The SQLite extension, from the system's Python. run_tests.sh names the extension,
the fixture's image and the published examples in the environment."""

import ctypes
import json
import os
import sqlite3
import subprocess
import sys
import threading
import unittest
from pathlib import Path

EXTENSION = os.environ["EXTENSION"]
IMAGE = Path(os.environ["FIXTURE"]).read_bytes()
EXAMPLES = [line.split("\t")[0]
            for line in Path(os.environ["EXAMPLES"]).read_text(encoding="utf-8").splitlines()
            if line and not line.startswith(("#", "stamp:"))]
LINCOLN = "3Y86N400001"


def connect(extension=EXTENSION):
    connection = sqlite3.connect(":memory:")
    connection.enable_load_extension(True)
    connection.load_extension(extension)
    return connection


class Case(unittest.TestCase):
    def setUp(self):
        self.connection = connect()
        self.addCleanup(self.connection.close)

    def rows(self, query, *values):
        return self.connection.execute(query, values).fetchall()

    def value(self, query, *values):
        return self.rows(query, *values)[0][0]

    def refuses(self, status, query, *values):
        with self.assertRaisesRegex(sqlite3.OperationalError, status):
            self.rows(query, *values)


class Numbers(Case):
    def test_grade(self):
        self.assertEqual(self.value("SELECT plw_grade(?)", LINCOLN), "clear")
        self.assertEqual(self.value("SELECT plw_grade('1M8GDM9AXKP042789')"), "fault")
        self.assertIsNone(self.value("SELECT plw_grade(NULL)"))

    def test_json_is_json_to_sqlite(self):
        document = json.loads(self.value("SELECT plw_json(?)", LINCOLN))
        self.assertEqual(document["readings"][0]["years"], [1963])
        nested = self.value("SELECT json_object('answer', plw_json(?))", LINCOLN)
        self.assertEqual(json.loads(nested)["answer"], document)
        self.assertEqual(
            self.value("SELECT json_extract(plw_json(?), '$.readings[0].years[0]')", LINCOLN), 1963)

    def test_explain(self):
        self.assertIn("Lincoln", self.value("SELECT plw_explain(?)", LINCOLN))
        for format, begin in (("text", LINCOLN), ("json", "{"), ("svg", "<svg"),
                              ("html", "<!DOCTYPE html>"), ("markdown", "")):
            with self.subTest(format):
                self.assertTrue(self.value("SELECT plw_explain(?, ?)", LINCOLN,
                                           format).startswith(begin))
        self.assertNotEqual(self.value("SELECT plw_explain(?, 'markdown')", LINCOLN),
                            self.value("SELECT plw_explain(?, 'text')", LINCOLN))

    def test_claims(self):
        found = self.rows("SELECT claim, verdict, reason FROM plw_claims(?, ?)", LINCOLN,
                          "engine=430 V8; body=hardtop; colour=blue")
        self.assertEqual(found, [("engine=430 V8", "supported", "none"),
                                 ("body=hardtop", "contradicted", "none"),
                                 ("colour=blue", "not-told", "not-understood")])

    def test_fields(self):
        fields = self.rows("SELECT field, positions, code, state, words, row_key, first_year"
                           " FROM plw_fields(?) WHERE field = 'engine'", LINCOLN)
        self.assertEqual(fields, [("engine", "[5]", "N", "known", "430 V8, four-barrel",
                                   "dearborn-1960/engine/N/1963/division=Lincoln", 1963)])
        for number in ("", "?", "no number"):
            count = self.value("SELECT count(*) FROM plw_fields(?)", number)
            readings = self.value("SELECT json_array_length(plw_json(?), '$.readings')", number)
            self.assertEqual(count > 0, readings > 0)
        self.assertEqual(self.rows("SELECT * FROM plw_fields(NULL)"), [])

    def test_fields_of_a_table(self):
        self.connection.execute("CREATE TABLE lots(lot INTEGER, number TEXT)")
        self.connection.executemany("INSERT INTO lots VALUES (?, ?)", enumerate(EXAMPLES))
        found = self.rows("SELECT lot, count(DISTINCT reading) FROM lots, plw_fields(lots.number)"
                          " GROUP BY lot")
        expected = [(lot, count) for lot, number in enumerate(EXAMPLES) if (count := self.value(
            "SELECT json_array_length(plw_json(?), '$.readings')", number))]
        self.assertEqual(found, expected)
        # SQLite turns the join round.
        self.assertEqual(len(self.rows(
            "SELECT 1 FROM plw_fields(lots.number) AS f, lots WHERE field = 'plant'"
            " GROUP BY lot")), len(self.rows(
                "SELECT 1 FROM lots, plw_fields(lots.number) WHERE field = 'plant' GROUP BY lot")))

    def test_findings(self):
        found = self.rows("SELECT finding, grade, reading, positions FROM plw_findings(?)",
                          "3Y86?400001")
        self.assertIn(("unreadable", "note", None, "[5]"), found)
        self.assertEqual(self.rows("SELECT * FROM plw_findings(?)", LINCOLN), [])

    def test_suggest(self):
        document = json.loads(self.value("SELECT plw_suggest('5F08N100001')"))
        self.assertTrue(document["suggestions"])

    def test_prefix(self):
        document = json.loads(self.value("SELECT plw_prefix('3Y')"))
        self.assertEqual(document["state"], "open")
        self.assertIn("dearborn-1960", document["schemes"])
        self.assertIn("8", document["allowed"])
        self.assertLessEqual(document["remaining_min"], document["remaining_max"])
        self.assertEqual(self.value("SELECT json_extract(plw_prefix(?), '$.state')", LINCOLN),
                         "complete")

    def test_strange_numbers(self):
        for number in ("", "日本", 19, 1.5, b"\xff\xfe", "A\0B", "'; DROP TABLE x"):
            with self.subTest(number):
                self.assertIn(self.value("SELECT plw_grade(?)", number),
                              ("clear", "note", "doubt", "fault"))
        self.assertEqual(self.value("SELECT json_extract(plw_json(?), '$.number')",
                                    "３Ｙ８６Ｎ４００００１"), LINCOLN)


class Cars(Case):
    def compare(self, rows, columns="place, text", **values):
        union = " UNION ALL ".join("SELECT ? AS place, ? AS text" for _ in rows)
        flat = [value for row in rows for value in row]
        return self.value(f"SELECT plw_compare({columns}) FROM ({union})", *flat)

    def test_plates_and_dates(self):
        document = json.loads(self.compare([("dash", LINCOLN), ("door_label", "3Y86N400002"),
                                            ("date_casting", "no date"), ("body", None)]))
        self.assertEqual(document["verdict"], "differs")
        self.assertEqual([plate["place"] for plate in document["plates"]],
                         ["dash", "door_label"])
        self.assertEqual(document["joined"][0]["number"], "3Y86N40000[12]")
        self.assertEqual(document["dates"][0]["verdict"], "open")

    def test_forms_hints_and_claims(self):
        plates = [("dash", LINCOLN)]
        self.assertIn(LINCOLN, self.compare(plates, "place, text, 'text'"))
        claimed = json.loads(self.compare(plates, "place, text, NULL, 'year=1963', 'year=1970'"))
        self.assertIn("contradicted", json.dumps(claimed))
        with_text = self.compare([("dash", "T24K3P100051")],
                                 "place, text, 'json', NULL, NULL, X'%s', 'scheme/port-ellery-1962 = Grüße'"
                                 % IMAGE.hex())
        self.assertEqual(json.loads(with_text)["joined"][0]["scheme"], "port-ellery-1962")
        self.assertIn("Grüße", with_text)

    def test_groups(self):
        self.connection.execute("CREATE TABLE plates(car, place, text)")
        self.connection.executemany("INSERT INTO plates VALUES (?, ?, ?)", [
            (1, "dash", LINCOLN), (2, "dash", LINCOLN), (1, "engine", LINCOLN),
            (2, "body", "3Y86N400009")])
        self.assertEqual(self.rows("SELECT car, json_extract(plw_compare(place, text), '$.verdict')"
                                   " FROM plates GROUP BY car"),
                         [(1, self.value("SELECT json_extract(plw_compare(place, text), '$.verdict')"
                                         " FROM plates WHERE car = 1")), (2, "differs")])
        self.assertIsNone(self.value("SELECT plw_compare(place, text) FROM plates WHERE car = 3"))

    def test_refused(self):
        for rows, columns, status in (
                ([("roof", LINCOLN)], "place, text", "PLW_E_ARGUMENT"),
                ([("date_roof", LINCOLN)], "place, text", "PLW_E_ARGUMENT"),
                ([("dash", "A" * 257)], "place, text", "PLW_E_TOO_LONG"),
                ([("dash", LINCOLN)] * 17, "place, text", "PLW_E_TOO_LONG"),
                ([("dash", LINCOLN)], "place, text, 'poem'", "PLW_E_FLAGS"),
                ([("dash", LINCOLN)], "place, text, NULL, 'colour=blue'", "PLW_E_HINT"),
                ([("dash", LINCOLN)], "place, text, NULL, NULL, 'blue'", "PLW_E_CLAIM")):
            with self.subTest(status), self.assertRaisesRegex(sqlite3.OperationalError, status):
                self.compare(rows, columns)


class Expectations(Case):
    CLAIMS = "year=1963; engine=430 V8; line=Continental"

    def test_patterns(self):
        found = self.rows("SELECT DISTINCT scheme, first_year FROM plw_patterns(?)"
                          " WHERE plw_covers(pattern, ?)", self.CLAIMS, LINCOLN)
        self.assertEqual(found, [("dearborn-1960", 1963)])
        document = json.loads(self.value("SELECT plw_expect(?)", self.CLAIMS))
        self.assertEqual([claim["understood"] for claim in document["claims"]], [True] * 3)
        self.assertIn(document["patterns"][0]["pattern"],
                      self.value("SELECT plw_expect(?, 'text')", self.CLAIMS))
        none = json.loads(self.value("SELECT plw_expect('year=1963; year=1964')"))
        self.assertEqual(none["patterns"], [])
        self.assertIsNone(self.value("SELECT plw_expect(NULL)"))
        own = self.rows("SELECT DISTINCT scheme, title FROM plw_patterns('year=1963', NULL, ?,"
                        " 'scheme/port-ellery-1962 = Grüße')", IMAGE)
        self.assertEqual(own, [("port-ellery-1962", "Grüße")])

    def test_covers(self):
        self.assertEqual(
            self.rows("SELECT plw_covers('3Y86N4?????', ?1), plw_covers('3Y86A4?????', ?1),"
                      " plw_covers(?1, '3Y86?400001'), plw_covers(NULL, ?1)", LINCOLN),
            [(1, 0, None, None)])


class TablesAndNames(Case):
    def test_tables(self):
        own, built_in = (json.loads(self.value("SELECT plw_tables(?)", image))
                         for image in (IMAGE, None))
        self.assertEqual([scheme["key"] for scheme in own["schemes"]],
                         ["port-ellery-1962", "port-ellery-1976"])
        self.assertEqual(len(own["digest"]), 16)
        self.assertNotEqual(own["digest"], built_in["digest"])
        self.assertEqual(self.rows("SELECT key FROM plw_schemes(?)", IMAGE),
                         [("port-ellery-1962",), ("port-ellery-1976",)])
        self.assertEqual(self.value("SELECT count(*) FROM plw_schemes"),
                         len(built_in["schemes"]))

    def test_a_number_of_other_tables(self):
        self.assertEqual(self.value("SELECT plw_grade('T24K3P100051', NULL, ?)", IMAGE), "note")
        self.assertEqual(self.value("SELECT plw_grade('T24K3P100051')"), "doubt")

    def test_tables_that_change_while_a_query_runs(self):
        self.connection.execute("CREATE TABLE lots(number TEXT)")
        self.connection.executemany("INSERT INTO lots VALUES (?)", [("T24K3P100051",), (LINCOLN,)])
        query = ("SELECT f.scheme, plw_grade(lots.number), plw_grade(lots.number, NULL, ?1)"
                 " FROM lots, plw_fields(lots.number, NULL, NULL, ?1, ?2) AS f"
                 " WHERE f.field = 'sequence' AND reading = 0")
        self.assertEqual(self.rows(query, IMAGE, "field/engine = Maschine"),
                         [("port-ellery-1962", "doubt", "note")])

    def test_names(self):
        words = "field/engine = Maschine\nscheme/port-ellery-1962 = Grüße\nnonsense\n"
        self.assertEqual(
            self.value("SELECT label FROM plw_fields('T24K3P100051', NULL, NULL, ?, ?)"
                       " WHERE field = 'engine'", IMAGE, words), "Maschine")
        problems = json.loads(self.value("SELECT plw_name_problems(?, ?)", words, IMAGE))
        self.assertEqual([problem["line"] for problem in problems], [3])
        self.assertEqual(self.value("SELECT plw_name_problems('')"), "[]")


class Refusals(Case):
    def test_sentences_with_the_name_of_the_status(self):
        self.refuses("PLW_E_TOO_LONG", "SELECT plw_grade(?)", "A" * 257)
        self.refuses("PLW_E_TOO_LONG", "SELECT * FROM plw_fields(?)", "A" * 257)
        self.refuses("PLW_E_HINT", "SELECT plw_grade('A', 'colour=blue')")
        self.refuses("PLW_E_HINT", "SELECT plw_json('A', ?)", "year=1963\0")
        self.refuses("PLW_E_CLAIM", "SELECT plw_json('A', NULL, 'blue')")
        self.refuses("PLW_E_CLAIM", "SELECT plw_expect('blue')")
        self.refuses("PLW_E_HINT", "SELECT plw_expect('year=1963', NULL, 'colour=blue')")
        self.refuses("PLW_E_FLAGS", "SELECT plw_expect('year=1963', 'poem')")
        self.refuses("PLW_E_TOO_LONG", "SELECT plw_covers(?, 'A')", "A" * 257)
        self.refuses("PLW_E_FLAGS", "SELECT plw_explain('A', 'poem')")
        self.refuses("PLW_E_FLAGS", "SELECT plw_explain('A', 'TEXT')")
        self.refuses("PLW_E_IMAGE", "SELECT plw_grade('A', NULL, ?)", IMAGE[:100])
        self.refuses("PLW_E_IMAGE", "SELECT plw_tables('')")
        self.refuses("PLW_E_TOO_LONG", "SELECT plw_name_problems(?)", "#" * 4194305)
        self.refuses("wrong number of arguments", "SELECT plw_grade()")
        self.assertEqual(self.value("SELECT plw_grade(?)", LINCOLN), "clear")

    def test_no_memory(self):
        script = """
import ctypes, sqlite3, sys
connection = sqlite3.connect(":memory:")
connection.enable_load_extension(True)
connection.load_extension(sys.argv[1])
compare = "SELECT plw_compare('dash', 'A')"
connection.execute(compare).fetchall()
used = ctypes.CDLL("libsqlite3.so.0").sqlite3_memory_used
used.restype = ctypes.c_int64
connection.execute("PRAGMA hard_heap_limit = %d" % (used() + 50000)).fetchall()
try:
    connection.execute(compare).fetchall()
except MemoryError:
    print("no memory")
"""
        told = subprocess.run([sys.executable, "-c", script, EXTENSION], capture_output=True,
                              text=True, check=True).stdout
        self.assertEqual(told, "no memory\n")

    def load_elsewhere(self, **changes):
        script = ("import sqlite3, sys\n"
                  "connection = sqlite3.connect(':memory:')\n"
                  "connection.enable_load_extension(True)\n"
                  "connection.load_extension(sys.argv[1])\n")
        run = subprocess.run([sys.executable, "-c", script, EXTENSION], capture_output=True,
                             text=True, env=dict(os.environ, **changes))
        return run.stderr

    def test_a_library_of_another_release(self):
        self.assertEqual(self.load_elsewhere(), "")
        told = self.load_elsewhere(LD_PRELOAD=os.environ["OTHER_RELEASE"])
        self.assertIn("compiled for platewright", told)
        self.assertIn("20000", told)

    def test_no_library(self):
        told = self.load_elsewhere(LD_LIBRARY_PATH="")
        self.assertIn("sqlite3.OperationalError", told)
        self.assertIn("libplatewright.so.1", told)


class Manners(Case):
    def test_deterministic(self):
        self.connection.execute("CREATE TABLE lots(number TEXT,"
                                " grade TEXT AS (plw_grade(number)) STORED)")
        self.connection.execute("CREATE INDEX by_year ON"
                                " lots(json_extract(plw_json(number), '$.readings[0].years[0]'))")
        self.connection.executemany("INSERT INTO lots(number) VALUES (?)",
                                    [(number,) for number in EXAMPLES])
        plan = self.rows("EXPLAIN QUERY PLAN SELECT number FROM lots WHERE"
                         " json_extract(plw_json(number), '$.readings[0].years[0]') = 1963")
        self.assertIn("by_year", str(plan))
        self.assertEqual(self.value("SELECT count(*) FROM lots WHERE grade <> plw_grade(number)"),
                         0)

    def test_gives_back_what_it_took(self):
        used = ctypes.CDLL("libsqlite3.so.0").sqlite3_memory_used
        used.restype = ctypes.c_int64

        def session():
            connection = connect()
            for image, words in ((IMAGE, "field/engine = Maschine"), (None, None), (IMAGE, "x")):
                connection.execute("SELECT plw_json(?, NULL, 'year=1963', ?, ?), plw_explain(?)",
                                   (LINCOLN, image, words, LINCOLN)).fetchall()
                connection.execute("SELECT * FROM plw_fields(?, NULL, NULL, ?, ?)",
                                   (LINCOLN, image, words)).fetchone()
            for place in ("dash", "roof"):
                try:
                    connection.execute("SELECT plw_compare(?, ?, NULL, 'year=1963', 'year=1963')",
                                       (place, LINCOLN)).fetchall()
                except sqlite3.OperationalError:
                    pass
            try:
                connection.execute("SELECT plw_grade('A', NULL, ?)", (b"damaged",)).fetchall()
            except sqlite3.OperationalError:
                pass
            connection.close()

        session()
        before = used()
        for _ in range(5):
            session()
        self.assertEqual(used(), before)

    def test_threads(self):
        expected = [self.value("SELECT plw_json(?)", number) for number in EXAMPLES]
        wrong = []

        def work():
            connection = connect()
            for _ in range(5):
                for number, answer in zip(EXAMPLES, expected):
                    if connection.execute("SELECT plw_json(?)", (number,)).fetchone()[0] != answer:
                        wrong.append(number)
            connection.close()

        threads = [threading.Thread(target=work) for _ in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual(wrong, [])


if __name__ == "__main__":
    unittest.main(verbosity=2)
