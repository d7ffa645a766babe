"""Frozen records whose quantities are converted to SI once, when the record is made.

A field annotated with a kind is given as text or quantity and read as a quantity
(`led.max_current`); formulas read its SI float (`led.si.max_current`). A quantity is
built only when it is read: a result of five fields costs under a microsecond.
"""

from __future__ import annotations

import dataclasses
import functools
import inspect
import re
import types
import typing
from types import SimpleNamespace
from typing import Any, dataclass_transform

import numpy as np

from ..errors import DesignError, UnitError
from .kinds import QuantityKind, kind_of, may_be_none
from .plain import is_plain, need_plain
from .reading import quoted

# how a field's name ends that holds the least or the most of the figure named before it
_ENDS = (("min", "least"), ("max", "most"))
_END = re.compile("_(min|max|least|most)$")
_SHOWN = 6  # so many figures in one line
_SHORT = 60  # letters of a record that is named inside another
_ASIDE = {"name", "note", "source"}
natural = SimpleNamespace(views=None)
"""`views` gives the module that draws a record (`picture`) and shows it on a page (`html`); nothing here may draw, so
it is set from above."""


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


class Shown:
    """A result that is drawn, and shows itself on a page, by what `natural` names."""

    def picture(self) -> Any:
        """The picture that is the natural one of such a result; DesignError where there is none."""
        found = natural.views().picture(self) if natural.views else None
        if found is None:
            raise DesignError(f"There is no picture of a {type(self).__name__} by itself; print it, or show its table")
        return found

    def _repr_html_(self) -> str | None:
        """A table of its figures, below its picture where it has one; None where nothing that draws is at hand."""
        return natural.views().html(self) if natural.views else None


class _Record(Shown):
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

    def figures(self) -> dict[str, str]:
        """What its fields say, in words, by what they are called; a figure's least and most in brackets behind it.

        An array says how many values it has and from where to where they go; a field that holds nothing is left out.
        """
        words = {name: text for name in type(self).__names__ if (text := self._said(name))}
        said = {}
        for name, text in words.items():
            stem = _END.sub("", name)
            least, most = (words.get(f"{stem}_{one}") or words.get(f"{stem}_{other}", "") for one, other in _ENDS)
            band = f"{least} to {most}" if least and most else f"at least {least}" if least else f"at most {most}"
            if name == stem:
                said[name] = f"{text} ({band})" if least or most else text
            elif stem not in words:
                said[stem] = band
        return {_label(name): text for name, text in said.items()}

    def __repr__(self) -> str:
        """One line: the kind of record, its name, what it says in words, and its first few figures."""
        figures, own = self.figures(), {_label(name): each for name, each in vars(self).items()}
        many = {name: each for name, each in own.items() if _are_records(each)}
        aside = {name for name, each in own.items() if not isinstance(each, str | int | float | _Record)} | _ASIDE
        first = [name for name in figures if isinstance(own.get(name), str)]
        names = [name for name in dict.fromkeys((*first, *figures)) if name not in aside - set(many)]
        shown = ", ".join(
            f"{len(many[name])} {name}" if name in many else f"{name} {figures[name]}" for name in names[:_SHOWN]
        )
        named = f" {own['name']}" if isinstance(own.get("name"), str) else ""
        return f"{type(self).__name__}{named}: {shown}{', …' if len(names) > _SHOWN else ''}"

    def _said(self, name: str) -> str:
        """A field in words: a quantity as people say it, another record by its name."""
        kind = type(self).__kinds__.get(name)
        if kind is None:
            return _words(getattr(self, name))
        value = getattr(self.si, name)
        return "" if value is None else _words(value, kind.say)

    def __hash__(self) -> int:
        return hash((type(self), *(each.tobytes() if isinstance(each, np.ndarray) else each for each in _values(self))))


def _are_records(value: Any) -> bool:
    return isinstance(value, tuple) and len(value) > 1 and all(isinstance(each, _Record) for each in value)


def _label(name: str) -> str:
    """A field's name as it is read: "LED voltage"."""
    return " ".join("LED" if word == "led" else word for word in name.split("_"))


def _words(value: Any, say: Any = None) -> str:
    """A value in a few words: arrays by their count and ends, records and tuples by their names."""
    if isinstance(value, np.ndarray) and value.ndim:
        each = sorted({_words(one, say) for one in value.flat}) if value.dtype.kind not in "iuf" else []
        ends = each or list(dict.fromkeys((_words(float(np.min(value)), say), _words(float(np.max(value)), say))))
        return f"{value.size} values, {(', ' if each else ' to ').join(ends)}"
    if value is None or isinstance(value, str):
        return value or ""
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    if isinstance(value, int | float | np.number):
        return say(value) if say else f"{value:.4g}"
    if isinstance(value, list | tuple):
        return ", ".join(_words(each) for each in value[:_SHOWN]) + (", …" if len(value) > _SHOWN else "")
    if isinstance(value, _Record) and not hasattr(value, "name") and len(repr(value)) <= _SHORT:
        return repr(value)
    return str(getattr(value, "name", "") or type(value).__name__)


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
