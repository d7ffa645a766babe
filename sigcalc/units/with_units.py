"""The decorator that reads quantities at the door of every public function."""

from __future__ import annotations

import functools
import inspect
import typing
from collections.abc import Callable
from typing import Any, ParamSpec, TypeVar, overload

from .kinds import kind_of, may_be_none
from .plain import need_plain

Arguments = ParamSpec("Arguments")
Answer = TypeVar("Answer")


@overload
def with_units(function: Callable[Arguments, Answer]) -> Callable[Arguments, Answer]: ...
@overload
def with_units(*, scalar: bool = False) -> Callable[[Callable[Arguments, Answer]], Callable[Arguments, Answer]]: ...
def with_units(function: Callable[..., Any] | None = None, *, scalar: bool = False) -> Any:
    """Read arguments annotated with a kind as SI floats; give a result annotated with a kind as a quantity.

    Arguments may be given as text ("9 V"), as quantities, or as lists of either; None
    stays None where the annotation allows it (`Voltage | None`). An argument annotated
    `bool` must be one. With `scalar` every argument with a kind must be a single value. The
    wrapped function sees floats (or float arrays) in the kind's SI unit.
    """
    if function is None:
        return functools.partial(with_units, scalar=scalar)
    hints = typing.get_type_hints(function, include_extras=True)
    parameters = inspect.signature(function).parameters
    names = tuple(parameters)
    switches = tuple(name for name in names if hints.get(name) is bool)
    kinds = {name: kind for name in names if (kind := kind_of(hints.get(name)))}
    result = kind_of(hints.get("return"))
    optional = {name for name in kinds if may_be_none(hints[name])}
    # defaults written as text ("20 degC") are read once, here
    defaults = {
        name: kind.read(parameters[name].default, name)
        for name, kind in kinds.items()
        if parameters[name].default not in (parameters[name].empty, None)
    }

    @functools.wraps(function)
    def through(*args: Any, **given: Any) -> Any:
        positional = list(args)
        for place, name in enumerate(names[: len(args)]):
            if name in kinds and not (args[place] is None and name in optional):
                positional[place] = kinds[name].read(args[place], name, scalar)
        for name, value in given.items():
            if name in kinds and not (value is None and name in optional):
                given[name] = kinds[name].read(value, name, scalar)
        if switches:
            _need_switches(switches, {**dict(zip(names, args, strict=False)), **given})
        for name, value in defaults.items():
            if name not in given and names.index(name) >= len(args):
                given[name] = value
        answer = function(*positional, **given)
        return answer if result is None else result.quantity(answer)

    return through


def _need_switches(switches: tuple[str, ...], given: dict[str, Any]) -> None:
    for name in switches:
        if name in given:
            need_plain(bool, given[name], name)
