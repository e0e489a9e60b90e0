# SPDX-License-Identifier: MIT
"""Tests of the Python binding: python3 -m unittest test_platewright

PLATEWRIGHT_LIBRARY names the library under test when it is not installed."""

import ctypes
import doctest
import os
import subprocess
import sys
import tempfile
import threading
import unittest
from unittest import mock

import platewright

# Printed in Automotive Mileposts: 1963 Lincoln Continental, first unit of the year.
LINCOLN = "3Y86N400001"


class Verbs(unittest.TestCase):
    def test_decode(self):
        result = platewright.decode(LINCOLN)
        reading = result.readings[0]
        self.assertEqual(reading.scheme, "dearborn-1960")
        self.assertEqual(reading.years, (1963,))
        self.assertEqual(reading.field("engine").positions, (5,))
        self.assertEqual(reading.field("engine").meanings[0].attributes["cid"], 430)
        self.assertEqual(result.findings, ())

    def test_decode_tells_displacement_both_ways(self):
        meaning = platewright.decode(LINCOLN).readings[0].field("engine").meanings[0]
        self.assertAlmostEqual(meaning.displacement_cc, 430 * 16.387064, places=2)
        self.assertEqual(meaning.displacement_cu_in, 430)

    def test_a_field_that_is_not_there(self):
        with self.assertRaises(KeyError):
            platewright.decode(LINCOLN).readings[0].field("colour")

    def test_validate_finds_what_cannot_stand_there(self):
        result = platewright.validate("3Y86N4000#1")
        self.assertEqual(result.grade, "fault")
        finding = next(f for f in result.findings if f.name == "character")
        self.assertEqual(finding.positions, (10,))
        self.assertEqual(finding.reading, 0)

    def test_spans_point_into_the_text_given(self):
        text = "\u2605 3Y 86\uff2e-400001 \u2605"
        result = platewright.validate(text)
        self.assertEqual(result.number, LINCOLN)
        start, end = result.spans[4]
        self.assertEqual(text[start:end], "\uff2e")

    def test_spans_of_bytes_count_bytes(self):
        self.assertEqual(platewright.decode(b" 3Y86N400001").spans[0], (1, 2))

    def test_suggest_offers_and_applies_nothing(self):
        result = platewright.suggest("164AH59H45G118341")
        self.assertEqual(result.number, "164AH59H45G118341")
        self.assertEqual(result.grade, "fault")
        (suggestion,) = result.suggestions
        self.assertEqual(suggestion.number, "1G4AH59H45G118341")
        self.assertEqual(suggestion.grade, "clear")
        self.assertEqual(suggestion.standing, "practice")
        self.assertEqual(suggestion.changes, (platewright.Change(2, "6", "G"),))
        self.assertIn("position 2", suggestion.sentence)
        self.assertEqual(result.suggestions_left_out, 0)
        self.assertEqual(platewright.validate("164AH59H45G118341").suggestions, ())

    def test_suggest_tells_what_it_does_not_offer(self):
        result = platewright.suggest("2G1A169L9C1256148")
        self.assertEqual((result.suggestions, result.suggestions_left_out), ((), 2))

    def test_prefix(self):
        beginning = platewright.prefix("1G4AH59H45G11834")
        self.assertEqual(beginning.state, "open")
        self.assertEqual(beginning.schemes, ("iso3779",))
        self.assertEqual(beginning.allowed, "0123456789")
        self.assertEqual((beginning.remaining_min, beginning.remaining_max), (1, 1))
        self.assertEqual(platewright.prefix(LINCOLN).state, "complete")
        self.assertEqual(platewright.prefix("3Y#8").state, "impossible")
        self.assertIn("N", platewright.prefix("3Y86").known)
        with self.assertRaises(platewright.TooLongError):
            platewright.prefix("3" * 257)

    def test_hints_rank(self):
        both = platewright.decode("RL41G8A123456")
        self.assertEqual([r.years for r in both.readings], [(1968,), (1978,)])
        later = platewright.decode("RL41G8A123456", year=1978)
        self.assertEqual([r.years for r in later.readings], [(1978,), (1968,)])

    def test_explain(self):
        text = platewright.explain(LINCOLN)
        self.assertIn("1963", text)
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        self.assertTrue(platewright.explain(LINCOLN, "json").startswith("{"))
        self.assertTrue(platewright.explain(LINCOLN, "svg").startswith("<svg "))
        self.assertIn("http", platewright.explain(LINCOLN, "markdown", sources=True))

    def test_grade_agrees_with_validate(self):
        for number in (LINCOLN, "", "???", "11111111111111111", "XX29L9B410772", "\0"):
            self.assertEqual(platewright.grade(number), platewright.validate(number).grade)


