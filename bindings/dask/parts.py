# SPDX-License-Identifier: MIT
"""One part of a catalogue, checked where a worker is.

A part is a CSV file with a header line. Nothing of it is kept but counts, which
add up: Counter({("grade", "clear"): 970, ("finding", "check-wrong"): 12 ...})."""

import csv
import itertools
from collections import Counter

import platewright

#: Numbers for one call of the library. More of them are no quicker.
BATCH = 10_000


def numbers_of(path, column):
    """The numbers in that column, row by row; "" where a row is too short."""
    with open(path, newline="", encoding="utf-8-sig", errors="replace") as file:
        rows = csv.reader(file)
        header = next(rows, [])
        if column not in header:
            raise ValueError(f"{path} has no column {column!r}; it has {header}")
        place = header.index(column)
        for row in rows:
            if row:
                yield row[place] if place < len(row) else ""


def count(batch):
    """The verdicts of a batch, counted. Many are the same, so words are looked up
    for one of each kind only."""
    integers = batch.integers()
    kinds = list(zip(integers["status"], integers["grade"], integers["finding"],
                     integers["scheme"]))
    an_index = dict(zip(kinds, itertools.count()))
    counts = Counter()
    for kind, times in Counter(kinds).items():
        verdict = batch[an_index[kind]]
        for what in ("error", "grade", "finding", "scheme"):
            if getattr(verdict, what) is not None:
                counts[what, getattr(verdict, what)] += times
        counts["rows", "all"] += times
    return counts


def check_part(path, column):
    """The counts of one part, in memory that does not grow with it."""
    numbers = numbers_of(path, column)
    counts = Counter()
    while True:
        chunk = list(itertools.islice(numbers, BATCH))
        if not chunk:
            return counts
        counts += count(platewright.batch(chunk))
