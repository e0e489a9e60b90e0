# SPDX-License-Identifier: MIT
"""The names handle: a host's own words."""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import Optional, Tuple, Union

from ._handles import Owner, make, opened
from ._library import library, text_of
from ._tables import Tables


@dataclass(frozen=True)
class NameProblem:
    """A line of a names text that does not count."""

    line: int                       #: from 1
    text: str                       #: what is wrong, and what to write


class Names(Owner):
    """Your own words in place of those of the tables: lines of ``key = words``
    in UTF-8, with ``#`` comments. Keys are those of meanings, and ``field/NAME``
    and ``scheme/KEY``. Immutable; may be shared by threads, and closed when no
    thread will use it again."""

    def __init__(self, text: Union[str, bytes], tables: Optional[Tables] = None) -> None:
        """Names for these tables; for others they say nothing. Lines with
        mistakes are left out: look at ``problems``. Raises TooLongError."""
        if isinstance(text, str):
            text = text.encode("utf-8", "surrogatepass")
        handle = opened(tables)
        self._handle = make(library.plw_names_new, library.plw_names_free, handle, text,
                            len(text), keeps=handle)

    @classmethod
    def open(cls, path: Union[str, "os.PathLike[str]"],
             tables: Optional[Tables] = None) -> "Names":
        """Reads the text from a file."""
        with open(path, "rb") as file:
            return cls(file.read(), tables)

    @property
    def problems(self) -> Tuple[NameProblem, ...]:
        """The lines that do not count, among them those with unknown keys."""
        names = self._open()
        return tuple(
            NameProblem(line=library.plw_names_problem_line(names, problem),
                        text=text_of(library.plw_names_problem_text, names, problem))
            for problem in range(library.plw_names_problem_count(names)))
