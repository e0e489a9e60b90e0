# SPDX-License-Identifier: MIT
"""From claims to numbers, and back."""

import unittest

import platewright

from support import LINCOLN, image


class Expect(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.tables = platewright.Tables(image())

    def expect(self, claims, **more):
        return platewright.expect(claims, tables=self.tables, **more)

    def test_patterns(self):
        found = self.expect({"year": 1966, "body": "convertible", "engine": "260"})
        (pattern,) = found.patterns
        self.assertEqual(pattern.pattern, "?27M6???????")
        self.assertEqual((pattern.scheme, pattern.length), ("port-ellery-1962", 12))
        self.assertEqual(pattern.years, (1966,))
        self.assertEqual((pattern.tells, pattern.open), ((0, 1, 2), ()))
        self.assertTrue(any(row.key.startswith("port-ellery-1962/engine/M/")
                            for row in pattern.rows))
        self.assertEqual((pattern.standing, pattern.marks), ("practice", ()))
        self.assertIn("1966", pattern.sentence)
        self.assertFalse(found.capped)
        self.assertEqual([claim.attribute for claim in found.claims],
                         ["year", "body", "engine"])

    def test_what_is_not_told_stays_open(self):
        found = self.expect({"year": 1976, "colour": "blue"})
        self.assertEqual([claim.understood for claim in found.claims], [True, False])
        self.assertEqual(found.claims[1].attribute, "")
        self.assertEqual({pattern.open for pattern in found.patterns}, {(1,)})

    def test_what_rules_everything_out(self):
        found = self.expect({"year": 1977, "line": "Tern", "sequence": 1000051})
        self.assertEqual(found.patterns, ())
        self.assertTrue(any(claim.rules_out for claim in found.claims))
        self.assertIn("sequence=1000051", found.summary)

    def test_own_words(self):
        names = platewright.Names("scheme/port-ellery-1962 = Haus am Hafen\n", self.tables)
        found = self.expect({"year": 1966, "cylinders": 8}, names=names)
        self.assertEqual(found.patterns[0].title, "Haus am Hafen")

    def test_hints_hide_nothing(self):
        claims = {"engine": 427}
        schemes = [pattern.scheme for pattern in self.expect(claims).patterns]
        hinted = [pattern.scheme for pattern in self.expect(claims, scheme=schemes[-1]).patterns]
        self.assertEqual(sorted(schemes), sorted(hinted))

    def test_the_claims_of_a_reading_lead_back_to_its_number(self):
        found = platewright.expect({"year": 1963, "engine": "430", "plant": "Wixom"})
        self.assertTrue(any(platewright.covers(pattern.pattern, LINCOLN).covered
                            for pattern in found.patterns))

    def test_explain(self):
        claims = {"year": 1966, "body": "convertible", "engine": "260"}
        text = platewright.explain_expectation(claims, tables=self.tables)
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        self.assertIn("?27M6???????", text)
        self.assertTrue(platewright.explain_expectation(claims, "json").startswith("{"))
        with self.assertRaises(platewright.FormatError):
            platewright.explain_expectation(claims, "papyrus")
        with self.assertRaises(platewright.FormatError):
            platewright.explain_expectation(claims, "svg")

    def test_refusals(self):
        with self.assertRaises(platewright.ClaimError):
            platewright.expect({"year": "1963;body=van"})
        with self.assertRaises(platewright.HintError):
            platewright.expect({"year": 1963}, year=19)
        with self.assertRaises(platewright.TooLongError):
            platewright.expect({"line": "x" * 1100})
        with platewright.Tables() as tables:
            pass
        with self.assertRaisesRegex(ValueError, "closed"):
            platewright.expect({"year": 1963}, tables=tables)


class Covers(unittest.TestCase):
    def test_answers(self):
        for number, covered, position in (("S27M6P100001", True, None),
                                          ("S27Z6P100001", False, 4),
                                          ("S27?6P100001", None, 4), ("S27M6", False, 6)):
            self.assertEqual(platewright.covers("?27[MR]6???????", number),
                             platewright.Coverage(covered, position), number)

    def test_refusals(self):
        with self.assertRaises(platewright.TooLongError):
            platewright.covers("?", "1" * 257)
        with self.assertRaises(TypeError):
            platewright.covers(None, "1")


if __name__ == "__main__":
    unittest.main()
