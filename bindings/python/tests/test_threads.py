# SPDX-License-Identifier: MIT
"""Several threads, each with its own results, share tables and names."""

import threading
import unittest

import platewright
from platewright import _verbs

from support import LINCOLN

YEARS = {LINCOLN: (1963,), "RM23V0A149789": (1970,), "5F08F100001": (1965,)}


class Threads(unittest.TestCase):
    def run_threads(self, work, count=6):
        """Every thread's work; what it raises fails the test."""
        failures = []

        def guarded(index):
            try:
                work(index)
            except Exception as error:      # told below
                failures.append(error)

        threads = [threading.Thread(target=guarded, args=(i,)) for i in range(count)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual(failures, [])

    def test_each_call_has_its_own_result(self):
        tables = platewright.Tables()
        names = platewright.Names("field/engine = Motor\n", tables)

        def work(index):
            number, years = list(YEARS.items())[index % len(YEARS)]
            given = names if index % 2 else None
            for _ in range(100):
                reading = platewright.decode(number, tables=tables, names=given).readings[0]
                self.assertEqual(reading.years, years)
                self.assertEqual(reading.field("engine").label,
                                 "Motor" if given else "engine")

        self.run_threads(work)

    def test_batches(self):
        numbers = list(YEARS) * 500
        expected = [years[0] for years in YEARS.values()] * 500
        self.run_threads(lambda index: self.assertEqual(
            list(platewright.batch(numbers).integers()["first_year"]), expected), 4)

    def test_results_are_used_again(self):
        _verbs._idle.clear()
        for _ in range(50):
            platewright.decode(LINCOLN)
            with self.assertRaises(platewright.HintError):
                platewright.decode(LINCOLN, year=19)
        self.assertEqual(len(_verbs._idle), 1)

    def test_tables_that_are_closed_while_others_decode(self):
        tables = platewright.Tables()
        started = threading.Event()

        def work(index):
            if index == 0:
                started.wait()
                tables.close()
                return
            with self.assertRaisesRegex(ValueError, "closed"):
                for _ in range(10000):
                    platewright.batch([LINCOLN] * 100, tables=tables)
                    started.set()

        self.run_threads(work, 3)


if __name__ == "__main__":
    unittest.main()
