# SPDX-License-Identifier: MIT
"""Many numbers by one call."""

from __future__ import annotations

import itertools
from array import array
from typing import Any, Dict, Iterable, List, NamedTuple, Optional, Sequence, Union, overload

from ._arguments import Text, hint_bytes, number_bytes
from ._handles import opened
from ._library import CONSTANTS, INT, OK, SIZE, check, family, library, status_name
from ._tables import Tables

_WIDTH = CONSTANTS["PLW_BATCH_COLUMNS"]
#: The place of each value in a row: "grade": 1.
_PLACES = {name: place for name, place in family("PLW_BATCH_").items() if name != "columns"}
_GRADES = {grade: library.plw_grade_name(grade).decode()
           for grade in family("PLW_GRADE_").values()}
_FINDINGS = {code: name.replace("_", "-") for name, code in family("PLW_FINDING_").items()}


class Verdict(NamedTuple):
    """What a batch says about one number; None where there is nothing to say."""

    number: Text                    #: as given
    error: Optional[str]            #: why it was not read, "PLW_E_TOO_LONG"
    grade: Optional[str]            #: "clear", "note", "doubt" or "fault"
    finding: Optional[str]          #: the gravest, "check-wrong"
    scheme: Optional[str]           #: of the best reading
    first_year: Optional[int]       #: model years of the best reading; there can be
    last_year: Optional[int]        #: years between the two that it does not allow
    readings: int                   #: how many there are
    findings: int


class Batch(Sequence[Verdict]):
    """The verdicts on many numbers, in the order given. A Verdict is made when it
    is looked at."""

    def __init__(self, numbers: Sequence[Text], rows: Any, schemes: Sequence[str]) -> None:
        self._numbers = numbers
        self._rows = memoryview(rows).cast("B").cast("i")
        self._schemes = schemes

    def __len__(self) -> int:
        return len(self._numbers)

    @overload
    def __getitem__(self, index: int) -> Verdict: ...

    @overload
    def __getitem__(self, index: slice) -> List[Verdict]: ...

    def __getitem__(self, index: Union[int, slice]) -> Union[Verdict, List[Verdict]]:
        places = range(len(self))[index]
        if isinstance(places, range):
            return [self._verdict(place) for place in places]
        return self._verdict(places)

    def _verdict(self, place: int) -> Verdict:
        number, row = self._numbers[place], self._rows[place * _WIDTH:(place + 1) * _WIDTH]
        status, scheme = row[_PLACES["status"]], row[_PLACES["scheme"]]
        if status != OK:
            return Verdict(number, status_name(status), None, None, None, None, None, 0, 0)
        return Verdict(
            number=number, error=None, grade=_GRADES[row[_PLACES["grade"]]],
            finding=_FINDINGS.get(row[_PLACES["finding"]]),
            scheme=None if scheme < 0 else self._schemes[scheme],
            first_year=row[_PLACES["first_year"]] or None,
            last_year=row[_PLACES["last_year"]] or None,
            readings=row[_PLACES["readings"]], findings=row[_PLACES["findings"]])

    def columns(self) -> Dict[str, List[Any]]:
        """All verdicts as lists by the names of a Verdict:
        ``pandas.DataFrame(batch.columns())``."""
        columns: Dict[str, List[Any]] = {name: [] for name in Verdict._fields}
        for verdict in self:
            for column, value in zip(columns.values(), verdict):
                column.append(value)
        return columns

    def integers(self) -> Dict[str, "array[int]"]:
        """The library's own values as arrays, by the names of plw_batch(3), for
        NumPy and others that read buffers. It is quicker than words."""
        return {name: array("i", self._rows[place::_WIDTH].tobytes())
                for name, place in _PLACES.items()}


def batch(numbers: Iterable[Text], *, maker: Optional[str] = None, year: Optional[int] = None,
          scheme: Optional[str] = None, tables: Optional[Tables] = None) -> Batch:
    """The verdicts on many numbers by one call of the library, which other
    threads need not wait for. The hints are for all numbers.

    A number that is too long has its error in its Verdict and does not end the
    batch. Memory grows with the batch: hand over ten thousand numbers at a time
    rather than a million.

    Raises HintError, TypeError."""
    given = list(numbers)
    texts = [number_bytes(number) for number in given]
    handle, hints = opened(tables), hint_bytes(maker, year, scheme)
    ends = (SIZE * len(texts))(*itertools.accumulate(map(len, texts)))
    rows = (INT * (len(texts) * _WIDTH))()
    check(library.plw_batch(handle, b"".join(texts), ends, len(texts), hints, 0, rows))
    schemes = [library.plw_scheme_key(handle, index).decode()
               for index in range(library.plw_scheme_count(handle))]
    return Batch(given, rows, schemes)
