"""The check of what has no unit: a text, or a yes or no."""

from __future__ import annotations

from typing import Any

import numpy as np

from ..errors import UnitError
from .reading import quoted

_NEEDS = {str: ((str,), "a text", '"red"'), bool: ((bool, np.bool_), "True or False", "True")}


def is_plain(hint: Any) -> bool:
    """Whether an annotation is one that `need_plain` checks."""
    return hint in _NEEDS


def need_plain(hint: Any, value: Any, name: str) -> None:
    """UnitError where the value is not what its annotation, `str` or `bool`, says."""
    kinds, need, example = _NEEDS[hint]
    if not isinstance(value, kinds):
        raise UnitError(f"{name} needs {need}, but {quoted(value)} came; write for example {name}={example}")