class Claims(unittest.TestCase):
    def test_verdicts(self):
        claims = platewright.validate(LINCOLN, claims={
            "year": 1963, "engine": "7.0L V8", "body": "wagon", "colour": "blue"}).claims
        self.assertEqual([c.attribute for c in claims], ["year", "engine", "body", None])
        self.assertEqual([c.verdict for c in claims],
                         ["supported", "supported", "contradicted", "not-told"])
        self.assertEqual(claims[1].claim, "engine=7.0L V8")
        self.assertEqual(claims[1].positions, (5,))
        self.assertEqual(claims[1].reading, 0)
        self.assertIn("dearborn-1960/engine/N/1963", claims[1].rows[0])
        self.assertEqual(claims[3].reason, "not-understood")

    def test_without_claims_there_are_none(self):
        self.assertEqual(len(platewright.decode(LINCOLN, claims={"year": "1963"}).claims), 1)
        self.assertEqual(platewright.decode(LINCOLN).claims, ())

    def test_claims_stand_in_explanations(self):
        text = platewright.explain(LINCOLN, claims={"body": "wagon"})
        self.assertIn("The number contradicts body=wagon", text)

    def test_what_cannot_be_handed_over(self):
        for claims in ({"year": "1963;body=van"}, {"a=b": "c"}, {"year": ""},
                       {"line": "a\u202eb"}, {"line": "a\nb"}, {"line": "a\0b"}):
            with self.assertRaises(platewright.ClaimError):
                platewright.validate(LINCOLN, claims=claims)
        with self.assertRaises(platewright.TooLongError):
            platewright.validate(LINCOLN, claims={"line": "x" * 1100})


class Refusals(unittest.TestCase):
    def test_too_long(self):
        with self.assertRaises(platewright.TooLongError):
            platewright.decode("1" * (platewright.MAX_TEXT + 1))

    def test_hints(self):
        with self.assertRaises(platewright.HintError):
            platewright.decode(LINCOLN, year=19)
        with self.assertRaises(platewright.HintError):
            platewright.decode(LINCOLN, maker="a;b")

    def test_types(self):
        with self.assertRaises(TypeError):
            platewright.decode(19)
        with self.assertRaises(ValueError):
            platewright.explain(LINCOLN, "html")

    def test_lone_surrogates_are_read_as_unreadable(self):
        self.assertEqual(platewright.decode("3Y86\ud800400001").number, "3Y86?400001")

    def test_tables(self):
        for image in (b"", b"PLWTABLE", os.urandom(4096)):
            with self.assertRaises(platewright.TablesError):
                platewright.Tables(image)


