# SPDX-License-Identifier: MIT
"""The tables handle: what is known about schemes."""

from __future__ import annotations

import ctypes
import os
from dataclasses import dataclass
from typing import Optional, Tuple, Union

from ._handles import Handle, Owner
from ._library import POINTER, check, library, text_of


@dataclass(frozen=True)
class Layout:
    """One length of a scheme."""

    length: int                     #: how many characters its numbers have
    sample: str                     #: a number of it


@dataclass(frozen=True)
class Scheme:
    """How a maker numbered cars over a span of model years."""

    key: str                        #: stable, "dearborn-1960"
    title: str
    first_year: int
    last_year: int
    rows: int                       #: how many facts the tables have of it
    layouts: Tuple[Layout, ...]


class Tables(Owner):
    """A set of schemes: the compiled-in one, or an image written by
    ``platewright compile --image``. Immutable; may be shared by threads, and
    closed when no thread will use it again."""

    def __init__(self, image: Optional[bytes] = None) -> None:
        """Opens a copy of the image after a full check; without one, the
        compiled-in tables. Raises TablesError when the bytes cannot be used."""
        if image is None:
            self._handle = Handle(library.plw_tables_builtin())
            return
        memory = ctypes.create_string_buffer(bytes(image), len(image))
        pointer = POINTER()
        check(library.plw_tables_open(memory, len(image), 0, ctypes.byref(pointer)))
        self._handle = Handle(pointer.value, keeps=memory)

    @classmethod
    def open(cls, path: Union[str, "os.PathLike[str]"]) -> "Tables":
        """Opens an image in a file."""
        with open(path, "rb") as file:
            return cls(file.read())

    @property
    def edition(self) -> str:
        """The date written in the tables."""
        return str(library.plw_tables_edition(self._open()), "utf-8")

    @property
    def digest(self) -> str:
        """Identifies the tables an answer came from."""
        return text_of(library.plw_tables_digest, self._open())

    @property
    def schemes(self) -> Tuple[Scheme, ...]:
        """What the tables cover."""
        tables = self._open()
        return tuple(
            Scheme(
                key=library.plw_scheme_key(tables, scheme).decode(),
                title=library.plw_scheme_title(tables, scheme).decode(),
                first_year=library.plw_scheme_first_year(tables, scheme),
                last_year=library.plw_scheme_last_year(tables, scheme),
                rows=library.plw_scheme_row_count(tables, scheme),
                layouts=_layouts(tables, scheme))
            for scheme in range(library.plw_scheme_count(tables)))


def _layouts(tables: Handle, scheme: int) -> Tuple[Layout, ...]:
    return tuple(
        Layout(length=library.plw_layout_length(tables, scheme, layout),
               sample=library.plw_layout_sample(tables, scheme, layout).decode())
        for layout in range(library.plw_layout_count(tables, scheme)))
