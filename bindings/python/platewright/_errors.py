# SPDX-License-Identifier: MIT
"""What goes wrong, as exceptions. Each names the status of the library."""

from __future__ import annotations

from typing import Dict, Type


class Error(Exception):
    """Anything the library refuses. ``status`` is the name of its code."""

    def __init__(self, message: str, status: str = "") -> None:
        super().__init__(message, status)
        self.status = status

    def __str__(self) -> str:
        message: str = self.args[0]
        return f"{message} ({self.status})" if self.status else message


class LibraryError(Error, ImportError):
    """The C library is missing, too old, or of another major version."""


class TooLongError(Error, ValueError):
    """A number, hints, claims or names are longer, or more, than the library takes."""


class FormatError(Error, ValueError):
    """A format that the library does not write."""


class HintError(Error, ValueError):
    """A hint cannot be understood."""


class ClaimError(Error, ValueError):
    """A claim cannot be handed over; one that is not understood is no error."""


class TablesError(Error, ValueError):
    """The bytes are not a table image that the library can open."""


#: Statuses that are not here are an Error; PLW_E_MEMORY is Python's MemoryError.
BY_STATUS: Dict[str, Type[Error]] = {
    "PLW_E_TOO_LONG": TooLongError,
    "PLW_E_FLAGS": FormatError,
    "PLW_E_IMAGE": TablesError,
    "PLW_E_VERSION": TablesError,
    "PLW_E_HINT": HintError,
    "PLW_E_CLAIM": ClaimError,
}
