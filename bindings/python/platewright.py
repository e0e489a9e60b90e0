# SPDX-License-Identifier: MIT
"""Platewright for Python: read the numbers stamped on collector cars.

    >>> import platewright
    >>> result = platewright.validate("3Y86N400001")
    >>> result.readings[0].years
    (1963,)
    >>> print(platewright.explain("3Y86N400001"))      # doctest: +SKIP

The module calls the installed C library through ctypes and adds no logic of its
own. Functions may be called from several threads at once. Results are plain,
immutable objects. Every number can be read, however odd: what is strange about
it comes back as findings, not as an exception.
"""

from __future__ import annotations

import ctypes
import ctypes.util
import json
import os
import threading
from dataclasses import dataclass
from typing import Any, Mapping, Optional, Sequence, Tuple, Union

__all__ = [
    "Error", "LibraryError", "TooLongError", "HintError", "ClaimError", "TablesError",
    "Change", "Claim", "Field", "Finding", "Meaning", "NameProblem", "Names", "Prefix", "Reading",
    "Result", "Scheme", "Source", "Suggestion", "Tables",
    "Comparison", "Difference", "Joined", "Missing", "Plate", "Row",
    "decode", "validate", "suggest", "explain", "grade", "prefix",
    "compare", "explain_car", "library_version",
]

#: The oldest library this module works with, and the release line it belongs to.
_OLDEST = 100
_MAJOR = 0

#: The library's limit for one number, in bytes of UTF-8.
MAX_TEXT = 256
_MAX_POSITIONS = 32

_FORMATS = {"text": 0, "markdown": 1, "json": 2, "svg": 3}
_SOURCES = 1
_GRADES = ("clear", "note", "doubt", "fault")


class Error(Exception):
    """Anything the library refuses. ``status`` is its PLW_E_ code."""

    def __init__(self, message: str, status: int = 0) -> None:
        super().__init__(message)
        self.status = status


class LibraryError(Error, ImportError):
    """The C library is missing, too old, or of another major version."""


class TooLongError(Error, ValueError):
    """The number, the hints, the claims or the names are longer than the library takes."""


class HintError(Error, ValueError):
    """A hint cannot be understood."""


class ClaimError(Error, ValueError):
    """A claim cannot be handed over; one that is not understood is no error."""


class TablesError(Error, ValueError):
    """The bytes are not a table image this library can open."""


_ERRORS = {-3: TooLongError, -6: TablesError, -7: TablesError, -9: HintError,
           -10: ClaimError}


# ---- the library -------------------------------------------------------------

def _candidates() -> Tuple[str, ...]:
    """Where the library is looked for, in order."""
    named = os.environ.get("PLATEWRIGHT_LIBRARY")
    if named:
        return (named,)
    found = ctypes.util.find_library("platewright")
    usual = ("libplatewright.so.0", "libplatewright.0.dylib", "platewright-0.dll")
    return ((found,) if found else ()) + usual


def _load() -> ctypes.CDLL:
    names = _candidates()
    for name in names:
        try:
            return ctypes.CDLL(name)
        except OSError:
            continue
    raise LibraryError(
        "the platewright library cannot be loaded (tried " + ", ".join(names) + "); "
        "install it, or name its file in PLATEWRIGHT_LIBRARY")


def _check_version(library: ctypes.CDLL) -> None:
    try:
        number = library.plw_version_number
    except AttributeError:
        raise LibraryError("the library found is not platewright") from None
    number.restype, number.argtypes = ctypes.c_uint32, []
    if number() // 10000 != _MAJOR or number() < _OLDEST:
        raise LibraryError(
            f"this module needs platewright {_MAJOR}.x from number {_OLDEST} on; "
            f"the library found has number {number()}")


