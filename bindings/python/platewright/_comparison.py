# SPDX-License-Identifier: MIT
"""What there is to say about the plates and dates of a car. All of it is immutable."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from typing import Optional, Tuple

from ._results import Claim, Edition, Finding, Row, Source


@dataclass(frozen=True)
class Disagreement:
    """Another plate, and where it differs."""

    plate: int                      #: its index
    positions: Tuple[int, ...]


@dataclass(frozen=True)
class Plate:
    """One plate of a car, held against the others."""

    place: str                      #: "dash", "engine"
    label: str
    number: str                     #: as read
    taken: str                      #: "full", "partial" or "not" understood
    row: Optional[Row]              #: what tells which part it repeats or why it is not expected
    positions: Tuple[int, ...]      #: of the full number, from 1
    shows: Tuple[str, ...]          #: what it shows at these positions
    verdict: str                    #: "agrees", "differs", "cannot-compare" or "not-expected"
    agrees_with: Tuple[int, ...]    #: indices of plates
    differs_from: Tuple[Disagreement, ...]
    sentence: str


@dataclass(frozen=True)
class Difference:
    """A character that plates show where others show another."""

    position: int
    shows: str
    plates: Tuple[int, ...]         #: indices of plates
    years: Tuple[int, ...]          #: model years that it leaves
    rows: Tuple[Row, ...]           #: what its field would mean
    sentence: str


@dataclass(frozen=True)
class Missing:
    """A place where the tables expect the number and nothing was given."""

    place: str
    label: str
    row: Row
    sentence: str


@dataclass(frozen=True)
class Joined:
    """What the plates say together: '[8B]' where they differ, '?' where none can be read."""

    scheme: str
    title: str
    number: str


@dataclass(frozen=True)
class Days:
    """A run of days, from the first to the last."""

    first: datetime.date
    last: datetime.date


@dataclass(frozen=True)
class Date:
    """A date code, held against the car and its other dates."""

    kind: str                       #: "casting", "assembly", "body_tag" or "label"
    label: str
    text: str                       #: as read
    days: Tuple[Days, ...]          #: all that it can mean
    days_capped: bool               #: it can mean more
    verdict: str                    #: "fits", "later", "order", "early" or "open"
    reason: str                     #: why it is open; else "none"
    grade: str
    row: Optional[Row]              #: what tells how the date is written
    rule: Optional[Row]             #: the rule of thumb by which it is early
    against: Optional[int]          #: index of the other date that the verdict rests on
    sentence: str


@dataclass(frozen=True)
class CarReading:
    """The reading that a comparison rests on."""

    scheme: str
    title: str
    number: str
    years: Tuple[int, ...]


@dataclass(frozen=True)
class Comparison:
    """All there is to say about the plates and dates of one car."""

    verdict: str                    #: as of a plate, on the whole; dates are no part of it
    summary: str
    plates: Tuple[Plate, ...]       #: in the order given
    differences: Tuple[Difference, ...]  #: by position
    missing: Tuple[Missing, ...] = field(metadata={"key": "expected_not_given"})
    joined: Tuple[Joined, ...]      #: best first
    joined_capped: bool             #: more schemes fit than are listed
    date_verdict: Optional[str]     #: that speaks most against a date; None without dates
    built: Optional[Days]           #: when the car can have been built
    dates: Tuple[Date, ...]         #: in the order given
    reading: Optional[CarReading]   #: of the first joined number
    findings: Tuple[Finding, ...]   #: on the first joined number
    next: Tuple[str, ...]           #: what to look at next, in sentences
    tables: Edition
    cautions: Tuple[str, ...]       #: outputs for people must close with them
    sources: Tuple[Source, ...]     #: the sources that rows name
    claims: Tuple[Claim, ...] = ()  #: in the order given; reading: of the joined number
