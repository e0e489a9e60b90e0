# SPDX-License-Identifier: MIT
"""What callers give, as the library takes it."""

from __future__ import annotations

from typing import Any, Mapping, Optional, Union

from ._errors import ClaimError, FormatError, HintError
from ._library import CONSTANTS, family

#: A number as typed or scanned. str is read as UTF-8.
Text = Union[str, bytes]
#: What a listing says, attribute: value, as plw_check_claims(3) lists them.
Claims = Mapping[str, Any]

FORMATS = family("PLW_FORMAT_")
SOURCES = CONSTANTS["PLW_EXPLAIN_SOURCES"]


def number_bytes(number: Text) -> bytes:
    """Surrogates without a partner become '?', a character that cannot be read."""
    if isinstance(number, bytes):
        return number
    if isinstance(number, str):
        return number.encode("utf-8", "replace")
    raise TypeError(f"a number is str or bytes, not {type(number).__name__}")


def hint_bytes(maker: Optional[str], year: Optional[int],
               scheme: Optional[str]) -> Optional[bytes]:
    parts = []
    for key, value in (("maker", maker), ("year", year), ("scheme", scheme)):
        if value is None:
            continue
        if set(";\0") & set(str(value)):
            raise HintError(f"a {key} hint cannot hold ';' or a zero byte", "PLW_E_HINT")
        parts.append(f"{key}={value}")
    return ";".join(parts).encode("utf-8", "replace") if parts else None


def claim_bytes(claims: Optional[Claims]) -> bytes:
    parts = []
    for attribute, value in (claims or {}).items():
        if set(";\0") & set(f"{attribute}{value}") or "=" in attribute:
            raise ClaimError("a claim cannot hold ';' or a zero byte, nor its attribute '='",
                             "PLW_E_CLAIM")
        parts.append(f"{attribute}={value}")
    return ";".join(parts).encode("utf-8", "replace")


def format_number(name: str) -> int:
    try:
        return FORMATS[name]
    except KeyError:
        raise FormatError(f"there is no format {name!r}; use one of {', '.join(FORMATS)}",
                          "PLW_E_FLAGS") from None