_POINTER, _TEXT, _SIZE = ctypes.c_void_p, ctypes.c_char_p, ctypes.c_size_t
_INT, _UINT = ctypes.c_int32, ctypes.c_uint32
_NEEDED = ctypes.POINTER(ctypes.c_size_t)
_VERB = [_POINTER, _TEXT, _SIZE, _TEXT, _UINT, _POINTER]

#: name: (result type, argument types)
_PROTOTYPES = {
    "plw_version_text": (_TEXT, []),
    "plw_status_text": (_TEXT, [_INT]),
    "plw_tables_open": (_INT, [_POINTER, _SIZE, _UINT, ctypes.POINTER(_POINTER)]),
    "plw_tables_edition": (_TEXT, [_POINTER]),
    "plw_tables_digest": (_INT, [_POINTER, _POINTER, _SIZE, _NEEDED]),
    "plw_scheme_count": (_UINT, [_POINTER]),
    "plw_scheme_key": (_TEXT, [_POINTER, _UINT]),
    "plw_scheme_title": (_TEXT, [_POINTER, _UINT]),
    "plw_scheme_first_year": (_INT, [_POINTER, _UINT]),
    "plw_scheme_last_year": (_INT, [_POINTER, _UINT]),
    "plw_scheme_row_count": (_UINT, [_POINTER, _UINT]),
    "plw_result_new": (_INT, [ctypes.POINTER(_POINTER)]),
    "plw_result_free": (None, [_POINTER]),
    "plw_result_use_names": (_INT, [_POINTER, _POINTER]),
    "plw_names_new": (_INT, [_POINTER, _TEXT, _SIZE, ctypes.POINTER(_POINTER)]),
    "plw_names_free": (None, [_POINTER]),
    "plw_names_problem_count": (_UINT, [_POINTER]),
    "plw_names_problem_line": (_UINT, [_POINTER, _UINT]),
    "plw_names_problem_text": (_INT, [_POINTER, _UINT, _POINTER, _SIZE, _NEEDED]),
    "plw_result_position": (_INT, [_POINTER, _UINT, _NEEDED, _NEEDED]),
    "plw_result_position_count": (_UINT, [_POINTER]),
    "plw_decode": (_INT, _VERB),
    "plw_validate": (_INT, _VERB),
    "plw_check_claims": (_INT, [_POINTER, _TEXT, _SIZE]),
    "plw_grade": (_INT, _VERB[:5] + [ctypes.POINTER(_INT)]),
    "plw_suggest": (_INT, _VERB),
    "plw_prefix": (_INT, _VERB[:3] + _VERB[4:]),
    "plw_prefix_state": (_INT, [_POINTER]),
    "plw_prefix_scheme_count": (_UINT, [_POINTER]),
    "plw_prefix_scheme": (_UINT, [_POINTER, _UINT]),
    "plw_prefix_allowed": (_INT, [_POINTER, _POINTER, _SIZE, _NEEDED]),
    "plw_prefix_known": (_INT, [_POINTER, _POINTER, _SIZE, _NEEDED]),
    "plw_prefix_remaining_min": (_UINT, [_POINTER]),
    "plw_prefix_remaining_max": (_UINT, [_POINTER]),
    "plw_place_name": (_TEXT, [_INT]),
    "plw_car_new": (_INT, [ctypes.POINTER(_POINTER)]),
    "plw_car_free": (None, [_POINTER]),
    "plw_car_clear": (None, [_POINTER]),
    "plw_car_use_names": (_INT, [_POINTER, _POINTER]),
    "plw_car_add_plate": (_INT, [_POINTER, _INT, _TEXT, _SIZE]),
    "plw_compare": (_INT, [_POINTER, _POINTER, _TEXT, _UINT]),
    "plw_explain_car": (_INT, [_POINTER, _INT, _UINT, _POINTER, _SIZE, _NEEDED]),
    "plw_explain": (_INT, [_POINTER, _INT, _UINT, _POINTER, _SIZE, _NEEDED]),
}