class Loading(unittest.TestCase):
    def run_python(self, library):
        environment = dict(os.environ, PLATEWRIGHT_LIBRARY=library)
        return subprocess.run([sys.executable, "-c", "import platewright"], env=environment,
                              capture_output=True, text=True)

    def test_a_missing_library_is_named(self):
        done = self.run_python("/nowhere/libplatewright.so")
        self.assertIn("LibraryError", done.stderr)
        self.assertIn("/nowhere/libplatewright.so", done.stderr)

    def test_another_library_is_refused(self):
        libc = ctypes.util.find_library("c")
        self.assertIn("is not platewright", self.run_python(libc).stderr)

    def test_another_major_version_is_refused(self):
        library = mock.Mock()
        library.plw_version_number.return_value = 10000
        with self.assertRaises(platewright.LibraryError):
            platewright._check_version(library)
        library.plw_version_number.return_value = platewright._OLDEST - 1
        with self.assertRaises(platewright.LibraryError):
            platewright._check_version(library)

    def test_version(self):
        self.assertRegex(platewright.library_version(), r"^0\.\d+\.\d+$")


class TablesHandle(unittest.TestCase):
    def test_schemes(self):
        schemes = {scheme.key: scheme for scheme in platewright.Tables().schemes}
        self.assertEqual(schemes["dearborn-1960"].first_year, 1960)
        self.assertGreater(schemes["dearborn-1960"].rows, 100)

    def test_identity(self):
        tables = platewright.Tables()
        result = platewright.decode(LINCOLN, tables=tables)
        self.assertEqual(result.tables_digest, tables.digest)
        self.assertEqual(result.tables_edition, tables.edition)


class OwnWords(unittest.TestCase):
    def setUp(self):
        meaning = platewright.decode(LINCOLN).readings[0].field("engine").meanings[0]
        self.key, self.words = meaning.key, meaning.words

    def names(self, words='Das "große" V8 <b>'):
        return platewright.Names(
            f"# house words\n{self.key} = {words}\nfield/engine = Motor\n"
            "scheme/dearborn-1960 = Dearborn, ab 1960\n")

    def test_words_stand_in_every_result(self):
        for verb in (platewright.decode, platewright.validate):
            reading = verb(LINCOLN, names=self.names()).readings[0]
            self.assertEqual(reading.title, "Dearborn, ab 1960")
            self.assertEqual(reading.field("engine").label, "Motor")
            self.assertEqual(reading.field("engine").meanings[0].words, 'Das "große" V8 <b>')
            self.assertEqual(reading.field("engine").meanings[0].key, self.key)

    def test_words_stand_in_explanations(self):
        for format in ("text", "markdown", "json"):
            text = platewright.explain(LINCOLN, format, names=self.names("Großer V8"))
            self.assertIn("Großer V8", text)
            self.assertIn("Motor", text)
            self.assertNotIn(self.words, text)

    def test_without_names_the_tables_speak_again(self):
        platewright.decode(LINCOLN, names=self.names())
        meaning = platewright.decode(LINCOLN).readings[0].field("engine").meanings[0]
        self.assertEqual(meaning.words, self.words)

    def test_problems_have_line_and_text(self):
        names = platewright.Names("field/engine = Motor\nnonsense\nfield/nothing = x\n")
        self.assertEqual([problem.line for problem in names.problems], [2, 3])
        self.assertIn("key = words", names.problems[0].text)
        self.assertIn("field/nothing", names.problems[1].text)
        self.assertEqual(self.names().problems, ())

    def test_a_file(self):
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "house.names")
            with open(path, "wb") as file:
                file.write("field/engine = Moteur à essence\r\nbroken\r\n".encode())
            names = platewright.Names.open(path)
        self.assertEqual([problem.line for problem in names.problems], [2])
        field = platewright.decode(LINCOLN, names=names).readings[0].field("engine")
        self.assertEqual(field.label, "Moteur à essence")

    def test_bytes_that_are_no_text(self):
        for text in (b"field/engine = \xff", "field/engine = \ud800", b"field/engine = a\0b"):
            self.assertEqual([p.line for p in platewright.Names(text).problems], [1])

    def test_too_long(self):
        with self.assertRaises(platewright.TooLongError):
            platewright.Names(b"\n" * (4 * 1024 * 1024 + 1))


