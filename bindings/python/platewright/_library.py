# SPDX-License-Identifier: MIT
"""The C library: found, checked and described for ctypes; its constants, its
statuses and its texts."""

from __future__ import annotations

import ctypes
import os
from typing import Any, Dict, List, Tuple

from ._errors import BY_STATUS, Error, LibraryError

#: The oldest library this package works with, and the release line it belongs to.
OLDEST = 10000
MAJOR = 1

_NAMES = ("libplatewright.so.1", "libplatewright.1.dylib", "platewright-1.dll")

POINTER, SIZE = ctypes.c_void_p, ctypes.c_size_t
INT, UINT, WIDE = ctypes.c_int32, ctypes.c_uint32, ctypes.c_int64
_BYTES = ctypes.c_char_p
_OUT = [POINTER, SIZE, ctypes.POINTER(SIZE)]
_NEW = ctypes.POINTER(POINTER)
_VERB = [POINTER, _BYTES, SIZE, _BYTES, UINT, POINTER]

#: name: (result type, argument types)
_PROTOTYPES: Dict[str, Tuple[Any, List[Any]]] = {
    "plw_version_number": (UINT, []),
    "plw_version_text": (_BYTES, []),
    "plw_status_name": (_BYTES, [INT]),
    "plw_status_text": (_BYTES, [INT]),
    "plw_constant_count": (UINT, []),
    "plw_constant_name": (_BYTES, [UINT]),
    "plw_constant_value": (WIDE, [UINT]),
    "plw_tables_builtin": (POINTER, []),
    "plw_tables_open": (INT, [POINTER, SIZE, UINT, _NEW]),
    "plw_tables_edition": (_BYTES, [POINTER]),
    "plw_tables_digest": (INT, [POINTER, *_OUT]),
    "plw_scheme_count": (UINT, [POINTER]),
    "plw_scheme_key": (_BYTES, [POINTER, UINT]),
    "plw_scheme_title": (_BYTES, [POINTER, UINT]),
    "plw_scheme_first_year": (INT, [POINTER, UINT]),
    "plw_scheme_last_year": (INT, [POINTER, UINT]),
    "plw_scheme_row_count": (UINT, [POINTER, UINT]),
    "plw_layout_count": (UINT, [POINTER, UINT]),
    "plw_layout_length": (UINT, [POINTER, UINT, UINT]),
    "plw_layout_sample": (_BYTES, [POINTER, UINT, UINT]),
    "plw_names_new": (INT, [POINTER, _BYTES, SIZE, _NEW]),
    "plw_names_free": (None, [POINTER]),
    "plw_names_problem_count": (UINT, [POINTER]),
    "plw_names_problem_line": (UINT, [POINTER, UINT]),
    "plw_names_problem_text": (INT, [POINTER, UINT, *_OUT]),
    "plw_result_new": (INT, [_NEW]),
    "plw_result_free": (None, [POINTER]),
    "plw_result_use_names": (INT, [POINTER, POINTER]),
    "plw_result_position_count": (UINT, [POINTER]),
    "plw_result_position": (INT, [POINTER, UINT, ctypes.POINTER(SIZE), ctypes.POINTER(SIZE)]),
    "plw_decode": (INT, _VERB),
    "plw_validate": (INT, _VERB),
    "plw_suggest": (INT, _VERB),
    "plw_grade": (INT, [*_VERB[:5], ctypes.POINTER(INT)]),
    "plw_grade_name": (_BYTES, [INT]),
    "plw_batch": (INT, [POINTER, _BYTES, POINTER, SIZE, _BYTES, UINT, POINTER]),
    "plw_check_claims": (INT, [POINTER, _BYTES, SIZE]),
    "plw_explain": (INT, [POINTER, INT, UINT, *_OUT]),
    "plw_prefix": (INT, [POINTER, _BYTES, SIZE, UINT, POINTER]),
    "plw_prefix_state": (INT, [POINTER]),
    "plw_prefix_scheme_count": (UINT, [POINTER]),
    "plw_prefix_scheme": (UINT, [POINTER, UINT]),
    "plw_prefix_allowed": (INT, [POINTER, *_OUT]),
    "plw_prefix_known": (INT, [POINTER, *_OUT]),
    "plw_prefix_remaining_min": (UINT, [POINTER]),
    "plw_prefix_remaining_max": (UINT, [POINTER]),
    "plw_place_name": (_BYTES, [INT]),
    "plw_car_new": (INT, [_NEW]),
    "plw_car_free": (None, [POINTER]),
    "plw_car_clear": (None, [POINTER]),
    "plw_car_use_names": (INT, [POINTER, POINTER]),
    "plw_car_add_plate": (INT, [POINTER, INT, _BYTES, SIZE]),
    "plw_date_kind_name": (_BYTES, [INT]),
    "plw_car_add_date": (INT, [POINTER, INT, _BYTES, SIZE]),
    "plw_compare": (INT, [POINTER, POINTER, _BYTES, UINT]),
    "plw_car_check_claims": (INT, [POINTER, _BYTES, SIZE]),
    "plw_explain_car": (INT, [POINTER, INT, UINT, *_OUT]),
    "plw_expectation_new": (INT, [_NEW]),
    "plw_expectation_free": (None, [POINTER]),
    "plw_expectation_use_names": (INT, [POINTER, POINTER]),
    "plw_expect": (INT, [POINTER, _BYTES, SIZE, _BYTES, UINT, POINTER]),
    "plw_explain_expectation": (INT, [POINTER, INT, UINT, *_OUT]),
    "plw_pattern_covers": (INT, [_BYTES, SIZE, _BYTES, SIZE, ctypes.POINTER(INT),
                                 ctypes.POINTER(UINT)]),
}


