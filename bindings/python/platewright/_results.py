# SPDX-License-Identifier: MIT
"""What there is to say about one number. All of it is immutable."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Mapping, Optional, Tuple, Union


@dataclass(frozen=True)
class Meaning:
    """One row of the tables: what a code means, and how sure that is."""

    key: str                        #: stable key of the row
    words: str
    remark: str                     #: "" when there is none
    condition: str                  #: when the row holds, in words; "" when always
    years: Tuple[Tuple[int, int], ...]  #: runs of model years, first and last
    standing: str                   #: "published", "practice" or "memory"
    marks: Tuple[str, ...]          #: of "disputed", "either", "doubtful"
    attributes: Mapping[str, Union[int, float, str]]  #: what the row states for programs
    sources: Tuple[str, ...]        #: keys
    displacement_cc: Optional[float] = None
    displacement_cu_in: Optional[float] = None


@dataclass(frozen=True)
class Field:
    """A field of a reading."""

    name: str = dataclasses.field(metadata={"key": "field"})
    label: str
    positions: Tuple[int, ...]      #: from 1
    code: str
    state: str                      #: "known", "unknown", "unreadable", "plain" or "check"
    detail: bool                    #: only adds detail to other fields
    meanings: Tuple[Meaning, ...]
    excludes_years: Tuple[int, ...]  #: years the year character allows and this field does not


@dataclass(frozen=True)
class Check:
    """The check character of a reading."""

    state: str                      #: "none", "fits", "fails" or "open"
    expected: Optional[str]         #: None when it cannot be computed


@dataclass(frozen=True)
class Reading:
    """One way to read the number."""

    scheme: str
    title: str
    number: str                     #: misread characters replaced
    grade: str
    years: Tuple[int, ...]          #: empty when the fields exclude each other
    fields: Tuple[Field, ...]
    check: Check

    def field(self, name: str) -> Field:
        """The field of that name; KeyError when the reading has none."""
        for field in self.fields:
            if field.name == name:
                return field
        raise KeyError(name)


@dataclass(frozen=True)
class Settling:
    """Codes of a field that would settle which model year it is."""

    reading: int                    #: index of the reading it would settle for
    years: Tuple[int, ...]          #: the model years it would settle for
    field: str
    label: str
    positions: Tuple[int, ...]
    codes: Tuple[str, ...]


@dataclass(frozen=True)
class Finding:
    """Something validation has to say."""

    name: str = dataclasses.field(metadata={"key": "code"})  #: stable, "check-wrong"
    number: int                     #: stable
    grade: str                      #: "note", "doubt" or "fault"
    reading: Optional[int]          #: index of the reading; None: the number itself
    positions: Tuple[int, ...]
    sentence: str


@dataclass(frozen=True)
class Change:
    """A character that a suggestion has in place of the one that was typed."""

    position: int                   #: from 1
    typed: str
    meant: str


@dataclass(frozen=True)
class Suggestion:
    """A nearby number that would hold: a guess, for somebody who can look again."""

    number: str
    grade: str                      #: the grade it would have
    standing: str                   #: of the misread pairs; "memory" when it rests on none
    changes: Tuple[Change, ...]
    sentence: str


@dataclass(frozen=True)
class Claim:
    """What was claimed, held against the number."""

    claim: str                      #: as given, "engine=440 V8"
    attribute: Optional[str]        #: stable name; None: not known
    value: str                      #: as given
    verdict: str                    #: "supported", "contradicted" or "not-told"
    reason: str                     #: why it is not told; else "none"
    reading: Optional[int]          #: index of the best reading that supports it
    positions: Tuple[int, ...]
    rows: Tuple[str, ...]           #: keys of the rows that decide or leave it open
    standing: Optional[str]         #: the weakest of these rows
    marks: Tuple[str, ...]          #: that any of them has
    sentence: str


@dataclass(frozen=True)
class Row:
    """A row of the tables that speaks for something."""

    key: str
    words: str
    standing: str                   #: "published", "practice" or "memory"
    sources: Tuple[str, ...]        #: keys


@dataclass(frozen=True)
class Source:
    """A citable publication."""

    key: str
    citation: str
    address: str                    #: "" when there is none


@dataclass(frozen=True)
class Edition:
    """The tables that an answer came from. Keep the digest where you file it."""

    edition: str                    #: the date written in the tables
    digest: str


@dataclass(frozen=True)
class Result:
    """All there is to say about one number."""

    number: str                     #: as read
    spans: Tuple[Tuple[int, int], ...]  #: start and end of each position in the text given
    grade: str                      #: of the best reading; "clear" after decode
    readings: Tuple[Reading, ...]   #: best first
    settling: Tuple[Settling, ...]  #: what would tell open model years apart
    findings: Tuple[Finding, ...]   #: gravest first; empty after decode
    tables: Edition
    cautions: Tuple[str, ...]       #: outputs for people must close with them
    sources: Tuple[Source, ...]     #: the sources that meanings name
    claims: Tuple[Claim, ...] = ()  #: in the order given
    suggestions: Tuple[Suggestion, ...] = ()  #: of suggest, nearest first
    suggestions_left_out: int = 0   #: how many more were found than are offered


@dataclass(frozen=True)
class Prefix:
    """What the beginning of a number leaves open."""

    state: str                      #: "impossible", "open" or "complete"
    schemes: Tuple[str, ...]        #: keys of those it can belong to
    allowed: str                    #: characters that can come next
    known: str                      #: those that lead on to what the tables list
    remaining_min: int              #: characters still to come
    remaining_max: int
