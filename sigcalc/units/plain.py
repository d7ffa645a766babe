"""The check of what has no unit: a text, a yes or no, a whole number, a mapping."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..errors import RangeError, UnitError
from .reading import quoted

_NEEDS = {str: ((str,), "a text", "red"), bool: ((bool, np.bool_), "True or False", "")}


def is_plain(hint: Any) -> bool:
    """Whether an annotation is one that `need_plain` checks."""
    return hint in _NEEDS


def need_plain(hint: Any, value: Any, name: str) -> None:
    """UnitError where the value is not what its annotation, `str` or `bool`, says."""
    kinds, need, example = _NEEDS[hint]
    if not isinstance(value, kinds):
        raise UnitError(argument=name, need=need, given=quoted(value), example=example)


def is_whole(value: Any) -> bool:
    """Whether a value is a whole number by its kind; numpy counts a span of time among them."""
    return isinstance(value, int | np.integer) and not isinstance(value, bool | np.timedelta64)


def is_number(value: Any) -> bool:
    """Whether a value is a bare real number by its kind."""
    return is_whole(value) or isinstance(value, float | np.floating)


def need_whole(value: Any, name: str, least: int, most: int, example: int) -> int:
    """The whole number, or RangeError where the value is none from `least` to `most`."""
    if not is_whole(value) or not least <= value <= most:
        need = f"a whole number from {least} to {most}, such as {example}"
        raise RangeError(argument=name, need=need, given=quoted(value))
    return int(value)


def need_made(value: Any, name: str, kind: type) -> Any:
    """The record, or UnitError where the value is none of this kind."""
    if not isinstance(value, kind):
        made = kind.__name__
        raise UnitError(
            argument=name, need=f"a {made}", given=type(value).__name__, advice=f"make one with {made}(...)"
        )
    return value


def need_mapping(value: Any, name: str, example: str) -> Mapping[str, Any]:
    """The mapping, an empty one for None, or UnitError where the value is none."""
    if value is not None and not isinstance(value, Mapping):
        raise UnitError(argument=name, need=f"a mapping such as {example}", given=quoted(value))
    return {} if value is None else value