def _open_library() -> ctypes.CDLL:
    library = _load()
    _check_version(library)
    for name, (result, arguments) in _PROTOTYPES.items():
        function = getattr(library, name)
        function.restype, function.argtypes = result, arguments
    return library


_library = _open_library()


def _check(status: int) -> None:
    if status == 0:
        return
    message = _library.plw_status_text(status).decode()
    if status == -4:
        raise MemoryError(message)
    raise _ERRORS.get(status, Error)(message, status)


def library_version() -> str:
    """The version of the C library that is running."""
    return _library.plw_version_text().decode()


# ---- what comes back -----------------------------------------------------------

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
    attributes: Mapping[str, Any]   #: name: number or text
    displacement_cc: Optional[float]
    displacement_cu_in: Optional[float]
    sources: Tuple[str, ...]        #: keys


@dataclass(frozen=True)
class Field:
    """A field of a reading."""

    name: str
    label: str
    positions: Tuple[int, ...]      #: from 1
    code: str
    state: str                      #: "known", "unknown", "unreadable", "plain" or "check"
    detail: bool                    #: only adds detail to other fields
    meanings: Tuple[Meaning, ...]
    excludes_years: Tuple[int, ...]  #: years the year character allows and this field does not


@dataclass(frozen=True)
class Reading:
    """One way to read the number."""

    scheme: str
    title: str
    number: str                     #: misread characters replaced
    grade: str
    years: Tuple[int, ...]          #: empty when the fields exclude each other
    fields: Tuple[Field, ...]
    check: str                      #: "none", "fits", "fails" or "open"
    expected_check: Optional[str]

    def field(self, name: str) -> Field:
        """The field of that name; KeyError when the reading has none."""
        for field in self.fields:
            if field.name == name:
                return field
        raise KeyError(name)


@dataclass(frozen=True)
class Finding:
    """Something validation has to say."""

    name: str                       #: stable, "check-wrong"
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
class Source:
    """A citable publication."""

    key: str
    citation: str
    address: str                    #: "" when there is none


@dataclass(frozen=True)
class Result:
    """All there is to say about one number."""

    number: str                     #: as read
    spans: Tuple[Tuple[int, int], ...]  #: start and end of each position in the text given
    grade: str                      #: of the best reading; "clear" after decode
    readings: Tuple[Reading, ...]   #: best first
    findings: Tuple[Finding, ...]   #: gravest first; empty after decode
    sources: Tuple[Source, ...]     #: the sources that meanings name
    tables_edition: str
    tables_digest: str
    cautions: Tuple[str, ...]       #: outputs for people must close with them
    suggestions: Tuple[Suggestion, ...] = ()  #: of suggest, nearest first
    suggestions_left_out: int = 0   #: how many more were found than are offered
    claims: Tuple[Claim, ...] = ()  #: in the order given


@dataclass(frozen=True)
class Prefix:
    """What the beginning of a number leaves open."""

    state: str                      #: "impossible", "open" or "complete"
    schemes: Tuple[str, ...]        #: keys of those it can belong to
    allowed: str                    #: characters that can come next
    known: str                      #: those that lead on to what the tables list
    remaining_min: int              #: characters still to come
    remaining_max: int


@dataclass(frozen=True)
class Row:
    """A row of the tables that a comparison names."""

    key: str
    words: str
    standing: str                   #: "published", "practice" or "memory"
    sources: Tuple[str, ...]        #: keys


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
    differs_from: Mapping[int, Tuple[int, ...]]  #: index of a plate: positions
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
class Comparison:
    """All there is to say about the plates of one car."""

    verdict: str                    #: as of a plate, on the whole
    summary: str
    plates: Tuple[Plate, ...]       #: in the order given
    differences: Tuple[Difference, ...]  #: by position
    missing: Tuple[Missing, ...]
    joined: Tuple[Joined, ...]      #: best first
    joined_capped: bool             #: more schemes fit than are listed
    years: Tuple[int, ...]          #: model years of the first joined number
    next: Tuple[str, ...]           #: what to look at next, in sentences
    sources: Tuple[Source, ...]     #: the sources that rows name
    tables_edition: str
    tables_digest: str
    cautions: Tuple[str, ...]       #: outputs for people must close with them


