# SPDX-License-Identifier: MIT
"""Plates held against each other."""

import datetime
import gc
import threading
import time
import unittest

import platewright

from support import image

# Printed as the altered pair: both share the last eight characters.
ALTERED = {"dash": "BS27R0B212211", "body_tag": "BH27G0B212211", "engine": "0B212211"}


class Plates(unittest.TestCase):
    def test_plates_that_agree(self):
        car = platewright.compare({"dash": "RM23V0A149789", "engine": "0a-149?89"})
        self.assertEqual(car.verdict, "agrees")
        self.assertEqual([plate.taken for plate in car.plates], ["full", "partial"])
        self.assertEqual(car.plates[1].positions, (6, 7, 8, 9, 10, 11, 12, 13))
        self.assertEqual(car.plates[1].shows, tuple("0A149?89"))
        self.assertEqual(car.plates[1].agrees_with, (0,))
        self.assertTrue(car.plates[1].row.key.startswith("highland-park-1966/partial_stamp/"))
        self.assertEqual(car.joined[0].number, "RM23V0A149789")
        self.assertEqual(car.reading.years, (1970,))
        self.assertTrue(car.cautions)

    def test_plates_that_differ(self):
        car = platewright.compare(ALTERED)
        self.assertEqual(car.verdict, "differs")
        self.assertEqual([plate.verdict for plate in car.plates],
                         ["differs", "differs", "agrees"])
        self.assertEqual(car.plates[0].differs_from,
                         (platewright.Disagreement(plate=1, positions=(2, 5)),))
        self.assertEqual(car.joined[0].number, "B[HS]27[GR]0B212211")
        engine = [d for d in car.differences if d.position == 5]
        self.assertEqual([(d.shows, d.plates) for d in engine], [("R", (0,)), ("G", (1,))])
        self.assertIn("426", engine[0].rows[0].words)
        self.assertTrue(car.findings)
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
        self.assertEqual((car.verdict, car.plates, car.joined, car.reading),
                         ("cannot-compare", (), (), None))


class Dates(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.tables = platewright.Tables(image("port-ellery-vans"))

    def test_against_the_model_year(self):
        car = platewright.compare({"dash": "V6P1001"}, tables=self.tables,
                                  dates={"casting": ["6 c 01", "6J1"], "assembly": "nonsense"})
        self.assertEqual([(date.kind, date.verdict, date.grade) for date in car.dates],
                         [("casting", "fits", "clear"), ("casting", "later", "fault"),
                          ("assembly", "open", "note")])
        first = datetime.date(1966, 3, 1)
        self.assertEqual(car.dates[0].days, (platewright.Days(first, first),))
        self.assertEqual(car.dates[2].reason, "not-understood")
        self.assertEqual(car.date_verdict, "later")
        self.assertLess(car.built.first, car.built.last)
        self.assertIn(car.dates[1].sentence.split(":")[0], platewright.explain_car(
            {"dash": "V6P1001"}, dates={"casting": "6J1"}, tables=self.tables))

    def test_none(self):
        car = platewright.compare({"dash": "V6P1001"}, tables=self.tables)
        self.assertEqual((car.dates, car.date_verdict), ((), None))

    def test_refusals(self):
        with self.assertRaisesRegex(ValueError, "casting, assembly, body_tag, label"):
            platewright.compare({}, dates={"birthday": "6C1"})
        with self.assertRaises(platewright.TooLongError):
            platewright.compare({}, dates={"casting": "6" * 65})
        with self.assertRaises(platewright.TooLongError):
            platewright.compare({}, dates={"casting": ["6C1"] * 17})


class Claims(unittest.TestCase):
    def test_against_the_joined_number(self):
        car = platewright.compare(ALTERED, claims={"year": 1970, "engine": "426 V8"})
        self.assertEqual([(claim.attribute, claim.verdict) for claim in car.claims],
                         [("year", "supported"), ("engine", "not-told")])
        self.assertEqual(car.claims[1].positions, (5,))     # where the plates differ
        self.assertEqual(platewright.compare(ALTERED).claims, ())

    def test_what_cannot_be_handed_over(self):
        with self.assertRaises(platewright.ClaimError):
            platewright.compare(ALTERED, claims={"year": "1970;body=van"})


class Cars(unittest.TestCase):
    def test_step_by_step(self):
        with platewright.Car() as car:
            for place, number in ALTERED.items():
                car.add_plate(place, number)
            self.assertEqual(car.compare(), platewright.compare(ALTERED))
            self.assertEqual(car.explain("markdown"),
                             platewright.explain_car(ALTERED, "markdown"))
            car.clear()
            car.add_plate("dash", b"RM23V0A149789")
            self.assertEqual(len(car.compare().plates), 1)

    def test_own_words(self):
        names = platewright.Names("scheme/highland-park-1966 = Zweites Haus, ab 1966\n")
        car = platewright.Car(names=names)
        names.close()
        del names
        gc.collect()
        car.add_plate("dash", "RM23V0A149789")
        self.assertEqual(car.compare().reading.title, "Zweites Haus, ab 1966")

    def test_explain_car(self):
        text = platewright.explain_car(ALTERED)
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        self.assertTrue(platewright.explain_car(ALTERED, "markdown").startswith("# "))
        self.assertTrue(platewright.explain_car(ALTERED, "svg").startswith("<svg "))
        self.assertTrue(platewright.explain_car(ALTERED, "html").startswith("<!DOCTYPE html>"))
        self.assertNotIn("http", text)
        self.assertIn("http", platewright.explain_car(ALTERED, sources=True))

    def test_refusals(self):
        with self.assertRaisesRegex(ValueError, "door_label"):
            platewright.compare({"roof": "RM23V0A149789"})
        with self.assertRaises(platewright.TooLongError):
            platewright.compare({"dash": "1" * (platewright.MAX_TEXT + 1)})
        with self.assertRaises(platewright.TooLongError):
            platewright.compare({"engine": ["1"] * 17})
        with self.assertRaises(TypeError):
            platewright.compare({"dash": [5]})
        with self.assertRaises(platewright.HintError):
            platewright.compare({}, year=19)
        with self.assertRaises(platewright.FormatError):
            platewright.explain_car(ALTERED, "papyrus")

    def test_closed(self):
        with platewright.Car() as car:
            car.add_plate("dash", "RM23V0A149789")
        car.close()
        for use in (car.clear, car.compare, car.explain, car.__enter__,
                    lambda: car.add_plate("dash", "RM23V0A149789"),
                    lambda: car.add_date("casting", "6C1")):
            with self.assertRaisesRegex(ValueError, "Car is closed"):
                use()

    def test_threads_that_share_a_car_wait_for_each_other(self):
        verdicts = []

        def work():
            for _ in range(20):
                verdicts.append(car.compare().verdict)
                verdicts.append("differs" if "B[HS]27" in car.explain() else "garbled")

        with platewright.Car() as car:
            for place, number in ALTERED.items():
                car.add_plate(place, number)
            threads = [threading.Thread(target=work) for _ in range(4)]
            with car._lock:             # as if one of them were comparing
                for thread in threads:
                    thread.start()
                time.sleep(0.1)
                self.assertEqual(verdicts, [])
            for thread in threads:
                thread.join()
        self.assertEqual(verdicts, ["differs"] * 160)


if __name__ == "__main__":
    unittest.main()
