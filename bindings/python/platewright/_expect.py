# SPDX-License-Identifier: MIT
"""Expect: from claims to the numbers that could bear them."""

from __future__ import annotations

import ctypes
import json
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Iterator, Optional, Tuple

from ._arguments import FORMATS, SOURCES, Claims, Text, claim_bytes, format_number
from ._arguments import hint_bytes, number_bytes
from ._convert import build
from ._handles import Handle, make, opened
from ._library import CONSTANTS, INT, UINT, check, library, text_of
from ._names import Names
from ._results import Edition, Row, Source
from ._tables import Tables

_PAGE = 1 << 16                     #: bytes that most expectations fit into
_COVERED = {CONSTANTS["PLW_COVERED"]: True, CONSTANTS["PLW_COVERED_NOT"]: False,
            CONSTANTS["PLW_COVERED_OPEN"]: None}


@dataclass(frozen=True)
class ExpectedClaim:
    """A claim that numbers were looked for with."""

    text: str                       #: as given, "engine=440 V8"
    attribute: str                  #: stable name; "" when it is not known
    understood: bool                #: if not, it is open in every pattern
    rules_out: bool                 #: one of the fewest claims that leave nothing
    left_without: bool              #: without it there would be patterns


@dataclass(frozen=True)
class Pattern:
    """A number with sets of characters, "?27[RZ]8P??????"; decode takes it."""

    pattern: str                    #: '?' is all that the layout allows
    scheme: str
    title: str
    length: int                     #: how many characters it has
    years: Tuple[int, ...]          #: model years for which it was made
    range: str                      #: running numbers, "100001+"; "" when none are known
    tells: Tuple[int, ...]          #: indices of claims that all it covers supports
    open: Tuple[int, ...]           #: indices of the other claims
    rows: Tuple[Row, ...]           #: what speaks for the claims
    more_rows: bool                 #: more rows do than are listed
    standing: Optional[str]         #: the weakest of these rows
    marks: Tuple[str, ...]          #: that any of them has
    sentence: str


@dataclass(frozen=True)
class Expectation:
    """The patterns of the numbers that could bear the claims."""

    summary: str                    #: how many there are, or why there is none
    claims: Tuple[ExpectedClaim, ...]  #: in the order given
    patterns: Tuple[Pattern, ...]   #: those first that leave the fewest claims open
    capped: bool                    #: there is more than is listed
    tables: Edition
    cautions: Tuple[str, ...]       #: outputs for people must close with them
    sources: Tuple[Source, ...]     #: the sources that rows name


@dataclass(frozen=True)
class Coverage:
    """Whether a pattern covers a number."""

    covered: Optional[bool]         #: None: the number's unreadable characters decide
    position: Optional[int]         #: the first that does not fit or is open


@contextmanager
def _filled(claims: Claims, hints: Optional[bytes], tables: Optional[Tables],
            names: Optional[Names]) -> Iterator[Handle]:
    """A native expectation; what it rests on is held until it was used."""
    tables_handle, names_handle, listed = opened(tables), opened(names), claim_bytes(claims)
    found = make(library.plw_expectation_new, library.plw_expectation_free)
    check(library.plw_expectation_use_names(found, names_handle))
    check(library.plw_expect(tables_handle, listed, len(listed), hints, 0, found))
    yield found


def _explanation(found: Handle, format: int, flags: int) -> str:
    return text_of(library.plw_explain_expectation, found, format, flags, guess=_PAGE)


def expect(claims: Claims, *, maker: Optional[str] = None, year: Optional[int] = None,
           scheme: Optional[str] = None, tables: Optional[Tables] = None,
           names: Optional[Names] = None) -> Expectation:
    """For every scheme, the patterns of the numbers that could bear the claims.

    claims, tables, names as for decode; the hints rank patterns and hide none.

    >>> expect({"year": 1971, "body": "convertible",
    ...         "engine": "440 six-barrel"}).patterns[0].pattern
    '??27V1???????'

    Raises TooLongError, HintError, ClaimError."""
    with _filled(claims, hint_bytes(maker, year, scheme), tables, names) as found:
        return build(Expectation, json.loads(_explanation(found, FORMATS["json"], SOURCES)))


def explain_expectation(claims: Claims, format: str = "text", *, sources: bool = False,
                        maker: Optional[str] = None, year: Optional[int] = None,
                        scheme: Optional[str] = None, tables: Optional[Tables] = None,
                        names: Optional[Names] = None) -> str:
    """What expect finds, in words. format: one of plw_explain_expectation(3).

    Raises FormatError for another format, and what expect raises."""
    number_of_format, hints = format_number(format), hint_bytes(maker, year, scheme)
    with _filled(claims, hints, tables, names) as found:
        return _explanation(found, number_of_format, SOURCES if sources else 0)


def covers(pattern: Text, number: Text) -> Coverage:
    """The reverse of expect: does a pattern cover a number? Both are read as by
    decode, without tables: no character is taken for another.

    >>> covers("?27[MR]6???????", "S27Z6P100001")
    Coverage(covered=False, position=4)

    Raises TooLongError, TypeError."""
    wanted, given = number_bytes(pattern), number_bytes(number)
    answer, position = INT(), UINT()
    check(library.plw_pattern_covers(wanted, len(wanted), given, len(given),
                                     ctypes.byref(answer), ctypes.byref(position)))
    return Coverage(_COVERED[answer.value], position.value or None)