def _meaning(row: Mapping[str, Any]) -> Meaning:
    return Meaning(
        key=row["key"], words=row["words"], remark=row["remark"], condition=row["condition"],
        years=tuple((first, last) for first, last in row["years"]),
        standing=row["standing"], marks=tuple(row["marks"]), attributes=dict(row["attributes"]),
        displacement_cc=row.get("displacement_cc"),
        displacement_cu_in=row.get("displacement_cu_in"), sources=tuple(row["sources"]))


def _field(field: Mapping[str, Any]) -> Field:
    return Field(
        name=field["field"], label=field["label"], positions=tuple(field["positions"]),
        code=field["code"], state=field["state"], detail=field["detail"],
        meanings=tuple(map(_meaning, field["meanings"])),
        excludes_years=tuple(field["excludes_years"]))


def _reading(reading: Mapping[str, Any]) -> Reading:
    return Reading(
        scheme=reading["scheme"], title=reading["title"], number=reading["number"],
        grade=reading["grade"], years=tuple(reading["years"]),
        fields=tuple(map(_field, reading["fields"])),
        check=reading["check"]["state"], expected_check=reading["check"]["expected"])


def _finding(finding: Mapping[str, Any]) -> Finding:
    return Finding(
        name=finding["code"], number=finding["number"], grade=finding["grade"],
        reading=finding["reading"], positions=tuple(finding["positions"]),
        sentence=finding["sentence"])


def _suggestion(suggestion: Mapping[str, Any]) -> Suggestion:
    return Suggestion(
        number=suggestion["number"], grade=suggestion["grade"], standing=suggestion["standing"],
        changes=tuple(Change(**change) for change in suggestion["changes"]),
        sentence=suggestion["sentence"])


def _row(row: Optional[Mapping[str, Any]]) -> Optional[Row]:
    return row and Row(key=row["key"], words=row["words"], standing=row["standing"],
                       sources=tuple(row["sources"]))


def _plate(plate: Mapping[str, Any]) -> Plate:
    return Plate(**{
        **plate, "row": _row(plate["row"]), "positions": tuple(plate["positions"]),
        "shows": tuple(plate["shows"]), "agrees_with": tuple(plate["agrees_with"]),
        "differs_from": {other["plate"]: tuple(other["positions"])
                         for other in plate["differs_from"]}})


def _difference(difference: Mapping[str, Any]) -> Difference:
    return Difference(**{
        **difference, "plates": tuple(difference["plates"]), "years": tuple(difference["years"]),
        "rows": tuple(map(_row, difference["rows"]))})


def _missing(missing: Mapping[str, Any]) -> Missing:
    return Missing(**{**missing, "row": _row(missing["row"])})


def _claim(claim: Mapping[str, Any]) -> Claim:
    return Claim(**{**claim, "positions": tuple(claim["positions"]),
                    "rows": tuple(claim["rows"]), "marks": tuple(claim["marks"])})


# ---- tables ----------------------------------------------------------------------

@dataclass(frozen=True)
class Scheme:
    """One layout that a maker used."""

    key: str
    title: str
    first_year: int
    last_year: int
    rows: int


