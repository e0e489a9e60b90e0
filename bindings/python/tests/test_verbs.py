# SPDX-License-Identifier: MIT
"""One number: decode, validate, suggest, explain, grade, prefix."""

import dataclasses
import pickle
import unittest

import platewright

from support import LINCOLN


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

    def test_the_check_character(self):
        check = platewright.validate("1M8GDM9A1KP042788").readings[0].check
        self.assertEqual((check.state, check.expected), ("fails", "X"))
        check = platewright.validate(LINCOLN).readings[0].check
        self.assertEqual((check.state, check.expected), ("none", None))

    def test_spans_point_into_the_text_given(self):
        text = "\u2605 3Y 86\uff2e-400001 \u2605"
        result = platewright.validate(text)
        self.assertEqual(result.number, LINCOLN)
        start, end = result.spans[4]
        self.assertEqual(text[start:end], "\uff2e")

    def test_spans_of_bytes_count_bytes(self):
        self.assertEqual(platewright.decode(b" 3Y86N400001").spans[0], (1, 2))

    def test_what_would_settle_it(self):
        result = platewright.decode("RL41G8A123456")
        self.assertEqual([r.years for r in result.readings], [(1968,), (1978,)])
        self.assertTrue(result.settling)
        for settling in result.settling:
            self.assertIn(settling.years, ((1968,), (1978,)))
            self.assertEqual(result.readings[settling.reading].years, settling.years)
            self.assertTrue(settling.codes)

    def test_hints_rank(self):
        later = platewright.decode("RL41G8A123456", year=1978)
        self.assertEqual([r.years for r in later.readings], [(1978,), (1968,)])

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

    def test_explain(self):
        text = platewright.explain(LINCOLN)
        self.assertIn("1963", text)
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        self.assertTrue(platewright.explain(LINCOLN, "json").startswith("{"))
        self.assertTrue(platewright.explain(LINCOLN, "svg").startswith("<svg "))
        self.assertTrue(platewright.explain(LINCOLN, "html").startswith("<!DOCTYPE html>"))
        self.assertIn("http", platewright.explain(LINCOLN, "markdown", sources=True))
        self.assertNotIn("http", platewright.explain(LINCOLN, "markdown"))

    def test_grade_agrees_with_validate(self):
        for number in (LINCOLN, "", "???", "11111111111111111", "XX29L9B410772", "\0"):
            self.assertEqual(platewright.grade(number), platewright.validate(number).grade)


class Results(unittest.TestCase):
    def test_they_are_immutable(self):
        with self.assertRaises(dataclasses.FrozenInstanceError):
            platewright.decode(LINCOLN).grade = "fault"

    def test_they_travel_between_processes(self):
        result = platewright.suggest("164AH59H45G118341", claims={"year": 2005})
        self.assertEqual(pickle.loads(pickle.dumps(result)), result)


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
            with self.assertRaisesRegex(platewright.ClaimError, "PLW_E_CLAIM"):
                platewright.validate(LINCOLN, claims=claims)
        with self.assertRaisesRegex(platewright.TooLongError, "PLW_E_TOO_LONG"):
            platewright.validate(LINCOLN, claims={"line": "x" * 1100})


class Refusals(unittest.TestCase):
    def test_too_long(self):
        number = "1" * (platewright.MAX_TEXT + 1)
        for verb in (platewright.decode, platewright.validate, platewright.suggest,
                     platewright.explain, platewright.grade, platewright.prefix):
            with self.assertRaises(platewright.TooLongError) as caught:
                verb(number)
            self.assertEqual(caught.exception.status, "PLW_E_TOO_LONG")
            self.assertIn("(PLW_E_TOO_LONG)", str(caught.exception))

    def test_hints(self):
        for hints in ({"year": 19}, {"maker": "a;b"}, {"scheme": "a\0b"}):
            with self.assertRaisesRegex(platewright.HintError, "PLW_E_HINT"):
                platewright.decode(LINCOLN, **hints)
        with self.assertRaises(platewright.TooLongError):
            platewright.decode(LINCOLN, maker="x" * 600)

    def test_types(self):
        with self.assertRaises(TypeError):
            platewright.decode(19)
        with self.assertRaises(TypeError):
            platewright.prefix(None)

    def test_formats(self):
        with self.assertRaises(ValueError) as caught:
            platewright.explain(LINCOLN, "papyrus")
        self.assertIn("markdown", str(caught.exception))
        self.assertIn("PLW_E_FLAGS", str(caught.exception))

    def test_lone_surrogates_are_read_as_unreadable(self):
        self.assertEqual(platewright.decode("3Y86\ud800400001").number, "3Y86?400001")


if __name__ == "__main__":
    unittest.main()
