# SPDX-License-Identifier: MIT
"""Many numbers by one call."""

import csv
import os
import unittest
from unittest import mock

import platewright
from platewright import _batch

from support import LINCOLN

EXAMPLES = os.path.join(os.environ["srcdir"], "tests", "examples")


def published_numbers():
    """Every number that is printed in a reference, from the examples of the tables."""
    numbers = []
    for name in sorted(os.listdir(EXAMPLES)):
        with open(os.path.join(EXAMPLES, name), encoding="utf-8", newline="") as file:
            numbers += [row[0] for row in csv.reader(file, "excel-tab", quoting=csv.QUOTE_NONE)
                        if row and not row[0].startswith("#")]
    return numbers


class Batches(unittest.TestCase):
    MIXED = (LINCOLN, "1" * 257, "", "2G1A169L9C1256148", b"RM23V0A149789", "\uff13Y86N400001")

    def test_each_is_what_validate_says(self):
        numbers = published_numbers()
        self.assertGreater(len(numbers), 100)
        for number, verdict in zip(numbers, platewright.batch(numbers)):
            result = platewright.validate(number)
            best = result.readings[0] if result.readings else None
            self.assertEqual(verdict, platewright.Verdict(
                number=number, error=None, grade=result.grade,
                finding=result.findings[0].name if result.findings else None,
                scheme=best.scheme if best else None,
                first_year=best.years[0] if best and best.years else None,
                last_year=best.years[-1] if best and best.years else None,
                readings=len(result.readings), findings=len(result.findings)))

    def test_one_foreign_call(self):
        with mock.patch.object(_batch.library, "plw_batch",
                               wraps=_batch.library.plw_batch) as call:
            self.assertEqual(len(platewright.batch([LINCOLN] * 1000)), 1000)
        call.assert_called_once()

    def test_a_bad_number_does_not_end_it(self):
        batch = platewright.batch(self.MIXED)
        self.assertEqual([v.error for v in batch],
                         [None, "PLW_E_TOO_LONG", None, None, None, None])
        self.assertEqual([v.grade for v in batch],
                         ["clear", None, "fault", "fault", "clear", "clear"])
        self.assertEqual((batch[1].scheme, batch[1].readings), (None, 0))
        self.assertEqual([v.finding for v in batch[2:4]], ["empty", "check-wrong"])

    def test_it_is_a_sequence(self):
        batch = platewright.batch(iter(self.MIXED))
        self.assertEqual(len(batch), 6)
        self.assertEqual(batch[-1], batch[5])
        self.assertEqual(batch[::-2], [batch[5], batch[3], batch[1]])
        self.assertEqual([verdict.number for verdict in batch], list(self.MIXED))
        with self.assertRaises(IndexError):
            batch[6]

    def test_columns(self):
        batch = platewright.batch(self.MIXED)
        columns = batch.columns()
        self.assertEqual(list(columns), list(platewright.Verdict._fields))
        self.assertEqual([platewright.Verdict(*row) for row in zip(*columns.values())],
                         list(batch))

    def test_integers(self):
        batch = platewright.batch(self.MIXED)
        integers = batch.integers()
        self.assertEqual(list(integers["status"]), [0, -3, 0, 0, 0, 0])
        self.assertEqual(list(integers["readings"]), [v.readings for v in batch])
        self.assertEqual(memoryview(integers["grade"]).format, "i")
        self.assertEqual(len(integers), 8)

    def test_hints_are_for_all(self):
        numbers = ["RL41G8A123456"] * 2
        self.assertEqual([v.first_year for v in platewright.batch(numbers)], [1968, 1968])
        self.assertEqual([v.first_year for v in platewright.batch(numbers, year=1978)],
                         [1978, 1978])

    def test_nothing(self):
        batch = platewright.batch([])
        self.assertEqual((len(batch), list(batch)), (0, []))
        self.assertEqual(batch.columns()["grade"], [])
        self.assertEqual(len(batch.integers()["grade"]), 0)

    def test_refusals(self):
        with self.assertRaises(TypeError):
            platewright.batch([LINCOLN, 5])
        for numbers in ([], [LINCOLN]):
            with self.assertRaises(platewright.HintError):
                platewright.batch(numbers, year=19)


if __name__ == "__main__":
    unittest.main()
