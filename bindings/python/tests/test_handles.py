# SPDX-License-Identifier: MIT
"""Tables and names: opened, used, closed."""

import gc
import os
import tempfile
import unittest

import platewright

from support import LINCOLN, image


class TablesHandle(unittest.TestCase):
    def test_schemes(self):
        schemes = {scheme.key: scheme for scheme in platewright.Tables().schemes}
        self.assertEqual(schemes["dearborn-1960"].first_year, 1960)
        self.assertGreater(schemes["dearborn-1960"].rows, 100)
        for layout in schemes["dearborn-1960"].layouts:
            self.assertEqual(len(layout.sample), layout.length)

    def test_identity(self):
        with platewright.Tables() as tables:
            result = platewright.decode(LINCOLN, tables=tables)
            self.assertEqual(result.tables.digest, tables.digest)
            self.assertEqual(result.tables.edition, tables.edition)

    def test_an_image(self):
        bytes_of_image = bytearray(image())
        tables = platewright.Tables(bytes_of_image)
        bytes_of_image[:] = b"\0" * len(bytes_of_image)     # the tables have a copy
        self.assertNotEqual(tables.digest, platewright.Tables().digest)
        scheme = tables.schemes[0]
        self.assertTrue(scheme.key.startswith("port-ellery-"))
        number = scheme.layouts[0].sample
        reading = platewright.decode(number, tables=tables).readings[0]
        self.assertEqual(reading.scheme, scheme.key)
        self.assertEqual(platewright.batch([number], tables=tables)[0].scheme, scheme.key)
        self.assertIn(scheme.key, platewright.prefix(number[:2], tables=tables).schemes)
        self.assertEqual(platewright.grade(number, tables=tables),
                         platewright.validate(number, tables=tables).grade)

    def test_a_file(self):
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "port-ellery.image")
            with open(path, "wb") as file:
                file.write(image())
            with platewright.Tables.open(path) as tables:
                self.assertEqual({scheme.key.rpartition("-")[0] for scheme in tables.schemes},
                                 {"port-ellery"})

    def test_what_is_no_image(self):
        for data in (b"", b"PLWTABLE", os.urandom(4096), image()[:-1]):
            with self.assertRaisesRegex(platewright.TablesError, "PLW_E_(IMAGE|VERSION)"):
                platewright.Tables(data)

    def test_closed(self):
        for tables in (platewright.Tables(), platewright.Tables(image())):
            with tables:
                tables.digest
            tables.close()
            for use in (lambda: tables.digest, lambda: tables.edition, lambda: tables.schemes,
                        lambda: platewright.decode(LINCOLN, tables=tables),
                        lambda: platewright.grade(LINCOLN, tables=tables),
                        lambda: platewright.prefix(LINCOLN, tables=tables),
                        lambda: platewright.batch([LINCOLN], tables=tables),
                        lambda: platewright.compare({}, tables=tables),
                        lambda: platewright.Names("", tables), tables.__enter__):
                with self.assertRaisesRegex(ValueError, "Tables is closed"):
                    use()


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
        with self.names() as names:
            platewright.decode(LINCOLN, names=names)
        del names
        gc.collect()
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
        with self.assertRaisesRegex(platewright.TooLongError, "PLW_E_TOO_LONG"):
            platewright.Names(b"\n" * (4 * 1024 * 1024 + 1))

    def test_they_keep_their_tables(self):
        tables = platewright.Tables(image())
        names = platewright.Names("field/nothing = x\n", tables)
        tables.close()
        del tables
        gc.collect()
        self.assertIn("field/nothing", names.problems[0].text)

    def test_closed(self):
        with self.names() as names:
            pass
        for use in (lambda: names.problems, lambda: platewright.decode(LINCOLN, names=names),
                    lambda: platewright.Car(names=names)):
            with self.assertRaisesRegex(ValueError, "Names is closed"):
                use()


if __name__ == "__main__":
    unittest.main()