class Tables:
    """A set of schemes: the compiled-in one, or an image written by
    ``platewright compile --image``. Immutable; may be shared by threads."""

    def __init__(self, image: Optional[bytes] = None) -> None:
        """Opens the image after a full check; without one, the compiled-in
        tables. Raises TablesError when the bytes cannot be used."""
        self._image = None
        self._handle: Optional[int] = None
        if image is not None:
            self._image = ctypes.create_string_buffer(bytes(image), len(image))
            handle = _POINTER()
            _check(_library.plw_tables_open(self._image, len(image), 0, ctypes.byref(handle)))
            self._handle = handle.value

    @classmethod
    def open(cls, path: Union[str, "os.PathLike[str]"]) -> "Tables":
        """Opens an image in a file."""
        with open(path, "rb") as file:
            return cls(file.read())

    @property
    def edition(self) -> str:
        """The date written in the tables."""
        return _library.plw_tables_edition(self._handle).decode()

    @property
    def digest(self) -> str:
        """Identifies the tables an answer came from."""
        buffer = ctypes.create_string_buffer(17)
        _check(_library.plw_tables_digest(self._handle, buffer, len(buffer), None))
        return buffer.value.decode()

    @property
    def schemes(self) -> Tuple[Scheme, ...]:
        """What the tables cover."""
        return tuple(
            Scheme(
                key=_library.plw_scheme_key(self._handle, index).decode(),
                title=_library.plw_scheme_title(self._handle, index).decode(),
                first_year=_library.plw_scheme_first_year(self._handle, index),
                last_year=_library.plw_scheme_last_year(self._handle, index),
                rows=_library.plw_scheme_row_count(self._handle, index))
            for index in range(_library.plw_scheme_count(self._handle)))


# ---- names -------------------------------------------------------------------------

@dataclass(frozen=True)
class NameProblem:
    """A line of a names text that does not count."""

    line: int                       #: from 1
    text: str                       #: what is wrong, and what to write


class Names:
    """Your own words in place of those of the tables: lines of ``key = words``
    in UTF-8, with ``#`` comments. Keys are those of meanings, and ``field/NAME``
    and ``scheme/KEY``. Immutable; may be shared by threads."""

    def __init__(self, text: Union[str, bytes], tables: Optional[Tables] = None) -> None:
        """Names for these tables; for others they say nothing. Lines with
        mistakes are left out: look at ``problems``. Raises TooLongError."""
        if isinstance(text, str):
            text = text.encode("utf-8", "surrogatepass")
        self._free = _library.plw_names_free
        self._tables = tables
        self._handle = _POINTER()
        _check(_library.plw_names_new(_handle(tables), text, len(text),
                                      ctypes.byref(self._handle)))

    def __del__(self) -> None:
        if getattr(self, "_handle", None):
            self._free(self._handle)

    @classmethod
    def open(cls, path: Union[str, "os.PathLike[str]"],
             tables: Optional[Tables] = None) -> "Names":
        """Reads the text from a file."""
        with open(path, "rb") as file:
            return cls(file.read(), tables)

    @property
    def problems(self) -> Tuple[NameProblem, ...]:
        """The lines that do not count, among them those with unknown keys."""
        return tuple(
            NameProblem(line=_library.plw_names_problem_line(self._handle, index),
                        text=self._problem_text(index))
            for index in range(_library.plw_names_problem_count(self._handle)))

    def _problem_text(self, index: int) -> str:
        needed = _SIZE()
        _library.plw_names_problem_text(self._handle, index, None, 0, ctypes.byref(needed))
        buffer = ctypes.create_string_buffer(needed.value)
        _check(_library.plw_names_problem_text(self._handle, index, buffer, len(buffer), None))
        return buffer.value.decode()


# ---- the verbs ---------------------------------------------------------------------

