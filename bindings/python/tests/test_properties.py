# SPDX-License-Identifier: MIT
"""What holds for every text, however odd; hypothesis looks for one that it does
not hold for."""

import unittest

from hypothesis import assume, given, settings
from hypothesis import strategies as st

import platewright

settings.register_profile("check", max_examples=150, deadline=None, database=None,
                          derandomize=True)
settings.load_profile("check")

GRADES = ("clear", "note", "doubt", "fault")

#: Numbers of known layouts with some characters changed, and anything at all.
SAMPLES = sorted({layout.sample for scheme in platewright.Tables().schemes
                  for layout in scheme.layouts})
ANYTHING = st.text(max_size=60)
STAMPED = st.text(alphabet="0123456789ABCDEFGHJKLMNPRSTUVWXYZIOQ?[]- *", max_size=24)


@st.composite
def altered(draw):
    characters = list(draw(st.sampled_from(SAMPLES)))
    for _ in range(draw(st.integers(0, 3))):
        place = draw(st.integers(0, len(characters) - 1))
        characters[place] = draw(st.sampled_from("0123456789ABCDEFGHJKLMNPRSTUVWXYZIOQ?#"))
    return "".join(characters)


NUMBERS = st.one_of(altered(), STAMPED, ANYTHING)


class Properties(unittest.TestCase):
    @given(NUMBERS)
    def test_every_text_can_be_read(self, text):
        result = platewright.validate(text)
        self.assertEqual(result.grade, platewright.grade(text))
        self.assertEqual([reading.fields for reading in platewright.decode(text).readings],
                         [reading.fields for reading in result.readings])
        self.assertTrue(all(finding.sentence for finding in result.findings))

    @given(NUMBERS)
    def test_spans_stand_in_order_inside_the_text(self, text):
        end = 0
        for start, stop in platewright.decode(text).spans:
            self.assertLessEqual(end, start)
            self.assertLess(start, stop)
            end = stop
        self.assertLessEqual(end, len(text))

    @given(st.lists(NUMBERS, max_size=20))
    def test_a_batch_says_what_grade_says(self, texts):
        batch = platewright.batch(texts)
        self.assertEqual([verdict.number for verdict in batch], texts)
        self.assertEqual([verdict.grade for verdict in batch], list(map(platewright.grade, texts)))

    @given(NUMBERS)
    def test_what_was_read_reads_the_same_again(self, text):
        first = platewright.decode(text)
        assume("\ufffd" not in first.number)    # stands for what no text can show
        again = platewright.decode(first.number)
        self.assertEqual(again.number, first.number)
        self.assertEqual(again.readings, first.readings)

    @given(NUMBERS)
    def test_all_formats_of_all_texts(self, text):
        for format in ("text", "markdown", "json", "svg", "html"):
            self.assertNotIn("\0", platewright.explain(text, format))

    @given(altered(), st.integers(1, 17))
    def test_a_number_that_a_layout_takes_is_never_impossible_to_begin(self, text, length):
        findings = {finding.name for finding in platewright.validate(text).findings}
        if not findings & {"character", "length", "no-scheme"}:
            self.assertNotEqual(platewright.prefix(text[:length]).state, "impossible")

    @given(altered())
    def test_a_suggestion_is_better(self, text):
        result = platewright.suggest(text)
        for suggestion in result.suggestions:
            self.assertLess(GRADES.index(suggestion.grade), GRADES.index(result.grade))
            self.assertEqual(platewright.grade(suggestion.number), suggestion.grade)

    @given(st.dictionaries(st.sampled_from(("dash", "engine", "door_label")), NUMBERS),
           st.dictionaries(st.sampled_from(("casting", "label")), st.text(max_size=12)))
    def test_every_car_can_be_compared(self, plates, dates):
        comparison = platewright.compare(plates, dates=dates)
        self.assertEqual([plate.place for plate in comparison.plates], list(plates))
        self.assertEqual([date.kind for date in comparison.dates], list(dates))
        self.assertTrue(all(days.first <= days.last for date in comparison.dates
                            for days in date.days))

    @given(st.binary(max_size=300))
    def test_bytes(self, data):
        if len(data) > platewright.MAX_TEXT:
            with self.assertRaises(platewright.TooLongError):
                platewright.decode(data)
        else:
            self.assertEqual(platewright.grade(data), platewright.validate(data).grade)

    @given(st.binary(max_size=400))
    def test_what_is_no_image_is_refused(self, data):
        with self.assertRaises(platewright.TablesError):
            platewright.Tables(data)

    @given(st.text(max_size=200))
    def test_every_names_text_is_taken(self, text):
        with platewright.Names(text) as names:
            self.assertLessEqual(len(names.problems), text.count("\n") + 1)


if __name__ == "__main__":
    unittest.main()
