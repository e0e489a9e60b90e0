# SPDX-License-Identifier: MIT
"""Who gives native objects back, and when."""

from __future__ import annotations

import ctypes
from types import TracebackType
from typing import Any, Optional, Type, TypeVar

from ._library import POINTER, check

_Self = TypeVar("_Self", bound="Owner")


class Handle:
    """A native object. It is given back when nobody holds the handle any more,
    so closing its owner waits for calls that other threads have under way."""

    def __init__(self, pointer: Optional[int], free: Any = None, keeps: Any = None) -> None:
        self._as_parameter_ = pointer
        self._free = free
        self._keeps = keeps             #: what the object uses as long as it lives

    def __del__(self) -> None:
        if self._free is not None:
            self._free(self._as_parameter_)


def make(new: Any, free: Any, *arguments: Any, keeps: Any = None) -> Handle:
    """The object that a function of the library makes."""
    pointer = POINTER()
    check(new(*arguments, ctypes.byref(pointer)))
    return Handle(pointer.value, free, keeps)


class Owner:
    """Something to close, by close() or at the end of a with block."""

    _handle: Optional[Handle] = None

    def _open(self) -> Handle:
        handle = self._handle
        if handle is None:
            raise ValueError(f"this platewright.{type(self).__name__} is closed")
        return handle

    def close(self) -> None:
        """Gives the memory back; may be called again. Nothing else may follow."""
        self._handle = None

    def __enter__(self: _Self) -> _Self:
        self._open()
        return self

    def __exit__(self, kind: Optional[Type[BaseException]], error: Optional[BaseException],
                 trace: Optional[TracebackType]) -> None:
        self.close()


def opened(owner: Optional[Owner]) -> Optional[Handle]:
    """The handle of an owner; None, which is NULL, for none."""
    return None if owner is None else owner._open()