class _Workspace(threading.local):
    """The result and the car of a thread, and the buffer their texts come through."""

    def __init__(self) -> None:
        pointer = _POINTER()
        _check(_library.plw_result_new(ctypes.byref(pointer)))
        self.result = pointer
        car = _POINTER()
        _check(_library.plw_car_new(ctypes.byref(car)))
        self.car = car
        self.buffer = ctypes.create_string_buffer(1 << 16)

    def __del__(self) -> None:
        if getattr(self, "result", None):
            _library.plw_result_free(self.result)
        if getattr(self, "car", None):
            _library.plw_car_free(self.car)

    def _text(self, call: Any, thing: Any, format: int, flags: int) -> str:
        needed = _SIZE()
        status = call(thing, format, flags, self.buffer, len(self.buffer), ctypes.byref(needed))
        if status == -5:
            self.buffer = ctypes.create_string_buffer(needed.value)
            status = call(thing, format, flags, self.buffer, len(self.buffer),
                          ctypes.byref(needed))
        _check(status)
        return self.buffer.value.decode()

    def explain(self, format: int, flags: int) -> str:
        return self._text(_library.plw_explain, self.result, format, flags)

    def explain_car(self, format: int, flags: int) -> str:
        return self._text(_library.plw_explain_car, self.car, format, flags)


_workspace = _Workspace()


def _hints(maker: Optional[str], year: Optional[int], scheme: Optional[str]) -> Optional[bytes]:
    parts = []
    for key, value in (("maker", maker), ("year", year), ("scheme", scheme)):
        if value is None:
            continue
        if ";" in str(value) or "\0" in str(value):
            raise HintError(f"a {key} hint cannot hold ';' or a zero byte")
        parts.append(f"{key}={value}")
    return ";".join(parts).encode() if parts else None


def _bytes(number: Union[str, bytes]) -> bytes:
    if isinstance(number, bytes):
        return number
    if isinstance(number, str):
        return number.encode("utf-8", "replace")
    raise TypeError(f"a number is str or bytes, not {type(number).__name__}")


def _claims(claims: Optional[Mapping[str, Any]]) -> bytes:
    parts = []
    for attribute, value in (claims or {}).items():
        if set(";\0") & set(f"{attribute}{value}") or "=" in attribute:
            raise ClaimError("a claim cannot hold ';' or a zero byte, nor its attribute '='")
        parts.append(f"{attribute}={value}")
    return ";".join(parts).encode("utf-8", "replace")


def _handle(thing: Union[Tables, Names, None]) -> Any:
    return thing._handle if thing is not None else None


def _spans(number: Union[str, bytes], text: bytes) -> Tuple[Tuple[int, int], ...]:
    """The library counts bytes; a str is indexed by characters."""
    start, length = _SIZE(), _SIZE()
    spans = []
    count = min(_library.plw_result_position_count(_workspace.result), _MAX_POSITIONS)
    for position in range(1, count + 1):
        _check(_library.plw_result_position(_workspace.result, position, ctypes.byref(start),
                                            ctypes.byref(length)))
        first, last = start.value, start.value + length.value
        if isinstance(number, str):
            first, last = len(text[:first].decode()), len(text[:last].decode())
        spans.append((first, last))
    return tuple(spans)


def _run(verb: Any, number: Union[str, bytes], maker: Optional[str], year: Optional[int],
         scheme: Optional[str], tables: Optional[Tables], names: Optional[Names],
         claims: Optional[Mapping[str, Any]] = None) -> bytes:
    text = _bytes(number)
    _check(_library.plw_result_use_names(_workspace.result, _handle(names)))
    _check(verb(_handle(tables), text, len(text), _hints(maker, year, scheme), 0,
                _workspace.result))
    listed = _claims(claims)
    _check(_library.plw_check_claims(_workspace.result, listed, len(listed)))
    return text


def _result(number: Union[str, bytes], text: bytes) -> Result:
    document = json.loads(_workspace.explain(_FORMATS["json"], _SOURCES))
    return Result(
        number=document["number"], spans=_spans(number, text), grade=document["grade"],
        readings=tuple(map(_reading, document["readings"])),
        findings=tuple(map(_finding, document["findings"])),
        sources=tuple(Source(**source) for source in document["sources"]),
        tables_edition=document["tables"]["edition"], tables_digest=document["tables"]["digest"],
        cautions=tuple(document["cautions"]),
        suggestions=tuple(map(_suggestion, document.get("suggestions", ()))),
        suggestions_left_out=document.get("suggestions_left_out", 0),
        claims=tuple(map(_claim, document.get("claims", ()))))


