# SPDX-License-Identifier: MIT
"""From the library's JSON to the objects of this package.

An object is a frozen dataclass whose fields have the names and types of the JSON
form, or name its key in their metadata. Keys that this package does not know are
left out, because later releases may add some."""

from __future__ import annotations

import dataclasses
import datetime
import functools
from typing import Any, Callable, List, Mapping, Tuple, Type, TypeVar, Union, cast
from typing import get_args, get_origin, get_type_hints

_T = TypeVar("_T")
_Convert = Callable[[Any], Any]


def _as_it_is(value: Any) -> Any:
    return value


def _optional(convert: _Convert, value: Any) -> Any:
    return None if value is None else convert(value)


def _tuple(convert: _Convert, values: Any) -> Any:
    return tuple(map(convert, values))


def _converter(kind: Any) -> _Convert:
    if dataclasses.is_dataclass(kind):
        return functools.partial(build, kind)
    parts, origin = get_args(kind), get_origin(kind)
    if origin is Union and parts[1:] == (type(None),):
        return functools.partial(_optional, _converter(parts[0]))
    if kind is datetime.date:
        return datetime.date.fromisoformat
    if origin is tuple:
        return functools.partial(_tuple, _converter(parts[0]))
    return _as_it_is


@functools.lru_cache(maxsize=None)
def _plan(kind: Any) -> List[Tuple[str, str, _Convert]]:
    """The fields of a class: name, key in JSON, converter."""
    types = get_type_hints(kind)
    return [(field.name, field.metadata.get("key", field.name), _converter(types[field.name]))
            for field in dataclasses.fields(kind)]


def build(kind: Type[_T], document: Mapping[str, Any], **more: Any) -> _T:
    """An object of that class; more are fields that JSON does not have."""
    return kind(**more, **{name: convert(document[key])
                           for name, key, convert in _plan(cast(Any, kind)) if key in document})