class Cars(unittest.TestCase):
    # Printed as the altered pair: both share the last eight characters.
    ALTERED = {"dash": "BS27R0B212211", "body_tag": "BH27G0B212211", "engine": "0B212211"}

    def test_plates_that_agree(self):
        car = platewright.compare({"dash": "RM23V0A149789", "engine": "0a-149?89"})
        self.assertEqual(car.verdict, "agrees")
        self.assertEqual([plate.taken for plate in car.plates], ["full", "partial"])
        self.assertEqual(car.plates[1].positions, (6, 7, 8, 9, 10, 11, 12, 13))
        self.assertEqual(car.plates[1].shows, tuple("0A149?89"))
        self.assertEqual(car.plates[1].agrees_with, (0,))
        self.assertTrue(car.plates[1].row.key.startswith("highland-park-1966/partial_stamp/"))
        self.assertEqual(car.joined[0].number, "RM23V0A149789")
        self.assertEqual(car.years, (1970,))
        self.assertTrue(car.cautions)

    def test_plates_that_differ(self):
        car = platewright.compare(self.ALTERED)
        self.assertEqual(car.verdict, "differs")
        self.assertEqual([plate.verdict for plate in car.plates],
                         ["differs", "differs", "agrees"])
        self.assertEqual(car.plates[0].differs_from, {1: (2, 5)})
        self.assertEqual(car.joined[0].number, "B[HS]27[GR]0B212211")
        engine = [d for d in car.differences if d.position == 5]
        self.assertEqual([(d.shows, d.plates) for d in engine], [("R", (0,)), ("G", (1,))])
        self.assertIn("426", engine[0].rows[0].words)
        self.assertTrue(any("Read position 5 again" in line for line in car.next))

    def test_what_is_missing(self):
        car = platewright.compare({"dash": "RM23V0A149789"})
        self.assertEqual(car.verdict, "cannot-compare")
        self.assertIn("engine", [missing.place for missing in car.missing])

    def test_two_stamps_alone(self):
        car = platewright.compare({"engine": ["0A149789", "0A149780"]})
        self.assertEqual([joined.scheme for joined in car.joined][:1],
                         [platewright.compare({"engine": "0A149789"}).joined[0].scheme])
        self.assertEqual(car.verdict, "differs")
        hinted = platewright.compare({"engine": "0A149789"}, scheme="highland-park-1966")
        self.assertEqual(hinted.joined[0].number, "?????0A149789")

    def test_no_plate(self):
        car = platewright.compare({})
        self.assertEqual((car.verdict, car.plates, car.joined, car.years),
                         ("cannot-compare", (), (), ()))

    def test_explain_car(self):
        text = platewright.explain_car(self.ALTERED)
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        self.assertIn("## Plate by plate", platewright.explain_car(self.ALTERED, "markdown"))
        with self.assertRaises(ValueError):
            platewright.explain_car(self.ALTERED, "svg")

    def test_refusals(self):
        with self.assertRaises(ValueError):
            platewright.compare({"roof": "RM23V0A149789"})
        with self.assertRaises(platewright.TooLongError):
            platewright.compare({"dash": "1" * (platewright.MAX_TEXT + 1)})
        with self.assertRaises(platewright.TooLongError):
            platewright.compare({"engine": ["1"] * 17})
        with self.assertRaises(TypeError):
            platewright.compare({"dash": [5]})


class Threads(unittest.TestCase):
    def test_each_thread_has_its_own_result(self):
        wrong = []

        def work(number, years):
            for _ in range(200):
                if platewright.decode(number).readings[0].years != years:
                    wrong.append(number)

        numbers = ((LINCOLN, (1963,)), ("RM23V0A149789", (1970,)), ("5F08F100001", (1965,)))
        threads = [threading.Thread(target=work, args=pair) for pair in numbers * 2]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual(wrong, [])


def load_tests(loader, tests, pattern):
    tests.addTests(doctest.DocTestSuite(platewright))
    return tests


if __name__ == "__main__":
    unittest.main()