def decode(number: Union[str, bytes], *, maker: Optional[str] = None, year: Optional[int] = None,
           scheme: Optional[str] = None, tables: Optional[Tables] = None,
           names: Optional[Names] = None,
           claims: Optional[Mapping[str, Any]] = None) -> Result:
    """Every way to read the number, ranked.

    number: as typed or scanned; '?' stands for a character that cannot be read,
        '[8B]' for one that can be either.
    maker, year, scheme: what you believe; they rank readings and hide none.
    tables: another set than the compiled-in one.
    names: your own words; made for the same tables.
    claims: what a listing says, attribute: value, as plw_check_claims(3) lists
        them ({"year": 1966, "engine": "426 cu in V8"}); see Result.claims.

    Raises TooLongError, HintError, ClaimError, TypeError."""
    return _result(number, _run(_library.plw_decode, number, maker, year, scheme, tables, names,
                                claims))


def validate(number: Union[str, bytes], *, maker: Optional[str] = None,
             year: Optional[int] = None, scheme: Optional[str] = None,
             tables: Optional[Tables] = None, names: Optional[Names] = None,
             claims: Optional[Mapping[str, Any]] = None) -> Result:
    """Like decode, and all findings."""
    return _result(number, _run(_library.plw_validate, number, maker, year, scheme, tables,
                                names, claims))


def suggest(number: Union[str, bytes], *, maker: Optional[str] = None,
            year: Optional[int] = None, scheme: Optional[str] = None,
            tables: Optional[Tables] = None, names: Optional[Names] = None) -> Result:
    """Like validate, and where the number does not hold the nearest numbers that
    would, as guesses. Nothing of them is applied to the readings."""
    return _result(number, _run(_library.plw_suggest, number, maker, year, scheme, tables, names))


def explain(number: Union[str, bytes], format: str = "text", *, sources: bool = False,
            maker: Optional[str] = None, year: Optional[int] = None,
            scheme: Optional[str] = None, tables: Optional[Tables] = None,
            names: Optional[Names] = None,
            claims: Optional[Mapping[str, Any]] = None) -> str:
    """The reading in words, with claims, findings and cautions.

    format: "text" for 80 columns, "markdown", "json" (one object; its schema is
        installed with the library), or "svg" (a drawing of the best reading, safe
        inside a page).
    sources: list the sources in full.

    Raises ValueError for another format, and what decode raises."""
    if format not in _FORMATS:
        raise ValueError(f"there is no format {format!r}; use text, markdown, json or svg")
    _run(_library.plw_validate, number, maker, year, scheme, tables, names, claims)
    return _workspace.explain(_FORMATS[format], _SOURCES if sources else 0)


_PREFIX_STATES = ("impossible", "open", "complete")


def _characters(call: Any) -> str:
    buffer = ctypes.create_string_buffer(64)
    _check(call(_workspace.result, buffer, len(buffer), None))
    return buffer.value.decode()


_PLACES = {_library.plw_place_name(place).decode(): place for place in range(1, 8)}

#: One text, or several when there are several such plates.
_Texts = Union[str, bytes, Sequence[Union[str, bytes]]]


def _add_plates(plates: Mapping[str, _Texts]) -> None:
    for name, texts in plates.items():
        if name not in _PLACES:
            raise ValueError(f"there is no place {name!r}; use one of {', '.join(_PLACES)}")
        for given in [texts] if isinstance(texts, (str, bytes)) else texts:
            text = _bytes(given)
            _check(_library.plw_car_add_plate(_workspace.car, _PLACES[name], text, len(text)))


