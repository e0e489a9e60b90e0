# SPDX-License-Identifier: MIT
"""Tests of the Python binding: python3 -m unittest test_platewright

PLATEWRIGHT_LIBRARY names the library under test when it is not installed."""

import ctypes
import doctest
import os
import subprocess
import sys
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
        self.assertIn("http", platewright.explain(LINCOLN, "markdown", sources=True))

    def test_grade_agrees_with_validate(self):
        for number in (LINCOLN, "", "???", "11111111111111111", "XX29L9B410772", "\0"):
            self.assertEqual(platewright.grade(number), platewright.validate(number).grade)


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