# ---- finding it --------------------------------------------------------------

def _carried() -> List[str]:
    """The library that a wheel brings along, if it does."""
    folder = os.path.dirname(os.path.abspath(__file__))
    return [path for path in (os.path.join(folder, name) for name in _NAMES)
            if os.path.exists(path)]


def _load() -> ctypes.CDLL:
    named = os.environ.get("PLATEWRIGHT_LIBRARY")
    tried = [named] if named else [*_carried(), *_NAMES]
    for name in tried:
        try:
            return ctypes.CDLL(name)
        except OSError:
            continue
    raise LibraryError(
        "the platewright library cannot be loaded (tried " + ", ".join(tried) + "); "
        "install it, or name its file in PLATEWRIGHT_LIBRARY")


def _check_version(library: ctypes.CDLL) -> None:
    try:
        version = library.plw_version_number
    except AttributeError:
        raise LibraryError("the library found is not platewright") from None
    version.restype, version.argtypes = _PROTOTYPES["plw_version_number"]
    number = version()
    if number // 10000 != MAJOR or number < OLDEST:
        raise LibraryError(
            f"this package needs platewright {MAJOR}.x from number {OLDEST} on; "
            f"the library found has number {number}")


def _open() -> ctypes.CDLL:
    found = _load()
    _check_version(found)
    for name, (result, arguments) in _PROTOTYPES.items():
        try:
            function = getattr(found, name)
        except AttributeError:
            raise LibraryError(f"the platewright library found has no {name}") from None
        function.restype, function.argtypes = result, arguments
    return found


library = _open()


# ---- constants -----------------------------------------------------------------

#: Every number of the C header, by name.
CONSTANTS: Dict[str, int] = {
    library.plw_constant_name(index).decode(): library.plw_constant_value(index)
    for index in range(library.plw_constant_count())}


def family(prefix: str) -> Dict[str, int]:
    """The constants that begin so: "svg": 3 of PLW_FORMAT_SVG."""
    return {name[len(prefix):].lower(): value for name, value in CONSTANTS.items()
            if name.startswith(prefix)}


OK = CONSTANTS["PLW_OK"]
MAX_TEXT = CONSTANTS["PLW_MAX_TEXT"]
_SHORT = CONSTANTS["PLW_E_SHORT"]
_MEMORY = CONSTANTS["PLW_E_MEMORY"]


# ---- statuses and texts ----------------------------------------------------------

def status_name(status: int) -> str:
    return str(library.plw_status_name(status), "ascii")


def check(status: int) -> None:
    """Raises what a status stands for."""
    if status == OK:
        return
    name, sentence = status_name(status), library.plw_status_text(status).decode()
    if status == _MEMORY:
        raise MemoryError(f"{sentence} ({name})")
    raise BY_STATUS.get(name, Error)(sentence, name)


def text_of(call: Any, *arguments: Any, guess: int = 256) -> str:
    """A text that the library writes into a buffer."""
    needed = SIZE(guess)
    while True:
        buffer = ctypes.create_string_buffer(needed.value)
        status = call(*arguments, buffer, len(buffer), ctypes.byref(needed))
        if status != _SHORT:
            check(status)
            return buffer.value.decode()


def library_version() -> str:
    """The version of the C library that is running."""
    return str(library.plw_version_text(), "ascii")
