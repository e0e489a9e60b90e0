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
from typing import Any, Mapping, Optional, Tuple, Union

__all__ = [
    "Error", "LibraryError", "TooLongError", "HintError", "TablesError",
    "Finding", "Field", "Meaning", "Reading", "Result", "Scheme", "Source", "Tables",
    "decode", "validate", "explain", "grade", "library_version",
]

#: The oldest library this module works with, and the release line it belongs to.
_OLDEST = 100
_MAJOR = 0

#: The library's limit for one number, in bytes of UTF-8.
MAX_TEXT = 256
_MAX_POSITIONS = 32

_FORMATS = {"text": 0, "markdown": 1, "json": 2}
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
    """The number or the hints are longer than the library takes."""


class HintError(Error, ValueError):
    """A hint cannot be understood."""


class TablesError(Error, ValueError):
    """The bytes are not a table image this library can open."""


_ERRORS = {-3: TooLongError, -6: TablesError, -7: TablesError, -9: HintError}


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
    "plw_result_position": (_INT, [_POINTER, _UINT, _NEEDED, _NEEDED]),
    "plw_result_position_count": (_UINT, [_POINTER]),
    "plw_decode": (_INT, _VERB),
    "plw_validate": (_INT, _VERB),
    "plw_grade": (_INT, _VERB[:5] + [ctypes.POINTER(_INT)]),
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


# ---- the verbs ---------------------------------------------------------------------

class _Workspace(threading.local):
    """The result object of a thread, and the buffer its texts come through."""

    def __init__(self) -> None:
        pointer = _POINTER()
        _check(_library.plw_result_new(ctypes.byref(pointer)))
        self.result = pointer
        self.buffer = ctypes.create_string_buffer(1 << 16)

    def __del__(self) -> None:
        if getattr(self, "result", None):
            _library.plw_result_free(self.result)

    def explain(self, format: int, flags: int) -> str:
        needed = _SIZE()
        status = _library.plw_explain(self.result, format, flags, self.buffer,
                                      len(self.buffer), ctypes.byref(needed))
        if status == -5:
            self.buffer = ctypes.create_string_buffer(needed.value)
            status = _library.plw_explain(self.result, format, flags, self.buffer,
                                          len(self.buffer), ctypes.byref(needed))
        _check(status)
        return self.buffer.value.decode()


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


def _handle(tables: Optional[Tables]) -> Optional[int]:
    return tables._handle if tables is not None else None


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
         scheme: Optional[str], tables: Optional[Tables]) -> bytes:
    text = _bytes(number)
    _check(verb(_handle(tables), text, len(text), _hints(maker, year, scheme), 0,
                _workspace.result))
    return text


def _result(number: Union[str, bytes], text: bytes) -> Result:
    document = json.loads(_workspace.explain(_FORMATS["json"], _SOURCES))
    return Result(
        number=document["number"], spans=_spans(number, text), grade=document["grade"],
        readings=tuple(map(_reading, document["readings"])),
        findings=tuple(map(_finding, document["findings"])),
        sources=tuple(Source(**source) for source in document["sources"]),
        tables_edition=document["tables"]["edition"], tables_digest=document["tables"]["digest"],
        cautions=tuple(document["cautions"]))


def decode(number: Union[str, bytes], *, maker: Optional[str] = None, year: Optional[int] = None,
           scheme: Optional[str] = None, tables: Optional[Tables] = None) -> Result:
    """Every way to read the number, ranked.

    number: as typed or scanned; '?' stands for a character that cannot be read,
        '[8B]' for one that can be either.
    maker, year, scheme: what you believe; they rank readings and hide none.
    tables: another set than the compiled-in one.

    Raises TooLongError, HintError, TypeError."""
    return _result(number, _run(_library.plw_decode, number, maker, year, scheme, tables))


def validate(number: Union[str, bytes], *, maker: Optional[str] = None,
             year: Optional[int] = None, scheme: Optional[str] = None,
             tables: Optional[Tables] = None) -> Result:
    """Like decode, and all findings."""
    return _result(number, _run(_library.plw_validate, number, maker, year, scheme, tables))


def explain(number: Union[str, bytes], format: str = "text", *, sources: bool = False,
            maker: Optional[str] = None, year: Optional[int] = None,
            scheme: Optional[str] = None, tables: Optional[Tables] = None) -> str:
    """The reading in words, with findings and cautions.

    format: "text" for 80 columns, "markdown", or "json" (one object; its schema
        is installed with the library).
    sources: list the sources in full.

    Raises ValueError for another format, and what decode raises."""
    if format not in _FORMATS:
        raise ValueError(f"there is no format {format!r}; use text, markdown or json")
    _run(_library.plw_validate, number, maker, year, scheme, tables)
    return _workspace.explain(_FORMATS[format], _SOURCES if sources else 0)


def grade(number: Union[str, bytes], *, maker: Optional[str] = None, year: Optional[int] = None,
          scheme: Optional[str] = None, tables: Optional[Tables] = None) -> str:
    """Just the grade: "clear", "note", "doubt" or "fault"."""
    text = _bytes(number)
    answer = _INT()
    _check(_library.plw_grade(_handle(tables), text, len(text), _hints(maker, year, scheme), 0,
                              ctypes.byref(answer)))
    return _GRADES[answer.value]
