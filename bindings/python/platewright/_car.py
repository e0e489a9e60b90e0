# SPDX-License-Identifier: MIT
"""Cars: plates and dates held against each other."""

from __future__ import annotations

import itertools
import json
import threading
from typing import Any, Dict, Mapping, Optional, Sequence, Union

from ._arguments import FORMATS, SOURCES, Claims, Text, claim_bytes, format_number
from ._arguments import hint_bytes, number_bytes
from ._comparison import Comparison
from ._convert import build
from ._handles import Handle, Owner, make, opened
from ._library import check, library, text_of
from ._names import Names
from ._tables import Tables

_PAGE = 1 << 15                     #: bytes that most comparisons fit into

#: place or kind: one text, or several when there are several such plates or dates.
Texts = Mapping[str, Union[Text, Sequence[Text]]]


def _numbers(name_of: Any) -> Dict[str, int]:
    """What the library has names for, counted from 1, by name."""
    names = (name_of(number).decode() for number in itertools.count(1))
    return {name: number for number, name in enumerate(itertools.takewhile(bool, names), 1)}


_PLACES = _numbers(library.plw_place_name)
_DATE_KINDS = _numbers(library.plw_date_kind_name)


def _number(what: str, names: Mapping[str, int], name: str) -> int:
    try:
        return names[name]
    except KeyError:
        raise ValueError(f"there is no {what} {name!r}; use one of {', '.join(names)}") from None


class Car(Owner):
    """Collects what was found where, and compares it.

    >>> import platewright
    >>> with platewright.Car() as car:
    ...     car.add_plate("dash", "RM23V0A149789")
    ...     car.add_plate("engine", "0A149?89")
    ...     car.compare().verdict
    'agrees'

    Threads that share a car wait for each other. After close, methods raise
    ValueError."""

    def __init__(self, *, names: Optional[Names] = None) -> None:
        """An empty car. names: your own words, made for the tables that will be
        compared with."""
        self._lock = threading.Lock()
        self._tables: Optional[Handle] = None
        handle = opened(names)
        self._handle = make(library.plw_car_new, library.plw_car_free, keeps=handle)
        check(library.plw_car_use_names(self._handle, handle))

    def close(self) -> None:
        with self._lock:
            super().close()
            self._tables = None

    def clear(self) -> None:
        """Takes everything away that was added."""
        with self._lock:
            library.plw_car_clear(self._open())

    def add_plate(self, place: str, number: Text) -> None:
        """Adds a plate: dash, door_label, body_tag, certification_label, engine,
        gearbox or body, more than once if there are several such plates. Raises
        ValueError for another place, TooLongError for a longer text or one plate
        too many."""
        text, where = number_bytes(number), _number("place", _PLACES, place)
        with self._lock:
            check(library.plw_car_add_plate(self._open(), where, text, len(text)))

    def add_date(self, kind: str, code: Text) -> None:
        """Adds a date code as it was found ("8C1"): casting, assembly, body_tag or
        label. Raises ValueError for another kind, TooLongError for a longer text
        or one date too many."""
        text, which = number_bytes(code), _number("kind of date", _DATE_KINDS, kind)
        with self._lock:
            check(library.plw_car_add_date(self._open(), which, text, len(text)))

    def compare(self, *, maker: Optional[str] = None, year: Optional[int] = None,
                scheme: Optional[str] = None, tables: Optional[Tables] = None,
                claims: Optional[Claims] = None) -> Comparison:
        """Holds all plates and dates against each other, and the claims against
        the joined number. The full number may be missing: stamps alone are joined,
        too. Arguments as for decode."""
        hints, listed = hint_bytes(maker, year, scheme), claim_bytes(claims)
        with self._lock:
            car = self._open()
            self._tables = opened(tables)   # explain needs them later
            check(library.plw_compare(self._tables, car, hints, 0))
            check(library.plw_car_check_claims(car, listed, len(listed)))
            document = json.loads(self._text(FORMATS["json"], SOURCES))
        return build(Comparison, document)

    def explain(self, format: str = "text", *, sources: bool = False) -> str:
        """The last comparison in words. format: one of plw_explain_car(3). Raises
        FormatError for another."""
        number_of_format = format_number(format)
        with self._lock:
            return self._text(number_of_format, SOURCES if sources else 0)

    def _text(self, format: int, flags: int) -> str:
        return text_of(library.plw_explain_car, self._open(), format, flags, guess=_PAGE)


def _fill(car: Car, plates: Texts, dates: Optional[Texts]) -> None:
    for add, given in ((car.add_plate, plates), (car.add_date, dates or {})):
        for name, texts in given.items():
            for text in [texts] if isinstance(texts, (str, bytes)) else texts:
                add(name, text)


def compare(plates: Texts, *, dates: Optional[Texts] = None, maker: Optional[str] = None,
            year: Optional[int] = None, scheme: Optional[str] = None,
            tables: Optional[Tables] = None, names: Optional[Names] = None,
            claims: Optional[Claims] = None) -> Comparison:
    """The plates and dates of one car against each other, in one call.

    plates: place: text as typed, or a list of texts; see Car.add_plate.
    dates: kind: date code, or a list of them; see Car.add_date.

    >>> compare({"dash": "RM23V0A149789", "engine": "0A149?89"}).verdict
    'agrees'
    """
    with Car(names=names) as car:
        _fill(car, plates, dates)
        return car.compare(maker=maker, year=year, scheme=scheme, tables=tables, claims=claims)


def explain_car(plates: Texts, format: str = "text", *, sources: bool = False,
                dates: Optional[Texts] = None, maker: Optional[str] = None,
                year: Optional[int] = None, scheme: Optional[str] = None,
                tables: Optional[Tables] = None, names: Optional[Names] = None,
                claims: Optional[Claims] = None) -> str:
    """The comparison for people, in one call; see Car.explain."""
    with Car(names=names) as car:
        _fill(car, plates, dates)
        car.compare(maker=maker, year=year, scheme=scheme, tables=tables, claims=claims)
        return car.explain(format, sources=sources)
