"""Frozen records whose quantities are converted to SI once, when the record is made.

A field annotated with a kind is given as text or quantity and read as a quantity
(`led.max_current`); formulas read its SI float (`led.si.max_current`). A quantity is
built only when it is read: a result of five fields costs under a microsecond.
"""

from __future__ import annotations

import dataclasses
import functools
import inspect
import types
import typing
from types import SimpleNamespace
from typing import Any, dataclass_transform

import numpy as np

from ..errors import UnitError
from .kinds import QuantityKind, kind_of, may_be_none
from .plain import is_plain, need_plain
from .reading import quoted


class _QuantityField:
    """A field that stores an SI float in `record.si` and reads back as a quantity."""

    def __init__(self, name: str, kind: QuantityKind, optional: bool, default: Any):
        self.name, self.kind, self.optional, self.default = name, kind, optional, default

    def __get__(self, record: Any, owner: type) -> Any:
        if record is None:  # dataclasses asks the class for a default
            if self.default is dataclasses.MISSING:
                raise AttributeError(self.name)
            return self.default
        si = getattr(record.si, self.name)
        return None if si is None else self.kind.quantity(si)

    def __set__(self, record: Any, value: Any) -> None:
        if self.name in vars(record.si):
            raise dataclasses.FrozenInstanceError(f"cannot assign to field {self.name!r}")
        absent = value is None and self.optional
        si = None if absent else self.kind.read(value, self.name, scalar=not record.__arrays__)
        setattr(record.si, self.name, si)


class _Record:
    """What every record has beside its fields; a class that sets `__arrays__` takes arrays as well."""

    __arrays__ = False

    @property
    def si(self) -> SimpleNamespace:
        """The quantities as SI floats, under the fields' names."""
        return self.__dict__.setdefault("_si", SimpleNamespace())

    @classmethod
    def of(cls, **fields: Any) -> Any:
        """Make the record from SI floats or arrays that a formula has just computed: nothing is read or checked."""
        record = object.__new__(cls)
        own, si = vars(record), vars(record.si)
        for name, value in fields.items():
            (si if name in cls.__kinds__ else own)[name] = value
        if len(fields) < len(cls.__names__):
            raise TypeError(f"{cls.__name__}.of lacks {sorted(set(cls.__names__) - set(fields))}")
        return record

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other):
            return NotImplemented
        return all(np.array_equal(a, b) for a, b in zip(_values(self), _values(other), strict=True))

    def __repr__(self) -> str:
        said = ", ".join(f"{name}={self._said(name)}" for name in type(self).__names__)
        return f"{type(self).__name__}({said})"

    def _said(self, name: str) -> str:
        """A field in short: a quantity as people say it, another record by its name."""
        kind = type(self).__kinds__.get(name)
        value = getattr(self, name) if kind is None else getattr(self.si, name)
        if kind is not None and value is not None:
            return kind.say(value) if np.ndim(value) == 0 else f"<{np.shape(value)} values in {kind.unit}>"
        return repr(getattr(value, "name", value))

    def __hash__(self) -> int:
        return hash((type(self), *(each.tobytes() if isinstance(each, np.ndarray) else each for each in _values(self))))


def _values(record: Any) -> tuple[Any, ...]:
    kinds, si = type(record).__kinds__, vars(record.si)
    return tuple(si[name] if name in kinds else getattr(record, name) for name in type(record).__names__)


def _checked(own_check: Any, hints: dict[str, Any]) -> Any:
    """The check of a new record: its texts and yes-or-no fields, then its own check, then that its records are such.

    Records come last because a class may accept a name and look the record up.
    """
    words = {name: hint for name, hint in hints.items() if is_plain(hint)}
    records = {name: kinds for name, hint in hints.items() if (kinds := _record_types(hint))}

    def check(record: Any) -> None:
        for name, hint in words.items():
            need_plain(hint, getattr(record, name), name)
        if own_check is not None:
            own_check(record)
        for name, kinds in records.items():
            value = getattr(record, name)
            if not isinstance(value, kinds):
                wanted = [each.__name__ for each in kinds if each is not type(None)]
                advice = f"make one with {wanted[0]}(...)"
                raise UnitError(argument=name, need=" or ".join(wanted), given=quoted(value), advice=advice)

    return functools.wraps(own_check)(check) if own_check is not None else check


def _record_types(hint: Any) -> tuple[type, ...]:
    """The classes of a hint such as `Fit | None`, where all of them are records (or None)."""
    union = typing.get_origin(hint) in (typing.Union, types.UnionType)
    classes = typing.get_args(hint) if union else (hint,)
    known = [each for each in classes if each is type(None) or dataclasses.is_dataclass(each)]
    return tuple(classes) if len(known) == len(classes) and classes != (type(None),) else ()


@dataclass_transform(frozen_default=True)
def record(cls: type) -> Any:
    """Turn a class with annotated fields into a frozen record (a dataclass) with quantities."""
    hints = typing.get_type_hints(cls, include_extras=True)
    kinds = {name: kind for name in inspect.get_annotations(cls) if (kind := kind_of(hints[name]))}
    for name, kind in kinds.items():
        default = cls.__dict__.get(name, dataclasses.MISSING)
        setattr(cls, name, _QuantityField(name, kind, may_be_none(hints[name]), default))
    members = {name: value for name, value in vars(cls).items() if name not in ("__dict__", "__weakref__")}
    made = type(cls.__name__, (_Record, *(base for base in cls.__bases__ if base is not object)), members)
    made.__qualname__ = cls.__qualname__
    made.__kinds__ = kinds
    own = {name: hints[name] for name in inspect.get_annotations(cls) if name not in kinds}
    made.__post_init__ = _checked(getattr(made, "__post_init__", None), own)
    made = dataclasses.dataclass(frozen=True, eq=False, repr=False)(made)
    made.__names__ = tuple(each.name for each in dataclasses.fields(made))
    return made
