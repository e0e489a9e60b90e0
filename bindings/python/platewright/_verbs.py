# SPDX-License-Identifier: MIT
"""The verbs: one number in, all there is to say about it out."""

from __future__ import annotations

import ctypes
import json
from contextlib import contextmanager
from typing import Any, Iterator, List, Optional, Tuple

from ._arguments import SOURCES, Claims, Text, claim_bytes, format_number, hint_bytes
from ._arguments import FORMATS, number_bytes
from ._convert import build
from ._handles import Handle, make, opened
from ._library import CONSTANTS, INT, SIZE, check, family, library, text_of
from ._names import Names
from ._results import Prefix, Result
from ._tables import Tables

_PAGE = 1 << 14                     #: bytes that most explanations fit into
_MAX_POSITIONS = CONSTANTS["PLW_MAX_POSITIONS"]
_PREFIX_STATES = {value: name for name, value in family("PLW_PREFIX_").items()}

#: Native results that no call uses at the moment. list.pop and list.append are
#: atomic, so a result serves one call of one thread at a time.
_idle: List[Handle] = []


@contextmanager
def _native_result() -> Iterator[Handle]:
    try:
        result = _idle.pop()
    except IndexError:
        result = make(library.plw_result_new, library.plw_result_free)
    try:
        yield result
    finally:
        _idle.append(result)


@contextmanager
def _filled(verb: Any, text: bytes, hints: Optional[bytes], tables: Optional[Tables],
            names: Optional[Names], claims: Optional[Claims]) -> Iterator[Handle]:
    """A native result that the verb has filled. The tables and names it rests on
    are held until the caller has taken out what it needs."""
    tables_handle, names_handle, listed = opened(tables), opened(names), claim_bytes(claims)
    with _native_result() as result:
        check(library.plw_result_use_names(result, names_handle))
        check(verb(tables_handle, text, len(text), hints, 0, result))
        check(library.plw_check_claims(result, listed, len(listed)))
        yield result


def _explanation(result: Handle, format: int, flags: int) -> str:
    return text_of(library.plw_explain, result, format, flags, guess=_PAGE)


def _spans(result: Handle, number: Text, text: bytes) -> Tuple[Tuple[int, int], ...]:
    """The library counts bytes; a str is indexed by characters."""
    offset, length = SIZE(), SIZE()
    spans = []
    count = min(library.plw_result_position_count(result), _MAX_POSITIONS)
    for position in range(1, count + 1):
        check(library.plw_result_position(result, position, ctypes.byref(offset),
                                          ctypes.byref(length)))
        start, end = offset.value, offset.value + length.value
        if isinstance(number, str):
            start, end = len(text[:start].decode()), len(text[:end].decode())
        spans.append((start, end))
    return tuple(spans)


def _run(verb: Any, number: Text, hints: Optional[bytes], tables: Optional[Tables],
         names: Optional[Names], claims: Optional[Claims]) -> Result:
    text = number_bytes(number)
    with _filled(verb, text, hints, tables, names, claims) as result:
        document = json.loads(_explanation(result, FORMATS["json"], SOURCES))
        return build(Result, document, spans=_spans(result, number, text))


def decode(number: Text, *, maker: Optional[str] = None, year: Optional[int] = None,
           scheme: Optional[str] = None, tables: Optional[Tables] = None,
           names: Optional[Names] = None, claims: Optional[Claims] = None) -> Result:
    """Every way to read the number, ranked.

    number: as typed or scanned; '?' stands for a character that cannot be read,
        '[8B]' for one that can be either.
    maker, year, scheme: what you believe; they rank readings and hide none.
    tables: another set than the compiled-in one.
    names: your own words; made for the same tables.
    claims: what a listing says, attribute: value, as plw_check_claims(3) lists
        them ({"year": 1966, "engine": "426 cu in V8"}); see Result.claims.

    Raises TooLongError, HintError, ClaimError, TypeError."""
    return _run(library.plw_decode, number, hint_bytes(maker, year, scheme), tables, names,
                claims)


def validate(number: Text, *, maker: Optional[str] = None, year: Optional[int] = None,
             scheme: Optional[str] = None, tables: Optional[Tables] = None,
             names: Optional[Names] = None, claims: Optional[Claims] = None) -> Result:
    """Like decode, and all findings."""
    return _run(library.plw_validate, number, hint_bytes(maker, year, scheme), tables, names,
                claims)


def suggest(number: Text, *, maker: Optional[str] = None, year: Optional[int] = None,
            scheme: Optional[str] = None, tables: Optional[Tables] = None,
            names: Optional[Names] = None, claims: Optional[Claims] = None) -> Result:
    """Like validate, and where the number does not hold the nearest numbers that
    would, as guesses. Nothing of them is applied to the readings."""
    return _run(library.plw_suggest, number, hint_bytes(maker, year, scheme), tables, names,
                claims)


def explain(number: Text, format: str = "text", *, sources: bool = False,
            maker: Optional[str] = None, year: Optional[int] = None,
            scheme: Optional[str] = None, tables: Optional[Tables] = None,
            names: Optional[Names] = None, claims: Optional[Claims] = None) -> str:
    """The reading in words, with claims, findings and cautions.

    format: "text" for 80 columns, "markdown", "json" (one object; its schema is
        installed with the library), "svg" (a drawing of the best reading, safe
        inside a page) or "html" (a page that stands alone).
    sources: list the sources in full.

    Raises FormatError for another format, and what decode raises."""
    number_of_format, hints = format_number(format), hint_bytes(maker, year, scheme)
    with _filled(library.plw_validate, number_bytes(number), hints, tables, names,
                 claims) as result:
        return _explanation(result, number_of_format, SOURCES if sources else 0)


def grade(number: Text, *, maker: Optional[str] = None, year: Optional[int] = None,
          scheme: Optional[str] = None, tables: Optional[Tables] = None) -> str:
    """Just the grade: "clear", "note", "doubt" or "fault"."""
    text, answer = number_bytes(number), INT()
    check(library.plw_grade(opened(tables), text, len(text), hint_bytes(maker, year, scheme), 0,
                            ctypes.byref(answer)))
    return str(library.plw_grade_name(answer), "ascii")


def prefix(text: Text, *, tables: Optional[Tables] = None) -> Prefix:
    """What the beginning of a number leaves open: for a form, at every key stroke."""
    beginning, handle = number_bytes(text), opened(tables)
    with _native_result() as result:
        check(library.plw_prefix(handle, beginning, len(beginning), 0, result))
        return Prefix(
            state=_PREFIX_STATES[library.plw_prefix_state(result)],
            schemes=tuple(
                library.plw_scheme_key(handle, library.plw_prefix_scheme(result, i)).decode()
                for i in range(library.plw_prefix_scheme_count(result))),
            allowed=text_of(library.plw_prefix_allowed, result),
            known=text_of(library.plw_prefix_known, result),
            remaining_min=library.plw_prefix_remaining_min(result),
            remaining_max=library.plw_prefix_remaining_max(result))