def _compare(plates: Mapping[str, _Texts], hints: Optional[bytes], tables: Optional[Tables],
             names: Optional[Names]) -> None:
    _library.plw_car_clear(_workspace.car)
    _check(_library.plw_car_use_names(_workspace.car, _handle(names)))
    _add_plates(plates)
    _check(_library.plw_compare(_handle(tables), _workspace.car, hints, 0))


def compare(plates: Mapping[str, _Texts], *, maker: Optional[str] = None,
            year: Optional[int] = None, scheme: Optional[str] = None,
            tables: Optional[Tables] = None, names: Optional[Names] = None) -> Comparison:
    """The plates of one car against each other.

    plates: place: text as typed, or a list of texts. Places are dash, door_label,
        body_tag, certification_label, engine, gearbox and body. The full number
        may be missing: stamps alone are joined, too.

    >>> compare({"dash": "RM23V0A149789", "engine": "0A149?89"}).verdict
    'agrees'

    Raises ValueError for another place, TooLongError for a text that is too long
    or more than 16 plates, and what decode raises.
    """
    _compare(plates, _hints(maker, year, scheme), tables, names)
    document = json.loads(_workspace.explain_car(_FORMATS["json"], _SOURCES))
    return Comparison(
        verdict=document["verdict"], summary=document["summary"],
        plates=tuple(map(_plate, document["plates"])),
        differences=tuple(map(_difference, document["differences"])),
        missing=tuple(map(_missing, document["expected_not_given"])),
        joined=tuple(Joined(**joined) for joined in document["joined"]),
        joined_capped=document["joined_capped"],
        years=tuple(document["reading"]["years"]) if document["reading"] else (),
        next=tuple(document["next"]),
        sources=tuple(Source(**source) for source in document["sources"]),
        tables_edition=document["tables"]["edition"], tables_digest=document["tables"]["digest"],
        cautions=tuple(document["cautions"]))


def explain_car(plates: Mapping[str, _Texts], format: str = "text", *, sources: bool = False,
                maker: Optional[str] = None, year: Optional[int] = None,
                scheme: Optional[str] = None, tables: Optional[Tables] = None,
                names: Optional[Names] = None) -> str:
    """The comparison for people: "text" or "markdown"; "json" for programs. Raises
    ValueError for another format, and what compare raises."""
    if format not in ("text", "markdown", "json"):
        raise ValueError(f"there is no format {format!r}; use text, markdown or json")
    _compare(plates, _hints(maker, year, scheme), tables, names)
    return _workspace.explain_car(_FORMATS[format], _SOURCES if sources else 0)


def prefix(text: Union[str, bytes], *, tables: Optional[Tables] = None) -> Prefix:
    """What the beginning of a number leaves open: for a form, at every key stroke."""
    beginning, handle, result = _bytes(text), _handle(tables), _workspace.result
    _check(_library.plw_prefix(handle, beginning, len(beginning), 0, result))
    schemes = tuple(
        _library.plw_scheme_key(handle, _library.plw_prefix_scheme(result, index)).decode()
        for index in range(_library.plw_prefix_scheme_count(result)))
    return Prefix(
        state=_PREFIX_STATES[_library.plw_prefix_state(result)], schemes=schemes,
        allowed=_characters(_library.plw_prefix_allowed),
        known=_characters(_library.plw_prefix_known),
        remaining_min=_library.plw_prefix_remaining_min(result),
        remaining_max=_library.plw_prefix_remaining_max(result))


def grade(number: Union[str, bytes], *, maker: Optional[str] = None, year: Optional[int] = None,
          scheme: Optional[str] = None, tables: Optional[Tables] = None) -> str:
    """Just the grade: "clear", "note", "doubt" or "fault"."""
    text = _bytes(number)
    answer = _INT()
    _check(_library.plw_grade(_handle(tables), text, len(text), _hints(maker, year, scheme), 0,
                              ctypes.byref(answer)))
    return _GRADES[answer.value]
