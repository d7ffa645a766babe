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
    signature, empty = inspect.signature(function), inspect.Parameter.empty
    placed = [name for name, each in signature.parameters.items() if each.kind is not inspect.Parameter.KEYWORD_ONLY]
    kinds = {name: kind for name in signature.parameters if (kind := kind_of(hints.get(name)))}
    switches = [name for name in signature.parameters if hints.get(name) is bool]
    result = kind_of(hints.get("return"))
    optional = {name for name in kinds if may_be_none(hints[name])}
    # defaults written as text ("20 degC") are read once, here
    defaults = {
        name: kind.read(signature.parameters[name].default, name)
        for name, kind in kinds.items()
        if signature.parameters[name].default not in (empty, None)
    }

    @functools.wraps(function)
    def through(*args: Any, **given: Any) -> Any:
        arguments = dict(zip(placed, args, strict=False))
        if len(arguments) < len(args) or not given.keys().isdisjoint(arguments):
            signature.bind(*args, **given)  # raises Python's own error
        arguments |= given
        for name, kind in kinds.items():
            if name in arguments and not (arguments[name] is None and name in optional):
                arguments[name] = kind.read(arguments[name], name, scalar)
        for name in switches:
            if name in arguments:
                need_plain(bool, arguments[name], name)
        answer = function(**(defaults | arguments))
        return answer if result is None else result.quantity(answer)

    return through
